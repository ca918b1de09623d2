"""A fin cut across, and flat plates taken apart."""

import numpy as np
import pytest

from gudgeon.physics.fin_section import UprightFin
from gudgeon.physics.plate import Plate, fin_plate, lip_plate
from gudgeon.physics.plate_parts import elements_across, plate_spread


def fin(fill, height=0.002):
    return UprightFin((0.240, height), fin_plate(length=0.038, tall=0.040, fill=fill), 0.001)


@pytest.mark.parametrize("fill", [0.2, 0.5, 0.6, 0.75, 1.0])
def test_heights_of_fin_sum_to_its_area(fill):
    stations = np.linspace(0.240, 0.278, 4001)
    low, high, solid = fin(fill).spans(stations)
    assert np.trapezoid(solid, stations) == pytest.approx(0.038 * 0.040 * fill, rel=1e-3)
    assert np.all(high - low >= solid - 1e-12)


def test_a_fork_is_two_lobes_between_its_edges():
    low, high, solid = fin(0.6).spans(np.array([0.250, 0.277]))
    assert high - low == pytest.approx([0.04 * (0.5 + 0.5 * 10 / 38), 0.04 * (0.5 + 0.5 * 37 / 38)])
    assert solid[0] == pytest.approx(high[0] - low[0])
    assert solid[1] < 0.2 * (high[1] - low[1])
    assert 0.5 * (high + low) == pytest.approx(0.002)


def test_nothing_is_there_ahead_of_the_root_and_behind_the_edge():
    low, high, solid = fin(0.75).spans(np.array([0.2399, 0.24, 0.278, 0.2781]))
    assert solid == pytest.approx([0.0, 0.020, 0.040, 0.0], rel=1e-5)
    assert (high - low)[[0, 3]] == pytest.approx([0.0, 0.0])
    assert fin(0.75).stop == pytest.approx(0.278)


def test_a_rectangle_s_second_moments():
    plate = lip_plate("square", exposed=0.02, set_in=0.01, width=0.016)
    assert plate_spread(plate) == pytest.approx(np.diag([0.03**2, 0.016**2]) / 12.0)


def test_a_triangle_s_second_moments_wherever_it_lies():
    # b h^3/36 over b h/2; b^3 h/48 for an isosceles one about its axis
    corners = np.array([(0.0, -0.006), (0.018, 0.0), (0.0, 0.006)])
    for shift in (0.0, 0.5):
        spread = plate_spread(Plate(corners + shift))
        assert np.diag(spread) == pytest.approx([0.018**2 / 18.0, 0.012**2 / 24.0])


@pytest.mark.parametrize("shape", ["square", "coffin", "round"])
def test_strips_of_a_plate_are_the_plate(shape):
    plate = lip_plate(shape, exposed=0.022, set_in=0.0, width=0.019)
    parts = elements_across(plate, 5)
    areas = np.array([part.area for part in parts])
    assert areas.sum() == pytest.approx(plate.area)
    centre = areas @ np.array([part.centre for part in parts]) / areas.sum()
    assert centre == pytest.approx(np.array(plate.centre), abs=1e-12)
    assert areas == pytest.approx(areas[::-1])
    assert [part.centre[1] for part in parts] == pytest.approx([-part.centre[1] for part in parts[::-1]], abs=1e-15)
