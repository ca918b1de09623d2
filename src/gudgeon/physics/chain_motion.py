"""A lure towed behind a carriage that moves straight and level: its motion from several starts, and what of it grows.

Frame: x forward, y to starboard, z down; see `tow_states` for what a state holds.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np

from gudgeon.errors import NoAnswer
from gudgeon.kernels.chain_steps import force_and_mass, run
from gudgeon.kernels.lanes import LANES
from gudgeon.kernels.tables import ANGLES, ATTITUDE
from gudgeon.physics.chain import Array, Chain
from gudgeon.physics.chain_tables import chain_tables
from gudgeon.physics.tow_states import displaced, eye_place, level_state, rates_of, settled, small_step, starts

__all__ = ["Mode", "Motion", "growing", "starts", "tow", "water_force"]

STEP = 0.006
"""[1] longest step, as a share of the time the lure takes for its own length."""
STOP_STEP = 0.6
"""[1] longest step times the natural rate of the stiffest stop."""
SAMPLE = 0.02
"""[1] time between samples, as a share of the same."""
PLANAR = (1.0, 1.0, 0.0, 0.0, 0.0, 1.0)
"""Motions of the first piece left free where it may only surge, sway and yaw."""


@dataclass(frozen=True, eq=False)
class Motion:
    """A tow from each of several starts. Arrays are read-only.

    speed      : [m/s]                  times : (n,) [s]
    place      : (n, 3, starts) [m] of the first piece's front end from the carriage
    attitude   : (n, 4, starts) quaternion, scalar first
    angles     : (n, joints, starts) [rad] positive where a piece's rear swings to port of the one ahead
    velocity   : (n, 3, starts) [m/s] through the water, and
    turning    : (n, 3, starts) [rad/s], in the first piece's own axes
    joint_rates : (n, joints, starts) [rad/s]
    pull       : (n, starts) [N] in the line
    tumbled    : (starts,) [s] when a start tumbled, from where on it is held as it was; infinite where it did not
    """

    speed: float
    times: Array
    place: Array
    attitude: Array
    angles: Array
    velocity: Array
    turning: Array
    joint_rates: Array
    pull: Array
    tumbled: Array

    def __post_init__(self) -> None:
        for one in fields(self):
            value = getattr(self, one.name)
            if isinstance(value, np.ndarray):
                value.flags.writeable = False

    @property
    def states(self) -> Array:
        """(rows, n, starts) as `tow_states` has them."""
        parts = (self.place, self.attitude, self.angles, self.velocity, self.turning, self.joint_rates)
        return np.moveaxis(np.concatenate(parts, axis=1), 1, 0)

    def line_slant(self, chain: Chain, start: int) -> float:
        """Mean angle [rad] at which the line slopes down to a start's eye, over the second half."""
        half = len(self.times) // 2
        eye = eye_place(chain, self.states[:, half:, start])
        return float(np.mean(np.arctan2(eye[2], np.hypot(eye[0], eye[1]))))


def step_of(chain: Chain, speed: float) -> float:
    """Time step [s] that a tow is reckoned with: short beside the passing of a length, and beside a knock on a stop.

    A stop so stiff that its knock would ask for an eighth of the step is left to the implicit part of the scheme.
    """
    passing = STEP * float(chain.pieces.length.sum()) / speed
    joints = chain.joints
    if not len(joints.friction):
        return passing
    _, mass = force_and_inertia(chain, level_state(chain, speed), speed)
    firm = np.sqrt(np.maximum(joints.stop_stiffness, joints.stiffness))
    quickest = math.sqrt(float(np.linalg.eigvalsh(np.linalg.inv(mass)[6:, 6:] * np.outer(firm, firm))[-1]))
    return float(np.clip(STOP_STEP / max(quickest, 1e-9), 0.125 * passing, passing))


