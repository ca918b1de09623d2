"""The record card on paper: every row of the card, one sheet, the picture, and words that stay words."""

import datetime
import io
import re
from collections.abc import Iterator
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image

from gudgeon.answers.record_card import record_card
from gudgeon.errors import BadShop
from gudgeon.report.log_rows import card_headline, card_sections
from gudgeon.report.paper import PAPERS, PaperName
from gudgeon.report.pictures import printable_picture
from gudgeon.report.record_sheets import record_sheets
from gudgeon.report.row_blocks import section_blocks
from gudgeon.report.rows import Section, Shop, words_row
from gudgeon.shop.log import Log
from gudgeon.shop.records import (
    Attitude,
    Ballast,
    Board,
    Change,
    Fitting,
    Jug,
    Note,
    TimedDrop,
    TowTest,
    Weighing,
)
from gudgeon.units import Reading

EXAMPLES = Path(__file__).parents[2] / "examples"
HOSTILE = ("<b>bold</b> <img src=/etc/passwd> <para>", "'; DROP TABLE entry; --", "=HYPERLINK(1) & \\( ) %PDF",
           "{braces} {0} \x1b[31m")  # fmt: skip
DATE = datetime.date(2026, 5, 3)


def photograph(path: Path, kind: str = "JPEG", size: tuple[int, int] = (1600, 900), mode: str = "RGB") -> Path:
    Image.new(mode, size, (200, 60, 30, 128)[: len(mode)]).save(path, kind)
    return path


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    """A lure with one of everything, and another just begun."""
    with Log.start(tmp_path / "shop", lambda: "2026-05-03T10:00:00+02:00") as found:
        found.add_board(Board("B7", "poplar", Reading(455.0)))
        pattern = found.add_pattern((EXAMPLES / "glider.toml").read_text(encoding="utf-8"))
        found.add_lures(pattern.name, 2, board="B7")
        found.weigh(1, Weighing("shaped", Reading(0.0489)))
        found.jug(1, Jug("sealed", Reading(0.1102)))
        found.ballast(1, Ballast("front", Reading(0.015), 0.038, 0.02, 0.011))
        found.ballast(1, Ballast("front", Reading(0.002)))
        found.ballast(1, Ballast("rear", Reading(0.0149)))
        found.fit(1, Fitting("front hook", Reading(0.0034)))
        found.drop(1, TimedDrop("rigged", Reading(1.22), (12.4, 12.1)))
        found.lies(1, Attitude("rigged", Reading(-0.07), Reading(0.02), "falling"))
        found.tow(1, TowTest(Reading(1.0), Reading(3.0), seen="swings evenly"))
        found.change(1, Change("rear hook one size up", "nose-down"))
        found.note(1, Note("two fish"))
        found.photo(1, photograph(tmp_path / "side.jpg"), "left side")
        yield found


def pages_of(log: Log, number: int = 1, shop: Shop = Shop.METRIC, paper: PaperName = "A4", photo: int | None = None
             ) -> pdfplumber.PDF:  # fmt: skip
    content = record_sheets(record_card(log, number, photo), shop=shop, paper=paper, date=DATE)
    return pdfplumber.open(io.BytesIO(content))


def plain(words: str) -> str:
    return re.sub(r"\s+", "", words)


def text_of(pdf: pdfplumber.PDF) -> str:
    """All words, column by column."""
    halves = []
    for page in pdf.pages:
        middle = page.width / 2.0 + 15.0
        halves += [page.extract_text(), *(page.crop(box).extract_text() for box in (
            (0, 0, middle, page.height), (middle, 0, page.width, page.height)))]  # fmt: skip
    return plain(" ".join(halves))


