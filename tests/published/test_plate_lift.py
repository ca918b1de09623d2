"""Plates at a slant: wings of small span, a pointed plate with its edges' flow, lips in a flume, a plate square on."""

import math

import numpy as np
import pytest

from gudgeon.library.towing import towing_coefficients
from gudgeon.physics.lifting_plate import force_place, greatest_lift, normal_coefficient, potential_slope

LIPS = "Nippon Suisan Gakkaishi 68 (2002) 843-851, lips of lures in a flume"
EDGE, MOST = (towing_coefficients()[name].value for name in ("lip_side_edge_lift", "lip_normal_cap"))


@pytest.mark.source("R. T. Jones, NACA Report 835 (1946)", where="slope pi/2 of the aspect; from memory")
@pytest.mark.parametrize("aspect", [0.01, 0.05, 0.1])
def test_slender_plates(aspect: float) -> None:
    assert float(potential_slope(aspect)) == pytest.approx(0.5 * math.pi * aspect, rel=3e-3)


@pytest.mark.source("Helmbold (1942)", where="2 pi A / (2 + (A^2 + 4)^0.5); from memory")
@pytest.mark.parametrize(("aspect", "slope"), [(1.0, 1.4833), (2.0, 2.6026)])
def test_short_wings_by_formula(aspect: float, slope: float) -> None:
    assert float(potential_slope(aspect)) == pytest.approx(slope, abs=6e-5)


@pytest.mark.source("vortex lattice on a rectangular plate, converged to four digits", where="computed for this list")
@pytest.mark.parametrize(("aspect", "slope"), [(1.0, 1.4602), (2.0, 2.4744)])
def test_short_wings_by_lifting_surface(aspect: float, slope: float) -> None:
    assert float(potential_slope(aspect)) == pytest.approx(slope, rel=0.06)


@pytest.mark.source("Polhamus, NASA TN D-3767 (1966)", where="Kp 1.29, Kv 3.15, 20 degrees: CL 0.736; Kv from memory")
def test_a_pointed_plate_at_twenty_degrees() -> None:
    angle = math.radians(20.0)
    lift = float(normal_coefficient(angle, potential=1.29, edge=3.15, most=MOST)) * math.cos(angle)
    assert lift == pytest.approx(0.736, rel=0.08)


@pytest.mark.source("Aeronautical Engineer's Data Book", where="figure 5.13b: a square plate across the flow, 1.17")
def test_a_plate_square_on() -> None:
    force = normal_coefficient(math.pi / 2, potential=potential_slope(1.0), edge=EDGE, most=MOST)
    assert float(force) == pytest.approx(1.17, rel=0.05)


@pytest.mark.source(LIPS, where="abstract: greatest down force 0.55 to 0.82 from aspect 0.3 to 2.0; area not told")
def test_lips_of_equal_area_in_a_flume() -> None:
    """Ours is 20 to 32 % high in size, right in its growth."""
    narrow, wide = (greatest_lift(potential=float(potential_slope(aspect)), edge=EDGE, most=MOST)[0]
                    for aspect in (0.3, 2.0))  # fmt: skip
    assert (narrow, wide) == pytest.approx((0.55, 0.82), rel=0.35)
    assert wide / narrow == pytest.approx(0.82 / 0.55, rel=0.15)


@pytest.mark.source(LIPS, where="abstract: the centre of the force lies further forward the wider the lip")
def test_wider_lips_carry_their_load_further_forward() -> None:
    aspects = np.array([0.3, 0.5, 1.0, 1.5, 2.0])
    places = force_place(math.radians(35.0), potential=potential_slope(aspects), edge=EDGE, most=MOST)
    assert np.all(np.diff(places) < 0.0)
