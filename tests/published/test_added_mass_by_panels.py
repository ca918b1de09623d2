"""Bodies with superellipse sections by a panel code, beside their sections summed with the ends allowed for."""

import math

import capytaine
import numpy as np
import pytest

from gudgeon.physics.added_mass import ellipsoid_mass, end_factors, section_sway_coefficient

PANELS = "capytaine 3.0, panel code for potential flow"
WATER = 1000.0


def mesh(fullness: float, half_length: float, half_width: float, half_depth: float) -> "capytaine.Mesh":
    """A body whose sections are one superellipse, its size along the length that of an ellipse."""
    slices, round_ = 20, 28
    x = -half_length * np.cos(np.pi * np.arange(slices + 1) / slices)
    size = np.sqrt(np.maximum(1.0 - (x / half_length) ** 2, 0.0))
    turn = 2.0 * np.pi * np.arange(round_) / round_
    y, z = (scale * np.sign(c) * np.abs(c) ** (2.0 / fullness)
            for scale, c in ((half_width, np.cos(turn)), (half_depth, np.sin(turn))))  # fmt: skip
    along = np.broadcast_to(x[:, None], (slices + 1, round_))
    corners = np.stack([along, size[:, None] * y, size[:, None] * z], axis=2).reshape(-1, 3)
    first = (np.arange(slices)[:, None] * round_ + np.arange(round_)).ravel()
    beside = (np.arange(slices)[:, None] * round_ + (np.arange(round_) + 1) % round_).ravel()
    faces = np.stack([first, beside, beside + round_, first + round_], axis=1)
    made = capytaine.Mesh(corners, faces)
    return made if made.volume > 0.0 else capytaine.Mesh(corners, faces[:, ::-1])


def by_panels(shape: "capytaine.Mesh", *motions: str) -> list[float]:
    """Added mass or inertia [kg, kg m2] about the middle in each motion, far from surface and bottom."""
    body = capytaine.FloatingBody(shape, dofs=capytaine.rigid_body_dofs(rotation_center=(0.0, 0.0, 0.0)))
    flow = capytaine.Delhommeau(tabulation_nr=4, tabulation_nz=4, tabulation_cache_dir=None)  # a surface's, not needed
    solver = capytaine.BEMSolver(green_function=flow, method="direct")
    found = []
    for motion in motions:
        problem = capytaine.RadiationProblem(body=body, radiating_dof=motion, free_surface=np.inf, water_depth=np.inf,
                                             omega=1.0, rho=WATER)  # fmt: skip
        found.append(float(np.real(solver.solve(problem, keep_details=False).added_masses[motion])))
    return found


@pytest.mark.source(PANELS, where="semi-axes 4 : 2 : 1, 560 panels, run")
def test_an_ellipsoid() -> None:
    shares = ellipsoid_mass(4.0, 2.0, 1.0)
    displaced = WATER * 4.0 / 3.0 * math.pi * 8.0
    told = [displaced * float(one) for one in (shares.surge, shares.sway, shares.heave)]
    assert by_panels(mesh(2.0, 4.0, 2.0, 1.0), "Surge", "Sway", "Heave") == pytest.approx(told, rel=0.02)


@pytest.mark.source(PANELS, where="sections 2.5 and 4 full, 0.76 as wide as deep, six times as long as deep, run")
@pytest.mark.parametrize("fullness", [2.5, 4.0])
def test_bodies_of_a_lure_s_proportions(fullness: float) -> None:
    length, width, depth = 6.0, 0.76, 1.0
    ends = end_factors(length, width, depth)
    sway = WATER * math.pi * depth**2 * float(section_sway_coefficient(fullness, depth, width))
    heave = WATER * math.pi * width**2 * float(section_sway_coefficient(fullness, width, depth))
    told = [4.0 / 3.0 * length * sway * float(ends.sway), 4.0 / 3.0 * length * heave * float(ends.heave)]
    turning = 4.0 / 15.0 * length**3 * sway * float(ends.yaw)
    found = by_panels(mesh(fullness, length, width, depth), "Sway", "Heave", "Yaw")
    assert found[:2] == pytest.approx(told, rel=0.015)
    assert found[2] == pytest.approx(turning, rel=0.04)
