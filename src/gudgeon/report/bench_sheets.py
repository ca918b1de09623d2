"""The sheets to work from at the bench: holes and what goes in them, order of work with its cautions, weights."""

from collections.abc import Iterator, Sequence
from functools import partial

from gudgeon.answers.papers import Hole, Papers, StageWeight, Warned
from gudgeon.answers.work_order import Waiting, order_of_work, waiting
from gudgeon.physics.spread import Estimate
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.flowing import (
    Block,
    Column,
    blanks,
    draw_blocks,
    gap,
    heading,
    paged,
    paragraph,
    table,
    task,
)
from gudgeon.report.paper import Frame, Pen, Sheet
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.summary_sheets import SIDE
from gudgeon.report.title_block import HEIGHT
from gudgeon.report.wood_rows import STAGE_WORDS, step_words

_STAGES = {
    "shaped": "before any hole",
    "drilled": "all holes and slots drilled",
    "sealed": "sealed, and dry again",
    "leaded": "all ballast in and plugged",
    "painted": "all coats on, and hard",
    "rigged": "hooks and all fittings on",
}
_ASIDE = 14.0  # mm a caution stands in, as the words of its step do
_UNSOURCED = "common practice, no source"


def shown(value: Estimate | float, measure: Measure, shop: Shop) -> str:
    """A number as every face shows it."""
    return row("", "", value, measure, shop).shown


def bench_sheets(papers: Papers, frame: Frame, shop: Shop, note: str = "") -> tuple[Sheet, ...]:
    """Ballast and the work, weights, what the law says of lead: each begins on a sheet of its own.

    note : what is to be said of papers that several lures share; their weights and readings stand on their cards
    """
    room = frame.width - 2.0 * SIDE
    law = list(_laws(papers, room, shop)) if papers.laws else []
    work = (
        "Ballast and order of work",
        [*noted(note, room), *_ballast(papers, room, shop), *_work(papers, room, shop)],
    )
    parts = [work, ("Weights, stage by stage", list(_weights(papers, room, shop))),
             ("Readings; lead and the law" if law else "Readings", [*_readings(papers, room, shop), *law])]  # fmt: skip
    shared = [work, ("Lead and the law", law)]
    return tuple(sheet for title, blocks in (shared if note else parts) if blocks
                 for sheet in on_sheets(title, blocks, frame))  # fmt: skip


def noted(note: str, room: float) -> Iterator[Block]:
    """What is to be said at the head of a sheet that several lures share."""
    if note:
        yield from paragraph(note, room, bold=True)
        yield gap(2.5)


def on_sheets(title: str, blocks: Sequence[Block], frame: Frame) -> Iterator[Sheet]:
    """Blocks on as many upright sheets as they take."""
    tall = frame.height - HEIGHT - 2.0 * SIDE
    for place, page in enumerate(paged(blocks, tall, tall)):
        name = title if place == 0 else f"{title}, continued"
        yield Sheet(name, False, partial(draw_blocks, page, frame.left + SIDE, frame.top - SIDE))


