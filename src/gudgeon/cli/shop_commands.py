"""Commands for the work at the bench: a bore, a board, coats, a resin mix."""

from functools import partial
from typing import Annotated

import typer

from gudgeon.cli import bench_options as say
from gudgeon.cli.bench_options import bench_water, shop_of, show_laid, stuff_of
from gudgeon.cli.option_reading import OptionReader
from gudgeon.units import AREA, DENSITY, LENGTH, MASS, PART, VOLUME


def add_shop_commands(app: typer.Typer) -> None:
    """Put the bench commands on an app."""
    app.command("bore")(bore_command)
    app.command("board")(board_command)
    app.command("coats")(coats_command)
    app.command("mix")(mix_command)


def bore_command(
    lead: Annotated[str | None, typer.Option(help="Ballast in all: '12.0 g' (± 0.1 g).")] = None,
    ball: Annotated[str | None, typer.Option(help="Or a round shot by its width: '5 mm'.")] = None,
    bit: Annotated[list[str] | None, typer.Option(
        help="'3/8 in', '10 mm', '#7'. Repeat it; or the usual ones.")] = None,
    holes: Annotated[int, typer.Option(help="Holes it is parted into.")] = 1,
    filled: Annotated[str, typer.Option(help="Share of the bore that is metal: '60 %' for loose shot.")] = "100 %",
    material: say.Material = "lead", units: say.Units = "metric", as_json: say.AsJson = False,
    color: say.Color = "auto",
) -> None:  # fmt: skip
    """How deep to drill for a ballast, bit by bit.

    \b
    Example:
      gudgeon bore --lead "12.0 g" --bit "3/8 in" --bit "1/2 in"
    """
    from gudgeon.answers.boring import BALLAST_BITS_INCH, BALLAST_BITS_METRIC, ball_bores, bores, check_bit
    from gudgeon.report.shop_rows import ball_laid, bore_laid

    reader = OptionReader()
    known = reader.one_of(lead=lead, ball=ball)
    metal = stuff_of(reader, "--material", material)
    mass, width = reader.reading("--lead", lead, MASS), reader.reading("--ball", ball, LENGTH)
    if known == "ball" and (holes > 1 or filled != "100 %"):
        reader.fault("--ball", "a ball goes into one hole, as it is: leave --holes and --filled out")
    if holes < 1:
        reader.fault("--holes", f"{holes}: one hole at least")
    for name in bit or []:
        reader.look("--bit", partial(check_bit, name))
    share = reader.value("--filled", filled, PART)
    shop = shop_of(reader, units, color)
    reader.done("bore")
    usual = BALLAST_BITS_METRIC if shop == "metric" else BALLAST_BITS_INCH
    if width is not None:
        show_laid(ball_laid(ball_bores(width, metal, bit, usual), shop), as_json, color)
    elif mass is not None:
        answer = bores(mass, metal, tuple(bit) if bit else usual, holes=holes, filled=share or 0.0)
        show_laid(bore_laid(answer, shop), as_json, color)


