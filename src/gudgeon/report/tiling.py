"""A drawing larger than a sheet as tiles that overlap, and the lines they are joined on."""

import math
from dataclasses import dataclass

OVERLAP = 10.0  # mm of the drawing that two neighbouring tiles both show


@dataclass(frozen=True)
class Span:
    """What one tile shows along one direction [mm of the drawing]."""

    start: float
    stop: float


@dataclass(frozen=True)
class Join:
    """A line two tiles share.

    letter : "A"
    at     : [mm of the drawing]
    before : whether the tile lies before the line: left of it, or under it
    """

    letter: str
    at: float
    before: bool


def spans(start: float, stop: float, room: float) -> tuple[Span, ...]:
    """The fewest tiles of equal length, none longer than `room` [mm], that overlap by 10 mm."""
    whole = stop - start
    count = 1 if whole <= room + 1e-9 else math.ceil((whole - OVERLAP) / (room - OVERLAP) - 1e-9)
    each = (whole + (count - 1) * OVERLAP) / count
    starts = [start + place * (each - OVERLAP) for place in range(count)]
    return tuple(Span(at, at + each) for at in starts)


def joins(tiles: tuple[Span, ...], place: int, first: int) -> tuple[Join, ...]:
    """The join lines on one tile.

    first : how many letters are taken already
    """
    found = []
    if place > 0:
        found.append(Join(letter(first + place - 1), tiles[place].start + 0.5 * OVERLAP, before=False))
    if place < len(tiles) - 1:
        found.append(Join(letter(first + place), tiles[place].stop - 0.5 * OVERLAP, before=True))
    return tuple(found)


def letter(place: int) -> str:
    """A, B, ... Z, AA, AB: I and O are left out, as they pass for figures."""
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    round_, rest = divmod(place, len(letters))
    return (letters[round_ - 1] if round_ else "") + letters[rest]
