"""Sums from a scale and a jug: what a thing is worth under water, and the ballast, bore, coat or mix that follows.

Closed forms only, floats in and floats out. A body of mass M that displaces the mass D of water has the excess
E = M - D: it sinks when that is more than nothing, and hangs when it is nothing.
"""

import math

from gudgeon.units import STANDARD_GRAVITY, Area, Density, Length, Mass, Volume


def worth_inside(wood_density: Density, material_density: Density) -> float:
    """What a gram sunk into a bore of its own size adds to the excess; the bore takes the wood away.

    wood_density     : [kg/m3] 0 when the cavity was there before the body was weighed
    material_density : [kg/m3]
    source           : Archimedes
    """
    return 1.0 - wood_density / material_density


def worth_outside(water_density: Density, material_density: Density) -> float:
    """What a gram outside the wood adds to the excess: its mass, less the water it displaces.

    water_density    : [kg/m3]
    material_density : [kg/m3]
    source           : Archimedes
    """
    return 1.0 - water_density / material_density


def ballast_inside(
    mass: Mass, displaced: Mass, wood_density: Density, material_density: Density, *, excess: Mass, reserve: float
) -> Mass:
    """Ballast for bores in the wood [kg]; less than nothing when the body is already too heavy.

    mass      : [kg] of all but the ballast
    displaced : [kg] of water by the whole
    wood_density, material_density : [kg/m3] wood_density 0 for a cavity that was there before the weighing
    excess    : [kg] wanted, mass less displaced water
    reserve   : wanted share of the displaced water left over, 0 for a body that hangs or sinks
    """
    wanted = (1.0 - reserve) * displaced + excess
    return (wanted - mass) / worth_inside(wood_density, material_density)


def ballast_outside(
    mass: Mass, displaced: Mass, water_density: Density, material_density: Density, *, excess: Mass, reserve: float
) -> Mass:
    """Ballast stuck on outside [kg], which displaces water too; the other arguments as in `ballast_inside`."""
    wanted = (1.0 - reserve) * displaced + excess
    return (wanted - mass) / (1.0 - (1.0 - reserve) * water_density / material_density)


def drag_constant(excess: Mass, velocity: float, water_density: Density, area: Area) -> float:
    """The drag coefficient that a timed drop shows.

    excess   : [kg] mass in water, same sign as the velocity
    velocity : [m/s] steady, down positive
    area     : [m2] seen from above
    source   : E g = 1/2 rho C A v |v|
    """
    return 2.0 * excess * STANDARD_GRAVITY / (water_density * area * velocity * abs(velocity))


def sphere_diameter(mass: Mass, density: Density) -> Length:
    """Diameter [m] of a ball of `mass` [kg]."""
    return math.cbrt(6.0 * mass / (math.pi * density))


def mass_per_depth(bore: Length, density: Density) -> float:
    """Mass that one metre of full bore holds [kg/m]."""
    return math.pi / 4.0 * bore**2 * density


def box_density(mass: Mass, length: Length, width: Length, height: Length) -> Density:
    """Density [kg/m3] of a square-cut piece."""
    return float(mass / (length * width * height))


def light_share(heavy_density: Density, light_density: Density, wanted_density: Density) -> float:
    """Share by volume of the lighter of two things, in a mix of `wanted_density` without voids."""
    return (heavy_density - wanted_density) / (heavy_density - light_density)


def warmed(volume: Volume, expansion: float, warming: float) -> Volume:
    """Volume [m3] after warming; expansion : [1/K] of volume, warming : [K]."""
    return volume * (1.0 + expansion * warming)


def tilt(moment: float, mass: Mass, centres_apart: Length) -> float:
    """Tilt [rad] of a body under water that a moment holds off level.

    moment        : [kg m] mass in water times distance fore and aft
    mass          : [kg] displaced water
    centres_apart : [m] weight centre below buoyancy centre, more than 0
    source        : moments about the buoyancy centre, tan(tilt) = moment / (mass x centres_apart)
    """
    return math.atan2(moment, mass * centres_apart)


def tilting_moment(angle: float, mass: Mass, centres_apart: Length) -> float:
    """Moment [kg m] that holds a tilt [rad]; the inverse of `tilt`."""
    return mass * centres_apart * math.tan(angle)


def spindle_weight_place(length: Length, thickness: Length, under: float, angle: float, height: Length) -> Length:
    """Where the weight centre of a floating spindle must lie for it to sit tail-down [m aft of the middle].

    length, thickness : [m] of the ellipsoid of revolution
    under             : share of its volume below the water, between 0 and 1
    angle             : [rad] tail-down, 0 level
    height            : [m] of the weight centre above the long axis
    source            : stretch the ellipsoid to a unit ball: the part under water becomes a ball's cap of the same
                        share, whose centroid lies c = 3 (1 - t^2)^2 / (16 under) below the middle along the
                        stretched upright; weight and buoyancy centres then lie on one upright
    """
    half_length, half_thickness = 0.5 * length, 0.5 * thickness
    depth = _cap_centroid(under)
    along, upright = math.sin(angle) * half_length, math.cos(angle) * half_thickness
    stretched = math.hypot(along, upright)
    buoyancy_aft = depth * half_length * along / stretched
    buoyancy_height = -depth * half_thickness * upright / stretched
    return buoyancy_aft - math.tan(angle) * (height - buoyancy_height)


def _cap_centroid(under: float) -> float:
    """Depth of the centroid of a unit ball's cap that holds the share `under` of the ball.

    The share is (2 + 3 t - t^3) / 4 for a water line t above the middle; with t = 2 sin(s) the cubic reads
    sin(3 s) = 2 share - 1.
    """
    water_line = 2.0 * math.sin(math.asin(2.0 * under - 1.0) / 3.0)
    return 3.0 * (1.0 - water_line**2) ** 2 / (16.0 * under)
