"""What one change does: another wood, a test weight moved inside, other hooks."""

from collections.abc import Callable
from dataclasses import dataclass

from gudgeon.answers.bench_lure import FINE_SCALE, WATER, BenchLure, BenchWater, Stuff, checked, fall_drag
from gudgeon.answers.classing import Rate
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing, numbers
from gudgeon.answers.saying import grams, heavy_or_light, note, sinks_or_floats, watch, wrong
from gudgeon.answers.sums import PlanArea, fall_rate
from gudgeon.design.model import Uncertainty
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.immersion import tilt, worth_inside, worth_outside
from gudgeon.physics.sinking import excess_for
from gudgeon.physics.spread import Estimate
from gudgeon.units import Reading

_LEAD = "lead in it now"
_NEW_BLANK = "new blank weight"
_NEW_WOOD = "new wood density"
_TAPED = "test weight"
KEEL_CHANGE = 0.15  # share of the lead beyond which the roll changes so that it shows; common practice, no source
CENTRES_SHARE = 0.25  # half-width of a distance between centres that was judged, not measured


@dataclass(frozen=True)
class Swap:
    """Another wood in the same shape with the same aim; masses [kg], densities [kg/m3].

    per_gram : grams of lead to take out for each gram the blank is heavier, from the old wood to the new
    """

    lead: Estimate
    change: Estimate
    blank: Estimate
    old_wood: Estimate
    new_wood: Estimate
    per_gram: float
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


def wood_swap(
    old: BenchLure,
    lead_now: Reading,
    material: Stuff,
    *,
    new_blank: Reading | None = None,
    new_density: Reading | None = None,
    by_table: bool = False,
) -> Swap:
    """The lead that keeps the weight of the whole when the wood changes.

    old         : blank and its displaced water or density
    lead_now    : [kg] inside
    new_blank   : [kg] or new_density [kg/m3], one of them
    by_table    : True when the new density is a table's
    """
    checked(old)
    knowns = (*old.knowns(), _weighed(_LEAD, lead_now), _new_wood(new_blank, new_density, by_table))

    def blank(n: Numbers) -> float:
        return n[_NEW_BLANK] if _NEW_BLANK in n else n[_NEW_WOOD] * old.volume(n)

    def needed(n: Numbers) -> float:
        kept = n["blank weight"] + n[_LEAD] * worth_inside(old.wood(n), material.density)
        return (kept - blank(n)) / worth_inside(blank(n) / old.volume(n), material.density)

    new = estimate(needed, knowns)
    wood = estimate(lambda n: blank(n) / old.volume(n), knowns)
    return Swap(
        lead=new, change=estimate(lambda n: needed(n) - n[_LEAD], knowns), blank=estimate(blank, knowns),
        old_wood=estimate(old.wood, knowns), new_wood=wood,
        per_gram=_per_gram(old, lead_now.value, wood.value, material.density),
        narrowing=narrowing(needed, knowns), warnings=_swap_warnings(new.value, lead_now.value, by_table),
    )  # fmt: skip


def _per_gram(old: BenchLure, lead: float, wood: float, metal: float) -> float:
    """Lead out per gram of blank, mean over the change; lead [kg] now, wood and metal [kg/m3].

    Weight kept, V r0 + L0 (1 - r0 / m) = V r + L (1 - r / m), gives
    (L0 - L) / (V r - V r0) = (1 - L0 / (V m)) / (1 - r / m)
    """
    volume = old.volume(numbers(old.knowns()))
    return (1.0 - lead / (volume * metal)) / worth_inside(wood, metal)


def _new_wood(blank: Reading | None, density: Reading | None, by_table: bool) -> Known:
    rules = Uncertainty()
    if blank is not None:
        return _weighed(_NEW_BLANK, blank)
    if density is None:
        raise Refusal("nothing is known of the new wood", [Fault("--new-blank", "give it, or --new-density or "
                                                                 "--new-wood")])  # fmt: skip
    share = rules.species_density if by_table else rules.density
    return Known(_NEW_WOOD, density.value, density.spread_or(share * density.value),
                 "shape the new blank and weigh it", 0.003 * density.value)  # fmt: skip


def _weighed(name: str, weight: Reading) -> Known:
    better = f"weigh the {name.replace('blank weight', 'blank')} on a scale that reads 0.01 g"
    return Known(name, weight.value, weight.spread_or(Uncertainty().scale), better, FINE_SCALE)


def _swap_warnings(new: float, now: float, by_table: bool) -> tuple[Finding, ...]:
    found: list[Finding] = []
    if new < 0.0:
        found.append(wrong(f"the new wood alone is {grams(new)} of lead too heavy: no lead, and lighter hardware or a "
                           "fuller body"))  # fmt: skip
    elif new < (1.0 - KEEL_CHANGE) * now:
        found.append(note("less lead low down: it rolls more easily; put what is left lower"))
    elif new > (1.0 + KEEL_CHANGE) * now:
        found.append(note("more lead low down: it stands stiffer and rolls less"))
    if by_table:
        found.append(note("a table's density is not this board: weigh the shaped blank before drilling"))
    return worst_first(found)


