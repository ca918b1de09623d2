"""Where the lead goes for a floating cigar to sit tail-down: a spindle, by moments of what is weighed.

The body is taken as an ellipsoid of revolution and everything but the lead at the place given; a drawn body does
better, this answers from a ruler and a scale.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.answers.bench_lure import BenchWater, stuff
from gudgeon.answers.finding import Finding
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing
from gudgeon.answers.saying import note, watch
from gudgeon.design.model import Uncertainty
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.immersion import spindle_weight_place, worth_inside
from gudgeon.physics.spread import Estimate
from gudgeon.units import Angle, Length, Reading

_BLANK, _LEAD, _LEAD_HEIGHT = "blank", "lead", "height of the lead"
HEIGHT_SPREAD = 1e-3  # m, half-width of a height judged by eye


@dataclass(frozen=True)
class Placed:
    """A weight at its place: [kg], [m] aft of the nose, [m] above the long axis."""

    name: str
    weight: Reading
    at: Length
    height: float = 0.0


@dataclass(frozen=True)
class Sits:
    """Where the lead goes.

    lead_at  : [m] aft of the nose
    per_metre: [rad] of tilt per metre the lead moves aft
    reserve  : share of its displacement left over
    total    : [kg]
    """

    angle: float
    lead_at: Estimate
    per_metre: float
    reserve: Estimate
    total: Estimate
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


@dataclass(frozen=True)
class Cigar:
    """The body: length and thickness [m], what it weighs bare [kg]."""

    length: Length
    thickness: Length
    blank: Reading

    @property
    def volume(self) -> float:
        """[m3] of the spindle."""
        return math.pi / 6.0 * self.length * self.thickness**2


def sits(cigar: Cigar, fitted: Sequence[Placed], lead: Reading, lead_height: Length, angle: Angle,
         water: BenchWater) -> Sits:  # fmt: skip
    """Where the lead must lie for a tail-down tilt.

    lead_height : [m] above the long axis, low is negative     angle : [rad] tail-down
    raises      : Refusal when it would not float, or would not sit so with the lead inside it
    """
    knowns = _knowns(cigar, fitted, lead, lead_height)
    names = tuple(part.name for part in fitted)
    wood = cigar.blank.value / cigar.volume
    worth = worth_inside(wood, stuff("lead").density)

    def total(n: Numbers) -> float:
        return n[_BLANK] + n[_LEAD] * worth + sum(n[name] for name in names)

    def under(n: Numbers) -> float:
        return total(n) / (cigar.volume * water.density)

    if not 0.02 < under({known.name: known.value for known in knowns}) < 0.98:
        raise Refusal("it does not float", [Fault("--blank, --lead, --part", "these weights are more than the spindle "
                      "carries; check them, or its length and thickness")])  # fmt: skip

    def lead_at(n: Numbers, turned: float = angle) -> float:
        height = (n[_LEAD] * worth * n[_LEAD_HEIGHT] + sum(n[part.name] * part.height for part in fitted)) / total(n)
        middle = 0.5 * cigar.length
        wanted = middle + spindle_weight_place(cigar.length, cigar.thickness, under(n), turned, height)
        others = n[_BLANK] * middle + sum(n[part.name] * part.at for part in fitted)
        return (total(n) * wanted - others) / (n[_LEAD] * worth)

    found = estimate(lead_at, knowns)
    if not 0.0 < found.value < cigar.length:
        raise Refusal("it will not sit so", [Fault("--tail-down", "the lead would have to lie outside the body; more "
                      "lead, or less tilt")])  # fmt: skip
    step = math.radians(0.5)
    n = {known.name: known.value for known in knowns}
    slope = 2.0 * step / (lead_at(n, angle + step) - lead_at(n, angle - step))
    return Sits(angle, found, slope, estimate(lambda n: 1.0 - under(n), knowns), estimate(total, knowns),
                narrowing(lead_at, knowns), _warnings(slope))  # fmt: skip


def _knowns(cigar: Cigar, fitted: Sequence[Placed], lead: Reading, lead_height: Length) -> tuple[Known, ...]:
    scale = Uncertainty().scale
    weights = [(_BLANK, cigar.blank), (_LEAD, lead), *((part.name, part.weight) for part in fitted)]
    found = [Known(name, weight.value, weight.spread_or(scale), f"weigh the {name} on a scale that reads 0.01 g", 2e-5)
             for name, weight in weights]  # fmt: skip
    return (*found, Known(_LEAD_HEIGHT, lead_height, HEIGHT_SPREAD, "measure how deep the lead lies", 3e-4))


def _warnings(slope: float) -> tuple[Finding, ...]:
    per_millimetre = math.degrees(slope) / 1e3
    return (
        watch(f"a millimetre turns it by about {per_millimetre:.1f}°: drill to 1 mm, and try the lead taped on first"),
        note("a spindle stands in for the body: right within a third; 15° to 30° walks easiest"),
    )
