"""How a lure tows, on paper: beat and sweep against speed, one beat drawn from above and from the side, every row."""

import datetime
from collections.abc import Iterator, Sequence
from functools import partial

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.one_beat import BeatDrawn, one_beat
from gudgeon.answers.swim_trust import TRUST
from gudgeon.answers.swum import AtSpeed
from gudgeon.answers.tow_test import TowTest
from gudgeon.physics.spread import Estimate
from gudgeon.report.flowing import Block, draw_blocks, gap, heading, paged, paragraph
from gudgeon.report.paper import PaperName, Pen, Sheet, bound, frame_of
from gudgeon.report.plots import Plot, Point, draw_plot
from gudgeon.report.row_blocks import section_blocks
from gudgeon.report.rows import Section, Shop, tow_speed
from gudgeon.report.sentences import SIGNS, said
from gudgeon.report.strokes import Line
from gudgeon.report.swim_rows import SMALL_PRINT, swim_headline
from gudgeon.report.swim_text import tow_sections
from gudgeon.report.title_block import HEIGHT, Imprint, frame_and_title
from gudgeon.units import INCH

Array = NDArray[np.float64]

_SIDE, _PLOT_TALL, _ACROSS = 3.0, 62.0, 4
_LABEL, _NARROW, _APART = 72.0, 29.0, 5.0  # mm of a row's label, of one in half a sheet, between the halves


def swim_sheets(found: TowTest, *, stamp: str, shop: Shop, paper: PaperName, date: datetime.date) -> bytes:
    """The PDF."""
    frame = frame_of(paper, lying=False)
    room, tall = frame.width - 2.0 * _SIDE, frame.height - HEIGHT - 2.0 * _SIDE
    pages = paged(list(_blocks(found, shop, room)), tall, tall)
    imprint = Imprint(found.swimming.design.name, stamp, shop, date, 1.0)
    titles = ["Towed" if place == 0 else "Towed, continued" for place in range(len(pages))]

    def draw(page: Sequence[Block], number: int, pen: Pen) -> None:
        draw_blocks(page, frame.left + _SIDE, frame.top - _SIDE, pen)
        frame_and_title(pen, frame, imprint, titles[number], number=(number + 1, len(pages)), bars=False)

    sheets = [Sheet(titles[number], False, partial(draw, page, number)) for number, page in enumerate(pages)]
    return bound(sheets, paper, title=f"{found.swimming.design.name}, towed, {stamp}")


def _blocks(found: TowTest, shop: Shop, room: float) -> Iterator[Block]:
    swum = found.swimming
    yield from paragraph(swim_headline(swum, shop), room, size=14.0, bold=True)
    yield gap(2.5)
    for finding in swum.findings:
        sign, word = SIGNS[finding.gravity]
        yield from paragraph(said(finding, shop), room, size=9.5, indent=17.0, head=f"{sign} {word}")
        yield gap(0.8)
    plots = [plot for plot in _plots(swum.speeds, shop) if len(plot.points) > 1]
    if plots:
        yield gap(2.0)
        yield _plot_row(plots, room)
    beat = one_beat(swum.shown)
    yield gap(2.0)
    yield heading(f"{_beat_title(beat, swum.nearest(beat.speed))} at {tow_speed(beat.speed, shop)}", room)
    yield from _strip(beat, room)
    limits, *rest = tow_sections(found, shop)
    yield from section_blocks(limits, room, _LABEL)
    yield from _side_by_side(rest[: len(swum.speeds)], room)
    for section in rest[len(swum.speeds) :]:
        yield from section_blocks(section, room, _LABEL)
    yield gap(2.0)
    yield from paragraph(SMALL_PRINT, room)


def _beat_title(beat: BeatDrawn, at: AtSpeed) -> str:
    what = "One beat" if at.beat is not None else "A stretch"
    return f"{what} of {beat.period:.2f} s in {len(beat.frames)} moments, towed to the left,"


