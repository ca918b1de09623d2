"""The ledger of weights: mass, centre, displaced volume and inertia of every part, and what each may be off by.

An item is on the lure from one step of the work onward (`since`), so the same ledger answers for the bare blank, for
the tub test and for the finished lure. Sums of a ledger are linear in its items, and each item says how it changes
with each source of uncertainty; what a scale or a jug has shown is then conditioned on in `spread`.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.spread import Array, Knowledge

Place = tuple[float, float, float]

# Columns of a sum over items: mass [kg], mass moments [kg m], displaced volume [m3], volume moments [m4].
MASS, MASS_X, MASS_Y, MASS_Z, VOLUME, VOLUME_X, VOLUME_Y, VOLUME_Z = range(8)
COLUMNS = 8


@dataclass(frozen=True)
class Effect:
    """How an item changes when one source stands one half-width above what was given.

    source    : its name in the maker's words
    mass      : [kg] change of mass
    displaced : [m3] change of displaced volume
    shift     : (3,) [m] move of the centre of mass
    lift      : (3,) [m] move of the centre of the displaced volume
    """

    source: str
    mass: float = 0.0
    displaced: float = 0.0
    shift: Place = (0.0, 0.0, 0.0)
    lift: Place = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Item:
    """One line of the ledger.

    name      : the maker's name for it
    kind      : wood, hole, slot, ballast, plug, fitting, hinge, harness, glue, hook, lip, fin, coat, sealer
    segment   : counted from 0 at the nose
    mass      : [kg] negative for wood taken away
    place     : (3,) [m] where its weight acts; a hook's is its hanger
    displaced : [m3] what it adds to the water displaced
    lift      : (3,) [m] where that acts
    spread_out : (3, 3) [m2] inertia about its own centre per unit mass: second moments of its volume over its volume
    since     : step of the work from which it is on
    """

    name: str
    kind: str
    segment: int
    mass: float
    place: Place
    displaced: float
    lift: Place
    since: int
    effects: tuple[Effect, ...] = ()
    spread_out: tuple[Place, Place, Place] | None = None

    def sums(self) -> tuple[float, ...]:
        """(8,) this item's share of a ledger's sums."""
        return _columns(self.mass, self.place, self.displaced, self.lift)

    def effect_sums(self, effect: Effect) -> tuple[float, ...]:
        """(8,) change of the sums for one half-width of the effect's source, to first order."""
        (x, y, z), (u, v, w) = self.place, self.lift
        (dx, dy, dz), (du, dv, dw) = effect.shift, effect.lift
        dm, dd, m, d = effect.mass, effect.displaced, self.mass, self.displaced
        return (dm, dm * x + m * dx, dm * y + m * dy, dm * z + m * dz,
                dd, dd * u + d * du, dd * v + d * dv, dd * w + d * dw)  # fmt: skip


def _columns(mass: float, place: Place, displaced: float, lift: Place) -> tuple[float, ...]:
    return (mass, *(mass * c for c in place), displaced, *(displaced * c for c in lift))


