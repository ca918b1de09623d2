"""What an answer about hooks holds: how far each reaches, and how far it is to what it might catch."""

import math
from dataclasses import dataclass

from gudgeon.answers.finding import Finding
from gudgeon.physics.mass import Place

HABIT_SPARE = 3e-3  # m that the habit leaves between two hooks swung at each other; common practice, no source


@dataclass(frozen=True)
class HookReach:
    """One hook.

    place    : (3,) [m] of its hanger's loop      piece : it hangs on, from 0
    length   : [m] ring and shank, end to end     gape : [m] from shank to point
    size     : a treble's, or the one that weighs most like it; empty where it is measured and neither is told
    known_by : "as measured", "its size" or "its weight"
    """

    name: str
    place: Place
    piece: int
    length: float
    gape: float
    size: str
    known_by: str

    @property
    def reach(self) -> float:
        """From the loop to the farthest of its bend [m]: the bend is a half round as wide as the gape."""
        half = 0.5 * self.gape
        return math.hypot(max(self.length - half, 0.0), half) + half


@dataclass(frozen=True)
class HookPair:
    """Two hooks, the first nearer the nose.

    straight : [m] between their loops, every joint straight
    folded   : [m] the least, over every way of folding     way : which joints are folded then; empty for none
    """

    first: HookReach
    second: HookReach
    straight: float
    folded: float
    way: str

    @property
    def reach(self) -> float:
        """[m] of both together."""
        return self.first.reach + self.second.reach

    @property
    def habit(self) -> float:
        """What the habit wants between the loops [m]: both hooks and rings end to end, and a little."""
        return self.first.length + self.second.length + HABIT_SPARE


@dataclass(frozen=True)
class ToThing:
    """How far it is from a hook's loop to the tow eye, the line ahead of it, the lip's edge or the fin.

    straight : [m] every joint straight      folded : [m] the least, over every way of folding
    """

    hook: HookReach
    thing: str
    straight: float
    folded: float


@dataclass(frozen=True)
class Hanging:
    """Every hook from the nose aft, every two of them, and what else each might catch; findings worst first."""

    hooks: tuple[HookReach, ...]
    pairs: tuple[HookPair, ...]
    things: tuple[ToThing, ...]
    findings: tuple[Finding, ...]
