"""Options as the maker writes them, to quantities: every fault of a command collected, then refused all at once."""

import re
from collections.abc import Callable, Sequence
from typing import TypeVar

from gudgeon.errors import Fault, Refusal
from gudgeon.units import Kind, Reading, number, read, read_reading

Found = TypeVar("Found")
STAND_IN = 1.0  # what a faulty option reads as until done() refuses; it reaches no sum


class OptionReader:
    """Reads a command's options and keeps what is wrong with them."""

    def __init__(self) -> None:
        self.faults: list[Fault] = []

    def fault(self, place: str, words: str) -> None:
        """Keep one thing wrong."""
        self.faults.append(Fault(place, words))

    def look(self, place: str, ask: Callable[[], Found]) -> Found | None:
        """What `ask` gives, or None with its refusal kept."""
        try:
            return ask()
        except Refusal as refusal:
            inner = [fault.words for fault in refusal.faults] or [refusal.heading]
            self.faults += [Fault(place, words) for words in inner]
            return None

    def reading(self, place: str, text: str | None, kind: Kind) -> Reading | None:
        """A quantity with or without its own ±; None where the option was left out."""
        if text is None:
            return None
        return self.look(place, lambda: read_reading(text, kind)) or Reading(STAND_IN)

    def needed(self, place: str, text: str | None, kind: Kind, example: str) -> Reading:
        """A quantity that the command cannot do without."""
        if text is None:
            self.fault(place, f'is needed: {place} "{example}"')
            return Reading(STAND_IN)
        return self.reading(place, text, kind) or Reading(STAND_IN)

    def value(self, place: str, text: str | None, kind: Kind) -> float | None:
        """A quantity without a spread [SI]; None where the option was left out."""
        if text is None:
            return None
        found = self.look(place, lambda: read(text, kind))
        return STAND_IN if found is None else found

    def ratio(self, place: str, text: str | None) -> Reading | None:
        """A plain number, "1.4" or "1.1 ± 0.2"; None where the option was left out."""
        if text is None:
            return None
        parts = [self.look(place, lambda part=part: number(part)) for part in re.split(r"±|\+/-|\+-", text)]  # type: ignore[misc]
        if len(parts) > 2 or None in parts or (parts[0] or 0.0) <= 0.0 or (parts[-1] or 0.0) < 0.0:
            self.fault(place, f"'{text}' is not a number above 0, like 1.4")
            return Reading(STAND_IN)
        return Reading(parts[0] or STAND_IN, parts[1] if len(parts) == 2 else None)

    def one_of(self, **given: object) -> str | None:
        """The name of the one option given among several; a fault when there is none, or more than one."""
        options = [f"--{name.replace('_', '-')}" for name in given]
        chosen = [name for name, value in given.items() if value is not None and value is not False]
        either = f"{', '.join(options[:-1])} or {options[-1]}"
        if len(chosen) == 1:
            return chosen[0]
        self.fault(either, "give one of them" if not chosen else "give only one of them")
        return None

    def fields(self, place: str, text: str, least: int, most: int, example: str) -> list[str]:
        """The parts of an option written with commas."""
        parts = [part.strip() for part in text.split(",")]
        if not least <= len(parts) <= most or not all(parts):
            self.fault(place, f"'{text}' is not read; write it like \"{example}\"")
            return []
        return parts

    def sizes(self, place: str, text: str | None, kind: Kind, count: int) -> tuple[float, ...] | None:
        """Sides with a cross between them: "300 x 90 x 25 mm", each with its own unit or the last one's."""
        if text is None:
            return None
        parts = [part.strip() for part in re.split(r"[x×*]", text)]
        if len(parts) != count:
            example = " x ".join(("300", "90", "25")[:count]) + " mm"
            self.fault(place, f"'{text}' is not {count} sides; write them like \"{example}\"")
            return (STAND_IN,) * count
        return tuple(self.value(place, part, kind) or STAND_IN for part in _units_shared(parts))

    def done(self, command: str) -> None:
        """Refuse when anything was wrong.

        raises : Refusal with every fault
        """
        if self.faults:
            raise Refusal(f"gudgeon {command} cannot read this", self.faults)


def split_list(texts: Sequence[str]) -> list[str]:
    """A list written in one piece or several: "41.2, 43.0 g", so that each gets its piece's last unit."""
    found: list[str] = []
    for text in texts:
        found += _units_shared([part.strip() for part in text.split(",") if part.strip()])
    return found


def _units_shared(parts: Sequence[str]) -> list[str]:
    """Each part with its own unit, or the last one's where it has none."""
    unit = re.search(r"[A-Za-z\"″%µ].*$", parts[-1]) if parts else None
    shared = f" {unit.group()}" if unit else ""
    return [part if re.search(r"[A-Za-z\"″%µ]", part) else f"{part}{shared}" for part in parts]
