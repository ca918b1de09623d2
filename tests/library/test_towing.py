"""The table of the towed model: each number with range, standing and source; it gives way to the maker's."""

import math

import pytest

from gudgeon.errors import OutsideSource
from gudgeon.library.drag import CYLINDER_DRAG_REYNOLDS, coefficient, cylinder_drag
from gudgeon.library.towing import limits, towing_coefficients
from gudgeon.units import Reading

NAMES = sorted(towing_coefficients())


@pytest.mark.parametrize("name", NAMES)
def test_each_lies_in_its_range_and_says_what_it_rests_on(name: str) -> None:
    one = towing_coefficients()[name]
    least, most = limits(name)
    assert least <= one.low <= one.value <= one.high <= most
    assert one.low < one.high
    assert one.standing in ("published", "fitted", "guess")
    assert one.unit in ("1", "rad", "s", "N m", "N m/rad")
    assert one.name == name
    assert all(words.strip() for words in (one.covers, one.source.work, one.source.known))


def test_what_was_fitted_to_flow_solutions_is_not_called_published() -> None:
    table = towing_coefficients()
    fitted = {name for name, one in table.items() if one.standing == "fitted"}
    assert fitted == {"mass_scale", "afterbody_recovery", "wake_reattachment", "carry_over", "crossflow_drag_sideways"}
    assert all("our own" in table[name].source.known for name in fitted)


def test_the_maker_s_number_takes_the_table_s_place_with_its_own_spread() -> None:
    own = towing_coefficients({"carry_over": Reading(0.2, 0.05)})["carry_over"]
    assert (own.value, own.low, own.high, own.standing) == pytest.approx((0.2, 0.15, 0.25, "own"))
    assert own.source.work == "the design"
    others = towing_coefficients({"carry_over": Reading(0.2)})
    assert others["mass_scale"] == towing_coefficients()["mass_scale"]


def test_a_number_without_a_spread_is_as_unsure_as_the_table_s_within_what_can_be() -> None:
    own = towing_coefficients({"turbulent_share": Reading(0.8), "base_drag": Reading(0.2)})
    assert (own["turbulent_share"].low, own["turbulent_share"].high) == pytest.approx((0.3, 1.0))
    assert (own["base_drag"].low, own["base_drag"].high) == pytest.approx((0.13, 0.33))


def test_a_name_there_is_not_is_refused_with_the_nearest() -> None:
    with pytest.raises(OutsideSource, match="no coefficient 'carryover' is known; nearest in spelling: carry_over"):
        towing_coefficients({"carryover": Reading(0.3)})


@pytest.mark.parametrize(("name", "value"), [("carry_over", 1.1), ("mass_scale", -0.1), ("stall_angle", math.nan)])
def test_a_value_that_cannot_be_is_refused(name: str, value: float) -> None:
    with pytest.raises(OutsideSource, match="cannot be: it is"):
        towing_coefficients({name: Reading(value)})


def test_the_table_cannot_be_written_to() -> None:
    with pytest.raises(TypeError):
        towing_coefficients()["carry_over"] = coefficient("fall_drag")  # type: ignore[index]


def test_the_hooks_and_the_line_s_drag_is_that_of_wire_at_their_reynolds_numbers() -> None:
    table = towing_coefficients()
    hook, line = table["hook_drag_coefficient"], table["line_normal_drag"]
    assert hook.low <= min(cylinder_drag(reynolds) for reynolds in (500.0, 1000.0, 2000.0, 5000.0))
    assert hook.high >= max(cylinder_drag(reynolds) for reynolds in (500.0, 1000.0, 2000.0, 5000.0))
    assert cylinder_drag(300.0) == pytest.approx(line.value, rel=0.03)  # 0.3 mm at 1 m/s


@pytest.mark.parametrize("reynolds", [0.0, 0.09, 2.1e5, math.nan])
def test_the_wire_curve_ends_where_its_source_does(reynolds: float) -> None:
    with pytest.raises(OutsideSource, match=r"goes from 0\.1 to 200000"):
        cylinder_drag(reynolds)
    assert cylinder_drag(CYLINDER_DRAG_REYNOLDS[0]) > cylinder_drag(1.0) > cylinder_drag(100.0) > 1.0
