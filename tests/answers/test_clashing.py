"""What meets what in the wood: distances on paper, places in millimetres, and moves that do what they say."""

import math
from pathlib import Path

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import ballasting
from gudgeon.answers.buried import buried_hardware
from gudgeon.answers.check import check
from gudgeon.answers.clashing import clashes
from gudgeon.answers.finding import Gravity
from gudgeon.answers.jointing import jointing
from gudgeon.answers.lip_and_fin import lip_and_fin
from gudgeon.answers.overall import overall
from gudgeon.answers.rigging import rigging
from gudgeon.design.file import load, parse
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said

MM = 1e-3
EXAMPLES = Path(__file__).parents[2] / "examples"
CUT = {"at": "60 mm", "gap": "2 mm", "pivot": "4 mm"}
HINGE = {"joint": 1, "kind": "eyes on a pin", "heights": ["-10 mm", "10 mm"], "wire": "2 mm", "eye": "2.5 mm",
         "buried": "15 mm", "slot": "2.8 mm", "pin": "2 mm"}  # fmt: skip


@pytest.fixture
def bar(cylinder):
    """A bar 30 mm wide and 40 mm deep, cut at 60 mm, hinged by two eyes on a pin unless said otherwise."""

    def make(hinge=HINGE, joint=CUT, **tables):
        return cylinder(120.0, 15.0, 20.0, joint=[joint] if joint else [], hinge=[hinge] if hinge else [], **tables)

    return make


def pocket(at, bore=8.0, holds=3.0, **keys):
    return {"name": "one", "at": f"{at} mm", "bore": f"{bore} mm", "holds": f"{holds} g", "free": False, **keys}


def eye(at, name="hanger", **keys):
    return {"name": name, "kind": "screw eye", "weight": "0.8 g", "material": "steel", "at": f"{at} mm",
            "wire": "2 mm", "shank": "14 mm", **keys}  # fmt: skip


def met(design):
    return clashes(design, assemble(design), ())


def between(design, what, to):
    (found,) = [clash for clash in met(design) if (clash.what, clash.to) == (what, to)]
    return found


def words_of(design):
    return [said(clash.finding, Shop.METRIC) for clash in met(design)]


def test_what_has_room_is_not_told(bar):
    assert met(bar(pocket=[pocket(30.0)], fitting=[eye(15.0)])) == ()


def test_a_bore_beside_an_eyes_shank(bar):
    """The shank ends 44 mm from the nose; the bore's edge at 42.5 + 4 mm is past it, but 10 mm deep it stays below."""
    design = bar(pocket=[pocket(39.0, depth="12 mm")])  # from -20 up to -8: past the lower shank at -10
    clash = between(design, "the one bore", "hinge 1's lower eye")
    assert clash.distance == pytest.approx(44.0 * MM - 43.0 * MM, abs=2e-5)
    assert clash.is_ballast
    x, y, z = clash.place
    assert (x, y) == (pytest.approx(43.5 * MM, abs=1e-4), pytest.approx(0.0, abs=1e-3))
    assert -11.0 * MM <= z <= -9.0 * MM


def test_a_bore_that_meets_a_hinges_slot_is_told_with_place_and_move(bar):
    """The slot runs from 61 to 68.3 mm; a bore of 8 mm at 70 mm starts at 66."""
    design = bar(pocket=[pocket(70.0, depth="14 mm")])
    clash = between(design, "the one bore", "hinge 1's lower slot")
    assert clash.distance < 0.0
    finding = clash.finding
    assert finding.gravity is Gravity.WRONG
    words = said(finding, Shop.METRIC)
    assert words.startswith("The one bore meets hinge 1's lower slot by ")
    assert "mm from the nose at a height of -" in words
    slot_end = 60.0 + 4.0 + 1.25 + 2.0 + 0.5  # pivot, half the eye's inside, its wire, and slack
    by = slot_end + 2.0 + 4.0 - 70.0
    assert clash.by / MM == pytest.approx(by, abs=0.05)
    assert f"Move the one bore {by:.1f} mm toward the tail" in words


