"""The kernels of a towed chain against the same equations written plainly in NumPy, one state at a time.

The twin shares nothing with the kernels: it takes the chain itself, writes velocities as (6,) vectors and matrices that
map them from piece to piece, sums J^T M J, and takes the rate of J by differences along the motion.
"""

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest
from benchmarks.trial_lure import TrialLure, build, lip
from numpy.typing import NDArray

from gudgeon.kernels.chain_rates import CREEP
from gudgeon.kernels.chain_steps import force_and_mass, rates
from gudgeon.kernels.lanes import LANES
from gudgeon.physics.chain import Chain
from gudgeon.physics.chain_tables import body_inertia, chain_tables, spread_places, water_inertia

Array = NDArray[np.float64]
SPEED = 0.9


def about_z(angle: float) -> Array:
    c, s = math.cos(angle), math.sin(angle)
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def rotation(q: Array) -> Array:
    w, x, y, z = q
    return np.eye(3) + 2.0 * w * skew(np.array([x, y, z])) + 2.0 * skew(np.array([x, y, z])) @ skew(np.array([x, y, z]))


def skew(a: Array) -> Array:
    return np.array([[0.0, -a[2], a[1]], [a[2], 0.0, -a[0]], [-a[1], a[0], 0.0]])


def jacobians(chain: Chain, angles: Array) -> list[Array]:
    """(6, motions) of each piece: velocity of its origin and turning in its own axes, for each motion."""
    motions = 6 + len(angles)
    found = [np.eye(6, motions)]
    for joint, angle in enumerate(angles):
        turn = about_z(angle).T
        shift = np.block([[turn, -turn @ skew(chain.joints.place[joint])], [np.zeros((3, 3)), turn]])
        here = shift @ found[-1]
        here[5, 6 + joint] += 1.0
        found.append(here)
    return found


def at(twist: Array, place: Array) -> Array:
    return twist[:3] + np.cross(twist[3:], place)


def wrench(place: Array, force: Array) -> Array:
    return np.concatenate([force, np.cross(place, force)])


def kept(chain: Chain, u: float, v: float, w: float) -> float:
    if u <= 0.0:
        return 0.0
    return 1.0 / math.sqrt(1.0 + ((v * v + w * w) / (u * u * math.tan(chain.stall) ** 2)) ** 2)


def strip_wrench(chain: Chain, piece: int, twist: Array) -> Array:
    strips, total = chain.strips, np.zeros(6)
    p = twist[3]
    for k in range(strips.first[piece], strips.first[piece + 1]):
        e, length = k + piece, strips.length[k]
        place = np.array([strips.place[k], 0.0, strips.height_of_axis[k]])
        u, v, w = at(twist, place)
        edges = [np.array([strips.edge_place[i], 0.0, strips.edge_height_of_axis[i]]) for i in (e, e + 1)]
        front, rear = (at(twist, edge) for edge in edges)
        momentum = np.array([0.0, strips.sway_mass[k] * v, strips.heave_mass[k] * w]) * length
        force, roll = -np.cross(twist[3:], momentum), -chain.broadside * (v * momentum[2] - w * momentum[1])
        lost = 0.5 * (1.0 - chain.broadside) * (strips.sway_mass[k] - strips.heave_mass[k]) * length
        force += p * lost * np.array([0.0, w, v])
        aft = u * kept(chain, u, v, w)
        changes = []
        for masses in (strips.edge_sway_mass, strips.edge_heave_mass, strips.edge_roll_inertia):
            change = masses[e + 1] - masses[e]
            changes.append(change if change > 0.0 else strips.recovery[k] * change)
        across, upward = rear[1] - front[1], rear[2] - front[2]
        force[1] -= aft * (strips.sway_mass[k] * across + changes[0] * v)
        force[2] -= aft * (strips.heave_mass[k] * upward + changes[1] * w)
        roll -= aft * changes[2] * p
        force[0] += chain.suction * (strips.sway_mass[k] * v * across + 0.5 * changes[0] * v * v
                                     + strips.heave_mass[k] * w * upward + 0.5 * changes[1] * w * w)  # fmt: skip
        half = 0.5 * chain.density * length
        for share, weight in ((-math.sqrt(0.15), 5 / 18), (0.0, 4 / 9), (math.sqrt(0.15), 5 / 18)):
            z = share * strips.depth[k]
            here = v - p * z
            drag = half * weight * math.hypot(here, w)
            force[1] -= drag * strips.sway_drag[k] * strips.depth[k] * here
            roll += z * drag * strips.sway_drag[k] * strips.depth[k] * here
            force[2] -= drag * strips.heave_drag[k] * strips.width[k] * w
        rub = half * strips.friction[k] * strips.perimeter[k] * math.sqrt(u * u + v * v + w * w)
        force -= rub * np.array([u, chain.lateral_friction * v, chain.lateral_friction * w])
        total += wrench(place, force) + np.array([0.0, 0.0, 0.0, roll, 0.0, 0.0])
    return total


