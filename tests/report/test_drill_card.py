"""The drill cards read back from the PDF: every cross where the schedule has its hole, at true size."""

import datetime
import math
import re
from functools import cache
from pathlib import Path

import numpy as np
import pdfplumber
import pytest
from tests.report.read_pages import titled

from gudgeon.answers.check import check
from gudgeon.answers.drilling import Drilled, Drilling, drilling
from gudgeon.answers.papers import Papers, papers
from gudgeon.design.file import load
from gudgeon.design.model import Design
from gudgeon.physics.hull import section_outline
from gudgeon.report.card_views import CROSS
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.drill_card import SQUARE_CARD, TUB_CARD
from gudgeon.report.face_cards import FACE_CARD
from gudgeon.report.paper import MM, PaperName
from gudgeon.report.rows import Shop
from gudgeon.report.sheets import sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
THIN, WIDE, FOLD = 0.25 * MM, 0.5 * MM, 3.0 * MM
STEEL = {"weight": "0.5 g", "material": "stainless steel"}
ALL_ROUND: dict[str, object] = {
    "name": "Reedmace trial",
    "length": "120 mm",
    "outline": {"back": ["0 mm: 0 mm", "30 mm: 16 mm", "90 mm: 16 mm", "120 mm: 6 mm"],
                "side": ["0 mm: 0 mm", "30 mm: 14 mm", "90 mm: 14 mm", "120 mm: 6 mm"]},
    "wood": {"density": "0.4 g/cm3"},
    "water": {"kind": "fresh", "temperature": "20 C"},
    "aim": {"does": "floats", "reserve": "15 %"},
    "joint": [{"at": "70 mm", "gap": "1 mm", "face": "knuckle"}],
    "hinge": [{"joint": 1, "kind": "plate and pin"}],
    "harness": {"wire": "1.2 mm", "runs": "slot from the belly"},
    "lip": {"material": "polycarbonate", "exposed": "22 mm", "set_in": "13 mm", "width": "19 mm", "thickness": "2 mm",
            "angle": "55 deg", "at": "12 mm", "height": "-7 mm"},
    "fin": {"material": "polycarbonate", "length": "20 mm", "tall": "16 mm", "thickness": "1 mm", "at": "120 mm",
            "set_in": "8 mm"},
    "fitting": [
        {"name": "back ring", "kind": "eye", **STEEL, "at": "52 mm", "wire": "1.2 mm", "shank": "10 mm",
         "into": "back"},
        {"name": "left eye", "kind": "glass eye", "weight": "0.3 g", "material": "glass", "at": "20 mm",
         "height": "4 mm", "offset": "-8 mm"},
        {"name": "side eye", "kind": "screw eye", **STEEL, "at": "85 mm", "height": "3 mm", "wire": "1.2 mm",
         "shank": "8 mm", "into": "right"},
    ],
    "pocket": [{"name": "chest", "at": "38 mm", "bore": "8 mm"}, {"name": "vent", "at": "95 mm", "bore": "7 mm"}],
    "coat": [{"name": "clear", "thickness": "0.3 mm", "material": "epoxy"}],
}  # fmt: skip
CASES: list[tuple[str, PaperName, Shop, float]] = [
    ("lanternmere", "A4", Shop.METRIC, 1.0), ("lanternmere", "Letter", Shop.INCH, 1.0309),
    ("diver", "Letter", Shop.INCH, 1.0), ("glider", "A4", Shop.METRIC, 0.98), ("all round", "A4", Shop.METRIC, 1.0),
    ("all round", "Letter", Shop.INCH, 1.05),
]  # fmt: skip


@cache
def made(name: str) -> Papers:
    return papers(check(Design.model_validate(ALL_ROUND) if name == "all round" else load(EXAMPLES / f"{name}.toml")))


@cache
def schedule(name: str) -> Drilling:
    return drilling(made(name))


@cache
def printed(name: str, paper: PaperName, shop: Shop, factor: float) -> bytes:
    return sheets(made(name), stamp="89abcdef", shop=shop, paper=paper, correction=factor,
                  date=datetime.date(2024, 2, 29))  # fmt: skip


@cache
def cards(name: str, paper: PaperName, shop: Shop, factor: float, title: str) -> tuple[pdfplumber.page.Page, ...]:
    return titled(printed(name, paper, shop, factor), title)


def crosses(page: pdfplumber.page.Page, factor: float) -> np.ndarray:
    """Middles (k, 2) of all crosses [PDF units], y upward."""
    long = 2.0 * CROSS * factor * MM
    thin = [line for line in page.lines if abs(line["linewidth"] - THIN) < 1e-3 and not line["dash"][0]]
    level = [line for line in thin if abs(line["width"] - long) < 1e-3 and line["height"] < 1e-6]
    upright = [line for line in thin if abs(line["height"] - long) < 1e-3 and line["width"] < 1e-6]
    middles = [(0.5 * (line["x0"] + line["x1"]), line["y0"]) for line in level]
    uprights = {(round(line["x0"], 2), round(0.5 * (line["y0"] + line["y1"]), 2)) for line in upright}
    return np.array([one for one in middles if (round(one[0], 2), round(one[1], 2)) in uprights])


