"""How the input's uncertainty becomes the answer's: derivatives where it is smooth, samples where a class changes.

Everything uncertain is a *source*, counted in its own half-widths: 0 is the value as given, and about 19 times in
20 the truth lies between -1 and +1. What is known of all sources together is a normal distribution with mean
and covariance; a measurement conditions it, so that what was measured takes the place of what was computed in the
measure in which it is the surer of the two.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.estimate import Estimate as Estimate
from gudgeon.physics.estimate import around as around
from gudgeon.physics.estimate import exactly as exactly
from gudgeon.physics.estimate import propagated as propagated
from gudgeon.physics.estimate import root_sum_square as root_sum_square

Array = NDArray[np.float64]

SAMPLES = 1000
SEED = 20011


@dataclass(frozen=True)
class Knowledge:
    """What is known of the sources together.

    sources    : (k,) what each is, in the maker's words
    mean       : (k,) [half-widths]
    covariance : (k, k) [half-widths squared]
    """

    sources: tuple[str, ...]
    mean: Array
    covariance: Array

    def given(self, direction: Array, difference: float, spread: float) -> "Knowledge":
        """What is known once a sum of sources was measured.

        direction  : (k,) change of the measured quantity per half-width of each source
        difference : measured minus what it should be with every source at 0
        spread     : half-width of the measurement, same units
        source     : the normal distribution's conditioning (Kalman's update of a linear observation)
        """
        sensitivity = self.covariance @ direction
        variance = float(direction @ sensitivity) + spread * spread
        if variance <= 0.0:
            return self
        gain = sensitivity / variance
        mean = self.mean + gain * (difference - float(direction @ self.mean))
        covariance = self.covariance - np.outer(gain, sensitivity)
        return Knowledge(self.sources, mean, 0.5 * (covariance + covariance.T))

    def beside(self, sources: Sequence[str]) -> "Knowledge":
        """With further sources, each on its own and known as given."""
        old, more = len(self.sources), len(sources)
        covariance = np.eye(old + more)
        covariance[:old, :old] = self.covariance
        return Knowledge((*self.sources, *sources), np.r_[self.mean, np.zeros(more)], covariance)

    def half_width(self, direction: Array) -> float:
        """Half-width of a sum of sources; direction : (k,)."""
        return math.sqrt(max(0.0, float(direction @ self.covariance @ direction)))

    def half_width_given(self, direction: Array, measured: Array, spread: float) -> float:
        """Half-width of one sum of sources once another sum of them has been measured to within `spread`."""
        shared = float(direction @ self.covariance @ measured)
        variance = float(measured @ self.covariance @ measured) + spread * spread
        left = self.half_width(direction) ** 2 - (shared * shared / variance if variance > 0.0 else 0.0)
        return math.sqrt(max(0.0, left))


@cache
def _normal(count: int) -> Array:
    """(n, count) standard normal numbers; drawn once, so that the same question always has the same answer.

    Each column has one number from each of n equally likely layers, in an order of its own: what nearly goes with one
    source alone then has its range right at once.
    source : Latin hypercube sampling, McKay, Beckman and Conover, Technometrics 21 (1979) 239-245
    """
    from scipy.special import ndtri

    layers = np.tile((np.arange(SAMPLES) + 0.5)[:, None] / SAMPLES, (1, count))
    numbers: Array = ndtri(np.random.default_rng(SEED).permuted(layers, axis=0))
    return numbers


def nothing_measured(sources: Sequence[str]) -> Knowledge:
    """Every source known only as given, each on its own."""
    count = len(sources)
    return Knowledge(tuple(sources), np.zeros(count), np.eye(count))


def directions(function: Callable[[Array], Array], state: Array, effects: Array) -> Array:
    """How a smooth function of a state moves with each source.

    function : of (..., c) states, giving (...,)
    state    : (c,)
    effects  : (k, c) change of the state per half-width of each source
    returns  : (k,) change of the function per half-width, by central differences
    """
    moved: Array = 0.5 * (function(state + effects) - function(state - effects))
    return moved


def smooth(function: Callable[[Array], Array], state: Array, effects: Array, knowledge: Knowledge) -> Estimate:
    """A smooth function of the state as now known, with its range; arguments as for `directions`."""
    return around(float(function(state)), knowledge.half_width(directions(function, state, effects)))


def draws(state: Array, effects: Array, knowledge: Knowledge) -> Array:
    """(n, c) states drawn from what is known, the same ones every time; arguments as for `directions`."""
    spread = effects.T @ knowledge.covariance @ effects / 4.0  # half-widths are two standard deviations
    scale = np.sqrt(np.maximum(np.diag(spread), 0.0))
    safe = np.where(scale > 0.0, scale, 1.0)
    values, vectors = np.linalg.eigh(spread / np.outer(safe, safe))
    root = (vectors * np.sqrt(np.maximum(values, 0.0))).T * scale
    drawn: Array = state + _normal(len(state)) @ root
    return drawn


def sampled(values: Array, middle: float) -> Estimate:
    """The range that holds 95 in 100 of the samples, about the value computed from the inputs as known."""
    tail = round(0.025 * (len(values) - 1))
    ordered = np.partition(values, (tail, len(values) - 1 - tail))
    low, high = float(ordered[tail]), float(ordered[-1 - tail])
    return Estimate(middle, min(low, middle), max(high, middle))
