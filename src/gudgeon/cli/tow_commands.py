"""The command that tows a lure on paper. Heavy imports stay inside, so that --help answers at once."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli.opening import Colour, ColourOption, DesignPath, JsonOption, Paper, Units, UnitsOption, opened
from gudgeon.cli.option_reading import STAND_IN, OptionReader, split_list
from gudgeon.units import LINE, SPEED

if TYPE_CHECKING:
    from gudgeon.answers.tow_runs import Progress
    from gudgeon.answers.tow_test import Stage


def add_tow_commands(app: typer.Typer) -> None:
    """Give the app the command that tows a lure."""
    app.command("swim", help=f"{swim.__doc__}")(swim)
    app.command("fit", help=f"{fit.__doc__}")(fit)


def swim(
    file: DesignPath,
    speeds: Annotated[str, typer.Option("--speeds", help='Tow speeds: "1 kn, 2 kn, 1.5 m/s".')] = "",
    lines: Annotated[str, typer.Option("--lines", help='Line let out: "10 m, 20 m"; 200 m at most.')] = "",
    changes: Annotated[bool, typer.Option(help="Try what would change the swim, and other tow eyes.")] = True,
    out: Annotated[Path | None, typer.Option("--out", help="A PDF with curves and one beat drawn.")] = None,
    recording: Annotated[Path | None, typer.Option("--recording", help="A file with the motion, to be played.")] = None,
    paper: Annotated[Paper, typer.Option("--paper", help="The sheet in the printer.")] = Paper.A4,
    units: UnitsOption = Units.METRIC,
    json: JsonOption = False,
    color: ColourOption = Colour.AUTO,
) -> None:
    """Towed: does it track, swim, lean or tumble; beat, sweep, pull and depth at each speed.

    From eight starts at each speed. Beats, sweeps and limits compare two builds; none is a promise.

    Example:  gudgeon swim examples/lanternmere.toml --no-changes
    """
    from datetime import date

    from gudgeon.answers.running import LINES
    from gudgeon.answers.tow_test import tow_test
    from gudgeon.design.file import may_write, save
    from gudgeon.report.recording import recording as recorded
    from gudgeon.report.rows import Shop
    from gudgeon.report.swim_sheets import swim_sheets
    from gudgeon.report.swim_text import show_tow, tow_json

    reader = OptionReader()
    wanted = [reader.value("--speeds", word, SPEED) or STAND_IN for word in split_list([speeds])] or None
    lengths = [reader.value("--lines", word, LINE) or STAND_IN for word in split_list([lines])] or LINES
    reader.done("swim")
    shop = Shop(units.value)
    if out is not None:
        may_write(out, (".pdf",))
    if recording is not None:
        may_write(recording, (".json",), "--recording")
    with opened(file) as design_file, told_how_far() as stage:
        found = tow_test(design_file.design, speeds=wanted, lines=lengths, changes=changes, stage=stage)
    if out is not None:
        pages = swim_sheets(found, stamp=design_file.stamp, shop=shop, paper=paper.value, date=date.today())
        save(out, pages)
    if recording is not None:
        played = recorded(found.swimming.shown, name=design_file.design.name, stamp=design_file.stamp)
        save(recording, played.encode())
    if json:
        print(tow_json(found, shop, design_file.stamp))
    else:
        show_tow(found, shop, design_file.stamp, color.value)


def fit(
    file: DesignPath, units: UnitsOption = Units.METRIC, json: JsonOption = False, color: ColourOption = Colour.AUTO
) -> None:
    """Constants of the towed model from the design's [[dock]] tests.

    Beats, pulls and the speed of the first list, as lines to put into designs of the same family; nothing is changed.

    Example:  gudgeon fit examples/lanternmere.toml
    """
    from gudgeon.answers.check import check
    from gudgeon.answers.water_fit import water_fit
    from gudgeon.report.fit_text import fit_json, show_fit
    from gudgeon.report.rows import Shop

    with opened(file) as design_file, told_how_far() as stage:
        design = design_file.design
        found = water_fit(design, check(design).lure, stage("towing with other constants"))
    if json:
        print(fit_json(found, Shop(units.value), design_file.stamp))
    else:
        show_fit(found, Shop(units.value), design_file.stamp, color.value)


@contextmanager
def told_how_far() -> "Iterator[Stage]":
    """A bar for each stage on a terminal, on the error stream; silence in a pipe."""
    from rich.console import Console
    from rich.progress import BarColumn, TextColumn, TimeElapsedColumn
    from rich.progress import Progress as Bars

    shown = Bars(TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn(), transient=True,
                 console=Console(file=sys.stderr), disable=not sys.stderr.isatty())  # fmt: skip

    def stage(words: str) -> "Progress":
        task = shown.add_task(words)
        return lambda done, of: shown.update(task, completed=done, total=of)

    with shown:
        yield stage
