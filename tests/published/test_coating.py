"""Coats by plain arithmetic."""

import pytest

from gudgeon.physics.coating import coat_mass, coverage
from gudgeon.units import FOOT, INCH


@pytest.mark.source("231 in3 in a US gallon over a thousandth of an inch", where="calculation; a page prints 1608")
def test_what_a_gallon_covers() -> None:
    assert coverage(231.0 * INCH**3, INCH / 1000.0) / FOOT**2 == pytest.approx(1604.17, rel=5e-4)


@pytest.mark.source("area x thickness x density", where="calculation")
def test_a_tenth_of_a_millimetre_on_a_hundred_square_centimetres() -> None:
    grams = 1000.0 * coat_mass(0.01, 0.1e-3, 1150.0)
    assert grams == pytest.approx(1.150, rel=1e-3)
    assert grams / 9.6 == pytest.approx(0.12, abs=0.001)
