"""Views as files at true size: SVG, and DXF. Millimetres; every kind of line in its own layer."""

import importlib
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from types import ModuleType
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from gudgeon.errors import Fault, Refusal
from gudgeon.report.strokes import Array, Box, Line, Point, Stroke

_BETWEEN = 15.0  # mm between views, and round them all
_TITLE = 4.0  # mm high
_LEFT_OUT = (Line.HATCH,)  # nobody cuts to it
LAYERS = {
    Line.VISIBLE: "bare-wood", Line.FINISHED: "finished-skin", Line.HIDDEN: "hidden",
    Line.HOLES: "holes-and-slots", Line.CENTRE: "centre-lines",
    Line.CUTTING: "cutting-planes", Line.THIN: "marks", Line.PHANTOM: "neighbouring-parts", Line.HATCH: "hatching",
}  # fmt: skip
"""What each kind of line's layer is called, in both files."""


@dataclass(frozen=True, eq=False)
class View:
    """One view: its name, what is written under it, its lines [mm]."""

    name: str
    words: str
    strokes: tuple[Stroke, ...]

    @property
    def kept(self) -> tuple[Stroke, ...]:
        """The lines that are written."""
        return tuple(stroke for stroke in self.strokes if stroke.line not in _LEFT_OUT)

    @property
    def box(self) -> Box:
        """What they cover [mm]: left, bottom, right, top."""
        points = np.concatenate([stroke.points for stroke in self.kept])
        (left, bottom), (right, top) = points.min(axis=0), points.max(axis=0)
        return float(left), float(bottom), float(right), float(top)


@dataclass(frozen=True, eq=False)
class Placed:
    """A view on the sheet: how far it is moved [mm], y up from the sheet's lower left corner."""

    view: View
    shift: Point


def placed(views: Sequence[View]) -> tuple[tuple[Placed, ...], Point]:
    """Views on one sheet: the two long ones under each other with their noses in line, then the others in a row.

    returns : the views, and the sheet's width and height [mm]
    """
    long, small = list(views[:2]), list(views[2:])
    left = min(view.box[0] for view in long)
    found, foot, right = [], 0.0, 0.0
    for view in long:
        foot -= _BETWEEN + view.box[3] - view.box[1]
        found.append(Placed(view, (_BETWEEN - left, foot - view.box[1])))
        right = max(right, view.box[2] - left + _BETWEEN)
        foot -= _TITLE
    at, row_foot = _BETWEEN, foot
    for view in small:
        width, height = view.box[2] - view.box[0], view.box[3] - view.box[1]
        if at > _BETWEEN and at + width > right:
            at, foot = _BETWEEN, row_foot
        found.append(Placed(view, (at - view.box[0], foot - _BETWEEN - height - view.box[1])))
        row_foot = min(row_foot, foot - _BETWEEN - height - _TITLE)
        at += width + _BETWEEN
        right = max(right, at - _BETWEEN)
    height = -row_foot + _BETWEEN
    up = [Placed(one.view, (one.shift[0], one.shift[1] + height)) for one in found]
    return tuple(up), (right + _BETWEEN, height)


def round_of(stroke: Stroke) -> tuple[Point, float] | None:
    """Middle and radius [mm] of a line that is a ring; None for any other."""
    if not stroke.closed or len(stroke.points) < 24:
        return None
    middle = stroke.points.mean(axis=0)
    radii = np.hypot(*(stroke.points - middle).T)
    if np.ptp(radii) > 1e-6:
        return None
    return (float(middle[0]), float(middle[1])), float(radii.mean())


def svg(views: Sequence[View], title: str) -> bytes:
    """The views as SVG: one unit is a millimetre, and the sheet is as large as it says.

    A group for each view, named by it, and in it one for each kind of line, named by view and layer.
    """
    places, (width, height) = placed(views)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.3f}mm" height="{height:.3f}mm" '
        f'viewBox="0 0 {width:.3f} {height:.3f}">',
        f"<title>{escape(title)}</title>",
    ]
    for place in places:
        lines += _svg_view(place, height)
    return "\n".join([*lines, "</svg>", ""]).encode()


