"""What is buried in the wood as rods and boxes: how far apart two of them are, how far inside the skin, and where.

The distance of two convex shapes is the widest gap between them over all directions n, that is the greatest value of
-h(n) - g(-n), with h and g how far each reaches along a direction. Where they overlap it is negative, and as much as
one must be moved to be clear of the other. No gap is wider than two points of the shapes are apart: once the gap along
the line between the nearest points is as wide, it is the distance. For other pairs directions that flat sides, edges
and axes give are tried, that line, then what lies round about the best, closer and closer.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.hull import Hull
from gudgeon.physics.mass import Place
from gudgeon.physics.section import half_widths

Array = NDArray[np.float64]

_ROUND = np.linspace(0.0, 2.0 * math.pi, 12, endpoint=False)
_RING = np.stack([np.cos(_ROUND), np.sin(_ROUND)], axis=1)
_CLOSER = 0.4 * 0.38 ** np.arange(10)  # how far round about the best direction is looked, per round [rad]
_STEPS = 40  # of going to and fro between two shapes
_CORNERS = np.array([(x, y, z) for x in (-1.0, 0.0, 1.0) for y in (-1.0, 0.0, 1.0) for z in (-1.0, 0.0, 1.0)])
_HAIR = 1e-12
_SURE = 1e-6  # [m] between the most and the least that a distance can be
_STEP = 1e-5  # [m] for slopes of the skin
_ON_SKIN = 1e-9  # [m] off it that is on it
_NEAR_SKIN = 0.014  # [m] of wood straight away, within which the way square to the skin is looked for


@dataclass(frozen=True)
class Rod:
    """A round bar with flat ends: a bore, a pin, a shank.

    start, stop : (3,) [m] middles of its ends
    radius      : [m]
    """

    start: Place
    stop: Place
    radius: float

    @cached_property
    def centre(self) -> Array:
        """(3,) [m]"""
        return np.asarray(0.5 * (np.asarray(self.start) + np.asarray(self.stop)))

    @cached_property
    def halves(self) -> Place:
        """(3,) [m] half its length, then nothing."""
        return 0.5 * math.dist(self.start, self.stop), 0.0, 0.0

    @cached_property
    def axes(self) -> Array:
        """(3, 3) unit vectors, the first along it."""
        x, y, z = (stop - start for start, stop in zip(self.start, self.stop, strict=True))
        length = math.hypot(x, y, z)
        x, y, z = (x / length, y / length, z / length) if length > _HAIR else (0.0, 0.0, 1.0)
        flat = math.hypot(x, y)  # in plain floats: three products are sooner done than one array made
        u, v = (-y / flat, x / flat) if flat > 0.1 else (1.0, 0.0)
        size = math.sqrt(1.0 - (u * x + v * y) ** 2)
        a, b, c = v * z / size, -u * z / size, (u * y - v * x) / size
        return np.array([(x, y, z), (b * z - c * y, c * x - a * z, a * y - b * x), (a, b, c)])

    @property
    def points(self) -> Array:
        """Points (k, 3) [m] on its round, from end to end."""
        ring = self.radius * (_RING @ self.axes[1:])
        middles = self.centre + np.linspace(-self.halves[0], self.halves[0], 7)[:, None] * self.axes[0]
        points: Array = middles[:, None] + ring[None]
        return points.reshape(-1, 3)

    def moved(self, by: Place) -> "Rod":
        """The same, elsewhere."""
        return replace(self, start=_sum(self.start, by), stop=_sum(self.stop, by))


@dataclass(frozen=True)
class Box:
    """A plate, a slot.

    middle : (3,) [m]      halves : (3,) [m] half its size along, across and up before it is tilted
    tilt   : [rad] turned about its own middle, nose-up: its leading edge goes up
    """

    middle: Place
    halves: Place
    tilt: float = 0.0
    radius: float = field(default=0.0, init=False, repr=False)

    @cached_property
    def centre(self) -> Array:
        """(3,) [m]"""
        return np.asarray(self.middle)

    @cached_property
    def axes(self) -> Array:
        """(3, 3) unit vectors along its edges, a row each."""
        cos, sin = math.cos(self.tilt), math.sin(self.tilt)
        return np.array([(cos, 0.0, -sin), (0.0, 1.0, 0.0), (sin, 0.0, cos)])

    @property
    def points(self) -> Array:
        """Its corners, and the middles of its edges and sides (27, 3) [m]."""
        points: Array = self.centre + (_CORNERS * np.asarray(self.halves)) @ self.axes
        return points

    def moved(self, by: Place) -> "Box":
        """The same, elsewhere."""
        return replace(self, middle=_sum(self.middle, by))


Shape = Rod | Box


@dataclass(frozen=True)
class Apart:
    """How far apart two shapes are.

    distance : [m] negative where they overlap: as much as one must be moved to be clear
    place    : (3,) [m] half way between their nearest points; inside both where they overlap
    """

    distance: float
    place: Place


class _Stack(NamedTuple):
    """Shapes in a row.

    centre : (k, 3) [m]    axes : (k, 3, 3)    halves : (k, 3) [m]    radius : (k,) [m] round the first axis
    """

    centre: Array
    axes: Array
    halves: Array
    radius: Array

    def only(self, rows: NDArray[np.intp]) -> "_Stack":
        """Some of them."""
        return _Stack(*(column[rows] for column in self))

    def reach(self, ways: Array) -> Array:
        """How far each reaches (k, m) [m] along unit vectors (k, m, 3), from the origin."""
        along = np.einsum("kmc,kac->kma", ways, self.axes)
        reach = np.einsum("kmc,kc->km", ways, self.centre) + np.einsum("kma,ka->km", np.abs(along), self.halves)
        return np.asarray(reach + self.radius[:, None] * np.sqrt(np.maximum(1.0 - along[..., 0] ** 2, 0.0)))

    def nearest(self, points: Array) -> Array:
        """The point of each (k, 3) [m] nearest to a point (k, 3)."""
        off = np.einsum("kc,kac->ka", points - self.centre, self.axes)
        out = np.hypot(off[:, 1], off[:, 2])
        share = np.minimum(1.0, self.radius / np.maximum(out, _HAIR))
        inside = np.clip(off, -self.halves, self.halves)
        inside[:, 1:] = np.where(self.radius[:, None] > 0.0, share[:, None] * off[:, 1:], inside[:, 1:])
        return np.asarray(self.centre + np.einsum("ka,kac->kc", inside, self.axes))


def _stack(shapes: Sequence[Shape]) -> _Stack:
    return _Stack(np.array([shape.centre for shape in shapes]).reshape(-1, 3),
                  np.array([shape.axes for shape in shapes]).reshape(-1, 3, 3),
                  np.array([shape.halves for shape in shapes]).reshape(-1, 3),
                  np.array([shape.radius for shape in shapes], dtype=float))  # fmt: skip


def _sum(first: Place, second: Place) -> Place:
    return first[0] + second[0], first[1] + second[1], first[2] + second[2]


def reach(shape: Shape, way: Place) -> float:
    """How far a shape reaches [m] along a unit vector, from the origin."""
    return float(_stack([shape]).reach(np.array([[way]]))[0, 0])


def bounds(shapes: Sequence[Shape]) -> Array:
    """The least and the greatest x, y, z of each shape: (k, 2, 3) [m]."""
    stack = _stack(shapes)
    ways = np.broadcast_to(np.eye(3), (len(shapes), 3, 3))
    return np.stack([-stack.reach(-ways), stack.reach(ways)], axis=1)


def apart(first: Shape, second: Shape) -> Apart:
    """The distance of two shapes, and the place where they are nearest; see `all_apart`."""
    return all_apart([first], [second])[0]


def all_apart(firsts: Sequence[Shape], seconds: Sequence[Shape]) -> tuple[Apart, ...]:
    """The distances of pairs of shapes, and the places where they are nearest; see the module's head.

    returns : a distance never more than the true one, and right to 2e-5 m
    """
    if not firsts:
        return ()
    first, second = _stack(firsts), _stack(seconds)
    here = first.nearest(second.centre)
    for _ in range(_STEPS):
        there = second.nearest(here)
        before, here = here, first.nearest(there)
        if float(np.abs(here - before).max()) < 1e-8:
            break
    lines, middles = there - here, 0.5 * (here + there)
    most = np.linalg.norm(lines, axis=1)
    along = (lines / np.maximum(most, _HAIR)[:, None])[:, None]
    gaps = (-second.reach(-along) - first.reach(along))[:, 0]
    rest = np.flatnonzero((most < _SURE) | (most - gaps > _SURE))
    if len(rest):
        gaps[rest] = _gaps(first.only(rest), second.only(rest), lines[rest])
    return tuple(Apart(gap, (x, y, z)) for gap, (x, y, z) in zip(gaps.tolist(), middles.tolist(), strict=True))


def _gaps(first: _Stack, second: _Stack, lines: Array) -> Array:
    """The widest gaps (k,) [m] over all directions, `lines` (k, 3) [m] a first guess."""
    ways = _first_ways(first, second, lines)
    row = np.arange(len(lines))
    best = np.full(len(lines), -math.inf)
    way = ways[:, 0]
    for close in (0.0, *_CLOSER.tolist()):
        tried = ways if close == 0.0 else _round_about(way, close)
        values = -second.reach(-tried) - first.reach(tried)
        place = np.argmax(values, axis=1)
        better = values[row, place] > best
        best = np.where(better, values[row, place], best)
        way = np.where(better[:, None], tried[row, place], way)
    return best


def _first_ways(first: _Stack, second: _Stack, lines: Array) -> Array:
    """Directions (k, m, 3) that flat sides, edges and axes give, and those of the lines between."""
    axes = np.concatenate([first.axes, second.axes], axis=1)
    crossed = _cross(first.axes[:, :, None], second.axes[:, None]).reshape(len(lines), -1, 3)
    between = second.centre - first.centre
    beside = between[:, None] - np.einsum("kac,kc->ka", axes, between)[..., None] * axes
    own = [np.einsum("ra,kac->krc", _RING, stack.axes[:, 1:]) for stack in (first, second)]
    ways = np.concatenate([axes, crossed, beside, lines[:, None], between[:, None], *own], axis=1)
    sizes = np.linalg.norm(ways, axis=2, keepdims=True)
    ways = np.where(sizes > 1e-9, ways / np.maximum(sizes, 1e-9), np.array([1.0, 0.0, 0.0]))
    return np.concatenate([ways, -ways], axis=1)


def _round_about(way: Array, close: float) -> Array:
    """Directions (k, m, 3) that are `close` and half as close to each of (k, 3)."""
    other = np.eye(3)[np.argmin(np.abs(way), axis=1)]
    across = _cross(way, other)
    across /= np.linalg.norm(across, axis=1, keepdims=True)
    ring = np.tensordot(np.stack([across, _cross(way, across)], axis=1), _RING, axes=([1], [1])).swapaxes(1, 2)
    near = np.concatenate([way[:, None] + close * ring, way[:, None] + 0.5 * close * ring], axis=1)
    return np.asarray(near / np.linalg.norm(near, axis=2, keepdims=True))


def _cross(first: Array, second: Array) -> Array:
    """(..., 3) as `numpy.cross`, at a third of its time for the few vectors there are here."""
    a, b, c, d, e, f = (vector[..., axis] for vector in (first, second) for axis in range(3))
    crossed = np.empty(np.broadcast_shapes(first.shape, second.shape))
    crossed[..., 0], crossed[..., 1], crossed[..., 2] = b * f - c * e, c * d - a * f, a * e - b * d
    return crossed


def line_to_line(first: tuple[Place, Place], second: tuple[Place, Place]) -> float:
    """Least distance [m] of two stretches, each by its ends.

    source : the square distance is a quadratic of both shares along; its least value inside, or on an edge
    """
    (a, b), (c, d) = ((np.asarray(start), np.asarray(stop)) for start, stop in (first, second))
    along, other = b - a, d - c
    ends = [_to_line(a, c, d), _to_line(b, c, d), _to_line(c, a, b), _to_line(d, a, b)]
    normal = _cross(along, other)
    square = float(normal @ normal)
    if square > 1e-24:
        off = c - a
        s = float(_cross(off, other) @ normal) / square
        t = float(_cross(off, along) @ normal) / square
        if 0.0 <= s <= 1.0 and 0.0 <= t <= 1.0:
            ends.append(float(abs(off @ normal)) / math.sqrt(square))
    return min(ends)


def to_line(point: Place, start: Place, stop: Place) -> float:
    """Distance [m] of a point from a stretch."""
    return _to_line(np.asarray(point), np.asarray(start), np.asarray(stop))


def _to_line(point: Array, start: Array, stop: Array) -> float:
    along = stop - start
    length = float(along @ along)
    share = min(max(float((point - start) @ along) / length, 0.0), 1.0) if length > _HAIR**2 else 0.0
    return float(np.linalg.norm(point - start - share * along))


def walls(hull: Hull, points: Array) -> Array:
    """Wood [m] from points (k, 3) to the nearest skin; negative outside.

    returns : the least of the ways straight up, down, sideways and out of an end; near the skin also square to it
    """
    inside = np.clip(points[:, 0], hull.start + 1e-6, hull.stop - 1e-6)
    shape = hull.sections(inside)
    y, z = points[:, 1], points[:, 2]
    sideways = half_widths(shape, z) - np.abs(y)
    share = np.minimum(np.abs(y) / np.maximum(shape.half_width, _HAIR), 1.0)
    tall = (1.0 - share**shape.fullness) ** (1.0 / shape.fullness)
    up = shape.widest + tall * (shape.top - shape.widest) - z
    down = z - shape.widest + tall * (shape.widest - shape.bottom)
    ends = np.minimum(points[:, 0] - hull.start, hull.stop - points[:, 0])
    least: Array = np.minimum.reduce([sideways, up, down, ends])
    near = np.abs(least) < _NEAR_SKIN
    if near.any():
        square = _square_to_skin(hull, points[near])
        least[near] = np.copysign(np.minimum(np.abs(least[near]), square), least[near])
    return least


def _square_to_skin(hull: Hull, points: Array) -> Array:
    """Distance [m] of points from where lines square to the skin meet it, by going there and looking again; infinite
    where that leads nowhere, as by a pointed end."""
    foot = points
    for _ in range(3):
        way = _outward(hull, foot)
        foot = points + _out_to_skin(hull, points, way)[:, None] * way
    is_on = np.abs(_off_skin(hull, foot)) < 2.0 * _STEP
    return np.where(is_on, np.linalg.norm(foot - points, axis=1), math.inf)


def _out_to_skin(hull: Hull, points: Array, way: Array) -> Array:
    """How far [m] it is from points along unit vectors to the skin, minus back along them; by false position."""
    low, low_off = np.zeros(len(points)), _off_skin(hull, points)
    high = np.where(low_off < 0.0, 2.0 * _NEAR_SKIN, -2.0 * _NEAR_SKIN)
    high_off = _off_skin(hull, points + high[:, None] * way)
    for _ in range(12):
        rise = high_off - low_off
        middle = high - high_off * (high - low) / np.where(np.abs(rise) > _HAIR, rise, 1.0)
        off = _off_skin(hull, points + middle[:, None] * way)
        crossed = off * high_off < 0.0
        low = np.where(crossed, high, low)
        low_off = np.where(crossed, high_off, 0.5 * low_off)
        high, high_off = middle, off
        if np.abs(off).max(initial=0.0) < _ON_SKIN:
            break
    return np.clip(high, -4.0 * _NEAR_SKIN, 4.0 * _NEAR_SKIN)


def _outward(hull: Hull, points: Array) -> Array:
    """Unit vectors (k, 3) in which points get out of the body fastest."""
    moved = points[None] + np.concatenate([np.zeros((1, 3)), _STEP * np.eye(3)])[:, None]
    off = _off_skin(hull, moved.reshape(-1, 3)).reshape(4, -1)
    slope = (off[1:] - off[0]).T
    return np.asarray(slope / np.maximum(np.linalg.norm(slope, axis=1, keepdims=True), _HAIR))


def _off_skin(hull: Hull, points: Array) -> Array:
    """How far [m] points (k, 3) stand out of the skin by their own section, roughly; exactly nothing on it."""
    shape = hull.sections(np.clip(points[:, 0], hull.start + _STEP, hull.stop - _STEP))
    up = points[:, 2] - shape.widest
    tall = np.maximum(np.where(up > 0.0, shape.top - shape.widest, shape.widest - shape.bottom), _HAIR)
    wide = np.maximum(shape.half_width, _HAIR)
    out = (np.abs(points[:, 1]) / wide) ** shape.fullness + (np.abs(up) / tall) ** shape.fullness
    return np.asarray(((out + 1e-30) ** (1.0 / shape.fullness) - 1.0) * np.minimum(wide, tall))
