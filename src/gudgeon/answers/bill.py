"""The bill of materials: every part with its weight, what to buy, and what it costs at the maker's own prices."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.cut_order import SquareStock
from gudgeon.answers.harness_items import NAME as HARNESS
from gudgeon.answers.harness_run import runs
from gudgeon.answers.hinge_items import GLUE
from gudgeon.answers.hinge_made import HingePart, Size
from gudgeon.answers.hinging import made_hinges
from gudgeon.design.bench import Price
from gudgeon.design.hardware import Fitting, Hinge, Hook
from gudgeon.design.model import Coat, Design
from gudgeon.physics.lure import Lure
from gudgeon.physics.mass import MASS
from gudgeon.physics.spread import Estimate
from gudgeon.units import Measure

TIMES = "x"  # before a size that goes with the one before it: long x high x wide
_PER_WEIGHT = 0.1  # kg, what "100 g" buys
_WEIGHED_OUT = ("ballast", "plug", "coat", "sealer", "glue")  # bought by weight, and summed over the pieces
_NOT_BOUGHT = ("hole", "slot")  # wood taken away


@dataclass(frozen=True)
class BillPart:
    """What a line is made of, where it is more than one thing or has sizes.

    count    : in one line's piece
    sizes    : name, [m], how it is shown
    """

    count: int
    words: str
    material: str
    sizes: tuple[Size, ...]


@dataclass(frozen=True)
class BillLine:
    """One thing to have on the bench.

    number  : in the bill, from 1
    name    : the maker's, or what it is made of when bought by weight
    made_of : kind, size or species; empty where the name says it
    material: what it is made of; empty where the maker does not tell
    count   : pieces; 0 when bought by weight
    each    : [kg] of one piece; of one lure's share when bought by weight
    mass    : [kg] of them all      spread : its half-width
    cost    : of them all, in the maker's money; None without a price
    price   : the maker's own; None without one
    parts   : with their sizes
    """

    number: int
    name: str
    made_of: str
    material: str
    count: int
    each: float
    mass: float
    cost: float | None
    price: Price | None
    parts: tuple[BillPart, ...]
    spread: float


@dataclass(frozen=True)
class Purchase:
    """What to ask for in a shop: alike things of the bill together.

    words : what it is
    lines : their numbers in the bill
    count : pieces; 0 when bought by weight      each, mass, spread : [kg] as a line's
    cost, price : as a line's
    """

    words: str
    lines: tuple[int, ...]
    count: int
    each: float
    mass: float
    cost: float | None
    price: Price | None
    parts: tuple[BillPart, ...]
    spread: float


@dataclass(frozen=True)
class Bill:
    """Everything that goes into so many lures.

    lures   : how many
    lines   : in the order it is made
    to_buy  : the same, alike things together
    cost    : of the lines that have a price
    unpriced : names of those that have none
    unused  : prices that no line asked for
    """

    lures: int
    lines: tuple[BillLine, ...]
    to_buy: tuple[Purchase, ...]
    cost: float
    unpriced: tuple[str, ...]
    unused: tuple[str, ...]


def bill(
    design: Design, lure: Lure, lures: int = 1, stock: SquareStock | None = None, needed: Estimate | None = None
) -> Bill:
    """The bill of one lure or more alike, ballast as it is to go in.

    stock  : what each blank is sawn from; not told when left out
    needed : [kg] ballast of one lure, where it is still to be found
    """
    prices = {price.item.lower(): price for price in design.prices}
    lines = tuple(_lines(design, lure, prices, lures, (stock, needed)))
    asked = {word.lower() for line in lines for word in (line.name, line.made_of)}
    return Bill(
        lures=lures, lines=lines, to_buy=tuple(_purchases(lines)),
        cost=sum(line.cost for line in lines if line.cost is not None),
        unpriced=tuple(line.name for line in lines if line.cost is None),
        unused=tuple(price.item for price in design.prices if price.item.lower() not in asked),
    )  # fmt: skip


def _lines(
    design: Design, lure: Lure, prices: dict[str, Price], lures: int, told: tuple[SquareStock | None, Estimate | None]
) -> Iterable[BillLine]:
    stock, needed = told
    masses, spreads = _masses(design, lure), _spreads(design, lure, needed)
    weighed_out = {_bought_as(design, item.name, item.kind) for item in lure.ledger.items if item.kind in _WEIGHED_OUT}
    described = _described(design, lure, stock)
    for number, (name, mass) in enumerate(masses.items(), start=1):
        made_of, material, parts = described.get(name, ("", name if name in weighed_out else "", ()))
        count = 0 if name in weighed_out else lures
        price = prices.get(name.lower()) or prices.get(made_of.lower())
        cost = None if price is None else _cost(price, lures if count else 0, mass * lures)
        yield BillLine(number, name, made_of, material, count, mass, mass * lures, cost, price, parts,
                       spreads[name] * lures)  # fmt: skip


def _masses(design: Design, lure: Lure) -> dict[str, float]:
    """[kg] in one lure of each thing by what it is asked for by, the wood first."""
    masses, _ = lure.ledger.item_masses(lure.knowledge)
    found = {"wood": 0.0}
    for name, mass in zip(_asked_for(design, lure), masses, strict=True):
        if name:
            found[name] = found.get(name, 0.0) + float(mass)
    return found


def _asked_for(design: Design, lure: Lure) -> list[str]:
    """What each item of the ledger is asked for by; empty for what is not bought."""
    found = []
    for item in lure.ledger.items:
        name = "wood" if item.kind == "wood" else item.name
        if item.kind in _WEIGHED_OUT:
            name = _bought_as(design, item.name, item.kind)
        found.append("" if item.kind in _NOT_BOUGHT else name)
    return found


def _spreads(design: Design, lure: Lure, needed: Estimate | None) -> dict[str, float]:
    """Half-width [kg] of each of those masses; ballast still to be found is as unsure as what is needed of it."""
    names, masses = np.array(_asked_for(design, lure)), _masses(design, lure)
    found = {name: lure.knowledge.half_width(lure.ledger.effects(names == name)[:, MASS]) for name in masses}
    if needed is not None:
        metals = {pocket.material for pocket in design.pockets if pocket.free} & masses.keys()
        whole = sum(masses[metal] for metal in metals)
        found |= {metal: needed.spread * masses[metal] / whole for metal in metals if whole > 0.0}
    return found


def _bought_as(design: Design, name: str, kind: str) -> str:
    """What a thing bought by weight is asked for by: the metal of a pocket's ballast, the coat without its piece."""
    first, _, last = name.partition(", ")
    if kind == "glue":
        return GLUE.lower()
    if kind not in ("ballast", "plug"):
        return first
    pocket = next(pocket for pocket in design.pockets if pocket.name == last)
    return pocket.material if kind == "ballast" else pocket.plug_material


