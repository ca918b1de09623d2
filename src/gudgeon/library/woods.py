"""What woods weigh and how they move: species, density by moisture, moisture by weather, shrinking, finishes."""

from dataclasses import dataclass
from functools import cache
from typing import Literal

from gudgeon.errors import OutsideSource
from gudgeon.library.names import find_name, other_names
from gudgeon.library.source import Row, Source, figure, source_of, table
from gudgeon.units import Density, Length, Part

Direction = Literal["radial", "tangential"]

MOST_DENSE_WOOD: Density = 1400.0
"""[kg/m3] no dry wood is heavier: lignum vitae and the densest ironwoods reach 1200 to 1350. From memory."""
LEAST_DENSE_WOOD: Density = 60.0
"""[kg/m3] no wood for a body is lighter: the lightest balsa is about 80, cork-like woods 60. From memory."""

FIBRE_SATURATION: Part = 0.30
"""[1] moisture above which wood no longer swells. Wood Handbook, FPL-GTR-190 (2010), chapter 4."""
_WATER: Density = 1000.0  # what specific gravities of wood are counted against, chapter 4
_GENERAL_SHRINKAGE = 0.265  # volumetric shrinkage over basic specific gravity, equation 4-13
_TABLE_MOISTURE = 0.12
_CHANGE_RANGE = (0.06, 0.14)  # moisture that the dimension-change coefficients cover, table 13-5


@dataclass(frozen=True)
class Species:
    """One wood, as its tables have it; None where a table has no entry.

    basic_specific_gravity      : [1] dry weight over green volume
    specific_gravity_12         : [1] dry weight over the volume at 12 % moisture
    density_12                  : [kg/m3] at 12 % moisture, where the source prints that instead
    density_low, density_high   : [kg/m3] the range the source prints
    range_is_of_boards          : True when that range is of single boards, False when it is of published means
    shrinkage_radial, _tangential, _volumetric : [1] green to oven-dry, of the green size
    change_radial, change_tangential : [1] share of its size a piece changes per unit of moisture, 6 to 14 %
    takes_moisture              : False for a board of plastic sold as wood's stand-in
    """

    name: str
    latin: str
    also: tuple[str, ...]
    basic_specific_gravity: float | None
    specific_gravity_12: float | None
    density_12: Density | None
    density_low: Density | None
    density_high: Density | None
    range_is_of_boards: bool
    shrinkage_radial: Part | None
    shrinkage_tangential: Part | None
    shrinkage_volumetric: Part | None
    change_radial: float | None
    change_tangential: float | None
    takes_moisture: bool
    source: Source
    shrinkage_source: Source | None
    change_source: Source | None


@dataclass(frozen=True)
class WoodDensity:
    """A wood's density, and how it was come by.

    value     : [kg/m3] wood and its moisture, over the volume at that moisture
    spread    : [kg/m3] half-width that holds 19 boards in 20, where the table gives a range of boards; None elsewhere
    route     : the way from table to value, in words
    source    : of the table's entry
    """

    value: Density
    spread: Density | None
    route: str
    source: Source


def _share(text: str) -> float | None:
    percent = figure(text)
    return None if percent is None else percent / 100.0


def _per_unit(text: str) -> float | None:
    """The table's change per percent of moisture, as change per unit of moisture."""
    per_percent = figure(text)
    return None if per_percent is None else per_percent * 100.0


def _species_of(row: Row) -> Species:
    return Species(
        name=row["name"],
        latin=row["latin"],
        also=other_names(row["also"]),
        basic_specific_gravity=figure(row["basic_specific_gravity"]),
        specific_gravity_12=figure(row["specific_gravity_12"]),
        density_12=figure(row["density_12_kg_m3"]),
        density_low=figure(row["density_low_kg_m3"]),
        density_high=figure(row["density_high_kg_m3"]),
        range_is_of_boards=row["range_of"] == "boards",
        shrinkage_radial=_share(row["shrinkage_radial_percent"]),
        shrinkage_tangential=_share(row["shrinkage_tangential_percent"]),
        shrinkage_volumetric=_share(row["shrinkage_volumetric_percent"]),
        change_radial=_per_unit(row["change_radial_per_percent"]),
        change_tangential=_per_unit(row["change_tangential_per_percent"]),
        takes_moisture=row["takes_moisture"] == "yes",
        source=source_of(row),
        shrinkage_source=source_of(row, "shrinkage_") if row["shrinkage_where"] else None,
        change_source=source_of(row, "change_") if row["change_where"] else None,
    )


@cache
def all_species() -> tuple[Species, ...]:
    """Every wood in the table, in its order."""
    return tuple(_species_of(row) for row in table("woods"))


