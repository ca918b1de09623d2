"""What to know about a lure's joints before they are cut, with the place and what to change."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from gudgeon.answers.finding import Finding, Number
from gudgeon.answers.joint_shapes import reach_of, regapped
from gudgeon.answers.jointed import PIVOT_WITHIN, Bevels, JointAnswer
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.design.hardware import Joint as DrawnJoint
from gudgeon.physics.joint_face import Piece
from gudgeon.physics.lure import Lure
from gudgeon.physics.swing import sides_of, swing
from gudgeon.units import Measure

LEAST_WALL = 0.003  # [m] of wood beside a slot; common practice, no source
DEPTH_KEPT = 0.85  # of the body's depth at a lure's first cut; common practice, no source
_FEATHER = math.radians(25.0)  # a socket's lip thinner than this at its edge breaks; common practice, no source
_TELLS = math.radians(0.5)  # a change of swing worth telling
_FOLDS = 1.5  # times the most that is wanted: the tail folds, hooks foul; common practice, no source


def joint_findings(joints: Sequence[JointAnswer], drawn: Sequence[DrawnJoint], lure: Lure) -> list[Finding]:
    """Everything to know about the joints, in no order."""
    found = [finding for joint, asked in zip(joints, drawn, strict=True) for finding in _own(joint, asked, lure)]
    return [*found, *_crossing(joints), *_coats(joints, lure), *_shallow(joints)]


def _own(joint: JointAnswer, drawn: DrawnJoint, lure: Lure) -> Iterator[Finding]:
    yield from _turning(joint)
    if joint.shape.face == "knuckle":
        yield from _knuckle(joint, drawn, lure)
    elif joint.shape.face == "tongue":
        yield from _slot_walls(joint, lure)


def _where(joint: JointAnswer) -> str:
    return f"joint {joint.number}, {{at}} from the nose,"


def _turning(joint: JointAnswer) -> Iterator[Finding]:
    wanted, angle = joint.wanted, joint.turns.angle
    if wanted.holds(angle):
        return
    asked = "{low} is asked for" if wanted.is_own else f"{wanted.why} mostly has {{low}} to {{high}}"
    if angle < wanted.low:
        tell = wrong if wanted.is_own else watch
    else:
        tell = watch if angle > _FOLDS * wanted.high else note
    is_off = joint.even is not None and abs(joint.even.off) > PIVOT_WITHIN
    turns = "with its pivot in the knuckle's centre turns" if is_off else "turns"
    past = "" if joint.turns.meeting else "past "
    words = f"{_where(joint)} {turns} {past}{{angle}} to each side, {asked}. {_mend(joint)}"
    numbers: dict[str, Number] = {
        "at": (joint.at, Measure.CUT), "angle": (angle, Measure.ANGLE), "low": (wanted.low, Measure.ANGLE),
        "high": (wanted.high, Measure.ANGLE),
    }  # fmt: skip
    if joint.gap_for is not None:
        numbers["gap"] = (joint.gap_for, Measure.WIRE)
    if joint.bevels_for is not None:
        numbers["front"] = (joint.bevels_for.front, Measure.ANGLE)
        numbers["rear"] = (joint.bevels_for.rear, Measure.ANGLE)
    yield tell(words, **numbers)


def _mend(joint: JointAnswer) -> str:
    gap = "a finished gap of {gap}" if joint.gap_for is not None else ""
    bevel = "" if joint.bevels_for is None else _slopes(joint.bevels_for)
    ways = ", or ".join(way for way in (gap, bevel) if way)
    if ways:
        return f"{ways[0].upper()}{ways[1:]} would do it."
    if joint.turns.angle > joint.wanted.high:
        return "Neither gap nor bevel holds it; the hinge's slot has to stop it."
    if joint.shape.face == "vee":
        return "Neither gap nor bevel does it alone; narrow the body there, or move the joint."
    return f"Neither gap nor bevel does it: {joint.meets}. Move the pivot, or make the {joint.shape.face} smaller."


def _slopes(bevels: Bevels) -> str:
    if bevels.front > 0.0 and bevels.rear > 0.0:
        return "faces sloped back {front} ahead of the gap and {rear} behind it"
    return "the face ahead of the gap sloped back {front}" if bevels.front > 0.0 else (
        "the face behind the gap sloped back {rear}")  # fmt: skip


def _knuckle(joint: JointAnswer, drawn: DrawnJoint, lure: Lure) -> Iterator[Finding]:
    shape, even = joint.shape, joint.even
    if even is not None and abs(even.off) > PIVOT_WITHIN:
        side, stands = ("aft" if even.pivot >= 0.0 else "ahead"), ("aft" if even.off > 0.0 else "ahead")
        meeting = joint.finished.meeting
        knocks = meeting is not None and {meeting.corner, meeting.on} <= {"knuckle", "socket", "lip"}
        yield (wrong if knocks else watch)(
            f"{_where(joint)} has its pivot {{off}} {stands} of the knuckle's centre, so the gap goes from {{least}} "
            f"to {{most}} as it turns. Put the pivot {{pivot}} {side} of the middle of the gap, within {{within}}; "
            "it then turns {then}.",
            at=(joint.at, Measure.CUT), off=(abs(even.off), Measure.WIRE), least=(even.least, Measure.WIRE),
            most=(even.most, Measure.WIRE), pivot=(abs(even.pivot), Measure.WIRE),
            within=(PIVOT_WITHIN, Measure.WIRE), then=(even.swing.angle, Measure.ANGLE),
        )  # fmt: skip
    yield from _round_in_skin(joint, drawn, lure)
    socket: Piece = "rear" if shape.carries == "front" else "front"
    half, wide = 0.5 * joint.width, shape.radius + shape.gap
    edge = 0.5 * math.pi - math.asin(min(1.0, half / wide))
    if 0.0 < edge < _FEATHER:
        name = joint.pieces[socket == "rear"]
        yield watch(
            f"{_where(joint)} has a socket whose lips on the {name} run out to an edge of {{edge}}, which breaks. "
            "A larger radius, or a smaller one with shoulders, makes them blunter.",
            at=(joint.at, Measure.CUT), edge=(edge, Measure.ANGLE),
        )  # fmt: skip


def _round_in_skin(joint: JointAnswer, drawn: DrawnJoint, lure: Lure) -> Iterator[Finding]:
    """A knuckle wider than the body where its round should end breaks the skin."""
    station = joint.at + joint.shape.knuckle_centre
    inside = min(max(station, lure.hull.start), lure.hull.stop)
    half = float(lure.hull.side(np.array([inside]))[0]) + lure.build - lure.shown
    if drawn.radius is not None and joint.shape.radius > half + PIVOT_WITHIN:
        name = joint.pieces[joint.shape.carries == "rear"]
        yield watch(
            f"{_where(joint)} has a knuckle of radius {{radius}} that breaks the skin of the {name}: {{station}} from "
            "the nose, where its round ends, the body is only {half} from the middle to the skin. A radius of {half} "
            "or less keeps it inside.",
            at=(joint.at, Measure.CUT), radius=(joint.shape.radius, Measure.WIRE), station=(station, Measure.LENGTH),
            half=(half, Measure.WIRE),
        )  # fmt: skip


def _slot_walls(joint: JointAnswer, lure: Lure) -> Iterator[Finding]:
    shape = joint.shape
    bottom = shape.rear.edges[0].start if shape.carries == "front" else shape.front.edges[0].start
    stations = np.clip(joint.at + np.array([0.0, bottom]), lure.hull.start, lure.hull.stop)
    half = float(lure.hull.side(stations).min()) + lure.build - lure.shown
    wall = half - 0.5 * shape.tongue_width - shape.gap
    if wall >= LEAST_WALL:
        return
    name = joint.pieces[joint.shape.carries == "front"]
    narrower = max(shape.tongue_width - 2.0 * (LEAST_WALL - wall), 0.0)
    mend = "A tongue {narrower} wide leaves {least}." if narrower > 0.0 else "The body is too narrow for a tongue."
    left = "leaves {wall} of wood beside the slot" if wall > 0.0 else "cuts through both sides"
    yield (watch if wall > 0.0 else wrong)(
        f"{_where(joint)} {left} of the {name}. {mend}", at=(joint.at, Measure.CUT), wall=(wall, Measure.WIRE),
        narrower=(narrower, Measure.WIRE), least=(LEAST_WALL, Measure.WIRE),
    )  # fmt: skip


def _crossing(joints: Sequence[JointAnswer]) -> Iterator[Finding]:
    """Faces of two cuts that meet in the piece between them."""
    for ahead, behind in pairwise(joints):
        offsets = np.linspace(0.0, 0.5 * min(ahead.width, behind.width), 30)
        left = behind.at + behind.shape.front.station(offsets) - ahead.at - ahead.shape.rear.station(offsets)
        worst = int(np.argmin(left))
        if left[worst] <= 0.0:
            yield wrong(
                f"the cuts of joint {ahead.number} and joint {behind.number} meet in the {ahead.pieces[1]}, {{out}} "
                "from the middle. Move the cuts {by} apart, or make their faces flatter.",
                out=(float(offsets[worst]), Measure.WIRE), by=(0.005 - float(left[worst]), Measure.WIRE),
            )  # fmt: skip


def _coats(joints: Sequence[JointAnswer], lure: Lure) -> Iterator[Finding]:
    """What coats do to a gap that is cut at its finished size."""
    if not joints or lure.build <= 0.0:
        return
    joint = min(joints, key=lambda joint: joint.shape.gap)
    left = joint.shape.gap - (joint.bare_gap - joint.shape.gap)
    more = max(each.bare_gap - each.shape.gap for each in joints)
    words = "cut every gap {more} wider in bare wood than finished: coats come onto both faces. "
    numbers: dict[str, Number] = {
        "more": (more, Measure.WIRE), "gap": (joint.shape.gap, Measure.WIRE),
        "left": (max(left, 0.0), Measure.WIRE),
    }  # fmt: skip
    if left <= 0.0:
        yield note(f"{words}Joint {joint.number} cut to {{gap}} would close.", **numbers)
        return
    sides = sides_of(lure.hull, joint.at, reach_of(joint.shape, 0.5 * joint.width), lure.build - lure.shown)
    angle = swing(regapped(joint.shape, left), sides).angle
    turns = " and turn {closed}, not {angle}" if joint.finished.angle - angle > _TELLS else ""
    words = f"{words}Joint {joint.number} cut to {{gap}} would close to {{left}}{turns}."
    yield note(words, **numbers, closed=(angle, Measure.ANGLE), angle=(joint.finished.angle, Measure.ANGLE))


def _shallow(joints: Sequence[JointAnswer]) -> Iterator[Finding]:
    if joints and joints[0].depth_kept < DEPTH_KEPT:
        yield note(
            f"{_where(joints[0])} keeps {{kept}} of the body's depth; the first cut mostly keeps {{usual}} or more, or "
            "the tail part rules the swim.",
            at=(joints[0].at, Measure.CUT), kept=(joints[0].depth_kept, Measure.PART), usual=(DEPTH_KEPT, Measure.PART),
        )  # fmt: skip
