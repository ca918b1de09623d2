"""Curves along the body: through the maker's points, by formula, or constant.

A curve gives one size (a height, a half-width, a fullness) at every station aft of the nose [m].
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal, Protocol

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import BadDesign, Fault

Array = NDArray[np.float64]
End = Literal["round", "pointed"]

# The share of the height that lets an ellipse through twelve points keep its volume within 0.3 % when they are set
# unevenly: each up to 0.35 of a space off even or cosine spacing, 600 trials at random: worst 0.29 %. A share of 1.5 %:
# 0.45 %. Sought out, the worst is 0.47 %: every point as far off as that, by turns to the nose and to the tail.
CREST_RISE = 0.02
_SAME_PLACE = 1e-9  # share of the length that is rounding, not drawing


class Along:
    """Stations along a body, made ready once for all the curves over it.

    stations      : (k,) [m]
    start, length : [m] of the body
    """

    def __init__(self, stations: Array, start: float, length: float) -> None:
        self.stations, self.start, self.length = stations, start, length
        self._parameters: dict[tuple[bool, bool], Array] = {}

    @cached_property
    def place(self) -> Array:
        """Share of the length at each (k,); raises ValueError for one off the body."""
        given = (np.asarray(self.stations, dtype=float) - self.start) / self.length
        place: Array = np.minimum(np.maximum(given, 0.0), 1.0)
        if not np.abs(place - given).max(initial=0.0) <= _SAME_PLACE:
            raise ValueError("a drawn curve was asked for a station off the body")
        return place

    def parameter(self, is_round: tuple[bool, bool]) -> Array:
        """What a drawn curve with such ends is a cubic in, at each station (k,): see DrawnCurve."""
        found = self._parameters.get(is_round)
        if found is None:
            found = self._parameters[is_round] = _parameter(self.place, is_round)
        return found


class Curve(Protocol):
    """One size along the body."""

    def __call__(self, stations: Array) -> Array:
        """The size at each station: (k,) [m] or, for fullness, [1]."""
        ...

    def at(self, along: Along) -> Array:
        """The same (k,) at stations that other curves are asked for too."""
        ...

    def slope(self, stations: Array) -> Array:
        """Its change per metre aft: (k,). Grows without bound toward a round end."""
        ...

    @property
    def breaks(self) -> tuple[float, ...]:
        """Stations [m] between which the curve is smooth."""
        ...


@dataclass(frozen=True, eq=False)
class DrawnCurve:
    """The curve through the maker's points, with no swelling the points do not ask for.

    stations : (n,) [m]  n >= 2, growing, the first at `start`, the last at `start + length`
    heights  : (n,)      the size at each
    length   : [m]       of the body
    nose     : how the curve ends at the nose where it closes there: "round" (with a vertical tangent) or "pointed"
    tail     : the same at the tail; an end that does not close is a flat face, met at a finite slope, whatever is said
    start    : [m]       station of the nose
    closes   : the heights at which the two ends count as closed
    raises   : BadDesign with every fault of the points

    Near a round end a height grows as the square root of the distance. So the curve is a cubic Hermite spline in a
    parameter s in which that is a straight line: the angle of x = L (1 - cos s) / 2 for two round ends, the root of the
    distance from the one round end, or x itself for none. An ellipse is sin s; a taper with pointed ends is straight.
    Slopes at the points are those of the twice-differentiable spline (curvature in s nothing at a round end, steady
    next to any other end), then limited after Fritsch and Carlson so that between two points the curve stays between
    their heights. One exception: where the neighbours on both sides fall away (or rise) the crest may lie between two
    points, and there the curve may pass the higher one by at most 2 % of it, never by more than the
    neighbours' trend says. A flat drawn with three or more equal points stays flat.

    source : Fritsch and Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246, for the limit; the crest rule is our own
    """

    stations: Array
    heights: Array
    length: float
    nose: End = "round"
    tail: End = "round"
    start: float = 0.0
    closes: tuple[float, float] = (0.0, 0.0)
    breaks: tuple[float, ...] = field(init=False, repr=False)
    _knots: Array = field(init=False, repr=False)
    _origins: Array = field(init=False, repr=False)
    _cubics: Array = field(init=False, repr=False)
    _round: tuple[bool, bool] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        stations = np.array(self.stations, dtype=float)
        heights = np.array(self.heights, dtype=float)
        faults = _faults(stations, heights, self.start, self.start + self.length)
        if faults:
            raise BadDesign("the points do not make a curve", faults)
        stations[0], stations[-1] = self.start, self.start + self.length
        rounding = _SAME_PLACE * self.length
        is_round = (
            self.nose == "round" and bool(abs(heights[0] - self.closes[0]) <= rounding),
            self.tail == "round" and bool(abs(heights[-1] - self.closes[1]) <= rounding),
        )
        knots = _parameter((stations - self.start) / self.length, is_round)
        slopes = _limited(knots, heights, _spline_slopes(knots, heights, is_round))
        origins, cubics = np.r_[knots[:-2], knots[-1]], _cubics(knots, heights, slopes)
        for array in (stations, heights, knots, origins, cubics):
            array.setflags(write=False)
        values = {"stations": stations, "heights": heights, "_knots": knots, "_origins": origins, "_cubics": cubics,
                  "_round": is_round, "breaks": tuple(stations[1:-1].tolist())}  # fmt: skip
        for name, value in values.items():
            object.__setattr__(self, name, value)

    def __call__(self, stations: Array) -> Array:
        """The size at each station: (k,)."""
        return self.at(Along(stations, self.start, self.length))

    def at(self, along: Along) -> Array:
        """The size at each station: (k,)."""
        if (along.start, along.length) != (self.start, self.length):
            return self(along.stations)
        panel, past = self._locate(along)
        level, rise, bend, twist = self._cubics.take(panel, axis=1)
        sizes: Array = ((twist * past + bend) * past + rise) * past + level
        return sizes

    def slope(self, stations: Array) -> Array:
        """Its change per metre aft: (k,); unbounded at the very tip of a round end."""
        along_body = Along(stations, self.start, self.length)
        panel, past = self._locate(along_body)
        _, rise, bend, twist = self._cubics.take(panel, axis=1)
        along: Array = (3.0 * twist * past + 2.0 * bend) * past + rise
        with np.errstate(divide="ignore"):
            stretch = _parameter_slope(along_body.place, self._round)
        return np.multiply(along, stretch, out=np.zeros_like(along), where=along != 0.0) / self.length

    def _locate(self, along: Along) -> tuple[NDArray[np.intp], Array]:
        """The span each station is in, and the parameter past that span's origin: each (k,)."""
        parameter = along.parameter(self._round)
        panel = self._knots[1:-1].searchsorted(parameter, side="right")
        return panel, parameter - self._origins.take(panel)


