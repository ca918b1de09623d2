"""Records of a shop's habits that a scale and a jug tell: wood by board, sealer, coats, lead in its holes.

A blank's volume is the one that was dunked, its own or its run's; else the drawn one, and all such blanks are off
together. Bores are drilled ahead of the sealer, as everywhere in the log: a lure that was not weighed drilled has their
wood taken off by the depths that were told.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from gudgeon.answers.boring import BORE_SPREAD
from gudgeon.answers.noted import MOST, Kin, Noted
from gudgeon.answers.water_state import water_at
from gudgeon.design.model import Coat, Pocket
from gudgeon.errors import OutsideSource
from gudgeon.library.metals import material
from gudgeon.library.woods import species, wood_density
from gudgeon.physics.lure import Lure
from gudgeon.physics.spread import root_sum_square
from gudgeon.shop.entries import Of
from gudgeon.shop.log import Log
from gudgeon.shop.records import WHOLE, Ballast, Board, Jug
from gudgeon.units import Density, Part, Reading

_DUNKED = ("shaped", "drilled", "sealed")
_TAP = Reading(293.15)  # K
_DEPTH_SPREAD = 5e-4  # m, half-width of a hole's depth read on a ruler
_UNTOLD_DEPTH = 0.2  # half-width of a depth that follows from the lead alone, as a share
_LEAD = 11340.0  # kg/m3, for ballast of a material that is not in the tables
_PART_FILLED = 0.5  # of a hole, below which it was left part empty, and tells nothing of how it fills
_DRY = 0.12  # moisture of dry weight, where none is told
Boards = Mapping[str, tuple[int, Board]]
"""A board's name -> its entry and its record."""


@dataclass(frozen=True)
class Hole:
    """One hole of one lure with what went in: kg, m; None where the log does not tell."""

    name: str
    mass: float
    depth: float | None
    bore: float | None
    plug: float
    material: str
    entry: int

    @property
    def removed(self) -> Reading | None:
        """[m3] of wood that is gone; by what the lead and its plug need where no depth was told. None for no bore."""
        if not self.bore:
            return None
        area = 0.25 * math.pi * self.bore**2
        wide = 2.0 * BORE_SPREAD / self.bore
        if self.depth is not None:
            return Reading(area * self.depth, area * math.hypot(_DEPTH_SPREAD, wide * self.depth))
        deep = self.mass / (_density(self.material) * area) + self.plug if self.mass > 0.0 else 0.0
        return Reading(area * deep, _UNTOLD_DEPTH * area * deep)


def wood_name(name: str) -> str:
    """A wood by the table's name for it; as it was written where the table does not know it."""
    try:
        return species(name).name
    except OutsideSource:
        return name.strip()


def book_density(name: str, moisture: Part | None = None) -> tuple[Density, Density | None] | None:
    """[kg/m3] by the table, and the half-width it gives for boards; None for a wood that it does not know."""
    try:
        found = wood_density(species(name), _DRY if moisture is None else moisture)
    except OutsideSource:
        return None
    return found.value, found.spread


def board_records(boards: Boards) -> Iterator[tuple[str, Noted]]:
    """Wood -> what an offcut of each board told."""
    for name, (entry, board) in boards.items():
        if board.density is not None:
            share = board.density.spread_or(0.02 * board.density.value) / board.density.value
            moist = None if board.moisture is None else board.moisture.value
            book = book_density(board.wood, moist)
            yield board.wood, Noted(board.density.value, share, f"board {name}", entry, None, book[0] if book else None)


def blank_records(log: Log, kin: Kin, boards: Boards) -> Iterator[tuple[str, Noted]]:
    """Wood -> density of each shaped blank."""
    volumes, by_run = _dunked(log, kin)
    for lure, weight in kin.weights.get("shaped", {}).items():
        wood, moisture = _wood_of(kin, lure, boards)
        if not wood or weight.mass.value <= 0.0:
            continue
        volume = volumes.get(lure) or by_run.get(kin.runs[lure])
        unsure = kin.design.uncertainty.dunk if volume else 0.0
        share = root_sum_square([unsure, (weight.mass.spread or 0.0) / weight.mass.value])
        book = book_density(wood, moisture)
        group = f"board {kin.boards[lure]}" if kin.boards[lure] else kin.run_of(lure)
        yield wood, Noted(weight.mass.value / (volume or kin.blank_volume), share, group, weight.entry, lure,
                          book[0] if book else None, drawn=volume is None)  # fmt: skip


