"""A closed outline to the points of a design: back and belly at a handful of stations, and how far off they draw it."""

import math
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

import numpy as np

from gudgeon.errors import Fault, NoAnswer
from gudgeon.physics.outline import Array, DrawnCurve

End = Literal["round", "pointed", "flat"]
Point = tuple[float, float]

WITHIN = 0.0003  # m that the drawn outline may be off the traced one
MOST_STATIONS = 24
_GRID = 600  # stations at which back and belly are read off
_OFF_THE_END = 0.03  # of the length that a mark may lie from the outline's end and still mean it
_NEAR, _FAR = 0.004, 0.04  # of the length from an end: how tall it is there tells its kind
_BLUNT = 0.6  # a flat end is as tall so near as this share of its height further on
_POINTED = 0.19  # a pointed end is less tall so near than this; a round one grows by the root, 0.32, a cone by 0.10
_APART, _CLOSEST = 0.05, 0.006  # of the length between two stations, to begin with and at least
_TURNS = 4  # of the axis, until it runs through both ends


@dataclass(frozen=True, eq=False)
class Profile:
    """An outline lying as a lure does: nose at the left, back up.

    stations : (k,) [m] aft of the nose, from end to end
    back, belly : (k,) [m] above and below the line through both ends' middles
    nose, tail : what kind of end each is
    origin, along, up : where that line lies in what it was traced from [m]: its nose, and its two directions
    left_out : whether something lies aft of the tail that was marked
    """

    stations: Array
    back: Array
    belly: Array
    nose: End
    tail: End
    origin: Array
    along: Array
    up: Array
    left_out: bool

    @property
    def length(self) -> float:
        """[m]"""
        return float(self.stations[-1])

    @property
    def depth(self) -> float:
        """[m] where it is deepest."""
        return float((self.back + self.belly).max())

    @property
    def area(self) -> float:
        """[m2]"""
        return float(np.trapezoid(self.back + self.belly, self.stations))

    def made(self, length: float) -> "Profile":
        """The same shape so long [m], every size in proportion."""
        by = length / self.length
        return replace(self, stations=by * self.stations, back=by * self.back, belly=by * self.belly)


@dataclass(frozen=True)
class DrawnOutline:
    """The points of a design that draw a profile.

    back, belly : stations [m] and sizes there [m]
    nose, tail  : how a curve closes there that ends at nothing
    departure   : [m] how far what they draw is off the profile, where it is worst
    """

    length: float
    back: tuple[Point, ...]
    belly: tuple[Point, ...]
    nose: Literal["round", "pointed"]
    tail: Literal["round", "pointed"]
    departure: float

    def made(self, length: float) -> "DrawnOutline":
        """The same shape so long [m], every size in proportion."""
        by = length / self.length
        back, belly = (tuple((by * station, by * out) for station, out in curve) for curve in (self.back, self.belly))
        return replace(self, length=length, back=back, belly=belly, departure=by * self.departure)


def profile_of(points: Array, nose: Array, tail: Array, *, belly_up: bool = False) -> Profile:
    """A closed outline read off along its length.

    points     : (n, 2) [m] x to the right, y up, in order round it
    nose, tail : (2,) [m] marked near its ends; a tail marked well inside cuts it off there
    belly_up   : whether the belly is at the upper side
    raises     : NoAnswer when a mark lies off the outline
    """
    ends = [np.array(nose), np.array(tail)]
    _check_marks(points, ends)
    for _ in range(_TURNS):
        frame = _Frame.through(*ends, belly_up=belly_up)
        own = frame.inside(points)
        span = float(np.hypot(*(ends[1] - ends[0])))
        cut = _cut(own, span)
        first, last = _nose_end(own, span), _tail_end(own, span, cut)
        ends = [frame.outside(first.middle), frame.outside(last.middle)]
    frame = _Frame.through(*ends, belly_up=belly_up)
    own, length = frame.inside(points), float(np.hypot(*(ends[1] - ends[0])))
    return _read_off(own, length, first.kind, last.kind, frame, cut)


@dataclass(frozen=True, eq=False)
class _Frame:
    """A line and its two directions."""

    origin: Array
    along: Array
    up: Array

    @classmethod
    def through(cls, nose: Array, tail: Array, *, belly_up: bool) -> "_Frame":
        along = (tail - nose) / max(float(np.hypot(*(tail - nose))), 1e-12)
        up = np.array([-along[1], along[0]])
        turned = up[1] < 0.0 if abs(along[0]) >= abs(along[1]) else False
        return cls(nose, along, -up if turned != belly_up else up)

    def inside(self, points: Array) -> Array:
        return np.stack([(points - self.origin) @ self.along, (points - self.origin) @ self.up], axis=1)

    def outside(self, point: Array) -> Array:
        return np.asarray(self.origin + point[0] * self.along + point[1] * self.up)


