"""What was seen on the water, and the change that mends it with the least harm: the ladder worked through on the model.

Every rung of the ladder is tried as it stands there, hooks first. What mends it and spoils nothing comes first; of
those, what has the fewest side effects, as the ladder goes. What the model cannot tell is told in the ladder's words.
"""

import math
from collections.abc import Callable, Iterator, Sequence

from gudgeon.answers.aiming import target_of
from gudgeon.answers.as_seen import AsSeen, Sighting, as_seen
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.fix_bench import FixBench, Goal, Proposal
from gudgeon.answers.hook_choices import HookChoice, choices
from gudgeon.answers.hook_fixes import HOOK_TRIALS
from gudgeon.answers.lead_fixes import LEAD_TRIALS
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
from gudgeon.units import Measure

_TRIALS = {**HOOK_TRIALS, **STICK_TRIALS, **LEAD_TRIALS}
_SIGNS = {"nose-down": -1.0, "nose-up": 1.0, "sinks fast": 1.0, "sinks slow": -1.0, "floats": -1.0, "sinks": 1.0,
          "rides low": 1.0, "rides high": -1.0}  # fmt: skip
_LEADED = ("stick-on", "lead")  # rungs that are worked on with lead
_SHOWS = {"level": math.radians(1.0), "upright": math.radians(0.5), "rate": 1e-5}


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
    rungs = ladder(what.name)
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
            findings.append(_contradicted(what, now))
    if now.velocity.low < 0.0 < now.velocity.high and what.goal in ("level", "upright"):
        findings.append(note("whether it floats or sinks is not known well: time a drop, and enter it"))
    if any(fix.rung.rung in _LEADED for fix in fixes):
        findings.append(note(cautions_for(["lead"])[0].words))
    done = {id(fix.rung) for fix in fixes}
    idle = tuple(rung for rung in rungs if rung.change and id(rung) not in done) if tried else ()
    rest = tuple(rung for rung in rungs if id(rung) not in done and rung not in idle)
    return Mending(seen.design.name, what, wanted, now, ranked(fixes), idle, rest, worst_first(findings))


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


def _contradicted(what: Symptom, now: After) -> Finding:
    """Where all that is known says otherwise than what was seen."""
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
    return Fix(rung, made.what, cures, then, None, effects)
