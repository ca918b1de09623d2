"""What hooks can reach, joints straight and folded: against circles and turned points worked by hand."""

import math
from itertools import product
from pathlib import Path

import numpy as np
import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.finding import Gravity
from gudgeon.answers.hanging import hanging
from gudgeon.answers.rigging import swings
from gudgeon.design.file import load
from gudgeon.errors import OutsideSource
from gudgeon.report.rows import Shop
from gudgeon.report.sentences import said

MM = 1e-3
EXAMPLES = Path(__file__).parents[2] / "examples"
SIZES = {"weight": "4 g", "shank": "30 mm", "gape": "12 mm", "ring": "10 mm"}
LENGTH = 40.0  # mm, shank and ring
REACH = math.hypot(40.0 - 6.0, 6.0) + 6.0  # mm: the bend is a half round of 12 mm, its middle 34 mm down and 6 out


def bar(cylinder, *hooks, joints=(), length=240.0, **tables):
    """A bar 20 mm wide and 40 mm deep; hooks at stations [mm] on its belly."""
    return cylinder(length, 10.0, 20.0, joint=[{"at": f"{at} mm", "gap": "2 mm"} for at in joints],
                    hook=[{**SIZES, "name": f"hook {place}", "at": f"{at} mm", **keys}
                          for place, (at, keys) in enumerate(hooks, start=1)], **tables)  # fmt: skip


def answer(design, folds=()):
    return hanging(design, assemble(design), folds)


def told(found):
    return [(finding.gravity, said(finding, Shop.METRIC)) for finding in found.findings]


def test_reach_is_the_farthest_of_the_bend(cylinder):
    (hook,) = answer(bar(cylinder, (80.0, {}))).hooks
    turn = np.linspace(0.0, 2.0 * np.pi, 3601)
    bend = np.hypot(34.0 + 6.0 * np.sin(turn), 6.0 + 6.0 * np.cos(turn))
    assert hook.reach / MM == pytest.approx(bend.max(), abs=1e-4)
    assert hook.reach / MM == pytest.approx(REACH)
    assert (hook.length / MM, hook.known_by) == (pytest.approx(LENGTH), "as measured")
    assert hook.place == pytest.approx((0.080, 0.0, -0.020))


def test_sizes_come_from_the_table_when_not_measured(cylinder):
    by_size, by_weight = answer(bar(cylinder, (60.0, {"size": "1/0"}), (180.0, {}))).hooks
    assert by_size.known_by == "as measured"  # all three stand there
    bare = {"weight": None, "shank": None, "gape": None, "ring": None}
    design = bar(cylinder, (60.0, {"size": "1/0"}), (180.0, {}))
    hooks = (design.hooks[0].model_copy(update=bare), design.hooks[1].model_copy(update=bare | {
        "weight": design.hooks[1].weight}))  # fmt: skip
    by_size, by_weight = answer(design.model_copy(update={"hooks": hooks})).hooks
    assert (by_size.known_by, by_size.size, by_size.length) == ("its size", "1/0", pytest.approx(0.047))
    assert (by_weight.known_by, by_weight.size) == ("its weight", "1/0")  # 4 g is nearest to 3.75 g


def test_a_size_not_in_the_table_is_refused_unless_measured(cylinder):
    assert answer(bar(cylinder, (80.0, {"size": "9/0"}))).hooks[0].reach / MM == pytest.approx(REACH)
    design = bar(cylinder, (80.0, {"size": "9/0"}))
    unmeasured = design.hooks[0].model_copy(update={"gape": None})
    with pytest.raises(OutsideSource, match="no treble of size '9/0'"):
        answer(design.model_copy(update={"hooks": (unmeasured,)}))


def test_two_hooks_straight(cylinder):
    found = answer(bar(cylinder, (70.0, {}), (130.0, {})))
    (pair,) = found.pairs
    assert (pair.straight, pair.folded, pair.way) == (pytest.approx(0.060), pytest.approx(0.060), "")
    gravity, words = told(found)[0]
    assert gravity is Gravity.WRONG
    short = 2.0 * REACH - 60.0
    assert words.startswith("The hook 1, 70 mm from the nose, can catch the hook 2 at 130 mm: they hang 60.0 mm apart")
    assert f"{short:.1f} mm too close" in words