@pytest.mark.parametrize("at", [64.0, 66.0, 70.0])
def test_a_bore_moved_as_told_is_clear(bar, at):
    for clash in met(bar(pocket=[pocket(at, depth="14 mm")])):
        if clash.what != "the one bore" or "{by}" not in clash.mend:
            continue
        aft = "toward the tail" in clash.mend
        moved = bar(pocket=[pocket(at + (1e3 * clash.by + 0.02) * (1.0 if aft else -1.0), depth="14 mm")])
        left = [other.distance for other in met(moved) if (other.what, other.to) == (clash.what, clash.to)]
        assert not left


def test_two_hangers_side_by_side(bar):
    design = bar(fitting=[eye(20.0, "front eye"), eye(23.0, "spare eye")])
    clash = between(design, "the front eye", "the spare eye")
    assert clash.distance == pytest.approx(3.0 * MM - 2.0 * MM, abs=1e-6)
    assert not clash.is_ballast
    assert (clash.wanted, clash.by) == (pytest.approx(2.0 * MM), pytest.approx(1.0 * MM, abs=2e-5))


def test_a_hanger_may_pass_through_the_plate_it_locks(bar):
    plates = {"joint": 1, "kind": "plate and pin", "material": "polycarbonate", "heights": ["-10 mm"], "slot": "2.3 mm"}
    through = eye(50.0, shank="24 mm")
    assert met(bar({**plates, "locked_by": "hanger"}, fitting=[through])) == ()
    clash = between(bar(plates, fitting=[through]), "the hanger", "hinge 1's plate")
    assert clash.distance < 0.0


def test_parts_of_one_hinge_may_touch(bar):
    assert met(bar()) == ()


def test_a_shank_that_comes_out_of_the_back_is_told_by_how_much(bar):
    through = between(bar(fitting=[eye(20.0, shank="42 mm")]), "the hanger", "the skin")
    assert through.distance == pytest.approx(-2.0 * MM, abs=0.15 * MM)  # beside the middle the skin is lower
    assert through.mend == "A shank {by} shorter"
    assert through.place[2] == pytest.approx(0.022)
    left = between(bar(fitting=[eye(20.0, shank="39 mm")]), "the hanger", "the skin")
    assert 0.0 < left.distance < 1.05 * MM
    assert left.finding.gravity is Gravity.WATCH


def test_a_pin_too_near_the_skin(bar):
    clash = between(bar({**HINGE, "pin_top": "19 mm"}), "hinge 1's pin", "the skin")
    edge = 20.0 * math.sqrt(1.0 - (1.0 / 15.0) ** 2) - 19.0
    assert clash.distance == pytest.approx(edge * MM, abs=2e-5)
    assert "shorter at that end" in clash.mend


def test_an_eye_at_the_edge_of_the_body(bar):
    clash = between(bar({**HINGE, "heights": ["-18.2 mm", "10 mm"], "pin_bottom": "-19.5 mm"}),
                    "hinge 1's lower eye", "the skin")  # fmt: skip
    assert clash.distance == pytest.approx(0.8 * MM, abs=0.05 * MM)  # 20 - 18.2, less half a wire


def test_a_shank_that_runs_into_the_far_joint(cylinder):
    """Eyes 20 mm deep in a piece of 22: 2 mm short of the next face, where 20.5 mm leave 1.5."""
    cuts = [{**CUT, "at": "40 mm", "pivot": "-4 mm"}, {**CUT, "at": "64 mm"}]
    design = cylinder(120.0, 15.0, 20.0, joint=cuts, hinge=[{**HINGE, "buried": "20.5 mm"}])
    clash = between(design, "hinge 1's lower eye", "the face of joint 2")
    assert clash.distance == pytest.approx(63.0 * MM - 61.5 * MM, abs=1e-9)
    assert clash.mend == "Bury it {by} less"


def test_a_vee_leaves_less_wood_beside_the_middle(bar):
    """A hanger 3 mm aside, 5 mm from a face of 30 deg: square to it (5 - 3 tan 30 deg) cos 30 deg, less half a wire."""
    vee = {**CUT, "front_bevel": "30 deg"}
    clash = between(bar(None, vee, fitting=[eye(54.0, offset="3 mm")]), "the hanger", "the face of joint 1")
    slope = math.radians(30.0)
    assert clash.distance / MM == pytest.approx((5.0 - 3.0 * math.tan(slope)) * math.cos(slope) - 1.0, abs=1e-6)
    assert "Move it {by} toward the nose" in clash.mend


