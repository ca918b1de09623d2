"""The body seen from the side: where its outline passes a level, and the area between two lines."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.outline import Curve
from gudgeon.physics.quadrature import angle_of, station_of

Array = NDArray[np.float64]


def strip(stations: Array, weights: Array, low: Array, high: Array) -> tuple[float, float, float] | None:
    """Area [m2] between two lines, and station and height [m] of its centre; None where they nowhere part.

    stations, weights : (k,) [m] of a quadrature
    low, high         : (k,) [m] heights of the lines
    """
    depth = weights * (high - low)
    area = float(depth.sum())
    if area <= 0.0:
        return None
    return area, float(depth @ stations) / area, float(depth @ (0.5 * (low + high))) / area


def level_stations(
    curves: Sequence[Curve], height: float, span: tuple[float, float], body: tuple[float, float]
) -> list[float]:
    """Stations [m] where any of the curves passes a height [m]: sign changes on a fine grid, halved to 1e-12 m.

    span : first and last station [m]
    body : station of the nose and length [m]
    """
    first, last = angle_of(np.array(span), *body).tolist()
    grid = station_of(np.linspace(first, last, 256), *body)
    found: list[float] = []
    for curve in curves:
        above = curve(grid) > height
        places = np.flatnonzero(above[1:] != above[:-1])
        if not places.size:
            continue
        low, high, rising = grid[places], grid[places + 1], above[places + 1]
        for _ in range(30):
            middle = 0.5 * (low + high)
            past = (curve(middle) > height) == rising
            low, high = np.where(past, low, middle), np.where(past, middle, high)
        found += (0.5 * (low + high)).tolist()
    return found
