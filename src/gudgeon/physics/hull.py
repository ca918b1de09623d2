"""The body's shape and what it comes to: volume, areas, centres, second moments, sections, the wood under a coat."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer
from gudgeon.physics.inset import drawn_as_found, inset_ends, inset_sizes
from gudgeon.physics.outline import Along, Curve, HeldCurve, ScaledCurve
from gudgeon.physics.quadrature import PANEL, POINTS, along, angle_of, panel_edges, station_of
from gudgeon.physics.section import (
    Sections,
    girth,
    half_widths,
    outlines,
    polygons_of_area,
    section_integrals,
)
from gudgeon.physics.side_view import level_stations, strip

Array = NDArray[np.float64]

_BARE_POINTS = 61  # points the curves of the bare wood are drawn through


@dataclass(frozen=True, eq=False)
class Hull:
    """A body without its fittings: five curves along its length. x aft, y right, z up.

    length   : [m]
    back     : height of the back
    belly    : height of the belly, usually negative
    side     : half the width
    widest   : height of the widest line, between belly and back
    fullness : superellipse exponent of the section, 1 to 12
    start    : [m] station of the nose
    """

    length: float
    back: Curve
    belly: Curve
    side: Curve
    widest: Curve
    fullness: Curve
    start: float = 0.0

    @property
    def stop(self) -> float:
        """Station of the tail [m]."""
        return self.start + self.length

    @property
    def breaks(self) -> tuple[float, ...]:
        """Stations [m] between which every curve is smooth."""
        curves = (self.back, self.belly, self.side, self.widest, self.fullness)
        return tuple(sorted({station for curve in curves for station in curve.breaks}))

    def sections(self, stations: Array) -> Sections:
        """The sections at k stations."""
        along = Along(stations, self.start, self.length)
        return Sections(half_width=self.side.at(along), top=self.back.at(along), bottom=self.belly.at(along),
                        widest=self.widest.at(along), fullness=self.fullness.at(along))  # fmt: skip

    def section_slopes(self, stations: Array) -> Sections:
        """How those sections change per metre aft; not at the tip of a round end, where that has no bound."""
        return Sections(half_width=self.side.slope(stations), top=self.back.slope(stations),
                        bottom=self.belly.slope(stations), widest=self.widest.slope(stations),
                        fullness=self.fullness.slope(stations))  # fmt: skip


@dataclass(frozen=True)
class Section:
    """One cross-section. Moments are about the centre line (y = 0, z = 0).

    station, half_width, top, bottom, widest, centre_height, perimeter : [m]
    fullness  : [1]
    area      : [m2]
    abs_y     : [m3] integral of |y| over the area
    y_squared : [m4] of y^2        z_abs_y : [m4] of z |y|
    """

    station: float
    half_width: float
    top: float
    bottom: float
    widest: float
    fullness: float
    area: float
    centre_height: float
    abs_y: float
    y_squared: float
    z_abs_y: float
    perimeter: float


@dataclass(frozen=True, eq=False)
class SectionStack:
    """The body as a stack of polygons.

    stations : (m,) [m]
    weights  : (m,) [m]       sum of weight x area is the volume
    polygons : (m, p, 2) [m]  y, z; anticlockwise as seen from behind, each of its section's own area
    span     : (m,) int       which of the spans asked for each belongs to, from 0
    """

    stations: Array
    weights: Array
    polygons: Array
    span: NDArray[np.intp]


class SideArea(NamedTuple):
    """A part of the side view: its area [m2], and the station and height [m] of its centre."""

    area: float
    station: float
    height: float


class CurveFault(NamedTuple):
    """Something the curves cannot be: what, the station where it is worst, and the value there [m] (fullness [1])."""

    what: str
    station: float
    value: float


def _on_body(hull: Hull, station: float) -> Array:
    if not hull.start - 1e-9 <= station <= hull.stop + 1e-9:
        raise NoAnswer(f"{1000.0 * station:.4g} mm is off the body, which reaches from {1000.0 * hull.start:.4g} "
                       f"to {1000.0 * hull.stop:.4g} mm")  # fmt: skip
    return np.array([min(max(station, hull.start), hull.stop)])


def section(hull: Hull, station: float) -> Section:
    """The cross-section at one station [m].

    raises : NoAnswer off the body
    """
    shape = hull.sections(_on_body(hull, station))
    of = section_integrals(shape)
    area, widest = float(of.area[0]), float(shape.widest[0])
    return Section(
        station=station, half_width=float(shape.half_width[0]), top=float(shape.top[0]),
        bottom=float(shape.bottom[0]), widest=widest, fullness=float(shape.fullness[0]), area=area,
        centre_height=float(of.z[0]) / area if area > 0.0 else widest, abs_y=float(of.abs_y[0]),
        y_squared=float(of.y_squared[0]), z_abs_y=float(of.z_abs_y[0]), perimeter=float(girth(shape)[0]),
    )  # fmt: skip


def section_outline(hull: Hull, station: float, points: int = 64) -> Array:
    """Points on the line round one section: (points, 2) as y, z [m].

    station : [m]
    points  : a multiple of four
    returns : not closed; anticlockwise as seen from behind, from the right-hand widest point over the back
    raises  : NoAnswer off the body
    """
    outline: Array = outlines(hull.sections(_on_body(hull, station)), points)[0]
    return outline


def depth_at(hull: Hull, station: float) -> tuple[float, float]:
    """Heights [m] of the belly and of the back at one station [m].

    raises : NoAnswer off the body
    """
    place = _on_body(hull, station)
    return float(hull.belly(place)[0]), float(hull.back(place)[0])


def half_width_at(hull: Hull, station: float, height: float) -> float:
    """How far out from the middle the skin is [m] at one station and height [m]; nothing outside the body."""
    if not hull.start <= station <= hull.stop:
        return 0.0
    return float(half_widths(hull.sections(np.array([station])), np.array([height]))[0])


def section_stack(
    hull: Hull, spans: Sequence[tuple[float, float]], points: int = 64, stations: int = 72
) -> SectionStack:
    """The spans of the body as polygons at Gauss stations, for sums that are taken many times over.

    spans    : (start, stop) of each [m]
    points   : corners of each polygon, a multiple of four
    stations : how many in all, about; shared out by length, at least eight to a span, in panels of four
    """
    body = (hull.start, hull.length)
    angles = [angle_of(np.array(span), *body) for span in spans]
    whole = sum(float(stop - start) for start, stop in angles)
    parts = []
    for start, stop in angles:
        panels = max(2, round(stations / 4 * float(stop - start) / whole))
        parts.append(along(np.linspace(start, stop, panels + 1), 4, body))
    x, weight = (np.concatenate(columns) for columns in zip(*parts, strict=True))
    shapes = hull.sections(x)
    polygons = polygons_of_area(shapes, section_integrals(shapes).area, points)
    belongs = np.repeat(np.arange(len(parts)), [len(part[0]) for part in parts])
    for array in (x, weight, polygons, belongs):
        array.setflags(write=False)
    return SectionStack(stations=x, weights=weight, polygons=polygons, span=belongs)


def lateral_area_split(hull: Hull, height: float, start: float, stop: float) -> tuple[SideArea, SideArea]:
    """The side view above and below a level line, between two stations.

    height, start, stop : [m]
    returns : above, below; a part that is not there has no area and its centre on the line, midway
    """
    body = (hull.start, hull.length)
    levels = level_stations((hull.back, hull.belly), height, (start, stop), body)
    breaks = [*hull.breaks, *levels]
    x, weight = along(panel_edges((start, stop), breaks, body, PANEL), POINTS, body)
    top, bottom = hull.back(x), hull.belly(x)
    nowhere = (0.0, 0.5 * (start + stop), height)
    above = strip(x, weight, np.maximum(bottom, height), np.maximum(top, height))
    below = strip(x, weight, np.minimum(bottom, height), np.minimum(top, height))
    return SideArea(*(above or nowhere)), SideArea(*(below or nowhere))


def profile(hull: Hull, view: Literal["side", "top"], points: int = 400) -> Array:
    """The outline to draw: closed polyline (k, 2) [m], its first point repeated at the end.

    view    : "side" gives x, z, along the back from the nose and home along the belly; "top" gives x, y, along the
              right-hand side and home along the left
    points  : about how many; crowded toward the ends, and one at every break of the curves
    """
    body = (hull.start, hull.length)
    curves = (hull.back, hull.belly) if view == "side" else (hull.side, ScaledCurve(hull.side, -1.0))
    edges = [angle_of(np.array(curve.breaks), *body) for curve in curves]
    angles = np.unique(np.concatenate([np.linspace(0.0, np.pi, points // 2), *edges]))
    x = np.minimum(station_of(angles, *body), hull.stop)
    out, home = np.stack([x, curves[0](x)], axis=1), np.stack([x, curves[1](x)], axis=1)[::-1]
    return np.concatenate([out, home, out[:1]])


def bare(hull: Hull, build: float) -> Hull:
    """The wood under a coat `build` [m] thick, in the same place: it starts and stops inside the finished body.

    Back, belly and side are set in by the build along their own normals, which at the middle line and (where that runs
    level) at the widest line are the skin's own: templates are true for any section. The section keeps its fullness, so
    the wood taken is the mean of outer and inner skin times the build only within 5 % at a fullness of 2 to 12 (depth
    up to 2.5 widths), and 13 % short of it at 1.5.
    raises : NoAnswer when the coat leaves no wood somewhere
    """
    if build <= 0.0:
        return hull
    start, stop = inset_ends(hull.back, hull.belly, hull.side, (hull.start, hull.stop), build)
    angles = np.linspace(0.0, np.pi, _BARE_POINTS)
    x = start + (stop - start) * np.sin(0.5 * angles) ** 2
    x[-1] = stop
    sizes = {
        "back": inset_sizes(hull.back, x, (hull.start, hull.stop), build),
        "belly": -inset_sizes(ScaledCurve(hull.belly, -1.0), x, (hull.start, hull.stop), build),
        "side": np.maximum(inset_sizes(hull.side, x, (hull.start, hull.stop), build), 0.0),
    }
    for end in (0, -1):  # where back and belly meet they meet in one point
        if sizes["back"][end] - sizes["belly"][end] <= 1e-7 * hull.length:
            sizes["back"][end] = sizes["belly"][end] = 0.5 * (sizes["back"][end] + sizes["belly"][end])
    curves = {name: drawn_as_found(x, size) for name, size in sizes.items()}
    widest = HeldCurve(hull.widest, curves["belly"], curves["back"])
    return Hull(length=stop - start, widest=widest, fullness=hull.fullness, start=start, **curves)


def faults_of(hull: Hull) -> tuple[CurveFault, ...]:
    """Where the curves do not enclose a body, each kind of fault once, at its worst; empty for a sound one.

    Ask this before anything else of a hull: the integrals take it that there are none.
    what : "back below belly" (value: their distance, negative or nothing), "no width" (half-width),
           "widest line above back", "widest line below belly" (by how much), "fullness below 1", "fullness above 12"
    """
    body = (hull.start, hull.length)
    x, _ = along(panel_edges((hull.start, hull.stop), hull.breaks, body, np.pi / 32.0), 4, body)
    inner = [station for station in hull.breaks if hull.start < station < hull.stop]
    x = np.sort(np.concatenate([x, np.array(inner, dtype=float)]))
    at = hull.sections(x)
    slack = 1e-9 * hull.length  # rounding, not drawing
    kinds = (
        ("back below belly", at.top - at.bottom, at.top - at.bottom, slack),
        ("no width", at.half_width, at.half_width, slack),
        ("widest line above back", at.top - at.widest, at.widest - at.top, -slack),
        ("widest line below belly", at.widest - at.bottom, at.bottom - at.widest, -slack),
        ("fullness below 1", at.fullness - 1.0, at.fullness, -1e-9),
        ("fullness above 12", 12.0 - at.fullness, at.fullness, -1e-9),
    )
    found = []
    for what, margin, value, allowed in kinds:
        worst = int(np.argmin(margin))
        if not margin[worst] >= allowed:
            found.append(CurveFault(what, float(x[worst]), float(value[worst])))
    return tuple(found)


def skin_heights(hull: Hull, stations: Array, offsets: Array) -> tuple[Array, Array]:
    """Heights (k,) [m] of the skin below and above points at stations (k,) [m] and offsets (k,) [m] from the middle.

    returns : bottom, top; both the height of the widest line outside the body, where there is no wood between them
    """
    shape = hull.sections(np.clip(stations, hull.start, hull.stop))
    across = np.abs(offsets) / np.maximum(shape.half_width, 1e-12)
    inside = (across < 1.0) & (stations > hull.start) & (stations < hull.stop)
    power = shape.fullness
    share = np.where(inside, (1.0 - np.minimum(across, 1.0) ** power) ** (1.0 / power), 0.0)
    middle = shape.widest
    return middle - share * (middle - shape.bottom), middle + share * (shape.top - middle)
