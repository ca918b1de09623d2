"""A tail fin cut across: how tall it stands at each station."""

from dataclasses import dataclass

import numpy as np

from gudgeon.physics.plate import Plate
from gudgeon.physics.spread import Array


@dataclass(frozen=True, eq=False)
class UprightFin:
    """A fin in the body's middle plane.

    root    : (2,) [m] station where it leaves the body, and height of its middle
    plate   : aft from the root, and up from the middle
    thickness : [m]
    """

    root: tuple[float, float]
    plate: Plate
    thickness: float

    @property
    def stop(self) -> float:
        """Station of its rear edge [m]."""
        return self.root[0] + float(self.plate.outline[:, 0].max())

    def spans(self, stations: Array) -> tuple[Array, Array, Array]:
        """Lowest and highest place (k,) [m] of the fin at each station, and how much of that is fin; 0 where none is.

        At its very ends a fin is as tall as just inside them.
        """
        x = np.asarray(stations, dtype=float) - self.root[0]
        corners = self.plate.outline
        first, last = float(corners[:, 0].min()), float(corners[:, 0].max())
        hair = 1e-7 * (last - first)
        there = (x >= first - hair) & (x <= last + hair)
        inside = np.clip(x, first + hair, last - hair)
        following = np.roll(corners, -1, axis=0)
        low, high = corners[:, 0], following[:, 0]
        crosses = (low <= inside[:, None]) != (high <= inside[:, None])
        share = np.divide(inside[:, None] - low, high - low, out=np.zeros(crosses.shape), where=crosses)
        heights = corners[:, 1] + share * (following[:, 1] - corners[:, 1])
        ordered = np.sort(np.where(crosses, heights, np.inf), axis=1)
        count = crosses.sum(axis=1)
        signs = np.where(np.arange(ordered.shape[1]) % 2 == 0, -1.0, 1.0)
        solid = np.where(np.isfinite(ordered), ordered * signs, 0.0).sum(axis=1)
        top = np.take_along_axis(ordered, np.maximum(count - 1, 0)[:, None], axis=1)[:, 0]
        found = there & (count > 1)
        height = self.root[1]
        return (np.where(found, height + np.where(found, ordered[:, 0], 0.0), height),
                np.where(found, height + np.where(found, top, 0.0), height), np.where(found, solid, 0.0))  # fmt: skip
