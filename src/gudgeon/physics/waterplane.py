"""The part of a body below an inclined water plane: its volume, centre and waterplane.

The body is a stack of sections across its long axis, each standing for a short length of body, with the small
things fixed to it counted as points. Two ways of cutting are used, each where it is exact or nearly so:

- up to 45 degrees of pitch every section polygon is clipped by the line the water draws on it. Heights are
  measured from that line, so the closing edge along it adds nothing to Green's integrals and is never built.
- from 65 degrees on the water cuts few sections, and in the upright body none: there each section stands for a
  slab of body, and a point of it counts with the share of its slab that is under.
- between the two the results are mixed, evenly enough that the energy stays smooth. They differ by some hundredths
  of a millimetre in where the buoyancy acts, which there is a few tenths of a degree in the resting pitch.
"""

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer
from gudgeon.physics.body_sections import Array, Outline, outline_of, slabs_of
from gudgeon.units import STANDARD_GRAVITY, Density, Length, Mass, Volume

# Sine of the pitch where clipping begins to give way to slabs, and where it has.
_CLIPPED_UP_TO = math.sin(math.radians(45.0))
_SLABS_FROM = math.sin(math.radians(65.0))
_X = np.array([1.0, 0.0, 0.0])


@dataclass(frozen=True, eq=False)
class FloatingBody:
    """What the water needs to know of a body: outside form, small outside things, mass and its centre.

    stations            : (m,) [m]      x of each section, aft of the nose
    weights             : (m,) [m]      length of body each section stands for (quadrature weights)
    polygons            : (m, p, 2) [m] outline of each section as (y, z), either way round
    place_of_displacers : (q, 3) [m]    fittings, hooks and other things outside the sections
    displacers          : (q,) [m3]     what each displaces; negative where it takes body away
    mass                : [kg]          all of it
    centre              : (3,) [m]      centre of gravity
    raises              : ValueError when the shapes do not fit together
                          NoAnswer when the mass is not positive, or a number is not finite
    """

    stations: Array
    weights: Array
    polygons: Array
    place_of_displacers: Array
    displacers: Array
    mass: Mass
    centre: Array

    def __post_init__(self) -> None:
        for name in ("stations", "weights", "polygons", "place_of_displacers", "displacers", "centre"):
            # a copy, so that closing it to writing does not close the caller's array
            values = np.array(getattr(self, name), dtype=np.float64)
            if name == "place_of_displacers":
                values = values.reshape(-1, 3)
            if not np.isfinite(values).all():
                raise NoAnswer(f"the body's {name.replace('_', ' ')} hold a value that is not a number")
            values.setflags(write=False)
            object.__setattr__(self, name, values)
        sections, things = len(self.stations), len(self.displacers)
        if (
            self.weights.shape != (sections,)
            or self.polygons.ndim != 3
            or self.polygons.shape[::2] != (sections, 2)
            or self.place_of_displacers.shape != (things, 3)
            or self.centre.shape != (3,)
        ):
            raise ValueError("stations, weights, polygons, displacers and centre must fit together")
        if not (math.isfinite(self.mass) and self.mass > 0.0):
            raise NoAnswer(f"a body of {self.mass:g} kg has no resting attitude; give it a mass above 0")

    @cached_property
    def outline(self) -> Outline:
        """The section outlines run anticlockwise and closed, with their areas and first moments."""
        return outline_of(self.polygons)

    @cached_property
    def slabs(self) -> tuple[Array, Array]:
        """Middle and thickness (m,) [m] of the slab each section stands for when the body is cut steeply."""
        return slabs_of(self.stations, self.weights, self.outline.areas)

    @cached_property
    def radii(self) -> Array:
        """Half the height over which each displacer goes under: that of a ball of its volume (q,) [m]."""
        return np.asarray(np.cbrt(3.0 * np.abs(self.displacers) / (4.0 * math.pi)))

    @cached_property
    def volume(self) -> Volume:
        """Displacement of the whole body under water [m3]."""
        return float(self.weights @ self.outline.areas + self.displacers.sum())

    @cached_property
    def centre_of_volume(self) -> Array:
        """Centre of that displacement (3,) [m]."""
        if self.volume <= 0.0:
            raise NoAnswer(f"the body displaces {self.volume:.3g} m3; it needs a volume above 0 to rest in water")
        along = self.weights * self.outline.areas @ self.stations
        across = self.weights @ self.outline.moments
        moment = np.array([along, across[0], across[1]]) + self.displacers @ self.place_of_displacers
        return np.asarray(moment / self.volume)

    @cached_property
    def size(self) -> Length:
        """Side of the square of the body's mean cross-section: the length small things are small against [m]."""
        return math.sqrt(max(self.volume, 1e-30) / max(float(self.weights.sum()), 1e-30))


