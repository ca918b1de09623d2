"""Hinges, hooks and all that lies in the wood, checked against each other in one go."""

from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.answers.ballasting import PocketLoad
from gudgeon.answers.clashing import Clash, clashes
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.hanging import hanging
from gudgeon.answers.hinge_parts import joint_swing
from gudgeon.answers.hinging import Hinging, hinging
from gudgeon.answers.hook_reach import Hanging
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure


@dataclass(frozen=True)
class Rigging:
    """Every hinge, every hook, and what meets what in the wood.

    findings : of all three, worst first; those of ballast bores too, which a check tells with its bores
    """

    hinging: Hinging
    hanging: Hanging
    clashes: tuple[Clash, ...]
    findings: tuple[Finding, ...]


def swings(design: Design, lure: Lure) -> tuple[float, ...]:
    """How far each joint turns to each side before wood meets wood [rad]."""
    grown = lure.build - lure.shown
    return tuple(joint_swing(joint_shape(joint, lure.hull), joint.at, lure.hull, grown) for joint in design.joints)


def rigging(design: Design, lure: Lure, loads: Sequence[PocketLoad], folds: Sequence[float] | None = None) -> Rigging:
    """Hinges, hooks and clashes of a lure.

    lure   : with its ballast in          loads : that ballast; none where the lure is as it is filled
    folds  : [rad] per joint, how far each turns; worked out when left out
    raises : OutsideSource for a hook's size that is not in the table
    """
    hinges = hinging(design, lure)
    hooks = hanging(design, lure, swings(design, lure) if folds is None else folds)
    met = clashes(design, lure, loads)
    found = worst_first([*hinges.findings, *hooks.findings, *(clash.finding for clash in met)])
    return Rigging(hinges, hooks, met, found)
