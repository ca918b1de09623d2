"""Screws, wire, drills and line against standards and handbooks."""

import pytest
from fluids.piping import t_from_gauge

from gudgeon.library.drills import drill_named, nearest_drill
from gudgeon.library.line import line_class_force, line_diameter
from gudgeon.library.wire import System, wire_diameter, wood_screw_diameter, wood_screw_root
from gudgeon.units import INCH


@pytest.mark.source("ANSI B18.6.1", where="wood screw numbers")
@pytest.mark.parametrize(("number", "inches"), [(4, 0.112), (6, 0.138), (8, 0.164), (10, 0.190), (12, 0.216)])
def test_wood_screw_numbers(number: int, inches: float) -> None:
    assert wood_screw_diameter(number) / INCH == pytest.approx(inches, abs=1e-9)


@pytest.mark.source("Wood Handbook, FPL-GTR-190 (2010)", where="chapter 8: root about two thirds of the shank")
def test_wood_screw_root() -> None:
    assert wood_screw_root(8) / INCH == pytest.approx(0.164 * 2.0 / 3.0, rel=1e-9)


@pytest.mark.source("Machinery's Handbook", where="wire gauges, as fluids 1.3 carries them")
@pytest.mark.parametrize(("system", "inches", "schedule"), [("AWG", 0.0320, "AWG"), ("SWG", 0.036, "BSWG"),
                                                            ("music wire", 0.045, "MWG")])  # fmt: skip
def test_gauge_twenty_is_three_wires(system: System, inches: float, schedule: str) -> None:
    assert wire_diameter(system, "20") / INCH == pytest.approx(inches, abs=1e-9)
    assert wire_diameter(system, "20") == pytest.approx(t_from_gauge(20, SI=True, schedule=schedule), rel=1e-9)


@pytest.mark.source("ASME B94.11M", where="number and letter drills, two public copies")
@pytest.mark.parametrize(("name", "inches"), [("#80", 0.0135), ("#60", 0.0400), ("#43", 0.0890), ("#30", 0.1285),
                                              ("#1", 0.2280), ("A", 0.234), ("F", 0.257), ("Z", 0.413)])  # fmt: skip
def test_drills(name: str, inches: float) -> None:
    drill = drill_named(name)
    assert drill.diameter / INCH == pytest.approx(inches, abs=1e-9)
    assert nearest_drill(inches * INCH, drill.series) == drill


@pytest.mark.source("IGFA line classes", where="public listing of the classes")
@pytest.mark.parametrize(("class_kg", "newtons"), [(6.0, 58.84), (10.0, 98.07)])
def test_line_classes(class_kg: float, newtons: float) -> None:
    assert line_class_force(class_kg) == pytest.approx(newtons, rel=1e-3)


@pytest.mark.source("line-number convention", where="public charts of line number and diameter")
@pytest.mark.parametrize(("number", "millimetres"), [(0.6, 0.128), (1, 0.165), (1.5, 0.205), (2, 0.235), (3, 0.285),
                                                     (4, 0.330), (5, 0.370), (6, 0.405), (10, 0.520), (12, 0.570),
                                                     (14, 0.620)])  # fmt: skip
def test_line_numbers(number: float, millimetres: float) -> None:
    assert 1000.0 * line_diameter(number) == pytest.approx(millimetres, rel=0.016)  # charts round to 0.005 mm