def front_wrenches(chain: Chain, piece: int, twists: list[Array], angle: float) -> tuple[Array, Array]:
    """On a piece where it begins, and on the one ahead."""
    strips, twist = chain.strips, twists[piece]
    e = strips.first[piece] + piece
    place = np.array([strips.edge_place[e], 0.0, strips.edge_height_of_axis[e]])
    u, v, w = at(twist, place)
    momentum = np.array([0.0, strips.edge_sway_mass[e] * v, strips.edge_heave_mass[e] * w])
    rolling, energy = strips.edge_roll_inertia[e] * twist[3], 0.5 * (momentum[1] * v + momentum[2] * w)
    if piece:
        share = chain.joints.reattachment[piece - 1]
        end = np.array([-chain.pieces.length[piece - 1], 0.0, strips.edge_height_of_axis[e - 1]])
        before = at(twists[piece - 1], end)
        shed = share * np.array([0.0, strips.edge_sway_mass[e - 1], strips.edge_heave_mass[e - 1]]) * before
        momentum = momentum - about_z(angle).T @ shed
        rolling -= share * strips.edge_roll_inertia[e - 1] * twists[piece - 1][3]
        energy -= 0.5 * (shed @ before)
    rate = kept(chain, u, v, w)
    force = -rate * u * momentum + np.array([chain.suction * energy, 0.0, 0.0])
    roll = np.array([0.0, 0.0, 0.0, -rate * u * rolling, 0.0, 0.0])
    if not piece:
        return wrench(place, force) + roll, np.zeros(6)
    share, ahead = chain.joints.carry_over[piece - 1], twists[piece - 1]
    fore, aft = spread_places(chain, piece - 1)
    there, here = np.array([fore, 0.0, strips.edge_height_of_axis[e - 1]]), np.array([aft, 0.0, place[2]])
    turned, forward = about_z(angle) @ (rate * momentum), about_z(angle) @ force
    reach, back = there[0] + chain.pieces.length[piece - 1], here[0] - place[0]
    forward = forward + np.array([reach * (turned[1] * ahead[5] - turned[2] * ahead[4]), 0.0, 0.0])
    momentum = rate * momentum
    left = force + np.array([back * (momentum[1] * twist[5] - momentum[2] * twist[4]), 0.0, 0.0])
    return wrench(here, (1.0 - share) * left) + roll, wrench(there, share * forward)


def small_wrenches(chain: Chain, piece: int, twist: Array) -> Iterator[Array]:
    for k in np.flatnonzero(chain.points.piece == piece):
        here, half = at(twist, chain.points.place[k]), 0.5 * chain.density * chain.points.drag_area[k]
        yield wrench(chain.points.place[k], -half * np.linalg.norm(here) * here)
    plates = chain.plates
    for k in np.flatnonzero(plates.piece == piece):
        here, n = at(twist, plates.place[k]), plates.normal[k]
        across = min(abs(n @ here) / np.linalg.norm(here), 1.0)
        product = across * math.sqrt(1.0 - across**2)
        wing = plates.potential_slope[k] * product
        whole = wing + plates.edge_slope[k] * product**2 + plates.most_normal[k] * across**4
        size = 0.5 * chain.density * plates.area[k] * min(whole, plates.most_normal[k]) * (here @ here)
        share = wing / whole if whole > 0.0 else 1.0
        yield wrench(plates.place[k] - 0.25 * share * plates.chord[k], -math.copysign(size, n @ here) * n)


def own_wrench(chain: Chain, piece: int, twist: Array, down: Array) -> Array:
    """Weight, buoyancy, rear drag, and what mass and surging water need to turn."""
    pieces, v, w = chain.pieces, twist[:3], twist[3:]
    momentum = body_inertia(pieces, piece) @ twist
    total = -np.concatenate([np.cross(w, momentum[:3]), np.cross(w, momentum[3:]) + np.cross(v, momentum[:3])])
    total += wrench(pieces.centre[piece], chain.gravity * pieces.mass[piece] * down)
    total -= wrench(pieces.buoyancy_centre[piece], chain.gravity * chain.density * pieces.volume[piece] * down)
    middle, rear = (np.array([-share * pieces.length[piece], 0.0, 0.0]) for share in (0.5, 1.0))
    surging = np.array([pieces.surge_mass[piece] * v[0], 0.0, 0.0])
    total += wrench(middle, -np.cross(w, surging))
    total[3:] -= np.cross(at(twist, middle), surging)
    drag = 0.5 * chain.density * pieces.base_drag_area[piece] * np.linalg.norm(at(twist, rear)) * v[0]
    return total + wrench(rear, np.array([-drag, 0.0, 0.0]))


