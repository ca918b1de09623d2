"""What the log teaches: the shop's habits beside the book, a check that counts with them, twins side by side."""

from pathlib import Path
from typing import Annotated

import typer

from gudgeon.cli import log_options as say
from gudgeon.cli.bench_options import shop_of
from gudgeon.cli.log_options import HERE, counted
from gudgeon.cli.opening import opened
from gudgeon.cli.option_reading import OptionReader


def add_learning_commands(app: typer.Typer) -> None:
    """Put them on an app."""
    app.command("habits")(habits_command)
    app.command("twins")(twins_command)


def habits_command(
    tows: Annotated[bool, typer.Option("--tows", help="Hold the tows against the towed model too; slow.")] = False,
    shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Your shop beside the book: wood by board, sealer, coats, lead in its holes, drag of a fall.

    What the log says of each, how sure that is, and on how many records it stands. No answer counts with these values
    until you ask a check for them with --shop-values.

    \b
    Example:
      gudgeon log habits
    """
    from gudgeon.answers.learning import anything, learned
    from gudgeon.report.habit_rows import habit_sections, habits_headline
    from gudgeon.report.text import show_sections, told_of
    from gudgeon.shop.log import Log

    reader = OptionReader()
    wanted = shop_of(reader, units, color)
    reader.done("log habits")
    with Log.look(shop) as log:
        found = anything(learned(log, tows=tows))
    warnings = told_of(found.findings, wanted)
    show_sections(habit_sections(found, wanted), habits_headline(found), warnings, as_json, color=color)


def twins_command(
    lures: Annotated[list[int], typer.Argument(
        metavar="LURES", help="Their numbers, the one that does well first.", parser=counted)],
    shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Why one swims and its twin does not: their records side by side, what tells them apart first.

    \b
    Example:
      gudgeon log twins 1 2
    """
    from gudgeon.answers.twins import twins
    from gudgeon.report.text import show, show_sections, told_of
    from gudgeon.report.twin_rows import twins_laid
    from gudgeon.shop.log import Log

    reader = OptionReader()
    wanted = shop_of(reader, units, color)
    reader.done("log twins")
    with Log.look(shop) as log:
        found = twins(log, lures)
    laid, warnings = twins_laid(found, wanted), told_of(found.findings, wanted)
    if as_json:
        show(laid.rows, laid.headline, warnings, as_json, color=color)
    else:
        show_sections(laid.sections, laid.headline, warnings, as_json, color=color)


def show_shop_check(file: Path, lure: int | None, shop: Path, *, units: str, as_json: bool, color: str) -> None:
    """Check a design, or a lure of the log, with the shop's own values in place of the book's."""
    from gudgeon.answers.learning import learned
    from gudgeon.answers.shop_values import shop_check
    from gudgeon.report.check_text import check_json, show_check
    from gudgeon.report.habit_rows import shop_values_section
    from gudgeon.report.log_rows import weighed_section
    from gudgeon.report.rows import Shop
    from gudgeon.shop.log import Log

    wanted = Shop(units)
    with Log.look(shop) as log:
        record = None if lure is None else log.lure(lure)
        found = learned(log, but=lure)
    with opened(file) as design_file:
        answer = shop_check(design_file.design, design_file.stamp, found, record)
    first = [shop_values_section(answer.used, wanted)]
    if answer.as_weighed is not None:
        first.insert(0, weighed_section(answer.as_weighed, wanted))
    if as_json:
        print(check_json(answer.check, wanted, design_file.stamp, first))
    else:
        show_check(answer.check, wanted, design_file.stamp, color, first)
