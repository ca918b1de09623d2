"""How far ahead of a joint the carried load lies, and what a table makes of a chain."""

from dataclasses import replace

import numpy as np
import pytest
from benchmarks.trial_lure import TrialLure, build, spheroid
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer
from gudgeon.kernels import tables
from gudgeon.physics.chain_tables import (
    REACH,
    body_inertia,
    chain_tables,
    spread_places,
    water_inertia,
)

Array = NDArray[np.float64]


def lifting_surface(chord: float, rows: int, columns: int = 12, bend: float = 0.0) -> tuple[Array, Array]:
    """Stations and load of each row of a plate of span 1, turned by a small angle behind station `bend`, over rho U.

    Horseshoe vortices at a quarter of each panel, no flow through it at three quarters.
    """
    sides = -0.5 * np.cos(np.linspace(0.0, np.pi, columns + 1))
    middles = -0.5 * np.cos(np.pi * (np.arange(columns) + 0.5) / columns)
    front, back = ((np.arange(rows) + share) * chord / rows for share in (0.25, 0.75))
    x, left = (grid.ravel() for grid in np.meshgrid(front, sides[:-1], indexing="ij"))
    right = np.meshgrid(front, sides[1:], indexing="ij")[1].ravel()
    here, across = (grid.ravel() for grid in np.meshgrid(back, middles, indexing="ij"))
    along = here[:, None] - x
    a, b = across[:, None] - left, across[:, None] - right
    far_a, far_b = np.hypot(along, a), np.hypot(along, b)
    rise = (a / far_a - b / far_b) / along + (1.0 + along / far_a) / a - (1.0 + along / far_b) / b
    circulation = np.linalg.solve(rise / (4.0 * np.pi), np.where(here < bend, 0.0, 1.0)).reshape(rows, columns)
    return front, (circulation * np.diff(sides)).sum(axis=1)


@pytest.mark.parametrize(("aspect", "slope"), [(1.0, 1.4602), (2.0, 2.4744)])
def test_the_lifting_surface_is_right_for_flat_plates(aspect: float, slope: float) -> None:
    _, load = lifting_surface(1.0 / aspect, 40)
    assert 2.0 * aspect * load.sum() == pytest.approx(slope, rel=2e-3)


def test_a_bends_load_is_carried_as_far_as_a_lifting_surface_says() -> None:
    """Of a long plate bent across its middle: half of the load ahead of the bend, half behind, and as far behind."""
    shares, reaches, behind = [], [], []
    for rows in (40, 80, 160):
        station, load = lifting_surface(4.0, rows, bend=2.0)
        ahead = station < 2.0
        shares.append(load[ahead].sum() / load.sum())
        reaches.append(load[ahead] @ (2.0 - station[ahead]) / (0.5 * load.sum()))
        behind.append(load[~ahead] @ (station[~ahead] - 2.0) / (0.5 * load.sum()))
    assert load.sum() == pytest.approx(np.pi / 4.0, rel=0.02)  # what slender bodies have, all of it at the bend
    assert shares == sorted(shares)
    assert 0.45 < shares[-1] < 0.5
    assert reaches == pytest.approx([REACH] * 3, abs=0.015)
    assert behind == pytest.approx([REACH] * 3, abs=0.02)


def test_a_joints_load_is_spread_about_it_and_stays_on_its_pieces() -> None:
    chain = build(TrialLure())
    reach = REACH * chain.strips.depth[chain.strips.first[1] - 1]
    length = chain.pieces.length[0]
    ahead = np.linspace(0.0, length, 20001)
    weight = np.exp(-ahead / reach)
    fore, aft = spread_places(chain, 0)
    assert fore == pytest.approx(float(ahead @ weight / weight.sum()) - length, abs=1e-5)
    assert 0.4 * (fore + length) == pytest.approx(-0.6 * aft)
    short = replace(chain, pieces=replace(chain.pieces, length=np.full(3, 1e-3)))
    assert spread_places(short, 0) == pytest.approx((-0.5e-3, -0.5e-3 * 2.0 / 3.0), rel=0.02)
    flat = replace(chain, strips=replace(chain.strips, depth=np.zeros_like(chain.strips.depth)))
    assert spread_places(flat, 0) == pytest.approx((-length, 0.0), abs=1e-8)
    for share, back in ((0.0, 0.0), (0.9, 0.5 * length), (1.0, 0.5 * length)):
        joints = replace(chain.joints, carry_over=np.full(2, share))
        assert spread_places(replace(chain, joints=joints), 0)[1] == pytest.approx(-back)


