"""A list of a batch's blanks: a number and a weight on each line, read with all its faults at once."""

import csv
import io
import os
from dataclasses import dataclass
from pathlib import Path

from gudgeon.design.file import text_of
from gudgeon.errors import BadDesign, BadQuantity, Fault
from gudgeon.units import MASS, Reading, read_reading

MOST = 500  # blanks of one batch: a longer list is another file
_HEADS = ("number", "blank", "lure", "weight")


@dataclass(frozen=True)
class WeighedBlank:
    """One line: what the blank is called, and what it weighs shaped, before any hole [kg]."""

    number: int
    weight: Reading


def read_batch(path: str | os.PathLike[str]) -> tuple[WeighedBlank, ...]:
    """The blanks of a list.

    raises : BadDesign, with every fault of the list
    """
    file = Path(path)
    return parse_batch(text_of(file), file.name)


def parse_batch(text: str, name: str = "the list") -> tuple[WeighedBlank, ...]:
    """The blanks that a text lists: "7, 52.6 g" on a line, or the weights alone, numbered from 1.

    A first line of heads, empty lines and what follows a # are passed over.
    raises : BadDesign, with every fault of the text
    """
    faults: list[Fault] = []
    found: list[WeighedBlank] = []
    for line, cells in _cells(text):
        blank = _blank(cells, len(found) + 1, line, faults)
        if blank is not None:
            faults += [Fault("number", f"{blank.number} stands in the list already; give each blank its own", line)
                       for other in found if other.number == blank.number]  # fmt: skip
            found.append(blank)
    if not faults and not 2 <= len(found) <= MOST:
        told = "nothing" if not found else f"{len(found)} blank{'s' if len(found) > 1 else ''}"
        faults.append(Fault("the list", f"{told} in it; a batch has from 2 to {MOST} blanks, a line each: 7, 52.6 g"))
    if faults:
        raise BadDesign(f"{name} cannot be read", faults)
    return tuple(found)


def _cells(text: str) -> list[tuple[int, list[str]]]:
    """Line and cells of each blank."""
    lines = text.removeprefix("\ufeff").splitlines()
    found: list[tuple[int, list[str]]] = []
    for line, words in enumerate(lines, start=1):
        plain = words.partition("#")[0]
        if not plain.strip(" \t,;"):
            continue
        mark = ";" if ";" in plain else ","
        cells = [cell.strip() for cell in next(csv.reader(io.StringIO(plain), delimiter=mark))]
        while cells and not cells[-1]:
            cells.pop()
        if found or cells[0].lower().split(" ")[0] not in _HEADS:
            found.append((line, cells))
    return found


def _blank(cells: list[str], place: int, line: int, faults: list[Fault]) -> WeighedBlank | None:
    if len(cells) > 2:
        faults.append(Fault("the line", f"it has {len(cells)} parts; write number and weight: {place}, 52.6 g", line))
        return None
    number, weight = place, _weight(cells[-1], line, faults)
    if len(cells) == 2:
        if not cells[0].isascii() or not cells[0].isdigit() or not 1 <= int(cells[0][:9]) <= 999_999:
            faults.append(Fault("number", f"'{cells[0]}' is no whole number from 1 to 999999", line))
            return None
        number = int(cells[0])
    return None if weight is None else WeighedBlank(number, weight)


def _weight(text: str, line: int, faults: list[Fault]) -> Reading | None:
    try:
        weight = read_reading(text, MASS)
    except BadQuantity as refusal:
        faults.append(Fault("weight", refusal.heading, line))
        return None
    if weight.value <= 0.0:
        faults.append(Fault("weight", "a blank weighs more than 0 g", line))
        return None
    return weight
