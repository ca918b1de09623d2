"""A journal beside a design: every stroke drawn on the page, on the disk before it is said to be kept.

One line of JSON a stroke, added at the end and flushed to the disk. What the power takes with it is at most a line that
was never said to be kept; half a line is left out when the journal is read again.
"""

import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from gudgeon.design.file import save, stamp
from gudgeon.errors import BadDesign, Fault

ENDING = ".strokes"
LARGEST = 256_000_000  # bytes; a stroke takes about 150
_LONG = 2_000_000  # bytes from which on strokes of one gesture are put together when the design is opened
_VERSION = 1


@dataclass(frozen=True)
class Patch:
    """One change of a text: at a character, what stood there and what stands there now."""

    at: int
    out: str
    put: str

    def done(self, text: str) -> str:
        """The text with the change made."""
        return text[: self.at] + self.put + text[self.at + len(self.out) :]

    def undone(self, text: str) -> str:
        """The text without it."""
        return text[: self.at] + self.out + text[self.at + len(self.put) :]


def patch_between(before: str, after: str) -> Patch:
    """The one change that makes a text of another: all between what they begin and end with alike."""
    start = _alike(before, after)
    end = _alike(before[start:][::-1], after[start:][::-1])
    return Patch(start, before[start : len(before) - end], after[start : len(after) - end])


def _alike(one: str, other: str) -> int:
    """How many characters two texts begin with alike."""
    least, most = 0, min(len(one), len(other))
    while least < most:
        middle = (least + most + 1) // 2
        if one[least:middle] == other[least:middle]:
            least = middle
        else:
            most = middle - 1
    return least


@dataclass(frozen=True)
class Step:
    """One thing the hand did, as one undo takes it back.

    gesture : what it was part of on the page; strokes of one gesture are one step
    words   : what it was, "back, point 6"
    """

    gesture: str
    words: str
    patch: Patch


@dataclass(frozen=True)
class History:
    """A text and the way to it.

    first : the text before any of it
    steps : done, oldest first
    ahead : undone, the one to be done again first at the end
    saved : stamp of what the design file held when it was last read or written
    """

    first: str
    text: str
    steps: tuple[Step, ...]
    ahead: tuple[Step, ...]
    saved: str

    def drawn(self, gesture: str, words: str, text: str) -> "History":
        """With one more stroke; one of the same gesture as the last step becomes part of it."""
        steps, before = self.steps, self.text
        if steps and gesture and steps[-1].gesture == gesture:
            before = steps[-1].patch.undone(before)
            steps = steps[:-1]
        return History(self.first, text, (*steps, Step(gesture, words, patch_between(before, text))), (), self.saved)

    def undone(self) -> "History":
        """One step back; the same when there is none."""
        if not self.steps:
            return self
        last = self.steps[-1]
        return History(self.first, last.patch.undone(self.text), self.steps[:-1], (*self.ahead, last), self.saved)

    def redone(self) -> "History":
        """One step on again."""
        if not self.ahead:
            return self
        following = self.ahead[-1]
        return History(self.first, following.patch.done(self.text), (*self.steps, following), self.ahead[:-1],
                       self.saved)  # fmt: skip

    def saved_as(self, mark: str) -> "History":
        """With the design file holding a text of this stamp."""
        return History(self.first, self.text, self.steps, self.ahead, mark)


@dataclass(frozen=True)
class Kept:
    """A journal as it was read.

    size : [bytes] of the file
    good : [bytes] of it that hold the history; what stands behind was cut short and never said to be kept
    """

    history: History
    size: int
    good: int


