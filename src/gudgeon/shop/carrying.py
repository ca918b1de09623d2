"""The log as rows for other programs, and rows taken in again: JSON in SI units, CSV in grams and millimetres.

Rows name a lure by its number, a pattern by name and version, a board by name, so that they can be taken into another
log, and so that a maker's own list can be. They are taken in through the same door as anything else, in their order,
all or none.
"""

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from gudgeon.errors import BadShop, Fault, Refusal
from gudgeon.shop import entries as read
from gudgeon.shop.columns import SPREAD, Field, fields_of, record_of, row_of
from gudgeon.shop.entries import Entry
from gudgeon.shop.log import Log
from gudgeon.shop.records import (
    KINDS,
    STEPS,
    Answer,
    Attitude,
    Ballast,
    Board,
    Change,
    Fitting,
    Jug,
    Lure,
    Note,
    OfLure,
    Pattern,
    Photo,
    Record,
    Stock,
    TimedDrop,
    TowTest,
    Weighing,
)

FORMAT = 1
ABOUT = ("entry", "kind", "lure", "done", "made", "remark", "corrects", "struck")
"""What every row has besides the fields of its record."""
Row = dict[str, Any]
Asks = Callable[[Log, int, OfLure], Sequence[str]]
_LURE: dict[str, Any] = {"number": int, "pattern": str, "version": int, "run": int, "board": (str, type(None))}
_LISTS = ("names", "quantities", "stand_ins")
_TOLD = 20  # faults, or questions, told of one file
_UNITS = "kg, m, s, K, rad, m/s, kg/m3, g/kg; moisture as a share of one"


@dataclass(frozen=True)
class Told:
    """One row as it was read: where it stands in its file, what it says of the entry, and the record.

    columns : of the record, lure and pattern by name
    faults  : what of it cannot be read
    """

    place: str
    about: Mapping[str, Any]
    columns: Mapping[str, Any]
    faults: tuple[Fault, ...] = ()


@dataclass
class _Met:
    """What entries and versions of the file are called in the log they go into, and which could not be entered."""

    entries: dict[int, int] = field(default_factory=dict)
    versions: dict[tuple[str, int], int] = field(default_factory=dict)
    faulty_entries: set[int] = field(default_factory=set)
    faulty_lures: set[int] = field(default_factory=set)

    def is_faulty(self, told: Told) -> None:
        """Note a row that cannot be entered."""
        if told.about["entry"] is not None:
            self.faulty_entries.add(told.about["entry"])
        if told.about["kind"] == "lure" and isinstance(told.columns.get("number"), int):
            self.faulty_lures.add(told.columns["number"])

    def rests_on_a_faulty_row(self, told: Told) -> bool:
        """Whether a row corrects, or is about, one that cannot be entered; told once is enough."""
        return told.about["corrects"] in self.faulty_entries or told.about["lure"] in self.faulty_lures


def rows(log: Log, kinds: Sequence[str] = ()) -> Iterator[Row]:
    """Every entry as a plain row in SI, corrected ones too, in the order they were made.

    kinds : only those; all when none is named
    """
    patterns: dict[int, tuple[str, int]] = {}
    boards: dict[int, str] = {}
    for entry in read.every_entry(log.database):
        if isinstance(entry.what, Pattern):
            patterns[entry.root] = (entry.what.name, entry.what.version)
        if isinstance(entry.what, Board):
            boards[entry.root] = entry.what.name
        if not kinds or entry.kind in kinds:
            yield _row(entry, patterns, boards)


def _row(entry: Entry, patterns: Mapping[int, tuple[str, int]], boards: Mapping[int, str]) -> Row:
    found: Row = {"entry": entry.number, "kind": entry.kind, "lure": entry.lure, "done": entry.done,
                  "made": entry.made, "remark": entry.remark, "corrects": entry.corrects,
                  "struck": entry.struck}  # fmt: skip
    if entry.what is None:
        return found
    columns: Row = row_of(entry.what)
    for part in fields_of(type(entry.what)):
        if part.form in _LISTS and columns[part.name] is not None:
            columns[part.name] = json.loads(columns[part.name])
        if part.form == "flag":
            columns[part.name] = bool(columns[part.name])
    if "stage" in columns:
        columns["stage"] = getattr(entry.what, "stage", None)
    if isinstance(entry.what, Lure):
        name, version = patterns[entry.what.pattern]
        board = None if entry.what.board is None else boards[entry.what.board]
        columns = {"number": entry.what.number, "pattern": name, "version": version, "run": entry.what.run,
                   "board": board}  # fmt: skip
    return found | columns


