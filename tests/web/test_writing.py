"""Acts of the hand as they come to stand in the file: in the maker's units, every other line untouched."""

import difflib
import math
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.design.file import parse
from gudgeon.errors import BadDesign
from gudgeon.units import LENGTH, read
from gudgeon.web.writing import drawn, length


def changed(before, after):
    """Lines that came, and lines that went."""
    lines = list(difflib.ndiff(before.splitlines(), after.splitlines()))
    return [line[2:] for line in lines if line[0] == "-"], [line[2:] for line in lines if line[0] == "+"]


@pytest.mark.parametrize(
    ("metres", "like", "inch", "words"),
    [
        (0.0194, "20 mm", True, "19.4 mm"),
        (0.019449, "20 mm", False, "19.45 mm"),
        (0.0194, "2 cm", False, "19.4 mm"),
        (0.0254 * 0.75, '1 1/2"', False, "3/4 in"),
        (0.0254 * 2.171875, "1 in", False, "2 11/64 in"),
        (0.0254 * 0.7512, "1 in", False, "0.7512 in"),
        (0.0254, "", True, "1 in"),
        (0.0254, "", False, "25.4 mm"),
        (-1e-9, "1 mm", False, "0 mm"),
        (-1e-9, "1 in", False, "0 in"),
        (-0.003, "0 mm", False, "-3 mm"),
        (-0.0254 * 0.375, "1 in", False, "-3/8 in"),
    ],
)
def test_a_length_is_written_in_the_unit_that_stood_there(metres, like, inch, words):
    assert length(metres, like, inch) == words


@given(st.floats(1e-4, 1.0), st.sampled_from(["1 mm", "1 in", ""]), st.booleans())
def test_a_length_is_read_as_it_was_drawn(metres, like, inch):
    assert math.isclose(read(length(metres, like, inch), LENGTH), metres, abs_tol=6e-6)


def test_a_point_is_moved_and_its_comment_stays(small):
    after = drawn(small, [{"act": "point", "curve": "back", "place": 3, "station": 0.031, "out": 0.0152}], False)
    assert changed(small, after) == (['  "30 mm: 14 mm",   # highest'], ['  "31 mm: 15.2 mm",   # highest'])


def test_points_are_added_and_dropped(small):
    more = drawn(small, [{"act": "add point", "curve": "back", "place": 4, "station": 0.045, "out": 0.012}], False)
    assert changed(small, more) == ([], ['  "45 mm: 12 mm",'])
    assert drawn(more, [{"act": "drop point", "curve": "back", "place": 4}], False) == small


@pytest.mark.parametrize("act", [
    {"act": "drop point", "curve": "back", "place": 1}, {"act": "drop point", "curve": "back", "place": 5},
    {"act": "drop point", "curve": "back", "place": 9}, {"act": "drop point", "curve": "belly", "place": 2},
    {"act": "add point", "curve": "back", "place": 1, "station": 0.0, "out": 0.0},
    {"act": "add point", "curve": "back", "place": 6, "station": 0.1, "out": 0.0},
    {"act": "point", "curve": "back", "place": 6, "station": 0.1, "out": 0.0},
    {"act": "point", "curve": "side", "place": 2, "station": float("nan"), "out": 0.0},
    {"act": "point", "curve": "side", "place": 2, "station": float("inf"), "out": 0.0},
    {"act": "point", "curve": "side", "place": 2, "station": True, "out": 0.0},
    {"act": "point", "curve": "side", "place": 2, "station": None, "out": 0.0},
    {"act": "point", "curve": "side", "place": 2.0, "station": 0.01, "out": 0.0},
    {"act": "point", "curve": "side", "place": -1, "station": 0.01, "out": 0.0},
    {"act": "point", "curve": "fullness", "place": 1, "station": 0.01, "out": 0.0},
    {"act": "move", "table": "hook", "place": 2, "at": 0.1}, {"act": "move", "table": "lip", "at": 0.1},
    {"act": "move", "table": "wood", "place": 1, "at": 0.1}, {"act": "fly"}, "point", None, 3, {"act": ["point"]},
    {"act": "take out", "table": "hook", "place": 2}, {"act": "put in", "table": "hinge", "at": 0.02},
    {"act": "put in", "table": "wood", "at": 0.02},
    {"act": "write", "where": "wood.colour", "words": "red"}, {"act": "write", "where": "../x", "words": "red"},
    {"act": "write", "where": "name", "words": ""}, {"act": "write", "where": "hook.9.at", "words": "3 mm"},
    {"act": "write", "where": "wood.density", "words": "0.4"}, {"act": "write", "where": "name"},
    {"act": "text", "text": 3},
])  # fmt: skip
def test_what_cannot_be_done_is_refused_in_words(small, act):
    with pytest.raises(BadDesign) as refusal:
        drawn(small, [act], False)
    assert refusal.value.faults


