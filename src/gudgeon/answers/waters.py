"""From one water to another: fresh to salt, warm to cold."""

import math
from dataclasses import dataclass

from gudgeon.answers.bench_lure import BenchWater, lake, stuff
from gudgeon.answers.classing import Rate
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing
from gudgeon.answers.saying import grams, note, sinks_or_floats, watch
from gudgeon.answers.sums import PlanArea, fall_rate
from gudgeon.design.model import Uncertainty
from gudgeon.library.expansion import expansion
from gudgeon.physics.immersion import warmed, worth_inside, worth_outside
from gudgeon.physics.spread import Estimate
from gudgeon.units import Reading

_ROOM = "volume displaced"
_EXCESS = "heavy or light by"
_HERE = "water here"
_THERE = "water there"
_SWELL = "swelling with warmth"


@dataclass(frozen=True)
class Swelling:
    """What warmth alone does to a gram of displaced water, for the three kinds of body, each per 100 cm3 [kg]."""

    wood: float
    resin: float
    hollow: float


@dataclass(frozen=True)
class WaterChange:
    """The same lure in another water; masses [kg].

    here, there  : the waters in words
    before, after: excess
    change       : excess there less here; negative is lighter
    inside, stick_on, hooks : what to add inside, outside, or as hooks in all, to sink or float as before
    swelling     : what 100 cm3 of wood, resin or hollow plastic would gain in lift
    """

    here: str
    there: str
    before: Estimate
    after: Estimate
    change: Estimate
    inside: Estimate
    stick_on: Estimate
    hooks: Estimate
    swelling: Swelling
    rate_before: Rate | None
    rate_after: Rate | None
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


def other_water(
    room: Reading,
    excess: Reading,
    here: BenchWater,
    there: BenchWater,
    *,
    wood: Known,
    body: str = "wood",
    plan: PlanArea | None = None,
) -> WaterChange:
    """What a lure does in another water, and what brings it back to the same rate.

    room   : [m3] displaced by the finished lure
    excess : [kg] here, negative when it is light
    wood   : [kg/m3] for what a bore takes away
    body   : "wood", "resin", "hollow plastic": how it swells with warmth
    raises : OutsideSource for a body or water not covered
    """
    swell = expansion(body)
    warming = there.temperature.value - here.temperature.value
    knowns = (
        Known(_ROOM, room.value, room.spread_or(Uncertainty().dunk * room.value),
              "dunk the finished lure in a jug on the scale", Uncertainty().dunk * room.value),
        Known(_EXCESS, excess.value, excess.spread_or(Uncertainty().scale)),
        Known(_SWELL, swell.value, swell.spread), here.known(_HERE), there.known(_THERE), wood,
    )  # fmt: skip

    def after(n: Numbers) -> float:
        mass = n[_EXCESS] + n[_ROOM] * n[_HERE]
        return mass - warmed(n[_ROOM], n[_SWELL], warming) * n[_THERE]

    def short(n: Numbers) -> float:
        # the same rate in denser water takes that much more excess
        return n[_EXCESS] * n[_THERE] / n[_HERE] - after(n)

    lead, steel = stuff("lead"), stuff("steel")
    then = estimate(after, knowns)
    before = Estimate(excess.value, excess.value - knowns[1].spread, excess.value + knowns[1].spread)
    return WaterChange(
        here=here.words, there=there.words, before=before, after=then,
        change=estimate(lambda n: after(n) - n[_EXCESS], knowns),
        inside=estimate(lambda n: short(n) / worth_inside(n[wood.name], lead.density), knowns),
        stick_on=estimate(lambda n: short(n) / worth_outside(n[_THERE], lead.density), knowns),
        hooks=estimate(lambda n: short(n) / worth_outside(n[_THERE], steel.density), knowns),
        swelling=warmth_per_100_cm3(here, there),
        rate_before=None if plan is None else fall_rate(before, plan, here.density),
        rate_after=None if plan is None else fall_rate(then, plan, there.density),
        narrowing=narrowing(after, knowns), warnings=_warnings(excess.value, then),
    )  # fmt: skip


def _warnings(before: float, after: Estimate) -> tuple[Finding, ...]:
    found: list[Finding] = []
    if before * after.value < 0.0:
        found.append(watch(f"it {sinks_or_floats(before)} here and {sinks_or_floats(after.value)} there"))
    if after.low < 0.0 < after.high and not math.isclose(after.value, 0.0, abs_tol=1e-9):
        found.append(watch(f"known to ± {grams(after.spread)}, which decides whether it floats or sinks there: try it "
                           "in that water before drilling"))  # fmt: skip
    if before * after.value < 0.0:
        found.append(note("use something that comes off again, stick-on lead, a plug-in weight or heavier hooks, so "
                          "that it still works here"))  # fmt: skip
    return worst_first(found)


def warmth_per_100_cm3(here: BenchWater, there: BenchWater) -> Swelling:
    """Change of lift of 100 cm3 of wood, resin or hollow plastic from one water to another; up is positive [kg]."""
    warming = there.temperature.value - here.temperature.value

    def lift(body: str) -> float:
        return warmed(1e-4, expansion(body).value, warming) * there.density - 1e-4 * here.density

    return Swelling(lift("wood"), lift("resin"), lift("hollow plastic"))


def known_wood(density: Reading, by_table: bool = False) -> Known:
    """A wood's density as something known [kg/m3]."""
    rules = Uncertainty()
    share = rules.species_density if by_table else rules.density
    return Known("wood density", density.value, density.spread_or(share * density.value),
                 "weigh a square offcut and measure it", rules.density * density.value)  # fmt: skip


def degrees_68_to_39_fahrenheit() -> tuple[BenchWater, BenchWater]:
    """Fresh water on a summer bench, and near its densest: 20 C and 3.9 C."""
    return lake(Reading(293.15)), lake(Reading(277.04))
