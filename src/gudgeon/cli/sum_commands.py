"""Commands that need a scale and a jug, and no drawing: what a lure needs and comes to, another wood, a batch."""

from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli import bench_options as say
from gudgeon.cli.bench_options import Written, bench_lure, plan_area, shop_of, show_laid, stuff_of
from gudgeon.cli.change_commands import add_change_commands
from gudgeon.cli.option_reading import OptionReader, split_list
from gudgeon.cli.shop_commands import add_shop_commands
from gudgeon.cli.trial_commands import add_trial_commands
from gudgeon.units import DENSITY, MASS, PART, RATE

if TYPE_CHECKING:
    from gudgeon.answers.batching import Drilling
    from gudgeon.answers.sums import BenchAim, PlanArea

Reserve = Annotated[str | None, typer.Option("--floats", help="Reserve of a floater: '20 %' of its displacement.")]
Margin = Annotated[str | None, typer.Option(help="More ballast than hangs it: '25 %' for a quarter more.")]
Shot = Annotated[str | None, typer.Option(help="Weight of one shot: '4.3 g'; tells how many, and what is left wrong.")]
Total = Annotated[str | None, typer.Option(help="What you wrote down for blank and parts: checked against them.")]
Ballast = Annotated[str | None, typer.Option(help="Ballast in bores of its size: '12.9 g'.")]


def add_sum_commands(app: typer.Typer) -> None:
    """Put the commands without a drawing on an app."""
    app.command("lead")(lead_command)
    app.command("sum")(sum_command)
    app.command("swap")(swap_command)
    app.command("batch")(batch_command)
    add_change_commands(app)
    add_trial_commands(app)
    add_shop_commands(app)


