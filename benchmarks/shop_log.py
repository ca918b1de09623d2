"""The shop's log with a working life in it: 10 000 lures, 200 000 entries; how long a list and a card then take.

Run by hand: python -m benchmarks.shop_log
"""

import random
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from statistics import median

from benchmarks.timing import process, timed
from gudgeon.answers.log_views import LureList, found_by_stamp, lure_card
from gudgeon.report.log_rows import card_sections, lures_listed
from gudgeon.report.rows import Shop
from gudgeon.shop.database import FILE_NAME
from gudgeon.shop.log import Log
from gudgeon.shop.records import Ballast, Board, Change, Jug, Note, TimedDrop, Weighing
from gudgeon.units import Reading

EXAMPLES = Path(__file__).parents[1] / "examples"
LURES, ENTRIES = 10_000, 200_000
MOST_SECONDS, MOST_BYTES, MOST_LATER = 0.100, 200e6, 0.050
PATTERNS, RUN, PAIRS = 25, 40, 15
_WEIGHTS = (("square", 2.2), ("shaped", 1.0), ("drilled", 0.97), ("sealed", 0.99), ("dry fit", 1.2), ("leaded", 2.0),
            ("primed", 2.02), ("clear", 2.1), ("rigged", 2.3))  # fmt: skip


def filled(folder: Path) -> None:
    """A log with a working life in it, entered through its one door; some entries corrected."""
    draw = random.Random(7)
    text = (EXAMPLES / "glider.toml").read_text(encoding="utf-8")
    with Log.start(folder) as log, log.together():
        names = [log.add_pattern(f"# pattern {number}\n{text}", name=f"Glider {number}").name
                 for number in range(PATTERNS)]  # fmt: skip
        for number in range(100):
            log.add_board(Board(f"B{number}", "poplar", Reading(draw.gauss(450.0, 30.0), 9.0)))
        made = PATTERNS + 100 + LURES
        for number in range(LURES // RUN):
            for lure in log.add_lures(names[number % PATTERNS], RUN, board=f"B{number % 100}"):
                made += _life(log, lure.number, draw)
        while made < ENTRIES:
            log.note(draw.randint(1, LURES), Note("looked over before the season"))
            made += 1


def _life(log: Log, lure: int, draw: random.Random) -> int:
    """What is entered of one lure; returns how many entries."""
    blank = draw.gauss(0.052, 0.003)
    numbers = [log.weigh(lure, Weighing(stage, Reading(times * blank))) for stage, times in _WEIGHTS]
    log.jug(lure, Jug("sealed", Reading(draw.gauss(0.1084, 0.0003)), temperature=Reading(291.15)))
    for hole in ("front", "behind front hook", "tail"):
        log.ballast(lure, Ballast(hole, Reading(draw.gauss(0.015, 0.001)), 0.04, 0.02, 0.011))
    log.drop(lure, TimedDrop("rigged", Reading(1.2192), tuple(draw.gauss(6.0, 0.2) for _ in range(3))))
    log.change(lure, Change("rear hook one size up", "nose-down sink"))
    log.note(lure, Note("nothing out of the ordinary"))
    if lure % 10 == 0:
        log.correct(numbers[1], {"mass": Reading(1.01 * blank)}, "misread")
        return 17
    return 16


def questions(log: Log) -> dict[str, Callable[[], object]]:
    """Every list and card, laid out as they are shown."""
    middle = LURES // 2
    stamp = log.patterns("Glider 3")[0].stamp

    def listed(**wanted: object) -> object:
        lines = tuple(log.lures(**wanted))  # type: ignore[arg-type]
        return lures_listed(LureList(lines, log.lure_count(), True), Shop.METRIC)

    return {
        "the newest 50 lures": listed,
        "50 lures from the middle": lambda: listed(before=middle),
        "50 lures of one pattern": lambda: listed(pattern="Glider 7"),
        "50 lures out of one board": lambda: listed(board="B42"),
        "one run of a pattern": lambda: listed(pattern="Glider 7", run=3),
        "the card of a lure": lambda: card_sections(lure_card(log, middle), Shop.METRIC),
        "a lure's history": lambda: log.history(middle),
        "the shop's last 50 entries": lambda: log.history(limit=50),
        "boards": lambda: log.standing("board"),
        "patterns": lambda: log.standing("pattern"),
        "whose a stamp is": lambda: found_by_stamp(log, stamp),
        "weights of a lure's twins": lambda: log.measured(Weighing, log.pattern_root("Glider 7")),
        "weights of one run": lambda: log.measured(Weighing, log.pattern_root("Glider 7"), 3),
        "a weight entered": lambda: log.weigh(middle, Weighing("rigged", Reading(0.12))),
    }


def listing(folder: Path) -> None:
    """The process of `gudgeon log list`, as a maker types it."""
    process("-m", "gudgeon.cli.main", "log", "list", "--shop", str(folder))


def verdict(met: bool) -> str:
    """Whether a claim holds."""
    return "met" if met else "MISSED"


def main() -> None:
    """Fill a log, then print how long each question takes and how large the file is."""
    with tempfile.TemporaryDirectory() as place:
        full, empty = Path(place) / "full", Path(place) / "empty"
        Log.start(empty).database.close()
        filled(full)
        missed = False
        with Log.open(full) as log:
            entries = log.database.one("SELECT count(*) FROM entry")
            print(f"{log.lure_count()} lures, {entries[0] if entries else 0} entries")
            for words, ask in questions(log).items():
                timing = timed(ask, lambda: None, 9)
                met = timing.middle <= MOST_SECONDS
                missed |= not met
                print(f"{words:30}{1e3 * timing.least:9.1f}{1e3 * timing.middle:9.1f} ms  {verdict(met)}", flush=True)
        size = (full / FILE_NAME).stat().st_size
        print(f"{'the file':30}{size / 1e6:18.1f} MB  {verdict(size <= MOST_BYTES)}")
        timing = timed(lambda: listing(full), lambda: listing(empty), PAIRS)
        met = timing.later <= MOST_LATER
        times = f"{1e3 * median(timing.yardstick):9.0f}{1e3 * timing.middle:9.0f} ms, {1e3 * timing.later:.0f} later"
        print(f"{'gudgeon log list, empty, full':30}{times}  {verdict(met)}")
    sys.exit(missed or not met or size > MOST_BYTES)


if __name__ == "__main__":
    main()
