"""What was measured takes the place of what was computed: scale, jug and watch, at every stage of the work."""

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from gudgeon.answers.aiming import steady_pitch
from gudgeon.answers.assembly import assemble
from gudgeon.answers.check import check
from gudgeon.answers.evidence import doubts, readings
from gudgeon.answers.sinking_rate import sinking_rate
from gudgeon.design.file import parse
from gudgeon.design.model import Design
from gudgeon.library.water import water_density
from gudgeon.physics.lure import DRILLED, LEADED, LOG_FALL_DRAG, PAINTED, RIGGED, SEALED, SHAPED, WATER, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.sinking import drag_area, excess_mass, pitch, sink_velocity
from gudgeon.physics.spread import Estimate, smooth
from gudgeon.units import FOOT

Maker = Callable[..., Design]
BODY = math.pi * 0.120 * 0.010 * 0.020  # m3
TAP = {"temperature": "20 C ± 0 C", "salinity": "0 ppt ± 0 ppt"}
HOOKS = [{"name": "front hook", "at": "30 mm", "weight": "4 g ± 0.4 g"},
         {"name": "rear hook", "at": "90 mm", "weight": "3 g ± 0.4 g"}]  # fmt: skip


def mass(lure: Lure, step: int = RIGGED, fitted: tuple[str, ...] | None = None, segment: int | None = None) -> Estimate:
    state, effects = lure.state(lure.chosen(step=step, fitted=fitted, segment=segment))
    return smooth(lambda s: 1e3 * s[..., MASS], state, effects, lure.knowledge)


def room(lure: Lure, step: int = RIGGED, segment: int | None = None) -> Estimate:
    state, effects = lure.state(lure.chosen(step=step, segment=segment))
    return smooth(lambda s: 1e6 * s[..., VOLUME], state, effects, lure.knowledge)


def excess(lure: Lure) -> Estimate:
    state, effects = lure.state()
    return smooth(lambda s: 1e3 * excess_mass(s, s[..., WATER]), state, effects, lure.knowledge)


def words(design: Design) -> list[str]:
    return [finding.words for finding in doubts(design, assemble(design))]


# --- the blank ---


def test_the_blanks_weight_replaces_the_tables_density(cylinder: Maker) -> None:
    lure = assemble(cylinder(wood={"species": "basswood", "blank_weight": "35 g ± 0.1 g"}))
    assert mass(lure, SHAPED).value == pytest.approx(35.0, abs=0.01)
    assert mass(lure, SHAPED).spread == pytest.approx(0.1, rel=0.01)
    assert mass(assemble(cylinder(wood={"species": "basswood"})), SHAPED).spread > 2.0


def test_a_blank_known_by_weight_alone_is_of_the_density_it_comes_to(cylinder: Maker) -> None:
    lure = assemble(cylinder(wood={"blank_weight": "35 g"}))
    assert lure.wood_density_of(0) == pytest.approx(0.035 / BODY, rel=1e-9)
    assert mass(lure, SHAPED).spread == pytest.approx(0.1, rel=0.01)  # the kitchen scale's


def test_weight_and_offcut_share_what_they_do_not_agree_on(cylinder: Maker) -> None:
    """Offcut 5 % sure, drawing 4 %, blank 3 % heavy, scale 0.1 g: each moves by its share of the variance."""
    sure = {"outline_volume": "4 %", "density": "5 %", "scale": "0.1 g"}
    expected = 400.0 * BODY
    lure = assemble(cylinder(uncertainty=sure, wood={"density": "0.4 g/cm3", "blank_weight": f"{1030 * expected} g"}))
    total = (0.05 * expected) ** 2 + (0.04 * expected) ** 2 + 1e-4**2
    dense = 1.0 + 0.05 * (0.05 * expected) * (0.03 * expected) / total
    full = 1.0 + 0.04 * (0.04 * expected) * (0.03 * expected) / total
    assert lure.wood_density_of(0) == pytest.approx(400.0 * dense, rel=1e-9)
    assert room(lure, SHAPED).value == pytest.approx(1e6 * BODY * full, rel=1e-9)
    left = math.sqrt(1.0 - (0.04 * expected) ** 2 / total)
    assert room(lure, SHAPED).spread == pytest.approx(1e6 * BODY * 0.04 * left, rel=1e-6)


