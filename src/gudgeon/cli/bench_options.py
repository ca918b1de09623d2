"""The options that the commands without a drawing share, and what they make: parts, water, area, a lure to sum up.

The spreads shown in the help are those of design/model.py; answers fills them in where a quantity brings none.
"""

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli.option_reading import STAND_IN, OptionReader
from gudgeon.units import AREA, DENSITY, LENGTH, MASS, PART, RATE, SALINITY, TEMPERATURE, VOLUME, Reading

if TYPE_CHECKING:
    from gudgeon.answers.bench_lure import BenchLure, BenchPart, BenchWater, Stuff
    from gudgeon.answers.known import Known
    from gudgeon.answers.sums import PlanArea
    from gudgeon.report.laying import Laid
    from gudgeon.report.rows import Shop

PLAN_FILL = 0.70  # area seen from above over length x width; common practice, no source: 0.65 to 0.78
PLAN_FILL_SPREAD = 0.07

Blank = Annotated[str | None, typer.Option(help="Weight of the shaped blank, before any hole: '37.8 g' (± 0.1 g).")]
Displaced = Annotated[
    str | None, typer.Option(help="Grams the jug on the scale shows with the blank pushed under: '95.2 g' (± 0.3 %).")
]
Volume = Annotated[str | None, typer.Option(help="Or its volume: '128.2 cm3' (± 0.3 %).")]
Density = Annotated[str | None, typer.Option(help="Or the wood's density: '0.42 g/cm3' (± 2 %).")]
Wood = Annotated[str | None, typer.Option(help="Or the wood by name, from a table: 'basswood' (± 20 %).")]
Moisture = Annotated[str | None, typer.Option(help="Moisture for --wood, of dry weight; 12 % when left out.")]
Parts = Annotated[
    list[str] | None,
    typer.Option(
        "--part", help="'name, weight, material[, buried or outside]'; outside when left out. Repeat it. (± 0.1 g)"
    ),
]
Fittings = Annotated[
    str | None, typer.Option(help="'weight[, material][, buried or outside]'; steel, outside when left out.")
]
Hooks = Annotated[
    str | None, typer.Option(help="Hooks with rings: '3.7 g', or by size '2 x #4' from a table (± 25 %); steel.")
]
Coats = Annotated[str | None, typer.Option(help="'6 g', or thickness and area: '0.3 mm, 190 cm2[, epoxy]' (± 30 %).")]
Sealed = Annotated[str | None, typer.Option(help="Sealer soaked into the wood: '1.2 g'.")]
Water = Annotated[str, typer.Option(help="Temperature of the water it is for (± 2 C).")]
Salinity = Annotated[str, typer.Option(help="Its salt: '35 ppt' for the sea (± 1 ppt), 0 for a lake.")]
Jug = Annotated[str, typer.Option(help="Temperature of the fresh water in the jug.")]
Sinks = Annotated[str | None, typer.Option(help="Sink rate: '3 s/ft', '10 s/m'.")]
Rises = Annotated[str | None, typer.Option(help="Rate of rise: '4 s/ft'.")]
Hangs = Annotated[bool, typer.Option("--hangs", help="Neither floats nor sinks.")]
Area = Annotated[str | None, typer.Option("--plan-area", help="Area seen from above: '30 cm2' (± 5 %).")]
Plan = Annotated[str | None, typer.Option(help="Or length x width seen from above: '178 x 24 mm', 70 % of it taken.")]
Drag = Annotated[
    str | None,
    typer.Option(
        help="Drag coefficient on that area, from a timed drop: '1.1' (± 14 %); 1.0 (0.64 to 1.56) when left out."
    ),
]
Material = Annotated[str, typer.Option(help="Of the ballast.")]
Whole = Annotated[str | None, typer.Option("--displaced", help="Grams of water the finished lure displaces (± 0.3 %).")]
Apart = Annotated[
    str | None, typer.Option(help="Weight centre below buoyancy centre: '4 mm' (± 25 %); BG of the trade.")
]
NowSinks = Annotated[str | None, typer.Option("--sinks", help="It sinks now at: '3.2 s/ft'.")]
NowRises = Annotated[str | None, typer.Option("--rises", help="It rises now at.")]
NowHangs = Annotated[bool, typer.Option("--hangs", help="It hangs now.")]
Units = Annotated[str, typer.Option(metavar="metric|inch", help="Whose units; grams for ballast in both.")]
AsJson = Annotated[bool, typer.Option("--json", help="One object for a program instead of words.")]
Color = Annotated[str, typer.Option(metavar="auto|always|never", help="Colour the answer.")]


@dataclass(frozen=True)
class Written:
    """A lure as its options were written."""

    blank: str | None = None
    displaced: str | None = None
    volume: str | None = None
    density: str | None = None
    wood: str | None = None
    moisture: str | None = None
    parts: tuple[str, ...] = ()
    fittings: str | None = None
    hooks: str | None = None
    coats: str | None = None
    sealed: str | None = None
    water: str = "20 C"
    salinity: str = "0 ppt"
    jug: str = "20 C"


