"""States of a towed chain: straight, settled on its line, or started off it; one column for each lane of the kernels.

Rows: place of the first piece's front end from the carriage (3) [m], earth's axes, x the way it goes, y to starboard,
z down; attitude quaternion (4), scalar first; joint angles [rad], positive where a piece's rear swings to port of the
one ahead; velocity of that front end through the water (3) [m/s] and turning (3) [rad/s] in the first piece's own axes;
joint rates [rad/s].
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from gudgeon.kernels.chain_steps import rates
from gudgeon.kernels.lanes import LANES
from gudgeon.kernels.tables import ANGLES, ATTITUDE
from gudgeon.physics.chain import Array, Chain
from gudgeon.physics.chain_tables import chain_tables
from gudgeon.physics.straight_tow import straight_drag

YAW, ROLL, BEND = 0.3, 0.3, 0.3
"""[rad] furthest that a start stands off the straight tow; a joint no further than 0.8 of its swing."""
_ROUNDS = 40
_SETTLED = 1e-8  # m/s2 and rad/s2 over the speed squared per length


def level_state(chain: Chain, speed: float) -> Array:
    """(rows,) of a chain towed level and straight, its line stretched and slanted by drag and weight in water."""
    joints = len(chain.joints.friction)
    state = np.zeros(2 * joints + 13)
    drag = 0.5 * chain.density * speed**2 * straight_drag(chain).whole
    weight = chain.gravity * float(chain.pieces.mass.sum() - chain.density * chain.pieces.volume.sum())
    pull = math.hypot(drag, weight)
    length = chain.line.length + (pull / chain.line.stiffness if chain.line.stiffness > 0.0 else 0.0)
    slant = math.atan2(weight, drag)
    state[:3] = -chain.line.eye - length * np.array([math.cos(slant), 0.0, -math.sin(slant)])
    state[ATTITUDE], state[ANGLES + joints] = 1.0, speed
    return state


def rates_of(chain: Chain, speed: float, states: Array, free: Array | None = None) -> Array:
    """Rates of change (rows, k) of k states (rows, k)."""
    tables = chain_tables(chain, speed, free)
    count = states.shape[1]
    padded = np.ascontiguousarray(states[:, np.arange(-(-count // LANES) * LANES) % count])
    found = [rates(tables, np.ascontiguousarray(padded[:, start : start + LANES]))
             for start in range(0, padded.shape[1], LANES)]  # fmt: skip
    return np.concatenate(found, axis=1)[:, :count]


def displaced(state: Array, off: Array) -> Array:
    """A state moved by (2 (6 + joints),): place (3), turn (3) about its own axes, angles, then all its velocities."""
    joints = (len(state) - 13) // 2
    moved = state.copy()
    moved[:3] += off[:3]
    moved[ATTITUDE:ANGLES] = _turned(state[ATTITUDE:ANGLES], off[3:6])
    moved[ANGLES:] += off[6:]
    assert len(off) == 12 + 2 * joints
    return moved


def _turned(quaternion: Array, turn: Array) -> Array:
    """A quaternion turned on by a rotation vector in its own axes."""
    angle = float(np.linalg.norm(turn))
    axis = turn / angle if angle > 0.0 else turn
    w, v = math.cos(0.5 * angle), math.sin(0.5 * angle) * axis
    q, p = quaternion[0], quaternion[1:]
    return np.array([q * w - p @ v, *(q * v + w * p + np.cross(p, v))])


def facing(state: Array, speed: float) -> Array:
    """A state whose front end moves with the carriage, whatever its attitude; nothing turns."""
    joints = (len(state) - 13) // 2
    w, x, y, z = state[ATTITUDE:ANGLES]
    found = state.copy()
    found[ANGLES + joints :] = 0.0
    ahead = np.array([1.0 - 2.0 * (y * y + z * z), 2.0 * (x * y - w * z), 2.0 * (x * z + w * y)])
    found[ANGLES + joints : ANGLES + joints + 3] = speed * ahead
    return found


@dataclass(frozen=True)
class Settled:
    """A chain at rest behind its carriage, stable or not.

    state : (rows,)    left : [1] largest acceleration left, over speed squared per length    is_settled : found
    """

    state: Array
    left: float
    is_settled: bool


def settled(chain: Chain, speed: float, free: Array | None = None) -> Settled:
    """The straight tow: where line, weight and water balance with every joint as good as straight.

    method : Newton from the level straight tow, slopes by central differences, steps no longer than 0.3 rad
    """
    joints = len(chain.joints.friction)
    still = replace(chain, joints=replace(chain.joints, friction=np.zeros(joints)))
    count = 6 + joints
    length = float(chain.pieces.length.sum())
    scale = speed**2 / length
    state = level_state(chain, speed)
    for _ in range(_ROUNDS):
        rest = _accelerations(still, speed, [state], free)[:, 0]
        left = float(np.abs(rest[:3]).max() + length * np.abs(rest[3:]).max(initial=0.0)) / (scale * length)
        if left < _SETTLED:
            return Settled(state, left, is_settled=True)
        steps = small_step(chain, state) * np.eye(count)
        both = [facing(_moved(state, sign * step), speed) for step in steps for sign in (1.0, -1.0)]
        found = _accelerations(still, speed, both, free)
        slopes = (found[:, ::2] - found[:, 1::2]) / (2.0 * steps[0, 0])
        move = np.asarray(-np.linalg.lstsq(slopes, rest, rcond=1e-10)[0], dtype=float)
        longest = float(np.abs(move[3:]).max(initial=0.0))
        state = facing(_moved(state, move * min(1.0, 0.3 / max(longest, 1e-30))), speed)
    return Settled(state, left, is_settled=False)


def small_step(chain: Chain, state: Array) -> float:
    """[m] or [rad] for differences: a micrometre, or less where the line, stretched by little more, would go slack."""
    stretch = float(np.linalg.norm(eye_place(chain, state))) - chain.line.length
    return min(1e-6, 0.1 * stretch) if stretch > 0.0 else 1e-6


def _moved(state: Array, move: Array) -> Array:
    return displaced(state, np.concatenate([move, np.zeros(len(move))]))


def _accelerations(chain: Chain, speed: float, states: list[Array], free: Array | None) -> Array:
    """(6 + joints, k) of k states."""
    joints = len(chain.joints.friction)
    return rates_of(chain, speed, np.stack(states, axis=1), free)[ANGLES + joints :]


def starts(
    chain: Chain, speed: float, count: int = LANES, *, seed: int = 7, mirrored: bool = False,
    free: Sequence[float] | None = None,
) -> Array:  # fmt: skip
    """(rows, count) states to begin a tow from: the settled tow yawed, rolled and bent by chance, at the same speed.

    seed     : the same starts for the same seed, whatever the chain
    mirrored : every second start is the one before it seen in a mirror
    free     : (6,) as for `tow`: what may not change stands as in the straight tow
    """
    joints = len(chain.joints.friction)
    found = settled(chain, speed, None if free is None else np.array([*free, *np.ones(joints)]))
    straight = found.state if found.is_settled else level_state(chain, speed)
    chance = np.random.default_rng(seed).uniform(-1.0, 1.0, (count, 2 + joints))
    if mirrored:
        chance[1::2] = -chance[: count - count % 2 : 2]
    most = np.minimum(BEND, 0.8 * np.minimum(chain.joints.most_left, chain.joints.most_right))
    states = []
    for share in chance:
        off = np.zeros(12 + 2 * joints)
        off[3], off[5], off[6 : 6 + joints] = ROLL * share[0], YAW * share[1], most * share[2:]
        off[:6] *= np.ones(6) if free is None else np.array(free)
        states.append(_tied(chain, straight, facing(displaced(straight, off), speed)))
    return np.stack(states, axis=1)


def _tied(chain: Chain, straight: Array, state: Array) -> Array:
    """A state shifted so that its eye is where the straight tow's is."""
    found = state.copy()
    found[:3] += eye_place(chain, straight[:, None])[:, 0] - eye_place(chain, state[:, None])[:, 0]
    return found


def eye_place(chain: Chain, states: Array) -> Array:
    """(3, ...) [m] of the tow eye from the carriage, of states (rows, ...)."""
    w, x, y, z = states[ATTITUDE:ANGLES]
    a, b, c = chain.line.eye
    return np.stack([
        states[0] + (1.0 - 2.0 * (y * y + z * z)) * a + 2.0 * (x * y - w * z) * b + 2.0 * (x * z + w * y) * c,
        states[1] + 2.0 * (x * y + w * z) * a + (1.0 - 2.0 * (x * x + z * z)) * b + 2.0 * (y * z - w * x) * c,
        states[2] + 2.0 * (x * z - w * y) * a + 2.0 * (y * z + w * x) * b + (1.0 - 2.0 * (x * x + y * y)) * c,
    ])  # fmt: skip
