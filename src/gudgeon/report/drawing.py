"""The lure drawn at full size: from the side, nose left, and from above. Millimetres, x aft of the nose."""

import math

import numpy as np

from gudgeon.answers.checked import Check
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.lip_slot import lip_slot
from gudgeon.answers.papers import Hole, Papers
from gudgeon.physics.hull import depth_at, half_width_at, profile, skin_heights
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.lure import Lure
from gudgeon.report.cuts import Cut
from gudgeon.report.drawn_parts import (
    Fixed,
    fin_from_side,
    fittings,
    hinges_drawn,
    lip_from_above,
    lip_from_side,
    pivots,
)
from gudgeon.report.joint_lines import bare_faces, joint_from_above, joint_from_side
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.strokes import Array, Drawing, Label, Line, Note, Point, Stroke, circle, cross, grouped, path

_OVERSHOOT = 5.0  # mm a centre line runs on past what it is the middle of
_TICK = 4.0


def figure(value: float, shop: Shop) -> str:
    """A length [m] as dimensions are written: to the place things are cut to, no unit."""
    shown = row("", "", value, Measure.CUT, shop)
    return shown.shown.removesuffix(shown.unit).strip()


def depth_figure(depth: float, shop: Shop) -> str:
    """A depth [m] to drill, up to the next mark, no unit."""
    shown = row("", "", depth, Measure.BORE, shop)
    return shown.shown.removesuffix(shown.unit).strip()


def side_view(papers: Papers, cuts: tuple[Cut, ...], shop: Shop) -> Drawing:
    """Seen from its left side, with bores, cuts, hardware, and notes of how far each is from the nose."""
    lure = papers.check.lure
    strokes = [*_outlines(lure, top=False), _middle_line(lure)]
    for number in range(1, len(lure.joints) + 1):
        strokes += joint_from_side(papers.check, number)
    for hole in papers.holes:
        strokes += _hole_from_side(lure, hole)
    fixed = fittings(papers.check)
    for item in fixed:
        strokes += cross((item.at[0], item.at[2]))
    strokes += [*hinges_drawn(papers.check, (0, 2)), *lip_from_side(papers.check), *fin_from_side(papers.check)]
    strokes += [*circle_at_nose(), *(stroke for cut in cuts for stroke in _cutting_ends(lure, cut))]
    above, below = _side_notes(papers, fixed, cuts, shop)
    return Drawing(tuple(strokes), _letters(lure, cuts, above), above, below)


def top_view(papers: Papers, shop: Shop) -> Drawing:
    """Seen from above: the fish's right side is up."""
    lure = papers.check.lure
    strokes = [*_outlines(lure, top=True), _middle_line(lure)]
    for number in range(1, len(lure.joints) + 1):
        strokes += joint_from_above(papers.check, number)
    for hole in papers.holes:
        strokes += _hole_from_above(lure, hole)
    fixed = fittings(papers.check)
    for item in fixed:
        strokes += cross((item.at[0], item.at[1]))
    strokes += [*hinges_drawn(papers.check, (0, 1)), *lip_from_above(papers.check, lure.bare_hull)]
    notes = [_joint_note(papers.check, number, shop) for number in range(1, len(lure.joints) + 1)]
    notes += [_off_middle(item, shop) for item in fixed if abs(item.at[1]) > 0.05]
    return Drawing(tuple(strokes), below=grouped(notes))


def circle_at_nose() -> tuple[Stroke, ...]:
    """The origin of every distance."""
    return circle(Line.THIN, (0.0, 0.0), 1.2), path(Line.THIN, [(0.0, -2.5), (0.0, 2.5)])


def _outlines(lure: Lure, *, top: bool) -> list[Stroke]:
    """The bare wood, wide; the finished skin round it, narrow, where the drawing has both."""
    hulls = [(Line.VISIBLE, lure.bare_hull)] + ([(Line.FINISHED, lure.hull)] if lure.shown else [])
    return [path(line, 1e3 * profile(hull, "top" if top else "side")[:-1], closed=True) for line, hull in hulls]


def _middle_line(lure: Lure) -> Stroke:
    ends = (1e3 * lure.hull.start - _OVERSHOOT, 1e3 * lure.hull.stop + _OVERSHOOT)
    return path(Line.CENTRE, [(ends[0], 0.0), (ends[1], 0.0)])


