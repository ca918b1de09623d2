"""Rows on paper: a title, then each row's label and figure side by side, long ones run on in their own columns."""

from collections.abc import Iterator
from functools import partial
from itertools import zip_longest

from gudgeon.report.flowing import Block, gap, heading
from gudgeon.report.paper import Pen, wrapped
from gudgeon.report.rows import Row, Section

_INDENT = 2.5  # mm; a row that belongs to the one before it


def section_blocks(section: Section, room: float, label: float) -> Iterator[Block]:
    """A section as blocks; label : [mm] of its labels' column."""
    yield gap(2.0)
    yield heading(section.title, room)
    for row, after in zip_longest(section.rows, section.rows[1:]):
        belongs = after is not None and after.label.startswith(" ")
        yield from row_blocks(row, room, label, keeps=belongs)


def row_blocks(row: Row, room: float, label: float, *, keeps: bool = False) -> Iterator[Block]:
    """One row, in as many lines as it needs; keeps : it stays with the one that follows."""
    indent = _INDENT if row.label.startswith(" ") else 0.0
    labels, shown = wrapped(row.label, label - indent - 3.0, 9.0), wrapped(row.shown, room - label, 9.0)
    deep = max(len(labels), len(shown))
    for place in range(deep):
        words = tuple(lines[place] if place < len(lines) else "" for lines in (labels, shown))
        yield Block(4.2, partial(_draw_row, words, indent, label), keeps=keeps or place < deep - 1)


def _draw_row(words: tuple[str, ...], indent: float, label: float, pen: Pen, left: float, top: float) -> None:
    for at, line in zip((indent, label), words, strict=True):
        pen.words(left + at, top - 3.3, line, size=9.0)
