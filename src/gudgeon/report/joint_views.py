"""A joint at full size from the side and from above, dimensioned: bare sizes, finished ones in brackets.

Millimetres: x aft of the nose and z up from the side, y to the fish's right up from above.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.joint_templates import FaceMark, FaceTemplate, JointTemplate
from gudgeon.answers.papers import Papers
from gudgeon.physics.face_edge import FaceEdge
from gudgeon.physics.hull import Hull
from gudgeon.physics.section import half_widths
from gudgeon.report.dimensions import Gauge, View, angle_size, leader, level_size, together, upright_size
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.drawn_parts import hinge_parts
from gudgeon.report.hidden_cuts import SIDE, TOP, Plane, Wooden, hidden_cuts
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.strokes import Array, Line, Point, Stroke, cross, path

FIRST, _NEXT = 6.5, 6.0  # mm of paper from a drawing to its first dimension line, and from that to the next
_POINTS = 81  # of a curve
_SEEN = 1e-5  # m: what lies less far behind than this is not hidden
_SAME = 2e-5  # m


@dataclass(frozen=True, eq=False)
class JointDrawn:
    """One joint, what it is drawn from and how large words are on it.

    wood : what is cut from the bare wood
    """

    papers: Papers
    template: JointTemplate
    wood: Wooden
    shop: Shop
    gauge: Gauge

    @cached_property
    def own_cuts(self) -> Wooden:
        """Only what is cut for this joint's hinge, or opens in its faces."""
        names = {one.name for one in self.template.made}
        taken = [one for one in self.wood.taken if one.name in names or one.whose == "harness"]
        return replace(self.wood, taken=tuple(taken))

    def paper(self, size: float) -> float:
        """Millimetres of the drawing that `size` millimetres of paper are."""
        return self.gauge.paper(size)

    def both(self, bare: float, finished: float | None) -> str:
        """A length [m] to cut, and the finished one in brackets where that is another."""
        if finished is None or abs(finished - bare) < _SAME:
            return figure(bare, self.shop)
        return f"{figure(bare, self.shop)} ({figure(finished, self.shop)})"


def thin_figure(value: float, shop: Shop) -> str:
    """A diameter or thickness [m] as wire is measured, no unit."""
    shown = row("", "", value, Measure.WIRE, shop)
    return shown.shown.removesuffix(shown.unit).strip()


def degrees(angle: float) -> str:
    """An angle [rad]."""
    return f"{round(math.degrees(angle), 1):g}°"


def from_side(drawn: JointDrawn) -> View:
    """The joint from its left side."""
    template, lure = drawn.template, drawn.papers.check.lure
    hull, (low, high) = lure.bare_hull, template.span
    strokes = [path(Line.CENTRE, 1e3 * np.array([(low - 5e-3, 0.0), (high + 5e-3, 0.0)]))]
    for face, end in ((template.front, low), (template.rear, high)):
        strokes += _piece_from_side(hull, Line.VISIBLE, (end, face.station))
        if face.finished is not None:
            strokes += _piece_from_side(lure.hull, Line.FINISHED, (end, float(face.finished.stations[0])))
        strokes += _middle_edge(hull, template, face.station)
        if float(np.ptp(face.edge.stations)) > _SAME:
            strokes.append(path(Line.VISIBLE, 1e3 * face.edge.skin_line))
        strokes.append(_end(hull, end, *(float(curve(np.array([end]))[0]) for curve in (hull.belly, hull.back))))
    strokes += _hinge(drawn, SIDE)
    bounds = _side_bounds(hull, template)
    return together([View(tuple(strokes)), *_side_sizes(drawn, bounds)])


def _piece_from_side(hull: Hull, line: Line, span: tuple[float, float]) -> Iterator[Stroke]:
    x = np.clip(np.linspace(*span, _POINTS), hull.start, hull.stop)
    for curve in (hull.back, hull.belly):
        yield path(line, 1e3 * np.stack([x, curve(x)], axis=1))


def _middle_edge(hull: Hull, template: JointTemplate, station: float) -> Iterator[Stroke]:
    """A face's line in the middle plane: seen where no wood of either piece stands before it."""
    place = np.array([station])
    z = np.linspace(float(hull.belly(place)[0]), float(hull.back(place)[0]), _POINTS)
    out = half_widths(hull.sections(np.full_like(z, station)), z)[:, None] * np.linspace(0.0, 1.0, _POINTS)
    ahead = template.joint.at + template.front.line.station(out) > station + _SEEN
    behind = template.joint.at + template.rear.line.station(out) < station - _SEEN
    hidden = np.any(ahead | behind, axis=1)
    yield from _runs(1e3 * np.stack([np.full_like(z, station), z], axis=1), hidden)


