"""What a length of the body comes to: volume, centre, second moments, skin, its areas from above and from the side."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.hull import Hull
from gudgeon.physics.quadrature import PANEL, POINTS, along, panel_edges
from gudgeon.physics.section import SectionIntegrals, Sections, section_integrals, skin_rates

Array = NDArray[np.float64]



@dataclass(frozen=True, eq=False)
class Portion:
    """The body between two stations.

    start, stop    : [m]
    volume         : [m3]
    centre         : (3,) [m]     of the volume
    second_moment  : (3, 3) [m5]  integral of (r - centre)(r - centre)^T over the volume
    surface_area   : [m2]         of the skin, flat ends of the body counted, cut faces not
    surface_centre : (3,) [m]
    plan_area      : [m2]         seen from above
    plan_centre    : [m]          its station
    side_area      : [m2]         seen from the side
    side_centre    : (2,) [m]     its station and height
    """

    start: float
    stop: float
    volume: float
    centre: Array
    second_moment: Array
    surface_area: float
    surface_centre: Array
    plan_area: float
    plan_centre: float
    side_area: float
    side_centre: Array


def portion(hull: Hull, start: float, stop: float) -> Portion:
    """Volume, areas, centres and second moments of the body between two stations [m], by Gauss quadrature.

    returns : right to 1e-6 of each for curves given by formula, tests/published/test_geometry.py
    """
    return portions(hull, [(start, stop)])[0]


def portions(hull: Hull, spans: Sequence[tuple[float, float]]) -> tuple[Portion, ...]:
    """The same of several lengths of the body, all their sections looked up at once.

    spans : first and last station [m] of each
    """
    body = (hull.start, hull.length)
    for start, stop in spans:
        if not hull.start - 1e-9 <= start < stop <= hull.stop + 1e-9:
            raise ValueError(f"no body between {start} and {stop}")
    grids = [along(panel_edges(span, hull.breaks, body, PANEL), POINTS, body) for span in spans]
    x = np.concatenate([stations for stations, _ in grids])
    sections = hull.sections(x)
    of, ends = section_integrals(sections), section_integrals(hull.sections(np.array([hull.start, hull.stop])))
    skin = np.stack(skin_rates(sections, hull.section_slopes(x)))
    found, first = [], 0
    for (start, stop), (_, weight) in zip(spans, grids, strict=True):
        own = slice(first, first + len(weight))
        first = own.stop
        volume, centre, second = _volume_terms(of, x[own], weight, own)
        flat = np.array([start <= hull.start, stop >= hull.stop])
        area, surface_centre = _surface_terms(skin[:, own] * weight, x[own], ends, flat, (hull.start, hull.stop))
        plan_area, plan_centre, side_area, side_centre = _outline_terms(sections, x[own], weight, own)
        found.append(Portion(start, stop, volume, centre, second, area, surface_centre, plan_area, plan_centre,
                             side_area, side_centre))  # fmt: skip
    return tuple(found)


def _volume_terms(of: SectionIntegrals, x: Array, weight: Array, own: slice) -> tuple[float, Array, Array]:
    slices, z = weight * of.area[own], of.z[own]
    volume = float(slices.sum())
    station, height = float(slices @ x) / volume, float(weight @ z) / volume
    aft = x - station
    xz = float((weight * aft) @ z)
    zz = float(weight @ of.z_squared[own]) - volume * height**2
    second = [[float(slices @ aft**2), 0.0, xz], [0.0, float(weight @ of.y_squared[own]), 0.0], [xz, 0.0, zz]]
    return volume, _frozen([station, 0.0, height]), _frozen(second)


def _surface_terms(
    skin: Array, x: Array, ends: SectionIntegrals, flat: NDArray[np.bool_], tips: tuple[float, float]
) -> tuple[float, Array]:
    """Area and centre; a flat end of the body that is reached is skin too, a closed one has no area."""
    end_areas = np.where(flat, ends.area, 0.0)
    area = float(skin[0].sum() + end_areas.sum())
    first_x = float(skin[0] @ x + end_areas @ np.array(tips))
    first_z = float(skin[1].sum() + np.where(flat, ends.z, 0.0).sum())
    return area, _frozen([first_x / area, 0.0, first_z / area])


def _outline_terms(sections: Sections, x: Array, weight: Array, own: slice) -> tuple[float, float, float, Array]:
    """Plan area and its station, side area and its station and height."""
    top, bottom = sections.top[own], sections.bottom[own]
    width, depth = 2.0 * weight * sections.half_width[own], weight * (top - bottom)
    plan, side = float(width.sum()), float(depth.sum())
    return plan, float(width @ x) / plan, side, _frozen([float(depth @ x) / side,
                                                         float(depth @ (0.5 * (top + bottom))) / side])  # fmt: skip


def _frozen(values: object) -> Array:
    array = np.array(values, dtype=float)
    array.setflags(write=False)
    return array
