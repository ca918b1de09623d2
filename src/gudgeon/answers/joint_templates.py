"""All that a joint is cut by: both faces as they meet the skin, bare and finished, and what is made in them."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.drilling import Drilled, drilling
from gudgeon.answers.hinge_made import MadeHinge
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.jointed import JointAnswer
from gudgeon.answers.jointing import jointing
from gudgeon.answers.papers import Papers
from gudgeon.physics.face_edge import FaceEdge, face_edge
from gudgeon.physics.hull import depth_at
from gudgeon.physics.joint_face import FaceLine, JointShape

Array = NDArray[np.float64]

_ROUND = np.linspace(0.0, 2.0 * np.pi, 49)[:-1]
_BESIDE = 5e-3  # m of body drawn beyond the furthest of what is made at a joint
_LEAST = 14e-3  # m of body drawn on each side


@dataclass(frozen=True, eq=False)
class FaceMark:
    """One hole or slot that opens in a face.

    made    : as the drill schedule has it
    outline : (k, 2) [m] on the face laid flat, y to the right and z up, closed
    depth   : [m] from the bare face at its middle
    """

    made: Drilled
    outline: Array
    depth: float

    @property
    def height(self) -> float:
        """[m] of its middle above the centre line."""
        return float(0.5 * (self.outline[:, 1].min() + self.outline[:, 1].max()))


@dataclass(frozen=True, eq=False)
class FaceTemplate:
    """One face, to be laid on the cut wood.

    piece    : the name of the piece it belongs to      is_ahead : whether that is the piece ahead of the joint
    line     : in bare wood, seen from above            edge : where that meets the bare skin
    finished : the same with coats on; None where they are not drawn
    station  : [m] of the bare face at the middle line
    marks    : what is made in it, from the belly up
    """

    piece: str
    is_ahead: bool
    line: FaceLine
    edge: FaceEdge
    finished: FaceEdge | None
    station: float
    marks: tuple[FaceMark, ...]


@dataclass(frozen=True, eq=False)
class JointTemplate:
    """One joint.

    joint : its answer: finished sizes, swing, wood to allow     bare : its shape in bare wood
    span  : (2,) [m] stations between which it is drawn
    hinge : None where none is told
    made  : holes and slots of its hinge and all others that open in its faces, in the drill schedule's order
    """

    joint: JointAnswer
    bare: JointShape
    front: FaceTemplate
    rear: FaceTemplate
    span: tuple[float, float]
    hinge: MadeHinge | None
    made: tuple[Drilled, ...]

    @property
    def pivot(self) -> float:
        """[m] station of the hinge's axis."""
        return self.joint.at + self.joint.shape.pivot

    @property
    def pin(self) -> tuple[float, float] | None:
        """(2,) [m] heights of its ends, the lower first; None without one."""
        if self.hinge is None or not self.hinge.sizes.has_pin:
            return None
        return self.hinge.sizes.pin_bottom, self.hinge.sizes.pin_top

    @property
    def kind(self) -> str:
        """Trade words for its faces."""
        return face_words(self.joint.shape)


def face_words(shape: JointShape) -> str:
    """What a joint's faces are called."""
    if shape.face == "vee":
        sloped = sum(bevel > 0.0 for bevel in (shape.front_bevel, shape.rear_bevel))
        return ("flat", "one vee", "two vees")[sloped]
    return "knuckle and socket" if shape.face == "knuckle" else "tongue and slot"


def joint_templates(papers: Papers) -> tuple[JointTemplate, ...]:
    """Every joint from the nose; none for a lure of one piece.

    raises : NoAnswer when coats leave no wood in a knuckle or a tongue
    """
    design, lure = papers.check.design, papers.check.lure
    if not design.joints:
        return ()
    joints, hinges, made = jointing(design, lure).joints, made_hinges(design, lure), drilling(papers).holes
    return tuple(_template(papers, joint, hinges, made) for joint in joints)


