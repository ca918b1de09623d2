"""A lure laid on a real board: every way of laying it tried, the flats it would leave, the flaws it would meet.

A board tapers evenly between its ends, about its middle line; `along` counts from its first end, `across` and `through`
from that middle line. A lure lies with its centre line along the board.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from gudgeon.design.bench import Board, Flaw
from gudgeon.physics.hull import Hull
from gudgeon.physics.spread import Array

SideOn = Literal["width", "thickness"]

_STATIONS = 161
_PLACES = 41  # along the board, besides those at its flaws
_OFFSETS = 9  # across it
_FLAW_POINTS = 9  # along each flaw
_FLAT_TOLD = 5e-5  # m; a flat less deep is sanded away
HARMLESS, IN_WOOD, BAD = 1, 2, 3
"""How much it matters where a flaw lands: taken away anyway; in plain wood; where the wood has to hold."""


@dataclass(frozen=True, eq=False)
class Body:
    """The bare body to be cut out, and where along its blank each part of it lies.

    stations : (k,) [m]   low, high, half : (k,) [m] belly, back and half the width there
    along    : (k,) [m]   from the blank's nose end; joints cost length, so it may grow faster than the station
    length   : [m] of the blank
    """

    stations: Array
    low: Array
    high: Array
    half: Array
    along: Array
    length: float


@dataclass(frozen=True)
class Zone:
    """A stretch of the lure where a flaw matters more, or less.

    words      : what is there
    start, stop: [m] stations      low, high : [m] heights
    weight     : HARMLESS or BAD
    """

    words: str
    start: float
    stop: float
    low: float
    high: float
    weight: int


@dataclass(frozen=True)
class Way:
    """One way of laying the lure on the board.

    side_on     : what the side view is drawn on: the board's wide face or its edge
    nose_first  : the nose toward the board's first end
    back_first  : the back toward the edge that `across` counts from (with the side view on the wide face)
    start       : [m] of the blank's end that is nearer the board's first end, from there
    across      : [m] of the lure's centre line from the board's middle line
    """

    side_on: SideOn
    nose_first: bool
    back_first: bool
    start: float
    across: float


@dataclass(frozen=True)
class Hit:
    """A flaw in the body.

    start, stop : [m] stations      low, high : [m] heights it reaches
    weight      : HARMLESS, IN_WOOD or BAD      words : what is there
    """

    flaw: Flaw
    start: float
    stop: float
    low: float
    high: float
    weight: int
    words: str


@dataclass(frozen=True)
class Flat:
    """A place where the board is smaller than the bare body.

    face : "back", "belly" or "both sides"      start, stop : [m] stations
    at   : [m] station where it is deepest      depth : [m] there      wide : [m] across the flat there
    """

    face: str
    start: float
    stop: float
    at: float
    depth: float
    wide: float


@dataclass(frozen=True)
class Fit:
    """The best way of laying the lure on the board.

    spare_side, spare_top : [m] least stock over the body on each side, allowances not taken off: in the plane of the
                            side view, and of the top view; minus where a flat is left
    spare_length          : [m] of board left over; minus when it is too short
    """

    way: Way
    spare_side: float
    spare_top: float
    spare_length: float
    flats: tuple[Flat, ...]
    hits: tuple[Hit, ...]


def body_of(wood: Hull, extras: Sequence[tuple[float, float]], end: float) -> Body:
    """The bare body on its blank.

    extras : (station, length) [m] that each joint costs       end : [m] left beyond nose and tail
    """
    x = wood.start + wood.length * np.sin(np.linspace(0.0, 0.5 * np.pi, _STATIONS)) ** 2
    x[-1] = wood.stop
    joints = np.array([at for at, _ in extras])
    x = np.unique(np.concatenate([x, joints - 1e-6, joints + 1e-6]))
    along = end + x - wood.start + sum((np.where(x > at, extra, 0.0) for at, extra in extras), np.zeros_like(x))
    length = wood.length + 2.0 * end + sum(extra for _, extra in extras)
    return Body(x, wood.belly(x), wood.back(x), wood.side(x), along, length)


def widths(board: Board, along: Array) -> tuple[Array, Array]:
    """Half the board's width and half its thickness (k,) [m] at places along it (k,) [m]."""
    share = np.clip(along / board.length, 0.0, 1.0)
    ends = ((board.width, board.far_width), (board.thickness, board.far_thickness))
    wide, thick = (0.5 * (near + share * ((far or near) - near)) for near, far in ends)
    return wide, thick


