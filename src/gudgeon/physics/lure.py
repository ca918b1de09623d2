"""The lure: the thing every question is asked of. Hull, segments, ledger of weights, pockets, and what is known."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.hull import Hull, bare
from gudgeon.physics.mass import COLUMNS, Effect, Item, Ledger, Sums, ledger
from gudgeon.physics.pocket import Fill, Pocket, fill
from gudgeon.physics.sinking import FallingBody
from gudgeon.physics.spread import Array, Knowledge

# A state is a ledger's sums, then the water's density [kg/m3], then the logarithm of the drag coefficient across the
# plan area: however a drop contradicts the weights, the coefficient stays more than nothing.
WATER = COLUMNS
LOG_FALL_DRAG = COLUMNS + 1
STATE = COLUMNS + 2

SHAPED, DRILLED, SEALED, LEADED, PAINTED, RIGGED = range(6)


@dataclass(frozen=True)
class Joint:
    """A cut between two segments, with finished sizes.

    at           : [m] middle of the gap
    gap          : [m] at the pivot
    front_bevel  : [rad] the vee of the face ahead of the gap
    rear_bevel   : [rad] the vee of the face behind it
    removed      : [m3] wood that gap and vees take out of the drawn body
    face_area    : [m2] of the two faces together
    """

    at: float
    gap: float
    front_bevel: float
    rear_bevel: float
    removed: float
    face_area: float


@dataclass(frozen=True)
class Segment:
    """One piece of wood between cuts.

    name    : the maker's
    start   : [m] station of its front face at the pivot; 0 for the head
    stop    : [m] station of its rear face
    outside : [m3] finished volume, vees taken off, coats on
    bare    : [m3] the wood alone, before any hole
    centre  : (3,) [m] of that volume
    skin    : [m2] area that is coated, joint faces with it
    plan_area   : [m2] seen from above
    plan_centre : (3,) [m] middle of that, at the height of the piece's own middle
    """

    name: str
    start: float
    stop: float
    outside: float
    bare: float
    centre: tuple[float, float, float]
    skin: float
    plan_area: float
    plan_centre: tuple[float, float, float]


@dataclass(frozen=True)
class WaterState:
    """One water: its density and how that may be off.

    density : [kg/m3]
    effects : source -> [kg/m3] per half-width
    words   : "fresh, 8 C"
    """

    density: float
    effects: Mapping[str, float]
    words: str


@dataclass(frozen=True)
class Lure:
    """A design and the library's tables met: everything a question needs, frozen.

    hull       : as drawn
    build      : [m] thickness of all coats together
    shown      : [m] how much of that the drawing already has: all of it when finished sizes are drawn, else none
    fixed      : items that are not ballast
    held       : pocket name -> [kg] ballast in it
    wood_density : [kg/m3] the value the ledger starts from
    wood_spreads : per segment, source -> share of the wood density per half-width
    pocket_spreads : pocket name -> half-widths of its ballast's weight [kg] and place [m]
    sources    : (k,) every source
    drag_spread : share of the fall drag per half-width
    depth      : [m] of the body where it is deepest
    eye_height : [m] of the tow eye
    """

    name: str
    hull: Hull
    build: float
    shown: float
    segments: tuple[Segment, ...]
    joints: tuple[Joint, ...]
    fixed: tuple[Item, ...]
    pockets: tuple[Pocket, ...]
    held: Mapping[str, float]
    wood_density: float
    pocket_spreads: Mapping[str, tuple[float, float]]
    wood_spreads: tuple[Mapping[str, float], ...]
    sources: tuple[str, ...]
    knowledge: Knowledge
    water: WaterState
    falling: FallingBody
    fall_drag: float
    drag_spread: float
    depth: float
    eye_height: float

    @cached_property
    def bare_hull(self) -> Hull:
        """The wood as cut, smaller than finished by the coats."""
        return bare(self.hull, self.shown)

    @cached_property
    def fills(self) -> dict[str, Fill]:
        """Each pocket as it now is."""
        return {pocket.name: fill(pocket, self.held.get(pocket.name, 0.0)) for pocket in self.pockets}

    @cached_property
    def ledger(self) -> Ledger:
        """Every item, ballast and its bores included."""
        ballast = [item for pocket in self.pockets for item in self._pocket_items(pocket)]
        return ledger([*self.fixed, *ballast], self.sources)

    def filled(self, masses: Mapping[str, float]) -> "Lure":
        """The same lure with other ballast: pocket name -> [kg]."""
        return replace(self, held={**self.held, **masses})

    def knowing(self, knowledge: Knowledge) -> "Lure":
        """The same lure otherwise known."""
        other = replace(self, knowledge=knowledge)
        other.__dict__["ledger"] = self.ledger  # what is on it does not change with what is known of it
        return other

    def wood_density_of(self, segment: int) -> float:
        """[kg/m3] of one segment's wood, everything measured taken in."""
        shift = sum(
            share * float(self.knowledge.mean[self.sources.index(source)])
            for source, share in self.wood_spreads[segment].items()
        )
        return self.wood_density * (1.0 + shift)

    def chosen(
        self, *, step: int = RIGGED, fitted: tuple[str, ...] | None = None, segment: int | None = None
    ) -> NDArray[np.bool_]:
        """Which items are on at a step of the work; see `Ledger.chosen`."""
        return self.ledger.chosen(step=step, fitted=fitted, segment=segment, last=RIGGED)

    def state(self, mask: NDArray[np.bool_] | None = None, water: WaterState | None = None) -> tuple[Array, Array]:
        """The state over chosen items (the whole finished lure by default), and how each source moves it.

        returns : (10,) as now known, and (k, 10) change per half-width
        """
        chosen = self.chosen() if mask is None else mask
        seen = self.water if water is None else water
        effects = np.zeros((len(self.sources), STATE))
        effects[:, :COLUMNS] = self.ledger.effects(chosen)
        for source, change in seen.effects.items():
            effects[self.sources.index(source), WATER] = change
        effects[self.sources.index("fall drag"), LOG_FALL_DRAG] = self.drag_spread
        base = np.concatenate([self.ledger.sums(chosen), [seen.density, math.log(self.fall_drag)]])
        return base + self.knowledge.mean @ effects, effects

    def sums(self, mask: NDArray[np.bool_] | None = None) -> Sums:
        """Sums over chosen items as now known."""
        return Sums(self.state(mask)[0][:COLUMNS])

    def _pocket_items(self, pocket: Pocket) -> list[Item]:
        bored = self.fills[pocket.name]
        if bored.depth == 0.0:
            return []
        scale, place = self.pocket_spreads[pocket.name]
        density = self.wood_density
        gone = tuple(
            Effect(source, mass=-share * density * bored.removed)
            for source, share in self.wood_spreads[pocket.segment].items()
        )
        hole = Item(f"hole, {pocket.name}", "hole", pocket.segment, -density * bored.removed, bored.removed_place,
                    0.0, bored.removed_place, DRILLED, gone)  # fmt: skip
        plug = Item(f"plug, {pocket.name}", "plug", pocket.segment, bored.plug_mass, bored.plug_place,
                    0.0, bored.plug_place, LEADED)  # fmt: skip
        if bored.mass == 0.0:
            return [hole, plug]
        lead = Item(f"ballast, {pocket.name}", "ballast", pocket.segment, bored.mass, bored.place, 0.0, bored.place,
                    LEADED, (Effect(f"weight of the ballast, {pocket.name}", mass=scale),
                             Effect(f"place of the ballast, {pocket.name}", shift=(place, 0.0, 0.0)),
                             Effect(f"height of the ballast, {pocket.name}", shift=(0.0, 0.0, place))))  # fmt: skip
        return [hole, lead, plug]


def segment_at(segments: tuple[Segment, ...], station: float) -> tuple[int, ...]:
    """Which segments a station belongs to: one, or both neighbours when it lies in a joint's gap."""
    inside = [place for place, piece in enumerate(segments) if piece.start <= station <= piece.stop]
    if inside:
        return (inside[0],)
    if station < segments[0].start:
        return (0,)
    if station > segments[-1].stop:
        return (len(segments) - 1,)
    ahead = max(place for place, piece in enumerate(segments) if piece.stop < station)
    return (ahead, ahead + 1)
