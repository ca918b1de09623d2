"""Joint sheets read back from the PDF: faces at true size against closed forms, nothing over anything or off it."""

import datetime
import math
from functools import cache
from io import BytesIO
from itertools import combinations
from pathlib import Path

import pdfplumber
import pytest
from tests.report.read_pages import titled

from gudgeon.answers.check import check
from gudgeon.answers.drilling import drilling
from gudgeon.answers.joint_templates import joint_templates
from gudgeon.answers.papers import Papers, papers
from gudgeon.design.file import load, parse
from gudgeon.report.joint_sheets import joint_sheets
from gudgeon.report.paper import MM, PaperName, bound, frame_of
from gudgeon.report.rows import Shop
from gudgeon.report.sheets import sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
BUILD, HALF_WIDTH, HALF_DEPTH = 0.4, 12.0, 18.0  # mm
WIDE, NARROW = 0.5 * MM, 0.25 * MM
BAR = """
name = "Bar"
length = "330 mm"
segments = ["one", "two", "three", "four", "five", "six"]
[outline]
back = ["0 mm: 18 mm", "330 mm: 18 mm"]
side = ["0 mm: 12 mm", "330 mm: 12 mm"]
[wood]
density = "0.4 g/cm3"
[[joint]]
at = "55 mm"
gap = "2 mm"
[[joint]]
at = "115 mm"
gap = "2 mm"
rear_bevel = "25 deg"
pivot = "4 mm"
[[joint]]
at = "170 mm"
gap = "2 mm"
front_bevel = "12 deg"
rear_bevel = "20 deg"
pivot = "-4 mm"
[[joint]]
at = "220 mm"
gap = "1.5 mm"
face = "knuckle"
radius = "10 mm"
[[joint]]
at = "275 mm"
gap = "1.5 mm"
face = "tongue"
carries = "rear"
front_bevel = "10 deg"
rear_bevel = "15 deg"
tongue_width = "8 mm"
tongue_length = "9 mm"
pivot = "-5 mm"
[[hinge]]
joint = 1
kind = "screw eyes"
[[hinge]]
joint = 2
kind = "plate and pin"
heights = ["-8 mm", "8 mm"]
tall = "10 mm"
[[hinge]]
joint = 3
kind = "wire eye and pin"
[[hinge]]
joint = 4
kind = "eyes on a pin"
heights = ["-6 mm", "6 mm"]
[[hinge]]
joint = 5
kind = "strap"
heights = ["0 mm"]
material = "aramid"
[[coat]]
name = "clear"
coats = 2
thickness = "0.2 mm"
material = "epoxy"
[water]
temperature = "10 C"
[aim]
does = "sinks"
rate = "4 s/ft"
"""
HUGE = """
name = "Log"
length = "600 mm"
[outline]
back = ["0 mm: 90 mm", "600 mm: 90 mm"]
side = ["0 mm: 70 mm", "600 mm: 70 mm"]
[wood]
density = "0.4 g/cm3"
[[joint]]
at = "300 mm"
gap = "3 mm"
front_bevel = "30 deg"
rear_bevel = "30 deg"
pivot = "6 mm"
[[hinge]]
joint = 1
kind = "eyes on a pin"
[water]
temperature = "10 C"
[aim]
does = "floats"
reserve = "20 %"
"""
PLAIN = """
name = "Plain"
length = "120 mm"
[outline]
drawn = "bare wood"
back = ["0 mm: 0 mm", "20 mm: 12 mm", "120 mm: 12 mm"]
side = ["0 mm: 0 mm", "20 mm: 9 mm", "120 mm: 9 mm"]
[wood]
density = "0.4 g/cm3"
[[joint]]
at = "70 mm"
gap = "2 mm"
face = "knuckle"
carries = "rear"
[[coat]]
name = "clear"
thickness = "0.3 mm"
material = "epoxy"
[harness]
wire = "1.2 mm"
[[fitting]]
name = "tow eye"
kind = "tow eye"
weight = "1 g"
material = "stainless steel"
at = "0 mm"
[[fitting]]
name = "tail eye"
kind = "screw eye"
weight = "1 g"
material = "stainless steel"
at = "118 mm"
shank = "10 mm"
into = "rear"
[water]
temperature = "10 C"
[aim]
does = "floats"
reserve = "20 %"
"""
DESIGNS = {"bar": BAR, "huge": HUGE, "plain": PLAIN}


