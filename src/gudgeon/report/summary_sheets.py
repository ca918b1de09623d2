"""The first sheets: the answer in a sentence, what is wrong, worst first, then every row as the terminal shows it."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from gudgeon.answers.papers import Papers
from gudgeon.report.check_rows import check_sections, headline
from gudgeon.report.flowing import Block, draw_blocks, gap, paged, paragraph
from gudgeon.report.paper import Frame, Pen, Sheet, width_of, wrapped
from gudgeon.report.rows import Row, Shop
from gudgeon.report.sentences import SIGNS, said
from gudgeon.report.strokes import Line
from gudgeon.report.title_block import HEIGHT

SIDE = 3.0  # mm between frame and words
_PITCH = 3.9
_APART = 8.0  # mm between the two columns
_WHOLE = re.compile(r"-?\d+")
_INDENT = 2.5
_TOGETHER = 6  # lines of one section that stay together at the end of a column and at the head of the next
SMALL_PRINT = (
    "± holds about 19 times in 20. What has one is computed and holds within it, but rates, speeds and trade words are "
    "estimates: right within a third, until a timed drop is entered."
)


@dataclass(frozen=True)
class _Line:
    """A title, or a line of the figures under it.

    title  : of its section
    label  : at the left end
    shown  : words at `at` [mm]
    goes_on: whether it belongs to the line before it: a pocket's depth, words that run on
    """

    title: str
    label: str = ""
    shown: str = ""
    at: float = 0.0
    goes_on: bool = False
    is_title: bool = False

    @property
    def is_blank(self) -> bool:
        """The space before a title."""
        return not self.title


def summary_sheets(papers: Papers, frame: Frame, shop: Shop, correction: float) -> tuple[Sheet, ...]:
    """As many sheets as the rows take."""
    room, tall = frame.width - 2.0 * SIDE, frame.height - HEIGHT - 2.0 * SIDE
    head = [*_head(papers, shop, room), *_correction(correction, room)]
    wide = 0.5 * (room - _APART)
    pages = _figure_pages(_lines(papers, shop, wide), wide, tall - sum(block.height for block in head), tall)
    blocks = [*head, *pages[0]]
    used = sum(block.height for block in (blocks if len(pages) == 1 else pages[-1]))
    ends = paged([gap(2.0), *paragraph(SMALL_PRINT, room)], tall - used, tall)
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


def _lines(papers: Papers, shop: Shop, wide: float) -> list[_Line]:
    """Every row under its title, in as many lines of a column as it takes."""
    found: list[_Line] = []
    for section in check_sections(papers.check, shop):
        found += [_Line(""), _Line(section.title, section.title, is_title=True)]
        for row in section.rows:
            found += _row_lines(section.title, row, wide)
    return found


def _row_lines(title: str, row: Row, wide: float) -> Iterator[_Line]:
    """A row beside its label; words that have no room there run on under it."""
    inner = row.label.startswith(" ")
    indent = _INDENT if inner else 0.0
    start, taken = _point(row, wide), indent + width_of(row.label.strip()) + 1.5
    if taken <= start and start + width_of(row.shown) <= wide:
        yield _Line(title, row.label, row.shown, start, goes_on=inner)
        return
    beside = max(taken, wide - width_of(row.shown))
    if beside + width_of(row.shown) <= wide + 0.01:
        yield _Line(title, row.label, row.shown, beside, goes_on=inner)
        return
    for place, label in enumerate(wrapped(row.label.strip(), wide - indent)):
        yield _Line(title, f"{' ' if inner else ''}{label}", goes_on=inner or place > 0)
    for words in wrapped(row.shown, wide - indent - _INDENT):
        yield _Line(title, "", words, indent + _INDENT, goes_on=True)


def _point(row: Row, wide: float) -> float:
    """Where in a column a row's shown words start [mm]: figures with their points in line, words under the figures."""
    whole = _WHOLE.match(row.shown)
    return 0.56 * wide + 9.0 - width_of(whole[0] if whole else "00")


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
    """The first lines, about `count` and no more, and the rest, under its title again where that is parted.

    No column begins with a blank line or in mid-pocket, none ends with a title or a line or two under one.
    """
    while lines and lines[0].is_blank:
        lines = lines[1:]
    ends = (taken for taken in range(min(count, len(lines)), 0, -1) if _may_end(lines, taken))
    taken = next(ends, min(count, len(lines)))  # nowhere to part it
    rest = lines[taken:]
    if rest and taken and not rest[0].is_blank:
        rest = [_Line(rest[0].title, f"{rest[0].title}, continued", is_title=True), *rest]
    return lines[:taken], rest


def _may_end(lines: list[_Line], taken: int) -> bool:
    """Whether a column may end after so many lines."""
    if taken == len(lines) or lines[taken].is_blank:
        return True
    title = lines[taken].title
    before = sum(line.title == title for line in lines[:taken])
    after = sum(line.title == title for line in lines[taken:])
    return not lines[taken].goes_on and before >= _TOGETHER and after >= _TOGETHER


def _pair(left: _Line | None, right: _Line | None, wide: float) -> Block:
    def draw(pen: Pen, x: float, top: float) -> None:
        for line, start in ((left, x), (right, x + wide + _APART)):
            if line is not None:
                _figure(pen, line, start, top - 0.76 * _PITCH, wide)

    return Block(_PITCH, draw)


def _figure(pen: Pen, line: _Line, x: float, y: float, wide: float) -> None:
    if line.is_title:
        pen.words(x, y, line.label, size=9.0, bold=True)
        pen.line(Line.THIN, [(x, y - 0.9), (x + wide, y - 0.9)])
        return
    if line.label:
        pen.words(x + (_INDENT if line.label.startswith(" ") else 0.0), y, line.label.strip())
    if line.shown:
        pen.words(x + line.at, y, line.shown)
