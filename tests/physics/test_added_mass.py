"""Added mass: closed forms, limits and symmetry; sections against the flow round them, solved on their outline."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.errors import OutsideSource
from gudgeon.physics.added_mass import (
    FULLEST,
    LEANEST,
    ellipsoid_mass,
    end_factors,
    finned_section,
    section_roll_inertia,
    section_sway_coefficient,
    spheroid_mass,
    wave_factor,
)

Array = np.ndarray
SIZES = st.floats(0.05, 1.0)


def lamb(slenderness: float) -> tuple[float, float, float]:
    """Lamb's k1, k2 and k' of a prolate spheroid, by logarithms."""
    e = math.sqrt(1.0 - 1.0 / slenderness**2)
    log = math.log((1.0 + e) / (1.0 - e))
    along = 2.0 * (1.0 - e * e) / e**3 * (0.5 * log - e)
    across = 1.0 / e**2 - (1.0 - e * e) / (2.0 * e**3) * log
    apart = across - along
    turn = e**4 * apart / ((2.0 - e * e) * (2.0 * e * e - (2.0 - e * e) * apart))
    return along / (2.0 - along), across / (2.0 - across), turn


class TestEllipsoids:
    @pytest.mark.parametrize("slenderness", [1.2, 2.0, 3.7, 5.0, 8.0, 15.0])
    def test_a_spheroid_is_lamb_s(self, slenderness: float) -> None:
        mass = spheroid_mass(slenderness)
        assert [float(one) for one in (mass.surge, mass.sway, mass.yaw)] == pytest.approx(lamb(slenderness), rel=1e-9)
        assert float(mass.heave) == float(mass.sway)
        assert float(mass.roll) == 0.0

    def test_a_ball_moves_half_its_water_and_turns_none(self) -> None:
        mass = spheroid_mass(1.0)
        assert [float(one) for one in (mass.surge, mass.sway, mass.heave)] == pytest.approx([0.5] * 3, rel=1e-12)
        assert [float(one) for one in (mass.roll, mass.pitch, mass.yaw)] == [0.0, 0.0, 0.0]

    @given(SIZES, SIZES, SIZES)
    @settings(max_examples=40, deadline=None)
    def test_which_axis_is_called_what_makes_no_difference(self, a: float, b: float, c: float) -> None:
        one, other = ellipsoid_mass(a, b, c), ellipsoid_mass(b, c, a)
        assert [float(one.surge), float(one.sway), float(one.heave)] == pytest.approx(
            [float(other.heave), float(other.surge), float(other.sway)], rel=1e-9
        )
        assert [float(one.roll), float(one.pitch), float(one.yaw)] == pytest.approx(
            [float(other.yaw), float(other.roll), float(other.pitch)], rel=1e-6, abs=1e-9
        )

    @given(st.floats(0.2, 10.0), SIZES, SIZES)
    @settings(max_examples=40, deadline=None)
    def test_the_three_shares_come_from_integrals_that_add_to_two(self, a: float, b: float, c: float) -> None:
        mass = ellipsoid_mass(a, b, c)
        assert sum(float(2.0 * k / (1.0 + k)) for k in (mass.surge, mass.sway, mass.heave)) == pytest.approx(2.0)

    def test_many_at_once(self) -> None:
        many = ellipsoid_mass([4.0, 5.0], [2.0, 1.0], [1.0, 1.0])
        assert float(many.heave[0]) == float(ellipsoid_mass(4.0, 2.0, 1.0).heave)
        assert float(many.yaw[1]) == pytest.approx(lamb(5.0)[2])


class TestEnds:
    @pytest.mark.parametrize("slenderness", [2.0, 5.0, 10.0])
    def test_a_spheroid_keeps_lamb_s_share_of_its_sections_sum(self, slenderness: float) -> None:
        """Sections alone give k2 = 1 and k' = l^2/(l^2 + d^2): 0.80, 0.96, 0.99."""
        ends = end_factors(slenderness, 1.0, 1.0)
        strip = slenderness**2 / (slenderness**2 + 1.0)
        _, sway, turn = lamb(slenderness)
        expected = [sway, turn / strip, turn / strip]
        assert [float(ends.sway), float(ends.yaw), float(ends.pitch)] == pytest.approx(expected)

    def test_of_an_ellipsoid_against_its_own_strips_summed(self) -> None:
        a, b, c = 4.0, 0.8, 1.3
        x = np.linspace(-a, a, 20001)
        mass = math.pi * c**2 * (1.0 - x**2 / a**2)
        displaced = 4.0 / 3.0 * math.pi * a * b * c
        whole, ends = ellipsoid_mass(a, b, c), end_factors(a, b, c)
        assert float(ends.sway) * np.trapezoid(mass, x) == pytest.approx(float(whole.sway) * displaced, rel=1e-6)
        turning = float(whole.yaw) * displaced * (a**2 + b**2) / 5.0
        assert float(ends.yaw) * np.trapezoid(mass * x**2, x) == pytest.approx(turning, rel=1e-6)
        other = end_factors(a, c, b)
        assert float(ends.heave) == pytest.approx(float(other.sway))
        assert float(ends.pitch) == pytest.approx(float(other.yaw))

    def test_long_waves_lose_nothing_and_short_ones_are_thin_skin(self) -> None:
        assert float(wave_factor(1e-3, 1e6)) == pytest.approx(1.0, abs=1e-6)
        assert float(wave_factor(1.0, 1e-2)) == pytest.approx(1.0 / (2.0 * math.pi * 100.0), rel=1e-2)
        assert np.all(np.diff(wave_factor(0.017, np.geomspace(0.01, 10.0, 50))) > 0.0)

    def test_a_wave_s_factor_is_that_of_the_bessel_functions(self) -> None:
        from scipy.special import k1, kvp

        q = 2.0 * math.pi * 0.017 / 0.17
        assert float(wave_factor(0.017, 0.17)) == pytest.approx(float(k1(q) / (-q * kvp(1, q))), rel=1e-12)


