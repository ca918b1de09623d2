"""The two faces of a joint as lines seen from above: flat, vee'd, knuckle and socket, tongue and slot.

Stations count aft from the middle of the gap, offsets out from the middle line; every face is alike at all heights
and on both sides. A face is told by the station it has at each offset, so it is cut by saw or sander from above.
"""

import math
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer

Array = NDArray[np.float64]
Piece = Literal["front", "rear"]
Shape = Literal["vee", "knuckle", "tongue"]

ARC_STEP = math.radians(3.0)  # of a round face drawn with straight pieces: 0.005 mm off at a radius of 16 mm


@dataclass(frozen=True)
class Edge:
    """One stretch of a face, right of the middle line; the left mirrors it.

    name   : "face", "knuckle", "socket", "shoulder", "lip", "tongue", "slot"
    inner, outer : [m] offsets at which it begins and ends; the last of a face has no end
    start  : [m] station where it begins; of an arc, the centre's
    slope  : change of station per metre outward; of an arc, 1 when it bulges aft and -1 ahead
    radius : [m] of an arc about the middle line; 0 for a straight stretch
    """

    name: str
    inner: float
    outer: float
    start: float
    slope: float
    radius: float = 0.0

    def station(self, offset: Array) -> Array:
        """Station [m] at offsets [m] within the stretch."""
        if self.radius == 0.0:
            return self.start + self.slope * (offset - self.inner)
        return self.start + self.slope * np.sqrt(np.maximum(self.radius**2 - offset**2, 0.0))

    def tilt(self, offset: Array) -> Array:
        """How much longer the stretch is than it is wide, at offsets [m]: 1 where it is square to the body."""
        if self.radius == 0.0:
            return np.full_like(offset, math.hypot(1.0, self.slope))
        return self.radius / np.sqrt(np.maximum(self.radius**2 - offset**2, 1e-6 * self.radius**2))


@dataclass(frozen=True)
class FaceLine:
    """The face of one piece: its stretches from the middle line outward.

    wood : -1 when the wood lies ahead of it (the front piece), 1 when behind
    """

    edges: tuple[Edge, ...]
    wood: float

    def station(self, offsets: Array) -> Array:
        """Station [m] of the face at offsets [m] of either sign."""
        out = np.abs(offsets)
        found = self.edges[0].station(out)
        for edge in self.edges[1:]:
            found = np.where(out > edge.inner, edge.station(np.maximum(out, edge.inner)), found)
        return found

    def drawn(self, half_width: float) -> Array:
        """The face as a polyline (k, 2) of station and offset [m], from the left to the right out to `half_width`."""
        points: list[tuple[float, float]] = []
        for edge in self.edges:
            if edge.inner >= half_width:
                break
            outer = min(edge.outer, half_width)
            offsets = np.array([edge.inner, outer]) if edge.radius == 0.0 else _round(edge, outer)
            points += zip(edge.station(offsets).tolist(), offsets.tolist(), strict=True)
        right = points[:1]
        right += [after for before, after in pairwise(points) if math.dist(before, after) > 1e-9]
        left = [(station, -offset) for station, offset in reversed(right) if offset > 0.0]
        return np.array([*left, *right])


def _round(edge: Edge, outer: float) -> Array:
    first, last = (math.asin(min(1.0, offset / edge.radius)) for offset in (edge.inner, outer))
    return edge.radius * np.sin(np.linspace(first, last, 2 + int((last - first) / ARC_STEP)))


