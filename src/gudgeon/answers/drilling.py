"""The drill schedule: every hole and slot with its bit, depth and place, by when in the work it is made.

All places are in bare wood, and while the blank is square they count from its nose end and its belly or back edge.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from gudgeon.answers.blank_sizes import SquareBlank, square_blank
from gudgeon.answers.buried import buried_hardware
from gudgeon.answers.fin_slot import FinSlot, fin_slot
from gudgeon.answers.hinge_made import Cutout
from gudgeon.answers.hinge_parts import PIN_SWELL
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.lip_slot import GLUE_FIT, goes_across, lip_slot
from gudgeon.answers.papers import Hole, Papers
from gudgeon.answers.pilots import pilot_width, waits_for_ends
from gudgeon.answers.shanks import (
    EYES,
    USUAL_PIN,
    USUAL_SHANK,
    buried_rod,
    fitting_shank,
    goes_in,
    has_shank,
    hinge_eye_shanks,
    in_gap,
)
from gudgeon.design.hardware import Fin, Fitting, Lip
from gudgeon.errors import OutsideSource
from gudgeon.library.drills import Series, nearest_drill
from gudgeon.physics.hull import depth_at
from gudgeon.physics.lure import segment_at
from gudgeon.physics.mass import Place
from gudgeon.physics.shapes import Box, Rod

When = Literal["square", "shaped", "apart", "after the tub"]  # shaped: nose and tail sawn off
Lies = Literal["level", "upright", "lengthwise"]
Face = Literal["belly", "back", "left", "right", "front", "rear"]

_NEAR = 2.6e-4  # m: a bit further off than this is no bit for that hole; half the widest step between bits in use
_INWARD: dict[Face, Place] = {
    "belly": (0.0, 0.0, 1.0), "back": (0.0, 0.0, -1.0), "left": (0.0, 1.0, 0.0), "right": (0.0, -1.0, 0.0),
    "front": (1.0, 0.0, 0.0), "rear": (-1.0, 0.0, 0.0),
}  # fmt: skip


@dataclass(frozen=True)
class Bits:
    """The bit of each series that comes nearest to a hole; None where a series has none near it."""

    fraction: str | None
    number: str | None
    letter: str | None
    metric: str | None


@dataclass(frozen=True)
class Drilled:
    """One hole or slot.

    number  : in the schedule, from 1
    pieces  : names of the pieces of wood it is in
    wide    : [m] a hole's diameter, a slot's width across what goes in
    long    : [m] of a slot's mouth; a hole's diameter
    mouth   : (3,) [m] where it enters the bare wood      end : (3,) [m] its inner end
    depths  : (2,) [m] in bare wood, with the metric bit and with the bit in inches
    angle   : [rad] between its axis and the centre line
    bits    : None for a slot
    lies    : how a slot's mouth runs; None for a hole
    is_across: a slot sawn right across the blank
    is_usual: the wire, pin or shank is not told, and the usual one is taken
    along   : (2,) [m] stations of the ends of a lengthwise slot; None for all others
    """

    number: int
    name: str
    when: When
    kind: Literal["hole", "slot"]
    pieces: tuple[str, ...]
    face: Face
    mouth: Place
    end: Place
    wide: float
    long: float
    depths: tuple[float, float]
    angle: float
    bits: Bits | None
    is_usual: bool = False
    lies: Lies | None = None
    is_across: bool = False
    along: tuple[float, float] | None = None

    def depth(self, *, metric: bool) -> float:
        """[m] in bare wood, for the shop's bit."""
        return self.depths[0 if metric else 1]


@dataclass(frozen=True)
class LastHole:
    """The ballast hole that the tub test settles.

    hole      : as reckoned
    per_gram  : [m] of bore that one gram of its ballast takes, in the metric bit's bore and in that in inches
    """

    hole: Hole
    per_gram: tuple[float, float]


@dataclass(frozen=True)
class Drilling:
    """The whole schedule.

    holes  : numbered; while it is square, then with its ends off, then apart, then after the tub, each in order from
        the nose
    last   : None where no ballast waits for the tub
    untold : (name, what to write) of what needs a hole that the design does not tell
    """

    blank: SquareBlank
    holes: tuple[Drilled, ...]
    last: LastHole | None
    untold: tuple[tuple[str, str], ...]

    def at(self, when: When) -> tuple[Drilled, ...]:
        """Those of one time."""
        return tuple(hole for hole in self.holes if hole.when == when)

    def stop_depth(self, hole: Drilled, *, metric: bool) -> float:
        """From the square face it is made from to its inner end [m]; what a depth stop is set to. With the ends sawn
        off it counts from there."""
        x, y, z = hole.mouth
        over = {"belly": z - self.blank.belly, "back": self.blank.back - z, "left": self.blank.half + y,
                "right": self.blank.half - y, "front": x - self.blank.start, "rear": self.blank.stop - x}  # fmt: skip
        if 0.0 < hole.angle < 0.5 * math.pi:  # a slot aslant: along it, to whichever face it leaves by
            out = min(over["front"] / math.cos(hole.angle), over["belly"] / math.sin(hole.angle))
            return hole.depth(metric=metric) + out
        return hole.depth(metric=metric) + over[hole.face] - (self.blank.end if hole.when == "shaped" else 0.0)


