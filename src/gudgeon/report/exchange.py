"""The lure for other programs: STL, 3MF, DXF, SVG, STEP. What is in each, and at which size."""

import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import PurePath
from typing import Literal

import numpy as np

from gudgeon.answers.checked import Check
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.lip_and_fin import LipAndFin, lip_and_fin
from gudgeon.answers.papers import papers
from gudgeon.answers.wood_taken import wood_taken
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.shapes import Box, Rod
from gudgeon.physics.solid import Bore, Slot, segment_solids
from gudgeon.report.cuts import cuts_of, section_view
from gudgeon.report.drawing import side_view, top_view
from gudgeon.report.hidden_cuts import SIDE, TOP, cuts_in_section, hidden_cuts, wooden
from gudgeon.report.laying import plain
from gudgeon.report.mesh_files import Mesh, stl, three_mf
from gudgeon.report.rows import Measure, Shop
from gudgeon.report.step import step
from gudgeon.report.step_plan import step_plan
from gudgeon.report.strokes import Line, Stroke, path
from gudgeon.report.vector_files import View, dxf, svg

Kind = Literal["stl", "3mf", "dxf", "svg", "step"]
_ENDINGS: dict[str, Kind] = {
    ".stl": "stl", ".3mf": "3mf", ".dxf": "dxf", ".svg": "svg", ".step": "step", ".stp": "step",
}  # fmt: skip


@dataclass(frozen=True)
class Exported:
    """A file's bytes, and what is in it, in words."""

    content: bytes
    words: str


@dataclass(frozen=True, eq=False)
class Wood:
    """The wood at one size, for solids: the body, its joints, every bore and slot in it."""

    hull: Hull
    joints: tuple[tuple[float, JointShape], ...]
    bores: tuple[Bore, ...]
    slots: tuple[Slot, ...]
    size: str


def kind_of(out: str | os.PathLike[str]) -> Kind:
    """The kind of file a name asks for.

    raises : Refusal for an ending that is none of them
    """
    ending = PurePath(out).suffix.lower()
    if ending not in _ENDINGS:
        words = f"'{PurePath(out).name}' does not say what to write; end it in .stl, .3mf, .dxf, .svg or .step"
        raise Refusal("this file cannot be written", [Fault("--out", words)])
    return _ENDINGS[ending]


def exported(check: Check, kind: Kind, *, stamp: str, finished: bool, piece: str, shop: Shop) -> Exported:
    """A checked lure as one file's bytes.

    finished : solids with the coats on, instead of bare wood
    piece    : name of the one piece wanted; "" for all (solids only)
    raises   : Refusal for a size or piece that is not there, or an extra that is not installed
    """
    title = f"{check.design.name}, design {stamp}"
    if kind in ("svg", "dxf"):
        drawn = views(check, shop)
        content = svg(drawn, title) if kind == "svg" else dxf(drawn, title)
        return Exported(content, f"{len(drawn)} views at true size, bare wood and finished skin in layers of their own")
    chosen, wood = _chosen(check, piece), wood_of(check, finished=finished)
    pieces = "one piece" if len(chosen) == 1 else f"{len(chosen)} pieces"
    words = f"{pieces}, {wood.size}, every bore and slot cut, in mm, x aft, y right, z up"
    if kind == "step":
        names = [segment.name for segment in check.lure.segments]
        plan = step_plan(wood.hull, wood.joints, wood.bores, wood.slots, names)
        return Exported(step([plan[place] for place in chosen], title), words)
    solids = segment_solids(wood.hull, wood.joints, wood.bores, wood.slots, stations=161, points=96)
    meshes = [Mesh(check.lure.segments[place].name, *solids[place].triangles()) for place in chosen]
    return Exported(stl(meshes, title) if kind == "stl" else three_mf(meshes, title, words), words)


def _chosen(check: Check, piece: str) -> tuple[int, ...]:
    names = [segment.name for segment in check.lure.segments]
    if not piece:
        return tuple(range(len(names)))
    if piece not in names:
        raise Refusal("there is no such piece", [Fault("--piece", f"'{piece}': the pieces are {', '.join(names)}")])
    return (names.index(piece),)


