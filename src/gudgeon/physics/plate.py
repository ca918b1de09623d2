"""Flat plates cut to an outline: lips and fins as closed polylines, areas, centres, and what they come near."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer

Array = NDArray[np.float64]
LipShape = Literal["square", "coffin", "round"]

_QUARTER = 97  # points to a quarter of a bow: its polygon holds 0.004 % less than the curve
_COFFIN_EDGE = 0.6  # of the width: a coffin lip's front edge
_COFFIN_SHOULDER = 0.3  # of what shows: how far behind the front edge it is full width
_SPREAD_ROOT = 0.5  # of the fin's height: where it meets the body, and its tang
_FULLEST_FORK = 0.75  # share of length x height of a fin with a straight rear edge that spreads evenly from its root
_DEEPEST_FORK = 0.3  # share below which the root narrows too


@dataclass(frozen=True, eq=False)
class Plate:
    """A flat outline.

    outline : (k, 2) [m] corners in order, anticlockwise, the first not repeated
    """

    outline: Array

    @property
    def area(self) -> float:
        """[m2] inside the outline."""
        return area_and_centre(self.outline)[0]

    @property
    def centre(self) -> tuple[float, float]:
        """(2,) [m] of that area."""
        return area_and_centre(self.outline)[1]

    def beyond(self, level: float, axis: int) -> "Plate | None":
        """The part at and past a level [m] of one axis; None where there is none."""
        kept = cut_at(self.outline, level, axis)
        return Plate(kept) if len(kept) >= 3 and area_and_centre(kept)[0] > 0.0 else None

    def short_of(self, level: float, axis: int) -> "Plate | None":
        """The part before a level [m] of one axis; None where there is none."""
        other = Plate(-self.outline).beyond(-level, axis)
        return None if other is None else Plate(-other.outline)


def area_and_centre(outline: Array) -> tuple[float, tuple[float, float]]:
    """Area [m2] inside a closed polyline (k, 2) [m], positive when it runs anticlockwise, and its centre.

    source : the shoelace sum, exact for a polygon
    """
    x, y = outline[:, 0], outline[:, 1]
    x_next, y_next = np.roll(x, -1), np.roll(y, -1)
    turned = x * y_next - x_next * y
    area = 0.5 * float(turned.sum())
    if area == 0.0:
        middle = outline.mean(axis=0)
        return 0.0, (float(middle[0]), float(middle[1]))
    first = (float(((c + c_next) * turned).sum()) / (6.0 * area) for c, c_next in ((x, x_next), (y, y_next)))
    station, height = first
    return area, (station, height)


def cut_at(outline: Array, level: float, axis: int) -> Array:
    """The corners of what lies at and past a level [m] of one axis; an outline parted in two stays one, by a seam.

    source : Sutherland and Hodgman, Comm. ACM 17 (1974) 32-42, for one edge
    """
    kept: list[Array] = []
    for here, after in zip(outline, np.roll(outline, -1, axis=0), strict=True):
        inside, inside_after = here[axis] >= level, after[axis] >= level
        if inside:
            kept.append(here)
        if inside != inside_after:
            share = (level - here[axis]) / (after[axis] - here[axis])
            kept.append(here + share * (after - here))
    return np.array(kept) if kept else np.empty((0, 2))


def lip_plate(shape: LipShape, *, exposed: float, set_in: float, width: float) -> Plate:
    """A lip laid flat: first axis outward from where it leaves the body to the front edge, second to the right.

    exposed : [m] from the body to the front edge     set_in : [m] in its slot     width : [m]
    A square lip is straight; a round one ends in half a circle of its own width, or half an ellipse where less than
    that shows; a coffin's front edge is six tenths of the width, and it is full width three tenths of the way back.
    """
    half = 0.5 * width
    if shape == "square":
        front = np.array([(exposed, half)])
    elif shape == "coffin":
        front = np.array([((1.0 - _COFFIN_SHOULDER) * exposed, half), (exposed, _COFFIN_EDGE * half)])
    else:
        angles = np.linspace(0.5 * math.pi, 0.0, _QUARTER)
        bow = min(half, exposed)
        front = np.stack([exposed - bow + bow * np.cos(angles), half * np.sin(angles)], axis=1)
    right = np.concatenate([[(-set_in, half)], front])
    left = right[::-1] * [1.0, -1.0]
    if shape == "round":
        left = left[1:]  # the tip once
    return Plate(_frozen(np.concatenate([right, left])[::-1]))


def fin_plate(*, length: float, tall: float, fill: float) -> Plate:
    """A fin seen from the side: first axis aft from where it leaves the body, second up from its middle.

    length : [m] from the body to its rear edge     tall : [m] tip to tip     fill : share of the box that is fin
    It meets the body over half its height. A share of 75 % spreads straight to a straight rear edge; more reaches full
    height sooner; less is forked, and below 30 % its root narrows too. Its area is length x tall x fill exactly.
    raises : NoAnswer for a share that is not more than 0 and at most 1
    """
    if not 0.0 < fill <= 1.0:
        raise NoAnswer(f"a fin that fills {100.0 * fill:.3g} % of its length times height cannot be cut")
    half, root, shoulder, fork = 0.5 * tall, 0.5 * _SPREAD_ROOT * tall, length, 0.0
    if fill > _FULLEST_FORK:
        shoulder = 4.0 * length * (1.0 - fill)
    elif fill >= _DEEPEST_FORK:
        fork = 2.0 * length * (_FULLEST_FORK - fill)
    else:
        fork, root = length * (1.0 - fill / 3.0), tall * fill * 5.0 / 6.0
    corners = [(0.0, -root), (shoulder, -half), (length, -half), (length - fork, 0.0), (length, half), (shoulder, half),
               (0.0, root)]  # fmt: skip
    return Plate(_frozen(_without_repeats(np.array(corners))))


def fin_tang(*, set_in: float, tall: float) -> Plate | None:
    """The part of a fin that sits in its slot, on the axes of `fin_plate`; None for a fin stuck on."""
    if set_in <= 0.0:
        return None
    half = 0.5 * _SPREAD_ROOT * tall
    return Plate(_frozen(np.array([(-set_in, -half), (0.0, -half), (0.0, half), (-set_in, half)])))


def _without_repeats(corners: Array) -> Array:
    kept = np.any(np.abs(corners - np.roll(corners, 1, axis=0)) > 1e-12, axis=1)
    return np.asarray(corners[kept])


def _frozen(outline: Array) -> Array:
    array = np.array(outline, dtype=float)
    array.setflags(write=False)
    return array