def line_force(chain: Chain, state: Array) -> tuple[Array, float]:
    """Wrench on the head, and the pull."""
    line, turn, joints = chain.line, rotation(state[3:7]), len(chain.joints.friction)
    way = -(state[:3] + turn @ line.eye)
    length = float(np.linalg.norm(way))
    way /= length
    speed = turn @ at(state[7 + joints : 13 + joints], line.eye) - np.array([SPEED, 0.0, 0.0])
    pull = max(0.0, line.stiffness * (length - line.length) - line.damping * float(way @ speed))
    pull = pull if length > line.length else 0.0
    return wrench(line.eye, pull * (turn.T @ way)), pull


def joint_moment(chain: Chain, angle: float, rate: float, joint: int) -> float:
    own = chain.joints
    moment = -own.stiffness[joint] * angle - own.damping[joint] * rate
    moment -= own.friction[joint] * (rate / CREEP) / math.hypot(1.0, rate / CREEP)
    if angle > own.most_left[joint]:
        moment -= own.stop_stiffness[joint] * (angle - own.most_left[joint]) + own.stop_damping[joint] * max(rate, 0.0)
    if angle < -own.most_right[joint]:
        moment -= own.stop_stiffness[joint] * (angle + own.most_right[joint]) + own.stop_damping[joint] * min(rate, 0.0)
    return moment


def force_and_matrix(chain: Chain, state: Array) -> tuple[Array, Array]:
    """Generalised force without the joints' own moments, and mass matrix."""
    joints = len(chain.joints.friction)
    angles, speeds = state[7 : 7 + joints], state[7 + joints :]
    here = jacobians(chain, angles)
    step = 1e-5
    later, sooner = (jacobians(chain, angles + sign * step * speeds[6:]) for sign in (1.0, -1.0))
    biases = [(a - b) @ speeds / (2.0 * step) for a, b in zip(later, sooner, strict=True)]
    twists = [jacobian @ speeds for jacobian in here]
    down = rotation(state[3:7]).T @ np.array([0.0, 0.0, 1.0])
    loads = [np.zeros(6) for _ in here]
    matrix, force = np.zeros((6 + joints, 6 + joints)), np.zeros(6 + joints)
    for piece, twist in enumerate(twists):
        if piece:
            down = about_z(angles[piece - 1]).T @ down
        own, ahead = front_wrenches(chain, piece, twists, angles[piece - 1] if piece else 0.0)
        loads[piece] += own + strip_wrench(chain, piece, twist) + own_wrench(chain, piece, twist, down)
        loads[piece] += sum(small_wrenches(chain, piece, twist), np.zeros(6))
        if piece:
            loads[piece - 1] += ahead
    loads[0] += line_force(chain, state)[0]
    for piece, jacobian in enumerate(here):
        inertia = body_inertia(chain.pieces, piece) + water_inertia(chain, piece)
        matrix += jacobian.T @ inertia @ jacobian
        force += jacobian.T @ (loads[piece] - inertia @ biases[piece])
    return force, matrix


def plain_rates(chain: Chain, state: Array) -> Array:
    joints = len(chain.joints.friction)
    angles, speeds = state[7 : 7 + joints], state[7 + joints :]
    force, matrix = force_and_matrix(chain, state)
    for joint in range(joints):
        force[6 + joint] += joint_moment(chain, angles[joint], speeds[6 + joint], joint)
    q0, q = state[3], state[4:7]
    w = speeds[3:6]
    turned = np.array([-0.5 * q @ w, *(0.5 * (q0 * w + np.cross(q, w)))])
    place = rotation(state[3:7]) @ speeds[:3] - np.array([SPEED, 0.0, 0.0])
    return np.concatenate([place, turned, speeds[6:], np.linalg.solve(matrix, force)])


def off_axis(chain: Chain) -> Chain:
    """The same with strips, hinges, masses and eye off the centre line, so that no term can hide."""
    chance = np.random.default_rng(11)

    def moved(places: Array, by: float) -> Array:
        return places + chance.uniform(-by, by, places.shape)

    strips = replace(chain.strips, height_of_axis=moved(chain.strips.height_of_axis, 3e-3),
                     edge_height_of_axis=moved(chain.strips.edge_height_of_axis, 3e-3))  # fmt: skip
    pieces = replace(chain.pieces, centre=moved(chain.pieces.centre, 2e-3),
                     buoyancy_centre=moved(chain.pieces.buoyancy_centre, 2e-3),
                     inertia=chain.pieces.inertia + np.array([[0, 1, 2], [1, 0, 3], [2, 3, 0]]) * 1e-7)  # fmt: skip
    count = len(chain.joints.friction)
    joints = replace(chain.joints, place=moved(chain.joints.place, 2e-3), friction=np.full(count, 1e-3),
                     damping=np.full(count, 2e-4), most_right=0.7 * chain.joints.most_right)  # fmt: skip
    return replace(chain, strips=strips, pieces=pieces, joints=joints, broadside=0.7,
                   line=replace(chain.line, eye=np.array([-4e-3, 1e-3, -6e-3])))  # fmt: skip


