"""The papers of a batch: every blank in one table, and a numbered card for each lure to work from and write on."""

from collections.abc import Iterator
from functools import partial

from gudgeon.answers.batch_papers import BatchLure, BatchPapers
from gudgeon.answers.drilling import drilling
from gudgeon.answers.finding import Finding
from gudgeon.answers.papers import Hole, Papers
from gudgeon.answers.work_order import IN_TUB, scale_weights, waiting
from gudgeon.report.bench_sheets import on_sheets, shown
from gudgeon.report.drawing import depth_figure
from gudgeon.report.flowing import Block, Column, blanks, gap, heading, paragraph, table
from gudgeon.report.paper import Frame, Pen, Sheet, width_of
from gudgeon.report.rows import Measure, Shop
from gudgeon.report.sentences import SIGNS, said
from gudgeon.report.strokes import Line
from gudgeon.report.summary_sheets import SIDE

BATCH_SHEET, CARDS = "The batch", "Cards, a lure each"
_MOST_HOLES = 5  # with their depths in the table of the batch


def batch_sheets(many: BatchPapers, watched: tuple[Finding, ...], frame: Frame, shop: Shop) -> tuple[Sheet, ...]:
    """The batch in one table, with what is to be watched in it and in its pattern."""
    room = frame.width - 2.0 * SIDE
    blocks = [*_head(many, room, shop), *_table(many, room, shop), gap(3.0), *_findings(many.findings, room, shop)]
    if watched:
        blocks += [gap(3.0), heading("What is to be watched in the pattern", room), *_findings(watched, room, shop)]
    return tuple(on_sheets(BATCH_SHEET, blocks, frame))


def common_words(many: BatchPapers, shop: Shop) -> str:
    """What stands on the sheets that all lures share."""
    blank = shown(many.blank, Measure.MASS, shop)
    whose = "the mean blank's" if many.batch is not None else "those of the blank as reckoned"
    return (f"For the whole batch: weights, ballast and depths of ballast bores here are {whose}, {blank}. Each "
            "lure's own stand on its card.")  # fmt: skip


def _head(many: BatchPapers, room: float, shop: Shop) -> Iterator[Block]:
    count = len(many.lures)
    leads = sorted(lure.lead for lure in many.lures)
    low, high = (shown(lead, Measure.MASS, shop) for lead in (leads[0], leads[-1]))
    words = f"{count} lures, {low} of ballast each" if low == high else f"{count} lures, {low} to {high} of ballast"
    yield from paragraph(words, room, size=14.0, bold=True)
    yield gap(1.5)
    if many.batch is None:
        yield from paragraph(_not_weighed(many, shop), room)
    else:
        scatter, mean = shown(many.batch.scatter, Measure.PART, shop), shown(many.blank, Measure.MASS, shop)
        yield from paragraph(f"The blanks scatter by {scatter} about their mean, {mean}: "
                             f"what one weighs more is its wood, and takes {_per_gram(many, shop)} of ballast less for "
                             "each gram. Templates and drill cards are the same for all: print as many as wear "
                             "out.", room)  # fmt: skip
    yield gap(2.0)


def _per_gram(many: BatchPapers, shop: Shop) -> str:
    return shown(1e-3 * many.per_gram, Measure.MASS, shop)


def _not_weighed(many: BatchPapers, shop: Shop) -> str:
    last = waiting(many.pattern)
    where = f" in {last.hole.name}" if last else ""
    return (f"The blanks are not weighed yet: {shown(many.blank, Measure.MASS, shop)} is reckoned for each. Weigh "
            f"them, shaped, before any hole; for each gram more put {_per_gram(many, shop)} of ballast less{where}, or "
            "write the weights in a list and print again with --batch.")  # fmt: skip


def _table(many: BatchPapers, room: float, shop: Shop) -> Iterator[Block]:
    names = [hole.name for hole in many.pattern.holes]
    unit = "mm" if shop is Shop.METRIC else "in"
    is_deep = len(names) <= _MOST_HOLES
    wide = min(30.0, (room - 84.0) / max(len(names), 1))
    columns = [Column(("number",), 16.0, "left"), Column(("blank",), 22.0), Column(("ballast", "in all"), 22.0),
               *(Column((name, f"g, deep {unit}" if is_deep else ""), wide) for name in _short(names, wide)),
               Column(("",), room - 60.0 - wide * len(names), "left")]  # fmt: skip
    yield from table(columns, [_row(lure, names, is_deep, shop) for lure in many.lures])


def _short(names: list[str], wide: float) -> list[str]:
    """Names that fit over a column."""
    found = []
    for name in names:
        while len(name) > 1 and width_of(name, bold=True) > wide - 3.2:
            name = name[:-1]
        found.append(name.strip())
    return found


def _row(lure: BatchLure, names: list[str], is_deep: bool, shop: Shop) -> list[str]:
    holes = {hole.name: hole for hole in lure.papers.holes}
    cells = []
    for name in names:
        hole = holes.get(name)
        mass = "-" if hole is None else shown(hole.mass, Measure.MASS, shop).removesuffix(" g")
        cells.append(f"{mass}, {_deep(hole, shop)}" if hole is not None and is_deep else mass)
    blank = "" if lure.blank is None else shown(lure.blank, Measure.MASS, shop)
    return [f"{lure.number}", blank, shown(lure.lead, Measure.MASS, shop), *cells, "set aside" if lure.aside else ""]


