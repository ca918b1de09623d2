"""What the page is told, as JSON: the same rows as the terminal, and the drawing as lines in millimetres."""

import threading
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any

from gudgeon.answers.assembly import assemble
from gudgeon.answers.bill import bill
from gudgeon.answers.check import checked_further, weighed
from gudgeon.answers.checked import Weighed
from gudgeon.answers.finding import Finding
from gudgeon.answers.overall import Looked, looked_further
from gudgeon.answers.papers import Papers, papers
from gudgeon.answers.starting import forms
from gudgeon.design.file import toml_of
from gudgeon.design.keys import keys
from gudgeon.design.model import Design
from gudgeon.errors import Refusal
from gudgeon.report.bill_rows import bill_headline, bill_rows
from gudgeon.report.check_rows import check_sections, first_rows, headline
from gudgeon.report.hardware_rows import hardware_headline, hardware_sections
from gudgeon.report.joint_rows import joint_headline, joint_rows
from gudgeon.report.page_rows import bits_rows, stage_rows, tasks, water_headline
from gudgeon.report.rows import Row, Section, Shop
from gudgeon.report.scene import Lure, Scene, millimetres, outlines, places, scene, water_line
from gudgeon.report.sentences import SIGNS, said
from gudgeon.report.strength_rows import strength_headline, strength_sections
from gudgeon.report.strokes import Stroke
from gudgeon.web.desk import State, read_design
from gudgeon.web.handles import curves, handles

Json = dict[str, Any]
_LEDGER = ("Ballast", "In whole shot", "Each piece alone")
_DRAWN = ("As drawn",)
_making, _weighing = threading.Lock(), threading.Lock()


def vocabulary() -> Json:
    """Every key of a design with what it takes, and the body forms there are; the same for every design."""
    return {
        "keys": {table: [{"name": key.name, "takes": key.takes, "kind": key.kind, "units": key.units,
                          "choices": key.choices, "needed": key.needed} for key in found.values()]
                 for table, found in keys().items()},
        "forms": [{"name": form.name, "words": form.words, "length": form.length} for form in forms()],
    }  # fmt: skip


def state_told(state: State, name: str) -> Json:
    """Where a design stands: its stamp, the way back, whether the file holds it."""
    return {"file": name, "stamp": state.stamp, "version": state.number, "undo": state.undo, "redo": state.redo,
            "steps": state.steps, "saved": state.is_saved, "fileChanged": state.file_changed}  # fmt: skip


def refused(refusal: Refusal) -> Json:
    """A refusal: its heading, and every fault with its line."""
    faults = [{"place": fault.place, "words": fault.words, "line": fault.line} for fault in refusal.faults]
    return {"heading": refusal.heading, "faults": faults}


def put_together(text: str, name: str) -> tuple[Design, Lure]:
    """The design and the lure of a text, as drawn; who asks for one being made waits for it; raises Refusal."""
    with _making:
        return _put_together(text, name)


@lru_cache(maxsize=4)
def _put_together(text: str, name: str) -> tuple[Design, Lure]:
    design = read_design(text, name)
    return design, assemble(design)


def weigh(text: str, name: str) -> Weighed:
    """The weights of a text, as it floats; who asks for what is being weighed waits for it; raises Refusal."""
    with _weighing:
        return _weighed(text, name)


@lru_cache(maxsize=2)
def _weighed(text: str, name: str) -> Weighed:
    return weighed(*put_together(text, name))


def shape_told(text: str, name: str) -> Json:
    """What is known of a text at once: what is written, and where it can be put together its outlines and handles."""
    told: Json = {"written": _written(text), "text": text}
    try:
        design, lure = put_together(text, name)
    except Refusal as refusal:
        return told | {"refused": refused(refusal)}
    side, top = outlines(lure)
    return told | {
        "curves": curves(design), "handles": handles(design, places(lure)), "length": 1e3 * design.length,
        "side": _strokes(side), "top": _strokes(top),
    }  # fmt: skip


def weights_told(text: str, name: str, shops: Iterable[Shop]) -> dict[Shop, Json]:
    """What is known next: weights, float line and ballast, in the units of several windows; nothing of a refused text.

    The figures are those of the answer that follows, under the same names.
    """
    try:
        first = weigh(text, name)
    except Refusal:
        return {}
    water, is_afloat = water_line(first)
    drawn = {"water": _points(water), "afloat": is_afloat, "weight": millimetres(first.lying.weight_centre),
             "buoyancy": millimetres(first.lying.buoyancy_centre)}  # fmt: skip
    told = {}
    for shop in shops:
        rows = [_row(line) for line in first_rows(first, shop)]
        headlines = {"drawing": headline(first, shop), "water": water_headline(first, shop)}
        told[shop] = {"headlines": headlines, "rows": rows, "scene": drawn}
    return told


