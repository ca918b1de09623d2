"""The log as a table for a spreadsheet, and such a table taken in again: grams, millimetres, degrees.

Numbers come back as they went out: each is written with all the digits it takes, and turned into the shop's unit in
decimal arithmetic. Words that a spreadsheet would take for a formula get an apostrophe in front, which is taken off
again. Where a column has no unit in its name, its cells may carry their own: a maker's own list can be taken in.
"""

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Context, Decimal, InvalidOperation
from typing import Any

from gudgeon.errors import BadQuantity, BadShop, Fault
from gudgeon.shop.carrying import ABOUT, Row, Told
from gudgeon.shop.columns import SPREAD, Field, fields_of, from_words, kept
from gudgeon.shop.entry_checks import moment
from gudgeon.shop.records import KINDS, STEPS, StandIn
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
    TIME,
    Kind,
    Reading,
)

LARGEST_CELL = 2_000_000  # characters: a design's text stands in one
TRICKS = "=+-@\t\r\n＝＋－＠"
"""What a spreadsheet may take for the start of a formula."""
_ONE, _PI = Decimal(1), Decimal("3.14159265358979323846264338327950288")
_EXACT = Context(prec=60)
_UNITS: Mapping[Kind, tuple[str, Decimal, Decimal]] = {
    MASS: ("g", Decimal(1000), Decimal(0)), LENGTH: ("mm", Decimal(1000), Decimal(0)),
    STATION: ("mm", Decimal(1000), Decimal(0)), DEPTH: ("m", _ONE, Decimal(0)),
    DENSITY: ("g_cm3", Decimal("0.001"), Decimal(0)), PART: ("percent", Decimal(100), Decimal(0)),
    TEMPERATURE: ("C", _ONE, Decimal("-273.15")), SALINITY: ("ppt", _ONE, Decimal(0)),
    ANGLE: ("deg", 180 / _PI, Decimal(0)), SPEED: ("m_s", _ONE, Decimal(0)), BEATS: ("per_s", _ONE, Decimal(0)),
    TIME: ("s", _ONE, Decimal(0)),
}  # fmt: skip
"""Kind -> unit in the head of a column, and what a number in SI is multiplied by, then shifted by, to be in it."""


def column(name: str, kind: Kind | None) -> str:
    """The head of a field's column: its name, with the unit after it."""
    return name if kind is None else f"{name}_{_UNITS[kind][0]}"


def neutral(text: str) -> str:
    """Words as they can stand in a cell: what would begin a formula has an apostrophe in front."""
    return f"'{text}" if _is_trick(text) else text


def plain(text: str) -> str:
    """Words as they were before `neutral`."""
    return text[1:] if text.startswith("'") and _is_trick(text[1:]) else text


def _is_trick(text: str) -> bool:
    """Whether words begin, behind any apostrophes and spaces, with what may begin a formula."""
    return text.lstrip("' ")[:1] in tuple(TRICKS)


def in_unit(value: float, kind: Kind, *, difference: bool = False) -> str:
    """A number [SI] in its column's unit, with as many digits as it takes to come back the same."""
    _, factor, shift = _UNITS[kind]
    exact = _EXACT.add(_EXACT.multiply(Decimal(repr(value)), factor), Decimal(0) if difference else shift)
    for digits in (12, 15, 17, 19, 21):
        text = f"{Context(prec=digits).plus(exact).normalize(_EXACT):f}"
        if in_si(text, kind, difference=difference) == value:
            return text
    return f"{exact:f}"


def in_si(text: str, kind: Kind, *, difference: bool = False) -> float:
    """A number as it stands in a column, in SI; raises BadQuantity."""
    _, factor, shift = _UNITS[kind]
    try:
        given = Decimal(text.strip())
        if not given.is_finite() or abs(given) > Decimal("1e12"):
            raise InvalidOperation
        return kept(float(_EXACT.divide(_EXACT.subtract(given, Decimal(0) if difference else shift), factor)))
    except InvalidOperation:
        raise BadQuantity(f"'{text[:40]}' is not a number") from None


