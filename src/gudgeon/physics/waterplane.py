"""The part of a body below an inclined water plane: its volume, centre and waterplane.

The body is a stack of sections across its long axis, each standing for a short length of body, with the small
things fixed to it counted as points. Three ways of cutting are used, each where it is exact or nearly so:

- up to 50 degrees of pitch every section polygon is clipped by the line the water draws on it. Heights are
  measured from that line, so the closing edge along it adds nothing to Green's integrals and is never built.
- from 60 degrees on the water cuts few sections, and in the upright body none: there each section stands for a
  slab of body, and a point of it counts with the share of its slab that is under.
- between the two the results are mixed, so a resting attitude found there does not depend on where one gives way.
"""

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer
from gudgeon.units import STANDARD_GRAVITY, Density, Length, Mass, Volume

Array: TypeAlias = NDArray[np.float64]

# Sine of the pitch where clipping begins to give way to slabs, and where it has.
_CLIPPED_UP_TO = math.sin(math.radians(50.0))
_SLABS_FROM = math.sin(math.radians(60.0))
# Gauss-Legendre nodes and weights on (0, 1), exact to the fifth degree.
_NODES = np.array([0.5 - math.sqrt(0.15), 0.5, 0.5 + math.sqrt(0.15)])
_NODE_WEIGHTS = np.array([5.0, 8.0, 5.0]) / 18.0
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
    def outline(self) -> "_Outline":
        """The section outlines run anticlockwise and closed, with their areas and first moments."""
        return _outline_of(self.polygons)

    @cached_property
    def slabs(self) -> tuple[Array, Array]:
        """Middle and thickness (m,) [m] of the slab each section stands for when the body is cut steeply.

        Neighbours meet where their weights share the way between them, so that together they fill the body; where
        two sections lie much farther apart than they weigh, the body is parted. The middles are moved by one small
        amount, the same for all, that leaves the centre of the whole where the sections have it.
        """
        return _slabs_of(self.stations, self.weights, self.outline.areas)

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
class _Outline:
    """Closed outlines, first point repeated, anticlockwise in (y, z); see `FloatingBody.outline`."""

    y: Array  # (m, p + 1) [m]
    z: Array  # (m, p + 1) [m]
    areas: Array  # (m,) [m2]
    moments: Array  # (m, 2) [m3] integrals of y and z
    middle: Array  # (m, 2) [m] mean corner

    @cached_property
    def reach(self) -> Array:
        """Farthest corner from each section's middle (m,) [m]."""
        return np.asarray(np.hypot(self.y - self.middle[:, :1], self.z - self.middle[:, 1:]).max(axis=1))

    @cached_property
    def on_edges(self) -> tuple[Array, Array, Array, Array]:
        """y, z, dy and dz at three Gauss points of every edge, each (m, 3 p) [m]; dy, dz carry the Gauss weight."""
        sections = len(self.y)
        steps = [(line[:, 1:] - line[:, :-1])[..., None] for line in (self.y, self.z)]
        starts = [line[:, :-1, None] for line in (self.y, self.z)]
        places = [(start + step * _NODES).reshape(sections, -1) for start, step in zip(starts, steps, strict=True)]
        parts = [(step * _NODE_WEIGHTS).reshape(sections, -1) for step in steps]
        return places[0], places[1], parts[0], parts[1]


def _outline_of(polygons: Array) -> _Outline:
    closed = np.concatenate([polygons, polygons[:, :1]], axis=1)
    y, z = np.ascontiguousarray(closed[..., 0]), np.ascontiguousarray(closed[..., 1])
    turned = y[:, :-1] * z[:, 1:] - y[:, 1:] * z[:, :-1]
    clockwise = turned.sum(axis=1) < 0.0
    if clockwise.any():
        y[clockwise], z[clockwise] = y[clockwise, ::-1], z[clockwise, ::-1]
        turned = y[:, :-1] * z[:, 1:] - y[:, 1:] * z[:, :-1]
    moments = np.stack([((c[:, :-1] + c[:, 1:]) * turned).sum(axis=1) / 6.0 for c in (y, z)], axis=1)
    return _Outline(y=y, z=z, areas=turned.sum(axis=1) / 2.0, moments=moments, middle=polygons.mean(axis=1))


