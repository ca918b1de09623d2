"""Every part of a lure under its number in the bill: pieces, hinge parts, hooks and rings, slugs, plugs, coats."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from gudgeon.answers.bill import Bill, BillLine
from gudgeon.answers.harness_items import HARNESS_GLUE
from gudgeon.answers.hinge_items import GLUE, part_masses
from gudgeon.answers.hinge_made import HingePart, Size
from gudgeon.answers.hinging import made_hinges
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure

GLUED = "glue for hinges"
_SAME = 1e-6  # m: sizes that differ by less are the same


@dataclass(frozen=True)
class PartEntry:
    """One line of the list that goes with the lure drawn apart.

    number : its line in the bill
    mark   : that number; with a letter where a line of the bill is several parts
    names  : of the parts it stands for, each unlike all others: "wood, head", "hinge 1: upper eye"
    words, material : as a maker calls it
    sizes  : name, [m], how it is shown
    mass   : [kg] of them all; None of what is weighed with another
    count  : pieces; 0 of what is weighed out
    """

    number: int
    mark: str
    names: tuple[str, ...]
    words: str
    material: str
    sizes: tuple[Size, ...]
    mass: float | None
    count: int


@dataclass(frozen=True)
class _Entry:
    """An entry before it has its number: `line` is what the bill calls it."""

    line: str
    names: tuple[str, ...]
    words: str
    material: str
    mass: float | None
    count: int
    sizes: tuple[Size, ...] = ()


def part_list(design: Design, lure: Lure, bill: Bill) -> tuple[PartEntry, ...]:
    """Every part in the bill's order; the weights of a line's parts are together the line's.

    bill : of one lure
    """
    lines = {line.name: line for line in bill.lines}
    found: dict[int, list[_Entry]] = {line.number: [] for line in bill.lines}
    for entry in _entries(design, lure, lines):
        found[lines[entry.line].number].append(entry)
    return tuple(made for number, entries in found.items() for made in _marked(number, entries))


def _marked(number: int, entries: Sequence[_Entry]) -> Iterator[PartEntry]:
    """Lettered where a line is several parts."""
    for place, entry in enumerate(entries):
        mark = f"{number}{_letters(place)}" if len(entries) > 1 else str(number)
        yield PartEntry(number, mark, entry.names, entry.words, entry.material, entry.sizes, entry.mass, entry.count)


def _letters(place: int) -> str:
    """a, b, ... z, aa, ab."""
    rest, last = divmod(place, 26)
    return (_letters(rest - 1) if rest else "") + chr(ord("a") + last)


def _entries(design: Design, lure: Lure, lines: dict[str, BillLine]) -> Iterator[_Entry]:
    masses, _ = lure.ledger.item_masses(lure.knowledge)
    known: dict[tuple[str, str], float] = {}
    for item, mass in zip(lure.ledger.items, masses.tolist(), strict=True):
        known[item.kind, item.name] = known.get((item.kind, item.name), 0.0) + mass
    pockets = {pocket.name: pocket for pocket in design.pockets}
    spread_on: dict[tuple[str, str], float] = {}  # (line, name) of what is laid on or soaks in, all pieces together
    for (kind, name), mass in known.items():
        first, _, last = name.partition(", ")
        if kind == "wood":
            yield _Entry("wood", (name,), last, design.wood.species or "wood", mass, 1)
        elif kind in ("ballast", "plug"):
            pocket = pockets[last]
            material = pocket.material if kind == "ballast" else pocket.plug_material
            yield _Entry(material, (name,), f"{'slug' if kind == 'ballast' else 'plug'}, {last}", material, mass, 1)
        elif kind in ("sealer", "coat", "glue"):
            glued = name if name == HARNESS_GLUE else GLUED
            laid = (GLUE.lower(), glued) if kind == "glue" else (first, first)
            spread_on[laid] = spread_on.get(laid, 0.0) + mass
        elif kind == "hinge":
            yield from _hinge(design, lure, name, mass)
        elif kind in ("fitting", "hook", "lip", "fin", "harness"):
            yield from _fixed(design, name, mass, lines[name])
    for (line, words), mass in spread_on.items():
        yield _Entry(line, (words,), words, lines[line].material, mass, 0)


def _fixed(design: Design, name: str, mass: float, line: BillLine) -> Iterator[_Entry]:
    """A hook with its ring, or any other single thing."""
    sizes = line.parts[0].sizes if line.parts else ()
    hook = next((hook for hook in design.hooks if hook.name == name), None)
    called = line.made_of if hook is not None else next(
        (fitting.kind for fitting in design.fittings if fitting.name == name), "")  # fmt: skip
    words = f"{name}, {called}" if called and called != name and called != line.material else name
    if hook is None:
        words = words if called not in name else name
        yield _Entry(name, (name,), words, line.material, mass, 1, sizes)
        return
    yield _Entry(name, (name,), words, line.material, mass, 1, tuple(size for size in sizes if size[0] != "ring"))
    yield _Entry(name, (f"{name}: ring",), f"ring of the {name}", line.material, None, 1,
                 tuple(size for size in sizes if size[0] == "ring"))  # fmt: skip


def _hinge(design: Design, lure: Lure, name: str, mass: float) -> Iterator[_Entry]:
    """Parts alike in kind, material and sizes together."""
    made = next(one for one in made_hinges(design, lure) if one.name == name)
    own = part_masses(design.hinges[made.number - 1], made)
    share = mass / sum(own.values()) if sum(own.values()) > 0.0 else 0.0
    groups: dict[tuple[object, ...], list[HingePart]] = {}
    for part in made.parts:
        key = (part.kind, part.material, tuple((word, round(size / _SAME)) for word, size, _ in part.sizes))
        groups.setdefault(key, []).append(part)
    for parts in groups.values():
        first = parts[0]
        yield _Entry(name, tuple(f"{name}: {part.name}" for part in parts), f"{first.kind} of {name}", first.material,
                     share * sum(own[part.name] for part in parts), len(parts), first.sizes)  # fmt: skip
