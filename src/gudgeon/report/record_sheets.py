"""The record card of a lure as a PDF: who it is, the lure drawn, its picture, every row of its card in two columns."""

import datetime
from collections.abc import Iterator, Sequence
from functools import partial

from gudgeon.answers.record_card import CardPicture, RecordCard
from gudgeon.report.drawing import side_view, top_view
from gudgeon.report.flowing import Block, draw_blocks, gap, paragraph
from gudgeon.report.log_rows import card_headline, card_sections
from gudgeon.report.paper import PaperName, Pen, Sheet, bound, frame_of
from gudgeon.report.pictures import Picture, printable_picture
from gudgeon.report.row_blocks import section_blocks
from gudgeon.report.rows import Shop
from gudgeon.report.strokes import Drawing, Label, Stroke
from gudgeon.report.summary_sheets import SIDE
from gudgeon.report.title_block import HEIGHT, Imprint, frame_and_title

_SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)  # of the largest drawing and picture, until one sheet holds it all
_APART, _LABEL = 6.0, 38.0  # mm between the columns; of a row's label
_STEP = 0.05  # the drawing's scale is taken down to
_BETWEEN = 4.0  # mm between the views
_MOST_TALL = 75.0  # mm of a picture
_SLACK = 14.0  # mm by which columns may differ, so that a title and its rows stay together


def record_sheets(found: RecordCard, *, shop: Shop, paper: PaperName, date: datetime.date) -> bytes:
    """The PDF: one sheet, more where the record is long."""
    frame = frame_of(paper, lying=False)
    room, tall = frame.width - 2.0 * SIDE, frame.height - HEIGHT - 2.0 * SIDE
    wide = 0.5 * (room - _APART)
    rows = [block for section in card_sections(found.card, shop) for block in section_blocks(section, wide, _LABEL)]
    card, picture = found.card, _read(found.picture)
    for share in _SHARES:  # drawing and picture as large as one sheet allows
        head = list(_head(found, shop, room, share))
        used = sum(block.height for block in head)
        pages = _columns(rows, list(_picture(found.picture, picture, (wide, share))), tall - used, tall)
        if len(pages) == 1:
            break
    imprint = Imprint(f"{card.pattern} {card.version}, lure {card.number}", card.stamp, shop, date, 1.0)
    titles = [f"Record card, lure {card.number}" + (", continued" if place else "") for place in range(len(pages))]

    def draw(number: int, pen: Pen) -> None:
        left, top = frame.left + SIDE, frame.top - SIDE
        if number == 0:
            draw_blocks(head, left, top, pen)
            top -= used
        for place, column in enumerate(pages[number]):
            draw_blocks(column, left + place * (wide + _APART), top, pen)
        frame_and_title(pen, frame, imprint, titles[number], number=(number + 1, len(pages)), bars=False)

    sheets = [Sheet(title, False, partial(draw, number)) for number, title in enumerate(titles)]
    return bound(sheets, paper, title=f"{card.pattern}, lure {card.number}, {card.stamp}")


def _head(found: RecordCard, shop: Shop, room: float, share: float) -> Iterator[Block]:
    """Who it is, and the lure drawn at a share of the scale at which it fits the sheet."""
    card = found.card
    yield from paragraph(card_headline(card), room, size=14.0, bold=True)
    yield from paragraph(f"Found again by the design's stamp: gudgeon log find {card.stamp}; or by its number: gudgeon "
                         f"log show {card.number}. The number before a row is its entry's.", room)  # fmt: skip
    yield gap(3.0)
    if found.drawn is None:
        yield from paragraph(f"It cannot be drawn: {found.undrawn}.", room)
        return
    views = (side_view(found.drawn, (), shop), top_view(found.drawn, shop))
    scale = _scale(views, share * room)
    yield _views(views, _hole_labels(found), room, scale)
    size = "at its own size" if scale == 1.0 else f"at {100.0 * scale:.0f} % of its size"
    yield from paragraph(f"Drawn {size}, from the side and from above. Cut nothing by it.", room)
    if found.undrawn:
        yield from paragraph(f"It is drawn as its design has it. With what was entered, {found.undrawn}. The entries: "
                             f"gudgeon log history {card.number}.", room)  # fmt: skip


