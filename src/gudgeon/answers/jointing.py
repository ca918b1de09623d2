"""How far every joint turns, what meets what, and what to change: gap, bevel, knuckle, pivot, wood to allow."""

import math
from dataclasses import replace

import numpy as np

from gudgeon.answers.finding import worst_first
from gudgeon.answers.joint_findings import joint_findings
from gudgeon.answers.joint_shapes import joint_shape, reach_of, regapped
from gudgeon.answers.jointed import Bevels, EvenGap, JointAnswer, Jointing, WantedSwing
from gudgeon.design.bench import Board
from gudgeon.design.hardware import Joint as DrawnJoint
from gudgeon.design.model import Design
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.lure import Lure
from gudgeon.physics.swing import MOST, Meeting, Sides, Swing, sides_of, swing, value_for
from gudgeon.units import INCH

TRUING = INCH / 4.0  # of wood a joint costs in the making, cut and trued; common practice, no source
STEEPEST = math.radians(70.0)  # a face may be sloped to
WIDEST_GAP = 0.010  # [m] looked for
_NARROWEST_GAP = 3e-4


def jointing(design: Design, lure: Lure) -> Jointing:
    """Swing, meeting places and changes for every joint of a lure.

    raises : NoAnswer when coats leave no wood in a knuckle or a tongue
    """
    joints = tuple(_joint(design, lure, place) for place in range(len(design.joints)))
    found = joint_findings(joints, design.joints, lure)
    return Jointing(joints, math.fsum(joint.kerf for joint in joints), worst_first(found))


def wanted_swing(design: Design, joint: DrawnJoint) -> WantedSwing:
    """What the maker asked for, or what makers of so many pieces mostly want; common practice, no source."""
    if joint.swing is not None:
        return WantedSwing(joint.swing, joint.swing, "asked for", True)
    pieces = len(design.joints) + 1
    if pieces == 2:
        low, high, why = (25, 40, "a jointed lure with a lip") if design.lip else (35, 50, "a glider of two pieces")
    elif pieces == 3:
        low, high, why = 25, 35, "a lure of three pieces"
    else:
        low, high, why = 18, 28, "a lure of four pieces or more"
    return WantedSwing(math.radians(low), math.radians(high), why, False)


def _joint(design: Design, lure: Lure, place: int) -> JointAnswer:
    drawn, hull = design.joints[place], lure.hull
    shape = joint_shape(drawn, hull)
    half, bottom, top = (float(curve(np.array([drawn.at]))[0]) for curve in (hull.side, hull.belly, hull.back))
    grown = lure.build - lure.shown
    sides = sides_of(hull, drawn.at, reach_of(shape, half), grown)
    finished = swing(shape, sides)
    near = sides.near(None if finished.meeting is None else finished.meeting.place[2])
    bare_shape = shape.bared(lure.build)
    bare = swing(bare_shape, near.grown(-lure.build)) if lure.build else finished
    wanted = wanted_swing(design, drawn)
    even = _even(shape, min(finished.angle, wanted.high), sides) if shape.face == "knuckle" else None
    mended = finished if even is None else even.swing
    gap_for, bevels_for = _changes(_centred(shape), sides, mended, wanted)
    names = (lure.segments[place].name, lure.segments[place + 1].name)
    width, depth = 2.0 * (half + grown), top - bottom + 2.0 * grown
    return JointAnswer(
        number=place + 1, at=drawn.at, pieces=names, shape=shape, width=width, depth=depth,
        depth_kept=depth / (lure.depth + 2.0 * grown), bare_gap=bare_shape.cut_gap, finished=finished,
        bare=bare, meets=_meets(finished.meeting, names), place=_on_body(drawn.at, finished.meeting), wanted=wanted,
        gap_for=gap_for, bevels_for=bevels_for, even=even, kerf=_kerf(design, shape, 0.5 * width),
    )  # fmt: skip


def _on_body(at: float, meeting: Meeting | None) -> tuple[float, float, float] | None:
    return None if meeting is None else (at + meeting.place[0], meeting.place[1], meeting.place[2])


_CORNERS = {"corner": "corner", "middle": "middle", "knuckle": "knuckle", "shoulder": "shoulder",
            "socket": "socket's edge", "lip": "lip", "tongue": "tongue's corner", "slot": "slot's corner",
            "face": "face's edge"}  # fmt: skip


def _meets(meeting: Meeting | None, names: tuple[str, str]) -> str:
    """ "the corner of the tail meets the face of the head"."""
    if meeting is None:
        return f"nothing before {math.degrees(MOST):.0f} deg"
    of, on = names if meeting.corner_of == "front" else names[::-1]
    return f"the {_CORNERS.get(meeting.corner, meeting.corner)} of the {of} meets the {meeting.on} of the {on}"


def _centred(shape: JointShape) -> JointShape:
    """The same with its pivot in the knuckle's centre, when it has a knuckle."""
    return replace(shape, pivot=shape.knuckle_centre) if shape.face == "knuckle" else shape


def _even(shape: JointShape, angle: float, sides: Sides) -> EvenGap:
    """source : two rounds whose centres lie `off` from the pivot, one fast to each piece, part by 2 off sin(angle/2)"""
    off = shape.pivot - shape.knuckle_centre
    parted = 2.0 * abs(off) * math.sin(0.5 * angle)
    then = swing(_centred(shape), sides)
    return EvenGap(shape.knuckle_centre, off, max(0.0, shape.gap - parted), shape.gap + parted, then)


def _kerf(design: Design, shape: JointShape, half: float) -> float:
    saw = design.board.kerf if design.board else float(Board.model_fields["kerf"].default)
    offsets = np.linspace(0.0, half, 40)
    past = float(shape.front.station(offsets).max() - shape.rear.station(offsets).min())
    return TRUING + saw + max(0.0, past)


def _changes(shape: JointShape, sides: Sides, now: Swing, wanted: WantedSwing) -> tuple[float | None, Bevels | None]:
    """The gap, and the bevels, that bring a swing that is off to the nearest that is wanted."""
    if wanted.holds(now.angle):
        return None, None
    aim = wanted.low if now.angle < wanted.low else wanted.high
    near = sides.near(None if now.meeting is None else now.meeting.place[2])
    gap = value_for(aim, lambda size: swing(regapped(shape, size), near).angle, _NARROWEST_GAP, WIDEST_GAP)

    def angle_of(more: float) -> float:
        to = _sloped(shape, more)
        return swing(replace(shape, front_bevel=to.front, rear_bevel=to.rear), near).angle

    bevels = [bevel for bevel in (shape.front_bevel, shape.rear_bevel) if bevel > 0.0] or [0.0]
    more = value_for(aim, angle_of, -min(bevels), STEEPEST - max(bevels))
    return gap, None if more is None else _sloped(shape, more)


def _sloped(shape: JointShape, more: float) -> Bevels:
    """Both faces sloped further by as much [rad], where both are sloped; else the one that is, or the one behind."""
    both = shape.front_bevel > 0.0 and shape.rear_bevel > 0.0
    front = both or shape.front_bevel > 0.0
    return Bevels(shape.front_bevel + (more if front else 0.0),
                  shape.rear_bevel + (more if both or not front else 0.0))  # fmt: skip
