"""Balls in water against measured drag, other laws and worked problems."""

from functools import partial

import pytest
from fluids.drag import drag_sphere, v_terminal

from gudgeon.library.drag import SPHERE_DRAG_HIGHEST_REYNOLDS, sphere_drag
from gudgeon.library.metals import material
from gudgeon.library.water import kinematic_viscosity, water_density
from gudgeon.physics.sphere_fall import sphere_fall_speed
from gudgeon.units import FOOT, POUND

fall_by_our_law = partial(sphere_fall_speed, drag_law=sphere_drag, highest_reynolds=SPHERE_DRAG_HIGHEST_REYNOLDS)


@pytest.mark.source("measured drag of spheres, public list of a university course", where="Reynolds number and drag")
@pytest.mark.parametrize(("reynolds", "drag"), [(57.54, 1.479), (264.9, 0.7194), (1000, 0.4786), (3162, 0.4074),
                                                (15560, 0.4395), (58880, 0.4732)])  # fmt: skip
def test_the_standard_curve(reynolds: float, drag: float) -> None:
    assert sphere_drag(reynolds) == pytest.approx(drag, rel=0.08)


@pytest.mark.source("Clift, Grace and Weber, Bubbles, Drops, and Particles", where="standard curve, by fluids 1.3")
@pytest.mark.parametrize("reynolds", [0.1, 1.0, 30.0, 300.0, 3000.0, 3e4, 1e5])
def test_the_standard_curve_piece_by_piece(reynolds: float) -> None:
    assert sphere_drag(reynolds) == pytest.approx(drag_sphere(reynolds, Method="Clift"), rel=0.08)


@pytest.mark.source("Clift and Gauvin (1970)", where="fluids 1.3, drag_sphere, run")
@pytest.mark.parametrize("reynolds", [0.1, 1.0, 30.0, 300.0, 3000.0, 3e4, 1e5])
def test_the_standard_curve_beside_its_nearest_fit(reynolds: float) -> None:
    assert sphere_drag(reynolds) == pytest.approx(drag_sphere(reynolds, Method="Clift_Gauvin"), rel=0.01)


@pytest.mark.source("CACHE/ASEE numerical problem set", where="problem 5a: coal in water")
def test_a_coal_particle() -> None:
    def law(reynolds: float) -> float:
        return 24.0 / reynolds * (1.0 + 0.14 * reynolds**0.7)

    coal = {"diameter": 0.208e-3, "density": 1800.0, "water_density": 994.6, "kinematic_viscosity": 8.931e-4 / 994.6}
    assert sphere_fall_speed(**coal, drag_law=law, highest_reynolds=1000.0) == pytest.approx(0.0157816, rel=1e-3)
    assert fall_by_our_law(**coal) == pytest.approx(0.0157816, rel=0.06)


@pytest.mark.source("GPSA Engineering Data Book, 13th edition", where="terminal velocity, as fluids 1.3 quotes it")
def test_a_fine_particle() -> None:
    grain = {"diameter": 70e-6, "density": 2600.0, "water_density": 1000.0, "kinematic_viscosity": 1e-6}
    assert v_terminal(D=70e-6, rhop=2600.0, rho=1000.0, mu=1e-3) == pytest.approx(0.0041425, rel=5e-3)
    assert sphere_fall_speed(**grain, drag_law=drag_sphere, highest_reynolds=1e5) == pytest.approx(0.0041425, rel=5e-3)
    assert fall_by_our_law(**grain) == pytest.approx(0.0041425, rel=0.06)  # another law, as in the coal problem


@pytest.mark.source("GPSA Engineering Data Book, 13th edition", where="example 7-1: 0.46 ft/s; fluids 1.3 gets 0.449")
def test_a_drop_in_gas() -> None:
    density, fluid = 31.2 * POUND / FOOT**3, 2.07 * POUND / FOOT**3
    drop = {"diameter": 150e-6, "density": density, "water_density": fluid, "kinematic_viscosity": 1.2e-5 / fluid}
    assert fall_by_our_law(**drop) / FOOT == pytest.approx(0.46, rel=0.03)


@pytest.mark.source("fluids 1.3, fluids.drag", where="five fits, 0.987 to 1.019 m/s, run")
def test_a_lead_ball_of_three_millimetres() -> None:
    speed = fall_by_our_law(diameter=0.003, density=material("lead").density, water_density=water_density(293.15, 0.0),
                            kinematic_viscosity=kinematic_viscosity(293.15, 0.0))  # fmt: skip
    assert speed == pytest.approx(1.008, rel=0.04)


@pytest.mark.source("fluids 1.3, fluids.drag", where="fits, 0.605 to 0.613 m/s; real ones zig-zag, slower")
def test_a_wooden_ball_rising() -> None:
    speed = fall_by_our_law(diameter=0.020, density=400.0, water_density=water_density(293.15, 0.0),
                            kinematic_viscosity=kinematic_viscosity(293.15, 0.0))  # fmt: skip
    assert speed == pytest.approx(-0.610, rel=0.05)
