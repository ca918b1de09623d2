"""The tub test as it will be done: what is on, which water, what to hang."""

import math
from collections.abc import Callable

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.tubbing import TubTest, tub_test
from gudgeon.design.model import Design
from gudgeon.errors import BadDesign
from gudgeon.library.water import water_density

Maker = Callable[..., Design]
BODY = math.pi * 0.120 * 0.010 * 0.020
HOOKS = [{"name": "front hook", "at": "30 mm", "weight": "4 g"}, {"name": "rear hook", "at": "90 mm", "weight": "3 g"}]
LEAD = [{"name": "belly", "at": "60 mm", "bore": "14 mm", "holds": "40 g"}]


def tubbed(cylinder: Maker, tub: dict[str, object], **tables: object) -> TubTest:
    design = cylinder(**{"hook": HOOKS, "pocket": LEAD, "sealer": {"weight": "2 g"}, "tub": tub, **tables})
    return tub_test(design, assemble(design))


def bored() -> float:
    """Wood, lead and plug [kg] of the leaded body."""
    area = math.pi / 4.0 * 0.014**2
    hole = area * (0.040 / 11340.0 / area + 0.003)
    return 400.0 * (BODY - hole) + 0.040 + 0.003 * area * 1150.0


def test_rigged_everything_is_on(cylinder: Maker) -> None:
    answer = tubbed(cylinder, {"temperature": "18 C"})
    water = water_density(291.15, 0.0)
    assert (answer.stage, answer.on, answer.water) == ("rigged", "2 hooks on", "fresh, 18 C")
    displaced = water * (BODY + 0.007 / 7850.0)
    assert answer.rate.excess.value == pytest.approx(bored() + 0.002 + 0.007 - displaced, rel=1e-6)
    assert answer.to_hang == pytest.approx(-answer.rate.excess.value / (1.0 - water / 11340.0), rel=1e-9)
    worth = 1.0 - 400.0 / 11340.0
    assert answer.inside_per_taped == pytest.approx((1.0 - water / 11340.0) / worth, rel=1e-9)


def test_leaded_nothing_is_fitted_yet(cylinder: Maker) -> None:
    answer = tubbed(cylinder, {"stage": "leaded"})
    assert answer.on == "nothing fitted yet"
    assert answer.rate.excess.value == pytest.approx(bored() + 0.002 - water_density(293.15, 0.0) * BODY, rel=1e-6)


def test_bare_there_is_no_sealer_and_no_lead(cylinder: Maker) -> None:
    answer = tubbed(cylinder, {"stage": "shaped"})
    assert answer.rate.excess.value == pytest.approx((400.0 - water_density(293.15, 0.0)) * BODY, rel=1e-6)
    assert answer.to_hang > 0.045


def test_only_what_is_named_is_fitted(cylinder: Maker) -> None:
    answer = tubbed(cylinder, {"stage": "leaded", "fitted": ["rear hook"]})
    assert answer.on == "hook on"
    displaced = water_density(293.15, 0.0) * (BODY + 0.003 / 7850.0)
    assert answer.rate.excess.value == pytest.approx(bored() + 0.002 + 0.003 - displaced, rel=1e-6)


def test_a_stand_in_takes_its_hooks_place_with_the_water_it_displaces(cylinder: Maker) -> None:
    stand_in = {"hook": "front hook", "weight": "4 g", "material": "lead"}
    answer = tubbed(cylinder, {"stand_in": [stand_in]})
    assert answer.on == "4 g in place of the front hook, hook on"
    rigged = tubbed(cylinder, {})
    water = water_density(293.15, 0.0)
    less = water * 0.004 * (1.0 / 7850.0 - 1.0 / 11340.0)
    assert answer.rate.excess.value - rigged.rate.excess.value == pytest.approx(less, rel=1e-6)
    assert answer.rate.mass.value == pytest.approx(rigged.rate.mass.value, rel=1e-12)


def test_a_stand_in_hangs_where_its_hook_does(cylinder: Maker) -> None:
    heavy = [{"name": "belly", "at": "60 mm", "bore": "14 mm", "holds": "44 g"}]
    same = {"hook": "front hook", "weight": "4 g", "material": "steel"}
    stood, rigged = (tubbed(cylinder, tub, pocket=heavy) for tub in ({"stand_in": [same]}, {}))
    assert stood.rate.attitude.value == pytest.approx(rigged.rate.attitude.value, abs=1e-9)
    lighter = tubbed(cylinder, {"stand_in": [{**same, "weight": "1 g"}]}, pocket=heavy)
    assert lighter.rate.attitude.value > rigged.rate.attitude.value  # less at the nose


def test_afloat_it_lies_as_the_waterline_has_it_and_sinking_as_it_falls(cylinder: Maker) -> None:
    wide = {"hook": HOOKS, "pocket": [{"name": "belly", "at": "70 mm", "bore": "14 mm", "holds": "20 g"}]}
    design = cylinder(160.0, 20.0, 15.0, **wide)
    afloat = tub_test(design, assemble(design))
    assert afloat.rate.excess.value < 0.0
    assert afloat.attitude is not None
    assert afloat.attitude.value < 0.0  # the weight lies ahead of the middle
    sinking = tubbed(cylinder, {}, pocket=[{"name": "belly", "at": "60 mm", "bore": "14 mm", "holds": "46 g"}])
    assert sinking.rate.excess.value > 0.0
    assert sinking.attitude == sinking.rate.attitude


def test_the_tubs_water_is_not_the_lakes(cylinder: Maker) -> None:
    answer = tubbed(cylinder, {"temperature": "18 C"}, water={"kind": "sea", "temperature": "8 C"})
    assert answer.water == "fresh, 18 C"
    displaced = water_density(291.15, 0.0) * (BODY + 0.007 / 7850.0)
    assert answer.rate.displaced.value == pytest.approx(displaced, rel=1e-9)


def test_a_stand_in_of_no_known_metal_is_refused(cylinder: Maker) -> None:
    with pytest.raises(BadDesign, match=r"tub\.stand_in 1\.material"):
        tubbed(cylinder, {"stand_in": [{"hook": "front hook", "weight": "4 g", "material": "leed"}]})


def test_a_stand_in_is_as_sure_as_its_scale(cylinder: Maker) -> None:
    """Hooks sure, one stand-in of 4 g ± 0.5 g of steel: what it adds to the spread, by hand."""
    sure = [{**hook, "weight": f"{hook['weight']} ± 0 g"} for hook in HOOKS]
    spreads = [
        tubbed(cylinder, {"stand_in": [{"hook": "front hook", "weight": f"4 g ± {off} g", "material": "lead"}]},
               hook=sure).rate.excess.spread
        for off in (0.0, 0.5)
    ]  # fmt: skip
    more = 0.0005 * (1.0 - water_density(293.15, 0.0) / 11340.0)
    assert spreads[1] == pytest.approx(math.hypot(spreads[0], more), rel=1e-9)
