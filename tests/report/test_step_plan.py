"""What a STEP file is planned to hold, by closed form: the solid kernel itself is no part of these."""

import importlib
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import simpson
from shapely.geometry import Polygon

from gudgeon.answers.check import check
from gudgeon.design.file import load
from gudgeon.errors import Refusal
from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.outline import AnalyticCurve, ConstantCurve
from gudgeon.physics.portion import portion
from gudgeon.physics.quadrature import angle_of
from gudgeon.physics.solid import Bore, Slot
from gudgeon.report.exchange import exported, wood_of
from gudgeon.report.rows import Shop
from gudgeon.report.step_plan import loft_of, step_plan

EXAMPLES = Path(__file__).parents[2] / "examples"
BAR = Hull(0.2, ConstantCurve(0.02), ConstantCurve(-0.02), ConstantCurve(0.012), ConstantCurve(0.0), ConstantCurve(2.0))


def spindle():
    def ellipse(size):
        return AnalyticCurve(lambda x: size * np.sqrt(np.maximum(1.0 - (x / 0.1 - 1.0) ** 2, 0.0)), lambda x: 0.0 * x)

    return Hull(0.2, ellipse(0.02), ellipse(-0.02), ellipse(0.012), ConstantCurve(0.0), ConstantCurve(2.0))


def drawn(keep):
    """A plan's outline as points, arcs in sixty-four pieces through the circle of their three points."""
    points = []
    for stretch in keep:
        if stretch.by is None:
            points.append(stretch.start)
            continue
        centre = circle(stretch)[0]
        turns = [math.atan2(y - centre[1], x - centre[0]) for x, y in (stretch.start, stretch.by, stretch.end)]
        first, middle, last = np.unwrap(turns)
        radius = circle(stretch)[1]
        assert (first - middle) * (middle - last) > 0.0
        for angle in np.linspace(first, last, 64, endpoint=False):
            points.append((centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)))
    return Polygon(points)


def circle(stretch):
    """Centre and radius of the circle through the three points of an arc."""
    (ax, ay), (bx, by), (cx, cy) = stretch.start, stretch.by, stretch.end
    lines = np.array([[bx - ax, by - ay], [cx - ax, cy - ay]])
    right = 0.5 * np.array([bx**2 - ax**2 + by**2 - ay**2, cx**2 - ax**2 + cy**2 - ay**2])
    centre = np.linalg.solve(lines, right)
    return centre, math.dist(centre, (ax, ay))


def test_sections_run_round_and_meet_end_to_end():
    for ring in loft_of(BAR).rings:
        for line, following in zip(ring.quarters, (*ring.quarters[1:], ring.quarters[0]), strict=True):
            assert line[-1] == pytest.approx(following[0], abs=1e-12)
        outline = np.concatenate([line[:-1] for line in ring.quarters])
        assert Polygon(outline).exterior.is_ccw
        assert Polygon(outline).area == pytest.approx(math.pi * 20.0 * 12.0, rel=2e-3)


def test_a_round_body_closes_in_points_and_a_flat_ended_one_does_not():
    closed, flat = loft_of(spindle()), loft_of(BAR)
    assert closed.nose == pytest.approx((0.0, 0.0, 0.0))
    assert closed.tail == pytest.approx((200.0, 0.0, 0.0))
    assert (flat.nose, flat.tail) == (None, None)
    assert [flat.rings[0].station, flat.rings[-1].station] == pytest.approx([0.0, 200.0])


def test_the_sections_hold_the_bodys_volume():
    hull = spindle()
    rings = loft_of(hull).rings
    stations = np.array([ring.station for ring in rings])
    areas = [Polygon(np.concatenate([line[:-1] for line in ring.quarters])).area for ring in rings]
    angles = angle_of(1e-3 * stations, 0.0, 0.2)
    widths = 0.5 * 200.0 * np.sin(angles)
    inside = simpson(
        np.concatenate([[0.0], np.array(areas) * widths, [0.0]]), x=np.concatenate([[0.0], angles, [np.pi]])
    )
    assert inside == pytest.approx(1e9 * portion(hull, 0.0, 0.2).volume, rel=2e-3)


def test_a_body_of_one_piece_has_no_faces():
    (plan,) = step_plan(BAR, (), (), (), ["body"])
    assert plan.keep == ()