@dataclass(frozen=True, eq=False)
class _EndFound:
    kind: End
    middle: Array  # (2,) along and up


def _check_marks(points: Array, ends: list[Array]) -> None:
    """Faults of marks that lie off the outline."""
    length = float(np.hypot(*(ends[1] - ends[0])))
    along = (ends[1] - ends[0]) / max(length, 1e-12)
    at = (points - ends[0]) @ along
    faults = []
    ahead, aft, most = float(at.min()), length - float(at.max()), _OFF_THE_END * length
    if ahead > most:
        faults.append(Fault("nose", f"lies {1e3 * ahead:.1f} mm ahead of the outline; mark its very end"))
    if ahead < -most:
        faults.append(Fault("nose", f"the outline begins {-1e3 * ahead:.1f} mm ahead of it; mark its very end"))
    if aft > most:
        faults.append(Fault("tail", f"lies {1e3 * aft:.1f} mm aft of the outline; mark its very end"))
    if faults:
        raise NoAnswer("the outline was not read off", faults)


def _cut(own: Array, span: float) -> bool:
    """Whether the outline goes on well aft of the tail's mark."""
    return float(own[:, 0].max()) > (1.0 + _OFF_THE_END) * span


def _nose_end(own: Array, span: float) -> _EndFound:
    return _end(own, float(own[:, 0].min()), span)


def _tail_end(own: Array, span: float, cut: bool) -> _EndFound:
    if cut:
        back, belly = _heights(own, np.array([span]))
        return _EndFound("flat", np.array([span, 0.5 * float(back[0] + belly[0])]))
    turned = own * np.array([-1.0, 1.0])
    found = _end(turned, float(turned[:, 0].min()), span)
    return _EndFound(found.kind, found.middle * np.array([-1.0, 1.0]))


def _end(own: Array, first: float, span: float) -> _EndFound:
    """The end of an outline at its least station: the middle of a flat face, or the foremost point."""
    back, belly = _heights(own, first + span * np.array([_NEAR, _FAR]))
    tall, middle = back - belly, 0.5 * (back + belly)
    if tall[0] > _BLUNT * tall[1]:
        face = own[(own[:, 0] < first + 3.0 * _NEAR * span) & (np.abs(own[:, 1] - middle[0]) < 0.3 * tall[0])]
        return _EndFound("flat", np.array([float(face[:, 0].mean()) if len(face) else first, float(middle[0])]))
    tip = own[own[:, 0] < first + 1e-4 * span]
    kind: End = "round" if tall[0] > _POINTED * tall[1] else "pointed"
    return _EndFound(kind, np.array([first, float(tip[:, 1].mean())]))


def _heights(own: Array, stations: Array) -> tuple[Array, Array]:
    """The highest and the lowest place (k,) of a closed outline at each station; 0 where it has none."""
    x0, z0 = own.T
    x1, z1 = np.roll(own, -1, axis=0).T
    low, high = np.full(len(stations), np.inf), np.full(len(stations), -np.inf)
    for place, station in enumerate(stations):
        over = (x0 <= station) != (x1 <= station)
        if over.any():
            crossed = z0[over] + (station - x0[over]) / (x1[over] - x0[over]) * (z1[over] - z0[over])
            low[place], high[place] = crossed.min(), crossed.max()
    known = np.isfinite(low)
    return np.where(known, high, 0.0), np.where(known, low, 0.0)


def _read_off(own: Array, length: float, nose: End, tail: End, frame: _Frame, cut: bool) -> Profile:
    angles = np.linspace(0.0, math.pi, _GRID)
    stations = 0.5 * length * (1.0 - np.cos(angles))
    inner = stations[1:-1]
    high, low = _heights(own, inner)
    if nose == "flat" or tail == "flat":
        high, low = _past_corners(inner, high, low, length, nose, tail)
    back, belly = np.concatenate([[0.0], high, [0.0]]), np.concatenate([[0.0], -low, [0.0]])
    for place, end in ((0, nose), (-1, tail)):
        if end == "flat":
            beside = 1 if place == 0 else -2
            back[place], belly[place] = back[beside], belly[beside]
    for array in (stations, back, belly):
        array.setflags(write=False)
    return Profile(stations, back, belly, nose, tail, frame.origin, frame.along, frame.up, cut)


def _past_corners(inner: Array, high: Array, low: Array, length: float, nose: End,
                  tail: End) -> tuple[Array, Array]:  # fmt: skip
    """Heights near a flat end carried on straight from beside it: there a corner is worn, or the face not square."""
    high, low = high.copy(), low.copy()
    for end, away in ((nose, inner), (tail, length - inner)):
        if end != "flat":
            continue
        corner, beside = away < 3.0 * _NEAR * length, (away >= 3.0 * _NEAR * length) & (away < _FAR * length)
        for heights in (high, low):
            heights[corner] = np.polyval(np.polyfit(away[beside], heights[beside], 1), away[corner])
    return high, low