@dataclass(frozen=True, eq=False)
class Immersed:
    """What is under water, and the waterplane, all in body axes about the body's origin.

    volume            : [m3]         displaced
    moment            : (3,) [m4]    first moment of the displaced volume
    waterplane_area   : [m2]         growth of the volume per metre the water rises
    waterplane_first  : (3,) [m3]    first moment of the waterplane
    waterplane_second : (3, 3) [m4]  second moments of the waterplane
    turning           : (3,) [m4]    slope of the lifted water's energy in the upward direction: `moment`, and where
                                     two ways of cutting are mixed also what changing their shares does
    """

    volume: Volume
    moment: Array
    waterplane_area: float
    waterplane_first: Array
    waterplane_second: Array
    turning: Array

    @property
    def centre(self) -> Array:
        """Centre of the displaced volume (3,) [m]; raises NoAnswer when nothing is under water."""
        if self.volume == 0.0:
            raise NoAnswer("nothing of the body is under water, so there is no centre of buoyancy")
        return np.asarray(self.moment / self.volume)


def up_vector(pitch: float, heel: float) -> Array:
    """The upward direction in body axes (3,), unit length.

    pitch : [rad] nose-up positive: angle of the long axis to the water
    heel  : [rad] positive when the right side goes down

    From level and upright the body is first turned about its own long axis by `heel`, then its nose is lifted by
    `pitch` about the horizontal axis that lies across it. Heading does not matter to still water.

        up = (-sin pitch, -cos pitch sin heel, cos pitch cos heel)
    """
    return np.array([-math.sin(pitch), -math.cos(pitch) * math.sin(heel), math.cos(pitch) * math.cos(heel)])


def attitude_of(up: Array) -> tuple[float, float]:
    """Pitch and heel [rad] of an upward direction; heel is 0 when the body stands on its nose or tail."""
    across = math.hypot(up[1], up[2])
    pitch = math.atan2(-up[0], across)
    # rounding to one side must not turn belly up to the right into belly up to the left
    aside = 0.0 if abs(up[1]) <= 1e-12 * across else -up[1]
    return pitch + 0.0, math.atan2(aside, up[2]) if across > 1e-9 else 0.0


def immersed(body: FloatingBody, pitch: float, heel: float, waterline_height: float) -> Immersed:
    """The part of a body below the water, at a given attitude and sinkage.

    pitch, heel      : [rad] as `up_vector` turns them; any angle
    waterline_height : [m]   height of the water above the body's origin, measured straight up
    """
    return immersed_below(body, up_vector(pitch, heel), waterline_height)


def immersed_below(body: FloatingBody, up: Array, waterline_height: float) -> Immersed:
    """The part of a body below the water when `up` (3,) points upward in body axes; see `immersed`."""
    share, growth = _share_of_slabs(up)
    sums, turn = np.zeros(17), np.zeros(3)
    if share < 1.0:
        sums += (1.0 - share) * (clipped := _clipped(body, up, waterline_height))
    if share > 0.0:
        sums += share * (slabbed := _slabbed(body, up, waterline_height))
    if 0.0 < share < 1.0:
        more = slabbed - clipped
        turn = growth * (float(up @ more[1:4]) - waterline_height * more[0]) * _X
    if len(body.displacers):
        sums += _points_under(body, up, waterline_height)
    return Immersed(
        volume=float(sums[0]),
        moment=sums[1:4],
        waterplane_area=float(sums[4]),
        waterplane_first=sums[5:8],
        waterplane_second=sums[8:].reshape(3, 3),
        turning=sums[1:4] + turn,
    )


def _share_of_slabs(up: Array) -> tuple[float, float]:
    """Share that slabs take from clipped sections at this attitude, and its slope in the x of `up`."""
    width = _SLABS_FROM - _CLIPPED_UP_TO
    blend = min(max((abs(float(up[0])) - _CLIPPED_UP_TO) / width, 0.0), 1.0)
    slope = 6.0 * blend * (1.0 - blend) / width
    return blend * blend * (3.0 - 2.0 * blend), math.copysign(slope, float(up[0]))


def potential_energy(body: FloatingBody, water_density: Density, up: Array, waterline_height: float) -> float:
    """Energy of body and water together [J], nought where the whole weight and no water lies at the water's level.

    The weight stands M (up . G - H) high; the displaced water has been lifted from its own centre to the surface.
    Its slope in H, pitch and heel is the force and moment that are out of balance.
    """
    under = immersed_below(body, up, waterline_height)
    return STANDARD_GRAVITY * height_of_weights(body, water_density, up, waterline_height, under)


