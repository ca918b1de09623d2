"""Boards and stock through the workbench: as the terminal enters and lists them; corrected, struck out, refused."""

import json
import re

import pytest
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.shop.log import Log
from gudgeon.shop.records import Board, Lure, Photo, Stock
from gudgeon.units import Reading

NASTY = "<img src=x onerror=alert(1)>"


class Made:
    """The page's requests about boards and stock."""

    def __init__(self, served, shop):
        self.served, self.shop = served, shop

    def get(self, what="made", **asked):
        query = "&".join(f"{name}={value}" for name, value in asked.items())
        return self.served.told(f"/api/log/{what}?{query}")

    def post(self, what, **asked):
        return self.served.told(f"/api/log/{what}", method="POST", body=json.dumps(asked).encode())

    def add(self, kind, remark="", **fields):
        return self.post("add", kind=kind, fields=fields, remark=remark)

    def standing(self, kind):
        with Log.look(self.shop) as log:
            return [entry.what for entry in log.standing(kind)]


@pytest.fixture
def made(serve, tmp_path, small):
    with Log.start(tmp_path / "shop") as log:
        log.add_pattern(small)
        log.add_lures("Small floater", 1)
    return Made(serve(), tmp_path / "shop")


def words(answer):
    return " ".join(f"{fault['place']}: {fault['words']}" for fault in answer["refused"]["faults"])


OFFCUT = {"offcut": "85.2 g", "offcut_length": "120 mm", "offcut_width": "60 mm", "offcut_thickness": "26 mm"}


def test_a_board_by_its_offcut_is_that_of_the_terminal(made):
    """The same words give the same record, its density with its spread, and the same line in the list."""
    answer = made.add("board", name="B7", wood="poplar", moisture="9 %", length="900 mm", mass="1.9 kg", **OFFCUT)
    assert "density 0.455 ± 0.005 g/cm3" in answer["words"]
    command = ["--wood", "poplar", "--moisture", "9 %", "--mass", "1.9 kg", "--offcut", "85.2 g", "--offcut-size",
               "120 x 60 x 26 mm", "--shop", str(made.shop)]  # fmt: skip
    run = CliRunner().invoke(app, ["log", "add", "board", "B8", *command])
    assert run.exit_code == 0
    terminal, page = made.standing("board")
    assert isinstance(page, Board)
    assert (page.density, page.moisture, page.mass) == (terminal.density, terminal.moisture, terminal.mass)
    assert page.length == pytest.approx(0.9)
    listed = CliRunner().invoke(app, ["log", "list", "boards", "--shop", str(made.shop)]).output
    for line in made.get()["boards"]:
        assert re.sub(r"\s+", "", line["words"]) in re.sub(r"\s+", "", listed)


def test_stock_is_entered_and_listed(made):
    made.add("stock", name="2/0 treble", what="hook", each="5.7 g", count="40", remark="a new box")
    assert made.standing("stock") == [Stock("2/0 treble", "hook", each=Reading(0.0057), count=40)]
    told = made.get()
    assert "2/0 treble" in told["stock"][0]["words"]
    assert "hook" in told["sorts"]


REFUSED = [
    ("board", {"wood": "poplar"}, "name: left empty"),
    ("board", {"name": "B1"}, "wood: left empty"),
    ("board", {"name": "B1", "wood": "poplar", "density": "0.45"}, "needs a unit"),
    ("board", {"name": "B1", "wood": "poplar", "density": "4.5 g/cm3"}, "no wood is so dense"),
    ("board", {"name": "B1", "wood": "poplar", "density": "0.45 g/cm3"} | OFFCUT, "the offcut's weight and sides, or"),
    ("board", {"name": "B1", "wood": "poplar", "offcut": "85 g"}, "all three sides tell the density"),
    ("board", {"name": "B1", "wood": "poplar"} | OFFCUT | {"offcut": "85"}, "needs a unit"),
    ("board", {"name": "B1", "wood": "poplar", "stage": "shaped"}, "a board has no 'stage'"),
    ("board", {"name": "x" * 121, "wood": "poplar"}, "keep it under 120"),
    ("stock", {"name": "trebles", "what": "spoons"}, "say one of shot"),
    ("stock", {"name": "trebles", "what": "hook"}, "give the weight of one"),
    ("stock", {"name": "resin", "what": "resin"}, "give the lot"),
    ("stock", {"name": "shot", "what": "shot", "each": "1 g", "count": "2.5"}, "not a whole number"),
    ("stock", {"name": "shot", "what": "shot", "each": "1 g"} | OFFCUT, "a stock has no 'offcut'"),
    ("lure", {"number": "5"}, "cannot be entered so"),
    ("weighing", {"mass": "5 g"}, "cannot be entered so"),
]
"""A kind, its fields, and words of the refusal."""


