"""The log for other programs, and kept safe: export, import, backup, restore."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli import log_options as say
from gudgeon.cli.log_options import HERE, tell

if TYPE_CHECKING:
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import OfLure

MOST_TAKEN_IN = 500_000_000  # bytes of a file to be taken in


def add_file_commands(app: typer.Typer) -> None:
    """Put the commands on files of the log on an app."""
    for name, command in (("export", export_command), ("import", import_command), ("backup", backup_command),
                          ("restore", restore_command)):  # fmt: skip
        app.command(name)(command)


def export_command(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A new file: .csv for a spreadsheet, or .json.")],
    kind: Annotated[list[str] | None, typer.Option(help="Only this kind: weighing, jug, ... Repeat it.")] = None,
    shop: say.ShopFolder = HERE, as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Every entry, corrected ones too, for other programs.

    CSV is in grams, millimetres and degrees, JSON in SI units. Pictures stay in the folder; a backup takes them along.

    \b
    Example:
      gudgeon log export log.csv
    """
    from gudgeon.design.file import save_new
    from gudgeon.errors import BadShop, Fault
    from gudgeon.shop.carrying import as_json as json_lines
    from gudgeon.shop.carrying import rows
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import KINDS
    from gudgeon.shop.spreadsheet import as_csv

    faults = [Fault("--kind", f"'{one}' is none; say one of {', '.join(KINDS)}")
              for one in kind or [] if one not in KINDS]  # fmt: skip
    if file.suffix.lower() not in (".csv", ".json"):
        faults.append(Fault("FILE", f"'{file.name}': end it in .csv or .json"))
    if faults:
        raise BadShop("nothing was exported", faults)
    with Log.look(shop) as log:
        wanted = tuple(kind or ())
        is_json = file.suffix.lower() == ".json"
        text = "".join(json_lines(log, wanted)) if is_json else f"\ufeff{as_csv(rows(log, wanted))}"
    save_new(file, text)
    tell(f"{file} is written.", as_json, color)


def import_command(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="What export wrote, or your own table: .csv, .json.")],
    sure: say.Sure = False, shop: say.ShopFolder = HERE, as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """Entries from a file, all or none; what looks like a slip is questioned.

    A table of your own needs a column 'kind', and those its kinds have: lure, stage, piece, mass, each cell with its
    unit unless the column's name has it, as in mass_g.

    \b
    Example:
      gudgeon log import weights.csv
    """
    from gudgeon.shop.carrying import from_json, take_in
    from gudgeon.shop.log import Log
    from gudgeon.shop.spreadsheet import from_csv

    text = _text(file)
    told = from_json(text) if file.suffix.lower() == ".json" else from_csv(text)
    with Log.open(shop) as log:
        count = take_in(log, told, None if sure else _odd)
    tell(f"1 entry from {file} is in the log." if count == 1 else f"{count} entries from {file} are in the log.",
         as_json, color)  # fmt: skip


def backup_command(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A new file; name it .zip.")],
    shop: say.ShopFolder = HERE, as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """The log and its pictures in one file.

    \b
    Example:
      gudgeon log backup shop-may.zip
    """
    from gudgeon.shop.backups import back_up
    from gudgeon.shop.log import Log

    with Log.look(shop) as log:
        made = back_up(log, file)
    gone = f" Not there any more: {', '.join(made.missing)}." if made.missing else ""
    tell(f"{file} is written: {made.entries} entries, {made.photos} pictures.{gone}", as_json, color)


def restore_command(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="What backup wrote.")],
    replace: Annotated[bool, typer.Option("--replace", help="The log that is there is set aside.")] = False,
    shop: say.ShopFolder = HERE, as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """A shop's folder from a backup.

    \b
    Example:
      gudgeon log restore shop-backup.zip --shop restored
    """
    from gudgeon.shop.backups import restore

    made = restore(file, shop, replace=replace)
    aside = f" The log that was there is now {made.aside.name}." if made.aside else ""
    tell(f"{shop} is restored: {made.entries} entries, {made.photos} pictures.{aside}", as_json, color)


def _odd(log: "Log", lure: int, record: "OfLure") -> list[str]:
    """What is odd about a row, as it is told."""
    from gudgeon.answers.odd_entries import oddities
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import told_of

    return [one.words for one in told_of(oddities(log, lure, record), Shop.METRIC)]


def _text(file: Path) -> str:
    """The text of a file to be taken in; raises BadShop."""
    from gudgeon.errors import BadShop, Fault

    words = ""
    try:
        if file.stat().st_size <= MOST_TAKEN_IN:
            return file.read_bytes().decode("utf-8-sig")
        words = "it is larger than 500 MB"
    except UnicodeDecodeError:
        words = "it is not plain text; save it as UTF-8"
    except (OSError, ValueError) as error:
        words = f"the computer will not open it: {getattr(error, 'strerror', None) or error}"
    raise BadShop("the file cannot be taken in", [Fault(str(file), words)])
