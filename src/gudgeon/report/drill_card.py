"""Cards at true size to be cut out and laid on the wood: a cross at every hole's mouth, with what it takes to make it.

One folds over the belly edge of the square blank; one lies on each joint face; one on the piece that waits for the tub.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

import numpy as np

from gudgeon.answers.drilling import Drilled, Drilling, drilling
from gudgeon.answers.papers import Papers
from gudgeon.report.card_marks import Told, told
from gudgeon.report.card_views import (
    Blank,
    Mark,
    Piece,
    around,
    axes,
    cuts_made,
    edges,
    marks_of,
    outlines,
    pieces_in_blank,
    slot_box,
)
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.face_cards import face_cards
from gudgeon.report.labels import PITCH
from gudgeon.report.line_map import LineMap, line_map
from gudgeon.report.paper import Frame, Pen, Sheet, width_of
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.stacking import Placed, Stack
from gudgeon.report.strokes import Box, Drawing, Note, Stroke
from gudgeon.report.tile import HEAD, Tile, Window, draw_tile, note_width
from gudgeon.report.tiling import OVERLAP, Span, joins, spans
from gudgeon.report.title_block import HEIGHT

SQUARE_CARD, TUB_CARD = "Drill card: the blank square", "Drill card: after the tub test"
_SIDE, _MARGIN = 4.0, 2.0  # mm beside a card on its first and last sheet; between frame and drawing
_JOINING = 9.0  # mm over and under a card that runs over sheets above one another, for their marks
_FAR = 90.0  # mm from the nose end that what a panel is may stand: still on a card's first sheet
_FIRST_JOIN = 24  # joins of cards are lettered from AA on: templates are from P


@dataclass(frozen=True)
class Words:
    """Words of their own place on a card [mm], left end of their foot."""

    at: tuple[float, float]
    words: str
    is_bold: bool = False

    @property
    def box(self) -> Box:
        """What they cover [mm]."""
        x, y = self.at
        return x, y - 0.8, x + width_of(self.words, bold=self.is_bold), y + 3.0


@dataclass(frozen=True, eq=False)
class Card:
    """One card, unfolded.

    box   : [mm] of it all
    marks : with their words and the panel those stay in
    taken : [mm] what no words may lie on
    """

    title: str
    says: str
    strokes: tuple[Stroke, ...]
    box: Box
    words: tuple[Words, ...]
    marks: tuple[tuple[Note, Box], ...]
    taken: tuple[Box, ...]


def drill_cards(
    papers: Papers, frame: Frame, shop: Shop, factor: float, *, is_shared: bool = False
) -> tuple[Sheet, ...]:
    """A card for what is made in the square blank, one for the joint faces, one for the last ballast hole.

    factor    : millimetres on the sheet to one of the lure: 1, or the printer's correction
    is_shared : several lures are bored by it, each to its own depths for ballast
    """
    own = frozenset(hole.name for hole in papers.holes) if is_shared else frozenset[str]()
    schedule = drilling(papers)
    found: list[Sheet] = []
    if schedule.at("square"):
        found += _sheets(_square_card(papers, schedule, shop, own), frame, factor)
    found += face_cards(papers, schedule, frame, shop, factor)
    for one in schedule.at("after the tub"):
        found += _sheets(_tub_card(papers, schedule, one, shop, own), frame, factor)
    return tuple(found)


def square_blank_of(schedule: Drilling) -> Blank:
    """The square blank as a card sees it."""
    blank = schedule.blank
    return Blank(blank.from_end, blank.length, blank.belly, blank.back, blank.half)


def _square_card(papers: Papers, schedule: Drilling, shop: Shop, own: frozenset[str]) -> Card:
    blank = square_blank_of(schedule)
    marks = marks_of(schedule, schedule.at("square"), blank)
    panels = [panel for panel in ("left", "belly", "back", "front", "rear", "right")
              if panel in ("left", "belly") or any(mark.panel == panel for mark in marks)]  # fmt: skip
    pieces = pieces_in_blank(papers, schedule)
    made = [stroke for mark in marks for stroke in cuts_made(mark, blank)]
    strokes = [*edges(blank, panels), *outlines(papers.check.lure.bare_hull, pieces, blank, panels),
               *axes(schedule, marks, blank), *made]  # fmt: skip
    bored = [_mark_box(mark, blank) for mark in marks if mark.ones[0].kind == "hole"]
    words = _panel_words(blank, panels, pieces, shop, line_map(strokes), bored)
    bit = "metric bit" if shop is Shop.METRIC else "bit in inches"
    says = ("Cut out along the wide line, fold back at the dashes. Narrow: the bare lure. Stop: from the square face, "
            f"{bit}; long ones: see the schedule. Angle: to the centre line.")  # fmt: skip

    def lines(one: Drilled) -> tuple[str, ...]:
        is_metric = shop is Shop.METRIC
        if _at_joint(marks, one):  # sawn through from the left side, as long as it is deep
            return (_size(one, shop), f"long {depth_figure(one.depth(metric=is_metric), shop)}, {_angle(one)}")
        stop = "its lure's card" if one.name in own else depth_figure(schedule.stop_depth(one, metric=is_metric), shop)
        across = ("right across",) if one.is_across else ()
        return (_size(one, shop), f"stop {stop}, {_angle(one)}", *across)

    return _card(SQUARE_CARD, says, blank, panels, strokes, marks, words, lines)


def _at_joint(marks: Sequence[Mark], one: Drilled) -> bool:
    """Whether it is sawn across the body at a joint, from the left side."""
    return one.face in ("front", "rear") and any(mark.panel == "left" and one in mark.ones for mark in marks)


def _angle(one: Drilled) -> str:
    return f"{round(math.degrees(one.angle), 1):g} deg"


def _size(one: Drilled, shop: Shop) -> str:
    """The bit, or how wide a slot is."""
    unit = "mm" if shop is Shop.METRIC else "in"
    wide = row("", "", one.wide, Measure.WIRE, shop).shown
    if one.bits is None:
        return f"slot {wide.removesuffix(unit).strip()}"
    bits = one.bits
    names = (bits.metric,) if shop is Shop.METRIC else (bits.fraction, bits.number, bits.letter)
    return next((name for name in names if name), wide)


def _panel_words(
    blank: Blank, panels: Sequence[str], pieces: Sequence[Piece], shop: Shop, lines: LineMap, bored: Sequence[Box]
) -> Iterator[Words]:
    """What each panel is, and the edges it is measured from."""
    long, side, top = blank.long, blank.side, blank.top
    size = f"{figure(blank.length, shop)} x {figure(blank.back - blank.belly, shop)}"
    back = _slid(Words((2.0, side - 4.2), "back edge above: fold over it" if "back" in panels else "back edge above"),
                 lines, 0.4 * long, long)  # fmt: skip
    belly = _slid(Words((2.0, 1.4), "belly edge: fold here"), lines, 2.0, long)
    own = _clear(Words((2.0, side - 4.2), f"left side {size}", True), lines, (2.0, min(long, _FAR)),
                 (1.4, side - 4.2), (back.box, belly.box, *bored))  # fmt: skip
    yield from (back, belly, own)
    if "front" not in panels:
        yield _clear(Words((2.0, side - 7.8), "nose end at this end"), lines, (2.0, 0.5 * min(long, _FAR)),
                     (1.4, side - 4.2), (back.box, belly.box, own.box, *bored))  # fmt: skip
    yield _clear(Words((2.0, -top + 1.6), f"belly {figure(2.0 * blank.half, shop)} wide", True), lines,
                 (2.0, min(long, _FAR)), (-top + 1.6, -4.2), bored)  # fmt: skip
    if "back" in panels:
        yield Words((2.0, side + top - 4.2), "back, seen from above", True)
    if "right" in panels:
        yield Words(
            (2.0, -top - side + 1.6), "right side: fold on under the belly, its own belly edge here above", True
        )
    if "front" in panels:
        yield Words((-top + 1.5, side - 4.2), "nose end", True)
    if "rear" in panels:
        yield Words((long + 1.5, side - 4.2), "tail end", True)
    for number, (ahead, behind) in enumerate(pairwise(pieces), start=1):
        yield _at_saw(f"saw {number}", (1e3 * (ahead.stop + ahead.shift), 1e3 * (behind.start + behind.shift)), lines,
                      side)  # fmt: skip


def _slid(words: Words, lines: LineMap, start: float, stop: float) -> Words:
    """Words moved along their edge to the first place from `start` [mm] on where they wipe out least."""
    wide = width_of(words.words, bold=words.is_bold)
    return _best([replace(words, at=(float(x), words.at[1]))
                  for x in np.arange(start, max(stop - wide - 2.0, start) + 0.1)], lines)  # fmt: skip


def _clear(words: Words, lines: LineMap, across: tuple[float, float], up: tuple[float, float],
           others: Sequence[Box]) -> Words:  # fmt: skip
    """Words where they wipe out least, off others, between places across and up [mm]: the nearest of the best to where
    they would stand."""
    wide, (x, y) = width_of(words.words, bold=words.is_bold), words.at
    tries = [replace(words, at=(float(at), float(foot))) for foot in np.arange(up[0], up[1] + 0.1, 0.7)
             for at in np.arange(across[0], max(across[1] - wide, across[0]) + 0.1, 2.0)]  # fmt: skip
    tries = [words, *sorted(tries, key=lambda one: abs(one.at[0] - x) + abs(one.at[1] - y))]
    free = [one for one in tries if not any(_meet(one.box, other) for other in others)]
    return _best(free or tries, lines)


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] + 1.0 and other[0] < one[2] + 1.0 and one[1] < other[3] and other[1] < one[3]


def _at_saw(words: str, cut: tuple[float, float], lines: LineMap, side: float) -> Words:
    """Words over a cut, or beside it, where they wipe out least, as high up the side as may be."""
    wide, aside = width_of(words), 0.8
    places = (0.5 * (cut[0] + cut[1] - wide), cut[0] - aside - wide, cut[1] + aside)
    return _best([Words((x, float(y)), words) for x in places for y in np.arange(side - 4.2, 1.0, -0.5)], lines)


def _best(tries: Sequence[Words], lines: LineMap) -> Words:
    wiped = lines.under(np.array([one.box for one in tries]))
    return tries[int(np.argmin(np.round(wiped)))]


def _tub_card(papers: Papers, schedule: Drilling, one: Drilled, shop: Shop, own: frozenset[str]) -> Card:
    """The piece that the hole is in, shaped: its side, and the view the hole is drilled from."""
    lure = papers.check.lure
    names = [segment.name for segment in lure.segments]
    whole = pieces_in_blank(papers, schedule)[names.index(one.pieces[0])]
    piece = Piece(whole.start, whole.stop, -whole.start)
    hull = lure.bare_hull
    blank = around(hull, piece)
    marks = (Mark((one,), one.face, blank.point(one.face, one.mouth)),)
    panels = ["left", *([one.face] if one.face != "left" else [])]
    strokes = [*edges(blank, panels), *outlines(hull, (piece,), blank, panels), *cuts_made(marks[0], blank)]
    end = "nose" if names[0] == one.pieces[0] else "joint face ahead"
    says = (f"Cut the {one.face} strip out. Lay it on the shaped {one.pieces[0]}, its left end level with the {end}, "
            "along the centre line, flat and not pressed round. Deep: in bare wood.")  # fmt: skip
    words = [Words((1.5, blank.side + 1.4), f"{one.pieces[0]}, from the left; its {end} at this end", True)]
    places = (f"{figure(one.mouth[0] - piece.start, shop)} from its end", f"{figure(one.mouth[0], shop)} from the nose")

    def lines(drilled: Drilled) -> tuple[str, ...]:
        depth = drilled.depth(metric=shop is Shop.METRIC)
        deep = "its lure's card" if drilled.name in own else depth_figure(depth, shop)
        return (_size(drilled, shop), f"deep {deep}, {_angle(drilled)}", *places)

    return _card(TUB_CARD, says, blank, panels, strokes, marks, words, lines, roomy=True)


def _card(title: str, says: str, blank: Blank, panels: Sequence[str], strokes: Sequence[Stroke], marks: Sequence[Mark],
          words: Iterator[Words] | Sequence[Words], lines: Callable[[Drilled], tuple[str, ...]], *,
          roomy: bool = False) -> Card:  # fmt: skip
    """`roomy` lets the words stand beside the card where its panels are small."""
    boxes = [blank.box(panel) for panel in panels]
    whole = (min(box[0] for box in boxes), min(box[1] for box in boxes), max(box[2] for box in boxes),
              max(box[3] for box in boxes))  # fmt: skip
    if roomy:
        whole = (whole[0] - 3.0, whole[1] - 18.0, whole[2] + 45.0, whole[3] + 6.0)
    fixed = tuple(words)
    notes = []
    for mark in marks:
        number = ", ".join(str(one.number) for one in mark.ones)
        both = ("both sides",) if len(mark.ones) > 1 else ()
        note = Note(mark.at, number, (*lines(mark.ones[0]), *both))
        notes.append((note, blank.box(mark.panel) if not roomy or _fits(note, blank.box(mark.panel)) else whole))
    taken = [*(one.box for one in fixed), *(_mark_box(mark, blank) for mark in marks)]
    return Card(title, says, tuple(strokes), whole, fixed, tuple(notes), tuple(taken))


def _fits(note: Note, panel: Box) -> bool:
    """Whether a note's words go beside its mark inside a panel."""
    room = max(note.at[0] - panel[0], panel[2] - note.at[0])
    return note_width(note) + 9.0 < room and PITCH * len(note.words) + 2.0 < panel[3] - panel[1]


