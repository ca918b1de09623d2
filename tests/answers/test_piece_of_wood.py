"""A lure on its board: sizes by hand, flats by geometry, flaws steered clear of, blanks counted, cuts in order."""

import math
from pathlib import Path

import numpy as np
import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.boarding import Cutting, blanks_from
from gudgeon.answers.finding import Gravity
from gudgeon.answers.jointing import jointing
from gudgeon.answers.piece_of_wood import piece_of_wood
from gudgeon.design.file import load, parse
from gudgeon.errors import NoAnswer
from gudgeon.units import INCH

EXAMPLES = Path(__file__).parents[2] / "examples"
BODY = """
name = "Trial"
length = "100 mm"
[outline]
back = ["0 mm: 15 mm", "50 mm: 15 mm", "100 mm: 15 mm"]
side = ["0 mm: 10 mm", "50 mm: 10 mm", "100 mm: 10 mm"]
[wood]
density = "0.4 g/cm3"
[water]
temperature = "20 C"
[aim]
does = "floats"
reserve = "20 %"
"""
JOINT = '[[joint]]\nat = "60 mm"\ngap = "3 mm"\n'
EYE = (
    '[[fitting]]\nname = "belly eye"\nkind = "screw eye"\nweight = "1 g"\nmaterial = "steel"\nat = "30 mm"\n'
    'height = "-15 mm"\nshank = "12 mm"\n'
)


def _board(length=200, width=50, thickness=40, **others):
    keys = {"length": length, "width": width, "thickness": thickness, **others}
    return "[board]\n" + "\n".join(f'{key} = "{value} mm"' for key, value in keys.items()) + "\n"


def _flaw(what="knot", **sizes):
    keys = "\n".join(f'{key} = "{value} mm"' for key, value in sizes.items())
    return f'[[board.flaw]]\nwhat = "{what}"\n{keys}\n'


def _answer(*tables):
    design = parse(BODY + "\n".join(tables))
    return piece_of_wood(design, assemble(design))


def _words(answer, gravity):
    return [finding.words for finding in answer.findings if finding.gravity is gravity]


def test_without_a_board_there_is_no_answer():
    with pytest.raises(NoAnswer, match="no piece of wood is told"):
        _answer()


def test_the_stock_needed_is_the_body_its_allowances_and_its_square_ends():
    need = _answer(_board()).need
    assert (need.length, need.side, need.top) == pytest.approx((0.120, 0.036, 0.026))
    assert need.laid_apart == pytest.approx(need.length)


def test_stock_is_for_the_bare_body_not_the_finished_one():
    coat = '[[coat]]\nname = "clear"\nthickness = "0.5 mm"\ndensity = "1.1 g/cm3"\n'
    answer = _answer(_board(), coat)
    assert (answer.length, answer.depth, answer.width) == pytest.approx((0.099, 0.029, 0.019), abs=1e-5)


def test_a_thin_saw_in_a_wide_gap_costs_no_length_and_a_thick_one_the_difference():
    thin, thick = _answer(_board(kerf=2), JOINT), _answer(_board(kerf=4.5), JOINT)
    assert thin.need.length == pytest.approx(0.120)
    assert thick.need.length == pytest.approx(0.1215)
    assert thin.need.laid_apart == pytest.approx(0.120 + 0.25 * INCH + 0.002)
    assert any("use a thinner saw" in words for words in _words(thick, Gravity.WATCH))
    assert not any("thinner saw" in words for words in _words(thin, Gravity.WATCH))


def test_a_tongue_costs_its_length_and_the_saw():
    tongue = JOINT + 'face = "tongue"\ntongue_length = "8 mm"\ntongue_width = "6 mm"\n'
    assert _answer(_board(), tongue).need.length == pytest.approx(0.120 + 0.008 + 0.002)


def test_the_length_laid_apart_is_what_the_joints_answer_adds():
    design = parse(BODY + JOINT + _board())
    lure = assemble(design)
    need = piece_of_wood(design, lure).need
    assert need.laid_apart == pytest.approx(lure.bare_hull.length + 0.020 + jointing(design, lure).kerf)


