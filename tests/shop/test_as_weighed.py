"""A lure's record in the place of what was computed; the ballast it still wants; a run out of the log."""

import math
from pathlib import Path

import pytest

from gudgeon.answers.as_weighed import as_measured, as_weighed
from gudgeon.answers.assembly import assemble
from gudgeon.answers.check import check
from gudgeon.answers.lure_runs import LureRun, lure_run
from gudgeon.answers.timed_rate import velocity_of
from gudgeon.design.file import DesignFile, open_design, parse, stamp
from gudgeon.errors import BadShop
from gudgeon.physics.lure import PAINTED, RIGGED, SEALED, SHAPED, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.report.check_rows import headline
from gudgeon.report.log_rows import run_headline, run_sections
from gudgeon.report.rows import Shop
from gudgeon.shop.log import Log
from gudgeon.shop.records import Attitude, Ballast, Board, Fitting, Jug, TimedDrop, Weighing
from gudgeon.units import FOOT, Reading

GLIDER = "Reed Gate glider"
EXAMPLES = Path(__file__).parents[2] / "examples"
BLANKS = (41.2, 43.0, 43.9, 44.8, 45.1, 45.6, 46.2, 46.9, 47.7, 48.8, 50.3, 53.1)


def grams(mass: float, spread: float | None = None) -> Reading:
    return Reading(mass * 1e-3, None if spread is None else spread * 1e-3)


@pytest.fixture
def file() -> DesignFile:
    return open_design(EXAMPLES / "glider.toml")


def mass(log: Log, file: DesignFile, step: int, of: int = MASS) -> float:
    """[g] or [cm3] of the whole at a step of the work, as now known of lure 1."""
    lure = check(as_measured(file.design, log.lure(1)).design).drawn
    return (1e3 if of == MASS else 1e6) * float(lure.state(lure.chosen(step=step))[0][of])


def test_a_lure_without_a_record_is_as_drawn(twelve: Log, file: DesignFile) -> None:
    made = as_measured(file.design, twelve.lure(1))
    assert made.used == ()
    assert made.design.measured == ()
    assert mass(twelve, file, RIGGED) == pytest.approx(1e3 * check(file.design).now.mass.value, rel=1e-9)


def test_stage_weights_take_the_place_of_computed_ones(twelve: Log, file: DesignFile) -> None:
    twelve.weigh(1, Weighing("shaped", grams(48.2, 0.01)))
    assert mass(twelve, file, SHAPED) == pytest.approx(48.2, abs=0.01)
    twelve.weigh(1, Weighing("sealed", grams(49.1, 0.01)))
    assert mass(twelve, file, SEALED) == pytest.approx(49.1, abs=0.01)
    for hole, lead in (("front", 12.0), ("rear", 14.0)):
        twelve.ballast(1, Ballast(hole, grams(lead, 0.01)))
    twelve.weigh(1, Weighing("clear", grams(83.0, 0.01)))
    assert mass(twelve, file, PAINTED) == pytest.approx(83.0, abs=0.02)
    twelve.weigh(1, Weighing("rigged", grams(98.5, 0.01)))
    assert mass(twelve, file, RIGGED) == pytest.approx(98.5, abs=0.02)


def test_the_jug_takes_the_place_of_the_drawn_volume(twelve: Log, file: DesignFile) -> None:
    twelve.jug(1, Jug("sealed", grams(108.4, 0.01), temperature=Reading(293.15, 0.01), salinity=Reading(0.0, 0.001)))
    assert mass(twelve, file, SEALED, VOLUME) == pytest.approx(108.4 / 0.99821, abs=0.02)


def test_the_latest_of_what_was_measured_twice_counts(twelve: Log, file: DesignFile) -> None:
    twelve.weigh(1, Weighing("shaped", grams(48.2, 0.01)))
    twelve.weigh(1, Weighing("shaped", grams(47.2, 0.01)))
    assert mass(twelve, file, SHAPED) == pytest.approx(47.2, abs=0.01)


def test_a_piece_weighed_alone_tells_of_that_piece(twelve: Log, file: DesignFile) -> None:
    twelve.weigh(1, Weighing("shaped", grams(34.0, 0.01), "front"))
    twelve.weigh(1, Weighing("shaped", grams(17.0, 0.01), "rear"))
    assert mass(twelve, file, SHAPED) == pytest.approx(51.0, abs=0.02)


