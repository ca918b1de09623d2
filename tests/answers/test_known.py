import pytest

from gudgeon.answers.known import Known, estimate, narrowing, numbers

SIDES = (
    Known("length", 2.0, 0.02, "measure the length with a calliper", 0.001),
    Known("width", 3.0, 0.01, "measure the width with a calliper", 0.001),
)


def test_a_product_spreads_by_the_root_of_the_squares() -> None:
    found = estimate(lambda n: n["length"] * n["width"], SIDES)
    assert found.value == pytest.approx(6.0)
    assert found.spread == pytest.approx(((3.0 * 0.02) ** 2 + (2.0 * 0.01) ** 2) ** 0.5)
    assert numbers(SIDES) == {"length": 2.0, "width": 3.0}


def test_the_measurement_that_narrows_most_is_named_with_what_it_leaves() -> None:
    best = narrowing(lambda n: n["length"] * n["width"], SIDES)
    assert best is not None
    assert best.measurement == "measure the length with a calliper"
    assert best.after == pytest.approx(((3.0 * 0.001) ** 2 + (2.0 * 0.01) ** 2) ** 0.5)
    assert best.after < best.before


def test_nothing_worth_doing_is_told_as_nothing() -> None:
    known = (Known("a", 1.0, 0.1), Known("b", 1.0, 0.01, "weigh b", 0.001))
    assert narrowing(lambda n: n["a"] + n["b"], known) is None
