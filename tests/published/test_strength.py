"""Loads at which wood, wire and pins let go, against handbooks and standards."""

import math

import pytest

from gudgeon.library.line import line_class_force
from gudgeon.library.source import table
from gudgeon.library.strengths import KSI, lateral_coefficient, spring_wire, strength_of
from gudgeon.library.wire import wood_screw_diameter
from gudgeon.physics.holding import (
    END_GRAIN,
    POUND_FORCE,
    PSI,
    bar_break,
    dowel_bearing,
    lag_design_load,
    lateral_limit,
    nail_design_load,
    pin_bent,
    pin_first_yield,
    pin_shear,
    plain_withdrawal,
    screw_design_load,
    thread_withdrawal,
    wood_shear,
)
from gudgeon.units import INCH

WOOD_HANDBOOK = "Wood Handbook, FPL-GTR-190 (2010)"
NDS = "National Design Specification for Wood Construction"


@pytest.mark.source(WOOD_HANDBOOK, where="eq. 8-10; a public worked example: number 8 screw, 1 in, G 0.70")
def test_wood_screw_drawn_out_of_side_grain() -> None:
    assert thread_withdrawal(0.70, 0.164 * INCH, INCH) / POUND_FORCE == pytest.approx(1262.0, rel=2e-3)


@pytest.mark.source(WOOD_HANDBOOK, where="eq. 8-10a, newtons and millimetres: 108.25 G2 D L")
def test_wood_screw_in_newtons_and_millimetres() -> None:
    assert thread_withdrawal(1.0, 1e-3, 1e-3) == pytest.approx(108.25, rel=2e-3)
    assert thread_withdrawal(0.37, 2e-3, 20e-3) == pytest.approx(592.8, rel=2e-3)


@pytest.mark.source(WOOD_HANDBOOK, where="p. 8-12: end grain three fourths of side grain")
def test_end_grain() -> None:
    assert END_GRAIN == 0.75


@pytest.mark.source(WOOD_HANDBOOK, where="eq. 8-1: 54.12 G^(5/2) D L; the exponent from memory")
def test_smooth_shank() -> None:
    plain, threaded = (one(0.37, 1.3e-3, 15e-3) for one in (plain_withdrawal, thread_withdrawal))
    assert plain == pytest.approx(87.9, rel=5e-3)
    assert threaded == pytest.approx(289.0, rel=5e-3)


@pytest.mark.source(WOOD_HANDBOOK, where="eq. 8-1 in pounds and inches: 7850 G^(5/2) D L")
def test_smooth_shank_in_pounds_and_inches() -> None:
    assert plain_withdrawal(1.0, INCH, INCH) / POUND_FORCE == pytest.approx(7850.0, rel=1e-3)


@pytest.mark.source(NDS, where="wood screws in withdrawal; a public example: number 10, G 0.45")
def test_what_a_carpenter_hangs_on_a_screw() -> None:
    assert screw_design_load(0.45, 0.190 * INCH, INCH) / POUND_FORCE == pytest.approx(109.0, rel=1e-2)
    ratio = thread_withdrawal(0.45, 0.19 * INCH, INCH) / screw_design_load(0.45, 0.19 * INCH, INCH)
    assert ratio == pytest.approx(5.51, abs=0.005)


@pytest.mark.source(NDS, where="Table 12.2A, from memory")
@pytest.mark.parametrize(("gravity", "inches", "pounds"), [(0.55, 0.5, 437.0), (0.50, 0.25, 225.0)])
def test_lag_screws(gravity: float, inches: float, pounds: float) -> None:
    assert lag_design_load(gravity, inches * INCH, INCH) / POUND_FORCE == pytest.approx(pounds, rel=5e-3)


@pytest.mark.source(NDS, where="Table 12.2C, from memory")
def test_nails() -> None:
    assert nail_design_load(0.55, 0.131 * INCH, INCH) / POUND_FORCE == pytest.approx(40.6, rel=1e-2)


@pytest.mark.source(WOOD_HANDBOOK, where="Table 8-4, softwood 0.29 to 0.42: K = 3360 lbf/in2 or 23.17 MPa, from memory")
def test_side_load_of_a_screw() -> None:
    assert lateral_coefficient(0.35) / PSI == pytest.approx(3360.0, rel=1e-9)
    assert lateral_coefficient(0.35) == pytest.approx(23.17e6, rel=1e-3)
    load = lateral_limit(lateral_coefficient(0.35), wood_screw_diameter(6))
    assert load / POUND_FORCE == pytest.approx(64.0, rel=1e-2)
    assert load == pytest.approx(285.0, rel=1e-2)