def _deep(hole: Hole, shop: Shop) -> str:
    """Depth in bare wood."""
    bit = hole.metric_bit if shop is Shop.METRIC else hole.inch_bit
    return depth_figure(bit.depth - hole.coat, shop)


def _findings(findings: tuple[Finding, ...], room: float, shop: Shop) -> Iterator[Block]:
    for finding in findings:
        sign, word = SIGNS[finding.gravity]
        yield from paragraph(said(finding, shop), room, size=9.5, indent=17.0, head=f"{sign} {word}")
        yield gap(0.8)


def card_sheets(many: BatchPapers, frame: Frame, shop: Shop) -> tuple[Sheet, ...]:
    """A card for each lure, never parted between two sheets; as many to a sheet as go."""
    room = frame.width - 2.0 * SIDE
    blocks = [block for lure in many.lures for block in _card(many, lure, room, shop)]
    return tuple(on_sheets(CARDS, blocks, frame))


def _card(many: BatchPapers, lure: BatchLure, room: float, shop: Shop) -> Iterator[Block]:
    made = [heading(f"Lure {lure.number}", room), *_blank_lines(many, lure, room, shop), gap(1.0),
            *_holes(lure.papers, room, shop), gap(1.5), *_weights(lure.papers, room, shop),
            *(_write_on(words, room) for words in ("timed drop, and the water", "remarks", ""))]  # fmt: skip
    yield from (Block(block.height, block.draw, keeps=True) for block in made)
    yield Block(6.0, partial(_cut_here, room))


def _blank_lines(many: BatchPapers, lure: BatchLure, room: float, shop: Shop) -> Iterator[Block]:
    lead = shown(lure.lead, Measure.MASS, shop)
    if lure.blank is None:
        last = waiting(lure.papers)
        where = f" in {last.hole.name}" if last else ""
        yield blanks(
            "blank, shaped, before any hole", room, expected=shown(many.blank, Measure.MASS, shop), is_bold=True
        )
        yield from paragraph(f"{lead} of ballast in all; for each gram the blank weighs more, {_per_gram(many, shop)} "
                             f"less{where}.", room)  # fmt: skip
        return
    aside = " Set it aside, or give it to another float class." if lure.aside else ""
    blank = shown(lure.blank, Measure.MASS, shop)
    yield from paragraph(f"Blank {blank}, {lead} of ballast in all.{aside}", room, size=11.0, bold=True)


def _holes(made: Papers, room: float, shop: Shop) -> Iterator[Block]:
    unit, is_metric = ("mm", True) if shop is Shop.METRIC else ("in", False)
    schedule, last = drilling(made), waiting(made)
    drilled = {one.name: one for one in schedule.holes}
    heads = ((("hole, in the order", "to fill"), room - 136.0, "left"), (("bit",), 20.0, "left"),
             (("stop from", f"square, {unit}"), 24.0, "right"), (("deep in bare", f"wood, {unit}"), 24.0, "right"),
             (("ballast",), 22.0, "right"), (("put in",), 46.0, "left"))  # fmt: skip
    columns = [Column(head, wide, "left" if side == "left" else "right") for head, wide, side in heads]
    rows = []
    for hole in made.holes:
        bit = hole.metric_bit if is_metric else hole.inch_bit
        one = drilled.get(hole.name)
        is_last = last is not None and hole is last.hole
        stop = "after the tub" if is_last or one is None or one.when != "square" else depth_figure(
            schedule.stop_depth(one, metric=is_metric), shop)  # fmt: skip
        rows.append([hole.name, bit.name, stop, _deep(hole, shop), shown(hole.mass, Measure.MASS, shop), ""])
    lines = table(columns, rows)
    yield lines[0]
    for block in lines[1:]:
        yield Block(block.height + 1.0, partial(_with_line, block, room))


def _with_line(block: Block, room: float, pen: Pen, left: float, top: float) -> None:
    """A row of the table, with a line to write on at its end."""
    block.draw(pen, left, top)
    pen.line(Line.THIN, [(left + room - 46.0, top - block.height - 0.2), (left + room - 3.0, top - block.height - 0.2)])


def _weights(made: Papers, room: float, shop: Shop) -> Iterator[Block]:
    last = waiting(made)
    for words, weight in scale_weights(made):
        taped = last.hole.taped if words == IN_TUB and last is not None and not last.is_bored else None
        more = f", {shown(taped, Measure.MASS, shop)} taped over the mark of {last.hole.name}" if taped and last else ""
        yield blanks(f"{words}{more}", room, expected=shown(weight, Measure.MASS, shop))


def _write_on(words: str, room: float) -> Block:
    """A line to write on as long as the card."""
    after = width_of(words, 9.0) + 2.0 if words else 0.0

    def draw(pen: Pen, left: float, top: float) -> None:
        pen.words(left, top - 5.2, words, size=9.0)
        pen.line(Line.THIN, [(left + after, top - 6.0), (left + room, top - 6.0)])

    return Block(6.8, draw)


def _cut_here(room: float, pen: Pen, left: float, top: float) -> None:
    pen.line(Line.PHANTOM, [(left, top - 4.5), (left + room, top - 4.5)])