def _wood_of(kin: Kin, lure: int, boards: Boards) -> tuple[str, Part | None]:
    """What wood a lure is of, by its board, else by its design, and its moisture; "" where neither tells."""
    name = kin.boards[lure]
    known = boards[name][1] if name is not None and name in boards else None
    moisture = known.moisture if known else kin.design.wood.moisture
    return (known.wood if known else kin.design.wood.species or ""), None if moisture is None else moisture.value


def _dunked(log: Log, kin: Kin) -> tuple[dict[int, float], dict[int, float]]:
    """Lure -> its volume [m3] by the jug; run -> the mean of those."""
    volumes: dict[int, float] = {}
    for one in log.measured(Jug, kin.root, None, MOST):
        seen = one.what
        if one.lure in kin.runs and (seen.piece, seen.fitted) == (WHOLE, None) and seen.stage in _DUNKED:
            water = water_at(seen.temperature or _TAP, seen.salinity or Reading(0.0), 0.0)
            volumes[one.lure] = seen.displaced.value / water.density
    runs: dict[int, list[float]] = {}
    for lure, volume in volumes.items():
        runs.setdefault(kin.runs[lure], []).append(volume)
    return volumes, {run: sum(own) / len(own) for run, own in runs.items()}


def holes_of(log: Log, kin: Kin) -> dict[int, tuple[Hole, ...]]:
    """Lure -> its holes with their ballast."""
    pieces: dict[int, dict[str, list[Of[Ballast]]]] = {}
    for one in log.measured(Ballast, kin.root, None, MOST):
        if one.lure in kin.runs:
            pieces.setdefault(one.lure, {}).setdefault(one.what.hole, []).append(one)
    pockets = {pocket.name: pocket for pocket in kin.design.pockets}
    return {
        lure: tuple(hole_of(name, [one.what for one in own], pockets.get(name), own[-1].entry)
                    for name, own in holes.items())
        for lure, holes in pieces.items()
    }  # fmt: skip


def _density(name: str) -> Density:
    try:
        return material(name).density
    except OutsideSource:
        return _LEAD


def hole_of(name: str, pieces: Sequence[Ballast], drawn: Pocket | None, entry: int) -> Hole:
    """One hole by the pieces that went into it, and by its drawing where they do not tell; entry : the last piece's."""
    depths = [piece.depth for piece in pieces if piece.depth is not None]
    bores = [piece.bore for piece in pieces if piece.bore is not None]
    return Hole(
        name=name, mass=sum(piece.mass.value for piece in pieces),
        depth=depths[-1] if depths else drawn.depth if drawn else None,
        bore=bores[-1] if bores else drawn.bore if drawn else None,
        plug=drawn.plug if drawn else float(Pocket.model_fields["plug"].default),
        material=pieces[0].material, entry=entry,
    )  # fmt: skip


def filling_records(kin: Kin, holes: Mapping[int, Sequence[Hole]]) -> Iterator[tuple[str, Noted]]:
    """Material -> share of each hole, under its plug, that its ballast fills."""
    for lure, own in holes.items():
        for hole in own:
            if hole.depth is None or hole.bore is None or hole.depth <= hole.plug or hole.mass <= 0.0:
                continue
            length = hole.depth - hole.plug
            filled = hole.mass / (_density(hole.material) * 0.25 * math.pi * hole.bore**2 * length)
            share = root_sum_square([2.0 * BORE_SPREAD / hole.bore, _DEPTH_SPREAD / length])
            if filled >= _PART_FILLED:
                yield hole.material, Noted(filled, share, kin.run_of(lure), hole.entry, lure, 1.0)


