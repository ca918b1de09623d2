"""The log as JSON and CSV, and taken in again; words are words, whatever stands in them."""

import csv
import io
import json
import math
import tempfile
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from gudgeon.errors import BadQuantity, BadShop
from gudgeon.shop.carrying import as_json, from_json, rows, take_in
from gudgeon.shop.columns import kept
from gudgeon.shop.database import newest
from gudgeon.shop.log import Log
from gudgeon.shop.records import KINDS, Board, Change, Jug, Note, Weighing
from gudgeon.shop.spreadsheet import TRICKS, as_csv, from_csv, in_si, in_unit, neutral, plain
from gudgeon.units import ANGLE, DENSITY, LENGTH, MASS, TEMPERATURE, Kind, Reading

HERE = Path(__file__).parent
GLIDER = "Reed Gate glider"
SAMPLE = (HERE / f"version_{newest()}.json").read_text(encoding="utf-8")
NASTY = [
    "'); DROP TABLE entry; --", '" OR 1=1', "%s %d ?1 :name {0} {mass}", "=SUM(A1:A9)", "+1", "-1", "@cmd", "'=1", "''",
    "'", "\t=1", "  =1", "＝1", "[bold red]x[/]", "<script>alert(1)</script>", "line one\nline two", 'a,b;"c"', "NULL",
    "ça et là ü",
]  # fmt: skip


def told(log: Log) -> str:
    return "".join(as_json(log))


@pytest.fixture
def sample(tmp_path: Path) -> Log:
    """A log with every kind of entry in it."""
    log = Log.start(tmp_path / "sample")
    take_in(log, from_json(SAMPLE))
    return log


def test_json_goes_out_and_comes_in_as_it_was(sample: Log, log: Log) -> None:
    assert {row["kind"] for row in rows(sample)} == set(KINDS)
    assert take_in(log, from_json(told(sample))) == len(json.loads(SAMPLE)["entries"])
    assert told(log) == told(sample)
    assert json.loads(told(log))["entries"] == json.loads(SAMPLE)["entries"]


def test_csv_goes_out_and_comes_in_as_it_was(sample: Log, log: Log) -> None:
    take_in(log, from_csv(as_csv(rows(sample))))
    assert told(log) == told(sample)


def test_csv_is_in_the_units_of_the_bench(sample: Log) -> None:
    table = list(csv.DictReader(io.StringIO(as_csv(rows(sample)))))
    weight = next(row for row in table if row["kind"] == "weighing")
    assert (weight["mass_g"], weight["mass_spread_g"], weight["stage"], weight["lure"]) == ("9.1", "0.1", "shaped", "1")
    jug = next(row for row in table if row["kind"] == "jug")
    assert (jug["displaced_g"], jug["temperature_C"], jug["salinity_ppt"]) == ("22.8", "18", "0")
    lead = next(row for row in table if row["kind"] == "ballast")
    assert (lead["station_mm"], lead["depth_mm"], lead["bore_mm"]) == ("25", "12", "8")
    board = next(row for row in table if row["kind"] == "board")
    assert (board["density_g_cm3"], board["moisture_percent"], board["length_mm"]) == ("0.402", "9", "900")
    assert next(row for row in table if row["kind"] == "attitude")["pitch_deg"] == "-5"
    tow = next(row for row in table if row["kind"] == "tow_test")
    assert (tow["depth_m"], tow["stand_ins_g"]) == ("1.5", '[["belly hook", "1"]]')


@pytest.mark.parametrize("kind", [MASS, LENGTH, DENSITY, TEMPERATURE, ANGLE], ids=lambda kind: kind.name)
@given(value=some.floats(-1e3, 1e3))
def test_a_number_in_the_units_of_the_bench_comes_back_the_same(kind: Kind, value: float) -> None:
    value = kept(abs(value) % 60.0 + 260.0 if kind is TEMPERATURE else value)  # no water is near 0 K
    for difference in (False, True):
        text = in_unit(value, kind, difference=difference)
        assert in_si(text, kind, difference=difference) == value
        assert "E" not in text


def test_a_weight_is_written_as_it_was_read_off() -> None:
    for grams in ("48.2", "0.01", "7", "1210", "9.81", "0.333"):
        assert in_unit(kept(float(grams) * 1e-3), MASS) == grams
    assert in_unit(kept(math.radians(-4.0)), ANGLE) == "-4"
    assert in_unit(kept((46 + 459.67) * 5 / 9), TEMPERATURE).startswith("7.7777777777")
    with pytest.raises(BadQuantity):
        in_si("1e400", MASS)


