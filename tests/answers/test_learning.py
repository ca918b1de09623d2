"""What the log teaches, on shops whose habits are known because they were made up."""

import math
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copytree

import numpy as np
import pytest
from numpy.random import default_rng
from tests.answers.invented_shop import Habits, invented

from gudgeon.answers.finding import Gravity
from gudgeon.answers.learning import (
    BEATS,
    COATS,
    DENSITY,
    DRAG,
    FILLING,
    KINDS,
    ROLL,
    SEALER,
    Learned,
    anything,
    expected,
    learned,
)
from gudgeon.answers.noted_waters import as_towed
from gudgeon.answers.overall import overall
from gudgeon.answers.shop_values import shop_check, with_shop_values
from gudgeon.design.file import parse, stamp
from gudgeon.errors import BadShop
from gudgeon.physics.pooling import pooled
from gudgeon.physics.spread import around
from gudgeon.report.habit_rows import habit_sections, habits_headline, shop_values_section
from gudgeon.report.rows import Shop
from gudgeon.shop.log import Log
from gudgeon.shop.records import Ballast, Board, StandIn, TowTest, Weighing
from gudgeon.units import Reading

GLIDER = (Path(__file__).parents[2] / "examples" / "glider.toml").read_text(encoding="utf-8")
NAME = "Reed Gate glider"
RECIPE = "1 primer, 2 acrylic paint, 2 epoxy"
HABITS = Habits()
Begun = Callable[[], Log]


@pytest.fixture
def begun(tmp_path: Path) -> Iterator[Begun]:
    """Logs of shops that are closed in the end."""
    logs: list[Log] = []

    def start() -> Log:
        logs.append(Log.start(tmp_path / f"shop{len(logs)}"))
        return logs[-1]

    yield start
    for log in logs:
        log.database.close()


@pytest.fixture(scope="module")
def stocked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a shop with three boards of four gliders each, all measured from blank to water."""
    folder = tmp_path_factory.mktemp("stocked") / "shop"
    with Log.start(folder) as log:
        invented(log, GLIDER, default_rng(1), HABITS)
    return folder


@pytest.fixture
def twelve(stocked: Path, tmp_path: Path) -> Iterator[Log]:
    """A copy of that shop's log."""
    copytree(stocked, tmp_path / "copy")
    with Log.open(tmp_path / "copy") as log:
        yield log


def grams(mass: float) -> Reading:
    return Reading(mass * 1e-3, 1e-4)


def weighed(log: Log, lures: int, masses: list[float], stage: str = "shaped") -> None:
    """Gliders of one run and what they weighed [g] at a stage; none of anything else."""
    if not log.patterns(NAME):
        log.add_pattern(GLIDER)
    for made, mass in zip(log.add_lures(NAME, lures), masses, strict=True):
        log.weigh(made.number, Weighing(stage, grams(mass)))


def truths(found: Learned) -> list[tuple[str, bool]]:
    true = {(DENSITY, "poplar"): HABITS.wood, (SEALER, "poplar"): HABITS.sealer, (COATS, RECIPE): HABITS.coats,
            (FILLING, "lead"): HABITS.filled, (DRAG, ""): HABITS.drag}  # fmt: skip
    return [(habit.kind, habit.mine.low < true[habit.kind, habit.of] < habit.mine.high) for habit in found.habits]


def test_invented_shops_are_found_out(begun: Begun) -> None:
    """Through a real log from first weighing to last drop: of 25 true values, the 95 % ranges hold 22 at least."""
    hits = []
    for seed in range(5):
        log = begun()
        invented(log, GLIDER, default_rng(100 + seed), HABITS, boards=2, each=3, dunked=seed != 3)
        found = learned(log)
        assert [habit.kind for habit in found.habits] == [DENSITY, SEALER, COATS, FILLING, DRAG]
        hits += [hit for _, hit in truths(found)]
    assert sum(hits) >= 22


