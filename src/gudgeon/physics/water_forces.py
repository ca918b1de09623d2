"""From a hull cut at its hinges to the strips that the water acts on: sizes, added mass, drag, each from its section.

Stations and heights are the lure's (x aft, z up) until the last step, which turns them into each piece's own frame
(x forward, z down from its hinge). Sums along the body are exact: a strip carries the mean over its length, by Gauss
quadrature, not the value at its middle.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.added_mass import (
    end_factors,
    finned_section,
    section_roll_inertia,
    section_sway_coefficient,
    spheroid_mass,
)
from gudgeon.physics.carried import Carried
from gudgeon.physics.chain import Pieces, Strips
from gudgeon.physics.end_losses import EndLoss, end_loss
from gudgeon.physics.fin_section import UprightFin
from gudgeon.physics.hull import Hull
from gudgeon.physics.quadrature import gauss
from gudgeon.physics.section import Sections, section_integrals, skin_rates
from gudgeon.physics.spread import Array

STRIPS = 14
"""Strips to a piece of wood."""
FIN_STRIPS = 6
"""Strips to what of a fin stands behind the wood."""
_POINTS = 6  # Gauss points to a strip
_HAIR = 1e-9  # m
_HALF_TURN = np.diag([-1.0, 1.0, -1.0])  # about y: from the lure's axes to a piece's


@dataclass(frozen=True, eq=False)
class Wetted:
    """A lure as the water sees it, before it is cut in strips.

    hull    : as drawn                  grown : [m] by which the finished body is larger on every side
    pivots  : [m] station of each hinge of the wood, from the nose
    heights : [m] of each hinge's middle
    fin     : None where there is none
    bends   : whether the fin is a piece of its own, hinged where it leaves the wood
    """

    hull: Hull
    grown: float
    pivots: tuple[float, ...]
    heights: tuple[float, ...]
    fin: UprightFin | None
    bends: bool

    @property
    def origins(self) -> tuple[tuple[float, float], ...]:
        """Station and height [m] of each piece's front end: the nose on the centre line, the hinges, a soft fin's root.

        A fin that bends has its root at the end of the wood where it is drawn to start ahead of that.
        """
        wood = ((self.hull.start, 0.0), *zip(self.pivots, self.heights, strict=True))
        if self.fin is None or not self.bends:
            return wood
        return (*wood, (max(self.fin.root[0], self.hull.stop), self.fin.root[1]))

    @property
    def rear_ends(self) -> tuple[float, ...]:
        """Station [m] of each piece's rear end; a fin's rear edge where that is last."""
        last = self.hull.stop if self.fin is None else max(self.fin.stop, self.hull.stop)
        return (*(station for station, _ in self.origins[1:]), last)

    @property
    def lengths(self) -> Array:
        """(pieces,) [m]"""
        return np.array([stop - start for (start, _), stop in zip(self.origins, self.rear_ends, strict=True)])

    def sections(self, stations: Array) -> Sections:
        """The finished body's sections at k stations."""
        drawn = self.hull.sections(np.clip(stations, self.hull.start, self.hull.stop))
        return replace(drawn, half_width=np.maximum(drawn.half_width, 0.0) + self.grown, top=drawn.top + self.grown,
                       bottom=drawn.bottom - self.grown)  # fmt: skip


@dataclass(frozen=True)
class StripCoefficients:
    """What a strip's size does not tell.

    mass_scale : share of the section's added mass that a bending chain has; one stiff piece has its own end losses
    sway_drag, heave_drag, fin_drag : of flow across the body sideways, up and down, and across a fin
    recovery, fin_recovery : share of the momentum won back where the section shrinks, and where a fin does
    friction   : on the wetted surface, form factor in it
    """

    mass_scale: float
    sway_drag: float
    heave_drag: float
    fin_drag: float
    recovery: float
    fin_recovery: float
    friction: float


@dataclass(frozen=True, eq=False)
class _Profile:
    """Sections at k stations; added mass over the water's density.

    depth, width : (k,) [m]      perimeter : (k,) [m]    middle : (k,) [m] height
    sway, heave  : (k,) [m2]     roll : (k,) [m4]
    """

    depth: Array
    width: Array
    perimeter: Array
    middle: Array
    sway: Array
    heave: Array
    roll: Array

    def mean(self, weights: Array) -> "_Profile":
        """Means over the last axis of (strips, points), `weights` (points,) summing to 1."""
        return _Profile(**{one.name: getattr(self, one.name).reshape(-1, len(weights)) @ weights
                           for one in fields(self)})  # fmt: skip


