"""Hinges: parts against closed forms, slots that let the joint turn, weights in the ledger, and what is refused."""

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import rotate
from shapely.geometry import Point, box

from gudgeon.answers.assembly import assemble
from gudgeon.answers.finding import Gravity
from gudgeon.answers.hinging import hinging
from gudgeon.design.file import load
from gudgeon.errors import BadDesign
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said

MM = 1e-3
STEEL = 7930.0
KINDS = ("plate and pin", "wire eye and pin", "screw eyes", "eyes on a pin", "strap")
PINNED = ("plate and pin", "wire eye and pin", "eyes on a pin")
DEMO = Path(__file__).parents[2] / "examples" / "lanternmere.toml"


@pytest.fixture
def jointed(cylinder):
    """A bar 30 mm wide and 40 mm deep, cut at 60 mm, its pivot 4 mm aft of a gap of 2 mm, with one hinge."""

    def make(kind, joint=None, **keys):
        tables = {key: keys.pop(key) for key in ("fitting", "pocket") if key in keys}
        cut = {"at": "60 mm", "gap": "2 mm", "front_bevel": "12 deg", "rear_bevel": "12 deg", "pivot": "4 mm",
               **(joint or {})}  # fmt: skip
        return cylinder(120.0, 15.0, 20.0, joint=[cut], hinge=[{"joint": 1, "kind": kind, **keys}], **tables)

    return make


def only(design):
    (answer,) = hinging(design, assemble(design)).hinges
    return answer


def told(design):
    return [(finding.gravity, said(finding, Shop.METRIC)) for finding in hinging(design, assemble(design)).findings]


def ring(wire, eye):
    return math.pi / 4 * wire**2 * math.pi * (eye + wire)


def test_what_is_left_out_stands_as_documented(jointed):
    sizes = only(jointed("eyes on a pin")).made.sizes
    assert sizes.heights == pytest.approx((-0.010, 0.010))  # a quarter of 40 mm below and above the middle
    assert (sizes.pin, sizes.wire, sizes.eye, sizes.buried) == pytest.approx((0.002, 0.0013, 0.0025, 0.016))
    assert (sizes.pin_bottom, sizes.pin_top) == pytest.approx((-0.014, 0.014))


def test_eyes_on_a_pin_by_the_torus_and_the_rod(jointed):
    """Each eye: 16 mm in the wood, a round of 2.5 mm inside, and the neck from the face to it, 5 - 1.25 - 1.3 mm."""
    answer = only(jointed("eyes on a pin"))
    wire, area = 1.3 * MM, math.pi / 4 * (1.3 * MM) ** 2
    eye = area * (16.0 + 5.0 - 2.55) * MM + ring(wire, 2.5 * MM)
    pin = math.pi / 4 * (2 * MM) ** 2 * 28 * MM
    assert answer.masses["upper eye"] == pytest.approx(STEEL * eye, rel=1e-9)
    assert answer.masses["pin"] == pytest.approx(STEEL * pin, rel=1e-9)
    assert answer.mass == pytest.approx(STEEL * (2 * eye + pin), rel=1e-9)


def test_plates_with_their_holes(jointed):
    """40/3 mm wide, 16 mm in the wood, 5 mm out to the pin and 3 mm past it, a hole half a millimetre over the pin."""
    answer = only(jointed("plate and pin", material="polycarbonate"))
    wide, hole = 40.0 / 3.0, math.pi / 4 * 2.5**2
    assert answer.masses["lower plate"] == pytest.approx(1200.0 * 1.5 * (wide * 24.0 - hole) * 1e-9, rel=1e-6)


def test_a_strap_in_both_pieces(jointed):
    answer = only(jointed("strap", material="aramid", heights=["0 mm"], tall="20 mm", buried="12 mm"))
    assert list(answer.masses) == ["strap"]
    assert answer.mass == pytest.approx(1440.0 * 0.8 * 20.0 * 26.0 * 1e-9, rel=1e-6)
    assert {(cut.piece, cut.face) for cut in answer.made.cutouts} == {(0, "rear"), (1, "front")}
    assert answer.made.play == 0.0


