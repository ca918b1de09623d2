"""A picture traced by hand: marks set by mouse, finger and keys; the outline over the picture; taken into a drawing."""

import re
from pathlib import Path

import pytest
from hands import TIMEOUT
from playwright.sync_api import expect
from test_seen import LOOKS, SIZES, look, told

from gudgeon.design.file import load, parse

PICTURE = Path(__file__).parents[2] / "examples" / "template.jpg"
WIDE = 1400  # pixels of the picture
SPOTS = {"nose": (108, 330), "tail": (1299, 330), "from": (240, 655), "to": (1040, 655)}
SVG = ('<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">'
       '<script>window.hurt = true</script><path onload="window.hurt = true" '
       'd="M10 50C10 20 60 10 110 20S190 45 190 50Q150 95 90 90T10 50Z"/></svg>')  # fmt: skip


def begun(window, file=PICTURE):
    """The part of the page that traces, with a picture in it."""
    page = window.page
    page.get_by_role("button", name="Trace a photo or a drawing").click()
    page.locator("#trace-file").set_input_files(file)
    return page.locator(".tracing")


def at_start(window, shop):
    window.page.goto(shop.address)
    return begun(window)


def spot_on_screen(page, spot):
    """Where a place of the picture [pixels] lies on the screen."""
    box = page.locator(".trace-over").bounding_box()
    return box["x"] + spot[0] * box["width"] / WIDE, box["y"] + spot[1] * box["width"] / WIDE


def where(page, mark):
    """Where a mark stands in the picture [pixels], as a screen reader hears it."""
    said = page.locator(f'[data-mark="{mark}"]').get_attribute("aria-label")
    return tuple(int(number) for number in re.findall(r"(\d+) (?:to the right|down)", said))


def put_marks(page):
    """Every mark to its place with the mouse, taken a little beside its middle."""
    for mark, spot in SPOTS.items():
        x, y = spot_on_screen(page, where(page, mark))
        to = spot_on_screen(page, spot)
        page.mouse.move(x + 3, y + 4)
        page.mouse.down()
        page.mouse.move(to[0] + 3, to[1] + 4, steps=4)
        page.mouse.up()
        assert where(page, mark) == pytest.approx(spot, abs=2)


def traced(page):
    """Press the button and wait for the outline."""
    page.get_by_role("button", name="Trace it").click()
    expect(page.locator(".trace-line polygon.line")).to_have_count(1, timeout=TIMEOUT)


def test_a_new_lure_from_a_picture_by_mouse(window, shop):
    part = at_start(window, shop)
    expect(part.locator(".trace-mark")).to_have_count(4)
    put_marks(window.page)
    traced(window.page)
    expect(part.locator(".sentence").first).to_contain_text("149.")
    window.page.get_by_label("Name of its file").last.fill("from a picture")
    window.page.get_by_label("Widest place").fill("24 mm")
    window.press("Begin a lure with this outline")
    window.page.wait_for_url(re.compile("from%20a%20picture"))
    window.settled()
    design = load(shop.folder / "from a picture.toml")
    assert design.length == pytest.approx(0.149, abs=5e-4)
    assert max(point.out for point in design.outline.side) == pytest.approx(0.012)


def test_marks_by_keys_alone(window, shop):
    at_start(window, shop)
    page = window.page
    expect(page.locator('[data-mark="nose"]')).to_be_focused()
    for number, (mark, spot) in enumerate(SPOTS.items()):
        if number:
            page.keyboard.press("Tab")
        expect(page.locator(f'[data-mark="{mark}"]')).to_be_focused()
        expect(page.locator(".loupe")).to_have_class(re.compile("shown"))
        for axis, keys in ((0, ("ArrowLeft", "ArrowRight")), (1, ("ArrowUp", "ArrowDown"))):
            far = spot[axis] - where(page, mark)[axis]
            step = None
            while abs(far := spot[axis] - where(page, mark)[axis]) > 0:
                fast = step is None or abs(far) >= step
                before = where(page, mark)[axis]
                page.keyboard.press(f"{'Shift+' if fast else ''}{keys[far > 0]}")
                if fast:
                    step = abs(where(page, mark)[axis] - before)
        assert where(page, mark) == spot
    window.tab_to(name="Trace it")
    page.keyboard.press("Enter")
    expect(page.locator(".tracing .sentence").first).to_contain_text("149.", timeout=TIMEOUT)


