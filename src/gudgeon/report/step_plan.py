"""What a STEP file is to hold, before any solid kernel is asked: sections to loft through, faces, bores and slots.

Lengths in millimetres; x aft, y right, z up.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import Edge, FaceLine, JointShape
from gudgeon.physics.quadrature import angle_of, station_of
from gudgeon.physics.section import outlines, section_integrals
from gudgeon.physics.solid import Bore, Slot

Array = NDArray[np.float64]
Point = tuple[float, float]

SECTIONS, POINTS = 25, 64
_MARGIN = 10.0  # mm that a face is carried on past the body
_SHUT = 1e-9  # m2 of a section below which an end is a point


@dataclass(frozen=True, eq=False)
class Ring:
    """One section.

    station  : [mm]
    quarters : four lines (k, 2) [mm] as y, z, end to end, anticlockwise as seen from behind
    """

    station: float
    quarters: tuple[Array, Array, Array, Array]


@dataclass(frozen=True)
class Stretch:
    """One piece of a face seen from above: straight, or through `by` an arc.

    start, end, by : (2,) [mm] station and offset
    """

    start: Point
    end: Point
    by: Point | None = None


@dataclass(frozen=True, eq=False)
class Loft:
    """The whole body.

    nose, tail : (3,) [mm] the point each end closes in; None for a flat end, which is then the outermost ring
    """

    rings: tuple[Ring, ...]
    nose: tuple[float, float, float] | None
    tail: tuple[float, float, float] | None


@dataclass(frozen=True)
class Rod:
    """A round bore as a true cylinder: where it begins, the way it goes, its length and radius [mm]."""

    start: tuple[float, float, float]
    inward: tuple[float, float, float]
    length: float
    radius: float


@dataclass(frozen=True)
class Block:
    """A slot as a box [mm], its middle and sizes, turned nose-up by `tilt` [rad]."""

    centre: tuple[float, float, float]
    size: tuple[float, float, float]
    tilt: float


@dataclass(frozen=True, eq=False)
class PiecePlan:
    """One piece.

    loft   : the whole body it is cut from
    keep   : what it is seen from above, closed; empty for a body of one piece
    bottom, top : [mm] between which that reaches
    """

    name: str
    loft: Loft
    keep: tuple[Stretch, ...]
    bottom: float
    top: float
    rods: tuple[Rod, ...]
    blocks: tuple[Block, ...]


def step_plan(hull: Hull, joints: Sequence[tuple[float, JointShape]], bores: Sequence[Bore], slots: Sequence[Slot],
              names: Sequence[str]) -> tuple[PiecePlan, ...]:  # fmt: skip
    """The pieces of a body, nose to tail.

    joints : station [m] of the middle of each gap, and its shape
    """
    loft = loft_of(hull)
    x = np.linspace(hull.start, hull.stop, 65)
    shape = hull.sections(x)
    wide = 1e3 * float(shape.half_width.max()) + _MARGIN
    bottom, top = 1e3 * float(shape.bottom.min()) - _MARGIN, 1e3 * float(shape.top.max()) + _MARGIN
    plans = []
    for place, name in enumerate(names):
        ahead = (joints[place - 1][0], joints[place - 1][1].rear) if place else None
        behind = (joints[place][0], joints[place][1].front) if place < len(joints) else None
        keep = _outline(hull, ahead, behind, wide) if ahead or behind else ()
        rods = tuple(_rod(bore) for bore in bores if bore.piece in (None, place))
        blocks = tuple(_block(slot) for slot in slots if slot.piece in (None, place))
        plans.append(PiecePlan(name, loft, keep, bottom, top, rods, blocks))
    return tuple(plans)


def loft_of(hull: Hull, sections: int = SECTIONS, points: int = POINTS) -> Loft:
    """The sections a body is lofted through, crowded toward its ends as an angle is."""
    body = (hull.start, hull.length)
    first, last = angle_of(np.array([hull.start, hull.stop]), *body).tolist()
    x = station_of(np.linspace(first, last, sections), *body)
    x[0], x[-1] = hull.start, hull.stop
    shapes = hull.sections(x)
    open_ = section_integrals(shapes).area > _SHUT
    rings = tuple(Ring(1e3 * float(x[place]), _quarters(1e3 * outlines(hull.sections(x[place : place + 1]), points)[0]))
                  for place in np.flatnonzero(open_))  # fmt: skip
    ends = [None if open_[end] else (1e3 * float(x[end]), 0.0, 1e3 * float(shapes.widest[end])) for end in (0, -1)]
    return Loft(rings, ends[0], ends[1])


def _quarters(outline: Array) -> tuple[Array, Array, Array, Array]:
    size = len(outline) // 4
    closed = np.concatenate([outline, outline[:1]])
    first, second, third, fourth = (closed[size * turn : size * (turn + 1) + 1] for turn in range(4))
    return first, second, third, fourth


def _outline(hull: Hull, ahead: tuple[float, FaceLine] | None, behind: tuple[float, FaceLine] | None,
             wide: float) -> tuple[Stretch, ...]:  # fmt: skip
    """A piece seen from above (its faces, carried on past the body), anticlockwise."""
    nose, tail = 1e3 * hull.start - _MARGIN, 1e3 * hull.stop + _MARGIN
    aft = _face(behind, wide) if behind else [Stretch((tail, -wide), (tail, wide))]
    fore = _face(ahead, wide) if ahead else [Stretch((nose, -wide), (nose, wide))]
    home = [Stretch(one.end, one.start, one.by) for one in reversed(fore)]
    return (*aft, Stretch(aft[-1].end, home[0].start), *home, Stretch(home[-1].end, aft[0].start))


def _face(face: tuple[float, FaceLine], wide: float) -> list[Stretch]:
    """A face from the left to the right, arcs as arcs, steps between its stretches filled in."""
    at, line = face
    right: list[Stretch] = []
    for edge in line.edges:
        outer = min(edge.outer, 1e-3 * wide)
        if edge.inner >= outer:
            break
        stretch = _stretch(edge, at, outer)
        if right and math.dist(right[-1].end, stretch.start) > 1e-6:
            right.append(Stretch(right[-1].end, stretch.start))
        right.append(stretch)
    mirrored = [Stretch(_left(one.end), _left(one.start), _left(one.by) if one.by else None) for one in reversed(right)]
    return [*mirrored, *right]


def _stretch(edge: Edge, at: float, outer: float) -> Stretch:
    def place(offset: float) -> Point:
        return 1e3 * (at + float(edge.station(np.array([offset]))[0])), 1e3 * offset

    if edge.radius == 0.0:
        return Stretch(place(edge.inner), place(outer))
    turns = [math.asin(min(1.0, offset / edge.radius)) for offset in (edge.inner, outer)]
    return Stretch(place(edge.inner), place(outer), place(edge.radius * math.sin(0.5 * sum(turns))))


def _left(point: Point) -> Point:
    return point[0], -point[1]


def _rod(bore: Bore) -> Rod:
    inward = np.array(bore.inward) / math.dist(bore.inward, (0.0, 0.0, 0.0))
    x, y, z = (1e3 * (np.array(bore.mouth) - bore.proud * inward)).tolist()
    a, b, c = inward.tolist()
    return Rod((x, y, z), (a, b, c), 1e3 * (bore.depth + bore.proud), 0.5e3 * bore.diameter)


def _block(slot: Slot) -> Block:
    (x, y, z), (along, across, up) = slot.centre, slot.size
    return Block((1e3 * x, 1e3 * y, 1e3 * z), (1e3 * along, 1e3 * across, 1e3 * up), slot.tilt)
