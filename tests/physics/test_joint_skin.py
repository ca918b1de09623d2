"""Skin that joints take: closed form on a square bar, and the skin of solids with and without the face's shape."""

import math

import numpy as np
import pytest
import trimesh

from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.joint_removal import removals
from gudgeon.physics.joint_skin import skins_taken
from gudgeon.physics.outline import AnalyticCurve, ConstantCurve
from gudgeon.physics.solid import segment_solids

BAR = Hull(0.2, ConstantCurve(0.02), ConstantCurve(-0.02), ConstantCurve(0.012), ConstantCurve(0.0), ConstantCurve(2.0))


def spindle():
    def ellipse(size):
        return AnalyticCurve(lambda x: size * np.sqrt(np.maximum(1.0 - (x / 0.1 - 1.0) ** 2, 0.0)), lambda x: 0.0 * x)

    return Hull(0.2, ellipse(0.022), ellipse(-0.022), ellipse(0.014), ConstantCurve(0.0), ConstantCurve(2.3))


def test_a_vee_on_a_bar_takes_its_slope_times_the_offset_round_the_section():
    """On a bar the skin lost is the integral of |y| tan(bevel) round the section's line."""
    bevel, gap = math.radians(30.0), 0.002
    shape = JointShape("vee", gap, bevel)
    turn = np.linspace(0.0, 2.0 * math.pi, 20001)
    y, z = 0.012 * np.cos(turn), 0.02 * np.sin(turn)
    expected = math.tan(bevel) * float(np.sum(0.5 * np.abs(y[1:] + y[:-1]) * np.hypot(np.diff(y), np.diff(z))))
    front, rear = skins_taken(BAR, [(0.1, gap, shape.front), (0.1, gap, shape.rear)])
    assert front == pytest.approx(expected, rel=4e-3)
    assert rear == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("at", [0.06, 0.1, 0.15])
@pytest.mark.parametrize(("face", "carries"), [("vee", "front"), ("knuckle", "front"), ("knuckle", "rear"),
                                               ("tongue", "front"), ("tongue", "rear")])  # fmt: skip
def test_pieces_have_the_skin_of_square_ones_less_what_their_faces_take(face, carries, at):
    """Area of the faces themselves is told by `removals`; all of both is the area of the solids."""
    hull, gap = spindle(), 0.002
    shape = JointShape(face, gap, 0.2, 0.5, carries=carries, radius=0.011, tongue_width=0.008, tongue_length=0.009)
    square = JointShape("vee", gap)

    def areas(joint):
        solids = segment_solids(hull, [(at, joint)], stations=401, points=128)
        return [trimesh.Trimesh(*solid.triangles(), process=False).area for solid in solids]

    faces = [(at, gap, line) for line in (shape.front, shape.rear)]
    flat = [(at, gap, line) for line in (square.front, square.rear)]
    for place, (own, plain) in enumerate(zip(areas(shape), areas(square), strict=True)):
        shaped, cut = removals(hull, faces)[place].area, removals(hull, flat)[place].area
        lost = (plain - cut) - (own - shaped)
        within = 4e-6 if face == "vee" else 3e-5  # of some 5 000 mm2
        assert skins_taken(hull, faces)[place] == pytest.approx(lost, abs=within)
