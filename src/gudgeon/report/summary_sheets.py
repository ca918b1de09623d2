"""The first sheets: the answer in a sentence, what is wrong, worst first, then every row as the terminal shows it."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from gudgeon.answers.papers import Papers
from gudgeon.report.check_rows import check_sections, headline
from gudgeon.report.flowing import Block, draw_blocks, gap, paged, paragraph
from gudgeon.report.paper import Frame, Pen, Sheet, width_of
from gudgeon.report.rows import Row, Shop
from gudgeon.report.sentences import SIGNS, said
from gudgeon.report.strokes import Line
from gudgeon.report.title_block import HEIGHT

SIDE = 3.0  # mm between frame and words
_PITCH = 3.9
_APART = 8.0  # mm between the two columns
_WHOLE = re.compile(r"-?\d+")
_INDENT = 2.5
SMALL_PRINT = (
    "± holds about 19 times in 20. What has one is computed and holds within it, but rates, speeds and trade words are "
    "estimates: right within a third, until a timed drop is entered."
)


@dataclass(frozen=True)
class _Line:
    """A title, or a row of the figures under it."""

    title: str
    row: Row | None

    @property
    def is_blank(self) -> bool:
        """The space before a title."""
        return not self.title


def summary_sheets(papers: Papers, frame: Frame, shop: Shop, correction: float) -> tuple[Sheet, ...]:
    """As many sheets as the rows take."""
    room, tall = frame.width - 2.0 * SIDE, frame.height - HEIGHT - 2.0 * SIDE
    head = [*_head(papers, shop, room), *_correction(correction, room)]
    narrow, long = _sorted(papers, shop, 0.5 * (room - _APART))
    pages = _figure_pages(narrow, 0.5 * (room - _APART), tall - sum(block.height for block in head), tall)
    tail = [*(block for line in long for block in _long_row(line, room)), gap(2.0), *paragraph(SMALL_PRINT, room)]
    blocks = [*head, *pages[0]]
    used = sum(block.height for block in (blocks if len(pages) == 1 else pages[-1]))
    ends = paged([gap(2.0), *tail], tall - used, tall)
    filled = [blocks, *pages[1:]]
    filled[-1] = [*filled[-1], *ends[0]]
    filled += ends[1:]
    return tuple(
        Sheet("Summary" if place == 1 else "Summary, continued", False,
              partial(draw_blocks, page, frame.left + SIDE, frame.top - SIDE))
        for place, page in enumerate(filled, start=1)
    )  # fmt: skip


def _head(papers: Papers, shop: Shop, room: float) -> Iterator[Block]:
    yield from paragraph(headline(papers.check, shop), room, size=14.0, bold=True)
    yield gap(2.5)
    for finding in papers.check.findings:
        sign, word = SIGNS[finding.gravity]
        yield from paragraph(said(finding, shop), room, size=9.5, indent=17.0, head=f"{sign} {word}")
        yield gap(0.8)
    yield gap(1.5)


def _correction(correction: float, room: float) -> Iterator[Block]:
    if correction != 1.0:
        words = (f"The templates and sections are drawn {correction:.4f} times as large, bars too, for a printer whose "
                 f"100 mm bar measured {100.0 / correction:.1f} mm: printed there they come out true.")  # fmt: skip
        yield from paragraph(words, room, size=9.5, indent=17.0, head="printer")
        yield gap(2.0)


def _sorted(papers: Papers, shop: Shop, wide: float) -> tuple[list[_Line], list[_Line]]:
    """Rows that fit a column under their titles, and those that need the whole width, under theirs."""
    narrow: list[_Line] = []
    long: list[_Line] = []
    for section in check_sections(papers.check, shop):
        narrow += [_Line("", None), _Line(section.title, None)]
        for row in section.rows:
            (narrow if _fits(row, wide) else long).append(_Line(section.title, row))
    return narrow, long


def _point(row: Row, wide: float) -> float:
    """Where in a column a row's shown words start [mm]: figures stand with their points in line."""
    whole = _WHOLE.match(row.shown)
    at = 0.56 * wide
    return at + 9.0 - width_of(whole[0]) if whole and not isinstance(row.value, str) else at


def _fits(row: Row, wide: float) -> bool:
    start = _point(row, wide)
    label = width_of(row.label.strip()) + (_INDENT if row.label.startswith(" ") else 0.0)
    return label + 1.5 <= start and start + width_of(row.shown) <= wide


def _figure_pages(lines: Sequence[_Line], wide: float, first_room: float, room: float) -> list[list[Block]]:
    """The rows in two columns, down the left one, then the right; the last sheet's columns end level."""
    pages: list[list[Block]] = []
    rest = list(lines)
    while rest or not pages:
        fits = max(int(((room if pages else first_room) - 4.0) / _PITCH), 1)
        each = min(fits, (len(rest) + 2) // 2)
        left, rest = _column(rest, each)
        right, rest = _column(rest, each if len(rest) > 2 * fits else min(fits, len(rest)))
        pages.append([_pair(left[place] if place < len(left) else None, right[place] if place < len(right) else None,
                            wide) for place in range(max(len(left), len(right)))])  # fmt: skip
    return pages


def _column(lines: list[_Line], count: int) -> tuple[list[_Line], list[_Line]]:
    """The first `count` lines and the rest.

    No column begins with a blank line or in mid-pocket, none ends with a title.
    """
    while lines and lines[0].is_blank:
        lines = lines[1:]
    taken = count
    while 0 < taken < len(lines) and (lines[taken - 1].row is None or _belongs_to_one_before(lines[taken])):
        taken -= 1
    taken = taken or count  # nowhere to part it
    return lines[:taken], lines[taken:]


def _belongs_to_one_before(line: _Line) -> bool:
    return line.row is not None and line.row.label.startswith(" ")


def _pair(left: _Line | None, right: _Line | None, wide: float) -> Block:
    def draw(pen: Pen, x: float, top: float) -> None:
        for line, start in ((left, x), (right, x + wide + _APART)):
            if line is not None:
                _figure(pen, line, start, top - 0.76 * _PITCH, wide)

    return Block(_PITCH, draw)


def _figure(pen: Pen, line: _Line, x: float, y: float, wide: float) -> None:
    row = line.row
    if line.is_blank:
        return
    if row is None:
        pen.words(x, y, line.title, size=9.0, bold=True)
        pen.line(Line.THIN, [(x, y - 0.9), (x + wide, y - 0.9)])
        return
    pen.words(x + (_INDENT if row.label.startswith(" ") else 0.0), y, row.label.strip())
    pen.words(x + _point(row, wide), y, row.shown)


def _long_row(line: _Line, room: float) -> list[Block]:
    """A row in words: its title and label stand out, its words run on under them."""
    if line.row is None:
        return []
    label = f"{line.title}: {line.row.label.strip()}"
    return [*paragraph(label, room, size=8.0, bold=True), *paragraph(line.row.shown, room, size=8.0, indent=_INDENT)]
