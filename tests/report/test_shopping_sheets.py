"""The bill of materials on paper: every word and number of `gudgeon bill`, for one lure and for twelve."""

import datetime
from functools import cache
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest
from tests.report.read_pages import titled

from gudgeon.answers.bill import bill
from gudgeon.answers.check import check
from gudgeon.answers.papers import Papers, papers
from gudgeon.answers.work_order import square_stock
from gudgeon.design.file import parse
from gudgeon.report.bill_rows import bill_headline, bill_rows, known_each, known_mass
from gudgeon.report.paper import PaperName, bound, frame_of
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.sheets import sheets
from gudgeon.report.shopping_sheets import BILL_SHEET, shopping_sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
PRICES = ('\n[[price]]\nitem = "lead"\neach = 2.25\nper = "100 g"\n\n[[price]]\nitem = "treble 1/0"\neach = 1.5\n'
          '\n[[price]]\nitem = "golden spinner"\neach = 9\n')  # fmt: skip
CASES: list[tuple[str, PaperName, Shop, int]] = [
    ("lanternmere", "A4", Shop.METRIC, 1), ("lanternmere", "Letter", Shop.INCH, 12), ("diver", "Letter", Shop.INCH, 1),
    ("glider", "A4", Shop.METRIC, 12),
]  # fmt: skip


@cache
def made(name: str, prices: str = PRICES) -> Papers:
    return papers(check(parse((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8") + prices)))


@cache
def told(name: str, paper: PaperName, shop: Shop, lures: int, prices: str = PRICES) -> str:
    pages = shopping_sheets(made(name, prices), frame_of(paper, lying=False), shop, lures)
    pdf = pdfplumber.open(BytesIO(bound(pages, paper, title="")))
    return " ".join(" ".join(page.extract_text().split()) for page in pdf.pages)


def plain(text: str) -> set[str]:
    """Words without what stands between them."""
    return {word.strip(".,;:") for word in text.split()}


@pytest.mark.parametrize(("name", "paper", "shop", "lures"), CASES)
def test_every_word_of_the_bill_s_rows_is_on_paper(name, paper, shop, lures):
    found = made(name)
    answer = bill(found.check.design, found.check.lure, lures, square_stock(found), found.check.ballast.needed)
    words = plain(told(name, paper, shop, lures))
    laid_out = {"of", "sizes", "put on", "each", "in each lure", "costs", "together", "prices", "a lure"}
    for line in bill_rows(answer, shop):
        label = "" if line.label.strip() in laid_out else line.label  # a head of a column says it, or the place
        missing = plain(f"{label} {line.shown}") - words
        assert missing == set(), line.name
    assert bill_headline(answer, shop) in told(name, paper, shop, lures)


@pytest.mark.parametrize(("name", "paper", "shop", "lures"), CASES)
def test_every_line_stands_with_its_count_and_weights(name, paper, shop, lures):
    found = made(name)
    answer = bill(found.check.design, found.check.lure, lures, needed=found.check.ballast.needed)
    page = told(name, paper, shop, lures)
    for line in answer.lines:
        each, mass = (row("", "", value, Measure.MASS, shop).shown for value in (known_each(line), known_mass(line)))
        count = str(line.count) if line.count else "by weight"
        assert f"{count} {each} {mass}" in page, line.name
        assert f"{line.number} {line.name}" in page


def test_what_has_no_price_is_named_and_what_has_one_is_summed():
    page = told("lanternmere", "A4", Shop.METRIC, 1)
    found = made("lanternmere")
    answer = bill(found.check.design, found.check.lure)
    assert f"without a price: {', '.join(answer.unpriced)}." in page
    assert "2.25 per 100 g" in page
    assert "1.50 a piece 3.00" in page
    assert f"all that has a price {answer.cost:.2f}" in page
    assert "The price of 'golden spinner' is asked for by nothing" in page


def test_without_prices_it_says_how_to_tell_them():
    assert "No price is told; write a [[price]]" in told("diver", "A4", Shop.METRIC, 1, "")


def test_the_bill_is_among_the_papers():
    pdf = sheets(made("diver"), stamp="89abcdef", shop=Shop.METRIC, paper="A4", date=datetime.date(2024, 2, 29))
    assert any(BILL_SHEET in page.extract_text() for page in titled(pdf, BILL_SHEET))
