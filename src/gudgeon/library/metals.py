"""What everything but the wood weighs: metals, plastics, resins, paints, glass."""

import math
from dataclasses import dataclass
from functools import cache

from gudgeon.errors import OutsideSource
from gudgeon.library.names import find_name, other_names
from gudgeon.library.source import Row, Source, source_of, table
from gudgeon.units import Density, Length, Mass


@dataclass(frozen=True)
class Material:
    """One material.

    density : [kg/m3]
    spread  : [kg/m3] half the range its sources give
    """

    name: str
    also: tuple[str, ...]
    density: Density
    spread: Density
    source: Source


def _material_of(row: Row) -> Material:
    low, high = float(row["low_kg_m3"]), float(row["high_kg_m3"])
    density = float(row["density_kg_m3"])
    return Material(row["name"], other_names(row["also"]), density, (high - low) / 2.0, source_of(row))


@cache
def all_materials() -> tuple[Material, ...]:
    """Every material in the table, in its order."""
    return tuple(_material_of(row) for row in table("materials"))


@cache
def material(name: str) -> Material:
    """The material a maker names, in any word order: "stainless", "spring wire", "lead wire", "epoxy".

    name   : a name that could be several materials is refused with all of them
    raises : OutsideSource, with the nearest names
    """
    names = {one.name: (one.name, *one.also) for one in all_materials()}
    key = find_name(name, names, kind="material", way_out="or choose one of about the same density")
    return next(one for one in all_materials() if one.name == key)


def sphere_mass(diameter: Length, density: Density) -> Mass:
    """Mass of a ball: shot, a bead without its hole.

    diameter : [m]
    density  : [kg/m3]
    returns  : [kg]
    raises   : OutsideSource for a size that is not more than 0
    source   : geometry
    """
    if not (diameter > 0.0 and density > 0.0 and math.isfinite(diameter * density)):
        raise OutsideSource(f"a ball of {diameter * 1000:g} mm and {density:g} kg/m3: both must be more than 0")
    return math.pi / 6.0 * diameter**3 * density