@pytest.mark.source("ASTM A313", where="tensile table, 302 class 1, 0.041 in")
def test_stainless_spring_wire() -> None:
    wire, _ = spring_wire("stainless 302", 0.041 * INCH)
    assert wire.least / KSI == pytest.approx(275.0)
    assert wire.least == pytest.approx(1896e6, rel=5e-3)
    assert bar_break(wire.least, 1.041e-3) == pytest.approx(1615.0, rel=5e-3)


@pytest.mark.source("ASTM A228", where="tensile table, 0.032 in")
def test_music_wire() -> None:
    wire, _ = spring_wire("music wire", 0.032 * INCH)
    assert (wire.least / KSI, wire.most / KSI) == pytest.approx((327.0, 361.0))
    assert bar_break(wire.least, 0.032 * INCH) == pytest.approx(1170.0, rel=5e-3)


@pytest.mark.source("ASTM A313", where="tensile table, 302 class 1: every row's band is 25 to 32 ksi wide")
def test_no_row_of_stainless_wire_is_a_misprint() -> None:
    rows = [row for row in table("spring_wire") if row["wire"] == "stainless 302"]
    assert all(25.0 <= float(row["most_ksi"]) - float(row["least_ksi"]) <= 32.0 for row in rows)


@pytest.mark.source("ASTM A240", where="Table 2, 304: 205 MPa yield, 515 MPa ultimate, least; von Mises for shear")
@pytest.mark.parametrize(("end", "newtons"), [("yields", 185.9), ("ultimate", 467.1)])
def test_pin_in_double_shear(end: str, newtons: float) -> None:
    least = getattr(strength_of("304 annealed", 1e-3), end).low
    assert pin_shear(least, 1e-3) == pytest.approx(newtons, rel=5e-3)


@pytest.mark.source("any textbook of mechanics", where="sigma = 32 M / (pi d^3), M = F L / 4; pin of 304, 1 mm on 6 mm")
def test_pin_with_play_bends_long_before_it_shears() -> None:
    least = strength_of("304 annealed", 1e-3).yields.low
    assert pin_first_yield(least, 1e-3, 6e-3) == pytest.approx(13.4, rel=1e-2)
    assert pin_bent(least, 1e-3, 6e-3) / pin_first_yield(least, 1e-3, 6e-3) == pytest.approx(16 / (3 * math.pi))


@pytest.mark.source("ASTM A666", where="304 half-hard: 110 ksi yield, 150 ksi ultimate, least")
def test_half_hard_stainless() -> None:
    half_hard = strength_of("304 half hard", 1e-3)
    assert half_hard.yields.low == pytest.approx(110.0 * KSI, rel=5e-3)
    assert half_hard.ultimate.low == pytest.approx(150.0 * KSI, rel=5e-3)


@pytest.mark.source("public data sheet of C26000 wire", where="annealed 110 to 158 MPa yield; half hard 545 to 650 MPa")
def test_brass_wire() -> None:
    brass = strength_of("brass", 1e-3)
    assert (brass.yields.low, brass.ultimate.low, brass.ultimate.high) == (110e6, 330e6, 650e6)


@pytest.mark.source(WOOD_HANDBOOK, where="Table 5-3, shear along the grain at 12 %: basswood 6.8, yellow poplar 8.2, "
                    "western red cedar 6.8 MPa; from memory")  # fmt: skip
@pytest.mark.parametrize(("gravity", "megapascals"), [(0.37, 6.8), (0.42, 8.2), (0.32, 6.8)])
def test_wood_sheared_along_the_grain(gravity: float, megapascals: float) -> None:
    assert wood_shear(gravity) == pytest.approx(1e6 * megapascals, rel=0.15)


@pytest.mark.source(NDS, where="Table 12.3.3, dowels under 1/4 in: G 0.42 3350, G 0.50 4650 lbf/in2; from memory")
@pytest.mark.parametrize(("gravity", "psi"), [(0.42, 3350.0), (0.50, 4650.0)])
def test_wood_crushed_beside_a_pin(gravity: float, psi: float) -> None:
    assert dowel_bearing(gravity, INCH, INCH) / POUND_FORCE == pytest.approx(psi, rel=5e-3)


@pytest.mark.source("IGFA line classes", where="public listing of the classes, in pounds")
@pytest.mark.parametrize(("class_kg", "listed"), [(6.0, 13.22), (10.0, 22.04)])
def test_a_class_line_in_pounds(class_kg: float, listed: float) -> None:
    assert line_class_force(class_kg) / POUND_FORCE == pytest.approx(listed, rel=1e-3)
