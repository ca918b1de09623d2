"""The bill of materials: every part with its weight, what to buy, and what it costs at the maker's own prices."""

from collections.abc import Iterable
from dataclasses import dataclass

from gudgeon.design.bench import Price
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure

_PER_WEIGHT = 0.1  # kg, what "100 g" buys
_WEIGHED_OUT = ("ballast", "plug", "coat", "sealer")  # bought by weight, and summed over the pieces
_NOT_BOUGHT = ("hole", "slot")  # wood taken away


@dataclass(frozen=True)
class BillLine:
    """One thing to have on the bench.

    name   : the maker's, or what it is made of when bought by weight
    made_of : material, size or species; empty where the name says it
    count  : pieces; 0 when bought by weight
    mass   : [kg] of them all
    cost   : in the maker's money; None without a price
    """

    name: str
    made_of: str
    count: int
    mass: float
    cost: float | None


@dataclass(frozen=True)
class Bill:
    """Everything that goes into a lure.

    lines   : in the order it is made
    cost    : of the lines that have a price
    unpriced : names of those that have none
    unused  : prices that no line asked for
    """

    lines: tuple[BillLine, ...]
    cost: float
    unpriced: tuple[str, ...]
    unused: tuple[str, ...]


def bill(design: Design, lure: Lure) -> Bill:
    """The bill of a lure, ballast as it is to go in."""
    prices = {price.item.lower(): price for price in design.prices}
    lines = tuple(_lines(design, lure, prices))
    asked = {word.lower() for line in lines for word in (line.name, line.made_of)}
    return Bill(
        lines=lines,
        cost=sum(line.cost for line in lines if line.cost is not None),
        unpriced=tuple(line.name for line in lines if line.cost is None),
        unused=tuple(price.item for price in design.prices if price.item.lower() not in asked),
    )


def _lines(design: Design, lure: Lure, prices: dict[str, Price]) -> Iterable[BillLine]:
    masses, _ = lure.ledger.item_masses(lure.knowledge)
    made_of = _made_of(design)
    found: dict[str, list[float]] = {}
    wood = 0.0
    for item, mass in zip(lure.ledger.items, masses, strict=True):
        if item.kind in _NOT_BOUGHT:
            continue
        if item.kind == "wood":
            wood += float(mass)
            continue
        name = _bought_as(design, item.name, item.kind) if item.kind in _WEIGHED_OUT else item.name
        found.setdefault(name, []).append(float(mass))
    yield _priced("wood", design.wood.species or "", 1, wood, prices)
    weighed_out = {_bought_as(design, item.name, item.kind) for item in lure.ledger.items if item.kind in _WEIGHED_OUT}
    for name, parts in found.items():
        yield _priced(name, made_of.get(name, ""), 0 if name in weighed_out else 1, sum(parts), prices)


def _bought_as(design: Design, name: str, kind: str) -> str:
    """What a thing bought by weight is asked for by: the metal of a pocket's ballast, the coat without its piece."""
    first, _, last = name.partition(", ")
    pocket = next((pocket for pocket in design.pockets if pocket.name == last), None)
    if pocket is None:
        return first
    return pocket.material if kind == "ballast" else pocket.plug_material


def _made_of(design: Design) -> dict[str, str]:
    found = {
        fitting.name: fitting.kind if fitting.material in fitting.kind else f"{fitting.material} {fitting.kind}"
        for fitting in design.fittings
    }
    found |= {hook.name: f"treble {hook.size}" if hook.size else hook.material for hook in design.hooks}
    found |= {coat.name: coat.material for coat in design.coats if coat.material}
    found |= {"lip": design.lip.material} if design.lip else {}
    return found | ({"fin": design.fin.material} if design.fin else {})


def _priced(name: str, made_of: str, count: int, mass: float, prices: dict[str, Price]) -> BillLine:
    price = prices.get(name.lower()) or prices.get(made_of.lower())
    return BillLine(name, made_of, count, mass, None if price is None else _cost(price, count, mass))


def _cost(price: Price, count: int, mass: float) -> float:
    return price.each * (mass / _PER_WEIGHT if price.per == "100 g" else max(count, 1))
