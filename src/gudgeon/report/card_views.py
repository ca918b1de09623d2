"""A card for the blank unfolded: its left side, with belly, back and ends beside it, to be folded over the edges.

Millimetres from the blank's nose end aft, and from its belly edge up. Each panel is as seen from outside the wood.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.drilling import Drilled, Drilling
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.papers import Papers
from gudgeon.physics.hull import Hull, profile
from gudgeon.physics.mass import Place
from gudgeon.report.strokes import Array, Box, Line, Point, Stroke, circle, cross, path

CROSS = 3.0  # mm from a mark's middle to the end of each of its strokes


@dataclass(frozen=True)
class Blank:
    """What a card is laid on.

    along  : station [m] to distance from its nose end [m]
    length, belly, back, half : [m] as a square blank's
    """

    along: Callable[[float], float]
    length: float
    belly: float
    back: float
    half: float

    @property
    def side(self) -> float:
        """Across the side view [mm]."""
        return 1e3 * (self.back - self.belly)

    @property
    def top(self) -> float:
        """Across the top view [mm]."""
        return 2e3 * self.half

    @property
    def long(self) -> float:
        """From end to end [mm]."""
        return 1e3 * self.length

    def box(self, panel: str) -> Box:
        """Where a panel lies."""
        long, side, top = self.long, self.side, self.top
        return {"left": (0.0, 0.0, long, side), "belly": (0.0, -top, long, 0.0), "back": (0.0, side, long, side + top),
                "right": (0.0, -top - side, long, -top), "front": (-top, 0.0, 0.0, side),
                "rear": (long, 0.0, long + top, side)}[panel]  # fmt: skip

    def point(self, panel: str, place: Place) -> Point:
        """A place (3,) [m] of the wood on a panel."""
        x, y, z = 1e3 * self.along(place[0]), 1e3 * place[1], 1e3 * (place[2] - self.belly)
        out = y + 1e3 * self.half  # from the left side
        return {"left": (x, z), "belly": (x, -out), "back": (x, self.side + out), "right": (x, -self.top - z),
                "front": (-out, z), "rear": (self.long + out, z)}[panel]  # fmt: skip


@dataclass(frozen=True)
class Mark:
    """Where a bit or a saw goes in.

    ones  : what is made there; two of them where the same hole is made from either side
    panel : of the card          at : [mm] on it
    """

    ones: tuple[Drilled, ...]
    panel: str
    at: Point


def marks_of(schedule: Drilling, holes: Sequence[Drilled], blank: Blank) -> tuple[Mark, ...]:
    """A mark for each hole and slot; a hole of the right side with its twin on the left is told on the left."""
    found: list[Mark] = []
    for one in holes:
        twin = next((place for place, mark in enumerate(found) if _is_twin(mark.ones[0], one)), None)
        if twin is not None:
            found[twin] = Mark((*found[twin].ones, one), found[twin].panel, found[twin].at)
            continue
        panel, place = entry(schedule, one)
        found.append(Mark((one,), panel, blank.point(panel, place)))
    return tuple(found)


def _is_twin(one: Drilled, other: Drilled) -> bool:
    return one.face == "left" and other.face == "right" and math.dist(
        (one.mouth[0], -one.mouth[1], one.mouth[2], one.wide), (*other.mouth, other.wide)) < 5e-5  # fmt: skip


def entry(schedule: Drilling, one: Drilled) -> tuple[str, Place]:
    """The panel and the place (3,) [m] where it enters the square blank: aslant, where its axis leaves that."""
    x, y, z = one.mouth
    if one.face in ("front", "rear") and is_in_joint(schedule, one):
        return "left", (0.5 * (x + one.end[0]), y, z)
    if not 0.0 < one.angle < 0.5 * math.pi:
        return one.face, one.mouth
    ahead, under = x - schedule.blank.start, z - schedule.blank.belly
    out = min(ahead / math.cos(one.angle), under / math.sin(one.angle))
    panel = "front" if ahead * math.sin(one.angle) < under * math.cos(one.angle) else "belly"
    return panel, (x - out * math.cos(one.angle), y, z - out * math.sin(one.angle))


def is_in_joint(schedule: Drilling, one: Drilled) -> bool:
    """Whether what goes in lengthwise does so at a joint, not at an end of the blank."""
    blank, station = schedule.blank, one.mouth[0]
    to_end = min(abs(station - blank.start), abs(station - blank.stop))
    return any(abs(station - at) < to_end for at, _ in blank.joints)


@dataclass(frozen=True)
class Piece:
    """One piece of the lure as it lies in its blank.

    start, stop : [m] stations of its ends, as far as its faces reach
    shift       : [m] from a station to the distance from the blank's nose end
    """

    start: float
    stop: float
    shift: float


def pieces_in_blank(papers: Papers, schedule: Drilling) -> tuple[Piece, ...]:
    """Every piece, nose to tail, what the saw takes between them left out."""
    lure, blank = papers.check.lure, schedule.blank
    ends = [lure.bare_hull.start]
    for joint in papers.check.design.joints:
        bare = joint_shape(joint, lure.hull).bared(lure.build)
        out = np.linspace(0.0, float(lure.hull.side(np.array([joint.at]))[0]), 40)
        ends += [joint.at + float(bare.front.station(out).max()), joint.at + float(bare.rear.station(out).min())]
    ends.append(lure.bare_hull.stop)
    costs = np.cumsum([0.0, *(cost for _, cost in blank.joints)])
    return tuple(Piece(start, stop, float(cost) - blank.start)
                 for start, stop, cost in zip(ends[::2], ends[1::2], costs, strict=True))  # fmt: skip


def outlines(hull: Hull, pieces: Sequence[Piece], blank: Blank, panels: Sequence[str]) -> Iterator[Stroke]:
    """The lure's bare outline on the panels that show its length, piece by piece."""
    for panel in panels:
        if panel in ("front", "rear"):
            continue
        view = profile(hull, "top" if panel in ("belly", "back") else "side")
        for piece in pieces:
            yield path(Line.THIN, _on_panel(_loop(view, piece), piece, blank, panel), closed=True)


