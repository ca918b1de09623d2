"""How far a joint turns before wood meets wood, and which corner meets what: closed form.

The swing is the angle of the piece behind the joint against the piece ahead of it, about the upright pivot; to the
right when the tail goes right, and as much to the left, for both pieces are alike on both sides.

A turn about an upright axis leaves every height where it is. So at each height two flat contours seen from above turn
against each other, and the first meeting of any height is the joint's. Contours are straight stretches and arcs about
the middle line, and a corner reaches either where A cos(angle) + B sin(angle) = C. A knuckle's round cannot meet its
socket's but at an edge: the line through both centres then leaves one of the two rounds.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import Array, Edge, FaceLine, JointShape, Piece
from gudgeon.physics.section import half_widths

MOST = math.radians(120.0)  # beyond this a joint is folded; told as no meeting at all
_HEIGHTS = np.sin(np.radians([-75.0, -50.0, -20.0, 0.0, 20.0, 50.0, 75.0]))
_STATIONS = 129
_SIDE_STEPS = np.array([0.02, 0.06, 0.12, 0.2, 0.3, 0.42, 0.56, 0.75, 1.0])  # shares of the way along the side
_HAIR = 1e-9  # [m]
Places = NDArray[np.intp]


@dataclass(frozen=True, eq=False)
class Sides:
    """The skin near a joint, seen from above.

    stations    : (k,) [m] evenly spaced, aft of the middle of the gap
    heights     : (m,) [m]
    half_widths : (m, k) [m] nothing where there is no body
    """

    stations: Array
    heights: Array
    half_widths: Array

    def widths_at(self, stations: Array) -> Array:
        """Half-widths (m, ...) [m] at stations (m, ...) [m]; those past the last are the last's."""
        step = self.stations[1] - self.stations[0]
        place = np.clip((stations - self.stations[0]) / step, 0.0, len(self.stations) - 1.0)
        low = np.minimum(place.astype(int), len(self.stations) - 2)
        row = np.arange(len(self.heights)).reshape(-1, *([1] * (stations.ndim - 1)))
        first = self.half_widths[row, low]
        return np.asarray(first + (place - low) * (self.half_widths[row, low + 1] - first))

    def grown(self, by: float) -> "Sides":
        """The skin with the body wider by as much [m] on each side."""
        widths = np.where(self.half_widths > 0.0, np.maximum(self.half_widths + by, 0.0), 0.0)
        return replace(self, half_widths=widths)

    def near(self, height: float | None) -> "Sides":
        """Only the height [m] asked for and the one where the body is widest: enough to try sizes on."""
        rows = {int(np.argmax(self.half_widths[:, len(self.stations) // 2]))}
        if height is not None:
            rows.add(int(np.argmin(np.abs(self.heights - height))))
        kept = sorted(rows)
        return Sides(self.stations, self.heights[kept], self.half_widths[kept])


def sides_of(hull: Hull, at: float, reach: float, grown: float = 0.0) -> Sides:
    """The skin within `reach` [m] of a joint, at heights spread over its depth, the widest lines among them.

    grown : [m] how much wider the body is on each side than drawn: its coats, or less than nothing for the wood
    """
    stations = np.linspace(max(at - reach, hull.start), min(at + reach, hull.stop), _STATIONS)
    shape = hull.sections(stations)
    middle = int(np.argmin(np.abs(stations - at)))
    centre, top, bottom = (float(line[middle]) for line in (shape.widest, shape.top, shape.bottom))
    heights = centre + _HEIGHTS * np.where(_HEIGHTS > 0.0, top - centre, centre - bottom)
    heights = np.unique(np.concatenate([heights, shape.widest[[middle // 2, min(3 * middle // 2, _STATIONS - 1)]]]))
    return Sides(stations - at, heights, half_widths(shape, heights[:, None])).grown(grown)


def straight_sides(half_width: float, reach: float) -> Sides:
    """A body of one width [m] everywhere, at one height: the joint on paper."""
    return Sides(np.linspace(-reach, reach, 33), np.zeros(1), np.full((1, 33), half_width))


@dataclass(frozen=True)
class Meeting:
    """Where wood meets wood first.

    corner_of : the piece whose corner it is
    corner, on : what meets what: "corner", "lip", "tongue"; "face", "side", "knuckle", ...
    place     : (3,) [m] station aft of the middle of the gap, offset, height; as the front piece lies
    """

    corner_of: Piece
    corner: str
    on: str
    place: tuple[float, float, float]


@dataclass(frozen=True)
class Swing:
    """How far a joint turns to each side.

    angle   : [rad] MOST when nothing meets before
    meeting : None when nothing does
    """

    angle: float
    meeting: Meeting | None


@dataclass(frozen=True, eq=False)
class _Contour:
    """One piece seen from above, both halves, relative to the pivot.

    corners : (m, v, 2) [m]       names : v words
    starts, stops : (m, e, 2) [m] of the stretches between them, and along the sides
    arcs    : e of Edge; None for a straight stretch          halves : (e,) 1 on the right, -1 on the left
    on      : e words
    """

    corners: Array
    names: tuple[str, ...]
    starts: Array
    stops: Array
    arcs: tuple[Edge | None, ...]
    halves: Array
    on: tuple[str, ...]


def swing(shape: JointShape, sides: Sides) -> Swing:
    """How far the piece behind turns against the piece ahead before they meet, to either side.

    shape : the faces, finished or bare      sides : the skin, with or without its coats to match
    """
    ends = [_skin_corner(face, sides) for face in (shape.front, shape.rear)]
    there = np.isfinite(ends[0][:, 0]) & np.isfinite(ends[1][:, 0])
    if not there.any():
        return Swing(MOST, None)
    sides = Sides(sides.stations, sides.heights[there], sides.half_widths[there])
    front = _contour(shape.front, ends[0][there], sides, shape.pivot)
    rear = _contour(shape.rear, ends[1][there], sides, shape.pivot)
    found = [_first_corner(rear, front, 1.0, "rear"), _first_corner(front, rear, -1.0, "front")]
    angle, level, meeting = min(found, key=lambda candidate: candidate[0])
    if meeting is None or angle >= MOST:
        return Swing(MOST, None)
    x, y, _ = meeting.place
    return Swing(angle, replace(meeting, place=(x + shape.pivot, y, float(sides.heights[level]))))


def _contour(face: FaceLine, corner: Array, sides: Sides, pivot: float) -> _Contour:
    """Corners from the middle out to the skin, then along the side away from the joint; then the same, mirrored."""
    points, names, arcs, on = _face_points(face, corner)
    away = corner[:, None, 0] + face.wood * _SIDE_STEPS * (sides.stations[-1] - sides.stations[0]) / 2.0
    away = np.clip(away, sides.stations[0], sides.stations[-1])
    side = np.stack([away, sides.widths_at(away)], axis=2)
    chain = np.concatenate([points, side], axis=1) - np.array([pivot, 0.0])
    arcs, on = [*arcs, *[None] * len(_SIDE_STEPS)], [*on, *["side"] * len(_SIDE_STEPS)]
    corners = chain[:, : len(names)]
    mirror = np.array([1.0, -1.0])
    both = np.concatenate([chain, chain * mirror], axis=1)
    length = chain.shape[1]
    first = np.array([*range(length - 1), *range(length, 2 * length - 1)])
    return _Contour(
        corners=np.concatenate([corners, corners * mirror], axis=1), names=(*names, *names), starts=both[:, first],
        stops=both[:, first + 1], arcs=tuple(_moved(arc, pivot) for arc in [*arcs, *arcs]),
        halves=np.repeat([1.0, -1.0], length - 1), on=(*on, *on),
    )  # fmt: skip


def _moved(arc: Edge | None, pivot: float) -> Edge | None:
    return None if arc is None else replace(arc, start=arc.start - pivot)


def _skin_corner(face: FaceLine, sides: Sides) -> Array:
    """Where the face comes out through the skin at each height: (m, 2) [m]; not a number where there is no wood."""
    order = slice(None) if face.wood < 0.0 else slice(None, None, -1)
    x, widths = sides.stations[order], sides.half_widths[:, order]
    past = (x - face.station(widths)) * -face.wood
    is_cut = past > 0.0
    place = np.argmax(is_cut, axis=1)
    row = np.arange(len(place))
    before, after = past[row, place - 1], past[row, place]
    share = before / np.where(before == after, 1.0, before - after)
    station = x[place - 1] + share * (x[place] - x[place - 1])
    width = widths[row, place - 1] + share * (widths[row, place] - widths[row, place - 1])
    there = is_cut.any(axis=1) & (place > 0) & (width > _HAIR)
    for inner, outer in pairwise(face.edges):  # where the skin runs out through the side of a tongue or a slot
        low, high = sorted(float(edge.station(np.array(outer.inner))) for edge in (inner, outer))
        across = np.minimum(widths[row, place - 1], widths[row, place]) <= outer.inner
        across &= outer.inner <= np.maximum(widths[row, place - 1], widths[row, place])
        width = np.where(across & (station > low) & (station < high), outer.inner, width)
    return np.where(there[:, None], np.stack([station, width], axis=1), np.nan)


def _face_points(face: FaceLine, corner: Array) -> tuple[Array, list[str], list[Edge | None], list[str]]:
    """The face's corners (m, v, 2) [m] and their names; what lies between each and the next."""
    limit = corner[:, 1]
    points, names, arcs, on = [], [], [], []
    for number, edge in enumerate(face.edges):
        last = number == len(face.edges) - 1
        for offset, is_end in ((edge.inner, False), (edge.outer, True)):
            out = np.minimum(offset, limit)
            there = np.stack([edge.station(np.maximum(out, edge.inner)), out], axis=1)
            gone = (edge.inner > 0.0) & (edge.inner >= limit) | (is_end & last)
            points.append(np.where(gone[:, None], corner, there))
            names.append("corner" if is_end and last else "middle" if offset == 0.0 else edge.name)
        arcs += [edge if edge.radius else None, None]
        on += [edge.name, f"{edge.name}'s side"]
    return np.stack(points, axis=1), names, arcs[:-1], on[:-1]


_Found = tuple[float, int, Meeting | None]
_NOTHING: _Found = (math.inf, 0, None)


def _first_corner(corners: _Contour, still: _Contour, way: float, piece: Piece) -> _Found:
    """The first corner of one contour to reach a stretch of the other.

    way : 1 when the corners' piece is the one that turns, -1 when the other turns and it is seen from that one
    """
    start, along = still.starts, still.stops - still.starts
    a, b, c = _on_line(corners.corners[:, :, None], start[:, None], along[:, None])
    for place, arc in enumerate(still.arcs):
        if arc is not None:
            a[..., place], b[..., place], c[..., place] = _on_arc(corners.corners, arc)
    level, corner, stretch, angles = _reached(a, way * b, c)
    v, start, along = corners.corners[level, corner], start[level, stretch], along[level, stretch]
    cos, sin = np.cos(angles), way * np.sin(angles)
    x, y = v[:, 0] * cos - v[:, 1] * sin, v[:, 0] * sin + v[:, 1] * cos
    length = (along**2).sum(axis=1)
    share = ((x - start[:, 0]) * along[:, 0] + (y - start[:, 1]) * along[:, 1]) / np.maximum(length, _HAIR**2)
    is_on = (share >= -1e-7) & (share <= 1.0 + 1e-7) & (length > _HAIR**2)
    for place, arc in enumerate(still.arcs):
        if arc is not None:
            own = stretch == place
            is_on[own] = _within_arc(still, place, level[own], x[own], y[own])
    if not is_on.any():
        return _NOTHING
    first = int(np.argmin(np.where(is_on, angles, math.inf)))
    where = (x[first], y[first]) if piece == "rear" else tuple(v[first])  # the front was seen from the piece that turns
    names = corners.names[corner[first]], still.on[stretch[first]]
    return float(angles[first]), int(level[first]), Meeting(piece, *names, (float(where[0]), float(where[1]), 0.0))


def _on_line(v: Array, start: Array, along: Array) -> tuple[Array, Array, Array]:
    """A, B and C for a corner v turned by the angle onto the line through `start` along `along`."""
    normal_x, normal_y = -along[..., 1], along[..., 0]
    a = normal_x * v[..., 0] + normal_y * v[..., 1]
    b = normal_y * v[..., 0] - normal_x * v[..., 1]
    return a, b, np.broadcast_to(normal_x * start[..., 0] + normal_y * start[..., 1], a.shape).copy()


def _on_arc(v: Array, arc: Edge) -> tuple[Array, Array, Array]:
    """The same for a corner onto an arc: its distance from the centre is the radius."""
    square = (v**2).sum(axis=-1)
    return 2.0 * arc.start * v[..., 0], -2.0 * arc.start * v[..., 1], square + arc.start**2 - arc.radius**2


def _reached(a: Array, b: Array, c: Array) -> tuple[Places, Places, Places, Array]:
    """Level, corner and stretch (k,) of each place where A cos + B sin = C, and the angle (k,) [rad] from 0 to MOST."""
    size = np.hypot(a, b)
    level, corner, stretch = np.nonzero((np.abs(c) <= size) & (size > 1e-16))
    there = level, corner, stretch
    middle, half = np.arctan2(b[there], a[there]), np.arccos(c[there] / size[there])
    angles = np.concatenate([middle - half, middle + half]) % (2.0 * math.pi)
    near = np.flatnonzero(angles < MOST)
    at = near % len(level)
    return level[at], corner[at], stretch[at], angles[near]


def _within_arc(contour: _Contour, place: int, level: Places, x: Array, y: Array) -> NDArray[np.bool_]:
    """Whether points (k,) on an arc's circle, each at its level, are on the arc."""
    arc = contour.arcs[place]
    assert arc is not None
    out = contour.halves[place] * y
    ends = np.abs(np.stack([contour.starts[level, place, 1], contour.stops[level, place, 1]]))
    low, high = ends.min(axis=0), ends.max(axis=0)
    return np.asarray((out >= low - _HAIR) & (out <= high + _HAIR) & (arc.slope * (x - arc.start) >= -_HAIR))


def value_for(wanted: float, angle_of: Callable[[float], float], low: float, high: float) -> float | None:
    """The size between `low` and `high` at which a joint turns `wanted` [rad], to 0.02 deg; None when none does.

    angle_of : size -> swing [rad], growing with it
    """
    below, above = angle_of(low) - wanted, angle_of(high) - wanted
    if below > 0.0:
        return None
    if above < 0.0:  # it may grow, then fall again
        tried = [low + share * (high - low) for share in (0.2, 0.4, 0.6, 0.8)]
        high, above = max(((size, angle_of(size) - wanted) for size in tried), key=lambda pair: pair[1])
        if above < 0.0:
            return None
    close = 1e-4 * (high - low)
    for step in range(40):
        share = 0.5 if step % 3 == 2 else below / (below - above) if below != above else 0.5
        size = low + share * (high - low)
        off = angle_of(size) - wanted
        if abs(off) < 3.5e-4:
            return size
        low, below, high, above = (size, off, high, above) if off < 0.0 else (low, below, size, off)
        if high - low < close:  # the swing jumps there, past one corner to the next
            break
    return high
