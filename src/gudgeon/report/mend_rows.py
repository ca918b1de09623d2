"""Rows of what mends a lure: as it was seen, each change with what it leaves and does besides, the rest in words."""

import math
from collections.abc import Iterator

from gudgeon.answers.classing import Rate
from gudgeon.answers.mended import RATE_WITHIN, After, Fix, Mending, Rung, Trend
from gudgeon.physics.spread import Estimate, around, exactly
from gudgeon.report.laying import rate_rows, rate_words
from gudgeon.report.rows import Row, Section, Shop, row, spoken, tow_row, words_row
from gudgeon.report.sentences import said
from gudgeon.units import Measure, Reading

_LEANS = math.radians(0.5)  # a list that is told
_UPRIGHT = 0.03  # share of the margin
_DOES = {"helps": "helps", "harms": "makes it worse", "unsure": "cannot be told"}


def mend_headline(found: Mending, shop: Shop) -> str:
    """What was seen, and what to do first."""
    what = found.symptom.name[0].upper() + found.symptom.name[1:]
    best = found.best
    if best is not None:
        change = said(best.what, shop)
        return f"{what}{_how_far(found, shop)}: {change[0].lower()}{change[1:]}{_then(found, best, shop)}."
    if found.fixes:
        return f"{what}: nothing that was tried on the model mends it by itself."
    if not found.borne_out:
        return f"{what}: by what was seen, weighed and asked for it is not, or not by enough to mend."
    first = found.rest[0].words if found.rest else "nothing on the ladder can be worked out for this lure."
    return f"{what}: {first[0].lower()}{first[1:]}"


def _how_far(found: Mending, shop: Shop) -> str:
    now = found.now
    if found.symptom.goal == "level":
        return f", {spoken(abs(now.pitch.value), Measure.ANGLE, shop)}"
    if found.symptom.goal == "upright":
        return f", {spoken(abs(now.leans), Measure.ANGLE, shop)} to the {'right' if now.leans > 0.0 else 'left'}"
    return ""


def _then(found: Mending, best: Fix, shop: Shop) -> str:
    then = best.after
    if best.trend is not None:
        return "; by the trend of the model it helps"
    if found.symptom.goal == "rate":
        if best.doubt:
            return f"; it {best.doubt}: what is known of it does not tell"
        return f"; it then {rate_words(_rate(then), shop)}"
    lies = f"lies {_lies(then.pitch)}" if found.symptom.goal == "level" else "stands upright"
    speeds = [abs(one.velocity.value) for one in (then, found.now)]
    if then.velocity.value * found.now.velocity.value <= 0.0 or abs(speeds[0] / speeds[1] - 1.0) > RATE_WITHIN:
        pace = spoken(exactly(1.0 / speeds[0]), Measure.TIME_PER_FOOT, shop)
        return f"; it then {lies} and {'sinks' if then.velocity.value > 0.0 else 'rises'} at {pace}"
    return f"; it then {lies}, and {'sinks' if then.velocity.value > 0.0 else 'floats'} as before"


def _lies(pitch: Estimate) -> str:
    degrees = math.degrees(pitch.value)
    return "level" if abs(degrees) < 0.5 else f"{abs(degrees):.0f}° nose-{'up' if degrees > 0.0 else 'down'}"


def _rate(then: After) -> Rate:
    return Rate(then.velocity, then.words)


def mend_sections(found: Mending, shop: Shop) -> tuple[Section, ...]:
    """For people: as it was seen, the changes the best first, what helps nothing here, what the model was not asked."""
    parts = [Section("As it was seen", tuple(_seen(found, shop))),
             Section("By the model, all weighed up", tuple(_now(found, shop)))]  # fmt: skip
    parts = [part for part in parts if part.rows]
    for number, fix in enumerate(found.fixes, start=1):
        parts.append(Section(f"{number}. {_title(fix)}", tuple(_fix_rows(f"mend.{number}", fix, found.now, shop))))
    for title, name, rungs in _rungs(found):
        rows = [words_row(f"mend.{name}.{place}", rung.rung, rung.words) for place, rung in enumerate(rungs, start=1)]
        parts.append(Section(title, tuple(rows)))
    return tuple(parts)


