"""What was measured, as statements about the sources: the blank's weight, a jug, stage weights, a drop, how it lay."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.finding import Finding, Gravity
from gudgeon.answers.floating import pitch_effects
from gudgeon.answers.water_state import water_at
from gudgeon.design.model import STAGES, Design, Measured
from gudgeon.errors import NoAnswer
from gudgeon.physics.floater import floating_body, sunk_if_hanging
from gudgeon.physics.flotation import resting
from gudgeon.physics.lure import SHAPED, Lure, WaterState
from gudgeon.physics.mass import COLUMNS, MASS, VOLUME
from gudgeon.physics.sinking import drag_area, excess_for, excess_mass, pitch, tilting
from gudgeon.physics.spread import Array, Knowledge, around, nothing_measured, root_sum_square
from gudgeon.units import Measure, Reading

_BY_EYE = math.radians(2.0)  # of an attitude seen in the water; common practice, no source
_FAR = 3.0  # half-widths
_TAP = Reading(293.15, 5.0)  # K, water whose temperature was not noted
_SLIP = 1.5  # times what is expected, or one part in it, and beyond twice the doubt: hardly anything but a slip
_NO_SPREAD = 1e-9  # a scale that is never off still leaves the arithmetic a spread to divide by


@dataclass(frozen=True)
class Evidence:
    """One measurement, as a sum of sources.

    direction  : (k,) change of what is measured per half-width of each source
    computed   : what it should be with every source at 0
    measured   : what it was, same units
    spread     : half-width of the measurement
    words      : what was measured, for the maker
    measure    : what kind of number it is
    shown_per  : factor from these units to those of `measure`
    is_amount  : it can be so many times too much, as a weight in water cannot
    """

    direction: Array
    computed: float
    measured: float
    spread: float
    words: str
    measure: Measure = Measure.MASS
    shown_per: float = 1.0
    is_amount: bool = True


def weighed_up(knowledge: Knowledge, evidence: Sequence[Evidence]) -> Knowledge:
    """What is known once every measurement is taken in."""
    for seen in evidence:
        knowledge = knowledge.given(seen.direction, seen.measured - seen.computed, seen.spread)
    return knowledge


def doubts(design: Design, lure: Lure) -> tuple[Finding, ...]:
    """Measurements that do not fit what the design led one to expect, each with what to look at."""
    knowledge = nothing_measured(lure.sources)
    found = []
    for seen in readings(design, lure):
        expected = seen.computed + float(seen.direction @ knowledge.mean)
        unsure = knowledge.half_width(seen.direction)
        off = abs(seen.measured - expected) / root_sum_square([unsure, seen.spread])
        if off > 1.5:
            is_slip = off > 3.0 and seen.is_amount and not expected / _SLIP < seen.measured < expected * _SLIP
            scale = seen.shown_per
            found.append(
                Finding(
                    Gravity.WRONG if is_slip else Gravity.WATCH,
                    f"{seen.words}: measured {{measured}}, where drawing, wood and parts make it {{expected}}. "
                    "The measured one is used. Look for a slip: ounces for grams, a part for the whole, "
                    "air in the jug, a stage named wrongly.",
                    {
                        "measured": (scale * seen.measured, seen.measure),
                        "expected": (around(scale * expected, scale * unsure), seen.measure),
                    },
                )
            )
        knowledge = knowledge.given(seen.direction, seen.measured - seen.computed, seen.spread)
    return tuple(found)


def readings(design: Design, lure: Lure) -> list[Evidence]:
    """Every measurement of a design, in the order it stands there; the blank's weight first."""
    blank = lure.knowing(nothing_measured(lure.sources))
    found = []
    lay = {entry.stage: entry.lies.value for entry in design.measured if entry.lies is not None}
    if design.wood.blank_weight is not None:
        weighed = Measured.model_construct(stage="shaped", weight=design.wood.blank_weight, of="whole")
        found.append(_weight(design, blank, weighed, weighed.weight or Reading(0.0)))
    for entry in design.measured:
        if entry.weight is not None:
            found.append(_weight(design, blank, entry, entry.weight))
        elif entry.displaced is not None:
            found.append(_displaced(design, blank, entry, entry.displaced))
        elif entry.sinks is not None:
            found.append(_drop(design, blank, entry, entry.sinks, 1.0, lay.get(entry.stage)))
        elif entry.rises is not None:
            found.append(_drop(design, blank, entry, entry.rises, -1.0, lay.get(entry.stage)))
        elif entry.lies is not None:
            found += _lies(blank, entry, entry.lies)
    return found


def _chosen(lure: Lure, entry: Measured) -> tuple[Array, Array]:
    """State and effects of what was on the scale or in the jug."""
    return lure.state(_mask(lure, entry), _water(entry))


def _mask(lure: Lure, entry: Measured) -> NDArray[np.bool_]:
    names = [piece.name for piece in lure.segments]
    segment = names.index(entry.of) if entry.of in names else None
    return lure.chosen(step=STAGES.index(entry.stage), fitted=entry.fitted, segment=segment)


