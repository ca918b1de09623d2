"""Which single measurement would narrow an answer most."""

from dataclasses import dataclass

import numpy as np

from gudgeon.design.model import STAGES, Design
from gudgeon.physics.lure import LOG_FALL_DRAG, SHAPED, WATER, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.spread import Array, root_sum_square

_WORTH_DOING = 0.9  # a measurement that leaves more than this share of the spread is not worth a wet sleeve


@dataclass(frozen=True)
class Measurement:
    """One thing that could be measured.

    words  : what to do, as said at the bench
    before : [kg] half-width of the weight in water now
    after  : [kg] once it is done
    """

    words: str
    before: float
    after: float


def best_measurement(design: Design, lure: Lure, *, leaded: bool) -> Measurement | None:
    """The measurement that would narrow the weight in water most; None when none would narrow it by a tenth.

    leaded : whether the ballast is in, so that the finished lure can be weighed and dropped
    """
    _, effects = lure.state()
    wanted = effects[:, MASS] - lure.water.density * effects[:, VOLUME]
    before = lure.knowledge.half_width(wanted)
    best = None
    for words, direction, spread in _candidates(design, lure, leaded=leaded):
        after = lure.knowledge.half_width_given(wanted, direction, spread)
        if before > 0.0 and after < _WORTH_DOING * before and (best is None or after < best.after):
            best = Measurement(words, before, after)
    return best


def widest_source(lure: Lure) -> str:
    """The source that gives the weight in water the most of its spread."""
    _, effects = lure.state()
    wanted = effects[:, MASS] - lure.water.density * effects[:, VOLUME]
    shares = wanted * (lure.knowledge.covariance @ wanted)
    return lure.sources[int(np.argmax(shares))]


def _candidates(design: Design, lure: Lure, *, leaded: bool) -> list[tuple[str, Array, float]]:
    """What can be done with a scale, a jug and a watch: words, direction, half-width."""
    scale, dunk = design.uncertainty.scale, design.uncertainty.dunk
    shaped, whole = lure.chosen(step=SHAPED), lure.chosen()
    found, jugs = [], []
    if _is_blank(design):
        found += _square(design, lure)
        jugs.append((shaped, "push the shaped blank under in a jug of water on the scale"))
    if leaded:
        found.append(("weigh the finished lure with everything on", lure.ledger.effects(whole)[:, MASS], scale))
        jugs.append((whole, "push the finished lure under in a jug of water on the scale"))
    for mask, words in jugs:
        volume = float(lure.ledger.sums(mask)[VOLUME])
        unsure = root_sum_square([dunk * volume, scale / lure.water.density])
        found.append((words, lure.ledger.effects(mask)[:, VOLUME], unsure))
    for hook in design.hooks:
        if hook.weight is None:
            direction = np.zeros(len(lure.sources))
            source = lure.sources.index(f"weight of {hook.name}")
            direction[source] = lure.ledger.effects(whole)[source, MASS]
            found.append((f"weigh the {hook.name} with its ring", direction, scale))
    return [*found, *_drop(design, lure)] if leaded else found


def _square(design: Design, lure: Lure) -> list[tuple[str, Array, float]]:
    """The square blank on the scale, which tells what the wood weighs: no scale ever shows the shaped one without its
    holes, for they are drilled while it is square. Nothing where the wood is known as well as that already."""
    told, usual = design.wood.density, design.uncertainty.density
    if told is not None and told.spread_or(usual * told.value) <= usual * told.value * (1.0 + 1e-9):
        return []
    shaped = lure.chosen(step=SHAPED)
    sums, effects = lure.ledger.sums(shaped), lure.ledger.effects(shaped)
    by_wood = effects[:, MASS] - float(sums[MASS] / sums[VOLUME]) * effects[:, VOLUME]
    return [("weigh the square blank before any hole, and write its weight over its volume as density under [wood]",
             by_wood, usual * float(sums[MASS]))]  # fmt: skip


def _is_blank(design: Design) -> bool:
    """Whether, for all the design says, no hole is drilled yet, so that the blank can still be weighed."""
    holds = any(pocket.holds is not None and pocket.holds.value > 0.0 for pocket in design.pockets)
    return not holds and all(entry.stage == STAGES[SHAPED] for entry in design.measured)


def _drop(design: Design, lure: Lure) -> list[tuple[str, Array, float]]:
    state, effects = lure.state()
    excess = float(state[MASS] - state[WATER] * state[VOLUME])
    direction = effects[:, MASS] - state[WATER] * effects[:, VOLUME]
    direction = direction - excess * effects[:, LOG_FALL_DRAG]
    spread = 2.0 * abs(excess) * design.uncertainty.timed_drop + 1e-6
    return [("time three drops of the finished lure over 1.2 m (4 ft)", direction, spread)]
