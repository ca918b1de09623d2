"""The sheets joints are cut by: each at full size, from the side, from above, both faces laid flat, and in words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from gudgeon.answers.joint_templates import FaceTemplate, joint_templates
from gudgeon.answers.papers import Papers
from gudgeon.report.dimensions import PITCH, Gauge, Text, View, together
from gudgeon.report.flat_faces import face_flat
from gudgeon.report.hidden_cuts import wooden
from gudgeon.report.joint_facts import joint_facts
from gudgeon.report.joint_views import JointDrawn, from_above, from_side
from gudgeon.report.paper import Frame, Pen, Sheet, wrapped
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.stacking import Placed, Stack
from gudgeon.report.strokes import Drawing
from gudgeon.report.tile import HEAD, Tile, Window, draw_tile
from gudgeon.report.tiling import OVERLAP, Span, joins, spans
from gudgeon.report.title_block import HEIGHT

_MARGIN = 2.5  # mm between frame and drawing
_APART, _UNDER = 4.5, 5.0  # mm of paper between two views, side by side and one under the other
_FACTS, _SLIM, _COLUMN = 66.0, 50.0, 4.0  # mm of paper, a column of words, a slim one, the gap to the next
_OFF_JOIN = 8.0  # mm of paper
_FIRST_JOIN = 48  # joins of tiles are lettered from BA on: templates are from P, cards from AA


@dataclass(frozen=True)
class _Room:
    """What a sheet holds.

    wide, tall : [mm] of the drawing
    """

    frame: Frame
    gauge: Gauge
    wide: float
    tall: float


@dataclass(frozen=True, eq=False)
class _Page:
    """One drawing to be put on a sheet, or on more where it is too large; its lower left corner at 0, 0."""

    view: View
    wide: float
    tall: float


def joint_sheets(papers: Papers, frame: Frame, shop: Shop, factor: float) -> tuple[Sheet, ...]:
    """Every joint, from the nose; none for a lure of one piece.

    factor : millimetres on the sheet to one of the lure
    raises : NoAnswer when coats leave no wood in a knuckle or a tongue
    """
    templates = joint_templates(papers)
    if not templates:
        return ()
    wood = wooden(papers)
    room = _Room(frame, Gauge(factor), (frame.width - 2.0 * _MARGIN) / factor,
                 (frame.height - HEIGHT - HEAD - 2.0 * _MARGIN) / factor)  # fmt: skip
    says, taken, sheets = _what_lines_mean(papers, shop), _FIRST_JOIN, list[Sheet]()
    for template in templates:
        drawn = JointDrawn(papers, template, wood, shop, room.gauge)
        title = f"Joint {template.joint.number}, {template.kind}"
        pages = _pages(drawn, room)
        for number, page in enumerate(pages, start=1):
            name = title if len(pages) == 1 else f"{title}: {number} of {len(pages)}"
            made, used = _tiles(page, room, (name, says), taken)
            sheets += made
            taken += used
    return tuple(sheets)


def _what_lines_mean(papers: Papers, shop: Shop) -> str:
    lure = papers.check.lure
    if lure.build == 0.0:
        return "Full size. Wide line: cut to this. Dashed: hidden. Narrow lines across a face: bend the paper there."
    build = row("", "", lure.build, Measure.WIRE, shop).shown
    return (f"Full size, bare wood; in brackets finished, with {build} of coats on. Wide line: cut to this. Dashed: "
            "hidden. Narrow lines across a face: bend the paper there.")  # fmt: skip


def _pages(drawn: JointDrawn, room: _Room) -> list[_Page]:
    """All on one sheet where that holds it, else as few as hold one view after the other."""
    ahead, behind = drawn.template.joint.pieces
    side = _titled(from_side(drawn), "From the side", (f"{ahead} at the left, {behind} at the right",), room)
    top = _titled(from_above(drawn), "From above", (), room)
    faces = [_face(drawn, face, room) for face in (drawn.template.front, drawn.template.rear)]
    whole = _whole(drawn, (side, top), faces, room)
    if whole is not None:
        return [whole]
    column = _under_each_other([side, top], room)
    views = [column] if _fits(column, room) else [side, top]
    return _packed([*views, *faces, _facts(drawn, 1, room)], room)


def _titled(view: View, title: str, says: Sequence[str], room: _Room) -> View:
    """A view under its title, and what is said of it."""
    left, _, _, top = view.box(room.gauge)
    pitch = room.gauge.paper(PITCH)
    foot = top + room.gauge.paper(2.6)
    texts = [Text((left, foot + pitch * place), words) for place, words in enumerate(reversed(says))]
    head = Text((left, foot + pitch * len(says)), title, is_bold=True, size=10.0)
    return together([view, View(texts=(*texts, head))])


def _face(drawn: JointDrawn, face: FaceTemplate, room: _Room) -> View:
    view = face_flat(drawn, face)
    left, _, right, _ = view.box(room.gauge)
    end, seen = ("rear", "behind") if face.is_ahead else ("front", "ahead")
    says = wrapped(f"laid flat, seen from {seen}, back up; {_how(face)}", max((right - left) * room.gauge.factor, 45.0))
    return _titled(view, f"{end.capitalize()} face of the {face.piece}", says, room)


def _how(face: FaceTemplate) -> str:
    """How the paper goes on the wood."""
    if face.edge.is_stepped:
        return "cut the paper apart at the wide lines"
    if face.line.edges[0].radius > 0.0:
        return "wrap it round the knuckle" if face.line.edges[0].name == "knuckle" else "press it into the socket"
    return "fold it on the centre line" if face.edge.folds else "paste it on"


def _facts(drawn: JointDrawn, columns: int, room: _Room, wide: float = _FACTS) -> View:
    """Everything in words, in columns: a heading begins one as long as there are any."""
    texts, column, place = [], 0, 0
    for head, words in joint_facts(drawn):
        if head and place > 0 and column + 1 < columns:
            column, place = column + 1, 0
        for line in wrapped(words, wide, _sized(head), bold=head):
            at = (room.gauge.paper((wide + _COLUMN) * column), -room.gauge.paper(PITCH * place))
            texts.append(Text(at, line, is_bold=head, size=_sized(head)))
            place += 1
    return View(texts=tuple(texts))


def _sized(head: bool) -> float:
    """Points; no larger than lines are apart."""
    return 9.0 if head else 8.0


def _whole(drawn: JointDrawn, views: Sequence[View], faces: Sequence[View], room: _Room) -> _Page | None:
    """Side over top at the left, then the faces side by side over the words, or over one another and the words beside
    them; None where that is too much."""
    left, stacked = _under_each_other(views, room), _under_each_other(faces, room)
    tried = [[_under_each_other([_beside_each_other(faces, room), _facts(drawn, 2, room)], room)],
             *([stacked, _facts(drawn, 1, room, wide)] for wide in (_FACTS, _SLIM))]  # fmt: skip
    for right in tried:
        both = _beside_each_other([left, *right], room)
        if _fits(both, room):
            return _page(both, room)
    return None


def _size(view: View, room: _Room) -> tuple[float, float]:
    left, bottom, right, top = view.box(room.gauge)
    return right - left, top - bottom


def _fits(view: View, room: _Room) -> bool:
    wide, tall = _size(view, room)
    return wide <= room.wide and tall <= room.tall


def _under_each_other(views: Sequence[View], room: _Room) -> View:
    """Views that keep their place from left to right; words alone begin at the left end of what is over them."""
    placed, foot, first = [], 0.0, views[0].box(room.gauge)[0]
    for view in views:
        left, _, _, top = view.box(room.gauge)
        shift = first - left if not view.strokes else 0.0
        placed.append(view.moved(shift, foot - top))
        foot = placed[-1].box(room.gauge)[1] - room.gauge.paper(_UNDER)
    return together(placed)


def _beside_each_other(views: Sequence[View], room: _Room) -> View:
    """Views with their tops level."""
    placed, x = [], 0.0
    for view in views:
        left, _, right, top = view.box(room.gauge)
        placed.append(view.moved(x - left, -top))
        x += right - left + room.gauge.paper(_APART)
    return together(placed)


def _packed(views: Sequence[View], room: _Room) -> list[_Page]:
    """As many beside each other as go on a sheet, in order; one too large for any on its own."""
    pages: list[list[View]] = []
    for view in views:
        if pages and _fits(_beside_each_other([*pages[-1], view], room), room):
            pages[-1].append(view)
        else:
            pages.append([view])
    return [_page(_beside_each_other(page, room), room) for page in pages]


def _page(view: View, room: _Room) -> _Page:
    left, bottom, right, top = view.box(room.gauge)
    return _Page(view.moved(-left, -bottom), right - left, top - bottom)


def _tiles(page: _Page, room: _Room, words: tuple[str, str], taken: int) -> tuple[list[Sheet], int]:
    """A drawing on its sheet, or on tiles from the top left, and how many join lines there are.

    words : its title, and what the lines mean
    taken : letters of join lines that are used already
    """
    columns, rows = spans(0.0, page.wide, room.wide), spans(0.0, page.tall, room.tall)
    stack = Stack((Placed(Drawing(page.view.strokes), 0.0, ((),) * len(columns)),), columns, page.tall, 0.0)
    count, sheets = len(columns) * len(rows), list[Sheet]()
    for level in reversed(range(len(rows))):
        for column, across in enumerate(columns):
            window = _window(across, rows[level], room)
            tile = Tile(stack, column, window, joins(columns, column, taken),
                        joins(rows, level, taken + len(columns) - 1), (), words[1])  # fmt: skip
            title = words[0] if count == 1 else f"{words[0]}, tile {len(sheets) + 1} of {count}"
            sheets.append(Sheet(title, True, partial(_draw, room, page.view, tile)))
    return sheets, len(columns) + len(rows) - 2


def _window(across: Span, up: Span, room: _Room) -> Window:
    """In the middle of the sheet."""
    factor, frame = room.gauge.factor, room.frame
    wide, tall = factor * (across.stop - across.start), factor * (up.stop - up.start)
    foot, free = frame.bottom + HEIGHT, frame.height - HEIGHT - HEAD
    return Window((frame.left + 0.5 * (frame.width - wide), foot + 0.5 * (free - tall)), across, up, factor)


def _draw(room: _Room, view: View, tile: Tile, pen: Pen) -> None:
    draw_tile(room.frame, tile, pen)
    window = tile.window
    with pen.within(window.box):
        for head in view.heads:
            pen.filled([window.place(float(x), float(y)) for x, y in head])
    for text in _own_texts(view, tile, room.gauge):
        x, y = window.place(*text.at)
        pen.words(x, y, text.words, size=text.size, bold=text.is_bold, side=text.side)


def _own_texts(view: View, tile: Tile, gauge: Gauge) -> Iterator[Text]:
    """Words whose middle lies on this tile, not beyond its join lines; moved in where they would run over its edge."""
    window = tile.window
    zones = []
    for span, lines in ((window.across, tile.upright), (window.up, tile.level)):
        low = span.start - OVERLAP if not any(not line.before for line in lines) else span.start + 0.5 * OVERLAP
        high = span.stop + OVERLAP if not any(line.before for line in lines) else span.stop - 0.5 * OVERLAP
        zones.append((low, high))
    for text in view.texts:
        left, bottom, right, top = gauge.box(text)
        middle = (0.5 * (left + right), 0.5 * (bottom + top))
        if all(low <= at < high for at, (low, high) in zip(middle, zones, strict=True)):
            shift = (max(window.across.start - left, 0.0) or min(window.across.stop - right, 0.0),
                     max(window.up.start - bottom, 0.0) or min(window.up.stop - top, 0.0)
                     or _off_joins(tile, middle[1], gauge))  # fmt: skip
            yield Text((text.at[0] + shift[0], text.at[1] + shift[1]), text.words, text.side, text.is_bold, text.size)


def _off_joins(tile: Tile, height: float, gauge: Gauge) -> float:
    """How far words [mm] are moved off a level join line, its letters and marks."""
    clear = gauge.paper(_OFF_JOIN)
    for join in tile.level:
        if abs(height - join.at) < clear:
            return join.at - clear - height if join.before else join.at + clear - height
    return 0.0
