"""Ballast, drops and leaded weights that look like a slip are questioned; ordinary ones are not."""

import pytest

from gudgeon.answers.as_weighed import as_weighed
from gudgeon.answers.log_faults import told_by_entry
from gudgeon.answers.odd_entries import oddities
from gudgeon.answers.odd_makings import odd_stock, unlike_wood
from gudgeon.answers.timber import timber
from gudgeon.answers.woodwork import woodwork
from gudgeon.design.file import parse
from gudgeon.errors import BadDesign, BadShop, Fault
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said
from gudgeon.shop.log import Log
from gudgeon.shop.records import Ballast, Board, OfLure, Stock, TimedDrop, Weighing
from gudgeon.units import OUNCE, Reading


def grams(mass: float) -> Reading:
    return Reading(mass * 1e-3)


def asked(log: Log, record: OfLure) -> str:
    return "\n".join(said(found, Shop.METRIC) for found in oddities(log, 1, record))


@pytest.mark.parametrize(
    ("piece", "words"),
    [
        (Ballast("front", Reading(6.4 * OUNCE)), "181.4 g of lead: the hole holds"),
        (Ballast("front", Reading(6.4 * OUNCE)), "Grams, not ounces: 6.4 g?"),
        (Ballast("behind", grams(5.0)), "no hole 'behind'; it has behind front hook"),
        (Ballast("behind", grams(5.0), 0.05, 0.01, 0.009), "no hole 'behind'; it has behind front hook"),
        (Ballast("nose", grams(5.0)), "no hole 'nose'; it has front, behind front hook, rear"),
        (Ballast("rear", grams(5.0), material="tungstn"), "no material 'tungstn' is known"),
        (Ballast("rear", grams(5.0), depth=0.229), "229 mm deep comes out on the far side"),
        (Ballast("rear", grams(5.0), station=0.229), "is not on the body"),
    ],
)
def test_a_slip_in_ballast_is_questioned(twelve: Log, piece: Ballast, words: str) -> None:
    assert words in asked(twelve, piece)


@pytest.mark.parametrize(
    "piece",
    [
        Ballast("front", grams(6.4)),
        Ballast("rear", grams(9.9), depth=0.017, bore=0.0095),
        Ballast("rear", grams(0.0), depth=0.015),
        Ballast("nose", grams(5.0), 0.03, 0.01, 0.0095),
    ],
)
def test_ballast_that_goes_in_is_not(twelve: Log, piece: Ballast) -> None:
    assert asked(twelve, piece) == ""


def test_a_hole_is_not_filled_twice(twelve: Log) -> None:
    piece = Ballast("front", grams(6.4), depth=0.008)
    number = twelve.ballast(1, piece)
    assert "with 6.4 g in it already" in asked(twelve, piece)
    assert oddities(twelve, 1, piece, twelve.entry(number).root) == ()


def drops(*times: float) -> TimedDrop:
    return TimedDrop("rigged", Reading(1.2192), times)


@pytest.mark.parametrize(
    ("times", "words"),
    [
        ((12.4, 12.1, 12.6), ""),
        ((12.4,), ""),
        ((12.4, 15.0), ""),
        ((12.4, 121.0, 12.6), "121 s: the other drops took 12.4 to 12.6 s. The decimal point: 12.1 s?"),
        ((12.4, 121.0), "121 s: the other drop took 12.4 s. The decimal point: 12.1 s?"),
        ((12.4, 30.0, 12.6), "30 s: the other drops took 12.4 to 12.6 s"),
    ],
)
def test_a_time_far_from_its_fellows_is_questioned(twelve: Log, times: tuple[float, ...], words: str) -> None:
    assert asked(twelve, drops(*times)) == words


def test_a_rigged_weight_is_questioned_though_no_ballast_is_entered(twelve: Log) -> None:
    twelve.weigh(1, Weighing("shaped", grams(51.0)))
    words = asked(twelve, Weighing("rigged", Reading(75.0 * OUNCE)))
    assert words.startswith("Whole 2126.21 g: no lead is entered, and with what it needs it should weigh about ")
    for stage, mass in (("rigged", 100.0), ("leaded", 90.0)):
        assert asked(twelve, Weighing(stage, grams(mass))) == ""