def test_moving_a_hook_by_what_is_told_clears_it(cylinder):
    short = 2.0 * REACH - 60.0
    clear = answer(bar(cylinder, (70.0, {}), (130.0 + short + 0.2, {})))
    assert not [words for _, words in told(clear) if "can catch" in words]


def test_the_habit_wants_both_hooks_end_to_end_and_a_little(cylinder):
    found = answer(bar(cylinder, (70.0, {}), (70.0 + 82.0, {})))
    assert found.pairs[0].habit == pytest.approx(0.083)
    assert (Gravity.NOTE, "The hook 1 and the hook 2 hang 82.0 mm apart; the habit is 83.0 mm: shanks, rings, a little."
            ) in told(found)  # fmt: skip


def test_one_joint_folded_by_the_cosine_rule(cylinder):
    """Arms of 40 and 45 mm about the pivot, 45 deg short of straight."""
    found = answer(bar(cylinder, (80.0, {}), (165.0, {}), joints=(120.0,)), [math.radians(45.0)])
    (pair,) = found.pairs
    assert pair.folded / MM == pytest.approx(math.sqrt(40**2 + 45**2 + 2 * 40 * 45 * math.cos(math.radians(45.0))))
    assert pair.way in ("joint 1 to the right", "joint 1 to the left")
    gravity, words = told(found)[0]
    assert gravity is Gravity.WATCH  # only so
    assert "can catch the hook 2 at 165 mm with joint 1 to the" in words


def test_the_fold_is_about_the_hinges_own_axis(cylinder):
    design = bar(cylinder, (80.0, {}), (165.0, {}), joints=(120.0,))
    moved = design.joints[0].model_copy(update={"pivot": 0.005})
    (pair,) = answer(design.model_copy(update={"joints": (moved,)}), [math.radians(30.0)]).pairs
    assert pair.folded / MM == pytest.approx(math.sqrt(45**2 + 40**2 + 2 * 45 * 40 * math.cos(math.radians(30.0))))


def test_four_joints_every_way_against_points_turned_one_by_one(cylinder):
    pivots, folds = (60.0, 100.0, 140.0, 180.0), [math.radians(angle) for angle in (28.0, 35.0, 20.0, 40.0)]
    found = answer(bar(cylinder, (40.0, {"offset": "2 mm"}), (210.0, {"offset": "-3 mm"}), joints=pivots), folds)
    least = math.inf
    for signs in product((-1.0, 0.0, 1.0), repeat=4):
        x, y = 210.0, -3.0
        for pivot, fold, sign in reversed(list(zip(pivots, folds, signs, strict=True))):
            turn = complex(math.cos(fold), sign * math.sin(fold)) if sign else 1.0
            at = complex(x - pivot, y) * turn
            x, y = pivot + at.real, at.imag
        drop = 1e3 * (found.hooks[0].place[2] - found.hooks[1].place[2])
        least = min(least, math.sqrt((x - 40.0) ** 2 + (y - 2.0) ** 2 + drop**2))
    assert found.pairs[0].folded / MM == pytest.approx(least, abs=1e-9)


def test_more_joints_than_are_all_tried_curl_and_zigzag(cylinder):
    pivots = tuple(float(at) for at in range(30, 220, 25))
    found = answer(bar(cylinder, (15.0, {}), (225.0, {}), joints=pivots), [math.radians(25.0)] * len(pivots))
    assert found.pairs[0].folded < 0.6 * found.pairs[0].straight


def test_the_tow_eye_and_the_line_ahead(cylinder):
    eye = {"name": "nose eye", "kind": "tow eye", "weight": "1 g", "material": "steel", "at": "1 mm", "height": "0 mm"}
    found = answer(bar(cylinder, (35.0, {}), fitting=[eye]))
    apart = {thing.thing: thing.straight / MM for thing in found.things}
    assert apart["tow eye"] == pytest.approx(math.hypot(34.0, 20.0))
    assert apart["line"] == pytest.approx(apart["tow eye"])  # it runs the other way
    gravity, words = told(found)[0]
    assert gravity is Gravity.WRONG
    assert "The hook 1, 35 mm from the nose, reaches the tow eye: it is 39.4 mm away" in words


