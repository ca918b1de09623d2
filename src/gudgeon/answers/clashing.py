"""What in the wood meets what, or comes too near: bores, shanks, hinges, slots, the skin, the joint faces; and what to
move."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from gudgeon.answers.ballasting import PocketLoad
from gudgeon.answers.buried import Buried, buried_hardware, pocket_bores
from gudgeon.answers.finding import Finding
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.saying import plain, watch, wrong
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure
from gudgeon.physics.mass import Place
from gudgeon.physics.shapes import Apart, Rod, all_apart, bounds, reach, walls
from gudgeon.units import Measure

WOOD_BETWEEN = 0.002  # m to leave between two things, and to the skin; common practice, no source
TENTH = 1e-4  # m: nearer than this to what is wanted is as wanted
_MOVABLE = ("bore", "shank")
_FURTHEST = 0.05  # m that anything is told to be moved
_LONGEST_SHANK = 0.025  # m looked along behind an eye whose shank is not told


@dataclass(frozen=True)
class Near:
    """Two things in one piece, and how far apart they are."""

    first: Buried
    second: Buried
    apart: Apart


@dataclass(frozen=True)
class Clash:
    """Two things too near each other, or one too near the skin or a joint face.

    what, to : in words
    place    : (3,) [m] where they are nearest
    distance : [m] of wood left; negative when they meet
    wanted   : [m]
    mend     : what to change, with {by} where the amount goes
    by       : [m]
    is_ballast : one of them is a bore for ballast
    most     : [m] of an eye whose shank is not told: the longest that does not reach the other; None for all else
    """

    what: str
    to: str
    place: Place
    distance: float
    wanted: float
    mend: str
    by: float
    is_ballast: bool
    most: float | None = None

    @property
    def finding(self) -> Finding:
        """As it is told: a meeting is wrong, too little wood is to be watched."""
        if self.most is not None:
            return self._of_shank(self.most)
        meets = self.distance <= 0.0
        did = "meets {to} by {left}" if meets else "leaves {left} of wood to {to}, {wanted} wanted"
        words = did.replace("{to}", plain(self.to))
        x, y, z = self.place
        aside = "" if abs(y) < 5e-4 else ", {aside} to the " + ("right" if y > 0.0 else "left")
        start = plain(self.what)
        start = start[0].upper() + start[1:]
        return (wrong if meets else watch)(
            f"{start} {words}, {{at}} from the nose at a height of {{height}}{aside}. {self.mend}.",
            at=(x, Measure.LENGTH), height=(z, Measure.LENGTH), aside=(abs(y), Measure.LENGTH),
            left=(abs(self.distance), Measure.LENGTH), wanted=(self.wanted, Measure.LENGTH),
            by=(self.by, Measure.LENGTH),
        )  # fmt: skip

    def _of_shank(self, most: float) -> Finding:
        x, _, z = self.place
        return watch(f"A shank of more than {{most}} behind {plain(self.what)} meets {plain(self.to)}, {{at}} from the "
                     "nose at a height of {height}. A shorter one, or bend it aside.",
                     most=(most, Measure.LENGTH), at=(x, Measure.LENGTH), height=(z, Measure.LENGTH))  # fmt: skip


def clashes(design: Design, lure: Lure, loads: Sequence[PocketLoad]) -> tuple[Clash, ...]:
    """Everything in the wood that meets or crowds something else, worst first.

    loads : ballast as it is to go in; none where the lure is as it is filled
    """
    bores, hardware = pocket_bores(lure, loads), buried_hardware(design, lure, made_hinges(design, lure))
    near = nearest_pairs((*bores, *hardware), (), WOOD_BETWEEN)
    found = [clash_of(pair, lure) for pair in near if pair.apart.distance < WOOD_BETWEEN - TENTH]
    found += [clash for clash in _to_skin(lure, hardware) if clash.distance < clash.wanted - TENTH]
    found += [clash for thing in hardware for clash in _to_faces(lure, thing) if clash.distance < clash.wanted - TENTH]
    found += _untold_shanks((*bores, *hardware), {(clash.what, clash.to) for clash in found})
    return tuple(sorted(found, key=lambda clash: clash.distance - clash.wanted))


def _untold_shanks(things: Sequence[Buried], told: set[tuple[str, str]]) -> list[Clash]:
    """Eyes of which the shank is not told: how long it may be before it meets something.

    told : what is told already, with the usual shank
    """
    found = []
    for thing in (thing for thing in things if thing.is_usual and isinstance(thing.shape, Rod)):
        lengths = np.linspace(0.0, _LONGEST_SHANK, 101)[1:].tolist()
        others = [other for other in things if other is not thing]
        for near in nearest_pairs((_as_long(thing, lengths[-1]),), others, 0.0):
            other = near.second
            if near.apart.distance > 0.0 or {(thing.name, other.name), (other.name, thing.name)} & told:
                continue
            shapes = [_as_long(thing, length).shape for length in lengths]
            gaps = [how.distance for how in all_apart(shapes, [other.shape] * len(shapes))]
            most = max((length for length, gap in zip(lengths, gaps, strict=True) if gap > 0.0), default=0.0)
            found.append(Clash(thing.name, other.name, near.apart.place, WOOD_BETWEEN, WOOD_BETWEEN,
                               "A shank of {by} at most, or bend it aside", most, is_ballast=False,
                               most=most))  # fmt: skip
    return found


def _as_long(thing: Buried, length: float) -> Buried:
    """A shank of another length [m]."""
    assert isinstance(thing.shape, Rod)
    start, way = np.asarray(thing.shape.start), thing.shape.axes[0]
    x, y, z = (start + length * way).tolist()
    return replace(thing, shape=replace(thing.shape, stop=(x, y, z)))


def nearest_pairs(firsts: Sequence[Buried], others: Sequence[Buried], within: float) -> tuple[Near, ...]:
    """Pairs in one piece that are not meant to touch and come within a distance [m] of each other, or nearly so.

    firsts : each is held against the rest of them and against `others`, which are not held against each other
    """
    things = (*firsts, *others)
    if len(things) < 2:
        return ()
    least, most = bounds([thing.shape for thing in things]).swapaxes(0, 1)
    between = np.maximum(least[None] - most[:, None], least[:, None] - most[None]).max(axis=2)
    near = [pair for pair in np.argwhere(np.triu(between < within, 1)).tolist() if pair[0] < len(firsts)]
    pairs = [(things[first], things[second]) for first, second in near]
    pairs = [(one, other) for one, other in pairs if one.piece == other.piece and not one.may_touch(other)]
    found = all_apart([one.shape for one, _ in pairs], [other.shape for _, other in pairs])
    return tuple(Near(one, other, how) for (one, other), how in zip(pairs, found, strict=True))


def clash_of(near: Near, lure: Lure) -> Clash:
    """A pair as a clash: what is easiest to move is told to be moved, where it then still lies in its piece."""
    first, second = near.first, near.second
    if second.kind in _MOVABLE and first.kind not in _MOVABLE:
        first, second = second, first
    mend, by = _mend(first, second, near.apart.distance, lure)
    is_ballast = "bore" in (first.kind, second.kind)
    return Clash(first.name, second.name, near.apart.place, near.apart.distance, WOOD_BETWEEN, mend, by, is_ballast)


def _mend(first: Buried, second: Buried, distance: float, lure: Lure) -> tuple[str, float]:
    if first.kind in _MOVABLE:
        axis = 0 if "skin" in first.opens and "front" not in first.opens and "rear" not in first.opens else 2
        way, by = shift(first, second, axis)
        if by < _FURTHEST and _stays(first, axis, way * by, lure):
            words = ("toward the tail", "toward the nose") if axis == 0 else ("up", "down")
            return f"Move {plain(first.name)} {{by}} {words[way < 0.0]}{_or_else(first)}", by
    for wire, other in ((first, second), (second, first)):
        if wire.kind == "channel" and isinstance(wire.shape, Rod):
            way, by = shift(wire, other, 2)
            shallower = f", or make {plain(other.name)} as much shallower" if other.kind == "bore" else ""
            return f"{'Raise' if way > 0.0 else 'Lower'} the harness by {{by}}{shallower}", by
        if wire.kind == "channel" and other.kind == "bore":
            return f"Drill {plain(other.name)} in from the back, short of the wire, or bore the harness's way", 0.0
    for thing in (first, second):
        if thing.kind in ("eye", "plate", "strap"):
            return f"Bury {plain(thing.name)} {{by}} less, or move it to another height", WOOD_BETWEEN - distance
    if first.kind in _MOVABLE:
        how = "Use a smaller bit, or drill" if first.kind == "bore" else "Make"
        return f"{how} {plain(first.name)} {'less deep' if first.kind == 'bore' else 'shorter'}", 0.0
    return f"Move {plain(first.name)} or {plain(second.name)}", WOOD_BETWEEN - distance


def _stays(thing: Buried, axis: int, by: float, lure: Lure) -> bool:
    """Whether a thing moved along an axis, so far [m], still lies in its piece."""
    moved = thing.shape.moved((by, 0.0, 0.0) if axis == 0 else (0.0, 0.0, by))
    points = moved.points
    if axis == 0:
        piece = lure.segments[thing.piece]
        return bool(points[:, 0].min() > piece.start + WOOD_BETWEEN and points[:, 0].max() < piece.stop - WOOD_BETWEEN)
    return bool(walls(lure.hull, points.mean(axis=0, keepdims=True))[0] > 0.0)


def _or_else(thing: Buried) -> str:
    return ", or use a smaller bit" if thing.kind == "bore" else ", or make it shorter"


def shift(first: Buried, second: Buried, axis: int) -> tuple[float, float]:
    """The least move along one axis that leaves the wood wanted: its direction, 1 or -1, and how far [m]."""
    best = (1.0, math.inf)
    for way in (1.0, -1.0):
        along: Place = (way, 0.0, 0.0) if axis == 0 else (0.0, 0.0, way)
        back: Place = (-along[0], -along[1], -along[2])
        low, high = 0.0, max(reach(second.shape, along) + reach(first.shape, back) + WOOD_BETWEEN, 0.0)
        for _ in range(3):
            tried = np.linspace(low, high, 9)[1:].tolist()
            moved = [first.shape.moved((by * along[0], by * along[1], by * along[2])) for by in tried]
            clear = [how.distance >= WOOD_BETWEEN for how in all_apart(moved, [second.shape] * len(moved))]
            place = clear.index(True) if True in clear else len(clear) - 1
            low, high = (tried[place - 1] if place else low), tried[place]
        if high < best[1]:
            best = (way, high)
    return best


_SHORTER = {
    "pin": "Make it {by} shorter at that end", "eye": "Bury it {by} less, or move it to another height",
    "plate": "Make it {by} narrower on each side, or move it to a height where the body is wider",
    "strap": "Make it {by} less tall at that end", "slot": "Move it to a height where the body is wider",
    "shank": "A shank {by} shorter", "channel": "Move it away by {by}",
}  # fmt: skip


def _to_skin(lure: Lure, things: Sequence[Buried]) -> list[Clash]:
    """Wood left to the skin round what should not come out through it, and past the tip of what goes in through it."""
    told = [thing for thing in things if "skin" not in thing.opens or thing.kind == "shank"]
    points = [_inner_points(thing) for thing in told]
    if not points:
        return []
    wood = walls(lure.hull, np.concatenate(points))
    found, start = [], 0
    for thing, own in zip(told, points, strict=True):
        left = wood[start : start + len(own)]
        start += len(own)
        worst = int(np.argmin(left))
        x, y, z = own[worst].tolist()
        found.append(Clash(thing.name, "the skin", (x, y, z), float(left[worst]), WOOD_BETWEEN, _SHORTER[thing.kind],
                           WOOD_BETWEEN - float(left[worst]), is_ballast=False))  # fmt: skip
    return found


def _inner_points(thing: Buried) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """Points (k, 3) [m] of its surface that should have wood round them: for a shank, those of its inner end."""
    points = thing.shape.points
    return points[-len(points) // 7 :] if thing.kind == "shank" else points


def _to_faces(lure: Lure, thing: Buried) -> list[Clash]:
    """Wood left to the joint faces of its piece that it does not open onto; a vee recedes on both sides."""
    piece = lure.segments[thing.piece]
    found = []
    for number, joint in enumerate(lure.joints, start=1):
        if thing.piece == number - 1 and "rear" not in thing.opens:
            found.append((number, 1.0, piece.stop, joint.front_bevel))
        elif thing.piece == number and "front" not in thing.opens:
            found.append((number, -1.0, piece.start, joint.rear_bevel))
    return [_to_face(thing, number, way, station, bevel) for number, way, station, bevel in found]


def _to_face(thing: Buried, number: int, way: float, station: float, bevel: float) -> Clash:
    cos, sin = math.cos(bevel), math.sin(bevel)
    left = min(way * station * cos - reach(thing.shape, (way * cos, side * sin, 0.0)) for side in (1.0, -1.0))
    x, y, z = (float(c) for c in thing.shape.points[int(np.argmax(way * thing.shape.points[:, 0]))])
    toward = "the nose" if way > 0.0 else "the tail"
    mend = f"Move it {{by}} toward {toward}" if thing.kind != "eye" else "Bury it {by} less"
    return Clash(thing.name, f"the face of joint {number}", (x, y, z), left, WOOD_BETWEEN, mend, WOOD_BETWEEN - left,
                 is_ballast=False)  # fmt: skip
