"""A correction: a new entry in the place of a wrong one."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Any

import typer

from gudgeon.cli import log_options as say
from gudgeon.cli.bench_options import shop_of
from gudgeon.cli.log_options import HERE, EntryNumber, questioned, tell_entry
from gudgeon.cli.option_reading import OptionReader

if TYPE_CHECKING:
    from gudgeon.report.text import Told
    from gudgeon.shop.log import Log


def add_correct_command(app: typer.Typer) -> None:
    """Put the command that corrects an entry on an app."""
    app.command("correct")(correct_command)


def correct_command(
    entry: EntryNumber,
    why: Annotated[str, typer.Option(help="What was wrong.")],
    values: Annotated[list[str] | None, typer.Option(
        "--set", help="'mass = 7.4 g', 'stage = sealed'. Repeat it.")] = None,
    void: Annotated[bool, typer.Option("--void", help="It does not count at all.")] = False,
    sure: say.Sure = False, at: say.At = None, shop: say.ShopFolder = HERE, units: say.Units = "metric",
    as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A new entry in the place of a wrong one; the old one stays in the history.

    \b
    Example:
      gudgeon log correct 4 --set "mass = 45.4 g" --why "misread"
    """
    from gudgeon.shop.log import Log

    reader = OptionReader()
    if void == bool(values or at):
        reader.fault("--set, --void", 'say what it should be: --set "mass = 7.4 g"; or that it does not count: --void')
    with Log.open(shop) as log:
        changes = _changes(reader, log, entry, values or [])
        shop_of(reader, units, color)
        reader.done("log correct")
        odd = () if void else _corrected_questioned(log, entry, changes, sure=sure, units=units)
        number = log.strike(entry, why) if void else log.correct(entry, changes, why, done=at)
        tell_entry(log, number, reader=reader, units=units, as_json=as_json, color=color, warnings=odd)


def _changes(reader: OptionReader, log: "Log", entry: int, texts: Sequence[str]) -> dict[str, Any]:
    """Fields of an entry's record, and what they are to be."""
    from gudgeon.errors import Refusal
    from gudgeon.shop.columns import field_named, from_words
    from gudgeon.shop.records import Lure, Record

    old: Record | None = log.entry(entry).what
    found: dict[str, Any] = {}
    for text in texts:
        name, equals, words = (part.strip() for part in text.partition("="))
        name = name.replace(" ", "_")
        if not equals or old is None:
            reader.fault("--set", f"'{text}' is not read; write the field, =, and what it should be: mass = 7.4 g")
            continue
        if name == "lure" and not isinstance(old, Lure):
            way_out = f"gudgeon log correct {entry} --void, then enter it anew of lure {words}"
            reader.fault("--set", f"an entry stays with its lure: {way_out}")
            continue
        try:
            field = field_named(type(old), name, "--set")
            found[name] = _of_lure(log, name, words) if isinstance(old, Lure) else from_words(field, words)
        except Refusal as refusal:
            reader.faults += refusal.faults
            if not refusal.faults:
                reader.fault(f"--set {name}", refusal.heading)
    return found


def _of_lure(log: "Log", name: str, words: str) -> Any:
    """What a lure is made of: a board by its name, a pattern by name and version, a run."""
    from gudgeon.shop.columns import whole

    if name == "board":
        return log.board_root(words) if words else None
    if name == "pattern":
        called, comma, version = words.rpartition(",")
        return log.pattern_root(called.strip(), whole(version)) if comma else log.pattern_root(words)
    return whole(words)


def _corrected_questioned(log: "Log", entry: int, changes: dict[str, Any], *, sure: bool,
                          units: str) -> "Sequence[Told]":  # fmt: skip
    from dataclasses import replace

    from gudgeon.shop.records import OfLure

    old = log.entry(entry)
    if old.lure is None or not isinstance(old.what, OfLure) or not changes:
        return ()
    return questioned(log, old.lure, replace(old.what, **changes), sure=sure, units=units, instead_of=old.root)
