"""Commands on a drawn lure: new, check, sheets. Heavy imports stay inside, so that --help answers at once."""

from pathlib import Path
from typing import Annotated

import typer

from gudgeon.cli.log_options import HERE, ShopFolder
from gudgeon.cli.opening import Colour, ColourOption, DesignPath, Units, UnitsOption
from gudgeon.cli.paper_commands import bill, checked_file, sheets


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
    lure: Annotated[int | None, typer.Option(help="As this lure of the shop's log was measured.")] = None,
    shop_values: Annotated[
        bool, typer.Option("--shop-values", help="Your shop's habits, by its log, in place of the book's values.")
    ] = False,
    keep: Annotated[bool, typer.Option("--keep", help="With --lure: the log keeps what is told.")] = False,
    shop: ShopFolder = HERE,
) -> None:
    """All answers for a drawn lure, what is wrong first.

    Weights, float or sink and how fast, attitude, upright, ballast and bores, each piece alone, the tub test.

    Example:  gudgeon check examples/lanternmere.toml
    """
    if keep and (lure is None or shop_values):
        from gudgeon.errors import Fault, Refusal

        words = "keeps what is told of a lure by the book's values: with --lure, and without --shop-values"
        raise Refusal("gudgeon check cannot do this", [Fault("--keep", words)])
    if shop_values:
        from gudgeon.cli.log_learning_commands import show_shop_check

        show_shop_check(file, lure, shop, units=units.value, as_json=json, color=color.value)
        return
    if lure is not None:
        from gudgeon.cli.log_asking_commands import show_lure_check

        show_lure_check(file, lure, shop, units=units.value, as_json=json, color=color.value, keep=keep)
        return
    from gudgeon.report.check_text import check_json, show_check
    from gudgeon.report.rows import Shop

    design_file, answer = checked_file(file)
    if json:
        print(check_json(answer, Shop(units.value), design_file.stamp))
    else:
        show_check(answer, Shop(units.value), design_file.stamp, color.value)
