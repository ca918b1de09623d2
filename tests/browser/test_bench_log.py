"""The shop's log on the page: what a maker weighs and notes at the bench, by keyboard alone and by one finger."""

import io
import re
import zipfile
from pathlib import Path

import pdfplumber
import pytest
from playwright.sync_api import expect
from test_seen import SIZES, look, told
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.shop.log import Log
from gudgeon.shop.records import Weighing
from gudgeon.units import Reading

EXAMPLE = (Path(__file__).parents[2] / "examples" / "glider.toml").read_text(encoding="utf-8")
NASTY = ["<img src=x onerror=alert(1)>", "<script>alert(1)</script>", "'); DROP TABLE entry; --", "=cmd|' /C calc'!A0"]
SHAPED = (48.9, 50.6, 51.3, 53.0, 53.6)  # g


@pytest.fixture(scope="module")
def logged(open_shop, tmp_path_factory):
    """A workbench beside a log with seven lures of the glider, the first five weighed as shaped."""
    folder = tmp_path_factory.mktemp("logged")
    (folder / "glider.toml").write_text(EXAMPLE, encoding="utf-8", newline="")
    with Log.start(folder / "shop") as log:
        log.add_pattern(EXAMPLE)
        log.add_lures("Reed Gate glider", 7)
        for number, grams in enumerate(SHAPED, start=1):
            log.weigh(number, Weighing("shaped", Reading(grams / 1000)))
    return open_shop(folder)


def record(shop, lure):
    """What the log has of a lure."""
    with Log.look(shop.folder / "shop") as log:
        return log.lure(lure)


def at_bench(window, lure):
    """The bench, at what is to be weighed of one lure."""
    window.open("glider.toml", "bench")
    window.press("What to weigh")
    choose = window.page.get_by_label("Lure", exact=True)
    choose.select_option(str(lure))
    expect(window.page.get_by_role("link", name=f"All of lure {lure}")).to_be_visible()
    return window.page


def test_from_nothing_to_the_first_weight_by_keyboard_alone(open_shop, windows, tmp_path):
    (tmp_path / "glider.toml").write_text(EXAMPLE, encoding="utf-8", newline="")
    shop = open_shop(tmp_path)
    window = windows(shop)
    page = window.open("glider.toml", "bench").page
    window.tab_to(name="What to weigh")
    page.keyboard.press("Enter")
    expect(page.locator(".weighing .sentence")).to_have_text("There is no log yet.")
    window.tab_to(name="Begin the log")
    page.keyboard.press("Enter")
    expect(page.locator(".weighing .sentence")).to_have_text("No lure of it is begun yet.")
    window.tab_to(name="How many")
    page.keyboard.press("Control+a")
    page.keyboard.type("2")
    page.keyboard.press("Enter")
    expect(page.locator(".weighing .sentence")).to_contain_text("Weigh it once it is shaped: about")
    window.tab_to(name="The scale shows")
    page.keyboard.type("5.2")
    page.keyboard.press("Enter")
    expect(page.locator(".question")).to_contain_text("The decimal point: 52.0 g?")
    assert not record(shop, 1).of(Weighing)
    expect(page.get_by_role("button", name="Change it", exact=True)).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#log-mass")).to_be_focused()
    page.keyboard.press("Control+a")
    page.keyboard.type("52.0")
    page.keyboard.press("Enter")
    expect(page.locator(".entered").first).to_contain_text("weighing of lure 1, stage shaped, mass 52.00 g.")
    assert record(shop, 1).of(Weighing)[0][1] == Weighing("shaped", Reading(0.052))
    expect(page.locator("#log-mass")).to_be_focused()
    expect(page.locator("#log-mass")).to_have_value("")
    expect(page.locator(".weighing .sentence")).to_contain_text("Weigh it once it is sealed: about")
    expect(page.locator("#log-stage")).to_have_value("sealed")


