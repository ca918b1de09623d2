"""What changes at rest are tried with: the lure as it was seen, what is wanted of it, the search for the weight.

Each kind of change is a family of one weight; the weight that brings the lure to what is wanted is found by trying it
on the model, then taken to what a bench can weigh.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from gudgeon.answers.as_seen import AsSeen, Lies
from gudgeon.answers.finding import Finding
from gudgeon.answers.hook_choices import HookChoice
from gudgeon.answers.mended import LEVEL_WITHIN, RATE_WITHIN, UPRIGHT_WITHIN
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure

_STEPS = 12
_MOST_SHARE = 0.25  # of the lure's weight that any one change may be
_HANGS_SHARE = 0.2  # of what it was off, that a lure that is to hang may be left with
_TURN_SHOWS = math.radians(1.0)  # less of a turn nobody sees
_FINE_BELOW = 0.04  # kg of lure: smaller ones are worked to the fiftieth of a gram


@dataclass(frozen=True)
class Goal:
    """What is wanted: the pitch, the list, or the weight in water.

    kind   : "level", "upright" or "rate"
    wanted : [rad], or [kg] of excess
    """

    kind: str
    wanted: float

    def off(self, found: Lies) -> float:
        """How far a lure that lies so is from it."""
        return {"level": found.pitch, "upright": found.leans, "rate": found.excess}[self.kind] - self.wanted


@dataclass(frozen=True)
class Proposal:
    """One change, made.

    what   : in words with numbers
    design : changed      lure : so changed
    """

    what: Finding
    design: Design
    lure: Lure


@dataclass(frozen=True)
class FixBench:
    """What every change is tried with.

    hooks : that could hang there
    """

    seen: AsSeen
    goal: Goal
    hooks: tuple[HookChoice, ...]

    @cached_property
    def off(self) -> float:
        """How far it is from what is wanted now."""
        return self.goal.off(self.seen.lies(self.seen.lure))

    @cached_property
    def step(self) -> float:
        """[kg] that weights are taken to."""
        return 1e-4 if self.seen.lure.sums().mass > _FINE_BELOW else 2e-5

    @property
    def light_end(self) -> int:
        """Which end is to be heavier: -1 the nose, 1 the tail."""
        return 1 if self.off < 0.0 else -1


    def is_met(self, found: Lies) -> bool:
        """Whether a lure that lies so is near enough to what is wanted, and was brought nearer so that it shows.

        A velocity goes with the root of the excess.
        """
        off = abs(self.goal.off(found))
        if off > 0.5 * abs(self.off):
            return False
        if self.goal.kind == "level" and abs(self.off) - off < _TURN_SHOWS:
            return False
        if self.goal.kind != "rate":
            return off <= (LEVEL_WITHIN if self.goal.kind == "level" else UPRIGHT_WITHIN)
        if self.goal.wanted == 0.0:
            return abs(found.excess) <= max(_HANGS_SHARE * abs(self.off), 2.0 * self.step)
        share = found.excess / self.goal.wanted
        return share > 0.0 and abs(math.sqrt(share) - 1.0) <= RATE_WITHIN


Made = tuple[Design, frozenset[str]]
"""A changed design, and the parts that are others now."""
Family = Callable[[float], "Made | None"]
Trial = Callable[["FixBench"], Iterator["Proposal | None"]]
"""Every way to make one kind of change; nothing, or None, where it makes no sense for this lure."""


def solved(bench: FixBench, family: Family, guess: float, most: float) -> tuple[float, Made, Lure] | None:
    """The weight [kg] of a family that does it, taken to the bench's step; None where none of less than `most` does."""
    tried = [(0.0, bench.off)]
    mass = min(guess, 0.5 * most)
    for _ in range(_STEPS):
        got = _made(bench, family, mass)
        if got is None:
            return None
        off = bench.goal.off(bench.seen.lies(got[1]))
        (before, gap), (mass_now, gap_now) = tried[-1], (mass, off)
        tried.append((mass_now, gap_now))
        if gap_now == gap:
            return None
        mass = mass_now - gap_now * (mass_now - before) / (gap_now - gap)
        if not 0.0 < mass < most:
            return None
        if abs(mass - mass_now) < 0.2 * bench.step:
            break
    whole = max(bench.step, round(mass / bench.step) * bench.step)
    last = _made(bench, family, whole)
    return None if last is None else (whole, *last)


def _made(bench: FixBench, family: Family, mass: float) -> tuple[Made, Lure] | None:
    made = family(mass)
    if made is None:
        return None
    lure = bench.seen.changed(*made)
    return None if lure is None else (made, lure)


def first_guess(bench: FixBench, arm: float) -> float:
    """[kg] to begin with: by the distance of the centres, or the weight that is too much or too little."""
    lure = bench.seen.lure
    sums = lure.sums()
    if bench.goal.kind == "rate":
        return max(abs(bench.off), bench.step)
    lever = abs(float(sums.buoyancy_centre[2] - sums.weight_centre[2]))
    return max(sums.mass * lever * abs(math.tan(bench.off)) / max(abs(arm), 0.01), bench.step)


def most_of(bench: FixBench) -> float:
    """[kg] that a change may weigh."""
    return _MOST_SHARE * bench.seen.lure.sums().mass


def proposed(bench: FixBench, what: Finding, made: Made) -> Proposal | None:
    """A change that has no weight to be found; None where it cannot be built."""
    lure = bench.seen.changed(*made)
    return None if lure is None else Proposal(what, made[0], lure)


def balance_point(bench: FixBench) -> float:
    """[m] aft of the nose, of all the weight."""
    return float(bench.seen.lure.sums().weight_centre[0])


def level_station(bench: FixBench) -> float:
    """[m] aft of the nose, where a weight neither lifts nor drops it: under the middle of what carries it."""
    return float(bench.seen.lure.sums().buoyancy_centre[0])


def unused(name: str, taken: Sequence[str]) -> str:
    """A name that no other part has."""
    return name if name not in taken else next(f"{name} {count}" for count in range(2, len(taken) + 3)
                                               if f"{name} {count}" not in taken)  # fmt: skip
