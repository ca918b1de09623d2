"""A check as rows: names are stable and unique, numbers are those of the answer."""

from pathlib import Path

import pytest

from gudgeon.answers.check import check
from gudgeon.design.file import load
from gudgeon.report.check_rows import check_rows, check_sections, headline
from gudgeon.report.rows import Shop

EXAMPLES = sorted(Path(__file__).parents[2].glob("examples/*.toml"))


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def answer(request):
    return check(load(request.param))


def test_names_are_unique_and_plain(answer):
    names = [row.name for row in check_rows(answer, Shop.METRIC)]
    assert len(names) == len(set(names))
    assert all(name == "_".join(name.lower().split()) for name in names)


def test_both_shops_have_the_same_rows(answer):
    metric, inch = (check_rows(answer, shop) for shop in Shop)
    assert [row.name for row in metric] == [row.name for row in inch]


def test_rows_carry_the_answers_numbers(answer):
    rows = {row.name: row for row in check_rows(answer, Shop.METRIC)}
    assert rows["whole.mass"].value == pytest.approx(1e3 * answer.rate.mass.value)
    assert rows["whole.excess"].low == pytest.approx(1e3 * answer.rate.excess.low)
    assert rows["ballast.needed"].high == pytest.approx(1e3 * answer.ballast.needed.high)
    pockets = sum(row.value for name, row in rows.items() if name.startswith("pocket.") and name.endswith(".mass"))
    assert pockets == pytest.approx(1e3 * answer.ballast.put)


def test_no_number_is_missing_or_not_a_number(answer):
    for row in check_rows(answer, Shop.INCH):
        for number in (row.value, row.low, row.high):
            assert not isinstance(number, float) or abs(number) < 1e9
        if row.low is not None:
            assert row.low <= row.value <= row.high
        assert not {"nan", "inf"} & set(row.shown.split())


def test_sections_follow_trade_order(answer):
    titles = [section.title for section in check_sections(answer, Shop.METRIC)]
    assert titles[0] == "As drawn"
    assert titles.index("Ballast") < titles.index("The tub test as it will be done")


def test_the_headline_says_what_goes_in_and_what_it_then_does(answer):
    words = headline(answer, Shop.METRIC)
    assert words.startswith("Add ")
    assert words.endswith(".")
    assert any(verb in words for verb in ("sinks", "floats", "float or sink", "hangs"))


@pytest.mark.parametrize("reserve", ["0.1 %", "2 %", "10 %"])
def test_the_headline_tells_the_attitude_of_its_row_and_no_end_of_its_spread(reserve: str) -> None:
    design = load(EXAMPLES[0].parent / "glider.toml")
    share = float(reserve.removesuffix(" %")) / 100.0
    aim = design.aim.model_copy(update={"does": "floats", "rate": None, "reserve": share, "attitude": 0.0})
    asked = check(design.model_copy(update={"aim": aim}))
    (shown,) = [one.value for one in check_rows(asked, Shop.METRIC) if one.name == "whole.attitude"]
    degrees = round(abs(float(shown)))
    assert ("level" if degrees == 0 else f"{degrees}°") in headline(asked, Shop.METRIC)
