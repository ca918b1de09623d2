"""Holes as they are told to be drilled, and as they turned out."""

import math
from collections.abc import Callable

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.check import check
from gudgeon.design.model import Design
from gudgeon.errors import BadDesign
from gudgeon.report.check_rows import check_rows
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.units import INCH

Maker = Callable[..., Design]
AREA = math.pi / 4.0 * 0.010**2
PER_MILLIMETRE = 1e3 * 11340.0 * AREA * 1e-3  # g of lead in a 10 mm bore


def bored(cylinder: Maker, depth: float, length: float) -> Design:
    """A hole `depth` [mm] deep with a slug of lead `length` [mm] long in it."""
    return cylinder(pocket=[{"name": "belly", "at": "60 mm", "bore": "10 mm", "depth": f"{depth} mm",
                             "holds": f"{length * PER_MILLIMETRE:.9g} g"}])  # fmt: skip


@pytest.mark.parametrize("length", [9.0, 10.0, 11.3, 12.0])
def test_the_plug_is_what_the_ballast_leaves(cylinder: Maker, length: float) -> None:
    answer = check(bored(cylinder, 12.0, length))
    fill = answer.drawn.fills["belly"]
    assert fill.depth == pytest.approx(0.012, rel=1e-9)
    assert fill.plug_mass == pytest.approx(1150.0 * AREA * 1e-3 * (12.0 - length), abs=1e-9)
    words = [finding.words for finding in answer.findings if "The plug of the belly hole" in finding.words]
    assert len(words) == (0 if length == 9.0 else 1)  # 3 mm are drawn


def test_what_stands_out_of_its_hole_is_refused(cylinder: Maker) -> None:
    with pytest.raises(BadDesign) as refusal:
        assemble(bored(cylinder, 12.0, 12.1))
    assert "filled to the brim, 12.0 mm of this bore holds 10.7 g" in str(refusal.value.faults[0])


@pytest.mark.parametrize(("depth", "metric", "inch"), [
    (0.0127, "12.7 mm", "1/2 in"), (0.01271, "12.8 mm", "33/64 in"), (27.01 / 64 * INCH, "10.8 mm", "7/16 in"),
    (0.01, "10.0 mm", "13/32 in"), (0.0, "0.0 mm", "0 in"),
])  # fmt: skip
def test_depths_go_up_to_the_next_mark(depth: float, metric: str, inch: str) -> None:
    assert row("", "", depth, Measure.BORE, Shop.METRIC).shown == metric
    assert row("", "", depth, Measure.BORE, Shop.INCH).shown == inch


@pytest.mark.parametrize("shop", [Shop.METRIC, Shop.INCH])
def test_a_depth_as_told_holds_what_it_is_told_for(cylinder: Maker, shop: Shop) -> None:
    holes = [{"name": f"at {x}", "at": f"{x} mm", "bore": "3/8 in" if shop is Shop.INCH else "10 mm"}
             for x in (41, 77)]  # fmt: skip
    rows = {one.name: one for one in check_rows(check(cylinder(pocket=holes)), shop)}
    told = [{**hole, "depth": rows[f"pocket.at_{x}.depth"].shown, "holds": rows[f"pocket.at_{x}.mass"].shown}
            for hole, x in zip(holes, (41, 77), strict=True)]  # fmt: skip
    lure = assemble(cylinder(pocket=told))
    assert [pocket.plug for pocket in lure.pockets] == [0.003, 0.003]
