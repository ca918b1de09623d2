"""Strips of a hull: their sums against closed forms, what the frames and mirrors must leave alike, a fin's part."""

import math
from dataclasses import fields, replace

import numpy as np
import pytest

from gudgeon.physics.added_mass import ellipsoid_mass, section_sway_coefficient, spheroid_mass
from gudgeon.physics.carried import Carried
from gudgeon.physics.chain import Strips
from gudgeon.physics.fin_section import UprightFin
from gudgeon.physics.hull import Hull
from gudgeon.physics.outline import AnalyticCurve, ConstantCurve, DrawnCurve, ScaledCurve
from gudgeon.physics.plate import fin_plate
from gudgeon.physics.portion import portion
from gudgeon.physics.water_forces import (
    FIN_STRIPS,
    STRIPS,
    StripCoefficients,
    Wetted,
    about_hinges,
    cut_in_strips,
    in_piece,
    pieces_of,
    rear_drag_areas,
)

LENGTH, DEPTH, WIDTH, WATER = 0.120, 0.020, 0.012, 998.0  # half depth, half width
PLAIN = StripCoefficients(mass_scale=1.0, sway_drag=1.0, heave_drag=1.1, fin_drag=1.6, recovery=0.5, fin_recovery=0.0,
                          friction=0.006)  # fmt: skip


def ellipse(size):
    return AnalyticCurve(
        lambda x: 2.0 * size * np.sqrt(np.maximum(x * (LENGTH - x), 0.0)) / LENGTH,
        lambda x: size * (LENGTH - 2.0 * x) / (LENGTH * np.sqrt(x * (LENGTH - x))),
    )


def ellipsoid(depth=DEPTH, width=WIDTH):
    return Hull(LENGTH, ellipse(depth), ScaledCurve(ellipse(depth), -1.0), ellipse(width), ConstantCurve(0.0),
                ConstantCurve(2.0))  # fmt: skip


def bar(depth, width, fullness=2.0, middle=0.0):
    return Hull(LENGTH, *(ConstantCurve(size) for size in (middle + depth, middle - depth, width, middle, fullness)))


def drawn(points):
    stations, sizes = np.array(points, dtype=float).T * 1e-3
    return DrawnCurve(stations, sizes, float(stations[-1]), "round", "round")


def swimmer():
    back = drawn([(0, 0), (8, 7), (20, 12), (45, 18), (80, 17), (120, 10)])
    belly = drawn([(0, 0), (6, 7.5), (18, 14), (40, 21), (80, 19), (120, 9)])
    side = drawn([(0, 0), (7, 5.5), (22, 9), (45, 12), (80, 10), (120, 4)])
    return Hull(LENGTH, back, ScaledCurve(belly, -1.0), side, ConstantCurve(0.0), ConstantCurve(2.4))


def wetted(hull, pivots=(), *, grown=0.0, fin=None, bends=False):
    return Wetted(hull, grown, tuple(pivots), tuple(0.001 * place for place in range(len(pivots))), fin, bends)


def tail_fin(length=0.030, tall=0.050, fill=0.8, at=LENGTH, height=0.0):
    return UprightFin((at, height), fin_plate(length=length, tall=tall, fill=fill), 0.001)


def summed(strips: Strips, name: str) -> float:
    return float(getattr(strips, name) @ strips.length)


CUTS = (0.043, 0.081)


@pytest.mark.parametrize("pivots", [CUTS, (0.06,)])
def test_an_ellipsoid_s_sections_sum_to_their_closed_form(pivots):
    strips = cut_in_strips(wetted(ellipsoid(), pivots), PLAIN, WATER)
    section = 2.0 / 3.0 * LENGTH * math.pi * WATER  # integral of 1 - s^2 over the length, times pi rho
    assert summed(strips, "sway_mass") == pytest.approx(section * DEPTH**2, rel=1e-9)
    assert summed(strips, "heave_mass") == pytest.approx(section * WIDTH**2, rel=1e-9)
    roll = math.pi / 8.0 * (DEPTH**2 - WIDTH**2) ** 2 * WATER * LENGTH * 8.0 / 15.0
    assert summed(strips, "roll_inertia") == pytest.approx(roll, rel=1e-9)
    assert summed(strips, "depth") == pytest.approx(math.pi / 4.0 * LENGTH * 2.0 * DEPTH, rel=2e-4)
    assert summed(strips, "width") == pytest.approx(math.pi / 4.0 * LENGTH * 2.0 * WIDTH, rel=2e-4)


