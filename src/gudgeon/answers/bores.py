"""Ballast pockets as bores in the wood: where the bit goes in, how deep it may go, what it must keep clear of."""

import math
from dataclasses import dataclass, replace

import numpy as np

from gudgeon.answers.parts import Bench, looked_up
from gudgeon.answers.woodwork import Woodwork
from gudgeon.design.model import Pocket as DrawnPocket
from gudgeon.errors import Fault
from gudgeon.library.metals import material
from gudgeon.physics.hull import Hull, half_width_at, skin_heights
from gudgeon.physics.lure import Segment, segment_at
from gudgeon.physics.mass import Place
from gudgeon.physics.pocket import Pocket

_INWARD: dict[str, Place] = {
    "belly": (0.0, 0.0, 1.0), "back": (0.0, 0.0, -1.0), "left": (0.0, 1.0, 0.0), "right": (0.0, -1.0, 0.0),
    "front": (1.0, 0.0, 0.0), "rear": (-1.0, 0.0, 0.0),
}  # fmt: skip
_ROUND = np.linspace(0.0, 2.0 * math.pi, 12, endpoint=False)


@dataclass(frozen=True)
class _Mouth:
    """Where a bore starts, and how far it is from there to the far skin along the thinnest line of its wall."""

    place: Place
    reach: float


def pockets_of(bench: Bench, worked: Woodwork) -> tuple[tuple[Pocket, ...], dict[str, tuple[float, float]]]:
    """The pockets, and the half-widths of each one's ballast: weight [kg] and place [m]; faults join the bench's."""
    pockets, spreads = [], {}
    unsure = bench.design.uncertainty
    for number, drawn in enumerate(bench.design.pockets, start=1):
        made = _pocket(bench, worked, f"pocket {number} '{drawn.name}'", drawn)
        if made is not None:
            pockets.append(made)
            weighed = drawn.holds.spread_or(unsure.scale) if drawn.holds else unsure.scale
            spreads[drawn.name] = (weighed, unsure.ballast_place)
    return tuple(pockets), spreads


def _pocket(bench: Bench, worked: Woodwork, table: str, drawn: DrawnPocket) -> Pocket | None:
    ballast = looked_up(bench.faults, f"{table}.material", lambda: material(drawn.material))
    plug = looked_up(bench.faults, f"{table}.plug_material", lambda: material(drawn.plug_material))
    owners = segment_at(worked.segments, drawn.at)
    if len(owners) > 1:
        bench.faults.append(Fault(f"{table}.at", "lies in a joint's gap; move it into the wood"))
        return None
    mouth = _mouth(bench.hull, worked.segments[owners[0]], drawn)
    if mouth is None:
        words = f"a bore of {_mm(drawn.bore)} there breaks out of the body's side; use a smaller bit, or thicker wood"
        bench.faults.append(Fault(table, words))
        return None
    room = mouth.reach - drawn.wall
    if ballast is None or plug is None or not _fits(bench, table, drawn, mouth, room):
        return None
    made = Pocket(drawn.name, owners[0], mouth.place, _INWARD[drawn.face], drawn.bore, room, drawn.plug,
                  ballast.density, plug.density, drawn.depth, drawn.packed or 1.0)  # fmt: skip
    if drawn.holds is None or drawn.holds.value <= made.capacity * 1.001:
        return made
    if drawn.depth is not None:
        return _as_drilled(bench, f"{table}.holds", made, drawn.depth, drawn.holds.value, ballast.name)
    words = (
        f"{1e3 * drawn.holds.value:.1f} g of {ballast.name} does not go in: the bore holds "
        f"{1e3 * made.capacity:.1f} g under its plug with {_mm(drawn.wall)} of wood left"
    )
    bench.faults.append(Fault(f"{table}.holds", words))
    return None


