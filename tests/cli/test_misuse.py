"""A command line that cannot be read: refused with 2, and one of the same command that is right told after it."""

import sys

import pytest

from gudgeon.cli.main import main

CASES = [(["log", "correct", "5"], "--why", "For example:  gudgeon log correct "),
         (["sheets"], "FILE", "For example:  gudgeon sheets examples/"),
         (["lead", "--nonsuch"], "--nonsuch", "For example:  gudgeon lead --blank ")]  # fmt: skip


@pytest.mark.parametrize(("words", "wrong", "example"), CASES)
def test_a_right_one_is_told_after_what_is_wrong(words, wrong, example, monkeypatch, capsys):
    monkeypatch.setattr(sys, "argv", ["gudgeon", *words])
    with pytest.raises(SystemExit) as left:
        main()
    told = capsys.readouterr().err
    assert left.value.code == 2
    assert wrong in told
    assert told.rstrip().splitlines()[-1].startswith(example)
    assert "\\" not in told


def test_a_command_that_is_none_has_no_example(monkeypatch, capsys):
    monkeypatch.setattr(sys, "argv", ["gudgeon", "nonsuch"])
    with pytest.raises(SystemExit) as left:
        main()
    assert left.value.code == 2
    assert "For example" not in capsys.readouterr().err