def sealer_records(kin: Kin, holes: Mapping[int, Sequence[Hole]], boards: Boards) -> Iterator[tuple[str, Noted]]:
    """Wood -> sealer per area of skin [kg/m2] that stayed in; the area is that which is coated."""
    area = sum(segment.skin for segment in kin.drawn.segments)
    book = None if kin.design.sealer is None else kin.design.sealer.weight.value / area
    for lure, sealed in kin.weights.get("sealed", {}).items():
        before = kin.weighed(lure, "drilled", "shaped")
        bored = _bored_off(kin, lure, holes.get(lure, ()))
        if before is None or bored is None:
            continue
        gain = sealed.mass.value - before.mass.value + bored.value
        unsure = root_sum_square([sealed.mass.spread or 0.0, before.mass.spread or 0.0, bored.spread or 0.0])
        if gain > 0.5 * unsure:
            wood = _wood_of(kin, lure, boards)[0] or "wood"
            yield wood, Noted(gain / area, unsure / gain, kin.run_of(lure), sealed.entry, lure, book)


def _bored_off(kin: Kin, lure: int, holes: Sequence[Hole]) -> Reading | None:
    """[kg] of wood that went between the last weighing in the bare wood and the sealer; None where none can tell."""
    blank, removed = kin.weighed(lure, "shaped"), [hole.removed for hole in holes]
    if kin.weighed(lure, "drilled") is not None or not holes:
        return Reading(0.0, 0.0)
    known = [one for one in removed if one is not None]
    if blank is None or len(known) < len(removed):
        return None
    density = blank.mass.value / kin.blank_volume
    return Reading(density * sum(one.value for one in known),
                   density * root_sum_square([one.spread or 0.0 for one in known]))  # fmt: skip


def coat_records(kin: Kin, holes: Mapping[int, Sequence[Hole]]) -> Iterator[tuple[str, Noted]]:
    """Recipe -> coats per area [kg/m2]: of one coat where all are of one stuff, else of all together."""
    area = sum(segment.skin for segment in kin.drawn.segments)
    for lure in kin.runs:
        bare = kin.weighed(lure, "leaded") if holes.get(lure) else kin.weighed(lure, "leaded", "sealed")
        primed, clear = kin.weighed(lure, "primed"), kin.weighed(lure, "clear")
        spans = [(bare, clear, kin.design.coats)]
        if primed is not None:
            primer, rest = parted(kin.design.coats)
            spans = [(bare, primed, primer), (primed, clear, rest)]
        for before, after, coats in spans:
            if before is None or after is None or not coats:
                continue
            gain = after.mass.value - before.mass.value
            unsure = root_sum_square([after.mass.spread or 0.0, before.mass.spread or 0.0])
            if gain > 0.5 * unsure:
                count = coats_alike(coats)
                yield recipe(coats), Noted(gain / area / count, unsure / gain, kin.run_of(lure), after.entry, lure,
                                           coat_mass(kin.drawn, coats) / area / count)  # fmt: skip


def parted(coats: Sequence[Coat]) -> tuple[tuple[Coat, ...], tuple[Coat, ...]]:
    """The primer, and what goes on after it; by their names."""
    primer = tuple(coat for coat in coats if "prim" in f"{coat.name} {coat.material}".lower())
    return primer, tuple(coat for coat in coats if coat not in primer)


def coats_alike(coats: Sequence[Coat]) -> int:
    """How many coats there are where all are of one stuff; else 1, for they are told together."""
    return sum(coat.coats for coat in coats) if len({_stuff(coat) for coat in coats}) == 1 else 1


def recipe(coats: Sequence[Coat]) -> str:
    """What goes on: "epoxy", one coat of it; "2 acrylic paint, 2 epoxy", all of it."""
    if len({_stuff(coat) for coat in coats}) == 1:
        return _stuff(coats[0])
    return ", ".join(f"{coat.coats} {_stuff(coat)}" for coat in coats)


def _stuff(coat: Coat) -> str:
    return coat.material or coat.name


def coat_mass(drawn: Lure, coats: Sequence[Coat]) -> float:
    """[kg] of some coats on a lure as drawn."""
    names = {coat.name for coat in coats}
    items = (item for item in drawn.ledger.items if item.kind == "coat")
    return sum(item.mass for item in items if item.name.rpartition(", ")[0] in names)
