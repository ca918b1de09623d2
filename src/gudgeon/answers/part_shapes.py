"""What every part looks like from the left side, in its place: outlines in metres, x aft of the nose and z up."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.hanging import hanging
from gudgeon.answers.harness_items import NAME
from gudgeon.answers.harness_run import runs
from gudgeon.answers.hinge_made import HingePart, MadeHinge
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.shanks import USUAL_WIRE, buried_rod, fitting_height, fitting_shank, has_shank
from gudgeon.design.hardware import Fin, Fitting, Lip
from gudgeon.design.model import Design
from gudgeon.errors import OutsideSource
from gudgeon.library.hooks import hook_size
from gudgeon.library.metals import material
from gudgeon.physics.face_edge import FaceEdge, face_edge
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.pocket import Pocket
from gudgeon.physics.shapes import bounds

Array = NDArray[np.float64]
Way = tuple[float, float]

# Where a maker does not say, as drawn; common practice, no source.
LOOP_WIRES = 5.0  # wires an eye's loop is across, outside
_EYE_SHARE = 0.12  # of a hook's shank, its eye
_POINT_SHARE = 0.3  # of a hook's shank, how high its points stand over the bend

_DOWN, _UP, _AHEAD, _AFT = (0.0, -1.0), (0.0, 1.0), (-1.0, 0.0), (1.0, 0.0)
_TURN = np.linspace(0.0, 2.0 * math.pi, 37)[:-1]
_CURVE = 81  # points along a back or belly


@dataclass(frozen=True, eq=False)
class PartShape:
    """One part.

    name  : as in `PartEntry.names`
    piece : it is taken out of, from 0
    rings : closed outlines (k, 2) [m]      lines : open ones
    at    : (2,) [m] a point on it, to point at
    pull  : (2,) unit vector along which it is drawn out; none for a piece of wood or what lies on it
    home  : (2,) [m] where it comes out of, or hangs from
    """

    name: str
    piece: int
    rings: tuple[Array, ...]
    lines: tuple[Array, ...]
    at: tuple[float, float]
    pull: Way | None
    home: tuple[float, float]

    @property
    def points(self) -> Array:
        """All of it (k, 2) [m]."""
        return np.concatenate([*self.rings, *self.lines])


def part_shapes(design: Design, lure: Lure) -> tuple[PartShape, ...]:
    """Every part that has a shape of its own: wood, hinges, fittings, lip, fin, plugs and slugs, rings and hooks."""
    found = [*_pieces(design, lure)]
    for made in made_hinges(design, lure):
        found += [_hinge_part(made, part) for part in made.parts]
    found += [_fitting(lure, fitting) for fitting in design.fittings]
    if design.lip is not None:
        found.append(_lip(lure, design.lip))
    if design.fin is not None:
        found.append(_fin(lure, design.fin))
    found += _harness(design, lure)
    for pocket in lure.pockets:
        found += _filling(lure, pocket)
    return (*found, *_hooks(design, lure))


def _pieces(design: Design, lure: Lure) -> Iterator[PartShape]:
    """The wood, each face where its middle is, and where it leaves the skin."""
    hull, edges = lure.bare_hull, list[tuple[FaceEdge, FaceEdge]]()
    for joint in design.joints:
        bare = joint_shape(joint, lure.hull).bared(lure.build)
        edges.append((face_edge(hull, joint.at, bare.front), face_edge(hull, joint.at, bare.rear)))
    for place, segment in enumerate(lure.segments):
        ahead = edges[place - 1][1] if place > 0 else None
        behind = edges[place][0] if place < len(edges) else None
        start = hull.start if ahead is None else float(ahead.stations[0])
        stop = hull.stop if behind is None else float(behind.stations[0])
        x = start + (stop - start) * 0.5 * (1.0 - np.cos(np.linspace(0.0, math.pi, _CURVE)))
        back, belly = np.stack([x, hull.back(x)], axis=1), np.stack([x, hull.belly(x)], axis=1)[::-1]
        rear = [] if behind is None or _is_outermost(behind, 1.0) else [behind.skin_line]
        front = [] if ahead is None or _is_outermost(ahead, -1.0) else [ahead.skin_line[::-1]]
        lines = tuple(edge.skin_line for edge in (ahead, behind) if edge is not None and np.ptp(edge.stations) > 1e-4)
        middle = 0.6 * start + 0.4 * stop
        top = float(hull.back(np.array([middle]))[0])
        yield PartShape(f"wood, {segment.name}", place, (np.concatenate([back, *rear, belly, *front]),), lines,
                        (middle, 0.6 * top), None, (middle, 0.0))  # fmt: skip


def _is_outermost(edge: FaceEdge, way: float) -> bool:
    """Whether a face reaches furthest at its middle; way : 1 when its piece lies ahead, -1 when behind."""
    return bool((way * (edge.stations - edge.stations[0])).max() < 1e-6)


def _ring(x: float, z: float, radius: float) -> Array:
    return np.stack([x + radius * np.cos(_TURN), z + radius * np.sin(_TURN)], axis=1)


def _oblong(low: Array, high: Array) -> Array:
    return np.array([(low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1])])


def _hinge_part(made: MadeHinge, part: HingePart) -> PartShape:
    low, high = bounds([part.shape])[0][:, [0, 2]]
    name, piece = f"{made.name}: {part.name}", part.bare.piece
    middle = (float(0.5 * (low[0] + high[0])), float(0.5 * (low[1] + high[1])))
    if part.kind == "pin":
        return PartShape(name, piece, (_oblong(low, high),), (), middle, _UP, (made.pivot, float(high[1])))
    into = 1.0 if piece == made.joint else -1.0
    home = (made.faces[1] if into > 0.0 else made.faces[0], part.level)
    pull = _AHEAD if into > 0.0 else _AFT
    if part.kind != "eye":
        return PartShape(name, piece, (_oblong(low, high),), (), middle, pull, home)
    sizes = made.sizes
    linked, outer = sizes.kind == "screw eyes", 0.5 * sizes.eye + sizes.wire
    x = made.pivot + (0.5 * into * sizes.eye if linked else 0.0)
    round_: tuple[Array, ...] = (_oblong(np.array([x - outer, part.level - 0.5 * sizes.wire]),
                                         np.array([x + outer, part.level + 0.5 * sizes.wire])),)  # fmt: skip
    at = (x, part.level)
    if linked and piece == made.joint:  # of two linked eyes the one behind stands upright
        round_ = (_ring(x, part.level, outer), _ring(x, part.level, 0.5 * sizes.eye))
        at = (x, part.level + 0.5 * (outer + 0.5 * sizes.eye))
    return PartShape(name, piece, (_oblong(low, high), *round_), (), at, pull, home)


def _fitting(lure: Lure, fitting: Fitting) -> PartShape:
    piece = segment_at(lure.segments, fitting.at)[0]
    x, z = fitting.at, fitting_height(fitting, lure.hull)
    if has_shank(fitting):
        return _eye(lure, fitting, piece)
    rod = buried_rod(lure.hull, fitting)
    if rod is None or fitting.kind == "glass eye":
        volume = fitting.weight.value / material(fitting.material).density
        radius = (0.75 * volume / math.pi) ** (1.0 / 3.0) if rod is None else rod.radius
        return PartShape(fitting.name, piece, (_ring(x, z, radius),), (), (x, z), _UP if rod else _DOWN, (x, z))
    low, high = bounds([rod])[0][:, [0, 2]]
    pull = _UP if fitting.kind in ("pin", "plate") or z > 0.0 else _DOWN
    return PartShape(fitting.name, piece, (_oblong(low, high),), (), (x, z), pull, (x, z))


def _eye(lure: Lure, fitting: Fitting, piece: int) -> PartShape:
    """Shank and loop; one that goes in from the side is drawn end on, and pulled down."""
    rod = fitting_shank(lure.hull, fitting)
    wire = USUAL_WIRE if fitting.wire is None else fitting.wire
    outer = 0.5 * (LOOP_WIRES * wire if fitting.loop is None else fitting.loop)
    way = (np.asarray(rod.start) - np.asarray(rod.stop))[[0, 2]]
    along = float(np.hypot(*way))
    out: Way = (float(way[0]) / along, float(way[1]) / along) if along > 1e-6 else _DOWN
    low, high = bounds([rod])[0][:, [0, 2]]
    shank = _oblong(low, high) if along > 1e-6 else _ring(rod.start[0], rod.start[2], rod.radius)
    x, z = rod.start[0] + outer * out[0], rod.start[2] + outer * out[1]
    rings = (shank, _ring(x, z, outer), _ring(x, z, max(outer - wire, 0.3 * outer)))
    at = (x - (outer - 0.5 * wire), z)
    return PartShape(fitting.name, piece, rings, (), at, out, (rod.start[0], rod.start[2]))


def _lip(lure: Lure, lip: Lip) -> PartShape:
    along = np.array([-math.cos(lip.angle), -math.sin(lip.angle)])
    under = lip.thickness * np.array([math.sin(lip.angle), -math.cos(lip.angle)])
    start = np.array([lip.at, lip.height])
    ends = start - lip.set_in * along, start + lip.exposed * along
    ring = np.array([ends[0], ends[1], ends[1] + under, ends[0] + under])
    (x, z), (out, up) = (start + 0.5 * lip.exposed * along + 0.5 * under).tolist(), along.tolist()
    piece = segment_at(lure.segments, lip.at)[0]
    return PartShape("lip", piece, (ring,), (), (x, z), (out, up), (lip.at, lip.height))


def _fin(lure: Lure, fin: Fin) -> PartShape:
    half = 0.5 * fin.tall
    ring = _oblong(np.array([fin.at - fin.set_in, fin.height - half]),
                   np.array([fin.at + fin.length, fin.height + half]))  # fmt: skip
    return PartShape("fin", segment_at(lure.segments, fin.at)[0], (ring,), (),
                     (fin.at + 0.5 * fin.length, fin.height + 0.5 * half), _AFT, (fin.at, fin.height))  # fmt: skip


def _harness(design: Design, lure: Lure) -> Iterator[PartShape]:
    """The run of its wire, in one."""
    found = runs(design, lure.hull, lure.segments)
    if design.harness is None or not found:
        return
    half, level = (1.0 if design.harness.twisted else 0.5) * design.harness.wire, design.harness.height
    ring = _oblong(np.array([found[0].start, level - half]), np.array([found[-1].stop, level + half]))
    middle = 0.5 * (found[0].start + found[-1].stop)
    yield PartShape(NAME, found[0].piece, (ring,), (), (middle, level), _DOWN, (found[0].start, level))


def _filling(lure: Lure, pocket: Pocket) -> Iterator[PartShape]:
    """Slug and plug of a bore."""
    bored = lure.fills[pocket.name]
    if bored.depth <= 0.0:
        return
    way = np.asarray(pocket.inward)[[0, 2]]
    out: Way = (-float(way[0]), -float(way[1])) if float(np.hypot(*way)) > 0.5 else _DOWN
    mouth = (pocket.mouth[0], pocket.mouth[2])
    filled = bored.depth - bored.length
    for name, first, last in (("plug", 0.0, filled), ("ballast", filled, bored.depth)):
        if last - first < 1e-5 or (name == "ballast" and bored.mass <= 0.0):
            continue
        ring = _end_or_side(pocket, way, first, last)
        x, z = ring.mean(axis=0).tolist()
        x += (-0.35 if name == "plug" else 0.35) * pocket.bore * (float(np.hypot(*way)) > 0.5 > abs(float(way[0])))
        yield PartShape(f"{name}, {pocket.name}", pocket.segment, (ring,), (), (x, z), out, mouth)


def _end_or_side(pocket: Pocket, way: Array, first: float, last: float) -> Array:
    """A stretch of a bore between two depths [m], end on where it runs across the body."""
    mouth, radius = np.array([pocket.mouth[0], pocket.mouth[2]]), 0.5 * pocket.bore
    if float(np.hypot(*way)) < 0.5:
        return _ring(float(mouth[0]), float(mouth[1]), radius)
    aside = radius * np.array([-way[1], way[0]])
    start, stop = mouth + first * way, mouth + last * way
    return np.array([start - aside, stop - aside, stop + aside, start + aside])


def _hooks(design: Design, lure: Lure) -> Iterator[PartShape]:
    """Rings, and trebles hanging straight down under them."""
    reaches = hanging(design, lure, [0.0] * len(design.joints)).hooks
    for reach in reaches:
        hook = next(hook for hook in design.hooks if hook.name == reach.name)
        ring, (x, _, z) = ring_size(hook.ring, reach.size, reach.length), reach.place
        yield PartShape(f"{hook.name}: ring", reach.piece, (_ring(x, z - 0.5 * ring, 0.5 * ring),), (),
                        (x + 0.5 * ring, z - 0.5 * ring), _DOWN, (x, z))  # fmt: skip
        yield _treble(hook.name, reach.piece, (x, z - ring), (reach.length - ring, reach.gape))


def ring_size(own: float | None, size: str, length: float) -> float:
    """A hook's ring across [m]: as told, else by the hook's size, else by its length [m]."""
    if own is not None:
        return own
    try:
        return hook_size(size).ring
    except OutsideSource:
        return 0.2 * length


def _treble(name: str, piece: int, top: tuple[float, float], sizes: tuple[float, float]) -> PartShape:
    """Two of its bends, left and right of the shank; the third is seen edge on.

    sizes : (2,) [m] length and gape
    """
    (x, z), (length, gape) = top, sizes
    radius = 0.5 * gape
    eye, low = 0.5 * _EYE_SHARE * length, z - length + radius
    lines = [np.array([(x, z - 2.0 * eye), (x, low)])]
    half = np.linspace(0.0, math.pi, 19)
    for side in (-1.0, 1.0):
        bend = np.stack([x + side * radius * (1.0 - np.cos(half)), low - radius * np.sin(half)], axis=1)
        point = np.array([[x + side * gape, low + _POINT_SHARE * (length - radius)]])
        lines.append(np.concatenate([bend, point]))
    at = (x - radius, low - radius)
    return PartShape(name, piece, (_ring(x, z - eye, eye),), tuple(lines), at, _DOWN, top)
