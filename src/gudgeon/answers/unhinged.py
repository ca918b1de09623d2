"""Joints that cannot do their work: with nothing that holds the pieces together, or a stiff wire straight through."""

from collections.abc import Iterator

from gudgeon.answers.finding import Finding
from gudgeon.answers.harness_run import crosses
from gudgeon.answers.saying import plain, watch, wrong
from gudgeon.answers.shanks import OF_HINGE, hinge_eye_shanks
from gudgeon.design.hardware import Fitting
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure
from gudgeon.units import Measure

_LOOSE_PARTS = ("plate", "pin", "wire")  # kinds of fitting that a hinge is made of besides eyes


def unhinged(design: Design, lure: Lure) -> Iterator[Finding]:
    """Every joint that a harness holds stiff, and every other one that has no hinge.

    A hinge may be drawn as plain fittings near its joint: see `hinge_eye_shanks`.
    """
    yield from stiffened(design, lure)
    stiff = _stiff(design, lure)
    for place, joint in enumerate(lure.joints):
        if place not in stiff and not any(hinge.joint == place + 1 for hinge in design.hinges) and not any(
            _is_hinges(lure, fitting, joint.at) for fitting in design.fittings
        ):
            ahead, behind = _beside(lure, place)
            yield watch(
                f"Joint {place + 1}, {{at}} from the nose, has no hinge: nothing is drawn that holds the {behind} to "
                f"the {ahead}. Write a [[hinge]] with joint = {place + 1}.", at=(joint.at, Measure.CUT),
            )  # fmt: skip


def stiffened(design: Design, lure: Lure) -> Iterator[Finding]:
    """Every joint that the design's harness holds stiff."""
    for place in _stiff(design, lure):
        ahead, behind = _beside(lure, place)
        yield wrong(
            f"Joint {place + 1}, {{at}} from the nose, cannot turn: the harness's wire runs stiff from the {ahead} "
            f"into the {behind}. Leave the [harness] out, and hold the joint with a [[hinge]].",
            at=(lure.joints[place].at, Measure.CUT),
        )


def _stiff(design: Design, lure: Lure) -> tuple[int, ...]:
    return () if design.harness is None else crosses(design, lure.hull, lure.segments)


def _beside(lure: Lure, joint: int) -> tuple[str, str]:
    """Names of the pieces ahead of a joint and behind it, safe among numbers to be filled in."""
    return plain(lure.segments[joint].name), plain(lure.segments[joint + 1].name)


def _is_hinges(lure: Lure, fitting: Fitting, joint: float) -> bool:
    """Whether a fitting is of the hinge of a joint at a station [m]."""
    if abs(fitting.at - joint) > OF_HINGE:
        return False
    return fitting.kind in _LOOSE_PARTS or bool(hinge_eye_shanks(lure, fitting))
