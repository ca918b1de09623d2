"""Hinges on the side and top templates: plates, pins, eyes and slots as hidden lines where the answer says they lie."""

from functools import cache
from io import BytesIO

import numpy as np
import pdfplumber
import pytest

from gudgeon.answers.check import check
from gudgeon.answers.hinge_made import MadeHinge
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.papers import Papers, papers
from gudgeon.design.file import parse
from gudgeon.report.drawing import side_view, top_view
from gudgeon.report.drawn_parts import hinge_parts, pivots
from gudgeon.report.paper import MM, bound, frame_of
from gudgeon.report.rows import Shop
from gudgeon.report.strokes import Line, Stroke
from gudgeon.report.templates import template_sheets

SIDE, TOP = (0, 2), (0, 1)
KINDS = ("plate and pin", "wire eye and pin", "eyes on a pin", "screw eyes", "strap")


@cache
def made(kind: str) -> Papers:
    pivot = 'pivot = "4 mm"' if "pin" in kind else ""
    return papers(check(parse(f"""
name = "Peg"
length = "120 mm"
[outline]
back = ["0 mm: 20 mm", "120 mm: 20 mm"]
side = ["0 mm: 15 mm", "120 mm: 15 mm"]
[wood]
density = "0.4 g/cm3"
[[joint]]
at = "60 mm"
gap = "2 mm"
{pivot}
[[hinge]]
joint = 1
kind = "{kind}"
heights = ["-8 mm", "9 mm"]
tall = "10 mm"
[water]
temperature = "10 C"
[aim]
does = "floats"
reserve = "20 %"
""")))  # fmt: skip


def hinge(kind: str) -> MadeHinge:
    answer = made(kind).check
    return made_hinges(answer.design, answer.lure)[0]


def boxes(strokes: list[Stroke]) -> list[tuple[float, ...]]:
    """Left, bottom, right, top [mm] of hidden lines."""
    return [
        (*stroke.points.min(axis=0), *stroke.points.max(axis=0)) for stroke in strokes if stroke.line is Line.HIDDEN
    ]


def has(strokes: list[Stroke], *box: float) -> bool:
    return any(np.allclose(one, box, atol=0.01) for one in boxes(strokes))


@pytest.mark.parametrize("kind", ["eyes on a pin", "wire eye and pin"])
def test_eyes_on_a_pin_are_rings_from_above_and_edge_on_from_the_side(kind: str) -> None:
    one, top, side = hinge(kind), list(hinge_parts(hinge(kind), TOP)), list(hinge_parts(hinge(kind), SIDE))
    x, inner, wire = 1e3 * one.pivot, 500.0 * one.sizes.eye, 1e3 * one.sizes.wire
    for radius in (500.0 * one.sizes.pin, inner, inner + wire):
        assert has(top, x - radius, -radius, x + radius, radius)
    for level in (-8.0, 9.0):
        assert has(side, x - inner - wire, level - 0.5 * wire, x + inner + wire, level + 0.5 * wire)


def test_a_pins_ends_and_its_axis_are_drawn() -> None:
    one, side = hinge("eyes on a pin"), list(hinge_parts(hinge("eyes on a pin"), SIDE))
    x, half = 1e3 * one.pivot, 500.0 * one.sizes.pin
    for end in (one.sizes.pin_bottom, one.sizes.pin_top):
        assert has(side, x - half, 1e3 * end, x + half, 1e3 * end)
    axis = [stroke.points for stroke in side if stroke.line is Line.CENTRE]
    assert len(axis) == 1
    assert np.allclose(axis[0][:, 0], x)


def test_a_plate_runs_from_its_face_past_the_pin() -> None:
    one, top = hinge("plate and pin"), list(hinge_parts(hinge("plate and pin"), TOP))
    nose = 1e3 * max(part.shape.centre[0] + part.shape.halves[0] for part in one.parts if part.kind == "plate")
    assert has(top, 1e3 * one.faces[0], -5.0, nose, 5.0)
    assert nose > 1e3 * one.pivot


def test_a_strap_crosses_the_gap_upright() -> None:
    one, side = hinge("strap"), list(hinge_parts(hinge("strap"), SIDE))
    for level in (-8.0, 9.0):
        assert has(side, 1e3 * one.faces[0], level - 5.0, 1e3 * one.faces[1], level + 5.0)


def test_linked_eyes_pass_through_one_another_one_level_one_upright() -> None:
    one = hinge("screw eyes")
    side, top = (list(hinge_parts(one, plane)) for plane in (SIDE, TOP))
    wire, outer = 1e3 * one.sizes.wire, 500.0 * one.sizes.eye + 1e3 * one.sizes.wire
    ahead, behind = (1e3 * one.pivot - 500.0 * one.sizes.eye, 1e3 * one.pivot + 500.0 * one.sizes.eye)
    assert has(top, ahead - outer, -outer, ahead + outer, outer)
    assert has(top, behind - outer, -0.5 * wire, behind + outer, 0.5 * wire)
    assert has(side, behind - outer, 9.0 - outer, behind + outer, 9.0 + outer)
    assert has(side, ahead - outer, 9.0 - 0.5 * wire, ahead + outer, 9.0 + 0.5 * wire)
    assert ahead + outer > behind - outer  # each reaches into the other


@pytest.mark.parametrize("kind", KINDS)
def test_the_views_have_them_and_their_axis_noted(kind: str) -> None:
    answer = made(kind)
    side, top = side_view(answer, (), Shop.METRIC), top_view(answer, Shop.METRIC)
    for view, plane in ((side, SIDE), (top, TOP)):
        drawn = {stroke.points.tobytes() for stroke in view.strokes}
        parts = [stroke.points.tobytes() for stroke in hinge_parts(hinge(kind), plane)]
        assert parts
        assert set(parts) <= drawn
    (fixed,) = pivots(answer.check)
    assert fixed.at[0] == pytest.approx(1e3 * hinge(kind).pivot)
    notes = [note for note in (*side.above, *side.below) if f"hinge 1: {kind}" in note.words]
    assert [note.at[0] for note in notes] == [pytest.approx(fixed.at[0])]


@pytest.mark.parametrize("kind", KINDS)
def test_bores_and_slots_are_on_the_template_sheet_at_true_size(kind: str) -> None:
    sheets = template_sheets(made(kind), (), frame_of("A4", lying=True), Shop.METRIC, 1.0)
    page = pdfplumber.open(BytesIO(bound(sheets, "A4", title=kind))).pages[0]
    outline = max(page.curves, key=lambda curve: len(curve["pts"]))
    dashed = [one for one in (*page.curves, *page.lines) if one["dash"] and len(one["dash"][0]) == 2]
    for cutout in hinge(kind).cutouts:
        inner = outline["x0"] / MM + 1e3 * cutout.end[0]
        assert any(min(abs(one["x0"] / MM - inner), abs(one["x1"] / MM - inner), abs(
            0.5 * (one["x0"] + one["x1"]) / MM - inner)) < 0.05 for one in dashed), cutout.name  # fmt: skip


def test_a_lure_without_hinges_has_none() -> None:
    answer = papers(check(parse("""
name = "Peg"
length = "120 mm"
[outline]
back = ["0 mm: 20 mm", "120 mm: 20 mm"]
side = ["0 mm: 15 mm", "120 mm: 15 mm"]
[wood]
density = "0.4 g/cm3"
[water]
temperature = "10 C"
[aim]
does = "floats"
reserve = "20 %"
""")))  # fmt: skip
    assert pivots(answer.check) == ()
