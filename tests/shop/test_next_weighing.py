"""What goes on the scale next: stages in their order, pieces still to come, lead before what follows it."""

import pytest

from gudgeon.answers.as_typed import doubts
from gudgeon.answers.check import check
from gudgeon.answers.next_weighing import NextWeighing, next_weighing
from gudgeon.answers.papers import papers
from gudgeon.report.log_sentences import next_words
from gudgeon.report.rows import Shop
from gudgeon.shop.log import Log
from gudgeon.shop.records import Ballast, Weighing
from gudgeon.units import Reading


def grams(mass: float) -> Reading:
    return Reading(mass * 1e-3)


def following(log: Log) -> NextWeighing | None:
    """What is next of lure 1."""
    return next_weighing(log.design_of(1), log.lure(1))


def test_the_stages_follow_each_other(twelve: Log) -> None:
    found = []
    for stage, mass in (("square", 110.0), ("shaped", 50.0), ("sealed", 51.5), ("dry fit", 60.0), ("leaded", 98.5)):
        one = following(twelve)
        assert one is not None
        found.append(one.stage)
        if stage == "leaded":
            assert one.before_lead
            assert next_words(one, Shop.METRIC) == "Enter the lead as it goes in; then weigh it."
            for hole, lead in (("front", 12.0), ("behind front hook", 21.0), ("rear", 13.2)):
                twelve.ballast(1, Ballast(hole, grams(lead)))
        twelve.weigh(1, Weighing(stage, grams(mass)))
    assert found == ["shaped", "shaped", "sealed", "leaded", "leaded"]
    after = following(twelve)
    assert after is not None
    assert next_words(after, Shop.METRIC).startswith("Weigh it once the clear coat is on: about 1")
    twelve.weigh(1, Weighing("rigged", grams(112.0)))
    assert following(twelve) is None
    assert "every stage" in next_words(None, Shop.METRIC)


def test_pieces_that_are_begun_are_gone_on_with(twelve: Log) -> None:
    twelve.weigh(1, Weighing("shaped", grams(28.0), "front"))
    found = following(twelve)
    assert found is not None
    assert (found.stage, found.piece) == ("shaped", "rear")
    assert next_words(found, Shop.METRIC).startswith("Weigh the rear once it is shaped: about ")
    twelve.weigh(1, Weighing("shaped", grams(22.0), "rear"))
    assert (following(twelve) or found).stage == "sealed"


def test_pieces_weighed_with_parts_on_are_no_stage(twelve: Log) -> None:
    for piece in ("front", "rear"):
        twelve.weigh(1, Weighing("sealed", grams(30.0), piece, ("tow eye",)))
    found = following(twelve)
    assert found is not None
    assert (found.stage, found.piece) == ("shaped", "whole")


def test_holes_that_are_bored_and_empty_count_once_they_are_told(twelve: Log) -> None:
    """A bored sealed body is lighter by its wood; told so, what it weighs then is no question."""
    twelve.weigh(1, Weighing("shaped", grams(50.0)))
    solid = following(twelve)
    assert solid is not None
    assert solid.expected is not None
    assert next_words(solid, Shop.METRIC).endswith(" g, no hole bored.")
    for hole in ("front", "behind front hook", "rear"):
        twelve.ballast(1, Ballast(hole, grams(0.0), depth=0.015))
    bored = following(twelve)
    assert bored is not None
    assert bored.expected is not None
    assert "no hole bored" not in next_words(bored, Shop.METRIC)
    assert bored.expected.high < solid.expected.low
    assert doubts(twelve, 1, Weighing("sealed", Reading(bored.expected.value))) == ()
    assert doubts(twelve, 1, Weighing("sealed", Reading(solid.expected.value))) != ()


def test_of_a_lure_without_measurements_it_is_what_the_check_of_the_drawing_says(twelve: Log) -> None:
    """Twelve blanks are alike until one is on the scale: the check's own stages say the same."""
    found = following(twelve)
    assert found is not None
    assert found.expected is not None
    told = {stage.stage: stage.whole for stage in papers(check(twelve.design_of(1))).stages}
    assert found.expected.value == pytest.approx(told["shaped"].value, rel=1e-3)
