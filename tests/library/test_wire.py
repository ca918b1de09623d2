"""Wire gauges and screw numbers."""

from typing import cast, get_args

import pytest

from gudgeon.errors import OutsideSource
from gudgeon.library.source import table
from gudgeon.library.wire import System, wire_diameter, wood_screw_diameter, wood_screw_root


def test_every_row_is_found_in_its_system() -> None:
    rows = table("wires")
    assert {row["system"] for row in rows} == set(get_args(System))
    for row in rows:
        millimetres = wire_diameter(cast(System, row["system"]), row["gauge"]) * 1000.0
        assert millimetres == pytest.approx(float(row["diameter_mm"]), rel=1e-12)
    assert len({(row["system"], row["gauge"]) for row in rows}) == len(rows)


@pytest.mark.parametrize("system", ["AWG", "SWG", "BWG", "W&M"])
def test_a_higher_gauge_is_thinner(system: System) -> None:
    sizes = [wire_diameter(system, str(gauge)) for gauge in range(10, 27)]
    assert sizes == sorted(sizes, reverse=True)


def test_a_higher_music_wire_gauge_is_thicker() -> None:
    sizes = [wire_diameter("music wire", str(gauge)) for gauge in range(1, 42)]
    assert sizes == sorted(sizes)
    assert wire_diameter("music wire", "5/0") < wire_diameter("music wire", "2/0") < wire_diameter("music wire", "0")


def test_an_unknown_gauge_or_system_is_refused() -> None:
    with pytest.raises(OutsideSource, match="no AWG wire of gauge '99'; thickest 7, thinnest 36; or give"):
        wire_diameter("AWG", "99")
    with pytest.raises(OutsideSource, match="there are AWG, SWG, BWG, W&M, music wire"):
        wire_diameter(cast(System, "XWG"), "20")


@pytest.mark.parametrize("number", [-1, 25])
def test_a_screw_there_is_not_is_refused(number: int) -> None:
    for size in (wood_screw_diameter, wood_screw_root):
        with pytest.raises(OutsideSource, match="they go from 0 to 24"):
            size(number)


def test_the_root_is_two_thirds() -> None:
    assert wood_screw_root(8) == pytest.approx(wood_screw_diameter(8) / 1.5)