@pytest.mark.parametrize("acts", [[], None, {}, "point", [{"act": "mirror"}] * 61])
def test_what_is_no_stroke_is_refused(small, acts):
    with pytest.raises(BadDesign, match="not kept"):
        drawn(small, acts, False)


def test_the_belly_is_drawn_by_itself_and_mirrored_again(small):
    own = drawn(small, [{"act": "mirror", "on": False}], False)
    outline = tomllib.loads(own)["outline"]
    assert outline["belly"] == outline["back"]
    assert parse(own).outline.belly == parse(small).outline.back
    assert drawn(own, [{"act": "mirror", "on": False}], False) == own
    assert drawn(own, [{"act": "mirror", "on": True}], False) == small
    assert drawn(small, [{"act": "mirror", "on": True}], False) == small


def test_the_end_moves_with_everything_that_stands_on_it(small):
    with_fin = small + '\n[fin]\nmaterial = "polycarbonate"\nlength = "20 mm"\ntall = "20 mm"\nthickness = "1 mm"\n' \
                       'at = "90 mm"\n'  # fmt: skip
    after = drawn(with_fin, [{"act": "end", "at": 0.095}], False)
    design = parse(after)
    assert design.length == pytest.approx(0.095)
    ends = [points[-1].station for points in (design.outline.back, design.outline.side)]
    assert ends == pytest.approx([0.095, 0.095])
    assert design.fin is not None
    assert design.fin.at == pytest.approx(0.095)


def test_parts_are_moved_by_what_the_act_gives(small):
    acts = [{"act": "move", "table": "hook", "place": 1, "at": 0.036},
            {"act": "move", "table": "pocket", "place": 1, "at": 0.024, "offset": 0.001}]  # fmt: skip
    after = drawn(small, acts, False)
    gone, come = changed(small, after)
    assert gone == ['at = "35 mm"', 'at = "25 mm"']
    assert come == ['at = "36 mm"', 'at = "24 mm"', 'offset = "1 mm"']


@pytest.mark.parametrize(
    ("where", "words", "line"),
    [
        ("hook.1.at", "36", 'at = "36 mm"'),
        ("hook.1.at", "1 1/2 in", 'at = "1 1/2 in"'),
        ("hook.1.weight", "1.2 g ± 0.1 g", 'weight = "1.2 g ± 0.1 g"'),
        ("pocket.1.free", "no", "free = false"),
        ("aim.speeds", "1 kn, 2 kn", 'speeds = ["1 kn", "2 kn"]'),
        ("wood.species", "balsa", 'species = "balsa"'),
        ("aim.reserve", "18", 'reserve = "18 %"'),
        ("coefficients.fall_drag", "1.1", "fall_drag = 1.1"),
    ],
)
def test_what_is_typed_is_written_as_the_file_takes_it(small, where, words, line):
    _, come = changed(small, drawn(small, [{"act": "write", "where": where, "words": words}], False))
    assert line in come


@pytest.mark.parametrize(("station", "out", "inch", "line"), [
    ("31", "15", False, '  "31 mm: 15 mm",   # highest'),
    ("1.25", "0.5 in", True, '  "31.75 mm: 12.7 mm",   # highest'),
    ("31 mm", 0.015, False, '  "31 mm: 15 mm",   # highest'),
])  # fmt: skip
def test_a_point_can_be_typed(small, station, out, inch, line):
    act = {"act": "point", "curve": "back", "place": 3, "station": station, "out": out}
    assert changed(small, drawn(small, [act], inch))[1] == [line]


def test_a_length_typed_without_a_unit_is_one_of_the_shop(small):
    for inch, line in ((False, 'height = "5 mm"'), (True, 'height = "5 in"')):
        act = {"act": "write", "where": "hook.1.height", "words": "5"}
        assert line in drawn(small, [act], inch).splitlines()


def test_a_key_typed_empty_goes(small):
    after = drawn(small, [{"act": "write", "where": "hook.1.size", "words": ""}], False)
    assert changed(small, after) == (['size = "6"'], [])


def test_a_whole_text_takes_the_place_of_the_other(small):
    assert drawn(small, [{"act": "text", "text": "name = 'x'"}], False) == "name = 'x'"
