"""Many small samples pooled: each group's mean, the mean of all groups, and the mean of a group not seen yet.

    record = mean of its group + scatter within + error of the measurement
    mean of a group = mean of all + scatter between

Every part is normal. The mean of all has the book's value and the book's spread to begin with; the two scatters are not
known, and are summed over on a grid, each with a half-t of four degrees as wide as the book expects it. So two records
leave a wide range, and two hundred a narrow one. A record is now and then a slip: each counts by how likely it is none,
judged against what all the others lead one to expect.

source : the normal hierarchical model, Gelman and others, Bayesian Data Analysis, 3rd edition (2013), sections 5.4, 5.5
         and 5.7 (half-t for the scatter between); tests/published/test_pooling.py. Slips: a mixture with one wide
         normal, Box and Tiao, Biometrika 55 (1968) 119-129, from memory; its share and width are our own
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from gudgeon.physics.spread import Array, Estimate

SLIPS = 0.02  # share of records that are slips, before anything is seen
SLIP_WIDTH = 10.0  # times as far out as a record that is none
_DEGREES = 4.0
_POINTS = 24
_REACH = (1e-3, 30.0)  # times the book's scatter
_SEEN = 1e-5  # of the likeliest point of an axis, below which nothing is looked at
_KEPT = 1e-6
_ROUNDS = 12
_SETTLED = 0.01
_HALVINGS = 30
_MIDDLING = 1.4826  # standard deviations of a normal in one median distance from its middle
_LEAST = 1e-6  # of the book's spread: what the arithmetic needs of a measurement that is never off


@dataclass(frozen=True)
class Book:
    """What is taken before anything is measured.

    value     : mean of all groups, and `deviation` the standard deviation it has
    between   : about what the means of groups scatter by, standard deviation; 0 where all are the same
    within    : the same of one record to the next in a group, beyond the error of measuring; 0 for none
    shared    : standard deviation of an error that all records have together
    """

    value: float
    deviation: float
    between: float
    within: float
    shared: float = 0.0


@dataclass(frozen=True)
class Mixture:
    """A number known as a sum of normals.

    weights, means, deviations : (k,) weights sum to 1
    """

    weights: Array
    means: Array
    deviations: Array

    @property
    def mean(self) -> float:
        """The expected value."""
        return float(self.weights @ self.means)

    @property
    def deviation(self) -> float:
        """Standard deviation."""
        return float(np.sqrt(self.weights @ (self.deviations**2 + (self.means - self.mean) ** 2)))

    def quantiles(self, shares: Sequence[float]) -> Array:
        """(n,) values below which it lies with probability `shares` (n,), by halving."""
        low = np.full(len(shares), (self.means - 9.0 * self.deviations).min())
        high = np.full(len(shares), (self.means + 9.0 * self.deviations).max())
        for _ in range(_HALVINGS):
            middle = 0.5 * (low + high)
            below = ndtr((middle[:, None] - self.means) / self.deviations) @ self.weights
            low, high = np.where(below < shares, middle, low), np.where(below < shares, high, middle)
        found: Array = 0.5 * (low + high)
        return found

    def range(self, share: float) -> Estimate:
        """The median, and the range that holds it with probability `share`, as much left over on either side."""
        middle, low, high = self.quantiles((0.5, 0.5 - 0.5 * share, 0.5 + 0.5 * share)).tolist()
        return Estimate(middle, low, high)


@dataclass(frozen=True)
class Pooled:
    """What the records say.

    middle  : mean of all groups        groups : mean of each, in the order of their numbers
    fresh   : mean of a group not seen yet      single : one piece of such a group
    between, within : the scatters, root of the mean square
    counted : (n,) how far each record counts: 1 in full, 0 for one that is taken for a slip
    """

    middle: Mixture
    groups: tuple[Mixture, ...]
    fresh: Mixture
    single: Mixture
    between: float
    within: float
    counted: Array


def pooled(values: Sequence[float], deviations: Sequence[float], groups: Sequence[int], book: Book) -> Pooled:
    """Records of several groups pooled.

    values     : (n,)       deviations : (n,) standard deviations of the measurements, same units
    groups     : (n,) 0, 1, 2, ... each with one record at least
    returns    : same units; with no records, what the book says
    """
    seen, owner = np.asarray(values, dtype=float), np.asarray(groups, dtype=int)
    errors = np.maximum(np.asarray(deviations, dtype=float), _LEAST * book.deviation)
    order = np.argsort(owner, kind="stable")
    starts = np.searchsorted(owner[order], np.arange(max(groups, default=-1) + 1))
    sample = _Sample(seen - book.value, errors**2, owner, order, starts, book)
    counted = _at_first(sample)
    for _ in range(_ROUNDS):
        fit = _fit(sample, counted)
        before, counted = counted, _unlikely_to_slip(sample, counted, fit)
        if float(np.abs(counted - before).max(initial=0.0)) < _SETTLED:
            break
    return _told(sample, counted, _fit(sample, counted))


@dataclass(frozen=True)
class _Sample:
    """The records, from the book's value: (n,) values, variances of measuring, and which group each is of.

    order, starts : (n,) the records group by group, and (g,) where each begins among them
    """

    values: Array
    errors: Array
    group: NDArray[np.int64]
    order: NDArray[np.int64]
    starts: NDArray[np.int64]
    book: Book

    def by_group(self, parts: Array) -> Array:
        """(..., g) sums over the records of each group; parts : (..., n)."""
        if not len(self.starts):
            return np.zeros((*parts.shape[:-1], 0))
        sums: Array = np.add.reduceat(parts[..., self.order], self.starts, axis=-1)
        return sums

    @property
    def prior(self) -> float:
        """Variance of the mean of all, the error that all records share counted with it."""
        return self.book.deviation**2 + self.book.shared**2


@dataclass(frozen=True)
class _Fit:
    """The grid: (k,) weights and squared scatters; per point and group (k, g) precision and mean of its records."""

    weights: Array
    between: Array
    within: Array
    precision: Array
    means: Array


def _axis(scale: float, low: float, high: float) -> tuple[Array, Array]:
    """Scatters (m,), and the logarithm of each one's share before anything is seen; evenly spread in the logarithm.

    The first stands for all from nothing to `low`.
    """
    if scale == 0.0:
        return np.zeros(1), np.zeros(1)
    points = np.geomspace(low, high, _POINTS)
    spacing = np.log(points[1] / points[0]) * points
    density = -0.5 * (_DEGREES + 1.0) * np.log1p((points / scale) ** 2 / _DEGREES)
    return np.r_[0.0, points], np.r_[np.log(low), density + np.log(spacing)]


def _fit(sample: _Sample, counted: Array) -> _Fit:
    """The grid over both scatters: first over all that can be, then over what turned out to be likely."""
    scales = (sample.book.between, sample.book.within)
    ends = [(_REACH[0] * scale, _REACH[1] * scale) for scale in scales]
    axes = [_axis(scale, *end) for scale, end in zip(scales, ends, strict=True)]
    weights = _weights(sample, counted, axes)[0]
    for place, (points, _) in enumerate(axes):
        along = weights.sum(axis=1 - place)
        likely = np.flatnonzero(along > _SEEN * along.max())
        low, high = max(likely[0] - 1, 1), min(likely[-1] + 1, len(points) - 1)
        if len(points) > 1:
            axes[place] = _axis(scales[place], points[low], max(points[high], 1.01 * points[low]))
    weights, precision, means = _weights(sample, counted, axes)
    between, within = np.meshgrid(axes[0][0] ** 2, axes[1][0] ** 2, indexing="ij")
    kept = weights.ravel() > _KEPT * weights.max()
    column = np.arange(weights.size)[kept] % weights.shape[1]
    share = weights.ravel()[kept]
    return _Fit(share / share.sum(), between.ravel()[kept], within.ravel()[kept], precision[column], means[column])


def _weights(sample: _Sample, counted: Array, axes: Sequence[tuple[Array, Array]]) -> tuple[Array, Array, Array]:
    """How likely each pair of scatters is (t, s), and per scatter within and group: precision and mean (s, g)."""
    (between, before), (within, before_within) = axes
    variances = within[:, None] ** 2 + sample.errors
    parts = counted / variances
    precision = np.maximum(sample.by_group(parts), 1e-12 / sample.prior)
    means = sample.by_group(parts * sample.values) / precision
    square = parts @ sample.values**2 - (precision * means**2).sum(axis=1)
    alone = -0.5 * (np.log(variances) @ counted + square + np.log(precision).sum(axis=1))
    variances = between[:, None, None] ** 2 + 1.0 / precision
    total = (1.0 / variances).sum(axis=2) + 1.0 / sample.prior
    middle = (means / variances).sum(axis=2) / total
    square = (means**2 / variances).sum(axis=2) - total * middle**2
    together = -0.5 * (np.log(variances).sum(axis=2) + np.log(total) + square)
    likely = together + alone + before[:, None] + before_within
    return np.exp(likely - likely.max()), precision, means


def _at_first(sample: _Sample) -> Array:
    """How far each record counts to begin with: by the book's scatters, or by the middling distance if that is more."""
    if not len(sample.values):
        return np.zeros(0)
    book, middle = sample.book, float(np.median(sample.values))
    width = np.sqrt(book.between**2 + book.within**2 + sample.errors)
    middling = _MIDDLING * float(np.median(np.abs(sample.values - middle)))
    return _none_slips((sample.values - middle) / np.maximum(width, middling))


