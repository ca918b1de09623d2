"""What is seen and done with one lure, entered: weights, dunks, ballast, drops, tows, changes, pictures."""

from pathlib import Path
from typing import Annotated

import typer

from gudgeon.cli import log_options as say
from gudgeon.cli.bench_options import shop_of
from gudgeon.cli.log_options import HERE, LureNumber, names_of, questioned, stage_of, tell_entry, water_seen, weight_of
from gudgeon.cli.option_reading import OptionReader, split_list
from gudgeon.units import ANGLE, BEATS, DEPTH, LENGTH, SPEED, STATION, TIME

Grams = Annotated[str, typer.Argument(metavar="WEIGHT", help="With its unit, and its own ± where you know it.")]


def add_entry_commands(app: typer.Typer) -> None:
    """Put the commands that enter something about a lure on an app."""
    for name, command in (
        ("weigh", weigh_command), ("jug", jug_command), ("ballast", ballast_command), ("fit", fit_command),
        ("drop", drop_command), ("lies", lies_command), ("tow", tow_command), ("change", change_command),
        ("note", note_command), ("photo", photo_command),
    ):  # fmt: skip
        app.command(name)(command)


def weigh_command(
    lure: LureNumber, mass: Grams, stage: say.StageOption, of: say.Piece = "whole", fitted: say.Fitted = None,
    sure: say.Sure = False, at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE,
    units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """What the scale showed; a weight that looks like a slip is questioned.

    \b
    Example:
      gudgeon log weigh 1 "45.1 g" --stage shaped
    """
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Weighing

    reader = OptionReader()
    weight = weight_of(reader, "the weight", mass)
    seen = Weighing(stage_of(reader, stage), weight, of, names_of(fitted))
    shop_of(reader, units, color)
    reader.done("log weigh")
    with Log.open(shop) as log:
        odd = questioned(log, lure, seen, sure=sure, units=units)
        number = log.weigh(lure, seen, done=at, remark=remark)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color, warnings=odd)


def jug_command(
    lure: LureNumber, displaced: Grams, stage: say.StageOption, of: say.Piece = "whole", fitted: say.Fitted = None,
    water: say.WaterSeen = None, salinity: say.SaltSeen = None, sure: say.Sure = False, at: say.At = None,
    remark: say.Remark = "", shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False,
    color: say.Color = "auto",
) -> None:  # fmt: skip
    """The grams a jug on the scale shows with it pushed just under.

    \b
    Example:
      gudgeon log jug 1 "110.2 g" --stage sealed --water "18 C"
    """
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Jug

    reader = OptionReader()
    grams = weight_of(reader, "the weight", displaced)
    warmth, salt = water_seen(reader, water, salinity)
    seen = Jug(stage_of(reader, stage), grams, of, names_of(fitted), warmth, salt)
    shop_of(reader, units, color)
    reader.done("log jug")
    with Log.open(shop) as log:
        odd = questioned(log, lure, seen, sure=sure, units=units)
        number = log.jug(lure, seen, done=at, remark=remark)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color, warnings=odd)