def outline(fullness: float, half_width: float, half_depth: float, levels: int = 14) -> list[Array]:
    """A quarter of a superellipse from the right round to the top: places, slopes, bends, weights, 12 to a stretch."""
    places, weights = np.polynomial.legendre.leggauss(12)
    steps = np.concatenate([[0.0], 2.0 ** -np.arange(levels, 0, -1.0)])
    edges = np.concatenate([steps, 1.0 - steps[::-1][1:]]) * 2.0 ** (-1.0 / fullness)
    fine = [np.linspace(low, high, 1 + max(1, math.ceil((high - low) / 0.08)))[:-1]
            for low, high in pairwise(edges)]  # fmt: skip
    edges = np.concatenate([*fine, edges[-1:]])
    half = 0.5 * np.diff(edges)
    t = (edges[:-1, None] + half[:, None] * (1.0 + places)).ravel()
    w = (half[:, None] * weights).ravel()
    power = t**fullness
    other = np.exp(np.log1p(-power) / fullness)
    slope = -(t ** (fullness - 1.0)) * np.exp(np.log1p(-power) * (1.0 / fullness - 1.0))
    bend = slope * (fullness - 1.0) * (1.0 / t + t ** (fullness - 1.0) / (1.0 - power))
    y = half_width * np.concatenate([other, t[::-1]])
    z = half_depth * np.concatenate([t, other[::-1]])
    y1 = half_width * np.concatenate([slope, -np.ones_like(t)])
    z1 = half_depth * np.concatenate([np.ones_like(t), -slope[::-1]])
    y2 = half_width * np.concatenate([bend, np.zeros_like(t)])
    z2 = half_depth * np.concatenate([np.zeros_like(t), bend[::-1]])
    return [y, z, y1, z1, y2, z2, np.concatenate([w, w[::-1]])]


def flow_round(fullness: float, half_width: float, half_depth: float) -> tuple[float, float, float]:
    """Sway and heave [m2] and roll [m4] of a section: the angle of each place on its circle, then the energy.

    A charge spread so that inside there is no field gives that angle; it solves a boundary integral equation.
    """
    y, z, y1, z1, y2, z2, w = outline(fullness, half_width, half_depth)
    speed = np.hypot(y1, z1)
    own = (y1 * z2 - z1 * y2) / speed**3 / (4.0 * math.pi)
    field = np.zeros((len(y), len(y)))
    for right, up in ((1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)):
        dy, dz = y[:, None] - right * y, z[:, None] - up * z
        square = dy**2 + dz**2
        if right == up == 1.0:
            np.fill_diagonal(square, 1.0)
        part = (dy * z1[:, None] - dz * y1[:, None]) / (speed[:, None] * square * 2.0 * math.pi)
        if right == up == 1.0:
            np.fill_diagonal(part, own)
        field += part
    root = np.sqrt(speed * w)
    matrix = 0.5 * np.eye(len(y)) - field * root[:, None] * root + np.outer(root, root) / (root @ root)
    charge = np.linalg.solve(matrix, root / (root @ root)) / root
    angles, steps = angles_of(charge * speed, w)
    return energies(y, z, angles, steps)


