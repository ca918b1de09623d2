"""What the log says was seen of a lure: its symptoms, what the maker meant it to do beside, and the numbers of them."""

import math
import re
from collections.abc import Iterator

from gudgeon.answers.as_seen import Sighting
from gudgeon.answers.mended import RATE_WITHIN
from gudgeon.answers.timed_rate import velocity_of
from gudgeon.design.model import Design, Water
from gudgeon.library.ladder import symptoms
from gudgeon.shop.entries import LureRecord
from gudgeon.shop.records import Attitude, TimedDrop, TowTest
from gudgeon.units import Reading

_TILT, _LIST = math.radians(5.0), math.radians(2.0)  # less is let be; common practice, no source
_SALT = 0.5  # g/kg: from there on water is not fresh


def sighting_of(record: LureRecord, design: Design) -> Sighting:
    """The latest that was seen of a lure; its drops are among what was measured of it already."""
    lay = [attitude for _, attitude in record.of(Attitude)]
    tows = [test for _, test in record.of(TowTest)]
    drops = [drop for _, drop in record.of(TimedDrop)]
    last = lay[-1] if lay else None
    water = _water(last or (drops[-1] if drops else None), design)
    return Sighting(pitch=last.pitch if last else None, leans=last.leans if last else None,
                    speed=tows[-1].speed.value if tows else None, water=water,
                    state=last.state if last else None)  # fmt: skip


def _water(seen: Attitude | TimedDrop | None, design: Design) -> Water | None:
    """The water it was seen in, where that was noted."""
    if seen is None or seen.temperature is None:
        return None
    salt = seen.salinity or Reading(0.0)
    kind = "fresh" if salt.value < _SALT else "sea"
    return design.water.model_copy(update={"kind": kind, "temperature": seen.temperature, "salinity": salt})


def symptoms_in(record: LureRecord, design: Design) -> tuple[str, ...]:
    """Every symptom that the latest of what was seen comes to, how it lies first, then how it sinks, then its tow."""
    return tuple(dict.fromkeys([*_lay(record, design), *_dropped(record, design), *_towed(record)]))


def _lay(record: LureRecord, design: Design) -> Iterator[str]:
    for _, seen in record.of(Attitude)[-1:]:
        off = seen.pitch.value - design.aim.attitude
        if abs(off) > _TILT:
            yield "nose-up" if off > 0.0 else "nose-down"
        if seen.leans is not None and abs(seen.leans.value) > _LIST:
            yield "leans"


def _dropped(record: LureRecord, design: Design) -> Iterator[str]:
    """By the rate asked for; a lure that hangs, or floats by a reserve, only by which way it goes."""
    for _, drop in record.of(TimedDrop)[-1:]:
        velocity, aim = velocity_of(drop).value, design.aim
        if aim.does == "floats" and velocity > 0.0:
            yield "sinks"
        elif aim.does != "floats" and velocity < 0.0:
            yield "floats"
        elif aim.rate is None:
            if aim.does == "hangs":
                yield "sinks fast"
        elif abs(abs(velocity) / aim.rate - 1.0) > RATE_WITHIN:
            ways = ("sinks fast", "sinks slow") if velocity > 0.0 else ("rides high", "rides low")
            yield ways[0] if abs(velocity) > aim.rate else ways[1]


def _towed(record: LureRecord) -> Iterator[str]:
    """What the words of the last tow say, in the ladder's own or other words for it."""
    for _, test in record.of(TowTest)[-1:]:
        said = " ".join(test.seen.lower().split())
        for one in symptoms():
            if any(re.search(rf"\b{re.escape(words)}\b", said) for words in (one.name, *one.also)):
                yield one.name
