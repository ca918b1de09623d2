"""Stores a small log of the newest version with every kind of entry in it: version_N.sql, and version_N.json of it.

Run once for each new version, before anything of it is given out: python tests/shop/store_sample.py. What is stored
already is never written over; test_migrations.py reads all of them.
"""

import sqlite3
import sys
import tempfile
from itertools import count
from pathlib import Path

from gudgeon.shop.carrying import as_json
from gudgeon.shop.database import APPLICATION, FILE_NAME, newest
from gudgeon.shop.kept import KeptRow, KeptSection, KeptTold, kept_text
from gudgeon.shop.log import Log
from gudgeon.shop.records import (
    Answer,
    Attitude,
    Ballast,
    Board,
    Change,
    Fitting,
    Jug,
    Note,
    StandIn,
    Stock,
    TimedDrop,
    TowTest,
    Weighing,
)
from gudgeon.units import Reading

DESIGN = """name = "Small floater"
length = "90 mm"

[outline]
back = ["0 mm: 0 mm", "10 mm: 9 mm", "30 mm: 14 mm", "60 mm: 9 mm", "90 mm: 3 mm"]
side = ["0 mm: 0 mm", "10 mm: 7 mm", "30 mm: 10 mm", "60 mm: 7 mm", "90 mm: 2 mm"]

[wood]
species = "basswood"

[[hook]]
name = "belly hook"
size = "6"
at = "35 mm"

[[pocket]]
name = "belly"
at = "25 mm"
bore = "8 mm"

[water]
temperature = "15 C"

[aim]
does = "floats"
reserve = "20 %"
"""


def filled(log: Log, picture: Path) -> None:
    """Enter one of everything, correct one entry, strike one out."""
    log.add_board(Board("B7 'knotty'", "basswood", Reading(402.0, 8.0), Reading(0.09), 0.9, 0.14, 0.025, Reading(1.21)),
                  remark="from the barn")  # fmt: skip
    log.add_stock(Stock("no. 6 treble", "hook", "steel", Reading(0.001, 1e-4), 40))
    log.add_stock(Stock("clear epoxy", "resin", amount=Reading(0.5), density=Reading(1120.0), lot="L-2207"))
    log.add_pattern(DESIGN)
    log.add_lures("Small floater", 2, board="B7 'knotty'")
    wrong = log.weigh(1, Weighing("shaped", Reading(0.0091, 1e-4)), done="2026-05-02")
    log.correct(wrong, {"mass": Reading(0.0094, 1e-4)}, "read 1 for 4")
    log.weigh(1, Weighing("dry fit", Reading(0.0105), fitted=("belly hook",)))
    log.jug(1, Jug("sealed", Reading(0.0228), temperature=Reading(291.15), salinity=Reading(0.0)))
    log.ballast(1, Ballast("belly", Reading(0.0057), 0.025, 0.012, 0.008))
    log.fit(1, Fitting("belly hook", Reading(0.00102)))
    log.drop(1, TimedDrop("rigged", Reading(1.2192, 0.01), (1.1, 1.2, 1.15), rises=True, temperature=Reading(288.15)))
    log.lies(1, Attitude("rigged", Reading(-0.0872664625997165), Reading(0.02), "afloat"))
    log.tow(1, TowTest(Reading(0.89408), Reading(5.5), Reading(0.3), Reading(1.5), "tight wobble; =runs left",
                       ("belly hook",), (StandIn("belly hook", 0.001),)))  # fmt: skip
    log.change(1, Change("tow eye bent 0.3 mm to the right", "ran left"))
    other = log.note(2, Note('cracked; "set aside"'))
    log.strike(other, "it was number 1")
    told = KeptTold((("watch", "it may float & it may sink"),), (KeptSection("In the water", (
        KeptRow("whole.excess", "heavy in water by", 0.31, "g", 0.1, 0.5, "0.3 ± 0.2 g"),
        KeptRow("whole.class", "trade word", "=slow sinker", "", None, None, "=slow sinker"))),))  # fmt: skip
    log.keep(1, Answer("check", "0123abcd", "Sinks, <b>slowly</b>.", kept_text(told), "# another text"))
    picture.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(16))
    log.photo(2, picture, "left side")


def main(here: Path) -> None:
    """Write both files, or say that they are there."""
    text, told = here / f"version_{newest()}.sql", here / f"version_{newest()}.json"
    if text.exists() or told.exists():
        sys.exit(f"{text.name} is stored already, and stays as it is")
    minutes = count()
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        with Log.start(folder, lambda: f"2026-05-03T10:{next(minutes):02d}:00+02:00") as log:
            filled(log, folder / "side.png")
            said = "".join(as_json(log))
        connection = sqlite3.connect(folder / FILE_NAME)
        head = (f"PRAGMA application_id = {APPLICATION};", f"PRAGMA user_version = {newest()};")
        text.write_text("\n".join((*head, *connection.iterdump())) + "\n", encoding="utf-8")
        connection.close()
    told.write_text(said, encoding="utf-8")


if __name__ == "__main__":
    main(Path(__file__).parent)
