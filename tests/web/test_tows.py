"""The tow behind the drawing: it waits for rest, gives way to strokes, is stopped, is never taken for a newer one."""

import asyncio
import re

import pytest
from loops import awaited

from gudgeon.errors import BadDesign
from gudgeon.report.rows import Shop
from gudgeon.web import tows as tows_module
from gudgeon.web.desk import Desk
from gudgeon.web.tows import Tows

ANSWER = {"told": {"metric": {"headline": "Swims."}, "inch": {"headline": "Swims."}}, "motions": ["{}", "{}"]}


class Hand:
    """A process that tows, spoken for by a test."""

    made: list["Hand"] = []  # noqa: RUF012

    def __init__(self, module, read, hear):
        self.hear, self.jobs, self.is_ended = hear, [], False
        Hand.made.append(self)

    def ask(self, job):
        self.jobs.append(job)

    def end(self):
        self.is_ended = True

    def say(self, kind, **more):
        self.hear(self, {"job": self.jobs[-1]["job"], "kind": kind, **more})


@pytest.fixture
def desk(tmp_path, small):
    file = tmp_path / "small.toml"
    file.write_text(small, encoding="utf-8", newline="")
    found = Desk(file)
    yield found
    found.close()


@pytest.fixture(autouse=True)
def hands(monkeypatch):
    """No process, and hardly any rest."""
    Hand.made = []
    monkeypatch.setattr(tows_module, "Behind", Hand)
    monkeypatch.setattr(tows_module, "REST", 0.05)
    monkeypatch.setattr(tows_module, "IDLE", 0.05)


def lift(desk, height):
    """Draw the back's third point to a height [mm]."""
    return desk.draw(desk.state.stamp, "", "a stroke",
                     lambda text: re.sub(r'"30 mm: \d+ mm"', f'"30 mm: {height} mm"', text, count=1))  # fmt: skip


def played(desk, scenario):
    """Run a scenario with the desk's tows and a list of what was told."""
    told = []

    async def run():
        tows = Tows(desk, told.append)
        await scenario(tows, told)
        tows.close()

    awaited(run())


def test_nothing_is_towed_while_nobody_looks(desk):
    async def scenario(tows, told):
        tows.drawn(lift(desk, 15))
        tows.ask("again")
        await asyncio.sleep(0.1)
        assert Hand.made == told == []

    played(desk, scenario)


def test_it_is_towed_once_the_drawing_rests(desk):
    async def scenario(tows, told):
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        (hand,) = Hand.made
        hand.say("towed", **ANSWER)
        for height in (15, 16, 17):
            tows.drawn(lift(desk, height))
            await asyncio.sleep(0.02)
            assert "rest" in tows.progress["doing"]["words"]
        assert len(hand.jobs) == 1
        await asyncio.sleep(0.1)
        assert hand.jobs[-1]["text"] == desk.state.text
        assert len([one for one in hand.jobs if "text" in one]) == 2
        hand.say("doing", words="towing", done=1, of=2)
        assert tows.progress["doing"] == {"words": "towing", "done": 1, "of": 2}

    played(desk, scenario)


def test_an_answer_carries_the_stamp_of_the_drawing_it_is_of(desk):
    first = desk.state.stamp

    async def scenario(tows, told):
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        Hand.made[0].say("towed", **ANSWER)
        assert told[-2:] == [True, False]
        assert tows.progress["doing"] is None
        tows.drawn(lift(desk, 15))
        assert tows.progress["stamp"] == desk.state.stamp != first
        assert tows.answer(Shop.METRIC)["stamp"] == first  # told as that of an older drawing, until there is a newer
        await asyncio.sleep(0.1)
        Hand.made[0].say("towed", **ANSWER)
        assert tows.answer(Shop.METRIC)["stamp"] == desk.state.stamp

    played(desk, scenario)


