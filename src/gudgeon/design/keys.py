"""What every key of a design file takes: a quantity with its likely units, one of some words, a number, a list."""

import types
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from gudgeon.design.model import Design
from gudgeon.design.table import Drawn, Table, mark_of, table_in, takes_list, written_keys
from gudgeon.units import Kind

Plain = Literal["quantity", "choice", "words", "whole number", "number", "yes or no", "list"]


@dataclass(frozen=True)
class Key:
    """One key of a table.

    name    : as it is written
    takes   : what sort of value
    kind    : of a quantity: "a length"; "" for anything else
    units   : of a quantity: those mostly written, commonest first
    choices : the words it may be, of a choice
    needed  : whether it must be given
    """

    name: str
    takes: Plain
    kind: str
    units: tuple[str, ...]
    choices: tuple[str, ...]
    needed: bool


@cache
def keys() -> Mapping[str, Mapping[str, Key]]:
    """Every key that takes a value, by its table and name; "" is the top of the file, "tub.stand_in" a table inside."""
    return {place: {key.name: key for key in found} for place, found in _tables(Design, "")}


def key_at(place: str) -> Key | None:
    """What a place of a file takes, "hook.2.weight"; None when there is no such key."""
    table, _, name = ".".join(step for step in place.split(".") if not step.isdecimal()).rpartition(".")
    return keys().get(table, {}).get(name)


def _tables(table: type[Table], place: str) -> Iterator[tuple[str, list[Key]]]:
    fields = written_keys(table)
    yield place, [_key(name, field) for name, field in fields.items() if table_in(field) is None]
    for name, field in fields.items():
        inner = table_in(field)
        if inner is not None:
            yield from _tables(inner, f"{place}.{name}" if place else name)


def _key(name: str, field: FieldInfo) -> Key:
    mark, kinds = mark_of(field), set(_kinds(field.annotation))
    choices = tuple(_choices(field.annotation))
    takes: Plain = "words"
    if takes_list(field) or isinstance(mark, Drawn):
        takes = "list"
    elif isinstance(mark, Kind):
        takes = "quantity"
    elif choices:
        takes = "choice"
    elif bool in kinds:
        takes = "yes or no"
    elif int in kinds:
        takes = "whole number"
    elif float in kinds:
        takes = "number"
    known = mark if isinstance(mark, Kind) else None
    return Key(name, takes, known.name if known else "", known.likely if known else (), choices, field.is_required())


def _kinds(annotation: Any) -> Iterator[type]:
    if get_origin(annotation) is Annotated:
        yield from _kinds(get_args(annotation)[0])
    elif get_origin(annotation) in (Union, types.UnionType):
        for part in get_args(annotation):
            yield from _kinds(part)
    elif isinstance(annotation, type):
        yield annotation


def _choices(annotation: Any) -> Iterator[str]:
    if get_origin(annotation) is Literal:
        yield from map(str, get_args(annotation))
    else:
        for part in get_args(annotation):
            yield from _choices(part)
