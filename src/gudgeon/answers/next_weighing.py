"""What is to be weighed next of a lure, and what the scale should about show then."""

from dataclasses import dataclass

from gudgeon.answers.as_typed import drawn_weights
from gudgeon.answers.stage_weights import stage_weights
from gudgeon.design.model import Design
from gudgeon.errors import Refusal
from gudgeon.physics.spread import Estimate
from gudgeon.shop.entries import LureRecord, Of
from gudgeon.shop.records import STEPS, WHOLE, Ballast, Weighing
from gudgeon.units import Reading


@dataclass(frozen=True)
class NextWeighing:
    """A stage, and the whole or a piece of the lure.

    expected     : [kg] by the drawing and what was measured before; None where they cannot tell
    before_lead  : whether lead is to go in before that, and none is entered yet
    unbored      : whether that counts holes as not bored, which may be bored by then: none is entered
    """

    stage: str
    piece: str
    expected: Estimate | None
    before_lead: bool
    unbored: bool


def next_weighing(design: Design, record: LureRecord) -> NextWeighing | None:
    """The first thing that is not weighed yet behind the furthest stage that is; None when all is."""
    seen = [Of(record.lure.number, record.lure.run, entry.number, one) for entry, one in record.of(Weighing)]
    pieces = design.segment_names
    whole = [STEPS[stage] for stage in stage_weights(seen, pieces, design.uncertainty.scale)]
    whole += [STEPS[one.what.stage] for one in seen if one.what.piece == WHOLE and one.what.stage != "dry fit"]
    furthest = max(whole, default=0)
    started = [one.what for one in seen if STEPS[one.what.stage] > furthest and one.what.stage != "dry fit"
               and one.what.piece in pieces and one.what.fitted is None]  # fmt: skip
    has_lead = any(piece.mass.value > 0.0 for _, piece in record.of(Ballast))
    if started:
        stage = max(started, key=lambda one: STEPS[one.stage]).stage
        done = {one.piece for one in started if one.stage == stage}
        return _expected(design, record, stage, next(piece for piece in pieces if piece not in done), has_lead)
    left = [stage for stage in _stages(design, has_lead) if STEPS[stage] > furthest]
    return _expected(design, record, left[0], WHOLE, has_lead) if left else None


def _stages(design: Design, has_lead: bool) -> tuple[str, ...]:
    """The stages at which a lure of this design is to be weighed, in their order."""
    wanted = {"shaped": True, "sealed": design.sealer is not None, "leaded": has_lead or bool(design.pockets),
              "clear": bool(design.coats), "rigged": True}  # fmt: skip
    return tuple(stage for stage, is_wanted in wanted.items() if is_wanted)


def _expected(design: Design, record: LureRecord, stage: str, piece: str, has_lead: bool) -> NextWeighing:
    try:
        found = drawn_weights(design, record, [Weighing(stage, Reading(1.0), piece)]).get(piece)
    except Refusal:  # what was measured does not fit the drawing; the check of the lure says what
        found = None
    leaded = STEPS[stage] >= STEPS["leaded"] and "leaded" in _stages(design, has_lead)
    unbored = STEPS["drilled"] <= STEPS[stage] < STEPS["leaded"] and bool(design.pockets) and not record.of(Ballast)
    return NextWeighing(stage, piece, found, leaded and not has_lead, unbored)