def _mark_box(mark: Mark, blank: Blank) -> Box:
    (x, y), one = mark.at, mark.ones[0]
    reach = max(3.0, 0.5e3 * one.wide) if one.kind == "hole" else 3.0
    box = (x - reach, y - reach, x + reach, y + reach)
    if one.kind == "slot":
        slot = slot_box(mark, blank)
        box = (min(box[0], slot[0]), min(box[1], slot[1]), max(box[2], slot[2]), max(box[3], slot[3]))
    return box


def _sheets(card: Card, frame: Frame, factor: float) -> Iterator[Sheet]:
    """The card over as few sheets as hold it."""
    wide, tall = (frame.width - 2.0 * _MARGIN) / factor, (frame.height - HEIGHT - 2.0 * _MARGIN - HEAD) / factor
    left, bottom, right, top = card.box
    columns = spans(left - _SIDE, right + _SIDE, wide)
    over = 1.0 if top - bottom + 2.0 <= tall else _JOINING
    stack_height = top - bottom + 2.0 * over
    rows = spans(0.0, stack_height, tall)
    lift = over - bottom
    lines = line_map(card.strokes)
    flags = tuple(told(_in_column(card, columns, place), card.taken, lines) for place in range(len(columns)))
    stack = Stack((Placed(Drawing(card.strokes), lift, flags),), columns, stack_height, 0.0)
    count = len(columns) * len(rows)
    for level in reversed(range(len(rows))):
        for column in range(len(columns)):
            number = (len(rows) - 1 - level) * len(columns) + column + 1
            window = _window(columns[column], rows[level], frame, factor)
            tile = Tile(stack, column, window, joins(columns, column, _FIRST_JOIN),
                        joins(rows, level, _FIRST_JOIN + len(columns) - 1), (), card.says)  # fmt: skip
            title = f"{card.title}, {number} of {count}" if count > 1 else card.title
            yield Sheet(title, True, partial(_draw, frame, tile, card.words, lift))


