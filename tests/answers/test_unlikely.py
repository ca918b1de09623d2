"""Weights that are hardly anything but a slip: told first, as wrong, and ahead of the answer that rests on them."""

from pathlib import Path

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.check import check
from gudgeon.answers.finding import Gravity
from gudgeon.answers.unlikely import unlikely_weights
from gudgeon.design.file import parse
from gudgeon.report.check_rows import headline
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said

EXAMPLES = Path(__file__).parents[2] / "examples"
GLIDER = (EXAMPLES / "glider.toml").read_text(encoding="utf-8")


def told(design):
    return [(one.gravity, said(one, Shop.METRIC)) for one in unlikely_weights(design, assemble(design))]


@pytest.mark.parametrize("name", ["diver", "glider", "glider-weighed", "lanternmere"])
def test_the_examples_weigh_what_such_parts_weigh(name):
    assert told(parse((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))) == []


def test_a_sealer_in_ounces_weighs_more_than_the_blank(cylinder):
    """A blank of 30.16 g, and a sealer of 1.2 that was meant in grams."""
    ((gravity, words),) = told(cylinder(sealer={"weight": "1.2 oz"}))
    assert gravity is Gravity.WRONG
    assert words == "The sealer, 34.0 g, weighs more than the 30.2 g blank: ounces for grams?"
    assert told(cylinder(sealer={"weight": "1.2 g"})) == []
    assert told(cylinder(sealer={"weight": "16 g"}))[0][0] is Gravity.WATCH


def test_no_wood_takes_up_its_own_weight_of_sealer(cylinder):
    """A blank of 30.16 g: about its own weight is a slip, a fourth and more is asked after, a twelfth is usual."""
    ((gravity, words),) = told(cylinder(sealer={"weight": "30 g"}))
    assert gravity is Gravity.WRONG
    assert words == "The sealer, 30.0 g, weighs about as much as the 30.2 g blank: ounces for grams?"
    ((gravity, words),) = told(cylinder(sealer={"weight": "9 g"}))
    assert gravity is Gravity.WATCH
    assert words.startswith("The sealer that soaked in, 9.0 g, is 30 % of the 30.2 g blank")
    assert told(cylinder(sealer={"weight": "2.5 g"})) == []


def test_feet_per_second_for_seconds_per_foot(cylinder):
    ((gravity, words),) = told(cylinder(aim={"does": "sinks", "rate": "4 ft/s"}))
    assert gravity is Gravity.WRONG
    assert words.startswith("The rate asked for is 1.22 m/s, 0.2 s/ft, where no lure of wood")
    assert words.endswith("feet per second for seconds per foot?")
    assert told(cylinder(aim={"does": "sinks", "rate": "1 s/ft"})) == []
    timed = [{"stage": "rigged", "sinks": "4 ft/s"}]
    assert "The timed rate, rigged, is" in told(cylinder(measured=timed))[0][1]


def test_a_coat_ten_times_too_thick(cylinder):
    for material, right, ten in (("epoxy", "0.0059 in", "0.059 in"), ("acrylic paint", "0.02 mm", "0.2 mm")):
        coat = {"name": "clear", "material": material}
        ((gravity, words),) = told(cylinder(coat=[{**coat, "thickness": ten}]))
        assert gravity is Gravity.WATCH
        assert words.startswith("A coat of the clear is ")
        assert told(cylinder(coat=[{**coat, "thickness": right}])) == []


def test_an_eye_in_ounces_weighs_more_than_its_wire(cylinder):
    eye = {"name": "tow eye", "kind": "tow eye", "material": "stainless steel", "at": "2 mm", "wire": "1.2 mm",
           "shank": "10 mm"}  # fmt: skip
    ((gravity, words),) = told(cylinder(fitting=[{**eye, "weight": "0.23 oz"}]))
    assert gravity is Gravity.WRONG
    assert words.startswith("The tow eye weighs 6.5 g, where an eye of that wire and shank weighs about 0.2")
    assert told(cylinder(fitting=[{**eye, "weight": "0.23 g"}])) == []
    hook = {"name": "belly hook", "size": "6", "at": "60 mm"}
    assert told(cylinder(hook=[{**hook, "weight": "1 g"}])) == []
    assert "a treble of that size" in told(cylinder(hook=[{**hook, "weight": "1 oz"}]))[0][1]


@pytest.mark.parametrize(("entry", "first"), [
    ('stage = "shaped"\nweight = "1.15 g"', "Weight of the blank: measured 1.1 g"),
    ('stage = "rigged"\nweight = "900 g"', "Weight of the lure, rigged: measured 900.0 g"),
    ('stage = "sealed"\ndisplaced = "7.02 g"', "Water displaced of the lure, sealed: measured 7.0 g"),
])
def test_a_measured_slip_is_told_first_and_in_the_headline(entry, first):
    answer = check(parse(f"{GLIDER}\n[[measured]]\n{entry}\n"))
    assert answer.findings[0].gravity is Gravity.WRONG
    assert said(answer.findings[0], Shop.METRIC).startswith(first)
    words = headline(answer, Shop.METRIC)
    assert words.startswith(first)
    assert ". Look for a slip first; taken as it stands: " in words


def test_a_blank_a_fifth_heavier_than_the_table_is_no_slip():
    bare = check(parse(GLIDER))
    heavy = check(parse(f'{GLIDER}\n[[measured]]\nstage = "shaped"\nweight = "{1.2e3 * bare.blank.value} g"\n'))
    assert heavy.slip is None
    assert "slip" not in headline(heavy, Shop.METRIC)
