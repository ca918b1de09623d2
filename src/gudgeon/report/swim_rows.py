"""How a lure tows as rows: each speed, what changes would do, where the eye belongs, how deep it runs."""

import math
from collections.abc import Iterator
from dataclasses import replace

from gudgeon.answers.eye_places import EyePlaces
from gudgeon.answers.running import RunningDepths
from gudgeon.answers.swim_changes import SwimChange
from gudgeon.answers.swim_trust import TRUST
from gudgeon.answers.swum import SWIMS, AtSpeed, Growth, Swimming
from gudgeon.physics.spread import Estimate
from gudgeon.report.rows import Measure, Row, Section, Shop, row, spoken, tow_row, tow_speed, words_row

SMALL_PRINT = (
    "Estimate: right within a third. Trend: use it to compare two builds, not to predict one. Starts: the same lure "
    "set off differently. Still water, one steady speed; waves, current, the rod's bending and slack are left out. "
    "No beats or sweeps of jointed lures are published: count yours on slow-motion video. Beside a flow solution of "
    "one jointed lure, beats here are up to a third too quick on its middling grid and 1.2 to 2.2 times as quick as on "
    "its finest; sweeps are half to a third as wide; hooks take twice as much off the sweep, a fin slows the beat "
    "three times as much, and a lure locks to one side oftener. Why is not known: reckon with slower and wider."
)
_AS_GOOD = "as good as any tried"
_DOES = {"tracks": "tracks straight", "swims": "swims", "leans": "lies over", "locks": "locks to one side",
         "tumbles": "tumbles"}  # fmt: skip


def swim_sections(answer: Swimming, shop: Shop) -> tuple[Section, ...]:
    """Limits first, then a section for each speed, slowest first."""
    found = [Section("From slow to fast", tuple(_limits(answer, shop)))]
    for number, (one, growth) in enumerate(zip(answer.speeds, answer.growth, strict=True), start=1):
        found.append(Section(f"At {tow_speed(one.speed, shop)}", tuple(_speed(number, one, growth, shop))))
    return tuple(found)


def swim_headline(answer: Swimming, shop: Shop) -> str:
    """What it does, in a sentence with its numbers."""
    shown = answer.nearest(answer.shown.task.speed)
    if shown.beat is None or shown.tail_sweep is None:
        return f"{_DOES[shown.kind].capitalize()} at {tow_speed(shown.speed, shop)}, {_of(shown)}."
    beat, sweep = spoken(shown.beat, Measure.BEATS, shop), spoken(shown.tail_sweep, Measure.LENGTH, shop)
    words = f"Swims at {tow_speed(shown.speed, shop)}, {beat}, tail {sweep} side to side (trend)"
    if answer.blow_out is None:
        return f"{words}; upright to {tow_speed(answer.speeds[-1].speed, shop)}."
    limit = tow_speed(answer.blow_out.speed.value, shop)
    return f"{words}; {_DOES[answer.blow_out.how]} above about {limit} (trend)."


def change_sections(changes: tuple[SwimChange, ...], speed: float, shop: Shop) -> tuple[Section, ...]:
    """What would change the swim at one speed."""
    title = f"What would change it, at {tow_speed(speed, shop)}"
    if not changes:
        words = "nothing that was tried does more than the model is unsure of"
        return (Section(title, (words_row("swim.change.none", "changes", words, standing="trend"),)),)
    rows = (words_row(f"swim.change.{number}", change.words, _effect(change), standing="trend")
            for number, change in enumerate(changes, start=1))  # fmt: skip
    return (Section(title, tuple(rows)),)


def eye_sections(found: EyePlaces, shop: Shop) -> tuple[Section, ...]:
    """Where the tow eye keeps it upright longest."""
    best, own, roll = found.best, next(place for place in found.places if place.is_own), TRUST["roll"]
    rows = [
        _stood(row("swim.eye.middle", "middle of the side, fin and all, height", found.middle, Measure.LENGTH, shop),
               "computed"),
        _stood(row("swim.eye.station", "best place tried, from the nose", best.station, Measure.LENGTH, shop), "trend"),
        _stood(row("swim.eye.height", "best place tried, height", best.height, Measure.LENGTH, shop), "trend"),
        _stood(row("swim.eye.roll", "most roll there", roll.size(best.roll), Measure.ANGLE, shop), "trend"),
        _stood(row("swim.eye.own_roll", "most roll with yours", roll.size(own.roll), Measure.ANGLE, shop), "trend"),
        words_row("swim.eye.verdict", "yours", _AS_GOOD if found.as_good else "the best place rolls less"),
    ]
    return (Section("Tow eye", tuple(rows)),)


def depth_sections(found: RunningDepths, shop: Shop) -> tuple[Section, ...]:
    """How deep it runs, by speed and line."""
    stuff = found.stuff
    head = row("swim.line.diameter", f"line, {stuff.name}, {stuff.known_by}", stuff.diameter, Measure.WIRE, shop)
    weight = row("swim.depth.weight", "its weight in water (minus: floats)", found.weight, Measure.MASS, shop)
    rows = [head, _stood(weight, "computed")]
    speeds = list(dict.fromkeys(run.speed for run in found.runs))
    for number, run in enumerate(found.runs, start=1):
        if run.speed in speeds and run.down is not None:
            label = f"at {tow_speed(run.speed, shop)} lure and water draw it down with"
            place = 1 + len({other.speed for other in found.runs[: number - 1]})
            rows.append(_stood(row(f"swim.depth.down.{place}", label, run.down, Measure.PULL, shop), "estimate"))
            speeds.remove(run.speed)
        label = f"{spoken(run.line, Measure.DEPTH, shop)} of line at {tow_speed(run.speed, shop)}"
        if run.depth is None:
            rows.append(words_row(f"swim.depth.{number}", label, run.why, standing="estimate"))
        else:
            rows.append(_stood(_depth(f"swim.depth.{number}", label, run.depth, shop), "estimate"))
    return (Section("How deep it runs", tuple(rows)),)


