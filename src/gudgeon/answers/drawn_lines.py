"""Lines of a drawing at true size: curves made points, pieces joined end to end, closed outlines told from open."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.errors import Fault, Refusal
from gudgeon.physics.outline import Array

LARGEST_DRAWING = 10_000_000  # bytes
MOST_POINTS = 400_000
FLAT_WITHIN = 1e-6  # m that the points of a curve may cut its corners
JOINED_WITHIN = 1e-4  # m between ends that were meant to meet
_SMALLEST = 1e-6  # m2 that an outline holds at least
_MOST_PIECES = 400  # straight ones to a curve


@dataclass(frozen=True, eq=False)
class DrawnLine:
    """One line of a drawing.

    names  : what it is called, nearest first: its own name, its groups', its layer
    points : (n, 2) [m] x to the right, y up
    closed : whether its end joins its beginning
    """

    names: tuple[str, ...]
    points: Array
    closed: bool

    @property
    def area(self) -> float:
        """[m2] inside it, were it closed."""
        x, y = (self.points - self.points[0]).T
        return 0.5 * abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))

    @property
    def name(self) -> str:
        """What to call it."""
        return next((name for name in self.names if name), "without a name")

    @property
    def size(self) -> tuple[float, float]:
        """What it covers [m]: along x, along y."""
        wide, high = np.ptp(self.points, axis=0)
        return float(wide), float(high)


def no_drawing(words: str) -> Refusal:
    """The refusal of a drawing."""
    return Refusal("the drawing cannot be read", [Fault("the drawing", words)])


def flattened(curve: Array) -> Array:
    """Points (k, 2) of a cubic Bezier curve past its first, near enough to it that no corner is seen.

    curve : (4, 2) [m] its control points
    """
    bend = np.abs(np.diff(curve, n=2, axis=0))
    count = math.ceil(math.sqrt(0.75 * float(np.hypot(*bend.T).max()) / FLAT_WITHIN))
    share = np.linspace(0.0, 1.0, min(max(count, 1), _MOST_PIECES) + 1)[1:, None]
    rest = 1.0 - share
    return np.asarray(rest**3 * curve[0] + 3.0 * rest**2 * share * curve[1] + 3.0 * rest * share**2 * curve[2]
                      + share**3 * curve[3])  # fmt: skip


def outlines_in(lines: Iterable[DrawnLine]) -> tuple[DrawnLine, ...]:
    """The closed outlines of a drawing, largest first; open lines of one layer that meet end to end are joined.

    raises : Refusal when there is none
    """
    lines = list(lines)
    closed = [line for line in lines if line.closed]
    rest: dict[tuple[str, ...], list[DrawnLine]] = {}
    for line in lines:
        if not line.closed and len(line.points) > 1:
            rest.setdefault(line.names[1:], []).append(line)
    for names, some in rest.items():
        closed += [DrawnLine(names, points, True) for points in _joined([line.points for line in some])]
    found = sorted((_without_doubles(line) for line in closed), key=lambda line: -line.area)
    found = [line for line in found if line.area > _SMALLEST]
    if not found:
        words = ("there is no closed outline in it; join its lines end to end" if lines else
                 "there are no lines in it")  # fmt: skip
        raise no_drawing(words)
    return tuple(found)


def _without_doubles(line: DrawnLine) -> DrawnLine:
    """The line without points that lie on the one before them."""
    away = np.hypot(*(line.points - np.roll(line.points, 1, axis=0)).T)
    kept = line.points[away > 1e-9]
    return DrawnLine(line.names, kept if len(kept) > 2 else line.points, line.closed)


def _joined(runs: Sequence[Array]) -> list[Array]:
    """Closed lines made of open ones whose ends meet."""
    left, found = list(runs), []
    while left:
        chain = left.pop()
        while not _meet(chain[0], chain[-1]) or len(chain) < 3:
            meeting = (place for place, run in enumerate(left) if _meet(chain[-1], run[0]) or _meet(chain[-1], run[-1]))
            place = next(meeting, None)
            if place is None:
                break
            run = left.pop(place)
            chain = np.vstack([chain, (run if _meet(chain[-1], run[0]) else run[::-1])[1:]])
        if _meet(chain[0], chain[-1]) and len(chain) > 3:
            found.append(chain[:-1])
    return found


def _meet(one: Array, other: Array) -> bool:
    return math.hypot(*(one - other)) <= JOINED_WITHIN