def test_lip_slot_and_fin_slot_are_in_the_way(cylinder):
    lip = {"material": "polycarbonate", "exposed": "20 mm", "set_in": "20 mm", "width": "16 mm", "thickness": "2 mm",
           "angle": "20 deg", "at": "10 mm", "height": "-14 mm"}  # fmt: skip
    fin = {"material": "polycarbonate", "length": "30 mm", "tall": "30 mm", "thickness": "1 mm", "at": "120 mm",
           "set_in": "12 mm"}  # fmt: skip
    design = cylinder(120.0, 15.0, 20.0, lip=lip, fin=fin, pocket=[
        pocket(22.0, depth="12 mm"), pocket(112.0, depth="14 mm") | {"name": "two"}])  # fmt: skip
    assert between(design, "the one bore", "the lip's slot").distance < 0.0
    assert between(design, "the two bore", "the fin's slot").distance < 0.0


LIP = {"material": "polycarbonate", "exposed": "20 mm", "set_in": "14 mm", "width": "24 mm", "thickness": "2 mm",
       "angle": "45 deg", "at": "10 mm", "height": "-20 mm"}  # fmt: skip
TOW = {"name": "tow eye", "kind": "tow eye", "weight": "1 g", "material": "steel", "at": "0 mm", "height": "-13 mm",
       "wire": "2 mm"}  # fmt: skip


def findings_of(design):
    return [(clash.finding.gravity, said(clash.finding, Shop.METRIC)) for clash in met(design)]


def test_a_shank_that_runs_into_the_lips_slot(cylinder):
    """The lip's upper face passes the shank's height at 10 + (20 - 13) = 17 mm from the nose."""
    assert met(cylinder(120.0, 15.0, 20.0, lip=LIP, fitting=[{**TOW, "shank": "12 mm"}])) == ()
    long = cylinder(120.0, 15.0, 20.0, lip=LIP, fitting=[{**TOW, "shank": "22 mm"}])
    clash = between(long, "the tow eye", "the lip's slot")
    assert clash.distance < 0.0
    assert 15.0 * MM < clash.place[0] < 20.0 * MM
    ((gravity, words),) = findings_of(long)
    assert gravity is Gravity.WRONG
    assert words.startswith("The tow eye meets the lip's slot by ")
    assert "Move the tow eye" in words
    near = cylinder(120.0, 15.0, 20.0, lip=LIP, fitting=[{**TOW, "shank": "15 mm"}])
    ((gravity, words),) = findings_of(near)
    assert gravity is Gravity.WATCH
    # from the shank's upper or lower edge at its tip to the slot's upper face, square to it
    assert between(near, "the tow eye", "the lip's slot").distance / MM == pytest.approx(
        (17.0 - 15.0) * math.sqrt(0.5) - 1.0 * math.sqrt(0.5), abs=0.02)  # fmt: skip


def test_a_shank_that_is_not_told_is_told_how_long_it_may_be(cylinder):
    design = cylinder(120.0, 15.0, 20.0, lip=LIP, fitting=[TOW])
    (clash,) = met(design)
    assert clash.most / MM == pytest.approx(17.0 - 1.0, abs=0.26)  # its edge is 1 mm nearer along the face; in steps
    ((gravity, words),) = findings_of(design)
    assert gravity is Gravity.WATCH
    assert words.startswith(f"A shank of more than {1e3 * clash.most:.1f} mm behind the tow eye meets the lip's slot, ")
    assert met(cylinder(120.0, 15.0, 20.0, lip={**LIP, "at": "30 mm"}, fitting=[TOW])) == ()


def test_a_shank_that_is_not_told_and_meets_something_already_is_told_once(cylinder):
    close = cylinder(120.0, 15.0, 20.0, lip={**LIP, "at": "2 mm"}, fitting=[TOW])
    (clash,) = met(close)
    assert clash.most is None
    assert clash.distance < 0.0


