"""What every sheet carries: the frame (ISO 5457), the title block (after ISO 7200), and the bars to measure first."""

import datetime
import math
from dataclasses import dataclass

from gudgeon.report.paper import Frame, Pen, width_of, wrapped
from gudgeon.report.rows import Shop
from gudgeon.report.strokes import Line
from gudgeon.units import INCH

HEIGHT = 22.0  # mm of title block and bars
_BARS = 122.0  # mm of the frame's width that the bars may take, printer's correction included
_HALF = 0.5 * HEIGHT


@dataclass(frozen=True)
class Imprint:
    """What the title blocks of one set of papers say.

    stamp      : of the design file
    correction : how much larger all is drawn, for a printer that shrinks
    """

    name: str
    stamp: str
    shop: Shop
    date: datetime.date
    correction: float


def frame_and_title(
    pen: Pen, frame: Frame, imprint: Imprint, title: str, *, number: tuple[int, int], bars: bool, scale: str = "-"
) -> None:
    """The frame and what stands along its foot.

    number : this sheet, of how many
    bars   : whether the sheet is at true scale
    scale  : what is told where it is not
    """
    pen.box(Line.VISIBLE, (frame.left, frame.bottom, frame.right, frame.top))
    left = frame.left + _BARS if bars else frame.left
    _title_block(pen, frame, left, imprint, (title, "1:1" if bars else scale), number)
    if bars:
        _bars(pen, frame.left + 4.0, frame.bottom, imprint.correction)


def _title_block(
    pen: Pen, frame: Frame, left: float, imprint: Imprint, says: tuple[str, str], number: tuple[int, int]
) -> None:
    bottom, right = frame.bottom, frame.right
    pen.box(Line.VISIBLE, (left, bottom, right, bottom + HEIGHT))
    pen.line(Line.THIN, [(left, bottom + _HALF), (right, bottom + _HALF)])
    units = "mm" if imprint.shop is Shop.METRIC else "in"
    cells = (("design", imprint.stamp, 24.0), ("scale", says[1], 14.0), ("units", units, 13.0),
             ("date", imprint.date.isoformat(), 25.0), ("", "", 20.0),
             ("sheet", f"{number[0]} of {number[1]}", 20.0))  # fmt: skip
    middle = left + 0.5 * (right - left)
    _cell(pen, left, bottom + _HALF, "lure", imprint.name, middle - left)
    _cell(pen, middle, bottom + _HALF, "on this sheet", says[0], right - middle)
    pen.line(Line.THIN, [(middle, bottom + _HALF), (middle, bottom + HEIGHT)])
    spare = (right - left - 116.0) / 6.0
    x = left
    for caption, words, wide in cells:
        if x > left:
            pen.line(Line.THIN, [(x, bottom), (x, bottom + _HALF)])
        if caption:
            _cell(pen, x, bottom, caption, words, wide + spare)
        else:
            _first_angle(pen, x + 0.5 * (wide + spare), bottom + 0.5 * _HALF)
        x += wide + spare


def _cell(pen: Pen, x: float, bottom: float, caption: str, words: str, room: float) -> None:
    pen.words(x + 1.5, bottom + 7.4, caption)
    size = 11.0
    while size > 8.0 and width_of(words, size, bold=True) > room - 3.0:
        size -= 0.5
    fitting = words if width_of(words, size, bold=True) <= room - 3.0 else _shortened(words, room - 3.0)
    pen.words(x + 1.5, bottom + 2.2, fitting, size=size, bold=True)


def _shortened(words: str, room: float) -> str:
    first = wrapped(words, room - width_of("...", bold=True), bold=True)[0]
    return f"{first}..."


def _first_angle(pen: Pen, x: float, y: float) -> None:
    """The mark of first-angle projection: a cone's frustum from the side, and from its small end on the right."""
    pen.line(Line.THIN, [(x - 7.0, y - 1.5), (x - 1.0, y - 3.0), (x - 1.0, y + 3.0), (x - 7.0, y + 1.5)], closed=True)
    for radius in (1.5, 3.0):
        ring = _ring(x + 4.5, y, radius)
        pen.line(Line.THIN, ring, closed=True)
    pen.line(Line.THIN, [(x - 8.0, y), (x + 8.3, y)])
    pen.line(Line.THIN, [(x + 4.5, y - 4.0), (x + 4.5, y + 4.0)])


def _ring(x: float, y: float, radius: float) -> list[tuple[float, float]]:
    turns = [turn * math.pi / 18.0 for turn in range(36)]
    return [(x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns]


def _bars(pen: Pen, left: float, bottom: float, correction: float) -> None:
    """100 mm and 4 in to lay a rule on, and what to do when they are not."""
    pen.words(left, bottom + 18.0, "Measure this first.", bold=True, size=10.0)
    after = left + width_of("Measure this first.", 10.0, bold=True) + 2.0
    pen.words(after, bottom + 18.0, _what_to_do(correction))
    _bar(pen, (left, bottom + 10.5), [10.0 * correction] * 10, "100 mm")
    _bar(pen, (left, bottom + 3.0), [1e3 * INCH * correction] * 4, "4 in")


def _what_to_do(correction: float) -> str:
    if correction == 1.0:
        return "If a bar is off, stop: print again, told with --bar what it measures."
    return f"Drawn {correction:.4f} times as large: its bar measured {100.0 / correction:.1f} mm."


def _bar(pen: Pen, start: tuple[float, float], steps: list[float], words: str) -> None:
    x, y = start
    pen.line(Line.VISIBLE, [(x, y), (x + sum(steps), y)])
    ends = [sum(steps[:count]) for count in range(len(steps) + 1)]
    for place, along in enumerate(ends):
        tall = 3.2 if place in (0, len(steps)) else 1.6
        pen.line(Line.THIN, [(x + along, y), (x + along, y + tall)])
    pen.words(x + 0.5 * sum(steps), y + 1.9, words, side="middle", bold=True)
