"""Everything that lies in the wood, as rods and boxes: bores with their ballast, shanks, hinges, slots, sockets."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from gudgeon.answers.ballasting import PocketLoad
from gudgeon.answers.harness_run import channel, hung_on, runs
from gudgeon.answers.hinge_made import MadeHinge
from gudgeon.answers.lip_slot import GLUE_FIT, lip_slot
from gudgeon.answers.shanks import EYES, buried_rod, goes_in, has_shank, hinge_eye_shanks
from gudgeon.design.hardware import Fin, Harness, Lip
from gudgeon.design.model import Design
from gudgeon.physics.hull import depth_at
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.pocket import Fill, Pocket
from gudgeon.physics.shapes import Box, Rod, Shape

Opening = Literal["skin", "front", "rear"]


@dataclass(frozen=True)
class Buried:
    """One thing in the wood of one piece.

    name  : in words, "the shoulder bore", "hinge 1: upper eye"
    own   : whose it is: things of one owner may touch
    kind  : what it is, for what to change
    piece : counted from 0
    opens : where it comes out of the wood as it should: through the skin, or the piece's front or rear face
    free  : may touch these owners besides
    is_usual : a shank whose length is not told
    """

    name: str
    own: str
    kind: Literal["bore", "shank", "eye", "pin", "plate", "strap", "slot", "socket", "channel"]
    piece: int
    shape: Shape
    opens: frozenset[Opening]
    free: frozenset[str] = frozenset()
    is_usual: bool = False

    def may_touch(self, other: "Buried") -> bool:
        """Whether the two are meant to meet."""
        return self.own == other.own or other.own in self.free or self.own in other.free


def pocket_bores(lure: Lure, loads: Sequence[PocketLoad]) -> tuple[Buried, ...]:
    """The bores in use: as loaded, or as the lure is filled where no load is given."""
    found: list[tuple[Pocket, Fill]] = [(load.pocket, load.bored) for load in loads]
    if not loads:
        found = [(pocket, lure.fills[pocket.name]) for pocket in lure.pockets]
    return tuple(_bore(pocket, bored) for pocket, bored in found if bored.depth > 0.0)


def _bore(pocket: Pocket, bored: Fill) -> Buried:
    x, y, z = (at + bored.depth * way for at, way in zip(pocket.mouth, pocket.inward, strict=True))
    opens: Opening = "skin"
    if abs(pocket.inward[0]) > 0.5:
        opens = "front" if pocket.inward[0] > 0.0 else "rear"
    return Buried(f"the {pocket.name} bore", f"pocket {pocket.name}", "bore", pocket.segment,
                  Rod(pocket.mouth, (x, y, z), 0.5 * pocket.bore), frozenset({opens}))  # fmt: skip


def buried_hardware(design: Design, lure: Lure, hinges: Sequence[MadeHinge]) -> tuple[Buried, ...]:
    """Everything in the wood but ballast, by piece."""
    found = [*_fittings(design, lure), *(one for made in hinges for one in _hinge(design, made))]
    if design.lip is not None:
        found += _lip(lure, design.lip)
    if design.fin is not None and design.fin.set_in > 0.0:
        found.append(_fin(lure, design.fin))
    if design.harness is not None:
        found += _harness(design, lure, design.harness)
    return tuple(found)


def _fittings(design: Design, lure: Lure) -> Iterator[Buried]:
    for fitting in design.fittings:
        shape = buried_rod(lure.hull, fitting)
        of_hinge = hinge_eye_shanks(lure, fitting)
        for place, shank in of_hinge:
            face: Opening = "rear" if shank.stop[0] < shank.start[0] else "front"
            yield Buried(f"the {fitting.name}", fitting.name, "shank", place, shank, frozenset({face}), is_usual=True)
        if shape is None or of_hinge:
            continue
        opens: frozenset[Opening] = frozenset({"skin", "front", "rear"})
        if has_shank(fitting) and goes_in(fitting, lure.hull) in ("belly", "back", "left", "right"):
            opens = frozenset({"skin"})
        kind: Literal["shank", "pin", "socket"] = "shank"
        if fitting.kind in ("pin", "glass eye"):
            kind = "pin" if fitting.kind == "pin" else "socket"
        free = frozenset({"harness"} if design.harness and fitting.kind in (*EYES, "wire") else set())
        for piece in segment_at(lure.segments, fitting.at):
            yield Buried(f"the {fitting.name}", fitting.name, kind, piece, shape, opens, free,
                         is_usual=has_shank(fitting) and fitting.shank is None)  # fmt: skip


def _hinge(design: Design, made: MadeHinge) -> Iterator[Buried]:
    """Its parts where they are fixed, its slots where something turns."""
    locked = design.hinges[made.number - 1].locked_by
    free = frozenset({locked} if locked is not None else set())
    faces: dict[int, Opening] = {made.joint - 1: "rear", made.joint: "front"}
    for part in made.parts:
        for lump in (lump for lump in part.fixed if lump.volume > 0.0):
            opens: frozenset[Opening] = frozenset() if part.kind == "pin" else frozenset({faces[lump.piece]})
            shape = _kept(part.shape, made, lump.piece) if part.kind in ("plate", "strap") else part.shape
            yield Buried(f"{made.name}'s {part.name}", made.name, part.kind, lump.piece, shape, opens, free)
    for cutout in made.cutouts:
        if cutout.is_open:
            name = cutout.name.removeprefix(f"{made.name}: ")
            skin: list[Opening] = ["skin"] if cutout.across else []
            outs = frozenset([faces[cutout.piece], *skin])
            yield Buried(f"{made.name}'s {name}", made.name, "slot", cutout.piece, cutout.shape, outs, free)


def _kept(shape: Shape, made: MadeHinge, piece: int) -> Shape:
    """What of a plate or strap lies in one piece."""
    assert isinstance(shape, Box)
    start, stop = shape.middle[0] - shape.halves[0], shape.middle[0] + shape.halves[0]
    start, stop = (start, made.faces[0]) if piece == made.joint - 1 else (made.faces[1], stop)
    half = max(0.5 * (stop - start), 0.0)
    return Box((0.5 * (start + stop), *shape.middle[1:]), (half, *shape.halves[1:]))


def _lip(lure: Lure, lip: Lip) -> Iterator[Buried]:
    """Its slot: the lip's upper face runs up and aft from where it leaves the body; none where it is never in it."""
    slot = lip_slot(lure.hull, lip)
    depth = slot.out + lip.set_in
    if depth <= 0.0:
        return
    cos, sin, half = math.cos(lip.angle), math.sin(lip.angle), 0.5 * (lip.thickness + GLUE_FIT)
    x, z = (0.5 * (mouth + end) for mouth, end in zip(slot.mouth, slot.end, strict=True))
    shape = Box((x + half * sin, 0.0, z - half * cos), (0.5 * depth, 0.5 * lip.width, half), -lip.angle)
    piece = segment_at(lure.segments, lip.at)[0]
    yield Buried("the lip's slot", "lip", "slot", piece, shape, frozenset({"skin", "front", "rear"}))


def _fin(lure: Lure, fin: Fin) -> Buried:
    """Its slot, sawn in from behind through the whole depth."""
    inner = min(max(fin.at - fin.set_in, lure.hull.start), lure.hull.stop)
    bottom, top = depth_at(lure.hull, inner)
    shape = Box((fin.at - 0.5 * fin.set_in, 0.0, 0.5 * (bottom + top)),
                (0.5 * fin.set_in, 0.5 * (fin.thickness + GLUE_FIT), 0.5 * (top - bottom)))  # fmt: skip
    piece = segment_at(lure.segments, inner)[0]
    return Buried("the fin's slot", "fin", "slot", piece, shape, frozenset({"skin", "rear"}))


def _harness(design: Design, lure: Lure, harness: Harness) -> Iterator[Buried]:
    """Its channel from the tow eye to the last hanger, piece by piece."""
    free = hung_on(design)
    for run in runs(design, lure.hull, lure.segments):
        yield Buried("the harness's channel", "harness", "channel", run.piece, channel(lure.hull, harness, run),
                     frozenset({"skin", "front", "rear"}), free)  # fmt: skip