@cache
def made(name: str) -> Papers:
    design = parse(DESIGNS[name]) if name in DESIGNS else load(EXAMPLES / f"{name}.toml")
    return papers(check(design))


@cache
def pages(name: str, paper: PaperName, shop: Shop, factor: float = 1.0) -> tuple[pdfplumber.page.Page, ...]:
    """The joint sheets as they stand among all papers."""
    pdf = sheets(made(name), stamp="89abcdef", shop=shop, paper=paper, correction=factor,
                 date=datetime.date(2024, 2, 29))  # fmt: skip
    return titled(pdf, "laid flat")


def sheet_of(name: str, number: int, paper: PaperName, factor: float) -> pdfplumber.page.Page:
    return next(page for page in pages(name, paper, Shop.METRIC, factor) if f"Joint {number}, " in page.extract_text())


def wide_lines(page: pdfplumber.page.Page, most: int) -> list[dict[str, float]]:
    """Wide polylines of more points than that."""
    return [curve for curve in page.curves if abs(curve["linewidth"] - WIDE) < 1e-3 and len(curve["pts"]) > most]


def faces_on(page: pdfplumber.page.Page) -> list[dict[str, float]]:
    """Wide closed lines as tall as the body, the rear face of the piece ahead first: at the left, or on top."""
    found = [curve for curve in wide_lines(page, 120) if curve["width"] > 5.0 * MM]
    closed = [curve for curve in found if math.dist(curve["pts"][0], curve["pts"][-1]) < 0.1
              and min(x for x, _ in curve["pts"]) > 110.0 * MM]  # fmt: skip
    return sorted(closed, key=lambda curve: (round(curve["top"] / (20.0 * MM)), curve["x0"]))


OUT = HALF_WIDTH - BUILD
KNUCKLE, SOCKET = 10.0 - BUILD, 10.0 + 1.5 + BUILD
SIZES = {  # laid flat, in bare wood: square, slant over its cosine, round by its arc
    1: (2.0 * OUT, 2.0 * OUT),
    2: (2.0 * OUT, 2.0 * OUT / math.cos(math.radians(25.0))),
    3: (2.0 * OUT / math.cos(math.radians(12.0)), 2.0 * OUT / math.cos(math.radians(20.0))),
    4: (2.0 * (KNUCKLE * 0.5 * math.pi + OUT - KNUCKLE), 2.0 * SOCKET * math.asin(OUT / SOCKET)),
    5: (2.0 * (4.0 + 1.5 + BUILD + (OUT - 5.5 - BUILD) / math.cos(math.radians(10.0))),
        2.0 * (4.0 - BUILD + (OUT - 4.0 + BUILD) / math.cos(math.radians(15.0)))),
}  # fmt: skip


@pytest.mark.parametrize("factor", [1.0, 1.0309])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("number", SIZES)
def test_faces_laid_flat_are_as_wide_and_deep_as_the_wood(number: int, paper: PaperName, factor: float) -> None:
    found = faces_on(sheet_of("bar", number, paper, factor))
    assert len(found) == 2
    for curve, wide in zip(found, SIZES[number], strict=True):
        assert curve["width"] / MM == pytest.approx(factor * wide, abs=0.05)
        assert curve["height"] / MM == pytest.approx(factor * 2.0 * (HALF_DEPTH - BUILD), abs=0.05)


@pytest.mark.parametrize("factor", [1.0, 1.0309])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_gap_on_the_sheet_is_the_gap_to_cut(paper: PaperName, factor: float) -> None:
    sloped = BUILD / math.cos(math.radians(12.0)) + BUILD / math.cos(math.radians(20.0))
    for number, gap in ((1, 2.0 + 2.0 * BUILD), (3, 2.0 + sloped)):
        page = sheet_of("bar", number, paper, factor)
        upright = [curve for curve in wide_lines(page, 2) if curve["width"] < 0.01
                   and abs(curve["height"] / MM - factor * 2.0 * (HALF_DEPTH - BUILD)) < 0.05]  # fmt: skip
        first, last = sorted({round(curve["x0"], 2) for curve in upright})
        assert (last - first) / MM == pytest.approx(factor * gap, abs=0.02)


