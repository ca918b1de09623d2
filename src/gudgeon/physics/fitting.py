"""Constants from tests at the water: least squares of what was measured, with what was known before held against it."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_ROUNDS = 6
_SETTLED = 0.02  # of a standard deviation: more than that no test can tell
_STEP = 0.25  # of a standard deviation: simulated beats scatter, so a slope is taken over a wide stretch


@dataclass(frozen=True)
class Fitted:
    """Constants as they are known once tests are taken in.

    values     : (k,)
    covariance : (k, k)
    left       : (n,) measured less computed with those values, in standard deviations of the measurement; not a
                 number where nothing can be computed
    """

    values: Array
    covariance: Array
    left: Array

    @property
    def deviations(self) -> Array:
        """(k,) standard deviations."""
        return np.sqrt(np.diag(self.covariance))


def fitted(
    function: Callable[[Array], Array], *, before: Array, before_deviations: Array, measured: Array, deviations: Array,
    least: Array, most: Array,
) -> Fitted:  # fmt: skip
    """The most likely constants, normal errors all round.

    function : of (k,) constants, giving (n,) what should be measured; what is not a number is left out
    before, before_deviations : (k,) constants and their standard deviations without the tests
    measured, deviations : (n,)
    least, most : (k,) what the constants can be
    method   : Gauss-Newton on the measured and the prior together, slopes by central differences of a quarter deviation
    source   : Tarantola, Inverse Problem Theory (2005), chapter 3: the normal approximation at the most likely point
    """
    values = before.astype(float).copy()
    weight_before = np.diag(1.0 / before_deviations**2)
    for _ in range(_ROUNDS):
        slopes, residual = _slopes(function, values, before_deviations, (measured, deviations), (least, most))
        precision = slopes.T @ slopes + weight_before
        step = np.linalg.solve(precision, slopes.T @ residual - weight_before @ (values - before))
        after = np.clip(values + step, least, most)
        moved = np.abs(after - values) / before_deviations
        values = after
        if float(moved.max(initial=0.0)) < _SETTLED:
            break
    slopes, _ = _slopes(function, values, before_deviations, (measured, deviations), (least, most))
    left = (measured - function(values)) / deviations
    return Fitted(values, np.asarray(np.linalg.inv(slopes.T @ slopes + weight_before), dtype=np.float64), left)


def _slopes(
    function: Callable[[Array], Array], values: Array, scale: Array, seen: tuple[Array, Array],
    bounds: tuple[Array, Array],
) -> tuple[Array, Array]:  # fmt: skip
    """Slopes (n, k) and residuals (n,) over the measurements' deviations; nought where nothing can be computed."""
    measured, deviations = seen
    least, most = bounds
    columns = []
    for place in range(len(values)):
        up, down = values.copy(), values.copy()
        up[place] = min(values[place] + _STEP * scale[place], most[place])
        down[place] = max(values[place] - _STEP * scale[place], least[place])
        columns.append((function(up) - function(down)) / (up[place] - down[place]) / deviations)
    residual = (measured - function(values)) / deviations
    slopes = np.stack(columns, axis=1)
    known = np.isfinite(residual) & np.isfinite(slopes).all(axis=1)
    return np.where(known[:, None], slopes, 0.0), np.where(known, residual, 0.0)
