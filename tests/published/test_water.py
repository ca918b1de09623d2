"""Water against tables, standards and the packages that carry them."""

import gsw
import numpy as np
import pytest
from iapws import IAPWS95

from gudgeon.library.water import (
    ABSOLUTE_PER_PRACTICAL,
    fresh_water_density,
    fresh_water_viscosity,
    kinematic_viscosity,
    water_density,
)

TANAKA = "Tanaka et al., Metrologia 38 (2001) 301-309"
ITTC = "ITTC Recommended Procedures 7.5-02-01-03 (2011)"
TEOS = "TEOS-10, GSW 3.6"
IAPWS = "IAPWS R6-95 and R12-08, iapws 1.5"


def kelvin(celsius: float) -> float:
    return 273.15 + celsius


def teos_density(celsius: float, salinity: float) -> float:
    conservative = gsw.CT_from_t(ABSOLUTE_PER_PRACTICAL * salinity, celsius, 0.0)
    return float(gsw.rho(ABSOLUTE_PER_PRACTICAL * salinity, conservative, 0.0))


@pytest.mark.source(TANAKA, where="table of densities")
@pytest.mark.parametrize(("celsius", "density"), [(4, 999.9749), (10, 999.7027), (15, 999.1026), (20, 998.2067),
                                                  (25, 997.0470), (30, 995.6488)])  # fmt: skip
def test_fresh_water_density(celsius: float, density: float) -> None:
    assert fresh_water_density(kelvin(celsius)) == pytest.approx(density, abs=1e-3)


@pytest.mark.source("UNESCO Technical Papers in Marine Science 44 (1983)", where="equation 14, fresh water at 20 C")
def test_fresh_water_density_beside_the_older_polynomial() -> None:
    assert fresh_water_density(kelvin(20)) == pytest.approx(998.2063, abs=2e-3)


@pytest.mark.source(IAPWS, where="density at 0.101325 MPa, run")
@pytest.mark.parametrize("celsius", [0.01, 4, 10, 15, 20, 25, 30, 39])
def test_fresh_water_density_beside_the_formulation_for_science(celsius: float) -> None:
    steam = IAPWS95(T=kelvin(celsius), P=0.101325)
    assert fresh_water_density(kelvin(celsius)) == pytest.approx(steam.rho, abs=1.2e-3)


@pytest.mark.source(IAPWS, where="R12-08 viscosity at 5, 20, 25 C, run")
@pytest.mark.parametrize(("celsius", "millipascal_seconds"), [(5, 1.51817), (20, 1.00160), (25, 0.89002)])
def test_fresh_water_viscosity(celsius: float, millipascal_seconds: float) -> None:
    assert 1000.0 * fresh_water_viscosity(kelvin(celsius)) == pytest.approx(millipascal_seconds, rel=1e-3)


@pytest.mark.source(IAPWS, where="R12-08 viscosity, run over 0 to 40 C")
@pytest.mark.parametrize("celsius", [0.01, 5, 15, 22, 33, 39.99])
def test_fresh_water_viscosity_over_the_range(celsius: float) -> None:
    steam = IAPWS95(T=kelvin(celsius), P=0.101325)
    assert fresh_water_viscosity(kelvin(celsius)) == pytest.approx(steam.mu, rel=5e-5)


@pytest.mark.source(ITTC, where="fresh water, kinematic viscosity at 15 C")
def test_fresh_water_kinematic_viscosity() -> None:
    assert kinematic_viscosity(kelvin(15), 0.0) == pytest.approx(1.1386e-6, rel=1e-3)


@pytest.mark.source(TEOS, where="check value of gsw_rho: SA 34.7118, CT 28.8099, 10 dbar")
def test_the_sea_water_package_is_the_one_it_says() -> None:
    assert gsw.rho(34.7118, 28.8099, 10.0) == pytest.approx(1021.839935738, rel=1e-9)


@pytest.mark.source(TEOS, where="rho(SA, CT, 0), run over 0 to 40 C and 0 to 42 g/kg")
def test_salt_water_density_over_the_range() -> None:
    worst = max(
        abs(water_density(kelvin(celsius), salinity) - teos_density(celsius, salinity))
        for celsius in np.linspace(0.0, 40.0, 17).tolist()
        for salinity in np.linspace(0.0, 42.0, 15).tolist()
    )
    assert worst < 0.012  # kg/m3


@pytest.mark.source("UNESCO Technical Papers in Marine Science 44 (1983)",
                    where="check values of density, 5 and 25 C of 1968, salinity 0 and 35; from memory")  # fmt: skip
@pytest.mark.parametrize(("celsius", "fresh", "salt"), [(5.0, 999.96675, 1027.67547), (25.0, 997.04796, 1023.34306)])
def test_what_salt_adds(celsius: float, fresh: float, salt: float) -> None:
    of_1990 = kelvin(celsius / 1.00024)
    added = water_density(of_1990, 35.0) - water_density(of_1990, 0.0)
    assert added == pytest.approx(salt - fresh, abs=2e-5)


@pytest.mark.source(ITTC, where="sea water, density; it stands 0.045 above TEOS-10")
@pytest.mark.parametrize(("celsius", "density"), [(4, 1027.8336), (10, 1027.0000), (15, 1026.0210), (20, 1024.8103),
                                                  (25, 1023.3873), (30, 1021.7694)])  # fmt: skip
def test_sea_water_density(celsius: float, density: float) -> None:
    assert water_density(kelvin(celsius), 35.0) == pytest.approx(density, abs=0.1)


@pytest.mark.source(TEOS, where="practical salinity 35, surface, run")
@pytest.mark.parametrize(("celsius", "density"), [(15, 1025.976), (20, 1024.766), (25, 1023.344)])
def test_sea_water_density_beside_the_newest_equation(celsius: float, density: float) -> None:
    assert water_density(kelvin(celsius), 35.0) == pytest.approx(density, abs=0.01)


@pytest.mark.source(ITTC, where="sea water, kinematic viscosity at 15 C; Sharqawy et al. (2010) gives 1.18940e-6")
def test_sea_water_kinematic_viscosity() -> None:
    assert kinematic_viscosity(kelvin(15), 35.0) == pytest.approx(1.189e-6, rel=5e-3)


@pytest.mark.source(TEOS, where="practical salinity 7, surface, run")
@pytest.mark.parametrize(("celsius", "density"), [(10, 1005.168), (20, 1003.524)])
def test_brackish_water_density(celsius: float, density: float) -> None:
    assert water_density(kelvin(celsius), 7.0) == pytest.approx(density, abs=0.05)


@pytest.mark.source("Archimedes, with the densities of Tanaka (2001) and TEOS-10", where="calculation")
def test_a_body_of_1000_sinks_in_lakes_and_floats_in_brackish_water() -> None:
    body = 1000.0
    assert body > water_density(kelvin(20), 0.0)
    assert body - water_density(kelvin(4), 0.0) == pytest.approx(0.03, abs=0.01)
    assert body < water_density(kelvin(15), 7.0)