def _of_wood(wetted: Wetted, x: Array) -> _Profile:
    """The wood at k stations, with a fin that does not bend; behind the wood only that fin."""
    shape = wetted.sections(x)
    half_depth, half_width = 0.5 * (shape.top - shape.bottom), shape.half_width
    body = _Profile(
        depth=2.0 * half_depth, width=2.0 * half_width, perimeter=_girth(wetted, x),
        middle=0.5 * (shape.top + shape.bottom),
        sway=np.pi * half_depth**2 * section_sway_coefficient(shape.fullness, half_depth, half_width),
        heave=np.pi * half_width**2 * section_sway_coefficient(shape.fullness, half_width, half_depth),
        roll=section_roll_inertia(shape.fullness, half_depth, half_width),
    )  # fmt: skip
    if wetted.fin is None or wetted.bends:
        return body
    behind = x > wetted.hull.stop + _HAIR
    both, alone = _finned(body, wetted.fin, x), _of_fin(wetted.fin, x)
    return _Profile(**{one.name: np.where(behind, getattr(alone, one.name), getattr(both, one.name))
                       for one in fields(body)})  # fmt: skip


def _of_fin(fin: UprightFin, x: Array) -> _Profile:
    """A fin by itself: a plate edge-on to what comes from above. A fork's momentum is that of its whole height."""
    low, high, solid = fin.spans(x)
    half = 0.5 * (high - low)
    return _Profile(
        depth=solid, width=np.full_like(x, fin.thickness), perimeter=2.0 * solid, middle=0.5 * (high + low),
        sway=np.pi * half**2, heave=np.zeros_like(x), roll=np.pi / 8.0 * half**4,
    )  # fmt: skip


def _finned(body: _Profile, fin: UprightFin, x: Array) -> _Profile:
    """The wood where a fin stands out of it: an ellipse with fins, and what its own shape has over one, faded."""
    low, high, solid = fin.spans(x)
    half_depth, half_width = 0.5 * body.depth, 0.5 * body.width
    above, below = high - body.middle, body.middle - low
    stands_out = (solid > 0.0) & (np.maximum(above, below) > half_depth)
    if not stands_out.any():
        return body
    above, below = np.maximum(above, half_depth), np.maximum(below, half_depth)
    section = finned_section(half_depth, half_width, highest=above, lowest=below)
    fades = np.divide(2.0 * half_depth, above + below, out=np.ones_like(above), where=above + below > 0.0) ** 2
    finned = _Profile(
        depth=above + below, width=body.width, perimeter=body.perimeter + 2.0 * (above + below - body.depth),
        middle=body.middle + section.centre, sway=section.sway + fades * (body.sway - np.pi * half_depth**2),
        heave=body.heave, roll=section.roll + fades * np.maximum(
            body.roll - np.pi / 8.0 * (half_depth**2 - half_width**2) ** 2, 0.0),
    )  # fmt: skip
    return _Profile(**{one.name: np.where(stands_out, getattr(finned, one.name), getattr(body, one.name))
                       for one in fields(body)})  # fmt: skip


def _girth(wetted: Wetted, x: Array) -> Array:
    """Skin per length of body (k,) [m], the skin's slope along it counted; coats' thickness added all round."""
    hull = wetted.hull
    inside = np.clip(x, hull.start + 1e-6 * hull.length, hull.stop - 1e-6 * hull.length)
    rate = skin_rates(hull.sections(inside), hull.section_slopes(inside))[0]
    return np.asarray(rate + 2.0 * np.pi * wetted.grown)


def _wood_edges(wetted: Wetted) -> list[Array]:
    """Stations [m] of the strips' edges of each piece of wood, crowded at nose and tail; a stiff fin's follow."""
    bounds = [wetted.hull.start, *wetted.pivots, wetted.hull.stop]
    steps = np.linspace(0.0, 1.0, STRIPS + 1)
    pieces = len(bounds) - 1
    found = []
    for piece in range(pieces):
        shares = _crowded(steps, nose=piece == 0, tail=piece == pieces - 1)
        found.append(bounds[piece] + (bounds[piece + 1] - bounds[piece]) * shares)
    fin = wetted.fin
    if fin is not None and not wetted.bends and fin.stop > wetted.hull.stop + _HAIR:
        behind = np.linspace(wetted.hull.stop, fin.stop, FIN_STRIPS + 1)
        found[-1] = np.concatenate([found[-1], behind[1:]])
    return found