def as_csv(rows: Iterable[Row]) -> str:
    """Rows as a table; a column that no row fills is left out."""
    found = [_cells(row) for row in rows]
    used = {head for cells in found for head, cell in cells.items() if cell != ""}
    heads = [head for head in dict.fromkeys((*ABOUT, *_heads())) if head in used]
    out = io.StringIO()
    table = csv.DictWriter(out, heads, extrasaction="ignore", restval="")
    table.writeheader()
    table.writerows(found)
    return out.getvalue()


def _heads() -> list[str]:
    """The head of every column there can be, kind by kind."""
    found = ["number", "pattern", "version", "run", "board"]
    for record in KINDS.values():
        for part in fields_of(record):
            found.append(column(part.name, part.kind))
            found += [column(part.name + SPREAD, part.kind)] if part.form == "reading" else []
    return found


def _cells(row: Row) -> dict[str, str]:
    cells = {name: _cell(row[name]) for name in ABOUT}
    if row["struck"]:
        return cells
    if row["kind"] == "lure":
        return cells | {name: _cell(row[name]) for name in ("number", "pattern", "version", "run", "board")}
    for part in fields_of(KINDS[row["kind"]]):
        value = row[part.name]
        head = column(part.name, part.kind)
        if value is None or part.kind is None:
            cells[head] = _cell(value)
        elif part.form == "quantities":
            cells[head] = _cell([float(in_unit(one, part.kind)) for one in value])
        elif part.form == "stand_ins":
            cells[head] = _cell([[hook, in_unit(mass, part.kind)] for hook, mass in value])
        else:
            cells[head] = in_unit(value, part.kind)
        if part.form == "reading" and row[part.name + SPREAD] is not None and part.kind is not None:
            spread = in_unit(row[part.name + SPREAD], part.kind, difference=True)
            cells[column(part.name + SPREAD, part.kind)] = spread
    return cells


def _cell(value: Any) -> str:
    if value is None or value is False:
        return ""
    if isinstance(value, str):
        return neutral(value)
    if isinstance(value, list):
        return json.dumps(value, ensure_ascii=False)
    return "yes" if value is True else str(value)


def from_csv(text: str) -> list[Told]:
    """The rows of a table, each with what of it cannot be read; raises BadShop when the table itself cannot be."""
    old = csv.field_size_limit(LARGEST_CELL)
    try:
        table = csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
        lines = list(table)
    except csv.Error as error:
        words = f"cannot be read: {error}"
        if "field limit" in str(error):
            words = "has a cell of more than two million characters; is a quote opened and never closed?"
        raise _refused([Fault("the table", words)]) from None
    finally:
        csv.field_size_limit(old)
    heads = list(table.fieldnames or [])
    if "kind" not in heads:
        words = f"names no column 'kind'; each row says what it is: {', '.join(KINDS)}"
        raise _refused([Fault("the first line", words)])
    known = {*ABOUT, *_heads(), *(part.name for record in KINDS.values() for part in fields_of(record))}
    faults = [Fault("the first line", f"no column '{head}' is known") for head in heads if head not in known]
    if faults:
        raise _refused(faults)
    return [_told(f"row {number}", line) for number, line in enumerate(lines, start=2)]


def _told(place: str, line: Mapping[str, Any]) -> Told:
    faults: list[Fault] = []
    about, columns = _read(place, line, faults)
    return Told(place, about, columns, tuple(faults))


