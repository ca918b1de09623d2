"""What the log is asked for, ready to be laid out: the card of a lure, entries in words and numbers, lists."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from gudgeon.physics.estimate import Estimate, around
from gudgeon.shop.columns import Field, fields_of
from gudgeon.shop.entries import Entry, LureLine, LureRecord
from gudgeon.shop.log import Log
from gudgeon.shop.photos import is_there
from gudgeon.shop.records import (
    KINDS,
    WHOLE,
    Answer,
    Attitude,
    Ballast,
    Change,
    Fitting,
    Jug,
    Lure,
    Note,
    Pattern,
    Photo,
    TimedDrop,
    TowTest,
    Weighing,
)
from gudgeon.units import (
    ANGLE,
    BEATS,
    DENSITY,
    DEPTH,
    LENGTH,
    MASS,
    PART,
    SALINITY,
    SPEED,
    STATION,
    TEMPERATURE,
    Kind,
    Measure,
    Reading,
)

MEASURES: dict[Kind, Measure] = {
    MASS: Measure.MASS, LENGTH: Measure.LENGTH, STATION: Measure.LENGTH, DEPTH: Measure.DEPTH,
    DENSITY: Measure.DENSITY, PART: Measure.PART, TEMPERATURE: Measure.TEMPERATURE, ANGLE: Measure.ANGLE,
    SPEED: Measure.TOW_SPEED, BEATS: Measure.BEATS,
}  # fmt: skip
"""Kind of quantity -> how each shop shows it; those left out are told in words."""


@dataclass(frozen=True)
class Said:
    """One field of an entry: its name, its value in SI or in words, and what the number is."""

    name: str
    value: Estimate | float | str
    measure: Measure


@dataclass(frozen=True)
class EntryLine:
    """One entry, for a list.

    corrects, corrected_by : entries it takes the place of, and that took its own; None where there is none
    """

    number: int
    kind: str
    lure: int | None
    done: str
    made: str
    remark: str
    corrects: int | None
    corrected_by: int | None
    struck: bool
    said: tuple[Said, ...]


@dataclass(frozen=True)
class LureCard:
    """Everything that stands about one lure, kind by kind, each with its entry's number.

    drops : with the velocity they come to [m/s], down positive
    photos : with the file each is in, or None where that is gone
    """

    number: int
    run: int
    pattern: str
    version: int
    stamp: str
    begun: str
    remark: str
    board: str
    weights: tuple[tuple[Entry, Weighing], ...]
    jugs: tuple[tuple[Entry, Jug], ...]
    ballast: tuple[tuple[Entry, Ballast], ...]
    fittings: tuple[tuple[Entry, Fitting], ...]
    drops: tuple[tuple[Entry, TimedDrop, Estimate], ...]
    attitudes: tuple[tuple[Entry, Attitude], ...]
    tows: tuple[tuple[Entry, TowTest], ...]
    changes: tuple[tuple[Entry, Change], ...]
    notes: tuple[tuple[Entry, Note], ...]
    photos: tuple[tuple[Entry, Photo, str | None], ...]
    answers: tuple[tuple[Entry, Answer], ...]


@dataclass(frozen=True)
class LureList:
    """Lures in a list.

    total : how many there are in all; None where only some were asked for
    more  : whether there may be more than are listed
    """

    lines: tuple[LureLine, ...]
    total: int | None
    more: bool


@dataclass(frozen=True)
class Found:
    """A stamp's pattern, and the lures built from it, by number."""

    entry: EntryLine
    pattern: str
    version: int
    stamp: str
    design: str
    lures: tuple[int, ...]


def lure_card(log: Log, number: int) -> LureCard:
    """The card of a lure; raises BadShop."""
    from gudgeon.answers.timed_rate import velocity_of  # brings the design's tables, which no list needs

    record = log.lure(number)
    return LureCard(
        number=number, run=record.lure.run, pattern=record.pattern.name, version=record.pattern.version,
        stamp=record.pattern.stamp, begun=record.entry.done, remark=record.entry.remark, board=_board(record),
        weights=record.of(Weighing), jugs=record.of(Jug), ballast=record.of(Ballast), fittings=record.of(Fitting),
        drops=tuple((entry, drop, velocity_of(drop)) for entry, drop in record.of(TimedDrop)),
        attitudes=record.of(Attitude), tows=record.of(TowTest), changes=record.of(Change), notes=record.of(Note),
        photos=tuple((entry, photo, _file(log.folder, photo)) for entry, photo in record.of(Photo)),
        answers=record.of(Answer),
    )  # fmt: skip


def entry_lines(entries: Sequence[Entry]) -> tuple[EntryLine, ...]:
    """Entries of any kind, ready to be listed."""
    return tuple(
        EntryLine(entry.number, entry.kind, entry.lure, entry.done, entry.made, entry.remark, entry.corrects,
                  entry.corrected_by, entry.struck, tuple(_said(entry)))
        for entry in entries
    )  # fmt: skip


def found_by_stamp(log: Log, stamp: str) -> tuple[Found, ...]:
    """The patterns whose design has a stamp, or one that begins so, with their lures."""
    found = []
    for entry in log.stamped(stamp):
        pattern = entry.what
        if isinstance(pattern, Pattern):
            lures = tuple(line.number for line in reversed(log.lures(pattern=pattern.name, limit=1000))
                          if line.version == pattern.version)  # fmt: skip
            found.append(Found(entry_lines([entry])[0], pattern.name, pattern.version, pattern.stamp, pattern.design,
                               lures))  # fmt: skip
    return tuple(found)


def _board(record: LureRecord) -> str:
    board = record.board
    return "" if board is None else f"{board.name}, {board.wood}"


def _file(folder: Path, photo: Photo) -> str | None:
    return photo.file if is_there(folder, photo) else None


def _said(entry: Entry) -> Iterator[Said]:
    """The fields of an entry that say something, in their order; references and long texts left out."""
    if entry.what is None:
        return
    if isinstance(entry.what, Lure):
        yield Said("number", f"{entry.what.number}", Measure.WORDS)
        yield Said("run", f"{entry.what.run}", Measure.WORDS)
        return
    for field in fields_of(KINDS[entry.kind]):
        value = getattr(entry.what, field.name)
        if value in (None, "", (), False) or (field.name == "piece" and value == WHOLE):
            continue
        if field.name not in ("design", "hash", "suffix", "told"):
            yield _field_said(field, value)


def _field_said(field: Field, value: Any) -> Said:
    name = field.name.replace("_", " ")
    measure = MEASURES.get(field.kind) if field.kind is not None else None
    measure = Measure.DEPTH if field.name == "distance" else measure  # of a drop: metres or feet
    if measure is not None and isinstance(value, Reading):
        return Said(name, around(value.value, value.spread) if value.spread else value.value, measure)
    if measure is not None and isinstance(value, float | int) and not isinstance(value, bool):
        return Said(name, float(value), measure)
    return Said(name, _words(field, value), Measure.WORDS)


def _words(field: Field, value: Any) -> str:
    if value is True:
        return "yes"
    if isinstance(value, Reading):
        spread = f" ± {value.spread:g}" if value.spread else ""
        return f"{value.value:g}{spread} {'g/kg' if field.kind is SALINITY else ''}".strip()
    if field.form == "quantities":
        return f"{', '.join(f'{one:g}' for one in value)} s"
    if field.form == "stand_ins":
        return ", ".join(f"{hook} {mass * 1e3:g} g" for hook, mass in value)
    return ", ".join(value) if isinstance(value, tuple) else str(value)
