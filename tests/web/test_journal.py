"""The journal: what was said to be kept is there again, whatever was cut short behind it."""

import json
import os
import subprocess
import sys
import textwrap

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gudgeon.design.file import stamp
from gudgeon.errors import BadDesign
from gudgeon.web.journal import History, Journal, fresh, patch_between, read_journal, set_aside

TEXTS = st.text(alphabet="ab\n", max_size=12)


@given(TEXTS, TEXTS)
def test_a_patch_goes_there_and_back(before, after):
    patch = patch_between(before, after)
    assert patch.done(before) == after
    assert patch.undone(after) == before


@given(TEXTS, st.lists(st.tuples(st.sampled_from(["draw", "undo", "redo"]), TEXTS, st.sampled_from(["", "a", "b"])),
                       max_size=12))  # fmt: skip
def test_every_step_can_be_undone_and_done_again(first, hand):
    history = fresh(first).history
    for what, text, gesture in hand:
        after = {"draw": history.drawn(gesture, "", text), "undo": history.undone(), "redo": history.redone()}
        history = after[what]
    back = history
    while back.steps:
        back = back.undone()
    assert back.text == first
    while back.ahead:
        back = back.redone()
    on = history
    while on.ahead:
        on = on.redone()
    assert back.text == on.text


def test_strokes_of_one_gesture_are_one_step():
    history = fresh("abc").history.drawn("d1", "x", "abd").drawn("d1", "x", "abe").drawn("d2", "y", "abf")
    assert [step.gesture for step in history.steps] == ["d1", "d2"]
    assert history.undone().text == "abe"
    assert history.undone().undone().text == "abc"


def test_strokes_without_a_gesture_are_each_their_own_step():
    assert len(fresh("a").history.drawn("", "", "b").drawn("", "", "c").steps) == 2


def kept(path, texts, gesture=""):
    """A journal with these texts drawn one after the other; and its history."""
    start = fresh(texts[0])
    journal, history = Journal(path, start), start.history
    for text in texts[1:]:
        journal.stroke(gesture, "stroke", patch_between(history.text, text))
        history = history.drawn(gesture, "stroke", text)
    return journal, history


def test_what_is_kept_is_read_again(tmp_path):
    path = tmp_path / "a.strokes"
    journal, history = kept(path, ["one", "two", "three", "ö 3 \n\r\n"])
    journal.mark("undo")
    journal.mark("saved", stamp="12345678")
    journal.close()
    again = read_journal(path)
    assert again is not None
    assert again.history == history.undone().saved_as("12345678")
    assert again.size == again.good == path.stat().st_size


def test_half_a_line_was_never_kept_and_goes_with_the_next_stroke(tmp_path):
    path = tmp_path / "a.strokes"
    journal, history = kept(path, ["one", "two"])
    journal.close()
    whole = path.read_bytes()
    for cut in (b'{"do": "stroke", "at"', b'{"do": "undo"}', b"\xff\xfe", b'{"do": "other"}\n{"do": "undo"}\n'):
        path.write_bytes(whole + cut)
        again = read_journal(path)
        assert again is not None
        assert again.history == history
        assert again.good == len(whole)
        longer = Journal(path, again)
        longer.stroke("", "more", patch_between("two", "four"))
        longer.close()
        last = read_journal(path)
        assert last is not None
        assert last.history.text == "four"
        assert last.size == last.good


@pytest.mark.parametrize("content", [b"", b"nonsense\n", b'{"journal": 2, "text": "", "saved": ""}\n', b"[]\n",
                                     b'{"journal": 1}\n'])  # fmt: skip
def test_what_is_no_journal_is_not_read(tmp_path, content):
    path = tmp_path / "a.strokes"
    path.write_bytes(content)
    assert read_journal(path) is None


def test_a_stroke_that_does_not_fit_the_text_ends_what_is_believed(tmp_path):
    path = tmp_path / "a.strokes"
    journal, history = kept(path, ["one", "two"])
    journal.close()
    with path.open("ab") as file:
        file.write(json.dumps({"do": "stroke", "gesture": "", "words": "", "at": 0, "out": "nine", "put": ""}).encode()
                   + b"\n")  # fmt: skip
    again = read_journal(path)
    assert again is not None
    assert again.history == history


def test_a_long_journal_is_written_anew_with_a_line_for_each_step(tmp_path, monkeypatch):
    path = tmp_path / "a.strokes"
    journal, history = kept(path, ["x" * n for n in range(1, 200)], gesture="drag")
    journal.mark("undo")
    journal.close()
    monkeypatch.setattr("gudgeon.web.journal._LONG", 1000)
    again = read_journal(path)
    assert again is not None
    longer = Journal(path, again)
    longer.mark("redo")
    longer.close()
    assert path.stat().st_size < 1000
    last = read_journal(path)
    assert last is not None
    assert last.history == history


def test_another_program_that_writes_to_it_is_noticed(tmp_path):
    path = tmp_path / "a.strokes"
    journal, _ = kept(path, ["one", "two"])
    with path.open("ab") as file:
        file.write(b'{"do": "undo"}\n')
    with pytest.raises(BadDesign, match="nothing can be drawn"):
        journal.mark("redo")
    journal.close()
    stale = read_journal(path)
    assert stale is not None
    other = Journal(path, stale)
    path.write_bytes(path.read_bytes() + b'{"do": "redo"}\n')
    with pytest.raises(BadDesign, match="nothing can be drawn"):
        other.mark("undo")


@pytest.mark.skipif(os.name != "posix", reason="files are held by flock")
def test_two_programs_cannot_hold_one_journal(tmp_path):
    path = tmp_path / "a.strokes"
    journal, _ = kept(path, ["one", "two"])
    other = textwrap.dedent(f"""
        from pathlib import Path
        from gudgeon.web.journal import Journal, read_journal
        path = Path({str(path)!r})
        Journal(path, read_journal(path)).mark("undo")
    """)
    ended = subprocess.run([sys.executable, "-c", other], capture_output=True, text=True, check=False)
    assert "another gudgeon" in ended.stderr
    journal.mark("undo")  # the first goes on
    journal.close()
    assert subprocess.run([sys.executable, "-c", other], capture_output=True, text=True, check=False).returncode == 0


def test_a_disk_that_takes_nothing_is_told(tmp_path, monkeypatch):
    path = tmp_path / "a.strokes"
    journal, _ = kept(path, ["one", "two"])

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("gudgeon.web.journal.os.fsync", full)
    with pytest.raises(BadDesign) as refusal:
        journal.mark("undo")
    assert "No space left on device; nothing was kept" in str(refusal.value)
    journal.close()


def test_journals_are_set_aside_under_names_of_their_own(tmp_path):
    path = tmp_path / "a.strokes"
    for number in (1, 2):
        path.write_text("x")
        assert set_aside(path).name == f"a.strokes.{number}"
    assert not path.exists()


def test_a_fresh_history_is_saved_as_its_text():
    assert fresh("abc").history == History("abc", "abc", (), (), stamp("abc"))
