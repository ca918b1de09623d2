"""A sinker that hangs nose-down or nose-up: what moves it level, and what each way does to the sink.

Under water the tilt is held by the moment M = W x BG x tan(tilt), W the water displaced and BG the height of the
buoyancy centre above the weight centre. Whatever takes that moment away levels it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from gudgeon.answers.bench_lure import BenchWater, stuff
from gudgeon.answers.classing import Rate
from gudgeon.answers.finding import Finding
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing
from gudgeon.answers.saying import grams, heavy_or_light, note, sinks_or_floats, watch
from gudgeon.answers.sums import PlanArea, fall_rate
from gudgeon.design.model import Uncertainty
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.immersion import tilt, tilting_moment, worth_inside, worth_outside
from gudgeon.physics.spread import Estimate, exactly
from gudgeon.units import Reading

_TILT, _APART, _WATER_OUT = "tilt", "distance between centres", "water displaced"
TILT_SPREAD = 0.05  # rad, half-width of a tilt judged against the wall of a tank
APART_SHARE = 0.25  # half-width of a distance between centres found by hand
_MOST_HOOK = 0.06  # of the water displaced, that a hook can be changed by; a habit of our own: trebles weigh no more
_LEVEL = math.radians(1.0)  # all the lead of a hole goes out where that leaves no more


@dataclass(frozen=True)
class Spot:
    """A place where weight can change.

    name  : in the maker's words
    ahead : [m] of the balance point, negative aft
    mass  : [kg] that there is to take or add there; as much as levels it when None
    """

    name: str
    ahead: float
    mass: float | None = None


@dataclass(frozen=True)
class Fix:
    """One way to level it.

    words  : what to do
    mass   : [kg] moved, taken or added
    moment : [kg m] that it takes away, same sign as the tilt's
    left   : [rad] tilt afterwards, nose-up positive
    excess : [kg] afterwards
    rate   : afterwards; None without an area
    """

    words: str
    mass: Estimate
    moment: float
    left: float
    excess: Estimate
    rate: Rate | None


@dataclass(frozen=True)
class Trim:
    """The moment [kg m] that tilts it, nose-down positive, and the ways to level it, least change of sink first."""

    moment: Estimate
    fixes: tuple[Fix, ...]
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


@dataclass(frozen=True)
class Hanging:
    """A sinker as it hangs now.

    displaced : [kg]     angle : [rad] nose-up positive     apart : [m]     excess : [kg]
    wood      : [kg/m3] that a hole takes away
    """

    displaced: Reading
    angle: Reading
    apart: Reading
    excess: Estimate
    wood: float
    water: BenchWater
    plan: PlanArea | None = None


def trims(
    now: Hanging, *, hooks: Sequence[Spot] = (), holes: Sequence[Spot] = (), sticks: Sequence[Spot] = ()
) -> Trim:
    """The ways to level a tilted sinker.

    hooks  : hangers; two of them trade weight without changing the sink
    holes  : where lead can come out or go in
    sticks : where lead can be stuck on outside
    raises : Refusal when there is no place to change anything, or one lies at the balance point; when only hooks may
             be changed, and none can be by as much as it would take
    """
    _check((*hooks, *holes, *sticks))
    knowns = _knowns(now)
    fixes = [_trade(now, knowns, *pair) for pair in combinations(sorted(hooks, key=lambda spot: -spot.ahead), 2)]
    steel, lead = stuff("steel").density, stuff("lead").density
    inside, outside = worth_inside(now.wood, lead), worth_outside(now.water.density, lead)
    on_hook = worth_outside(now.water.density, steel)
    fixes += [_single(now, knowns, spot, on_hook, ("off the", "onto the"), f"{spot.name} hook") for spot in hooks]
    beyond = [fix for fix in fixes if fix.mass.value > _MOST_HOOK * now.displaced.value]
    fixes = [fix for fix in fixes if fix not in beyond]
    fixes += [_single(now, knowns, spot, inside, ("of lead out of the hole", "of lead into the hole"), _where(spot))
              for spot in holes]  # fmt: skip
    stuck = [_single(now, knowns, spot, outside, ("of stick-on off", "of stick-on"), _where(spot)) for spot in sticks]
    fixes += [fix for fix in stuck if fix.words.startswith("add")]  # nothing is stuck there yet to take off
    if not fixes:
        words = f"{beyond[0].words}: no hook differs by so much; say where lead can change: --hole or --stick"
        raise Refusal("nothing to trim with", [Fault("--hook", words)])
    fixes.sort(key=lambda fix: round(abs(fix.excess.value - now.excess.value), 5))
    told = [*_warnings(now, fixes)]
    if any("hook" in fix.words for fix in fixes):
        told.append(note("hooks come in sizes: weigh yours, and hang those that come nearest"))
    told += [note(f"{fix.words}: left out, no hook differs by so much") for fix in beyond]
    return Trim(estimate(_moment, knowns), tuple(fixes), narrowing(_moment, knowns), tuple(told))


def _knowns(now: Hanging) -> tuple[Known, ...]:
    apart = now.apart.spread_or(APART_SHARE * now.apart.value)
    return (
        Known(_TILT, -now.angle.value, now.angle.spread_or(TILT_SPREAD), "photograph it hanging, and measure the tilt "
              "on the picture", 0.017),
        Known(_APART, now.apart.value, apart, "find the distance between centres by hanging a known weight off centre",
              0.1 * now.apart.value),
        Known(_WATER_OUT, now.displaced.value, now.displaced.spread_or(Uncertainty().dunk * now.displaced.value)),
    )  # fmt: skip


def _moment(n: Numbers) -> float:
    return tilting_moment(n[_TILT], n[_WATER_OUT], n[_APART])


def _left(now: Hanging, moment: float) -> float:
    """Tilt left [rad], nose-up positive, once `moment` [kg m] is taken from what tilts it nose-down."""
    still = tilting_moment(-now.angle.value, now.displaced.value, now.apart.value) - moment
    return -tilt(still, now.displaced.value, now.apart.value)


def _trade(now: Hanging, knowns: tuple[Known, ...], front: Spot, rear: Spot) -> Fix:
    """Weight from one hook to the other: the sink stays."""
    arm = (front.ahead - rear.ahead) * worth_outside(now.water.density, stuff("steel").density)
    mass = estimate(lambda n: _moment(n) / arm, knowns)
    lighter, heavier = (front, rear) if mass.value > 0.0 else (rear, front)
    size = Estimate(*sorted_by_size(mass))
    words = f"{lighter.name} hook {grams(mass.value)} lighter, {heavier.name} hook as much heavier"
    return _fix(now, words, size, mass.value * arm, now.excess)


def sorted_by_size(value: Estimate) -> tuple[float, float, float]:
    """The parts of an estimate turned so that its value is not negative."""
    return (value.value, value.low, value.high) if value.value >= 0.0 else (-value.value, -value.high, -value.low)


def _where(spot: Spot) -> str:
    return f"{abs(spot.ahead) * 1e3:.3g} mm {'ahead' if spot.ahead > 0.0 else 'aft'}"


def _single(now: Hanging, knowns: tuple[Known, ...], spot: Spot, worth: float, ways: tuple[str, str],
            where: str) -> Fix:  # fmt: skip
    """Weight taken at one place (more than nothing ahead of the balance point levels a nose-down lure), or added."""
    taken = estimate(lambda n: _moment(n) / (spot.ahead * worth), knowns)
    if spot.mass is not None:
        told = math.copysign(spot.mass, taken.value)
        if spot.mass <= abs(taken.value) or abs(_left(now, told * worth * spot.ahead)) <= _LEVEL:
            taken = exactly(told)
    takes = taken.value > 0.0
    size = Estimate(*sorted_by_size(taken))
    done = f"{'take' if takes else 'add'} {grams(size.value)} {ways[0] if takes else ways[1]} {where}"
    after = now.excess.value - taken.value * worth
    spread = (now.excess.spread**2 + (taken.spread * worth) ** 2) ** 0.5
    return _fix(now, done, size, taken.value * worth * spot.ahead, Estimate(after, after - spread, after + spread))


def _fix(now: Hanging, words: str, mass: Estimate, moment: float, excess: Estimate) -> Fix:
    rate = None if now.plan is None else fall_rate(excess, now.plan, now.water.density)
    return Fix(words, mass, moment, _left(now, moment), excess, rate)


def _check(spots: Sequence[Spot]) -> None:
    faults = [Fault("--hook, --hole, --stick", f"'{spot.name}' lies at the balance point, where weight turns nothing")
              for spot in spots if abs(spot.ahead) < 5e-4]  # fmt: skip
    if not spots:
        faults.append(Fault("--hook, --hole, --stick", 'say where weight can change: --hook "front, 38 mm ahead"'))
    if faults:
        raise Refusal("nothing to trim with", faults)


def _warnings(now: Hanging, fixes: Sequence[Fix]) -> tuple[Finding, ...]:
    found = [watch(f"{fix.words}: then it {sinks_or_floats(fix.excess.value)}, {heavy_or_light(fix.excess.value)}")
             for fix in fixes if fix.excess.value * now.excess.value < 0.0]  # fmt: skip
    return (*found, note("one change at a time; look at it hang before the next"))
