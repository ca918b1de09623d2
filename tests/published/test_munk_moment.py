"""What turns a straight body out of a straight tow, and how soon it swings back: ideal flow beside measured hulls."""

import math

import pytest

from gudgeon.library.towing import towing_coefficients
from gudgeon.physics.added_mass import spheroid_mass
from gudgeon.physics.axial_drag import form_factor, turbulent_friction
from gudgeon.units import STANDARD_GRAVITY

RODDY = "Roddy, captive-model experiments on a bare hull, DTRC/SHD-1298-08 (1990)"
LENGTH, DIAMETER, VOLUME, SKIN = 4.356, 0.508, 0.699, 5.98  # m, m, m3, m2; from memory


@pytest.mark.source("Munk, NACA Report 184 (1924); Lamb", where="1/2 rho U^2 V (k2 - k1) sin 2a; calculation")
def test_a_spheroid_at_five_degrees() -> None:
    mass, volume = spheroid_mass(5.0), math.pi / 6.0 * 0.100 * 0.020**2
    moment = 0.5 * 1000.0 * 1.5**2 * volume * float(mass.sway - mass.surge) * math.sin(math.radians(10.0))
    assert 1000.0 * moment == pytest.approx(3.4170, abs=1e-4)  # mN m


@pytest.mark.source("Munk, NACA Report 184 (1924); Lamb", where="k2 - k1 at three slendernesses")
@pytest.mark.parametrize(("slenderness", "apart"), [(4.0, 0.7782), (6.0, 0.9171 - 0.0452), (8.0, 0.9155)])
def test_the_factor_of_the_moment(slenderness: float, apart: float) -> None:
    mass = spheroid_mass(slenderness)
    assert float(mass.sway - mass.surge) == pytest.approx(apart, abs=1e-4)


@pytest.mark.source(RODDY, where="table 4, configuration 3: N_v' -0.012795, in a public copy; sizes from memory")
def test_ideal_flow_turns_a_bare_hull_a_fifth_too_hard() -> None:
    mass = spheroid_mass(LENGTH / DIAMETER)
    ideal = 2.0 * VOLUME / LENGTH**3 * float(mass.sway - mass.surge)
    assert ideal == pytest.approx(0.01562, abs=2e-5)
    assert 0.75 < 0.012795 / ideal < 0.90


@pytest.mark.source(RODDY, where="table 4, configuration 3: Y_v' -0.005948, uncertain by 4 to 5 %")
def test_a_bare_hull_wins_back_more_of_its_momentum_than_a_lure() -> None:
    """Momentum of the thickest section, less what the afterbody wins back, plus friction: solved for that share."""
    momentum = 2.0 * math.pi * (0.5 * DIAMETER) ** 2 / LENGTH**2 * float(spheroid_mass(LENGTH / DIAMETER).sway)
    friction = turbulent_friction(LENGTH / 1.05e-6) * form_factor(LENGTH / DIAMETER) * SKIN / LENGTH**2
    recovery = 1.0 - (0.005948 - friction) / momentum
    assert recovery == pytest.approx(0.77, abs=0.01)
    assert recovery > towing_coefficients()["afterbody_recovery"].value


@pytest.mark.source("Lamb, Hydrodynamics (1932)", where="2 pi (I (1 + k') / (W BG))^0.5, k' by Lamb; calculation")
def test_the_pitch_period_of_a_hanging_spheroid() -> None:
    inertia = (0.05**2 + 0.01**2) / 5.0  # over its mass, 100 x 20 mm, even
    lever = STANDARD_GRAVITY * 0.003
    period = 2.0 * math.pi * math.sqrt(inertia * (1.0 + float(spheroid_mass(5.0).yaw)) / lever)
    assert period == pytest.approx(1.0891, abs=1e-4)
    assert 2.0 * math.pi * math.sqrt(inertia / lever) == pytest.approx(0.8353, abs=1e-4)
