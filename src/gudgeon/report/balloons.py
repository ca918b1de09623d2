"""Number balloons in rows over and under a drawing: none over another, no leader through one, in order along it."""

from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.report.paper import Pen
from gudgeon.report.spacing import spread_out
from gudgeon.report.strokes import Line, Point, circle

RADIUS = 3.3  # mm
_BETWEEN = 0.9  # mm from a balloon to the leader that passes it
PITCH = RADIUS + _BETWEEN  # mm along, from a balloon in one row to the next one's in the other
BAND = 4.0 * RADIUS + 7.0  # mm a band of two rows takes, with the room its leaders bend in
_FIRST_ROW = RADIUS + 5.0  # mm from the drawing to the middles of the nearer row
_DOT = 0.45  # mm
_FULLER = 0.45  # share of the balloons that the emptier of two crowded bands has at least


@dataclass(frozen=True)
class Called:
    """What a balloon points at [mm of paper] and says."""

    at: Point
    mark: str


@dataclass(frozen=True)
class Balloon:
    """One in its place; its leader runs from `middle` straight to `knee`, then to what it points at [mm]."""

    called: Called
    middle: Point
    knee: Point


def room_for(wide: float) -> int:
    """How many balloons a band holds, `wide` [mm]."""
    return max(1, int((wide - 2.0 * RADIUS) / PITCH) + 1)


def shared_out(called: Sequence[Called], level: float, wide: float) -> tuple[list[Called], list[Called]]:
    """Those that go over a drawing, and those under it: by which side of `level` [mm] they point at, as far as a band
    holds them."""
    order = sorted(called, key=lambda one: one.at[1])
    most = room_for(wide)
    if len(order) > most:  # crowded: neither band is to be much fuller than the other
        most = max(len(order) - int(_FULLER * len(order)), -(-len(order) // 2))
    under = sum(one.at[1] < level for one in order)
    under = max(min(under, most), len(order) - most)
    return sorted(order[under:], key=_place), sorted(order[:under], key=_place)


def thinned(called: Sequence[Called], most: int) -> list[Called]:
    """Each mark once where there are more balloons than there is room; the first that has it keeps it."""
    if len(called) <= most:
        return list(called)
    return list({one.mark: one for one in reversed(called)}.values())[::-1]


def _place(one: Called) -> tuple[float, float]:
    return one.at


def band(called: Sequence[Called], edge: float, span: tuple[float, float], *, up: bool) -> tuple[Balloon, ...]:
    """Balloons in two rows, every other one further off, so that its leader passes between two of the nearer row.

    called : in order along the drawing
    edge   : [mm] height of the drawing's edge      span : [mm] between which balloons stand
    """
    way = 1.0 if up else -1.0
    places = held(spread_out([one.at[0] for one in called], PITCH), (span[0] + RADIUS, span[1] - RADIUS))
    found = []
    for number, (one, x) in enumerate(zip(called, places, strict=True)):
        out = _FIRST_ROW + (2.0 * RADIUS + _BETWEEN if number % 2 else 0.0)
        found.append(Balloon(one, (x, edge + way * out), (x, edge + way * 3.0)))
    return tuple(found)


def held(places: list[float], span: tuple[float, float]) -> list[float]:
    """Places in order at least a pitch apart, moved inside a span that has room for them."""
    moved: list[float] = []
    for number, place in enumerate(places):
        least = span[0] if not moved else moved[-1] + PITCH
        most = span[1] - PITCH * (len(places) - 1 - number)
        moved.append(max(min(place, most), least))
    return moved


def draw_balloon(pen: Pen, balloon: Balloon) -> None:
    """Leader, dot, ring and number."""
    (x, y), knee, at = balloon.middle, balloon.knee, balloon.called.at
    start = (x, y + (RADIUS if knee[1] > y else -RADIUS))
    pen.line(Line.THIN, [start, knee, at])
    pen.filled(circle(Line.THIN, at, _DOT).points.tolist())
    pen.stroke(circle(Line.THIN, (x, y), RADIUS))
    mark = balloon.called.mark
    pen.words(x, y - 1.0, mark, bold=True, side="middle")
