"""A ball's steady speed: the slow limit, the balance of forces, the sign."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import NoAnswer
from gudgeon.physics.sphere_fall import sphere_fall_speed

WATER, VISCOSITY = 998.2, 1.0034e-6


def stokes(reynolds: float) -> float:
    return 24.0 / reynolds


def blunt(reynolds: float) -> float:
    return 24.0 / reynolds + 0.4


def speed(diameter: float, density: float, law: object = blunt) -> float:
    return sphere_fall_speed(diameter=diameter, density=density, water_density=WATER, kinematic_viscosity=VISCOSITY,
                             drag_law=law, highest_reynolds=2e5)  # type: ignore[arg-type]  # fmt: skip


def test_a_slow_ball_obeys_stokes() -> None:
    expected = 9.80665 * (2500.0 - WATER) * 20e-6**2 / (18.0 * VISCOSITY * WATER)
    assert speed(20e-6, 2500.0, stokes) == pytest.approx(expected, rel=1e-9)


@given(st.floats(1e-4, 0.03), st.floats(300.0, 12000.0))
def test_drag_carries_the_weight_in_water(diameter: float, density: float) -> None:
    v = speed(diameter, density)
    if v != 0.0:
        area, volume = math.pi / 4.0 * diameter**2, math.pi / 6.0 * diameter**3
        drag = 0.5 * WATER * v**2 * area * blunt(abs(v) * diameter / VISCOSITY)
        assert drag == pytest.approx(9.80665 * volume * abs(density - WATER), rel=1e-9)
    assert v * (density - WATER) >= 0.0


def test_a_light_ball_rises_as_fast_as_a_heavy_one_sinks() -> None:
    assert speed(0.005, WATER - 100.0) == pytest.approx(-speed(0.005, WATER + 100.0), rel=1e-9)


def test_a_ball_as_heavy_as_water_hangs() -> None:
    assert speed(0.005, WATER) == 0.0


def test_a_ball_too_fast_for_the_law_is_refused() -> None:
    with pytest.raises(NoAnswer, match="goes faster than the drag law covers"):
        speed(0.2, 11340.0)