def height_of_weights(
    body: FloatingBody, water_density: Density, up: Array, waterline_height: float, under: Immersed
) -> float:
    """The same energy over gravity [kg m], from an `Immersed` already at hand."""
    weight = body.mass * (float(up @ body.centre) - waterline_height)
    water = water_density * (float(up @ under.moment) - waterline_height * under.volume)
    return weight - water


def _clipped(body: FloatingBody, up: Array, waterline_height: float) -> Array:
    """The sums of `Immersed` by clipping every section along its waterline.

    In each section the axes are turned so that s runs along the waterline and t upward from it. With the part of
    an edge below t = 0 running over D in s, and t going from t0 to t1 on it, Green's theorem gives, per edge,
    area -D tm, integral of s -D (sm tm + D (t1 - t0) / 12), integral of t -D (tm^2 + (t1 - t0)^2 / 12) / 2.
    """
    lines, level = body.outline, math.hypot(up[1], up[2])
    ny, nz = up[1] / level, up[2] / level
    water = (waterline_height - up[0] * body.stations) / level
    t = ny * lines.y
    t += nz * lines.z
    t -= water[:, None]
    s = nz * lines.y
    s -= ny * lines.z
    below = t < 0.0
    low = np.minimum(t, 0.0)
    fall = low[:, 1:] - low[:, :-1]
    climb = t[:, 1:] - t[:, :-1]
    run = s[:, 1:] - s[:, :-1]
    # the share of each edge that is under; a level edge is wholly in or out
    run *= np.divide(fall, climb, out=below[:, 1:].astype(np.float64), where=climb != 0.0)
    mean = low[:, 1:] + low[:, :-1]
    mean *= 0.5
    middle = np.where(below[:, :-1], s[:, :-1] + 0.5 * run, s[:, 1:] - 0.5 * run)
    areas = -np.einsum("ij,ij->i", run, mean)
    along = -np.einsum("ij,ij->i", run, middle * mean + run * fall / 12.0)
    upward = -0.5 * np.einsum("ij,ij->i", run, mean * mean + fall * fall / 12.0)

    across, rise = np.array([0.0, nz, -ny]), np.array([0.0, ny, nz])
    weights = body.weights
    moment = (
        (weights * areas @ body.stations) * _X
        + (weights @ along) * across
        + (weights @ (upward + water * areas)) * rise
    )
    chords = _chords(below, s, run)
    feet = body.stations[:, None] * _X + water[:, None] * rise
    plane = _plane_sums(feet, across, chords * (weights / level))
    return np.concatenate([[weights @ areas], moment, plane])


def _chords(below: NDArray[np.bool_], s: Array, run: Array) -> Array:
    """Integrals of 1, s and s^2 along the waterline of each section (3, m), however often it enters and leaves."""
    section, edge = np.nonzero(below[:, 1:] != below[:, :-1])
    leaves = below[section, edge]
    place = np.where(leaves, s[section, edge] + run[section, edge], s[section, edge + 1] - run[section, edge])
    sign = np.where(leaves, 1.0, -1.0)
    ends = (sign * place, sign * place**2 / 2.0, sign * place**3 / 3.0)
    return np.stack([np.bincount(section, end, minlength=len(s)) for end in ends])


def _plane_sums(feet: Array, across: Array, parts: Array) -> Array:
    """Area, first and second moments (13,) of a waterplane made of strips.

    feet   : (n, 3) where each strip would cross s = 0     across : (3,) direction of s
    parts  : (3, n) integrals of 1, s and s^2 over each strip
    """
    first = parts[0] @ feet + parts[1].sum() * across
    lean = np.outer(parts[1] @ feet, across)
    second = (feet.T * parts[0]) @ feet + lean + lean.T + parts[2].sum() * np.outer(across, across)
    return np.concatenate([[parts[0].sum()], first, second.ravel()])


