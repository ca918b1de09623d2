"""The commands wood and export: answers told, files whole or not at all."""

import json
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from gudgeon.cli.wood_commands import add_wood_commands
from gudgeon.errors import Refusal

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "diver.toml")
BOARD = '\n[board]\nlength = "300 mm"\nwidth = "42 mm"\nthickness = "30 mm"\n'


@pytest.fixture(scope="module")
def app():
    app = typer.Typer(rich_markup_mode=None)
    add_wood_commands(app)
    return app


def run(app, *words):
    return CliRunner().invoke(app, words)


@pytest.fixture
def with_board(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text(Path(EXAMPLE).read_text() + BOARD)
    return str(file)


def test_wood_tells_of_the_board_and_the_order_of_cuts(app, with_board):
    told = run(app, "wood", with_board)
    assert told.exit_code == 0
    assert told.output.startswith("The board holds 2 lures")
    assert (
        told.output.index("The piece of wood") < told.output.index("The order of cuts") < told.output.index("The lip")
    )
    assert told.output.index("while it is square") < told.output.index("\nshaping")


def test_wood_without_a_board_says_how_to_tell_of_one(app):
    told = run(app, "wood", EXAMPLE, "--units", "inch")
    assert told.exit_code == 0
    assert "[board]" in told.output
    assert "The tow eye's place" in told.output


def test_wood_for_a_program(app, with_board):
    found = json.loads(run(app, "wood", with_board, "--json").output)
    assert {"design", "stamp", "rows", "headline", "warnings"} == set(found)
    assert "board.count" in {row["name"] for row in found["rows"]}


@pytest.mark.parametrize("kind", ["stl", "3mf", "dxf", "svg"])
def test_export_writes_a_file_and_says_what_is_in_it(app, tmp_path, kind):
    out = tmp_path / f"lure.{kind}"
    told = run(app, "export", EXAMPLE, "--out", str(out))
    assert told.exit_code == 0
    assert f"{out} is written: " in told.output
    assert out.stat().st_size > 1000
    assert [path.name for path in tmp_path.iterdir()] == [out.name]


def test_export_says_which_size_a_solid_is(app, tmp_path):
    bare, finished = (run(app, "export", EXAMPLE, "--out", str(tmp_path / "a.stl"), *more).output
                      for more in ((), ("--finished",)))  # fmt: skip
    assert "bare wood" in bare
    assert "finished size" in finished


@pytest.mark.parametrize("words", [("--out", "lure.obj"), ("--out", "lure.stl", "--piece", "neck")])
def test_a_refused_export_leaves_the_old_file(app, tmp_path, monkeypatch, words):
    monkeypatch.chdir(tmp_path)
    old = tmp_path / words[1]
    old.write_text("as it was")
    told = run(app, "export", EXAMPLE, *words)
    assert isinstance(told.exception, Refusal)
    assert old.read_text() == "as it was"
    assert [path.name for path in tmp_path.iterdir()] == [words[1]]
