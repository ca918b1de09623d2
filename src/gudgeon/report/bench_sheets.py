"""The sheets to work from at the bench: holes and what goes in them, order of work, weights to check, cautions."""

from collections.abc import Iterator, Sequence
from functools import partial

from gudgeon.answers.papers import Hole, Papers, StageWeight, Warned
from gudgeon.physics.spread import Estimate
from gudgeon.report.drawing import figure
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
from gudgeon.report.paper import Frame, Sheet
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.summary_sheets import SIDE
from gudgeon.report.title_block import HEIGHT

_STAGES = {
    "shaped": "joints cut, before any hole",
    "drilled": "all holes and slots drilled",
    "sealed": "sealed, and dry again",
    "leaded": "all ballast in and plugged",
    "painted": "all coats on, and hard",
    "rigged": "hooks and all fittings on",
}
_SUBJECTS = {
    "lead": "Lead",
    "lead law": "Lead and the law",
    "wood dust": "Wood dust",
    "resin": "Resins",
    "hooks": "Hooks",
    "saws": "Saws and drills",
    "solvents": "Solvents",
    "uv lamp": "Curing lamps",
}
_ON_MARK = 3e-4  # m off the middle line before a lure lists; common practice, no source
_UNSOURCED = "common practice, no source"


def shown(value: Estimate | float, measure: Measure, shop: Shop) -> str:
    """A number as every face shows it."""
    return row("", "", value, measure, shop).shown


def bench_sheets(papers: Papers, frame: Frame, shop: Shop) -> tuple[Sheet, ...]:
    """Ballast, weights, cautions: each begins on a sheet of its own."""
    room = frame.width - 2.0 * SIDE
    parts = (("Ballast and order of work",
              [*_ballast(papers, room, shop), *_work(papers, room, shop), *_readings(papers, room, shop)]),
             ("Weights, stage by stage", list(_weights(papers, room, shop))),
             ("Cautions", list(_cautions(papers, room, shop))))  # fmt: skip
    return tuple(sheet for title, blocks in parts for sheet in _on_sheets(title, blocks, frame))


def _on_sheets(title: str, blocks: Sequence[Block], frame: Frame) -> Iterator[Sheet]:
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
        words = "Shot stacks loosely, so these holes are deeper. Take one table or the other, not both."
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
        figure(bit.depth - hole.coat, shop), figure(bit.depth, shop), shown(hole.mass, Measure.MASS, shop),
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
        rows.append([hole.name, counts, shown(hole.mass, Measure.MASS, shop), bit.name, figure(bit.depth - coat, shop)])
    return rows


