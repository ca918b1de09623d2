"""Coats: mass, volume, net sink."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.physics.coating import coat_film, coat_mass, coverage

AREAS = st.floats(1e-4, 0.1)
THICKNESSES = st.floats(1e-6, 1e-3)


@given(AREAS, THICKNESSES, st.floats(800.0, 2000.0))
def test_mass_volume_and_net_sink_hang_together(area: float, thickness: float, density: float) -> None:
    film = coat_film(area, thickness, density)
    assert film.mass == coat_mass(area, thickness, density)
    assert film.mass / film.volume == pytest.approx(density)
    assert film.net_sink(density) == pytest.approx(0.0, abs=1e-15)
    assert film.net_sink(998.0) == pytest.approx(film.volume * (density - 998.0), abs=1e-12)


@given(AREAS, THICKNESSES)
def test_the_coverage_of_a_film_is_its_area(area: float, thickness: float) -> None:
    assert coverage(coat_film(area, thickness, 1150.0).volume, thickness) == pytest.approx(area)


def test_a_clear_coat_pulls_down_an_eighth_of_what_it_weighs() -> None:
    film = coat_film(0.02, 0.2e-3, 1150.0)
    assert film.mass == pytest.approx(4.6e-3)
    assert film.net_sink(998.2) == pytest.approx(0.607e-3, abs=1e-6)
