"""What a ballast bore comes near: the skin, the joints, the other bores, the hardware."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.ballasting import PocketLoad
from gudgeon.answers.buried import buried_hardware, pocket_bores
from gudgeon.answers.clashing import TENTH, WOOD_BETWEEN, Near, clash_of, nearest_pairs
from gudgeon.answers.hinging import made_hinges
from gudgeon.design.model import Design
from gudgeon.physics.hull import skin_heights
from gudgeon.physics.lure import Lure
from gudgeon.physics.mass import Place
from gudgeon.physics.section import half_widths
from gudgeon.physics.spread import Array

_SIDE_WALL = 0.002  # m of wood to leave, common practice, no source
_TOLD_WITHIN = 0.02  # m


@dataclass(frozen=True)
class Clearance:
    """The wood between one bore and one other thing.

    pocket   : the maker's name
    to       : what it comes near, in words
    distance : [m] of wood left; negative when they meet
    wanted   : [m]
    place    : (3,) [m] where they are nearest; None where that goes without saying
    mend     : what to change, with {by} where the amount goes
    by       : [m]
    """

    pocket: str
    to: str
    distance: float
    wanted: float
    place: Place | None = None
    mend: str = "Move it, or use a smaller bit"
    by: float = 0.0

    @property
    def is_enough(self) -> bool:
        """Whether as much wood is left as is wanted, to a tenth of a millimetre."""
        return self.distance >= self.wanted - 1e-4


def clearances(design: Design, lure: Lure, loads: Sequence[PocketLoad]) -> tuple[Clearance, ...]:
    """Every clearance of the bores in use: to the skin, the joints, and what else lies in the same piece.

    lure  : with its ballast in
    loads : that ballast
    """
    walls = {pocket.name: pocket.wall for pocket in design.pockets}
    hardware = buried_hardware(design, lure, made_hinges(design, lure))
    near = [_to_thing(pair, lure) for pair in nearest_pairs(pocket_bores(lure, loads), hardware, _TOLD_WITHIN)]
    found: list[Clearance] = []
    for load in loads:
        wall = walls[load.name]
        found.append(Clearance(load.name, "the skin beyond its end", _end_wall(load, wall), wall))
        found.append(Clearance(load.name, "the skin beside its ballast", _side_wall(lure, load), _SIDE_WALL))
        found += _to_joints(lure, load)
        found += [clearance for clearance in near if clearance.pocket == load.name]
    return tuple(found)


def _to_thing(pair: Near, lure: Lure) -> Clearance:
    """To another bore, or to hardware; bores come first in a pair."""
    clash = clash_of(pair, lure) if pair.apart.distance < WOOD_BETWEEN - TENTH else None
    name = pair.second.name
    pocket, distance = pair.first.own.removeprefix("pocket "), pair.apart.distance
    if clash is None:
        return Clearance(pocket, name, distance, WOOD_BETWEEN, pair.apart.place)
    return Clearance(pocket, name, distance, WOOD_BETWEEN, pair.apart.place, clash.mend, clash.by)


def _end_wall(load: PocketLoad, wall: float) -> float:
    return load.pocket.room + wall - load.bored.depth


def _side_wall(lure: Lure, load: PocketLoad) -> float:
    """Thinnest wood beside the ballast, across the bore, at its two ends and its middle."""
    middle, inward = np.asarray(load.bored.place), np.asarray(load.pocket.inward)
    places = middle + np.array([-0.5, 0.0, 0.5])[:, None] * load.bored.length * inward
    return float(_wood_beside(lure, load.pocket.inward, places).min()) - 0.5 * load.pocket.bore


def _wood_beside(lure: Lure, inward: Place, places: Array) -> Array:
    """From points (n, 3) of a bore's axis to the nearest skin across it, straight up, down or sideways."""
    x, y, z = places.T
    walls = []
    if abs(inward[1]) < 0.5:
        walls.append(half_widths(lure.hull.sections(np.clip(x, lure.hull.start, lure.hull.stop)), z) - np.abs(y))
    if abs(inward[2]) < 0.5:
        bottoms, tops = skin_heights(lure.hull, x, y)
        walls += [tops - z, z - bottoms]
    return np.concatenate(walls)


def _to_joints(lure: Lure, load: PocketLoad) -> list[Clearance]:
    """To the joint faces of its piece; ballast wants its own diameter of wood there (common practice, no source)."""
    if abs(load.pocket.inward[0]) > 0.5:
        return []
    segment = lure.segments[load.pocket.segment]
    x, radius = load.bored.place[0], 0.5 * load.pocket.bore
    aside = float(np.abs(_line(load)[:, 1]).max())
    found = []
    for number, joint in enumerate(lure.joints, start=1):
        if math.isclose(joint.at - 0.5 * joint.gap, segment.stop):
            found.append((number, _to_face(segment.stop - x, aside, joint.front_bevel) - radius))
        elif math.isclose(joint.at + 0.5 * joint.gap, segment.start):
            found.append((number, _to_face(x - segment.start, aside, joint.rear_bevel) - radius))
    return [Clearance(load.name, f"joint {number}", distance, load.pocket.bore) for number, distance in found]


def _to_face(ahead: float, aside: float, bevel: float) -> float:
    """From an upright axis to a vee'd face, square to it.

    ahead : [m] to the face where it stands out most, on the middle plane
    aside : [m] of the axis from that plane, where the face has receded
    """
    return (ahead - aside * math.tan(bevel)) * math.cos(bevel)


def _line(load: PocketLoad) -> Array:
    mouth = np.asarray(load.pocket.mouth)
    return np.array([mouth, mouth + load.bored.depth * np.asarray(load.pocket.inward)])

