"""Two windows on one file, a workbench that goes and comes back, what strangers and odd files can do to the page."""

import re
import signal

import pytest
from playwright.sync_api import expect

from gudgeon.answers.starting import starting_design

MARKUP = """name = "<img src=x onerror='document.title=1'><script>document.title=2</script>"
length = "90 mm"
[outline]
back = ["0 mm: 0 mm", "30 mm: 14 mm", "90 mm: 3 mm"]
side = ["0 mm: 0 mm", "30 mm: 10 mm", "90 mm: 2 mm"]
[wood]
species = "basswood"
[[hook]]
name = "</text><script>document.title=3</script>"
size = "6"
at = "45 mm"
[[pocket]]
name = "<b onmouseover=alert(1)>"
at = "25 mm"
bore = "8 mm"
[water]
temperature = "15 C"
[aim]
does = "floats"
reserve = "20 %"
"""


@pytest.fixture(scope="module")
def design():
    return starting_design("walker")


def test_two_windows_on_one_file_notice_each_other(windows, shop, design):
    name = shop.put(design)
    one, other = windows(shop).open(name), windows(shop).open(name)
    one.drag("back.4", (0, -12))
    text = one.settled().text()
    expect(other.handle("back.4")).to_have_attribute("aria-label", one.handle("back.4").get_attribute("aria-label"))
    assert other.settled().sentence() == one.sentence()
    other.drag("back.5", (0, -10))
    assert other.settled().text() != text  # it drew on what the first had drawn
    expect(one.page.get_by_role("button", name="Undo")).to_be_enabled()
    one.settled()
    one.press("Undo")
    one.settled()
    assert other.settled().text() == text == one.text()


def test_both_hands_at_once_end_on_one_drawing(windows, shop, design):
    name = shop.put(design)
    both = [windows(shop).open(name), windows(shop).open(name)]
    for window, key in zip(both, ("back.4", "back.6"), strict=True):
        x, y = window.spot(key)
        window.page.mouse.move(x, y)
        window.page.mouse.down()
        window.page.mouse.move(x, y - 3)
    for step in range(4, 16):
        for window in both:
            x, y = window.spot("back.4" if window is both[0] else "back.6")
            window.page.mouse.move(x, y - step)
    for window in both:
        window.page.mouse.up()
    shown = []
    for window in both:
        window.settled()
        shown.append([window.handle(key).get_attribute("aria-label") for key in ("back.4", "back.6")])
    assert shown[0] == shown[1]
    assert both[0].sentence() == both[1].sentence()


def test_a_file_changed_by_another_program_is_told(window, shop, design):
    name = shop.put(design)
    window.open(name).drag("back.4", (0, -12))
    window.settled()
    (shop.folder / name).write_text(f"# by hand\n{design}", encoding="utf-8")
    expect(window.page.get_by_text("was changed by another program")).to_be_visible()
    window.press("Show the file as it is now")
    expect(window.page.get_by_text("was changed by another program")).to_be_hidden()
    assert window.settled().text().startswith("# by hand")
    window.press("Undo")  # what was drawn is not lost
    assert not window.settled().text().startswith("# by hand")


def test_a_workbench_that_is_killed_and_started_again_has_every_stroke(open_shop, windows, tmp_path, design):
    (tmp_path / "mine.toml").write_text(design, encoding="utf-8")
    first = open_shop(tmp_path, "mine.toml")
    window = windows(first).open("mine.toml")
    window.drag("back.4", (0, -12))
    text = window.settled().text()
    first.running.send_signal(getattr(signal, "SIGKILL", signal.SIGTERM))
    first.running.wait(timeout=20)
    expect(window.page.get_by_text("The workbench does not answer.")).to_be_visible()
    expect(window.page.get_by_role("button", name="Undo")).to_be_disabled()
    again = windows(open_shop(tmp_path, "mine.toml")).open("mine.toml")
    expect(again.page.get_by_text("Strokes that were not saved in the file are here again.")).to_be_visible()
    assert again.text() == text
    again.press("Undo")
    assert again.settled().text() == design
    window.faults = [fault for fault in window.faults if "ERR_CONNECTION_REFUSED" not in fault]


def test_words_of_a_design_are_words_on_the_page(window, shop):
    window.open(shop.put(MARKUP))
    for place in ("Ledger", "Water", "Bench", "Papers", "Drawing"):
        window.go(place)
        window.settled()
    expect(window.page.get_by_role("alert")).to_contain_text("a name has 1 to 60 plain characters")
    assert window.page.locator("#page img, #page script, #page [onmouseover]").count() == 0
    assert "script" in window.page.title()
    expect(window.page.get_by_role("heading", level=1)).to_contain_text("<img src=x")


@pytest.mark.parametrize(("name", "content", "said"), [
    ("big.toml", b"#" * 1_000_001, "larger than 1000 kB"),
    ("picture.toml", b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "not plain text"),
    ("drawing.svg", b"<svg><script>alert(1)</script></svg>", "name ends in .toml"),
    ("entities.toml", b"<!DOCTYPE a [<!ENTITY b 'bb'>]><svg>&b;</svg>", None),
    ("con.toml", b"name = 'x'", "is no name for a design"),
])  # fmt: skip
def test_an_odd_file_is_refused_in_words(window, shop, name, content, said):
    page = window.page
    page.goto(window.address)
    page.get_by_label("A design file (.toml); it is copied into the folder").set_input_files(
        [{"name": name, "mimeType": "text/plain", "buffer": content}])  # fmt: skip
    if said is None:  # text, but no design: its faults are told, and it can be changed by hand
        expect(page.locator(".told.wrong").first).to_be_visible()
    else:
        expect(page.get_by_role("alert")).to_contain_text(said)
        assert not (shop.folder / name).exists()


@pytest.mark.parametrize("file", ["../secret.toml", "/etc/passwd", "none.toml", "%2e%2e%2fsecret.toml", "a\u202e.toml"])
def test_an_odd_address_is_told(window, shop, file):
    (shop.folder.parent / "secret.toml").write_text("name = 'secret'", encoding="utf-8")
    window.page.goto(f"{window.address}?file={file}")
    expect(window.page.get_by_role("alert")).to_contain_text(re.compile("cannot be opened|no such design|is no name"))
    assert "secret'" not in window.page.content()
    window.press("To the folder's designs")
    expect(window.page.get_by_role("button", name="Begin this lure")).to_be_visible()


def test_another_page_cannot_draw(window, shop, design):
    """A stranger's page in the same browser gets nothing and changes nothing."""
    name = shop.put(design)
    page = window.page
    page.goto("about:blank")
    got = page.evaluate("""async ([address, name]) => {
        const read = await fetch(`${address}api/take/design?file=${name}`).then((told) => told.text(), () => 'nothing');
        const given = {method: 'POST', mode: 'no-cors', body: "name = 'x'"};
        await fetch(`${address}api/bring?file=stranger.toml`, given).catch(() => 0);
        const line = await new Promise((done) => {
            const socket = new WebSocket(`${address.replace('http', 'ws')}line?file=${name}`);
            socket.onopen = () => done('open');
            socket.onerror = () => done('refused');
        });
        return [read, line];
    }""", [window.address, name])
    assert got == ["nothing", "refused"]
    assert not (shop.folder / "stranger.toml").exists()
    window.faults.clear()  # the browser tells of each refusal