def test_a_lure_that_cannot_be_so_is_told_by_its_entries_and_can_still_be_weighed(twelve: Log, glider: str) -> None:
    wrong = twelve.ballast(1, Ballast("front", Reading(6.4 * OUNCE)))
    with pytest.raises(BadShop, match=rf"hole 'front', entry {wrong}: .*gudgeon log correct {wrong},"):
        as_weighed(parse(glider), "00000000", twelve.lure(1))
    assert asked(twelve, Weighing("shaped", grams(51.0))) == ""
    assert "whole 510" in asked(twelve, Weighing("shaped", grams(510.0))).lower()


def test_other_faults_of_a_lure_stay_as_they_are(twelve: Log) -> None:
    with pytest.raises(BadShop, match="lip: too thin"), told_by_entry(twelve.lure(1)):
        raise BadDesign("the design cannot be built", [Fault("lip", "too thin")])


def test_a_file_of_another_pattern_is_refused_and_another_version_is_told_first(twelve: Log, glider: str) -> None:
    record = twelve.lure(1)
    other = parse(glider.replace('"Reed Gate glider"', '"Mill Race diver"'))
    with pytest.raises(BadShop, match="is a Reed Gate glider, and this file is 'Mill Race diver'"):
        as_weighed(other, "00000000", record)
    assert "another text" in as_weighed(parse(glider), "00000000", record).check.findings[0].words


def test_what_is_weighed_again_names_the_entry_to_correct(twelve: Log) -> None:
    number = twelve.weigh(1, Weighing("shaped", grams(33.0)))
    words = asked(twelve, Weighing("shaped", grams(43.4)))
    assert words.endswith(f"Entry {number} says 33.0 g for the same; if that is wrong: gudgeon log correct {number}")


def test_figures_that_were_never_typed_are_not_changed_over(twelve: Log) -> None:
    twelve.weigh(1, Weighing("shaped", grams(77.3)))
    assert "changed over" not in asked(twelve, Weighing("shaped", Reading(2.6 * OUNCE)))
    assert "Two figures changed over: 77.3 g?" in asked(twelve, Weighing("shaped", grams(73.7)))


def test_more_sealer_than_was_guessed_is_no_slip(twelve: Log) -> None:
    twelve.weigh(1, Weighing("shaped", grams(50.0)))
    design = twelve.design_of(1)
    assert design.sealer is not None
    mass = 0.0516 + 0.6 * design.sealer.weight.value
    assert asked(twelve, Weighing("sealed", Reading(mass))) == ""


def test_the_entry_to_correct_begins_a_sentence(twelve: Log) -> None:
    number = twelve.weigh(1, Weighing("shaped", grams(73.3)))
    words = asked(twelve, Weighing("shaped", grams(7.3)))
    assert f"Entry {number} says" in words
    assert ".." not in words
    assert "?." not in words


@pytest.mark.parametrize(("name", "each", "words"), [
    ("2/0 treble", Reading(6.1 * OUNCE), "172.9 g for one, where a treble of that size weighs about 4.9 g: 6.1 g and"),
    ("big treble", Reading(6.1 * OUNCE), "the largest treble known, a 5/0, weighs about 13.8 g: 6.1 g and not ounces?"),
])  # fmt: skip
def test_a_hook_in_ounces_for_grams_is_questioned(name: str, each: Reading, words: str) -> None:
    (found,) = odd_stock(Stock(name, "hook", each=each))
    assert words in said(found, Shop.METRIC)
    assert [*odd_stock(Stock(name, "hook", each=grams(6.1)))] == []
    assert [*odd_stock(Stock("sinker", "shot", each=each))] == []


def test_a_board_unlike_the_drawing_s_wood_is_told(twelve: Log) -> None:
    design = twelve.design_of(1)
    drawn = timber(design, woodwork(design, []), []).density
    (light,) = unlike_wood(design, Board("B3", "basswood", Reading(0.8 * drawn)))
    assert "20 % lighter than the wood that the design is drawn for" in said(light, Shop.METRIC)
    (heavy,) = unlike_wood(design, Board("B5", "oak", Reading(1.3 * drawn)))
    assert "30 % heavier" in said(heavy, Shop.METRIC)
    assert [*unlike_wood(design, Board("B4", "basswood", Reading(0.95 * drawn)))] == []
    assert [*unlike_wood(design, Board("B6", "wood of nowhere"))] == []
