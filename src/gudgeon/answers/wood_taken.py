"""Every hole and slot in the bare wood, as it is cut: holes as rods, slots as boxes, each in its own piece.

Ballast bores are bored for the ballast that goes in; the holes of eyes, pins and wire are those of the drill schedule,
the slots of hinges those of the answer about hinges.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from gudgeon.answers.buried import buried_hardware
from gudgeon.answers.drilling import Drilled, channel_cut, fitting_holes, hinge_cuts
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.lip_slot import GLUE_FIT, lip_slot
from gudgeon.answers.papers import Papers
from gudgeon.design.hardware import Fin, Lip
from gudgeon.physics.lure import segment_at
from gudgeon.physics.mass import Place
from gudgeon.physics.shapes import Box, Rod, Shape
from gudgeon.physics.solid import Bore, Slot
from gudgeon.physics.wood_piece import wood_pieces

CLEAR = 0.02  # m that a tool is carried on past the skin it comes in through
_HAIR = 1e-6  # m

Whose = Literal["ballast", "fitting", "hinge", "harness", "lip", "fin"]


@dataclass(frozen=True)
class Taken:
    """One hole or slot.

    shape  : from where its axis enters the bare wood, or about there, to its inner end
    inward : (3,) unit vector from its mouth to its inner end
    piece  : counted from 0; None where it runs through more than one, or through a joint's gap
    across : sawn right across the body, so it is open on both sides
    """

    name: str
    whose: Whose
    shape: Shape
    inward: Place
    piece: int | None
    across: bool = False

    def room(self, length: float) -> float:
        """[m] that its tool begins outside its mouth: out of a piece of its own by whatever stands in the way there, as
        the cheeks of a slot or the lips of a socket do.

        length : [m] of the body
        """
        return length if abs(self.inward[0]) > 0.5 and self.piece is not None else CLEAR

    def bore(self, length: float) -> Bore:
        """A hole as a bit goes through the wood."""
        assert isinstance(self.shape, Rod)
        depth = math.dist(self.shape.start, self.shape.stop)
        return Bore(self.shape.start, self.inward, depth, 2.0 * self.shape.radius, self.room(length), self.piece)

    def slot(self, length: float) -> Slot:
        """A slot as a saw goes through the wood."""
        assert isinstance(self.shape, Box)
        proud, way = self.room(length), np.asarray(self.inward)
        own = np.abs(self.shape.axes @ way)  # along which of its own edges it opens
        size = 2.0 * np.asarray(self.shape.halves) + proud * own
        size[1] += 2.0 * CLEAR * self.across
        x, y, z = (self.shape.centre - 0.5 * proud * way).tolist()
        along, wide, up = size.tolist()
        return Slot((x, y, z), (along, wide, up), self.shape.tilt, self.piece)


def wood_taken(papers: Papers) -> tuple[Taken, ...]:
    """Everything cut out of the bare wood of a checked lure but the joints' own faces."""
    design = papers.check.design
    found = [*_ballast(papers), *_fittings(papers), *_hinges(papers), *_harness(papers)]
    if design.lip is not None:
        found.append(_lip(papers, design.lip))
    if design.fin is not None and design.fin.set_in > 0.0:
        found.append(_fin(papers, design.fin))
    return tuple(taken for taken in found if max(taken.shape.halves) > _HAIR)


def _ballast(papers: Papers) -> Iterator[Taken]:
    for hole in papers.holes:
        pocket, inward = hole.pocket, np.asarray(hole.pocket.inward)
        mouth, depth = np.asarray(pocket.mouth) + hole.coat * inward, hole.bored.depth - hole.coat
        (a, b, c), (d, e, f) = mouth.tolist(), (mouth + depth * inward).tolist()
        yield Taken(hole.name, "ballast", Rod((a, b, c), (d, e, f), 0.5 * pocket.bore), pocket.inward, pocket.segment)


