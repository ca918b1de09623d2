"""Where each key, header and list item of a TOML text stands: its line, and the characters its value fills.

For a text that already reads as TOML; what it does not follow it leaves out.
"""

import contextlib
import re
import tomllib
from bisect import bisect_right
from enum import Enum
from functools import lru_cache
from typing import NamedTuple

Path = tuple[str | int, ...]  # keys and places, places counted from 0: ("hook", 1, "weight")

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY = re.compile(r'[A-Za-z0-9_-]+|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'')
_LONG_STRING = r'"""(?:\\.|[^\\])*?"""(?:"{0,2})|\'\'\'.*?\'\'\'(?:\'{0,2})'
_STRING = re.compile(_LONG_STRING + r'|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'', re.DOTALL)
_BARE = re.compile(r"[^,\]}#\r\n]+")


class Written(Enum):
    """How a place comes to be in the text."""

    VALUE = "key = value, or an item of a list"
    HEADER = "[table] or [[table]]"
    IMPLIED = "only as the front part of a dotted key or header"


class Mark(NamedTuple):
    """Where one place of the text stands.

    line       : counted from 1: of the key, the item or the header
    start, end : the characters of the value, or of the header
    written    : how it comes to be there
    """

    line: int
    start: int
    end: int
    written: Written


def _plain(key: str) -> str:
    """A key without its quotes."""
    return next(iter(tomllib.loads(f"{key} = 0"))) if key[0] in "\"'" else key


class _Scan:
    """One pass over a text, from the top."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.position = 0
        self.marks: dict[Path, Mark] = {}
        self.counts: dict[Path, int] = {}
        self.line_starts = [0, *(found.end() for found in re.finditer("\n", text))]

    def line(self, position: int) -> int:
        return bisect_right(self.line_starts, position)

    def skip(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self.text, self.position)
        if found is None:
            return ""
        self.position = found.end()
        return found[0]

    def at(self, mark: str) -> bool:
        return self.text.startswith(mark, self.position)

    def take(self, mark: str) -> bool:
        if self.at(mark):
            self.position += len(mark)
            return True
        return False

    def imply(self, path: Path, start: int) -> None:
        self.marks.setdefault(path, Mark(self.line(start), start, start, Written.IMPLIED))

    def keys(self) -> list[str]:
        """A key, dotted or not."""
        found: list[str] = []
        while True:
            self.skip(_SPACE)
            key = self.skip(_KEY)
            if key:
                found.append(_plain(key))
            self.skip(_SPACE)
            if not key or not self.take("."):
                return found

    def document(self) -> None:
        table: Path = ()
        while True:
            self.skip(_BLANK)
            start = self.position
            if start >= len(self.text):
                return
            if self.at("["):
                table = self.header()
            else:
                self.pair(table)
            if self.position == start:
                return

    def header(self) -> Path:
        start = self.position
        many = self.take("[[") or not self.take("[")
        path: Path = ()
        keys = self.keys()
        for place, key in enumerate(keys):
            path = (*path, key)
            last = place == len(keys) - 1
            if last and many:
                self.imply(path, start)
                self.counts[path] = self.counts.get(path, 0) + 1
            if path in self.counts:
                path = (*path, self.counts[path] - 1)
            elif not last:
                self.imply(path, start)
        self.take("]]" if many else "]")
        self.marks[path] = Mark(self.line(start), start, self.position, Written.HEADER)
        return path

    def pair(self, table: Path) -> None:
        start = self.position
        path = table
        for key in self.keys():
            if path != table:
                self.imply(path, start)
            path = (*path, key)
        self.take("=")
        self.skip(_SPACE)
        self.value(path, self.line(start))

    def value(self, path: Path, line: int) -> None:
        start = self.position
        if self.take("["):
            self.array(path)
        elif self.take("{"):
            self.inline(path)
        elif not self.skip(_STRING):
            bare = self.skip(_BARE)
            self.position -= len(bare) - len(bare.rstrip())
        self.marks[path] = Mark(line, start, self.position, Written.VALUE)

    def array(self, path: Path) -> None:
        place = 0
        while True:
            self.skip(_BLANK)
            start = self.position
            if self.take("]") or start >= len(self.text):
                return
            self.value((*path, place), self.line(start))
            place += 1
            self.skip(_BLANK)
            self.take(",")
            if self.position == start:
                return

    def inline(self, path: Path) -> None:
        while True:
            self.skip(_BLANK)
            start = self.position
            if self.take("}") or start >= len(self.text):
                return
            self.pair(path)
            self.skip(_BLANK)
            self.take(",")
            if self.position == start:
                return


@lru_cache(maxsize=4)
def marks(text: str) -> dict[Path, Mark]:
    """Where every table, key and list item of a TOML text stands, the last few remembered: for reading only.

    text    : TOML that can be read
    returns : path -> mark; the path () is not among them
    """
    scan = _Scan(text)
    with contextlib.suppress(RecursionError):  # brackets in brackets by the hundred
        scan.document()
    return scan.marks


def line_of(path: Path, found: dict[Path, Mark]) -> int | None:
    """The line of a place, or of the nearest table round it that the text has; None when it has none."""
    for length in range(len(path), 0, -1):
        if path[:length] in found:
            return found[path[:length]].line
    return None


def place_of(path: Path, data: object) -> str:
    """A path as its maker would say it: hook 2 'belly'.weight, outline.back point 3.

    data : what the whole file holds, to name the tables of a list by their names
    """
    words = ""
    here: object = data
    for step in path:
        if isinstance(step, str):
            words += f".{step}" if words else step
            here = here.get(step) if isinstance(here, dict) else None
            continue
        items, here = here, (here[step] if isinstance(here, list) and step < len(here) else None)
        name = here.get("name") if isinstance(here, dict) else None
        if isinstance(here, dict):
            named = isinstance(name, str) and name.isprintable() and 0 < len(name) <= 40
            words += f" {step + 1} '{name}'" if named else f" {step + 1}"
        else:
            points = isinstance(items, list) and any(isinstance(item, str) and ":" in item for item in items)
            words += f" {'point' if points else 'item'} {step + 1}"
    return words or "the file"
