"""Cards for the joint faces: each face's outline in bare wood at true size, a cross where it is bored or slotted."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from gudgeon.answers.drilling import Drilled, Drilling
from gudgeon.answers.papers import Papers
from gudgeon.physics.hull import section_outline
from gudgeon.physics.lure import Lure
from gudgeon.report.card_views import CROSS
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.paper import Frame, Pen, Sheet, width_of
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.strokes import Array, Box, Line, Stroke, circle, cross, path
from gudgeon.report.title_block import HEIGHT

FACE_CARD = "Drill card: the joint faces"
_PITCH, _APART, _UNDER, _HEAD = 3.9, 9.0, 7.0, 12.0  # mm


@dataclass(frozen=True, eq=False)
class FaceCard:
    """One face.

    strokes : [mm] about the centre line, seen from outside the piece
    box     : [mm] of its outline
    numbers : (number in the schedule, the left end of its foot [mm])
    """

    heading: str
    strokes: tuple[Stroke, ...]
    box: Box
    numbers: tuple[tuple[str, tuple[float, float]], ...]
    says: tuple[str, ...]

    def width(self, factor: float) -> float:
        """On the sheet, with its words [mm]."""
        words = max(width_of(self.heading, 10.0, bold=True), *(width_of(line) for line in self.says))
        return max(factor * (self.box[2] - self.box[0]), words)

    def height(self, factor: float) -> float:
        """On the sheet, with its words [mm]."""
        return factor * (self.box[3] - self.box[1]) + _PITCH * (1.6 + len(self.says))


def face_cards(papers: Papers, schedule: Drilling, frame: Frame, shop: Shop, factor: float) -> Iterator[Sheet]:
    """Every face with something in it, from the nose, as many to a sheet as go."""
    cards = [_face(papers, list(group), shop) for group in _by_face(schedule)]
    pages = _paged(cards, frame, factor)
    for place, page in enumerate(pages, start=1):
        title = f"{FACE_CARD}, {place} of {len(pages)}" if len(pages) > 1 else FACE_CARD
        yield Sheet(title, True, partial(_draw, frame, page, factor))


def _by_face(schedule: Drilling) -> Iterator[tuple[Drilled, ...]]:
    """Holes and slots of the joint faces, those of one face together."""
    groups: dict[tuple[str, str], list[Drilled]] = {}
    for one in schedule.at("apart"):
        groups.setdefault((one.pieces[0], one.face), []).append(one)
    yield from (tuple(group) for group in groups.values())


def _face(papers: Papers, made: Sequence[Drilled], shop: Shop) -> FaceCard:
    lure, one = papers.check.lure, made[0]
    way = 1.0 if one.face == "rear" else -1.0  # seen from behind the fish's right is on the right
    outline = 1e3 * section_outline(lure.bare_hull, _on_bare(lure, one.mouth[0]), 128) * (way, 1.0)
    (left, bottom), (right, top) = outline.min(axis=0), outline.max(axis=0)
    strokes = [path(Line.VISIBLE, outline, closed=True),
               path(Line.CENTRE, [(0.0, bottom - 3.0), (0.0, top + 3.0)]),
               path(Line.CENTRE, [(left - 3.0, 0.0), (right + 3.0, 0.0)])]  # fmt: skip
    numbers: dict[tuple[float, float], list[Drilled]] = {}
    for hole in made:
        at = (way * 1e3 * hole.mouth[1], 1e3 * hole.mouth[2])
        strokes += [*_cut(hole, at), *(cross(at, CROSS) if at not in numbers else ())]
        numbers.setdefault(at, []).append(hole)
    seen = "seen from behind" if one.face == "rear" else "seen from ahead"
    heading = f"{one.face} face of the {one.pieces[0]}"
    says = (f"{seen}, back up", *(_line(hole, shop) for hole in made))
    box = (float(left) - 3.0, float(bottom) - 3.0, float(right) + 3.0, float(top) + 3.0)
    marks = tuple(_numbered(found, at, outline) for at, found in numbers.items())
    return FaceCard(heading, tuple(strokes), box, marks, says)


def _numbered(made: Sequence[Drilled], at: tuple[float, float], outline: Array) -> tuple[str, tuple[float, float]]:
    """The numbers of a mark, beside it where that is inside the face, else over it."""
    words = ", ".join(str(hole.number) for hole in made)
    across = [hole.wide if hole.kind == "hole" or hole.lies == "upright" else hole.long for hole in made]
    tall = [hole.long if hole.lies == "upright" else hole.wide for hole in made]
    beside = (at[0] + max(CROSS, 500.0 * max(across)) + 0.6, at[1] - 1.0)
    level = outline[np.abs(outline[:, 1] - at[1]) < 2.0, 0]
    if beside[0] + width_of(words, bold=True) + 1.0 < level.max(initial=0.0):
        return words, beside
    return words, (at[0] + 0.6, at[1] + max(CROSS, 500.0 * max(tall)) + 0.4)


def _on_bare(lure: Lure, station: float) -> float:
    return min(max(station, lure.bare_hull.start + 1e-6), lure.bare_hull.stop - 1e-6)


def _cut(hole: Drilled, at: tuple[float, float]) -> Iterator[Stroke]:
    if hole.kind == "hole":
        yield circle(Line.THIN, at, 0.5e3 * hole.wide)
        return
    halves = np.array([hole.wide, hole.long] if hole.lies == "upright" else [hole.long, hole.wide]) * 500.0
    corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
    yield path(Line.THIN, np.array(at) + halves * corners, closed=True)


def _line(hole: Drilled, shop: Shop) -> str:
    unit, is_metric = ("mm", True) if shop is Shop.METRIC else ("in", False)
    deep = f"{depth_figure(hole.depth(metric=is_metric), shop)} deep, {round(math.degrees(hole.angle), 1):g} deg"
    wide = row("", "", hole.wide, Measure.WIRE, shop).shown.removesuffix(unit).strip()
    if hole.bits is None:
        return f"{hole.number}  slot {wide} x {figure(hole.long, shop)}, {deep}"
    names = (hole.bits.metric,) if is_metric else (hole.bits.fraction, hole.bits.number, hole.bits.letter)
    return f"{hole.number}  {next((name for name in names if name), f'{wide} {unit}')}, {deep}"


def _paged(cards: Sequence[FaceCard], frame: Frame, factor: float) -> list[list[list[FaceCard]]]:
    """Pages of rows of cards."""
    wide, tall = frame.width - 8.0, frame.height - HEIGHT - _HEAD
    pages: list[list[list[FaceCard]]] = []
    used = left = 0.0
    for card in cards:
        if pages and used + _APART + card.width(factor) <= wide and card.height(factor) <= left:
            pages[-1][-1].append(card)
            used += _APART + card.width(factor)
            continue
        below = left - max((one.height(factor) for one in pages[-1][-1]), default=0.0) - _UNDER if pages else -1.0
        if pages and below >= card.height(factor):
            pages[-1].append([card])
            left = below
        else:
            pages.append([[card]])
            left = tall
        used = card.width(factor)
    return pages


def _draw(frame: Frame, page: Sequence[Sequence[FaceCard]], factor: float, pen: Pen) -> None:
    says = ("Full size, seen from outside the piece. Cut out along the wide line, lay the centre lines on the face's, "
            "prick through. Deep: from the face as cut in bare wood.")  # fmt: skip
    pen.words(frame.left + 4.0, frame.top - 4.5, says)
    top = frame.top - _HEAD + 1.0
    for line in page:
        x = frame.left + 4.0
        deepest = max(factor * (card.box[3] - card.box[1]) for card in line)
        for card in line:
            _draw_card(pen, card, (x, top), deepest, factor)
            x += card.width(factor) + _APART
        top -= max(card.height(factor) for card in line) + _UNDER


def _draw_card(pen: Pen, card: FaceCard, corner: tuple[float, float], deepest: float, factor: float) -> None:
    left, bottom, right, _ = card.box
    shift = np.array([corner[0] + 0.5 * card.width(factor) - 0.5 * factor * (left + right),
                      corner[1] - deepest - factor * bottom])  # fmt: skip
    for stroke in card.strokes:
        pen.line(stroke.line, factor * stroke.points + shift, closed=stroke.closed)
    for number, at in card.numbers:
        x, y = factor * np.array(at) + shift
        pen.blank((x - 0.2, y - 0.3, x + 0.2 + width_of(number, bold=True), y + 2.3))
        pen.words(float(x), float(y), number, bold=True)
    y = corner[1] - deepest - _PITCH - 0.5
    pen.words(corner[0], y, card.heading, size=10.0, bold=True)
    for place, words in enumerate(card.says, start=1):
        pen.words(corner[0], y - _PITCH * place, words)
