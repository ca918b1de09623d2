"""What the page asks of a picture, in words, to quantities: every fault kept, then told at once."""

import math
from collections.abc import Mapping

from gudgeon.errors import Fault, Refusal
from gudgeon.units import LENGTH, Reading, number, read, read_reading
from gudgeon.web.fields import BARE

Asked = Mapping[str, str]

_SPOKEN = {"known": "the known length", "from": "its first end", "to": "its second end", "nose": "the nose",
           "tail": "the tail", "across": "the second known length", "across_from": "the second length's first end",
           "across_to": "the second length's second end", "length": "made so long", "width": "the width"}  # fmt: skip


class TraceReader:
    """What the page asks, in words, to quantities; every fault kept."""

    def __init__(self, asked: Asked, unit: str) -> None:
        """Read what was asked; a number without a unit is of the shop's."""
        self._asked = asked
        self._unit = unit
        self._faults: list[Fault] = []

    def length(self, name: str) -> float:
        """A length [m]; something that stands in for it where it cannot be read."""
        try:
            return read(self._words(name), LENGTH)
        except Refusal as refusal:
            self._faults.append(Fault(_SPOKEN[name], refusal.heading))
            return 1.0

    def reading(self, name: str) -> Reading:
        """A length with or without its own ±."""
        try:
            return read_reading(self._words(name), LENGTH)
        except Refusal as refusal:
            self._faults.append(Fault(_SPOKEN[name], refusal.heading))
            return Reading(1.0)

    def spot(self, name: str) -> tuple[float, float]:
        """A place in the picture [pixels]."""
        parts = self._asked.get(name, "").split(",")
        try:
            x, y = (number(part) for part in parts) if len(parts) == 2 else (math.nan, math.nan)
        except Refusal:
            x = y = math.nan
        if not (abs(x) < 1e6 and abs(y) < 1e6):
            self._faults.append(Fault(_SPOKEN[name], "is not marked in the picture"))
            return 0.0, 0.0
        return x, y

    def done(self) -> None:
        """Refuse when anything was wrong."""
        if self._faults:
            raise Refusal("the picture was not traced", self._faults)

    def _words(self, name: str) -> str:
        """As typed; a bare number takes the shop's unit."""
        words = self._asked.get(name, "").strip()[:100]
        return f"{words} {self._unit}" if BARE.fullmatch(words) else words
