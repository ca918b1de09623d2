"""Whatever is done to a good file, the answer is a design or one refusal: no traceback, no number that is not one."""

import dataclasses
import math
import tempfile
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import BaseModel

from gudgeon.design.edits import edit
from gudgeon.design.file import open_design, parse
from gudgeon.design.lines import Written, marks
from gudgeon.errors import BadDesign

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("lanternmere", "diver", "glider-weighed")
ODD_VALUES = (
    "", "0", "12", "12 mm", "-12 mm", "nan mm", "inf g", "1e999 g", "1/0 in", "12 g ± -3 g", "12 g ± nan %", "± mm",
    "12 g ± 3 g ± 1 g", "0 s/ft", "1e-320 s/ft", "0 mm: 0 mm", "40 mm: nan mm", "40 mm: 1e400", ":", "5 %", "400 C",
    "head", "۱۲ mm", "½ in", "12\u00a0mm", "\ud7ff", "'", '"', "\\", "\n",
)  # fmt: skip


@cache
def text_of(name: str) -> str:
    return (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


def numbers(value: object) -> Iterator[float]:
    """Every number inside a design."""
    if isinstance(value, BaseModel):
        for _, inner in value:
            yield from numbers(inner)
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from numbers(getattr(value, field.name))
    elif isinstance(value, tuple):
        for inner in value:
            yield from numbers(inner)
    elif isinstance(value, int | float):
        yield float(value)


def design_or_refusal(text: str) -> bool:
    """Whether a text is a design; fails where it is neither that nor one well-made refusal."""
    try:
        design = parse(text, "corrupted.toml")
    except BadDesign as refused:
        refusal = refused
    else:
        found = list(numbers(design))
        assert len(found) > 50
        assert all(math.isfinite(number) for number in found)
        return True
    assert refusal.heading in ("corrupted.toml cannot be read", "corrupted.toml cannot be built")
    assert refusal.faults
    lines = text.count("\n") + 1
    for fault in refusal.faults:
        assert fault.place
        assert fault.words
        assert len(fault.words) < 500
        assert fault.line is None or 1 <= fault.line <= lines
    return False


@pytest.mark.parametrize("name", NAMES)
def test_the_examples_themselves_are_designs(name: str) -> None:
    assert design_or_refusal(text_of(name))


@settings(max_examples=150, deadline=None)
@given(data=st.data())
def test_characters_lost_doubled_or_put_in(data: st.DataObject) -> None:
    text = text_of(data.draw(st.sampled_from(NAMES)))
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        stop = min(len(text), start + data.draw(st.integers(0, 30)))
        put = data.draw(
            st.sampled_from(["", text[start:stop] * 2, "[", '"', "\n", "=", "nan", "\x00", "é"]) | st.text(max_size=5)
        )
        text = text[:start] + put + text[stop:]
    design_or_refusal(text)


@settings(max_examples=250, deadline=None)
@given(data=st.data())
def test_values_of_any_kind_in_any_place(data: st.DataObject) -> None:
    text = text_of(data.draw(st.sampled_from(NAMES)))
    places = [path for path, mark in marks(text).items() if mark.written is Written.VALUE]
    for _ in range(data.draw(st.integers(1, 3))):
        path = data.draw(st.sampled_from(places))
        place = ".".join(str(step + 1) if isinstance(step, int) else step for step in path)
        value = data.draw(
            st.sampled_from(ODD_VALUES) | st.integers() | st.booleans() | st.floats(allow_nan=False)
            | st.lists(st.sampled_from(ODD_VALUES), max_size=3)
        )  # fmt: skip
        try:
            text = edit(text, {place: value})
        except BadDesign:  # the item went with the list that held it
            continue
    design_or_refusal(text)


@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_raw_numbers_in_any_place(data: st.DataObject) -> None:
    text = text_of(data.draw(st.sampled_from(NAMES)))
    found = [mark for mark in marks(text).values() if mark.written is Written.VALUE]
    mark = data.draw(st.sampled_from(found))
    raw = data.draw(
        st.sampled_from(
            ["nan", "-inf", "1e400", "0x10", "1979-05-27", "07:32:00", "{}", "[]", "[[]]", "true", "9" * 400]
        )
    )
    is_design = design_or_refusal(text[: mark.start] + raw + text[mark.end :])
    assert not (is_design and raw in ("nan", "-inf", "1e400", "1979-05-27", "07:32:00", "9" * 400))


@settings(max_examples=80, deadline=None)
@given(data=st.data())
def test_lines_lost_doubled_or_moved(data: st.DataObject) -> None:
    lines = text_of(data.draw(st.sampled_from(NAMES))).split("\n")
    for _ in range(data.draw(st.integers(1, 5))):
        line = lines.pop(data.draw(st.integers(0, len(lines) - 1)))
        for _ in range(data.draw(st.integers(0, 2))):
            lines.insert(data.draw(st.integers(0, len(lines))), line)
    design_or_refusal("\n".join(lines))


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=200))
def test_any_bytes_are_a_design_or_refused(content: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "any.toml"
        file.write_bytes(content)
        with pytest.raises(BadDesign) as caught:
            open_design(file)
    assert len(caught.value.faults) >= 1


GOOD = text_of("lanternmere")


def faults_after(*swaps: tuple[str, str], added: str = "") -> dict[str, str]:
    text = GOOD
    for old, new in swaps:
        assert old in text
        text = text.replace(old, new, 1)
    with pytest.raises(BadDesign) as caught:
        parse(text + added, "x")
    return {fault.place: fault.words for fault in caught.value.faults}


MEASURED = '\n[[measured]]\nstage = "sealed"\n'


@pytest.mark.parametrize(
    ("old", "new", "place", "words"),
    [
        # outline
        ('"70 mm: 27 mm"', '"70 mm: -20 mm"', "outline.belly point 6",
         "'70 mm: -20 mm' makes the outline cross itself; the back must stay above the belly"),
        ('"26 mm: 13.4 mm"', '"12 mm: 13.4 mm"', "outline.back point 4",
         "'12 mm: 13.4 mm' does not stand aft of the point before it, '12 mm: 8.8 mm'; write the points in order from "
         "the nose"),
        ('"240 mm: 5 mm"', '"239 mm: 5 mm"', "outline.side point 12",
         "'239 mm: 5 mm' is the last point; the last point stands at the end of the body, '240 mm'"),
        ('"240 mm: 5 mm"', '"239.98 mm: 5 mm"', "outline.side point 12",
         "'239.98 mm: 5 mm' is the last point; the last point stands at the end of the body, '240 mm'"),
        ('"0 mm: 0 mm"', '"1 mm: 0 mm"', "outline.back point 1",
         "'1 mm: 0 mm' is the first point; the first point stands at the nose, 0 mm"),
        ('"70 mm: 16.4 mm"', '"70 mm: 0 mm"', "outline.side point 6",
         "'70 mm: 0 mm' cannot be; half the width is more than 0 between the ends, and 0 or more at them"),
        ('"240 mm: 5 mm"', '"240 mm: -5 mm"', "outline.side point 12",
         "'240 mm: -5 mm' cannot be; half the width is more than 0 between the ends, and 0 or more at them"),
        ('"46 mm: 2.3"', '"46 mm: 0.9"', "outline.fullness point 2",
         "'46 mm: 0.9' is no fullness; it goes from 1 (a diamond) over 2 (an ellipse) to 12 (a plank)"),
        ('"240 mm: 2.6"', '"241 mm: 2.6"', "outline.fullness point 4",
         "'241 mm: 2.6' is behind the end of the body, '240 mm'"),
        ("[outline]", '[outline]\nwidest = ["70 mm: 25 mm"]', "outline.widest point 1",
         "'70 mm: 25 mm' lies outside the side outline"),
        # joints and pieces
        ('at = "144 mm"', 'at = "87 mm"', "joint 2.at",
         "'87 mm' and its gap: this cut is not clear of joint 1 ahead of it; write joints in order from the nose"),
        ('at = "194 mm"', 'at = "239 mm"', "joint 3.at",
         "'239 mm' and its gap: this cut is not ahead of the end of the body, '240 mm'"),
        ('at = "86 mm" ', 'at = "1 mm" ', "joint 1.at",
         "'1 mm' and its gap: this cut starts ahead of the nose; write joints in order from the nose"),
        ('front_bevel = "10 deg"', 'front_bevel = "80 deg"', "joint 1.front_bevel",
         "'80 deg' is no bevel; a face slopes back by 0 to 70 deg from square"),
        ('["head", "shoulder", "waist", "tail"]', '["head", "tail"]', "segments",
         "2 names, but 3 joints and so 4 pieces"),
        ('["head", "shoulder", "waist", "tail"]', '["head", "waist", "waist", "tail"]', "segments item 3",
         "'waist' names something else already; give each its own name"),
        ('"shoulder", "waist"', '"shoulder", "whole"', "segments item 3",
         "'whole' means the whole lure; give the piece another name"),
        # names
        ('name = "rear hook"', 'name = "front hook"', "hook 2 'front hook'.name",
         "'front hook' names something else already; give each its own name"),
        ('name = "rear hook"', 'name = "tow eye"', "hook 2 'tow eye'.name",
         "'tow eye' names something else already; give each its own name"),
        ('name = "rear hook"', 'name = "fin"', "hook 2 'fin'.name",
         "'fin' is what [lip] or [fin] is called; give this another name"),
        ('name = "rear hook"', 'name = " "', "hook 2 ' '.name", "' ': a name has 1 to 60 plain characters"),
        ('"rear hanger", "fin"', '"rear hangar", "fin"', "tub.fitted item 6",
         "nothing is named 'rear hangar'; nearest: rear hanger, front hanger or rear hook"),
        ('"rear hanger", "fin"', '"rear hanger", "tow eye"', "tub.fitted item 7",
         "'tow eye' stands in this list already"),
        ('"rear hanger", "fin"', '"rear hanger", "waist"', "tub.fitted item 7", None),
        ('hook = "rear hook"', 'hook = "rear"', "tub.stand_in 2.hook", "no hook is named 'rear'; nearest: rear hook"),
        ('hook = "rear hook"', 'hook = "front hook"', "tub.stand_in 2.hook", "'front hook' has a stand-in already"),
        # places
        ('at = "211 mm"', 'at = "311 mm"', "pocket 5 'tail'.at", "'311 mm' is behind the end of the body, '240 mm'"),
        ('bore = "10 mm"', 'bore = "40 mm"', "pocket 4 'waist'.bore",
         "'40 mm' is too wide; the body is no wider than this at '168 mm'"),
        ('bore = "10 mm"', 'bore = "40 mm"\nface = "left"', "pocket 4 'waist'.bore",
         "'40 mm' is too wide; the body is no deeper than this at '168 mm'"),
        ('at = "22 mm"', 'at = "241 mm"', "fitting 4 'left eye'.at",
         "'241 mm' is behind the end of the body, '240 mm'"),
        ('set_in = "8 mm"', 'set_in = "280 mm"', "fin.set_in",
         "'280 mm' is too deep; the slot runs out ahead of the nose"),
        ('fill = "60 %"', 'fill = "0 %"', "fin.fill", "'0 %' leaves no fin; the share that is fin is more than 0 %"),
        # water, aim, weights
        ('kind = "fresh"', 'kind = "fresh"\nsalinity = "20 ppt"', "water.salinity",
         "'20 ppt' is not fresh water, which has 0 to 1 ppt; kind = \"brackish\" would fit it"),
        ('kind = "fresh"', 'kind = "sea"\nsalinity = "0.2 ppt"', "water.salinity",
         "'0.2 ppt' is not sea water, which has 25 to 42 ppt; kind = \"fresh\" would fit it"),
        ('does = "sinks"\nrate = "4 s/ft"', 'does = "floats"\nreserve = "0 %"', "aim.reserve",
         "'0 %' is no floater's reserve; it is more than 0 % and less than 95 %"),
        ('blank_weight = "52.6 g ± 0.1 g"', 'blank_weight = "0 g"', "wood.blank_weight", "'0 g' must be more than 0"),
        ('weight = "1.1 g"\ncount', 'weight = "0 g"\ncount', "stock.shot 2.weight", "'0 g' must be more than 0"),
    ],
)  # fmt: skip
def test_what_does_not_fit_the_rest_is_told(old: str, new: str, place: str, words: str | None) -> None:
    found = faults_after((old, new))
    assert place in found
    if words is not None:
        assert found[place] == words


def test_measured_twice_or_of_no_piece() -> None:
    said = faults_after(
        added=f'{MEASURED}weight = "1 g"\n{MEASURED}weight = "2 g"\n{MEASURED}weight = "1 g"\nof = "hed"\n'
    )
    assert said["measured 2"] == "tells the same thing as measured 1; keep one, or write the mean of both"
    assert said["measured 3.of"] == "no piece is named 'hed'; nearest: head"


def test_measured_at_two_stages_or_of_two_pieces_is_two_things() -> None:
    added = f'{MEASURED}weight = "1 g"\n{MEASURED}displaced = "1 g"\n{MEASURED}weight = "1 g"\nof = "head"\n'
    assert len(parse(GOOD + added).measured) == 3


def test_an_upward_lip_is_refused() -> None:
    text = text_of("diver").replace('"40 deg" ', '"-40 deg" ')
    with pytest.raises(BadDesign, match="is no lip's angle; it goes from 0 deg"):
        parse(text)


def test_places_at_the_tail_s_end_may_hold_a_loop() -> None:
    design = parse(text_of("diver"))
    assert design.hooks[1].at > design.length


def test_what_cannot_be_read_and_what_does_not_fit_come_together() -> None:
    said = faults_after(
        ('"70 mm: 27 mm"', '"70 mm: -20 mm"'), ('species = "western red cedar"', "species = 3"),
        ('gap = "2 mm"', "gap = 2"), ('at = "194 mm"', 'at = "294 mm"'), ('hook = "rear hook"', 'hook = "rear"'),
        ('rate = "4 s/ft"', 'attitude2 = "4 s/ft"'),
        ('thickness = "0.03 mm"\nmaterial = "primer"', 'thickness = "0.03 g"'),
    )  # fmt: skip
    assert set(said) == {
        "outline.belly point 6", "outline.back point 6", "wood.species", "joint 1.gap", "joint 3.at",
        "tub.stand_in 2.hook",
        "aim", "aim.attitude2", "coat 1 'primer'", "coat 1 'primer'.thickness",
    }  # fmt: skip


def test_no_fault_is_told_twice() -> None:
    with pytest.raises(BadDesign) as caught:
        parse('name = "x"\n[wood]\n[aim]\ndoes = "sinks"\n[[hook]]\n[[hook]]\n')
    assert len(set(caught.value.faults)) == len(caught.value.faults)


def test_the_data_is_read_as_toml_reads_it() -> None:
    assert tomllib.loads(GOOD)["name"] == parse(GOOD).name
