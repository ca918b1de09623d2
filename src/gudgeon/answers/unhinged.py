"""Joints that cannot do their work: with nothing that holds the pieces together, or a stiff wire straight through."""

from collections.abc import Iterator

from gudgeon.answers.finding import Finding
from gudgeon.answers.harness_run import runs
from gudgeon.answers.saying import plain, watch, wrong
from gudgeon.answers.shanks import OF_HINGE, hinge_eye_shanks
from gudgeon.design.hardware import Fitting
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure
from gudgeon.units import Measure

_LOOSE_PARTS = ("plate", "pin", "wire")  # kinds of fitting that a hinge is made of besides eyes


def unhinged(design: Design, lure: Lure) -> Iterator[Finding]:
    """Every joint that a harness runs through, and every other one that has no hinge.

    A hinge may be drawn as plain fittings near its joint: see `hinge_eye_shanks`.
    """
    pieces = [run.piece for run in runs(design, lure.hull, lure.segments)]
    for place, joint in enumerate(lure.joints):
        start = f"Joint {place + 1}, {{at}} from the nose,"
        ahead, behind = (plain(lure.segments[place + side].name) for side in (0, 1))
        if pieces and min(pieces) <= place < max(pieces):
            yield wrong(
                f"{start} cannot turn: the harness's wire runs stiff from the {ahead} into the {behind}. Leave the "
                "[harness] out, and hold the joint with a [[hinge]].", at=(joint.at, Measure.CUT),
            )  # fmt: skip
        elif not any(hinge.joint == place + 1 for hinge in design.hinges) and not any(
            _is_hinges(lure, fitting, joint.at) for fitting in design.fittings
        ):
            yield watch(
                f"{start} has no hinge: nothing is drawn that holds the {behind} to the {ahead}. Write a [[hinge]] "
                f"with joint = {place + 1}.", at=(joint.at, Measure.CUT),
            )  # fmt: skip


def _is_hinges(lure: Lure, fitting: Fitting, joint: float) -> bool:
    """Whether a fitting is of the hinge of a joint at a station [m]."""
    if abs(fitting.at - joint) > OF_HINGE:
        return False
    return fitting.kind in _LOOSE_PARTS or bool(hinge_eye_shanks(lure, fitting))
