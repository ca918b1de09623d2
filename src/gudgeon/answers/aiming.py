"""What the aim asks of the lure: its weight in water, and the line its weight centre must stand under."""

from dataclasses import dataclass

import numpy as np

from gudgeon.design.model import Aim
from gudgeon.physics.floater import floating_body, sunk_if_hanging, support_when_afloat
from gudgeon.physics.flotation import resting
from gudgeon.physics.lure import LOG_FALL_DRAG, WATER, Lure
from gudgeon.physics.mass import MASS, VOLUME, VOLUME_X, VOLUME_Z
from gudgeon.physics.sinking import FallingBody, drag_area, pitch
from gudgeon.physics.spread import Array
from gudgeon.units import STANDARD_GRAVITY


@dataclass(frozen=True)
class Target:
    """An aim for one lure.

    aim     : as the maker wrote it
    excess  : [kg] wanted weight in water, negative for a floater
    support : (2,) [m] station and height where the upward forces act together when the aim is met
    """

    aim: Aim
    falling: FallingBody
    excess: float
    support: Array

    def excess_at(self, state: Array) -> Array:
        """Wanted weight in water [kg] in other states of water, volume and drag; state : (..., 10)."""
        return wanted_excess(self.aim, self.falling, state)


def steady_pitch(lure: Lure, state: Array) -> float:
    """Pitch [rad] a lure takes: afloat at rest, or under water in its steady fall; state : (10,)."""
    if state[MASS] >= state[WATER] * state[VOLUME]:
        return float(pitch(state, state[WATER], lure.falling))
    body = sunk_if_hanging(floating_body(lure), float(state[WATER]))
    return resting(body, float(state[WATER]), drag_centre=np.asarray(lure.falling.drag_centre)).pitch


def target_of(aim: Aim, lure: Lure) -> Target:
    """The aim's wish for this lure with its water and drag as now known."""
    state, _ = lure.state()
    excess = float(wanted_excess(aim, lure.falling, state))
    if excess < 0.0:
        water = float(state[WATER])
        support = support_when_afloat(lure, water, water * float(state[VOLUME]) + excess, aim.attitude)
    else:
        water = state[WATER] * state[VOLUME]
        moment = state[WATER] * np.array([state[VOLUME_X], state[VOLUME_Z]])
        drag = excess * np.array([lure.falling.drag_centre[0], lure.falling.drag_centre[2]])
        support = (moment + drag) / (water + excess)
    return Target(aim, lure.falling, excess, support)


def wanted_excess(aim: Aim, falling: FallingBody, state: Array) -> Array:
    """Wanted weight in water [kg]; state : (..., 10)."""
    if aim.does == "hangs":
        return np.zeros(state.shape[:-1])
    if aim.reserve is not None:
        return np.asarray(-aim.reserve * state[..., WATER] * state[..., VOLUME])
    rate = aim.rate or 0.0
    area = drag_area(aim.attitude, falling, np.exp(state[..., LOG_FALL_DRAG]))
    excess = 0.5 * state[..., WATER] * area * rate**2 / STANDARD_GRAVITY
    return np.asarray(excess if aim.does == "sinks" else -excess)
