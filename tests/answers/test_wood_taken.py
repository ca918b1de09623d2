"""Every hole and slot of the bare wood: each takes its own closed form of it, from whatever face it is cut."""

import math
from functools import lru_cache

import numpy as np
import pytest
from scipy.integrate import quad

from gudgeon.answers.buried import buried_hardware
from gudgeon.answers.check import check
from gudgeon.answers.harness_run import channel_width
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.papers import papers
from gudgeon.answers.piece_of_wood import piece_of_wood
from gudgeon.answers.wood_taken import wood_taken
from gudgeon.physics.shapes import Rod
from gudgeon.physics.solid import segment_solids

MM = 1e-3
WIDE, DEEP = 15.0 * MM, 20.0 * MM  # half the bar's width and depth
COATS = [{"name": "clear", "thickness": "0.4 mm", "material": "epoxy"}]
FACES = [("vee", "front"), ("knuckle", "front"), ("knuckle", "rear"), ("tongue", "front"), ("tongue", "rear")]
HINGES = {
    "plate and pin": {"material": "polycarbonate", "thickness": "1.5 mm", "slot": "2.3 mm", "tall": "9 mm"},
    "wire eye and pin": {"wire": "1.3 mm", "slot": "2.1 mm"},
    "eyes on a pin": {"wire": "1.6 mm", "slot": "2.4 mm"},
    "screw eyes": {"wire": "1.6 mm", "eye": "2.6 mm"},
    "strap": {"material": "polycarbonate", "thickness": "0.8 mm", "slot": "1.5 mm", "tall": "12 mm"},
}  # fmt: skip


@pytest.fixture(scope="session")
def cut(cylinder):
    """A bar of one section, 30 mm wide and 40 mm deep, checked: its lure, bare joints, and all that is cut from it."""

    def make(**tables):
        answer = check(cylinder(120.0, 15.0, 20.0, **tables))
        lure, design = answer.lure, answer.design
        joints = [(joint.at, joint_shape(joint, lure.hull).bared(lure.build)) for joint in design.joints]
        return answer, joints, wood_taken(papers(answer))

    return make


def named(found, name):
    (taken,) = [one for one in found if one.name == name]
    return taken


def removed(lure, joints, taken):
    """What one hole or slot takes of all pieces [m3], by solids."""
    hull = lure.bare_hull
    bores = [taken.bore(hull.length)] if isinstance(taken.shape, Rod) else []
    slots = [] if bores else [taken.slot(hull.length)]
    left = segment_solids(hull, joints, bores, slots)
    return sum(plain - one.volume for plain, one in zip(plain_volumes(hull, tuple(joints)), left, strict=True))


@lru_cache(maxsize=1)
def plain_volumes(hull, joints):
    """Volumes of a lure's pieces [m3] before anything is bored or slotted."""
    return [one.volume for one in segment_solids(hull, joints)]


def upright(hull, taken):
    """A bore through the skin of the back or belly [m3]: over its round, the skin's height less its inner end's."""
    radius, end, sign = taken.shape.radius, taken.shape.stop[2], -taken.inward[2]
    wide, deep = float(hull.side(np.array([0.06]))[0]), float(hull.back(np.array([0.06]))[0])
    y = taken.shape.start[1]

    def strip(u):
        return 2.0 * math.sqrt(radius**2 - u**2) * (deep * math.sqrt(1.0 - ((y + u) / wide) ** 2) - sign * end)

    return quad(strip, -radius, radius)[0]


def slot_in_face(at, face, taken):
    """A level slot sawn into a joint face [m3]: over its width, from the face's own line to its inner end."""
    (x, _, _), (long, half, tall) = taken.shape.middle, taken.shape.halves
    end = x + taken.inward[0] * long

    def depth(y):
        return abs(end - at - float(face.station(np.array([y]))[0]))

    steps = [edge.inner for edge in face.edges if 0.0 < edge.inner < half]
    return 2.0 * (2.0 * tall) * quad(depth, 0.0, half, points=steps or None)[0]


def bore_in_face(at, face, taken):
    """A round hole bored into a joint face [m3], by the same sum over its chords."""
    radius = taken.shape.radius

    def strip(y):
        depth = abs(taken.shape.stop[0] - at - float(face.station(np.array([y]))[0]))
        return 2.0 * math.sqrt(radius**2 - y**2) * depth

    return 2.0 * quad(strip, 0.0, radius)[0]


def face_of(joints, taken):
    """Of the piece it is in: the face a lengthwise cut opens on."""
    at, shape = joints[0]
    return at, (shape.rear if taken.piece == 1 else shape.front)