@pytest.mark.parametrize("shop", list(Shop))
@pytest.mark.parametrize("paper", list(PAPERS))
def test_a_card_is_one_sheet_with_every_row_of_the_card_and_the_picture(log: Log, shop: Shop, paper: PaperName) -> None:
    pdf = pages_of(log, shop=shop, paper=paper)
    assert len(pdf.pages) == 1
    words = text_of(pdf)
    card = record_card(log, 1).card
    assert plain(card_headline(card)) in words
    for section in card_sections(card, shop):
        assert plain(section.title) in words
        for row in section.rows:
            assert plain(row.shown) in words, row.name
    (image,) = pdf.pages[0].images
    assert image["width"] / image["height"] == pytest.approx(16.0 / 9.0, rel=0.01)
    assert image["x1"] < pdf.pages[0].width
    assert plain("Reed Gate glider 1, lure 1") in words
    assert words.count(card.stamp) >= 3  # to be found again by: in the words, the rows, and the sheet's foot


def test_the_lure_is_drawn_as_it_is_with_the_numbers_of_its_ballast(log: Log) -> None:
    found = record_card(log, 1)
    assert found.undrawn == ""
    assert found.drawn is not None
    assert {hole.name: hole.mass for hole in found.drawn.holes} == {"front": pytest.approx(0.017), "rear": 0.0149}
    assert found.holes == {"front": (7, 8), "rear": (9,)}
    words = pages_of(log).pages[0].extract_text()
    assert re.search(r"7, 8 .*9", words.replace("\n", " "))
    assert plain("% of its size, from the side and from above. Cut nothing by it.") in plain(words)


def test_a_lure_just_begun_has_a_card_too(log: Log) -> None:
    pdf = pages_of(log, 2)
    assert len(pdf.pages) == 1
    assert pdf.pages[0].images == []
    assert "Ballast" not in pdf.pages[0].extract_text()


@pytest.mark.parametrize("words", HOSTILE)
def test_markup_formulas_and_braces_in_names_and_notes_are_only_words(log: Log, words: str, tmp_path: Path) -> None:
    text = (EXAMPLES / "glider.toml").read_text(encoding="utf-8")
    name = f"Pattern {words}".replace("\x1b", "")
    pattern = log.add_pattern(f"{text}\n# another", name=name)
    (lure,) = log.add_lures(pattern.name)
    number = lure.number
    for said in (words, f"note {words}"):
        log.note(number, Note(said.replace("\x1b", "")))
    log.change(number, Change(words.replace("\x1b", ""), "why"))
    log.photo(number, photograph(tmp_path / "x.jpg"), words.replace("\x1b", ""))
    pdf = pages_of(log, number)
    found = text_of(pdf)
    shown = plain(words.replace("\x1b", ""))
    assert found.count(shown) >= 4
    assert len(pdf.pages[0].images) == 1
    assert pdf.annots == []
    assert pdf.hyperlinks == []


def test_a_long_record_goes_on_to_further_sheets(log: Log) -> None:
    for turn in range(90):
        log.note(1, Note(f"looked over {turn} " + "before the season " * (turn % 4)))
    pdf = pages_of(log)
    assert len(pdf.pages) > 1
    words = text_of(pdf)
    assert all(plain(f"looked over {turn} ") in words for turn in range(90))
    assert plain(f"{len(pdf.pages)} of {len(pdf.pages)}") in words
    for page in pdf.pages:
        assert min(word["x0"] for word in page.extract_words()) > 50.0
        assert max(word["x1"] for word in page.extract_words()) < page.width - 20.0
        foot = [word for word in page.extract_words() if word["text"].startswith("looked")]
        assert all(word["bottom"] < page.height - 85.0 for word in foot)


def test_another_picture_can_be_printed_and_one_of_another_lure_cannot(log: Log, tmp_path: Path) -> None:
    first = max(entry.number for entry in log.lure(1).entries)
    other = log.photo(1, photograph(tmp_path / "tall.png", "PNG", (300, 900)), "from above")
    assert record_card(log, 1).picture.entry == other  # type: ignore[union-attr]
    (image,) = pages_of(log, photo=first).pages[0].images
    assert image["width"] > image["height"]
    with pytest.raises(BadShop, match=rf"entry 1 is no picture of lure 1; its pictures are {first}, {other}"):
        record_card(log, 1, 1)
    with pytest.raises(BadShop, match="it has none"):
        record_card(log, 2, first)


