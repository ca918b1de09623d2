"""Commands for one change to a finished lure: a test weight moved inside, hooks, water, size."""

from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli import bench_options as say
from gudgeon.cli.bench_options import (
    Written,
    ahead_of_balance,
    bench_lure,
    bench_water,
    hook_weight,
    known_wood,
    plan_area,
    shop_of,
    show_laid,
    stuff_of,
    velocity_now,
)
from gudgeon.cli.option_reading import STAND_IN, OptionReader
from gudgeon.units import LENGTH, MASS, VOLUME, Reading

if TYPE_CHECKING:
    from gudgeon.answers.sums import PlanArea

BoreDensity = Annotated[str | None, typer.Option("--density", help="Density of the wood the bore takes (± 2 %).")]
BoreWood = Annotated[str | None, typer.Option("--wood", help="Or the wood by name, from a table (± 20 %).")]


def add_change_commands(app: typer.Typer) -> None:
    """Put the commands for one change on an app."""
    app.command("taped")(taped_command)
    app.command("hook")(hook_command)
    app.command("salt")(salt_command)
    app.command("scale")(scale_command)


def taped_command(
    weight: Annotated[str | None, typer.Option(help="What was taped on: '12.0 g' (± 0.1 g).")] = None,
    density: BoreDensity = None, wood: BoreWood = None,
    tape_material: Annotated[str, typer.Option("--taped-material", help="Of what was taped.")] = "lead",
    material: say.Material = "lead",
    bit: Annotated[str | None, typer.Option(help="Bit for the bore: '3/8 in', '10 mm'.")] = None,
    water: say.Water = "20 C", salinity: say.Salinity = "0 ppt", units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A test weight taped outside, moved inside.

    \b
    Example:
      gudgeon taped --weight "12.0 g" --density "0.46 g/cm3" \\
        --bit "3/8 in"
    """
    from gudgeon.answers.boring import mass_in_bore
    from gudgeon.answers.changing import taped_inside
    from gudgeon.report.change_rows import taped_laid

    reader = OptionReader()
    taped = reader.needed("--weight", weight, MASS, "12.0 g")
    timber = known_wood(reader, density, wood)
    outside, inside = stuff_of(reader, "--taped-material", tape_material), stuff_of(reader, "--material", material)
    bore = None if bit is None else reader.look("--bit", lambda: mass_in_bore(bit, inside))
    wet = bench_water(reader, water, salinity)
    shop = shop_of(reader, units, color)
    if not reader.faults and (timber.value >= inside.density or wet.density >= outside.density or taped.value <= 0.0):
        reader.fault("--weight, --material", "ballast must weigh something, and be denser than wood and water")
    reader.done("taped")
    show_laid(taped_laid(taped_inside(taped, outside, inside, timber, wet, bore=bore), shop), as_json, color)


def hook_command(
    old: Annotated[str | None, typer.Option(
        help="Hook with ring now: '0.72 g' or '#6' (± 0.1 g; table ± 25 %).")] = None,
    new: Annotated[str | None, typer.Option(help="Hook with ring to come: '0.95 g' or '#4'.")] = None,
    count: Annotated[int, typer.Option(help="How many change.")] = 1, material: say.Material = "steel",
    hanger: Annotated[str | None, typer.Option(help="From the balance point: '38 mm ahead', '62 mm aft'.")] = None,
    apart: say.Apart = None, displaced: say.Whole = None, sinks: say.NowSinks = None, rises: say.NowRises = None,
    hangs: say.NowHangs = False, plan_area_: say.Area = None, plan: say.Plan = None, drag: say.Drag = None,
    water: say.Water = "20 C", salinity: say.Salinity = "0 ppt", units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Other hooks: weight in water, tilt and rate.

    \b
    Example:
      gudgeon hook --old "0.72 g" --new "0.95 g" --hanger "30 mm ahead" \\
        --apart "2 mm" --displaced "20.7 g"
    """
    from gudgeon.answers.changing import Balance, hook_change
    from gudgeon.report.change_rows import hook_laid

    reader = OptionReader()
    weights = [hook_weight(reader, place, text) if text is not None else reader.needed(place, text, MASS, "0.72 g")
               for place, text in (("--old", old), ("--new", new))]  # fmt: skip
    if count < 1:
        reader.fault("--count", f"{count}: one hook at least")
    balance = None
    if hanger is not None or apart is not None:
        balance = Balance(ahead_of_balance(reader, "--hanger", hanger), reader.needed("--apart", apart, LENGTH, "4 mm"),
                          reader.needed("--displaced", displaced, MASS, "118 g"))  # fmt: skip
    area = plan_area(reader, plan_area_, plan, drag)
    velocity = velocity_now(reader, sinks, rises, hangs, area)
    steel, wet, shop = stuff_of(reader, "--material", material), bench_water(reader, water, salinity), shop_of(
        reader, units, color)  # fmt: skip
    reader.done("hook")
    answer = hook_change(weights[0], weights[1], steel, wet, count=count, balance=balance, velocity=velocity, plan=area)
    show_laid(hook_laid(answer, shop), as_json, color)


def salt_command(
    displaced: say.Whole = None,
    volume: Annotated[str | None, typer.Option(help="Or its volume: '135.6 cm3' (± 0.3 %).")] = None,
    heavy: Annotated[str | None, typer.Option(help="It is heavy here by: '1.57 g' (± 0.1 g).")] = None,
    light: Annotated[str | None, typer.Option(help="Or light here by.")] = None,
    hangs: say.NowHangs = False, sinks: say.NowSinks = None, rises: say.NowRises = None, plan_area_: say.Area = None,
    plan: say.Plan = None, drag: say.Drag = None,
    here: Annotated[str, typer.Option("--from", help="Temperature here.")] = "20 C",
    here_salt: Annotated[str, typer.Option("--from-salinity", help="Salt here.")] = "0 ppt",
    there: Annotated[str, typer.Option("--to", help="Temperature there.")] = "15 C",
    there_salt: Annotated[str, typer.Option("--to-salinity", help="Salt there.")] = "35 ppt",
    density: Annotated[str, typer.Option(help="Density of the wood a bore takes.")] = "0.45 g/cm3 ± 0.2 g/cm3",
    body: Annotated[str, typer.Option(help="wood, resin or hollow plastic: how it swells with warmth.")] = "wood",
    units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """From lake to sea, or warm to cold.

    \b
    Example:
      gudgeon salt --volume "135.6 cm3" --heavy "1.57 g" --from "68 F" \\
        --to "59 F" --to-salinity "33 ppt"
    """
    from gudgeon.answers.waters import other_water
    from gudgeon.report.change_rows import salt_laid

    reader = OptionReader()
    lake, sea = bench_water(reader, here, here_salt, "--from"), bench_water(reader, there, there_salt, "--to")
    area = plan_area(reader, plan_area_, plan, drag)
    room = _room(reader, displaced, volume, lake.density)
    state = reader.one_of(heavy=heavy, light=light, hangs=hangs, sinks=sinks, rises=rises)
    excess = _excess(reader, heavy, light)
    if state in ("hangs", "sinks", "rises"):
        excess = _excess_by_rate(reader, velocity_now(reader, sinks, rises, hangs, area), area, lake.density)
    timber = known_wood(reader, density, None)
    shop = shop_of(reader, units, color)
    reader.done("salt")
    answer = other_water(room, excess, lake, sea, wood=timber, body=body, plan=area)
    show_laid(salt_laid(answer, shop), as_json, color)


def scale_command(
    factor: Annotated[str | None, typer.Option(help="New length over old: '1.4'.")] = None,
    blank: say.Blank = None, displaced: say.Displaced = None, volume: say.Volume = None, density: say.Density = None,
    wood: say.Wood = None,
    lead: Annotated[str | None, typer.Option(help="Lead inside the old one.")] = None,
    hardware: Annotated[str | None, typer.Option(help="Hooks and fittings of the old one, steel, outside.")] = None,
    new_hardware: Annotated[str | None, typer.Option(help="Of the new one, as bought; else scaled, and told.")] = None,
    coats: Annotated[str, typer.Option(help="Coats of the old one.")] = "0 g", sinks: say.NowSinks = None,
    rises: say.NowRises = None, hangs: say.NowHangs = False, plan_area_: say.Area = None, plan: say.Plan = None,
    drag: say.Drag = None, material: say.Material = "lead", water: say.Water = "20 C",
    salinity: say.Salinity = "0 ppt", jug: say.Jug = "20 C", units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """The pattern larger or smaller: the new lead.

    \b
    Example:
      gudgeon scale --factor 1.4 --blank "51.4 g" --volume "97 cm3" \\
        --lead "33 g" --hardware "16.2 g" --new-hardware "32 g" \\
        --coats "4.5 g" --sinks "4 s/ft" --plan-area "27.8 cm2"
    """
    from gudgeon.answers.resizing import Old, resized
    from gudgeon.report.change_rows import scale_laid

    reader = OptionReader()
    if factor is None:
        reader.fault("--factor", 'is needed: --factor "1.4"')
    times = reader.ratio("--factor", factor) or Reading(STAND_IN)
    old = Old(
        bench_lure(reader, Written(blank, displaced, volume, density, wood, water=water, salinity=salinity, jug=jug)),
        reader.needed("--lead", lead, MASS, "33 g"), reader.needed("--hardware", hardware, MASS, "16.2 g"),
        reader.needed("--coats", coats, MASS, "4.5 g"),
    )  # fmt: skip
    bought = reader.reading("--new-hardware", new_hardware, MASS)
    area = plan_area(reader, plan_area_, plan, drag)
    velocity = velocity_now(reader, sinks, rises, hangs, area)
    metal, shop = stuff_of(reader, "--material", material), shop_of(reader, units, color)
    if not 0.1 <= times.value <= 10.0:
        reader.fault("--factor", f"{times.value:g} is no factor for a lure: between 0.1 and 10")
    reader.done("scale")
    answer = resized(old, times.value, metal, hardware=bought, velocity=velocity, plan=area)
    show_laid(scale_laid(answer, shop), as_json, color)


def _room(reader: OptionReader, displaced: str | None, volume: str | None, water_density: float) -> Reading:
    known = reader.one_of(displaced=displaced, volume=volume)
    if known == "displaced":
        grams = reader.needed("--displaced", displaced, MASS, "135.4 g")
        return Reading(grams.value / water_density, None if grams.spread is None else grams.spread / water_density)
    return reader.reading("--volume", volume, VOLUME) or Reading(STAND_IN)


def _excess(reader: OptionReader, heavy: str | None, light: str | None) -> Reading:
    sinking, floating = reader.reading("--heavy", heavy, MASS), reader.reading("--light", light, MASS)
    if floating is not None:
        return Reading(-floating.value, floating.spread)
    return sinking or Reading(0.0)


def _excess_by_rate(reader: OptionReader, velocity: float | None, area: "PlanArea | None", density: float) -> Reading:
    from gudgeon.answers.sums import as_it_sinks

    if reader.faults:
        return Reading(0.0)
    found = as_it_sinks(velocity or 0.0, area, density)
    return Reading(found.value, found.spread)
