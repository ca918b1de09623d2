"""Lips and fins as outlines: areas and centres by closed form, cuts that lose nothing, distances."""

import math

import pytest
from shapely.geometry import Polygon

from gudgeon.errors import NoAnswer
from gudgeon.physics.plate import Plate, cut_at, fin_plate, fin_tang, lip_plate

LIP = {"exposed": 0.022, "set_in": 0.013, "width": 0.019}


def test_a_square_lip_is_its_box():
    lip = lip_plate("square", **LIP)
    assert lip.area == pytest.approx(0.035 * 0.019, rel=1e-12)
    assert lip.centre == pytest.approx((0.5 * (0.022 - 0.013), 0.0), abs=1e-12)


def test_a_round_lip_is_a_box_and_half_a_circle():
    lip, half = lip_plate("round", **LIP), 0.0095
    box, bow = (0.035 - half) * 0.019, 0.5 * math.pi * half**2
    assert lip.area == pytest.approx(box + bow, rel=1e-4)
    bow_centre = 0.022 - half + 4.0 * half / (3.0 * math.pi)
    box_centre = 0.5 * (0.022 - half - 0.013)
    assert lip.centre[0] == pytest.approx((box * box_centre + bow * bow_centre) / (box + bow), rel=1e-4)


def test_a_round_lip_of_which_little_shows_ends_in_half_an_ellipse():
    lip = lip_plate("round", exposed=0.005, set_in=0.010, width=0.030)
    assert lip.area == pytest.approx(0.010 * 0.030 + 0.5 * math.pi * 0.005 * 0.015, rel=1e-4)
    shown = lip.beyond(0.0, 0)
    assert shown is not None
    assert shown.area == pytest.approx(0.5 * math.pi * 0.005 * 0.015, rel=1e-4)


def test_a_coffin_lip_loses_two_corners():
    lip = lip_plate("coffin", **LIP)
    assert lip.area == pytest.approx(0.035 * 0.019 - 0.3 * 0.022 * 0.4 * 0.0095, rel=1e-12)


@pytest.mark.parametrize("shape", ["square", "coffin", "round"])
def test_every_lip_is_a_sound_outline_the_same_left_and_right(shape):
    lip = lip_plate(shape, **LIP)
    polygon = Polygon(lip.outline)
    assert polygon.is_valid
    assert polygon.exterior.is_ccw
    assert polygon.area == pytest.approx(lip.area, rel=1e-12)
    assert lip.centre[1] == pytest.approx(0.0, abs=1e-15)
    low, high = lip.outline.min(axis=0), lip.outline.max(axis=0)
    assert (low, high) == (pytest.approx([-0.013, -0.0095]), pytest.approx([0.022, 0.0095]))


@pytest.mark.parametrize("fill", [0.01, 0.1, 0.2999, 0.3, 0.55, 0.6, 0.7, 0.75, 0.8, 0.999, 1.0])
def test_a_fin_has_the_share_asked_for_within_its_box(fill):
    fin = fin_plate(length=0.038, tall=0.040, fill=fill)
    polygon = Polygon(fin.outline)
    assert polygon.is_valid
    assert polygon.exterior.is_ccw
    assert fin.area == pytest.approx(0.038 * 0.040 * fill, rel=1e-12)
    assert fin.centre[1] == pytest.approx(0.0, abs=1e-15)
    assert polygon.bounds == pytest.approx((0.0, -0.020, 0.038, 0.020))


@pytest.mark.parametrize("fill", [0.0, -0.1, 1.01])
def test_a_share_that_is_none_is_refused(fill):
    with pytest.raises(NoAnswer, match="cannot be cut"):
        fin_plate(length=0.038, tall=0.040, fill=fill)


def test_a_tang_is_half_as_tall_as_its_fin():
    tang = fin_tang(set_in=0.008, tall=0.040)
    assert tang is not None
    assert tang.area == pytest.approx(0.008 * 0.020)
    assert tang.centre == pytest.approx((-0.004, 0.0))
    assert fin_tang(set_in=0.0, tall=0.040) is None


@pytest.mark.parametrize("level", [-0.015, -0.004, 0.0, 0.007, 0.012])
def test_a_cut_loses_neither_area_nor_moment(level):
    fin = fin_plate(length=0.038, tall=0.040, fill=0.45)
    above, below = fin.beyond(level, 1), fin.short_of(level, 1)
    assert above is not None
    assert below is not None
    assert above.area + below.area == pytest.approx(fin.area, rel=1e-12)
    moment = above.area * above.centre[1] + below.area * below.centre[1]
    assert moment == pytest.approx(fin.area * fin.centre[1], abs=1e-15)


def test_a_cut_past_the_plate_leaves_all_or_nothing():
    lip = lip_plate("square", **LIP)
    assert lip.beyond(0.05, 0) is None
    assert lip.short_of(-0.05, 0) is None
    whole = lip.beyond(-0.05, 0)
    assert whole is not None
    assert whole.area == pytest.approx(lip.area)
    assert cut_at(lip.outline, 0.05, 0).shape == (0, 2)


def test_an_outline_cannot_be_written_to():
    with pytest.raises(ValueError, match="read-only"):
        Plate(lip_plate("round", **LIP).outline).outline[0, 0] = 1.0
