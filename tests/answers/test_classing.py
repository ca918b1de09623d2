import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from gudgeon.answers.classing import CLASSES, SUSPENDER, class_of, class_words, middle_words
from gudgeon.physics.spread import Estimate
from gudgeon.units import FOOT


def test_the_classes_join_without_a_gap_from_fast_up_to_fast_down() -> None:
    ends = sorted({end for one in CLASSES if one is not SUSPENDER for end in (one.slow, one.fast)})
    assert ends[0] == -math.inf
    assert ends[-1] == math.inf
    rates = [*(-FOOT / s for s in (1, 3, 8, 15)), *(FOOT / s for s in (15, 5, 3, 1.5))]
    assert ends[1:-1] == sorted(rates)


@given(some.floats(-3.0, 3.0))
def test_every_rate_has_one_class_and_lies_between_its_ends(velocity: float) -> None:
    found = class_of(velocity)
    low, high = (-SUSPENDER.fast, SUSPENDER.fast) if found is SUSPENDER else sorted((found.slow, found.fast))
    assert low - 1e-9 <= velocity <= high + 1e-9


def test_no_number_has_no_class() -> None:
    with pytest.raises(ValueError, match="no rate"):
        class_of(math.nan)


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [
        (-0.005, 0.01, "suspender"),
        (-0.05, 0.08, "floats to sinks"),
        (0.05, 0.08, "very slow sinker to slow sinker"),
        (-0.2, -0.05, "slow floater to floater"),
        (0.0, 0.05, "suspender to very slow sinker"),
    ],
)
def test_the_words_of_a_range(low: float, high: float, words: str) -> None:
    assert class_words(Estimate(0.5 * (low + high), low, high)) == words


def test_limits_are_those_of_the_middle_where_the_range_has_other_words() -> None:
    assert middle_words("medium sinker", "floats to sinks") == "its middle, medium sinker"
    assert middle_words("medium sinker", "medium sinker") == "medium sinker"
