"""Righting arms: odd, tangent to the metacentric height, and the slope of the energy."""

import math

import numpy as np
import pytest

from gudgeon.errors import NoAnswer
from gudgeon.physics.flotation import resting
from gudgeon.physics.righting import righting_arms, righting_moments, righting_range
from gudgeon.physics.waterplane import FloatingBody, immersed, potential_energy, up_vector

WATER = 1000.0
NO_PLACES, NO_VOLUMES = np.zeros((0, 3)), np.zeros(0)


def log(*, share: float, low: float = 0.0, aside: float = 0.0, breadth: float = 0.1, trim: float = 0.0) -> FloatingBody:
    """A beam 0.1 m deep and six long, its weight below and to the right of its middle, `share` as heavy as water."""
    t, w = np.polynomial.legendre.leggauss(30)
    corners = np.array([[-breadth, -0.1], [breadth, -0.1], [breadth, 0.1], [-breadth, 0.1]]) / 2.0
    return FloatingBody(0.3 * (1.0 + t), 0.3 * w, np.tile(corners, (30, 1, 1)), NO_PLACES, NO_VOLUMES,
                        share * WATER * 0.06 * breadth, np.array([0.3 + trim, aside, -low]))  # fmt: skip


def test_the_curve_is_odd_for_a_body_alike_on_both_sides() -> None:
    heels = np.radians([5.0, 20.0, 50.0, 90.0, 140.0])
    body = log(share=0.4, low=0.02, trim=0.01)
    np.testing.assert_allclose(righting_arms(body, WATER, -heels), -righting_arms(body, WATER, heels), atol=1e-10)
    assert righting_arms(body, WATER, [0.0])[0] == pytest.approx(0.0, abs=1e-12)


def test_it_leaves_upright_along_the_metacentric_height() -> None:
    body = log(share=0.4, low=0.02)
    angle = 1e-3
    slope = righting_arms(body, WATER, [angle])[0] / angle
    assert slope == pytest.approx(resting(body, WATER).upright_metacentric_height, rel=1e-4)


def test_the_work_of_heeling_is_the_energy_gained() -> None:
    body = log(share=0.4, low=0.015)
    nodes, weights = np.polynomial.legendre.leggauss(24)
    end = math.radians(80.0)
    arms = righting_arms(body, WATER, end * (1.0 + nodes) / 2.0)
    work = body.mass * 9.80665 * end / 2.0 * float(weights @ arms)

    def settled_energy(heel: float) -> float:
        low, high = -0.3, 0.3
        for _ in range(60):
            middle = 0.5 * (low + high)
            short = WATER * immersed(body, 0.0, heel, middle).volume < body.mass
            low, high = (middle, high) if short else (low, middle)
        return potential_energy(body, WATER, up_vector(0.0, heel), high)

    assert work == pytest.approx(settled_energy(end) - settled_energy(0.0), rel=1e-4)


def test_moments_are_arms_times_weight() -> None:
    body, heels = log(share=0.4, low=0.02), [0.2, 0.7]
    np.testing.assert_allclose(
        righting_moments(body, WATER, heels), 9.80665 * body.mass * righting_arms(body, WATER, heels)
    )


@pytest.mark.parametrize("drag_centre", [None, (0.31, 0.002, 0.004)])
def test_under_water_the_curve_is_a_sine_whatever_the_trim(drag_centre: tuple[float, float, float] | None) -> None:
    body, heels = log(share=1.25, low=0.003, aside=0.001, trim=0.004), np.radians([-60.0, 0.0, 30.0, 120.0])
    place = None if drag_centre is None else np.array(drag_centre)
    held = np.zeros(3) if place is None else 0.2 * (place - np.array([0.3, 0.0, 0.0]))  # a fifth of the weight is left
    aside, low = 0.001 - held[1], 0.003 + held[2]
    arms = righting_arms(body, WATER, heels, drag_centre=place)
    np.testing.assert_allclose(arms, low * np.sin(heels) - aside * np.cos(heels), atol=1e-12)
    span = righting_range(body, WATER, drag_centre=place)
    assert span.rest == pytest.approx(math.atan2(aside, low))
    assert span.right - span.rest == pytest.approx(math.pi)
    assert span.rest - span.left == pytest.approx(math.pi)


def test_a_light_square_log_stays_upright_up_to_its_corner() -> None:
    span = righting_range(log(share=0.15), WATER)
    assert span.rest == pytest.approx(0.0, abs=1e-9)
    assert math.degrees(span.right) == pytest.approx(45.0, abs=0.01)  # by symmetry it balances on its corner
    assert math.degrees(span.left) == pytest.approx(-45.0, abs=0.01)


def test_a_body_that_always_comes_back_has_half_a_turn_each_way() -> None:
    span = righting_range(log(share=0.5, low=0.045), WATER)
    assert span.right == pytest.approx(math.pi, abs=1e-6)
    assert span.left == pytest.approx(-math.pi, abs=1e-6)


def test_a_listing_body_is_nearer_to_going_over_on_its_low_side() -> None:
    span = righting_range(log(share=0.15, aside=0.002), WATER)
    assert span.rest > 0.0
    assert span.right - span.rest < span.rest - span.left


def test_a_body_that_leaves_upright_has_upright_as_one_end_of_its_range() -> None:
    span = righting_range(log(share=0.25), WATER)
    assert math.degrees(span.rest) == pytest.approx(math.degrees(math.atan(0.5)), abs=1e-3)
    assert math.degrees(span.left) == pytest.approx(0.0, abs=0.01)
    assert math.degrees(span.right) == pytest.approx(45.0, abs=0.01)


def test_nothing_floats_on_nothing() -> None:
    with pytest.raises(NoAnswer, match="density above 0"):
        righting_arms(log(share=0.5), math.nan, [0.1])
    with pytest.raises(NoAnswer, match="density above 0"):
        righting_range(log(share=0.5), 0.0)