def bench_lure(reader: OptionReader, written: Written, blank: Reading | None = None) -> "BenchLure":
    """The lure, faults kept by the reader; `blank` [kg] where it is not an option."""
    from gudgeon.answers.bench_lure import BenchLure, BenchPart

    weight = blank or reader.needed("--blank", written.blank, MASS, "37.8 g")
    known = reader.one_of(displaced=written.displaced, volume=written.volume, density=written.density,
                          wood=written.wood)  # fmt: skip
    if written.moisture is not None and known != "wood":
        reader.fault("--moisture", "goes with --wood only")
    jug = bench_water(reader, written.jug, "0 ppt", "--jug")
    displaced = reader.reading("--displaced", written.displaced, MASS)
    if known == "volume":
        room = reader.needed("--volume", written.volume, VOLUME, "128.2 cm3")
        displaced = Reading(room.value * jug.density, None if room.spread is None else room.spread * jug.density)
    density = reader.reading("--density", written.density, DENSITY)
    if known == "wood":
        density = wood_density(reader, "--wood", written.wood, written.moisture)
    parts = _named_apart([*_listed_parts(reader, written.parts), *_short_parts(reader, written)])
    if written.sealed is not None:
        sealer = reader.needed("--sealed", written.sealed, MASS, "1.2 g")
        parts.append(BenchPart("sealer", sealer, stuff_of(reader, "--sealed", "epoxy"), soaked=True))
    water = bench_water(reader, written.water, written.salinity)
    return BenchLure(weight, displaced, density, known == "wood", tuple(parts), water, jug)


def wood_density(reader: OptionReader, place: str, name: str | None, moisture: str | None) -> Reading:
    """A table's density of a wood."""
    from gudgeon.answers.bench_lure import table_wood

    damp = reader.reading("--moisture", moisture, PART)
    return reader.look(place, lambda: table_wood(name or "", damp)) or Reading(STAND_IN)


def known_wood(reader: OptionReader, density: str | None, wood: str | None) -> "Known":
    """The wood of a bore, by density or by name."""
    from gudgeon.answers import waters

    by_name = reader.one_of(density=density, wood=wood) == "wood"
    found = wood_density(reader, "--wood", wood, None) if by_name else reader.reading("--density", density, DENSITY)
    return waters.known_wood(found or Reading(STAND_IN), by_name)


def bench_water(reader: OptionReader, temperature: str, salinity: str, place: str = "--water") -> "BenchWater":
    """Water by temperature and salinity, inside what its source covers."""
    from gudgeon.answers.bench_lure import BenchWater, lake

    warmth = reader.needed(place, temperature, TEMPERATURE, "20 C")
    salt = reader.needed(place.replace("water", "salinity"), salinity, SALINITY, "35 ppt")
    water = BenchWater(warmth, salt)
    if reader.faults:
        return lake(Reading(293.15))
    return water if reader.look(place, lambda: water.density) is not None else lake(Reading(293.15))


def stuff_of(reader: OptionReader, place: str, name: str) -> "Stuff":
    """A material by name."""
    from gudgeon.answers.bench_lure import Stuff, stuff

    return reader.look(place, lambda: stuff(name)) or Stuff(name, STAND_IN)


def plan_area(reader: OptionReader, area: str | None, plan: str | None, drag: str | None) -> "PlanArea | None":
    """The area seen from above, with the drag on it."""
    from gudgeon.answers.sums import PlanArea

    constant = reader.ratio("--drag", drag)
    if area is not None and plan is not None:
        reader.fault("--plan-area, --plan", "give only one of them")
    if area is not None:
        return PlanArea(reader.needed("--plan-area", area, AREA, "30 cm2"), constant)
    sides = reader.sizes("--plan", plan, LENGTH, 2)
    if sides is None:
        return None
    box = sides[0] * sides[1]
    return PlanArea(Reading(PLAN_FILL * box, PLAN_FILL_SPREAD * box), constant)


def _listed_parts(reader: OptionReader, texts: tuple[str, ...]) -> list["BenchPart"]:
    from gudgeon.answers.bench_lure import BenchPart

    found = []
    for text in texts:
        fields = reader.fields("--part", text, 3, 4, "tow eye, 1.2 g, stainless, buried")
        if not fields:
            continue
        weight = reader.needed("--part", fields[1], MASS, "1.2 g")
        buried = _is_buried(reader, "--part", fields[3] if len(fields) == 4 else "outside")
        found.append(BenchPart(fields[0], weight, stuff_of(reader, "--part", fields[2]), buried=buried))
    return found


def _is_buried(reader: OptionReader, place: str, word: str) -> bool:
    if word not in ("buried", "outside"):
        reader.fault(place, f"'{word}': say buried (in a hole cut after the weighing) or outside")
    return word == "buried"


