"""A lip as flat plates side by side, in the frame of the piece it stands in.

Its angle is the design's: between lip and body axis, 0 straight ahead and 90 degrees straight down. Out from the body
it runs along (cos, 0, sin) of that angle (x forward, z down), and the water strikes the side whose normal is (sin, 0,
-cos): forward and up, so that the push is aft and down and the lure dives.
"""

import math

import numpy as np

from gudgeon.design.hardware import Lip
from gudgeon.physics.plate import Plate, lip_plate
from gudgeon.physics.plate_parts import elements_across, plate_spread
from gudgeon.physics.spread import Array

ELEMENTS = 5
"""Plates a lip is parted into across its width, each with the flow it meets there: yawing and rolling are braked."""


def lip_shown(lip: Lip) -> Plate | None:
    """What stands out of the drawn body: outward from it, and to the right; None for one that is all in its slot."""
    return lip_plate(lip.shape, exposed=lip.exposed, set_in=lip.set_in, width=lip.width).beyond(0.0, axis=0)


def aspect_ratio(shown: Plate) -> float:
    """Width of a lip squared over its area."""
    return float(np.ptp(shown.outline[:, 1])) ** 2 / shown.area


def lip_elements(lip: Lip, shown: Plate, origin: tuple[float, float]) -> tuple[Array, Array, Array, Array]:
    """Place (n, 3) [m], normal (n, 3), chord (n, 3) [m] and area (n,) [m2] of each plate of a lip.

    origin : (2,) [m] station and height of the front end of its piece
    returns : in that piece's frame, x forward, y to starboard, z down; the chord from the front edge to the body
    """
    outward = np.array([math.cos(lip.angle), 0.0, math.sin(lip.angle)])
    normal = np.array([math.sin(lip.angle), 0.0, -math.cos(lip.angle)])
    root = np.array([origin[0] - lip.at, 0.0, origin[1] - lip.height])
    parts = elements_across(shown, ELEMENTS)
    areas = np.array([part.area for part in parts])
    centres = np.array([part.centre for part in parts])
    wide = np.array([float(np.ptp(part.outline[:, 1])) for part in parts])
    place = root + centres[:, :1] * outward + centres[:, 1:] * np.array([0.0, 1.0, 0.0])
    return place, np.tile(normal, (len(parts), 1)), -(areas / wide)[:, None] * outward, areas


def lip_spread(lip: Lip) -> Array:
    """(3, 3) [m2] second moments of the whole lip about its centre over its area, in the lure's frame."""
    flat = plate_spread(lip_plate(lip.shape, exposed=lip.exposed, set_in=lip.set_in, width=lip.width))
    axes = np.array([[-math.cos(lip.angle), 0.0, -math.sin(lip.angle)], [0.0, 1.0, 0.0]])
    return np.asarray(axes.T @ flat @ axes)