@dataclass(frozen=True)
class AnalyticCurve:
    """A curve by formula.

    function   : stations (k,) [m] -> size (k,)
    derivative : stations (k,) [m] -> change of size per metre aft (k,)
    breaks     : stations [m] between which both are smooth
    """

    function: Callable[[Array], Array]
    derivative: Callable[[Array], Array]
    breaks: tuple[float, ...] = ()

    def __call__(self, stations: Array) -> Array:
        """The size at each station: (k,)."""
        return self.function(stations)

    def at(self, along: Along) -> Array:
        """The size at each station: (k,)."""
        return self(along.stations)

    def slope(self, stations: Array) -> Array:
        """Its change per metre aft: (k,)."""
        return self.derivative(stations)


@dataclass(frozen=True)
class ConstantCurve:
    """The same size all along."""

    value: float
    breaks: tuple[float, ...] = ()

    def __call__(self, stations: Array) -> Array:
        """The size at each station: (k,)."""
        return np.full(np.shape(stations), self.value)

    def at(self, along: Along) -> Array:
        """The size at each station: (k,)."""
        return self(along.stations)

    def slope(self, stations: Array) -> Array:
        """Nothing: (k,)."""
        return np.zeros(np.shape(stations))


@dataclass(frozen=True)
class HeldCurve:
    """A curve held between two others: where it would pass one of them it follows that one.

    curve, low, high : curves over the same body, low <= high
    """

    curve: Curve
    low: Curve
    high: Curve

    @property
    def breaks(self) -> tuple[float, ...]:
        """Stations [m] between which all three are smooth."""
        return tuple(sorted({*self.curve.breaks, *self.low.breaks, *self.high.breaks}))

    def __call__(self, stations: Array) -> Array:
        """The size at each station: (k,)."""
        return np.minimum(np.maximum(self.curve(stations), self.low(stations)), self.high(stations))

    def at(self, along: Along) -> Array:
        """The size at each station: (k,)."""
        return np.minimum(np.maximum(self.curve.at(along), self.low.at(along)), self.high.at(along))

    def slope(self, stations: Array) -> Array:
        """Its change per metre aft: (k,)."""
        size, low, high = self.curve(stations), self.low(stations), self.high(stations)
        below = np.where(size < low, self.low.slope(stations), self.curve.slope(stations))
        return np.where(np.maximum(size, low) > high, self.high.slope(stations), below)


