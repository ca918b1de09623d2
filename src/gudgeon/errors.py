"""Every refusal gudgeon can make. A refusal is for the maker to read; anything else raised is our bug."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Fault:
    """One thing wrong: where it stands, what was given, what would do.

    place : table and key as the maker wrote them, "hook 2.weight"
    words : what was given and what would do, one sentence
    line  : line of the design file, counted from 1; None when there is none
    """

    place: str
    words: str
    line: int | None = None

    def __str__(self) -> str:
        where = f"line {self.line}, {self.place}" if self.line else self.place
        return f"{where}: {self.words}"


class Refusal(Exception):
    """The one base of all refusals: a heading, then every fault found, all at once."""

    def __init__(self, heading: str, faults: Sequence[Fault] = ()) -> None:
        super().__init__(heading)
        self.heading = heading
        self.faults = tuple(faults)

    def __str__(self) -> str:
        if not self.faults:
            return self.heading
        return "\n".join([f"{self.heading}:", *(f"  {fault}" for fault in self.faults)])


class BadQuantity(Refusal):
    """A number without a unit, with a wrong one, or that is no number."""


class BadDesign(Refusal):
    """What the design file says cannot be read or does not hold together."""


class OutsideSource(Refusal):
    """A formula or table was asked for a value outside the range its source covers."""


class NoAnswer(Refusal):
    """The question has no answer for this lure; the words say why and what to change."""


class BadShop(Refusal):
    """The shop's log cannot be opened, read or written, or what is to go into it does not hold together."""
