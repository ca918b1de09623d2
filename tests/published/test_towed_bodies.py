"""The strips of a towed chain against bodies whose forces, added masses and periods others have published."""

import math
from dataclasses import replace

import numpy as np
import pytest
from benchmarks.trial_lure import TrialLure, build, spheroid, straight
from numpy.typing import NDArray
from scipy.optimize import brentq

from gudgeon.physics.chain import Chain
from gudgeon.physics.chain_motion import PLANAR, growing, water_force
from gudgeon.physics.chain_tables import water_inertia
from gudgeon.physics.tow_states import rates_of

Array = NDArray[np.float64]
FOOT = 0.3048
SUBOFF_LENGTH = 14.291667 * FOOT
BARE = TrialLure(cuts=(), hooks=(), sway_drag=0.0, heave_drag=0.0, skin=0.0, base_drag=0.0, line_stiffness=0.0,
                 gravity=0.0, fullness=2.0, mass_scale=1.0, suction=1.0, stall=math.radians(89.9), recovery=1.0,
                 strips=400)  # fmt: skip


def lamb(slenderness: float) -> tuple[float, float, float]:
    """k1, k2, k' of a prolate spheroid (Lamb, Hydrodynamics, art. 114)."""
    e = math.sqrt(1.0 - 1.0 / slenderness**2)
    log = 0.5 * math.log((1.0 + e) / (1.0 - e))
    a, b = 2.0 * (1.0 - e * e) / e**3 * (log - e), 1.0 / e**2 - (1.0 - e * e) / e**3 * log
    turning = e**4 * (b - a) / ((2.0 - e * e) * (2.0 * e * e - (2.0 - e * e) * (b - a)))
    return a / (2.0 - a), b / (2.0 - b), turning


def spheroid_chain(length: float, slenderness: float, *, scale: float, surge: float, **more: float) -> Chain:
    wide = length / slenderness
    return build(replace(BARE, length=length, depth=wide, width=wide, outline=spheroid, mass_scale=scale, surge=surge,
                         **more))  # fmt: skip


def yawed(chain: Chain, angle: float, speed: float = 1.0) -> Array:
    """Water's force and moment about the nose on a chain that goes straight ahead, yawed so much to starboard."""
    return water_force(chain, speed * np.array([math.cos(angle), -math.sin(angle), 0.0, 0.0, 0.0, 0.0]))


@pytest.mark.source("Munk, NACA TR 184 (1924); Lamb, ARC R&M 623 (1918)", where="moment of a spheroid; table of k1, k2")
@pytest.mark.parametrize(("slenderness", "share"), [(4.0, 0.7782), (6.0, 0.8719), (8.0, 0.9155)])
def test_munks_moment(slenderness: float, share: float) -> None:
    surge, sway, _ = lamb(slenderness)
    chain = spheroid_chain(0.2, slenderness, scale=sway, surge=surge)
    angle, volume = math.radians(5.0), float(chain.pieces.volume[0])
    force = yawed(chain, angle)
    moment = force[5] + 0.1 * force[1]
    assert moment / (500.0 * volume * math.sin(2.0 * angle)) == pytest.approx(share, rel=1e-3)
    assert abs(force[1]) < 1e-9


@pytest.mark.source("Munk, NACA TR 184 (1924); Lamb, ARC R&M 623 (1918)", where="moment of a spheroid; table")
def test_munks_moment_of_a_small_lure() -> None:
    surge, sway, _ = lamb(5.0)
    force = yawed(spheroid_chain(0.1, 5.0, scale=sway, surge=surge), math.radians(5.0), speed=1.5)
    assert force[5] + 0.05 * force[1] == pytest.approx(3.4170e-3, rel=0.01)


@pytest.mark.source("Jones, NACA TR 835 (1946)", where="lift pi/2 A a, drag C_L^2 / (pi A), at the leading edge")
@pytest.mark.parametrize("aspect", [0.25, 0.5, 1.0])
def test_a_slender_plate(aspect: float) -> None:
    chord, angle = 0.1, math.radians(3.0)
    high = aspect * chord
    chain = build(replace(BARE, length=chord, depth=high, width=1e-4, outline=straight, recovery=0.0, strips=40))
    force = yawed(chain, angle)
    along, across = np.array([math.cos(angle), -math.sin(angle)]), np.array([math.sin(angle), math.cos(angle)])
    lift, drag = float(across @ force[:2]), -float(along @ force[:2])
    pressure = 500.0 * chord * high
    assert lift / pressure / angle == pytest.approx(0.5 * math.pi * aspect, rel=0.01)
    assert drag / pressure / ((lift / pressure) ** 2 / (math.pi * aspect)) == pytest.approx(1.0, rel=0.01)
    assert abs(force[5] / force[1]) < 0.01 * chord


