"""Added mass of spheroids, ellipsoids, sections and one vehicle, against handbooks, reports and a thesis."""

import math

import numpy as np
import pytest

from gudgeon.physics.added_mass import (
    ellipsoid_mass,
    finned_section,
    section_roll_inertia,
    section_sway_coefficient,
    spheroid_mass,
)

LAMB = "Lamb, The inertia coefficients of an ellipsoid moving in fluid, ARC R&M 623 (1918)"
ART = "Lamb, Hydrodynamics (1932)"
NEWMAN = "Newman, Marine Hydrodynamics (1977)"
THESIS = "Prestero, verification of a six-degree-of-freedom vehicle model, MIT/WHOI thesis (2001)"


@pytest.mark.source(LAMB, where="table; read in a public copy")
@pytest.mark.parametrize(("slenderness", "surge"), [(2.00, 0.209), (2.99, 0.122), (3.99, 0.082), (4.99, 0.059),
                                                    (8.01, 0.029), (9.97, 0.021)])  # fmt: skip
def test_spheroids_along_their_length(slenderness: float, surge: float) -> None:
    """The table has 0.209 for two, with a 5 after it in one copy; 0.2100 is exact."""
    assert float(spheroid_mass(slenderness).surge) == pytest.approx(surge, abs=1.1e-3)


@pytest.mark.source(LAMB, where="table, k'; k2 partly from memory, recomputed")
@pytest.mark.parametrize(("slenderness", "sway", "yaw"), [(2.00, 0.702, 0.240), (2.99, 0.803, 0.465),
                                                          (4.99, 0.895, 0.701), (8.01, 0.945, 0.840)])  # fmt: skip
def test_spheroids_sideways_and_turning(slenderness: float, sway: float, yaw: float) -> None:
    mass = spheroid_mass(slenderness)
    assert float(mass.sway) == pytest.approx(sway, abs=2.5e-3)
    assert float(mass.yaw) == pytest.approx(yaw, abs=2e-3)


@pytest.mark.source(ART, where="articles 114 and 115, formulae evaluated to four digits")
@pytest.mark.parametrize(
    ("slenderness", "shares"),
    [(2.0, (0.2100, 0.7042, 0.2394)), (3.0, (0.1220, 0.8039, 0.4657)), (4.0, (0.0816, 0.8598, 0.6079)),
     (5.0, (0.0591, 0.8943, 0.6999)), (6.0, (0.0452, 0.9171, 0.7623)), (8.0, (0.0293, 0.9447, 0.8394)),
     (10.0, (0.0207, 0.9602, 0.8835))],
)  # fmt: skip
def test_spheroids_to_four_digits(slenderness: float, shares: tuple[float, ...]) -> None:
    mass = spheroid_mass(slenderness)
    assert [float(one) for one in (mass.surge, mass.sway, mass.yaw)] == pytest.approx(shares, abs=6e-5)


@pytest.mark.source(ART, where="articles 114 and 115; semi-axes 4 : 2 : 1, also by a panel code within 4 %")
def test_an_ellipsoid_of_three_axes() -> None:
    mass = ellipsoid_mass(4.0, 2.0, 1.0)
    shares = [float(one) for one in (mass.surge, mass.sway, mass.heave, mass.roll, mass.pitch, mass.yaw)]
    assert shares == pytest.approx([0.1266, 0.3982, 1.5181, 0.4062, 0.9746, 0.1452], abs=6e-5)


@pytest.mark.source(ART, where="article 92: a sphere moves half its water; lead let go in water, calculation")
def test_a_lead_ball_starts_slower_than_it_would_fall() -> None:
    lead, water = 11340.0, 1000.0
    start = 9.80665 * (lead - water) / (lead + float(spheroid_mass(1.0).surge) * water)
    assert start == pytest.approx(8.5643, abs=1e-4)


@pytest.mark.source(NEWMAN, where="table 4.3: ellipse, plate, circle; from memory")
def test_sections_in_closed_form() -> None:
    assert 1000.0 * math.pi * 0.008**2 * section_sway_coefficient(2.0, 0.008, 0.003) == pytest.approx(0.20106, abs=1e-5)
    assert float(section_sway_coefficient(7.0, 1.0, 0.0)) == 1.0
    assert float(section_roll_inertia(2.0, 1.0, 0.5)) == pytest.approx(math.pi / 8.0 * 0.75**2)