def drilling(papers: Papers) -> Drilling:
    """Every hole and slot of a checked lure."""
    last, blank = _last(papers), square_blank(papers)
    found = [*_ballast(papers, last), *fitting_holes(papers), *hinge_cuts(papers), *_plates(papers, blank),
             *channel_cut(papers)]  # fmt: skip
    order = ("square", "shaped", "apart", "after the tub")
    found.sort(key=lambda hole: (order.index(hole.when), hole.mouth[0], hole.mouth[2]))
    numbered = tuple(replace(hole, number=number) for number, hole in enumerate(found, start=1))
    return Drilling(blank, numbered, last, tuple(_untold(papers)))


def nearest_bits(diameter: float) -> Bits:
    """The nearest bit of each series to a hole [m]."""

    def near(series: Series) -> str | None:
        try:
            drill = nearest_drill(diameter, series)
        except OutsideSource:
            return None
        return drill.name if abs(drill.diameter - diameter) <= _NEAR else None

    return Bits(near("fraction"), near("number"), near("letter"), near("metric"))


def _hole(papers: Papers, name: str, when: When, face: Face, mouth: Place, depth: float, wide: float, *,
          is_usual: bool = False) -> Drilled:  # fmt: skip
    """A round hole straight in from a face."""
    end = tuple(at + depth * way for at, way in zip(mouth, _INWARD[face], strict=True))
    angle = 0.0 if face in ("front", "rear") else 0.5 * math.pi
    return Drilled(0, name, when, "hole", _pieces(papers, mouth[0]), face, mouth, (end[0], end[1], end[2]), wide, wide,
                   (depth, depth), angle, nearest_bits(wide), is_usual)  # fmt: skip


def _pieces(papers: Papers, *stations: float) -> tuple[str, ...]:
    segments = papers.check.lure.segments
    places = [place for station in stations for place in segment_at(segments, station)]
    return tuple(segments[place].name for place in sorted(set(places)))


def _last(papers: Papers) -> LastHole | None:
    """The last hole to be filled, where the ballast is still to be found."""
    hole = papers.waiting
    if hole is None:
        return None
    density = hole.pocket.ballast_density * hole.pocket.packing
    areas = [0.25 * math.pi * bit.diameter**2 for bit in (hole.metric_bit, hole.inch_bit)]
    return LastHole(hole, (1e-3 / (density * areas[0]), 1e-3 / (density * areas[1])))


def _ballast(papers: Papers, last: LastHole | None) -> Iterator[Drilled]:
    pieces = len(papers.check.lure.segments)
    for hole in papers.holes:
        pocket = hole.pocket
        outer = {"front": 0, "rear": pieces - 1}.get(hole.face, pocket.segment)
        when: When = "square" if pocket.segment == outer else "apart"  # into a joint's face
        if last is not None and hole is last.hole:
            when = "after the tub"
        x, y, z = (at + hole.coat * way for at, way in zip(pocket.mouth, pocket.inward, strict=True))
        made = _hole(papers, hole.name, when, hole.face, (x, y, z), hole.bored.depth - hole.coat, pocket.bore)
        bits = replace(nearest_bits(pocket.bore), fraction=hole.inch_bit.name, metric=hole.metric_bit.name)
        yield replace(made, depths=(hole.metric_bit.depth - hole.coat, hole.inch_bit.depth - hole.coat), bits=bits,
                      pieces=(papers.check.lure.segments[pocket.segment].name,))  # fmt: skip


def fitting_holes(papers: Papers) -> Iterator[Drilled]:
    """Of eyes, glass eyes and pins, not numbered yet."""
    for fitting in papers.check.design.fittings:
        if has_shank(fitting):
            in_faces = hinge_eye_shanks(papers.check.lure, fitting)
            yield from (_pilot_in_face(papers, fitting, *shank) for shank in in_faces)
            if not in_faces:
                yield _pilot(papers, fitting)
        elif fitting.kind == "glass eye":
            yield _socket(papers, fitting)
        elif fitting.kind == "pin" and not in_gap(papers.check.lure, fitting.at):
            yield _pin(papers, fitting)


