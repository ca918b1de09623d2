"""The table reader's complaints, and a TOML reader's, in words for the maker."""

import re
from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import Any, Literal, get_args, get_origin

from pydantic import ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from gudgeon.design.lines import Path
from gudgeon.design.model import Design
from gudgeon.design.table import Drawn, Table, listed, mark_of, rows, shown, table_in, takes_list, written_keys
from gudgeon.units import Kind

Complaint = tuple[Path, str]


def nearest(word: str, known: list[str]) -> str:
    """The known words nearest to one that is not known, as an offer; else all of them."""
    known = list(dict.fromkeys(known))
    close = get_close_matches(word.lower(), known, n=3, cutoff=0.6)
    if close:
        return f"nearest: {listed(close)}"
    return f"known here: {listed(known, 'and')}" if known else "there are none here"


def _field(path: Path) -> FieldInfo | None:
    """The field of the design that a path leads to, list places passed over."""
    table: type[Table] | None = Design
    field: FieldInfo | None = None
    for key in (step for step in path if isinstance(step, str)):
        field = written_keys(table).get(key) if table else None
        table = table_in(field) if field else None
    return field


def _table(path: Path) -> type[Table]:
    """The table a path to one of its keys lies in."""
    field = _field(path[:-1])
    return (table_in(field) if field else None) or Design


def _choices(annotation: Any) -> list[str]:
    if get_origin(annotation) is Literal:
        return [str(choice) for choice in get_args(annotation)]
    return next((found for part in get_args(annotation) if (found := _choices(part))), [])


def _header(path: Path, many: bool) -> str:
    name = ".".join(str(step) for step in path if isinstance(step, str))
    return f"[[{name}]]" if many else f"[{name}]"


def _missing(path: Path) -> str:
    field, key = _field(path), path[-1]
    if field is None:
        return "is missing"
    mark = mark_of(field)
    if isinstance(mark, Drawn):
        return f'is missing; give points along the length: {key} = ["0 mm: 0 mm", "40 mm: 12 mm"]'
    if isinstance(mark, Kind):
        return f"is missing; give {mark.name} with its unit, in quotes: {listed(mark.likely)}"
    if table_in(field) is not None:
        return f"the table {_header(path, takes_list(field))} is missing"
    if choices := _choices(field.annotation):
        return f"is missing; choose {listed([repr(choice) for choice in choices])}"
    return f'is missing; give it in quotes: {key} = "..."'


def _unknown(path: Path) -> str:
    key, known = str(path[-1]), list(written_keys(_table(path)))
    if get_close_matches(key.lower(), known, n=1, cutoff=0.6):
        return f"is not a key gudgeon knows; {nearest(key, known)}"
    if len(path) > 1 and key in written_keys(Design):
        kept = "at the top of the file, before the first [table]"
        return f"does not belong in this table; {key} stands {kept}"
    homes = [_header(row, many) for row, many, keys in _homes() if key in keys]
    if homes:
        return f"does not belong here; {key} stands in {listed(homes)}"
    return f"is not a key gudgeon knows; {nearest(key, known)}"


def _homes() -> Iterator[tuple[Path, bool, list[str]]]:
    """The tables of a design: path, whether it is a list of them, keys."""

    def walk(table: type[Table], path: Path) -> Iterator[tuple[Path, bool, list[str]]]:
        for key, field in written_keys(table).items():
            if inner := table_in(field):
                yield (*path, key), takes_list(field), list(written_keys(inner))
                yield from walk(inner, (*path, key))

    return walk(Design, ())


def _wrong_shape(path: Path, given: object) -> str:
    """A list, table or plain value where another of them belongs."""
    field = _field(path)
    if field is not None and table_in(field) is not None:
        many = takes_list(field) and not isinstance(path[-1], int)
        if isinstance(given, list | tuple) and not many:
            return f"is one table; write {_header(path, False)} once, in single brackets"
        if isinstance(given, Mapping) and many:
            return f"is a list of tables; write {_header(path, True)}, in double brackets"
        return f"{shown(given)} is not a table; write {_header(path, takes_list(field))} with its keys under it"
    if field is not None and takes_list(field) and not isinstance(path[-1], int):
        return f'{shown(given)} is not a list; write ["...", "..."], in square brackets'
    return f'{shown(given)} is not words; write it in quotes: "..."'


