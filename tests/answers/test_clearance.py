"""The wood between a bore and what it comes near, against distances measured on paper."""

import math
from collections.abc import Callable

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import ballasting
from gudgeon.answers.clearance import Clearance, clearances
from gudgeon.design.model import Design

Maker = Callable[..., Design]
PLAIN = {"name": "one", "at": "60 mm", "bore": "10 mm"}


def found(design: Design, pocket: str = "one") -> dict[str, Clearance]:
    answer = ballasting(design, assemble(design))
    return {one.to: one for one in clearances(design, answer.lure, answer.pockets) if one.pocket == pocket}


def wall(depth: float) -> float:
    """How far down the skin of the 20 mm deep, 10 mm wide section lies from its middle, `depth` up or down in it."""
    return 10.0 * math.sqrt(1.0 - (depth / 20.0) ** 2)


def test_enough_is_to_a_tenth_of_a_millimetre() -> None:
    assert Clearance("a", "b", 0.00291, 0.003).is_enough
    assert not Clearance("a", "b", 0.00289, 0.003).is_enough


def test_wood_beyond_the_end_and_beside(cylinder: Maker) -> None:
    """A bore up from the belly holding 12 g for certain: depth, end wall and side wall by hand."""
    design = cylinder(pocket=[{**PLAIN, "holds": "12 g"}], wood={"density": "1 g/cm3"}, aim={"does": "hangs"})
    told = found(design)
    area = math.pi / 4.0 * 0.010**2
    length = 0.012 / 11340.0 / area
    reach = 0.020 + 0.020 * math.sqrt(0.75)  # of the bore's edge, 5 mm off the middle
    assert told["the skin beyond its end"].distance == pytest.approx(reach - length - 0.003, rel=1e-6)
    assert told["the skin beyond its end"].wanted == 0.003
    # the ballast's lower end lies 3 mm above the belly, where the body is narrowest
    assert 1e3 * told["the skin beside its ballast"].distance == pytest.approx(wall(17.0) - 5.0, abs=1e-6)


def test_a_bore_filled_to_its_room_leaves_the_wall_asked_for(cylinder: Maker) -> None:
    told = found(cylinder(pocket=[{**PLAIN, "wall": "4 mm"}]))
    assert told["the skin beyond its end"].distance == pytest.approx(0.004, abs=1e-9)
    assert told["the skin beyond its end"].is_enough


@pytest.mark.parametrize("at", [30.0, 90.0])
def test_to_a_square_joint(cylinder: Maker, at: float) -> None:
    """From the joint's face to the edge of the bore; a bore's own diameter is wanted."""
    design = cylinder(joint=[{"at": "60 mm", "gap": "2 mm"}], pocket=[{**PLAIN, "at": f"{at} mm"}])
    told = found(design)["joint 1"]
    assert told.distance == pytest.approx(0.030 - 0.001 - 0.005, abs=1e-9)
    assert told.wanted == 0.010
    assert told.is_enough


def test_to_a_vee_square_to_its_face(cylinder: Maker) -> None:
    joint = {"at": "60 mm", "gap": "2 mm", "front_bevel": "25 deg", "rear_bevel": "10 deg"}
    offset, steep = 2.0, math.radians(25.0)
    design = cylinder(120.0, 15.0, 20.0, joint=[joint], pocket=[
        {**PLAIN, "at": "45 mm", "offset": f"{offset} mm"}, {**PLAIN, "name": "two", "at": "70 mm"}])  # fmt: skip
    ahead = found(design)["joint 1"].distance
    assert 1e3 * ahead == pytest.approx((14.0 - offset * math.tan(steep)) * math.cos(steep) - 5.0, abs=1e-6)
    behind = found(design, "two")["joint 1"].distance
    assert 1e3 * behind == pytest.approx(9.0 * math.cos(math.radians(10.0)) - 5.0, abs=1e-6)


def test_a_bore_that_breaks_into_a_joint_is_told_as_meeting_it(cylinder: Maker) -> None:
    design = cylinder(joint=[{"at": "60 mm", "gap": "2 mm"}], pocket=[{**PLAIN, "at": "56 mm"}])
    assert found(design)["joint 1"].distance == pytest.approx(0.003 - 0.005, abs=1e-9)


def test_two_bores_side_by_side(cylinder: Maker) -> None:
    pair = [{**PLAIN, "at": "50 mm"}, {**PLAIN, "name": "two", "at": "63 mm", "bore": "8 mm"}]
    told = found(cylinder(pocket=pair))["the two bore"]
    assert told.distance == pytest.approx(0.013 - 0.009, abs=1e-9)
    assert told.wanted == 0.002


def test_bores_that_cross(cylinder: Maker) -> None:
    across = {**PLAIN, "name": "across", "at": "60 mm", "face": "left", "height": "-10 mm", "bore": "6 mm"}
    told = found(cylinder(120.0, 15.0, 20.0, pocket=[PLAIN, across]))
    assert told["the across bore"].distance < 0.0


def test_metal_in_the_same_piece(cylinder: Maker) -> None:
    eye = {"name": "hanger", "kind": "eye", "weight": "0.8 g", "material": "steel", "at": "70 mm", "wire": "1.5 mm",
           "shank": "14 mm"}  # fmt: skip
    joint = [{"at": "85 mm", "gap": "2 mm"}]
    design = cylinder(joint=joint, fitting=[eye, {**eye, "name": "other", "at": "100 mm"}], pocket=[PLAIN])
    told = found(design)
    assert told["the hanger"].distance == pytest.approx(0.010 - 0.005 - 0.0015, abs=1e-6)  # two strands of 1.5 mm wire
    assert "the other" not in told  # it sits in the next piece


def test_a_bore_along_the_body_is_held_against_sides_as_well_as_back_and_belly(cylinder: Maker) -> None:
    """A body deeper than wide: the skin nearest to a lengthwise bore is at its side."""
    along = {**PLAIN, "face": "rear", "at": "50 mm", "bore": "12 mm", "height": "5 mm"}
    told = found(cylinder(joint=[{"at": "60 mm", "gap": "2 mm"}], pocket=[along]))
    assert 1e3 * told["the skin beside its ballast"].distance == pytest.approx(wall(5.0) - 6.0, abs=1e-6)
    assert "joint 1" not in told  # it is drilled from there


def test_a_bore_from_the_side_is_held_against_back_and_belly(cylinder: Maker) -> None:
    aside = {**PLAIN, "face": "left", "height": "-12 mm", "bore": "4 mm", "holds": "1 g"}
    heavy = cylinder(120.0, 15.0, 20.0, wood={"density": "1 g/cm3"}, pocket=[aside])
    told = found(heavy)["the skin beside its ballast"].distance
    length = 1.0e3 / 11.34 / (math.pi / 4.0 * 16.0)  # mm
    out = 15.0 * math.sqrt(1.0 - 0.36)
    ends = [-out + 3.0, -out + 3.0 + 0.5 * length, -out + 3.0 + length]
    low = [20.0 * math.sqrt(1.0 - (y / 15.0) ** 2) - 12.0 for y in ends]
    assert 1e3 * told == pytest.approx(min(low) - 2.0, abs=1e-6)
