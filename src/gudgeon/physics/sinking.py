"""Terminal sink or rise of a lure under water, with the attitude it takes.

Three vertical forces act: the weight at its centre, the buoyancy at its centre, and the drag at the middle of the
plan area, equal to the weight in water. Their moments vanish at one pitch. The drag is that of flow across the plan
area plus a little along the axis, the body falling straight down:

    excess g = 1/2 rho v^2 (C_across A_plan |cos pitch|^3 + C_along A_frontal |sin pitch|^3)

source : the cross-flow principle (flow along and across a slender body taken separately), Hoerner, Fluid-Dynamic
         Drag (1965), from memory; coefficients from the caller
"""

from dataclasses import dataclass

import numpy as np

from gudgeon.physics.mass import MASS, MASS_X, MASS_Y, MASS_Z, VOLUME, VOLUME_X, VOLUME_Y, VOLUME_Z
from gudgeon.physics.spread import Array
from gudgeon.units import STANDARD_GRAVITY


@dataclass(frozen=True)
class FallingBody:
    """What the water sees of a lure that falls or rises.

    plan_area    : [m2] seen from above
    frontal_area : [m2] largest section
    drag_centre  : (3,) [m] middle of the plan area, at the height of the body's middle
    along_drag   : drag coefficient on the frontal area
    """

    plan_area: float
    frontal_area: float
    drag_centre: tuple[float, float, float]
    along_drag: float


def excess_mass(sums: Array, water_density: Array | float) -> Array:
    """Mass beyond that of the water displaced [kg]; negative for a floater. sums : (..., 8)."""
    excess: Array = np.asarray(sums[..., MASS] - water_density * sums[..., VOLUME])
    return excess


def tilting(sums: Array, water_density: Array | float, body: FallingBody) -> tuple[Array, Array, Array]:
    """Moment vector of weight less buoyancy less drag, (...,) each of x, y, z [kg m]."""
    excess = excess_mass(sums, water_density)
    x = sums[..., MASS_X] - water_density * sums[..., VOLUME_X] - excess * body.drag_centre[0]
    y = sums[..., MASS_Y] - water_density * sums[..., VOLUME_Y] - excess * body.drag_centre[1]
    z = sums[..., MASS_Z] - water_density * sums[..., VOLUME_Z] - excess * body.drag_centre[2]
    return np.asarray(x), np.asarray(y), np.asarray(z)


def pitch(sums: Array, water_density: Array | float, body: FallingBody) -> Array:
    """Steady pitch of the fall or rise [rad], nose-up positive; beyond a quarter turn it goes over on its back."""
    x, _, z = tilting(sums, water_density, body)
    return np.arctan2(x, -z)


def heel(sums: Array, water_density: Array | float, body: FallingBody) -> Array:
    """Steady list [rad], right side down positive."""
    _, y, z = tilting(sums, water_density, body)
    return np.arctan2(y, -z)


def drag_area(angle: Array | float, body: FallingBody, across_drag: Array | float) -> Array:
    """Drag coefficient times area [m2] of a body falling straight down at a pitch [rad]."""
    return np.asarray(
        across_drag * body.plan_area * _cubed(np.cos(angle))
        + body.along_drag * body.frontal_area * _cubed(np.sin(angle))
    )


def _cubed(value: Array) -> Array:
    """|value|^3; multiplied out, a power is ten times slower."""
    size = np.abs(value)
    cube: Array = size * size * size
    return cube


def sink_velocity(excess: Array | float, water_density: Array | float, area: Array | float) -> Array:
    """Terminal velocity [m/s], down positive.

    excess : [kg] mass in water, negative when it rises
    area   : [m2] drag coefficient times area
    """
    root = np.sqrt(2.0 * STANDARD_GRAVITY * np.abs(excess) / (water_density * np.asarray(area)))
    return np.asarray(np.sign(excess) * root)


def excess_for(velocity: float, water_density: float, area: float) -> float:
    """Mass in water [kg] that gives a terminal velocity [m/s], down positive."""
    return 0.5 * water_density * area * velocity * abs(velocity) / STANDARD_GRAVITY
