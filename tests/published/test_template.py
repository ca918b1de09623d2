"""Templates at true size: sheets, the size of a millimetre in a PDF, and what a lying printer's bar asks for."""

import datetime
from functools import cache
from pathlib import Path

import pdfplumber
import pytest
from tests.report.read_pages import titled

from gudgeon.answers.check import check
from gudgeon.answers.papers import papers
from gudgeon.design.file import load
from gudgeon.report.paper import PaperName
from gudgeon.report.rows import Shop
from gudgeon.report.sheets import correction_for, sheets

DIVER = Path(__file__).parents[2] / "examples" / "diver.toml"


@cache
def template(paper: PaperName, correction: float = 1.0) -> pdfplumber.page.Page:
    pdf = sheets(papers(check(load(DIVER))), stamp="00000000", shop=Shop.METRIC, paper=paper, correction=correction,
                 date=datetime.date(2024, 1, 1))  # fmt: skip
    return titled(pdf, "Template")[0]


def nearest_line(page: pdfplumber.page.Page, points: float) -> float:
    return min((float(line["width"]) for line in page.lines), key=lambda width: abs(width - points))


@pytest.mark.source("ISO 216, US Letter and ISO 32000-1, from memory", where="A4 210 x 297 mm; 8 1/2 x 11 in; 1/72 in")
@pytest.mark.parametrize(("paper", "long", "short"), [("A4", 297.0, 210.0), ("Letter", 279.4, 215.9)])
def test_a_template_lies_on_its_paper(paper: PaperName, long: float, short: float) -> None:
    page = template(paper)
    assert page.width == pytest.approx(long / 25.4 * 72.0, abs=1e-2)
    assert page.height == pytest.approx(short / 25.4 * 72.0, abs=1e-2)


@pytest.mark.source("ISO 32000-1, from memory", where="user space: 100 mm is 283.465 units")
def test_the_bar_of_100_mm() -> None:
    assert nearest_line(template("A4"), 283.465) == pytest.approx(283.465, rel=1e-4)


@pytest.mark.source("common practice, no source", where="a printed 100.0 mm bar that measures 97.0 mm: 1.0309")
def test_a_bar_that_measures_97_mm() -> None:
    factor = correction_for(0.097)
    assert factor == pytest.approx(1.0309, abs=5e-5)
    bar = nearest_line(template("A4", factor), 283.465 * factor)
    assert bar * 0.97 == pytest.approx(283.465, rel=1e-4)  # on that printer's paper it is 100 mm