def _plots(speeds: Sequence[AtSpeed], shop: Shop) -> Iterator[Plot]:
    length, unit = (1e3, "mm") if shop is Shop.METRIC else (1.0 / INCH, "in")
    yield Plot(f"beats a second ({TRUST['beat'].standing})", "speed, m/s",
               _points(speeds, [one.beat for one in speeds], 1.0))  # fmt: skip
    yield Plot(f"tail, side to side, {unit} ({TRUST['sweep'].standing})", "speed, m/s",
               _points(speeds, [one.tail_sweep for one in speeds], length))  # fmt: skip


def _points(speeds: Sequence[AtSpeed], values: Sequence[Estimate | None], times: float) -> tuple[Point, ...]:
    return tuple(
        Point(one.speed, times * value.value, times * value.low, times * value.high)
        for one, value in zip(speeds, values, strict=True)
        if value is not None
    )


def _plot_row(plots: Sequence[Plot], room: float) -> Block:
    wide = room / 2.0

    def draw(pen: Pen, left: float, top: float) -> None:
        for place, plot in enumerate(plots):
            draw_plot(pen, plot, (left + place * wide, top - _PLOT_TALL), (wide - 4.0, _PLOT_TALL))

    return Block(_PLOT_TALL, draw)


def _strip(beat: BeatDrawn, room: float) -> Iterator[Block]:
    """Moments in rows of four: from above, then from the side, all at one scale."""
    wide = room / _ACROSS
    for view, words in ((0, "from above"), (1, "from the side")):
        drawn = [[_on_paper(piece[view], view) for piece in frame] for frame in beat.frames]
        points = np.concatenate([piece for frame in drawn for piece in frame])
        low, high = points.min(axis=0), points.max(axis=0)
        scale = _scale(beat, wide)
        tall = float(high[1] - low[1]) * scale + 5.0
        yield from paragraph(words, room, size=8.0)
        for start in range(0, len(drawn), _ACROSS):
            yield Block(tall, partial(_draw_frames, drawn[start : start + _ACROSS], (low, scale, wide, tall)))


def _scale(beat: BeatDrawn, wide: float) -> float:
    """Millimetres of paper for a metre of lure, the same in both views."""
    ends = np.concatenate([piece[view][:, 0] for frame in beat.frames for piece in frame for view in (0, 1)])
    return (wide - 6.0) / float(np.ptp(ends))


def _on_paper(points: Array, view: int) -> Array:
    """Nose left, starboard or the back up."""
    return np.stack([-points[:, 0], points[:, 1] if view == 0 else -points[:, 1]], axis=1)


def _draw_frames(
    frames: Sequence[Sequence[Array]], at: tuple[Array, float, float, float], pen: Pen, left: float, top: float
) -> None:
    low, scale, wide, tall = at
    for place, frame in enumerate(frames):
        corner = np.array([left + place * wide + 2.0, top - tall + 2.5])
        for piece in frame:
            pen.line(Line.THIN, [(float(x), float(y)) for x, y in corner + (piece - low) * scale], closed=True)


def _side_by_side(sections: Sequence[Section], room: float) -> Iterator[Block]:
    """Two to a row, each in its half."""
    half = 0.5 * (room - _APART)
    for start in range(0, len(sections), 2):
        pair = [list(section_blocks(section, half, _NARROW)) for section in sections[start : start + 2]]
        deep = max(len(blocks) for blocks in pair)
        for place in range(deep):
            row = [blocks[place] if place < len(blocks) else gap(0.0) for blocks in pair]
            yield Block(max(block.height for block in row), partial(_draw_beside, row, half + _APART),
                        keeps=place < deep - 1)  # fmt: skip


def _draw_beside(row: Sequence[Block], across: float, pen: Pen, left: float, top: float) -> None:
    for place, block in enumerate(row):
        block.draw(pen, left + place * across, top)
