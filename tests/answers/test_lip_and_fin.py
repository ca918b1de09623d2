"""Lip, fin and tow eye: slots, areas and weights by hand, and every warning drawn on purpose."""

import math

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.finding import Gravity
from gudgeon.answers.lip_and_fin import lip_and_fin
from gudgeon.design.file import parse
from gudgeon.physics.portion import portion

BODY = """
name = "Trial"
length = "100 mm"
[outline]
back = ["0 mm: 15 mm", "50 mm: 15 mm", "100 mm: 15 mm"]
side = ["0 mm: 10 mm", "50 mm: 10 mm", "100 mm: 10 mm"]
fullness = 12
[wood]
density = "0.4 g/cm3"
[water]
temperature = "20 C"
[aim]
does = "floats"
reserve = "20 %"
"""
LIP = {
    "material": '"polycarbonate"', "exposed": '"20 mm"', "set_in": '"14 mm"', "width": '"24 mm"',
    "thickness": '"2 mm"', "angle": '"45 deg"', "at": '"10 mm"', "height": '"-15 mm"', "shape": '"square"',
}  # fmt: skip


def _lip(**changed):
    return "[lip]\n" + "\n".join(f"{key} = {value}" for key, value in {**LIP, **changed}.items()) + "\n"


def _answer(*tables):
    design = parse(BODY + "\n".join(tables))
    lure = assemble(design)
    return lip_and_fin(design, lure), lure


def _words(answer, gravity):
    return [finding.words for finding in answer.findings if finding.gravity is gravity]


def test_a_lip_drawn_on_the_skin_has_the_slot_and_the_area_it_is_drawn_with():
    answer, lure = _answer(_lip())
    lip = answer.lip
    step = 0.014 * math.sqrt(0.5)
    assert lip.slot.mouth == pytest.approx((0.010, -0.015), abs=1e-9)
    assert lip.slot.end == pytest.approx((0.010 + step, -0.015 + step), abs=1e-9)
    assert (lip.slot.depth, lip.slot.width) == (pytest.approx(0.014), pytest.approx(0.0022))
    assert lip.area == pytest.approx(0.020 * 0.024, rel=1e-6)
    assert lip.projected == pytest.approx(lip.area * math.sqrt(0.5), rel=1e-9)
    volume, density = 0.034 * 0.024 * 0.002, 1200.0
    assert lip.mass == pytest.approx(volume * density, rel=1e-6)
    wet = volume * density - lure.water.density * volume * 20 / 34 - 400.0 * volume * 14 / 34
    assert lip.in_water == pytest.approx(wet, rel=1e-6)
    assert (lip.width_share, lip.shows_share) == (pytest.approx(1.2, rel=1e-6), pytest.approx(0.2))
    assert lip.width_words == "a wide wobble"
    assert lip.angle_words == "a medium runner's angle"
    assert lip.cuts_through
    assert not _words(answer, Gravity.WRONG)


def test_the_angle_is_nothing_straight_ahead_and_ninety_straight_down():
    ahead, _ = _answer(_lip(angle='"0 deg"', at='"0 mm"', height='"0 mm"'))
    down, _ = _answer(_lip(angle='"90 deg"', at='"30 mm"'))
    assert ahead.lip.slot.end == pytest.approx((0.014, 0.0), abs=1e-9)
    assert ahead.lip.projected == pytest.approx(0.0)
    assert down.lip.slot.end == pytest.approx((0.030, -0.001), abs=1e-9)
    assert down.lip.projected == pytest.approx(down.lip.area)


@pytest.mark.parametrize(("sunk", "where"), [(3.0, "still in the wood"), (-3.0, "out of the wood already")])
def test_a_lip_drawn_off_the_skin_shows_what_it_really_shows(sunk, where):
    answer, _ = _answer(_lip(height=f'"{-15 + sunk} mm"', at='"20 mm"'))
    out = sunk / math.sqrt(0.5) * 1e-3
    assert answer.lip.shows == pytest.approx(0.020 - out, abs=1e-6)
    assert answer.lip.slot.depth == pytest.approx(0.014 + out, abs=1e-6)
    assert any(where in words for words in _words(answer, Gravity.NOTE))


def test_wood_over_a_slot_and_a_slot_through_the_back():
    thin, _ = _answer(_lip(set_in='"39.5 mm"'))
    left = 0.030 - 0.0395 * math.sqrt(0.5)
    assert thin.lip.wood_over == pytest.approx(left, abs=2e-5)
    assert any("of wood is left between" in words for words in _words(thin, Gravity.WATCH))
    through, _ = _answer(_lip(set_in='"50 mm"'))
    assert through.lip.wood_over == pytest.approx(0.030 - 0.050 * math.sqrt(0.5), abs=1e-9)
    assert any("comes out through the back" in words for words in _words(through, Gravity.WRONG))


@pytest.mark.parametrize(("changed", "words"), [
    ({"at": '"10 mm"', "height": '"-60 mm"', "exposed": '"10 mm"'}, "nowhere in the wood"),
    ({"at": '"80 mm"', "height": '"10 mm"', "angle": '"10 deg"'}, "never leaves the wood"),
])  # fmt: skip
def test_a_lip_that_is_not_in_the_body_or_not_out_of_it_is_wrong(changed, words):
    answer, _ = _answer(_lip(**changed))
    assert any(words in told for told in _words(answer, Gravity.WRONG))


