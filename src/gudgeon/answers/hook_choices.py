"""Hooks that could hang on a lure: those it has, those in stock, and the sizes of the table about them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from gudgeon.answers.odd_makings import size_in
from gudgeon.design.hardware import Hook
from gudgeon.design.model import Design, Uncertainty
from gudgeon.library.hooks import hook_mass, hook_sizes
from gudgeon.physics.lure import Lure
from gudgeon.shop.log import Log
from gudgeon.shop.records import Stock
from gudgeon.units import Reading

_SIZES_ABOUT = 3  # sizes of the table to either side of the nearest
_ALIKE = 2e-5  # kg
_SAME = 0.10  # share that hooks of one size, out of one box, differ by at most; common practice, no source


@dataclass(frozen=True)
class HookChoice:
    """A hook with its ring that could hang there.

    words  : what it is: "1 treble, of stock"
    mass   : [kg]
    size   : of the table; None where it is not known
    is_at_hand : it is told of as in stock
    is_weighed : by the maker, and not by the table
    """

    words: str
    mass: Reading
    size: str | None = None
    is_at_hand: bool = True
    is_weighed: bool = True


def hooks_in_stock(log: Log) -> tuple[HookChoice, ...]:
    """The hooks of a shop's log that were weighed and are not used up."""
    found = []
    for entry in log.standing("stock"):
        stock = entry.what
        if isinstance(stock, Stock) and stock.what == "hook" and stock.each is not None and stock.count != 0:
            found.append(HookChoice(f"{stock.name}, in stock", stock.each, size_in(stock.name)))
    return tuple(found)


def hook_weight_now(lure: Lure, hook: Hook) -> float:
    """[kg] of a hook as it hangs, everything measured taken in."""
    masses, _ = lure.ledger.item_masses(lure.knowledge)
    return float(sum(mass for item, mass in zip(lure.ledger.items, masses, strict=True)
                     if item.kind == "hook" and item.name == hook.name))  # fmt: skip


def choices(design: Design, lure: Lure, stock: Sequence[HookChoice]) -> tuple[HookChoice, ...]:
    """What could hang on a lure in place of its hooks, the lightest first.

    stock : of the log; then the file's stock, then what hangs on it and was weighed, then the table: of each size only
            the first that is known so
    """
    found = list(stock)
    own = [HookChoice(f"size {one.size}, in stock", one.weight, one.size) for one in design.stock.hooks]
    hanging = [HookChoice(f"size {hook.size}, as the {hook.name} was weighed", Reading(hook_weight_now(lure, hook)),
                          hook.size, is_at_hand=False)
               for hook in design.hooks if hook.size is not None and hook.weight is not None]  # fmt: skip
    table = _table_about([hook_weight_now(lure, hook) for hook in design.hooks])
    for one in (*own, *hanging, *table):
        if all(one.size != other.size and abs(one.mass.value - other.mass.value) > _ALIKE for other in found):
            found.append(one)
    return tuple(sorted(found, key=lambda one: one.mass.value))


def is_another(choice: HookChoice, hook: Hook, now: float) -> bool:
    """Whether a choice is another hook than the one that hangs there, of [kg] now, and not one more of its size."""
    if choice.size is not None and choice.size == hook.size:
        return choice.is_at_hand and abs(choice.mass.value / now - 1.0) > _SAME
    return abs(choice.mass.value - now) > _ALIKE


def _table_about(masses: Sequence[float]) -> Iterator[HookChoice]:
    """Sizes of the table about the hooks that hang there now: some below the lightest to some above the heaviest."""
    if not masses:
        return
    sizes = [hook_mass(size) for size in hook_sizes()]
    near = [min(range(len(sizes)), key=lambda place: abs(sizes[place].mass - mass)) for mass in masses]
    share = Uncertainty().table_hook
    for one in sizes[max(min(near) - _SIZES_ABOUT, 0) : max(near) + _SIZES_ABOUT + 1]:
        yield HookChoice(f"size {one.size} by the table, weigh yours", Reading(one.mass, share * one.mass), one.size,
                         is_at_hand=False, is_weighed=False)  # fmt: skip
