"""A lure in three dimensions as bytes: a head in JSON, then the triangles. Millimetres; x aft, y right, z up.

Four bytes with the head's length, the head, filled up with spaces to a multiple of four, then for each piece its
corners (n, 3) as 32-bit floats and its triangles (m, 3) as 32-bit whole numbers; everything little-endian.
"""

import json
import math
from typing import Any

import numpy as np

from gudgeon.answers.check import check
from gudgeon.answers.solid_parts import Ball, Ring, Sheet, SolidPart, Treble, cut_joints
from gudgeon.errors import Refusal
from gudgeon.report.solid_view import SolidView, rough_view, solid_view
from gudgeon.web.calls import Json, put_together, refused
from gudgeon.web.telling import Drawing, or_trouble


def solid_told(drawing: Drawing, *, whole: bool) -> bytes:
    """What is drawn.

    whole  : with bores, slots, parts and water; else the wood alone, cut by its joints, soon told
    raises : Refusal
    """
    design, lure = put_together(drawing.text, drawing.file)
    view = solid_view(check(design)) if whole else rough_view(lure, cut_joints(design, lure))
    return _packed(view, drawing.stamp)


def rough_told(drawing: Drawing) -> bytes | str:
    """The wood alone; a text that says why where it makes no solid."""
    def refusal(trouble: Json) -> str:
        return json.dumps({"kind": "no solid", "stamp": drawing.stamp, **trouble})

    def found() -> bytes | str:
        try:
            return solid_told(drawing, whole=False)
        except Refusal as error:
            return refusal({"refused": refused(error)})

    return or_trouble(found, refusal)


def _packed(view: SolidView, stamp: str) -> bytes:
    head = json.dumps(_head(view, stamp), allow_nan=False).encode("ascii")
    head += b" " * (-len(head) % 4)
    arrays = [array for mesh in view.pieces for array in
              ((1e3 * mesh.vertices).astype("<f4").tobytes(), mesh.faces.astype("<u4").tobytes())]  # fmt: skip
    return b"".join([len(head).to_bytes(4, "little"), head, *arrays])


def _head(view: SolidView, stamp: str) -> Json:
    level = view.level
    return {
        "stamp": stamp, "whole": view.parts is not None,
        "pieces": [{"name": mesh.name, "corners": len(mesh.vertices), "triangles": len(mesh.faces)}
                   for mesh in view.pieces],
        "folds": [{"pivot": 1e3 * fold.pivot, "swing": None if fold.swing is None else math.degrees(fold.swing)}
                  for fold in view.folds],
        "parts": [_part(part) for part in view.parts or ()],
        "water": None if level is None else {"height": 1e3 * level.height, "pitch": math.degrees(level.pitch)},
    }  # fmt: skip


def _part(part: SolidPart) -> Json:
    """A part: its name, kind, piece and what its shape needs."""
    return {"name": part.name, "kind": part.kind, "piece": part.piece, **_shape(part)}


def _shape(part: SolidPart) -> Json:
    shape = part.shape
    if isinstance(shape, Ring):
        return {"shape": "ring", "at": _millimetres(shape.centre), "normal": shape.normal, "radius": 1e3 * shape.radius,
                "wire": 1e3 * shape.wire}  # fmt: skip
    if isinstance(shape, Ball):
        return {"shape": "ball", "at": _millimetres(shape.centre), "radius": 1e3 * shape.radius}
    if isinstance(shape, Sheet):
        return {"shape": "sheet", "at": _millimetres(shape.corner), "along": shape.along, "across": shape.across,
                "outline": _millimetres(shape.outline), "thick": 1e3 * shape.thickness}  # fmt: skip
    if isinstance(shape, Treble):
        return {"shape": "treble", "at": _millimetres(shape.top), "length": 1e3 * shape.length,
                "gape": 1e3 * shape.gape, "wire": 1e3 * shape.wire}  # fmt: skip
    halves = _millimetres(shape.halves)
    if shape.radius > 0.0:
        return {"shape": "rod", "at": _millimetres(shape.centre), "along": shape.axes[0].tolist(),
                "half": halves[0], "radius": 1e3 * shape.radius}  # fmt: skip
    return {"shape": "box", "at": _millimetres(shape.centre), "halves": halves,
            "tilt": math.degrees(getattr(shape, "tilt", 0.0))}  # fmt: skip


def _millimetres(place: Any) -> list[Any]:
    """A place or an outline, to a thousandth."""
    found: list[Any] = (1e3 * np.asarray(place)).round(3).tolist()
    return found
