"""Rows of an outline that was traced from a picture or read from a drawing."""

from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.tracing import Traced
from gudgeon.report.laying import Laid, laid, plain
from gudgeon.report.rows import Row, Shop, row, words_row
from gudgeon.units import Measure


def trace_laid(answer: Traced, shop: Shop, also: tuple[Finding, ...] = (), *, from_above: bool = False) -> Laid:
    """An outline laid out.

    also : what the design made of it brings to mind
    """
    rows = (
        row("trace.length", "length", answer.length, Measure.LENGTH, shop, standing="computed"),
        row("trace.width" if from_above else "trace.depth", "width" if from_above else "depth", answer.depth,
            Measure.LENGTH, shop, standing="computed"),
        row("trace.area", "area inside", answer.area, Measure.AREA, shop, standing="computed"),
        *_picture_rows(answer, shop),
        words_row("trace.nose", "nose", _end(answer.profile.nose, answer.drawn.nose)),
        words_row("trace.tail", "tail", _end(answer.profile.tail, answer.drawn.tail)),
        *_made_rows(answer, shop),
        row("trace.stations", "stations that draw it", float(len(answer.drawn.back)), Measure.COUNT, shop),
        row("trace.departure", "they draw it no further off than", answer.drawn.departure, Measure.WIRE, shop),
        *_points(answer, shop, from_above=from_above),
    )  # fmt: skip
    return laid(_headline(answer, shop, from_above=from_above), rows, worst_first((*answer.findings, *also)), shop)


def _end(seen: str, drawn: str) -> str:
    return "a flat face" if seen == "flat" else drawn


def _made_rows(answer: Traced, shop: Shop) -> tuple[Row, ...]:
    """The length it is made, where that is another."""
    made = answer.drawn.length
    if abs(made - answer.profile.length) < 1e-6:
        return ()
    return (row("trace.made", "made so long", made, Measure.LENGTH, shop),)


def _picture_rows(answer: Traced, shop: Shop) -> tuple[Row, ...]:
    if not answer.pixel:
        return ()
    tilt = () if answer.tilt is None else (
        row("trace.tilt", "the second known length is longer by", answer.tilt, Measure.PART, shop),)  # fmt: skip
    return (
        row("trace.edge", "the edge lies within, either way", answer.edge, Measure.WIRE, shop),
        row("trace.pixel", "one pixel of the picture", answer.pixel, Measure.WIRE, shop),
        row("trace.softness", "width of the edge's blur", answer.softness, Measure.WIRE, shop),
        *tilt,
    )


def _points(answer: Traced, shop: Shop, *, from_above: bool) -> tuple[Row, ...]:
    """The points as a design's outline has them."""
    back, belly = answer.drawn.back, answer.drawn.belly
    unit = "mm" if shop is Shop.METRIC else "in"
    return tuple(
        words_row(f"trace.{name}", f"{name}, station: size ({unit})",
                  ", ".join(f"{_bare(station, shop)}: {_bare(out, shop)}" for station, out in curve))
        for name, curve in ((("side", back),) if from_above else (("back", back), ("belly", belly)))
    )  # fmt: skip


def _bare(length: float, shop: Shop) -> str:
    """A length without its unit, and without figures that say nothing."""
    figures = plain(length, Measure.LENGTH, shop).split()[0]
    return figures.rstrip("0").rstrip(".") if "." in figures else figures


def _headline(answer: Traced, shop: Shop, *, from_above: bool) -> str:
    long, deep = (plain(size, Measure.LENGTH, shop) for size in (answer.length, answer.depth))
    off = plain(answer.drawn.departure, Measure.WIRE, shop)
    return (f"{long} long, {deep} {'wide' if from_above else 'deep'}; {len(answer.drawn.back)} stations draw it within "
            f"{off}.")  # fmt: skip
