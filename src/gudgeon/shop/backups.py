"""A backup: one file with the log and every picture it tells of; and a shop's folder made of it again.

It is a ZIP file, so that it can be looked into anywhere. What is in it is checked before anything in the shop's folder
is touched, and a log that a restore takes the place of is set aside, not erased.
"""

import contextlib
import os
import tempfile
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from gudgeon.errors import BadShop, Fault
from gudgeon.shop.database import FILE_NAME, verified
from gudgeon.shop.log import Log
from gudgeon.shop.photos import FOLDER, hash_of, on_disk
from gudgeon.shop.records import Photo

_PIECE = 1 << 20
_BESIDE = ("-wal", "-shm", "")


@dataclass(frozen=True)
class Backup:
    """What went into a backup, or came out of one.

    entries : how many      photos : how many      missing : names of pictures that are told of and were not there
    aside   : where the log went that was there before; None where there was none
    """

    path: Path
    entries: int
    photos: int
    missing: tuple[str, ...] = ()
    aside: Path | None = None


def back_up(log: Log, target: Path) -> Backup:
    """Write a log and its pictures into a new file, whole or not at all; raises BadShop."""
    if os.path.lexists(target):
        raise _refused(target, "it is there already, and nothing was changed; name another, or move it away first")
    with _beside(target) as part, _beside(target) as copy:
        log.database.copied_to(copy)
        kept, missing = _pictures(log)
        try:
            with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as packed:
                packed.write(copy, FILE_NAME)
                for name in kept:
                    packed.write(log.folder / FOLDER / name, f"{FOLDER}/{name}", zipfile.ZIP_STORED)
            _settle(part)
            os.replace(part, target)
            on_disk(target.parent)
        except OSError as error:
            raise _refused(target, f"{error.strerror}; no backup was written") from None
    entries = log.database.one("SELECT count(*) FROM entry")
    return Backup(target, entries[0] if entries else 0, len(kept), missing)


def restore(source: Path, folder: Path, *, replace: bool = False) -> Backup:
    """Make a shop's folder of a backup; raises BadShop, and then nothing in the folder has changed but pictures added.

    replace : put it in the place of a log that is there, which is set aside under a name with the time in it
    """
    there = folder / FILE_NAME
    if os.path.lexists(there) and not replace:
        raise _refused(folder, "there is a log already. Name another folder with --shop; or add --replace, and the old "
                               "log is set aside")  # fmt: skip
    try:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / FOLDER).mkdir(exist_ok=True)
        with _beside(there) as part, _opened(source) as packed:
            names = [name for name in packed.namelist() if name != FILE_NAME]
            _extract(packed, FILE_NAME, part)
            verified(part)
            for name in names:
                _picture_out(source, packed, name, folder)
            aside = _set_aside(there)
            os.replace(part, there)
            on_disk(folder)
    except OSError as error:
        raise _refused(folder, f"{error.strerror}; nothing was restored") from None
    with Log.look(folder) as log:
        entries = log.database.one("SELECT count(*) FROM entry")
    return Backup(folder, entries[0] if entries else 0, len(names), aside=aside)


def _pictures(log: Log) -> tuple[list[str], tuple[str, ...]]:
    """Files of the pictures that entries tell of, and the names of those that are gone."""
    rows = log.database.ask("SELECT DISTINCT name, hash, suffix FROM photo ORDER BY hash")
    photos = [Photo(row["name"], row["hash"], row["suffix"]) for row in rows]
    there = [photo for photo in photos if (log.folder / FOLDER / photo.file).is_file()]
    gone = tuple(photo.name for photo in photos if photo not in there)
    return sorted({photo.file for photo in there}), gone


@contextmanager
def _beside(target: Path) -> Iterator[Path]:
    """A file beside another to write into first; gone afterwards unless it was moved."""
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
    except OSError as error:
        raise _refused(target, f"nothing can be written there: {error.strerror}. Name another place") from None
    os.close(handle)
    try:
        yield Path(name)
    finally:
        with contextlib.suppress(OSError):
            os.unlink(name)


@contextmanager
def _opened(source: Path) -> Iterator[zipfile.ZipFile]:
    """A backup, its list of contents looked over."""
    try:
        with zipfile.ZipFile(source) as packed:
            names = packed.namelist()
            strange = [name for name in names if name != FILE_NAME and not _is_picture(name)]
            if FILE_NAME not in names or strange or len(set(names)) < len(names):
                raise _refused(source, "it is no backup of a shop; it holds other things")
            yield packed
    except FileNotFoundError:
        raise _refused(source, "there is no such file") from None
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError):
        raise _refused(source, "it is no backup, or it is cut short or damaged. Take an earlier one") from None


def _is_picture(name: str) -> bool:
    folder, slash, file = name.partition("/")
    digest, dot, suffix = file.partition(".")
    return (folder == FOLDER and len(digest) == 64 and not set(digest) - set("0123456789abcdef")
            and suffix.isalnum() and bool(slash and dot))  # fmt: skip


def _extract(packed: zipfile.ZipFile, name: str, path: Path) -> None:
    with packed.open(name) as source, path.open("wb") as target:
        while piece := source.read(_PIECE):
            target.write(piece)
    _settle(path)


def _picture_out(source: Path, packed: zipfile.ZipFile, name: str, folder: Path) -> None:
    target = folder / name
    with _beside(target) as part:
        _extract(packed, name, part)
        if hash_of(part) != target.stem:
            raise _refused(source, f"the picture {target.name} in it is damaged. Take an earlier backup")
        os.replace(part, target)


def _settle(path: Path) -> None:
    """A finished file, on the disk and readable as files usually are."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())
    path.chmod(0o644)


def _set_aside(there: Path) -> Path | None:
    """The log that is there under another name, with the files that belong to it; the log itself moves last."""
    if not any(os.path.lexists(f"{there}{end}") for end in _BESIDE):
        return None
    moment = datetime.now().strftime("%Y-%m-%dT%H-%M-%S-%f")
    aside = there.with_name(f"set-aside-{moment}.sqlite3")
    for end in _BESIDE:
        if os.path.lexists(f"{there}{end}"):
            os.rename(f"{there}{end}", f"{aside}{end}")
    return aside


def _refused(path: Path, words: str) -> BadShop:
    return BadShop("the backup cannot be used", [Fault(str(path), words)])
