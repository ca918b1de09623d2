"""Whole shot as they lie in their bores: how long a pile is, what it does to the sums, and the choice that knows it."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import combinations
from operator import mul

import numpy as np

from gudgeon.physics.loading import Choice, Load, Wish, price
from gudgeon.physics.lure import Lure
from gudgeon.physics.mass import MASS, MASS_X, MASS_Z, VOLUME
from gudgeon.physics.pocket import Pocket, fill, shot_length, shot_packing
from gudgeon.physics.spread import Array

_TOO_DEEP = 1e-6  # m
_STANDS_OUT = 1e7  # the price of a pile too long for its bore, more for each metre
_BETTER = 1e-6  # of price: less is no gain

Piles = Mapping[str, tuple[int, ...]]
"""Pocket name -> how many of each shot size are in it."""


def pocket_sums(lure: Lure, pocket: Pocket, mass: float) -> Array:
    """(8,) what a pocket with `mass` in it adds to the sums: ballast, plug, wood gone."""
    bored = fill(pocket, mass)
    removed = -lure.wood_density_of(pocket.segment) * bored.removed
    weights = (bored.mass, bored.plug_mass, removed)
    along = zip(bored.place, bored.plug_place, bored.removed_place, strict=True)
    sums = np.zeros(8)
    sums[MASS] = sum(weights)
    sums[MASS_X : MASS_Z + 1] = [sum(map(mul, weights, places)) for places in along]
    return sums


def packing_of(choice: Choice, pocket: Pocket) -> float:
    """Share of its length that one shot size fills of a bore; 0 when it does not go in."""
    if choice.diameter > pocket.bore + 1e-4:
        return 0.0
    return 1.0 if choice.hammered else shot_packing(choice.diameter, pocket.bore)


def piled(choice: Choice, pocket: Pocket, count: int) -> float:
    """[kg] of solid ballast that would take as much of the bore as so many shot of one size do."""
    if choice.hammered:
        return count * choice.mass
    return shot_length(count, choice.diameter, pocket.bore) * pocket.area * pocket.ballast_density


def pile(lure: Lure, pocket: Pocket, counts: Sequence[int], shot: Sequence[Choice]) -> tuple[Pocket, float]:
    """A pocket as packed with whole shot on what it holds, and all the ballast then in it [kg]."""
    solid = sum(count * choice.mass for choice, count in zip(shot, counts, strict=False))
    loose = sum(piled(choice, pocket, count) for choice, count in zip(shot, counts, strict=False))
    now = lure.held.get(pocket.name, 0.0)
    share = (now + solid) / (now / pocket.packing + loose) if solid > 0.0 else pocket.packing
    return replace(pocket, packing=share), now + solid


def as_piled(lure: Lure, wish: Wish, load: Load, shot: Sequence[Choice]) -> Load:
    """A load of whole shot as it lies in its bores: one or two changed at a time for as long as that is better.

    The first ball of a pile takes its whole diameter of bore, so a pile may be longer than its share of the bore tells.
    """
    pockets = {pocket.name: pocket for pocket in lure.pockets if load.masses.get(pocket.name, 0.0) > 0.0}
    places = [(name, size) for name, pocket in pockets.items() for size, choice in enumerate(shot)
              if packing_of(choice, pocket) > 0.0]  # fmt: skip
    steps = [(place, by) for place in places for by in (1, -1)]
    moves = [*((step,) for step in steps), *combinations(steps, 2)]
    now: Piles = {name: load.shot_in(name) for name in pockets}
    base = lure.state()[0]
    least = _piles_price(lure, base, wish, pockets, now, shot)
    while moves:
        near = [moved for move in moves if (moved := _moved(now, move, shot)) is not None]
        prices = [_piles_price(lure, base, wish, pockets, moved, shot) for moved in near]
        if not prices or min(prices) >= least - _BETTER:
            break
        least = min(prices)
        now = near[prices.index(least)]
    masses = {name: sum(count * choice.mass for count, choice in zip(counts, shot, strict=True))
              for name, counts in now.items()}  # fmt: skip
    return Load(tuple((load.masses | masses).items()), tuple((dict(load.shot) | dict(now)).items()))


def _moved(now: Piles, move: Sequence[tuple[tuple[str, int], int]], shot: Sequence[Choice]) -> Piles | None:
    """The piles with one shot more or less in each place of a move; None where there are none to take."""
    moved = dict(now)
    for (name, size), by in move:
        counts = moved[name]
        moved[name] = (*counts[:size], counts[size] + by, *counts[size + 1 :])
        if counts[size] + by < 0 or sum(one[size] for one in moved.values()) > shot[size].count:
            return None
    return moved if all(sum(counts) for counts in moved.values()) else None


def _piles_price(lure: Lure, base: Array, wish: Wish, pockets: Mapping[str, Pocket], piles: Piles,
                 shot: Sequence[Choice]) -> float:  # fmt: skip
    """What such piles leave over, at the prices of a load; dearer than anything where they stand out of their bores.

    base : (10,) the lure's state before any of it goes in
    """
    state, deep = base.copy(), 0.0
    for name, pocket in pockets.items():
        packed, mass = pile(lure, pocket, piles[name], shot)
        held = lure.held.get(name, 0.0)
        state[:VOLUME] += (pocket_sums(lure, packed, mass) - pocket_sums(lure, pocket, held))[:VOLUME]
        room = pocket.room if pocket.drilled is None else min(pocket.drilled, pocket.room)
        deep += max(fill(packed, mass).depth - room, 0.0)
    return price(wish, state) + (_STANDS_OUT * (1.0 + deep) if deep > _TOO_DEEP else 0.0)
