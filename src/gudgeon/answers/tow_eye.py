"""The tow eye's place: the height of the side view's centre, and the balance above and below the line's pull."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import note
from gudgeon.design.model import Design
from gudgeon.physics.hull import SideArea, lateral_area_split
from gudgeon.physics.lure import Lure
from gudgeon.physics.plate import Plate
from gudgeon.units import Measure

EYE_BELOW = 0.10  # of the depth: lowest a lipless glider's eye sits under its nose tip; common practice, no source
_SLACK = 2e-4  # m
_SYMMETRIC = 0.01  # of the depth: back and belly that differ by less are taken as mirrored


@dataclass(frozen=True)
class TowEye:
    """How the side view lies about the tow eye's level, the fin's with it.

    eye          : [m] its height; None when none is drawn, and then the nose's is used
    centre       : (2,) [m] station and height of the side view's centre
    above, below : the side view over and under the line through the eye
    moment       : [m3] of the area about that line; plus when more of it lies above
    nose         : [m] height of the nose tip
    symmetric    : whether back and belly mirror each other, so that the nose is the place
    low          : [m] lowest place by the lipless glider's habit; None with a lip
    """

    eye: float | None
    centre: tuple[float, float]
    above: SideArea
    below: SideArea
    moment: float
    nose: float
    symmetric: bool
    low: float | None


def tow_eye(design: Design, lure: Lure, fin: Plate | None) -> TowEye:
    """The balance of the side view about the tow eye's level.

    fin : its outline, aft from where it leaves the body and up from its middle; None without one
    """
    drawn = next((one for one in design.fittings if one.kind == "tow eye"), None)
    eye = None if drawn is None else drawn.height or 0.0
    hull = lure.hull
    ends = np.array([hull.start])
    nose = 0.5 * float(hull.back(ends)[0] + hull.belly(ends)[0])
    level = nose if eye is None else eye
    above, below = lateral_area_split(hull, level, hull.start, hull.stop)
    if fin is not None and design.fin is not None:
        above, below = _with_fin(above, below, fin, (design.fin.at, design.fin.height), level)
    area = above.area + below.area
    station = (above.area * above.station + below.area * below.station) / area
    moment = above.area * (above.height - level) + below.area * (below.height - level)
    x = np.linspace(hull.start, hull.stop, 101)
    lean = float(np.abs(hull.back(x) + hull.belly(x) - 2.0 * nose).max())
    low = None if design.lip is not None else nose - EYE_BELOW * lure.depth
    centre = (station, level + moment / area)
    return TowEye(eye, centre, above, below, moment, nose, lean < _SYMMETRIC * lure.depth, low)


def _with_fin(above: SideArea, below: SideArea, fin: Plate, root: tuple[float, float],
              level: float) -> tuple[SideArea, SideArea]:  # fmt: skip
    """The side view with the fin's outline added, over and under a level [m]."""
    found = []
    for side, part in ((above, fin.beyond(level - root[1], 1)), (below, fin.short_of(level - root[1], 1))):
        if part is None:
            found.append(side)
            continue
        area = side.area + part.area
        station = (side.area * side.station + part.area * (root[0] + part.centre[0])) / area
        height = (side.area * side.height + part.area * (root[1] + part.centre[1])) / area
        found.append(SideArea(area, station, height))
    return found[0], found[1]


def tow_findings(tow: TowEye, lure: Lure) -> Iterator[Finding]:
    """What the place of the tow eye does; for a lipless lure only, a lip's pull outweighs it."""
    if tow.eye is None:
        place = "on the nose tip" if tow.symmetric else "near the height of the side view's centre, {z}"
        yield note(f"no tow eye is drawn; it goes {place}",
                   **({} if tow.symmetric else {"z": (tow.centre[1], Measure.CUT)}))  # fmt: skip
        return
    if tow.low is None:
        return
    if tow.eye > tow.nose + _SLACK:
        yield note("the tow eye is {by} above the nose tip: a lipless lure then runs shallower and rolls",
                   by=(tow.eye - tow.nose, Measure.CUT))  # fmt: skip
    elif tow.eye < tow.low - _SLACK:
        yield note("the tow eye is {by} below the nose tip, more than a tenth of the depth: a lipless lure then digs "
                   "and swims tighter", by=(tow.nose - tow.eye, Measure.CUT))  # fmt: skip
    off = abs(tow.centre[1] - tow.eye)
    if off > EYE_BELOW * lure.depth:
        where = "above" if tow.centre[1] > tow.eye else "below"
        yield note(f"the side view's centre lies {{off}} {where} the tow eye: each turn sideways also rolls it",
                   off=(off, Measure.CUT))  # fmt: skip
