"""The same lure in other water: a class set in the lake may be another one in the sea."""

from dataclasses import dataclass

from gudgeon.answers.sinking_rate import SinkingRate, sinking_rate
from gudgeon.answers.water_state import water_state
from gudgeon.design.model import Design, Water
from gudgeon.physics.lure import WATER, Lure
from gudgeon.physics.sinking import excess_mass


@dataclass(frozen=True)
class OtherWater:
    """One other water at the same temperature.

    kind    : fresh, brackish or sea
    words   : of the water
    rate    : what the lure does there
    restore : [kg] of ballast in its pockets that brings its weight in water back; negative to take out
    """

    kind: str
    words: str
    rate: SinkingRate
    restore: float


def elsewhere(design: Design, lure: Lure, worth: float) -> tuple[OtherWater, ...]:
    """The lure in the waters it was not made for.

    worth : weight in water that a unit of ballast inside is worth
    """
    home, _ = lure.state()
    excess = float(excess_mass(home, home[WATER]))
    found = []
    for kind in ("fresh", "brackish", "sea"):
        if kind == design.water.kind:
            continue
        water = Water.model_construct(kind=kind, temperature=design.water.temperature, salinity=None)
        seen = water_state(water, design.uncertainty.temperature, design.uncertainty.salinity)
        state, effects = lure.state(water=seen)
        rate = sinking_rate(state, effects, lure.knowledge, lure.falling)
        found.append(OtherWater(kind, seen.words, rate, (excess - rate.excess.value) / worth))
    return tuple(found)
