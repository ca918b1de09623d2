"""One piece of the body as a room: which points lie in its wood, and where a line first comes into it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import Array, FaceLine, JointShape
from gudgeon.physics.mass import Place
from gudgeon.physics.section import half_widths

_LOOKS = 1500  # along a line: wood thinner than its length over this could be stepped over
_CLOSER = (65, 65, 65)  # looks between the last point outside and the first inside, time and again


@dataclass(frozen=True, eq=False)
class WoodPiece:
    """The wood between two joints.

    ahead, behind : station [m] of the middle of the gap there and this piece's own face; None at the body's ends
    """

    hull: Hull
    ahead: tuple[float, FaceLine] | None
    behind: tuple[float, FaceLine] | None

    def holds(self, points: Array) -> NDArray[np.bool_]:
        """Which of some points (k, 3) [m] lie in its wood."""
        x, y, z = points.T
        inside = (x > self.hull.start) & (x < self.hull.stop)
        held = np.clip(x, self.hull.start, self.hull.stop)
        inside &= np.abs(y) < half_widths(self.hull.sections(held), z)
        if self.ahead is not None:
            inside &= x > self.ahead[0] + self.ahead[1].station(y)
        if self.behind is not None:
            inside &= x < self.behind[0] + self.behind[1].station(y)
        return np.asarray(inside)

    def entry(self, start: Place, way: Place, reach: float) -> float:
        """How far [m] from a point along a unit vector the wood first begins, within `reach` [m].

        returns : infinite where there is none
        """
        begin, along = np.asarray(start), np.asarray(way)
        low, high = 0.0, reach
        for looks in (_LOOKS, *_CLOSER):
            tried = np.linspace(low, high, looks)
            hit = self.holds(begin + tried[:, None] * along)
            if not hit.any():
                return math.inf
            place = int(np.argmax(hit))
            if place == 0:
                return low
            low, high = float(tried[place - 1]), float(tried[place])
        return high


def wood_pieces(hull: Hull, joints: Sequence[tuple[float, JointShape]]) -> tuple[WoodPiece, ...]:
    """Every piece of a body, nose to tail.

    joints : station [m] of the middle of the gap, and its shape, from the nose aft
    """
    pieces = []
    for place in range(len(joints) + 1):
        ahead = (joints[place - 1][0], joints[place - 1][1].rear) if place else None
        behind = (joints[place][0], joints[place][1].front) if place < len(joints) else None
        pieces.append(WoodPiece(hull, ahead, behind))
    return tuple(pieces)