def force_and_inertia(chain: Chain, state: Array, speed: float) -> tuple[Array, Array]:
    """Generalised force (motions,) and mass matrix (motions, motions) of a state, motions as in its velocities.

    The force is that of water, weight, line and the chain's own turning; springs, stops and friction are not in it.
    """
    force, packed = force_and_mass(chain_tables(chain, speed), np.repeat(state[:, None], LANES, axis=1))
    lower = np.tril(packed[:, 0].reshape(len(force), len(force)))
    return np.asarray(force[:, 0]), np.asarray(lower + np.tril(lower, -1).T)


def tow(
    chain: Chain, speed: float, starts: Array, duration: float, *, free: Sequence[float] | None = None,
    step: float | None = None, sample: float | None = None,
) -> Motion:  # fmt: skip
    """The motion from every start, side by side.

    speed    : [m/s] of the carriage, more than 0        duration : [s]
    starts   : (rows, k) states, as `starts` gives them
    free     : (6,) 1 for a motion of the first piece that may change, 0 for one that may not; joints always may
    step     : [s] of time, `step_of` when left out      sample : [s] between what is kept, at least one step
    raises   : NoAnswer for a speed or duration that is not more than 0, or states of another chain
    """
    joints = len(chain.joints.friction)
    if not (math.isfinite(speed) and speed > 0.0 and math.isfinite(duration) and duration > 0.0):
        raise NoAnswer(f"a tow at {speed:g} m/s for {duration:g} s: both are more than 0")
    rows = 13 + 2 * joints
    if starts.ndim != 2 or len(starts) != rows or not np.isfinite(starts).all():
        raise NoAnswer(f"starts of shape {starts.shape}; with {joints} joints: {rows} numbers to each, all finite")
    pace = step_of(chain, speed) if step is None else step
    wanted = SAMPLE * float(chain.pieces.length.sum()) / speed if sample is None else sample
    every = max(1, round(wanted / pace))
    samples = math.floor(duration / (every * pace) + 1e-9) + 1
    tables = chain_tables(chain, speed, None if free is None else np.array([*free, *np.ones(joints)]))
    count = starts.shape[1]
    record, tumbled = np.empty((samples, len(starts) + 1, count)), np.empty(count)
    for first in range(0, count, LANES):
        own = slice(first, min(first + LANES, count))
        lanes = np.arange(first, first + LANES)
        state = np.ascontiguousarray(starts[:, np.minimum(lanes, count - 1)], dtype=float)
        kept, moving = np.empty((samples, len(starts) + 1, LANES)), np.stack([np.ones(LANES), np.full(LANES, np.inf)])
        run(tables, state, pace, every, kept, moving)
        record[:, :, own], tumbled[own] = kept[:, :, : own.stop - first], moving[1, : own.stop - first]
    return _motion(speed, every * pace, record, tumbled)


def _motion(speed: float, between: float, record: Array, tumbled: Array) -> Motion:
    joints = (record.shape[1] - 14) // 2
    ends = np.cumsum([3, 4, joints, 3, 3, joints])
    place, attitude, angles, velocity, turning, joint_rates, pull = np.split(record, ends, axis=1)
    return Motion(
        speed=speed, times=between * np.arange(len(record), dtype=float), place=place, attitude=attitude, angles=angles,
        velocity=velocity, turning=turning, joint_rates=joint_rates, pull=pull[:, 0], tumbled=tumbled,
    )  # fmt: skip


def water_force(chain: Chain, velocity: Array, angles: Array | None = None) -> Array:
    """Force (3) [N] and moment about the nose (3) [N m] of steady water on a chain held as it is, in the head's axes.

    velocity : (6,) of the nose through the water [m/s] and of the whole turning [rad/s], in the same axes
    angles   : (joints,) [rad] straight when left out
    """
    joints, pieces = len(chain.joints.friction), chain.pieces
    hollow = replace(pieces, mass=np.zeros_like(pieces.mass), inertia=np.zeros_like(pieces.inertia),
                     volume=np.zeros_like(pieces.volume))  # fmt: skip
    bare = replace(chain, pieces=hollow, line=replace(chain.line, stiffness=0.0, damping=0.0))
    state = level_state(bare, 1.0)
    state[ANGLES : ANGLES + joints] = 0.0 if angles is None else angles
    state[ANGLES + joints : ANGLES + joints + 6] = velocity
    return np.asarray(force_and_inertia(bare, state, 1.0)[0][:6])


