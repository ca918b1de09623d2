"""Joint faces: each shape is the line it says it is, and coats move every face by as much."""

import math

import numpy as np
import pytest

from gudgeon.errors import NoAnswer
from gudgeon.physics.joint_face import JointShape

OFFSETS = np.array([-0.012, -0.004, 0.0, 0.003, 0.008, 0.012])


def test_a_vee_recedes_by_its_bevel_from_half_the_gap():
    shape = JointShape("vee", 0.002, math.radians(20), math.radians(30))
    assert shape.front.station(OFFSETS) == pytest.approx(-0.001 - np.abs(OFFSETS) * math.tan(math.radians(20)))
    assert shape.rear.station(OFFSETS) == pytest.approx(0.001 + np.abs(OFFSETS) * math.tan(math.radians(30)))


@pytest.mark.parametrize("carries", ["front", "rear"])
def test_the_gap_round_a_knuckle_is_even(carries):
    shape = JointShape("knuckle", 0.002, carries=carries, radius=0.014)
    faces = {"front": shape.front, "rear": shape.rear}
    knuckle = faces.pop(carries)
    (socket,) = faces.values()
    out = np.linspace(0.0, 0.0139, 20)
    for face, radius in ((knuckle, 0.014), (socket, 0.016)):
        assert np.hypot(face.station(out) - shape.knuckle_centre, out) == pytest.approx(radius)
    assert abs(knuckle.station(np.zeros(1))[0]) == pytest.approx(0.001)  # its tip half a gap from the middle


def test_a_knuckles_lips_stand_off_its_shoulders_by_the_gap():
    shape = JointShape("knuckle", 0.002, radius=0.010)
    out = np.array([0.0125, 0.014])
    assert shape.rear.station(out) - shape.front.station(out) == pytest.approx(0.002)
    edge = shape.rear.edges[0].outer
    near = shape.rear.station(np.array([edge - 1e-9, edge + 1e-9]))
    assert near[0] == pytest.approx(near[1], abs=1e-7)  # the socket runs into its lip without a step


def test_a_slot_clears_its_tongue_by_the_gap_at_sides_and_end():
    shape = JointShape("tongue", 0.002, tongue_width=0.010, tongue_length=0.012)
    assert shape.front.station(np.array([0.0, 0.0049, 0.0051])) == pytest.approx([0.013, 0.013, -0.001])
    assert shape.rear.station(np.array([0.0, 0.0069, 0.0071])) == pytest.approx([0.015, 0.015, 0.001])


@pytest.mark.parametrize("carries", ["front", "rear"])
@pytest.mark.parametrize("face", ["vee", "knuckle", "tongue"])
def test_a_mirrored_joint_has_mirrored_faces(face, carries):
    other = {"front": "rear", "rear": "front"}[carries]
    sizes = {"radius": 0.011, "tongue_width": 0.008, "tongue_length": 0.010}
    one = JointShape(face, 0.002, 0.2, 0.5, carries=carries, **sizes)
    mirrored = JointShape(face, 0.002, 0.5, 0.2, carries=other, **sizes)
    assert one.front.station(OFFSETS) == pytest.approx(-mirrored.rear.station(OFFSETS))


def nearest(line, point):
    """Least distance [m] of a point from a face drawn out to 20 mm, its steps left open."""
    drawn = line.drawn(0.02)
    start, along = drawn[:-1], np.diff(drawn, axis=0)
    share = np.clip(((point - start) * along).sum(axis=1) / (along**2).sum(axis=1), 0.0, 1.0)
    return np.hypot(*(start + share[:, None] * along - point).T).min()


@pytest.mark.parametrize("carries", ["front", "rear"])
@pytest.mark.parametrize("bevel", [0, 12, 40])
@pytest.mark.parametrize("face", ["vee", "knuckle", "tongue"])
def test_bare_faces_lie_a_build_inside_the_finished_ones_square_to_each(face, bevel, carries):
    """No coat thicker or thinner than the build anywhere but in corners, where it fills in or rounds off."""
    build = 0.0004
    shape = JointShape(face, 0.002, math.radians(bevel), math.radians(0.5 * bevel), carries=carries, radius=0.009,
                       tongue_width=0.010, tongue_length=0.011)  # fmt: skip
    bare = shape.bared(build)
    for finished, cut in ((shape.front, bare.front), (shape.rear, bare.rear)):
        for edge in cut.edges:
            out = np.linspace(edge.inner, min(edge.outer, 0.016), 9)[1:-1]
            stations = edge.station(out)
            assert np.all((finished.station(out) - stations) * cut.wood < 0.0)  # inside the wood
            gaps = [nearest(finished, np.array(point)) for point in zip(stations, out, strict=True)]
            assert np.median(gaps) == pytest.approx(build, rel=1e-2)  # arcs are drawn with straight pieces
    slanted = 1.0 / math.cos(math.radians(bevel)) + 1.0 / math.cos(math.radians(0.5 * bevel))
    assert shape.cut_gap == pytest.approx(0.002)
    assert bare.cut_gap == pytest.approx(0.002 + build * (slanted if face == "vee" else 2.0))


def test_a_bare_socket_runs_into_its_lip_without_a_step():
    shape = JointShape("knuckle", 0.002, rear_bevel=0.4, radius=0.010).bared(0.0005)
    socket, lip = shape.rear.edges
    assert socket.station(np.array([socket.outer])) == pytest.approx(lip.station(np.array([lip.inner])), abs=1e-12)


def test_coats_take_off_a_slanting_vee_what_its_own_area_says():
    """A square bar 20 mm wide and 30 mm deep, faces of 40 deg: their area times the build, against the lines' own."""
    shape, build = JointShape("vee", 0.002, math.radians(40.0), math.radians(40.0)), 0.0005
    bare, out = shape.bared(build), np.linspace(-0.010, 0.010, 2001)
    taken = np.trapezoid(shape.front.station(out) - bare.front.station(out), out) * 0.030
    assert taken == pytest.approx(0.020 / math.cos(math.radians(40.0)) * 0.030 * build, rel=1e-9)


@pytest.mark.parametrize(("face", "size"), [("knuckle", "radius"), ("tongue", "tongue_width")])
def test_coats_that_leave_no_wood_are_refused(face, size):
    shape = JointShape(face, 0.002, **{"radius": 0.01, "tongue_width": 0.01, size: 0.0003})
    with pytest.raises(NoAnswer, match=f"leave no wood in the {face}"):
        shape.bared(0.0004)


def test_a_drawn_face_runs_from_skin_to_skin_on_the_line():
    for shape in (JointShape("vee", 0.002, 0.3), JointShape("knuckle", 0.002, radius=0.01),
                  JointShape("tongue", 0.002, tongue_width=0.008, tongue_length=0.01)):  # fmt: skip
        line = shape.front.drawn(0.015)
        assert line[0, 1] == -0.015
        assert line[-1, 1] == 0.015
        assert np.all(np.diff(line[:, 1]) >= 0.0)
        smooth = np.abs(np.abs(line[:, 1]) - 0.004) > 1e-6  # a tongue steps there
        assert line[smooth, 0] == pytest.approx(shape.front.station(line[smooth, 1]), abs=1e-9)