def _crowded(steps: Array, *, nose: bool, tail: bool) -> Array:
    """Shares 0 to 1, closest together at the ends that are asked for, as the projections of even steps on a circle."""
    if nose and tail:
        return np.asarray(0.5 * (1.0 - np.cos(np.pi * steps)))
    if nose:
        return np.asarray(1.0 - np.cos(0.5 * np.pi * steps))
    return np.asarray(np.sin(0.5 * np.pi * steps)) if tail else steps


@dataclass(frozen=True, eq=False)
class _Cut:
    """One piece in strips: edges (n + 1,) [m] stations, what the strips come to on the mean, and what its edges are.

    origin : (2,) [m] station and height of the piece's front end
    behind : (n,) strips of fin alone
    """

    edges: Array
    strips: _Profile
    at_edges: _Profile
    origin: tuple[float, float]
    behind: NDArray[np.bool_]

    @property
    def middles(self) -> Array:
        """(n,) [m] stations."""
        return np.asarray(0.5 * (self.edges[1:] + self.edges[:-1]))


def _cuts(wetted: Wetted) -> list[_Cut]:
    places, weights = gauss(_POINTS)
    found = []
    for edges, origin in zip(_wood_edges(wetted), wetted.origins, strict=False):
        inner = (edges[:-1, None] + np.diff(edges)[:, None] * places).ravel()
        behind = 0.5 * (edges[1:] + edges[:-1]) > wetted.hull.stop + _HAIR
        found.append(_Cut(edges, _of_wood(wetted, inner).mean(weights), _of_wood(wetted, edges), origin, behind))
    if wetted.fin is not None and wetted.bends:
        start = wetted.origins[-1]
        edges = np.linspace(start[0], wetted.fin.stop, FIN_STRIPS + 1)
        inner = (edges[:-1, None] + np.diff(edges)[:, None] * places).ravel()
        found.append(_Cut(edges, _of_fin(wetted.fin, inner).mean(weights), _of_fin(wetted.fin, edges), start,
                          np.ones(FIN_STRIPS, dtype=bool)))  # fmt: skip
    return found


def cut_in_strips(wetted: Wetted, coefficients: StripCoefficients, density: float) -> Strips:
    """The strips of every piece, from nose to tail.

    density : [kg/m3] of the water
    returns : added masses scaled by `mass_scale`; the wood of a lure of one stiff piece by the loss at its ends instead
    """
    cuts = _cuts(wetted)
    losses = None if wetted.pivots else _losses(wetted, cuts[0])
    parts = [_strips_of(wetted, cut, coefficients, density, losses) for cut in cuts]
    first = np.concatenate([[0], np.cumsum([len(cut.middles) for cut in cuts])]).astype(np.int64)
    return Strips(first=first, **{name: np.concatenate([part[name] for part in parts]) for name in parts[0]})


def _losses(wetted: Wetted, cut: _Cut) -> tuple[EndLoss, EndLoss]:
    """What one stiff body keeps in sway and in heave: as an ellipsoid of its length, whose depth and width have squares
    of the same mean."""
    wood, half = ~cut.behind, 0.5 * wetted.hull.length
    lengths, places = np.diff(cut.edges)[wood], cut.middles[wood]
    depth, width = (float(np.sqrt(1.5 * (lengths @ size[wood] ** 2) / wetted.hull.length))
                    for size in (cut.strips.depth, cut.strips.width))  # fmt: skip
    ends = end_factors(wetted.hull.length, width, depth)
    along = (places - wetted.hull.start) / half - 1.0
    return (end_loss(along, lengths / half, lengths * cut.strips.sway[wood], kept=float(ends.sway),
                     turning_kept=float(ends.yaw)),
            end_loss(along, lengths / half, lengths * cut.strips.heave[wood], kept=float(ends.heave),
                     turning_kept=float(ends.pitch)))  # fmt: skip


def _kept(wetted: Wetted, mass_scale: float, loss: EndLoss | None, stations: Array, is_fin: NDArray[np.bool_]) -> Array:
    """Share (k,) of its sections' added mass that a piece keeps; a fin on one stiff body loses nothing."""
    if loss is None:
        return np.full_like(stations, mass_scale)
    along = (stations - wetted.hull.start) / (0.5 * wetted.hull.length) - 1.0
    return np.where(is_fin, 1.0, loss.shares(along))


