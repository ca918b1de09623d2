"""What the commands on the shop's log share: its folder, when and why, and how an entry is told of."""

import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli.bench_options import AsJson as AsJson
from gudgeon.cli.bench_options import Color as Color
from gudgeon.cli.bench_options import Units as Units
from gudgeon.cli.bench_options import shop_of
from gudgeon.cli.option_reading import STAND_IN, OptionReader
from gudgeon.shop.records import STAGES
from gudgeon.units import SALINITY, TEMPERATURE, Reading

if TYPE_CHECKING:
    from gudgeon.report.text import Told
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import OfLure

ShopFolder = Annotated[Path, typer.Option("--shop", envvar="GUDGEON_SHOP", metavar="FOLDER", help="The shop's folder.")]


def counted(text: str) -> int:
    """A lure's or an entry's number; raises BadParameter."""
    if not re.fullmatch(r"[0-9]{1,15}", text.strip()):
        raise typer.BadParameter(f"'{text[:40]}' is no number of the log; it is in figures, as in gudgeon log list")
    return int(text)


LureNumber = Annotated[int, typer.Argument(metavar="LURE", help="The lure's number.", parser=counted)]
EntryNumber = Annotated[int, typer.Argument(metavar="ENTRY", help="The entry's number.", parser=counted)]
At = Annotated[str | None, typer.Option("--at", help="When it was: '2026-05-03' or '2026-05-03T14:30'; now.")]
Remark = Annotated[str, typer.Option(help="A few words to go with it.")]
StageOption = Annotated[str, typer.Option("--stage", metavar="STAGE", help=f"{', '.join(STAGES)}.")]
Piece = Annotated[str, typer.Option("--of", help="A piece by its name.")]
Fitted = Annotated[
    str | None,
    typer.Option(help="What was on: 'tow eye, front hook'; all once rigged or dry fit, none before."),
]
WaterSeen = Annotated[str | None, typer.Option("--water", help="Temperature of that water: '18 C'.")]
SaltSeen = Annotated[str | None, typer.Option("--salinity", help="Its salt: '35 ppt'.")]
Sure = Annotated[bool, typer.Option("--sure", help="Enter it as it stands, questioned or not.")]
HERE = Path("shop")


def names_of(text: str | None) -> tuple[str, ...] | None:
    """What was fitted, by its names; None where it was not told."""
    return None if text is None else tuple(part.strip() for part in text.split(",") if part.strip())


def weight_of(reader: OptionReader, place: str, text: str) -> Reading:
    """A weight as its scale showed it: in ounces no surer than its figures are."""
    from gudgeon.shop.columns import weight_as_read

    return reader.look(place, lambda: weight_as_read(text)) or Reading(STAND_IN)


def stage_of(reader: OptionReader, stage: str) -> str:
    """A stage of the work."""
    if stage not in STAGES:
        reader.fault("--stage", f"'{stage}' is no stage; say one of {', '.join(STAGES)}")
    return stage


def water_seen(reader: OptionReader, warmth: str | None, salt: str | None) -> tuple[Reading | None, Reading | None]:
    """Temperature and salinity, where they were noted."""
    return reader.reading("--water", warmth, TEMPERATURE), reader.reading("--salinity", salt, SALINITY)


def tell_entry(log: "Log", number: int, *, reader: OptionReader, units: str, as_json: bool, color: str,
               warnings: "Sequence[Told]" = ()) -> None:  # fmt: skip
    """Say what was entered."""
    from gudgeon.answers.log_views import entry_lines
    from gudgeon.report.log_rows import entered_words
    from gudgeon.report.rows import Measure, row
    from gudgeon.report.text import show

    shop = shop_of(reader, units, color)
    line = entry_lines([log.entry(number)])[0]
    rows = [row("entry", "entry", float(number), Measure.COUNT, shop)] if as_json else []
    show(rows, entered_words(line, shop), warnings, as_json, color=color)


def tell(words: str, as_json: bool, color: str) -> None:
    """Say one sentence."""
    from gudgeon.report.text import show

    show([], words, [], as_json, color=color)


def questioned(log: "Log", lure: int, seen: "OfLure", *, sure: bool, units: str,
               instead_of: int | None = None) -> "Sequence[Told]":  # fmt: skip
    """What is odd about what is to be entered, as it is told; nothing when it is as expected.

    instead_of : the chain of corrections that it belongs to, which does not count against it
    raises     : BadShop when it is odd and its maker did not say to be sure
    """
    from gudgeon.answers.finding import worst_first
    from gudgeon.answers.odd_entries import oddities
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import told_of

    odd = told_of(worst_first(oddities(log, lure, seen, instead_of)), Shop(units))
    sure_of(f"lure {lure}", odd, sure=sure)
    return odd


def sure_of(place: str, odd: "Sequence[Told]", *, sure: bool) -> None:
    """Nothing, where nothing is odd or its maker says to be sure; raises BadShop."""
    from gudgeon.errors import BadShop, Fault

    if odd and not sure:
        faults = [Fault(place, one.words) for one in odd]
        raise BadShop("questioned, and not entered", [*faults, Fault("--sure", "enters it as it stands")])
