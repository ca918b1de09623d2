"""Friction lines, form factor, and the drag they sum to."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import OutsideSource
from gudgeon.physics.axial_drag import (
    axial_drag_area,
    form_factor,
    laminar_friction,
    skin_friction,
    turbulent_friction,
)


@given(st.floats(1e3, 9e8), st.floats(1.01, 1.1))
def test_a_longer_or_faster_skin_rubs_less_for_its_area_and_turbulence_always_more(low: float, more: float) -> None:
    here, there = skin_friction(low), skin_friction(low * more)
    assert here.laminar > there.laminar
    assert here.turbulent > there.turbulent
    assert here.laminar < here.turbulent


def test_at_a_lure_s_reynolds_numbers_the_turbulent_line_is_about_double() -> None:
    assert [skin_friction(x).turbulent / skin_friction(x).laminar for x in (5e4, 1e5, 5e5)] == pytest.approx(
        [1.73, 1.98, 2.92], abs=0.01
    )


def test_between_the_lines_by_share() -> None:
    both = skin_friction(1e5)
    assert (both.at(0.0), both.at(1.0)) == (laminar_friction(1e5), turbulent_friction(1e5))
    assert both.at(0.25) == pytest.approx(0.75 * both.laminar + 0.25 * both.turbulent)


@pytest.mark.parametrize("reynolds", [0.0, -5.0, 999.0, 1.1e9, math.nan])
def test_outside_the_lines_is_refused(reynolds: float) -> None:
    with pytest.raises(OutsideSource, match="the lines go from 1000 to 1e"):
        skin_friction(reynolds)


def test_a_needle_is_all_skin() -> None:
    assert form_factor(1e6) == pytest.approx(1.0, abs=1e-8)


@pytest.mark.parametrize("slenderness", [0.99, 0.0, math.nan])
def test_a_flat_body_is_refused(slenderness: float) -> None:
    with pytest.raises(OutsideSource, match="the form factor starts at 1"):
        form_factor(slenderness)


def test_frontal_drag_is_least_between_two_and_three_diameters() -> None:
    """Skin of a body grows as its length: drag on the frontal area goes as (l/d) times the form factor."""
    drag = {tenth: tenth * form_factor(tenth / 10.0) for tenth in range(12, 80)}
    assert 20 <= min(drag, key=lambda tenth: drag[tenth]) <= 30


def test_the_sum_by_hand() -> None:
    """0.006 x 1.2 x 130 cm2 + 0.12 x 1 cm2 = 0.936 + 0.12 = 1.056 cm2."""
    area = axial_drag_area(friction=0.006, form=1.2, wetted_area=130e-4, blunt_area=1e-4, base_drag=0.12)
    assert area == pytest.approx(1.056e-4)