@pytest.mark.parametrize("kind", [DENSITY, SEALER, DRAG])
def test_the_true_habit_lies_in_the_range_as_often_as_it_says(kind: str) -> None:
    """200 invented shops of three boards, runs or patterns with four lures each, by what is expected of that habit."""
    spread, error, rng = KINDS[kind].spread, 0.02, default_rng(41)
    before = expected(kind, around(1.0, spread), [], 0.0)
    hits = np.zeros(3)
    groups = np.repeat(np.arange(3), 4)
    for _ in range(200):
        between, within = np.abs(rng.standard_t(4.0, 2)) * (before.between, before.within)
        mean = rng.normal(before.value, before.deviation)
        true = rng.normal(mean, between, 4)
        records = rng.normal(true[groups], math.hypot(within, error))
        found = pooled(records.tolist(), [error] * 12, groups.tolist(), before)
        told = [one.range(0.90) for one in (found.middle, found.groups[1], found.fresh)]
        hits += [one.low < value < one.high for one, value in zip(told, (mean, true[1], true[3]), strict=True)]
    assert (hits >= 0.85 * 200).all()
    assert (hits <= 0.95 * 200).all()


def test_before_anything_is_measured_the_next_board_is_as_the_book_has_it() -> None:
    found = pooled([], [], [], expected(DENSITY, around(464.0, 92.8), [], 0.0))
    book = 0.25 * math.log(556.8 / 371.2)
    assert found.fresh.deviation == pytest.approx(book, rel=0.03)


def test_a_shop_of_twelve_lures(twelve: Log) -> None:
    found = learned(twelve)
    wood = found.habit(DENSITY, "yellow-poplar")  # by another of its names
    assert wood is not None
    assert (wood.of, wood.records, wood.slips) == ("poplar", 12, ())
    assert {group.name for group in wood.groups} == {"board B1", "board B2", "board B3"}
    assert wood.coming.spread > wood.mine.spread > 0.0
    assert all(group.value.spread < wood.coming.spread for group in wood.groups)
    assert wood.book is not None
    assert wood.book.value == pytest.approx(464.0, abs=1.0)  # the table's, at the boards' 9 %
    lead = found.habit(FILLING, "lead")
    assert lead is not None
    assert lead.records == 48
    notes = [finding.words for finding in found.findings]
    assert any(re.fullmatch(r"sealer in poplar: yours is [34]\d % more than is drawn, on 12 records", words)
               for words in notes)  # fmt: skip
    assert {finding.gravity for finding in found.findings} == {Gravity.NOTE}


def test_two_blanks_leave_a_wide_range_that_twelve_narrow(begun: Begun) -> None:
    few, many = begun(), begun()
    weighed(few, 2, [52.0, 54.0])
    for run in range(6):
        weighed(many, 2, [52.0 + run % 2, 54.0 - run % 3])
    wide, narrow = (learned(log).habit(DENSITY, "poplar") for log in (few, many))
    assert wide is not None
    assert narrow is not None
    assert wide.mine.spread > 1.5 * narrow.mine.spread
    assert wide.mine.spread > 0.06 * wide.mine.value  # of one board only, and told as such
    assert wide.mine.low < narrow.mine.value < wide.mine.high


def test_a_gross_slip_is_named_and_moves_nothing(twelve: Log) -> None:
    before = learned(twelve).habit(DENSITY, "poplar")
    lure = twelve.add_lures(NAME, 1, board="B2")[0].number
    entry = twelve.weigh(lure, Weighing("shaped", grams(91.2)))
    found = learned(twelve)
    after = found.habit(DENSITY, "poplar")
    assert before is not None
    assert after is not None
    assert [(slip.entry, slip.lure) for slip in after.slips] == [(entry, lure)]
    assert after.records == 12
    assert abs(after.mine.value - before.mine.value) < before.mine.spread / 3.0
    words = found.findings[0].words
    assert words.startswith(f"entry {entry} of lure {lure} makes density of poplar")
    assert "left out" in words
    twelve.strike(entry, "a slip")
    assert learned(twelve).habit(DENSITY, "poplar") == before


