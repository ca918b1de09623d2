"""One tile of a template on its sheet: views, notes on their leaders, overall lengths, marks to join the sheets by."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from gudgeon.report.labels import GAP, PITCH, Flag
from gudgeon.report.paper import Frame, Pen, width_of
from gudgeon.report.stacking import Placed, Stack
from gudgeon.report.strokes import Array, Box, Label, Line, Note
from gudgeon.report.tiling import Join, Span

HEAD = 6.0  # mm under the frame's top, for what the lines mean
_NUMBER_GAP = 1.4  # mm between a note's number and its words


@dataclass(frozen=True)
class Window:
    """The part of a drawing that one sheet shows, and where.

    corner     : [mm of the sheet] of its lower left
    across, up : [mm of the drawing] it shows
    factor     : millimetres of the sheet to one of the drawing: the printer's correction
    """

    corner: tuple[float, float]
    across: Span
    up: Span
    factor: float

    def place(self, x: float, y: float) -> tuple[float, float]:
        """A point of the drawing on the sheet [mm]."""
        return (self.corner[0] + self.factor * (x - self.across.start),
                self.corner[1] + self.factor * (y - self.up.start))  # fmt: skip

    def points(self, points: Array, lift: float) -> Array:
        """Many of them (k, 2), lifted by `lift` [mm of the drawing]."""
        origin = self.place(0.0, lift)
        moved: Array = self.factor * points + origin
        return moved

    @property
    def box(self) -> Box:
        """What it covers of the sheet [mm]."""
        return (*self.place(self.across.start, self.up.start), *self.place(self.across.stop, self.up.stop))


@dataclass(frozen=True)
class Length:
    """An overall length to be dimensioned: from, to [mm along the lure], and in words."""

    start: float
    stop: float
    words: str


@dataclass(frozen=True, eq=False)
class Tile:
    """One tile.

    upright, level : its join lines
    says           : what the lines mean
    """

    stack: Stack
    column: int
    window: Window
    upright: tuple[Join, ...]
    level: tuple[Join, ...]
    lengths: tuple[Length, ...]
    says: str


def note_width(note: Note) -> float:
    """How wide a note's words are on the sheet [mm]."""
    wide = [width_of(words) for words in note.words]
    return max(wide[0] + _number_width(note), *wide)


def _number_width(note: Note) -> float:
    return width_of(note.number, bold=True) + _NUMBER_GAP if note.number else 0.0


def draw_tile(frame: Frame, tile: Tile, pen: Pen) -> None:
    """Everything of one tile but the frame."""
    pen.words(frame.left + 4.0, frame.top - 4.5, tile.says)
    with pen.within(tile.window.box):
        for view in tile.stack.views:
            for stroke in view.drawing.strokes:
                pen.line(stroke.line, tile.window.points(stroke.points, view.lift), closed=stroke.closed)
        for view in tile.stack.views:
            _leaders(pen, tile, view)
        for place, length in enumerate(tile.lengths):
            _dimension(pen, tile, length, tile.stack.dimensions + 5.0 * place)
        _join_lines(pen, tile)
        for x, y in sorted(_marks(tile.window, tile.upright, tile.level)):
            _register(pen, x, y)
    for view in tile.stack.views:
        for flag in view.flags[tile.column]:
            _words(pen, tile.window, flag, view.lift)
        for label in view.drawing.labels:
            _label(pen, tile.window, label, view.lift)


def _leaders(pen: Pen, tile: Tile, view: Placed) -> None:
    for flag in view.flags[tile.column]:
        x, y = flag.note.at
        near, far = sorted((flag.left, flag.right), key=lambda end: abs(end - x))
        bend = [(x, y), (x, flag.foot)] if near == x else [(x, y), (near, flag.foot)]
        pen.line(Line.THIN, [tile.window.place(a, b + view.lift) for a, b in [*bend, (far, flag.foot)]])


def _words(pen: Pen, window: Window, flag: Flag, lift: float) -> None:
    left, bottom = window.place(flag.left + GAP, flag.foot + lift)
    if not window.box[1] <= bottom <= window.box[3] - PITCH * len(flag.note.words):
        return  # the sheet that shows all of it has it
    pen.blank((left, bottom + 0.4, left + note_width(flag.note), bottom + PITCH * len(flag.note.words) - 0.6))
    for place, words in enumerate(reversed(flag.note.words)):
        x, y = left, bottom + 0.9 + PITCH * place
        number = flag.note.number if place == len(flag.note.words) - 1 else ""
        if number:
            pen.words(x, y, number, bold=True)
            x += _number_width(flag.note)
        pen.words(x, y, words)