@dataclass(frozen=True)
class Taped:
    """A test weight stuck on outside, moved inside.

    inside, taped, worth : [kg] ballast inside, as taped, and what both weigh under water
    share                : inside over taped
    depth                : [m] of bore for it, solid; None when no bit was named
    """

    inside: Estimate
    taped: float
    worth: Estimate
    share: Estimate
    bit: str
    depth: Estimate | None
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


def taped_inside(
    taped: Reading,
    outside: Stuff,
    inside: Stuff,
    wood: Known,
    water: BenchWater,
    *,
    bore: tuple[str, float] | None = None,
) -> Taped:
    """The ballast inside that does what a taped one did.

    taped : [kg]     outside, inside : materials     wood : [kg/m3]     bore : name and grams held per metre [kg/m]
    """
    knowns = (_weighed(_TAPED, taped), wood, water.known())

    def worth(n: Numbers) -> float:
        return n[_TAPED] * worth_outside(n[WATER], outside.density)

    def moved(n: Numbers) -> float:
        return worth(n) / worth_inside(n[wood.name], inside.density)

    depth = None if bore is None else estimate(lambda n: moved(n) / bore[1], knowns)
    return Taped(
        inside=estimate(moved, knowns), taped=taped.value, worth=estimate(worth, knowns),
        share=estimate(lambda n: moved(n) / n[_TAPED], knowns), bit="" if bore is None else bore[0], depth=depth,
        narrowing=narrowing(moved, knowns),
        warnings=(note("drill for a little less than this and finish with the last hole at the tank"),),
    )  # fmt: skip


@dataclass(frozen=True)
class HookChange:
    """Other hooks on the same hangers.

    net    : [kg] change of the weight under water
    excess : [kg] afterwards, None when it was not known before
    tilt   : [rad] it turns by, nose-up positive; None without places
    before, after : the rates
    """

    net: Estimate
    on_scale: Estimate
    excess: Estimate | None
    tilt: Estimate | None
    before: Rate | None
    after: Rate | None
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


@dataclass(frozen=True)
class Balance:
    """What turns a submerged lure.

    ahead     : [m] of the hanger ahead of the balance point, negative aft
    apart     : [m] weight centre below buoyancy centre
    displaced : [kg] water
    """

    ahead: float
    apart: Reading
    displaced: Reading


def hook_change(
    old: Reading,
    new: Reading,
    material: Stuff,
    water: BenchWater,
    *,
    count: int = 1,
    balance: Balance | None = None,
    velocity: float | None = None,
    plan: PlanArea | None = None,
) -> HookChange:
    """What hooks of another weight do.

    old, new : [kg] one hook with its ring     count : how many change
    velocity : [m/s] at which it sinks now, down positive, 0 when it hangs; with it `plan` when it is not 0
    """
    before, after = _weighed("old hook", old), _weighed("new hook", new)
    knowns = [before, after, water.known()]

    def net(n: Numbers) -> float:
        return count * (n["new hook"] - n["old hook"]) * worth_outside(n[WATER], material.density)

    now = _excess_now(velocity, plan, water)
    excess = None if now is None else estimate(lambda n: now.value + net(n), knowns)
    rates = [fall_rate(state, plan, water.density) if plan is not None and state is not None else None
             for state in (now, excess)]  # fmt: skip
    turned = None if balance is None else _turn(balance, net, knowns)
    return HookChange(
        net=estimate(net, knowns),
        on_scale=estimate(lambda n: count * (n["new hook"] - n["old hook"]), knowns), excess=excess, tilt=turned,
        before=rates[0], after=rates[1], narrowing=narrowing(net, knowns), warnings=_hook_warnings(now, excess),
    )  # fmt: skip


def _excess_now(velocity: float | None, plan: PlanArea | None, water: BenchWater) -> Estimate | None:
    """Excess [kg] by the rate as it is now; its drag is the same before and after, so it adds no spread here."""
    if velocity is None or (velocity != 0.0 and plan is None):
        return None
    value = 0.0
    if plan is not None:
        value = excess_for(velocity, water.density, fall_drag(plan.drag).value * plan.area.value)
    return Estimate(value, value, value)


def _turn(balance: Balance, net: Callable[[Numbers], float], knowns: list[Known]) -> Estimate:
    apart = Known("distance between centres", balance.apart.value,
                  balance.apart.spread_or(CENTRES_SHARE * balance.apart.value))  # fmt: skip

    def turned(n: Numbers) -> float:
        # weight ahead of the balance point turns the nose down
        return -tilt(net(n) * balance.ahead, balance.displaced.value, n[apart.name])

    return estimate(turned, [*knowns, apart])


def _hook_warnings(now: Estimate | None, after: Estimate | None) -> tuple[Finding, ...]:
    if now is None or after is None:
        return ()
    if now.value * after.value < 0.0 or (now.value == 0.0 and abs(after.value) > after.spread):
        return (watch(f"with these hooks it {sinks_or_floats(after.value)}: {heavy_or_light(after.value)}"),)
    return ()
