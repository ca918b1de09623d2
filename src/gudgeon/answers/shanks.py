"""Fittings as they lie in the wood: shanks of eyes, sockets of glass eyes, pins."""

import math

import numpy as np

from gudgeon.design.hardware import Fitting
from gudgeon.library.fittings import fitting_habits
from gudgeon.library.metals import material
from gudgeon.physics.hull import Hull, depth_at, half_width_at, skin_heights
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.mass import Place
from gudgeon.physics.shapes import Rod

# Common practice, no source: taken where a maker does not say.
USUAL_WIRE = 1.5e-3  # m of an eye's wire
USUAL_SHANK = 12e-3  # m of it in the wood
USUAL_PIN = 2e-3  # m
OF_HINGE = 12e-3  # m from the middle of a joint: eyes nearer than this are its hinge's
EYES = ("screw eye", "tow eye", "eye")
_INWARD: dict[str, Place] = {
    "belly": (0.0, 0.0, 1.0), "back": (0.0, 0.0, -1.0), "left": (0.0, 1.0, 0.0), "right": (0.0, -1.0, 0.0),
    "front": (1.0, 0.0, 0.0), "rear": (-1.0, 0.0, 0.0),
}  # fmt: skip


def goes_in(fitting: Fitting, hull: Hull) -> str:
    """The skin a fitting goes in through: as told; the near end for a tow eye, else the belly."""
    if fitting.into is not None:
        return fitting.into
    if fitting.kind != "tow eye":
        return "belly"
    return "front" if fitting.at < 0.5 * (hull.start + hull.stop) else "rear"


def fitting_height(fitting: Fitting, hull: Hull) -> float:
    """Height of its middle [m]: as told, else where such a part sits."""
    if fitting.height is not None:
        return fitting.height
    if fitting_habits()[fitting.kind].sits != "belly":
        return 0.0
    return depth_at(hull, min(max(fitting.at, hull.start), hull.stop))[0]


def has_shank(fitting: Fitting) -> bool:
    """Whether it is known how an eye's shank lies: told, or so usual that it need not be."""
    is_told = fitting.shank is not None or fitting.into is not None
    return fitting.kind == "tow eye" or (fitting.kind in EYES and (is_told or fitting.height is None))


def fitting_shank(hull: Hull, fitting: Fitting) -> Rod:
    """The shank of an eye, from the skin it goes in through to its tip."""
    face = goes_in(fitting, hull)
    mouth, inward = _mouth(hull, fitting, face), _INWARD[face]
    length = USUAL_SHANK if fitting.shank is None else fitting.shank
    radius = _shank_radius(fitting)
    tip = tuple(at + length * way for at, way in zip(mouth, inward, strict=True))
    return Rod(mouth, (tip[0], tip[1], tip[2]), radius)


def _shank_radius(fitting: Fitting) -> float:
    wire = USUAL_WIRE if fitting.wire is None else fitting.wire
    return wire if fitting.shank_is == "twisted" else 0.5 * wire


def hinge_eye_shanks(lure: Lure, fitting: Fitting) -> tuple[tuple[int, Rod], ...]:
    """The piece and the shank of an eye of a hinge: it goes in along the body from the joint's face. That is one in the
    gap, which stands for an eye in either face, and one near a joint of which no more is told than its height.

    returns : nothing for any other fitting
    """
    from_joint = min((abs(fitting.at - joint.at) for joint in lure.joints), default=math.inf)
    is_hinges = from_joint < OF_HINGE and not has_shank(fitting)
    if fitting.kind not in EYES or not (is_hinges or in_gap(lure, fitting.at)):
        return ()
    found, radius = [], _shank_radius(fitting)
    length = USUAL_SHANK if fitting.shank is None else fitting.shank
    for place in segment_at(lure.segments, fitting.at):
        piece = lure.segments[place]
        is_ahead = abs(fitting.at - piece.stop) < abs(fitting.at - piece.start)
        face = piece.stop if is_ahead else piece.start
        tip = face - length if is_ahead else face + length
        y, z = fitting.offset, fitting_height(fitting, lure.hull)
        found.append((place, Rod((face, y, z), (tip, y, z), radius)))
    return tuple(found)


def in_gap(lure: Lure, station: float) -> bool:
    """Whether a station [m] lies in a joint's gap as it is in bare wood."""
    return any(abs(station - joint.at) <= 0.5 * joint.gap + lure.build for joint in lure.joints)


def _mouth(hull: Hull, fitting: Fitting, face: str) -> Place:
    x, y, z = fitting.at, fitting.offset, fitting_height(fitting, hull)
    if face in ("belly", "back"):
        bottoms, tops = skin_heights(hull, np.array([x]), np.array([y]))
        return x, y, float((bottoms if face == "belly" else tops)[0])
    if face in ("left", "right"):
        half = half_width_at(hull, x, z)
        return x, -half if face == "left" else half, z
    return min(max(x, hull.start), hull.stop), y, z


def buried_rod(hull: Hull, fitting: Fitting) -> Rod | None:
    """What of a fitting lies in the wood; None when nothing does.

    An eye of which neither shank nor skin is told, set at a height of its own, is no more than a lump there, but by a
    joint: see `hinge_eye_shanks`. A pin is
    taken to stand upright, as long as its weight makes it; a glass eye to be half a ball, set flush; anything else a
    lump of the size that is buried of it.
    """
    if has_shank(fitting):
        return fitting_shank(hull, fitting)
    volume = fitting.weight.value / material(fitting.material).density
    x, y, z = fitting.at, fitting.offset, fitting_height(fitting, hull)
    if fitting.kind == "pin":
        wire = USUAL_PIN if fitting.wire is None else fitting.wire
        half = volume / (0.5 * math.pi * wire**2)
        return Rod((x, y, z - half), (x, y, z + half), 0.5 * wire)
    if fitting.kind == "glass eye":
        radius = (1.5 * volume / math.pi) ** (1.0 / 3.0)
        skin = math.copysign(half_width_at(hull, x, z), y)
        return Rod((x, skin, z), (x, skin - math.copysign(radius, y), z), radius)
    share = fitting_habits()[fitting.kind].buried_share if fitting.buried is None else fitting.buried
    half = (0.5 * share * volume / math.pi) ** (1.0 / 3.0)
    return Rod((x, y, z - half), (x, y, z + half), half) if share > 0.0 else None