def _work(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    yield gap(2.0)
    yield heading("Order of work", room)
    for number, words in enumerate(_steps(papers, shop), start=1):
        yield from task(words, room, f"{number}")


def _steps(papers: Papers, shop: Shop) -> Iterator[str]:
    yield "Print at 100 %, no fitting to the page. Measure the bars on the template before anything is cut."
    yield "Weigh the shaped blank before any hole, and push it under in a jug on the scale. Write both down."
    if not any(hole.is_to_fill for hole in papers.holes):
        yield _tub(papers, 0.0, shop)
        return
    near = shown(_ON_MARK, Measure.CUT, shop)
    yield f"Drill every hole to its depth in bare wood: bit on its mark within {near}, stop set, dust blown out."
    first, last = [hole for hole in papers.holes[:-1] if hole.is_to_fill], papers.holes[-1]
    if first:
        yield f"Seal, let dry, then fill: {', '.join(_grams(hole, hole.add, shop) for hole in first)}."
    held = papers.held_back
    if held > 5e-5:
        put, left = shown(last.add - held, Measure.MASS, shop), shown(held, Measure.MASS, shop)
        yield f"Last hole, {last.name}: put in {put} and leave {left} out until the tub test."
    else:
        yield f"Last hole, {last.name}: {shown(last.add, Measure.MASS, shop)}."
    yield _tub(papers, held, shop)
    yield "Put what the tub asks for in the last hole, test once more, then plug every hole flush and let it set."


def _tub(papers: Papers, held: float, shop: Shop) -> str:
    """What to expect of the tub, less what is left out of the last hole, and what a gram there is worth inside."""
    tub = papers.check.tub
    is_leaded = tub.stage in ("leaded", "painted", "rigged")
    out = held if is_leaded else 0.0
    taped = tub.to_hang + out / tub.inside_per_taped
    weight = tub.rate.mass
    scale = shown(Estimate(weight.value - out, weight.low - out, weight.high - out), Measure.MASS, shop)
    half = tub.rate.excess.spread
    amount = shown(Estimate(abs(taped), abs(taped) - half, abs(taped) + half), Measure.MASS, shop)
    without = f", {shown(out, Measure.MASS, shop)} still left out" if out else ""
    inside = shown(1e-3 * tub.inside_per_taped, Measure.MASS, shop)
    if taped >= 0.0:
        does = f"hang with {amount} of lead taped on. For each gram more that it takes put {inside} more inside; "
        does += f"for each gram less, {inside} less."
    else:
        does = f"sink, {amount} of lead too heavy to hang. For each gram more than that put {inside} less inside; "
        does += f"for each gram less, {inside} more."
    return f"Tub test ({tub.stage}; {tub.on}; {tub.water}{without}): it should weigh {scale} and {does}"


def _weights(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    yield heading("Weights, stage by stage", room)
    words = "Write what the scale shows beside what is expected; where it lies outside, find out why before going on."
    yield from paragraph(words, room)
    if papers.held_back > 5e-5:
        held = shown(papers.held_back, Measure.MASS, shop)
        yield from paragraph(f"Leaded weighs {held} less until the last hole is full.", room)
    yield gap(1.5)
    yield _weight_heads(room)
    names = [piece.name for piece in papers.check.pieces]
    for stage in papers.stages:
        yield from _stage(stage, names, room, shop)


def _weight_heads(room: float) -> Block:
    columns = [Column(("stage",), room - 107.0, "left"), Column(("expected",), 40.0), Column(("",), 5.0),
               Column(("weighed",), 38.0, "left"), Column(("date",), 24.0, "left")]  # fmt: skip
    return table(columns, [])[0]


def _stage(stage: StageWeight, names: Sequence[str], room: float, shop: Shop) -> Iterator[Block]:
    words = f"{stage.stage}: {_STAGES[stage.stage]}"
    first = blanks(words, room, expected=shown(stage.whole, Measure.MASS, shop), is_bold=True)
    yield Block(first.height, first.draw, keeps=bool(stage.pieces))
    for place, (name, piece) in enumerate(zip(names, stage.pieces, strict=False)):
        line = blanks(name, room, indent=5.0, expected=shown(piece, Measure.MASS, shop))
        yield Block(line.height, line.draw, keeps=place < len(stage.pieces) - 1)
    yield gap(1.4)


def _readings(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    yield gap(4.0)
    yield heading("Readings", room)
    grams = shown(papers.blank_volume, Measure.VOLUME, shop)
    yield blanks("jug test of the shaped blank: grams, about its cm3", room, expected=grams)
    yield blanks("tub test: lead taped on until it hangs, and the water's temperature", room)
    for number in (1, 2, 3):
        yield blanks(f"timed drop {number}: seconds, over what distance", room)


def _cautions(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    for subject in dict.fromkeys(caution.subject for caution in papers.cautions):
        yield heading(_SUBJECTS.get(subject, subject), room)
        for caution in papers.cautions:
            if caution.subject == subject:
                yield from _told(caution, room)
        if subject == "lead law":
            yield from _laws(papers, room, shop)
        yield gap(1.8)
    yield from paragraph("Where no source stands: common practice, no source.", room, size=8.5)


def _told(caution: Warned, room: float) -> Iterator[Block]:
    source = "" if caution.source in ("", _UNSOURCED) or caution.subject == "lead law" else f" ({caution.source})"
    yield from paragraph(caution.words + source, room, size=8.5)
    yield gap(0.7)


def _laws(papers: Papers, room: float, shop: Shop) -> Iterator[Block]:
    lead = shown(papers.lead, Measure.MASS, shop)
    words = f"This lure holds {lead} of lead. What is known of single places, not the law itself:"
    yield from paragraph(words, room, size=8.5)
    yield gap(0.8)
    columns = [Column(("place",), 47.0, "left"), Column(("what is known",), room - 99.0, "left"),
               Column(("source",), 52.0, "left")]  # fmt: skip
    yield from table(columns, [[law.subject, law.words, law.source or "from memory"] for law in papers.laws], size=8.0)
