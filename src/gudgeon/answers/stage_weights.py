"""What the whole lures of a pattern weighed at each stage, out of the log."""

from collections.abc import Iterable
from dataclasses import dataclass

from gudgeon.physics.spread import root_sum_square
from gudgeon.shop.entries import Of
from gudgeon.shop.records import STEPS, WHOLE, Weighing
from gudgeon.units import Mass, Reading


@dataclass(frozen=True)
class StageWeight:
    """One lure's whole at one stage, the latest [kg], and the entry it stands in."""

    mass: Reading
    entry: int


def stage_weights(
    weighings: Iterable[Of[Weighing]], pieces: tuple[str, ...], scale: Mass
) -> dict[str, dict[int, StageWeight]]:
    """Stage, in the order of the work -> lure -> its whole; the pieces' sum where only they were weighed.

    pieces : the names of all of them       scale : [kg] half-width of a weight without its own
    """
    whole: dict[str, dict[int, StageWeight]] = {}
    parts: dict[str, dict[int, dict[str, StageWeight]]] = {}
    for one in weighings:
        seen = one.what
        if seen.fitted is not None:
            continue
        weight = StageWeight(Reading(seen.mass.value, seen.mass.spread_or(scale)), one.entry)
        if seen.piece == WHOLE:
            whole.setdefault(seen.stage, {})[one.lure] = weight
        else:
            parts.setdefault(seen.stage, {}).setdefault(one.lure, {})[seen.piece] = weight
    for stage, lures in parts.items():
        for lure, found in lures.items():
            if found.keys() == set(pieces):
                whole.setdefault(stage, {}).setdefault(lure, _together(tuple(found.values())))
    return {stage: whole[stage] for stage in STEPS if stage in whole}


def _together(parts: tuple[StageWeight, ...]) -> StageWeight:
    mass = sum(part.mass.value for part in parts)
    spread = root_sum_square([part.mass.spread or 0.0 for part in parts])
    return StageWeight(Reading(mass, spread), max(part.entry for part in parts))