def _ballast(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    yield heading("Holes and what goes in them, in the order to fill them", room)
    if not papers.holes:
        yield from paragraph("This lure has no ballast hole.", room)
        return
    rows = [_hole_row(place, hole, shop) for place, hole in enumerate(papers.holes, start=1)]
    yield from table(_hole_columns(room, shop), rows)
    yield gap(2.0)
    yield from paragraph(_notes(papers, shop), room)
    if papers.shot:
        yield gap(3.0)
        yield heading("The same in whole shot", room)
        yield from table(_shot_columns(room), _shot_rows(papers, shop))
        yield gap(2.0)
        words = ("Shot stacks loosely, so these holes are deeper; pour the plug's filler into the gaps too, its "
                 "weight is counted in. Take one table or the other, not both.")  # fmt: skip
        yield from paragraph(words, room)
    yield gap(3.0)


def _hole_columns(room: float, shop: Shop) -> list[Column]:
    unit = "mm" if shop is Shop.METRIC else "in"
    heads = (("from", f"nose, {unit}"), ("drilled", "from the"), ("bit",), ("deep in bare", f"wood, {unit}"),
             ("deep from", f"finished, {unit}"), ("ballast",), ("plug,", unit), ("taped out-", "side instead"),
             ("wall", f"left, {unit}"))  # fmt: skip
    widths = (15.0, 14.0, 16.0, 19.0, 22.0, 17.0, 13.0, 19.0, 15.0)
    first = Column(("", "pocket"), room - sum(widths), "left")
    sides = ["left" if head[0] in ("drilled", "bit") else "right" for head in heads]
    return [first, *(Column(head, wide, "left" if side == "left" else "right")
                     for head, wide, side in zip(heads, widths, sides, strict=True))]  # fmt: skip


def _hole_row(place: int, hole: Hole, shop: Shop) -> list[str]:
    bit = hole.metric_bit if shop is Shop.METRIC else hole.inch_bit
    return [
        f"{place}  {hole.name}", figure(hole.pocket.mouth[0], shop), hole.face, bit.name,
        depth_figure(bit.depth - hole.coat, shop), depth_figure(bit.depth, shop), shown(hole.mass, Measure.MASS, shop),
        figure(hole.bored.depth - hole.bored.length, shop),
        "" if hole.taped is None else shown(hole.taped, Measure.MASS, shop), figure(hole.wall, shop),
    ]  # fmt: skip


def _notes(papers: Papers, shop: Shop) -> str:
    plugs = sorted({hole.plug_material for hole in papers.holes})
    words = [
        f"Ballast: {_metals(papers)}, solid, pushed to the inner end. Plug: {', '.join(plugs)}, flush with the skin.",
        "Distances count from the finished nose, walls beyond the end of the bore.",
    ]
    begun = [hole for hole in papers.holes if hole.mass - hole.add > 1e-5]
    if begun:
        words.append(f"In already: {', '.join(_grams(hole, hole.mass - hole.add, shop) for hole in begun)}.")
    if papers.unused:
        words.append(f"Not needed: {', '.join(papers.unused)}.")
    return " ".join(words)


def _metals(papers: Papers) -> str:
    """ "lead", or "lead in tail; tungsten in waist"."""
    metals: dict[str, list[str]] = {}
    for hole in papers.holes:
        if hole.mass > 0.0:
            metals.setdefault(hole.material, []).append(hole.name)
    if len(metals) < 2:
        return ", ".join(metals)
    return "; ".join(f"{metal} in {' and '.join(names)}" for metal, names in metals.items())


def _grams(hole: Hole, mass: float, shop: Shop) -> str:
    return f"{hole.name} {shown(mass, Measure.MASS, shop)}"


def _shot_columns(room: float) -> list[Column]:
    widths = (62.0, 22.0, 20.0, 32.0)
    return [Column(("pocket",), room - sum(widths), "left"), Column(("shot",), widths[0], "left"),
            Column(("comes to",), widths[1]), Column(("bit",), widths[2]),
            Column(("deep in bare wood",), widths[3])]  # fmt: skip


def _shot_rows(papers: Papers, shop: Shop) -> list[list[str]]:
    coats = {hole.name: hole.coat for hole in papers.holes}
    rows = []
    for hole in papers.shot:
        bit = hole.metric_bit if shop is Shop.METRIC else hole.inch_bit
        counts = ", ".join(f"{count} of {shown(mass, Measure.MASS, shop)}" for count, mass, _ in hole.counts)
        coat = coats.get(hole.name, papers.check.lure.shown)
        rows.append([hole.name, counts, shown(hole.mass, Measure.MASS, shop), bit.name,
                     depth_figure(bit.depth - coat, shop)])  # fmt: skip
    return rows


def _work(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    """The steps under what they are done to, each with the cautions to read before it."""
    yield heading("Order of work", room)
    stage, told = "", set[str]()
    for number, step in enumerate(order_of_work(papers), start=1):
        if step.when != stage:
            stage = step.when
            words = STAGE_WORDS[stage]
            for block in paragraph(words[0].upper() + words[1:], room, size=10.0, bold=True):
                yield Block(block.height + 0.6, block.draw, keeps=True)
        for caution in papers.cautions:
            if caution.subject in step.about and caution.subject not in told:
                yield from _told(caution, room)
        told |= set(step.about)
        yield from task(step_words(step, shop), room, f"{number}")


def _told(caution: Warned, room: float) -> Iterator[Block]:
    """A caution at the step it belongs to: it stands before it, and stays with it."""
    source = "" if caution.source in ("", _UNSOURCED) or caution.subject == "lead law" else f" ({caution.source})"
    for block in paragraph(caution.words + source, room - _ASIDE, size=8.5, indent=15.0, head="caution"):
        yield Block(block.height, partial(_aside, block), keeps=True)
    yield Block(0.7, gap(0.7).draw, keeps=True)


def _aside(block: Block, pen: Pen, left: float, top: float) -> None:
    block.draw(pen, left + _ASIDE, top)


def _weights(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    yield heading("Weights, stage by stage", room)
    words = ("Write what the scale shows beside what is expected; where it lies outside, find out why before going on. "
             "Where holes are drilled in the square blank, shaped is reckoned: no scale ever shows it.")  # fmt: skip
    yield from paragraph(words, room)
    last = waiting(papers)
    if last is not None:
        yield from paragraph(_until_then(last, shop), room)
    yield gap(1.5)
    yield _weight_heads(room)
    names = [piece.name for piece in papers.check.pieces]
    for stage in papers.stages:
        yield from _stage(stage, names, room, shop)


def _until_then(last: Waiting, shop: Shop) -> str:
    """What the last hole makes of the weights until it is done."""
    net, wood = (shown(mass, Measure.MASS, shop) for mass in (last.net, last.wood))
    if last.is_bored:
        return f"Leaded and later weigh {net} less until {last.hole.name} is full."
    return (f"Drilled and later are told with {last.hole.name} done, which waits for the tub test: until then drilled "
            f"and sealed weigh {wood} more, leaded and later {net} less.")  # fmt: skip


def _weight_heads(room: float) -> Block:
    columns = [Column(("stage",), room - 107.0, "left"), Column(("expected",), 40.0), Column(("",), 5.0),
               Column(("weighed",), 38.0, "left"), Column(("date",), 24.0, "left")]  # fmt: skip
    return table(columns, [])[0]


def _stage(stage: StageWeight, names: Sequence[str], room: float, shop: Shop) -> Iterator[Block]:
    cut = "joints cut, " if stage.stage == "shaped" and len(names) > 1 else ""
    words = f"{stage.stage}: {cut}{_STAGES[stage.stage]}"
    first = blanks(words, room, expected=shown(stage.whole, Measure.MASS, shop), is_bold=True)
    yield Block(first.height, first.draw, keeps=bool(stage.pieces))
    for place, (name, piece) in enumerate(zip(names, stage.pieces, strict=False)):
        line = blanks(name, room, indent=5.0, expected=shown(piece, Measure.MASS, shop))
        yield Block(line.height, line.draw, keeps=place < len(stage.pieces) - 1)
    yield gap(1.4)


def _readings(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    yield heading("Readings", room)
    grams = shown(papers.blank_volume, Measure.VOLUME, shop)
    yield blanks("jug test, every bore taped shut: grams, about its cm3", room, expected=grams)
    yield blanks("tub test: lead taped on until it hangs, and the water's temperature", room)
    for number in (1, 2, 3):
        yield blanks(f"timed drop {number}: seconds, over what distance", room)
    yield gap(6.0)


def _laws(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    lead = shown(papers.lead, Measure.MASS, shop)
    words = f"This lure holds {lead} of lead. What is known of single places, not the law itself:"
    yield heading("Lead and the law", room)
    yield from paragraph(words, room, size=8.5)
    yield gap(0.8)
    columns = [Column(("place",), 47.0, "left"), Column(("what is known",), room - 99.0, "left"),
               Column(("source",), 52.0, "left")]  # fmt: skip
    yield from table(columns, [[law.subject, law.words, law.source or "from memory"] for law in papers.laws], size=8.0)
