"""Stick-on lead: near the light end, by a hook, under the balance point, low on the light side; and taken off again."""

from collections.abc import Iterator, Mapping

import numpy as np

from gudgeon.answers.fix_bench import (
    FixBench,
    Made,
    Proposal,
    Trial,
    balance_point,
    first_guess,
    level_station,
    most_of,
    proposed,
    solved,
    unused,
)
from gudgeon.answers.saying import note, plain
from gudgeon.design.hardware import Fitting
from gudgeon.design.model import Design
from gudgeon.physics.hull import half_width_at, skin_heights
from gudgeon.physics.lure import Lure
from gudgeon.units import Measure, Reading

_END = 0.12  # of the length from an end: as near to it as stick-on lead or a plug sits well
_ON_BELLY = "{mass} of stick-on lead on the belly {at} from the nose"
_ASIDE = 0.6  # of the half-width: how far from the middle a weight at the side lies


def station_at_end(bench: FixBench) -> float:
    """[m] aft of the nose, near the light end."""
    hull = bench.seen.lure.hull
    return hull.stop - _END * hull.length if bench.light_end > 0 else hull.start + _END * hull.length


def stuck(design: Design, lure: Lure, mass: float, at: float, offset: float = 0.0) -> Made:
    """Stick-on lead on the belly at a station [m], so far to the right [m]."""
    height = float(skin_heights(lure.hull, np.array([at]), np.array([offset]))[0][0])
    name = unused("stick-on lead", [fitting.name for fitting in design.fittings])
    piece = Fitting.model_construct(name=name, kind="stick-on", weight=Reading(mass), material="lead", at=at,
                                    height=height, offset=offset)  # fmt: skip
    return design.model_copy(update={"fittings": (*design.fittings, piece)}), frozenset()


def _stick_on(bench: FixBench, at: float, offset: float, arm: float, words: str) -> Iterator[Proposal]:
    lure = bench.seen.lure
    found = solved(bench, lambda mass: stuck(bench.seen.design, lure, mass, at, offset), first_guess(bench, arm),
                    most_of(bench))  # fmt: skip
    if found is not None:
        mass, made, changed = found
        yield Proposal(note(words, mass=(mass, Measure.MASS), at=(at, Measure.CUT), aside=(abs(offset), Measure.CUT)),
                       made[0], changed)  # fmt: skip


def _stick_at_end(bench: FixBench) -> Iterator[Proposal]:
    at = station_at_end(bench)
    yield from _stick_on(bench, at, 0.0, at - balance_point(bench), _ON_BELLY)


def _stick_by_hook(bench: FixBench) -> Iterator[Proposal]:
    hooks = sorted(bench.seen.design.hooks, key=lambda hook: hook.at)
    if not hooks:
        return
    hook = hooks[-1] if bench.light_end > 0 else hooks[0]
    hull = bench.seen.lure.hull
    at = min(max(hook.at, hull.start + 0.05 * hull.length), hull.stop - 0.05 * hull.length)
    if (at - balance_point(bench)) * bench.light_end > 0.01 and abs(at - station_at_end(bench)) > 0.005:
        words = f"{{mass}} of stick-on lead by the {plain(hook.name)}, {{at}} from the nose"
        yield from _stick_on(bench, at, 0.0, at - balance_point(bench), words)


def _stick_in_middle(bench: FixBench) -> Iterator[Proposal]:
    if bench.off < 0.0:
        at = level_station(bench)
        yield from _stick_on(bench, at, 0.0, 0.0, _ON_BELLY)


def _stick_at_side(bench: FixBench) -> Iterator[Proposal]:
    side, at, out = light_side(bench)
    words = f"{{mass}} of stick-on lead low on the {side}, {{aside}} from the middle, {{at}} from the nose"
    yield from _stick_on(bench, at, out, out, words)


def light_side(bench: FixBench) -> tuple[str, float, float]:
    """The side that stands higher, where the body is balanced, and how far out a weight lies there [m]."""
    at, sign = level_station(bench), -1.0 if bench.off > 0.0 else 1.0
    out = sign * _ASIDE * half_width_at(bench.seen.lure.hull, at, 0.0)
    return ("right" if sign > 0.0 else "left"), at, out


def _take_stick_on(bench: FixBench) -> Iterator[Proposal | None]:
    """Each piece of stick-on lead that is on, taken off."""
    design = bench.seen.design
    for piece in (one for one in design.fittings if one.kind == "stick-on"):
        rest = tuple(one for one in design.fittings if one is not piece)
        what = note(f"the {plain(piece.name)} off, {{mass}}", mass=(piece.weight.value, Measure.MASS))
        yield proposed(bench, what, (design.model_copy(update={"fittings": rest}), frozenset()))


STICK_TRIALS: Mapping[str, Trial] = {
    "stick-on at the end": _stick_at_end, "stick-on by the hook": _stick_by_hook,
    "stick-on in the middle": _stick_in_middle, "stick-on at the side": _stick_at_side,
    "take stick-on": _take_stick_on,
}  # fmt: skip