def _fittings(papers: Papers) -> Iterator[Taken]:
    lure, design = papers.check.lure, papers.check.design
    joints = [(joint.at, joint_shape(joint, lure.hull).bared(lure.build)) for joint in design.joints]
    pieces = wood_pieces(lure.bare_hull, joints)
    for hole in fitting_holes(papers):
        middle = 0.5 * (np.array(hole.mouth) + np.array(hole.end))
        own = [place for place, piece in enumerate(pieces) if piece.holds(middle[None])[0]]
        yield Taken(hole.name, "fitting", _rod(hole), _way(hole), own[0] if own else None)


def _rod(hole: Drilled) -> Rod:
    return Rod(hole.mouth, hole.end, 0.5 * hole.wide)


def _way(hole: Drilled) -> Place:
    x, y, z = ((end - mouth) / math.dist(hole.mouth, hole.end) for mouth, end in zip(hole.mouth, hole.end, strict=True))
    return x, y, z


def _hinges(papers: Papers) -> Iterator[Taken]:
    made = made_hinges(papers.check.design, papers.check.lure)
    cutouts = [cutout for hinge in made for cutout in hinge.cutouts]
    for cutout, hole in zip(cutouts, hinge_cuts(papers), strict=True):
        if cutout.kind == "bore":
            shape: Shape = _rod(hole)
        else:
            x, y, z = (0.5 * (mouth + end) for mouth, end in zip(hole.mouth, hole.end, strict=True))
            shape = Box((x, y, z), (0.5 * math.dist(hole.mouth, hole.end), 0.5 * cutout.wide, 0.5 * cutout.tall))
        yield Taken(cutout.name, "hinge", shape, cutout.inward, cutout.piece, cutout.across)


def _harness(papers: Papers) -> Iterator[Taken]:
    """Its channel through all the pieces at once: bored from the nose end, or a slot up from the belly."""
    design, lure = papers.check.design, papers.check.lure
    shapes = [one.shape for one in buried_hardware(design, lure, ()) if one.kind == "channel"]
    boxes = [shape for shape in shapes if isinstance(shape, Box)]
    if boxes:
        ends = [(box.middle[0] - box.halves[0], box.middle[0] + box.halves[0]) for box in boxes]
        start, stop = ends[0][0], ends[-1][1]
        top = boxes[0].middle[2] + boxes[0].halves[2]
        bottom = min(float(lure.bare_hull.belly(np.linspace(start, stop, 201)).min()), top)
        shape = Box((0.5 * (start + stop), 0.0, 0.5 * (bottom + top)),
                    (0.5 * (stop - start), boxes[0].halves[1], 0.5 * (top - bottom)))  # fmt: skip
        yield Taken("wire's slot", "harness", shape, (0.0, 0.0, 1.0), None)
    else:
        for hole in channel_cut(papers):
            yield Taken(hole.name, "harness", _rod(hole), _way(hole), None)


def _lip(papers: Papers, lip: Lip) -> Taken:
    """Sawn along the lip, the lip's upper face the slot's, from where that leaves the wood."""
    slot, thick = lip_slot(papers.check.lure.bare_hull, lip), lip.thickness + GLUE_FIT
    cos, sin = math.cos(lip.angle), math.sin(lip.angle)
    x, z = (0.5 * (mouth + end) for mouth, end in zip(slot.mouth, slot.end, strict=True))
    halves = (0.5 * math.dist(slot.mouth, slot.end), 0.5 * (lip.width + GLUE_FIT), 0.5 * thick)
    shape = Box((x + 0.5 * thick * sin, 0.0, z - 0.5 * thick * cos), halves, -lip.angle)
    return Taken("lip's slot", "lip", shape, (cos, 0.0, sin), segment_at(papers.check.lure.segments, lip.at)[0])


def _fin(papers: Papers, fin: Fin) -> Taken:
    """Sawn in from behind, as high as the fin's tang: half the fin."""
    lure = papers.check.lure
    shape = Box((fin.at - 0.5 * fin.set_in, 0.0, fin.height),
                (0.5 * fin.set_in, 0.5 * (fin.thickness + GLUE_FIT), 0.25 * fin.tall))  # fmt: skip
    return Taken("fin's slot", "fin", shape, (-1.0, 0.0, 0.0), segment_at(lure.segments, fin.at)[0])
