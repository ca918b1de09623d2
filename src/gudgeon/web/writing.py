"""What the hand does on the page, written into the design's text in the units the maker uses there.

An act is one object of the page: {"act": "point", "curve": "back", "place": 3, "station": 0.046, "out": 0.0174}. Sizes
are in metres; places are counted from 1.
"""

import math
import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from gudgeon.answers.traced_into import put_outline, put_side
from gudgeon.design.edits import Value, edit
from gudgeon.design.file import LARGEST, toml_of
from gudgeon.design.items import with_item, with_list, without_item
from gudgeon.errors import BadDesign, Fault
from gudgeon.units import INCH, OFFSET, inch_fraction, read
from gudgeon.web.fields import BARE, written_value
from gudgeon.web.putting import put_in, take_out
from gudgeon.web.traced import outline_of

MOST_ACTS = 60  # in one stroke
CURVES = ("back", "belly", "side", "widest")
TABLES = ("joint", "hinge", "fitting", "hook", "pocket")
LONE = ("lip", "fin")
_PLACE = re.compile(r"[a-z_]+(\.([1-9]\d{0,3}|[a-z_]+)){0,4}")
_INCHES = re.compile(r'(?:in|inch|inches|"|″)\s*$')
_ON_RULER = 2e-6  # m; a length this near to a sixty-fourth of an inch is one

Act = Mapping[str, Any]


def drawn(text: str, acts: Sequence[Any], inch: bool) -> str:
    """The text with every act of a stroke done, in order.

    inch   : whether a length with nothing beside it to go by is written in inches
    raises : BadDesign when an act is none, or cannot be done
    """
    if not isinstance(acts, list) or not 0 < len(acts) <= MOST_ACTS:
        raise no_stroke(f"a stroke has 1 to {MOST_ACTS} acts")
    for act in acts:
        do = _ACTS.get(str(act.get("act"))) if isinstance(act, Mapping) else None
        if do is None:
            raise no_stroke("it is not known here what was drawn")
        text = do(text, act, inch)
    return text


def no_stroke(words: str) -> BadDesign:
    """The refusal of what is no stroke."""
    return BadDesign("this stroke was not kept", [Fault("the stroke", words)])


def size(act: Act, key: str) -> float:
    """A length [m] out of an act; raises BadDesign when it is none."""
    value = act.get(key)
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value) or abs(value) > 5.0:
        raise no_stroke(f"{key} is no length in metres")
    return float(value)


def written_size(act: Act, key: str, inch: bool) -> float:
    """A length [m] out of an act, as a number of metres, or as typed: "70 mm", "2 3/4 in", "70" in the shop's unit.

    raises : BadDesign, BadQuantity
    """
    words = act.get(key)
    if not isinstance(words, str):
        return size(act, key)
    return read(f"{words} {'in' if inch else 'mm'}" if BARE.fullmatch(words.strip()) else words, OFFSET)


def word(act: Act, key: str, known: Sequence[str] = ()) -> str:
    """A word out of an act; raises BadDesign when it is none of those known."""
    value = act.get(key)
    if not isinstance(value, str) or (known and value not in known):
        raise no_stroke(f"{key} is none of {', '.join(known)}" if known else f"{key} is no word")
    return value


def place(act: Act) -> int:
    """A place in a list, counted from 1, out of an act; raises BadDesign when it is none."""
    value = act.get("place")
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= 1000:
        raise no_stroke("place is no number from 1")
    return value


def length(metres: float, like: str, inch: bool) -> str:
    """A length as the maker would write it.

    like : what stood there, whose unit is kept; "" for nothing
    """
    if _INCHES.search(like) or (inch and not like):
        if abs(metres - round(metres / INCH * 64) * INCH / 64) < _ON_RULER:
            return f"{inch_fraction(metres)} in"
        return f"{round(metres / INCH, 4) + 0.0:g} in"
    return f"{round(1e3 * metres, 2) + 0.0:g} mm"


def _point(station: float, out: float, like: str, inch: bool) -> str:
    at, _, far = like.partition(":")
    return f"{length(station, at.strip(), inch)}: {length(out, far.strip(), inch)}"


def _curve(text: str, name: str) -> list[str]:
    """The points of a curve as they are written."""
    found = toml_of(text).get("outline", {}).get(name)
    if not isinstance(found, list) or not all(isinstance(point, str) for point in found):
        raise no_stroke(f"the file has no points for the {name}")
    return found