def angles_of(rate: Array, weights: Array) -> tuple[Array, Array]:
    """Angles at the places, a quarter turn in all, from a rate at Gauss points in stretches of 12; and their steps."""
    places, unit = np.polynomial.legendre.leggauss(12)
    vander = np.polynomial.legendre.legvander(places, 11)
    sums = np.stack([np.polynomial.legendre.Legendre.basis(j).integ(lbnd=-1)(places) for j in range(12)], axis=1)
    running = sums @ np.linalg.inv(vander)
    half = weights[::12] / unit[0]
    blocks = rate.reshape(-1, 12)
    ends = np.concatenate([[0.0], np.cumsum(half * (blocks @ unit))])
    angles = ends[:-1, None] + half[:, None] * (blocks @ running.T)
    return 0.5 * math.pi / ends[-1] * angles.ravel(), 0.5 * math.pi / ends[-1] * rate * weights


def energies(y: Array, z: Array, angles: Array, steps: Array) -> tuple[float, float, float]:
    """Sway, heave and roll by the waves of z, y and r^2 on the circle."""
    odd, even = np.arange(1, 120, 2), np.arange(2, 120, 2)
    lift = 4.0 / math.pi * np.sin(np.outer(odd, angles)) @ (z * steps)
    side = 4.0 / math.pi * np.cos(np.outer(odd, angles)) @ (y * steps)
    turn = 4.0 / math.pi * np.cos(np.outer(even, angles)) @ ((y**2 + z**2) * steps)
    return (float(math.pi * odd @ lift**2), float(math.pi * odd @ side**2), float(0.25 * math.pi * even @ turn**2))


class TestSections:
    @pytest.mark.parametrize(("half_width", "half_depth"), [(1.0, 1.0), (0.3, 1.0), (1.0, 0.6)])
    def test_the_flow_solved_is_exact_for_ellipses(self, half_width: float, half_depth: float) -> None:
        exact = (math.pi * half_depth**2, math.pi * half_width**2,
                 math.pi / 8.0 * (half_depth**2 - half_width**2) ** 2)  # fmt: skip
        assert flow_round(2.0, half_width, half_depth) == pytest.approx(exact, rel=1e-6, abs=1e-8)

    @pytest.mark.parametrize("ratio", [0.07, 0.25, 0.55, 0.76, 0.95])
    @pytest.mark.parametrize("fullness", [1.25, 1.5, 2.3, 2.7, 3.3, 4.5, 7.0, 11.0])
    def test_are_what_the_flow_says(self, fullness: float, ratio: float) -> None:
        sway, heave, roll = flow_round(fullness, ratio, 1.0)
        told = math.pi * section_sway_coefficient(fullness, [1.0, ratio], [ratio, 1.0]) * [1.0, ratio**2]
        assert told == pytest.approx([sway, heave], rel=2e-3)
        inertia = float(section_roll_inertia(fullness, 1.0, ratio))
        assert inertia == pytest.approx(roll, abs=1.5e-3 * math.pi / 8.0 * (1.0 + ratio**2) ** 2)
        assert float(section_roll_inertia(fullness, ratio, 1.0)) == pytest.approx(inertia, rel=1e-12)

    @given(st.floats(0.001, 1000.0))
    @settings(max_examples=30, deadline=None)
    def test_ellipse_is_one_whatever_its_sides(self, ratio: float) -> None:
        assert float(section_sway_coefficient(2.0, 1.0, ratio)) == 1.0

    def test_a_plate_is_one_however_full_and_none_edge_on(self) -> None:
        assert section_sway_coefficient([1.0, 4.0, 12.0], 1.0, 0.0) == pytest.approx([1.0] * 3, abs=1e-12)
        assert section_roll_inertia([1.0, 4.0, 12.0], 1.0, 0.0) == pytest.approx([math.pi / 8.0] * 3, abs=1e-9)
        thick = section_sway_coefficient(6.0, [1e-3, 1e-9], 1.0)
        assert np.all(np.isfinite(thick))
        assert float(thick[0]) == pytest.approx(float(section_sway_coefficient(6.0, 0.05, 1.0)), rel=1e-12)

    @given(st.floats(LEANEST, FULLEST - 0.1), st.floats(0.05, 20.0))
    @settings(max_examples=60, deadline=None)
    def test_a_fuller_section_moves_more(self, fullness: float, ratio: float) -> None:
        less, more = section_sway_coefficient([fullness, fullness + 0.1], 1.0, ratio)
        assert less < more

    @pytest.mark.parametrize("fullness", [0.99, 12.01, math.nan])
    def test_outside_the_fit_is_refused(self, fullness: float) -> None:
        for asked in (section_sway_coefficient, section_roll_inertia):
            with pytest.raises(OutsideSource, match="is known from 1 to 12"):
                asked([2.0, fullness], 1.0, 1.0)


