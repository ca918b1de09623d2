"""The lure drawn apart, read back from the PDF: every number in the bill and the reverse, balloons clear of all."""

import math
import re
from functools import cache
from io import BytesIO
from itertools import combinations, pairwise
from pathlib import Path

import pdfplumber
import pytest

from gudgeon.answers.bill import bill
from gudgeon.answers.check import check
from gudgeon.answers.exploding import exploded
from gudgeon.answers.papers import Papers, papers
from gudgeon.design.file import load, parse
from gudgeon.report.balloons import PITCH, RADIUS, Called, band, held, room_for, shared_out, thinned
from gudgeon.report.exploded import exploded_sheets
from gudgeon.report.paper import MM, PaperName, bound, frame_of
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.spacing import spread_out

EXAMPLES = Path(__file__).parents[2] / "examples"
LONG = "".join(
    f'[[joint]]\nat = "{60 + 40 * place} mm"\ngap = "2 mm"\nfront_bevel = "15 deg"\nrear_bevel = "15 deg"\n'
    f'pivot = "4 mm"\n[[hinge]]\njoint = {place + 1}\nkind = "eyes on a pin"\nburied = "10 mm"\n'
    for place in range(12)
)
SNAKE = f"""
name = "Snake"
length = "560 mm"
[outline]
back = ["0 mm: 14 mm", "560 mm: 14 mm"]
side = ["0 mm: 12 mm", "560 mm: 12 mm"]
[wood]
density = "0.4 g/cm3"
{LONG}
[water]
temperature = "10 C"
[aim]
does = "floats"
reserve = "20 %"
"""
NAMES = ("lanternmere", "glider", "diver", "snake")


@cache
def made(name: str) -> Papers:
    return papers(check(parse(SNAKE) if name == "snake" else load(EXAMPLES / f"{name}.toml")))


@cache
def pages(name: str, paper: PaperName) -> tuple[pdfplumber.page.Page, ...]:
    sheets = exploded_sheets(made(name), frame_of(paper, lying=False), Shop.METRIC)
    return tuple(pdfplumber.open(BytesIO(bound(sheets, paper, title=name))).pages)


def balloons(page: pdfplumber.page.Page) -> list[dict[str, float]]:
    return [curve for curve in page.curves if abs(curve["width"] / MM - 2.0 * RADIUS) < 0.05
            and abs(curve["height"] / MM - 2.0 * RADIUS) < 0.05 and len(curve["pts"]) > 40
            and said_in(page, curve)]  # fmt: skip


def said_in(page: pdfplumber.page.Page, ring: dict[str, float]) -> str:
    return "".join(char["text"] for char in page.chars if ring["x0"] < char["x0"] and char["x1"] < ring["x1"]
                   and ring["top"] < char["top"] and char["bottom"] < ring["bottom"])  # fmt: skip


def middle(ring: dict[str, float]) -> tuple[float, float]:
    return 0.5 * (ring["x0"] + ring["x1"]), 0.5 * (ring["top"] + ring["bottom"])


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", NAMES)
def test_every_number_is_in_the_bill_and_the_reverse(name: str, paper: PaperName) -> None:
    answer = made(name)
    lines = {line.number for line in bill(answer.check.design, answer.check.lure).lines}
    marks = {said_in(pages(name, paper)[0], ring) for ring in balloons(pages(name, paper)[0])}
    assert {int(re.match(r"\d+", mark).group()) for mark in marks} == lines  # type: ignore[union-attr]
    listed = {entry.mark for entry in exploded(answer).entries}
    assert marks == listed


