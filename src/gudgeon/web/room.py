"""The windows that look at one design: each stroke kept and acknowledged, outlines and answers sent to all of them."""

import asyncio
import json
from collections.abc import Awaitable, Callable, Mapping
from time import monotonic
from typing import Any, Protocol

from gudgeon.errors import BadDesign, Refusal
from gudgeon.report.rows import Shop
from gudgeon.web.ahead import Ahead
from gudgeon.web.answering import Answering
from gudgeon.web.calls import Json, put_together, refused, state_told, weigh
from gudgeon.web.desk import Desk, State
from gudgeon.web.solid_told import rough_told
from gudgeon.web.telling import Drawing, ready_to_draw, shape_text, weights_texts
from gudgeon.web.tows import Tows
from gudgeon.web.writing import drawn, no_stroke

REST = 0.05  # s without a stroke after which the hand rests
PATIENCE = 0.5  # s that answers which take longer wait at most while the hand moves
LOOK_EVERY = 1.5  # s between looks at whether another program changed the file
_LATEST = ("shape", "weights", "solid", "answer", "state", "tow", "swum")  # of these only the newest is worth sending


class Line(Protocol):
    """A line to a window."""

    async def send_text(self, data: str) -> None:
        """Send one text."""

    async def send_bytes(self, data: bytes) -> None:
        """Send what is no text."""


class Window:
    """One page looking at a design; what is sent to it waits in a queue of its own."""

    def __init__(self, line: Line) -> None:
        self.shop = Shop.METRIC
        self.looks_at_tow = self.looks_at_solid = False
        self._line = line
        self._waiting: asyncio.Queue[tuple[str, str | bytes]] = asyncio.Queue()
        self._newest: dict[str, str | bytes] = {}

    def tell(self, message: Json) -> None:
        """Send a message when its turn comes."""
        self.send(str(message["kind"]), json.dumps(message, allow_nan=False))

    def send(self, kind: str, told: str | bytes) -> None:
        """Send what is told of a kind when its turn comes; a newer outline or answer goes in place of one not sent."""
        if kind not in _LATEST:
            self._waiting.put_nowait(("", told))
            return
        if kind not in self._newest:
            self._waiting.put_nowait((kind, ""))
        self._newest[kind] = told

    async def sending(self) -> None:
        """Send what waits, for as long as the window is open."""
        while True:
            kind, told = await self._waiting.get()
            told = self._newest.pop(kind) if kind else told
            await (self._line.send_text(told) if isinstance(told, str) else self._line.send_bytes(told))


class Latest:
    """Work done one at a time; whatever is asked meanwhile is done once more afterwards."""

    def __init__(self, work: Callable[[], Awaitable[None]]) -> None:
        self._work = work
        self._wanted = False
        self._task: asyncio.Task[None] | None = None

    @property
    def is_busy(self) -> bool:
        """Whether it is being done."""
        return self._task is not None and not self._task.done()

    def ask(self) -> None:
        """Have it done, now or when the present one is done."""
        self._wanted = True
        if not self.is_busy:
            self._task = asyncio.create_task(self._run())

    async def _run(self) -> None:
        while self._wanted:
            self._wanted = False
            await self._work()