def test_a_bore_in_the_lips_slot_is_told_and_one_beside_it_is_not(cylinder):
    told = findings_of(cylinder(120.0, 15.0, 20.0, lip=LIP, pocket=[pocket(16.0, bore=6.0)]))
    ((gravity, words),) = told
    assert gravity is Gravity.WRONG
    assert words.startswith("The one bore meets the lip's slot by ")
    assert "Move the one bore" in words
    assert met(cylinder(120.0, 15.0, 20.0, lip=LIP, pocket=[pocket(40.0, bore=6.0)])) == ()


@pytest.mark.parametrize("sunk", [3.0, -3.0])
def test_a_lips_slot_reaches_to_where_the_lip_really_leaves_the_wood(cylinder, sunk):
    """Drawn 3 mm up in the wood it goes on to the skin; drawn 3 mm below, it begins there."""
    lip = {**LIP, "at": "40 mm", "height": f"{-20 + sunk} mm"}
    out = 40.0 - sunk  # where the upper face meets the belly, up its slope of 1 in 1
    slot = next(one for one in buried_hardware(cylinder(120.0, 15.0, 20.0, lip=lip),
                                               assemble(cylinder(120.0, 15.0, 20.0, lip=lip)), ()))  # fmt: skip
    mouth = slot.shape.centre - slot.shape.halves[0] * slot.shape.axes[0] + slot.shape.halves[2] * slot.shape.axes[2]
    assert mouth / MM == pytest.approx([out, 0.0, -20.0], abs=1e-3)


def test_a_lip_that_is_nowhere_in_the_wood_has_no_slot_to_meet(cylinder):
    lip = {**LIP, "height": "-60 mm", "exposed": "10 mm"}
    assert met(cylinder(120.0, 15.0, 20.0, lip=lip, fitting=[{**TOW, "shank": "20 mm"}])) == ()


@pytest.mark.parametrize("table", ["lip", "check"])
def test_what_a_lips_slot_meets_is_told_once(cylinder, table):
    """By the clashes alone: lip and fin tell only what is wrong with the slot in the body."""
    design = cylinder(120.0, 15.0, 20.0, lip=LIP, fitting=[{**TOW, "shank": "22 mm"}],
                      pocket=[pocket(16.0, bore=6.0)])  # fmt: skip
    if table == "lip":
        words = [said(finding, Shop.METRIC) for finding in lip_and_fin(design, assemble(design)).findings]
        assert not any("meets" in line for line in words)
        return
    words = [said(finding, Shop.METRIC) for finding in overall(design).findings]
    assert sum("lip's slot" in line and "tow eye" in line.lower() for line in words) == 1
    assert sum("lip's slot" in line and "one bore" in line for line in words) == 1


@pytest.mark.parametrize(("at", "way", "face"), [(57.0, -1.0, 59.0), (63.0, 1.0, 61.0)])
def test_an_eye_of_a_hinge_with_no_more_than_its_height_lies_along_the_body(bar, at, way, face):
    """12 mm of shank from the joint's face on: a bore of 8 mm round its middle meets it, one past its tip does not."""
    hinge_eye = eye(at, "hinge eye", height="2 mm", shank=None)
    hinge_eye.pop("shank")
    design = bar(None, fitting=[hinge_eye], pocket=[pocket(face + way * 6.0, depth="25 mm")])
    clash = between(design, "the one bore", "the hinge eye")
    assert clash.distance < 0.0
    far = bar(None, fitting=[hinge_eye], pocket=[pocket(face + way * 19.0, depth="25 mm")])
    (clash,) = met(far)
    assert (clash.what, clash.most) == ("the hinge eye", pytest.approx(15.0 * MM, abs=0.3 * MM))


def test_an_eye_in_the_gap_stands_for_one_in_either_face(bar):
    hinge_eye = eye(60.0, "hinge eyes", height="2 mm")
    hinge_eye.pop("shank")
    for at in (52.0, 68.0):
        design = bar(None, fitting=[hinge_eye], pocket=[pocket(at, depth="25 mm")])
        assert between(design, "the one bore", "the hinge eyes").distance < 0.0