def _move_point(text: str, act: Act, inch: bool) -> str:
    name, number = word(act, "curve", CURVES), place(act)
    points = _curve(text, name)
    if number > len(points):
        raise no_stroke(f"the {name} has {len(points)} points")
    station, out = (written_size(act, key, inch) for key in ("station", "out"))
    written = _point(station, out, points[number - 1], inch)
    return edit(text, {f"outline.{name}.{number}": written})


def _add_point(text: str, act: Act, inch: bool) -> str:
    name, number = word(act, "curve", CURVES), place(act)
    points = _curve(text, name)
    if not 2 <= number <= len(points):
        raise no_stroke("a point goes between two others")
    like = points[number - 1]
    return with_item(text, f"outline.{name}.{number}", _point(size(act, "station"), size(act, "out"), like, inch))


def _drop_point(text: str, act: Act, inch: bool) -> str:
    del inch
    name, number = word(act, "curve", CURVES), place(act)
    if not 1 < number < len(_curve(text, name)):
        raise no_stroke("the first and the last point stay; they hold the ends of the body")
    return without_item(text, f"outline.{name}.{number}")


def _end(text: str, act: Act, inch: bool) -> str:
    """The body made longer or shorter: its length, the last point of every curve, and a fin that stands on its end."""
    at, here = written_size(act, "at", inch), tomllib.loads(text)
    changes: dict[str, Value | None] = {"length": length(at, str(here.get("length", "")), inch)}
    for name in ("back", "belly", "side"):
        if name in here.get("outline", {}):
            points = _curve(text, name)
            _, _, out = points[-1].partition(":")
            station = length(at, points[-1].partition(":")[0].strip(), inch)
            changes[f"outline.{name}.{len(points)}"] = f"{station}: {out.strip()}"
    fin = here.get("fin")
    if isinstance(fin, dict) and fin.get("at") == here.get("length"):
        changes["fin.at"] = length(at, str(fin["at"]), inch)
    return edit(text, changes)


def _mirror(text: str, act: Act, inch: bool) -> str:
    """The belly the back mirrored, by leaving it out; or drawn by itself, from where it is."""
    del inch
    has_own = "belly" in tomllib.loads(text).get("outline", {})
    if act.get("on") is True:
        return edit(text, {"outline.belly": None}) if has_own else text
    return text if has_own else with_list(text, "outline.belly", _curve(text, "back"))


def _move(text: str, act: Act, inch: bool) -> str:
    """A part moved: those of at, height and offset that the act gives."""
    table = word(act, "table", (*TABLES, *LONE))
    here = tomllib.loads(text).get(table)
    if table in TABLES:
        number = place(act)
        here = here[number - 1] if isinstance(here, list) and number <= len(here) else None
        table = f"{table}.{number}"
    if not isinstance(here, dict):
        raise no_stroke(f"the file has no {table}")
    changes: dict[str, Value | None] = {}
    for key in ("at", "height", "offset"):
        if key in act:
            like = here.get(key, here.get("at", ""))
            changes[f"{table}.{key}"] = length(size(act, key), like if isinstance(like, str) else "", inch)
    return edit(text, changes)


def _write(text: str, act: Act, inch: bool) -> str:
    where, words = word(act, "where"), word(act, "words").strip()
    if not _PLACE.fullmatch(where) or len(words) > 300:
        raise no_stroke("this place cannot be written")
    value = written_value(tomllib.loads(text), where, words, inch)
    return edit(text, {where: value})


def _whole(text: str, act: Act, inch: bool) -> str:
    del text, inch
    words = word(act, "text")
    if len(words) > LARGEST:
        raise no_stroke("the text is longer than 1 MB; a design is a short text")
    return words


def _outline(text: str, act: Act, inch: bool) -> str:
    """An outline from the side that was traced, in place of the design's own."""
    return put_outline(text, outline_of(act.get("outline")), "in" if inch else "mm")


def _half_widths(text: str, act: Act, inch: bool) -> str:
    """An outline from above that was traced, made as long as the design."""
    return put_side(text, outline_of(act.get("outline")), "in" if inch else "mm")


_ACTS: Mapping[str, Callable[[str, Act, bool], str]] = {
    "point": _move_point, "add point": _add_point, "drop point": _drop_point, "end": _end,
    "mirror": _mirror, "move": _move,
    "write": _write, "text": _whole, "outline": _outline, "half-widths": _half_widths,
    "put in": lambda text, act, inch: put_in(text, word(act, "table", TABLES), length(size(act, "at"), "", inch)),
    "take out": lambda text, act, _: take_out(text, word(act, "table", TABLES), place(act)),
}  # fmt: skip