def test_a_dry_fit_is_a_sealed_lure_with_all_its_parts_on(twelve: Log, file: DesignFile) -> None:
    twelve.weigh(1, Weighing("dry fit", grams(61.0, 0.01)))
    design = as_measured(file.design, twelve.lure(1)).design
    assert [one.stage for one in design.measured] == ["sealed"]
    assert set(design.measured[0].fitted or ()) == {
        "tow eye", "front hanger", "rear hanger", "front hook", "rear hook", "hinge 1"}  # fmt: skip
    lure = check(design).drawn
    mask = lure.chosen(step=SEALED, fitted=design.measured[0].fitted)
    assert 1e3 * float(lure.state(mask)[0][MASS]) == pytest.approx(61.0, abs=0.02)


def test_stages_that_a_design_does_not_know_are_kept_and_not_used(twelve: Log, file: DesignFile) -> None:
    for stage, weight in (("square", 140.0), ("primed", 99.0)):
        twelve.weigh(1, Weighing(stage, grams(weight)))
    assert as_measured(file.design, twelve.lure(1)).design.measured == ()


def test_a_board_s_density_takes_the_place_of_the_table(log: Log, glider: str, file: DesignFile) -> None:
    log.add_board(Board("B7", "poplar", Reading(470.0, 4.0), Reading(0.09)))
    log.add_board(Board("B8", "basswood"))
    log.add_pattern(glider)
    log.add_lures(GLIDER, 1, board="B7")
    log.add_lures(GLIDER, 1, board="B8")
    assert check(as_measured(file.design, log.lure(1)).design).wood_density.value == pytest.approx(470.0)
    assert as_measured(file.design, log.lure(2)).design.wood.species == "basswood"


def test_parts_have_the_weights_they_were_found_to_have(twelve: Log, file: DesignFile) -> None:
    before = mass(twelve, file, RIGGED)
    twelve.fit(1, Fitting("front hook", grams(5.0)))
    hook = next(hook for hook in as_measured(file.design, twelve.lure(1)).design.hooks if hook.name == "front hook")
    assert hook.weight == grams(5.0)
    drawn = check(file.design).drawn.ledger.items
    own = next(item.mass for item in drawn if item.name == "front hook")
    assert mass(twelve, file, RIGGED) - before == pytest.approx(5.0 - 1e3 * own, abs=1e-6)


def test_ballast_lies_where_it_was_put(twelve: Log, file: DesignFile) -> None:
    twelve.ballast(1, Ballast("front", grams(6.0), station=0.036, depth=0.020, bore=0.011))
    twelve.ballast(1, Ballast("front", grams(4.0), station=0.036))
    twelve.ballast(1, Ballast("cheek", grams(2.0), station=0.020, depth=0.012, bore=0.008))
    twelve.ballast(1, Ballast("somewhere", grams(1.0)))
    made = as_measured(file.design, twelve.lure(1))
    pockets = {pocket.name: pocket for pocket in made.design.pockets}
    assert pockets["front"].holds == Reading(0.010)
    assert (pockets["front"].at, pockets["front"].depth, pockets["front"].bore) == (0.036, 0.020, 0.011)
    assert (pockets["cheek"].at, pockets["cheek"].free) == (0.020, False)
    assert pockets["rear"].holds is None
    assert any("1 g in the hole 'somewhere'" in finding.words for finding in made.findings)
    assert as_weighed(file.design, file.stamp, twelve.lure(1)).held == pytest.approx(0.012)


def test_a_timed_drop_is_told_as_a_rate(twelve: Log, file: DesignFile) -> None:
    drop = TimedDrop("rigged", Reading(4 * FOOT), (12.4, 12.1, 12.7))
    assert velocity_of(drop).value == pytest.approx(4 * FOOT / 12.4)
    assert velocity_of(TimedDrop("rigged", Reading(1.0), (2.0,), rises=True)).value == pytest.approx(-0.5)
    twelve.drop(1, drop)
    (entry,) = as_measured(file.design, twelve.lure(1)).design.measured
    assert entry.sinks is not None
    assert entry.sinks.value == pytest.approx(4 * FOOT / 12.4)
    assert entry.rises is None


