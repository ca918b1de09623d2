"""How far each number of the towed model is to be trusted: its range, and the word that stands beside it.

From the model's own table of coefficients run from end to end, and from one flow solution of a jointed lure that was
computed for this purpose: the ranges of beat and sweep hold all its rows on all its grids, which
`python -m benchmarks.flow_solution` prints. No measured beats, sweeps or pulls of a jointed lure are published, so none
of these rests on a lure in the water until its maker counts its beats.
"""

import math
from dataclasses import dataclass
from types import MappingProxyType

from gudgeon.physics.spread import Estimate

ESTIMATE, TREND = "estimate", "trend"


@dataclass(frozen=True)
class Trust:
    """Range and word of one kind of number.

    low, high : what it is multiplied by to get its range
    standing  : "estimate" (right within a third) or "trend" (to compare two designs)
    least     : [SI] half-width that it has at the least, however near 0 it is
    """

    low: float
    high: float
    standing: str
    least: float = 0.0

    @property
    def spread(self) -> float:
        """Share by which such a number may be off, to its worse side."""
        return max(1.0 - self.low, self.high - 1.0)

    def of(self, value: float, spread: float = 0.0) -> Estimate:
        """A value with its range, wider still where the starts differ by `spread` to either side."""
        ends, wide = sorted((value * self.low, value * self.high)), max(spread, self.least)
        return Estimate(value, min(ends[0], value - wide), max(ends[1], value + wide))

    def size(self, value: float, spread: float = 0.0) -> Estimate:
        """The same of what has a size and no side, a beat or a sweep: its range goes no lower than 0."""
        found = self.of(value, spread)
        return Estimate(found.value, max(found.low, 0.0), found.high)


_LEAST_ANGLE = math.radians(2.0)
"""Of roll, list and pitch: a hand-made body, its lead and its eye are no truer than that; our own."""

TRUST = MappingProxyType({
    "beat": Trust(0.45, 1.25, TREND),  # the flow solution's is 0.45 to 1.1 times the model's
    "sweep": Trust(1.0 / 1.5, 3.0, TREND),  # and its sweep 1.2 to 3 times
    "straight pull": Trust(0.7, 1.3, ESTIMATE),
    "swimming pull": Trust(0.5, 1.5, TREND),
    "roll": Trust(0.6, 1.4, TREND, _LEAST_ANGLE),
    "pitch": Trust(0.6, 1.4, TREND, _LEAST_ANGLE),
    "depth": Trust(0.75, 1.25, ESTIMATE),
    "slowest": Trust(0.5, 2.0, TREND),
    "blow-out": Trust(0.6, 1.4, TREND),
})  # fmt: skip
"""By what it is of."""

MOST_CLAIMED = 4
"""Pieces up to which anything is claimed; beyond, the model has nothing to be held against."""
