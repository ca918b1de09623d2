"""A design file: read with all its faults at once, known by its stamp, kept whole when it is written."""

import contextlib
import hashlib
import os
import re
import shutil
import tempfile
import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import lru_cache
from pathlib import Path as FilePath
from typing import Any

from pydantic import ValidationError

from gudgeon.design.agreement import disagreements
from gudgeon.design.lines import Mark, Path, line_of, marks, place_of
from gudgeon.design.model import Design
from gudgeon.design.table import shown
from gudgeon.design.wording import Complaint, complaints, toml_slip, unmet
from gudgeon.errors import BadDesign, Fault, Refusal

LARGEST = 1_000_000  # bytes; the longest design written by hand has about 30 000
_BEGINS = {".pdf": b"%PDF", ".3mf": b"PK", ".step": b"ISO-10303-21", ".stp": b"ISO-10303-21", ".json": b"{"}
_PLURALS = {"joints": "joint", "fittings": "fitting", "hooks": "hook", "pockets": "pocket", "coats": "coat"}
_INNER_PLURALS = {("stock", "hooks"): "hook", ("tub", "stand_ins"): "stand_in"}


@dataclass(frozen=True)
class DesignFile:
    """A design, and the file it was read from.

    path   : where the file lies
    text   : what stands in it
    stamp  : eight characters that change with the text
    design : what it says
    """

    path: FilePath
    text: str
    stamp: str
    design: Design


def open_design(path: str | os.PathLike[str]) -> DesignFile:
    """The design in a file, with its text and stamp.

    raises : BadDesign, with every fault of the file
    """
    file = FilePath(path)
    text = text_of(file)
    return DesignFile(path=file, text=text, stamp=stamp(text), design=parse(text, file.name))


def load(path: str | os.PathLike[str]) -> Design:
    """The design in a file.

    raises : BadDesign, with every fault of the file
    """
    return open_design(path).design


def stamp(text: str) -> str:
    """Eight characters that change with the text, the same however a computer ends its lines."""
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n")
    return hashlib.sha256(plain.encode("utf-8", "surrogatepass")).hexdigest()[:8]


def parse(text: str, name: str = "the design") -> Design:
    """The design that a text describes.

    text   : TOML
    name   : what to call it in a refusal
    raises : BadDesign, with every fault of the text
    """
    data = read_toml(text, name)
    said = _plural_complaints(data)
    single = _without_plurals(data)
    design: Design | None = None
    try:
        design = Design.model_validate(single)
    except ValidationError as error:
        said += complaints(error) + unmet(single)
    said += disagreements(single)
    if design is None or said:
        raise BadDesign(f"{name} cannot be built", _faults(said, data, marks(text.removeprefix("\ufeff"))))
    return design


@lru_cache(maxsize=4)
def toml_of(text: str) -> dict[str, Any]:
    """What a TOML text holds, the last few remembered: for reading only; raises what `tomllib.loads` does."""
    return tomllib.loads(text)


def read_toml(text: str, name: str) -> dict[str, Any]:
    """What a TOML text holds.

    raises : BadDesign when it is empty, too long, or no TOML
    """
    text = text.removeprefix("\ufeff")
    if len(text) > LARGEST:
        raise _unread(name, "it is longer than 1 MB; a design is a short text")
    try:
        data = toml_of(text)
    except tomllib.TOMLDecodeError as error:
        raise BadDesign(f"{name} cannot be read", [_toml_fault(str(error), text)]) from None
    except RecursionError:
        raise _unread(name, "brackets stand inside brackets without end") from None
    except ValueError:  # a whole number of thousands of figures
        raise _unread(name, "a number in it is too long") from None
    if not data:
        raise _unread(name, "nothing is written in it; `gudgeon new` writes a file to start from")
    return data


def save_new(path: str | os.PathLike[str], text: str) -> None:
    """Write a design to a file that is not there yet.

    raises : BadDesign when it is there, or cannot be written
    """
    if os.path.lexists(path):
        fault = Fault("the file", "it is there already, and nothing was changed; name another, or move it away first")
        raise BadDesign(f"{FilePath(path).name} cannot be written", [fault])
    save(path, text)


def may_write(path: str | os.PathLike[str], endings: Sequence[str], option: str = "--out") -> None:
    """Nothing, when a paper or a drawing may be written under a name: a new file, or over one of the same kind.

    endings : of that kind, ".pdf"      option : what named the file
    raises  : Refusal for another ending, and for a file that is there and is of another kind
    """
    file = FilePath(path)
    if file.suffix.lower() not in endings:
        words = f"'{file.name}' is not what is written here; end it in {' or '.join(endings)}"
        raise Refusal("this file cannot be written", [Fault(option, words)])
    if not os.path.lexists(file):
        return
    target, begins = FilePath(os.path.realpath(file)), _BEGINS.get(file.suffix.lower(), b"")
    with contextlib.suppress(OSError), target.open("rb") as old:
        begun = old.read(len(begins))
        if target.suffix.lower() == file.suffix.lower() and begun in (begins, b""):
            return
    words = f"'{file.name}' is there already and is something else, so it was left as it is; name another"
    raise Refusal("this file cannot be written", [Fault(option, words)])