def test_inertia_is_that_of_points() -> None:
    """A piece's six-by-six against the kinetic energy of its mass and its strips' water, moving at random."""
    chain = build(TrialLure(ballast=((1, 0.005, -0.02, 0.01),)))
    twist = np.array([0.3, -0.2, 0.1, 1.0, -2.0, 3.0])
    pieces, strips = chain.pieces, chain.strips
    speed = twist[:3] + np.cross(twist[3:], pieces.centre[1])
    expected = 0.5 * pieces.mass[1] * (speed @ speed) + 0.5 * twist[3:] @ pieces.inertia[1] @ twist[3:]
    assert 0.5 * twist @ body_inertia(pieces, 1) @ twist == pytest.approx(expected)
    water = 0.5 * pieces.surge_mass[1] * twist[0] ** 2
    for strip in range(strips.first[1], strips.first[2]):
        for share in np.linspace(-0.5, 0.5, 401):
            x = strips.place[strip] + share * strips.length[strip]
            here = twist[:3] + np.cross(twist[3:], [x, 0.0, strips.height_of_axis[strip]])
            water += 0.5 * strips.length[strip] / 401 * (strips.sway_mass[strip] * here[1] ** 2
                                                         + strips.heave_mass[strip] * here[2] ** 2
                                                         + strips.roll_inertia[strip] * twist[3] ** 2)  # fmt: skip
    assert 0.5 * twist @ water_inertia(chain, 1) @ twist == pytest.approx(water, rel=1e-4)


@pytest.mark.parametrize(("slender", "turning"), [(2.0, 0.80), (5.0, 0.96), (10.0, 0.99)])
def test_strips_turn_as_much_water_as_strips_should(slender: float, turning: float) -> None:
    """Yaw inertia of a spheroid's strips over that of the water it displaces: 1 / (1 + d^2 / L^2) in closed form."""
    wide = 0.2 / slender
    chain = build(TrialLure(length=0.2, depth=wide, width=wide, fullness=2.0, cuts=(), outline=spheroid, mass_scale=1.0,
                            strips=400, surge=0.0, hooks=()))  # fmt: skip
    water, volume = water_inertia(chain, 0), float(chain.pieces.volume[0])
    about_middle = water[5, 5] - 0.1**2 * water[1, 1]
    displaced = 1000.0 * volume * (0.1**2 + (0.5 * wide) ** 2) / 5.0
    assert about_middle / displaced == pytest.approx(turning, abs=0.005)
    assert about_middle / displaced == pytest.approx(1.0 / (1.0 + 1.0 / slender**2), rel=2e-3)


def test_points_and_plates_stand_with_their_pieces() -> None:
    chain = build(TrialLure(hooks=((2, -0.01, 0.0, 1e-5), (0, -0.02, 0.0, 2e-5), (2, -0.03, 0.0, 3e-5))))
    found = chain_tables(chain, 1.0)
    assert found.spans[tables.OF_POINTS].tolist() == [0, 1, 1, 3]
    assert found.spans[tables.OF_PLATES].tolist() == [0, 0, 0, 0]
    assert found.points[:, tables.POINT_DRAG] == pytest.approx([0.01, 0.005, 0.015])


def test_a_chain_too_long_is_refused() -> None:
    with pytest.raises(NoAnswer, match="9 pieces: a lure of up to 8 can be towed"):
        chain_tables(build(TrialLure(cuts=tuple(np.arange(1, 9) / 9.0))), 1.0)
