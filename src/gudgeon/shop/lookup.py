"""What goes by a name or a number in the log, found; what is not there, refused with the nearest that is."""

from difflib import get_close_matches
from typing import Any

from gudgeon.errors import BadShop, Fault
from gudgeon.shop.database import Database
from gudgeon.shop.entries import STANDS, lure_roots


def not_entered(place: str, words: str) -> BadShop:
    """The refusal of one entry."""
    return BadShop("nothing was entered", [Fault(place, words)])


def no_lure(number: int) -> BadShop:
    """The refusal of a number that no lure has."""
    return BadShop("the log has no such lure", [Fault(f"lure {number}", "gudgeon log list shows those there are")])


def lure_root(database: Database, number: int) -> int:
    """The first entry of a lure by its number; raises BadShop."""
    roots = lure_roots(database, number)
    if not roots:
        raise no_lure(number)
    return roots[-1]


def root_of(database: Database, kind: str, name: str) -> int | None:
    """The first entry of the board or pattern of a name, the newest where there are several; None for none."""
    rows = database.ask(
        f"SELECT COALESCE(e.root, e.id) AS root FROM {kind} k JOIN entry e ON e.id = k.entry WHERE k.name = ? AND "
        f"{STANDS.format('e')} ORDER BY e.id DESC LIMIT 1", (name,))  # fmt: skip
    return int(rows[0]["root"]) if rows else None


def sifted(
    database: Database, pattern: str | None, run: int | None, board: str | None
) -> tuple[str | None, int | None, str | None]:
    """What a list is sifted by, with pattern and board named as they stand in the log."""
    return (None if pattern is None else as_entered(database, "pattern", pattern), run,
            None if board is None else as_entered(database, "board", board))  # fmt: skip


def as_entered(database: Database, kind: str, name: str) -> str:
    """A board's or pattern's name as it stands in the log, capitals no matter where just one is so called."""
    if root_of(database, kind, name) is not None:
        return name
    alike = [known for known in _names(database, kind) if known.casefold() == name.strip().casefold()]
    return alike[0] if len(alike) == 1 else name


def _names(database: Database, kind: str) -> list[str]:
    rows = database.ask(f"SELECT DISTINCT k.name FROM {kind} k JOIN entry e ON e.id = k.entry WHERE "
                        f"{STANDS.format('e')} ORDER BY k.name")  # fmt: skip
    return [row["name"] for row in rows]


def needed_root(database: Database, kind: str, name: str) -> int:
    """The same, capitals no matter where just one is so called; raises BadShop with the nearest names."""
    root = root_of(database, kind, as_entered(database, kind, name))
    if root is not None:
        return root
    names = _names(database, kind)
    offer = get_close_matches(name, names, n=3, cutoff=0.4) or names[:6]
    there = f"there are {', '.join(offer)}" if len(offer) > 1 else f"there is {offer[0]}" if offer else (
        f"there is none yet: gudgeon log add {kind} --help")  # fmt: skip
    raise BadShop(f"the log has no such {kind}", [Fault(f"the {kind}", f"none is called '{name}'; {there}")])


def pattern_root(database: Database, name: str, version: int | None = None) -> int:
    """The entry of a pattern's version, the newest when it is left out; raises BadShop."""
    name = as_entered(database, "pattern", name)
    newest = needed_root(database, "pattern", name)
    if version is None:
        return newest
    rows = database.ask(
        "SELECT e.id, p.version FROM pattern p JOIN entry e ON e.id = p.entry WHERE p.name = ? AND "
        f"{STANDS.format('e')} ORDER BY p.version", (name,))  # fmt: skip
    for row in rows:
        if row["version"] == version:
            return int(row["id"])
    there = ", ".join(str(row["version"]) for row in rows)
    raise BadShop("the log has no such pattern", [Fault("the version", f"{name} has no version {version}; it has "
                                                                        f"{there}")])  # fmt: skip


def made_of(database: Database, kind: str, root: int) -> int | None:
    """The number of a lure that is made of a pattern or board; None when none is."""
    row = database.one(f"SELECT l.number FROM lure l JOIN entry e ON e.id = l.entry WHERE l.{kind} = ? AND "
                       f"{STANDS.format('e')} LIMIT 1", (root,))  # fmt: skip
    return None if row is None else int(row["number"])


def lure_about(database: Database, entry: int) -> int | None:
    """The first entry of the lure that an entry is about."""
    row = database.one("SELECT lure FROM entry WHERE id = ?", (entry,))
    return None if row is None else row["lure"]


def pattern_of(database: Database, lure: int) -> int:
    """The entry of the pattern's version that a lure, by its first entry, is made of now."""
    row = database.one("SELECT l.pattern FROM lure l JOIN entry e ON e.id = l.entry WHERE COALESCE(e.root, e.id) = ? "
                       f"AND {STANDS.format('e')}", (lure,))  # fmt: skip
    assert row is not None  # asked of lures that stand
    return int(row["pattern"])


def next_number(database: Database, question: str, *parameters: Any) -> int:
    """One more than the largest that a question finds; 1 when there is none."""
    row = database.one(question, parameters)
    return ((row[0] if row else None) or 0) + 1
