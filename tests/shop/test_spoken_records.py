"""Records made of the maker's words: every fault at once, and the same door as the terminal's."""

from typing import get_args

import pytest

from gudgeon.design.model import Uncertainty
from gudgeon.errors import BadShop
from gudgeon.shop.columns import SCALE, weight_as_read
from gudgeon.shop.log import Log
from gudgeon.shop.records import Answer, OfLure, Photo, TimedDrop, TowTest, Weighing
from gudgeon.shop.spoken_records import SPOKEN, changes_in_words, enter, record_in_words
from gudgeon.units import KNOT, OUNCE, Reading


def faults(refusal: pytest.ExceptionInfo[BadShop]) -> list[str]:
    return [str(fault) for fault in refusal.value.faults]


def test_a_record_is_made_of_words() -> None:
    assert record_in_words("weighing", {"stage": "sealed", "mass": "1.75 oz", "piece": "", "fitted": " "}) == Weighing(
        "sealed", Reading(pytest.approx(0.0496117, rel=1e-5), pytest.approx(0.005 * OUNCE)))  # fmt: skip
    drop = record_in_words("timed_drop", {"stage": "rigged", "distance": "4 ft", "times": "12.4 s, 12.1 s",
                                          "rises": "yes", "fitted": "tow eye, front hook"})  # fmt: skip
    assert drop == TimedDrop("rigged", Reading(1.2192), (12.4, 12.1), True, ("tow eye", "front hook"))
    tow = record_in_words("tow_test", {"speed": "2 kn", "stand_ins": "front hook, 3.4 g"})
    assert isinstance(tow, TowTest)
    assert tow.speed.value == pytest.approx(2 * KNOT)
    assert [(one.hook, one.mass) for one in tow.stand_ins] == [("front hook", pytest.approx(0.0034))]


def test_every_fault_is_told_at_once() -> None:
    with pytest.raises(BadShop) as refusal:
        record_in_words("weighing", {"mass": "12", "colour": "red"})
    assert [words.partition(":")[0] for words in faults(refusal)] == ["mass", "colour", "stage"]
    with pytest.raises(BadShop) as refusal:
        record_in_words("photo", {})
    assert "weighing, jug" in faults(refusal)[0]


def test_changes_are_those_written() -> None:
    old = Weighing("shaped", Reading(0.05))
    assert changes_in_words(old, {"stage": "sealed"}) == {"stage": "sealed"}
    mass = changes_in_words(old, {"mass": "51 ± 0.1 g"})["mass"]
    assert (mass.value, mass.spread) == pytest.approx((0.051, 0.0001))
    with pytest.raises(BadShop) as refusal:
        changes_in_words(old, {"mass": "", "colour": "red"})
    assert len(faults(refusal)) == 2


def test_every_kind_goes_through_the_door_that_is_its_own(twelve: Log) -> None:
    """Whatever words can make is entered, and only a picture and a kept answer are made otherwise."""
    assert {*get_args(OfLure)} - {*SPOKEN.values()} == {Photo, Answer}
    number = enter(twelve, 3, record_in_words("change", {"what": "hook", "why": "dives"}), remark="at dusk")
    assert twelve.entry(number).remark == "at dusk"
    with pytest.raises(BadShop):
        enter(twelve, 99, record_in_words("note", {"words": "no such lure"}))


@pytest.mark.parametrize(("words", "half"), [
    ("2.4 oz", 0.05 * OUNCE), ("2.40 oz", 0.005 * OUNCE), ("2 1/2 oz", 0.25 * OUNCE), ("3 ounces", 0.5 * OUNCE),
    ("68.0 g", None), ("68 g", None), ("35 grains", None), ("2.400 oz", None), ("2.4 oz ± 0.1 oz", 0.1 * OUNCE),
])  # fmt: skip
def test_a_weight_in_ounces_is_no_surer_than_its_figures(words: str, half: float | None) -> None:
    """68 g are a maker's 68.0 g, and 0.5 grain is less than the scale's own 0.1 g."""
    found = weight_as_read(words).spread
    assert found == (None if half is None else pytest.approx(half))


def test_a_scale_is_as_sure_as_a_design_has_it() -> None:
    assert Uncertainty().scale == SCALE
