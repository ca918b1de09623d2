"""What the page asks with a picture in its hand, and the outline it sends back. Nothing that it brings is kept."""

import asyncio
import json
import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from gudgeon.answers.outline_fit import DrawnOutline
from gudgeon.answers.starting import Shop as Ruler
from gudgeon.answers.traced_design import known_form, traced_design
from gudgeon.design.file import parse
from gudgeon.errors import BadDesign, Fault
from gudgeon.web.requests import body_of, refusing
from gudgeon.web.shelf import Shelf
from gudgeon.web.trace_asked import TraceReader

_OUTLINE = 60_000  # bytes of an outline that is to begin a design
_MOST_POINTS = 60
_LEAST_DEEP = 1e-4  # m
_TOO_LARGE = "save the picture smaller"


def trace_routes(shelf: Shelf) -> list[Route]:
    """What the page asks with a picture in its hand."""

    async def trace(request: Request) -> Response:
        from gudgeon.answers.picture import LARGEST_PICTURE  # these load what works on pictures, when one comes
        from gudgeon.web.picture_told import traced_told

        content = await body_of(request, LARGEST_PICTURE, _TOO_LARGE)
        return JSONResponse(await asyncio.to_thread(traced_told, content, dict(request.query_params)))

    async def begin(request: Request) -> Response:
        asked = _object(await body_of(request, _OUTLINE))
        return JSONResponse({"file": await asyncio.to_thread(_begun, shelf, asked)})

    return [Route("/api/trace", refusing(trace), methods=["POST"]),
            Route("/api/trace/begin", refusing(begin), methods=["POST"])]  # fmt: skip


def outline_of(told: object) -> DrawnOutline:
    """The outline that a page sends back; raises BadDesign when it is none."""
    if not isinstance(told, Mapping):
        raise _no_outline("is none")
    length = _size(told.get("length"))
    back, belly = (_points(told.get(name), name) for name in ("back", "belly"))
    nose, tail = (told.get(name) for name in ("nose", "tail"))
    if length <= 0.0 or nose not in ("round", "pointed") or tail not in ("round", "pointed"):
        raise _no_outline("has no length, or no ends")
    stations = [station for station, _ in back]
    if stations != [station for station, _ in belly] or stations[0] != 0.0 or stations[-1] != length:
        raise _no_outline("has not the same stations for back and belly, from nose to tail")
    if any(one >= other for one, other in pairwise(stations)):
        raise _no_outline("has stations that are not in order")
    if max(up + down for (_, up), (_, down) in zip(back, belly, strict=True)) < _LEAST_DEEP:
        raise _no_outline("is nowhere deep")
    return DrawnOutline(length, back, belly, nose, tail, 0.0)


def _begun(shelf: Shelf, asked: Mapping[str, Any]) -> str:
    """The name of a new design with an outline."""
    words = {name: asked.get(name, "") for name in ("file", "form", "width", "units", "source")}
    if not all(isinstance(value, str) and len(value) <= 200 for value in words.values()):
        raise _no_outline("comes without words for its file, form and width")
    ruler: Ruler = "in" if words["units"] == "inch" else "mm"
    reader = TraceReader(words, ruler)
    width = reader.length("width") if words["width"].strip() else None
    reader.done()
    drawn, name = outline_of(asked.get("outline")), words["file"].strip().removesuffix(".toml")
    source = f"Outline traced from {words['source'].strip() or 'a picture'}."
    text, _ = traced_design(drawn, name=name or "traced", source=source, units=ruler, width=width,
                            form=known_form(words["form"]))  # fmt: skip
    parse(text, "the design")
    return shelf.begin(words["file"], text)


def _object(body: bytes) -> Mapping[str, Any]:
    try:
        found = json.loads(body)
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, dict):
        raise _no_outline("is none")
    return found


def _points(told: object, name: str) -> tuple[tuple[float, float], ...]:
    if not isinstance(told, Sequence) or isinstance(told, str) or not 2 <= len(told) <= _MOST_POINTS:
        raise _no_outline(f"has no points for the {name}")
    found = []
    for point in told:
        if not isinstance(point, Sequence) or len(point) != 2:
            raise _no_outline(f"has a point of the {name} that is none")
        found.append((_size(point[0]), _size(point[1])))
    return tuple(found)


def _size(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value) or abs(value) > 5.0:
        raise _no_outline("has a size that is no length in metres")
    return float(value)


def _no_outline(words: str) -> BadDesign:
    return BadDesign("the outline was not taken", [Fault("the outline", f"{words}; trace it again")])