def _none_slips(distance: Array) -> Array:
    """How likely a record so many standard deviations away is no slip."""
    good = (1.0 - SLIPS) * np.exp(-0.5 * distance**2)
    bad = SLIPS / SLIP_WIDTH * np.exp(-0.5 * (distance / SLIP_WIDTH) ** 2)
    likely: Array = good / (good + np.maximum(bad, 1e-300))
    return likely


def _unlikely_to_slip(sample: _Sample, counted: Array, fit: _Fit) -> Array:
    """How far each record counts, judged by all the others, with the scatters at their root of the mean square."""
    between, within = float(fit.weights @ fit.between), float(fit.weights @ fit.within)
    parts = counted / (within + sample.errors)
    precision, sums = sample.by_group(parts), sample.by_group(parts * sample.values)
    safe = np.maximum(precision, 1e-300)
    pull = precision / (1.0 + between * precision)
    total, lean = 1.0 / sample.prior + pull.sum(), (pull * sums / safe).sum()
    group = sample.group
    others = total - pull[group]
    expected = (lean - (pull * sums / safe)[group]) / others
    before = 1.0 / (between + 1.0 / others)
    kin = np.maximum(precision[group] - parts, 0.0)
    mean = (before * expected + sums[group] - parts * sample.values) / (before + kin)
    variance = 1.0 / (before + kin) + within + sample.errors
    return _none_slips((sample.values - mean) / np.sqrt(variance))


