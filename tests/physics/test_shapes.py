"""Rods and boxes: distances against closed forms, against each other, and against being moved."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.physics.hull import Hull
from gudgeon.physics.outline import ConstantCurve, DrawnCurve, ScaledCurve
from gudgeon.physics.shapes import Box, Rod, all_apart, apart, bounds, line_to_line, reach, to_line, walls

MM = 1e-3
X, Y, Z = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)


def rod(start, stop, radius):
    return Rod(tuple(MM * c for c in start), tuple(MM * c for c in stop), MM * radius)


def box(middle, halves, tilt=0.0):
    return Box(tuple(MM * c for c in middle), tuple(MM * c for c in halves), tilt)


PAIRS = {
    # two upright rods 20 mm apart
    "side by side": (rod((0, 0, 0), (0, 0, 30), 3), rod((20, 0, 5), (20, 0, 40), 2), 15.0),
    # one along x at height 10, one along y at height 0: 10 less both radii
    "crossed": (rod((-20, 0, 10), (20, 0, 10), 2), rod((0, -20, 0), (0, 20, 0), 3), 5.0),
    # end to end: flat ends, radii do not count
    "end to end": (rod((0, 0, 0), (0, 0, 10), 4), rod((0, 1, 13), (0, 1, 30), 2), 3.0),
    # the rim of one flat end against the side of the other: 20 - 4 out, 5 up
    "rim to edge": (rod((0, 0, 0), (0, 0, 10), 4), rod((20, 0, 15), (40, 0, 15), 0.0001), math.hypot(16, 5 - 0.0001)),
    "crossing": (rod((-20, 0, 0), (20, 0, 0), 2), rod((0, -20, 1), (0, 20, 1), 3), -4.0),
    "rod in rod": (rod((0, 0, 0), (0, 0, 30), 5), rod((0, 0, -10), (0, 0, 40), 1), -6.0),
    "faces": (box((0, 0, 0), (5, 5, 5)), box((20, 3, 2), (4, 4, 4)), 11.0),
    "corners": (box((0, 0, 0), (5, 5, 5)), box((10, 10, 10), (2, 2, 2)), math.sqrt(27.0)),
    "boxes overlap": (box((0, 0, 0), (5, 5, 5)), box((8, 1, 1), (4, 4, 4)), -1.0),
    # a bore under a plate
    "rod to face": (rod((0, 0, -30), (0, 0, -4), 6), box((3, 0, 0), (8, 8, 1)), 3.0),
    # a box of 10 turned by 45 deg stands out by 7.0711 to a plane 20 away
    "turned box": (box((0, 0, 0), (5, 5, 5), math.pi / 4), box((20, 0, 0), (2, 30, 30)), 18.0 - 5.0 * math.sqrt(2.0)),
}  # fmt: skip


@pytest.mark.parametrize("name", PAIRS)
def test_distances_known_on_paper(name):
    first, second, wanted = PAIRS[name]
    for one, other in ((first, second), (second, first)):
        assert apart(one, other).distance == pytest.approx(wanted * MM, abs=2e-6)


def test_many_at_once_are_as_one_by_one():
    firsts, seconds = [pair[0] for pair in PAIRS.values()], [pair[1] for pair in PAIRS.values()]
    together = all_apart(firsts, seconds)
    for found, first, second in zip(together, firsts, seconds, strict=True):
        assert found.distance == pytest.approx(apart(first, second).distance, abs=1e-7)
    assert all_apart([], []) == ()


def test_the_place_is_half_way_between_nearest_points():
    first, second, _ = PAIRS["crossed"]
    assert apart(first, second).place == pytest.approx((0.0, 0.0, (8.0 + 3.0) / 2.0 * MM), abs=1e-6)
    first, second, _ = PAIRS["crossing"]
    assert apart(first, second).place == pytest.approx((0.0, 0.0, 0.0), abs=4.0 * MM)


def nearest(shape, point):
    """The point of a shape nearest to one, written out."""
    off = [float((point - shape.centre) @ axis) for axis in shape.axes]
    if isinstance(shape, Rod):
        out = math.hypot(off[1], off[2])
        share = min(1.0, shape.radius / out) if out > 0.0 else 1.0
        inside = [min(max(off[0], -shape.halves[0]), shape.halves[0]), share * off[1], share * off[2]]
    else:
        inside = [min(max(c, -half), half) for c, half in zip(off, shape.halves, strict=True)]
    return shape.centre + sum(c * axis for c, axis in zip(inside, shape.axes, strict=True))


def dense(first, second):
    """Distance by going to and fro between nearest points, and whether that came to rest."""
    here, there = first.centre, second.centre
    for _ in range(2000):
        before, here = here, nearest(first, there)
        there = nearest(second, here)
        if np.abs(here - before).max() < 1e-12:
            return float(np.linalg.norm(here - there)), True
    return float(np.linalg.norm(here - there)), False


numbers = st.floats(-30.0, 30.0)
places = st.tuples(numbers, numbers, numbers)
rods = st.builds(rod, places, places, st.floats(0.2, 8.0))
boxes = st.builds(box, places, st.tuples(*[st.floats(0.3, 12.0)] * 3), st.floats(-1.5, 1.5))


@settings(max_examples=150, deadline=None)
@given(rods | boxes, rods | boxes)
def test_the_gap_is_what_lies_between_the_nearest_points(first, second):
    """Two bounds from either side: no direction shows a wider gap than the distance of any two points."""
    found = apart(first, second)
    between, settled = dense(first, second)
    assert found.distance <= between + 1e-9
    if settled and between > 1e-5:  # near contact the going to and fro may not come to rest, and tells too much
        assert found.distance == pytest.approx(between, abs=2e-5)


@settings(max_examples=100, deadline=None)
@given(rods | boxes, rods | boxes, places)
def test_a_shape_moved_by_its_overlap_is_clear(first, second, way):
    size = math.hypot(*way)
    if size < 1.0:
        return
    unit = np.array(way) / size
    out = reach(first, tuple(unit)) + reach(second, tuple(-unit))
    clear = second.moved(tuple((max(out, 0.0) + 1e-3) * unit))
    assert apart(first, clear).distance >= 1e-3 - 1e-9
    assert apart(first, second).distance >= -max(out, 0.0) - 1e-9


@given(places, places, places, places)
def test_stretches_against_points_tried_all_along_them(a, b, c, d):
    shares = np.linspace(0.0, 1.0, 101)[:, None]
    first = np.array(a) + shares * (np.array(b) - np.array(a))
    second = np.array(c) + shares * (np.array(d) - np.array(c))
    tried = float(np.linalg.norm(first[:, None] - second[None], axis=2).min())
    found = line_to_line((a, b), (c, d))
    assert found <= tried + 1e-9
    assert found == pytest.approx(tried, abs=2.0)


def test_a_point_and_a_stretch():
    assert to_line((5.0, 3.0, 0.0), (0.0, 0.0, 0.0), (10.0, 0.0, 0.0)) == pytest.approx(3.0)
    assert to_line((13.0, 4.0, 0.0), (0.0, 0.0, 0.0), (10.0, 0.0, 0.0)) == pytest.approx(5.0)
    assert to_line((3.0, 4.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)) == pytest.approx(5.0)


def test_bounds_hold_every_point():
    shapes = [pair[0] for pair in PAIRS.values()]
    for shape, (low, high) in zip(shapes, bounds(shapes), strict=True):
        assert (shape.points >= low - 1e-9).all()
        assert (shape.points <= high + 1e-9).all()


def sphere(radius):
    angles = np.pi * np.arange(25) / 24.0
    stations = radius * (1.0 - np.cos(angles))
    line = DrawnCurve(stations, np.concatenate([[0.0], radius * np.sin(angles[1:-1]), [0.0]]), 2.0 * radius,
                      nose="round", tail="round")  # fmt: skip
    return Hull(2.0 * radius, line, ScaledCurve(line, -1.0), line, ConstantCurve(0.0), ConstantCurve(2.0))


@settings(max_examples=50, deadline=None)
@given(st.floats(12.5, 25.0), st.floats(0.0, 2.0 * math.pi), st.floats(0.1, 3.0))
def test_wood_round_a_point_of_a_ball(out, turn, tilt):
    """Its radius less the point's distance from the middle, whichever way that lies."""
    hull = sphere(20 * MM)
    away = MM * out * np.array([math.cos(tilt), math.sin(tilt) * math.cos(turn), math.sin(tilt) * math.sin(turn)])
    point = np.array([20 * MM, 0.0, 0.0]) + away
    if not 0.0 < point[0] < 40 * MM:
        return
    found = float(walls(hull, point[None])[0])
    assert found * (20.0 - out) >= -1e-9 or abs(out - 20.0) < 0.2
    if out < 19.0:
        assert found == pytest.approx((20.0 - out) * MM, abs=0.2 * MM)  # the curve is drawn through 25 points


def test_wood_round_a_point_of_an_elliptic_bar():
    """Against the least distance to points all round the ellipse."""
    hull = Hull(0.2, ConstantCurve(20 * MM), ConstantCurve(-20 * MM), ConstantCurve(10 * MM), ConstantCurve(0.0),
                ConstantCurve(2.0))  # fmt: skip
    turn = np.linspace(0.0, 2.0 * np.pi, 20001)
    skin = np.stack([10 * MM * np.cos(turn), 20 * MM * np.sin(turn)], axis=1)
    for y, z in ((0.0, 0.0), (4.0, 12.0), (-7.0, 5.0), (2.0, -17.0), (8.0, 2.0), (5.0, 16.0)):
        wanted = float(np.linalg.norm(skin - MM * np.array([y, z]), axis=1).min())
        found = float(walls(hull, np.array([[0.1, y * MM, z * MM]]))[0])
        assert found == pytest.approx(wanted, abs=0.06 * MM)


def test_outside_the_skin_is_told_by_a_minus():
    hull = sphere(20 * MM)
    assert walls(hull, MM * np.array([[20.0, 25.0, 0.0], [20.0, 0.0, -22.0]])).tolist() == pytest.approx([-5e-3, -2e-3])
