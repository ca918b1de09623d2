"""Wire by gauge, and wood screws by number."""

from functools import cache
from typing import Literal, get_args

from gudgeon.errors import OutsideSource
from gudgeon.library.source import table
from gudgeon.units import INCH, Length

System = Literal["AWG", "SWG", "BWG", "W&M", "music wire"]
"""American (for copper and brass), British standard, Birmingham, US steel wire, and music wire gauges."""


@cache
def _gauges(system: str) -> dict[str, Length]:
    return {row["gauge"]: float(row["diameter_mm"]) / 1000.0 for row in table("wires") if row["system"] == system}


def wire_diameter(system: System, gauge: str) -> Length:
    """Diameter of a wire of one gauge in one system; the same number means another wire in each.

    system  : "AWG", "SWG" (British standard), "BWG" (Birmingham), "W&M" (US steel), "music wire"
    gauge   : "20", "2/0"
    returns : [m]
    raises  : OutsideSource, with the systems or the gauges there are
    source  : Machinery's Handbook, wire gauge tables
    """
    own = _gauges(system)
    if not own:
        raise OutsideSource(f"there is no wire gauge '{system}'; there are {', '.join(get_args(System))}")
    try:
        return own[gauge.strip()]
    except KeyError:
        thick, *_, thin = sorted(own, key=lambda name: -own[name])
        raise OutsideSource(f"there is no {system} wire of gauge '{gauge}'; thickest {thick}, thinnest {thin}; "
                            "or give its diameter") from None  # fmt: skip


def wood_screw_diameter(number: int) -> Length:
    """Shank diameter of a wood screw of one number: 0.060 in and 0.013 in for each number.

    number  : 0 to 24
    returns : [m]
    raises  : OutsideSource
    source  : ANSI B18.6.1
    """
    if not 0 <= number <= 24:
        raise OutsideSource(f"there is no wood screw number {number}; they go from 0 to 24")
    return (0.060 + 0.013 * number) * INCH


def wood_screw_root(number: int) -> Length:
    """Diameter at the bottom of a wood screw's thread, about two thirds of its shank: what its pilot hole is bored to.

    number  : 0 to 24
    returns : [m]
    source  : Wood Handbook, FPL-GTR-190 (2010), chapter 8
    """
    return wood_screw_diameter(number) * 2.0 / 3.0
