"""How hard water holds back: a ball's drag, and the coefficients for a lure, each with what is known of it."""

import math
from dataclasses import dataclass
from typing import Literal, cast, get_args

from gudgeon.errors import OutsideSource
from gudgeon.library.names import find_name
from gudgeon.library.source import Row, Source, source_of, table

Standing = Literal["published", "fitted", "guess", "own"]

SPHERE_DRAG_HIGHEST_REYNOLDS = 2e5
"""[1] where the standard curve ends: beyond it a ball's drag drops suddenly."""
CYLINDER_DRAG_REYNOLDS = (0.1, 2e5)
"""[1] least and most that the curve for a long cylinder covers."""


@dataclass(frozen=True)
class Coefficient:
    """A number the water force rests on.

    value, low, high : [unit] low to high holds it about 19 times in 20
    standing         : published, fitted to tests of our own, a guess, or the maker's own
    covers           : what it is for, and on which area
    unit             : "1" for a plain number, else of SI
    """

    name: str
    value: float
    low: float
    high: float
    standing: Standing
    covers: str
    source: Source
    unit: str = "1"


def coefficient(name: str) -> Coefficient:
    """A coefficient of the table.

    name   : "fall_drag", "axial_drag"
    raises : OutsideSource, with the nearest names
    """
    rows = {row["name"]: row for row in table("coefficients")}
    words = {key: (key.replace("_", " "),) for key in rows}
    return coefficient_of(
        rows[find_name(name.replace("_", " "), words, kind="coefficient", way_out="see coefficients.csv")]
    )


def coefficient_of(row: Row) -> Coefficient:
    """A row of a table of coefficients, as one."""
    if row["standing"] not in get_args(Standing):
        raise ValueError(f"coefficient {row['name']} stands as '{row['standing']}'")
    value, low, high = (float(row[column]) for column in ("value", "low", "high"))
    return Coefficient(row["name"], value, low, high, cast(Standing, row["standing"]), row["covers"], source_of(row),
                       row.get("unit", "1"))  # fmt: skip


def sphere_drag(reynolds: float) -> float:
    """Drag coefficient of a smooth ball, on its frontal area: the standard curve.

    reynolds : [1] more than 0, to 2e5
    returns  : [1] 24/Re (1 + 0.15 Re^0.681) + 0.407 / (1 + 8710/Re); five published fits scatter by about 5 %
    raises   : OutsideSource
    source   : Brown and Lawler, Journal of Environmental Engineering 129 (2003) 222-231; coefficients from memory,
               within 5 % of a public list of measured drag from Re 57 to 59 000
    """
    if not 0.0 < reynolds <= SPHERE_DRAG_HIGHEST_REYNOLDS:
        raise OutsideSource(f"a ball at Reynolds number {reynolds:.3g}: the standard drag curve goes from 0 to 2e5")
    return 24.0 / reynolds * (1.0 + 0.15 * math.pow(reynolds, 0.681)) + 0.407 / (1.0 + 8710.0 / reynolds)


def cylinder_drag(reynolds: float) -> float:
    """Drag coefficient of a long smooth cylinder across the flow, on its diameter: line, wire.

    reynolds : [1] on the diameter, 0.1 to 2e5
    returns  : [1] 1.18 + 6.8/Re^0.89 + 1.96/Re^0.5 - 0.0004 Re/(1 + 3.64e-7 Re^2); measurements scatter by about 12 %
    raises   : OutsideSource
    source   : Sucker and Brauer (1975) as White, Viscous Fluid Flow, equation 3-229, has it
    """
    least, most = CYLINDER_DRAG_REYNOLDS
    if not least <= reynolds <= most:
        raise OutsideSource(f"a wire at Reynolds number {reynolds:.3g}: the drag curve goes from {least:g} to {most:g}")
    bend = 4e-4 * reynolds / (1.0 + 3.64e-7 * reynolds**2)
    return 1.18 + 6.8 / math.pow(reynolds, 0.89) + 1.96 / math.sqrt(reynolds) - bend
