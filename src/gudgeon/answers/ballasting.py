"""How much ballast, in which pockets, so that the lure does what it is meant to."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from gudgeon.answers.aiming import Target, steady_pitch, target_of
from gudgeon.answers.piling import as_piled, packing_of, pile, piled, pocket_sums
from gudgeon.design.model import Aim, Design, Shot
from gudgeon.errors import NoAnswer
from gudgeon.library.drills import drill_for
from gudgeon.library.metals import material
from gudgeon.physics.loading import LEAST, Choice, Load, Piece, Wish, best_load
from gudgeon.physics.lure import Lure
from gudgeon.physics.mass import MASS, MASS_X, MASS_Z, VOLUME, VOLUME_Z
from gudgeon.physics.pocket import Fill, Pocket
from gudgeon.physics.sinking import excess_mass
from gudgeon.physics.spread import Array, Estimate, around, smooth

_PASSES = 5  # the ballast's centre moves with its length; by the third pass it has mostly settled
_SETTLED = 2e-5  # kg
_MET = 5e-5  # kg: what is put in is what is needed, where no more than this is between them
_NEAR = 5e-3  # m: a moment is settled to what the settled mass makes on that arm
_TILT = 0.009  # rad, half a degree: a tilt left that is worth another hole


@dataclass(frozen=True)
class Bit:
    """The bit of a shop's that comes nearest to a bore, and how deep the same ballast and plug then need it.

    name     : as it is asked for
    diameter : [m]
    depth    : [m]
    """

    name: str
    diameter: float
    depth: float


@dataclass(frozen=True)
class PocketLoad:
    """One pocket as it should be.

    name   : the maker's
    mass   : [kg] of ballast in it, all told
    add    : [kg] more than is in it now
    bored  : its depth, place and plug
    shot   : how many of each shot size, in the order of the stock
    taped  : [kg] of the same ballast taped outside that does the same
    metric_bit, inch_bit : what to drill it with
    """

    name: str
    pocket: Pocket
    mass: float
    add: float
    bored: Fill
    shot: tuple[int, ...]
    taped: float
    metric_bit: Bit
    inch_bit: Bit


@dataclass(frozen=True)
class Ballasting:
    """The ballast that meets the aim, and what it leaves wrong.

    needed      : [kg] that would meet the weight aim, over all pockets, all told; what is put in where that meets it
    put         : [kg] that this choice puts in
    pockets     : each pocket used
    excess_left : [kg] weight in water beyond the aim
    tilt_left   : [rad] pitch beyond the aim
    spare       : [kg] to leave out of the last hole until the tank has spoken
    in_shot     : whether whole shot were asked for
    lure        : the lure so ballasted
    """

    target: Target
    needed: Estimate
    put: float
    pockets: tuple[PocketLoad, ...]
    excess_left: float
    tilt_left: float
    spare: float
    in_shot: bool
    lure: Lure


def ballasting(design: Design, lure: Lure) -> Ballasting:
    """The masses over the maker's free pockets that best meet the aim.

    raises : NoAnswer when there is no pocket to fill
    """
    free = _free(design)
    target = target_of(design.aim, lure)
    wish = _wish(design.aim, lure, target)
    if any(lure.held.values()):
        as_it_is = _answer(lure, lure, target, Load((), ()), in_shot=False)
        if as_it_is.needed.value - as_it_is.put <= _let_be(design, as_it_is):
            return as_it_is
    answer = _settled(lure, wish, target, free, None)
    if abs(answer.tilt_left) <= _TILT:
        return answer
    used = {load.name for load in answer.pockets}
    one_more = [_settled(lure, wish, target, free, used | {name}) for name in sorted(free - used)]
    near = [other for other in one_more if abs(other.excess_left) < abs(answer.excess_left) + _SETTLED]
    return min([answer, *near], key=lambda one: abs(one.tilt_left))


def _let_be(design: Design, as_it_is: Ballasting) -> float:
    """[kg] of ballast missing that are none: of what is in, once a drop has told of the weight in water, its doubt."""
    dropped = any(entry.stage == "rigged" and (entry.sinks or entry.rises) for entry in design.measured)
    return as_it_is.needed.spread if dropped else 0.0


def _settled(lure: Lure, wish: Wish, target: Target, free: set[str], bored: set[str] | None) -> Ballasting:
    """The best load once bores and ballast agree; `bored` as for `best_load`."""
    pieces = _pieces(lure, lure, free, ())
    load = best_load(wish, pieces, bored=bored)
    bored = bored or {piece.name for piece in pieces if load.masses[piece.name] > 0.5 * piece.least}
    for _ in range(_PASSES):
        pieces = _pieces(lure, _loaded(lure, load, ()), free, ())
        load = best_load(wish, pieces, bored=bored)
        if _is_settled(lure, pieces, load):
            break
    return _answer(lure, _loaded(lure, load, ()), target, load, in_shot=False)


def _is_settled(lure: Lure, pieces: Sequence[Piece], load: Load) -> bool:
    """Whether bores filled with a load weigh what the linear pieces it was chosen over say, and where they say."""
    pockets = {pocket.name: pocket for pocket in lure.pockets}
    for piece in pieces:
        mass, pocket = load.masses[piece.name], pockets[piece.name]
        held = lure.held.get(piece.name, 0.0)
        bored = pocket_sums(lure, pocket, held + mass) - pocket_sums(lure, pocket, held)
        off = np.abs(bored - piece.once - piece.per_mass[0] * mass)
        if mass > 0.0 and (off[MASS] > _SETTLED or off[MASS_X : MASS_Z + 1].max() > _SETTLED * _NEAR):
            return False
    return True


def in_whole_shot(design: Design, lure: Lure, solid: Ballasting) -> Ballasting:
    """The same ballast made of whole shot from the stock, as near as they come.

    solid  : what is wanted, whatever it is made of
    raises : NoAnswer when no shot in stock fits a pocket
    """
    shot = usable_shot(design.stock.shot, lure)
    if not shot:
        raise NoAnswer("no shot in stock fits a pocket; add [[stock.shot]] or a wider bore")
    pieces = _pieces(lure, solid.lure, _free(design), shot)
    near = {load.name: load.add for load in solid.pockets}
    wish = _wish(design.aim, lure, solid.target)
    fits = all(near.get(piece.name, 0.0) <= piece.capacity * max(piece.packing) for piece in pieces)
    try:
        load = best_load(wish, pieces, shot, near=near, bored=set(near) if fits else None)
    except NoAnswer:  # the drawer holds too little to come near it everywhere
        load = best_load(wish, pieces, shot)
    load = as_piled(lure, wish, load, shot)
    return _answer(lure, _loaded(lure, load, shot), solid.target, load, in_shot=True)


def _free(design: Design) -> set[str]:
    free = {pocket.name for pocket in design.pockets if pocket.free}
    if not free:
        raise NoAnswer("there is no free pocket to put ballast in; add a [[pocket]], or set free = true on one")
    return free


def usable_shot(stock: Sequence[Shot], lure: Lure) -> tuple[Choice, ...]:
    """Shot sizes of the stock as masses and diameters; those that fit no pocket are left out."""
    widest = max((pocket.bore for pocket in lure.pockets), default=0.0)
    choices = []
    for shot in stock:
        density = material(shot.material).density
        weight = shot.weight.value if shot.weight else 0.0
        diameter = shot.diameter or (6.0 * weight / (np.pi * density)) ** (1.0 / 3.0)
        mass = weight or density * np.pi / 6.0 * diameter**3
        if diameter <= widest + 1e-4:
            choices.append(Choice(float(mass), float(diameter), shot.count, shot.hammered))
    return tuple(choices)


def _wish(aim: Aim, lure: Lure, target: Target) -> Wish:
    """The aim as linear wishes on the ballast; upright is told of the whole body's buoyancy, afloat or not."""
    state, _ = lure.state()
    above_support = float(state[VOLUME_Z] / state[VOLUME] - target.support[1])
    parts = tuple(lure.state(lure.chosen(segment=place))[0] for place in range(len(lure.segments)))
    alike = tuple(float(target.excess * part[VOLUME] / state[VOLUME]) for part in parts)
    return Wish(
        excess=target.excess,
        support=target.support,
        attitude=aim.attitude,
        least_lever=aim.upright * lure.depth - above_support,
        segment_excess=alike if aim.segments_alike and len(parts) > 1 else (),
        state=state,
        segment_states=parts,
        water_density=lure.water.density,
    )