def _label(pen: Pen, window: Window, label: Label, lift: float) -> None:
    x, y = window.place(label.at[0], label.at[1] + lift)
    left, bottom, right, top = window.box
    if left + 3.0 <= x <= right - 3.0 and bottom <= y <= top - 4.0:
        pen.blank((x - 1.6, y - 0.6, x + 1.6, y + 3.4))
        pen.words(x, y, label.words, size=11.0, bold=True, side="middle")


def _dimension(pen: Pen, tile: Tile, length: Length, height: float) -> None:
    """An overall length with its arrows; its words on every sheet it runs over."""
    window = tile.window
    (left, y), (right, _) = window.place(length.start, height), window.place(length.stop, height)
    foot = window.place(0.0, min(view.lift for view in tile.stack.views))[1]
    for x in (left, right):
        for low, high in _between_words(tile, x, y - 1.0, foot):
            pen.line(Line.THIN, [(x, low), (x, high)])
    pen.line(Line.THIN, [(left, y), (right, y)])
    for x, toward in ((left, 1.0), (right, -1.0)):
        pen.filled([(x, y), (x + 3.0 * toward, y + 0.5), (x + 3.0 * toward, y - 0.5)])
    seen = max(left, window.box[0]), min(right, window.box[2])
    if seen[1] - seen[0] > width_of(length.words) + 10.0:
        middle, half = 0.5 * (seen[0] + seen[1]), 0.5 * width_of(length.words) + 1.0
        pen.blank((middle - half, y - 1.4, middle + half, y + 1.8))
        pen.words(middle, y - 1.0, length.words, side="middle")


def _between_words(tile: Tile, x: float, low: float, high: float) -> Iterator[tuple[float, float]]:
    """The parts of an upright line at `x` from `low` to `high` [mm of the sheet] that run through no note's words."""
    boxes = []
    for view in tile.stack.views:
        for flag in view.flags[tile.column]:
            left, bottom = tile.window.place(flag.left + GAP, flag.foot + view.lift)
            boxes.append((left, bottom, left + note_width(flag.note), bottom + PITCH * len(flag.note.words)))
    through = sorted((bottom, top) for left, bottom, right, top in boxes if left - 1.0 < x < right + 1.0)
    for bottom, top in through:
        if low < bottom < high:
            yield low, bottom
        low = max(low, top)
    if low < high:
        yield low, high


def _marks(window: Window, upright: tuple[Join, ...], level: tuple[Join, ...]) -> set[tuple[float, float]]:
    """Where the register marks stand: where join lines cross, and near the ends where they do not."""
    left, bottom, right, top = window.box
    xs = [window.place(join.at, 0.0)[0] for join in upright]
    ys = [window.place(0.0, join.at)[1] for join in level]
    ends_y = [y for y in (bottom + 4.0, top - 4.0) if not any(abs(y - other) < 9.0 for other in ys)]
    ends_x = [x for x in (left + 4.0, right - 4.0) if not any(abs(x - other) < 9.0 for other in xs)]
    return {(x, y) for x in xs for y in (*ys, *ends_y)} | {(x, y) for y in ys for x in (*xs, *ends_x)}


def _join_lines(pen: Pen, tile: Tile) -> None:
    """The lines, then what is to be joined to what, beside them."""
    left, bottom, right, top = tile.window.box
    across = [(join, tile.window.place(join.at, 0.0)[0]) for join in tile.upright]
    along = [(join, tile.window.place(0.0, join.at)[1]) for join in tile.level]
    for _, x in across:
        pen.line(Line.PHANTOM, [(x, bottom), (x, top)])
    for _, y in along:
        pen.line(Line.PHANTOM, [(left, y), (right, y)])
    head = top - (17.0 if any(join.before for join in tile.level) else 5.2)  # clear of a level line's words
    for join, x in across:
        _join_words(pen, x - 4.5 if join.before else x + 4.5, head, join, ends_here=join.before)
    for join, y in along:
        _join_words(pen, left + 14.0, y - 4.5 if join.before else y + 2.0, join, ends_here=False)


def _join_words(pen: Pen, x: float, y: float, join: Join, *, ends_here: bool) -> None:
    words = f"join {join.letter} to {join.letter}"
    wide = width_of(words, 10.0, bold=True)
    left = x - wide if ends_here else x
    pen.blank((left - 0.5, y - 0.8, left + wide + 0.5, y + 3.2))
    pen.words(left, y, words, size=10.0, bold=True)


def _register(pen: Pen, x: float, y: float) -> None:
    """A ring and a cross: hold both sheets to the light until they lie on each other."""
    ring = [(x + 2.0 * math.cos(turn * math.pi / 12), y + 2.0 * math.sin(turn * math.pi / 12)) for turn in range(24)]
    pen.line(Line.THIN, ring, closed=True)
    pen.line(Line.THIN, [(x - 3.5, y), (x + 3.5, y)])
    pen.line(Line.THIN, [(x, y - 3.5), (x, y + 3.5)])
