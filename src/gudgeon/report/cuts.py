"""Where the body is cut to show its sections, and each section at full size, half of it hatched."""

from dataclasses import dataclass

import numpy as np

from gudgeon.answers.papers import Hole, Papers
from gudgeon.physics.hull import Section, section, section_outline
from gudgeon.physics.lure import Lure
from gudgeon.report.strokes import Array, Drawing, Line, Stroke, circle, hatched, path
from gudgeon.report.tiling import letter

_SAME = 1.5e-3  # m: two cuts nearer than that are one
_HATCH, _METAL_HATCH = 3.0, 1.2  # mm between strokes, in wood and in ballast
_CLEAR = 20.0  # mm a bore's mouth is drawn past the skin, so that no hatching is left in it


@dataclass(frozen=True)
class Cut:
    """One cutting plane.

    station  : [m] from the nose
    words    : what is there
    is_drawn : whether a joint or a bore shows the place already
    holes    : the bores it runs through
    """

    letter: str
    station: float
    words: str
    is_drawn: bool
    holes: tuple[Hole, ...] = ()


def cuts_of(papers: Papers) -> tuple[Cut, ...]:
    """At every bore and joint and where the body is deepest, lettered from the nose."""
    lure = papers.check.lure
    found: list[tuple[float, str, bool, tuple[Hole, ...]]] = []
    for number, joint in enumerate(lure.joints, start=1):
        found.append((joint.at, f"joint {number}", True, ()))
    for hole in papers.holes:
        lengthwise = hole.face in ("front", "rear")
        words = f"{hole.name} ballast" if lengthwise else hole.name
        station = hole.bored.place[0] if lengthwise else hole.pocket.mouth[0]
        found.append((float(station), words, not lengthwise, (hole,)))
    found.append((deepest(lure), "deepest", False, ()))
    return tuple(Cut(letter(place), *parts) for place, parts in enumerate(_merged(found)))


def _merged(
    found: list[tuple[float, str, bool, tuple[Hole, ...]]],
) -> list[tuple[float, str, bool, tuple[Hole, ...]]]:
    """Cuts in order; one that is all but at another's place joins it, the place of a bore or joint kept."""
    merged: list[tuple[float, str, bool, tuple[Hole, ...]]] = []
    for station, words, is_drawn, holes in sorted(found, key=lambda cut: cut[0]):
        if merged and station - merged[-1][0] < _SAME:
            last = merged[-1]
            place = last[0] if last[2] else station
            merged[-1] = (place, f"{last[1]}, {words}", last[2] or is_drawn, last[3] + holes)
        else:
            merged.append((station, words, is_drawn, holes))
    return merged


def deepest(lure: Lure) -> float:
    """Station [m] where the body is deepest."""
    hull = lure.hull
    stations = np.linspace(hull.start, hull.stop, 801)[1:-1]
    return float(stations[np.argmax(hull.back(stations) - hull.belly(stations))])


def bare_section(lure: Lure, cut: Cut) -> Section:
    """The section of the bare wood, for its sizes."""
    return section(lure.bare_hull, _on_bare(lure, cut))


def _on_bare(lure: Lure, cut: Cut) -> float:
    return min(max(cut.station, lure.bare_hull.start + 1e-6), lure.bare_hull.stop - 1e-6)


def section_view(papers: Papers, cut: Cut) -> Drawing:
    """One section as seen from behind, full size [mm]: right half hatched, bores and their ballast in it."""
    lure = papers.check.lure
    bare = 1e3 * section_outline(lure.bare_hull, _on_bare(lure, cut), 128)
    strokes = [path(Line.VISIBLE, bare, closed=True)]
    if lure.shown:
        strokes.append(path(Line.FINISHED, 1e3 * section_outline(lure.hull, cut.station, 128), closed=True))
    bores = [_bore_outline(hole) for hole in cut.holes]
    right = bare[bare[:, 0] >= -1e-9]
    right = right[np.argsort(np.arctan2(right[:, 1] - right[:, 1].mean(), right[:, 0] - 1e-3))]
    strokes += hatched(right, _HATCH, spare=bores)
    for hole, outline in zip(cut.holes, bores, strict=True):
        strokes += _bore_in_section(hole, outline, bare)
    wide, low, high = float(bare[:, 0].max()) + 3.0, float(bare[:, 1].min()) - 3.0, float(bare[:, 1].max()) + 3.0
    strokes += [path(Line.CENTRE, [(0.0, low), (0.0, high)]), path(Line.CENTRE, [(-wide, 0.0), (wide, 0.0)])]
    return Drawing(tuple(strokes))


def _bore_outline(hole: Hole) -> Array:
    """A bore where the plane cuts it (k, 2) as y, z [mm]; its mouth stands clear of the skin."""
    y, z = (1e3 * float(value) for value in hole.pocket.mouth[1:])
    radius, depth = 0.5e3 * hole.pocket.bore, 1e3 * hole.bored.depth
    if hole.face in ("front", "rear"):
        return circle(Line.VISIBLE, (y, z), radius).points
    if hole.face in ("left", "right"):
        toward = 1.0 if hole.face == "left" else -1.0
        start, end = y - toward * _CLEAR, y + toward * depth
        return np.array([(start, z - radius), (end, z - radius), (end, z + radius), (start, z + radius)])
    toward = 1.0 if hole.face == "belly" else -1.0
    start, end = z - toward * _CLEAR, z + toward * depth
    return np.array([(y - radius, start), (y - radius, end), (y + radius, end), (y + radius, start)])


def _bore_in_section(hole: Hole, outline: Array, bare: Array) -> list[Stroke]:
    """Its walls from the skin in, and its ballast at the inner end."""
    if hole.face in ("front", "rear"):
        return [path(Line.VISIBLE, outline, closed=True), *hatched(outline, _METAL_HATCH, slope=-1.0)]
    axis = 0 if hole.face in ("left", "right") else 1
    walls = outline.copy()
    for corner in (0, 3):
        place, inward = float(outline[corner, 1 - axis]), float(hole.pocket.inward[1 + axis])
        walls[corner, axis] = _skin_at(bare, 1 - axis, place, inward)
    strokes = [path(Line.VISIBLE, walls)]
    if hole.bored.length > 0.0:
        inner = float(outline[1, axis])
        ballast = outline.copy()
        ballast[[0, 3], axis] = inner - 1e3 * hole.bored.length * float(hole.pocket.inward[1 + axis])
        strokes += [path(Line.VISIBLE, ballast, closed=True), *hatched(ballast, _METAL_HATCH, slope=-1.0)]
    return strokes


def _skin_at(bare: Array, along: int, place: float, inward: float) -> float:
    """Where the bare section's line [mm] is over `place` on one axis, on the side a bore that runs `inward` enters."""
    other = 1 - along
    near = bare[inward * (bare[:, other] - bare[:, other].mean()) < 0.0]
    order = np.argsort(near[:, along])
    return float(np.interp(place, near[order, along], near[order, other]))
