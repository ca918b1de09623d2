"""Whether a difference between twins goes with what they were seen to do, or against it; and a model far from both."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import watch
from gudgeon.answers.twin_differences import Difference
from gudgeon.shop.entries import LureRecord
from gudgeon.shop.records import Attitude
from gudgeon.units import Measure

_TURNS = math.radians(1.0)  # of an effect by the model; less is not held against what was seen
_WEIGHS = 2e-4  # kg
FAR = math.radians(5.0)
"""By how much the model's attitude may be off the one that was seen, before that is told."""


@dataclass(frozen=True)
class Agreement:
    """What was seen of the other lure beside the first, in words: "lies 4° more nose-down".

    borne_out : what goes with the difference      against : what it goes against
    """

    borne_out: tuple[str, ...]
    against: tuple[str, ...]

    @property
    def words(self) -> str:
        """As the end of a sentence; nothing where neither."""
        with_it, against = ", ".join(self.borne_out), ", ".join(self.against)
        if against:
            return f"that goes against what was seen: it {against}" + (f"; that it {with_it} goes with it" if with_it
                                                                       else "")  # fmt: skip
        return f"that goes with what was seen: it {with_it}" if with_it else ""


def agreement(cause: Difference, seen: Sequence[Difference]) -> Agreement:
    """A cause held against what its lure was seen to do, beyond what is usual."""
    borne_out: list[str] = []
    against: list[str] = []
    for one in seen:
        if cause.effect is None or one.number != cause.number or one.beyond <= 1.0:
            continue
        found = _parts(one, cause.effect.excess, cause.effect.pitch, cause.effect.heel)
        if found is not None:
            does, words = found
            (borne_out if does * one.change > 0.0 else against).append(words)
    return Agreement(tuple(dict.fromkeys(borne_out)), tuple(dict.fromkeys(against)))


def _parts(one: Difference, excess: float, pitch: float, heel: float) -> tuple[float, str] | None:
    """What the model says of the same thing, in the same direction, and what was seen; None where it says nothing."""
    if one.fact.of.startswith("sinks, "):
        faster = "sinks faster, or rises slower" if one.change > 0.0 else "sinks slower, or rises faster"
        if one.fact.value > 0.0 and one.own > 0.0:
            faster = f"sinks {'faster' if one.change > 0.0 else 'slower'}"
        return (excess, faster) if abs(excess) >= _WEIGHS else None
    if one.fact.of.startswith("nose up, "):
        words = f"lies {_degrees(one.change)} more {'nose-up' if one.change > 0.0 else 'nose-down'}"
        return (pitch, words) if abs(pitch) >= _TURNS else None
    if one.fact.of.startswith("leans right, "):
        words = f"leans {_degrees(one.change)} more to the {'right' if one.change > 0.0 else 'left'}"
        return (heel, words) if abs(heel) >= _TURNS else None
    return None


def _degrees(angle: float) -> str:
    return f"{abs(math.degrees(angle)):.0f}°"


def unlike_the_model(records: Sequence[LureRecord], pitches: Sequence[float | None]) -> Iterator[Finding]:
    """Where a lure was seen to lie far from what the model makes of its weights [rad]."""
    for record, pitch in zip(records, pitches, strict=True):
        lay = [attitude.pitch for _, attitude in record.of(Attitude)]
        if not lay or pitch is None or abs(lay[-1].value - pitch) <= max(FAR, lay[-1].spread or 0.0):
            continue
        seen, computed = ("nose-up" if angle > 0.0 else "nose-down" for angle in (lay[-1].value, pitch))
        yield watch(f"number {record.lure.number} was seen to lie {{seen}} {seen}, and by its weights the model has it "
                    f"{{computed}} {computed}: do not go by what is said of its lie here before an entry is found that "
                    "is wrong", seen=(abs(lay[-1].value), Measure.ANGLE),
                    computed=(abs(pitch), Measure.ANGLE))  # fmt: skip
