"""The lure's pieces as closed solids of triangles: lofted, cut by the joints' faces, bored and slotted.

For pictures, export, clashes and proof. Sums rest on quadrature (hull.py), which is right to more digits. Only this
module speaks to the solid kernel, which works in millimetres and is loaded when the first solid is made.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import ModuleType
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer
from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import Array, FaceLine, JointShape
from gudgeon.physics.mass import Place
from gudgeon.physics.quadrature import angle_of, station_of
from gudgeon.physics.section import Sections, outlines, polygons_of_area, section_integrals
from gudgeon.physics.swing import MOST

_MM = 1e3
_ROUND = 48  # sides of a bore, swelled to the circle's area
_TOUCH = 1e-14  # [m3] of overlap that is a meeting: a corner 0.005 mm deep in a face
_SCAN = math.radians(2.0)  # steps of the first look; a meeting that begins and ends within one would be missed
_TOLERANCE = math.radians(0.02)


class _Mesh(Protocol):
    """The kernel's triangles."""

    vert_properties: Array
    tri_verts: NDArray[np.uint64]


class _Shape(Protocol):
    """What is asked of the kernel's solids; lengths in millimetres."""

    def status(self) -> object: ...
    def is_empty(self) -> bool: ...
    def volume(self) -> float: ...
    def to_mesh64(self) -> _Mesh: ...
    def min_gap(self, other: "_Shape", search_length: float) -> float: ...
    def translate(self, by: tuple[float, float, float]) -> "_Shape": ...
    def rotate(self, degrees: tuple[float, float, float]) -> "_Shape": ...
    def transform(self, matrix: Array) -> "_Shape": ...
    def __xor__(self, other: "_Shape") -> "_Shape": ...
    def __sub__(self, other: "_Shape") -> "_Shape": ...