def ballast_command(
    lure: LureNumber, mass: Grams,
    hole: Annotated[str, typer.Option(help="The hole's name; the pocket's, where it is drawn.")],
    station: Annotated[str | None, typer.Option("--from-nose", help="Middle of the hole, aft of the nose.")] = None,
    depth: Annotated[str | None, typer.Option(help="As drilled.")] = None,
    bore: Annotated[str | None, typer.Option(help="Its diameter.")] = None,
    material: Annotated[str, typer.Option(help="Of the ballast.")] = "lead",
    sure: say.Sure = False, at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE,
    units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A piece of ballast that went in; one that its hole cannot hold is questioned.

    \b
    Example:
      gudgeon log ballast 1 "19.8 g" --hole front --from-nose "1 1/2 in" \\
        --depth "3/4 in" --bore "7/16 in"
    """
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Ballast

    reader = OptionReader()
    piece = Ballast(hole, weight_of(reader, "the weight", mass),
                    reader.value("--from-nose", station, STATION), reader.value("--depth", depth, LENGTH),
                    reader.value("--bore", bore, LENGTH), material)  # fmt: skip
    shop_of(reader, units, color)
    reader.done("log ballast")
    with Log.open(shop) as log:
        odd = questioned(log, lure, piece, sure=sure, units=units)
        number = log.ballast(lure, piece, done=at, remark=remark)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color, warnings=odd)


def fit_command(
    lure: LureNumber, mass: Grams,
    part: Annotated[str, typer.Option(help="A hook, fitting or hinge by its name; 'lip', 'fin'.")],
    at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE, units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A hook with its ring, an eye, a lip: as weighed for this lure.

    \b
    Example:
      gudgeon log fit 1 "3.4 g" --part "front hook"
    """
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Fitting

    reader = OptionReader()
    fitting = Fitting(part, weight_of(reader, "the weight", mass))
    shop_of(reader, units, color)
    reader.done("log fit")
    with Log.open(shop) as log:
        number = log.fit(lure, fitting, done=at, remark=remark)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color)


def drop_command(
    lure: LureNumber,
    distance: Annotated[str, typer.Option(help="How far it fell: '4 ft'.")],
    time: Annotated[list[str], typer.Option(help="How long, every drop: '12.4, 12.1, 12.6 s'. Repeat it.")],
    stage: say.StageOption = "rigged",
    rises: Annotated[bool, typer.Option("--rises", help="It was let up, not dropped.")] = False,
    fitted: say.Fitted = None, water: say.WaterSeen = None, salinity: say.SaltSeen = None, sure: say.Sure = False,
    at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE, units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Timed drops over one distance; a time far from the others is questioned.

    \b
    Example:
      gudgeon log drop 1 --distance "4 ft" --time "12.4, 12.1, 12.6 s" \\
        --water "58 F"
    """
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import TimedDrop

    reader = OptionReader()
    times = tuple(reader.needed("--time", text, TIME, "12.4 s").value for text in split_list(time))
    warmth, salt = water_seen(reader, water, salinity)
    drop = TimedDrop(stage_of(reader, stage), reader.needed("--distance", distance, LENGTH, "4 ft"), times, rises,
                     names_of(fitted), warmth, salt)  # fmt: skip
    shop_of(reader, units, color)
    reader.done("log drop")
    with Log.open(shop) as log:
        odd = questioned(log, lure, drop, sure=sure, units=units)
        number = log.drop(lure, drop, done=at, remark=remark)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color, warnings=odd)


def lies_command(
    lure: LureNumber,
    pitch: Annotated[str, typer.Argument(metavar="PITCH", help="'4 deg nose-down', '0 deg'.")],
    state: Annotated[str, typer.Option(help="afloat, hanging or falling.")] = "afloat",
    leans: Annotated[str | None, typer.Option(help="Right side down: '2 deg'; to the left: '-2 deg'.")] = None,
    stage: say.StageOption = "rigged", fitted: say.Fitted = None, water: say.WaterSeen = None,
    salinity: say.SaltSeen = None, at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE,
    units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """How it lay in the water: nose up or down, and which way it leaned.

    \b
    Example:
      gudgeon log lies 1 "4 deg nose-down" --state falling --water "58 F"
    """
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Attitude

    reader = OptionReader()
    warmth, salt = water_seen(reader, water, salinity)
    lies = reader.needed("the pitch", pitch, ANGLE, "4 deg nose-down")
    if any(fault.place == "the pitch" for fault in reader.faults):
        reader.fault("the pitch", 'write it like "4 deg nose-down", "2 deg nose-up" or "0 deg"')
    attitude = Attitude(stage_of(reader, stage), lies,
                        reader.reading("--leans", leans, ANGLE), state, names_of(fitted), warmth, salt)  # fmt: skip
    shop_of(reader, units, color)
    reader.done("log lies")
    with Log.open(shop) as log:
        number = log.lies(lure, attitude, done=at, remark=remark)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color)


def tow_command(
    lure: LureNumber,
    speed: Annotated[str, typer.Option(help="'2 kn', '1.5 mph'.")],
    beats: Annotated[str | None, typer.Option(help="How often it beat: '3.1 beats/s', '180 beats/min'.")] = None,
    roll: Annotated[str | None, typer.Option(help="To each side: '15 deg'.")] = None,
    depth: Annotated[str | None, typer.Option(help="How deep it ran: '4 ft'.")] = None,
    seen: Annotated[str, typer.Option(help="What it did.")] = "",
    mounted: Annotated[str | None, typer.Option(help="What was on: 'tow eye, fin'.")] = None,
    stand_in: Annotated[list[str] | None, typer.Option(
        help="A weight in place of a hook: 'front hook, 4.3 g'. Repeat it.")] = None,
    water: say.WaterSeen = None, salinity: say.SaltSeen = None, at: say.At = None, remark: say.Remark = "",
    shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A tow: speed, beats, roll, depth, and what was seen.

    \b
    Example:
      gudgeon log tow 1 --speed "2 kn" --beats "3 beats/s" --roll "12 deg" \\
        --stand-in "front hook, 3.4 g" --seen "swings evenly"
    """
    from gudgeon.shop.columns import stand_in as read_stand_in
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import TowTest

    reader = OptionReader()
    hung = [reader.look("--stand-in", lambda text=text: read_stand_in(text)) for text in stand_in or []]  # type: ignore[misc]
    warmth, salt = water_seen(reader, water, salinity)
    test = TowTest(
        reader.needed("--speed", speed, SPEED, "2 kn"), reader.reading("--beats", beats, BEATS),
        reader.reading("--roll", roll, ANGLE), reader.reading("--depth", depth, DEPTH), seen, names_of(mounted),
        tuple(one for one in hung if one is not None), warmth, salt,
    )  # fmt: skip
    shop_of(reader, units, color)
    reader.done("log tow")
    with Log.open(shop) as log:
        number = log.tow(lure, test, done=at, remark=remark)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color)


