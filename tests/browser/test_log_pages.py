"""The log's pages: a board, a run and a photo entered by keyboard alone and by one finger; seen at every size."""

import io
import re
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import expect
from test_seen import SIZES, look, told

from gudgeon.shop.log import Log
from gudgeon.shop.records import Board, Photo, Weighing
from gudgeon.units import Reading

EXAMPLE = (Path(__file__).parents[2] / "examples" / "glider.toml").read_text(encoding="utf-8")
NASTY = "<img src=x onerror=alert(1)>"


@pytest.fixture(scope="module")
def logged(open_shop, tmp_path_factory):
    """A workbench beside a log with three lures of the glider weighed as shaped, and a photo of the first."""
    folder = tmp_path_factory.mktemp("pages")
    (folder / "glider.toml").write_text(EXAMPLE, encoding="utf-8", newline="")
    (folder / "side.jpg").write_bytes(jpeg())
    with Log.start(folder / "shop") as log:
        log.add_board(Board("B1", NASTY))
        log.add_pattern(EXAMPLE)
        log.add_lures("Reed Gate glider", 3)
        for number, grams in enumerate((48.9, 50.6, 51.3), start=1):
            log.weigh(number, Weighing("shaped", Reading(grams / 1000)))
        log.photo(1, folder / "side.jpg", "left side")
    return open_shop(folder)


def jpeg():
    out = io.BytesIO()
    Image.new("RGB", (1200, 600), "peru").save(out, "JPEG")
    return out.getvalue()


def test_a_board_and_a_run_out_of_it_by_keyboard_alone(logged, windows):
    window = windows(logged)
    page = window.page
    page.goto(f"{logged.address}?log=made")
    page.get_by_text("Add a board").wait_for()
    page.locator("summary", has_text="Add a board").focus()
    page.keyboard.press("Enter")
    for label, words in (("What you write on it", "B7"), ("Its wood", "poplar"), ("The offcut weighs", "85.2"),
                         ("Length, along the grain", "120"), ("Width", "60"), ("Thickness", "26")):  # fmt: skip
        window.tab_to(name=label)
        page.keyboard.type(words)
    page.keyboard.press("Enter")
    expect(page.locator(".door .entered").first).to_contain_text("name B7, wood poplar, density 0.455 ± 0.005 g/cm3.")
    page.goto(f"{logged.address}?log")
    page.locator("summary", has_text="Begin a lure").focus()
    page.keyboard.press("Enter")
    window.tab_to(name="How many")
    page.keyboard.press("Control+a")
    page.keyboard.type("2")
    window.tab_to(name="Out of the board")
    page.keyboard.type("B7")
    window.tab_to(name="Begin")
    page.keyboard.press("Enter")
    expect(page.locator(".sentence")).to_contain_text("run 2, out of B7, poplar")
    window.tab_to(name="How far Reed Gate glider, version 1, run 2 has come")
    page.keyboard.press("Enter")
    expect(page.locator(".sentence")).to_contain_text("run 2: 2 begun.")
    with Log.look(logged.folder / "shop") as log:
        assert [(line.run, line.board) for line in log.lures(limit=2)] == [(2, "B7")] * 2


def test_a_photo_by_one_finger_and_what_is_none(logged, windows, tmp_path):
    window = windows(logged, SIZES["phone"], has_touch=True)
    page = window.page
    page.goto(f"{logged.address}?log=2")
    page.locator("summary", has_text="Add a photo").tap()
    choose = page.get_by_label("A photo (.jpg, .png, .webp)")
    window.press("Enter the photo", tap=True)
    expect(page.locator(".photos .told")).to_contain_text("choose a file first")
    choose.set_input_files({"name": "page.jpg", "mimeType": "image/jpeg", "buffer": b"<script>alert(1)</script>"})
    window.press("Enter the photo", tap=True)
    expect(page.locator(".photos .told")).to_contain_text("it is no picture; JPEG, PNG and WebP are read")
    choose.set_input_files({"name": f"{NASTY}.jpg", "mimeType": "image/jpeg", "buffer": jpeg()})
    page.get_by_label("What is on it").fill(NASTY)
    window.press("Enter the photo", tap=True)
    expect(page.locator(".photos .entered")).to_contain_text(f"photo of lure 2, name {NASTY}.jpg")
    shown = page.get_by_role("img", name=NASTY)
    expect(shown).to_be_visible()
    expect(shown).to_have_js_property("naturalWidth", 1000)
    assert page.locator("#page img").count() == 1
    with Log.look(logged.folder / "shop") as log:
        number, photo = log.lure(2).of(Photo)[0]
    saved = window.saved_papers(tmp_path, lambda: window.press(f"Save the photo of entry {number.number}"))
    assert saved.read_bytes() == (logged.folder / "shop" / "photos" / photo.file).read_bytes() == jpeg()
    window.press(f"Correct entry {number.number}", tap=True)
    page.get_by_label("why").fill("of another lure")
    window.press("It does not count at all", tap=True)
    expect(page.locator(".pictures li")).to_have_count(0)


@pytest.mark.parametrize("name", SIZES)
def test_the_pages_of_the_log_are_sound(logged, windows, axe, name):
    window = windows(logged, SIZES[name], has_touch=name != "wide")
    page, found = window.page, []
    pages = {"?log=made": "Add a board", "?log": "Begin a lure", "?log=1": "Add a photo",
             "?log=run&pattern=Reed+Gate+glider&version=1&run=1": None}  # fmt: skip
    for asked, summary in pages.items():
        page.goto(f"{logged.address}{asked}")
        if summary:
            page.locator("summary", has_text=summary).click()
        else:
            expect(page.locator(".sentence")).to_contain_text(re.compile("3 blanks take .* of lead"))
        found += look(window, axe, "start")
    told(found)