def _kernel() -> ModuleType:
    """The solid kernel, which comes without types: this is the one place that loads it."""
    import manifold3d

    return manifold3d  # type: ignore[no-any-return]


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed body. x aft of the nose, y right, z up.

    shape : the kernel's, in millimetres
    """

    shape: _Shape

    @cached_property
    def volume(self) -> float:
        """[m3]."""
        return float(self.shape.volume()) / _MM**3

    @property
    def is_empty(self) -> bool:
        """Whether nothing is left of it."""
        return bool(self.shape.is_empty())

    def triangles(self) -> tuple[Array, NDArray[np.int64]]:
        """Corners (n, 3) [m] and triangles (m, 3), anticlockwise seen from outside; every edge shared by two."""
        mesh = self.shape.to_mesh64()
        vertices = np.array(mesh.vert_properties, dtype=float)[:, :3] / _MM
        faces = np.array(mesh.tri_verts, dtype=np.int64)
        vertices.setflags(write=False)
        faces.setflags(write=False)
        return vertices, faces

    def moved(self, by: Place) -> "Solid":
        """The same elsewhere, by [m]."""
        x, y, z = (_MM * part for part in by)
        return Solid(self.shape.translate((x, y, z)))

    def turned(self, angle: float, station: float) -> "Solid":
        """The same turned about the upright axis through a station [m] of the middle line; its aft end goes right.

        angle : [rad]
        """
        cos, sin, x = math.cos(angle), math.sin(angle), _MM * station
        return Solid(self.shape.transform(np.array([[cos, -sin, 0.0, x - x * cos], [sin, cos, 0.0, -x * sin],
                                                    [0.0, 0.0, 1.0, 0.0]])))  # fmt: skip

    def shared(self, other: "Solid") -> "Solid":
        """What lies in both."""
        return Solid(self.shape ^ other.shape)

    def without(self, others: Sequence["Solid"]) -> "Solid":
        """What is left when others are cut out."""
        shape = self.shape
        for other in others:
            shape = shape - other.shape
        return Solid(shape)

    def overlap(self, other: "Solid") -> float:
        """Volume [m3] that lies in both."""
        return self.shared(other).volume

    def distance(self, other: "Solid", within: float) -> float:
        """The least distance [m] between two solids; `within` [m] when they are farther apart, 0 when they meet."""
        return float(self.shape.min_gap(other.shape, _MM * within)) / _MM


@dataclass(frozen=True)
class Bore:
    """A round hole.

    mouth    : (3,) [m] where the bit enters the wood
    inward   : (3,) unit vector it travels along
    depth, diameter : [m]
    proud    : [m] how far outside the mouth it begins, to clear the skin round about
    piece    : index of the piece it is in; None for all it meets
    """

    mouth: Place
    inward: Place
    depth: float
    diameter: float
    proud: float = 0.0
    piece: int | None = None


@dataclass(frozen=True)
class Slot:
    """A box cut out of the wood.

    centre : (3,) [m]      size : (3,) [m] along, across and up before it is tilted
    tilt   : [rad] turned about its own middle, nose-up
    piece  : index of the piece it is in; None for all it meets
    """

    centre: Place
    size: Place
    tilt: float = 0.0
    piece: int | None = None


def _sound(shape: _Shape, what: str) -> Solid:
    """A solid from the kernel, asked at once whether it closed: an open one is empty without a word, and to go on
    with it is not safe."""
    if shape.status() != _kernel().Error.NoError:
        raise NoAnswer(f"{what} does not close into a solid ({shape.status()}); look at the outline there")
    return Solid(shape)


def _cutter(shape: _Shape, what: str) -> Solid:
    """A sound solid with something in it: a cut of no size would leave its wood uncut without a word."""
    solid = _sound(shape, what)
    if not solid.volume > 0.0:
        raise NoAnswer(f"{what} does not close into a solid: one of its sizes is nothing or no number")
    return solid


def from_triangles(vertices: Array, faces: NDArray[np.int64]) -> Solid:
    """The solid inside a closed surface.

    vertices : (n, 3) [m]    faces : (m, 3) anticlockwise seen from outside
    raises   : NoAnswer when it is open or inside out
    """
    kernel = _kernel()
    corners = np.ascontiguousarray(vertices * _MM, dtype=np.float64)
    mesh = kernel.Mesh64(corners, np.ascontiguousarray(faces, dtype=np.uint64))
    solid = _sound(kernel.Manifold(mesh), "the surface")
    if solid.volume <= 0.0:
        raise NoAnswer("the surface does not close into a solid: its triangles are wound inside out")
    return solid


def loft(hull: Hull, start: float, stop: float, *, stations: int = 97, points: int = 64) -> Solid:
    """The body between two stations [m], through polygons that each hold their section's own area.

    returns : volume right to 0.1 % for the whole body at the default sizes
    raises  : NoAnswer when it does not close
    """
    x = _stations(hull, start, stop, stations)
    shapes = hull.sections(x)
    areas = section_integrals(shapes).area
    kept = _open(areas, start, stop)
    return _wrapped(x, shapes, kept, polygons_of_area(hull.sections(x[kept]), areas[kept], points))


def _stations(hull: Hull, start: float, stop: float, count: int) -> Array:
    body = (hull.start, hull.length)
    first, last = angle_of(np.array([start, stop]), *body).tolist()
    x = station_of(np.linspace(first, last, count), *body)
    x[0], x[-1] = start, stop
    return x


def _open(areas: Array, start: float, stop: float) -> NDArray[np.intp]:
    """Which stations have a section; a closed end is one point."""
    ring = areas > 1e-9 * areas.max()
    if not ring[1:-1].all():
        raise NoAnswer(f"the body has no section between {_MM * start:.1f} and {_MM * stop:.1f} mm")
    return np.flatnonzero(ring)


def _wrapped(x: Array, shapes: Sections, kept: NDArray[np.intp], polygons: Array) -> Solid:
    """The solid through polygons (k, p, 2) at the kept stations, closed at the first and last of all."""
    count, points = polygons.shape[:2]
    middles = np.stack([x, np.zeros_like(x), 0.5 * (shapes.top + shapes.bottom)], axis=1)
    rings = np.concatenate([np.broadcast_to(x[kept, None, None], (count, points, 1)), polygons], axis=2)
    vertices = np.concatenate([rings.reshape(-1, 3), middles[[0, -1]]])
    return from_triangles(vertices, _skin(count, points))


def _skin(rings: int, points: int) -> NDArray[np.int64]:
    """Triangles (m, 3) over rings of points that run anticlockwise seen from behind, closed by a fan at each end."""
    here = np.arange(points)
    beside = np.roll(here, -1)
    low = points * np.arange(rings - 1)[:, None]
    high = low + points
    sides = [np.stack([low + here, low + beside, high + here], axis=2),
             np.stack([low + beside, high + beside, high + here], axis=2)]  # fmt: skip
    front, rear, last = rings * points, rings * points + 1, (rings - 1) * points
    caps = [np.stack([np.full(points, front), beside, here], axis=1),
            np.stack([np.full(points, rear), last + here, last + beside], axis=1)]  # fmt: skip
    return np.concatenate([*(side.reshape(-1, 3) for side in sides), *caps]).astype(np.int64)


def _prism(outline: Array, bottom: float, top: float) -> Solid:
    """An upright prism over a polygon (k, 2) of x, y [m], anticlockwise seen from above, between two heights [m]."""
    kernel = _kernel()
    cross = kernel.CrossSection([np.ascontiguousarray(outline * _MM)])
    upright = _sound(kernel.Manifold.extrude(cross, _MM * (top - bottom)), "the cut")
    return upright.moved((0.0, 0.0, bottom))


def _between(hull: Hull, ahead: tuple[float, FaceLine] | None, behind: tuple[float, FaceLine] | None) -> Solid:
    """All the room between the face at a piece's fore end and the one at its aft end; to beyond the body's ends."""
    x = np.linspace(hull.start, hull.stop, 65)
    shape = hull.sections(x)
    margin = 0.01
    wide = float(shape.half_width.max()) + margin
    aft = _line(ahead, wide) if ahead else np.array([[hull.start - margin, -wide], [hull.start - margin, wide]])
    fore = _line(behind, wide) if behind else np.array([[hull.stop + margin, -wide], [hull.stop + margin, wide]])
    outline = np.concatenate([fore, aft[::-1]])
    return _prism(outline, float(shape.bottom.min()) - margin, float(shape.top.max()) + margin)


def _line(face: tuple[float, FaceLine], wide: float) -> Array:
    return np.asarray(face[1].drawn(wide) + np.array([face[0], 0.0]))


def bore_solid(bore: Bore) -> Solid:
    """What a bit takes: a round of its own volume."""
    turn = 2.0 * math.pi / _ROUND
    radius = 0.5 * bore.diameter * math.sqrt(turn / math.sin(turn))
    inward = np.array(bore.inward) / math.dist(bore.inward, (0.0, 0.0, 0.0))
    side = np.cross(inward, (0.0, 1.0, 0.0) if abs(inward[1]) < 0.9 else (1.0, 0.0, 0.0))
    side /= np.linalg.norm(side)
    begin = np.array(bore.mouth) - bore.proud * inward
    matrix = np.column_stack([side, np.cross(inward, side), inward, _MM * begin])
    round_bar = _kernel().Manifold.cylinder(_MM * (bore.depth + bore.proud), _MM * radius, circular_segments=_ROUND)
    return _cutter(_cutter(round_bar, "the bore").shape.transform(matrix), "the bore where it lies")


def slot_solid(slot: Slot) -> Solid:
    """What a slot takes."""
    along, across, up = (_MM * size for size in slot.size)
    x, y, z = (_MM * place for place in slot.centre)
    box = _cutter(_kernel().Manifold.cube((along, across, up), True), "the slot").shape
    turned = box.rotate((0.0, math.degrees(slot.tilt), 0.0)).translate((x, y, z))
    return _cutter(turned, "the slot where it lies")


def segment_solids(
    hull: Hull,
    joints: Sequence[tuple[float, JointShape]],
    bores: Sequence[Bore] = (),
    slots: Sequence[Slot] = (),
    *,
    stations: int = 97,
    points: int = 64,
) -> tuple[Solid, ...]:
    """The pieces of a body, nose to tail, cut by its joints and less every bore and slot.

    joints : station [m] of the middle of the gap, and its shape, from the nose aft
    raises : NoAnswer when a piece is empty or does not close
    """
    whole = loft(hull, hull.start, hull.stop, stations=stations, points=points)
    pieces = []
    for place in range(len(joints) + 1):
        ahead = (joints[place - 1][0], joints[place - 1][1].rear) if place else None
        behind = (joints[place][0], joints[place][1].front) if place < len(joints) else None
        piece = whole.shared(_between(hull, ahead, behind)) if ahead or behind else whole
        holes = [bore_solid(bore) for bore in bores if bore.piece in (None, place)]
        holes += [slot_solid(slot) for slot in slots if slot.piece in (None, place)]
        piece = _sound(piece.without(holes).shape, f"piece {place + 1}")
        if piece.is_empty:
            raise NoAnswer(f"nothing is left of piece {place + 1} between its cuts")
        pieces.append(piece)
    return tuple(pieces)


def joint_solids(hull: Hull, at: float, shape: JointShape, reach: float) -> tuple[Solid, Solid]:
    """The wood within `reach` [m] of a joint: the piece ahead, the piece behind.

    Its corners lie on the skin itself, widest line among them: here angles count, not volumes.
    """
    start, stop = max(hull.start, at - reach), min(hull.stop, at + reach)
    x = _stations(hull, start, stop, 33)
    shapes = hull.sections(x)
    kept = _open(section_integrals(shapes).area, start, stop)
    near = _wrapped(x, shapes, kept, outlines(hull.sections(x[kept]), 64))
    return near.shared(_between(hull, None, (at, shape.front))), near.shared(_between(hull, (at, shape.rear), None))


def swing_of_solids(front: Solid, rear: Solid, pivot: float, near: float | None = None) -> float:
    """How far the piece behind turns about the upright axis at `pivot` [m] before the two overlap: [rad], MOST at most.

    near    : [rad] where the meeting is expected; looked for from the beginning when it is not there
    returns : right to 0.05 deg for the solids as they are
    """

    def meets(angle: float) -> bool:
        return front.overlap(rear.turned(angle, pivot)) > _TOUCH

    margin = math.radians(0.3)
    if near is not None and near > margin and not meets(near - margin) and meets(near + margin):
        return _first(meets, near - margin, near + margin)
    low = 0.0
    while low < MOST:
        high = min(low + _SCAN, MOST)
        if meets(high):
            return _first(meets, low, high)
        low = high
    return MOST


def _first(meets: Callable[[float], bool], low: float, high: float) -> float:
    while high - low > _TOLERANCE:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if meets(middle) else (middle, high)
    return 0.5 * (low + high)
