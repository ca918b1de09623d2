"""Holes and slots as hidden lines: where they lie on paper, and on a layer of their own in the files."""

import io
import math
import xml.etree.ElementTree as ET

import ezdxf
import numpy as np
import pytest

from gudgeon.answers.check import check
from gudgeon.answers.papers import papers
from gudgeon.design.model import Design
from gudgeon.report.exchange import exported
from gudgeon.report.hidden_cuts import SIDE, TOP, cuts_in_section, hidden_cuts, wooden
from gudgeon.report.rows import Shop
from gudgeon.report.strokes import Line

LAYER = "holes-and-slots"
HINGE = {"joint": 1, "kind": "eyes on a pin", "heights": ["-10 mm", "10 mm"], "wire": "1.5 mm", "eye": "2.5 mm",
         "buried": "15 mm", "slot": "2.3 mm", "pin": "2 mm"}  # fmt: skip


def bar(**tables):
    """Checked: 120 mm long, 30 mm wide, 40 mm deep, oval all along, no finish."""
    body = {"name": "bar", "length": "120 mm", "wood": {"density": "0.4 g/cm3"}, "aim": {"does": "hangs"},
            "water": {"temperature": "20 C"}, "outline": {"back": ["0 mm: 20 mm", "120 mm: 20 mm"],
                                                          "side": ["0 mm: 15 mm", "120 mm: 15 mm"]}}  # fmt: skip
    return check(Design.model_validate({**body, **tables}))


def seen(answer, plane):
    return [stroke.points for stroke in hidden_cuts(wooden(papers(answer)), plane)]


def is_there(lines, corners, within=1e-3):
    """Whether one of the lines has these corners, from either end."""
    wanted = np.array(corners, dtype=float)
    return any(len(line) == len(wanted) and min(np.abs(line - wanted).max(), np.abs(line[::-1] - wanted).max()) < within
               for line in lines)  # fmt: skip


JOINT = {"at": "60 mm", "gap": "2 mm", "pivot": "4 mm"}


def test_a_hinges_cuts_from_the_side_and_from_above():
    """Shanks of 1 mm pilots 15 mm deep from 59; slots from 61 to the eye's far side and slack: 64 + 1.25 + 1.5 + .5."""
    answer = bar(joint=[JOINT], hinge=[HINGE])
    side, top = seen(answer, SIDE), seen(answer, TOP)
    for z in (-10.0, 10.0):
        assert is_there(side, [(59, z - 0.5), (44, z - 0.5), (44, z + 0.5), (59, z + 0.5)])
        assert is_there(side, [(61, z - 1.15), (67.25, z - 1.15), (67.25, z + 1.15), (61, z + 1.15)])
    half = next(line for line in top if len(line) == 4 and np.ptp(line[:, 0]) == pytest.approx(6.25, abs=1e-3))[0, 1]
    assert is_there(top, [(61, half), (67.25, half), (67.25, -half), (61, -half)])
    assert len(side) == 5
    assert len(top) == 3  # both levels lie over each other


def test_a_pins_bore_runs_from_the_skin_and_is_a_ring_from_above():
    answer = bar(joint=[JOINT], hinge=[HINGE])
    (ring,) = [line for line in seen(answer, TOP) if len(line) == 48]
    assert ring.mean(axis=0) == pytest.approx([64.0, 0.0], abs=1e-9)
    assert np.hypot(*(ring - ring.mean(axis=0)).T) == pytest.approx(np.full(48, 1.1))
    assert is_there(seen(answer, SIDE), [(62.9, 20), (62.9, -14), (65.1, -14), (65.1, 20)])


@pytest.mark.parametrize("carries", ["front", "rear"])
def test_walls_begin_where_each_kind_of_face_is(carries):
    """In a knuckle at the round's own station there; in its socket at the furthest that the slot's edges stand out."""
    joint = {**JOINT, "face": "knuckle", "radius": "12 mm", "carries": carries, "pivot": None}
    straps = {"joint": 1, "kind": "strap", "heights": ["0 mm"], "material": "polycarbonate", "tall": "12 mm",
              "buried": "16 mm", "slot": "6 mm"}  # fmt: skip
    answer = bar(joint=[{key: value for key, value in joint.items() if value}], hinge=[straps])
    way = 1.0 if carries == "front" else -1.0
    tip, seat = 60.0 - way, 60.0 + way
    knuckle = tip - way * (12.0 - math.sqrt(144.0 - 9.0))
    socket = seat - way * (14.0 - math.sqrt(196.0 - 9.0))
    side, top = seen(answer, SIDE), seen(answer, TOP)
    assert is_there(top, [(knuckle, -3), (tip - 16 * way, -3), (tip - 16 * way, 3), (knuckle, 3)])
    assert is_there(top, [(socket, -3), (seat + 16 * way, -3), (seat + 16 * way, 3), (socket, 3)])
    assert is_there(side, [(tip, -6), (tip - 16 * way, -6), (tip - 16 * way, 6), (tip, 6)])
    assert is_there(side, [(socket, -6), (seat + 16 * way, -6), (seat + 16 * way, 6), (socket, 6)], 1e-2)


