"""A design on the desk: its text as drawn so far, the way back, the journal that keeps it, the file it belongs to."""

import os
import threading
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from gudgeon.design.file import LARGEST, parse, save, stamp, text_of
from gudgeon.design.model import Design
from gudgeon.errors import BadDesign, Fault
from gudgeon.web.journal import ENDING, History, Journal, Kept, fresh, patch_between, read_journal, set_aside


@lru_cache(maxsize=4)
def read_design(text: str, name: str) -> Design:
    """A text as a design, read once for the stroke and for all that is told of it; raises BadDesign."""
    return parse(text, name)


@dataclass(frozen=True)
class State:
    """What lies on the desk.

    text, stamp : the design as drawn
    number      : grows with every change; no two states of a desk have the same
    undo, redo  : what would be undone or done again next, in words; None when nothing would
    steps       : how many could be undone
    is_saved    : whether the design file holds this text
    file_changed : whether the file holds another text than was last read from it or written to it
    """

    text: str
    stamp: str
    number: int
    undo: str | None
    redo: str | None
    steps: int
    is_saved: bool
    file_changed: bool


class Desk:
    """One design file being drawn on; safe to be asked from several threads."""

    def __init__(self, path: Path) -> None:
        """Open a design, with the strokes a journal beside it still holds; raises BadDesign when it cannot be read."""
        self.path = path
        self.told = ""
        self.foreseen: Callable[[str], None] = lambda _: None  # told of a stroke while it goes onto the disk
        self._lock = threading.RLock()
        self._number = 0
        self._seen: tuple[int, int] | None = None
        self._file_stamp = ""
        text = self._read()
        journal = path.with_name(path.name + ENDING)
        kept = self._resumed(journal, text)
        self._history = kept.history
        self._readable = self._reads(kept.history.text)
        self._journal = Journal(journal, kept)

    @property
    def state(self) -> State:
        """What lies on the desk now."""
        with self._lock:
            return self._state()

    def draw(self, on: str, gesture: str, words: str, change: Callable[[str], str]) -> State | None:
        """Make a change and keep it; a stroke that gives no design is refused, and nothing is kept of it.

        on      : stamp of the text the hand saw
        gesture : strokes of one gesture are undone together
        change  : text -> text
        returns : None, and nothing is done, when the hand saw another text than lies here
        raises  : BadDesign
        """
        with self._lock:
            if not self._is_seen(on):
                return None
            before = self._history.text
            after = change(before)
            if len(after) > LARGEST:
                raise BadDesign("this stroke was not kept", [Fault("the design", "it would be longer than 1 MB")])
            if self._readable:
                read_design(after, self.path.name)
            if after != before:
                if self._readable:
                    self.foreseen(after)
                self._journal.stroke(gesture, words, patch_between(before, after))
                self._moved(self._history.drawn(gesture, words, after), self._readable or self._reads(after))
            return self._state()

    def undo(self, on: str) -> State | None:
        """Take the last step back; None when the hand saw another text; raises BadDesign."""
        return self._turned(on, "undo", lambda history: history.undone())

    def redo(self, on: str) -> State | None:
        """Do again what was taken back; None when the hand saw another text; raises BadDesign."""
        return self._turned(on, "redo", lambda history: history.redone())

    def save(self, on: str, *, over: bool = False) -> State | None:
        """Write the design file; None when the hand saw another text.

        over   : also where it was changed by another program since
        raises : BadDesign
        """
        with self._lock:
            if not self._is_seen(on):
                return None
            self._look()
            if self._file_stamp != self._history.saved and not over:
                words = "it was changed by another program since it was read; nothing was written"
                raise BadDesign(f"{self.path.name} was not saved", [Fault("the file", words)])
            save(self.path, self._history.text)
            self._journal.mark("saved", stamp=stamp(self._history.text))
            self._history = self._history.saved_as(stamp(self._history.text))
            self._number += 1
            self._look()
            return self._state()

    def take_file(self, on: str) -> State | None:
        """Put what the file holds now in the place of what was drawn; one undo brings that back.

        returns : None when the hand saw another text
        raises  : BadDesign
        """
        with self._lock:
            if not self._is_seen(on):
                return None
            before, text = self._history.text, self._read()
            self._journal.stroke("", "the file taken as it is", patch_between(before, text))
            self._journal.mark("saved", stamp=stamp(text))
            history = self._history.drawn("", "the file taken as it is", text)
            self._moved(history.saved_as(stamp(text)), self._reads(text))
            return self._state()

    def design(self) -> Design:
        """What is drawn; raises BadDesign with every fault when it is no design."""
        return read_design(self.state.text, self.path.name)

    def has_changed_outside(self) -> bool:
        """Whether the file holds another text than was last read or written."""
        with self._lock:
            self._look()
            return self._file_stamp != self._history.saved

    def close(self) -> None:
        """Let the journal go."""
        with self._lock:
            self._journal.close()

    def _resumed(self, journal: Path, text: str) -> Kept:
        kept = read_journal(journal)
        if kept is None:
            if journal.exists():
                self.told = f"{journal.name} could not be read and was set aside as {set_aside(journal).name}."
            return fresh(text)
        if kept.history.saved == stamp(text):
            if stamp(kept.history.text) != kept.history.saved:
                self.told = "Strokes that were not saved in the file are here again."
            return kept
        if stamp(kept.history.text) == stamp(text):
            return Kept(kept.history.saved_as(stamp(text)), kept.size, kept.good)
        self.told = ("The file was changed by another program since it was drawn on here, and is shown as it is now. "
                     f"What was drawn is a design of its own: {_beside(self.path, kept, journal).name}.")  # fmt: skip
        return fresh(text)

    def _turned(self, on: str, what: str, turn: Callable[[History], History]) -> State | None:
        with self._lock:
            if not self._is_seen(on):
                return None
            after = turn(self._history)
            if after is not self._history:
                self._journal.mark(what)
                self._moved(after, self._reads(after.text))
            return self._state()

    def _moved(self, history: History, readable: bool) -> None:
        self._history, self._readable = history, readable
        self._number += 1

    def _is_seen(self, on: str) -> bool:
        return on == stamp(self._history.text)

    def _reads(self, text: str) -> bool:
        try:
            parse(text, self.path.name)
        except BadDesign:
            return False
        return True

    def _state(self) -> State:
        history = self._history
        own = stamp(history.text)
        self._look()
        return State(
            text=history.text, stamp=own, number=self._number,
            undo=history.steps[-1].words if history.steps else None,
            redo=history.ahead[-1].words if history.ahead else None, steps=len(history.steps),
            is_saved=own == history.saved, file_changed=self._file_stamp != history.saved,
        )  # fmt: skip

    def _look(self) -> None:
        """Read the file again when it looks changed; one that is gone or unreadable counts as changed."""
        try:
            there = self.path.stat()
            seen = (there.st_mtime_ns, there.st_size)
            if seen != self._seen:
                self._read()
        except (OSError, BadDesign):
            self._seen, self._file_stamp = None, ""

    def _read(self) -> str:
        """The file's text, its stamp noted; raises BadDesign."""
        try:
            there = self.path.stat()
            self._seen = (there.st_mtime_ns, there.st_size)
        except OSError:
            self._seen = None
        text = text_of(self.path).removeprefix("\ufeff")
        self._file_stamp = stamp(text)
        return text


def _beside(path: Path, kept: Kept, journal: Path) -> Path:
    """What was drawn as a design file of its own, its journal going with it."""
    number = 1
    while (new := path.with_name(f"{path.stem} as drawn {number}.toml")).exists():
        number += 1
    save(new, kept.history.text)
    os.replace(journal, new.with_name(new.name + ENDING))
    return new
