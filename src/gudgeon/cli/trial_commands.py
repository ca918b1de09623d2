"""Commands for what was seen at the water: a tilt, a timed drop, the class words, how a walker sits."""

from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli import bench_options as say
from gudgeon.cli.bench_options import (
    ahead_of_balance,
    bench_water,
    known_wood,
    plan_area,
    shop_of,
    show_laid,
    velocity_now,
)
from gudgeon.cli.option_reading import STAND_IN, OptionReader, split_list
from gudgeon.units import ANGLE, LENGTH, MASS, OFFSET, RATE, TIME

if TYPE_CHECKING:
    from gudgeon.answers.sitting import Placed
    from gudgeon.answers.trimming import Spot


def add_trial_commands(app: typer.Typer) -> None:
    """Put the commands for what was seen at the water on an app."""
    app.command("trim")(trim_command)
    app.command("drop")(drop_command)
    app.command("classes")(classes_command)
    app.command("sits")(sits_command)


def trim_command(
    displaced: say.Whole = None,
    tilt: Annotated[str | None, typer.Option(help="As it hangs: '15 deg nose-down' (± 3 deg).")] = None,
    apart: say.Apart = None,
    hook: Annotated[list[str] | None, typer.Option(help="A hanger: 'front, 38 mm ahead' of the balance point.")] = None,
    hole: Annotated[list[str] | None, typer.Option(help="A lead hole: '45 mm ahead[, 3 g]'.")] = None,
    stick: Annotated[list[str] | None, typer.Option(help="A place outside: '60 mm aft[, 2 g]'.")] = None,
    sinks: say.NowSinks = None, rises: say.NowRises = None, hangs: say.NowHangs = False, plan_area_: say.Area = None,
    plan: say.Plan = None, drag: say.Drag = None,
    density: Annotated[str, typer.Option(help="Density of the wood.")] = "0.45 g/cm3", water: say.Water = "20 C",
    salinity: say.Salinity = "0 ppt", units: say.Units = "metric", as_json: say.AsJson = False,
    color: say.Color = "auto",
) -> None:  # fmt: skip
    """Nose-down or nose-up under water: ways to level it.

    \b
    Example:
      gudgeon trim --displaced "118 g" --tilt "15 deg nose-down" \\
        --apart "4 mm" --hook "front, 38 mm ahead" \\
        --hook "rear, 62 mm aft" --hole "45 mm ahead" \\
        --stick "60 mm aft, 2 g" --sinks "3.2 s/ft" --plan-area "32 cm2"
    """
    from gudgeon.answers.sums import as_it_sinks
    from gudgeon.answers.trimming import Hanging, trims
    from gudgeon.report.change_rows import trim_laid

    reader = OptionReader()
    area = plan_area(reader, plan_area_, plan, drag)
    velocity = velocity_now(reader, sinks, rises, hangs, area)
    if velocity is None:
        reader.fault("--sinks, --rises or --hangs", 'say what it does now: --sinks "3.2 s/ft"')
    wet = bench_water(reader, water, salinity)
    timber = known_wood(reader, density, None)
    heavy, angle = reader.needed("--displaced", displaced, MASS, "118 g"), reader.needed(
        "--tilt", tilt, ANGLE, "15 deg nose-down")  # fmt: skip
    centres = reader.needed("--apart", apart, LENGTH, "4 mm")
    hooks = [_spot(reader, "--hook", text, named=True) for text in hook or []]
    holes = [_spot(reader, "--hole", text) for text in hole or []]
    sticks = [_spot(reader, "--stick", text) for text in stick or []]
    shop = shop_of(reader, units, color)
    reader.done("trim")
    now = Hanging(heavy, angle, centres, as_it_sinks(velocity or 0.0, area, wet.density), timber.value, wet, area)
    show_laid(trim_laid(trims(now, hooks=hooks, holes=holes, sticks=sticks), shop), as_json, color)


