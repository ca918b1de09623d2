"""Eight numbers at once do what NumPy does with each."""

import numpy as np
import pytest
from numba import njit

from gudgeon.kernels.lanes import (
    LANES,
    any_of,
    both,
    cosine,
    least,
    load,
    most,
    root,
    select,
    sine,
    size,
    store,
)

NUMBERS = np.random.default_rng(3)


@njit
def everything(rows, out):
    a, b = load(rows, 0), load(rows, 1)
    store(out, 0, a + b)
    store(out, 1, a - 2.0 * b)
    store(out, 2, -(a * b))
    store(out, 3, a / b + 1)
    store(out, 4, 3.0 / size(b))
    store(out, 5, least(a, b))
    store(out, 6, most(a, 0.25))
    store(out, 7, root(size(a)))
    store(out, 8, sine(a))
    store(out, 9, cosine(b))
    store(out, 10, select(both(a > 0.0, b < 0.5), a, -1.0))
    store(out, 11, 7.0)
    return any_of(a > 0.9), any_of(a > 5.0)


def test_arithmetic_is_numpys() -> None:
    rows = NUMBERS.uniform(-1.0, 1.0, (2, LANES))
    rows[0, 2] = 0.95
    out = np.zeros((12, LANES))
    some, none = everything(rows, out)
    a, b = rows
    expected = [a + b, a - 2.0 * b, -(a * b), a / b + 1.0, 3.0 / np.abs(b), np.minimum(a, b), np.maximum(a, 0.25),
                np.sqrt(np.abs(a)), np.sin(a), np.cos(b), np.where((a > 0.0) & (b < 0.5), a, -1.0),
                np.full(LANES, 7.0)]  # fmt: skip
    assert out == pytest.approx(np.stack(expected), rel=1e-15)
    assert (some, none) == (True, False)


def test_a_comparison_with_no_number_is_no() -> None:
    rows = np.full((2, LANES), np.nan)
    out = np.zeros((12, LANES))
    some, _ = everything(rows, out)
    assert not some
    assert (out[10] == -1.0).all()
