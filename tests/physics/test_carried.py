"""What each piece carries: closed forms of plain bodies, sums of a whole lure, things joined and parted again."""

import math
from pathlib import Path

import numpy as np
import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.design.file import load
from gudgeon.design.model import Design
from gudgeon.physics.carried import Carried, carried, joined, skin_spread
from gudgeon.physics.hull import Hull
from gudgeon.physics.outline import ConstantCurve

EXAMPLES = Path(__file__).parents[2] / "examples"
LENGTH, HALF_WIDTH, HALF_DEPTH = 0.120, 0.010, 0.020


def bar(**tables: object) -> Design:
    back, side = ([f"0 mm: {size} mm", f"120 mm: {size} mm"] for size in (20, 10))
    return Design.model_validate({
        "name": "bar", "length": "120 mm", "outline": {"back": back, "side": side}, "wood": {"density": "0.5 g/cm3"},
        "water": {"temperature": "20 C"}, "aim": {"does": "hangs"}, **tables,
    })  # fmt: skip


def test_wood_is_spread_out_as_the_body_is():
    (one,) = carried(assemble(bar()), {})
    mass = 500.0 * math.pi * HALF_WIDTH * HALF_DEPTH * LENGTH
    assert one.mass == pytest.approx(mass, rel=1e-6)
    roll, pitch, yaw = np.diag(one.inertia)
    assert roll == pytest.approx(mass * (HALF_WIDTH**2 + HALF_DEPTH**2) / 4.0, rel=1e-5)
    assert pitch == pytest.approx(mass * (LENGTH**2 / 12.0 + HALF_DEPTH**2 / 4.0), rel=1e-5)
    assert yaw == pytest.approx(mass * (LENGTH**2 / 12.0 + HALF_WIDTH**2 / 4.0), rel=1e-5)


def test_sealer_is_spread_as_wood_and_a_coat_as_the_skin():
    plain = carried(assemble(bar()), {})[0].inertia
    sealed = carried(assemble(bar(sealer={"weight": "4 g"})), {})[0]
    assert sealed.inertia == pytest.approx(plain * sealed.mass / (sealed.mass - 0.004), rel=1e-6)
    coat = {"name": "lead", "thickness": "0.1 mm", "density": "11 g/cm3"}
    lure = assemble(bar(coat=[coat]))
    mass = sum(item.mass for item in lure.ledger.items if item.kind == "coat")
    wood = sum(item.mass for item in lure.ledger.items if item.kind == "wood") / (
        500.0 * math.pi * HALF_WIDTH * HALF_DEPTH * LENGTH)  # fmt: skip
    spread = skin_spread(lure.hull, 0.0, LENGTH)
    added = carried(lure, {})[0].inertia - wood * plain
    assert added == pytest.approx(mass * (np.trace(spread) * np.eye(3) - spread), rel=1e-4, abs=1e-12)


def test_the_skin_of_a_round_bar():
    hull = Hull(LENGTH, *(ConstantCurve(size) for size in (0.01, -0.01, 0.01, 0.0, 2.0)))
    half = 0.01**2 / 2.0  # mean of y^2 round a circle
    assert skin_spread(hull, 0.02, 0.08) == pytest.approx(np.diag([0.06**2 / 12.0, half, half]), rel=3e-3, abs=1e-12)


def test_points_add_by_their_distance():
    eye = {"name": "eye", "kind": "other", "weight": "5 g", "material": "lead", "at": "20 mm", "height": "-15 mm"}
    (one,) = carried(assemble(bar(fitting=[eye])), {})
    wood = 500.0 * math.pi * HALF_WIDTH * HALF_DEPTH * LENGTH
    reduced = wood * 0.005 / (wood + 0.005)
    plain = carried(assemble(bar()), {})[0].inertia
    assert one.inertia[2, 2] - plain[2, 2] == pytest.approx(reduced * 0.04**2, rel=1e-5)
    assert one.inertia[0, 0] - plain[0, 0] == pytest.approx(reduced * 0.015**2, rel=1e-5)


@pytest.mark.parametrize("name", ["lanternmere", "glider", "glider-weighed", "diver"])
def test_pieces_sum_to_the_lure(name):
    lure = assemble(load(EXAMPLES / f"{name}.toml"))
    pieces, whole = carried(lure, {}), lure.sums()
    mass, volume = sum(one.mass for one in pieces), sum(one.volume for one in pieces)
    assert mass == pytest.approx(whole.mass)
    assert volume == pytest.approx(whole.volume)
    assert sum(one.mass * one.centre for one in pieces) / mass == pytest.approx(whole.weight_centre, abs=1e-12)
    assert sum(one.volume * one.buoyancy_centre for one in pieces) / volume == pytest.approx(
        whole.buoyancy_centre, abs=1e-12
    )
    for one in pieces:
        assert np.all(np.linalg.eigvalsh(one.inertia) > 0.0)


def test_two_points_joined_turn_about_their_middle():
    ends = [Carried(0.02, np.array([x, 0.0, 0.0]), np.zeros((3, 3)), volume, np.array([x, 0.0, 0.0]))
            for x, volume in ((0.0, 3e-6), (0.1, 0.0))]  # fmt: skip
    both = joined(*ends)
    assert both.mass == pytest.approx(0.04)
    assert both.centre == pytest.approx([0.05, 0.0, 0.0])
    assert both.buoyancy_centre == pytest.approx([0.0, 0.0, 0.0])
    assert np.diag(both.inertia) == pytest.approx([0.0, 0.04 * 0.05**2, 0.04 * 0.05**2])


def test_what_is_left_out_is_all_that_is_missing():
    lure = assemble(load(EXAMPLES / "lanternmere.toml"))
    whole, part = carried(lure, {})[-1], carried(lure, {}, without="fin")[-1]
    fin = next(item for item in lure.ledger.items if item.name == "fin")
    point = Carried(fin.mass, np.array(fin.place), np.zeros((3, 3)), fin.displaced, np.array(fin.lift))
    again = joined(part, point)
    assert again.mass == pytest.approx(whole.mass)
    assert again.inertia == pytest.approx(whole.inertia, rel=1e-6, abs=1e-12)
