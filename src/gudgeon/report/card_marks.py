"""Words on a card, each beside the mark it tells of: found a place where they lie on no mark, line or other words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from gudgeon.report.labels import GAP, PITCH, Flag
from gudgeon.report.line_map import LineMap
from gudgeon.report.strokes import Array, Box, Note, Point
from gudgeon.report.tile import note_width

_FURTHEST, _STEP = 60.0, 1.5  # mm from a mark that words may stand, and between places tried
_CLEAR = 0.7  # mm left round words
_WIPED = 6.0  # mm further off that words go to spare a millimetre of line
_OTHERWISE = 2.0  # mm further off that words go before their lines are parted or joined


@dataclass(frozen=True)
class Told:
    """A mark and its words.

    note : starts at the mark
    room : [mm] where its words may stand
    """

    note: Note
    room: Box


def told(marks: Sequence[Told], taken: Sequence[Box], lines: LineMap) -> tuple[Flag, ...]:
    """Every note placed, from the one with the least room to turn; its words in one line, or in more, as there is room.

    taken : [mm] what no words may lie on
    lines : what they should not wipe out
    """
    order = sorted(marks, key=lambda mark: (mark.room[2] - mark.room[0]) * (mark.room[3] - mark.room[1]))
    placed: list[Flag] = []
    for mark in order:
        placed.append(_place(mark, taken, placed, lines))
    return tuple(placed)


def _place(mark: Told, taken: Sequence[Box], placed: Sequence[Flag], lines: LineMap) -> Flag:
    """The best free place; where there is none, the best clear of other words, and else the best of all."""
    inside = list(_inside(mark, lines))
    for other in (taken, ()):
        for flag in inside:
            if _is_free(flag, other, placed):
                return flag
    return inside[0] if inside else _nearest(mark.note)


def _laid_out(note: Note) -> tuple[Note, ...]:
    """The same words as they are, in one line, and in a line for each thing told."""
    one = ", ".join(note.words)
    many = tuple(part for words in note.words for part in words.split(", "))
    return tuple(replace(note, words=words) for words in dict.fromkeys((note.words, (one,), many)))


def _inside(mark: Told, lines: LineMap) -> Iterator[Flag]:
    """Places in the room there is, those first that are near and wipe out little."""
    notes = _laid_out(mark.note)
    left, bottom, right, top = mark.room
    found = []
    for place, note in enumerate(notes):
        boxes, away = _boxes(note)
        fits = (boxes[:, 0] >= left) & (boxes[:, 1] >= bottom) & (boxes[:, 2] <= right) & (boxes[:, 3] <= top)
        cost = away[fits] + (_OTHERWISE if place else 0.0) + _WIPED * lines.under(boxes[fits])
        found.append(np.column_stack([cost, np.full(len(cost), place), boxes[fits]]))
    every = np.concatenate(found)
    for _, which, start, foot, stop, _ in every[np.argsort(every[:, 0], kind="stable")].tolist():
        yield Flag(notes[int(which)], foot, start, stop)


def _nearest(note: Note) -> Flag:
    start, foot, stop, _ = _boxes(note)[0][0].tolist()
    return Flag(note, foot, start, stop)


def _boxes(note: Note) -> tuple[Array, Array]:
    """Everywhere its words could stand (k, 4) [mm], and how far from the mark (k,) [mm], the nearest first."""
    wide = note_width(note) + 2.0 * GAP
    boxes, away = _offsets(round(wide, 1), PITCH * len(note.words))
    x, y = note.at
    return boxes + np.array([x, y, x, y]), away


@cache
def _offsets(wide: float, tall: float) -> tuple[Array, Array]:
    ups = np.arange(-_FURTHEST, _FURTHEST + 0.5 * _STEP, _STEP)
    outs = np.arange(-int(wide / _STEP) * _STEP, _FURTHEST + 0.5 * _STEP, _STEP)
    up, out, side = (some.ravel() for some in np.meshgrid(ups, outs, [1.0, -1.0], indexing="ij"))
    left = np.where(side > 0.0, out, -out - wide)
    away = np.hypot(np.maximum(np.abs(up) - 0.5 * tall, 0.0), np.maximum(np.maximum(out, -out - wide), 0.0))
    order = np.argsort(away, kind="stable")
    boxes = np.column_stack([left, up - 0.5 * tall, left + wide, up + 0.5 * tall])
    return boxes[order], away[order]


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
