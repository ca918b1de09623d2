"""A design with what the shop's log says of its habits in place of the book's values, where its maker asks for it.

Only what nobody measured gives way: a wood known by its species alone, coats and sealer and holes without a spread or a
share of their own, a fall's drag left to the table. What was measured stays, whatever the shop's habit is.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from gudgeon.answers.as_weighed import AsWeighed, as_weighed
from gudgeon.answers.assembly import assemble
from gudgeon.answers.checked import Check
from gudgeon.answers.finding import worst_first
from gudgeon.answers.learning import COATS, DENSITY, DRAG, FILLING, SEALER, Habit, Learned
from gudgeon.answers.noted_weights import coat_mass, coats_alike, parted, recipe
from gudgeon.answers.overall import overall
from gudgeon.answers.saying import note, plain
from gudgeon.design.model import Coat, Design, Pocket
from gudgeon.physics.lure import Lure
from gudgeon.physics.spread import Estimate, around
from gudgeon.shop.entries import LureRecord
from gudgeon.shop.records import Ballast
from gudgeon.units import Reading

OWN = "by your shop's log"
MOST_PACKED = 1.0


@dataclass(frozen=True)
class ShopValue:
    """One value that took a book's place.

    habit : where it is from      value : [SI] what is used      instead_of : what stood there; None for nothing
    whose : the board, or the pattern, whose own it is; "" for the next one's
    """

    habit: Habit
    value: Estimate
    instead_of: Estimate | None
    whose: str


@dataclass(frozen=True)
class ShopDesign:
    """A design with the shop's values in it, and which those are."""

    design: Design
    used: tuple[ShopValue, ...]


@dataclass(frozen=True)
class ShopCheck:
    """A check with the shop's values; as_weighed : of a lure of the log, None for a design alone."""

    check: Check
    used: tuple[ShopValue, ...]
    as_weighed: AsWeighed | None


def shop_check(design: Design, stamp: str, found: Learned, record: LureRecord | None = None) -> ShopCheck:
    """Every answer for a design, or for a lure of the log, with the shop's values in place of the book's.

    found  : the shop's habits, that lure's own records left out
    raises : as `overall` and `as_weighed` do
    """
    if record is not None:
        own = with_shop_values(design, found, {piece.hole for _, piece in record.of(Ballast)})
        known, board = _board_known(record, found)
        of_board = record.board is not None  # then its wood counts, not the design's
        used = (*board, *(value for value in own.used if not (of_board and value.habit.kind == DENSITY)))
        made = as_weighed(own.design, stamp, known)
        return ShopCheck(_told(made.check, used), used, made)
    own = with_shop_values(design, found)
    answer = _told(overall(own.design), own.used)
    if any(value.habit.kind == DENSITY for value in own.used):
        answer = replace(answer, wood_known_by=f"{design.wood.species}, {OWN}")
    return ShopCheck(answer, own.used, None)


def _told(answer: Check, used: Sequence[ShopValue]) -> Check:
    """The check, saying whose values it counts with."""
    names = ", ".join(value.habit.label for value in used)
    words = f"counts with your shop's own values, not the book's, for {names}" if used else (
        "nothing in the log takes the place of a book's value here: this design's values were measured or told, or the "
        "log has no record of the kind")  # fmt: skip
    return replace(answer, findings=worst_first([*answer.findings, note(plain(words))]))


def _board_known(record: LureRecord, found: Learned) -> tuple[LureRecord, tuple[ShopValue, ...]]:
    """The record with the density of its board by the blanks cut from it, where no offcut was weighed."""
    board = record.board
    if board is None or board.density is not None:
        return record, ()
    habit = found.habit(DENSITY, board.wood)
    if habit is None:
        return record, ()
    name = f"board {board.name}"
    value = habit.of_group(name)
    whose = name if any(group.name == name for group in habit.groups) else ""
    known = replace(record, board=replace(board, density=_reading(value)))
    return known, (ShopValue(habit, value, habit.book, whose),)


