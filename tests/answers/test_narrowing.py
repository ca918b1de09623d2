"""The one measurement worth doing next, against what is left of the spread once it is done."""

import math
from collections.abc import Callable

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.narrowing import best_measurement, widest_source
from gudgeon.design.model import Design
from gudgeon.physics.lure import WATER, Lure
from gudgeon.physics.mass import MASS, VOLUME

Maker = Callable[..., Design]
BODY = math.pi * 0.120 * 0.010 * 0.020
SURE = {"temperature": "0 C", "scale": "0.1 g", "material_density": "0 %"}
WATER_20 = {"kind": "fresh", "temperature": "20 C", "salinity": "0 ppt ± 0 ppt"}


def spread(lure: Lure) -> float:
    state, effects = lure.state()
    return lure.knowledge.half_width(effects[:, MASS] - state[WATER] * effects[:, VOLUME])


def with_measured(design: Design, **entry: object) -> Design:
    made = type(design).model_validate({"name": "x", "length": "1 mm", "outline": {"back": ["0 mm: 1 mm", "1 mm: 1 mm"],
                                        "side": ["0 mm: 1 mm", "1 mm: 1 mm"]}, "wood": {"density": "1 g/cm3"},
                                        "water": {"temperature": "20 C"}, "aim": {"does": "hangs"},
                                        "measured": [entry]})  # fmt: skip
    return design.model_copy(update={"measured": (*design.measured, *made.measured)})


def test_an_unknown_board_is_weighed(cylinder: Maker) -> None:
    design = cylinder(uncertainty=SURE, water=WATER_20, wood={"species": "basswood"})
    lure = assemble(design)
    found = best_measurement(design, lure, leaded=False)
    assert found is not None
    assert found.words.startswith("weigh the square blank before any hole, and write its weight over its volume")
    assert found.before == pytest.approx(spread(lure), rel=1e-9)
    density = lure.sums(lure.chosen(step=0)).mass / lure.sums(lure.chosen(step=0)).volume
    done = assemble(cylinder(uncertainty=SURE, water=WATER_20, wood={"density": f"{density / 1000} g/cm3"}))
    assert found.after == pytest.approx(spread(done), rel=0.02)
    again = best_measurement(cylinder(uncertainty=SURE, water=WATER_20), done, leaded=False)
    assert again is None or "weigh" not in again.words
    assert widest_source(lure) == "density of the wood"


def test_a_drawn_volume_is_pushed_under(cylinder: Maker) -> None:
    """Offcut good to 3 %, so the scale tells little of the volume: (water - wood) 4 % of it before, the jug's after."""
    design = cylinder(uncertainty={**SURE, "density": "3 %"}, water=WATER_20)
    lure = assemble(design)
    found = best_measurement(design, lure, leaded=False)
    assert found is not None
    assert found.words == "push the shaped blank under in a jug of water on the scale"
    by_volume, by_wood = 0.04 * (998.2067 - 400.0) * BODY, 0.03 * 400.0 * BODY
    assert found.before == pytest.approx(math.hypot(by_volume, by_wood), rel=1e-5)
    jug = math.hypot(0.003, 1e-4 / (998.2067 * BODY))
    assert found.after == pytest.approx(math.hypot(by_volume * jug / math.hypot(0.04, jug), by_wood), rel=1e-5)
    assert widest_source(lure) == "volume of the drawn body"


def test_a_hook_from_the_table_is_weighed(cylinder: Maker) -> None:
    design = cylinder(uncertainty={**SURE, "density": "0 %", "outline_volume": "0.1 %"}, water=WATER_20,
                      hook=[{"name": "front hook", "at": "30 mm", "size": "4/0"},
                            {"name": "rear hook", "at": "90 mm", "weight": "3 g"}])  # fmt: skip
    found = best_measurement(design, assemble(design), leaded=False)
    assert found is not None
    assert found.words == "weigh the front hook with its ring"


def test_nothing_is_worth_a_wet_sleeve_when_all_is_known(cylinder: Maker) -> None:
    design = cylinder(uncertainty={**SURE, "density": "0 %", "outline_volume": "0 %"}, water=WATER_20)
    assert best_measurement(design, assemble(design), leaded=False) is None


