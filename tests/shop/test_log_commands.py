"""The commands on the log, run as a maker runs them; every example in their help, and what they print."""

import json
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from typer.main import get_command
from typer.testing import CliRunner

from gudgeon.cli.main import app, main
from gudgeon.errors import Refusal

EXAMPLES = Path(__file__).parents[2] / "examples"
DOCS = Path(__file__).parents[2] / "docs"
GLIDER = "Reed Gate glider"


def run(*words: str) -> str:
    """What a command prints."""
    result = CliRunner(env={"COLUMNS": "120", "NO_COLOR": "1"}).invoke(app, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def refused(*words: str) -> str:
    """What a command refuses with."""
    with pytest.raises(Refusal) as found:
        CliRunner().invoke(app, list(words), catch_exceptions=False)
    return str(found.value)


def rows(*words: str) -> dict[str, dict[str, object]]:
    found = json.loads(run(*words, "--json"))
    assert set(found) >= {"rows", "headline", "warnings"}
    named = {row["name"]: row for row in found["rows"]}
    assert len(named) == len(found["rows"])
    return named


@pytest.fixture(scope="module")
def laid(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the examples, a picture, a table, a backup, and a shop with two gliders begun and one weighed."""
    folder = tmp_path_factory.mktemp("laid")
    (folder / "examples").mkdir()
    for path in EXAMPLES.glob("*.toml"):
        (folder / "examples" / path.name).write_bytes(path.read_bytes())
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        patch.delenv("GUDGEON_SHOP", raising=False)
        run("log", "start", "shop")
        run("log", "add", "pattern", "examples/glider.toml")
        run("log", "add", "lure", GLIDER, "--count", "2")
        run("log", "weigh", "2", "51.0 g", "--stage", "shaped")  # entry 4
        run("log", "backup", "shop-backup.zip")
    (folder / "side.jpg").write_bytes(b"\xff\xd8\xff" + bytes(40))
    (folder / "weights.csv").write_text("kind,lure,stage,mass\nweighing,1,shaped,50.2 g\n")
    return folder


@pytest.fixture
def desk(laid: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """That folder, one's own to work in."""
    shutil.copytree(laid, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("GUDGEON_SHOP", raising=False)
    return tmp_path


def commands() -> Iterator[tuple[str, str]]:
    """Every command on the log, and its help as it is written."""
    log = get_command(app).commands["log"]  # type: ignore[attr-defined]
    for name, command in log.commands.items():
        if hasattr(command, "commands"):
            yield from ((f"{name} {inner}", one.help) for inner, one in command.commands.items())
        yield name, command.help


HELPS = dict(commands())


@pytest.mark.parametrize("name", sorted(HELPS))
def test_every_command_has_help_with_an_example_that_runs_and_can_be_copied(name: str, desk: Path) -> None:
    written = HELPS[name]
    (example,) = re.findall(r"gudgeon (?:.*\\\n)*.*", written)
    words = shlex.split(example.replace("\\\n", " "))
    assert words[:2] == ["gudgeon", "log"]
    assert " ".join(words[2:]).startswith(name)
    if name in ("add pattern", "add"):
        run("log", "start", "empty")
        words += ["--shop", "empty"]
    if name == "twins":  # a lure that nothing was measured of has no twin
        run("log", "weigh", "1", "50.2 g", "--stage", "shaped")
    if name == "answer":
        run("check", "examples/glider.toml", "--lure", "2", "--keep")  # entry 5
    run(*words[1:])
    shown = [line.strip() for line in run("log", *name.split(), "--help").splitlines()]
    assert [line.strip() for line in example.splitlines() if line.strip() not in shown] == []


@pytest.mark.parametrize("name", sorted(set(HELPS) - {"add"}))
def test_every_command_answers_programs_with_one_object(name: str, desk: Path) -> None:
    example = re.findall(r"gudgeon (?:.*\\\n)*.*", HELPS[name])[0]
    words = shlex.split(example.replace("\\\n", " "))[1:]
    if name == "add pattern":
        run("log", "start", "empty")
        words += ["--shop", "empty"]
    if name == "twins":
        run("log", "weigh", "1", "50.2 g", "--stage", "shaped")
    if name == "answer":
        run("check", "examples/glider.toml", "--lure", "2", "--keep")  # entry 5
    found = json.loads(run(*words, "--json"))
    assert {"rows", "headline", "warnings"} <= set(found)
    for row in found["rows"]:
        assert set(row) == {"name", "label", "value", "unit", "low", "high"}


def test_the_readme_and_docs_name_every_command(desk: Path) -> None:
    page = (DOCS / "shop-log.md").read_text(encoding="utf-8")
    for name in HELPS:
        assert f"gudgeon log {name}" in page, name


# --- what is entered is told, and questioned ---


def test_an_entry_is_told_with_its_number(desk: Path) -> None:
    assert run("log", "weigh", "1", "17.1 g", "--stage", "sealed", "--of", "rear") == (
        "Entry 5: weighing of lure 1, stage sealed, mass 17.10 g, piece rear.\n")  # fmt: skip
    assert rows("log", "weigh", "1", "50.9 g", "--stage", "shaped")["entry"]["value"] == 6


def test_a_slip_is_questioned_and_can_be_entered_all_the_same(desk: Path) -> None:
    words = refused("log", "weigh", "1", "1.8 oz", "--stage", "sealed", "--of", "rear")
    assert words.startswith("questioned, and not entered:\n  lure 1: Rear 51.03 g: drawing")
    assert "That is what the whole weighs: whole for part?" in words
    assert "--sure: enters it as it stands" in words
    assert "Weights" not in run("log", "show", "1")
    said = run("log", "weigh", "1", "1.8 oz", "--stage", "sealed", "--of", "rear", "--sure")
    assert said.startswith("Entry 5: weighing of lure 1")
    assert "! watch: Rear 51.03 g: drawing" in said
    assert "sealed, rear" in run("log", "show", "1")


def test_a_correction_is_questioned_too_but_not_against_what_it_corrects(desk: Path) -> None:
    assert "decimal point" in refused("log", "correct", "4", "--set", "mass = 5.1 g", "--why", "misread")
    assert run("log", "correct", "4", "--set", "mass = 50.4 g", "--why", "misread") == (
        "Entry 5: weighing of lure 2, stage shaped, mass 50.40 g, in the place of entry 4.\n")  # fmt: skip
    assert "it was corrected already, by entry 5" in refused("log", "correct", "4", "--void", "--why", "x")
    assert run("log", "correct", "5", "--void", "--why", "other lure") == (
        "Entry 6: weighing of lure 2, strikes out entry 5.\n")  # fmt: skip
    history = run("log", "history", "2")
    assert "strikes out entry 5 (other lure)" in history
    assert "corrects entry 4 (misread); corrected by entry 6" in history


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--set", "weight = 5 g"), "a weighing has no 'weight'; it has stage, mass, piece, fitted"),
        (("--set", "mass = 5"), "'5' needs a unit"),
        (("--set", "mass"), "is not read"),
        (("--set", "mass ="), "mass cannot be left empty"),
        (("--set", "stage = soaked"), "'soaked': say one of"),
        ((), "say what it should be"),
        (("--set", "mass = 5 g", "--void"), "or that it does not count"),
    ],
)
def test_a_correction_that_cannot_be_read_says_what_would_do(desk: Path, words: tuple[str, ...], said: str) -> None:
    assert said in refused("log", "correct", "4", "--why", "misread", *words)


def test_a_lure_can_be_corrected_to_another_board_and_pattern(desk: Path) -> None:
    run("log", "add", "board", "B7", "--wood", "poplar")
    run("log", "correct", "2", "--set", "board = B7", "--why", "noted late")
    assert "out of B7, poplar" in run("log", "show", "1")
    assert "none is called 'B8'" in refused("log", "correct", "6", "--set", "board = B8", "--why", "x")
    run("log", "correct", "6", "--set", f"pattern = {GLIDER}, 1", "--set", "run = 3", "--why", "another run")
    assert "run 3" in run("log", "show", "1")


def test_all_that_is_wrong_with_a_command_is_told_at_once(desk: Path) -> None:
    words = refused("log", "drop", "1", "--distance", "4", "--time", "12", "--stage", "soaked", "--water", "hot")
    for place in ("--distance", "--time", "--stage", "--water"):
        assert f"  {place}: " in words


def test_words_steer_neither_the_terminal_nor_the_layout(desk: Path) -> None:
    words = "[bold red]knot[/] {mass} <b>x</b> :smile: 100%"
    run("log", "note", "1", words)
    run("log", "change", "1", words, "--why", words)
    assert run("log", "show", "1").count(words) == 3
    assert words in run("log", "history", "1")
    assert rows("log", "show", "1")["note.5"]["value"] == words
    assert "a character that does not print" in refused("log", "note", "1", "\x1b]0;title\x07")


# --- what is asked ---


def test_a_card_shows_everything_with_its_entry(desk: Path) -> None:
    for words in (
        ("jug", "1", "109.6 g", "--stage", "sealed", "--water", "18 C"),
        ("ballast", "1", "12.4 g", "--hole", "front", "--from-nose", "1 1/2 in", "--depth", "5/8 in"),
        ("fit", "1", "3.4 g", "--part", "front hook"),
        ("drop", "1", "--distance", "4 ft", "--time", "12.4, 12.1, 12.6 s"),
        ("lies", "1", "4 deg nose-down", "--leans", "-2 deg", "--state", "falling"),
        ("tow", "1", "--speed", "2 kn", "--beats", "180 beats/min", "--depth", "4 ft", "--stand-in",
         "front hook, 3.4 g"),
        ("change", "1", "rear hook one size up", "--why", "nose-down"), ("note", "1", "knot"),
        ("photo", "1", "side.jpg", "--shows", "left side"),
    ):  # fmt: skip
        run("log", *words)
    found = rows("log", "show", "1")
    assert {name: found[name]["value"] for name in ("lure.pattern", "lure.version", "note.12")} == {
        "lure.pattern": GLIDER, "lure.version": 1, "note.12": "knot"}  # fmt: skip
    for name, value in (
        ("jug.sealed.5", 109.6), ("in.6.mass", 12.4), ("in.6.at", 38.1), ("in.6.depth", 15.875), ("in.total", 12.4),
        ("part.front_hook.7", 3.4), ("drop.8.rate", 12.3667 / 4), ("lies.9.pitch", -4), ("lies.9.leans", -2),
        ("tow.10.speed", 1.0289), ("tow.10.beats", 3), ("tow.10.depth", 1.2192),
    ):  # fmt: skip
        assert found[name]["value"] == pytest.approx(value, rel=1e-4), name
    assert "left side: photos/" in str(found["photo.13"]["value"])
    inch = run("log", "show", "1", "--units", "inch")
    assert "1 1/2 in" in inch
    assert "4.0" in inch
    text = run("log", "show", "1")
    for row in found.values():
        if row["unit"] == "":
            assert str(row["value"]).split(".0")[0] in text


def test_lists_are_lines_for_people_and_numbers_for_programs(desk: Path) -> None:
    assert run("log", "list").splitlines() == [
        "2 lures in the log.", "", "2  Reed Gate glider 1, run 1: shaped 51.00 g",
        "1  Reed Gate glider 1, run 1: begun",
    ]  # fmt: skip
    found = rows("log", "list")
    assert (found["lure.2.mass"]["value"], found["lure.1.stage"]["value"]) == (pytest.approx(51.0), "begun")
    assert run("log", "list", "--limit", "1").startswith("1 of 2 lures, the newest first; the next with --before 2.")
    assert run("log", "list", "--pattern", "another").startswith("0 lures of that kind in the log.")
    assert "Reed Gate glider" in run("log", "list", "patterns")
    assert "0 in the log." in run("log", "list", "boards")
    assert "say lures, patterns, boards or stock" in refused("log", "list", "hooks")


def test_a_stamp_on_a_sheet_finds_its_design_and_lures(desk: Path) -> None:
    stamp = str(rows("log", "show", "1")["lure.stamp"]["value"])
    said = run("log", "find", stamp, "--out", "found.toml")
    assert said.startswith(f"{stamp} is Reed Gate glider, version 1.")
    assert "lures 1 to 2" in said
    assert (desk / "found.toml").read_bytes() == (desk / "examples" / "glider.toml").read_bytes()
    assert "no pattern has the stamp 0000" in refused("log", "find", "0000")
    assert "is no stamp" in refused("log", "find", "%")
    assert "no pattern has the stamp 0000" in refused("log", "find", "0000", "--out", "other.toml")
    assert not (desk / "other.toml").exists()


def test_a_check_uses_what_was_measured_of_a_lure(desk: Path) -> None:
    run("log", "jug", "2", "109.6 g", "--stage", "sealed")
    plain = rows("check", "examples/glider.toml")
    found = rows("check", "examples/glider.toml", "--lure", "2")
    assert set(found) - set(plain) >= {"log.lure", "log.used", "log.held", "log.missing", "log.needed.shaped",
                                       "log.needed.sealed"}  # fmt: skip
    assert found["wood.blank"]["value"] == pytest.approx(51.0, abs=0.05)
    assert found["log.used"]["value"] == "weights: shaped; jug: sealed"
    assert found["log.missing"]["value"] == pytest.approx(found["ballast.needed"]["value"])
    text = run("check", "examples/glider.toml", "--lure", "2")
    assert "From the log" in text
    assert "ballast still missing" in text
    assert "no such lure" in refused("check", "examples/glider.toml", "--lure", "9")


def test_a_run_tells_lead_and_bore_for_each_blank(desk: Path) -> None:
    run("log", "weigh", "1", "49.0 g", "--stage", "shaped")
    found = rows("log", "batch", GLIDER, "--bit", "7/16 in", "--holes", "3")
    assert {"batch.1.lead", "batch.1.depth", "batch.2.lead", "run.at.shaped", "run.shaped.mean"} <= set(found)
    assert found["run.shaped.mean"]["value"] == pytest.approx(50.0)
    assert "one hole at least" in refused("log", "batch", GLIDER, "--holes", "0")


def test_the_shop_s_folder_may_stand_in_the_environment(desk: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "there is no such folder" in refused("log", "list", "--shop", "elsewhere")
    monkeypatch.setenv("GUDGEON_SHOP", "elsewhere")
    run("log", "start")
    assert run("log", "list").startswith("0 lures in the log.")


# --- files ---


def test_files_go_out_and_come_in(desk: Path) -> None:
    for name in ("log.csv", "log.json"):
        run("log", "export", name)
        shop = f"from {name}"
        run("log", "start", shop)
        assert run("log", "import", name, "--shop", shop) == f"4 entries from {name} are in the log.\n"
        run("log", "export", f"again-{name}", "--shop", shop)
        assert (desk / f"again-{name}").read_bytes() == (desk / name).read_bytes()
    run("log", "export", "weights-only.csv", "--kind", "weighing")
    table = (desk / "weights-only.csv").read_text(encoding="utf-8-sig")
    assert table.startswith("entry,kind,lure,done")
    assert len(table.splitlines()) == 2
    assert "end it in .csv or .json" in refused("log", "export", "log.txt")
    assert "'weight' is none" in refused("log", "export", "x.csv", "--kind", "weight")
    assert "it is there already" in refused("log", "export", "log.csv")
    assert "will not open it" in refused("log", "import", "nowhere.csv")
    (desk / "binary.csv").write_bytes(b"\xff\xfe\x00")
    assert "it is not plain text" in refused("log", "import", "binary.csv")


def test_a_backup_is_restored_in_another_folder_or_in_the_place_of_the_old(desk: Path) -> None:
    assert run("log", "restore", "shop-backup.zip", "--shop", "again") == "again is restored: 4 entries, 0 pictures.\n"
    assert "there is a log already" in refused("log", "restore", "shop-backup.zip")
    said = run("log", "restore", "shop-backup.zip", "--replace")
    assert "The log that was there is now set-aside-" in said


# --- names of rows ---


def test_the_names_of_the_log_s_rows_are_told(desk: Path) -> None:
    """Every name that the commands give stands in docs/rows.md, and every name there is given."""
    page = (DOCS / "rows.md").read_text(encoding="utf-8")
    page = page.partition("# The rows of the shop's log")[2].partition("\n# ")[0]
    told = re.findall(r"`([a-z_.<>]+)`", "".join(line for line in page.splitlines(True) if line.startswith("| `")))
    run("log", "add", "board", "B7", "--wood", "poplar", "--density", "0.46 g/cm3 ± 2 %")
    run("log", "correct", "2", "--set", "board = B7", "--why", "noted late")
    test_a_card_shows_everything_with_its_entry_again(desk)
    run("log", "add", "lure", GLIDER, "--count", "2", "--board", "B7", "--remark", "dry wood")
    for number in ("3", "4"):
        run("log", "weigh", number, f"5{number}.0 g", "--stage", "shaped", "--sure")
    run("log", "weigh", "1", "49.0 g", "--stage", "shaped")
    run("log", "weigh", "1", "16.4 g", "--stage", "sealed", "--of", "rear", "--sure")
    run("log", "correct", run("log", "note", "2", "x").split(":")[0].split()[1], "--void", "--why", "x")
    given: set[str] = set()
    run("check", "examples/glider.toml", "--lure", "1", "--keep")
    for words in (("show", "1"), ("show", "3"), ("list",), ("list", "boards"), ("history",), ("find", "9ca2"),
                  ("batch", GLIDER), ("note", "1", "x")):  # fmt: skip
        given |= set(rows("log", *words))
    given |= {name for name in rows("check", "examples/glider.toml", "--lure", "1") if name.startswith("log.")}
    forms = {name: re.compile(r"[a-z0-9_]+(?:\.[a-z0-9_]+)*".join(map(re.escape, re.split(r"<\w+>", name))))
             for name in told}  # fmt: skip
    untold = {name for name in given if not name.startswith("batch.") and not any(
        form.fullmatch(name) for form in forms.values())}  # fmt: skip
    assert untold == set()
    assert [name for name, form in forms.items() if not any(form.fullmatch(one) for one in given)] == []


def test_a_card_shows_everything_with_its_entry_again(desk: Path) -> None:
    """One of each kind of entry, as the names of rows need them."""
    for words in (
        ("jug", "1", "109.6 g", "--stage", "sealed"),
        ("ballast", "1", "12.4 g", "--hole", "front", "--from-nose", "38 mm", "--depth", "20 mm", "--bore", "11 mm"),
        ("fit", "1", "3.4 g", "--part", "front hook"),
        ("drop", "1", "--distance", "4 ft", "--time", "12.4, 12.1, 12.6 s"),
        ("lies", "1", "4 deg nose-down", "--leans", "-2 deg"),
        ("tow", "1", "--speed", "2 kn", "--beats", "3 beats/s", "--roll", "10 deg", "--depth", "4 ft", "--stand-in",
         "front hook, 3.4 g", "--seen", "even"),
        ("change", "1", "rear hook one size up", "--why", "nose-down"), ("note", "1", "knot"),
        ("photo", "1", "side.jpg"),
    ):  # fmt: skip
        assert run("log", *words).startswith("Entry ")


def test_slips_of_the_hand_have_their_next_step(desk: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (desk / "slip.csv").write_text("kind,lure,stage,mass\nweighing,1,shaped,1 kg\n", encoding="utf-8")
    assert "row 2: Whole 1000.0 g" in refused("log", "import", "slip.csv")
    assert run("log", "import", "slip.csv", "--sure") == "1 entry from slip.csv is in the log.\n"
    assert "no pattern has the stamp zzz" in refused("log", "find", "zzz")
    assert "Grams, not ounces: 6.4 g?" in refused("log", "ballast", "2", "6.4 oz", "--hole", "front")
    time = ("--distance", "4 ft", "--time", "12.4, 121, 12.6 s")
    assert "The decimal point: 12.1 s?" in refused("log", "drop", "2", *time)
    assert "watch: 121 s" in run("log", "drop", "2", *time, "--sure")
    told = run("log", "correct", "6", "--set", "times = 12.4, 12.1, 12.6 s", "--why", "misread")
    assert "times 12.4, 12.1, 12.6 s" in told
    assert "--void, then enter it anew of lure 1" in refused("log", "correct", "7", "--set", "lure = 1", "--why", "x")
    assert "write it like \"4 deg nose-down\"" in refused("log", "lies", "2", "nose down 4")
    result = CliRunner().invoke(app, ["log", "weigh", "abc", "3 g", "--stage", "shaped"])
    assert result.exit_code == 2
    assert "'abc' is no number of the log" in result.output
    monkeypatch.setattr("sys.argv", ["gudgeon", "log", "lies", "2", "-4 deg"])
    with pytest.raises(SystemExit, match="2"):
        main()
    monkeypatch.setattr("sys.argv", ["gudgeon", "log", "lies", "2", "0 deg", "--leans", "-2 deg"])
    with pytest.raises(SystemExit, match="0"):
        main()


def test_a_long_entry_stands_beside_its_number_and_a_number_with_its_unit(desk: Path) -> None:
    run("log", "ballast", "2", "6.4 g", "--hole", "front", "--depth", "11 mm", "--bore", "7/16 in")
    lines = CliRunner(env={"COLUMNS": "72", "NO_COLOR": "1"}).invoke(app, ["log", "history"]).output.splitlines()
    assert lines[2].startswith("5  20")
    assert lines[3].startswith("   ")
    assert not any(line.endswith(("6.40", "11.0", "11.1")) for line in lines)


@pytest.mark.parametrize("words", ["list", "list boards", "history", "show 2"])
def test_what_only_reads_the_log_loads_no_arrays(desk: Path, words: str) -> None:
    """They load in longer than a list takes to find and print; a fresh process, since this one has them."""
    run("log", "drop", "2", "--distance", "4 ft", "--time", "12.4 s", "--stage", "rigged")
    asked = f"""
import sys
from gudgeon.cli.main import app
app({["log", *shlex.split(words), "--shop", str(desk / "shop")]!r}, standalone_mode=False)
print(sorted({{"numpy", "scipy", "numba"}} & set(sys.modules)))
"""
    told = subprocess.run([sys.executable, "-c", asked], check=True, capture_output=True, text=True).stdout
    assert told.splitlines()[-1] == "[]"
    assert len(told.splitlines()) > 1


def test_stock_in_ounces_for_grams_is_questioned_and_a_light_board_is_told(desk: Path) -> None:
    ounces = ("log", "add", "stock", "2/0 treble", "--what", "hook", "--each", "6.1 oz")
    said = refused(*ounces)
    assert "where a treble of that size weighs about 4.9 g: 6.1 g and not ounces?" in said
    assert "each 172.9 ± 1.4 g" in run(*ounces, "--sure")
    run("log", "add", "board", "B99", "--wood", "poplar", "--density", "0.30 g/cm3")
    assert "lighter than the wood that" in run("log", "add", "lure", "reed gate GLIDER", "--board", "B99")
