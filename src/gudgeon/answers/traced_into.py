"""An outline that was traced, put into a design that is there already: its own curves changed, all else as written."""

import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

from gudgeon.answers.finding import Finding
from gudgeon.answers.outline_fit import DrawnOutline
from gudgeon.answers.saying import watch
from gudgeon.answers.starting import Shop
from gudgeon.answers.traced_design import points_written
from gudgeon.design.edits import Value, edit
from gudgeon.design.items import with_item, with_list, without_item
from gudgeon.errors import BadDesign, Fault
from gudgeon.units import LENGTH, STATION, Measure, read

_SAME_LENGTH = 0.005  # of the length
_ALONG = ("side", "widest", "fullness")  # curves that go with the length when it changes


def put_outline(text: str, drawn: DrawnOutline, units: Shop) -> str:
    """A design's text with this outline from the side, and its length; widths keep their share of the length.

    raises : BadDesign when the text is no design with an outline
    """
    before = _read_design(text)
    old = read(str(before["length"]), LENGTH)
    back, belly = (points_written(curve, drawn.length, units) for curve in (drawn.back, drawn.belly))
    text = _with_points(text, "back", back)
    text = _with_points(text, "belly", belly)
    for name in _ALONG:
        written = before["outline"].get(name)
        if isinstance(written, list):
            text = edit(text, {f"outline.{name}": [_further(point, drawn.length / old, units) for point in written]})
    written = points_written([(drawn.length, 0.0)], drawn.length, units)[0].partition(":")[0]
    changes: dict[str, Value | None] = {"length": written, "outline.nose": drawn.nose, "outline.tail": drawn.tail}
    return edit(text, _unless_usual(changes, before["outline"]))


def put_side(text: str, drawn: DrawnOutline, units: Shop) -> str:
    """A design's text with this outline from above, made as long as the design.

    raises : BadDesign when the text is no design with an outline
    """
    before = _read_design(text)
    made = drawn.made(read(str(before["length"]), LENGTH))
    return _with_points(text, "side", points_written(made.back, made.length, units))


def told_of_length(text: str, drawn: DrawnOutline, *, above: bool) -> tuple[Finding, ...]:
    """What to mind where an outline is not as long as the design it is put into; raises BadDesign."""
    old = read(str(_read_design(text)["length"]), LENGTH)
    if abs(drawn.length / old - 1.0) < _SAME_LENGTH:
        return ()
    numbers = {"new": (drawn.length, Measure.LENGTH), "old": (old, Measure.LENGTH)}
    if above:
        return (watch("it is {new} long and the design {old}: the half-widths were drawn out to that", **numbers),)
    return (watch("the design was {old} long and is {new} now; cuts, hooks and bores stand where they stood: move "
                  "them, or make the outline as long as the design was", **numbers),)  # fmt: skip


def _read_design(text: str) -> dict[str, Any]:
    try:
        found = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, ValueError, RecursionError):
        found = {}
    outline = found.get("outline")
    if not isinstance(outline, dict) or not isinstance(outline.get("back"), list) or "length" not in found:
        raise BadDesign("the outline was not put in", [Fault("outline", "the design has no outline to put it into")])
    return found


def _unless_usual(changes: Mapping[str, Value | None], outline: Mapping[str, Any]) -> dict[str, Value | None]:
    """The changes without those that write an end as it is anyway."""
    return {place: value for place, value in changes.items()
            if value != "round" or place.rpartition(".")[2] in outline}  # fmt: skip


def _with_points(text: str, name: str, points: Sequence[str]) -> str:
    """A curve's points changed one by one, so that what is written beside the first of them stays."""
    place = f"outline.{name}"
    there = tomllib.loads(text)["outline"].get(name)
    if not isinstance(there, list) or not there:
        return with_list(text, place, points)
    for number in range(len(there), len(points), -1):
        text = without_item(text, f"{place}.{number}")
    for number in range(len(there) + 1, len(points) + 1):
        text = with_item(text, f"{place}.{number - 1}", points[0])
    return edit(text, {f"{place}.{number}": point for number, point in enumerate(points, start=1)})


def _further(point: object, by: float, units: Shop) -> str:
    """A point of another curve at the same share of the new length, its size as it is written."""
    station, _, out = str(point).partition(":")
    moved = by * read(station.strip(), STATION)
    return f"{points_written([(moved, 0.0)], moved, units)[0].split(':')[0]}: {out.strip()}"
