"""A drawn lure looked over as a whole: the check, and what joints, hardware, lip, fin and a fish's pull add to it."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from gudgeon.answers.check import check
from gudgeon.answers.checked import Check
from gudgeon.answers.finding import Finding, Gravity, worst_first
from gudgeon.answers.jointing import jointing
from gudgeon.answers.lip_and_fin import lip_and_fin
from gudgeon.answers.rigging import rigging
from gudgeon.answers.strength import strength
from gudgeon.design.model import Design
from gudgeon.errors import Refusal


def overall(design: Design) -> Check:
    """Every answer of a check, with what is wrong or to be watched in all that is asked elsewhere.

    returns : notes of those answers are left to them; what one of them cannot tell is to be watched
    raises  : BadDesign, NoAnswer as a check does
    """
    answer = check(design)
    lure = answer.lure
    asked: tuple[tuple[str, Callable[[], Iterable[Finding]]], ...] = (
        ("Hinges, hooks and what meets in the wood", lambda: _hardware(answer)),
        ("The joints", lambda: jointing(design, lure).findings),
        ("Lip, fin and tow eye", lambda: lip_and_fin(design, lure).findings),
        ("What holds", lambda: strength(design, lure).findings),
    )
    more = [finding for what, ask in asked for finding in _heard(what, ask) if finding.gravity > Gravity.NOTE]
    return replace(answer, findings=worst_first([*answer.findings, *more]))


def _hardware(answer: Check) -> tuple[Finding, ...]:
    """Of hinges, hooks and what meets what; bores for ballast are told by the check itself."""
    loads = answer.ballast.pockets if answer.ballast else ()
    found = rigging(answer.design, answer.lure, loads)
    met = (clash.finding for clash in found.clashes if not clash.is_ballast)
    return (*found.hinging.findings, *found.hanging.findings, *met)


def _heard(what: str, ask: Callable[[], Iterable[Finding]]) -> tuple[Finding, ...]:
    """What an answer finds; that it cannot be given is a finding too."""
    try:
        return tuple(ask())
    except Refusal as refusal:
        why = "; ".join([refusal.heading, *(str(fault) for fault in refusal.faults)])
        return (Finding(Gravity.WATCH, f"{what} cannot be told: {why.replace('{', '(').replace('}', ')')}."),)
