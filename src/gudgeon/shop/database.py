"""The SQLite file of a shop: opened, brought up to date, and kept whole; every refusal says the way out.

A commit is on the disk before it is told as done (write-ahead log, synchronous=FULL). A file that is not the shop's,
that a newer gudgeon wrote, that is cut short, or that cannot be written to is refused before anything is done to it.
"""

import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from gudgeon.errors import BadShop, Fault
from gudgeon.shop import migrations

FILE_NAME = "shop.sqlite3"
APPLICATION = int.from_bytes(b"Gdgn", "big")  # the mark in a file's head that it is a shop's log
PATIENCE = 5.0  # s to wait for another writer
_MAGIC = b"SQLite format 3\x00"
_HEAD = 100  # bytes of an SQLite file's own head
_RESTORE = "Put a backup in its place: gudgeon log restore FILE"

Parameters = Sequence[Any] | dict[str, Any]


def newest() -> int:
    """The version this gudgeon writes."""
    return len(migrations.MIGRATIONS)


class Database:
    """One open file, and the only place that hands SQL to it; values go in as parameters, never as text."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path = path
        self.connection = connection
        connection.row_factory = sqlite3.Row

    def ask(self, sql: str, parameters: Parameters = ()) -> list[sqlite3.Row]:
        """Every row of a question; raises BadShop when the file cannot be read."""
        with told(self.path):
            return self.connection.execute(sql, parameters).fetchall()

    def one(self, sql: str, parameters: Parameters = ()) -> sqlite3.Row | None:
        """The first row of a question, or None."""
        with told(self.path):
            found: sqlite3.Row | None = self.connection.execute(sql, parameters).fetchone()
            return found

    def put(self, table: str, row: dict[str, Any]) -> int:
        """Write one row, inside a transaction; returns its number.

        table, and the row's keys : names of this package's own, never the maker's words
        """
        places = ", ".join(f":{column}" for column in row)
        sql = f"INSERT INTO {table} ({', '.join(row)}) VALUES ({places})"
        with told(self.path):
            return int(self.connection.execute(sql, row).lastrowid or 0)

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All that is put inside is written, or none of it; one inside another is part of it. Raises BadShop."""
        if self.connection.in_transaction:
            yield
            return
        with told(self.path):
            self.connection.execute("BEGIN IMMEDIATE")
        try:
            yield
            with told(self.path):
                self.connection.execute("COMMIT")
        except BaseException:
            if self.connection.in_transaction:
                self.connection.execute("ROLLBACK")
            raise

    def copied_to(self, path: Path) -> None:
        """Write the log as it now stands, however many still write to it, into a file of its own; raises BadShop."""
        with told(path):
            other = sqlite3.connect(path)
            try:
                self.connection.backup(other)
            finally:
                other.close()

    def close(self) -> None:
        """Close the file."""
        self.connection.close()


def create(folder: Path, patience: float = PATIENCE) -> Database:
    """The log of a shop folder, begun when it is not there yet, or when beginning it was broken off; raises BadShop."""
    path = folder / FILE_NAME
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _refused(folder, f"the folder cannot be made: {error.strerror}. Name another place") from None
    _writable(folder)
    if path.exists():
        _looked_over(path)
    found = _connected(path, f"{path.resolve().as_uri()}?mode=rwc", patience)
    return _ready(found, may_begin=True)


def open_for_writing(folder: Path, patience: float = PATIENCE) -> Database:
    """The log of a shop folder, brought up to date; raises BadShop."""
    path = _there(folder)
    _writable(folder)
    _looked_over(path)
    return _ready(_connected(path, f"{path.resolve().as_uri()}?mode=rw", patience), may_begin=False)


def open_for_reading(folder: Path) -> Database:
    """The log of a shop folder to look into, also where nothing can be written; raises BadShop."""
    path = _there(folder)
    if _can_write(folder):
        return open_for_writing(folder)
    _looked_over(path)
    if _unmerged(path):
        raise _refused(path, "its last entries can be read only where files can be written. Copy the folder to a disk "
                             "that can be written to, and look there")  # fmt: skip
    found = _connected(path, f"{path.resolve().as_uri()}?mode=ro&immutable=1", PATIENCE)
    if _version(found) != newest():
        raise _refused(path, "an older gudgeon wrote it, and it cannot be brought up to date here. Copy the folder to "
                             "a disk that can be written to")  # fmt: skip
    return found


def verified(path: Path) -> None:
    """Nothing, when a file is a whole log: every page, index and reference; raises BadShop."""
    _looked_over(path)
    found = _connected(path, f"{path.resolve().as_uri()}?mode=ro&immutable=1", PATIENCE)
    try:
        if _version(found) == 0:
            raise _refused(path, f"there is no log in it. {_RESTORE}")
        check_whole(found)
    finally:
        found.close()


