"""A plain lure to try the towed model on: superellipse sections, round nose, tapered tail, cut where one likes.

170 mm by 34 mm by 26 mm, hinged at a third and two thirds, unless told otherwise; nothing of how a maker draws one.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.chain import Chain, Joints, Pieces, Plates, Points, Strips, TowLine

Array = NDArray[np.float64]

WATER = 1000.0
VISCOSITY = 1.05e-6
FIN_STRIPS = 6
FIN_THICK = 1e-3
THIRDS = (1.0 / 3.0, 2.0 / 3.0)
TREBLES = ((0, -0.03, 0.022, 9e-5), (-1, -0.02, 0.018, 9e-5))
"""Piece, x [m], z [m], drag area [m2] of two hooks."""


def round_nose_tapered_tail(along: Array) -> Array:
    """Size over the largest, of a body tallest at 0.35 of its length with a tail of 0.15."""
    behind = np.maximum(along - 0.35, 0.0) / 0.65
    ahead = np.clip((0.35 - along) / 0.35, 0.0, 1.0)
    return np.where(along < 0.35, np.sqrt(1.0 - ahead**2), 1.0 - 0.85 * behind**1.8)


def spheroid(along: Array) -> Array:
    """Size over the largest, of an ellipse."""
    return np.sqrt(np.maximum(0.0, 1.0 - (2.0 * along - 1.0) ** 2))


def straight(along: Array) -> Array:
    """The same size from end to end."""
    return np.ones_like(along)


@dataclass(frozen=True)
class TrialLure:
    """What is varied. Lengths [m], angles [rad], densities [kg/m3]; shares and coefficients as in `physics.chain`.

    cuts     : shares of the length          outline : share of the length -> size over the largest
    fin      : (length, height) of a tail fin behind the wood, its height grown to over 0.6 of its length, or None
    fin_stiffness : [N m/rad] of a soft fin's root; None for a stiff fin
    ballast  : (piece, mass [kg], x, z)      hooks : (piece, x, z, drag area [m2]); -1 is the last piece of wood
    plates   : (piece, x, y, z, nx, nz, area [m2], chord [m]) of a lip's elements
    surge    : [1] share of the displaced mass          line_stiffness : [N/m]; 0 for none
    """

    length: float = 0.17
    depth: float = 0.034
    width: float = 0.026
    fullness: float = 2.5
    cuts: tuple[float, ...] = THIRDS
    outline: Callable[[Array], Array] = round_nose_tapered_tail
    density: float = 1010.0
    strips: int = 14
    fin: tuple[float, float] | None = None
    fin_stiffness: float | None = None
    ballast: tuple[tuple[int, float, float, float], ...] = ()
    hooks: tuple[tuple[int, float, float, float], ...] = TREBLES
    plates: tuple[tuple[int, float, float, float, float, float, float, float], ...] = ()
    plate_slope: float = 1.3
    plate_edge: float = 1.6
    plate_most: float = 1.17
    mass_scale: float = 0.65
    recovery: float = 0.5
    fin_recovery: float = 0.0
    reattachment: float = 0.62
    carry_over: float = 0.4
    sway_drag: float = 1.0
    heave_drag: float = 1.1
    fin_drag: float = 1.6
    suction: float = 0.5
    stall: float = math.radians(30.0)
    friction_speed: float = 1.0
    skin: float = 1.0
    lateral: float = 1.0
    base_drag: float = 0.12
    joint_drag: float = 0.08
    surge: float = 0.05
    swing: float = math.radians(30.0)
    stop_stiffness: float = 1.0
    stop_damping: float = 0.01
    joint_friction: float = 0.0
    eye: tuple[float, float, float] = (0.0, 0.0, 0.0)
    line_length: float = 1.0
    line_stiffness: float = 200.0
    line_damping: float = 0.3
    gravity: float = 9.81


def superellipse_area(depth: Array, width: Array, fullness: float) -> Array:
    """Area [m2] of |2y/b|^n + |2z/h|^n = 1."""
    share = math.gamma(1.0 + 1.0 / fullness) ** 2 / math.gamma(1.0 + 2.0 / fullness)
    return depth * width * share


def superellipse_girth(depth: Array, width: Array, fullness: float) -> Array:
    """Girth [m] of the same."""
    angle = np.linspace(0.0, 0.5 * np.pi, 400)
    y = 0.5 * width[:, None] * np.cos(angle) ** (2.0 / fullness)
    z = 0.5 * depth[:, None] * np.sin(angle) ** (2.0 / fullness)
    return 4.0 * np.hypot(np.diff(y), np.diff(z)).sum(axis=1)


def build(lure: TrialLure) -> Chain:
    """The chain of a trial lure."""
    cut = [_wood(lure, piece) for piece in range(len(lure.cuts) + 1)]
    if lure.fin is not None and lure.fin_stiffness is not None:
        cut.append(_soft_fin(lure, lure.fin))
    return Chain(
        pieces=_pieces(lure, cut), strips=_strips(cut), joints=_joints(lure, cut), points=_points(lure),
        plates=_plates(lure), line=_line(lure, cut), suction=lure.suction, stall=lure.stall,
        lateral_friction=lure.lateral, density=WATER, gravity=lure.gravity,
    )  # fmt: skip


@dataclass(frozen=True)
class _Cut:
    """One piece: its strips' fields, and of its body mass, centre, inertia about it, volume, length, rear drag area."""

    strips: dict[str, Array]
    edges: dict[str, Array]
    mass: float
    centre: Array
    inertia: Array
    volume: float
    middle: float
    length: float
    rear: float


