"""Cross-sections of the body: two half superellipses on one widest line, and their integrals in closed form.

Above the widest line |y/w|^n + ((z - z_w)/(z_t - z_w))^n = 1, below it the same with z_w - z_b.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.quadrature import gauss

Array = NDArray[np.float64]

_ARC_POINTS = 16  # girth right to 4e-9 at a fullness of 3, 8e-8 at 6, 6e-6 at 12


@dataclass(frozen=True, eq=False)
class Sections:
    """Many sections at once, or (as slopes) their change per metre aft.

    half_width : (k,) [m]
    top        : (k,) [m]  height of the back
    bottom     : (k,) [m]  height of the belly
    widest     : (k,) [m]  height of the widest line
    fullness   : (k,) [1]  superellipse exponent
    """

    half_width: Array
    top: Array
    bottom: Array
    widest: Array
    fullness: Array


@dataclass(frozen=True, eq=False)
class SectionIntegrals:
    """What each section comes to, about the centre line (y = 0, z = 0).

    area : (k,) [m2]    z, y_squared, ... : (k,) [m3, m4] integral of that over the area; abs_y of |y|, z_abs_y of z |y|
    """

    area: Array
    z: Array
    z_squared: Array
    y_squared: Array
    abs_y: Array
    z_abs_y: Array


def quarter_integrals(fullness: Array) -> tuple[Array, Array, Array, Array]:
    """Integrals of 1, v, v^2 and u v over the quarter u^n + v^n <= 1 with u, v >= 0: each (k,).

    fullness : (k,) the exponent n
    source   : Dirichlet's integral, int u^p v^q = G((p+1)/n) G((q+1)/n) / (n^2 G(1 + (p+q+2)/n))
    """
    from scipy.special import gamma

    values = fullness[:1] if fullness.size and bool(np.all(fullness == fullness[0])) else fullness
    one, two, three, four = (gamma(1.0 + power / values) for power in (1, 2, 3, 4))
    columns = (one * one / two, 0.5 * one * two / three, one * three / (3.0 * four), 0.25 * two * two / four)
    area, first, second, mixed = (np.broadcast_to(column, fullness.shape) for column in columns)
    return area, first, second, mixed


def section_integrals(sections: Sections) -> SectionIntegrals:
    """Area and moments of every section."""
    area, first, second, mixed = quarter_integrals(sections.fullness)
    w, middle = sections.half_width, sections.widest
    above, below = sections.top - middle, middle - sections.bottom
    depth, lean = above + below, above * above - below * below
    whole = 2.0 * w * depth * area
    return SectionIntegrals(
        area=whole,
        z=middle * whole + 2.0 * w * lean * first,
        z_squared=middle**2 * whole + 4.0 * w * middle * lean * first + 2.0 * w * (above**3 + below**3) * second,
        y_squared=2.0 * w**3 * depth * second,
        abs_y=2.0 * w**2 * depth * first,
        z_abs_y=2.0 * w**2 * (middle * depth * first + lean * mixed),
    )


def skin_rates(sections: Sections, slopes: Sections) -> tuple[Array, Array]:
    """Skin area per metre of length (k,) [m], and the integral of z over that skin per metre (k,) [m2].

    sections : k of them
    slopes   : their change per metre aft; all zero gives the girth
    Each quarter arc is followed by v = z/depth from the widest line and by u = y/width from the keel, to where the two
    meet at 2^(-1/n): in either half the other coordinate is smooth. The area is that of |r_x x r_v|.
    """
    n = sections.fullness[:, None]
    places, weights = gauss(_ARC_POINTS)
    limit = 2.0 ** (-1.0 / n)
    v = limit * places**2  # crowded toward the axis, where v^n has no more than n derivatives
    arc_weights = 2.0 * limit * places * weights
    power = v**n
    other = (1.0 - power) ** (1.0 / n)
    turn = -power / v * other / (1.0 - power)
    swell = other * (-np.log1p(-power) / n**2 - power * np.log(v) / (n * (1.0 - power))) * slopes.fullness[:, None]
    ones, zeros = np.ones_like(v), np.zeros_like(v)
    halves = ((other, v, turn, ones, swell, zeros), (v, other, ones, turn, zeros, swell))
    rate, moment = np.zeros(len(n)), np.zeros(len(n))
    w, w_slope = sections.half_width[:, None], slopes.half_width[:, None]
    middle, middle_slope = sections.widest[:, None], slopes.widest[:, None]
    for edge, edge_slope in ((sections.top, slopes.top), (sections.bottom, slopes.bottom)):
        depth, depth_slope = edge[:, None] - middle, edge_slope[:, None] - middle_slope
        for c, s, c_turn, s_turn, c_swell, s_swell in halves:
            y_along, z_along = w_slope * c + w * c_swell, middle_slope + depth_slope * s + depth * s_swell
            y_round, z_round = w * c_turn, depth * s_turn
            skin = np.sqrt(y_round**2 + z_round**2 + (y_along * z_round - z_along * y_round) ** 2) * arc_weights
            rate += 2.0 * skin.sum(axis=1)
            moment += 2.0 * (skin * (middle + depth * s)).sum(axis=1)
    return rate, moment


def girth(sections: Sections) -> Array:
    """Length (k,) [m] of the line round each section."""
    still = np.zeros_like(sections.half_width)
    return skin_rates(sections, Sections(still, still, still, still, still))[0]


def outlines(sections: Sections, points: int) -> Array:
    """Points on the line round each section: (k, points, 2) as y, z [m].

    points : a multiple of four, so that keel, back and both widest points are among them
    Not closed (the first is not repeated); anticlockwise as seen from behind, from the right-hand widest point over the
    back.
    """
    if points < 8 or points % 4:
        raise ValueError("a section's outline takes a multiple of four points, at least eight")
    angles = 0.5 * math.pi * np.arange(points // 4) / (points // 4)
    power = 2.0 / sections.fullness[:, None]
    across, upward = np.cos(angles) ** power, np.sin(angles) ** power
    c = np.concatenate([across, -upward, -across, upward], axis=1)
    s = np.concatenate([upward, across, -upward, -across], axis=1)
    middle = sections.widest[:, None]
    depth = np.where(s >= 0.0, sections.top[:, None] - middle, middle - sections.bottom[:, None])
    return np.stack([sections.half_width[:, None] * c, middle + depth * s], axis=2)


def polygons_of_area(sections: Sections, areas: Array, points: int) -> Array:
    """The outlines (k, points, 2) [m], each swelled about its own centroid until it holds the area asked for.

    areas : (k,) [m2] of the true sections; a polygon through points of the curve holds a little less
    """
    polygons = outlines(sections, points)
    y, z = polygons[..., 0], polygons[..., 1]
    cross = y * np.roll(z, -1, axis=1) - np.roll(y, -1, axis=1) * z
    held = 0.5 * cross.sum(axis=1)
    centre = (cross * (z + np.roll(z, -1, axis=1))).sum(axis=1) / (6.0 * held)
    swell = np.sqrt(areas / held)[:, None]
    return np.stack([y * swell, centre[:, None] + (z - centre[:, None]) * swell], axis=2)


def half_widths(sections: Sections, heights: Array) -> Array:
    """How far out the skin is at one height in each section: (k,) [m], nothing above the back or below the belly.

    heights : (k,) [m]; (m, 1) for every section at m heights, which returns (m, k)
    """
    rise = heights - sections.widest
    depth = np.where(rise >= 0.0, sections.top - sections.widest, sections.bottom - sections.widest)
    share = np.divide(rise, depth, out=np.where(rise == 0.0, 0.0, 1.0), where=depth != 0.0)
    inside = np.clip(1.0 - np.minimum(np.abs(share), 1.0) ** sections.fullness, 0.0, 1.0)
    widths: Array = sections.half_width * inside ** (1.0 / sections.fullness)
    return widths
