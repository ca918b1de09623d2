"""Joints as rows: named once, clear of the check's, with the answer's numbers."""

from pathlib import Path

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.check import check
from gudgeon.answers.jointing import jointing
from gudgeon.design.file import load
from gudgeon.report.check_rows import check_rows
from gudgeon.report.joint_rows import joint_headline, joint_rows
from gudgeon.report.rows import Shop

EXAMPLE = Path(__file__).parents[2] / "examples" / "lanternmere.toml"


@pytest.fixture(scope="module")
def design():
    design = load(EXAMPLE)
    knuckle = design.joints[0].model_copy(update={"face": "knuckle", "swing": 0.5})
    return design.model_copy(update={"joints": (knuckle, *design.joints[1:])})


@pytest.fixture(scope="module")
def answer(design):
    return jointing(design, assemble(design))


@pytest.mark.parametrize("shop", Shop)
def test_names_stand_once_and_not_in_the_check(design, answer, shop):
    names = [row.name for row in joint_rows(answer, shop)]
    assert len(names) == len(set(names))
    assert not set(names) & {row.name for row in check_rows(check(design), shop)}


def test_rows_carry_the_answers_numbers(answer):
    rows = {row.name: row for row in joint_rows(answer, Shop.METRIC)}
    assert rows["joint.2.swing"].value == pytest.approx(answer.joints[1].finished.angle * 57.29578)
    assert rows["joint.1.pivot_for_even"].value == pytest.approx(1e3 * answer.joints[0].even.pivot)
    assert rows["joint.3.meets"].value == answer.joints[2].meets
    assert rows["joints.kerf"].value == pytest.approx(1e3 * answer.kerf)


def test_the_headline_tells_every_joint(answer):
    assert joint_headline(answer, Shop.METRIC).endswith("32° and 37° to each side before wood meets wood.")
