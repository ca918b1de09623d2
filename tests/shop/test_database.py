"""The file of a shop: opened, refused with the way out, kept whole."""

import ast
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from gudgeon.errors import BadShop
from gudgeon.shop import database, migrations
from gudgeon.shop.database import APPLICATION, FILE_NAME, newest
from gudgeon.shop.log import Log
from gudgeon.shop.records import Note, Weighing
from gudgeon.units import Reading

SHOP_SOURCE = Path(database.__file__).parent
WHOLE = Weighing("shaped", Reading(0.0452))


def refusal(folder: Path) -> str:
    with pytest.raises(BadShop) as found:
        Log.open(folder)
    return str(found.value)


def pragma(log: Log, name: str) -> object:
    row = log.database.one(f"PRAGMA {name}")
    return None if row is None else row[0]


def test_a_log_is_kept_as_safely_as_the_disk_allows(log: Log) -> None:
    assert pragma(log, "journal_mode") == "wal"
    assert pragma(log, "synchronous") == 2  # FULL
    assert pragma(log, "foreign_keys") == 1
    assert pragma(log, "application_id") == APPLICATION
    assert pragma(log, "user_version") == newest() == len(migrations.MIGRATIONS)


def test_starting_again_leaves_what_is_there(twelve: Log) -> None:
    number = twelve.weigh(1, WHOLE)
    with Log.start(twelve.folder) as again:
        assert again.lure_count() == 12
        assert again.entry(number).what == WHOLE


def test_a_folder_without_a_log_says_how_to_begin_one(tmp_path: Path) -> None:
    assert "there is no such folder. Begin one: gudgeon log start" in refusal(tmp_path / "nowhere")
    assert "there is no log in it" in refusal(tmp_path)


def test_a_start_that_was_broken_off_is_told_and_can_be_done_again(tmp_path: Path, glider: str) -> None:
    (tmp_path / FILE_NAME).touch()
    assert "its start was broken off" in refusal(tmp_path)
    with Log.start(tmp_path) as log:
        log.add_pattern(glider)
    with Log.open(tmp_path) as log:
        assert len(log.standing("pattern")) == 1


def test_a_file_from_a_newer_gudgeon_is_left_alone(twelve: Log) -> None:
    twelve.database.ask(f"PRAGMA user_version = {newest() + 1}")
    twelve.database.close()
    before = (twelve.folder / FILE_NAME).read_bytes()
    words = f"a newer gudgeon wrote it: version {newest() + 1}, where this one knows {newest()}"
    assert words in refusal(twelve.folder)
    with pytest.raises(BadShop, match="Bring gudgeon up to date"):
        Log.start(twelve.folder)
    assert (twelve.folder / FILE_NAME).read_bytes() == before


def test_another_programs_database_is_left_alone(tmp_path: Path) -> None:
    other = sqlite3.connect(tmp_path / FILE_NAME)
    other.execute("CREATE TABLE recipes (name TEXT)")
    other.commit()
    other.close()
    before = (tmp_path / FILE_NAME).read_bytes()
    assert "a database of something else" in refusal(tmp_path)
    with pytest.raises(BadShop, match="something else"):
        Log.start(tmp_path)
    assert (tmp_path / FILE_NAME).read_bytes() == before


@pytest.mark.parametrize("content", [b"not a database at all, but long enough to be one: " * 30, b"x", b"\xff" * 5000])
def test_what_is_no_database_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / FILE_NAME).write_bytes(content)
    assert "it is no log: its content is something else" in refusal(tmp_path)
    assert (tmp_path / FILE_NAME).read_bytes() == content


def test_a_file_cut_short_anywhere_is_refused_with_the_way_out(twelve: Log) -> None:
    for number in range(1, 13):
        twelve.weigh(number, WHOLE)
    twelve.database.close()
    path = twelve.folder / FILE_NAME
    whole = path.read_bytes()
    for length in (*range(1, 100, 7), *range(100, len(whole), 3001), len(whole) - 1):
        path.write_bytes(whole[:length])
        words = refusal(twelve.folder)
        assert "cut short" in words, length
        assert "gudgeon log restore FILE" in words
        assert path.read_bytes() == whole[:length]


def test_pages_overwritten_with_rubbish_are_found_when_they_are_read(twelve: Log) -> None:
    for number in range(1, 13):
        twelve.note(number, Note("knot under the left cheek " * 20))
    twelve.database.close()
    path = twelve.folder / FILE_NAME
    whole = bytearray(path.read_bytes())
    whole[4096:-1024] = b"\xa5" * (len(whole) - 4096 - 1024)
    path.write_bytes(bytes(whole))
    with pytest.raises(BadShop, match="cut short or damaged"):  # noqa: SIM117
        with Log.open(twelve.folder) as log:
            log.history()


