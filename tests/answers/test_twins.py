"""Twins with one planted difference: it is found, it is first, and the model says of it what building it so gives."""

import math
from collections.abc import Iterator
from pathlib import Path

import pytest

from gudgeon.answers.as_weighed import as_measured
from gudgeon.answers.assembly import assemble
from gudgeon.answers.finding import Gravity
from gudgeon.answers.twin_differences import Difference
from gudgeon.answers.twin_facts import body_of, facts
from gudgeon.answers.twins import Twins, twins
from gudgeon.errors import BadShop
from gudgeon.physics.lure import WATER
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.sinking import pitch
from gudgeon.report.rows import Shop
from gudgeon.report.twin_rows import twins_laid
from gudgeon.shop.log import Log
from gudgeon.shop.records import Attitude, Ballast, Board, Change, Fitting, Jug, TimedDrop, TowTest, Weighing
from gudgeon.units import FOOT, Reading

EXAMPLES = Path(__file__).parents[2] / "examples"
GLIDER = (EXAMPLES / "glider.toml").read_text(encoding="utf-8")
DIVER = (EXAMPLES / "diver.toml").read_text(encoding="utf-8")
NAME = "Reed Gate glider"
LEAD = {"front": 12.0, "behind front hook": 21.0, "rear": 14.0, "tail": 4.0}
SCATTER = (0.3, -0.5, 0.4, -0.1, -0.2)  # of the twins' blanks, g


@pytest.fixture
def log(tmp_path: Path) -> Iterator[Log]:
    with Log.start(tmp_path / "shop") as found:
        found.add_pattern(GLIDER)
        yield found


def grams(mass: float) -> Reading:
    return Reading(mass * 1e-3, 5e-5)


def made(
    log: Log, *, blank: float = 51.0, sealer: float = 2.0, coats: float = 11.0, lead: dict[str, float] | None = None,
    at: dict[str, float] | None = None, hooks: tuple[float, float] = (3.3, 3.3), dunk: float = 109.0,
) -> int:  # fmt: skip
    """A glider weighed at every stage; the number it got. What is not told is as its twins have it."""
    number = log.add_lures(NAME, 1)[0].number
    held = {**LEAD, **(lead or {})}
    mass = blank
    log.weigh(number, Weighing("shaped", grams(mass)))
    log.jug(number, Jug("shaped", grams(dunk)))
    mass += sealer
    log.weigh(number, Weighing("sealed", grams(mass)))
    for hole, weight in held.items():
        log.ballast(number, Ballast(hole, grams(weight), station=(at or {}).get(hole)))
    mass += sum(held.values())
    log.weigh(number, Weighing("leaded", grams(mass)))
    mass += coats
    log.weigh(number, Weighing("clear", grams(mass)))
    for part, weight in zip(("front hook", "rear hook"), hooks, strict=True):
        log.fit(number, Fitting(part, grams(weight)))
    log.weigh(number, Weighing("rigged", grams(mass + sum(hooks) + 4.8)))
    return number


def stocked(log: Log) -> int:
    """Five ordinary gliders, and the first of them."""
    return min(made(log, blank=51.0 + off) for off in SCATTER)


def first_cause(found: Twins) -> Difference:
    return found.causes[0]


def built(log: Log, number: int) -> tuple[float, float]:
    """Weight in water [g] and pitch [rad] of a lure by its record alone, built anew."""
    lure = assemble(as_measured(log.design_of(number), log.lure(number)).design)
    state = lure.state()[0]
    excess = 1e3 * float(state[MASS] - state[WATER] * state[VOLUME])
    return excess, float(pitch(state[:8], state[WATER], lure.falling))


