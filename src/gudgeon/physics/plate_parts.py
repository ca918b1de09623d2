"""A flat plate taken apart: how far its area lies from its centre, and its strips side by side."""

from itertools import pairwise

import numpy as np

from gudgeon.physics.plate import Plate, area_and_centre, cut_at
from gudgeon.physics.spread import Array


def plate_spread(plate: Plate) -> Array:
    """Second moments of a flat plate about its own centre per area: (2, 2) [m2] along its two axes.

    source : exact for a polygon, triangles from the centre to each side
    """
    _, centre = area_and_centre(plate.outline)
    here = plate.outline - np.asarray(centre)
    after = np.roll(here, -1, axis=0)
    twice = here[:, 0] * after[:, 1] - after[:, 0] * here[:, 1]
    both = here + after
    second = (twice[:, None, None] * (here[:, :, None] * here[:, None, :] + after[:, :, None] * after[:, None, :]
                                      + both[:, :, None] * both[:, None, :])).sum(axis=0) / 24.0  # fmt: skip
    return np.asarray(second / (0.5 * twice.sum()))


def elements_across(plate: Plate, count: int) -> list[Plate]:
    """A plate parted into so many strips of equal width, from its second axis' low end to its high one."""
    low, high = float(plate.outline[:, 1].min()), float(plate.outline[:, 1].max())
    edges = np.linspace(low, high, count + 1)
    found = []
    for bottom, top in pairwise(edges.tolist()):
        kept = -cut_at(-cut_at(plate.outline, bottom, 1), -top, 1)
        if len(kept) >= 3 and area_and_centre(kept)[0] > 0.0:
            found.append(Plate(kept))
    return found
