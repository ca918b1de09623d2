"""Drills: names, series, and the nearest bit in the shop."""

import math
from typing import cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import BadQuantity, OutsideSource, Refusal
from gudgeon.library.drills import Series, Shop, drill_for, drill_named, drills, nearest_drill, shop_drills

ALL_SERIES: tuple[Series, ...] = ("fraction", "number", "letter", "metric")


@pytest.mark.parametrize("series", ALL_SERIES)
def test_a_series_grows_and_every_drill_is_found_by_its_name(series: Series) -> None:
    own = drills(series)
    sizes = [drill.diameter for drill in own]
    assert sizes == sorted(sizes)
    assert len(set(sizes)) == len(sizes)
    for drill in own:
        assert abs(drill_named(drill.name).diameter - drill.diameter) < 1e-9
        assert nearest_drill(drill.diameter, series) is drill


def test_how_many_there_are() -> None:
    assert [len(drills(series)) for series in ALL_SERIES[:3]] == [64, 80, 26]


@pytest.mark.parametrize(("asked", "name", "millimetres"), [
    ("3/8 in", "3/8 in", 9.525), ("3/8", "3/8 in", 9.525), ('3/8"', "3/8 in", 9.525), ("0.375 in", "3/8 in", 9.525),
    ("24/64 in", "3/8 in", 9.525), ("1 in", "1 in", 25.4), (".062 in", "1/16 in", 1.5875), ("#43", "#43", 2.2606),
    ("no. 43", "#43", 2.2606), ("f", "F", 6.5278), (".257 in", "F", 6.5278), ("6.5 mm", "6.5 mm", 6.5),
    ("0.65 cm", "6.5 mm", 6.5),
])  # fmt: skip
def test_names_as_makers_write_them(asked: str, name: str, millimetres: float) -> None:
    drill = drill_named(asked)
    assert drill.name == name
    assert drill.diameter == pytest.approx(millimetres / 1000.0, rel=1e-9)


@pytest.mark.parametrize(("asked", "words"), [
    ("#90", "no number drill #90; they go from #1 to #80"), ("9.525 mm", "nearest is 9.5 mm"),
    ("0.40 in", "nearest is 13/32 in"), ("3 in", "go from 1/64 in to 1 in"),
])  # fmt: skip
def test_a_drill_there_is_not_is_refused(asked: str, words: str) -> None:
    with pytest.raises(OutsideSource, match=words):
        drill_named(asked)


@pytest.mark.parametrize("asked", ["6.5", "big", "", "3/0 in", "-3 mm"])
def test_what_is_no_size_is_refused(asked: str) -> None:
    with pytest.raises(BadQuantity, match=r"drills are named like 3/8 in, #43, F or 6\.5 mm"):
        drill_named(asked)


@given(st.text(max_size=20))
def test_any_text_is_a_drill_or_a_refusal(asked: str) -> None:
    try:
        drill = drill_named(asked)
    except Refusal:
        return
    assert drill in drills(drill.series)


@given(st.floats(0.0006, 0.025), st.sampled_from(ALL_SERIES))
def test_no_other_drill_is_nearer(diameter: float, series: Series) -> None:
    try:
        near = nearest_drill(diameter, series)
    except OutsideSource:
        own = drills(series)
        assert not own[0].diameter <= diameter <= own[-1].diameter
    else:
        assert all(abs(near.diameter - diameter) <= abs(drill.diameter - diameter) for drill in drills(series))


@given(st.floats(0.001, 0.025))
def test_a_shop_has_a_bit_near_any_bore(diameter: float) -> None:
    assert abs(drill_for(diameter, "inch").diameter - diameter) <= 0.0254 / 128 + 1e-12
    assert abs(drill_for(diameter, "metric").diameter - diameter) <= (0.00025 if diameter < 0.013 else 0.0005) + 1e-12


def test_of_two_as_near_the_larger() -> None:
    assert drill_for(0.01325 - 1e-12, "metric").name == "13 mm"
    assert drill_for(0.0135, "metric").name == "14 mm"


def test_a_metric_shop_keeps_halves_then_wholes() -> None:
    names = [drill.name for drill in shop_drills("metric")]
    assert names[:3] == ["0.5 mm", "1 mm", "1.5 mm"]
    assert names[-13:] == [f"{size} mm" for size in range(13, 26)]
    assert "12.5 mm" in names


@pytest.mark.parametrize("diameter", [0.0, 0.03, math.nan, -0.005])
def test_a_bore_no_bit_makes_is_refused(diameter: float) -> None:
    for shop in ("inch", "metric"):
        with pytest.raises(OutsideSource, match="go from"):
            drill_for(diameter, cast(Shop, shop))


def test_unknown_series_and_shop_are_refused() -> None:
    with pytest.raises(OutsideSource, match="there are fraction, number, letter and metric"):
        drills(cast(Series, "furlong"))
    with pytest.raises(OutsideSource, match="say inch or metric"):
        shop_drills(cast(Shop, "other"))