def _friction(lure: TrialLure) -> float:
    """ITTC 1957 at a speed, with Hoerner's factor for the body's form."""
    slender = math.sqrt(lure.depth * lure.width) / lure.length
    reynolds = lure.friction_speed * lure.length / VISCOSITY
    return lure.skin * 0.075 / (math.log10(reynolds) - 2.0) ** 2 * (1.0 + 1.5 * slender**1.5 + 7.0 * slender**3)


def _wood(lure: TrialLure, piece: int) -> _Cut:
    bounds = np.array([0.0, *lure.cuts, 1.0]) * lure.length
    start, stop = bounds[piece], bounds[piece + 1]
    share = np.linspace(0.0, 1.0, lure.strips + 1)
    if piece == 0:
        share = 1.0 - np.cos(0.5 * np.pi * share)
    last = piece == len(lure.cuts)
    edges = start + (stop - start) * share
    middles = 0.5 * (edges[1:] + edges[:-1])
    at_edges, at_middles = lure.outline(edges / lure.length), lure.outline(middles / lure.length)
    sizes = (lure.depth * at_middles, lure.width * at_middles, lure.depth * at_edges, lure.width * at_edges)
    area = superellipse_area(sizes[0], sizes[1], lure.fullness)
    girth = superellipse_girth(sizes[0], sizes[1], lure.fullness)
    behind = np.zeros(lure.strips, dtype=bool)
    if last and lure.fin is not None and lure.fin_stiffness is None:
        edges, middles, sizes, area, girth, behind = _with_fin(lure, lure.fin, edges, middles, sizes, area, girth)
    body = _body(lure, middles - start, np.diff(edges), sizes, area)
    end = superellipse_area(*(size * lure.outline(np.array([stop / lure.length])) for size in (lure.depth, lure.width)),
                            lure.fullness)[0]  # fmt: skip
    strips, at = _fields(lure, (middles - start, edges - start), sizes, girth, behind)
    return _Cut(strips, at, *_ballasted(lure, piece, *body), float(edges[-1] - start),
                float(end * (lure.base_drag if last else lure.joint_drag)))  # fmt: skip


def _fin_heights(lure: TrialLure, fin: tuple[float, float], strips: int) -> tuple[Array, Array, Array]:
    """Edges from the root, heights there and in between."""
    length, height = fin
    edges = np.linspace(0.0, length, strips + 1)
    root = lure.depth * float(lure.outline(np.array([1.0]))[0])
    at_edges = np.interp(edges / length, [0.0, 0.6, 1.0], [root, height, height])
    return edges, at_edges, 0.5 * (at_edges[1:] + at_edges[:-1])


