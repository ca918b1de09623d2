"""Pictures, copied in beside the database and named by the hash of what is in them.

The file is whole and on the disk before the database says that it is there; so a picture told of is a picture kept.
"""

import contextlib
import hashlib
import io
import os
import tempfile
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import BinaryIO

from gudgeon.errors import BadShop, Fault
from gudgeon.shop.records import Photo

FOLDER = "photos"
LARGEST = 200_000_000  # bytes
_PIECE = 1 << 20


def suffix_of(head: bytes) -> str | None:
    """What kind of picture begins with these 16 bytes; None for what is none that a camera or scanner makes."""
    if head.startswith(b"\xff\xd8\xff"):
        return "jpg"
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if head.startswith((b"II*\x00", b"MM\x00*")):
        return "tif"
    if head.startswith(b"GIF8"):
        return "gif"
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "webp"
    if head[4:8] == b"ftyp" and head[8:12] in (b"heic", b"heix", b"mif1", b"avif"):
        return "heic" if head[8:12] != b"avif" else "avif"
    return None


def taken_in(shop: Path, source: Path, shows: str = "") -> Photo:
    """The record of a picture that now lies in the shop's folder; raises BadShop."""
    place = str(source)
    try:
        size = source.stat().st_size
        with source.open("rb") as file:
            suffix = suffix_of(file.read(16))
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _refused(place, f"the computer will not open it: {reason}") from None
    if suffix is None:
        raise _refused(place, "it is no picture that is known here; jpg, png, webp, heic, tif and gif are")
    if size > LARGEST:
        raise _refused(place, "it is larger than 200 MB; make it smaller first")
    copied = _copied(shop / FOLDER, place, suffix, lambda: source.open("rb"))
    return Photo(name=source.name, hash=copied, suffix=suffix, shows=shows)


def kept_beside(shop: Path, content: bytes, photo: Photo) -> Photo:
    """The record of a picture that came without a file of its own and now lies in the shop's folder; raises BadShop.

    photo : its name, kind and what it shows; its hash is found
    """
    hashed = _copied(shop / FOLDER, photo.name, photo.suffix, lambda: io.BytesIO(content))
    return replace(photo, hash=hashed)


def hash_of(path: Path) -> str:
    """SHA-256 of a file's bytes."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def is_there(shop: Path, photo: Photo) -> bool:
    """Whether a picture still lies in the shop's folder."""
    return (shop / FOLDER / photo.file).is_file()


def content_of(shop: Path, photo: Photo) -> bytes | None:
    """What is in a picture's file; None where it is gone or cannot be read."""
    try:
        return (shop / FOLDER / photo.file).read_bytes()
    except OSError:
        return None


def _copied(folder: Path, place: str, suffix: str, opened: Callable[[], BinaryIO]) -> str:
    """The hash of what was copied in under it, whole or not at all."""
    beside: str | None = None
    try:
        folder.mkdir(exist_ok=True)
        handle, beside = tempfile.mkstemp(suffix=".part", dir=folder)
        digest = hashlib.sha256()
        with open(handle, "wb") as part, opened() as file:
            while piece := file.read(_PIECE):
                digest.update(piece)
                part.write(piece)
            part.flush()
            os.fsync(part.fileno())
        os.chmod(beside, 0o644)
        os.replace(beside, folder / f"{digest.hexdigest()}.{suffix}")
        on_disk(folder)
    except OSError as error:
        if beside is not None:
            with contextlib.suppress(OSError):
                os.unlink(beside)
        raise _refused(place, f"it could not be copied in: {error.strerror}. Make room, or see who may write to "
                               f"{folder}") from None  # fmt: skip
    return digest.hexdigest()


def on_disk(folder: Path) -> None:
    """Have a folder's list of names written to the disk, where the system knows how."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _refused(place: str, words: str) -> BadShop:
    return BadShop("the photo was not entered", [Fault(place, words)])