def test_more_lead_in_one_hole_is_found_and_told_first(log: Log) -> None:
    first = stocked(log)
    odd = made(log, blank=51.2, lead={"tail": 6.1})
    found = twins(log, (first, odd))
    one = first_cause(found)
    assert (one.number, one.fact.kind, one.fact.of) == (odd, "lead", "tail")
    assert one.change == pytest.approx(2.1e-3)
    assert one.tells
    assert (one.by, one.usual) == (4, pytest.approx(math.hypot(5e-5, 5e-5) * 2.0, rel=0.5))  # four twins, all alike
    assert one.effect is not None
    was, now = built(log, first), built(log, odd)
    wood = 1e3 * sum(cause.effect.excess for cause in found.causes if cause.effect and cause.fact.kind != "lead")
    assert 1e3 * one.effect.excess == pytest.approx(now[0] - was[0] - wood, abs=0.15)
    assert one.effect.pitch > math.radians(2.0)
    assert one.effect.pitch == pytest.approx(now[1] - was[1], rel=0.15)
    told = found.findings[0]
    assert told.gravity is Gravity.WATCH
    assert told.words.startswith(f"number {odd}: lead in tail {{change}} more, over ten times what is usual between "
                                 "its 4 twins. By the model that makes it 2")  # fmt: skip
    assert told.words.endswith("more nose-up. Take 2.1 g out of it")
    assert any(finding.words.startswith("Handle lead with gloves") for finding in found.findings)


def test_a_heavy_blank_is_told_once_and_not_at_every_stage(log: Log) -> None:
    first = stocked(log)
    odd = made(log, blank=55.3)
    found = twins(log, (first, odd))
    assert [cause.fact.key for cause in found.causes if cause.tells] == [("blank", "shaped", "")]
    one = first_cause(found)
    assert one.effect is not None
    assert one.effect.excess == pytest.approx(4.0e-3)
    was, now = built(log, first), built(log, odd)
    assert now[0] - was[0] == pytest.approx(4.0, abs=0.1)
    assert "Take 4.2 g of lead out" in found.findings[0].words  # a gram of lead in wood is worth 0.96 g
    gains = {cause.fact.of: cause for cause in found.causes if cause.fact.kind == "gain"}
    assert set(gains) == {"sealed", "leaded", "clear", "rigged"}
    assert all(abs(gain.change) < 1e-9 for gain in gains.values())


@pytest.mark.parametrize(("key", "change"), [
    (("gain", "sealed", "shaped"), {"sealer": 4.0}), (("gain", "clear", "leaded"), {"coats": 14.0}),
    (("part", "rear hook", ""), {"hooks": (3.3, 4.6)}), (("displaced", "whole", "shaped"), {"dunk": 106.0}),
])  # fmt: skip
def test_each_kind_of_difference_does_what_building_it_so_does(
    log: Log, key: tuple[str, str, str], change: dict[str, object]
) -> None:
    first = stocked(log)
    odd = made(log, blank=51.3, **change)  # type: ignore[arg-type]
    one = first_cause(twins(log, (first, odd)))
    assert one.fact.key == key
    assert one.tells
    assert one.effect is not None
    was, now = built(log, first), built(log, odd)
    assert 1e3 * one.effect.excess == pytest.approx(now[0] - was[0], rel=0.1, abs=0.05)
    assert math.degrees(one.effect.pitch) == pytest.approx(math.degrees(now[1] - was[1]), abs=0.7)


def test_lead_farther_aft_turns_the_nose_up(log: Log) -> None:
    first = stocked(log)
    odd = made(log, blank=51.3, at={"front": 0.050})
    found = twins(log, (first, odd))
    one = first_cause(found)
    assert one.fact.key == ("place", "front", "")
    assert one.change == pytest.approx(0.050 - 0.0381)
    assert one.effect is not None
    assert abs(one.effect.excess) < 3e-4
    assert one.effect.pitch == pytest.approx(built(log, odd)[1] - built(log, first)[1], rel=0.15)
    assert "farther aft" in found.findings[0].words
    assert "farther aft: by the model" in twins_laid(found, Shop.METRIC).headline


def test_lead_beside_the_keel_leans(tmp_path: Path) -> None:
    """The same hole 3 mm to the right: what goes into it heels the lure that way."""
    with Log.start(tmp_path / "other") as log:
        log.add_pattern(GLIDER.replace('name = "rear"\nat', 'name = "rear"\noffset = "3 mm"\nat'))
        for _ in range(4):
            made(log)
        found = twins(log, (1, made(log, lead={"rear": 18.0})))
        one = first_cause(found)
        assert one.fact.of == "rear"
        assert one.effect is not None
        leans = [modelled.heel or 0.0 for modelled in found.modelled]
        assert 0.5 * leans[0] > one.effect.heel > math.radians(0.7)  # 4 g more on 14 g, and a little less upright
        assert one.effect.heel == pytest.approx(leans[1] - leans[0], rel=0.15)


