"""Other hooks: changed over, weight traded from one to the other, all of them lighter or heavier."""

import math
from collections.abc import Iterator, Mapping, Sequence

from gudgeon.answers.finding import Finding, Number
from gudgeon.answers.fix_bench import (
    FixBench,
    Made,
    Proposal,
    Trial,
    first_guess,
    level_station,
    most_of,
    proposed,
    solved,
)
from gudgeon.answers.hook_choices import HookChoice, hook_weight_now, is_another
from gudgeon.answers.saying import note, plain
from gudgeon.design.hardware import Hook
from gudgeon.design.model import Design
from gudgeon.units import Measure, Reading

_PAIRS = 4  # of hooks that are worked out in full
_LEAST = 0.05  # of a hook's weight: no two hooks are told apart by less


def none_told_of(hooks: Sequence[HookChoice]) -> bool:
    """Whether no hook is told of as in stock; what a hook should weigh is then worked out to be looked for."""
    return not any(choice.is_at_hand for choice in hooks)


def _ends(bench: FixBench) -> tuple[Hook, Hook] | None:
    """The foremost and the rearmost hook; None where there are not two."""
    hooks = sorted(bench.seen.design.hooks, key=lambda hook: hook.at)
    return (hooks[0], hooks[-1]) if len(hooks) > 1 else None


def hung(design: Design, others: Mapping[str, HookChoice]) -> Made:
    """A design with other hooks on it."""

    def other(hook: Hook) -> Hook:
        if hook.name not in others:
            return hook
        choice = others[hook.name]
        update: dict[str, object] = {"weight": choice.mass, "rating": None}
        if choice.size is not None and choice.size != hook.size:
            update |= {"size": choice.size, "shank": None, "gape": None, "ring": None}
        return hook.model_copy(update=update)

    hooks = tuple(other(hook) for hook in design.hooks)
    return design.model_copy(update={"hooks": hooks}), frozenset(others)


def _as_it_hangs(bench: FixBench, hook: Hook) -> HookChoice:
    return HookChoice("as it is", Reading(hook_weight_now(bench.seen.lure, hook)), hook.size)


def _swap_hooks(bench: FixBench) -> Iterator[Proposal | None]:
    """The two hooks changed over, where that turns it the right way."""
    ends = _ends(bench)
    if ends is None:
        return
    front, rear = (_as_it_hangs(bench, hook) for hook in ends)
    gain = (front.mass.value - rear.mass.value) * bench.light_end
    if gain > bench.step:
        made = hung(bench.seen.design, {ends[0].name: rear, ends[1].name: front})
        yield proposed(bench, note(f"{ends[0].name} and {ends[1].name} changed over"), made)


def _trade_hooks(bench: FixBench) -> Iterator[Proposal | None]:
    """Weight from one hook to the other: as hooks at hand come nearest; exactly where none are told of."""
    ends = _ends(bench)
    if ends is None:
        return
    yield _at_hand(bench, ends)
    if not none_told_of(bench.hooks):
        return
    lighter, heavier = ends if bench.light_end > 0 else ends[::-1]
    masses = {hook.name: hook_weight_now(bench.seen.lure, hook) for hook in ends}

    def family(mass: float) -> Made | None:
        return hung(bench.seen.design, {
            lighter.name: HookChoice("", Reading(masses[lighter.name] - mass), lighter.size),
            heavier.name: HookChoice("", Reading(masses[heavier.name] + mass), heavier.size)})  # fmt: skip

    arm = abs(ends[0].at - ends[1].at)
    found = solved(bench, family, first_guess(bench, arm), 0.9 * masses[lighter.name])
    if found is not None and found[0] > _LEAST * min(masses.values()):
        mass, made, lure = found
        words = f"{plain(lighter.name)} {{mass}} lighter, {plain(heavier.name)} as much heavier"
        yield Proposal(note(words, mass=(mass, Measure.MASS)), made[0], lure)


def _at_hand(bench: FixBench, hooks: Sequence[Hook]) -> Proposal | None:
    """Hooks that come nearest to what is wanted: the maker's own, and the table's only where those alone do it."""
    found = _nearest(bench, hooks, [choice for choice in bench.hooks if choice.is_weighed])
    if found is not None and bench.is_met(bench.seen.lies(found.lure)):
        return found
    other = _nearest(bench, hooks, bench.hooks)
    return other if found is None or (other and bench.is_met(bench.seen.lies(other.lure))) else found


