"""A ballast bore against its closed forms: depth x area x density = mass."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.physics.pocket import Pocket, fill, shot_length, shot_packing

UP = Pocket("belly", 0, (0.06, 0.0, -0.02), (0.0, 0.0, 1.0), 0.010, 0.030, 0.003, 11340.0, 1150.0)
AREA = math.pi / 4.0 * 0.010**2


def test_area_and_capacity() -> None:
    assert UP.area == pytest.approx(AREA, rel=1e-12)
    assert UP.capacity == pytest.approx(0.027 * AREA * 11340.0, rel=1e-12)
    assert replace(UP, drilled=0.020).capacity == pytest.approx(0.017 * AREA * 11340.0, rel=1e-12)
    assert replace(UP, drilled=0.040).capacity == pytest.approx(UP.capacity, rel=1e-12)  # the wall is kept
    assert replace(UP, packing=0.5).capacity == pytest.approx(0.5 * UP.capacity, rel=1e-12)
    assert replace(UP, drilled=0.002).capacity == 0.0


@given(st.floats(1e-4, 0.024), st.floats(0.2, 1.0))
@settings(max_examples=30, deadline=None)
def test_a_bore_is_as_deep_as_its_ballast_and_plug(mass: float, packing: float) -> None:
    bored = fill(replace(UP, packing=packing), mass)
    length = mass / (11340.0 * AREA * packing)
    assert bored.length == pytest.approx(length, rel=1e-12)
    assert bored.depth == pytest.approx(length + 0.003, rel=1e-12)
    assert bored.removed == pytest.approx(bored.depth * AREA, rel=1e-12)
    assert bored.place == pytest.approx((0.06, 0.0, -0.02 + bored.depth - 0.5 * length), rel=1e-12)
    assert bored.removed_place == pytest.approx((0.06, 0.0, -0.02 + 0.5 * bored.depth), rel=1e-12)
    # everything in the hole is ballast or filler
    filler = bored.plug_mass / 1150.0
    assert mass / 11340.0 + filler == pytest.approx(bored.removed, rel=1e-9)


def test_first_moments_of_the_hole_and_its_contents_agree() -> None:
    """Were ballast and filler of one density, the contents would balance where the hole does."""
    for packing, drilled in ((1.0, None), (0.4, None), (0.4, 0.028), (1.0, 0.028)):
        pocket = replace(UP, ballast_density=1000.0, plug_density=1000.0, packing=packing, drilled=drilled)
        bored = fill(pocket, 0.0006)
        total = bored.mass + bored.plug_mass
        assert total == pytest.approx(1000.0 * bored.removed, rel=1e-9)
        height = (bored.mass * bored.place[2] + bored.plug_mass * bored.plug_place[2]) / total
        assert height == pytest.approx(bored.removed_place[2], rel=1e-9)


def test_a_hole_drilled_already_stays_as_deep_and_its_plug_fills_the_rest() -> None:
    bored = fill(replace(UP, drilled=0.025), 0.005)
    length = 0.005 / (11340.0 * AREA)
    assert bored.depth == 0.025
    assert bored.place[2] == pytest.approx(-0.02 + 0.025 - 0.5 * length, rel=1e-12)  # pushed to the inner end
    assert bored.plug_mass == pytest.approx((0.025 - length) * AREA * 1150.0, rel=1e-12)
    assert bored.plug_place[2] == pytest.approx(-0.02 + 0.5 * (0.025 - length), rel=1e-12)


def test_no_ballast_no_bore_unless_it_is_drilled() -> None:
    nothing = fill(UP, 0.0)
    assert (nothing.depth, nothing.removed, nothing.plug_mass) == (0.0, 0.0, 0.0)
    drilled = fill(replace(UP, drilled=0.010), 0.0)
    assert drilled.depth == 0.010
    assert drilled.plug_mass == pytest.approx(0.010 * AREA * 1150.0, rel=1e-12)


@pytest.mark.parametrize(
    ("mouth", "inward"), [((0.06, 0.0, 0.02), (0.0, 0.0, -1.0)), ((0.06, -0.01, 0.0), (0.0, 1.0, 0.0)),
                          ((0.06, 0.0, 0.0), (-1.0, 0.0, 0.0))]
)  # fmt: skip
def test_whichever_way_it_is_drilled_the_ballast_lies_along_the_bore(
    mouth: tuple[float, float, float], inward: tuple[float, float, float]
) -> None:
    bored = fill(replace(UP, mouth=mouth, inward=inward), 0.008)
    gone = [(b - a) * w for a, b, w in zip(mouth, bored.place, inward, strict=True)]
    assert sum(gone) == pytest.approx(bored.depth - 0.5 * bored.length, rel=1e-12)
    assert math.dist(mouth, bored.place) == pytest.approx(sum(gone), rel=1e-12)


def test_shot_in_single_file_and_loose() -> None:
    assert shot_packing(0.010, 0.010) == pytest.approx(2.0 / 3.0)  # a ball in a cylinder round it
    spacing = math.sqrt(0.008**2 - 0.002**2)  # from wall to wall, each on the one below
    assert shot_packing(0.008, 0.010) == pytest.approx(math.pi / 6.0 * 0.008**3 / (math.pi / 4.0 * 0.010**2 * spacing))
    assert shot_packing(0.0005, 0.010) == pytest.approx(0.6, abs=0.01)  # poured at random


@pytest.mark.parametrize(
    ("abreast", "centre"), [(2, 1.0), (3, 2.0 / math.sqrt(3.0)), (4, math.sqrt(2.0))], ids=["two", "three", "four"]
)
def test_loose_shot_are_no_closer_than_rings_laid_turned_by_half_a_step(abreast: int, centre: float) -> None:
    """Rings of two, three or four that just fill the bore, each in the gaps of the one below; d = 1 mm."""
    bore = 0.001 * (1.0 + centre)
    aside = centre * math.sin(math.pi / (2.0 * abreast))  # from a ball to the next one above, seen from above
    rise = 0.001 * math.sqrt(1.0 - aside**2)
    closest = abreast * math.pi / 6.0 * 0.001**3 / (math.pi / 4.0 * bore**2 * rise)
    assert 0.9 * closest < shot_packing(0.001, bore) <= closest


@given(st.floats(0.501, 1.0))
def test_wide_shot_in_a_bore_do_not_overlap(ratio: float) -> None:
    """The rise from each ball to the next: neither it nor the one after is nearer than a diameter."""
    diameter = 0.010 * ratio
    rise = shot_length(2, diameter, 0.010) - diameter
    assert math.hypot(rise, 0.010 - diameter) >= diameter * (1.0 - 1e-9)
    assert 2.0 * rise >= diameter * (1.0 - 1e-9)


def test_a_pile_takes_its_first_ball_whole() -> None:
    assert shot_length(0, 0.005, 0.010) == 0.0
    assert shot_length(1, 0.005, 0.010) == 0.005
    assert shot_length(23, 0.005, 0.010) >= 0.005 + 11 * 0.005 / math.sqrt(2.0)  # twelve layers of two
    assert shot_length(3, 0.010, 0.010) == pytest.approx(0.030)
