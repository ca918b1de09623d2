"""What the page is told of a towed lure, as JSON: the terminal's rows, and its motion at each speed."""

from gudgeon.answers.tow_test import TowTest
from gudgeon.report.recording import recording
from gudgeon.report.rows import Shop
from gudgeon.report.swim_rows import SMALL_PRINT, swim_headline
from gudgeon.report.swim_text import tow_sections
from gudgeon.web.calls import Json, findings_told, place_told


def tow_told(found: TowTest, shop: Shop) -> Json:
    """Sentence, findings and rows in a shop's units; how many speeds were towed, and which of them to look at first."""
    swum = found.swimming
    return {
        **place_told(swim_headline(swum, shop), tow_sections(found, shop)),
        "findings": findings_told(swum.findings, shop),
        "small": SMALL_PRINT,
        "speeds": len(swum.speeds),
        "shown": next(place for place, run in enumerate(swum.runs) if run is swum.shown),
        "tried": found.changes is not None,
    }


def motions(found: TowTest, stamp: str) -> list[str]:
    """The lure's motion at each speed, slowest first; each one JSON object."""
    swum = found.swimming
    return [recording(run, name=swum.design.name, stamp=stamp) for run in swum.runs]
