"""Which pocket gets how much: wishes on weight, attitude and uprightness, linear in the ballast, met as well as may be.

A mixed-integer linear programme: one number per pocket for its ballast, or one whole number per pocket and shot size;
one yes or no per pocket for whether it is bored at all. What cannot be met is left over at a price per gram of weight,
per gram at ten millimetres of moment, and so on, in that order of importance.
"""

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.errors import NoAnswer
from gudgeon.physics.linear_programme import least_cost
from gudgeon.physics.mass import MASS, MASS_X, MASS_Z, VOLUME
from gudgeon.physics.spread import Array

# Prices of what is left over, per gram or gram-equivalent: the weight in water first, then the attitude, then standing
# upright, then pieces that float alike, last the number of holes. An order of importance, not a measured quantity.
_WEIGHT, _MOMENT, _LEVER, _ALIKE, _HOLE = 100.0, 20.0, 10.0, 0.3, 0.02
_ARM = 0.010  # [m] the lever at which a gram of moment is priced
_GRAM = 1e-3
LEAST = 3e-4  # kg of solid ballast that a new hole is bored for: with none at all there would be no hole
# Whole shot: a search ends once no choice could be better by more than this price, 0.02 g of weight in water. The
# solver takes a share of the cost, so a constant is added to it that dwarfs what a short drawer may leave over.
_INDIFFERENT, _GAP = 2.0, 0.002


@dataclass(frozen=True)
class Choice:
    """One shot size: mass [kg], diameter [m], how many there are, and whether it is hammered to fill its hole."""

    mass: float
    diameter: float
    count: int
    hammered: bool = False


@dataclass(frozen=True)
class Piece:
    """A pocket, linear in its ballast: once used it adds `once + per_mass * mass` to the sums.

    per_mass : (8,) change of the sums per [kg]; one for solid ballast, or one per shot size
    once     : (8,) for its plug and hole, only if it is used
    capacity : [kg] of ballast that still goes in, poured solid
    packing  : per shot size, how much of that it comes to as shot; 0 when it does not go down the bore
    ends     : per shot size, (8,) what its first shot adds besides: a pile's end is not as full as its middle
    end_room : per shot size, [kg] of solid ballast that would take as much of the bore as that end does
    least    : [kg] solid ballast that goes in at the least once it is used; none where some is in already
    """

    name: str
    segment: int
    per_mass: tuple[Array, ...]
    once: Array
    capacity: float
    packing: tuple[float, ...]
    least: float = LEAST
    ends: tuple[Array, ...] = ()
    end_room: tuple[float, ...] = ()


@dataclass(frozen=True)
class Wish:
    """What the load should come to.

    excess         : [kg] weight in water
    support        : (2,) [m] station and height of the line the water's upward forces act along
    attitude       : [rad] wanted pitch
    least_lever    : [m] wanted height of that line above the weight centre; less than nothing allows it below
    segment_excess : per segment [kg]; empty when pieces need not float alike
    state          : (10,) of the lure before any more goes in
    segment_states : (10,) of each segment
    """

    excess: float
    support: Array
    attitude: float
    least_lever: float
    segment_excess: tuple[float, ...]
    state: Array
    segment_states: tuple[Array, ...]
    water_density: float


@dataclass(frozen=True)
class Load:
    """A choice: pocket name and the mass [kg] to add, and the whole shot in each."""

    chosen: tuple[tuple[str, float], ...]
    shot: tuple[tuple[str, tuple[int, ...]], ...]

    @property
    def masses(self) -> dict[str, float]:
        """Pocket name -> [kg] to add."""
        return dict(self.chosen)

    def shot_in(self, name: str) -> tuple[int, ...]:
        """How many of each size are in a pocket; empty when shot were not asked for."""
        return dict(self.shot).get(name, ())