@cache
def species(name: str) -> Species:
    """The wood a maker names, in any word order: "basswood", "western red cedar", "hard maple".

    name   : trade or Latin name; one that could be several woods is refused with all of them
    raises : OutsideSource, with the nearest names
    """
    names = {wood.name: (wood.name, *wood.also, *([wood.latin] if wood.latin else [])) for wood in all_species()}
    key = find_name(name, names, kind="wood", way_out="or give density, as weighed")
    return next(wood for wood in all_species() if wood.name == key)


def volume_shrinkage(shrinkage: Part, moisture: Part) -> Part:
    """How much less than green the volume is at a moisture.

    shrinkage : [1] green to oven-dry
    moisture  : [1] 0 to 0.30, of the dry weight
    source    : Wood Handbook, FPL-GTR-190 (2010), equation 4-12
    """
    return shrinkage * (1.0 - moisture / FIBRE_SATURATION)


def general_shrinkage(basic_specific_gravity: float) -> Part:
    """Volumetric shrinkage, green to oven-dry, of a wood whose own is not known.

    basic_specific_gravity : [1]
    source                 : Wood Handbook, FPL-GTR-190 (2010), equation 4-13: 26.5 % of the basic specific gravity
    """
    return _GENERAL_SHRINKAGE * basic_specific_gravity


def specific_gravity_at(basic_specific_gravity: float, moisture: Part, shrinkage: Part | None = None) -> float:
    """Dry weight over the volume at a moisture, counted against water: G = G_b / (1 - S).

    basic_specific_gravity : [1] over the green volume
    moisture               : [1] 0 to 0.30, of the dry weight
    shrinkage              : [1] volumetric, green to oven-dry; by the general rule when None
    raises                 : OutsideSource
    source                 : Wood Handbook, FPL-GTR-190 (2010), equation 4-11
    """
    _check_moisture(moisture)
    full = general_shrinkage(basic_specific_gravity) if shrinkage is None else shrinkage
    return basic_specific_gravity / (1.0 - volume_shrinkage(full, moisture))


def density_at(specific_gravity: float, moisture: Part) -> Density:
    """Density of wood and its water: the specific gravity at that moisture, and the water on top.

    specific_gravity : [1] dry weight over the volume at this moisture
    moisture         : [1] 0 to 0.30, of the dry weight
    returns          : [kg/m3]
    source           : Wood Handbook, FPL-GTR-190 (2010), chapter 4: density = water x G x (1 + moisture)
    """
    _check_moisture(moisture)
    return _WATER * specific_gravity * (1.0 + moisture)


def _check_moisture(moisture: Part) -> None:
    if not 0.0 <= moisture <= FIBRE_SATURATION:
        raise OutsideSource(f"wood at {moisture * 100:.3g} % moisture: the shrinkage rule covers 0 to 30 % of the dry "
                            "weight; weigh the blank instead")  # fmt: skip


def _basic_from_12(specific_gravity_12: float) -> float:
    """The basic specific gravity that the general shrinkage rule takes to this one at 12 %: G_b = G (1 - 0.6 S)."""
    left = 1.0 - _TABLE_MOISTURE / FIBRE_SATURATION
    return specific_gravity_12 / (1.0 + left * _GENERAL_SHRINKAGE * specific_gravity_12)


def wood_density(wood: Species, moisture: Part) -> WoodDensity:
    """A wood's density at a moisture, by the best entry its table has.

    wood     : its 12 % entry is taken first, then its density at 12 %, then its basic specific gravity
    moisture : [1] 0 to 0.30, of the dry weight
    returns  : value [kg/m3], spread [kg/m3] or None, route in words
    raises   : OutsideSource
    source   : Wood Handbook, FPL-GTR-190 (2010), equations 4-11 to 4-13
    """
    _check_moisture(moisture)
    if not wood.takes_moisture and wood.density_12 is not None:
        value, route = wood.density_12, "as sold; takes no moisture"
    else:
        gravity, route = _gravity_and_route(wood, moisture)
        value = density_at(gravity, moisture)
    return WoodDensity(value, _board_spread(wood, value), route, wood.source)


