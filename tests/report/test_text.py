import json
import sys

import pytest
from rich.cells import cell_len

from gudgeon.physics.spread import around
from gudgeon.report.rows import Row, Shop, row, words_row
from gudgeon.report.text import Told, show, wants_color
from gudgeon.units import Measure

ROWS = (
    row("a.mass", "lead inside", around(0.0124, 0.0006), Measure.MASS, Shop.METRIC),
    row("a.total", "finished weight", around(0.137, 0.00005), Measure.MASS, Shop.METRIC),
    row("a.count", "shot", 3.0, Measure.COUNT, Shop.METRIC),
    words_row("a.class", "class", "slow sinker"),
)


@pytest.fixture(autouse=True)
def plain_surroundings(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("NO_COLOR", "FORCE_COLOR", "COLUMNS"):
        monkeypatch.delenv(name, raising=False)


def shown(capsys: pytest.CaptureFixture[str], rows: tuple[Row, ...] = ROWS, warnings: tuple[str | Told, ...] = (),
          as_json: bool = False, color: str = "auto") -> str:  # fmt: skip
    show(rows, "Put 12.4 g of lead inside.", warnings, as_json, color=color)
    return capsys.readouterr().out


def test_the_sentence_leads_then_what_is_wrong_then_figures_under_each_others_points(
    capsys: pytest.CaptureFixture[str],
) -> None:
    lines = shown(capsys, warnings=("It floats.", Told("wrong", "It sinks."))).splitlines()
    assert lines[0] == "Put 12.4 g of lead inside."
    assert lines[1:3] == ["! watch: It floats.", "x wrong: It sinks."]
    assert lines[3] == ""
    points = {line.index(".") for line in lines[4:6]}
    spreads = {line.index("±") for line in lines[4:6]}
    assert len(points) == len(spreads) == 1
    assert lines[-1].split("  ")[-1].strip() == "slow sinker"


def test_a_pipe_gets_no_colour_and_no_boxes(capsys: pytest.CaptureFixture[str]) -> None:
    out = shown(capsys, warnings=("It floats.",))
    assert "\x1b" not in out
    assert not set(out) & set("│─┌┐└┘|+")
    assert all(len(line) <= 80 for line in out.splitlines())


def test_colour_survives_a_pipe_when_asked_and_lies_on_the_quiet_part_alone(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    always = shown(capsys, warnings=("It floats.",), color="always")
    assert "\x1b[1mPut 12.4 g" in always
    assert "! watch: \x1b[0mIt floats." in always
    assert "\x1b[0m 12.4" in always  # the figure itself is not dimmed
    monkeypatch.setenv("FORCE_COLOR", "1")
    assert "\x1b" in shown(capsys)
    assert "\x1b" not in shown(capsys, color="never")


def test_whether_to_colour(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    assert wants_color("auto")
    monkeypatch.setenv("NO_COLOR", "1")
    assert not wants_color("auto")
    assert wants_color("always")
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("FORCE_COLOR", "0")
    assert not wants_color("auto")


@pytest.mark.parametrize("columns", ["30", "40", "60"])
def test_narrow_terminals_get_every_word(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, columns: str
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    long = words_row("a.long", "narrows it most", "push the sealed blank just under in a jug on the scale")
    out = shown(capsys, rows=(*ROWS, long), warnings=("In the sea this floats: 0.3 g light.",))
    assert all(len(line) <= int(columns) for line in out.splitlines())
    words = " ".join(out.split())
    for expected in ("In the sea this floats: 0.3 g light.", "push the sealed blank just under in a jug on the scale"):
        assert expected in words


def test_letters_two_columns_wide_and_tabs_stay_inside_the_terminal(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    wide = words_row("a.note", "12", "魚" * 40)
    tabbed = words_row("a.other", "13", "a\tb\tc")
    lines = shown(capsys, (wide, tabbed)).splitlines()[2:]
    assert all(cell_len(line) <= 60 for line in lines)
    assert "".join(lines).count("魚") == 40
    assert "\t" not in "".join(lines)


def test_json_is_one_object_with_rows_headline_and_warnings(capsys: pytest.CaptureFixture[str]) -> None:
    found = json.loads(shown(capsys, warnings=(Told("wrong", "It sinks."), "It floats."), as_json=True))
    assert found["headline"] == "Put 12.4 g of lead inside."
    assert found["warnings"] == ["It sinks.", "It floats."]
    assert found["rows"][0] == {"name": "a.mass", "label": "lead inside", "value": pytest.approx(12.4), "unit": "g",
                                "low": pytest.approx(11.8), "high": pytest.approx(13.0)}  # fmt: skip
    assert found["rows"][3]["value"] == "slow sinker"
