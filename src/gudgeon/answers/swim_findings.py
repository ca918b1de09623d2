"""What is wrong with how a lure tows, or to be watched, and what to change first."""

from collections.abc import Iterator

from gudgeon.answers.finding import Finding, Gravity, worst_first
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.answers.swim_trust import MOST_CLAIMED
from gudgeon.answers.swum import LEANS, LOCKS, SWIMS, TUMBLES, AtSpeed, Swimming
from gudgeon.units import Measure

_FEW_TIMES = 1.5


def swim_findings(answer: Swimming) -> tuple[Finding, ...]:
    """Every finding, worst first."""
    if not answer.is_claimed:
        words = (f"{len(answer.lure.segments)} pieces: beyond {MOST_CLAIMED} nothing is claimed of how it swims; the "
                 "figures show what the sums give and no more.")  # fmt: skip
        return (Finding(Gravity.WATCH, words),)
    return worst_first([*_upright(answer), *_locks(answer), *_swims(answer), *_lip(answer), *_hooks(answer)])


def _wanted(answer: Swimming) -> tuple[AtSpeed, ...]:
    """The speeds its maker means it for; all of them where none is told."""
    own = tuple(one for one in answer.speeds if one.speed in answer.design.aim.speeds)
    return own or answer.speeds


def _upright(answer: Swimming) -> Iterator[Finding]:
    blow = answer.blow_out
    if blow is None:
        return
    fastest = _wanted(answer)[-1].speed
    inside = blow.speed.value <= fastest
    did = "lies over" if blow.how == LEANS else "tumbles"
    words = f"Above about {{speed}} it {did}: {blow.cause}. A trend: use it to compare two builds."
    yield (wrong if inside and answer.design.aim.speeds else watch)(words, speed=(blow.speed.value, Measure.TOW_SPEED))


def _locks(answer: Swimming) -> Iterator[Finding]:
    locked = [one for one in _wanted(answer) if one.share(LOCKS) > 0.0]
    if locked:
        worst = max(locked, key=lambda one: one.share(LOCKS))
        count = round(worst.share(LOCKS) * worst.starts)
        yield watch(
            f"At {{speed}} {count} of {worst.starts} starts end bent to one side against the stops and tow crooked. "
            "The model does this oftener than a lure; freer hinges, or a little less swing at the first joint, help.",
            speed=(worst.speed, Measure.TOW_SPEED),
        )


def _swims(answer: Swimming) -> Iterator[Finding]:
    """Of joints alone: whether a lip makes it swim is not the model's to tell."""
    still = [one for one in _wanted(answer) if one.share(SWIMS) < 0.5 and one.share(LEANS) + one.share(TUMBLES) < 0.5]
    if len(answer.lure.segments) == 1 or _lip_alone(answer) or not still or not answer.design.aim.speeds:
        return
    helps = "Freer hinges, more swing at the joints, smaller hooks."
    if not any(one.share(SWIMS) > 0.0 for one in answer.speeds):
        yield watch(f"It swims at no speed that was towed. {helps}")
        return
    few = "no start swims" if still[0].share(SWIMS) == 0.0 else "fewer than half of the starts swim"
    yield watch(f"At {{speed}} {few}. {helps}", speed=(still[0].speed, Measure.TOW_SPEED))


def _lip_alone(answer: Swimming) -> bool:
    """Whether, if it swims, it is by its lip, which the model cannot tell."""
    return answer.design.lip is not None and all(one.share(SWIMS) == 0.0 for one in _wanted(answer))


def _lip(answer: Swimming) -> Iterator[Finding]:
    if _lip_alone(answer):
        yield note("Whether this lip makes it swim the model cannot tell: a lip sheds eddies that shake a lure by "
                   "themselves, and the model leaves them out. Tracks straight means here that nothing grows without "
                   "them. Trust the water for the wobble of a lip.")  # fmt: skip


def _hooks(answer: Swimming) -> Iterator[Finding]:
    times = answer.hook_margin
    if times is None:
        return
    say = watch if times <= _FEW_TIMES else note
    yield say(f"Hooks and fittings that drag {times:g} times as much end the swim: it stands near that threshold, so "
              "weigh a hook change by its drag too. A trend.")  # fmt: skip
