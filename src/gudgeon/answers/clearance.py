"""What a ballast bore comes near: the skin, the joints, the other bores, the hardware."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.ballasting import PocketLoad
from gudgeon.physics.hull import half_width_at, skin_heights
from gudgeon.physics.lure import Lure
from gudgeon.physics.mass import Place
from gudgeon.physics.spread import Array

# Wood to leave, common practice, no source: between two bores, and between a bore and buried metal.
_BETWEEN_BORES = 0.002
_TO_METAL = 0.002
_SIDE_WALL = 0.002


@dataclass(frozen=True)
class Clearance:
    """The wood between one bore and one other thing.

    pocket   : the maker's name
    to       : what it comes near, in words
    distance : [m] of wood left; negative when they meet
    wanted   : [m]
    """

    pocket: str
    to: str
    distance: float
    wanted: float

    @property
    def is_enough(self) -> bool:
        """Whether as much wood is left as is wanted, to a tenth of a millimetre."""
        return self.distance >= self.wanted - 1e-4


def clearances(lure: Lure, loads: Sequence[PocketLoad], walls: dict[str, float]) -> tuple[Clearance, ...]:
    """Every clearance of the bores in use.

    walls : pocket name -> [m] wood wanted beyond the bore's end
    """
    found: list[Clearance] = []
    for place, load in enumerate(loads):
        found.append(
            Clearance(load.name, "the skin beyond its end", _end_wall(load, walls[load.name]), walls[load.name])
        )
        found.append(Clearance(load.name, "the skin beside its ballast", _side_wall(lure, load), _SIDE_WALL))
        found += _to_joints(lure, load)
        found += [_to_bore(load, other) for other in loads[place + 1 :]]
        found += _to_hardware(lure, load)
    return tuple(found)


def _end_wall(load: PocketLoad, wall: float) -> float:
    return load.pocket.room + wall - load.bored.depth


def _side_wall(lure: Lure, load: PocketLoad) -> float:
    """Thinnest wood beside the ballast, across the bore, at its two ends and its middle."""
    middle, inward = np.asarray(load.bored.place), np.asarray(load.pocket.inward)
    places = [middle + share * load.bored.length * inward for share in (-0.5, 0.0, 0.5)]
    return min(_wood_beside(lure, load.pocket.inward, place) for place in places) - 0.5 * load.pocket.bore


def _wood_beside(lure: Lure, inward: Place, place: Array) -> float:
    """From a point of a bore's axis to the nearest skin across it, straight up, down or sideways."""
    x, y, z = (float(part) for part in place)
    walls = []
    if abs(inward[1]) < 0.5:
        walls.append(half_width_at(lure.hull, x, z) - abs(y))
    if abs(inward[2]) < 0.5:
        bottoms, tops = skin_heights(lure.hull, np.array([x]), np.array([y]))
        walls += [float(tops[0]) - z, z - float(bottoms[0])]
    return min(walls)


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


def _to_bore(load: PocketLoad, other: PocketLoad) -> Clearance:
    ends = [_line(load), _line(other)]
    distance = _between_lines(*ends) - 0.5 * (load.pocket.bore + other.pocket.bore)
    return Clearance(load.name, f"the {other.name} bore", distance, _BETWEEN_BORES)


def _to_hardware(lure: Lure, load: PocketLoad) -> list[Clearance]:
    """To what is buried in the same segment; a pin or plate runs the height of the body."""
    found = []
    axis = _line(load)
    for item in lure.fixed:
        if item.kind != "slot" or item.segment != load.pocket.segment:
            continue
        name = item.name.removeprefix("wood out for ")
        point = np.asarray(item.place)
        distance = _between_lines(axis, np.array([point, point])) - 0.5 * load.pocket.bore
        found.append(Clearance(load.name, name, distance, _TO_METAL))
    return found


def _line(load: PocketLoad) -> Array:
    mouth = np.asarray(load.pocket.mouth)
    return np.array([mouth, mouth + load.bored.depth * np.asarray(load.pocket.inward)])


def _between_lines(first: Array, second: Array) -> float:
    """Least distance [m] between two stretches, each given by its ends (2, 3)."""
    shares = np.linspace(0.0, 1.0, 41)[:, None]
    a = first[0] + shares * (first[1] - first[0])
    b = second[0] + shares * (second[1] - second[0])
    return float(np.sqrt(((a[:, None, :] - b[None, :, :]) ** 2).sum(axis=2)).min())
