"""Designs to start from: each reads and checks without a fault at every length, in both shops, and says what its keys
mean."""

import math
import re
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.answers.assembly import assemble
from gudgeon.answers.finding import Gravity
from gudgeon.answers.overall import looked_over
from gudgeon.answers.starting import FORMS, LONGEST, SHORTEST, Shop, forms, starting_design
from gudgeon.design.file import parse
from gudgeon.errors import BadDesign
from gudgeon.library.hooks import hook_size, hook_sizes
from gudgeon.units import INCH

OWN = {form.name: form.length for form in forms()}
SHARES = tuple(SHORTEST + (LONGEST - SHORTEST) * step / 3 for step in range(4))
ONLY_MEASURING_CURES = ("It may float and it may sink", "The attitude is good to {spread} only")


def test_forms_say_what_they_are() -> None:
    assert [form.name for form in forms()] == list(FORMS)
    assert all(10 < len(form.words) < 100 for form in forms())
    assert OWN["swimmer4"] == pytest.approx(0.24)


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("form", FORMS)
def test_each_form_reads_and_can_be_built(form: str, units: Shop) -> None:
    for length in (None, SHORTEST * OWN[form], LONGEST * OWN[form]):
        design = parse(starting_design(form, length, units), form)
        assert assemble(design).segments
        tolerance = 1e-4 if units == "mm" else INCH / 32
        assert design.length == pytest.approx(length or OWN[form], abs=tolerance)


@settings(max_examples=60, deadline=None)
@given(form=st.sampled_from(FORMS), share=st.floats(SHORTEST, LONGEST), units=st.sampled_from(["mm", "in"]))
def test_any_length_between_reads_without_a_fault(form: str, share: float, units: Shop) -> None:
    design = parse(starting_design(form, share * OWN[form], units), form)
    assert design.outline.back[-1].station == pytest.approx(design.length, abs=1e-9)


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("form", FORMS)
def test_each_line_is_in_the_shop_s_unit_and_explained(form: str, units: Shop) -> None:
    text = starting_design(form, None, units)
    assert "<" not in text
    assert "\t" not in text
    other = "in" if units == "mm" else "mm"
    values = [line.partition("#")[0] for line in text.splitlines() if not line.startswith("#")]
    assert not re.search(rf"\d {other}\b", "\n".join(values))
    explained = {line.split("=")[0].strip("# ") for line in text.splitlines() if "  #" in line}
    assert {"length", "species", "weight", "bore", "does", "thickness", "fullness", "size", "kind"} <= explained


@pytest.mark.parametrize("form", FORMS)
def test_what_is_commented_out_reads_when_its_mark_is_taken_away(form: str) -> None:
    text = re.sub(r"^# (?=\[\[|[a-z_]+ = )", "", starting_design(form), flags=re.MULTILINE)
    text = text.replace('kind = "fresh"', 'kind = "brackish"')
    design = parse(text, form)
    assert len(design.measured) == 3
    assert design.wood.blank_weight is not None
    assert design.aim.rod is not None
    assert design.tub.stand_ins[0].hook == design.hooks[0].name
    assert design.stock.shot
    assert design.stock.hooks


def test_the_shapes_asked_for_are_there() -> None:
    read = {form: parse(starting_design(form)) for form in FORMS}
    assert {form: len(design.segment_names) for form, design in read.items()} == {
        "swimmer4": 4, "swimmer3": 3, "glider2": 2, "diver": 1, "walker": 1, "needle": 1,
    }  # fmt: skip
    assert {form for form, design in read.items() if design.lip} == {"swimmer3", "diver"}
    assert {form for form, design in read.items() if design.fin} == {"swimmer4"}
    assert {form for form, design in read.items() if design.aim.does == "floats"} == {"swimmer3", "diver", "walker"}


def test_lengths_grow_and_hooks_step_up_by_size() -> None:
    small, large = (tomllib.loads(starting_design("diver", length)) for length in (0.080, 0.120))
    assert small["lip"]["exposed"] == "20 mm"
    assert large["lip"]["exposed"] == "30 mm"
    assert small["lip"]["thickness"] == large["lip"]["thickness"] == "2 mm"
    assert (small["hook"][0]["size"], large["hook"][0]["size"]) == ("8", "2")
    assert (small["fitting"][0]["wire"], large["fitting"][0]["wire"]) == ("1.2 mm", "1.4 mm")
    assert (small["pocket"][0]["bore"], large["pocket"][0]["bore"]) == ("6 mm", "10 mm")
    assert small["coat"] == large["coat"]
    assert "weight" not in small["hook"][0]


@pytest.mark.parametrize(
    ("inches", "size"), [(3, "8"), (3.5, "6"), (4.5, "4"), (5, "2"), (5.4, "1"), (6, "1/0")]
)  # two of them end to end in 59/88 of the length; near common practice by body length, which has no source
def test_hooks_fit_the_body(inches: float, size: str) -> None:
    assert tomllib.loads(starting_design("diver", inches * INCH))["hook"][0]["size"] == size


