"""The shop's log: begun, and what lures are made of. The other commands on it are put under the same name here."""

from pathlib import Path
from typing import Annotated

import typer

from gudgeon.cli import log_options as say
from gudgeon.cli.bench_options import shop_of
from gudgeon.cli.log_answer_commands import answer_command
from gudgeon.cli.log_asking_commands import add_asking_commands
from gudgeon.cli.log_card_commands import card_command
from gudgeon.cli.log_correct_commands import add_correct_command
from gudgeon.cli.log_entry_commands import add_entry_commands
from gudgeon.cli.log_file_commands import add_file_commands
from gudgeon.cli.log_learning_commands import add_learning_commands
from gudgeon.cli.log_options import HERE, sure_of, tell, tell_entry, weight_of
from gudgeon.cli.mend_commands import log_mend_command
from gudgeon.cli.opening import DesignPath
from gudgeon.cli.option_reading import OptionReader
from gudgeon.units import DENSITY, LENGTH, MASS, PART

_HELP = """Every lure's record from board to water, in one file.

Begin a shop folder; add boards, patterns and lures; weigh, dunk, drop and tow. Nothing is ever erased: a correction is
a new entry. The folder is --shop, or what GUDGEON_SHOP says, or 'shop' where you stand.

\b
Example:
  gudgeon log start shop
"""
_ADD = """Put a board, stock, a pattern or lures into the log.

\b
Example:
  gudgeon log add pattern examples/glider.toml
"""
PatternName = Annotated[str, typer.Argument(metavar="PATTERN", help="The pattern's name.")]


def add_log_commands(app: typer.Typer) -> None:
    """Put the log and its commands on an app."""
    log = typer.Typer(help=_HELP, no_args_is_help=True, rich_markup_mode=None)
    log.command("start")(start_command)
    add = typer.Typer(help=_ADD, no_args_is_help=True, rich_markup_mode=None)
    for name, command in (("board", add_board_command), ("stock", add_stock_command),
                          ("pattern", add_pattern_command), ("lure", add_lure_command)):  # fmt: skip
        add.command(name)(command)
    log.add_typer(add, name="add")
    add_entry_commands(log)
    add_correct_command(log)
    add_asking_commands(log)
    add_learning_commands(log)
    log.command("mend")(log_mend_command)
    log.command("card")(card_command)
    log.command("answer")(answer_command)
    add_file_commands(log)
    app.add_typer(log, name="log")


def start_command(
    folder: Annotated[Path, typer.Argument(envvar="GUDGEON_SHOP", help="The shop's folder.")] = HERE,
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Begin a shop folder; a log that is there already stays as it is.

    \b
    Example:
      gudgeon log start shop
    """
    from gudgeon.shop.log import Log

    with Log.start(folder) as log:
        count = log.lure_count()
    there = f" {count} lure{'' if count == 1 else 's'} in it." if count else " Nothing is in it yet."
    tell(f"The log of {folder} is ready.{there}", as_json, color)


def add_board_command(
    name: Annotated[str, typer.Argument(metavar="NAME", help="What you write on it.")],
    wood: Annotated[str, typer.Option(help="Its wood.")],
    density: Annotated[str | None, typer.Option(help="As measured: '0.38 g/cm3' (± 2 %).")] = None,
    offcut: Annotated[str | None, typer.Option(help="Or the weight of a square-cut offcut: '85.2 g'.")] = None,
    offcut_size: Annotated[str | None, typer.Option(help="With its sides: '120 x 60 x 25 mm'.")] = None,
    moisture: Annotated[str | None, typer.Option(help="'9 %' of dry weight.")] = None,
    size: Annotated[str | None, typer.Option(help="The board, grain first: '900 x 140 x 25 mm'.")] = None,
    mass: Annotated[str | None, typer.Option(help="Weight of the whole board.")] = None,
    at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE, units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A board that blanks come out of.

    \b
    Example:
      gudgeon log add board B7 --wood poplar --offcut "85.2 g" \\
        --offcut-size "120 x 60 x 30 mm" --moisture "9 %"
    """
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Board

    reader = OptionReader()
    dense = reader.reading("--density", density, DENSITY)
    cut = reader.reading("--offcut", offcut, MASS)
    sides = reader.sizes("--offcut-size", offcut_size, LENGTH, 3)
    if (cut is None) != (sides is None) or (cut is not None and density is not None):
        reader.fault("--offcut, --offcut-size, --density", "give the offcut's weight and sides, or the density")
    damp, heavy = reader.reading("--moisture", moisture, PART), reader.reading("--mass", mass, MASS)
    whole = reader.sizes("--size", size, LENGTH, 3) or (None, None, None)
    shop_of(reader, units, color)
    reader.done("log add board")
    if cut is not None and sides is not None:
        from gudgeon.answers.boarding import board
        from gudgeon.units import Reading

        found = board(cut, (sides[0], sides[1], sides[2])).density
        dense = Reading(found.value, found.spread)
    with Log.open(shop) as log:
        made = Board(name, wood, dense, damp, whole[0], whole[1], whole[2], heavy)
        number = log.add_board(made, done=at, remark=remark)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color)