def _scale(views: Sequence[Drawing], room: float) -> float:
    widest = max(view.box[2] - view.box[0] for view in views)
    fits = room / widest
    return 1.0 if fits >= 1.0 else max(_STEP, int(fits / _STEP) * _STEP)


def _hole_labels(found: RecordCard) -> tuple[Label, ...]:
    """The entries' numbers under each hole that holds ballast."""
    assert found.drawn is not None  # asked only of what is drawn
    mouths = {hole.name: hole.pocket.mouth for hole in found.drawn.holes}
    return tuple(Label((1e3 * mouths[name][0], 1e3 * mouths[name][2]), ", ".join(map(str, numbers)))
                 for name, numbers in found.holes.items() if name in mouths)  # fmt: skip


def _views(views: Sequence[Drawing], labels: Sequence[Label], room: float, scale: float) -> Block:
    """The side view over the top view, nose left."""
    boxes = [view.box for view in views]
    left = min(box[0] for box in boxes)
    across = scale * (max(box[2] for box in boxes) - left)
    heights = [scale * (box[3] - box[1]) for box in boxes]

    def draw(pen: Pen, x: float, top: float) -> None:
        start = x + 0.5 * (room - across) - scale * left
        for number, (view, box, tall) in enumerate(zip(views, boxes, heights, strict=True)):
            foot = top - tall - scale * box[1]
            for stroke in view.strokes:
                pen.stroke(Stroke(stroke.line, stroke.points * scale + (start, foot), stroke.closed))
            for label in labels if number == 0 else ():
                pen.words(start + scale * label.at[0], foot + scale * label.at[1] - 6.5, label.words, side="middle",
                          bold=True)  # fmt: skip
            top -= tall + _BETWEEN

    return Block(sum(heights) + _BETWEEN * len(views) + 1.0, draw)


def _read(found: CardPicture | None) -> Picture | None:
    return printable_picture(found.content) if found is not None and found.content is not None else None


def _picture(found: CardPicture | None, picture: Picture | None, size: tuple[float, float]) -> Iterator[Block]:
    """The picture with what it shows, or why it is not there.

    size : [mm] of the column, and the share of the most height
    """
    if found is None:
        return
    wide, share = size
    yield gap(2.0)
    if picture is None:
        why = "its file is gone; a backup may have it" if found.content is None else "it cannot be printed"
        yield from paragraph(f"Picture {found.entry}, {found.name}: {why}.", wide)
        return
    scale = min(wide / picture.width, share * _MOST_TALL / picture.height)
    across, tall = scale * picture.width, scale * picture.height

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.picture((left, top - tall, left + across, top), picture.content)

    yield Block(tall + 1.0, draw, keeps=True)
    yield from paragraph(f"{found.entry}: {found.shows or found.name}", wide)
    yield gap(1.0)


def _columns(
    rows: Sequence[Block], picture: Sequence[Block], first: float, tall: float
) -> list[tuple[list[Block], list[Block]]]:
    """Rows down two columns and on to further sheets; the picture heads the right one of the first.

    first : [mm] of the first sheet's columns      tall : of the others'
    """
    beside = sum(block.height for block in picture)
    rest = list(rows)
    pages: list[tuple[list[Block], list[Block]]] = []
    while rest or not pages:
        room = tall if pages else first
        shown = [] if pages else list(picture)
        over = sum(block.height for block in rest) + (beside if shown else 0.0)
        each = min(room, 0.5 * over + _SLACK)
        left, rest = _filled(rest, each)
        right, rest = _filled(rest, room - (beside if shown else 0.0))
        pages.append((left, [*shown, *right]))
    return pages


def _filled(blocks: Sequence[Block], room: float) -> tuple[list[Block], list[Block]]:
    """As many blocks from the first as go into a height with what they must stay with, and the rest."""
    count, used = 0, 0.0
    while count < len(blocks):
        last = count
        while blocks[last].keeps and last + 1 < len(blocks):
            last += 1
        needed = sum(block.height for block in blocks[count : last + 1])
        if used + needed > room and count:
            break
        used += needed
        count = last + 1
    return list(blocks[:count]), list(blocks[count:])