def _loop(view: Array, piece: Piece) -> Array:
    """A piece's own part of an outline (k, 2) [m]."""
    half = len(view) // 2
    out, home = (_between(line, piece) for line in (view[:half], view[half:-1][::-1]))
    return np.concatenate([out, home[::-1]])


def _between(line: Array, piece: Piece) -> Array:
    """The part of a curve (k, 2) [m] between a piece's ends."""
    inside = line[(line[:, 0] > piece.start) & (line[:, 0] < piece.stop)]
    ends = np.array([[at, np.interp(at, line[:, 0], line[:, 1])] for at in (piece.start, piece.stop)])
    return np.concatenate([ends[:1], inside, ends[1:]])


def _on_panel(line: Array, piece: Piece, blank: Blank, panel: str) -> Array:
    x, across = 1e3 * (line[:, 0] + piece.shift), 1e3 * line[:, 1]
    up = {"left": across - 1e3 * blank.belly, "right": -blank.top - across + 1e3 * blank.belly,
          "belly": -across - 0.5 * blank.top, "back": across + 0.5 * blank.top + blank.side}[panel]  # fmt: skip
    return np.stack([x, up], axis=1)


def around(hull: Hull, piece: Piece) -> Blank:
    """The least box round one shaped piece, as a blank."""
    side, top = (_loop(profile(hull, view), piece) for view in ("side", "top"))
    return Blank(lambda x: x - piece.start, piece.stop - piece.start, float(side[:, 1].min()),
                 float(side[:, 1].max()), float(top[:, 1].max()))  # fmt: skip