def mend_rows(found: Mending, shop: Shop) -> tuple[Row, ...]:
    """For programs: the same rows, and what of them stands in the titles."""
    rows = [*_seen(found, shop), *_now(found, shop)]
    for number, fix in enumerate(found.fixes, start=1):
        name = f"mend.{number}"
        rows += [words_row(f"{name}.rung", "works on", fix.rung.rung),
                 words_row(f"{name}.mends", "mends it", _mends(fix)),
                 words_row(f"{name}.spoils", "spoils it otherwise", "yes" if fix.spoils else "no"),
                 words_row(f"{name}.undone", "can be undone", "yes" if fix.rung.is_undone else "no")]  # fmt: skip
        rows += _fix_rows(name, fix, found.now, shop)
    for _, name, rungs in _rungs(found):
        rows += [words_row(f"mend.{name}.{place}", rung.rung, rung.words) for place, rung in enumerate(rungs, start=1)]
    return tuple(rows)


def _rungs(found: Mending) -> Iterator[tuple[str, str, tuple[Rung, ...]]]:
    if found.idle:
        yield "Of no help here, by the model", "idle", found.idle
    if found.rest:
        yield "Not worked out; in this order" if found.fixes else "In this order", "rest", found.rest


def _seen(found: Mending, shop: Shop) -> Iterator[Row]:
    yield words_row("mend.symptom", "seen", found.symptom.name)
    yield words_row("mend.look", "look at first", found.symptom.look)
    if found.symptom.goal == "words":
        return
    yield from _asked(found, shop)
    for key, label, angle in (("pitch", "lay, nose-up is plus", found.seen.pitch),
                              ("leans", "leaned, right side down", found.seen.leans)):  # fmt: skip
        if angle is not None:
            yield row(f"mend.seen.{key}", label, _reading(angle), Measure.ANGLE, shop)
    rate = found.seen.rate
    if rate is not None and rate.value != 0.0:
        yield from rate_rows("mend.seen", Rate(_reading(rate), "hangs"), shop)[1:2]


def _reading(value: Reading) -> Estimate:
    return around(value.value, value.spread or 0.0)


def _now(found: Mending, shop: Shop) -> Iterator[Row]:
    if found.symptom.goal == "words":
        return
    now, seen = found.now, found.seen
    as_seen = ", as it was seen" if seen.pitch is not None else ""
    yield row("mend.now.pitch", f"nose up{as_seen}", now.pitch, Measure.ANGLE, shop)
    yield row("mend.now.leans", "leans, right side down", now.leans, Measure.ANGLE, shop)
    if seen.pitch is not None:
        yield row("mend.weights.pitch", "nose up, by its weights alone", found.by_weights.pitch, Measure.ANGLE, shop)
    if found.lean is not None:
        yield row("mend.lean.moment", "what leans it, to the right", found.lean.moment, Measure.MOMENT, shop)
        if found.lean.aside is not None:
            yield row("mend.lean.aside", "   all the lead so far aside, if it is that", found.lean.aside,
                      Measure.LENGTH, shop)  # fmt: skip
    yield from rate_rows("mend.now", _rate(now), shop)[1:2]
    yield words_row("mend.now.class", "trade word", now.words, standing="estimate")
    yield row("mend.now.excess", "heavy in water by (minus: light)", now.excess, Measure.MASS, shop)
    yield row("mend.now.mass", "weight in all", now.mass, Measure.MASS, shop)
    yield row("mend.now.upright", "buoyancy above weight, of the depth", now.upright, Measure.PART, shop)
    yield from _others("mend.now", now, shop)


