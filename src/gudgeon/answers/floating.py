"""How it lies in the water: afloat at its waterline, or under it; and whether it stays upright."""

import math
from dataclasses import dataclass

import numpy as np

from gudgeon.errors import NoAnswer
from gudgeon.physics.floater import floating_body, sunk_if_hanging
from gudgeon.physics.flotation import Afloat, Resting, resting
from gudgeon.physics.lure import WATER, Lure
from gudgeon.physics.mass import MASS, MASS_X, MASS_Z, VOLUME, VOLUME_X, VOLUME_Z
from gudgeon.physics.righting import righting_moments
from gudgeon.physics.spread import Array, Estimate, Knowledge, around, smooth
from gudgeon.units import STANDARD_GRAVITY

HEELS = tuple(math.radians(angle) for angle in (15.0, 30.0, 45.0, 60.0, 90.0))

# Height of the buoyancy centre above the weight centre over body depth: common practice, no source.
_LEANS = math.radians(30.0)  # a list beyond this is no longer upright
_STIFFNESS = ((0.0, "turns over"), (0.04, "tender, will roll"), (0.08, "lively"), (0.12, "stable"), (0.15, "steady"))


@dataclass(frozen=True)
class Lying:
    """At rest in its water.

    lever         : [m] height of the buoyancy centre above the weight centre
    lever_share   : that over the body's depth
    stiffness     : the trade's word for it
    weight_centre, buoyancy_centre : (3,) [m]
    pitch, heel   : [rad] at rest; None when nothing holds it
    waterline     : of a floater, with its spread: draught, freeboard [m]
    reserve       : share of the full displacement left over, of a floater
    righting      : [kg m] at each of HEELS
    """

    lever: Estimate
    lever_share: Estimate
    stiffness: str
    weight_centre: tuple[float, float, float]
    buoyancy_centre: tuple[float, float, float]
    pitch: Estimate | None
    heel: float
    upright: bool
    afloat: Afloat | None
    draught: Estimate | None
    freeboard: Estimate | None
    reserve: Estimate
    righting: tuple[float, ...]
    metacentric_height: float | None


def lying(lure: Lure) -> Lying:
    """How a whole lure rests, and how hard it comes back when heeled."""
    state, effects = lure.state()
    lever = smooth(_lever, state, effects, lure.knowledge)
    share = Estimate(*(part / lure.depth for part in (lever.value, lever.low, lever.high)))
    reserve = smooth(lambda s: 1.0 - s[..., MASS] / (s[..., WATER] * s[..., VOLUME]), state, effects, lure.knowledge)
    rests, righting = _rests(lure)
    sums = lure.sums()
    pitch, draught, freeboard = _with_spread(lure, rests, state, effects) if rests else (None, None, None)
    return Lying(
        lever=lever, lever_share=share, stiffness=stiffness_word(share.value),
        weight_centre=_place(sums.weight_centre), buoyancy_centre=_place(sums.buoyancy_centre),
        pitch=pitch, heel=rests.heel if rests else 0.0, upright=_stands(rests),
        afloat=rests.afloat if rests else None, draught=draught, freeboard=freeboard, reserve=reserve,
        righting=righting, metacentric_height=rests.transverse_metacentric_height if rests and rests.afloat else None,
    )  # fmt: skip


def _stands(rests: Resting | None) -> bool:
    return rests is not None and not rests.turns_over and abs(rests.heel) < _LEANS


def stiffness_word(share: float) -> str:
    """The word for a lever as a share of body depth; common practice, no source."""
    for limit, word in _STIFFNESS:
        if share < limit:
            return word
    return "stiff"


def _lever(state: Array) -> Array:
    lever: Array = state[..., VOLUME_Z] / state[..., VOLUME] - state[..., MASS_Z] / state[..., MASS]
    return lever


def _rests(lure: Lure) -> tuple[Resting | None, tuple[float, ...]]:
    body = sunk_if_hanging(floating_body(lure), lure.water.density)
    centre = np.asarray(lure.falling.drag_centre)
    try:
        found = resting(body, lure.water.density, drag_centre=centre)
    except NoAnswer:
        return None, ()
    moments = righting_moments(body, lure.water.density, HEELS, drag_centre=centre) / STANDARD_GRAVITY
    return found, tuple(float(moment) for moment in moments)


def _with_spread(lure: Lure, rests: Resting, state: Array, effects: Array
                 ) -> tuple[Estimate, Estimate | None, Estimate | None]:  # fmt: skip
    """Pitch, draught and freeboard with their spreads: each source's couple over the stiffness, and its sinkage.

    source : linear hydrostatics; trim = couple / (weight x lengthwise metacentric height), sinkage = volume / area
    """
    stiffness = rests.lengthwise_metacentric_height
    pitch = around(rests.pitch, pitch_spread(lure.knowledge, state, effects, rests.displaced_centre, stiffness))
    if rests.afloat is None:
        return pitch, None, None
    water, mass = float(state[WATER]), float(state[MASS])
    sinkage = (effects[:, MASS] / water - effects[:, VOLUME] * rests.displaced_volume / state[VOLUME]
               - mass / water**2 * effects[:, WATER]) / rests.afloat.waterplane_area  # fmt: skip
    unsure = lure.knowledge.half_width(sinkage)
    return pitch, around(rests.afloat.draught, unsure), around(rests.afloat.freeboard, unsure)


def pitch_spread(
    knowledge: Knowledge, state: Array, effects: Array, support: Array, metacentric_height: float
) -> float:
    """Half-width [rad] of the pitch at rest; support, metacentric_height : as for `pitch_effects`."""
    if float(state[MASS]) * abs(metacentric_height) <= 0.0:
        return math.pi
    return min(knowledge.half_width(pitch_effects(state, effects, support, metacentric_height)), math.pi)


def pitch_effects(state: Array, effects: Array, support: Array, metacentric_height: float) -> Array:
    """(k,) change of the pitch at rest [rad] per half-width of each source; of its volume only what is under counts.

    support            : (3,) [m] where the water carries it
    metacentric_height : [m] lengthwise, not nothing
    """
    mass = float(state[MASS])
    carried = min(mass / float(state[VOLUME]), float(state[WATER]))
    couple = (effects[:, MASS_X] - support[0] * effects[:, MASS]) - carried * (
        effects[:, VOLUME_X] - support[0] * effects[:, VOLUME]
    )
    turned: Array = couple / (mass * abs(metacentric_height))
    return turned


def _place(centre: Array) -> tuple[float, float, float]:
    x, y, z = (float(part) for part in centre)
    return x, y, z