def _runs(points: Array, hidden: NDArray[np.bool_]) -> Iterator[Stroke]:
    """A line in stretches, seen or hidden."""
    turns = np.flatnonzero(hidden[1:] != hidden[:-1]) + 1
    for first, last in zip([0, *turns], [*turns, len(points)], strict=True):
        if last - first > 1:
            line = Line.HIDDEN if hidden[first] else Line.VISIBLE
            yield path(line, points[max(first - 1, 0) : last])


def _end(hull: Hull, end: float, low: float, high: float) -> Stroke:
    """Where a drawing stops [m]: at the body's own end, or broken off, a narrow line with zigzags."""
    if min(end - hull.start, hull.stop - end) < _SAME:
        return path(Line.VISIBLE, 1e3 * np.array([(end, low), (end, high)]))
    x, bottom, top, middle = 1e3 * end, 1e3 * low - 2.0, 1e3 * high + 2.0, 500.0 * (low + high)
    return path(Line.THIN, [(x, bottom), (x, middle - 2.0), (x - 1.2, middle - 1.0), (x + 1.2, middle + 1.0),
                            (x, middle + 2.0), (x, top)])  # fmt: skip


def _hinge(drawn: JointDrawn, plane: Plane) -> Iterator[Stroke]:
    template, hinge = drawn.template, drawn.template.hinge
    low, high = (1e3 * end for end in template.span)
    for cut in hidden_cuts(drawn.own_cuts, plane):  # a wire's channel runs on
        yield replace(cut, points=np.stack([np.clip(cut.points[:, 0], low, high), cut.points[:, 1]], axis=1))
    if hinge is not None:
        yield from hinge_parts(hinge, plane)
    x = 1e3 * template.pivot
    if plane == TOP:
        yield from cross((x, 0.0), 2.2)
        return
    if hinge is not None and template.pin is None:
        levels = [1e3 * level for level in hinge.sizes.heights]
        yield path(Line.CENTRE, [(x, min(levels) - 4.0), (x, max(levels) + 4.0)])


def _side_bounds(hull: Hull, template: JointTemplate) -> tuple[float, float]:
    """Lowest and highest of the body drawn [mm]."""
    x = np.linspace(*template.span, _POINTS)
    low, high = float(hull.belly(x).min()), float(hull.back(x).max())
    pin = template.pin or (low, high)
    return 1e3 * min(low, pin[0]), 1e3 * max(high, pin[1])


def _side_sizes(drawn: JointDrawn, bounds: tuple[float, float]) -> Iterator[View]:
    """The gap over it, the pivot and depths under it, the pin's ends at its right."""
    template, gauge, hull = drawn.template, drawn.gauge, drawn.papers.check.lure.bare_hull
    front, rear = template.front.station, template.rear.station
    back = [1e3 * float(hull.back(np.array([x]))[0]) for x in (front, rear)]
    gap = f"gap {drawn.both(rear - front, template.joint.shape.gap)}"
    yield level_size((1e3 * front, 1e3 * rear), bounds[1] + drawn.paper(FIRST), gap, gauge, start=(back[0], back[1]))
    line = bounds[0] - drawn.paper(FIRST)
    if template.hinge is not None:
        yield from _pivot_size(drawn, line)
        line -= drawn.paper(_NEXT)
    for face in (template.front, template.rear):
        below, clear = line, _deepest(drawn, face)
        for words, depth, height in _depths(drawn, face):
            ends = (1e3 * face.station, 1e3 * (face.station + depth * face.line.wood))
            yield level_size(ends, below, words, gauge, start=(height, height), clear=clear,
                             beside="left" if face.is_ahead else "right")  # fmt: skip
            below -= drawn.paper(_NEXT)
    if template.pin is not None:
        right = 1e3 * template.span[1] + drawn.paper(FIRST)
        for end in template.pin:
            if abs(end) > 1e-3:
                words = f"pin {figure(abs(end), drawn.shop)} {'up' if end > 0.0 else 'down'}"
                yield upright_size((0.0, 1e3 * end), right, words, gauge,
                                   start=(right - drawn.paper(4.0), 1e3 * template.pivot), side="left")  # fmt: skip


