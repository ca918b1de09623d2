"""Names are found in any order and spelling of words; what is not found is refused with what was near."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import OutsideSource, Refusal
from gudgeon.library.names import find_name, nearest_names, words_of

NAMES = {
    "Cedar, western red": ("Cedar, western red", "canadian red cedar"),
    "Cedar, eastern red": ("Cedar, eastern red", "aromatic cedar"),
    "Maple, sugar (hard)": ("Maple, sugar (hard)", "hard maple"),
    "Beech": ("Beech",),
    "Wood filler": ("Wood filler",),
    "Filler": ("Filler",),
}


def found(asked: str) -> str:
    return find_name(asked, NAMES, kind="wood", way_out="or weigh it")


@pytest.mark.parametrize("asked", ["Cedar, western red", "western red cedar", "WESTERN-RED cedar", "red_cedar western",
                                   "the western cedar", "Canadian cedar"])  # fmt: skip
def test_order_capitals_and_hyphens_do_not_matter(asked: str) -> None:
    assert found(asked) == "Cedar, western red"


@pytest.mark.parametrize("asked", ["beech", "beechwood", "beech wood"])
def test_wood_may_be_added(asked: str) -> None:
    assert found(asked) == "Beech"


def test_wood_counts_where_it_tells_two_apart() -> None:
    assert found("wood filler") == "Wood filler"
    assert found("filler") == "Filler"


def test_a_name_of_several_is_refused_with_all_of_them() -> None:
    with pytest.raises(OutsideSource) as refusal:
        found("red cedar")
    assert str(refusal.value) == (
        "'red cedar' could be 'Cedar, eastern red' or 'Cedar, western red'; say which, or weigh it"
    )


@pytest.mark.parametrize("asked", ["hard", "hardwood", "hard wood"])
def test_a_word_that_only_describes_is_never_taken_for_a_name(asked: str) -> None:
    with pytest.raises(OutsideSource, match="could be 'Maple, sugar"):
        found(asked)


@pytest.mark.parametrize(("asked", "near"), [("ceder western red", "Cedar, western red"), ("beach", "Beech"),
                                             ("mapel", "Maple, sugar (hard)")])  # fmt: skip
def test_the_nearest_name_is_offered_first(asked: str, near: str) -> None:
    assert nearest_names(asked, NAMES)[0] == near
    with pytest.raises(OutsideSource, match="nearest in spelling") as refusal:
        found(asked)
    assert f"no wood '{asked}' is known" in str(refusal.value)
    assert near in str(refusal.value)
    assert str(refusal.value).endswith("or weigh it")


@given(st.text(max_size=40))
def test_any_text_is_found_or_refused(asked: str) -> None:
    try:
        key = found(asked)
    except Refusal:
        return
    assert key in NAMES


@given(st.permutations(["western", "red", "cedar"]), st.sampled_from([" ", "-", ", ", " / "]))
def test_words_are_a_set(words: list[str], between: str) -> None:
    assert words_of(between.join(words)) == {"western", "red", "cedar"}
