"""The part of a body under water, against closed forms, two polygon clippers and its own invariants."""

import math

import numpy as np
import pytest
import shapely
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.errors import NoAnswer
from gudgeon.physics.body_sections import Array
from gudgeon.physics.floating_balance import balance_at
from gudgeon.physics.waterplane import (
    FloatingBody,
    attitude_of,
    immersed,
    potential_energy,
    up_vector,
)

HALF_AXES = np.array([0.050, 0.012, 0.016])
NO_PLACES, NO_VOLUMES = np.zeros((0, 3)), np.zeros(0)
WATER = 998.2
angles = st.floats(-math.pi, math.pi)
pitches = st.floats(-0.5 * math.pi, 0.5 * math.pi)


def ellipsoid(*, mass: float = 0.02, centre: tuple[float, float, float] = (0.048, 0.0, -0.002), hooks: bool = False,
              stations: int = 70, corners: int = 64) -> FloatingBody:  # fmt: skip
    """An ellipsoid with its nose at the origin, in polygons that hold the area of its sections."""
    a, b, c = HALF_AXES
    t, w = np.polynomial.legendre.leggauss(stations)
    turn = 2.0 * math.pi * (np.arange(corners) + 0.5) / corners
    radius = np.sqrt(1.0 - t * t) * math.sqrt(2.0 * math.pi / (corners * math.sin(2.0 * math.pi / corners)))
    polygons = np.stack([b * radius[:, None] * np.cos(turn), c * radius[:, None] * np.sin(turn)], axis=2)
    places = np.array([[0.03, 0.0, -c], [0.075, 0.001, -0.8 * c], [0.05, 0.0, c]]) if hooks else NO_PLACES
    volumes = np.array([0.4e-6, 0.3e-6, -0.2e-6]) if hooks else NO_VOLUMES
    return FloatingBody(a * (1.0 + t), a * w, polygons, places, volumes, mass, np.array(centre))


def slab_of(outline: Array) -> FloatingBody:
    """One section standing for a metre of body."""
    return FloatingBody(np.zeros(1), np.ones(1), outline[None], NO_PLACES, NO_VOLUMES, 1.0, np.zeros(3))


def box(length: float, breadth: float, height: float) -> FloatingBody:
    t, w = np.polynomial.legendre.leggauss(6)
    corners = np.array([[-breadth, -height], [breadth, -height], [breadth, height], [-breadth, height]]) / 2.0
    return FloatingBody(length * (1.0 + t) / 2.0, length * w / 2.0, np.tile(corners, (6, 1, 1)),
                        NO_PLACES, NO_VOLUMES, 1.0, np.zeros(3))  # fmt: skip


@pytest.mark.parametrize("pitch", [0.0, -17.0, 35.0, 49.0, -52.0, 55.0, 58.0, 61.0, -75.0, 85.0, 89.9, 90.0, -90.0])
@pytest.mark.parametrize(("heel", "height"), [(0.0, 0.0), (25.0, 0.4), (-110.0, -0.6)])
def test_an_ellipsoid_cut_anywhere_is_a_stretched_cap(pitch: float, heel: float, height: float) -> None:
    up = up_vector(math.radians(pitch), math.radians(heel))
    middle, reach = np.array([HALF_AXES[0], 0.0, 0.0]), float(np.linalg.norm(HALF_AXES * up))
    under = immersed(ellipsoid(), math.radians(pitch), math.radians(heel), float(up @ middle) + height * reach)
    share = (2.0 + 3.0 * height - height**3) / 4.0
    depth = 3.0 * (1.0 - height**2) ** 2 / (16.0 * share)
    whole = 4.0 / 3.0 * math.pi * float(np.prod(HALF_AXES))
    assert under.volume == pytest.approx(share * whole, rel=5e-4, abs=2e-4 * whole)
    np.testing.assert_allclose(under.centre, middle - depth * HALF_AXES**2 * up / reach, atol=3e-5)
    plane = math.pi * float(np.prod(HALF_AXES)) / reach * (1.0 - height**2)
    assert under.waterplane_area == pytest.approx(plane, rel=0.03)


