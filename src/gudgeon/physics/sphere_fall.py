"""How fast a ball sinks or rises through still water once its speed is steady."""

import math
from collections.abc import Callable

from scipy.optimize import brentq

from gudgeon.errors import NoAnswer
from gudgeon.units import STANDARD_GRAVITY, Density, Length, Speed

_LEAST_REYNOLDS = 1e-9  # far inside the range where the drag is 24/Re


def sphere_fall_speed(
    *,
    diameter: Length,
    density: Density,
    water_density: Density,
    kinematic_viscosity: float,
    drag_law: Callable[[float], float],
    highest_reynolds: float,
) -> Speed:
    """The steady speed of a ball: sinking is positive, rising negative.

    diameter            : [m]
    density             : [kg/m3] of the ball
    water_density       : [kg/m3]
    kinematic_viscosity : [m2/s] of the water
    drag_law            : Reynolds number -> drag coefficient on the frontal area
    highest_reynolds    : [1] where that law ends
    returns             : [m/s]
    raises              : NoAnswer when the ball would go faster than the law covers
    source              : weight in water = drag, or C(Re) Re^2 = 4/3 g d^3 |density/water - 1| / viscosity^2, where the
                          right side is known and the left grows with Re. Light balls zig-zag and rise slower.
    """
    excess = density / water_density - 1.0
    known = 4.0 / 3.0 * STANDARD_GRAVITY * diameter**3 * abs(excess) / kinematic_viscosity**2

    def missing(log_reynolds: float) -> float:
        reynolds = math.exp(log_reynolds)
        return math.log(drag_law(reynolds) * reynolds**2 / known)

    if known < drag_law(_LEAST_REYNOLDS) * _LEAST_REYNOLDS**2:  # no heavier than the water, to all purposes
        return 0.0
    top = math.log(highest_reynolds) - 1e-12
    if missing(top) < 0.0:
        raise NoAnswer(f"a ball of {diameter * 1000:g} mm and {density:g} kg/m3 goes faster than the drag law covers "
                       f"(Reynolds number {highest_reynolds:g}); take a smaller one")  # fmt: skip
    reynolds = math.exp(brentq(missing, math.log(_LEAST_REYNOLDS), top, xtol=1e-12))
    return math.copysign(reynolds * kinematic_viscosity / diameter, excess)
