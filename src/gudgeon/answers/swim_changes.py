"""What would make the beat lazier or quicker and the sweep wider: changes tried on the chain, one at a time.

Each change is towed beside the lure as it is with several sets of the model's constants. It is offered only where every
set with which the lure swims agrees on the direction, and by more than the sums themselves scatter.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median

from gudgeon.answers.swum import SWIMS
from gudgeon.answers.tow_runs import Progress, Towed, TowTask, silent, towed
from gudgeon.answers.towed_chain import coefficient_sets, towed_chain
from gudgeon.design.model import Design
from gudgeon.errors import Refusal
from gudgeon.physics.chain import Chain
from gudgeon.physics.lure import Lure
from gudgeon.physics.spread import Estimate

SCATTER = 0.03
"""Share by which the same lure's beat or sweep scatters from start to start."""
CONSTANTS = ("wake_reattachment", "crossflow_drag_sideways", "afterbody_recovery")
"""The constants that move the swim most; each is put at its low and its high end."""

_ENOUGH = 4  # sets of constants with which it swims before and after
_FEWEST = 3  # starts that swim, with one set

Change = Callable[[Design, Chain], "Chain | Design | None"]


@dataclass(frozen=True)
class SwimChange:
    """What one change does at one speed.

    words : what is changed
    beat, sweep : share by which it grows, over the sets of constants; None where they do not agree, or it is too little
    ends  : whether it ends the swim with every set
    """

    words: str
    beat: Estimate | None
    sweep: Estimate | None
    ends: bool

    @property
    def is_told(self) -> bool:
        """Whether there is anything to say of it."""
        return self.ends or self.beat is not None or self.sweep is not None


def swim_changes(
    design: Design, lure: Lure, speed: float, assembled: Callable[[Design], Lure], progress: Progress = silent
) -> tuple[SwimChange, ...]:
    """Every change whose effect exceeds what the model is unsure of, the strongest on the sweep first.

    speed     : [m/s]
    assembled : a changed design as a lure with the same ballast in
    """
    sets = constant_sets(design)
    wholes = [towed_chain(design, lure, speed=speed, coefficients=own) for own in sets]
    words, tasks = [], [TowTask(chain, speed) for chain in wholes]
    for what, change in _CHANGES.items():
        chains = _changed(design, change, wholes, sets, speed, assembled)
        if chains:
            words.append(what)
            tasks += [TowTask(chain, speed) for chain in chains]
    runs = towed(tasks, progress)
    count = len(sets)
    now = runs[:count]
    found = [_compared(what, now, runs[count * (place + 1) : count * (place + 2)]) for place, what in enumerate(words)]
    told = [one for one in found if one.is_told]
    return tuple(sorted(told, key=lambda one: -abs(one.sweep.value if one.sweep else 0.0)))


def constant_sets(design: Design) -> list[Mapping[str, float]]:
    """The constants as they are, then each of the strong ones at either end: name -> value, the rest as they are."""
    sets = coefficient_sets(design)
    ends = [{name: side[name]} for name in CONSTANTS for side in (sets.low, sets.high)]
    return [{}, *ends]


def _changed(design: Design, change: Change, wholes: Sequence[Chain], sets: Sequence[Mapping[str, float]],
             speed: float, assembled: Callable[[Design], Lure]) -> list[Chain]:  # fmt: skip
    """The changed chain with each set; none where the change makes no sense for this lure."""
    made = change(design, wholes[0])
    if made is None:
        return []
    if isinstance(made, Chain):
        return [chain for whole in wholes if isinstance(chain := change(design, whole), Chain)]
    try:
        lure = assembled(made)
        return [towed_chain(made, lure, speed=speed, coefficients=own) for own in sets]
    except Refusal:  # a cut or a tail that this lure has no room for
        return []


def _compared(words: str, now: Sequence[Towed], then: Sequence[Towed]) -> SwimChange:
    pairs = [(_middles(before), _middles(after)) for before, after in zip(now, then, strict=True)]
    begun = [(before, after) for before, after in pairs if before]
    swum = [(before, after) for before, after in begun if after]
    ends = len(begun) >= _ENOUGH and not swum and words != _NO_FIN
    if len(swum) < max(_ENOUGH, len(begun)):
        return SwimChange(words, None, None, ends)
    beat, sweep = (_agreed([after[what] / before[what] - 1.0 for before, after in swum]) for what in (0, 1))
    return SwimChange(words, None if words in _BEAT_IN_DOUBT else beat, sweep, ends=False)


def _middles(run: Towed) -> tuple[float, float] | None:
    """Beat and sweep of those that swim; None where too few do to tell."""
    swim = run.of(SWIMS)
    if len(swim) < _FEWEST:
        return None
    return median(one.beat for one in swim), median(one.tail_sweep for one in swim)


def _agreed(shares: Sequence[float]) -> Estimate | None:
    low, high = min(shares), max(shares)
    if low * high <= 0.0 or min(abs(low), abs(high)) < SCATTER:
        return None
    return Estimate(median(shares), low, high)


def _swing(times: float) -> Change:
    def change(_: Design, chain: Chain) -> Chain | None:
        joints = chain.joints
        if not len(joints.most_left):
            return None
        return replace(chain, joints=replace(joints, most_left=times * joints.most_left,
                                             most_right=times * joints.most_right))  # fmt: skip

    return change


def _hooks(times: float) -> Change:
    def change(_: Design, chain: Chain) -> Chain | None:
        points = chain.points
        return replace(chain, points=replace(points, drag_area=times * points.drag_area)) if len(points.piece) else None

    return change


def _cut(joint: int, share: float) -> Change:
    """One cut moved aft by a share of the length, its hinge with it."""

    def change(design: Design, _: Chain) -> Design | None:
        if joint >= len(design.joints):
            return None
        moved = design.joints[joint].model_copy(update={"at": design.joints[joint].at + share * design.length})
        joints = (*design.joints[:joint], moved, *design.joints[joint + 1 :])
        return design.model_copy(update={"joints": joints})

    return change


def _no_fin(design: Design, _: Chain) -> Design | None:
    return None if design.fin is None else design.model_copy(update={"fin": None})


def _fewer(design: Design, _: Chain) -> Design | None:
    """The last cut left out: the last two pieces made one."""
    if len(design.joints) < 2:
        return None
    last = len(design.joints)
    hinges = tuple(hinge for hinge in design.hinges if hinge.joint != last)
    names = design.segments[:-1] if design.segments else None
    return design.model_copy(update={"joints": design.joints[:-1], "hinges": hinges, "segments": names})


_NO_FIN = "no tail fin"
_LESS_DRAG, _MORE_DRAG = "hooks and fittings with half the drag", "hooks and fittings with half as much drag again"
_CHANGES: Mapping[str, Change] = {
    "a quarter less swing at the joints": _swing(0.75),
    "a quarter more swing at the joints": _swing(1.25),
    _LESS_DRAG: _hooks(0.5),
    _MORE_DRAG: _hooks(1.5),
    "the first cut 5 % of the length farther forward": _cut(0, -0.05),
    "the first cut 5 % of the length farther aft": _cut(0, 0.05),
    "the last two pieces made one": _fewer,
    _NO_FIN: _no_fin,
}
_BEAT_IN_DOUBT = frozenset({_LESS_DRAG, _MORE_DRAG, _NO_FIN})
"""Hooks quicken the model's beat and slow the flow solution's by a little; a fin slows it three times as much as there.
Of these beats nothing is told, nor of an end of the swim for want of a fin."""
