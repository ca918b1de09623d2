"""Does it float, hang or sink, how fast, and at what attitude."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.classing import class_words
from gudgeon.physics.lure import LOG_FALL_DRAG, WATER
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.sinking import FallingBody, drag_area, excess_mass, heel, pitch, sink_velocity
from gudgeon.physics.spread import Array, Estimate, Knowledge, draws, sampled, smooth

_NEAR_NEUTRAL = 0.05  # share of its displacement within which tenths of a gram are told


@dataclass(frozen=True)
class SinkingRate:
    """A body fully under water.

    mass        : [kg]
    displaced   : [kg] of water
    excess      : [kg] weight in water; negative when it floats
    velocity    : [m/s] down positive
    attitude    : [rad] pitch of the steady fall or rise, nose-up positive
    list_angle  : [rad] right side down positive
    words       : the trade's class words over the range
    turns_over  : whether it would not stay the right way up
    decides     : [kg] weight to add that makes it hang exactly; negative to take off. None when far from hanging
    """

    mass: Estimate
    displaced: Estimate
    excess: Estimate
    velocity: Estimate
    attitude: Estimate
    list_angle: Estimate
    words: str
    turns_over: bool
    decides: float | None

    @property
    def straddles(self) -> bool:
        """Whether it may float and may sink."""
        return self.velocity.low < 0.0 < self.velocity.high

    @property
    def time_per_distance(self) -> Estimate | None:
        """[s/m] up or down; None when the range reaches hanging still."""
        ends = sorted(abs(end) for end in (self.velocity.low, self.velocity.high))
        if self.straddles or ends[0] < 1e-4:
            return None
        return Estimate(1.0 / abs(self.velocity.value), 1.0 / ends[1], 1.0 / ends[0])


def sinking_rate(state: Array, effects: Array, knowledge: Knowledge, falling: FallingBody) -> SinkingRate:
    """The answer for a state as now known.

    state   : (10,)        effects : (k, 10)
    falling : what the water sees of the body
    """

    def known(function: Callable[[Array], Array]) -> Estimate:
        return smooth(function, state, effects, knowledge)

    drawn = draws(state, effects, knowledge)
    tilted = pitch(drawn, drawn[:, WATER], falling)
    velocity = sampled(
        _velocity(drawn, tilted, falling), float(_velocity(state, pitch(state, state[WATER], falling), falling))
    )
    excess = known(lambda s: excess_mass(s, s[..., WATER]))
    attitude = sampled(tilted, float(pitch(state, state[WATER], falling)))
    return SinkingRate(
        mass=known(lambda s: s[..., MASS]),
        displaced=known(lambda s: s[..., WATER] * s[..., VOLUME]),
        excess=excess,
        velocity=velocity,
        attitude=attitude,
        list_angle=known(lambda s: heel(s, s[..., WATER], falling)),
        words=class_words(velocity),
        turns_over=abs(attitude.value) > 1.571,
        decides=-excess.value if abs(excess.value) < _NEAR_NEUTRAL * float(state[WATER] * state[VOLUME]) else None,
    )


def _velocity(state: Array, tilted: Array, falling: FallingBody) -> Array:
    water = state[..., WATER]
    area = drag_area(tilted, falling, np.exp(state[..., LOG_FALL_DRAG]))
    return sink_velocity(excess_mass(state, water), water, area)
