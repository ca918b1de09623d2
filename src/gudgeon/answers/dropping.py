"""A timed drop: the rate, the excess weight it shows, the drag it calibrates, and the lead another rate would take."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from gudgeon.answers.bench_lure import WATER, BenchWater, fall_drag, stuff
from gudgeon.answers.classing import CLASSES, FloatClass, class_words
from gudgeon.answers.finding import Finding, Number, worst_first
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing
from gudgeon.answers.saying import note, watch
from gudgeon.answers.sums import AREA, AREA_SHARE, DRAG, PlanArea
from gudgeon.answers.timed_rate import RATE, timed_rate
from gudgeon.design.model import Uncertainty
from gudgeon.errors import Fault, Refusal
from gudgeon.library.drag import coefficient
from gudgeon.physics.immersion import drag_constant, worth_inside
from gudgeon.physics.sinking import excess_for
from gudgeon.physics.spread import Estimate
from gudgeon.units import FOOT, Measure, Reading

_WEIGHED_EXCESS = "weight in water"
_SHORT = 3.0 * FOOT  # m of a drop; common practice, no source
_WIDER = 1.5  # times the table's range within which a slip put right must bring the drag


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
        narrowing=narrowing(now, knowns) if shows else None,
        warnings=worst_first([*_warnings(times, distance), *_odd_drag(drag, distance, plan, excess)]),
    )  # fmt: skip


def _odd_drag(
    drag: Estimate | None, distance: float, plan: PlanArea | None, excess: Reading | None
) -> Iterator[Finding]:
    """A drag that no lure has: which slip would explain it, the likeliest first."""
    known = coefficient("fall_drag")
    if drag is None or plan is None or excess is None or not (drag.low > known.high or drag.high < known.low):
        return
    slips: list[tuple[float, str, Number]] = []
    for tens in (0.1, 10.0):
        slips += [(tens, "a weight in water of {slip}", (tens * excess.value, Measure.MASS)),
                  (1.0 / tens, "an area of {slip}", (tens * plan.area.value, Measure.AREA))]  # fmt: skip
    for factor, words in ((FOOT, "feet told as metres"), (1.0 / FOOT, "metres told as feet")):
        slips.append((factor**-2, f"a drop of {{slip}}, {words},", (factor * distance, Measure.DEPTH)))
    likely = sorted((abs(math.log(share * drag.value / known.value)), words, share, number)
                    for share, words, number in slips
                    if known.low / _WIDER < share * drag.value < known.high * _WIDER)  # fmt: skip
    start = (f"a drag coefficient of {drag.value:.2g} is out of the {known.low:.2g} to {known.high:.2g} that lures "
             "have: look for a slip")  # fmt: skip
    if not likely:
        yield watch(f"{start} in weight in water, area, distance or time")
        return
    told = [words.format(slip=f"{{slip{place}}}") for place, (_, words, _, _) in enumerate(likely[:2])]
    ends = sorted({f"{share * drag.value:.2g}" for _, _, share, _ in likely[:2]})
    said = " or ".join(told)
    yield watch(f"{start}. {said[0].upper()}{said[1:]} would make it {' or '.join(ends)}",
                **{f"slip{place}": number for place, (_, _, _, number) in enumerate(likely[:2])})  # fmt: skip


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
    if distance < 0.985 * _SHORT:
        found.append(watch("a short drop: under {least} the start and the stopwatch weigh heavily",
                           least=(_SHORT, Measure.DEPTH)))  # fmt: skip
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