def drawn_outline(profile: Profile, *, within: float = WITHIN, step: float = 1e-4, ruler: float = 1e-3) -> DrawnOutline:
    """The fewest stations found that draw a profile within so much, the same for back and belly.

    within  : [m] that it may be off
    step    : [m] to which sizes are rounded
    ruler   : [m] to which stations are rounded, where they are not near an end
    returns : with what it comes to; more than `within` where MOST_STATIONS do not draw it nearer
    """
    tries: list[DrawnOutline] = []
    for nose, tail in product(_ways(profile.nose), _ways(profile.tail)):
        tries.append(_Fit(profile, nose, tail, step, ruler).found(within))
        if tries[-1].departure <= within:
            return tries[-1]
    return min(tries, key=lambda one: one.departure)


def _ways(end: End) -> tuple[Literal["round", "pointed"], ...]:
    """How a curve may close at an end, likeliest first."""
    if end == "flat":
        return ("round",)
    return ("round", "pointed") if end == "round" else ("pointed", "round")


@dataclass(frozen=True, eq=False)
class _Fit:
    profile: Profile
    nose: Literal["round", "pointed"]
    tail: Literal["round", "pointed"]
    step: float
    ruler: float

    def found(self, within: float) -> DrawnOutline:
        """Stations added where it is worst until it is good enough, then those taken out that are not missed."""
        length, apart = self.profile.length, _APART
        crests = [float(self.profile.stations[curve.argmax()]) for curve in (self.profile.back, self.profile.belly)]
        stations = self._tidy([0.0, *crests, length], apart)
        drawn, worst = self._drawn(stations)
        while drawn.departure > within and len(stations) < MOST_STATIONS and apart > _CLOSEST:
            more = self._tidy([*stations, worst], apart)
            if len(more) == len(stations):
                apart *= 0.5
                continue
            stations = more
            drawn, worst = self._drawn(stations)
        return self._thinned(stations, drawn, within)

    def _thinned(self, stations: list[float], drawn: DrawnOutline, within: float) -> DrawnOutline:
        while drawn.departure <= within and len(stations) > 3:
            inner = range(1, len(stations) - 1)
            fewer = [self._drawn([*stations[:place], *stations[place + 1 :]])[0] for place in inner]
            best = min(fewer, key=lambda one: one.departure)
            if best.departure > within:
                break
            drawn = best
            stations = [station for station, _ in best.back]
        return drawn

    def _tidy(self, stations: list[float], apart: float) -> list[float]:
        """In order, on the ruler where that is no great part of the way to the end, and none too near another."""
        length = self.profile.length
        kept: list[float] = [0.0]
        for station in sorted(stations)[1:-1]:
            near = min(station, length - station)
            ruler = self.ruler if near > 12.0 * self.ruler else 0.5 * self.ruler
            even = round(station / ruler) * ruler
            if min(even, length - even) > 0.4 * self.ruler and even - kept[-1] >= min(apart * length, 0.3 * near):
                kept.append(even)
        return [*kept, length]

    def _drawn(self, stations: list[float]) -> tuple[DrawnOutline, float]:
        """What these stations draw, and where it is worst [m]."""
        points, worst, where = [], 0.0, 0.0
        for sizes in (self.profile.back, self.profile.belly):
            at = np.array(stations)
            out = np.round(np.interp(at, self.profile.stations, sizes) / self.step) * self.step
            curve = DrawnCurve(at, out, self.profile.length, nose=self.nose, tail=self.tail)
            off = _off(curve, self.profile.stations, sizes)
            if float(off.max()) > worst:
                worst, where = float(off.max()), float(self.profile.stations[off.argmax()])
            points.append(tuple(zip(stations, out.tolist(), strict=True)))
        return DrawnOutline(self.profile.length, points[0], points[1], self.nose, self.tail, worst), where


def _off(curve: DrawnCurve, stations: Array, sizes: Array) -> Array:
    """How far (k,) [m] each place of a profile lies from a curve, square to it."""
    drawn = curve(stations)
    line = np.stack([stations, drawn], axis=1)
    reach = 6
    found = np.full(len(stations), np.inf)
    place = np.stack([stations, sizes], axis=1)
    index = np.arange(len(stations))
    for shift in range(-reach, reach):
        first = (index + shift).clip(0, len(stations) - 2)
        start, way = line[first], line[first + 1] - line[first]
        share = ((place - start) * way).sum(axis=1) / np.maximum((way**2).sum(axis=1), 1e-18)
        near = start + share.clip(0.0, 1.0)[:, None] * way
        found = np.minimum(found, np.hypot(*(place - near).T))
    return found


def mirrored_sizes(profile: Profile) -> Profile:
    """A profile seen from above: the mean of both sides as back and belly."""
    half = 0.5 * (profile.back + profile.belly)
    half.setflags(write=False)
    return replace(profile, back=half, belly=half)
