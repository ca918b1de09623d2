"""Commands on a drawn lure: new, check, sheets. Heavy imports stay inside, so that --help answers at once."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli.opening import Colour, ColourOption, DesignPath, JsonOption, Paper, Units, UnitsOption, opened

if TYPE_CHECKING:
    from gudgeon.answers.checked import Check
    from gudgeon.design.file import DesignFile


def add_design_commands(app: typer.Typer) -> None:
    """Give the app the commands that read a design file."""
    app.command("new", help=f"{new.__doc__}")(new)
    app.command("check", help=f"{check.__doc__}")(check)
    app.command("sheets", help=f"{sheets.__doc__}")(sheets)
    app.command("bill", help=f"{bill.__doc__}")(bill)


def new(
    form: Annotated[str, typer.Argument(help="Body form; leave it out to see them all.")] = "",
    out: Annotated[Path | None, typer.Option("--out", help="File to write; printed when left out.")] = None,
    length: Annotated[
        str, typer.Option("--length", help='Length of the body, "9 in"; the form\'s own when left out.')
    ] = "",
    units: UnitsOption = Units.METRIC,
) -> None:
    """Start a design: a commented file for a body form.

    Example:  gudgeon new swimmer4 --length "240 mm" --out mine.toml
    """
    from gudgeon.answers.starting import forms, starting_design
    from gudgeon.design.file import save_new
    from gudgeon.units import LENGTH, read

    if not form:
        for known in forms():
            print(f"{known.name:10} {known.words}")
        return
    text = starting_design(form, read(length, LENGTH) if length else None, "mm" if units is Units.METRIC else "in")
    if out is None:
        print(text, end="")
        return
    save_new(out, text)
    print(f"{out} is written. Change it to your lure, then: gudgeon check {out}")


def check(
    file: DesignPath,
    units: UnitsOption = Units.METRIC,
    json: Annotated[bool, typer.Option("--json", help="One object with rows, for a program.")] = False,
    color: ColourOption = Colour.AUTO,
) -> None:
    """All answers for a drawn lure, what is wrong first.

    Weights, float or sink and how fast, attitude, upright, ballast and bores, each piece alone, the tub test.

    Example:  gudgeon check examples/lanternmere.toml
    """
    from gudgeon.report.check_text import check_json, show_check
    from gudgeon.report.rows import Shop

    design_file, answer = checked_file(file)
    if json:
        print(check_json(answer, Shop(units.value), design_file.stamp))
    else:
        show_check(answer, Shop(units.value), design_file.stamp, color.value)


def sheets(
    file: DesignPath,
    out: Annotated[Path, typer.Option("--out", help="The PDF to write.")],
    paper: Annotated[Paper, typer.Option("--paper", help="The sheet in the printer.")] = Paper.A4,
    units: UnitsOption = Units.METRIC,
    bar: Annotated[
        str, typer.Option("--bar", help='What the printed 100 mm bar measures, when not 100 mm: "97 mm".')
    ] = "",
) -> None:
    """Papers to work from, at true size.

    Outlines, sections, bores, ballast table, weights to note, cautions. Measure the bar before you cut.

    Example:  gudgeon sheets examples/lanternmere.toml --out lanternmere.pdf
    """
    from datetime import date

    from gudgeon.answers.papers import papers
    from gudgeon.design.file import save
    from gudgeon.report import sheets as drawn
    from gudgeon.report.rows import Shop
    from gudgeon.units import LENGTH, read

    correction = drawn.correction_for(read(bar, LENGTH)) if bar else 1.0
    design_file, answer = checked_file(file)
    pages = drawn.sheets(papers(answer), stamp=design_file.stamp, shop=Shop(units.value), paper=paper.value,
                         correction=correction, date=date.today())  # fmt: skip
    save(out, pages)
    print(f"{out} is written: print it at 100 %, then measure the bar on the first template before you cut anything.")


def bill(
    file: DesignPath, units: UnitsOption = Units.METRIC, json: JsonOption = False, color: ColourOption = Colour.AUTO
) -> None:
    """Everything that goes into it: weights, and cost.

    Each part with its weight, ballast as it is to go in; costs by the [[price]] tables of the design.

    Example:  gudgeon bill examples/lanternmere.toml
    """
    from gudgeon.answers.bill import bill as billed
    from gudgeon.report.bill_rows import bill_headline, bill_rows, bill_warnings
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import show

    design_file, answer = checked_file(file)
    made, shop = billed(design_file.design, answer.lure), Shop(units.value)
    show(bill_rows(made, shop), bill_headline(made, shop), bill_warnings(made), json, color=color.value)


def checked_file(path: Path) -> "tuple[DesignFile, Check]":
    """A design file and every answer for it."""
    from gudgeon.answers.overall import overall

    with opened(path) as file:
        return file, overall(file.design)
