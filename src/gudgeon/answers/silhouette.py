"""What stands out from its ground in a picture, between nose and tail: where it is, roughly, and how it is told apart.

The ground is seldom even: corners are darker, light falls from one side. So ground and object are each a smooth surface
fitted to what is surely one or the other, and a pixel is placed between the two: 0 the ground, 1 the object.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from gudgeon.answers.picture import Light, Picture
from gudgeon.errors import Fault, NoAnswer

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
Spot = tuple[float, float]

_COARSE = 500  # pixels on the long side, for finding the object
_ROUNDS = 3  # of fitting ground and object, and parting them anew
_LEAST_CONTRAST = 0.02  # of full light
_NOISES = 4.0  # times the ground's own unevenness that the object must stand out
_SEED_ENDS = (0.15, 0.85)  # of the way from nose to tail, surely inside
_SHADOW = 0.04  # of the object's length: what lies nearer its edge may be a shadow
_LARGEST_SHARE = 0.8  # of the picture


@dataclass(frozen=True, eq=False)
class Silhouette:
    """An object told from its ground.

    field   : (h, w) 0 on the ground, 1 on the object, in between at its edge; whatever else lies there taken for
              ground, whatever is painted on the object taken for object
    shade   : (h, w) the same as it is seen, nothing taken for anything
    is_line : whether only a line was drawn round it; the field is that of the filled outline then, line and all
    line    : width of that line [pixels]; 0 for a solid object
    """

    field: Light
    shade: Light
    is_line: bool
    line: float


def silhouette(picture: Picture, nose: Spot, tail: Spot) -> Silhouette:
    """The object that lies between two points of a picture.

    nose, tail : [pixels of picture.light]
    raises     : NoAnswer when nothing stands out there
    """
    step = -(-max(picture.light.shape[:2]) // _COARSE)
    coarse = _blocks(picture.light, step)
    ends = np.array([nose, tail]) / step
    seeds = _seeds(coarse.shape[:2], ends)
    rim = _rim(coarse.shape[:2])
    ground = np.stack([_Surface.fitted(coarse[..., colour], rim, 6).over(rim.shape) for colour in range(3)], axis=-1)
    way = np.median((coarse - ground)[seeds], axis=0)
    values = coarse @ _unit(way)
    noise = _noise((coarse - ground) @ _unit(way), rim)
    if float(np.linalg.norm(way)) < max(_LEAST_CONTRAST, _NOISES * noise):
        return _line_drawn(picture, ends, step)
    levels = (_Surface.fitted(values, rim, 6), _Surface.flat(float(np.median(values[seeds]))))
    mask = _part(values, levels, seeds)
    for _ in range(_ROUNDS):
        levels = _levels(values, mask, levels)
        mask = _part(values, levels, seeds)
    if mask.mean() > _LARGEST_SHARE:
        raise _nothing()
    shade = _placed(picture.light @ _unit(way).astype(np.float32), levels)
    return Silhouette(_alone(shade, mask, step), shade, False, 0.0)


@dataclass(frozen=True)
class _Surface:
    """A level that changes smoothly over the picture: powers of x and y, each -1 to 1 across it."""

    powers: tuple[float, ...]

    @classmethod
    def flat(cls, level: float) -> "_Surface":
        return cls((level,))

    @classmethod
    def fitted(cls, values: Array, where: Mask, count: int) -> "_Surface":
        """Through the values of a mask, those that stray left out: 3 powers a slope, 6 a bowl."""
        rows, columns = np.nonzero(where)
        keep = slice(None, None, max(1, len(rows) // 5_000))
        rows, columns = rows[keep], columns[keep]
        seen = values[rows, columns]
        matrix = np.stack(_terms(*_spread_over(values.shape, rows, columns))[:count], axis=1)
        off = np.abs(seen - np.median(seen))
        good = off <= 3.0 * max(1.48 * float(np.median(off)), 1e-4)
        for _ in range(4):
            kept = matrix[good]
            found = np.linalg.solve(kept.T @ kept + 1e-9 * np.eye(count), kept.T @ seen[good])
            off = np.abs(seen - matrix @ found)
            good = off <= 3.0 * max(1.48 * float(np.median(off[good])), 1e-4)
        return cls(tuple(float(power) for power in found))

    def over(self, shape: tuple[int, ...]) -> Light:
        """The level at every pixel of a picture."""
        rows, columns = np.ogrid[: shape[0], : shape[1]]
        x, y = _spread_over(shape, rows, columns)
        even, right, down, askew, across, upright = (*self.powers, *(0.0,) * 6)[:6]
        by_row, by_column = even + down * y + upright * y**2, right * x + across * x**2
        return np.asarray(by_row.astype(np.float32) + by_column.astype(np.float32)
                          + (askew * y).astype(np.float32) * x.astype(np.float32))  # fmt: skip


def _spread_over(shape: tuple[int, ...], rows: NDArray[np.intp], columns: NDArray[np.intp]) -> tuple[Array, Array]:
    return (2.0 * columns + 1.0) / shape[1] - 1.0, (2.0 * rows + 1.0) / shape[0] - 1.0


def _terms(x: Array, y: Array) -> list[Array]:
    return [np.ones(np.broadcast(x, y).shape), x, y, x * y, x**2, y**2]


def _blocks(light: Light, step: int) -> Array:
    """Means of blocks of step x step pixels."""
    high, wide = (side // step * step for side in light.shape[:2])
    cut = light[:high, :wide].astype(np.float64)
    return np.asarray(cut.reshape(high // step, step, wide // step, step, -1).mean(axis=(1, 3)))


def _unit(way: Array) -> Array:
    return np.asarray(way / max(float(np.linalg.norm(way)), 1e-9))


def _rim(shape: tuple[int, ...]) -> Mask:
    """A band along the picture's edge."""
    band = max(2, round(0.04 * min(shape)))
    rim = np.ones(shape, dtype=bool)
    rim[band:-band, band:-band] = False
    return rim