@pytest.mark.parametrize("coats", [[], COATS])
@pytest.mark.parametrize("kind", sorted(HINGES))
def test_a_hinges_cuts_take_what_the_hinge_says_in_flat_faces(cut, kind, coats):
    """Less the coats' share of each: the hinge counts from the finished face."""
    hinge = {"joint": 1, "kind": kind, "heights": ["-8 mm", "8 mm"], "buried": "14 mm", **HINGES[kind]}
    answer, joints, found = cut(joint=[{"at": "60 mm", "gap": "2 mm", "pivot": "4 mm"}], hinge=[hinge], coat=coats)
    lure, (made,) = answer.lure, made_hinges(answer.design, answer.lure)
    assert len(made.cutouts) == {"screw eyes": 6, "strap": 4}.get(kind, 5)
    assert [(one.name, one.piece) for one in made.cutouts] == [(one.name, one.piece) for one in found]
    for taken, cutout in zip(found, made.cutouts, strict=True):
        if cutout.face in ("front", "rear"):
            face = joints[0][0] + (1.0 if cutout.face == "front" else -1.0) * (1.0 * MM + lure.build)
            long = abs(cutout.end[0] - face)
            assert removed(lure, joints, taken) == pytest.approx(cutout.volume / cutout.depth * long, rel=2e-6)
        else:
            assert removed(lure, joints, taken) == pytest.approx(upright(lure.bare_hull, taken), rel=2e-3)


@pytest.mark.parametrize("coats", [[], COATS])
@pytest.mark.parametrize(("face", "carries"), FACES)
@pytest.mark.parametrize("kind", sorted(HINGES))
def test_cuts_in_every_kind_of_face_take_the_wood_from_its_line_inward(cut, kind, face, carries, coats):
    hinge = {"joint": 1, "kind": kind, "heights": ["-6 mm", "6 mm"], "buried": "20 mm", **HINGES[kind]}
    joint = {"at": "60 mm", "gap": "2 mm", "face": face, "carries": carries, "front_bevel": "12 deg",
             "rear_bevel": "20 deg", "radius": "11 mm", "tongue_width": "7 mm", "tongue_length": "8 mm",
             "pivot": f"{-5 if carries == 'front' else 5} mm"}  # fmt: skip
    answer, joints, found = cut(joint=[joint], hinge=[hinge], coat=coats)
    assert found
    for taken in found:
        if abs(taken.inward[0]) < 0.5 or taken.across:
            continue
        at, line = face_of(joints, taken)
        expected = (bore_in_face if isinstance(taken.shape, Rod) else slot_in_face)(at, line, taken)
        tolerance = 3e-3 if face == "knuckle" else 1e-3  # rounds of solids are drawn with straight pieces
        assert removed(answer.lure, joints, taken) == pytest.approx(expected, rel=tolerance), taken.name


def test_a_slot_too_wide_for_the_body_is_open_on_both_sides(cut):
    hinge = {"joint": 1, "kind": "plate and pin", "material": "polycarbonate", "heights": ["0 mm"], "tall": "27 mm"}
    answer, joints, found = cut(joint=[{"at": "60 mm", "gap": "2 mm", "pivot": "4 mm"}], hinge=[hinge])
    slot = named(found, "hinge 1: slot")
    assert slot.across
    tall, long = 2.0 * slot.shape.halves[2], 2.0 * slot.shape.halves[0]

    def width(z):
        return 2.0 * WIDE * math.sqrt(1.0 - (z / DEEP) ** 2)

    expected = long * quad(width, -0.5 * tall, 0.5 * tall)[0]
    assert removed(answer.lure, joints, slot) == pytest.approx(expected, rel=2e-3)


def fitting(name, kind="screw eye", **keys):
    return {"name": name, "kind": kind, "weight": "0.8 g", "material": "steel", "at": "60 mm", "wire": "2 mm",
            "shank": "14 mm", **keys}  # fmt: skip


@pytest.mark.parametrize("coats", [[], COATS])
@pytest.mark.parametrize(("keys", "bore"), [
    ({"shank_is": "threaded"}, 4.0 / 3.0), ({"shank_is": "plain"}, 2.1), ({"shank_is": "twisted"}, 4.1),
    ({"into": "back"}, 4.0 / 3.0), ({"offset": "6 mm"}, 4.0 / 3.0),
])  # fmt: skip
def test_a_hangers_bore_is_the_pilot_of_its_shank(cut, keys, bore, coats):
    answer, joints, found = cut(fitting=[fitting("hanger", **keys)], coat=coats)
    taken = named(found, "hanger")
    assert 2e3 * taken.shape.radius == pytest.approx(bore)
    assert math.dist(taken.shape.start, taken.shape.stop) == pytest.approx(14.0 * MM)
    assert removed(answer.lure, joints, taken) == pytest.approx(upright(answer.lure.bare_hull, taken), rel=3e-3)


@pytest.mark.parametrize(("at", "into"), [(0.0, "front"), (120.0, "rear")])
def test_an_eyes_bore_in_a_flat_end_is_its_cylinder(cut, at, into):
    answer, joints, found = cut(fitting=[fitting("eye", "tow eye", at=f"{at} mm", into=into, height="3 mm")])
    expected = math.pi / 4.0 * (4.0 / 3.0 * MM) ** 2 * 14.0 * MM
    assert removed(answer.lure, joints, named(found, "eye")) == pytest.approx(expected, rel=1e-6)


