"""What is read off a motion that is known beforehand."""

import math

import numpy as np
import pytest
from benchmarks.trial_lure import TrialLure, build

from gudgeon.physics.chain_motion import Motion
from gudgeon.physics.swim_reading import SwimReading, swim_readings

CHAIN = build(TrialLure())
LENGTH = 0.17
TIMES = np.arange(0.0, 20.0, 0.01)


def read(*, yaw: float = 0.0, bend: float = 0.0, roll: float = 0.0, beat: float = 1.7, steady_yaw: float = 0.0,
         steady_bend: float = 0.0, steady_roll: float = 0.0, pitch: float = 0.0, tumbled: float = math.inf,
         aside: float = 0.0, settling: float = 0.0) -> SwimReading:  # fmt: skip
    """A head that yaws and rolls, both joints bending alike, all in step; `settling` is a yaw that dies away."""
    phase = np.sin(math.tau * beat * TIMES + 0.3)
    turn = [roll * phase + steady_roll, np.full_like(TIMES, pitch),
            yaw * phase + steady_yaw + settling * np.exp(-TIMES)]  # fmt: skip
    cr, cp, cy = (np.cos(0.5 * angle) for angle in turn)
    sr, sp, sy = (np.sin(0.5 * angle) for angle in turn)
    attitude = np.stack([cr * cp * cy + sr * sp * sy, sr * cp * cy - cr * sp * sy, cr * sp * cy + sr * cp * sy,
                         cr * cp * sy - sr * sp * cy], axis=1)[:, :, None]  # fmt: skip
    place = np.zeros((len(TIMES), 3, 1))
    place[:, 1, 0] = aside * phase
    angles = np.stack([bend * phase + steady_bend] * 2, axis=1)[:, :, None]
    nothing = np.zeros((len(TIMES), 3, 1))
    pull = (2.0 + np.sin(math.tau * 2.0 * beat * TIMES))[:, None]
    motion = Motion(speed=1.0, times=TIMES, place=place, attitude=attitude, angles=angles, velocity=nothing.copy(),
                    turning=nothing.copy(), joint_rates=np.zeros((len(TIMES), 2, 1)), pull=pull,
                    tumbled=np.array([tumbled]))  # fmt: skip
    return swim_readings(CHAIN, motion, 1.0)[0]


def test_a_swim_is_read_as_it_is() -> None:
    found = read(yaw=0.3, bend=0.2, aside=0.01, roll=0.1, pitch=0.05)
    assert found.kind == "swims"
    assert found.beat == pytest.approx(1.7, rel=1e-3)
    assert found.spectrum == pytest.approx(1.7, rel=0.01)
    lengths = CHAIN.pieces.length
    most = float(lengths @ np.sin([0.3, 0.5, 0.7])) - 0.01
    assert found.tail_sweep == pytest.approx(most, rel=0.01)
    assert found.head_sweep == pytest.approx(0.01, rel=0.01)
    assert found.head_yaw == pytest.approx(0.3, rel=0.01)
    assert found.most_roll == pytest.approx(0.1, rel=0.01)
    assert found.mean_roll == pytest.approx(0.0, abs=1e-3)
    assert found.mean_pitch == pytest.approx(0.05, rel=1e-6)
    assert (found.mean_pull, found.peak_pull) == pytest.approx((2.0, 3.0), rel=0.01)
    assert found.joints == pytest.approx((0.2, 0.2), rel=0.01)


@pytest.mark.parametrize(
    ("motion", "kind"),
    [
        ({}, "tracks"),
        ({"settling": 0.5}, "tracks"),
        ({"yaw": 0.015}, "tracks"),
        ({"steady_bend": 0.1}, "locks"),
        ({"steady_yaw": 0.2}, "locks"),
        ({"steady_bend": 0.08, "yaw": 0.3}, "swims"),
        ({"yaw": 0.3, "beat": 0.12}, "tracks"),
        ({"yaw": 0.3, "steady_roll": 0.27}, "leans"),
        ({"yaw": 0.3, "steady_roll": -0.27}, "leans"),
        ({"yaw": 0.3, "steady_roll": 0.25}, "swims"),
        ({"yaw": 0.3, "roll": 1.1}, "leans"),
        ({"yaw": 0.3, "roll": 1.0}, "swims"),
        ({"yaw": 0.3, "steady_roll": 1.5, "tumbled": 3.0}, "tumbles"),
    ],
)
def test_kinds(motion: dict[str, float], kind: str) -> None:
    found = read(**motion)
    assert found.kind == kind
    assert (found.beat > 0.0) == (kind == "swims")


def test_a_short_way_back_is_no_beat() -> None:
    """A ripple of a twentieth of the sweep, ten times as quick, crosses the middle oftener; it is not told."""
    chain, times = build(TrialLure(cuts=())), np.arange(0.0, 10.0, 0.005)
    yaw = 0.3 * np.sin(math.tau * times) + 0.02 * np.sin(math.tau * 10.0 * times)
    attitude = np.stack([np.cos(0.5 * yaw), 0.0 * yaw, 0.0 * yaw, np.sin(0.5 * yaw)], axis=1)[:, :, None]
    nothing, none = np.zeros((len(times), 3, 1)), np.zeros((len(times), 0, 1))
    motion = Motion(speed=1.0, times=times, place=nothing, attitude=attitude, angles=none, velocity=nothing.copy(),
                    turning=nothing.copy(), joint_rates=none.copy(), pull=np.ones((len(times), 1)),
                    tumbled=np.array([math.inf]))  # fmt: skip
    found = swim_readings(chain, motion, 0.3)[0]
    assert found.kind == "swims"
    assert found.beat == pytest.approx(1.0, rel=0.01)
    assert found.joints == ()


def test_roll_to_starboard_and_nose_up_are_positive() -> None:
    found = read(steady_roll=0.1, pitch=0.2)
    assert (found.mean_roll, found.mean_pitch) == pytest.approx((0.1, 0.2), rel=1e-6)
