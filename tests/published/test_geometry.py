"""Bodies whose volume, area and centre are known in closed form; shapely and trimesh as a second opinion."""

import math
from functools import partial

import numpy as np
import pytest
import shapely
import trimesh

from gudgeon.physics.hull import Hull, profile
from gudgeon.physics.outline import AnalyticCurve, ConstantCurve, DrawnCurve, ScaledCurve
from gudgeon.physics.portion import portion

MM = 1e-3
THICKNESS = (0.2969, -0.1260, -0.3516, 0.2843, -0.1015)


def revolved(length, function, derivative):
    """A body of revolution about the centre line."""
    curve = AnalyticCurve(function, derivative)
    return Hull(length, curve, ScaledCurve(curve, -1.0), curve, ConstantCurve(0.0), ConstantCurve(2.0))


def ellipse(length, height):
    return AnalyticCurve(
        lambda x: 2.0 * height * np.sqrt(np.maximum(x * (length - x), 0.0)) / length,
        lambda x: height * (length - 2.0 * x) / (length * np.sqrt(x * (length - x))),
    )


def ellipsoid(length, width, height):
    return Hull(length, ellipse(length, height), ScaledCurve(ellipse(length, height), -1.0), ellipse(length, width),
                ConstantCurve(0.0), ConstantCurve(2.0))  # fmt: skip


def spherical(radius, height):
    """The cap of a sphere: pole at the nose, flat face at the tail."""

    def circle(x):
        return np.sqrt(x * (2.0 * radius - x))

    return revolved(height, circle, lambda x: (radius - x) / circle(x))


def frustum():
    return revolved(40 * MM, lambda x: 10 * MM - 0.1 * x, lambda x: np.full(x.shape, -0.1))


def naca_0020():
    chord, share = 100 * MM, 0.20

    def half_thickness(x):
        t = x / chord
        root, *rest = THICKNESS
        return 5 * share * chord * (root * np.sqrt(t) + sum(c * t**k for k, c in enumerate(rest, start=1)))

    def slope(x):
        t = x / chord
        root, *rest = THICKNESS
        return 5 * share * (0.5 * root / np.sqrt(t) + sum(k * c * t ** (k - 1) for k, c in enumerate(rest, start=1)))

    return revolved(chord, half_thickness, slope)


def whole(hull):
    return portion(hull, 0.0, hull.length)


@pytest.mark.source("closed form of the ellipsoid, area by Carlson's RG (calculation)", where="semi-axes 60, 12, 8 mm")
def test_ellipsoid_of_three_axes():
    found = whole(ellipsoid(120 * MM, 12 * MM, 8 * MM))
    assert found.volume / MM**3 == pytest.approx(24127.43, abs=0.005)
    assert found.surface_area / MM**2 == pytest.approx(6048.36, abs=0.005)


@pytest.mark.source("closed form of the prolate spheroid (calculation)", where="semi-axes 60, 10, 10 mm")
def test_prolate_spheroid():
    found = whole(ellipsoid(120 * MM, 10 * MM, 10 * MM))
    assert found.volume / MM**3 == pytest.approx(25132.74, abs=0.005)
    assert found.surface_area / MM**2 == pytest.approx(5993.86, abs=0.005)
    eccentricity = math.sqrt(1.0 - (10.0 / 60.0) ** 2)
    area = 2.0 * math.pi * 10.0**2 * (1.0 + 6.0 / eccentricity * math.asin(eccentricity))
    assert found.surface_area / MM**2 == pytest.approx(area, rel=1e-6)


@pytest.mark.source("closed form of the frustum (calculation)", where="radii 10 and 6 mm, 40 mm long")
def test_frustum_with_its_flat_ends():
    found = whole(frustum())
    assert found.volume / MM**3 == pytest.approx(8210.03, abs=0.005)
    assert found.centre[0] / MM == pytest.approx(16.735, abs=0.0005)
    skin = math.pi * (10.0 + 6.0) * math.hypot(40.0, 4.0) + math.pi * (10.0**2 + 6.0**2)
    assert found.surface_area / MM**2 == pytest.approx(skin, rel=1e-9)


