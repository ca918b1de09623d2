"""A joint's faces drawn at full size [mm], from the side and from above, whatever their shape, bare and finished."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.checked import Check
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.physics.hull import Hull, depth_at, half_width_at
from gudgeon.physics.joint_face import FaceLine, JointShape
from gudgeon.physics.section import half_widths
from gudgeon.report.strokes import Array, Line, Stroke, path

_OVERSHOOT = 5.0  # mm a centre line runs on past what it is the middle of
_LOOKS = 121  # offsets tried from the middle out
_CLOSER = np.linspace(0.0, 1.0, 17)  # of the step it leaves the skin in
_ROUNDS = 3  # of looking closer, from some tenths of a millimetre to less than a ten-thousandth


@dataclass(frozen=True, eq=False)
class _Face:
    """One face at one size: the line it is drawn with, its body, the station [m] its own count from."""

    line: Line
    hull: Hull
    at: float
    face: FaceLine

    @property
    def middle(self) -> float:
        """Its station [m] at the middle line."""
        return self.at + float(self.face.station(np.zeros(1))[0])

    def reach(self, heights: Array) -> Array:
        """How far out it goes before it leaves the skin, at heights (k,) [m]: (k,) [m]."""
        near = np.clip(self.at + np.linspace(-0.02, 0.02, 9), self.hull.start, self.hull.stop)
        wide = float(self.hull.side(near).max())
        step = 1.2 * wide / (_LOOKS - 1)
        low, is_in = self._furthest(np.linspace(0.0, 1.2 * wide, _LOOKS)[None], heights)
        for _ in range(_ROUNDS):
            low, _ = self._furthest(low[:, None] + step * _CLOSER, heights)
            step /= len(_CLOSER) - 1
        return np.where(is_in, low, 0.0)

    def _furthest(self, offsets: Array, heights: Array) -> tuple[Array, NDArray[np.bool_]]:
        """Of growing offsets [m], (k, m) or (1, m) alike, at heights (k,) [m] the last in the wood; and if any is."""
        inside = self._in_wood(offsets, heights[:, None])
        last = offsets.shape[1] - 1 - np.argmax(inside[:, ::-1], axis=1)
        is_in: NDArray[np.bool_] = np.asarray(inside.any(axis=1), dtype=bool)
        own = np.broadcast_to(offsets, inside.shape)
        return np.where(is_in, own[np.arange(len(own)), last], own[:, 0]), is_in

    def _in_wood(self, offsets: Array, heights: Array) -> Array:
        """Which points of it, at offsets and (k, 1) heights [m], lie inside the skin: (k, m)."""
        stations = np.clip(self.at + self.face.station(offsets), self.hull.start, self.hull.stop)
        return np.asarray(offsets <= half_widths(self.hull.sections(stations), heights))


def bare_shape(check: Check, number: int) -> JointShape:
    """A joint as it is cut in bare wood; number : from 1."""
    return joint_shape(check.design.joints[number - 1], check.lure.hull).bared(check.lure.build)


def bare_faces(check: Check, number: int) -> tuple[float, float]:
    """Stations [m] at the middle of a joint's faces as cut in bare wood: coats close the gap to the finished one."""
    at, shape, middle = check.lure.joints[number - 1].at, bare_shape(check, number), np.zeros(1)
    return at + float(shape.front.station(middle)[0]), at + float(shape.rear.station(middle)[0])


def _faces(check: Check, number: int) -> list[_Face]:
    lure, at, bare = check.lure, check.lure.joints[number - 1].at, bare_shape(check, number)
    cut = [_Face(Line.VISIBLE, lure.bare_hull, at, face) for face in (bare.front, bare.rear)]
    if lure.build == 0.0:
        return cut
    shape = joint_shape(check.design.joints[number - 1], lure.hull)
    return cut + [_Face(Line.FINISHED, lure.hull, at, face) for face in (shape.front, shape.rear)]


def joint_from_side(check: Check, number: int) -> list[Stroke]:
    """Its middle line, hidden where a knuckle or a tongue stands in its room; and where it leaves the skin."""
    joint, lure = check.lure.joints[number - 1], check.lure
    is_vee = check.design.joints[number - 1].face == "vee"
    strokes = []
    for face in _faces(check, number):
        bottom, top = depth_at(face.hull, min(max(face.middle, face.hull.start), face.hull.stop))
        line = Line.HIDDEN if not is_vee and face.line is Line.VISIBLE else face.line
        strokes.append(path(line, 1e3 * np.array([(face.middle, bottom), (face.middle, top)])))
        if face.line is Line.VISIBLE and (not is_vee or face.face.edges[0].slope):
            strokes.append(path(Line.VISIBLE, _arris(face)))
    low, high = depth_at(lure.hull, joint.at)
    ends = [(1e3 * joint.at, 1e3 * low - _OVERSHOOT), (1e3 * joint.at, 1e3 * high + _OVERSHOOT)]
    return [*strokes, path(Line.CENTRE, ends)]


def _arris(face: _Face) -> Array:
    """Where a face leaves the skin, seen from the side (k, 2) [mm]: the line to draw on the blank."""
    bottom, top = depth_at(face.hull, min(max(face.middle, face.hull.start), face.hull.stop))
    heights = 0.5 * (bottom + top) + 0.5 * (top - bottom) * np.sin(np.linspace(-0.5 * math.pi, 0.5 * math.pi, 41))
    return np.asarray(1e3 * np.stack([face.at + face.face.station(face.reach(heights)), heights], axis=1))


def joint_from_above(check: Check, number: int) -> list[Stroke]:
    """Its faces from skin to skin where the body is widest."""
    joint, lure = check.lure.joints[number - 1], check.lure
    strokes = []
    for face in _faces(check, number):
        out = float(face.reach(face.hull.widest(np.array([face.middle])))[0])
        if out > 0.0:
            strokes.append(path(face.line, 1e3 * (face.face.drawn(out) + np.array([face.at, 0.0]))))
    out = 1e3 * half_width_at(lure.hull, joint.at, 0.0) + _OVERSHOOT
    return [*strokes, path(Line.CENTRE, [(1e3 * joint.at, -out), (1e3 * joint.at, out)])]
