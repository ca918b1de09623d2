"""The command swim: what is written wrong is told with its option, all at once, and no tow is begun."""

from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from gudgeon.cli.tow_commands import add_tow_commands
from gudgeon.errors import Refusal
from gudgeon.units import FOOT, LINE, read

EXAMPLE = str(Path(__file__).parents[2] / "examples" / "diver.toml")


@pytest.fixture(scope="module")
def app():
    app = typer.Typer(rich_markup_mode=None)
    add_tow_commands(app)
    return app


def test_too_long_a_line_and_a_bad_speed_are_told_with_their_options(app):
    told = CliRunner().invoke(app, ["swim", EXAMPLE, "--lines", "20 m, 900 ft", "--speeds", "1 kn, 2 mm"])
    assert isinstance(told.exception, Refusal)
    places = {fault.place: fault.words for fault in told.exception.faults}
    assert set(places) == {"--lines", "--speeds"}
    assert "'900 ft' is too long for a line" in places["--lines"]
    assert "depth" not in places["--lines"]


@pytest.mark.parametrize(("words", "metres"), [("600 ft", 600 * FOOT), ("200 m", 200.0)])
def test_as_much_line_as_a_troller_lets_out_is_read(words, metres):
    assert read(words, LINE) == pytest.approx(metres)
