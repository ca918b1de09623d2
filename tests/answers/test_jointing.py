"""Joints of a drawn lure: swing, changes that do what they say, and findings with place and mend."""

import math
from pathlib import Path

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.finding import Gravity
from gudgeon.answers.jointing import TRUING, jointing, wanted_swing
from gudgeon.design.file import load
from gudgeon.design.hardware import Lip
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said

EXAMPLE = Path(__file__).parents[2] / "examples" / "lanternmere.toml"
DEG = math.pi / 180.0


@pytest.fixture(scope="module")
def design():
    return load(EXAMPLE)


def with_joint(design, place=0, **changes):
    joints = list(design.joints)
    joints[place] = joints[place].model_copy(update=changes)
    return design.model_copy(update={"joints": tuple(joints)})


def asked(design):
    return jointing(design, assemble(design))


def words(answer):
    return [said(finding, Shop.METRIC) for finding in answer.findings]


def found(answer, part):
    """The one finding whose words hold a part."""
    (finding,) = [finding for finding in answer.findings if part in said(finding, Shop.METRIC)]
    return finding, said(finding, Shop.METRIC)


def test_every_joint_has_its_answer(design):
    answer = asked(design)
    assert [joint.number for joint in answer.joints] == [1, 2, 3]
    assert answer.joints[1].pieces == ("shoulder", "waist")
    assert all(joint.bare.angle > joint.finished.angle for joint in answer.joints)
    sloped = sum(0.46e-3 / math.cos(math.radians(bevel)) for bevel in (10.0, 12.0))  # coats lie square to a face
    assert all(joint.bare_gap == pytest.approx(2e-3 + sloped) for joint in answer.joints)
    assert answer.joints[0].place[0] < 0.085  # on the face ahead, in millimetres from the nose
    assert answer.joints[0].meets == "the corner of the shoulder meets the face of the head"


def test_findings_come_worst_first(design):
    gravities = [finding.gravity for finding in asked(with_joint(design, face="knuckle")).findings]
    assert gravities == sorted(gravities, reverse=True)


@pytest.mark.parametrize("wanted", [15, 20, 35, 45])
def test_the_gap_and_the_bevels_told_give_the_swing_asked_for(design, wanted):
    joint = asked(with_joint(design, swing=wanted * DEG)).joints[0]
    ways = []
    if joint.gap_for is not None:
        ways.append({"gap": joint.gap_for})
    if joint.bevels_for is not None:
        ways.append({"front_bevel": joint.bevels_for.front, "rear_bevel": joint.bevels_for.rear})
    assert ways
    for way in ways:
        again = asked(with_joint(design, swing=wanted * DEG, **way)).joints[0]
        assert math.degrees(again.finished.angle) == pytest.approx(wanted, abs=0.1)
        assert again.gap_for is None


def test_too_little_swing_is_wrong_when_it_was_asked_for(design):
    finding, told = found(asked(with_joint(design, swing=45 * DEG)), "45° is asked for")
    assert finding.gravity is Gravity.WRONG
    assert told.startswith("Joint 1, 86 mm from the nose, turns 29° to each side")
    assert "would do it" in told


def test_a_swing_as_asked_for_is_not_spoken_of(design):
    swing = asked(design).joints[0].finished.angle
    assert not [line for line in words(asked(with_joint(design, swing=swing))) if line.startswith("Joint 1")]


def test_habits_go_by_the_number_of_pieces(design):
    def habit(count, lip=None):
        fewer = design.model_copy(update={"joints": design.joints[:count], "lip": lip, "segments": None})
        wanted = wanted_swing(fewer, fewer.joints[0])
        return round(math.degrees(wanted.low)), round(math.degrees(wanted.high))

    lip = Lip.model_construct()
    assert [habit(1), habit(2), habit(3), habit(1, lip)] == [(35, 50), (25, 35), (18, 28), (25, 40)]