def test_pieces_weighed_alone_tell_where_the_wood_is_heavy(log: Log) -> None:
    log.add_lures(NAME, 2)
    for number, masses in ((1, (33.0, 18.0)), (2, (30.5, 20.5))):
        for piece, mass in zip(("front", "rear"), masses, strict=True):
            log.weigh(number, Weighing("shaped", grams(mass), piece))
    found = twins(log, (1, 2))
    assert {cause.fact.key for cause in found.causes} == {("piece", "front", ""), ("piece", "rear", "")}
    for cause in found.causes:
        assert cause.effect is not None
        assert cause.effect.pitch > 0.0  # the same weight, farther aft


def test_a_floater_is_turned_by_its_stiffness(tmp_path: Path) -> None:
    with Log.start(tmp_path / "divers") as log:
        name = log.add_pattern(DIVER).name
        log.add_lures(name, 2)
        hook = log.design_of(1).hooks[-1].name
        for number, mass in ((1, 1.0), (2, 1.6)):
            log.fit(number, Fitting(hook, grams(mass)))
        found = twins(log, (1, 2))
        one = first_cause(found)
        assert one.effect is not None
        before, after = found.modelled
        assert before.rate.excess.value < 0.0
        assert before.pitch is not None
        assert after.pitch is not None
        assert one.effect.pitch == pytest.approx(after.pitch - before.pitch, rel=0.3)
        assert one.effect.pitch > 0.0


# --- what is usual ---


def test_the_usual_is_what_the_twins_differ_by(log: Log) -> None:
    first = stocked(log)
    near = twins(log, (first, made(log, blank=52.2)))
    blank = next(cause for cause in near.causes if cause.fact.kind == "blank")
    kin = [51.0 + off for off in SCATTER[1:]]
    mean = sum(kin) / 4
    spread = math.sqrt(sum((mass - mean) ** 2 for mass in kin) / 3)
    assert blank.by == 4
    assert blank.usual == pytest.approx(2.0 * math.sqrt(2.0) * spread * 1e-3)


def test_with_too_few_twins_the_book_tells_what_is_usual(log: Log) -> None:
    log.add_board(Board("B1", "poplar"))
    log.add_board(Board("B2", "poplar"))
    for board in ("B1", "B1", "B2"):
        log.add_lures(NAME, 1, board=board)
    for number, mass in ((1, 50.0), (2, 55.0), (3, 55.0)):
        log.weigh(number, Weighing("shaped", grams(mass)))
    same, other = (twins(log, (1, number)).causes[0] for number in (2, 3))
    assert (same.by, other.by) == (0, 0)
    assert same.usual == pytest.approx(math.sqrt(2.0) * 0.14 * 0.050)  # blanks of one board, 7 % a standard deviation
    boards = math.hypot(0.07, 0.5 * 0.20 / math.sqrt(2.0))  # of several: half of the species' 20 %, squared, besides
    assert other.usual == pytest.approx(math.sqrt(2.0) * 2.0 * boards * 0.050)
    assert any("out of board B2, number 1 out of board B1" in finding.words
               for finding in twins(log, (1, 3)).findings)  # fmt: skip


def test_a_usual_difference_that_shows_is_told_after_all(log: Log) -> None:
    for blank in (46.0, 49.0, 52.0, 55.0, 58.0):
        made(log, blank=blank)
    found = twins(log, (1, made(log, blank=52.5)))
    assert not any(cause.tells for cause in found.causes)
    told = found.findings[0]
    assert told.gravity is Gravity.NOTE
    assert "no more than is usual between its 4 twins" in told.words
    assert "though twins usually differ as much" in twins_laid(found, Shop.METRIC).headline
    assert any("Look too at what no scale tells" in finding.words for finding in found.findings)