@pytest.mark.parametrize("name", NAMES)
def test_a_line_of_the_bill_weighs_what_its_parts_do(name: str) -> None:
    answer, entries = made(name), exploded(made(name)).entries
    for line in bill(answer.check.design, answer.check.lure).lines:
        parts = [entry.mass for entry in entries if entry.number == line.number and entry.mass is not None]
        assert math.fsum(parts) == pytest.approx(line.mass, rel=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_the_list_has_words_material_weight_and_count_of_every_part(name: str) -> None:
    told = [line for page in pages(name, "A4") for line in page.extract_text().splitlines()]
    for entry in exploded(made(name)).entries:
        line = next(line for line in told if line.startswith(f"{entry.mark} {entry.words.split()[0]}"))
        assert entry.material.split()[0] in line
        weighs = "with its hook" if entry.mass is None else row("", "", entry.mass, Measure.MASS, Shop.METRIC).shown
        assert weighs in line
        assert line.endswith(str(entry.count) if entry.count else "by weight")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", NAMES)
def test_no_two_balloons_touch_and_none_lies_on_the_drawing(name: str, paper: PaperName) -> None:
    page = pages(name, paper)[0]
    rings = balloons(page)
    assert rings
    for one, other in combinations(rings, 2):
        assert math.dist(middle(one), middle(other)) > 2.0 * RADIUS * MM
    others = [curve for curve in (*page.curves, *page.lines) if curve not in rings]
    for ring in rings:
        for curve in others:
            for start, stop in zip(curve["pts"], curve["pts"][1:], strict=False):
                for share in (0.0, 0.25, 0.5, 0.75, 1.0):
                    point = (start[0] + share * (stop[0] - start[0]), start[1] + share * (stop[1] - start[1]))
                    assert math.dist(point, middle(ring)) > (RADIUS - 0.05) * MM


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", NAMES)
def test_nothing_runs_out_of_the_frame(name: str, paper: PaperName) -> None:
    for page in pages(name, paper):
        for one in (*page.lines, *page.curves, *page.chars):
            assert one["x0"] >= 20.0 * MM
            assert one["x1"] <= page.width - 10.0 * MM
            assert one["top"] >= 10.0 * MM
            assert one["bottom"] <= page.height - 32.0 * MM


def test_the_scale_is_told_and_true() -> None:
    for name, words in (("diver", "scale 1:1.5"), ("glider", "scale 1:2")):
        page = pages(name, "A4")[0]
        assert words in page.extract_text()
        scale = float(words.partition(":")[2])
        wide = [curve["width"] / MM for curve in page.curves if abs(curve["linewidth"] - 0.5 * MM) < 1e-3
                and len(curve["pts"]) > 100]  # fmt: skip
        wood = [part.box for part in exploded(made(name)).parts if part.shape.pull is None]
        assert max(wide) == pytest.approx(max(1e3 * (right - left) for left, _, right, _ in wood) / scale, abs=0.05)


@pytest.mark.parametrize("name", NAMES)
def test_what_is_pulled_out_lies_clear_of_all_else(name: str) -> None:
    boxes = [(part.mark, part.box, part.shape.pull) for part in exploded(made(name)).parts]
    for (mark, one, pull), (other_mark, other, other_pull) in combinations(boxes, 2):
        if pull is not None or other_pull is not None:
            apart = max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3])
            assert apart >= 0.0, (mark, other_mark)


def test_pieces_stand_in_order_with_their_hinges_between() -> None:
    parts = exploded(made("lanternmere")).parts
    wood = [part.box for part in parts if part.shape.pull is None]
    assert all(before[2] < after[0] for before, after in pairwise(wood))
    eyes = [part.box for part in parts if part.shape.name.startswith("hinge 1:") and "eye" in part.shape.name]
    assert all(wood[0][2] < eye[0] and eye[2] < wood[1][0] for eye in eyes)


def test_balloons_that_are_too_many_keep_each_number_once() -> None:
    called = [Called((float(place), 0.0), str(place % 10)) for place in range(50)]
    assert thinned(called, 50) == called
    kept = thinned(called, 20)
    assert sorted(one.mark for one in kept) == sorted({one.mark for one in called})
    assert [one.at[0] for one in kept] == sorted(one.at[0] for one in kept)


def test_a_full_band_is_shared_with_the_other() -> None:
    wide = 100.0
    called = [Called((float(place), 5.0), str(place)) for place in range(room_for(wide) + 3)]
    over, under = shared_out(called, 0.0, wide)
    assert len(over) <= room_for(wide)
    assert min(len(over), len(under)) >= 0.4 * len(called)
    assert {one.mark for one in (*over, *under)} == {one.mark for one in called}
    few = called[:5]
    assert shared_out(few, 0.0, wide) == (few, [])


def test_a_band_is_as_close_as_may_be_and_inside_its_ends() -> None:
    called = [Called((50.0, 0.0), str(place)) for place in range(room_for(100.0))]
    found = band(called, 10.0, (0.0, 100.0), up=True)
    assert all(RADIUS - 1e-9 <= one.middle[0] <= 100.0 - RADIUS + 1e-9 for one in found)
    assert all(math.dist(one.middle, other.middle) > 2.0 * RADIUS for one, other in combinations(found, 2))
    for one, other in combinations(found, 2):  # no leader through another's ring
        if one.middle[1] > other.middle[1]:
            assert abs(one.middle[0] - other.middle[0]) > RADIUS


def test_places_move_as_little_as_may_be() -> None:
    assert spread_out([0.0, 10.0, 20.0], 5.0) == [0.0, 10.0, 20.0]
    assert spread_out([10.0, 10.0], 4.0) == [8.0, 12.0]
    assert spread_out([0.0, 1.0, 9.0], 4.0) == [-1.5, 2.5, 9.0]
    assert held([-5.0, 0.0, 99.0], (0.0, 90.0)) == [0.0, PITCH, 90.0]