def test_boards_by_their_offcut_count_beside_blanks(begun: Begun) -> None:
    log = begun()
    log.add_board(Board("B7", "basswood", Reading(430.0, 4.0), Reading(0.09)))
    log.add_board(Board("X1", "driftwood of Lanternmere", Reading(300.0, 6.0)))
    found = learned(log)
    bass, drift = found.habit(DENSITY, "basswood"), found.habit(DENSITY, "driftwood of Lanternmere")
    assert bass is not None
    assert bass.groups[0].value.value == pytest.approx(430.0, rel=0.02)
    assert drift is not None
    assert drift.book is None
    assert drift.mine.low < 300.0 < drift.mine.high
    assert drift.mine.spread > 1.5 * bass.mine.spread * 300.0 / 430.0  # no book leaves it wider
    rows = {row.name: row for section in habit_sections(found, Shop.METRIC) for row in section.rows}
    assert rows["habit.density.driftwood_of_lanternmere.book"].shown == "says nothing of it"


def test_volumes_that_were_drawn_leave_their_own_doubt(begun: Begun) -> None:
    """Sixty blanks without a dunk: the mean is no surer than the drawing, which is good to 4 %."""
    log = begun()
    for _ in range(10):
        weighed(log, 6, [53.0, 54.0, 52.0, 53.5, 52.5, 53.0])
    wood = learned(log).habit(DENSITY, "poplar")
    assert wood is not None
    assert 0.035 < wood.mine.spread / wood.mine.value < 0.06


def test_primer_and_the_coats_after_it_are_told_apart_where_both_were_weighed(begun: Begun) -> None:
    log = begun()
    weighed(log, 1, [55.0], "sealed")
    log.weigh(1, Weighing("primed", grams(56.4)))
    log.weigh(1, Weighing("clear", grams(66.4)))
    found = learned(log)
    primer, rest = found.habit(COATS, "primer"), found.habit(COATS, "2 acrylic paint, 2 epoxy")
    assert primer is not None
    assert rest is not None
    assert rest.mine.value / primer.mine.value == pytest.approx(10.0 / 1.4, rel=0.15)
    assert found.habit(COATS, RECIPE) is None


def test_a_hole_left_part_empty_tells_nothing(begun: Begun) -> None:
    log = begun()
    weighed(log, 1, [51.0])
    log.ballast(1, Ballast("front", grams(4.0), depth=0.020, bore=0.011))
    assert learned(log).habit(FILLING, "lead") is None
    log.ballast(1, Ballast("front", grams(12.0), depth=0.020, bore=0.011))
    lead = learned(log).habit(FILLING, "lead")
    assert lead is not None
    solid = 11.34 * math.pi / 4.0 * 1.1**2 * 1.7
    assert lead.groups[0].value.value == pytest.approx(16.0 / solid, rel=0.05)


def test_a_lure_s_own_records_can_be_left_out(twelve: Log) -> None:
    every, others = learned(twelve), learned(twelve, but=3)
    for kind, of in ((DENSITY, "poplar"), (COATS, RECIPE), (DRAG, "")):
        counted, left = every.habit(kind, of), others.habit(kind, of)
        assert counted is not None
        assert left is not None
        assert left.records == counted.records - 1


def test_an_empty_log_is_told_what_to_measure(begun: Begun) -> None:
    log = begun()
    log.add_pattern(GLIDER)
    log.add_lures(NAME, 1)
    with pytest.raises(BadShop, match="says nothing of this shop's habits yet") as refused:
        anything(learned(log))
    assert "weigh shaped blanks" in str(refused.value)


def test_a_pattern_that_can_no_longer_be_built_is_left_out_and_told(begun: Begun) -> None:
    log = begun()
    log.add_pattern(GLIDER.replace('species = "poplar"', 'species = "poplarwood of nowhere"'), name="odd")
    log.add_lures("odd", 1)
    found = learned(log)
    assert found.habits == ()
    assert found.findings[0].words.startswith("version 1 of odd is left out")