def best_load(
    wish: Wish,
    pieces: Sequence[Piece],
    shot: Sequence[Choice] = (),
    *,
    near: Mapping[str, float] | None = None,
    bored: Collection[str] | None = None,
) -> Load:
    """The load that leaves least wrong.

    near   : pocket name -> [kg] the solid ballast would be; whole shot are then sought within one shot of it
    bored  : names of the pockets that are bored and no others. None to choose them: yes or no with whole shot; with
             solid ballast a part of each hole's cost for a part of its room, which is quick and leaves few holes
    raises : NoAnswer when the solver finds none
    """
    amounts, owner, unit = _amounts(pieces, shot)
    holes, slack = len(pieces), 2 * (3 + len(wish.segment_excess))
    ends = amounts if any(any(piece.end_room) for piece in pieces) else 0
    first = amounts + holes + slack
    total = first + ends + 1
    rows, low, high = _wish_rows(wish, pieces, owner, unit, total)
    more, more_low, more_high = _limits(pieces, shot, owner, unit, total)
    if near is not None:
        close, close_low, close_high = _closeness(pieces, shot, near, owner, unit, total)
        more, more_low = np.vstack([more, close]), np.r_[more_low, close_low]
        more_high = np.r_[more_high, close_high]
    cost = np.zeros(total)
    cost[amounts : amounts + holes] = _HOLE
    prices = [_WEIGHT, _MOMENT, _LEVER, *([_ALIKE] * len(wish.segment_excess))]
    cost[amounts + holes : first] = np.repeat(prices, 2)
    cost[-1] = _INDIFFERENT / _GAP
    cost[amounts + holes + 4] = 0.0  # standing more upright than asked costs nothing
    top = np.full(total, np.inf)
    for place, (mine, grams) in enumerate(zip(owner, unit, strict=True)):
        top[place] = _most(pieces[mine], grams, shot, place % max(len(shot), 1))
    top[amounts : amounts + holes] = [1.0 if bored is None or piece.name in bored else 0.0 for piece in pieces]
    least = np.zeros(total)
    if bored is not None and not shot:
        least[:amounts] = [min(piece.least, piece.capacity) / _GRAM if piece.name in bored else 0.0 for piece in pieces]
    least[-1] = top[-1] = 1.0  # a constant in the cost, so that a relative gap ends the search
    least[amounts : amounts + holes] = 0.0 if bored is None else top[amounts : amounts + holes]
    whole = np.zeros(total, dtype=bool)
    whole[amounts : amounts + holes] = bool(shot) and bored is None
    whole[:amounts] = bool(shot)
    if ends:
        top[first:-1] = 1.0
        whole[first:-1] = True
        _add_ends(wish, pieces, owner, rows, more, first)
        begun = _begun(top[:amounts], total, first)
        more = np.vstack([more, begun])
        more_low, more_high = np.r_[more_low, np.full(amounts, -np.inf)], np.r_[more_high, np.zeros(amounts)]
    limits = (np.vstack([rows, more]), np.r_[low, more_low], np.r_[high, more_high])
    found = least_cost(cost, (least, top), limits, whole=whole, gap=_GAP, seconds=2.0)
    if found is None:
        raise NoAnswer("no ballast over these pockets comes near the aim; give a wider bore or another pocket")
    return _read_off(found, pieces, shot, owner, unit)


def price(wish: Wish, state: Array) -> float:
    """What a lure so loaded leaves over, at the prices a load is chosen by; state : (10,)."""
    heavy, turned, low = _worths(wish, state[:8])
    return float(_WEIGHT * abs(heavy - wish.excess / _GRAM) + _MOMENT * abs(turned) + _LEVER * max(-low, 0.0))


def _amounts(pieces: Sequence[Piece], shot: Sequence[Choice]) -> tuple[int, list[int], list[float]]:
    """How many amounts there are, whose each is, and the grams in one of it."""
    if not shot:
        return len(pieces), list(range(len(pieces))), [1.0] * len(pieces)
    owner = [place for place in range(len(pieces)) for _ in shot]
    return len(owner), owner, [choice.mass / _GRAM for _ in pieces for choice in shot]


def _most(piece: Piece, unit: float, shot: Sequence[Choice], size: int) -> float:
    if not shot:
        return piece.capacity / _GRAM
    return float(min(shot[size].count, math.floor(piece.capacity * piece.packing[size] / _GRAM / unit)))


def _worths(wish: Wish, sums: Array) -> Array:
    """(3,) what a change of the sums does to the weight in water [g], the moment [g at 10 mm] and the lever moment."""
    grams = 1.0 / _GRAM
    excess = (sums[MASS] - wish.water_density * sums[VOLUME]) * grams
    along = (sums[MASS_X] - sums[MASS] * wish.support[0]) * math.cos(wish.attitude)
    upward = (sums[MASS_Z] - sums[MASS] * wish.support[1]) * math.sin(wish.attitude)
    lever = sums[MASS] * (wish.support[1] - wish.least_lever) - sums[MASS_Z]
    return np.array([excess, (along + upward) * grams / _ARM, lever * grams / _ARM])