CHAINS = {
    "one piece": build(TrialLure(cuts=(), strips=20)),
    "one piece with a lip": build(TrialLure(cuts=(), strips=20, plates=lip())),
    "two pieces": build(TrialLure(cuts=(0.45,))),
    "three pieces": build(TrialLure()),
    "three pieces, stiff fin": build(TrialLure(fin=(0.025, 0.034))),
    "three pieces, soft fin, lip": build(TrialLure(fin=(0.025, 0.034), fin_stiffness=0.004, plates=lip())),
    "five pieces": build(TrialLure(cuts=(0.2, 0.4, 0.6, 0.8))),
}


def states(chain: Chain, seed: int = 5) -> Array:
    """(rows, LANES) states of every kind: forward and back, past the stops, line taut and slack."""
    joints = len(chain.joints.friction)
    chance = np.random.default_rng(seed)
    found = np.zeros((13 + 2 * joints, LANES))
    found[:3] = chance.normal(size=(3, LANES)) * [[0.02], [0.1], [0.1]] + [[-1.0], [0.0], [0.0]]
    found[3:7] = [[1.0], [0.2], [0.15], [0.2]] + 0.3 * chance.normal(size=(4, LANES))
    found[3:7] /= np.linalg.norm(found[3:7], axis=0)
    found[7 : 7 + joints] = chance.uniform(-0.8, 0.8, (joints, LANES))
    found[7 + joints : 10 + joints] = chance.normal(size=(3, LANES)) * 0.4 + [[0.9], [0.0], [0.0]]
    found[10 + joints :] = 2.0 * chance.normal(size=(3 + joints, LANES))
    return found


@pytest.mark.parametrize("name", CHAINS)
def test_rates_are_the_plain_ones(name: str) -> None:
    chain = off_axis(CHAINS[name])
    given = states(chain)
    found = rates(chain_tables(chain, SPEED), given)
    for lane in range(LANES):
        expected = plain_rates(chain, given[:, lane])
        assert found[:, lane] == pytest.approx(expected, rel=1e-7, abs=1e-7 * np.abs(expected).max())


@pytest.mark.parametrize("name", CHAINS)
def test_force_and_mass_are_the_plain_ones(name: str) -> None:
    chain = off_axis(CHAINS[name])
    given = states(chain, seed=8)
    force, packed = force_and_mass(chain_tables(chain, SPEED), given)
    for lane in range(LANES):
        expected_force, expected = force_and_matrix(chain, given[:, lane])
        lower = np.tril(packed[:, lane].reshape(expected.shape))
        assert lower == pytest.approx(np.tril(expected), rel=1e-10, abs=1e-12 * np.abs(expected).max())
        assert force[:, lane] == pytest.approx(expected_force, abs=1e-7 * np.abs(expected_force).max())


def test_lanes_do_not_know_of_each_other() -> None:
    chain = CHAINS["three pieces, soft fin, lip"]
    given = states(chain)
    tables = chain_tables(chain, SPEED)
    order = np.array([3, 1, 7, 0, 2, 6, 5, 4])
    assert (rates(tables, np.ascontiguousarray(given[:, order])) == rates(tables, given)[:, order]).all()


def test_what_may_not_change_does_not() -> None:
    chain = CHAINS["three pieces"]
    given = states(chain)
    given[4:6], given[3], given[6] = 0.0, math.cos(0.1), math.sin(0.1)
    planar = np.array([1.0, 1.0, 0.0, 0.0, 0.0, 1.0, 1.0, 1.0])
    found = rates(chain_tables(chain, SPEED, planar), given)[9:]
    assert (found[2:5] == 0.0).all()
    kept_in = np.flatnonzero(planar)
    force, matrix = force_and_matrix(chain, given[:, 0])
    moments = np.zeros(8)
    moments[6:] = [joint_moment(chain, given[7 + joint, 0], given[15 + joint, 0], joint) for joint in range(2)]
    expected = np.linalg.solve(matrix[np.ix_(kept_in, kept_in)], (force + moments)[kept_in])
    assert found[kept_in, 0] == pytest.approx(expected, rel=1e-7)
