"""Line numbers and classes."""

import math

import pytest

from gudgeon.errors import OutsideSource
from gudgeon.library.line import line_class_force, line_diameter


def test_four_times_the_number_is_twice_as_thick() -> None:
    assert line_diameter(8.0) == pytest.approx(2.0 * line_diameter(2.0))


@pytest.mark.parametrize("number", [0.0, -1.0, 51.0, math.nan])
def test_a_number_outside_the_charts_is_refused(number: float) -> None:
    with pytest.raises(OutsideSource, match=r"the charts go from 0\.1 to 50"):
        line_diameter(number)


@pytest.mark.parametrize("class_kg", [0.0, 7.0, math.nan])
def test_a_class_there_is_not_is_refused(class_kg: float) -> None:
    with pytest.raises(OutsideSource, match="there are 1, 2, 3, 4, 6, 8, 10, 15, 24, 37, 60"):
        line_class_force(class_kg)
