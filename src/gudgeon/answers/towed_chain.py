"""A design towed through its water: the chain of pieces, strips, joints, hardware and line that its swimming rests on.

The only place where design, library and lure meet for towing. What the model rests on beside geometry is one set of
coefficients, name -> value: the table's, the maker's own in their place.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from gudgeon.answers.pull_path import tow_eye
from gudgeon.answers.shanks import fitting_height
from gudgeon.answers.tow_fin import bends, flat_spread, parted, root_stiffness, upright_fin
from gudgeon.answers.tow_hinges import TowHinge, tow_hinges
from gudgeon.answers.tow_lip import aspect_ratio, lip_elements, lip_shown, lip_spread
from gudgeon.answers.tow_points import PointDrag, TowPoint, tow_points
from gudgeon.answers.tow_refusals import check_solid, check_towable
from gudgeon.answers.water_state import salinity_of
from gudgeon.design.model import Design
from gudgeon.errors import NoAnswer
from gudgeon.library.elasticity import diameter_for, elasticity
from gudgeon.library.towing import towing_coefficients
from gudgeon.library.water import kinematic_viscosity
from gudgeon.physics.axial_drag import form_factor, skin_friction
from gudgeon.physics.carried import Carried, carried, joined
from gudgeon.physics.chain import Chain, Joints, Pieces, Plates, Points, Strips, TowLine
from gudgeon.physics.lifting_plate import potential_slope
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.water_forces import (
    StripCoefficients,
    Wetted,
    about_hinges,
    cut_in_strips,
    in_piece,
    pieces_of,
)
from gudgeon.units import KNOT, STANDARD_GRAVITY, Reading

SWEEP = (0.3, 0.5, 0.75, 1.0, 1.5, 2.0, 5.0 * KNOT)
"""[m/s] that every lure is towed at, besides its maker's own speeds."""
USUAL_LINE = 0.35e-3
"""[m] diameter of line where neither it nor the load it breaks at is told; common practice, no source."""
OPEN_JOINT = 1.0 / 8.0
"""[1] gap over the body's depth at which `open_joint_reattachment` holds."""
STOP_MOMENT = 0.025
"""[N m] of the water about a hinge, at which `stop_stiffness` is as told; it grows with that moment."""
_NEAR = 0.08  # share of a speed within which another tells nothing more
_FIN_LIMIT = math.radians(70.0)  # that a soft fin swings to; beyond it no fin holds its shape


@dataclass(frozen=True)
class CoefficientSets:
    """What the towed model rests on: each name's value, and the two ends that hold it about 19 times in 20."""

    value: Mapping[str, float]
    low: Mapping[str, float]
    high: Mapping[str, float]


def coefficient_sets(design: Design) -> CoefficientSets:
    """The coefficients of a design's towed lure, its maker's own among them."""
    found = towing_coefficients(design.coefficients.towing)
    return CoefficientSets({name: one.value for name, one in found.items()},
                           {name: one.low for name, one in found.items()},
                           {name: one.high for name, one in found.items()})  # fmt: skip


def tow_speeds(design: Design) -> tuple[float, ...]:
    """[m/s] to tow a lure at, slowest first: the maker's own, and those of the sweep that none of these is near."""
    own = design.aim.speeds
    rest = [speed for speed in SWEEP if all(abs(speed - one) > _NEAR * one for one in own)]
    return tuple(sorted({*own, *rest}))