def answer_told(text: str, name: str, shop: Shop) -> Json:
    """Every answer for a text, by the places of the page; a refusal where there is none."""
    return _told(_looked(text, name), shop)


def answers_told(text: str, name: str, shops: Iterable[Shop]) -> dict[Shop, Json]:
    """The same in the units of several windows, worked out once."""
    looked = _looked(text, name)
    return {shop: _told(looked, shop) for shop in shops}


def _looked(text: str, name: str) -> tuple[Design, Looked] | Refusal:
    try:
        design, _ = put_together(text, name)
        return design, looked_further(checked_further(weigh(text, name)))
    except Refusal as refusal:
        return refusal


def _told(looked: tuple[Design, Looked] | Refusal, shop: Shop) -> Json:
    if isinstance(looked, Refusal):
        return {"refused": refused(looked)}
    design, found = looked
    check, sheets = found.check, papers(found.check)
    drawn = scene(sheets, found.rigging.clashes if found.rigging else (), shop)
    return {
        "name": design.name,
        "headline": headline(check, shop),
        "findings": findings_told(check.findings, shop),
        "places": _places(design, found, sheets, shop),
        "scene": _scene(drawn),
        "tasks": [{"when": task.when, "words": task.words, "cautions": task.cautions}
                  for task in tasks(sheets, shop)],
    }  # fmt: skip


def _places(design: Design, found: Looked, sheets: Papers, shop: Shop) -> Json:
    """What stands beside the drawing at each place: its sentence, then figures under their titles."""
    check = found.check
    made = bill(design, check.lure, needed=check.ballast.needed if check.ballast else None)
    sections = check_sections(check, shop)
    drawing = [section for section in sections if section.title in _DRAWN]
    also = []
    if found.jointing is not None and found.jointing.joints:
        also.append(joint_headline(found.jointing, shop))
        drawing.append(Section("Joints", joint_rows(found.jointing, shop)))
    if found.rigging is not None:
        also.append(hardware_headline(found.rigging))
        drawing += hardware_sections(found.rigging, design.segment_names, shop)
    if found.strength is not None:
        also.append(strength_headline(found.strength, shop))
        drawing += strength_sections(found.strength, shop)
    ledger = [section for section in sections if section.title in _LEDGER]
    water = [section for section in sections if section.title not in (*_DRAWN, *_LEDGER)]
    return {
        "drawing": place_told(headline(check, shop), drawing, also),
        "ledger": place_told(bill_headline(made, shop), [*ledger, Section("What goes into it", bill_rows(made, shop))]),
        "water": place_told(water_headline(check, shop), water),
        "bench": place_told("", [bits_rows(check, shop), stage_rows(sheets, shop)]),
    }  # fmt: skip


def place_told(sentence: str, sections: Sequence[Section], also: Sequence[str] = ()) -> Json:
    """What stands beside the drawing at one place: its sentence, more of them, figures under their titles."""
    return {"headline": sentence, "also": list(also),
            "sections": [{"title": section.title, "rows": [_row(line) for line in section.rows]}
                         for section in sections if section.rows]}  # fmt: skip


def findings_told(findings: Iterable[Finding], shop: Shop) -> list[Json]:
    """What is wrong or to be watched, in the order given."""
    return [{"gravity": SIGNS[finding.gravity][1], "words": said(finding, shop)} for finding in findings]


def _row(line: Row) -> Json:
    return {**line.as_json(), "shown": line.shown, "standing": line.standing}


def _strokes(strokes: Iterable[Stroke]) -> list[Json]:
    return [{"line": stroke.line.name.lower(), "closed": stroke.closed, "points": _points(stroke.points)}
            for stroke in strokes]  # fmt: skip


def _points(points: Any) -> list[float]:
    """x and y in turn, to a hundredth of a millimetre."""
    found: list[float] = (points.round(2) + 0.0).ravel().tolist()
    return found


def _scene(drawn: Scene) -> Json:
    return {
        "side": _strokes(drawn.side), "top": _strokes(drawn.top),
        "ballastSide": [_points(outline) for outline in drawn.ballast_side],
        "ballastTop": [_points(outline) for outline in drawn.ballast_top],
        "sections": [{"letter": section.letter, "station": section.station, "at": section.at, "words": section.words,
                      "strokes": _strokes(section.strokes)} for section in drawn.sections],
        "water": _points(drawn.water), "afloat": drawn.is_afloat, "weight": drawn.weight_centre,
        "buoyancy": drawn.buoyancy_centre,
        "marks": [{"words": mark.words, "gravity": SIGNS[mark.gravity][1], "at": mark.at} for mark in drawn.marks],
    }  # fmt: skip


def _written(text: str) -> Mapping[str, Any]:
    try:
        return toml_of(text)
    except (tomllib.TOMLDecodeError, ValueError, RecursionError):
        return {}