def test_what_the_file_says_of_another_lure_is_left_out(log: Log) -> None:
    file = open_design(EXAMPLES / "glider-weighed.toml")
    log.add_pattern(file.text)
    log.add_lures(file.design.name, 1)
    made = as_measured(file.design, log.lure(1))
    assert made.design.measured == ()
    assert made.design.wood.blank_weight is None
    assert [pocket.holds for pocket in made.design.pockets] == [None] * 4
    assert any("is of another lure" in finding.words for finding in made.findings)


def test_a_blank_known_by_weight_alone_stands_for_its_kind_until_this_one_is_weighed(log: Log, glider: str) -> None:
    text = glider.replace('species = "poplar"\nmoisture = "9 %"', 'blank_weight = "52 g ± 0.1 g"')
    log.add_pattern(text)
    log.add_lures(GLIDER, 1)
    design = parse(text)
    assert as_measured(design, log.lure(1)).design.wood.blank_weight == Reading(
        pytest.approx(0.052), pytest.approx(0.2 * 0.052))  # fmt: skip
    log.weigh(1, Weighing("shaped", grams(48.0)))
    assert as_measured(design, log.lure(1)).design.wood.blank_weight == grams(48.0)


def test_the_ballast_still_missing_is_what_is_needed_less_what_is_in(twelve: Log, file: DesignFile) -> None:
    twelve.weigh(1, Weighing("shaped", grams(51.0)))
    first = as_weighed(file.design, file.stamp, twelve.lure(1))
    assert [need.stage for need in first.needs] == ["shaped"]
    twelve.weigh(1, Weighing("sealed", grams(50.9)))
    twelve.jug(1, Jug("sealed", grams(109.6)))
    second = as_weighed(file.design, file.stamp, twelve.lure(1))
    assert [need.stage for need in second.needs] == ["shaped", "sealed"]
    assert second.needs[0] == first.needs[0]
    assert second.needs[1].needed.spread < 0.5 * second.needs[0].needed.spread
    assert first.missing is not None
    assert second.missing is not None
    assert second.held == 0.0
    assert second.missing.value == pytest.approx(second.needs[1].needed.value)
    for hole, lead in (("front", 12.0), ("rear", 14.0)):
        twelve.ballast(1, Ballast(hole, grams(lead)))
    twelve.weigh(1, Weighing("clear", grams(84.0)))
    third = as_weighed(file.design, file.stamp, twelve.lure(1))
    assert third.check.ballast is not None
    assert third.held == pytest.approx(0.026)
    assert third.missing is not None
    assert third.missing.value == pytest.approx(third.check.ballast.needed.value - 0.026)
    added = sum(load.add for load in third.check.ballast.pockets)
    assert added == pytest.approx(third.missing.value, abs=2e-4)


def leaded(log: Log, file: DesignFile, missing: float) -> Lure:
    """Lure 1 as reckoned, with lead in its holes as asked but for so much [g], all of it out of the fullest."""
    asked = check(as_measured(file.design, log.lure(1)).design).ballast
    assert asked is not None
    fullest = max(asked.pockets, key=lambda load: load.mass).name
    for load in asked.pockets:
        log.ballast(1, Ballast(load.name, grams(1e3 * load.mass - (missing if load.name == fullest else 0.0))))
    return check(as_measured(file.design, log.lure(1)).design).drawn


@pytest.mark.parametrize("lies", [0.0, -3.0, 4.0])
def test_a_drop_at_the_rate_asked_for_leaves_the_lead_alone_however_it_lies(
    twelve: Log, file: DesignFile, lies: float
) -> None:
    twelve.weigh(1, Weighing("shaped", grams(51.0)))
    leaded(twelve, file, 0.4)
    aim = file.design.aim
    assert aim.rate is not None
    twelve.drop(1, TimedDrop("rigged", Reading(4 * FOOT), tuple([4 * FOOT / aim.rate] * 3),
                             temperature=file.design.water.temperature))  # fmt: skip
    twelve.lies(1, Attitude("rigged", Reading(math.radians(lies)), state="falling"))
    found = as_weighed(file.design, file.stamp, twelve.lure(1))
    assert found.check.ballast is not None
    assert sum(load.add for load in found.check.ballast.pockets) == 0.0
    assert headline(found.check, Shop.METRIC).startswith("Leave the lead as it is: it sinks")
    assert not any("ballast out" in finding.words for finding in found.check.findings)
    assert math.degrees(found.check.rate.attitude.value) == pytest.approx(lies, abs=1.0)
    assert "how it lay: rigged" in found.used


