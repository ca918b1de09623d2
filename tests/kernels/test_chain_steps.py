"""One step of the kernels against the scheme in whole matrices; what stops a lane; what a cache hangs on."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from benchmarks.trial_lure import TrialLure, build
from numpy.typing import NDArray

from gudgeon.kernels import chain_steps
from gudgeon.kernels.chain_rates import CREEP
from gudgeon.kernels.chain_steps import PART, force_and_mass, rates, run
from gudgeon.kernels.lanes import LANES
from gudgeon.physics.chain import Chain
from gudgeon.physics.chain_motion import tow
from gudgeon.physics.chain_tables import chain_tables
from gudgeon.physics.tow_states import level_state

Array = NDArray[np.float64]
SPEED = 1.1


def rotation(q: Array) -> Array:
    w, x, y, z = q
    cross = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.eye(3) + 2.0 * w * cross + 2.0 * cross @ cross


def place_matrix(state: Array, joints: int) -> Array:
    """(7 + joints, 6 + joints) N: rates of place, attitude and angles for velocities."""
    w, x, y, z = state[3:7]
    found = np.zeros((7 + joints, 6 + joints))
    found[:3, :3] = rotation(state[3:7])
    found[3:7, 3:6] = 0.5 * np.array([[-x, -y, -z], [w, -z, y], [z, w, -x], [-y, x, w]])
    found[7:, 6:] = np.eye(joints)
    return found


def stretch_row(chain: Chain, state: Array) -> tuple[Array, Array]:
    """How far the line gets longer for places (7 + joints,), by differences; where it pulls (6 + joints,)."""
    joints = len(chain.joints.friction)

    def length(places: Array) -> float:
        return float(np.linalg.norm(places[:3] + rotation(places[3:7]) @ chain.line.eye))

    steps = 1e-6 * np.eye(7 + joints)
    places = state[: 7 + joints]
    row = np.array([(length(places + step) - length(places - step)) / 2e-6 for step in steps])
    return row, -(row @ place_matrix(state, joints))


def kept_derivatives(chain: Chain, state: Array) -> tuple[Array, Array]:
    """D and K (motions by velocities, motions by places) of the joints, which are taken at the end of the step."""
    joints, own = len(chain.joints.friction), chain.joints
    damping, stiffness = np.zeros((6 + joints, 6 + joints)), np.zeros((6 + joints, 7 + joints))
    for joint in range(joints):
        angle, rate = state[7 + joint], state[13 + joints + joint]
        past = angle > own.most_left[joint] or angle < -own.most_right[joint]
        sliding = own.friction[joint] / CREEP / (1.0 + (rate / CREEP) ** 2) ** 1.5
        damping[6 + joint, 6 + joint] = own.damping[joint] + sliding
        damping[6 + joint, 6 + joint] += own.stop_damping[joint] if past and angle * rate > 0.0 else 0.0
        stiffness[6 + joint, 7 + joint] = own.stiffness[joint] + (own.stop_stiffness[joint] if past else 0.0)
    return damping, stiffness


def plain_slopes(
    chain: Chain, state: Array, earlier: Array, weight: float, ahead: float, longer: float = 0.0
) -> tuple[Array, float]:
    """Slopes of the state, and of the line's length along them; of the earlier ones it was `longer`."""
    joints = len(chain.joints.friction)
    places = 7 + joints
    tables = chain_tables(chain, SPEED)
    alike = np.repeat(state[:, None], LANES, axis=1)
    now = rates(tables, alike)[:, 0]
    packed = force_and_mass(tables, alike)[1][:, 0].reshape(6 + joints, 6 + joints)
    mass = np.tril(packed) + np.tril(packed, -1).T
    damping, stiffness = kept_derivatives(chain, state)
    moves = place_matrix(state, joints)
    before = weight * earlier
    row, pulls = stretch_row(chain, state)
    lengthens = float(row @ now[:places]) + weight * longer
    left = mass + ahead * damping + ahead**2 * stiffness @ moves
    left += ahead * (chain.line.damping + ahead * chain.line.stiffness) * np.outer(pulls, pulls)
    right = mass @ (now[places:] + before[places:]) - ahead * stiffness @ (now[:places] + before[:places])
    right += ahead * chain.line.stiffness * lengthens * pulls
    speeds = np.linalg.solve(left, right)
    slopes = np.concatenate([now[:places] + before[:places] + ahead * moves @ speeds, speeds])
    return slopes, lengthens - ahead * float(pulls @ speeds)


def unit(state: Array) -> Array:
    found = state.copy()
    found[3:7] /= np.linalg.norm(found[3:7])
    return found


def plain_step(chain: Chain, state: Array, step: float) -> Array:
    first, longer = plain_slopes(chain, state, np.zeros_like(state), 0.0, PART * step)
    second, _ = plain_slopes(chain, unit(state + step * first), first, -2.0, PART * step, longer)
    return unit(state + step * (1.5 * first + 0.5 * second))


