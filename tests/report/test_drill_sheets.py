"""The drill schedule read back from the PDF: the same numbers as the model, and nothing over anything."""

import datetime
from functools import cache
from itertools import combinations

import pdfplumber
import pytest
from tests.report.read_pages import titled

from gudgeon.answers.check import check
from gudgeon.answers.drilling import Drilled, Drilling, drilling
from gudgeon.answers.papers import Papers, papers
from gudgeon.design.model import Design
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.drill_sheets import APART, ENDS, SQUARE, TUB
from gudgeon.report.paper import MM, PaperName
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.sheets import sheets

STEEL = {"weight": "0.5 g", "material": "stainless steel"}
LURE: dict[str, object] = {
    "name": "Reedmace trial",
    "length": "160 mm",
    "outline": {"back": ["0 mm: 0 mm", "40 mm: 18 mm", "120 mm: 18 mm", "160 mm: 4 mm"],
                "side": ["0 mm: 0 mm", "40 mm: 12 mm", "120 mm: 12 mm", "160 mm: 4 mm"]},
    "wood": {"density": "0.5 g/cm3"},
    "water": {"kind": "fresh", "temperature": "20 C"},
    "aim": {"does": "sinks", "rate": "3 s/ft"},
    "joint": [{"at": "90 mm", "gap": "1 mm", "front_bevel": "12 deg", "rear_bevel": "15 deg"}],
    "hinge": [{"joint": 1, "kind": "plate and pin"}],
    "lip": {"material": "polycarbonate", "exposed": "22 mm", "set_in": "13 mm", "width": "19 mm", "thickness": "2 mm",
            "angle": "40 deg", "at": "12 mm", "height": "-7 mm"},
    "fin": {"material": "polycarbonate", "length": "20 mm", "tall": "20 mm", "thickness": "1 mm", "at": "160 mm",
            "set_in": "8 mm"},
    "fitting": [
        {"name": "front hanger", "kind": "screw eye", **STEEL, "at": "62 mm", "wire": "1.8 mm", "shank": "14 mm",
         "into": "belly"},
        {"name": "back ring", "kind": "eye", **STEEL, "at": "72 mm", "wire": "1.2 mm", "shank": "10 mm",
         "into": "back", "shank_is": "twisted"},
        {"name": "tow eye", "kind": "tow eye", **STEEL, "at": "1 mm", "height": "3 mm"},
        {"name": "left eye", "kind": "glass eye", "weight": "0.3 g", "material": "glass", "at": "20 mm",
         "height": "4 mm", "offset": "-8 mm"},
        {"name": "loose eye", "kind": "screw eye", **STEEL, "at": "130 mm", "height": "2 mm"},
    ],
    "pocket": [{"name": "chest", "at": "45 mm", "bore": "10 mm"}, {"name": "vent", "at": "115 mm", "bore": "8 mm"}],
    "coat": [{"name": "clear", "thickness": "0.3 mm", "material": "epoxy"}],
}  # fmt: skip
CASES: list[tuple[PaperName, Shop]] = [("A4", Shop.METRIC), ("Letter", Shop.INCH)]


@cache
def made() -> Papers:
    return papers(check(Design.model_validate(LURE)))


@cache
def schedule() -> Drilling:
    return drilling(made())


@cache
def pages(paper: PaperName, shop: Shop) -> tuple[pdfplumber.page.Page, ...]:
    pdf = sheets(made(), stamp="89abcdef", shop=shop, paper=paper, date=datetime.date(2024, 2, 29))
    return titled(pdf, "Drill schedule")


@cache
def lines(paper: PaperName, shop: Shop, title: str) -> tuple[str, ...]:
    return tuple(line for page in pages(paper, shop) if title in page.extract_text()
                 for line in page.extract_text().splitlines())  # fmt: skip


def figures(one: Drilled, title: str, paper: PaperName, shop: Shop) -> str:
    """The line of figures under a hole's own line."""
    told = lines(paper, shop, title)
    place = next(place for place, line in enumerate(told) if line.startswith(f"{one.number} {one.name}: "))
    assert one.pieces[0] in told[place]
    assert one.face in told[place] or one.face in ("front", "rear")
    return told[place + 1]


def across(one: Drilled, shop: Shop) -> str:
    wide = row("", "", one.wide, Measure.WIRE, shop)
    return wide.shown.removesuffix(wide.unit).strip()


def sized(one: Drilled, shop: Shop) -> str:
    """Size and bits, or a slot's two sizes, then the depth in bare wood."""
    deep = depth_figure(one.depth(metric=shop is Shop.METRIC), shop)
    if one.bits is None:
        return f"{across(one, shop)} {figure(one.long, shop)} {deep}"
    other = ", ".join(name for name in (one.bits.number, one.bits.letter) if name) or "-"
    fraction, metric = ((bit or "-").removesuffix(unit)
                        for bit, unit in ((one.bits.fraction, " in"), (one.bits.metric, " mm")))  # fmt: skip
    return f"{across(one, shop)} {fraction} {other} {metric} {deep}"


