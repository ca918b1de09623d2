"""Every place as it is seen: axe finds no serious fault, nothing is clipped or overlaps; any size, light and dark."""

from pathlib import Path

import pytest

PLACES = ("drawing", "ledger", "water", "tow", "bench", "papers")
SIZES = {"wide": (1440, 900), "tablet": (1024, 768), "phone": (390, 844)}
LOOKS = (Path(__file__).parent / "looks.js").read_text(encoding="utf-8")
EVERY_RULE = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(params=SIZES)
def size(request):
    return SIZES[request.param]


def look(window, axe, place):
    """What is wrong with a place as it stands now, light and dark."""
    page = window.page
    if place != "start":
        window.go(place.capitalize())
        window.settled()
    if not page.evaluate("'axe' in window"):
        page.evaluate(f"{axe}\n{LOOKS}\nObject.assign(window, {{faults, clumsy}})")
    found = [*page.evaluate("rules => faults(rules)", EVERY_RULE), *page.evaluate("clumsy()")]
    page.emulate_media(color_scheme="dark")
    found += [f"dark, {fault}" for fault in page.evaluate("faults(['color-contrast'])")]
    page.emulate_media(color_scheme="light")
    return [f"{place}: {fault}" for fault in found]


def told(found):
    """Fails with every fault on a line of its own."""
    assert not found, "\n".join(dict.fromkeys(found))


def test_every_place_is_sound(windows, shop, axe, size):
    window = windows(shop, size, has_touch=size[0] < 1200)
    window.open(shop.example("lanternmere"))
    window.handle("pocket.2").focus()
    found = [fault for place in PLACES for fault in look(window, axe, place)]
    window.go("Drawing")
    for summary in window.page.locator(".typed summary").all():
        summary.click()
    if size[0] < 820:
        window.press("More")
    told([*found, *look(window, axe, "drawing")])


def test_the_beginning_is_sound(windows, shop, axe, size):
    window = windows(shop, size)
    window.page.goto(shop.address)
    window.page.get_by_role("button", name="Begin this lure").wait_for()
    told(look(window, axe, "start"))


@pytest.mark.parametrize("size", [SIZES["tablet"], SIZES["phone"]], ids=["tablet", "phone"])
def test_a_lure_with_faults_and_an_empty_file_are_sound(windows, shop, axe, size):
    window = windows(shop, size)
    window.open(shop.put(""))
    found = look(window, axe, "drawing")
    window.open(shop.example("lanternmere"))
    window.drag("back.9", (0, 60))
    window.settled()
    told([*found, *look(window, axe, "drawing")])


def test_the_skip_link_and_the_reader_are_served(window, shop):
    """What a screen reader is told: places as tabs, the drawing's points by name and place."""
    window.open(shop.example("diver"))
    page = window.page
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "answers"
    assert [tab.get_attribute("aria-selected") for tab in page.get_by_role("tab").all()] == ["true", *["false"] * 5]
    point = window.handle("back.3")
    before = point.get_attribute("aria-label")
    point.focus()
    page.keyboard.press("ArrowUp")
    window.settled()
    assert before is not None
    assert before.startswith("back, point 3 of ")
    assert point.get_attribute("aria-label") != before
    assert page.locator(".said").inner_text() in point.get_attribute("aria-label")
