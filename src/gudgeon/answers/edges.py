"""The edge of a silhouette to a fraction of a pixel, and how soft it is all round.

A first contour runs where the picture is half way between ground and object. Then the edge is looked at across, place
by place: it lies half way between the level just inside and the level just outside *there*, so that neither a shadow
nor a pale belly moves it.
"""

from dataclasses import dataclass

import numpy as np
from contourpy import LineType, contour_generator
from numpy.typing import NDArray
from scipy import ndimage

from gudgeon.answers.picture import Light
from gudgeon.answers.silhouette import Silhouette
from gudgeon.errors import Fault, NoAnswer

Array = NDArray[np.float64]

_SMOOTHING = 0.8  # pixels, against grain, ahead of the first contour
_REACH = 14.0  # pixels looked at to either side
_STEP = 0.5  # pixels between looks
_ALONG = 2.5  # pixels along the edge over which looks are averaged
_ROUNDS = 2
_LINE_SMOOTHING, _LINE_ROUNDS = 4.0, 3  # of a drawn line: pixels, and looks at it
_SOFT = 1.6  # times the softness of the edge's sharper places
_LEAST_SOFT = 0.01  # of the edge
_DARKEST = 0.8  # of a shadow that an edge can still be seen in
_SHADED = 0.1  # level beside an edge from which it is taken for a shadow's, which fades away from the edge
_STEEPEST = 0.1  # a pixel: how fast
_FLATTENS = 0.6  # of that change goes on up to the edge itself; our own, from shadows with blurs of 2 to 10 pixels
_SHADOW = 40.0  # pixels inward that an edge is looked for under a shadow
_LEAST_AROUND = 60  # points of a contour worth having
_QUARTERS_OF_A_BLUR = 1.349  # from a quarter to three quarters of a Gaussian step, in its standard deviations


@dataclass(frozen=True, eq=False)
class Edge:
    """A closed outline.

    points : (n, 2) [pixels] column and row, the first not repeated; pixel 0 reaches from 0 to 1
    softness : (n,) [pixels] from a quarter to three quarters of the way across the edge
    beside   : (n,) the level just outside it: 0 the ground's own, 1 the object's
    """

    points: Array
    softness: Array
    beside: Array


def edge_of(found: Silhouette) -> Edge:
    """The edge of a silhouette.

    raises : NoAnswer when there is no closed one
    """
    points = _even(_first(found.field))
    if found.is_line:
        return _line_middle(found, points)
    reach = _reach(found.shade, points)
    off, softness, _ = _across(found.shade, points, reach)
    soft = _is_soft(softness)
    if soft.mean() > _LEAST_SOFT:
        level = 0.5 * (1.0 + _shadow_level(found.shade, points, soft, reach))
        points = _even(_first(found.field, level))
        off, _, _ = _across(found.shade, points, reach)
    for _ in range(_ROUNDS):
        points = points + off[:, None] * _outward(points)
        off, softness, beside = _across(found.shade, points, reach)
    return Edge(points + off[:, None] * _outward(points), softness, beside)


def _first(field: Light, level: float = 0.5) -> Array:
    """The longest closed contour at a level."""
    smooth = ndimage.gaussian_filter(np.pad(field.clip(-0.5, 1.5), 1), _SMOOTHING)
    lines = [np.asarray(line, dtype=np.float64)
             for line in contour_generator(z=smooth, line_type=LineType.Separate).lines(level)]  # fmt: skip
    longest = max(lines, key=len, default=np.zeros((0, 2)))
    if len(longest) < _LEAST_AROUND:
        words = "what lies between them has no edge that can be followed; a sharper picture, nearer, will do"
        raise NoAnswer("the picture was not traced", [Fault("nose, tail", words)])
    return longest[:-1] - 0.5  # contour coordinates are pixel middles; one is padding