def test_a_drop_is_offered_only_to_a_lure_that_is_leaded(cylinder: Maker) -> None:
    design = cylinder(uncertainty=SURE, water=WATER_20, wood={"density": "0.4 g/cm3"},
                      pocket=[{"name": "belly", "at": "60 mm", "bore": "14 mm", "holds": "46.9 g"}])  # fmt: skip
    lure = assemble(design)
    before, after = (best_measurement(design, lure, leaded=leaded) for leaded in (False, True))
    assert before is None
    assert after is not None
    assert after.words == "time three drops of the finished lure over 1.2 m (4 ft)"


def test_a_drop_leaves_what_a_drop_leaves(cylinder: Maker) -> None:
    """The promise is kept when the drop is then written into the design."""
    design = cylinder(uncertainty=SURE, water=WATER_20,
                      pocket=[{"name": "belly", "at": "60 mm", "bore": "14 mm", "holds": "47 g"}])  # fmt: skip
    lure = assemble(design)
    found = best_measurement(design, lure, leaded=True)
    assert found is not None
    state, _ = lure.state()
    excess = state[MASS] - state[WATER] * state[VOLUME]
    speed = math.sqrt(2.0 * 9.80665 * excess / (state[WATER] * lure.fall_drag * lure.falling.plan_area))
    done = assemble(with_measured(design, stage="rigged", sinks=f"{1.0 / speed} s/m ± {0.07 / speed} s/m",
                                  temperature="20 C ± 0 C", salinity="0 ppt ± 0 ppt"))  # fmt: skip
    assert found.words.startswith("time three drops")
    assert found.after == pytest.approx(spread(done), rel=0.02)


def test_what_is_measured_already_is_not_asked_for_again(cylinder: Maker) -> None:
    design = cylinder(uncertainty=SURE, water=WATER_20, wood={"species": "basswood", "blank_weight": "30 g"})
    found = best_measurement(design, assemble(design), leaded=False)
    assert found is not None
    assert found.words.startswith("push the shaped blank under")
    both = with_measured(design, stage="shaped", displaced="75.3 g ± 0.01 g", temperature="20 C ± 0 C",
                         salinity="0 ppt ± 0 ppt")  # fmt: skip
    again = best_measurement(both, assemble(both), leaded=False)
    assert again is None or "push" not in again.words


def test_a_blank_that_is_drilled_is_not_to_be_weighed_as_one(cylinder: Maker) -> None:
    design = cylinder(wood={"species": "basswood"}, pocket=[{"name": "belly", "at": "60 mm", "bore": "14 mm",
                                                             "holds": "40 g"}])  # fmt: skip
    assert best_measurement(design, assemble(design), leaded=False) is None
    finished = best_measurement(design, assemble(design), leaded=True)
    assert finished is not None
    assert "finished lure" in finished.words
    painted = with_measured(cylinder(wood={"species": "basswood"}), stage="painted", weight="33 g")
    told = best_measurement(painted, assemble(painted), leaded=True)
    assert told is None or "blank" not in told.words


def test_of_two_worth_doing_the_better_is_told(cylinder: Maker) -> None:
    """Wood good to 10 %, drawing to 4 %: scale and jug both help, the scale more, by hand; the usual 2 % of an offcut
    weighed and measured is what the square blank tells the wood to."""
    design = cylinder(uncertainty=SURE, water=WATER_20, wood={"density": "0.4 g/cm3 ± 0.04 g/cm3"})
    found = best_measurement(design, assemble(design), leaded=False)
    assert found is not None
    assert found.words.startswith("weigh the square blank")
    by_volume, by_wood = 0.04 * (998.2067 - 400.0) * BODY, 0.1 * 400.0 * BODY
    left = 400.0 * BODY * 0.1 * 0.02 / math.hypot(0.1, 0.02)
    assert found.after == pytest.approx(math.hypot(by_volume, left), rel=1e-5)
    assert found.after < by_wood < 0.9 * found.before  # what the jug would have left
