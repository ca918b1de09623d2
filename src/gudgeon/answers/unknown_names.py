"""Names in a design file that no table knows, found in files that cannot be read to the end.

A design whose sizes cannot be read is not assembled; its woods, stuffs and hooks are looked up here all the same, so
that a maker is told of them together with the rest.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from gudgeon.design.file import LARGEST, read_toml
from gudgeon.design.lines import Path, line_of, marks, place_of
from gudgeon.errors import BadDesign, Fault, Refusal
from gudgeon.library.hooks import hook_mass
from gudgeon.library.metals import material
from gudgeon.library.woods import species

_LOOKED_UP: tuple[tuple[Path, str, Callable[[str], object], str], ...] = (
    (("wood",), "species", species, ""), (("lip",), "material", material, ""), (("fin",), "material", material, ""),
    (("harness",), "material", material, ""), (("fitting",), "material", material, ""),
    (("pocket",), "material", material, ""), (("pocket",), "plug_material", material, ""),
    (("coat",), "material", material, "density"), (("hinge",), "material", material, ""),
    (("hinge",), "pin_material", material, ""), (("hook",), "size", hook_mass, "weight"),
    (("stock", "shot"), "material", material, ""), (("tub", "stand_in"), "material", material, ""),
)  # fmt: skip
"""Table, key, where it is looked up, and the key of the same table that stands in for it."""


def with_unknown_names(refusal: BadDesign, text: str, name: str) -> BadDesign:
    """The refusal of a file with what no table knows among its faults, in the order of the file.

    text, name : of the file
    """
    try:
        data = read_toml(text, name)
    except BadDesign:  # it is no TOML: the refusal says so already
        return refusal
    found, told = marks(text.removeprefix("\ufeff")), {fault.place for fault in refusal.faults}
    more = [Fault(place_of(path, data), words, line_of(path, found)) for path, words in _unknown(data)]
    faults = [*refusal.faults, *(fault for fault in more if fault.place not in told)]
    return BadDesign(refusal.heading, sorted(faults, key=lambda fault: fault.line or LARGEST))


def _unknown(data: Mapping[str, Any]) -> Iterator[tuple[Path, str]]:
    """Path and words of every name that its table does not know."""
    for table, key, look, instead in _LOOKED_UP:
        for path, row in _rows(data, table):
            name = row.get(key)
            if isinstance(name, str) and name and instead not in row:
                try:
                    look(name)
                except Refusal as refusal:
                    yield (*path, key), refusal.heading


def _rows(data: Mapping[str, Any], table: Path) -> Iterator[tuple[Path, Mapping[str, Any]]]:
    """Every table under a name, written once or in a list."""
    here: Any = data
    for step in table:
        here = here.get(step) if isinstance(here, dict) else None
    if isinstance(here, dict):
        yield table, here
    for place, row in enumerate(here if isinstance(here, list) else ()):
        if isinstance(row, dict):
            yield (*table, place), row
