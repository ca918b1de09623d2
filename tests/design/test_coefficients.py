"""The maker's own coefficients: what is read and refused; the design knows the table's names and limits."""

import math
import re
from pathlib import Path

import pytest

from gudgeon.design.coefficients import Coefficients, Plain
from gudgeon.design.file import parse
from gudgeon.design.model import Design
from gudgeon.errors import BadDesign
from gudgeon.library.towing import limits, towing_coefficients
from gudgeon.units import Reading

DOCS = Path(__file__).parents[2] / "docs" / "design-file.md"
DIVER = (Path(__file__).parents[2] / "examples" / "diver.toml").read_text(encoding="utf-8")
OLD = {"fall_drag", "fall_drag_spread"}


def read(lines: str) -> Design:
    return parse(f"{DIVER}\n[coefficients]\n{lines}\n", "diver.toml")


def words(lines: str) -> str:
    with pytest.raises(BadDesign) as caught:
        read(lines)
    return str(caught.value)


def test_plain_numbers_with_and_without_a_spread_and_quantities() -> None:
    own = read(
        'carry_over = 0.3\nmass_scale = "0.7 ± 0.1"\nlip_side_edge_lift = "2 +/- 10 %"\nfin_recovery = 0\n'
        'stall_angle = "25 deg ± 5 deg"\njoint_friction = "20 g mm"\nstop_damping = "0.02 s"'
    ).coefficients.towing
    assert own["carry_over"] == Reading(0.3)
    assert own["mass_scale"] == Reading(0.7, pytest.approx(0.1))
    assert own["lip_side_edge_lift"] == Reading(2.0, pytest.approx(0.2))
    assert own["fin_recovery"] == Reading(0.0)
    assert own["stall_angle"] == Reading(pytest.approx(math.radians(25.0)), pytest.approx(math.radians(5.0)))
    assert own["joint_friction"] == Reading(pytest.approx(20e-6 * 9.80665))
    assert own["stop_damping"] == Reading(pytest.approx(0.02))
    assert set(own) == {"carry_over", "mass_scale", "lip_side_edge_lift", "fin_recovery", "stall_angle",
                        "joint_friction", "stop_damping"}  # fmt: skip
    assert towing_coefficients(own)["mass_scale"].low == pytest.approx(0.6)


def test_left_out_none_is_the_maker_s() -> None:
    assert dict(Coefficients(fall_drag=1.1).towing) == {}


@pytest.mark.parametrize("given", ['"0.5 mm"', '""', '"half"', "true", "[0.5]", '"0.5 ± -0.1"', '"0.5 ± 1 ± 2"', "nan",
                                   "1" + 400 * "0", '"0.5 ± nan"', '"1e999"'])  # fmt: skip
def test_what_is_no_number_is_refused_with_what_would_do(given: str) -> None:
    assert 'is not a number; write 0.5 or "0.5 ± 0.1", without a unit' in words(f"carry_over = {given}")


def test_every_fault_is_told_at_once_with_its_line() -> None:
    faulty = 'carry_over = 1.5\nwake_reattachement = 0.5\nstall_angle = "-3 deg"\nfin_damping = "2 s"\nbase_drag = 3'
    said = words(faulty)
    assert "coefficients.carry_over: 1.5 cannot be: it is 0 to 1" in said
    assert "wake_reattachement: is not a key gudgeon knows; nearest: wake_reattachment" in said
    assert "coefficients.stall_angle: must be at least 1 deg" in said
    assert "coefficients.fin_damping: must be at most 1 s" in said
    assert "coefficients.base_drag: 3 cannot be: it is 0 to 2" in said
    assert len(re.findall(r"^  line \d+", said, flags=re.MULTILINE)) == 5


def test_the_design_knows_the_table_s_names_and_no_others() -> None:
    assert set(Coefficients.model_fields) - OLD == set(towing_coefficients())


@pytest.mark.parametrize("name", sorted(towing_coefficients()))
def test_the_design_takes_what_the_table_holds_possible(name: str) -> None:
    field = Coefficients.model_fields[name]
    plain = [mark for mark in _marks(field.annotation) if isinstance(mark, Plain)]
    if towing_coefficients()[name].unit == "1":
        assert [(mark.least, mark.most) for mark in plain] == [limits(name)]
    else:
        assert plain == []
        assert Coefficients.model_validate({name: Reading(limits(name)[0])})


def _marks(annotation: object) -> list[object]:
    found = list(getattr(annotation, "__metadata__", ()))
    for part in getattr(annotation, "__args__", ()):
        found += _marks(part)
    return found


@pytest.mark.parametrize("name", sorted(towing_coefficients()))
def test_the_docs_tell_the_table_s_value_and_range(name: str) -> None:
    row = next(line for line in DOCS.read_text(encoding="utf-8").splitlines() if line.startswith(f"| `{name}` |"))
    told = [float(figure) for figure in re.findall(r"-?\d+(?:\.\d+)?", row.split(" | ")[2])]
    one = towing_coefficients()[name]
    shown = {"1": 1.0, "s": 1.0, "rad": 180.0 / math.pi, "N m/rad": 1000.0 * math.pi / 180.0, "N m": 1e6 / 9.80665}
    wanted = [value * shown[one.unit] for value in (one.value, one.low, one.high)]
    assert told == pytest.approx(wanted, rel=0.03, abs=1e-9)