def _short_parts(reader: OptionReader, written: Written) -> list["BenchPart"]:
    found = []
    if written.fittings is not None:
        found.append(_fittings(reader, written.fittings))
    if written.hooks is not None:
        found.append(_hooks(reader, written.hooks))
    if written.coats is not None:
        found.append(_coats(reader, written.coats))
    return found


def _fittings(reader: OptionReader, text: str) -> "BenchPart":
    from gudgeon.answers.bench_lure import BenchPart

    fields = reader.fields("--fittings", text, 1, 3, "4.1 g, steel, buried") or ["1 g"]
    weight = reader.needed("--fittings", fields[0], MASS, "4.1 g")
    words = fields[1:]
    place = [word for word in words if word in ("buried", "outside")]
    materials = [word for word in words if word not in place]
    if len(place) > 1 or len(materials) > 1:
        reader.fault("--fittings", f"'{text}' is not read; write it like \"4.1 g, steel, buried\"")
    material = materials[0] if materials else "steel"
    return BenchPart("fittings", weight, stuff_of(reader, "--fittings", material), buried=place == ["buried"])


def _hooks(reader: OptionReader, text: str) -> "BenchPart":
    from gudgeon.answers.bench_lure import BenchPart

    return BenchPart("hooks", hook_weight(reader, "--hooks", text), stuff_of(reader, "--hooks", "steel"))


def hook_weight(reader: OptionReader, place: str, text: str) -> Reading:
    """Hooks by weight, "3.7 g", or by size from the table, "#4", "2 x #4"."""
    from gudgeon.answers.bench_lure import table_hooks

    sized = re.fullmatch(r"\s*(?:(\d+)\s*[x×*]\s*)?(#\s*\d+|\d+/0)\s*", text)
    if sized is None:
        return reader.needed(place, text, MASS, "3.7 g")
    count = int(sized[1] or 1)
    return reader.look(place, lambda: table_hooks(sized[2], count)) or Reading(STAND_IN)


def _coats(reader: OptionReader, text: str) -> "BenchPart":
    from gudgeon.answers.bench_lure import BenchPart, film

    fields = reader.fields("--coats", text, 1, 3, "0.3 mm, 190 cm2, epoxy") or ["1 g"]
    coat = stuff_of(reader, "--coats", fields[2] if len(fields) == 3 else "epoxy")
    if len(fields) == 1:
        return BenchPart("coats", reader.needed("--coats", fields[0], MASS, "6 g"), coat)
    thickness = reader.needed("--coats", fields[0], LENGTH, "0.3 mm")
    area = reader.needed("--coats", fields[1], AREA, "190 cm2")
    return BenchPart("coats", film(thickness, area, coat), coat)


def _named_apart(parts: list["BenchPart"]) -> list["BenchPart"]:
    """Parts of one name told apart by a number, and from the blank and the water they share a sum with."""
    from dataclasses import replace

    taken = {"blank weight", "wood density", "water density", "water the blank displaces", "sealer", "ballast"}
    found = []
    for part in parts:
        name, count = part.name, 2
        while name in taken:
            name, count = f"{part.name} {count}", count + 1
        taken.add(name)
        found.append(replace(part, name=name))
    return found


def shop_of(reader: OptionReader, units: str, color: str) -> "Shop":
    """Whose units are shown; also checks the word for colour."""
    from gudgeon.report.rows import Shop

    if color not in ("auto", "always", "never"):
        reader.fault("--color", f"'{color}': say auto, always or never")
    if units not in ("metric", "inch"):
        reader.fault("--units", f"'{units}': say metric or inch")
        return Shop.METRIC
    return Shop(units)


def show_laid(laid: "Laid", as_json: bool, color: str) -> None:
    """Print an answer that was laid out."""
    from gudgeon.report.text import show

    show(laid.rows, laid.headline, laid.warnings, as_json, color=color)


def velocity_now(reader: OptionReader, sinks: str | None, rises: str | None, hangs: bool,
         area: "PlanArea | None") -> float | None:  # fmt: skip
    """Velocity now [m/s], down positive; None where nothing was said."""
    down, up = reader.value("--sinks", sinks, RATE), reader.value("--rises", rises, RATE)
    if sum((down is not None, up is not None, hangs)) > 1:
        reader.fault("--sinks, --rises, --hangs", "give only one of them")
    if (down is not None or up is not None) and area is None:
        reader.fault("--plan-area, --plan", 'a rate needs the area seen from above: --plan-area "30 cm2"')
    return None if down is None and up is None and not hangs else (down or 0.0) - (up or 0.0)


def ahead_of_balance(reader: OptionReader, place: str, text: str | None) -> float:
    """ "38 mm ahead" or "62 mm aft" of the balance point [m], ahead positive."""
    found = re.fullmatch(r"(.*?)\s*\b(ahead|aft)", (text or "").strip())
    if found is None:
        reader.fault(place, f'\'{text or ""}\': write it like "38 mm ahead" or "62 mm aft" of the balance point')
        return STAND_IN
    distance = reader.needed(place, found[1], LENGTH, "38 mm").value
    return distance if found[2] == "ahead" else -distance
