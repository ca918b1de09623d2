"""Curves through points: exact where they must be, never swelling where the points do not ask for it."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.errors import BadDesign
from gudgeon.physics.outline import (
    CREST_RISE,
    AnalyticCurve,
    ConstantCurve,
    DrawnCurve,
    HeldCurve,
    ScaledCurve,
)

LENGTH = 0.165
HEIGHT = 0.02


def half_ellipse(stations):
    return 2.0 * HEIGHT * np.sqrt(np.maximum(stations * (LENGTH - stations), 0.0)) / LENGTH


def revolved_volume(curve):
    angles = np.linspace(0.0, np.pi, 8001)
    stations = LENGTH * np.sin(0.5 * angles) ** 2
    return np.trapezoid(np.pi * curve(stations) ** 2 * 0.5 * LENGTH * np.sin(angles), angles)


def ellipse_volume_error(places):
    stations = LENGTH * np.asarray(places)
    heights = half_ellipse(stations)
    heights[[0, -1]] = 0.0
    exact = 2.0 / 3.0 * np.pi * HEIGHT**2 * LENGTH
    return revolved_volume(DrawnCurve(stations, heights, LENGTH)) / exact - 1.0


def fine(curve, each=40):
    """Stations crowded into every panel of a curve, its points among them."""
    knots = curve.stations
    return np.unique(np.concatenate([np.linspace(a, b, each) for a, b in pairwise(knots)]))


# ---- what must be exact --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("nose", ["round", "pointed"])
@pytest.mark.parametrize("tail", ["round", "pointed"])
def test_curve_passes_through_every_point(nose, tail):
    stations = np.array([0.0, 0.01, 0.05, 0.09, 0.14, LENGTH])
    heights = np.array([0.0, 0.008, 0.016, 0.015, 0.006, 0.0])
    curve = DrawnCurve(stations, heights, LENGTH, nose, tail)
    assert curve(stations) == pytest.approx(heights, abs=1e-15)
    assert curve(stations)[[0, -1]].tolist() == [0.0, 0.0]
    assert curve.breaks == tuple(stations[1:-1])


@pytest.mark.parametrize("count", [2, 3, 4, 12])
def test_straight_taper_with_pointed_ends_is_straight(count):
    stations = np.linspace(0.0, LENGTH, count)
    curve = DrawnCurve(stations, HEIGHT * stations / LENGTH, LENGTH, "pointed", "pointed")
    x = np.linspace(0.0, LENGTH, 501)
    assert curve(x) == pytest.approx(HEIGHT * x / LENGTH, abs=1e-15)
    assert curve.slope(x) == pytest.approx(np.full(501, HEIGHT / LENGTH), rel=1e-9)


@pytest.mark.parametrize("count", [2, 5, 12])
def test_straight_taper_to_a_flat_face_is_straight_though_the_ends_are_called_round(count):
    stations = np.linspace(0.0, LENGTH, count)
    curve = DrawnCurve(stations, 0.01 + HEIGHT * stations / LENGTH, LENGTH, "round", "round")
    x = np.linspace(0.0, LENGTH, 501)
    assert curve(x) == pytest.approx(0.01 + HEIGHT * x / LENGTH, abs=1e-15)


@pytest.mark.parametrize("taper_points", [4, 6, 12])
def test_straight_taper_behind_a_round_nose_is_straight_once_clear_of_the_corner(taper_points):
    """The parameter bends a straight taper here; the spline must follow it within a hundredth of the height."""
    shoulder = 0.3 * LENGTH
    ahead = shoulder * np.sin(np.linspace(0.0, 0.5 * np.pi, 6)) ** 2
    behind = np.linspace(shoulder, LENGTH, taper_points)[1:]

    def shape(x):
        near = np.minimum(x, shoulder)
        return np.where(x < shoulder, HEIGHT * np.sqrt(near * (2.0 * shoulder - near)) / shoulder,
                        HEIGHT * (LENGTH - x) / (LENGTH - shoulder))  # fmt: skip

    stations = np.concatenate([ahead, behind])
    heights = shape(stations)
    heights[-1] = 0.0
    curve = DrawnCurve(stations, heights, LENGTH, "round", "pointed")
    x = np.linspace(behind[0], LENGTH, 500)  # the panel before it rounds the corner of this shape
    assert np.abs(curve(x) - shape(x)).max() < 0.01 * HEIGHT


def test_two_points_with_a_round_nose_make_the_parabola_of_a_bullet():
    curve = DrawnCurve(np.array([0.0, LENGTH]), np.array([0.0, HEIGHT]), LENGTH)
    x = np.linspace(0.0, LENGTH, 301)
    assert curve(x) == pytest.approx(HEIGHT * np.sqrt(x / LENGTH), abs=1e-15)
    assert curve.slope(x[1:]) == pytest.approx(0.5 * HEIGHT / np.sqrt(x[1:] * LENGTH), rel=1e-9)


def test_round_nose_grows_as_the_root_of_the_distance_and_pointed_one_as_the_distance():
    stations = LENGTH * np.linspace(0.0, 1.0, 12)
    heights = half_ellipse(stations)
    near = np.array([1e-8, 4e-8])
    for nose, ratio in (("round", 2.0), ("pointed", 4.0)):
        low, high = DrawnCurve(stations, heights, LENGTH, nose)(near)
        assert high / low == pytest.approx(ratio, rel=1e-3)


# ---- an ellipse through twelve points ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "places", [np.linspace(0.0, 1.0, 12), np.sin(np.linspace(0.0, 0.5 * np.pi, 12)) ** 2], ids=["even", "cosine"]
)
def test_ellipse_through_twelve_points_has_its_volume(places):
    assert abs(ellipse_volume_error(places)) < 1e-4


@settings(deadline=None, max_examples=80)
@given(st.lists(st.floats(-0.35, 0.35), min_size=10, max_size=10), st.booleans())
def test_ellipse_through_twelve_points_set_unevenly_has_its_volume_within_three_thousandths(shifts, cosine):
    places = np.linspace(0.0, 1.0, 12)
    places[1:-1] += np.array(shifts) / 11.0
    if cosine:
        places = np.sin(0.5 * np.pi * places) ** 2
    assert abs(ellipse_volume_error(places)) < 0.003


# ---- no swelling ---------------------------------------------------------------------------------------------------


@st.composite
def drawings(draw):
    count = draw(st.integers(2, 14))
    gaps = np.array(draw(st.lists(st.floats(0.05, 1.0), min_size=count - 1, max_size=count - 1)))
    heights = np.array(draw(st.lists(st.floats(0.0, 1.0), min_size=count, max_size=count)))
    stations = np.concatenate([[0.0], np.cumsum(gaps) / gaps.sum()]) * LENGTH
    ends = st.sampled_from(["round", "pointed"])
    closed = draw(st.tuples(st.booleans(), st.booleans()))
    heights[0] *= not closed[0]
    heights[-1] *= not closed[1]
    return DrawnCurve(stations, HEIGHT * heights, LENGTH, draw(ends), draw(ends))


def crest_or_trough(heights, panel):
    """Whether both outer neighbours of a panel fall away from it, or both rise."""
    if not 0 < panel < len(heights) - 2:
        return False
    before, after = heights[panel] - heights[panel - 1], heights[panel + 1] - heights[panel + 2]
    return before * after > 0.0


@settings(deadline=None, max_examples=200)
@given(drawings())
def test_curve_stays_between_its_points_but_for_a_crest(curve):
    h = curve.heights
    for panel, (start, stop) in enumerate(pairwise(curve.stations)):
        between = curve(np.linspace(start, stop, 60))
        low, high = sorted(h[panel : panel + 2])
        spare = CREST_RISE * high if crest_or_trough(h, panel) else 0.0
        assert between.min() >= low - spare - 1e-12
        assert between.max() <= high + spare + 1e-12
        if not spare:
            assert np.all(np.diff(between) * np.sign(h[panel + 1] - h[panel]) >= -1e-12)


def test_flat_drawn_with_three_points_stays_flat():
    stations = np.array([0.0, 20.0, 60.0, 100.0, 140.0, 165.0]) * 1e-3
    heights = np.array([0.0, 12.0, 15.0, 15.0, 15.0, 0.0]) * 1e-3
    curve = DrawnCurve(stations, heights, LENGTH)
    assert curve(np.linspace(0.060, 0.140, 100)) == pytest.approx(np.full(100, 0.015), abs=1e-15)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_two_equal_points_at_a_crest_rise_by_no_more_than_the_rule_allows(sign):
    stations = np.array([0.0, 30.0, 70.0, 100.0, 140.0, 165.0]) * 1e-3
    heights = sign * np.array([0.0, 10.0, 15.0, 15.0, 9.0, 0.0]) * 1e-3
    top = np.abs(DrawnCurve(stations, heights, LENGTH)(np.linspace(0.070, 0.100, 200))).max()
    assert 0.015 * 1.005 < top <= 0.015 * (1.0 + CREST_RISE) + 1e-12


def test_crest_rises_less_where_the_neighbours_hardly_fall():
    stations = np.array([0.0, 40.0, 80.0, 120.0, 165.0]) * 1e-3
    heights = np.array([14.999, 15.0, 15.0, 14.999, 14.998]) * 1e-3
    assert DrawnCurve(stations, heights, LENGTH)(np.linspace(0.0, LENGTH, 400)).max() < 0.0150006


# ---- invariances ---------------------------------------------------------------------------------------------------


@settings(deadline=None, max_examples=60)
@given(drawings())
def test_upside_down_or_back_to_front_it_is_the_same_curve(curve):
    x = fine(curve, each=9)
    flipped = DrawnCurve(curve.stations, -curve.heights, LENGTH, curve.nose, curve.tail)
    turned = DrawnCurve(LENGTH - curve.stations[::-1], curve.heights[::-1], LENGTH, curve.tail, curve.nose)
    assert flipped(x) == pytest.approx(-curve(x), abs=1e-14)
    # near a round end the square root turns the last digit of a station into 1e-8 of a height
    assert turned(np.maximum(LENGTH - x, 0.0)) == pytest.approx(curve(x), abs=1e-8)


def test_curve_may_start_anywhere_and_close_at_any_height():
    stations, heights = LENGTH * np.linspace(0.0, 1.0, 9), half_ellipse(LENGTH * np.linspace(0.0, 1.0, 9))
    heights[-1] = 0.0
    plain = DrawnCurve(stations, heights, LENGTH)
    moved = DrawnCurve(stations + 0.01, heights + 0.003, LENGTH, start=0.01, closes=(0.003, 0.003))
    x = np.linspace(0.0, LENGTH, 101)[1:-1]
    assert moved(x + 0.01) - 0.003 == pytest.approx(plain(x), abs=1e-4 * HEIGHT)


@settings(deadline=None, max_examples=40)
@given(drawings())
def test_slope_is_the_change_per_metre(curve):
    x = np.linspace(0.02 * LENGTH, 0.98 * LENGTH, 53)
    x = x[np.abs(x[:, None] - curve.stations).min(axis=1) > 2e-6]
    step = 1e-6
    assert curve.slope(x) == pytest.approx((curve(x + step) - curve(x - step)) / (2 * step), rel=1e-4, abs=1e-5)


def test_slope_has_no_bound_at_a_round_tip_and_is_never_no_number():
    stations = LENGTH * np.linspace(0.0, 1.0, 9)
    heights = half_ellipse(stations)
    heights[-1] = 0.0
    nose, tail = DrawnCurve(stations, heights, LENGTH).slope(np.array([0.0, LENGTH]))
    assert nose == np.inf
    assert tail == -np.inf
    nothing = DrawnCurve(stations, np.zeros(9), LENGTH)
    assert nothing.slope(np.array([0.0, LENGTH])).tolist() == [0.0, 0.0]


# ---- refusals ------------------------------------------------------------------------------------------------------


def test_all_faults_of_the_points_are_told_at_once():
    stations = np.array([5.0, 40.0, 40.0, 30.0, 160.0]) * 1e-3
    with pytest.raises(BadDesign) as caught:
        DrawnCurve(stations, np.full(5, 0.01), LENGTH)
    order = "write the points in order from nose to tail"
    assert str(caught.value).splitlines() == [
        "the points do not make a curve:",
        "  point 1: is 5 mm from the nose; draw the first at 0 mm",
        f"  point 3: at 40 mm does not lie aft of the one before it at 40 mm; {order}",
        f"  point 4: at 30 mm does not lie aft of the one before it at 40 mm; {order}",
        "  point 5: is at 160 mm and the body ends at 165 mm; draw the last point there",
    ]


def test_one_point_and_no_number_are_refused():
    with pytest.raises(BadDesign, match="draw at least two, one at each end"):
        DrawnCurve(np.array([0.0]), np.array([0.01]), LENGTH)
    with pytest.raises(BadDesign, match="point 2: is not a number"):
        DrawnCurve(np.array([0.0, LENGTH]), np.array([0.01, np.nan]), LENGTH)


def test_points_are_frozen_and_stations_off_the_body_are_our_bug():
    curve = DrawnCurve(np.array([0.0, LENGTH]), np.array([0.01, 0.02]), LENGTH)
    with pytest.raises(ValueError, match="read-only"):
        curve.heights[0] = 1.0
    with pytest.raises(ValueError, match="off the body"):
        curve(np.array([LENGTH * 1.001]))
    with pytest.raises(ValueError, match="off the body"):
        curve(np.array([np.nan]))
    with pytest.raises(ValueError, match="same length"):
        DrawnCurve(np.array([0.0, LENGTH]), np.array([0.01]), LENGTH)


# ---- the other curves ----------------------------------------------------------------------------------------------


def test_formula_constant_and_scaled_curves():
    x = np.linspace(0.0, 1.0, 5)
    line = AnalyticCurve(lambda s: 2.0 * s, lambda s: np.full(s.shape, 2.0), (0.5,))
    assert ScaledCurve(line, -3.0)(x) == pytest.approx(-6.0 * x)
    assert ScaledCurve(line, -3.0).slope(x) == pytest.approx(np.full(5, -6.0))
    assert ScaledCurve(line, -3.0).breaks == (0.5,)
    assert ConstantCurve(4.0)(x).tolist() == [4.0] * 5
    assert ConstantCurve(4.0).slope(x).tolist() == [0.0] * 5


def test_held_curve_follows_whichever_bound_it_would_pass():
    x = np.array([0.1, 0.5, 0.9])
    line = AnalyticCurve(lambda s: 2.0 * s, lambda s: np.full(s.shape, 2.0), (0.3,))
    held = HeldCurve(line, ConstantCurve(0.6, (0.2,)), ConstantCurve(1.4))
    assert held(x) == pytest.approx([0.6, 1.0, 1.4])
    assert held.slope(x) == pytest.approx([0.0, 2.0, 0.0])
    assert held.breaks == (0.2, 0.3)
