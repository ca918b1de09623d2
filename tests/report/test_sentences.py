"""Findings as a maker would say them."""

from gudgeon.answers.finding import Finding, Gravity, worst_first
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import SIGNS, said
from gudgeon.units import INCH, Measure


def test_numbers_are_filled_in_in_the_shops_units():
    finding = Finding(Gravity.WATCH, "leaves {left} of wood", {"left": (INCH / 8, Measure.LENGTH)})
    assert said(finding, Shop.METRIC) == "Leaves 3.2 mm of wood"
    assert said(finding, Shop.INCH) == "Leaves 0.125 in of wood"


def test_the_worst_comes_first_and_each_has_a_sign_and_a_word():
    found = [Finding(Gravity.NOTE, "a"), Finding(Gravity.WRONG, "b"), Finding(Gravity.WATCH, "c")]
    assert [finding.words for finding in worst_first(found)] == ["b", "c", "a"]
    assert len({sign for sign, _ in SIGNS.values()}) == len({word for _, word in SIGNS.values()}) == len(Gravity)
