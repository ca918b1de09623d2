"""A batch of blanks of one shape: lead for each, holes for each, and which to set aside."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from gudgeon.answers.bench_lure import BLANK, WATER, BenchLure, Stuff, checked, fall_drag
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.known import Known, Narrowing, estimate, narrowing, numbers
from gudgeon.answers.saying import grams, note, watch, wrong
from gudgeon.answers.sums import BenchAim, PlanArea, fall_knowns, inside_for
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.immersion import worth_inside
from gudgeon.physics.sinking import sink_velocity
from gudgeon.physics.spread import Estimate, around
from gudgeon.units import Reading


@dataclass(frozen=True)
class Blank:
    """One blank of the batch.

    number   : what it is called; as it stands in the list, from 1, when nothing else was told
    weight   : [kg]
    lead     : [kg] with all that it rests on in its spread, shared by the batch or its own
    beyond   : [kg] that over the mean lead, its spread that from one blank to the next
    depth    : [m] of each hole, None without a bit
    excess_with_mean : [kg] were the mean lead put in all
    velocity_with_mean : [m/s] down positive, None without an area
    aside    : True when it is too far from the rest
    """

    number: int
    weight: float
    lead: Estimate
    beyond: Estimate
    depth: float | None
    excess_with_mean: float
    velocity_with_mean: float | None
    aside: bool


@dataclass(frozen=True)
class Batch:
    """Every blank, and what the batch shares; masses [kg].

    mean_lead : over all
    together  : half-width all leads may be off by together
    scatter   : standard deviation of the blanks over their mean
    bit, holes, per_depth : what is drilled with, in how many holes, and [kg/m] each holds
    """

    blanks: tuple[Blank, ...]
    mean_lead: float
    together: float
    scatter: float
    bit: str
    holes: int
    per_depth: float | None
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


@dataclass(frozen=True)
class Drilling:
    """A bit's name, the grams a metre of it holds [kg/m], and into how many holes the lead is parted."""

    bit: str
    per_depth: float
    holes: int = 1


def batch(
    blanks: Sequence[Reading],
    like: BenchLure,
    aim: BenchAim,
    material: Stuff,
    plan: PlanArea | None = None,
    *,
    drilling: Drilling | None = None,
    aside_beyond: float = 0.10,
    called: Sequence[int] | None = None,
) -> Batch:
    """The lead for each blank of one shape.

    blanks       : (n,) [kg]
    like         : a lure of that shape: displaced water, parts and water; its own blank weight is not used
    aside_beyond : share of the mean blank beyond which one is set aside
    called       : (n,) what the blanks are called; 1, 2, 3 when left out
    raises       : Refusal for fewer than two blanks, or one without weight
    """
    if like.displaced is None:
        raise Refusal("no batch", [Fault("--displaced", "a batch of one shape needs the water one blank displaces, or "
                                                        "the volume they all have")])  # fmt: skip
    if len(blanks) < 2 or any(blank.value <= 0.0 for blank in blanks):
        raise Refusal("no batch", [Fault("--blanks", "give two weights or more, each over 0 g: 41.2, 43.0, 43.9 g")])
    lures = [replace(like, blank=blank) for blank in blanks]
    middle = sum(blank.value for blank in blanks) / len(blanks)
    leads = [_own_lead(lure, aim, material, plan) for lure in lures]
    mean = sum(lead.value for lead in leads) / len(leads)
    found = tuple(
        Blank(number, lure.blank.value, lead, around(lead.value - mean, _own_spread(lure, aim, material, plan)),
              _depth(lead.value, drilling),
              *_with_lead(lure, mean, material, plan), aside=abs(lure.blank.value / middle - 1.0) > aside_beyond)
        for number, lure, lead in zip(called or range(1, len(blanks) + 1), lures, leads, strict=True)
    )  # fmt: skip
    typical = replace(like, blank=Reading(middle, 0.0))
    knowns, needed = (*typical.knowns(), *fall_knowns(aim, plan)), inside_for(typical, aim, material)
    together = estimate(needed, knowns).spread
    return Batch(
        blanks=found, mean_lead=mean, together=together, scatter=_scatter([blank.value for blank in blanks]),
        bit=drilling.bit if drilling else "", holes=drilling.holes if drilling else 0,
        per_depth=drilling.per_depth if drilling else None, narrowing=narrowing(needed, knowns),
        warnings=_warnings(found, mean, together),
    )  # fmt: skip


def _own_lead(lure: BenchLure, aim: BenchAim, material: Stuff, plan: PlanArea | None) -> Estimate:
    return estimate(inside_for(checked(lure), aim, material), (*lure.knowns(), *fall_knowns(aim, plan)))


def _own_spread(lure: BenchLure, aim: BenchAim, material: Stuff, plan: PlanArea | None) -> float:
    """[kg] that the lead may be off by its own blank's weight alone: the rest is shared by the batch."""
    knowns = [known if known.name == BLANK else Known(known.name, known.value, 0.0)
              for known in (*lure.knowns(), *fall_knowns(aim, plan))]  # fmt: skip
    return estimate(inside_for(lure, aim, material), knowns).spread


def _with_lead(lure: BenchLure, lead: float, material: Stuff, plan: PlanArea | None) -> tuple[float, float | None]:
    """Excess [kg] and velocity [m/s] with a given lead inside."""
    n = numbers(lure.knowns())
    excess = lure.mass(n) + lead * worth_inside(lure.wood(n), material.density) - lure.displaces(n)
    if plan is None:
        return excess, None
    return excess, float(sink_velocity(excess, n[WATER], fall_drag(plan.drag).value * plan.area.value))


def _depth(lead: float, drilling: Drilling | None) -> float | None:
    return None if drilling is None else lead / drilling.per_depth / drilling.holes


def _scatter(weights: Sequence[float]) -> float:
    mean = sum(weights) / len(weights)
    return math.sqrt(sum((weight - mean) ** 2 for weight in weights) / (len(weights) - 1)) / mean


def _warnings(blanks: Sequence[Blank], mean: float, together: float) -> tuple[Finding, ...]:
    found: list[Finding] = []
    floating = [str(blank.number) for blank in blanks if blank.excess_with_mean < 0.0]
    if floating and len(floating) < len(blanks):
        found.append(watch(f"with the mean lead of {grams(mean)} in all, {len(floating)} of {len(blanks)} would float "
                     f"(number {', '.join(floating)})"))  # fmt: skip
    aside = [str(blank.number) for blank in blanks if blank.aside]
    if aside:
        found.append(watch(f"set aside number {', '.join(aside)}, or give them to another float class: their lead is "
                           "so far from the rest that they roll differently"))  # fmt: skip
    if any(blank.lead.value <= 0.0 for blank in blanks):
        found.append(wrong("a blank that shows no lead is too heavy for this aim"))
    found.append(note(f"all leads together may be off by ± {grams(together)}, most of what each may be: finish one at "
                      "the tank, then shift them all alike"))  # fmt: skip
    return worst_first(found)