def test_what_cannot_be_entered_is_refused_and_nothing_is(made):
    for kind, fields, said in REFUSED:
        assert said in words(made.add(kind, **fields))
    heavy = made.add("board", name="B1", wood="poplar", **(OFFCUT | {"offcut": "850 g"}))
    assert "refused" in heavy
    assert made.standing("board") == made.standing("stock") == []


def test_a_board_is_corrected_named_once_and_struck_out(made):
    entry = made.add("board", name="B7", wood="poplar")["entry"]
    assert "there is a board 'B7' already" in words(made.add("board", name="B7", wood="basswood"))
    fields = {field["name"]: field["now"] for field in made.get()["boards"][0]["fields"]}
    assert "name" not in fields
    assert fields["wood"] == "poplar"
    told = made.post("correct", entry=entry, fields={"wood": "basswood", "density": "0.4 g/cm3"}, why="read the stamp")
    assert f"in the place of entry {entry}" in told["words"]
    assert [(one.name, one.wood) for one in made.standing("board")] == [("B7", "basswood")]
    assert "name cannot change" in words(made.post("correct", entry=told["entry"], fields={"name": "B8"}, why="no"))
    assert "strikes out" in made.post("correct", entry=told["entry"], void=True, why="burned")["words"]
    assert made.get()["boards"] == []


def test_a_lure_gets_its_board_and_a_lure_begun_by_mistake_is_struck_out(made):
    """The entry that begins a lure: its board or run another; its pattern and number stay."""
    made.add("board", name="B7", wood="poplar")
    first = made.get("lure", number=1)["entries"][-1]
    assert [(field["name"], field["now"], field["choices"]) for field in first["fields"]] == [
        ("run", "1", []), ("board", "", ["B7"])]  # fmt: skip
    told = made.post("correct", entry=first["number"], fields={"board": "B7"}, why="forgotten")
    with Log.look(made.shop) as log:
        assert log.lure(1).board.name == "B7"
    for fields in ({"number": "5"}, {"pattern": "9"}, {"board": "B9"}):
        assert "refused" in made.post("correct", entry=told["entry"], fields=fields, why="so")
    made.post("correct", entry=told["entry"], void=True, why="begun by mistake")
    assert "shows those there are" in words(made.get("lure", number=1))
    with Log.look(made.shop) as log:
        assert log.lure_count() == 0
        assert isinstance(log.entry(told["entry"]).what, Lure)


def test_what_a_photo_shows_is_corrected_and_its_file_stays(made):
    with Log.open(made.shop) as log:
        number = log.enter_as_kept(1, Photo("side.jpg", "0" * 64, "jpg", "left side"))
    entry = made.get("lure", number=1)["entries"][0]
    assert [(field["name"], field["now"]) for field in entry["fields"]] == [("shows", "left side")]
    told = made.post("correct", entry=number, fields={"shows": "right side"}, why="mirrored")
    assert "shows right side" in told["words"]
    assert "cannot change" in words(made.post("correct", entry=told["entry"], fields={"hash": "1" * 64}, why="so"))
    assert "strikes out" in made.post("correct", entry=told["entry"], void=True, why="another lure")["words"]
    assert made.get("lure", number=1)["photos"] == []


def test_markup_is_words(made):
    made.add("board", name=NASTY, wood=NASTY, remark=NASTY)
    answer = made.served.ask("/api/log/made")
    assert answer.headers["content-type"] == "application/json"
    assert NASTY in json.loads(answer.content)["boards"][0]["words"]
    assert made.get("runs")["boards"] == [NASTY]
