"""What the maker knows and how well; which of it to measure better."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from gudgeon.physics.estimate import Estimate, propagated, root_sum_square

Numbers = Mapping[str, float]


@dataclass(frozen=True)
class Known:
    """One number that goes into a sum.

    name         : in the maker's words, "blank weight"
    value        : [SI]
    spread       : [SI] half-width
    better       : the measurement that would narrow it, "weigh the blank to 0.01 g"; empty where there is none
    better_spread: [SI] half-width after that measurement
    """

    name: str
    value: float
    spread: float
    better: str = ""
    better_spread: float = 0.0


@dataclass(frozen=True)
class Narrowing:
    """The one measurement that would narrow an answer most.

    measurement : what to do, in words
    before      : half-width of the answer now, in the answer's unit
    after       : half-width once it was done
    """

    measurement: str
    before: float
    after: float


def numbers(knowns: Sequence[Known]) -> dict[str, float]:
    """Name to value."""
    return {known.name: known.value for known in knowns}


def estimate(function: Callable[[Numbers], float], knowns: Sequence[Known]) -> Estimate:
    """A smooth function of what is known, with the spread that follows."""
    names = [known.name for known in knowns]

    def of_values(*values: float) -> float:
        return function(dict(zip(names, values, strict=True)))

    return propagated(of_values, [known.value for known in knowns], [known.spread for known in knowns])


def narrowing(function: Callable[[Numbers], float], knowns: Sequence[Known]) -> Narrowing | None:
    """The measurement that narrows `function` most; None where none would take a tenth off its spread."""
    shares = [estimate(function, _only(knowns, place)).spread for place in range(len(knowns))]
    before = root_sum_square(shares)
    best: Narrowing | None = None
    for place, known in enumerate(knowns):
        if not known.better or known.spread <= known.better_spread:
            continue
        left = list(shares)
        left[place] *= known.better_spread / known.spread
        after = root_sum_square(left)
        if after < 0.9 * before and (best is None or after < best.after):
            best = Narrowing(known.better, before, after)
    return best


def _only(knowns: Sequence[Known], place: int) -> list[Known]:
    return [
        known if here == place else Known(known.name, known.value, 0.0)
        for here, known in enumerate(knowns)
    ]  # fmt: skip