def test_half_an_ellipsoid_under_is_exact_when_level() -> None:
    under = immersed(ellipsoid(), 0.0, 0.0, 0.0)
    assert under.volume == pytest.approx(2.0 / 3.0 * math.pi * float(np.prod(HALF_AXES)), rel=1e-12)
    assert under.centre[2] == pytest.approx(-3.0 / 8.0 * HALF_AXES[2], rel=2e-3)  # 64 corners
    # an ellipse of half-axes a, b has second moments pi a b^3 / 4 and pi a^3 b / 4 about its own middle
    a, b = HALF_AXES[:2]
    assert under.waterplane_area == pytest.approx(math.pi * a * b, rel=2e-3)
    assert under.waterplane_second[1, 1] == pytest.approx(math.pi * a * b**3 / 4.0, rel=5e-3)
    lengthwise = under.waterplane_second[0, 0] - under.waterplane_first[0] ** 2 / under.waterplane_area
    assert lengthwise == pytest.approx(math.pi * a**3 * b / 4.0, rel=2e-3)


@pytest.mark.parametrize(("pitch", "heel"), [(0.0, 0.0), (3.0, 0.0), (0.0, 20.0), (-4.0, -15.0)])
def test_a_box_cut_through_its_sides_is_its_floor_times_the_water_over_it(pitch: float, heel: float) -> None:
    length, breadth, height = 0.1, 0.03, 0.04
    up = up_vector(math.radians(pitch), math.radians(heel))
    water = float(up @ np.array([length / 2.0, 0.0, 0.004]))
    under = immersed(box(length, breadth, height), math.radians(pitch), math.radians(heel), water)
    # the water stands at z = middle - lean . (x - L/2, y) over the floor
    lean = up[:2] / up[2]
    deep = 0.004 + height / 2.0
    volume = length * breadth * deep
    assert under.volume == pytest.approx(volume, rel=1e-12)
    assert under.centre[0] == pytest.approx(length / 2.0 - lean[0] * length**2 / (12.0 * deep), rel=1e-12)
    assert under.centre[1] == pytest.approx(-lean[1] * breadth**2 / (12.0 * deep), abs=1e-15)
    spread = (lean[0] ** 2 * length**2 + lean[1] ** 2 * breadth**2) / 12.0
    assert under.centre[2] == pytest.approx(-height / 2.0 + (deep**2 + spread) / (2.0 * deep), rel=1e-12)
    assert under.waterplane_area == pytest.approx(length * breadth / up[2], rel=1e-12)


def test_a_round_bar_level_holds_a_segment_of_its_circle() -> None:
    radius, corners = 0.01, 4000
    turn = 2.0 * math.pi * np.arange(corners) / corners
    bar = slab_of(radius * np.stack([np.cos(turn), np.sin(turn)], axis=1))
    for height in (-0.7, 0.2, 0.9):
        angle = 2.0 * math.acos(-height)
        segment = radius**2 / 2.0 * (angle - math.sin(angle))
        assert immersed(bar, 0.0, 1.0, height * radius).volume == pytest.approx(segment, rel=1e-5)


def superellipse(rng: np.random.Generator) -> Array:
    """A random section: slab-sided, round or pinched, of another fullness above than below, set off the middle."""
    turn = np.linspace(0.0, 2.0 * math.pi, 64, endpoint=False)
    cosine, sine = np.cos(turn), np.sin(turn)
    power = np.where(sine > 0.0, *(2.0 / rng.uniform(0.6, 6.0, 2)))
    high, low = rng.uniform(0.004, 0.02, 2)
    y = rng.uniform(0.003, 0.015) * np.sign(cosine) * np.abs(cosine) ** power + rng.normal() * 0.002
    z = np.where(sine > 0.0, high, low) * np.sign(sine) * np.abs(sine) ** power + rng.normal() * 0.004
    return np.stack([y, z], axis=1)


