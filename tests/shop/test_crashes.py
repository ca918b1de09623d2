"""What is left when a writer is killed, the disk runs full, or two write at once."""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from gudgeon.shop.database import check_whole
from gudgeon.shop.log import Log

HERE = Path(__file__).parent
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no fork, signals and limits of another kind")
KILLS = 200


def run(script: str, *arguments: object) -> dict[str, Any]:
    done = subprocess.run([sys.executable, HERE / script, *(str(argument) for argument in arguments)],
                          capture_output=True, text=True, check=False)  # fmt: skip
    assert done.returncode == 0, done.stderr
    return dict(json.loads(done.stdout))


@pytest.fixture
def quick_disk(tmp_path: Path) -> Iterator[Path]:
    """A folder in memory where there is one: what a killed process had handed to the system is kept on any disk."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if os.access(memory, os.W_OK) else tmp_path) as place:
        yield Path(place)


def test_nothing_that_was_told_as_entered_is_lost_when_writers_are_killed(twelve: Log, quick_disk: Path) -> None:
    twelve.database.close()
    shutil.copytree(twelve.folder, quick_disk / "shop")
    found = run("killed.py", quick_disk, KILLS, 20260503)
    assert found["kills"] == KILLS
    assert found["lost"] == 0
    assert found["torn"] == 0
    assert found["told"] > KILLS // 4  # else they were killed before they wrote anything
    assert found["photos"] > 0
    assert found["broken off"] > 0


def test_a_limit_on_files_is_told_as_a_full_disk_and_nothing_is_lost(twelve: Log, tmp_path: Path) -> None:
    twelve.database.close()
    (tmp_path / "large.jpg").write_bytes(b"\xff\xd8\xff" + bytes(3_000_000))
    found = run("full_disk.py", twelve.folder, "-", 1_000_000)
    assert "a full or failing disk. Make room" in found["said"][0]
    assert "nothing was entered" in found["said"][0]
    assert "it could not be copied in" in found["said"][1]
    assert found["stand"] == found["told"] > 0
    assert found["after"] == 1
    assert found["left"] == []


def test_a_disk_that_is_really_full_is_told_and_nothing_is_lost(twelve: Log, tmp_path: Path) -> None:
    twelve.database.close()
    disk = tmp_path / "disk"
    disk.mkdir()
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=2m", "tmpfs", disk], capture_output=True, check=False)
    if mounted.returncode:
        pytest.skip("no disk can be mounted here")
    try:
        subprocess.run(["cp", "-r", twelve.folder, disk / "shop"], check=True)
        (disk / "large.jpg").write_bytes(b"\xff\xd8\xff" + bytes(600_000))
        (disk / "filler").write_bytes(bytes(500_000))
        found = run("full_disk.py", disk / "shop", disk / "filler", 0)
    finally:
        subprocess.run(["umount", disk], check=True)
    assert "the disk is full. Make room" in found["said"][0]
    assert "No space left" in found["said"][1]
    assert found["stand"] == found["told"] > 0
    assert found["after"] == 1
    assert found["left"] == []


WRITER = """
import sys
from pathlib import Path
from gudgeon.shop.log import Log
from gudgeon.shop.records import Note
with Log.open(Path(sys.argv[1])) as log:
    for turn in range(100):
        log.note(1, Note(f"{sys.argv[2]} {turn}"))
"""


def test_two_who_write_at_once_both_have_every_entry(twelve: Log) -> None:
    strict = {**os.environ, "PYTHONWARNINGS": "error"}
    writers = [subprocess.Popen([sys.executable, "-c", WRITER, twelve.folder, name], stderr=subprocess.PIPE, text=True,
                                env=strict) for name in ("left", "right")]  # fmt: skip
    said = [writer.communicate()[1] for writer in writers]
    assert said == ["", ""]
    words = [entry.what.words for entry in twelve.lure(1).entries]  # type: ignore[union-attr]
    assert sorted(words) == sorted(f"{name} {turn}" for name in ("left", "right") for turn in range(100))
    for name in ("left", "right"):
        assert [word for word in words if word.startswith(name)] == [f"{name} {turn}" for turn in range(100)]
    check_whole(twelve.database)