def _noise(values: Array, where: Mask) -> float:
    """How uneven the ground is from pixel to pixel, its smooth change taken off."""
    return 1.48 * float(np.median(np.abs(values[where])))


def _seeds(shape: tuple[int, ...], ends: Array) -> Mask:
    """What is surely of the object: along the line from nose to tail."""
    share = np.linspace(*_SEED_ENDS, 200)[:, None]
    columns, rows = np.floor(ends[0] + share * (ends[1] - ends[0])).astype(int).T
    seeds = np.zeros(shape, dtype=bool)
    seeds[rows.clip(0, shape[0] - 1), columns.clip(0, shape[1] - 1)] = True
    return seeds


def _placed(values: NDArray[np.floating], levels: tuple[_Surface, _Surface]) -> Light:
    """Every pixel between ground (0) and object (1)."""
    ground, object_ = (level.over(values.shape) for level in levels)
    apart = object_ - ground
    usual = float(np.median(apart[::8, ::8]))
    apart = np.maximum(apart, 0.2 * usual) if usual > 0.0 else np.minimum(apart, min(0.2 * usual, -1e-6))
    return np.asarray((values - ground) / apart, dtype=np.float32)


def _part(values: Array, levels: tuple[_Surface, _Surface], seeds: Mask) -> Mask:
    """The piece of what is nearer the object than the ground that most of the seeds lie in, holes filled.

    raises : NoAnswer when there is none
    """
    return _held(ndimage.binary_opening(_placed(values, levels) > 0.5), seeds)


def _held(near: Mask, seeds: Mask) -> Mask:
    """The piece of a mask that most of the seeds lie in, holes filled; raises NoAnswer when there is none."""
    pieces, count = ndimage.label(near)
    held = np.bincount(pieces[seeds], minlength=count + 1)[1:]
    if count == 0 or held.max(initial=0) < 0.3 * seeds.sum():
        raise _nothing()
    return np.asarray(ndimage.binary_fill_holes(pieces == 1 + int(held.argmax())))