def test_a_board_that_is_large_enough_leaves_what_is_over():
    fit = _answer(_board(width=50, thickness=30)).fit
    assert (fit.spare_side, fit.spare_top, fit.spare_length) == pytest.approx((0.010, 0.005, 0.080))
    assert not fit.flats


def test_a_board_lying_on_its_side_is_found_to_fit():
    answer = _answer(_board(width=28, thickness=40))
    assert answer.fit.way.side_on == "thickness"
    assert answer.fits


@pytest.mark.parametrize(("far", "nose_first"), [(24, True), (60, True)])
def test_a_taper_puts_the_lure_in_the_thick_end(far, nose_first):
    answer = _answer(_board(length=300, width=40, far_width=far, thickness=40))
    assert answer.fits
    half = 0.5 * (0.040 + (far - 40) * 1e-3 * answer.fit.way.start / 0.300)
    assert half >= 0.015
    assert answer.fit.way.nose_first is nose_first


def test_a_deep_head_goes_to_the_wide_end_of_a_taper():
    wedge = BODY.replace('"50 mm: 15 mm", "100 mm: 15 mm"', '"50 mm: 11 mm", "100 mm: 7 mm"')
    for near, far, nose_first in ((38, 22, True), (22, 38, False)):
        design = parse(wedge + _board(length=121, width=near, far_width=far, thickness=40))
        answer = piece_of_wood(design, assemble(design))
        assert answer.fits
        assert answer.fit.way.nose_first is nose_first
        assert answer.fit.way.side_on == "width"


def test_a_thin_board_leaves_flats_as_deep_as_what_it_lacks_on_each_side():
    answer = _answer(_board(width=50, thickness=17))
    (flat,) = answer.fit.flats
    assert flat.face == "both sides"
    assert flat.depth == pytest.approx(0.0015, abs=1e-9)
    assert (flat.start, flat.stop) == pytest.approx((0.0, 0.1), abs=1e-6)
    # an ellipse 30 by 20 mm: at 8.5 of 10 mm out it is 30 sqrt(1 - 0.85^2) high
    assert flat.wide == pytest.approx(0.030 * math.sqrt(1.0 - 0.85**2), rel=1e-6)
    assert not answer.fits
    assert any("a flat on both sides" in words for words in _words(answer, Gravity.WRONG))


def test_a_board_too_narrow_for_the_depth_leaves_flats_on_back_and_belly():
    flats = {flat.face: flat for flat in _answer(_board(width=26, thickness=24)).fit.flats}
    assert set(flats) == {"back", "belly"}
    for flat in flats.values():
        assert flat.depth == pytest.approx(0.002, abs=1e-9)
        assert flat.wide == pytest.approx(0.020 * math.sqrt(1.0 - (13 / 15) ** 2), rel=1e-6)


def test_a_flat_on_a_taper_runs_from_where_the_board_is_just_thick_enough():
    answer = _answer(_board(length=120, width=50, thickness=26, far_thickness=14))
    (flat,) = answer.fit.flats
    # 20 mm of board stand 60 mm from its first end: 50 mm from the nose
    edge = flat.start if answer.fit.way.nose_first else flat.stop
    assert edge == pytest.approx(0.050, abs=1e-5)
    thinnest = 26 - 12 * 110 / 120
    assert flat.depth == pytest.approx(0.5e-3 * (20 - thinnest), abs=1e-6)


def test_a_board_without_its_allowance_is_watched_not_refused():
    answer = _answer(_board(width=32, thickness=28))
    assert answer.fits
    assert any("wanted for shaping" in words for words in _words(answer, Gravity.WATCH))