def _pieces(lure: Lure, loaded: Lure, free: set[str], shot: Sequence[Choice]) -> tuple[Piece, ...]:
    """Each free pocket as a linear piece about what was last put in it: the ballast's centre moves as it grows."""
    pieces = []
    for pocket, empty in zip(loaded.pockets, lure.pockets, strict=True):
        held = lure.held.get(pocket.name, 0.0)
        room = max(pocket.capacity - held, 0.0)
        if pocket.name not in free or room <= 0.0:
            continue
        now = loaded.held.get(pocket.name, 0.0)
        near = now if now > held + 1e-5 else held + 0.3 * room
        step = 0.02 * room
        packing = tuple(packing_of(choice, pocket) for choice in shot)
        slopes = tuple(_slope(lure, replace(pocket, packing=share or 1.0), near, step) for share in packing or (1.0,))
        middling = replace(pocket, packing=sum(packing) / len(packing) or 1.0) if packing else pocket
        rise = _slope(lure, middling, near, step) if packing else slopes[0]
        once = pocket_sums(lure, middling, near) - rise * (near - held) - pocket_sums(lure, empty, held)
        ends = [_end(lure, middling, choice, near) for choice in shot]
        pieces.append(Piece(pocket.name, pocket.segment, slopes, once, room, packing, 0.0 if held > 0.0 else LEAST,
                            tuple(sums for sums, _ in ends), tuple(taken for _, taken in ends)))  # fmt: skip
    return tuple(pieces)


