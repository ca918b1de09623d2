"""What hooks can catch, and where they are not where makers hang them; with the distance and what to change."""

from collections.abc import Iterator

from gudgeon.answers.finding import Finding
from gudgeon.answers.hook_reach import Hanging, HookPair, ToThing
from gudgeon.answers.saying import note, plain, watch, wrong
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure
from gudgeon.units import Measure

# Common practice, no source.
FRONT = (0.28, 0.38)  # share of the length where the front hanger mostly is
REAR = (0.65, 0.75)
TAIL_END = 0.95  # from here on a hanger is at the tail end
_NAMED = {"tow eye": "the tow eye", "line": "the line ahead of the tow eye", "lip": "the lip's edge", "fin": "the fin"}
_SLACK = 1e-4  # m


def hanging_findings(design: Design, lure: Lure, hanging: Hanging) -> Iterator[Finding]:
    """Everything to know about the hooks, in no order."""
    for pair in hanging.pairs:
        yield from _pair(pair)
    for thing in hanging.things:
        yield from _thing(thing)
    yield from _places(design, hanging)
    yield from _last_joint(lure, hanging)


def _pair(pair: HookPair) -> Iterator[Finding]:
    first, second = plain(pair.first.name), plain(pair.second.name)
    places = {"at": (pair.first.place[0], Measure.CUT), "other": (pair.second.place[0], Measure.CUT)}
    reaches = {"reach": (pair.first.reach, Measure.LENGTH), "its": (pair.second.reach, Measure.LENGTH)}
    how = "Move one of them by as much, or take shorter shanks or smaller rings."
    short = pair.reach - pair.straight
    if short > _SLACK:
        yield wrong(
            f"The {first}, {{at}} from the nose, can catch the {second} at {{other}}: they hang {{apart}} apart and "
            f"reach {{reach}} and {{its}}, {{short}} too close. {how}",
            apart=(pair.straight, Measure.LENGTH), short=(short, Measure.LENGTH), **places, **reaches,
        )  # fmt: skip
    elif pair.reach - pair.folded > _SLACK:
        yield watch(
            f"The {first}, {{at}} from the nose, can catch the {second} at {{other}} with {pair.way}: their loops then "
            f"come within {{apart}}, and they reach {{reach}} and {{its}}, {{short}} too close. {how}",
            apart=(pair.folded, Measure.LENGTH), short=(pair.reach - pair.folded, Measure.LENGTH), **places, **reaches,
        )  # fmt: skip
    elif pair.habit - pair.straight > _SLACK:
        yield note(
            f"The {first} and the {second} hang {{apart}} apart; the habit is {{habit}}: shanks, rings, a little.",
            apart=(pair.straight, Measure.LENGTH), habit=(pair.habit, Measure.LENGTH),
        )  # fmt: skip


def _thing(thing: ToThing) -> Iterator[Finding]:
    """The line is no nearer than the eye unless a fold brings a hook round ahead of it."""
    hook = thing.hook
    if hook.reach - thing.folded <= _SLACK:
        return
    folded = hook.reach - thing.straight <= _SLACK
    when = " with its joints folded" if folded else ""
    apart = thing.folded if folded else thing.straight
    tell = wrong if not folded and thing.thing in ("tow eye", "line") else watch
    yield tell(
        f"The {plain(hook.name)}, {{at}} from the nose, reaches {_NAMED[thing.thing]}{when}: it is {{apart}} away, the "
        "hook reaches {reach}. Move it {by} away, or take a shorter shank.",
        at=(hook.place[0], Measure.CUT), apart=(apart, Measure.LENGTH), reach=(hook.reach, Measure.LENGTH),
        by=(hook.reach - apart, Measure.LENGTH),
    )  # fmt: skip


def _places(design: Design, hanging: Hanging) -> Iterator[Finding]:
    """Where makers mostly hang the first hook and the last."""
    if len(hanging.hooks) < 2:
        return
    ends = ((hanging.hooks[0], FRONT, "front"), (hanging.hooks[-1], REAR, "rear"))
    for hook, (low, high), which in ends:
        share = round(hook.place[0] / design.length, 2)
        if low <= share <= high or (which == "rear" and share >= TAIL_END):
            continue
        other = " or at the tail end" if which == "rear" else ""
        yield note(
            f"The {plain(hook.name)} hangs at {{share}} of the length; makers mostly hang the {which} one at {{low}} "
            f"to {{high}}{other}: {{from}} to {{to}} from the nose.",
            share=(share, Measure.PART), low=(low, Measure.PART), high=(high, Measure.PART),
            **{"from": (low * design.length, Measure.CUT), "to": (high * design.length, Measure.CUT)},
        )  # fmt: skip


def _last_joint(lure: Lure, hanging: Hanging) -> Iterator[Finding]:
    """A hook behind the last joint of three pieces or more pulls on that joint too."""
    last = len(lure.segments) - 1
    if last < 2 or not hanging.hooks or hanging.hooks[-1].piece != last:
        return
    hook, ahead = hanging.hooks[-1], lure.segments[last - 1]
    yield note(
        f"The {plain(hook.name)} hangs behind joint {last}, so that joint carries the fish. Hung at the end of the "
        f"{plain(ahead.name)}, up to {{stop}} from the nose, it would not.",
        stop=(ahead.stop, Measure.CUT),
    )
