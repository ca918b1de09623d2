"""What a treble weighs, by its size, until it is weighed."""

import re
from dataclasses import dataclass

from gudgeon.errors import OutsideSource
from gudgeon.library.source import Source, source_of, table
from gudgeon.units import Mass


@dataclass(frozen=True)
class HookMass:
    """A treble's weight without its ring; makers differ, so it is a wide guess.

    mass, low, high : [kg]
    """

    size: str
    mass: Mass
    low: Mass
    high: Mass
    source: Source

    @property
    def spread(self) -> Mass:
        """Half of low to high [kg]."""
        return (self.high - self.low) / 2.0


def hook_sizes() -> tuple[str, ...]:
    """The sizes the table has, smallest hook first."""
    return tuple(row["size"] for row in table("hooks"))


def _plain(size: str) -> str:
    """A size as the table writes it, from "#4", "no. 4", "size 4", "2/O" or " 2 / 0 "."""
    bare = re.sub(r"(?i)\s|#|no\.?|number|size|trebles?", "", size)
    return re.sub(r"(?i)/o$|/ought$|/aught$", "/0", bare)


def hook_mass(size: str) -> HookMass:
    """What a treble of one size weighs, without its ring.

    size   : "4", "#4", "2/0"
    raises : OutsideSource, with the sizes there are
    source : common practice, no source: between the middles of two working lists, low and high over both
    """
    wanted = _plain(size)
    for row in table("hooks"):
        if row["size"] == wanted:
            mass, low, high = (float(row[column]) / 1000.0 for column in ("mass_g", "low_g", "high_g"))
            return HookMass(row["size"], mass, low, high, source_of(row))
    raise OutsideSource(f"no treble of size '{size}' is in the table; it has {', '.join(hook_sizes())}; or weigh it")