def test_measuring_twice_narrows_and_takes_the_middle(cylinder: Maker) -> None:
    first, second = ({"stage": "shaped", "weight": f"{grams} g ± 0.2 g"} for grams in (30.0, 30.4))
    once = assemble(cylinder(measured=[first]))
    twice = assemble(cylinder(measured=[first, second]))
    assert mass(twice, SHAPED).spread == pytest.approx(0.2 / math.sqrt(2.0), rel=0.01)
    assert mass(twice, SHAPED).spread < 0.8 * mass(once, SHAPED).spread
    assert mass(twice, SHAPED).value == pytest.approx(30.2, abs=0.02)


def test_a_blank_weighed_in_its_own_table_or_as_a_measurement_is_the_same(cylinder: Maker) -> None:
    there = assemble(cylinder(wood={"species": "basswood", "blank_weight": "32 g ± 0.1 g"}))
    here = assemble(cylinder(wood={"species": "basswood"}, measured=[{"stage": "shaped", "weight": "32 g ± 0.1 g"}]))
    assert mass(there) == mass(here)
    assert room(there) == room(here)


def test_each_segment_weighed_is_what_it_weighed(cylinder: Maker) -> None:
    joint = [{"at": "70 mm", "gap": "2 mm"}]
    weighed = [{"stage": "shaped", "of": "head", "weight": "18.5 g ± 0.1 g"},
               {"stage": "shaped", "of": "tail", "weight": "11.2 g ± 0.1 g"}]  # fmt: skip
    lure = assemble(cylinder(joint=joint, measured=weighed))
    assert mass(lure, SHAPED, segment=0).value == pytest.approx(18.5, abs=0.05)
    assert mass(lure, SHAPED, segment=1).value == pytest.approx(11.2, abs=0.05)
    assert mass(lure, SHAPED).spread == pytest.approx(0.1 * math.sqrt(2.0), rel=0.02)
    assert lure.wood_density_of(0) > lure.wood_density_of(1)
    head_only = assemble(cylinder(joint=joint, measured=weighed[:1]))  # the board is heavier, so the tail is too
    assert mass(head_only, SHAPED, segment=1).value > mass(assemble(cylinder(joint=joint)), SHAPED, segment=1).value


# --- the jug ---


@pytest.mark.parametrize(("stage", "step"), [("shaped", SHAPED), ("painted", PAINTED)])
def test_the_jug_replaces_the_drawing(cylinder: Maker, stage: str, step: int) -> None:
    jug = {"stage": stage, "displaced": "77 g ± 0.1 g", **TAP}
    coat = [{"name": "clear", "thickness": "0.2 mm", "material": "epoxy"}]
    lure = assemble(cylinder(drawn="bare wood", coat=coat, measured=[jug]))
    water = 1e-3 * water_density(293.15, 0.0)
    assert room(lure, step).value == pytest.approx(77.0 / water, abs=0.02)
    assert room(lure, step).spread == pytest.approx(0.1 / water, rel=0.02)


def test_the_jugs_water_is_the_one_it_held(cylinder: Maker) -> None:
    salt = {"stage": "shaped", "displaced": "77 g ± 0.01 g", "temperature": "10 C ± 0 C", "salinity": "35 ppt ± 0 ppt"}
    lure = assemble(cylinder(measured=[salt]))
    assert room(lure, SHAPED).value == pytest.approx(77.0 / (1e-3 * water_density(283.15, 35.0)), abs=0.005)


def test_a_jug_whose_water_was_not_noted_is_less_sure(cylinder: Maker) -> None:
    reading = {"stage": "shaped", "displaced": "75 g ± 0.001 g"}
    noted, unnoted = (assemble(cylinder(measured=[{**reading, **water}])) for water in (TAP, {}))
    assert room(noted, SHAPED).spread < 0.005
    assert 0.05 < room(unnoted, SHAPED).spread < 0.15  # 5 K of tap water is one part in a thousand


