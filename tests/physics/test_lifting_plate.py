"""A plate at a slant: limits at no angle and square on, signs, and where the force acts."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.physics.lifting_plate import force_place, greatest_lift, normal_coefficient, potential_slope

ANGLES = st.floats(0.0, math.pi / 2)
SLOPES = st.floats(0.1, 6.0)
EDGES = st.floats(0.0, math.pi)
MOST = 1.17


def test_a_narrow_plate_lifts_as_jones_s_and_an_endless_one_as_a_wing() -> None:
    assert float(potential_slope(1e-4)) == pytest.approx(0.5 * math.pi * 1e-4, rel=1e-4)
    assert float(potential_slope(1e6)) == pytest.approx(2.0 * math.pi, rel=1e-5)
    assert np.all(np.diff(potential_slope(np.geomspace(0.01, 100.0, 50))) > 0.0)


@given(SLOPES, EDGES)
def test_ends(potential: float, edge: float) -> None:
    force = normal_coefficient([0.0, 1e-6, math.pi / 2], potential=potential, edge=edge, most=MOST)
    assert force[0] == 0.0
    assert force[1] == pytest.approx(potential * 1e-6, rel=1e-4)
    assert force[2] == pytest.approx(MOST)


@given(ANGLES, SLOPES, EDGES)
def test_never_below_nothing_nor_above_the_most(angle: float, potential: float, edge: float) -> None:
    force = float(normal_coefficient(angle, potential=potential, edge=edge, most=MOST))
    assert 0.0 <= force <= MOST


@given(ANGLES, SLOPES, EDGES)
def test_the_force_walks_from_a_quarter_to_the_middle(angle: float, potential: float, edge: float) -> None:
    place = float(force_place(angle, potential=potential, edge=edge, most=MOST))
    assert 0.25 <= place <= 0.5
    ends = force_place([0.0, 1e-9, math.pi / 2], potential=potential, edge=edge, most=MOST)
    assert ends == pytest.approx([0.25, 0.25, 0.5], abs=1e-6)


def test_by_hand_at_thirty_degrees() -> None:
    """sin = 1/2, cos^2 = 3/4: 1.5 x 0.4330 + 1.6 x 0.1875 + 1.17/16 = 1.0226; acts at 1/2 - 0.6495/1.0226/4 = 0.341."""
    given_ones = {"potential": 1.5, "edge": 1.6, "most": MOST}
    assert float(normal_coefficient(math.pi / 6, **given_ones)) == pytest.approx(1.02265, abs=1e-5)
    assert float(force_place(math.pi / 6, **given_ones)) == pytest.approx(0.34122, abs=1e-4)


def test_elements_side_by_side_each_have_their_own() -> None:
    force = normal_coefficient([0.2, 0.4], potential=[1.0, 2.0], edge=1.6, most=MOST)
    assert force[0] == normal_coefficient(0.2, potential=1.0, edge=1.6, most=MOST)
    assert force[1] == normal_coefficient(0.4, potential=2.0, edge=1.6, most=MOST)


def test_the_greatest_lift_is_the_greatest() -> None:
    lift, angle = greatest_lift(potential=2.5, edge=1.6, most=MOST)
    around = np.linspace(0.0, math.pi / 2, 977)
    assert lift >= float((normal_coefficient(around, potential=2.5, edge=1.6, most=MOST) * np.cos(around)).max()) - 1e-6
    assert lift == pytest.approx(float(normal_coefficient(angle, potential=2.5, edge=1.6, most=MOST)) * math.cos(angle))