def test_tows_are_held_against_the_model_when_asked(begun: Begun) -> None:
    log = begun()
    weighed(log, 1, [51.0])
    held = {"front": 12.0, "behind front hook": 21.0, "rear": 14.0}
    for hole, mass in held.items():
        log.ballast(1, Ballast(hole, grams(mass)))
    log.tow(1, TowTest(Reading(0.9), beats=Reading(1.2, 0.1), roll=Reading(0.2)))
    assert learned(log).habit(BEATS) is None
    found = learned(log, tows=True)
    beats, roll = found.habit(BEATS), found.habit(ROLL)
    assert beats is not None
    assert roll is not None
    assert 0.5 < beats.mine.value < 2.0
    assert beats.mine.spread > 0.1


def test_what_was_mounted_is_what_is_towed() -> None:
    design = parse(GLIDER)
    test = TowTest(Reading(0.9), Reading(1.2), fitted=("tow eye",), stand_ins=(StandIn("rear hook", 0.0034),))
    assert [(hook.name, hook.weight) for hook in as_towed(design, test).hooks] == [("rear hook", Reading(0.0034))]
    assert as_towed(design, TowTest(Reading(0.9), Reading(1.2))) == design


# --- what a check takes from the log ---


def test_the_shop_s_values_take_the_place_of_the_book_s(twelve: Log) -> None:
    design, found = parse(GLIDER), learned(twelve)
    answer = shop_check(design, stamp(GLIDER), found)
    assert [value.habit.kind for value in answer.used] == [DENSITY, SEALER, COATS, FILLING, DRAG]
    book = overall(design)
    wood = found.habit(DENSITY, "poplar")
    assert wood is not None
    assert answer.check.wood_density.value == pytest.approx(wood.coming.value)
    assert answer.check.wood_density.spread == pytest.approx(wood.coming.spread, rel=0.2)  # and along the board
    assert answer.check.wood_known_by == "poplar, by your shop's log"
    assert answer.check.ballast is not None
    assert book.ballast is not None
    assert answer.check.ballast.needed.spread < 0.7 * book.ballast.needed.spread
    assert any("your shop's own values, not the book's, for density of poplar" in finding.words
               for finding in answer.check.findings)  # fmt: skip
    assert answer.check.lure.fall_drag == pytest.approx(HABITS.drag, rel=0.05)  # this pattern's own falls
    rows = {row.name: row for row in shop_values_section(answer.used, Shop.METRIC).rows}
    assert rows["shop.drag.whose"].shown == "Reed Gate glider, on 12 records"
    assert rows["shop.density.poplar.instead_of"].value == pytest.approx(0.464, abs=0.001)


def test_the_coats_come_out_as_heavy_as_this_shop_lays_them(twelve: Log) -> None:
    design = parse(GLIDER)
    own = with_shop_values(design, learned(twelve)).design
    thicker = [coat.thickness.value / drawn.thickness.value for coat, drawn in zip(own.coats, design.coats,
                                                                                strict=True)]  # fmt: skip
    assert thicker == pytest.approx([thicker[0]] * 3)
    assert thicker[0] == pytest.approx(HABITS.coats / 0.572, rel=0.08)
    assert own.sealer is not None
    assert own.sealer.weight.spread is not None


@pytest.mark.parametrize(("old", "new", "kind"), [
    ('species = "poplar"', 'species = "poplar"\ndensity = "0.47 g/cm3"', DENSITY),
    ('species = "poplar"', 'species = "poplar"\nblank_weight = "53.1 g"', DENSITY),
    ('weight = "2 g"', 'weight = "2.1 g ± 0.1 g"', SEALER),
    ('thickness = "0.2 mm"', 'thickness = "0.2 mm ± 0.02 mm"', COATS),
    ('[sealer]', '[coefficients]\nfall_drag = 1.1\n\n[sealer]', DRAG),
    ('[water]', '[[measured]]\nstage = "rigged"\nsinks = "3.2 s/ft"\n\n[water]', DRAG),
])  # fmt: skip
def test_what_was_measured_stays(twelve: Log, old: str, new: str, kind: str) -> None:
    text = GLIDER.replace(old, new)
    assert text != GLIDER
    kinds = [value.habit.kind for value in with_shop_values(parse(text), learned(twelve)).used]
    assert kind not in kinds
    assert len(kinds) == 4


