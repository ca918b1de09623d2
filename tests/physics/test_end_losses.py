"""Two shares, of the whole and of its turning, met by one fall-off toward the ends."""

import numpy as np
import pytest

from gudgeon.physics.end_losses import end_loss

EDGES = -np.cos(np.linspace(0.0, np.pi, 41))
PLACES, WIDTHS = 0.5 * (EDGES[1:] + EDGES[:-1]), np.diff(EDGES)
MASSES = WIDTHS * (1.0 - PLACES**2)
SQUARES = PLACES**2 + WIDTHS**2 / 12.0


@pytest.mark.parametrize(("kept", "turning"), [(0.894, 0.728), (0.804, 0.517), (0.704, 0.299), (0.95, 0.95)])
def test_both_shares_are_met(kept, turning):
    shares = end_loss(PLACES, WIDTHS, MASSES, kept=kept, turning_kept=turning).shares(PLACES)
    assert (MASSES * shares).sum() == pytest.approx(kept * MASSES.sum())
    assert MASSES * shares @ SQUARES == pytest.approx(turning * (MASSES @ SQUARES), rel=1e-6)
    assert np.all(shares >= 0.0)


def test_an_ellipsoid_s_power_is_known():
    # masses (1 - s^2)^(1 + p) have mean square 1/(5 + 2 p): at five to one, 5 (k'/k'_strip)/k2 ... gives p = 0.57
    found = end_loss(PLACES, WIDTHS, MASSES, kept=0.8943, turning_kept=0.6999 / (25.0 / 26.0))
    assert 1.0 / (5.0 + 2.0 * found.power) == pytest.approx(0.2 * 0.6999 * 26.0 / 25.0 / 0.8943, rel=3e-3)


def test_a_turning_that_keeps_more_than_the_whole_is_the_same_share_everywhere():
    found = end_loss(PLACES, WIDTHS, MASSES, kept=0.8, turning_kept=0.9)
    assert found.power == 0.0
    assert found.shares(PLACES) == pytest.approx(0.8)


def test_nothing_is_kept_beyond_the_ends():
    found = end_loss(PLACES, WIDTHS, MASSES, kept=0.8, turning_kept=0.5)
    assert found.shares(np.array([-1.0, 1.0, 1.3])) == pytest.approx([0.0, 0.0, 0.0])
