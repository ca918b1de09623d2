"""Lead from a scale and a jug: how much makes a lure float, hang or sink as wanted, and what a lure comes to.

With M the mass of all but the ballast, D the water displaced, w what a gram of ballast inside is worth and E the
excess wanted, the ballast is ((1 - reserve) D + E - M) / w.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from gudgeon.answers.bench_lure import (
    BLANK,
    WATER,
    BenchLure,
    BenchPart,
    BenchWater,
    Stuff,
    checked,
    fall_drag,
    lake,
    sea,
    stuff,
)
from gudgeon.answers.classing import Rate, class_words
from gudgeon.answers.finding import Finding
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing, numbers
from gudgeon.answers.saying import grams, heavy_or_light, sinks_or_floats, watch, wrong
from gudgeon.answers.slips import heavier_slip, parts_slip
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.immersion import ballast_inside, ballast_outside, worth_inside
from gudgeon.physics.sinking import excess_for, sink_velocity
from gudgeon.physics.spread import Estimate
from gudgeon.units import Measure, Reading

AREA = "area seen from above"
DRAG = "drag coefficient"
AREA_SHARE = 0.05  # half-width of an area from ruler and eye
LAST_HOLE_SHARE = 0.02  # of the total, left for the last hole; common practice, no source: 2 to 4 %


@dataclass(frozen=True)
class BenchAim:
    """What the lure is to do.

    velocity : [m/s] wanted, down positive; 0 to hang
    reserve  : share of the displaced water left over, for a floater
    more     : share of ballast beyond what hangs it, "a quarter more"
    """

    velocity: float = 0.0
    reserve: float = 0.0
    more: float = 0.0


@dataclass(frozen=True)
class PlanArea:
    """The area seen from above [m2], and the drag coefficient on it where a drop was timed."""

    area: Reading
    drag: Reading | None = None


@dataclass(frozen=True)
class Shots:
    """Whole shot in place of the computed ballast; masses [kg]."""

    each: float
    count: int
    mass: float
    off: Estimate


@dataclass(frozen=True)
class OtherWater:
    """The same lure in another water.

    words    : which
    excess   : [kg]
    restores : [kg] ballast inside that brings the excess back; less than nothing to take out
    """

    words: str
    excess: Estimate
    restores: float


@dataclass(frozen=True)
class Lead:
    """Ballast for an aim, and the sums it rests on; masses [kg].

    inside, outside : ballast in bores of its own size, or stuck on outside
    total           : the finished lure
    displaced       : water by the finished lure
    excess          : total less displaced, with what goes in (shot, where shot was given)
    on_scale        : blank and parts as they lie on the scale
    bare            : water by the bare blank
    plain, plain_more : bare less on_scale: the sum on paper, without holes and hooks; and the share more
    volume          : [m3] of the blank
    wood            : [kg/m3]
    last_hole       : to be left for the last hole
    """

    material: str
    aim: BenchAim
    water: str
    inside: Estimate
    outside: Estimate
    total: Estimate
    displaced: Estimate
    excess: Estimate
    on_scale: Estimate
    bare: Estimate
    plain: Estimate
    plain_more: Estimate | None
    volume: Estimate
    wood: Estimate
    last_hole: float
    shots: Shots | None
    rate: Rate | None
    other: OtherWater
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


@dataclass(frozen=True)
class Sum:
    """What a lure comes to as it stands; masses [kg], fields as in Lead."""

    water: str
    total: Estimate
    displaced: Estimate
    excess: Estimate
    on_scale: Estimate
    bare: Estimate
    plain: Estimate
    volume: Estimate
    wood: Estimate
    rate: Rate | None
    other: OtherWater
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


def lead(
    lure: BenchLure,
    aim: BenchAim,
    material: Stuff,
    plan: PlanArea | None = None,
    *,
    shot: float | None = None,
    told_total: float | None = None,
) -> Lead:
    """The ballast that makes a lure do what is wanted.

    shot       : [kg] one shot, to make the ballast of whole ones
    told_total : [kg] what the maker wrote down for blank and parts
    raises     : Refusal when the numbers cannot be a lure's
    """
    lure = checked(_with_rest(lure, told_total))
    knowns = (*lure.knowns(), *fall_knowns(aim, plan))
    inside = inside_for(lure, aim, material)
    needed = estimate(inside, knowns)
    shots = None if shot is None else _shots(shot, needed.value, lure, material, knowns, inside)
    put_in = max(0.0, needed.value) if shots is None else shots.mass
    filled = lure.with_part(BenchPart("ballast", Reading(put_in, 0.0), material, buried=True))
    whole = weighed_up(filled, plan)
    more = estimate(lambda n: (1.0 + aim.more) * _plain(lure, n), knowns) if aim.more else None
    last_hole = _last_hole(whole, put_in)
    slips = () if told_total is None else _slips(lure, told_total)
    over = -needed.value * worth_inside(lure.wood(numbers(knowns)), material.density)
    heavy = () if any("already" in slip.words for slip in slips) else _too_heavy(over, aim)
    swing = () if over >= 0.0 else _swing(whole, aim, last_hole)
    warnings = (*slips, *heavy, *whole.warnings, *swing, *_short(shots))
    return Lead(
        material=material.name, aim=aim, water=whole.water, inside=needed,
        outside=estimate(_outside(lure, aim, material), knowns), total=whole.total, displaced=whole.displaced,
        excess=whole.excess, on_scale=estimate(lure.parts_total, knowns), bare=whole.bare,
        plain=estimate(lambda n: _plain(lure, n), knowns), plain_more=more, volume=whole.volume, wood=whole.wood,
        last_hole=last_hole, shots=shots, rate=whole.rate, other=whole.other,
        narrowing=narrowing(inside, knowns), warnings=warnings,
    )  # fmt: skip


def weighed_up(
    lure: BenchLure,
    plan: PlanArea | None = None,
    *,
    told_total: float | None = None,
) -> Sum:
    """What a lure comes to as it stands, its ballast among its parts.

    told_total : [kg] what the maker wrote down for its total
    raises     : Refusal when the numbers cannot be a lure's
    """
    lure = checked(_with_rest(lure, told_total))
    knowns = lure.knowns()
    excess = estimate(lambda n: lure.mass(n) - lure.displaces(n), knowns)
    other = _elsewhere(lure, excess.value)
    slips = () if told_total is None else _slips(lure, told_total)
    return Sum(
        water=lure.water.words, total=estimate(lure.mass, knowns), displaced=estimate(lure.displaces, knowns),
        excess=excess, on_scale=estimate(lure.parts_total, knowns),
        bare=estimate(lambda n: lure.volume(n) * n[WATER], knowns), plain=estimate(lambda n: _plain(lure, n), knowns),
        volume=estimate(lure.volume, knowns), wood=estimate(lure.wood, knowns),
        rate=None if plan is None else fall_rate(excess, plan, lure.water.density), other=other,
        narrowing=narrowing(lambda n: lure.mass(n) - lure.displaces(n), knowns),
        warnings=(*slips, *_flip(excess.value, other)),
    )  # fmt: skip


def fall_rate(excess: Estimate, plan: PlanArea, water_density: float) -> Rate:
    """The rate that an excess [kg] gives, flat, and its classes.

    The range on either side is that of the excess, and that of the drag, as root of the sum of squares.
    """
    drag = fall_drag(plan.drag)
    area = drag.value * plan.area.value
    middle, low, high = (
        float(sink_velocity(end, water_density, area)) for end in (excess.value, excess.low, excess.high)
    )
    by_area = plan.area.spread_or(AREA_SHARE * plan.area.value) / plan.area.value
    share = 0.5 * math.hypot(drag.spread / drag.value, by_area)
    velocity = Estimate(middle, middle - math.hypot(middle - low, share * low), middle + math.hypot(
        high - middle, share * high))  # fmt: skip
    return Rate(velocity, class_words(velocity))


def fall_knowns(aim: BenchAim, plan: PlanArea | None) -> tuple[Known, ...]:
    """Drag and area, where the aim is a rate."""
    need_area(aim.velocity, plan)
    if plan is None or aim.velocity == 0.0:
        return ()
    spread = plan.area.spread_or(AREA_SHARE * plan.area.value)
    return (fall_drag(plan.drag), Known(AREA, plan.area.value, spread, "trace it on squared paper", 0.4 * spread))


def need_area(velocity: float | None, plan: PlanArea | None) -> None:
    """Nothing, when a rate [m/s] has the area it needs; raises Refusal."""
    if velocity and plan is None:
        raise Refusal("a rate says nothing without the area it falls on", [
            Fault("--plan-area", "give the area seen from above: --plan-area \"30 cm2\"")])  # fmt: skip


def _wanted(aim: BenchAim, n: Numbers) -> float:
    """Excess wanted [kg]."""
    return excess_for(aim.velocity, n[WATER], n[DRAG] * n[AREA]) if aim.velocity else 0.0


def inside_for(lure: BenchLure, aim: BenchAim, material: Stuff) -> Callable[[Numbers], float]:
    """The ballast inside [kg] as a function of all that is known."""

    def needed(n: Numbers) -> float:
        return (1.0 + aim.more) * ballast_inside(lure.mass(n), lure.displaces(n), lure.wood(n), material.density,
                                                 excess=_wanted(aim, n), reserve=aim.reserve)  # fmt: skip

    return needed


def _outside(lure: BenchLure, aim: BenchAim, material: Stuff) -> Callable[[Numbers], float]:
    def needed(n: Numbers) -> float:
        return (1.0 + aim.more) * ballast_outside(lure.mass(n), lure.displaces(n), n[WATER], material.density,
                                                  excess=_wanted(aim, n), reserve=aim.reserve)  # fmt: skip

    return needed


def _plain(lure: BenchLure, n: Numbers) -> float:
    return lure.volume(n) * n[WATER] - lure.parts_total(n)


def _shots(each: float, needed: float, lure: BenchLure, material: Stuff, knowns: tuple[Known, ...],
           inside: Callable[[Numbers], float]) -> Shots:  # fmt: skip
    count = max(0, round(needed / each))

    def off(n: Numbers) -> float:
        return (count * each - inside(n)) * worth_inside(lure.wood(n), material.density)

    return Shots(each, count, count * each, estimate(off, knowns))


def _elsewhere(lure: BenchLure, excess: float) -> OtherWater:
    """The lure in the sea, or for a sea lure in a lake, at the same temperature."""
    temperature = lure.water.temperature
    water: BenchWater = sea(temperature) if lure.water.salinity.value < 17.5 else lake(temperature)
    moved = BenchLure(lure.blank, lure.displaced, lure.density, lure.by_table, lure.parts, water, lure.jug)
    there = estimate(lambda n: moved.mass(n) - moved.displaces(n), moved.knowns())
    wood = lure.wood(numbers(lure.knowns()))
    restores = (excess - there.value) / worth_inside(wood, stuff("lead").density)
    return OtherWater(water.words, there, restores)


def _with_rest(lure: BenchLure, told: float | None) -> BenchLure:
    """Where a total is told and no parts are, what the total holds beyond the blank, taken to displace nothing."""
    if told is None or lure.parts or told <= lure.blank.value:
        return lure
    return lure.with_part(BenchPart("all else in the total", Reading(told - lure.blank.value), Stuff("mixed", 7850.0),
                                    soaked=True))  # fmt: skip


def _slips(lure: BenchLure, told: float) -> tuple[Finding, ...]:
    knowns = lure.knowns()
    n = numbers(knowns)
    weights = [known for known in knowns if known.name == BLANK or known.name in
               {part.name for part in lure.parts}]  # fmt: skip
    parts = [known.value for known in weights] if lure.parts else []
    found = (parts_slip(told, parts, [known.spread for known in weights]), heavier_slip(told, lure.displaces(n)))
    return tuple(wrong(slip) for slip in found if slip)


def _flip(excess: float, other: OtherWater) -> tuple[Finding, ...]:
    there = other.excess.value
    if excess * there >= 0.0 or abs(excess) < 1e-5:
        return ()
    place = "In the sea" if there < excess else "In fresh water"
    mend = "more lead restores the sink" if there < excess else "less lead lets it float again"
    return (watch(f"{place} ({other.words}) this {sinks_or_floats(there)}: {heavy_or_light(there)}. "
                  f"{grams(other.restores)} {mend}"),)  # fmt: skip


def _last_hole(whole: Sum, put_in: float) -> float:
    """What to leave for the last hole [kg]: what the tank may ask for, to the half gram above, or all there is."""
    leave = max(2.0 * whole.excess.spread, LAST_HOLE_SHARE * whole.total.value)
    return min(math.ceil(leave * 2e3) / 2e3, put_in)


def _too_heavy(over: float, aim: BenchAim) -> tuple[Finding, ...]:
    """over : [kg] excess beyond what is wanted, before any ballast."""
    if over < 0.0:
        return ()
    wish = "float like that" if aim.reserve or aim.velocity < 0.0 else "do that"
    return (wrong(f"already {grams(over)} too heavy to {wish} before any ballast goes in: lighter wood, lighter "
                  "hardware, or a fuller body"),)  # fmt: skip


def _swing(whole: Sum, aim: BenchAim, leave: float) -> tuple[Finding, ...]:
    """What the spread of the excess does to the class, where it does something."""
    spread = whole.excess.spread
    low, high = whole.excess.value - spread, whole.excess.value + spread
    if spread < 2e-5:
        return ()
    tank = f"leave the last {grams(leave)} for the tank"
    if low * high <= 0.0:
        return (watch(f"the weights are sure to ± {grams(spread)}, which decides whether it floats or sinks: {tank}"),)
    if whole.rate is None or aim.reserve:
        return ()
    middle = abs(whole.rate.velocity.value)
    slow, fast = sorted(middle * math.sqrt(end / whole.excess.value) for end in (low, high))
    if fast < 1.4 * slow:
        return ()
    turn = "sinks" if high < 0.0 else "floats"
    twice = f", and twice that makes it {turn[:-1]}" if abs(whole.excess.value) < 2.0 * spread else ""
    ends = {"slow": (1.0 / slow, Measure.TIME_PER_FOOT), "fast": (1.0 / fast, Measure.TIME_PER_FOOT)}
    words = f"± {grams(spread)} in weights and water swings it from {{slow}} to {{fast}}{twice}: {tank}"
    return (watch(words, **ends),)


def _short(shots: Shots | None) -> tuple[Finding, ...]:
    if shots is None or abs(shots.off.value) < 5e-5:
        return ()
    return (watch(f"{shots.count} shot leave it {heavy_or_light(shots.off.value)} of what was asked"),)


def as_it_sinks(velocity: float, plan: PlanArea | None, water_density: float) -> Estimate:
    """The excess [kg] that a rate as it is now shows; velocity : [m/s] down positive, 0 when it hangs."""
    if velocity == 0.0 or plan is None:
        return Estimate(0.0, 0.0, 0.0)
    drag = fall_drag(plan.drag)
    value = excess_for(velocity, water_density, drag.value * plan.area.value)
    spread = abs(value) * drag.spread / drag.value
    return Estimate(value, value - spread, value + spread)
