"""A lure as a page draws it: outlines at once, then every line, the ballast, the water, and where something is wrong.

Millimetres of the lure: x aft of the nose; up from the centre line in the side view, to the right in the top view.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.checked import Check, Weighed
from gudgeon.answers.clashing import Clash
from gudgeon.answers.finding import Gravity
from gudgeon.answers.papers import Hole, Papers
from gudgeon.physics.hull import profile
from gudgeon.physics.lure import Lure as Lure
from gudgeon.report.cuts import cuts_of, section_view
from gudgeon.report.drawing import side_view, top_view
from gudgeon.report.laying import plain
from gudgeon.report.rows import Measure, Shop
from gudgeon.report.sentences import said
from gudgeon.report.strokes import Array, Line, Stroke, circle, path

_BEYOND = 14.0  # mm the water's line runs on past the body
_SAME = 1e-6  # m
_SIDE, _TOP = (0, 2), (0, 1)  # the axes a view shows


@dataclass(frozen=True, eq=False)
class SectionDrawn:
    """A section: its letter, how far from the nose [mm] and in words, what it is through, its lines."""

    letter: str
    station: float
    at: str
    words: str
    strokes: tuple[Stroke, ...]


@dataclass(frozen=True)
class Marked:
    """A place where something is wrong: what is told of it, how much it matters, and where (3,) [mm]."""

    words: str
    gravity: Gravity
    at: tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Scene:
    """The whole drawing.

    ballast_side, ballast_top : outlines of the ballast in its bores
    water    : the water's line in the side view of a lure that floats; else the level it lies at under water
    is_afloat : which of the two it is
    weight_centre, buoyancy_centre : (3,) [mm]
    """

    side: tuple[Stroke, ...]
    top: tuple[Stroke, ...]
    ballast_side: tuple[Array, ...]
    ballast_top: tuple[Array, ...]
    sections: tuple[SectionDrawn, ...]
    water: Array
    is_afloat: bool
    weight_centre: tuple[float, float, float]
    buoyancy_centre: tuple[float, float, float]
    marks: tuple[Marked, ...]


def outlines(lure: Lure) -> tuple[tuple[Stroke, ...], tuple[Stroke, ...]]:
    """Side and top view of a lure that was only put together: bare wood, and the finished skin where both are drawn."""
    hulls = [(Line.VISIBLE, lure.bare_hull)] + ([(Line.FINISHED, lure.hull)] if lure.shown else [])
    side = tuple(path(line, 1e3 * profile(hull, "side", 240)[:-1], closed=True) for line, hull in hulls)
    top = tuple(path(line, 1e3 * profile(hull, "top", 240)[:-1], closed=True) for line, hull in hulls)
    return side, top


def places(lure: Lure) -> dict[str, tuple[float, float, float]]:
    """Where every fitting, hook and bore for ballast is [m], by its name."""
    found = {item.name: item.place for item in lure.fixed if item.kind in ("fitting", "hook")}
    found |= {pocket.name: pocket.mouth for pocket in lure.pockets}
    return {name: (float(x), float(y), float(z)) for name, (x, y, z) in found.items()}


def scene(sheets: Papers, clashes: tuple[Clash, ...], shop: Shop) -> Scene:
    """The drawing of a checked lure, as on its papers, with what the page shows besides."""
    check, cuts = sheets.check, cuts_of(sheets)
    sections = tuple(
        SectionDrawn(cut.letter, 1e3 * cut.station, plain(cut.station, Measure.CUT, shop), cut.words,
                     section_view(sheets, cut).strokes)
        for cut in cuts
    )
    water, is_afloat = water_line(check)
    filled = [hole for hole in sheets.holes if hole.bored.length > 0.0]
    return Scene(
        side=side_view(sheets, cuts, shop).strokes, top=top_view(sheets, shop).strokes,
        ballast_side=tuple(_ballast(hole, _SIDE) for hole in filled),
        ballast_top=tuple(_ballast(hole, _TOP) for hole in filled), sections=sections, water=water,
        is_afloat=is_afloat, weight_centre=millimetres(check.lying.weight_centre),
        buoyancy_centre=millimetres(check.lying.buoyancy_centre),
        marks=tuple(_marks(check, clashes, shop)),
    )  # fmt: skip


def millimetres(place: tuple[float, float, float]) -> tuple[float, float, float]:
    """A place in [mm]."""
    x, y, z = place
    return 1e3 * x, 1e3 * y, 1e3 * z


def _marks(check: Check, clashes: tuple[Clash, ...], shop: Shop) -> Iterator[Marked]:
    """Every finding that tells where it is; how far aside, by the clash it comes from, or on the middle line."""
    for finding in check.findings:
        x, z = (finding.numbers.get(name, (None,))[0] for name in ("at", "height"))
        if not isinstance(x, float) or not isinstance(z, float):
            continue
        aside = (clash.place[1] for clash in clashes
                 if abs(clash.place[0] - x) < _SAME and abs(clash.place[2] - z) < _SAME)  # fmt: skip
        yield Marked(said(finding, shop), finding.gravity, millimetres((x, next(aside, 0.0), z)))


def _ballast(hole: Hole, plane: tuple[int, int]) -> Array:
    """The ballast in a bore as one view shows it (k, 2) [mm]: end on a ring, else a box."""
    seen = list(plane)
    inward, mouth = np.asarray(hole.pocket.inward), np.asarray(hole.pocket.mouth)
    stop = 1e3 * (mouth + hole.bored.depth * inward)[seen]
    start = stop - 1e3 * hole.bored.length * inward[seen]
    half = 0.5e3 * hole.pocket.bore
    long = float(np.hypot(*(stop - start)))
    if long < 1e-6:
        return circle(Line.VISIBLE, (float(stop[0]), float(stop[1])), half).points
    aside = half * np.array([-(stop - start)[1], (stop - start)[0]]) / long
    return np.array([start - aside, stop - aside, stop + aside, start + aside])


def water_line(check: Weighed) -> tuple[Array, bool]:
    """Two ends (2, 2) [mm] of the water's line over the side view, and whether the lure floats at it.

    A point's height over the water's level is z cos(pitch) - x sin(pitch), nose-up positive.
    """
    lure, rests = check.lure, check.lying
    ends = np.array([1e3 * lure.hull.start - _BEYOND, 1e3 * lure.hull.stop + _BEYOND])
    if rests.afloat is not None and rests.pitch is not None:
        pitch, height = rests.pitch.value, 1e3 * rests.afloat.waterline_height
    else:
        pitch = check.rate.attitude.value
        x, _, z = millimetres(rests.buoyancy_centre)
        height = z * math.cos(pitch) - x * math.sin(pitch)
    levels = (height + ends * math.sin(pitch)) / math.cos(pitch)
    return np.stack([ends, levels], axis=1), rests.afloat is not None
