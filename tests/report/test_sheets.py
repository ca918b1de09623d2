"""The papers as a whole, read back from the PDF: true sizes, the same figures as the rows, nothing over anything."""

import datetime
import re
from functools import cache
from io import BytesIO
from itertools import combinations
from pathlib import Path

import pdfplumber
import pytest
from tests.report.read_pages import titled

from gudgeon.answers.check import check
from gudgeon.answers.drilling import drilling
from gudgeon.answers.papers import Papers, papers
from gudgeon.design.file import load
from gudgeon.report.check_rows import check_rows, headline
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.paper import MM, PaperName
from gudgeon.report.rows import Measure, Shop, row, slug
from gudgeon.report.sentences import said
from gudgeon.report.sheets import sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
WIDE = 0.5 * MM  # what bare wood is drawn with


@cache
def made(name: str) -> Papers:
    return papers(check(load(EXAMPLES / f"{name}.toml")))


@cache
def printed(name: str, paper: PaperName, shop: Shop, correction: float = 1.0) -> bytes:
    return sheets(made(name), stamp="89abcdef", shop=shop, paper=paper, correction=correction,
                  date=datetime.date(2024, 2, 29))  # fmt: skip


@cache
def pages(name: str, paper: PaperName, shop: Shop) -> tuple[pdfplumber.page.Page, ...]:
    return tuple(pdfplumber.open(BytesIO(printed(name, paper, shop))).pages)


@cache
def words(name: str, paper: PaperName, shop: Shop) -> str:
    """Everything, then the summary again down one column after the other."""
    found = [page.extract_text() for page in pages(name, paper, shop)]
    for page in pages(name, paper, shop)[:2]:
        middle = 0.5 * (page.width + 10.0 * MM)
        found += [page.crop(box).extract_text() for box in ((0, 0, middle, page.height),
                                                            (middle, 0, page.width, page.height))]  # fmt: skip
    return " ".join(" ".join(found).split())


@cache
def sheets_of(
    name: str, paper: PaperName, shop: Shop, correction: float = 1.0, what: str = "Template"
) -> tuple[pdfplumber.page.Page, ...]:
    return titled(printed(name, paper, shop, correction), what)


def bare_outline(page: pdfplumber.page.Page, place: int = 0) -> dict[str, float]:
    """A wide closed outline with many corners: the body's, side view first."""
    bodies = [curve for curve in page.curves if abs(curve["linewidth"] - WIDE) < 1e-3 and len(curve["pts"]) > 300]
    return bodies[place]


CASES = [("lanternmere", "A4", Shop.METRIC), ("diver", "Letter", Shop.INCH), ("glider", "Letter", Shop.INCH),
         ("lanternmere", "Letter", Shop.INCH), ("glider", "A4", Shop.METRIC)]  # fmt: skip


@pytest.mark.parametrize(("name", "paper", "shop"), CASES)
def test_every_row_and_finding_is_on_the_papers(name: str, paper: PaperName, shop: Shop) -> None:
    told, answer = words(name, paper, shop), made(name).check
    missing = [one.name for one in check_rows(answer, shop) if " ".join(one.shown.split()) not in told]
    assert not missing
    assert headline(answer, shop) in told
    for finding in answer.findings:
        assert said(finding, shop) in told


@pytest.mark.parametrize("factor", [1.0, 1.0309])
def test_side_outline_is_as_long_and_deep_as_the_wood(factor: float) -> None:
    size = made("lanternmere").check.bare_size
    outline = bare_outline(sheets_of("lanternmere", "A4", Shop.METRIC, factor)[0])
    assert outline["width"] / MM == pytest.approx(factor * 1e3 * size.length, abs=0.05)
    assert outline["height"] / MM == pytest.approx(factor * 1e3 * size.depth, abs=0.05)


def test_side_and_top_stand_over_one_another() -> None:
    sheet = sheets_of("diver", "A4", Shop.METRIC)[0]
    side, top = bare_outline(sheet), bare_outline(sheet, 1)
    size = made("diver").check.bare_size
    assert top["width"] / MM == pytest.approx(1e3 * size.length, abs=0.05)
    assert top["height"] / MM == pytest.approx(1e3 * size.width, abs=0.05)
    assert side["x0"] == pytest.approx(top["x0"], abs=1e-3)
    assert side["bottom"] < top["top"]


def test_the_correction_scales_the_drawing_and_not_the_sheet() -> None:
    plain, larger = (sheets_of("diver", "A4", Shop.METRIC, factor)[0] for factor in (1.0, 1.0309))
    assert (plain.width, plain.height) == (larger.width, larger.height)
    for place in (0, 1):
        one, other = bare_outline(plain, place), bare_outline(larger, place)
        assert other["width"] / one["width"] == pytest.approx(1.0309, abs=2e-5)
        assert other["height"] / one["height"] == pytest.approx(1.0309, abs=5e-5)


def test_tiles_meet_on_their_join_line() -> None:
    first, second = sheets_of("lanternmere", "A4", Shop.METRIC, what="Template, side: tile")
    joins = []
    for page in (first, second):
        long = [line for line in page.lines if line["width"] < 1e-6 and line["height"] > 60 * MM]
        dashed = [line for line in long if len(line["dash"][0]) == 6]
        assert len(dashed) == 1
        assert "join P to P" in page.extract_text()
        joins.append(dashed[0]["x0"] - bare_outline(page)["x0"])
    assert joins[0] == pytest.approx(joins[1], abs=0.01 * MM)
    assert 0.0 < joins[0] / MM < 240.0


