"""Words on a card, each beside the mark it tells of: found a place where they lie on no mark and on no other words."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from gudgeon.report.labels import GAP, PITCH, Flag
from gudgeon.report.strokes import Box, Note, Point
from gudgeon.report.tile import note_width

_FURTHEST, _STEP = 60.0, 1.5  # mm from a mark that words may stand, and between places tried
_CLEAR = 0.7  # mm left round words


@dataclass(frozen=True)
class Told:
    """A mark and its words.

    note : starts at the mark
    room : [mm] where its words may stand
    """

    note: Note
    room: Box


def told(marks: Sequence[Told], taken: Sequence[Box]) -> tuple[Flag, ...]:
    """Every note placed, from the one with the least room to turn.

    taken : [mm] what no words may lie on
    """
    order = sorted(marks, key=lambda mark: (mark.room[2] - mark.room[0]) * (mark.room[3] - mark.room[1]))
    placed: list[Flag] = []
    for mark in order:
        placed.append(_place(mark, taken, placed))
    return tuple(placed)


def _place(mark: Told, taken: Sequence[Box], placed: Sequence[Flag]) -> Flag:
    """The nearest free place; where there is none, the nearest clear of other words, and else the nearest of all."""
    wide, tall = note_width(mark.note) + 2.0 * GAP, PITCH * len(mark.note.words)
    for other in (taken, ()):
        for flag in _around(mark.note, wide, tall):
            if _inside(flag.box, mark.room) and _is_free(flag, other, placed):
                return flag
    inside = (flag for flag in _around(mark.note, wide, tall) if _inside(flag.box, mark.room))
    return next(inside, next(_around(mark.note, wide, tall)))


@cache
def _offsets(wide: float, tall: float) -> tuple[tuple[float, float, bool], ...]:
    """Foot and near end of the words from a mark [mm], and whether they stand to its right: the nearest first."""
    ups = [_STEP * place for place in range(-int(_FURTHEST / _STEP), int(_FURTHEST / _STEP) + 1)]
    outs = [_STEP * place for place in range(-int(wide / _STEP), int(_FURTHEST / _STEP) + 1)]
    found = [(up - 0.5 * tall, out, right) for up in ups for out in outs for right in (True, False)]
    return tuple(sorted(found, key=lambda one: math.hypot(max(abs(one[0] + 0.5 * tall) - 0.5 * tall, 0.0),
                                                          max(one[1], -one[1] - wide, 0.0))))  # fmt: skip


def _around(note: Note, wide: float, tall: float) -> Iterator[Flag]:
    x, y = note.at
    for up, out, right in _offsets(round(wide, 1), tall):
        left = x + out if right else x - out - wide
        yield Flag(note, y + up, left, left + wide)


def _inside(box: Box, room: Box) -> bool:
    return box[0] >= room[0] and box[1] >= room[1] and box[2] <= room[2] and box[3] <= room[3]


def _is_free(flag: Flag, taken: Sequence[Box], placed: Sequence[Flag]) -> bool:
    box, leader = flag.box, _leader(flag)
    own = (box[0] + 0.3, box[1] + 0.6, box[2] - 0.3, box[3])
    if any(_over(box, other) for other in taken) or any(_holds(own, point) for point in leader):
        return False
    return not any(_over(box, other.box) or any(_holds(box, point) for point in _leader(other))
                   or any(_holds(other.box, point) for point in leader) for other in placed)  # fmt: skip


def _leader(flag: Flag) -> tuple[Point, ...]:
    """Points along the line from a mark to its words."""
    (x, y), near = flag.note.at, min((flag.left, flag.right), key=lambda end: abs(end - flag.note.at[0]))
    return tuple((x + share * (near - x), y + share * (flag.foot - y)) for share in (0.15, 0.3, 0.45, 0.6, 0.75, 0.9))


def _over(one: Box, other: Box) -> bool:
    return (one[0] < other[2] + _CLEAR and other[0] < one[2] + _CLEAR
            and one[1] < other[3] + _CLEAR and other[1] < one[3] + _CLEAR)  # fmt: skip


def _holds(box: Box, point: Point) -> bool:
    return box[0] - 0.3 <= point[0] <= box[2] + 0.3 and box[1] - 0.3 <= point[1] <= box[3] + 0.3
