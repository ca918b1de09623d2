"""A towed chain's motion: against another engine, by its energy, by likeness, in a mirror, by its time step."""

import math
from dataclasses import replace

import mujoco
import numpy as np
import pytest
from benchmarks.trial_lure import TREBLES, TrialLure, build, spheroid, straight
from numpy.typing import NDArray
from scipy.integrate import solve_ivp

from gudgeon.errors import NoAnswer
from gudgeon.physics.chain import Chain
from gudgeon.physics.chain_motion import PLANAR, Motion, force_and_inertia, growing, step_of, tow, water_force
from gudgeon.physics.swim_reading import rear_end, swim_readings
from gudgeon.physics.tow_states import level_state, rates_of, settled, starts

Array = NDArray[np.float64]
IDEAL = TrialLure(outline=straight, fullness=2.0, recovery=1.0, reattachment=1.0, suction=1.0, sway_drag=0.0,
                  heave_drag=0.0, skin=0.0, base_drag=0.0, joint_drag=0.0, hooks=(), line_stiffness=0.0, gravity=0.0,
                  swing=9.0, surge=0.0, mass_scale=1.0, strips=60, stall=math.radians(89.9))  # fmt: skip
SWIMMER = TrialLure(reattachment=0.75, hooks=())
SHARE_OF_SECTION = 1000.0 * math.pi / 4.0 * 0.034**2


def dry(chain: Chain) -> Chain:
    """The same without water."""
    strips = chain.strips
    nothing = {name: np.zeros_like(getattr(strips, name)) for name in (
        "sway_mass", "heave_mass", "roll_inertia",
        "edge_sway_mass", "edge_heave_mass", "edge_roll_inertia")}  # fmt: skip
    pieces = replace(chain.pieces, surge_mass=np.zeros_like(chain.pieces.surge_mass))
    return replace(chain, strips=replace(strips, **nothing), pieces=pieces, density=0.0)


def uneven() -> Chain:
    """Three dry pieces with weights off their middles and hinges off the line, free in space, no stops."""
    lure = TrialLure(ballast=((0, 0.006, -0.03, 0.012), (1, 0.004, -0.02, 0.01), (2, 0.002, -0.02, -0.004)),
                     line_stiffness=0.0, swing=30.0, hooks=())  # fmt: skip
    chain = dry(build(lure))
    off = np.array([[0.0, 2e-3, -3e-3], [0.0, -1e-3, 2e-3]])
    return replace(chain, joints=replace(chain.joints, place=chain.joints.place + off))