def _strips_of(
    wetted: Wetted, cut: _Cut, coefficients: StripCoefficients, density: float, losses: tuple[EndLoss, EndLoss] | None
) -> dict[str, Array]:
    """The fields of `Strips` for one piece, in its own frame."""
    station, height = cut.origin
    strips, edges, behind = cut.strips, cut.at_edges, cut.behind
    sway, heave = losses or (None, None)

    beside_fin = np.append(behind, False) | np.append(False, behind)

    def kept(loss: EndLoss | None, stations: Array, is_fin: NDArray[np.bool_]) -> Array:
        return density * _kept(wetted, coefficients.mass_scale, loss, stations, is_fin)

    return {
        "place": station - cut.middles, "height_of_axis": height - strips.middle, "length": np.diff(cut.edges),
        "depth": strips.depth, "width": strips.width, "perimeter": strips.perimeter,
        "sway_mass": kept(sway, cut.middles, behind) * strips.sway,
        "heave_mass": kept(heave, cut.middles, behind) * strips.heave,
        "roll_inertia": density * strips.roll,
        "sway_drag": np.where(behind, coefficients.fin_drag, coefficients.sway_drag),
        "heave_drag": np.full(len(behind), coefficients.heave_drag),
        "recovery": np.where(behind, coefficients.fin_recovery, coefficients.recovery),
        "friction": np.full(len(behind), coefficients.friction),
        "edge_place": station - cut.edges, "edge_height_of_axis": height - edges.middle,
        "edge_sway_mass": kept(sway, cut.edges, beside_fin) * edges.sway,
        "edge_heave_mass": kept(heave, cut.edges, beside_fin) * edges.heave,
        "edge_roll_inertia": density * edges.roll,
    }  # fmt: skip


def pieces_of(
    wetted: Wetted, carried: Sequence[Carried], density: float, *, base_drag: float, joint_drag: float
) -> Pieces:
    """The rigid bodies, each in its own frame.

    carried    : of each piece, in the lure's frame
    density    : [kg/m3] of the water
    base_drag  : on the area of the wood's rear end      joint_drag : on the section at each joint, charged to the piece
                 ahead of it
    returns    : surge mass of the spheroid of the lure's length and volume, shared by volume
    """
    volumes = np.array([one.volume for one in carried])
    thick = math.sqrt(6.0 * float(volumes.sum()) / (math.pi * wetted.hull.length))
    surge = float(spheroid_mass(wetted.hull.length / thick).surge)
    turned = [(in_piece(one.centre, origin), in_piece(one.buoyancy_centre, origin))
              for one, origin in zip(carried, wetted.origins, strict=True)]  # fmt: skip
    return Pieces(
        length=wetted.lengths, mass=np.array([one.mass for one in carried]),
        centre=np.array([centre for centre, _ in turned]),
        inertia=np.array([_HALF_TURN @ one.inertia @ _HALF_TURN for one in carried]), volume=volumes,
        buoyancy_centre=np.array([lift for _, lift in turned]), surge_mass=surge * density * volumes,
        base_drag_area=rear_drag_areas(wetted, base_drag=base_drag, joint_drag=joint_drag),
    )  # fmt: skip


def rear_drag_areas(wetted: Wetted, *, base_drag: float, joint_drag: float) -> Array:
    """Drag coefficient times area [m2] behind each piece: the cut at its joint, or the blunt end of the wood."""
    ends = np.array([*wetted.pivots, wetted.hull.stop])
    areas = section_integrals(wetted.sections(ends)).area * np.append(np.full(len(ends) - 1, joint_drag), base_drag)
    return np.asarray(areas if not wetted.bends else np.append(areas, 0.0))


def in_piece(place: Sequence[float] | Array, origin: tuple[float, float]) -> Array:
    """A place (3,) [m] of the lure's frame in a piece's own: half round about y, from its front end.

    origin : (2,) [m] station and height of that
    """
    x, y, z = place
    return np.array([origin[0] - x, y, origin[1] - z])


def about_hinges(pieces: Pieces, strips: Strips, wetted: Wetted) -> tuple[Array, Array]:
    """Of all that lies behind each hinge, straight: depth times arm summed over its length, and inertia about it.

    returns : (joints,) [m3] times 1/2 rho U^2 the most that flow across turns it with, and (joints,) [kg m2] with the
              water that moves along
    """
    starts = np.array([station for station, _ in wetted.origins])
    piece = np.repeat(np.arange(len(starts)), np.diff(strips.first))
    stations = starts[piece] - strips.place
    centres = starts - pieces.centre[:, 0]
    moments, inertias = [], []
    for joint, hinge in enumerate(starts[1:], start=1):
        arms, behind = stations - hinge, piece >= joint
        moments.append(float((strips.depth * strips.length * arms)[behind].sum()))
        water = float((strips.sway_mass * strips.length * arms**2)[behind].sum())
        own = pieces.inertia[joint:, 2, 2] + pieces.mass[joint:] * (centres[joint:] - hinge) ** 2
        inertias.append(water + float(own.sum()))
    return np.array(moments), np.array(inertias)