def _bound(kind: str, context: Mapping[str, Any]) -> str:
    says = {"greater_than": ("more than", "gt"), "greater_than_equal": ("at least", "ge"),
            "less_than": ("less than", "lt"), "less_than_equal": ("at most", "le")}  # fmt: skip
    words, key = says[kind]
    return f"must be {words} {context[key]:g}"


def _words(error: ErrorDetails, path: Path) -> str:
    kind, given, context = error["type"], error["input"], error.get("ctx", {})
    if kind == "missing":
        return _missing(path)
    if kind == "extra_forbidden":
        return _unknown(path)
    if kind == "literal_error":
        field = _field(path)
        choices = _choices(field.annotation) if field else []
        offer = nearest(given, choices) if isinstance(given, str) and len(choices) > 4 else f"choose {listed(choices)}"
        return f"{shown(given)} is not one of them; {offer}"
    if kind == "value_error":
        return str(context["error"])
    if kind in ("greater_than", "greater_than_equal", "less_than", "less_than_equal"):
        return f"{shown(given)} {_bound(kind, context)}"
    if kind.startswith("int_"):
        return f"{shown(given)} is not a whole number"
    if kind.startswith("float_") or kind == "finite_number":
        return f"{shown(given)} is not a number; write it plain, without quotes or unit"
    if kind.startswith("bool_"):
        return f"{shown(given)} is not true or false; write true or false, without quotes"
    return _wrong_shape(path, given)


def complaints(error: ValidationError) -> list[Complaint]:
    """Everything the tables complain of: where, and what would do."""
    found: list[Complaint] = []
    for detail in error.errors(include_url=False):
        path: Path = tuple(detail["loc"])
        if detail["type"] == "slips":
            for slip in detail["ctx"]["slips"]:
                found.append((path if slip.item is None else (*path, slip.item), slip.words))
        else:
            found.append((path, _words(detail, path)))
    return found


def unmet(data: Mapping[str, Any]) -> list[Complaint]:
    """What single tables lack or have too much of, also where another key of theirs cannot be read."""
    return [(row.path, words) for row in rows(Design, data) for words in row.table.unmet(row.raw)]


_FIGURE_AND_UNIT = re.compile(r"=\s*\[?\s*[-+]?[\d./ ]*\d\s*([^\d\s,\]#\"'.]+)")


def toml_slip(complaint: str, line: str) -> str:
    """A TOML reader's complaint about a line, as advice.

    complaint : the reader's own words
    line      : the line it stopped at
    """
    code = line.split("#")[0]
    if "twice" in complaint or "overwrite" in complaint or "Duplicate" in complaint or "mutate" in complaint:
        header = code.strip().startswith("[")
        return ("this table stands in the file already; a second one of its kind takes double brackets, [[hook]]"
                if header else "this key stands in its table already; keep one")  # fmt: skip
    if any(quote in code for quote in "“”„´‘’"):
        return 'the quotes are not plain ones; write " at both ends'
    if _FIGURE_AND_UNIT.search(code):
        return 'a number with its unit goes between quotes: "12 mm"'
    if "Expected '='" in complaint:
        return 'a key needs an equals sign after it: key = "..."'
    if "declaration" in complaint:
        return "a table's name stands alone on its line, in brackets: [wood] or [[hook]]"
    if code.count('"') % 2:
        return 'a quote is missing: text and quantities stand between two of them, "..."'
    if re.search(r"=\s*[^\s\[{\"'\d+-]", code):
        return 'words go between quotes: "..."'
    if re.search(r"[\d.]\s*,\s*\d", code) and "[" not in code:
        return "write a decimal point, not a comma, and the quantity between quotes"
    if re.search(r"=\s*$", code):
        return 'nothing stands after the equals sign; write a value: "..."'
    if "\\" in code:
        return "a backslash cannot stand alone between double quotes; leave it out or write \\\\"
    return "this line cannot be read; check its quotes, brackets and commas, and those of the line above"
