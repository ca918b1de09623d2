"""How far a joint turns: paper cases with one answer, symmetry, and which corner meets what."""

import math
from dataclasses import replace

import numpy as np
import pytest

from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.outline import ConstantCurve, DrawnCurve
from gudgeon.physics.swing import MOST, Sides, sides_of, straight_sides, swing, value_for

DEG = math.pi / 180.0


def test_flat_faces_turn_twice_the_angle_of_gap_over_width():
    for gap, width in ((0.002, 0.028), (0.003, 0.020), (0.001, 0.040)):
        turned = swing(JointShape("vee", gap), straight_sides(width / 2, 0.05))
        assert turned.angle == pytest.approx(2 * math.atan(gap / width), abs=1e-9)


@pytest.mark.parametrize("bevel", [5, 20, 35])
def test_one_vee_turns_to_where_the_far_corner_lies_on_its_line(bevel):
    half, gap, alpha = 0.015, 0.002, bevel * DEG
    corner = math.hypot(half, gap / 2)
    expected = alpha + math.asin(gap / 2 * math.cos(alpha) / corner) + math.atan(gap / 2 / half)
    assert swing(JointShape("vee", gap, alpha), straight_sides(half, 0.05)).angle == pytest.approx(expected, abs=1e-9)


def test_a_centred_knuckle_turns_until_its_socket_lands_on_the_side():
    half, radius, gap = 0.016, 0.016, 0.002
    shape = JointShape("knuckle", gap, radius=radius)
    turned = swing(replace(shape, pivot=shape.knuckle_centre), straight_sides(half, 0.06))
    assert turned.angle == pytest.approx(math.pi - 2 * math.asin(half / (radius + gap)), abs=1e-9)
    assert turned.meeting.on == "side"


@pytest.mark.parametrize("off", [-0.004, -0.0035, 0.0035, 0.004])
def test_a_knuckle_off_its_pivot_is_met_by_the_edge_of_its_socket(off):
    shape = JointShape("knuckle", 0.001, radius=0.016)
    turned = swing(replace(shape, pivot=shape.knuckle_centre + off), straight_sides(0.016, 0.06))
    assert (turned.meeting.corner_of, turned.meeting.on) == ("rear", "knuckle")
    edge = math.sqrt(0.017**2 - 0.016**2) - off  # aft of the pivot, at the skin

    def nearest(angle):
        """How near either edge comes to the knuckle's centre."""
        cos, sin = math.cos(angle), math.sin(angle)
        return min(math.hypot(edge * cos - y * sin + off, edge * sin + y * cos) for y in (-0.016, 0.016))

    assert nearest(turned.angle) == pytest.approx(0.016, abs=1e-9)
    assert all(nearest(share * turned.angle) > 0.016 for share in np.linspace(0.0, 0.99, 50))


def test_a_tongue_meets_its_slots_wall():
    shape = JointShape("tongue", 0.002, 20 * DEG, 20 * DEG, tongue_width=0.010, tongue_length=0.012)
    turned = swing(shape, straight_sides(0.0142, 0.06))
    corner = math.hypot(0.013, 0.005)
    assert turned.angle == pytest.approx(math.asin(0.007 / corner) - math.asin(0.005 / corner), abs=1e-9)
    assert (turned.meeting.corner_of, turned.meeting.corner) == ("front", "tongue")


@pytest.mark.parametrize("face", ["vee", "knuckle", "tongue"])
def test_a_joint_turned_end_for_end_turns_as_far(face):
    sizes = {"radius": 0.012, "tongue_width": 0.008, "tongue_length": 0.009}
    one = JointShape(face, 0.0023, 15 * DEG, 8 * DEG, 0.0014, "front", **sizes)
    other = JointShape(face, 0.0023, 8 * DEG, 15 * DEG, -0.0014, "rear", **sizes)
    stations = np.linspace(-0.05, 0.05, 129)
    widths = 0.014 - 0.08 * stations
    there = Sides(stations, np.zeros(1), widths[None])
    back = Sides(stations, np.zeros(1), widths[None, ::-1])
    assert swing(one, there).angle == pytest.approx(swing(other, back).angle, abs=1e-7)


def test_a_wider_gap_a_steeper_face_and_bare_wood_turn_further():
    body, shape = straight_sides(0.015, 0.05), JointShape("vee", 0.002, 10 * DEG, 10 * DEG)
    least = swing(shape, body).angle
    assert swing(replace(shape, gap=0.003), body).angle > least
    assert swing(replace(shape, rear_bevel=15 * DEG), body).angle > least
    assert swing(shape.bared(0.0004), body.grown(-0.0004)).angle > least


def test_the_corner_that_meets_belongs_to_the_piece_that_is_square():
    body = straight_sides(0.015, 0.05)
    assert swing(JointShape("vee", 0.002, front_bevel=25 * DEG), body).meeting.corner_of == "rear"
    found = swing(JointShape("vee", 0.002, rear_bevel=25 * DEG), body).meeting
    assert (found.corner_of, found.corner, found.on) == ("front", "corner", "face")
    assert found.place == pytest.approx((-0.001, 0.015, 0.0))


def test_the_widest_height_of_a_section_decides():
    stations = np.array([0.0, 0.1, 0.2])
    level = DrawnCurve(stations, np.array([0.02, 0.02, 0.02]), 0.2)
    below = DrawnCurve(stations, np.array([-0.02, -0.02, -0.02]), 0.2, closes=(-1.0, -1.0))
    side = DrawnCurve(stations, np.array([0.012, 0.012, 0.012]), 0.2)
    hull = Hull(0.2, level, below, side, ConstantCurve(0.006), ConstantCurve(2.0))
    turned = swing(JointShape("vee", 0.002), sides_of(hull, 0.1, 0.04))
    assert turned.angle == pytest.approx(2 * math.atan(0.002 / 0.024), abs=1e-6)
    assert turned.meeting.place[2] == pytest.approx(0.006)


def test_steep_vees_fold_without_meeting():
    turned = swing(JointShape("vee", 0.004, 70 * DEG, 70 * DEG), straight_sides(0.008, 0.012))
    assert (turned.angle, turned.meeting) == (MOST, None)


def test_the_size_for_a_wanted_swing_gives_it():
    body, shape = straight_sides(0.015, 0.05), JointShape("vee", 0.002, 10 * DEG)
    gap = value_for(30 * DEG, lambda size: swing(replace(shape, gap=size), body).angle, 0.0005, 0.012)
    assert swing(replace(shape, gap=gap), body).angle == pytest.approx(30 * DEG, abs=0.03 * DEG)
    assert value_for(150 * DEG, lambda size: swing(replace(shape, gap=size), body).angle, 0.0005, 0.012) is None