def _mouth(hole: Hole) -> Array:
    """Where the bit enters the bare wood (3,) [m]."""
    return np.asarray(hole.pocket.mouth) + hole.coat * np.asarray(hole.pocket.inward)


def _walls(lure: Lure, hole: Hole, across: int) -> tuple[Array, Array]:
    """The two edges (2, 3) [m] of a bore seen across an axis, each from the bare skin to the inner end."""
    inward = np.asarray(hole.pocket.inward)
    aside = np.zeros(3)
    aside[across] = 0.5 * hole.pocket.bore
    end = np.asarray(hole.pocket.mouth) + hole.bored.depth * inward
    edges = []
    for side in (-aside, aside):
        start = _mouth(hole) + side
        if hole.face in ("belly", "back"):
            heights = skin_heights(lure.bare_hull, start[:1], start[1:2])
            start[2] = float(heights[0 if hole.face == "belly" else 1][0])
        edges.append(np.array([start, end + side]))
    return edges[0], edges[1]


def _bore_strokes(lure: Lure, hole: Hole, across: int, plane: tuple[int, int]) -> list[Stroke]:
    """A bore seen across its axis: hidden edges, its inner end, where the ballast stops, its axis."""
    first, second = _walls(lure, hole, across)
    inward = np.asarray(hole.pocket.inward)
    back = -hole.bored.length * inward
    lines = [first, np.array([first[1], second[1]]), second]
    if hole.bored.length > 0.0:
        lines.append(np.array([first[1] + back, second[1] + back]))
    axis = np.array([np.asarray(hole.pocket.mouth) - 4e-3 * inward,
                     np.asarray(hole.pocket.mouth) + (hole.bored.depth + 3e-3) * inward])  # fmt: skip
    seen = list(plane)
    return [*(path(Line.HIDDEN, 1e3 * line[:, seen]) for line in lines), path(Line.CENTRE, 1e3 * axis[:, seen])]


def _bore_end_on(hole: Hole, plane: tuple[int, int], line: Line) -> list[Stroke]:
    x, y = (1e3 * float(hole.pocket.mouth[axis]) for axis in plane)
    return [circle(line, (x, y), 0.5e3 * hole.pocket.bore), *cross((x, y), 0.5e3 * hole.pocket.bore + 2.0)]


def _hole_from_side(lure: Lure, hole: Hole) -> list[Stroke]:
    if hole.face in ("left", "right"):
        return _bore_end_on(hole, (0, 2), Line.VISIBLE if hole.face == "left" else Line.HIDDEN)
    return _bore_strokes(lure, hole, 2 if hole.face in ("front", "rear") else 0, (0, 2))


def _hole_from_above(lure: Lure, hole: Hole) -> list[Stroke]:
    if hole.face in ("belly", "back"):
        return _bore_end_on(hole, (0, 1), Line.VISIBLE if hole.face == "back" else Line.HIDDEN)
    return _bore_strokes(lure, hole, 1 if hole.face in ("front", "rear") else 0, (0, 1))


def _cutting_ends(lure: Lure, cut: Cut) -> list[Stroke]:
    """The wide ends of a cutting plane, and its narrow line between where nothing else is drawn there."""
    low, high = (1e3 * height for height in depth_at(lure.hull, cut.station))
    x = 1e3 * cut.station
    ends = [path(Line.CUTTING, [(x, high + 1.5), (x, high + 1.5 + _TICK)]),
            path(Line.CUTTING, [(x, low - 1.5), (x, low - 1.5 - _TICK)])]  # fmt: skip
    return ends if cut.is_drawn else [*ends, path(Line.CENTRE, [(x, low), (x, high)])]


def _letters(lure: Lure, cuts: tuple[Cut, ...], above: tuple[Note, ...]) -> tuple[Label, ...]:
    """Each cut's letter beside its upper end, on the side where no leader runs."""
    labels = []
    for cut in cuts:
        x, high = 1e3 * cut.station, 1e3 * depth_at(lure.hull, cut.station)[1]
        lines = [note.at[0] for note in above] + [1e3 * other.station for other in cuts if other is not cut]
        left_taken = any(-5.0 < line - x < 0.3 for line in lines)
        right_taken = any(-0.3 < line - x < 5.0 for line in lines)
        aside = 2.4 if left_taken and not right_taken else -2.4
        labels.append(Label((x + aside, high + 2.2), cut.letter))
    return tuple(labels)


