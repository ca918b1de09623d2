"""Every stroke on the drawing: where the hand takes it, typed where that is too coarse, taken back and done again."""

import re

import pytest
from playwright.sync_api import expect

SMALL = """# a small floater
name = "Small floater"
length = "90 mm"

[outline]
back = ["0 mm: 0 mm", "10 mm: 9 mm", "30 mm: 14 mm", "60 mm: 9 mm", "90 mm: 3 mm"]   # by eye
side = ["0 mm: 0 mm", "10 mm: 7 mm", "30 mm: 10 mm", "60 mm: 7 mm", "90 mm: 2 mm"]

[wood]
species = "basswood"

[[hook]]
name = "belly hook"
size = "6"
at = "45 mm"

[[pocket]]
name = "belly"
at = "25 mm"
bore = "8 mm"

[water]
temperature = "15 C"

[aim]
does = "floats"
reserve = "20 %"
"""


@pytest.fixture
def small(window, shop):
    """The small floater on the desk; its hand snaps to 0.1 mm."""
    return window.open(shop.put(SMALL))


def back_point(text, place):
    """Station and height [mm] of a point of the back, as the file has them."""
    points = re.findall(r'"([-\d.]+) mm: ([-\d.]+) mm"', text.partition("side =")[0])
    return tuple(float(size) for size in points[place - 1])


def strokes_of(window):
    """One stroke of every sort: its name and the hand's doing."""
    page = window.page

    def typed(label, words):
        page.locator(".in-hand").get_by_label(label).fill(words)
        page.keyboard.press("Enter")

    def put_in(what):
        page.get_by_label("What to put in").select_option(what)
        window.press("Put in")

    def last(curve):
        return page.locator(f'[data-key^="{curve}."]').last.get_attribute("data-key")

    def keyed(key, *keys):
        window.handle(key).focus()
        for one in keys:
            page.keyboard.press(one)

    return {
        "a point dragged": lambda: window.drag("back.3", (3, -9)),
        "a point by its keys": lambda: keyed("side.3", "Shift+ArrowUp"),
        "a point typed": lambda: (keyed("back.2"), typed("height", "9 1/4 mm")),
        "a point more": lambda: (keyed("back.3"), window.press("Add a point")),
        "a point less": lambda: keyed("back.3", "Delete"),
        "the end dragged": lambda: window.drag(last("back"), (9, 0)),
        "a hook moved": lambda: window.drag("hook.1", (12, 0)),
        "a bore put in": lambda: put_in("a bore for ballast"),
        "a cut put in": lambda: (keyed("back.3"), put_in("a cut")),
        "the cut dragged": lambda: window.drag("joint.1", (-6, 0)),
        "a bore taken out": lambda: (keyed("pocket.1"), window.press("Take out")),
        "the belly by itself": lambda: page.get_by_label("mirrors the back").uncheck(),
    }


def test_each_stroke_is_taken_back_and_done_again(small):
    texts = [small.text()]
    for name, do in strokes_of(small).items():
        do()
        small.settled()
        texts.append(small.text())
        assert texts[-1] != texts[-2], name
    for text in reversed(texts[:-1]):
        small.press("Undo")
        assert small.settled().text() == text
    expect(small.page.get_by_role("button", name="Undo")).to_be_disabled()
    for text in texts[1:]:
        small.press("Redo")
        assert small.settled().text() == text
    expect(small.page.get_by_role("button", name="Redo")).to_be_disabled()
    assert "# by eye" in small.text()  # the maker's own words stay


@pytest.mark.parametrize("grab", [(0.0, 0.0), (7.0, -6.0), (-9.0, 5.0)])
def test_a_grab_keeps_its_offset(small, grab):
    x, y = small.spot("back.3")
    page = small.page
    page.mouse.move(x + grab[0], y + grab[1])
    page.mouse.down()
    assert small.spot("back.3") == (x, y)  # nothing jumps when it is taken
    page.mouse.move(x + grab[0] + 30.0, y + grab[1] - 12.0)
    assert small.spot("back.3") == pytest.approx((x + 30.0, y - 12.0), abs=0.06 * small.scale())  # half a snap
    scale = small.scale()
    page.mouse.up()
    assert back_point(small.settled().text(), 3) == pytest.approx((30.0 + 30.0 / scale, 14.0 + 12.0 / scale), abs=0.051)