def _slabs_of(stations: Array, weights: Array, areas: Array) -> tuple[Array, Array]:
    order = np.argsort(stations)
    x, weight, area = stations[order], weights[order], areas[order]
    way, pair = np.diff(x), np.maximum(weight[:-1] + weight[1:], 1e-30)
    parted = way > 0.75 * pair
    stop = x + 0.5 * weight
    start = x - 0.5 * weight
    meet = x[:-1] + way * weight[:-1] / pair
    stop[:-1], start[1:] = np.where(parted, stop[:-1], meet), np.where(parted, start[1:], meet)
    middle = 0.5 * (start + stop)
    whole = float(weight @ area)
    if whole > 0.0:
        middle += float(weight * area @ (x - middle)) / whole
    back = np.argsort(order)
    return middle[back], np.maximum(stop - start, 1e-12)[back]


@dataclass(frozen=True, eq=False)
class Immersed:
    """What is under water, and the waterplane, all in body axes about the body's origin.

    volume            : [m3]         displaced
    moment            : (3,) [m4]    first moment of the displaced volume
    waterplane_area   : [m2]         growth of the volume per metre the water rises
    waterplane_first  : (3,) [m3]    first moment of the waterplane
    waterplane_second : (3, 3) [m4]  second moments of the waterplane
    """

    volume: Volume
    moment: Array
    waterplane_area: float
    waterplane_first: Array
    waterplane_second: Array

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
    # adding nought makes a plain one of minus nought, which would be half a turn the other way
    heel = math.atan2(0.0 - up[1], up[2]) if across > 1e-9 else 0.0
    return pitch + 0.0, heel + 0.0


def immersed(body: FloatingBody, pitch: float, heel: float, waterline_height: float) -> Immersed:
    """The part of a body below the water, at a given attitude and sinkage.

    pitch, heel      : [rad] as `up_vector` turns them; any angle
    waterline_height : [m]   height of the water above the body's origin, measured straight up
    """
    return immersed_below(body, up_vector(pitch, heel), waterline_height)


def steepness_of(up: Array) -> float:
    """Share taken by slabs in place of clipped sections at this attitude: 0 to 50 degrees of pitch, 1 from 60 on."""
    steepness = (abs(float(up[0])) - _CLIPPED_UP_TO) / (_SLABS_FROM - _CLIPPED_UP_TO)
    blend = min(max(steepness, 0.0), 1.0)
    return blend * blend * (3.0 - 2.0 * blend)


def immersed_below(body: FloatingBody, up: Array, waterline_height: float) -> Immersed:
    """The part of a body below the water when `up` (3,) points upward in body axes; see `immersed`."""
    share = steepness_of(up)
    sums = np.zeros(17)
    if share < 1.0:
        sums += (1.0 - share) * _clipped(body, up, waterline_height)
    if share > 0.0:
        sums += share * _slabbed(body, up, waterline_height)
    if len(body.displacers):
        sums += _points_under(body, up, waterline_height)
    return Immersed(
        volume=float(sums[0]),
        moment=sums[1:4],
        waterplane_area=float(sums[4]),
        waterplane_first=sums[5:8],
        waterplane_second=sums[8:].reshape(3, 3),
    )


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
    margin = half + level * lines.reach
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
        wet = np.abs(ramp) < 1.0
        s, strip = s[wet], (strip / (abs(steep) * thick))[wet]
        feet = (places + down * ramp)[wet][:, None] * _X + t[wet][:, None] * rise
        plane = _plane_sums(feet, across, np.stack([strip, strip * s / 2.0, strip * s * s / 3.0]))
    return np.concatenate([[volume], moment, plane])


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
