"""How a body rests in still water: afloat at its waterline, or under water at the attitude its weights give it."""

import math
from dataclasses import dataclass

import numpy as np

from gudgeon.errors import NoAnswer
from gudgeon.physics.body_sections import Array
from gudgeon.physics.floating_balance import (
    Balance,
    balance_at,
    carrying_height,
    first_waterline,
    is_stable,
    mirror_image,
    settled,
    settled_stably,
)
from gudgeon.physics.waterplane import FloatingBody, attitude_of, up_vector
from gudgeon.units import Angle, Area, Density, Length, Part, Volume

# Energies closer than this share of the body's size are the same: mirror images, or the faces of a square log.
_SAME_ENERGY = 1e-8
# The outermost station of a Gauss rule lies this part of its weight from the end, whatever the number of stations.
_END = 0.39
# A lever shorter than this share of the body's size turns nothing.
_NO_LEVER = 1e-9


@dataclass(frozen=True)
class Afloat:
    """How a floating body sits at its waterline.

    waterline_height : [m]  height of the water above the body's origin, straight up
    draught          : [m]  of the deepest point of the body below the water
    freeboard        : [m]  of the highest point of the body above the water
    nose_height      : [m]  of the middle of the nose end above the water; negative under it
    tail_height      : [m]  of the middle of the tail end above the water; negative under it
    waterplane_area  : [m2] growth of displacement per metre of sinkage
    """

    waterline_height: Length
    draught: Length
    freeboard: Length
    nose_height: Length
    tail_height: Length
    waterplane_area: Area


@dataclass(frozen=True, eq=False)
class Resting:
    """Where and how a body rests.

    floats                         : whether it is lighter than the water it can displace
    pitch                          : [rad]  nose-up positive
    heel                           : [rad]  positive when the right side is down; beyond a quarter turn it lies belly up
    reserve                        : [1]    share of its full displacement not needed; negative when it sinks
    displaced_volume               : [m3]   at rest
    displaced_centre               : (3,) [m] of that, in body axes
    transverse_metacentric_height  : [m]    at rest, sinkage following; righting moment over weight per radian
    lengthwise_metacentric_height  : [m]    the same for pitch
    buoyancy_above_weight          : [m]    z of the centre of the whole displacement over that of the weight, in body
                                            axes: what keeps the body upright once it is under water
    upright_metacentric_height     : [m]    transverse, with the heel held at nought and the trim its own
    upright_is_stable              : whether it stays there, or leaves it for another attitude
    turns_over                     : whether it rests with its back below its belly
    afloat                         : the waterline; None for a body that sinks or hangs
    """

    floats: bool
    pitch: Angle
    heel: Angle
    reserve: Part
    displaced_volume: Volume
    displaced_centre: Array
    transverse_metacentric_height: Length
    lengthwise_metacentric_height: Length
    buoyancy_above_weight: Length
    upright_metacentric_height: Length
    upright_is_stable: bool
    turns_over: bool
    afloat: Afloat | None


def resting(
    body: FloatingBody, water_density: Density, *, drag_centre: Array | None = None, start: Resting | None = None
) -> Resting:
    """How a body rests in still water, afloat or under water.

    body          : what floats or sinks
    water_density : [kg/m3]
    drag_centre   : (3,) [m] where the water holds back a sinking body, the point its remaining weight hangs from;
                    None for the centre of displacement, as where it hangs still. A floating body has no use for it
    start         : an answer for a body much like this one, in which to begin; the other attitudes a floater
                    might prefer are then not looked for
    returns       : of several attitudes in which a floater would stay, the one of lowest energy; of equals the most
                    upright one
    raises        : NoAnswer when the body displaces nothing, or no attitude is better than another
    """
    if not floats(body, water_density):
        return _under_water(body, water_density, submerged_lever(body, water_density, drag_centre))
    upright = upright_balance(body, water_density, start)
    if start is not None and start.afloat is not None:
        up, height = up_vector(start.pitch, start.heel), start.afloat.waterline_height
        best = settled_stably(body, water_density, up, height)
    else:
        best = _lowest(body, water_density, upright)
    return _afloat(body, water_density, best, upright)


def metacentric_heights(
    body: FloatingBody, water_density: Density, pitch: Angle = 0.0, heel: Angle = 0.0
) -> tuple[Length, Length]:
    """Lengthwise and transverse metacentric height [m] of a floater held at an attitude, afloat in it or not.

    pitch, heel : [rad]
    raises      : NoAnswer when the body does not float
    """
    up = up_vector(pitch, heel)
    height = waterline_at(body, water_density, pitch, heel)
    stiffness = balance_at(body, water_density, up, height, pitch_axis=None).turning_stiffness()
    return float(stiffness[0, 0]), float(stiffness[1, 1])


def waterline_at(body: FloatingBody, water_density: Density, pitch: Angle, heel: Angle) -> Length:
    """Height of the water above the body's origin [m] at which it carries the body, held at an attitude.

    pitch, heel : [rad]
    raises      : NoAnswer when the body does not float
    """
    if not floats(body, water_density):
        raise NoAnswer("the lure is heavier than the water it displaces, so it has no waterline")
    return carrying_height(body, water_density, up_vector(pitch, heel))


def floats(body: FloatingBody, water_density: Density) -> bool:
    """Whether a body is lighter than the water it can displace; one exactly as heavy hangs, and does not float.

    raises : NoAnswer when the body or the water is nothing
    """
    if not (math.isfinite(water_density) and water_density > 0.0):
        raise NoAnswer(f"water of {water_density:g} kg/m3 carries nothing; give a density above 0")
    if body.volume <= 0.0:
        raise NoAnswer(f"the body displaces {body.volume:.3g} m3; it needs a volume above 0 to rest in water")
    return body.mass < water_density * body.volume


