"""The tub test as it will be done: what the lure should do there, before the maker wets a hand."""

from dataclasses import dataclass
from functools import partial

import numpy as np

from gudgeon.answers.ballasting import worth_inside
from gudgeon.answers.parts import looked_up
from gudgeon.answers.sinking_rate import SinkingRate, sinking_rate
from gudgeon.answers.water_state import water_at
from gudgeon.design.model import STAGES, Design
from gudgeon.errors import BadDesign, Fault
from gudgeon.library.metals import material
from gudgeon.physics.lure import RIGGED, Lure
from gudgeon.physics.mass import MASS, MASS_X, MASS_Z, VOLUME, VOLUME_X, VOLUME_Z


@dataclass(frozen=True)
class TubTest:
    """What to expect.

    stage   : of the work
    on      : what is fitted, in words
    water   : in words
    rate    : float or sink there
    to_hang : [kg] of stick-on lead that would just hang it there; negative when it must lose weight instead
    inside_per_taped : ballast to put inside for each gram that it takes beyond `to_hang`
    """

    stage: str
    on: str
    water: str
    rate: SinkingRate
    to_hang: float
    inside_per_taped: float


def tub_test(design: Design, lure: Lure) -> TubTest:
    """The tub test of a design, on the lure with the ballast that is to go in.

    raises : BadDesign when a stand-in's material is unknown
    """
    tub = design.tub
    replaced = {stand_in.hook for stand_in in tub.stand_ins}
    fitted = tub.fitted
    if fitted is None and tub.stage == STAGES[RIGGED]:
        fitted = tuple(item.name for item in lure.ledger.items if item.since == RIGGED)
    if fitted is not None:
        fitted = tuple(name for name in fitted if name not in replaced)
    mask = lure.chosen(step=STAGES.index(tub.stage), fitted=fitted)
    water = water_at(tub.temperature, tub.salinity, design.uncertainty.temperature)
    state, effects = lure.state(mask, water)
    state = state.copy()
    faults: list[Fault] = []
    for number, stand_in in enumerate(tub.stand_ins, start=1):
        stuff = looked_up(faults, f"tub.stand_ins {number}.material", partial(material, stand_in.material))
        hanger = next((item.place for item in lure.ledger.items if item.name == stand_in.hook), None)
        if stuff is None or hanger is None:
            continue
        mass, place = stand_in.weight.value, np.asarray(hanger)
        state[MASS] += mass
        state[MASS_X : MASS_Z + 1] += mass * place
        state[VOLUME] += mass / stuff.density
        state[VOLUME_X : VOLUME_Z + 1] += mass / stuff.density * place
    if faults:
        raise BadDesign("the design cannot be built", tuple(faults))
    rate = sinking_rate(state, effects, lure.knowledge, lure.falling)
    taped = 1.0 - water.density / material("lead").density
    return TubTest(tub.stage, _on(design, fitted), water.words, rate, -rate.excess.value / taped,
                   taped / worth_inside(lure))  # fmt: skip


def _on(design: Design, fitted: tuple[str, ...] | None) -> str:
    hooks = [hook.name for hook in design.hooks if fitted is None or hook.name in fitted]
    stand_ins = [f"{1e3 * one.weight.value:g} g in place of the {one.hook}" for one in design.tub.stand_ins]
    if fitted is None:
        return "nothing fitted yet"
    words = stand_ins + ([f"{len(hooks)} hooks on" if len(hooks) > 1 else "hook on"] if hooks else ["no hooks on"])
    return ", ".join(words)
