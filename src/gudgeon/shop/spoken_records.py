"""Records made of the maker's words field by field, as a page or a form sends them: of a lure, or of what it is of."""

from collections.abc import Mapping
from typing import Any

from gudgeon.errors import BadShop, Fault, Refusal
from gudgeon.shop.columns import Field, field_named, fields_of, from_words
from gudgeon.shop.log import Log
from gudgeon.shop.records import (
    Attitude,
    Ballast,
    Board,
    Change,
    Fitting,
    Jug,
    Note,
    OfLure,
    Record,
    Stock,
    TimedDrop,
    TowTest,
    Weighing,
)

SPOKEN: dict[str, type[OfLure]] = {
    "weighing": Weighing, "jug": Jug, "ballast": Ballast, "fitting": Fitting, "timed_drop": TimedDrop,
    "attitude": Attitude, "tow_test": TowTest, "change": Change, "note": Note,
}  # fmt: skip
"""Kind of entry -> its record, for those that words can make."""
MADE: dict[str, type[Board | Stock]] = {"board": Board, "stock": Stock}
"""The same of what lures are made of."""
_ENTER: dict[type[OfLure], Any] = {
    Weighing: Log.weigh, Jug: Log.jug, Ballast: Log.ballast, Fitting: Log.fit, TimedDrop: Log.drop,
    Attitude: Log.lies, TowTest: Log.tow, Change: Log.change, Note: Log.note,
}  # fmt: skip


def record_in_words(kind: str, given: Mapping[str, str]) -> OfLure:
    """A record of a kind; a field without words is left out.

    given  : field -> what was written, quantities with their units
    raises : BadShop with every fault
    """
    found: OfLure = _record(SPOKEN, kind, given)
    return found


def made_in_words(kind: str, given: Mapping[str, str]) -> Board | Stock:
    """The same of a board or stock."""
    found: Board | Stock = _record(MADE, kind, given)
    return found


def _record(known: Mapping[str, type[Any]], kind: str, given: Mapping[str, str]) -> Any:
    if kind not in known:
        raise _refused([Fault("the kind", f"'{kind[:40]}' cannot be entered so; there are {', '.join(known)}")])
    record = known[kind]
    faults: list[Fault] = []
    values = _values(record, {name: words for name, words in given.items() if words.strip()}, faults)
    faults += [Fault(_label(field), "left empty; write it down") for field in fields_of(record)
               if field.needed and not given.get(field.name, "").strip()]  # fmt: skip
    if faults:
        raise _refused(faults)
    return record(**values)


def changes_in_words(record: Record, given: Mapping[str, str]) -> dict[str, Any]:
    """Field -> what it is to be, of a record that is to be corrected; raises BadShop with every fault."""
    faults: list[Fault] = []
    values = _values(type(record), given, faults)
    if faults:
        raise _refused(faults)
    return values


def enter(log: Log, lure: int, record: OfLure, *, remark: str = "") -> int:
    """Enter a record that words made, through the log's own door for its kind; returns the entry's number."""
    number: int = _ENTER[type(record)](log, lure, record, remark=remark)
    return number


def _values(record: type[Record], given: Mapping[str, str], faults: list[Fault]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, words in given.items():
        place = name[:40]
        try:
            field = field_named(record, name, place)
            place = _label(field)
            found[name] = from_words(field, words)
        except Refusal as refusal:
            faults += refusal.faults or [Fault(place, refusal.heading)]
    return found


def _label(field: Field) -> str:
    return field.name.replace("_", " ")


def _refused(faults: list[Fault]) -> BadShop:
    return BadShop("nothing was entered", faults)
