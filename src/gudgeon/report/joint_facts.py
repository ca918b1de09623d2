"""A joint in words: what to cut, what to leave, where the axis goes, what to bore, how far it then turns."""

import math
from collections.abc import Iterator

from gudgeon.answers.joint_templates import FaceTemplate
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.joint_views import JointDrawn, degrees, thin_figure
from gudgeon.report.rows import Shop

Fact = tuple[bool, str]  # whether it is a heading, its words


def joint_facts(drawn: JointDrawn) -> Iterator[Fact]:
    """Headings and lines."""
    template, shop = drawn.template, drawn.shop
    joint = template.joint
    yield True, f"Joint {joint.number}: {template.kind}"
    yield False, ("Paste the view from above on the back of the square blank and saw down; paste each face on its cut "
                  "wood and prick the holes through.")  # fmt: skip
    start = drawn.papers.check.lure.bare_hull.start
    yield False, (f"Faces in the middle, from the bare nose: {figure(template.front.station - start, shop)} and "
                  f"{figure(template.rear.station - start, shop)}.")  # fmt: skip
    yield False, f"Gap: {_gap(drawn)}."
    for face in (template.front, template.rear):
        yield False, f"{_slope(face)}."
    yield False, f"Leave {figure(joint.kerf, shop)} of length for the saw and for truing the faces."
    turns = degrees(joint.finished.angle)
    met = joint.finished.meeting is not None
    yield False, f"Turns {turns} each way: then {joint.meets}." if met else f"Turns more than {turns} each way."
    if joint.bare.angle != joint.finished.angle:
        yield False, f"In bare wood it turns {degrees(joint.bare.angle)}."
    yield False, _axis(drawn)
    yield from _holes(drawn)


def _gap(drawn: JointDrawn) -> str:
    template = drawn.template
    cut, finished = template.rear.station - template.front.station, template.joint.shape.gap
    if abs(cut - finished) < 2e-5:
        return figure(cut, drawn.shop)
    return f"{figure(cut, drawn.shop)} to cut, {figure(finished, drawn.shop)} finished"


def _slope(face: FaceTemplate) -> str:
    end = "rear" if face.is_ahead else "front"
    slope = face.line.edges[-1].slope
    name = f"{end.capitalize()} face of the {face.piece}"
    sloped = f"sloped {degrees(math.atan(abs(slope)))} from square on each side"
    return f"{name}: {'square' if slope == 0.0 else sloped}"


def _axis(drawn: JointDrawn) -> str:
    """Where the hinge's axis stands."""
    template, shop = drawn.template, drawn.shop
    nose = figure(template.pivot - drawn.papers.check.lure.bare_hull.start, shop)
    where = "in the gap"
    for face in (template.rear, template.front):
        behind = (template.pivot - face.station) * face.line.wood
        if behind > 5e-5:
            where = f"in the {face.piece}, {figure(behind, shop)} behind its bare face"
    finished = figure(abs(template.joint.shape.pivot), shop)
    aft = "aft of" if template.joint.shape.pivot > 0.0 else "ahead of"
    middle = f", {finished} {aft} the middle of the gap" if abs(template.joint.shape.pivot) > 5e-5 else ""
    return f"Axis {where}{middle}; {nose} from the bare nose."


def _holes(drawn: JointDrawn) -> Iterator[Fact]:
    """Numbered as in the drill schedule."""
    template, shop = drawn.template, drawn.shop
    if template.hinge is None:
        yield False, "No hinge is told for this joint."
    if template.made:
        title = "Holes" if template.hinge is None else f"H{template.hinge.name[1:]}"
        yield True, f"{title}, numbered as in the drill schedule"
    for cut in template.made:
        name = cut.name.partition(": ")[2] or cut.name
        deep = depth_figure(cut.depth(metric=shop is Shop.METRIC), shop)
        if cut.kind == "slot":
            size = f"{thin_figure(cut.wide, shop)} x {figure(cut.long, shop)}, {cut.lies}"
        else:
            size = f"{thin_figure(cut.wide, shop)} across"
        from_ = {"back": ", from the back", "belly": ", from the belly"}.get(cut.face, "")
        through = len(cut.pieces) > 1
        pieces = "all through" if through else cut.pieces[0]
        yield False, f"{cut.number}  {name}, {pieces}: {size}{'' if through else f', {deep} deep{from_}'}"