def test_the_view_from_above_is_cut_as_the_joint_is() -> None:
    """Seen from above: a tongue 8 mm wide less its coats, in a slot wider by a gap on each side and its coats."""
    page = sheet_of("bar", 5, "A4", 1.0)
    plans = [curve for curve in wide_lines(page, 200) if max(x for x, _ in curve["pts"]) < 110.0 * MM
             and abs(curve["height"] / MM - 2.0 * OUT) < 0.05]  # fmt: skip
    assert len(plans) == 2
    widths = []
    for curve in plans:
        steps = [(a, b) for a, b in zip(curve["pts"], curve["pts"][1:], strict=False) if abs(a[1] - b[1]) < 1e-6]
        heights = [a[1] for a, b in steps if abs(a[0] - b[0]) > 0.5]
        widths.append((max(heights) - min(heights)) / MM)
    assert sorted(widths) == [
        pytest.approx(2.0 * (4.0 - BUILD), abs=0.02),
        pytest.approx(2.0 * (5.5 + BUILD), abs=0.02),
    ]


def test_holes_stand_on_the_face_where_and_as_wide_as_the_drill_schedule_says() -> None:
    template = joint_templates(made("bar"))[0]
    page, face = sheet_of("bar", 1, "A4", 1.0), template.front
    outline = faces_on(page)[0]
    middle = 0.5 * (outline["x0"] + outline["x1"])
    level = 0.5 * (outline["top"] + outline["bottom"])  # the bar's centre line is its middle
    rings = [curve for curve in page.curves if abs(curve["linewidth"] - NARROW) < 1e-3 and len(curve["pts"]) > 40
             and outline["x0"] < curve["x0"] and curve["x1"] < outline["x1"]]  # fmt: skip
    found = sorted((round(ring["width"] / MM, 2), round((level - 0.5 * (ring["top"] + ring["bottom"])) / MM, 2))
                   for ring in rings)  # fmt: skip
    holes = [hole for hole in drilling(made("bar")).holes if hole.pieces == ("one",) and hole.face == "rear"]
    assert len(holes) == len(face.marks) == 4
    assert found == [
        pytest.approx(one, abs=0.02) for one in sorted((1e3 * hole.wide, 1e3 * hole.mouth[2]) for hole in holes)
    ]
    for ring in rings:
        assert 0.5 * (ring["x0"] + ring["x1"]) == pytest.approx(middle, abs=0.01)


def test_a_slot_in_a_sloped_face_is_wider_on_the_paper_by_its_slope() -> None:
    template = joint_templates(made("bar"))[1]
    mark = next(mark for mark in template.rear.marks if mark.made.kind == "slot")
    flat = mark.outline[:, 0].max() - mark.outline[:, 0].min()
    assert flat == pytest.approx(mark.made.long / math.cos(math.radians(25.0)), rel=1e-9)
    assert mark.outline[:, 1].max() - mark.outline[:, 1].min() == pytest.approx(mark.made.wide)


def test_every_hole_of_a_joint_is_told_by_its_number_in_the_drill_schedule() -> None:
    for template in joint_templates(made("bar")):
        told = sheet_of("bar", template.joint.number, "A4", 1.0).extract_text()
        assert template.made
        for hole in template.made:
            assert f"{hole.number} {hole.name.partition(': ')[2]}" in " ".join(told.split())
    numbers = {hole.number for template in joint_templates(made("bar")) for hole in template.made}
    hinged = {hole.number for hole in drilling(made("bar")).holes if hole.name.startswith("hinge")}
    assert numbers == hinged


