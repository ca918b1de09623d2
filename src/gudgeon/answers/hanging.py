"""Whether hooks can catch each other, the tow eye, lip, line or fin, with the joints straight and folded either way."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, product

import numpy as np

from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.hanging_findings import hanging_findings
from gudgeon.answers.hook_reach import Hanging, HookPair, HookReach, ToThing
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.pull_path import tow_eye
from gudgeon.answers.shanks import fitting_height
from gudgeon.design.hardware import Hook
from gudgeon.design.model import Design
from gudgeon.errors import OutsideSource
from gudgeon.library.hooks import hook_mass, hook_size, hook_sizes
from gudgeon.physics.hull import depth_at
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.spread import Array

MOST_JOINTS = 5  # between two things, up to which every way of folding is tried; beyond, curled and in zigzag


def hanging(design: Design, lure: Lure, folds: Sequence[float]) -> Hanging:
    """Reach of every hook, and what it can get at.

    folds  : [rad] per joint, how far it turns to each side
    raises : OutsideSource for a hook's size that is not in the table
    """
    hooks = tuple(_reach(lure, hook) for hook in sorted(design.hooks, key=lambda hook: hook.at))
    bends = _Bends(tuple(joint.at + joint_shape(joint, lure.hull).pivot for joint in design.joints), tuple(folds))
    pairs = tuple(_pair(bends, first, second) for first, second in combinations(hooks, 2))
    things = tuple(thing for hook in hooks for thing in _things(design, lure, bends, hook))
    found: list[Finding] = list(hanging_findings(design, lure, Hanging(hooks, pairs, things, ())))
    return Hanging(hooks, pairs, things, worst_first(found))


@dataclass(frozen=True)
class _Bends:
    """The joints' axes [m] from the nose, and how far each folds [rad]."""

    pivots: tuple[float, ...]
    folds: tuple[float, ...]

    def ways(self, first: int, second: int) -> Array:
        """Every way (k, joints) [rad] in which the joints between two pieces are straight or folded."""
        low, high = sorted((first, second))
        folds = np.array(self.folds[low:high])
        count = high - low
        if count <= MOST_JOINTS:
            signs = np.array(list(product((0.0, 1.0, -1.0), repeat=count))).reshape(3**count, count)
        else:
            zigzag = np.where(np.arange(count) % 2 == 0, 1.0, -1.0)
            signs = np.array([np.zeros(count), np.ones(count), -np.ones(count), zigzag, -zigzag])
        return np.asarray(signs * folds)

    def moved(self, points: Array, of: int, seen_from: int) -> Array:
        """Points (m, 3) of one piece as another sees them: (k, m, 3) [m], one for each way of folding."""
        ways = self.ways(of, seen_from)
        found = np.broadcast_to(points, (len(ways), *points.shape)).copy()
        low, high = sorted((of, seen_from))
        order = range(high - 1, low - 1, -1) if of > seen_from else range(low, high)
        for joint in order:
            angle = ways[:, joint - low, None] * (1.0 if of > seen_from else -1.0)
            x, y = found[..., 0] - self.pivots[joint], found[..., 1].copy()
            found[..., 0] = self.pivots[joint] + x * np.cos(angle) - y * np.sin(angle)
            found[..., 1] = x * np.sin(angle) + y * np.cos(angle)
        return found


