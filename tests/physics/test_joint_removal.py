"""What a face takes off its piece: wedges, half-rounds and tongues on a square bar, which have closed forms."""

import math

import numpy as np
import pytest

from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.joint_removal import removals
from gudgeon.physics.outline import AnalyticCurve, ConstantCurve

HALF, TOP = 0.012, 0.02


def bar(taper=0.0, fullness=12.0):
    """A body of square-ish section, half-width HALF at 0.1 m, growing by `taper` a metre aft."""
    side = AnalyticCurve(lambda x: HALF + taper * (x - 0.1), lambda x: np.full_like(x, taper))
    return Hull(0.2, ConstantCurve(TOP), ConstantCurve(-TOP), side, ConstantCurve(0.0),
                ConstantCurve(fullness))  # fmt: skip


def chord_share(fullness=12.0):
    """Area of the section over its box, and mean |y| over half its width: superellipse in closed form."""
    one, two, three = (math.gamma(1 + k / fullness) for k in (1, 2, 3))
    return one**2 / two, one * two / (2 * three)


@pytest.mark.parametrize("bevel", [10, 30, 60])
def test_a_vee_on_a_straight_bar_takes_the_first_moment_times_its_slope(bevel):
    slope = math.tan(math.radians(bevel))
    shape = JointShape("vee", 0.002, math.radians(bevel))
    found = removals(bar(), [(0.1, 0.002, shape.front)])[0]
    expected = slope * 4 * HALF**2 * TOP * 2 * chord_share()[1] / 2
    assert found.volume == pytest.approx(expected, rel=2e-3)
    assert found.area == pytest.approx(4 * HALF * TOP * chord_share()[0] * math.hypot(1, slope), rel=2e-3)
    assert found.moment[0] / found.volume < 0.099


def test_a_flat_face_takes_nothing_more():
    found = removals(bar(), [(0.1, 0.002, JointShape("vee", 0.002).rear)])[0]
    assert found.volume == 0.0
    assert found.area == pytest.approx(4 * HALF * TOP * chord_share()[0], rel=2e-3)


def test_a_tongue_is_as_much_wood_on_one_piece_as_it_is_and_its_slot_as_much_off_the_other():
    shape = JointShape("tongue", 0.002, tongue_width=0.008, tongue_length=0.010)
    tongue, slot = removals(bar(), [(0.1, 0.002, shape.front), (0.1, 0.002, shape.rear)])
    assert tongue.volume == pytest.approx(-0.008 * 0.012 * 2 * TOP, rel=1e-3)  # its own length and the gap's
    assert slot.volume == pytest.approx(0.012 * 0.012 * 2 * TOP, rel=1e-3)


def test_a_taper_is_seen():
    shape = JointShape("vee", 0.002, math.radians(45))
    straight, wider = (removals(bar(taper, 2.3), [(0.1, 0.002, shape.front)])[0].volume
                       for taper in (0.0, -0.2))  # fmt: skip
    dense_y = np.linspace(0, 0.03, 6001)
    depth = np.linspace(0, 1, 401)[:, None] * dense_y
    half = HALF - 0.2 * (0.099 - depth - 0.1)
    inside = np.clip(1 - np.minimum(dense_y / half, 1) ** 2.3, 0, 1) ** (1 / 2.3)
    exact = float(np.trapezoid(np.trapezoid(inside, dx=1 / 400, axis=0) * dense_y, dense_y)) * 4 * TOP
    assert wider == pytest.approx(exact, rel=3e-3)
    assert wider > 1.15 * straight


def test_no_faces_take_nothing():
    assert removals(bar(), []) == []
