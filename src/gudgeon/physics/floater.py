"""A lure as the flotation sees it: its sections with everything measured taken in, and what hangs outside them."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from gudgeon.physics.floating_balance import carrying_height
from gudgeon.physics.hull import SectionStack, section_stack
from gudgeon.physics.lure import Lure
from gudgeon.physics.spread import Array
from gudgeon.physics.waterplane import FloatingBody, immersed, up_vector

_SURFACE_KINDS = ("wood", "coat")  # what the drawn sections hold; all else that displaces water hangs outside them


def floating_body(lure: Lure, segments: Sequence[int] | None = None) -> FloatingBody:
    """A lure, or some of its segments, as a body that may float; fittings and hooks on."""
    pieces = list(range(len(lure.segments))) if segments is None else list(segments)
    stack = section_stack(lure.hull, [(lure.segments[place].start, lure.segments[place].stop) for place in pieces])
    return body_of(lure, pieces, stack)


def body_of(lure: Lure, pieces: Sequence[int], stack: SectionStack) -> FloatingBody:
    """The same over sections that are at hand.

    Each piece's sections are weighted so that they hold what its wood and coats are known to displace: a jug's
    reading and the vees of its joints are thereby spread along it.
    """
    ledger = lure.ledger
    _, volumes = ledger.item_masses(lure.knowledge)
    polygons = stack.polygons
    y, z = polygons[..., 0], polygons[..., 1]
    areas = 0.5 * np.abs((y * np.roll(z, -1, axis=1) - z * np.roll(y, -1, axis=1)).sum(axis=1))
    weights = stack.weights.copy()
    for order, piece in enumerate(pieces):
        known = sum(volume for item, volume in zip(ledger.items, volumes, strict=True)
                    if item.segment == piece and item.kind in _SURFACE_KINDS)  # fmt: skip
        own = stack.span == order
        weights[own] *= known / float((weights[own] * areas[own]).sum())
    outside = [(item.lift, volume) for item, volume in zip(ledger.items, volumes, strict=True)
               if item.segment in pieces and item.kind not in _SURFACE_KINDS and volume != 0.0]  # fmt: skip
    mask = np.array([item.segment in pieces for item in ledger.items])
    sums = lure.sums(mask)
    return FloatingBody(stack.stations, weights, polygons, np.array([place for place, _ in outside]).reshape(-1, 3),
                        np.array([volume for _, volume in outside]), sums.mass, sums.weight_centre)  # fmt: skip


def support_when_afloat(lure: Lure, water_density: float, mass: float, pitch: float) -> Array:
    """Where the buoyancy acts when the lure, ballasted to a mass [kg], floats at a pitch [rad].

    returns : (2,) station and height [m]
    """
    body = replace(floating_body(lure), mass=mass)
    height = carrying_height(body, water_density, up_vector(pitch, 0.0))
    centre = immersed(body, pitch, 0.0, height).centre
    return np.array([centre[0], centre[2]])