@pytest.mark.source("closed form of the half sphere (calculation)", where="radius 9 mm")
def test_half_sphere():
    found = whole(spherical(9 * MM, 9 * MM))
    assert found.volume / MM**3 == pytest.approx(1526.81, abs=0.005)
    assert 9.0 - found.centre[0] / MM == pytest.approx(3.375, abs=1e-6)
    assert found.surface_area / MM**2 == pytest.approx(3.0 * math.pi * 81.0, rel=1e-6)


@pytest.mark.source("closed form of the spherical cap (calculation)", where="radius 20 mm, 5 mm high")
def test_spherical_cap():
    found = whole(spherical(20 * MM, 5 * MM))
    assert found.volume / MM**3 == pytest.approx(1439.90, abs=0.005)
    assert found.surface_area / MM**2 == pytest.approx(2.0 * math.pi * 20.0 * 5.0 + math.pi * (400.0 - 225.0), rel=1e-6)


@pytest.mark.source("NACA Report 460 (1933), thickness polynomial; coefficients from memory, integrals by polynomial",
                    where="thickness of 20 %, chord 100 mm, last coefficient -0.1015")  # fmt: skip
def test_revolved_thickness_form():
    found = whole(naca_0020())
    assert found.volume / MM**3 == pytest.approx(17303.09, abs=0.005)
    assert found.centre[0] / MM == pytest.approx(38.530, abs=0.0005)
    assert found.side_area / MM**2 == pytest.approx(1370.17, abs=0.005)
    powers = (0.5, 1, 2, 3, 4)
    squares = [(a * b, p + q) for a, p in zip(THICKNESS, powers, strict=True)
               for b, q in zip(THICKNESS, powers, strict=True)]  # fmt: skip
    volume = math.pi * 1e6 * sum(c / (p + 1) for c, p in squares)
    assert found.volume / MM**3 == pytest.approx(volume, rel=1e-6)
    assert found.centre[0] / MM == pytest.approx(100 * sum(c / (p + 2) for c, p in squares)
                                                 / sum(c / (p + 1) for c, p in squares), rel=1e-6)  # fmt: skip


