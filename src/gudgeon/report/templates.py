"""The template sheets: side and top views at true size, tiled, with the marks to join them by."""

from collections.abc import Iterator
from dataclasses import dataclass

from gudgeon.answers.papers import Papers
from gudgeon.report.cuts import Cut
from gudgeon.report.drawing import figure, side_view, top_view
from gudgeon.report.labels import GAP, PITCH, Flag
from gudgeon.report.paper import TEXT, Frame, Pen, Sheet, width_of
from gudgeon.report.rows import Shop
from gudgeon.report.stacking import Placed, Stack, stacked
from gudgeon.report.strokes import Array, Box, Line, Note, Stroke
from gudgeon.report.tiling import Join, Span, joins, spans
from gudgeon.report.title_block import HEIGHT

_MARGIN = 2.0  # mm between frame and drawing
_HEAD = 5.0  # mm under the frame's top, for what the lines mean
_FIRST_JOIN = 13  # joins are lettered from P on, sections from A


@dataclass(frozen=True)
class Window:
    """The part of a drawing that one sheet shows, and where.

    corner     : [mm of the sheet] of the window's lower left
    across, up : [mm of the drawing] it shows
    factor     : millimetres of the sheet to one of the drawing: the printer's correction
    """

    corner: tuple[float, float]
    across: Span
    up: Span
    factor: float

    def place(self, x: float, y: float) -> tuple[float, float]:
        """A point of the drawing on the sheet."""
        return (self.corner[0] + self.factor * (x - self.across.start),
                self.corner[1] + self.factor * (y - self.up.start))  # fmt: skip

    def points(self, points: Array, lift: float = 0.0) -> Array:
        """Many of them (k, 2)."""
        shift = [self.corner[0] - self.factor * self.across.start, self.corner[1] + self.factor * (lift - self.up.start)]
        moved: Array = self.factor * points + shift
        return moved

    @property
    def box(self) -> Box:
        """On the sheet."""
        return (*self.place(self.across.start, self.up.start), *self.place(self.across.stop, self.up.stop))


@dataclass(frozen=True)
class Lengths:
    """The overall lengths, bare and finished [mm along the lure], in words."""

    rows: tuple[tuple[float, float, str], ...]


def note_width(note: Note) -> float:
    """How wide a note's words are [mm]."""
    return max(width_of(words) + (_number_width(note) if place == 0 else 0.0) for place, words in enumerate(note.words))


def _number_width(note: Note) -> float:
    return width_of(f"{note.number} ", bold=True) + 0.6 if note.number else 0.0


def template_sheets(papers: Papers, cuts: tuple[Cut, ...], frame: Frame, shop: Shop, factor: float) -> tuple[Sheet, ...]:
    """Side over top on as few sheets as hold them; each view on sheets of its own where both are too tall for one."""
    wide = (frame.width - 2.0 * _MARGIN) / factor
    tall = (frame.height - HEIGHT - 2.0 * _MARGIN - _HEAD) / factor

    def width_on_drawing(note: Note) -> float:
        return note_width(note) / factor

    side, top = side_view(papers, cuts, shop), top_view(papers, shop)
    both = stacked([side, top], wide, width_on_drawing)
    named = [("side and top", both)]
    if both.height > tall:
        named = [("side", stacked([side], wide, width_on_drawing)), ("top", stacked([top], wide, width_on_drawing))]
    lengths, taken, sheets = _lengths(papers, shop), _FIRST_JOIN, []
    for name, stack in named:
        rows = spans(0.0, stack.height, tall)
        sheets += _tiles(papers, name, stack, rows, taken, frame, lengths, factor)
        taken += len(stack.columns) - 1 + len(rows) - 1
    return tuple(sheets)


def _lengths(papers: Papers, shop: Shop) -> Lengths:
    lure = papers.check.lure
    bare, finished = lure.bare_hull, lure.hull
    rows = [(1e3 * bare.start, 1e3 * bare.stop, f"{figure(bare.length, shop)} bare wood")]
    if lure.shown:
        rows.append((1e3 * finished.start, 1e3 * finished.stop, f"{figure(finished.length, shop)} finished"))
    return Lengths(tuple(rows))


def _tiles(
    papers: Papers, name: str, stack: Stack, rows: tuple[Span, ...], taken: int, frame: Frame, lengths: Lengths,
    factor: float,
) -> Iterator[Sheet]:  # fmt: skip
    count = len(stack.columns) * len(rows)
    for row in reversed(range(len(rows))):
        for column in range(len(stack.columns)):
            number = (len(rows) - 1 - row) * len(stack.columns) + column + 1
            window = _window(stack.columns[column], rows[row], frame, factor)
            upright = joins(stack.columns, column, taken)
            level = joins(rows, row, taken + len(stack.columns) - 1)
            title = f"Template, {name}: tile {number} of {count}" if count > 1 else f"Template, {name}"
            yield Sheet(title, True, _drawing_of(papers, stack, column, window, upright, level, lengths, frame))


def _window(across: Span, up: Span, frame: Frame, factor: float) -> Window:
    wide, tall = factor * (across.stop - across.start), factor * (up.stop - up.start)
    room = frame.top - _HEAD - frame.bottom - HEIGHT
    return Window((frame.left + 0.5 * (frame.width - wide), frame.bottom + HEIGHT + 0.5 * (room - tall)), across, up, factor)


class _Tile:
    """Draws one tile on a sheet."""


def _drawing_of(papers, stack, column, window, upright, level, lengths, frame):  # type: ignore[no-untyped-def]
    return None
