"""Every hinge of a lure: what it is made of, what to bore and slot for it, its play and how far it turns."""

from dataclasses import dataclass

from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.hinge_findings import hinge_findings
from gudgeon.answers.hinge_items import part_masses
from gudgeon.answers.hinge_made import Cutout, MadeHinge
from gudgeon.answers.hinge_parts import made_hinge
from gudgeon.answers.locking import Lock, lock
from gudgeon.answers.unhinged import unhinged
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure


@dataclass(frozen=True)
class HingeAnswer:
    """One hinge.

    made    : its parts, bores and slots      kind : as its maker calls it
    masses  : [kg] of each part by its name
    lock    : what passes through its plates; None where nothing is to
    """

    made: MadeHinge
    kind: str
    masses: dict[str, float]
    lock: Lock | None

    @property
    def mass(self) -> float:
        """[kg] of all its parts."""
        return sum(self.masses.values())


@dataclass(frozen=True)
class Hinging:
    """Every hinge, and what to know about them and about joints without one, worst first.

    idle : how many joints have no hinge that they can turn on
    """

    hinges: tuple[HingeAnswer, ...]
    idle: int
    findings: tuple[Finding, ...]

    @property
    def cutouts(self) -> tuple[Cutout, ...]:
        """Every bore and slot to make for hinges, in the order of the hinges."""
        return tuple(cutout for hinge in self.hinges for cutout in hinge.made.cutouts)


def made_hinges(design: Design, lure: Lure) -> tuple[MadeHinge, ...]:
    """Every hinge of an assembled design as it is made."""
    return tuple(
        made_hinge(number, hinge, design.joints[hinge.joint - 1], lure.hull, lure.build - lure.shown)
        for number, hinge in enumerate(design.hinges, start=1)
    )


def hinging(design: Design, lure: Lure) -> Hinging:
    """Parts, bores, slots, play and swing of every hinge.

    lure : assembled from the design, which refuses hinges of joints that are not there
    """
    answers: list[HingeAnswer] = []
    idle = list(unhinged(design, lure))
    findings: list[Finding] = [*idle]
    for hinge, made in zip(design.hinges, made_hinges(design, lure), strict=True):
        held = lock(design, lure, hinge, made) if hinge.locked_by is not None else None
        answers.append(HingeAnswer(made, hinge.kind, part_masses(hinge, made), held))
        findings += hinge_findings(made, lure)
        findings += [] if held is None else held.findings
    return Hinging(tuple(answers), len(idle), worst_first(findings))
