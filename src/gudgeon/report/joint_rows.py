"""Joints and places for cuts as rows."""

from collections.abc import Iterator, Sequence

from gudgeon.answers.cut_places import DEPTH_LOST, ROOM, CutPlace, CutProposal
from gudgeon.answers.jointed import JointAnswer, Jointing
from gudgeon.report.rows import Measure, Row, Shop, row, spoken, words_row


def joint_rows(answer: Jointing, shop: Shop) -> tuple[Row, ...]:
    """Every joint's rows, nose to tail."""
    lines = [line for joint in answer.joints for line in _joint(joint, shop)]
    if answer.joints:
        lines.append(row("joints.kerf", "length to add for all joints", answer.kerf, Measure.LENGTH, shop))
    return tuple(lines)


def joint_headline(answer: Jointing, shop: Shop) -> str:
    """How far each joint turns, in one sentence."""
    if not answer.joints:
        return "One piece: no joint to turn."
    turns = [f"{'' if joint.finished.meeting else 'past '}{spoken(joint.finished.angle, Measure.ANGLE, shop)}"
             for joint in answer.joints]  # fmt: skip
    if len(turns) == 1:
        return f"The joint turns {turns[0]} to each side before wood meets wood."
    return f"The joints turn {', '.join(turns[:-1])} and {turns[-1]} to each side before wood meets wood."


def _joint(joint: JointAnswer, shop: Shop) -> Iterator[Row]:
    name = f"joint.{joint.number}"
    yield row(f"{name}.swing", f"joint {joint.number}: turns to each side", joint.finished.angle, Measure.ANGLE, shop)
    yield row(f"{name}.swing_bare", "   in bare wood", joint.bare.angle, Measure.ANGLE, shop)
    yield words_row(f"{name}.meets", "   then", joint.meets)
    if joint.place is not None:
        for key, where, value in zip(("x", "y", "z"), ("from the nose", "from the middle", "above the centre line"),
                                     joint.place, strict=True):  # fmt: skip
            yield row(f"{name}.meets_{key}", f"      {where}", value, Measure.LENGTH, shop)
    low, high = joint.wanted.low, joint.wanted.high
    if low == high:
        yield row(f"{name}.wanted", f"   wanted: {joint.wanted.why}", low, Measure.ANGLE, shop)
    else:
        words = f"{spoken(low, Measure.ANGLE, shop)} to {spoken(high, Measure.ANGLE, shop)}"
        yield words_row(f"{name}.wanted", f"   mostly, {joint.wanted.why}", words)
    if joint.gap_for is not None:
        yield row(f"{name}.gap_for_swing", "   finished gap that gives it", joint.gap_for, Measure.WIRE, shop)
    if joint.bevels_for is not None:
        yield row(f"{name}.front_bevel_for_swing", "   or slope ahead of the gap", joint.bevels_for.front,
                  Measure.ANGLE, shop)  # fmt: skip
        yield row(f"{name}.rear_bevel_for_swing", "   and behind it", joint.bevels_for.rear, Measure.ANGLE, shop)
    yield from _even(joint, shop)
    yield row(f"{name}.width", "   body's width there", joint.width, Measure.LENGTH, shop)
    yield row(f"{name}.depth_kept", "   of the greatest depth", joint.depth_kept, Measure.PART, shop)
    yield row(f"{name}.kerf", "   length to add for it", joint.kerf, Measure.LENGTH, shop)


def _even(joint: JointAnswer, shop: Shop) -> Iterator[Row]:
    if joint.even is None:
        return
    name = f"joint.{joint.number}"
    yield row(f"{name}.radius", "   knuckle's radius", joint.shape.radius, Measure.WIRE, shop)
    yield row(f"{name}.pivot_for_even", "   pivot for an even gap, aft of its middle", joint.even.pivot, Measure.WIRE,
              shop)  # fmt: skip
    yield row(f"{name}.gap_least", "   gap over the swing, least", joint.even.least, Measure.WIRE, shop)
    yield row(f"{name}.gap_most", "   and most", joint.even.most, Measure.WIRE, shop)


def cut_rows(proposals: Sequence[CutProposal], shop: Shop) -> tuple[Row, ...]:
    """Every proposal's rows."""
    return tuple(line for proposal in proposals for line in _proposal(proposal, shop))


def cut_headline(proposals: Sequence[CutProposal], shop: Shop) -> str:
    """The first proposal in one sentence."""
    first = proposals[0]
    places = [spoken(cut.at, Measure.CUT, shop) for cut in first.cuts]
    listed = places[0] if len(places) == 1 else f"{', '.join(places[:-1])} and {places[-1]}"
    kind = "Your own places" if first.habit == "as drawn" else "Mostly"
    return f"{kind}: cut at {listed} from the nose."


def cut_warnings(proposals: Sequence[CutProposal], shop: Shop) -> list[str]:
    """Proposals without room for hinge and hanger at some cut, or with their first cut far down the taper."""
    found = []
    for proposal in proposals:
        tight = [_tight(number, cut, shop) for number, cut in enumerate(proposal.cuts, start=1) if not cut.has_room]
        if tight:
            need = spoken(ROOM, Measure.CUT, shop)
            found.append(f"{proposal.habit}: {'; '.join(tight)}. Hinge and hanger want {need} on each side.")
        lost = proposal.cuts[0].depth_lost
        if lost > DEPTH_LOST:
            gone = spoken(lost, Measure.PART, shop)
            found.append(f"{proposal.habit}: {gone} of the depth is gone at the first cut; the tail rules the swim.")
    return found


def _tight(number: int, cut: CutPlace, shop: Shop) -> str:
    room, what, side = min((cut.room_ahead, cut.ahead, "ahead"), (cut.room_behind, cut.behind, "behind"))
    if room <= 0.0:
        return f"cut {number} runs into {what}"
    return f"cut {number} has {spoken(room, Measure.LENGTH, shop)} {side} to {what}"


def _proposal(proposal: CutProposal, shop: Shop) -> Iterator[Row]:
    name = f"cuts.{'_'.join(proposal.habit.split())}"
    yield words_row(f"{name}.why", proposal.habit, proposal.reasons)
    for number, cut in enumerate(proposal.cuts, start=1):
        yield from _place(f"{name}.{number}", number, cut, shop)
    lengths = ", ".join(spoken(length, Measure.CUT, shop) for length in proposal.pieces)
    yield words_row(f"{name}.pieces", "   pieces, nose to tail", lengths)
    yield row(f"{name}.extra", "   length to add, besides the saw's", proposal.extra, Measure.LENGTH, shop)


def _place(name: str, number: int, cut: CutPlace, shop: Shop) -> Iterator[Row]:
    yield row(name, f"   cut {number}, from the nose", cut.at, Measure.CUT, shop)
    if cut.high > cut.low:
        words = f"{spoken(cut.low, Measure.CUT, shop)} to {spoken(cut.high, Measure.CUT, shop)}"
        yield words_row(f"{name}.range", "      the habit's range", words)
        yield row(f"{name}.moved", "      moved aft for room", cut.moved, Measure.LENGTH, shop)
    yield row(f"{name}.depth_lost", "      depth lost there", cut.depth_lost, Measure.PART, shop)
    yield row(f"{name}.width", "      width there", cut.width, Measure.LENGTH, shop)
    yield row(f"{name}.room_ahead", f"      room ahead, to {cut.ahead}", cut.room_ahead, Measure.LENGTH, shop)
    yield row(f"{name}.room_behind", f"      room behind, to {cut.behind}", cut.room_behind, Measure.LENGTH, shop)