def test_one_that_sinks_too_fast_is_told_to_give_lead_and_never_to_take_more(twelve: Log, file: DesignFile) -> None:
    twelve.weigh(1, Weighing("shaped", grams(51.0)))
    leaded(twelve, file, -3.0)
    before = as_weighed(file.design, file.stamp, twelve.lure(1))
    assert before.check.ballast is not None
    assert before.check.ballast.pockets
    assert sum(load.add for load in before.check.ballast.pockets) == 0.0
    aim = file.design.aim
    assert aim.rate is not None
    twelve.drop(1, TimedDrop("rigged", Reading(4 * FOOT), tuple([0.5 * 4 * FOOT / aim.rate] * 3),
                             temperature=file.design.water.temperature))  # fmt: skip
    found = as_weighed(file.design, file.stamp, twelve.lure(1))
    assert found.missing is not None
    words = headline(found.check, Shop.METRIC)
    assert words.startswith("Take ")
    assert "of lead out; as it is it sinks" in words
    assert found.missing.value < 0.0
    assert any("of ballast out, best from the " in finding.words for finding in found.check.findings)
    assert found.check.ballast is not None
    assert found.check.ballast.put - found.check.ballast.needed.value == pytest.approx(-found.missing.value, abs=1e-6)


def test_another_text_than_the_lure_was_built_from_is_told(twelve: Log, file: DesignFile) -> None:
    same = as_weighed(file.design, file.stamp, twelve.lure(1))
    assert not any("another text" in finding.words for finding in same.check.findings)
    other = as_weighed(file.design, stamp("another"), twelve.lure(1))
    assert any("another text" in finding.words for finding in other.check.findings)


def test_a_record_that_this_file_cannot_hold_is_told_as_the_log_s(twelve: Log, file: DesignFile) -> None:
    twelve.ballast(1, Ballast("front", grams(19.8), depth=0.010, bore=0.008))
    with pytest.raises(BadShop, match="lure 1, as the log has it, does not fit this file"):
        as_weighed(file.design, file.stamp, twelve.lure(1))


# --- runs ---


@pytest.fixture
def batch(twelve: Log) -> Log:
    for number, weight in enumerate(BLANKS, start=1):
        twelve.weigh(number, Weighing("shaped", grams(weight)))
    return twelve


def leads(run: LureRun) -> dict[int, float]:
    assert run.blanks is not None
    return {blank.number: 1e3 * blank.lead.value for blank in run.blanks.blanks}


@pytest.mark.parametrize("name", ["glider", "diver", "lanternmere"])
def test_the_lead_of_a_blank_is_what_a_check_of_that_lure_says(log: Log, name: str) -> None:
    file = open_design(EXAMPLES / f"{name}.toml")
    pattern = log.add_pattern(file.text).name
    log.add_lures(pattern, 3)
    blank = check(file.design).blank.value
    for number, times in enumerate((0.97, 1.0, 1.03), start=1):
        log.weigh(number, Weighing("shaped", Reading(times * blank)))
    given = leads(lure_run(log, pattern))
    for number in (1, 2, 3):
        answer = as_weighed(file.design, file.stamp, log.lure(number))
        assert answer.check.ballast is not None
        needed = 1e3 * answer.check.ballast.needed.value
        assert given[number] == pytest.approx(needed, abs=0.05 * needed), number


def test_a_gram_of_blank_is_a_gram_of_lead_less_and_far_ones_are_set_aside(batch: Log) -> None:
    run = lure_run(batch, GLIDER)
    lead = leads(run)
    worth = (lead[1] - lead[12]) / (BLANKS[-1] - BLANKS[0])
    assert worth == pytest.approx(1.0, abs=0.03)  # TRADE story 10: 55.3 less 43.4 g of lead for 11.9 g of blank
    assert run.blanks is not None
    assert [blank.number for blank in run.blanks.blanks if blank.aside] == [1, 12]
    assert any("set aside number 1, 12" in finding.words for finding in run.findings)