def test_an_eye_bent_of_wire_is_two_strands_wide(bar):
    """A plain wire eye of which nothing is said of its shank: glued in twisted, a hole of two wires."""
    apart = {}
    for kind in ("eye", "screw eye"):
        wire = {**eye(20.0, "wire eye"), "kind": kind}
        (clash,) = met(bar(None, None, fitting=[wire, eye(23.0, "b")]))
        apart[kind] = clash.distance
    assert apart["screw eye"] - apart["eye"] == pytest.approx(1.0 * MM, abs=1e-6)


def test_a_harness_is_in_the_way_of_bores_but_not_of_its_hangers(cylinder):
    harness = {"wire": "1.6 mm", "height": "0 mm"}
    tow = {"name": "nose eye", "kind": "tow eye", "weight": "1 g", "material": "steel", "at": "1 mm", "shank": "12 mm"}
    fittings = [tow, eye(90.0, shank="21 mm")]
    found = met(cylinder(120.0, 15.0, 20.0, harness=harness, fitting=fittings, pocket=[pocket(40.0, depth="25 mm")]))
    assert [(clash.what, clash.to) for clash in found] == [("the one bore", "the harness's channel")]
    assert found[0].place[0] == pytest.approx(0.040, abs=0.004)
    above = {**harness, "height": "12 mm"}
    assert met(cylinder(120.0, 15.0, 20.0, harness=above, fitting=fittings[:1], pocket=[pocket(40.0, depth="25 mm")])
               ) == ()  # fmt: skip


def test_the_worst_is_told_first(bar):
    found = met(bar(fitting=[eye(20.0, "a"), eye(23.0, "b"), eye(30.0, "c", shank="42 mm")]))
    short = [clash.distance - clash.wanted for clash in found]
    assert short == sorted(short)
    assert len(found) == 2


def test_a_name_with_braces_is_told_as_written(bar):
    assert any("{odd} eye" in words for words in words_of(bar(fitting=[eye(20.0, "{odd} eye"), eye(23.0, "b")])))


FAULTY = {
    # a ballast bore 93 mm from the nose, where hinge 1 turns in its slots
    'name = "shoulder"\nat = "107 mm"': 'name = "shoulder"\nat = "93 mm"',
    # the rear hook hung 60 mm behind the front one
    'at = "178 mm"\nshank = "33 mm"': 'at = "128 mm"\nshank = "33 mm"',
    # a knuckle of 24 mm radius where the body is 13 mm from middle to skin
    'at = "144 mm"                    # 60 %\ngap = "2 mm"':
        'at = "144 mm"\ngap = "2 mm"\nface = "knuckle"\nradius = "24 mm"',
    # a pin that ends below the upper eye of hinge 3
    'pin_top = "7.5 mm"': 'pin_top = "3 mm"',
}  # fmt: skip


@pytest.fixture(scope="module")
def faulty():
    """The demo with a bore in a hinge's slot, a hook that reaches the next, a knuckle too wide, a pin too short."""
    text = (EXAMPLES / "lanternmere.toml").read_text(encoding="utf-8")
    for given, wrong in FAULTY.items():
        assert text.count(given) == 1, given
        text = text.replace(given, wrong)
    return parse(text)


def test_every_fault_of_a_faulty_lure_is_told_with_its_place_and_what_to_move(faulty):
    lure = assemble(faulty)
    ballast = ballasting(faulty, lure)
    answer = rigging(faulty, ballast.lure, ballast.pockets)
    found = [(finding.gravity, said(finding, Shop.METRIC))
             for finding in (*answer.findings, *jointing(faulty, lure).findings)]  # fmt: skip

    def one(*parts):
        (hit,) = [(gravity, words) for gravity, words in found if all(part in words for part in parts)]
        return hit

    gravity, words = one("The shoulder bore meets hinge 1's lower slot")
    assert gravity is Gravity.WRONG
    assert "mm from the nose at a height of -" in words
    assert "Move the shoulder bore" in words
    assert "mm toward the tail, or use a smaller bit" in words
    gravity, words = one("The front hook, 68 mm from the nose, can catch the rear hook at 128 mm")
    assert gravity is Gravity.WRONG
    assert "too close. Move one of them by as much" in words
    gravity, words = one("has a knuckle of radius 24.0 mm that breaks the skin of the shoulder")
    assert gravity is Gravity.WATCH
    assert "mm from the nose, where its round ends" in words
    gravity, words = one("has a pin that misses its upper eye")
    assert gravity is Gravity.WRONG
    assert "Hinge 3, 198 mm from the nose," in words
    assert "Give pin_top = 7.1 mm" in words  # 4 mm, half a slot of 2.1 mm, and 2 mm of wood


