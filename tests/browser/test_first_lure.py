"""A newcomer's first lure, from `gudgeon open` in an empty folder to a saved PDF: by mouse, by keyboard, by touch."""

import json

import pdfplumber
import pytest
from hands import plain
from playwright.sync_api import expect
from typer.testing import CliRunner

from gudgeon.cli.main import app


@pytest.fixture
def first(open_shop, tmp_path):
    """A workbench in a folder with nothing in it."""
    return open_shop(tmp_path)


def assert_papers_are_of_the_file(papers, file, headline):
    """The PDF says what the page said, and what the terminal says of the saved file."""
    answer = json.loads(CliRunner().invoke(app, ["check", str(file), "--json"]).stdout)
    assert answer["headline"] == headline
    with pdfplumber.open(papers) as pages:
        text = plain("".join(page.extract_text() for page in pages.pages[:3]))
    assert plain(headline) in text
    assert answer["stamp"] in text


def test_by_mouse(first, windows, tmp_path):
    window = windows(first)
    page = window.page
    page.goto(first.address)
    page.get_by_role("radio", name="diver").click()
    window.press("Begin this lure")
    window.settled()
    begun, drawn = window.sentence(), window.text()

    window.drag("back.4", (0, -14))
    window.settled()
    assert window.text() != drawn
    assert page.locator("tr.changed").count() > 0  # what the hand changed is told
    page.get_by_label("What to put in").select_option("a bore for ballast")
    window.press("Put in")
    expect(page.locator(".held-name")).to_contain_text("bore")
    window.settled()
    window.drag(page.locator(".handle.chosen").get_attribute("data-key"), (-20, 0))
    window.settled()
    assert window.text().count("[[pocket]]") == drawn.count("[[pocket]]") + 1
    window.press("Undo")
    window.press("Undo")
    window.settled()
    assert window.text().count("[[pocket]]") == drawn.count("[[pocket]]")

    assert window.sentence() != begun
    headline = window.sentence()
    window.press("Save")
    expect(page.get_by_text("All is in my lure.toml.")).to_be_visible()
    window.go("Papers")
    papers = window.saved_papers(tmp_path, lambda: window.press("Save the papers (PDF)"))
    assert papers.name == "my lure.pdf"
    assert_papers_are_of_the_file(papers, tmp_path / "my lure.toml", headline)


def test_by_keyboard_alone(first, windows, tmp_path):
    window = windows(first)
    page = window.page
    page.goto(first.address)
    page.get_by_role("button", name="Begin this lure").wait_for()
    press = page.keyboard.press
    press("Tab")  # past the way to the answers
    press("Tab")
    for _ in range(3):
        press("ArrowDown")
    assert page.get_by_role("radio", name="diver").is_checked()
    window.tab_to(name="Name of its file")
    press("Control+a")
    page.keyboard.type("keyed")
    press("Enter")
    window.settled()
    begun, drawn = window.sentence(), window.text()

    window.tab_to(key="back.1")
    for _ in range(3):
        press("PageDown")
    assert page.evaluate("document.activeElement.dataset.key") == "back.4"
    press("Shift+ArrowUp")  # ten times the snap
    press("ArrowUp")
    press("Alt+ArrowUp")
    press("PageDown")
    assert page.evaluate("document.activeElement.dataset.key") == "back.5"
    press("ArrowLeft")
    window.tab_to(name="What to put in")
    press("ArrowDown")
    press("Shift+Tab")
    press("Enter")
    expect(page.locator(".held-name")).to_contain_text("hook")
    window.settled()
    assert window.text().count("[[hook]]") == drawn.count("[[hook]]") + 1
    page.keyboard.press("Control+z")
    window.settled()
    assert window.text().count("[[hook]]") == drawn.count("[[hook]]")
    window.tab_to(name="Drawing")
    press("ArrowRight")
    press("ArrowRight")
    expect(page.get_by_role("tab", name="Water", selected=True)).to_be_focused()
    press("ArrowLeft")
    press("ArrowLeft")
    headline = window.settled().sentence()
    assert headline != begun
    press("Control+s")
    expect(page.get_by_text("All is in keyed.toml.")).to_be_visible()

    press("ArrowLeft")  # the last place after the first
    window.tab_to(name="Save the papers (PDF)")
    papers = window.saved_papers(tmp_path, lambda: press("Enter"))
    assert_papers_are_of_the_file(papers, tmp_path / "keyed.toml", headline)


def test_by_touch_on_a_tablet(first, windows, tmp_path):
    window = windows(first, (1024, 768), has_touch=True, is_mobile=True)
    page = window.page
    page.goto(first.address)
    page.get_by_text("diver", exact=True).tap()
    window.press("Begin this lure", tap=True)
    window.settled()
    begun, drawn = window.sentence(), window.text()

    window.finger("back.4", (0, -16))
    window.settled()
    assert window.text() != drawn
    x, y = window.spot("hook.1")
    for _ in range(5):  # others lie under the finger too: touched again, the next is in hand
        page.touchscreen.tap(x + 12, y)
        if "hook" in page.locator(".held-name").inner_text():
            break
    expect(page.locator(".handle.chosen")).to_have_attribute("data-key", "hook.1")
    window.finger("hook.1", (14, 0))
    headline = window.settled().sentence()
    assert headline != begun
    window.press("Save", tap=True)
    expect(page.get_by_text("All is in my lure.toml.")).to_be_visible()
    page.get_by_role("tab", name="Papers").tap()
    papers = window.saved_papers(tmp_path, lambda: window.press("Save the papers (PDF)", tap=True))
    assert_papers_are_of_the_file(papers, tmp_path / "my lure.toml", headline)