@pytest.mark.parametrize("face", ["vee", "tongue", "knuckle"])
@pytest.mark.parametrize("carries", ["front", "rear"])
def test_pieces_are_cut_where_their_faces_are(face, carries):
    shape = JointShape(face, 0.002, 0.2, 0.3, carries=carries, radius=0.008, tongue_width=0.006, tongue_length=0.01)
    front, rear = step_plan(BAR, [(0.1, shape)], (), (), ["head", "tail"])
    pieces = [drawn(plan.keep) for plan in (front, rear)]
    for plan, outline in zip((front, rear), pieces, strict=True):
        assert outline.is_valid
        assert outline.exterior.is_ccw
        for one, following in zip(plan.keep, (*plan.keep[1:], plan.keep[0]), strict=True):
            assert one.end == pytest.approx(following.start, abs=1e-9)
    assert pieces[0].intersection(pieces[1]).area == pytest.approx(0.0, abs=1e-9)
    wide = 22.0
    for outline, line in zip(pieces, (shape.front, shape.rear), strict=True):
        ideal = np.array([100.0, 0.0]) + 1e3 * line.drawn(1e-3 * wide)
        ends = [(-10.0, wide), (-10.0, -wide)] if outline is pieces[0] else [(210.0, wide), (210.0, -wide)]
        assert outline.area == pytest.approx(Polygon([*ideal, *ends]).area, rel=1e-3)


def test_a_knuckle_is_two_true_arcs_about_its_own_centre():
    shape = JointShape("knuckle", 0.002, radius=0.008)
    front, rear = step_plan(BAR, [(0.1, shape)], (), (), ["head", "tail"])
    for plan, radius in ((front, 8.0), (rear, 10.0)):
        arcs = [stretch for stretch in plan.keep if stretch.by is not None]
        assert len(arcs) == 2
        for arc in arcs:
            centre, found = circle(arc)
            assert found == pytest.approx(radius, rel=1e-9)
            assert centre == pytest.approx([100.0 + 1e3 * shape.knuckle_centre, 0.0], abs=1e-6)


def test_a_bore_is_a_rod_of_its_own_width_to_its_own_end():
    bore = Bore((0.05, 0.0, -0.02), (0.0, 0.0, 2.0), 0.015, 0.01, proud=0.02, piece=0)
    (plan,) = step_plan(BAR, (), (bore,), (), ["body"])
    (rod,) = plan.rods
    assert (rod.radius, rod.length) == pytest.approx((5.0, 35.0))
    assert rod.start == pytest.approx((50.0, 0.0, -40.0))
    end = np.array(rod.start) + rod.length * np.array(rod.inward)
    assert end == pytest.approx([50.0, 0.0, -5.0])


def test_holes_go_to_their_own_piece_or_to_all():
    shape = JointShape("vee", 0.002)
    own, everywhere = (
        Bore((0.05, 0.0, -0.02), (0.0, 0.0, 1.0), 0.01, 0.01, piece=1),
        Slot((0.1, 0.0, 0.0), (0.1, 0.002, 0.01)),
    )
    head, tail = step_plan(BAR, [(0.1, shape)], (own,), (everywhere,), ["head", "tail"])
    assert (len(head.rods), len(tail.rods)) == (0, 1)
    assert (len(head.blocks), len(tail.blocks)) == (1, 1)
    assert head.blocks[0].size == pytest.approx((100.0, 2.0, 10.0))


def test_an_example_is_planned_whole():
    answer = check(load(EXAMPLES / "lanternmere.toml"))
    wood = wood_of(answer, finished=False)
    names = [segment.name for segment in answer.lure.segments]
    plans = step_plan(wood.hull, wood.joints, wood.bores, wood.slots, names)
    assert [plan.name for plan in plans] == names
    assert sum(len(plan.rods) for plan in plans) == len(wood.bores)
    assert [len(plan.blocks) for plan in plans] == [0, 2, 2, 3]  # two levels of each hinge, and the fin


def test_step_without_its_kernel_is_refused_with_what_to_install(monkeypatch):
    def missing(name):
        raise ImportError(name)

    answer = check(load(EXAMPLES / "diver.toml"))
    monkeypatch.setattr(importlib, "import_module", missing)
    with pytest.raises(Refusal, match=r'pip install "gudgeon\[cad\]"'):
        exported(answer, "step", stamp="0badcafe", finished=False, piece="", shop=Shop.METRIC)