def _wish_rows(wish: Wish, pieces: Sequence[Piece], owner: list[int], unit: list[float],
               total: int) -> tuple[Array, Array, Array]:  # fmt: skip
    amounts, holes = len(owner), len(pieces)
    base = wish.state[:8]
    count = 3 + len(wish.segment_excess)
    rows, aims = np.zeros((count, total)), np.zeros(count)
    aims[:3] = np.array([wish.excess / _GRAM, 0.0, 0.0]) - _worths(wish, base)
    for place, (mine, grams) in enumerate(zip(owner, unit, strict=True)):
        per_mass = pieces[mine].per_mass[place % len(pieces[mine].per_mass)]
        rows[:3, place] = _worths(wish, per_mass * grams * _GRAM)
    for place, piece in enumerate(pieces):
        rows[:3, amounts + place] = _worths(wish, piece.once)
    for segment, want in enumerate(wish.segment_excess):
        aims[3 + segment] = want / _GRAM - _worths(wish, wish.segment_states[segment][:8])[0]
        for place, (mine, _) in enumerate(zip(owner, unit, strict=True)):
            rows[3 + segment, place] = rows[0, place] if pieces[mine].segment == segment else 0.0
        for place, piece in enumerate(pieces):
            rows[3 + segment, amounts + place] = rows[0, amounts + place] if piece.segment == segment else 0.0
    for place in range(count):
        rows[place, amounts + holes + 2 * place] = -1.0
        rows[place, amounts + holes + 2 * place + 1] = 1.0
    return rows, aims, aims


def _limits(pieces: Sequence[Piece], shot: Sequence[Choice], owner: list[int], unit: list[float],
            total: int) -> tuple[Array, Array, Array]:  # fmt: skip
    """A pocket holds no more than its room, and nothing unless it is bored; a drawer holds no more than it has."""
    amounts = len(owner)
    rows = np.zeros((len(pieces) + len(shot), total))
    high = np.zeros(len(rows))
    for place, (mine, grams) in enumerate(zip(owner, unit, strict=True)):
        rows[mine, place] = grams / (pieces[mine].packing[place % len(shot)] or 1.0) if shot else grams
        if shot:
            rows[len(pieces) + place % len(shot), place] = 1.0
    for place, piece in enumerate(pieces):
        rows[place, amounts + place] = -piece.capacity / _GRAM
    high[len(pieces) :] = [choice.count for choice in shot]
    return rows, np.full(len(rows), -np.inf), high


def _add_ends(wish: Wish, pieces: Sequence[Piece], owner: list[int], rows: Array, limits: Array, first: int) -> None:
    """What the first shot of each size adds besides, put into the rows of the wishes and of the rooms."""
    for place, mine in enumerate(owner):
        piece = pieces[mine]
        size = place % len(piece.ends)
        rows[:3, first + place] = _worths(wish, piece.ends[size])
        if wish.segment_excess:
            rows[3 + piece.segment, first + place] = rows[0, first + place]
        limits[mine, first + place] = piece.end_room[size] / _GRAM


def _begun(most: Array, total: int, first: int) -> Array:
    """Rows that let no shot of a size in without its first; most : of each that may go in."""
    rows = np.zeros((len(most), total))
    for place, count in enumerate(most):
        rows[place, place], rows[place, first + place] = 1.0, -max(count, 1.0)
    return rows


def _closeness(pieces: Sequence[Piece], shot: Sequence[Choice], near: Mapping[str, float], owner: list[int],
               unit: list[float], total: int) -> tuple[Array, Array, Array]:  # fmt: skip
    """Each pocket within one of its larger shot of the solid ballast, which keeps the search short.

    What is more than a pocket holds as shot may go into others of its segment.
    """
    rows = np.zeros((len(pieces), total))
    for place, (mine, grams) in enumerate(zip(owner, unit, strict=True)):
        rows[mine, place] = grams
    largest = np.array([max((c.mass for c, p in zip(shot, piece.packing, strict=True) if p > 0.0), default=0.0)
                        for piece in pieces]) / _GRAM  # fmt: skip
    solid = np.array([near.get(piece.name, 0.0) for piece in pieces]) / _GRAM
    fullest = np.array([piece.capacity * max(piece.packing, default=0.0) for piece in pieces]) / _GRAM
    middle = np.minimum(solid, fullest)
    overflows = {piece.segment for piece, want, room in zip(pieces, solid, fullest, strict=True) if want > room}
    spill = np.array([piece.segment in overflows and want <= room
                      for piece, want, room in zip(pieces, solid, fullest, strict=True)])  # fmt: skip
    return rows, middle - 1.01 * largest, np.where(spill, fullest, middle + 1.01 * largest)


def _read_off(found: Array, pieces: Sequence[Piece], shot: Sequence[Choice], owner: list[int],
              unit: list[float]) -> Load:  # fmt: skip
    masses = {piece.name: 0.0 for piece in pieces}
    counts: dict[str, list[int]] = {piece.name: [] for piece in pieces}
    for place, (mine, grams) in enumerate(zip(owner, unit, strict=True)):
        amount = round(float(found[place])) if shot else float(found[place])
        masses[pieces[mine].name] += amount * grams * _GRAM if amount > 1e-6 else 0.0
        counts[pieces[mine].name] += [int(amount)] if shot else []
    return Load(tuple(masses.items()), tuple((name, tuple(number)) for name, number in counts.items()))