def test_a_knuckle_with_its_pivot_elsewhere_is_told_where_it_belongs(design):
    answer = asked(with_joint(design, face="knuckle", radius=0.015, pivot=0.0))
    even = answer.joints[0].even
    assert even.pivot == pytest.approx(-0.016)
    finding, told = found(answer, "of the knuckle's centre, so")
    assert finding.gravity is Gravity.WRONG
    assert "16.0 mm aft of the knuckle's centre" in told
    assert "Put the pivot 16.0 mm ahead of the middle of the gap, within 0.30 mm" in told
    mended = asked(with_joint(design, face="knuckle", radius=0.015, pivot=None))  # in the centre when left out
    assert not [line for line in words(mended) if "knuckle's centre, so" in line]
    assert mended.joints[0].even.least == pytest.approx(mended.joints[0].even.most) == pytest.approx(0.002)
    assert mended.joints[0].finished.angle == pytest.approx(even.swing.angle)


def test_a_knuckles_gap_is_uneven_by_how_far_its_pivot_is_off(design):
    joint = asked(with_joint(design, face="knuckle", radius=0.015, pivot=-0.0155)).joints[0]
    even, angle = joint.even, min(joint.finished.angle, 28 * DEG)  # no further than is wanted
    assert even.off == pytest.approx(0.0005)
    assert even.most - 0.002 == pytest.approx(2 * 0.0005 * math.sin(angle / 2))
    assert 0.002 - even.least == pytest.approx(even.most - 0.002)


def test_a_knuckle_that_breaks_the_skin_is_told_with_the_place(design):
    finding, told = found(asked(with_joint(design, face="knuckle", radius=0.018, pivot=-0.019)), "breaks the skin")
    assert finding.gravity is Gravity.WATCH
    assert "of the head: 67" in told  # where its round ends
    assert "16.4 mm or less keeps it inside" in told
    assert not [line for line in words(asked(with_joint(design, face="knuckle", radius=0.015, pivot=-0.016)))
                if "breaks the skin" in line]  # fmt: skip


def test_a_slot_with_thin_or_no_walls_is_told(design):
    thin, told = found(asked(with_joint(design, face="tongue", tongue_width=0.024)), "of wood beside the slot")
    assert thin.gravity is Gravity.WATCH
    assert "leaves 1.3 mm of wood beside the slot of the shoulder. A tongue 20.6 mm wide leaves 3.0 mm." in told
    gone, _ = found(asked(with_joint(design, face="tongue", tongue_width=0.030)), "cuts through both sides")
    assert gone.gravity is Gravity.WRONG


def test_cuts_that_meet_are_told(design):
    steep = with_joint(with_joint(design, 1, front_bevel=69 * DEG), 0, rear_bevel=69 * DEG)
    finding, told = found(asked(steep), "meet in the shoulder")
    assert finding.gravity is Gravity.WRONG
    assert "Move the cuts" in told


def test_coats_close_a_gap_cut_at_its_finished_size(design):
    _, told = found(asked(design), "wider in bare wood")
    assert "Cut every gap 0.94 mm wider" in told
    assert "close to 1.1 mm and turn 26°, not 29°" in told
    assert "would close." in found(asked(with_joint(design, gap=0.0008)), "wider in bare wood")[1]
    bare = design.model_copy(update={"coats": ()})
    assert not [line for line in words(asked(bare)) if "wider in bare wood" in line]


def test_length_to_allow_is_trueing_saw_and_what_reaches_past(design):
    answer = asked(with_joint(design, face="tongue", tongue_length=0.010, front_bevel=0.0, rear_bevel=0.0))
    assert answer.joints[1].kerf == pytest.approx(TRUING + 0.002)
    assert answer.joints[0].kerf == pytest.approx(TRUING + 0.002 + 0.010)
    assert answer.kerf == pytest.approx(sum(joint.kerf for joint in answer.joints))


def test_one_piece_has_no_joint(design):
    whole = design.model_copy(update={"joints": (), "hinges": (), "segments": None, "pockets": ()})
    answer = asked(whole)
    assert (answer.joints, answer.findings, answer.kerf) == ((), (), 0.0)
