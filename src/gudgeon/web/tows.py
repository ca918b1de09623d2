"""How the lure on a desk tows: worked out behind once the drawing rests, kept by the drawing it is of, never mixed up.

One tow at a time; a stroke gives it up. Nothing is towed while no window looks.
"""

import asyncio
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from gudgeon.errors import BadDesign, Fault
from gudgeon.report.rows import Shop
from gudgeon.web.behind import Behind
from gudgeon.web.calls import Json
from gudgeon.web.desk import Desk, State

REST = 0.8  # s without a stroke before the lure is towed
IDLE = 60.0  # s with nobody looking before the process that tows is ended
_MODULE = "gudgeon.web.tow_process"
_KEPT = 4  # drawings whose answers are kept, for undo and redo
_READY = "getting ready: the first tow on a machine compiles its sums once, some ten seconds"
_GONE = {"heading": "the tow ended without an answer",
         "faults": [{"place": "the tow", "words": "tow it again, or draw on", "line": None}]}  # fmt: skip


@dataclass(frozen=True)
class Swum:
    """What came of one drawing's tow.

    told    : in each shop's units, or a refusal in both
    motions : the lure's motion at each speed, slowest first
    """

    stamp: str
    told: Mapping[str, Json]
    motions: tuple[str, ...] = ()


class Tows:
    """The tows of one design. Used from one loop."""

    def __init__(self, desk: Desk, tell: Callable[[bool], None]) -> None:
        """Of a design on the desk.

        tell : called when there is something new to tell; whether it is an answer
        """
        self._file = desk.path.name
        self._state = desk.state
        self._tell = tell
        self._kept: dict[str, Swum] = {}
        self._newest: Swum | None = None
        self._hand: Behind[Json] | None = None
        self._rest: asyncio.TimerHandle | None = None
        self._idle: asyncio.TimerHandle | None = None
        self._job = 0
        self._of = ""  # stamp of the drawing that is towed
        self._doing: Json | None = None
        self._refused: Json | None = None  # why what would change it cannot be told
        self._stopped = ""  # stamp of the drawing whose tow the maker stopped
        self._is_looked_at = False

    @property
    def progress(self) -> Json:
        """How far it is with the drawing as it is now."""
        stamp = self._state.stamp
        return {"stamp": stamp, "doing": self._doing, "stopped": self._stopped == stamp, "refused": self._refused}

    def answer(self, shop: Shop) -> Json | None:
        """The newest answer there is, with the stamp of the drawing it is of; None before the first."""
        if self._newest is None:
            return None
        return {"stamp": self._newest.stamp, "shop": shop.value, **self._newest.told[shop.value]}

    def motion(self, stamp: str, speed: int) -> str:
        """The lure's motion in a drawing at one of its speeds, from 0; raises BadDesign when it is not kept."""
        found = self._kept.get(stamp)
        if found is None or not 0 <= speed < len(found.motions):
            raise BadDesign("this motion cannot be played", [Fault("the tow", "it is of an older drawing")])
        return found.motions[speed]

    def look(self, looks: bool, state: State) -> None:
        """Whether any window looks, and at what."""
        self._state, self._is_looked_at = state, looks
        self._rouse()
        if looks:
            self._consider(0.0)
        else:
            self._give_up()
            self._idle = asyncio.get_running_loop().call_later(IDLE, self.close)

    def drawn(self, state: State) -> None:
        """The drawing is now this one."""
        if state.number < self._state.number:
            return  # told late; what it is now is known already
        is_other = state.stamp != self._state.stamp
        self._state = state
        if is_other and self._is_looked_at:
            self._give_up()
            self._consider(REST)

    def ask(self, what: str) -> None:
        """What the maker asks for: "stop", no tow of this drawing; "again"; "changes", what would change the swim."""
        if not self._is_looked_at:
            return
        if what == "stop":
            self._give_up()
            self._stopped = "" if self._state.stamp in self._kept else self._state.stamp
        elif what in ("again", "changes"):
            self._stopped = ""
            self._begin(tries=what == "changes")
        self._tell(False)

    def close(self) -> None:
        """End the process; the answers stay."""
        self._rouse()
        self._give_up()
        if self._hand is not None:
            self._hand.end()
            self._hand = None

    def _rouse(self) -> None:
        """Somebody looks, or all is over: the process is not ended later."""
        if self._idle is not None:
            self._idle.cancel()
        self._idle = None

    def _give_up(self) -> None:
        """End what is under way or waits."""
        if self._rest is not None:
            self._rest.cancel()
        self._rest = None
        if self._of and self._hand is not None:
            self._job += 1
            self._hand.ask({"job": self._job})
        self._of, self._doing, self._refused = "", None, None

    def _consider(self, rest: float) -> None:
        """Tell what is known of the drawing as it is; where that is nothing, tow it once it rests."""
        stamp = self._state.stamp
        if stamp in self._kept:
            self._newest = self._kept[stamp]
            self._tell(True)
        elif stamp not in (self._stopped, self._of) and self._rest is None:
            self._doing = {"words": "waiting for the drawing to rest" if rest else "beginning", "done": 0, "of": 0}
            self._rest = asyncio.get_running_loop().call_later(rest, self._begin)
        self._tell(False)

    def _begin(self, *, tries: bool = False) -> None:
        self._give_up()
        words = _READY if self._hand is None else "beginning"
        self._hand = self._hand or Behind(_MODULE, json.loads, self._heard)
        self._job += 1
        self._of, self._doing = self._state.stamp, {"words": words, "done": 0, "of": 0}
        self._hand.ask({"job": self._job, "text": self._state.text, "file": self._file, "tries": tries})
        self._tell(False)

    def _heard(self, hand: Behind[Json], message: Json | None) -> None:
        """What the process says; None when it is gone."""
        if hand is not self._hand:
            return
        if message is None:
            hand.end()
            self._hand = None
            message = {"job": self._job, "kind": "towed", "refused": _GONE}
        if message["job"] == self._job and self._of:
            if message["kind"] == "doing":
                self._doing = {key: message[key] for key in ("words", "done", "of")}
            else:
                self._take(message)
            self._tell(False)

    def _take(self, message: Json) -> None:
        """An answer has come. A refusal does not take the place of what is known of the same drawing."""
        stamp, refused = self._of, message.get("refused")
        self._of, self._doing, self._refused = "", None, refused
        if refused is not None and stamp in self._kept:
            return
        told = message.get("told") or {shop.value: {"refused": refused} for shop in Shop}
        self._kept.pop(stamp, None)
        self._newest = self._kept[stamp] = Swum(stamp, told, tuple(message.get("motions", ())))
        while len(self._kept) > _KEPT:
            del self._kept[next(iter(self._kept))]
        self._tell(True)
