"""Records to columns and back, by what the annotation of each field says; and a field read from the maker's words."""

import json
import re
import types
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields
from typing import Annotated, Any, TypeVar, Union, get_args, get_origin, get_type_hints

from gudgeon.errors import BadQuantity, BadShop, Fault
from gudgeon.shop.records import KIND_OF, KINDS, STEPS, Record, StandIn
from gudgeon.units import MASS, Kind, Reading, number, read, read_reading

SPREAD = "_spread"
SCALE = 1e-4
"""[kg] half-width of a weight whose maker told none, as a design's uncertainty has it."""
_FIGURES = re.compile(r"(\d+/([1-9]\d*)|\d*[.,]?(\d*))\s*(oz|ounces?|lbs?|grains?|gr)\s*$", re.IGNORECASE)
Value = str | int | float | None
Made = TypeVar("Made", bound=Record)
_STAGES = {step: stage for stage, step in STEPS.items()}


@dataclass(frozen=True)
class Field:
    """One field of a record.

    form   : reading, quantity, quantities, whole, flag, words, names or stand_ins
    kind   : of the quantity; None where it is none
    needed : whether it must be given
    """

    name: str
    form: str
    kind: Kind | None
    needed: bool

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns it takes; a stage stands with the entry."""
        return (self.name, self.name + SPREAD) if self.form == "reading" else (self.name,)


_FORMS: dict[Any, str] = {Reading: "reading", float: "quantity", int: "whole", bool: "flag", str: "words"}


def _form(annotation: Any) -> str:
    """What a field holds; `| None` makes no difference."""
    parts = [part for part in get_args(annotation) if part is not types.NoneType]
    if get_origin(annotation) in (Union, types.UnionType):
        return _form(parts[0])
    if get_origin(annotation) is tuple:
        return {float: "quantities", StandIn: "stand_ins"}.get(parts[0], "names")
    return _FORMS[annotation]


def _fields(record: type[Record]) -> tuple[Field, ...]:
    hints = get_type_hints(record, include_extras=True)
    found = []
    for field in fields(record):
        hint, kind = hints[field.name], None
        if get_origin(hint) is Annotated:
            hint, kind = get_args(hint)[:2]
        found.append(Field(field.name, _form(hint), kind, field.default is MISSING))
    return tuple(found)


_FIELDS: dict[type[Any], tuple[Field, ...]] = {record: _fields(record) for record in KINDS.values()}


def fields_of(record: type[Any]) -> tuple[Field, ...]:
    """The fields of a kind of record, in their order."""
    return _FIELDS[record]


def kept(value: float) -> float:
    """A number as it is kept: to fifteen figures, so that 48.2 g is 0.0482 kg and not a hair more."""
    return float(f"{value:.15g}")


def _number(value: float | None) -> float | None:
    return None if value is None else kept(value)


def row_of(record: Record) -> dict[str, Value]:
    """A record as the columns of its table; its stage as the number of the step."""
    found: dict[str, Value] = {}
    for field in fields_of(type(record)):
        value = getattr(record, field.name)
        if field.form == "reading":
            found[field.name] = _number(value.value) if value else None
            found[field.name + SPREAD] = _number(value.spread) if value else None
        elif field.form == "quantity":
            found[field.name] = _number(value)
        elif field.form == "quantities":
            found[field.name] = json.dumps([kept(one) for one in value])
        elif field.form == "stand_ins":
            found[field.name] = json.dumps([(hook, kept(mass)) for hook, mass in value], ensure_ascii=False)
        elif field.form == "names":
            found[field.name] = None if value is None else json.dumps(value, ensure_ascii=False)
        elif field.form == "flag":
            found[field.name] = int(value)
        else:
            found[field.name] = STEPS[value] if field.name == "stage" else value
    return found


def record_of(kind: type[Made], row: Mapping[str, Any]) -> Made:
    """The record that columns hold."""
    given = {field.name: _value(field, row) for field in fields_of(kind)}
    return kind(**given)


def _value(field: Field, row: Mapping[str, Any]) -> Any:
    value = row[field.name]
    if value is None:
        return None
    if field.form == "reading":
        return Reading(value, row[field.name + SPREAD])
    if field.form == "stand_ins":
        return tuple(StandIn(hook, mass) for hook, mass in json.loads(value))
    if field.form in ("names", "quantities"):
        return tuple(json.loads(value))
    if field.form == "flag":
        return bool(value)
    return _STAGES[value] if field.name == "stage" else value


def field_named(record: type[Record], name: str, place: str) -> Field:
    """The field of a kind of record by its name; raises BadShop with the names there are."""
    known = {field.name: field for field in fields_of(record)}
    if name not in known:
        kind = KIND_OF[record].replace("_", " ")
        raise BadShop("this cannot be read", [Fault(place, f"a {kind} has no '{name}'; it has {', '.join(known)}")])
    return known[name]


def from_words(field: Field, words: str) -> Any:
    """A field's value from what the maker wrote; nothing written empties a field that may be empty.

    raises : BadQuantity
    """
    words = words.strip()
    if not words and field.form not in ("words", "names"):
        if field.needed:
            raise BadQuantity(f"{field.name} cannot be left empty")
        return None
    if field.form == "names":
        return tuple(part.strip() for part in words.split(",") if part.strip())
    if field.form == "flag":
        return _yes_or_no(words)
    if field.form == "whole":
        return whole(words)
    if field.form == "stand_ins":
        return tuple(stand_in(part) for part in words.split(";"))
    if field.kind is None:
        return words
    if field.form == "quantities":
        return tuple(read(part, field.kind) for part in _units_shared(words.split(",")))
    if field.form == "reading" and field.kind is MASS:
        return weight_as_read(words)
    return read_reading(words, field.kind) if field.form == "reading" else read(words, field.kind)


def weight_as_read(words: str) -> Reading:
    """A weight; one in ounces or the like with the half-width that its figures leave, where no scale is so coarse.

    raises : BadQuantity
    """
    found = read_reading(words, MASS)
    last = _FIGURES.search(words)
    if found.spread is not None or last is None:
        return found
    fraction, decimals, unit = last.group(2), last.group(3) or "", last.group(4)
    share = 1.0 / int(fraction) if fraction else 10.0 ** -len(decimals)
    half = 0.5 * share * read(f"1 {unit}", MASS)
    return Reading(found.value, half) if half > SCALE else found


def _units_shared(parts: list[str]) -> list[str]:
    """Each part with its own unit, or the last one's where it has none: "12.4, 12.1, 12.6 s"."""
    unit = re.search(r"[A-Za-z].*$", parts[-1])
    return [part if unit is None or re.search(r"[A-Za-z]", part) else f"{part} {unit.group()}" for part in parts]


def whole(words: str) -> int:
    """A whole number; raises BadQuantity."""
    value = number(words)
    if value != int(value):
        raise BadQuantity(f"'{words}' is not a whole number")
    return int(value)


def stand_in(words: str) -> StandIn:
    """ "front hook, 4.3 g": a weight hung in place of a hook; raises BadQuantity."""
    hook, comma, mass = words.rpartition(",")
    if not comma or not hook.strip():
        raise BadQuantity(f"'{words}' is not read; write the hook, a comma, then the weight: front hook, 4.3 g")
    return StandIn(hook.strip(), read(mass, MASS))


def _yes_or_no(words: str) -> bool:
    if words.lower() not in ("yes", "no", "true", "false", "1", "0"):
        raise BadQuantity(f"'{words}': say yes or no")
    return words.lower() in ("yes", "true", "1")
