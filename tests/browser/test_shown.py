"""What the page shows is what the workbench, the terminal and the paper say of the same file."""

import io
import json
import re

import pdfplumber
import pytest
from hands import plain
from playwright.sync_api import expect
from typer.testing import CliRunner

from gudgeon.answers.starting import starting_design
from gudgeon.cli.main import app

PLACES = ("Drawing", "Ledger", "Water", "Bench")


def terminal(*words):
    """What a command prints."""
    done = CliRunner(env={"COLUMNS": "200", "NO_COLOR": "1"}).invoke(app, list(words))
    assert done.exit_code == 0, done.output
    return done.stdout


def shown_everywhere(window):
    """The rows of every place by their names, as they stand on the page."""
    found = {}
    for place in PLACES:
        window.go(place)
        for name, words in window.settled().rows().items():
            found.setdefault(name, set()).update(words)
    return found


@pytest.mark.parametrize(("example", "units"),
                         [("lanternmere", "metric"), ("lanternmere", "inch"), ("diver", "metric")])  # fmt: skip
def test_numbers_are_those_of_the_terminal_and_the_paper(window, shop, tmp_path, example, units):
    name = shop.example(example)
    file = str(shop.folder / name)
    window.open(name)
    if units == "inch":
        window.press("Units: mm. Change to inches")
    headline = window.settled().sentence()
    page = shown_everywhere(window)

    told = json.loads(terminal("check", file, "--units", units, "--json"))
    assert told["headline"] == headline
    assert told["rows"]
    printed = plain(terminal("check", file, "--units", units))
    window.go("Papers")
    papers = window.saved_papers(tmp_path, lambda: window.press("Save the papers (PDF)"))
    wanted = {row["name"] for row in told["rows"]}
    assert wanted - page.keys() == set()
    paper = ""
    for read in pages_of(papers.read_bytes()):  # no more of them than all stands on
        paper += plain(read)
        wanted = {one for one in wanted if not any(plain(words) in printed and plain(words) in paper
                                                   for words in page[one])}  # fmt: skip
        if not wanted:
            break
    assert wanted == set()
    for row in told["rows"]:
        is_bore = row["name"].startswith(("pocket.", "shot.")) and row["name"].endswith(".depth")
        assert any(agrees(words, row["value"], is_bore=is_bore) for words in page[row["name"]]), row
    for command in ("joints", "hardware", "strength"):
        rows = json.loads(terminal(command, file, "--units", units, "--json"))["rows"]
        printed = plain(terminal(command, file, "--units", units))
        for row in rows:
            assert any(plain(words) in printed for words in page[row["name"]]), row["name"]


def pages_of(content):
    """What papers say: the summary down one column after the other, then page by page."""
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        for page in pdf.pages[:2]:
            middle = 0.5 * (page.width + 10.0 * 72.0 / 25.4)
            for box in ((0, 0, middle, page.height), (middle, 0, page.width, page.height)):
                yield page.crop(box).extract_text()
        for page in pdf.pages:
            yield page.extract_text()


def agrees(words, value, *, is_bore=False):
    """Whether what is shown is the number, to the figures it is shown with, a depth to drill up to the next mark; words
    are themselves."""
    if not isinstance(value, int | float):
        return value is None or str(value) in words or not re.search(r"\d", str(value))
    figures = re.match(r"-?\d+(\.\d+)?", words)
    if figures is None or "/" in words:  # a fraction of an inch, or a word for a number
        return True
    digits = len(figures[1] or ".") - 1
    mark = 10.0**-digits * (1 if digits else 10)
    if is_bore:
        return -1e-6 * mark <= float(figures[0]) - value <= 1.000001 * mark
    return abs(float(figures[0]) - value) <= 0.5000001 * mark


def test_every_form_is_answered_without_a_fault_of_the_page(window, shop):
    for form in ("swimmer4", "swimmer3", "glider2", "walker", "needle"):
        window.open(shop.put(starting_design(form)))
        assert window.sentence()
        assert window.page.locator(".told.wrong").count() == 0


TWO_BORES = """name = "Two bores"
length = "90 mm"
[outline]
back = ["0 mm: 0 mm", "10 mm: 9 mm", "30 mm: 14 mm", "60 mm: 9 mm", "90 mm: 3 mm"]
side = ["0 mm: 0 mm", "10 mm: 7 mm", "30 mm: 10 mm", "60 mm: 7 mm", "90 mm: 2 mm"]
[wood]
species = "basswood"
[[pocket]]
name = "first"
at = "25 mm"
bore = "8 mm"
[[pocket]]
name = "second"
at = "31 mm"
bore = "8 mm"
[water]
temperature = "15 C"
[aim]
does = "sinks"
rate = "4 s/ft"
"""


def test_what_meets_in_the_wood_is_marked_where_it_is(window, shop):
    window.open(shop.put(TWO_BORES))
    listed = window.page.locator(".finding", has_text="mark 1.")
    expect(listed).to_contain_text("first")
    expect(listed).to_contain_text("second")
    (first, low), (second, _) = window.spot("pocket.1"), window.spot("pocket.2")
    x, y = window.mark(1)
    assert first < x < second
    assert low - 28.0 * window.scale() < y < low  # in the wood above the mouths of the bores
    above = window.mark(1, view=1)
    assert above[0] == pytest.approx(x, abs=0.1)
    window.drag("pocket.2", (40.0 * window.scale(), 0.0))
    expect(window.settled().page.locator(".finding", has_text="mark ")).to_have_count(0)
    expect(window.page.locator(".mark")).to_have_count(0)


def test_a_number_of_an_earlier_stroke_is_not_shown_as_fresh(window, shop):
    """While the hand moves, figures and drawing say that they are behind; then what has changed is told."""
    window.open(shop.example("lanternmere"))
    x, y = window.spot("back.6")
    window.page.mouse.move(x, y)
    window.page.mouse.down()
    window.page.mouse.move(x, y - 6)
    window.page.wait_for_selector('#answers[aria-busy="true"]', state="attached")
    window.settled()
    expect(window.page.locator('tr.changed[data-row="whole.mass"] .was').first).to_contain_text("was ")
    window.page.mouse.up()
