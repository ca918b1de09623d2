"""What was seen on the water, and the change that mends it: of a design's file, or of a lure of the log."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli import log_options as say
from gudgeon.cli.log_options import HERE, LureNumber
from gudgeon.cli.opening import Colour, ColourOption, DesignPath, JsonOption, Units, UnitsOption, opened
from gudgeon.cli.option_reading import OptionReader
from gudgeon.cli.tow_commands import told_how_far
from gudgeon.units import ANGLE, RATE, SPEED

if TYPE_CHECKING:
    from gudgeon.answers.as_seen import Sighting
    from gudgeon.answers.hook_choices import HookChoice
    from gudgeon.answers.mended import Mending
    from gudgeon.design.model import Design

Seen = Annotated[
    str | None, typer.Option("--seen", help="nose-down, leans, sinks fast, floats, rolls at speed, dead, spins ...")
]
By = Annotated[str | None, typer.Option("--by", help="How much: '15 deg', '2 s/ft', at '3 kn'.")]
WaterKind = Annotated[str | None, typer.Option("--in", help="Other water than the design's: fresh, brackish or sea.")]


def add_mend_command(app: typer.Typer) -> None:
    """Give the app the command that mends what a file draws."""
    app.command("mend")(mend)


def mend(
    file: DesignPath, seen: Seen = None, by: By = None, water: WaterKind = None, units: UnitsOption = Units.METRIC,
    json: JsonOption = False, color: ColourOption = Colour.AUTO,
) -> None:  # fmt: skip
    """What was seen on the water, and the cheapest change that mends it.

    Hooks first, then what can be undone, then the drill; each change worked out with what it does besides. What is said
    of the swim is a trend.

    \b
    Example:
      gudgeon mend examples/glider.toml --seen nose-down --by "8 deg"
    """
    from gudgeon.answers.as_seen import Sighting

    reader = OptionReader()
    if seen is None:
        reader.fault("--seen", 'say what was seen: --seen "nose-down"')
    sighting = _sighting(reader, seen or "", by, Sighting())
    reader.done("mend")
    with opened(file) as design_file:
        found = _mended(design_file.design, seen or "", _in_water(sighting, design_file.design, water), ())
    of = (design_file.design.name, design_file.stamp)
    _show(found, (), units=units.value, as_json=json, color=color.value, of=of)


def log_mend_command(
    lure: LureNumber, seen: Seen = None, by: By = None, water: WaterKind = None,
    keep: Annotated[bool, typer.Option("--keep", help="The log keeps what is told.")] = False,
    shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """What was seen of a lure on the water, and the change that mends it.

    By what was weighed of this lure, how it lay, its drops and tows, and the hooks in stock. Without --seen, by what
    the log says was seen last.

    \b
    Example:
      gudgeon log mend 1 --seen nose-down --by "8 deg"
    """
    from gudgeon.answers.as_weighed import as_measured
    from gudgeon.answers.hook_choices import hooks_in_stock
    from gudgeon.answers.log_faults import told_by_entry
    from gudgeon.answers.sightings import sighting_of, symptoms_in
    from gudgeon.cli.bench_options import shop_of
    from gudgeon.errors import BadShop, Fault
    from gudgeon.shop.log import Log

    reader = OptionReader()
    shop_of(reader, units, color)
    with Log.look(shop) as log:
        record, design, stock = log.lure(lure), log.design_of(lure), hooks_in_stock(log)
    known = symptoms_in(record, design)
    if seen is None and not known:
        words = 'say what was seen, --seen "nose-down", or enter it: gudgeon log lies --help'
        raise BadShop("the log says of nothing that is to be mended", [Fault(f"lure {lure}", words)])
    what = seen or known[0]
    sighting = _sighting(reader, what, by, sighting_of(record, design))
    reader.done("log mend")
    measured = as_measured(design, record).design
    with told_by_entry(record):
        found = _mended(measured, what, _in_water(sighting, measured, water), stock)
    others = [name for name in known if name != found.symptom.name]
    if keep:
        found = _kept(found, shop, lure, units)
    _show(found, others, units=units, as_json=as_json, color=color)


def _kept(found: "Mending", shop: Path, lure: int, units: str) -> "Mending":
    """The same, told that it is kept."""
    from dataclasses import replace

    from gudgeon.cli.log_answer_commands import kept
    from gudgeon.report.mend_rows import mend_headline, mend_sections
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import told_of
    from gudgeon.shop.log import Log

    wanted = Shop(units)
    with Log.look(shop) as log:
        pattern = log.lure(lure).pattern
    asked = (pattern.design, pattern.stamp)
    told = (mend_headline(found, wanted), mend_sections(found, wanted), told_of(found.findings, wanted))
    return replace(found, findings=(*found.findings, kept(shop, lure, "log mend", asked, told)))


def _sighting(reader: OptionReader, seen: str, by: str | None, known: "Sighting") -> "Sighting":
    """What is known to have been seen, with how much was told now."""
    from dataclasses import replace

    from gudgeon.answers.mending import asked_of
    from gudgeon.units import Reading

    asked = reader.look("--seen", lambda: asked_of(seen)) if seen else None
    if by is None or asked is None:
        return known
    goal, sign = asked
    if goal == "level":
        angle = reader.needed("--by", by, ANGLE, "15 deg")
        return replace(known, pitch=Reading(sign * abs(angle.value), angle.spread))
    if goal == "upright":
        return replace(known, leans=reader.needed("--by", by, ANGLE, "4 deg"))
    if goal == "rate":
        rate = reader.needed("--by", by, RATE, "2 s/ft")
        return replace(known, rate=Reading(sign * rate.value, rate.spread))
    if goal == "words":
        reader.fault("--by", "nothing is worked out for this, so leave it out")
        return known
    return replace(known, speed=reader.needed("--by", by, SPEED, "3 kn").value)


def _in_water(sighting: "Sighting", design: "Design", water: str | None) -> "Sighting":
    from dataclasses import replace

    if water is None:
        return sighting
    from gudgeon.errors import Fault, Refusal

    if water not in ("fresh", "brackish", "sea"):
        raise Refusal("gudgeon mend cannot read this", [Fault("--in", f"'{water}': say fresh, brackish or sea")])
    return replace(sighting, water=design.water.model_copy(update={"kind": water, "salinity": None}))


def _mended(design: "Design", seen: str, sighting: "Sighting", stock: "Sequence[HookChoice]") -> "Mending":
    from gudgeon.answers.mending import mend as mended

    with told_how_far() as stage:
        return mended(design, seen, sighting, hooks=stock, stage=stage)


def _show(found: "Mending", others: Sequence[str], *, units: str, as_json: bool, color: str,
          of: tuple[str, str] | None = None) -> None:  # fmt: skip
    from gudgeon.report.mend_rows import mend_headline, mend_rows, mend_sections
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import Told, as_design_json, as_json_text, show_sections, told_of

    wanted = Shop(units)
    told = [*told_of(found.findings, wanted)]
    if others:
        told.append(Told("note", f"The log says of this besides: {', '.join(others)}. Mend that after it, with --seen"))
    headline = mend_headline(found, wanted)
    if not as_json:
        show_sections(mend_sections(found, wanted), headline, told, False, color=color)
    elif of is not None:
        print(as_design_json(*of, mend_rows(found, wanted), headline, told))
    else:
        print(as_json_text(mend_rows(found, wanted), headline, told))
