"""A drawn lure towed: what is told of each speed, how far it is to be trusted, and what is refused."""

import math
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.check import check
from gudgeon.answers.eye_places import eye_places, side_middle
from gudgeon.answers.finding import Gravity
from gudgeon.answers.lip_and_fin import lip_and_fin
from gudgeon.answers.one_beat import one_beat
from gudgeon.answers.running import running_depths
from gudgeon.answers.swim_changes import swim_changes
from gudgeon.answers.swim_trust import TRUST
from gudgeon.answers.swimming import _slowest, swimming
from gudgeon.answers.swum import SWIMS
from gudgeon.answers.tow_runs import TowTask, towed
from gudgeon.answers.tow_test import tow_test
from gudgeon.answers.towed_chain import tow_speeds, towed_chain
from gudgeon.design.file import load, parse
from gudgeon.errors import NoAnswer
from gudgeon.report.rows import Shop
from gudgeon.report.swim_rows import swim_sections
from gudgeon.units import KNOT, STANDARD_GRAVITY

EXAMPLES = Path(__file__).parents[2] / "examples"
SPEEDS = (1.0, 2.0)


@pytest.fixture(scope="module")
def demo():
    design = load(EXAMPLES / "lanternmere.toml")
    return design, check(design).lure


@pytest.fixture(scope="module")
def swum(demo):
    return swimming(*demo, speeds=SPEEDS)


def test_the_makers_speeds_and_the_usual_sweep_are_towed(demo):
    speeds = tow_speeds(demo[0])
    assert speeds[0] == 0.3
    assert speeds[-1] == pytest.approx(5.0 * KNOT)
    assert set(demo[0].aim.speeds) <= set(speeds)


def test_shares_of_eight_starts_add_up(swum):
    for one in swum.speeds:
        assert one.starts == 8
        assert sum(share for _, share in one.shares) == pytest.approx(1.0)
        assert one.kind == one.shares[0][0]


def test_a_jointed_lure_cut_by_the_habit_swims_at_trolling_speed(swum):
    """Common practice, no source: a jointed swimmer swims across slow to fast trolling."""
    for one in swum.speeds:
        assert one.share(SWIMS) >= 0.5
        assert one.beat is not None
        assert one.tail_sweep is not None


def test_the_beat_goes_with_the_speed(swum):
    """Speed similarity: water alone sets beats in proportion to speed; gravity and friction bend that a little."""
    slow, fast = swum.speeds
    assert fast.beat.value / slow.beat.value == pytest.approx(2.0, rel=0.1)


def test_every_number_carries_at_least_the_models_own_doubt(swum):
    for one in swum.speeds:
        for value, kind in ((one.beat, "beat"), (one.tail_sweep, "sweep"), (one.pull, "swimming pull")):
            trust = TRUST[kind]
            assert value.low <= trust.low * value.value + 1e-12
            assert value.high >= trust.high * value.value - 1e-12


def test_the_same_question_has_the_same_answer(demo, swum):
    again = swimming(*demo, speeds=SPEEDS)
    assert again.speeds == swum.speeds


def test_progress_is_told_up_to_the_end(demo):
    told = []
    swimming(*demo, speeds=(1.0,), progress=lambda done, of: told.append((done, of)))
    assert told[0][0] == 0
    assert told[-1][0] == told[-1][1]


def test_beyond_four_pieces_nothing_is_claimed():
    text = (EXAMPLES / "lanternmere.toml").read_text(encoding="utf-8")
    design = parse(text)
    shortest = min(design.joints, key=lambda joint: joint.at)
    extra = shortest.model_copy(update={"at": 0.5 * shortest.at + 0.02})
    joints = tuple(sorted((*design.joints, extra), key=lambda joint: joint.at))
    five = design.model_copy(update={"joints": joints, "hinges": (), "segments": None})
    answer = swimming(five, assemble(five), speeds=(1.0,))
    assert not answer.is_claimed
    (line,) = answer.findings
    assert line.gravity is Gravity.WATCH
    assert "nothing is claimed" in line.words


def test_a_lure_with_nothing_to_tie_to_is_refused(demo):
    design, lure = demo
    untied = design.model_copy(update={"fittings": tuple(f for f in design.fittings if f.kind != "tow eye")})
    with pytest.raises(NoAnswer, match="nothing to tie"):
        swimming(untied, lure, speeds=(1.0,))


@pytest.mark.parametrize("speed", [0.0, -1.0, float("nan")])
def test_no_speed_is_refused(demo, speed):
    with pytest.raises(NoAnswer, match="more than 0"):
        swimming(*demo, speeds=(speed,))


def test_one_beat_comes_round_to_where_it_began(swum):
    """The tail ends a beat, but for one moment, where it began it."""
    beat = one_beat(swum.shown, moments=8)
    assert len(beat.frames) == 8
    assert all(len(frame) == len(swum.shown.task.chain.pieces.mass) for frame in beat.frames)
    tail = np.array([frame[-1][0][:, 1].mean() for frame in beat.frames])
    sweep = np.ptp(tail)
    assert sweep > 0.02
    assert abs(tail[0] - tail[-1]) < 0.6 * sweep  # a moment apart from the next beat's first


