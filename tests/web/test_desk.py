"""A design on the desk: strokes kept, undone, saved; other hands noticed."""

import pytest

from gudgeon.errors import BadDesign
from gudgeon.web.desk import Desk


@pytest.fixture
def path(tmp_path, small):
    file = tmp_path / "small.toml"
    file.write_text(small, encoding="utf-8", newline="")
    return file


@pytest.fixture
def desk(path):
    found = Desk(path)
    yield found
    found.close()


def lifted(height):
    return lambda text: text.replace('"30 mm: 14 mm"', f'"30 mm: {height} mm"')


def test_nothing_is_written_until_something_is_drawn(desk, path):
    assert desk.state.is_saved
    assert not desk.state.file_changed
    assert [entry.name for entry in path.parent.iterdir()] == ["small.toml"]


def test_a_stroke_is_kept_and_the_file_waits_for_a_save(desk, path, small):
    state = desk.draw(desk.state.stamp, "", "back, point 3", lifted(15))
    assert '"30 mm: 15 mm",   # highest' in state.text
    assert (state.undo, state.redo, state.steps, state.is_saved) == ("back, point 3", None, 1, False)
    assert path.read_text() == small
    assert '"out": "4", "put": "5"' in path.with_name("small.toml.strokes").read_text()
    saved = desk.save(state.stamp)
    assert saved.is_saved
    assert path.read_text() == state.text
    assert desk.undo(state.stamp).text == small  # a save does not end what can be undone


def test_a_hand_that_saw_another_text_is_told_and_nothing_is_done(desk):
    first = desk.state.stamp
    desk.draw(first, "", "", lifted(15))
    for stale in (desk.draw(first, "", "", lifted(16)), desk.undo(first), desk.redo(first), desk.save(first),
                  desk.take_file(first)):  # fmt: skip
        assert stale is None
    assert "15 mm" in desk.state.text


def test_a_stroke_that_gives_no_design_is_refused_and_nothing_is_kept(desk, path):
    with pytest.raises(BadDesign, match="cannot be built"):
        desk.draw(desk.state.stamp, "", "", lambda text: text.replace('"60 mm: 9 mm"', '"20 mm: 9 mm"'))
    with pytest.raises(BadDesign, match="not kept"):
        desk.draw(desk.state.stamp, "", "", lambda text: text + "#" * 1_000_001)
    assert desk.state.steps == 0
    assert not path.with_name("small.toml.strokes").exists()


def test_a_file_with_faults_is_opened_and_mended_stroke_by_stroke(path, small):
    path.write_text(small.replace('"6"', "6").replace('bore = "8 mm"', 'bore = "8"'))
    desk = Desk(path)
    state = desk.draw(desk.state.stamp, "", "", lambda text: text.replace('bore = "8"', 'bore = "8 mm"'))
    state = desk.draw(state.stamp, "", "", lambda text: text.replace("size = 6", 'size = "6"'))
    assert state.text == small
    with pytest.raises(BadDesign):
        desk.draw(state.stamp, "", "", lambda text: text.replace("8 mm", "8"))
    desk.close()


def test_all_is_there_again_after_the_program_was_ended(desk, path, small):
    state = desk.state
    for height in (15, 16, 17):
        state = desk.draw(state.stamp, f"g{height}", f"to {height}", lifted(height) if height == 15 else (
            lambda text, height=height: text.replace(f"30 mm: {height - 1} mm", f"30 mm: {height} mm")))  # fmt: skip
    state = desk.undo(state.stamp)
    desk.close()
    again = Desk(path)
    assert again.state.text == state.text
    assert (again.state.undo, again.state.redo) == ("to 16", "to 17")
    assert "not saved" in again.told
    assert again.redo(again.state.stamp).text.count("17 mm") == 1
    again.close()


def test_a_file_changed_by_another_program_is_noticed(desk, path, small):
    state = desk.draw(desk.state.stamp, "", "", lifted(15))
    path.write_text(small + "\n# by hand\n")
    assert desk.state.file_changed
    with pytest.raises(BadDesign) as refusal:
        desk.save(state.stamp)
    assert "changed by another program" in str(refusal.value)
    taken = desk.take_file(state.stamp)
    assert taken.text.endswith("# by hand\n")
    assert taken.is_saved
    assert not taken.file_changed
    assert "15 mm" in desk.undo(taken.stamp).text


def test_it_can_be_saved_over_the_change(desk, path, small):
    state = desk.draw(desk.state.stamp, "", "", lifted(15))
    path.write_text(small + "# by hand\n")
    assert desk.save(state.stamp, over=True).is_saved
    assert path.read_text() == state.text


def test_a_file_that_is_gone_counts_as_changed(desk, path):
    state = desk.draw(desk.state.stamp, "", "", lifted(15))
    path.unlink()
    assert desk.state.file_changed
    assert desk.save(state.stamp, over=True).is_saved


def test_a_file_changed_while_nobody_looked_is_shown_as_it_is(desk, path, small):
    desk.draw(desk.state.stamp, "", "", lifted(15))
    desk.close()
    path.write_text(small + "# by hand\n")
    again = Desk(path)
    assert again.state.text.endswith("# by hand\n")
    assert "small as drawn 1.toml" in again.told
    aside = Desk(path.with_name("small as drawn 1.toml"))
    assert "15 mm" in aside.state.text
    assert aside.undo(aside.state.stamp).text == small  # its way back goes with it
    aside.close()


def test_a_save_that_was_ended_before_it_was_noted_is_known(desk, path):
    state = desk.draw(desk.state.stamp, "", "", lifted(15))
    desk.close()
    path.write_text(state.text, newline="")
    again = Desk(path)
    assert again.state.is_saved
    assert again.state.steps == 1
    again.close()


def test_a_journal_that_is_none_is_set_aside(path):
    path.with_name("small.toml.strokes").write_text("nonsense")
    desk = Desk(path)
    assert "set aside" in desk.told
    assert desk.state.is_saved


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"x" * 1_000_001])
def test_what_is_no_text_is_refused(path, content):
    path.write_bytes(content)
    with pytest.raises(BadDesign, match="cannot be read"):
        Desk(path)


def test_line_ends_and_marks_of_other_editors_stay(path, small):
    path.write_bytes(b"\xef\xbb\xbf" + small.replace("\n", "\r\n").encode())
    desk = Desk(path)
    state = desk.draw(desk.state.stamp, "", "", lifted(15))
    desk.save(state.stamp)
    assert path.read_bytes() == small.replace("\n", "\r\n").replace("30 mm: 14", "30 mm: 15").encode()
    desk.close()
