"""Differences between two lures: how far beyond what is usual between twins, and what each does by the model.

Usual is what the other lures of the version differ by, where four or more were measured so; else what the book knows:
blanks of one board and of several, coats and sealer of one run and of several, as learning.py has them.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import stdev

from gudgeon.answers.learning import COATS, DENSITY, KINDS, SEALER
from gudgeon.answers.twin_effects import Effect, Reference, effect
from gudgeon.answers.twin_facts import Body, Fact, facts, tows_alike
from gudgeon.design.model import Uncertainty
from gudgeon.shop.records import STEPS
from gudgeon.units import Measure

FEWEST = 4
"""Other lures of the version that were measured so, before they tell what is usual."""
_RULES = Uncertainty()
_BODY = 0.02  # half-width of one body's volume about its twins', as a share; common practice, no source
_LEAD = 0.02  # the same of lead weighed in by one recipe
_PART = 0.05  # the same of hooks and fittings of one size
_LOOSE = 3e-4  # kg: filler, plugs, eyes that nobody weighs
_LEAST_GAIN = 1e-4  # kg
_SEEN = {Measure.SPEED: 0.07, Measure.BEATS: 0.10, Measure.DEPTH: 0.15}  # shares
_ANGLE = math.radians(1.5)
PLAIN = 2.0
"""Times what just shows on the water, from which a difference is told however usual it is."""
_ALIKE = 0.02
_MOST = 10.0  # times the usual, or what just shows, beyond which more counts no more
Key = tuple[str, str, str]


@dataclass(frozen=True)
class Difference:
    """One thing in which a lure is unlike the first.

    number  : of the lure      fact : of the first lure; its own value is `own`
    change  : [SI] own less the first's
    usual   : [SI] half-width of such a difference between two lures      by : how many twins tell it; 0 for the book
    effect  : by the model; None for what was seen on the water
    """

    number: int
    fact: Fact
    own: float
    usual: float
    by: int
    effect: Effect | None

    @property
    def change(self) -> float:
        """[SI]"""
        return self.own - self.fact.value

    @property
    def beyond(self) -> float:
        """How many times the usual it is."""
        return abs(self.change) / self.usual

    @property
    def tells(self) -> bool:
        """Whether it is beyond the usual, and does something that shows."""
        return self.effect is not None and self.beyond > 1.0 and self.effect.shows > 1.0

    @property
    def shows(self) -> bool:
        """Whether it does something that shows plainly, though twins usually differ as much."""
        return self.effect is not None and not self.tells and self.effect.shows > PLAIN

    @property
    def is_alike(self) -> bool:
        """Whether there is nothing between them."""
        return self.beyond < _ALIKE

    def rank(self) -> tuple[bool, float, float]:
        """What it is ranked by: how far beyond the usual, times how much it shows."""
        shows = min(self.effect.shows, _MOST) if self.effect else 0.0
        return self.tells, min(self.beyond, _MOST) * shows, self.beyond


@dataclass(frozen=True)
class Pair:
    """The first lure and another.

    kin   : others of the first one's version
    known : the first as the model has it      model : the other as it has that
    """

    first: Body
    other: Body
    kin: Sequence[Body]
    known: Reference
    model: Reference

    def _facts(self, body: Body) -> dict[Key, Fact]:
        shared = [stage for stage in self.first.stages() if stage in self.other.stages()]
        parts = self.first.parts.keys() & self.other.parts.keys()
        return {fact.key: fact for fact in facts(body, shared, parts, self.known.lure.wood_density)}

    def causes(self) -> Iterator[Difference]:
        """What may be a cause, of what both were measured of."""
        first, other = _both_leaded(self._facts(self.first), self._facts(self.other), self.first, self.other)
        kin = [self._facts(body) for body in self.kin]
        pieces = [("piece", segment.name, "") for segment in self.known.lure.segments]
        told_apart = len(pieces) > 1 and all(piece in found for piece in pieces for found in (first, other))
        for key, fact in first.items():
            if key not in other or fact.kind == "seen" or (told_apart and key == ("blank", "shaped", "")):
                continue
            yield self._difference(fact, other[key], [own[key].value for own in kin if key in own])

    def _difference(self, fact: Fact, own: Fact, values: Sequence[float]) -> Difference:
        usual, by = self._usual(fact, own, values)
        bare = all(STEPS[stage] < STEPS["primed"] for _, stage in self.first.jugs)
        does = effect(self.known, fact, own.value - fact.value, self.model.lure, dunked_bare=bare)
        return Difference(self.other.number, fact, own.value, usual, by, does)

    def _usual(self, fact: Fact, own: Fact, values: Sequence[float]) -> tuple[float, int]:
        """Half-width of a usual difference: by the twins, else by the book; never less than the scale's own."""
        least = math.hypot(*(_unsure(one) for one in (fact, own)))
        if len(values) >= FEWEST:
            return max(2.0 * math.sqrt(2.0) * stdev(values), least), len(values)
        half = self._book(fact)
        return max(math.sqrt(2.0) * half, least), 0

    def _book(self, fact: Fact) -> float:
        """Half-width of one lure about its twins."""
        boards = [body.record.lure.board for body in (self.first, self.other)]
        same_board = boards[0] is not None and boards[0] == boards[1]
        same_run = self.first.record.lure.run == self.other.record.lure.run
        if fact.kind in ("blank", "piece"):
            return _half(DENSITY, fact.value, alike=same_board)
        if fact.kind == "gain" and fact.of in ("drilled", "leaded", "rigged"):
            return _LOOSE
        if fact.kind == "gain":
            return max(_half(SEALER if fact.of == "sealed" else COATS, fact.value, alike=same_run), _LEAST_GAIN)
        if fact.kind == "place":
            return _RULES.ballast_place
        return {"displaced": _BODY, "lead": _LEAD, "part": _PART}[fact.kind] * abs(fact.value)

    def seen(self) -> Iterator[Difference]:
        """What they did, of what both were seen to do."""
        first, other = self._facts(self.first), self._facts(self.other)
        pairs = [(fact, other[key]) for key, fact in first.items() if fact.kind == "seen" and key in other]
        pairs += [(one[0], one[1]) for _, one in tows_alike([self.first, self.other]) if one[0] and one[1]]
        for fact, own in pairs:
            share = _SEEN.get(fact.measure)
            half = _ANGLE if share is None else share * abs(fact.value)
            usual = max(math.sqrt(2.0) * half, math.hypot(fact.spread or 0.0, own.spread or 0.0))
            yield Difference(self.other.number, fact, own.value, usual, 0, None)


def _half(kind: str, value: float, *, alike: bool) -> float:
    """By how much one lure is off its twins: of one board or run, or of several; half-width."""
    rules = KINDS[kind]
    return 2.0 * math.hypot(rules.within, 0.0 if alike else rules.between) * abs(value)


def _unsure(fact: Fact) -> float:
    """Half-width of one measurement."""
    if fact.spread is not None:
        return fact.spread
    return _RULES.ballast_place if fact.kind == "place" else _RULES.scale


def _both_leaded(
    first: Mapping[Key, Fact], other: Mapping[Key, Fact], one: Body, two: Body
) -> tuple[dict[Key, Fact], dict[Key, Fact]]:
    """Where both have their lead entered, a hole that only one has holds nothing in the other."""
    filled = [dict(first), dict(other)]
    if one.lead is None or two.lead is None:
        return filled[0], filled[1]
    for key in {key for found in filled for key in found if key[0] == "lead"}:
        for found in filled:
            found.setdefault(key, Fact("lead", key[1], 0.0, Measure.MASS))
    return filled[0], filled[1]