def _pivot_size(drawn: JointDrawn, line: float) -> Iterator[View]:
    """How far the axis stands from the face it stands behind, or from the front face in the gap."""
    template = drawn.template
    faces = (template.front.station, template.rear.station)
    face = faces[1] if template.pivot >= faces[1] else faces[0]
    if abs(template.pivot - face) < 1e-4:
        return
    low = min(drawn.template.hinge.sizes.heights) if drawn.template.hinge is not None else 0.0
    words = f"axis {figure(abs(template.pivot - face), drawn.shop)}"
    belly = float(drawn.papers.check.lure.bare_hull.belly(np.array([face]))[0])
    start = (1e3 * belly, 1e3 * (template.pin[0] if template.pin is not None else low) - 4.0)
    behind = template.rear if template.pivot >= face else template.front
    yield level_size((1e3 * face, 1e3 * template.pivot), line, words, drawn.gauge, start=start,
                     beside="left" if behind.is_ahead else "right", clear=_deepest(drawn, behind))  # fmt: skip


def _deepest(drawn: JointDrawn, face: FaceTemplate) -> float:
    """How far along the lure [mm] the deepest of what is made in a face goes."""
    depth = max((depth for _, depth, _ in _depths(drawn, face)), default=0.0)
    return 1e3 * (face.station + depth * face.line.wood)


def _depths(drawn: JointDrawn, face: FaceTemplate) -> list[tuple[str, float, float]]:
    """Each depth in a face once: words, [m], height [mm] of the lowest of its kind; the least deep first."""
    found: dict[tuple[str, int], tuple[float, float]] = {}
    for mark in face.marks:
        if mark.depth > 0.0:
            word = _word(mark)
            key = (word, round(1e4 * mark.depth))
            height = min(1e3 * float(mark.outline[:, 1].min()), found.get(key, (0.0, math.inf))[1])
            found[key] = (mark.depth, height)
    return [(f"{word} {depth_figure(depth, drawn.shop)}", depth, height)
            for (word, _), (depth, height) in sorted(found.items(), key=lambda one: one[1][0])]  # fmt: skip


def _word(mark: FaceMark) -> str:
    """What a mark is called in a few letters."""
    if mark.made.kind == "slot":
        return "slot"
    return "cup" if " cup" in mark.made.name else "hole"


def from_above(drawn: JointDrawn) -> View:
    """The joint from above."""
    template, lure = drawn.template, drawn.papers.check.lure
    (low, high), hull = template.span, lure.bare_hull
    strokes = [path(Line.CENTRE, 1e3 * np.array([(low - 5e-3, 0.0), (high + 5e-3, 0.0)]))]
    for face, end in ((template.front, low), (template.rear, high)):
        strokes += _piece_from_above(hull, Line.VISIBLE, end, face.edge)
        if face.finished is not None:
            strokes += _piece_from_above(lure.hull, Line.FINISHED, end, face.finished)
        out = float(hull.side(np.array([end]))[0])
        strokes.append(_end(hull, end, -out, out))
    strokes += _hinge(drawn, TOP)
    return together([View(tuple(strokes)), *_swing(drawn), *_shape_sizes(drawn), *_bevels(drawn), *_widths(drawn)])


def _piece_from_above(hull: Hull, line: Line, end: float, edge: FaceEdge) -> Iterator[Stroke]:
    x = np.clip(np.linspace(end, edge.stations[-1], _POINTS), hull.start, hull.stop)
    for side in (1.0, -1.0):
        yield path(line, 1e3 * np.stack([x, side * hull.side(x)], axis=1))
    yield path(line, 1e3 * edge.plan)


def _out(drawn: JointDrawn) -> float:
    """Half the width of what is drawn [mm]."""
    x = np.linspace(*drawn.template.span, _POINTS)
    return 1e3 * float(drawn.papers.check.lure.bare_hull.side(x).max())


def _swing(drawn: JointDrawn) -> Iterator[View]:
    """How far the middle line of the piece behind turns each way."""
    template = drawn.template
    finished, bare = template.joint.finished, template.joint.bare
    x, reach = 1e3 * template.pivot, 1e3 * (template.span[1] - template.pivot) - 1.0
    angle = finished.angle
    turn = np.linspace(-angle, angle, 41)
    far = min(reach, 0.95 * _out(drawn) / max(math.sin(angle), 0.1) if angle < 0.5 * math.pi else reach)
    arc = np.stack([x + far * np.cos(turn), far * np.sin(turn)], axis=1)
    strokes = [path(Line.PHANTOM, [(x, 0.0), (float(end[0]), float(end[1]))]) for end in (arc[0], arc[-1])]
    yield View((*strokes, path(Line.THIN, arc)))
    more = "more than " if finished.meeting is None else ""
    words = f"turns {more}{degrees(finished.angle)} each way" + (
        f", {degrees(bare.angle)} bare" if abs(bare.angle - finished.angle) > 1e-3 else "")  # fmt: skip
    tip = (float(arc[34, 0]), float(arc[34, 1]))
    rows = 0.0 if template.joint.shape.face == "vee" else 9.5  # over the words about knuckle or tongue
    knee = (1e3 * template.span[1], _out(drawn) + drawn.paper(FIRST + rows))
    yield leader(tip, knee, (words,), drawn.gauge, side="right" if knee[0] > tip[0] + 1.0 else "left")


