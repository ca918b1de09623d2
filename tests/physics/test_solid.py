"""Solids: closed, of the right volume, cut and bored as told; and they turn as far as the closed form says."""

import math
import random
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import trimesh

from gudgeon.answers.assembly import assemble
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.design.file import load
from gudgeon.errors import NoAnswer
from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.outline import AnalyticCurve, ConstantCurve
from gudgeon.physics.portion import portion
from gudgeon.physics.solid import (
    Bore,
    Slot,
    bore_solid,
    from_triangles,
    joint_solids,
    loft,
    segment_solids,
    slot_solid,
    swing_of_solids,
)
from gudgeon.physics.swing import sides_of, swing

MM3 = 1e-9
EXAMPLES = Path(__file__).parents[2] / "examples"


def spindle(fullness=2.0, length=0.2, half=0.014, depth=0.022):
    """A body whose outlines are ellipses."""
    middle = 0.5 * length

    def ellipse(size):
        return AnalyticCurve(
            lambda x: size * np.sqrt(np.maximum(1 - ((x - middle) / middle) ** 2, 0)),
            lambda x: -size * (x - middle) / middle**2 / np.sqrt(np.maximum(1 - ((x - middle) / middle) ** 2, 1e-12)),
        )

    return Hull(length, ellipse(depth), ellipse(-depth), ellipse(half), ConstantCurve(0.0), ConstantCurve(fullness))


def bar():
    """A straight round-sided bar, 24 mm wide and 40 mm deep."""
    return Hull(0.2, ConstantCurve(0.02), ConstantCurve(-0.02), ConstantCurve(0.012), ConstantCurve(0.0),
                ConstantCurve(2.0))  # fmt: skip


