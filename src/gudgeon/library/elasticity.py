"""How far lines stretch and soft fins bend: stiffness of a stuff by its name, and a line's diameter by its load."""

import math
from dataclasses import dataclass

from gudgeon.errors import OutsideSource
from gudgeon.library.names import find_name, other_names
from gudgeon.library.source import Row, Source, figure, source_of, table
from gudgeon.units import Force, Length


@dataclass(frozen=True)
class Elasticity:
    """How one stuff gives.

    modulus, low, high : [Pa] Young's, usual and least to most
    breaks             : [Pa] at which a line breaks, on the diameter that is printed; None for what is no line
    """

    name: str
    modulus: float
    low: float
    high: float
    breaks: float | None
    source: Source


def _elasticity_of(row: Row) -> Elasticity:
    modulus, low, high = (1e6 * float(row[column]) for column in ("modulus_mpa", "low_mpa", "high_mpa"))
    breaks = figure(row["breaks_mpa"])
    return Elasticity(row["name"], modulus, low, high, None if breaks is None else 1e6 * breaks, source_of(row))


def elasticity(name: str) -> Elasticity:
    """How the stuff of a line or of a soft fin gives.

    name   : "nylon", "braid", "vinyl"
    raises : OutsideSource, with the nearest names, for a stuff that the table has not: hard plastics and metals are
             too stiff for a fin to bend
    """
    rows = {row["name"]: row for row in table("elasticity")}
    names = {key: (key, *other_names(row["also"])) for key, row in rows.items()}
    key = find_name(name, names, kind="stuff of lines and soft fins", way_out="or give its stiffness")
    return _elasticity_of(rows[key])


def diameter_for(load: Force, line: Elasticity) -> Length:
    """Diameter [m] of a line that breaks at a load [N]: round, at the stress its stuff breaks at.

    raises : OutsideSource for what is no line
    """
    if line.breaks is None:
        raise OutsideSource(f"{line.name} is no line")
    return math.sqrt(4.0 * load / (math.pi * line.breaks))
