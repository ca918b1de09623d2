"""A number with its range, and what needs no arrays; apart from `spread`, so that a list need not load NumPy."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Estimate:
    """A number with the range that holds it about 19 times in 20."""

    value: float
    low: float
    high: float

    @property
    def spread(self) -> float:
        """Half the width of the range."""
        return 0.5 * (self.high - self.low)

    @property
    def size(self) -> "Estimate":
        """The number without its sign, the range about it as wide."""
        return around(abs(self.value), self.spread)

    def mapped(self, function: Callable[[float], float]) -> "Estimate":
        """The range of a monotone function of this number."""
        ends = sorted((function(self.low), function(self.high)))
        return Estimate(function(self.value), ends[0], ends[1])


def around(value: float, spread: float) -> Estimate:
    """An even range: `value` plus and minus `spread`."""
    return Estimate(value, value - abs(spread), value + abs(spread))


def exactly(value: float) -> Estimate:
    """A number without spread."""
    return Estimate(value, value, value)


def root_sum_square(spreads: Sequence[float]) -> float:
    """Half-width of a sum of independent parts."""
    return math.sqrt(math.fsum(spread * spread for spread in spreads))


def propagated(function: Callable[..., float], values: Sequence[float], spreads: Sequence[float]) -> Estimate:
    """A smooth function of independent quantities, with the spread that theirs give it.

    function : of as many floats as there are values
    values   : (k,)
    spreads  : (k,) half-widths, same units
    returns  : the value and its range, by central differences one half-width to either side
    """
    parts = []
    for place, spread in enumerate(spreads):
        if spread == 0.0:
            continue
        up, down = list(values), list(values)
        up[place] += spread
        down[place] -= spread
        parts.append(0.5 * (function(*up) - function(*down)))
    return around(function(*values), root_sum_square(parts))
