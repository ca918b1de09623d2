"""Changes that mend how a lure swims, tried by towing: a trend, told only where the model's constants agree on it.

The lure as it is and the lure changed are towed side by side with several sets of the model's constants, at the speed
at which the symptom shows.
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import fmean, median

from gudgeon.answers.as_seen import AsSeen, with_ballast_moved
from gudgeon.answers.finding import Finding
from gudgeon.answers.fix_bench import Made
from gudgeon.answers.hook_choices import HookChoice, hook_weight_now, is_another
from gudgeon.answers.hook_fixes import hung
from gudgeon.answers.mended import After, Fix, Trend, after_of, side_effects
from gudgeon.answers.saying import note, plain, watch
from gudgeon.answers.stick_fixes import stuck
from gudgeon.answers.swim_changes import constant_sets
from gudgeon.answers.swum import LEANS, SWIMS, TUMBLES
from gudgeon.answers.tow_runs import Progress, Towed, TowTask, towed
from gudgeon.answers.towed_chain import tow_speeds, towed_chain
from gudgeon.design.hardware import Hook
from gudgeon.design.model import Design
from gudgeon.errors import Refusal
from gudgeon.library.ladder import Rung, Symptom
from gudgeon.physics.chain import Chain
from gudgeon.physics.hull import depth_at
from gudgeon.physics.lure import Lure
from gudgeon.units import INCH, Measure, Reading

TOWED_GOALS = ("steady", "lively", "spin")
_HALF = 0.5
_SHARE_SHOWS = 0.2  # of the starts: a change that more of them make is one
_ROLL_SHOWS = 0.05  # share of the roll
_FASTER = (1.0, 1.5, 2.0)
_SLOWER = (1.0, 0.7, 0.5)
_TRIM = INCH / 16.0
_KEEL = (0.01, 0.03)  # of the weight, stuck on at the belly; common practice, no source
_LOWER = 0.005  # m
_LESS_LEAD = 0.05  # of the ballast
_OUT = 0.15  # of a lip's exposed length
_TIMES_SWING = 0.75


@dataclass(frozen=True)
class TowBench:
    """What every change at the tow is tried with.

    hooks : that could hang there, the lightest first
    now   : the lure as it is
    """

    seen: AsSeen
    hooks: tuple[HookChoice, ...]
    now: After


@dataclass(frozen=True)
class TowProposal:
    """One change: what, the design so changed and its lure, and what it does to the chain itself."""

    rung: Rung
    what: Finding
    design: Design
    lure: Lure
    on_chain: Callable[[Chain], Chain] | None = None


def tow_fixes(
    bench: TowBench, what: Symptom, rungs: Sequence[Rung], speed: float | None, progress: Progress
) -> tuple[tuple[Fix, ...], tuple[Finding, ...]]:
    """The rungs that can be towed, worked out; and what is to be known of them.

    speed : [m/s] at which it was seen; by the lure's own speeds when None
    """
    seen = bench.seen
    chosen, shows = _speed(seen, what, speed)
    asked = [rung for rung in rungs if rung.change in _CHANGES]
    made = [one for rung in asked for one in _CHANGES[rung.change](bench, rung)]
    sets = constant_sets(seen.design)
    tasks = [TowTask(towed_chain(seen.design, seen.lure, speed=chosen, coefficients=own), chosen) for own in sets]
    kept = []
    for one in made:
        chains = _chains(one, chosen, sets)
        if chains:
            kept.append(one)
            tasks += [TowTask(chain, chosen) for chain in chains]
    runs, count = towed(tasks, progress), len(sets)
    fixes = []
    for place, one in enumerate(kept, start=1):
        trend = _trend(what.goal, chosen, runs[:count], runs[count * place : count * (place + 1)])
        then = after_of(seen, one.design, one.lure)
        effects = side_effects(what.goal, bench.now, then, one.design, is_undone=one.rung.is_undone)
        fixes.append(Fix(one.rung, one.what, trend.does == "helps", then, trend, effects))
    return tuple(fixes), _findings(what, chosen, shows, len(made) - len(kept))


def _chains(one: TowProposal, speed: float, sets: Sequence[Mapping[str, float]]) -> list[Chain]:
    try:
        found = [towed_chain(one.design, one.lure, speed=speed, coefficients=own) for own in sets]
    except Refusal:  # a change that this lure has no room for
        return []
    return [one.on_chain(chain) for chain in found] if one.on_chain is not None else found


def _findings(what: Symptom, speed: float, shows: bool, left: int) -> tuple[Finding, ...]:
    found = [note("what the tow says of a change is a trend: use it to choose what to try, not to predict")]
    if not shows:
        found.append(watch(f"the model does not show '{what.name}' at {{speed}}, or near it: its trends are of a lure "
                           "that it thinks sound", speed=(speed, Measure.TOW_SPEED)))  # fmt: skip
    if left:
        found.append(note(f"{left} of the changes cannot be towed on this lure"))
    return tuple(found)


def _share(goal: str, run: Towed) -> float:
    """Share of the starts that do as is wanted."""
    if goal == "lively":
        return run.share(SWIMS)
    return 1.0 - run.share(TUMBLES) - (run.share(LEANS) if goal == "steady" else 0.0)


def _speed(seen: AsSeen, what: Symptom, told: float | None) -> tuple[float, bool]:
    """The speed [m/s] at which the symptom shows, near the one told; and whether it does."""
    speeds = tow_speeds(seen.design)
    own = [speed for speed in speeds if speed in seen.design.aim.speeds] or list(speeds)
    first = told if told is not None else (own[0] if what.goal == "lively" else own[-1])
    times = _SLOWER if what.goal == "lively" else _FASTER
    near = [first * share for share in times]
    runs = towed([TowTask(towed_chain(seen.design, seen.lure, speed=speed), speed) for speed in near])
    for speed, run in zip(near, runs, strict=True):
        if _share(what.goal, run) < _HALF:
            return speed, True
    return first, False


def _roll(run: Towed) -> float | None:
    """Most roll [rad] in the middle of the starts; None where that is right round."""
    roll = median(math.inf if reading.kind == TUMBLES else reading.most_roll for reading in run.readings)
    return roll if roll <= math.pi else None


def _trend(goal: str, speed: float, before: Sequence[Towed], after: Sequence[Towed]) -> Trend:
    shares = [(_share(goal, one), _share(goal, other)) for one, other in zip(before, after, strict=True)]
    signs = [_better(goal, pair, (_roll(one), _roll(other)))
             for pair, one, other in zip(shares, before, after, strict=True)]  # fmt: skip
    does = "unsure"
    if min(signs) >= 0 and sum(signs) > len(signs) / 2:
        does = "helps"
    elif max(signs) <= 0 and -sum(signs) > len(signs) / 2:
        does = "harms"
    return Trend(speed, does, fmean(one for one, _ in shares), fmean(other for _, other in shares), _roll(before[0]),
                 _roll(after[0]))  # fmt: skip


def _better(goal: str, shares: tuple[float, float], rolls: tuple[float | None, float | None]) -> int:
    """1 for better, -1 for worse, 0 for as good: more starts that do as wanted, or as many and less roll."""
    if abs(shares[1] - shares[0]) > _SHARE_SHOWS:
        return 1 if shares[1] > shares[0] else -1
    before, after = rolls
    if goal != "steady" or before is None or after is None or abs(after - before) <= _ROLL_SHOWS * before:
        return 0
    return 1 if after < before else -1


# --- the changes ---

TowTrial = Callable[[TowBench, Rung], Iterator[TowProposal]]


def _made(bench: TowBench, rung: Rung, what: Finding, made: Made) -> Iterator[TowProposal]:
    lure = bench.seen.changed(*made)
    if lure is not None:
        yield TowProposal(rung, what, made[0], lure)


def _belly_hook(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    """The next heavier hook on the foremost hanger."""
    hooks = sorted(bench.seen.design.hooks, key=lambda hook: hook.at)
    if hooks:
        yield from _next_hook(bench, rung, hooks[:1], heavier=True)


def _smaller_hooks(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    """The next lighter hook on every hanger."""
    if bench.seen.design.hooks:
        yield from _next_hook(bench, rung, bench.seen.design.hooks, heavier=False)


def _next_hook(bench: TowBench, rung: Rung, hooks: Sequence[Hook], *, heavier: bool) -> Iterator[TowProposal]:
    others = {}
    for hook in hooks:
        now = hook_weight_now(bench.seen.lure, hook)
        far = [one for one in bench.hooks if is_another(one, hook, now)
               and (one.mass.value > 1.15 * now if heavier else one.mass.value < 0.87 * now)]  # fmt: skip
        if far:
            others[hook.name] = far[0] if heavier else far[-1]
    if len(others) == len(hooks):
        numbers = {f"new{place}": (one.mass.value, Measure.MASS) for place, one in enumerate(others.values())}
        words = "; ".join(f"{plain(name)}: {plain(one.words)}, {{new{place}}}"
                          for place, (name, one) in enumerate(others.items()))  # fmt: skip
        yield from _made(bench, rung, note(words, **numbers), hung(bench.seen.design, others))


def _keel(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    lure = bench.seen.lure
    at = float(lure.sums().buoyancy_centre[0])
    for share in _KEEL:
        mass = round(share * lure.sums().mass, 4)
        what = note("{mass} of stick-on lead on the belly {at} from the nose", mass=(mass, Measure.MASS),
                    at=(at, Measure.CUT))  # fmt: skip
        yield from _made(bench, rung, what, stuck(bench.seen.design, lure, mass, at))


def _eye_moved(bench: TowBench, rung: Rung, ahead: float, down: float, words: str) -> Iterator[TowProposal]:
    design = bench.seen.design
    eye = next((one for one in design.fittings if one.kind == "tow eye"), None)
    if eye is None:
        return
    moved = eye.model_copy(update={"at": eye.at - ahead, "height": (eye.height or 0.0) - down})
    fittings = tuple(moved if one is eye else one for one in design.fittings)
    what = note(words, by=(ahead or down, Measure.CUT))
    yield from _made(bench, rung, what, (design.model_copy(update={"fittings": fittings}), frozenset()))


def _eye_out(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    """Only an eye on a lip can go farther out."""
    lip = bench.seen.design.lip
    eye = next((one for one in bench.seen.design.fittings if one.kind == "tow eye"), None)
    if lip is None or eye is None or eye.at > lip.at:
        return
    out = _OUT * lip.exposed
    yield from _eye_moved(bench, rung, out * math.cos(lip.angle), out * math.sin(lip.angle),
                          "the tow eye {by} farther out along the lip")  # fmt: skip


def _eye_lower(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    lure = bench.seen.lure
    station = min(max(0.0, lure.hull.start), lure.hull.stop) + 0.15 * lure.hull.length
    low, high = depth_at(lure.hull, station)
    yield from _eye_moved(bench, rung, 0.0, 0.15 * (high - low), "the tow eye {by} lower")


def _lip_by(more: float, words: str) -> TowTrial:
    def trial(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
        lip = bench.seen.design.lip
        if lip is None or lip.width + 2.0 * more <= 0.25 * lip.width:
            return
        other = lip.model_copy(update={"width": lip.width + 2.0 * more, "weight": None})
        what = note(words, by=(abs(more), Measure.CUT))
        yield from _made(bench, rung, what, (bench.seen.design.model_copy(update={"lip": other}), frozenset({"lip"})))

    return trial


def _lower_lead(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    """All the ballast that much lower, as far as the wood goes: a trend of what a rebuild would do."""
    lure, design = bench.seen.lure, bench.seen.design
    if not any(lure.held.values()):
        return
    lowered = with_ballast_moved(lure, 0.0, -_LOWER)
    yield TowProposal(rung, note("all the lead {by} lower", by=(_LOWER, Measure.CUT)), design, lowered)


def _less_lead(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    design, held = bench.seen.design, bench.seen.lure.held
    out = _LESS_LEAD * sum(held.values())
    if out <= 0.0:
        return
    pockets = tuple(pocket.model_copy(update={"holds": Reading((1.0 - _LESS_LEAD) * held[pocket.name])})
                    if held[pocket.name] > 0.0 else pocket for pocket in design.pockets)  # fmt: skip
    what = note("{out} of lead out, a part of each hole's", out=(out, Measure.MASS))
    yield from _made(bench, rung, what, (design.model_copy(update={"pockets": pockets}), frozenset()))


def _no_fin(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    if bench.seen.design.fin is not None:
        yield from _made(bench, rung, note("the tail fin off"),
                         (bench.seen.design.model_copy(update={"fin": None}), frozenset()))  # fmt: skip


def _free_joint(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    def freed(chain: Chain) -> Chain:
        return replace(chain, joints=replace(chain.joints, friction=0.5 * chain.joints.friction))

    if bench.seen.design.joints:
        yield TowProposal(rung, note("the joint freed: half the friction"), bench.seen.design, bench.seen.lure, freed)


def _limit_swing(bench: TowBench, rung: Rung) -> Iterator[TowProposal]:
    def limited(chain: Chain) -> Chain:
        joints = chain.joints
        return replace(chain, joints=replace(joints, most_left=_TIMES_SWING * joints.most_left,
                                             most_right=_TIMES_SWING * joints.most_right))  # fmt: skip

    if bench.seen.design.joints:
        yield TowProposal(rung, note("a quarter less swing at each joint"), bench.seen.design, bench.seen.lure, limited)


_CHANGES: Mapping[str, TowTrial] = {
    "heavier belly hook": _belly_hook, "stick-on keel": _keel, "eye out": _eye_out, "eye lower": _eye_lower,
    "narrower lip": _lip_by(-_TRIM, "the lip {by} narrower on each side"), "lower lead": _lower_lead,
    "smaller hooks": _smaller_hooks, "free joint": _free_joint, "less lead": _less_lead,
    "wider lip": _lip_by(_TRIM, "a lip {by} wider on each side"), "no fin": _no_fin, "limit swing": _limit_swing,
}  # fmt: skip
