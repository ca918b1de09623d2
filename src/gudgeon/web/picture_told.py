"""An outline traced for the page from a picture or drawing that it brings. It loads what works on pictures."""

import threading

from gudgeon.answers.outline_fit import DrawnOutline
from gudgeon.answers.picture import picture_of
from gudgeon.answers.starting import Shop as Ruler
from gudgeon.answers.traced_design import RULER, STEP
from gudgeon.answers.traced_drawing import Wanted, is_drawing, traced_drawing
from gudgeon.answers.tracing import KnownLength, Marks, Traced, traced
from gudgeon.report.laying import Laid
from gudgeon.report.rows import Shop
from gudgeon.report.trace_rows import trace_laid
from gudgeon.web.calls import Json
from gudgeon.web.trace_asked import Asked, TraceReader

_ONE_AT_A_TIME = threading.Lock()  # so that several windows do not fill the memory with pictures
_SHOWN = 2000  # points of a line, enough for a screen


def traced_told(content: bytes, asked: Asked) -> Json:
    """An outline for the page: its line over the picture, rows and findings, the points that go into a design.

    raises : Refusal with every fault of what was asked
    """
    shop = Shop.INCH if asked.get("units") == "inch" else Shop.METRIC
    above = asked.get("above") == "yes"
    with _ONE_AT_A_TIME:
        answer, is_drawn = _answer(content, asked, "in" if shop is Shop.INCH else "mm", above=above)
    unit = 1e3 if is_drawn else 1.0
    laid = trace_laid(answer, shop, from_above=above)
    return {"drawing": is_drawn, "line": (answer.line[:: _thin(len(answer.line))] * unit).round(2).ravel().tolist(),
            "outline": _outline_told(answer.drawn), **_laid_told(laid)}  # fmt: skip


def _thin(count: int) -> int:
    return max(1, count // _SHOWN)


def _outline_told(drawn: DrawnOutline) -> Json:
    return {"length": drawn.length, "back": drawn.back, "belly": drawn.belly, "nose": drawn.nose, "tail": drawn.tail}


def _laid_told(laid: Laid) -> Json:
    return {
        "headline": laid.headline,
        "findings": [{"gravity": one.gravity, "words": one.words} for one in laid.warnings],
        "rows": [{**line.as_json(), "shown": line.shown, "standing": line.standing} for line in laid.rows],
    }


def _answer(content: bytes, asked: Asked, ruler: Ruler, *, above: bool) -> tuple[Traced, bool]:
    reader = TraceReader(asked, "in" if ruler == "in" else "mm")
    step, marked = {"step": STEP[ruler], "ruler": RULER[ruler]}, asked.get("belly_up") == "yes"
    long = reader.length("length") if asked.get("length", "").strip() else None
    if is_drawing(content):
        reader.done()
        wanted = Wanted(asked.get("line", "").strip(), asked.get("nose_right") == "yes", marked, above)
        return traced_drawing(content, wanted, long=long, **step), True
    scale = KnownLength(reader.reading("known"), reader.spot("from"), reader.spot("to"))
    ends = reader.spot("nose"), reader.spot("tail")
    across = None
    if asked.get("across", "").strip():
        across = KnownLength(reader.reading("across"), reader.spot("across_from"), reader.spot("across_to"))
    reader.done()
    return traced(picture_of(content), Marks(scale, *ends, across, marked), long=long, from_above=above, **step), False