def check_whole(database: Database) -> None:
    """Nothing, when every page, index and reference of an open log is right; raises BadShop."""
    faults = [row[0] for row in database.ask("PRAGMA integrity_check(5)") if row[0] != "ok"]
    if faults or database.ask("PRAGMA foreign_key_check"):
        raise _refused(database.path, f"it is damaged inside. {_RESTORE}")


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Troubles of the file, said in words with the way out; what is our own fault is passed on as it is.

    raises : BadShop
    """
    try:
        yield
    except sqlite3.DatabaseError as error:
        words = _WORDS.get(getattr(error, "sqlite_errorcode", 0) & 0xFF)
        if words is None:
            raise
        raise _refused(path, words) from None
    except (OverflowError, UnicodeEncodeError):
        raise _refused(path, "a number too large to be kept, or a letter that is none, was asked for") from None


_WORDS = {
    sqlite3.SQLITE_BUSY: "another gudgeon is writing to it and has not finished. Wait a little, then do it again; "
                         "nothing was entered",
    sqlite3.SQLITE_LOCKED: "another gudgeon holds it. Wait a little, then do it again; nothing was entered",
    sqlite3.SQLITE_READONLY: "it cannot be written to. Copy the folder to a disk that can be; nothing was entered",
    sqlite3.SQLITE_CANTOPEN: "the computer will not open it, or cannot write beside it. See who may write to the "
                             "folder, or copy it elsewhere; nothing was entered",
    sqlite3.SQLITE_FULL: "the disk is full. Make room, then do it again; nothing was entered, and all that was there "
                         "stands",
    sqlite3.SQLITE_IOERR: "the computer could not read or write there: a full or failing disk. Make room or copy the "
                          "folder to another disk; nothing was entered",
    sqlite3.SQLITE_PERM: "the computer will not let it be written to. Copy the folder elsewhere; nothing was entered",
    sqlite3.SQLITE_CORRUPT: f"it is cut short or damaged. {_RESTORE}",
    sqlite3.SQLITE_NOTADB: f"it is no log: its content is something else, or damaged. {_RESTORE}",
}  # fmt: skip


def _refused(path: Path, words: str) -> BadShop:
    return BadShop("the shop's log cannot be used", [Fault(str(path), words)])


def _there(folder: Path) -> Path:
    path = folder / FILE_NAME
    if not path.is_file():
        what = "there is no such folder" if not folder.is_dir() else "there is no log in it"
        raise _refused(folder, f"{what}. Begin one: gudgeon log start {folder}; or name the shop's folder with --shop")
    return path


def _can_write(folder: Path) -> bool:
    path = folder / FILE_NAME
    return os.access(folder, os.W_OK) and (not path.exists() or os.access(path, os.W_OK))


def _writable(folder: Path) -> None:
    if not _can_write(folder):
        raise _refused(folder, "nothing can be written there; looking still can. Copy the folder to a disk that can be "
                               "written to, or have its owner allow it")  # fmt: skip


def _unmerged(path: Path) -> bool:
    """Whether the log of last writes beside a file still holds any."""
    beside = path.with_name(path.name + "-wal")
    return beside.exists() and beside.stat().st_size > 0


def _looked_over(path: Path) -> None:
    """Nothing, when a file's head is a log's and the file as long as the head says; raises BadShop.

    An empty file is passed: nothing is in it, and `_ready` says what that means. While writes still wait beside the
    file its length may lag behind its head; then SQLite itself puts the two together.
    """
    try:
        with path.open("rb") as file:
            head = file.read(_HEAD)
        size = path.stat().st_size
    except OSError as error:
        raise _refused(path, f"the computer will not open it: {error.strerror}") from None
    if not head:
        return
    if len(head) < _HEAD or not head.startswith(_MAGIC):
        cut = _MAGIC.startswith(head[: len(_MAGIC)])
        raise _refused(path, f"it is cut short. {_RESTORE}" if cut else f"it is no log: its content is something else. "
                             f"{_RESTORE}")  # fmt: skip
    page = int.from_bytes(head[16:18], "big")
    pages, counted = int.from_bytes(head[28:32], "big"), head[24:28] == head[92:96]
    if counted and not _unmerged(path) and size < pages * (65536 if page == 1 else page):
        raise _refused(path, f"it is cut short. {_RESTORE}")


def _connected(path: Path, uri: str, patience: float) -> Database:
    with told(path):
        connection = sqlite3.connect(uri, uri=True, timeout=patience, isolation_level=None)
    found = Database(path, connection)
    try:
        found.ask("PRAGMA foreign_keys = ON")
        found.ask("PRAGMA synchronous = FULL")
        found.ask("PRAGMA trusted_schema = OFF")
        _check_is_ours(found)
    except BaseException:
        found.close()
        raise
    return found


def _version(database: Database) -> int:
    found = database.one("PRAGMA user_version")
    return 0 if found is None else int(found[0])


def _check_is_ours(database: Database) -> None:
    """Nothing, when the file is a log that this gudgeon knows, or holds nothing at all; raises BadShop."""
    mark = database.one("PRAGMA application_id")
    empty = not database.ask("SELECT name FROM sqlite_master LIMIT 1")
    if mark is None or (mark[0] != APPLICATION and not (empty and mark[0] == 0)):
        raise _refused(database.path, "it is a database of something else. Name another folder with --shop")
    version = _version(database)
    if version > newest():
        raise _refused(database.path, f"a newer gudgeon wrote it: version {version}, where this one knows {newest()}. "
                                      "Bring gudgeon up to date; nothing was changed")  # fmt: skip


def _ready(database: Database, *, may_begin: bool) -> Database:
    """The same log in its newest version; raises BadShop."""
    try:
        version = _version(database)
        if version == 0 and not may_begin:
            words = "there is nothing in it: its start was broken off, or its content is lost"
            raise _refused(database.path, f"{words}. {_RESTORE}; or begin anew: gudgeon log start "
                                          f"{database.path.parent}")  # fmt: skip
        database.ask("PRAGMA journal_mode = WAL")
        if version < newest():
            brought_up_to_date(database)
    except BaseException:
        database.close()
        raise
    return database


def brought_up_to_date(database: Database) -> None:
    """Every step that is still missing, each in one transaction of its own; raises BadShop."""
    while True:
        with database.transaction():
            version = _version(database)  # asked with the lock held: another may have been quicker
            if version >= newest():
                return
            for statement in migrations.MIGRATIONS[version]:
                database.ask(statement)
            database.ask(f"PRAGMA application_id = {APPLICATION}")
            database.ask(f"PRAGMA user_version = {version + 1}")