def test_marks_by_finger(windows, shop):
    window = windows(shop, (1024, 768), has_touch=True)
    at_start(window, shop)
    page = window.page
    page.locator(".trace-over").scroll_into_view_if_needed()
    line = page.context.new_cdp_session(page)
    x, y = spot_on_screen(page, where(page, "nose"))
    to = spot_on_screen(page, SPOTS["nose"])
    for kind, at in (("touchStart", [(x + 12, y - 10)]), ("touchMove", [(0.5 * (x + to[0]) + 12, y)]),
                     ("touchMove", [(to[0] + 12, to[1] - 10)]), ("touchEnd", [])):  # fmt: skip
        line.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": px, "y": py} for px, py in at]})
    assert where(page, "nose") == pytest.approx(SPOTS["nose"], abs=3)


def test_it_is_taken_into_a_drawing_as_one_stroke(window, shop):
    window.open(shop.example("diver"), "papers")
    before = window.text()
    begun(window)
    put_marks(window.page)
    assert window.page.get_by_label("Made so long").input_value() == "88 mm"
    traced(window.page)
    window.press("Take it into the drawing")
    expect(window.page.get_by_role("button", name="Undo")).to_be_enabled()
    window.settled()
    after = parse(window.text())
    assert after.length == pytest.approx(0.088)
    assert after.hooks == parse(before).hooks
    assert max(point.out for point in after.outline.belly) == pytest.approx(0.018 * 88 / 149, abs=4e-4)
    window.press("Undo")
    expect(window.page.get_by_role("button", name="Undo")).to_be_disabled()
    window.settled()
    assert window.text() == before


def test_a_mark_moved_traces_it_anew_and_a_slip_is_told(window, shop):
    part = at_start(window, shop)
    page = window.page
    put_marks(page)
    page.get_by_role("textbox", name="The known length").fill("200 mm")
    traced(page)
    expect(part.locator(".sentence").first).to_contain_text("298")
    page.get_by_role("textbox", name="The known length").fill("a hand")
    page.get_by_role("textbox", name="The known length").blur()
    expect(part.get_by_role("alert")).to_contain_text("the known length", timeout=TIMEOUT)
    page.get_by_role("textbox", name="The known length").fill("100")
    page.get_by_role("textbox", name="The known length").blur()
    expect(part.locator(".sentence").first).to_contain_text("149.", timeout=TIMEOUT)
    page.get_by_label("a second length").check()
    expect(part.locator(".trace-mark")).to_have_count(6)


def test_a_drawing_is_shown_by_its_line_alone(window, shop, tmp_path):
    (tmp_path / "egg.svg").write_text(SVG)
    window.page.goto(shop.address)
    part = begun(window, tmp_path / "egg.svg")
    expect(part.locator(".sentence").first).to_contain_text("180.0 mm long", timeout=TIMEOUT)
    assert part.locator(".trace-over script, .trace-over path").count() == 0
    assert window.page.evaluate("window.hurt") is None


def test_what_is_no_picture_is_told(window, shop, tmp_path):
    (tmp_path / "broken.jpg").write_bytes(PICTURE.read_bytes()[:40])
    (tmp_path / "evil.svg").write_text('<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>')
    window.page.goto(shop.address)
    part = begun(window, tmp_path / "broken.jpg")
    expect(part.get_by_role("alert")).to_contain_text("JPEG, PNG and WebP are read")
    window.page.locator("#trace-file").set_input_files(tmp_path / "evil.svg")
    expect(part.get_by_role("alert")).to_contain_text("entities", timeout=TIMEOUT)


@pytest.mark.parametrize("size", SIZES)
def test_it_is_sound_to_look_at(windows, shop, axe, size):
    window = windows(shop, SIZES[size])
    at_start(window, shop)
    put_marks(window.page)
    traced(window.page)
    window.page.evaluate(f"{axe}\n{LOOKS}\nObject.assign(window, {{faults, clumsy}})")
    told(look(window, axe, "start"))
