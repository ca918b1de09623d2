"""The wood itself: the drawn hull, its segments between the cuts, and how much smaller than finished it is cut."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np

from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.design.hardware import Joint as DrawnJoint
from gudgeon.design.model import Design, Outline
from gudgeon.design.table import Point
from gudgeon.errors import BadDesign, Fault
from gudgeon.physics.hull import CurveFault, Hull, faults_of
from gudgeon.physics.joint_removal import Removal, removals
from gudgeon.physics.joint_skin import skins_taken
from gudgeon.physics.lure import Joint, Segment
from gudgeon.physics.mass import Place
from gudgeon.physics.outline import ConstantCurve, Curve, DrawnCurve, ScaledCurve
from gudgeon.physics.portion import Portion, portions
from gudgeon.physics.section import section_integrals

_KEPT = 8
"""Bodies remembered: most of what a maker changes leaves the outline alone, or the cuts."""

_GAUSS = 0.5 / math.sqrt(3.0)  # of the gap: where two sections give its volume to the third degree


@dataclass(frozen=True)
class Woodwork:
    """The body as wood.

    hull            : as drawn
    build, shown    : [m] thickness of all coats, and how much of it the drawing already has
    segments        : pieces between cuts
    joints          : cuts
    spread_out      : per segment, second moment of its volume over its volume (3, 3) [m2]
    removal_spreads : per joint [m3] half-width of what it takes away
    """

    hull: Hull
    build: float
    shown: float
    segments: tuple[Segment, ...]
    joints: tuple[Joint, ...]
    spread_out: tuple[tuple[Place, Place, Place], ...]
    removal_spreads: tuple[float, ...]


@dataclass(frozen=True)
class _Cut:
    """One joint on the drawn body.

    front, rear : what each face's shape takes off its piece
    skin        : (2,) [m2] of the finished skin each takes off
    removed     : [m3] what both take with the gap
    """

    front: Removal
    rear: Removal
    skin: tuple[float, float]
    removed: float


def woodwork(design: Design, faults: list[Fault]) -> Woodwork:
    """The hull and its pieces.

    raises : BadDesign when the outline itself cannot stand; without a body there is nothing more to check
    """
    hull = drawn_hull(design)
    wrong = faults_of(hull)
    if wrong:
        raise BadDesign("the design cannot be built", tuple(_outline_fault(fault) for fault in wrong))
    build = math.fsum(coat.coats * coat.thickness.value for coat in design.coats)
    shown = build if design.outline.drawn == "finished" else 0.0
    cuts = _cuts(hull, design.joints)
    joints = tuple(_joint(drawn, cut) for drawn, cut in zip(design.joints, cuts, strict=True))
    pieces = _portions(hull, tuple(_spans(hull, design.joints, faults)))
    segments = tuple(
        _segment(design.segment_names[place], piece, _own_cuts(cuts, joints, place), (build, shown))
        for place, piece in enumerate(pieces)
    )
    removal = tuple(_removal_spread(design, joint, made) for joint, made in zip(design.joints, joints, strict=True))
    return Woodwork(hull, build, shown, segments, joints, tuple(_spread_out(piece) for piece in pieces), removal)


def _spans(hull: Hull, joints: Sequence[DrawnJoint], faults: list[Fault]) -> list[tuple[float, float]]:
    """Where each piece starts and stops at its middle plane; a piece with no wood is a fault."""
    edges = [edge for joint in joints for edge in (joint.at - 0.5 * joint.gap, joint.at + 0.5 * joint.gap)]
    ends = [hull.start, *edges, hull.stop]
    spans = []
    for place, (start, stop) in enumerate(zip(ends[::2], ends[1::2], strict=True)):
        if stop <= start:
            faults.append(Fault(f"joint {min(place + 1, len(joints))}.at", "leaves no wood between this cut and its "
                                "neighbour"))  # fmt: skip
            stop = start + 1e-3 * hull.length
        spans.append((start, stop))
    return spans


@lru_cache(maxsize=_KEPT)
def _portions(hull: Hull, spans: tuple[tuple[float, float], ...]) -> tuple[Portion, ...]:
    return portions(hull, spans)


@lru_cache(maxsize=_KEPT)
def _cuts(hull: Hull, joints: tuple[DrawnJoint, ...]) -> tuple[_Cut, ...]:
    """Every joint's faces, all sections looked up at once: two Gauss points in each gap, and what each face takes."""
    if not joints:
        return ()
    stations = np.array([[joint.at - _GAUSS * joint.gap, joint.at + _GAUSS * joint.gap] for joint in joints])
    areas = section_integrals(hull.sections(np.clip(stations, hull.start, hull.stop).ravel())).area.reshape(-1, 2)
    shapes = [joint_shape(joint, hull) for joint in joints]
    faces = [(joint.at, joint.gap, face) for joint, shape in zip(joints, shapes, strict=True)
             for face in (shape.front, shape.rear)]  # fmt: skip
    found, skins = removals(hull, faces), skins_taken(hull, faces)
    return tuple(
        _Cut(front, rear, skin, joint.gap * float(area.mean()) + front.volume + rear.volume)
        for joint, area, front, rear, skin in zip(joints, areas, found[::2], found[1::2],
                                                  zip(skins[::2], skins[1::2], strict=True), strict=True)
    )  # fmt: skip


