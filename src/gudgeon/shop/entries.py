"""What stands in the log, read: entries with their records, a lure's whole record, lists."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from sqlite3 import Row
from typing import Any, Generic, TypeVar

from gudgeon.shop.columns import record_of
from gudgeon.shop.database import Database
from gudgeon.shop.records import (
    KIND_OF,
    KINDS,
    STEPS,
    Ballast,
    Board,
    Jug,
    Lure,
    Pattern,
    Record,
    TimedDrop,
    TowTest,
    Weighing,
)

Kept = TypeVar("Kept", bound=Record)
Seen = TypeVar("Seen", Weighing, Jug, Ballast, TimedDrop, TowTest)
_STAGE = {step: stage for stage, step in STEPS.items()}
_AT_ONCE = 500  # entries whose records are fetched in one question
_ENTRY = (
    "SELECT e.*, n.id AS corrected_by, l.number AS of_lure FROM entry e LEFT JOIN entry n ON n.corrects = e.id "
    "LEFT JOIN lure l ON l.entry = e.lure "
)
STANDS = "{0}.void = 0 AND NOT EXISTS (SELECT 1 FROM entry later WHERE later.corrects = {0}.id)"
"""That an entry is neither corrected nor struck out; {0} is what it is called in the question."""


@dataclass(frozen=True)
class Entry:
    """One entry.

    number   : its own in the log          kind : one of records.KINDS
    lure     : number of the lure it is about; None for boards, stock, patterns and the lures themselves
    root     : number of the first entry of its chain of corrections; its own where it corrects nothing
    done, made : when it was done, and when it was entered, ISO 8601
    remark   : what was said of it; of a correction, why
    corrects, corrected_by : the entry it takes the place of, and the one that took its own; None where there is none
    struck   : whether it strikes out what it corrects, and has no record
    """

    number: int
    kind: str
    lure: int | None
    root: int
    done: str
    made: str
    remark: str
    corrects: int | None
    corrected_by: int | None
    struck: bool
    what: Record | None

    @property
    def stands(self) -> bool:
        """Whether it is the latest of its chain, and not a striking out."""
        return self.corrected_by is None and not self.struck


@dataclass(frozen=True)
class LureRecord:
    """A lure, what it was built from, and every entry about it that stands, in the order of the first of each chain."""

    entry: Entry
    lure: Lure
    pattern: Pattern
    board: Board | None
    entries: tuple[Entry, ...]

    def of(self, kind: type[Kept]) -> tuple[tuple[Entry, Kept], ...]:
        """The entries of one kind with their records."""
        return tuple((entry, entry.what) for entry in self.entries if isinstance(entry.what, kind))


@dataclass(frozen=True)
class LureLine:
    """A lure in a list.

    stage : the furthest it was weighed, jugged or tried at; None when it was only begun
    mass  : [kg] of the whole at that stage, as last weighed; None when it was not
    """

    number: int
    pattern: str
    version: int
    run: int
    board: str | None
    begun: str
    stage: str | None
    mass: float | None


@dataclass(frozen=True)
class Of(Generic[Seen]):
    """A weighing, dunk, piece of ballast, drop or tow with the lure and run it belongs to."""

    lure: int
    run: int
    entry: int
    what: Seen


def entries(database: Database, where: str, parameters: Sequence[Any] = (), tail: str = "ORDER BY e.id") -> list[Entry]:
    """Entries with their records.

    where, tail : SQL of this package's own
    """
    rows = database.ask(f"{_ENTRY} WHERE {where} {tail}", parameters)
    records = _records(database, rows)
    return [_entry(row, records.get(row["id"])) for row in rows]


def every_entry(database: Database) -> Iterator[Entry]:
    """All of them, corrected ones too, in the order they were made, some hundreds in memory at a time."""
    last = 0
    while found := entries(database, "e.id > ?", (last,), f"ORDER BY e.id LIMIT {_AT_ONCE}"):
        yield from found
        last = found[-1].number


def _entry(row: Row, record: Record | None) -> Entry:
    return Entry(
        number=row["id"], kind=row["kind"], lure=row["of_lure"], root=row["root"] or row["id"], done=row["done"],
        made=row["made"], remark=row["remark"], corrects=row["corrects"], corrected_by=row["corrected_by"],
        struck=bool(row["void"]), what=record,
    )  # fmt: skip


def _records(database: Database, rows: Iterable[Row]) -> dict[int, Record]:
    """Entry number -> record, fetched kind by kind."""
    wanted: dict[str, list[int]] = defaultdict(list)
    stages: dict[int, int | None] = {}
    for row in rows:
        if not row["void"]:
            wanted[row["kind"]].append(row["id"])
            stages[row["id"]] = row["stage"]
    found: dict[int, Record] = {}
    for kind, numbers in wanted.items():
        for start in range(0, len(numbers), _AT_ONCE):
            part = numbers[start : start + _AT_ONCE]
            marks = ", ".join("?" * len(part))
            for row in database.ask(f"SELECT * FROM {kind} WHERE entry IN ({marks})", part):
                found[row["entry"]] = record_of(KINDS[kind], {**dict(row), "stage": stages[row["entry"]]})
    return found


def lure_roots(database: Database, number: int, *, standing: bool = True) -> list[int]:
    """First entries of the lures that have a number: one, or none; more only when one was struck out."""
    stands = f" AND {STANDS.format('e')}" if standing else ""
    rows = database.ask(
        "SELECT DISTINCT COALESCE(e.root, e.id) AS root FROM lure l JOIN entry e ON e.id = l.entry WHERE l.number = ?"
        f"{stands} ORDER BY root", (number,))  # fmt: skip
    return [row["root"] for row in rows]


def chain_end(database: Database, root: int) -> Entry:
    """The last entry of a chain of corrections."""
    return entries(database, "e.id = ? OR e.root = ?", (root, root), "ORDER BY e.id DESC LIMIT 1")[0]


def lure_record(database: Database, root: int) -> LureRecord:
    """Everything about the lure whose first entry is `root`."""
    entry = chain_end(database, root)
    lure = entry.what
    assert isinstance(lure, Lure)  # a lure's chain holds lures
    pattern = chain_end(database, lure.pattern).what
    board = None if lure.board is None else chain_end(database, lure.board).what
    assert isinstance(pattern, Pattern)  # a pattern with lures is not struck out
    about = entries(database, f"e.lure = ? AND {STANDS.format('e')}", (root,), "ORDER BY COALESCE(e.root, e.id)")
    return LureRecord(entry, lure, pattern, board if isinstance(board, Board) else None, tuple(about))


_STEP = f"""(SELECT s.stage FROM entry s WHERE s.lure = COALESCE(e.root, e.id) AND s.stage IS NOT NULL AND
    {STANDS.format("s")} ORDER BY s.stage DESC LIMIT 1)"""
_MASS = f"""(SELECT w.mass FROM entry s JOIN weighing w ON w.entry = s.id WHERE s.lure = found.root
    AND s.stage = found.step AND w.piece = 'whole' AND {STANDS.format("s")} ORDER BY s.id DESC LIMIT 1)"""
_LIST = f"""
    SELECT found.*, first.done AS begun, {_MASS} AS mass FROM (
        SELECT l.number, p.name AS pattern, p.version, l.run, b.name AS board, COALESCE(e.root, e.id) AS root,
            {_STEP} AS step
        FROM lure l JOIN entry e ON e.id = l.entry JOIN pattern p ON p.entry = l.pattern
        LEFT JOIN board b ON b.entry = l.board WHERE {STANDS.format("e")} {{0}}
    ) found JOIN entry first ON first.id = found.root ORDER BY found.number {{1}}