def folds(page: pdfplumber.page.Page) -> list[dict[str, float]]:
    return [line for line in page.lines if line["dash"][0] and abs(line["dash"][0][0] - FOLD) < 1e-3]


def corner(page: pdfplumber.page.Page, name: str, factor: float) -> tuple[float, float]:
    """Where the blank's nose end meets its belly edge on the card [PDF units].

    The left side stands on the belly fold, so of the level folds as long as the blank, it is the one under the others
    but for one that the right side hangs on, a whole belly lower.
    """
    blank = schedule(name).blank
    long = 1e3 * blank.length * factor * MM
    level = sorted((line["y0"], line["x0"]) for line in folds(page) if abs(line["width"] - long) < 1e-2)
    has_right = any(one.face == "right" and one.name != "right eye" for one in schedule(name).at("square"))
    y, x = level[1 if has_right else 0]
    return x, y


def unfolded(name: str, one: Drilled) -> tuple[float, float]:
    """Where a hole's mouth must lie on the card [mm]: from the nose end aft, and from the belly edge up.

    Told by folding: belly under the left side, the right side under the belly, the back over the left side, the ends
    beside it; each fold is an edge of the square blank.
    """
    blank, (x, y, z) = schedule(name).blank, one.mouth
    side, top = blank.back - blank.belly, 2.0 * blank.half
    aft, up, over = blank.from_end(x), z - blank.belly, y + blank.half
    in_joint = one.face in ("front", "rear") and any(abs(x - at) < 0.02 for at, _ in blank.joints)
    if in_joint:
        return 1e3 * 0.5 * (blank.from_end(x) + blank.from_end(one.end[0])), 1e3 * up
    if 0.0 < one.angle < 0.5 * math.pi:  # a saw aslant, from wherever its line leaves the square
        steps = np.linspace(0.0, 0.2, 2_000_001)
        ahead, under = aft - steps * math.cos(one.angle), up - steps * math.sin(one.angle)
        place = int(np.argmax((ahead < 0.0) | (under < 0.0)))
        if ahead[place] < 0.0:
            return -1e3 * over, 1e3 * float(under[place])
        return 1e3 * float(ahead[place]), -1e3 * over
    return {
        "left": (1e3 * aft, 1e3 * up), "belly": (1e3 * aft, -1e3 * over), "back": (1e3 * aft, 1e3 * (side + over)),
        "right": (1e3 * aft, -1e3 * (top + up)), "front": (-1e3 * over, 1e3 * up),
        "rear": (1e3 * (blank.length + over), 1e3 * up),
    }[one.face]  # fmt: skip


@pytest.mark.parametrize(("name", "paper", "shop", "factor"), CASES)
def test_every_cross_is_where_the_schedule_has_its_hole(name, paper, shop, factor):
    found = cards(name, paper, shop, factor, SQUARE_CARD)
    assert found
    for page in found:
        start = np.array(corner(page, name, factor))
        seen = (crosses(page, factor) - start) / (factor * MM)
        holes = [one for one in schedule(name).at("square") if one.name != "right eye"]
        wanted = np.array([unfolded(name, one) for one in holes])
        assert len(seen) == len(wanted)
        for one, place in zip(holes, wanted, strict=True):
            assert np.min(np.hypot(*(seen - place).T)) < 0.05, one.name


@pytest.mark.parametrize(("name", "paper", "shop", "factor"), CASES)
def test_every_mark_tells_number_bit_stop_and_angle(name, paper, shop, factor):
    told = " ".join(" ".join(page.extract_text().split()) for page in cards(name, paper, shop, factor, SQUARE_CARD))
    for one in schedule(name).at("square"):
        if one.name == "right eye":
            assert "both sides" in told
            continue
        in_joint = one.face in ("front", "rear") and any(abs(one.mouth[0] - at) < 0.02 for at, _ in
                                                         schedule(name).blank.joints)  # fmt: skip
        metric = shop is Shop.METRIC
        deep = one.depth(metric=metric) if in_joint else schedule(name).stop_depth(one, metric=metric)
        stop = f"{'long' if in_joint else 'stop'} {depth_figure(deep, shop)}"
        angle = f"{round(math.degrees(one.angle), 1):g} deg"
        parted = re.search(rf"{re.escape(stop)}(?![\d./])", told) and f" {angle}" in told  # in a narrow place
        assert f"{stop}, {angle}" in told or parted, one.name
        if one.bits is not None:
            bit = one.bits.metric if metric else one.bits.fraction or one.bits.number or one.bits.letter
            assert bit is None or f"{one.number} {bit}" in told or f"{one.number}, {one.number + 1} {bit}" in told