@dataclass(frozen=True)
class Ledger:
    """Every item of a lure, with the sources that any of them depends on.

    items   : (n,) in the order they are made
    sources : (k,) names of the sources
    """

    items: tuple[Item, ...]
    sources: tuple[str, ...]

    @cached_property
    def _steps(self) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """(n,) step from which each item is on, and (n,) the piece it is in."""
        return np.array([item.since for item in self.items]), np.array([item.segment for item in self.items])

    @cached_property
    def _sums(self) -> Array:
        """(n, 8) sums of each item."""
        return np.array([item.sums() for item in self.items])

    @cached_property
    def _effects(self) -> NDArray[np.float64]:
        """(n, k, 8) change of each item's sums per half-width of each source."""
        index = {source: place for place, source in enumerate(self.sources)}
        table = np.zeros((len(self.items), len(self.sources), COLUMNS))
        named = [(row, item, effect) for row, item in enumerate(self.items) for effect in item.effects]
        if named:
            rows, columns = [row for row, _, _ in named], [index[effect.source] for _, _, effect in named]
            np.add.at(table, (rows, columns), np.array([item.effect_sums(effect) for _, item, effect in named]))
        return table

    def chosen(
        self, *, step: int, fitted: Collection[str] | None = None, segment: int | None = None, last: int = 5
    ) -> NDArray[np.bool_]:
        """(n,) which items are on the lure at a step of the work.

        step    : steps from this one on are not done yet, except for what is named in `fitted`
        fitted  : names of the fittings and hooks that are on; None for all that the step has
        segment : only this one
        last    : the step at which fittings go on
        """
        since, owner = self._steps
        mask = since <= step
        if fitted is not None:
            names = set(fitted)
            mask = np.where(since < last, mask, [item.name in names for item in self.items])
        return mask if segment is None else mask & (owner == segment)

    def sums(self, mask: NDArray[np.bool_]) -> Array:
        """(8,) sums over the chosen items, every source at 0."""
        total: Array = self._sums[mask].sum(axis=0)
        return total

    def effects(self, mask: NDArray[np.bool_]) -> Array:
        """(k, 8) change of those sums per half-width of each source."""
        flat = mask.astype(np.float64) @ self._effects.reshape(len(self.items), -1)
        total: Array = flat.reshape(len(self.sources), COLUMNS)
        return total

    def expected(self, mask: NDArray[np.bool_], knowledge: Knowledge) -> Array:
        """(8,) sums over the chosen items as they are now known."""
        total: Array = self.sums(mask) + knowledge.mean @ self.effects(mask)
        return total

    def known(self, knowledge: Knowledge) -> Array:
        """(n, 8) sums of each item as now known."""
        found: Array = self._sums + np.einsum("k,nkc->nc", knowledge.mean, self._effects)
        return found

    def item_masses(self, knowledge: Knowledge) -> tuple[Array, Array]:
        """(n,) mass and (n,) displaced volume of each item as now known."""
        known = self.known(knowledge)
        return known[:, MASS], known[:, VOLUME]

    def inertia(self, mask: NDArray[np.bool_]) -> Array:
        """(3, 3) [kg m2] inertia of the chosen items about their common centre of mass, products negative."""
        chosen = [item for item, on in zip(self.items, mask, strict=True) if on]
        total = self.sums(mask)
        centre = total[MASS_X:VOLUME] / total[MASS]
        second = np.zeros((3, 3))
        for item in chosen:
            arm = np.asarray(item.place) - centre
            own = np.zeros((3, 3)) if item.spread_out is None else np.asarray(item.spread_out)
            second += item.mass * (np.outer(arm, arm) + own)
        tensor: Array = np.trace(second) * np.eye(3) - second
        return tensor


def ledger(items: Sequence[Item], sources: Sequence[str] = ()) -> Ledger:
    """A ledger over items; its sources are the given ones, then any other in the order they are first named."""
    seen: dict[str, None] = dict.fromkeys(sources)
    for item in items:
        for effect in item.effects:
            seen.setdefault(effect.source)
    return Ledger(tuple(items), tuple(seen))


@dataclass(frozen=True)
class Sums:
    """A ledger's sums, named.

    columns : (8,) as `Ledger.sums` gives them
    """

    columns: Array = field(repr=False)

    @property
    def mass(self) -> float:
        """[kg]"""
        return float(self.columns[MASS])

    @property
    def volume(self) -> float:
        """Displaced when fully under [m3]."""
        return float(self.columns[VOLUME])

    @property
    def weight_centre(self) -> Array:
        """(3,) [m]"""
        centre: Array = self.columns[MASS_X:VOLUME] / self.columns[MASS]
        return centre

    @property
    def buoyancy_centre(self) -> Array:
        """(3,) [m] of the whole displaced volume."""
        centre: Array = self.columns[VOLUME_X:COLUMNS] / self.columns[VOLUME]
        return centre
