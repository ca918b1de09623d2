"""The same pattern larger or smaller: what grows with which power of the factor, and what does not.

Volume and blank go with the cube, coats and the excess that keeps the rate with the square; hooks go by what is
bought. The lead is what is left over, so it goes with no power at all.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from gudgeon.answers.bench_lure import WATER, BenchLure, Stuff, checked, fall_drag, stuff
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing
from gudgeon.answers.saying import grams, heavy_or_light, note, sinks_or_floats, watch, wrong
from gudgeon.answers.sums import AREA, AREA_SHARE, DRAG, PlanArea, need_area
from gudgeon.design.model import Uncertainty
from gudgeon.physics.immersion import ballast_inside, worth_inside
from gudgeon.physics.sinking import excess_for
from gudgeon.physics.spread import Estimate
from gudgeon.units import Measure, Reading

_LEAD = "lead in the old one"
_HARDWARE = "hardware of the new one"
POWERS = (
    ("lengths, holes for fittings", "x factor"),
    ("area, coats, excess for the same rate", "x factor squared"),
    ("volume, blank", "x factor cubed"),
    ("speed it swims well at, time of a roll", "x root of the factor"),
    ("hooks, rings, line eye, wire, joint gap, lip", "by choice, not by the factor"),
)


@dataclass(frozen=True)
class Old:
    """The pattern as it is.

    lure     : blank and what goes on it but hooks, fittings and coats
    lead     : [kg] inside
    hardware : [kg] steel, outside
    coats    : [kg]
    """

    lure: BenchLure
    lead: Reading
    hardware: Reading
    coats: Reading


@dataclass(frozen=True)
class Resized:
    """The pattern at its new size; masses [kg], volume [m3], area [m2].

    excess, old_excess : that keep the rate
    naive              : the old lead times the factor cubed
    naive_excess       : what that would do
    hardware_guessed   : True when the new hardware was only scaled
    """

    factor: float
    volume: Estimate
    blank: Estimate
    hardware: float
    hardware_guessed: bool
    coats: Estimate
    old_excess: Estimate
    excess: Estimate
    lead: Estimate
    naive: float
    naive_excess: Estimate
    total: Estimate
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


def resized(
    old: Old,
    factor: float,
    material: Stuff,
    *,
    hardware: Reading | None = None,
    velocity: float | None = None,
    plan: PlanArea | None = None,
) -> Resized:
    """The lead for a pattern scaled by a factor, at the same time per distance.

    factor   : new length over old
    hardware : [kg] the new one's; the old one's times the factor cubed when left out, which is seldom right
    velocity : [m/s] of the old one, down positive; with `plan` of the old one. Left out: by the old recipe's weights
    """
    checked(old.lure)
    need_area(velocity, plan)
    new_hardware = hardware or Reading(old.hardware.value * factor**3)
    knowns = _knowns(old, new_hardware, velocity, plan)
    sums = _Sums(old, factor, material, velocity)
    naive = old.lead.value * factor**3
    lead = estimate(sums.lead, knowns)
    blank = estimate(lambda n: n["blank weight"] * factor**3, knowns)
    naive_excess = estimate(lambda n: sums.excess_with(n, naive), knowns)
    total = estimate(lambda n: sums.displaced(n) + factor**2 * sums.old_excess(n), knowns)
    return Resized(
        factor=factor, volume=estimate(lambda n: old.lure.volume(n) * factor**3, knowns), blank=blank,
        hardware=new_hardware.value, hardware_guessed=hardware is None,
        coats=estimate(lambda n: n["coats"] * factor**2, knowns),
        old_excess=estimate(sums.old_excess, knowns), excess=estimate(lambda n: factor**2 * sums.old_excess(n), knowns),
        lead=lead, naive=naive, naive_excess=naive_excess, total=total, narrowing=narrowing(sums.lead, knowns),
        warnings=worst_first([*_contradicted(sums, knowns),
                              *_warnings(naive, naive_excess.value, lead.value, hardware is None, total, factor)]),
    )  # fmt: skip


@dataclass(frozen=True)
class _Sums:
    old: Old
    factor: float
    material: Stuff
    velocity: float | None

    def old_excess(self, n: Numbers) -> float:
        """[kg] by the rate, or by the recipe."""
        if self.velocity is not None:
            return excess_for(self.velocity, n[WATER], n[DRAG] * n[AREA]) if self.velocity else 0.0
        return self.by_weights(n)

    def by_weights(self, n: Numbers) -> float:
        """[kg] that the old one's weights come to."""
        lure = self.old.lure
        lead = n[_LEAD] * worth_inside(lure.wood(n), self.material.density)
        return (n["blank weight"] + n["hardware"] + n["coats"] + lead
                - n[WATER] * (lure.volume(n) + n["hardware"] / _steel() + n["coats"] / _coat()))  # fmt: skip

    def displaced(self, n: Numbers) -> float:
        room = (self.old.lure.volume(n) * self.factor**3 + n[_HARDWARE] / _steel()
                + n["coats"] * self.factor**2 / _coat())  # fmt: skip
        return room * n[WATER]

    def mass(self, n: Numbers) -> float:
        return n["blank weight"] * self.factor**3 + n[_HARDWARE] + n["coats"] * self.factor**2

    def lead(self, n: Numbers) -> float:
        return ballast_inside(self.mass(n), self.displaced(n), self.old.lure.wood(n), self.material.density,
                              excess=self.factor**2 * self.old_excess(n), reserve=0.0)  # fmt: skip

    def excess_with(self, n: Numbers, lead: float) -> float:
        worth = worth_inside(self.old.lure.wood(n), self.material.density)
        return self.mass(n) + lead * worth - self.displaced(n)


