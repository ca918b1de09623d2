"""Metals against element tables and standards; what lead is worth under water."""

import periodictable
import pytest

from gudgeon.library.metals import material, sphere_mass
from gudgeon.physics.immersion import ballast_inside, ballast_outside, worth_outside


@pytest.mark.source("periodictable 2.1, mendeleev 1.3: element densities", where="as printed by the packages")
@pytest.mark.parametrize(("name", "density"), [("lead", 11.34), ("tungsten", 19.25), ("bismuth", 9.79), ("tin", 7.29),
                                               ("copper", 8.96)])  # fmt: skip
def test_element_densities(name: str, density: float) -> None:
    assert material(name).density / 1000.0 == pytest.approx(density, rel=6e-3)


@pytest.mark.source("periodictable 2.1", where="element densities, run")
@pytest.mark.parametrize(("name", "symbol"), [("lead", "Pb"), ("tungsten", "W"), ("bismuth", "Bi"), ("tin", "Sn"),
                                              ("copper", "Cu"), ("zinc", "Zn"), ("aluminium", "Al"), ("iron", "Fe"),
                                              ("antimony", "Sb")])  # fmt: skip
def test_element_densities_as_the_package_has_them(name: str, symbol: str) -> None:
    assert material(name).density / 1000.0 == pytest.approx(getattr(periodictable, symbol).density, rel=6e-3)


@pytest.mark.source("ASTM B777-15", where="Table 1, classes 1 to 4")
@pytest.mark.parametrize(("grade", "low", "high"), [(1, 16.85, 17.30), (2, 17.15, 17.85), (3, 17.75, 18.35),
                                                    (4, 18.25, 18.85)])  # fmt: skip
def test_tungsten_alloys_lie_in_their_bands(grade: int, low: float, high: float) -> None:
    alloy = material(f"tungsten alloy class {grade}")
    assert low < alloy.density / 1000.0 < high
    assert (alloy.density - alloy.spread) / 1000.0 == pytest.approx(low)
    assert (alloy.density + alloy.spread) / 1000.0 == pytest.approx(high)


@pytest.mark.source("geometry: pi/6 d^3 density", where="calculation")
@pytest.mark.parametrize(("name", "diameter", "grams"), [("lead", 0.005, 0.7422), ("tungsten", 0.004, 0.6451),
                                                         ("steel", 0.006, 0.8878)])  # fmt: skip
def test_balls(name: str, diameter: float, grams: float) -> None:
    assert 1000.0 * sphere_mass(diameter, material(name).density) == pytest.approx(grams, rel=1e-3)


@pytest.mark.source("Archimedes", where="calculation")
@pytest.mark.parametrize(("name", "grams"), [("lead", 0.9120), ("tungsten", 0.9481)])
def test_what_a_gram_is_worth_under_water(name: str, grams: float) -> None:
    assert worth_outside(998.2, material(name).density) == pytest.approx(grams, rel=1e-3)


@pytest.mark.source("Archimedes", where="calculation: 20 cm3 and 12 g to hang, lead in a cavity or glued outside")
def test_lead_inside_and_lead_outside() -> None:
    mass, displaced, lead = 12e-3, 998.2 * 20e-6, material("lead").density
    inside = ballast_inside(mass, displaced, 0.0, lead, excess=0.0, reserve=0.0)
    outside = ballast_outside(mass, displaced, 998.2, lead, excess=0.0, reserve=0.0)
    assert 1000.0 * inside == pytest.approx(7.964, rel=1e-3)
    assert 1000.0 * outside == pytest.approx(8.733, rel=1e-3)
