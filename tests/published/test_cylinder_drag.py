"""Wire and line across the flow, beside measured cylinders; balls are in test_sphere_drag."""

import pytest

from gudgeon.library.drag import cylinder_drag

WHITE = "White, Viscous Fluid Flow"


@pytest.mark.source(WHITE, where="equation 3-229 (Sucker and Brauer 1975), as public codes have it")
@pytest.mark.parametrize(("reynolds", "drag"), [(100, 1.449), (1e3, 0.963), (1e4, 1.095), (1e5, 1.175)])
def test_the_formula(reynolds: float, drag: float) -> None:
    assert cylinder_drag(reynolds) == pytest.approx(drag, rel=2e-3)


@pytest.mark.source("fluid mechanics textbooks", where="smooth: 1.45, 1.0, 1.15, 1.2; the middle two from memory")
@pytest.mark.parametrize(("reynolds", "drag"), [(100, 1.45), (1e3, 1.0), (1e4, 1.15), (1e5, 1.2)])
def test_beside_what_is_measured(reynolds: float, drag: float) -> None:
    assert cylinder_drag(reynolds) == pytest.approx(drag, rel=0.12)


@pytest.mark.source("Aeronautical Engineer's Data Book", where="figure 5.13b: an endless cylinder, 1.20")
def test_an_endless_cylinder() -> None:
    assert cylinder_drag(1e5) == pytest.approx(1.20, rel=0.05)
