"""Pictures of the lures in the log: taken in from the page, and shown on it.

A file from elsewhere may be made to do harm: it is kept only once it was decoded whole, within bounds, and its name is
words in the log and never a path. Shown is a picture made anew, small, and none but what an entry of the log names.
"""

import hashlib
import re
import threading
from collections.abc import Mapping
from pathlib import Path

from gudgeon.errors import BadShop, Fault, Refusal
from gudgeon.report.rows import Shop
from gudgeon.shop.entry_checks import checked
from gudgeon.shop.log import Log
from gudgeon.shop.photos import content_of, kept_beside, suffix_of
from gudgeon.shop.records import Photo
from gudgeon.web.calls import Json
from gudgeon.web.log_entering import entry_told

_ONE_AT_A_TIME = threading.Lock()  # so that several windows do not fill the memory with pictures
_FILE = re.compile(r"[0-9a-f]{64}\.[a-z]{3,4}")
_MEDIA = {"jpg": "image/jpeg", "png": "image/png", "webp": "image/webp", "gif": "image/gif", "tif": "image/tiff",
          "heic": "image/heic", "avif": "image/avif"}  # fmt: skip


def photo_entered(folder: Path, content: bytes, lure: int, asked: Mapping[str, str], shop: Shop) -> Json:
    """A picture copied in beside the log, and entered of a lure.

    asked  : name (of the file it comes from), shows, remark
    raises : Refusal, before anything is kept
    """
    from gudgeon.answers.picture import sound_picture  # what works on pictures is loaded when one comes

    photo, remark = _told_of(content, asked), asked.get("remark", "")
    checked(photo, remark)
    with Log.look(folder) as log:
        log.lure_root(lure)
    try:
        with _ONE_AT_A_TIME:
            sound_picture(content)
    except Refusal as refusal:
        words = "; ".join(fault.words for fault in refusal.faults)
        raise BadShop("nothing was entered", [Fault(photo.name, words)]) from None
    with Log.open(folder) as log:
        number = log.enter_as_kept(lure, kept_beside(folder, content, photo), remark=remark)
        return entry_told(log, number, (), shop)


def _told_of(content: bytes, asked: Mapping[str, str]) -> Photo:
    """What is told of a picture that comes; its kind is what its bytes are. Raises BadShop."""
    name = asked.get("name", "").strip()
    if not name or name.strip(".") == "" or re.search(r"[/\\\x00-\x1f]", name):
        words = f"'{name[:40]}' is no plain name of a file; give it one of letters and figures"
        raise BadShop("nothing was entered", [Fault("the file's name", words)])
    return Photo(name, "", suffix_of(content[:16]) or "", asked.get("shows", "").strip())


def photo_shown(folder: Path, number: int) -> bytes:
    """A JPEG of the picture of an entry, small enough for a screen; raises BadShop."""
    from gudgeon.report.pictures import printable_picture

    photo, content = _known(folder, number)
    with _ONE_AT_A_TIME:
        made = printable_picture(content)
    if made is None:
        raise _not_shown(number, f"{photo.name} cannot be shown here; save it, and open it in another program")
    return made.content


def photo_taken(folder: Path, number: int) -> tuple[str, str, bytes]:
    """The picture of an entry as it came: a plain name, what it is, its bytes; raises BadShop."""
    photo, content = _known(folder, number)
    return f"photo-{number}.{photo.suffix}", _MEDIA[photo.suffix], content


def _known(folder: Path, number: int) -> tuple[Photo, bytes]:
    """The picture that an entry of the log names; raises BadShop."""
    with Log.look(folder) as log:
        photo = log.entry(number).what
    if not isinstance(photo, Photo):
        raise _not_shown(number, "is no photo")
    content = content_of(folder, photo) if _FILE.fullmatch(photo.file) and photo.suffix in _MEDIA else None
    if content is None:
        raise _not_shown(number, "the file is gone; a backup may have it")
    if hashlib.sha256(content).hexdigest() != photo.hash:
        raise _not_shown(number, "its file is no longer what was entered; a backup may have it")
    return photo, content


def _not_shown(number: int, words: str) -> BadShop:
    return BadShop("this cannot be shown", [Fault(f"entry {number}", words)])