def test_a_picture_that_is_gone_or_broken_is_told_of(log: Log, tmp_path: Path) -> None:
    (kept,) = (log.folder / "photos").iterdir()
    kept.unlink()
    assert plain("side.jpg: its file is gone; a backup may have it") in text_of(pages_of(log))
    (tmp_path / "broken.jpg").write_bytes(b"\xff\xd8\xff" + bytes(1000))
    log.photo(1, tmp_path / "broken.jpg")
    pdf = pages_of(log)
    assert plain("broken.jpg: it cannot be printed") in text_of(pdf)
    assert pdf.pages[0].images == []


def test_a_lure_that_cannot_be_drawn_has_its_card_all_the_same(log: Log) -> None:
    log.ballast(1, Ballast("rear", Reading(9.0)))
    found = record_card(log, 1)
    assert "does not go in" in found.undrawn
    assert found.drawn is not None
    assert ".holds" not in found.undrawn  # a maker's words, no key of the file
    assert plain("It is drawn as its design has it. With what was entered,") in text_of(pages_of(log))


# --- pictures ---


@pytest.mark.parametrize(("kind", "mode"), [("JPEG", "RGB"), ("PNG", "RGBA"), ("PNG", "L"), ("WEBP", "RGB"),
                                            ("GIF", "L"), ("TIFF", "RGB")])  # fmt: skip
def test_every_usual_kind_of_picture_is_printed_small(kind: str, mode: str, tmp_path: Path) -> None:
    content = photograph(tmp_path / "one", kind, (2600, 1300), mode).read_bytes()
    found = printable_picture(content)
    assert found is not None
    assert (found.width, found.height) == (1000, 500)
    assert found.content.startswith(b"\xff\xd8\xff")
    assert len(found.content) < 100_000


def test_a_picture_is_turned_as_the_camera_was_held(tmp_path: Path) -> None:
    image = Image.new("RGB", (400, 200))
    held = Image.Exif()
    held[0x0112] = 6  # a quarter turn
    image.save(tmp_path / "held.jpg", exif=held)
    found = printable_picture((tmp_path / "held.jpg").read_bytes())
    assert found is not None
    assert (found.width, found.height) == (200, 400)


def test_clear_parts_of_a_picture_are_white_paper(tmp_path: Path) -> None:
    Image.new("RGBA", (10, 10), (0, 0, 0, 0)).save(tmp_path / "clear.png")
    found = printable_picture((tmp_path / "clear.png").read_bytes())
    assert found is not None
    assert Image.open(io.BytesIO(found.content)).getpixel((5, 5)) == (255, 255, 255)


def test_what_is_no_picture_or_claims_to_be_a_huge_one_is_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert printable_picture(b"") is None
    assert printable_picture(b"\x89PNG\r\n\x1a\n" + bytes(50)) is None
    whole = photograph(tmp_path / "one.png", "PNG", (400, 400)).read_bytes()
    assert printable_picture(whole[: len(whole) // 2]) is None
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", 100_000)
    assert printable_picture(whole) is None


def test_a_hole_s_size_stays_with_its_hole_and_a_drop_is_told_in_feet(log: Log) -> None:
    rows = (words_row("in.1.mass", "1: front, lead", "15.00 g"), words_row("in.1.depth", "   depth", "20.0 mm"),
            words_row("in.2.mass", "2: rear, lead", "14.90 g"))  # fmt: skip
    keeps = [block.keeps for block in section_blocks(Section("Ballast that is in", rows), 90.0, 38.0)]
    assert keeps[-3:] == [True, False, False]
    card = record_card(log, 1).card
    (drop,) = [row for section in card_sections(card, Shop.INCH) for row in section.rows if "sank" in row.label]
    assert drop.shown.startswith("4.0 ft in 12.4, 12.1 s")