def save(path: str | os.PathLike[str], content: str | bytes) -> None:
    """Write a design's text, or its pages, so that the file is the old one or the new, never half of either.

    raises : BadDesign when the file cannot be written; the old one then stands as it was
    """
    file = FilePath(path)
    target = FilePath(os.path.realpath(file))  # through a link to the file itself
    beside: str | None = None
    try:
        whole = content.encode("utf-8") if isinstance(content, str) else content
        handle, beside = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
        with open(handle, "wb") as part:
            part.write(whole)
            part.flush()
            os.fsync(part.fileno())
        _same_permissions(target, FilePath(beside))
        os.replace(beside, target)
    except (OSError, ValueError) as error:
        if beside is not None:
            with contextlib.suppress(OSError):
                os.unlink(beside)
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        fault = Fault("the file", f"{reason}; nothing was changed")
        if isinstance(error, FileNotFoundError):
            fault = Fault("the file", f"there is no folder {target.parent}; make it first, or name another")
        raise BadDesign(f"{file.name} cannot be written", [fault]) from None


def located(refusal: BadDesign, file: DesignFile) -> BadDesign:
    """A refusal of what a design means, with the file's name and the line of each place in it."""
    data, found = read_toml(file.text, file.path.name), marks(file.text.removeprefix("\ufeff"))
    lines = {place_of(path, data): line_of(path, found) for path in found}
    faults = [Fault(fault.place, fault.words, fault.line or _line_near(fault.place, lines)) for fault in refusal.faults]
    return BadDesign(f"{file.path.name} cannot be built", sorted(faults, key=lambda fault: fault.line or LARGEST))


def _line_near(place: str, lines: dict[str, int | None]) -> int | None:
    """The line of a place said in words, or of the table it would stand in."""
    while place:
        if place in lines:
            return lines[place]
        place = place.rpartition(".")[0]
    return None


def _same_permissions(old: FilePath, new: FilePath) -> None:
    if old.exists():
        shutil.copymode(old, new)
        return
    mask = os.umask(0)
    os.umask(mask)
    new.chmod(0o666 & ~mask)


def _unread(name: str, words: str) -> BadDesign:
    return BadDesign(f"{name} cannot be read", [Fault("the file", words)])


def text_of(file: FilePath) -> str:
    """The text of a file, its line ends untouched."""
    try:
        if file.is_dir():
            raise _unread(file.name or str(file), "it is a folder; name a design file in it")
        if not file.exists():
            raise _unread(file.name, f"there is no such file{_offer(file)}")
        if not file.is_file():
            raise _unread(file.name, "it is no ordinary file")
        with file.open("rb") as opened:
            content = opened.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise _unread(file.name, f"the computer will not open it: {reason}") from None
    if len(content) > LARGEST:
        raise _unread(file.name, "it is larger than 1 MB; a design is a short text. Is it another file?")
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        raise _unread(file.name, "it is not plain text; save it as text, UTF-8") from None
    if "\0" in text:
        raise _unread(file.name, "it is not plain text; save it as text, UTF-8")
    return text


def _offer(file: FilePath) -> str:
    """The design files beside a file that is not there, nearest names first."""
    try:
        names = sorted(entry.name for entry in file.parent.iterdir() if entry.suffix == ".toml")
    except OSError:
        return ""
    close = get_close_matches(file.name, names, n=3, cutoff=0.5)
    return f"; nearest: {', '.join(close)}" if close else ""


def _toml_fault(complaint: str, text: str) -> Fault:
    found = re.search(r"\(at line (\d+), column (\d+)\)", complaint)
    lines = text.split("\n")
    if found is None:
        return Fault("the end of the file", "a bracket or a quote is opened and never closed")
    number = min(int(found[1]), len(lines))
    line = lines[number - 1].strip()
    return Fault(shown(line) if line else "an empty line", toml_slip(complaint, line), number)


def _plural_complaints(data: dict[str, Any]) -> list[Complaint]:
    """Lists of tables written under the name that only the program uses."""
    said: list[Complaint] = [((many,), f"is not a key gudgeon knows; write [[{one}]] above each {one}")
                             for many, one in _PLURALS.items() if many in data]  # fmt: skip
    for (table, many), one in _INNER_PLURALS.items():
        if isinstance(data.get(table), dict) and many in data[table]:
            said.append(((table, many), f"is not a key gudgeon knows; write [[{table}.{one}]] above each"))
    return said


def _without_plurals(data: dict[str, Any]) -> dict[str, Any]:
    single = {key: value for key, value in data.items() if key not in _PLURALS}
    for table, many in _INNER_PLURALS:
        if isinstance(single.get(table), dict):
            single[table] = {key: value for key, value in single[table].items() if key != many}
    return single


def _faults(said: Iterable[Complaint], data: dict[str, Any], found: dict[Path, Mark]) -> list[Fault]:
    """One fault for each complaint, in the order of the file; what concerns the whole file last."""
    faults = [Fault(place_of(path, data), words, line_of(path, found)) for path, words in dict.fromkeys(said)]
    return sorted(faults, key=lambda fault: fault.line or LARGEST)
