"""How lines and soft fins give: every row can be read, and the line's diameter follows from its load."""

import math

import pytest

from gudgeon.errors import OutsideSource
from gudgeon.library.elasticity import diameter_for, elasticity

LINES = ("nylon line", "fluorocarbon line", "braid line", "wire line")


@pytest.mark.parametrize("name", [*LINES, "vinyl", "silicone", "polypropylene", "polyethylene"])
def test_every_stuff_lies_between_its_ends(name):
    found = elasticity(name)
    assert 0.0 < found.low < found.modulus < found.high
    assert (found.breaks is not None) == name.endswith("line")


def test_braid_is_about_ten_times_as_stiff_as_nylon():
    assert 5.0 < elasticity("braid line").modulus / elasticity("nylon line").modulus < 20.0


def test_a_line_breaks_where_its_stuff_does():
    nylon = elasticity("nylon line")
    diameter = diameter_for(222.4, nylon)  # 50 lb, common practice: about 0.7 mm
    assert diameter == pytest.approx(0.7e-3, rel=0.05)
    assert 0.25 * math.pi * diameter**2 * 600e6 == pytest.approx(222.4)


def test_what_is_no_line_or_not_known_is_refused():
    with pytest.raises(OutsideSource, match="Vinyl is no line"):
        diameter_for(10.0, elasticity("vinyl"))
    with pytest.raises(OutsideSource, match="or give its stiffness"):
        elasticity("polycarbonate")
