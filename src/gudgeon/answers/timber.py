"""What the wood weighs per volume: by species and moisture, by an offcut, or by the blank on the scale."""

from dataclasses import dataclass

from gudgeon.answers.parts import looked_up
from gudgeon.answers.woodwork import Woodwork
from gudgeon.design.model import Design
from gudgeon.errors import Fault
from gudgeon.library.woods import LEAST_DENSE_WOOD, MOST_DENSE_WOOD, species, wood_density
from gudgeon.units import Reading

BOARD = "density of the wood"


@dataclass(frozen=True)
class Timber:
    """The wood of a lure.

    density  : [kg/m3] the value everything starts from
    spreads  : per segment, source -> share of the density per half-width
    known_by : in the maker's words
    """

    density: float
    spreads: tuple[dict[str, float], ...]
    known_by: str


def timber(design: Design, worked: Woodwork, faults: list[Fault]) -> Timber:
    """The wood's density and how far it may be off, with faults of meaning added to `faults`."""
    value, share, known_by = _density(design, worked, faults)
    if not LEAST_DENSE_WOOD <= value <= MOST_DENSE_WOOD:
        way = {"density": "wood.density", "weight": "wood.blank_weight"}.get(known_by.split()[-1], "wood")
        faults.append(
            Fault(
                way,
                f"{value / 1000:.2f} g/cm3 is no wood: the lightest is about {LEAST_DENSE_WOOD / 1000:.2g}, the "
                f"heaviest {MOST_DENSE_WOOD / 1000:.2g}; check the unit and the decimal point, and that the drawing is "
                "the piece that was weighed",
            )
        )
    spreads: list[dict[str, float]] = []
    for segment in worked.segments:
        own = {BOARD: share}
        if len(worked.segments) > 1:
            own[f"wood of the {segment.name}"] = design.uncertainty.along_board
        spreads.append(own)
    return Timber(value, tuple(spreads), known_by)


def _density(design: Design, worked: Woodwork, faults: list[Fault]) -> tuple[float, float, str]:
    """[kg/m3], its half-width as a share, and how it is known; the surest the maker gave."""
    wood, unsure = design.wood, design.uncertainty
    name = wood.species or ""
    found = looked_up(faults, "wood.species", lambda: species(name)) if name else None
    if wood.density is not None:
        return wood.density.value, wood.density.spread_or(unsure.density * wood.density.value) / wood.density.value, (
            "offcut density")  # fmt: skip
    if not name:
        volume = sum(segment.bare for segment in worked.segments)
        weight = wood.blank_weight.value if wood.blank_weight else 0.0
        return weight / volume, unsure.species_density, "blank weight"
    moisture = wood.moisture or Reading(0.12)
    dense = found and looked_up(faults, "wood.moisture", lambda: wood_density(found, moisture.value))
    if not dense:
        return 0.5 * (LEAST_DENSE_WOOD + MOST_DENSE_WOOD), 0.0, "table"
    share = unsure.species_density if dense.spread is None else dense.spread / dense.value
    return dense.value, share, f"table, {name}"


def known_by(design: Design) -> str:
    """How the wood's weight is known, in the maker's words, the surest first."""
    wood = design.wood
    table = "" if wood.species is None else f"{wood.species}, by the table"
    if wood.blank_weight is not None or any(one.weight and one.stage == "shaped" for one in design.measured):
        return "the blank as weighed"
    return "an offcut as weighed and measured" if wood.density is not None else table
