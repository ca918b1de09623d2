"""The bill of materials: nothing left out, nothing counted twice, money by the maker's own prices."""

from pathlib import Path

import pytest

from gudgeon.answers.bill import bill
from gudgeon.answers.check import check
from gudgeon.answers.papers import papers
from gudgeon.answers.work_order import square_stock
from gudgeon.design.file import load, parse
from gudgeon.report.bill_rows import bill_headline, bill_rows, bill_warnings
from gudgeon.report.check_rows import check_rows
from gudgeon.report.rows import Shop
from gudgeon.units import INCH, Reading

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


def test_twelve_lures_take_twelve_times_as_much_and_what_is_bought_by_the_piece_is_counted():
    design = load(ROOT / "examples/lanternmere.toml")
    lure = check(design).lure
    one, twelve = bill(design, lure), bill(design, lure, 12)
    for single, many in zip(one.lines, twelve.lines, strict=True):
        assert (many.name, many.number) == (single.name, single.number)
        assert many.mass == pytest.approx(12.0 * single.mass)
        assert many.each == pytest.approx(single.each)
        assert many.count == 12 * single.count
    assert sum(bought.mass for bought in twelve.to_buy) == pytest.approx(sum(line.mass for line in twelve.lines))


def test_alike_things_are_bought_together_and_unlike_ones_are_not():
    design = load(ROOT / "examples/lanternmere.toml")
    bought = {one.words: one for one in bill(design, check(design).lure, 2).to_buy}
    assert bought["treble 1/0"].count == 4
    assert bought["glass eye"].count == 4
    words = [one.words for one in bill(design, check(design).lure).to_buy]
    assert words.count("stainless steel screw eye") == 2  # their shanks differ
    assert words.count("epoxy") == 1  # the clear, the plugs and the glue
    numbers = [number for one in bill(design, check(design).lure).to_buy for number in one.lines]
    assert sorted(numbers) == [line.number for line in bill(design, check(design).lure).lines]


def test_a_hinge_tells_what_it_is_made_of_part_by_part():
    design = load(ROOT / "examples/lanternmere.toml")
    lines = {line.name: line for line in bill(design, check(design).lure).lines}
    hinge = lines["hinge 1"]
    assert (hinge.made_of, hinge.material) == ("stainless steel eyes on a pin", "stainless steel")
    assert [(part.count, part.words) for part in hinge.parts] == [(2, "eye"), (1, "pin")]
    assert [(name, size) for name, size, _ in hinge.parts[0].sizes] == [
        ("wire", pytest.approx(0.0016)), ("inside", pytest.approx(0.0025)),
        ("in the wood", pytest.approx(0.014))]  # fmt: skip
    assert "glue for hinge 1" not in lines


def test_a_coat_on_a_piece_named_like_a_pocket_is_a_coat():
    design = load(ROOT / "examples/glider.toml")  # its pieces are front and rear, and so are two of its pockets
    assert {pocket.name for pocket in design.pockets} & set(design.segments or ())
    lines = {line.name: line for line in bill(design, check(design).lure).lines}
    assert {"primer", "colour", "clear", "sealer"} <= set(lines)
    assert lines["sealer"].mass == pytest.approx(0.002)


def test_prices_by_the_piece_and_by_weight_for_twelve():
    text = (ROOT / "examples/diver.toml").read_text(encoding="utf-8")
    text += '\n[[price]]\nitem = "lead"\neach = 2.0\nper = "100 g"\n\n[[price]]\nitem = "treble 6"\neach = 1.5\n'
    design = parse(text)
    made = bill(design, check(design).lure, 12)
    lines = {line.name: line for line in made.lines}
    assert lines["belly hook"].cost == 18.0
    assert lines["lead"].cost == pytest.approx(2.0 * lines["lead"].mass / 0.1)
    trebles = next(one for one in made.to_buy if one.words == "treble 6")
    assert (trebles.count, trebles.cost) == (24, 36.0)


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


def test_wood_and_lead_are_as_unsure_as_the_check_says():
    design = load(ROOT / "examples/glider.toml").model_copy(update={"measured": []})
    answer = check(design)
    lines = {line.name: line for line in bill(design, answer.lure, 3, needed=answer.ballast.needed).lines}
    assert lines["lead"].spread == pytest.approx(3.0 * answer.ballast.needed.spread)
    blank = next(row for row in check_rows(answer, Shop.METRIC) if row.name == "wood.blank")
    assert 1e3 * lines["wood"].spread == pytest.approx(3.0 * 0.5 * (blank.high - blank.low), rel=0.01)
    rows = {row.name: row for row in bill_rows(bill(design, answer.lure, needed=answer.ballast.needed), Shop.INCH)}
    assert "\u00b1" in rows["bill.wood.mass"].shown
    assert rows["bill.lead.mass"].low < rows["bill.lead.mass"].value < rows["bill.lead.mass"].high


def test_a_blank_s_three_sizes_stand_together():
    found = papers(check(load(ROOT / "examples/glider.toml")))
    made = bill(found.check.design, found.check.lure, 1, square_stock(found))
    sizes = next(row for row in bill_rows(made, Shop.INCH) if row.name == "bill.wood.sizes").shown
    assert sizes.count(" x ") == 2
    assert sizes.count(" in") == 1


def test_a_coat_keeps_its_tenths_of_a_thousandth():
    design = load(ROOT / "examples/glider.toml")
    thick = [replaced(coat, size) for coat, size in zip(design.coats, (0.0012, 0.0008, 0.0059), strict=True)]
    made = bill(design.model_copy(update={"coats": tuple(thick)}), check(design).lure)
    shown = " ".join(row.shown for row in bill_rows(made, Shop.INCH) if row.name.endswith(".sizes"))
    assert [size in shown for size in ("each 0.0012 in", "each 0.0008 in", "each 0.0059 in")] == [True] * 3


def replaced(coat, inches):
    return coat.model_copy(update={"thickness": Reading(inches * INCH)})