def test_one_finger_weighs_and_what_is_doubted_is_so(logged, windows, axe):
    window = windows(logged, SIZES["tablet"], has_touch=True)
    page = at_bench(window, 6)
    for key in ("6", "9", "Back, takes the last one out", "5", "point", "2"):
        window.press(key, tap=True)
    expect(page.locator("#log-mass")).to_have_value("65.2")
    window.press("Enter the weight", tap=True)
    expect(page.locator(".question")).to_contain_text("its five twins weigh 48.9 to 53.6 g")
    told(look(window, axe, "bench"))
    window.press("It is so: enter it", tap=True)
    expect(page.locator(".entered").first).to_contain_text("mass 65.20 g.")
    page.get_by_role("button", name=re.compile("The scale shows, unit: g")).tap()
    for key in ("2", "point", "3", "5"):
        window.press(key, tap=True)
    window.press("Enter the weight", tap=True)
    expect(page.locator(".entered").first).to_contain_text("stage sealed, mass 66.62 ± 0.14 g.")  # 2.35 oz
    assert [round(1e3 * one.mass.value, 2) for _, one in record(logged, 6).of(Weighing)] == [65.2, 66.62]
    page.get_by_label("Stage").select_option("shaped")
    window.press("7", tap=True)
    window.press("Enter the weight", tap=True)
    expect(page.locator(".question")).to_be_visible()
    window.press("8", tap=True)
    expect(page.locator(".question")).to_be_hidden()  # a question is of the weight it was asked of


SHORT = {
    "a jug": ({"displaced": "110.2", "temperature": "18"}, "displaced 110.20 g"),
    "lead": ({"mass": "12.0"}, "hole front, mass 12.00 g"),
    "a part": ({"mass": "3.4 g"}, "part tow eye, mass 3.40 g"),
    "timed drops": ({"distance": "1.2", "times": "12.4, 12.1"}, "times 12.4, 12.1 s"),
    "how it lay": ({"pitch": "4", "leans": "1"}, "pitch -4.0 deg, leans 1.0 deg"),
    "a tow": ({"speed": "2", "seen": "swings evenly"}, "seen swings evenly"),
    "a change": ({"what": "rear hook up a size", "why": "nose-down"}, "what rear hook up a size, why nose-down"),
    "a note": ({"words": "two fish"}, "note of lure 1, words two fish."),
}
"""What is chosen to be entered -> what is typed, and words of what is then told."""


def test_short_forms(logged, windows):
    page = at_bench(windows(logged), 1)
    for kind, (typed, words) in SHORT.items():
        page.locator("#log-kind").select_option(kind)
        for name, value in typed.items():
            page.locator(f"#log-{name}").fill(value)
        page.locator(".entering button.main").click()
        sure = page.get_by_role("button", name="It is so: enter it")
        sure.or_(page.locator(".entered:not(:empty)")).first.wait_for()
        if sure.is_visible():
            sure.click()
        expect(page.locator(".entered").first).to_contain_text(words)


def test_markup_does_nothing_and_stands_as_it_was_typed(logged, windows):
    window = windows(logged)
    page = at_bench(window, 3)
    dialogs = []
    page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
    page.locator("#log-kind").select_option("a note")
    for number, words in enumerate(NASTY, start=1):
        page.locator("#log-words").fill(words)
        page.get_by_role("button", name="Enter the note").click()
        expect(page.locator(".entered").first).to_contain_text(words)
        expect(page.locator(".weighing .entries > li")).to_have_count(number + 2)
    for address in (None, f"{logged.address}?log", f"{logged.address}?log=3"):
        if address:
            page.goto(address)
            page.get_by_text(NASTY[-1]).first.wait_for()
        assert page.locator("#page img, #page script").count() == 0
    shown = page.locator(".entries").inner_text()
    assert all(words in shown for words in NASTY)
    assert dialogs == []


def test_a_pattern_with_markup_for_its_name(logged, windows):
    name = "<img src=x onerror=alert(2)>"
    (logged.folder / "odd.toml").write_text(EXAMPLE.replace("Reed Gate glider", name), encoding="utf-8", newline="")
    window = windows(logged)
    page = window.open("odd.toml", "bench").page
    window.press("What to weigh")
    page.get_by_label("How many").fill("1")
    window.press("Begin")
    expect(page.locator("#log-lure")).to_contain_text("begun")
    page.goto(f"{logged.address}?log")
    expect(page.locator(".lures")).to_contain_text(name)
    assert page.locator("#page img").count() == 0


def test_what_the_terminal_enters_meanwhile_is_shown(logged, windows):
    page = at_bench(windows(logged), 4)
    other = at_bench(windows(logged), 4)
    page.locator("#log-mass").fill("51")
    done = CliRunner().invoke(app, ["log", "note", "4", "from the terminal", "--shop", str(logged.folder / "shop")])
    assert done.exit_code == 0
    for one in (page, other):
        expect(one.locator(".weighing .entries")).to_contain_text("from the terminal")
    expect(page.locator("#log-mass")).to_have_value("51")  # what is being typed stays


