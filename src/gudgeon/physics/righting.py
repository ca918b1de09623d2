"""The moment that rights a heeled body, and how far over it may go and still come back."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.physics.body_sections import Array
from gudgeon.physics.floating_balance import Balance, first_waterline, settled, settled_stably
from gudgeon.physics.flotation import floats, submerged_lever, upright_balance
from gudgeon.physics.waterplane import FloatingBody, attitude_of, up_vector
from gudgeon.units import STANDARD_GRAVITY, Angle, Density, Length

_STRIDE = math.radians(10.0)
_ANGLE_FOUND = 1e-6
# Farther than this from the last heel solved, the next is begun afresh.
_NEAR = 0.6


@dataclass(frozen=True)
class RightingRange:
    """The heels between which a body let go returns to where it rests.

    rest  : [rad] heel at which it rests, begun from upright
    left  : [rad] heel below which it goes over to the left
    right : [rad] heel above which it goes over to the right
    """

    rest: Angle
    left: Angle
    right: Angle


def righting_arms(
    body: FloatingBody, water_density: Density, heels: Sequence[float] | Array, *, drag_centre: Array | None = None
) -> Array:
    """Righting arm at each heel (k,) [m]: how far buoyancy acts to the low side of the weight, seen along the body.

    heels       : (k,) [rad] right side down positive; a floater's solutions follow each other, so give them in order
    drag_centre : (3,) [m] of a body that sinks, see `resting`
    returns     : positive at a positive heel when it rights. A floater's sinkage and trim are free at each heel; a
                  body under water has

                      arm = -(lever_y cos heel + lever_z sin heel)

                  whatever its trim
    raises      : NoAnswer as `resting` does
    """
    angles = np.asarray(heels, dtype=np.float64)
    if not floats(body, water_density):
        return _submerged_arms(submerged_lever(body, water_density, drag_centre), angles)
    arm = _floating_arm(body, water_density)
    return np.array([arm(float(heel)) for heel in angles])


def righting_moments(
    body: FloatingBody, water_density: Density, heels: Sequence[float] | Array, *, drag_centre: Array | None = None
) -> Array:
    """Righting moment at each heel (k,) [N m]: weight times `righting_arms`."""
    return body.mass * STANDARD_GRAVITY * righting_arms(body, water_density, heels, drag_centre=drag_centre)


def righting_range(body: FloatingBody, water_density: Density, *, drag_centre: Array | None = None) -> RightingRange:
    """The heels between which a body comes back to the attitude it takes when set down upright.

    The arguments and refusals are those of `righting_arms`.
    """
    if not floats(body, water_density):
        lever = submerged_lever(body, water_density, drag_centre)
        rest = math.atan2(lever[1], -lever[2])
        return RightingRange(rest=rest, left=rest - math.pi, right=rest + math.pi)
    upright = upright_balance(body, water_density)
    balance = settled_stably(body, water_density, upright.up, upright.waterline_height)
    rest = attitude_of(balance.up)[1]
    sides = [_vanishing(_floating_arm(body, water_density, balance), rest, way) for way in (-1.0, 1.0)]
    return RightingRange(rest=rest, left=sides[0], right=sides[1])


def _submerged_arms(lever: Array, heels: Array) -> Array:
    return np.asarray(-(lever[1] * np.cos(heels) + lever[2] * np.sin(heels)))


def _floating_arm(
    body: FloatingBody, water_density: Density, start: Balance | None = None
) -> Callable[[float], Length]:
    """The righting arm as a function of heel, each solution begun from the nearest heel solved before."""
    solved: list[tuple[float, float, float]] = []
    if start is not None:
        pitch, heel = attitude_of(start.up)
        solved.append((heel, pitch, start.waterline_height))

    def arm(heel: float) -> Length:
        near = min(solved, key=lambda known: abs(known[0] - heel), default=None)
        pitch_axis = np.array([0.0, math.cos(heel), math.sin(heel)])
        if near is not None and abs(near[0] - heel) < _NEAR:
            up, height = up_vector(near[1], heel), near[2]
        else:
            up = up_vector(0.0, heel)
            height = first_waterline(body, water_density, up)
        balance = settled(body, water_density, up, height, pitch_axis=pitch_axis)
        # with heel held the pitch may pass the upright, so it is read along its own circle
        along = float(balance.up @ np.array([0.0, -math.sin(heel), math.cos(heel)]))
        solved.append((heel, math.atan2(-balance.up[0], along), balance.waterline_height))
        return float(pitch_axis @ (balance.under.moment * (water_density / body.mass) - body.centre))

    return arm


def _vanishing(arm: Callable[[float], Length], rest: Angle, way: float) -> Angle:
    """The first heel beyond `rest`, to the side `way`, at which the arm no longer rights; half a turn if none."""
    inner, held = rest, 0.0
    for stride in range(1, round(math.pi / _STRIDE) + 1):
        outer = rest + way * stride * _STRIDE
        pull = way * arm(outer)
        if pull <= 0.0:
            return _zero(arm, way, (inner, held), (outer, pull))
        inner, held = outer, pull
    return rest + way * math.pi


def _zero(arm: Callable[[float], Length], way: float, inner: tuple[float, float], outer: tuple[float, float]) -> Angle:
    """Heel between a righting and an upsetting one at which the arm is nought, by false position.

    An end that stays twice running counts for half, or the other would creep (the Illinois rule).
    """
    (low, pull), (high, push) = inner, outer
    stayed = 0
    for _ in range(60):
        middle = low + (high - low) * pull / (pull - push) if pull > 0.0 else 0.5 * (low + high)
        value = way * arm(middle)
        if abs(value) <= 1e-12 or abs(high - low) < _ANGLE_FOUND:
            return middle
        if value > 0.0:
            low, pull = middle, value
            push, stayed = (0.5 * push, 1) if stayed == 1 else (push, 1)
        else:
            high, push = middle, value
            pull, stayed = (0.5 * pull, -1) if stayed == -1 else (pull, -1)
    return 0.5 * (low + high)
