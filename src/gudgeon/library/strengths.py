"""What a part's material bears: spring wire by its diameter, other metals, plastics and straps by name.

A maker seldom knows the temper of an eye or a pin, so every strength is a range.
"""

import math
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from gudgeon.errors import OutsideSource
from gudgeon.library.names import find_name, other_names
from gudgeon.library.source import Row, Source, source_of, table
from gudgeon.units import INCH, POUND, STANDARD_GRAVITY, Length

KSI = 1000.0 * POUND * STANDARD_GRAVITY / INCH**2  # Pa
THICKEST_WIRE = 6.0e-3  # m; beyond it nothing here is wire
_THINNER_PER_THICKER = 0.26  # power at which spring wire weakens past the thickest of its table; from memory
_SPRING_YIELD = (0.65, 0.75, 0.85)  # of the ultimate; from memory
_SPRING_SHEAR = 1.0 / math.sqrt(3.0)  # of the ultimate: von Mises
_WIDER = 0.15  # share by which a value past a table's ends is widened, either way


@dataclass(frozen=True)
class Bounds:
    """A property as sold [Pa]: the usual value, and the least and most of it."""

    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Strength:
    """What one material bears [Pa].

    yields   : it stays bent
    ultimate : it breaks
    shear    : it shears off
    in_table : False where a wire is thicker or thinner than the table its strength is from
    """

    name: str
    yields: Bounds
    ultimate: Bounds
    shear: Bounds
    in_table: bool
    source: Source


@dataclass(frozen=True)
class SpringWire:
    """One diameter [m] of a spring wire: least and most tensile strength [Pa]."""

    diameter: Length
    least: float
    most: float
    source: Source


@cache
def spring_wires(kind: str) -> tuple[SpringWire, ...]:
    """The table of one spring wire, thinnest first.

    kind : "stainless 302" or "music wire"
    """
    return tuple(
        SpringWire(INCH * float(row["diameter_in"]), KSI * float(row["least_ksi"]), KSI * float(row["most_ksi"]),
                   source_of(row))
        for row in table("spring_wire") if row["wire"] == kind
    )  # fmt: skip


def spring_wire(kind: str, diameter: Length) -> tuple[SpringWire, bool]:
    """A spring wire of one diameter, and whether the table reaches it.

    A diameter between two rows takes the thicker one's strength, a little less than its own. Past the thickest row
    strength goes on falling with a power of the diameter; a wire thinner than the thinnest row is at least as strong.

    diameter : [m] up to 6 mm
    raises   : OutsideSource
    """
    if not 0.0 < diameter <= THICKEST_WIRE:
        raise OutsideSource(f"a wire of {1000.0 * diameter:g} mm: spring wire is more than 0 mm and up to 6 mm thick")
    rows = spring_wires(kind)
    slack = 1e-6
    found = next((row for row in rows if diameter <= row.diameter + slack), None)
    if found is not None:
        reaches = diameter >= rows[0].diameter - slack
        return SpringWire(diameter, found.least, found.most, found.source), reaches
    last = rows[-1]
    weaker = (last.diameter / diameter) ** _THINNER_PER_THICKER
    return SpringWire(diameter, weaker * last.least, weaker * last.most, last.source), False


@cache
def _named() -> dict[str, Row]:
    return {row["name"]: row for row in table("strengths")}


@cache
def strength_of(name: str, thickness: Length) -> Strength:
    """What the material a maker names bears.

    name      : "stainless steel", "spring wire", "brass", "polycarbonate"
    thickness : [m] diameter of the wire or pin; spring wire is the stronger the thinner it is
    raises    : OutsideSource, with the nearest names
    """
    rows = _named()
    names = {key: (key, *other_names(row["also"])) for key, row in rows.items()}
    row = rows[find_name(name, names, kind="strength of a material", way_out="or give the part's rating")]
    if row["by_diameter"]:
        return _of_spring_wire(row, thickness)
    yields, ultimate, shear = (_bounds(row, part) for part in ("yield", "ultimate", "shear"))
    return Strength(row["name"], yields, ultimate, shear, True, source_of(row))


def _of_spring_wire(row: Row, diameter: Length) -> Strength:
    wire, reaches = spring_wire(row["by_diameter"], diameter)
    wider = 0.0 if reaches else _WIDER
    low, high = wire.least * (1.0 - wider), wire.most * (1.0 + wider)
    middle = 0.5 * (wire.least + wire.most)
    least, usual, most = _SPRING_YIELD
    return Strength(
        row["name"], Bounds(usual * middle, least * low, most * high), Bounds(middle, low, high),
        Bounds(_SPRING_SHEAR * middle, _SPRING_SHEAR * low, _SPRING_SHEAR * high), reaches, wire.source,
    )  # fmt: skip


def _bounds(row: Row, part: str) -> Bounds:
    value, low, high = (1e6 * float(row[f"{part}_{end}"]) for end in ("mpa", "low", "high"))
    return Bounds(value, low, high)


_LATERAL = ((0.29, 3360.0), (0.48, 4640.0), (0.57, 6400.0))


def lateral_coefficient(specific_gravity: float) -> float:
    """The coefficient K of a wood screw's side load K D^2 [Pa].

    specific_gravity : 0.29 to 0.74, oven-dry weight on volume at 12 %; where groups overlap, the weaker one's
    raises           : OutsideSource
    source           : Wood Handbook, FPL-GTR-190 (2010), Table 8-4: softwood 0.29 to 0.42 K = 3360 lbf/in2 (from
                       memory, and so are the hardwood groups 4640 from 0.48 and 6400 from 0.57)
    """
    if not _LATERAL[0][0] <= specific_gravity <= 0.74:
        raise OutsideSource(f"specific gravity {specific_gravity:.2f}: side loads were tested in wood of 0.29 to 0.74")
    group = max(place for place, (least, _) in enumerate(_LATERAL) if specific_gravity >= least)
    return _LATERAL[group][1] * KSI / 1000.0


_SCREW_LENGTHS = ((0.5, 1, 6), (0.75, 2, 11), (1.0, 3, 12), (1.5, 5, 14), (2.0, 7, 16), (2.5, 9, 18), (3.0, 12, 20))


def screw_is_tested(diameter: Length, length: Length) -> bool:
    """Whether a threaded shank lies within the screws behind the handbook's withdrawal formula.

    diameter, length : [m] shank and threaded length in the wood
    source           : Wood Handbook, FPL-GTR-190 (2010), chapter 8, lengths with their screw numbers; from memory
    """
    gauge = (diameter / INCH - 0.060) / 0.013
    shorter = [row for row in _SCREW_LENGTHS if row[0] * INCH <= length + 1e-6]
    if not shorter or length > _SCREW_LENGTHS[-1][0] * INCH + 1e-6:
        return False
    numbers = shorter[-1:] + [after for before, after in pairwise(_SCREW_LENGTHS) if before == shorter[-1]]
    return min(row[1] for row in numbers) - 1e-6 <= gauge <= max(row[2] for row in numbers) + 1e-6
