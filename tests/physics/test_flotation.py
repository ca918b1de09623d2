"""Resting attitudes: closed forms, balance of force and moment, lowest energy, and what is refused."""

import math

import numpy as np
import pytest

from gudgeon.errors import NoAnswer
from gudgeon.physics.body_sections import Array
from gudgeon.physics.flotation import Resting, floats, metacentric_heights, resting, waterline_at
from gudgeon.physics.waterplane import FloatingBody, immersed, potential_energy, up_vector

HALF_AXES = np.array([0.050, 0.012, 0.016])
WATER = 998.2
FULL = 4.0 / 3.0 * math.pi * float(np.prod(HALF_AXES))
NO_PLACES, NO_VOLUMES = np.zeros((0, 3)), np.zeros(0)


def ellipsoid(mass: float, centre: Array | tuple[float, float, float], *, hooks: bool = False) -> FloatingBody:
    a, b, c = HALF_AXES
    t, w = np.polynomial.legendre.leggauss(70)
    turn = 2.0 * math.pi * (np.arange(64) + 0.5) / 64
    radius = np.sqrt(1.0 - t * t) * math.sqrt(2.0 * math.pi / (64 * math.sin(2.0 * math.pi / 64)))
    polygons = np.stack([b * radius[:, None] * np.cos(turn), c * radius[:, None] * np.sin(turn)], axis=2)
    places = np.array([[0.03, 0.0, -c], [0.075, 0.0, -0.8 * c]]) if hooks else NO_PLACES
    volumes = np.array([0.3e-6, 0.25e-6]) if hooks else NO_VOLUMES
    return FloatingBody(a * (1.0 + t), a * w, polygons, places, volumes, mass, np.asarray(centre))


def box(size: tuple[float, float, float], mass: float, centre: tuple[float, float, float]) -> FloatingBody:
    """A box with its nose end at x = 0 and its middle line on the axis."""
    length, breadth, height = size
    t, w = np.polynomial.legendre.leggauss(40)
    corners = np.array([[-breadth, -height], [breadth, -height], [breadth, height], [-breadth, height]]) / 2.0
    return FloatingBody(length * (1.0 + t) / 2.0, length * w / 2.0, np.tile(corners, (40, 1, 1)),
                        NO_PLACES, NO_VOLUMES, mass, np.array(centre))  # fmt: skip


LURES = [
    ellipsoid(0.020, (0.047, 0.0, -0.0015), hooks=True),
    ellipsoid(0.030, (0.047, 0.0, -0.0060), hooks=True),
    ellipsoid(0.039, (0.047, 0.0, -0.0015), hooks=True),
    ellipsoid(0.020, (0.070, 0.0, -0.0030), hooks=True),
    ellipsoid(0.025, (0.085, 0.0, -0.0015), hooks=True),
    ellipsoid(0.020, (0.047, 0.0003, -0.0070), hooks=True),
    ellipsoid(0.005, (0.047, 0.0, 0.0030), hooks=True),
]


def energy(body: FloatingBody, at: Resting, pitch: float = 0.0, heel: float = 0.0, rise: float = 0.0) -> float:
    assert at.afloat is not None
    up = up_vector(at.pitch + pitch, at.heel + heel)
    return potential_energy(body, WATER, up, at.afloat.waterline_height + rise)


@pytest.mark.parametrize("body", LURES)
def test_a_floater_displaces_its_weight_with_the_centres_on_one_upright(body: FloatingBody) -> None:
    at = resting(body, WATER)
    assert at.floats
    assert at.afloat is not None
    under = immersed(body, at.pitch, at.heel, at.afloat.waterline_height)
    assert WATER * under.volume == pytest.approx(body.mass, rel=1e-6)
    apart = under.centre - body.centre
    up = up_vector(at.pitch, at.heel)
    mixed = 45.0 < abs(math.degrees(at.pitch)) < 65.0  # two ways of cutting, which differ by some hundredths of a mm
    np.testing.assert_allclose(apart, (apart @ up) * up, atol=3e-5 if mixed else 1e-7)
    np.testing.assert_allclose(at.displaced_centre, under.centre, atol=1e-9)
    assert at.transverse_metacentric_height > 0.0
    assert at.lengthwise_metacentric_height > 0.0


@pytest.mark.parametrize("body", LURES)
def test_energy_is_lowest_there(body: FloatingBody) -> None:
    at = resting(body, WATER)
    least = energy(body, at)
    rng = np.random.default_rng(3)
    for size in (1.0, 0.02) * 20:
        way = rng.normal(size=3)
        way *= size * np.array([0.05, 0.05, 0.001]) / np.linalg.norm(way)
        assert energy(body, at, *way) > least


@pytest.mark.parametrize("body", LURES)
def test_no_attitude_on_a_coarse_grid_has_lower_energy(body: FloatingBody) -> None:
    at = resting(body, WATER)
    least = energy(body, at)
    for pitch in np.radians(np.arange(-90.0, 91.0, 30.0)):
        for heel in np.radians(np.arange(-180.0, 180.0, 30.0)):
            up = up_vector(pitch, heel)
            low, high = -0.2, 0.2
            for _ in range(30):
                middle = 0.5 * (low + high)
                short = WATER * immersed(body, pitch, heel, middle).volume < body.mass
                low, high = (middle, high) if short else (low, middle)
            assert potential_energy(body, WATER, up, high) > least - 1e-7 * body.mass