def best_fit(board: Board, body: Body, wood: Hull, zones: Sequence[Zone]) -> Fit:
    """The way that leaves the least flat, then meets the least bad flaws, then leaves the board most whole."""
    best: tuple[float, Way] | None = None
    for side_on in ("width", "thickness"):
        for nose_first in (True, False):
            for back_first in (True, False) if side_on == "width" else (True,):
                cost, way = _best_place(board, body, zones, Way(side_on, nose_first, back_first, 0.0, 0.0))
                if best is None or cost < best[0] - 1e-9:
                    best = (cost, way)
    if best is None:
        raise ValueError("no way of laying it was tried")
    way = best[1]
    side, top, _ = _room(board, body, way, np.array([way.start]))
    hits = (_hit(board, body, zones, way, flaw) for flaw in board.flaws)
    return Fit(way, float(side[0]), float(top[0]), board.length - body.length, _flats(board, body, wood, way),
               tuple(hit for hit in hits if hit is not None))  # fmt: skip


def _places_along(body: Body, way: Way, starts: Array) -> Array:
    """(s, k) [m] of every station on the board, for s starts."""
    along = body.along if way.nose_first else body.length - body.along
    return np.asarray(starts[:, None] + along)


def _extents(body: Body, way: Way) -> tuple[tuple[Array, Array], tuple[Array, Array]]:
    """Low and high (k,) [m] of the body across the board, and through it."""
    upright = (-body.high, -body.low) if way.back_first else (body.low, body.high)
    level = (-body.half, body.half)
    return (upright, level) if way.side_on == "width" else (level, upright)


def _room(board: Board, body: Body, way: Way, starts: Array) -> tuple[Array, Array, Array]:
    """Least stock over the body on each side (s,) [m], in its side view's plane and its top view's; and the middle of
    the room across the board (s,) [m]."""
    wide, thick = widths(board, _places_along(body, way, starts))
    across, through = _extents(body, way)
    found = []
    for half, (low, high) in ((wide, across), (thick, through)):
        most, least = (half - high).min(axis=1), (-half - low).max(axis=1)
        found.append((0.5 * (most - least), 0.5 * (most + least)))
    (spare_across, middle), (spare_through, _) = found
    if way.side_on == "width":
        return spare_across, spare_through, middle
    return spare_through, spare_across, middle


def _best_place(board: Board, body: Body, zones: Sequence[Zone], way: Way) -> tuple[float, Way]:
    """The best start and offset of one way round, and what it costs."""
    starts = _starts(board, body, way)
    side, top, middle = _room(board, body, way, starts)
    across_room = np.maximum((side if way.side_on == "width" else top) - board.allowance, 0.0)
    offsets = middle[:, None] + across_room[:, None] * np.linspace(-1.0, 1.0, _OFFSETS)
    short = np.maximum(board.allowance - side, 0.0) + np.maximum(board.allowance - top, 0.0)
    flat = np.maximum(-side, 0.0) + np.maximum(-top, 0.0)
    cost = (1e8 * np.where(flat > _FLAT_TOLD, flat, 0.0) + 1e4 * short)[:, None] + _flaw_cost(
        board, body, zones, way, starts, offsets)  # fmt: skip
    cost = cost + 0.5 * (starts / board.length)[:, None] + 0.1 * np.abs(np.linspace(-1.0, 1.0, _OFFSETS))
    cost = cost + 0.2 * (not way.nose_first) + 0.3 * (way.side_on == "thickness") + 0.05 * (not way.back_first)
    row, column = np.unravel_index(int(np.argmin(cost)), cost.shape)
    return float(cost[row, column]), Way(way.side_on, way.nose_first, way.back_first, float(starts[row]),
                                         float(offsets[row, column]))  # fmt: skip


