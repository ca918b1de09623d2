"""Floating and submerged stability against worked examples and classical results."""

import math

import numpy as np
import pytest

from gudgeon.physics.flotation import floats, metacentric_heights, resting
from gudgeon.physics.righting import righting_arms, righting_moments
from gudgeon.physics.waterplane import FloatingBody
from gudgeon.units import STANDARD_GRAVITY

WATER = 1000.0
NO_PLACES, NO_VOLUMES = np.zeros((0, 3)), np.zeros(0)


def standing_cylinder(diameter: float, height: float, share: float) -> FloatingBody:
    """A solid cylinder on its end, `share` as heavy as the water: its sections across x are upright rectangles."""
    t, w = np.polynomial.legendre.leggauss(48)
    turn = math.pi * (1.0 + t) / 2.0
    half = diameter / 2.0 * np.sin(turn)
    corners = np.array([[-1.0, -0.5], [1.0, -0.5], [1.0, 0.5], [-1.0, 0.5]])
    polygons = np.stack([half[:, None] * corners[:, 0], np.tile(height * corners[:, 1], (48, 1))], axis=2)
    volume = math.pi * diameter**2 / 4.0 * height
    return FloatingBody(diameter / 2.0 * (1.0 - np.cos(turn)), math.pi / 2.0 * w * half, polygons, NO_PLACES,
                        NO_VOLUMES, share * WATER * volume, np.array([diameter / 2.0, 0.0, 0.0]))  # fmt: skip


def prism(breadth: float, height: float, mass: float, low: float, length: float = 0.6) -> FloatingBody:
    """A beam of even section with its weight `low` under its middle."""
    t, w = np.polynomial.legendre.leggauss(30)
    corners = np.array([[-breadth, -height], [breadth, -height], [breadth, height], [-breadth, height]]) / 2.0
    return FloatingBody(length * (1.0 + t) / 2.0, length * w / 2.0, np.tile(corners, (30, 1, 1)), NO_PLACES,
                        NO_VOLUMES, mass, np.array([length / 2.0, 0.0, -low]))  # fmt: skip


def square_log(share: float) -> FloatingBody:
    return prism(0.1, 0.1, share * WATER * 0.006, 0.0)


@pytest.mark.source("civinnovate.com, stability of a floating cylinder", where="worked example; it prints GM 0.1017")
def test_cylinder_of_3_m_on_its_end() -> None:
    at = resting(standing_cylinder(3.0, 2.0, 0.7), WATER)
    assert at.afloat is not None
    assert at.afloat.draught == pytest.approx(1.4, rel=1e-3)
    assert at.upright_metacentric_height == pytest.approx(0.1018, rel=5e-3)
    assert at.upright_is_stable


@pytest.mark.source("askfilo, cylinder 4 m by 4 m of specific gravity 0.6", where="worked example")
def test_cylinder_of_4_m_is_unstable_on_its_end() -> None:
    for height in metacentric_heights(standing_cylinder(4.0, 4.0, 0.6), WATER):
        assert height == pytest.approx(-0.383, rel=5e-3)


@pytest.mark.source("askfilo, wooden cylinder d by 2 d of specific gravity 0.6", where="worked example")
def test_wooden_cylinder_twice_as_tall_as_wide() -> None:
    height = metacentric_heights(standing_cylinder(1.0, 2.0, 0.6), WATER)[1]
    assert height == pytest.approx(-0.3479, rel=5e-3)
    # the weight's centre is 0.2 d below the surface, the metacentre that much lower again
    assert 0.2 - height == pytest.approx(0.548, rel=5e-3)


@pytest.mark.source("free roll of a square log: metacentre and centre of buoyancy in closed form, checked by the least "
                    "energy of clipped polygons", where="calculation")  # fmt: skip
@pytest.mark.parametrize(("share", "angle"), [
    (0.15, 0.0), (0.20, 0.0), (0.25, 26.6), (0.30, 45.0), (0.50, 45.0), (0.75, 26.6), (0.80, 0.0),
])  # fmt: skip
def test_where_a_square_log_lies(share: float, angle: float) -> None:
    at = resting(square_log(share), WATER)
    assert abs(math.degrees(at.heel)) == pytest.approx(angle, abs=1.0)
    assert at.pitch == pytest.approx(0.0, abs=1e-6)
    assert at.upright_is_stable == (angle == 0.0)