def with_shop_values(design: Design, found: Learned, filled: Collection[str] = ()) -> ShopDesign:
    """The design with the shop's values where nothing was measured.

    filled : pockets that hold their ballast already, and stay as they are
    """
    drawn = assemble(design)
    used: list[ShopValue] = []
    update: dict[str, object] = {}
    density = _density(design, found)
    if density is not None:
        used.append(density)
        update["wood"] = design.wood.model_copy(update={"density": _reading(density.value)})
    sealer = _sealer(design, drawn, found)
    if sealer is not None and design.sealer is not None:
        used.append(sealer)
        area = _skin(drawn)
        weight = Reading(sealer.value.value * area, sealer.value.spread * area)
        update["sealer"] = design.sealer.model_copy(update={"weight": weight})
    coats, coated = _coats(design, drawn, found)
    used += coated
    update["coats"] = coats
    pockets, packed = _pockets(design, found, filled)
    used += packed
    update["pockets"] = pockets
    drag = _drag(design, found)
    if drag is not None:
        used.append(drag)
        own = {"fall_drag": drag.value.value, "fall_drag_spread": drag.value.spread}
        update["coefficients"] = design.coefficients.model_copy(update=own)
    return ShopDesign(design.model_copy(update=update), tuple(used))


def _reading(value: Estimate) -> Reading:
    return Reading(value.value, value.spread)


def _skin(drawn: Lure) -> float:
    return sum(segment.skin for segment in drawn.segments)


def _density(design: Design, found: Learned) -> ShopValue | None:
    """Of a wood that is known by its name only."""
    wood = design.wood
    weighed = any(one.stage == "shaped" and one.weight is not None for one in design.measured)
    if wood.species is None or wood.density is not None or wood.blank_weight is not None or weighed:
        return None
    habit = found.habit(DENSITY, wood.species)
    return None if habit is None else ShopValue(habit, habit.coming, habit.book, "")


def _sealer(design: Design, drawn: Lure, found: Learned) -> ShopValue | None:
    sealer = design.sealer
    if sealer is None or sealer.weight.spread is not None:
        return None
    habit = found.habit(SEALER, design.wood.species or "wood")
    if habit is None:
        return None
    own = sealer.weight.value / _skin(drawn)
    return ShopValue(habit, habit.coming, around(own, design.uncertainty.sealer * own), "")


def _coats(design: Design, drawn: Lure, found: Learned) -> tuple[tuple[Coat, ...], list[ShopValue]]:
    """The coats made as thick as this shop lays them: by their whole recipe, else its primer and the rest apart."""
    coats, whole = design.coats, found.habit(COATS, recipe(design.coats)) if design.coats else None
    parts = [coats] if whole is not None else [part for part in parted(coats) if part]
    used: list[ShopValue] = []
    thick: dict[str, Coat] = {}
    for part in parts:
        habit = found.habit(COATS, recipe(part))
        if habit is None or any(coat.thickness.spread is not None for coat in part):
            continue
        own = coat_mass(drawn, part) / _skin(drawn) / coats_alike(part)
        factor, spread = habit.coming.value / own, habit.coming.spread / own
        thick |= {coat.name: _thicker(coat, factor, spread) for coat in part}
        used.append(ShopValue(habit, habit.coming, around(own, design.uncertainty.coat_thickness * own), ""))
    return tuple(thick.get(coat.name, coat) for coat in coats), used


def _thicker(coat: Coat, factor: float, spread: float) -> Coat:
    thickness = coat.thickness.value
    return coat.model_copy(update={"thickness": Reading(factor * thickness, spread * thickness)})


def _pockets(design: Design, found: Learned, filled: Collection[str]) -> tuple[tuple[Pocket, ...], list[ShopValue]]:
    """The pockets packed as this shop's are; those with a share of their own, or bored or filled already, stay."""
    used: dict[str, ShopValue] = {}
    pockets = []
    for pocket in design.pockets:
        habit = found.habit(FILLING, pocket.material)
        bored = pocket.depth is not None or pocket.holds is not None or pocket.name in filled
        if habit is None or pocket.packed is not None or bored:
            pockets.append(pocket)
            continue
        pockets.append(pocket.model_copy(update={"packed": min(habit.coming.value, MOST_PACKED)}))
        used.setdefault(pocket.material, ShopValue(habit, habit.coming, habit.book, ""))
    return tuple(pockets), list(used.values())


def _drag(design: Design, found: Learned) -> ShopValue | None:
    """The drag of this pattern's own falls, else of the next pattern's."""
    habit = found.habit(DRAG)
    dropped = any(one.sinks is not None or one.rises is not None for one in design.measured)
    if habit is None or dropped or design.coefficients.fall_drag is not None:
        return None
    own = any(group.name == design.name for group in habit.groups)
    return ShopValue(habit, habit.of_group(design.name), habit.book, design.name if own else "")
