"""Joints that cannot do their work: without a hinge, or with a harness's stiff wire through them."""

from pathlib import Path

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.finding import Gravity
from gudgeon.answers.overall import overall
from gudgeon.answers.rigging import rigging
from gudgeon.answers.unhinged import unhinged
from gudgeon.design.file import parse
from gudgeon.report.hardware_rows import hardware_headline
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said

CUT = {"at": "60 mm", "gap": "2 mm", "pivot": "4 mm"}
LOOP = {"weight": "0.3 g", "material": "steel"}
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def bar(cylinder):
    """A bar 30 mm wide and 40 mm deep, cut at 60 mm."""

    def make(**tables):
        return cylinder(120.0, 15.0, 20.0, joint=[CUT], **tables)

    return make


def told(design):
    return [(finding.gravity, said(finding, Shop.METRIC)) for finding in unhinged(design, assemble(design))]


def fitting(name, kind, at, **keys):
    return {"name": name, "kind": kind, "at": f"{at} mm", **LOOP, **keys}


def test_a_joint_without_a_hinge_is_to_be_watched(bar):
    ((gravity, words),) = told(bar())
    assert gravity is Gravity.WATCH
    assert words == ("Joint 1, 60 mm from the nose, has no hinge: nothing is drawn that holds the tail to the head. "
                     "Write a [[hinge]] with joint = 1.")  # fmt: skip
    assert told(bar(hinge=[{"joint": 1, "kind": "screw eyes"}])) == []


@pytest.mark.parametrize(("made_of", "holds"), [
    (fitting("hinge eyes", "eye", 60.0, height="0 mm"), True),
    (fitting("hinge eye", "screw eye", 55.0, height="8 mm"), True),
    (fitting("hinge plate", "plate", 62.0), True),
    (fitting("belly hanger", "screw eye", 55.0, shank="14 mm"), False),
    (fitting("far eye", "eye", 40.0, height="0 mm"), False),
])
def test_plain_fittings_near_a_joint_may_be_its_hinge(bar, made_of, holds):
    assert (told(bar(fitting=[made_of])) == []) is holds


def test_a_harness_through_a_joint_is_wrong_with_a_hinge_and_without(bar):
    ends = [fitting("nose loop", "tow eye", 10.0, height="0 mm"), fitting("tail loop", "eye", 110.0, height="0 mm")]
    wire = {"wire": "1.3 mm"}
    for hinges in ([], [{"joint": 1, "kind": "screw eyes"}]):
        ((gravity, words),) = told(bar(fitting=ends, harness=wire, hinge=hinges))
        assert gravity is Gravity.WRONG
        assert words.startswith("Joint 1, 60 mm from the nose, cannot turn: the harness's wire runs stiff from the")
    ahead = [ends[0], fitting("belly loop", "eye", 40.0, height="0 mm")]
    assert told(bar(fitting=ahead, harness=wire, hinge=[{"joint": 1, "kind": "screw eyes"}])) == []


def test_check_and_hardware_tell_it():
    text = (EXAMPLES / "glider.toml").read_text(encoding="utf-8")
    design = parse(text + '\n[harness]\nwire = ".05 in"\n')
    answer = rigging(design, assemble(design), ())
    assert hardware_headline(answer).startswith("1 joint cannot do its work. ")
    found = [said(finding, Shop.INCH) for finding in overall(design).findings]
    assert sum("cannot turn: the harness's wire" in words for words in found) == 1
