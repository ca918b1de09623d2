"""Designs to start from: each reads without a fault at every length and in both shops, and says what its keys mean."""

import re
import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.answers.assembly import assemble
from gudgeon.answers.starting import FORMS, LONGEST, SHORTEST, Shop, forms, starting_design
from gudgeon.design.file import parse
from gudgeon.errors import BadDesign
from gudgeon.units import INCH

OWN = {form.name: form.length for form in forms()}


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
    assert (small["hook"][0]["size"], large["hook"][0]["size"]) == ("6", "2")
    assert (small["pocket"][0]["bore"], large["pocket"][0]["bore"]) == ("6 mm", "10 mm")
    assert small["coat"] == large["coat"]
    assert "weight" not in small["hook"][0]


@pytest.mark.parametrize(
    ("inches", "size"), [(3, "6"), (3.5, "6"), (3.6, "4"), (4.5, "4"), (5.4, "2"), (6, "1/0")]
)  # the sizes of common practice, by body length
def test_hooks_fit_the_body(inches: float, size: str) -> None:
    assert tomllib.loads(starting_design("diver", inches * INCH))["hook"][0]["size"] == size


def test_an_inch_shop_gets_fractions() -> None:
    text = starting_design("glider2", 7 * INCH, "in")
    assert 'length = "7 in"' in text
    assert 'bore = "1/2 in"' in text
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