def wood_of(check: Check, *, finished: bool) -> Wood:
    """The wood as cut, or the finished lure.

    raises : Refusal when the drawing is of bare wood and the finished lure is asked for
    """
    lure, design = check.lure, check.design
    if finished and lure.build > lure.shown:
        words = "the design draws bare wood, so there is no finished skin to write; leave --finished out"
        raise Refusal("this file cannot be written", [Fault("--finished", words)])
    hull, build = (lure.hull, 0.0) if finished else (lure.bare_hull, lure.build)
    joints = tuple((joint.at, joint_shape(drawn, lure.hull).bared(build))
                   for joint, drawn in zip(lure.joints, design.joints, strict=True))  # fmt: skip
    size, taken = "finished size" if finished else "bare wood", wood_taken(papers(check))
    bores = tuple(one.bore(hull.length) for one in taken if isinstance(one.shape, Rod))
    slots = tuple(one.slot(hull.length) for one in taken if isinstance(one.shape, Box))
    return Wood(hull, joints, bores, slots, size)


def views(check: Check, shop: Shop) -> tuple[View, ...]:
    """Side, top, sections, and the plates laid flat."""
    sheets = papers(check)
    cuts, wood = cuts_of(sheets), wooden(sheets)
    name = check.design.name
    found = [View("side", f"{name}: side", (*side_view(sheets, cuts, shop).strokes, *hidden_cuts(wood, SIDE))),
             View("top", "top", (*top_view(sheets, shop).strokes, *hidden_cuts(wood, TOP)))]  # fmt: skip
    for cut in cuts:
        words = f"{cut.letter}-{cut.letter}, {plain(cut.station, Measure.CUT, shop)} from the nose: {cut.words}"
        strokes = (*section_view(sheets, cut).strokes, *cuts_in_section(wood, cut.station))
        found.append(View(f"section-{cut.letter}", words, strokes))
    return (*found, *_plates(lip_and_fin(check.design, check.lure)))


def _plates(plates: LipAndFin) -> Sequence[View]:
    """Templates of lip and fin, and the line to which each goes into the wood."""
    found = []
    if plates.lip is not None:
        outline = 1e3 * plates.lip.template.outline
        out = 1e3 * (float(plates.lip.template.outline[:, 0].max()) - plates.lip.shows)
        half = float(outline[:, 1].max())
        found.append(View("lip", "lip, flat", (path(Line.VISIBLE, outline, closed=True),
                                               path(Line.THIN, [(out, -half), (out, half)]))))  # fmt: skip
    if plates.fin is not None:
        fin, tang = plates.fin.template, plates.fin.tang
        strokes: list[Stroke] = [path(Line.VISIBLE, 1e3 * _joined(fin.outline, tang.outline if tang else None),
                                      closed=True)]  # fmt: skip
        if tang is not None:
            half = 1e3 * float(tang.outline[:, 1].max())
            strokes.append(path(Line.THIN, [(0.0, -half), (0.0, half)]))
        found.append(View("fin", "fin, flat", tuple(strokes)))
    return found


def _joined(fin: np.ndarray, tang: np.ndarray | None) -> np.ndarray:
    """A fin with its tang as one outline: both run anticlockwise and meet along the body's end, x = 0."""
    if tang is None:
        return fin
    root = fin[np.isclose(fin[:, 0], 0.0)]
    free = [corner for corner in fin if not np.isclose(corner[0], 0.0)]
    low, high = root[np.argmin(root[:, 1])], root[np.argmax(root[:, 1])]
    ends = tang[np.argsort(tang[:, 1])]
    foot, head = ends[:2], ends[2:]
    order = [foot[np.argmin(foot[:, 0])], foot[np.argmax(foot[:, 0])], low, *free, high,
             head[np.argmax(head[:, 0])], head[np.argmin(head[:, 0])]]  # fmt: skip
    return np.array(order)
