"""Hooks, rings, eyes and leader as points the water pulls at: drag coefficient times area of each, and where it pulls.

A hook streams from its hanger and swings round with the flow far faster than a lure beats, so its pull acts along the
water's way past the hanger, whatever that is, and as hard as at the angle it streams at.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from gudgeon.answers.hanging import hanging
from gudgeon.answers.hook_reach import HookReach
from gudgeon.answers.shanks import EYES, USUAL_WIRE, fitting_height
from gudgeon.design.hardware import Fitting, Hook
from gudgeon.design.model import Design
from gudgeon.library.hooks import hook_size
from gudgeon.library.metals import material
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.mass import Place
from gudgeon.physics.wire_drag import (
    Treble,
    loop_drag_area,
    lump_drag_area,
    treble_drag_area,
    treble_wire,
    weight_in_water,
)

# Common practice, no source: taken where a maker does not say.
LOOP_WIRES = 5.0  # outside of an eye's loop over its wire
RING_SHARE = 0.1  # of a ring's outside that its wire is thick
_TURNS = 2.0  # of wire in a ring
_TURNS_SEEN = 1.5  # wires' widths seen of it, between flat and edge-on
_HOOK_LEAST = 0.5  # of a weighed hook with its ring that is hook
_FLUSH = ("glass eye", "stick-on", "pin")  # nothing stands out of the skin, or out of the joint


@dataclass(frozen=True)
class TowPoint:
    """One thing that the water pulls at.

    name      : the maker's, or "ring of the front hook"
    piece     : of wood, from 0
    place     : (3,) [m] in the lure's frame
    drag_area : [m2] drag coefficient times area
    """

    name: str
    piece: int
    place: Place
    drag_area: float


@dataclass(frozen=True)
class PointDrag:
    """What the pull rests on.

    wire, lump : drag coefficients of wire across the flow on its diameter, of a lump on its face
    along      : of a line that lies along the flow, on its surface
    pressure   : [Pa] 1/2 rho U^2       density : [kg/m3] of the water
    """

    wire: float
    lump: float
    along: float
    pressure: float
    density: float


def tow_points(design: Design, lure: Lure, drag: PointDrag) -> tuple[TowPoint, ...]:
    """Everything that hangs on a lure or stands out of it, from the nose aft.

    raises : OutsideSource for a hook's size or a material that is not in the tables
    """
    reaches = {reach.name: reach for reach in hanging(design, lure, [0.0] * len(design.joints)).hooks}
    found = [point for hook in design.hooks for point in _hook(design, lure, hook, reaches[hook.name], drag)]
    found += [point for fitting in design.fittings for point in _fitting(lure, fitting, drag)]
    eye = next((one for one in design.fittings if one.kind == "tow eye"), None)
    if eye is not None and design.tow.leader is not None and design.tow.leader_diameter is not None:
        area = drag.along * math.pi * design.tow.leader_diameter * design.tow.leader
        found.append(TowPoint("leader", segment_at(lure.segments, eye.at)[0], _place(lure, eye), area))
    return tuple(sorted(found, key=lambda point: point.place[0]))


def _hook(design: Design, lure: Lure, hook: Hook, reach: HookReach, drag: PointDrag) -> Iterator[TowPoint]:
    """The treble, and its ring; both at the hanger's loop."""
    density = material(hook.material).density
    ring = hook_size(reach.size).ring if hook.ring is None else hook.ring
    shank = reach.length - ring
    mass = sum(item.mass for item in lure.ledger.items if item.kind == "hook" and item.name == hook.name)
    if hook.weight is not None or any(one.size == hook.size for one in design.stock.hooks):  # with its ring
        mass = max(mass - _ring_volume(ring) * density, _HOOK_LEAST * mass)
    volume = mass / density
    treble = Treble(shank, reach.gape, treble_wire(volume, shank, reach.gape),
                    weight_in_water(mass, volume, drag.density))  # fmt: skip
    yield TowPoint(hook.name, reach.piece, reach.place, treble_drag_area(treble, drag.wire, drag.pressure))
    area = loop_drag_area(ring, RING_SHARE * ring, drag.wire, wide=_TURNS_SEEN)
    yield TowPoint(f"ring of the {hook.name}", reach.piece, reach.place, area)


def _ring_volume(outside: float) -> float:
    wire = RING_SHARE * outside
    return _TURNS * math.pi * (outside - wire) * 0.25 * math.pi * wire**2


def _place(lure: Lure, fitting: Fitting) -> Place:
    return fitting.at, fitting.offset, fitting_height(fitting, lure.hull)


def _fitting(lure: Lure, fitting: Fitting, drag: PointDrag) -> Iterator[TowPoint]:
    """An eye's loop and a ring as rounds of wire; whatever else shows, as a lump of what water it displaces."""
    if fitting.kind in _FLUSH:
        return
    place, pieces = _place(lure, fitting), segment_at(lure.segments, fitting.at)
    if fitting.kind in EYES:
        wire = USUAL_WIRE if fitting.wire is None else fitting.wire
        area = loop_drag_area(LOOP_WIRES * wire if fitting.loop is None else fitting.loop, wire, drag.wire)
    elif fitting.kind == "ring" and fitting.loop is not None:
        wire = RING_SHARE * fitting.loop if fitting.wire is None else fitting.wire
        area = loop_drag_area(fitting.loop, wire, drag.wire, wide=_TURNS_SEEN)
    else:
        shown = sum(item.displaced for item in lure.ledger.items
                    if item.kind == "fitting" and item.name == fitting.name)  # fmt: skip
        area = lump_drag_area(shown, drag.lump)
    for piece in pieces:
        yield TowPoint(fitting.name, piece, place, area / len(pieces))
