"""Where joint faces meet the skin, against closed forms on a bar of one elliptical section and on a tapered wedge."""

import math

import numpy as np
import pytest

from gudgeon.physics.face_edge import face_edge
from gudgeon.physics.hull import Hull, half_width_at
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.outline import DrawnCurve

WIDE, DEEP = 0.012, 0.018


def straight(first: float, last: float) -> DrawnCurve:
    return DrawnCurve(np.array([0.0, 0.2]), np.array([first, last]), 0.2, "pointed", "pointed")


def bar(taper: float = 0.0) -> Hull:
    """Half as deep as wide at its rear end when tapered by half."""
    return Hull(length=0.2, back=straight(DEEP, DEEP), belly=straight(-DEEP, -DEEP),
                side=straight(WIDE, WIDE - taper), widest=straight(0.0, 0.0), fullness=straight(2.0, 2.0))  # fmt: skip


def shape(face: str, **sizes: float) -> JointShape:
    return JointShape(face=face, gap=0.002, **sizes)  # type: ignore[arg-type]


@pytest.mark.parametrize("degrees", [0.0, 12.0, 35.0, 60.0])
def test_a_vee_laid_flat_is_wider_by_its_slope(degrees: float) -> None:
    edge = face_edge(bar(), 0.1, shape("vee", rear_bevel=math.radians(degrees)).rear)
    assert edge.offsets[-1] == pytest.approx(WIDE, rel=1e-9)
    assert edge.along[-1] == pytest.approx(WIDE / math.cos(math.radians(degrees)), rel=1e-9)
    assert edge.folds == (() if degrees == 0.0 else (0.0,))
    assert not edge.is_stepped
    z = DEEP * np.sqrt(np.maximum(1.0 - (edge.offsets / WIDE) ** 2, 0.0))
    assert np.allclose(edge.top, z, atol=2e-7)
    assert np.allclose(edge.bottom, -z, atol=2e-7)


def test_the_area_of_a_sloped_face_laid_flat_is_the_sections_over_its_cosine() -> None:
    edge = face_edge(bar(), 0.1, shape("vee", front_bevel=math.radians(25.0)).front)
    y, z = edge.outline.T
    area = 0.5 * abs(float(y @ np.roll(z, -1) - z @ np.roll(y, -1)))
    assert area == pytest.approx(math.pi * WIDE * DEEP / math.cos(math.radians(25.0)), rel=1e-3)


def test_a_knuckle_laid_flat_is_as_wide_as_its_arc_and_its_shoulders() -> None:
    radius = 0.009
    edge = face_edge(bar(), 0.1, shape("knuckle", radius=radius).front)
    assert edge.along[-1] == pytest.approx(0.5 * math.pi * radius + WIDE - radius, rel=2e-4)
    assert edge.folds == (pytest.approx(0.5 * math.pi * radius, rel=2e-4),)
    socket = face_edge(bar(), 0.1, shape("knuckle", radius=0.012).rear)
    assert socket.along[-1] == pytest.approx(0.014 * math.asin(WIDE / 0.014), rel=2e-4)
    assert socket.folds == ()


def test_the_sides_of_a_tongue_are_left_out() -> None:
    joint = shape("tongue", tongue_width=0.008, tongue_length=0.01, front_bevel=math.radians(20.0))
    edge = face_edge(bar(), 0.1, joint.front)
    assert edge.is_stepped
    assert edge.along[-1] == pytest.approx(0.004 + (WIDE - 0.004) / math.cos(math.radians(20.0)), rel=1e-9)
    assert edge.folds == (pytest.approx(0.004),)
    beside = edge.stations[np.isclose(edge.offsets, 0.004)]
    sunk = 0.004 * math.tan(math.radians(20.0))  # the slope counts from the middle line
    assert beside.max() - beside.min() == pytest.approx(0.01 + 0.002 + sunk, rel=1e-9)  # its length and the gap


def test_a_tongue_wider_than_the_body_leaves_the_skin_before_its_side() -> None:
    edge = face_edge(bar(), 0.1, shape("tongue", tongue_width=0.03, tongue_length=0.01).front)
    assert edge.along[-1] == pytest.approx(WIDE, rel=1e-9)
    assert edge.folds == ()


def test_on_a_tapered_body_the_edge_lies_on_the_skin() -> None:
    hull = bar(taper=0.008)
    edge = face_edge(hull, 0.1, shape("vee", front_bevel=math.radians(30.0)).front)
    for x, y, z in zip(edge.stations[:-1], edge.offsets[:-1], edge.top[:-1], strict=True):
        assert half_width_at(hull, float(x), float(z)) == pytest.approx(float(y), abs=1e-6)
    assert edge.offsets[-1] == pytest.approx(float(hull.side(edge.stations[-1:])[0]), rel=1e-9)
    # the face x = 0.1 - 0.001 - y tan 30 meets the side y = 0.012 - 0.04 x
    tangent = math.tan(math.radians(30.0))
    assert edge.offsets[-1] == pytest.approx((0.012 - 0.04 * 0.099) / (1.0 - 0.04 * tangent), rel=1e-6)


def test_the_line_round_a_face_is_alike_on_both_sides() -> None:
    edge = face_edge(bar(), 0.1, shape("knuckle", radius=0.01).rear)
    assert np.allclose(edge.flat(np.array([-0.005, 0.005])).sum(), 0.0)
    left, right = edge.plan[:, 1].min(), edge.plan[:, 1].max()
    assert left == pytest.approx(-right)
    assert edge.outline[:, 0].min() == pytest.approx(-edge.along[-1])