def _slabbed(body: FloatingBody, up: Array, waterline_height: float) -> Array:
    """The sums of `Immersed` with every section taken as a slab along the body.

    A point of a section at height h, in a slab reaching a to either side of it, is under for the share
    (a - h) / 2 a. That share changes with height only, so with s level across the section and t upward in it a
    section's integral of it is that of s dt along the outline, taken by Gauss points.
    """
    lines, level, steep = body.outline, math.hypot(up[1], up[2]), float(up[0])
    ny, nz = (up[1] / level, up[2] / level) if level > 1e-12 else (0.0, 1.0)
    stations, thick = body.slabs
    half = 0.5 * abs(steep) * thick
    middle = steep * stations + lines.middle @ up[1:] - waterline_height
    margin = 1.000001 * half + level * lines.reach
    whole = np.flatnonzero(middle < -margin)
    cut = np.flatnonzero(np.abs(middle) <= margin)
    across, rise = np.array([0.0, nz, -ny]), np.array([0.0, ny, nz])

    wetted = body.weights[whole]
    plane, volume = np.zeros(13), float(wetted @ lines.areas[whole])
    flat = wetted @ lines.moments[whole]
    moment = np.array([wetted * lines.areas[whole] @ stations[whole], flat[0], flat[1]])
    if len(cut):
        y, z, dy, dz = (part[cut] for part in lines.on_edges)
        weights, places, thick = body.weights[cut, None], stations[cut, None], thick[cut, None]
        s, t, dt = nz * y - ny * z, ny * y + nz * z, ny * dy + nz * dz
        ramp = (steep * places - waterline_height + level * t) / half[cut, None]
        ramp.clip(-1.0, 1.0, out=ramp)
        strip = s * dt * weights
        under = 0.5 * strip * (1.0 - ramp)
        # within its slab the part under lies to the side that points down
        down = -0.5 * math.copysign(1.0, steep) * thick
        volume += float(under.sum())
        moment = moment + (under * places + 0.25 * strip * down * (1.0 - ramp * ramp)).sum() * _X
        moment = moment + (0.5 * under * s).sum() * across + (under * t).sum() * rise
        plane = _slabs_at_water(body, cut, up, waterline_height)
    return np.concatenate([[volume], moment, plane])


def _slabs_at_water(body: FloatingBody, cut: NDArray[np.intp], up: Array, waterline_height: float) -> Array:
    """Area and moments (13,) of the waterplane through slabs: what lies within half a slab's height of the water.

    Of each edge of a section only the part at such heights counts; on it s dt is integrated exactly, and its place
    is taken at the middle of the part.
    """
    lines, level, steep = body.outline, math.hypot(up[1], up[2]), float(up[0])
    ny, nz = (up[1] / level, up[2] / level) if level > 1e-12 else (0.0, 1.0)
    places, thick = (part[cut, None] for part in body.slabs)
    y, z = lines.y[cut], lines.z[cut]
    s, t = nz * y - ny * z, ny * y + nz * z
    # a slab face that lies in the water belongs to one of its two slabs, whichever way it is rounded
    ramp = (steep * places - waterline_height + level * t) / (0.5 * abs(steep) * thick) + 1e-9
    kept = ramp.clip(-1.0, 1.0)
    climb = ramp[:, 1:] - ramp[:, :-1]
    inside = (np.abs(ramp[:, :-1]) < 1.0).astype(np.float64)
    share = np.divide(kept[:, 1:] - kept[:, :-1], climb, out=inside, where=np.abs(climb) > 1e-9)
    # how far along its edge the middle of the part lies
    halfway = 0.5 * (kept[:, 1:] + kept[:, :-1])
    along = np.divide(halfway - ramp[:, :-1], climb, out=np.full_like(climb, 0.5), where=np.abs(climb) > 1e-9)
    ds, dt = share * (s[:, 1:] - s[:, :-1]), share * (t[:, 1:] - t[:, :-1])
    middle = s[:, :-1] + along * (s[:, 1:] - s[:, :-1])
    height = t[:, :-1] + along * (t[:, 1:] - t[:, :-1])
    dt *= body.weights[cut, None] / (abs(steep) * thick)
    square = middle * middle + ds * ds / 12.0
    parts = np.stack([middle * dt, 0.5 * square * dt, middle * (square + ds * ds / 6.0) * dt / 3.0])
    feet = (places - 0.5 * math.copysign(1.0, steep) * thick * halfway)[..., None] * _X
    feet = feet + height[..., None] * np.array([0.0, ny, nz])
    return _plane_sums(feet.reshape(-1, 3), np.array([0.0, nz, -ny]), parts.reshape(3, -1))


def _points_under(body: FloatingBody, up: Array, waterline_height: float) -> Array:
    """The sums of `Immersed` for the small things: each an upright column as high as a ball of its volume."""
    places, volumes, radii = body.place_of_displacers, body.displacers, np.maximum(body.radii, 1e-12)
    heights = places @ up - waterline_height
    ramp = np.clip(heights / radii, -1.0, 1.0)
    under = 0.5 * volumes * (1.0 - ramp)
    # the middle of the part under lies below the middle of the column
    lowered = np.where(np.abs(ramp) < 1.0, -0.5 * radii * (1.0 + ramp), 0.0)
    moment = under @ places + (under @ lowered) * up
    plane = np.where(np.abs(ramp) < 1.0, volumes / (2.0 * radii), 0.0)
    # a ball turning in place is no worse off: its own waterplane carries the depth of its centre
    own = -float(under @ lowered) * (np.eye(3) - np.outer(up, up))
    second = (places.T * plane) @ places + own
    return np.concatenate([[under.sum()], moment, [plane.sum()], plane @ places, second.ravel()])