def test_the_jug_on_one_segment_leaves_the_other_to_its_drawing(cylinder: Maker) -> None:
    joint = [{"at": "70 mm", "gap": "2 mm"}]
    jug = {"stage": "shaped", "of": "head", "displaced": "44 g ± 0.05 g", **TAP}
    lure = assemble(cylinder(joint=joint, measured=[jug]))
    assert room(lure, SHAPED, 0).value == pytest.approx(44.0 / 0.99821, abs=0.02)
    assert room(lure, SHAPED, 0).spread < 0.06
    assert room(lure, SHAPED, 1).spread > 0.4


# --- stage weights ---


def staged(cylinder: Maker, *measured: dict[str, object]) -> Lure:
    """A lure whose blank is known to 0.05 g, so that what is weighed after tells of what was put on after."""
    return assemble(cylinder(
        wood={"species": "basswood", "blank_weight": "30 g ± 0.05 g"}, drawn="bare wood", sealer={"weight": "3 g"},
        coat=[{"name": "clear", "thickness": "0.2 mm", "density": "1.15 g/cm3 ± 0.01 g/cm3"}], hook=HOOKS,
        pocket=[{"name": "belly", "at": "60 mm", "bore": "10 mm", "holds": "20 g ± 1 g"}], measured=list(measured),
    ))  # fmt: skip


def test_the_weight_when_sealed_goes_to_the_sealer(cylinder: Maker) -> None:
    before = staged(cylinder)
    drilled = mass(before, DRILLED).value
    lure = staged(cylinder, {"stage": "sealed", "weight": f"{drilled + 2.2} g ± 0.05 g"})
    assert mass(lure, SEALED).value == pytest.approx(drilled + 2.2, abs=0.01)
    assert mass(lure, DRILLED).value == pytest.approx(drilled, abs=0.03)
    assert mass(lure, SEALED).value - mass(lure, DRILLED).value == pytest.approx(2.2, abs=0.03)
    assert room(lure).value == pytest.approx(room(before).value, rel=2e-3)  # no volume comes with it


def test_the_weight_when_leaded_goes_to_the_ballast(cylinder: Maker) -> None:
    before = staged(cylinder)
    sealed = {"stage": "sealed", "weight": f"{mass(before, SEALED).value} g ± 0.05 g"}
    lure = staged(cylinder, sealed, {"stage": "leaded", "weight": f"{mass(before, LEADED).value + 0.6} g ± 0.05 g"})
    change = [lure.sums(lure.chosen(step=step)).mass - before.sums(before.chosen(step=step)).mass
              for step in (SEALED, LEADED)]  # fmt: skip
    assert 1e3 * change[0] == pytest.approx(0.0, abs=0.02)
    assert 1e3 * change[1] == pytest.approx(0.6, abs=0.02)


def test_the_weight_when_painted_goes_to_coats_that_displace(cylinder: Maker) -> None:
    before = staged(cylinder)
    leaded = {"stage": "leaded", "weight": f"{mass(before, LEADED).value} g ± 0.02 g"}
    lure = staged(cylinder, leaded, {"stage": "painted", "weight": f"{mass(before, PAINTED).value + 0.4} g ± 0.02 g"})
    assert mass(lure, PAINTED).value == pytest.approx(mass(before, PAINTED).value + 0.4, abs=0.01)
    assert room(lure).value - room(before).value == pytest.approx(0.4 / 1.15, abs=0.03)


def test_the_weight_when_rigged_is_that_of_everything(cylinder: Maker) -> None:
    before = staged(cylinder)
    lure = staged(cylinder, {"stage": "rigged", "weight": f"{mass(before).value + 1.0} g ± 0.1 g"})
    assert mass(lure).value == pytest.approx(mass(before).value + 1.0, abs=0.01)
    assert mass(lure).spread == pytest.approx(0.1, rel=0.01)