def test_a_slot_right_across_ends_at_the_skin():
    plates = {"joint": 1, "kind": "plate and pin", "material": "polycarbonate", "heights": ["0 mm"], "tall": "27 mm"}
    top = seen(bar(joint=[JOINT], hinge=[plates]), TOP)
    across = [line for line in top if len(line) == 2]
    assert len(across) == 1
    assert across[0][:, 0] == pytest.approx(np.full(2, across[0][0, 0]))
    assert sorted(across[0][:, 1]) == pytest.approx([-15.0, 15.0], abs=1e-6)


def eye(at, **keys):
    return {"name": f"eye {at}", "kind": "screw eye", "weight": "0.8 g", "material": "steel", "at": f"{at} mm",
            "wire": "3 mm", "shank": "14 mm", **keys}  # fmt: skip


def test_an_eyes_bore_from_belly_side_or_end():
    answer = bar(fitting=[eye(40.0), eye(60.0, into="left", height="4 mm"), eye(120.0, into="rear", height="2 mm")])
    side, top = seen(answer, SIDE), seen(answer, TOP)
    assert is_there(side, [(39, -20), (39, -6), (41, -6), (41, -20)])
    out = 15.0 * math.sqrt(1.0 - (4.0 / 20.0) ** 2)
    assert is_there(top, [(59, -out), (59, 14 - out), (61, 14 - out), (61, -out)])
    assert is_there(side, [(120, 1), (106, 1), (106, 3), (120, 3)])
    assert sum(len(line) == 48 for line in side) == 1
    assert sum(len(line) == 48 for line in top) == 1


def test_a_harness_in_sections_and_from_the_side():
    hung = [eye(10.0), eye(90.0)]
    bored = bar(fitting=hung, harness={"wire": "2 mm", "height": "3 mm"})
    assert is_there(seen(bored, SIDE), [(0, 1), (90, 1), (90, 5), (0, 5)])
    (ring,) = [stroke.points for stroke in cuts_in_section(wooden(papers(bored)), 0.05)]
    assert ring.mean(axis=0) == pytest.approx([0.0, 3.0], abs=1e-9)
    slotted = bar(fitting=hung, harness={"wire": "2 mm", "height": "3 mm", "runs": "slot from the belly"})
    skin = -20.0 * math.sqrt(1.0 - (2.0 / 15.0) ** 2)
    (slot,) = [stroke.points for stroke in cuts_in_section(wooden(papers(slotted)), 0.05)]
    assert is_there([slot], [(-2, skin), (-2, 5), (2, 5), (2, skin)])


def test_a_section_cuts_a_bore_by_its_chord():
    answer = bar(fitting=[eye(40.0)])
    (line,) = [stroke.points for stroke in cuts_in_section(wooden(papers(answer)), 0.0406)]
    assert line[1:3] == pytest.approx(np.array([(-0.8, -6.0), (0.8, -6.0)]), abs=1e-6)
    assert cuts_in_section(wooden(papers(answer)), 0.0411) == ()


def test_they_stand_on_their_own_layer_of_both_files():
    answer = bar(joint=[JOINT], hinge=[HINGE], fitting=[eye(30.0)], pocket=[
        {"name": "one", "at": "45 mm", "bore": "8 mm", "holds": "2 g", "free": False}])  # fmt: skip
    content = {kind: exported(answer, kind, stamp="0badcafe", finished=False, piece="", shop=Shop.METRIC).content
               for kind in ("svg", "dxf")}  # fmt: skip
    groups = {group.get("id"): group for group in ET.fromstring(content["svg"]).iter("{http://www.w3.org/2000/svg}g")}
    assert len(list(groups[f"side-{LAYER}"])) == 6
    assert groups[f"side-{LAYER}"].get("stroke-dasharray") == "3 1"
    drawing = ezdxf.read(io.StringIO(content["dxf"].decode()))
    assert drawing.layers.get(LAYER).dxf.linetype == LAYER
    own = [entity for entity in drawing.modelspace() if entity.dxf.layer == LAYER]
    rings = sorted(entity.dxf.radius for entity in own if entity.dxftype() == "CIRCLE")
    assert rings[-2:] == pytest.approx([1.0, 1.1])  # the eye's pilot, the pin
    assert max(rings) < 4.0  # the ballast's bore is hidden on the layer it always was
    assert Line.HOLES.dashes == Line.HIDDEN.dashes
