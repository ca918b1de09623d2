"""The straight tow that a lure settles to, and the starts about it."""

import math
from dataclasses import replace

import numpy as np
import pytest
from benchmarks.trial_lure import TrialLure, build, lip

from gudgeon.physics.chain_motion import PLANAR
from gudgeon.physics.straight_tow import straight_drag
from gudgeon.physics.tow_states import (
    BEND,
    ROLL,
    YAW,
    displaced,
    eye_place,
    facing,
    level_state,
    rates_of,
    settled,
    starts,
)

BALLAST = ((0, 0.006, -0.035, 0.012), (1, 0.004, -0.028, 0.012), (2, 0.0014, -0.02, 0.010))
BALLASTED = TrialLure(ballast=BALLAST, density=850.0, line_length=2.0)


@pytest.mark.parametrize("speed", [0.02, 0.3, 1.0, 3.0])
@pytest.mark.parametrize("lure", [BALLASTED, replace(BALLASTED, density=700.0), replace(BALLASTED, density=1300.0),
                                  replace(BALLASTED, plates=lip(size=0.015)), TrialLure(cuts=(), gravity=0.0),
                                  replace(BALLASTED, fin=(0.025, 0.034), fin_stiffness=0.004)])  # fmt: skip
def test_a_settled_tow_stays_as_it_is(lure: TrialLure, speed: float) -> None:
    chain = build(lure)
    found = settled(chain, speed)
    assert found.is_settled
    rate = rates_of(chain, speed, found.state[:, None])[:, 0]
    joints = len(chain.joints.friction)
    assert np.abs(rate).max() < 1e-6 * max(1.0, speed**2 / 0.17)
    assert found.state[[1, 4, 6]] == pytest.approx([0.0, 0.0, 0.0], abs=1e-7)
    assert found.state[7 : 7 + joints] == pytest.approx(np.zeros(joints), abs=1e-6)


def test_a_settled_line_bears_drag_and_weight() -> None:
    chain = build(replace(BALLASTED, density=1300.0))
    weight = 9.81 * float(chain.pieces.mass.sum() - 1000.0 * chain.pieces.volume.sum())
    state = settled(chain, 0.02).state
    eye = eye_place(chain, state[:, None])[:, 0]
    stretch = float(np.linalg.norm(eye)) - 2.0
    assert chain.line.stiffness * stretch == pytest.approx(weight, rel=0.02)
    assert math.atan2(eye[2], -eye[0]) > math.radians(80.0)
    neutral = build(TrialLure(gravity=0.0, hooks=()))
    stretch = -float(eye_place(neutral, settled(neutral, 1.0).state[:, None])[0, 0]) - 1.0
    assert 200.0 * stretch == pytest.approx(500.0 * straight_drag(neutral).whole, rel=1e-6)


def test_a_buoyant_lure_runs_above_its_line() -> None:
    chain = build(replace(BALLASTED, density=600.0))
    assert settled(chain, 0.3).state[2] < -0.5


def test_displacing_turns_about_the_heads_own_axes() -> None:
    state = level_state(build(BALLASTED), 1.0)
    off = np.zeros(16)
    off[3:6] = 0.0, 0.0, math.pi / 2.0
    turned = displaced(state, off)
    off[3:6] = math.pi / 2.0, 0.0, 0.0
    rolled = displaced(turned, off)
    assert turned[3:7] == pytest.approx([math.sqrt(0.5), 0.0, 0.0, math.sqrt(0.5)])
    assert rolled[3:7] == pytest.approx([0.5, 0.5, 0.5, 0.5])
    assert facing(turned, 2.0)[9:] == pytest.approx([0.0, -2.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0])


def test_starts_are_the_same_again_and_within_bounds() -> None:
    chain = build(replace(BALLASTED, swing=0.2))
    found = starts(chain, 1.0, 20)
    assert (found == starts(chain, 1.0, 20)).all()
    assert (found != starts(chain, 1.0, 20, seed=8)).any()
    assert found.shape == (17, 20)
    assert np.abs(found[7:9]).max() <= 0.8 * 0.2
    assert 0.5 * min(BEND, 0.16) < np.abs(found[7:9]).max()
    assert np.linalg.norm(found[3:7], axis=0) == pytest.approx(np.ones(20))
    turned = 2.0 * np.arccos(found[3])
    assert 0.1 < turned.max() <= math.hypot(YAW, ROLL) + 0.2
    speeds = np.linalg.norm(found[9:12], axis=0)
    assert speeds == pytest.approx(np.ones(20))


def test_a_start_hangs_on_its_line_by_the_eye() -> None:
    chain = build(replace(BALLASTED, eye=(-0.01, 0.0, -0.012)))
    straight = settled(chain, 1.0).state
    eyes = eye_place(chain, starts(chain, 1.0))
    assert eyes == pytest.approx(np.repeat(eye_place(chain, straight[:, None]), 8, axis=1), abs=1e-12)


def test_mirrored_starts_come_in_pairs() -> None:
    found = starts(build(BALLASTED), 1.0, 7, mirrored=True)
    assert found[7:9, 1::2] == pytest.approx(-found[7:9, :6:2])
    assert found[1, 1::2] == pytest.approx(-found[1, :6:2], abs=1e-9)
    assert found[2, 1::2] == pytest.approx(found[2, :6:2], abs=1e-9)


def test_what_may_not_change_starts_as_in_the_straight_tow() -> None:
    found = starts(build(replace(BALLASTED, gravity=0.0)), 1.0, free=PLANAR)
    assert (found[[2, 4, 5]] == 0.0).all()
    assert np.abs(found[6]).max() > 0.05


def test_a_lure_that_cannot_settle_starts_level() -> None:
    """With no line there is nothing to settle on."""
    chain = build(replace(BALLASTED, line_stiffness=0.0))
    assert not settled(chain, 1.0).is_settled
    assert np.isfinite(starts(chain, 1.0)).all()