READ_ONLY = """
import os, sys
from pathlib import Path
from gudgeon.errors import BadShop
from gudgeon.shop.log import Log
if os.geteuid() == 0:
    os.setuid(65534)  # root may write anywhere; nobody may not
folder = Path(sys.argv[1])
with Log.look(folder) as log:
    print(log.lure_count(), "lures")
for door in (Log.open, Log.start):
    try:
        door(folder)
    except BadShop as refusal:
        print(refusal)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="permissions of another kind")
def test_a_read_only_folder_can_be_looked_into_and_not_written_to(twelve: Log) -> None:
    twelve.database.close()
    place = Path(tempfile.mkdtemp())  # a test's own folder is closed to nobody
    try:
        shutil.copytree(twelve.folder, place / "shop")
        for path, mode in ((place, 0o755), (place / "shop" / FILE_NAME, 0o444), (place / "shop", 0o555)):
            path.chmod(mode)
        done = subprocess.run([sys.executable, "-c", READ_ONLY, str(place / "shop")], capture_output=True, text=True,
                              check=False)  # fmt: skip
        assert done.returncode == 0, done.stderr
        said = done.stdout
        assert said.startswith("12 lures\n")
        assert said.count("nothing can be written there; looking still can") == 2
        assert sorted(path.name for path in (place / "shop").iterdir()) == [FILE_NAME]
    finally:
        (place / "shop").chmod(0o755)
        shutil.rmtree(place)


def fill_up(log: Log, numbers: list[int]) -> None:
    """Enter notes until it is refused, or there were two hundred."""
    for _ in range(200):
        numbers.append(log.note(1, Note("one more of the same " * 20)))


def test_a_full_disk_is_told_and_nothing_is_lost(twelve: Log) -> None:
    pages = twelve.database.one("PRAGMA page_count")
    assert pages is not None
    twelve.database.ask(f"PRAGMA max_page_count = {pages[0] + 2}")
    numbers: list[int] = []
    with pytest.raises(BadShop, match=r"the disk is full\. Make room, then do it again; nothing was entered"):
        fill_up(twelve, numbers)
    twelve.database.ask("PRAGMA max_page_count = 1000000")
    assert [twelve.entry(number).what for number in numbers] == [Note("one more of the same " * 20)] * len(numbers)
    assert twelve.note(1, Note("there is room again")) == numbers[-1] + 1
    database.check_whole(twelve.database)


def test_a_writer_that_does_not_finish_is_told_of(twelve: Log) -> None:
    other = Log(twelve.folder, database.open_for_writing(twelve.folder, patience=0.05))
    with twelve.together():
        twelve.note(1, Note("being written"))
        with pytest.raises(BadShop, match="another gudgeon is writing to it"):
            other.note(2, Note("waits"))
    assert other.note(2, Note("waits")) > 0
    other.database.close()


def test_what_is_entered_together_stands_together_or_not_at_all(twelve: Log) -> None:
    before = len(twelve.history(limit=1000))
    with pytest.raises(BadShop), twelve.together():  # noqa: PT012
        twelve.weigh(1, WHOLE)
        twelve.weigh(99, WHOLE)
    assert len(twelve.history(limit=1000)) == before


def test_nothing_that_was_entered_can_be_changed_or_erased(twelve: Log) -> None:
    twelve.weigh(1, WHOLE)
    for question in ("UPDATE weighing SET mass = 1.0", "DELETE FROM weighing", "UPDATE entry SET remark = 'x'",
                     "DELETE FROM entry", "UPDATE lure SET number = 13", "DELETE FROM pattern"):  # fmt: skip
        with pytest.raises(sqlite3.IntegrityError, match="what is entered stays"):
            twelve.database.ask(question)


def test_an_entry_about_a_lure_that_is_not_there_cannot_be_kept(log: Log) -> None:
    with pytest.raises(sqlite3.IntegrityError):
        log.database.ask("INSERT INTO entry (kind, lure, done, made) VALUES ('note', 77, '', '')")


def test_statements_run_one_by_one_and_values_are_never_pasted_in() -> None:
    for path in SHOP_SOURCE.glob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        called = {node.func.attr for node in ast.walk(tree)
                  if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)}  # fmt: skip
        assert "executescript" not in called, path.name
        if path.name != "database.py":
            assert not called & {"execute", "executemany", "cursor"}, path.name
