"""One thing along a pull that can let go, and the things at one place together."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from gudgeon.answers.finding import Number
from gudgeon.errors import OutsideSource
from gudgeon.library.strengths import Bounds, Strength, strength_of
from gudgeon.physics.spread import Estimate, exactly
from gudgeon.units import Measure

COMPUTED, ESTIMATE, TREND = "computed", "estimate", "trend"


@dataclass(frozen=True)
class Link:
    """One way in which one part lets go.

    name     : short, of its own within its place: "thread"
    where    : the piece or joint: "head", "joint 1"
    part     : what lets go, in words: "its thread in the wood"
    load     : [N] at which it does; None when that cannot be told
    standing : "computed", "estimate", "trend"; empty for what the maker gave
    beyond_tested : the formula is stretched beyond the sizes it was tested with
    mend     : what would make it hold what is wanted, or what to write so that it can be told; {names} for numbers
    numbers  : of the mend, name -> value in SI and what it is
    wet      : [N] the same in soaked wood; None where wood has no part in it
    """

    name: str
    where: str
    part: str
    load: Estimate | None
    standing: str = ESTIMATE
    beyond_tested: bool = False
    mend: str = ""
    numbers: Mapping[str, Number] = field(default_factory=dict)
    wet: Estimate | None = None

    @property
    def soaked(self) -> Estimate | None:
        """[N] as it is in the water: of soaked wood where wood holds it, of the part itself elsewhere."""
        return self.load if self.wet is None else self.wet


@dataclass(frozen=True)
class Hold:
    """All the ways in which what sits at one place lets go: a hanger, a joint, the tow eye.

    notes    : what had to be assumed of it
    sizes    : what the loads rest on: in words, and its size [m]
    sideways : [N] at which its shank begins to give for good when pulled sideways; it lets go far above that
    """

    name: str
    links: tuple[Link, ...]
    notes: tuple[str, ...] = ()
    sizes: tuple[tuple[str, float, Measure], ...] = ()
    sideways: Estimate | None = None

    @property
    def weakest(self) -> Link | None:
        """What lets go first in the water; None when no load can be told."""
        return weakest(self.links)

    @property
    def untold(self) -> tuple[Link, ...]:
        """What cannot be told."""
        return tuple(link for link in self.links if link.load is None)


def weakest(links: tuple[Link, ...]) -> Link | None:
    """The link with the lowest load; None when none is told."""
    told = [link for link in links if link.load is not None]
    return min(told, key=load_of) if told else None


def load_of(link: Link) -> float:
    """Its load in the water [N], for comparing; more than any where it cannot be told."""
    return math.inf if link.soaked is None else link.soaked.value


def product(*factors: Estimate) -> Estimate:
    """The product of independent quantities that are more than 0.

    Shares to either side add as squares do. Nothing holds less than nothing: where the shares come to more than the
    whole, the low end is 0.
    """
    value = math.prod(factor.value for factor in factors)
    below = math.hypot(*(1.0 - factor.low / factor.value for factor in factors))
    above = math.hypot(*(factor.high / factor.value - 1.0 for factor in factors))
    return Estimate(value, max(0.0, value * (1.0 - below)), value * (1.0 + above))


def share(low: float, high: float) -> Estimate:
    """A factor of 1 with its range."""
    return Estimate(1.0, low, high)


def times(load: Estimate, factor: float) -> Estimate:
    """A load scaled by a number known exactly."""
    return product(load, exactly(factor))


def as_estimate(bounds: Bounds) -> Estimate:
    """A property as sold, with its range [Pa]."""
    return Estimate(bounds.value, bounds.low, bounds.high)


def known_strength(material: str, thickness: float) -> Strength | None:
    """What a material bears; None when the table has no strength of it."""
    try:
        return strength_of(material, thickness)
    except OutsideSource:
        return None


def short_by(load: Estimate, wanted: float | None) -> float | None:
    """How many times stronger a part must be to hold what is wanted; None when it does, or when nothing is."""
    if wanted is None or load.value >= wanted or load.value <= 0.0:
        return None
    return wanted / load.value
