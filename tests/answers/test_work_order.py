"""The order of work: one order for the wood command and the papers, and the last hole waits for the tub in both."""

from functools import cache
from pathlib import Path

import pytest

from gudgeon.answers.check import check
from gudgeon.answers.cut_order import cut_order
from gudgeon.answers.drilling import drilling
from gudgeon.answers.papers import Papers, papers
from gudgeon.answers.piece_of_wood import piece_of_wood
from gudgeon.answers.work_order import (
    IN_TUB,
    order_of_work,
    scale_weights,
    square_stock,
    tub_lacks,
    tub_weight,
    waiting,
)
from gudgeon.design.file import parse
from gudgeon.design.model import Design
from gudgeon.report.check_rows import check_rows
from gudgeon.report.rows import Shop

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("lanternmere", "diver", "glider", "glider-weighed")
BOARD = '\n[board]\nlength = "400 mm"\nwidth = "90 mm"\nthickness = "60 mm"\n'


def design(name: str, more: str = "") -> Design:
    return parse((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8") + more)


@cache
def made(name: str, more: str = "") -> Papers:
    return papers(check(design(name, more)))


def at_stage(name: str, stage: str) -> Papers:
    drawn = design(name)
    return papers(check(drawn.model_copy(update={"tub": drawn.tub.model_copy(update={"stage": stage})})))


def place_of(found: Papers, words: str) -> int:
    return next(place for place, step in enumerate(order_of_work(found)) if words in step.words)


@pytest.mark.parametrize("name", NAMES)
def test_the_cuts_are_the_same_steps_in_the_same_order_as_in_the_whole_order(name):
    last = made(name).waiting
    cuts = cut_order(
        made(name).check.design, made(name).check.lure, square_stock(made(name)), last.name if last else ""
    )
    whole = [step.words for step in order_of_work(made(name))]
    assert [words for words in whole if words in {step.words for step in cuts}] == [step.words for step in cuts]


@pytest.mark.parametrize("name", NAMES)
def test_wood_and_papers_say_the_same_of_a_lure_on_a_board(name):
    found = made(name, BOARD)
    last = found.waiting
    wood = piece_of_wood(found.check.design, found.check.lure, last.name if last else "")
    told = {step.words: step.numbers for step in order_of_work(found)}
    for step in wood.steps:
        assert told[step.words] == step.numbers


@pytest.mark.parametrize("name", NAMES)
def test_the_order_is_the_drill_schedule_s(name):
    found, schedule = made(name), drilling(made(name))
    words = [step.words for step in order_of_work(found)]
    saw_joints = next((place for place, told in enumerate(words) if "Saw the joints" in told), len(words))
    assert any("joint face, lay the cards" in told for told in words) == bool(schedule.at("apart"))
    if schedule.at("apart"):
        assert place_of(found, "joint face, lay the cards") > saw_joints
    assert any("lip's slot" in told for told in words) == any(one.name == "lip's slot" for one in schedule.holes)
    late = schedule.at("after the tub")
    assert [one.name for one in late] == ([found.waiting.name] if found.waiting else [])
    for one in late:
        assert not any("Fill and plug" in told and f"{one.name} {{" in told for told in words)


@pytest.mark.parametrize("name", ["lanternmere", "diver", "glider"])
def test_the_last_hole_is_drilled_and_filled_after_the_tub_test(name):
    found = made(name)
    fill, tub, drill, last = (place_of(found, words) for words in (
        "Fill and plug", "Tub test", "Drill the last ballast bore", "It is reckoned to hold"))  # fmt: skip
    assert fill < tub < drill < last
    numbers = order_of_work(found)[fill].numbers
    filled = {value for value, _ in numbers.values()}
    assert filled == {hole.add for hole in found.holes[:-1] if hole.is_to_fill}
    assert order_of_work(found)[last].numbers["mass"][0] == found.holes[-1].add


def test_of_a_hole_that_is_bored_already_part_goes_in_before_the_test():
    found = made("glider-weighed")
    last = waiting(found)
    assert last is not None
    assert last.is_bored
    assert last.put + last.left == pytest.approx(found.holes[-1].add)
    assert last.left == pytest.approx(found.held_back)
    assert place_of(found, "bored already and filled last") < place_of(found, "Tub test")
    assert not any("Drill the last" in step.words for step in order_of_work(found))
    assert tub_weight(found).value == pytest.approx(found.check.tub.rate.mass.value - last.left)


@pytest.mark.parametrize("name", ["lanternmere", "diver", "glider"])
def test_taped_ballast_weighs_in_water_what_the_hole_will(name):
    # Archimedes: outside it displaces its own volume; inside, ballast and plug take the place of wood
    found, last = made(name), waiting(made(name))
    assert last is not None
    hole, lure = last.hole, made(name).check.lure
    volume = hole.bored.removed
    wood = lure.wood_density_of(hole.pocket.segment) * volume
    plug = hole.pocket.plug_density * (volume - hole.mass / hole.pocket.ballast_density)
    assert last.wood == pytest.approx(wood)
    assert last.net == pytest.approx(hole.mass + plug - wood)
    assert hole.taped is not None
    assert hole.taped * (1.0 - lure.water.density / hole.pocket.ballast_density) == pytest.approx(last.net)
    assert tub_weight(found).value == pytest.approx(found.check.tub.rate.mass.value + hole.taped - last.net)


def test_a_lure_with_one_hole_bores_it_after_the_tub_and_tapes_it_all():
    drawn = design("diver")
    found = papers(check(drawn.model_copy(update={"pockets": drawn.pockets[1:]})))
    words = [step.words for step in order_of_work(found)]
    assert any(told == "Ballast: belly waits for the tub test: it is not drilled now." for told in words)
    assert not any("Fill and plug" in told for told in words)
    assert place_of(found, "taped outside over the mark of belly") < place_of(
        found, "Drill the last ballast bore, belly"
    )


def test_a_lure_without_ballast_to_find_has_no_hole_to_wait():
    drawn = design("diver")
    found = papers(check(drawn.model_copy(update={"pockets": ()})))
    assert waiting(found) is None
    words = " ".join(step.words for step in order_of_work(found))
    assert "Tub test" in words
    assert "ballast bore" not in words
    assert "Tape every bore" not in words


@pytest.mark.parametrize("stage", ["sealed", "leaded", "painted", "rigged"])
def test_the_tub_test_stands_at_its_stage(stage):
    found = at_stage("lanternmere", stage)
    steps = [step.when for step in order_of_work(found)]
    order = {"sealed": "sealed", "leaded": "filled", "painted": "finished", "rigged": "rigged"}
    assert steps.index("tub") == steps.index(order[stage]) + 1
    late = [place for place, when in enumerate(steps) if when == "after the tub"]
    assert late[0] > max(steps.index("tub"), steps.index("filled"))
    assert late == list(range(late[0], late[0] + len(late)))


def test_what_the_scale_shows_on_the_way():
    found, last = made("lanternmere"), waiting(made("lanternmere"))
    assert last is not None
    told = {words: weight.value for words, weight in scale_weights(found)}
    stages = {stage.stage: stage.whole.value for stage in found.stages}
    assert told["drilled, shoulder not yet"] == pytest.approx(stages["drilled"] + last.wood)
    assert told["filled, shoulder not yet"] == pytest.approx(stages["leaded"] - last.net)
    assert told["filled, shoulder too"] == pytest.approx(stages["leaded"])
    assert told["rigged"] == pytest.approx(found.check.rate.mass.value)
    words = [words for words, _ in scale_weights(found)]
    assert words.index("filled, shoulder not yet") < words.index(IN_TUB) < words.index("filled, shoulder too")


@pytest.mark.parametrize("name", NAMES)
def test_every_caution_stands_before_a_step_and_lead_before_it_is_handled(name):
    found = made(name)
    about = [subject for step in order_of_work(found) for subject in step.about]
    assert {caution.subject for caution in found.cautions} <= set(about)
    first = {subject: next(place for place, step in enumerate(order_of_work(found)) if subject in step.about)
             for subject in set(about)}  # fmt: skip
    assert first["saws"] == place_of(found, "Saw a blank")
    assert first["lead"] <= place_of(found, "Tub test")
    assert first["hooks"] == place_of(found, "hooks last of all")


@pytest.mark.parametrize("name", NAMES)
def test_the_check_tells_the_tub_weight_that_the_papers_tell(name):
    found = made(name)
    rows = {row.name: row for row in check_rows(found.check, Shop.METRIC)}
    lacks = tub_lacks(found)
    assert rows["tub.mass"].value == pytest.approx(1e3 * tub_weight(found).value)
    if lacks is None:
        assert "tub.lacks" not in rows
    else:
        last, taped, left = lacks
        assert rows["tub.lacks"].value == pytest.approx(1e3 * (taped or left))
        assert last.hole is found.waiting
    told = next(step for step in order_of_work(found) if step.when == "tub")
    assert told.numbers["weight"][0].value == tub_weight(found).value


def test_a_lure_in_one_piece_is_told_of_no_pieces_and_no_hinges():
    told = " ".join(step.words for step in order_of_work(made("diver"))).lower()
    assert "joint" not in told
    assert "pieces" not in told
    assert "hinges" not in told
    assert "set eyes and lip, and hooks last of all" in told
    assert "hang the pieces together" in " ".join(step.words for step in order_of_work(made("lanternmere")))


def test_a_tub_test_that_may_go_either_way_promises_neither():
    seen = set()
    for name in NAMES:
        (step,) = (step for step in order_of_work(made(name)) if step.when == "tub")
        amount = step.numbers["amount"][0]
        is_open = amount.low < 0.0 < amount.high
        assert ("it may sink and it may float" in step.words) == is_open, name
        seen.add(is_open)
    assert seen == {True, False}


def test_the_slots_of_lip_and_fin_are_as_deep_in_the_steps_as_in_the_schedule():
    found = {"lip's slot": made("diver"), "fin's slot": made("lanternmere")}
    for name, papers_of in found.items():
        step = next(step for step in order_of_work(papers_of) if f"Saw the {name}" in step.words)
        slot = next(hole for hole in drilling(papers_of).holes if hole.name == name)
        assert step.numbers["deep"][0] == pytest.approx(slot.depth(metric=True), abs=1e-9)
