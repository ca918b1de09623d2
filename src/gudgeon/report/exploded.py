"""The lure drawn apart from its left side, every part with its number in the bill, and the list of them under it."""

from collections.abc import Iterator, Sequence
from functools import partial

import numpy as np

from gudgeon.answers.exploding import Apart, Exploded, exploded
from gudgeon.answers.papers import Papers
from gudgeon.answers.part_list import PartEntry
from gudgeon.report.balloons import BAND, Called, band, draw_balloon, room_for, shared_out, thinned
from gudgeon.report.bench_sheets import shown
from gudgeon.report.bill_rows import count_words
from gudgeon.report.flowing import Block, Column, draw_blocks, gap, heading, paged, paragraph, table
from gudgeon.report.paper import Frame, Pen, Sheet
from gudgeon.report.rows import Measure, Shop
from gudgeon.report.strokes import Array, Line, Point, Stroke, path
from gudgeon.report.summary_sheets import SIDE
from gudgeon.report.title_block import HEIGHT
from gudgeon.report.untangling import untangled

EXPLODED = "Drawn apart"
_SCALES = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 20.0, 50.0)  # ISO 5455, and what it lets stand between
_TALLEST = 150.0  # mm of paper for the drawing without its balloons
_OVER_DRAWING = 20.0  # mm of its heading and the words under that
_SMALLER = 4  # scales that are tried
_SHORTEST = 5e-4  # m of a line home that is drawn


def exploded_sheets(papers: Papers, frame: Frame, shop: Shop) -> tuple[Sheet, ...]:
    """The drawing over its list, which runs on where it is long."""
    answer = exploded(papers)
    room, tall = frame.width - 2.0 * SIDE, frame.height - HEIGHT - 2.0 * SIDE
    listed = [gap(2.0), *_list(answer.entries, room, shop)]
    scale = _scale(answer, room, tall - sum(block.height for block in listed))
    pages = paged([*_drawing(answer, scale, room), *listed], tall, tall)
    return tuple(
        Sheet(EXPLODED if place == 0 else f"{EXPLODED}, continued", False,
              partial(draw_blocks, page, frame.left + SIDE, frame.top - SIDE), f"1:{scale:g}" if place == 0 else "-")
        for place, page in enumerate(pages)
    )  # fmt: skip


def _ends(answer: Exploded) -> tuple[Array, Array]:
    """Lower left and upper right corner of all parts (2,) [mm]."""
    return (1e3 * np.min([part.box[:2] for part in answer.parts], axis=0),
            1e3 * np.max([part.box[2:] for part in answer.parts], axis=0))  # fmt: skip


def _drawing(answer: Exploded, scale: float, room: float) -> Iterator[Block]:
    low, high = _ends(answer)
    yield heading(f"Drawn apart, from the left side, {_told(scale)}", room)
    yield from paragraph("Numbers are those of the bill of materials; letters tell the parts of one line of it apart. "
                         "Bare wood; what is pulled out goes home along its line.", room)  # fmt: skip
    tall = (high[1] - low[1]) / scale
    yield Block(tall + 2.0 * BAND, partial(_draw, answer, (low, high), scale, room))


def _told(scale: float) -> str:
    return "full size" if scale == 1.0 else f"scale 1:{scale:g}"


def _scale(answer: Exploded, room: float, over_list: float) -> float:
    """The least reduction that fits; one more where the list then stays on the same sheet, `over_list` [mm] left."""
    low, high = _ends(answer)
    wide, tall = (high - low).tolist()
    fitting = [scale for scale in _SCALES if wide / scale <= room - 2.0 and tall / scale <= _TALLEST] or [_SCALES[-1]]
    heads = 2.0 * BAND + _OVER_DRAWING
    return next((scale for scale in fitting[:_SMALLER] if tall / scale + heads <= over_list), fitting[0])


def _draw(
    answer: Exploded, ends: tuple[Array, Array], scale: float, room: float, pen: Pen, left: float, top: float
) -> None:
    (low, high), tall = ends, (ends[1][1] - ends[0][1]) / scale
    corner = np.array([left + 0.5 * (room - (high[0] - low[0]) / scale), top - BAND - tall])

    def placed(points: Array) -> Array:
        return np.asarray((1e3 * points - low) / scale + corner)

    def point(at: Point) -> Point:
        x, y = placed(np.array(at)).tolist()
        return x, y

    for part in answer.parts:
        for stroke in _strokes(part):
            pen.line(stroke.line, placed(stroke.points), closed=stroke.closed)
    called = [Called(point(part.shape.at), part.mark) for part in answer.parts]
    called += [Called(point(at), mark) for mark, at in answer.laid_on]
    called = thinned(called, 2 * room_for(room))
    over, under = shared_out(called, point((0.0, 0.0))[1], room)
    foot = float(corner[1])
    outlines = {point(part.shape.at): [placed(stroke.points) for stroke in _outline(part)]
                for part in answer.parts if part.shape.pull is not None}  # fmt: skip
    wood = [placed(stroke.points) for part in answer.parts if part.shape.pull is None for stroke in _outline(part)]
    for some in (band(over, foot + tall, (left, left + room), up=True),
                 band(under, foot, (left, left + room), up=False)):  # fmt: skip
        for balloon in untangled(some, outlines, wood):
            draw_balloon(pen, balloon)


def _outline(part: Apart) -> Iterator[Stroke]:
    """Its outlines, wood with wide lines."""
    line = Line.VISIBLE if part.shape.pull is None else Line.THIN
    yield from (path(line, ring, closed=True) for ring in part.shape.rings)
    yield from (path(line, points) for points in part.shape.lines)


def _strokes(part: Apart) -> Iterator[Stroke]:
    """Its outlines, and the line along which it goes home."""
    shape = part.shape
    yield from _outline(part)
    if shape.pull is not None:
        way, home = np.array(shape.pull), np.array(part.home)
        near = float(((shape.points - home) @ way).min())
        if near > _SHORTEST:
            yield path(Line.CENTRE, np.array([home, home + near * way]))


def _list(entries: Sequence[PartEntry], room: float, shop: Shop) -> Iterator[Block]:
    columns = [Column(("number",), 16.0, "left"), Column(("part",), room - 116.0, "left"),
               Column(("of",), 48.0, "left"), Column(("weighs",), 30.0), Column(("count",), 22.0)]  # fmt: skip
    yield from table(columns, [_cells(entry, shop) for entry in entries])
    yield gap(2.0)
    yield from paragraph("Weights are of all of that number together; wood before it is bored.", room)


def _cells(entry: PartEntry, shop: Shop) -> list[str]:
    weighs = "with its hook" if entry.mass is None else shown(entry.mass, Measure.MASS, shop)
    return [entry.mark, entry.words, entry.material, weighs, count_words(entry.count)]