def board_command(
    offcut: Annotated[str | None, typer.Option(help="Weight of a square-cut offcut: '85.2 g' (± 0.1 g).")] = None,
    size: Annotated[str | None, typer.Option(help="Its sides: '120 x 60 x 25 mm' (± 0.25 mm each).")] = None,
    volume: Annotated[str | None, typer.Option(
        help="Of a shaped blank, to tell its weight: '110 cm3' (± 4 %).")] = None,
    board: Annotated[str | None, typer.Option(help="The board, grain first: '900 x 140 x 25 mm'.")] = None,
    blank: Annotated[str | None, typer.Option(help="A square blank, grain first: '190 x 55 x 25 mm'.")] = None,
    kerf: Annotated[str, typer.Option(help="Width of the saw cut.")] = "3 mm",
    units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A board's density by an offcut, and its blanks.

    \b
    Example:
      gudgeon board --offcut "85.2 g" --size "120 x 60 x 25 mm" \\
        --volume "110 cm3" --board "900 x 140 x 25 mm" \\
        --blank "190 x 55 x 25 mm"
    """
    from gudgeon.answers.boarding import Cutting
    from gudgeon.answers.boarding import board as board_answer
    from gudgeon.report.shop_rows import board_laid

    reader = OptionReader()
    weight = reader.needed("--offcut", offcut, MASS, "85.2 g")
    if size is None:
        reader.fault("--size", 'is needed: --size "120 x 60 x 25 mm"')
    sides = reader.sizes("--size", size, LENGTH, 3) or (1.0, 1.0, 1.0)
    room = reader.reading("--volume", volume, VOLUME)
    whole, piece = reader.sizes("--board", board, LENGTH, 3), reader.sizes("--blank", blank, LENGTH, 3)
    if (whole is None) != (piece is None):
        reader.fault("--board, --blank", "give both sizes, or neither")
    cut = reader.value("--kerf", kerf, LENGTH) or 0.0
    shop = shop_of(reader, units, color)
    reader.done("board")
    cutting = Cutting((whole[0], whole[1], whole[2]), (piece[0], piece[1], piece[2]), cut) if whole and piece else None
    answer = board_answer(weight, (sides[0], sides[1], sides[2]), volume=room, cutting=cutting)
    show_laid(board_laid(answer, shop), as_json, color)


def coats_command(
    area: Annotated[str | None, typer.Option(help="Of the whole body: '190 cm2' (± 10 %).")] = None,
    coat: Annotated[list[str] | None, typer.Option(
        help="'material, thickness or weight': 'primer, 30 um' (± 30 %), 'epoxy, 4.5 g'. Repeat it.")] = None,
    sealed: say.Sealed = None,
    blank: Annotated[str | None, typer.Option(help="Blank weight, to tell the share.")] = None,
    water: say.Water = "20 C", salinity: say.Salinity = "0 ppt", units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """What coats and sealer weigh, dry and in water.

    \b
    Example:
      gudgeon coats --area "200 cm2" --coat "primer, 30 um" \\
        --coat "paint, 40 um" --coat "epoxy, 0.4 mm" --sealed "3 g"
    """
    from gudgeon.answers.coats import CoatAsked, coat_weights
    from gudgeon.report.shop_rows import coats_laid

    reader = OptionReader()
    face = reader.reading("--area", area, AREA)
    asked: list[CoatAsked] = []
    for text in coat or []:
        fields = reader.fields("--coat", text, 2, 2, "epoxy, 0.2 mm")
        if not fields:
            continue
        stuff = stuff_of(reader, "--coat", fields[0])
        same = sum(one.name.split(" again")[0] == fields[0] for one in asked)
        name = fields[0] + " again" * same
        if fields[1].split("±")[0].rstrip().endswith("g"):
            asked.append(CoatAsked(name, stuff, weight=reader.needed("--coat", fields[1], MASS, "4.5 g")))
        else:
            asked.append(CoatAsked(name, stuff, thickness=reader.needed("--coat", fields[1], LENGTH, "0.2 mm")))
    soaked, wooden = reader.reading("--sealed", sealed, MASS), reader.reading("--blank", blank, MASS)
    if wooden is not None and wooden.value <= 0.0:
        reader.fault("--blank", "a blank weighs more than 0 g")
    wet, shop = bench_water(reader, water, salinity), shop_of(reader, units, color)
    reader.done("coats")
    show_laid(coats_laid(coat_weights(face, asked, wet, sealer=soaked, blank=wooden), shop), as_json, color)


def mix_command(
    density: Annotated[str | None, typer.Option(help="Wanted: '0.62 g/cm3'.")] = None,
    resin: Annotated[str, typer.Option(help="Cured resin (± 2 %).")] = "1.05 g/cm3",
    bubbles: Annotated[str, typer.Option(help="One bubble, not a scoop of them (± 15 %).")] = "0.15 g/cm3",
    volume: Annotated[str | None, typer.Option(help="Of the mould: '108 cm3'.")] = None,
    waste: Annotated[str, typer.Option(help="To mix beyond that.")] = "10 %",
    units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Resin and microspheres for a density.

    \b
    Example:
      gudgeon mix --density "0.62 g/cm3" --resin "1.05 g/cm3" \\
        --bubbles "0.15 g/cm3" --volume "108 cm3" --waste "10 %"
    """
    from gudgeon.answers.mixing import resin_mix
    from gudgeon.report.shop_rows import mix_laid

    reader = OptionReader()
    wanted = reader.needed("--density", density, DENSITY, "0.62 g/cm3")
    heavy = reader.needed("--resin", resin, DENSITY, "1.05 g/cm3")
    light = reader.needed("--bubbles", bubbles, DENSITY, "0.15 g/cm3")
    room, more = reader.value("--volume", volume, VOLUME), reader.value("--waste", waste, PART)
    shop = shop_of(reader, units, color)
    reader.done("mix")
    show_laid(mix_laid(resin_mix(heavy, light, wanted.value, volume=room, waste=more or 0.0), shop), as_json, color)
