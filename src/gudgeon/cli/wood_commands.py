"""Commands on the piece of wood, and on the shapes for other programs: wood, export."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli.opening import Colour, ColourOption, DesignPath, JsonOption, Units, UnitsOption, opened

if TYPE_CHECKING:
    from gudgeon.answers.checked import Check
    from gudgeon.design.file import DesignFile


def add_wood_commands(app: typer.Typer) -> None:
    """Give the app the commands on the piece of wood and the export."""
    app.command("wood", help=f"{wood.__doc__}")(wood)
    app.command("export", help=f"{export.__doc__}")(export)


def wood(
    file: DesignPath,
    units: UnitsOption = Units.METRIC,
    json: JsonOption = False,
    color: ColourOption = Colour.AUTO,
) -> None:
    """Whether your board holds the lure, how it lies best, and what is cut first.

    Stock needed, flats and flaws with their places, how many lures it gives; the lip's and fin's slots, areas and
    weights, and the tow eye's place. The board stands under [board].

    Example:  gudgeon wood examples/diver.toml
    """
    from gudgeon.answers.lip_and_fin import lip_and_fin
    from gudgeon.answers.papers import papers
    from gudgeon.answers.piece_of_wood import piece_of_wood
    from gudgeon.report.rows import Shop
    from gudgeon.report.wood_text import show_wood, wood_json

    design_file, answer = checked_file(file)
    design, lure, shop = design_file.design, answer.lure, Shop(units.value)
    last = papers(answer).waiting
    board = piece_of_wood(design, lure, last.name if last else "") if design.board else None
    plates = lip_and_fin(design, lure)
    if json:
        print(wood_json(board, plates, shop, name=design.name, stamp=design_file.stamp))
    else:
        show_wood(board, plates, shop, color.value)


def export(
    file: DesignPath,
    out: Annotated[Path, typer.Option("--out", help="The file to write: .stl .3mf .dxf .svg or .step.")],
    finished: Annotated[bool, typer.Option("--finished", help="Solids with the coats on, not bare wood.")] = False,
    piece: Annotated[str, typer.Option("--piece", help="One piece by its name; all of them when left out.")] = "",
    units: UnitsOption = Units.METRIC,
) -> None:
    """The lure's shape for other programs, in millimetres.

    STL and 3MF: a closed solid for each piece, with its bores. DXF and SVG: side, top and sections at true size, kinds
    of line in layers. STEP: smooth surfaces and round bores.

    Example:  gudgeon export examples/lanternmere.toml --out lanternmere.3mf
    """
    from gudgeon.design.file import may_write, save
    from gudgeon.report.exchange import exported, kind_of
    from gudgeon.report.rows import Shop

    kind = kind_of(out)
    may_write(out, (out.suffix.lower(),))
    design_file, answer = checked_file(file)
    made = exported(answer, kind, stamp=design_file.stamp, finished=finished, piece=piece,
                    shop=Shop(units.value))  # fmt: skip
    save(out, made.content)
    print(f"{out} is written: {made.words}.")


def checked_file(path: Path) -> "tuple[DesignFile, Check]":
    """A design file and every answer for it."""
    from gudgeon.answers.check import check

    with opened(path) as file:
        return file, check(file.design)
