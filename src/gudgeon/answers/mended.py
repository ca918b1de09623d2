"""A lure as a change leaves it, beside what it was: weight, sink, attitude, upright, other water; what is spoiled."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from gudgeon.answers.as_seen import AsSeen, Lies, Sighting
from gudgeon.answers.ballasting import worth_inside
from gudgeon.answers.classing import class_of
from gudgeon.answers.elsewhere import elsewhere
from gudgeon.answers.finding import Finding, Gravity, worst_first
from gudgeon.answers.floating import lying
from gudgeon.answers.leaning import Lean
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.answers.sinking_rate import sinking_rate
from gudgeon.design.model import Design
from gudgeon.library.ladder import Rung as Rung
from gudgeon.library.ladder import Symptom
from gudgeon.physics.lure import Lure
from gudgeon.physics.spread import Estimate, around, exactly
from gudgeon.units import Measure

# Common practice, no source: how near is mended, and how far off is told.
LEVEL_WITHIN = math.radians(3.0)
UPRIGHT_WITHIN = math.radians(1.5)
RATE_WITHIN = 0.15  # share of the velocity
_UPRIGHT_SHARE = 0.15  # share of the upright margin beyond which the roll changes so that it shows
_LEAST_UPRIGHT = 0.8  # of the margin asked for
_WATERS = {"fresh": "fresh water", "sea": "the sea"}


@dataclass(frozen=True)
class After:
    """A lure as a change leaves it, or as it is.

    mass     : [kg]     excess : [kg] weight in water
    velocity : [m/s] down positive      words : the trade's
    pitch    : [rad] nose-up positive   leans : [rad] right side down positive
    upright  : height of the buoyancy centre above the weight centre, of the body's depth
    others   : other water, in words -> [kg] weight in it
    casting  : [kg] with snap and leader
    """

    mass: Estimate
    excess: Estimate
    velocity: Estimate
    words: str
    pitch: Estimate
    leans: float
    upright: Estimate
    others: tuple[tuple[str, float], ...]
    casting: float


@dataclass(frozen=True)
class Trend:
    """What the towed model says of a change; a trend only.

    speed  : [m/s]
    does   : "helps", "harms" or "unsure": whether all sets of the model's constants agree
    before, after : share of the starts that do as wanted, over all sets
    roll_before, roll_after : [rad] most roll in the middle of the starts, with the constants as they are; None where
                              that is right round
    """

    speed: float
    does: str
    before: float
    after: float
    roll_before: float | None
    roll_after: float | None


@dataclass(frozen=True)
class Fix:
    """One change on the ladder.

    rung    : of the ladder, with what it is worked on and whether it can be undone
    what    : what to do, in words with numbers
    cures   : whether what was seen is mended by it; of a tow, whether it helps
    doubt   : what it may do all the same, by its spread: "may still float"; nothing where that is sure
    trend   : of what was towed; None for what was not
    effects : what else it does, worst first
    """

    rung: Rung
    what: Finding
    cures: bool
    after: After
    trend: Trend | None
    effects: tuple[Finding, ...]
    doubt: str = ""

    @property
    def spoils(self) -> bool:
        """Whether it does something that the lure must not do."""
        return any(effect.gravity is Gravity.WRONG for effect in self.effects)


@dataclass(frozen=True)
class Mending:
    """What mends a lure.

    name   : the lure's
    borne_out : what is known of it does not say otherwise than what was seen
    wanted : what is asked for, of the kind of the symptom's goal: [rad], or [m/s] down positive; None for others
    seen   : what was seen of it, the rate of a drop among that
    now    : the lure as it was seen, all that was measured weighed up
    by_weights : how it lies by its weights alone
    lean   : what leans it, where it was asked of that
    fixes  : computed, the best first
    idle   : rungs that the model was asked of, and that help nothing on this lure
    rest   : those it was not asked of, in their order
    """

    name: str
    symptom: Symptom
    borne_out: bool
    wanted: float | None
    seen: Sighting
    now: After
    by_weights: Lies
    lean: Lean | None
    fixes: tuple[Fix, ...]
    idle: tuple[Rung, ...]
    rest: tuple[Rung, ...]
    findings: tuple[Finding, ...]

    @property
    def best(self) -> Fix | None:
        """What to do first, sure or not; None where nothing that was computed mends it."""
        return self.fixes[0] if self.fixes and self.fixes[0].cures else None


def after_of(seen: AsSeen, design: Design, lure: Lure, pitch_known: float | None = None) -> After:
    """A lure, changed or not.

    pitch_known : [rad] half-width of the pitch as it was seen; None where it was only computed
    """
    state, effects = lure.state()
    rate = sinking_rate(state, effects, lure.knowledge, lure.falling)
    found = seen.lies(lure)
    lever = lying(lure)
    return After(
        mass=rate.mass, excess=rate.excess, velocity=rate.velocity, words=rate.words,
        pitch=around(found.pitch, _pitch_spread(seen, lever.lever, found.pitch, pitch_known, rate.attitude)),
        leans=found.leans, upright=lever.lever_share,
        others=tuple((_WATERS[other.kind], other.rate.excess.value)
                     for other in elsewhere(design, lure, worth_inside(lure)) if other.kind in _WATERS),
        casting=rate.mass.value + design.aim.terminal_tackle,
    )  # fmt: skip


def _pitch_spread(seen: AsSeen, lever: Estimate, now: float, known: float | None, computed: Estimate) -> float:
    """Of a pitch that was seen: how well it was, and how surely the change turns it, by the distance of the centres."""
    if known is None:
        return computed.spread
    turned = abs(now - seen.lies(seen.lure).pitch)
    return math.hypot(known, turned * lever.spread / abs(lever.value)) if lever.value else math.pi


def side_effects(goal: str, now: After, then: After, design: Design, *, is_undone: bool) -> tuple[Finding, ...]:
    """What a change does besides mending, worst first; goal : of the symptom."""
    found = [*_floats_or_sinks(goal, now, then), *_rate(goal, now, then, design), *_attitude(goal, now, then, design),
             *_upright(now, then, design), *_elsewhere(now, then), *_casting(now, then, design)]  # fmt: skip
    if not is_undone:
        found.append(note("it cannot be undone"))
    return worst_first(found)


def _floats_or_sinks(goal: str, now: After, then: After) -> Iterator[Finding]:
    if goal == "rate" or now.excess.value * then.excess.value >= 0.0:
        return
    does, by = ("floats", "light") if then.excess.value < 0.0 else ("sinks", "heavy")
    yield wrong(f"then it {does}, {{by}} {by}", by=(abs(then.excess.value), Measure.MASS))


def _rate(goal: str, now: After, then: After, design: Design) -> Iterator[Finding]:
    before, after = now.velocity.value, then.velocity.value
    if goal == "rate" or before * after <= 0.0 or abs(after / before - 1.0) <= RATE_WITHIN:
        return
    verb = "sinks" if after > 0.0 else "rises"
    how = "faster" if abs(after) > abs(before) else "slower"
    kind = class_of(after).word
    other = f": a {kind}" if class_of(before).word != kind else ""
    straddled = now.velocity.low < 0.0 < now.velocity.high
    was = "where it might float or sink before" if straddled else "where it was {before}"
    told = {"after": after} if straddled else {"before": before, "after": after}
    rates = {name: (exactly(1.0 / abs(rate)), Measure.TIME_PER_FOOT) for name, rate in told.items()}
    wanted = design.aim.rate if (design.aim.does == "sinks") == (after > 0.0) else None
    if wanted is not None and _leaves(wanted, abs(before), abs(after)):
        yield wrong(f"it {verb} {how}, {{after}} {was}; {{wanted}} is asked for", **rates,
                    wanted=(exactly(1.0 / wanted), Measure.TIME_PER_FOOT))  # fmt: skip
        return
    yield watch(f"it {verb} {how}, {{after}} {was}{other}", **rates)


def _leaves(wanted: float, before: float, after: float) -> bool:
    """Whether a rate [m/s] goes from the one asked for: further than it was, or past it to the other side."""
    was, off = before / wanted - 1.0, after / wanted - 1.0
    return abs(off) > RATE_WITHIN and (abs(off) > abs(was) or off * was < 0.0)


def _attitude(goal: str, now: After, then: After, design: Design) -> Iterator[Finding]:
    wanted = design.aim.attitude
    before, after = (one.pitch.value - wanted for one in (now, then))
    if goal != "level" and abs(after) > max(LEVEL_WITHIN, abs(before) + math.radians(1.0)):
        way = "nose-up" if then.pitch.value > 0.0 else "nose-down"
        yield watch(f"it then lies {{pitch}} {way}", pitch=(abs(then.pitch.value), Measure.ANGLE))
    if goal != "upright" and abs(then.leans) > max(UPRIGHT_WITHIN, abs(now.leans) + math.radians(1.0)):
        side = "right" if then.leans > 0.0 else "left"
        yield watch(f"it then leans {{leans}} to the {side}", leans=(abs(then.leans), Measure.ANGLE))


def _upright(now: After, then: After, design: Design) -> Iterator[Finding]:
    before, after = now.upright.value, then.upright.value
    told = {"after": (after, Measure.PART), "before": (before, Measure.PART)}
    if after <= 0.0 < before:
        yield wrong("then nothing holds it upright")
    elif after < _LEAST_UPRIGHT * design.aim.upright and after < before * (1.0 - 0.5 * _UPRIGHT_SHARE):
        yield watch("stands less upright than asked: {after} of the depth where it was {before}", **told)
    elif abs(after - before) > _UPRIGHT_SHARE * abs(before):
        how = "stiffer, and rolls less" if after > before else "less stiff, and rolls more"
        yield note(f"stands {how}: {{after}} of the depth where it was {{before}}", **told)


def _elsewhere(now: After, then: After) -> Iterator[Finding]:
    """Another water in which it now does otherwise than here, and did not before."""
    for (words, before), (_, after) in zip(now.others, then.others, strict=True):
        at_home = then.excess.value * after
        if at_home < 0.0 <= now.excess.value * before:
            does, by = ("floats", "light") if after < 0.0 else ("sinks", "heavy")
            yield note(f"in {words} it then {does}, {{by}} {by}", by=(abs(after), Measure.MASS))


def _casting(now: After, then: After, design: Design) -> Iterator[Finding]:
    if design.aim.rod is None:
        return
    least, most = design.aim.rod
    weight = (then.casting, Measure.CASTING_MASS)
    if then.casting > most >= now.casting:
        yield watch("weighs {weight} with snap and leader, over the rod's {most}", weight=weight,
                    most=(most, Measure.CASTING_MASS))  # fmt: skip
    if then.casting < least <= now.casting:
        yield watch("weighs {weight} with snap and leader, under the rod's {least}", weight=weight,
                    least=(least, Measure.CASTING_MASS))  # fmt: skip


def ranked(fixes: Sequence[Fix]) -> tuple[Fix, ...]:
    """What mends it and spoils nothing first; of these the one with the fewest side effects; then as the ladder goes.

    That it cannot be undone counts as a side effect.
    """
    order = {id(fix): place for place, fix in enumerate(fixes)}
    return tuple(sorted(fixes, key=lambda fix: (not fix.cures, _harms(fix), fix.spoils, fix.doubt != "",
                                                     _counted(fix), order[id(fix)])))


def _harms(fix: Fix) -> bool:
    return fix.trend is not None and fix.trend.does == "harms"


def _counted(fix: Fix) -> int:
    return sum(effect.gravity is Gravity.WATCH for effect in fix.effects) + (not fix.rung.is_undone)
