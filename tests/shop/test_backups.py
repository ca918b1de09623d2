"""A backup holds everything, and what is restored from it is what was backed up; pictures are kept whole."""

import zipfile
from pathlib import Path

import pytest

from gudgeon.errors import BadShop
from gudgeon.shop.backups import back_up, restore
from gudgeon.shop.carrying import as_json
from gudgeon.shop.database import FILE_NAME, check_whole
from gudgeon.shop.log import Log
from gudgeon.shop.photos import hash_of, suffix_of
from gudgeon.shop.records import KINDS, Note, Photo, Weighing
from gudgeon.units import Reading

PICTURE = b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 40
TABLES = ("entry", *KINDS)


def content(log: Log) -> dict[str, list[tuple[object, ...]]]:
    return {table: [tuple(row) for row in log.database.ask(f"SELECT * FROM {table} ORDER BY 1")] for table in TABLES}


def pictures(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in (folder / "photos").iterdir()}


@pytest.fixture
def shop(twelve: Log, tmp_path: Path) -> Log:
    """A log with weights, a correction, something struck out, and two pictures."""
    (tmp_path / "side.png").write_bytes(PICTURE)
    (tmp_path / "top.png").write_bytes(PICTURE + b"another")
    number = twelve.weigh(1, Weighing("shaped", Reading(0.045)))
    twelve.correct(number, {"mass": Reading(0.046)}, "misread")
    twelve.strike(twelve.note(2, Note("of another")), "of another")
    twelve.photo(1, tmp_path / "side.png", "left side")
    twelve.photo(2, tmp_path / "top.png")
    return twelve


def test_what_is_restored_is_what_was_backed_up(shop: Log, tmp_path: Path) -> None:
    made = back_up(shop, tmp_path / "backup.zip")
    assert (made.photos, made.missing) == (2, ())
    again = restore(tmp_path / "backup.zip", tmp_path / "again")
    assert (again.entries, again.photos, again.aside) == (made.entries, 2, None)
    with Log.open(tmp_path / "again") as other:
        check_whole(other.database)
        assert content(other) == content(shop)
        assert "".join(as_json(other)) == "".join(as_json(shop))
        assert pictures(other.folder) == pictures(shop.folder)
        assert other.note(1, Note("goes on")) == made.entries + 1


def test_a_backup_is_taken_while_another_writes(shop: Log, tmp_path: Path) -> None:
    with Log.open(shop.folder) as other:
        back_up(shop, tmp_path / "before.zip")
        other.note(1, Note("after the backup"))
        back_up(shop, tmp_path / "after.zip")
    first, second = (restore(tmp_path / f"{name}.zip", tmp_path / name) for name in ("before", "after"))
    assert second.entries == first.entries + 1


def test_a_backup_is_never_written_over(shop: Log, tmp_path: Path) -> None:
    (tmp_path / "backup.zip").write_text("an older one")
    with pytest.raises(BadShop, match="it is there already, and nothing was changed"):
        back_up(shop, tmp_path / "backup.zip")
    assert (tmp_path / "backup.zip").read_text() == "an older one"
    with pytest.raises(BadShop, match="nothing can be written there"):
        back_up(shop, tmp_path / "nowhere" / "backup.zip")
    assert [path.name for path in tmp_path.iterdir() if "part" in path.name] == []


def test_a_log_that_is_there_is_set_aside_and_not_erased(shop: Log, tmp_path: Path) -> None:
    back_up(shop, tmp_path / "backup.zip")
    before = content(shop)
    shop.note(1, Note("after the backup"))
    with pytest.raises(BadShop, match="there is a log already"):
        restore(tmp_path / "backup.zip", shop.folder)
    shop.database.close()
    made = restore(tmp_path / "backup.zip", shop.folder, replace=True)
    with Log.open(shop.folder) as found:
        assert content(found) == before
    assert made.aside is not None
    made.aside.rename(tmp_path / FILE_NAME)
    with Log.open(tmp_path) as aside:
        assert aside.lure(1).of(Note)[0][1] == Note("after the backup")


def test_a_damaged_log_is_replaced_with_what_its_refusal_says(shop: Log, tmp_path: Path) -> None:
    back_up(shop, tmp_path / "backup.zip")
    before = content(shop)
    shop.database.close()
    path = shop.folder / FILE_NAME
    path.write_bytes(path.read_bytes()[:5000])
    with pytest.raises(BadShop, match="gudgeon log restore FILE"):
        Log.open(shop.folder)
    restore(tmp_path / "backup.zip", shop.folder, replace=True)
    with Log.open(shop.folder) as found:
        assert content(found) == before