def _steel() -> float:
    return stuff("steel").density


def _coat() -> float:
    return stuff("epoxy").density


def _knowns(old: Old, hardware: Reading, velocity: float | None, plan: PlanArea | None) -> tuple[Known, ...]:
    scale = Uncertainty().scale
    found = [*old.lure.knowns()]
    for name, weight in ((_LEAD, old.lead), ("hardware", old.hardware), ("coats", old.coats), (_HARDWARE, hardware)):
        spread = weight.spread_or(scale)
        found.append(Known(name, weight.value, spread, f"weigh the {name.replace('lead in', 'lead of')}", 0.2 * spread))
    if velocity is not None and plan is not None:
        spread = plan.area.spread_or(AREA_SHARE * plan.area.value)
        found += [fall_drag(plan.drag), Known(AREA, plan.area.value, spread, "trace it on squared paper", 0.4 * spread)]
    return tuple(found)


def _contradicted(sums: _Sums, knowns: tuple[Known, ...]) -> Iterator[Finding]:
    """That the old one's weights cannot be of a lure that does what is told of it."""
    if sums.velocity is None:
        return
    weighed, told = estimate(sums.by_weights, knowns), estimate(sums.old_excess, knowns)
    if abs(weighed.value - told.value) <= weighed.spread + told.spread:
        return
    does = "hangs" if sums.velocity == 0.0 else "sinks" if sums.velocity > 0.0 else "floats up"
    look = "Look for a slip in its blank, volume, lead, hardware, coats or rate before you trust this lead"
    by = f"by its weights the old one {sinks_or_floats(weighed.value)}, {heavy_or_light(weighed.value)}"
    if sums.velocity and weighed.value * sums.velocity > 0.0:
        yield watch(f"{by}, but the rate told makes it {heavy_or_light(told.value)}. {look}")
    else:
        yield wrong(f"{by}, yet you say it {does}. {look}")


def _warnings(naive: float, naive_excess: float, lead: float, guessed: bool, total: Estimate,
              factor: float) -> tuple[Finding, ...]:  # fmt: skip
    found: list[Finding] = []
    if abs(naive - lead) > 0.02 * abs(lead):
        does = "floats" if naive_excess < 0.0 else "sinks"
        found.append(watch(f"lead by the cube of the factor would be {grams(naive)}: with that it {does}, "
                     f"{heavy_or_light(naive_excess)}"))  # fmt: skip
    if guessed:
        found.append(watch("hooks do not scale: weigh those it will carry and give them as --new-hardware"))
    found.append(note("joint gap, lip and line-eye wire do not grow with the factor; its speeds widen by about "
                 f"{factor**0.5:.2f}"))  # fmt: skip
    found.append(note("it will cast {total}: see what the rod takes", total=(total, Measure.CASTING_MASS)))
    return worst_first(found)