@pytest.mark.source(NEWMAN, where="table 4.3: a square of side 2a, 4.754 rho a^2 and 0.725 rho a^4; from memory")
def test_a_square_on_its_corner() -> None:
    """A square moves as much whichever way it goes; fullness 1 is one on its corner, its half-diagonal root 2 a."""
    diagonal = math.sqrt(2.0)
    sway = math.pi * diagonal**2 * float(section_sway_coefficient(1.0, diagonal, diagonal))
    assert sway == pytest.approx(4.754, rel=2e-3)
    assert float(section_roll_inertia(1.0, diagonal, diagonal)) == pytest.approx(0.725, rel=0.03)


@pytest.mark.source(NEWMAN, where="table 4.3: a square, 4.754 rho a^2, which no superellipse reaches; from memory")
def test_slab_sides_come_toward_a_square() -> None:
    square = 4.754 / math.pi
    coefficients = section_sway_coefficient([2.0, 4.0, 8.0, 12.0], 1.0, 1.0)
    assert np.all(np.diff(coefficients) > 0.0)
    assert 0.93 * square < float(coefficients[-1]) < square


@pytest.mark.source("Nielsen, Missile Aerodynamics (1960)", where="pi rho (s^2 - a^2 + a^4/s^2); from memory")
@pytest.mark.parametrize("span", [1.0, 1.2, 2.0, 5.0])
def test_a_round_body_with_two_fins(span: float) -> None:
    section = finned_section(1.0, 1.0, highest=span, lowest=span)
    assert section.sway[0] == pytest.approx(math.pi * (span**2 - 1.0 + 1.0 / span**2), rel=1e-12)


@pytest.mark.source(THESIS, where="axial added mass 4 beta rho pi/3 (d/2)^3, beta 0.251892, as a public code has it")
def test_a_vehicle_along_its_length() -> None:
    length, diameter = 1.33, 0.191
    displaced = 1000.0 * math.pi / 6.0 * length * diameter**2
    assert displaced * float(spheroid_mass(length / diameter).surge) == pytest.approx(0.9190, rel=0.03)


def myring_radius(x: np.ndarray) -> np.ndarray:
    """Radius [m] of the vehicle's hull at x [m] aft of its nose; sizes as in public codes of the thesis."""
    nose, gap, middle, tail, diameter, slope = 0.191, 0.0165, 0.654, 0.541, 0.191, 0.436
    back = nose + middle - gap
    t = x - back
    ahead = 0.5 * diameter * np.sqrt(np.maximum(1.0 - ((x + gap - nose) / nose) ** 2, 0.0))
    behind = (0.5 * diameter - (1.5 * diameter / tail**2 - math.tan(slope) / tail) * t**2
              + (diameter / tail**3 - math.tan(slope) / tail**2) * t**3)  # fmt: skip
    return np.where(x < nose - gap, ahead, np.where(x < back, 0.5 * diameter, behind))


@pytest.mark.source(THESIS, where="35.5 kg, 1.93 kg m, 4.88 kg m2 from strips; hull sizes partly from memory")
@pytest.mark.parametrize(("fin", "expected", "within"), [(0.142, (35.5,), 0.01), (0.131, (35.5, 1.93, 4.88), 0.03)])
def test_a_vehicle_with_fins_sideways_by_strips(fin: float, expected: tuple[float, ...], within: float) -> None:
    """Fin tips stand 142 mm off the axis in the thesis; 131 mm, as a public code corrects it, meets all three."""
    step = 1.331 / 8000
    x = (np.arange(8000) + 0.5) * step
    ahead, radius = 0.610 - x, myring_radius(x)
    mass = math.pi * radius**2
    tailed = (ahead < -0.611) & (ahead > -0.685)
    mass[tailed] = finned_section(radius[tailed], radius[tailed], highest=fin, lowest=fin).sway
    sums = [1000.0 * step * float(mass @ abs_power) for abs_power in (np.ones_like(x), -ahead, ahead**2)]
    assert sums[: len(expected)] == pytest.approx(expected, rel=within)