def test_a_dunk_of_the_run_takes_the_place_of_the_drawing(batch: Log) -> None:
    before = lure_run(batch, GLIDER).blanks
    batch.jug(4, Jug("sealed", grams(115.0)))
    after = lure_run(batch, GLIDER).blanks
    assert before is not None
    assert after is not None
    assert after.together < 0.4 * before.together
    design = open_design(EXAMPLES / "glider.toml").design
    mean = Reading(1e-3 * sum(BLANKS) / len(BLANKS))
    drawn = assemble(design.model_copy(update={"wood": design.wood.model_copy(update={"blank_weight": mean})}))
    sealed = 1e3 * 998.2 * float(drawn.state(drawn.chosen(step=SEALED))[0][VOLUME])  # its slots are full of water
    # more room of the same weight is lighter wood too, in which the lead is worth more: 1/50 less of it
    assert 1e3 * (after.mean_lead - before.mean_lead) == pytest.approx(0.98 * (115.0 - sealed) / 0.96, rel=0.03)


def test_the_lead_of_a_lure_further_on_is_that_of_its_check_with_its_spread(batch: Log, file: DesignFile) -> None:
    before = lure_run(batch, GLIDER).blanks
    batch.jug(3, Jug("sealed", grams(109.0)))
    batch.weigh(3, Weighing("sealed", grams(BLANKS[2] + 1.6)))
    after = lure_run(batch, GLIDER).blanks
    assert before is not None
    assert after is not None
    own = as_weighed(file.design, file.stamp, batch.lure(3)).check.ballast
    assert own is not None
    assert after.blanks[2].lead.value == pytest.approx(own.needed.value, abs=1e-6)
    assert after.blanks[2].lead.spread == pytest.approx(own.needed.spread, abs=1e-6)
    for blank in before.blanks:
        assert blank.lead.spread > 0.9 * before.together  # what is shared is in each


def test_a_run_with_one_blank_weighed_says_why_it_tells_no_lead(twelve: Log) -> None:
    twelve.weigh(4, Weighing("shaped", grams(54.0)))
    run = lure_run(twelve, GLIDER)
    assert run.blanks is None
    assert any("there is one; lure 4's own: gudgeon check FILE --lure 4" in one.words for one in run.findings)


def test_progress_and_spread_are_told_stage_by_stage(batch: Log) -> None:
    for number in (1, 2, 3):
        batch.weigh(number, Weighing("sealed", grams(BLANKS[number - 1] + 1.0)))
    batch.weigh(3, Weighing("leaded", grams(95.0)))
    batch.weigh(4, Weighing("sealed", grams(30.0), "front"))
    batch.weigh(4, Weighing("sealed", grams(15.8), "rear"))
    run = lure_run(batch, GLIDER)
    assert dict(run.at) == {"shaped": 8, "sealed": 3, "leaded": 1}
    stages = {stage.stage: stage for stage in run.stages}
    assert stages["shaped"].count == 12
    assert 1e3 * stages["shaped"].mean == pytest.approx(sum(BLANKS) / 12)
    assert stages["sealed"].count == 4  # the pieces of number 4 make its whole
    assert 1e3 * stages["sealed"].high == pytest.approx(45.8)
    assert stages["leaded"].deviation is None


def test_a_run_is_set_against_the_last_one(batch: Log) -> None:
    batch.add_lures(GLIDER, 12)
    for number, weight in enumerate(BLANKS, start=13):
        batch.weigh(number, Weighing("shaped", grams(1.1 * weight)))
    run = lure_run(batch, GLIDER)
    (stage,) = run.stages
    assert stage.last_mean == pytest.approx(stage.mean / 1.1)
    assert stage.deviation == pytest.approx(stage.last_deviation)
    assert any("shaped: on the mean 10.0 % heavier than the last run" in finding.words for finding in run.findings)
    assert sorted(leads(run)) == list(range(13, 25))
    first = lure_run(batch, GLIDER, run=1)
    assert first.stages[0].last_mean is None
    assert sorted(leads(first)) == list(range(1, 13))


def test_a_run_just_begun_says_what_is_still_to_be_weighed(twelve: Log) -> None:
    run = lure_run(twelve, GLIDER)
    assert run.blanks is None
    assert any("no lead for each blank yet" in finding.words and "there is none" in finding.words
               for finding in run.findings)  # fmt: skip
    assert dict(run.at) == {"begun": 12}
    assert run_headline(run, Shop.METRIC) == "Reed Gate glider, version 1, run 1: 12 begun."
    assert [section.title for section in run_sections(run, Shop.METRIC)] == ["How far they have come"]
    assert any("not weighed as shaped blanks: 1, 2, 3" in finding.words for finding in run.findings)
