"""A lure as the flotation sees it: its sections with everything measured taken in, and what hangs outside them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.floating_balance import carrying_height
from gudgeon.physics.hull import Hull, SectionStack, section_stack
from gudgeon.physics.lure import Lure
from gudgeon.physics.mass import VOLUME, VOLUME_X, Place
from gudgeon.physics.spread import Array
from gudgeon.physics.waterplane import FloatingBody, immersed, up_vector

HANGS = 1e-6  # share of its mass by which a body may be lighter than water and still be said to hang
_MOST_THINNED = 0.9  # of what is drawn at the end of a piece may be gone to its joint
_SURFACE_KINDS = ("wood", "coat")  # what the drawn sections hold; all else that displaces water hangs outside them


@dataclass(frozen=True)
class Hung:
    """A weight hung on a lure for a test.

    mass, mass_spread : [kg]
    displaced         : [m3]
    place             : (3,) [m] where it pulls
    """

    mass: float
    displaced: float
    place: Place
    mass_spread: float = 0.0


def floating_body(
    lure: Lure, on: NDArray[np.bool_] | None = None, hung: Sequence[Hung] = (), *, sections: int = 72
) -> FloatingBody:
    """A lure as a body that may float.

    on   : (n,) which items of its ledger are on; all when left out
    hung : what hangs on it besides
    sections : how many, about; 40 give a resting pitch to a tenth of a degree, twice as fast

    Each piece's sections are weighted so that they hold what its wood and coats are known to displace, and about the
    same station: what a jug has shown and the vees of its joints take away is thereby spread along it, and a lure that
    all but hangs lies as it does once it sinks.
    """
    ledger = lure.ledger
    mask = np.ones(len(ledger.items), dtype=np.bool_) if on is None else on
    known = ledger.known(lure.knowledge)
    volumes, along = known[:, VOLUME], known[:, VOLUME_X]
    stack = _stack(lure.hull, tuple((piece.start, piece.stop) for piece in lure.segments), sections)
    weights, areas = stack.weights.copy(), _areas(stack.polygons)
    skinned = np.array([item.kind in _SURFACE_KINDS for item in ledger.items])
    owner = np.array([item.segment for item in ledger.items])
    for piece in range(len(lure.segments)):
        own, held = stack.span == piece, mask & skinned & (owner == piece)
        drawn = weights[own] * areas[own]
        weights[own] *= _thinning(stack.stations[own], drawn, volumes[held].sum(), along[held].sum())
    outside = [row for row in np.flatnonzero(mask & ~skinned) if volumes[row] != 0.0]
    places = [ledger.items[row].lift for row in outside] + [weight.place for weight in hung]
    sums = lure.sums(mask)
    mass = sums.mass + sum(weight.mass for weight in hung)
    moment = sums.mass * sums.weight_centre
    for weight in hung:
        moment = moment + weight.mass * np.asarray(weight.place)
    return FloatingBody(
        stations=stack.stations, weights=weights, polygons=stack.polygons,
        place_of_displacers=np.array(places).reshape(-1, 3),
        displacers=np.array([*(volumes[row] for row in outside), *(weight.displaced for weight in hung)]),
        mass=mass, centre=moment / mass,
    )  # fmt: skip


def _thinning(stations: Array, drawn: Array, volume: float, along: float) -> Array:
    """(m,) what the drawn volume at each station is multiplied by, straight along a piece, to hold what is known.

    stations : (m,) [m]    drawn : (m,) [m3]
    volume   : [m3] known, and its moment about the nose : along [m4]
    """
    whole = float(drawn.sum())
    middle = float(stations @ drawn) / whole
    ahead = stations - middle
    lean = (along - volume * middle) / float(ahead**2 @ drawn)
    share = volume / whole
    steepest = _MOST_THINNED * share / float(np.abs(ahead).max())
    thinned: Array = share + float(np.clip(lean, -steepest, steepest)) * ahead
    return thinned


@lru_cache(maxsize=16)  # the same body is set in the water at several stages and loads
def _stack(hull: Hull, spans: tuple[tuple[float, float], ...], sections: int) -> SectionStack:
    return section_stack(hull, spans, points=64 if sections > 60 else 40, stations=sections)


def _areas(polygons: Array) -> Array:
    """(m,) [m2] of closed polygons (m, p, 2)."""
    y, z = polygons[..., 0], polygons[..., 1]
    areas: Array = 0.5 * np.abs((y * np.roll(z, -1, axis=1) - z * np.roll(y, -1, axis=1)).sum(axis=1))
    return areas


def sunk_if_hanging(body: FloatingBody, water_density: float) -> FloatingBody:
    """A body that neither floats nor sinks, to a millionth of its mass, as one just under water; any other as it is.

    Its waterplane would be a point, and nothing could be divided by it.
    """
    carried = water_density * body.volume
    if 0.0 < carried - body.mass <= HANGS * body.mass:
        return replace(body, mass=carried * (1.0 + 1e-12))
    return body


def support_when_afloat(lure: Lure, water_density: float, mass: float, pitch: float) -> Array:
    """Where the buoyancy acts when the lure, ballasted to a mass [kg], floats at a pitch [rad].

    returns : (2,) station and height [m]
    """
    body = replace(floating_body(lure), mass=mass)
    height = carrying_height(body, water_density, up_vector(pitch, 0.0))
    centre = immersed(body, pitch, 0.0, height).centre
    return np.array([centre[0], centre[2]])
