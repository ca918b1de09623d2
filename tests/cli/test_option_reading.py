import pytest
from hypothesis import given
from hypothesis import strategies as some

from gudgeon.cli.bench_options import Written, ahead_of_balance, bench_lure, hook_weight, plan_area
from gudgeon.cli.option_reading import OptionReader, split_list
from gudgeon.errors import Refusal
from gudgeon.units import LENGTH, MASS

ODD = some.text(alphabet=some.characters(codec="utf-8"), max_size=20) | some.sampled_from(
    ["", ",", "1 g,", "x", "1 x", "1 x 2 x 3", "± g", "1 g ± ± 2", "2 x #4", "#", "1e400 g", "-0 g", "1/0 in", "nan g",
     "aft"]
)


@given(ODD)
def test_no_words_a_maker_may_write_do_more_than_be_refused(text: str) -> None:
    reader = OptionReader()
    reader.reading("--a", text, MASS)
    reader.value("--b", text, LENGTH)
    reader.ratio("--c", text)
    reader.sizes("--d", text, LENGTH, 2)
    reader.fields("--e", text, 1, 3, "an example")
    hook_weight(reader, "--f", text)
    ahead_of_balance(reader, "--g", text)
    plan_area(reader, text, None, text)
    split_list([text])
    bench_lure(reader, Written(text, text, parts=(text,), fittings=text, hooks=text, coats=text, sealed=text,
                               water=text, salinity=text, jug=text))  # fmt: skip
    with pytest.raises(Refusal) as refused:
        reader.done("lead")
    assert len(refused.value.faults) == len(reader.faults) > 3


def test_a_list_shares_its_last_unit() -> None:
    assert split_list(["41.2, 43.0 g", "44 g,45.1 g"]) == ["41.2 g", "43.0 g", "44 g", "45.1 g"]
    assert split_list(["41.2, 43.0"]) == ["41.2", "43.0"]
    assert split_list([]) == []


def test_sides_share_their_last_unit() -> None:
    reader = OptionReader()
    assert reader.sizes("--size", "120 x 60 x 25 mm", LENGTH, 3) == pytest.approx((0.12, 0.06, 0.025))
    assert reader.sizes("--size", '4 x 2 1/2 x 1"', LENGTH, 3) == pytest.approx((0.1016, 0.0635, 0.0254))
    assert reader.sizes("--size", "12 cm × 60 mm", LENGTH, 2) == pytest.approx((0.12, 0.06))
    assert reader.sizes("--size", None, LENGTH, 2) is None
    assert not reader.faults


def test_a_plain_number_may_bring_its_spread() -> None:
    reader = OptionReader()
    ratio = reader.ratio("--drag", "1.1 ± 0.2")
    assert ratio is not None
    assert (ratio.value, ratio.spread) == (1.1, 0.2)
    for wrong in ("0", "-1", "1 ± 2 ± 3", "one", "1 ± -0.2"):
        before = len(reader.faults)
        reader.ratio("--drag", wrong)
        assert len(reader.faults) > before


def test_ahead_and_aft() -> None:
    reader = OptionReader()
    assert ahead_of_balance(reader, "--hanger", "38 mm ahead") == pytest.approx(0.038)
    assert ahead_of_balance(reader, "--hanger", "2 1/2 in aft") == pytest.approx(-0.0635)
    assert not reader.faults
