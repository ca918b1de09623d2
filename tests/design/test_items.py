"""Items and tables put into a design's text and taken out of it: what was asked changes, every other line stays."""

import tomllib

import pytest

from gudgeon.design.items import with_item, with_list, with_table, without_item, without_table
from gudgeon.errors import BadDesign

TEXT = """# mine
name = "mine"

[outline]
back = [
  "0 mm: 0 mm",
  "40 mm: 12 mm",   # highest
  "90 mm: 5 mm",
]
side = ["0 mm: 0 mm", "90 mm: 4 mm"]  # one line

# --- hooks ---

[[hook]]          # the first
name = "front"
at = "30 mm"      # under the chin

[[hook]]
name = "rear"
at = "70 mm"

# --- water ---
[water]
temperature = "12 C"
"""


def lines_gone(before: str, after: str) -> list[str]:
    """Lines that stood before and stand no more."""
    rest = after.splitlines()
    gone = []
    for line in before.splitlines():
        if line in rest:
            rest.remove(line)
        else:
            gone.append(line)
    return gone


@pytest.mark.parametrize("line_break", ["\n", "\r\n"])
def test_a_point_goes_in_between_two_on_a_line_of_its_own(line_break):
    before = TEXT.replace("\n", line_break)
    after = with_item(before, "outline.back.2", "20 mm: 8 mm")
    assert tomllib.loads(after)["outline"]["back"] == ["0 mm: 0 mm", "20 mm: 8 mm", "40 mm: 12 mm", "90 mm: 5 mm"]
    assert lines_gone(before, after) == []
    assert '  "20 mm: 8 mm",' in after.splitlines()
    assert ("\r\n" in after) == (line_break == "\r\n")
    assert after.count("\r") == after.count("\n") * (line_break == "\r\n")


def test_a_point_goes_into_a_list_on_one_line_and_behind_the_last():
    after = with_item(TEXT, "outline.side.2", "50 mm: 9 mm")
    assert 'side = ["0 mm: 0 mm", "50 mm: 9 mm", "90 mm: 4 mm"]  # one line' in after
    assert tomllib.loads(with_item(TEXT, "outline.back.4", "95 mm: 4 mm"))["outline"]["back"][-1] == "95 mm: 4 mm"


def test_an_item_goes_with_its_line_and_comment():
    after = without_item(TEXT, "outline.back.2")
    assert lines_gone(TEXT, after) == ['  "40 mm: 12 mm",   # highest']
    assert tomllib.loads(after)["outline"]["back"] == ["0 mm: 0 mm", "90 mm: 5 mm"]


@pytest.mark.parametrize(("place", "left"), [("outline.side.1", "90 mm: 4 mm"), ("outline.side.2", "0 mm: 0 mm")])
def test_an_item_of_a_list_on_one_line_goes_alone(place, left):
    after = without_item(TEXT, place)
    assert tomllib.loads(after)["outline"]["side"] == [left]
    assert after.count("# one line") == 1


def test_an_item_put_in_and_taken_out_leaves_the_text_as_it_was():
    for place in ("outline.back.1", "outline.back.2", "outline.back.3", "outline.side.1", "outline.side.2"):
        assert without_item(with_item(TEXT, place, "50 mm: 9 mm"), place) == TEXT


def test_a_list_is_written_a_line_for_each_item():
    after = with_list(TEXT, "outline.belly", ["0 mm: 0 mm", "90 mm: 5 mm"])
    assert lines_gone(TEXT, after) == []
    assert 'belly = [\n  "0 mm: 0 mm",\n  "90 mm: 5 mm",\n]\n' in after
    assert list(tomllib.loads(after)["outline"]) == ["back", "side", "belly"]
    with pytest.raises(BadDesign):
        with_list(after, "outline.belly", ["0 mm: 0 mm"])


def test_a_table_goes_in_ahead_of_another():
    after = with_table(TEXT, "hook.2", {"name": "middle", "at": "50 mm"})
    assert [hook["name"] for hook in tomllib.loads(after)["hook"]] == ["front", "middle", "rear"]
    assert lines_gone(TEXT, after) == []


def test_a_table_goes_behind_the_last_and_begins_a_list():
    after = with_table(TEXT, "hook.3", {"name": "third", "at": "80 mm"})
    assert [hook["name"] for hook in tomllib.loads(after)["hook"]] == ["front", "rear", "third"]
    begun = with_table(TEXT, "joint.1", {"at": "40 mm", "gap": "2 mm"})
    assert tomllib.loads(begun)["joint"] == [{"at": "40 mm", "gap": "2 mm"}]
    assert lines_gone(TEXT, begun) == []


def test_a_table_goes_from_its_header_to_its_last_key():
    after = without_table(TEXT, "hook.1")
    assert lines_gone(TEXT, after) == ["[[hook]]          # the first", 'name = "front"',
                                       'at = "30 mm"      # under the chin', ""]  # fmt: skip
    assert without_table(after, "hook.1").endswith(
        '# --- hooks ---\n\n# --- water ---\n[water]\ntemperature = "12 C"\n'
    )


def test_a_table_put_in_and_taken_out_leaves_the_text_as_it_was():
    assert without_table(with_table(TEXT, "hook.1", {"name": "new", "at": "1 mm"}), "hook.1") == TEXT


@pytest.mark.parametrize("place", ["hook.3", "fin.1"])
def test_a_table_that_is_not_in_a_list_is_not_taken_out_of_one(place):
    with pytest.raises(BadDesign, match="cannot be changed"):
        without_table(TEXT, place)


@pytest.mark.parametrize("place", ["outline.back.9", "outline.back", "name"])
def test_an_item_that_is_not_there_is_refused(place):
    with pytest.raises(BadDesign, match="no such item"):
        without_item(TEXT, place)


def test_a_list_of_tables_in_braces_is_left_to_be_changed_by_hand():
    text = 'name = "x"\nhook = [{name = "a"}, {name = "b"}]\n'
    with pytest.raises(BadDesign, match="by hand"):
        without_table(text, "hook.1")
    with pytest.raises(BadDesign, match="by hand"):
        with_table(text, "hook.1", {"name": "c"})
