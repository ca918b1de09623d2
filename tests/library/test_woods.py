"""Wood: what its tables hold, its density by moisture, its shrinking."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import OutsideSource, Refusal
from gudgeon.library.woods import (
    LEAST_DENSE_WOOD,
    MOST_DENSE_WOOD,
    Species,
    all_species,
    density_at,
    dimension_change,
    dimension_change_by_shrinkage,
    shrinkage_to,
    species,
    specific_gravity_at,
    wood_density,
)

WOODS = all_species()
MOISTURES = st.floats(0.0, 0.30)
by_name = pytest.mark.parametrize("wood", WOODS, ids=[wood.name for wood in WOODS])


@by_name
def test_every_name_of_a_wood_finds_it(wood: Species) -> None:
    assert species(wood.name) is wood
    for name in set(wood.also) - {"whitewood"}:
        assert species(name) is wood


def test_only_whitewood_is_two_woods() -> None:
    with pytest.raises(OutsideSource, match=r"could be 'Norway spruce' or 'Yellow-poplar \(tulip\)'"):
        species("whitewood")
    names = [name for wood in WOODS for name in (wood.name.casefold(), *wood.also)]
    assert {name for name in names if names.count(name) > 1} == {"whitewood"}


@pytest.mark.parametrize(("asked", "name"), [
    ("basswood", "Basswood, American"), ("western red cedar", "Cedar, western red"),
    ("red cedar, western", "Cedar, western red"), ("poplar/tulip", "Yellow-poplar (tulip)"),
    ("poplar", "Yellow-poplar (tulip)"), ("lime", "Lime (European)"), ("balsa wood", "Balsa"),
    ("Tilia americana", "Basswood, American"), ("hard maple", "Maple, sugar (hard)"),
    ("aromatic red cedar", "Cedar, eastern red"), ("honduran mahogany", "Mahogany, true"),
    ("PVC trim board", "PVC trim board"), ("Jelutong", "Jelutong"), ("paulownia", "Paulownia"),
])  # fmt: skip
def test_trade_names(asked: str, name: str) -> None:
    assert species(asked).name == name


def test_cedar_alone_lists_every_cedar() -> None:
    with pytest.raises(OutsideSource, match="'cedar' could be") as refusal:
        species("cedar")
    for name in ("Cedar, western red", "Cedar, northern white", "Cedar, Atlantic white", "Spanish-cedar"):
        assert name in str(refusal.value)
    assert str(refusal.value).endswith("say which, or give density, as weighed")


def test_an_unknown_wood_gets_the_nearest_names() -> None:
    with pytest.raises(OutsideSource, match="no wood 'bassword' is known; nearest in spelling: 'Basswood, American'"):
        species("bassword")


@by_name
def test_every_wood_has_a_believable_density(wood: Species) -> None:
    made = wood_density(wood, 0.12)
    assert LEAST_DENSE_WOOD < made.value < MOST_DENSE_WOOD
    assert made.source is wood.source
    assert made.route


@by_name
def test_the_twelve_percent_entry_is_met_without_a_step(wood: Species) -> None:
    at_12 = wood_density(wood, 0.12).value
    assert wood_density(wood, 0.12 - 1e-7).value == pytest.approx(at_12, rel=1e-6)
    assert wood_density(wood, 0.12 + 1e-7).value == pytest.approx(at_12, rel=1e-6)


@by_name
def test_basic_and_twelve_percent_entries_agree_within_five_percent(wood: Species) -> None:
    if wood.basic_specific_gravity is not None and wood.specific_gravity_12 is not None:
        computed = specific_gravity_at(wood.basic_specific_gravity, 0.12, wood.shrinkage_volumetric)
        assert computed == pytest.approx(wood.specific_gravity_12, rel=0.05)


@given(st.sampled_from([wood for wood in WOODS if wood.takes_moisture]), MOISTURES, MOISTURES)
def test_damper_wood_is_denser_and_holds_the_same_dry_weight(wood: Species, one: float, other: float) -> None:
    dry, damp = sorted((one, other))
    light, heavy = wood_density(wood, dry).value, wood_density(wood, damp).value
    assert light <= heavy * (1.0 + 1e-12)
    # dry weight over volume falls as the wood swells, and by no more than its whole shrinkage
    shrunk = (light / (1.0 + dry)) / (heavy / (1.0 + damp))
    most = wood.shrinkage_volumetric or 0.265
    assert 1.0 - 1e-9 <= shrunk <= 1.0 / (1.0 - most) + 1e-9


@given(st.floats(0.1, 0.9), st.floats(0.02, 0.20), MOISTURES)
def test_dry_weight_over_a_swelling_volume(basic: float, shrinkage: float, moisture: float) -> None:
    green_volume = 1.0
    volume = green_volume * (1.0 - shrinkage * (1.0 - moisture / 0.30))
    weight = 1000.0 * basic * green_volume * (1.0 + moisture)
    gravity = specific_gravity_at(basic, moisture, shrinkage)
    assert density_at(gravity, moisture) == pytest.approx(weight / volume, rel=1e-12)


def test_the_route_is_told() -> None:
    assert wood_density(species("basswood"), 0.12).route == "the table's specific gravity at 12 %"
    assert wood_density(species("basswood"), 0.08).route == (
        "from the table's specific gravity at 12 %, by the species' own shrinkage"
    )
    balsa = wood_density(species("balsa"), 0.12)
    assert balsa.route == "from the basic specific gravity, by the species' own shrinkage"
    assert wood_density(species("lime"), 0.12).route == "the table's density at 12 %"
    assert "26.5 %" in wood_density(species("lime"), 0.08).route
    assert "26.5 %" in wood_density(species("light red meranti"), 0.08).route


def test_the_spread_is_that_of_boards_or_none() -> None:
    assert wood_density(species("basswood"), 0.12).spread is None
    assert wood_density(species("lime"), 0.12).spread is None  # its range is one of means
    balsa = wood_density(species("balsa"), 0.12)
    assert balsa.spread is not None
    assert balsa.value - balsa.spread <= 100.0 + 1e-9
    assert balsa.value + balsa.spread >= 260.0 - 1e-9


def test_a_plastic_board_takes_no_moisture() -> None:
    board = species("pvc trim board")
    assert wood_density(board, 0.0) == wood_density(board, 0.25)
    assert (wood_density(board, 0.1).value, wood_density(board, 0.1).spread) == (550.0, 50.0)


@pytest.mark.parametrize("moisture", [-0.001, 0.301, 12.0, math.nan, math.inf])
def test_moisture_outside_the_rule_is_refused(moisture: float) -> None:
    with pytest.raises(OutsideSource, match="covers 0 to 30 %"):
        wood_density(species("basswood"), moisture)


@given(st.text(max_size=30))
def test_any_name_is_a_wood_or_a_refusal(name: str) -> None:
    try:
        wood = species(name)
    except Refusal:
        return
    assert wood in WOODS


def test_change_outside_its_range_names_the_other_route() -> None:
    for was, becomes in ((0.05, 0.10), (0.10, 0.15), (math.nan, 0.1)):
        with pytest.raises(OutsideSource, match="6 to 14 %; use the shrinkage route, dimension_change_by_"):
            dimension_change(species("basswood"), "tangential", 0.04, was=was, becomes=becomes)


def test_change_of_a_wood_without_coefficient_names_the_other_route() -> None:
    with pytest.raises(OutsideSource, match=r"'Cedar, western red' has no radial coefficient.*shrinkage route"):
        dimension_change(species("western red cedar"), "radial", 0.04, was=0.12, becomes=0.08)


def test_a_wood_without_shrinkage_is_refused() -> None:
    with pytest.raises(OutsideSource, match=r"'Lime \(European\)' has no radial shrinkage"):
        shrinkage_to(species("lime"), "radial", 0.08)


def test_the_two_routes_agree_where_both_hold() -> None:
    # the handbook's coefficient is its shrinkage over 28 to 30 points of moisture, counted on the piece's own size
    for wood in WOODS:
        if wood.change_tangential is not None and wood.name != "Oak, northern red":
            near = dimension_change_by_shrinkage(wood, "tangential", 0.04, was=0.12, becomes=0.08)
            table = dimension_change(wood, "tangential", 0.04, was=0.12, becomes=0.08)
            assert near == pytest.approx(table, rel=0.12)


@given(MOISTURES, MOISTURES)
def test_there_and_back_is_the_same_size(was: float, becomes: float) -> None:
    wood = species("sugar pine")
    there = 0.04 + dimension_change_by_shrinkage(wood, "tangential", 0.04, was=was, becomes=becomes)
    back = there + dimension_change_by_shrinkage(wood, "tangential", there, was=becomes, becomes=was)
    assert back == pytest.approx(0.04, rel=1e-12)


def test_green_wood_has_not_shrunk() -> None:
    assert shrinkage_to(species("basswood"), "tangential", 0.30) == 0.0
    assert shrinkage_to(species("basswood"), "tangential", 0.0) == pytest.approx(0.093)