def towed_chain(design: Design, lure: Lure, *, speed: float, coefficients: Mapping[str, float] | None = None) -> Chain:
    """The chain that a lure is when it is towed.

    lure         : assembled from the design, its ballast in
    speed        : [m/s] through the water: skin friction and the way hooks stream hang on it
    coefficients : those that stand in place of the design's own, name -> [SI]
    raises       : NoAnswer for a lure that cannot be towed, with every reason; OutsideSource for names and sizes that
                   no table has, coefficients that cannot be, and speeds past the friction lines
    """
    if not (math.isfinite(speed) and speed > 0.0):
        raise NoAnswer(f"a tow speed of {speed:g} m/s: it is more than 0")
    known = dict(coefficient_sets(design).value)
    for name, value in (coefficients or {}).items():
        known[name] = towing_coefficients({name: Reading(value)})[name].value
    hinges = tow_hinges(design, lure)
    check_towable(design, lure, hinges)
    water = _Stream(speed, lure.water.density, known)
    wetted = _wetted(design, lure, hinges)
    strips = _lowered(cut_in_strips(wetted, _strip_coefficients(design, wetted, water), water.density),
                      known["side_centre_shift"] * lure.depth)  # fmt: skip
    pieces = pieces_of(wetted, _carried(design, lure, wetted), water.density, base_drag=known["base_drag"],
                       joint_drag=known["joint_drag"])  # fmt: skip
    points = tow_points(design, lure, water.on_points)
    return Chain(
        pieces=pieces, strips=strips, joints=_joints(design, wetted, hinges, (pieces, strips), water),
        points=_points(points, wetted), plates=_plates(design, lure, wetted, known),
        line=_line(design, lure, wetted, float(pieces.mass.sum()), known["line_damping"]),
        suction=known["leading_edge_suction"], stall=known["stall_angle"], lateral_friction=known["lateral_friction"],
        density=water.density, gravity=STANDARD_GRAVITY, broadside=known["broadside_moment"],
    )  # fmt: skip


def _lowered(strips: Strips, by: float) -> Strips:
    """Strips at which the water pushes lower [m] than at their middles."""
    return replace(strips, height_of_axis=strips.height_of_axis + by,
                   edge_height_of_axis=strips.edge_height_of_axis + by)  # fmt: skip


@dataclass(frozen=True)
class _Stream:
    """The water that comes on.

    speed : [m/s]    density : [kg/m3]    known : coefficients by name
    """

    speed: float
    density: float
    known: Mapping[str, float]

    @property
    def pressure(self) -> float:
        """1/2 rho U^2 [Pa]."""
        return 0.5 * self.density * self.speed**2

    @property
    def on_points(self) -> PointDrag:
        """For hooks and what stands out."""
        known = self.known
        return PointDrag(known["hook_drag_coefficient"], known["lump_drag"], known["line_tangential_drag"],
                         self.pressure, self.density)  # fmt: skip


def _wetted(design: Design, lure: Lure, hinges: Sequence[TowHinge]) -> Wetted:
    fin = None if design.fin is None else upright_fin(design.fin)
    return Wetted(lure.hull, lure.build - lure.shown, tuple(hinge.station for hinge in hinges),
                  tuple(hinge.height for hinge in hinges), fin, bends(design, lure.hull))  # fmt: skip


def _strip_coefficients(design: Design, wetted: Wetted, water: _Stream) -> StripCoefficients:
    """Those of the table, and friction on the lure's own length at its speed."""
    known, length = water.known, wetted.hull.length
    viscosity = kinematic_viscosity(design.water.temperature.value, salinity_of(design.water).value)
    shape = wetted.sections(np.linspace(wetted.hull.start, wetted.hull.stop, 101))
    thick = math.sqrt(float((shape.top - shape.bottom).max()) * 2.0 * float(shape.half_width.max()))
    skin = skin_friction(water.speed * length / viscosity).at(known["turbulent_share"])
    return StripCoefficients(
        mass_scale=known["mass_scale"], sway_drag=known["crossflow_drag_sideways"],
        heave_drag=known["crossflow_drag_vertical"], fin_drag=known["crossflow_drag_fin"],
        recovery=known["afterbody_recovery"], fin_recovery=known["fin_recovery"],
        friction=skin * form_factor(length / thick),
    )  # fmt: skip


def _carried(design: Design, lure: Lure, wetted: Wetted) -> tuple[Carried, ...]:
    """What each piece carries; a fin that bends carries itself.

    raises : NoAnswer for a piece that is more hole than wood
    """
    flat = {}
    if design.fin is not None:
        flat["fin"] = flat_spread(design.fin)
    if design.lip is not None:
        flat["lip"] = lip_spread(design.lip)
    own = carried(lure, flat)
    check_solid(design.segment_names, own)
    if design.fin is None or not wetted.bends:
        return own
    item = next(one for one in lure.ledger.items if one.kind == "fin")
    *ahead, last = carried(lure, flat, without=item.name)
    tang, fin = parted(design.fin, item.mass, item.displaced)
    return (*ahead, joined(last, tang), fin)