def test_linked_eyes_each_in_its_cup(jointed):
    """Pivot mid-gap: the far wire of an eye lies 2.5 + 1.3 mm from it, 2.8 mm behind a face 1 mm away."""
    answer = only(jointed("screw eyes", {"pivot": "0 mm"}))
    assert len(answer.made.parts) == 4
    cups = [cut for cut in answer.made.cutouts if cut.is_open]
    assert [cut.depth for cut in cups] == pytest.approx([0.0028] * 4)
    assert cups[0].wide == pytest.approx(0.0025 + 0.0026 + 0.001)
    assert answer.made.play == pytest.approx(0.0012)  # what is inside an eye beside the other's wire


def test_the_pin_stands_where_the_pivot_does(jointed):
    behind, ahead = only(jointed("eyes on a pin")).made, only(jointed("eyes on a pin", {"pivot": "-4 mm"})).made
    assert (behind.holder, behind.carrier, behind.pivot) == (1, 0, pytest.approx(0.064))
    assert (ahead.holder, ahead.carrier, ahead.pivot) == (0, 1, pytest.approx(0.056))
    assert ahead.parts[0].shape.stop[0] == pytest.approx(0.061 + 0.016)
    assert only(jointed("eyes on a pin", {"pivot": "0 mm"})).made.holder is None


def test_a_pins_hole_is_bored_from_the_nearer_skin(jointed):
    low = only(jointed("eyes on a pin", pin_bottom="-19 mm"))
    (hole,) = [cut for cut in low.made.cutouts if "pin" in cut.name]
    assert hole.face == "belly"
    assert hole.mouth == pytest.approx((0.064, 0.0, -0.020))
    assert hole.depth == pytest.approx(0.034)
    assert hole.wide == pytest.approx(0.0022)  # two tenths over the pin: wood swells


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("pivot", ["4 mm", "-5 mm"])
def test_a_slot_lets_the_joint_turn_as_far_as_the_wood_does(jointed, kind, pivot):
    made = only(jointed(kind, {"pivot": "0 mm" if kind == "screw eyes" else pivot})).made
    assert made.turns >= made.swing
    assert made.swing > math.radians(20.0)


@settings(max_examples=60, deadline=None)
@given(neck=st.floats(0.5, 6.0), mouth=st.floats(0.5, 8.0), spare=st.floats(0.3, 6.0))
def test_how_far_a_neck_turns_in_a_slot_against_outlines_turned(neck, mouth, spare):
    """What turns, as a long strip about the pivot, against the wood beside a slot's mouth."""
    out = 0.5 * neck + spare
    corner = math.hypot(out, mouth)
    angle = math.atan2(out, mouth) - math.asin(0.5 * neck / corner)
    strip = box(0.0, -0.5 * neck, 60.0, 0.5 * neck)
    wood = box(mouth - 0.02, out, mouth, 80.0)  # the very edge of the mouth
    below, above = (rotate(strip, math.degrees(angle) + turn, origin=(0, 0)) for turn in (-0.5, 0.5))
    if angle < math.radians(85.0):
        assert not below.intersects(wood)
        assert above.intersects(wood)


def test_how_far_linked_eyes_turn_in_their_cups_against_outlines_turned(jointed):
    made = only(jointed("screw eyes", {"pivot": "0 mm"})).made
    sizes = made.sizes
    rim = box(-1.02, 3.05, -1.0, 30.0)  # of the cup ahead: its face 1 mm from the pivot, 6.1 mm wide
    eye = Point(0.5e3 * sizes.eye, 0.0).buffer(0.5e3 * sizes.eye + 1e3 * sizes.wire, quad_segs=256)
    turned = {way: rotate(eye, math.degrees(made.turns) + way, origin=(0, 0)) for way in (-1.0, 1.0)}
    assert math.radians(30.0) < made.turns < math.radians(90.0)
    assert not turned[-1.0].intersects(rim)
    assert turned[1.0].intersects(rim)


def test_a_hinge_weighs_half_on_each_piece(jointed):
    design = jointed("eyes on a pin")
    lure = assemble(design)
    parts = [item for item in lure.fixed if item.name == "hinge 1"]
    assert [item.segment for item in parts] == [0, 1]
    assert [item.mass for item in parts] == pytest.approx([0.5 * only(design).mass] * 2)


