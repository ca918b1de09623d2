"""The cross-sections of a body: their outlines closed and run one way, and the slabs they stand for."""

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]

# Gauss-Legendre nodes and weights on (0, 1), exact to the fifth degree.
_NODES = np.array([0.5 - math.sqrt(0.15), 0.5, 0.5 + math.sqrt(0.15)])
_NODE_WEIGHTS = np.array([5.0, 8.0, 5.0]) / 18.0


@dataclass(frozen=True, eq=False)
class Outline:
    """Closed outlines, first point repeated, anticlockwise in (y, z); with what is summed over them."""

    y: Array  # (m, p + 1) [m]
    z: Array  # (m, p + 1) [m]
    areas: Array  # (m,) [m2]
    moments: Array  # (m, 2) [m3] integrals of y and z
    middle: Array  # (m, 2) [m] mean corner

    @cached_property
    def reach(self) -> Array:
        """Farthest corner from each section's middle (m,) [m]."""
        return np.asarray(np.hypot(self.y - self.middle[:, :1], self.z - self.middle[:, 1:]).max(axis=1))

    @cached_property
    def on_edges(self) -> tuple[Array, Array, Array, Array]:
        """y, z, dy and dz at three Gauss points of every edge, each (m, 3 p) [m]; dy, dz carry the Gauss weight."""
        sections = len(self.y)
        steps = [(line[:, 1:] - line[:, :-1])[..., None] for line in (self.y, self.z)]
        starts = [line[:, :-1, None] for line in (self.y, self.z)]
        places = [(start + step * _NODES).reshape(sections, -1) for start, step in zip(starts, steps, strict=True)]
        parts = [(step * _NODE_WEIGHTS).reshape(sections, -1) for step in steps]
        return places[0], places[1], parts[0], parts[1]


def outline_of(polygons: Array) -> Outline:
    """Outlines of section polygons (m, p, 2) given either way round."""
    closed = np.concatenate([polygons, polygons[:, :1]], axis=1)
    y, z = np.ascontiguousarray(closed[..., 0]), np.ascontiguousarray(closed[..., 1])
    turned = y[:, :-1] * z[:, 1:] - y[:, 1:] * z[:, :-1]
    clockwise = turned.sum(axis=1) < 0.0
    if clockwise.any():
        y[clockwise], z[clockwise] = y[clockwise, ::-1], z[clockwise, ::-1]
        turned = y[:, :-1] * z[:, 1:] - y[:, 1:] * z[:, :-1]
    moments = np.stack([((c[:, :-1] + c[:, 1:]) * turned).sum(axis=1) / 6.0 for c in (y, z)], axis=1)
    return Outline(y=y, z=z, areas=turned.sum(axis=1) / 2.0, moments=moments, middle=polygons.mean(axis=1))


def slabs_of(stations: Array, weights: Array, areas: Array) -> tuple[Array, Array]:
    """Middle and thickness (m,) [m] of the slab that each section stands for.

    Neighbours meet where their weights share the way between them, so that together they fill the body; where
    two sections lie much farther apart than they weigh, the body is parted. The middles are moved by one small
    amount, the same for all, that leaves the centre of the whole where the sections have it.

    stations, weights : (m,) [m]    areas : (m,) [m2]
    """
    order = np.argsort(stations)
    x, weight, area = stations[order], weights[order], areas[order]
    way, pair = np.diff(x), np.maximum(weight[:-1] + weight[1:], 1e-30)
    parted = way > 0.75 * pair
    stop = x + 0.5 * weight
    start = x - 0.5 * weight
    meet = x[:-1] + way * weight[:-1] / pair
    stop[:-1], start[1:] = np.where(parted, stop[:-1], meet), np.where(parted, start[1:], meet)
    middle = 0.5 * (start + stop)
    whole = float(weight @ area)
    if whole > 0.0:
        middle += float(weight * area @ (x - middle)) / whole
    back = np.argsort(order)
    return middle[back], np.maximum(stop - start, 1e-12)[back]
