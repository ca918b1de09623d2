"""The gudgeon command, its exit code and both its streams as a maker has them, but in this process: a start of its
own takes a second, and is tried in tests/cli/test_commands.py."""

import io
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path

import pytest

from gudgeon.cli.main import main

ROOT = Path(__file__).parents[2]


def run_here(*words: str) -> subprocess.CompletedProcess[str]:
    """What comes of a command given in the folder of the project."""
    out, err, code = io.StringIO(), io.StringIO(), 0
    with pytest.MonkeyPatch.context() as patch, redirect_stdout(out), redirect_stderr(err):
        patch.chdir(ROOT)
        patch.setattr(sys, "argv", ["gudgeon", *words])
        try:
            main()
        except SystemExit as left:
            code = left.code if isinstance(left.code, int) else int(left.code is not None)
    return subprocess.CompletedProcess(words, code, out.getvalue(), err.getvalue())