def test_the_scale_of_a_bending_chain_multiplies_sway_and_heave():
    cut = wetted(ellipsoid(), CUTS)
    whole, part = (cut_in_strips(cut, replace(PLAIN, mass_scale=scale), WATER) for scale in (1.0, 0.65))
    for name in ("sway_mass", "heave_mass", "edge_sway_mass", "edge_heave_mass"):
        assert getattr(part, name) == pytest.approx(0.65 * getattr(whole, name))
    assert part.roll_inertia == pytest.approx(whole.roll_inertia)


@pytest.mark.parametrize(("depth", "width"), [(0.020, 0.012), (0.015, 0.015), (0.010, 0.018)])
def test_one_stiff_ellipsoid_has_lamb_s_added_mass_and_inertia(depth, width):
    strips = cut_in_strips(wetted(ellipsoid(depth, width)), replace(PLAIN, mass_scale=0.3), WATER)
    half, lamb = 0.5 * LENGTH, ellipsoid_mass(LENGTH, 2.0 * width, 2.0 * depth)
    mass = WATER * 4.0 / 3.0 * math.pi * half * depth * width
    arms = (strips.place + half) ** 2 + strips.length**2 / 12.0
    assert summed(strips, "sway_mass") == pytest.approx(float(lamb.sway) * mass, rel=2e-3)
    assert summed(strips, "heave_mass") == pytest.approx(float(lamb.heave) * mass, rel=2e-3)
    for masses, share, across in ((strips.sway_mass, lamb.yaw, width), (strips.heave_mass, lamb.pitch, depth)):
        inertia = float(share) * mass * (half**2 + across**2) / 5.0
        # within what it matters that a strip's mass sits in its middle
        assert float(masses * strips.length @ arms) == pytest.approx(inertia, rel=0.02)


def test_a_box_has_the_added_mass_of_its_square_sections():
    strips = cut_in_strips(wetted(bar(0.01, 0.01, fullness=12.0), (0.05,)), PLAIN, WATER)
    per_length = summed(strips, "sway_mass") / LENGTH
    assert per_length == pytest.approx(1.51 * math.pi * 0.01**2 * WATER, rel=0.06)  # a true square
    exact = float(section_sway_coefficient(12.0, 0.01, 0.01)) * math.pi * 0.01**2 * WATER
    assert per_length == pytest.approx(exact, rel=1e-9)
    assert summed(strips, "heave_mass") == pytest.approx(summed(strips, "sway_mass"))


@pytest.mark.parametrize("hull", [ellipsoid(), swimmer()], ids=["ellipsoid", "swimmer"])
def test_the_skin_is_the_hull_s(hull):
    strips = cut_in_strips(wetted(hull, CUTS), PLAIN, WATER)
    flat = section_area_at_end(hull)
    assert summed(strips, "perimeter") == pytest.approx(portion(hull, 0.0, LENGTH).surface_area - flat, rel=2e-3)


def section_area_at_end(hull):
    areas = rear_drag_areas(wetted(hull), base_drag=1.0, joint_drag=0.0)
    return float(areas[-1])


def test_coats_make_every_section_larger_all_round():
    bare, coated = (cut_in_strips(wetted(bar(0.01, 0.006), CUTS, grown=by), PLAIN, WATER) for by in (0.0, 0.0005))
    assert coated.depth == pytest.approx(bare.depth + 0.001)
    assert coated.width == pytest.approx(bare.width + 0.001)
    assert coated.perimeter == pytest.approx(bare.perimeter + 2.0 * math.pi * 0.0005)


def test_each_piece_runs_from_nought_to_minus_its_length():
    cut = wetted(swimmer(), CUTS)
    strips = cut_in_strips(cut, PLAIN, WATER)
    assert list(strips.first) == [0, STRIPS, 2 * STRIPS, 3 * STRIPS]
    for piece, length in enumerate(cut.lengths):
        edges = strips.edge_place[strips.first[piece] + piece : strips.first[piece + 1] + piece + 1]
        assert edges[[0, -1]] == pytest.approx([0.0, -length], abs=1e-12)
        own = slice(strips.first[piece], strips.first[piece + 1])
        assert strips.place[own] == pytest.approx(0.5 * (edges[1:] + edges[:-1]))
        assert strips.length[own] == pytest.approx(-np.diff(edges))
    assert cut.lengths == pytest.approx([0.043, 0.038, 0.039])