@pytest.mark.parametrize("form", FORMS)
def test_two_hooks_go_in_end_to_end_and_a_longer_body_has_larger_ones(form: str) -> None:
    order, sizes = list(hook_sizes()), []
    for share in SHARES:
        front, rear = parse(starting_design(form, share * OWN[form]), form).hooks
        assert front.size == rear.size
        size = hook_size(str(front.size))
        assert 2.0 * (size.shank + size.ring) < rear.at - front.at
        sizes.append(order.index(size.size))
    assert sizes == sorted(sizes)
    assert sizes[-1] >= sizes[0] + 3


def test_an_eye_weighs_what_its_wire_does() -> None:
    eye = tomllib.loads(starting_design("swimmer4"))["fitting"][0]
    assert (eye["wire"], eye["shank"]) == ("1.8 mm", "25 mm")
    length = 25.0 + math.pi * 4 * 1.8  # shank, and a loop of five wires outside: four along its middle
    assert float(eye["weight"].removesuffix(" g")) == pytest.approx(length * math.pi / 4 * 1.8**2 * 7.9e-3, rel=0.03)


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("form", FORMS)
def test_each_form_checks_clean_at_every_length(form: str, units: Shop) -> None:
    """The three pieces of swimmer3 float alike only while upright is asked of the whole body's buoyancy."""
    for length in (None, *(share * OWN[form] for share in SHARES)):
        answer = looked_over(parse(starting_design(form, length, units), form)).check
        told = [found.words for found in answer.findings if found.gravity > Gravity.NOTE]
        assert [words for words in told if not words.startswith(ONLY_MEASURING_CURES)] == [], (length, told)


@pytest.mark.parametrize("form", ["swimmer4", "swimmer3", "glider2"])
def test_jointed_forms_swing_as_their_kind_does(form: str) -> None:
    for share in SHARES:
        joints = looked_over(parse(starting_design(form, share * OWN[form]), form)).jointing
        assert joints is not None
        for joint in joints.joints:
            assert 0.8 * joint.wanted.low <= joint.turns.angle <= 1.5 * joint.wanted.high


def test_an_inch_shop_gets_fractions() -> None:
    text = starting_design("glider2", 7 * INCH, "in")
    assert 'length = "7 in"' in text
    assert 'bore = "7/16 in"' in text
    assert 'wire = ".063 in"' in text
    assert 'gap = "3/32 in"' in text


def test_a_form_that_is_not_there_is_refused_with_the_nearest() -> None:
    with pytest.raises(BadDesign) as caught:
        starting_design("swimer4")
    assert str(caught.value) == (
        "there is nothing to start from:\n  form: no form is called 'swimer4'; nearest: swimmer4 or swimmer3"
    )
    with pytest.raises(BadDesign, match="there are swimmer4, swimmer3, glider2, diver, walker, needle"):
        starting_design("???")


def test_a_length_far_from_the_form_is_refused() -> None:
    with pytest.raises(BadDesign, match="1000 mm is no length for this form; it can be 75 mm to 154 mm long"):
        starting_design("diver", 1.0)
    with pytest.raises(BadDesign, match="2 in is no length for this form; it can be 2 15/16 in to 6 1/16 in long"):
        starting_design("diver", 2 * INCH, "in")
    with pytest.raises(BadDesign, match="is no length"):
        starting_design("diver", float("nan"))


@pytest.mark.parametrize("form", FORMS)
def test_water_is_in_the_shop_s_degrees(form: str) -> None:
    texts = {units: starting_design(form, None, units) for units in ("mm", "in")}
    told = {units: re.findall(r'^temperature = "(.*?)"', text, flags=re.MULTILINE) for units, text in texts.items()}
    assert told == {"mm": ["15 C", "20 C"], "in": ["59 F", "68 F"]}
    assert parse(texts["in"], form).water.temperature.value == pytest.approx(288.15)


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_ball_told_as_a_weight_or_a_width_is_one_ball(units: Shop) -> None:
    """Lead of 11.34 g/cm3: pi / 6 of its width cubed."""
    weight, size, unit = re.findall(r'weight = "([\d.]+) g" +# of one; or diameter = "([\d./]+) (mm|in)"',
                                    starting_design("diver", None, units))[0]  # fmt: skip
    top, _, bottom = size.partition("/")
    width = float(top) / float(bottom or 1.0) * (2.54 if unit == "in" else 0.1)
    assert math.pi / 6.0 * width**3 * 11.34 == pytest.approx(float(weight), abs=0.05)
    assert (unit == "in") == (units == "in")


def test_a_pointed_nose_is_not_told_to_be_or_pointed() -> None:
    for form in FORMS:
        assert '# or "pointed"' not in starting_design(form)
    assert '# "round" or "pointed"' in starting_design("diver")