def _eye(**changed):
    eye = {"name": '"tow eye"', "kind": '"tow eye"', "weight": '"1 g"', "material": '"stainless steel"', "at": '"0 mm"',
           "height": '"-8 mm"', **changed}  # fmt: skip
    return "[[fitting]]\n" + "\n".join(f"{key} = {value}" for key, value in eye.items()) + "\n"


@pytest.mark.parametrize(("changed", "words"), [
    ({"set_in": '"8 mm"'}, "is the habit for a lip that is to hold"),
    ({"width": '"34 mm"'}, "needs deep ballast"),
])  # fmt: skip
def test_habits_that_matter_are_watched(changed, words):
    answer, _ = _answer(_lip(**changed))
    assert any(words in told for told in _words(answer, Gravity.WATCH))


@pytest.mark.parametrize(("changed", "words"), [
    ({"exposed": '"40 mm"'}, "longer than"),
    ({"thickness": '"0.8 mm"'}, "thinner than"),
    ({"thickness": '"8 mm"'}, "thicker than"),
])  # fmt: skip
def test_habits_of_taste_are_noted(changed, words):
    answer, _ = _answer(_lip(**changed))
    assert any(words in told for told in _words(answer, Gravity.NOTE))


FIN = """
[fin]
material = "polycarbonate"
length = "20 mm"
tall = "24 mm"
thickness = "1.5 mm"
at = "100 mm"
set_in = "10 mm"
height = "2 mm"
fill = "70 %"
"""


def test_a_fin_by_hand():
    answer, lure = _answer(FIN)
    fin = answer.fin
    assert fin.area == pytest.approx(0.020 * 0.024 * 0.7)
    assert fin.side_share == pytest.approx(fin.area / (0.100 * 0.030), rel=1e-6)
    free, held = fin.area * 0.0015, 0.010 * 0.012 * 0.0015
    assert fin.mass == pytest.approx(1200.0 * (free + held))
    assert fin.in_water == pytest.approx(fin.mass - lure.water.density * free - 400.0 * held)
    assert (fin.slot.depth, fin.slot.wide, fin.slot.width) == pytest.approx((0.010, 0.012, 0.0017))
    assert fin.slot.end == pytest.approx((0.090, 0.002))


@pytest.mark.parametrize(("old", "new", "words"), [
    ('set_in = "10 mm"', "", "no slot to hold it"),
    ('tall = "24 mm"', 'tall = "62 mm"', "higher than the body there"),
    ('length = "20 mm"', 'length = "50 mm"', "larger than the"),
    ('length = "20 mm"', 'length = "8 mm"', "smaller than the"),
    ('thickness = "1.5 mm"', 'thickness = "16 mm"', "on each side of the fin's slot"),
])  # fmt: skip
def test_what_is_odd_about_a_fin_is_told(old, new, words):
    answer, _ = _answer(FIN.replace(old, new))
    assert any(words in finding.words for finding in answer.findings)


def test_a_body_the_same_above_and_below_balances_about_its_nose():
    answer, lure = _answer(_eye(height='"0 mm"'))
    tow = answer.tow
    assert tow.symmetric
    assert tow.moment == pytest.approx(0.0, abs=1e-12)
    assert tow.centre == pytest.approx((0.050, 0.0), abs=1e-9)
    assert tow.above.area + tow.below.area == pytest.approx(portion(lure.hull, 0.0, 0.1).side_area)
    assert tow.low == pytest.approx(-0.003)


def test_the_moment_is_area_times_the_height_of_its_centre_over_the_eye():
    tow = _answer(_eye(height='"-8 mm"'))[0].tow
    assert tow.moment == pytest.approx(0.100 * 0.030 * 0.008, rel=1e-9)
    assert tow.above.area == pytest.approx(0.100 * 0.023, rel=1e-9)
    assert tow.below.height == pytest.approx(-0.0115)


def test_a_fin_off_the_middle_moves_the_centre_by_its_share():
    tow, fin = _answer(_eye(height='"0 mm"'), FIN)[0].tow, 0.020 * 0.024 * 0.7
    assert tow.centre[1] == pytest.approx(fin * 0.002 / (fin + 0.003), rel=1e-9)
    assert tow.moment == pytest.approx(fin * 0.002, rel=1e-9)


@pytest.mark.parametrize(("height", "words"), [
    ("4 mm", "above the nose tip"), ("-6 mm", "below the nose tip"), ("-6 mm", "each turn sideways also rolls it"),
])  # fmt: skip
def test_a_lipless_lure_is_told_of_an_eye_off_its_place(height, words):
    answer, _ = _answer(_eye(height=f'"{height}"'))
    assert any(words in told for told in _words(answer, Gravity.NOTE))
    with_lip, _ = _answer(_eye(height=f'"{height}"', shank='"4 mm"'), _lip())
    assert not any(words in finding.words for finding in with_lip.findings)


def test_without_a_tow_eye_the_place_for_one_is_named():
    answer, _ = _answer()
    assert answer.tow.eye is None
    assert any("goes on the nose tip" in words for words in _words(answer, Gravity.NOTE))
    belly = '[outline]\nbelly = ["0 mm: 15 mm", "50 mm: 25 mm", "100 mm: 15 mm"]'
    design = parse(BODY.replace("[outline]", belly))
    lopsided = lip_and_fin(design, assemble(design))
    assert not lopsided.tow.symmetric
    assert lopsided.tow.centre[1] < -0.002
    assert any("height of the side view's centre" in finding.words for finding in lopsided.findings)