def suboff_outline(along: Array) -> Array:
    """Radius over the largest of the bare SUBOFF hull (from memory: Groves, Huang and Chang, DTRC/SHD-1298-01)."""
    feet = np.asarray(along) * 14.291667
    nose = np.clip(0.3 * feet - 1.0, -1.0, 0.0)
    bow = 1.126395101 * feet * nose**4 + 0.442874707 * feet**2 * nose**3 + 1.0 - nose**4 * (1.2 * feet + 1.0)
    end, k0, k1 = 0.1175, 10.0, 44.6244
    s = np.clip((13.979167 - feet) / 3.333333, 0.0, 1.0)
    stern = (end**2 + end * k0 * s**2 + (20 - 20 * end**2 - 4 * end * k0 - k1 / 3) * s**3
             + (-45 + 45 * end**2 + 6 * end * k0 + k1) * s**4 + (36 - 36 * end**2 - 4 * end * k0 - k1) * s**5
             + (-10 + 10 * end**2 + end * k0 + k1 / 3) * s**6)  # fmt: skip
    cap = end**2 * np.maximum(0.0, 1.0 - (3.2 * feet - 44.733333) ** 2)
    return np.where(feet <= 10.0 / 3.0, np.maximum(bow, 0.0) ** (1.0 / 2.1), np.where(
        feet <= 10.645833, 1.0, np.sqrt(np.maximum(np.where(feet <= 13.979167, stern, cap), 0.0))))  # fmt: skip


def suboff_derivatives(recovery: float) -> dict[str, float]:
    """Y_v', N_v', Y_r', N_r' about 2.013 m from the nose."""
    wide = 5.0 / 3.0 * FOOT
    chain = build(replace(BARE, length=SUBOFF_LENGTH, depth=wide, width=wide, outline=suboff_outline, mass_scale=0.96,
                          surge=0.02, recovery=recovery, skin=1.0, strips=300))  # fmt: skip
    at, small = 2.013, 1e-3
    assert float(chain.pieces.volume[0]) == pytest.approx(0.699, abs=0.003)
    found = {}
    for name, motion, powers in (("v", [1.0, small, 0.0, 0.0, 0.0, 0.0], (2, 3)),
                                 ("r", [1.0, small * at, 0.0, 0.0, 0.0, small], (3, 4))):  # fmt: skip
        force = water_force(chain, np.array(motion))
        found[f"Y{name}"] = force[1] / small / (500.0 * SUBOFF_LENGTH ** powers[0])
        found[f"N{name}"] = (force[5] + at * force[1]) / small / (500.0 * SUBOFF_LENGTH ** powers[1])
    return found


@pytest.mark.source("Roddy, DTRC/SHD-1298-08 (1990)", where="table 4, configuration 3, in a public copy")
def test_suboff_bare_hull() -> None:
    measured = {"Yv": -0.005948, "Nv": -0.012795, "Yr": 0.001811, "Nr": -0.001597}
    recovery = brentq(lambda share: suboff_derivatives(share)["Yv"] - measured["Yv"], 0.5, 1.0)
    assert recovery == pytest.approx(0.767, abs=0.01)
    found = suboff_derivatives(float(recovery))
    for name, tolerance in (("Nv", 0.15), ("Yr", 0.30), ("Nr", 0.50)):
        assert found[name] == pytest.approx(measured[name], rel=tolerance), name


@pytest.mark.source("Roddy, DTRC/SHD-1298-08 (1990)", where="table 4, configuration 3: N_v' over the ideal moment")
def test_suboff_moment_is_less_than_ideal() -> None:
    ideal = -suboff_derivatives(1.0)["Nv"]
    assert 0.75 < 0.012795 / ideal < 0.90


def myring(along: Array, length: float = 1.3327) -> Array:
    """Radius over the largest of a Myring hull: nose 0.191 m less 0.0165, middle to 0.8285, tail 0.541 less 0.0368."""
    x, d, c, slope = np.asarray(along) * length, 0.191, 0.541, 0.436
    nose = 0.5 * d * np.sqrt(np.maximum(0.0, 1.0 - ((x + 0.0165 - 0.191) / 0.191) ** 2))
    back = np.maximum(x - 0.8285, 0.0)
    tail = (0.5 * d - (1.5 * d / c**2 - math.tan(slope) / c) * back**2
            + (d / c**3 - math.tan(slope) / c**2) * back**3)  # fmt: skip
    return np.where(x < 0.1745, nose, tail) / (0.5 * d)


@pytest.mark.source("Prestero, MSc thesis, MIT and WHOI (2001)", where="added mass of the vehicle, as in public codes; "
                    "fins to 0.131 m off the axis 0.611 to 0.685 m aft of the centre, as one corrects it")  # fmt: skip