@pytest.mark.parametrize("tail_down", [-80.0, -35.0, 5.0, 30.0, 54.0, 60.0, 70.0, 85.0])
def test_an_ellipsoid_floats_at_the_attitude_its_weight_was_hung_for(tail_down: float) -> None:
    # stretched to a ball the part under is a cap; its centre, and so the upright the weight must lie on, is known
    up, height = up_vector(math.radians(tail_down), 0.0), 0.25
    share = (2.0 + 3.0 * height - height**3) / 4.0
    reach = float(np.linalg.norm(HALF_AXES * up))
    depth = 3.0 * (1.0 - height**2) ** 2 / (16.0 * share)
    buoyancy = np.array([HALF_AXES[0], 0.0, 0.0]) - depth * HALF_AXES**2 * up / reach
    at = resting(ellipsoid(WATER * share * FULL, buoyancy - 0.006 * up), WATER)
    assert math.degrees(at.pitch) == pytest.approx(tail_down, abs=0.3)
    assert at.heel == pytest.approx(0.0, abs=1e-6)
    assert at.afloat is not None
    assert at.afloat.waterline_height == pytest.approx(up[0] * HALF_AXES[0] + height * reach, abs=5e-5)
    assert at.afloat.freeboard == pytest.approx((1.0 - height) * reach, abs=2e-4)
    assert at.afloat.draught == pytest.approx((1.0 + height) * reach, abs=2e-4)
    assert at.reserve == pytest.approx(1.0 - share, rel=1e-9)


def test_a_spar_stands_on_its_tail() -> None:
    spar = box((0.2, 0.01, 0.01), 0.010, (0.16, 0.0, 0.0))
    at = resting(spar, 1000.0)
    assert math.degrees(at.pitch) == pytest.approx(90.0, abs=0.01)
    assert at.afloat is not None
    assert at.afloat.draught == pytest.approx(0.1, abs=2e-5)
    assert at.afloat.nose_height == pytest.approx(0.1, abs=2e-4)
    assert at.afloat.tail_height == pytest.approx(-0.1, abs=2e-4)
    assert at.afloat.waterplane_area == pytest.approx(1e-4, rel=0.01)


def test_a_raft_sits_as_textbooks_say() -> None:
    length, breadth, height = 0.2, 0.1, 0.03
    mass = 0.5 * 1000.0 * length * breadth * height
    at = resting(box((length, breadth, height), mass, (length / 2.0, 0.0, -0.003)), 1000.0)
    assert at.pitch == pytest.approx(0.0, abs=1e-9)
    assert at.heel == pytest.approx(0.0, abs=1e-9)
    assert at.afloat is not None
    assert at.afloat.draught == pytest.approx(0.015, rel=1e-9)
    assert at.afloat.freeboard == pytest.approx(0.015, rel=1e-9)
    assert at.afloat.nose_height == pytest.approx(0.0, abs=1e-12)
    assert at.reserve == pytest.approx(0.5)
    below = 0.0075 - 0.003  # buoyancy below weight
    assert at.transverse_metacentric_height == pytest.approx(breadth**2 / (12 * 0.015) - below, rel=1e-9)
    assert at.lengthwise_metacentric_height == pytest.approx(length**2 / (12 * 0.015) - below, rel=1e-9)
    assert at.upright_metacentric_height == pytest.approx(at.transverse_metacentric_height, rel=1e-9)
    assert at.buoyancy_above_weight == pytest.approx(0.003)
    assert at.upright_is_stable
    assert not at.turns_over


@pytest.mark.parametrize(("pitch", "heel"), [(0.0, 0.0), (0.3, 1.0), (-0.9, 3.0), (1.0, 0.2), (1.5, 0.0), (1.57, 2.0)])
def test_held_at_any_attitude_the_water_carries_it_at_its_waterline(pitch: float, heel: float) -> None:
    for body in LURES:
        height = waterline_at(body, WATER, pitch, heel)
        assert WATER * immersed(body, pitch, heel, height).volume == pytest.approx(body.mass, rel=1e-9)


def test_metacentric_heights_at_rest_are_those_of_the_answer() -> None:
    for body in LURES:
        at = resting(body, WATER)
        held = metacentric_heights(body, WATER, at.pitch, at.heel)
        assert held[0] == pytest.approx(at.lengthwise_metacentric_height, rel=1e-5)
        assert held[1] == pytest.approx(at.transverse_metacentric_height, rel=1e-5)


def test_a_small_weight_to_one_side_lists_it_by_moment_over_metacentric_height() -> None:
    straight = resting(box((0.2, 0.1, 0.03), 0.3, (0.1, 0.0, -0.003)), 1000.0)
    listing = resting(box((0.2, 0.1, 0.03), 0.3, (0.101, 0.0005, -0.003)), 1000.0)
    assert listing.heel == pytest.approx(0.0005 / straight.transverse_metacentric_height, rel=2e-3)
    assert listing.pitch == pytest.approx(0.001 / straight.lengthwise_metacentric_height, rel=2e-3)