@dataclass(frozen=True)
class JointShape:
    """What a joint is cut to. All sizes are those of the finished lure; `build` makes its faces those of bare wood.

    gap           : [m] at the middle line; a socket is larger than its knuckle by it, a slot wider than its tongue on
                    each side and deeper at the end
    front_bevel, rear_bevel : [rad] how far the faces slope back from square on each side; with a knuckle those of the
                    shoulders beside it and of the socket's lips, with a tongue those of the faces beside it
    pivot         : [m] of the hinge's axis, aft of the middle of the gap
    carries       : the piece with the knuckle or the tongue
    radius        : [m] of the knuckle, a round with an upright axis, its tip on the plane half a gap from the middle
    tongue_width, tongue_length : [m] the length beyond the gap
    build         : [m] of coats still to come on, square to every face: the faces are cut that far inside
    """

    face: Shape
    gap: float
    front_bevel: float = 0.0
    rear_bevel: float = 0.0
    pivot: float = 0.0
    carries: Piece = "front"
    radius: float = 0.0
    tongue_width: float = 0.0
    tongue_length: float = 0.0
    build: float = 0.0

    @cached_property
    def front(self) -> FaceLine:
        """The face of the piece ahead."""
        return FaceLine(_edges(self, "front"), -1.0)

    @cached_property
    def rear(self) -> FaceLine:
        """The face of the piece behind."""
        return FaceLine(_edges(self, "rear"), 1.0)

    @property
    def knuckle_centre(self) -> float:
        """Station [m] of the knuckle's axis, where the pivot has to be for the gap to stay even."""
        aft = 0.5 * self.gap + self.radius
        return -aft if self.carries == "front" else aft

    @property
    def cut_gap(self) -> float:
        """[m] between the faces at the middle line as they are cut: a coat over a sloping face closes more of it."""
        middle = np.zeros(1)
        return float(self.rear.station(middle)[0] - self.front.station(middle)[0])

    def bared(self, build: float) -> "JointShape":
        """The same joint in bare wood, each face `build` [m] short of where its coats bring it.

        raises : NoAnswer when no knuckle or tongue is left under the coats
        """
        least = self.radius if self.face == "knuckle" else 0.5 * self.tongue_width
        if self.face != "vee" and least <= build:
            raise NoAnswer(f"coats of {1e3 * build:.2f} mm leave no wood in the {self.face}; make it wider")
        return replace(self, build=build)


def _edges(shape: JointShape, piece: Piece) -> tuple[Edge, ...]:
    toward = -1.0 if piece == "front" else 1.0
    bevel = shape.front_bevel if piece == "front" else shape.rear_bevel
    slope, sunk = toward * math.tan(bevel), shape.build / math.cos(bevel)
    plane = toward * (0.5 * shape.gap + sunk)
    if shape.face == "vee":
        return (Edge("face", 0.0, math.inf, plane, slope),)
    carries = shape.carries == piece
    room = -shape.build if carries else shape.gap + shape.build  # a tongue or knuckle is cut small, its seat large
    bulge = 1.0 if shape.carries == "front" else -1.0
    if shape.face == "tongue":
        half, end = 0.5 * shape.tongue_width + room, 0.5 * shape.gap + shape.tongue_length + room
        return (Edge("tongue" if carries else "slot", 0.0, half, bulge * end, 0.0),
                Edge("face", half, math.inf, plane + slope * half, slope))  # fmt: skip
    centre, radius = shape.knuckle_centre, shape.radius + room
    if carries:
        shoulder = centre + toward * sunk + slope * (radius - shape.radius)
        return (Edge("knuckle", 0.0, radius, centre, bulge, radius),
                Edge("shoulder", radius, math.inf, shoulder, slope))  # fmt: skip
    mouth, lip = _mouth(shape, abs(slope), sunk)
    return (Edge("socket", 0.0, mouth, centre, bulge, radius),
            Edge("lip", mouth, math.inf, centre + bulge * lip, slope))  # fmt: skip


def _mouth(shape: JointShape, slope: float, sunk: float) -> tuple[float, float]:
    """Offset at which a socket meets its lip, and the lip's station past the centre there [m].

    Finished, the lips stand off the shoulders by the gap; in bare wood their line lies `sunk` [m] deeper. There the
    line a + slope y meets the round of radius w where y^2 + (a + slope y)^2 = w^2.
    """
    finished = math.sqrt((shape.radius + shape.gap) ** 2 - shape.gap**2)
    start, wide = shape.gap + sunk - slope * finished, shape.radius + shape.gap + shape.build
    square = 1.0 + slope**2
    mouth = (math.sqrt(square * wide**2 - start**2) - start * slope) / square
    return mouth, start + slope * mouth