class Journal:
    """The file, held from the first stroke on."""

    def __init__(self, path: Path, kept: Kept) -> None:
        self.path = path
        self._kept = kept
        self._file: IO[bytes] | None = None

    def stroke(self, gesture: str, words: str, patch: Patch) -> None:
        """Keep a stroke; raises BadDesign when the disk does not take it."""
        self._add({"do": "stroke", "gesture": gesture, "words": words, "at": patch.at, "out": patch.out,
                   "put": patch.put})  # fmt: skip

    def mark(self, what: str, **more: str) -> None:
        """Keep an undo, a redo or a save; raises BadDesign when the disk does not take it."""
        self._add({"do": what, **more})

    def close(self) -> None:
        """Let the file go."""
        if self._file is not None:
            self._file.close()
            self._file = None

    def _add(self, entry: Mapping[str, Any]) -> None:
        try:
            file = self._file or self._opened()
            there, own = self.path.stat(), os.fstat(file.fileno())
            if not os.path.samestat(there, own) or own.st_size != file.tell():
                raise _refused(self.path, "another program wrote to it; nothing was kept. Open the design again")
            file.write(_line(entry))
            file.flush()
            os.fsync(file.fileno())
        except OSError as error:
            raise _refused(self.path, f"{error.strerror}; nothing was kept") from None

    def _opened(self) -> IO[bytes]:
        """The file, there and held; one that grew long is written anew with a line for each step."""
        if self._kept.size == 0:
            self._written_anew()
            self._file = _held(self.path)
            return self._file
        file = _held(self.path)
        if file.tell() != self._kept.size:
            file.close()
            raise _refused(self.path, "another program wrote to it; nothing was kept. Open the design again")
        if file.tell() > _LONG:
            file.close()
            self._written_anew()
            file = _held(self.path)
        elif self._kept.good < self._kept.size:
            file.truncate(self._kept.good)
            file.seek(0, os.SEEK_END)
        self._file = file
        return file

    def _written_anew(self) -> None:
        save(self.path, b"".join(map(_line, _entries(self._kept.history))))
        _settle(self.path.parent)


def read_journal(path: Path) -> Kept | None:
    """What a journal holds; None where there is no journal, or nothing in it that can be used."""
    try:
        if path.stat().st_size > LARGEST:
            return None
        content = path.read_bytes()
    except OSError:
        return None
    history: History | None = None
    good = 0
    for line in content.split(b"\n")[:-1]:  # what stands behind the last line's end was never kept
        try:
            history = _after(history, json.loads(line))
        except (ValueError, KeyError, TypeError, AttributeError):
            break  # whatever follows a broken line cannot be trusted
        good += len(line) + 1
    return None if history is None else Kept(history, len(content), good)


def _after(history: History | None, entry: Any) -> History | None:
    """The history with one line of the journal added."""
    if history is None:
        if entry["journal"] != _VERSION:
            raise ValueError
        return History(str(entry["text"]), str(entry["text"]), (), (), str(entry["saved"]))
    what = entry["do"]
    if what == "stroke":
        patch = Patch(int(entry["at"]), str(entry["out"]), str(entry["put"]))
        if history.text[patch.at : patch.at + len(patch.out)] != patch.out:
            raise ValueError
        return history.drawn(str(entry["gesture"]), str(entry["words"]), patch.done(history.text))
    if what == "undo":
        return history.undone()
    if what == "redo":
        return history.redone()
    if what == "saved":
        return history.saved_as(str(entry["stamp"]))
    raise ValueError


def _entries(history: History) -> Iterable[Mapping[str, Any]]:
    """A history as the lines of a journal, one for each step."""
    yield {"journal": _VERSION, "saved": history.saved, "text": history.first}
    for step in (*history.steps, *reversed(history.ahead)):
        yield {"do": "stroke", "gesture": step.gesture, "words": step.words, "at": step.patch.at,
               "out": step.patch.out, "put": step.patch.put}  # fmt: skip
    for _ in history.ahead:
        yield {"do": "undo"}


def _line(entry: Mapping[str, Any]) -> bytes:
    return json.dumps(entry, ensure_ascii=True).encode() + b"\n"


def fresh(text: str) -> Kept:
    """The history of a text that nothing was done to, and no journal yet."""
    return Kept(History(text, text, (), (), stamp(text)), 0, 0)


def set_aside(path: Path) -> Path:
    """Put a journal out of the way under a name of its own, where it tells of another text than the design's."""
    number = 1
    while (aside := path.with_name(f"{path.name}.{number}")).exists():
        number += 1
    os.replace(path, aside)
    return aside


def _settle(folder: Path) -> None:
    """A file's name on the disk too, where the system can."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _held(path: Path) -> IO[bytes]:
    """The file open for adding to, held as long as this program runs where the system can."""
    file = path.open("ab")
    try:
        import fcntl

        fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
    except ImportError:
        return file
    except OSError:
        file.close()
        raise _refused(path, "another gudgeon, started by itself, is drawing on this design; close that one") from None
    return file


def _refused(path: Path, words: str) -> BadDesign:
    return BadDesign("nothing can be drawn on this design", [Fault(path.name, words)])