def _svg_view(place: Placed, height: float) -> Iterator[str]:
    view, name = place.view, place.view.name
    yield f"<g id={quoteattr(name)}>"
    for line, layer in LAYERS.items():
        strokes = [stroke for stroke in view.kept if stroke.line is line]
        if not strokes:
            continue
        dashes = f' stroke-dasharray="{" ".join(f"{part:g}" for part in line.dashes)}"' if line.dashes else ""
        yield (f"<g id={quoteattr(f'{name}-{layer}')} class={quoteattr(layer)} fill=\"none\" stroke=\"black\" "
               f'stroke-width="{line.width:g}"{dashes}>')  # fmt: skip
        yield from (_svg_line(stroke, place.shift, height) for stroke in strokes)
        yield "</g>"
    left, bottom = view.box[0] + place.shift[0], view.box[1] + place.shift[1]
    yield (f'<text x="{left:.3f}" y="{height - bottom + _TITLE + 1.0:.3f}" font-family="sans-serif" '
           f'font-size="{_TITLE:g}">{escape(view.words)}</text>')  # fmt: skip
    yield "</g>"


def _svg_line(stroke: Stroke, shift: Point, height: float) -> str:
    ring = round_of(stroke)
    if ring is not None:
        (x, y), radius = ring
        return f'<circle cx="{x + shift[0]:.4f}" cy="{height - y - shift[1]:.4f}" r="{radius:.4f}"/>'
    points = " ".join(f"{x + shift[0]:.4f},{height - y - shift[1]:.4f}" for x, y in stroke.points)
    return f'<{"polygon" if stroke.closed else "polyline"} points="{points}"/>'


def dxf(views: Sequence[View], title: str) -> bytes:
    """The views as DXF, in millimetres and said to be: polylines and circles, a layer for each kind of line.

    raises : Refusal when the writer is not installed
    """
    ezdxf = _extra("ezdxf")
    document = ezdxf.new("R2010")
    document.units = 4  # millimetres
    document.header["$MEASUREMENT"] = 1  # metric
    document.header.custom_vars.append("Title", title)
    for line, layer in LAYERS.items():
        if line.dashes:
            document.linetypes.add(layer, [sum(line.dashes), *_dxf_dashes(line.dashes)], description=line.value)
        document.layers.add(layer, linetype=layer if line.dashes else "CONTINUOUS", lineweight=_weight(line.width))
    document.layers.add("words")
    space = document.modelspace()
    for place in placed(views)[0]:
        for stroke in place.view.kept:
            _dxf_line(space, stroke, place.shift)
        box, (x, y) = place.view.box, place.shift
        at = (box[0] + x, box[1] + y - _TITLE - 1.0)
        space.add_text(place.view.words, height=_TITLE, dxfattribs={"layer": "words", "insert": at})
    written = io.StringIO()
    document.write(written)
    return written.getvalue().encode(document.output_encoding)


def _dxf_dashes(dashes: Sequence[float]) -> list[float]:
    return [part if place % 2 == 0 else -part for place, part in enumerate(dashes)]


def _weight(width: float) -> int:
    """A width [mm] as the nearest the format knows, in hundredths."""
    known = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70)
    return min(known, key=lambda one: abs(one - 100.0 * width))


def _dxf_line(space: object, stroke: Stroke, shift: Point) -> None:
    attributes = {"layer": LAYERS[stroke.line]}
    ring, moved = round_of(stroke), stroke.points + np.array(shift)
    if ring is not None:
        middle = (ring[0][0] + shift[0], ring[0][1] + shift[1])
        space.add_circle(middle, ring[1], dxfattribs=attributes)  # type: ignore[attr-defined]
    else:
        space.add_lwpolyline(_plain(moved), close=stroke.closed, dxfattribs=attributes)  # type: ignore[attr-defined]


def _plain(points: Array) -> list[Point]:
    return [(float(x), float(y)) for x, y in points]


def _extra(name: str) -> ModuleType:
    try:
        return importlib.import_module(name)
    except ImportError:
        words = 'DXF needs one more package: pip install "gudgeon[dxf]"; SVG at true size needs none'
        raise Refusal("this file cannot be written yet", [Fault("--out", words)]) from None
