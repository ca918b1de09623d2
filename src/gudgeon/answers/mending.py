"""What was seen on the water, and the change that mends it with the least harm: the ladder worked through on the model.

Every rung of the ladder is tried as it stands there, hooks first. What mends it and spoils nothing comes first; of
those, what has the fewest side effects, as the ladder goes. What the model cannot tell is told in the ladder's words.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from gudgeon.answers.aiming import target_of
from gudgeon.answers.as_seen import AsSeen, Sighting, as_seen
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.fix_bench import FixBench, Goal, Proposal
from gudgeon.answers.hook_choices import HookChoice, choices
from gudgeon.answers.hook_fixes import HOOK_TRIALS, none_told_of
from gudgeon.answers.lead_fixes import LEAD_TRIALS
from gudgeon.answers.leaning import lean_of, lean_told
from gudgeon.answers.mended import After, Fix, Mending, after_of, ranked, side_effects
from gudgeon.answers.saying import note, watch
from gudgeon.answers.stick_fixes import STICK_TRIALS
from gudgeon.answers.tow_fixes import TOWED_GOALS, TowBench, tow_fixes
from gudgeon.answers.tow_runs import Progress, silent
from gudgeon.answers.trimming import TILT_SPREAD
from gudgeon.design.model import Design
from gudgeon.library.cautions import cautions_for
from gudgeon.library.ladder import Rung, Symptom, ladder, symptom
from gudgeon.physics.lure import WATER
from gudgeon.physics.sinking import drag_area, sink_velocity
from gudgeon.units import Measure, Reading

_TRIALS = {**HOOK_TRIALS, **STICK_TRIALS, **LEAD_TRIALS}
_SIGNS = {"nose-down": -1.0, "nose-up": 1.0, "sinks fast": 1.0, "sinks slow": -1.0, "floats": -1.0, "sinks": 1.0,
          "rides low": 1.0, "rides high": -1.0}  # fmt: skip
_LEADED = ("stick-on", "lead")  # rungs that are worked on with lead
_FAR = math.radians(5.0)  # of a pitch from what the weights say
_SHOWS = {"level": math.radians(1.5), "upright": math.radians(0.5), "rate": 1e-5}


def mend(
    design: Design, seen_words: str, sighting: Sighting, *, hooks: Sequence[HookChoice] = (),
    stage: Callable[[str], Progress] = lambda _: silent,
) -> Mending:  # fmt: skip
    """The changes that would mend a lure, the best first.

    design     : what was measured in it stands in its `measured` tables
    seen_words : the symptom, by its name or in other words
    hooks      : weighed ones at hand, of the log
    stage      : told what is being towed; gives what is told how far that is
    raises     : OutsideSource for a symptom that is not known, BadDesign, NoAnswer
    """
    what = symptom(seen_words)
    seen = as_seen(design, sighting, is_under=_is_under(what, design, sighting))
    now = after_of(seen, seen.design, seen.lure, _pitch_spread(sighting))
    rungs = [rung for rung in ladder(what.name) if _has_part(rung, design)]
    fixes: tuple[Fix, ...] = ()
    findings = [*seen.findings, note("one change at a time: write it down, and look at it before the next")]
    wanted, tried = None, True
    if what.goal in TOWED_GOALS:
        at_hand = choices(seen.design, seen.lure, hooks)
        fixes, told = tow_fixes(TowBench(seen, at_hand, now), what, rungs, sighting.speed,
                                stage("towing the lure as it is, and changed"))  # fmt: skip
        findings += told
    elif what.goal != "words":
        goal, wanted = _goal(what, seen)
        bench = FixBench(seen, goal, choices(seen.design, seen.lure, hooks))
        if _fits(what, bench.off):
            fixes = tuple(_fixes(what, bench, rungs, now, sighting))
        else:
            tried = False
            findings.append(_contradicted(what, now, sighting, wanted))
    lean = lean_of(seen) if what.goal == "upright" else None
    findings += [] if lean is None else [lean_told(seen, lean)]
    findings += [*_unlike_weights(seen, sighting)]
    if any(fix.rung.rung == "hooks" for fix in fixes) and none_told_of(choices(seen.design, seen.lure, hooks)):
        findings.append(note("no hook is told of as in stock: weigh yours, and enter them in the file's stock or in "
                             "the log's"))  # fmt: skip
    if now.velocity.low < 0.0 < now.velocity.high and what.goal in ("level", "upright"):
        findings.append(note("whether it floats or sinks is not known well: time a drop, and enter it"))
    if any(fix.rung.rung in _LEADED for fix in fixes):
        findings.append(note(cautions_for(["lead"])[0].words))
    done = {id(fix.rung) for fix in fixes}
    idle = tuple(rung for rung in rungs if rung.change and id(rung) not in done) if tried else ()
    rest = tuple(rung for rung in rungs if id(rung) not in done and rung not in idle)
    timed = sighting if sighting.rate is not None else replace(sighting, rate=_dropped(design))
    return Mending(seen.design.name, what, tried, wanted, timed, now, seen.by_weights, lean, ranked(fixes), idle, rest,
                   worst_first(findings))  # fmt: skip


def _has_part(rung: Rung, design: Design) -> bool:
    """Whether a lure has what a rung works on."""
    words = set(rung.words.lower().replace(".", "").replace(",", "").split())
    parts = {"fin": design.fin is not None, "lip": design.lip is not None, "joint": bool(design.joints)}
    if any(word in words and not there for word, there in parts.items()):
        return False
    stuck = any(fitting.kind == "stick-on" for fitting in design.fittings)
    return (rung.change != "take stick-on" or stuck) and (rung.change not in ("swap hooks", "trade hooks")
                                                          or len(design.hooks) > 1)  # fmt: skip


def _dropped(design: Design) -> Reading | None:
    """[m/s] down positive, of the last drop that was measured."""
    for one in reversed(design.measured):
        for rate, sign in ((one.sinks, 1.0), (one.rises, -1.0)):
            if rate is not None:
                return Reading(sign * rate.value, rate.spread)
    return None


def _unlike_weights(seen: AsSeen, sighting: Sighting) -> Iterator[Finding]:
    """Where it was seen to lie far from what its weights say."""
    if sighting.pitch is None or not seen.couple or abs(sighting.pitch.value - seen.by_weights.pitch) < _FAR:
        return
    way = "nose-up" if seen.by_weights.pitch > 0.0 else "nose-down"
    yield watch(f"by its weights alone it lies {{pitch}} {way}, far from how it was seen: look for a weight or a place "
                "entered wrongly. Each change here starts from how it was seen",
                pitch=(abs(seen.by_weights.pitch), Measure.ANGLE))  # fmt: skip


def asked_of(words: str) -> tuple[str, float]:
    """The goal that a symptom has, and the sign of how much it is told by: nose-up and sinking positive.

    raises : OutsideSource
    """
    what = symptom(words)
    sign = -1.0 if what.name in ("nose-down", "floats", "rides low", "rides high") else 1.0
    return what.goal, sign


def _is_under(what: Symptom, design: Design, sighting: Sighting) -> bool:
    """Whether it was seen under water, whatever its weights say."""
    if sighting.state is not None:
        return sighting.state != "afloat"
    return what.name in ("sinks fast", "sinks slow") or (what.goal in ("level", "upright")
                                                         and design.aim.does != "floats")  # fmt: skip


def _pitch_spread(sighting: Sighting) -> float | None:
    return None if sighting.pitch is None else sighting.pitch.spread_or(TILT_SPREAD)


def _goal(what: Symptom, seen: AsSeen) -> tuple[Goal, float]:
    """What is asked for, for the search and as it is told."""
    if what.goal == "level":
        return Goal("level", seen.design.aim.attitude), seen.design.aim.attitude
    if what.goal == "upright":
        return Goal("upright", 0.0), 0.0
    target = target_of(seen.design.aim, seen.lure)
    state, _ = seen.lure.state()
    area = float(drag_area(seen.design.aim.attitude, seen.lure.falling, math.exp(state[9])))
    return Goal("rate", target.excess), float(sink_velocity(target.excess, state[WATER], area))


def _fits(what: Symptom, off: float) -> bool:
    """Whether the lure, as it is known, is off the way it was seen to be."""
    if abs(off) < _SHOWS[what.goal]:
        return False
    return what.name not in _SIGNS or off * _SIGNS[what.name] > 0.0


def _contradicted(what: Symptom, now: After, sighting: Sighting, wanted: float) -> Finding:
    """Where all that is known says otherwise than what was seen."""
    if what.goal == "level" and sighting.pitch is not None:
        seen, asked = ("nose-up" if angle > 0.0 else "nose-down" for angle in (now.pitch.value, wanted))
        return watch(f"it was seen to lie {{pitch}} {seen}, and {{wanted}} {asked} is asked for: too near to that, or "
                     f"not too {what.name}", pitch=(abs(now.pitch.value), Measure.ANGLE),
                     wanted=(abs(wanted), Measure.ANGLE))  # fmt: skip
    if what.goal == "level":
        way = "nose-up" if now.pitch.value > 0.0 else "nose-down"
        words = f"by its weights it lies {{pitch}} {way}: say how far it was, --by \"15 deg\""
        return watch(words, pitch=(abs(now.pitch.value), Measure.ANGLE))
    if what.goal == "upright":
        return watch("by its weights it stands upright: say how far it leaned, right side down, --by \"4 deg\"")
    heavy = "heavy" if now.excess.value > 0.0 else "light"
    words = f"by its weights it is {{excess}} {heavy}, which is not too {'heavy' if _SIGNS[what.name] > 0 else 'light'}"
    return watch(f"{words} for what is asked: time a drop and say so, --by \"2 s/ft\"",
                 excess=(now.excess.size, Measure.MASS))  # fmt: skip


def _fixes(what: Symptom, bench: FixBench, rungs: Sequence[Rung], now: After, sighting: Sighting) -> Iterator[Fix]:
    """Every rung that the model can be asked, worked out."""
    for rung in rungs:
        trial = _TRIALS.get(rung.change)
        for proposal in trial(bench) if trial is not None else ():
            if proposal is not None:
                yield _fix(what, bench, rung, proposal, (now, sighting))


def _fix(what: Symptom, bench: FixBench, rung: Rung, made: Proposal, begun: tuple[After, Sighting]) -> Fix:
    now, sighting = begun
    then = after_of(bench.seen, made.design, made.lure, _pitch_spread(sighting))
    cures = bench.is_met(bench.seen.lies(made.lure))
    effects = side_effects(what.goal, now, then, made.design, is_undone=rung.is_undone)
    doubt = _doubt(then, bench.goal.wanted) if bench.goal.kind == "rate" and cures else ""
    return Fix(rung, made.what, cures, then, None, effects, doubt)


def _doubt(then: After, wanted: float) -> str:
    """What a lure that is to sink, or to rise, may do all the same."""
    if wanted > 0.0 and then.velocity.low <= 0.0:
        return "may still float"
    return "may still sink" if wanted < 0.0 and then.velocity.high >= 0.0 else ""
