"""What the air gives wood, and what finishes keep out."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import OutsideSource
from gudgeon.library.moisture import equilibrium_moisture, moisture_excluding
from gudgeon.library.source import table


@given(st.floats(273.15, 320.0), st.floats(0.0, 0.999), st.floats(0.0005, 0.001))
def test_damper_air_makes_damper_wood(temperature: float, humidity: float, more: float) -> None:
    drier = equilibrium_moisture(temperature, humidity)
    assert 0.0 <= drier < equilibrium_moisture(temperature, min(humidity + more, 1.0)) < 0.31


def test_dry_air_leaves_dry_wood() -> None:
    assert equilibrium_moisture(294.0, 0.0) == 0.0


@pytest.mark.parametrize("temperature", [260.0, 335.0, math.nan])
def test_temperature_outside_the_table_is_refused(temperature: float) -> None:
    with pytest.raises(OutsideSource, match=r"covers -1\.1 to 54\.4 C"):
        equilibrium_moisture(temperature, 0.5)


@pytest.mark.parametrize("humidity", [-0.01, 1.01, 65.0, math.nan])
def test_humidity_that_cannot_be_is_refused(humidity: float) -> None:
    with pytest.raises(OutsideSource, match="use 0 to 100 %"):
        equilibrium_moisture(294.0, humidity)


def test_every_finish_is_found_by_its_name_and_more_coats_keep_out_more() -> None:
    rows = table("finishes")
    for row in rows:
        kept = moisture_excluding(row["finish"], int(row["coats"]))
        assert kept.fourteen_days == pytest.approx(float(row["fourteen_days_percent"]) / 100.0)
        assert 0.0 <= kept.fourteen_days <= 1.0
        if kept.one_day is not None and kept.seven_days is not None:
            assert kept.one_day >= kept.seven_days >= kept.fourteen_days
        fewer = [other for other in rows if other["finish"] == row["finish"] and int(other["coats"]) < kept.coats]
        assert all(float(other["fourteen_days_percent"]) <= 100.0 * kept.fourteen_days + 1e-9 for other in fewer)


def test_coats_not_in_the_table_are_refused_with_those_that_are() -> None:
    with pytest.raises(OutsideSource, match="'Linseed oil' in 2 coats is not in the table; it has 1 or 3"):
        moisture_excluding("linseed oil", 2)


def test_an_unknown_finish_is_refused_with_the_nearest() -> None:
    with pytest.raises(OutsideSource, match="no finish 'shelac' is known; nearest in spelling: 'Shellac'"):
        moisture_excluding("shelac", 3)