def submerged_lever(body: FloatingBody, water_density: Density, drag_centre: Array | None = None) -> Array:
    """Arm (3,) [m] of the righting couple of a body under water: it comes to rest with this pointing straight down.

        lever = G - s B - (1 - s) A,   s = water_density volume / mass

    with the weight at G, the buoyancy at B and what is left of the two held by the water at A, the drag centre.

    drag_centre : (3,) [m] None for B
    source      : moments about A
    """
    share = water_density * body.volume / body.mass
    held_at = body.centre_of_volume if drag_centre is None else np.asarray(drag_centre, dtype=np.float64)
    return np.asarray(body.centre - share * body.centre_of_volume - (1.0 - share) * held_at)


def upright_balance(body: FloatingBody, water_density: Density, start: Resting | None = None) -> Balance:
    """The floating position with the heel held at nought, sinkage and trim free.

    start : where to begin; None for level
    """
    near = start is not None and start.afloat is not None and abs(start.heel) < 0.1
    up = up_vector(start.pitch if near and start is not None else 0.0, 0.0)
    height = first_waterline(body, water_density, up)
    return settled(body, water_density, up, height, pitch_axis=np.array([0.0, 1.0, 0.0]))


def _lowest(body: FloatingBody, water_density: Density, upright: Balance) -> Balance:
    """The stable floating position of lowest energy, begun upright, on either side and belly up."""
    found = [settled_stably(body, water_density, upright.up, upright.waterline_height)]

    def let_go(heel: float) -> Balance:
        up = up_vector(0.0, heel)
        found.append(settled_stably(body, water_density, up, first_waterline(body, water_density, up), found))
        return found[-1]

    # a body alike on both sides need not be tried on both
    left = mirror_image(body, water_density, let_go(0.5 * math.pi))
    if left is None:
        let_go(-0.5 * math.pi)
    else:
        found.append(left)
    let_go(math.pi)
    least = min(balance.energy for balance in found)
    equals = [balance for balance in found if balance.energy <= least + _SAME_ENERGY * body.size]
    # most upright first; of mirror images the one that lies on its right side
    return max(equals, key=lambda balance: (round(float(balance.up[2]), 6), -round(float(balance.up[1]), 6)))


def _afloat(body: FloatingBody, water_density: Density, best: Balance, upright: Balance) -> Resting:
    free = balance_at(body, water_density, upright.up, upright.waterline_height, pitch_axis=None)
    pitch, heel = attitude_of(best.up)
    stiffness = best.turning_stiffness()
    centre = best.under.centre
    centre.setflags(write=False)
    return Resting(
        floats=True,
        pitch=pitch,
        heel=heel,
        reserve=1.0 - body.mass / (water_density * body.volume),
        displaced_volume=best.under.volume,
        displaced_centre=centre,
        transverse_metacentric_height=float(stiffness[1, 1]),
        lengthwise_metacentric_height=float(stiffness[0, 0]),
        buoyancy_above_weight=float(body.centre_of_volume[2] - body.centre[2]),
        upright_metacentric_height=float(free.turning_stiffness()[1, 1]),
        upright_is_stable=is_stable(free, body.size),
        turns_over=bool(best.up[2] < 0.0),
        afloat=_waterline(body, best),
    )


def _waterline(body: FloatingBody, best: Balance) -> Afloat:
    heights = body.polygons @ best.up[1:] + (best.up[0] * body.stations - best.waterline_height)[:, None]
    first, last = int(np.argmin(body.stations)), int(np.argmax(body.stations))
    # the ends lie beyond the outermost sections
    fore = -_END * best.up[0] * float(body.weights[first])
    aft = _END * best.up[0] * float(body.weights[last])
    middles = body.outline.middle @ best.up[1:] + best.up[0] * body.stations - best.waterline_height
    ends = np.concatenate([heights[first] + fore, heights[last] + aft])
    return Afloat(
        waterline_height=best.waterline_height,
        draught=-min(float(heights.min()), float(ends.min())),
        freeboard=max(float(heights.max()), float(ends.max())),
        nose_height=float(middles[first] + fore),
        tail_height=float(middles[last] + aft),
        waterplane_area=best.under.waterplane_area,
    )


def _under_water(body: FloatingBody, water_density: Density, lever: Array) -> Resting:
    whole = body.centre_of_volume
    arm = float(np.linalg.norm(lever))
    if arm <= _NO_LEVER * body.size:
        raise NoAnswer("the weight lies on the centre of buoyancy, so under water the lure rests at any angle; "
                       "lower the ballast to give it an upright")  # fmt: skip
    pitch, heel = attitude_of(-lever / arm)
    centre = whole.copy()
    centre.setflags(write=False)
    return Resting(
        floats=False,
        pitch=pitch,
        heel=heel,
        reserve=1.0 - body.mass / (water_density * body.volume),
        displaced_volume=body.volume,
        displaced_centre=centre,
        transverse_metacentric_height=arm,
        lengthwise_metacentric_height=arm,
        buoyancy_above_weight=float(whole[2] - body.centre[2]),
        upright_metacentric_height=-float(lever[2]),
        upright_is_stable=bool(lever[2] < 0.0),
        turns_over=bool(lever[2] > 0.0),
        afloat=None,
    )
