"""What mends a lure, asked of a file and of the log: the words, the rows by their names, and what is refused."""

import json
import re
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.errors import Refusal

ROOT = Path(__file__).parents[2]
GLIDER = "Reed Gate glider"


def run(*words: str) -> str:
    result = CliRunner(env={"COLUMNS": "120", "NO_COLOR": "1"}).invoke(app, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def refused(*words: str) -> str:
    with pytest.raises(Refusal) as found:
        CliRunner().invoke(app, list(words), catch_exceptions=False)
    return str(found.value)


@pytest.fixture
def desk(laid: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shop of one's own with a glider that was leaded and lay nose-down, and hooks in stock."""
    shutil.copytree(laid, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("GUDGEON_SHOP", raising=False)
    return tmp_path


@pytest.fixture(scope="module")
def laid(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """That shop, entered once."""
    folder = tmp_path_factory.mktemp("laid")
    for name in ("glider.toml", "diver.toml"):
        shutil.copy(ROOT / "examples" / name, folder)
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(folder)
        patch.delenv("GUDGEON_SHOP", raising=False)
        _enter()
    return folder


def _enter() -> None:
    run("log", "start")
    run("log", "add", "pattern", "glider.toml")
    run("log", "add", "lure", GLIDER, "--count", "2")
    for name, mass in (("2 treble", "2.3 g"), ("1/0 treble {x}", "4.4 g")):
        run("log", "add", "stock", name, "--what", "hook", "--each", mass)
    for words in (
        ("weigh", "1", "48.9 g", "--stage", "shaped"), ("jug", "1", "110.2 g", "--stage", "sealed", "--water", "18 C"),
        ("ballast", "1", "19 g", "--hole", "front"), ("ballast", "1", "15 g", "--hole", "behind front hook"),
        ("ballast", "1", "14.9 g", "--hole", "rear"), ("fit", "1", "3.3 g", "--part", "front hook"),
        ("fit", "1", "3.3 g", "--part", "rear hook"), ("drop", "1", "--distance", "4 ft", "--time", "12.4 s"),
        ("lies", "1", "8 deg nose-down", "--leans", "3 deg", "--state", "falling"),
    ):  # fmt: skip
        run("log", *words)


def told() -> list[re.Pattern[str]]:
    """The names of docs/rows.md."""
    page = (ROOT / "docs" / "rows.md").read_text(encoding="utf-8")
    part = page.partition("# The rows of `gudgeon mend --json`")[2].partition("\n# ")[0]
    names = re.findall(r"`(mend[a-z_.<>]*)`", "".join(line for line in part.splitlines(True) if line.startswith("|")))
    return [re.compile(r"\d+".join(map(re.escape, re.split(r"<\w+>", name)))) for name in names]


def test_the_log_s_own_lure_is_mended_by_what_was_seen_last(desk: Path) -> None:
    said = run("log", "mend", "1")
    assert said.startswith("Nose-down, 8°: front hook: 2 treble, in stock, 2.3 g in place of 3.3 g; rear hook: ")
    seen = {row["name"]: row["value"] for row in json.loads(run("log", "mend", "1", "--json"))["rows"]}
    assert seen["mend.seen.rate"] == pytest.approx(12.4 / 4.0)  # as it was timed, and not as it is weighed up
    assert seen["mend.seen.pitch"] == pytest.approx(-8.0)
    assert abs(seen["mend.weights.pitch"] - seen["mend.seen.pitch"]) > 0.1
    assert "as much heavier" not in said  # hooks there are, so none is asked for that there is not
    assert "  lay, nose-up" not in said.split("By the model")[1]
    assert "Front hook: 2 treble, in stock, 2.3 g in place of 3.3 g; rear hook: 1/0 treble {x}, in stock, 4.4 g" in said
    assert "The log says of this besides: leans. Mend that after it, with --seen" in said
    assert "sinks at                                3." in said
    assert "no ballast is told of" not in said.lower()
    other = run("log", "mend", "1", "--seen", "leans", "--by", "5 deg")
    assert other.startswith("Leans, 5° to the right: ")
    assert "besides: nose-down" in other


def test_a_file_is_mended_with_the_ballast_it_asks_for(desk: Path) -> None:
    said = run("mend", "glider.toml", "--seen", "Nose Down", "--by", "8 deg nose-down", "--units", "inch")
    assert said.startswith("Nose-down, 8°: front hook 1.3 g lighter")
    assert "No ballast is told of: it is taken to be in as asked for" in said
    assert "on the belly 6 5/32 in from the nose" in said


def test_every_row_stands_in_the_docs_and_every_name_there_is_given(
    desk: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("gudgeon.answers.tow_runs.STARTS", 2)  # enough to go the whole way
    monkeypatch.setattr("gudgeon.answers.tow_fixes.constant_sets", lambda design: [{}])
    given: set[str] = set()
    asked = (
        ("log", "mend", "1"), ("log", "mend", "1", "--seen", "sinks fast", "--by", "1.2 s/ft"),
        ("mend", "glider.toml", "--seen", "floats", "--in", "sea"), ("mend", "diver.toml", "--seen", "spins"),
        ("mend", "diver.toml", "--seen", "rolls", "--by", "2 m/s"), ("mend", "diver.toml", "--seen", "pin seizes"),
        ("mend", "glider.toml", "--seen", "leans", "--by", "4 deg"),
    )  # fmt: skip
    for words in asked:
        found = json.loads(run(*words, "--json"))
        names = [row["name"] for row in found["rows"]]
        assert len(names) == len(set(names))
        assert set(found) == {"rows", "headline", "warnings"} | ({"design", "stamp"} if words[0] == "mend" else set())
        given |= set(names)
    forms = told()
    assert [name for name in given if not any(form.fullmatch(name) for form in forms)] == []
    assert [form.pattern for form in forms if not any(form.fullmatch(name) for name in given)] == []


def test_what_cannot_be_read_is_refused_all_at_once(desk: Path) -> None:
    assert "--seen: say what was seen" in refused("mend", "glider.toml")
    assert "'explodes' is nothing the ladder knows" in refused("mend", "glider.toml", "--seen", "explodes")
    assert "--by: " in refused("mend", "glider.toml", "--seen", "leans", "--by", "3 g")
    assert "leave it out" in refused("mend", "glider.toml", "--seen", "pin seizes", "--by", "3 deg")
    assert "say fresh, brackish or sea" in refused("mend", "glider.toml", "--seen", "floats", "--in", "beer")
    assert "say what was seen" in refused("log", "mend", "2")
    assert "no such lure" in refused("log", "mend", "9", "--seen", "leans")


@pytest.mark.parametrize(
    ("entry", "symptom"),
    [(("lies", "2", "7 deg", "--state", "afloat"), "nose-up"), (("lies", "2", "1 deg", "--leans", "-3 deg"), "leans"),
     (("drop", "2", "--distance", "4 ft", "--time", "5 s"), "sinks fast"),
     (("drop", "2", "--distance", "4 ft", "--time", "30 s"), "sinks slow"),
     (("drop", "2", "--distance", "4 ft", "--time", "30 s", "--rises"), "floats"),
     (("tow", "2", "--speed", "2 kn", "--seen", "a bit lively, pin seizes; else well"), "pin seizes")],
)  # fmt: skip
def test_a_symptom_is_read_off_the_log(desk: Path, entry: tuple[str, ...], symptom: str) -> None:
    run("log", *entry)
    found = json.loads(run("log", "mend", "2", "--json"))
    assert found["rows"][0] == {"name": "mend.symptom", "label": "seen", "value": symptom, "unit": "", "low": None,
                                "high": None}  # fmt: skip


def test_a_lure_that_does_as_it_should_has_nothing_to_mend(desk: Path) -> None:
    run("log", "drop", "2", "--distance", "4 ft", "--time", "12 s")
    run("log", "lies", "2", "2 deg nose-down", "--state", "falling")
    assert "nothing that is to be mended" in refused("log", "mend", "2")
