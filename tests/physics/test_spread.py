"""Spreads against closed forms: sums of independent parts, conditioning of two sources, samples of a known shape."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.physics.spread import (
    Estimate,
    Knowledge,
    around,
    directions,
    draws,
    exactly,
    nothing_measured,
    propagated,
    root_sum_square,
    sampled,
    smooth,
)

SIZES = st.floats(0.05, 5.0)


def test_estimates() -> None:
    assert around(2.0, -0.5) == Estimate(2.0, 1.5, 2.5)
    assert exactly(3.0).spread == 0.0
    assert Estimate(1.0, 0.5, 2.5).spread == 1.0
    upside_down = Estimate(2.0, 1.0, 4.0).mapped(lambda value: 1.0 / value)
    assert upside_down == Estimate(0.5, 0.25, 1.0)
    assert root_sum_square([3.0, 4.0]) == 5.0
    assert root_sum_square([]) == 0.0


def test_a_product_of_independent_quantities() -> None:
    found = propagated(lambda a, b: a * b, (10.0, 4.0), (0.3, 0.2))
    assert found.value == 40.0
    assert found.spread == pytest.approx(math.hypot(0.3 * 4.0, 0.2 * 10.0), rel=1e-12)
    assert propagated(lambda a, b: a * b, (10.0, 4.0), (0.3, 0.0)).spread == pytest.approx(1.2, rel=1e-12)


def test_a_weighed_sum_of_two_sources_has_the_known_posterior() -> None:
    """x + y with half-widths a, b, seen with half-width s: each moves by its share of the variance."""
    a, b, s, seen = 2.0, 1.0, 0.5, 3.0
    known = nothing_measured(("x", "y")).given(np.array([a, b]), seen, s)
    total = a * a + b * b + s * s
    assert known.mean == pytest.approx([a * seen / total, b * seen / total], rel=1e-12)
    assert known.covariance == pytest.approx(
        np.array([[1.0 - a * a / total, -a * b / total], [-a * b / total, 1.0 - b * b / total]]), rel=1e-12
    )
    assert known.half_width(np.array([a, b])) == pytest.approx(math.sqrt((a * a + b * b) * s * s / total), rel=1e-12)
    # what was not summed is no better known than before, save for what it shares
    assert known.half_width(np.array([a, -b * (a * a) / (b * b)])) == pytest.approx(
        math.hypot(a, a * a / b), rel=1e-12
    )


def test_measuring_twice_is_measuring_once_with_a_better_scale() -> None:
    direction, s = np.array([0.7, -0.4, 0.1]), 0.3
    twice = nothing_measured("abc").given(direction, 0.5, s).given(direction, 0.7, s)
    once = nothing_measured("abc").given(direction, 0.6, s / math.sqrt(2.0))
    assert twice.mean == pytest.approx(once.mean, rel=1e-12)
    assert twice.covariance == pytest.approx(once.covariance, rel=1e-12)


def test_an_exact_measurement_is_taken_as_it_is() -> None:
    direction = np.array([2.0, 1.0])
    known = nothing_measured("ab").given(direction, 3.0, 0.0)
    assert float(direction @ known.mean) == pytest.approx(3.0, rel=1e-12)
    assert known.half_width(direction) == pytest.approx(0.0, abs=1e-9)
    # and a second exact look at the same thing has nothing to say
    assert known.given(direction, 3.0, 0.0).mean == pytest.approx(known.mean)


def test_measuring_what_nothing_uncertain_touches_changes_nothing() -> None:
    known = nothing_measured("ab")
    assert known.given(np.zeros(2), 1.0, 0.1).mean == pytest.approx([0.0, 0.0])
    assert known.given(np.zeros(2), 1.0, 0.0) is known


@given(st.lists(st.floats(-3.0, 3.0), min_size=4, max_size=4), st.lists(SIZES, min_size=4, max_size=4), SIZES)
@settings(max_examples=30, deadline=None)
def test_what_a_measurement_would_leave_is_what_it_leaves(ask: list[float], seen: list[float], spread: float) -> None:
    before = nothing_measured("abcd").given(np.array([1.0, 0.5, 0.0, 0.2]), 0.3, 0.4)
    direction, measured = np.array(ask), np.array(seen)
    after = before.given(measured, 0.7, spread)
    told = before.half_width_given(direction, measured, spread)
    assert told == pytest.approx(after.half_width(direction), rel=1e-6, abs=1e-9)
    assert told <= before.half_width(direction) + 1e-12
    order = before.given(measured, 0.7, spread).given(direction, 0.1, 0.2)
    other = before.given(direction, 0.1, 0.2).given(measured, 0.7, spread)
    assert order.mean == pytest.approx(other.mean, rel=1e-6, abs=1e-9)


def test_directions_of_a_smooth_function() -> None:
    effects = np.array([[0.1, 0.0], [0.0, 0.2], [0.05, -0.1]])
    moved = directions(lambda s: s[..., 0] * s[..., 1], np.array([3.0, 5.0]), effects)
    assert moved == pytest.approx([0.5, 0.6, 0.25 - 0.3], rel=1e-9)
    found = smooth(lambda s: s[..., 0] * s[..., 1], np.array([3.0, 5.0]), effects, nothing_measured("abc"))
    assert found.value == 15.0
    assert found.spread == pytest.approx(math.sqrt(0.25 + 0.36 + 0.0025), rel=1e-9)


def test_draws_have_the_spread_they_were_told() -> None:
    effects = np.array([[0.4, 0.1, 0.0], [0.0, 3e-6, 0.0]])
    known = Knowledge(("a", "b"), np.zeros(2), np.array([[1.0, -0.6], [-0.6, 1.0]]))
    state = np.array([1.0, 2e-6, 7.0])
    drawn = draws(state, effects, known)
    assert drawn is not draws(state, effects, known)
    assert (drawn == draws(state, effects, known)).all()
    wanted = effects.T @ known.covariance @ effects / 4.0
    found = np.cov(drawn.T)
    for place, other in ((0, 0), (1, 1), (0, 1)):
        scale = math.sqrt(wanted[place, place] * wanted[other, other])
        assert found[place, other] == pytest.approx(wanted[place, other], abs=0.06 * scale)
    assert drawn.mean(axis=0) == pytest.approx(state, abs=0.02)
    assert (drawn[:, 2] == 7.0).all()


def test_about_19_in_20_draws_lie_in_the_half_width() -> None:
    drawn = draws(np.array([0.0]), np.array([[2.0]]), nothing_measured("a"))[:, 0]
    assert np.mean(np.abs(drawn) < 2.0) == pytest.approx(0.954, abs=0.015)
    found = sampled(drawn, 0.0)
    assert (found.low, found.high) == pytest.approx((-1.96, 1.96), abs=0.15)


def test_a_sampled_range_holds_its_middle() -> None:
    values = np.linspace(1.0, 2.0, 1001)
    assert sampled(values, 0.5) == Estimate(0.5, 0.5, pytest.approx(1.975, abs=1e-3))
    assert sampled(values, 3.0).high == 3.0


def test_further_sources_stand_each_on_its_own() -> None:
    known = nothing_measured("ab").given(np.array([1.0, 0.5]), 0.4, 0.2)
    wider = known.beside(("c",))
    assert wider.sources == ("a", "b", "c")
    assert wider.mean == pytest.approx([*known.mean, 0.0])
    assert wider.half_width(np.array([0.3, -0.2, 0.0])) == pytest.approx(known.half_width(np.array([0.3, -0.2])))
    assert wider.half_width(np.array([0.0, 0.0, 0.7])) == pytest.approx(0.7)
    assert known.beside(()).covariance == pytest.approx(known.covariance)
