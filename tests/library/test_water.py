"""Water: joins, directions and ends of range."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import OutsideSource
from gudgeon.library.water import (
    BRACKISH,
    FRESH,
    SEA,
    fresh_water_density,
    fresh_water_viscosity,
    kinematic_viscosity,
    sea_water_density,
    water_density,
)

TEMPERATURES = st.floats(273.15, 313.15)
SALINITIES = st.floats(0.0, 42.0)


@given(TEMPERATURES)
def test_salt_water_without_salt_is_fresh_water(temperature: float) -> None:
    assert sea_water_density(temperature, 0.0) == fresh_water_density(temperature)
    assert water_density(temperature, 1e-9) == pytest.approx(fresh_water_density(temperature), abs=1e-8)
    fresh = fresh_water_viscosity(temperature) / fresh_water_density(temperature)
    assert kinematic_viscosity(temperature, 0.0) == pytest.approx(fresh, rel=1e-12)


@given(TEMPERATURES, st.floats(0.0, 41.0), st.floats(0.01, 1.0))
def test_saltier_water_is_denser_and_thicker(temperature: float, salinity: float, more: float) -> None:
    assert water_density(temperature, salinity + more) > water_density(temperature, salinity)
    assert kinematic_viscosity(temperature, salinity + more) > kinematic_viscosity(temperature, salinity)


@given(st.floats(273.15, 312.0), st.floats(0.01, 1.0), SALINITIES)
def test_warmer_water_is_thinner(temperature: float, more: float, salinity: float) -> None:
    assert kinematic_viscosity(temperature + more, salinity) < kinematic_viscosity(temperature, salinity)


def test_fresh_water_is_densest_near_four_degrees() -> None:
    dense = fresh_water_density(273.15 + 3.983)
    assert dense > fresh_water_density(273.15 + 3.5)
    assert dense > fresh_water_density(273.15 + 4.5)


def test_the_kinds_of_water_are_in_order() -> None:
    assert FRESH < BRACKISH < SEA


@pytest.mark.parametrize("celsius", [-0.1, 40.1, math.nan, math.inf])
def test_temperature_outside_the_source_is_refused(celsius: float) -> None:
    for law in (water_density, sea_water_density, kinematic_viscosity):
        with pytest.raises(OutsideSource, match="covers 0 to 40 C"):
            law(273.15 + celsius, 10.0)
    for law in (fresh_water_density, fresh_water_viscosity):
        with pytest.raises(OutsideSource, match="covers 0 to 40 C"):
            law(273.15 + celsius)


@pytest.mark.parametrize("salinity", [-0.1, 42.1, math.nan])
def test_salinity_outside_the_source_is_refused(salinity: float) -> None:
    for law in (water_density, sea_water_density, kinematic_viscosity):
        with pytest.raises(OutsideSource, match="covers 0 to 42 g/kg"):
            law(293.15, salinity)


@pytest.mark.parametrize("celsius", [0.0, 40.0, (32.0 - 32.0) / 1.8, (104.0 - 32.0) / 1.8])
def test_the_ends_of_the_range_are_inside(celsius: float) -> None:
    assert 990.0 < water_density(273.15 + celsius, 0.0) < 1001.0
    assert 990.0 < water_density((celsius * 1.8 + 273.15 * 1.8) * 5.0 / 9.0, 0.0) < 1001.0