def _template(
    papers: Papers, joint: JointAnswer, hinges: Sequence[MadeHinge], made: Sequence[Drilled]
) -> JointTemplate:
    bare = joint.shape.bared(papers.check.lure.build)
    hinge = next((one for one in hinges if one.joint == joint.number), None)
    front, rear = (_face(papers, joint, bare, made, is_ahead=is_ahead) for is_ahead in (True, False))
    opening = {mark.made.number for face in (front, rear) for mark in face.marks}
    own = tuple(one for one in made if one.number in opening
                or (hinge is not None and one.name.startswith(f"{hinge.name}: ")))  # fmt: skip
    return JointTemplate(joint, bare, front, rear, _span(papers, joint, (front, rear), own), hinge, own)


def _face(
    papers: Papers, joint: JointAnswer, bare: JointShape, made: Sequence[Drilled], *, is_ahead: bool
) -> FaceTemplate:
    lure, shape = papers.check.lure, joint.shape
    line = bare.front if is_ahead else bare.rear
    edge = face_edge(lure.bare_hull, joint.at, line)
    finished = face_edge(lure.hull, joint.at, shape.front if is_ahead else shape.rear) if lure.shown else None
    station = joint.at + float(line.station(np.zeros(1))[0])
    piece = joint.pieces[0 if is_ahead else 1]
    marks = [_mark(papers, one, edge, station) for one in made if _opens(one, joint, is_ahead=is_ahead)]
    marks.sort(key=lambda mark: (mark.height, -float(np.ptp(mark.outline[:, 0]))))
    return FaceTemplate(piece, is_ahead, line, edge, finished, station, tuple(marks))


def _opens(one: Drilled, joint: JointAnswer, *, is_ahead: bool) -> bool:
    """Whether a hole or slot comes out in this face: made from it, or running through the joint."""
    if one.face == ("rear" if is_ahead else "front") and one.pieces == (joint.pieces[0 if is_ahead else 1],):
        return abs(one.mouth[0] - joint.at) < joint.shape.gap + joint.shape.radius + joint.shape.tongue_length + 0.01
    return set(joint.pieces) <= set(one.pieces) and (one.lies == "lengthwise" or one.face in ("front", "rear"))


def _mark(papers: Papers, one: Drilled, edge: FaceEdge, station: float) -> FaceMark:
    x, y, z = one.mouth
    if one.lies == "lengthwise":  # the wire's slot, from the belly up
        low, high, half = depth_at(papers.check.lure.bare_hull, station)[0], one.end[2], 0.5 * one.wide
        ring = _oblong(y, half, low, high)
    elif one.kind == "hole":
        ring = np.stack([y + 0.5 * one.wide * np.cos(_ROUND), z + 0.5 * one.wide * np.sin(_ROUND)], axis=1)
    else:
        across, tall = (one.wide, one.long) if one.lies == "upright" else (one.long, one.wide)
        ring = _oblong(y, 0.5 * across, z - 0.5 * tall, z + 0.5 * tall)
    depth = abs(one.end[0] - x) if len(one.pieces) == 1 else 0.0
    return FaceMark(one, np.stack([edge.flat(ring[:, 0]), ring[:, 1]], axis=1), depth)


def _oblong(middle: float, half: float, low: float, high: float) -> Array:
    return np.array([(middle - half, low), (middle + half, low), (middle + half, high), (middle - half, high)])


def _span(
    papers: Papers, joint: JointAnswer, faces: Sequence[FaceTemplate], made: Sequence[Drilled]
) -> tuple[float, float]:
    """Stations [m] that hold all that is made at a joint, and some body beyond."""
    hull = papers.check.lure.bare_hull
    ends = [station for face in faces for station in face.edge.stations.tolist()]
    ends += [station for one in made if len(one.pieces) == 1 for station in (one.mouth[0], one.end[0])]
    return (max(hull.start, min(joint.at - _LEAST, min(ends) - _BESIDE)),
            min(hull.stop, max(joint.at + _LEAST, max(ends) + _BESIDE)))  # fmt: skip