def test_escape_takes_back_what_is_in_the_hand(small):
    before = small.text()
    x, y = small.spot("back.3")
    small.page.mouse.move(x, y)
    small.page.mouse.down()
    small.page.mouse.move(x + 20, y - 10, steps=4)
    small.page.keyboard.press("Escape")
    small.page.mouse.move(x + 40, y - 20)
    small.page.mouse.up()
    assert back_point(small.settled().text(), 3) == back_point(before, 3)


def test_keys_move_by_the_snap(small):
    page = small.page
    small.handle("back.3").focus()
    for key in ("ArrowRight", "Shift+ArrowUp", "Alt+ArrowDown"):
        page.keyboard.press(key)
    assert back_point(small.settled().text(), 3) == pytest.approx((30.1, 14.9))
    page.get_by_label("the hand snaps").select_option(label="to 1 mm")
    small.handle("back.3").focus()
    page.keyboard.press("ArrowRight")
    assert back_point(small.settled().text(), 3) == pytest.approx((31.0, 15.0), abs=0.101)


@pytest.mark.parametrize(("words", "written"), [("15", "15 mm"), ("15.25 mm", "15.25 mm"), ("5/8 in", "15.88 mm"),
                                                ("1.5 cm", "15 mm")])  # fmt: skip
def test_numbers_are_typed(small, words, written):
    small.handle("back.3").focus()
    small.page.locator(".in-hand").get_by_label("height").fill(words)
    small.page.keyboard.press("Tab")
    assert f'"30 mm: {written}"' in small.settled().text()


@pytest.mark.parametrize("words", ["15 g", "high", "1e999", "-3", "9" * 250, "<b>15</b>", "15 mm\", \"3 mm: 9 mm"])
def test_what_is_no_number_is_refused_in_words(small, words):
    before = small.text()
    small.handle("back.3").focus()
    small.page.locator(".in-hand").get_by_label("height").fill(words)
    small.page.keyboard.press("Tab")
    expect(small.page.locator(".told.wrong")).to_contain_text("wrong:")
    assert small.settled().text() == before


def test_inches_and_millimetres_at_a_touch(small):
    text = small.text()
    small.press("Units: mm. Change to inches")
    small.settled()
    assert small.rows()["size.length"] == ["3.543 in"]
    assert small.page.locator(".rule .unit").text_content() == "in"
    assert small.text() == text
    small.press("Units: in. Change to millimetres")
    small.settled()
    assert small.page.locator(".rule .unit").text_content() == "mm"


def test_a_thousand_rapid_strokes_lose_nothing(small, shop):
    """Eight hundred moves in one drag, of which the last decides; two hundred keys in one go, each kept by itself."""
    page = small.page
    x, y = small.spot("back.4")
    page.mouse.move(x, y)
    page.mouse.down()
    page.evaluate("""([x, y]) => {
        const paper = document.querySelector('svg.paper');
        for (let count = 0; count < 800; count += 1) paper.dispatchEvent(new PointerEvent('pointermove',
            {pointerId: 1, pointerType: 'mouse', clientX: x + count % 40, clientY: y - count % 90, bubbles: true}));
    }""", [x, y])
    page.mouse.move(x + 21, y - 40)
    page.mouse.up()
    scale = small.scale()
    page.evaluate("""() => {
        const node = document.querySelector('[data-key="back.3"]');
        node.focus();
        const press = (key) => {
            node.dispatchEvent(new KeyboardEvent('keydown', {key, altKey: true, bubbles: true}));
            node.dispatchEvent(new KeyboardEvent('keyup', {key, bubbles: true}));
        };
        for (let count = 0; count < 100; count += 1) {
            press('ArrowUp');
            press(count % 5 ? 'ArrowDown' : 'ArrowRight');
        }
    }""")
    expect(page.locator("#answers")).to_have_attribute("aria-busy", "false", timeout=120_000)
    assert back_point(small.text(), 4) == pytest.approx((60.0 + 21.0 / scale, 9.0 + 40.0 / scale), abs=0.051)
    assert back_point(small.text(), 3) == pytest.approx((30.0 + 2.0, 14.0 + 2.0))
    file = page.url.partition("file=")[2].partition("#")[0]
    kept = (shop.folder / f"{file}.strokes").read_text(encoding="utf-8").splitlines()
    assert len({line for line in kept if '"back, point 3 of 5"' in line}) >= 200