def test_a_check_tells_a_bore_that_meets_a_slot_with_its_place(faulty):
    words = [said(finding, Shop.METRIC) for finding in check(faulty).findings]
    (told,) = [line for line in words if line.startswith("The shoulder bore meets hinge 1's lower slot")]
    assert "mm from the nose at a height of -" in told
    assert "Move the shoulder bore" in told


@pytest.mark.parametrize("name", ["lanternmere", "diver", "glider", "glider-weighed"])
def test_nothing_meets_in_the_examples(name):
    design = load(EXAMPLES / f"{name}.toml")
    ballast = ballasting(design, assemble(design))
    assert clashes(design, ballast.lure, ballast.pockets) == ()


# --- advice that can be followed ---

WIRE = {"harness": {"wire": "1.3 mm"}, "fitting": [eye(10.0, "nose loop", height="0 mm"),
                                                   eye(110.0, "tail loop", height="0 mm")]}  # fmt: skip


@pytest.mark.parametrize("deep", [18.0, 26.0])
def test_a_bore_under_a_harness_is_not_moved_out_of_its_piece_but_the_wire_raised(cylinder, deep):
    """The bore from -20 mm up to deep - 20; the channel of 2.6 mm about the middle."""
    design = cylinder(120.0, 15.0, 20.0, pocket=[pocket(60.0, depth=f"{deep} mm")], **WIRE)
    clash = between(design, "the one bore", "the harness's channel")
    by = (deep - 20.0) + 2.0 + 1.3
    assert clash.by == pytest.approx(by * MM, abs=5e-5)
    assert clash.mend == "Raise the harness by {by}, or make the one bore as much shallower"
    for wire, depth in ((clash.by + 2e-5, deep), (0.0, deep - 1e3 * clash.by - 0.02)):
        mended = {**WIRE, "harness": {"wire": "1.3 mm", "height": f"{1e3 * wire} mm"}}
        again = cylinder(120.0, 15.0, 20.0, pocket=[pocket(60.0, depth=f"{depth} mm")], **mended)
        assert not [one for one in met(again) if "the harness's channel" in (one.what, one.to)]


def test_a_slot_from_the_belly_sends_the_bore_to_the_back(cylinder):
    slot = {**WIRE, "harness": {"wire": "1.3 mm", "runs": "slot from the belly"}}
    clash = between(cylinder(120.0, 15.0, 20.0, pocket=[pocket(60.0)], **slot), "the one bore", "the harness's channel")
    assert clash.mend.startswith("Drill the one bore in from the back")
    back = cylinder(120.0, 15.0, 20.0, pocket=[pocket(60.0, face="back")], **slot)
    assert not [one for one in met(back) if "the harness's channel" in (one.what, one.to)]


def test_a_move_past_a_joint_or_the_nose_is_not_told(cylinder):
    """A bore of 12 mm in a piece of 29, beside a hanger's shank in its middle: no room to either side."""
    cuts = [{**CUT, "at": "40 mm"}, {**CUT, "at": "71 mm"}]
    tables = {"joint": cuts, "fitting": [eye(55.5)]}
    wide, narrow = (between(cylinder(120.0, 15.0, 20.0, pocket=[pocket(54.0, bore=bore)], **tables), "the one bore",
                            "the hanger") for bore in (16.0, 4.0))  # fmt: skip
    assert wide.mend == "Use a smaller bit, or drill the one bore less deep"
    assert narrow.mend.startswith("Move the one bore {by} toward the nose")