def test_what_was_fitted_then_counts_and_what_was_not_does_not(cylinder: Maker) -> None:
    before = staged(cylinder)
    one = mass(before, RIGGED, ("front hook",)).value
    assert mass(before).value - one == pytest.approx(3.0, rel=1e-9)
    lure = staged(cylinder, {"stage": "rigged", "fitted": ["front hook"], "weight": f"{one} g ± 0.01 g"})
    assert mass(lure).value == pytest.approx(mass(before).value, abs=1e-6)
    assert mass(lure, RIGGED, ("front hook",)).spread == pytest.approx(0.01, rel=0.01)
    assert mass(lure).spread == pytest.approx(math.hypot(0.01, 0.4), rel=0.01)  # the rear hook is not in it
    none = staged(cylinder, {"stage": "painted", "weight": f"{mass(before, PAINTED).value} g ± 0.01 g"})
    assert mass(none).spread == pytest.approx(math.hypot(0.01, 0.4, 0.4), rel=0.01)
    hung_early = staged(cylinder, {"stage": "painted", "fitted": ["front hook"], "weight": f"{one} g ± 0.01 g"})
    assert mass(hung_early).value == pytest.approx(mass(lure).value, abs=1e-6)


# --- the timed drop ---


def dropped(cylinder: Maker, *, lead: str, measured: dict[str, object] | None = None, **tables: object) -> Lure:
    return assemble(cylinder(
        hook=HOOKS, pocket=[{"name": "belly", "at": "60 mm", "bore": "14 mm", "holds": lead}],
        measured=[measured] if measured else [], **tables,
    ))  # fmt: skip


def velocity(lure: Lure) -> float:
    state, _ = lure.state()
    area = drag_area(pitch(state, state[WATER], lure.falling), lure.falling, np.exp(state[LOG_FALL_DRAG]))
    return float(sink_velocity(excess_mass(state, state[WATER]), state[WATER], area))


def test_a_drop_as_predicted_moves_nothing_and_narrows(cylinder: Maker) -> None:
    before = dropped(cylinder, lead="42 g")
    assert velocity(before) > 0.02
    rate = f"{FOOT / velocity(before)} s/ft"
    lure = dropped(cylinder, lead="42 g", measured={"stage": "rigged", "sinks": rate, **TAP})
    assert excess(lure).value == pytest.approx(excess(before).value, abs=1e-3)
    assert excess(lure).spread < 0.5 * excess(before).spread


def test_a_slow_drop_says_lighter_or_more_drag_and_both_give_way_by_their_share(cylinder: Maker) -> None:
    """Two unknowns only, weight of the ballast (1 g) and drag (share d): the posterior on paper."""
    sure = {"outline_volume": "0 %", "density": "0 %", "temperature": "0 C", "material_density": "0 %"}
    table = {"uncertainty": sure, "coefficients": {"fall_drag": 1.0, "fall_drag_spread": 0.4},
             "hook": [], "water": {"kind": "fresh", "temperature": "20 C", "salinity": "0 ppt ± 0 ppt"}}  # fmt: skip

    def made(*measured: dict[str, object]) -> Lure:
        pocket = {"name": "belly", "at": "60 mm", "bore": "14 mm", "holds": "48 g ± 1 g"}
        return assemble(cylinder(pocket=[pocket], measured=list(measured), **table))

    before = made()
    grams = excess(before).value
    area = before.falling.plan_area
    speed = 0.8 * velocity(before)
    seen = 0.5 * before.water.density * area * speed**2 / 9.80665 * 1e3
    assert seen == pytest.approx(0.64 * grams, rel=1e-4)
    after = made({"stage": "rigged", "sinks": f"{FOOT / speed} s/ft ± {0.05 * FOOT / speed} s/ft", **TAP})
    variance = 1.0**2 + (0.4 * seen) ** 2 + (0.1 * seen) ** 2
    assert excess(after).value == pytest.approx(grams - (grams - seen) / variance, rel=1e-3)
    drag = after.knowledge.mean[after.sources.index("fall drag")]
    assert drag == pytest.approx(0.4 * seen * (grams - seen) / variance, rel=1e-3)
    assert abs(velocity(after) - speed) < 0.2 * abs(velocity(before) - speed)


def test_a_timed_rise_is_a_drop_upside_down(cylinder: Maker) -> None:
    before = dropped(cylinder, lead="30 g")
    assert velocity(before) < -0.05
    same = {"stage": "rigged", "rises": f"{-FOOT / velocity(before)} s/ft", **TAP}
    slow = {"stage": "rigged", "rises": f"{-1.3 * FOOT / velocity(before)} s/ft", **TAP}
    assert excess(dropped(cylinder, lead="30 g", measured=same)).value == pytest.approx(excess(before).value, abs=1e-3)
    assert excess(dropped(cylinder, lead="30 g", measured=slow)).value > excess(before).value


