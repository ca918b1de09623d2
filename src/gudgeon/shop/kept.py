"""An answer as it was told, as the text that the log keeps of it: titles, rows and warnings, and back."""

import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from gudgeon.errors import BadShop, Fault

_GRAVITIES = ("wrong", "watch", "note")


@dataclass(frozen=True)
class KeptRow:
    """One row: as a program has it, and as it was shown."""

    name: str
    label: str
    value: float | str | None
    unit: str
    low: float | None
    high: float | None
    shown: str


@dataclass(frozen=True)
class KeptSection:
    """Rows under a title."""

    title: str
    rows: tuple[KeptRow, ...]


@dataclass(frozen=True)
class KeptTold:
    """All that was told: warnings as (how much it matters, words), worst first."""

    warnings: tuple[tuple[str, str], ...]
    sections: tuple[KeptSection, ...]


def kept_text(told: KeptTold) -> str:
    """What is kept of it."""
    return json.dumps(asdict(told), ensure_ascii=False, allow_nan=False)


def told_in(text: str) -> KeptTold:
    """What a kept text says; raises BadShop where it is none."""
    try:
        data = json.loads(text)
        told = KeptTold(tuple(_warning(one) for one in data["warnings"]),
                        tuple(KeptSection(_words(one["title"]), tuple(_row(row) for row in one["rows"]))
                              for one in data["sections"]))  # fmt: skip
    except (ValueError, TypeError, KeyError, RecursionError):
        raise BadShop("the answer cannot be read", [Fault("told", "is not an answer as gudgeon keeps it")]) from None
    return told


def _warning(one: Sequence[Any]) -> tuple[str, str]:
    gravity, words = one
    if gravity not in _GRAVITIES:
        raise ValueError(gravity)
    return gravity, _words(words)


def _words(value: Any) -> str:
    if not isinstance(value, str):
        raise TypeError(value)
    return value


def _row(row: dict[str, Any]) -> KeptRow:
    numbers = [row[key] for key in ("value", "low", "high")]
    for number in numbers[1:] if isinstance(numbers[0], str) else numbers:
        if number is not None and (isinstance(number, bool) or not math.isfinite(number)):
            raise ValueError(number)
    name, label, unit, shown = (_words(row[key]) for key in ("name", "label", "unit", "shown"))
    return KeptRow(name, label, numbers[0], unit, numbers[1], numbers[2], shown)


def words_of(told: KeptTold) -> Iterator[str]:
    """Every word in it."""
    for _, words in told.warnings:
        yield words
    for section in told.sections:
        yield section.title
        for row in section.rows:
            yield from (row.name, row.label, row.unit, row.shown, *([row.value] if isinstance(row.value, str) else []))
