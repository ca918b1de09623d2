"""A timed drop: the rate, the excess weight it shows, the drag it calibrates, and the lead another rate would take."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.answers.bench_lure import WATER, BenchWater, fall_drag, stuff
from gudgeon.answers.classing import CLASSES, FloatClass, class_words
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing
from gudgeon.answers.saying import note, watch
from gudgeon.answers.sums import AREA, AREA_SHARE, DRAG, PlanArea
from gudgeon.answers.timed_rate import RATE, timed_rate
from gudgeon.design.model import Uncertainty
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.immersion import drag_constant, worth_inside
from gudgeon.physics.sinking import excess_for
from gudgeon.physics.spread import Estimate
from gudgeon.units import Reading

_WEIGHED_EXCESS = "weight in water"


@dataclass(frozen=True)
class Drop:
    """What a timed drop shows.

    velocity : [m/s] down positive
    words    : the classes it may be
    excess   : [kg]; None without an area or a weight in water
    drag     : [1] on the area seen from above; None without area and weight in water
    aim_excess, lead : [kg] for the rate wanted, and the ballast inside to add, or less than nothing to take out
    """

    velocity: Estimate
    words: str
    excess: Estimate | None
    drag: Estimate | None
    aim_excess: Estimate | None
    lead: Estimate | None
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


def timed_drop(
    distance: float,
    times: Sequence[Reading],
    water: BenchWater,
    *,
    rises: bool = False,
    plan: PlanArea | None = None,
    excess: Reading | None = None,
    aim: float | None = None,
    wood: Known | None = None,
) -> Drop:
    """What one or several timed drops say.

    distance : [m]     times : (n,) [s]     rises : True when it was let up, not dropped
    excess   : [kg] weight in water, where it was weighed hanging in it
    aim      : [m/s] the rate wanted, down positive, with `wood` [kg/m3] for the lead inside
    raises   : Refusal when a time is none
    """
    if not times:
        raise Refusal("no drop", [Fault("--time", "give one time or more: --time 12.4s")])
    known = timed_rate(distance, times, rises)
    knowns = [known, water.known()]
    if excess is not None:
        signed = -excess.value if rises else excess.value
        knowns.append(Known(_WEIGHED_EXCESS, signed, excess.spread_or(Uncertainty().scale),
                            "weigh it hanging in water to 0.01 g", 2e-5))  # fmt: skip
    if plan is not None:
        spread = plan.area.spread_or(AREA_SHARE * plan.area.value)
        knowns += [Known(AREA, plan.area.value, spread, "trace it on squared paper", 0.4 * spread)]
        knowns += [] if excess is not None else [_untimed(plan)]

    def now(n: Numbers) -> float:
        return n[_WEIGHED_EXCESS] if excess is not None else excess_for(n[RATE], n[WATER], n[DRAG] * n[AREA])

    def wanted(n: Numbers) -> float:
        # the same body keeps its drag, so excess goes with the square of the rate
        return now(n) * (aim or 0.0) * abs(aim or 0.0) / (n[RATE] * abs(n[RATE]))

    shows = excess is not None or plan is not None
    velocity = Estimate(known.value, known.value - known.spread, known.value + known.spread)
    drag = estimate(lambda n: drag_constant(n[_WEIGHED_EXCESS], n[RATE], n[WATER], n[AREA]), knowns) if (
        plan is not None and excess is not None) else None  # fmt: skip
    more = None
    if wood is not None and aim is not None and shows:
        more = estimate(lambda n: (wanted(n) - now(n)) / worth_inside(n[wood.name], stuff("lead").density),
                        [*knowns, wood])  # fmt: skip
    return Drop(
        velocity=velocity, words=class_words(velocity), excess=estimate(now, knowns) if shows else None, drag=drag,
        aim_excess=estimate(wanted, knowns) if aim is not None and shows else None, lead=more,
        narrowing=narrowing(now, knowns) if shows else None, warnings=_warnings(times, distance),
    )  # fmt: skip


def _untimed(plan: PlanArea) -> Known:
    """The drag as the table has it: another drop narrows nothing, a weighing in water does."""
    drag = fall_drag(plan.drag)
    return Known(DRAG, drag.value, drag.spread, "weigh it hanging in water to 0.01 g", 0.05 * drag.value)


def _warnings(times: Sequence[Reading], distance: float) -> tuple[Finding, ...]:
    found: list[Finding] = []
    values = [time.value for time in times]
    if max(values) > 1.25 * min(values):
        found.append(watch("these drops differ by more than a quarter: look for a bubble, a swinging start or a wall "
                     "touched"))  # fmt: skip
    if distance < 0.9:
        found.append(watch("a short drop: under 3 ft the start and the stopwatch weigh heavily"))
    if len(times) < 3:
        found.append(note("drop it three times and give every time"))
    return worst_first(found)


@dataclass(frozen=True)
class ClassLimits:
    """A class, and the excess [kg] at its two ends for one lure; None where it has no end, or no area is known."""

    kind: FloatClass
    slow: float | None
    fast: float | None


def class_limits(plan: PlanArea | None, water: BenchWater) -> tuple[ClassLimits, ...]:
    """Every class from fast floater to fast sinker, with the excess at its ends where an area is given."""
    area = None if plan is None else fall_drag(plan.drag).value * plan.area.value

    def end(velocity: float) -> float | None:
        return None if area is None or math.isinf(velocity) else excess_for(velocity, water.density, area)

    return tuple(ClassLimits(kind, end(kind.slow), end(kind.fast)) for kind in CLASSES)