Described = tuple[str, str, tuple[BillPart, ...]]  # what it is, its material, its parts with their sizes


def _described(design: Design, lure: Lure, stock: SquareStock | None) -> dict[str, Described]:
    species = design.wood.species or ""
    found: dict[str, Described] = {"wood": (species, species, _blank(species, stock))}
    found |= {fitting.name: _fitting(fitting) for fitting in design.fittings}
    found |= {hook.name: _hook(hook) for hook in design.hooks}
    found |= {coat.name: (coat.material, coat.material, (_coat(coat),)) for coat in design.coats if coat.material}
    found |= {made.name: (f"{hinge.material} {hinge.kind}", _of_hinge(hinge, made.parts),
                          tuple(_hinge_parts(made.parts)))
              for hinge, made in zip(design.hinges, made_hinges(design, lure), strict=True)}  # fmt: skip
    for name, plate in (("lip", design.lip), ("fin", design.fin)):
        if plate is not None:
            found[name] = (plate.material, plate.material, (_sized(plate.material, *_plate_sizes(name, design)),))
    if design.harness is not None:
        wire = design.harness
        part = _sized(wire.material, ("wire", wire.wire, Measure.WIRE), ("run", _run(design, lure), Measure.CUT))
        strands = "two strands of " if wire.twisted else ""
        found[HARNESS] = (f"{strands}{wire.material}", wire.material, (part,))
    return found


