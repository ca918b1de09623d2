"""The template sheets: side and top views at true size, tiled over as few sheets as hold them."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial

from gudgeon.answers.papers import Papers
from gudgeon.report.cuts import Cut
from gudgeon.report.drawing import figure, side_view, top_view
from gudgeon.report.hidden_cuts import SIDE, TOP, hidden_cuts, wooden
from gudgeon.report.paper import Frame, Sheet
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.stacking import Stack, stacked
from gudgeon.report.strokes import Note
from gudgeon.report.tile import HEAD, Length, Tile, Window, draw_tile, note_width
from gudgeon.report.tiling import Span, joins, spans
from gudgeon.report.title_block import HEIGHT

_MARGIN = 2.0  # mm between frame and drawing
_FIRST_JOIN = 13  # joins are lettered from P on, sections from A


@dataclass(frozen=True, eq=False)
class _Job:
    """What all tiles of one set of views share."""

    name: str
    stack: Stack
    rows: tuple[Span, ...]
    taken: int
    lengths: tuple[Length, ...]
    says: str


def template_sheets(
    papers: Papers, cuts: tuple[Cut, ...], frame: Frame, shop: Shop, factor: float
) -> tuple[Sheet, ...]:
    """Side over top; each view on sheets of its own where both are too tall for one.

    factor : millimetres on the sheet to one of the lure: 1, or the printer's correction
    """
    wide = (frame.width - 2.0 * _MARGIN) / factor
    tall = (frame.height - HEIGHT - 2.0 * _MARGIN - HEAD) / factor

    def width_on_drawing(note: Note) -> float:
        return note_width(note) / factor

    wood = wooden(papers)
    side, top = (replace(view, strokes=(*view.strokes, *hidden_cuts(wood, plane)))
                 for view, plane in ((side_view(papers, cuts, shop), SIDE), (top_view(papers, shop), TOP)))  # fmt: skip
    both = stacked([side, top], wide, width_on_drawing)
    named = [("side and top", both)]
    if both.height > tall:
        named = [("side", stacked([side], wide, width_on_drawing)), ("top", stacked([top], wide, width_on_drawing))]
    lengths, says, taken = _lengths(papers, shop), _what_lines_mean(papers, shop), _FIRST_JOIN
    sheets: list[Sheet] = []
    for name, stack in named:
        rows = spans(0.0, stack.height, tall)
        sheets += _tiles(_Job(name, stack, rows, taken, lengths, says), frame, factor)
        taken += len(stack.columns) - 1 + len(rows) - 1
    return tuple(sheets)


def _lengths(papers: Papers, shop: Shop) -> tuple[Length, ...]:
    lure = papers.check.lure
    bare, finished = lure.bare_hull, lure.hull
    rows = [Length(1e3 * bare.start, 1e3 * bare.stop, f"{figure(bare.length, shop)} bare wood")]
    if lure.shown:
        rows.append(Length(1e3 * finished.start, 1e3 * finished.stop, f"{figure(finished.length, shop)} finished"))
    return tuple(rows)


def _what_lines_mean(papers: Papers, shop: Shop) -> str:
    lure = papers.check.lure
    build = row("", "", lure.build, Measure.WIRE, shop).shown
    if lure.shown:
        return (f"Wide line: bare wood, cut to this. Narrow line round it: finished, coats on ({build} thick). "
                "Dashed: hidden. Cross: prick through.")  # fmt: skip
    coats = f" Coats add {build} all round." if lure.build else ""
    return f"Wide line: bare wood, cut to this.{coats} Dashed: hidden. Cross: prick through."


def _tiles(job: _Job, frame: Frame, factor: float) -> Iterator[Sheet]:
    """The sheets of one set of views, from the top left."""
    stack, rows = job.stack, job.rows
    count, across = len(stack.columns) * len(rows), len(stack.columns)
    for level in reversed(range(len(rows))):
        for column in range(across):
            number = (len(rows) - 1 - level) * across + column + 1
            tile = Tile(stack, column, _window(stack.columns[column], rows[level], frame, factor),
                        joins(stack.columns, column, job.taken), joins(rows, level, job.taken + across - 1),
                        job.lengths, job.says)  # fmt: skip
            title = f"Template, {job.name}: tile {number} of {count}" if count > 1 else f"Template, {job.name}"
            yield Sheet(title, True, partial(draw_tile, frame, tile))


def _window(across: Span, up: Span, frame: Frame, factor: float) -> Window:
    wide, tall = factor * (across.stop - across.start), factor * (up.stop - up.start)
    foot, room = frame.bottom + HEIGHT, frame.height - HEIGHT - HEAD
    corner = (frame.left + 0.5 * (frame.width - wide), foot + 0.5 * (room - tall))
    return Window(corner, across, up, factor)