def test_a_thin_board_gives_the_blank_and_its_own_face_stays():
    """24 mm of board over 20 mm of body: 2 mm on each side where 3 mm is wanted."""
    answer = _answer(_board(thickness=24))
    assert (answer.stock.side, answer.stock.top) == pytest.approx((0.036, 0.024))
    assert (answer.need.over_side, answer.need.over_top, answer.need.top) == pytest.approx((0.003, 0.002, 0.026))
    planed, weighed = answer.steps[1].words, answer.steps[2].numbers["weight"][0]
    assert planed.startswith("Do not plane the sides")
    assert weighed.value == pytest.approx(400 * 0.120 * 0.036 * 0.024)  # kg: 0.4 g/cm3 of 120 x 36 x 24 mm
    assert _answer(_board()).steps[1].words.startswith("Plane the left side flat")


def test_a_board_that_tapers_gives_a_blank_with_even_sides():
    """From 26 mm thick to 22 over 240 mm, the blank 120 mm long: 24 mm where it ends, so 2 mm over on each side."""
    answer = _answer(_board(length=240, thickness=26, far_thickness=22))
    assert answer.stock.top == pytest.approx(0.024)
    assert any("wanted for shaping" in words for words in _words(answer, Gravity.WATCH))


def test_a_board_with_next_to_nothing_over_is_wrong_and_another_is_told():
    answer = _answer(_board(thickness=20.6))
    assert not answer.fits
    assert any("just comes out" in words for words in _words(answer, Gravity.WRONG))
    would = next(one for one in answer.findings if "would do" in one.words)
    assert [value for value, _ in would.numbers.values()] == pytest.approx([0.120, 0.036, 0.026])
    assert answer.steps[0].words.startswith("Not from the board in this file")
    assert answer.stock.top == pytest.approx(0.026)


@pytest.mark.parametrize(("length", "words"), [(118, "with shorter square ends it would do"), (90, "too short")])
def test_a_short_board_is_wrong_by_what_it_lacks(length, words):
    answer = _answer(_board(length=length))
    found = [finding for finding in answer.findings if words in finding.words]
    assert found[0].gravity is Gravity.WRONG
    assert found[0].numbers["short"][0] == pytest.approx(1e-3 * (120 - length))
    assert not answer.fits


def test_a_flaw_that_can_be_passed_is_passed():
    for at in (30, 80, 100, 120, 170):
        answer = _answer(_board(length=250), _flaw(at=at, long=4))
        assert not answer.fit.hits, at


def test_a_knot_near_one_edge_is_passed_sideways():
    answer = _answer(_board(length=121, width=60), _flaw(at=60, long=6, across=10, wide=20))
    assert not answer.fit.hits
    assert answer.fit.way.across > 0.0


def test_a_crack_across_the_board_is_put_into_the_joints_gap():
    answer = _answer(_board(length=122), JOINT, _flaw("crack", at=71, long=1))
    (hit,) = answer.fit.hits
    assert hit.words == "in the gap of joint 1"
    assert any("most of it is cut away" in words for words in _words(answer, Gravity.NOTE))
    assert not _words(answer, Gravity.WRONG)


def test_a_crack_is_turned_end_for_end_into_the_gap():
    answer = _answer(_board(length=120), JOINT, _flaw("crack", at=50, long=1))
    assert answer.fit.way.nose_first is False
    assert answer.fit.hits[0].words == "in the gap of joint 1"


def test_a_knot_at_a_hanger_is_wrong_and_the_board_is_turned_over_where_that_helps():
    knot = _flaw(at=40, long=6, across=9, wide=8)
    answer = _answer(_board(length=120, width=36, thickness=26), EYE, knot)
    assert answer.fit.hits
    assert "belly eye" not in answer.fit.hits[0].words
    rear = EYE.replace("belly eye", "rear eye").replace("30 mm", "70 mm")
    small = _board(length=120, width=36, thickness=26)
    both = _answer(small, EYE, rear, _flaw(at=40, long=6), _flaw(at=80, long=6))
    (first, second) = both.fit.hits
    assert {first.words, second.words} == {"at the belly eye", "at the rear eye"}
    assert len([words for words in _words(both, Gravity.WRONG) if "No other way" in words]) == 2


