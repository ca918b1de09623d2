"""What the log is asked: a lure's card, lists, history, whose a stamp is, a run, a check of one lure."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli import log_options as say
from gudgeon.cli.bench_options import shop_of, stuff_of
from gudgeon.cli.log_options import HERE, LureNumber
from gudgeon.cli.opening import opened
from gudgeon.cli.option_reading import OptionReader

if TYPE_CHECKING:
    from gudgeon.answers.batching import Drilling
    from gudgeon.report.log_rows import Listed


def add_asking_commands(app: typer.Typer) -> None:
    """Put the commands that ask the log on an app."""
    for name, command in (("show", show_command), ("list", list_command), ("history", history_command),
                          ("batch", batch_command), ("find", find_command)):  # fmt: skip
        app.command(name)(command)


def show_command(
    lure: LureNumber, shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False,
    color: say.Color = "auto",
) -> None:  # fmt: skip
    """The card of a lure: all that stands about it, each with its entry's number.

    \b
    Example:
      gudgeon log show 1
    """
    from gudgeon.answers.log_views import lure_card
    from gudgeon.report.log_rows import card_headline, card_sections
    from gudgeon.report.text import show_sections
    from gudgeon.shop.log import Log

    reader = OptionReader()
    wanted = shop_of(reader, units, color)
    reader.done("log show")
    with Log.look(shop) as log:
        card = lure_card(log, lure)
    show_sections(card_sections(card, wanted), card_headline(card), [], as_json, color=color)


def list_command(
    what: Annotated[str, typer.Argument(metavar="WHAT", help="lures, patterns, boards or stock.")] = "lures",
    pattern: Annotated[str | None, typer.Option(help="Only lures of this pattern.")] = None,
    run: Annotated[int | None, typer.Option(help="Only this run.")] = None,
    board: Annotated[str | None, typer.Option(help="Only out of this board.")] = None,
    limit: Annotated[int, typer.Option(min=1, max=100_000, help="At most so many.")] = 50,
    before: Annotated[int | None, typer.Option(help="Only lures with a lower number.")] = None,
    shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """What is in the log, the newest first.

    \b
    Example:
      gudgeon log list --pattern "Reed Gate glider"
    """
    from gudgeon.answers.log_views import LureList, entry_lines
    from gudgeon.report.log_rows import entries_listed, lures_listed
    from gudgeon.shop.log import Log

    reader = OptionReader()
    wanted = shop_of(reader, units, color)
    kinds = {"patterns": "pattern", "boards": "board", "stock": "stock"}
    if what != "lures" and what not in kinds:
        reader.fault("WHAT", f"'{what}': say lures, patterns, boards or stock")
    reader.done("log list")
    with Log.look(shop) as log:
        if what == "lures":
            lines = tuple(log.lures(pattern=pattern, run=run, board=board, limit=limit, before=before))
            every = pattern is None and run is None and board is None
            listed = lures_listed(LureList(lines, log.lure_count() if every else None, len(lines) == limit), wanted)
        else:
            found = log.standing(kinds[what], limit)
            listed = entries_listed(entry_lines(found), wanted, f"{len(found)} in the log.")
    _tell(listed, as_json, color)


def history_command(
    lure: Annotated[int | None, typer.Argument(metavar="LURE", help="Of one lure; of the whole shop.")] = None,
    entry: Annotated[int | None, typer.Option(help="Of one entry: what it corrects, and what corrects it.")] = None,
    limit: Annotated[int, typer.Option(min=1, max=100_000, help="At most so many.")] = 50,
    shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Entries as they were made, corrected ones too, the newest first.

    \b
    Example:
      gudgeon log history 1
    """
    from gudgeon.answers.log_views import entry_lines
    from gudgeon.report.log_rows import entries_listed
    from gudgeon.shop.log import Log

    reader = OptionReader()
    wanted = shop_of(reader, units, color)
    if lure is not None and entry is not None:
        reader.fault("LURE, --entry", "give only one of them")
    reader.done("log history")
    with Log.look(shop) as log:
        found = log.chain(entry) if entry is not None else log.history(lure, limit)
    many = f"{len(found)} entr{'y' if len(found) == 1 else 'ies'}, the newest first."
    _tell(entries_listed(entry_lines(found), wanted, many), as_json, color)


