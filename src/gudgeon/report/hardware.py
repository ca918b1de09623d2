"""Hooks, fittings, lip and fin as they are drawn: marks to prick through, and the plates' outlines."""

import math
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.checked import Check
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
    half, long = 0.5e3 * lip.width, 1e3 * (lip.exposed + lip.set_in)
    if lip.shape == "square":
        front = np.array([(0.0, half)])
    elif lip.shape == "coffin":
        front = np.array([(0.0, 0.6 * half), (0.3 * long, half)])
    else:
        angles = np.linspace(0.0, 0.5 * math.pi, 25)
        bow = min(half, 0.5 * long)
        front = np.stack([bow * (1.0 - np.cos(angles)), half * np.sin(angles)], axis=1)
    right = np.concatenate([front, [(long, half)]])
    return np.concatenate([right, right[::-1] * [1.0, -1.0]])


def lip_from_above(check: Check) -> tuple[Stroke, ...]:
    """The lip's outline foreshortened by its angle: narrow, for it lies under the body in part."""
    lip = check.design.lip
    if lip is None or math.cos(lip.angle) < 1e-6:
        return ()
    flat = lip_flat(check)
    flat = np.stack([1e3 * lip.at + (flat[:, 0] - 1e3 * lip.exposed) * math.cos(lip.angle), flat[:, 1]], axis=1)
    return (path(Line.HIDDEN, flat, closed=True),)


def fin_from_side(check: Check) -> tuple[Stroke, ...]:
    """The room a fin takes, as a neighbouring part, and its tang hidden in the slot."""
    fin = check.design.fin
    if fin is None:
        return ()

    def box(start: float, stop: float, tall: float) -> Array:
        low, high = fin.height - 0.5 * tall, fin.height + 0.5 * tall
        return 1e3 * np.array([(start, low), (stop, low), (stop, high), (start, high)])

    strokes = [path(Line.PHANTOM, box(fin.at, fin.at + fin.length, fin.tall), closed=True)]
    if fin.set_in:
        strokes.append(path(Line.HIDDEN, box(fin.at - fin.set_in, fin.at, 0.5 * fin.tall), closed=True))
    return tuple(strokes)