def test_what_is_to_be_left_turned_and_set_is_told() -> None:
    for template in joint_templates(made("bar")):
        told = " ".join(sheet_of("bar", template.joint.number, "A4", 1.0).extract_text().split())
        joint = template.joint
        for words in (template.kind, f"Leave {1e3 * joint.kerf:.1f} of length", f"{1e3 * joint.bare_gap:.1f} to cut",
                      f"{1e3 * joint.shape.gap:.1f} finished",
                      f"Turns {round(math.degrees(joint.finished.angle), 1):g}° each way"):  # fmt: skip
            assert words in told
    kinds = [template.kind for template in joint_templates(made("bar"))]
    assert kinds == ["flat", "one vee", "two vees", "knuckle and socket", "tongue and slot"]


def test_a_lure_of_one_piece_has_none() -> None:
    assert joint_sheets(made("diver"), frame_of("A4", lying=True), Shop.METRIC, 1.0) == ()


def test_a_joint_too_large_for_a_sheet_is_tiled_at_true_size() -> None:
    found = pages_alone("huge", "A4", Shop.METRIC, 1.0)
    told = " ".join(page.extract_text() for page in found)
    titles = [sheet.title for sheet in joint_sheets(made("huge"), frame_of("A4", lying=True), Shop.METRIC, 1.0)]
    assert sum("tile 1 of 2" in title for title in titles) >= 2
    assert "join BA to BA" in told
    wide = 140.0 / math.cos(math.radians(30.0))
    widths = [curve["width"] / MM for page in found for curve in wide_lines(page, 200)]
    assert any(width == pytest.approx(wide, abs=0.05) for width in widths)
    for words in ("From the side", "From above", "Rear face of the", "Front face of the", "Leave"):
        assert words in told


@cache
def pages_alone(name: str, paper: PaperName, shop: Shop, factor: float) -> tuple[pdfplumber.page.Page, ...]:
    """The joint sheets without frame and title."""
    pdf = bound(joint_sheets(made(name), frame_of(paper, lying=True), shop, factor), paper, title=name)
    return tuple(pdfplumber.open(BytesIO(pdf)).pages)


CASES = [("bar", "A4", Shop.METRIC, 1.0), ("bar", "Letter", Shop.INCH, 1.0), ("bar", "A4", Shop.INCH, 0.9),
         ("bar", "Letter", Shop.METRIC, 1.15), ("plain", "A4", Shop.METRIC, 1.0), ("plain", "Letter", Shop.INCH, 1.0),
         ("glider", "Letter", Shop.INCH, 1.0), ("lanternmere", "A4", Shop.METRIC, 1.0),
         ("lanternmere", "Letter", Shop.INCH, 1.0309), ("huge", "A4", Shop.METRIC, 1.0),
         ("huge", "Letter", Shop.INCH, 1.0)]  # fmt: skip


@pytest.mark.parametrize(("name", "paper", "shop", "factor"), CASES)
def test_no_words_lie_on_others_or_outside_the_frame(name: str, paper: PaperName, shop: Shop, factor: float) -> None:
    found_pages = pages_alone(name, paper, shop, factor)
    assert found_pages
    for page in found_pages:
        found = page.extract_words(keep_blank_chars=True, use_text_flow=True, x_tolerance=2.0)
        for word in found:
            assert word["x0"] >= 20.0 * MM, word["text"]
            assert word["x1"] <= page.width - 10.0 * MM, word["text"]
            assert word["top"] >= 10.0 * MM, word["text"]
            assert word["bottom"] <= page.height - 32.0 * MM, word["text"]  # above the title block
        for one, other in combinations(found, 2):
            across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
            down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
            assert across < 0.5 or down < 2.0, (page.page_number, one["text"], other["text"])


@pytest.mark.parametrize(("name", "paper", "shop", "factor"), CASES[:9])
def test_no_line_runs_off_the_sheet(name: str, paper: PaperName, shop: Shop, factor: float) -> None:
    for page in pages_alone(name, paper, shop, factor):
        for one in (*page.lines, *page.curves):
            assert one["x0"] >= 20.0 * MM - 0.1
            assert one["x1"] <= page.width - 10.0 * MM + 0.1
            assert one["top"] >= 10.0 * MM - 0.1
            assert one["bottom"] <= page.height - 32.0 * MM + 0.1
