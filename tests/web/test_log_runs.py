"""Runs through the workbench: begun as the terminal begins them, and told with the rows of `gudgeon log batch`."""

import json
from urllib.parse import urlencode

import pytest
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.shop.log import Log
from gudgeon.shop.records import Board, Weighing
from gudgeon.units import Reading

PATTERN = "Small floater"


class Runs:
    """The page's requests about runs."""

    def __init__(self, served, shop):
        self.served, self.shop = served, shop

    def get(self, what, **asked):
        return self.served.told(f"/api/log/{what}?{urlencode(asked)}")

    def begin(self, **asked):
        body = json.dumps({"pattern": PATTERN, "version": 1, "count": 1} | asked).encode()
        return self.served.told("/api/log/begin", method="POST", body=body)

    def lines(self):
        with Log.look(self.shop) as log:
            return log.lures(limit=100)


@pytest.fixture
def runs(serve, tmp_path, small):
    """A log with four lures of small.toml, all weighed as shaped, and a board."""
    with Log.start(tmp_path / "shop") as log:
        log.add_board(Board("B7", "basswood"))
        log.add_pattern(small)
        log.add_lures(PATTERN, 4)
        for number, grams in enumerate((12.1, 12.4, 12.2, 12.8), start=1):
            log.weigh(number, Weighing("shaped", Reading(grams / 1000)))
        log.weigh(1, Weighing("sealed", Reading(0.0127)))
    return Runs(serve(), tmp_path / "shop")


def words(answer):
    return " ".join(f"{fault['place']}: {fault['words']}" for fault in answer["refused"]["faults"])


def test_a_run_is_told_as_the_terminal_tells_it(runs):
    """Headline, warnings and every row are those of `gudgeon log batch`, drilled or not."""
    for more, asked in (([], {}), (["--bit", "8 mm", "--holes", "2"], {"bit": "8 mm", "holes": "2"})):
        command = ["log", "batch", PATTERN, "--run", "1", *more, "--shop", str(runs.shop), "--json"]
        done = CliRunner().invoke(app, command)
        terminal = json.loads(done.output)
        told = runs.get("run", pattern=PATTERN, version=1, run=1, **asked)
        rows = [row for section in told["sections"] for row in section["rows"]]
        assert [(row["name"], row["value"], row["unit"]) for row in rows] == [
            (row["name"], row["value"], row["unit"]) for row in terminal["rows"]]  # fmt: skip
        assert told["headline"] == terminal["answer"] if "answer" in terminal else terminal["headline"]
        assert len(told["findings"]) == len(terminal["warnings"])
    assert [line["number"] for line in told["lures"]] == [1, 2, 3, 4]
    assert "1 sealed" in told["headline"]


def test_lures_are_begun_of_what_the_log_has(runs):
    """A new run out of a board; more of the run that is there; a number of one's own: as Log.add_lures has them."""
    assert runs.begin(count=2, board="B7")["words"] == f"Lures 5 to 6 are begun: {PATTERN}, version 1, run 2."
    assert runs.begin(run=1)["words"] == f"Lure 7 is begun: {PATTERN}, version 1, run 1."
    assert runs.begin(number=40, remark="the odd one")["lure"] == 40
    found = [(line.number, line.run, line.board) for line in runs.lines()]
    assert found[:4] == [(40, 3, None), (7, 1, None), (6, 2, "B7"), (5, 2, "B7")]
    told = runs.get("runs")
    assert [(one["run"], one["words"]) for one in told["runs"]] == [
        (3, "lure 40: 1 begun"), (1, "lures 1 to 4, 7: 1 begun, 3 shaped, 1 sealed"),
        (2, "lures 5 to 6: 2 begun")]  # fmt: skip
    assert told["patterns"] == [{"pattern": PATTERN, "version": 1, "runs": [3, 2, 1]}]
    assert told["boards"] == ["B7"]


REFUSED = [
    ({"count": 0}, "begin 1 to 1000 at once"),
    ({"count": "2"}, "no whole number"),
    ({"count": None}, "no whole number"),
    ({"pattern": "None such"}, "None such"),
    ({"version": 9}, "version"),
    ({"board": "B9"}, "B9"),
    ({"number": 2}, "there is a lure 2 already"),
    ({"run": 0}, "counted from 1"),
    ({"run": "1; DROP TABLE lure"}, "no whole number"),
    ({"remark": "x" * 4001}, "keep it under 4000"),
]
"""What is asked otherwise than it should be, and words of the refusal."""


def test_what_cannot_be_begun_is_refused_and_nothing_is(runs):
    before = runs.lines()
    for asked, said in REFUSED:
        assert said in words(runs.begin(**asked))
    assert runs.lines() == before


def test_a_run_that_is_not_there_and_odd_questions(runs):
    assert "no lure of it" in runs.get("run", pattern=PATTERN, version=1, run=9)["headline"]
    assert "None such" in words(runs.get("run", pattern="None such"))
    assert "no number" in words(runs.get("run", pattern=PATTERN, run="../1"))
    for holes in ("0", "x", "1e9", "101", "²"):
        assert "a whole number from 1 to 100" in words(runs.get("run", pattern=PATTERN, bit="8 mm", holes=holes))
    assert "refused" in runs.get("run", pattern=PATTERN, bit="<script>")
