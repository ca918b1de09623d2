"""The tables of strengths: in order, sourced, and asked by a maker's names."""

from itertools import pairwise

import pytest

from gudgeon.errors import OutsideSource
from gudgeon.library.source import table
from gudgeon.library.strengths import (
    lateral_coefficient,
    screw_is_tested,
    spring_wire,
    spring_wires,
    strength_of,
)
from gudgeon.units import INCH

NAMES = [row["name"] for row in table("strengths")]


@pytest.mark.parametrize("name", NAMES)
def test_every_material_is_found_by_its_name_and_has_a_source(name):
    found = strength_of(name, 1.3e-3)
    assert found.name == name
    assert found.source.work
    assert found.source.known


@pytest.mark.parametrize("name", NAMES)
def test_ranges_hold_their_values(name):
    found = strength_of(name, 1.3e-3)
    for bounds in (found.yields, found.ultimate, found.shear):
        assert 1e6 < bounds.low <= bounds.value <= bounds.high < 3e9
    assert found.yields.value <= found.ultimate.value
    assert 0.4 <= found.shear.value / found.ultimate.value <= 0.8


@pytest.mark.parametrize(("said", "name"), [
    ("stainless steel", "Stainless steel, temper not told"), ("stainless", "Stainless steel, temper not told"),
    ("spring wire", "Stainless spring wire"), ("stainless spring wire", "Stainless spring wire"),
    ("302", "Stainless spring wire"), ("piano wire", "Music wire"), ("bicycle spoke", "Stainless spoke"),
    ("brass", "Brass"), ("aluminum", "Aluminium"), ("polycarbonate", "Polycarbonate"), ("aramid", "Aramid strap"),
    ("polyester webbing", "Polyester strap"), ("304 annealed", "Stainless 304 annealed"),
])  # fmt: skip
def test_makers_names(said, name):
    assert strength_of(said, 1.3e-3).name == name


def test_what_is_not_known_is_refused_with_the_nearest_names():
    with pytest.raises(OutsideSource, match="no strength of a material 'glas'"):
        strength_of("glas", 1e-3)


@pytest.mark.parametrize("kind", ["stainless 302", "music wire"])
def test_spring_wire_is_the_weaker_the_thicker(kind):
    rows = spring_wires(kind)
    assert all(a.diameter < b.diameter and a.least > b.least and a.most > b.most
               for a, b in pairwise(rows))  # fmt: skip
    assert all(row.least < row.most for row in rows)


def test_between_two_rows_the_thicker_one_counts():
    wire, reaches = spring_wire("stainless 302", 0.043 * INCH)
    assert reaches
    assert wire.least == spring_wire("stainless 302", 0.045 * INCH)[0].least


def test_past_the_thickest_row_strength_goes_on_falling_and_says_so():
    last = spring_wires("stainless 302")[-1]
    wire, reaches = spring_wire("stainless 302", 3e-3)
    assert not reaches
    assert 0.85 * last.least < wire.least < 0.95 * last.least
    inside, outside = strength_of("302", 2e-3), strength_of("302", 3e-3)
    assert (inside.in_table, outside.in_table) == (True, False)
    assert outside.ultimate.high / outside.ultimate.low > inside.ultimate.high / inside.ultimate.low


def test_thinner_than_the_thinnest_row_is_at_least_as_strong():
    wire, reaches = spring_wire("music wire", 0.1e-3)
    assert (wire.least, reaches) == (spring_wires("music wire")[0].least, False)


@pytest.mark.parametrize("diameter", [0.0, -1e-3, 8e-3])
def test_what_is_no_wire_is_refused(diameter):
    with pytest.raises(OutsideSource, match="6 mm"):
        spring_wire("music wire", diameter)


def test_side_coefficients_grow_with_the_wood_and_stop_where_tests_did():
    assert lateral_coefficient(0.30) == lateral_coefficient(0.47) < lateral_coefficient(0.50) < lateral_coefficient(0.6)
    for gravity in (0.15, 0.8):
        with pytest.raises(OutsideSource, match="specific gravity"):
            lateral_coefficient(gravity)


@pytest.mark.parametrize(("inches", "length", "tested"), [
    (0.164, 1.0, True), (0.112, 0.5, True), (0.112, 1.0, True), (0.062, 1.0, False), (0.092, 1.25, False),
    (0.073, 0.5, True), (0.164, 0.4, False), (0.164, 4.0, False), (0.30, 1.0, False),
])  # fmt: skip
def test_which_screws_were_tested(inches, length, tested):
    assert screw_is_tested(inches * INCH, length * INCH) is tested
