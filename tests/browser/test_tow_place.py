"""The tow on the page, worked out behind and played; the lure as solids, turned and folded."""

import re
import time

import pytest
from playwright.sync_api import expect
from test_seen import look, told

SLOW = 90_000  # ms: its sums may have to be compiled first
PAINTED = """() => new Promise((done) => {
  const pen = document.querySelector('.playing canvas').getContext('2d');
  const clear = pen.clearRect.bind(pen);
  let count = 0;
  pen.clearRect = (...room) => { count += 1; clear(...room); };
  setTimeout(() => { delete pen.clearRect; done(count); }, 1000);
})"""
PICTURE = "() => document.querySelector('.playing canvas').toDataURL()"


@pytest.fixture(scope="module")
def demo(shop):
    """The demo lure's file: what a tow of it told is known to the workbench from one test to the next."""
    return shop.example("lanternmere")


@pytest.fixture
def towed(windows, shop, demo):
    """The demo lure, towed."""
    window = windows(shop)
    window.open(demo, "tow")
    expect(window.page.locator(".tow .sentence")).to_contain_text("Swims", timeout=SLOW)
    return window


def test_it_is_told_how_it_swims_speed_by_speed(towed, axe):
    page = towed.page
    assert re.search(r"beats/s.*\(trend\)", page.locator(".tow .sentence").inner_text())
    beside, slider = page.locator(".at-speed"), page.get_by_role("slider", name="Towed at")
    figures = re.findall(r"^.* (?:beats/s|mm|N)\b.*$", beside.inner_text(), flags=re.MULTILINE)
    assert len(figures) == 3
    assert all(one.endswith(", trend") for one in figures)
    before, rows = slider.get_attribute("aria-valuetext"), towed.rows()
    slider.focus()
    page.keyboard.press("ArrowRight")
    expect(slider).not_to_have_attribute("aria-valuetext", before)
    number = int(slider.input_value()) + 1
    assert rows[f"swim.{number}.beat"][0] in beside.inner_text()
    assert page.locator("svg.curve").count() == 2
    told(look(towed, axe, "tow"))


def test_its_motion_is_played_and_stands_still(towed):
    page = towed.page
    still = page.evaluate(PICTURE)
    time.sleep(0.3)
    assert page.evaluate(PICTURE) == still  # less motion is asked for: nothing begins by itself
    towed.press("Play the motion")
    assert page.evaluate(PAINTED) >= 30
    assert page.evaluate(PICTURE) != still
    towed.press("Stop the motion")
    assert page.evaluate(PAINTED) == 0


def test_a_stroke_makes_it_old_until_it_is_towed_anew(towed):
    page, old = towed.page, "from the drawing before your last stroke"
    towed.handle("back.4").focus()
    page.keyboard.press("Shift+ArrowUp")
    expect(page.locator(".towing")).to_contain_text(old)
    expect(page.locator(".swum")).to_have_class(re.compile("old-tow"))
    page.keyboard.press("Control+z")
    expect(page.locator(".towing")).to_be_hidden()  # what was undone is known already
    expect(page.locator(".swum")).not_to_have_class(re.compile("old-tow"))
    page.keyboard.press("Control+y")
    expect(page.locator(".towing")).to_contain_text(old)
    towed.press("Stop towing")
    expect(page.locator(".towing")).to_contain_text("Towing was stopped.")
    towed.press("Tow it")
    expect(page.get_by_role("progressbar")).to_be_visible()
    expect(page.locator(".towing")).to_be_hidden(timeout=SLOW)
    expect(page.locator(".swum")).not_to_have_class(re.compile("old-tow"))


def test_what_cannot_be_towed_says_why(windows, shop):
    window = windows(shop)
    text = (shop.folder / shop.example("diver")).read_text(encoding="utf-8")
    window.open(shop.put(text.replace('kind = "tow eye"', 'kind = "screw eye"')), "tow")
    expect(window.page.locator(".tow .sentence")).to_contain_text("cannot be towed", timeout=SLOW)
    expect(window.page.locator(".tow .findings")).to_contain_text("tie")


def test_the_lure_is_shown_as_solids(windows, shop, axe):
    window = windows(shop)
    window.open(shop.example("lanternmere"))
    page, solid = window.page, window.page.locator(".solid")
    if not page.evaluate("() => document.createElement('canvas').getContext('webgl2') !== null"):
        window.press("Solid")
        expect(solid).to_contain_text("no WebGL")
        return
    window.handle("back.4").focus()
    window.press("Solid")
    expect(solid).to_have_attribute("data-whole", "true")
    expect(window.handle("back.4")).to_be_hidden()
    for view in ("Side", "Above", "Ahead", "Corner"):
        window.press(view)
    joint = page.get_by_role("slider", name="joint 1")
    joint.focus()
    page.keyboard.press("ArrowRight")
    assert joint.get_attribute("aria-valuetext") == "1° right"
    told(look(window, axe, "drawing"))
    stamp = solid.get_attribute("data-stamp")
    height = page.locator("#h-out")
    height.fill("14 mm")
    height.press("Enter")
    expect(solid).not_to_have_attribute("data-stamp", stamp)
    expect(solid).to_have_attribute("aria-busy", "false")
    window.press("Solid")
    expect(window.handle("back.4")).to_be_visible()
    window.faults[:] = [fault for fault in window.faults if "GPU stall" not in fault]  # of drawing without a card
