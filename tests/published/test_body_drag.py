"""Friction lines and the form of streamlined bodies, against textbooks and a worked example."""

import pytest

from gudgeon.physics.axial_drag import form_factor, laminar_friction, turbulent_friction


@pytest.mark.source("Tupper, Introduction to Naval Architecture", where="table 8.3, ITTC 1957")
@pytest.mark.parametrize(("reynolds", "friction"), [(1e5, 0.008333), (5e5, 0.005482), (1e6, 0.004688), (5e6, 0.003397),
                                                    (1e7, 0.003000)])  # fmt: skip
def test_the_ittc_line(reynolds: float, friction: float) -> None:
    assert turbulent_friction(reynolds) == pytest.approx(friction, abs=6e-7)


@pytest.mark.source("Morrall, NPL Ship Report 142", where="worked example, 3.325e-3 at 5.62e6")
def test_the_ittc_line_in_a_worked_example() -> None:
    assert turbulent_friction(5.62e6) == pytest.approx(3.325e-3, rel=5e-4)


@pytest.mark.source("Blasius (1908), fluid mechanics textbooks", where="1.328/Re^0.5; from memory")
def test_a_laminar_plate() -> None:
    assert laminar_friction(1e5) == pytest.approx(0.0042, rel=1e-3)


@pytest.mark.source("Hoerner, Fluid-Dynamic Drag (1965)", where="chapter 6, as two public codes have it; computed")
@pytest.mark.parametrize(("slenderness", "factor"), [(3, 1.548), (4, 1.297), (5, 1.1902), (6, 1.134), (8, 1.0800),
                                                     (10, 1.054)])  # fmt: skip
def test_form_factors(slenderness: float, factor: float) -> None:
    assert form_factor(slenderness) == pytest.approx(factor, abs=6e-4)
