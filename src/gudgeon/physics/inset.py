"""A curve set in by the thickness of a coat: how far a disc of that radius, rolled inside, leaves its centre."""

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer
from gudgeon.physics.outline import Curve, DrawnCurve, ScaledCurve

Array = NDArray[np.float64]

# Where the disc may touch, as shares of its radius: between two of these it is missed by at most 0.03 % of that.
_REACH = np.sin(np.linspace(-0.5 * np.pi, 0.5 * np.pi, 65))
_PARTS = 32
_SHUT = 1e-9  # share of the length below which nothing is left


def inset_sizes(curve: Curve, stations: Array, ends: tuple[float, float], by: float) -> Array:
    """The size (k,) [m] of the curve set in by `by` [m] along its normal, at each station.

    stations : (k,) [m]  at least `by` inside the ends
    ends     : stations [m] of nose and tail
    The highest place for the centre of a disc that nowhere passes the curve: the least over u of h(x + u) less
    sqrt(by^2 - u^2). Where the curve bends less tightly than the disc this is the curve moved along its normal; in a
    tip too tight for the disc it is where the two moved sides meet.
    """
    touching = np.clip(stations[:, None] + by * _REACH, *ends)  # for rounding at the ends
    heights = curve(touching.ravel()).reshape(touching.shape)
    sizes: Array = (heights - by * np.sqrt(1.0 - _REACH**2)).min(axis=1)
    return sizes


def inset_ends(back: Curve, belly: Curve, side: Curve, ends: tuple[float, float], by: float) -> tuple[float, float]:
    """The stations [m] where a body set in by `by` [m] begins and stops.

    raises : NoAnswer when nothing is left, or what is left falls apart
    """
    under = ScaledCurve(belly, -1.0)
    length = ends[1] - ends[0] - 2.0 * by

    def is_open(stations: Array) -> NDArray[np.bool_]:
        depth = inset_sizes(back, stations, ends, by) + inset_sizes(under, stations, ends, by)
        return np.minimum(inset_sizes(side, stations, ends, by), 0.5 * depth) > _SHUT * length

    x = ends[0] + by + max(length, 0.0) * np.sin(np.linspace(0.0, 0.5 * np.pi, 41)) ** 2
    places = np.flatnonzero(is_open(x)) if length > 0.0 else np.array([], dtype=int)
    if not places.size or len(places) != places[-1] - places[0] + 1:
        raise NoAnswer(f"a coat of {1000.0 * by:.3g} mm leaves no wood in the thinnest places; "
                       "give the dry thickness of one coat, or a fuller body")  # fmt: skip
    found = []
    for closed, opened in ((places[0] - 1, places[0]), (places[-1] + 1, places[-1])):
        if not 0 <= closed < len(x):  # a flat end
            found.append(float(x[opened]))
            continue
        shut, free = x[closed], x[opened]
        for _ in range(6):  # so many parts at a time, to 1e-9 of the first gap
            parts = np.linspace(shut, free, _PARTS + 1)
            first = int(np.argmax(is_open(parts)))
            shut, free = parts[max(first - 1, 0)], parts[first]
        found.append(float(shut))
    return found[0], found[1]


def is_round_at(sizes: Array, end: Literal["nose", "tail"]) -> bool:
    """Whether a curve ends as a root of the distance there, not as a straight line.

    sizes : (k,) at cosine-spaced stations: the second is four times as far from the end as the first, so the change of
            size is twice as great for a root and four times for a line
    """
    first, second, third = sizes[:3] if end == "nose" else sizes[:-4:-1]
    near, far = abs(float(second - first)), abs(float(third - first))
    return near > 0.0 and far < np.sqrt(8.0) * near


def drawn_as_found(stations: Array, sizes: Array) -> DrawnCurve:
    """The curve through sizes (k,) at cosine-spaced stations (k,) [m], its ends round where they are found so."""
    return DrawnCurve(
        stations, sizes, length=float(stations[-1] - stations[0]), start=float(stations[0]),
        nose="round" if is_round_at(sizes, "nose") else "pointed",
        tail="round" if is_round_at(sizes, "tail") else "pointed",
        closes=(float(sizes[0]), float(sizes[-1])),
    )  # fmt: skip
