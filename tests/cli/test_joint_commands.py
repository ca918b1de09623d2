"""The commands on joints: answers in words and rows, faults told."""

import json
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from gudgeon.cli.joint_commands import add_joint_commands
from gudgeon.errors import NoAnswer

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "lanternmere.toml")


@pytest.fixture(scope="module")
def app():
    app = typer.Typer(rich_markup_mode=None)
    add_joint_commands(app)
    return app


def run(app, *words):
    return CliRunner().invoke(app, words)


def test_joints_tells_every_swing(app):
    told = run(app, "joints", EXAMPLE)
    assert told.exit_code == 0
    assert told.output.startswith("The joints turn 29°, 32° and 37° to each side before wood meets wood.")
    assert "the corner of the tail meets the face of the waist" in told.output


def test_cuts_tells_the_makers_own_first_and_habits_in_inches(app):
    told = run(app, "cuts", EXAMPLE, "--units", "inch")
    assert told.output.startswith("Your own places: cut at 3 25/64 in, 5 43/64 in and 7 41/64 in from the nose.")
    assert told.output.index("as drawn") < told.output.index("even thirds")


@pytest.mark.parametrize("words", [("joints", EXAMPLE), ("cuts", EXAMPLE, "--pieces", "3")])
def test_a_program_gets_rows(app, words):
    found = json.loads(run(app, *words, "--json").output)
    assert {"rows", "headline", "warnings"} <= found.keys()
    assert all(row["name"] for row in found["rows"])


def test_too_many_pieces_are_refused(app):
    assert isinstance(run(app, "cuts", EXAMPLE, "--pieces", "9").exception, NoAnswer)


@pytest.mark.parametrize("command", ["joints", "cuts"])
def test_help_has_an_example(app, command):
    assert f"gudgeon {command} examples/" in run(app, command, "--help").output
