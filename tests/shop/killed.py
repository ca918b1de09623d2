"""Writers killed in the middle of it, again and again; then what the log still holds, as one line of JSON.

Most of the time goes in waiting for the moment of the next kill, so several copies of the log are worked on side by
side, each by a process of its own.

Run by test_crashes.py: python killed.py FOLDER KILLS SEED
"""

import json
import os
import random
import shutil
import signal
import sys
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

from gudgeon.shop.database import FILE_NAME, check_whole, newest
from gudgeon.shop.log import Log
from gudgeon.shop.records import KINDS, Ballast, Jug, Note, Weighing
from gudgeon.units import Reading

LONGEST_START, LONGEST_WRITE = 0.010, 0.030  # s before the kill
LANES = 4
_HALF = " UNION ALL ".join(
    f"SELECT e.id FROM entry e LEFT JOIN {kind} k ON k.entry = e.id WHERE e.kind = '{kind}' AND e.void = 0 AND "
    "k.entry IS NULL" for kind in KINDS
)  # fmt: skip


def starter(folder: Path, pipe: int) -> NoReturn:
    """Begins a log, and stays."""
    with Log.start(folder):
        os.write(pipe, b"1\n")
        time.sleep(60.0)
    os._exit(0)


def writer(folder: Path, pipe: int) -> NoReturn:
    """Enters one thing after the other, and says each number once it is told that it was entered."""
    picture = folder.parent / "picture.jpg"
    with Log.open(folder) as log:
        turn = number = 0
        while True:
            turn += 1
            if turn % 4 == 0:
                number = log.correct(number, {"mass": Reading(0.044)}, "misread")
            elif turn % 4 == 1:
                number = log.note(1 + turn % 12, Note("looked over " * (turn % 50 + 1)))
            elif turn % 4 == 2:
                with log.together():
                    log.jug(1, Jug("sealed", Reading(0.11)))
                    log.ballast(1, Ballast("front", Reading(0.02)))
                    number = log.note(1, Note("both at once"))
            else:
                number = log.weigh(1 + turn % 12, Weighing("shaped", Reading(0.045)))
            if turn % 5 == 2:
                picture.write_bytes(b"\xff\xd8\xff" + os.urandom(20_000))
                os.write(pipe, b"%d\n" % log.photo(1, picture))
            os.write(pipe, b"%d\n" % number)


def killed(folder: Path, delay: float, work: Callable[[Path, int], NoReturn]) -> list[int]:
    """The numbers that a worker was told of before it was killed."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        work(folder, writing)
    os.close(writing)
    time.sleep(delay)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    with open(reading, "rb") as said:
        return [int(line) for line in said.read().split(b"\n")[:-1]]


def lane(folder: Path, kills: int, draw: random.Random) -> Counter[str]:
    """Kill, look, and go on in the same log; then new logs killed while they are begun."""
    shop = folder / "shop"
    told: list[int] = []
    found: Counter[str] = Counter()
    for _ in range(kills):
        told += killed(shop, draw.uniform(0.0, LONGEST_WRITE), writer)
        with Log.open(shop) as log:
            check_whole(log.database)
            there = {row["id"] for row in log.database.ask("SELECT id FROM entry")}
            found["torn"] += len(log.database.ask(_HALF))
            pictures = log.database.ask("SELECT hash, suffix FROM photo")
            found["torn"] += sum(not (shop / "photos" / f"{row['hash']}.{row['suffix']}").is_file() for row in pictures)
        found["lost"] += len(set(told) - there)
    for number in range(kills // 4):
        fresh = folder / f"fresh{number}"
        done = killed(fresh, draw.uniform(0.0, LONGEST_START), starter)
        found["broken off"] += (fresh / FILE_NAME).exists() and not done
        with Log.start(fresh) as log:
            check_whole(log.database)
            version = log.database.one("PRAGMA user_version")
            found["torn"] += version is None or version[0] != newest()
            found["torn"] += bool(log.database.ask("SELECT id FROM entry"))
    return found + Counter({"kills": kills, "told": len(told), "photos": len(pictures)})


def main(folder: Path, kills: int, seed: int) -> None:
    """Every lane in a process and with a copy of the log of its own; what they found, in one."""
    waiting = []
    for number in range(LANES):
        place = folder / f"lane{number}"
        shutil.copytree(folder / "shop", place / "shop")
        reading, writing = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(reading)
            said = lane(place, kills // LANES, random.Random(seed + number))
            os.write(writing, json.dumps(said).encode())
            os._exit(0)
        os.close(writing)
        waiting.append((child, reading))
    found: Counter[str] = Counter(dict.fromkeys(("lost", "torn"), 0))
    for child, reading in waiting:
        with open(reading, "rb") as said:
            found.update(json.loads(said.read() or b"null"))
        assert os.waitpid(child, 0)[1] == 0
    print(json.dumps(found))


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
