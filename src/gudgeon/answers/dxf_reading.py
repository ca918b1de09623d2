"""The lines of a DXF drawing at true size, through ezdxf, which is not part of gudgeon's base install."""

import importlib
import io
from collections.abc import Iterator
from itertools import islice
from types import ModuleType
from typing import Any

import numpy as np

from gudgeon.answers.drawn_lines import FLAT_WITHIN, LARGEST_DRAWING, MOST_POINTS, DrawnLine, no_drawing
from gudgeon.errors import Fault, Refusal
from gudgeon.units import FOOT, INCH

MOST_PARTS = 20_000  # blocks taken apart
_UNITS = {1: INCH, 2: FOOT, 4: 1e-3, 5: 1e-2, 6: 1.0, 14: 0.1}  # $INSUNITS; those a maker may draw in
_LINES = {"LINE", "LWPOLYLINE", "POLYLINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE"}
_BINARY = b"AutoCAD Binary DXF"


def dxf_lines(content: bytes) -> tuple[tuple[DrawnLine, ...], bool]:
    """What a DXF file draws, and whether it says in which unit; in millimetres or inches by its $MEASUREMENT where not.

    raises : Refusal when it is none, is damaged, holds too much, or its reader is not installed
    """
    if len(content) > LARGEST_DRAWING:
        raise no_drawing(f"it is larger than {LARGEST_DRAWING // 1_000_000} MB; save the outline alone")
    if content.startswith(_BINARY):
        raise no_drawing("it is a binary DXF; save it as DXF in text")
    ezdxf = _extra("ezdxf")
    try:
        document = ezdxf.read(io.StringIO(_text(content)))
        unit = _UNITS.get(document.units)
        metres = unit or (1e-3 if document.header.get("$MEASUREMENT", 1) else INCH)
        lines = list(_lines(document, metres))
    except Refusal:
        raise
    except Exception as error:  # whatever a damaged file makes its reader throw
        why = (str(error).splitlines() or [type(error).__name__])[0]
        raise no_drawing(f"it is no DXF, or a damaged one ({why[:80]})") from None
    return tuple(lines), unit is not None


def _text(content: bytes) -> str:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", "replace")
    if "SECTION" not in text[:100_000]:
        raise no_drawing("it is no DXF in text")
    return text


def _lines(document: Any, metres: float) -> Iterator[DrawnLine]:
    paths, apart = _extra("ezdxf.path"), _extra("ezdxf.disassemble")
    held, seen = 0, 0
    for part in islice(apart.recursive_decompose(document.modelspace()), MOST_PARTS + 1):
        seen += 1
        if seen > MOST_PARTS:
            raise no_drawing("it holds too many parts; save the outline alone")
        if part.dxftype() not in _LINES:
            continue
        path = paths.make_path(part)
        points = np.array([(spot.x, spot.y) for spot in islice(path.flattening(FLAT_WITHIN / metres), MOST_POINTS + 1)])
        held += len(points)
        if held > MOST_POINTS:
            raise no_drawing("it holds too many points; save the outline alone")
        if len(points) < 2 or not np.isfinite(points).all() or np.abs(points).max() * metres > 100.0:
            continue
        closed = bool(path.is_closed) and len(points) > 3
        layer = str(part.dxf.layer)[:60]
        yield DrawnLine(("", layer), metres * (points[:-1] if closed else points), closed)


def _extra(name: str) -> ModuleType:
    try:
        return importlib.import_module(name)
    except ImportError:
        words = 'DXF needs one more package: pip install "gudgeon[dxf]"; SVG needs none'
        raise Refusal("this drawing cannot be read yet", [Fault("the drawing", words)]) from None