def test_more_line_runs_deeper_and_faster_runs_shallower(demo, swum):
    """A sinking lure without a lip hangs under its line: common practice, no source."""
    found = running_depths(*demo, lines=(20.0, 40.0), speeds=SPEEDS)
    slow, fast = found.at(1.0), found.at(2.0)
    assert slow[1].depth.value > slow[0].depth.value
    assert slow[1].depth.value > fast[1].depth.value
    short = running_depths(*demo, lines=(3.0,), speeds=(2.0,)).runs[0]
    assert short.depth is None
    assert short.why == "at the surface"


def test_the_middle_of_the_side_is_the_side_views_centre_of_the_wood_answer(demo):
    """Hinges at other heights than the eye must not move it: each piece counts from its own hinge."""
    design, lure = demo
    chain = towed_chain(design, lure, speed=1.0)
    assert np.ptp(chain.joints.place[:, 2]) > 1e-3
    assert -side_middle(chain) == pytest.approx(lip_and_fin(design, lure).tow.centre[1], abs=2e-5)


def test_a_depth_carries_the_weight_in_water_and_a_floater_may_run_at_the_surface(demo):
    """A gram lighter than what hangs: it floats, and every depth then begins at the surface, and is said to."""
    design, drawn = demo
    lure = drawn.knowing(replace(drawn.knowledge, covariance=0.01 * drawn.knowledge.covariance))
    sinker = running_depths(design, lure, lines=(40.0,), speeds=(1.0,))
    assert sinker.findings == ()
    assert sinker.weight.low > 0.0
    most = max(lure.held, key=lure.held.__getitem__)
    light = lure.filled({most: lure.held[most] - sinker.weight.value - 1e-3})
    floater = running_depths(design, light, lines=(40.0, 80.0), speeds=(1.0,))
    assert floater.weight.high < 0.0
    assert [run.depth.low for run in floater.runs] == [0.0, 0.0]
    (told,) = floater.findings
    assert told.words.startswith("It floats")
    assert "surface" in told.words
    unsure = running_depths(design, drawn, lines=(40.0,), speeds=(1.0,))
    assert unsure.findings[0].words.startswith("It may float")
    (run,), (wide,) = sinker.runs, unsure.runs
    assert run.depth.low > 0.0 == wide.depth.low
    assert wide.depth.high > run.depth.high
    assert wide.down.spread == pytest.approx(math.hypot(
        STANDARD_GRAVITY * unsure.weight.spread, 0.3 * (wide.down.value - STANDARD_GRAVITY * unsure.weight.value)
    ))  # fmt: skip


def test_one_start_more_moves_where_it_begins_to_swim_by_little():
    """Of eight starts three or four swim at 0.5 m/s: the same lure, but for a hundredth of a gram."""

    def sweep(share):
        return [SimpleNamespace(task=SimpleNamespace(speed=speed), share=lambda _, part=part: part)
                for speed, part in ((0.3, 0.0), (0.5, share), (0.75, 1.0))]  # fmt: skip

    few, many = _slowest(sweep(3 / 8)), _slowest(sweep(4 / 8))
    assert few.value == pytest.approx(0.55)
    assert many.value == pytest.approx(0.5)
    for found in (few, many):
        assert found.low <= 0.3
        assert found.high >= 0.75


def test_angles_near_nothing_keep_a_spread_and_sizes_stay_above_nothing():
    assert TRUST["pitch"].of(0.0).spread >= np.radians(1.0)
    roll = TRUST["roll"].size(0.0)
    assert roll.low == 0.0
    assert roll.high >= np.radians(1.0)
    assert TRUST["sweep"].size(0.02, 0.03).low == 0.0
    assert TRUST["pitch"].of(np.radians(-30.0)).high == pytest.approx(np.radians(-18.0))


def test_a_longer_lip_dives_deeper():
    """Common practice, no source."""
    design = load(EXAMPLES / "diver.toml")
    lure = check(design).lure
    depths = []
    for times in (0.7, 1.0, 1.4):
        lip = design.lip.model_copy(update={"exposed": times * design.lip.exposed})
        other = design.model_copy(update={"lip": lip})
        found = running_depths(other, assemble(other).filled(lure.held), lines=(20.0,), speeds=(1.2,))
        depths.append(found.runs[0].depth.value)
    assert depths == sorted(depths)
    assert depths[2] > 1.3 * depths[0]


def test_changes_are_told_only_where_all_constants_agree(demo):
    design, lure = demo
    changes = swim_changes(design, lure, 1.5, lambda other: assemble(other).filled(lure.held))
    hooks = [change for change in changes if change.words.startswith("hooks")]
    assert hooks
    assert all(change.beat is None for change in hooks)  # the model's sign is not the flow solution's
    assert not any(change.ends or change.beat for change in changes if change.words == "no tail fin")  # three times it
    for change in changes:
        for part in (change.beat, change.sweep):
            if part is not None:
                assert part.low * part.high > 0.0
                assert min(abs(part.low), abs(part.high)) >= 0.03


