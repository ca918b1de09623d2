"""Answers kept in the log: told again as they were told, whatever came after."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.errors import BadShop, Refusal
from gudgeon.shop.kept import KeptRow, KeptSection, KeptTold, kept_text, told_in
from gudgeon.shop.log import Log
from gudgeon.shop.records import Answer

EXAMPLES = Path(__file__).parents[2] / "examples"
ROW = KeptRow("whole.excess", "heavy by", 0.31, "g", 0.1, 0.5, "0.3 ± 0.2 g")
TOLD = KeptTold((("watch", "<b>it may</b> =float"), ("note", "x")), (KeptSection("In the water", (ROW,)),))
GLIDER = "Reed Gate glider"


def run(*words: str) -> str:
    result = CliRunner(env={"COLUMNS": "100", "NO_COLOR": "1"}).invoke(app, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def test_what_is_kept_comes_back_the_same() -> None:
    words = KeptRow("a", "b", "words", "", None, None, "words")
    told = KeptTold((), (KeptSection("", (ROW, words)), KeptSection("Empty", ())))
    assert told_in(kept_text(told)) == told
    assert told_in(kept_text(TOLD)) == TOLD


@pytest.mark.parametrize(
    "text",
    ["", "[]", "{}", '{"warnings": [["loud", "x"]], "sections": []}', '{"warnings": [["note", 3]], "sections": []}',
     '{"warnings": [], "sections": [{"title": "x", "rows": [{"name": "a"}]}]}',
     kept_text(TOLD).replace("0.31", "true"), kept_text(TOLD).replace("0.31", "1e999"),
     kept_text(TOLD).replace("0.31", "NaN"), kept_text(TOLD).replace('"heavy by"', "[]"), "[" * 5000],
)  # fmt: skip
def test_what_is_no_kept_answer_is_refused(twelve: Log, text: str) -> None:
    with pytest.raises(BadShop, match="the answer cannot be read"):
        told_in(text)
    with pytest.raises(BadShop):
        twelve.keep(1, Answer("check", "9ca25022", "Sinks.", text))
    assert not twelve.lure(1).of(Answer)


def test_words_that_steer_a_terminal_are_not_kept(twelve: Log) -> None:
    told = KeptTold((("note", "\x1b[31mred"),), ())
    with pytest.raises(BadShop, match="a character that does not print"):
        twelve.keep(1, Answer("check", "9ca25022", "Sinks.", kept_text(told)))


def test_a_kept_answer_is_struck_out_and_never_corrected(twelve: Log) -> None:
    number = twelve.keep(1, Answer("check", "9ca25022", "Sinks.", kept_text(TOLD)))
    with pytest.raises(BadShop, match="headline cannot change"):
        twelve.correct(number, {"headline": "Floats."}, "nicer")
    twelve.strike(number, "of another lure")
    assert twelve.lure(1).of(Answer) == ()


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    text = (EXAMPLES / "glider.toml").read_text(encoding="utf-8")
    (tmp_path / "glider.toml").write_text(text, encoding="utf-8")
    (tmp_path / "other.toml").write_text(f"{text}\n# another text", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("GUDGEON_SHOP", raising=False)
    run("log", "start")
    run("log", "add", "pattern", "glider.toml")
    run("log", "add", "lure", GLIDER)
    run("log", "weigh", "1", "51.0 g", "--stage", "shaped")
    return tmp_path


def test_a_check_that_is_kept_is_told_again_when_the_lure_has_changed(desk: Path) -> None:
    first = json.loads(run("check", "glider.toml", "--lure", "1", "--json"))
    kept = json.loads(run("check", "glider.toml", "--lure", "1", "--keep", "--json"))
    assert kept["rows"] == first["rows"]
    assert kept["warnings"] == [*first["warnings"], "Kept as entry 4: gudgeon log answer 4 tells it again"]
    run("log", "weigh", "1", "56.0 g", "--stage", "sealed", "--sure")
    assert json.loads(run("check", "glider.toml", "--lure", "1", "--json"))["rows"] != first["rows"]
    again = json.loads(run("log", "answer", "4", "--json"))
    assert again["rows"] == first["rows"]
    assert again["headline"] == first["headline"]
    assert again["warnings"][:-1] == first["warnings"]
    assert "check of lure 1, " in again["warnings"][-1]
    assert "design 9ca25022" in again["warnings"][-1]
    said, shown = run("log", "answer", "4"), run("log", "show", "1")
    assert "In the water, all on" in said or "In the water" in said
    assert first["headline"] in " ".join(shown.split())
    assert "Answers kept" in shown
    assert "question check, stamp 9ca25022" in run("log", "history", "1")


def test_the_text_is_kept_where_it_is_not_the_lure_s_own(desk: Path) -> None:
    run("check", "glider.toml", "--lure", "1", "--keep")
    run("check", "other.toml", "--lure", "1", "--keep", "--units", "inch")
    with Log.look(desk / "shop") as log:
        own, other = (answer for _, answer in log.lure(1).of(Answer))
    assert own.design == ""
    assert other.design == (desk / "other.toml").read_text(encoding="utf-8")
    assert other.stamp != own.stamp == "9ca25022"
    assert " in" in run("log", "answer", "5")


def test_mending_is_kept_too(desk: Path) -> None:
    said = run("log", "mend", "1", "--seen", "nose-down", "--by", "6 deg", "--keep")
    assert "Kept as entry 4: gudgeon log answer 4 tells it again" in said
    again = run("log", "answer", "4")
    assert again.splitlines()[0] == said.splitlines()[0]
    assert "1. Hooks: mends it" in again


def test_keeping_needs_a_lure_and_an_entry_that_keeps(desk: Path) -> None:
    for words, said in ((("check", "glider.toml", "--keep"), "with --lure"),
                        (("log", "answer", "3"), "keeps no answer"), (("log", "answer", "99"), "no such entry")):
        with pytest.raises(Refusal) as found:
            CliRunner().invoke(app, list(words), catch_exceptions=False)
        assert said in str(found.value)