def _as_drilled(bench: Bench, place: str, made: Pocket, depth: float, mass: float, metal: str) -> Pocket | None:
    """A hole drilled and filled already, its plug as thick as the ballast leaves it; depth : [m], mass : [kg]."""
    brimful = replace(made, plug=0.0, room=max(made.room, depth)).capacity
    if mass <= brimful * 1.001:
        return replace(made, plug=depth * max(1.0 - mass / brimful, 0.0))
    words = (
        f"{1e3 * mass:.1f} g of {metal} does not go in: filled to the brim, {_mm(depth)} of this bore holds "
        f"{1e3 * brimful:.1f} g"
    )
    bench.faults.append(Fault(place, words))
    return None


def _mm(length: float) -> str:
    return f"{1e3 * length:.1f} mm"


def _fits(bench: Bench, table: str, drawn: DrawnPocket, mouth: _Mouth, room: float) -> bool:
    if drawn.depth is not None and drawn.depth > mouth.reach:
        most = _mm(max(room, 0.0))
        words = f"{_mm(drawn.depth)} comes out {_mm(mouth.reach)} away, on the far side; drill {most} at most"
        bench.faults.append(Fault(f"{table}.depth", words))
        return False
    if room <= drawn.plug:
        words = (
            f"there are only {_mm(mouth.reach)} of wood along the bore, too little for a wall of {_mm(drawn.wall)} and "
            f"a plug of {_mm(drawn.plug)}"
        )
        bench.faults.append(Fault(table, words))
        return False
    return True


def _mouth(hull: Hull, piece: Segment, drawn: DrawnPocket) -> _Mouth | None:
    """Where the bit enters; None where the bore would break out of the side."""
    radius = 0.5 * drawn.bore
    if drawn.face in ("belly", "back"):
        return _upright(hull, drawn, radius)
    if drawn.face in ("left", "right"):
        return _sideways(hull, drawn, radius)
    return _lengthwise(hull, piece, drawn, radius)


def _upright(hull: Hull, drawn: DrawnPocket, radius: float) -> _Mouth | None:
    x = np.append(drawn.at, drawn.at + radius * np.cos(_ROUND))
    y = np.append(drawn.offset, drawn.offset + radius * np.sin(_ROUND))
    bottoms, tops = skin_heights(hull, x, y)
    if (tops <= bottoms).any():
        return None
    bottom, top = float(bottoms[0]), float(tops[0])
    if drawn.face == "belly":
        return _Mouth((drawn.at, drawn.offset, bottom), float(tops.min()) - bottom)
    return _Mouth((drawn.at, drawn.offset, top), top - float(bottoms.max()))


def _sideways(hull: Hull, drawn: DrawnPocket, radius: float) -> _Mouth | None:
    ring = zip(drawn.at + radius * np.cos(_ROUND), drawn.height + radius * np.sin(_ROUND), strict=True)
    edge = [(drawn.at, drawn.height), *ring]
    widths = [half_width_at(hull, float(x), float(z)) if 0.0 < x < hull.length else 0.0 for x, z in edge]
    if min(widths) <= 0.0:
        return None
    side = -widths[0] if drawn.face == "left" else widths[0]
    return _Mouth((drawn.at, side, drawn.height), widths[0] + min(widths))


def _lengthwise(hull: Hull, piece: Segment, drawn: DrawnPocket, radius: float) -> _Mouth | None:
    """A bore along the body, from a joint face: it may run until the skin is a radius away."""
    start, stop = (piece.start, piece.stop) if drawn.face == "front" else (piece.stop, piece.start)
    reach = 0.0
    for share in np.linspace(0.0, 1.0, 101)[1:]:
        x = start + share * (stop - start)
        around = [half_width_at(hull, float(x), drawn.height + radius * math.sin(angle)) - abs(drawn.offset)
                  - radius * abs(math.cos(angle)) for angle in _ROUND]  # fmt: skip
        if min(around) <= 0.0:
            break
        reach = abs(x - start)
    return _Mouth((start, drawn.offset, drawn.height), reach) if reach > 0.0 else None
