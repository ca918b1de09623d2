"""Constants from tests: against the closed form of the linear case, and whether the ranges hold what they say."""

import numpy as np
import pytest

from gudgeon.physics.fitting import fitted

BEFORE, KNOWN = np.array([1.0, 0.6]), np.array([0.4, 0.1])
WIDE = {"least": np.array([-10.0, -10.0]), "most": np.array([10.0, 10.0])}


def test_a_linear_case_is_the_closed_form():
    """(A^T A + P)^-1 (A^T y + P x0), written out."""
    slopes = np.array([[1.0, 2.0], [0.5, -1.0], [3.0, 0.2]])
    measured, deviations = np.array([3.0, -0.4, 3.5]), np.array([0.1, 0.2, 0.4])
    found = fitted(lambda x: slopes @ x, before=BEFORE, before_deviations=KNOWN, measured=measured,
                   deviations=deviations, **WIDE)  # fmt: skip
    weighted = slopes / deviations[:, None]
    precision = weighted.T @ weighted + np.diag(1.0 / KNOWN**2)
    closed = np.linalg.solve(precision, weighted.T @ (measured / deviations) + BEFORE / KNOWN**2)
    assert found.values == pytest.approx(closed, rel=1e-9)
    assert found.covariance == pytest.approx(np.linalg.inv(precision), rel=1e-9)


def test_without_measurements_nothing_is_learned():
    found = fitted(lambda x: np.zeros(0), before=BEFORE, before_deviations=KNOWN, measured=np.zeros(0),
                   deviations=np.zeros(0), **WIDE)  # fmt: skip
    assert found.values == pytest.approx(BEFORE)
    assert found.deviations == pytest.approx(KNOWN)


def test_what_cannot_be_computed_is_left_out():
    found = fitted(lambda x: np.array([x[0], np.nan]), before=BEFORE, before_deviations=KNOWN,
                   measured=np.array([1.5, 7.0]), deviations=np.array([0.01, 0.01]), **WIDE)  # fmt: skip
    assert found.values[0] == pytest.approx(1.5, abs=0.01)
    assert found.values[1] == pytest.approx(BEFORE[1])
    assert np.isnan(found.left[1])


def test_no_constant_leaves_what_it_can_be():
    found = fitted(lambda x: x[:1], before=BEFORE, before_deviations=KNOWN, measured=np.array([9.0]),
                   deviations=np.array([0.01]), least=np.array([0.0, 0.0]), most=np.array([1.2, 1.0]))  # fmt: skip
    assert found.values[0] == pytest.approx(1.2)


def test_ranges_hold_the_truth_as_often_as_they_say():
    """Invented truths drawn from what was known, measured with errors: 95 in 100 within two deviations."""
    numbers = np.random.default_rng(5)
    speeds = np.array([0.5, 1.0, 1.5])
    inside = 0
    for _ in range(300):
        truth = BEFORE + KNOWN * numbers.standard_normal(2)

        def beats(x):
            return 1.7 * speeds * x[0] ** 0.3 * np.exp(0.4 * x[1] * speeds)

        deviations = np.full(3, 0.08)
        seen = beats(np.maximum(truth, 0.05)) + deviations * numbers.standard_normal(3)
        found = fitted(beats, before=BEFORE, before_deviations=KNOWN, measured=seen, deviations=deviations,
                       least=np.array([0.05, -1.0]), most=np.array([5.0, 3.0]))  # fmt: skip
        inside += int(np.sum(np.abs(found.values - truth) <= 2.0 * found.deviations))
    assert 0.92 <= inside / 600 <= 0.98