def _levels(values: Array, mask: Mask, before: tuple[_Surface, _Surface]) -> tuple[_Surface, _Surface]:
    """Ground and object fitted anew, each well away from the edge between them."""
    reach = max(2, round(0.01 * max(mask.shape)))
    other = np.abs(_placed(values, before)) > 0.5
    ground = ~ndimage.binary_dilation(mask | ndimage.binary_opening(other), iterations=reach)
    inside = ndimage.binary_erosion(mask, iterations=reach)
    return (_Surface.fitted(values, ground, 6) if ground.sum() > 200 else before[0],
            _Surface.fitted(values, inside, 3) if inside.sum() > 100 else before[1])  # fmt: skip


def _alone(field: Light, mask: Mask, step: int) -> Light:
    """The field with every other thing in the picture taken for ground."""
    own = ndimage.binary_dilation(mask, iterations=max(3, round(0.012 * max(mask.shape))))
    rows, columns = (np.minimum(np.arange(side) // step, coarse - 1)
                     for side, coarse in zip(field.shape, mask.shape, strict=True))  # fmt: skip
    inner = ndimage.distance_transform_edt(mask) > max(4.0, _SHADOW * max(np.ptp(np.argwhere(mask), axis=0)))
    field = np.where(own[rows][:, columns], field, np.float32(0.0))
    return np.where(inner[rows][:, columns], np.maximum(field, np.float32(1.0)), field)


def _line_drawn(picture: Picture, ends: Array, step: int) -> Silhouette:
    """An outline drawn as a line on ground of the same tone within and without; raises NoAnswer where there is none."""
    grey = picture.light.mean(axis=2)
    ground = _Surface.fitted(grey, np.ones(grey.shape, dtype=bool), 6).over(grey.shape)
    ink = ground - grey
    if abs(float(np.percentile(ink, 0.3))) > float(np.percentile(ink, 99.7)):
        ink = -ink  # chalk on slate
    noise = 1.48 * float(np.median(np.abs(ink)))
    drawn = ink > max(_LEAST_CONTRAST, 2.0 * _NOISES * noise)
    if drawn.mean() < 1e-5 or drawn.mean() > _LARGEST_SHARE:
        raise _nothing()
    shade = np.asarray(ink / np.percentile(ink[drawn], 80), dtype=np.float32)
    line = _most(shade, step) > 0.5
    inside = ndimage.binary_fill_holes(ndimage.binary_closing(np.pad(line, 3), iterations=2))[3:-3, 3:-3] & ~line
    inside = _held(ndimage.binary_opening(inside), _seeds(line.shape, ends))
    own = ndimage.binary_dilation(inside, iterations=3)
    rows, columns = (np.minimum(np.arange(side) // step, coarse - 1)
                     for side, coarse in zip(shade.shape, line.shape, strict=True))  # fmt: skip
    full = np.where(own[rows][:, columns], shade, np.float32(0.0))
    width = float((full > 0.5).sum()) / _around(inside) / step
    filled = ndimage.binary_dilation(inside, iterations=1 + round(0.5 * width / step))
    return Silhouette(np.maximum(full, filled[rows][:, columns].astype(np.float32)), full, True, width)


def _most(shade: Light, step: int) -> Light:
    """The greatest of each block, so that a thin line is not lost."""
    high, wide = (-(-side // step) * step for side in shade.shape)
    padded = np.pad(shade, ((0, high - shade.shape[0]), (0, wide - shade.shape[1])), mode="edge")
    return np.asarray(padded.reshape(high // step, step, wide // step, step).max(axis=(1, 3)))


def _around(mask: Mask) -> float:
    """Length of a mask's edge [its pixels], corners cut: pi / 4 of the sides that are crossed."""
    crossed = (mask[1:] != mask[:-1]).sum() + (mask[:, 1:] != mask[:, :-1]).sum()
    return max(1.0, 0.25 * np.pi * float(crossed))


def _nothing() -> NoAnswer:
    words = ("nothing stands out between them; lay it on a ground much lighter or much darker than it is, and mark "
             "nose and tail on the object itself")  # fmt: skip
    return NoAnswer("the picture was not traced", [Fault("nose, tail", words)])