def _gravity_and_route(wood: Species, moisture: Part) -> tuple[float, str]:
    """The specific gravity [1] at a moisture, and the way it was found."""
    at_12, printed = _printed_at_12(wood)
    basic = wood.basic_specific_gravity
    if basic is None and at_12 is not None:
        basic = _basic_from_12(at_12)
    if basic is None:
        raise OutsideSource(f"no density is known for '{wood.name}'; give density, as weighed")
    own = wood.shrinkage_volumetric
    by = "the species' own shrinkage" if own is not None else "shrinkage 26.5 % of the basic specific gravity"
    gravity = specific_gravity_at(basic, moisture, own)
    if at_12 is None:
        return gravity, f"from the basic specific gravity, by {by}"
    if abs(moisture - _TABLE_MOISTURE) < 1e-9:
        return at_12, f"the table's {printed}"
    # the same dry wood, its volume carried from 12 % to this moisture
    return at_12 * gravity / specific_gravity_at(basic, _TABLE_MOISTURE, own), f"from the table's {printed}, by {by}"


def _printed_at_12(wood: Species) -> tuple[float | None, str]:
    """The specific gravity at 12 % as the source prints it, and what it prints."""
    if wood.specific_gravity_12 is None and wood.density_12 is not None:
        return wood.density_12 / (_WATER * (1.0 + _TABLE_MOISTURE)), "density at 12 %"
    return wood.specific_gravity_12, "specific gravity at 12 %"


def _board_spread(wood: Species, value: Density) -> Density | None:
    """Distance to the further end of a printed range of boards; a range of means says nothing of boards."""
    if not wood.range_is_of_boards or wood.density_low is None or wood.density_high is None:
        return None
    return max(value - wood.density_low, wood.density_high - value)


def fullest_moisture(basic_specific_gravity: float) -> Part:
    """The most water a wood can hold, of its dry weight: (1.54 - G_b) / (1.54 G_b).

    basic_specific_gravity : [1]
    source                 : Wood Handbook, FPL-GTR-190 (2010), chapter 4; 1.54 is the cell wall's own
    """
    return (1.54 - basic_specific_gravity) / (1.54 * basic_specific_gravity)


def sinking_moisture(basic_specific_gravity: float) -> Part:
    """The moisture, of the dry weight, at which a wood is as heavy as water: (1 - G_b) / G_b.

    basic_specific_gravity : [1]
    source                 : Wood Handbook, FPL-GTR-190 (2010), chapter 4
    """
    return (1.0 - basic_specific_gravity) / basic_specific_gravity


def dimension_change(wood: Species, direction: Direction, length: Length, *, was: Part, becomes: Part) -> Length:
    """How much a piece grows (+) or shrinks (-) across the grain between two moistures from 6 to 14 %.

    length       : [m] its size at the moisture it has
    was, becomes : [1] moistures, of the dry weight
    returns      : [m]
    raises       : OutsideSource outside 6 to 14 %, or when the wood has no coefficient; names the shrinkage route
    source       : Wood Handbook, FPL-GTR-190 (2010), table 13-5
    """
    low, high = _CHANGE_RANGE
    instead = "use the shrinkage route, dimension_change_by_shrinkage"
    if not (low <= was <= high and low <= becomes <= high):
        raise OutsideSource(f"{was * 100:.3g} % to {becomes * 100:.3g} % moisture: the coefficients of change cover "
                            f"6 to 14 %; {instead}")  # fmt: skip
    coefficient = wood.change_radial if direction == "radial" else wood.change_tangential
    if coefficient is None:
        raise OutsideSource(f"'{wood.name}' has no {direction} coefficient of change in the table; {instead}")
    return length * coefficient * (becomes - was)


def _shrinkage(wood: Species, direction: Direction) -> Part:
    full = wood.shrinkage_radial if direction == "radial" else wood.shrinkage_tangential
    if full is None:
        raise OutsideSource(f"'{wood.name}' has no {direction} shrinkage in the table; measure a piece dry and damp")
    return full


def shrinkage_to(wood: Species, direction: Direction, moisture: Part) -> Part:
    """The share of its green size that a wood has shrunk by at a moisture.

    moisture : [1] 0 to 0.30, of the dry weight
    raises   : OutsideSource
    source   : Wood Handbook, FPL-GTR-190 (2010), tables 4-3 and 4-4, and the straight line to 30 %
    """
    _check_moisture(moisture)
    return volume_shrinkage(_shrinkage(wood, direction), moisture)


def dimension_change_by_shrinkage(
    wood: Species, direction: Direction, length: Length, *, was: Part, becomes: Part
) -> Length:
    """How much a piece grows (+) or shrinks (-) across the grain between any two moistures from 0 to 30 %.

    length       : [m] its size at the moisture it has
    was, becomes : [1] moistures, of the dry weight
    returns      : [m]
    raises       : OutsideSource
    source       : as shrinkage_to; both sizes are shares of the one green size
    """
    before, after = (1.0 - shrinkage_to(wood, direction, moisture) for moisture in (was, becomes))
    return length * (after / before - 1.0)
