"""Terminal sink and rise: forces and moments that vanish, signs, and the fall of known bodies."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.physics.sinking import (
    FallingBody,
    drag_area,
    excess_for,
    excess_mass,
    heel,
    pitch,
    sink_velocity,
    tilting,
)
from gudgeon.units import STANDARD_GRAVITY

WATER = 998.2
BODY = FallingBody(30e-4, 9e-4, (0.088, 0.001, 0.003), 0.3)


def sums(mass: float, weight: tuple[float, float, float], volume: float,
         lift: tuple[float, float, float]) -> np.ndarray:  # fmt: skip
    return np.array([mass, *(mass * c for c in weight), volume, *(volume * c for c in lift)])


LURE = sums(0.137, (0.089, 0.0005, -0.004), 0.1356e-3, (0.0885, 0.0, 0.001))


def forces(state: np.ndarray, angle: float) -> list[tuple[float, float, float]]:
    """Downward force over g [kg], and place along and up the body of the three that act."""
    excess = float(excess_mass(state, WATER))
    return [
        (state[0], state[1] / state[0], state[3] / state[0]),
        (-WATER * state[4], state[5] / state[4], state[7] / state[4]),
        (-excess, BODY.drag_centre[0], BODY.drag_centre[2]),
    ]


@given(st.floats(-0.02, 0.02), st.floats(0.080, 0.096), st.floats(-0.008, -0.002))
@settings(max_examples=50, deadline=None)
def test_at_the_steady_pitch_forces_and_moments_vanish_drag_and_all(extra: float, x: float, z: float) -> None:
    state = sums(0.1356e-3 * WATER + extra, (x, 0.0, z), 0.1356e-3, (0.0885, 0.0, 0.001))
    angle = float(pitch(state, WATER, BODY))
    acting = forces(state, angle)
    assert sum(force for force, _, _ in acting) == pytest.approx(0.0, abs=1e-15)
    arms = [along * math.cos(angle) + up * math.sin(angle) for _, along, up in acting]  # aft of the origin, nose up
    moment = sum(force * arm for (force, _, _), arm in zip(acting, arms, strict=True))
    assert moment == pytest.approx(0.0, abs=1e-12)


@given(st.floats(-0.02, 0.02), st.floats(-1.2, 1.2))
@settings(max_examples=50, deadline=None)
def test_at_the_terminal_velocity_drag_is_the_weight_in_water(excess: float, angle: float) -> None:
    area = float(drag_area(angle, BODY, 1.0))
    velocity = float(sink_velocity(excess, WATER, area))
    drag = 0.5 * WATER * velocity * abs(velocity) * area
    assert drag == pytest.approx(STANDARD_GRAVITY * excess, rel=1e-9, abs=1e-15)
    assert excess_for(velocity, WATER, area) == pytest.approx(excess, rel=1e-9, abs=1e-15)
    assert float(sink_velocity(-excess, WATER, area)) == -velocity


def test_level_it_falls_on_its_plan_area_and_upended_on_its_largest_section() -> None:
    assert float(drag_area(0.0, BODY, 1.1)) == pytest.approx(1.1 * 30e-4)
    assert float(drag_area(math.pi / 2, BODY, 1.1)) == pytest.approx(0.3 * 9e-4)
    tilted = math.radians(20.0)
    wanted = 30e-4 * math.cos(tilted) ** 3 + 0.3 * 9e-4 * math.sin(tilted) ** 3
    assert float(drag_area(tilted, BODY, 1.0)) == pytest.approx(wanted, rel=1e-12)
    assert float(drag_area(-tilted, BODY, 1.0)) == pytest.approx(wanted, rel=1e-12)


def test_a_falling_bait_by_hand() -> None:
    """1.6 g over 30 cm2: v = sqrt(2 x 9.80665 x 0.0016 / (998.2 x 0.003)) = 0.10237 m/s, 2.98 s/ft."""
    assert float(sink_velocity(1.6e-3, WATER, 30e-4)) == pytest.approx(0.10237, abs=1e-5)


def test_tilt_is_the_offset_over_the_lever() -> None:
    """Hanging exactly: no drag, tan(tilt) = x / BG; 1 mm on 4 mm is 14 degrees, nose up when weight is aft."""
    hung = sums(0.1 * WATER / 1000, (0.051, 0.0, -0.004), 1e-4, (0.050, 0.0, 0.0))
    assert math.degrees(float(pitch(hung, WATER, BODY))) == pytest.approx(14.036, abs=1e-3)
    forward = sums(0.1 * WATER / 1000, (0.049, 0.0, -0.004), 1e-4, (0.050, 0.0, 0.0))
    assert math.degrees(float(pitch(forward, WATER, BODY))) == pytest.approx(-14.036, abs=1e-3)
    aside = sums(0.1 * WATER / 1000, (0.050, 0.001, -0.004), 1e-4, (0.050, 0.0, 0.0))
    assert math.degrees(float(heel(aside, WATER, BODY))) == pytest.approx(14.036, abs=1e-3)


def test_the_drag_holds_a_sinker_back_at_its_middle_and_a_riser_too() -> None:
    """Weight over buoyancy, drag centre ahead: a sinker is held up at the nose, a riser held down there."""
    ahead = FallingBody(30e-4, 9e-4, (0.040, 0.0, 0.0), 0.3)
    heavy = sums(0.101 * WATER / 1000, (0.05, 0.0, -0.004), 1e-4, (0.05, 0.0, 0.0))
    light = sums(0.099 * WATER / 1000, (0.05, 0.0, -0.004), 1e-4, (0.05, 0.0, 0.0))
    assert float(pitch(heavy, WATER, ahead)) > 0.0
    assert float(pitch(light, WATER, ahead)) < 0.0
    assert float(heel(heavy, WATER, ahead)) == 0.0


def test_weight_above_buoyancy_goes_over_on_its_back() -> None:
    top_heavy = sums(0.1 * WATER / 1000, (0.05, 0.0, 0.004), 1e-4, (0.05, 0.0, 0.0))
    assert abs(float(pitch(top_heavy, WATER, BODY))) > math.pi / 2
    assert abs(float(heel(top_heavy, WATER, BODY))) > math.pi / 2


def test_many_states_at_once_are_each_on_its_own() -> None:
    many = np.stack([LURE, LURE * 1.01])
    x, y, z = tilting(many, np.array([998.2, 1025.0]), BODY)
    for place, water in enumerate((998.2, 1025.0)):
        one = tilting(many[place], water, BODY)
        assert (x[place], y[place], z[place]) == pytest.approx(tuple(float(part) for part in one))