def mujoco_after(chain: Chain, state: Array, duration: float, step: float) -> tuple[Array, Array]:
    """Where another engine has the same bodies: place and attitude and angles, with z down there too."""
    text = f'<mujoco><option gravity="0 0 9.81" timestep="{step}" integrator="RK4"/><worldbody>'
    pieces = chain.pieces
    for piece, (mass, centre, inertia) in enumerate(zip(pieces.mass, pieces.centre, pieces.inertia, strict=True)):
        place = np.zeros(3) if piece == 0 else chain.joints.place[piece - 1]
        numbers = (inertia[0, 0], inertia[1, 1], inertia[2, 2], inertia[0, 1], inertia[0, 2], inertia[1, 2])
        text += f'<body pos="{" ".join(map(repr, place.tolist()))}"><inertial mass="{float(mass)!r}" '
        text += f'pos="{" ".join(map(repr, centre.tolist()))}" '
        text += f'fullinertia="{" ".join(map(repr, map(float, numbers)))}"/>'
        text += "<freejoint/>" if piece == 0 else '<joint type="hinge" axis="0 0 1" limited="false"/>'
    model = mujoco.MjModel.from_xml_string(text + "</body>" * len(pieces.mass) + "</worldbody></mujoco>")
    data = mujoco.MjData(model)
    joints = len(chain.joints.friction)
    w, x, y, z = state[3:7]
    turn = np.array([[1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
                     [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
                     [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)]])  # fmt: skip
    data.qpos[:] = state[: 7 + joints]
    data.qvel[:] = np.concatenate([turn @ state[7 + joints : 10 + joints], state[10 + joints :]])
    for _ in range(round(duration / step)):
        mujoco.mj_step(model, data)
    return np.array(data.qpos), np.array(data.qvel)


def thrown() -> Array:
    state = np.zeros(17)
    state[3:7] = np.array([0.9, 0.1, -0.2, 0.3]) / np.linalg.norm([0.9, 0.1, -0.2, 0.3])
    state[7:9] = 0.3, -0.4
    state[9:] = 0.2, 0.1, -0.1, 2.0, -1.5, 3.0, 4.0, -5.0
    return state


def test_a_dry_chain_flies_as_in_another_engine() -> None:
    chain, state, nearly_still = uneven(), thrown(), 1e-9
    theirs, _ = mujoco_after(chain, state, 2.0, 5e-4)
    ours = solve_ivp(lambda _, y: rates_of(chain, nearly_still, y[:, None])[:, 0], (0.0, 2.0), state, method="DOP853",
                     rtol=1e-12, atol=1e-12).y[:, -1]  # fmt: skip
    ours[0] += 2.0 * nearly_still
    ours[3:7] /= np.linalg.norm(ours[3:7])
    assert ours[:3] == pytest.approx(theirs[:3], abs=1e-8)
    assert ours[3:7] * np.sign(ours[3]) == pytest.approx(theirs[3:7] * np.sign(theirs[3]), abs=1e-8)
    assert ours[7:9] == pytest.approx(theirs[7:9], abs=1e-8)


def test_a_tow_comes_to_the_same() -> None:
    chain, state = uneven(), thrown()
    state[9] = 3.0
    motion = tow(chain, 1.0, state[:, None], 0.1, step=1e-5, sample=0.05)
    theirs, _ = mujoco_after(chain, state, 0.1, 1e-4)
    assert np.isinf(motion.tumbled).all()
    assert motion.angles[-1, :, 0] == pytest.approx(theirs[7:9], abs=1e-7)
    assert motion.place[-1, :, 0] + [0.1, 0.0, 0.0] == pytest.approx(theirs[:3], abs=1e-7)


def held_energy(chain: Chain, state: Array) -> float:
    """Of the motion of chain and water [J]."""
    speeds = state[7 + len(chain.joints.friction) :]
    return float(0.5 * speeds @ force_and_inertia(chain, state, 1.0)[1] @ speeds)


def power(chain: Chain, state: Array) -> float:
    """Rate at which that energy changes in free planar motion [W]."""
    joints = len(chain.joints.friction)
    rate = rates_of(chain, 1.0, state[:, None], np.array([*PLANAR, *np.ones(joints)]))[:, 0]
    return (held_energy(chain, state + 1e-5 * rate) - held_energy(chain, state - 1e-5 * rate)) / 2e-5


def wake_power(chain: Chain, state: Array) -> float:
    """What goes into the wake at the tail, 1/2 m w^2 u [W]."""
    joints = len(chain.joints.friction)
    u, v = state[7 + joints : 9 + joints]
    turning = state[12 + joints]
    for joint in range(joints):
        v -= turning * chain.pieces.length[joint]
        c, s = math.cos(state[7 + joint]), math.sin(state[7 + joint])
        u, v, turning = c * u + s * v, c * v - s * u, turning + state[13 + joints + joint]
    return 0.5 * SHARE_OF_SECTION * (v - turning * chain.pieces.length[-1]) ** 2 * u


def bent_states(joints: int, bend: float, count: int = 12) -> list[Array]:
    chance, found = np.random.default_rng(3), []
    for _ in range(count):
        state = np.zeros(13 + 2 * joints)
        state[3] = 1.0
        state[7 : 7 + joints] = chance.uniform(-bend, bend, joints)
        state[7 + joints : 9 + joints] = 1.0, chance.uniform(-0.2, 0.2)
        state[12 + joints] = chance.uniform(-1.0, 1.0)
        state[13 + joints :] = chance.uniform(-2.0, 2.0, joints)
        found.append(state)
    return found


@pytest.mark.parametrize("carried", [0.0, 0.4, 1.0])
@pytest.mark.parametrize("cuts", [(), (0.5,), (1.0 / 3.0, 2.0 / 3.0)])
def test_what_the_body_gives_up_goes_into_the_wake(cuts: tuple[float, ...], carried: float) -> None:
    chain = build(replace(IDEAL, cuts=cuts, carry_over=carried))
    given = [(-power(chain, state), wake_power(chain, state)) for state in bent_states(len(cuts), 0.05)]
    lost, shed = np.array(given).T
    assert np.sqrt(np.mean((lost - shed) ** 2)) < 0.01 * np.sqrt(np.mean(shed**2))


@pytest.mark.parametrize("carried", [0.0, 0.4])
@pytest.mark.parametrize("bend", [0.2, 0.5])
def test_a_bent_joint_makes_no_energy(bend: float, carried: float) -> None:
    """Held bent and drawn straight through the water, the chain gives up what it sheds.

    What the wake of the piece ahead holds, 1/2 m v^2 a length, comes in at that piece's speed along itself and goes on
    at the next one's: their difference, of the third order, is all that is out.
    """
    chain = build(replace(IDEAL, cuts=(0.5,), carry_over=carried))
    for angle, aside in ((bend, 0.1), (-bend, 0.1), (bend, -0.2)):
        velocity = np.array([1.0, aside, 0.0, 0.0, 0.0, 0.0])
        state = level_state(chain, 1.0)
        state[7], state[8:14] = angle, velocity
        given_up = -float(water_force(chain, velocity, np.array([angle])) @ velocity)
        slower = 1.0 - (math.cos(angle) + math.sin(angle) * aside)
        third_order = 0.5 * SHARE_OF_SECTION * aside**2 * slower
        assert given_up == pytest.approx(wake_power(chain, state) + third_order, rel=1e-3)


def test_a_free_spheroid_keeps_its_energy() -> None:
    lure = replace(IDEAL, cuts=(), length=0.2, depth=0.04, width=0.04, outline=spheroid, density=1000.0, surge=0.059,
                   strips=200)  # fmt: skip
    chain = build(lure)
    state = np.zeros(13)
    state[3], state[7:] = 1.0, (1.0, 0.10, -0.1, 0.5, 0.10, -0.1)
    motion = tow(chain, 1.0, state[:, None], 0.24, step=2e-4, sample=2e-3)
    assert motion.velocity[:, 0].min() > 0.0
    energies = [held_energy(chain, motion.states[:, row, 0]) for row in range(0, len(motion.times), 10)]
    assert max(abs(energy / energies[0] - 1.0) for energy in energies) < 1e-3


def swum(lure: TrialLure, speed: float, duration: float, begun: Array | None = None) -> tuple[Chain, Motion]:
    """A planar tow with no friction in the joints and no weight; its starts' angles the same at any speed and size."""
    chain = build(replace(lure, gravity=0.0))
    states = starts(chain, speed, free=PLANAR) if begun is None else begun
    return chain, tow(chain, speed, states, duration, free=PLANAR)


def beats(chain: Chain, motion: Motion) -> list[tuple[str, float, float]]:
    """Kind, beats in the time of a length, sweep over the length."""
    length = float(chain.pieces.length.sum())
    return [(one.kind, one.beat * length / motion.speed, one.tail_sweep / length)
            for one in swim_readings(chain, motion, motion.speed)]  # fmt: skip


def faster(lure: TrialLure, times: float) -> TrialLure:
    """Line and stops as many times squared stiffer; damping grows with the speed itself."""
    return replace(lure, line_stiffness=lure.line_stiffness * times**2, stop_stiffness=lure.stop_stiffness * times**2,
                   stop_damping=lure.stop_damping / times)  # fmt: skip


def larger(lure: TrialLure, times: float) -> TrialLure:
    return replace(
        lure, length=lure.length * times, depth=lure.depth * times, width=lure.width * times,
        hooks=tuple((piece, x * times, z * times, area * times**2) for piece, x, z, area in lure.hooks),
        line_length=lure.line_length * times, line_stiffness=lure.line_stiffness * times,
        stop_stiffness=lure.stop_stiffness * times**3, stop_damping=lure.stop_damping * times,
        friction_speed=lure.friction_speed / times,
    )  # fmt: skip


@pytest.mark.parametrize("times", [0.5, 2.0])
def test_twice_as_fast_beats_twice_as_often(times: float) -> None:
    before = beats(*swum(SWIMMER, 1.0, 12.0))
    after = beats(*swum(faster(SWIMMER, times), times, 12.0 / times))
    assert {kind for kind, _, _ in before} >= {"swims"}
    for one, other in zip(before, after, strict=True):
        assert one[0] == other[0]
        assert other[1] == pytest.approx(one[1], rel=2e-3, abs=1e-4)
        assert other[2] == pytest.approx(one[2], rel=0.02, abs=1e-4)


@pytest.mark.parametrize("times", [0.5, 2.0])
def test_twice_as_large_beats_half_as_often(times: float) -> None:
    before = beats(*swum(SWIMMER, 1.0, 12.0))
    after = beats(*swum(larger(SWIMMER, times), 1.0, 12.0 * times))
    for one, other in zip(before, after, strict=True):
        assert one[0] == other[0]
        assert other[1] == pytest.approx(one[1], rel=2e-3, abs=1e-4)
        assert other[2] == pytest.approx(one[2], rel=0.02, abs=1e-4)


def test_port_and_starboard_are_alike() -> None:
    """Start k + 1 is start k in a mirror: so is its whole motion, roll and yaw and side for side."""
    ballast = ((0, 0.006, -0.035, 0.012), (1, 0.004, -0.028, 0.012))
    chain = build(TrialLure(ballast=ballast, density=850.0, line_length=2.0))
    begun = starts(chain, 1.0, mirrored=True)
    motion = tow(chain, 1.0, begun, 1.0)
    way = np.array([1.0, -1.0, 1.0])
    for start in range(0, 8, 2):
        here, there = (motion.place[:, :, place] for place in (start, start + 1))
        assert here * way == pytest.approx(there, abs=1e-7)
        assert motion.attitude[:, :, start] * [1.0, -1.0, 1.0, -1.0] == pytest.approx(motion.attitude[:, :, start + 1],
                                                                                   abs=1e-6)  # fmt: skip
        assert motion.angles[:, :, start] == pytest.approx(-motion.angles[:, :, start + 1], abs=1e-6)
        assert motion.pull[:, start] == pytest.approx(motion.pull[:, start + 1], abs=1e-6)
    assert np.abs(motion.angles).max() > 0.3


def test_a_shorter_step_changes_little() -> None:
    chain, _ = swum(SWIMMER, 1.0, 0.1)
    begun = starts(chain, 1.0, free=PLANAR)
    found = {}
    for share in (1.0, 0.25, 0.125):
        motion = tow(chain, 1.0, begun, 16.0, free=PLANAR, step=share * step_of(chain, 1.0))
        swims = [one for one in swim_readings(chain, motion, 1.0) if one.kind == "swims"]
        found[share] = np.median([(one.beat, one.tail_sweep) for one in swims], axis=0)
    assert found[1.0][0] == pytest.approx(found[0.125][0], rel=0.003)
    assert found[1.0][1] == pytest.approx(found[0.125][1], rel=0.02)
    assert found[0.25] == pytest.approx(found[0.125], rel=0.005)


def test_the_step_is_short_beside_a_knock() -> None:
    firm = step_of(build(TrialLure(stop_stiffness=4.0)), 1.0)
    firmer = step_of(build(TrialLure(stop_stiffness=16.0)), 1.0)
    soft = step_of(build(TrialLure(stop_stiffness=0.01)), 1.0)
    assert firm == pytest.approx(2.0 * firmer, rel=1e-6)
    assert soft == pytest.approx(0.006 * 0.17)
    assert step_of(build(TrialLure(stop_stiffness=1e5)), 1.0) == pytest.approx(soft / 8.0)
    assert step_of(build(TrialLure(cuts=())), 2.0) == pytest.approx(0.003 * 0.17)


def test_a_tow_starts_grow_as_its_modes_say() -> None:
    chain = build(replace(SWIMMER, gravity=0.0))
    modes = growing(chain, 1.0, free=PLANAR)
    assert modes[0].rate > 0.0
    rest = settled(chain, 1.0, np.array([*PLANAR, 1.0, 1.0])).state
    begun = rest.copy()
    begun[6] = 1e-8
    motion = tow(chain, 1.0, begun[:, None], 0.8, free=PLANAR, step=1e-4, sample=0.01)
    # the head's yaw is a sum of the modes: each a growing exponential, or two where it swings
    ways = np.array([complex(mode.rate, sign * math.tau * mode.frequency) for mode in modes
                     for sign in ((1.0, -1.0) if mode.frequency else (1.0,))])  # fmt: skip
    basis = np.exp(np.outer(motion.times, ways)) / np.exp(np.maximum(ways.real, 0.0) * 0.8)
    yaw = 2e8 * motion.attitude[:, 3, 0]
    left = yaw - (basis @ np.linalg.lstsq(basis, yaw.astype(complex))[0]).real
    assert np.abs(yaw).max() > 1e3
    assert np.abs(left).max() < 1e-3 * np.abs(yaw).max()


def test_modes_know_swing_from_slew() -> None:
    """Nearly still, a ballasted piece rolls as a pendulum on its weight; a straight neutral lure's head slews off."""
    weighted = build(TrialLure(cuts=(), hooks=(), ballast=((0, 0.012, -0.07, 0.012),), density=850.0, skin=0.0))
    inertia = force_and_inertia(weighted, level_state(weighted, 0.02), 0.02)[1]
    righting = 9.81 * float(weighted.pieces.mass[0] * weighted.pieces.centre[0, 2])
    rolling = math.sqrt(righting * np.linalg.inv(inertia)[3, 3]) / math.tau
    found = [mode for mode in growing(weighted, 0.02) if mode.what == "roll"]
    assert [mode.way for mode in found] == ["swing"]
    assert found[0].frequency == pytest.approx(rolling, rel=0.01)
    modes = growing(build(replace(SWIMMER, gravity=0.0)), 1.0, free=PLANAR)
    loose = next(mode for mode in modes if mode.way == "slew")
    assert (loose.rate > 0.0, loose.frequency) == (True, 0.0)
    assert loose.what == "head's yaw"
    assert max(loose.shares.values()) == 1.0
    assert set(loose.shares) == {"place along", "place aside", "head's yaw", "joint 1", "joint 2"}


def test_modes_grow_with_speed() -> None:
    """Neutral and without friction a lure has no speed of its own: every rate goes with the speed."""
    slow, fast = (growing(build(replace(faster(SWIMMER, times), gravity=0.0)), times, free=PLANAR)
                  for times in (1.0, 2.0))  # fmt: skip
    assert [mode.rate for mode in fast] == pytest.approx([2.0 * mode.rate for mode in slow], rel=1e-4, abs=1e-5)


def test_a_yawed_lure_is_pushed_behind_its_nose() -> None:
    chain = build(TrialLure(hooks=()))
    pushes = []
    for degrees in (5.0, 10.0, 20.0):
        angle = math.radians(degrees)
        force = water_force(chain, np.array([math.cos(angle), -math.sin(angle), 0.0, 0.0, 0.0, 0.0]))
        pushes.append((force[1], -force[5] / force[1]))
    assert all(0.0 < behind < 0.5 * 0.17 for _, behind in pushes)
    assert pushes[0][0] < pushes[1][0] < pushes[2][0]


def test_a_motion_cannot_be_written_to_and_says_what_it_is() -> None:
    chain = build(SWIMMER)
    begun = starts(chain, 1.0, 11)
    motion = tow(chain, 1.0, begun, 0.5, sample=0.01)
    assert motion.place.shape == (len(motion.times), 3, 11)
    assert motion.states[:, 0] == pytest.approx(begun)
    assert motion.pull.shape == (len(motion.times), 11)
    assert motion.times[-1] == pytest.approx(0.5, abs=0.011)
    with pytest.raises(ValueError, match="read-only"):
        motion.place[0, 0, 0] = 1.0
    alone = tow(chain, 1.0, begun[:, 9:10], 0.5, sample=0.01)
    assert (alone.place[:, :, 0] == motion.place[:, :, 9]).all()


def test_the_rear_end_is_where_the_pieces_lead() -> None:
    chain = build(replace(SWIMMER, gravity=0.0))
    motion = tow(chain, 1.0, starts(chain, 1.0, free=PLANAR), 1.0, free=PLANAR)
    yaw = 2.0 * np.arctan2(motion.attitude[:, 3], motion.attitude[:, 0])
    aside, along = motion.place[:, 1].copy(), motion.place[:, 0].copy()
    for piece, length in enumerate(chain.pieces.length):
        aside -= length * np.sin(yaw)
        along -= length * np.cos(yaw)
        yaw = yaw + (motion.angles[:, piece] if piece < 2 else 0.0)
    found = rear_end(chain, motion)
    assert found[:, 1] == pytest.approx(aside, abs=1e-12)
    assert found[:, 0] == pytest.approx(along, abs=1e-12)


def test_hooks_hold_the_sweep_back() -> None:
    sweeps = []
    for hooks in ((), TREBLES):
        chain, motion = swum(replace(SWIMMER, hooks=hooks), 1.0, 14.0)
        sweeps.append(np.median([one.tail_sweep for one in swim_readings(chain, motion, 1.0) if one.kind == "swims"]))
    assert sweeps[1] < 0.9 * sweeps[0]


def test_what_makes_no_tow_is_refused() -> None:
    chain = build(SWIMMER)
    begun = starts(chain, 1.0)
    for speed, duration, states in ((0.0, 1.0, begun), (1.0, 0.0, begun), (math.nan, 1.0, begun),
                                    (1.0, 1.0, begun[:-1]), (1.0, 1.0, np.full_like(begun, np.nan))):  # fmt: skip
        with pytest.raises(NoAnswer, match=r"more than 0|numbers to each"):
            tow(chain, speed, states, duration)
    with pytest.raises(NoAnswer, match="up to 8 can be towed"):
        tow(build(replace(SWIMMER, cuts=tuple(np.arange(1, 9) / 9.0))), 1.0, np.ones((29, 1)), 1.0)
