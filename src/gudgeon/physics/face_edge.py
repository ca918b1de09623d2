"""Where a joint's face meets the skin: from the middle line outward, and how wide it is when it is laid flat."""

from dataclasses import dataclass

import numpy as np

from gudgeon.physics.hull import Hull, skin_heights
from gudgeon.physics.joint_face import Array, Edge, FaceLine

_POINTS = 61  # per stretch, crowded where the skin closes: an arc's length right to 1e-4
_WALL_POINTS = 9
_HALVINGS = 48


@dataclass(frozen=True, eq=False)
class FaceEdge:
    """The right half of one face, from the middle line to the skin at its widest; the left mirrors it.

    stations    : (k,) [m] of the body       offsets : (k,) [m] out from the middle line
    along       : (k,) [m] offsets when the face is laid flat; the sides of a tongue or slot left out
    bottom, top : (k,) [m] heights of the skin there
    folds       : [m] laid flat, where the face bends: at a vee's ridge, and where one stretch meets the next
    is_stepped  : whether it has sides that lie along the body, a tongue's or a slot's
    """

    stations: Array
    offsets: Array
    along: Array
    bottom: Array
    top: Array
    folds: tuple[float, ...]
    is_stepped: bool

    @property
    def outline(self) -> Array:
        """The whole face laid flat (m, 2) [m], both halves: y to the right, z up, closed."""
        right = np.concatenate([np.stack([self.along, self.top], axis=1),
                                np.stack([self.along, self.bottom], axis=1)[::-1]])  # fmt: skip
        return np.concatenate([right, right[::-1] * (-1.0, 1.0)])

    @property
    def plan(self) -> Array:
        """The face seen from above (m, 2) [m], station and offset, from left to right."""
        right = np.stack([self.stations, self.offsets], axis=1)
        return np.concatenate([right[:0:-1] * (1.0, -1.0), right])

    @property
    def skin_line(self) -> Array:
        """Where it leaves the skin, seen from the side (m, 2) [m]: station and height, from the back to the belly."""
        upper, lower = (np.stack([self.stations, heights], axis=1) for heights in (self.top, self.bottom))
        return np.concatenate([upper, lower[::-1]])

    def flat(self, offsets: Array) -> Array:
        """Offsets [m] of either sign as they are when the face is laid flat."""
        return np.sign(offsets) * np.interp(np.abs(offsets), self.offsets, self.along)


def face_edge(hull: Hull, at: float, face: FaceLine) -> FaceEdge:
    """Where a face meets the skin of a body.

    at : [m] station of the middle of the gap
    """
    parts: list[Array] = []
    first = face.edges[0]
    folds = [0.0] if first.radius == 0.0 and first.slope != 0.0 else []
    for before, edge in zip((None, *face.edges), face.edges, strict=False):
        outer = _leaves(hull, at, edge)
        if outer <= edge.inner:
            continue
        if parts and before is not None:
            folds.append(edge.inner)
            parts.append(_wall(before, edge))
        offsets = edge.inner + (outer - edge.inner) * (1.0 - (1.0 - np.linspace(0.0, 1.0, _POINTS)) ** 2)
        parts.append(np.stack([edge.station(offsets), offsets], axis=1))
    is_stepped = first.name in ("tongue", "slot") and len(parts) > 1
    return _edge(hull, at, np.concatenate(parts), folds, is_stepped=is_stepped)


def _edge(hull: Hull, at: float, path: Array, folds: list[float], *, is_stepped: bool) -> FaceEdge:
    """path : (k, 2) [m] stations from the middle of the gap, and offsets."""
    moves = np.diff(path, axis=0)
    lengths = np.where(np.abs(moves[:, 1]) > 1e-12, np.hypot(moves[:, 0], moves[:, 1]), 0.0)
    along = np.concatenate([[0.0], np.cumsum(lengths)])
    stations, offsets = at + path[:, 0], path[:, 1]
    bottom, top = skin_heights(hull, stations, np.minimum(offsets, hull.side(stations) * (1.0 - 1e-12)))
    flat = tuple(float(np.interp(fold, offsets, along)) for fold in folds)
    return FaceEdge(stations, offsets, along, bottom, top, flat, is_stepped)


def _leaves(hull: Hull, at: float, edge: Edge) -> float:
    """Offset [m] at which a stretch leaves the body; where it begins when it does not lie in the body at all."""
    stations = np.linspace(hull.start, hull.stop, 201)
    widest = 1.01 * float(hull.side(stations).max())
    low, high = edge.inner, min(edge.outer, max(widest, edge.inner))

    def is_in(offset: float) -> bool:
        there = at + float(edge.station(np.array(offset)))
        return hull.start < there < hull.stop and offset < float(hull.side(np.array([there]))[0])

    if not is_in(low):
        return low
    if is_in(high):
        return high
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if is_in(middle) else (low, middle)
    return low


def _wall(before: Edge, after: Edge) -> Array:
    """The side of a tongue or slot (k, 2) [m], its ends left to the stretches beside it."""
    offset = np.array(after.inner)
    start, stop = float(before.station(offset)), float(after.station(offset))
    stations = np.linspace(start, stop, _WALL_POINTS)[1:-1]
    return np.stack([stations, np.full_like(stations, after.inner)], axis=1)