def test_twins_that_are_alike_are_said_to_be(log: Log) -> None:
    made(log)
    made(log)
    found = twins(log, (1, 2))
    assert all(cause.is_alike for cause in found.causes)
    laid = twins_laid(found, Shop.METRIC)
    assert laid.headline == "Reed Gate glider: nothing measured tells 2 from 1."
    assert [row.name for row in laid.sections[0].rows] == ["twin.2.alike"]


# --- what else is told ---


def test_what_they_did_stands_beside_what_may_cause_it(log: Log) -> None:
    first, odd = made(log), made(log, lead={"tail": 6.1})
    for number, times, nose, beats in ((first, (12.4, 12.6), 0.0, 1.9), (odd, (8.1, 8.3), 9.0, 1.2)):
        log.drop(number, TimedDrop("rigged", Reading(1.22), times))
        log.lies(number, Attitude("rigged", Reading(math.radians(nose)), Reading(0.0), "falling"))
        log.tow(number, TowTest(Reading(0.9 + 0.02 * nose / 9.0), Reading(beats), Reading(0.3), seen="glides"))
        log.tow(number, TowTest(Reading(1.8), None, None))
    found = twins(log, (first, odd))
    did = {one.fact.of: one for one in found.seen}
    assert set(did) == {"sinks, rigged", "nose up, rigged, falling", "leans right, rigged, falling", "beats, towed",
                        "rolls to each side, towed"}  # fmt: skip
    assert did["beats, towed"].change == pytest.approx(-0.7)
    assert did["nose up, rigged, falling"].beyond > 4.0
    assert did["leans right, rigged, falling"].change == 0.0
    assert found.seen[0].beyond == max(one.beyond for one in found.seen)


def test_changes_versions_and_what_was_not_measured_are_told(log: Log) -> None:
    first = made(log)
    log.add_pattern(GLIDER.replace('weight = "2 g"', 'weight = "2.5 g"'))
    odd = log.add_lures(NAME, 1)[0].number
    log.weigh(odd, Weighing("shaped", grams(52.0)))
    log.change(odd, Change("rear hook one size up", "nose-down sink"))
    words = [finding.words for finding in twins(log, (first, odd)).findings]
    assert any(f"number {odd} was built from version 2 of the drawing, number {first} from version 1" in one
               for one in words)  # fmt: skip
    assert any(f"number {odd} was changed: rear hook one size up. Why: nose-down sink" in one for one in words)
    (lacking,) = (one for one in words if one.startswith(f"number {first} was measured of what number {odd} was not"))
    assert "its lead, hole by hole" in lacking
    assert "weight clear" in lacking
    assert "the jug" in lacking


def test_wood_that_bores_took_does_not_hide_the_sealer(log: Log) -> None:
    log.add_lures(NAME, 1)
    log.weigh(1, Weighing("shaped", grams(51.0)))
    log.ballast(1, Ballast("rear", grams(14.0), depth=0.020, bore=0.0095))
    log.weigh(1, Weighing("sealed", grams(52.3)))
    body = body_of(log.lure(1), log.design_of(1))
    (gain,) = (fact for fact in facts(body, body.stages(), (), 460.0) if fact.kind == "gain")
    assert gain.value == pytest.approx(1.3e-3 + 460.0 * math.pi / 4.0 * 0.0095**2 * 0.020)


def test_a_part_that_only_one_had_weighed_makes_no_difference(log: Log) -> None:
    first = made(log)
    other = made(log)
    log.strike(next(entry.number for entry in log.lure(other).entries if isinstance(entry.what, Fitting)), "not sure")
    found = twins(log, (first, other))
    assert all(cause.is_alike for cause in found.causes)
    assert ("part", "front hook", "") not in {cause.fact.key for cause in found.causes}