def _depth(name: str, label: str, depth: Estimate, shop: Shop) -> Row:
    """A depth; one that may be none is told from the surface down."""
    made = row(name, label, depth, Measure.DEPTH, shop)
    if depth.low > 0.0:
        return made
    value, high = (spoken(end, Measure.DEPTH, shop) for end in (depth.value, depth.high))
    return replace(made, shown=f"about {value}, the surface to {high}" if depth.value else f"the surface to {high}")


def _limits(answer: Swimming, shop: Shop) -> Iterator[Row]:
    if answer.slowest is not None:
        yield _stood(row("swim.slowest", "begins to swim at", answer.slowest, Measure.TOW_SPEED, shop), "trend")
    elif answer.speeds[0].share(SWIMS) >= 0.5:
        words = f"already at {tow_speed(answer.speeds[0].speed, shop)}, the slowest towed"
        yield words_row("swim.slowest", "begins to swim at", words, standing="trend")
    elif answer.design.lip is not None:
        yield words_row("swim.slowest", "begins to swim at", "not told of a lip")
    else:
        yield words_row("swim.slowest", "begins to swim at", "no speed that was towed", standing="trend")
    blow = answer.blow_out
    if blow is None:
        words = f"stays upright to {tow_speed(answer.speeds[-1].speed, shop)}, the fastest towed"
        yield words_row("swim.blow_out", "blows out at", words, standing="trend")
    else:
        yield _stood(row("swim.blow_out", "blows out at", blow.speed, Measure.TOW_SPEED, shop), "trend")
        yield words_row("swim.blow_out.cause", "because", blow.cause, standing="trend")
    if answer.hook_margin is not None:
        words = f"{answer.hook_margin:g} times what they drag now"
        yield words_row("swim.hook_margin", "hooks and fittings that end the swim", words, standing="trend")


def _speed(number: int, one: AtSpeed, growth: Growth | None, shop: Shop) -> Iterator[Row]:
    name = f"swim.{number}"
    yield tow_row(f"{name}.speed", "speed", one.speed, shop)
    shares = ", ".join(f"{_DOES[kind]} in {round(share * one.starts)}" for kind, share in one.shares)
    yield words_row(f"{name}.does", f"of {one.starts} starts", shares, standing="trend")
    numbers: tuple[tuple[str, str, Estimate | None, Measure, str], ...] = (
        ("beat", "beat", one.beat, Measure.BEATS, TRUST["beat"].standing),
        ("tail_sweep", "tail, side to side", one.tail_sweep, Measure.LENGTH, TRUST["sweep"].standing),
        ("head_sweep", "nose, side to side", one.head_sweep, Measure.LENGTH, TRUST["sweep"].standing),
        ("roll", "rolls at most", one.roll, Measure.ANGLE, TRUST["roll"].standing),
        ("list", "lies over, mean", one.list_angle, Measure.ANGLE, TRUST["roll"].standing),
        ("pitch", "nose up, mean", one.pitch, Measure.ANGLE, TRUST["pitch"].standing),
        ("pull", "pull on the line", one.pull, Measure.PULL, _pull_standing(one)),
    )
    for part, label, value, measure, standing in numbers:
        if value is not None:
            yield _stood(row(f"{name}.{part}", label, value, measure, shop), standing)
    yield words_row(f"{name}.grows", "a small push", growth_words(growth), standing="trend")


def _pull_standing(one: AtSpeed) -> str:
    return TRUST["swimming pull" if one.beat is not None else "straight pull"].standing


def growth_words(growth: Growth | None) -> str:
    """What a small push on a straight tow does."""
    if growth is None:
        return "finds no straight tow to go back to: line, weight and water do not balance"
    if growth.rate <= 0.0:
        return "dies away"
    return f"doubles in {math.log(2.0) / growth.rate:.2g} s, as a {growth.way} {_of_what(growth.what)}"


def _of_what(what: str) -> str:
    """What grows, in a sentence."""
    ways = {"place along": "fore and aft", "place aside": "to one side", "depth": "up or down"}
    return ways.get(what) or ("of " if what.startswith(("joint", "roll", "pitch")) else "of the ") + what


def _stood(of: Row, standing: str) -> Row:
    """A row with how far it is to be trusted beside its number."""
    return replace(of, shown=f"{of.shown}, {standing}", standing=standing)


def _of(one: AtSpeed) -> str:
    return f"{round(one.shares[0][1] * one.starts)} of {one.starts} starts"


def _effect(change: SwimChange) -> str:
    if change.ends:
        return "ends the swim (trend)"
    told = [_grown(change.beat, "slower", "quicker", "beat"), _grown(change.sweep, "narrower", "wider", "sweep")]
    return f"{', '.join(words for words in told if words)} (trend)"


def _grown(share: Estimate | None, less: str, more: str, what: str) -> str:
    if share is None:
        return ""
    low, high = sorted((abs(share.low), abs(share.high)))
    return f"{what} {100.0 * low:.0f} to {100.0 * high:.0f} % {more if share.value > 0.0 else less}"