def test_a_glass_eyes_socket_is_a_bore_from_its_own_side(cut):
    left = {"name": "left eye", "kind": "glass eye", "weight": "0.7 g", "material": "glass", "at": "20 mm",
            "height": "0 mm", "offset": "-14 mm"}  # fmt: skip
    answer, joints, found = cut(fitting=[left])
    taken = named(found, "left eye")
    radius, inner = taken.shape.radius, -taken.shape.stop[1]
    assert taken.inward == pytest.approx((0.0, 1.0, 0.0))

    def strip(z):
        return 2.0 * math.sqrt(radius**2 - z**2) * (WIDE * math.sqrt(1.0 - (z / DEEP) ** 2) - inner)

    assert removed(answer.lure, joints, taken) == pytest.approx(quad(strip, -radius, radius)[0], rel=2e-3)


HUNG = [fitting("nose eye", "tow eye", at="10 mm"), fitting("hanger", at="90 mm")]


@pytest.mark.parametrize(("keys", "wide"), [({}, 3.2), ({"twisted": True}, 4.8), ({"channel": "4 mm"}, 4.0)])
def test_a_bored_harness_goes_from_the_nose_to_its_last_hanger(cut, keys, wide):
    harness = {"wire": "1.6 mm", "height": "2 mm", **keys}
    answer, joints, found = cut(fitting=HUNG, harness=harness, joint=[{"at": "60 mm", "gap": "2 mm"}])
    expected = math.pi / 4.0 * (wide * MM) ** 2 * (90.0 - 2.0) * MM  # the gap has no wood
    assert removed(answer.lure, joints, named(found, "wire's channel")) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize(("twisted", "wide"), [(False, 3.2), (True, 4.8)])
def test_orders_holes_clashes_and_wires_agree_how_wide_a_channel_is(cut, twisted, wide):
    """Twice the wire; two strands twisted are two wires across, so they want three: common practice, no source."""
    harness = {"wire": "1.6 mm", "twisted": twisted}
    board = {"length": "200 mm", "width": "60 mm", "thickness": "50 mm"}
    answer, _, found = cut(fitting=HUNG, harness=harness, board=board)
    (buried,) = [one for one in buried_hardware(answer.design, answer.lure, ()) if one.kind == "channel"]
    steps = piece_of_wood(answer.design, answer.lure).steps
    (told,) = [step.numbers["channel"][0] for step in steps if "channel" in step.numbers]
    widths = [2.0 * named(found, "wire's channel").shape.radius, 2.0 * buried.shape.radius, told,
              channel_width(answer.design.harness)]  # fmt: skip
    assert widths == pytest.approx([wide * MM] * 4)


def test_a_harness_in_a_slot_is_open_along_the_belly(cut):
    harness = {"wire": "1.6 mm", "height": "-2 mm", "runs": "slot from the belly"}
    answer, joints, found = cut(fitting=HUNG, harness=harness, joint=[{"at": "60 mm", "gap": "2 mm"}])
    top, half = -2.0 * MM + 1.6 * MM, 1.6 * MM

    def deep(y):
        return top + DEEP * math.sqrt(1.0 - (y / WIDE) ** 2)

    expected = (80.0 - 2.0) * MM * quad(deep, -half, half)[0]
    assert removed(answer.lure, joints, named(found, "wire's slot")) == pytest.approx(expected, rel=2e-3)


def test_lip_and_fin_are_slotted_where_they_sit(cut):
    lip = {"material": "polycarbonate", "exposed": "20 mm", "set_in": "14 mm", "width": "16 mm", "thickness": "2 mm",
           "angle": "0 deg", "at": "0 mm", "height": "-4 mm"}  # fmt: skip
    fin = {"material": "polycarbonate", "length": "30 mm", "tall": "24 mm", "thickness": "1 mm", "at": "120 mm",
           "set_in": "9 mm", "height": "1 mm"}  # fmt: skip
    answer, joints, found = cut(lip=lip, fin=fin)
    for name, volume in (("lip's slot", 14.0 * 16.2 * 2.2), ("fin's slot", 9.0 * 12.0 * 1.2)):
        assert removed(answer.lure, joints, named(found, name)) == pytest.approx(volume * MM**3, rel=1e-6)


def test_a_ballast_bore_is_bored_for_its_ballast(cut):
    pocket = {"name": "one", "at": "60 mm", "bore": "10 mm", "holds": "12 g", "free": False}
    answer, joints, found = cut(pocket=[pocket], wood={"density": "0.5 g/cm3"}, coat=COATS)
    taken = named(found, "one")
    assert (taken.whose, taken.piece) == ("ballast", 0)
    assert math.dist(taken.shape.start, taken.shape.stop) == pytest.approx(answer.lure.fills["one"].depth - 0.4 * MM)
    assert removed(answer.lure, joints, taken) == pytest.approx(upright(answer.lure.bare_hull, taken), rel=2e-3)


def test_a_hole_belongs_to_the_piece_its_wood_is_in(cut):
    pair = [fitting("fore", at="30 mm"), fitting("aft", at="90 mm")]
    found = cut(joint=[{"at": "60 mm", "gap": "2 mm"}], fitting=pair)[2]
    assert (named(found, "fore").piece, named(found, "aft").piece) == (0, 1)
