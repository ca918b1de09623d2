"""The towed line: limits, balance of forces and energy, the closed form beside the steps, and its refusals."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.errors import NoAnswer
from gudgeon.physics.running_depth import LineLoads, LinePull, critical_angle, light_line, line_loads, line_run

NYLON = {"diameter": 0.3e-3, "water_density": 998.2, "line_density": 1140.0, "normal_drag": 1.2,
         "tangential_drag": 0.01}  # fmt: skip
PULLS = st.builds(LinePull, down=st.floats(0.05, 20.0), back=st.floats(0.0, 20.0))


@given(PULLS, st.floats(0.001, 3.0), st.floats(0.5, 80.0))
@settings(max_examples=40, deadline=None)
def test_the_steps_come_to_the_closed_form(pull: LinePull, across: float, length: float) -> None:
    loads = LineLoads(across, 0.0, 0.0)
    steps, closed = line_run(pull, loads, length), light_line(pull, loads, length)
    expected = (closed.depth, closed.trail, closed.angle)
    assert (steps.depth, steps.trail, steps.angle) == pytest.approx(expected, rel=1e-6, abs=1e-9)
    assert steps.tension == pytest.approx(pull.tension)
    assert (steps.wet, steps.dry) == (length, 0.0)


@given(PULLS, st.floats(1e-12, 1.0), st.floats(0.5, 80.0))
def test_the_closed_form_is_the_plain_one(pull: LinePull, across: float, length: float) -> None:
    closed = light_line(pull, LineLoads(across, 0.0, 0.0), length)
    k, start = across / pull.tension, pull.back / pull.down
    end = start + k * length
    if k * length > 1e-3:  # below this the plain form loses its digits
        assert closed.depth == pytest.approx((math.asinh(end) - math.asinh(start)) / k, rel=1e-9)
        assert closed.trail == pytest.approx((math.hypot(1.0, end) - math.hypot(1.0, start)) / k, rel=1e-9, abs=1e-9)
    assert math.hypot(closed.depth, closed.trail) <= length * (1.0 + 1e-12)


def test_standing_still_the_line_is_straight() -> None:
    down = light_line(LinePull(2.0, 0.0), LineLoads(0.0, 0.0, 0.0), 20.0)
    assert (down.depth, down.trail) == (20.0, 0.0)
    almost = light_line(LinePull(2.0, 0.0), LineLoads(1e-9, 0.0, 0.0), 20.0)
    assert (almost.depth, almost.trail) == pytest.approx((20.0, 0.0), abs=1e-6)
    slanting = light_line(LinePull(3.0, 4.0), LineLoads(0.0, 0.0, 0.0), 10.0)
    assert (slanting.depth, slanting.trail) == pytest.approx((6.0, 8.0))


def test_a_still_heavy_line_hangs_as_a_catenary() -> None:
    pull, weight, length = LinePull(1.0, 2.0), 0.3, 12.0
    run = line_run(pull, LineLoads(0.0, 0.0, weight), length)
    up = math.hypot(2.0, 1.0 + weight * length)
    assert run.tension == pytest.approx(up, rel=1e-8)
    assert run.depth == pytest.approx((up - pull.tension) / weight, rel=1e-8)
    steep, start = math.asinh((1.0 + weight * length) / 2.0), math.asinh(0.5)
    assert run.trail == pytest.approx(2.0 / weight * (steep - start), rel=1e-8)


@given(PULLS, st.floats(0.3, 3.0), st.floats(1.0, 60.0), st.floats(900.0, 8000.0))
@settings(max_examples=40, deadline=None)
def test_no_more_work_is_done_on_the_line_than_by_what_pulls_along_it(
    pull: LinePull, speed: float, length: float, density: float
) -> None:
    """Tension grows by friction and by weight lifted: T = T0 + w depth + the sum of F_t cos^2, at most F_t times s."""
    loads = line_loads(**{**NYLON, "line_density": density}, speed=speed)
    try:
        run = line_run(pull, loads, length)
    except NoAnswer:
        assert loads.weight < 0.0
        return
    rubbed = run.tension - pull.tension - loads.weight * run.depth
    assert -1e-7 <= rubbed <= loads.along * length + 1e-7


def test_thicker_or_faster_line_runs_shallower_and_heavier_line_deeper() -> None:
    pull = LinePull(2.0, 2.0)
    plain = line_run(pull, line_loads(**NYLON, speed=1.0), 30.0)
    thick = line_run(pull, line_loads(**{**NYLON, "diameter": 0.4e-3}, speed=1.0), 30.0)
    fast = line_run(pull, line_loads(**NYLON, speed=1.3), 30.0)
    wire = line_run(pull, line_loads(**{**NYLON, "line_density": 7850.0}, speed=1.0), 30.0)
    assert max(thick.depth, fast.depth) < plain.depth < wire.depth


@given(st.floats(0.0, 3.0), st.floats(10.0, 60.0), st.floats(0.4, 2.0))
@settings(max_examples=40, deadline=None)
def test_wet_and_dry_line_add_up_and_reach_the_rod_tip(rod_height: float, length: float, speed: float) -> None:
    loads = line_loads(**NYLON, speed=speed)
    run = line_run(LinePull(2.0, 1.5), loads, length, rod_height=rod_height)
    assert run.wet + run.dry == pytest.approx(length)
    assert run.dry * math.sin(run.angle) == pytest.approx(rod_height, abs=1e-6)
    assert run.behind == pytest.approx(run.trail + run.dry * math.cos(run.angle))
    wet_only = line_run(LinePull(2.0, 1.5), loads, run.wet)
    assert (wet_only.depth, wet_only.trail) == pytest.approx((run.depth, run.trail), rel=1e-6)


def test_what_the_water_does_to_a_metre_by_hand() -> None:
    """1/2 x 998.2 x 1.2 x 0.3 mm = 0.17968 N/m; x 0.01 pi/1.2 = 0.0047038; 141.8 x g x 0.070686 mm2 = 98.3 uN/m."""
    loads = line_loads(**NYLON, speed=1.0)
    assert (loads.across, loads.along, loads.weight) == pytest.approx((0.179676, 0.0047038, 9.8296e-5), rel=1e-4)


def test_a_long_heavy_line_lies_at_its_own_angle() -> None:
    loads = LineLoads(0.3, 0.0, 0.2)
    angle = critical_angle(loads)
    assert 0.3 * math.sin(angle) ** 2 == pytest.approx(0.2 * math.cos(angle))
    assert line_run(LinePull(0.5, 0.2), loads, 400.0).angle == pytest.approx(angle, abs=1e-3)
    assert critical_angle(LineLoads(0.0, 0.0, 0.2)) == math.pi / 2


class TestRefusals:
    @pytest.mark.parametrize("down", [0.0, -1.0, math.nan])
    def test_a_lure_that_does_not_pull_down(self, down: float) -> None:
        for asked in (line_run, light_line):
            with pytest.raises(NoAnswer, match="so it runs at the surface"):
                asked(LinePull(down, 1.0), LineLoads(0.1, 0.0, 0.0), 10.0)

    def test_a_line_too_short_to_reach_the_water(self) -> None:
        with pytest.raises(NoAnswer, match="holds the lure at the surface; let out more"):
            line_run(LinePull(1.0, 1.0), LineLoads(0.1, 0.0, 0.0), 2.0, rod_height=1.5)

    def test_floating_line_that_comes_to_lie_on_the_water(self) -> None:
        floats = LineLoads(0.001, 0.0, -0.05)
        with pytest.raises(NoAnswer, match="lies on the water; let out less"):
            line_run(LinePull(0.5, 0.5), floats, 200.0)

    def test_a_light_line_has_no_angle_of_its_own(self) -> None:
        with pytest.raises(NoAnswer, match="no angle of its own"):
            critical_angle(LineLoads(0.3, 0.0, 0.0))