def as_json(log: Log, kinds: Sequence[str] = ()) -> Iterator[str]:
    """The log, or only some kinds of entries, as one JSON object, line by line."""
    head = json.dumps({"gudgeon": "shop log", "format": FORMAT, "units": _UNITS}, indent=2)
    yield head.removesuffix("\n}") + ',\n  "entries": ['
    comma = ""
    for row in rows(log, kinds):
        yield f"{comma}\n    {json.dumps(row, ensure_ascii=False, allow_nan=False)}"
        comma = ","
    yield "\n  ]\n}\n"


def from_json(text: str) -> list[Told]:
    """The rows of a JSON file, each with what of it cannot be read; raises BadShop where it is no such file."""
    try:
        data = json.loads(text)
    except (ValueError, RecursionError):
        raise _refused([Fault("the file", "is no JSON, or it is cut short")]) from None
    if not isinstance(data, dict) or not isinstance(data.get("entries"), list):
        raise _refused([Fault("the file", "is not what gudgeon log export writes: it has no list of entries")])
    if data.get("format") != FORMAT:
        raise _refused([Fault("format", f"{data.get('format')!r} is not known here; bring gudgeon up to date")])
    return [_told(f"entry {number} of the file", row) for number, row in enumerate(data["entries"], start=1)]


def _told(place: str, row: Any) -> Told:
    kind = row.get("kind") if isinstance(row, dict) else None
    if not isinstance(kind, str) or kind not in KINDS:
        fault = Fault(place, f"has no kind that is known; one of {', '.join(KINDS)}")
        return Told(place, dict.fromkeys(ABOUT), {}, (fault,))
    faults: list[Fault] = []
    about = {name: row.get(name) for name in ABOUT}
    for name in ("entry", "lure", "corrects"):
        if about[name] is not None and not (isinstance(about[name], int) and _is_number(about[name])):
            faults.append(Fault(f"{place}, {name}", "is not a whole number"))
            about[name] = None
    for name in ("done", "made", "remark"):
        if not isinstance(about[name], str | None):
            faults.append(Fault(f"{place}, {name}", "is not words"))
    columns: Row = {}
    if kind == "lure" and not about["struck"]:
        faults += [Fault(f"{place}, {name}", "is missing, or is not of its kind") for name, of in _LURE.items()
                   if not isinstance(row.get(name), of)]  # fmt: skip
        columns = {name: row.get(name) for name in _LURE}
    elif not about["struck"]:
        for part in fields_of(KINDS[kind]):
            columns |= _json_columns(place, part, row, faults)
    return Told(place, about, columns, tuple(faults))


_TYPES: dict[str, Any] = {"reading": (float, int), "quantity": (float, int), "whole": int, "flag": bool, "words": str,
                          "names": list, "quantities": list, "stand_ins": list}  # fmt: skip
_LARGEST = 1e15  # what a number of a row may come to, so that none is too large to be kept


def _json_columns(place: str, part: Field, row: Row, faults: list[Fault]) -> Row:
    """A field's columns as they are in a JSON row."""
    value = row.get(part.name)
    if value is None:
        if part.needed:
            faults.append(Fault(f"{place}, {part.name}", "is missing"))
        return dict.fromkeys(part.columns)
    spread = row.get(part.name + SPREAD)
    fits = isinstance(value, _TYPES[part.form]) and (isinstance(value, bool) == (part.form == "flag"))
    if not fits or not (spread is None or _is_number(spread)) or not _items_fit(part, value):
        faults.append(Fault(f"{place}, {part.name}", "is not of its kind"))
        return dict.fromkeys(part.columns)
    if part.name == "stage":
        return {"stage": value}
    if part.form in _LISTS:
        return {part.name: json.dumps(value, ensure_ascii=False)}
    return dict(zip(part.columns, (value, spread), strict=False))


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < _LARGEST


def _items_fit(part: Field, value: Any) -> bool:
    if part.form in ("reading", "quantity", "whole"):
        return _is_number(value)
    if part.form == "names":
        return all(isinstance(item, str) for item in value)
    if part.form == "quantities":
        return all(_is_number(item) for item in value)
    if part.form == "stand_ins":
        return all(isinstance(item, list) and len(item) == 2 and isinstance(item[0], str) and _is_number(item[1])
                   for item in value)  # fmt: skip
    return True