def _told(sample: _Sample, counted: Array, fit: _Fit) -> Pooled:
    """The mixtures, at each point of the grid a normal; an error shared by all records taken off again."""
    book = sample.book
    variances = fit.between[:, None] + 1.0 / fit.precision
    total = (1.0 / variances).sum(axis=1) + 1.0 / sample.prior
    middle, variance = (fit.means / variances).sum(axis=1) / total, 1.0 / total
    own = book.deviation**2 / sample.prior  # of what is seen of the mean, the part that is not the shared error
    shared = own * book.shared**2
    mean, known = book.value + own * middle, own**2 * variance + shared

    def group(place: int) -> Mixture:
        pull = fit.between / variances[:, place]  # how far its own records count against the mean of all
        stays = own - pull
        return _mixture(fit.weights, book.value + pull * fit.means[:, place] + stays * middle,
                        pull / fit.precision[:, place] + stays**2 * variance + shared)  # fmt: skip

    return Pooled(
        middle=_mixture(fit.weights, mean, known), groups=tuple(group(place) for place in range(variances.shape[1])),
        fresh=_mixture(fit.weights, mean, known + fit.between),
        single=_mixture(fit.weights, mean, known + fit.between + fit.within),
        between=float(np.sqrt(fit.weights @ fit.between)), within=float(np.sqrt(fit.weights @ fit.within)),
        counted=_frozen(counted),
    )  # fmt: skip


def _mixture(weights: Array, means: Array, variances: Array) -> Mixture:
    return Mixture(_frozen(weights), _frozen(means), _frozen(np.sqrt(variances)))


def _frozen(values: NDArray[np.float64]) -> Array:
    held = np.array(values, dtype=float)
    held.setflags(write=False)
    return held
