"""A weight that looks like a slip of the pen is questioned, with the likely slip; one that does not is not."""

import pytest

from gudgeon.answers.as_typed import Expected, _likely_slip, doubts, questions
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said
from gudgeon.shop.log import Log
from gudgeon.shop.records import Ballast, Board, Jug, Weighing
from gudgeon.units import Reading

TAILS = (7.2, 7.3, 7.4, 7.5, 7.5, 7.6, 7.6, 7.7, 7.8, 7.8, 7.9)
STORY = (41.2, 43.0, 43.9, 44.8, 45.1, 45.6, 46.2, 46.9, 47.7, 48.8, 50.3)


def grams(mass: float) -> Reading:
    return Reading(mass * 1e-3)


def asked(log: Log, lure: int, seen: Weighing | Jug) -> list[str]:
    """What is asked of a weight about to be entered, in the maker's words."""
    record = log.lure(lure)
    kin = record.lure.pattern
    twins = log.measured(Weighing, kin) if isinstance(seen, Weighing) else log.measured(Jug, kin)
    return [said(found, Shop.METRIC) for found in questions(log.design_of(lure), record, seen, twins)]


@pytest.fixture
def tails(twelve: Log) -> Log:
    """Eleven twins with their rear pieces weighed once sealed, the twelfth still to come."""
    for number, mass in enumerate(TAILS, start=1):
        twelve.weigh(number, Weighing("sealed", grams(mass), "rear"))
    return twelve


def test_a_weight_far_from_its_twins_is_questioned_in_the_words_of_the_bench(tails: Log) -> None:
    assert asked(tails, 12, Weighing("sealed", grams(9.8), "rear")) == [
        "Rear 9.8 g: its eleven twins weigh 7.2 to 7.9 g"]  # fmt: skip
    assert asked(tails, 12, Weighing("sealed", grams(7.5), "rear")) == []
    assert asked(tails, 12, Weighing("sealed", grams(8.2), "rear")) == []


@pytest.mark.parametrize(
    ("mass", "slip"),
    [
        (0.27, "Ounces for grams: 7.65 g?"),
        (214.0, "Grams for ounces: 7.55 g?"),
        (0.75, "The decimal point: 7.5 g?"),
        (75.2, "The decimal point: 7.52 g?"),
        (5.7, "Two figures changed over: 7.5 g?"),
    ],
)
def test_the_likely_slip_is_named(tails: Log, mass: float, slip: str) -> None:
    (words,) = asked(tails, 12, Weighing("sealed", grams(mass), "rear"))
    assert words.startswith("Rear ")
    assert words.endswith(f"its eleven twins weigh 7.2 to 7.9 g. {slip}")


def test_the_whole_for_a_part_and_a_stage_named_wrongly_are_known(tails: Log) -> None:
    for number, mass in enumerate(STORY, start=1):
        tails.weigh(number, Weighing("sealed", grams(mass)))
        tails.weigh(number, Weighing("leaded", grams(13.0 + 0.1 * number), "rear"))
    (words,) = asked(tails, 12, Weighing("sealed", grams(45.7), "rear"))
    assert words.endswith("That is what the whole weighs: whole for part?")
    (words,) = asked(tails, 12, Weighing("sealed", grams(7.6)))
    assert words.endswith("That is what the rear weighs: part for whole?")
    (words,) = asked(tails, 12, Weighing("sealed", grams(13.6), "rear"))
    assert words.endswith("That is what they weigh leaded: a stage named wrongly?")


def test_a_batch_of_ordinary_scatter_is_entered_without_a_question(twelve: Log) -> None:
    # TRADE story 10, invented and checked on paper: the twelfth of these blanks is to be set aside, and is no slip
    log = twelve
    for number, mass in enumerate(STORY, start=1):
        log.weigh(number, Weighing("shaped", grams(mass)))
    assert asked(log, 12, Weighing("shaped", grams(53.1))) == []
    assert asked(log, 12, Weighing("shaped", grams(64.0))) != []


def test_two_twins_are_too_few_and_the_drawing_is_asked(twelve: Log) -> None:
    for number in (1, 2):
        twelve.weigh(number, Weighing("shaped", grams(90.0)))
    assert asked(twelve, 3, Weighing("shaped", grams(51.0))) == []
    (words,) = asked(twelve, 3, Weighing("shaped", grams(90.0)))
    assert words.startswith("Whole 90.0 g: drawing, wood and what was measured before make it 51 ± 11 g")


def test_what_was_weighed_before_narrows_what_the_drawing_expects(log: Log, glider: str) -> None:
    log.add_board(Board("B7", "poplar", Reading(455.0, 5.0)))
    log.add_pattern(glider)
    log.add_lures("Reed Gate glider", 1, board="B7")
    assert asked(log, 1, Weighing("shaped", grams(51.0))) == []
    log.weigh(1, Weighing("shaped", grams(51.0)))
    assert asked(log, 1, Weighing("sealed", grams(52.0))) == []
    (words,) = asked(log, 1, Weighing("sealed", grams(5.2)))
    assert words.endswith("The decimal point: 52.0 g?")
    (words,) = asked(log, 1, Weighing("sealed", grams(1.84)))
    assert words.endswith("Ounces for grams: 52.16 g?")


