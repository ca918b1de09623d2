"""Rows of the work at the bench: a batch of blanks, bores, a board, a resin mix, coats."""

import math

from gudgeon.answers.batching import Batch
from gudgeon.answers.boarding import Board
from gudgeon.answers.boring import Bores
from gudgeon.answers.coats import Coats
from gudgeon.answers.known import Narrowing
from gudgeon.answers.mixing import Mix
from gudgeon.report.laying import Laid, laid, narrow_rows, plain
from gudgeon.report.rows import Row, Shop, row, words_row
from gudgeon.report.sum_rows import caution_rows
from gudgeon.units import Measure


def batch_laid(answer: Batch, shop: Shop) -> Laid:
    """A batch, blank by blank."""
    rows: list[Row] = []
    for blank in answer.blanks:
        weight = plain(blank.weight, Measure.MASS, shop)
        aside = ", set aside" if blank.aside else ""
        name, label = f"batch.{blank.number}", f"{blank.number}: {weight} blank{aside}"
        rows.append(row(f"{name}.lead", label, blank.lead, Measure.MASS, shop))
        rows.append(row(f"{name}.beyond", "  beyond the mean lead", blank.beyond, Measure.MASS, shop))
        if blank.depth is not None:
            rows.append(row(f"{name}.depth", f"  {_holes(answer)}", blank.depth, Measure.BORE, shop))
    rows += [
        row("batch.mean", "mean lead", answer.mean_lead, Measure.MASS, shop),
        row("batch.together", "all leads together may be off by", answer.together, Measure.MASS, shop),
        row("batch.scatter", "scatter of the blanks, standard deviation", answer.scatter, Measure.PART, shop),
        *narrow_rows("batch", answer.narrowing, Measure.MASS, shop),
    ]
    if answer.per_depth is not None:
        holds = f"a {answer.bit} bore holds"
        rows.append(row("batch.per_depth", holds, answer.per_depth, Measure.MASS_PER_DEPTH, shop))
    leads = [blank.lead.value for blank in answer.blanks]
    low, high = plain(min(leads), Measure.MASS, shop), plain(max(leads), Measure.MASS, shop)
    head = f"{len(leads)} blanks take {low} to {high} of lead, each its own."
    return laid(head, rows, answer.warnings, shop)


def _holes(answer: Batch) -> str:
    return f"{answer.bit} hole" if answer.holes == 1 else f"each of {answer.holes} {answer.bit} holes"


def bore_laid(answer: Bores, shop: Shop) -> Laid:
    """Bores for a ballast, bit by bit."""
    rows = _bore_rows(answer, "depth of full bore", shop)
    rows.append(row("bore.ball", "as one ball, across", answer.ball, Measure.LENGTH, shop))
    rows += caution_rows("bore", answer.material)
    mass, first = plain(answer.mass, Measure.MASS, shop), answer.bores[0]
    many = "one hole" if answer.holes == 1 else f"each of {answer.holes} holes"
    head = (f"{mass} of {answer.material}: {plain(first.depth, Measure.BORE, shop)} of full bore in {many}, "
            f"{first.bit} bit.")  # fmt: skip
    return laid(head, rows, answer.warnings, shop)


def ball_laid(answer: Bores, shop: Shop) -> Laid:
    """Bores for a round shot: as it is, and hammered or melted where its metal lets it."""
    rows = [
        row("bore.ball", "the ball, across", answer.ball, Measure.WIRE, shop),
        row("bore.ball_mass", "   weighs", answer.mass, Measure.MASS, shop),
        words_row("bore.bits", "drops into", ", ".join(answer.whole)),
        row("bore.ball_depth", "   full bore at the least, plug apart", answer.ball, Measure.BORE, shop),
        *_bore_rows(answer, "depth it fills, hammered or melted", shop),
        *caution_rows("bore", answer.material),
    ]
    mass, deep = plain(answer.mass, Measure.MASS, shop), plain(answer.ball, Measure.BORE, shop)
    head = (f"One ball of {answer.material}, {mass}: a {answer.whole[0]} bit or wider, {deep} of full bore at the "
            "least, and its plug over it.")  # fmt: skip
    return laid(head, rows, answer.warnings, shop)


def _bore_rows(answer: Bores, what: str, shop: Shop) -> list[Row]:
    rows: list[Row] = []
    for bore in answer.bores:
        name = bore.bit.replace(" ", "").replace("/", "_")
        rows += [
            row(f"bore.{name}.depth", f"{bore.bit}: {what}", bore.depth, Measure.BORE, shop),
            row(f"bore.{name}.holds", f"{bore.bit}: holds", bore.per_depth, Measure.MASS_PER_DEPTH, shop),
        ]
    return rows


