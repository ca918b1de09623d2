"""The one door: what goes in, what comes out, what is refused."""

from pathlib import Path

import pytest

from gudgeon.errors import BadDesign, BadShop
from gudgeon.shop.log import Log
from gudgeon.shop.records import (
    Attitude,
    Ballast,
    Board,
    Change,
    Fitting,
    Jug,
    Lure,
    Note,
    Pattern,
    StandIn,
    Stock,
    TimedDrop,
    TowTest,
    Weighing,
)
from gudgeon.units import Reading

SHAPED = Weighing("shaped", Reading(0.0452, 1e-4))
GLIDER = "Reed Gate glider"


def refused(words: str) -> "pytest.RaisesExc[BadShop]":
    return pytest.raises(BadShop, match=words)


def test_every_kind_of_record_comes_back_as_it_went_in(twelve: Log) -> None:
    salt, warm = Reading(3.0), Reading(291.15, 1.0)
    records = [
        SHAPED, Weighing("sealed", Reading(0.0171), "rear"), Weighing("dry fit", Reading(0.061), fitted=("fin",)),
        Jug("sealed", Reading(0.1084), temperature=warm, salinity=salt),
        Ballast("front", Reading(0.0198), 0.0381, 0.022, 0.0111), Fitting("front hook", Reading(0.0034)),
        TimedDrop("rigged", Reading(1.2192, 0.01), (6.8, 6.9, 6.7), fitted=(), temperature=warm),
        Attitude("rigged", Reading(-0.07), Reading(0.02, 0.01), "falling"),
        TowTest(Reading(1.03), Reading(3.1), Reading(0.2), Reading(1.2), "swings evenly", ("tow eye",),
                (StandIn("front hook", 0.0034),), warm, salt),
        Change("rear hook one size up", "nose-down sink"), Note("knot under the left cheek"),
    ]  # fmt: skip
    doors = {Weighing: twelve.weigh, Jug: twelve.jug, Ballast: twelve.ballast, Fitting: twelve.fit,
             TimedDrop: twelve.drop, Attitude: twelve.lies, TowTest: twelve.tow, Change: twelve.change,
             Note: twelve.note}  # fmt: skip
    records[2] = Weighing("dry fit", Reading(0.061), fitted=("tow eye", "front hook"))
    numbers = [doors[type(record)](3, record, remark="as seen") for record in records]  # type: ignore[operator]
    found = twelve.lure(3).entries
    assert [entry.what for entry in found] == records
    assert [entry.number for entry in found] == numbers
    assert {entry.remark for entry in found} == {"as seen"}
    assert twelve.lure(4).entries == ()


def test_the_mean_number_of_a_maker_is_kept_without_a_hair_more(twelve: Log) -> None:
    number = twelve.weigh(1, Weighing("shaped", Reading(48.2 * 1e-3)))
    kept = twelve.entry(number).what
    assert isinstance(kept, Weighing)
    assert repr(kept.mass.value) == "0.0482"


def test_a_lure_knows_its_pattern_to_the_letter_and_its_board(log: Log, glider: str) -> None:
    text = "\ufeff" + glider.replace("\n", "\r\n")
    log.add_board(Board("B7", "poplar", Reading(455.0, 5.0), Reading(0.09)))
    pattern = log.add_pattern(text)
    (lure,) = log.add_lures(GLIDER, board="B7")
    record = log.lure(lure.number)
    assert record.pattern == pattern == Pattern(GLIDER, 1, pattern.stamp, text)
    assert record.board == Board("B7", "poplar", Reading(455.0, 5.0), Reading(0.09))


def test_versions_count_up_and_the_same_text_is_no_new_one(log: Log, glider: str) -> None:
    assert log.add_pattern(glider).version == 1
    with refused("it is in the log already: version 1 of Reed Gate glider"):
        log.add_pattern(glider)
    second = log.add_pattern(glider.replace('rate = "3 s/ft"', 'rate = "4 s/ft"'))
    assert second.version == 2
    assert [lure.pattern for lure in log.add_lures(GLIDER)] == [log.pattern_root(GLIDER, 2)]
    assert [lure.pattern for lure in log.add_lures(GLIDER, version=1)] == [log.pattern_root(GLIDER, 1)]
    with refused("Reed Gate glider has no version 7; it has 1, 2"):
        log.add_lures(GLIDER, version=7)