@pytest.mark.source("trimesh and shapely, run on the same shapes", where="revolve; Polygon.area")
@pytest.mark.parametrize("body", [frustum, naca_0020, partial(spherical, 9 * MM, 9 * MM)], ids=["cone", "form", "half"])
def test_second_opinion_on_the_bodies_of_revolution(body):
    hull = body()
    found, outline = whole(hull), profile(hull, "side", 800)
    half = outline[: len(outline) // 2]
    ring = np.concatenate([[[0.0, half[0, 0]]], half[:, ::-1], [[0.0, half[-1, 0]]]])
    mesh = trimesh.creation.revolve(ring / MM, sections=360)
    assert found.volume / MM**3 == pytest.approx(abs(mesh.volume), rel=5e-4)
    assert found.surface_area / MM**2 == pytest.approx(mesh.area, rel=5e-4)
    assert found.centre[0] / MM == pytest.approx(mesh.center_mass[2], rel=5e-4)
    assert found.side_area == pytest.approx(shapely.Polygon(outline).area, rel=5e-4)


def lopsided():
    return Hull(120 * MM, ellipse(120 * MM, 9 * MM), ScaledCurve(ellipse(120 * MM, 16 * MM), -1.0), naca_side(),
                ConstantCurve(0.0), ConstantCurve(2.5))  # fmt: skip


def naca_side(turned=False, factor=1.0):
    """A half-width blunt at one end, over 120 mm times the factor."""
    side, length = naca_0020().side, 120 * MM * factor
    share = 100.0 / 120.0 / factor

    def place(x):
        return (length - x if turned else x) * share

    sign = -1.0 if turned else 1.0
    return AnalyticCurve(lambda x: factor * side(place(x)), lambda x: sign * factor * share * side.slope(place(x)))


@pytest.mark.source("invariance (calculation)", where="mirrored nose to tail, and upside down")
def test_mirrored_body_is_as_large():
    hull, first = lopsided(), whole(lopsided())
    turned = whole(Hull(hull.length, hull.back, hull.belly, naca_side(turned=True), hull.widest, hull.fullness))
    back, belly = ScaledCurve(hull.belly, -1.0), ScaledCurve(hull.back, -1.0)
    over = whole(Hull(hull.length, back, belly, hull.side, hull.widest, hull.fullness))
    for other in (turned, over):
        assert other.volume == pytest.approx(first.volume, rel=1e-9)
        assert other.surface_area == pytest.approx(first.surface_area, rel=1e-9)
    assert turned.centre == pytest.approx([hull.length - first.centre[0], 0.0, first.centre[2]], rel=1e-9)
    assert over.centre == pytest.approx([first.centre[0], 0.0, -first.centre[2]], rel=1e-9)
    flip = np.diag([1.0, 1.0, -1.0])
    assert over.second_moment == pytest.approx(flip @ first.second_moment @ flip, rel=1e-9, abs=1e-20)
    assert turned.second_moment == pytest.approx(flip @ first.second_moment @ flip, rel=1e-9, abs=1e-20)


@pytest.mark.source("invariance (calculation)", where="turned a quarter about its length")
def test_body_laid_on_its_side_is_as_large():
    upright, lying = whole(ellipsoid(120 * MM, 12 * MM, 8 * MM)), whole(ellipsoid(120 * MM, 8 * MM, 12 * MM))
    assert lying.volume == pytest.approx(upright.volume, rel=1e-9)
    assert lying.surface_area == pytest.approx(upright.surface_area, rel=1e-9)
    swap = np.eye(3)[[0, 2, 1]]
    assert lying.second_moment == pytest.approx(swap @ upright.second_moment @ swap.T, rel=1e-9, abs=1e-20)
    assert (lying.plan_area, lying.side_area) == pytest.approx((upright.side_area, upright.plan_area), rel=1e-9)


@pytest.mark.source("invariance (calculation)", where="twice the size: volume x 8, second moments x 32")
def test_body_twice_the_size():
    first = whole(lopsided())
    second = whole(Hull(240 * MM, ellipse(240 * MM, 18 * MM), ScaledCurve(ellipse(240 * MM, 32 * MM), -1.0),
                        naca_side(factor=2.0), ConstantCurve(0.0), ConstantCurve(2.5)))  # fmt: skip
    assert second.volume == pytest.approx(8.0 * first.volume, rel=1e-9)
    assert second.surface_area == pytest.approx(4.0 * first.surface_area, rel=1e-9)
    assert second.second_moment == pytest.approx(32.0 * first.second_moment, rel=1e-9, abs=1e-20)


@pytest.mark.source("closed form of the ellipsoid (calculation)", where="semi-axes 60, 12, 8 mm, by 12 points")
@pytest.mark.parametrize("places", [np.linspace(0, 1, 12), np.sin(np.linspace(0, math.pi / 2, 12)) ** 2],
                         ids=["even", "cosine"])  # fmt: skip
def test_ellipsoid_drawn_through_twelve_points(places):
    shape = 2.0 * np.sqrt(np.maximum(places * (1.0 - places), 0.0))
    shape[[0, -1]] = 0.0
    height, width = (DrawnCurve(120 * MM * places, size * MM * shape, 120 * MM) for size in (8, 12))
    found = whole(Hull(120 * MM, height, ScaledCurve(height, -1.0), width, ConstantCurve(0.0), ConstantCurve(2.0)))
    assert found.volume / MM**3 == pytest.approx(24127.43, rel=0.003)
    assert found.surface_area / MM**2 == pytest.approx(6048.36, rel=0.003)
