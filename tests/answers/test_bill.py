"""The bill of materials: nothing left out, nothing counted twice, money by the maker's own prices."""

from pathlib import Path

import pytest

from gudgeon.answers.bill import bill
from gudgeon.answers.check import check
from gudgeon.design.file import load, parse
from gudgeon.report.bill_rows import bill_headline, bill_rows, bill_warnings
from gudgeon.report.rows import Shop

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted(ROOT.glob("examples/*.toml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_bill_and_the_wood_taken_away_make_the_whole_lure(path):
    design = load(path)
    answer = check(design)
    made = bill(design, answer.lure)
    masses, _ = answer.lure.ledger.item_masses(answer.lure.knowledge)
    items = zip(answer.lure.ledger.items, masses, strict=True)
    gone = sum(mass for item, mass in items if item.kind in ("hole", "slot"))
    assert sum(line.mass for line in made.lines) + gone == pytest.approx(answer.rate.mass.value, abs=1e-9)
    assert len({line.name for line in made.lines}) == len(made.lines)


def priced(text: str):
    design = parse((ROOT / "examples/diver.toml").read_text(encoding="utf-8") + text)
    return bill(design, check(design).lure)


def test_ballast_costs_by_its_weight_and_hooks_by_the_piece():
    made = priced('\n[[price]]\nitem = "lead"\neach = 2.0\nper = "100 g"\n\n[[price]]\nitem = "treble 6"\neach = 1.5\n')
    lines = {line.name: line for line in made.lines}
    assert lines["lead"].cost == pytest.approx(2.0 * lines["lead"].mass / 0.1)
    hooks = [line for line in made.lines if line.made_of == "treble 6"]
    assert [line.cost for line in hooks] == [1.5, 1.5]
    assert made.cost == pytest.approx(lines["lead"].cost + 1.5 * len(hooks))
    assert made.unused == ()


def test_a_price_that_nothing_asks_for_is_told():
    made = priced('\n[[price]]\nitem = "golden spinner"\neach = 9\n')
    assert made.unused == ("golden spinner",)
    assert "golden spinner" in bill_warnings(made)[0]


def test_rows_have_names_of_their_own_and_the_sum_is_told():
    made = priced('\n[[price]]\nitem = "wood"\neach = 3.25\n')
    rows = {row.name: row for row in bill_rows(made, Shop.METRIC)}
    assert len(rows) == len(bill_rows(made, Shop.METRIC))
    assert rows["bill.cost"].value == rows["bill.wood.cost"].value == 3.25
    assert "3.25" in bill_headline(made, Shop.METRIC)
