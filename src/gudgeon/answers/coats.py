"""What coats and sealer do: a coat displaces water, so little of its weight sinks; what soaks in displaces nothing."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from gudgeon.answers.bench_lure import FILM_AREA, WATER, BenchWater, Stuff
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing
from gudgeon.answers.saying import grams, watch
from gudgeon.design.model import Uncertainty
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.coating import coat_mass, coverage
from gudgeon.physics.immersion import worth_outside
from gudgeon.physics.spread import Estimate
from gudgeon.units import Reading

_AREA = "area of the body"
STAYS = "weigh the blank before and after the coat"


@dataclass(frozen=True)
class CoatAsked:
    """One coat, by thickness [m] or by what it weighed [kg]."""

    name: str
    stuff: Stuff
    thickness: Reading | None = None
    weight: Reading | None = None


@dataclass(frozen=True)
class CoatTold:
    """What one coat weighs in air, and under water [kg]."""

    name: str
    mass: Estimate
    sinks: Estimate


@dataclass(frozen=True)
class Coats:
    """All coats and the sealer; masses [kg].

    sinks   : under water, all together, the sealer in
    sealer  : soaked in, all of it sinks; None when none was named
    share   : all over the blank's weight; None without a blank
    bodies  : how many such bodies 100 ml of what stays on would cover; None without thicknesses
    build   : [m] total thickness; None where a coat was weighed
    gap     : [m] by which a joint's bare gap must be cut wider, a coat on either face
    """

    coats: tuple[CoatTold, ...]
    sealer: Estimate | None
    mass: Estimate
    sinks: Estimate
    share: Estimate | None
    bodies: float | None
    build: float | None
    gap: float | None
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


def coat_weights(
    area: Reading | None,
    coats: Sequence[CoatAsked],
    water: BenchWater,
    *,
    sealer: Reading | None = None,
    blank: Reading | None = None,
) -> Coats:
    """What coats and sealer weigh, in air and under water.

    area  : [m2] of the body     sealer : [kg] soaked in     blank : [kg]
    raises : Refusal when there is nothing to weigh, or a thickness without an area
    """
    _check(area, coats, sealer)
    knowns = _knowns(area, coats, water, sealer, blank)
    told = tuple(
        CoatTold(coat.name, estimate(_mass_of(coat), knowns), estimate(_net_of(coat), knowns)) for coat in coats
    )  # fmt: skip

    def mass(n: Numbers) -> float:
        return sum(_mass_of(coat)(n) for coat in coats) + n.get("sealer", 0.0)

    def sinks(n: Numbers) -> float:
        return sum(_net_of(coat)(n) for coat in coats) + n.get("sealer", 0.0)

    thick = [coat.thickness.value for coat in coats if coat.thickness is not None]
    build = sum(thick) if thick and len(thick) == len(coats) else None
    bodies = None if build is None or area is None else coverage(1e-4, build) / area.value
    net = estimate(sinks, knowns)
    return Coats(
        coats=told, sealer=None if sealer is None else estimate(lambda n: n["sealer"], knowns),
        mass=estimate(mass, knowns), sinks=net, bodies=bodies, build=build, gap=None if build is None else 2.0 * build,
        share=None if blank is None else estimate(lambda n: mass(n) / n["blank"], knowns),
        narrowing=narrowing(sinks, knowns), warnings=_warnings(sealer, told, build),
    )  # fmt: skip


def _mass_of(coat: CoatAsked) -> Callable[[Numbers], float]:
    def mass(n: Numbers) -> float:
        if coat.weight is not None:
            return n[coat.name]
        return coat_mass(n[_AREA], n[coat.name], coat.stuff.density)

    return mass


def _net_of(coat: CoatAsked) -> Callable[[Numbers], float]:
    return lambda n: _mass_of(coat)(n) * worth_outside(n[WATER], coat.stuff.density)


def _knowns(area: Reading | None, coats: Sequence[CoatAsked], water: BenchWater, sealer: Reading | None,
            blank: Reading | None) -> tuple[Known, ...]:  # fmt: skip
    rules = Uncertainty()
    found = [water.known()]
    if area is not None:
        found.append(Known(_AREA, area.value, area.spread_or(FILM_AREA * area.value),
                           "wrap it in squared paper and count", 0.03 * area.value))  # fmt: skip
    for coat in coats:
        given = coat.weight or coat.thickness
        if given is not None:
            spread = given.spread_or(rules.scale if coat.weight else rules.coat_thickness * given.value)
            better = 0.02 * given.value
            found.append(Known(coat.name, given.value, spread, STAYS, min(spread, better)))
    if sealer is not None:
        spread = sealer.spread_or(rules.scale)
        found.append(Known("sealer", sealer.value, spread, "weigh before sealing and a day after", min(spread, 2e-5)))
    if blank is not None:
        found.append(Known("blank", blank.value, blank.spread_or(rules.scale)))
    return tuple(found)


def _check(area: Reading | None, coats: Sequence[CoatAsked], sealer: Reading | None) -> None:
    faults = []
    if area is None and any(coat.thickness is not None for coat in coats):
        faults.append(Fault("--area", "a coat by its thickness needs the area it covers"))
    if not coats and sealer is None:
        faults.append(Fault("--coat", 'give a coat or more, or --sealed: --coat "epoxy, 0.2 mm"'))
    if faults:
        raise Refusal("no coats to weigh", faults)


def _warnings(sealer: Reading | None, coats: Sequence[CoatTold], build: float | None) -> tuple[Finding, ...]:
    found: list[Finding] = []
    on = sum(coat.sinks.value for coat in coats)
    if sealer is not None and sealer.value > on:
        found.append(watch(f"the sealer is what makes it sink: {grams(sealer.value)}, against {grams(on)} of coats"))
    if build is not None and build > 6e-4:
        found.append(watch(f"{build * 1e3:.1f} mm is a thick finish: cut joint gaps wider by {2e3 * build:.1f} mm"))
    return worst_first(found)