def edges(blank: Blank, panels: Sequence[str]) -> Iterator[Stroke]:
    """The card's own edge, wide; its folds, dashed; the blank's centre lines."""
    folds = [edge for panel in panels if panel != "left" for edge in (_shared(blank, panel),)]
    for panel in panels:
        left, bottom, right, top = blank.box(panel)
        corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
        for start, stop in zip(corners, [*corners[1:], corners[0]], strict=True):
            if tuple(sorted((start, stop))) not in folds:
                yield path(Line.VISIBLE, [start, stop])
    for start, stop in folds:
        yield path(Line.HIDDEN, [start, stop])
    for panel in panels:
        yield from _centre_lines(blank, panel)


def _shared(blank: Blank, panel: str) -> tuple[Point, Point]:
    """The edge that a panel is folded at, its lower left end first."""
    left, bottom, right, top = blank.box(panel)
    return {"belly": ((left, top), (right, top)), "back": ((left, bottom), (right, bottom)),
            "right": ((left, top), (right, top)), "front": ((right, bottom), (right, top)),
            "rear": ((left, bottom), (left, top))}[panel]  # fmt: skip


def _centre_lines(blank: Blank, panel: str) -> Iterator[Stroke]:
    left, bottom, right, top = blank.box(panel)
    if panel in ("front", "rear"):
        middle = 0.5 * (left + right)
        yield path(Line.CENTRE, [(middle, bottom), (middle, top)])
    level = 0.5 * (bottom + top) if panel in ("belly", "back") else blank.point(panel, (0.0, 0.0, 0.0))[1]
    yield path(Line.CENTRE, [(left, level), (right, level)])


def cuts_made(mark: Mark, blank: Blank) -> Iterator[Stroke]:
    """The cross, and round it what the bit or the saw takes there."""
    yield from cross(mark.at, CROSS)
    one = mark.ones[0]
    if one.kind == "hole":
        yield circle(Line.THIN, mark.at, 0.5e3 * one.wide)
        return
    left, bottom, right, top = slot_box(mark, blank)
    yield path(Line.THIN, [(left, bottom), (right, bottom), (right, top), (left, top)], closed=True)


def slot_box(mark: Mark, blank: Blank) -> Box:
    """What a slot takes of its panel [mm]."""
    one, (x, y) = mark.ones[0], mark.at
    wide, long = 0.5e3 * one.wide, 0.5e3 * one.long
    if mark.panel == "left":  # at a joint, right across the body
        halves = (0.5e3 * abs(one.end[0] - one.mouth[0]), wide)
    elif mark.panel in ("front", "rear"):
        halves = (wide, long) if one.lies == "upright" else (long, wide / math.cos(one.angle))
    elif one.along is not None:
        start, stop = (1e3 * blank.along(at) for at in one.along)
        return start, y - wide, stop, y + wide
    else:
        halves = (wide / max(math.sin(one.angle), 0.1), long)
    left, bottom, right, top = x - halves[0], y - halves[1], x + halves[0], y + halves[1]
    if one.is_across and mark.panel != "left":  # from edge to edge, wherever its middle is
        edges = blank.box(mark.panel)
        if mark.panel in ("front", "rear") and one.lies == "level":
            left, right = edges[0], edges[2]
        else:
            bottom, top = edges[1], edges[3]
    return left, bottom, right, top


def axes(schedule: Drilling, marks: Sequence[Mark], blank: Blank) -> Iterator[Stroke]:
    """On the left side: how deep what enters elsewhere reaches, with a tick at its inner end."""
    for mark in marks:
        one = mark.ones[0]
        if mark.panel in ("left", "right"):
            continue
        start, end = (np.array(blank.point("left", place)) for place in (entry(schedule, one)[1], one.end))
        if mark.panel in ("belly", "back"):
            start[1] = 0.0 if mark.panel == "belly" else blank.side
        elif one.face in ("front", "rear") and one.angle == 0.0:
            start[0] = 0.0 if mark.panel == "front" else blank.long
        way = (end - start) / max(float(np.hypot(*(end - start))), 1e-9)
        aside = 1.5 * np.array([-way[1], way[0]])
        yield path(Line.CENTRE, np.array([start, end]))
        yield path(Line.THIN, np.array([end - aside, end + aside]))