def take_in(log: Log, told: Sequence[Told], ask: Asks | None = None) -> int:
    """Enter rows into a log, in their order, all or none; returns how many.

    ask    : what is odd about a record of a lure; asked of rows that no log has told, a maker's own
    raises : BadShop with every fault, each naming its row; or with every question
    """
    met, faults, odd = _Met(), list[Fault](), list[Fault]()
    with log.together():
        for one in told:
            faults += one.faults
            if met.rests_on_a_faulty_row(one):
                continue
            try:
                if one.faults:
                    met.is_faulty(one)
                    _about_a_lure(log, one)
                    continue
                odd += _questions(log, one, met, ask)
                number = _entered(log, one, met)
            except Refusal as refusal:
                met.is_faulty(one)
                words = "; ".join([fault.words for fault in refusal.faults] or [refusal.heading])
                faults.append(Fault(one.place, words))
                continue
            if one.about["entry"] is not None:
                met.entries[one.about["entry"]] = number
        if faults:
            raise _refused(faults)
        if odd:
            sure = Fault("--sure", "enters all of them as they stand")
            raise BadShop("questioned, and nothing was entered", [*odd[:_TOLD], sure])
    return len(told)


def _about_a_lure(log: Log, told: Told) -> None:
    """Nothing, unless the lure a row is about is not there; raises BadShop."""
    if told.about["lure"] is not None:
        log.lure_root(told.about["lure"])


def _questions(log: Log, told: Told, met: _Met, ask: Asks | None) -> Sequence[Fault]:
    """What is odd about a row; raises Refusal when it cannot be entered at all."""
    lure = told.about["lure"]
    if ask is None or lure is None or told.about["made"] is not None or told.about["corrects"] is not None:
        return ()
    record = _record(log, told, met)
    return [Fault(told.place, words) for words in ask(log, lure, record)] if isinstance(record, OfLure) else ()


def _entered(log: Log, told: Told, met: _Met) -> int:
    about = told.about
    if about["made"] is None:
        return _written(log, told, met)
    with log.as_entered(about["made"]):
        return _written(log, told, met)


def _written(log: Log, told: Told, met: _Met) -> int:
    about, done = told.about, told.about["done"]
    remark = about["remark"] or ""
    if about["corrects"] is not None:
        old = met.entries.get(about["corrects"])
        if old is None:
            raise _refused([Fault(told.place, f"corrects entry {about['corrects']}, which is not in the file")])
        if about["struck"]:
            return log.strike(old, remark, done=done)
        return log.correct(old, vars(_record(log, told, met)), remark, done=done)
    record = _record(log, told, met)
    if isinstance(record, Board):
        return log.add_board(record, done=done, remark=remark)
    if isinstance(record, Stock):
        return log.add_stock(record, done=done, remark=remark)
    if isinstance(record, Pattern):
        made = log.add_pattern(record.design, name=record.name, done=done, remark=remark)
        met.versions[record.name, record.version] = made.version
        return log.pattern_root(made.name, made.version)
    if isinstance(record, Lure):
        version, board = met.versions.get((told.columns["pattern"], told.columns["version"]),
                                          told.columns["version"]), told.columns["board"]  # fmt: skip
        log.add_lures(told.columns["pattern"], version=version, board=board, run=record.run, number=record.number,
                      done=done, remark=remark)  # fmt: skip
        return log.lure_root(record.number)
    if about["lure"] is None:
        raise _refused([Fault(told.place, "does not say which lure it is about")])
    doors: dict[type[Record], Callable[..., int]] = {
        Weighing: log.weigh, Jug: log.jug, Ballast: log.ballast, Fitting: log.fit, TimedDrop: log.drop,
        Attitude: log.lies, TowTest: log.tow, Change: log.change, Note: log.note, Photo: log.enter_as_kept,
        Answer: log.keep,
    }  # fmt: skip
    return doors[type(record)](about["lure"], record, done=done, remark=remark)


def _record(log: Log, told: Told, met: _Met) -> Record:
    kind = told.about["kind"]
    if kind == "lure":
        name, version = told.columns["pattern"], told.columns["version"]
        pattern = log.pattern_root(name, met.versions.get((name, version), version))
        board = None if told.columns["board"] is None else log.board_root(told.columns["board"])
        return Lure(told.columns["number"], pattern, told.columns["run"], board)
    columns = dict(told.columns)
    if "stage" in columns:
        if columns["stage"] not in STEPS:
            raise _refused([Fault(told.place, f"'{columns['stage']}' is no stage; one of {', '.join(STEPS)}")])
        columns["stage"] = STEPS[columns["stage"]]
    for part in fields_of(KINDS[kind]):
        if columns[part.name] is None and not part.needed and part.form in ("words", "flag", "stand_ins"):
            usual = getattr(KINDS[kind], part.name)  # what the record has where nothing is said
            columns[part.name] = json.dumps(usual) if part.form == "stand_ins" else usual
    return record_of(KINDS[kind], columns)


def _refused(faults: Sequence[Fault]) -> BadShop:
    more = len(faults) - _TOLD
    rest = [Fault("after these", f"{more} more")] if more > 0 else []
    return BadShop("the file cannot be taken in, and nothing was entered", [*faults[:_TOLD], *rest])