@given(text=some.text(alphabet=some.sampled_from("'=+-@\t\r\n ＝ab1")))
def test_what_a_spreadsheet_would_take_for_a_formula_is_words_and_comes_back(text: str) -> None:
    cell = neutral(text)
    assert cell[:1] not in tuple(TRICKS)
    assert cell.lstrip(" ")[:1] not in tuple(TRICKS)
    assert plain(cell) == text


@pytest.mark.parametrize("words", ["knot", "'82 cedar", "3 = 4", "a-b", ""])
def test_other_words_are_left_as_they_are(words: str) -> None:
    assert neutral(words) == words == plain(words)


def test_no_cell_of_words_begins_a_formula(log: Log, glider: str) -> None:
    log.add_pattern(f"=cmd()\n{glider}".replace("=cmd()", "# =cmd()"), name="=2+5")
    log.add_lures("=2+5")
    for words in NASTY:
        log.note(1, Note(words), remark=words)
        log.change(1, Change(words, words))
    table = as_csv(rows(log))
    for row in csv.DictReader(io.StringIO(table)):
        for head, cell in row.items():
            if not head.endswith(("_g", "_deg", "_C", "_mm")):
                assert cell.lstrip(" ")[:1] not in tuple(TRICKS), (head, cell)
    again = Log.start(log.folder.parent / "again")
    take_in(again, from_csv(table))
    assert told(again) == told(log)
    again.database.close()


WORDS = some.text(min_size=1, max_size=80).filter(lambda text: bool(text.strip()) and all(
    letter.isprintable() or letter in "\n\t" for letter in text))  # fmt: skip


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=WORDS | some.sampled_from(NASTY), words=WORDS | some.sampled_from(NASTY), mass=some.floats(1e-6, 50.0))
def test_what_is_entered_is_data_and_never_code(glider: str, name: str, words: str, mass: float) -> None:
    with tempfile.TemporaryDirectory() as place, Log.start(Path(place) / "one") as log:
        before = {row["sql"] for row in log.database.ask("SELECT sql FROM sqlite_master")}
        log.add_board(Board(name, words))
        log.add_pattern(glider, name=name)
        log.add_lures(name, board=name, remark=words)
        log.note(1, Note(words), remark=name)
        number = log.weigh(1, Weighing("shaped", Reading(mass)), remark=words)
        log.correct(number, {"mass": Reading(mass / 2.0)}, words)
        record = log.lure(1)
        assert record.board == Board(name, words)
        assert record.pattern.name == name
        assert record.of(Note)[0][1] == Note(words)
        assert [line.pattern for line in log.lures(pattern=name, board=name)] == [name]
        assert log.patterns(name)[0].design == glider
        assert {row["sql"] for row in log.database.ask("SELECT sql FROM sqlite_master")} == before
        for number, told_rows in enumerate((from_json(told(log)), from_csv(as_csv(rows(log))))):
            with Log.start(Path(place) / f"copy {number}") as other:
                take_in(other, told_rows)
                assert told(other) == told(log)


# --- a maker's own list ---


def test_a_list_of_ones_own_is_taken_in_with_the_units_in_its_cells(twelve: Log) -> None:
    table = ("kind,lure,stage,piece,mass,done\n"
             "weighing,1,shaped,,1.6 oz,2026-05-01\n"
             "weighing,2,sealed,rear,17.1 g ± 0.05 g,\n"
             "note,2,,,,\n").replace("note,2,,,,\n", "")  # fmt: skip
    assert take_in(twelve, from_csv(table)) == 2
    assert twelve.lure(1).of(Weighing)[0][1] == Weighing(
        "shaped", Reading(kept(1.6 * 0.028349523125), kept(0.05 * 0.028349523125)))  # as its figures have it
    assert twelve.lure(1).entries[0].done == "2026-05-01"
    assert twelve.lure(2).of(Weighing)[0][1] == Weighing("sealed", Reading(0.0171, kept(5e-5)), "rear")