@pytest.mark.parametrize("seed", range(40))
def test_sections_are_cut_as_shapely_cuts_them(seed: int) -> None:
    rng = np.random.default_rng(seed)
    outline = superellipse(rng)
    heel, height = rng.uniform(-math.pi, math.pi), rng.normal() * 0.006
    up = up_vector(0.0, heel)
    across = np.array([up[2], -up[1]])
    foot = height * up[1:]
    half_plane = shapely.Polygon([foot - across, foot + across, foot + across - up[1:], foot - across - up[1:]])
    cut = shapely.Polygon(outline).intersection(half_plane)
    for body in (slab_of(outline), slab_of(outline[::-1])):
        under = immersed(body, 0.0, heel, height)
        assert under.volume == pytest.approx(cut.area, rel=1e-9, abs=1e-12)
        if cut.area > 1e-6:
            np.testing.assert_allclose(under.centre[1:], np.array(cut.centroid.coords[0]), rtol=1e-8, atol=1e-10)
        chord = shapely.Polygon(outline).intersection(shapely.LineString([foot - across, foot + across]))
        assert under.waterplane_area == pytest.approx(chord.length, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("seed", range(30))
def test_a_mesh_sliced_by_trimesh_has_the_same_volume_below(seed: int) -> None:
    rng = np.random.default_rng(seed)
    up = rng.normal(size=3)
    up /= np.linalg.norm(up)
    if seed < 10:  # steep, where slabs take over
        up = np.array([math.copysign(3.0, up[0]), up[1], up[2]]) / math.hypot(3.0, up[1], up[2])
    sphere = trimesh.creation.icosphere(subdivisions=5)
    sphere.apply_scale((4.0 / 3.0 * math.pi / sphere.volume) ** (1.0 / 3.0))
    middle = np.array([HALF_AXES[0], 0.0, 0.0])
    height = rng.uniform(-0.7, 0.7) * float(np.linalg.norm(HALF_AXES * up))
    below = trimesh.intersections.slice_faces_plane(
        sphere.vertices * HALF_AXES, sphere.faces, plane_normal=-up, plane_origin=height * up
    )
    corners = below[0][below[1]] - height * up  # seen from a point of the cut, the cut adds nothing
    sliced = float(np.einsum("ij,ij->", corners[:, 0], np.cross(corners[:, 1], corners[:, 2]))) / 6.0
    pitch, heel = attitude_of(up)
    assert immersed(ellipsoid(), pitch, heel, float(up @ middle) + height).volume == pytest.approx(
        sliced, rel=5e-4, abs=2.5e-4 * ellipsoid().volume
    )


@given(pitch=pitches, heel=angles)
def test_attitudes_survive_the_trip_through_the_upward_direction(pitch: float, heel: float) -> None:
    up = up_vector(pitch, heel)
    assert np.linalg.norm(up) == pytest.approx(1.0)
    np.testing.assert_allclose(up_vector(*attitude_of(up)), up, atol=2e-9)


def test_turning_is_what_it_is_said_to_be() -> None:
    nose, right = np.array([-1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    assert up_vector(0.3, 0.0) @ nose == pytest.approx(math.sin(0.3))  # nose lifted
    assert up_vector(0.0, 0.3) @ right == pytest.approx(-math.sin(0.3))  # right side lowered
    assert up_vector(0.3, 0.7) @ nose == pytest.approx(math.sin(0.3))  # heel leaves the pitch alone


@settings(deadline=None, max_examples=60)
@given(pitch=pitches, heel=angles, height=st.floats(-0.15, 0.15), rise=st.floats(1e-6, 0.05))
def test_rising_water_covers_more(pitch: float, heel: float, height: float, rise: float) -> None:
    body = ellipsoid(stations=24, corners=24)
    before, after = (immersed(body, pitch, heel, level).volume for level in (height, height + rise))
    assert -1e-15 <= before <= after + 1e-15
    assert after <= body.volume * (1.0 + 1e-9)


@pytest.mark.parametrize("pitch", [0.0, 0.9, 1.0, 1.5, math.pi / 2, -math.pi / 2])
def test_all_under_is_the_whole_body_at_any_attitude(pitch: float) -> None:
    body = ellipsoid(hooks=True)
    under = immersed(body, pitch, 0.4, 1.0)
    assert under.volume == pytest.approx(body.volume, rel=1e-12)
    np.testing.assert_allclose(under.centre, body.centre_of_volume, atol=1e-12)
    assert under.waterplane_area == pytest.approx(0.0, abs=1e-15)
    dry = immersed(body, pitch, 0.4, -1.0)
    assert dry.volume == 0.0
    with pytest.raises(NoAnswer, match="nothing of the body is under water"):
        _ = dry.centre


@pytest.mark.parametrize("heel", [0.0, 0.4, 2.0])
def test_left_and_right_are_mirror_images(heel: float) -> None:
    body = ellipsoid(hooks=True, centre=(0.05, 0.001, 0.0))
    flip = np.array([1.0, -1.0, 1.0])
    other = FloatingBody(body.stations, body.weights, body.polygons * flip[1:], body.place_of_displacers * flip,
                         body.displacers, body.mass, body.centre * flip)  # fmt: skip
    for pitch in (0.2, 1.0, 1.3):
        here, there = immersed(body, pitch, heel, 0.01), immersed(other, pitch, -heel, 0.01)
        assert here.volume == pytest.approx(there.volume, rel=1e-12)
        np.testing.assert_allclose(here.moment * flip, there.moment, atol=1e-18)


# level, steep, and between the two where two ways of cutting are mixed
@pytest.mark.parametrize(("pitch", "near"), [(0.1, 2e-6), (-0.8, 2e-6), (0.96, 1e-5), (1.2, 1e-5), (1.5, 1e-5)])
@pytest.mark.parametrize("heel", [0.0, 0.5, -2.0])
def test_force_and_moment_are_the_slope_of_the_energy(pitch: float, near: float, heel: float) -> None:
    body, step = ellipsoid(hooks=True), 1e-6
    up = up_vector(pitch, heel)
    height = float(up @ np.array([0.049, 0.0, 0.002]))
    here = balance_at(body, WATER, up, height, pitch_axis=None)

    def energy(rise: float, ahead: float, aside: float) -> float:
        way = here.up + ahead * here.turns[0] + aside * here.turns[1]
        return potential_energy(body, WATER, way / np.linalg.norm(way), height + rise) / (body.mass * 9.80665)

    for axis, size in enumerate((1.0, 0.01, 0.01)):
        aside = [step if place == axis else 0.0 for place in range(3)]
        slope = (energy(*aside) - energy(*(-part for part in aside))) / (2.0 * step)
        assert slope == pytest.approx(float(here.slope[axis]), abs=near * size)


@pytest.mark.parametrize("pitch", [0.1, -0.6])
def test_stiffness_is_the_slope_of_the_slope(pitch: float) -> None:
    body, step = ellipsoid(hooks=True), 1e-6
    up = up_vector(pitch, 0.3)
    height = float(up @ np.array([0.049, 0.0, 0.002]))
    here = balance_at(body, WATER, up, height, pitch_axis=None)
    above, under = (balance_at(body, WATER, up, height + rise, pitch_axis=None) for rise in (step, -step))
    np.testing.assert_allclose((above.slope - under.slope) / (2.0 * step), here.stiffness[0], rtol=1e-3, atol=2e-4)
    for axis in (0, 1):
        moved = [up + side * step * here.turns[axis] for side in (1.0, -1.0)]
        ends = [balance_at(body, WATER, way / np.linalg.norm(way), height, pitch_axis=None) for way in moved]
        # levers are taken along the directions of `here`, which the turning leaves the same to first order
        levers = [body.centre - WATER / body.mass * end.under.moment for end in ends]
        change = here.turns @ (levers[0] - levers[1]) / (2.0 * step)
        change[axis] -= float(up @ (body.centre - WATER / body.mass * here.under.moment))
        np.testing.assert_allclose(change, here.stiffness[1 + axis, 1:], rtol=1e-3, atol=1e-6)


def test_one_way_of_cutting_gives_way_to_the_other_without_a_jump() -> None:
    body = ellipsoid()
    pitched = np.radians(np.linspace(44.0, 66.0, 441))
    waters = [float(up_vector(pitch, 0.0) @ np.array([0.05, 0.0, 0.0])) for pitch in pitched]
    volumes = [immersed(body, pitch, 0.0, water).volume for pitch, water in zip(pitched, waters, strict=True)]
    half = body.volume / 2.0  # by symmetry, at every pitch
    np.testing.assert_allclose(volumes, half, rtol=5e-4)
    assert np.abs(np.diff(volumes)).max() < 2e-4 * half


def test_a_small_thing_goes_under_over_its_own_height() -> None:
    radius = 0.002
    ball = 4.0 / 3.0 * math.pi * radius**3
    outline = 1e-6 * np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
    for sign in (1.0, -1.0):
        body = FloatingBody(np.zeros(1), np.full(1, 1e-6), outline[None], np.array([[0.0, 0.0, 0.01]]),
                            np.array([sign * ball]), 1.0, np.zeros(3))  # fmt: skip
        shares = [immersed(body, 0.0, 0.0, 0.01 + part * radius).volume / ball for part in (-1.1, -0.5, 0.0, 0.5, 1.1)]
        np.testing.assert_allclose(shares, sign * np.array([0.0, 0.25, 0.5, 0.75, 1.0]), atol=1e-9)


def test_bodies_that_are_none_are_refused() -> None:
    outline = np.array([[[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]])
    with pytest.raises(NoAnswer, match="give it a mass above 0"):
        FloatingBody(np.zeros(1), np.ones(1), outline, NO_PLACES, NO_VOLUMES, 0.0, np.zeros(3))
    with pytest.raises(NoAnswer, match="not a number"):
        FloatingBody(np.zeros(1), np.array([math.nan]), outline, NO_PLACES, NO_VOLUMES, 1.0, np.zeros(3))
    with pytest.raises(ValueError, match="must fit together"):
        FloatingBody(np.zeros(2), np.ones(2), outline, NO_PLACES, NO_VOLUMES, 1.0, np.zeros(3))


def test_what_a_body_holds_can_not_be_written_to() -> None:
    body = ellipsoid()
    with pytest.raises(ValueError, match="read-only"):
        body.weights[0] = 1.0