def test_what_comes_late_of_an_older_drawing_is_not_taken(desk):
    async def scenario(tows, told):
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        hand = Hand.made[0]
        old = hand.jobs[-1]["job"]
        tows.drawn(lift(desk, 15))
        assert hand.jobs[-1] == {"job": old + 1}  # given up at once
        await asyncio.sleep(0.1)
        hand.hear(hand, {"job": old, "kind": "towed", **ANSWER})
        assert tows.answer(Shop.METRIC) is None
        assert tows.progress["doing"] is not None

    played(desk, scenario)


def test_what_is_undone_is_known_already(desk):
    first = desk.state.stamp

    async def scenario(tows, told):
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        Hand.made[0].say("towed", **ANSWER)
        tows.drawn(lift(desk, 15))
        tows.drawn(desk.undo(desk.state.stamp))
        assert tows.progress == {"stamp": first, "doing": None, "stopped": False, "refused": None}
        await asyncio.sleep(0.1)
        assert len(Hand.made[0].jobs) == 1
        assert tows.motion(first, 1) == "{}"

    played(desk, scenario)


def test_only_motions_that_are_kept_are_played(desk):
    async def scenario(tows, told):
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        Hand.made[0].say("towed", **ANSWER)
        for found, speed in ((desk.state.stamp, 2), (desk.state.stamp, -1), ("00000000", 0)):
            with pytest.raises(BadDesign):
                tows.motion(found, speed)

    played(desk, scenario)


def test_a_tow_is_stopped_and_taken_up_again(desk):
    async def scenario(tows, told):
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        tows.ask("stop")
        assert tows.progress["stopped"]
        assert "text" not in Hand.made[0].jobs[-1]
        tows.look(True, desk.state)  # another window
        await asyncio.sleep(0.1)
        assert tows.progress["stopped"]
        tows.ask("again")
        assert Hand.made[0].jobs[-1]["text"] == desk.state.text
        tows.ask("stop")
        tows.drawn(lift(desk, 15))  # another drawing is another question
        await asyncio.sleep(0.1)
        assert Hand.made[0].jobs[-1]["text"] == desk.state.text

    played(desk, scenario)


def test_a_refusal_is_told_but_does_not_take_the_place_of_an_answer(desk):
    refused = {"heading": "no", "faults": []}

    async def scenario(tows, told):
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        Hand.made[0].say("towed", refused=refused)
        assert tows.answer(Shop.INCH) == {"stamp": desk.state.stamp, "shop": "inch", "refused": refused}
        tows.ask("again")
        Hand.made[0].say("towed", **ANSWER)
        tows.ask("changes")
        assert Hand.made[0].jobs[-1]["tries"]
        tows.ask("stop")
        assert not tows.progress["stopped"]  # what is known of it stands
        tows.ask("changes")
        Hand.made[0].say("towed", refused=refused)
        assert tows.answer(Shop.INCH)["headline"] == "Swims."
        assert tows.progress["refused"] == refused

    played(desk, scenario)


def test_a_process_that_dies_is_told_and_another_is_started(desk):
    async def scenario(tows, told):
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        hand = Hand.made[0]
        hand.hear(hand, None)
        assert hand.is_ended
        assert "without an answer" in tows.answer(Shop.METRIC)["refused"]["heading"]
        tows.ask("again")
        assert len(Hand.made) == 2
        hand.hear(hand, None)  # said once more: it is nobody's any longer
        assert tows.progress["doing"] is not None

    played(desk, scenario)


def test_the_process_ends_when_nobody_looks_any_more(desk):
    async def scenario(tows, told):
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        tows.look(False, desk.state)
        assert not Hand.made[0].is_ended
        await asyncio.sleep(0.1)
        assert Hand.made[0].is_ended
        tows.look(True, desk.state)
        await asyncio.sleep(0.02)
        assert len(Hand.made) == 2

    played(desk, scenario)


def test_a_few_drawings_are_kept(desk):
    async def scenario(tows, told):
        tows.look(True, desk.state)
        first = desk.state.stamp
        for height in range(15, 22):
            await asyncio.sleep(0.07)
            Hand.made[0].say("towed", **ANSWER)
            tows.drawn(lift(desk, height))
        with pytest.raises(BadDesign):
            tows.motion(first, 0)

    played(desk, scenario)
