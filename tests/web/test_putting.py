"""Parts put in and taken out: the design can be built after either, and nothing names what is gone."""

import tomllib
from pathlib import Path

import pytest

from gudgeon.answers.check import check
from gudgeon.design.file import parse
from gudgeon.web.putting import put_in, take_out

DEMO = (Path(__file__).parents[2] / "examples" / "lanternmere.toml").read_text(encoding="utf-8")
KINDS = ("joint", "hinge", "fitting", "hook", "pocket")


def count(text, kind):
    return len(tomllib.loads(text).get(kind, []))


@pytest.mark.parametrize("text", [DEMO, None], ids=["demo", "small"])
@pytest.mark.parametrize(("kind", "at"), [("joint", "60 mm"), ("fitting", "45 mm"), ("hook", "45 mm"),
                                          ("pocket", "40 mm")])  # fmt: skip
def test_one_more_of_a_kind_makes_a_design_that_is_answered(text, kind, at, small):
    before = text or small
    after = put_in(before, kind, at)
    assert count(after, kind) == count(before, kind) + 1
    assert check(parse(after))
    assert set(before.splitlines()) - set(after.splitlines()) <= {
        'segments = ["head", "shoulder", "waist", "tail"]', "joint = 1"}  # fmt: skip


def test_a_further_part_is_like_the_nearest_of_its_kind():
    pocket = tomllib.loads(put_in(DEMO, "pocket", "160 mm"))["pocket"][-1]
    assert pocket == {"name": "pocket 6", "at": "160 mm", "bore": "10 mm"}
    hook = tomllib.loads(put_in(DEMO, "hook", "100 mm"))["hook"][-1]
    assert (hook["name"], hook["size"], hook["weight"]) == ("hook 3", "1/0", "4.3 g ± 0.1 g")


def test_names_are_not_given_twice(small):
    text = small
    for _ in range(3):
        text = put_in(text, "hook", "40 mm")
    names = [hook["name"] for hook in tomllib.loads(text)["hook"]]
    assert len(set(names)) == 4
    assert len(set(tomllib.loads(put_in(take_out(text, "hook", 2), "hook", "40 mm"))["hook"][-1]["name"])) > 1


def test_a_cut_goes_in_its_place_and_what_counts_joints_counts_on():
    data = tomllib.loads(put_in(DEMO, "joint", "120 mm"))
    assert [joint["at"] for joint in data["joint"]] == ["86 mm", "120 mm", "144 mm", "194 mm"]
    assert [hinge["joint"] for hinge in data["hinge"]] == [1, 3, 4]
    assert data["segments"] == ["head", "shoulder", "piece 5", "waist", "tail"]


def test_a_cut_taken_out_makes_one_piece_of_two_and_takes_its_hinge():
    data = tomllib.loads(take_out(DEMO, "joint", 2))
    assert [joint["at"] for joint in data["joint"]] == ["86 mm", "194 mm"]
    assert data["segments"] == ["head", "shoulder", "tail"]
    assert [(hinge["joint"], hinge["wire"]) for hinge in data["hinge"]] == [(1, "1.6 mm"), (2, "1.3 mm")]
    assert data["tub"]["fitted"][:2] == ["hinge 1", "hinge 2"]
    assert len(data["tub"]["fitted"]) == 6


@pytest.mark.parametrize("kind", KINDS)
def test_every_part_of_the_demo_can_be_taken_out(kind):
    for number in range(1, count(DEMO, kind) + 1):
        after = take_out(DEMO, kind, number)
        assert count(after, kind) == count(DEMO, kind) - 1
        assert parse(after)


def test_what_named_a_part_goes_with_it():
    text = DEMO.replace('name = "front hook"\n', 'name = "front hook"\non = "front hanger"\n')
    after = tomllib.loads(take_out(text, "fitting", 2))
    assert "front hanger" not in after["tub"]["fitted"]
    assert "on" not in after["hook"][0]
    after = tomllib.loads(take_out(text, "hook", 1))
    assert [stand_in["hook"] for stand_in in after["tub"]["stand_in"]] == ["rear hook"]


def test_all_parts_can_go_one_after_the_other():
    text = DEMO
    for kind in KINDS:
        while count(text, kind):
            text = take_out(text, kind, 1)
            parse(text)
    assert tomllib.loads(text)["segments"] == ["head"]