@pytest.mark.parametrize(("name", "paper", "shop", "factor"), CASES)
def test_what_waits_for_the_tub_is_on_no_sheet_of_the_square_blank(name, paper, shop, factor):
    for title in (SQUARE_CARD, FACE_CARD, TUB_CARD):
        for page in cards(name, paper, shop, factor, title):
            assert sum(other in page.extract_text() for other in (SQUARE_CARD, FACE_CARD, TUB_CARD)) == 1


@pytest.mark.parametrize(("name", "paper", "shop", "factor"), [case for case in CASES if case[0] != "diver"])
def test_crosses_on_the_joint_faces_stand_true_on_their_outlines(name, paper, shop, factor):
    bare = made(name).check.lure.bare_hull
    wanted = []
    for one in schedule(name).at("apart"):
        bottom = 1e3 * float(section_outline(bare, one.mouth[0], 128)[:, 1].min())
        way = 1.0 if one.face == "rear" else -1.0  # seen from behind the right is on the right
        wanted.append((way * 1e3 * one.mouth[1], 1e3 * one.mouth[2] - bottom))
    seen = []
    for page in cards(name, paper, shop, factor, FACE_CARD):
        outlines = [curve for curve in page.curves if abs(curve["linewidth"] - WIDE) < 1e-3]
        for x, y in crosses(page, factor):
            own = next(one for one in outlines if one["x0"] < x < one["x1"] and one["y0"] < y < one["y1"])
            seen.append(((x - 0.5 * (own["x0"] + own["x1"])) / (factor * MM), (y - own["y0"]) / (factor * MM)))
    cups = sum("cup" in one.name for one in schedule(name).at("apart"))  # an eye's hole lies in the bottom of its cup
    assert len(seen) == len(wanted) - cups > 0
    for place in wanted:
        assert min(math.dist(place, one) for one in seen) < 0.05


@pytest.mark.parametrize(("name", "paper", "shop", "factor"), CASES)
def test_the_last_hole_s_cross_stands_true_on_its_own_piece(name, paper, shop, factor):
    (page,) = cards(name, paper, shop, factor, TUB_CARD)
    (one,) = schedule(name).at("after the tub")
    lure = made(name).check.lure
    ((x, y),) = crosses(page, factor)
    edges = [line for line in page.lines if abs(line["linewidth"] - WIDE) < 1e-3 and line["height"] > 5.0 * MM
             and line["x0"] < page.width - 100.0 * MM and line["y0"] > 40.0 * MM]  # fmt: skip
    left = min(line["x0"] for line in edges)
    names = [segment.name for segment in lure.segments]
    place = names.index(one.pieces[0])
    (fold,) = folds(page)
    aft = (x - left) / (factor * MM)
    half = (fold["y0"] - y) / (factor * MM)
    told = page.extract_text()
    assert f"{figure(one.mouth[0], shop)} from the nose" in told
    start = lure.bare_hull.start if place == 0 else None
    if start is not None:
        assert aft == pytest.approx(1e3 * (one.mouth[0] - start), abs=0.05)
    else:  # from the bare face of the joint ahead: its half of the gap that is cut
        assert 0.0 < 1e3 * (one.mouth[0] - made(name).check.design.joints[place - 1].at) - aft < 3.0
        assert f"{figure(1e-3 * aft, shop)} from its end" in told
    stations = np.linspace(
        one.mouth[0] - 1e-3 * aft, one.mouth[0] - 1e-3 * aft + 1e-3 * fold["width"] / (factor * MM), 400
    )
    widest = float(lure.bare_hull.side(np.clip(stations, lure.bare_hull.start, lure.bare_hull.stop)).max())
    assert half == pytest.approx(1e3 * (widest + one.mouth[1]), abs=0.05)


def test_sheets_of_one_card_are_joined_letter_to_letter():
    first, second = cards("lanternmere", "A4", Shop.METRIC, 1.0, SQUARE_CARD)
    offsets = []
    for page in (first, second):
        assert "join AA to AA" in page.extract_text()
        dashed = [line for line in page.lines if len(line["dash"][0]) == 6 and line["width"] < 1e-6]
        offsets.append(dashed[0]["x0"] - corner(page, "lanternmere", 1.0)[0])
    assert offsets[0] == pytest.approx(offsets[1], abs=0.01 * MM)


def test_the_square_blank_is_drawn_at_its_size():
    for name in ("diver", "glider"):
        (page,) = cards(name, "A4", Shop.METRIC, 1.0, SQUARE_CARD)
        blank = schedule(name).blank
        wide = [line for line in page.lines if abs(line["linewidth"] - WIDE) < 1e-3]
        x, y = corner(page, name, 1.0)
        tall = [line["height"] / MM for line in wide if line["width"] < 1e-6]
        assert any(abs(one - 1e3 * (blank.back - blank.belly)) < 0.05 for one in tall)
        assert any(abs(one - 2e3 * blank.half) < 0.05 for one in tall)
        assert any(abs(line["x0"] - x) < 0.01 and abs(line["y1"] - y) < 0.01 for line in wide)
        told = page.extract_text()
        for words in ("nose end", "belly edge: fold here", "back edge"):
            assert words in told
