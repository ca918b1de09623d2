"""Hooks, fittings, hinges, lip and fin as they are drawn: marks to prick through, hidden parts, plates' outlines."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.checked import Check
from gudgeon.answers.hinge_made import HingePart, MadeHinge
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.lip_slot import lip_slot
from gudgeon.physics.hull import Hull, depth_at
from gudgeon.physics.plate import lip_plate
from gudgeon.physics.shapes import bounds
from gudgeon.report.strokes import Array, Line, Stroke, circle, path

_BEYOND = 3.0  # mm a pin's centre line runs on past its ends
_HAIR = 0.02  # mm: shorter than this is nothing


@dataclass(frozen=True)
class Fixed:
    """A hook, fitting or hinge.

    at : (3,) [mm]
    """

    name: str
    at: tuple[float, float, float]


def fittings(check: Check) -> tuple[Fixed, ...]:
    """Every hook and fitting once, in order from the nose."""
    found = {item.name: item.place for item in check.lure.fixed if item.kind in ("fitting", "hook")}
    fixed = [Fixed(name, (1e3 * x, 1e3 * y, 1e3 * z)) for name, (x, y, z) in found.items()]
    return tuple(sorted(fixed, key=lambda item: item.at[0]))


def pivots(check: Check) -> tuple[Fixed, ...]:
    """Every hinge once, at its axis and the middle of its levels, in order from the nose."""
    kinds = [hinge.kind for hinge in check.design.hinges]
    found = []
    for made, kind in zip(made_hinges(check.design, check.lure), kinds, strict=True):
        middle = 500.0 * (made.sizes.heights[0] + made.sizes.heights[-1])
        found.append(Fixed(f"{made.name}: {kind}", (1e3 * made.pivot, 0.0, middle)))
    return tuple(sorted(found, key=lambda item: item.at[0]))


def hinges_drawn(check: Check, plane: tuple[int, int]) -> tuple[Stroke, ...]:
    """Every hinge's plates, pins and eyes; see `hinge_parts`."""
    return tuple(stroke for made in made_hinges(check.design, check.lure) for stroke in hinge_parts(made, plane))


def hinge_parts(made: MadeHinge, plane: tuple[int, int]) -> Iterator[Stroke]:
    """What of a hinge stands out of the bores and slots it is glued or screwed in: eyes, plates across the gap, a pin's
    ends. Hidden lines [mm], from the side or from above; what lies under another of its kind, once.

    plane : which of x, y, z run to the right and up
    """
    drawn = set()
    for part in made.parts:
        for stroke in _part_strokes(made, part, plane):
            key = np.round(stroke.points, 4).tobytes()
            if key not in drawn:
                yield stroke
            drawn.add(key)


def _part_strokes(made: MadeHinge, part: HingePart, plane: tuple[int, int]) -> Iterator[Stroke]:
    low, high = 1e3 * bounds([part.shape])[0]
    if part.kind == "pin":
        yield from _pin(made, low, high, plane)
        return
    faces = 1e3 * np.array(made.faces)
    if part.kind == "eye":
        into = 1.0 if part.bare.piece == made.joint else -1.0
        root, eye = float(low[0] if into > 0.0 else high[0]), _eye_middle(made, into)
        outer = 500.0 * made.sizes.eye + 1e3 * made.sizes.wire
        yield from _round(made, part, eye, plane)
        low[0], high[0] = sorted((root, eye + into * outer))
        if into * (root - eye) <= outer + _HAIR:
            return
    elif part.kind == "plate":  # from the face it is glued in on
        ahead = made.carrier == made.joint - 1
        low[0], high[0] = (max(faces[0], low[0]), high[0]) if ahead else (low[0], min(faces[1], high[0]))
    else:
        low[0], high[0] = faces
    if high[0] - low[0] > _HAIR:
        yield _rectangle(low[list(plane)], high[list(plane)])


def _pin(made: MadeHinge, low: Array, high: Array, plane: tuple[int, int]) -> Iterator[Stroke]:
    """Its ends in its bore; all of it where it stands in the gap; end on from above."""
    x = 1e3 * made.pivot
    if plane == (0, 1):
        yield circle(Line.HIDDEN, (x, 0.0), 500.0 * made.sizes.pin)
        return
    if made.holder is None:
        yield _rectangle(low[list(plane)], high[list(plane)])
    else:
        yield from (path(Line.HIDDEN, [(low[0], z), (high[0], z)]) for z in (low[2], high[2]))
    yield path(Line.CENTRE, [(x, low[2] - _BEYOND), (x, high[2] + _BEYOND)])


def _rectangle(low: Array, high: Array) -> Stroke:
    return path(Line.HIDDEN, [(low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1])], closed=True)


def _eye_middle(made: MadeHinge, into: float) -> float:
    """Station [mm] of the middle of an eye's round: on the pin, or linked with another on the axis.

    into : 1 when its shank is in the piece behind, -1 in the one ahead
    """
    linked = made.sizes.kind == "screw eyes"
    return 1e3 * (made.pivot + (0.5 * into * made.sizes.eye if linked else 0.0))


def _round(made: MadeHinge, part: HingePart, x: float, plane: tuple[int, int]) -> Iterator[Stroke]:
    """An eye's round. One on a pin lies level; of two linked ones that ahead lies level, that behind stands upright."""
    sizes = made.sizes
    z, inner, outer = 1e3 * part.level, 500.0 * sizes.eye, 500.0 * sizes.eye + 1e3 * sizes.wire
    is_level = sizes.kind != "screw eyes" or part.bare.piece != made.joint
    if is_level == (plane == (0, 1)):
        yield from (circle(Line.HIDDEN, (x, 0.0 if is_level else z), radius) for radius in (inner, outer))
        return
    up, half = (z if plane == (0, 2) else 0.0), 500.0 * sizes.wire
    yield _rectangle(np.array([x - outer, up - half]), np.array([x + outer, up + half]))


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

    out = lip_slot(check.lure.bare_hull, lip).out
    return (path(Line.VISIBLE, plate(out, lip.exposed), closed=True),
            path(Line.HIDDEN, plate(-lip.set_in, out), closed=True))  # fmt: skip


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