def test_neighbours_meet_in_one_section():
    strips = cut_in_strips(wetted(swimmer(), CUTS), PLAIN, WATER)
    for piece in (0, 1):
        last, first = strips.first[piece + 1] + piece, strips.first[piece + 1] + piece + 1
        for name in ("edge_sway_mass", "edge_heave_mass", "edge_roll_inertia"):
            values = getattr(strips, name)
            assert values[last] == pytest.approx(values[first])
        heights = strips.edge_height_of_axis[first] - strips.edge_height_of_axis[last]
        assert heights == pytest.approx(0.001 * (piece == 1))  # hinges stand 0 and 1 mm above the centre line


def test_strips_are_shortest_at_nose_and_tail():
    strips = cut_in_strips(wetted(swimmer(), CUTS), PLAIN, WATER)
    head, tail = strips.length[:STRIPS], strips.length[2 * STRIPS :]
    assert np.all(np.diff(head) > 0.0)
    assert np.all(np.diff(tail) < 0.0)
    assert np.ptp(strips.length[STRIPS : 2 * STRIPS]) < 1e-12


def test_a_lure_stood_on_its_head_has_its_axis_as_far_below():
    hull = swimmer()
    over = replace(hull, back=ScaledCurve(hull.belly, -1.0), belly=ScaledCurve(hull.back, -1.0))
    up, down = (cut_in_strips(Wetted(one, 0.0, CUTS, (0.0, 0.0), None, False), PLAIN, WATER) for one in (hull, over))
    for field in fields(Strips):
        sign = -1.0 if "height_of_axis" in field.name else 1.0
        assert getattr(down, field.name) == pytest.approx(sign * getattr(up, field.name), abs=1e-15), field.name


def test_a_deep_belly_lies_below_the_axis_of_a_piece():
    strips = cut_in_strips(wetted(swimmer(), CUTS), PLAIN, WATER)
    assert np.all(strips.height_of_axis[1:STRIPS] > 0.0)  # z is down


def test_a_fin_behind_the_wood_is_strips_of_the_last_piece():
    fin = tail_fin()
    cut = wetted(swimmer(), CUTS, fin=fin)
    strips = cut_in_strips(cut, PLAIN, WATER)
    assert strips.first[-1] == 3 * STRIPS + FIN_STRIPS
    own = slice(3 * STRIPS, None)
    assert float(strips.depth[own] @ strips.length[own]) == pytest.approx(fin.plate.area, rel=1e-3)
    assert float(strips.perimeter[own] @ strips.length[own]) == pytest.approx(2.0 * fin.plate.area, rel=1e-3)
    assert cut.lengths[-1] == pytest.approx(LENGTH + 0.030 - CUTS[1])
    assert set(strips.sway_drag[own]) == {1.6}
    assert set(strips.recovery[own]) == {0.0}
    assert np.all(strips.heave_mass[own] == 0.0)


def test_a_fork_keeps_the_momentum_of_its_whole_height():
    strips = cut_in_strips(wetted(swimmer(), CUTS, fin=tail_fin(fill=0.5)), PLAIN, WATER)
    half_height = 0.0125 + 0.0125 * 27.5 / 30.0  # in the middle of the last strip, edge to edge
    assert strips.depth[-1] < half_height
    assert strips.sway_mass[-1] == pytest.approx(WATER * math.pi * half_height**2, rel=1e-3)


def test_a_fin_hidden_in_the_wood_changes_nothing():
    hidden = tail_fin(length=0.004, tall=0.004, at=0.1)
    without, within = (cut_in_strips(wetted(swimmer(), CUTS, fin=fin), PLAIN, WATER) for fin in (None, hidden))
    for field in fields(Strips):
        assert getattr(within, field.name) == pytest.approx(getattr(without, field.name))


def test_a_fin_on_the_wood_makes_it_deeper_in_the_water():
    plain = cut_in_strips(wetted(ellipsoid(), CUTS), PLAIN, WATER)
    finned = cut_in_strips(wetted(ellipsoid(), CUTS, fin=tail_fin(length=0.02, tall=0.06, at=0.095)), PLAIN, WATER)
    assert summed(finned, "sway_mass") > summed(plain, "sway_mass")
    assert summed(finned, "heave_mass") == pytest.approx(summed(plain, "heave_mass"))


