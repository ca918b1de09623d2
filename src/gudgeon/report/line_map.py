"""How much line lies under a patch of a drawing, for many patches at once: so words go where they wipe out little."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from gudgeon.report.strokes import Array, Line, Stroke

_CELL = 0.5  # mm
_CENTRE = 0.3  # of a centre line counts: it is understood where words lie on it


@dataclass(frozen=True, eq=False)
class LineMap:
    """Lines of a drawing, by cells.

    corner : (2,) [mm] of the lowest cell
    sums   : (n, m) [mm] of line in all cells lower and further left
    """

    corner: Array
    sums: Array

    def under(self, boxes: Array) -> Array:
        """Length of line [mm] under each box (k, 4) [mm]; centre lines count for little."""
        cells = np.round((boxes.reshape(-1, 2, 2) - self.corner) / _CELL).astype(int)
        (left, bottom), (right, top) = np.moveaxis(np.clip(cells, 0, np.array(self.sums.shape) - 1), 0, -1)
        sums = self.sums
        found: Array = sums[right, top] - sums[left, top] - sums[right, bottom] + sums[left, bottom]
        return found


def line_map(strokes: Iterable[Stroke]) -> LineMap:
    """Where the lines of a drawing lie; at least one stroke."""
    points, lengths = zip(*(_sampled(stroke) for stroke in strokes), strict=True)
    every = np.concatenate(points)
    corner = every.min(axis=0) - _CELL
    cells = ((every - corner) / _CELL).astype(int)
    counts = np.zeros(cells.max(axis=0) + 3)
    np.add.at(counts, (cells[:, 0] + 1, cells[:, 1] + 1), np.concatenate(lengths))
    return LineMap(corner, counts.cumsum(axis=0).cumsum(axis=1))


def _sampled(stroke: Stroke) -> tuple[Array, Array]:
    """Points along a stroke (k, 2) [mm], and how much of it each stands for (k,) [mm]."""
    ends = np.concatenate([stroke.points, stroke.points[:1]]) if stroke.closed else stroke.points
    along = np.concatenate([[0.0], np.hypot(*np.diff(ends, axis=0).T).cumsum()])
    count = max(int(2.0 * along[-1] / _CELL), 1)
    at = (np.arange(count) + 0.5) * along[-1] / count
    points = np.column_stack([np.interp(at, along, ends[:, axis]) for axis in (0, 1)])
    weight = _CENTRE if stroke.line is Line.CENTRE else 1.0
    return points, np.full(count, weight * along[-1] / count)