def drop_command(
    distance: Annotated[str | None, typer.Option(help="How far it fell: '4 ft'.")] = None,
    time: Annotated[list[str] | None, typer.Option(
        help="How long: '12.4, 12.1, 12.6 s' (± 7 % for one or two).")] = None,
    rose: Annotated[bool, typer.Option("--rose", help="It was let up, not dropped.")] = False,
    plan_area_: say.Area = None, plan: say.Plan = None, drag: say.Drag = None,
    heavy: Annotated[str | None, typer.Option(help="Weight in water, hung in it from a scale (± 0.1 g).")] = None,
    wanted: Annotated[str | None, typer.Option(help="The rate wanted: '4 s/ft', same way.")] = None,
    density: Annotated[str, typer.Option(help="Density of the wood a bore takes.")] = "0.45 g/cm3 ± 0.2 g/cm3",
    water: say.Water = "20 C", salinity: say.Salinity = "0 ppt", units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A timed drop: rate, class, and lead for another rate.

    \b
    Example:
      gudgeon drop --distance "4 ft" --time "12.4, 12.1, 12.6 s" \\
        --plan-area "30 cm2" --wanted "4 s/ft"
    """
    from gudgeon.answers.dropping import timed_drop
    from gudgeon.report.change_rows import drop_laid

    reader = OptionReader()
    far = reader.needed("--distance", distance, LENGTH, "4 ft")
    times = [reader.needed("--time", text, TIME, "12.4 s") for text in split_list(time or [])]
    if not times:
        reader.fault("--time", 'is needed: --time "12.4, 12.1, 12.6 s"')
    area = plan_area(reader, plan_area_, plan, drag)
    excess, rate = reader.reading("--heavy", heavy, MASS), reader.value("--wanted", wanted, RATE)
    if excess is not None and excess.value == 0.0:
        reader.fault("--heavy", "what hangs does not fall; leave it out")
    if rate is not None and area is None and excess is None:
        reader.fault("--wanted", "needs --plan-area or --heavy as well")
    wet, timber, shop = bench_water(reader, water, salinity), known_wood(reader, density, None), shop_of(
        reader, units, color)  # fmt: skip
    reader.done("drop")
    aim = None if rate is None else (-rate if rose else rate)
    answer = timed_drop(far.value, times, wet, rises=rose, plan=area, excess=excess, aim=aim, wood=timber)
    show_laid(drop_laid(answer, shop), as_json, color)


def classes_command(
    plan_area_: say.Area = None, plan: say.Plan = None, drag: say.Drag = None, water: say.Water = "20 C",
    salinity: say.Salinity = "0 ppt", units: say.Units = "metric", as_json: say.AsJson = False,
    color: say.Color = "auto",
) -> None:  # fmt: skip
    """The float and sink words, with their limits.

    \b
    Example:
      gudgeon classes --plan-area "30 cm2"
    """
    from gudgeon.answers.dropping import class_limits
    from gudgeon.report.change_rows import classes_laid

    reader = OptionReader()
    area = plan_area(reader, plan_area_, plan, drag)
    wet, shop = bench_water(reader, water, salinity), shop_of(reader, units, color)
    reader.done("classes")
    show_laid(classes_laid(class_limits(area, wet), shop), as_json, color)


def sits_command(
    length: Annotated[str | None, typer.Option(help="Of the body: '115 mm'.")] = None,
    thickness: Annotated[str | None, typer.Option(help="Where it is thickest: '19 mm'.")] = None,
    blank: say.Blank = None,
    part: Annotated[list[str] | None, typer.Option(
        help="'name, weight, from the nose, above (+) or below (-)'.")] = None,
    lead: Annotated[str | None, typer.Option(help="Lead inside: '4.9 g'.")] = None,
    low: Annotated[str | None, typer.Option(
        help="Middle of the lead above (+) or below (-) the axis: '-4 mm'.")] = None,
    tail_down: Annotated[str | None, typer.Option(help="Tilt wanted at rest: '25 deg'.")] = None,
    water: say.Water = "20 C", salinity: say.Salinity = "0 ppt", units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Where the lead goes for a cigar to sit tail-down.

    \b
    Example:
      gudgeon sits --length "115 mm" --thickness "19 mm" --blank "7.5 g" \\
        --part "front hook, 1.2 g, 30 mm, -9 mm" \\
        --part "rear hook, 1.2 g, 112 mm, -2 mm" --lead "4.9 g" \\
        --low "-4 mm" --tail-down "25 deg"
    """
    from gudgeon.answers.sitting import Cigar, sits
    from gudgeon.report.change_rows import sits_laid

    reader = OptionReader()
    body = Cigar(reader.needed("--length", length, LENGTH, "115 mm").value,
                 reader.needed("--thickness", thickness, LENGTH, "19 mm").value,
                 reader.needed("--blank", blank, MASS, "7.5 g"))  # fmt: skip
    fitted = _placed(reader, part or [])
    weight = reader.needed("--lead", lead, MASS, "4.9 g")
    height = reader.needed("--low", low, OFFSET, "-4 mm").value
    angle = reader.needed("--tail-down", tail_down, ANGLE, "25 deg").value
    if not reader.faults and not 0.0 < angle < 1.4:
        reader.fault("--tail-down", "between 0 and 80 deg")
    if weight.value <= 0.0 or body.blank.value <= 0.0:
        reader.fault("--lead, --blank", "each weighs more than 0 g")
    wet, shop = bench_water(reader, water, salinity), shop_of(reader, units, color)
    reader.done("sits")
    show_laid(sits_laid(sits(body, fitted, weight, height, angle, wet), shop), as_json, color)


def _placed(reader: OptionReader, texts: list[str]) -> list["Placed"]:
    from gudgeon.answers.sitting import Placed

    found = []
    for text in texts:
        fields = reader.fields("--part", text, 4, 4, "front hook, 1.2 g, 30 mm, -9 mm")
        if fields:
            found.append(Placed(fields[0], reader.needed("--part", fields[1], MASS, "1.2 g"),
                                reader.needed("--part", fields[2], LENGTH, "30 mm").value,
                                reader.needed("--part", fields[3], OFFSET, "-9 mm").value))  # fmt: skip
    names = [part.name for part in found]
    if len(set(names)) < len(names) or {"blank", "lead", "height of the lead"} & set(names):
        reader.fault("--part", "give every part its own name")
    return found


def _spot(reader: OptionReader, place: str, text: str, named: bool = False) -> "Spot":
    from gudgeon.answers.trimming import Spot

    fields = reader.fields(place, text, 2 if named else 1, 2, "front, 38 mm ahead" if named else "45 mm ahead, 3 g")
    if not fields:
        return Spot(text, STAND_IN)
    where = fields[1] if named else fields[0]
    mass = reader.value(place, fields[1], MASS) if not named and len(fields) == 2 else None
    return Spot(fields[0], ahead_of_balance(reader, place, where), mass)