def _run(design: Design, lure: Lure) -> float | None:
    """[m] from a harness's first loop to its last; the loops themselves want more wire."""
    found = runs(design, lure.hull, lure.segments)
    return found[-1].stop - found[0].start if found else None


def _sized(material: str, *sizes: tuple[str, float | None, Measure]) -> BillPart:
    """A thing in one piece, with the sizes that are told."""
    return BillPart(1, "", material, tuple((name, size, measure) for name, size, measure in sizes if size is not None))


def _blank(species: str, stock: SquareStock | None) -> tuple[BillPart, ...]:
    if stock is None:
        return ()
    return (_sized(species, ("weight as shaped; square blank", stock.length, Measure.CUT),
                   (TIMES, stock.side, Measure.CUT), (TIMES, stock.top, Measure.CUT)),)  # fmt: skip


def _fitting(fitting: Fitting) -> Described:
    kind = fitting.kind if fitting.material in fitting.kind else f"{fitting.material} {fitting.kind}"
    part = _sized(fitting.material, ("wire", fitting.wire, Measure.WIRE), ("in the wood", fitting.shank, Measure.CUT),
                  ("loop", fitting.loop, Measure.CUT))  # fmt: skip
    return kind, fitting.material, (part,) if part.sizes else ()


def _hook(hook: Hook) -> Described:
    part = _sized(hook.material, ("shank", hook.shank, Measure.CUT), ("gape", hook.gape, Measure.CUT),
                  ("ring", hook.ring, Measure.CUT))  # fmt: skip
    return f"treble {hook.size}" if hook.size else hook.material, hook.material, (part,) if part.sizes else ()


def _coat(coat: Coat) -> BillPart:
    return BillPart(coat.coats, "coat", coat.material or "", (("each", coat.thickness.value, Measure.FILM),))


def _plate_sizes(name: str, design: Design) -> Iterator[tuple[str, float | None, Measure]]:
    if name == "lip" and design.lip is not None:
        lip = design.lip
        long, wide, thick = lip.exposed + lip.set_in, lip.width, lip.thickness
    elif design.fin is not None:
        fin = design.fin
        long, wide, thick = fin.length + fin.set_in, fin.tall, fin.thickness
    yield from (("long", long, Measure.CUT), ("wide", wide, Measure.CUT), ("thick", thick, Measure.WIRE))


def _of_hinge(hinge: Hinge, parts: tuple[HingePart, ...]) -> str:
    """Its materials, the pin's too where that is another."""
    return " and ".join(dict.fromkeys([hinge.material, *(part.material for part in parts)]))


def _hinge_parts(parts: tuple[HingePart, ...]) -> Iterator[BillPart]:
    """Parts alike in kind, material and sizes counted together, as they are made."""
    alike: dict[tuple[str, str, tuple[Size, ...]], int] = {}
    for part in parts:
        sizes = tuple((name, round(size, 6), measure) for name, size, measure in part.sizes)
        alike[part.kind, part.material, sizes] = alike.get((part.kind, part.material, sizes), 0) + 1
    for (kind, material, sizes), count in alike.items():
        yield BillPart(count, kind, material, sizes)


def _purchases(lines: Iterable[BillLine]) -> Iterator[Purchase]:
    """Lines alike in what they are, weight and sizes together; what is bought by weight by its material."""
    alike: dict[tuple[object, ...], list[BillLine]] = {}
    for line in lines:
        by_piece = (line.made_of or line.name, round(line.each, 6), line.parts, line.price)
        alike.setdefault(by_piece if line.count else (line.material or line.name, line.price), []).append(line)
    for group in alike.values():
        first, costs = group[0], [line.cost for line in group if line.cost is not None]
        words = (first.made_of or first.name) if first.count else (first.material or first.name)
        yield Purchase(words, tuple(line.number for line in group), sum(line.count for line in group),
                       first.each if first.count else sum(line.each for line in group),
                       sum(line.mass for line in group), sum(costs) if costs else None, first.price,
                       first.parts if first.count else (), sum(line.spread for line in group))  # fmt: skip


def _cost(price: Price, count: int, mass: float) -> float:
    return price.each * (mass / _PER_WEIGHT if price.per == "100 g" else max(count, 1))
