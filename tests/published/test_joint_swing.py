"""How far joints turn, against the trade's own figures."""

import math

import pytest

from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.swing import straight_sides, swing

PRACTICE = "common practice, no source; computed from geometry"


def turns(width_mm, gap_mm, front=0.0, rear=0.0):
    """Swing to each side [deg] of a vee'd joint on a straight body, its pivot in mid-gap."""
    shape = JointShape("vee", gap_mm / 1e3, math.radians(front), math.radians(rear))
    return math.degrees(swing(shape, straight_sides(width_mm / 2e3, 0.06)).angle)


@pytest.mark.source(PRACTICE, where="swing of flat faces, gap and width")
@pytest.mark.parametrize(("width", "expected"), [(28, 8), (14, 16)])
def test_flat_faces_with_a_gap_of_2_mm(width, expected):
    assert turns(width, 2) == pytest.approx(expected, abs=0.5)


@pytest.mark.source(PRACTICE, where="swing of one face vee'd, pivot mid-gap")
@pytest.mark.parametrize(("width", "gap", "bevel", "expected"), [(34, 2, 25, 31.4), (24, 2.5, 40, 50.5)])
def test_one_vee(width, gap, bevel, expected):
    assert turns(width, gap, front=bevel) == pytest.approx(expected, abs=0.05)
    assert turns(width, gap, rear=bevel) == pytest.approx(expected, abs=0.05)


@pytest.mark.source(PRACTICE, where="swing of both faces vee'd: about twice the bevel and 5 degrees")
@pytest.mark.parametrize("bevel", [10, 15, 20, 25, 30])
def test_both_faces_vee_d(bevel):
    assert turns(34, 2, bevel, bevel) == pytest.approx(2 * bevel + 5, abs=2)


@pytest.mark.source(PRACTICE, where="jointed trolling swimmer: 34 mm wide, one face vee'd 25 degrees")
@pytest.mark.parametrize(("gap", "expected", "within"), [(2.0, 31, 3), (0.6, 27, 0.5)])
def test_a_trolling_swimmers_joint_open_and_closed_by_its_coats(gap, expected, within):
    assert turns(34, gap, front=25) == pytest.approx(expected, abs=within)