class TestFins:
    @given(SIZES, SIZES)
    @settings(max_examples=30, deadline=None)
    def test_without_fins_it_is_the_ellipse(self, h: float, w: float) -> None:
        section = finned_section(h, w, highest=0.0, lowest=h)
        assert section.sway[0] == pytest.approx(math.pi * h**2)
        assert section.centre[0] == pytest.approx(0.0, abs=1e-9)
        assert section.roll[0] == pytest.approx(math.pi / 8.0 * (h**2 - w**2) ** 2, abs=1e-9)

    @given(SIZES, SIZES)
    @settings(max_examples=30, deadline=None)
    def test_a_plate_alone_is_a_plate_wherever_its_middle_is(self, up: float, down: float) -> None:
        half, middle = 0.5 * (up + down), 0.5 * (up - down)
        section = finned_section(0.0, 0.0, highest=up, lowest=down)
        plate = (math.pi * half**2, math.pi / 8.0 * half**4)
        assert (section.sway[0], section.roll[0]) == pytest.approx(plate, rel=1e-9)
        assert section.centre[0] == pytest.approx(middle, abs=1e-9)

    @given(SIZES, SIZES, st.floats(0.0, 2.0), st.floats(0.0, 2.0))
    @settings(max_examples=40, deadline=None)
    def test_upside_down_it_is_the_same_upside_down(self, h: float, w: float, up: float, down: float) -> None:
        one = finned_section(h, w, highest=up, lowest=down)
        other = finned_section(h, w, highest=down, lowest=up)
        assert one.sway[0] == pytest.approx(other.sway[0], rel=1e-9)
        assert one.centre[0] == pytest.approx(-other.centre[0], rel=1e-6, abs=1e-9)
        assert one.roll[0] == pytest.approx(other.roll[0], rel=1e-6, abs=1e-9)

    @given(SIZES, SIZES, st.floats(1.0, 4.0))
    @settings(max_examples=40, deadline=None)
    def test_with_its_own_water_it_moves_more_than_what_is_inside_it_and_less_than_what_is_round_it(
        self, h: float, w: float, tall: float
    ) -> None:
        section = finned_section([h, h], [w, w], highest=[h * tall, 1.1 * h * tall], lowest=h)
        assert section.sway[0] < section.sway[1]
        span, own = 0.5 * h * (1.0 + tall), math.pi * h * w
        ball = max(h * tall, w)
        inside = max(math.pi * span**2, math.pi * h**2 + own)
        assert inside * (1.0 - 1e-9) <= section.sway[0] + own <= 2.0 * math.pi * ball**2 * (1.0 + 1e-9)

    def test_the_waves_add_up_to_the_closed_form(self) -> None:
        """Sway is known in closed form: the series of the same map, taken far, must come to it."""
        from scipy.fft import dct

        h, w, up, down = 1.0, 0.76, 1.6, 1.0
        circle, shift, count = 0.5 * (h + w), 0.25 * (h**2 - w**2), 1 << 15
        tips = [0.5 * (tip + math.sqrt(tip**2 - 4.0 * shift)) for tip in (up, down)]
        above, below = (tip + circle**2 / tip for tip in tips)
        angle = (np.arange(count) + 0.5) * math.pi / count
        slit = 0.5 * (above - below) + 0.5 * (above + below) * np.cos(angle)
        out = 0.5 * np.sign(slit) * (np.abs(slit) + np.sqrt(np.maximum(slit**2 - 4.0 * circle**2, 0.0)))
        on_fin = np.abs(slit) > 2.0 * circle
        height = np.where(on_fin, out + shift / np.where(on_fin, out, 1.0), 0.5 * h * slit / circle)
        width = np.where(on_fin, 0.0, w * np.sqrt(np.maximum(1.0 - (0.5 * slit / circle) ** 2, 0.0)))
        lift, turn = (dct(values, type=2)[: count // 4] / count for values in (height, height**2 + width**2))
        order = np.arange(count // 4)
        section = finned_section(h, w, highest=up, lowest=down)
        sway = math.pi * float(order @ lift**2)
        assert section.sway[0] == pytest.approx(sway, rel=1e-4)
        centre = 0.5 * math.pi * float(order @ (lift * turn)) / sway
        assert section.centre[0] == pytest.approx(centre, rel=2e-3)
        roll = 0.25 * math.pi * float(order @ turn**2) - sway * centre**2
        assert section.roll[0] == pytest.approx(roll, rel=2e-3)
