"""Materials by name, and balls of them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import OutsideSource, Refusal
from gudgeon.library.metals import Material, all_materials, material, sphere_mass

MATERIALS = all_materials()
by_name = pytest.mark.parametrize("one", MATERIALS, ids=[one.name for one in MATERIALS])


@by_name
def test_every_name_finds_its_material(one: Material) -> None:
    for name in (one.name, one.name.upper(), *one.also):
        assert material(name) is one


@by_name
def test_every_material_has_a_believable_density(one: Material) -> None:
    assert 50.0 < one.density - one.spread < one.density + one.spread < 23000.0
    assert 0.0 < one.spread <= 0.4 * one.density


@pytest.mark.parametrize(("asked", "density"), [
    ("lead", 11340), ("lead wire", 11340), ("stick-on lead", 11340), ("tungsten", 19250), ("bismuth", 9790),
    ("tin", 7287), ("brass", 8500), ("steel", 7850), ("spring wire", 7930), ("stainless", 7930),
    ("stainless steel", 7930), ("copper", 8960), ("zinc", 7134), ("aluminum", 2700), ("polycarbonate", 1200),
    ("acrylic", 1190), ("PVC", 1400), ("epoxy", 1150), ("uv resin", 1150), ("urethane clear", 1100),
    ("cyanoacrylate", 1050), ("acrylic paint", 1300), ("filler", 1600), ("glass", 2500), ("nylon", 1140),
    ("aramid", 1440), ("wood dowel", 650), ("tungsten putty", 9500), ("302", 7860), ("316", 8000), ("304", 8000),
])  # fmt: skip
def test_trade_names(asked: str, density: float) -> None:
    assert material(asked).density == density


def test_several_are_refused_with_all_of_them() -> None:
    with pytest.raises(OutsideSource, match="'clear' could be 'Epoxy', 'Lacquer', 'Polyurethane clear' or 'UV resin'"):
        material("clear")


def test_an_unknown_material_gets_the_nearest_names() -> None:
    with pytest.raises(OutsideSource, match="no material 'leed' is known; nearest in spelling: 'Lead'"):
        material("leed")


@given(st.text(max_size=30))
def test_any_name_is_a_material_or_a_refusal(name: str) -> None:
    try:
        one = material(name)
    except Refusal:
        return
    assert one in MATERIALS


@given(st.floats(1e-4, 0.05), st.floats(100.0, 2e4))
def test_twice_the_ball_is_eight_times_the_mass(diameter: float, density: float) -> None:
    assert sphere_mass(2.0 * diameter, density) == pytest.approx(8.0 * sphere_mass(diameter, density), rel=1e-12)


@pytest.mark.parametrize(("diameter", "density"), [(0.0, 7850.0), (-0.001, 7850.0), (0.004, 0.0), (math.nan, 1.0),
                                                   (math.inf, 1.0)])  # fmt: skip
def test_a_ball_of_no_size_is_refused(diameter: float, density: float) -> None:
    with pytest.raises(OutsideSource, match="both must be more than 0"):
        sphere_mass(diameter, density)
