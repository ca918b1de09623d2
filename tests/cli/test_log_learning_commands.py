"""What the log teaches, as a maker asks for it: habits beside the book, a check that counts with them, twins."""

import json
import re
from pathlib import Path
from shutil import copytree

import pytest
from numpy.random import default_rng
from tests.answers.invented_shop import Habits, invented
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.errors import Refusal
from gudgeon.shop.log import Log
from gudgeon.shop.records import Board, Fitting, TowTest, Weighing
from gudgeon.units import Reading

ROOT = Path(__file__).parents[2]
GLIDER = ROOT / "examples" / "glider.toml"


def run(*words: str) -> str:
    """What a command prints."""
    result = CliRunner(env={"COLUMNS": "80", "NO_COLOR": "1"}).invoke(app, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def refused(*words: str) -> str:
    """What a command refuses with."""
    with pytest.raises(Refusal) as found:
        CliRunner().invoke(app, list(words), catch_exceptions=False)
    return str(found.value)


def rows(*words: str) -> dict[str, dict[str, object]]:
    found = json.loads(run(*words, "--json"))
    named = {row["name"]: row for row in found["rows"]}
    assert len(named) == len(found["rows"])
    return named


@pytest.fixture(scope="module")
def stocked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop of fourteen boards and runs, with a slip, a board of a wood no table knows, pieces weighed, and tows."""
    folder = tmp_path_factory.mktemp("stocked") / "shop"
    with Log.start(folder) as log:
        invented(log, GLIDER.read_text(encoding="utf-8"), default_rng(1), Habits(), boards=13, each=1)
        log.add_board(Board("X1", "driftwood", Reading(300.0, 6.0)))
        (odd,) = log.add_lures("Reed Gate glider", 1, board="B2")
        log.weigh(odd.number, Weighing("shaped", Reading(0.0912)))
        for number, front in ((1, 0.034), (2, 0.030)):
            for piece, mass in (("front", front), ("rear", 0.052 - front)):
                log.weigh(number, Weighing("shaped", Reading(mass), piece))
            log.fit(number, Fitting("rear hook", Reading(0.0035 + 0.0002 * number)))
        log.tow(1, TowTest(Reading(0.9), Reading(1.2), Reading(0.2)))
        log.tow(2, TowTest(Reading(0.9), Reading(1.1), Reading(0.2)))
    return folder


@pytest.fixture
def shop(stocked: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """That shop, copied, where the commands look for it."""
    copytree(stocked, tmp_path / "shop")
    monkeypatch.setenv("GUDGEON_SHOP", str(tmp_path / "shop"))
    return tmp_path / "shop"


def test_habits_stand_beside_the_book(shop: Path) -> None:
    said = run("log", "habits")
    assert said.startswith("Your shop's log tells 6 habits, on ")
    assert "! watch: Entry" in said
    assert "Density of poplar\nyour shop  " in said
    assert "the book: the table" in said
    assert re.search(r"^   and +1 more board$", said, flags=re.MULTILINE)
    metric, inch = (rows("log", "habits", "--units", units) for units in ("metric", "inch"))
    assert set(metric) == set(inch)
    assert metric["habit.density.poplar.mine"]["unit"] == "g/cm3"
    assert inch["habit.density.poplar.mine"]["unit"] == "lb/ft3"


def test_a_check_counts_with_them_when_asked_and_says_so(shop: Path) -> None:
    plain, own = rows("check", str(GLIDER)), rows("check", str(GLIDER), "--shop-values")
    assert {name for name in own if name not in plain} == {name for name in own if name.startswith("shop.")}
    assert own["shop.density.poplar.used"]["value"] == own["wood.density"]["value"] != plain["wood.density"]["value"]
    said = run("check", str(GLIDER), "--shop-values")
    assert "- note: Counts with your shop's own values, not the book's, for" in said
    assert "Your shop's values, used here" in said
    assert said.index("Your shop's values") < said.index("As drawn")
    lure = rows("check", str(GLIDER), "--shop-values", "--lure", "3")
    assert lure["shop.density.poplar.whose"]["value"] == "the next board, on 12 records"  # its board has no other lure
    assert lure["log.lure"]["value"] == "3, Reed Gate glider, version 1"


def test_twins_stand_side_by_side(shop: Path) -> None:
    said = run("log", "twins", "1", "2", "3")
    assert said.startswith("Reed Gate glider: ")
    assert "2 beside 1, most telling first" in said
    assert "3 beside 1, most telling first" in said
    assert said.index("What they did") < said.index("beats, towed")
    assert "As they were measured, by the model" in said
    found = rows("log", "twins", "1", "2", "--units", "inch")
    assert found["twin.2.piece.front.first"]["value"] == 34.0
    assert found["twin.2.seen.beats_towed.beyond"]["value"] == pytest.approx(0.1 / (2**0.5 * 0.12), rel=0.01)


def test_what_cannot_be_asked_is_refused(shop: Path, tmp_path: Path) -> None:
    assert refused("log", "twins", "1") == (
        "nothing to compare:\n  LURES: name two different lures or more, the one that does well first: "
        "gudgeon log twins 3 7")  # fmt: skip
    assert "lure 99: gudgeon log list shows those there are" in refused("log", "twins", "1", "99")
    run("log", "start", str(tmp_path / "new"))
    said = refused("log", "habits", "--shop", str(tmp_path / "new"))
    assert said.startswith("the log says nothing of this shop's habits yet:\n  wood: weigh shaped blanks")
    assert "gudgeon log start" in refused("log", "habits", "--shop", str(tmp_path / "none"))
    assert "--units" in refused("log", "habits", "--units", "furlongs")
    assert "nothing in the log takes the place" in " ".join(
        run("check", str(GLIDER), "--shop-values", "--shop", str(tmp_path / "new")).lower().split())  # fmt: skip


def test_the_names_of_the_rows_are_told(shop: Path, tmp_path: Path) -> None:
    """Every name that these commands give stands in docs/rows.md, and every name there is given."""
    page = (ROOT / "docs" / "rows.md").read_text(encoding="utf-8")
    page = page.partition("# The rows of the shop's habits, and of twins")[2].partition("\n# ")[0]
    told = re.findall(r"`([a-z_.<>]+)`", "".join(line for line in page.splitlines(True) if line.startswith("| `")))
    run("log", "start", str(tmp_path / "new"))
    given = {*rows("log", "habits", "--tows"), *rows("log", "twins", "1", "2")}
    for more in ((), ("--lure", "1"), ("--shop", str(tmp_path / "new"))):
        found = rows("check", str(GLIDER), "--shop-values", *more)
        given |= {name for name in found if name.startswith("shop.")}
    forms = {name: re.compile(r"[\w]+(?:\.[\w]+)*".join(map(re.escape, re.split(r"<\w+>", name)))) for name in told}
    assert {name for name in given if not any(form.fullmatch(name) for form in forms.values())} == set()
    assert [name for name, form in forms.items() if not any(form.fullmatch(one) for one in given)] == []
