"""How hard water holds back: a ball's drag, and the coefficients for a lure, each with what is known of it."""

import math
from dataclasses import dataclass
from typing import Literal, cast, get_args

from gudgeon.errors import OutsideSource
from gudgeon.library.names import find_name
from gudgeon.library.source import Source, source_of, table

Standing = Literal["published", "fitted", "guess"]

SPHERE_DRAG_HIGHEST_REYNOLDS = 2e5
"""[1] where the standard curve ends: beyond it a ball's drag drops suddenly."""


@dataclass(frozen=True)
class Coefficient:
    """A number the water force rests on.

    value, low, high : [1] low to high holds it about 19 times in 20
    standing         : published, fitted to tests of our own, or a guess
    covers           : what it is for, and on which area
    """

    name: str
    value: float
    low: float
    high: float
    standing: Standing
    covers: str
    source: Source


def coefficient(name: str) -> Coefficient:
    """A coefficient of the table.

    name   : "fall_drag", "axial_drag"
    raises : OutsideSource, with the nearest names
    """
    rows = {row["name"]: row for row in table("coefficients")}
    words = {key: (key.replace("_", " "),) for key in rows}
    row = rows[find_name(name.replace("_", " "), words, kind="coefficient", way_out="see coefficients.csv")]
    if row["standing"] not in get_args(Standing):
        raise ValueError(f"coefficients.csv: {row['name']} stands as '{row['standing']}'")
    value, low, high = (float(row[column]) for column in ("value", "low", "high"))
    return Coefficient(row["name"], value, low, high, cast(Standing, row["standing"]), row["covers"], source_of(row))


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
