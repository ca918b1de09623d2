"""Paper: sheets of the right size, bars that measure what they say, words that fit."""

import datetime
from io import BytesIO
from itertools import pairwise

import pdfplumber
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from pdfminer.pdftypes import resolve1

from gudgeon.errors import BadQuantity
from gudgeon.report.paper import MM, PAPERS, PaperName, Sheet, bound, frame_of, printable, width_of, wrapped
from gudgeon.report.rows import Shop
from gudgeon.report.sheets import correction_for
from gudgeon.report.strokes import Line
from gudgeon.report.tiling import OVERLAP, joins, letter, spans
from gudgeon.report.title_block import Imprint, frame_and_title


def page(paper: PaperName, *, correction: float = 1.0, true_scale: bool = True) -> pdfplumber.page.Page:
    imprint = Imprint("Wisp", "0123abcd", Shop.METRIC, datetime.date(2024, 2, 29), correction)
    frame = frame_of(paper, lying=true_scale)
    sheet = Sheet("Template", true_scale, lambda pen: frame_and_title(pen, frame, imprint, "Template", number=(2, 7),
                                                                      bars=true_scale))  # fmt: skip
    return pdfplumber.open(BytesIO(bound([sheet], paper, title="Wisp"))).pages[0]


def level_lines(found: pdfplumber.page.Page) -> list[float]:
    return [line["width"] / MM for line in found.lines if abs(line["height"]) < 1e-6]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("true_scale", [True, False])
def test_sheets_are_as_large_as_the_paper(paper: PaperName, true_scale: bool) -> None:
    wide, tall = PAPERS[paper][::-1] if true_scale else PAPERS[paper]
    found = page(paper, true_scale=true_scale)
    assert found.width / MM == pytest.approx(wide, abs=1e-3)
    assert found.height / MM == pytest.approx(tall, abs=1e-3)


def test_frame_leaves_20_mm_to_file_by_and_10_elsewhere() -> None:
    found = page("A4")
    frame = max(found.rects + found.curves, key=lambda one: one["width"] * one["height"])
    assert frame["x0"] / MM == pytest.approx(20.0, abs=0.01)
    assert (found.width - frame["x1"]) / MM == pytest.approx(10.0, abs=0.01)
    assert frame["top"] / MM == pytest.approx(10.0, abs=0.01)


@pytest.mark.parametrize("factor", [1.0, 1.0309, 0.9])
def test_bars_measure_what_they_say_times_the_correction(factor: float) -> None:
    long = level_lines(page("A4", correction=factor))
    assert any(abs(length - 100.0 * factor) < 0.01 for length in long)
    assert any(abs(length - 101.6 * factor) < 0.01 for length in long)


def test_title_block_says_what_it_must() -> None:
    words = page("A4").extract_text()
    for said in ("Wisp", "0123abcd", "1:1", "mm", "2024-02-29", "2 of 7", "Template", "Measure this first", "100 mm",
                 "4 in"):  # fmt: skip
        assert said in words


def test_correction_is_told_in_words() -> None:
    words = page("A4", correction=100.0 / 97.0).extract_text()
    assert "1.0309 times as large" in words
    assert "97.0 mm" in words


def test_a_viewer_offers_its_own_size() -> None:
    pdf = pdfplumber.open(BytesIO(bound([Sheet("x", False, lambda pen: None)], "A4", title="x")))
    assert resolve1(pdf.doc.catalog["ViewerPreferences"])["PrintScaling"].name == "None"


def test_same_papers_twice_are_the_same_bytes() -> None:
    sheet = Sheet("x", False, lambda pen: pen.words(30.0, 30.0, "x"))
    assert bound([sheet], "A4", title="x") == bound([sheet], "A4", title="x")


@pytest.mark.parametrize("measured", [0.0, 0.02, 0.0849, 0.1151, 0.2])
def test_a_bar_no_printer_prints_is_refused(measured: float) -> None:
    with pytest.raises(BadQuantity, match=r"print at 100 % and measure again \(from 85 to 115 mm"):
        correction_for(measured)


def test_words_the_fonts_lack_come_as_near_as_can_be() -> None:
    assert printable("żółty 5 ± 1°") == "zó?ty 5 ± 1°"


@example("0000@@00\"r", 12.0)  # the widest letters first
@given(st.text(st.characters(min_codepoint=33, max_codepoint=126), min_size=1, max_size=60), st.floats(12.0, 90.0))
def test_wrapped_words_fit_and_none_is_lost(words: str, room: float) -> None:
    lines = wrapped(words, room)
    assert all(width_of(line) <= room + 1e-6 for line in lines)
    assert "".join(lines).replace(" ", "") == words.replace(" ", "")


@given(st.floats(1.0, 5000.0), st.floats(50.0, 300.0), st.floats(-20.0, 20.0))
def test_tiles_cover_it_all_overlap_by_10_mm_and_are_as_few_as_can_be(whole: float, room: float, start: float) -> None:
    tiles = spans(start, start + whole, room)
    assert tiles[0].start == pytest.approx(start)
    assert tiles[-1].stop == pytest.approx(start + whole)
    assert all(tile.stop - tile.start <= room + 1e-6 for tile in tiles)
    assert all(one.stop - other.start == pytest.approx(OVERLAP) for one, other in pairwise(tiles))
    fewer = len(tiles) - 1
    assert fewer * room - (fewer - 1) * OVERLAP < whole or fewer == 0


def test_neighbours_share_a_join_line_in_the_middle_of_the_overlap() -> None:
    tiles = spans(0.0, 500.0, 200.0)
    for place in range(len(tiles) - 1):
        ours, theirs = joins(tiles, place, 13)[-1], joins(tiles, place + 1, 13)[0]
        assert (ours.letter, ours.before, theirs.before) == (theirs.letter, True, False)
        assert ours.at == pytest.approx(theirs.at)
        assert ours.at == pytest.approx(0.5 * (tiles[place].stop + tiles[place + 1].start))
    assert joins(spans(0.0, 100.0, 200.0), 0, 13) == ()


def test_letters_leave_out_i_and_o() -> None:
    assert [letter(place) for place in (0, 7, 8, 23, 24, 47, 48)] == ["A", "H", "J", "Z", "AA", "AZ", "BA"]


def test_lines_are_told_apart_without_colour() -> None:
    kinds = {(line.width, line.dashes) for line in (Line.VISIBLE, Line.THIN, Line.HIDDEN, Line.CENTRE, Line.PHANTOM)}
    assert len(kinds) == 5
    assert Line.VISIBLE.width == 0.5
    assert Line.HIDDEN.width == Line.CENTRE.width == Line.FINISHED.width == 0.25
