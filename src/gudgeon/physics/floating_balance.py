"""The sinkage and attitude at which a floating body is in balance: where its potential energy is lowest nearby.

The attitude is carried as the upward direction in body axes, so nothing is special about any angle, and every turn
moves that direction along a great circle.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.errors import NoAnswer
from gudgeon.physics.body_sections import Array
from gudgeon.physics.waterplane import FloatingBody, Immersed, height_of_weights, immersed_below
from gudgeon.units import Density, Length

_STEPS = 80
_HALVINGS = 25
_LARGEST_TURN = 0.35  # [rad] in one step
# Shares of the body's size: what counts as balanced, and as a stiffness that is nought.
_BALANCED = 1e-10
_NEARLY = 1e-6
_NEUTRAL = 1e-7
_SAME_TURN = 0.03  # [rad] between the ends of two ways to one balance


@dataclass(frozen=True, eq=False)
class Balance:
    """A floating position, and how energy changes around it.

    up               : (3,)    upward direction in body axes
    waterline_height : [m]     height of the water above the body's origin
    under            : what is under water there
    energy           : [m]     potential energy over weight
    turns            : (k, 3)  directions in which `up` may move: none, one (heel held) or two
    slope            : (1 + k) energy against waterline height [1] and against turning along each of `turns` [m]
    stiffness        : (1 + k, 1 + k) second derivatives of energy in the same order [1/m, 1, m]
    """

    up: Array
    waterline_height: Length
    under: Immersed
    energy: Length
    turns: Array
    slope: Array
    stiffness: Array

    def turning_stiffness(self) -> Array:
        """Metacentric heights (k, k) [m] for turning along each of `turns` while the sinkage follows."""
        sink, turn, both = self.stiffness[0, 0], self.stiffness[1:, 1:], self.stiffness[0, 1:]
        if sink <= 0.0:
            return turn
        return np.asarray(turn - np.outer(both, both) / sink)


def level_turns(up: Array) -> Array:
    """The two directions (2, 3) `up` moves in when the nose is lifted, and when the right side goes down."""
    level = math.hypot(up[1], up[2])
    ny, nz = (up[1] / level, up[2] / level) if level > 1e-12 else (0.0, 1.0)
    return np.array([[-level, up[0] * ny, up[0] * nz], [0.0, -nz, ny]])


def balance_at(
    body: FloatingBody, water_density: Density, up: Array, waterline_height: Length, *, pitch_axis: Array | None
) -> Balance:
    """Energy, slope and stiffness of a body held as said, in balance or not.

    water_density    : [kg/m3]
    up               : (3,) unit
    waterline_height : [m]
    pitch_axis       : (3,) when heel is held, the axis in the body it may pitch about; None leaves it free
    """
    under = immersed_below(body, up, waterline_height)
    turns = level_turns(up) if pitch_axis is None else np.cross(up, pitch_axis)[None]
    share = water_density / body.mass
    lever = body.centre - share * under.turning
    slope = np.concatenate([[share * under.volume - 1.0], turns @ lever])
    reach = turns @ under.waterplane_first
    stiffness = np.empty((len(slope), len(slope)))
    stiffness[0, 0] = share * under.waterplane_area
    stiffness[0, 1:] = stiffness[1:, 0] = -share * reach
    held = share * turns @ under.waterplane_second @ turns.T
    stiffness[1:, 1:] = held - np.eye(len(turns)) * float(up @ lever)
    energy = height_of_weights(body, water_density, up, waterline_height, under) / body.mass
    return Balance(up, waterline_height, under, energy, turns, slope, stiffness)


def first_waterline(body: FloatingBody, water_density: Density, up: Array) -> Length:
    """A waterline height [m] at which the body displaces about its own mass, from a coarse count of its volume."""
    lines = body.outline
    corners = np.stack([lines.y[:, :-1:4], lines.z[:, :-1:4]], axis=2)
    # at 0.7 of the way out lies the radius that halves the area of a section
    points = lines.middle[:, None] + 0.7 * (corners - lines.middle[:, None])
    heights = (points @ up[1:] + (up[0] * body.stations)[:, None]).ravel()
    volumes = np.repeat(body.weights * lines.areas / points.shape[1], points.shape[1])
    order = np.argsort(heights)
    filled = np.cumsum(volumes[order])
    share = min(body.mass / (water_density * body.volume), 1.0)
    place = int(np.searchsorted(filled, share * filled[-1]))
    return float(heights[order[min(place, len(order) - 1)]])


def carrying_height(body: FloatingBody, water_density: Density, up: Array) -> Length:
    """Waterline height [m] at which a floater held with `up` (3,) upward displaces its own mass.

    method : Newton on the waterplane, kept between heights known to be too low and too high
    """
    wanted = body.mass / water_density
    corners = body.polygons @ up[1:] + (up[0] * body.stations)[:, None]
    room = float(body.weights.max() + (body.radii.max() if len(body.radii) else 0.0))
    places = body.place_of_displacers @ up
    low = min(float(corners.min()), float(places.min(initial=math.inf))) - room
    high = max(float(corners.max()), float(places.max(initial=-math.inf))) + room
    height = first_waterline(body, water_density, up)
    for _ in range(_STEPS):
        under = immersed_below(body, up, height)
        short = wanted - under.volume
        if abs(short) <= 1e-12 * wanted or high - low <= 1e-15 + 1e-12 * room:
            break
        low, high = (height, high) if short > 0.0 else (low, height)
        # where there is no waterplane to go by, halve the way
        ahead = height + short / under.waterplane_area if under.waterplane_area > 0.0 else math.inf
        height = ahead if low < ahead < high else 0.5 * (low + high)
    return height


def settled(
    body: FloatingBody,
    water_density: Density,
    up: Array,
    waterline_height: Length,
    *,
    pitch_axis: Array | None,
    known: Sequence[Balance] = (),
) -> Balance:
    """The balance a body comes to when let go as said, going downhill in energy all the way.

    The arguments are those of `balance_at`, and
    known   : balances found before; on the way into the hollow of one, that one is returned
    returns : a Balance whose slope is nought
    raises  : NoAnswer when none is found
    method  : Newton steps with the stiffness made positive along its own axes, halved until energy falls
    """
    here = balance_at(body, water_density, up, waterline_height, pitch_axis=pitch_axis)
    scale = np.ones(len(here.slope))
    scale[0] = body.size
    for _ in range(_STEPS):
        if _steepest(here, body.size) < _BALANCED * body.size:
            return here
        step = _downhill(here, scale, body.size)
        for old in known:
            if _leads_to(here, step, old):
                return old
        after = _lowered(body, water_density, here, step, pitch_axis=pitch_axis)
        if after is None:
            break
        here = after
    if _steepest(here, body.size) < _NEARLY * body.size:
        return here
    raise NoAnswer("the lure has no floating position in which weight and water balance; check its mass and volume")


def _leads_to(here: Balance, step: Array, old: Balance) -> bool:
    """Whether a Newton step out of a hollow's side ends at its known bottom."""
    end = turned(here.up, here.turns, step[1:])
    return float(np.linalg.norm(end - old.up)) < _SAME_TURN and _in_hollow(here)


