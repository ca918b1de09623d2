"""What a drawing is made of: strokes, labels and notes in lure millimetres, before it is on any page.

Lines follow ISO 128: what is cut to is wide and continuous, the rest narrow; nothing is told by colour.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Point = tuple[float, float]
Box = tuple[float, float, float, float]  # left, bottom, right, top


class Line(Enum):
    """Kinds of line."""

    VISIBLE = "bare wood: cut to this"
    CUTTING = "the ends of a cutting plane"
    FINISHED = "the finished skin, coats on"
    THIN = "leaders, dimensions, marks"
    HATCH = "cut through"
    HIDDEN = "hidden edges"
    HOLES = "hidden edges of holes and slots for hinges, eyes and wire"
    CENTRE = "centre lines and axes"
    PHANTOM = "neighbouring parts, and where sheets are joined"

    @property
    def width(self) -> float:
        """[mm] on paper."""
        return _WIDTHS.get(self, 0.25)

    @property
    def dashes(self) -> tuple[float, ...]:
        """[mm] on, off, on, off; none for a continuous line."""
        return _DASHES.get(self, ())


_WIDTHS = {Line.VISIBLE: 0.5, Line.CUTTING: 0.7, Line.HATCH: 0.18}
_DASHES = {
    Line.HIDDEN: (3.0, 1.0),
    Line.HOLES: (3.0, 1.0),
    Line.CENTRE: (8.0, 1.5, 0.8, 1.5),
    Line.PHANTOM: (8.0, 1.5, 0.8, 1.5, 0.8, 1.5),
}


@dataclass(frozen=True, eq=False)
class Stroke:
    """A polyline.

    points : (k, 2) [mm]
    closed : whether its end joins its beginning
    """

    line: Line
    points: Array
    closed: bool = False


@dataclass(frozen=True)
class Label:
    """A few words at a place of their own, middle of the foot at `at` [mm]."""

    at: Point
    words: str


@dataclass(frozen=True)
class Note:
    """Words that hang on a leader from a point.

    at    : [mm] where the leader starts
    words : a line each; the first starts with `number`, which stands out
    """

    at: Point
    number: str
    words: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Drawing:
    """One view.

    above, below : notes that go over and under it
    """

    strokes: tuple[Stroke, ...]
    labels: tuple[Label, ...] = ()
    above: tuple[Note, ...] = ()
    below: tuple[Note, ...] = ()

    @property
    def box(self) -> Box:
        """What its strokes cover [mm]."""
        low = np.min([stroke.points.min(axis=0) for stroke in self.strokes], axis=0)
        high = np.max([stroke.points.max(axis=0) for stroke in self.strokes], axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def path(line: Line, points: Sequence[Point] | Array, *, closed: bool = False) -> Stroke:
    """A polyline through points [mm]."""
    return Stroke(line, np.asarray(points, dtype=float), closed)


def cross(at: Point, size: float = 1.6) -> tuple[Stroke, Stroke]:
    """A mark to prick through: two short strokes [mm]."""
    x, y = at
    return path(Line.THIN, [(x - size, y), (x + size, y)]), path(Line.THIN, [(x, y - size), (x, y + size)])


def circle(line: Line, at: Point, radius: float) -> Stroke:
    """A ring [mm]."""
    angles = np.linspace(0.0, 2.0 * np.pi, 48, endpoint=False)
    ring = np.stack([at[0] + radius * np.cos(angles), at[1] + radius * np.sin(angles)], axis=1)
    return Stroke(line, ring, closed=True)


def grouped(notes: Iterable[Note], within: float = 0.6) -> tuple[Note, ...]:
    """Notes in order along the lure; those at one station [mm] share a leader, from the point given first."""
    found: list[Note] = []
    for note in sorted(notes, key=lambda note: note.at[0]):
        if found and abs(found[-1].at[0] - note.at[0]) <= within and found[-1].number == note.number:
            found[-1] = replace(found[-1], words=(*found[-1].words, *note.words))
        else:
            found.append(note)
    return tuple(found)


def hatched(outline: Array, spacing: float, *, slope: float = 1.0, spare: Sequence[Array] = ()) -> tuple[Stroke, ...]:
    """Hatching at 45 degrees inside a convex outline (k, 2) [mm], leaving out convex outlines within it.

    slope : 1 rises to the right, -1 falls
    """
    offsets = outline[:, 1] - slope * outline[:, 0]
    first = np.ceil(offsets.min() / spacing) * spacing
    strokes = []
    lines = np.arange(first, offsets.max(), spacing)
    spans, spared = _inside(outline, slope, lines), [_inside(other, slope, lines) for other in spare]
    for place, offset in enumerate(lines.tolist()):
        gaps = [gap for other in spared if (gap := other[place]) is not None]
        for left, right in _without(spans[place], gaps):
            strokes.append(path(Line.HATCH, [(left, slope * left + offset), (right, slope * right + offset)]))
    return tuple(strokes)


def _inside(outline: Array, slope: float, offsets: Array) -> list[Point | None]:
    """Where each line y = slope x + offset is inside a convex outline: from, to in x."""
    after = np.roll(outline, -1, axis=0)
    here, there = (points[:, 1] - slope * points[:, 0] - offsets[:, None] for points in (outline, after))
    crosses = (here >= 0.0) != (there >= 0.0)
    share = here / np.where(crosses, here - there, 1.0)
    x = outline[:, 0] + share * (after[:, 0] - outline[:, 0])
    left, right = np.where(crosses, x, np.inf).min(axis=1), np.where(crosses, x, -np.inf).max(axis=1)
    return [(low, high) if low < high else None for low, high in zip(left.tolist(), right.tolist(), strict=True)]


def _without(span: Point | None, gaps: list[Point]) -> list[Point]:
    pieces = [] if span is None else [span]
    for low, high in gaps:
        cut = [part for left, right in pieces for part in ((left, min(right, low)), (max(left, high), right))]
        pieces = [(left, right) for left, right in cut if right - left > 0.2]
    return pieces