def test_a_list_of_ones_own_may_have_the_unit_in_its_head(twelve: Log) -> None:
    table = "kind,lure,stage,displaced_g,temperature\njug,3,sealed,108.4,64.4 F\n"
    take_in(twelve, from_csv(table))
    jug = twelve.lure(3).of(Jug)[0][1]
    assert jug.displaced == Reading(0.1084)
    assert jug.temperature is not None
    assert jug.temperature.value == pytest.approx(291.15)


def test_a_log_can_be_taken_into_another_with_its_own(sample: Log, twelve: Log, glider: str) -> None:
    table = "".join(as_json(sample)).replace('"lure": 1,', '"lure": 101,').replace('"lure": 2,', '"lure": 102,')
    table = table.replace('"number": 1,', '"number": 101,').replace('"number": 2,', '"number": 102,')
    take_in(twelve, from_json(table))
    assert twelve.lure_count() == 14
    assert twelve.lure(101).pattern.name == "Small floater"
    assert twelve.lure(1).pattern.design == glider
    with pytest.raises(BadShop, match="there is a lure 1 already"):
        take_in(twelve, from_json("".join(as_json(sample)).replace('"name": "B7', '"name": "C7').replace(
            '"board": "B7', '"board": "C7').replace("90 mm", "91 mm")))  # fmt: skip


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("", "names no column 'kind'"),
        ("lure,mass\n1,2 g\n", "names no column 'kind'"),
        ("kind,lure,wieght\nweighing,1,2 g\n", "no column 'wieght' is known"),
        ("kind,lure\nweighting,1\n", "row 2: 'weighting' is no kind"),
        ("kind,lure,stage,mass\nweighing,1,shaped,45\n", "row 2, mass: '45' needs a unit"),
        ("kind,lure,stage,mass_g\nweighing,1,shaped,heavy\n", "row 2, mass: 'heavy' is not a number"),
        ("kind,lure,stage,mass_g\nweighing,1,shaped,inf\n", "is not a number"),
        ("kind,lure,stage,mass_g\nweighing,1,shaped,\n", "row 2, mass: is missing"),
        ("kind,lure,stage,mass_g\nweighing,one,shaped,45\n", "row 2, lure: 'one' is not a whole number"),
        ("kind,lure,stage,mass_g\nweighing,1,shaped,45,46\n", "row 2: has more cells"),
        ("kind,lure,stage,mass_g\nweighing,99,shaped,45\n", "row 2: gudgeon log list shows those there are"),
        ("kind,lure,stage,mass_g\nweighing,1,soaked,45\n", "row 2, stage: 'soaked' is no stage"),
        ("kind,stage,mass_g\nweighing,shaped,45\n", "row 2: does not say which lure"),
        ("kind,lure,corrects,stage,mass_g\nweighing,1,3,shaped,45\n", "corrects entry 3, which is not in the file"),
        ('kind,lure\n"weighing,1\n', "cannot be read"),
    ],
)
def test_a_table_that_cannot_be_taken_in_says_where_and_enters_nothing(twelve: Log, table: str, words: str) -> None:
    before = told(twelve)
    with pytest.raises(BadShop) as found:
        take_in(twelve, from_csv(table))
    assert words in str(found.value)
    assert told(twelve) == before


def test_one_bad_row_at_the_end_leaves_the_others_out_too(twelve: Log) -> None:
    before = told(twelve)
    table = "kind,lure,stage,mass_g\n" + "weighing,1,shaped,45\n" * 5 + "weighing,99,shaped,45\n"
    with pytest.raises(BadShop, match="row 7"):
        take_in(twelve, from_csv(table))
    assert told(twelve) == before


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda data: "[" * 100_000, "no JSON"),
        (lambda data: json.dumps(data)[:-40], "no JSON"),
        (lambda data: "[1, 2]", "has no list of entries"),
        (lambda data: json.dumps(data | {"format": 2}), "2 is not known here"),
        (lambda data: json.dumps(data | {"entries": [3]}), "has no kind that is known"),
        (lambda data: json.dumps(data | {"entries": [{"kind": []}]}), "has no kind that is known"),
        (lambda data: json.dumps(data | {"entries": [{"kind": "note", "lure": "1"}]}), "words: is missing"),
        (lambda data: json.dumps(data | {"entries": [{"kind": "note", "lure": True, "words": "x"}]}),
         "not a whole number"),
        (lambda data: json.dumps(data | {"entries": [{"kind": "weighing", "lure": 1, "stage": "shaped",
                                                      "mass": "45 g"}]}), "mass: is not of its kind"),
        (lambda data: json.dumps(data | {"entries": [{"kind": "weighing", "lure": 1, "stage": "shaped",
                                                      "mass": 10**400}]}), "mass: is not of its kind"),
        (lambda data: json.dumps(data | {"entries": [{"kind": "lure", "number": 1}]}), "pattern: is missing"),
        (lambda data: json.dumps(data | {"entries": [{"kind": "timed_drop", "lure": 1, "stage": "rigged",
                                                      "distance": 1.2, "times": ["x"]}]}), "times: is not of its kind"),
    ],
)  # fmt: skip
def test_json_that_cannot_be_taken_in_says_where_and_enters_nothing(twelve: Log, change, words: str) -> None:  # type: ignore[no-untyped-def]
    before = told(twelve)
    with pytest.raises(BadShop) as found:
        take_in(twelve, from_json(change(json.loads(SAMPLE))))
    assert words in str(found.value)
    assert told(twelve) == before


