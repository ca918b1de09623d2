from dataclasses import replace

import pytest

from gudgeon.answers.bench_lure import (
    BenchLure,
    BenchPart,
    BenchWater,
    Stuff,
    film,
    lake,
    stuff,
    table_hooks,
    table_wood,
)
from gudgeon.answers.sums import BenchAim, PlanArea, fall_rate, lead, weighed_up
from gudgeon.errors import Refusal
from gudgeon.physics.spread import Estimate
from gudgeon.units import FOOT, Reading

GRAM = 1e-3
TANK = lake(Reading(293.15))
LEAD = stuff("lead")
PLAN = PlanArea(Reading(30e-4))


def lure(*parts: BenchPart, displaced: Reading | None = None, density: Reading | None = None) -> BenchLure:
    if displaced is None and density is None:
        displaced = Reading(0.128)
    return BenchLure(Reading(0.0602), displaced, density, False, parts, TANK, TANK)


def hooks(grams: float = 17.7) -> BenchPart:
    return BenchPart("hooks", Reading(grams * GRAM), stuff("steel"))


def test_the_lead_found_makes_the_lure_do_what_was_asked() -> None:
    answer = lead(lure(hooks()), BenchAim(velocity=FOOT / 3.0), LEAD, PLAN)
    assert answer.rate is not None
    assert answer.rate.velocity.value == pytest.approx(FOOT / 3.0)
    again = weighed_up(lure(hooks(), BenchPart("ballast", Reading(answer.inside.value), LEAD, buried=True)), PLAN)
    assert again.excess.value == pytest.approx(answer.excess.value)


def test_a_buried_part_takes_its_own_room_of_wood_away_and_displaces_nothing_new() -> None:
    outside, buried = hooks(), replace(hooks(), buried=True)
    wet, dry = weighed_up(lure(outside)), weighed_up(lure(buried))
    room = 0.0177 / stuff("steel").density
    assert wet.displaced.value - dry.displaced.value == pytest.approx(room * TANK.density)
    assert wet.total.value - dry.total.value == pytest.approx(room * dry.wood.value)
    assert wet.on_scale.value == dry.on_scale.value


def test_sealer_weighs_and_coats_displace() -> None:
    bare = weighed_up(lure())
    sealed = weighed_up(lure(BenchPart("sealer", Reading(3e-3), Stuff("epoxy", 1150.0), soaked=True)))
    coated = weighed_up(lure(BenchPart("coats", Reading(3e-3), Stuff("epoxy", 1150.0))))
    assert sealed.excess.value - bare.excess.value == pytest.approx(3e-3)
    assert coated.excess.value - bare.excess.value == pytest.approx(3e-3 * (1.0 - TANK.density / 1150.0))


def test_jug_and_density_agree_when_they_say_the_same() -> None:
    by_jug = lead(lure(hooks()), BenchAim(), LEAD)
    density = 0.0602 / (0.128 / TANK.density)
    by_density = lead(lure(hooks(), density=Reading(density)), BenchAim(), LEAD)
    assert by_jug.inside.value == pytest.approx(by_density.inside.value)
    assert by_density.inside.spread > 3.0 * by_jug.inside.spread
    assert by_density.narrowing is not None
    assert "jug" in by_density.narrowing.measurement


def test_the_jugs_own_temperature_counts() -> None:
    cold_jug = replace(lure(hooks()), jug=lake(Reading(277.15)))
    warm, cold = weighed_up(lure(hooks())), weighed_up(cold_jug)
    assert cold.volume.value / warm.volume.value == pytest.approx(TANK.density / lake(Reading(277.15)).density)


def test_a_lure_too_heavy_is_told_and_its_sums_are_without_ballast() -> None:
    answer = lead(lure(hooks(80.0)), BenchAim(), LEAD)
    assert answer.inside.value < 0.0
    assert answer.warnings[0].words.startswith("already")
    assert "too heavy to do that before any ballast goes in" in answer.warnings[0].words
    assert answer.excess.value == pytest.approx(weighed_up(lure(hooks(80.0))).excess.value)
    assert answer.last_hole == 0.0


def test_a_near_neutral_lure_says_that_its_spread_decides() -> None:
    answer = lead(lure(hooks()), BenchAim(), LEAD, PLAN)
    words = " ".join(finding.words for finding in answer.warnings)
    assert "which decides whether it floats or sinks" in words
    assert answer.rate is not None
    assert answer.rate.words == "floats to sinks"


def test_whole_shot_say_what_they_leave_wrong() -> None:
    answer = lead(lure(hooks()), BenchAim(), LEAD, shot=10 * GRAM)
    assert answer.shots is not None
    assert answer.shots.count == round(answer.inside.value / (10 * GRAM))
    assert answer.excess.value == pytest.approx(answer.shots.off.value)
    assert f"{answer.shots.count} shot leave it" in answer.warnings[-1].words


def test_a_sea_lure_is_told_what_it_does_in_a_lake() -> None:
    sea = BenchWater(Reading(293.15), Reading(35.0))
    answer = lead(replace(lure(hooks()), water=sea), BenchAim(), LEAD)
    assert answer.other.words.startswith("fresh")
    assert answer.other.excess.value > 2 * GRAM


def test_every_impossible_number_is_refused_at_once() -> None:
    with pytest.raises(Refusal) as refused:
        lead(replace(lure(), blank=Reading(0.0), displaced=Reading(0.0)), BenchAim(), LEAD)
    assert [fault.place for fault in refused.value.faults] == ["--blank", "--displaced"]
    with pytest.raises(Refusal, match="no wood"):
        lead(replace(lure(), displaced=Reading(0.0128)), BenchAim(), LEAD)


def test_the_rate_leans_with_its_excess_and_its_drag() -> None:
    sure = Estimate(1.5 * GRAM, 1.5 * GRAM, 1.5 * GRAM)
    steady = fall_rate(sure, PLAN, TANK.density).velocity
    timed = fall_rate(sure, PlanArea(Reading(30e-4), Reading(1.0)), TANK.density)
    assert steady.spread / steady.value == pytest.approx(0.23, abs=0.03)
    assert timed.velocity.spread / timed.velocity.value == pytest.approx(0.075, abs=0.01)
    wide = fall_rate(Estimate(1.5 * GRAM, -0.5 * GRAM, 3.5 * GRAM), PLAN, TANK.density)
    assert wide.velocity.low < 0.0 < wide.velocity.high
    assert wide.words == "floats to sinks"


def test_a_rate_without_an_area_is_refused() -> None:
    with pytest.raises(Refusal, match="--plan-area"):
        lead(lure(hooks()), BenchAim(velocity=0.1), LEAD)


def test_water_knows_its_spread_at_both_ends_of_its_source() -> None:
    for kelvin, salt in ((273.15, 0.0), (313.15, 42.0), (288.15, 35.0)):
        known = BenchWater(Reading(kelvin), Reading(salt)).known()
        assert 0.05 < known.spread < 2.0


def test_table_values_bring_their_wide_spreads() -> None:
    two, one = table_hooks("4", 2), table_hooks("4", 1)
    assert two.value == pytest.approx(2.0 * one.value)
    assert (two.spread or 0.0) == pytest.approx(0.25 * two.value)
    wood = table_wood("basswood")
    assert (wood.spread or 0.0) == pytest.approx(0.20 * wood.value)
    coat = film(Reading(0.3e-3), Reading(0.02), Stuff("epoxy", 1150.0))
    assert coat.value == pytest.approx(6.9 * GRAM)
    assert (coat.spread or 0.0) / coat.value == pytest.approx((0.3**2 + 0.1**2) ** 0.5)