def test_every_true_scale_sheet_has_its_bars_and_every_sheet_its_number() -> None:
    found = pages("lanternmere", "Letter", Shop.INCH)
    for place, page in enumerate(found, start=1):
        told = page.extract_text()
        assert f"{place} of {len(found)}" in told
        assert "89abcdef" in told
        assert "2024-02-29" in told
        assert ("Measure this first" in told) == (page.width > page.height)
        if page.width > page.height:
            assert any(abs(line["width"] / MM - 100.0) < 0.01 for line in page.lines)


@pytest.mark.parametrize(("name", "paper", "shop"), CASES[:3])
def test_the_hole_table_is_the_model(name: str, paper: PaperName, shop: Shop) -> None:
    sheet = sheets_of(name, paper, shop, what="Holes and what goes in them")[0].extract_text()
    for place, hole in enumerate(made(name).holes, start=1):
        bit = hole.metric_bit if shop is Shop.METRIC else hole.inch_bit
        first = hole.name.split()[0]
        line = next(line for line in sheet.splitlines() if line.startswith(f"{place} {first}"))
        depths = (depth_figure(bit.depth, shop), depth_figure(bit.depth - hole.coat, shop))
        for figured in (figure(hole.pocket.mouth[0], shop), *depths, figure(hole.wall, shop)):
            assert re.search(rf"(?<![\d/]){re.escape(figured)}(?![\d/])", line)
        assert row("", "", hole.mass, Measure.MASS, shop).shown in line
        assert hole.face in line
        assert bit.name in line


@pytest.mark.parametrize(("name", "paper", "shop"), CASES[:3])
def test_a_hole_is_as_deep_on_every_sheet(name: str, paper: PaperName, shop: Shop) -> None:
    """Sections, drill schedule and the table of holes; from the finished skin the table and the check's own row."""
    told, found = words(name, paper, shop), made(name)
    rows = {row.name: row.shown for row in check_rows(found.check, shop)}
    for hole in found.holes:
        bit = hole.metric_bit if shop is Shop.METRIC else hole.inch_bit
        bare = depth_figure(bit.depth - hole.coat, shop)
        assert re.search(rf"{re.escape(bit.name)} bit, {re.escape(bare)} deep in bare wood", told), hole.name
        drilled = next(one for one in drilling(found).holes if one.name == hole.name)
        assert depth_figure(drilled.depth(metric=shop is Shop.METRIC), shop) == bare
        assert rows[f"pocket.{slug(hole.name)}.depth"].removesuffix(" in").removesuffix(" mm").strip() == depth_figure(
            bit.depth, shop)  # fmt: skip


def test_the_last_hole_is_drilled_after_the_tub_and_its_ballast_taped_on_till_then() -> None:
    told, last = words("lanternmere", "A4", Shop.METRIC), made("lanternmere").holes[-1]
    assert last.taped is not None
    taped = row("", "", last.taped, Measure.MASS, Shop.METRIC).shown
    assert f"{last.name} waits for the tub test: it is not drilled now" in told
    assert f"with {taped} of lead taped outside over the mark of {last.name}" in told
    fill, tub, drill = (
        told.index(words) for words in ("Fill and plug: ", "Tub test (leaded", "Drill the last ballast")
    )
    assert fill < tub < drill
    assert last.name not in told[fill:].partition(".")[0]


def test_weights_are_expected_at_every_stage() -> None:
    sheet = sheets_of("lanternmere", "A4", Shop.METRIC, what="Weights, stage by stage")[0].extract_text()
    stages = made("lanternmere").stages
    for stage in stages:
        shown = row("", "", stage.whole, Measure.MASS, Shop.METRIC).shown
        assert any(line.startswith(stage.stage) and shown in line for line in sheet.splitlines())
        assert sum(piece.value for piece in stage.pieces) == pytest.approx(stage.whole.value)
    assert stages[-1].whole.value == pytest.approx(made("lanternmere").check.rate.mass.value)
    assert stages[0].whole.value == pytest.approx(made("lanternmere").check.blank.value)


def test_cautions_are_on_the_papers() -> None:
    told = words("lanternmere", "A4", Shop.METRIC)
    for warned in ("check your local law", "Great Britain", "between about 0.06 g and 28.35 g", "2 mg/m3",
                   "Cedar, western red", "nitrile gloves", "Fit hooks last"):  # fmt: skip
        assert warned in told


@pytest.mark.parametrize(("name", "paper", "shop"), CASES)
def test_no_words_lie_on_others_or_outside_the_frame(name: str, paper: PaperName, shop: Shop) -> None:
    for page in pages(name, paper, shop):
        found = page.extract_words(keep_blank_chars=True, use_text_flow=True, x_tolerance=2.0)
        for word in found:
            assert word["x0"] >= 20.0 * MM
            assert word["x1"] <= page.width - 10.0 * MM
            assert word["top"] >= 10.0 * MM
            assert word["bottom"] <= page.height - 10.0 * MM
        for one, other in combinations(found, 2):
            across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
            down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
            assert across < 0.5 or down < 2.0, (page.page_number, one["text"], other["text"])
        assert min(char["size"] for char in page.chars) >= 8.0 - 1e-6


def test_black_on_white_alone() -> None:
    for page in pages("lanternmere", "A4", Shop.METRIC):
        inks = {one["non_stroking_color"] for one in page.chars} | {one["stroking_color"] for one in page.lines}
        assert all(ink in (0, None) or not any(ink) for ink in inks)