def _with_fin(lure, fin, edges, middles, sizes, area, girth):
    more, at_edges, at_middles = _fin_heights(lure, fin, FIN_STRIPS)
    thin = np.full(FIN_STRIPS, 2.0 * FIN_THICK)
    joined = tuple(np.concatenate([old, new]) for old, new in zip(
        sizes, (at_middles, thin, at_edges[1:], thin), strict=True))  # fmt: skip
    fore = edges[-1] + 0.5 * (more[1:] + more[:-1])
    return (np.concatenate([edges, edges[-1] + more[1:]]), np.concatenate([middles, fore]), joined,
            np.concatenate([area, FIN_THICK * at_middles]), np.concatenate([girth, 2.0 * at_middles]),
            np.concatenate([np.zeros(len(area), dtype=bool), np.ones(FIN_STRIPS, dtype=bool)]))  # fmt: skip


def _body(lure: TrialLure, x: Array, lengths: Array, sizes, area: Array):
    """Mass, centre, inertia about it, volume and station of the middle of volume, of even wood."""
    depth, width = sizes[0], sizes[1]
    mass = lure.density * area * lengths
    volume = float((area * lengths).sum())
    middle = float((area * lengths) @ x) / volume
    off = x - middle
    inertia = np.diag([
        float(mass @ (depth**2 + width**2)) / 16.0,
        float(mass @ (depth**2 / 16.0 + lengths**2 / 12.0 + off**2)),
        float(mass @ (width**2 / 16.0 + lengths**2 / 12.0 + off**2)),
    ])  # fmt: skip
    return float(mass.sum()), np.array([-middle, 0.0, 0.0]), inertia, volume, -middle


def _ballasted(lure: TrialLure, piece: int, mass, centre, inertia, volume, middle):
    for where, more, x, z in lure.ballast:
        if where != piece:
            continue
        place = np.array([x, 0.0, z])
        new = (mass * centre + more * place) / (mass + more)
        inertia = inertia + _shifted(mass, centre - new) + _shifted(more, place - new)
        mass, centre = mass + more, new
    return mass, centre, inertia, volume, middle


def _shifted(mass: float, off: Array) -> Array:
    return mass * (off @ off * np.eye(3) - np.outer(off, off))


def _fields(lure: TrialLure, places, sizes, girth: Array, behind):
    depth, width, edge_depth, edge_width = sizes
    middles, edges = places
    of_fin = np.append(behind, False) & np.append(False, behind) if behind.any() else np.zeros(len(edges), dtype=bool)
    if behind.any():
        of_fin[-1] = True
    scale = lure.mass_scale * WATER
    heave, edge_heave = np.where(behind, 0.0, width), np.where(of_fin, 0.0, edge_width)

    def roll(deep: Array, wide: Array) -> Array:
        return WATER * np.pi / 8.0 * ((0.5 * deep) ** 2 - (0.5 * wide) ** 2) ** 2

    strips = {
        "place": -middles, "height_of_axis": np.zeros_like(middles), "length": np.diff(edges), "depth": depth,
        "width": width, "perimeter": girth, "sway_mass": scale * np.pi / 4.0 * depth**2,
        "heave_mass": scale * np.pi / 4.0 * heave**2, "roll_inertia": roll(depth, width),
        "sway_drag": np.where(behind, lure.fin_drag, lure.sway_drag),
        "heave_drag": np.where(behind, 0.1, lure.heave_drag),
        "recovery": np.where(behind, lure.fin_recovery, lure.recovery),
        "friction": np.full_like(depth, _friction(lure)),
    }  # fmt: skip
    at = {
        "edge_place": -edges, "edge_height_of_axis": np.zeros_like(edges),
        "edge_sway_mass": scale * np.pi / 4.0 * edge_depth**2, "edge_heave_mass": scale * np.pi / 4.0 * edge_heave**2,
        "edge_roll_inertia": roll(edge_depth, edge_width),
    }  # fmt: skip
    return strips, at


def _soft_fin(lure: TrialLure, fin: tuple[float, float]) -> _Cut:
    edges, at_edges, at_middles = _fin_heights(lure, fin, 8)
    middles, lengths = 0.5 * (edges[1:] + edges[:-1]), np.diff(edges)
    thin, thin_edges = np.full(8, FIN_THICK), np.full(9, FIN_THICK)
    behind = np.ones(8, dtype=bool)
    sizes = (at_middles, thin, at_edges, thin_edges)
    strips, at = _fields(lure, (middles, edges), sizes, 2.0 * at_middles, behind)
    at["edge_heave_mass"][:] = 0.0
    body = _body(lure, middles, lengths, sizes, FIN_THICK * at_middles)
    return _Cut(strips, at, *body, fin[0], 0.0)


