"""The command trace: what it tells, what it writes, what it refuses; nothing is left half-written."""

import json
from pathlib import Path

import numpy as np
import pytest
import typer
from typer.testing import CliRunner

from gudgeon.cli.trace_command import add_trace_command
from gudgeon.design.file import load
from gudgeon.errors import Refusal

EXAMPLES = Path(__file__).parents[2] / "examples"
PICTURE = str(EXAMPLES / "template.jpg")
MARKS = ("--known", "100 mm", "--from", "240,655", "--to", "1040,655", "--nose", "107,330", "--tail", "1299,330")


@pytest.fixture
def trace(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    app = typer.Typer(rich_markup_mode=None)
    add_trace_command(app)
    app.command("other")(lambda: None)
    return lambda *words: CliRunner(env={"COLUMNS": "80"}).invoke(app, ["trace", *words])


def rows_of(done):
    assert done.exit_code == 0, done.output
    return {row["name"]: row for row in json.loads(done.output)["rows"]}


def test_the_template_is_told_at_its_size(trace):
    """It was drawn 149 mm long, 8 pixels to the millimetre, its back and belly through points with crests of 14.2 and
    17.7 mm."""
    done = trace(PICTURE, *MARKS)
    assert done.output.startswith("149.0 ± 0.6 mm long, 32.2 ± 0.2 mm deep; 7 stations draw it within 0.")
    rows = rows_of(trace(PICTURE, *MARKS, "--json"))
    assert rows["trace.length"]["value"] == pytest.approx(149.0, abs=0.1)
    assert rows["trace.pixel"]["value"] == pytest.approx(0.125)
    assert rows["trace.tail"]["value"] == "a flat face"
    assert rows["trace.back"]["value"].startswith("0: 0, ")
    assert rows["trace.back"]["value"].endswith(", 149: 5.3") or rows["trace.back"]["value"].endswith(", 149: 5.2")


def test_inches_are_told_and_written(trace):
    rows = rows_of(trace(PICTURE, *MARKS, "--json", "--units", "inch", "--out", "mine.toml"))
    assert rows["trace.length"]["value"] == pytest.approx(149.0 / 25.4, abs=0.01)
    assert rows["trace.length"]["unit"] == "in"
    assert 'length = "5.865 in"' in Path("mine.toml").read_text()


def test_a_new_design_is_written_and_can_be_read(trace):
    done = trace(PICTURE, *MARKS, "--width", "24 mm", "--out", "mine.toml")
    assert "mine.toml is written" in done.output
    design = load("mine.toml")
    assert design.name == "mine"
    assert design.length == pytest.approx(0.149, abs=1e-4)
    assert max(point.out for point in design.outline.side) == pytest.approx(0.012)
    assert "Outline traced from template.jpg" in Path("mine.toml").read_text()


def test_a_form_brings_its_hardware(trace):
    done = trace(PICTURE, *MARKS, "--form", "walker", "--length", "130 mm", "--out", "mine.toml")
    assert done.exit_code == 0, done.output
    design = load("mine.toml")
    assert design.hooks
    assert design.length == pytest.approx(0.130, abs=1e-4)
    assert design.outline.belly is not None
    assert max(point.out for point in design.outline.belly) == pytest.approx(0.018 * 130 / 149, abs=4e-4)


def test_a_design_that_is_there_keeps_all_but_its_outline(trace):
    Path("diver.toml").write_bytes((EXAMPLES / "diver.toml").read_bytes())
    done = trace(PICTURE, *MARKS, "--length", "88 mm", "--into", "diver.toml")
    assert done.exit_code == 0, done.output
    before, after = load(EXAMPLES / "diver.toml"), load("diver.toml")
    assert after.hooks == before.hooks
    assert after.outline.side == before.outline.side
    assert after.outline.back != before.outline.back
    text, old = Path("diver.toml").read_text(), (EXAMPLES / "diver.toml").read_text()
    assert set(old.splitlines()) - set(text.splitlines()) <= {line for line in old.splitlines() if ": " in line}


def test_another_length_moves_what_is_drawn_along_it_and_is_told(trace):
    Path("diver.toml").write_bytes((EXAMPLES / "diver.toml").read_bytes())
    done = trace(PICTURE, *MARKS, "--into", "diver.toml")
    assert "The design was 88.0 mm long and is 149.0 mm now" in " ".join(done.output.split())
    side = np.array(load("diver.toml").outline.side)
    was = np.array(load(EXAMPLES / "diver.toml").outline.side)
    assert side[:, 0] == pytest.approx(was[:, 0] * 149.0 / 88.0, abs=2e-5)
    assert side[:, 1] == pytest.approx(was[:, 1])


def test_from_above_gives_half_widths(trace):
    Path("diver.toml").write_bytes((EXAMPLES / "diver.toml").read_bytes())
    done = trace(PICTURE, *MARKS, "--above", "--into", "diver.toml")
    assert "wide" in done.output.splitlines()[0]
    after, before = load("diver.toml"), load(EXAMPLES / "diver.toml")
    assert after.outline.back == before.outline.back
    assert max(point.out for point in after.outline.side) == pytest.approx(0.0161 * 88 / 149, abs=3e-4)


def test_every_slip_is_named_at_once(trace):
    done = trace(PICTURE, "--known", "100", "--from", "240", "--nose", "a,1", "--form", "brick", "--out", "a.toml",
                 "--into", "b.toml")  # fmt: skip
    said = str(done.exception)
    assert isinstance(done.exception, Refusal)
    for words in ("--known: '100' needs a unit", "--from: '240' is not read", "--to: is needed", "--nose: 'a'",
                  "--tail: is needed", "--form: no form is called 'brick'", "--out, --into: give only one",
                  "--into: changes the outline alone"):  # fmt: skip
        assert words in said


def test_nothing_is_written_when_something_is_wrong(trace):
    for words in ((PICTURE, *MARKS[:-1], "5,5", "--out", "mine.toml"), ("not-there.jpg", *MARKS, "--out", "mine.toml"),
                  (str(EXAMPLES / "diver.toml"), *MARKS, "--out", "mine.toml"), (".", *MARKS, "--out", "mine.toml"),
                  (PICTURE, *MARKS, "--form", "diver", "--length", "300 mm", "--out", "mine.toml")):  # fmt: skip
        done = trace(*words)
        assert isinstance(done.exception, Refusal), done.output
    assert list(Path().iterdir()) == []


def test_a_file_that_is_there_is_not_written_over(trace):
    Path("mine.toml").write_text("mine")
    assert isinstance(trace(PICTURE, *MARKS, "--out", "mine.toml").exception, Refusal)
    assert Path("mine.toml").read_text() == "mine"


def test_a_drawing_needs_no_marks(trace):
    from gudgeon.cli.wood_commands import add_wood_commands

    app = typer.Typer(rich_markup_mode=None)
    add_wood_commands(app)
    made = CliRunner().invoke(app, ["export", str(EXAMPLES / "diver.toml"), "--out", "diver.svg"])
    assert made.exit_code == 0, made.output
    rows = rows_of(trace("diver.svg", "--json"))
    assert rows["trace.length"]["value"] == pytest.approx(88.0, abs=0.01)
    assert "trace.pixel" not in rows
    assert trace("diver.svg", "--out", "again.toml").exit_code == 0
    assert load("again.toml").length == pytest.approx(0.088, abs=1e-6)
    refused = str(trace("diver.svg", "--known", "100 mm", "--nose", "3,4").exception)
    assert "--known, --nose: a drawing has its own size" in refused
    assert "--line, --nose-right: are for drawings" in str(trace(PICTURE, *MARKS, "--line", "2").exception)


def test_every_row_is_told_in_the_docs_with_its_units(trace):
    from tests.test_docs import rows_told

    told, given = rows_told("trace"), set()
    Path("diver.toml").write_bytes((EXAMPLES / "diver.toml").read_bytes())
    tilted = ("--across", "50 mm", "--across-from", "60,80", "--across-to", "60,480", "--length", "140 mm")
    for more in ((), tilted, ("--above", "--into", "diver.toml")):
        for units, of in (("metric", "metric"), ("inch", "inch")):
            for name, row in rows_of(trace(PICTURE, *MARKS, *more, "--json", "--units", units)).items():
                unit = "words" if isinstance(row["value"], str) else row["unit"] or "number"
                assert any(line.covers(name) and getattr(line, of) == unit for line in told), (name, unit)
                given.add(name)
    assert {line.name for line in told} == given
