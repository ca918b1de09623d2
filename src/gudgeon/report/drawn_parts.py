"""Hooks, fittings, lip and fin as they are drawn: marks to prick through, and the plates' outlines."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.checked import Check
from gudgeon.physics.hull import Hull, depth_at
from gudgeon.physics.plate import lip_plate
from gudgeon.report.strokes import Array, Line, Stroke, path


@dataclass(frozen=True)
class Fixed:
    """A hook or fitting.

    at : (3,) [mm]
    """

    name: str
    at: tuple[float, float, float]


def fittings(check: Check) -> tuple[Fixed, ...]:
    """Every hook and fitting once, in order from the nose."""
    found = {item.name: item.place for item in check.lure.fixed if item.kind in ("fitting", "hook")}
    fixed = [Fixed(name, (1e3 * x, 1e3 * y, 1e3 * z)) for name, (x, y, z) in found.items()]
    return tuple(sorted(fixed, key=lambda item: item.at[0]))


def lip_from_side(check: Check) -> tuple[Stroke, ...]:
    """The lip edge on: what shows, and hidden in its slot."""
    lip = check.design.lip
    if lip is None:
        return ()
    along = np.array([-math.cos(lip.angle), -math.sin(lip.angle)])
    down = lip.thickness * np.array([math.sin(lip.angle), -math.cos(lip.angle)])
    start = np.array([lip.at, lip.height])

    def plate(first: float, last: float) -> Array:
        corners = [start + first * along, start + last * along]
        return 1e3 * np.array([corners[0], corners[1], corners[1] + down, corners[0] + down])

    return (path(Line.VISIBLE, plate(0.0, lip.exposed), closed=True),
            path(Line.HIDDEN, plate(-lip.set_in, 0.0), closed=True))  # fmt: skip


def lip_flat(check: Check) -> Array:
    """The lip laid flat (k, 2) [mm]: x from the front edge to the end in the slot; empty without a lip."""
    lip = check.design.lip
    if lip is None:
        return np.empty((0, 2))
    plate = lip_plate(lip.shape, exposed=lip.exposed, set_in=lip.set_in, width=lip.width)
    return np.asarray(1e3 * (np.array([lip.exposed, 0.0]) + plate.outline[::-1] * [-1.0, 1.0]))


def lip_from_above(check: Check, hull: Hull) -> tuple[Stroke, ...]:
    """The lip's outline foreshortened by its angle, hidden where it lies under the body."""
    lip = check.design.lip
    if lip is None or math.cos(lip.angle) < 1e-6:
        return ()
    flat = lip_flat(check)
    flat = np.stack([1e3 * lip.at + (flat[:, 0] - 1e3 * lip.exposed) * math.cos(lip.angle), flat[:, 1]], axis=1)
    shares = np.linspace(0.0, 1.0, 13)[:-1, None]
    ring = np.concatenate([a + shares * (b - a) for a, b in zip(flat, np.roll(flat, -1, axis=0), strict=True)])
    stations = np.clip(1e-3 * ring[:, 0], hull.start, hull.stop)
    under = (np.abs(ring[:, 1]) < 1e3 * hull.side(stations)) & (ring[:, 0] > 1e3 * hull.start)
    return tuple(_runs(ring, under))


def _runs(ring: Array, hidden: NDArray[np.bool_]) -> Iterator[Stroke]:
    """A closed line in stretches, shown or hidden."""
    turns = np.flatnonzero(hidden != np.roll(hidden, 1))
    if not turns.size:
        yield path(Line.HIDDEN if hidden[0] else Line.VISIBLE, ring, closed=True)
        return
    for first, last in zip(turns, np.roll(turns, -1), strict=True):
        places = np.arange(first, last + (len(ring) if last <= first else 0) + 1) % len(ring)
        yield path(Line.HIDDEN if hidden[first] else Line.VISIBLE, ring[places])


def fin_from_side(check: Check) -> tuple[Stroke, ...]:
    """The room a fin takes, as a neighbouring part, and how far its slot goes in."""
    fin = check.design.fin
    if fin is None:
        return ()
    low, high = fin.height - 0.5 * fin.tall, fin.height + 0.5 * fin.tall
    start, stop = fin.at, fin.at + fin.length
    room = 1e3 * np.array([(start, low), (stop, low), (stop, high), (start, high)])
    strokes = [path(Line.PHANTOM, room, closed=True)]
    hull, slot = check.lure.bare_hull, fin.at - fin.set_in
    if fin.set_in and hull.start < slot < hull.stop:
        ends = depth_at(hull, slot)
        strokes.append(path(Line.HIDDEN, [(1e3 * slot, 1e3 * ends[0]), (1e3 * slot, 1e3 * ends[1])]))
    return tuple(strokes)
