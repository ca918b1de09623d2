"""How fast timed drops went, by distance and watch alone."""

import math
from collections.abc import Sequence

from gudgeon.answers.known import Known
from gudgeon.design.model import Uncertainty
from gudgeon.physics.estimate import Estimate, around
from gudgeon.shop.records import TimedDrop
from gudgeon.units import Reading

RATE = "timed drop"
DISTANCE_SHARE = 0.02  # half-width of the distance, where several drops tell the rest


def timed_rate(distance: float, times: Sequence[Reading], rises: bool) -> Known:
    """The velocity that drops of a distance [m] show [m/s], down positive; at least one time."""
    mean = sum(time.value for time in times) / len(times)
    share = Uncertainty().timed_drop
    given = [time.spread for time in times if time.spread is not None]
    if len(given) == len(times):
        share = math.sqrt(sum(spread**2 for spread in given)) / len(times) / mean
    elif len(times) >= 3:
        scatter = math.sqrt(sum((time.value - mean) ** 2 for time in times) / (len(times) - 1))
        share = math.hypot(2.0 * scatter / math.sqrt(len(times)) / mean, DISTANCE_SHARE)
    velocity = (-1.0 if rises else 1.0) * distance / mean
    spread = share * abs(velocity)
    return Known(RATE, velocity, spread, "drop it three times over a longer way", 0.4 * spread)


def velocity_of(drop: TimedDrop) -> Estimate:
    """How fast a drop of the log went [m/s], down positive."""
    known = timed_rate(drop.distance.value, [Reading(time) for time in drop.times], drop.rises)
    return around(known.value, known.spread)
