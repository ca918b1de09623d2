"""What takes long is answered by a process of its own, as the workbench itself would answer; and without it too."""

import asyncio
import json
import threading

import pytest
from loops import awaited

from gudgeon.design.file import stamp
from gudgeon.report.rows import Shop
from gudgeon.web import answering, telling
from gudgeon.web.ahead import Ahead
from gudgeon.web.answering import Answering
from gudgeon.web.telling import Drawing, answer_texts, ready_to_draw, shape_text, weights_texts

SHOPS = frozenset(Shop)


@pytest.fixture
def drawing(small):
    return Drawing(small, "small.toml", stamp(small), 3)


def test_the_process_answers_what_the_workbench_would_and_when_it_ends_the_workbench_does(drawing):
    async def scenario():
        answers = Answering()
        answers.rouse()
        async with asyncio.timeout(60.0):
            while not answers.is_ready:
                await asyncio.sleep(0.01)
        found = await answers.answer(drawing, SHOPS)
        asked = asyncio.create_task(answers.answer(drawing, SHOPS))
        await asyncio.sleep(0)
        answers.close()  # in the midst of it
        assert not answers.is_ready
        return found, await asked

    found, again = awaited(scenario())
    assert found == again == answer_texts(drawing, SHOPS)
    told = json.loads(found["metric"])
    assert (told["kind"], told["stamp"], told["version"], told["shop"]) == ("answer", drawing.stamp, 3, "metric")


def test_while_there_is_no_process_the_workbench_answers(drawing, monkeypatch):
    monkeypatch.setattr(answering, "Behind", None)
    assert awaited(Answering().answer(drawing, SHOPS)) == answer_texts(drawing, SHOPS)


def test_a_failure_of_gudgeons_own_is_told_and_the_rest_goes_on(drawing, monkeypatch, caplog):
    def fails(*_):
        raise ZeroDivisionError("by nought")

    for name in ("answers_told", "weights_told", "shape_told"):
        monkeypatch.setattr(telling, name, fails)
    assert weights_texts(drawing, SHOPS) == {}
    for text in (*answer_texts(drawing, SHOPS).values(), shape_text(drawing, {"stamp": drawing.stamp})):
        told = json.loads(text)
        assert told["stamp"] == drawing.stamp
        assert "by nought" in told["refused"]["faults"][0]["words"]
    assert json.loads(shape_text(drawing, {}))["text"] == drawing.text
    assert "cannot be answered" in caplog.text


@pytest.mark.parametrize("text", ["", "[", "a = 1\na = 2", "[" * 5000])
def test_a_text_that_cannot_be_read_is_no_trouble_for_the_next_stroke(text):
    ready_to_draw(Drawing(text, "x.toml", "", 0))


def test_only_the_newest_stroke_is_worked_on_ahead():
    begun, go, weighed = threading.Event(), threading.Event(), []

    def weigh(text, file):
        weighed.append((text, file))
        begun.set()
        go.wait(10.0)

    looking = Ahead("a.toml")
    looking.do(weigh, "one")
    assert begun.wait(10.0)
    looking.do(weigh, "two")
    looking.do(weigh, "three")
    go.set()
    looking._pool.shutdown(wait=True)
    assert weighed == [("one", "a.toml"), ("three", "a.toml")]
    looking.do(weigh, "four")  # the workbench is being stopped
    assert len(weighed) == 2