def _strips(cut: Sequence[_Cut]) -> Strips:
    first = np.concatenate([[0], np.cumsum([len(one.strips["place"]) for one in cut])])
    found = {name.name: np.concatenate([(one.strips | one.edges)[name.name] for one in cut])
             for name in fields(Strips) if name.name != "first"}  # fmt: skip
    return Strips(first=first.astype(np.int64), **found)


def _pieces(lure: TrialLure, cut: Sequence[_Cut]) -> Pieces:
    volume = np.array([one.volume for one in cut])
    return Pieces(
        length=np.array([one.length for one in cut]), mass=np.array([one.mass for one in cut]),
        centre=np.array([one.centre for one in cut]), inertia=np.array([one.inertia for one in cut]), volume=volume,
        buoyancy_centre=np.array([[one.middle, 0.0, 0.0] for one in cut]), surge_mass=lure.surge * WATER * volume,
        base_drag_area=np.array([one.rear for one in cut]),
    )  # fmt: skip


def _joints(lure: TrialLure, cut: Sequence[_Cut]) -> Joints:
    count = len(cut) - 1
    firm, swing, friction = (np.full(count, value) for value in (lure.stop_stiffness, lure.swing, lure.joint_friction))
    spring, damping = np.zeros(count), np.zeros(count)
    if lure.fin is not None and lure.fin_stiffness is not None:
        spring[-1], damping[-1], friction[-1], swing[-1] = lure.fin_stiffness, 1e-5, 0.0, math.radians(70.0)
    return Joints(
        place=np.array([[-one.length, 0.0, 0.0] for one in cut[:-1]]).reshape(-1, 3), most_left=swing, most_right=swing,
        stop_stiffness=firm, stop_damping=lure.stop_damping * firm, stiffness=spring, damping=damping,
        friction=friction, reattachment=np.full(count, lure.reattachment), carry_over=np.full(count, lure.carry_over),
    )  # fmt: skip


def _points(lure: TrialLure) -> Points:
    pieces = len(lure.cuts) + 1
    return Points(
        piece=np.array([piece % pieces for piece, *_ in lure.hooks], dtype=np.int64),
        place=np.array([[x, 0.0, z] for _, x, z, _ in lure.hooks]).reshape(-1, 3),
        drag_area=np.array([area for *_, area in lure.hooks], dtype=float),
    )  # fmt: skip


def _plates(lure: TrialLure) -> Plates:
    rows = lure.plates
    count = len(rows)
    normal = np.array([[row[4], 0.0, row[5]] for row in rows]).reshape(-1, 3)
    along = np.array([[row[5], 0.0, -row[4]] for row in rows]).reshape(-1, 3)  # leading edge forward and down
    return Plates(
        piece=np.array([row[0] for row in rows], dtype=np.int64), normal=normal,
        place=np.array([row[1:4] for row in rows], dtype=float).reshape(-1, 3),
        chord=along * np.array([row[7] for row in rows]).reshape(-1, 1),
        area=np.array([row[6] for row in rows], dtype=float), potential_slope=np.full(count, lure.plate_slope),
        edge_slope=np.full(count, lure.plate_edge), most_normal=np.full(count, lure.plate_most),
    )  # fmt: skip


def _line(lure: TrialLure, cut: Sequence[_Cut]) -> TowLine:
    mass = sum(one.mass for one in cut)
    damping = 2.0 * lure.line_damping * math.sqrt(lure.line_stiffness * mass)
    return TowLine(np.array(lure.eye, dtype=float), lure.line_length, lure.line_stiffness, damping)


Element = tuple[int, float, float, float, float, float, float, float]


def lip(
    count: int = 3, size: float = 0.02, place: tuple[float, float] = (0.0, 0.010), angle: float = math.radians(45.0)
) -> tuple[Element, ...]:
    """A square lip in elements side by side, its root at (x, z), sloping forward and down."""
    c, s = math.cos(angle), math.sin(angle)
    x, z = place[0] + 0.5 * size * c, place[1] + 0.5 * size * s
    wide = size / count
    return tuple((0, x, (k - 0.5 * (count - 1)) * wide, z, s, -c, size * wide, size) for k in range(count))
