"""The record card of a lure, as a PDF."""

from pathlib import Path
from typing import Annotated

import typer

from gudgeon.cli import log_options as say
from gudgeon.cli.bench_options import shop_of
from gudgeon.cli.log_options import HERE, LureNumber, tell
from gudgeon.cli.opening import Paper
from gudgeon.cli.option_reading import OptionReader


def card_command(
    lure: LureNumber,
    out: Annotated[Path, typer.Option("--out", help="The PDF to write.")],
    photo: Annotated[int | None, typer.Option(help="Entry of the picture to print; the latest.")] = None,
    paper: Annotated[Paper, typer.Option("--paper", help="The sheet in the printer.")] = Paper.A4,
    shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """The record card of a lure on paper: drawing, weights, ballast, tests, picture.

    \b
    Example:
      gudgeon log card 1 --out lure-1.pdf
    """
    from datetime import date

    from gudgeon.answers.record_card import record_card
    from gudgeon.design.file import may_write, save
    from gudgeon.report.record_sheets import record_sheets
    from gudgeon.shop.log import Log

    reader = OptionReader()
    wanted = shop_of(reader, units, color)
    reader.look("--out", lambda: may_write(out, (".pdf",)))
    reader.done("log card")
    with Log.look(shop) as log:
        found = record_card(log, lure, photo)
    save(out, record_sheets(found, shop=wanted, paper=paper.value, date=date.today()))
    tell(f"{out} is written: the record card of lure {lure}, design {found.card.stamp}.", as_json, color)