def find_command(
    stamp: Annotated[str, typer.Argument(metavar="STAMP", help="As it stands on a sheet, or its first figures.")],
    out: Annotated[Path | None, typer.Option("--out", help="Write the design's text into this new file.")] = None,
    shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Whose design a stamp is, and which lures were built from it.

    \b
    Example:
      gudgeon log find 9ca2
    """
    from gudgeon.answers.log_views import found_by_stamp
    from gudgeon.design.file import save_new
    from gudgeon.errors import BadShop, Fault
    from gudgeon.report.log_rows import found_listed
    from gudgeon.shop.log import Log

    reader = OptionReader()
    wanted = shop_of(reader, units, color)
    if not stamp.isalnum():
        reader.fault("STAMP", f"'{stamp}' is no stamp; it has eight figures and letters")
    with Log.look(shop) as log:
        found = found_by_stamp(log, stamp)
    if stamp.isalnum() and not found:
        words = f"no pattern has the stamp {stamp}; gudgeon log list patterns shows those there are"
        raise BadShop("the log has no such stamp", [Fault("STAMP", words)])
    if out is not None and len(found) != 1:
        reader.fault("--out", f"{len(found)} designs have that stamp; give all eight figures of one")
    reader.done("log find")
    if out is not None:
        save_new(out, found[0].design)
    _tell(found_listed(found, stamp, wanted), as_json, color)


def batch_command(
    pattern: Annotated[str, typer.Argument(metavar="PATTERN", help="The pattern's name.")],
    version: Annotated[int | None, typer.Option(help="Its version; the newest.")] = None,
    run: Annotated[int | None, typer.Option(help="Which run; the newest.")] = None,
    bit: Annotated[str | None, typer.Option(help="Bit for the ballast: '1/2 in', '12 mm'.")] = None,
    holes: Annotated[int, typer.Option(help="Holes the lead is parted into.")] = 1,
    shop: say.ShopFolder = HERE, units: say.Units = "metric", as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A run: lead for each blank, how far it has come, spread at each stage.

    \b
    Example:
      gudgeon log batch "Reed Gate glider" --bit "7/16 in" --holes 3
    """
    from gudgeon.answers.lure_runs import lure_run
    from gudgeon.report.log_rows import run_headline, run_sections
    from gudgeon.report.text import show_sections, told_of
    from gudgeon.shop.log import Log

    reader = OptionReader()
    wanted = shop_of(reader, units, color)
    if holes < 1:
        reader.fault("--holes", f"{holes}: one hole at least")
    drilling = _drilling(reader, bit, holes)
    reader.done("log batch")
    with Log.look(shop) as log:
        found = lure_run(log, pattern, version, run, drilling=drilling)
    warnings = told_of(found.findings, wanted)
    show_sections(run_sections(found, wanted), run_headline(found, wanted), warnings, as_json, color=color)


def show_lure_check(
    file: Path, lure: int, shop: Path, *, units: str, as_json: bool, color: str, keep: bool = False
) -> None:
    """Check a design with what was measured of one lure in place of what was computed.

    keep : whether the log is to keep what is told
    """
    from dataclasses import replace

    from gudgeon.answers.as_weighed import as_weighed
    from gudgeon.cli.log_answer_commands import kept
    from gudgeon.report.check_rows import check_sections, headline
    from gudgeon.report.check_text import check_json, show_check
    from gudgeon.report.log_rows import weighed_section
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import told_of
    from gudgeon.shop.log import Log

    wanted = Shop(units)
    with Log.look(shop) as log:
        record = log.lure(lure)
    with opened(file) as design_file:
        answer = as_weighed(design_file.design, design_file.stamp, record)
    check, section = answer.check, weighed_section(answer, wanted)
    if keep:
        asked = (design_file.text, design_file.stamp)
        told = (headline(check, wanted), (section, *check_sections(check, wanted)), told_of(check.findings, wanted))
        check = replace(check, findings=(*check.findings, kept(shop, lure, "check", asked, told)))
    if as_json:
        print(check_json(check, wanted, design_file.stamp, (section,)))
    else:
        show_check(check, wanted, design_file.stamp, color, (section,))


def _drilling(reader: OptionReader, bit: str | None, holes: int) -> "Drilling | None":
    from gudgeon.answers.batching import Drilling
    from gudgeon.answers.boring import mass_in_bore

    if bit is None:
        return None
    bore = reader.look("--bit", lambda: mass_in_bore(bit, stuff_of(reader, "--bit", "lead")))
    return None if bore is None else Drilling(bore[0], bore[1], holes)


def _tell(listed: "Listed", as_json: bool, color: str) -> None:
    from gudgeon.report.text import show

    show(listed.rows if as_json else listed.lines, listed.headline, [], as_json, color=color)