def test_decimals_of_the_bench_are_exact() -> None:
    assert Decimal(in_unit(0.0571, MASS)) == Decimal("57.1")


def test_every_fault_of_json_is_told_at_once_and_what_rests_on_it_is_not_blamed(twelve: Log) -> None:
    entries = [{"kind": "weighing", "lure": 77, "stage": "shaped", "mass": 0.05},
               {"kind": "weighing", "lure": 1, "stage": "shaped", "mass": "45 g"},
               {"kind": "lure", "number": 90, "pattern": 3, "version": 1, "run": 1, "entry": 1},
               {"kind": "note", "lure": 90, "words": "of a lure that was not read", "entry": 2},
               {"kind": "lure", "corrects": 1, "struck": True},
               {"kind": "weighing", "lure": 1, "stage": "seeled", "mass": 0.045}]  # fmt: skip
    with pytest.raises(BadShop) as found:
        take_in(twelve, from_json(json.dumps(json.loads(SAMPLE) | {"entries": entries})))
    words = str(found.value)
    for fault in ("entry 1 of the file: gudgeon log list", "entry 2 of the file, mass: is not of its kind",
                  "entry 3 of the file, pattern: is missing", "entry 6 of the file: 'seeled' is no stage"):  # fmt: skip
        assert fault in words
    assert not any(f"entry {number} of the file" in words for number in (4, 5))


def test_every_fault_of_a_table_is_told_at_once(twelve: Log) -> None:
    table = ("kind,lure,stage,done,mass\nweighing,77,seeled,2026-13-01,9.5\nweighing,88,shaped,,45 g\n"
             "weighing,1,shaped,2031-01-01,45 g\n")  # fmt: skip
    with pytest.raises(BadShop) as found:
        take_in(twelve, from_csv(table))
    for words in ("row 2, stage: 'seeled'", "row 2, done: '2026-13-01'", "row 2, mass: '9.5' needs a unit",
                  "row 2: gudgeon log list", "row 3: gudgeon log list", "row 4: 2031-01-01 is still to come"):
        assert words in str(found.value)


def test_a_row_that_looks_like_a_slip_is_questioned_and_nothing_entered(twelve: Log) -> None:
    before = told(twelve)
    rows_told = from_csv("kind,lure,stage,mass\nweighing,1,shaped,1 kg\nweighing,2,shaped,45 g\n")

    def odd(log: Log, lure: int, record: object) -> list[str]:
        return ["too heavy"] if lure == 1 else []

    with pytest.raises(BadShop, match="row 2: too heavy\n  --sure"):
        take_in(twelve, rows_told, odd)
    assert told(twelve) == before
    assert take_in(twelve, rows_told) == 2
    again = from_json("".join(as_json(twelve, ("weighing",))))
    assert take_in(twelve, again, odd) == 2  # what a log has told was questioned there


def test_what_is_still_to_come_is_not_entered(twelve: Log) -> None:
    with pytest.raises(BadShop, match="2031-01-01 is still to come"):
        twelve.weigh(1, Weighing("shaped", Reading(0.045)), done="2031-01-01")


def test_lures_are_begun_with_every_fault_told(twelve: Log) -> None:
    with pytest.raises(BadShop) as found:
        twelve.add_lures("Reed Gate glider", 0, board="B77")
    assert "the count: 0" in str(found.value)
    assert "none is called 'B77'" in str(found.value)