"""


def lure_lines(
    database: Database, pattern: str | None, run: int | None, board: str | None, limit: int, before: int | None
) -> list[LureLine]:
    """Lures, the highest number first.

    pattern, run, board : only those; None for all
    limit               : at most so many      before : only numbers below this one
    """
    tests = [("p.name = ?", pattern), ("l.run = ?", run), ("b.name = ?", board), ("l.number < ?", before)]
    given = [(test, value) for test, value in tests if value is not None]
    where = "".join(f" AND {test}" for test, _ in given)
    newest = f"{where} ORDER BY l.number DESC LIMIT ?"
    return _lines(database, newest, "DESC", [*(value for _, value in given), limit])


def _lines(database: Database, inside: str, order: str, parameters: Sequence[Any]) -> list[LureLine]:
    """Lures of a list; `inside` and `order` are SQL of this module's own."""
    return [
        LureLine(row["number"], row["pattern"], row["version"], row["run"], row["board"], row["begun"],
                 _STAGE.get(row["step"]), row["mass"])
        for row in database.ask(_LIST.format(inside, order), parameters)
    ]  # fmt: skip


def run_lines(database: Database, pattern: int, run: int | None) -> list[LureLine]:
    """The lures of one run of a pattern's version, by number; of its newest run when none is named."""
    if run is None:
        question = "SELECT max(l.run) FROM lure l JOIN entry e ON e.id = l.entry WHERE l.pattern = ? AND "
        newest = database.one(question + STANDS.format("e"), (pattern,))
        run = newest[0] if newest else None
    return _lines(database, "AND l.pattern = ? AND l.run = ?", "ASC", (pattern, run))


def lure_count(database: Database) -> int:
    """How many lures stand: all that were entered, less those that a later entry corrects; indices alone are read."""
    row = database.one("SELECT (SELECT count(*) FROM lure) - (SELECT count(*) FROM entry e WHERE e.corrects IS NOT "
                       "NULL AND EXISTS (SELECT 1 FROM lure WHERE entry = e.corrects))")  # fmt: skip
    return 0 if row is None else int(row[0])


_MEASURED = f"""
    SELECT l.number, l.run, s.id, s.stage, w.* FROM (
        SELECT l.number, l.run, COALESCE(e.root, e.id) AS root FROM lure l JOIN entry e ON e.id = l.entry
        WHERE l.pattern = :pattern AND (:run IS NULL OR l.run = :run) AND {STANDS.format("e")}
        ORDER BY l.number DESC LIMIT :most
    ) l JOIN entry s ON s.lure = l.root JOIN {{0}} w ON w.entry = s.id
    WHERE {STANDS.format("s")} ORDER BY l.number, s.id
"""


def measured(database: Database, kind: type[Seen], pattern: int, run: int | None, most: int) -> list[Of[Seen]]:
    """Every weighing, dunk, piece of ballast, drop or tow that stands of the newest lures of a pattern's version.

    pattern : first entry of that version      run : only that batch      most : lures, the highest numbers
    """
    rows = database.ask(_MEASURED.format(KIND_OF[kind]), {"pattern": pattern, "run": run, "most": most})
    return [Of(row["number"], row["run"], row["id"], record_of(kind, dict(row))) for row in rows]
