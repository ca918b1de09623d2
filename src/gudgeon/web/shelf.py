"""The shop's folder: the designs in it by their file names, and nothing outside it."""

import re
import threading
from collections.abc import Mapping
from contextlib import ExitStack
from pathlib import Path
from typing import Any

from gudgeon.answers.assembly import assemble
from gudgeon.answers.starting import forms, starting_design
from gudgeon.design.file import parse, save_new
from gudgeon.errors import BadDesign, Fault
from gudgeon.report.scene import outlines
from gudgeon.units import LENGTH, read
from gudgeon.web.desk import Desk

MOST_SHOWN = 300
_NAME = re.compile(r"[^./\\:*?\"<>|%\x00-\x1f][^/\\:*?\"<>|%\x00-\x1f]{0,79}")
_DEVICES = {"con", "prn", "aux", "nul", *(f"com{n}" for n in range(10)), *(f"lpt{n}" for n in range(10))}


class Shelf:
    """One folder of designs, each opened once however many windows look at it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder.resolve()
        self.closing = ExitStack()  # what else ends with it
        self._desks: dict[str, Desk] = {}
        self._lock = threading.Lock()

    def names(self) -> list[str]:
        """The design files that lie in the folder itself, by name."""
        try:
            found = sorted(
                entry.name for entry in self.folder.iterdir() if entry.suffix == ".toml" and _NAME.fullmatch(entry.name)
            )
        except OSError:
            return []
        return [name for name in found if _NAME.fullmatch(name) and self._is_here(name)][:MOST_SHOWN]

    def desk(self, name: str) -> Desk:
        """A design of the folder on the desk; raises BadDesign when there is none of that name."""
        path = self._path(name)
        if not self._is_here(name):
            raise _refused(name, f"there is no such design in the folder {self.folder.name}")
        with self._lock:
            if name not in self._desks:
                self._desks[name] = Desk(path)
            return self._desks[name]

    def begin(self, name: str, text: str) -> str:
        """A new design file of that name; returns the name with its ending; raises BadDesign when it is there."""
        name = name.strip()
        whole = name if name.endswith(".toml") else f"{name}.toml"
        save_new(self._path(whole), text)
        return whole

    def begin_form(self, name: str, form: str, length: str, units: str) -> str:
        """A new design of a body form; raises BadDesign or BadQuantity."""
        text = starting_design(form, read(length, LENGTH) if length else None, "in" if units == "inch" else "mm")
        return self.begin(name, text)

    def close(self) -> None:
        """Let every journal go."""
        self.closing.close()
        for desk in self._desks.values():
            desk.close()

    def _path(self, name: str) -> Path:
        """The path of a plain file name in the folder; raises BadDesign for anything else."""
        if not _NAME.fullmatch(name) or not name.endswith(".toml") or name.split(".")[0].lower() in _DEVICES:
            raise _refused(name[:80], "is no name for a design; letters, figures, spaces, - and _, as in my-lure.toml")
        return self.folder / name

    def _is_here(self, name: str) -> bool:
        """Whether a name is that of a file in the folder, also once links are followed."""
        try:
            path = (self.folder / name).resolve()
            return path.parent == self.folder and path.is_file()
        except (OSError, RuntimeError):
            return False


def form_outlines() -> list[Mapping[str, Any]]:
    """Every body form with its side view [mm], to choose from by looking."""
    found: list[Mapping[str, Any]] = []
    for form in forms():
        lure = assemble(parse(starting_design(form.name), form.name))
        side = outlines(lure)[0][0].points
        found.append({"name": form.name, "words": form.words, "length": 1e3 * form.length,
                      "side": (side.round(1) + 0.0).ravel().tolist()})  # fmt: skip
    return found


def _refused(name: str, words: str) -> BadDesign:
    return BadDesign("this design cannot be opened", [Fault(name or "the name", words)])