def test_no_answer_is_not_told_as_entered(logged, windows):
    window = windows(logged)
    page = at_bench(window, 5)
    page.route("**/api/log/enter*", lambda route: route.abort())
    page.locator("#log-mass").fill("55.1")
    window.press("Enter the weight")
    expect(page.locator(".told.wrong")).to_contain_text("No answer came")
    expect(page.locator("#log-mass")).to_have_value("55.1")
    assert len(record(logged, 5).of(Weighing)) == 1
    window.faults[:] = [fault for fault in window.faults if "ERR_FAILED" not in fault]
    page.unroute("**/api/log/enter*")
    window.press("Enter the weight")
    expect(page.locator(".entered").first).to_contain_text("mass 55.10 g.")


def test_an_entry_is_corrected_and_the_old_one_stays(logged, windows):
    window = windows(logged)
    page = at_bench(window, 2)
    window.press(next(f"Correct entry {entry.number}" for entry, _ in record(logged, 2).of(Weighing)))
    page.locator(".correcting").get_by_label("mass").fill("506 g")
    page.get_by_label("why").fill("misread")
    window.press("Enter the correction")
    expect(page.locator(".correcting .question")).to_contain_text("The decimal point: 50.6 g?")
    window.press("Change it")
    page.locator(".correcting").get_by_label("mass").fill("50.9 g")
    window.press("Enter the correction")
    expect(page.locator(".entered").first).to_contain_text("mass 50.90 g, in the place of entry")
    expect(page.locator(".weighing .entries")).to_contain_text("corrected by entry")
    assert [one.mass for _, one in record(logged, 2).of(Weighing)] == [Reading(0.0509)]


def test_the_log_is_looked_into_and_taken_away(logged, windows, tmp_path):
    window = windows(logged)
    page = window.page
    page.goto(logged.address)
    page.get_by_role("link", name="Every lure, what it weighed and what it did").click()
    expect(page.locator(".sentence")).to_contain_text("lures in the log.")
    expect(page.locator(".lures li").filter(has_text="Lure 5")).to_contain_text("weighing of lure 5")
    with Log.look(logged.folder / "shop") as log:
        stamp = log.patterns("Reed Gate glider")[0].stamp
    page.get_by_label("Whose is a design's stamp?").fill(stamp[:5])
    page.keyboard.press("Enter")
    expect(page.locator(".found")).to_contain_text(f"{stamp} is Reed Gate glider, version 1.")
    packed = window.saved_papers(tmp_path, lambda: window.press("Save a backup (ZIP)"))
    assert "shop.sqlite3" in zipfile.ZipFile(packed).namelist()
    page.locator(".found").get_by_role("link", name="Lure 5", exact=True).click()
    expect(page.locator(".sentence")).to_contain_text("Lure 5: Reed Gate glider, version 1")
    card = window.saved_papers(tmp_path, lambda: window.press("Save its record card (PDF)"))
    text = pdfplumber.open(io.BytesIO(card.read_bytes())).pages[0].extract_text()
    assert stamp in text
    assert card.name == "lure-5.pdf"


def test_a_lure_that_is_not_there_and_odd_addresses(logged, windows):
    window = windows(logged)
    window.page.goto(f"{logged.address}?log=999")
    expect(window.page.locator("main")).to_contain_text("gudgeon log list shows those there are")
    window.page.goto(f"{logged.address}?log=<script>")
    expect(window.page.locator(".sentence")).to_contain_text("lures in the log.")


@pytest.mark.parametrize("name", SIZES)
def test_bench_and_log_are_sound(logged, windows, axe, name):
    """Axe finds no serious fault; nothing is clipped, overlaps, or is too small for a finger; light and dark."""
    window = windows(logged, SIZES[name], has_touch=name != "wide")
    page = at_bench(window, 1)
    found = look(window, axe, "bench")
    page.locator("#log-kind").select_option("timed drops")
    page.get_by_role("button", name=re.compile("Correct entry")).first.click()
    found += look(window, axe, "bench")
    for asked in ("?log", "?log=1"):
        page.goto(f"{logged.address}{asked}")
        page.get_by_text(re.compile("^Save ")).first.wait_for()
        found += look(window, axe, "start")
    told(found)