def add_stock_command(
    name: Annotated[str, typer.Argument(metavar="NAME", help="What it is called.")],
    what: Annotated[str, typer.Option(help="shot, hook, resin, wire, fitting or other.")],
    each: Annotated[str | None, typer.Option(help="Weight of one, hooks with their ring: '4.3 g'.")] = None,
    count: Annotated[int | None, typer.Option(help="How many.")] = None,
    material: Annotated[str, typer.Option(help="What it is made of.")] = "",
    amount: Annotated[str | None, typer.Option(help="How much, of what is not counted: '500 g'.")] = None,
    density: Annotated[str | None, typer.Option(help="Of cured resin: '1.12 g/cm3'.")] = None,
    lot: Annotated[str, typer.Option(help="As it stands on the tin.")] = "",
    sure: say.Sure = False, at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE,
    units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """What lies in a drawer: shot, hooks as weighed, a lot of resin; a hook that is far too heavy is questioned.

    \b
    Example:
      gudgeon log add stock "2/0 treble" --what hook --each "5.7 g" --count 40
    """
    from gudgeon.answers.odd_makings import odd_stock
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import told_of
    from gudgeon.shop.entry_checks import checked
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Stock

    reader = OptionReader()
    one = None if each is None else weight_of(reader, "--each", each)
    bulk = reader.reading("--amount", amount, MASS)
    stock = Stock(name, what, material, one, count, bulk, reader.reading("--density", density, DENSITY), lot)
    shop_of(reader, units, color)
    reader.done("log add stock")
    checked(stock, remark)
    odd = told_of(tuple(odd_stock(stock)), Shop(units))
    sure_of("the stock", odd, sure=sure)
    with Log.open(shop) as log:
        number = log.add_stock(stock, done=at, remark=remark)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color, warnings=odd)


def add_pattern_command(
    file: DesignPath,
    name: Annotated[str, typer.Option(help="What the pattern is called; the design's own name when left out.")] = "",
    at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE, as_json: say.AsJson = False,
    color: say.Color = "auto",
) -> None:  # fmt: skip
    """A design file's exact text, as the next version of its pattern.

    \b
    Example:
      gudgeon log add pattern examples/glider.toml
    """
    from gudgeon.design.file import open_design
    from gudgeon.shop.log import Log

    design_file = open_design(file)
    with Log.open(shop) as log:
        pattern = log.add_pattern(design_file.text, name=name, done=at, remark=remark)
    tell(f"{pattern.name}, version {pattern.version}, design {pattern.stamp}, is in the log.", as_json, color)


def add_lure_command(
    pattern: PatternName,
    version: Annotated[int | None, typer.Option(help="Its version; the newest.")] = None,
    count: Annotated[int, typer.Option(help="How many, numbered one after the other.")] = 1,
    board: Annotated[str | None, typer.Option(help="The board they come out of.")] = None,
    run: Annotated[int | None, typer.Option(help="Join this run; a new one when left out.")] = None,
    number: Annotated[int | None, typer.Option(help="Of the first; the next free one.")] = None,
    at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE, units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Begin a lure of a pattern, or a run of them.

    \b
    Example:
      gudgeon log add lure "Reed Gate glider" --count 12
    """
    from gudgeon.answers.odd_makings import unlike_wood
    from gudgeon.report.text import show, told_of
    from gudgeon.shop.log import Log

    reader = OptionReader()
    wanted = shop_of(reader, units, color)
    reader.done("log add lure")
    with Log.open(shop) as log:
        lures = log.add_lures(pattern, count, version=version, board=board, run=run, number=number, done=at,
                              remark=remark)  # fmt: skip
        made = log.lure(lures[0].number)
        odd = [] if made.board is None else [*unlike_wood(log.design_of(lures[0].number), made.board)]
    first, last = lures[0].number, lures[-1].number
    which = f"Lure {first} is begun" if first == last else f"Lures {first} to {last} are begun"
    show([], f"{which}: {made.pattern.name}, run {lures[0].run}.", told_of(odd, wanted), as_json, color=color)