def test_a_pattern_must_be_a_design(log: Log) -> None:
    with pytest.raises(BadDesign):
        log.add_pattern('name = "half a design"')
    assert log.standing("pattern") == []


def test_a_stamp_finds_its_pattern(twelve: Log) -> None:
    pattern = twelve.patterns(GLIDER)[0]
    for part in (pattern.stamp, pattern.stamp[:3], pattern.stamp.upper()):
        assert [entry.what for entry in twelve.stamped(part)] == [pattern]
    assert twelve.stamped("00000000") == []


def test_lures_are_numbered_on_and_each_lot_is_a_run(twelve: Log) -> None:
    assert [(lure.number, lure.run) for lure in twelve.add_lures(GLIDER, 2)] == [(13, 2), (14, 2)]
    assert [(lure.number, lure.run) for lure in twelve.add_lures(GLIDER, run=1)] == [(15, 1)]
    assert [lure.number for lure in twelve.add_lures(GLIDER, number=30)] == [30]
    with refused("there is a lure 12 already; the next free one is 31"):
        twelve.add_lures(GLIDER, number=12)
    with refused("begin 1 to 1000 at once"):
        twelve.add_lures(GLIDER, 0)


@pytest.mark.parametrize(
    ("record", "words"),
    [
        (Weighing("varnished", Reading(0.04)), "'varnished': say one of board, square, shaped"),
        (Weighing("shaped", Reading(0.0)), "more than 0 g"),
        (Weighing("shaped", Reading(float("nan"))), "is not a number"),
        (Weighing("shaped", Reading(0.04, -1.0)), "is not a number"),
        (Weighing("shaped", Reading(80.0)), "a slip in the unit or the decimal point"),
        (Weighing("shaped", Reading(0.04), "middle"), "the pattern has no 'middle'; it has"),
        (Weighing("shaped", Reading(0.04), fitted=("front hok",)), "the pattern has no 'front hok'; it has front hook"),
        (Jug("sealed", Reading(0.1), temperature=Reading(400.0)), "temperature: cannot be a temperature as high"),
        (Fitting("propeller", Reading(0.001)), "the pattern has no 'propeller'"),
        (TimedDrop("rigged", Reading(1.2), ()), "give one time or more"),
        (TimedDrop("rigged", Reading(1.2), (0.0,)), "times: cannot be a time as low"),
        (Attitude("rigged", Reading(0.0), state="asleep"), "'asleep': say one of afloat, hanging, falling"),
        (TowTest(Reading(1.0), stand_ins=(StandIn("front hook", -1.0),)), "is not a weight"),
        (Note(""), "is left empty"),
        (Note("a bell \x07"), "a character that does not print"),
        (Note("x" * 5000), "5000 characters; keep it under 4000"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_and_nothing_is_entered(twelve: Log, record: object, words: str) -> None:
    before = len(twelve.history(limit=1000))
    doors = {Weighing: twelve.weigh, Jug: twelve.jug, Fitting: twelve.fit, TimedDrop: twelve.drop, Note: twelve.note,
             Attitude: twelve.lies, TowTest: twelve.tow}  # fmt: skip
    with refused(words):
        doors[type(record)](1, record)  # type: ignore[arg-type, operator]
    assert len(twelve.history(limit=1000)) == before


def test_all_faults_of_a_record_are_told_at_once(twelve: Log) -> None:
    with pytest.raises(BadShop) as found:
        twelve.weigh(1, Weighing("varnished", Reading(-1.0)), remark="\x1b[2J")
    assert len(found.value.faults) == 4


def test_a_lure_that_is_not_there_is_refused(twelve: Log) -> None:
    for number in (13, 0, -1, 10**30):
        with pytest.raises(BadShop):
            twelve.weigh(number, SHAPED)


def test_times_are_kept_in_iso_with_their_offset(twelve: Log) -> None:
    number = twelve.weigh(1, SHAPED, done="2026-05-03")
    assert twelve.entry(number).done == "2026-05-03"
    number = twelve.weigh(1, SHAPED, done="2026-05-03T14:30:00+02:00")
    assert twelve.entry(number).done == "2026-05-03T14:30:00+02:00"
    number = twelve.weigh(1, SHAPED, done="2026-05-03T14:30")
    assert twelve.entry(number).done.startswith("2026-05-03T14:30:00")
    assert len(twelve.entry(number).done) > len("2026-05-03T14:30:00")
    for wrong in ("yesterday", "2026-13-01", "3.5.2026", ""):
        if wrong:
            with refused("is no date; write 2026-05-03"):
                twelve.weigh(1, SHAPED, done=wrong)


def test_stock_says_what_each_kind_must(log: Log) -> None:
    log.add_stock(Stock("2/0 treble", "hook", each=Reading(0.0057), count=40))
    log.add_stock(Stock("clear epoxy", "resin", amount=Reading(0.5), lot="L-2207"))
    assert [entry.what.name for entry in log.standing("stock")] == ["clear epoxy", "2/0 treble"]  # type: ignore[union-attr]
    with refused("give the weight of one"):
        log.add_stock(Stock("3/0 treble", "hook"))
    with refused("give the lot"):
        log.add_stock(Stock("slow epoxy", "resin"))
    with refused("say one of shot"):
        log.add_stock(Stock("glue", "glue"))


def test_a_board_has_a_name_of_its_own(log: Log, glider: str) -> None:
    log.add_board(Board("B7", "poplar"))
    with refused("there is a board 'B7' already"):
        log.add_board(Board("B7", "cedar"))
    log.add_pattern(glider)
    with refused("none is called 'B8'; there is B7"):
        log.add_lures(GLIDER, board="B8")
    with refused("none is called 'Reed Gat glider'; there is Reed Gate glider"):
        log.add_lures("Reed Gat glider")


# --- lists ---


def test_lists_tell_the_furthest_stage_and_its_weight(twelve: Log) -> None:
    twelve.weigh(2, SHAPED)
    twelve.weigh(2, Weighing("sealed", Reading(0.017), "rear"))
    number = twelve.weigh(3, Weighing("leaded", Reading(0.09)))
    twelve.weigh(3, SHAPED)
    lines = {line.number: (line.stage, line.mass) for line in twelve.lures()}
    assert lines[1] == (None, None)
    assert lines[2] == ("sealed", None)
    assert lines[3] == ("leaded", 0.09)
    twelve.strike(number, "of another lure")
    assert {line.number: (line.stage, line.mass) for line in twelve.lures()}[3] == ("shaped", 0.0452)


def test_lists_are_parted_and_sifted(twelve: Log) -> None:
    twelve.add_board(Board("B7", "poplar"))
    twelve.add_lures(GLIDER, 2, board="B7")
    assert [line.number for line in twelve.lures(limit=3)] == [14, 13, 12]
    assert [line.number for line in twelve.lures(limit=3, before=12)] == [11, 10, 9]
    assert [line.number for line in twelve.lures(board="B7")] == [14, 13]
    assert [line.number for line in twelve.lures(run=2)] == [14, 13]
    assert twelve.lures(pattern="another") == []
    assert [line.number for line in twelve.run_of(twelve.pattern_root(GLIDER))] == [13, 14]
    assert len(twelve.run_of(twelve.pattern_root(GLIDER), 1)) == 12
    assert twelve.lure_count() == 14


# --- corrections ---


def test_a_correction_stands_in_the_place_of_the_old_entry(twelve: Log) -> None:
    first, after = twelve.weigh(1, SHAPED), twelve.note(1, Note("later"))
    second = twelve.correct(first, {"mass": Reading(0.0425, 1e-4)}, "read 2 for 5")
    third = twelve.correct(second, {"stage": "drilled"}, "it was drilled already")
    record = twelve.lure(1)
    assert [entry.number for entry in record.entries] == [third, after]
    assert record.entries[0].what == Weighing("drilled", Reading(0.0425, 1e-4))
    assert twelve.entry(first).what == SHAPED
    assert [entry.number for entry in twelve.chain(first)] == [third, second, first] == [
        entry.number for entry in twelve.chain(third)]  # fmt: skip
    assert [(entry.number, entry.corrects, entry.corrected_by, entry.stands) for entry in twelve.history(1)[:4]] == [
        (third, second, None, True), (second, first, third, False), (after, None, None, True),
        (first, None, second, False),
    ]  # fmt: skip
    assert twelve.entry(second).remark == "read 2 for 5"
    assert twelve.entry(third).done == twelve.entry(first).done


def test_an_entry_is_corrected_once_and_for_a_reason(twelve: Log) -> None:
    first = twelve.weigh(1, SHAPED)
    second = twelve.correct(first, {"mass": Reading(0.0425)}, "misread")
    with refused(f"it was corrected already, by entry {second}; correct that"):
        twelve.correct(first, {"mass": Reading(0.0424)}, "misread")
    with refused("say why"):
        twelve.correct(second, {"mass": Reading(0.0424)}, "  ")
    with refused("nothing in it would change"):
        twelve.correct(second, {"mass": Reading(0.0425)}, "again")
    with refused("a slip in the unit"):
        twelve.correct(second, {"mass": Reading(90.0)}, "misread")
    with refused("the log has no such entry"):
        twelve.correct(4711, {}, "misread")
    assert twelve.correct(second, {}, "it was the day before", done="2026-05-02") > second


def test_an_entry_struck_out_does_not_count_and_stays_in_the_history(twelve: Log) -> None:
    first = twelve.weigh(1, SHAPED)
    gone = twelve.strike(first, "of another lure")
    assert twelve.lure(1).entries == ()
    assert twelve.entry(gone).struck
    assert twelve.entry(gone).what is None
    assert twelve.entry(first).what == SHAPED
    with refused(f"it strikes out entry {first}; enter anew what holds"):
        twelve.correct(gone, {"mass": Reading(0.04)}, "after all")


def test_a_lure_struck_out_is_gone_from_lists_and_its_number_is_not_given_again(twelve: Log) -> None:
    twelve.weigh(12, SHAPED)
    twelve.strike(twelve.lure(12).entry.number, "never begun")
    assert twelve.lure_count() == 11
    assert 12 not in [line.number for line in twelve.lures()]
    with refused("no such lure"):
        twelve.weigh(12, SHAPED)
    assert [lure.number for lure in twelve.add_lures(GLIDER)] == [13]
    assert len(twelve.history(12)) == 3


def test_a_lure_corrected_is_counted_once_and_other_corrections_do_not_count(twelve: Log) -> None:
    twelve.add_board(Board("B7", "poplar"))
    twelve.correct(twelve.lure(3).entry.number, {"board": twelve.board_root("B7")}, "out of B7")
    twelve.correct(twelve.lure(3).entry.number, {"board": None}, "not out of B7 after all")
    twelve.strike(twelve.weigh(4, SHAPED), "of another lure")
    assert twelve.lure_count() == len(twelve.lures()) == 12


def test_what_lures_go_by_cannot_change_under_them(log: Log, glider: str) -> None:
    board = log.add_board(Board("B7", "poplar", Reading(455.0)))
    log.add_pattern(glider)
    (lure,) = log.add_lures(GLIDER, board="B7")
    with refused("lure 1 is made of it; strike that first"):
        log.strike(board, "lost")
    with refused("lure 1 is made of it"):
        log.strike(log.pattern_root(GLIDER), "lost")
    with refused("a pattern's text stays as it is"):
        log.correct(log.pattern_root(GLIDER), {"name": "other"}, "renamed")
    with refused("name cannot change"):
        log.correct(board, {"name": "B8"}, "renamed")
    with refused("number cannot change"):
        log.correct(log.lure(1).entry.number, {"number": 2}, "renumbered")
    log.correct(board, {"density": Reading(461.0)}, "measured again")
    assert log.lure(lure.number).board == Board("B7", "poplar", Reading(461.0))
    log.add_board(Board("B9", "basswood"))
    log.correct(log.lure(1).entry.number, {"board": log.board_root("B9")}, "out of the other board")
    assert log.lure(1).board == Board("B9", "basswood")
    assert isinstance(log.lure(1).lure, Lure)
    assert [line.board for line in log.lures()] == ["B9"]


def test_a_log_can_be_looked_into_while_another_writes(twelve: Log, tmp_path: Path) -> None:
    with Log.look(tmp_path / "shop") as reader:
        twelve.weigh(1, SHAPED)
        assert len(reader.lure(1).entries) == 1


def test_a_pattern_is_found_without_regard_to_capitals_where_just_one_is_so_called(log: Log, glider: str) -> None:
    name = log.add_pattern(glider).name
    assert log.lure(log.add_lures(name.upper(), 1)[0].number).pattern.name == name
    assert [line.number for line in log.lures(pattern=name.lower())] == [1]
    log.add_pattern(glider, name=name.lower())
    with refused("none is called"):
        log.add_lures(name.upper(), 1)
    assert log.lure(log.add_lures(name.lower(), 1)[0].number).pattern.name == name.lower()