def _pilot(papers: Papers, fitting: Fitting) -> Drilled:
    """Of an eye."""
    wood = papers.check.lure.bare_hull
    shank = fitting_shank(wood, fitting)
    depth = USUAL_SHANK if fitting.shank is None else fitting.shank
    face, waits = _face(goes_in(fitting, wood)), waits_for_ends(papers.check.design, papers.check.lure, fitting)
    return _hole(papers, fitting.name, "shaped" if waits else "square", face, shank.start, depth,
                 pilot_width(fitting, shank),
                 is_usual=fitting.wire is None or fitting.shank is None)  # fmt: skip


def _pilot_in_face(papers: Papers, fitting: Fitting, piece: int, shank: Rod) -> Drilled:
    """Of an eye that stands in a joint's gap: into the bare face of one of its pieces."""
    lure = papers.check.lure
    is_ahead = shank.stop[0] < shank.start[0]
    joint = papers.check.design.joints[piece if is_ahead else piece - 1]
    bare = joint_shape(joint, lure.hull).bared(lure.build)
    line, face = (bare.front, "rear") if is_ahead else (bare.rear, "front")
    x = joint.at + float(line.station(np.array([shank.start[1]]))[0])
    hole = _hole(papers, fitting.name, "apart", _face(face), (x, *shank.start[1:]), abs(shank.stop[0] - x),
                 pilot_width(fitting, shank), is_usual=fitting.wire is None or fitting.shank is None)  # fmt: skip
    return replace(hole, pieces=(lure.segments[piece].name,))


def _face(word: str) -> Face:
    return next(face for face in _INWARD if face == word)


def _socket(papers: Papers, fitting: Fitting) -> Drilled:
    """Of a glass eye, half a ball set flush with the finished skin."""
    rod, wood = buried_rod(papers.check.lure.hull, fitting), buried_rod(papers.check.lure.bare_hull, fitting)
    assert rod is not None
    assert wood is not None
    return _hole(papers, fitting.name, "square", "left" if rod.start[1] < 0.0 else "right", wood.start,
                 abs(wood.start[1] - rod.stop[1]), 2.0 * rod.radius)  # fmt: skip


def _pin(papers: Papers, fitting: Fitting) -> Drilled:
    """Of an upright pin, from the skin nearer to one of its ends."""
    hull = papers.check.lure.bare_hull
    rod = buried_rod(papers.check.lure.hull, fitting)
    assert rod is not None
    (x, y, low), high = rod.start, rod.stop[2]
    belly, back = depth_at(hull, x)
    wire = USUAL_PIN if fitting.wire is None else fitting.wire
    from_back = back - high <= low - belly
    face, skin, end = ("back", back, low) if from_back else ("belly", belly, high)
    return _hole(papers, fitting.name, "square", _face(face), (x, y, skin), abs(skin - end), wire + PIN_SWELL,
                 is_usual=fitting.wire is None)  # fmt: skip


def _untold(papers: Papers) -> Iterator[tuple[str, str]]:
    for fitting in papers.check.design.fittings:
        if fitting.kind in EYES and not has_shank(fitting):
            yield fitting.name, "into and shank, or a [[hinge]] if it is a part of one"
        elif fitting.kind == "pin" and in_gap(papers.check.lure, fitting.at):
            yield fitting.name, "a [[hinge]] for its joint"
        elif fitting.kind in ("plate", "wire"):
            yield fitting.name, "a [[hinge]] for its joint" if fitting.kind == "plate" else "a [harness]"


def hinge_cuts(papers: Papers) -> Iterator[Drilled]:
    """Of every hinge's cutouts, in their order, not numbered yet."""
    design, lure = papers.check.design, papers.check.lure
    for made in made_hinges(design, lure):
        bare = joint_shape(design.joints[made.joint - 1], lure.hull).bared(lure.build)
        at, middle = design.joints[made.joint - 1].at, np.zeros(1)
        faces = (at + float(bare.front.station(middle)[0]), at + float(bare.rear.station(middle)[0]))
        for cutout in made.cutouts:
            yield _cutout(papers, cutout, faces)