def test_added_mass_of_an_underwater_vehicle() -> None:
    length, wide, centre = 1.3327, 0.191, 0.611
    chain = build(replace(BARE, length=length, depth=wide, width=wide, outline=myring, strips=600))
    aft = -chain.strips.place - centre
    radius = 0.5 * chain.strips.depth
    finned = math.pi * 1000.0 * (0.131**2 - radius**2 + radius**4 / 0.131**2)
    sway = np.where((aft > 0.611) & (aft < 0.685), finned, chain.strips.sway_mass)
    water = water_inertia(replace(chain, strips=replace(chain.strips, sway_mass=sway)), 0)
    cross = water[1, 5] + centre * water[1, 1]
    turning = water[5, 5] + 2.0 * centre * water[1, 5] + centre**2 * water[1, 1]
    assert water[1, 1] == pytest.approx(35.5, rel=0.10)
    assert turning == pytest.approx(4.88, rel=0.10)
    assert cross == pytest.approx(-1.93, rel=0.25)
    assert water_inertia(chain, 0)[1, 1] == pytest.approx(32.6, rel=0.04)
    surging = 4.0 * 0.251892 * 1000.0 * math.pi / 3.0 * (0.5 * wide) ** 3
    assert surging == pytest.approx(0.930, rel=0.03)


@pytest.mark.source("Lamb, ARC R&M 623 (1918)", where="k of a sphere, 1/2: it starts at (rs - r) g / (rs + r / 2)")
@pytest.mark.parametrize("pitch", [0.0, 0.7, math.pi / 2.0])
def test_a_lead_ball_let_go(pitch: float) -> None:
    chain = spheroid_chain(0.02, 1.0, scale=0.5, surge=0.5, gravity=9.80665)
    chain = replace(chain, pieces=replace(chain.pieces, mass=11340.0 / 1000.0 * chain.pieces.volume * 1000.0,
                                          inertia=chain.pieces.inertia * 11.34 / 1.01))  # fmt: skip
    state = np.zeros(13)
    state[3], state[5] = math.cos(0.5 * pitch), math.sin(0.5 * pitch)
    accelerations = rates_of(chain, 1e-9, state[:, None])[7:10, 0]
    assert np.linalg.norm(accelerations) == pytest.approx(8.5643, rel=1e-3)


@pytest.mark.source("Lamb, ARC R&M 623 (1918)", where="k' of a spheroid; period 2 pi sqrt(I (1 + k') / (W BG))")
@pytest.mark.parametrize(("with_water", "period"), [(True, 1.0891), (False, 0.8353)])
def test_pitch_period_of_a_spheroid(with_water: bool, period: float) -> None:
    turning = lamb(5.0)[2]
    bare = spheroid_chain(0.1, 5.0, scale=1.0, surge=0.0, density=1000.0, gravity=9.80665)
    displaced = 1000.0 * float(bare.pieces.volume[0]) * (0.05**2 + 0.01**2) / 5.0
    about_middle = water_inertia(bare, 0)[4, 4] - 0.05**2 * water_inertia(bare, 0)[2, 2]
    chain = spheroid_chain(0.1, 5.0, scale=turning * displaced / about_middle if with_water else 0.0, surge=0.0,
                           density=1000.0, gravity=9.80665)  # fmt: skip
    centre = chain.pieces.centre + np.array([[0.0, 0.0, 0.003]])
    chain = replace(chain, pieces=replace(chain.pieces, centre=centre, inertia=np.eye(3)[None] * displaced))
    state = np.zeros(13)
    state[3], state[5] = 1.0, 0.5e-3
    found = 2.0 * math.pi / math.sqrt(-rates_of(chain, 1e-9, state[:, None])[11, 0] / 1e-3)
    assert found == pytest.approx(period, rel=0.01)


def rounded_ends(along: Array) -> Array:
    """A cylinder with elliptic ends of a twentieth of its length."""
    ends = np.minimum(np.minimum(along, 1.0 - along) / 0.05, 1.0)
    return np.sqrt(np.maximum(1.0 - (1.0 - ends) ** 2, 1e-4))


def growth(recovery: float, base: float, rope: float) -> float:
    """[1/s] of the fastest mode of a cylinder 0.4 m by 20 mm, towed at 1 m/s."""
    chain = build(TrialLure(length=0.4, depth=0.02, width=0.02, fullness=2.0, cuts=(), outline=rounded_ends, hooks=(),
                            recovery=recovery, base_drag=0.0, sway_drag=1.2, mass_scale=1.0, suction=1.0,
                            density=1000.0, line_length=rope, strips=40, gravity=0.0))  # fmt: skip
    blunt = base * math.pi / 4.0 * 0.02**2
    chain = replace(chain, pieces=replace(chain.pieces, base_drag_area=np.array([blunt])))
    return growing(chain, 1.0, free=PLANAR)[0].rate


@pytest.mark.source("Paidoussis and others, ASME PVP2014, 46018, V004T04A034", where="abstract: streamlined ends are "
                    "unsteady, a tail blunt enough steadies strongly, a shorter rope does little")  # fmt: skip
def test_a_blunt_tail_steadies_a_towed_cylinder() -> None:
    rates = [growth(recovery, base, 0.4) for recovery, base in ((1.0, 0.0), (0.8, 0.02), (0.4, 0.15), (0.0, 0.3))]
    assert rates == sorted(rates, reverse=True)
    assert rates[0] > 2.0
    assert rates[-1] < 0.0
    ropes = [growth(1.0, 0.0, rope) for rope in (0.1, 2.0)]
    assert abs(ropes[1] - ropes[0]) < 0.25 * rates[0]
