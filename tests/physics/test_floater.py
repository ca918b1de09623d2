"""A lure handed to the flotation: its sections hold what it is known to displace, its hardware hangs where it is."""

import math
from dataclasses import replace

import numpy as np
import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.design.model import Design
from gudgeon.physics.floater import floating_body, support_when_afloat
from gudgeon.physics.flotation import resting
from gudgeon.physics.lure import Lure


def cylinder(**tables: object) -> Lure:
    """160 x 40 x 30 mm, elliptical from end to end, of light wood."""
    outline = {"back": ["0 mm: 15 mm", "160 mm: 15 mm"], "side": ["0 mm: 20 mm", "160 mm: 20 mm"]}
    body: dict[str, object] = {
        "name": "float", "length": "160 mm", "outline": outline, "wood": {"density": "0.4 g/cm3"},
        "water": {"kind": "fresh", "temperature": "15 C"}, "aim": {"does": "floats", "reserve": "20 %"},
    }  # fmt: skip
    return assemble(Design.model_validate({**body, **tables}))


BODY = math.pi * 0.020 * 0.015 * 0.160


def test_a_bare_body() -> None:
    lure = cylinder()
    body = floating_body(lure)
    assert body.volume == pytest.approx(BODY, rel=1e-9)
    assert body.mass == pytest.approx(400.0 * BODY, rel=1e-9)
    assert body.centre == pytest.approx((0.080, 0.0, 0.0), abs=1e-12)
    assert body.centre_of_volume == pytest.approx((0.080, 0.0, 0.0), abs=1e-9)


def test_the_sections_hold_what_a_jug_has_shown() -> None:
    """A body known by a jug to be 3 % fuller than drawn floats with that volume, gaps and vees taken off."""
    joint = {"at": "90 mm", "gap": "2 mm", "front_bevel": "20 deg"}
    drawn = cylinder(joint=[joint])
    gone = drawn.joints[0].removed
    assert floating_body(drawn).volume == pytest.approx(BODY - gone, rel=1e-4)
    shown = 1.03 * (BODY - gone) * 998.2
    jug = {"stage": "shaped", "displaced": f"{1e3 * shown:.6f} g ± 0.001 g", "temperature": "20 C ± 0 C",
           "salinity": "0 ppt ± 0 ppt"}  # fmt: skip
    known = cylinder(joint=[joint], measured=[jug])
    assert floating_body(known).volume == pytest.approx(1.03 * (BODY - gone), rel=1e-4)
    assert floating_body(known).volume == pytest.approx(known.sums().volume, rel=1e-9)


def test_its_sections_carry_it_where_the_vee_of_a_joint_has_left_it() -> None:
    """A vee takes wood off one end of a piece: what is left is carried further from that end, as the sums have it."""
    lure = cylinder(joint=[{"at": "90 mm", "gap": "2 mm", "rear_bevel": "35 deg"}])
    assert floating_body(lure).centre_of_volume[0] == pytest.approx(lure.sums().buoyancy_centre[0], abs=1e-9)
    assert abs(lure.sums().buoyancy_centre[0] - floating_body(cylinder()).centre_of_volume[0]) > 1e-4


def test_hooks_and_coats_are_counted_once() -> None:
    lure = cylinder(
        hook=[{"name": "hook", "at": "60 mm", "weight": "5 g"}],
        coat=[{"name": "clear", "thickness": "0.4 mm", "material": "epoxy"}],
        fitting=[{"name": "eye", "kind": "screw eye", "weight": "0.8 g", "material": "steel", "at": "60 mm"}],
        pocket=[{"name": "belly", "at": "80 mm", "bore": "10 mm", "holds": "15 g"}],
    )  # fmt: skip
    body, sums = floating_body(lure), lure.sums()
    assert body.volume == pytest.approx(sums.volume, rel=1e-9)
    assert body.mass == pytest.approx(sums.mass, rel=1e-12)
    assert body.centre == pytest.approx(sums.weight_centre, abs=1e-12)
    assert body.centre_of_volume == pytest.approx(sums.buoyancy_centre, abs=2e-6)


def test_some_of_it_floats_on_its_own() -> None:
    lure = cylinder(joint=[{"at": "90 mm", "gap": "2 mm"}], hook=[{"name": "hook", "at": "120 mm", "weight": "5 g"}])
    head, tail = (floating_body(lure, lure.chosen(segment=place)) for place in (0, 1))
    assert head.volume == pytest.approx(BODY * 89.0 / 160.0, rel=1e-9)
    assert head.centre[0] == pytest.approx(0.0445, abs=1e-9)
    assert tail.volume == pytest.approx(BODY * 69.0 / 160.0 + 5e-3 / 7850.0, rel=1e-6)
    assert head.mass + tail.mass == pytest.approx(floating_body(lure).mass, rel=1e-12)


@pytest.mark.parametrize("pitch", [0.0, 0.06, -0.09])
def test_hung_under_its_support_it_floats_at_that_pitch(pitch: float) -> None:
    """Weight put on the line through the support, square to the water, floats at the pitch it was put there for."""
    lure = cylinder(pocket=[{"name": "belly", "at": "80 mm", "bore": "12 mm", "holds": "20 g"}])
    water, mass = lure.water.density, 0.060
    support = support_when_afloat(lure, water, mass, pitch)
    low = 0.008
    body = floating_body(lure)
    centre = np.array([support[0] + low * math.sin(pitch), 0.0, support[1] - low * math.cos(pitch)])
    at = resting(replace(body, mass=mass, centre=centre), water)
    assert at.pitch == pytest.approx(pitch, abs=1e-4)
    assert at.heel == pytest.approx(0.0, abs=1e-6)
    assert at.displaced_volume * water == pytest.approx(mass, rel=1e-6)


def test_a_half_sunk_cylinder_is_held_at_the_middle_of_its_lower_half() -> None:
    """Ellipse of half depth c: the centroid of the lower half lies 4 c / 3 pi under the middle."""
    lure = cylinder()
    support = support_when_afloat(lure, 1000.0, 0.5 * BODY * 1000.0, 0.0)
    assert support[0] == pytest.approx(0.080, abs=1e-9)
    assert support[1] == pytest.approx(-4.0 * 0.015 / (3.0 * math.pi), rel=2e-3)
