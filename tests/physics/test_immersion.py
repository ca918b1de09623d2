import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from gudgeon.physics.immersion import (
    ballast_inside,
    ballast_outside,
    box_density,
    drag_constant,
    light_share,
    mass_per_depth,
    sphere_diameter,
    spindle_weight_place,
    tilt,
    tilting_moment,
    warmed,
    worth_inside,
    worth_outside,
)
from gudgeon.physics.sinking import excess_for

LEAD = 11340.0
WATER = 998.2


@given(
    mass=some.floats(0.01, 0.3),
    room=some.floats(2e-5, 4e-4),
    wood=some.floats(100.0, 900.0),
    excess=some.floats(-0.02, 0.02),
    reserve=some.floats(0.0, 0.5),
)
def test_ballast_makes_the_excess_and_reserve_it_was_asked_for(
    mass: float, room: float, wood: float, excess: float, reserve: float
) -> None:
    displaced = WATER * room
    inside = ballast_inside(mass, displaced, wood, LEAD, excess=excess, reserve=reserve)
    total = mass + inside * (1.0 - wood / LEAD)
    assert total == pytest.approx((1.0 - reserve) * displaced + excess, abs=1e-12)
    outside = ballast_outside(mass, displaced, WATER, LEAD, excess=excess, reserve=reserve)
    wet = displaced + outside * WATER / LEAD
    assert mass + outside == pytest.approx((1.0 - reserve) * wet + excess, abs=1e-12)


def test_lead_outside_does_less_than_lead_inside_wood_lighter_than_water() -> None:
    assert worth_outside(WATER, LEAD) < worth_inside(470.0, LEAD) < worth_inside(0.0, LEAD) == 1.0


@pytest.mark.parametrize("velocity", [0.1, -0.25])
def test_a_drop_gives_back_the_drag_it_fell_by(velocity: float) -> None:
    excess = excess_for(velocity, WATER, 1.3 * 30e-4)
    assert drag_constant(excess, velocity, WATER, 30e-4) == pytest.approx(1.3)


def test_small_shapes() -> None:
    assert sphere_diameter(math.pi / 6.0 * 0.005**3 * LEAD, LEAD) == pytest.approx(0.005)
    assert mass_per_depth(0.01, LEAD) == pytest.approx(LEAD * math.pi * 0.005**2)
    assert box_density(0.09, 0.1, 0.06, 0.03) == pytest.approx(500.0)
    assert warmed(1e-4, 2e-4, -10.0) == pytest.approx(1e-4 * 0.998)


@given(share=some.floats(0.0, 1.0))
def test_a_mix_weighs_what_its_shares_weigh(share: float) -> None:
    density = share * 150.0 + (1.0 - share) * 1050.0
    assert light_share(1050.0, 150.0, density) == pytest.approx(share, abs=1e-12)


def test_tilt_and_moment_are_each_others_inverse() -> None:
    assert tilt(tilting_moment(0.26, 0.118, 0.004), 0.118, 0.004) == pytest.approx(0.26)
    assert tilt(0.118 * 0.001, 0.118, 0.004) == pytest.approx(math.atan(0.25))


def test_a_level_spindle_has_its_weight_under_its_middle() -> None:
    assert spindle_weight_place(0.115, 0.019, 0.8, 0.0, -0.002) == pytest.approx(0.0, abs=1e-12)


def test_a_half_sunk_ball_holds_no_tilt_but_by_the_height_of_its_weight() -> None:
    """A ball's buoyancy always lies straight below its middle, so its weight centre must do so too."""
    for angle in (0.1, 0.5, 1.0):
        place = spindle_weight_place(0.04, 0.04, 0.5, angle, -0.003)
        assert place == pytest.approx(0.003 * math.tan(angle), rel=1e-9)


@pytest.mark.parametrize(("under", "angle"), [(0.5, 0.3), (0.8, 0.45), (0.35, 0.2)])
def test_the_spindle_agrees_with_adding_up_slices(under: float, angle: float) -> None:
    """Buoyancy centre by a fine grid of points under a tilted plane."""
    import numpy as np

    half_length, half_thickness = 0.0575, 0.0095
    draw = np.random.default_rng(7).normal(size=(400_000, 3))
    radius = np.random.default_rng(8).random((400_000, 1)) ** (1.0 / 3.0)
    points = draw / np.linalg.norm(draw, axis=1, keepdims=True) * radius * [half_length, half_thickness, half_thickness]
    upright = np.array([-math.sin(angle), 0.0, math.cos(angle)])
    heights = points @ upright
    wet = points[heights <= np.quantile(heights, under)].mean(axis=0)
    height = -0.002
    expected = wet[0] - math.tan(angle) * (height - wet[2])
    found = spindle_weight_place(2 * half_length, 2 * half_thickness, under, angle, height)
    assert found == pytest.approx(expected, abs=1.5e-4)