def _shape_sizes(drawn: JointDrawn) -> Iterator[View]:
    """Radii of knuckle and socket; widths and lengths of tongue and slot."""
    template = drawn.template
    shape = template.joint.shape
    if shape.face == "vee":
        return
    base = _out(drawn) + drawn.paper(FIRST)
    for row_, (face, done) in enumerate(((template.front, shape.front), (template.rear, shape.rear))):
        first, last = face.line.edges[0], done.edges[0]
        knee = (1e3 * template.joint.at - drawn.paper(4.0 - 3.0 * row_), base + drawn.paper(4.5 * row_))
        if shape.face == "knuckle":
            turn = math.asin(min(0.6, 0.7 * float(face.edge.offsets[-1]) / first.radius))
            tip = (1e3 * (template.joint.at + first.start + first.slope * first.radius * math.cos(turn)),
                   1e3 * first.radius * math.sin(turn))  # fmt: skip
            words = f"{first.name} R {drawn.both(first.radius, last.radius)}"
        else:
            tip = (1e3 * (template.joint.at + 0.5 * (first.start + face.line.edges[1].start)),
                   1e3 * min(first.outer, float(face.edge.offsets[-1])))  # fmt: skip
            words = f"{first.name} {drawn.both(2.0 * first.outer, 2.0 * last.outer)} wide"
        yield leader(tip, knee, (words,), drawn.gauge, side="right")
    if shape.face == "tongue":
        yield from _tongue_lengths(drawn)


def _tongue_lengths(drawn: JointDrawn) -> Iterator[View]:
    """From the faces beside it to the tongue's end, and to the slot's."""
    template, shape = drawn.template, drawn.template.joint.shape
    line = -_out(drawn) - drawn.paper(FIRST + _NEXT + 2.0)
    for face, done in ((template.front, shape.front), (template.rear, shape.rear)):
        (end, beside), (end_done, beside_done) = face.line.edges, done.edges
        ends = (1e3 * (template.joint.at + end.start), 1e3 * (template.joint.at + beside.start))
        words = f"{end.name} {drawn.both(abs(end.start - beside.start), abs(end_done.start - beside_done.start))}"
        inner = -1e3 * end.outer
        yield level_size(ends, line, words, drawn.gauge, start=(inner, inner),
                         beside="left" if face.is_ahead else "right")  # fmt: skip
        line -= drawn.paper(_NEXT)


def _bevels(drawn: JointDrawn) -> Iterator[View]:
    """How far a face slopes back from square, told beyond the skin."""
    template = drawn.template
    for face in (template.front, template.rear):
        edge = face.line.edges[-1]
        out = float(face.edge.offsets[-1])
        if edge.slope == 0.0 or out <= edge.inner + 5e-4:
            continue
        way, bevel = -face.line.wood, math.atan(abs(edge.slope))
        corner: Point = (1e3 * (template.joint.at + edge.start), -1e3 * edge.inner)
        radius = 1e3 * (out - edge.inner) / math.cos(bevel) + drawn.paper(2.6)
        arms = (-0.5 * math.pi, -0.5 * math.pi - way * bevel)
        strokes = []
        for arm in arms:
            start = 0.0 if arm == arms[0] else radius - drawn.paper(2.2)
            ends = [(corner[0] + far * math.cos(arm), corner[1] + far * math.sin(arm))
                    for far in (start, radius + drawn.paper(1.0))]  # fmt: skip
            strokes.append(path(Line.THIN, ends))
        yield View(tuple(strokes))
        yield angle_size(corner, arms, radius, degrees(bevel), drawn.gauge, side="right" if way > 0.0 else "left")


def _widths(drawn: JointDrawn) -> Iterator[View]:
    """The body's width where each face leaves the skin."""
    template = drawn.template
    for face in (template.front, template.rear):
        out = float(face.edge.offsets[-1])
        done = None if face.finished is None else 2.0 * float(face.finished.offsets[-1])
        x = 1e3 * template.span[0 if face.is_ahead else 1] + drawn.paper(FIRST) * face.line.wood
        at = 1e3 * float(face.edge.stations[-1])
        yield upright_size((-1e3 * out, 1e3 * out), x, drawn.both(2.0 * out, done), drawn.gauge, start=(at, at),
                           side="right" if face.is_ahead else "left")  # fmt: skip
