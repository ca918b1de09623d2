"""The windows that look at one design: each stroke kept and acknowledged, outlines and answers sent to all of them."""

import asyncio
import json
import logging
from collections.abc import Awaitable, Callable, Mapping
from typing import Any, Protocol

from gudgeon.errors import BadDesign, Fault, Refusal
from gudgeon.report.rows import Shop
from gudgeon.web.calls import Json, answers_told, refused, shape_told, state_told
from gudgeon.web.desk import Desk, State
from gudgeon.web.writing import drawn, no_stroke

LOOK_EVERY = 1.5  # s between looks at whether another program changed the file
_LATEST = ("shape", "answer", "state")  # of these only the newest is worth sending


class Line(Protocol):
    """A line to a window that texts can be sent through."""

    async def send_text(self, data: str) -> None:
        """Send one text."""


class Window:
    """One page looking at a design; what is sent to it waits in a queue of its own."""

    def __init__(self, line: Line) -> None:
        self.shop = Shop.METRIC
        self._line = line
        self._waiting: asyncio.Queue[tuple[str, str]] = asyncio.Queue()
        self._newest: dict[str, str] = {}

    def tell(self, message: Json) -> None:
        """Send a message when its turn comes; a newer outline or answer takes the place of one not sent yet."""
        kind, text = str(message["kind"]), json.dumps(message, allow_nan=False)
        if kind not in _LATEST:
            self._waiting.put_nowait(("", text))
            return
        if kind not in self._newest:
            self._waiting.put_nowait((kind, ""))
        self._newest[kind] = text

    async def sending(self) -> None:
        """Send what waits, for as long as the window is open."""
        while True:
            kind, text = await self._waiting.get()
            await self._line.send_text(self._newest.pop(kind) if kind else text)


class Latest:
    """Work done one at a time; whatever is asked meanwhile is done once more afterwards."""

    def __init__(self, work: Callable[[], Awaitable[None]]) -> None:
        self._work = work
        self._wanted = False
        self._task: asyncio.Task[None] | None = None

    def ask(self) -> None:
        """Have it done, now or when the present one is done."""
        self._wanted = True
        if self._task is None or self._task.done():
            self._task = asyncio.create_task(self._run())

    async def _run(self) -> None:
        while self._wanted:
            self._wanted = False
            await self._work()


class Room:
    """A design and its windows."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._windows: set[Window] = set()
        self._shape = Latest(self._tell_shape)
        self._answer = Latest(self._tell_answer)
        self._told: State | None = None

    def enter(self, window: Window) -> None:
        """A window is opened: it is told all there is."""
        self._windows.add(window)
        state = self.desk.state
        window.tell({"kind": "opened", "told": self.desk.told, **state_told(state, self.desk.path.name)})
        self._shape.ask()
        self._answer.ask()

    def leave(self, window: Window) -> None:
        """A window is closed."""
        self._windows.discard(window)

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
                self._answer.ask()
                return
            state = await asyncio.to_thread(self._done, message)
        except (ValueError, RecursionError):
            window.tell({"kind": "refused", "number": number, **refused(no_stroke("it could not be read"))})
        except Refusal as refusal:
            window.tell({"kind": "refused", "number": number, **refused(refusal),
                         **state_told(self.desk.state, self.desk.path.name)})  # fmt: skip
        else:
            self._tell_done(window, number, state)

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

    def _tell_done(self, window: Window, number: object, state: State | None) -> None:
        if state is None:
            window.tell({"kind": "stale", "number": number, **state_told(self.desk.state, self.desk.path.name)})
            self._shape.ask()
            self._answer.ask()
            return
        window.tell({"kind": "kept", "number": number, **state_told(state, self.desk.path.name)})
        self._tell_state(state, but=window)
        self._shape.ask()
        self._answer.ask()

    def _tell_state(self, state: State, but: Window | None = None) -> None:
        self._told = state
        for window in self._windows - {but}:
            window.tell({"kind": "state", **state_told(state, self.desk.path.name)})

    async def _tell_shape(self) -> None:
        state = self.desk.state
        told = await asyncio.to_thread(_or_trouble, lambda: shape_told(state.text, self.desk.path.name))
        for window in self._windows:
            window.tell({"kind": "shape", **state_told(state, self.desk.path.name), **told})

    async def _tell_answer(self) -> None:
        state, shops = self.desk.state, {window.shop for window in self._windows}

        def answered() -> Json:
            found = answers_told(state.text, self.desk.path.name, shops)
            return {shop.value: answer for shop, answer in found.items()}

        told = await asyncio.to_thread(_or_trouble, answered)
        for window in self._windows:
            answer = told if "refused" in told else told.get(window.shop.value)
            if answer is not None:
                window.tell({"kind": "answer", "stamp": state.stamp, "shop": window.shop.value, **answer})


def _or_trouble(work: Callable[[], Json]) -> Json:
    """What some work gives; a failure of gudgeon's own is told on the page and in the terminal, and drawing goes on."""
    try:
        found = work()
        json.dumps(found, allow_nan=False)
    except Exception as error:
        logging.getLogger("gudgeon").exception("this design cannot be answered")
        words = f"{type(error).__name__}: {error}. Take the last stroke back; the terminal tells more"
        return {"refused": refused(Refusal("gudgeon itself failed on this drawing", [Fault("gudgeon", words)]))}
    return found


def _no_constant(name: str) -> float:
    raise BadDesign(f"{name} is no number")
