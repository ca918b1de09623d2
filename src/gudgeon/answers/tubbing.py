"""The tub test as it will be done: what the lure should do there, before the maker wets a hand."""

from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.ballasting import worth_inside
from gudgeon.answers.floating import pitch_spread
from gudgeon.answers.parts import looked_up
from gudgeon.answers.sinking_rate import SinkingRate, sinking_rate
from gudgeon.answers.water_state import water_at
from gudgeon.design.model import STAGES, Design
from gudgeon.errors import BadDesign, Fault, NoAnswer
from gudgeon.library.metals import material
from gudgeon.physics.floater import HANGS, Hung, floating_body
from gudgeon.physics.flotation import upright_balance
from gudgeon.physics.lure import RIGGED, STATE, WATER, Lure
from gudgeon.physics.mass import MASS, MASS_X, MASS_Z, VOLUME, VOLUME_X, VOLUME_Z
from gudgeon.physics.spread import Array, Estimate, Knowledge, around
from gudgeon.physics.waterplane import attitude_of


@dataclass(frozen=True)
class TubTest:
    """What to expect.

    stage   : of the work
    on      : what is fitted, in words
    water   : in words
    rate    : float or sink there
    attitude : [rad] afloat or in its fall, nose-up positive; None where nothing holds it
    to_hang : [kg] of stick-on lead that would just hang it there; negative when it must lose weight instead
    inside_per_taped : ballast to put inside for each gram that it takes beyond `to_hang`
    """

    stage: str
    on: str
    water: str
    rate: SinkingRate
    attitude: Estimate | None
    to_hang: float
    inside_per_taped: float


def tub_test(design: Design, lure: Lure) -> TubTest:
    """The tub test of a design, on the lure with the ballast that is to go in.

    raises : BadDesign when a stand-in's material is unknown
    """
    tub = design.tub
    fitted = _fitted(design, lure)
    mask = lure.chosen(step=STAGES.index(tub.stage), fitted=fitted)
    water = water_at(tub.temperature, tub.salinity, design.uncertainty.temperature)
    hung = _stand_ins(design, lure)
    state, effects = lure.state(mask, water)
    state = state + sum((_hung_sums(weight) for weight in hung), np.zeros(len(state)))
    knowledge = lure.knowledge.beside([f"weight of stand-in {place + 1}" for place in range(len(hung))])
    effects = np.vstack([effects, *(_unsure(weight) for weight in hung)])
    rate = sinking_rate(state, effects, knowledge, lure.falling)
    taped = 1.0 - water.density / material("lead").density
    return TubTest(
        stage=tub.stage, on=_on(design, fitted), water=water.words, rate=rate,
        attitude=rate.attitude if rate.excess.value >= -HANGS * rate.mass.value else _afloat(
            lure, (state, effects, knowledge), mask, hung),
        to_hang=-rate.excess.value / taped, inside_per_taped=taped / worth_inside(lure),
    )  # fmt: skip


def _afloat(
    lure: Lure, known: tuple[Array, Array, Knowledge], mask: NDArray[np.bool_], hung: list[Hung]
) -> Estimate | None:
    """Pitch [rad] afloat, set down upright; None where nothing holds it.

    known : state and effects of what is on, and what is known of their sources
    """
    state, effects, knowledge = known
    try:
        balance = upright_balance(floating_body(lure, mask, hung, sections=40), float(state[WATER]))
    except NoAnswer:
        return None
    pitch, _ = attitude_of(balance.up)
    stiffness = float(balance.turning_stiffness()[0, 0])
    return around(pitch, pitch_spread(knowledge, state, effects, balance.under.centre, stiffness))


def _fitted(design: Design, lure: Lure) -> tuple[str, ...] | None:
    """Names of what is on, hooks with a stand-in left off."""
    tub = design.tub
    names = tub.fitted
    if names is None and tub.stage == STAGES[RIGGED]:
        names = tuple(item.name for item in lure.ledger.items if item.since == RIGGED)
    replaced = {stand_in.hook for stand_in in tub.stand_ins}
    return None if names is None else tuple(name for name in names if name not in replaced)


def _stand_ins(design: Design, lure: Lure) -> list[Hung]:
    faults: list[Fault] = []
    hung = []
    for number, stand_in in enumerate(design.tub.stand_ins, start=1):
        stuff = looked_up(faults, f"tub.stand_in {number}.material", partial(material, stand_in.material))
        hanger = next((item.place for item in lure.ledger.items if item.name == stand_in.hook), None)
        if stuff is not None and hanger is not None:
            mass, spread = stand_in.weight.value, stand_in.weight.spread_or(design.uncertainty.scale)
            hung.append(Hung(mass, mass / stuff.density, hanger, spread))
    if faults:
        raise BadDesign("the design cannot be built", tuple(faults))
    return hung


def _unsure(weight: Hung) -> Array:
    """(10,) change of a state per half-width of a hung weight."""
    share = weight.mass_spread / weight.mass if weight.mass > 0.0 else 0.0
    return share * _hung_sums(weight)


def _hung_sums(weight: Hung) -> Array:
    """(10,) what a hung weight adds to a state."""
    added = np.zeros(STATE)
    added[MASS], added[VOLUME] = weight.mass, weight.displaced
    added[MASS_X : MASS_Z + 1] = weight.mass * np.asarray(weight.place)
    added[VOLUME_X : VOLUME_Z + 1] = weight.displaced * np.asarray(weight.place)
    return added


def _on(design: Design, fitted: tuple[str, ...] | None) -> str:
    hooks = [hook.name for hook in design.hooks if fitted is None or hook.name in fitted]
    stand_ins = [f"{1e3 * one.weight.value:g} g in place of the {one.hook}" for one in design.tub.stand_ins]
    if fitted is None:
        return "nothing fitted yet"
    words = stand_ins + ([f"{len(hooks)} hooks on" if len(hooks) > 1 else "hook on"] if hooks else ["no hooks on"])
    return ", ".join(words)