def test_a_soft_fin_is_a_piece_of_its_own():
    cut = wetted(swimmer(), CUTS, fin=tail_fin(height=0.002), bends=True)
    strips = cut_in_strips(cut, PLAIN, WATER)
    assert list(np.diff(strips.first)) == [STRIPS, STRIPS, STRIPS, FIN_STRIPS]
    assert cut.lengths == pytest.approx([0.043, 0.038, 0.039, 0.030])
    assert strips.height_of_axis[-FIN_STRIPS:] == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("bends", [False, True])
def test_a_fin_four_times_the_body_is_finite(bends):
    fin = tail_fin(length=0.3, tall=0.4, fill=0.9, at=0.05)
    strips = cut_in_strips(wetted(swimmer(), (), fin=fin, bends=bends), PLAIN, WATER)
    for field in fields(Strips):
        values = getattr(strips, field.name)
        assert np.all(np.isfinite(values)), field.name
        if field.name.endswith(("mass", "inertia", "depth", "length")):
            assert np.all(values >= 0.0), field.name


def carried(mass, x, volume):
    centre = np.array([x, 0.001, -0.003])
    return Carried(mass, centre, np.array([[9.0, 1.0, 2.0], [1.0, 4.0, 0.5], [2.0, 0.5, 5.0]]) * 1e-7, volume, centre)


def test_pieces_keep_mass_volume_and_place_through_the_turn_of_axes():
    cut = wetted(swimmer(), CUTS)
    loads = [carried(0.03, 0.025, 3.1e-5), carried(0.02, 0.06, 1.9e-5), carried(0.01, 0.1, 1.1e-5)]
    pieces = pieces_of(cut, loads, WATER, base_drag=0.12, joint_drag=0.08)
    assert pieces.mass.sum() == pytest.approx(0.06)
    assert pieces.volume.sum() == pytest.approx(6.1e-5)
    for piece, load in enumerate(loads):
        station, height = cut.origins[piece]
        back = station - pieces.centre[piece, 0], pieces.centre[piece, 1], height - pieces.centre[piece, 2]
        assert back == pytest.approx(tuple(load.centre))
        assert np.linalg.eigvalsh(pieces.inertia[piece]) == pytest.approx(np.linalg.eigvalsh(load.inertia))
        assert pieces.inertia[piece][0, 2] == pytest.approx(load.inertia[0, 2])  # x and z both turn over
        assert pieces.inertia[piece][0, 1] == pytest.approx(-load.inertia[0, 1])


def test_the_turn_of_axes_undoes_itself():
    place, origin = (0.07, 0.004, -0.011), (0.05, 0.002)
    assert in_piece(in_piece(place, origin), origin) == pytest.approx(place)


def test_surge_is_the_spheroid_s_of_the_same_length_and_volume():
    volume = 4.0 / 3.0 * math.pi * 0.06 * 0.015**2
    cut = wetted(ellipsoid(0.015, 0.015))
    pieces = pieces_of(cut, [carried(0.05, 0.06, volume)], WATER, base_drag=0.0, joint_drag=0.0)
    assert pieces.surge_mass[0] == pytest.approx(float(spheroid_mass(4.0).surge) * WATER * volume)


def test_joints_are_charged_to_the_piece_ahead_and_the_end_to_the_last():
    areas = rear_drag_areas(wetted(bar(0.01, 0.006), CUTS), base_drag=0.12, joint_drag=0.08)
    assert areas == pytest.approx(math.pi * 0.01 * 0.006 * np.array([0.08, 0.08, 0.12]))
    soft = wetted(bar(0.01, 0.006), CUTS, fin=tail_fin(), bends=True)
    assert rear_drag_areas(soft, base_drag=0.1, joint_drag=0.1)[-1] == 0.0


def test_what_lies_behind_a_hinge_turns_about_it():
    cut = wetted(bar(0.01, 0.006), (0.06,))
    strips = cut_in_strips(cut, PLAIN, WATER)
    mass = np.array([0.02, 0.03])
    loads = [Carried(mass[0], np.array([0.03, 0.0, 0.0]), np.zeros((3, 3)), 1e-5, np.zeros(3)),
             Carried(mass[1], np.array([0.09, 0.0, 0.0]), np.zeros((3, 3)), 1e-5, np.zeros(3))]  # fmt: skip
    moments, inertias = about_hinges(pieces_of(cut, loads, WATER, base_drag=0.1, joint_drag=0.1), strips, cut)
    assert moments == pytest.approx([0.02 * 0.06**2 / 2.0])
    water = math.pi * 0.01**2 * WATER * 0.06**3 / 3.0
    assert inertias == pytest.approx([water + 0.03 * 0.03**2], rel=2e-3)
