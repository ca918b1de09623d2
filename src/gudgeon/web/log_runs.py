"""Runs of lures for the page: which there are, how far one has come with the lead for each blank."""

from collections.abc import Mapping

from gudgeon.answers.batching import Drilling
from gudgeon.answers.bench_lure import stuff
from gudgeon.answers.boring import mass_in_bore
from gudgeon.answers.log_views import LureList
from gudgeon.answers.lure_runs import lure_run, progress
from gudgeon.errors import BadShop, Fault
from gudgeon.report.log_rows import lures_listed, run_headline, run_sections
from gudgeon.report.log_sentences import run_words
from gudgeon.report.rows import Shop
from gudgeon.shop.entries import LureLine
from gudgeon.shop.log import Log
from gudgeon.shop.records import Pattern
from gudgeon.web.calls import Json, findings_told, place_told
from gudgeon.web.log_told import boards_named

_NEWEST = 1000  # lures that are looked through for their runs
_MOST_OFFERED = 400
_MOST_HOLES = 100


def runs_told(log: Log) -> Json:
    """The runs of the newest lures, each with how far it has come; patterns and boards to begin more of."""
    runs = _runs(log)
    found = [{"pattern": pattern, "version": version, "run": run,
              "words": run_words([line.number for line in lines], progress(lines))}
             for (pattern, version, run), lines in runs.items()]  # fmt: skip
    patterns = [one.what for one in log.standing("pattern", _MOST_OFFERED) if isinstance(one.what, Pattern)]
    offered = [{"pattern": one.name, "version": one.version, "runs": sorted(
                (run for name, version, run in runs if (name, version) == (one.name, one.version)), reverse=True)}
               for one in patterns]  # fmt: skip
    return {"runs": found, "patterns": offered, "boards": boards_named(log)}


def _runs(log: Log) -> dict[tuple[str, int, int], list[LureLine]]:
    """Pattern, version and run -> its lures by number; the run of the newest lure first."""
    found: dict[tuple[str, int, int], list[LureLine]] = {}
    for line in log.lures(limit=_NEWEST):
        found.setdefault((line.pattern, line.version, line.run), []).insert(0, line)
    return found


def run_told(log: Log, asked: Mapping[str, str], version: int | None, run: int | None, shop: Shop) -> Json:
    """One run: its headline, what to watch, the rows of `gudgeon log batch`, and its lures.

    asked : pattern; bit and holes, where the lead is to be told as drilled
    """
    pattern = asked.get("pattern", "")
    found = lure_run(log, pattern, version, run, drilling=_drilling(asked.get("bit", ""), asked.get("holes", "")))
    listed = lures_listed(LureList(found.lures, None, False), shop)
    lures = [{"number": line.number, "words": row.shown} for line, row in zip(found.lures, listed.lines, strict=True)]
    return {"pattern": pattern, "version": found.version, "run": found.run, "headline": run_headline(found, shop),
            "findings": findings_told(found.findings, shop), "lures": lures,
            "sections": place_told("", run_sections(found, shop))["sections"]}  # fmt: skip


def _drilling(bit: str, holes: str) -> Drilling | None:
    """The bit and the holes that the lead goes into; None where none is named."""
    if not bit.strip():
        return None
    count = holes.strip() or "1"
    if not (count.isascii() and count.isdecimal() and 1 <= len(count) <= 3 and 1 <= int(count) <= _MOST_HOLES):
        words = f"'{count[:20]}': a whole number from 1 to {_MOST_HOLES}"
        raise BadShop("this cannot be shown", [Fault("holes", words)])
    name, held = mass_in_bore(bit[:40], stuff("lead"))
    return Drilling(name, held, int(count))
