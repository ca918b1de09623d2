"""Loads at which things let go: closed forms, how they scale, and sums done the long way."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.physics.holding import (
    BOND_SHARE,
    PLASTIC_SECTION,
    bar_break,
    bonded_withdrawal,
    dowel_bearing,
    eye_opening,
    glued_slot,
    lateral_limit,
    net_section,
    pin_bent,
    pin_first_yield,
    pin_shear,
    plain_withdrawal,
    plastic_moment,
    plate_bearing,
    tear_out,
    thread_withdrawal,
    wood_shear,
)

gravities = st.floats(0.12, 0.75)
sizes = st.floats(0.5e-3, 30e-3)


@given(gravity=gravities, wire=sizes, shank=sizes)
def test_a_shank_holds_by_its_length_and_its_thickness(gravity, wire, shank):
    for hold in (thread_withdrawal, plain_withdrawal, bonded_withdrawal, dowel_bearing):
        assert hold(gravity, 2.0 * wire, shank) == pytest.approx(2.0 * hold(gravity, wire, shank))
        assert hold(gravity, wire, 3.0 * shank) == pytest.approx(3.0 * hold(gravity, wire, shank))
        assert hold(1.1 * gravity, wire, shank) > hold(gravity, wire, shank)


@given(gravity=gravities, wire=sizes, shank=sizes)
def test_a_thread_holds_more_than_a_smooth_shank_in_any_wood_for_lures(gravity, wire, shank):
    assert thread_withdrawal(gravity, wire, shank) > plain_withdrawal(gravity, wire, shank)


def test_hold_grows_as_the_square_of_the_woods_weight():
    assert thread_withdrawal(0.6, 2e-3, 2e-2) == pytest.approx(4.0 * thread_withdrawal(0.3, 2e-3, 2e-2))


def test_a_glued_shank_shears_the_wall_of_its_bore():
    wall = math.pi * 2.6e-3 * 16e-3
    assert bonded_withdrawal(0.37, 2.6e-3, 16e-3) == pytest.approx(BOND_SHARE * wood_shear(0.37) * wall)


def test_plastic_moment_is_the_stress_summed_over_the_round():
    strength, wire = 700e6, 1.6e-3
    height = (np.arange(200_000) + 0.5) / 200_000 * 0.5 * wire
    chord = 2.0 * np.sqrt((0.5 * wire) ** 2 - height**2)
    summed = 2.0 * float((strength * chord * height).mean()) * 0.5 * wire
    assert plastic_moment(strength, wire) == pytest.approx(summed, rel=1e-6)


def test_first_yield_is_where_the_skin_bears_its_yield():
    strength, pin, span = 205e6, 2e-3, 5e-3
    load = pin_first_yield(strength, pin, span)
    stress = (load * span / 4.0) * (pin / 2.0) / (math.pi * pin**4 / 64.0)
    assert stress == pytest.approx(strength)


def test_a_round_bar_bends_through_at_one_point_seven_times_first_yield():
    assert pytest.approx(1.698, abs=5e-4) == PLASTIC_SECTION
    assert pin_bent(205e6, 2e-3, 5e-3) == pytest.approx(4.0 * plastic_moment(205e6, 2e-3) / 5e-3)


def test_an_eye_opens_where_its_lever_is_longest():
    strength, wire, radius = 700e6, 1.3e-3, 2.6e-3
    load = eye_opening(strength, wire, radius)
    around = np.linspace(0.0, math.pi, 2001)  # from the crown, along the loop, to the shank
    assert float((load * radius * np.sin(around)).max()) == pytest.approx(plastic_moment(strength, wire), rel=1e-9)


@given(scale=st.floats(0.3, 3.0))
def test_an_eye_of_the_same_shape_holds_by_its_size_squared(scale):
    ratio = eye_opening(7e8, scale * 1.3e-3, scale * 2.6e-3) / eye_opening(7e8, 1.3e-3, 2.6e-3)
    assert ratio == pytest.approx(scale**2)


@given(pin=st.floats(0.5e-3, 4e-3), strength=st.floats(1e8, 2e9))
def test_a_pin_bends_before_it_shears_once_its_span_is_over_seven_tenths_of_it(pin, strength):
    # 4 s d3 / (6 span) = 2 / sqrt(3) s pi d2 / 4 at span = 0.735 d
    even = 4.0 / 6.0 / (2.0 / math.sqrt(3.0) * math.pi / 4.0) * pin
    assert pin_bent(strength, pin, 1.01 * even) < pin_shear(strength, pin) < pin_bent(strength, pin, 0.99 * even)


def test_plates():
    assert net_section(65e6, 10e-3, 2.5e-3, 1.5e-3) == pytest.approx(65e6 * 7.5e-3 * 1.5e-3)
    assert net_section(65e6, 10e-3, 0.0, 1.5e-3) == pytest.approx(bar_break(65e6, 1.0) / (math.pi / 4.0) * 1.5e-5)
    assert tear_out(45e6, 2e-3, 1.5e-3) == pytest.approx(270.0)
    assert plate_bearing(65e6, 2e-3, 1.5e-3) == pytest.approx(292.5)
    assert glued_slot(3e6, 10e-3, 16e-3) == pytest.approx(960.0)


def test_a_screw_gives_sideways_by_its_thickness_squared():
    assert lateral_limit(23.17e6, 3e-3) == pytest.approx(9.0 * lateral_limit(23.17e6, 1e-3))


def test_wood_shear_takes_the_weaker_of_soft_and_hardwood():
    light, heavy = 0.2, 0.7
    assert wood_shear(light) == pytest.approx(21.9e6 * light**1.13)
    assert wood_shear(heavy) == pytest.approx(16.6e6 * heavy**0.85)