def _in_hollow(here: Balance) -> bool:
    return bool(np.linalg.eigvalsh(here.stiffness)[0] > 0.0)


def _steepest(here: Balance, size: Length) -> Length:
    """The largest lever out of balance [m], a force counted as acting at the body's size."""
    return max(size * abs(float(here.slope[0])), float(np.abs(here.slope[1:]).max()))


def _downhill(here: Balance, scale: Array, size: Length) -> Array:
    """The step [m, rad] to take: a Newton step, never uphill, never farther than a sure turn."""
    values, axes = np.linalg.eigh(here.stiffness * np.outer(scale, scale))
    along = axes.T @ (here.slope * scale)
    step = -axes @ (along / np.maximum(np.abs(values), 1e-6 * size))
    longest = max(abs(float(step[0])), float(np.linalg.norm(step[1:])) / _LARGEST_TURN)
    return np.asarray(step * scale / max(longest, 1.0))


def _lowered(
    body: FloatingBody, water_density: Density, here: Balance, step: Array, *, pitch_axis: Array | None
) -> Balance | None:
    """The balance after as much of `step` as lowers the energy; None when no part of it does."""
    gain = float(here.slope @ step)
    rounding = 1e-14 * (abs(here.energy) + body.size)
    for halving in range(_HALVINGS):
        part = 0.5**halving
        there = balance_at(
            body,
            water_density,
            turned(here.up, here.turns, part * step[1:]),
            here.waterline_height + part * float(step[0]),
            pitch_axis=pitch_axis,
        )
        if there.energy <= here.energy + 1e-4 * part * gain + rounding:
            return there
    return None


def turned(up: Array, turns: Array, angles: Array) -> Array:
    """`up` moved along the great circle that starts toward angles @ turns, by the length of that [rad]."""
    way = angles @ turns
    angle = float(np.linalg.norm(way))
    if angle == 0.0:
        return up
    moved = math.cos(angle) * up + math.sin(angle) / angle * way
    return np.asarray(moved / np.linalg.norm(moved))


def is_stable(balance: Balance, size: Length) -> bool:
    """Whether a small turn raises the energy, or leaves it (a round body may roll and be as well off)."""
    return bool(np.linalg.eigvalsh(balance.turning_stiffness())[0] > -_NEUTRAL * size)


def settled_stably(
    body: FloatingBody, water_density: Density, up: Array, waterline_height: Length, known: Sequence[Balance] = ()
) -> Balance:
    """The stable balance a free body comes to when let go as said, leaving by a nudge where it stands on a ridge.

    The arguments and refusals are those of `settled`.
    """
    here = settled(body, water_density, up, waterline_height, pitch_axis=None, known=known)
    for _ in range(4):
        if is_stable(here, body.size):
            return here
        softest = np.linalg.eigh(here.turning_stiffness())[1][:, 0]
        # of the two ways off the ridge take the one that lowers the right side, or lifts the nose
        side = softest[1] if abs(softest[1]) > 1e-6 else softest[0]
        aside = turned(here.up, here.turns, 0.1 * math.copysign(1.0, float(side)) * softest)
        here = settled(body, water_density, aside, here.waterline_height, pitch_axis=None, known=known)
    return here


def mirror_image(body: FloatingBody, water_density: Density, balance: Balance) -> Balance | None:
    """The same position with left and right changed over, when that is a balance too: as in a body alike on both."""
    up = balance.up * np.array([1.0, -1.0, 1.0])
    other = balance_at(body, water_density, up, balance.waterline_height, pitch_axis=None)
    return other if _steepest(other, body.size) < 10.0 * _BALANCED * body.size else None