def _starts(board: Board, body: Body, way: Way) -> Array:
    """Where along the board to try: evenly, and where an end of the blank, or a place along it, comes to a flaw."""
    room = max(board.length - body.length, 0.0)
    own = [0.0, body.length, *(body.along if way.nose_first else body.length - body.along)[::8].tolist()]
    edges = [edge for flaw in board.flaws for edge in _edges_along(flaw)]
    middles = [flaw.at for flaw in board.flaws]
    tried = [edge - place for edge in edges for place in own[:2]] + [at - place for at in middles for place in own]
    found = np.concatenate([np.linspace(0.0, room, _PLACES), np.clip(np.array(tried), 0.0, room)])
    return np.unique(np.round(found, 6))


def _edges_along(flaw: Flaw) -> tuple[float, float]:
    return flaw.at - 0.5 * flaw.long, flaw.at + 0.5 * flaw.long


def _edges_across(board: Board, flaw: Flaw) -> tuple[float, float]:
    """[m] from the board's middle line; the whole width where no width is given."""
    half = float(widths(board, np.array([flaw.at]))[0][0])
    if flaw.wide is None:
        return -half, half
    return flaw.across - half - 0.5 * flaw.wide, flaw.across - half + 0.5 * flaw.wide


def _flaw_cost(board: Board, body: Body, zones: Sequence[Zone], way: Way, starts: Array, offsets: Array) -> Array:
    """(s, o): 1 for a flaw that does no harm, 30 for one in the wood, 1000 for one where wood must hold."""
    cost = np.zeros(offsets.shape)
    for flaw in board.flaws:
        stations, low, high, touched = _touch(board, body, way, flaw, starts, offsets)
        weight = np.where(touched, IN_WOOD if flaw.what not in ("crack", "shake") else BAD, 0)
        for zone in zones:
            inside = touched & ((zone.start <= stations) & (stations <= zone.stop))[:, None, :]
            inside &= (low < zone.high) & (zone.low < high)
            weight = np.where(inside, zone.weight if zone.weight == HARMLESS else np.maximum(weight, BAD), weight)
        cost += np.array([0.0, 1.0, 30.0, 1000.0])[weight.max(axis=2)]
    return cost


def _touch(
    board: Board, body: Body, way: Way, flaw: Flaw, starts: Array, offsets: Array
) -> tuple[Array, Array, Array, NDArray[np.bool_]]:
    """Along a flaw: stations (s, p), the heights (s, o, p) it reaches in the body there, and whether it does."""
    first, last = _edges_along(flaw)
    near = np.linspace(first, last, _FLAW_POINTS)[None, :] - starts[:, None]
    along = near if way.nose_first else body.length - near
    stations = np.interp(along, body.along, body.stations)
    on_body = (along >= body.along[0]) & (along <= body.along[-1])
    (low_at, high_at), _ = _extents(body, way)
    low, high = (np.interp(stations, body.stations, line)[:, None, :] for line in (low_at, high_at))
    left, right = (edge - offsets[:, :, None] for edge in _edges_across(board, flaw))
    held_low, held_high = np.maximum(low, left), np.minimum(high, right)
    touched = (held_low < held_high) & on_body[:, None, :]
    if way.side_on == "thickness":  # through the board, so from belly to back
        held_low, held_high = (np.broadcast_to(np.interp(stations, body.stations, line)[:, None, :], held_low.shape)
                               for line in (body.low, body.high))  # fmt: skip
    elif way.back_first:
        held_low, held_high = -held_high, -held_low
    return stations, held_low, held_high, touched


