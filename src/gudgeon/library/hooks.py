"""What a treble weighs and how far it reaches, by its size, until it is weighed and measured."""

import re
from dataclasses import dataclass

from gudgeon.errors import OutsideSource
from gudgeon.library.source import Row, Source, source_of, table
from gudgeon.units import Length, Mass


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


@dataclass(frozen=True)
class HookSize:
    """How far a treble of one size and its ring reach; makers differ, and short shanks are a third shorter.

    shank : [m] from its eye to the bend       gape : [m] from shank to point
    ring  : [m] outside diameter of the ring that goes with it
    """

    size: str
    shank: Length
    gape: Length
    ring: Length
    source: Source


def hook_sizes() -> tuple[str, ...]:
    """The sizes the table has, smallest hook first."""
    return tuple(row["size"] for row in table("hooks"))


def _plain(size: str) -> str:
    """A size as the table writes it, from "#4", "no. 4", "size 4", "2/O" or " 2 / 0 "."""
    bare = re.sub(r"(?i)\s|#|no\.?|number|size|trebles?", "", size)
    return re.sub(r"(?i)/o$|/ought$|/aught$", "/0", bare)


def _row(size: str) -> Row:
    wanted = _plain(size)
    for row in table("hooks"):
        if row["size"] == wanted:
            return row
    raise OutsideSource(f"no treble of size '{size}' is in the table; it has {', '.join(hook_sizes())}; or weigh it")


def hook_mass(size: str) -> HookMass:
    """What a treble of one size weighs, without its ring.

    size   : "4", "#4", "2/0"
    raises : OutsideSource, with the sizes there are
    source : common practice, no source: between the middles of two working lists, low and high over both
    """
    row = _row(size)
    mass, low, high = (float(row[column]) / 1000.0 for column in ("mass_g", "low_g", "high_g"))
    return HookMass(row["size"], mass, low, high, source_of(row))


def hook_size(size: str) -> HookSize:
    """How long and wide a treble of one size is, and its ring, until they are measured.

    size   : "4", "#4", "2/0"
    raises : OutsideSource, with the sizes there are
    source : common practice, no source; from memory: no standard exists, measure yours
    """
    row = _row(size)
    shank, gape, ring = (float(row[column]) / 1000.0 for column in ("shank_mm", "gap_mm", "ring_mm"))
    return HookSize(row["size"], shank, gape, ring, source_of(row))
