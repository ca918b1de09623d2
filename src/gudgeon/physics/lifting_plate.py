"""The push of water on a flat plate at a slant, a lip or a fin: how hard, square to the plate, and where along it.

Three parts: lift as of a thin wing at its front edge, the suction of the flow that rolls up over the side edges, and
the plain stoppage of water by a plate across the flow:

    C_N = K_p sin a cos a + K_v sin^2 a cos^2 a + C sin^4 a,    at most C
"""

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

FRONT_QUARTER = 0.25
"""[1] share of the chord behind the front edge where the wing's part of the force acts; the rest acts at half of it."""


def potential_slope(aspect: ArrayLike) -> Array:
    """Growth K_p [1/rad] of a plate's normal force with a small angle.

    aspect  : (...,) span over chord, more than 0
    returns : pi/2 of the aspect for a narrow plate (R. T. Jones), 2 pi for an endless one
    source  : Helmbold, as thin-wing textbooks have it, 2 pi A / (2 + (A^2 + 4)^0.5); within 6 % of lifting surfaces
    """
    span = np.asarray(aspect, dtype=float)
    return np.asarray(2.0 * np.pi * span / (2.0 + np.hypot(span, 2.0)))


def normal_coefficient(angle: ArrayLike, *, potential: ArrayLike, edge: ArrayLike, most: ArrayLike) -> Array:
    """Normal force coefficient of a plate on its area, from the side the water strikes.

    angle     : (...,) [rad] between plate and flow, 0 to a quarter turn
    potential : K_p, see `potential_slope`
    edge      : K_v; pi where the edges are swept far back, about half of that for a straight front edge
    most      : C, square to the flow, which it does not exceed
    source    : leading-edge suction analogy, Polhamus, NASA TN D-3767 (1966); its edge part times cos a, and the cap,
                are our own and stand for the vortices breaking down
    """
    wing, rest = _parts(angle, potential, edge, most)
    return np.asarray(np.minimum(wing + rest, most))


def force_place(angle: ArrayLike, *, potential: ArrayLike, edge: ArrayLike, most: ArrayLike) -> Array:
    """Where a plate's normal force acts, as a share of its chord behind the front edge.

    angle, potential, edge, most : as for `normal_coefficient`
    returns : 1/4 at a small angle, 1/2 across the flow: the wing's part at a quarter, the others at the middle; the cap
              takes from each alike
    source  : the three parts' own centres; our own sum of them
    """
    wing, rest = _parts(angle, potential, edge, most)
    whole = wing + rest
    share = np.divide(wing, whole, out=np.ones_like(whole), where=whole > 0.0)
    return np.asarray(0.5 - (0.5 - FRONT_QUARTER) * share)


def _parts(angle: ArrayLike, potential: ArrayLike, edge: ArrayLike, most: ArrayLike) -> tuple[Array, Array]:
    """The wing's part, and the other two together."""
    across, along = np.sin(angle), np.cos(angle)
    product = across * along
    wing, rest = np.broadcast_arrays(np.asarray(potential) * product,
                                     np.asarray(edge) * product**2 + np.asarray(most) * across**4)  # fmt: skip
    return np.asarray(wing, dtype=float), np.asarray(rest, dtype=float)


def greatest_lift(*, potential: float, edge: float, most: float) -> tuple[float, float]:
    """Greatest push square to the flow, as a coefficient, and the angle [rad] at which a plate has it.

    potential, edge, most : as for `normal_coefficient`
    """
    angles = np.linspace(0.0, 0.5 * math.pi, 1801)
    lift = normal_coefficient(angles, potential=potential, edge=edge, most=most) * np.cos(angles)
    best = int(np.argmax(lift))
    return float(lift[best]), float(angles[best])