def _nearest(bench: FixBench, hooks: Sequence[Hook], among: Sequence[HookChoice]) -> Proposal | None:
    """With the least change of the rest; None where none of them helps."""
    now = {hook.name: _as_it_hangs(bench, hook) for hook in hooks}
    first, last = hooks[0], hooks[-1]
    single = first is last
    ways = {hook.name: [now[hook.name], *(one for one in among if is_another(one, hook, now[hook.name].mass.value))]
            for hook in (first, last)}  # fmt: skip
    pairs = [(one, other) for one in ways[first.name] for other in ((one,) if single else ways[last.name])]
    balance = level_station(bench)

    def told(pair: tuple[HookChoice, HookChoice]) -> tuple[float, float]:
        """Change of weight [kg], and of moment aft [kg m]."""
        more = [pair[0].mass.value - now[first.name].mass.value]
        more += [] if single else [pair[1].mass.value - now[last.name].mass.value]
        arms = [hook.at - balance for hook in ((first,) if single else (first, last))]
        return sum(more), sum(mass * arm for mass, arm in zip(more, arms, strict=True))

    found: list[tuple[float, Proposal]] = []
    for pair in sorted(pairs, key=lambda pair: _unlike(bench, *told(pair)))[:_PAIRS]:
        others = {first.name: pair[0]} | ({} if single else {last.name: pair[1]})
        changed = {name: choice for name, choice in others.items() if choice is not now[name]}
        if changed:
            one = proposed(bench, _hook_words(changed, now), hung(bench.seen.design, changed))
            found += [] if one is None else [(abs(bench.goal.off(bench.seen.lies(one.lure))), one)]
    best = min(found, key=lambda one: one[0], default=None)
    return None if best is None or best[0] >= abs(bench.off) else best[1]


def _unlike(bench: FixBench, mass: float, moment: float) -> float:
    """How far a change of weight and moment is from the one wanted, each against what would show."""
    sums, wet = bench.seen.lure.sums(), 0.873  # of steel in fresh water
    lever = max(abs(float(sums.buoyancy_centre[2] - sums.weight_centre[2])), 1e-4)
    stiff = sums.mass * lever
    excess = bench.seen.lies(bench.seen.lure).excess
    asked = -bench.off if bench.goal.kind == "rate" else 0.0
    turn = -stiff * math.tan(bench.off) if bench.goal.kind == "level" else 0.0
    shows = max(0.3 * abs(excess + asked), 5.0 * bench.step)
    return math.hypot((wet * mass - asked) / shows, (wet * moment - turn) / (stiff * math.radians(3.0)))


def _hook_words(changed: dict[str, HookChoice], now: dict[str, HookChoice]) -> Finding:
    parts: list[str] = []
    numbers: dict[str, Number] = {}
    for place, (name, choice) in enumerate(changed.items()):
        parts.append(f"{plain(name)}: {plain(choice.words)}, {{new{place}}} in place of {{old{place}}}")
        numbers |= {f"new{place}": (choice.mass.value, Measure.MASS),
                    f"old{place}": (now[name].mass.value, Measure.MASS)}  # fmt: skip
    return note("; ".join(parts), **numbers)


def _other_hooks(bench: FixBench) -> Iterator[Proposal | None]:
    """Other hooks as those at hand come nearest; where none are told of, every one lighter or heavier by as much."""
    hooks = sorted(bench.seen.design.hooks, key=lambda hook: hook.at)
    if not hooks:
        return
    yield _at_hand(bench, (hooks[0], hooks[-1]) if len(hooks) > 1 else (hooks[0],))
    if not none_told_of(bench.hooks):
        return
    sign = 1.0 if bench.off < 0.0 else -1.0
    masses = {hook.name: hook_weight_now(bench.seen.lure, hook) for hook in hooks}

    def family(mass: float) -> Made | None:
        each = sign * mass / len(hooks)
        return hung(bench.seen.design, {
            hook.name: HookChoice("", Reading(masses[hook.name] + each), hook.size) for hook in hooks})  # fmt: skip

    most = most_of(bench) if sign > 0.0 else 0.9 * min(masses.values()) * len(hooks)
    found = solved(bench, family, first_guess(bench, 0.0), most)
    if found is not None and found[0] / len(hooks) > _LEAST * min(masses.values()):
        mass, made, lure = found
        each = "each hook" if len(hooks) > 1 else f"the {plain(hooks[0].name)}"
        words = f"{each} {{mass}} {'heavier' if sign > 0.0 else 'lighter'}"
        yield Proposal(note(words, mass=(mass / len(hooks), Measure.MASS)), made[0], lure)


HOOK_TRIALS: Mapping[str, Trial] = {
    "swap hooks": _swap_hooks, "trade hooks": _trade_hooks, "other hooks": _other_hooks,
}  # fmt: skip
