"""The skin a joint's faces take off, or leave on, beyond square cuts half a gap from its middle."""

from collections.abc import Sequence

import numpy as np

from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import Array, FaceLine

_ROUND = 64  # places round the body: right to 2 % of what a vee takes, 6 % of what a knuckle or a tongue does
_PASSES = 3  # from the plane's own section to the one where the face comes out: each is nearer by slope times taper


def skins_taken(hull: Hull, faces: Sequence[tuple[float, float, FaceLine]]) -> list[float]:
    """Skin [m2] between the square plane and each face, all of them looked up at once; less than nothing where the face
    reaches beyond the plane.

    faces : station [m] of the middle of the gap, gap [m], face
    """
    if not faces:
        return []
    planes = np.array([at + 0.5 * gap * face.wood for at, gap, face in faces])
    stations = np.repeat(planes[:, None], _ROUND, axis=1)
    start = points = _on_skin(hull, stations)
    for _ in range(_PASSES):
        stations = np.stack([at + face.station(ring[:, 1]) for (at, _, face), ring in zip(faces, points, strict=True)])
        points = _on_skin(hull, stations)
    along = points - start
    side = 0.5 * (np.roll(start, -1, axis=1) - np.roll(start, 1, axis=1)
                  + np.roll(points, -1, axis=1) - np.roll(points, 1, axis=1))  # fmt: skip
    side[..., 0] = 0.0  # along the section's own line, not where the face leaves it
    areas = np.linalg.norm(np.cross(along, 0.5 * side), axis=2)
    toward = np.array([face.wood for _, _, face in faces])[:, None]
    return [float(taken) for taken in (areas * np.sign(along[..., 0]) * toward).sum(axis=1)]


_TURN = 2.0 * np.pi * np.arange(_ROUND) / _ROUND
_OUT, _UP = np.cos(_TURN), np.sin(_TURN)


def _on_skin(hull: Hull, stations: Array) -> Array:
    """Points (m, _ROUND, 3) [m] of the skin, the k-th place round it at the k-th station [m] of each row."""
    held = np.clip(stations, hull.start, hull.stop)
    shape = hull.sections(held.ravel())
    power = 2.0 / shape.fullness.reshape(held.shape)
    wide, top, bottom, widest = (part.reshape(held.shape) for part in
                                 (shape.half_width, shape.top, shape.bottom, shape.widest))  # fmt: skip
    y = wide * np.sign(_OUT) * np.abs(_OUT) ** power
    z = widest + np.where(_UP > 0.0, top - widest, widest - bottom) * np.sign(_UP) * np.abs(_UP) ** power
    return np.stack([held, y, z], axis=2)