def test_bores_that_are_filled_or_told_stay(twelve: Log) -> None:
    text = GLIDER.replace('bore = "3/8 in"', 'bore = "3/8 in"\npacked = "70 %"')
    own = with_shop_values(parse(text), learned(twelve), {"front"}).design
    packed = {pocket.name: pocket.packed for pocket in own.pockets}
    assert packed["front"] is None
    assert packed["rear"] == pytest.approx(0.70)
    assert packed["tail"] == pytest.approx(HABITS.filled, rel=0.05)


def test_a_lure_of_a_board_gets_that_board_s_wood(twelve: Log) -> None:
    design = parse(GLIDER)
    new = twelve.add_lures(NAME, 1, board="B2")[0].number
    found = learned(twelve, but=new)
    answer = shop_check(design, stamp(GLIDER), found, twelve.lure(new))
    assert answer.as_weighed is not None
    (wood,) = (value for value in answer.used if value.habit.kind == DENSITY)
    assert wood.whose == "board B2"
    assert answer.check.wood_density.value == pytest.approx(wood.value.value)
    twelve.add_board(Board("B9", "basswood", Reading(430.0)))
    other = twelve.add_lures(NAME, 1, board="B9")[0].number
    answer = shop_check(design, stamp(GLIDER), found, twelve.lure(other))
    assert DENSITY not in [value.habit.kind for value in answer.used]
    assert answer.check.wood_density.value == pytest.approx(430.0)


def test_a_log_without_such_records_leaves_the_book_and_says_so(begun: Begun) -> None:
    design = parse(GLIDER)
    answer = shop_check(design, stamp(GLIDER), learned(begun()))
    assert answer.used == ()
    assert answer.check.wood_density == overall(design).wood_density
    assert any("nothing in the log takes the place of a book's value here" in finding.words
               for finding in answer.check.findings)  # fmt: skip
    assert [row.name for row in shop_values_section(answer.used, Shop.METRIC).rows] == ["shop.none"]


# --- how it is told ---


def test_every_habit_stands_beside_the_book(twelve: Log) -> None:
    found = learned(twelve)
    assert habits_headline(found) == "Your shop's log tells 5 habits, on 96 records."
    sections = habit_sections(found, Shop.METRIC)
    assert [section.title for section in sections] == [
        "Density of poplar", "Sealer in poplar", f"Coats: {RECIPE}", "Lead in its holes", "Drag of a fall"]  # fmt: skip
    rows = {row.name: row for section in sections for row in section.rows}
    for name in ("habit.density.poplar", "habit.sealer.poplar", "habit.filling.lead", "habit.drag"):
        assert {f"{name}.{key}" for key in ("mine", "coming", "book", "records", "between", "within")} <= set(rows)
    assert rows["habit.filling.lead.mine"].unit == "%"
    coats = rows["habit.coats.1_primer_2_acrylic_paint_2_epoxy.mine"]
    assert (coats.unit, coats.value) == ("g/100 cm2", pytest.approx(6.0, rel=0.1))
    inch = {row.name: row for section in habit_sections(found, Shop.INCH) for row in section.rows}
    assert inch[coats.name].unit == "g/10 in2"
    assert inch[coats.name].value == pytest.approx(0.64516 * float(coats.value or 0.0))


def test_one_board_speaks_for_itself_and_not_for_the_book(begun: Begun) -> None:
    log = begun()
    weighed(log, 4, [75.0, 76.0, 74.0, 75.5])
    habit = learned(log).habit(DENSITY, "poplar")
    assert habit is not None
    assert [group.value for group in habit.groups] == [habit.mine]
    assert habit.book is not None
    assert habit.mine.low > habit.book.value  # a wood half as heavy again as the book has it
    assert habit.coming.low < habit.mine.low  # and the next board is no surer for it
    shown = {row.name: row.label for section in habit_sections(learned(log), Shop.METRIC) for row in section.rows}
    assert shown["habit.density.poplar.mine"] == f"your shop, by its only {KINDS[DENSITY].group}"