def test_a_top_heavy_lure_turns_over_and_is_said_to() -> None:
    at = resting(ellipsoid(0.02, (0.05, 0.0, 0.008)), WATER)
    assert at.turns_over
    assert not at.upright_is_stable
    assert abs(math.degrees(at.heel)) > 90.0
    assert at.upright_metacentric_height < 0.0


def test_a_start_near_by_gives_the_same_answer() -> None:
    for body in LURES:
        cold = resting(body, WATER)
        heavier = FloatingBody(body.stations, body.weights, body.polygons, body.place_of_displacers, body.displacers,
                               body.mass * 1.01, body.centre)  # fmt: skip
        warm, fresh = resting(heavier, WATER, start=cold), resting(heavier, WATER)
        assert warm.pitch == pytest.approx(fresh.pitch, abs=1e-5)
        assert abs(warm.heel) == pytest.approx(abs(fresh.heel), abs=1e-5)
        assert warm.upright_is_stable == fresh.upright_is_stable


def test_only_just_a_floater_still_floats() -> None:
    body = ellipsoid(WATER * FULL * (1.0 - 1e-5), (0.05, 0.0, -0.002))
    at = resting(body, WATER)
    assert at.floats
    assert at.afloat is not None
    assert at.reserve == pytest.approx(1e-5, rel=1e-3)
    assert abs(at.afloat.freeboard) < 0.001


def test_left_and_right_answers_are_mirror_images() -> None:
    right, left = (resting(ellipsoid(0.03, (0.047, side, -0.006), hooks=True), WATER) for side in (3e-4, -3e-4))
    assert right.heel > 0.01
    assert right.heel == pytest.approx(-left.heel, rel=1e-6)
    assert right.pitch == pytest.approx(left.pitch, rel=1e-6)


@pytest.mark.parametrize(("centre", "pitch", "heel"), [
    ((0.050, 0.0, -0.002), 0.0, 0.0),
    ((0.052, 0.0, -0.002), 45.0, 0.0),  # weight aft: nose up
    ((0.049, 0.0, -0.002), -math.degrees(math.atan(0.5)), 0.0),
    ((0.050, 0.001, -0.001), 0.0, 45.0),  # weight to the right: right side down
    ((0.050, 0.0, 0.002), 0.0, 180.0),  # weight on top: belly up
])  # fmt: skip
def test_under_water_the_weight_hangs_below_the_buoyancy(
    centre: tuple[float, float, float], pitch: float, heel: float
) -> None:
    at = resting(ellipsoid(1.2 * WATER * FULL, centre), WATER)
    assert not at.floats
    assert at.afloat is None
    assert math.degrees(at.pitch) == pytest.approx(pitch, abs=1e-6)
    assert math.degrees(at.heel) == pytest.approx(heel, abs=1e-6)
    assert at.turns_over == (heel > 90.0)
    assert at.upright_is_stable == (heel < 90.0)
    assert at.reserve == pytest.approx(-0.2, rel=1e-6)


def test_a_sinking_lure_hangs_from_where_the_water_holds_it_back() -> None:
    body = ellipsoid(1.2 * WATER * FULL, (0.05, 0.0, -0.002))
    still, held = resting(body, WATER), resting(body, WATER, drag_centre=np.array([0.053, 0.0, 0.0]))
    assert still.pitch == pytest.approx(0.0, abs=1e-9)
    # a sixth of the weight, 3 mm ahead of where it is held: 0.5 mm of lever against 2 mm below
    assert held.pitch == pytest.approx(-math.atan(0.5 / 2.0), abs=1e-6)
    np.testing.assert_allclose(resting(body, WATER, drag_centre=body.centre_of_volume).pitch, still.pitch, atol=1e-12)


def test_as_heavy_as_the_water_hangs_and_does_not_float() -> None:
    body = ellipsoid(0.02, (0.05, 0.0, -0.002))
    water = body.mass / body.volume
    assert floats(body, water * 1.0001)
    assert not floats(body, water * 0.9999)
    assert floats(body, water) == (body.mass < water * body.volume)


def test_what_has_no_rest_is_refused() -> None:
    body = ellipsoid(1.2 * WATER * FULL, (0.05, 0.0, -0.002))
    with pytest.raises(NoAnswer, match="rests at any angle"):
        resting(ellipsoid(1.2 * WATER * FULL, body.centre_of_volume), WATER)
    empty = FloatingBody(body.stations, body.weights * 0.0, body.polygons, NO_PLACES, NO_VOLUMES, 0.1, np.zeros(3))
    with pytest.raises(NoAnswer, match="volume above 0"):
        resting(empty, WATER)
    with pytest.raises(NoAnswer, match="has no waterline"):
        waterline_at(body, WATER, 0.0, 0.0)
    for water in (0.0, -1.0, math.nan):
        with pytest.raises(NoAnswer, match="density above 0"):
            resting(body, water)