def _cutout(papers: Papers, cutout: Cutout, faces: tuple[float, float]) -> Drilled:
    """A bore or slot of a hinge, from the bare wood's face on; what coats leave of a face is not there to be cut.

    faces : (2,) [m] stations of the joint's bare faces at the middle
    """
    x, y, z = cutout.mouth
    if cutout.face in ("front", "rear"):
        x = faces[0 if cutout.face == "rear" else 1]
        depth = abs(cutout.end[0] - x)
    else:
        skins = depth_at(papers.check.lure.bare_hull, x)
        z = skins[0 if cutout.face == "belly" else 1]
        depth = abs(cutout.end[2] - z)
    in_joint = cutout.face in ("front", "rear") and not cutout.across
    hole = _hole(papers, cutout.name, "apart" if in_joint else "square", cutout.face, (x, y, z), depth, cutout.wide)
    hole = replace(hole, pieces=(papers.check.lure.segments[cutout.piece].name,))
    if cutout.kind == "bore":
        return hole
    thin, long = sorted((cutout.wide, cutout.tall))
    lies: Lies = "upright" if cutout.tall > cutout.wide else "level"
    return replace(hole, kind="slot", wide=thin, long=long, bits=None, lies=lies)


def _plates(papers: Papers, blank: SquareBlank) -> Iterator[Drilled]:
    design, wood = papers.check.design, papers.check.lure.bare_hull
    if design.lip is not None:
        yield _lip(papers, design.lip, blank)
    cut = fin_slot(wood, design.fin) if design.fin is not None else None
    if design.fin is not None and cut is not None:
        yield _fin(papers, design.fin, cut, blank)


def _slot(papers: Papers, name: str, face: Face, mouth: Place, end: Place, wide: float, long: float,
          lies: Lies) -> Drilled:  # fmt: skip
    depth = math.dist(mouth, end)
    return Drilled(0, name, "square", "slot", _pieces(papers, mouth[0]), face, mouth, end, wide, long, (depth, depth),
                   math.atan2(abs(end[2] - mouth[2]), abs(end[0] - mouth[0])), None, lies=lies)  # fmt: skip


def _lip(papers: Papers, lip: Lip, blank: SquareBlank) -> Drilled:
    """Where the lip's upper face runs."""
    wood = papers.check.lure.bare_hull
    slot, is_across = lip_slot(wood, lip), goes_across(wood, lip)
    face: Face = "front" if lip.angle < 0.25 * math.pi else "belly"
    made = _slot(papers, "lip's slot", face, (slot.mouth[0], 0.0, slot.mouth[1]), (slot.end[0], 0.0, slot.end[1]),
                 lip.thickness + GLUE_FIT, 2.0 * blank.half if is_across else lip.width, "level")  # fmt: skip
    return replace(made, is_across=is_across)


def _fin(papers: Papers, fin: Fin, cut: FinSlot, blank: SquareBlank) -> Drilled:
    """From where the fin leaves the bare wood."""
    made = _slot(papers, "fin's slot", "rear", (cut.mouth, 0.0, fin.height), (cut.end, 0.0, fin.height),
                 fin.thickness + GLUE_FIT, blank.back - blank.belly if cut.is_open else cut.tall,
                 "upright")  # fmt: skip
    return replace(made, is_across=cut.is_open)


def channel_cut(papers: Papers) -> Iterator[Drilled]:
    """A harness's, through all the pieces at once."""
    design, lure = papers.check.design, papers.check.lure
    shapes: Sequence[Box | Rod] = [one.shape for one in buried_hardware(design, lure, ()) if one.kind == "channel"]
    if design.harness is None or not shapes:
        return
    rods = [shape for shape in shapes if isinstance(shape, Rod)]
    if rods:
        first, last = max(rods[0].start[0], lure.bare_hull.start), min(rods[-1].stop[0], lure.bare_hull.stop)
        made = _hole(papers, "wire's channel", "square", "front", (first, 0.0, rods[0].start[2]),
                     last - first, 2.0 * rods[0].radius)  # fmt: skip
        yield replace(made, pieces=_pieces(papers, first, last))
        return
    boxes = [shape for shape in shapes if isinstance(shape, Box)]
    start = boxes[0].middle[0] - boxes[0].halves[0]
    stop = boxes[-1].middle[0] + boxes[-1].halves[0]
    stations = np.clip(np.linspace(start, stop, 101), lure.bare_hull.start, lure.bare_hull.stop)
    lowest = float(stations[np.argmin(lure.bare_hull.belly(stations))])
    top = design.harness.height + boxes[0].halves[1]
    made = _slot(papers, "wire's slot, level at its end", "belly", (lowest, 0.0, depth_at(lure.bare_hull, lowest)[0]),
                 (lowest, 0.0, top), 2.0 * boxes[0].halves[1], stop - start, "lengthwise")  # fmt: skip
    yield replace(made, pieces=_pieces(papers, start, stop), along=(start, stop))
