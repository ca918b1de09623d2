"""Where every piece of a towed chain is at each moment, and its outline seen from above and from the side."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.chain import Chain

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Poses:
    """Every piece at k moments, in the earth's axes: x the way it is towed, y to starboard, z down.

    origins : (k, pieces, 3) [m] front end of each piece, from the point that is towed along
    axes    : (k, pieces, 3, 3) columns are the piece's own x, y and z
    """

    origins: Array
    axes: Array


def poses(place: Array, quaternion: Array, angles: Array, hinges: Array) -> Poses:
    """Every piece from the head's place and attitude and the joints' angles.

    place : (k, 3) [m]    quaternion : (k, 4) scalar first    angles : (k, joints) [rad]
    hinges : (joints, 3) [m] of each joint in the piece ahead of it
    """
    origins, axes = [place], [_turned(quaternion)]
    for joint, hinge in enumerate(hinges):
        origins.append(origins[-1] + axes[-1] @ hinge)
        axes.append(axes[-1] @ _about_z(angles[:, joint]))
    return Poses(np.stack(origins, axis=1), np.stack(axes, axis=1))


def _turned(quaternion: Array) -> Array:
    """(k, 3, 3) of unit quaternions (k, 4)."""
    w, x, y, z = quaternion.T
    rows = [[1.0 - 2.0 * (y * y + z * z), 2.0 * (x * y - w * z), 2.0 * (x * z + w * y)],
            [2.0 * (x * y + w * z), 1.0 - 2.0 * (x * x + z * z), 2.0 * (y * z - w * x)],
            [2.0 * (x * z - w * y), 2.0 * (y * z + w * x), 1.0 - 2.0 * (x * x + y * y)]]  # fmt: skip
    return np.moveaxis(np.array(rows), -1, 0)


def _about_z(angle: Array) -> Array:
    """(k, 3, 3) of turns about z."""
    cos, sin, nothing, one = np.cos(angle), np.sin(angle), np.zeros_like(angle), np.ones_like(angle)
    return np.moveaxis(np.array([[cos, -sin, nothing], [sin, cos, nothing], [nothing, nothing, one]]), -1, 0)


@dataclass(frozen=True)
class PieceOutline:
    """One piece in its own frame, anticlockwise on paper: seen from above (n, 3) and from the side (n, 3) [m]."""

    above: Array
    side: Array


def piece_outlines(chain: Chain) -> tuple[PieceOutline, ...]:
    """Outlines of the pieces through the middles and ends of their strips; a flexible fin is a piece."""
    found = []
    strips = chain.strips
    for piece, (first, last) in enumerate(zip(strips.first[:-1], strips.first[1:], strict=True)):
        own = slice(int(first), int(last))
        ends = strips.edge_place[[first + piece, last + piece]]
        x = np.concatenate([ends[:1], strips.place[own], ends[1:]])
        axis, depth, width = (np.concatenate([row[own][:1], row[own], row[own][-1:]])
                              for row in (strips.height_of_axis, 0.5 * strips.depth, 0.5 * strips.width))  # fmt: skip
        found.append(PieceOutline(_ring(x, width, axis, 1), _ring(x, depth, axis, 2)))
    return tuple(found)


def _ring(x: Array, half: Array, axis: Array, across: int) -> Array:
    """Down one side and back along the other, `half` to either side of the axis in y (1) or z (2)."""
    rings = []
    for way, order in ((1.0, slice(None)), (-1.0, slice(None, None, -1))):
        points = np.stack([x, np.zeros_like(x), axis], axis=1)
        points[:, across] += way * half
        rings.append(points[order])
    return np.concatenate(rings)


def placed(outlines: tuple[PieceOutline, ...], found: Poses, moment: int) -> tuple[tuple[Array, Array], ...]:
    """Each piece at one moment: its outline from above as (n, 2) of x, y, and from the side as (n, 2) of x, z [m]."""
    return tuple(
        ((found.origins[moment, piece] + outline.above @ found.axes[moment, piece].T)[:, :2],
         (found.origins[moment, piece] + outline.side @ found.axes[moment, piece].T)[:, ::2])
        for piece, outline in enumerate(outlines)
    )  # fmt: skip
