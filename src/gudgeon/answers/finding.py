"""One thing the maker should know: words with numbers left open, so that every shop reads them in its own units."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import IntEnum

from gudgeon.physics.estimate import Estimate
from gudgeon.units import Measure

Number = tuple[Estimate | float, Measure]


class Gravity(IntEnum):
    """How much it matters; the worst is told first."""

    WRONG = 3  # will not do what it is meant to
    WATCH = 2  # may not
    NOTE = 1  # good to know


@dataclass(frozen=True)
class Finding:
    """What happens on the water or at the bench, and what to change.

    gravity : how much it matters
    words   : with {names} where the numbers go
    numbers : name -> value in SI and what it is
    """

    gravity: Gravity
    words: str
    numbers: Mapping[str, Number] = field(default_factory=dict)


def worst_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """In the order they are told."""
    return tuple(sorted(findings, key=lambda finding: -finding.gravity))
