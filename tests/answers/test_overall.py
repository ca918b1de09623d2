"""A drawn lure looked over as a whole: what is wrong anywhere stands with the check, once."""

from pathlib import Path

import pytest

from gudgeon.answers.check import check
from gudgeon.answers.finding import Gravity
from gudgeon.answers.overall import overall
from gudgeon.design.file import load, parse
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said

EXAMPLES = Path(__file__).parents[2] / "examples"


def changed(name, **other):
    """An example with some of its text replaced."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for given, wrong in other.values():
        assert text.count(given) == 1, given
        text = text.replace(given, wrong)
    return parse(text)


def told(answer):
    return [said(finding, Shop.METRIC) for finding in answer.findings]


def test_hooks_joints_pins_and_bores_are_told_with_the_check_and_each_once():
    design = changed(
        "lanternmere",
        bore=('name = "shoulder"\nat = "107 mm"', 'name = "shoulder"\nat = "93 mm"'),
        hook=('at = "178 mm"\nshank = "33 mm"', 'at = "128 mm"\nshank = "33 mm"'),
        knuckle=(
            'at = "144 mm"                    # 60 %\ngap = "2 mm"',
            'at = "144 mm"\ngap = "2 mm"\nface = "knuckle"\nradius = "24 mm"',
        ),
        pin=('pin_top = "7.5 mm"', 'pin_top = "3 mm"'),
    )
    words = told(overall(design))
    for part in ("The shoulder bore meets hinge 1's lower slot", "can catch the rear hook", "breaks the skin of the",
                 "has a pin that misses its upper eye"):  # fmt: skip
        assert sum(part in line for line in words) == 1, part


@pytest.mark.parametrize("name", ["lanternmere", "diver", "glider", "glider-weighed"])
def test_everything_else_is_the_checks_and_the_worst_comes_first(name):
    design = load(EXAMPLES / f"{name}.toml")
    whole, alone = overall(design), check(design)
    assert {said(finding, Shop.METRIC) for finding in alone.findings} <= set(told(whole))
    more = [finding for finding in whole.findings if finding not in alone.findings]
    assert all(finding.gravity > Gravity.NOTE for finding in more)
    gravities = [finding.gravity for finding in whole.findings]
    assert gravities == sorted(gravities, reverse=True)
    assert whole.rate == alone.rate


def test_what_cannot_be_told_is_to_be_watched_and_the_rest_is_told():
    """A weighed hook of a size that no table has: its weight is known, its reach is not."""
    design = changed(
        "diver",
        size=('name = "belly hook"\nsize = "6"', 'name = "belly hook"\nsize = "6 long"'),
        reach=('shank = "19 mm"\ngape = "8 mm"\nring = "7 mm"\n\n[[hook]]', "\n[[hook]]"),
    )
    answer = overall(design)
    assert answer.rate.mass.value > 0.0
    (line,) = [finding for finding in answer.findings if "cannot be told" in finding.words]
    assert line.gravity is Gravity.WATCH
