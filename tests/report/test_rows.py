"""Rows: conversion to the shop's units, and no more digits than the spread allows."""

import math

import pytest

from gudgeon.physics.spread import Estimate, around
from gudgeon.report.rows import Measure, Shop, row, spoken, words_row
from gudgeon.units import INCH, OUNCE


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (around(0.0124, 0.0006), "12.4 ± 0.6 g"),
        (around(0.0124, 0.006), "12 ± 6 g"),
        (around(0.0124, 0.00012), "12.40 ± 0.12 g"),
        (around(0.0124, 0.0), "12.40 g"),
        (Estimate(0.0031, 0.0026, 0.0048), "3.1 (2.6 to 4.8) g"),
        (around(-0.00001, 0.0006), "0.0 ± 0.6 g"),
        (0.0124, "12.40 g"),
        (-1e-9, "0.00 g"),
    ],
)
def test_digits_follow_the_spread(value, shown):
    assert row("x", "x", value, Measure.MASS, Shop.METRIC).shown == shown


def test_a_cut_length_is_a_ruler_fraction_in_an_inch_shop():
    assert row("x", "x", 6.5 * INCH, Measure.CUT, Shop.INCH).shown == "6 1/2 in"
    assert row("x", "x", 5 / 16 * INCH, Measure.CUT, Shop.INCH).shown == "5/16 in"
    assert row("x", "x", 0.1651, Measure.CUT, Shop.METRIC).shown == "165.1 mm"


def test_ballast_is_in_grams_in_both_shops_and_casting_weight_is_not():
    assert row("x", "x", 0.0124, Measure.MASS, Shop.INCH).unit == "g"
    cast = row("x", "x", 2.5 * OUNCE, Measure.CASTING_MASS, Shop.INCH)
    assert (cast.unit, cast.shown) == ("oz", "2.50 oz")


@pytest.mark.parametrize(
    ("measure", "value", "metric", "inch"),
    [
        (Measure.DENSITY, 464.5, ("g/cm3", 0.4645), ("lb/ft3", 28.998)),
        (Measure.TEMPERATURE, 283.15, ("C", 10.0), ("F", 50.0)),
        (Measure.ANGLE, math.pi / 6, ("deg", 30.0), ("deg", 30.0)),
        (Measure.TIME_PER_DISTANCE, 10.0, ("s/m", 10.0), ("s/ft", 3.048)),
        (Measure.PART, 0.18, ("%", 18.0), ("%", 18.0)),
        (Measure.AREA, 0.003, ("cm2", 30.0), ("in2", 4.65)),
    ],
)
def test_each_shop_gets_its_own_unit_and_full_precision(measure, value, metric, inch):
    for shop, (unit, number) in ((Shop.METRIC, metric), (Shop.INCH, inch)):
        made = row("x", "x", value, measure, shop)
        assert made.unit == unit
        assert made.value == pytest.approx(number, rel=1e-4)


def test_a_range_keeps_its_order_when_the_unit_turns_it_over():
    made = row("x", "x", Estimate(13.0, 11.0, 20.0), Measure.TIME_PER_FOOT, Shop.METRIC)
    assert made.low < made.value < made.high
    assert made.as_json() == {"name": "x", "label": "x", "value": made.value, "unit": "s/ft", "low": made.low,
                              "high": made.high}  # fmt: skip


def test_words_have_no_range():
    assert words_row("x", "x", "slow sinker").as_json()["low"] is None


def test_a_lone_number_in_a_sentence_has_a_figure_fewer():
    assert spoken(0.00162, Measure.MASS, Shop.METRIC) == "1.6 g"
    assert spoken(0.00062, Measure.MASS, Shop.METRIC) == "0.62 g"
    assert spoken(math.radians(10.4), Measure.ANGLE, Shop.METRIC) == "10°"
    assert spoken(around(0.0124, 0.0006), Measure.MASS, Shop.INCH) == "12.4 ± 0.6 g"
