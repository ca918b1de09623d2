"""Water that a body must move along with it: whole ellipsoids, sections of a long body, and what its ends take away.

Lengths may be in any one unit where only shares come out. Sections are two-dimensional potential flow: the mass per
length of body over the water's density, [m2], and for roll [m4].
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from gudgeon.errors import OutsideSource

Array = NDArray[np.float64]

FULLEST, LEANEST = 12.0, 1.0
"""[1] superellipse exponents that the fits below cover."""
THINNEST = 20.0
"""[1] how many times longer along its motion than across a section may be before its coefficient is held."""

# Our own fits to the exact flow round superellipses (boundary integral, 1e-6), 1 to 12 full, 1:20 to 20:1.
# Row i, column j: coefficient of s^(i+1) x^(j+1), s = 1 - 2/n, x = 1/(1 + sqrt(across/along)). Within 0.2 %.
_SWAY = np.array([[-0.022, 1.310, 2.596, -4.903, 1.755], [-0.142, 4.456, -15.918, 23.130, -10.966],
                  [0.539, -4.700, 13.969, -18.097, 9.373], [-0.121, -0.485, 4.764, -9.962, 6.435]])  # fmt: skip
# The same in s and m = 2 l^0.7/(1 + l^1.4), l = width/depth. Within 0.0015 of pi/8 (h^2 + w^2)^2.
_ROLL = np.array([[0.0946, 0.1730, -0.2685], [0.3107, -0.2599, 0.1807], [0.1773, -0.3837, 0.3982],
                  [-0.0175, 0.0248, 0.0674]])  # fmt: skip
_WAVES = 1024  # terms of the series for roll with fins: right to 0.5 %


@dataclass(frozen=True, eq=False)
class EllipsoidMass:
    """Added mass of an ellipsoid as shares of the mass and of the inertia of the water it displaces.

    surge, sway, heave : (...,) along its length, sideways, up
    roll, pitch, yaw   : (...,) about those axes through its middle
    """

    surge: Array
    sway: Array
    heave: Array
    roll: Array
    pitch: Array
    yaw: Array


@dataclass(frozen=True, eq=False)
class EndFactors:
    """What is left, in one stiff body, of the added mass that its sections sum up to.

    sway, heave, pitch, yaw : (...,) shares below 1
    """

    sway: Array
    heave: Array
    pitch: Array
    yaw: Array


@dataclass(frozen=True, eq=False)
class FinnedSection:
    """An elliptic section with upright fins in its middle plane, over the water's density.

    sway   : (k,) [m2]     centre : (k,) [m] height above the ellipse's middle at which a push turns nothing
    roll   : (k,) [m4] about that centre
    """

    sway: Array
    centre: Array
    roll: Array


def ellipsoid_mass(length: ArrayLike, width: ArrayLike, depth: ArrayLike) -> EllipsoidMass:
    """Added mass of an ellipsoid, all six.

    length, width, depth : (...,) its axes, or half of them, more than 0
    source : Lamb, Hydrodynamics (1932), articles 114 and 115; the integrals are Carlson's R_D
    """
    from scipy.special import elliprd

    a, b, c = (np.asarray(axis, dtype=float) for axis in (length, width, depth))
    volume = 2.0 / 3.0 * a * b * c
    orders = ((a, b, c), (b, c, a), (c, a, b))
    alpha, beta, gamma = (np.asarray(volume * elliprd(y**2, z**2, x**2)) for x, y, z in orders)
    return EllipsoidMass(
        surge=alpha / (2.0 - alpha), sway=beta / (2.0 - beta), heave=gamma / (2.0 - gamma),
        roll=_turning(b, c, beta, gamma), pitch=_turning(c, a, gamma, alpha), yaw=_turning(a, b, alpha, beta),
    )  # fmt: skip


def _turning(one: Array, other: Array, along_one: Array, along_other: Array) -> Array:
    """Added inertia about the third axis over that of the displaced water; a round body turns nothing."""
    apart, together = one**2 - other**2, one**2 + other**2
    below = together * (2.0 * apart + together * (along_one - along_other))
    top = apart**2 * (along_other - along_one)
    return np.divide(top, below, out=np.zeros(np.shape(top)), where=np.abs(apart) > 1e-7 * together)


def spheroid_mass(slenderness: ArrayLike) -> EllipsoidMass:
    """Added mass of a spheroid: Lamb's k1 is `surge`, k2 `sway`, k' `yaw`.

    slenderness : (...,) length over diameter, more than 0; below 1 it is flattened
    """
    round_ = np.ones(np.shape(slenderness))
    return ellipsoid_mass(slenderness, round_, round_)


def end_factors(length: float, width: float, depth: float) -> EndFactors:
    """What one stiff body keeps of its sections' sum, as the ellipsoid of its sizes does.

    length, width, depth : of the body, more than 0
    source : `ellipsoid_mass` over the sum of its elliptic sections, pi rho h^2 for sway with h the half-depth there
    """
    whole = ellipsoid_mass(length, width, depth)
    a, b, c = length, width, depth
    return EndFactors(sway=whole.sway * b / c, heave=whole.heave * c / b,
                      pitch=whole.pitch * c * (a**2 + c**2) / (b * a**2),
                      yaw=whole.yaw * b * (a**2 + b**2) / (c * a**2))  # fmt: skip


def wave_factor(half_depth: ArrayLike, wavelength: ArrayLike) -> Array:
    """What a long body that bends in waves keeps of its sections' added mass: K1(q) / (-q K1'(q)), q = 2 pi a / lambda.

    half_depth : (...,) [m] a     wavelength : (...,) [m] lambda, more than 0
    source     : potential flow about a round cylinder in a sideways wave: phi = K1(kr) cos t cos kx with
                 dphi/dr given at r = a, over the flow without ends; worked out here
    """
    from scipy.special import k0e, k1e

    wave = 2.0 * np.pi * np.asarray(half_depth, dtype=float) / np.asarray(wavelength, dtype=float)
    q = np.maximum(wave, 1e-12)
    return np.asarray(k1e(q) / (q * k0e(q) + k1e(q)))


def section_sway_coefficient(fullness: ArrayLike, half_across: ArrayLike, half_along: ArrayLike) -> Array:
    """C in the added mass C pi rho a^2 per length of a superellipse pushed along one of its axes.

    fullness    : (k,) exponent n, 1 to 12
    half_across : (k,) [m] a, half the size across the push: the half-depth for sway, the half-width for heave
    half_along  : (k,) [m] half the size along it, not both 0
    returns     : (k,) 1 for ellipse and plate, 1.51 toward a square, 0.757 for one on its corner
    raises      : OutsideSource outside 1 to 12
    source      : our own fit, see above: within 0.2 %, 0.4 % beyond 20:1, where it is held. Where the halves above and
                  below the widest line differ, each 30 % off their mean, sway is 1 % more, its centre 3 % off middle
    """
    n, across, along = _checked(fullness, half_across, half_along)
    longest = np.sqrt(np.minimum(along, THINNEST * across))
    place = longest / (np.sqrt(across) + longest)
    return 1.0 + _power_sum(_SWAY, 1.0 - 2.0 / n, place)


def section_roll_inertia(fullness: ArrayLike, half_depth: ArrayLike, half_width: ArrayLike) -> Array:
    """Added roll inertia over the water's density per length (k,) [m4] of a superellipse about its middle.

    fullness, half_depth, half_width : (k,) as for `section_sway_coefficient`
    returns : pi/8 (h^2 - w^2)^2 for an ellipse; 0.231 pi a^4 toward a square of half-side a
    source  : our own fit, see above: within 0.0015 of pi/8 (h^2 + w^2)^2
    """
    n, depth, width = _checked(fullness, half_depth, half_width)
    squares = depth**2 + width**2
    even = 2.0 * (depth * width) ** 0.7 / (depth**1.4 + width**1.4)
    excess = _power_sum(_ROLL, 1.0 - 2.0 / n, even)
    return np.asarray(np.pi / 8.0 * np.maximum((depth**2 - width**2) ** 2 + excess * squares**2, 0.0))


def _checked(fullness: ArrayLike, one: ArrayLike, other: ArrayLike) -> tuple[Array, Array, Array]:
    n, first, second = np.broadcast_arrays(*(np.asarray(value, dtype=float) for value in (fullness, one, other)))
    if not np.all((n >= LEANEST) & (n <= FULLEST)):
        raise OutsideSource(f"a fullness of {float(n.ravel()[np.argmax((n < LEANEST) | (n > FULLEST))]):g}: "
                            f"added mass is known from {LEANEST:g} to {FULLEST:g}")  # fmt: skip
    return n, np.maximum(first, 1e-12), np.maximum(second, 0.0)


def _power_sum(coefficients: Array, s: Array, x: Array) -> Array:
    """Sum of coefficients times s^(i+1) x^(j+1)."""
    rows, columns = coefficients.shape
    terms = (coefficients[i, j] * s ** (i + 1) * x ** (j + 1) for i in range(rows) for j in range(columns))
    return np.asarray(sum(terms))


def finned_section(
    half_depth: ArrayLike, half_width: ArrayLike, *, highest: ArrayLike, lowest: ArrayLike
) -> FinnedSection:
    """Added mass of an ellipse with a fin above, below, or both.

    half_depth, half_width : (k,) [m] of the ellipse; a half-width of 0 for a plate alone
    highest, lowest        : (k,) [m] edges of the fins, above and below the ellipse's middle (both positive); taken as
                             the half-depth where less
    source : ellipse to circle to slit to circle, each by z + k/z; sway in closed form, pi (4 c^2 - w^2 - 2 w h) with c
             the last circle's radius; roll and centre from the series of the section's own coordinates on that circle
             (Kirchhoff's boundary values), roll within 0.5 %. pi (s^2 - a^2 + a^4/s^2) for a round body with
             fins to s, as Nielsen, Missile Aerodynamics (1960), from memory. Up and down such fins add nothing.
    """
    h, w, up, down = (np.atleast_1d(one) for one in np.broadcast_arrays(
        *(np.asarray(value, dtype=float) for value in (half_depth, half_width, highest, lowest))))  # fmt: skip
    circle = 0.5 * (h + w)
    above, below = (_on_slit(np.maximum(edge, h), h, w, circle) for edge in (up, down))
    radius = 0.25 * (above + below)
    angle = (np.arange(_WAVES) + 0.5) * np.pi / _WAVES
    slit = 0.5 * (above - below)[:, None] + 2.0 * radius[:, None] * np.cos(angle)
    upward, outward = _from_slit(slit, h[:, None], w[:, None], circle[:, None])
    sway = np.pi * (4.0 * radius**2 - w**2 - 2.0 * w * h)
    lift, turn = _waves(upward), _waves(upward**2 + outward**2)
    order = np.arange(lift.shape[1])
    centre = np.divide(0.5 * np.pi * (order * lift * turn).sum(axis=1), sway, out=np.zeros_like(sway), where=sway > 0.0)
    roll = 0.25 * np.pi * (order * turn**2).sum(axis=1) - sway * centre**2
    return FinnedSection(sway=sway, centre=centre, roll=np.maximum(roll, 0.0))


def _on_slit(edge: Array, h: Array, w: Array, circle: Array) -> Array:
    """Where a fin's edge comes to lie on the slit [m]: out of the ellipse to the circle, then onto its diameter."""
    out = 0.5 * (edge + np.sqrt(np.maximum(edge**2 - h**2 + w**2, 0.0)))
    return out + np.divide(circle**2, out, out=np.zeros_like(out), where=out > 0.0)


def _from_slit(slit: Array, h: Array, w: Array, circle: Array) -> tuple[Array, Array]:
    """Height and half-width [m] on the section of places on the slit: on the ellipse, or on a fin beyond it."""
    share = np.divide(slit, 2.0 * circle, out=np.zeros_like(slit), where=circle > 0.0)
    far = np.sqrt(np.maximum(slit**2 - 4.0 * circle**2, 0.0))
    out = 0.5 * (np.abs(slit) + far)
    beyond = out + np.divide(0.25 * (h**2 - w**2), out, out=np.zeros_like(out), where=out > 0.0)
    on_fin = np.abs(slit) > 2.0 * circle
    inside = np.clip(share, -1.0, 1.0)
    return np.where(on_fin, np.sign(slit) * beyond, h * inside), np.where(on_fin, 0.0, w * np.sqrt(1.0 - inside**2))


def _waves(values: Array) -> Array:
    """The lower half of the cosine series of values at even angles, (k, m)."""
    from scipy.fft import dct

    return np.asarray(dct(values, type=2, axis=1)[:, : _WAVES // 2] / _WAVES)
