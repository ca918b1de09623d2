"""What the process that tows says: how far it is, the terminal's rows, a motion for each speed, a refusal in words."""

import json
from pathlib import Path

import pytest

from gudgeon.answers.tow_test import tow_test
from gudgeon.design.file import parse, stamp
from gudgeon.report.rows import Shop
from gudgeon.report.swim_rows import swim_headline
from gudgeon.report.swim_text import tow_rows
from gudgeon.web.tow_process import Tower

DIVER = (Path(__file__).parents[2] / "examples" / "diver.toml").read_text(encoding="utf-8")


def tower(said):
    return Tower(lambda message: said.append(json.loads(json.dumps(message, allow_nan=False))))


def job(number, text, *, tries=False):
    return json.dumps({"job": number, "text": text, "file": "diver.toml", "tries": tries})


@pytest.fixture(scope="module")
def said():
    """Everything said while one lure is towed."""
    found = []
    one = tower(found)
    one.hear(job(1, DIVER))
    one.work()
    return found


@pytest.fixture(scope="module")
def terminal():
    """What the terminal tells of the same file."""
    return tow_test(parse(DIVER), changes=False, stage=lambda _: lambda done, of: None)


@pytest.mark.parametrize("shop", list(Shop))
def test_the_page_is_told_the_terminals_rows(said, terminal, shop):
    told = said[-1]["told"][shop.value]
    rows = [{key: row[key] for key in ("name", "label", "value", "unit", "low", "high")}
            for section in told["sections"] for row in section["rows"]]  # fmt: skip
    assert rows == [row.as_json() for row in tow_rows(terminal, shop)]
    assert told["headline"] == swim_headline(terminal.swimming, shop)
    assert [finding["gravity"] for finding in told["findings"]] == [
        finding.gravity.name.lower() for finding in terminal.swimming.findings]  # fmt: skip
    assert not told["tried"]


def test_it_is_told_how_far_it_is_stage_by_stage(said):
    stages = {}
    for message in said[:-1]:
        assert message["kind"] == "doing"
        stages.setdefault(message["words"], []).append((message["done"], message["of"]))
    assert list(stages) == ["towing at each speed"]
    counts = stages["towing at each speed"]
    assert [done for done, _ in counts] == sorted(done for done, _ in counts)
    assert counts[-1][0] == counts[-1][1] > 0


def test_there_is_a_motion_for_each_speed(said, terminal):
    played = [json.loads(one) for one in said[-1]["motions"]]
    assert [one["speed_m_s"] for one in played] == [one.speed for one in terminal.swimming.speeds]
    assert {one["design"] for one in played} == {stamp(DIVER)}
    assert said[-1]["told"]["metric"]["speeds"] == len(played)
    first = played[said[-1]["told"]["metric"]["shown"]]
    assert first["speed_m_s"] == terminal.swimming.shown.task.speed


@pytest.mark.parametrize(("text", "words"), [
    (DIVER.replace('kind = "tow eye"', 'kind = "screw eye"'), "nothing to tie"),
    (DIVER.replace("basswood", "unobtainium"), "unobtainium"), ("name = 'x'", "cannot be built"),
])  # fmt: skip
def test_what_cannot_be_towed_is_told_in_words(text, words):
    said = []
    one = tower(said)
    one.hear(job(1, text))
    one.work()
    assert words in json.dumps(said[-1]["refused"])
    assert "told" not in said[-1]


def test_another_job_ends_the_one_under_way():
    said = []

    def say(message):
        said.append(message)
        if len(said) == 2:
            one.hear(json.dumps({"job": 2}))

    one = Tower(say)
    one.hear(job(1, DIVER))
    one.work()
    one.work()
    assert len(said) <= 3  # it may be telling of one tow more
    assert all(message["kind"] == "doing" for message in said)
    assert said[-1]["done"] < said[-1]["of"]


def test_a_failure_of_gudgeons_own_is_told_and_the_next_lure_is_towed(monkeypatch, caplog):
    said = []
    one = tower(said)
    with monkeypatch.context() as broken:
        broken.setattr("gudgeon.web.tow_process.tow_test", lambda *_, **__: 1 / 0)
        one.hear(job(1, DIVER))
        one.work()
    assert "ZeroDivisionError" in json.dumps(said[-1]["refused"])
    one.hear(job(2, DIVER.replace('kind = "tow eye"', 'kind = "screw eye"')))
    one.work()
    assert said[-1]["job"] == 2