@pytest.mark.parametrize(("paper", "shop"), CASES)
def test_the_square_sheet_is_the_model(paper: PaperName, shop: Shop) -> None:
    blank = schedule().blank
    assert {one.name for one in schedule().at("square")} >= {"front hanger", "back ring", "left eye", "lip's slot",
                                                           "fin's slot"}  # fmt: skip
    for one in schedule().at("square"):
        edge, name = one.mouth[2] - blank.belly, "belly"
        if one.face == "back":
            edge, name = blank.back - one.mouth[2], "back"
        stop = schedule().stop_depth(one, metric=shop is Shop.METRIC)
        angle = {"lip's slot": "40"}.get(one.name, "0" if one.face in ("front", "rear") else "90")
        aside = f"{figure(-one.mouth[1], shop)} left" if one.name == "left eye" else "0"
        wanted = (f"{sized(one, shop)} {depth_figure(stop, shop)} {angle} {figure(blank.from_end(one.mouth[0]), shop)} "
                  f"{figure(edge, shop)} {name} {aside}")  # fmt: skip
        assert figures(one, SQUARE, paper, shop) == wanted


@pytest.mark.parametrize(("paper", "shop"), CASES)
def test_a_pilot_too_deep_through_the_square_end_is_drilled_from_the_sawn_one(paper: PaperName, shop: Shop) -> None:
    """The usual shank, 12 mm, from 1 mm behind the nose: 13 mm from the sawn end, less the coats."""
    (one,) = schedule().at("shaped")
    stop = schedule().stop_depth(one, metric=shop is Shop.METRIC)
    assert one.name == "tow eye"
    assert stop == pytest.approx(0.013 - made().check.lure.bare_hull.start, abs=1e-6)
    wanted = f"{sized(one, shop)} {depth_figure(stop, shop)} {figure(one.mouth[2], shop)} up 0"
    assert figures(one, ENDS, paper, shop) == wanted
    assert any("clear it often" in line for line in lines(paper, shop, ENDS))


def test_a_hole_longer_than_its_bit_goes_is_told_how_to_reach() -> None:
    """Past 12 times the width: common practice, no source."""
    told, seen = lines("A4", Shop.METRIC, SQUARE), []
    for one in schedule().at("square"):
        place = next(place for place, line in enumerate(told) if line.startswith(f"{one.number} {one.name}: "))
        stop = schedule().stop_depth(one, metric=True)
        is_long = one.kind == "hole" and stop > 12.0 * one.wide
        assert told[place + 2].startswith("Deeper than 12 times its width") == is_long, one.name
        if is_long:
            assert f"drill the {figure(stop - one.depth(metric=True), Shop.METRIC)} mm of waste" in told[place + 2]
        seen.append(is_long)
    assert {True, False} == set(seen)


@pytest.mark.parametrize(("paper", "shop"), CASES)
def test_the_sheet_of_the_pieces_apart_is_the_model(paper: PaperName, shop: Shop) -> None:
    assert schedule().at("apart")
    for one in schedule().at("apart"):
        side = "up" if one.mouth[2] > 0.0 else "down"
        wanted = f"{sized(one, shop)} 0 {figure(abs(one.mouth[2]), shop)} {side} 0"
        assert figures(one, APART, paper, shop) == wanted
        assert any(f"{one.name}: {one.lies}, into the {one.face} face of the {one.pieces[0]}" in line
                   for line in lines(paper, shop, APART))  # fmt: skip


@pytest.mark.parametrize(("paper", "shop"), CASES)
def test_the_last_hole_is_the_model_and_on_a_sheet_of_its_own(paper: PaperName, shop: Shop) -> None:
    (one,) = schedule().at("after the tub")
    wanted = f"{sized(one, shop)} 90 {figure(one.mouth[0], shop)} 0"
    assert figures(one, TUB, paper, shop) == wanted
    assert not any(f"{one.name}: " in line for line in (*lines(paper, shop, SQUARE), *lines(paper, shop, APART)))
    told = " ".join(lines(paper, shop, TUB))
    assert schedule().last is not None
    hole = made().holes[-1]
    for mass in (hole.mass, hole.taped):
        assert mass is not None
        assert row("", "", mass, Measure.MASS, shop).shown in told
    assert not any(f"{other.name}: " in told for other in schedule().at("square"))


def test_the_blank_and_what_a_joint_costs_are_told() -> None:
    told = " ".join(lines("A4", Shop.METRIC, SQUARE))
    blank = schedule().blank
    for length in (blank.length, blank.back - blank.belly, 2.0 * blank.half, -blank.belly, blank.back):
        assert f"{figure(length, Shop.METRIC)} mm" in told
    ((_, extra),) = blank.joints
    assert extra > 1e-4
    assert f"Behind joint 1 all lies {figure(extra, Shop.METRIC)} mm further" in told


def test_what_is_not_told_is_named() -> None:
    told = " ".join(lines("A4", Shop.METRIC, SQUARE))
    assert "loose eye: write into and shank" in told
    ends = " ".join(lines("A4", Shop.METRIC, ENDS))
    assert "tow eye: from the nose end, in the head; size not told, the usual one" in ends


@pytest.mark.parametrize(("paper", "shop"), CASES)
def test_no_words_lie_on_others_or_outside_the_frame(paper: PaperName, shop: Shop) -> None:
    assert len(pages(paper, shop)) == 4
    for page in pages(paper, shop):
        found = page.extract_words(keep_blank_chars=True, use_text_flow=True, x_tolerance=2.0)
        for word in found:
            assert word["x0"] >= 20.0 * MM
            assert word["x1"] <= page.width - 10.0 * MM
            assert word["bottom"] <= page.height - 10.0 * MM
        for one, other in combinations(found, 2):
            over = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
            down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
            assert over < 0.5 or down < 2.0, (one["text"], other["text"])