def stiff_chain() -> Chain:
    chain = build(TrialLure(line_stiffness=2000.0, eye=(-0.004, 0.0, -0.006), joint_friction=2e-3, stop_stiffness=20.0,
                            fin=(0.025, 0.034), fin_stiffness=0.01))  # fmt: skip
    return replace(chain, joints=replace(chain.joints, damping=np.array([1e-3, 0.0, 1e-4])))


def pulled_states(chain: Chain) -> Array:
    """(rows, LANES) on a taut line, some joints past their stops."""
    joints = len(chain.joints.friction)
    chance = np.random.default_rng(2)
    found = np.repeat(level_state(chain, SPEED)[:, None], LANES, axis=1)
    found[0] -= 0.01
    found[1:3] += 0.03 * chance.normal(size=(2, LANES))
    found[4:7] = 0.1 * chance.normal(size=(3, LANES))
    found[3:7] /= np.linalg.norm(found[3:7], axis=0)
    found[7 : 7 + joints] = chance.uniform(-0.6, 0.6, (joints, LANES))
    found[8 + joints :] += 0.3 * chance.normal(size=(5 + joints, LANES))
    return found


def stepped(chain: Chain, state: Array, step: float, steps: int) -> tuple[Array, Array]:
    """States after so many steps, and `moving`."""
    record = np.zeros((1, len(state) + 1, LANES))
    moving = np.stack([np.ones(LANES), np.full(LANES, np.inf)])
    found = state.copy()
    run(chain_tables(chain, SPEED), found, step, steps, record, moving)
    return found, moving


def test_a_step_is_the_plain_one() -> None:
    chain = stiff_chain()
    given = pulled_states(chain)
    found, _ = stepped(chain, given, 2e-3, 1)
    for lane in range(LANES):
        expected = plain_step(chain, given[:, lane], 2e-3)
        assert found[:, lane] == pytest.approx(expected, rel=1e-7, abs=1e-7 * np.abs(expected).max())


def test_a_step_is_of_second_order() -> None:
    chain = build(TrialLure())
    given = pulled_states(chain)
    given[7:9] *= 0.5  # inside the stops, where all is smooth
    ends = [stepped(chain, given, 0.02 / steps, steps)[0] for steps in (20, 40, 80)]
    ratio = np.linalg.norm(ends[0] - ends[1], axis=0) / np.linalg.norm(ends[1] - ends[2], axis=0)
    assert np.median(ratio) == pytest.approx(4.0, abs=0.5)


def test_what_is_stiff_does_not_run_away() -> None:
    chain = build(TrialLure(joint_friction=0.02, stop_stiffness=1000.0, line_stiffness=2e4))
    given = np.repeat(level_state(chain, SPEED)[:, None], LANES, axis=1)
    given[3], given[6] = math.cos(0.1), math.sin(0.1)
    given[7:9] = np.random.default_rng(2).uniform(-0.5, 0.5, (2, LANES))
    found, moving = stepped(chain, given, 2e-3, 2000)
    assert (moving[0] == 1.0).all()
    assert np.abs(found[12:]).max() < 20.0


def test_a_lane_that_turns_round_stops_there_and_the_others_go_on() -> None:
    chain = build(TrialLure())
    given = np.repeat(level_state(chain, SPEED)[:, None], LANES, axis=1)
    given[3, 2], given[6, 2] = math.cos(1.6), math.sin(1.6)
    given[7:9, 5], given[14, 5] = 0.3, 60.0
    found, moving = stepped(chain, given, 1e-3, 400)
    assert moving[1, 2] == 0.0
    assert found[:, 2] == pytest.approx(given[:, 2], abs=0.0)
    assert 0.0 < moving[1, 5] < 0.4
    assert (moving[0] == [1, 1, 0, 1, 1, 0, 1, 1]).all()
    assert np.isinf(moving[1, [0, 1, 3, 4, 6, 7]]).all()
    assert np.isfinite(found).all()


def test_numbers_that_run_away_are_never_passed_on() -> None:
    chain = build(TrialLure())
    given = np.repeat(level_state(chain, SPEED)[:, None], LANES, axis=1)
    given[9:, 1] = 1e7
    given[0, 4] = np.nan
    motion_record = np.zeros((5, len(given) + 1, LANES))
    moving = np.stack([np.ones(LANES), np.full(LANES, np.inf)])
    run(chain_tables(chain, SPEED), given, 1e-3, 10, motion_record, moving)
    assert (moving[1, [1, 4]] == 0.0).all()
    assert np.isfinite(given[:, [0, 1, 2, 3, 5, 6, 7]]).all()


def test_a_kept_tow_is_the_same_however_often_it_is_looked_at() -> None:
    chain = build(TrialLure())
    given = pulled_states(chain)
    often, seldom = (tow(chain, SPEED, given, 0.2, step=1e-3, sample=sample) for sample in (1e-3, 0.05))
    assert (often.place[::50] == seldom.place).all()
    assert (often.pull[::50] == seldom.pull).all()


def test_the_cache_hangs_on_every_file_that_is_compiled_in() -> None:
    files = {path.stem for path in Path(str(chain_steps.__file__)).parent.glob("*.py")}
    named = {module.__name__.rpartition(".")[2] for module in chain_steps.COMPILED_IN}
    assert files - named == {"__init__", "chain_steps"}
