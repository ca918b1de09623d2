"""Views stacked one under the other with their notes between, in columns as wide as a sheet: where everything goes."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from gudgeon.report.labels import Flag, extent, flags
from gudgeon.report.strokes import Drawing, Note
from gudgeon.report.tiling import OVERLAP, Span, spans

_CLEAR = 2.5  # mm between a view and its nearest note
_BETWEEN = 5.0  # mm between one view's notes and the next view's
_SIDE = 5.0  # mm beside the drawing
JOIN_MARGIN = 9.0  # mm over and under it, for the marks that sheets are joined by
DIMENSIONS = 11.0  # mm under it, for the overall lengths


@dataclass(frozen=True, eq=False)
class Placed:
    """A view in a stack.

    lift  : [mm] from the view's own zero line up from the stack's foot
    flags : per column
    """

    drawing: Drawing
    lift: float
    flags: tuple[tuple[Flag, ...], ...]


@dataclass(frozen=True, eq=False)
class Stack:
    """Views over one another, in the millimetres of the lure along, and from the foot of the stack up.

    columns    : what each sheet's width shows
    height     : [mm] of it all
    dimensions : [mm] height of the line of the overall lengths
    """

    views: tuple[Placed, ...]
    columns: tuple[Span, ...]
    height: float
    dimensions: float


def stacked(drawings: Sequence[Drawing], room: float, width_of: Callable[[Note], float]) -> Stack:
    """The drawings from the top down.

    room : [mm] of the drawing that fits across a sheet
    """
    boxes = [drawing.box for drawing in drawings]
    columns = spans(min(box[0] for box in boxes) - _SIDE, max(box[2] for box in boxes) + _SIDE, room)
    margin = JOIN_MARGIN
    foot = margin + DIMENSIONS
    placed: list[Placed] = []
    for drawing, box in reversed(list(zip(drawings, boxes, strict=True))):
        under = [_in_column(drawing.below, columns, place, box[1] - _CLEAR, up=False, width_of=width_of)
                 for place in range(len(columns))]  # fmt: skip
        over = [_in_column(drawing.above, columns, place, box[3] + _CLEAR, up=True, width_of=width_of)
                for place in range(len(columns))]  # fmt: skip
        lift = foot + max(extent(one, box[1] - _CLEAR) for one in under) + _CLEAR - box[1]
        placed.append(Placed(drawing, lift, tuple((*a, *b) for a, b in zip(under, over, strict=True))))
        foot = lift + box[3] + _CLEAR + max(extent(one, box[3] + _CLEAR) for one in over) + _BETWEEN
    return Stack(tuple(placed[::-1]), columns, foot - _BETWEEN + margin, margin + 2.0)


def _in_column(
    notes: Sequence[Note], columns: tuple[Span, ...], place: int, edge: float, *, up: bool,
    width_of: Callable[[Note], float],
) -> tuple[Flag, ...]:  # fmt: skip
    """The notes that start between a column's join lines, placed inside it."""
    half = 0.5 * OVERLAP
    first, last = place == 0, place == len(columns) - 1
    low = -math.inf if first else columns[place].start + half
    high = math.inf if last else columns[place].stop - half
    own = [note for note in notes if low <= note.at[0] < high]
    inside = (columns[place].start + 1.0, columns[place].stop - 1.0)
    return flags(own, inside, edge, up=up, width_of=width_of)
