"""An outline that was traced, as the text of a design to start from, by itself or in place of a body form's own."""

import re
import tomllib
from collections.abc import Sequence
from importlib.resources import files
from typing import Any

import numpy as np

from gudgeon.answers.assembly import assemble
from gudgeon.answers.finding import Finding
from gudgeon.answers.outline_fit import DrawnOutline
from gudgeon.answers.saying import note, watch
from gudgeon.answers.starting import FORMS, Shop, starting_design
from gudgeon.design.edits import Value, edit
from gudgeon.design.file import parse
from gudgeon.errors import BadDesign, Fault, Refusal
from gudgeon.physics.outline import DrawnCurve
from gudgeon.units import INCH, OFFSET, STATION, Measure, read

USUAL_WIDTH = 0.7  # of the depth, where the width was not seen; common practice, no source: 0.5 to 0.85
STEP = {"mm": 1e-4, "in": 0.005 * INCH}
RULER = {"mm": 1e-3, "in": INCH / 16}
"""What sizes and stations are rounded to [m]."""

_AFTER_THE_FORM = "[water]"
_HEIGHTS = ("height", "heights", "pin_top", "pin_bottom")
_TABLES = ("hinge", "fitting", "hook", "pocket")
_LONE = ("lip",)

def traced_design(
    drawn: DrawnOutline, *, name: str, source: str, units: Shop = "mm", width: float | None = None, form: str = ""
) -> tuple[str, tuple[Finding, ...]]:
    """The text of a design with this outline, and what its maker must look at.

    name, source : of the lure, and where the outline comes from, as its first line says
    width   : [m] of the widest place, seen from above; a share of the depth when left out
    form    : the body form whose cuts, hardware and aim it takes, its heights fitted to this outline; "" for none
    raises  : BadDesign when there is no such form, or it cannot be so long
    """
    if not form:
        text = _plain(name, source, units)
        shape = [(0.0, 0.0), *_sides(drawn)]
        told = [] if width is not None else [note(
            "the picture does not show the width: {wide}, 70 % of the depth, was taken; measure yours and write it "
            "under side", wide=(USUAL_WIDTH * _depth(drawn), Measure.LENGTH))]  # fmt: skip
        wide = USUAL_WIDTH * _depth(drawn) if width is None else width
        text = _outlined(text, drawn, units, _scaled(shape, 0.5 * wide))
        return text, tuple(told)
    text = starting_design(form, drawn.length, units)
    text = re.sub(r"\A# .*\n", f"# {_one_line(source)}\n# Cuts, hardware and aim: {form}.\n", text)
    before = tomllib.loads(text)
    side = [_read(point) for point in before["outline"]["side"]]
    reach = drawn.length / side[-1][0]
    shape = [(station * reach, out) for station, out in side]
    own = _depth_of(before)
    half = max(out for _, out in side) * _depth(drawn) / own if width is None else 0.5 * width
    text = _outlined(text, drawn, units, _scaled(shape, half))
    text = edit(text, {"name": name, **_heights(before, drawn, units)})
    return text, _fitting(text, form)


def points_written(points: Sequence[tuple[float, float]], length: float, units: Shop) -> list[str]:
    """Points [m] as a design writes them, the last at its length."""
    return [f"{_length(length if place == len(points) - 1 else station, units)}: {_length(out, units)}"
            for place, (station, out) in enumerate(points)]  # fmt: skip


def _length(metres: float, units: Shop) -> str:
    if units == "in":
        return f"{round(metres / INCH, 4) + 0.0:g} in"
    return f"{round(1e3 * metres, 2) + 0.0:g} mm"


def _even_length(drawn: DrawnOutline, units: Shop) -> float:
    return round(drawn.length / STEP[units]) * STEP[units]


def _one_line(words: str) -> str:
    return " ".join(re.sub(r"[\x00-\x1f\x7f]", " ", words).split())[:100]


def _plain(name: str, source: str, units: Shop) -> str:
    """A design with nothing in it yet; its finish and water are those of any form."""
    text = (files("gudgeon.answers") / "forms" / "traced.toml").read_text(encoding="utf-8")
    aligned = [f"{value:<32}  {comment}" if tab else value
               for value, tab, comment in (line.partition("\t") for line in text.splitlines())]  # fmt: skip
    text = "\n".join(aligned).replace("<source>", _one_line(source)) + "\n\n"
    text = text.replace('name = "<name>"', "name = 'x'").replace("<length>", "1 mm")
    return edit(text + _AFTER_THE_FORM + starting_design("walker", None, units).partition(_AFTER_THE_FORM)[2],
                {"name": name})  # fmt: skip