def test_a_drop_in_one_water_tells_of_the_lure_in_another(cylinder: Maker) -> None:
    """Timed in the tap, meant for the sea: the weight in sea water is what moves."""
    sea = {"water": {"kind": "sea", "temperature": "15 C"}}
    before = dropped(cylinder, lead="42 g", **sea)
    state, _ = before.state()
    in_tap = 1e3 * float(excess_mass(state, water_density(293.15, 0.0)))
    rate = velocity(dropped(cylinder, lead="42 g"))
    after = dropped(cylinder, lead="42 g", measured={"stage": "rigged", "sinks": f"{FOOT / rate} s/ft", **TAP}, **sea)
    assert in_tap > 0.0
    assert excess(after).value == pytest.approx(excess(before).value, abs=0.02)


# --- slips ---


def test_measurements_that_fit_raise_no_doubt(cylinder: Maker) -> None:
    design = cylinder(wood={"density": "0.4 g/cm3", "blank_weight": "30.5 g"},
                      measured=[{"stage": "shaped", "displaced": "75.5 g", **TAP}])  # fmt: skip
    assert words(design) == []


def test_ounces_for_grams_are_doubted_and_the_measured_one_is_used(cylinder: Maker) -> None:
    design = cylinder(measured=[{"stage": "shaped", "weight": "1.07 g"}])
    found = doubts(design, assemble(design))
    assert len(found) == 1
    assert found[0].words.startswith("Weight of the blank: measured {measured}, where drawing, wood and parts make it")
    assert found[0].numbers["measured"][0] == pytest.approx(1.07e-3)
    expected = found[0].numbers["expected"][0]
    assert isinstance(expected, Estimate)
    assert expected.value == pytest.approx(400.0 * BODY, rel=1e-9)
    assert mass(assemble(design), SHAPED).value == pytest.approx(1.07, abs=0.3)


def test_the_second_of_two_that_contradict_is_doubted(cylinder: Maker) -> None:
    pair = [{"stage": "shaped", "weight": "30 g ± 0.1 g"}, {"stage": "shaped", "weight": "31 g ± 0.1 g"}]
    assert len(words(cylinder(measured=pair))) == 1
    alone = [words(cylinder(measured=[one])) for one in pair]
    assert alone == [[], []]


def test_a_doubted_jug_is_told_in_grams_of_water(cylinder: Maker) -> None:
    design = cylinder(measured=[{"stage": "shaped", "displaced": "95 g ± 0.1 g", **TAP}])
    found = doubts(design, assemble(design))
    assert found[0].words.startswith("Water displaced of the lure, shaped: measured {measured}")
    assert found[0].numbers["measured"][0] == pytest.approx(0.095)


def test_a_drop_of_a_lure_that_should_float_is_doubted(cylinder: Maker) -> None:
    drop = {"stage": "rigged", "sinks": "1 s/ft", **TAP}
    design = cylinder(pocket=[{"name": "belly", "at": "60 mm", "bore": "12 mm", "holds": "30 g"}], measured=[drop])
    assert any(told.startswith("Weight in water by the timed drop of the lure, rigged") for told in words(design))


def test_every_measurement_is_read_in_its_order(cylinder: Maker) -> None:
    design = cylinder(
        joint=[{"at": "60 mm", "gap": "2 mm"}], wood={"species": "basswood", "blank_weight": "28 g"}, hook=HOOKS,
        measured=[{"stage": "shaped", "of": "tail", "weight": "14 g"}, {"stage": "painted", "displaced": "74 g"},
                  {"stage": "rigged", "rises": "2 s/ft"}],
    )  # fmt: skip
    told = [seen.words for seen in readings(design, assemble(design))]
    assert told == ["Weight of the blank", "Weight of the tail, shaped", "Water displaced of the lure, painted",
                    "Weight in water by the timed drop of the lure, rigged"]  # fmt: skip


def test_a_scale_that_is_never_off_is_believed(cylinder: Maker) -> None:
    lure = assemble(cylinder(uncertainty={"scale": "0 g"}, measured=[{"stage": "shaped", "weight": "31 g"}] * 2))
    assert mass(lure, SHAPED).value == pytest.approx(31.0, abs=1e-6)
    assert mass(lure, SHAPED).spread < 1e-5


