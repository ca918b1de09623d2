"""The body's integrals: closed forms first, then what must not change, then polygons as a second opinion."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.errors import NoAnswer
from gudgeon.physics.hull import (
    Hull,
    bare,
    depth_at,
    faults_of,
    half_width_at,
    lateral_area_split,
    profile,
    section,
    section_outline,
    section_stack,
    skin_heights,
)
from gudgeon.physics.outline import AnalyticCurve, ConstantCurve, DrawnCurve, ScaledCurve
from gudgeon.physics.portion import portion, portions

LENGTH = 0.120
CUTS = (0.0, 0.045, 0.085, 0.125, 0.165)


def ellipse(height, length=LENGTH):
    return AnalyticCurve(
        lambda x: 2.0 * height * np.sqrt(np.maximum(x * (length - x), 0.0)) / length,
        lambda x: height * (length - 2.0 * x) / (length * np.sqrt(x * (length - x))),
    )


def line(first, last):
    return AnalyticCurve(
        lambda x: first + (last - first) * x / LENGTH, lambda x: np.full(x.shape, (last - first) / LENGTH)
    )


def bar(back, belly, side, fullness):
    """The same section all along, its widest line on the centre line."""
    return Hull(LENGTH, *(ConstantCurve(size) for size in (back, -belly, side, 0.0, fullness)))


def ellipsoid(width, back, belly, fullness=2.0, length=LENGTH):
    return Hull(length, ellipse(back, length), ScaledCurve(ellipse(belly, length), -1.0), ellipse(width, length),
                ConstantCurve(0.0), ConstantCurve(fullness))  # fmt: skip


def drawn(points, nose="round", tail="round", unit=1e-3):
    stations, sizes = np.array(points, dtype=float).T
    return DrawnCurve(stations * 1e-3, sizes * unit, float(stations[-1]) * 1e-3, nose, tail)


def swimmer():
    """A drawn body with everything in it: round nose, flat tail, belly deeper, widest line and fullness that vary."""
    return Hull(
        0.165,
        back=drawn([(0, 0), (8, 7), (20, 12), (40, 17), (62, 19.2), (85, 18.5), (110, 15), (135, 11), (165, 5)]),
        belly=ScaledCurve(
            drawn([(0, 0), (6, 7.5), (18, 14), (38, 20), (60, 23), (88, 22), (112, 17.5), (165, 5)]), -1.0
        ),
        side=drawn([(0, 0), (7, 5.5), (22, 9.4), (42, 12), (66, 12.8), (90, 11.7), (115, 8.9), (140, 5.4), (165, 2.2)]),
        widest=drawn([(0, 0), (50, 2), (110, 1), (165, 0)], "pointed", "pointed"),
        fullness=drawn([(0, 2), (30, 2.4), (80, 3), (130, 2.6), (165, 2.2)], "pointed", "pointed", unit=1.0),
    )


def whole(hull):
    return portion(hull, hull.start, hull.stop)


def mesh_of(hull, stations=400, points=240):
    """A triangle mesh through the section outlines, closed with fans."""
    x = hull.start + hull.length * np.sin(np.linspace(0.01, 0.5 * np.pi, stations)) ** 2
    rings = np.array([np.column_stack([np.full(points, s), section_outline(hull, s, points)]) for s in x])
    ends = np.array([[x[0], *rings[0, :, 1:].mean(axis=0)], [x[-1], *rings[-1, :, 1:].mean(axis=0)]])
    here = np.arange(points)
    after = np.roll(here, -1)
    nose, tail, last = stations * points, stations * points + 1, (stations - 1) * points
    faces = [np.column_stack([after, here, np.full(points, nose)])]
    for ring in range(stations - 1):
        a, b = ring * points + here, ring * points + after
        faces += [np.column_stack([a, b, a + points]), np.column_stack([b, b + points, a + points])]
    faces.append(np.column_stack([last + here, last + after, np.full(points, tail)]))
    return trimesh.Trimesh(np.concatenate([rings.reshape(-1, 3), ends]), np.concatenate(faces), process=False)


# ---- closed forms --------------------------------------------------------------------------------------------------


def test_ellipsoid_has_its_volume_centre_second_moments_and_areas():
    a, b, c = LENGTH / 2, 0.012, 0.008
    found = whole(ellipsoid(b, c, c))
    volume = 4.0 / 3.0 * math.pi * a * b * c
    assert found.volume == pytest.approx(volume, rel=1e-12)
    assert found.centre == pytest.approx([a, 0.0, 0.0], abs=1e-15)
    assert np.diag(found.second_moment) == pytest.approx(volume / 5.0 * np.array([a, b, c]) ** 2, rel=1e-12)
    assert found.plan_area == pytest.approx(math.pi * a * b, rel=1e-12)
    assert found.side_area == pytest.approx(math.pi * a * c, rel=1e-12)
    assert found.plan_centre == pytest.approx(a)
    assert found.side_centre == pytest.approx([a, 0.0])
    assert found.surface_centre == pytest.approx([a, 0.0, 0.0], abs=1e-12)


def test_back_and_belly_of_unlike_height_put_the_centre_where_half_ellipses_have_theirs():
    b, up, down = 0.012, 0.008, 0.020
    found = whole(ellipsoid(b, up, down))
    half = 2.0 / 3.0 * math.pi * LENGTH / 2 * b
    assert found.volume == pytest.approx(half * (up + down), rel=1e-12)
    assert found.centre[2] == pytest.approx(3.0 / 8.0 * (up - down), rel=1e-12)  # half an ellipsoid: 3/8 up
    zz = half * (up**3 + down**3) / 5.0 - found.volume * found.centre[2] ** 2
    assert found.second_moment[2, 2] == pytest.approx(zz, rel=1e-10)


def test_square_bar_on_edge_is_a_prism_with_flat_ends():
    """Fullness 1: a diamond section of four straight sides."""
    w, up, down = 0.010, 0.015, 0.025
    hull = bar(up, down, w, 1.0)
    found, face = whole(hull), w * (up + down)
    sides = 2.0 * (math.hypot(w, up) + math.hypot(w, down))
    assert found.volume == pytest.approx(face * LENGTH, rel=1e-12)
    assert found.surface_area == pytest.approx(sides * LENGTH + 2.0 * face, rel=1e-12)
    assert found.centre == pytest.approx([LENGTH / 2, 0.0, (up - down) / 3.0], rel=1e-12)
    assert found.second_moment[0, 0] == pytest.approx(face * LENGTH**3 / 12.0, rel=1e-12)
    middle = portion(hull, 0.02, 0.08)
    assert middle.surface_area == pytest.approx(sides * 0.06, rel=1e-12)  # cut faces are not skin
    at = section(hull, 0.05)
    assert (at.area, at.perimeter, at.centre_height) == pytest.approx((face, sides, (up - down) / 3.0))
    assert at.abs_y == pytest.approx(face * w / 3.0)
    assert at.y_squared == pytest.approx(face * w**2 / 6.0)
    assert at.z_abs_y == pytest.approx(w**2 * (up**2 - down**2) / 12.0)


def test_slab_of_high_fullness_nears_its_box():
    hull = bar(0.02, 0.02, 0.008, 12.0)
    found = whole(hull)
    assert 0.98 < found.volume / (LENGTH * 0.04 * 0.016) < 1.0
    assert 0.95 < (found.surface_area) / (2 * (LENGTH * 0.056 + 0.04 * 0.016)) < 1.0


def test_level_widest_line_above_the_middle_leans_nothing_but_height():
    """The same body drawn about another centre line: everything moves up by as much."""
    low = ellipsoid(0.012, 0.008, 0.020)
    high = Hull(LENGTH, AnalyticCurve(lambda x: low.back(x) + 0.003, low.back.slope),
                AnalyticCurve(lambda x: low.belly(x) + 0.003, low.belly.slope), low.side, ConstantCurve(0.003),
                low.fullness)  # fmt: skip
    first, second = whole(low), whole(high)
    assert second.volume == pytest.approx(first.volume, rel=1e-12)
    assert second.centre - first.centre == pytest.approx([0.0, 0.0, 0.003], abs=1e-14)
    assert second.surface_centre - first.surface_centre == pytest.approx([0.0, 0.0, 0.003], abs=1e-12)
    assert second.second_moment == pytest.approx(first.second_moment, rel=1e-9, abs=1e-18)
    assert second.surface_area == pytest.approx(first.surface_area, rel=1e-12)


# ---- a second opinion ----------------------------------------------------------------------------------------------


def test_drawn_body_agrees_with_a_mesh_of_it():
    hull = swimmer()
    found, mesh = whole(hull), mesh_of(hull)
    assert mesh.is_watertight
    assert found.volume == pytest.approx(mesh.volume, rel=3e-4)
    assert found.surface_area == pytest.approx(mesh.area, rel=3e-4)
    assert found.centre == pytest.approx(mesh.center_mass, abs=2e-6)
    assert found.surface_centre == pytest.approx(mesh.centroid, abs=1e-5)
    inertia = np.trace(found.second_moment) * np.eye(3) - found.second_moment
    assert inertia == pytest.approx(mesh.moment_inertia, rel=1e-3, abs=1e-12)


def test_section_agrees_with_a_polygon_of_it():
    hull, station = swimmer(), 0.1
    at, points = section(hull, station), section_outline(hull, station, 2000)
    polygon = shapely.Polygon(points)
    assert polygon.exterior.is_ccw  # y right, z up is how it looks from behind
    assert at.area == pytest.approx(polygon.area, rel=1e-5)
    assert at.perimeter == pytest.approx(polygon.length, rel=1e-5)
    assert at.centre_height == pytest.approx(polygon.centroid.y, abs=1e-8)
    right = shapely.clip_by_rect(polygon, 0.0, -1.0, 1.0, 1.0)
    assert at.abs_y == pytest.approx(2.0 * right.area * right.centroid.x, rel=1e-5)
    y = np.linspace(0.0, at.half_width, 4001)
    slices = [shapely.clip_by_rect(right, a, -1.0, b, 1.0) for a, b in pairwise(y[::20])]
    assert at.y_squared == pytest.approx(2.0 * sum(s.area * s.centroid.x**2 for s in slices), rel=1e-4)
    assert at.z_abs_y == pytest.approx(2.0 * sum(s.area * s.centroid.x * s.centroid.y for s in slices), rel=1e-3)


def test_skin_stands_where_the_section_says():
    hull = swimmer()
    for y, z in section_outline(hull, 0.07, 32):
        assert half_width_at(hull, 0.07, z) == pytest.approx(abs(y), abs=2e-9)
    bottom, top = depth_at(hull, 0.07)
    assert half_width_at(hull, 0.07, top + 1e-6) == half_width_at(hull, 0.07, bottom - 1e-6) == 0.0
    assert half_width_at(hull, -0.001, 0.0) == half_width_at(hull, 0.166, 0.0) == 0.0
    at = section(hull, 0.07)
    assert (at.bottom, at.top) == (bottom, top)
    assert half_width_at(hull, 0.07, at.widest) == pytest.approx(at.half_width)


def test_skin_above_and_below_a_point_off_the_middle():
    hull = swimmer()
    offsets = np.array([-0.006, 0.0, 0.009])
    low, high = skin_heights(hull, np.full(3, 0.07), offsets)
    for place, offset in enumerate(offsets):
        assert half_width_at(hull, 0.07, low[place]) == pytest.approx(abs(offset), abs=1e-6)
        assert half_width_at(hull, 0.07, high[place]) == pytest.approx(abs(offset), abs=1e-6)
        assert low[place] < section(hull, 0.07).widest < high[place]
    assert (low[1], high[1]) == pytest.approx(depth_at(hull, 0.07))


def test_no_wood_beside_or_behind_the_body():
    hull = swimmer()
    outside = [(0.07, section(hull, 0.07).half_width), (0.166, 0.0), (-0.001, 0.0)]
    low, high = skin_heights(hull, *(np.array(part) for part in zip(*outside, strict=True)))
    assert low == pytest.approx(high, abs=1e-12)


def test_flat_back_with_the_widest_line_in_it():
    flat = bar(0.0, 0.02, 0.01, 2.0)
    assert section(flat, 0.05).area == pytest.approx(math.pi * 0.02 * 0.01 / 2.0)
    both = section(bar(0.02, 0.02, 0.01, 2.0), 0.05)
    assert section(flat, 0.05).perimeter == pytest.approx(0.02 + both.perimeter / 2.0)
    assert half_width_at(flat, 0.05, 0.0) == pytest.approx(0.01)
    assert half_width_at(flat, 0.05, 1e-9) == 0.0
    assert faults_of(flat) == ()


# ---- what must not change ------------------------------------------------------------------------------------------


def test_portions_add_up_to_the_whole():
    hull = swimmer()
    parts, entire = portions(hull, list(pairwise(CUTS))), whole(hull)
    assert parts[1].volume == portion(hull, *CUTS[1:3]).volume
    for size in ("volume", "surface_area", "plan_area", "side_area"):
        assert sum(getattr(part, size) for part in parts) == pytest.approx(getattr(entire, size), rel=2e-7)
    centre = sum(part.volume * part.centre for part in parts) / entire.volume
    assert centre == pytest.approx(entire.centre, abs=1e-10)
    second = sum(
        part.second_moment + part.volume * np.outer(part.centre - centre, part.centre - centre) for part in parts
    )
    assert second == pytest.approx(entire.second_moment, rel=1e-7, abs=1e-18)
    skin = sum(part.surface_area * part.surface_centre for part in parts) / entire.surface_area
    assert skin == pytest.approx(entire.surface_centre, abs=1e-8)
    side = sum(part.side_area * part.side_centre for part in parts) / entire.side_area
    assert side == pytest.approx(entire.side_centre, abs=1e-10)


@settings(deadline=None, max_examples=25)
@given(st.floats(0.2, 5.0), st.floats(1.0, 12.0), st.tuples(*[st.floats(0.002, 0.03)] * 3))
def test_scaled_body_scales_by_the_powers(factor, fullness, sizes):
    width, back, belly = sizes
    first = whole(ellipsoid(width, back, belly, fullness))
    second = whole(ellipsoid(factor * width, factor * back, factor * belly, fullness, factor * LENGTH))
    assert second.volume == pytest.approx(factor**3 * first.volume, rel=1e-9)
    assert second.surface_area == pytest.approx(factor**2 * first.surface_area, rel=1e-9)
    assert second.second_moment == pytest.approx(factor**5 * first.second_moment, rel=1e-8, abs=1e-18)


# ---- stacks, splits, profiles --------------------------------------------------------------------------------------


@pytest.mark.parametrize("spans", [list(pairwise(CUTS)), [(0.0, 0.165)], [(0.0, 0.0449), (0.0451, 0.165)]])
def test_stack_of_polygons_holds_the_volume(spans):
    hull = swimmer()
    stack = section_stack(hull, spans)
    assert 60 <= len(stack.stations) <= 80
    y, z = stack.polygons[..., 0], stack.polygons[..., 1]
    areas = 0.5 * (y * np.roll(z, -1, axis=1) - np.roll(y, -1, axis=1) * z).sum(axis=1)
    assert areas == pytest.approx([section(hull, x).area for x in stack.stations], rel=1e-9)
    for place, span in enumerate(spans):
        inside = stack.span == place
        assert stack.weights[inside].sum() == pytest.approx(span[1] - span[0])
        assert (stack.weights * areas)[inside].sum() == pytest.approx(portion(hull, *span).volume, rel=2e-6)


def test_side_view_splits_at_the_tow_line_as_circle_segments_do():
    radius, height = LENGTH / 2, 0.02
    above, below = lateral_area_split(ellipsoid(0.01, radius, radius), height, 0.0, LENGTH)
    half_angle = math.acos(height / radius)
    segment = radius**2 * (half_angle - math.sin(half_angle) * math.cos(half_angle))
    centre = 2.0 * (radius * math.sin(half_angle)) ** 3 / (3.0 * segment)
    assert above.area == pytest.approx(segment, rel=1e-6)
    assert above.height == pytest.approx(centre, rel=1e-6)
    assert above.station == pytest.approx(radius)
    assert above.area + below.area == pytest.approx(math.pi * radius**2, rel=1e-9)
    assert above.area * above.height + below.area * below.height == pytest.approx(0.0, abs=1e-12)


def test_side_view_wholly_on_one_side_of_the_line():
    hull = swimmer()
    above, below = lateral_area_split(hull, -0.05, *CUTS[1:3])
    found = portion(hull, *CUTS[1:3])
    assert (above.area, above.station, above.height) == pytest.approx((found.side_area, *found.side_centre))
    assert (below.area, below.station, below.height) == (0.0, pytest.approx(0.065), -0.05)


def test_profiles_are_closed_and_hold_the_areas_seen():
    hull, found = swimmer(), whole(swimmer())
    for view, area in (("side", found.side_area), ("top", found.plan_area)):
        outline = profile(hull, view)
        assert outline[0].tolist() == outline[-1].tolist()
        polygon = shapely.Polygon(outline)
        assert polygon.is_valid
        assert polygon.area == pytest.approx(area, rel=1e-4)
        assert outline[:, 0].min() == 0.0
        assert outline[:, 0].max() == 0.165
    assert profile(hull, "side")[5, 1] > 0.0  # along the back first
    steps = np.linalg.norm(np.diff(profile(hull, "side"), axis=0), axis=1)[:3]
    assert steps.max() < 0.5e-3  # close together at the round nose


# ---- the wood under a coat -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("build", [0.0002, 0.0005])
@pytest.mark.parametrize(
    "hull",
    [ellipsoid(0.012, 0.008, 0.008), ellipsoid(0.008, 0.016, 0.020), ellipsoid(0.008, 0.02, 0.02, 6.0), swimmer(),
     bar(0.02, 0.02, 0.008, 8.0)],
    ids=["ellipsoid", "deep ellipsoid", "slab-sided", "drawn", "bar"],
)  # fmt: skip
def test_coat_is_skin_times_thickness_within_a_twentieth(hull, build):
    wood = bare(hull, build)
    outside, inside = whole(hull), whole(wood)
    coat = 0.5 * (outside.surface_area + inside.surface_area) * build  # skin shrinks through the coat
    assert outside.volume - inside.volume == pytest.approx(coat, rel=0.05)
    assert (wood.start, wood.stop) == pytest.approx((hull.start + build, hull.stop - build), abs=1e-9)
    assert faults_of(wood) == ()


def test_coat_on_a_body_of_revolution_is_right_to_a_thousandth():
    hull = ellipsoid(0.01, 0.01, 0.01)
    outside, wood = whole(hull), whole(bare(hull, 0.0005))
    assert outside.volume - wood.volume == pytest.approx(0.00025 * (outside.surface_area + wood.surface_area), rel=1e-3)


@pytest.mark.parametrize("view", ["side", "top"])
@pytest.mark.parametrize("build", [0.0003, 0.001])
@pytest.mark.parametrize("hull", [swimmer(), ellipsoid(0.008, 0.010, 0.020)], ids=["drawn", "ellipsoid"])
def test_cutting_templates_lie_one_coat_inside(hull, build, view):
    finished = shapely.LinearRing(profile(hull, view, 4000))
    wood = profile(bare(hull, build), view)
    distances = shapely.distance(finished, shapely.points(wood))
    assert distances == pytest.approx(np.full(len(wood), build), abs=0.005e-3)  # 0.05 mm would do on paper
    assert shapely.contains_xy(shapely.Polygon(finished), wood).all()


def test_pointed_tip_draws_back_by_more_than_the_coat():
    slope = math.tan(math.radians(15.0))
    cone = Hull(LENGTH, line(0.0, slope * LENGTH), line(0.0, -slope * LENGTH), line(0.0, slope * LENGTH),
                ConstantCurve(0.0), ConstantCurve(2.0))  # fmt: skip
    wood = bare(cone, 0.0005)
    assert wood.start == pytest.approx(0.0005 / math.sin(math.radians(15.0)), rel=3e-4)
    assert wood.stop == pytest.approx(LENGTH - 0.0005)
    left = 0.06 * slope - 0.0005 / math.cos(math.radians(15.0))
    assert wood.side(np.array([0.06]))[0] == pytest.approx(left, rel=1e-5)


def test_widest_line_stays_inside_the_wood():
    flat = bar(0.0, 0.02, 0.01, 2.0)
    wood = bare(flat, 0.0004)
    assert section(wood, 0.05).widest == pytest.approx(-0.0004)
    assert faults_of(wood) == ()


def test_no_coat_leaves_the_body_and_too_thick_a_coat_leaves_nothing():
    hull = swimmer()
    assert bare(hull, 0.0) is hull
    for build in (0.02, 0.2):
        with pytest.raises(NoAnswer, match="leaves no wood in the thinnest places"):
            bare(hull, build)


# ---- faults and refusals -------------------------------------------------------------------------------------------


def test_sound_bodies_have_no_faults():
    assert faults_of(swimmer()) == faults_of(ellipsoid(0.01, 0.02, 0.01)) == ()


def test_outline_that_crosses_itself_is_told_with_the_worst_place():
    hull = ellipsoid(0.01, 0.01, 0.01)
    dipped = AnalyticCurve(lambda x: hull.back(x) - 0.03 * np.exp(-(((x - 0.05) / 0.005) ** 2)), hull.back.slope)
    broken = Hull(LENGTH, dipped, hull.belly, hull.side, ScaledCurve(hull.belly, 1.0), hull.fullness)
    [fault] = [f for f in faults_of(broken) if f.what == "back below belly"]
    assert fault.station == pytest.approx(0.05, abs=0.002)
    assert fault.value == pytest.approx(-0.0103, abs=0.0005)


@pytest.mark.parametrize(
    ("change", "what", "value"),
    [
        ({"side": line(0.01, -0.01)}, "no width", -0.01),
        ({"side": ConstantCurve(0.0)}, "no width", 0.0),
        ({"widest": ConstantCurve(0.011)}, "widest line above back", 0.011),
        ({"widest": ConstantCurve(-0.012)}, "widest line below belly", 0.012),
        ({"fullness": ConstantCurve(0.9)}, "fullness below 1", 0.9),
        ({"fullness": ConstantCurve(13.0)}, "fullness above 12", 13.0),
    ],
)
def test_each_fault_is_named(change, what, value):
    curves = {"back": ConstantCurve(0.01), "belly": ConstantCurve(-0.01), "side": ConstantCurve(0.01),
              "widest": ConstantCurve(0.0), "fullness": ConstantCurve(2.0)}  # fmt: skip
    [fault] = faults_of(Hull(LENGTH, **{**curves, **change}))
    assert fault.what == what
    shift = 0.01 if "widest" in what else 0.0
    assert fault.value == pytest.approx(value - shift, abs=2e-5)


def test_off_the_body_is_refused():
    for ask in (section, depth_at, section_outline):
        with pytest.raises(NoAnswer, match="170 mm is off the body, which reaches from 0 to 165 mm"):
            ask(swimmer(), 0.170)
    with pytest.raises(ValueError, match="no body between"):
        portion(swimmer(), 0.1, 0.1)
    with pytest.raises(ValueError, match="multiple of four"):
        section_outline(swimmer(), 0.1, 30)


def test_results_are_read_only():
    found, stack = whole(swimmer()), section_stack(swimmer(), [(0.0, 0.165)])
    for array in (found.centre, found.second_moment, found.side_centre, stack.weights, stack.polygons):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 0.0