def test_the_water_fills_the_slots(jointed, cylinder):
    """Displacement lost: the slots, less the metal that stands in them and in the gap; wood lost: all that is cut."""
    design = jointed("eyes on a pin")
    made = only(design).made
    bare = design.model_copy(update={"hinges": ()})
    with_hinge, without = (assemble(one).sums() for one in (design, bare))
    slots = [cut for cut in made.cutouts if cut.is_open]
    voids = sum(cut.depth * cut.wide * cut.tall for cut in slots)
    metal = sum(part.bare.volume for part in made.parts)
    assert len(slots) == 2
    assert without.volume - with_hinge.volume == pytest.approx(voids - metal, rel=1e-9)
    wood = voids + sum(lump.volume for lump in made.gone)
    glue = sum(lump.volume for lump in made.glue)
    gained = with_hinge.mass - without.mass
    assert gained == pytest.approx(only(design).mass + 1150.0 * glue - 400.0 * wood, rel=1e-6)


def test_a_hinge_weighed_whole_shares_its_weight(jointed):
    answer = only(jointed("eyes on a pin", weight="3 g"))
    drawn = only(jointed("eyes on a pin"))
    assert answer.mass == pytest.approx(0.003)
    assert answer.masses["pin"] / answer.mass == pytest.approx(drawn.masses["pin"] / drawn.mass)


def test_a_hinge_in_order_has_nothing_to_tell(jointed):
    for kind in PINNED:
        assert told(jointed(kind)) == []
    assert told(jointed("screw eyes", {"pivot": "0 mm"}, eye="2.2 mm")) == []
    assert told(jointed("strap", material="aramid", slot="1.5 mm", heights=["0 mm"])) == []


def test_a_pin_that_misses_its_eye_is_told_with_the_height_it_needs(jointed):
    ((gravity, words),) = told(jointed("eyes on a pin", pin_top="9 mm"))
    assert gravity is Gravity.WRONG
    assert words == ("Hinge 1, 64 mm from the nose, has a pin that misses its upper eye: it ends at a height of 9.0 "
                     "mm, the upper eye lies at 10.0 mm. Give pin_top = 13.0 mm, or move the eye.")  # fmt: skip
    mended = told(jointed("eyes on a pin", pin_top="13.05 mm"))  # 10 mm, half a slot of 2.1 mm, and 2 mm of wood
    assert mended == []
    ((gravity, words),) = told(jointed("eyes on a pin", pin_bottom="-11.5 mm"))
    assert gravity is Gravity.WATCH
    assert "0.45 mm of its pin in the wood past the lower eye's slot" in words
    assert "pin_bottom = -13.0 mm" in words


def test_a_pin_in_the_open_gap_is_told_where_the_pivot_belongs(jointed):
    ((gravity, words),) = told(jointed("plate and pin", {"pivot": "0 mm"}))
    assert gravity is Gravity.WRONG
    assert "has its pin in the open gap, where nothing holds it: the faces are 2.0 mm apart" in words
    assert "Set the joint's pivot 4.0 mm aft" in words  # half a gap, half a pin, 2 mm of wood
    ((gravity, words),) = told(jointed("plate and pin", {"pivot": "3 mm"}))
    assert gravity is Gravity.WATCH
    assert "leaves 1.0 mm of wood between pin and joint face, 2.0 mm wanted" in words
    assert "Move the joint's pivot 1.00 mm aft" in words


@pytest.mark.parametrize(("keys", "gravity", "part"), [
    ({"eye": "1.9 mm"}, Gravity.WRONG, "does not go over its pin: eyes of 1.9 mm inside on a pin of 2.0 mm"),
    ({"eye": "2.1 mm"}, Gravity.WATCH, "binds on its pin"),
    ({"eye": "3.2 mm"}, Gravity.WATCH, "knocks on its pin"),
    ({"slot": "1.2 mm"}, Gravity.WRONG, "does not go into its slot"),
    ({"slot": "1.5 mm"}, Gravity.WATCH, "binds in its slot: 1.3 mm turns in 1.5 mm"),
    ({"slot": "2.9 mm"}, Gravity.WATCH, "which leaves 1.6 mm up and down. Makers leave 0.50 mm to 1.0 mm: slots of "
     "1.8 mm to 2.3 mm"),
])  # fmt: skip
def test_play_that_is_too_little_or_too_much(jointed, keys, gravity, part):
    found = [(how, words) for how, words in told(jointed("eyes on a pin", **keys)) if part in words]
    assert [how for how, _ in found] == [gravity]


