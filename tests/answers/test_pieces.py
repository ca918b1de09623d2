"""Each piece of a jointed lure alone, and how unlike the whole it floats."""

import math
from collections.abc import Callable

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.pieces import pieces
from gudgeon.design.model import Design

Maker = Callable[..., Design]
SECTION = math.pi * 0.010 * 0.020
RHO = 998.2067


def test_a_lure_in_one_piece_is_like_itself(cylinder: Maker) -> None:
    (body,) = pieces(assemble(cylinder()))
    assert (body.name, body.start, body.stop) == ("body", 0.0, pytest.approx(0.120))
    assert body.unlike.value == 0.0
    assert body.unlike.spread == pytest.approx(0.0, abs=1e-12)


def test_two_pieces_of_one_board_float_alike(cylinder: Maker) -> None:
    head, tail = pieces(assemble(cylinder(joint=[{"at": "70 mm", "gap": "2 mm"}])))
    assert (head.name, tail.name) == ("head", "tail")
    assert head.stop == pytest.approx(0.069)
    assert tail.start == pytest.approx(0.071)
    assert head.volume.value == pytest.approx(SECTION * 0.069, rel=1e-9)
    assert tail.blank.value == pytest.approx(400.0 * SECTION * 0.049, rel=1e-9)
    assert head.unlike.value == pytest.approx(0.0, abs=1e-12)
    assert head.unlike.spread > 0.05  # 5 % along the board
    assert head.rate.excess.value == pytest.approx((400.0 - RHO) * SECTION * 0.069, rel=1e-6)


def test_a_hook_makes_its_piece_the_heavier(cylinder: Maker) -> None:
    """Heaviness is weight in water over weight; the difference to the whole's, by hand."""
    hook = {"name": "hook", "at": "90 mm", "weight": "8 g"}
    head, tail = pieces(assemble(cylinder(joint=[{"at": "70 mm", "gap": "2 mm"}], hook=[hook])))

    def heaviness(mass: float, volume: float) -> float:
        return 1.0 - RHO * volume / mass

    iron = 0.008 / 7850.0
    whole = heaviness(400.0 * SECTION * 0.118 + 0.008, SECTION * 0.118 + iron)
    assert head.unlike.value == pytest.approx(heaviness(400.0, 1.0) - whole, rel=1e-5)
    own = heaviness(400.0 * SECTION * 0.049 + 0.008, SECTION * 0.049 + iron)
    assert tail.unlike.value == pytest.approx(own - whole, rel=1e-5)
    assert head.unlike.value < 0.0 < tail.unlike.value


def test_half_a_hinge_pin_belongs_to_each(cylinder: Maker) -> None:
    pin = {"name": "pin", "kind": "pin", "weight": "2 g", "material": "steel", "at": "60 mm"}
    joint = [{"at": "60 mm", "gap": "2 mm"}]
    with_pin, without = (pieces(assemble(cylinder(joint=joint, fitting=extra))) for extra in ([pin], []))
    for one, other in zip(with_pin, without, strict=True):
        gone = 400.0 * 0.5 * 0.002 / 7850.0
        assert one.rate.mass.value - other.rate.mass.value == pytest.approx(0.001 - gone, rel=1e-9)


def test_the_lever_is_buoyancy_over_weight(cylinder: Maker) -> None:
    hook = {"name": "hook", "at": "30 mm", "weight": "8 g"}
    head, tail = pieces(assemble(cylinder(joint=[{"at": "70 mm", "gap": "2 mm"}], hook=[hook])))
    wood, iron = 400.0 * SECTION * 0.069, 0.008 / 7850.0
    up = -0.020 * iron / (SECTION * 0.069 + iron) + 0.020 * 0.008 / (wood + 0.008)
    assert head.lever.value == pytest.approx(up, rel=1e-6)
    assert tail.lever.value == pytest.approx(0.0, abs=1e-12)


def test_a_piece_falls_on_its_own_plan_area(cylinder: Maker) -> None:
    lead = {"name": "lead", "at": "30 mm", "bore": "14 mm", "holds": "30 g"}
    head, _ = pieces(assemble(cylinder(joint=[{"at": "70 mm", "gap": "2 mm"}], pocket=[lead], hook=[
        {"name": "hook", "at": "39 mm", "weight": "5 g"}])))  # fmt: skip
    assert head.rate.excess.value > 0.0
    level = math.sqrt(2.0 * 9.80665 * head.rate.excess.value / (RHO * 1.0 * 0.020 * 0.069))
    assert level < head.rate.velocity.value < 1.6 * level  # a little faster for its tilt


def test_a_piece_is_held_back_by_the_water_at_its_own_middle(cylinder: Maker) -> None:
    """Lead under the middle of the head: alone it falls level, wherever the middle of the whole lure is."""
    lead = {"name": "lead", "at": "34.5 mm", "bore": "14 mm", "holds": "36 g"}
    head, _ = pieces(assemble(cylinder(joint=[{"at": "70 mm", "gap": "2 mm"}], pocket=[lead])))
    assert head.rate.excess.value > 0.005
    assert head.rate.attitude.value == pytest.approx(0.0, abs=1e-9)
