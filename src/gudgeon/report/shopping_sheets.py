"""The bill of materials and the shopping list on paper: the same lines and numbers as `gudgeon bill` prints."""

from collections.abc import Iterator, Sequence
from functools import partial

from gudgeon.answers.bill import Bill, BillLine, Purchase, bill
from gudgeon.answers.papers import Papers
from gudgeon.answers.work_order import square_stock
from gudgeon.report.bench_sheets import on_sheets, shown
from gudgeon.report.bill_rows import (
    bill_headline,
    bill_warnings,
    cost_words,
    count_words,
    known_each,
    known_mass,
    parts_words,
    price_words,
)
from gudgeon.report.flowing import Block, Column, gap, heading, paragraph, table
from gudgeon.report.paper import Frame, Pen, Sheet
from gudgeon.report.rows import Measure, Shop
from gudgeon.report.strokes import Line
from gudgeon.report.summary_sheets import SIDE
from gudgeon.report.title_block import HEIGHT

BILL_SHEET, LIST_SHEET = "Bill of materials", "Shopping list"
_NUMBER, _BOX = 9.0, 3.0  # mm: a line's number before it; a box to tick


def shopping_sheets(papers: Papers, frame: Frame, shop: Shop, lures: int = 1) -> tuple[Sheet, ...]:
    """The bill of so many lures, then what to buy for them."""
    check = papers.check
    made = bill(check.design, check.lure, lures, square_stock(papers),
                check.ballast.needed if check.ballast else None)  # fmt: skip
    room = frame.width - 2.0 * SIDE
    listed, wanted = list(_bill(made, room, shop)), list(_to_buy(made, room, shop))
    tall = frame.height - HEIGHT - 2.0 * SIDE
    if sum(block.height for block in (*listed, *wanted)) <= tall:
        return tuple(on_sheets(BILL_SHEET, [*listed, *wanted], frame))
    return (*on_sheets(BILL_SHEET, listed, frame), *on_sheets(LIST_SHEET, wanted[1:], frame))


def _bill(made: Bill, room: float, shop: Shop) -> Iterator[Block]:
    many = "one lure" if made.lures == 1 else f"{made.lures} lures"
    yield heading(f"Bill of materials for {many}", room)
    yield from paragraph(bill_headline(made, shop), room)
    yield gap(1.5)
    columns = [Column(("",), _NUMBER, "left"), Column(("what",), room - _NUMBER - 130.0, "left"),
               Column(("of",), 36.0, "left"), Column(("count",), 19.0), Column(("weighs", "each"), 28.0),
               Column(("all", "together"), 29.0), Column(("costs",), 18.0)]  # fmt: skip
    yield table(columns, [])[0]
    for line in made.lines:
        yield from _under(table(columns, [_bill_cells(line, shop)])[1], parts_words(line.parts, shop), room)


def _bill_cells(line: BillLine, shop: Shop) -> list[str]:
    kind = line.made_of.removeprefix(line.material).strip()
    label = f"{line.name}, {kind}" if kind and kind != line.name else line.name
    material = "" if line.material == line.name else line.material
    return [f"{line.number}", label, material, count_words(line.count), shown(known_each(line), Measure.MASS, shop),
            shown(known_mass(line), Measure.MASS, shop), cost_words(line.cost)]  # fmt: skip


def _under(line: Block, words: str, room: float) -> Iterator[Block]:
    """A line of a table, and what more is to be said of it below, on the same sheet."""
    below = paragraph(words, room, size=8.0, indent=_NUMBER) if words else []
    yield Block(line.height, line.draw, keeps=bool(below))
    yield from below
    yield gap(0.8)


def _to_buy(made: Bill, room: float, shop: Shop) -> Iterator[Block]:
    yield gap(4.0)
    yield heading("What to buy", room)
    for words in _price_words(made):
        yield from paragraph(words, room)
    yield gap(1.5)
    columns = [Column(("",), _NUMBER, "left"), Column(("what",), room - _NUMBER - 123.0, "left"),
               Column(("lines of", "the bill"), 29.0, "left"), Column(("count",), 20.0), Column(("weight",), 29.0),
               Column(("your", "price"), 27.0), Column(("costs",), 18.0)]  # fmt: skip
    yield table(columns, [])[0]
    for one in made.to_buy:
        line = table(columns, [_buy_cells(one, shop)])[1]
        yield from _under(Block(line.height, partial(_ticked, line)), parts_words(one.parts, shop), room)
    if made.cost > 0.0:
        total = [["", "all that has a price", "", "", "", "", cost_words(made.cost)]]
        each = [["", "a lure", "", "", "", "", cost_words(made.cost / made.lures)]] if made.lures > 1 else []
        yield from table(columns, [*total, *each])[1:]


def _price_words(made: Bill) -> Iterator[str]:
    """What prices are told, and of what none is."""
    if made.cost > 0.0 and made.unpriced:
        yield f"Costs are at your own prices; without a price: {', '.join(made.unpriced)}."
    elif made.cost == 0.0:
        yield "No price is told; write a [[price]] with item and each for what you buy, and its cost stands here."
    for warning in bill_warnings(made):
        yield f"{warning[0].upper()}{warning[1:]}."


def _buy_cells(one: Purchase, shop: Shop) -> Sequence[str]:
    cost = "" if one.cost is None else cost_words(one.cost)
    return ["", one.words, ", ".join(str(number) for number in one.lines), count_words(one.count),
            shown(known_mass(one), Measure.MASS, shop), price_words(one), cost]  # fmt: skip


def _ticked(line: Block, pen: Pen, left: float, top: float) -> None:
    """A line with a box to tick before it."""
    pen.box(Line.THIN, (left + 0.4, top - 3.6, left + 0.4 + _BOX, top - 3.6 + _BOX))
    line.draw(pen, left, top)
