"""Lines towed through water: the light line in closed form, and the heavy wire's own angle."""

import math

import pytest

from gudgeon.library.towing import towing_coefficients
from gudgeon.physics.running_depth import LineLoads, LinePull, critical_angle, light_line, line_loads, line_run

LIGHT = "towed line with drag across it only, of the kind of Pode, DTMB 687 (1951)"
HEAVY = "Pode, DTMB 687 (1951); Ellsworth (1960)"
WATER = {"water_density": 998.2, "line_density": 998.2, "normal_drag": 1.2, "tangential_drag": 0.0}


def slanting(tension: float, degrees: float) -> LinePull:
    angle = math.radians(degrees)
    return LinePull(tension * math.sin(angle), tension * math.cos(angle))


@pytest.mark.source(LIGHT, where="closed form, and stepped by another solver to 1e-5")
@pytest.mark.parametrize(
    ("pull", "length", "diameter", "speed", "depth", "trail"),
    [(slanting(2.0, 45.0), 20.0, 0.30e-3, 1.0, 9.69261, 17.31950),
     (slanting(5.0, 60.0), 30.0, 0.40e-3, 1.5, 13.90140, 25.84111),
     (slanting(1.0, 30.0), 10.0, 0.25e-3, 0.7, 4.32710, 9.00658)],
)  # fmt: skip
def test_three_light_lines(pull: LinePull, length: float, diameter: float, speed: float, depth: float,
                           trail: float) -> None:  # fmt: skip
    loads = line_loads(**WATER, diameter=diameter, speed=speed)
    for run in (light_line(pull, loads, length), line_run(pull, loads, length)):
        assert (run.depth, run.trail) == pytest.approx((depth, trail), abs=1.1e-5)


@pytest.mark.source(LIGHT, where="2 N down, 1 N back, 15 m of 0.30 mm at 1.5 m/s; worked out beside it")
def test_a_light_line_and_its_top() -> None:
    loads = line_loads(**WATER, diameter=0.30e-3, speed=1.5)
    assert loads.across == pytest.approx(0.40427, abs=1e-5)
    run = light_line(LinePull(2.0, 1.0), loads, 15.0)
    assert run.tension == pytest.approx(2.2361, abs=1e-4)
    assert (run.depth, run.trail) == pytest.approx((7.756, 12.423), abs=6e-4)
    assert math.degrees(run.angle) == pytest.approx(17.29, abs=6e-3)


@pytest.mark.source(LIGHT, where="the same on 0.15 mm line")
def test_thin_line_runs_deeper() -> None:
    run = light_line(LinePull(2.0, 1.0), line_loads(**WATER, diameter=0.15e-3, speed=1.5), 15.0)
    assert run.depth == pytest.approx(9.913, abs=6e-4)


@pytest.mark.source(LIGHT, where="friction of 0.01 along it: depth up 0.3 %, 2.07 N at the top; stepped")
def test_friction_along_the_line() -> None:
    pull, plain = slanting(2.0, 45.0), {**WATER, "diameter": 0.30e-3, "speed": 1.0}
    run = line_run(pull, line_loads(**{**plain, "tangential_drag": 0.01}), 20.0)
    assert run.tension == pytest.approx(2.07, abs=5e-3)
    assert run.depth / light_line(pull, line_loads(**plain), 20.0).depth == pytest.approx(1.003, abs=5e-4)


@pytest.mark.source(HEAVY, where="cos f = -w/2R + ((w/2R)^2 + 1)^0.5; 0.5 mm steel wire at 1 m/s; from memory")
def test_a_steel_wire_s_own_angle() -> None:
    loads = line_loads(diameter=0.5e-3, speed=1.0, water_density=998.2, line_density=7850.0, normal_drag=1.2,
                       tangential_drag=0.0)  # fmt: skip
    assert (loads.weight, loads.across) == pytest.approx((0.01319, 0.29946), abs=1e-5)
    assert math.degrees(critical_angle(loads)) == pytest.approx(11.98, abs=6e-3)


@pytest.mark.source(HEAVY, where="w cos f = 1/2 rho Cn d U^2 sin^2 f; 2 N/m, 10 mm, 2 m/s; calculation")
def test_a_heavy_cable_s_own_angle() -> None:
    loads = LineLoads(0.5 * 998.2 * 1.2 * 0.010 * 4.0, 0.0, 2.0)
    assert math.degrees(critical_angle(loads)) == pytest.approx(16.44, abs=6e-3)


@pytest.mark.source("limit without any flow", where="depth is the line let out; calculation")
def test_standing_still() -> None:
    run = light_line(LinePull(2.0, 0.0), LineLoads(0.0, 0.0, 0.0), 20.0)
    assert (run.depth, run.trail) == pytest.approx((20.0, 0.0), abs=1e-6)


@pytest.mark.source("Hoerner, Fluid-Dynamic Drag (1965); Casarella and Parsons (1970)",
                    where="1.1 to 1.2 smooth, to 1.5 braided; 0.01 to 0.03 along; mostly from memory")  # fmt: skip
def test_the_table_s_ranges_hold_what_is_published() -> None:
    across, along = (towing_coefficients()[name] for name in ("line_normal_drag", "line_tangential_drag"))
    assert (across.low, across.high) == (1.1, 1.5)
    assert 1.1 <= across.value <= 1.2
    assert along.low <= 0.01 <= along.high == 0.03