@dataclass(frozen=True)
class Mode:
    """One way in which a straight tow answers a small push, friction of the joints left out.

    rate      : [1/s] at which it grows; less than 0 where it dies away
    frequency : [1/s] of its swinging; 0 where it does not swing
    way       : "swing" or "slew"
    what      : what of the lure moves most: "head's yaw", "roll", "pitch", "joint 1", ... or its place
    shares    : how much each moves, over the most: the same names
    """

    rate: float
    frequency: float
    way: str
    what: str
    shares: dict[str, float]


def growing(chain: Chain, speed: float, *, free: Sequence[float] | None = None) -> tuple[Mode, ...]:
    """Every mode of the straight tow, the one that grows fastest first; each swing once.

    free   : (6,) as for `tow`
    raises : NoAnswer where line, weight and water do not balance at that speed
    method : eigenvalues of the central-difference Jacobian about the settled tow
    """
    joints = len(chain.joints.friction)
    still = replace(chain, joints=replace(chain.joints, friction=np.zeros(joints)))
    mask = None if free is None else np.array([*free, *np.ones(joints)])
    rest = settled(still, speed, mask)
    if not rest.is_settled:
        raise NoAnswer(f"at {speed:g} m/s this lure does not settle on its line: line, weight and water do not balance")
    kept = np.arange(6 + joints) if mask is None else np.flatnonzero(mask)
    values, vectors = np.linalg.eig(_jacobian(still, speed, rest.state, mask)[np.ix_(
        np.concatenate([kept, kept + 6 + joints]), np.concatenate([kept, kept + 6 + joints]))])  # fmt: skip
    names = [*("place along", "place aside", "depth", "roll", "pitch", "head's yaw"),
             *(f"joint {number}" for number in range(1, joints + 1))]  # fmt: skip
    scale = np.array([1.0 / float(chain.pieces.length.sum())] * 3 + [1.0] * (3 + joints))[kept]
    found = []
    for value, vector in zip(values, vectors.T, strict=True):
        if value.imag < 0.0:
            continue
        moved = np.abs(vector[: len(kept)]) * scale
        shares = {names[place]: float(share) for place, share in zip(kept, moved / moved.max(), strict=True)}
        swings = value.imag > 1e-6 * abs(value)
        found.append(Mode(
            rate=float(value.real), frequency=float(value.imag) / math.tau if swings else 0.0,
            way="swing" if swings else "slew", what=max(shares, key=lambda name: shares[name]), shares=shares,
        ))  # fmt: skip
    return tuple(sorted(found, key=lambda mode: -mode.rate))


def _jacobian(chain: Chain, speed: float, state: Array, free: Array | None) -> Array:
    """Slopes (2 m, 2 m) of the rates of places, turns, angles and velocities, by themselves; m = 6 + joints."""
    joints = len(chain.joints.friction)
    count = 6 + joints
    scale = np.concatenate([np.full(count, small_step(chain, state)), np.full(count, 1e-6 * speed)])
    off = [sign * row for row in np.diag(scale) for sign in (1.0, -1.0)]
    states = np.stack([displaced(state, one) for one in off], axis=1)
    found = rates_of(chain, speed, states, free)
    turning = states[ANGLES + joints + 3 : ANGLES + joints + 6]
    rows = np.concatenate([found[:ATTITUDE], turning, found[ANGLES:]])
    return np.asarray((rows[:, ::2] - rows[:, 1::2]) / (2.0 * scale))
