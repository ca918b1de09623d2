"""What finishes keep out, against the handbook's table."""

import pytest

from gudgeon.library.moisture import moisture_excluding


@pytest.mark.source("Wood Handbook, FPL-GTR-190 (2010)", where="Table 16-3, polyurethane paint, gloss, two components")
@pytest.mark.parametrize(("coats", "percent"), [(1, 44), (2, 62), (3, 74)])
def test_two_part_polyurethane_after_fourteen_days(coats: int, percent: int) -> None:
    assert moisture_excluding("gloss polyurethane paint, two-part", coats).fourteen_days == percent / 100.0


@pytest.mark.source("Wood Handbook, FPL-GTR-190 (2010)", where="Table 16-3, linseed oil")
def test_linseed_oil_protects_from_nothing() -> None:
    assert moisture_excluding("linseed oil", 3).fourteen_days == 0.0