def _reach(lure: Lure, hook: Hook) -> HookReach:
    """One hook's reach: as measured, else by its size, else by the size that weighs most like it."""
    size = hook.size or ""
    known_by = "its size" if size else "its weight"
    if not size and hook.weight is not None:
        mass = hook.weight.value
        size = min(hook_sizes(), key=lambda one: abs(math.log(hook_mass(one).mass / mass)))
    try:
        table = hook_size(size)
        usual: tuple[float, float, float] = (table.shank, table.gape, table.ring)
    except OutsideSource:
        if hook.shank is None or hook.gape is None or hook.ring is None:
            raise
        usual = (0.0, 0.0, 0.0)
    shank, gape, ring = (own if given is None else given
                         for own, given in zip(usual, (hook.shank, hook.gape, hook.ring), strict=True))  # fmt: skip
    if hook.shank is not None and hook.ring is not None:
        known_by = "as measured"
    height = hook.height
    if height is None:
        station = min(max(hook.at, lure.hull.start), lure.hull.stop)
        height = depth_at(lure.hull, station)[0]
    piece = segment_at(lure.segments, hook.at)[0]
    return HookReach(hook.name, (hook.at, hook.offset, height), piece, ring + shank, gape, size, known_by)


def _pair(bends: _Bends, first: HookReach, second: HookReach) -> HookPair:
    there = bends.moved(np.array([second.place]), second.piece, first.piece)[:, 0]
    distances = np.linalg.norm(there - np.asarray(first.place), axis=1)
    least = int(np.argmin(distances))
    ways = bends.ways(first.piece, second.piece)[least]
    return HookPair(first, second, float(distances[0]), float(distances[least]), _told(first.piece, ways))


def _told(first: int, ways: Array) -> str:
    """Which joints are folded, and to which side: "joints 1 and 2 to the right"."""
    right = [first + place + 1 for place, angle in enumerate(ways.tolist()) if angle > 0.0]
    left = [first + place + 1 for place, angle in enumerate(ways.tolist()) if angle < 0.0]
    return " and ".join(f"joint{'s' if len(some) > 1 else ''} {', '.join(map(str, some))} to the {side}"
                        for some, side in ((right, "right"), (left, "left")) if some)  # fmt: skip


def _things(design: Design, lure: Lure, bends: _Bends, hook: HookReach) -> Iterator[ToThing]:
    """What else a hook might reach."""
    eye, lip, fin = tow_eye(design), design.lip, design.fin
    if eye is not None:
        place = np.array([[eye.at, eye.offset, fitting_height(eye, lure.hull)]])
        piece = segment_at(lure.segments, eye.at)[0]
        yield _to_thing(bends, hook, "tow eye", piece, lambda at: _to_box(at, place, np.zeros(3)))
        yield _to_thing(bends, hook, "line", piece, lambda at: _to_line_ahead(at, place[0]))
    if lip is not None:
        edge = np.array([[lip.at - lip.exposed * math.cos(lip.angle), 0.0,
                          lip.height - lip.exposed * math.sin(lip.angle)]])  # fmt: skip
        half = np.array([0.0, 0.5 * lip.width, 0.0])
        yield _to_thing(bends, hook, "lip", segment_at(lure.segments, lip.at)[0], lambda at: _to_box(at, edge, half))
    if fin is not None:
        middle = np.array([[fin.at + 0.5 * fin.length, 0.0, fin.height]])
        halves = 0.5 * np.array([fin.length, fin.thickness, fin.tall])
        piece = segment_at(lure.segments, min(fin.at, lure.hull.stop))[0]
        yield _to_thing(bends, hook, "fin", piece, lambda at: _to_box(at, middle, halves))


def _to_thing(bends: _Bends, hook: HookReach, name: str, piece: int,
              distance: Callable[[Array], Array]) -> ToThing:  # fmt: skip
    seen = bends.moved(np.array([hook.place]), hook.piece, piece)[:, 0]
    distances = distance(seen)
    return ToThing(hook, name, float(distances[0]), float(distances.min()))


def _to_box(at: Array, middle: Array, halves: Array) -> Array:
    return np.asarray(np.linalg.norm(np.maximum(np.abs(at - middle) - halves, 0.0), axis=1))


def _to_line_ahead(at: Array, start: Array) -> Array:
    """From the line, straight ahead of where it is tied."""
    off = at - start
    off[:, 0] = np.maximum(off[:, 0], 0.0)
    return np.asarray(np.linalg.norm(off, axis=1))