def _even(points: Array) -> Array:
    """Points about a pixel apart along a closed line."""
    closed = np.vstack([points, points[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
    places = np.linspace(0.0, along[-1], max(_LEAST_AROUND, round(along[-1])), endpoint=False)
    return np.stack([np.interp(places, along, closed[:, axis]) for axis in (0, 1)], axis=1)


def _outward(points: Array) -> Array:
    """Unit normals (n, 2) that leave the outline."""
    smooth = ndimage.gaussian_filter1d(points, 3.0, axis=0, mode="wrap")
    ahead = np.roll(smooth, -1, axis=0) - np.roll(smooth, 1, axis=0)
    normal = np.stack([ahead[:, 1], -ahead[:, 0]], axis=1)
    normal /= np.maximum(np.hypot(*normal.T), 1e-9)[:, None]
    return normal if signed_area(points) > 0.0 else -normal


def signed_area(points: Array) -> float:
    """Area inside a closed line, positive where x turns toward y on the way round."""
    x, y = points.T
    return 0.5 * float(x @ np.roll(y, -1) - y @ np.roll(x, -1))


def _looks(shade: Light, points: Array, reach: float) -> tuple[Array, Array]:
    """The picture across the edge: offsets outward (k,) [pixels] and levels (n, k), averaged a little along it."""
    offsets = np.arange(-reach, reach + 0.5 * _STEP, _STEP)
    places = points[:, None, :] + offsets[None, :, None] * _outward(points)[:, None, :]
    levels = ndimage.map_coordinates(shade, [places[..., 1] - 0.5, places[..., 0] - 0.5], order=1, mode="nearest")
    return offsets, ndimage.gaussian_filter1d(np.asarray(levels, dtype=np.float64), _ALONG, axis=0, mode="wrap")


def _reach(shade: Light, points: Array) -> float:
    """How far to either side the levels inside and outside are read: past the blur, not into the next thing."""
    offsets, levels = _looks(shade, points, _REACH)
    middle = np.median(levels, axis=0)
    steep = np.maximum(-np.gradient(middle, offsets), 0.0)
    steep[steep < 0.05 * steep.max()] = 0.0
    centre = float(steep @ offsets / steep.sum())
    blur = float(np.sqrt(steep @ (offsets - centre) ** 2 / steep.sum()))
    return float(np.clip(2.5 * blur + 1.0, 3.0, _REACH - 2.0))


def _across(shade: Light, points: Array, reach: float) -> tuple[Array, Array, Array]:
    """How far outward (n,) [pixels] the edge lies, how soft it is (n,) [pixels], and the level beside it, all round."""
    offsets, levels = _looks(shade, points, reach + 2.0)
    inside = levels[:, (offsets >= -reach - 1.0) & (offsets <= -reach + 1.0)].mean(axis=1)
    outside = levels[:, (offsets >= reach - 1.0) & (offsets <= reach + 1.0)].mean(axis=1)
    shaded = outside > _SHADED
    if shaded.any():
        nearer, further = (levels[:, (offsets >= reach + step) & (offsets <= reach + 1.0 + step)].mean(axis=1)
                           for step in (-1.0, 0.0))  # fmt: skip
        carried_on = outside + _FLATTENS * reach * (nearer - further).clip(0.0, _STEEPEST)
        outside = np.where(shaded, np.minimum(carried_on, _DARKEST), outside)
    apart = np.maximum(inside - outside, 0.1)
    share = (levels - outside[:, None]) / apart[:, None]
    half = _crossing(offsets, share, 0.5)
    softness = np.abs(_crossing(offsets, share, 0.25) - _crossing(offsets, share, 0.75))
    sure = np.abs(half) <= reach
    off = np.where(sure, half, 0.0)
    return np.asarray(ndimage.gaussian_filter1d(off, 1.0, mode="wrap")), softness, outside


def _line_middle(found: Silhouette, points: Array) -> Edge:
    """The middle of a drawn line, from a contour along its outer side."""
    points = np.asarray(ndimage.gaussian_filter1d(points, _LINE_SMOOTHING, axis=0, mode="wrap"))
    for _ in range(_LINE_ROUNDS):
        offsets, levels = _looks(found.shade, points, found.line + 3.0)
        ink = levels.clip(0.0, 1.0)
        off = (ink @ offsets) / np.maximum(ink.sum(axis=1), 1e-6)
        points = _even(points + ndimage.gaussian_filter1d(off, 2.0, mode="wrap")[:, None] * _outward(points))
    return Edge(points, np.full(len(points), found.line), np.zeros(len(points)))


def _is_soft(softness: Array) -> NDArray[np.bool_]:
    """Where an edge is much softer than the sharper half of it: there the first contour ran along a shadow's."""
    return np.asarray(softness > _SOFT * np.percentile(softness, 25))


def _shadow_level(shade: Light, points: Array, soft: NDArray[np.bool_], reach: float) -> float:
    """How far from ground to object a shadow lies: the level just outside the steepest fall, inward of soft places."""
    offsets, levels = _looks(shade, points, _SHADOW)
    falls = -np.gradient(ndimage.gaussian_filter1d(levels, 0.4 * reach / _STEP / 2.5, axis=1), offsets, axis=1)
    falls[:, offsets > reach] = 0.0
    beside = (falls.argmax(axis=1) + round(reach / _STEP)).clip(0, len(offsets) - 1)
    return float(np.clip(np.percentile(levels[np.arange(len(points)), beside][soft], 90), 0.0, _DARKEST))


def _crossing(offsets: Array, share: Array, level: float) -> Array:
    """Where each look (n, k) falls through a level, nearest the middle: (n,) offsets, 0 where it does not."""
    falls = (share[:, :-1] >= level) & (share[:, 1:] < level)
    cost = np.where(falls, np.abs(offsets[:-1])[None, :], np.inf)
    place = cost.argmin(axis=1)
    row = np.arange(len(share))
    here, there = share[row, place], share[row, place + 1]
    part = (here - level) / np.maximum(here - there, 1e-9)
    return np.where(np.isfinite(cost[row, place]), offsets[place] + part * _STEP, 0.0)


def blur_of(softness: float) -> float:
    """Standard deviation of a Gaussian blur [pixels] that makes an edge so soft."""
    return softness / _QUARTERS_OF_A_BLUR
