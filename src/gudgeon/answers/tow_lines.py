"""The line a lure is towed on: how thick it is, what it weighs, what it is called."""

from dataclasses import dataclass

from gudgeon.design.model import Design
from gudgeon.library.elasticity import diameter_for, elasticity
from gudgeon.library.metals import material

USUAL_LINE = 0.35e-3
"""[m] diameter of line where neither it nor the load it breaks at is told; common practice, no source."""

_MADE_OF = {"nylon": "nylon", "fluorocarbon": "fluorocarbon", "braid": "polyethylene", "wire": "stainless steel"}


@dataclass(frozen=True)
class LineStuff:
    """One line: name, diameter [m], density [kg/m3], and how its diameter is known, in words."""

    name: str
    diameter: float
    density: float
    known_by: str


def line_stuff(design: Design) -> LineStuff:
    """The line of a design: as thick as it says, or as the load it breaks at asks, or a usual one."""
    tow = design.tow
    density = material(_MADE_OF[tow.line]).density
    if tow.diameter is not None:
        return LineStuff(tow.line, tow.diameter, density, "as given")
    if design.tackle.line is not None:
        thick = diameter_for(design.tackle.line, elasticity(f"{tow.line} line"))
        return LineStuff(tow.line, thick, density, "from the load it breaks at")
    return LineStuff(tow.line, USUAL_LINE, density, "a usual one")
