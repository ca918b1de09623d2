"""Differences between twins in words: what is unlike, what it does, and what to do about it."""

import math
from collections.abc import Iterable, Iterator, Sequence

from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import grams, note, plain, watch
from gudgeon.answers.twin_agreement import Agreement
from gudgeon.answers.twin_differences import Difference
from gudgeon.answers.twin_effects import Effect
from gudgeon.answers.twin_facts import Body, Fact
from gudgeon.library.cautions import cautions_for
from gudgeon.shop.records import WHOLE

_TURNS = math.radians(0.5)
_LEVER = 3e-4  # m
_MANY = 10.0
_NO_LEAD = 1e-4  # kg
_NEXT_TIME = {"sealed": "; next time leave it in as long as the others", "clear": "; next time weigh the coats as they "
              "go on"}  # fmt: skip
_CAME_ON = {"drilled": "bores", "sealed": "sealer", "leaded": "plugs and filler, lead apart", "primed": "primer",
            "clear": "coats", "rigged": "hardware not weighed alone"}  # fmt: skip


def label_of(fact: Fact) -> str:
    """What was measured."""
    if fact.kind == "gain":
        return f"{_CAME_ON[fact.of]} ({fact.since} to {fact.of})"
    if fact.kind == "displaced":
        return f"water displaced, {fact.since}" + ("" if fact.of == WHOLE else f", {fact.of}")
    if fact.kind == "blank":
        return "the shaped blank" if fact.of == "shaped" else f"the whole, {fact.of}"
    return {"piece": f"{fact.of} alone, shaped", "lead": f"lead in {fact.of}",
            "place": f"place of the lead in {fact.of}", "part": fact.of, "seen": fact.of}[fact.kind]  # fmt: skip


def beyond_words(one: Difference) -> str:
    """How far beyond the usual: "3.4 times what is usual between its 9 twins"."""
    by = f"between its {one.by} twins" if one.by else "between twins, by the book"
    if one.beyond <= 1.0:
        return f"no more than is usual {by}"
    return f"{'over ten' if one.beyond > _MANY else f'{one.beyond:.1f}'} times what is usual {by}"


def does_words(effect: Effect) -> str:
    """What it does by the model, for a lure that has this difference."""
    found = []
    if abs(effect.excess) >= 5e-5:
        found.append(f"{grams(effect.excess)} {'heavier' if effect.excess > 0.0 else 'lighter'} in water")
    if abs(effect.pitch) >= _TURNS:
        found.append(f"{_degrees(effect.pitch)} more {'nose-up' if effect.pitch > 0.0 else 'nose-down'}")
    if abs(effect.heel) >= _TURNS:
        found.append(f"{_degrees(effect.heel)} more to the {'right' if effect.heel > 0.0 else 'left'}")
    if abs(effect.lever) >= _LEVER:
        found.append("stands stiffer" if effect.lever > 0.0 else "rolls more easily")
    return ", ".join(found) or "nothing to speak of"


def _degrees(angle: float) -> str:
    size = abs(math.degrees(angle))
    return f"{size:.1f}°" if size < 10.0 else f"{size:.0f}°"


def told(one: Difference, worth: float, held: Agreement) -> Finding:
    """A difference that tells, with what to do; where it goes against what was seen, that, and nothing to do.

    worth : what a gram of ballast inside adds to the weight in water
    """
    assert one.effect is not None  # what was seen is no cause, and tells nothing
    more = "more" if one.change > 0.0 else "less"
    if one.fact.kind == "place":
        what = f"{{change}} farther {'aft' if one.change > 0.0 else 'forward'}"
    elif one.fact.kind == "displaced":
        what = f"{{change}} {more}: its body is {'fuller' if one.change > 0.0 else 'slimmer'}"
    else:
        what = f"{{change}} {more}"
    words = (f"number {one.number}: {plain(label_of(one.fact))} {what}, {beyond_words(one)}. By the model that makes "
             f"it {does_words(one.effect)}")  # fmt: skip
    words += f"; {held.words}" if held.words else ""
    words += ". Leave it until what does that is found" if held.against else f". {plain(_way(one, one.effect, worth))}"
    return (watch if one.tells else note)(words, change=(abs(one.change), one.fact.measure))


def _way(one: Difference, effect: Effect, worth: float) -> str:
    """What brings it back to the first lure."""
    fact, more = one.fact, one.change > 0.0
    lead = abs(effect.excess) / worth
    if fact.kind == "lead":
        return f"Take {grams(one.change)} out of it" if more else f"Put {grams(one.change)} more into it"
    if fact.kind == "place":
        return "Try with stick-on weight where it wants to be; then a small hole there, and as much less in this one"
    if fact.kind == "part":
        return f"Hang one of {grams(fact.value)}, as the first has"
    if lead < _NO_LEAD:
        return "It moves the balance, not the weight: shift lead, or hooks, the other way"
    words = f"Take {grams(lead)} of lead out" if effect.excess > 0.0 else f"Add {grams(lead)} of lead"
    return words + (_NEXT_TIME.get(fact.of, "") if fact.kind == "gain" else "")


def cautions(kinds: Iterable[str]) -> Iterator[Finding]:
    """What can hurt in doing so."""
    if set(kinds) - {"part"}:
        yield note(cautions_for(["lead"])[0].words)


def unmeasured(bodies: Sequence[Body]) -> Iterator[Finding]:
    """What one was measured of and another was not, which might tell."""
    for body in bodies[1:]:
        for one, other in ((bodies[0], body), (body, bodies[0])):
            things = sorted(_measured(one) - _measured(other))
            if things:
                yield note(f"number {one.number} was measured of what number {other.number} was not: "
                           f"{', '.join(things)}")  # fmt: skip


def _measured(body: Body) -> set[str]:
    found = {f"weight {stage}" for stage in body.stages()}
    found |= {"the jug"} if body.jugs else set()
    found |= {"its lead, hole by hole"} if body.lead else set()
    return found | {f"weight of the {part}" for part in body.parts}