def _in_column(card: Card, columns: Sequence[Span], place: int) -> list[Told]:
    """The marks between a column's join lines, and the room for their words between those too."""
    low = -math.inf if place == 0 else columns[place].start + 0.5 * OVERLAP
    high = math.inf if place == len(columns) - 1 else columns[place].stop - 0.5 * OVERLAP
    found = []
    for note, (left, bottom, right, top) in card.marks:
        if low <= note.at[0] < high:
            room = (max(left, low) + 0.8, bottom + 0.8, min(right, high) - 0.8, top - 0.8)
            found.append(Told(note, room))
    return found


def _window(across: Span, up: Span, frame: Frame, factor: float) -> Window:
    wide, tall = factor * (across.stop - across.start), factor * (up.stop - up.start)
    foot, room = frame.bottom + HEIGHT, frame.height - HEIGHT - HEAD
    corner = (frame.left + 0.5 * (frame.width - wide), foot + 0.5 * (room - tall))
    return Window(corner, across, up, factor)


def _draw(frame: Frame, tile: Tile, words: Sequence[Words], lift: float, pen: Pen) -> None:
    draw_tile(frame, tile, pen)
    left, bottom, right, top = tile.window.box
    for one in words:
        x, y = tile.window.place(one.at[0], one.at[1] + lift)
        if left <= x and x + width_of(one.words, bold=one.is_bold) <= right and bottom + 1.0 <= y <= top - 4.0:
            pen.blank((x - 0.4, y - 0.7, x + width_of(one.words, bold=one.is_bold) + 0.4, y + 2.7))
            pen.words(x, y, one.words, bold=one.is_bold)