def test_a_level_outside_the_body(jointed):
    found = told(jointed("screw eyes", {"pivot": "0 mm"}, eye="2.2 mm", heights=["-10 mm", "21 mm"]))
    assert [gravity for gravity, words in found if "outside the body, which reaches from -20.0 mm to 20.0 mm" in words]


def test_hinges_that_cannot_be_are_refused_all_at_once(cylinder):
    hinge = {"joint": 1, "kind": "eyes on a pin"}
    design = cylinder(120.0, 15.0, 20.0, joint=[{"at": "60 mm", "gap": "2 mm", "pivot": "4 mm"}], hinge=[
        hinge, {**hinge, "joint": 2}, {**hinge, "material": "cheese"}, {**hinge, "joint": 3, "locked_by": "front eye"},
    ])  # fmt: skip
    with pytest.raises(BadDesign) as refusal:
        assemble(design)
    found = {fault.place: fault.words for fault in refusal.value.faults}
    assert set(found) == {"hinge 2.joint", "hinge 3.joint", "hinge 3.material", "hinge 4.joint", "hinge 4.locked_by"}
    assert found["hinge 2.joint"] == "there is no joint 2; the joints are 1 to 1"
    assert found["hinge 3.joint"] == "joint 1 has hinge 1 already; write all its levels there, in heights"
    assert found["hinge 4.locked_by"] == "there is no fitting 'front eye'; there are: none"


def hanger(at, **keys):
    return {"name": "front hanger", "kind": "screw eye", "weight": "0.8 g", "material": "steel", "at": f"{at} mm",
            "wire": "1.6 mm", "shank": "36 mm", **keys}  # fmt: skip


def locked(jointed, at, **keys):
    return jointed("plate and pin", material="polycarbonate", locked_by="front hanger", fitting=[hanger(at, **keys)])


def test_a_hanger_that_locks_both_plates(jointed):
    answer = only(locked(jointed, 52.0))
    assert answer.lock.plates == ("lower plate", "upper plate")
    assert answer.lock.hole == pytest.approx(0.0018)
    assert answer.lock.to_edge == pytest.approx(min(0.5 * 40.0 / 3.0, 52.0 - 43.0) * MM)  # its side is nearer
    assert answer.lock.to_face == pytest.approx((59.0 - 52.0 - 0.8) * MM)
    assert told(locked(jointed, 52.0)) == []


@pytest.mark.parametrize(("at", "keys", "gravity", "part"), [
    (40.0, {}, Gravity.WRONG, "misses hinge 1's plates, which end 16 mm from the joint face. Move it 5.7 mm toward the "
     "tail, or bury 5.7 mm more"),
    (44.0, {}, Gravity.WATCH, "stands 1.0 mm from their edge, 2.7 mm wanted"),
    (57.0, {}, Gravity.WATCH, "leaves 1.2 mm of wood to the face of joint 1, 3.0 mm wanted. Move it 1.8 mm toward the "
     "nose"),
    (63.0, {}, Gravity.WRONG, "is not in the piece that hinge 1's plates are fixed in"),
    (52.0, {"shank": "8 mm"}, Gravity.WRONG, "does not pass through hinge 1's lower plate: it ends at a height of "
     "-12.0 mm, the plate lies at -10.0 mm. A shank of 14 mm"),
    (52.0, {"into": "left", "height": "0 mm"}, Gravity.WRONG, "does not go up or down through hinge 1's plates"),
])  # fmt: skip
def test_a_hanger_that_does_not_lock_well(jointed, at, keys, gravity, part):
    found = [(how, words) for how, words in told(locked(jointed, at, **keys)) if part in words]
    assert [how for how, _ in found] == [gravity]


def test_only_a_plate_can_be_locked(jointed):
    found = told(jointed("eyes on a pin", locked_by="front hanger", fitting=[hanger(52.0)]))
    assert any("it has no plate" in words for _, words in found)


def test_the_demo_has_hinges_in_order():
    design = load(DEMO)
    answer = hinging(design, assemble(design))
    assert answer.findings == ()
    assert [hinge.made.joint for hinge in answer.hinges] == [1, 2, 3]
    assert all(np.isfinite(hinge.mass) for hinge in answer.hinges)
    assert len(answer.cutouts) == 15  # at each: two shanks, two slots, a pin