def lead_command(
    blank: say.Blank = None, displaced: say.Displaced = None, volume: say.Volume = None, density: say.Density = None,
    wood: say.Wood = None, moisture: say.Moisture = None, part: say.Parts = None, fittings: say.Fittings = None,
    hooks: say.Hooks = None, coats: say.Coats = None, sealed: say.Sealed = None, water: say.Water = "20 C",
    salinity: say.Salinity = "0 ppt", jug: say.Jug = "20 C", sinks: say.Sinks = None, rises: say.Rises = None,
    hangs: say.Hangs = False, floats: Reserve = None, margin: Margin = None, plan_area_: say.Area = None,
    plan: say.Plan = None, drag: say.Drag = None, material: say.Material = "lead", shot: Shot = None,
    total: Total = None, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Lead to float, hang or sink, from a scale and a jug.

    \b
    Example:
      gudgeon lead --blank "60.2 g" --volume "128.2 cm3" \\
        --hooks "17.7 g" --coats "6 g" --sinks "3 s/ft" \\
        --plan-area "30 cm2"
    """
    from gudgeon.answers.sums import lead
    from gudgeon.report.sum_rows import lead_laid

    reader = OptionReader()
    lure = bench_lure(reader, Written(blank, displaced, volume, density, wood, moisture, tuple(part or ()), fittings,
                                      hooks, coats, sealed, water, salinity, jug))  # fmt: skip
    area = plan_area(reader, plan_area_, plan, drag)
    aim = _aim(reader, sinks, rises, hangs, floats, margin, area)
    metal = stuff_of(reader, "--material", material)
    one_shot, told = reader.value("--shot", shot, MASS), reader.value("--total", total, MASS)
    if one_shot == 0.0:
        reader.fault("--shot", "a shot weighs more than 0 g")
    shop = shop_of(reader, units, color)
    reader.done("lead")
    show_laid(lead_laid(lead(lure, aim, metal, area, shot=one_shot, told_total=told), shop), as_json, color)


def sum_command(
    blank: say.Blank = None, displaced: say.Displaced = None, volume: say.Volume = None, density: say.Density = None,
    wood: say.Wood = None, moisture: say.Moisture = None, part: say.Parts = None, fittings: say.Fittings = None,
    hooks: say.Hooks = None, coats: say.Coats = None, sealed: say.Sealed = None, ballast: Ballast = None,
    material: say.Material = "lead", water: say.Water = "20 C", salinity: say.Salinity = "0 ppt",
    jug: say.Jug = "20 C", plan_area_: say.Area = None, plan: say.Plan = None, drag: say.Drag = None,
    total: Total = None, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """What it comes to as it stands, in lake and sea.

    \b
    Example:
      gudgeon sum --blank "37.82 g" --density "0.67 g/cm3" \\
        --fittings "4.09 g, steel, buried" --hooks "3.69 g" \\
        --ballast "12.87 g"
    """
    from gudgeon.answers.bench_lure import BenchPart
    from gudgeon.answers.sums import weighed_up
    from gudgeon.report.sum_rows import sum_laid

    reader = OptionReader()
    lure = bench_lure(reader, Written(blank, displaced, volume, density, wood, moisture, tuple(part or ()), fittings,
                                      hooks, coats, sealed, water, salinity, jug))  # fmt: skip
    area = plan_area(reader, plan_area_, plan, drag)
    if ballast is not None:
        weight = reader.needed("--ballast", ballast, MASS, "12.9 g")
        lure = lure.with_part(BenchPart("ballast", weight, stuff_of(reader, "--material", material), buried=True))
    told = reader.value("--total", total, MASS)
    shop = shop_of(reader, units, color)
    reader.done("sum")
    show_laid(sum_laid(weighed_up(lure, area, told_total=told), shop), as_json, color)


def swap_command(
    blank: say.Blank = None, displaced: say.Displaced = None, volume: say.Volume = None, density: say.Density = None,
    wood: say.Wood = None,
    lead: Annotated[str | None, typer.Option(help="Lead inside it now: '33 g' (± 0.1 g).")] = None,
    new_blank: Annotated[str | None, typer.Option(help="The new blank weighs: '66.0 g' (± 0.1 g).")] = None,
    new_density: Annotated[str | None, typer.Option(help="Or the new wood's density (± 2 %).")] = None,
    new_wood: Annotated[str | None, typer.Option(help="Or the new wood by name, from a table (± 20 %).")] = None,
    material: say.Material = "lead", jug: say.Jug = "20 C", units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Another wood or a heavier board: the new lead.

    \b
    Example:
      gudgeon swap --blank "60.2 g" --volume "128.2 cm3" --lead "55.5 g" \\
        --new-blank "66.0 g"
    """
    from gudgeon.answers.changing import wood_swap
    from gudgeon.report.change_rows import swap_laid

    reader = OptionReader()
    old = bench_lure(reader, Written(blank, displaced, volume, density, wood, jug=jug))
    now = reader.needed("--lead", lead, MASS, "33 g")
    known = reader.one_of(new_blank=new_blank, new_density=new_density, new_wood=new_wood)
    weight = reader.reading("--new-blank", new_blank, MASS)
    dense = reader.reading("--new-density", new_density, DENSITY)
    if known == "new_wood":
        dense = say.wood_density(reader, "--new-wood", new_wood, None)
    metal = stuff_of(reader, "--material", material)
    shop = shop_of(reader, units, color)
    reader.done("swap")
    answer = wood_swap(old, now, metal, new_blank=weight, new_density=dense, by_table=known == "new_wood")
    show_laid(swap_laid(answer, shop), as_json, color)


def batch_command(
    blanks: Annotated[list[str] | None, typer.Option(help="Their weights: '41.2, 43.0, 43.9 g' (± 0.1 g).")] = None,
    displaced: say.Displaced = None, volume: say.Volume = None, part: say.Parts = None, fittings: say.Fittings = None,
    hooks: say.Hooks = None, coats: say.Coats = None, sealed: say.Sealed = None, water: say.Water = "20 C",
    salinity: say.Salinity = "0 ppt", jug: say.Jug = "20 C", sinks: say.Sinks = None, rises: say.Rises = None,
    hangs: say.Hangs = False, floats: Reserve = None, plan_area_: say.Area = None, plan: say.Plan = None,
    drag: say.Drag = None, material: say.Material = "lead",
    bit: Annotated[str | None, typer.Option(help="Bit for the ballast: '1/2 in', '12 mm'.")] = None,
    holes: Annotated[int, typer.Option(help="Holes the lead is parted into.")] = 1,
    set_aside: Annotated[str, typer.Option(help="Set aside blanks further than this from their mean.")] = "10 %",
    units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A batch of blanks: lead and bore for each.

    \b
    Example:
      gudgeon batch --blanks "44.8, 45.1, 46.9 g" --volume "110 cm3" \\
        --hooks "18 g" --coats "5.5 g" --sinks "3.5 s/ft" \\
        --plan-area "30 cm2" --bit "1/2 in"
    """
    from gudgeon.answers.batching import batch
    from gudgeon.report.shop_rows import batch_laid

    reader = OptionReader()
    weights = [reader.needed("--blanks", text, MASS, "41.2 g") for text in split_list(blanks or [])]
    if len(weights) < 2:
        reader.fault("--blanks", 'give two weights or more: "41.2, 43.0, 43.9 g"')
    written = Written(displaced=displaced, volume=volume, parts=tuple(part or ()), fittings=fittings, hooks=hooks,
                      coats=coats, sealed=sealed, water=water, salinity=salinity, jug=jug)  # fmt: skip
    reader.one_of(displaced=displaced, volume=volume)
    like = bench_lure(reader, written, blank=weights[0] if weights else None) if displaced or volume else None
    area = plan_area(reader, plan_area_, plan, drag)
    aim = _aim(reader, sinks, rises, hangs, floats, None, area)
    metal = stuff_of(reader, "--material", material)
    drilling = _drilling(reader, bit, holes, material)
    far = reader.value("--set-aside", set_aside, PART)
    shop = shop_of(reader, units, color)
    reader.done("batch")
    if like is not None:
        answer = batch(weights, like, aim, metal, area, drilling=drilling, aside_beyond=far or 0.0)
        show_laid(batch_laid(answer, shop), as_json, color)


def _drilling(reader: OptionReader, bit: str | None, holes: int, material: str) -> "Drilling | None":
    from gudgeon.answers.batching import Drilling
    from gudgeon.answers.boring import mass_in_bore

    if holes < 1:
        reader.fault("--holes", f"{holes}: one hole at least")
    if bit is None:
        return None
    bore = reader.look("--bit", lambda: mass_in_bore(bit, stuff_of(reader, "--material", material)))
    return None if bore is None else Drilling(bore[0], bore[1], holes)


def _aim(reader: OptionReader, sinks: str | None, rises: str | None, hangs: bool, floats: str | None,
         margin: str | None, area: "PlanArea | None") -> "BenchAim":  # fmt: skip
    """What it is to do; to hang where nothing was said."""
    from gudgeon.answers.sums import BenchAim

    down, up = reader.value("--sinks", sinks, RATE), reader.value("--rises", rises, RATE)
    reserve, more = reader.value("--floats", floats, PART), reader.value("--margin", margin, PART)
    asked = sum((sinks is not None, rises is not None, hangs, floats is not None))
    if asked > 1:
        reader.fault("--sinks, --rises, --hangs, --floats", "give only one of them")
    if (down is not None or up is not None) and area is None:
        reader.fault("--plan-area, --plan", 'a rate needs the area seen from above: --plan-area "30 cm2"')
    if more is not None and asked and not hangs:
        reader.fault("--margin", "goes with a lure that hangs: leave the other aim out")
    return BenchAim(velocity=(down or 0.0) - (up or 0.0), reserve=reserve or 0.0, more=more or 0.0)
