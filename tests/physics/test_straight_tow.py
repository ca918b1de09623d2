"""What holds a lure back straight: the parts sum, and each is a hand sum of its own."""

import math
from dataclasses import replace

import numpy as np
import pytest

from gudgeon.physics.chain import Chain, Joints, Pieces, Plates, Points, TowLine
from gudgeon.physics.hull import Hull
from gudgeon.physics.outline import ConstantCurve
from gudgeon.physics.straight_tow import straight_drag
from gudgeon.physics.water_forces import StripCoefficients, Wetted, cut_in_strips

NONE, NOWHERE = np.zeros(0), np.zeros((0, 3))


def round_bar() -> Chain:
    """A bar 100 mm long and 20 mm round; a point of 50 mm2; a plate of 200 mm2 at 30 degrees."""
    hull = Hull(0.1, *(ConstantCurve(size) for size in (0.01, -0.01, 0.01, 0.0, 2.0)))
    strips = cut_in_strips(Wetted(hull, 0.0, (), (), None, False),
                           StripCoefficients(0.65, 1.0, 1.1, 1.6, 0.5, 0.0, 0.006), 1000.0)  # fmt: skip
    pieces = Pieces(np.array([0.1]), np.array([0.03]), np.zeros((1, 3)), np.eye(3)[None], np.array([3e-5]),
                    np.zeros((1, 3)), np.array([0.001]), np.array([4e-5]))  # fmt: skip
    points = Points(np.array([0]), np.zeros((1, 3)), np.array([5e-5]))
    angle = math.radians(30.0)
    plates = Plates(np.array([0]), np.zeros((1, 3)), np.array([[math.sin(angle), 0.0, -math.cos(angle)]]),
                    np.zeros((1, 3)), np.array([2e-4]), np.array([1.5]), np.array([1.6]), np.array([1.17]))  # fmt: skip
    joints = Joints(NOWHERE, *([NONE] * 9))
    return Chain(pieces, strips, joints, points, plates, TowLine(np.zeros(3), 1.0, 100.0, 1.0), 0.5, 0.5, 1.0, 1000.0,
                 9.8)  # fmt: skip


def test_each_part_by_hand():
    drag = straight_drag(round_bar())
    assert drag.skin == pytest.approx(0.006 * math.pi * 0.02 * 0.1)
    assert drag.ends == 4e-5
    assert drag.hardware == 5e-5
    sine, cosine = 0.5, math.sqrt(0.75)
    push = 1.5 * sine * cosine + 1.6 * (sine * cosine) ** 2 + 1.17 * sine**4
    assert drag.lip == pytest.approx(2e-4 * push * sine)
    assert drag.whole == pytest.approx(drag.skin + drag.ends + drag.hardware + drag.lip)


def test_a_plate_square_to_the_flow_is_stopped_by_its_most():
    chain = round_bar()
    square = replace(chain.plates, normal=np.array([[1.0, 0.0, 0.0]]))
    assert straight_drag(replace(chain, plates=square)).lip == pytest.approx(2e-4 * 1.17)