@dataclass(frozen=True)
class ScaledCurve:
    """`curve` with every size multiplied by `by`; the stations stay. By -1 a depth becomes a height."""

    curve: Curve
    by: float

    @property
    def breaks(self) -> tuple[float, ...]:
        """Stations [m] between which the curve is smooth."""
        return self.curve.breaks

    def __call__(self, stations: Array) -> Array:
        """The size at each station: (k,)."""
        return self.curve(stations) * self.by

    def at(self, along: Along) -> Array:
        """The size at each station: (k,)."""
        return self.curve.at(along) * self.by

    def slope(self, stations: Array) -> Array:
        """Its change per metre aft: (k,)."""
        return self.curve.slope(stations) * self.by


def _faults(stations: Array, heights: Array, first: float, last: float) -> list[Fault]:
    if stations.ndim != 1 or stations.shape != heights.shape:
        raise ValueError("stations and heights must be two lists of the same length")
    if len(stations) < 2:
        return [Fault("points", f"{len(stations)} given; draw at least two, one at each end of the body")]
    odd = np.flatnonzero(~np.isfinite(stations + heights)) + 1
    if odd.size:
        words = "is not a number; write its distance from the nose and its size"
        return [Fault(f"point {place}", words) for place in odd]
    faults = []
    slack = 1e-6 * (last - first)
    if abs(stations[0] - first) > slack:
        faults.append(Fault("point 1", f"is {_mm(stations[0])} from the nose; draw the first at {_mm(first)}"))
    for place in np.flatnonzero(np.diff(stations) <= slack) + 2:
        before, here = _mm(stations[place - 2]), _mm(stations[place - 1])
        faults.append(Fault(f"point {place}", f"at {here} does not lie aft of the one before it at {before}; "
                                              f"write the points in order from nose to tail"))  # fmt: skip
    if abs(stations[-1] - last) > slack:
        faults.append(Fault(f"point {len(stations)}", f"is at {_mm(stations[-1])} and the body ends at {_mm(last)}; "
                                                      "draw the last point there"))  # fmt: skip
    return faults


def _mm(length: float) -> str:
    return f"{1000.0 * float(length):.4g} mm"


def _cubics(knots: Array, heights: Array, slopes: Array) -> Array:
    """The Hermite cubic of each span by powers 0 to 3 of the parameter past its origin: (4, spans).

    A span's origin is its start, but the last one's is the tail, so that both ends are met to the last figure.
    """
    width = np.diff(knots)
    climb = np.diff(heights) / width
    enter, leave = slopes[:-1], slopes[1:]
    twist = (enter + leave - 2.0 * climb) / width**2
    bend = (3.0 * climb - 2.0 * enter - leave) / width
    cubics = np.stack([heights[:-1], enter, bend, twist])
    cubics[:3, -1] = heights[-1], leave[-1], bend[-1] + 3.0 * twist[-1] * width[-1]
    return cubics


def _parameter(place: Array, is_round: tuple[bool, bool]) -> Array:
    """The spline's parameter at each share of the length (k,): see DrawnCurve."""
    if is_round == (True, True):
        return 2.0 * np.arctan2(np.sqrt(place), np.sqrt(1.0 - place))
    if is_round[0]:
        return np.sqrt(place)
    if is_round[1]:
        return place / (1.0 + np.sqrt(1.0 - place))  # 1 - sqrt(1 - place) without losing its digits
    return np.array(place)


