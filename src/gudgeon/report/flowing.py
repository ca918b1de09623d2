"""Words and tables that run down one sheet and on to the next: blocks of known height, and pages of them."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal

from gudgeon.report.paper import TEXT, Pen, wrapped
from gudgeon.report.strokes import Line

LEADING = 4.2  # mm from one line of words to the next
_BOX = 3.2  # mm, a box to tick
_WRITE_ON = (24.0, 34.0)  # mm, lines to write on, from the right end: a date, a weight


@dataclass(frozen=True)
class Block:
    """Something that is never parted between two sheets.

    height : [mm]
    draw   : puts it there, from the left end [mm] and the top [mm] down
    keeps  : whether it goes on the same sheet as what follows
    """

    height: float
    draw: Callable[[Pen, float, float], None]
    keeps: bool = False


@dataclass(frozen=True)
class Column:
    """A table's column.

    head  : a line each
    width : [mm]
    side  : where its words stand
    """

    head: tuple[str, ...]
    width: float
    side: Literal["left", "right"] = "right"


def gap(height: float) -> Block:
    """Nothing."""
    return Block(height, _nothing)


def _nothing(_pen: Pen, _left: float, _top: float) -> None:
    pass


def heading(words: str, room: float) -> Block:
    """A title over what follows, ruled off."""

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.words(left, top - 5.5, words, size=12.0, bold=True)
        pen.line(Line.THIN, [(left, top - 7.1), (left + room, top - 7.1)])

    return Block(8.8, draw, keeps=True)


def paragraph(
    words: str, room: float, *, size: float = 9.0, bold: bool = False, indent: float = 0.0, head: str = ""
) -> list[Block]:
    """Words in lines; `head` stands out at its left, in the indent."""
    leading = LEADING * size / 9.0
    lines = wrapped(words, room - indent, size, bold=bold)

    def draw(line: str, first: bool, pen: Pen, left: float, top: float) -> None:
        if first and head:
            pen.words(left, top - 0.75 * leading, head, size=size, bold=True)
        pen.words(left + indent, top - 0.75 * leading, line, size=size, bold=bold)

    return [Block(leading, partial(draw, line, place == 0), keeps=place < len(lines) - 1)
            for place, line in enumerate(lines)]  # fmt: skip


def task(words: str, room: float, number: str = "") -> list[Block]:
    """A thing to do, with a box to tick."""
    indent = 14.0 if number else 7.0

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.box(Line.THIN, (left + 0.4, top - 3.6, left + 0.4 + _BOX, top - 3.6 + _BOX))
        if number:
            pen.words(left + 6.5, top - 3.3, number, size=10.0, bold=True)

    lines = [Block(block.height, block.draw, keeps=True) for block in paragraph(words, room, size=10.0, indent=indent)]
    first = lines[0]

    def with_box(pen: Pen, left: float, top: float) -> None:
        draw(pen, left, top)
        first.draw(pen, left, top)

    return [Block(first.height, with_box, keeps=len(lines) > 1), *lines[1:], gap(1.6)]


def table(columns: Sequence[Column], rows: Sequence[Sequence[str]], *, size: float = 9.0) -> list[Block]:
    """Rows under heads; a rule under the heads alone. Words too wide for a column run on in the next line."""
    return [_heads(columns), *(_table_row(columns, cells, size) for cells in rows)]


def _heads(columns: Sequence[Column]) -> Block:
    deep = max(len(column.head) for column in columns)

    def draw(pen: Pen, left: float, top: float) -> None:
        x = left
        for column in columns:
            for place, words in enumerate(reversed(column.head)):
                _in_column(pen, column, x, top - 3.4 * (deep - place) + 0.8, words, TEXT, bold=True)
            x += column.width
        pen.line(Line.THIN, [(left, top - 3.4 * deep - 0.6), (x, top - 3.4 * deep - 0.6)])

    return Block(3.4 * deep + 1.6, draw, keeps=True)


def _table_row(columns: Sequence[Column], cells: Sequence[str], size: float) -> Block:
    leading = LEADING * size / 9.0
    lines = [wrapped(words, column.width - 3.0, size) if words else ("",)
             for column, words in zip(columns, cells, strict=True)]  # fmt: skip
    height = leading * max(len(cell) for cell in lines) + 0.9

    def draw(pen: Pen, left: float, top: float) -> None:
        x = left
        for column, cell in zip(columns, lines, strict=True):
            for place, words in enumerate(cell):
                _in_column(pen, column, x, top - leading * (place + 1) + 0.7, words, size)
            x += column.width

    return Block(height, draw)


def _in_column(pen: Pen, column: Column, x: float, y: float, words: str, size: float, *, bold: bool = False) -> None:
    at = x if column.side == "left" else x + column.width - 3.0
    pen.words(at, y, words, size=size, bold=bold, side=column.side)


def blanks(words: str, room: float, *, indent: float = 0.0, expected: str = "", is_bold: bool = False) -> Block:
    """A line to fill in: what it is, what is expected, and lines to write on."""

    def draw(pen: Pen, left: float, top: float) -> None:
        foot = top - 5.2
        pen.words(left + indent, foot, words, size=9.0, bold=is_bold)
        x = left + room
        for long in _WRITE_ON:
            pen.line(Line.THIN, [(x - long, foot - 0.8), (x, foot - 0.8)])
            x -= long + 4.0
        if expected:
            pen.words(x - 4.0, foot, expected, size=9.0, bold=is_bold, side="right")

    return Block(6.6, draw)


def paged(blocks: Sequence[Block], first_room: float, room: float) -> list[list[Block]]:
    """Blocks on sheets: `first_room` [mm] on the first, `room` on the others."""
    pages: list[list[Block]] = [[]]
    left = first_room
    for place, block in enumerate(blocks):
        if pages[-1] and _needed(blocks, place) > left:
            pages.append([])
            left = room
        pages[-1].append(block)
        left -= block.height
    return pages


def _needed(blocks: Sequence[Block], place: int) -> float:
    """Height of a block and all it must stay with."""
    height = blocks[place].height
    while blocks[place].keeps and place + 1 < len(blocks):
        place += 1
        height += blocks[place].height
    return height


def draw_blocks(blocks: Sequence[Block], left: float, top: float, pen: Pen) -> None:
    """One sheet's blocks, from the top down."""
    for block in blocks:
        block.draw(pen, left, top)
        top -= block.height