def board_laid(answer: Board, shop: Shop) -> Laid:
    """A board by its offcut."""
    rows = [row("board.density", "density", answer.density, Measure.DENSITY, shop)]
    if answer.blank is not None:
        rows.append(row("board.blank", "a shaped blank of it", answer.blank, Measure.MASS, shop))
    if answer.count is not None and answer.square is not None:
        rows += [row("board.count", "square blanks from the board", float(answer.count), Measure.COUNT, shop),
                 row("board.square", "a square blank", answer.square, Measure.MASS, shop)]  # fmt: skip
    rows += narrow_rows("board", answer.narrowing, Measure.DENSITY, shop)
    count = "" if answer.count is None else f" It gives {answer.count} blanks."
    return laid(f"This board is {plain(answer.density, Measure.DENSITY, shop)}.{count}", rows, answer.warnings, shop)


def mix_laid(answer: Mix, shop: Shop) -> Laid:
    """A resin mix."""
    per_hundred = answer.per_resin.mapped(lambda share: 0.1 * share)
    rows = [
        row("mix.per_100", "bubbles to 100 g of mixed resin", per_hundred, Measure.MASS, shop),
        row("mix.share", "bubbles, of the volume", answer.share, Measure.PART, shop),
        words_row("mix.scoops", "loose scoops of bubbles to one of liquid", f"about {answer.scoops:.1f}"),
    ]
    amounts = ""
    if answer.resin is not None and answer.bubbles is not None and answer.total is not None:
        rows += [
            row("mix.resin", "resin to mix", answer.resin, Measure.MASS, shop),
            row("mix.bubbles", "bubbles", answer.bubbles, Measure.MASS, shop),
            row("mix.total", "all together", answer.total, Measure.MASS, shop),
        ]
        resin, bubbles = (plain(part, Measure.MASS, shop) for part in (answer.resin, answer.bubbles))
        amounts = f": mix {resin} of resin and {bubbles} of bubbles"
    rows += narrow_rows("mix", _per_hundred(answer), Measure.MASS, shop)
    density = plain(answer.wanted, Measure.DENSITY, shop)
    head = f"For {density}, {plain(per_hundred, Measure.MASS, shop)} of bubbles to 100 g of resin{amounts}."
    return laid(head, rows, answer.warnings, shop)


def coats_laid(answer: Coats, shop: Shop) -> Laid:
    """Coats and sealer."""
    rows: list[Row] = []
    for place, coat in enumerate(answer.coats, start=1):
        rows += [row(f"coats.{place}.mass", f"{coat.name}, on the scale", coat.mass, Measure.MASS, shop),
                 row(f"coats.{place}.sinks", f"{coat.name}, in water", coat.sinks, Measure.MASS, shop)]  # fmt: skip
    if answer.sealer is not None:
        rows.append(row("coats.sealer", "sealer, on the scale and in water", answer.sealer, Measure.MASS, shop))
    rows += [row("coats.mass", "all, on the scale", answer.mass, Measure.MASS, shop),
             row("coats.sinks", "all, in water", answer.sinks, Measure.MASS, shop)]  # fmt: skip
    whole = None if answer.bodies is None else float(math.floor(answer.bodies))
    for name, label, value, measure in (
        ("share", "of the blank's weight", answer.share, Measure.PART),
        ("build", "build, each face", answer.build, Measure.WIRE),
        ("gap", "cut bare joint gaps wider by", answer.gap, Measure.WIRE),
        ("bodies", "bodies that 100 ml of dry coat covers", whole, Measure.COUNT),
    ):
        rows += [] if value is None else [row(f"coats.{name}", label, value, measure, shop)]
    rows += narrow_rows("coats", answer.narrowing, Measure.MASS, shop)
    mass, sinks = plain(answer.mass, Measure.MASS, shop), plain(answer.sinks, Measure.MASS, shop)
    only = "only " if answer.sealer is None else ""
    return laid(f"{mass} on the scale, but {only}{sinks} in water.", rows, answer.warnings, shop)



def _per_hundred(answer: Mix) -> Narrowing | None:
    """The narrowing, told of 100 g of resin."""
    found = answer.narrowing
    return None if found is None else Narrowing(found.measurement, 0.1 * found.before, 0.1 * found.after)