def _asked(found: Mending, shop: Shop) -> Iterator[Row]:
    """What is wanted of it."""
    if found.wanted is None:
        return
    if found.symptom.goal == "rate":
        if found.wanted != 0.0:
            verb = "sinks" if found.wanted > 0.0 else "rises"
            yield row("mend.wanted.rate", f"wanted: {verb} at", 1.0 / abs(found.wanted), Measure.TIME_PER_FOOT, shop)
        else:
            yield words_row("mend.wanted.rate", "wanted", "hangs")
    else:
        yield row("mend.wanted.angle", "wanted: nose-up is plus" if found.symptom.goal == "level" else "wanted: leans",
                  found.wanted, Measure.ANGLE, shop)  # fmt: skip


def _title(fix: Fix) -> str:
    does = fix.rung.rung[0].upper() + fix.rung.rung[1:]
    if fix.trend is not None:
        return f"{does}: {_DOES[fix.trend.does]}, by the trend"
    mends = {"yes": "mends it", "perhaps": f"may mend it, and {fix.doubt}", "no": "does not mend it"}[_mends(fix)]
    return f"{does}: {mends}, and spoils it otherwise" if fix.cures and fix.spoils else f"{does}: {mends}"


def _mends(fix: Fix) -> str:
    if not fix.cures:
        return "no"
    return "perhaps" if fix.doubt else "yes"


def _fix_rows(name: str, fix: Fix, now: After, shop: Shop) -> Iterator[Row]:
    yield words_row(f"{name}.change", "change", said(fix.what, shop))
    if fix.trend is not None:
        yield from _trend_rows(name, fix.trend, shop)
    yield from _after(name, fix.after, now, shop)
    for place, effect in enumerate(fix.effects, start=1):
        yield words_row(f"{name}.effect.{place}", "besides", said(effect, shop))


def _trend_rows(name: str, trend: Trend, shop: Shop) -> Iterator[Row]:
    yield words_row(f"{name}.does", "what the tow says", _DOES[trend.does], standing="trend")
    yield tow_row(f"{name}.speed", "towed at", trend.speed, shop)
    yield row(f"{name}.as_wanted.before", "starts that do as wanted, as it is", trend.before, Measure.PART, shop,
              standing="trend")  # fmt: skip
    yield row(f"{name}.as_wanted", "starts that do as wanted, then", trend.after, Measure.PART, shop, standing="trend")
    for key, label, roll in (("roll.before", "rolls to a side, as it is", trend.roll_before),
                             ("roll", "rolls to a side, then", trend.roll_after)):  # fmt: skip
        if roll is not None:
            yield row(f"{name}.{key}", label, roll, Measure.ANGLE, shop, standing="trend")
        else:
            yield words_row(f"{name}.{key}", label, "right round", standing="trend")


def _after(name: str, then: After, now: After, shop: Shop) -> Iterator[Row]:
    """What a change leaves: of list and upright only what shows."""
    yield row(f"{name}.pitch", "nose up", then.pitch, Measure.ANGLE, shop)
    if abs(then.leans) > _LEANS or abs(now.leans) > _LEANS:
        yield row(f"{name}.leans", "leans, right side down", then.leans, Measure.ANGLE, shop)
    yield from rate_rows(name, _rate(then), shop)[1:2]
    yield row(f"{name}.net", "heavier in water by (minus: lighter)", then.excess.value - now.excess.value, Measure.MASS,
              shop)  # fmt: skip
    yield row(f"{name}.mass", "weight in all", then.mass, Measure.MASS, shop)
    if abs(then.upright.value - now.upright.value) > _UPRIGHT * abs(now.upright.value):
        yield row(f"{name}.upright", "buoyancy above weight, of the depth", then.upright, Measure.PART, shop)
    yield from _others(name, then, shop)


def _others(name: str, lure: After, shop: Shop) -> Iterator[Row]:
    for words, excess in lure.others:
        key = "fresh" if words == "fresh water" else "sea"
        yield row(f"{name}.{key}", f"heavy in {words} by (minus: light)", excess, Measure.MASS, shop)
