"""Drill sizes: fractions of an inch, numbers, letters, millimetres, and the bits a shop keeps for ballast bores."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from gudgeon.errors import BadQuantity, OutsideSource
from gudgeon.library.source import Row, Source, source_of, table
from gudgeon.units import INCH, LENGTH, Length, read

Series = Literal["fraction", "number", "letter", "metric"]
Shop = Literal["inch", "metric"]
_SAME = 0.0006 * INCH  # m: a size written to a thousandth of an inch, .062 for 1/16, is that size


@dataclass(frozen=True)
class Drill:
    """One drill.

    name     : as it is stamped and asked for: "3/8 in", "#43", "F", "6.5 mm"
    diameter : [m]
    """

    name: str
    series: Series
    diameter: Length
    source: Source


def _drill_of(row: Row, series: Series) -> Drill:
    return Drill(row["name"], series, float(row["diameter_mm"]) / 1000.0, source_of(row))


@cache
def drills(series: Series) -> tuple[Drill, ...]:
    """Every drill of a series, smallest first.

    raises : OutsideSource for a series there is not
    """
    own = [_drill_of(row, series) for row in table("drills") if row["series"] == series]
    if not own:
        raise OutsideSource(f"there is no drill series '{series}'; there are fraction, number, letter and metric")
    return tuple(sorted(own, key=lambda drill: drill.diameter))


def _nearest(diameter: Length, choice: Sequence[Drill], of: str) -> Drill:
    least, most = choice[0], choice[-1]
    slack = INCH / 64
    if not max(least.diameter - slack, least.diameter / 2.0) <= diameter <= most.diameter + slack:
        raise OutsideSource(f"a hole of {diameter * 1000:.2f} mm: {of} go from {least.name} to {most.name}")
    return min(choice, key=lambda drill: (abs(drill.diameter - diameter), -drill.diameter))


def nearest_drill(diameter: Length, series: Series) -> Drill:
    """The drill of a series nearest to a diameter; of two as near, the larger.

    diameter : [m]
    raises   : OutsideSource more than 1/64 in above the largest, or below half the smallest
    """
    return _nearest(diameter, drills(series), f"{series} drills")


@cache
def shop_drills(shop: Shop) -> tuple[Drill, ...]:
    """The bits a shop reaches for when it bores, smallest first.

    shop   : "inch": every 1/64 in to 1 in; "metric": every 0.5 mm to 13 mm, then every whole millimetre to 25 mm
    raises : OutsideSource for another shop
    source : common practice, no source
    """
    if shop == "inch":
        return drills("fraction")
    if shop != "metric":
        raise OutsideSource(f"there is no '{shop}' shop; say inch or metric")
    return tuple(drill for drill in drills("metric") if _is_kept(drill.diameter * 1000.0))


def _is_kept(millimetres: float) -> bool:
    step = 0.5 if millimetres < 13.25 else 1.0
    return math.isclose(millimetres / step, round(millimetres / step), abs_tol=1e-6)


def drill_for(diameter: Length, shop: Shop) -> Drill:
    """The bit nearest to a bore among those a shop keeps; of two as near, the larger.

    diameter : [m]
    raises   : OutsideSource more than 1/64 in above the largest, or below half the smallest
    """
    return _nearest(diameter, shop_drills(shop), f"the bits of a shop in {shop} sizes")


def drill_named(name: str) -> Drill:
    """The drill a maker names: "3/8 in", "3/8", '.375"', "#43", "no. 43", "F", "6.5 mm".

    raises : OutsideSource for a size no series has, with the nearest; BadQuantity for what is no size
    """
    plain = name.strip()
    number = re.fullmatch(r"(?:#|no\.?|number)\s*(\d+)", plain, re.IGNORECASE)
    if number:
        return _by_name(f"#{int(number[1])}", "number")
    letter = re.fullmatch(r"(?:letter\s+)?([A-Za-z])", plain)
    if letter:
        return _by_name(letter[1].upper(), "letter")
    if re.fullmatch(r"(?:\d+\s+)?\d+\s*/\s*\d+", plain):
        plain += " in"  # a bare fraction is a drill's name, never a millimetre
    try:
        diameter = read(plain, LENGTH)
    except BadQuantity as fault:
        raise BadQuantity(f"{fault.heading}; drills are named like 3/8 in, #43, F or 6.5 mm") from None
    return _of_size(name, diameter, "metric" if re.search(r"m\b", plain) else "fraction")


def _by_name(name: str, series: Series) -> Drill:
    own = drills(series)
    for drill in own:
        if drill.name == name:
            return drill
    first, last = (own[-1], own[0]) if series == "number" else (own[0], own[-1])
    raise OutsideSource(f"there is no {series} drill {name}; they go from {first.name} to {last.name}")


def _of_size(name: str, diameter: Length, series: Series) -> Drill:
    near = nearest_drill(diameter, series)
    others = [drill for kind in ("number", "letter") for drill in drills(kind)] if series == "fraction" else []
    likest = min((near, *others), key=lambda drill: abs(drill.diameter - diameter))
    if abs(likest.diameter - diameter) < _SAME:
        return likest
    raise OutsideSource(f"no drill is {name}; the nearest is {near.name}")
