"""Commands that put a drawn lure on paper, and list what goes into it: sheets, bill."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli.opening import Colour, ColourOption, DesignPath, JsonOption, Paper, Units, UnitsOption, opened

if TYPE_CHECKING:
    from gudgeon.answers.batch_papers import BatchPapers
    from gudgeon.answers.checked import Check
    from gudgeon.design.file import DesignFile

_MOST = 500  # lures of one batch on paper: further than that the number is a slip


def sheets(
    file: DesignPath,
    out: Annotated[Path, typer.Option("--out", help="The PDF to write.")],
    paper: Annotated[Paper, typer.Option("--paper", help="The sheet in the printer.")] = Paper.A4,
    units: UnitsOption = Units.METRIC,
    bar: Annotated[
        str, typer.Option("--bar", help='What the printed 100 mm bar measures, when not 100 mm: "97 mm".')
    ] = "",
    batch: Annotated[
        Path | None,
        typer.Option("--batch", help="A list of blanks, number and weight on each line: a numbered card for each."),
    ] = None,
    lures: Annotated[
        int | None, typer.Option("--lures", help="So many lures, not weighed yet: a numbered card for each.")
    ] = None,
) -> None:
    """Papers to work from, at true size.

    Outlines, sections, drill schedule and drill cards, ballast, order of work, weights to note, what to buy. For a
    batch, a card for each lure besides. Measure the bar before you cut.

    Example:  gudgeon sheets examples/lanternmere.toml --out lanternmere.pdf
    """
    from datetime import date

    from gudgeon.answers.papers import papers
    from gudgeon.design.file import may_write, save
    from gudgeon.report import sheets as drawn
    from gudgeon.report.rows import Shop
    from gudgeon.units import LENGTH, read

    may_write(out, (".pdf",))
    correction = drawn.correction_for(read(bar, LENGTH)) if bar else 1.0
    number = _lures(lures, batch)
    design_file, answer = checked_file(file)
    many = _batch(design_file, batch, number)
    pages = drawn.sheets(papers(answer), stamp=design_file.stamp, shop=Shop(units.value), paper=paper.value,
                         correction=correction, date=date.today(), batch=many)  # fmt: skip
    save(out, pages)
    print(f"{out} is written: print it at 100 %, then measure the bar on the first template before you cut anything.")


def bill(
    file: DesignPath, units: UnitsOption = Units.METRIC, json: JsonOption = False, color: ColourOption = Colour.AUTO,
    lures: Annotated[int | None, typer.Option("--lures", help="For so many lures alike; one when left out.")] = None,
) -> None:  # fmt: skip
    """Everything that goes into it: weights, and cost.

    Each part with its weight and sizes, ballast as it is to go in; then what to buy, alike things together, at the
    prices of the design's [[price]] tables.

    Example:  gudgeon bill examples/lanternmere.toml --lures 12
    """
    from gudgeon.answers.bill import bill as billed
    from gudgeon.answers.papers import papers
    from gudgeon.answers.work_order import square_stock
    from gudgeon.report.bill_rows import bill_headline, bill_sections, bill_warnings
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import show_sections

    number = _lures(lures, None) or 1
    design_file, answer = checked_file(file)
    needed = answer.ballast.needed if answer.ballast else None
    made = billed(design_file.design, answer.lure, number, square_stock(papers(answer)), needed)
    shop = Shop(units.value)
    show_sections(bill_sections(made, shop), bill_headline(made, shop), bill_warnings(made), json, color=color.value)


def checked_file(path: Path) -> "tuple[DesignFile, Check]":
    """A design file and every answer for it."""
    from gudgeon.answers.overall import overall

    with opened(path) as file:
        return file, overall(file.design)


def _lures(lures: int | None, batch: Path | None) -> int | None:
    """How many, where that can be."""
    from gudgeon.errors import BadQuantity

    if lures is not None and batch is not None:
        raise BadQuantity("give --batch or --lures, not both: the list says how many there are")
    if lures is not None and not 1 <= lures <= _MOST:
        raise BadQuantity(f"--lures {lures}: from 1 to {_MOST}")
    return lures


def _batch(file: "DesignFile", listed: Path | None, lures: int | None) -> "BatchPapers | None":
    """The batch that is asked for."""
    from gudgeon.answers.batch_papers import batch_papers
    from gudgeon.design.batch_list import read_batch

    if listed is not None:
        return batch_papers(file.design, read_batch(listed))
    return None if lures is None else batch_papers(file.design, lures)
