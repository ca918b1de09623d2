"""What can be written into the log: one frozen record for each kind of entry, quantities in SI with their spreads.

A record says what was seen, weighed or done; which lure it concerns, when it was, and what it corrects, say the
entries it stands in (entries.py). A field's annotation carries its unit, so that the columns, the files for a
spreadsheet and the words at the bench all learn it from that one place.
"""

from dataclasses import dataclass
from typing import Annotated, NamedTuple

from gudgeon.units import (
    ANGLE,
    BEATS,
    DENSITY,
    DEPTH,
    LENGTH,
    MASS,
    PART,
    SALINITY,
    SPEED,
    STATION,
    TEMPERATURE,
    TIME,
    Reading,
)

WHOLE = "whole"

STEPS = {"board": 10, "square": 20, "shaped": 30, "drilled": 40, "sealed": 50, "dry fit": 60, "leaded": 70,
         "primed": 80, "clear": 90, "rigged": 100}  # fmt: skip
"""The stages of the work, each with the number it is kept under: room between them for one that is thought of later."""
STAGES = tuple(STEPS)
STOCK = ("shot", "hook", "resin", "wire", "fitting", "other")

Weight = Annotated[Reading, MASS]
Warm = Annotated[Reading | None, TEMPERATURE]
Salt = Annotated[Reading | None, SALINITY]
Fitted = tuple[str, ...] | None


@dataclass(frozen=True)
class Board:
    """A piece of wood that blanks come out of.

    density : as measured      moisture : by weight of dry wood      mass : of the whole board, when it was weighed
    """

    name: str
    wood: str
    density: Annotated[Reading | None, DENSITY] = None
    moisture: Annotated[Reading | None, PART] = None
    length: Annotated[float | None, LENGTH] = None
    width: Annotated[float | None, LENGTH] = None
    thickness: Annotated[float | None, LENGTH] = None
    mass: Annotated[Reading | None, MASS] = None


@dataclass(frozen=True)
class Stock:
    """What lies in a drawer: shot of one size, hooks of one size as weighed with a ring, a lot of resin.

    what : one of STOCK      each : weight of one      count : how many      amount : how much, of what is not counted
    """

    name: str
    what: str
    material: str = ""
    each: Annotated[Reading | None, MASS] = None
    count: int | None = None
    amount: Annotated[Reading | None, MASS] = None
    density: Annotated[Reading | None, DENSITY] = None
    lot: str = ""


@dataclass(frozen=True)
class Pattern:
    """One version of a pattern: the exact text of its design file, and the stamp that text has on papers."""

    name: str
    version: int
    stamp: str
    design: str


@dataclass(frozen=True)
class Lure:
    """A lure that was begun.

    number : scratched on it, its own in the whole shop      run : which batch of its pattern, from 1
    pattern, board : the entries of the pattern's version and of the board
    """

    number: int
    pattern: int
    run: int
    board: int | None = None


@dataclass(frozen=True)
class Weighing:
    """What the scale showed. `fitted` names what was on it; all of it once rigged or dry fit, none before."""

    stage: str
    mass: Weight
    piece: str = WHOLE
    fitted: Fitted = None


@dataclass(frozen=True)
class Jug:
    """The grams a jug of water on a scale shows with the piece pushed just under, jug tared."""

    stage: str
    displaced: Weight
    piece: str = WHOLE
    fitted: Fitted = None
    temperature: Warm = None
    salinity: Salt = None


@dataclass(frozen=True)
class Ballast:
    """One piece of ballast that went in: into which hole, its middle aft of the nose, the hole's depth and bore."""

    hole: str
    mass: Weight
    station: Annotated[float | None, STATION] = None
    depth: Annotated[float | None, LENGTH] = None
    bore: Annotated[float | None, LENGTH] = None
    material: str = "lead"


@dataclass(frozen=True)
class Fitting:
    """A hook with its ring, an eye, a lip: as it was weighed for this lure."""

    part: str
    mass: Weight


@dataclass(frozen=True)
class TimedDrop:
    """Drops, or rises, over one distance.

    times : every one [s]
    """

    stage: str
    distance: Annotated[Reading, LENGTH]
    times: Annotated[tuple[float, ...], TIME]
    rises: bool = False
    fitted: Fitted = None
    temperature: Warm = None
    salinity: Salt = None


@dataclass(frozen=True)
class Attitude:
    """How it lay: afloat, hanging or falling; `pitch` nose-up positive, `leans` with the right side down positive."""

    stage: str
    pitch: Annotated[Reading, ANGLE]
    leans: Annotated[Reading | None, ANGLE] = None
    state: str = "afloat"
    fitted: Fitted = None
    temperature: Warm = None
    salinity: Salt = None


class StandIn(NamedTuple):
    """A weight [kg] hung in place of a hook."""

    hook: str
    mass: float


@dataclass(frozen=True)
class TowTest:
    """A tow: how fast, how often it beat, how far it rolled to each side, how deep it ran, and what was seen."""

    speed: Annotated[Reading, SPEED]
    beats: Annotated[Reading | None, BEATS] = None
    roll: Annotated[Reading | None, ANGLE] = None
    depth: Annotated[Reading | None, DEPTH] = None
    seen: str = ""
    fitted: Fitted = None
    stand_ins: Annotated[tuple[StandIn, ...], MASS] = ()
    temperature: Warm = None
    salinity: Salt = None


@dataclass(frozen=True)
class Change:
    """Something changed at the water, or after it, and why."""

    what: str
    why: str


@dataclass(frozen=True)
class Note:
    """Words about a lure."""

    words: str


@dataclass(frozen=True)
class Photo:
    """A picture, kept beside the database under the hash of its content.

    name : of the file it came from      hash : SHA-256 of its bytes      suffix : by what the bytes are
    """

    name: str
    hash: str
    suffix: str
    shows: str = ""

    @property
    def file(self) -> str:
        """What it is called in the folder of photos."""
        return f"{self.hash}.{self.suffix}"


@dataclass(frozen=True)
class Answer:
    """What was answered of a lure, kept as it was told.

    question : the command      stamp : of the design it was asked with      headline : the answer in a sentence
    told     : titles, rows and warnings, as kept.py has them
    design   : the text it was asked with, where that is not the text of the lure's own pattern
    """

    question: str
    stamp: str
    headline: str
    told: str
    design: str = ""


OfLure = Weighing | Jug | Ballast | Fitting | TimedDrop | Attitude | TowTest | Change | Note | Photo | Answer
Record = Board | Stock | Pattern | Lure | OfLure

KINDS: dict[str, type[Record]] = {
    "board": Board, "stock": Stock, "pattern": Pattern, "lure": Lure, "weighing": Weighing, "jug": Jug,
    "ballast": Ballast, "fitting": Fitting, "timed_drop": TimedDrop, "attitude": Attitude, "tow_test": TowTest,
    "change": Change, "note": Note, "photo": Photo, "answer": Answer,
}  # fmt: skip
"""Kind of entry -> its record. A kind is also the name of the table its columns are in."""
KIND_OF = {record: kind for kind, record in KINDS.items()}
LOOSE = ("board", "stock", "pattern", "lure")
"""Kinds that are not about one lure."""
STATES = ("afloat", "hanging", "falling")