@pytest.mark.parametrize("fullness", [1.5, 2.0, 3.0])
def test_a_loft_is_watertight_and_holds_the_bodys_volume(fullness):
    hull = spindle(fullness)
    solid = loft(hull, 0.0, 0.2)
    vertices, faces = solid.triangles()
    mesh = trimesh.Trimesh(vertices, faces, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume == pytest.approx(solid.volume, rel=1e-9)
    assert solid.volume == pytest.approx(portion(hull, 0.0, 0.2).volume, rel=1e-3)


def test_an_ellipsoid_in_three_pieces_is_less_by_its_gaps():
    hull, flat = spindle(), JointShape("vee", 0.002)
    pieces = segment_solids(hull, [(0.07, flat), (0.13, flat)])
    for solid, (start, stop) in zip(pieces, ((0.0, 0.069), (0.071, 0.129), (0.131, 0.2)), strict=True):
        assert solid.volume == pytest.approx(portion(hull, start, stop).volume, rel=2e-3)


def test_a_surface_inside_out_or_open_is_refused_at_once():
    vertices, faces = loft(spindle(), 0.02, 0.18).triangles()
    with pytest.raises(NoAnswer, match="does not close"):
        from_triangles(vertices, faces[:, ::-1])
    with pytest.raises(NoAnswer, match="does not close"):
        from_triangles(vertices, faces[:-1])
    flipped = faces.copy()
    flipped[-20:] = flipped[-20:, ::-1]  # a cap the wrong way round
    with pytest.raises(NoAnswer, match="does not close"):
        from_triangles(vertices, flipped)


def test_a_bore_in_the_wood_takes_its_own_cylinder():
    bore = Bore((0.1, 0.0, -0.015), (0.0, 0.0, 1.0), 0.018, 0.009)
    assert bore_solid(bore).volume == pytest.approx(math.pi / 4 * 0.009**2 * 0.018, rel=1e-6)
    whole, holed = loft(bar(), 0.0, 0.2), segment_solids(bar(), [], [bore])[0]
    assert whole.volume - holed.volume == pytest.approx(math.pi / 4 * 0.009**2 * 0.018, rel=1e-6)


@pytest.mark.parametrize("offset", [0.0, 0.004])
def test_a_bore_through_the_skin_takes_the_cylinder_that_lies_in_the_wood(offset):
    radius, top = 0.004, -0.004
    bore = Bore((0.1, offset, -0.02), (0.0, 0.0, 1.0), 0.016, 2 * radius, proud=0.01)
    taken = loft(bar(), 0.0, 0.2).volume - segment_solids(bar(), [], [bore])[0].volume
    y = offset + radius * np.linspace(-1, 1, 4001)
    across = 2 * np.sqrt(np.maximum(radius**2 - (y - offset) ** 2, 0.0))  # length of the round along the body
    depth = top + 0.02 * np.sqrt(1 - (y / 0.012) ** 2)  # from the belly's skin up to the bore's end
    assert taken == pytest.approx(float(np.trapezoid(across * depth, y)), rel=2e-3)


def test_a_slot_takes_its_box_tilted_or_not():
    level = Slot((0.1, 0.0, 0.0), (0.02, 0.003, 0.012))
    whole = loft(bar(), 0.0, 0.2)
    for slot in (level, replace(level, tilt=math.radians(30))):
        assert whole.volume - segment_solids(bar(), [], [], [slot])[0].volume == pytest.approx(720 * MM3, rel=1e-9)
    nose_up = slot_solid(replace(level, tilt=math.radians(30))).triangles()[0]
    fore = nose_up[nose_up[:, 0] < 0.1]
    assert fore[:, 2].mean() > 0.0


def test_a_bore_that_belongs_to_one_piece_leaves_the_other_whole():
    flat = [(0.1, JointShape("vee", 0.001))]
    bore = Bore((0.1, 0.0, -0.01), (0.0, 0.0, 1.0), 0.01, 0.008)
    whole = segment_solids(bar(), flat)
    one = segment_solids(bar(), flat, [replace(bore, piece=0)])
    assert one[0].volume < whole[0].volume
    assert one[1].volume == whole[1].volume


def test_a_piece_with_nothing_left_is_refused():
    with pytest.raises(NoAnswer, match="nothing is left of piece 2"):
        segment_solids(bar(), [(0.1, JointShape("vee", 0.001))], [], [Slot((0.15, 0.0, 0.0), (0.2, 0.1, 0.1))])


@pytest.mark.parametrize(("cut", "what"), [
    (lambda: bore_solid(Bore((0.1, 0.0, 0.0), (0.0, 0.0, 1.0), 0.0, 0.004)), "the bore"),
    (lambda: bore_solid(Bore((0.1, 0.0, 0.0), (0.0, 0.0, 1.0), 0.01, math.nan)), "the bore"),
    (lambda: bore_solid(Bore((math.nan, 0.0, 0.0), (0.0, 0.0, 1.0), 0.01, 0.004)), "the bore where it lies"),
    (lambda: slot_solid(Slot((0.1, 0.0, 0.0), (0.01, 0.0, 0.01))), "the slot"),
    (lambda: slot_solid(Slot((0.1, math.inf, 0.0), (0.01, 0.01, 0.01))), "the slot where it lies"),
])  # fmt: skip
def test_a_cut_that_is_no_solid_is_refused_as_soon_as_it_is_made(cut, what):
    """The kernel hands back nothing without a word, and nothing cut away would look like a sound piece."""
    with pytest.raises(NoAnswer, match=f"^{what} does not close"):
        cut()


def test_moving_and_turning_keep_the_volume():
    solid = loft(spindle(), 0.02, 0.12)
    assert solid.moved((0.1, 0.02, -0.03)).volume == pytest.approx(solid.volume, rel=1e-12)
    turned = solid.turned(0.5, 0.02)
    assert turned.volume == pytest.approx(solid.volume, rel=1e-9)
    assert turned.triangles()[0][:, 1].max() > 0.04  # the aft end goes to the right
    assert solid.distance(solid.moved((0.12, 0.0, 0.0)), 0.05) == pytest.approx(0.02, abs=1e-4)


@pytest.mark.parametrize("name", ["lanternmere", "glider"])
@pytest.mark.parametrize("face", ["vee", "knuckle", "tongue"])
def test_pieces_hold_what_quadrature_says(name, face):
    design = load(EXAMPLES / f"{name}.toml")
    design = design.model_copy(update={"joints": tuple(j.model_copy(update={"face": face}) for j in design.joints)})
    lure = assemble(design)
    joints = [(joint.at, joint_shape(joint, lure.hull)) for joint in design.joints]
    for solid, segment in zip(segment_solids(lure.hull, joints), lure.segments, strict=True):
        assert solid.volume == pytest.approx(segment.outside, rel=2e-3)
    dense = segment_solids(lure.hull, joints, stations=257, points=96)
    for solid, segment in zip(dense, lure.segments, strict=True):
        assert solid.volume == pytest.approx(segment.outside, rel=6e-4)
    bare_joints = [(at, shape.bared(lure.build)) for at, shape in joints]
    bare = segment_solids(lure.bare_hull, bare_joints, stations=257, points=96)
    for solid, segment in zip(bare, lure.segments, strict=True):  # the wood that is weighed, coats and cuts off
        corners = 5e-3 if face == "tongue" else 2e-3  # of tongue and slot: there coats overlap
        assert solid.volume == pytest.approx(segment.bare, rel=corners)


def random_joint(draw, hull):
    """Any joint a maker may draw, and many he would not."""
    at = draw.uniform(0.06, 0.2)
    half = float(hull.side(np.array([at]))[0])
    face = draw.choice(["vee", "vee", "knuckle", "tongue"])
    shape = JointShape(
        face, draw.uniform(0.8e-3, 4e-3), math.radians(draw.choice([0, draw.uniform(0, 40)])),
        math.radians(draw.choice([0, draw.uniform(0, 40)])), draw.uniform(-2e-3, 2e-3), draw.choice(["front", "rear"]),
        draw.uniform(0.6, 1.3) * half, draw.uniform(0.3, 0.7) * half, draw.uniform(0.2, 0.8) * half,
    )  # fmt: skip
    if face == "knuckle" and draw.random() < 0.7:
        shape = replace(shape, pivot=shape.knuckle_centre + draw.choice([0.0, draw.uniform(-1e-3, 1e-3)]))
    return at, shape


def test_two_hundred_random_joints_turn_as_far_in_the_round_as_on_paper():
    hull = assemble(load(EXAMPLES / "lanternmere.toml")).hull
    draw = random.Random(11)
    worst, faces = 0.0, set()
    for _ in range(200):
        at, shape = random_joint(draw, hull)
        paper = swing(shape, sides_of(hull, at, 0.04))
        front, rear = joint_solids(hull, at, shape, 0.04)
        worst = max(worst, abs(paper.angle - swing_of_solids(front, rear, at + shape.pivot)))
        faces.add((shape.face, paper.meeting.on if paper.meeting else ""))
    assert math.degrees(worst) < 0.5
    assert len(faces) > 6  # many kinds of meeting were seen


def test_a_guess_changes_nothing_but_the_work():
    hull, shape = spindle(), JointShape("vee", 0.002, 0.3)
    front, rear = joint_solids(hull, 0.1, shape, 0.03)
    alone = swing_of_solids(front, rear, 0.1)
    paper = swing(shape, sides_of(hull, 0.1, 0.03)).angle
    for guess in (paper, 0.5 * paper, 1.5 * paper):
        assert swing_of_solids(front, rear, 0.1, guess) == pytest.approx(alone, abs=math.radians(0.05))
