"""Files of every version there ever was are read by this one; a step that breaks leaves the file as it was."""

import json
import sqlite3
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from gudgeon.errors import BadShop
from gudgeon.shop import migrations
from gudgeon.shop.backups import restore
from gudgeon.shop.carrying import as_json
from gudgeon.shop.database import APPLICATION, FILE_NAME, check_whole, newest
from gudgeon.shop.log import Log
from gudgeon.shop.records import Note

HERE = Path(__file__).parent
VERSIONS = range(1, newest() + 1)
Clock = Callable[[], str]


def stored(version: int, folder: Path) -> Path:
    """A shop's folder with the log that a gudgeon of that version wrote, made of its stored text."""
    connection = sqlite3.connect(folder / FILE_NAME)
    connection.executescript((HERE / f"version_{version}.sql").read_text(encoding="utf-8"))
    connection.close()
    return folder


def schema(log: Log) -> dict[str, str]:
    """Every table, index and trigger, and how it is made."""
    rows = log.database.ask("SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL")
    return {row["name"]: " ".join(row["sql"].replace('"', "").split()) for row in rows}


@pytest.mark.parametrize("version", VERSIONS)
def test_a_log_of_each_version_is_read_whole(version: int, tmp_path: Path) -> None:
    told = json.loads((HERE / f"version_{version}.json").read_text(encoding="utf-8"))
    with Log.open(stored(version, tmp_path)) as log:
        check_whole(log.database)
        assert json.loads("".join(as_json(log)))["entries"] == told["entries"]
        assert log.note(1, Note("goes on")) > len(told["entries"])
        row = log.database.one("PRAGMA user_version")
        assert row is not None
        assert row[0] == newest()


@pytest.mark.parametrize("version", VERSIONS)
def test_a_log_of_each_version_becomes_what_a_new_one_is(version: int, tmp_path: Path) -> None:
    with Log.open(stored(version, tmp_path)) as old, Log.start(tmp_path / "new") as new:
        assert schema(old) == schema(new)


@pytest.mark.parametrize("version", VERSIONS)
def test_the_stored_samples_hold_every_kind_of_entry_of_their_version(version: int) -> None:
    told = json.loads((HERE / f"version_{version}.json").read_text(encoding="utf-8"))["entries"]
    first = {"board", "stock", "pattern", "lure", "weighing", "jug", "ballast", "fitting", "timed_drop", "attitude",
             "tow_test", "change", "note", "photo"}  # fmt: skip
    since_2 = {"answer"} if version >= 2 else set()
    assert first | since_2 <= {entry["kind"] for entry in told}
    assert any(entry["corrects"] for entry in told)
    assert any(entry["struck"] for entry in told)


def test_an_older_log_where_nothing_can_be_written_is_refused_with_the_way_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = stored(1, tmp_path) / FILE_NAME
    before = path.read_bytes()
    monkeypatch.setattr("gudgeon.shop.database._can_write", lambda folder: False)
    with pytest.raises(BadShop, match=r"an older gudgeon wrote it.* Copy the folder to a disk that can be written to"):
        Log.look(tmp_path)
    assert path.read_bytes() == before
    assert [found.name for found in tmp_path.iterdir()] == [FILE_NAME]


def test_a_backup_of_an_older_log_is_restored_and_brought_up_to_date(tmp_path: Path) -> None:
    (tmp_path / "old").mkdir()
    path = stored(1, tmp_path / "old") / FILE_NAME
    told = json.loads((HERE / "version_1.json").read_text(encoding="utf-8"))["entries"]
    with zipfile.ZipFile(tmp_path / "old.zip", "w") as packed:
        packed.write(path, FILE_NAME)
    restore(tmp_path / "old.zip", tmp_path / "new")
    with Log.open(tmp_path / "new") as log:
        assert json.loads("".join(as_json(log)))["entries"] == told
        row = log.database.one("PRAGMA user_version")
        assert row is not None
        assert row[0] == newest()


MORE = ("CREATE TABLE learned (entry INTEGER PRIMARY KEY REFERENCES entry (id), value REAL NOT NULL)",
        "CREATE INDEX learned_value ON learned (value)")  # fmt: skip


def test_a_later_step_brings_an_older_log_up_to_date(
    twelve: Log, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = "".join(as_json(twelve))
    twelve.database.close()
    monkeypatch.setattr(migrations, "MIGRATIONS", (*migrations.MIGRATIONS, MORE))
    with Log.open(twelve.folder, clock) as log:
        assert "learned" in schema(log)
        assert "".join(as_json(log)) == before
    monkeypatch.undo()
    with pytest.raises(BadShop, match="a newer gudgeon wrote it"):
        Log.open(twelve.folder)


def test_a_step_that_breaks_half_way_leaves_nothing_of_itself(twelve: Log, monkeypatch: pytest.MonkeyPatch) -> None:
    before, told = schema(twelve), "".join(as_json(twelve))
    twelve.database.close()
    monkeypatch.setattr(migrations, "MIGRATIONS", (*migrations.MIGRATIONS, (*MORE, "CREATE TABLE entry (id)")))
    with pytest.raises(sqlite3.OperationalError, match="already exists"):
        Log.open(twelve.folder)
    monkeypatch.undo()
    with Log.open(twelve.folder) as log:
        assert schema(log) == before
        assert "".join(as_json(log)) == told


def test_a_new_log_has_its_mark_and_version(log: Log) -> None:
    head = (log.folder / FILE_NAME).read_bytes()[:100] if log.database.ask("PRAGMA wal_checkpoint") else b""
    assert head[68:72] == APPLICATION.to_bytes(4, "big")
    assert int.from_bytes(head[60:64], "big") == newest()
