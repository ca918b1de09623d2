"""The rule of tests/conftest.py, tried on a small project of its own."""

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

CONFTEST = Path(__file__).with_name("conftest.py")


def run_pytest(folder: Path, *tests: str, place: str = "published") -> subprocess.CompletedProcess[str]:
    (folder / place).mkdir()
    shutil.copy(CONFTEST, folder / "conftest.py")
    (folder / "pytest.ini").write_text("[pytest]\nmarkers = source(work, where): of a number\n")
    for number, test in enumerate(tests):
        (folder / place / f"test_number{number or ''}.py").write_text(test)
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-c", "pytest.ini", "."]
    return subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)


SOURCED = 'import pytest\n\n@pytest.mark.source({mark})\ndef test_number():\n    assert 1 + 1 == 2\n'
NAMELESS = "def test_number():\n    assert 1 + 1 == 2\n"


def test_a_published_test_with_its_source_runs(tmp_path: Path) -> None:
    done = run_pytest(tmp_path, SOURCED.format(mark='"A book", where="p. 3"'))
    assert done.returncode == 0
    assert "1 passed" in done.stdout


def test_a_test_elsewhere_needs_no_source(tmp_path: Path) -> None:
    assert run_pytest(tmp_path, NAMELESS, place="physics").returncode == 0


def test_a_published_test_without_source_stops_collection(tmp_path: Path) -> None:
    done = run_pytest(tmp_path, NAMELESS)
    assert done.returncode == pytest.ExitCode.USAGE_ERROR
    assert "published/test_number.py::test_number" in done.stderr
    assert "must say where their number stands" in done.stderr


def test_half_a_source_is_none(tmp_path: Path) -> None:
    halves = ['"A book"', 'where="p. 3"', '"", where="p. 3"', '"A book", where=" "', '"A", "p. 3"']
    whole = '"A book", where="p. 3"'
    done = run_pytest(tmp_path, *(SOURCED.format(mark=mark) for mark in (whole, *halves)))
    assert done.returncode == pytest.ExitCode.USAGE_ERROR
    for number in range(1, 1 + len(halves)):
        assert f"test_number{number}.py::test_number" in done.stderr
    assert "test_number.py" not in done.stderr
