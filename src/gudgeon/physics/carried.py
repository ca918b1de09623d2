"""What each piece of a lure carries: mass, centre, inertia and water displaced, from the ledger as it is now known.

Wood, sealer and coats are spread out as the body is; plates as their outline; all else is a point where the ledger has
it, a hook at its hanger. Water that stands in joint gaps and slots is not the lure's. In the lure's frame: x aft, y
right, z up.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from gudgeon.physics.hull import Hull
from gudgeon.physics.lure import Lure
from gudgeon.physics.mass import Item
from gudgeon.physics.quadrature import PANEL, POINTS, along, panel_edges
from gudgeon.physics.section import outlines
from gudgeon.physics.spread import Array

_SKIN_POINTS = 64


@dataclass(frozen=True, eq=False)
class Carried:
    """One rigid thing.

    mass            : [kg]
    centre          : (3,) [m] of the mass
    second_moment   : (3, 3) [kg m2] of the mass about its centre: the integral of (r - centre)(r - centre)^T
    volume          : [m3] displaced
    buoyancy_centre : (3,) [m]
    """

    mass: float
    centre: Array
    second_moment: Array
    volume: float
    buoyancy_centre: Array

    @property
    def inertia(self) -> Array:
        """(3, 3) [kg m2] about its centre, products negative."""
        tensor: Array = np.trace(self.second_moment) * np.eye(3) - self.second_moment
        return tensor


def joined(first: Carried, second: Carried) -> Carried:
    """Two things as one; the first displaces something."""
    mass, volume = first.mass + second.mass, first.volume + second.volume
    centre = (first.mass * first.centre + second.mass * second.centre) / mass
    lift = (first.volume * first.buoyancy_centre + second.volume * second.buoyancy_centre) / volume
    moment = np.zeros((3, 3))
    for part in (first, second):
        arm = part.centre - centre
        moment += part.second_moment + part.mass * np.outer(arm, arm)
    return Carried(mass, centre, moment, volume, lift)


def carried(lure: Lure, flat: Mapping[str, Array], *, without: str = "") -> tuple[Carried, ...]:
    """What each piece of wood carries, hooks and all.

    flat    : name of a plate -> (3, 3) [m2] its second moments about its own centre over its area
    without : name of what is left out
    returns : one a piece; together the lure's own sums
    """
    ledger = lure.ledger
    masses, _ = ledger.item_masses(lure.knowledge)
    stays = np.array([item.name != without for item in ledger.items])
    wood = {item.segment: np.asarray(item.spread_out) for item in ledger.items if item.kind == "wood"}
    found = []
    for piece, segment in enumerate(lure.segments):
        mask = lure.chosen(segment=piece) & stays
        own = np.flatnonzero(mask)
        skin = skin_spread(lure.hull, segment.start, segment.stop)
        spreads = {"sealer": wood[piece], "coat": skin}
        moment = _second_moment([ledger.items[place] for place in own], masses[own], spreads, flat)
        sums = lure.sums(mask)
        found.append(Carried(sums.mass, sums.weight_centre, moment, sums.volume, sums.buoyancy_centre))
    return tuple(found)


def _second_moment(items: list[Item], masses: Array, spreads: Mapping[str, Array], flat: Mapping[str, Array]) -> Array:
    """About the common centre of items that stand where they were put, with masses (n,) [kg] as known."""
    places = np.array([item.place for item in items])
    arms = places - masses @ places / masses.sum()
    moment: Array = np.einsum("i,ij,ik->jk", masses, arms, arms)
    for item, mass in zip(items, masses, strict=True):
        own = flat.get(item.name, spreads.get(item.kind, item.spread_out))
        if own is not None:
            moment = moment + mass * np.asarray(own)
    return moment


def skin_spread(hull: Hull, start: float, stop: float) -> Array:
    """Second moments of the skin between two stations [m] about its own centre over its area: (3, 3) [m2].

    Each section's girth is summed as a polygon; the skin's slope along the body is left out.
    """
    body = (hull.start, hull.length)
    x, weights = along(panel_edges((start, stop), hull.breaks, body, PANEL), POINTS, body)
    rings = outlines(hull.sections(x), _SKIN_POINTS)
    ends = np.roll(rings, -1, axis=1)
    middles, lengths = 0.5 * (rings + ends), np.linalg.norm(ends - rings, axis=2) * weights[:, None]
    along_body = np.broadcast_to(x[:, None, None], (*middles.shape[:2], 1))
    places = np.concatenate([along_body, middles], axis=2).reshape(-1, 3)
    share = lengths.ravel() / lengths.sum()
    arms = places - share @ places
    spread: Array = np.einsum("i,ij,ik->jk", share, arms, arms)
    return spread
