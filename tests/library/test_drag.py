"""Coefficients say what they rest on; the ball's drag has its ends right."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import OutsideSource
from gudgeon.library.drag import SPHERE_DRAG_HIGHEST_REYNOLDS, coefficient, sphere_drag


@pytest.mark.parametrize("name", ["fall_drag", "axial_drag"])
def test_a_guess_is_called_a_guess(name: str) -> None:
    given_one = coefficient(name)
    assert given_one.name == name
    assert given_one.standing == "guess"
    assert 0.0 < given_one.low < given_one.value < given_one.high


def test_the_fall_rate_is_right_within_a_factor_of_one_and_a_quarter() -> None:
    fall = coefficient("fall_drag")
    assert fall.value == 1.0
    assert math.sqrt(fall.value / fall.low) == pytest.approx(1.25)  # the rate goes with 1 / sqrt(drag)
    assert math.sqrt(fall.high / fall.value) == pytest.approx(1.25)


def test_an_unknown_coefficient_is_refused_with_the_nearest() -> None:
    with pytest.raises(OutsideSource, match="nearest in spelling: 'fall_drag'"):
        coefficient("fal_drag")


def test_a_slow_ball_has_the_drag_of_stokes() -> None:
    assert sphere_drag(1e-6) == pytest.approx(24.0 / 1e-6, rel=1e-4)


@given(st.floats(1e-6, 1.9e5), st.floats(1.001, 1.05))
def test_a_faster_ball_meets_more_force(reynolds: float, more: float) -> None:
    assert sphere_drag(reynolds * more) * more**2 > sphere_drag(reynolds)


@pytest.mark.parametrize("reynolds", [0.0, -1.0, 1.01 * SPHERE_DRAG_HIGHEST_REYNOLDS, math.nan])
def test_outside_the_curve_is_refused(reynolds: float) -> None:
    with pytest.raises(OutsideSource, match="goes from 0 to 2e5"):
        sphere_drag(reynolds)
