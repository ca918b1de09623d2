"""Holes and slots for hinges, eyes, pins and wire as hidden lines, for files that machines are set up from.

Ballast bores, lip and fin stand in the drawings themselves.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.papers import Papers
from gudgeon.answers.wood_taken import CLEAR, Taken, wood_taken
from gudgeon.physics.hull import half_width_at
from gudgeon.physics.shapes import Rod
from gudgeon.physics.wood_piece import WoodPiece, wood_pieces
from gudgeon.report.strokes import Array, Line, Stroke, circle, path

Plane = tuple[int, int]
SIDE, TOP, SECTION = (0, 2), (0, 1), (1, 2)
"""Which of x, y, z run to the right and up in each view."""
_DRAWN = ("ballast", "lip", "fin")
_EDGE = 0.999  # of half a slot's width: its edges, where a face may stand further out than in the middle


@dataclass(frozen=True, eq=False)
class Wooden:
    """The bare wood with all that is cut from it.

    taken  : holes and slots that no drawing shows
    pieces : nose to tail      whole : the body without its joints
    """

    taken: tuple[Taken, ...]
    pieces: tuple[WoodPiece, ...]
    whole: WoodPiece

    def around(self, taken: Taken) -> WoodPiece:
        """The wood that a hole or slot is in."""
        return self.whole if taken.piece is None else self.pieces[taken.piece]


def wooden(papers: Papers) -> Wooden:
    """The bare wood of a checked lure, for its hidden lines."""
    lure, design = papers.check.lure, papers.check.design
    joints = [(joint.at, joint_shape(joint, lure.hull).bared(lure.build)) for joint in design.joints]
    taken = tuple(one for one in wood_taken(papers) if one.whose not in _DRAWN)
    return Wooden(taken, wood_pieces(lure.bare_hull, joints), WoodPiece(lure.bare_hull, None, None))


def hidden_cuts(wood: Wooden, plane: Plane) -> tuple[Stroke, ...]:
    """Every hole and slot seen from the side or from above [mm]; what lies behind another of its kind, once."""
    found = {}
    for taken in wood.taken:
        stroke = _seen(wood.around(taken), taken, plane, taken.shape.centre, _halves(taken))
        found[np.round(stroke.points, 6).tobytes()] = stroke
    return tuple(found.values())


def cuts_in_section(wood: Wooden, station: float) -> tuple[Stroke, ...]:
    """Those that a section runs through [mm], as it cuts them; station : [m]."""
    found = []
    for taken in wood.taken:
        middle, halves = taken.shape.centre, _halves(taken)
        off = abs(station - float(middle[0]))
        if off >= halves[0]:
            continue
        halves[0] = 0.0  # no more of it than lies in the plane
        if isinstance(taken.shape, Rod) and abs(taken.inward[0]) < 0.5:
            halves[1 if abs(taken.inward[2]) > 0.5 else 2] = math.sqrt(taken.shape.radius**2 - off**2)
        middle = np.array([station, middle[1], middle[2]])
        found.append(_seen(wood.whole, taken, SECTION, middle, halves))
    return tuple(found)


def _halves(taken: Taken) -> list[float]:
    """Half of what a hole or slot reaches [m] along x, y and z; none of these lies aslant."""
    if isinstance(taken.shape, Rod):
        return [taken.shape.halves[0] if abs(way) > 0.5 else taken.shape.radius for way in taken.inward]
    return list(taken.shape.halves)


def _seen(wood: WoodPiece, taken: Taken, plane: Plane, centre: Array, half: Sequence[float]) -> Stroke:
    """Its walls from the skin or face in, and its inner end; end on, its outline."""
    along = int(np.argmax(np.abs(taken.inward)))
    right, up = plane
    if along not in plane:
        return _end_on(wood, taken, centre, half, plane)
    beside, deep = (up if along == right else right), 3 - right - up
    end = centre + half[along] * np.asarray(taken.inward)
    corners = []
    for side in (-1.0, 1.0):
        inner = end.copy()
        inner[beside] += side * half[beside]
        if taken.across and beside == 1:
            inner[1] = side * half_width_at(wood.hull, float(end[0]), float(end[2]))
            corners.append(np.array([inner]))
            continue
        corners.append(np.array([_mouth(wood, taken, inner, 2.0 * half[along], (deep, half[deep])), inner]))
    line = np.concatenate([corners[0], corners[1][::-1]])
    return path(Line.HOLES, 1e3 * line[:, [right, up]])


def _mouth(wood: WoodPiece, taken: Taken, inner: Array, long: float, deep: tuple[int, float]) -> Array:
    """Where a wall leaves the wood (3,) [m], looked for from outside at the middle and at both edges of its depth."""
    way, axis = np.asarray(taken.inward), deep[0]
    begin, reach = inner - (long + CLEAR) * way, long + CLEAR
    found = math.inf
    for share in (0.0,) if isinstance(taken.shape, Rod) else (0.0, -_EDGE, _EDGE):
        start = begin.copy()
        start[axis] += share * deep[1]
        x, y, z = start.tolist()
        found = min(found, wood.entry((x, y, z), taken.inward, reach))
    return np.asarray(begin + min(found, reach) * way)


def _end_on(wood: WoodPiece, taken: Taken, centre: Array, half: Sequence[float], plane: Plane) -> Stroke:
    x, y = (1e3 * float(centre[axis]) for axis in plane)
    if isinstance(taken.shape, Rod):
        return circle(Line.HOLES, (x, y), 1e3 * taken.shape.radius)
    wide, tall = (1e3 * half[axis] for axis in plane)
    if taken.across:
        wide = 1e3 * half_width_at(wood.hull, float(centre[0]), float(centre[2]))
    return path(Line.HOLES, [(x - wide, y - tall), (x + wide, y - tall), (x + wide, y + tall), (x - wide, y + tall)],
                closed=True)  # fmt: skip