def change_command(
    lure: LureNumber,
    what: Annotated[str, typer.Argument(metavar="WHAT", help="What was changed.")],
    why: Annotated[str, typer.Option(help="Why, or what it was to mend.")],
    at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE, units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """What was changed at the water, and why.

    \b
    Example:
      gudgeon log change 1 "rear hook one size up" --why "nose-down sink"
    """
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Change

    with Log.open(shop) as log:
        number = log.change(lure, Change(what, why), done=at, remark=remark)
        tell_entry(log, number, reader=OptionReader(), units=units, as_json=as_json, color=color)


def note_command(
    lure: LureNumber,
    words: Annotated[str, typer.Argument(metavar="WORDS", help="In your own words.")],
    at: say.At = None, shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False,
    color: say.Color = "auto",
) -> None:  # fmt: skip
    """Words about a lure.

    \b
    Example:
      gudgeon log note 1 "knot under the left cheek, filled"
    """
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Note

    with Log.open(shop) as log:
        number = log.note(lure, Note(words), done=at)
        tell_entry(log, number, reader=OptionReader(), units=units, as_json=as_json, color=color)


def photo_command(
    lure: LureNumber,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A picture; it is copied into the shop's folder.")],
    shows: Annotated[str, typer.Option(help="What is on it.")] = "",
    at: say.At = None, remark: say.Remark = "", shop: say.ShopFolder = HERE, units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A picture, copied in and kept.

    \b
    Example:
      gudgeon log photo 1 side.jpg --shows "left side, rigged"
    """
    from gudgeon.shop.log import Log

    with Log.open(shop) as log:
        number = log.photo(lure, file, shows, done=at, remark=remark)
        tell_entry(log, number, reader=OptionReader(), units=units, as_json=as_json, color=color)
