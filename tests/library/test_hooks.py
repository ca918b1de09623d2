"""Trebles by size."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.errors import OutsideSource, Refusal
from gudgeon.library.hooks import hook_mass, hook_size, hook_sizes


def test_sizes_run_from_small_to_large() -> None:
    assert hook_sizes() == ("10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0", "5/0")
    for column in ("mass", "low", "high"):
        masses = [getattr(hook_mass(size), column) for size in hook_sizes()]
        assert masses == sorted(masses)


@pytest.mark.parametrize("size", hook_sizes())
def test_the_middle_lies_between_and_nothing_is_claimed_to_be_known_well(size: str) -> None:
    hook = hook_mass(size)
    assert hook.low < hook.mass < hook.high
    assert 0.2 < hook.spread / hook.mass < 0.45
    assert hook.source.work == "common practice, no source"


@pytest.mark.parametrize(("asked", "size"), [
    ("4", "4"), ("#4", "4"), ("no. 4", "4"), ("No 4", "4"), ("size 4", "4"), ("treble 4", "4"), ("2/0", "2/0"),
    ("#2/0", "2/0"), ("2/O", "2/0"), (" 2 / 0 ", "2/0"),
])  # fmt: skip
def test_sizes_as_makers_write_them(asked: str, size: str) -> None:
    assert hook_mass(asked).size == size


@pytest.mark.parametrize("asked", ["7", "", "20", "6/0", "-4", "4.0", "two"])
def test_a_size_not_in_the_table_is_refused_with_those_that_are(asked: str) -> None:
    with pytest.raises(OutsideSource) as refusal:
        hook_mass(asked)
    assert str(refusal.value) == (
        f"no treble of size '{asked}' is in the table; "
        "it has 10, 8, 6, 4, 2, 1, 1/0, 2/0, 3/0, 4/0, 5/0; or weigh it"
    )


@given(st.text(max_size=10))
def test_any_text_is_a_size_or_a_refusal(asked: str) -> None:
    try:
        hook = hook_mass(asked)
    except Refusal:
        return
    assert hook.size in hook_sizes()


def test_larger_trebles_reach_further() -> None:
    for column in ("shank", "gape", "ring"):
        sizes = [getattr(hook_size(size), column) for size in hook_sizes()]
        assert sizes == sorted(sizes)
        assert all(0.005 < size < 0.06 for size in sizes)


@pytest.mark.parametrize("size", hook_sizes())
def test_a_treble_is_longer_than_wide_and_its_reach_is_not_claimed_to_be_known(size: str) -> None:
    hook = hook_size(size)
    assert hook.gape < hook.shank < 3.0 * hook.gape
    assert hook.source.work == "common practice, no source"
    assert "from memory" in hook.source.known


def test_a_reach_of_a_size_not_in_the_table_is_refused() -> None:
    with pytest.raises(OutsideSource, match="no treble of size '7'"):
        hook_size("7")
