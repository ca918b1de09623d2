"""How one stiff body's added mass falls off toward its ends, so that both the whole and its turning are right.

Sections alone give too much: water escapes round the ends. What they keep is known for the whole body and for its
turning (`end_factors`), and a share (1 - s^2)^p of each section, s from -1 at the nose to 1 at the tail, meets both.
"""

from dataclasses import dataclass

import numpy as np

from gudgeon.physics.spread import Array

_STEEPEST = 40.0  # power; a body less than one and a half as long as thick is past it


@dataclass(frozen=True)
class EndLoss:
    """What sections keep along one stiff body: `most` (1 - s^2)^`power`."""

    most: float
    power: float

    def shares(self, places: Array) -> Array:
        """Share (k,) kept at places (k,), -1 at the nose to 1 at the tail; nothing beyond."""
        inside = np.maximum(1.0 - places**2, 0.0)
        return np.asarray(self.most * inside**self.power)


def end_loss(places: Array, widths: Array, masses: Array, *, kept: float, turning_kept: float) -> EndLoss:
    """The loss that leaves a share of a body's added mass, and another of its added inertia about its middle.

    places, widths : (n,) middle and length of its strips, the body from -1 to 1      masses : (n,) by their sections
    kept, turning_kept : shares of the masses' sum, and of their inertia's
    returns : where the turning keeps as much as the whole or more, the same share everywhere
    source  : our own; right for an ellipsoid by what `kept` and `turning_kept` are
    """
    from scipy.optimize import brentq

    squares, inside = places**2 + widths**2 / 12.0, np.maximum(1.0 - places**2, 0.0)
    total, inertia = float(masses.sum()), float(masses @ squares)

    def excess(power: float) -> float:
        held = masses * inside**power
        return float(held @ squares) / float(held.sum()) * kept * total / (turning_kept * inertia) - 1.0

    if excess(0.0) <= 0.0:
        power = 0.0
    else:
        power = _STEEPEST if excess(_STEEPEST) > 0.0 else float(brentq(excess, 0.0, _STEEPEST, xtol=1e-10))
    return EndLoss(kept * total / float((masses * inside**power).sum()), power)
