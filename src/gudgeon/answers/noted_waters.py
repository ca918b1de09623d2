"""Records of a shop's habits that the water tells: the drag of a fall by timed drops, beats and rolls of a tow.

A drop tells the drag where the weight in water is known without it, by scale and jug. A tow is held against the towed
model with the lure as it was measured, with what was mounted on it.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from statistics import median

from gudgeon.answers.as_weighed import as_measured, measured_entry
from gudgeon.answers.assembly import assemble
from gudgeon.answers.noted import MOST, Kin, Noted
from gudgeon.answers.swum import SWIMS, TUMBLES
from gudgeon.answers.timed_rate import velocity_of
from gudgeon.answers.tow_runs import Progress, Towed, TowTask, towed
from gudgeon.answers.towed_chain import towed_chain
from gudgeon.answers.water_state import water_at
from gudgeon.design.model import STAGES, Design, Measured
from gudgeon.errors import Refusal
from gudgeon.library.drag import coefficient
from gudgeon.physics.lure import WATER, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.sinking import pitch
from gudgeon.shop.entries import LureRecord
from gudgeon.shop.log import Log
from gudgeon.shop.records import TimedDrop, TowTest
from gudgeon.units import STANDARD_GRAVITY, Reading

NEWEST = 12
"""Lures with drops, or with tows, of one version of a pattern that are asked: each is built anew."""
_TAP = Reading(293.15, 5.0)  # K, water whose temperature was not noted
_TELLING = 1.0  # half-width of a drag, as a share of it, beyond which a drop tells nothing of it
_STEEPEST = math.radians(50.0)  # beyond it the water flows along the body more than across it
_LEAST_DRAG = 0.1
_UNSURE = 0.1  # share of a reading at the water without a spread of its own
_FEWEST = 3  # starts that must end so, for the model to have a beat


def drag_records(log: Log, kin: Kin) -> Iterator[Noted]:
    """Drag coefficient across the plan area of each lure that was dropped."""
    dropped = sorted({one.lure for one in log.measured(TimedDrop, kin.root, None, MOST) if one.lure in kin.runs})
    for lure in dropped[-NEWEST:]:
        record = log.lure(lure)
        others = replace(record, entries=tuple(one for one in record.entries if not isinstance(one.what, TimedDrop)))
        try:
            design = as_measured(kin.design, others).design
            made = assemble(design)
        except Refusal:
            continue
        for entry, drop in record.of(TimedDrop):
            seen = measured_entry(drop, design)
            found = None if seen is None else _drag(made, seen, drop)
            if found is not None:
                yield Noted(found[0], found[1], kin.name, entry.number, lure, coefficient("fall_drag").value)


def _drag(lure: Lure, seen: Measured, drop: TimedDrop) -> tuple[float, float] | None:
    """The coefficient, and its half-width as a share; None where this drop does not tell it."""
    water = water_at(seen.temperature or _TAP, seen.salinity or Reading(0.0), 2.0)
    state, effects = lure.state(lure.chosen(step=STAGES.index(seen.stage), fitted=seen.fitted), water)
    excess = float(state[MASS] - state[WATER] * state[VOLUME])
    direction = effects[:, MASS] - state[WATER] * effects[:, VOLUME] - state[VOLUME] * effects[:, WATER]
    velocity, falling = velocity_of(drop), lure.falling
    angle = float(pitch(state[:8], state[WATER], falling))
    if excess * velocity.value <= 0.0 or abs(math.sin(angle)) > math.sin(_STEEPEST):
        return None
    area = 2.0 * STANDARD_GRAVITY * abs(excess) / (water.density * velocity.value**2)
    along = falling.along_drag * falling.frontal_area * abs(math.sin(angle)) ** 3
    drag = (area - along) / (falling.plan_area * abs(math.cos(angle)) ** 3)
    share = math.hypot(lure.knowledge.half_width(direction) / excess, 2.0 * velocity.spread / velocity.value)
    if drag < _LEAST_DRAG or share * area > _TELLING * (area - along):
        return None
    return drag, share * area / (area - along)


def tow_records(log: Log, kin: Kin, progress: Progress) -> Iterator[tuple[str, Noted]]:
    """ "beats" or "roll" -> what was seen over what the model has, of each tow; a good second each.

    progress : told how many lures are done, of how many
    """
    towed_lures = sorted({one.lure for one in log.measured(TowTest, kin.root, None, MOST) if one.lure in kin.runs})
    chosen = towed_lures[-NEWEST:]
    for done, lure in enumerate(chosen):
        progress(done, len(chosen))
        record = log.lure(lure)
        for entry, test in record.of(TowTest):
            if test.beats is None and test.roll is None:
                continue
            run = _towed(kin.design, record, test)
            for of, seen, model in (("beats", test.beats, _beat(run)), ("roll", test.roll, _roll(run))):
                if seen is not None and model is not None and seen.value > 0.0:
                    share = seen.spread_or(_UNSURE * seen.value) / seen.value
                    yield of, Noted(seen.value / model, share, kin.name, entry.number, lure, 1.0)


def _towed(design: Design, record: LureRecord, test: TowTest) -> Towed | None:
    """The model of a lure as it was towed; None where it cannot be towed so."""
    try:
        made = as_towed(as_measured(design, record).design, test)
        chain = towed_chain(made, assemble(made), speed=test.speed.value)
    except Refusal:
        return None
    return towed([TowTask(chain, test.speed.value)])[0]


def as_towed(design: Design, test: TowTest) -> Design:
    """The design with the hooks that were on it, a stand-in's weight in place of its hook's.

    What was measured with a hook that was not on this time is left out: its weight is not in this lure.
    """
    weights = {one.hook: one.mass for one in test.stand_ins}
    kept = {hook.name for hook in design.hooks if test.fitted is None or hook.name in test.fitted} - weights.keys()
    others = {hook.name for hook in design.hooks} - kept
    hooks = tuple(
        hook.model_copy(update={"weight": Reading(weights[hook.name])}) if hook.name in weights else hook
        for hook in design.hooks if hook.name in kept or hook.name in weights
    )  # fmt: skip
    measured = tuple(
        one for one in design.measured
        if not others or (others.isdisjoint(one.fitted) if one.fitted is not None else one.stage != "rigged")
    )  # fmt: skip
    return design.model_copy(update={"hooks": hooks, "measured": measured})


def _beat(run: Towed | None) -> float | None:
    swim = run.of(SWIMS) if run else ()
    return median(one.beat for one in swim) if len(swim) >= _FEWEST else None


def _roll(run: Towed | None) -> float | None:
    steady = [one.most_roll for one in run.readings if one.kind != TUMBLES] if run else []
    middle = median(steady) if len(steady) >= _FEWEST else 0.0
    return middle if middle > 0.0 else None