def _outlined(text: str, drawn: DrawnOutline, units: Shop, side: Sequence[tuple[float, float]]) -> str:
    """A fresh text with its three curves, its length and its ends in place of those that stand there."""
    length = _even_length(drawn, units)
    curves = {"back": drawn.back, "belly": drawn.belly, "side": side}
    if not re.search(r"^belly = \[", text, flags=re.MULTILINE):
        text = re.sub(r"^side = \[", f"{'belly = [':<34}# depth below the centre line\n]\nside = [", text, count=1,
                      flags=re.MULTILINE)  # fmt: skip
    for curve, points in curves.items():
        lines = "".join(f'  "{point}",\n' for point in points_written(points, length, units))
        head = re.search(rf"^{curve} = \[[^\n]*\n", text, flags=re.MULTILINE)
        if head is not None:
            text = text[: head.end()] + lines + text[text.index("]", head.end()) :]
    text = text.replace("; the belly is the same mirrored", "")
    ends: dict[str, Value | None] = {"length": _length(length, units), "outline.nose": drawn.nose}
    if drawn.tail != "round" or "tail" in tomllib.loads(text)["outline"]:
        ends["outline.tail"] = drawn.tail
    return edit(text, ends)


def _sides(drawn: DrawnOutline) -> list[tuple[float, float]]:
    """The mean of back and belly at each station but the first: how a body seen from above tapers too."""
    return [(station, 0.5 * (up + down)) for (station, up), (_, down) in zip(drawn.back, drawn.belly, strict=True)][1:]


def _scaled(shape: Sequence[tuple[float, float]], half: float) -> list[tuple[float, float]]:
    """A curve made `half` [m] out at its widest."""
    most = max(out for _, out in shape)
    return [(station, round(out * half / most / 1e-4) * 1e-4) for station, out in shape]


def _depth(drawn: DrawnOutline) -> float:
    return max(up + down for (_, up), (_, down) in zip(drawn.back, drawn.belly, strict=True))


def _read(point: str) -> tuple[float, float]:
    station, _, out = point.partition(":")
    return read(station, STATION), read(out, OFFSET)


def _curve(points: Sequence[tuple[float, float]]) -> DrawnCurve:
    at = np.array(points)
    return DrawnCurve(at[:, 0], at[:, 1], float(at[-1, 0]))


def _curves(before: dict[str, Any]) -> tuple[DrawnCurve, DrawnCurve]:
    outline = before["outline"]
    back = [_read(point) for point in outline["back"]]
    return _curve(back), _curve([_read(point) for point in outline.get("belly", outline["back"])])


def _depth_of(before: dict[str, Any]) -> float:
    back, belly = _curves(before)
    stations = np.linspace(back.start, back.length, 201)
    return float((back(stations) + belly(stations)).max())


def _heights(before: dict[str, Any], drawn: DrawnOutline, units: Shop) -> dict[str, Value | None]:
    """Every height of the form's hardware, as near back or belly in the new outline as it was in the form's."""
    old, new = _curves(before), (_curve(drawn.back), _curve(drawn.belly))
    tables = [(f"{kind}.{place}", table) for kind in _TABLES
              for place, table in enumerate(before.get(kind, []), start=1)]  # fmt: skip
    tables += [(kind, before[kind]) for kind in _LONE if kind in before]
    changes: dict[str, Value | None] = {}
    for where, table in tables:
        at = before["joint"][table["joint"] - 1]["at"] if "joint" in table else table.get("at")
        share = min(1.0, read(at, STATION) / old[0].length)
        for key in _HEIGHTS:
            if key in table:
                given = table[key]
                many = given if isinstance(given, list) else [given]
                written = [_length(_moved(read(one, OFFSET), share, old, new), units) for one in many]
                changes[f"{where}.{key}"] = written if isinstance(given, list) else written[0]
    return changes


def _moved(height: float, share: float, old: Sequence[DrawnCurve], new: Sequence[DrawnCurve]) -> float:
    side = 0 if height > 0.0 else 1
    was, now = (float(curves[side](np.array([share * curves[side].length]))[0]) for curves in (old, new))
    return height * now / was if was > 1e-6 else 0.0


def _fitting(text: str, form: str) -> tuple[Finding, ...]:
    try:
        assemble(parse(text))
    except Refusal as refusal:
        first = "; ".join(str(fault) for fault in refusal.faults[:3]) or refusal.heading
        return (watch(f"what the {form} carries does not all fit into this outline: {first}. Move it on the drawing"),)
    return ()


def known_form(form: str) -> str:
    """A body form's name as it was given, or "" for none; raises BadDesign for one that there is not."""
    if form and form not in FORMS:
        raise BadDesign("there is nothing to start from", [Fault("form", f"no form is called '{form[:40]}'; there are "
                                                                         f"{', '.join(FORMS)}")])  # fmt: skip
    return form
