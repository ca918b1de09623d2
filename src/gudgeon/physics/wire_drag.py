"""How hard water pulls at things of wire: trebles that stream from their hangers, rings, loops, and small lumps.

A stretch of wire at an angle b to the flow is pulled along it by 1/2 rho C d U^2 sin^3 b per length: only the flow
across the wire counts (the cross-flow principle, Hoerner, Fluid-Dynamic Drag (1965), from memory). The mean of sin^3
over every way a straight wire can lie is 3 pi / 16.
"""

import math
from dataclasses import dataclass

import numpy as np

from gudgeon.physics.quadrature import gauss
from gudgeon.units import STANDARD_GRAVITY

ANY_WAY = 3.0 * math.pi / 16.0
"""[1] mean of sin^3 of the angle between a wire and the flow, every direction as likely."""
LUMP_FACE = math.pi * math.pow(3.0 / (4.0 * math.pi), 2.0 / 3.0)
"""[1] frontal area of a ball over the two-thirds power of its volume."""
_SPEAR = 0.4  # of the shank: from the bend back to the point; common practice, no source
_ARMS = 3.0
_SHANK_SEEN = 2.0  # wires' widths seen of three that lie together in a shank


@dataclass(frozen=True)
class Treble:
    """A hook of three arms, as wire.

    shank, gape : [m] from the eye to the bend, from shank to point; the bend is a half round as wide as the gape
    wire        : [m] diameter
    weight      : [N] in water
    """

    shank: float
    gape: float
    wire: float
    weight: float


def treble_wire(volume: float, shank: float, gape: float) -> float:
    """Diameter [m] of the wire of which a treble of one volume [m3] is bent: three arms, each with its own shank."""
    length = _ARMS * ((1.0 + _SPEAR) * shank + 0.5 * math.pi * gape)
    return math.sqrt(4.0 * volume / (math.pi * length))


def streaming_angle(treble: Treble, drag: float, pressure: float) -> float:
    """Angle [rad] between the flow and the shank of a treble that hangs freely: a quarter turn at rest.

    drag     : coefficient of wire across the flow, on its diameter
    pressure : [Pa] 1/2 rho U^2, more than 0
    source   : weight across the shank equals the cross flow's push on it, W cos = 1/2 rho U^2 C A sin^2, as for a heavy
               cable (textbook, from memory); solved for the cosine
    """
    across = treble.wire * (_straight(treble) + 0.5 * _ARMS * treble.gape * _bend(0.5 * math.pi))
    share = treble.weight / (pressure * drag * across)
    return math.acos(min(2.0 / (share + math.sqrt(share * share + 4.0)), 1.0))


def treble_drag_area(treble: Treble, drag: float, pressure: float) -> float:
    """Drag coefficient times area [m2] of a treble at the angle it streams at.

    drag, pressure : as for `streaming_angle`
    """
    angle = streaming_angle(treble, drag, pressure)
    bends = 0.5 * _ARMS * treble.gape * _bend(angle)
    return drag * treble.wire * (_straight(treble) * math.sin(angle) ** 3 + bends)


def loop_drag_area(outside: float, wire: float, drag: float, *, wide: float = 1.0) -> float:
    """Drag coefficient times area [m2] of a round of wire, however it lies.

    outside, wire : [m] diameters        wide : wires' widths seen of it, one and a half for a ring of two turns
    """
    return drag * wide * wire * math.pi * max(outside - wire, 0.0) * ANY_WAY


def lump_drag_area(volume: float, drag: float) -> float:
    """Drag coefficient times area [m2] of a lump of a volume [m3]: `drag` on the frontal area of a ball as large."""
    return drag * LUMP_FACE * math.pow(max(volume, 0.0), 2.0 / 3.0)


def weight_in_water(mass: float, volume: float, density: float) -> float:
    """[N] of a mass [kg] and volume [m3] in water of a density [kg/m3]; nothing for what floats."""
    return max(mass - density * volume, 0.0) * STANDARD_GRAVITY


def _straight(treble: Treble) -> float:
    """Length of wire along the shank [m], as wide as is seen of it."""
    return (_SHANK_SEEN + _ARMS * _SPEAR) * treble.shank


def _bend(angle: float) -> float:
    """Integral of sin^3 of the angle to the flow over a half round, averaged over its turn about the shank.

    angle   : [rad] between shank and flow
    returns : 4/3 along the flow
    """
    places, weights = gauss(12)
    along, turn = np.pi * places[:, None], np.pi * places[None, :]
    cosine = np.cos(along) * math.cos(angle) + np.sin(along) * np.cos(turn) * math.sin(angle)
    sine = np.sqrt(np.maximum(1.0 - cosine**2, 0.0))
    return float(np.pi * weights @ sine**3 @ weights)
