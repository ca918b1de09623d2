"""What one difference between two lures does to the first of them, by the model: heavier in water, turned, leaning.

A difference is put on the first lure as it was measured, alone, all else as it is.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import worth_inside
from gudgeon.answers.piling import pocket_sums
from gudgeon.answers.twin_facts import Fact, crosses
from gudgeon.design.model import Design
from gudgeon.errors import NoAnswer
from gudgeon.physics.floater import floating_body, sunk_if_hanging
from gudgeon.physics.flotation import Resting, resting
from gudgeon.physics.lure import WATER, Lure
from gudgeon.physics.mass import MASS, MASS_X, MASS_Y, MASS_Z, VOLUME, VOLUME_X, VOLUME_Z
from gudgeon.physics.pocket import Pocket
from gudgeon.physics.sinking import heel, pitch
from gudgeon.physics.spread import Array

_COAT = 1150.0  # kg/m3, of a coat where the drawing has none; common practice, no source
_WATER = 998.0  # kg/m3, in a jug
_SHOWS = 2e-4, 0.002  # kg, share of the water displaced: a weight in water that shows
_TURN_SHOWS = math.radians(2.0)
_UPRIGHT = math.radians(30.0)
_LEVER_SHOWS = 0.02  # of the body's depth


@dataclass(frozen=True)
class Effect:
    """What a difference does.

    excess : [kg] more weight in water        lever : [m] more height of buoyancy over weight
    pitch, heel : [rad] nose-up, right side down
    shows  : how much that is, 1 where it just shows at the water
    """

    excess: float
    pitch: float
    heel: float
    lever: float
    shows: float


@dataclass(frozen=True)
class Reference:
    """The lure that the others are held against, as it was measured.

    worth : [1] what a gram of ballast inside adds to its weight in water
    """

    lure: Lure
    state: Array
    rest: Resting | None
    worth: float


def reference(design: Design) -> Reference:
    """A lure as measured, ready to have differences put on it; raises BadDesign."""
    lure = assemble(design)
    body = sunk_if_hanging(floating_body(lure), lure.water.density)
    try:
        rest = resting(body, lure.water.density, drag_centre=np.asarray(lure.falling.drag_centre))
    except NoAnswer:
        rest = None
    return Reference(lure, lure.state()[0], rest, worth_inside(lure))


def effect(of: Reference, fact: Fact, change: float, other: Lure, *, dunked_bare: bool) -> Effect:
    """What a difference does.

    change      : [SI] the other lure's value less the first's
    other       : the other lure as it was measured
    dunked_bare : whether the water displaced is told without coats
    """
    moved = _moved(of, fact, change, other, dunked_bare=dunked_bare)
    after, water = of.state.copy(), float(of.state[WATER])
    after[:WATER] += moved
    excess = float(moved[MASS] - water * moved[VOLUME])
    turned, leaned = _turned(of, moved, after)
    lever = _lever(after) - _lever(of.state)
    least = max(_SHOWS[0], _SHOWS[1] * water * float(of.state[VOLUME]))
    shows = max(abs(excess) / least, abs(turned) / _TURN_SHOWS, abs(leaned) / _TURN_SHOWS,
                abs(lever) / (_LEVER_SHOWS * of.lure.depth))  # fmt: skip
    return Effect(excess, turned, leaned, lever, shows)


def _lever(state: Array) -> float:
    return float(state[VOLUME_Z] / state[VOLUME] - state[MASS_Z] / state[MASS])


def _turned(of: Reference, moved: Array, after: Array) -> tuple[float, float]:
    """Pitch and heel [rad] that it turns by: under water by the whole couple, afloat by its stiffness."""
    water, lure = float(of.state[WATER]), of.lure
    if of.rest is None or of.rest.afloat is None:
        sums, then = of.state[:WATER], after[:WATER]
        turned = float(pitch(then, water, lure.falling) - pitch(sums, water, lure.falling))
        return turned, float(heel(then, water, lure.falling) - heel(sums, water, lure.falling))
    x, y = (float(part) for part in of.rest.displaced_centre[:2])
    net = moved[MASS] - water * moved[VOLUME]
    lengthwise = moved[MASS_X] - water * moved[VOLUME_X] - x * net
    across = moved[MASS_Y] - y * net
    mass = float(of.state[MASS])
    heights = of.rest.lengthwise_metacentric_height, of.rest.transverse_metacentric_height
    turns = [float(couple) / (mass * height) if height > 0.0 else 0.0
             for couple, height in zip((lengthwise, across), heights, strict=True)]  # fmt: skip
    return turns[0], turns[1] if abs(of.rest.heel) < _UPRIGHT else 0.0  # nothing leans what lies on its side


def _moved(of: Reference, fact: Fact, change: float, other: Lure, *, dunked_bare: bool) -> Array:
    """(8,) change of the sums."""
    if fact.kind == "displaced":
        return _water(of, fact.of, change / _WATER)
    if fact.kind in ("lead", "place"):
        return _bore(of, fact, other)
    if fact.kind == "part":
        return _part(of, fact.of, change)
    moved = _weight(of, fact.of if fact.kind == "piece" else "", change)
    is_coat = fact.kind == "gain" and crosses(fact.since, fact.of, "clear" if fact.of != "primed" else "primed")
    if is_coat and dunked_bare:
        moved += _water(of, "", change / _coat_density(of))
    return moved


def _centre(of: Reference, piece: str) -> tuple[float, Array]:
    """[m3] of bare wood, and the middle of it, of one piece or of all."""
    segments = [segment for segment in of.lure.segments if piece in ("", "whole", segment.name)]
    volumes = np.array([segment.bare for segment in segments])
    return float(volumes.sum()), volumes @ np.array([segment.centre for segment in segments]) / volumes.sum()


def _weight(of: Reference, piece: str, mass: float) -> Array:
    moved = np.zeros(WATER)
    moved[MASS] = mass
    moved[MASS_X : MASS_Z + 1] = mass * _centre(of, piece)[1]
    return moved


def _water(of: Reference, piece: str, volume: float) -> Array:
    moved = np.zeros(WATER)
    moved[VOLUME] = volume
    moved[VOLUME_X : VOLUME_Z + 1] = volume * _centre(of, piece)[1]
    return moved


def _coat_density(of: Reference) -> float:
    coats = [item for item in of.lure.ledger.items if item.kind == "coat"]
    volume = sum(item.displaced for item in coats)
    return sum(item.mass for item in coats) / volume if volume > 0.0 else _COAT


def _part(of: Reference, name: str, change: float) -> Array:
    """One part made heavier, as much larger."""
    own = [item for item in of.lure.ledger.items if item.name == name]
    mass = sum(item.mass for item in own)
    return change / mass * np.array([item.sums() for item in own]).sum(axis=0) if mass > 0.0 else np.zeros(WATER)


def _bore(of: Reference, fact: Fact, other: Lure) -> Array:
    """One hole as the other lure has it: its lead in this one's place, or this one's lead in its place."""
    own, theirs = (_pocket(lure, fact.of) for lure in (of.lure, other))
    known = own or theirs
    if known is None:  # lead in a hole that neither file nor log has a place for
        return np.zeros(WATER)
    mass = of.lure.held.get(fact.of, 0.0)
    if fact.kind == "lead":
        bored = replace(known, drilled=None)
        found: Array = pocket_sums(of.lure, bored, other.held.get(fact.of, 0.0)) - pocket_sums(of.lure, bored, mass)
        return found
    moved: Array = pocket_sums(of.lure, theirs or known, mass) - pocket_sums(of.lure, known, mass)
    return moved


def _pocket(lure: Lure, name: str) -> Pocket | None:
    return next((pocket for pocket in lure.pockets if pocket.name == name), None)
