"""A batch on paper read back: templates once, and on each lure's card its own ballast, depths and weights."""

import datetime
import re
from functools import cache
from io import BytesIO
from itertools import combinations
from pathlib import Path

import pdfplumber
import pytest

from gudgeon.answers.batch_papers import BatchPapers, batch_papers
from gudgeon.answers.check import check
from gudgeon.answers.drilling import drilling
from gudgeon.answers.papers import papers
from gudgeon.answers.work_order import scale_weights
from gudgeon.design.batch_list import WeighedBlank, read_batch
from gudgeon.design.file import load
from gudgeon.report.batch_sheets import BATCH_SHEET, CARDS
from gudgeon.report.drawing import depth_figure
from gudgeon.report.paper import MM, PaperName
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.sheets import sheets
from gudgeon.units import Reading

EXAMPLES = Path(__file__).parents[2] / "examples"
CASES: list[tuple[str, PaperName, Shop]] = [
    ("lanternmere", "A4", Shop.METRIC), ("lanternmere", "Letter", Shop.INCH), ("diver", "A4", Shop.INCH),
    ("glider-weighed", "Letter", Shop.INCH),
]  # fmt: skip


@cache
def many(name: str) -> BatchPapers:
    design = load(EXAMPLES / f"{name}.toml")
    if name == "lanternmere":
        return batch_papers(design, read_batch(EXAMPLES / "lanternmere-blanks.csv"))
    mean = 0.0095 if name == "diver" else 0.0532
    return batch_papers(
        design, [WeighedBlank(20 + k, Reading(mean * share)) for k, share in enumerate((0.85, 1.0, 1.06))]
    )


@cache
def pages(name: str, paper: PaperName, shop: Shop) -> tuple[pdfplumber.page.Page, ...]:
    pdf = sheets(papers(check(load(EXAMPLES / f"{name}.toml"))), stamp="89abcdef", shop=shop, paper=paper,
                 date=datetime.date(2024, 2, 29), batch=many(name))  # fmt: skip
    return tuple(pdfplumber.open(BytesIO(pdf)).pages)


def on(name: str, paper: PaperName, shop: Shop, title: str) -> list[str]:
    return [page.extract_text() for page in pages(name, paper, shop) if title in page.extract_text()]


def cards(name: str, paper: PaperName, shop: Shop) -> dict[int, list[str]]:
    """The lines of each lure's card."""
    found: dict[int, list[str]] = {}
    number = 0
    for line in "\n".join(on(name, paper, shop, CARDS)).splitlines():
        head = re.fullmatch(r"Lure (\d+)", line)
        number = int(head[1]) if head else number
        found.setdefault(number, []).append(line)
    return found


def grams(mass: float) -> str:
    return row("", "", mass, Measure.MASS, Shop.METRIC).shown


@pytest.mark.parametrize(("name", "paper", "shop"), CASES)
def test_each_card_is_its_lure(name, paper, shop):
    found = cards(name, paper, shop)
    for lure in many(name).lures:
        lines = found[lure.number]
        assert lure.blank is not None
        assert any(f"Blank {grams(lure.blank)}, {grams(lure.lead)} of ballast in all." in line for line in lines)
        assert any("Set it aside" in line for line in lines) == lure.aside
        schedule = drilling(lure.papers)
        holes = {one.name: one for one in schedule.holes}
        for hole in lure.papers.holes:
            bit = hole.metric_bit if shop is Shop.METRIC else hole.inch_bit
            one = holes[hole.name]
            stop = "after the tub" if one.when == "after the tub" else depth_figure(
                schedule.stop_depth(one, metric=shop is Shop.METRIC), shop)  # fmt: skip
            wanted = f"{hole.name} {bit.name} {stop} {depth_figure(bit.depth - hole.coat, shop)} {grams(hole.mass)}"
            assert wanted in lines
        for words, weight in scale_weights(lure.papers):
            shown = row("", "", weight, Measure.MASS, shop).shown
            assert any(line.startswith(words) and line.endswith(shown) for line in lines), words