def _joints(
    design: Design, wetted: Wetted, hinges: Sequence[TowHinge], bodies: tuple[Pieces, Strips], water: _Stream
) -> Joints:
    """Every hinge of the wood, then the root of a fin that bends.

    A stop is as stiff as told where the water turns the pieces behind it with 0.025 N m, and in proportion to that; it
    is damped no harder than critically.
    """
    known = water.known
    moments, inertias = about_hinges(*bodies, wetted)
    firm = known["stop_stiffness"] * water.pressure * moments / STOP_MOMENT
    turns = [hinge.turns for hinge in hinges]
    friction = [known["joint_friction"] if hinge.friction is None else hinge.friction for hinge in hinges]
    shares = [_reattachment(hinge, known) for hinge in hinges]
    springs = [0.0] * len(hinges)
    if design.fin is not None and wetted.bends:
        turns.append(_FIN_LIMIT)
        friction.append(0.0)
        shares.append(known["wake_reattachment"])
        springs.append(root_stiffness(design.fin) or 0.0)
    spring = np.array(springs)
    origins = wetted.origins
    places = [in_piece((after[0], 0.0, after[1]), before) for before, after in pairwise(origins)]
    return Joints(
        place=np.array(places).reshape(-1, 3), most_left=np.array(turns), most_right=np.array(turns),
        stop_stiffness=firm, stop_damping=np.minimum(known["stop_damping"] * firm, 2.0 * np.sqrt(firm * inertias)),
        stiffness=spring, damping=known["fin_damping"] * spring, friction=np.array(friction),
        reattachment=np.array(shares), carry_over=np.full(len(turns), known["carry_over"]),
    )  # fmt: skip


def _reattachment(hinge: TowHinge, known: Mapping[str, float]) -> float:
    """From a closed joint's share to an open one's, in proportion to the gap."""
    openness = min(hinge.gap / hinge.depth / OPEN_JOINT, 1.0)
    closed = known["wake_reattachment"]
    return closed + openness * (known["open_joint_reattachment"] - closed)


def _points(points: Sequence[TowPoint], wetted: Wetted) -> Points:
    places = [in_piece(point.place, wetted.origins[point.piece]) for point in points]
    return Points(
        piece=np.array([point.piece for point in points], dtype=np.int64), place=np.array(places).reshape(-1, 3),
        drag_area=np.array([point.drag_area for point in points], dtype=float),
    )  # fmt: skip


def _plates(design: Design, lure: Lure, wetted: Wetted, known: Mapping[str, float]) -> Plates:
    """The lip's; none where there is no lip, or none of it stands out."""
    lip = design.lip
    shown = None if lip is None else lip_shown(lip)
    if lip is None or shown is None:
        nothing, nowhere = np.zeros(0), np.zeros((0, 3))
        return Plates(np.zeros(0, np.int64), nowhere, nowhere, nowhere, nothing, nothing, nothing, nothing)
    piece = segment_at(lure.segments, lip.at)[0]
    place, normal, chord, area = lip_elements(lip, shown, wetted.origins[piece])
    slope = float(potential_slope(aspect_ratio(shown)))
    count = len(area)
    return Plates(
        piece=np.full(count, piece, np.int64), place=place, normal=normal, chord=chord, area=area,
        potential_slope=np.full(count, slope), edge_slope=np.full(count, known["lip_side_edge_lift"]),
        most_normal=np.full(count, known["lip_normal_cap"]),
    )  # fmt: skip


def _line(design: Design, lure: Lure, wetted: Wetted, mass: float, damping: float) -> TowLine:
    """Tied to the tow eye; it stretches as its section and stuff let it over this stretch.

    mass : [kg] of the lure      damping : share of critical with that mass
    """
    eye, tow = tow_eye(design), design.tow
    assert eye is not None, "check_towable has refused a lure without one"
    stuff, diameter = elasticity(f"{tow.line} line"), tow.diameter
    if diameter is None:
        diameter = USUAL_LINE if design.tackle.line is None else diameter_for(design.tackle.line, stuff)
    stiffness = stuff.modulus * 0.25 * math.pi * diameter**2 / tow.length
    place = in_piece((eye.at, eye.offset, fitting_height(eye, lure.hull)), wetted.origins[0])
    return TowLine(place, tow.length, stiffness, 2.0 * damping * math.sqrt(stiffness * mass))