def _water(entry: Measured) -> WaterState:
    return water_at(entry.temperature or _TAP, entry.salinity or Reading(0.0), 2.0)


def _words(entry: Measured, what: str) -> str:
    whose = "the lure" if entry.of == "whole" else f"the {entry.of}"
    return f"{what} of {whose}, {entry.stage}"


def _weight(design: Design, lure: Lure, entry: Measured, reading: Reading) -> Evidence:
    state, effects = _chosen(lure, entry)
    spread = max(reading.spread_or(design.uncertainty.scale), _NO_SPREAD)
    known = "the blank" if lure.segments and entry.stage == STAGES[SHAPED] and entry.of == "whole" else ""
    words = "Weight of the blank" if known else _words(entry, "Weight")
    return Evidence(effects[:, MASS], float(state[MASS]), reading.value, spread, words)


def _displaced(design: Design, lure: Lure, entry: Measured, reading: Reading) -> Evidence:
    state, effects = _chosen(lure, entry)
    water = _water(entry)
    unsure_water = root_sum_square(list(water.effects.values())) / water.density
    spread = root_sum_square([
        reading.spread_or(root_sum_square([design.uncertainty.dunk * reading.value, design.uncertainty.scale])),
        unsure_water * reading.value, _NO_SPREAD,
    ]) / water.density  # fmt: skip
    return Evidence(effects[:, VOLUME], float(state[VOLUME]), reading.value / water.density, spread,
                    _words(entry, "Water displaced"), shown_per=water.density)  # fmt: skip


def _drop(
    design: Design, lure: Lure, entry: Measured, rate: Reading, down: float, lay: float | None
) -> Evidence:
    """A timed drop: it says what the excess weight and the drag together come to.

    lay : [rad] as it was seen to lie at that stage; None where only its weights tell
    """
    state, effects = _chosen(lure, entry)
    water = _water(entry)
    angle = pitch(state[:COLUMNS], water.density, lure.falling) if lay is None else lay
    area = float(drag_area(angle, lure.falling, lure.fall_drag))
    excess = excess_for(down * rate.value, water.density, area)
    direction = effects[:, MASS] - water.density * effects[:, VOLUME]
    direction[lure.sources.index("fall drag")] -= excess * lure.drag_spread
    timing = rate.spread_or(design.uncertainty.timed_drop * rate.value) / rate.value
    unsure_water = root_sum_square(list(water.effects.values())) * float(state[VOLUME])
    spread = root_sum_square([2.0 * excess * timing, unsure_water, _NO_SPREAD])
    computed = float(state[MASS] - water.density * state[VOLUME])
    words = _words(entry, "Weight in water by the timed drop")
    return Evidence(direction, computed, excess, spread, words, is_amount=False)


def _lies(lure: Lure, entry: Measured, lay: Reading) -> list[Evidence]:
    """How it lay: what turns it and what rights it come out even at that pitch; none where nothing rights it.

    Under water the moments of weight, buoyancy and drag vanish along the lure as it lay, X + Z tan(pitch) = 0, which
    is linear in the sources; afloat each source's couple over the stiffness is added to the pitch that is computed.
    One that is far from all the sources allow has a cause they do not know of, and says the less of them.
    """
    state, effects = _chosen(lure, entry)
    water = _water(entry)
    if float(excess_mass(state, water.density)) < 0.0:
        found = _afloat(lure, entry, state, effects)
        if found is None:
            return []
        computed, direction = found
    else:
        turning, _, rights = tilting(state[:COLUMNS], water.density, lure.falling)
        if rights >= 0.0:
            return []
        turns, _, righted = tilting(effects[:, :COLUMNS], water.density, lure.falling)
        slope, per = math.tan(lay.value), math.cos(lay.value) ** 2 / -float(rights)
        computed, direction = lay.value + float(turning + rights * slope) * per, (turns + righted * slope) * per
    spread, off = max(lay.spread_or(_BY_EYE), _NO_SPREAD), abs(lay.value - computed)
    if off > _FAR * root_sum_square([spread, lure.knowledge.half_width(direction)]):
        spread = off / _FAR
    words = _words(entry, "Attitude")
    return [Evidence(direction, computed, lay.value, spread, words, Measure.ANGLE, is_amount=False)]


def _afloat(lure: Lure, entry: Measured, state: Array, effects: Array) -> tuple[float, Array] | None:
    """Pitch at rest [rad], and (k,) its change per half-width of each source; None where nothing rights it."""
    mask, density = _mask(lure, entry), _water(entry).density
    try:
        rests = resting(sunk_if_hanging(floating_body(lure, mask), density), density)
    except NoAnswer:
        return None
    stiffness = rests.lengthwise_metacentric_height
    if rests.turns_over or stiffness <= 0.0:
        return None
    return rests.pitch, pitch_effects(state, effects, rests.displaced_centre, stiffness)