class Room:
    """A design and its windows."""

    def __init__(self, desk: Desk, answers: Answering) -> None:
        self.desk = desk
        self._windows: set[Window] = set()
        self._answers = answers
        self._telling, self._answering = Latest(self._tell), Latest(self._answer)
        self._drawn = self._answered = 0.0  # when the last stroke was made, and everything told last
        self._gesture = ""  # that the last stroke belonged to
        self._answer_of: tuple[int, frozenset[Shop]] | None = None  # what all windows are told everything of
        self._wood_of = desk.state.number  # that was told in three dimensions, or fetched with all that is put in
        self._told: State | None = None
        self.tows = Tows(desk, self._tell_tow)
        self._ahead = Ahead(desk.path.name)
        desk.foreseen = self._foresee

    def enter(self, window: Window) -> None:
        """A window is opened: it is told all there is."""
        self._windows.add(window)
        state = self.desk.state
        window.tell({"kind": "opened", "told": self.desk.told, **state_told(state, self.desk.path.name)})
        self._tell_anew()

    def leave(self, window: Window) -> None:
        """A window is closed."""
        self._windows.discard(window)
        if window.looks_at_tow:
            self._look()
        if not self._windows:
            self.tows.close()

    async def watching(self) -> None:
        """Tell the windows when another program changes the file, for as long as this is awaited."""
        while True:
            await asyncio.sleep(LOOK_EVERY)
            state = await asyncio.to_thread(lambda: self.desk.state)
            if self._told is None or state.file_changed != self._told.file_changed:
                self._tell_state(state)

    async def heard(self, window: Window, text: str) -> None:
        """One message of a window: a stroke, an undo, a save, other units."""
        number = None
        try:
            message = json.loads(text, parse_constant=_no_constant)
            if not isinstance(message, Mapping):
                raise no_stroke("it is no object")
            number = message.get("number")
            if message.get("kind") == "units":
                window.shop = Shop.INCH if message.get("shop") == "inch" else Shop.METRIC
                self._tell_anew()
                self._tell_swum({window})
                return
            if message.get("kind") == "tow":
                self._asked_of_tow(window, str(message.get("ask")))
                return
            if message.get("kind") == "solid":
                window.looks_at_solid = message.get("ask") == "look"
                return
            state = await asyncio.to_thread(self._done, message)
        except (ValueError, RecursionError):
            window.tell({"kind": "refused", "number": number, **refused(no_stroke("it could not be read"))})
        except Refusal as refusal:
            window.tell({"kind": "refused", "number": number, **refused(refusal),
                         **state_told(self.desk.state, self.desk.path.name)})  # fmt: skip
        else:
            self._tell_done(window, message, state)

    def _asked_of_tow(self, window: Window, what: str) -> None:
        """A window looks at the tow or no longer does; or asks for it to be stopped, done again, tried with changes."""
        if what in ("look", "leave"):
            window.looks_at_tow = what == "look"
            self._look()
            self._tell_swum({window})
        else:
            self.tows.ask(what)

    def _look(self) -> None:
        self.tows.look(any(window.looks_at_tow for window in self._windows), self.desk.state)

    def _done(self, message: Mapping[str, Any]) -> State | None:
        """What a message asks for, done and kept; None when its window saw another text."""
        kind, on = message.get("kind"), str(message.get("stamp"))
        if kind == "stroke":
            acts, inch = message.get("acts"), message.get("shop") == "inch"
            gesture, words = (str(message.get(key, ""))[:80] for key in ("gesture", "words"))
            return self.desk.draw(on, gesture, words, lambda text: drawn(text, acts, inch))  # type: ignore[arg-type]
        if kind == "undo":
            return self.desk.undo(on)
        if kind == "redo":
            return self.desk.redo(on)
        if kind == "save":
            return self.desk.save(on, over=message.get("over") is True)
        if kind == "take file":
            return self.desk.take_file(on)
        raise no_stroke("it is not known here what was asked")

    def _tell_done(self, window: Window, message: Mapping[str, Any], state: State | None) -> None:
        number = message.get("number")
        if state is None:
            window.tell({"kind": "stale", "number": number, **state_told(self.desk.state, self.desk.path.name)})
            self._tell_anew()
            return
        window.tell({"kind": "kept", "number": number, **state_told(state, self.desk.path.name)})
        self._tell_state(state, but=window)
        self.tows.drawn(state)
        self._answers.rouse()
        self._drawn, gesture = monotonic(), str(message.get("gesture", ""))
        if not gesture or gesture != self._gesture:
            self._answered = 0.0  # the first stroke of a gesture is answered at once
        self._gesture = gesture
        self._telling.ask()

    def _foresee(self, text: str) -> None:
        """A stroke is being kept: begin what is told first, where no earlier one is still being told."""
        if not self._telling.is_busy:
            self._ahead.do(put_together if self._looking_at_solid else weigh, text)

    def _tell_anew(self) -> None:
        """Tell all windows all there is."""
        self._answer_of = None
        self._telling.ask()

    def _tell_state(self, state: State, but: Window | None = None) -> None:
        self._told = state
        for window in self._windows - {but}:
            window.tell({"kind": "state", **state_told(state, self.desk.path.name)})

    def _tell_tow(self, is_answer: bool) -> None:
        """Tell those who look how far the tow is, and what came of it."""
        for window in self._windows:
            if window.looks_at_tow:
                window.tell({"kind": "tow", **self.tows.progress})
        if is_answer:
            self._tell_swum(self._windows)

    def _tell_swum(self, windows: set[Window]) -> None:
        for window in windows:
            answer = self.tows.answer(window.shop)
            if window.looks_at_tow and answer is not None:
                window.tell({"kind": "swum", **answer})

    async def _tell(self) -> None:
        """Wood for who looks at it, weights, then the outline; beside or behind that, everything."""
        state = self.desk.state
        drawing, where = self._drawing(state), state_told(state, self.desk.path.name)
        await self._tell_wood(drawing)
        self._tell_by_shop("weights", await asyncio.to_thread(weights_texts, drawing, self._shops))
        await asyncio.sleep(0)  # they go out before the next is worked out
        if self._answers.is_ready:
            self._answering.ask()
        shape = await asyncio.to_thread(shape_text, drawing, where)
        for window in self._windows:
            window.send("shape", shape)
        self._answering.ask()
        if self.desk.state.number == state.number:
            await asyncio.to_thread(ready_to_draw, drawing)

    async def _tell_wood(self, drawing: Drawing) -> None:
        """The wood of a stroke, to those who look at it in three dimensions."""
        looking = self._looking_at_solid
        if looking and drawing.version != self._wood_of:
            self._wood_of = drawing.version
            wood = await asyncio.to_thread(rough_told, drawing)
            for window in looking:
                window.send("solid", wood)
            await asyncio.sleep(0)

    async def _answer(self) -> None:
        """Everything, of what is drawn now; while the hand moves on, only now and then."""
        while monotonic() < min(self._drawn + REST, self._answered + PATIENCE):
            await asyncio.sleep(REST / 4.0)
        state, shops = self.desk.state, self._shops
        if (state.number, shops) != self._answer_of:
            self._answer_of = state.number, shops
            self._tell_by_shop("answer", await self._answers.answer(self._drawing(state), shops))
            self._answered = monotonic()

    @property
    def _looking_at_solid(self) -> list[Window]:
        return [window for window in tuple(self._windows) if window.looks_at_solid]

    @property
    def _shops(self) -> frozenset[Shop]:
        return frozenset(window.shop for window in self._windows)

    def _drawing(self, state: State) -> Drawing:
        return Drawing.on(state, self.desk.path.name)

    def _tell_by_shop(self, kind: str, texts: Mapping[str, str]) -> None:
        for window in self._windows:
            if window.shop.value in texts:
                window.send(kind, texts[window.shop.value])


def _no_constant(name: str) -> float:
    raise BadDesign(f"{name} is no number")