def test_a_picture_that_is_gone_is_told_of_and_the_rest_kept(shop: Log, tmp_path: Path) -> None:
    gone = shop.lure(1).of(Photo)[0][1]
    (shop.folder / "photos" / gone.file).unlink()
    made = back_up(shop, tmp_path / "backup.zip")
    assert (made.photos, made.missing) == (1, ("side.png",))


def repacked(source: Path, target: Path, change: dict[str, bytes | None]) -> Path:
    """A backup with some of its files changed, added, or left out."""
    with zipfile.ZipFile(source) as packed, zipfile.ZipFile(target, "w") as other:
        for name in packed.namelist():
            content = change.get(name, packed.read(name))
            if content is not None:
                other.writestr(name, content)
        for name in change.keys() - set(packed.namelist()):
            other.writestr(name, change[name] or b"")
    return target


def test_what_is_no_whole_backup_is_refused_and_nothing_is_made_of_it(shop: Log, tmp_path: Path) -> None:
    good = tmp_path / "backup.zip"
    back_up(shop, good)
    whole = good.read_bytes()
    with zipfile.ZipFile(good) as packed:
        names, log = packed.namelist(), packed.read(FILE_NAME)
    picture = next(name for name in names if name != FILE_NAME)
    bad = tmp_path / "bad.zip"
    cases = [
        (whole[: len(whole) // 2], "cut short or damaged"),
        (b"no archive", "cut short or damaged"),
        (whole[:200] + b"\x00" * 50 + whole[250:], "damaged"),
        ({FILE_NAME: None}, "it holds other things"),
        ({"../../escaped": b"x"}, "it holds other things"),
        ({"photos/../escaped.png": b"x"}, "it holds other things"),
        ({FILE_NAME: log[:5000]}, "cut short"),
        ({FILE_NAME: b"rubbish " * 100}, "its content is something else"),
        ({FILE_NAME: log[:8192] + b"\xa5" * 4096 + log[12288:]}, "damaged"),
        ({picture: PICTURE + b"changed"}, "is damaged"),
    ]  # fmt: skip
    for case, words in cases:
        if isinstance(case, bytes):
            bad.write_bytes(case)
        else:
            repacked(good, bad, case)
        with pytest.raises(BadShop, match=words):
            restore(bad, tmp_path / "again")
        assert not (tmp_path / "again" / FILE_NAME).exists()
        assert not list(tmp_path.rglob("*escaped*"))
        assert not list(tmp_path.rglob("*.part"))
    with pytest.raises(BadShop, match="there is no such file"):
        restore(tmp_path / "nowhere.zip", tmp_path / "again")


# --- pictures ---


def test_a_picture_is_copied_in_under_the_hash_of_its_content(shop: Log, tmp_path: Path) -> None:
    first = shop.lure(1).of(Photo)[0][1]
    kept = shop.folder / "photos" / first.file
    assert (first.name, first.suffix, first.shows) == ("side.png", "png", "left side")
    assert kept.read_bytes() == PICTURE
    assert hash_of(kept) == first.hash
    (tmp_path / "side.png").write_bytes(b"overwritten")
    assert kept.read_bytes() == PICTURE


def test_the_same_picture_twice_is_one_file(shop: Log, tmp_path: Path) -> None:
    (tmp_path / "copy.png").write_bytes(PICTURE)
    shop.photo(3, tmp_path / "copy.png")
    assert len(pictures(shop.folder)) == 2
    assert shop.lure(3).of(Photo)[0][1].hash == shop.lure(1).of(Photo)[0][1].hash


@pytest.mark.parametrize(
    ("head", "suffix"),
    [(b"\xff\xd8\xff\xe0", "jpg"), (PICTURE, "png"), (b"II*\x00", "tif"), (b"GIF89a", "gif"),
     (b"RIFF1234WEBPVP8 ", "webp"), (b"\x00\x00\x00\x18ftypheic", "heic"), (b"\x00\x00\x00\x18ftypavif", "avif"),
     (b"<svg onload=1>", None), (b"<html>", None), (b"%PDF-1.7", None), (b"", None)],
)  # fmt: skip
def test_a_picture_is_known_by_its_bytes_and_not_by_its_name(head: bytes, suffix: str | None) -> None:
    assert suffix_of(head[:16]) == suffix


def test_what_is_no_picture_is_refused_and_not_copied(shop: Log, tmp_path: Path) -> None:
    before = pictures(shop.folder)
    (tmp_path / "words.jpg").write_text("no picture")
    for path, words in ((tmp_path / "words.jpg", "it is no picture"), (tmp_path / "gone.jpg", "will not open it"),
                        (tmp_path, "will not open it")):  # fmt: skip
        with pytest.raises(BadShop, match=words):
            shop.photo(1, path)
    with pytest.raises(BadShop, match="no such lure"):
        shop.photo(99, tmp_path / "side.png")
    assert pictures(shop.folder) == before
