"""Which balloon of a band points at which part, and where: so that leaders run through other parts as little as may be.

Leaders that are short and steep in all hardly cross each other: changed over, two that cross are shorter. Those that
still do, to keep clear of a part, are changed over where that is the lesser evil.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from gudgeon.report.balloons import Balloon
from gudgeon.report.strokes import Array, Point

_THROUGH = 10.0  # mm longer that a leader may be to spare the outline of another part
_OVER = 20.0  # mm longer that two leaders may be so as not to cross
_ASLANT = 5.0  # mm; what a leader leans [mm] counts by its square, over this
_ENDS = 12  # points of a part's outline that a leader may end at
_PIECES = 40  # straight pieces that an outline is looked at in


def untangled(
    balloons: Sequence[Balloon], outlines: Mapping[Point, Sequence[Array]], others: Sequence[Array]
) -> tuple[Balloon, ...]:
    """The same balloons, what they point at dealt out anew.

    outlines : of a part (k, 2) [mm of paper], by where its leader would end; where there is one, it may end on it
    others   : lines that are no part's own, but in the way
    """
    from scipy.optimize import linear_sum_assignment  # takes long to load, and only this wants it

    if not balloons:
        return ()
    ends = [_ends(one.called.at, outlines.get(one.called.at, ())) for one in balloons]
    every = {at: _pieces(lines) for at, lines in outlines.items()}
    fixed = _pieces(others)
    costs = np.zeros((len(balloons), len(balloons)))
    best = np.zeros_like(costs, dtype=int)
    for part, points in enumerate(ends):
        walls = np.concatenate([fixed, *(one for at, one in every.items() if at != balloons[part].called.at)])
        for slot, balloon in enumerate(balloons):
            knee = np.array(balloon.knee)
            aside = (points[:, 0] - knee[0]) ** 2 / _ASLANT
            cost = np.hypot(*(points - knee).T) + aside + _THROUGH * _crossed(knee, points, walls)
            best[slot, part], costs[slot, part] = int(cost.argmin()), float(cost.min())
    knees = np.array([balloon.knee for balloon in balloons])
    where = np.stack([points[best[:, part]] for part, points in enumerate(ends)], axis=1)
    found = []
    for slot, part in enumerate(_changed_over(knees, where, costs, linear_sum_assignment(costs)[1].tolist())):
        x, y = where[slot, part].tolist()
        found.append(replace(balloons[slot], called=replace(balloons[part].called, at=(x, y))))
    return tuple(found)


def _changed_over(knees: Array, where: Array, costs: Array, parts: list[int]) -> list[int]:
    """Which part each balloon has, two of them changed over as long as that spares more than it costs.

    knees, where : (n, 2), (n, n, 2) [mm] where the leader of a balloon to a part begins and ends
    """
    slots = np.arange(len(parts))

    def evil(tried: list[int]) -> tuple[float, NDArray[np.intp]]:
        crossing = _crossing(np.stack([knees, where[slots, tried]], axis=1))
        return float(costs[slots, tried].sum()) + _OVER * len(crossing), crossing

    least, crossing = evil(parts)
    while True:
        tries = [_exchanged(parts, one, other) for one, other in crossing.tolist()]
        better = min(((*evil(tried), tried) for tried in tries), key=lambda found: found[0], default=None)
        if better is None or better[0] >= least - 1e-9:
            return parts
        least, crossing, parts = better


def _exchanged(parts: list[int], one: int, other: int) -> list[int]:
    return [parts[{one: other, other: one}.get(slot, slot)] for slot in range(len(parts))]


def _crossing(leaders: Array) -> NDArray[np.intp]:
    """Which of the straight leaders (n, 2, 2) cross: (k, 2) numbers of two."""
    starts, way = leaders[:, 0], leaders[:, 1] - leaders[:, 0]
    sides = [_side(way[:, None], leaders[None, :, end] - starts[:, None]) for end in (0, 1)]
    apart = sides[0] * sides[1] < 0.0
    return np.argwhere(np.triu(apart & apart.T, 1))


def _ends(at: Point, outline: Sequence[Array]) -> Array:
    """Where a leader may end (k, 2) [mm]."""
    points = [line[:: max(len(line) // _ENDS, 1)] for line in outline]
    return np.concatenate([np.array([at]), *points])


def _pieces(lines: Sequence[Array]) -> Array:
    """Lines as straight pieces (k, 2, 2) [mm], few enough."""
    found = [np.zeros((0, 2, 2))]
    for line in lines:
        few = line[np.unique(np.linspace(0, len(line) - 1, min(len(line), _PIECES)).astype(int))]
        found.append(np.stack([few[:-1], few[1:]], axis=1))
    return np.concatenate(found)


def _crossed(start: Array, stops: Array, walls: Array) -> Array:
    """How many pieces (k, 2, 2) each way from `start` (2,) to `stops` (n, 2) runs through (n,)."""
    way = (stops - start)[:, None]
    first, second = (_side(way, walls[None, :, end] - start) for end in (0, 1))
    along = walls[:, 1] - walls[:, 0]
    near = _side(along, start - walls[:, 0])
    far = _side(along[None], stops[:, None] - walls[None, :, 0])
    found: Array = ((first * second < 0.0) & (near[None] * far < 0.0)).sum(axis=1)
    return found


def _side(way: Array, to: Array) -> Array:
    """Which side of a way (..., 2) a point from its start lies on: plus on the left."""
    found: Array = way[..., 0] * to[..., 1] - way[..., 1] * to[..., 0]
    return found