def test_no_place_tried_for_the_eye_is_better_than_the_best(demo):
    found = eye_places(*demo)
    assert sum(place.is_own for place in found.places) == 1
    assert all((place.upright, -place.roll) <= (found.best.upright, -found.best.roll) for place in found.places)


def test_a_symmetric_lure_towed_by_its_nose_comes_back_where_one_with_a_high_eye_goes_over(demo):
    """Common practice, no source: 4 to 5 knots."""
    mirrored = demo[0].outline.model_copy(update={"belly": None})
    design = demo[0].model_copy(update={"outline": mirrored, "fin": None})
    lure = check(design).lure
    chain = towed_chain(design, lure, speed=4.5 * KNOT)
    middle = side_middle(chain)
    rolls = []
    for height in (middle, middle - 0.4 * lure.depth):
        eye = np.array([0.0, 0.0, height])
        tied = replace(chain, line=replace(chain.line, eye=eye))
        (run,) = towed([TowTask(tied, 4.5 * KNOT)])
        rolls.append(float(np.median([reading.most_roll for reading in run.readings])))
    assert np.degrees(rolls[0]) < 40.0
    assert np.degrees(rolls[1]) > 60.0


def test_stiff_joints_do_not_swim(demo):
    """Common practice, no source: a joint that does not turn freely kills the swim."""
    design, lure = demo
    chain = towed_chain(design, lure, speed=0.5, coefficients={"joint_friction": 0.05})
    joints = replace(chain.joints, friction=np.full(len(chain.joints.friction), 0.05))
    (run,) = towed([TowTask(replace(chain, joints=joints), 0.5)])
    assert run.share(SWIMS) == 0.0


def test_one_piece_without_a_lip_has_an_answer_with_every_number_a_number():
    """It has nothing to swim with: no promise of a beat, and nothing that is not a number."""
    design = load(EXAMPLES / "diver.toml").model_copy(update={"lip": None})
    answer = swimming(design, assemble(design), speeds=(0.5, 1.5))
    for one in answer.speeds:
        assert sum(share for _, share in one.shares) == pytest.approx(1.0)
        for value in (one.beat, one.tail_sweep, one.roll, one.list_angle, one.pitch, one.pull):
            assert value is None or np.isfinite([value.value, value.low, value.high]).all()


def test_a_lip_whose_wobble_the_model_lacks_is_not_called_still():
    design = load(EXAMPLES / "diver.toml")
    answer = swimming(design, check(design).lure, speeds=(0.5,))
    assert all(one.share(SWIMS) == 0.0 for one in answer.speeds)
    assert any("Trust the water for the wobble of a lip" in finding.words for finding in answer.findings)
    meant = design.model_copy(update={"aim": design.aim.model_copy(update={"speeds": (0.5,)})})
    told = swimming(meant, check(design).lure, speeds=(0.5,)).findings
    assert sum("cannot tell" in one.words for one in told) == 1
    assert not any("starts swim" in one.words or "steeper" in one.words for one in told)
    (row,) = [row for row in swim_sections(answer, Shop.METRIC)[0].rows if row.name == "swim.slowest"]
    assert row.shown == "not told of a lip"
    bare = design.model_copy(update={"lip": None})
    assert not any("lip" in finding.words for finding in swimming(bare, assemble(bare), speeds=(0.5,)).findings)


def test_a_fin_larger_than_the_body_has_an_answer_or_a_refusal(demo):
    design, lure = demo
    huge = design.fin.model_copy(update={"tall": 3.0 * lure.depth})
    other = design.model_copy(update={"fin": huge})
    answer = swimming(other, assemble(other).filled(lure.held), speeds=(1.0,))
    (one,) = answer.speeds
    assert all(np.isfinite(turn) for turn in one.joints)
    assert one.pull is None or np.isfinite(one.pull.value)


def test_a_lure_that_finds_no_straight_tow_keeps_its_other_answers(demo, monkeypatch):
    def unsettled(*_):
        raise NoAnswer("it does not settle")

    monkeypatch.setattr("gudgeon.answers.swimming.growing", unsettled)
    answer = swimming(*demo, speeds=(1.0,))
    assert answer.growth == (None,)
    assert answer.speeds[0].beat is not None
    (shown,) = [row.shown for row in swim_sections(answer, Shop.METRIC)[1].rows if row.name == "swim.1.grows"]
    assert "no straight tow" in shown


def test_depths_of_a_tow_test_are_those_asked_for_alone(demo):
    design, lure = demo
    found = tow_test(design, speeds=(1.0,), lines=(20.0,), changes=False, stage=lambda _: lambda done, of: None)
    assert found.depths == running_depths(design, lure, lines=(20.0,), speeds=(1.0,))