def test_three_lures_are_held_against_the_first(log: Log) -> None:
    first = stocked(log)
    tail, hook = made(log, lead={"tail": 5.5}), made(log, hooks=(3.3, 4.6))
    found = twins(log, (first, tail, hook))
    assert {(cause.number, cause.fact.of) for cause in found.causes if cause.tells} == {(tail, "tail"),
                                                                                       (hook, "rear hook")}  # fmt: skip
    assert [one.number for one in found.modelled] == [first, tail, hook]
    laid = twins_laid(found, Shop.METRIC)
    assert [section.title for section in laid.sections] == [
        f"{tail} beside {first}, most telling first", f"{hook} beside {first}, most telling first",
        "As they were measured, by the model"]  # fmt: skip
    names = [row.name for row in laid.rows]
    assert len(set(names)) == len(names)
    keys = ("first", "own", "usual", "beyond", "by", "excess", "pitch", "list", "lever")
    assert {f"twin.{tail}.lead.tail.{key}" for key in keys} <= set(names)
    assert all(row.value is None or isinstance(row.value, str) or math.isfinite(row.value) for row in laid.rows)


# --- refusals ---


@pytest.mark.parametrize("numbers", [(), (1,), (1, 1)])
def test_one_lure_is_no_twins(log: Log, numbers: tuple[int, ...]) -> None:
    made(log)
    with pytest.raises(BadShop, match="name two different lures or more"):
        twins(log, numbers)


def test_unknown_and_unmeasured_lures_are_told_at_once(log: Log) -> None:
    log.add_lures(NAME, 1)
    with pytest.raises(BadShop) as refused:
        twins(log, (1, 77, 78))
    assert str(refused.value) == (
        "these lures cannot be held side by side:\n"
        "  lure 77: gudgeon log list shows those there are\n"
        "  lure 78: gudgeon log list shows those there are\n"
        "  lure 1: nothing was measured of it yet; weigh it first"
    )


def test_lures_of_two_patterns_are_no_twins(log: Log) -> None:
    name = log.add_pattern(DIVER).name
    made(log)
    log.add_lures(name, 1)
    log.weigh(2, Weighing("shaped", grams(9.0)))
    with pytest.raises(BadShop, match="twins are of one pattern: 1 is a Reed Gate glider; 2 is a "):
        twins(log, (1, 2))


def test_a_lure_that_cannot_be_built_is_named(log: Log) -> None:
    made(log)
    made(log, lead={"tail": 90.0})
    with pytest.raises(BadShop, match="lure 2, as the log has it, cannot be built"):
        twins(log, (1, 2))


def test_a_cause_that_goes_against_how_it_lay_is_told_so_and_nothing_is_done_about_it(log: Log) -> None:
    """More lead in the tail makes it sink faster, and cannot make it lie nose-down."""
    first = stocked(log)
    odd = made(log, blank=51.2, lead={"tail": 6.1})
    for number, degrees, seconds in ((first, -2.0, 16.0), (odd, -8.0, 8.0)):
        log.lies(number, Attitude("rigged", Reading(math.radians(degrees)), state="falling"))
        log.drop(number, TimedDrop("rigged", Reading(4 * FOOT), (seconds,)))
    found = twins(log, (first, odd))
    told = next(finding.words for finding in found.findings if "lead in tail" in finding.words)
    assert "that goes against what was seen: it lies 6° more nose-down; that it sinks faster goes with it" in told
    assert "Take 2.1 g" not in told
    assert "goes against what was seen" in twins_laid(found, Shop.METRIC).headline
    log.lies(odd, Attitude("rigged", Reading(math.radians(9.0)), state="falling"))
    other = twins(log, (first, odd))
    told = next(finding.words for finding in other.findings if "lead in tail" in finding.words)
    assert "that goes with what was seen: it sinks faster, lies 11° more nose-up. Take 2.1 g out of it" in told


def test_a_model_far_from_how_a_lure_lay_is_told(log: Log) -> None:
    first = stocked(log)
    odd = made(log, blank=51.2)
    pitch_now = next(one.pitch for one in twins(log, (first, odd)).modelled if one.number == odd)
    assert pitch_now is not None
    log.lies(odd, Attitude("rigged", Reading(pitch_now - math.radians(12.0)), state="falling"))
    told = [finding for finding in twins(log, (first, odd)).findings if "the model has it" in finding.words]
    assert [finding.gravity for finding in told] == [Gravity.WATCH]
    assert told[0].words.startswith(f"number {odd} was seen to lie {{seen}} nose-up, and by its weights")
