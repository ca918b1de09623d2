"""Board, lip, fin and tow eye as rows: names stable and unlike a check's, numbers those of the answers."""

from pathlib import Path

import pytest

from gudgeon.answers.check import check
from gudgeon.answers.lip_and_fin import lip_and_fin
from gudgeon.answers.piece_of_wood import piece_of_wood
from gudgeon.design.file import parse
from gudgeon.report.check_rows import check_rows
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said
from gudgeon.report.wood_rows import STEPS, wood_findings, wood_headline, wood_rows, wood_sections

EXAMPLES = Path(__file__).parents[2] / "examples"
GOOD = '\n[board]\nlength = "700 mm"\nwidth = "75 mm"\nthickness = "50 mm"\n'
POOR = (
    '\n[board]\nlength = "262 mm"\nwidth = "49 mm"\nthickness = "32 mm"\nfar_thickness = "20 mm"\n'
    '[[board.flaw]]\nat = "100 mm"\nlong = "8 mm"\n[[board.flaw]]\nwhat = "crack"\nat = "200 mm"\nlong = "30 mm"\n'
)


def both(name, board):
    design = parse((EXAMPLES / f"{name}.toml").read_text() + board)
    answer = check(design)
    wood = piece_of_wood(design, answer.lure) if design.board else None
    return answer, wood, lip_and_fin(design, answer.lure)


@pytest.fixture(scope="module", params=["lanternmere", "diver", "glider"])
def name(request):
    return request.param


@pytest.mark.parametrize("board", [GOOD, POOR, ""])
def test_names_are_unique_plain_and_unlike_a_checks(name, board):
    answer, wood, plates = both(name, board)
    names = [row.name for row in wood_rows(wood, plates, Shop.METRIC)]
    assert len(names) == len(set(names))
    assert all(one == one.lower() and " " not in one for one in names)
    assert not set(names) & {row.name for row in check_rows(answer, Shop.METRIC)}
    assert names == [row.name for row in wood_rows(wood, plates, Shop.INCH)]


@pytest.mark.parametrize("board", [GOOD, POOR])
def test_nothing_is_missing_or_no_number(name, board):
    _, wood, plates = both(name, board)
    for row in wood_rows(wood, plates, Shop.INCH):
        assert row.shown
        assert "nan" not in row.shown
        assert "inf" not in row.shown.split()
        assert "{" not in row.shown


def test_rows_carry_the_answers_numbers():
    _, wood, plates = both("lanternmere", POOR)
    rows = {row.name: row for row in wood_rows(wood, plates, Shop.METRIC)}
    assert rows["board.need.length"].value == pytest.approx(1e3 * wood.need.length)
    assert rows["board.flat.1.depth"].value == pytest.approx(1e3 * wood.fit.flats[0].depth)
    assert rows["board.flaw.1.at"].value == pytest.approx(500.0 * (wood.fit.hits[0].start + wood.fit.hits[0].stop))
    assert rows["board.fits"].value == "no"
    assert rows["fin.side_share"].value == pytest.approx(100.0 * plates.fin.side_share)
    assert rows["tow.arm"].value == pytest.approx(1e3 * (plates.tow.centre[1] - plates.tow.eye))


def test_side_views_say_whether_the_fin_is_in():
    """A check's is the body's, the wood's is balanced with the fin; of a lure without one both are the same number."""
    for lure, has_fin in (("lanternmere", True), ("diver", False)):
        answer, wood, plates = both(lure, "")
        of_check = next(row for row in check_rows(answer, Shop.METRIC) if row.name == "side.above")
        of_wood = next(row for row in wood_rows(wood, plates, Shop.METRIC) if row.name == "tow.above")
        assert ("no fin" in of_check.label, "with its fin" in of_wood.label) == (has_fin, has_fin)
        assert (of_check.value == pytest.approx(of_wood.value)) != has_fin


def test_a_tight_board_tells_what_is_sawn_and_what_was_wanted():
    _, wood, plates = both("diver", '\n[board]\nlength = "200 mm"\nwidth = "60 mm"\nthickness = "24 mm"\n')
    rows = {row.name: row for row in wood_rows(wood, plates, Shop.METRIC)}
    assert rows["board.need.top"].value == pytest.approx(24.0)
    assert rows["board.need.top_wanted"].value == pytest.approx(1e3 * wood.need.top)
    assert "board.need.side_wanted" not in rows


@pytest.mark.parametrize(("board", "words"), [
    (GOOD, "The board holds"), (POOR, "does not hold the whole lure"), ("", "write it under [board]"),
])  # fmt: skip
def test_the_headline_answers_whether_it_fits(board, words):
    _, wood, _ = both("lanternmere", board)
    assert words in wood_headline(wood, Shop.METRIC)


@pytest.mark.parametrize("shop", list(Shop))
def test_every_finding_can_be_said(name, shop):
    for board in (GOOD, POOR, ""):
        _, wood, plates = both(name, board)
        found = wood_findings(wood, plates)
        assert [finding.gravity for finding in found] == sorted((finding.gravity for finding in found), reverse=True)
        for finding in found:
            assert "{" not in said(finding, shop)


def test_the_lips_title_states_its_angle():
    _, wood, plates = both("diver", "")
    titles = [section.title for section in wood_sections(wood, plates, Shop.METRIC)]
    assert any("0° straight ahead, 90° straight down" in title for title in titles)
    assert STEPS not in titles
