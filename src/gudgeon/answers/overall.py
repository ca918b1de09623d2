"""A drawn lure looked over as a whole: the check, and what joints, hardware, lip, fin and a fish's pull add to it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

from gudgeon.answers.check import check
from gudgeon.answers.checked import Check
from gudgeon.answers.finding import Finding, Gravity, worst_first
from gudgeon.answers.jointed import Jointing
from gudgeon.answers.jointing import jointing
from gudgeon.answers.lip_and_fin import lip_and_fin
from gudgeon.answers.rigging import Rigging, rigging
from gudgeon.answers.strength import Strength, strength
from gudgeon.design.model import Design
from gudgeon.errors import Refusal

Answer = TypeVar("Answer")


@dataclass(frozen=True)
class Looked:
    """A lure looked over, with the answers that the findings come from; None for one that cannot be given."""

    check: Check
    rigging: Rigging | None
    jointing: Jointing | None
    strength: Strength | None


def overall(design: Design) -> Check:
    """Every answer of a check, with what is wrong or to be watched in all that is asked elsewhere.

    returns : notes of those answers are left to them; what one of them cannot tell is to be watched
    raises  : BadDesign, NoAnswer as a check does
    """
    return looked_over(design).check


def looked_over(design: Design) -> Looked:
    """The same, with the answers themselves; raises as a check does."""
    return looked_further(check(design))


def looked_further(answer: Check) -> Looked:
    """What the rest adds to a check that was made."""
    design = answer.design
    lure, loads = answer.lure, answer.ballast.pockets if answer.ballast else ()
    rigged, silent = _heard("Hinges, hooks and what meets in the wood", lambda: rigging(design, lure, loads))
    joined, mute = _heard("The joints", lambda: jointing(design, lure))
    plates, dumb = _heard("Lip, fin and tow eye", lambda: lip_and_fin(design, lure))
    holds, quiet = _heard("What holds", lambda: strength(design, lure))
    more = [*silent, *(_hardware(rigged, bool(loads)) if rigged else ()), *mute, *(joined.findings if joined else ()),
            *dumb, *(plates.findings if plates else ()), *quiet, *(holds.findings if holds else ())]  # fmt: skip
    told = [finding for place, finding in enumerate(more)
            if finding.gravity > Gravity.NOTE and finding not in more[:place]]  # fmt: skip
    return Looked(replace(answer, findings=worst_first([*answer.findings, *told])), rigged, joined, holds)


def _hardware(found: Rigging, bores_told: bool) -> tuple[Finding, ...]:
    """Of hinges, hooks and what meets what; where ballast is asked for, its bores are told by the check itself."""
    met = (clash.finding for clash in found.clashes if not (clash.is_ballast and bores_told))
    return (*found.hinging.findings, *found.hanging.findings, *met)


def _heard(what: str, ask: Callable[[], Answer]) -> tuple[Answer | None, tuple[Finding, ...]]:
    """An answer; that it cannot be given is a finding."""
    try:
        return ask(), ()
    except Refusal as refusal:
        why = "; ".join([refusal.heading, *(str(fault) for fault in refusal.faults)])
        words = f"{what} cannot be told: {why.replace('{', '(').replace('}', ')')}."
        return None, (Finding(Gravity.WATCH, words),)