def test_a_leaded_lure_is_not_held_against_a_drawing_that_does_not_know_its_lead(twelve: Log) -> None:
    assert asked(twelve, 1, Weighing("leaded", grams(101.0))) == []
    twelve.weigh(1, Weighing("sealed", grams(50.0)))
    for hole, mass in (("front", 12.4), ("behind front hook", 21.7), ("rear", 14.5)):
        twelve.ballast(1, Ballast(hole, grams(mass)))
    assert asked(twelve, 1, Weighing("leaded", grams(99.4))) == []
    assert asked(twelve, 1, Weighing("leaded", grams(150.0))) != []


def test_from_sealing_on_a_lure_only_gets_heavier(twelve: Log) -> None:
    twelve.weigh(1, Weighing("sealed", grams(50.0)))
    (words,) = asked(twelve, 1, Weighing("leaded", grams(48.0)))
    assert words == "Whole 48.0 g: 2 g less leaded than sealed. A stage named wrongly, or an entry to be corrected?"
    assert asked(twelve, 1, Weighing("leaded", grams(49.8))) == []
    twelve.weigh(2, Weighing("square", grams(140.0)))
    assert asked(twelve, 2, Weighing("board", grams(130.0)))[-1].startswith("Whole 130.0 g: 10 g more as a square")
    assert asked(twelve, 1, Weighing("leaded", grams(48.0), "rear")) == []


def test_pieces_that_do_not_make_the_whole_are_told(twelve: Log) -> None:
    twelve.weigh(1, Weighing("shaped", grams(34.1), "front"))
    twelve.weigh(1, Weighing("shaped", grams(17.0), "rear"))
    assert asked(twelve, 1, Weighing("shaped", grams(51.1))) == []
    words = asked(twelve, 1, Weighing("shaped", grams(51.7)))[-1]
    assert words.startswith("Told 51.70 g, but the parts add to 51.10 g, 0.6 g less; one digit differs (7 for 1)")


def test_a_dunk_is_held_against_its_twins_more_narrowly(twelve: Log) -> None:
    for number in range(1, 6):
        twelve.jug(number, Jug("sealed", grams(108.0 + 0.1 * number)))
    assert asked(twelve, 6, Jug("sealed", grams(109.5))) == []
    (words,) = asked(twelve, 6, Jug("sealed", grams(118.4)))
    assert words.startswith("Whole 118.4 g: its five twins displace 108.1 to 108.5 g")
    (words,) = asked(twelve, 6, Jug("sealed", grams(10.83)))
    assert words.endswith("The decimal point: 108.3 g?")


def test_corrected_and_struck_weights_of_twins_do_not_count(tails: Log) -> None:
    wrong = tails.weigh(12, Weighing("sealed", grams(98.0), "rear"))
    tails.correct(wrong, {"mass": grams(9.8)}, "the decimal point")
    tails.add_lures("Reed Gate glider", 1)
    (words,) = asked(tails, 13, Weighing("sealed", grams(20.0), "rear"))
    assert "twelve twins weigh 7.2 to 9.8 g" in words


def test_a_piece_with_braces_in_its_name_is_said_as_it_is(log: Log, glider: str) -> None:
    log.add_pattern(glider.replace('["front", "rear"]', '["front", "re{a}r"]'))
    log.add_lures("Reed Gate glider", 1)
    (words,) = asked(log, 1, Weighing("shaped", grams(90.0), "re{a}r"))
    assert words.startswith("Re{a}r 90.0 g: drawing")


def test_twins_out_of_another_board_tell_nothing_of_a_blank_s_weight(log: Log, glider: str) -> None:
    name = log.add_pattern(glider).name
    for board, dense in (("B3", 352.0), ("B4", 440.0)):
        log.add_board(Board(board, "basswood", Reading(dense)))
        log.add_lures(name, 4, board=board)
    for number, mass in ((5, 48.0), (6, 48.5), (7, 47.8), (8, 48.2)):
        log.weigh(number, Weighing("shaped", grams(mass)))
    assert doubts(log, 1, Weighing("shaped", grams(0.8 * 48.0))) == ()  # as light as its board
    assert "its three twins weigh 47.8 to 48.5 g" in said(
        doubts(log, 8, Weighing("shaped", grams(0.8 * 48.0)))[0], Shop.METRIC)  # fmt: skip


def test_figures_changed_over_are_named_only_where_that_is_near_enough() -> None:
    expected = Expected(139.3e-3, 0.45e-3, 2.8e-3)  # so wide a guess of a slip, and so narrow a range
    assert _likely_slip(Weighing("leaded", grams(142.1)), expected, {}) == ""
    assert "Two figures changed over: 139.4 g?" in _likely_slip(Weighing("leaded", grams(193.4)), expected, {})