def _hit(board: Board, body: Body, zones: Sequence[Zone], way: Way, flaw: Flaw) -> Hit | None:
    """Where a flaw is in the body, and the worst that is there; None where it misses."""
    found = _touch(board, body, way, flaw, np.array([way.start]), np.array([[way.across]]))
    stations, low, high, touched = found[0][0], found[1][0, 0], found[2][0, 0], found[3][0, 0]
    if not touched.any():
        return None
    x, bottom, top = stations[touched], float(low[touched].min()), float(high[touched].max())
    near = [zone for zone in zones
            if ((zone.start <= x) & (x <= zone.stop)).any() and zone.low < top and bottom < zone.high]  # fmt: skip
    bad = [zone.words for zone in near if zone.weight == BAD]
    taken = [zone for zone in near if zone.weight == HARMLESS and zone.start <= x.min() and x.max() <= zone.stop]
    weight, words = IN_WOOD, ""
    if taken:
        weight, words = HARMLESS, taken[0].words
    elif bad:
        weight, words = BAD, " and ".join(dict.fromkeys(bad))
    elif flaw.what in ("crack", "shake"):
        weight = BAD
    return Hit(flaw, float(x.min()), float(x.max()), bottom, top, weight, words)


def _flats(board: Board, body: Body, wood: Hull, way: Way) -> tuple[Flat, ...]:
    """Every flat the board's faces leave on the bare body."""
    wide, thick = (half[0] for half in widths(board, _places_along(body, way, np.array([way.start]))))
    across, through = _extents(body, way)
    if way.side_on == "width":
        half, level, (low, high), shift = wide, thick, across, way.across
    else:
        half, level, (low, high) = thick, wide, through
        shift = 0.5 * float(np.max(-half - low) + np.min(half - high))
    faces = ("belly", "back") if way.back_first else ("back", "belly")
    found = [*_runs(body, wood, faces[0], high + shift - half), *_runs(body, wood, faces[1], -half - low - shift)]
    return (*found, *_runs(body, wood, "both sides", body.half - level))


def _runs(body: Body, wood: Hull, face: str, depth: Array) -> Iterator[Flat]:
    """Stretches where the board's face lies inside the body by `depth` (k,) [m]."""
    inside = depth > 1e-9
    turns = np.flatnonzero(np.diff(np.concatenate([[False], inside, [False]]).astype(int)))
    for first, end in zip(turns[::2].tolist(), turns[1::2].tolist(), strict=True):
        deepest = first + int(np.argmax(depth[first:end]))
        at, most = float(body.stations[deepest]), float(depth[deepest])
        if most <= _FLAT_TOLD:
            continue
        start, stop = _passes(body, depth, first, first - 1), _passes(body, depth, end - 1, end)
        yield Flat(face, start, stop, at, most, facet(wood, at, face, most))


def _passes(body: Body, depth: Array, inside: int, outside: int) -> float:
    """The station [m] between two where a flat begins; the body's end where it reaches that far."""
    if not 0 <= outside < len(depth):
        return float(body.stations[inside])
    share = depth[inside] / (depth[inside] - depth[outside])
    return float(body.stations[inside] + share * (body.stations[outside] - body.stations[inside]))


def facet(wood: Hull, station: float, face: str, depth: float) -> float:
    """How wide a flat [m] a plane `depth` [m] inside the skin leaves there, from the section's own curve."""
    shape = wood.sections(np.array([min(max(station, wood.start), wood.stop)]))
    half, power = float(shape.half_width[0]), float(shape.fullness[0])
    over, under = float((shape.top - shape.widest)[0]), float((shape.widest - shape.bottom)[0])

    def left(share: float) -> float:
        return float((1.0 - min(max(share, 0.0), 1.0) ** power) ** (1.0 / power))

    if face == "both sides":
        return (over + under) * left(1.0 - depth / half)
    tall = over if face == "back" else under
    return 2.0 * half * left(1.0 - depth / tall) if tall > 0.0 else 2.0 * half
