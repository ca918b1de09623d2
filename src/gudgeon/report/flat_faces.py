"""A joint's face laid flat at full size, to paste on the cut wood: outline, bends, centre lines, what is made in it."""

from collections.abc import Iterator

import numpy as np

from gudgeon.answers.joint_templates import FaceMark, FaceTemplate
from gudgeon.physics.face_edge import FaceEdge
from gudgeon.report.dimensions import PITCH, Text, View, level_size, together, upright_size
from gudgeon.report.drawing import figure
from gudgeon.report.joint_views import FIRST, JointDrawn
from gudgeon.report.rows import Shop
from gudgeon.report.spacing import spread_out
from gudgeon.report.strokes import Line, Stroke, cross, path


def face_flat(drawn: JointDrawn, face: FaceTemplate) -> View:
    """One face laid flat, seen from outside its piece, back up."""
    way = 1.0 if face.is_ahead else -1.0  # from behind the fish's right is on the right
    outline = 1e3 * face.edge.outline * (way, 1.0)
    strokes = [path(Line.VISIBLE, outline, closed=True)]
    if face.finished is not None and face.line.edges[0].radius == 0.0:  # rounds laid flat do not lie in each other
        strokes.append(path(Line.FINISHED, 1e3 * face.finished.outline * (way, 1.0), closed=True))
    (left, bottom), (right, top) = outline.min(axis=0), outline.max(axis=0)
    strokes += [path(Line.CENTRE, [(0.0, bottom - 3.0), (0.0, top + 3.0)]),
                path(Line.CENTRE, [(left - 3.0, 0.0), (right + 3.0, 0.0)])]  # fmt: skip
    strokes += _folds(face.edge)
    strokes += _pin_behind(drawn, face)
    for mark in face.marks:
        strokes += _mark(mark, way)
    return together([View(tuple(strokes)), *_face_sizes(drawn, face), *_mark_heights(drawn, face, float(right))])


def _folds(edge: FaceEdge) -> Iterator[Stroke]:
    """Where the paper bends, or is cut apart beside a tongue or slot."""
    for fold in edge.folds:
        if fold > 0.0:
            low, high = (1e3 * float(np.interp(fold, edge.along, line)) for line in (edge.bottom, edge.top))
            for x in (-1e3 * fold, 1e3 * fold):
                yield path(Line.VISIBLE if edge.is_stepped else Line.THIN, [(x, low), (x, high)])


def _pin_behind(drawn: JointDrawn, face: FaceTemplate) -> Iterator[Stroke]:
    """The bore of a pin that stands behind the face."""
    for cut in drawn.template.made:
        if cut.face in ("back", "belly") and cut.pieces == (face.piece,):
            half = 1e3 * float(face.edge.flat(np.array([0.5 * cut.wide]))[0])
            low, high = (float(np.interp(0.0, face.edge.along, line)) for line in (face.edge.bottom, face.edge.top))
            ends = [1e3 * min(max(z, low), high) for z in (cut.mouth[2], cut.end[2])]
            for x in (-half, half):
                yield path(Line.HIDDEN, [(x, ends[0]), (x, ends[1])])


def _mark(mark: FaceMark, way: float) -> Iterator[Stroke]:
    ring = 1e3 * mark.outline * (way, 1.0)
    yield path(Line.THIN, ring, closed=True)
    if mark.made.kind == "hole":
        middle = 0.5 * (ring.min(axis=0) + ring.max(axis=0))
        yield from cross((float(middle[0]), float(middle[1])), max(0.5 * float(np.ptp(ring[:, 0])), 0.6) + 1.0)


def _face_sizes(drawn: JointDrawn, face: FaceTemplate) -> Iterator[View]:
    """Width laid flat under it; back and belly from the centre line at its left."""
    edge, done, gauge = face.edge, face.finished, drawn.gauge
    wide, top, bottom = float(edge.along[-1]), float(edge.top.max()), float(edge.bottom.min())
    level = 1e3 * float(edge.top[-1])
    finished = None if done is None else 2.0 * float(done.along[-1])
    yield level_size((-1e3 * wide, 1e3 * wide), 1e3 * bottom - drawn.paper(FIRST), drawn.both(2.0 * wide, finished),
                     gauge, start=(level, level))  # fmt: skip
    line = -1e3 * wide - drawn.paper(FIRST)
    for end, other in ((top, None if done is None else float(done.top.max())),
                       (bottom, None if done is None else float(done.bottom.min()))):  # fmt: skip
        words = drawn.both(abs(end), None if other is None else abs(other))
        yield upright_size((0.0, 1e3 * end), line, words, gauge, start=(line + drawn.paper(3.0), 0.0), side="right")


def _mark_heights(drawn: JointDrawn, face: FaceTemplate, right: float) -> Iterator[View]:
    """Numbers of the drill schedule and heights beside the face, one under the other."""
    levels: dict[int, list[FaceMark]] = {}
    for mark in face.marks:
        levels.setdefault(round(1e4 * mark.height), []).append(mark)
    heights = [1e3 * marks[0].height for _, marks in sorted(levels.items())]
    places = spread_out(heights, drawn.paper(PITCH))
    bend, line = right + drawn.paper(2.0), right + drawn.paper(5.0)
    for (_, marks), height, place in zip(sorted(levels.items()), heights, places, strict=True):
        start = max(abs(1e3 * float(mark.outline[:, 0].max())) for mark in marks)
        words = f"{', '.join(str(mark.made.number) for mark in marks)}:  {_up(1e-3 * height, drawn.shop)}"
        text = Text((line + drawn.paper(0.8), place - drawn.paper(1.0)), words)
        yield View((path(Line.THIN, [(start, height), (bend, height), (line, place)]),), (text,))


def _up(height: float, shop: Shop) -> str:
    """A height [m] from the centre line, in words."""
    if abs(height) < 5e-5:
        return "on the centre line"
    return f"{figure(abs(height), shop)} {'up' if height > 0.0 else 'down'}"