def _end(lure: Lure, pocket: Pocket, choice: Choice, near: float) -> tuple[Array, float]:
    """(8,) what the end of a pile does to a pocket's sums, and the room of solid ballast [kg] that it takes."""
    taken = max(piled(choice, pocket, 1) - choice.mass / (packing_of(choice, pocket) or 1.0), 0.0)
    longer = replace(pocket, packing=near / (near / pocket.packing + taken))
    return pocket_sums(lure, longer, near) - pocket_sums(lure, pocket, near), taken


def _slope(lure: Lure, pocket: Pocket, near: float, step: float) -> Array:
    """(8,) change of a pocket's sums per [kg] about a mass `near` [kg]."""
    rise: Array = pocket_sums(lure, pocket, near + step) - pocket_sums(lure, pocket, near - step)
    return rise / (2.0 * step)


def _loaded(lure: Lure, load: Load, shot: Sequence[Choice]) -> Lure:
    """The lure with a load in it; shot leaves gaps, so its bores are longer."""
    pockets = tuple(pile(lure, pocket, load.shot_in(pocket.name), shot)[0] for pocket in lure.pockets)
    held = {name: lure.held.get(name, 0.0) + mass for name, mass in load.masses.items()}
    return replace(lure, pockets=pockets).filled(held)


def _answer(before: Lure, after: Lure, target: Target, load: Load, *, in_shot: bool) -> Ballasting:
    state, effects = after.state()
    put = sum(after.held.values())
    worth = worth_inside(after)
    known = smooth(lambda s: put + (target.excess_at(s) - excess_mass(s, s[..., 8])) / worth, state, effects,
                   after.knowledge)  # fmt: skip
    needed = around(put if abs(known.value - put) <= _MET else max(known.value, 0.0), known.spread)
    used = [pocket for pocket in after.pockets if after.held.get(pocket.name, 0.0) > 0.0]
    loads = tuple(_pocket_load(before, after, pocket, load) for pocket in used)
    spare = min(needed.spread, sum(load.add for load in loads))
    left = float(excess_mass(state, after.water.density)) - target.excess
    tilt = steady_pitch(after, state) - target.aim.attitude
    return Ballasting(target, needed, put, loads, left, tilt, spare, in_shot, after)


def _pocket_load(before: Lure, after: Lure, pocket: Pocket, load: Load) -> PocketLoad:
    mass, bored = after.held[pocket.name], after.fills[pocket.name]
    add = mass - before.held.get(pocket.name, 0.0)
    taped = _taped(after, pocket, mass)
    bits = [_bit(pocket, bored, shop) for shop in ("metric", "inch")]
    return PocketLoad(pocket.name, pocket, mass, add, bored, load.shot_in(pocket.name), taped, bits[0], bits[1])


def _bit(pocket: Pocket, bored: Fill, shop: Literal["metric", "inch"]) -> Bit:
    drill = drill_for(pocket.bore, shop)
    depth = pocket.plug + (bored.depth - pocket.plug) * (pocket.bore / drill.diameter) ** 2
    return Bit(drill.name, drill.diameter, depth if pocket.drilled is None else bored.depth)


def worth_inside(lure: Lure) -> float:
    """What a gram of ballast inside adds to the weight in water: itself less what it replaces; lead, with no pocket."""
    if not lure.pockets:
        woods = [lure.wood_density_of(place) for place in range(len(lure.segments))]
        return 1.0 - sum(woods) / len(woods) / material("lead").density
    pockets = [pocket for pocket in lure.pockets if lure.held.get(pocket.name, 0.0) > 0.0] or list(lure.pockets)
    shares = [1.0 - _replaced_density(lure, pocket) / pocket.ballast_density for pocket in pockets]
    return sum(shares) / len(shares)


def _replaced_density(lure: Lure, pocket: Pocket) -> float:
    """[kg/m3] of what a little more ballast takes the place of: wood where the bore grows with it, else its plug."""
    if pocket.drilled is not None:
        return pocket.plug_density
    wood = lure.wood_density_of(pocket.segment)
    return wood / pocket.packing - (1.0 / pocket.packing - 1.0) * pocket.plug_density


def _taped(lure: Lure, pocket: Pocket, mass: float) -> float:
    """Ballast taped outside that weighs as much in water as `mass` in the pocket, plug and gone wood counted."""
    inside = float(pocket_sums(lure, pocket, mass)[MASS])
    return inside / (1.0 - lure.water.density / pocket.ballast_density)