def test_a_hit_is_told_where_it_is_on_the_lure():
    answer = _answer(_board(length=120, width=36), _flaw(at=70, long=6, across=18, wide=6))
    (hit,) = answer.fit.hits
    centre = 0.060 if answer.fit.way.nose_first else 0.040
    assert (hit.start, hit.stop) == pytest.approx((centre - 0.003, centre + 0.003), abs=1e-6)
    assert (hit.low, hit.high) == pytest.approx((-0.003, 0.003), abs=1e-6)
    assert any("in plain wood" in words for words in _words(answer, Gravity.WATCH))


def test_a_crack_in_plain_wood_is_wrong():
    answer = _answer(_board(length=120, width=36), _flaw("crack", at=60, long=60, across=18, wide=1))
    assert any("goes on opening" in words for words in _words(answer, Gravity.WRONG))


def test_blanks_are_counted_as_the_bench_sum_counts_them():
    rng = np.random.default_rng(3)
    for _ in range(60):
        length, width, thick = rng.uniform(60, 700), rng.uniform(20, 160), rng.uniform(20, 80)
        answer = _answer(_board(length=round(length, 1), width=round(width, 1), thickness=round(thick, 1)))
        board = answer.board
        cutting = Cutting((board.length, board.width, board.thickness),
                          (answer.need.length, answer.need.side, answer.need.top), board.kerf)  # fmt: skip
        assert (0 if answer.count.is_tight else answer.count.count) == blanks_from(cutting)


def test_a_taper_costs_blanks_only_where_it_is_narrow():
    # two side by side need 2 x 36 + 2 = 74 mm; three lengths of 120 fit, of 122 with the saw
    answer = _answer(_board(length=366, width=90, far_width=60, thickness=30))
    assert answer.count.count == 1 * 2 + 1 + 1


def test_a_board_that_just_holds_one_gives_one():
    answer = _answer(_board(125, 31, 21))  # 30 x 20 mm of body, without its allowance all round
    assert answer.fits
    assert (answer.count.count, answer.count.along, answer.count.clear, answer.count.is_tight) == (1, 1, 1, True)
    flawed = _answer(_board(125, 31, 21), _flaw(at=60, long=4))
    assert (flawed.count.count, flawed.count.clear) == (1, 0)
    short = _answer(_board(90, 31, 21))
    assert not short.fits
    assert (short.count.count, short.count.is_tight) == (0, False)


def test_flawed_blanks_are_counted_apart():
    answer = _answer(_board(length=366, width=80, thickness=30), _flaw(at=60, long=10, across=10, wide=6))
    assert (answer.count.count, answer.count.clear) == (6, 5)
    assert any("one of them is touched" in words for words in _words(answer, Gravity.NOTE))


def test_the_order_keeps_the_blank_square_while_it_is_drilled():
    for name in ("lanternmere", "diver", "glider"):
        design = load(EXAMPLES / f"{name}.toml")
        design = design.model_copy(update={"board": parse(BODY + _board(400, 80, 60)).board})
        steps = piece_of_wood(design, assemble(design)).steps
        whens = [step.when for step in steps]
        assert whens == sorted(whens, key=["square", "profiles", "shaped", "apart", "after the tub"].index)
        told = " ".join(step.words for step in steps)
        assert (
            told.index("Crosscut") < told.index("centre line") < told.index("side profile") < told.index("top profile")
        )
        assert ("lip's slot" in told) == (design.lip is not None)
        assert ("Saw the joints" in told) == bool(design.joints)
        for step in steps:
            step.words.format(**dict.fromkeys(step.numbers, "1 mm"))


def test_a_name_with_braces_is_only_a_name():
    small = _board(length=120, width=36, thickness=26)
    answer = _answer(small, EYE.replace("belly eye", "{eye}"), _flaw(at=40, long=6), _flaw(at=80, long=6))
    assert any("{eye}" in finding.words.format(x=1, low=1, high=1) for finding in answer.findings if finding.numbers)
    for finding in answer.findings:
        finding.words.format(**dict.fromkeys(finding.numbers, "1 mm"))
