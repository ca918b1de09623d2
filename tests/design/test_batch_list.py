"""The list of a batch's blanks: what is read, and every fault of it at once."""

from pathlib import Path

import pytest

from gudgeon.design.batch_list import parse_batch, read_batch
from gudgeon.errors import BadDesign

EXAMPLE = Path(__file__).parents[2] / "examples" / "lanternmere-blanks.csv"


def test_numbers_and_weights_are_read():
    found = parse_batch(
        "number, weight\n7, 52.6 g\n9, 1.9 oz ± 0.01 oz\n\n# set by for the gallery\n12, 53 g # from the end\n"
    )
    assert [one.number for one in found] == [7, 9, 12]
    assert [one.weight.value for one in found] == pytest.approx([0.0526, 1.9 * 0.028349523125, 0.053])
    assert found[1].weight.spread == pytest.approx(0.01 * 0.028349523125)


@pytest.mark.parametrize("text", ["41.2 g\n43 g\n", "weight\n41.2 g\n43 g\n", "1,41.2 g,\n2,43 g,\n",
                                  "\ufeffnumber;weight\r\n1;41.2 g\r\n2;43 g\r\n"])  # fmt: skip
def test_plain_weights_heads_other_marks_and_line_ends(text):
    assert [one.number for one in parse_batch(text)] == [1, 2]
    assert [one.weight.value for one in parse_batch(text)] == pytest.approx([0.0412, 0.043])


def test_every_fault_is_told_with_its_line():
    with pytest.raises(BadDesign) as refusal:
        parse_batch(
            "number, weight\n1, 41.2\n2, 43 g\n2, 44 g\nx, 45 g\n5, 1, 2 g\n6, -3 g\n7, 12 mm\n8, 0 g\n", "twelve.csv"
        )
    assert [fault.line for fault in refusal.value.faults] == [2, 4, 5, 6, 7, 8, 9]
    told = str(refusal.value)
    assert told.startswith("twelve.csv cannot be read:")
    for words in ("line 2, weight: '41.2' needs a unit", "line 4, number: 2 stands in the list already",
                  "line 5, number: 'x' is no whole number", "line 6, the line: it has 3 parts",
                  "more than 0 g"):  # fmt: skip
        assert words in told


@pytest.mark.parametrize(("text", "words"), [("", "nothing in it"), ("number, weight\n", "nothing in it"),
                                             ("1, 41 g\n", "1 blank in it"),
                                             ("\n".join(f"{k}, 41 g" for k in range(1, 502)),
                                              "501 blanks in it")])  # fmt: skip
def test_a_list_too_short_or_too_long(text, words):
    with pytest.raises(BadDesign) as refusal:
        parse_batch(text)
    assert words in str(refusal.value)


def test_a_file_that_is_not_there(tmp_path):
    with pytest.raises(BadDesign, match="cannot be read"):
        read_batch(tmp_path / "none.csv")


def test_the_example_has_twelve():
    assert len(read_batch(EXAMPLE)) == 12
