"""A lure drawn apart: its pieces in a row, every other part pulled out of where it belongs until it lies clear."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.bill import bill
from gudgeon.answers.harness_items import HARNESS_GLUE
from gudgeon.answers.papers import Papers
from gudgeon.answers.part_list import GLUED, PartEntry, part_list
from gudgeon.answers.part_shapes import PartShape, part_shapes
from gudgeon.answers.work_order import square_stock

Array = NDArray[np.float64]

_APART = 4e-3  # m between pieces, and between a face and what is pulled out of it
_CLEAR = 1.5e-3  # m between two parts
_STEP = 1e-3  # m that a part is pulled on by
_FURTHEST = 600  # steps


@dataclass(frozen=True, eq=False)
class Apart:
    """One part, pulled out.

    shape : where it is drawn
    mark  : its number
    home  : (2,) [m] where it comes out of, with the pieces drawn apart
    """

    shape: PartShape
    mark: str
    home: tuple[float, float]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right, top [m]."""
        (left, bottom), (right, top) = self.shape.points.min(axis=0), self.shape.points.max(axis=0)
        return float(left), float(bottom), float(right), float(top)


@dataclass(frozen=True, eq=False)
class Exploded:
    """The whole lure.

    entries : the list, in the bill's order
    parts   : drawn apart
    laid_on : (mark, (2,) [m] a point where it goes) of what has no shape: coats and sealer on the skin, glue
    """

    entries: tuple[PartEntry, ...]
    parts: tuple[Apart, ...]
    laid_on: tuple[tuple[str, tuple[float, float]], ...]


def exploded(papers: Papers) -> Exploded:
    """The lure of a check, ballast as it is to go in."""
    design, lure = papers.check.design, papers.check.lure
    entries = part_list(design, lure, bill(design, lure, 1, square_stock(papers)))
    marks = {name: entry.mark for entry in entries for name in entry.names}
    shapes = [shape for shape in part_shapes(design, lure) if shape.name in marks]
    shifts = _shifts(shapes, len(lure.segments))
    parts: list[Apart] = []
    for shape in shapes:
        there = _moved(shape, shifts[shape.piece], 0.0)
        home = (shape.home[0] + shifts[shape.piece], shape.home[1])
        parts.append(Apart(_pulled(there, parts), marks[shape.name], home))
    shown = {part.shape.name for part in parts}
    rest = [name for name in marks if name not in shown]
    places = dict(zip(rest, _on_skin(parts, len(rest)), strict=True)) | _glued(papers, shifts)
    return Exploded(entries, tuple(parts), tuple((marks[name], places[name]) for name in rest))


def _glued(papers: Papers, shifts: Sequence[float]) -> dict[str, tuple[float, float]]:
    """Where the first of each glue goes [m]."""
    items = [item for item in papers.check.lure.ledger.items if item.kind == "glue"]
    found: dict[str, tuple[float, float]] = {}
    for item in items:
        named = item.name if item.name == HARNESS_GLUE else GLUED
        found.setdefault(named, (item.place[0] + shifts[item.segment], item.place[2]))
    return found


def _shifts(shapes: Sequence[PartShape], pieces: int) -> list[float]:
    """How far aft [m] each piece is drawn, so that what is pulled out of its faces and its neighbour's lies between."""
    shifts = [0.0]
    for place in range(1, pieces):
        out = [_length(shape) for shape in shapes if shape.piece == place - 1 and shape.pull == (1.0, 0.0)]
        back = [_length(shape) for shape in shapes if shape.piece == place and shape.pull == (-1.0, 0.0)]
        room = sum(max(lengths) + _APART for lengths in (out, back) if lengths)
        shifts.append(shifts[-1] + room + 2.0 * _APART)
    return shifts


def _length(shape: PartShape) -> float:
    return float(np.ptp(shape.points[:, 0]))


def _moved(shape: PartShape, aft: float, up: float) -> PartShape:
    by = np.array([aft, up])
    rings, lines = (tuple(points + by for points in some) for some in (shape.rings, shape.lines))
    return replace(shape, rings=rings, lines=lines, at=(shape.at[0] + aft, shape.at[1] + up),
                   home=(shape.home[0] + aft, shape.home[1] + up))  # fmt: skip


def _pulled(shape: PartShape, others: Sequence[Apart]) -> PartShape:
    """Drawn out along its own way until it lies clear of all that is there already."""
    if shape.pull is None:
        return shape
    low, high = shape.points.min(axis=0) - _CLEAR, shape.points.max(axis=0) + _CLEAR
    taken = np.array([other.box for other in others]).reshape(-1, 4)
    for step in range(_FURTHEST):
        by = step * _STEP * np.asarray(shape.pull)
        meets = ((low + by < taken[:, 2:]) & (high + by > taken[:, :2])).all(axis=1)
        if not meets.any():
            return _moved(shape, float(by[0]), float(by[1]))
    return _moved(shape, *(_FURTHEST * _STEP * np.asarray(shape.pull)).tolist())


def _on_skin(parts: Sequence[Apart], count: int) -> list[tuple[float, float]]:
    """Points [m] on the backs of the pieces, spread over the first of them."""
    first = next(part.shape.rings[0] for part in parts if part.shape.pull is None)
    back = first[: len(first) // 2]
    x = np.linspace(float(back[:, 0].min()), float(back[:, 0].max()), count + 4)[2:-2]
    return [(float(at), float(np.interp(at, back[:, 0], back[:, 1]))) for at in x]