@pytest.mark.source("Gilbert, How things float, American Mathematical Monthly 98 (1991)", where="from memory")
@pytest.mark.parametrize(("limit", "stable_below"), [(0.2113, True), (0.7887, False)])
def test_how_heavy_a_square_log_may_be_to_lie_flat(limit: float, stable_below: bool) -> None:
    assert resting(square_log(limit * 0.999), WATER).upright_is_stable == stable_below
    assert resting(square_log(limit * 1.001), WATER).upright_is_stable != stable_below


@pytest.mark.source("upright disc: metacentric radius D^2 / (16 s H)", where="calculation")
@pytest.mark.parametrize(("share", "ratio"), [(0.5, 1.4142), (0.4, 1.3856)])
def test_how_wide_a_disc_must_be_to_float_on_its_end(share: float, ratio: float) -> None:
    assert min(metacentric_heights(standing_cylinder(1.001 * ratio, 1.0, share), WATER)) > 0.0
    assert max(metacentric_heights(standing_cylinder(0.999 * ratio, 1.0, share), WATER)) < 0.0


@pytest.mark.source("Archimedes: weight x BG x sine of the heel", where="calculation; any textbook")
def test_righting_moment_of_a_body_under_water() -> None:
    mass = 0.25 / STANDARD_GRAVITY
    hanging = prism(0.01, 0.01, mass, 0.003, length=mass / WATER / 1e-4)
    moments = righting_moments(hanging, mass / hanging.volume, np.radians([20.0, -20.0]))
    assert 1000.0 * moments[0] == pytest.approx(0.2565, rel=1e-3)
    assert moments[1] == pytest.approx(-moments[0])
    topheavy = prism(0.01, 0.01, mass, -0.003, length=mass / WATER / 1e-4)
    assert not resting(topheavy, mass / topheavy.volume).upright_is_stable


@pytest.mark.source("wall-sided formula, sin(heel) (GM + BM tan^2(heel) / 2)", where="textbook, from memory")
def test_righting_arm_of_a_wall_sided_body() -> None:
    breadth, metacentric_radius = 0.030, 0.008
    draught = breadth**2 / (12.0 * metacentric_radius)
    height = 0.040
    mass = WATER * breadth * draught * 0.6
    # GM 5 mm: the weight 3 mm over the centre of buoyancy, which is half the draught up
    low = height / 2.0 - (draught / 2.0 + 0.003)
    arm = righting_arms(prism(breadth, height, mass, low), WATER, [math.radians(25.0)])[0]
    assert 1000.0 * arm == pytest.approx(2.4807, rel=1e-3)


@pytest.mark.source("moment balance of a hanging body", where="calculation")
def test_trim_when_ballast_is_moved_forward() -> None:
    # 2.0 g of 25 g moved 10 mm forward, the weight 2 mm below the buoyancy
    level = prism(0.02, 0.02, 0.025, 0.002, length=0.0625)
    forward = FloatingBody(level.stations, level.weights, level.polygons, NO_PLACES, NO_VOLUMES, level.mass,
                           level.centre - np.array([0.010 * 2.0 / 25.0, 0.0, 0.0]))  # fmt: skip
    assert math.degrees(resting(forward, WATER).pitch) == pytest.approx(-21.80, rel=5e-3)


@pytest.mark.source("water densities by Tanaka 2001 (4 and 20 C) and TEOS-10 (salinity 7, 15 C)", where="computed")
@pytest.mark.parametrize(("water", "it_floats"), [(998.21, False), (999.97, False), (1004.49, True)])
def test_a_hanging_lure_in_other_waters(water: float, it_floats: bool) -> None:
    lure = prism(0.02, 0.02, 0.025, 0.002, length=0.0625)  # 1000.0 kg/m3
    assert floats(lure, water) == it_floats
    assert resting(lure, water).floats == it_floats