def _joint(joint: DrawnJoint, cut: _Cut) -> Joint:
    removed = cut.removed if joint.takes_away is None else joint.takes_away.value
    area = cut.front.area + cut.rear.area
    return Joint(joint.at, joint.gap, joint.front_bevel, joint.rear_bevel, removed, area)


@dataclass(frozen=True)
class _Ends:
    """What the cuts at a piece's ends do to it: faces, wood beyond them by measure [m3], area of its faces [m2], and of
    the skin they take off [m2]."""

    wedges: tuple[Removal, ...]
    beyond: float
    faces: float
    skin: float


def _own_cuts(cuts: Sequence[_Cut], joints: Sequence[Joint], place: int) -> _Ends:
    wedges, beyond, faces, skin = [], 0.0, 0.0, 0.0
    for joint, is_ahead in ((place - 1, True), (place, False)):
        if 0 <= joint < len(cuts):
            wedges.append(cuts[joint].rear if is_ahead else cuts[joint].front)
            beyond += 0.5 * (joints[joint].removed - cuts[joint].removed)
            faces += wedges[-1].area
            skin += cuts[joint].skin[1 if is_ahead else 0]
    return _Ends(tuple(wedges), beyond, faces, skin)


def drawn_hull(design: Design) -> Hull:
    """The hull through the maker's points, as drawn."""
    return _drawn(design.outline, design.length)


@lru_cache(maxsize=_KEPT)
def _drawn(outline: Outline, length: float) -> Hull:
    back = _curve(outline.back, length, outline.nose, outline.tail)
    belly = back if outline.belly is None else _curve(outline.belly, length, outline.nose, outline.tail)
    side = _curve(outline.side, length, outline.nose, outline.tail)
    widest = ConstantCurve(0.0) if outline.widest is None else _spanning(outline.widest, length)
    return Hull(length, back, ScaledCurve(belly, -1.0), side, widest, _spanning(outline.fullness, length))


@lru_cache(maxsize=4 * _KEPT)  # a hand moves one of a body's curves
def _curve(points: tuple[Point, ...], length: float, nose: Literal["round", "pointed"],
           tail: Literal["round", "pointed"]) -> DrawnCurve:  # fmt: skip
    stations = np.array([point.station for point in points])
    stations[-1] = length
    return DrawnCurve(stations, np.array([point.out for point in points]), length, nose=nose, tail=tail)


def _spanning(points: tuple[Point, ...], length: float) -> Curve:
    """A curve known at some stations, level beyond the first and the last."""
    if len(points) == 1:
        return ConstantCurve(points[0].out)
    inner = [point for point in points if 0.0 < point.station < length]
    whole = (Point(0.0, points[0].out), *inner, Point(length, points[-1].out))
    return _curve(whole, length, "pointed", "pointed")


_OUTLINE_FAULTS = {
    "back below belly": ("back", "the back comes down to the belly or below it"),
    "no width": ("side", "the body has no width"),
    "widest line above back": ("widest", "the widest line runs above the back; lower it, or raise the back"),
    "widest line below belly": ("widest", "the widest line runs below the belly; raise it, or give its heights "
                                "in outline.widest"),
    "fullness below 1": ("fullness", "a fullness below 1 makes a hollow-cheeked section; use 1 to 12"),
    "fullness above 12": ("fullness", "a fullness above 12 is a box; use 1 to 12"),
}  # fmt: skip


def _outline_fault(fault: CurveFault) -> Fault:
    key, words = _OUTLINE_FAULTS[fault.what]
    return Fault(f"outline.{key}", f"{words}, worst {1e3 * fault.station:.1f} mm from the nose")


def _segment(name: str, piece: Portion, ends: _Ends, coats: tuple[float, float]) -> Segment:
    """One piece; `coats` [m] is their thickness, and how much of it the drawing already shows.

    Coats lie round a convex section: a line laid `out` from it is 2 pi out longer (Steiner), so skin is counted at
    their middle. A joint's sizes are finished ones whatever the drawing shows, so its faces are always cut back by the
    coats.
    """
    build, shown = coats
    wedged = sum(wedge.volume for wedge in ends.wedges)
    moment = piece.volume * np.asarray(piece.centre)
    for wedge in ends.wedges:
        moment = moment - np.asarray(wedge.moment)
    x, y, z = (float(c) for c in moment / (piece.volume - wedged))
    length, drawn = piece.stop - piece.start, piece.surface_area - ends.skin
    skin = drawn + 2.0 * math.pi * (0.5 * build - shown) * length + ends.faces
    cut_down = drawn * shown - math.pi * shown**2 * length + ends.faces * build
    bare_volume = piece.volume - wedged - ends.beyond - cut_down
    return Segment(
        name=name, start=piece.start, stop=piece.stop, outside=bare_volume + skin * build, bare=bare_volume,
        centre=(x, y, z), skin=skin, plan_area=piece.plan_area, plan_centre=(piece.plan_centre, 0.0, z),
    )  # fmt: skip


def _spread_out(piece: Portion) -> tuple[Place, Place, Place]:
    rows = np.asarray(piece.second_moment) / piece.volume
    first, second, third = ((float(a), float(b), float(c)) for a, b, c in rows)
    return first, second, third


def _removal_spread(design: Design, joint: DrawnJoint, made: Joint) -> float:
    if joint.takes_away is not None:
        return joint.takes_away.spread_or(0.05 * joint.takes_away.value)
    return design.uncertainty.joint_removal * made.removed
