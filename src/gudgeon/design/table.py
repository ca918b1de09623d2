"""How a table of the design file is read: words with units to SI, by the kind that each field's annotation carries."""

import types
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Annotated, Any, NamedTuple, Union, get_args, get_origin

from pydantic import BaseModel, ConfigDict, ValidationInfo, field_validator, model_validator
from pydantic.fields import FieldInfo
from pydantic_core import PydanticCustomError

from gudgeon.errors import BadQuantity
from gudgeon.units import (
    ANGLE,
    DENSITY,
    LENGTH,
    MASS,
    OFFSET,
    PART,
    RATE,
    SALINITY,
    STATION,
    TEMPERATURE,
    VOLUME,
    Kind,
    Reading,
    number,
    read,
    read_reading,
)

LONGEST_QUANTITY = 60  # characters; no quantity a person writes is longer


Weighed = Annotated[Reading, MASS]
KnownAngle = Annotated[Reading, ANGLE]
KnownDensity = Annotated[Reading, DENSITY]
KnownLength = Annotated[Reading, LENGTH]
KnownVolume = Annotated[Reading, VOLUME]
KnownPart = Annotated[Reading, PART]
KnownRate = Annotated[Reading, RATE]
KnownTemperature = Annotated[Reading, TEMPERATURE]
KnownSalinity = Annotated[Reading, SALINITY]


class Point(NamedTuple):
    """One drawn point: how far aft of the nose [m], and how far out from the centre line there [m]."""

    station: float
    out: float


class Drawn(NamedTuple):
    """Marks a field as points along the length; `out` is the kind of what is read at each, None for a plain number."""

    out: Kind | None


Points = Annotated[tuple[Point, ...], Drawn(OFFSET)]
Fullness = Annotated[tuple[Point, ...], Drawn(None)]


class Slip(NamedTuple):
    """What is wrong with a value: the item of its list, counted from 0, or None for the whole; and the words."""

    item: int | None
    words: str


class BadValue(ValueError):
    """A value that cannot be read, with all that is wrong with it."""

    def __init__(self, slips: Sequence[Slip]) -> None:
        super().__init__("; ".join(slip.words for slip in slips))
        self.slips = tuple(slips)


def _bad(words: str) -> BadValue:
    return BadValue([Slip(None, words)])


def listed(words: Sequence[str], last: str = "or") -> str:
    """A list as it is said: "mm", "mm or in", "g, oz or lb"."""
    return f" {last} ".join(filter(None, [", ".join(words[:-1]), words[-1]]))


def _marks(annotation: Any) -> Iterator[Kind | Drawn]:
    """The quantity marks inside an annotation, also those behind `| None` or inside a tuple."""
    if get_origin(annotation) is Annotated:
        base, *extra = get_args(annotation)
        yield from (mark for mark in extra if isinstance(mark, Kind | Drawn))
        yield from _marks(base)
    elif get_origin(annotation) in (Union, types.UnionType, tuple):
        for part in get_args(annotation):
            yield from _marks(part)


def _within(annotation: Any, wanted: Any) -> bool:
    if annotation is wanted or get_origin(annotation) is wanted:
        return True
    return any(_within(part, wanted) for part in get_args(annotation))


@cache
def mark_of(field: FieldInfo) -> Kind | Drawn | None:
    """The kind of quantity a field holds; None for words, whole numbers, choices and tables."""
    own = next((mark for mark in field.metadata if isinstance(mark, Kind | Drawn)), None)
    return own or next(_marks(field.annotation), None)


@cache
def takes_list(field: FieldInfo) -> bool:
    """Whether the field is written as a list."""
    return _within(field.annotation, tuple)


@cache
def _keeps_spread(field: FieldInfo) -> bool:
    return _within(field.annotation, Reading)


def _point(text: Any, mark: Drawn) -> Point:
    example = "40 mm: 2.5" if mark.out is None else "40 mm: 12 mm"
    if not isinstance(text, str) or text.count(":") != 1 or len(text) > 2 * LONGEST_QUANTITY:
        words = "is not a point; write the distance from the nose, a colon, then the size there"
        raise ValueError(f'{shown(text)} {words}: "{example}"')
    station, out = (part.strip() for part in text.split(":"))
    return Point(read(station, STATION), number(out) if mark.out is None else read(out, mark.out))


def _each(value: Sequence[Any], read_item: Any) -> tuple[Any, ...]:
    """Every item read; all slips at once."""
    items: list[Any] = []
    slips: list[Slip] = []
    for place, item in enumerate(value):
        try:
            items.append(read_item(item))
        except (BadQuantity, ValueError) as fault:
            slips.append(Slip(place, str(fault)))
    if slips:
        raise BadValue(slips)
    return tuple(items)


def _points(value: Any, mark: Drawn) -> tuple[Point, ...]:
    if mark.out is None and isinstance(value, int | float) and not isinstance(value, bool):
        if not abs(value) < 1e9:  # nan fails this too
            raise _bad(f"{shown(value)} is not a number that can be used; an ellipse is 2")
        return (Point(0.0, float(value)),)
    if not isinstance(value, list | tuple):
        example = '2.5, or points: ["0 mm: 2", "40 mm: 2.5"]' if mark.out is None else '["0 mm: 0 mm", "40 mm: 12 mm"]'
        raise _bad(f"{shown(value)} is not a list of points; write {example}")
    return _each(value, lambda item: item if isinstance(item, Point) else _point(item, mark))


