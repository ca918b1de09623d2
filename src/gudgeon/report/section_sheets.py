"""The sheets of sections at full size, dimensioned, with what is bored there; and the lip laid flat."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from gudgeon.answers.lip_slot import lip_slot
from gudgeon.answers.papers import Hole, Papers
from gudgeon.physics.hull import section
from gudgeon.report.cuts import Cut, bare_section, section_view
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.drawn_parts import lip_flat
from gudgeon.report.paper import Frame, Pen, Sheet, width_of, wrapped
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.strokes import Box, Drawing, Line, path
from gudgeon.report.title_block import HEIGHT

_PITCH = 3.9  # mm
_DIMENSION = 9.0  # mm beside and under a section, for its sizes
_APART = 8.0  # mm between two side by side
_UNDER = 5.0  # mm between two rows of them
_HEAD = 7.0  # mm under the frame's top


@dataclass(frozen=True, eq=False)
class Cell:
    """A drawing with its sizes and what is said of it.

    wide, deep : the sizes as written
    heading    : stands out
    """

    drawing: Drawing
    wide: str
    deep: str
    heading: str
    says: tuple[str, ...]

    def width(self, factor: float) -> float:
        """On the sheet [mm]."""
        left, _, right, _ = self.drawing.box
        words = max(width_of(self.heading, 10.0, bold=True), *(width_of(line) for line in self.says))
        return max(factor * (right - left) + 2.0 * _DIMENSION, words)


@dataclass(frozen=True, eq=False)
class Band:
    """Cells side by side, their centre lines and their headings level.

    over, under : [mm on the sheet] from the centre line up, and down to the headings
    words       : [mm] for what is said
    """

    cells: tuple[Cell, ...]
    over: float
    under: float
    words: float

    @property
    def height(self) -> float:
        """[mm]"""
        return self.over + self.under + self.words


def section_sheets(papers: Papers, cuts: Sequence[Cut], frame: Frame, shop: Shop, factor: float) -> tuple[Sheet, ...]:
    """Every section from the nose, as many to a sheet as go."""
    drawn = [_cell(papers, cut, shop) for cut in cuts] + _lip_cell(papers, shop)
    cells = [cell for cell in drawn if _goes_on(cell, frame, factor)]
    pages = _paged(cells, frame, factor) or [[]]
    narrow = " Narrow line: finished." if papers.check.lure.shown else ""
    says = f"Full size, seen from behind. Wide line: bare wood, with its sizes.{narrow} Close hatching: ballast."
    if len(cells) < len(drawn):
        says += f" Larger than the sheet, left out: {', '.join(cell.heading for cell in drawn if cell not in cells)}."
    return tuple(
        Sheet(f"Sections, {place} of {len(pages)}" if len(pages) > 1 else "Sections", True,
              partial(_draw, frame, page, factor, says))
        for place, page in enumerate(pages, start=1)
    )  # fmt: skip


def _cell(papers: Papers, cut: Cut, shop: Shop) -> Cell:
    lure = papers.check.lure
    bare, done = bare_section(lure, cut), section(lure.hull, cut.station)
    says = [f"{figure(cut.station, shop)} from the nose"]
    if lure.shown:
        sizes = [figure(size, shop) for size in (2.0 * done.half_width, done.top - done.bottom)]
        says.append(f"finished {sizes[0]} wide, {sizes[1]} deep")
    for hole in cut.holes:
        says += _hole_lines(hole, shop)
    wide, deep = figure(2.0 * bare.half_width, shop), figure(bare.top - bare.bottom, shop)
    return Cell(section_view(papers, cut), wide, deep, f"{cut.letter}-{cut.letter}  {cut.words}", tuple(says))


def _hole_lines(hole: Hole, shop: Shop) -> list[str]:
    bit = hole.metric_bit if shop is Shop.METRIC else hole.inch_bit
    lines = [f"{bit.name} bit, {depth_figure(bit.depth - hole.coat, shop)} deep in bare wood"]
    if hole.mass > 0.0:
        lines.append(f"{hole.material} {row('', '', hole.mass, Measure.MASS, shop).shown}, inner end")
    return lines


def _lip_cell(papers: Papers, shop: Shop) -> list[Cell]:
    lip = papers.check.design.lip
    if lip is None:
        return []
    flat = lip_flat(papers.check)
    out = lip_slot(papers.check.lure.bare_hull, lip).out
    slot = 1e3 * (lip.exposed - out)
    half = 0.5e3 * lip.width
    drawing = Drawing((path(Line.VISIBLE, flat, closed=True), path(Line.HIDDEN, [(slot, -half), (slot, half)]),
                       path(Line.CENTRE, [(-3.0, 0.0), (float(flat[:, 0].max()) + 3.0, 0.0)])))  # fmt: skip
    says = (f"{lip.material}, {figure(lip.thickness, shop)} thick",
            f"{depth_figure(lip.set_in + out, shop)} in its slot (from the dashed line)",
            f"{lip.shape}: corners as a guide")  # fmt: skip
    return [Cell(drawing, figure(lip.exposed + lip.set_in, shop), figure(lip.width, shop), "Lip, laid flat", says)]


def _room(frame: Frame) -> tuple[float, float]:
    """Width and height [mm] for sections."""
    return frame.width - 8.0, frame.height - HEIGHT - _HEAD - 4.0


def _goes_on(cell: Cell, frame: Frame, factor: float) -> bool:
    wide, tall = _room(frame)
    return cell.width(factor) <= wide and _band([cell], factor).height <= tall


def _band(cells: Sequence[Cell], factor: float) -> Band:
    over = factor * max(cell.drawing.box[3] for cell in cells)
    under = factor * max(-cell.drawing.box[1] for cell in cells) + _DIMENSION
    return Band(tuple(cells), over, under, _PITCH * (1 + max(len(cell.says) for cell in cells)))


def _paged(cells: Sequence[Cell], frame: Frame, factor: float) -> list[list[Band]]:
    """Pages of bands of cells, in order."""
    wide, tall = _room(frame)
    rows: list[list[Cell]] = []
    used = 0.0
    for cell in cells:
        more = _APART + cell.width(factor)
        if rows and used + more <= wide:
            rows[-1].append(cell)
            used += more
        else:
            rows.append([cell])
            used = more - _APART
    pages: list[list[Band]] = []
    left = 0.0
    for band in (_band(line, factor) for line in rows):
        if pages and left >= band.height + _UNDER:
            left -= band.height + _UNDER
            pages[-1].append(band)
        else:
            pages.append([band])
            left = tall - band.height
    return pages


def _draw(frame: Frame, page: list[Band], factor: float, says: str, pen: Pen) -> None:
    top = frame.top - 4.5
    for line in wrapped(says, frame.width - 8.0):
        pen.words(frame.left + 4.0, top, line)
        top -= _PITCH
    top -= _HEAD + 2.0 - 4.5 - _PITCH
    for band in page:
        x = frame.left + 4.0
        for cell in band.cells:
            _draw_cell(pen, cell, (x, top), band, factor)
            x += cell.width(factor) + _APART
        top -= band.height + _UNDER


def _draw_cell(pen: Pen, cell: Cell, corner: tuple[float, float], band: Band, factor: float) -> None:
    left, _, right, _ = cell.drawing.box
    middle = corner[0] + 0.5 * cell.width(factor)
    shift = (middle - 0.5 * factor * (right + left), corner[1] - band.over)
    for stroke in cell.drawing.strokes:
        pen.line(stroke.line, factor * stroke.points + shift, closed=stroke.closed)
    outline = factor * cell.drawing.strokes[0].points + shift
    _sizes(pen, cell, (*outline.min(axis=0), *outline.max(axis=0)))
    y = corner[1] - band.over - band.under - _PITCH
    pen.words(middle, y + 0.6, cell.heading, size=10.0, bold=True, side="middle")
    for place, words in enumerate(cell.says, start=1):
        pen.words(middle, y - _PITCH * place + 0.4, words, side="middle")


def _sizes(pen: Pen, cell: Cell, box: Box) -> None:
    """Width under it and depth at its left, with arrows."""
    left, bottom, right, top = box
    y, x = bottom - 6.0, left - 5.5
    for end in (left, right):
        pen.line(Line.THIN, [(end, y - 1.0), (end, 0.5 * (bottom + top))])
    for end in (bottom, top):
        pen.line(Line.THIN, [(x - 1.0, end), (0.5 * (left + right), end)])
    pen.line(Line.THIN, [(left, y), (right, y)])
    pen.line(Line.THIN, [(x, bottom), (x, top)])
    for end, toward in ((left, 1.0), (right, -1.0)):
        pen.filled([(end, y), (end + 2.4 * toward, y + 0.45), (end + 2.4 * toward, y - 0.45)])
    for end, toward in ((bottom, 1.0), (top, -1.0)):
        pen.filled([(x, end), (x + 0.45, end + 2.4 * toward), (x - 0.45, end + 2.4 * toward)])
    _size_words(pen, 0.5 * (left + right), y - 1.0, cell.wide)
    _size_words(pen, x, 0.5 * (bottom + top) - 1.0, cell.deep)


def _size_words(pen: Pen, x: float, y: float, words: str) -> None:
    half = 0.5 * width_of(words) + 0.6
    pen.blank((x - half, y - 0.5, x + half, y + 2.7))
    pen.words(x, y, words, side="middle")