def _parameter_slope(place: Array, is_round: tuple[bool, bool]) -> Array:
    if is_round == (True, True):
        return 1.0 / np.sqrt(place * (1.0 - place))
    if is_round[0]:
        return 0.5 / np.sqrt(place)
    if is_round[1]:
        return 0.5 / np.sqrt(1.0 - place)
    return np.ones_like(place)


def _spline_slopes(knots: Array, heights: Array, is_round: tuple[bool, bool]) -> Array:
    """Slopes (n,) at the knots of the cubic spline with two continuous derivatives.

    Ends: no curvature at a round one, steady curvature in the last panel at any other.
    """
    width = np.diff(knots)
    climb = np.diff(heights) / width
    count = len(knots)
    if count == 2:
        return np.repeat(climb, 2)
    if count == 3 and is_round == (False, False):
        return _parabola_slopes(width, climb)
    matrix, right = np.zeros((count, count)), np.zeros(count)
    inner = np.arange(1, count - 1)
    matrix[inner, inner - 1], matrix[inner, inner + 1] = 1.0 / width[:-1], 1.0 / width[1:]
    matrix[inner, inner] = 2.0 / width[:-1] + 2.0 / width[1:]
    right[inner] = 3.0 * (climb[:-1] / width[:-1] + climb[1:] / width[1:])
    matrix[0, :2] = (2.0, 1.0) if is_round[0] else (1.0, 1.0)
    matrix[-1, -2:] = (1.0, 2.0) if is_round[1] else (1.0, 1.0)
    right[0] = climb[0] * (3.0 if is_round[0] else 2.0)
    right[-1] = climb[-1] * (3.0 if is_round[1] else 2.0)
    return np.asarray(np.linalg.solve(matrix, right), dtype=np.float64)


def _parabola_slopes(width: Array, climb: Array) -> Array:
    bend = (climb[1] - climb[0]) / (width[0] + width[1])
    return np.array([climb[0] - bend * width[0], climb[0] + bend * width[0], climb[1] + bend * width[1]])


def _limited(knots: Array, heights: Array, slopes: Array) -> Array:
    """`slopes` (n,) held to where the curve keeps between the heights, but for the crest rule of DrawnCurve."""
    width = np.diff(knots)
    climb = np.diff(heights) / width
    before, after = np.concatenate([climb[:1], climb]), np.concatenate([climb, climb[-1:]])
    bound = 3.0 * np.minimum(np.abs(before), np.abs(after))
    most = np.where((before > 0.0) & (after > 0.0), bound, 0.0)
    least = np.where((before < 0.0) & (after < 0.0), -bound, 0.0)
    # A trough is a crest upside down; its bounds come back upside down too.
    most, least = _crest_bounds(width, climb, heights, most, least)
    down, up = _crest_bounds(width, -climb, heights, -least, -most)
    return np.clip(slopes, -down, -up)


def _crest_bounds(width: Array, climb: Array, heights: Array, most: Array, least: Array) -> tuple[Array, Array]:
    """Slope bounds widened beside every panel whose outer neighbours both fall away.

    A cubic between equal heights that leaves and enters at slopes s and -s rises s x width / 4, so 4 x rise / width
    is the slope allowed; added to the three climbs of Fritsch and Carlson it never lifts the curve by more than rise.
    """
    up, down = climb[:-2], -climb[2:]
    crest = (up > 0.0) & (down > 0.0)
    height = np.maximum(np.abs(heights[1:-2]), np.abs(heights[2:-1]))
    extra = np.minimum(4.0 * CREST_RISE * height / width[1:-1], 2.0 * np.minimum(up, down))
    enter = np.minimum(3.0 * up, 3.0 * np.maximum(climb[1:-1], 0.0) + extra)
    leave = np.minimum(3.0 * down, 3.0 * np.maximum(-climb[1:-1], 0.0) + extra)
    most, least = most.copy(), least.copy()
    most[1:-2] = np.where(crest, np.maximum(most[1:-2], enter), most[1:-2])
    least[2:-1] = np.where(crest, np.minimum(least[2:-1], -leave), least[2:-1])
    return most, least