def _quantity(value: Any, kind: Kind, with_spread: bool) -> Any:
    if isinstance(value, Reading) and with_spread:
        return value
    if isinstance(value, int | float) and not isinstance(value, bool):
        raise _bad(f"{shown(value)} needs a unit, in quotes: {listed(kind.likely)}")
    if not isinstance(value, str):
        raise _bad(f"{shown(value)} is not {kind.name}; write a number and a unit, in quotes: {listed(kind.likely)}")
    if len(value) > LONGEST_QUANTITY:
        raise _bad(f"{shown(value)} is not {kind.name}; write a number and a unit: {listed(kind.likely)}")
    try:
        return read_reading(value, kind) if with_spread else read(value, kind)
    except BadQuantity as fault:
        raise _bad(fault.heading) from None


def shown(value: object) -> str:
    """A value as it is quoted back to its maker, shortened where it is long."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list"
    try:
        text = str(value)
    except ValueError:  # a whole number of thousands of figures
        return "a number that long"
    text = text if len(text) <= LONGEST_QUANTITY else f"{text[:40]}..."
    return text if isinstance(value, int | float) else f"'{text}'"


def from_words(field: FieldInfo, value: Any) -> Any:
    """A written value as the field keeps it: quantities in SI, lists as tuples, all else as it is.

    raises : BadValue with every slip in it
    """
    mark = mark_of(field)
    if mark is None or value is None:
        return tuple(value) if isinstance(value, list) else value
    if isinstance(mark, Drawn):
        return _points(value, mark)
    if not takes_list(field):
        if isinstance(value, list | tuple):
            raise _bad(f"takes one value, not a list: {mark.name} with its unit, {listed(mark.likely)}")
        return _quantity(value, mark, _keeps_spread(field))
    if not isinstance(value, list | tuple):
        unit = mark.likely[0]
        raise _bad(f'{shown(value)} is not a list; write ["1 {unit}", "2 {unit}"], in square brackets')
    return _each(value, lambda item: _quantity(item, mark, False))


def _for_pydantic(slips: Sequence[Slip]) -> PydanticCustomError:
    words = "; ".join(slip.words for slip in slips)
    return PydanticCustomError("slips", "{words}", {"words": words, "slips": tuple(slips)})


class Table(BaseModel):
    """The one base of all tables: frozen, strict, unknown keys refused, quantities read from words with units."""

    model_config = ConfigDict(frozen=True, strict=True, extra="forbid", allow_inf_nan=False,
                              arbitrary_types_allowed=True, populate_by_name=True)  # fmt: skip

    @field_validator("*", mode="before")
    @classmethod
    def _from_words(cls, value: Any, info: ValidationInfo) -> Any:
        """Words with units to SI, by the kind that the field's annotation carries."""
        try:
            return from_words(cls.model_fields[str(info.field_name)], value)
        except BadValue as fault:
            raise _for_pydantic(fault.slips) from None

    @classmethod
    def unmet(cls, given: Mapping[str, object]) -> list[str]:
        """What the table still lacks or has too much of, from the keys it was given; empty when it is whole."""
        del given
        return []

    @model_validator(mode="after")
    def _is_whole(self) -> "Table":
        given = {name: value for name in type(self).model_fields if (value := getattr(self, name)) is not None}
        if unmet := type(self).unmet(given):
            raise _for_pydantic([Slip(None, words) for words in unmet])
        return self


def written_keys(table: type[Table]) -> dict[str, FieldInfo]:
    """The keys of a table as the maker writes them, each with its field."""
    return {field.alias or name: field for name, field in table.model_fields.items()}


def table_in(field: FieldInfo) -> type[Table] | None:
    """The table a field holds, once or as a list; None for anything else."""

    def search(annotation: Any) -> type[Table] | None:
        if isinstance(annotation, type) and issubclass(annotation, Table):
            return annotation
        return next((found for part in get_args(annotation) if (found := search(part))), None)

    return search(field.annotation)


@cache
def _inner_tables(table: type[Table]) -> dict[str, tuple[type[Table], bool]]:
    """The keys that hold tables, each with its table, and whether it is a list of them."""
    fields = written_keys(table).items()
    return {key: (inner, takes_list(field)) for key, field in fields if (inner := table_in(field)) is not None}


class Row(NamedTuple):
    """One table of a design file as it stands there.

    path  : its keys and places from the top of the file
    table : what it is a table of
    raw   : its keys as written
    """

    path: tuple[str | int, ...]
    table: type[Table]
    raw: Mapping[str, Any]


def rows(table: type[Table], raw: Mapping[str, Any], path: tuple[str | int, ...] = ()) -> Iterator[Row]:
    """Every table in a design file that is one, from the top down, whether or not it can be read."""
    yield Row(path, table, raw)
    for key, (inner, many) in _inner_tables(table).items():
        value = raw.get(key)
        if many and isinstance(value, list):
            for place, item in enumerate(value):
                if isinstance(item, Mapping):
                    yield from rows(inner, item, (*path, key, place))
        elif not many and isinstance(value, Mapping):
            yield from rows(inner, value, (*path, key))


def readable(row: Row) -> dict[str, Any]:
    """The values of a table that can be read, in SI, by key; those left out that cannot."""
    values: dict[str, Any] = {}
    fields, inner = written_keys(row.table), _inner_tables(row.table)
    for key, value in row.raw.items():
        if key not in fields or key in inner:
            continue
        try:
            values[key] = from_words(fields[key], value)
        except BadValue:
            continue
    return values


def one_at_least(given: Mapping[str, object], *keys: str, why: str = "") -> list[str]:
    """The complaint when none of `keys` is given."""
    if any(key in given for key in keys):
        return []
    return [f"give {listed(keys)}{why and f'; {why}'}"]
