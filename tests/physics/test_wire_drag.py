"""Wire in a stream: the ends of the treble's range, balance of weight and push, means over every way to lie."""

import math

import numpy as np
import pytest

from gudgeon.physics.wire_drag import (
    ANY_WAY,
    LUMP_FACE,
    Treble,
    loop_drag_area,
    lump_drag_area,
    streaming_angle,
    treble_drag_area,
    treble_wire,
    weight_in_water,
)

TREBLE = Treble(shank=0.034, gape=0.015, wire=0.0016, weight=0.032)


def half_round(angle):
    """Integral of sin^3 over a half round about the shank, by brute force over its bend and its turn."""
    bend = (np.arange(400) + 0.5) * math.pi / 400
    turn = (np.arange(400) + 0.5) * 2.0 * math.pi / 400
    cosine = np.cos(bend)[:, None] * math.cos(angle) + np.sin(bend)[:, None] * np.cos(turn) * math.sin(angle)
    return float((1.0 - cosine**2).clip(0.0) ** 1.5 @ np.full(400, 1.0 / 400) @ np.full(400, math.pi / 400))


def test_wire_that_lies_any_way_is_pulled_by_3_pi_over_16():
    polar = (np.arange(20000) + 0.5) * math.pi / 20000
    assert float(np.mean(np.sin(polar) ** 4) * math.pi / 2.0) == pytest.approx(ANY_WAY, rel=1e-6)


def test_a_treble_at_rest_hangs_square_to_what_comes():
    area = 1.05 * 0.0016 * (3.2 * 0.034 + 1.5 * 0.015 * half_round(0.5 * math.pi))
    assert treble_drag_area(TREBLE, 1.05, 1e-6) == pytest.approx(area, rel=1e-3)


def test_a_treble_towed_fast_shows_its_bends_only():
    # a half round along the flow: the integral of sin^3 is 4/3, so three of radius gape/2 come to 2 gape
    assert treble_drag_area(TREBLE, 1.05, 1e9) == pytest.approx(1.05 * 0.0016 * 2.0 * 0.015, rel=1e-3)


@pytest.mark.parametrize("pressure", [5.0, 45.0, 500.0, 3000.0])
def test_weight_across_the_shank_is_what_the_stream_pushes_back(pressure):
    angle = streaming_angle(TREBLE, 1.05, pressure)
    across = TREBLE.wire * (3.2 * TREBLE.shank + 1.5 * TREBLE.gape * half_round(0.5 * math.pi))
    push = pressure * 1.05 * across * math.sin(angle) ** 2
    assert push == pytest.approx(TREBLE.weight * math.cos(angle), rel=1e-3)


def test_the_faster_the_flatter_and_the_smaller():
    pressures = [0.5 * 1000.0 * speed**2 for speed in (0.1, 0.3, 0.5, 1.0, 2.0)]
    angles = [streaming_angle(TREBLE, 1.05, pressure) for pressure in pressures]
    areas = [treble_drag_area(TREBLE, 1.05, pressure) for pressure in pressures]
    assert angles == sorted(angles, reverse=True)
    assert areas == sorted(areas, reverse=True)


def test_a_treble_that_floats_streams_straight_back():
    light = Treble(0.034, 0.015, 0.0016, weight_in_water(0.001, 0.002, 1000.0))
    assert light.weight == 0.0
    assert streaming_angle(light, 1.05, 500.0) == 0.0


def test_the_wire_of_a_treble_fills_its_volume():
    wire = treble_wire(4.8e-7, 0.034, 0.015)
    length = 3.0 * (1.4 * 0.034 + math.pi * 0.0075)
    assert 0.25 * math.pi * wire**2 * length == pytest.approx(4.8e-7)


def test_a_loop_is_a_round_of_wire_and_a_ring_of_two_turns_half_as_much_again():
    plain = loop_drag_area(0.008, 0.0016, 1.05)
    assert plain == pytest.approx(1.05 * 0.0016 * math.pi * 0.0064 * 3.0 * math.pi / 16.0)
    assert loop_drag_area(0.008, 0.0016, 1.05, wide=1.5) == pytest.approx(1.5 * plain)
    assert loop_drag_area(0.001, 0.0016, 1.05) == 0.0


def test_a_lump_has_the_face_of_a_ball_as_large():
    radius = 0.004
    assert lump_drag_area(4.0 / 3.0 * math.pi * radius**3, 0.8) == pytest.approx(0.8 * math.pi * radius**2)
    assert pytest.approx(1.209, abs=1e-3) == LUMP_FACE
    assert lump_drag_area(-1e-9, 0.8) == 0.0