@pytest.mark.parametrize(("name", "paper", "shop"), CASES)
def test_the_ballast_on_the_cards_is_the_batching_answer_s(name, paper, shop):
    answer = many(name).batch
    assert answer is not None
    found = cards(name, paper, shop)
    for blank in answer.blanks:
        told = re.search(r", ([\d.]+) g of ballast in all", " ".join(found[blank.number]))
        assert told is not None
        assert float(told[1]) == pytest.approx(1e3 * blank.lead.value, abs=0.011)
        holes = [float(mass) for line in found[blank.number] for mass in re.findall(r"([\d.]+) g$", line)
                 if any(line.startswith(hole.name) for hole in many(name).pattern.holes)]  # fmt: skip
        assert sum(holes) == pytest.approx(1e3 * blank.lead.value, abs=0.011 + 0.005 * len(holes))


@pytest.mark.parametrize(("name", "paper", "shop"), CASES)
def test_the_table_of_the_batch_has_every_blank_and_which_to_set_aside(name, paper, shop):
    told = "\n".join(on(name, paper, shop, BATCH_SHEET))
    for lure in many(name).lures:
        assert lure.blank is not None
        line = next(line for line in told.splitlines() if line.startswith(f"{lure.number} {grams(lure.blank)} "))
        assert grams(lure.lead) in line
        assert ("set aside" in line) == lure.aside
        for hole in lure.papers.holes:
            assert grams(hole.mass).removesuffix(" g") in line
    assert "narrows" not in told


def test_what_all_share_is_printed_once_and_says_so():
    titles = [page.extract_text().split("on this sheet")[-1] for page in pages("lanternmere", "A4", Shop.METRIC)]
    assert sum("Template, side: tile 1" in title for title in titles) == 1
    assert sum("Drill card: the blank square, 1 of" in title for title in titles) == 1
    assert not any("Summary" in title or "Weights, stage by stage" in title for title in titles)
    for title in ("Drill schedule: the blank square", "Ballast and order of work"):
        (first, *_) = on("lanternmere", "A4", Shop.METRIC, title)
        assert "Each lure's own stand on its card." in " ".join(first.split())
    card = " ".join(on("lanternmere", "A4", Shop.METRIC, "Drill card: the blank square"))
    assert "stop its lure's card, 90 deg" in card


def test_the_bill_is_for_all_of_them():
    assert "Bill of materials for 12 lures" in on("lanternmere", "A4", Shop.METRIC, "Bill of materials")[0]


@pytest.mark.parametrize(("name", "paper", "shop"), CASES)
def test_no_words_lie_on_others_or_outside_the_frame(name, paper, shop):
    for page in pages(name, paper, shop):
        found = page.extract_words(keep_blank_chars=True, use_text_flow=True, x_tolerance=2.0)
        for word in found:
            assert word["x0"] >= 20.0 * MM
            assert word["x1"] <= page.width - 10.0 * MM
            assert word["bottom"] <= page.height - 10.0 * MM
        for one, other in combinations(found, 2):
            across = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
            down = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
            assert across < 0.5 or down < 2.0, (page.page_number, one["text"], other["text"])


def test_cards_of_lures_not_weighed_yet_have_room_for_the_blank():
    design = load(EXAMPLES / "glider.toml")
    pdf = sheets(papers(check(design)), stamp="89abcdef", shop=Shop.METRIC, paper="A4", date=datetime.date(2024, 2, 29),
                 batch=batch_papers(design, 2))  # fmt: skip
    told = " ".join(page.extract_text() for page in pdfplumber.open(BytesIO(pdf)).pages)
    assert "Lure 1" in told
    assert "Lure 2" in told
    assert "blank, shaped, before any hole" in told
    assert "The blanks are not weighed yet" in " ".join(told.split())
