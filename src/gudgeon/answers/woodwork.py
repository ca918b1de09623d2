"""The wood itself: the drawn hull, its segments between the cuts, and how much smaller than finished it is cut."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from gudgeon.design.model import Design
from gudgeon.design.model import Joint as DrawnJoint
from gudgeon.design.table import Point
from gudgeon.errors import BadDesign, Fault
from gudgeon.physics.hull import CurveFault, Hull, Portion, bare, faults_of, portion, section
from gudgeon.physics.lure import Joint, Segment
from gudgeon.physics.mass import Place
from gudgeon.physics.outline import ConstantCurve, Curve, DrawnCurve, scaled


@dataclass(frozen=True)
class Woodwork:
    """The body as wood.

    hull, bare_hull : finished size, and as cut
    build           : [m] thickness of all coats
    segments        : pieces between cuts
    joints          : cuts
    spread_out      : per segment, second moment of its volume over its volume (3, 3) [m2]
    removal_spreads : per joint [m3] half-width of what it takes away
    """

    hull: Hull
    bare_hull: Hull
    build: float
    segments: tuple[Segment, ...]
    joints: tuple[Joint, ...]
    spread_out: tuple[tuple[Place, Place, Place], ...]
    removal_spreads: tuple[float, ...]


@dataclass(frozen=True)
class _Wedge:
    """What a vee takes off one joint face.

    volume : [m3]
    centre : (3,) [m]
    """

    volume: float
    centre: Place


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
    cuts = [(joint.at - 0.5 * joint.gap, joint.at + 0.5 * joint.gap) for joint in design.joints]
    starts = [0.0, *(rear for _, rear in cuts)]
    stops = [*(front for front, _ in cuts), hull.length]
    names = design.segments or _names(len(starts))
    joints = tuple(_joint(hull, joint) for joint in design.joints)
    beyond = [made.removed - _removed(hull, joint) for joint, made in zip(design.joints, joints, strict=True)]
    segments, spreads = [], []
    for place, (start, stop) in enumerate(zip(starts, stops, strict=True)):
        if stop <= start:
            faults.append(Fault(f"joint {place + 1}.at", "leaves no wood between this cut and its neighbour"))
            stop = start + 1e-3 * hull.length
        piece = portion(hull, start, stop)
        wedges = _wedges(hull, design, place, start, stop)
        extra = sum(0.5 * beyond[joint] for joint in (place - 1, place) if 0 <= joint < len(joints))
        segments.append(_segment(hull, names[place], piece, wedges, extra, (build, shown)))
        spreads.append(_spread_out(piece))
    removal = tuple(_removal_spread(design, joint, made) for joint, made in zip(design.joints, joints, strict=True))
    return Woodwork(hull, bare(hull, shown), build, tuple(segments), joints, tuple(spreads), removal)


def drawn_hull(design: Design) -> Hull:
    """The hull through the maker's points, as drawn."""
    outline, length = design.outline, design.length
    back = _curve(outline.back, length, outline.nose, outline.tail)
    belly = back if outline.belly is None else _curve(outline.belly, length, outline.nose, outline.tail)
    side = _curve(outline.side, length, outline.nose, outline.tail)
    widest = ConstantCurve(0.0) if outline.widest is None else _spanning(outline.widest, length)
    return Hull(length, back, scaled(belly, -1.0), side, widest, _spanning(outline.fullness, length))


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


def _names(count: int) -> tuple[str, ...]:
    if count == 1:
        return ("body",)
    return ("head", "tail") if count == 2 else ("head", *(f"middle {n}" for n in range(1, count - 1)), "tail")


def _joint(hull: Hull, joint: DrawnJoint) -> Joint:
    removed = _removed(hull, joint) if joint.takes_away is None else joint.takes_away.value
    face = section(hull, joint.at).area
    area = face / math.cos(joint.front_bevel) + face / math.cos(joint.rear_bevel)
    return Joint(joint.at, joint.gap, joint.front_bevel, joint.rear_bevel, removed, area)


def _removed(hull: Hull, joint: DrawnJoint) -> float:
    """[m3] that gap and vees come to."""
    front, rear = joint.at - 0.5 * joint.gap, joint.at + 0.5 * joint.gap
    vees = _wedge(hull, front, joint.front_bevel, -1.0).volume + _wedge(hull, rear, joint.rear_bevel, 1.0).volume
    return vees + (portion(hull, front, rear).volume if joint.gap > 0.0 else 0.0)


def _wedge(hull: Hull, station: float, bevel: float, toward: float) -> _Wedge:
    """The wood a vee takes off a face: it recedes by |y| tan(bevel) from the middle plane.

    toward : -1 when the wood lies ahead of the face, +1 when behind
    source : first moments of the section at the face; the taper over the vee's depth is left out
    """
    if bevel == 0.0:
        return _Wedge(0.0, (station, 0.0, 0.0))
    face = section(hull, station)
    slope = math.tan(bevel)
    volume = slope * face.abs_y
    depth = 0.5 * slope * face.y_squared / face.abs_y
    return _Wedge(volume, (station + toward * depth, 0.0, face.z_abs_y / face.abs_y))


def _wedges(hull: Hull, design: Design, place: int, start: float, stop: float) -> list[_Wedge]:
    wedges = []
    if place > 0:
        wedges.append(_wedge(hull, start, design.joints[place - 1].rear_bevel, 1.0))
    if place < len(design.joints):
        wedges.append(_wedge(hull, stop, design.joints[place].front_bevel, -1.0))
    return wedges


def _segment(hull: Hull, name: str, piece: Portion, wedges: list[_Wedge], extra: float,
             coats: tuple[float, float]) -> Segment:  # fmt: skip
    """One piece; `coats` [m] is their thickness, and how much of it the drawing already shows."""
    drawn = piece.volume - sum(wedge.volume for wedge in wedges) - extra
    moment = piece.volume * np.asarray(piece.centre) - sum(
        (wedge.volume * np.asarray(wedge.centre) for wedge in wedges), np.zeros(3)
    )
    centre = moment / (piece.volume - sum(wedge.volume for wedge in wedges))
    faces = sum(section(hull, end).area for end in (piece.start, piece.stop) if 0.0 < end < hull.length)
    skin = piece.surface_area + faces
    x, y, z = (float(c) for c in centre)
    bare_volume = drawn - skin * coats[1]
    return Segment(name, piece.start, piece.stop, bare_volume + skin * coats[0], bare_volume, (x, y, z), skin)


def _spread_out(piece: Portion) -> tuple[Place, Place, Place]:
    rows = np.asarray(piece.second_moment) / piece.volume
    first, second, third = ((float(a), float(b), float(c)) for a, b, c in rows)
    return first, second, third


def _removal_spread(design: Design, joint: DrawnJoint, made: Joint) -> float:
    if joint.takes_away is not None:
        return joint.takes_away.spread_or(0.05 * joint.takes_away.value)
    return design.uncertainty.joint_removal * made.removed
