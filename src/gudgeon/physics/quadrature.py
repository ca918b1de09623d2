"""Where along the body to look, and with what weight, so that sums become integrals."""

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

PANEL = np.pi / 8.0  # widest panel along a body [rad]: with POINTS in each an ellipsoid is right to 1e-9
POINTS = 8


@lru_cache
def gauss(points: int) -> tuple[Array, Array]:
    """Gauss-Legendre places and weights on 0 to 1: both (points,)."""
    places, weights = np.polynomial.legendre.leggauss(points)
    places, weights = 0.5 * (places + 1.0), 0.5 * weights
    places.setflags(write=False)
    weights.setflags(write=False)
    return places, weights


def angle_of(stations: Array, start: float, length: float) -> Array:
    """The angle (k,) [rad], 0 at the nose and pi at the tail, of which a station is start + length (1 - cos) / 2."""
    place = np.minimum(np.maximum((stations - start) / length, 0.0), 1.0)
    return 2.0 * np.arctan2(np.sqrt(place), np.sqrt(1.0 - place))


def station_of(angles: Array, start: float, length: float) -> Array:
    """The station (k,) [m] at each angle of `angle_of`."""
    stations: Array = start + length * np.sin(0.5 * angles) ** 2
    return stations


def panel_edges(span: tuple[float, float], breaks: Sequence[float], body: tuple[float, float], widest: float) -> Array:
    """Angles (k,) [rad] that cut the span at the breaks, no piece wider than `widest` [rad].

    span   : first and last station [m]
    breaks : stations [m], in any order, also outside the span
    body   : station of the nose and length [m]
    """
    first, last = angle_of(np.array(span), *body)
    inside = np.sort(angle_of(np.array(breaks, dtype=float), *body))
    inside = inside[(inside > first + 1e-7) & (inside < last - 1e-7)]
    edges = np.concatenate([[first], inside, [last]])
    edges = edges[np.concatenate([[True], np.diff(edges) > 1e-7])]
    counts = np.maximum(np.ceil(np.diff(edges) / widest), 1.0)
    pieces = [np.linspace(low, high, int(count), endpoint=False)
              for low, high, count in zip(edges[:-1], edges[1:], counts, strict=True)]  # fmt: skip
    return np.concatenate([*pieces, [last]])


def along(edges: Array, points: int, body: tuple[float, float]) -> tuple[Array, Array]:
    """Stations (k,) [m] and weights (k,) [m] that integrate over x, `points` of them between each pair of edges.

    edges : angles [rad] from panel_edges
    body  : station of the nose and length [m]
    In the angle a round end is smooth: its height grows as the angle, and dx shrinks as its sine.
    """
    places, weights = gauss(points)
    width = np.diff(edges)[:, None]
    angles = (edges[:-1, None] + width * places).ravel()
    start, length = body
    return station_of(angles, start, length), (width * weights).ravel() * 0.5 * length * np.sin(angles)