def test_a_hook_swung_round_ahead_of_the_eye_meets_the_line(cylinder):
    """Folded flat back the tail hook lies ahead of the eye, nearer to the line than to the eye."""
    eye = {"name": "low eye", "kind": "tow eye", "weight": "1 g", "material": "steel", "at": "60 mm",
           "height": "-20 mm"}  # fmt: skip
    found = answer(bar(cylinder, (220.0, {"offset": "4 mm"}), joints=(120.0,), fitting=[eye]), [math.radians(178.0)])
    apart = {thing.thing: thing.folded / MM for thing in found.things}
    assert apart["line"] < 10.0 < 30.0 < apart["tow eye"]


def test_the_lips_edge_and_the_fin(cylinder):
    lip = {"material": "polycarbonate", "exposed": "20 mm", "set_in": "10 mm", "width": "30 mm", "thickness": "2 mm",
           "angle": "30 deg", "at": "10 mm", "height": "-10 mm"}  # fmt: skip
    fin = {"material": "polycarbonate", "length": "30 mm", "tall": "30 mm", "thickness": "1 mm", "at": "240 mm"}
    found = answer(bar(cylinder, (40.0, {"offset": "20 mm"}), (220.0, {}), lip=lip, fin=fin))
    apart = {(thing.hook.name, thing.thing): thing.straight / MM for thing in found.things}
    edge = (10.0 - 20.0 * math.cos(math.radians(30.0)), -20.0)
    assert apart["hook 1", "lip"] == pytest.approx(math.hypot(40.0 - edge[0], -20.0 - edge[1], 20.0 - 15.0))
    assert apart["hook 2", "fin"] == pytest.approx(math.hypot(20.0, 20.0 - 15.0), abs=1e-6)  # to its lower front corner
    assert any(gravity is Gravity.WATCH and "The hook 2, 220 mm from the nose, reaches the fin" in words
               for gravity, words in told(found))  # fmt: skip


def test_places_out_of_the_habit_are_told_with_the_habit(cylinder):
    found = told(answer(bar(cylinder, (40.0, {}), (200.0, {}))))
    assert any(gravity is Gravity.NOTE and "makers mostly hang the front one at 28 % to 38 %: 67 mm to 91 mm" in words
               for gravity, words in found)  # fmt: skip
    assert any("makers mostly hang the rear one at 65 % to 75 % or at the tail end" in words for _, words in found)
    assert not [words for _, words in told(answer(bar(cylinder, (80.0, {}), (235.0, {})))) if "mostly" in words]


def test_a_hook_behind_the_last_joint_is_told(cylinder):
    joints, folds = (100.0, 200.0), [0.3, 0.3]
    behind = told(answer(bar(cylinder, (70.0, {}), (235.0, {}), joints=joints), folds))
    assert any("hangs behind joint 2, so that joint carries the fish. Hung at the end of the middle 1, up to 199 mm"
               in words for _, words in behind)  # fmt: skip
    ahead = told(answer(bar(cylinder, (70.0, {}), (175.0, {}), joints=joints), folds))
    assert not [words for _, words in ahead if "carries the fish" in words]


@pytest.mark.parametrize("name", ["lanternmere", "diver", "glider", "glider-weighed"])
def test_no_hook_of_the_examples_can_catch_another(name):
    design = load(EXAMPLES / f"{name}.toml")
    lure = assemble(design)
    found = hanging(design, lure, swings(design, lure))
    assert all(pair.folded > pair.reach for pair in found.pairs)
    assert not [words for _, words in told(found) if "reaches" in words]


def test_a_hook_that_reads_as_inside_the_habit_is_not_told(cylinder):
    """At 27.5 % it reads as 28 %, where the habit begins; at 27.4 % it reads as 27 %."""
    for at, is_told in ((66.0, False), (65.7, True)):
        words = [text for _, text in told(answer(bar(cylinder, (at, {}), (168.0, {}))))]
        assert any("of the length; makers mostly hang the front one" in text for text in words) is is_told