def test_after_a_drop_the_rate_told_is_near_the_one_seen(cylinder: Maker) -> None:
    before = dropped(cylinder, lead="42 g")
    rate = 0.6 * velocity(before)
    lure = dropped(cylinder, lead="42 g", measured={"stage": "rigged", "sinks": f"{FOOT / rate} s/ft", **TAP})
    state, effects = lure.state()
    told = sinking_rate(state, effects, lure.knowledge, lure.falling)
    assert told.velocity.low < rate < told.velocity.high
    assert told.velocity.spread < 0.5 * rate


@pytest.mark.parametrize("rate", ["0.2 s/ft", "1 s/ft", "40 s/ft"])
@pytest.mark.parametrize("way", ["sinks", "rises"])
def test_a_drop_that_contradicts_every_weight_is_doubted_and_still_answered(rate: str, way: str) -> None:
    text = (Path(__file__).parents[2] / "examples/glider-weighed.toml").read_text(encoding="utf-8")
    answer = check(parse(text + f'\n[[measured]]\nstage = "rigged"\n{way} = "{rate}"\n'))
    for number in (answer.rate.velocity, answer.rate.excess, answer.rate.attitude):
        assert np.isfinite([number.value, number.low, number.high]).all()
    if rate == "0.2 s/ft":
        assert any("timed drop" in finding.words for finding in answer.findings)


# --- how it lay ---


def lain(cylinder: Maker, lies: str | None, *, lead: str, wood: str) -> Lure:
    return assemble(cylinder(
        160.0, 20.0, 15.0, hook=HOOKS, pocket=[{"name": "belly", "at": "83 mm", "bore": "16 mm", "holds": lead}],
        wood={"density": wood}, measured=[{"stage": "rigged", "lies": lies, **TAP}] if lies else [],
    ))  # fmt: skip


@pytest.mark.parametrize(
    ("lead", "wood", "off"),
    [("50 g", "0.65 g/cm3", -4.0), ("50 g", "0.65 g/cm3", 5.0),
     ("20 g", "0.4 g/cm3", -0.3), ("20 g", "0.4 g/cm3", 0.4)],
    ids=["sinking, more down", "sinking, more up", "afloat, more down", "afloat, more up"],
)  # fmt: skip
def test_a_lie_seen_takes_the_place_of_the_one_computed(cylinder: Maker, lead: str, wood: str, off: float) -> None:
    """What turns it is known by how it lay, as far as that was seen; what it weighs in water hardly changes."""
    plain = lain(cylinder, None, lead=lead, wood=wood)
    before = math.degrees(steady_pitch(plain, plain.state()[0]))
    seen = lain(cylinder, f"{before + off} deg ± 0.02 deg", lead=lead, wood=wood)
    assert math.degrees(steady_pitch(seen, seen.state()[0])) == pytest.approx(before + off, abs=0.1 * abs(off))
    assert excess(seen).value == pytest.approx(excess(plain).value, abs=0.5 * excess(plain).spread)
    hardly = lain(cylinder, f"{before + off} deg ± 80 deg", lead=lead, wood=wood)
    assert math.degrees(steady_pitch(hardly, hardly.state()[0])) == pytest.approx(before, abs=0.25 * abs(off))


def test_a_lie_beyond_all_that_the_sources_allow_does_not_move_the_weight(cylinder: Maker) -> None:
    plain = lain(cylinder, None, lead="20 g", wood="0.4 g/cm3")
    seen = lain(cylinder, "12 deg nose-up ± 0.1 deg", lead="20 g", wood="0.4 g/cm3")
    assert excess(seen).value == pytest.approx(excess(plain).value, abs=0.5 * excess(plain).spread)


def test_a_lie_says_nothing_of_a_lure_that_nothing_rights(cylinder: Maker) -> None:
    top = [{"name": "back", "at": "60 mm", "bore": "14 mm", "face": "back", "holds": "45 g"}]
    made = cylinder(pocket=top, measured=[{"stage": "rigged", "lies": "3 deg"}])
    assert readings(made, assemble(made)) == []