def _read(place: str, line: Mapping[str, Any], faults: list[Fault]) -> tuple[Row, Row]:
    """What a row says of its entry, and the columns of its record; what cannot be read joins the faults."""
    cells = {head: plain(cell) for head, cell in line.items() if head and isinstance(cell, str) and cell != ""}
    kind = cells.get("kind", "")
    if None in line or kind not in KINDS:
        strange = f"'{kind}' is no kind; one of {', '.join(KINDS)}"
        faults.append(Fault(place, "has more cells than the first line" if None in line else strange))
        return dict.fromkeys(ABOUT), {}
    about: Row = {name: cells.get(name) for name in ABOUT}
    about["struck"] = cells.get("struck") == "yes"
    for name in ("entry", "lure", "corrects"):
        about[name] = _number(f"{place}, {name}", cells.get(name), faults)
    faults += _slips(place, cells)
    if about["struck"]:
        return about, {}
    if kind == "lure":
        columns: Row = {name: cells.get(name) for name in ("pattern", "board")}
        columns |= {name: _number(f"{place}, {name}", cells.get(name), faults) for name in ("number", "version", "run")}
        faults += [Fault(f"{place}, {name}", "is missing") for name, value in columns.items()
                   if value is None and name != "board"]  # fmt: skip
        return about, columns
    columns = {}
    for part in fields_of(KINDS[kind]):
        try:
            columns |= _columns(part, cells)
        except BadQuantity as refusal:
            faults.append(Fault(f"{place}, {part.name}", refusal.heading))
    return about, columns


def _slips(place: str, cells: Mapping[str, str]) -> Iterator[Fault]:
    """A stage or a date that is none."""
    stage, done = cells.get("stage"), cells.get("done")
    if stage is not None and stage not in STEPS:
        yield Fault(f"{place}, stage", f"'{stage[:40]}' is no stage; one of {', '.join(STEPS)}")
    if done is not None:
        try:
            moment(done)
        except BadShop as refusal:
            yield Fault(f"{place}, done", refusal.faults[0].words)


def _columns(part: Field, cells: Mapping[str, str]) -> Row:
    """A field's columns by its cells, in the column's unit or with their own; raises BadQuantity."""
    head = column(part.name, part.kind)
    if part.kind is not None and head in cells:
        return _in_column(part, part.kind, cells)
    if part.name not in cells:
        if part.needed and part.form != "words":
            raise BadQuantity("is missing")
        return dict.fromkeys(part.columns, "" if part.needed else None)
    text = cells[part.name]
    if part.form == "names" and text.startswith("["):
        return {part.name: json.dumps(_list(text), ensure_ascii=False)}
    value = text if part.kind is None and part.form == "words" else from_words(part, text)
    if isinstance(value, Reading):
        return {part.name: value.value, part.name + SPREAD: value.spread}
    if isinstance(value, tuple):
        items = [list(one) if isinstance(one, StandIn) else one for one in value]
        return {part.name: json.dumps(items, ensure_ascii=False)}
    return {part.name: int(value) if isinstance(value, bool) else value}


def _in_column(part: Field, kind: Kind, cells: Mapping[str, str]) -> Row:
    text = cells[column(part.name, kind)]
    if part.form == "quantities":
        items = text.strip("[] ").split(",")
        return {part.name: json.dumps([in_si(item, kind) for item in items])}
    if part.form == "stand_ins":
        pairs = [(str(hook), in_si(str(mass), kind)) for hook, mass in _pairs(text)]
        return {part.name: json.dumps(pairs, ensure_ascii=False)}
    found: Row = {part.name: in_si(text, kind)}
    if part.form == "reading":
        spread = cells.get(column(part.name + SPREAD, kind))
        found[part.name + SPREAD] = None if spread is None else in_si(spread, kind, difference=True)
    return found


def _list(text: str) -> list[Any]:
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, list) or not all(isinstance(item, str | list) for item in found):
        raise BadQuantity(f"'{text[:40]}' is not a list")
    return found


def _pairs(text: str) -> list[Any]:
    found = _list(text)
    if not all(isinstance(pair, list) and len(pair) == 2 for pair in found):
        raise BadQuantity(f'\'{text[:40]}\' is not read; write it like [["front hook", "4.3"]]')
    return found


def _number(place: str, text: str | None, faults: list[Fault]) -> int | None:
    if text is None:
        return None
    if not text.strip().isdecimal() or len(text) > 15:
        faults.append(Fault(place, f"'{text[:40]}' is not a whole number"))
        return None
    return int(text)


def _refused(faults: Sequence[Fault]) -> BadShop:
    return BadShop("the table cannot be taken in, and nothing was entered", faults[:20])
