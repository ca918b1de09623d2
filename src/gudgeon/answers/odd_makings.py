"""What is odd about what lures are made of: hooks in stock that weigh an ounce for a gram, a board unlike the wood."""

from collections.abc import Iterator

from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import plain, watch
from gudgeon.answers.timber import timber
from gudgeon.answers.woodwork import woodwork
from gudgeon.design.model import Design
from gudgeon.errors import OutsideSource
from gudgeon.library.hooks import hook_mass, hook_sizes
from gudgeon.library.woods import species, wood_density
from gudgeon.shop.records import Board, Stock
from gudgeon.units import OUNCE, Measure

_TOO_HEAVY = 8.0  # times what such a hook weighs, as in a design's file; an ounce is 28 g
_UNLIKE = 0.10  # share of the drawing's density; a habit of our own, twice what boards of one wood are unsure of
_MOISTURE = 0.12
_GRAM = 1e-3


def odd_stock(stock: Stock) -> Iterator[Finding]:
    """A hook about to be entered that no treble of its size, or of any, weighs as much as."""
    if stock.what != "hook" or stock.each is None:
        return
    size = size_in(stock.name)
    usual = hook_mass(size or hook_sizes()[-1]).mass
    if stock.each.value <= (_TOO_HEAVY if size else 2.0) * usual:
        return
    what = "a treble of that size weighs" if size else f"the largest treble known, a {hook_sizes()[-1]}, weighs"
    slip = stock.each.value / OUNCE * _GRAM
    meant = ": {slip} and not ounces?" if slip < (_TOO_HEAVY if size else 2.0) * usual else ""
    yield watch(f"{plain(stock.name)}: {{each}} for one, where {what} about {{usual}}{meant}",
                each=(stock.each.value, Measure.MASS), usual=(usual, Measure.MASS),
                slip=(slip, Measure.MASS))  # fmt: skip


def size_in(name: str) -> str | None:
    """The size that a hook's name tells: "2/0 treble"; None where it tells none."""
    return next((word for word in name.replace("#", " ").split() if word in hook_sizes()), None)


def unlike_wood(design: Design, board: Board) -> Iterator[Finding]:
    """A board much lighter or heavier than the wood that a design was drawn for."""
    dense, drawn = _board_density(board), timber(design, woodwork(design, []), []).density
    if dense is None or abs(dense / drawn - 1.0) <= _UNLIKE:
        return
    side, more = ("lighter", "more") if dense < drawn else ("heavier", "less")
    yield watch(f"board {plain(board.name)}, {{dense}}, is {{share}} {side} than the wood that the design is drawn "
                f"for, {{drawn}}: a blank out of it is as much {side}, and takes {more} lead",
                dense=(dense, Measure.DENSITY), share=(abs(dense / drawn - 1.0), Measure.PART),
                drawn=(drawn, Measure.DENSITY))  # fmt: skip


def _board_density(board: Board) -> float | None:
    """[kg/m3] as measured, else of its wood by the table; None where neither is known."""
    if board.density is not None:
        return board.density.value
    try:
        return wood_density(species(board.wood), _MOISTURE if board.moisture is None else board.moisture.value).value
    except OutsideSource:
        return None