def _side_notes(
    papers: Papers, fixed: tuple[Fixed, ...], cuts: tuple[Cut, ...], shop: Shop
) -> tuple[tuple[Note, ...], tuple[Note, ...]]:
    lure = papers.check.lure
    above: list[Note] = []
    below = [Note((0.0, 0.0), "0", ("nose: distances count from here",))]
    for cut in cuts:
        x, low = 1e3 * cut.station, 1e3 * depth_at(lure.hull, cut.station)[0]
        words = f"{cut.words} ({cut.letter}-{cut.letter})"
        below.append(Note((x, low - 1.5 - _TICK), figure(cut.station, shop), (words,)))
    for hole in papers.holes:
        if hole.face in ("front", "rear"):
            x, _, z = (float(value) for value in _mouth(hole))
            below.append(Note((1e3 * x, 1e3 * z), figure(x, shop), (f"{hole.name}, along the body",)))
    for item in (*fixed, *pivots(papers.check)):
        x, _, z = item.at
        is_high = z >= _middle_height(lure, x)
        (above if is_high else below).append(Note((x, z), figure(1e-3 * x, shop), (item.name,)))
    lip = papers.check.design.lip
    if lip is not None:
        words = f"lip slot, {math.degrees(lip.angle):.0f} deg to the centre line"
        x, z = lip_slot(lure.bare_hull, lip).mouth
        below.append(Note((1e3 * x, 1e3 * z), figure(x, shop), (words,)))
    fin = papers.check.design.fin
    if fin is not None:
        below.append(Note((1e3 * fin.at + 4.0, 1e3 * (fin.height - 0.5 * fin.tall)), "",
                          (f"fin, within {figure(fin.length, shop)} x {figure(fin.tall, shop)}",)))  # fmt: skip
    return grouped(above), grouped(below)


def _middle_height(lure: Lure, x: float) -> float:
    """Half way up the body [mm] at a station [mm]; the centre line beyond its ends."""
    station = 1e-3 * x
    inside = lure.hull.start <= station <= lure.hull.stop
    return 500.0 * sum(depth_at(lure.hull, station)) if inside else 0.0


def _joint_note(check: Check, number: int, shop: Shop) -> Note:
    """A joint's gap and the shape of its faces, told under the top view, where they show."""
    joint, shape = check.lure.joints[number - 1], joint_shape(check.design.joints[number - 1], check.lure.hull)
    out = 1e3 * half_width_at(check.lure.hull, joint.at, 0.0) + _OVERSHOOT
    front_face, rear_face = bare_faces(check, number)
    gap = f"gap to cut {figure(rear_face - front_face, shop)}, finished {figure(joint.gap, shop)}"
    return Note((1e3 * joint.at, -out), f"joint {number}:", (*_shape_words(check, number, shape, shop), gap))


def _shape_words(check: Check, number: int, shape: JointShape, shop: Shop) -> tuple[str, ...]:
    bevels = (shape.front_bevel, shape.rear_bevel)
    front, rear = (f"{math.degrees(bevel):.0f} deg" if bevel else "square" for bevel in bevels)
    sloped = "both faces square" if front == rear == "square" else f"front face {front}, rear face {rear}"
    if shape.face == "vee":
        return (sloped,)
    piece = check.lure.segments[number - 1 if shape.carries == "front" else number].name
    bare = shape.bared(check.lure.build)
    own, other = (bare.front, bare.rear) if shape.carries == "front" else (bare.rear, bare.front)
    if shape.face == "knuckle":
        size = f"knuckle of radius {figure(own.edges[0].radius, shop)} on the {piece}"
        return size, f"socket of radius {figure(other.edges[0].radius, shop)}", f"beside it: {sloped}"
    widths = [figure(2.0 * line.edges[0].outer, shop) for line in (own, other)]
    return f"tongue {widths[0]} wide on the {piece}", f"slot {widths[1]} wide", f"beside it: {sloped}"


def _off_middle(item: Fixed, shop: Shop) -> Note:
    at: Point = (item.at[0], item.at[1])
    side = "right" if item.at[1] > 0.0 else "left"
    words = f"{item.name}, {figure(abs(1e-3 * item.at[1]), shop)} to the {side}"
    return Note(at, figure(1e-3 * item.at[0], shop), (words,))
