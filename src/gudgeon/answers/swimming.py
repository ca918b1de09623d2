"""Does it track, swim, lean, lock or tumble at each speed, how it beats, and where it blows out."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median

import numpy as np

from gudgeon.answers.eye_places import side_middle
from gudgeon.answers.swim_findings import swim_findings
from gudgeon.answers.swim_trust import MOST_CLAIMED, TRUST
from gudgeon.answers.swum import LEANS, SWIMS, TUMBLES, AtSpeed, BlowOut, Growth, Swimming
from gudgeon.answers.tow_runs import Progress, Towed, TowTask, silent, towed
from gudgeon.answers.towed_chain import tow_speeds, towed_chain
from gudgeon.design.model import Design
from gudgeon.errors import NoAnswer
from gudgeon.physics.chain import Chain
from gudgeon.physics.chain_motion import growing
from gudgeon.physics.lure import Lure
from gudgeon.physics.spread import Estimate

HALF = 0.5
"""Share of the starts that must swim, or leave the upright, for a speed to count as such: our own."""
HOOK_TIMES = (1.25, 1.5, 2.0, 3.0)
_UPRIGHT_TIMES = 2.0  # how many times the distance between the centres is tried as a cause of blow-out


def swimming(
    design: Design, lure: Lure, *, speeds: Sequence[float] | None = None, progress: Progress = silent
) -> Swimming:
    """A lure towed over a range of speeds, from eight starts at each.

    lure   : with its ballast in
    speeds : [m/s] the maker's own and the usual sweep when left out
    raises : NoAnswer for a lure that cannot be towed, BadDesign, OutsideSource
    """
    chosen = tuple(sorted(set(speeds))) if speeds is not None else tow_speeds(design)
    chains = [towed_chain(design, lure, speed=speed) for speed in chosen]
    middle = chains[_middle(design, chosen)]
    own = [TowTask(chain, speed) for chain, speed in zip(chains, chosen, strict=True)]
    more = [TowTask(_with_hooks(middle, times), chosen[_middle(design, chosen)]) for times in HOOK_TIMES]
    runs = towed([*own, *more], progress)
    sweep, hooked = runs[: len(own)], runs[len(own) :]
    answer = Swimming(
        design=design, lure=lure, speeds=tuple(_at_speed(run) for run in sweep), slowest=_slowest(sweep),
        blow_out=_blow_out(sweep), growth=tuple(_growth(run.task) for run in sweep),
        hook_margin=_hook_margin(sweep[_middle(design, chosen)], hooked),
        is_claimed=len(lure.segments) <= MOST_CLAIMED, runs=sweep, shown=_to_show(sweep, _middle(design, chosen)),
        findings=(),
    )  # fmt: skip
    return replace(answer, findings=swim_findings(answer))


def _middle(design: Design, speeds: Sequence[float]) -> int:
    """Which speed stands for the lure's use: the middle of its maker's own, or of all."""
    own = [place for place, speed in enumerate(speeds) if speed in design.aim.speeds]
    return own[len(own) // 2] if own else len(speeds) // 2


def _at_speed(run: Towed) -> AtSpeed:
    counts = Counter(reading.kind for reading in run.readings)
    shares = tuple((kind, count / len(run.readings)) for kind, count in counts.most_common())
    swim = run.of(SWIMS) if run.share(SWIMS) >= HALF else ()  # of one odd start in eight nothing is told
    steady = [reading for reading in run.readings if reading.kind != TUMBLES]
    pull = "swimming pull" if swim else "straight pull"

    def told(trust: str, values: Sequence[float]) -> Estimate | None:
        if not values:
            return None
        middle = median(values)
        known = TRUST[trust].of if trust == "pitch" else TRUST[trust].size
        return known(middle, max(abs(value - middle) for value in values))

    turns = np.array([reading.joints for reading in swim]) if swim else np.zeros((1, 0))
    return AtSpeed(
        speed=run.task.speed, starts=len(run.readings), shares=shares, kind=shares[0][0],
        beat=told("beat", [reading.beat for reading in swim]),
        tail_sweep=told("sweep", [2.0 * reading.tail_sweep for reading in swim]),
        head_sweep=told("sweep", [2.0 * reading.head_sweep for reading in swim]),
        roll=told("roll", [reading.most_roll for reading in steady]),
        list_angle=told("roll", [abs(reading.mean_roll) for reading in steady]),
        pitch=told("pitch", [reading.mean_pitch for reading in steady]),
        pull=told(pull, [reading.mean_pull for reading in steady]),
        joints=tuple(float(turn) for turn in np.median(turns, axis=0)),
    )  # fmt: skip


def _slowest(sweep: Sequence[Towed]) -> Estimate | None:
    """Where half of the starts come to swim, between two speeds in proportion to the starts that do.

    So that one start more or less moves it by little; its range holds the speeds between none and all of them.
    """
    for place, (before, after) in enumerate(pairwise(sweep)):
        few, many = before.share(SWIMS), after.share(SWIMS)
        if many >= HALF > few:
            slow, fast = before.task.speed, after.task.speed
            known = TRUST["slowest"].of(slow + (HALF - few) / (many - few) * (fast - slow))
            still = [run.task.speed for run in sweep[: place + 1] if run.share(SWIMS) == 0.0]
            sure = next((run.task.speed for run in sweep[place + 1 :] if run.share(SWIMS) == 1.0), fast)
            return Estimate(known.value, min(known.low, still[-1] if still else slow), max(known.high, sure))
    return None


def _upright(run: Towed) -> bool:
    return run.share(LEANS) + run.share(TUMBLES) < HALF


def _blow_out(sweep: Sequence[Towed]) -> BlowOut | None:
    """The first speed above which it does not stay upright again, with what would have kept it so."""
    if _upright(sweep[-1]):
        return None
    first = next(place for place in range(len(sweep)) if not any(_upright(run) for run in sweep[place:]))
    run = sweep[first]
    low = sweep[first - 1].task.speed if first else 0.0
    known = TRUST["blow-out"].of(0.5 * (low + run.task.speed) if first else run.task.speed)
    how = LEANS if run.share(LEANS) >= run.share(TUMBLES) else TUMBLES
    speed = Estimate(known.value, min(known.low, low or known.low), max(known.high, run.task.speed))
    return BlowOut(speed, how, _cause(run))


def _cause(run: Towed) -> str:
    """What of the three, changed alone, keeps it upright at that speed."""
    chain = run.task.chain
    tried = {
        "the eye is too far above or below the middle of the side, so the water's push on the side and the line's pull "
        "roll it": _eye_at_middle(chain),
        "the weight hangs too little below the buoyancy to hold it upright": _stiffer(chain),
    }  # fmt: skip
    runs = towed([TowTask(other, run.task.speed) for other in tried.values()])
    kept = [words for words, other in zip(tried, runs, strict=True) if _upright(other)]
    if kept:
        return kept[0]
    return "the water turns it broadside faster than line and joints bring it back"


def _eye_at_middle(chain: Chain) -> Chain:
    """Tied at the height of the side's middle."""
    eye = chain.line.eye.copy()
    eye[2] = side_middle(chain)
    return replace(chain, line=replace(chain.line, eye=eye))


def _stiffer(chain: Chain) -> Chain:
    """The weight hung twice as far below the buoyancy."""
    pieces = chain.pieces
    apart = (_UPRIGHT_TIMES - 1.0) * (pieces.centre[:, 2] - pieces.buoyancy_centre[:, 2])
    centre = pieces.centre.copy()
    centre[:, 2] += np.maximum(apart, 1e-3)
    return replace(chain, pieces=replace(pieces, centre=centre))


def _with_hooks(chain: Chain, times: float) -> Chain:
    return replace(chain, points=replace(chain.points, drag_area=times * chain.points.drag_area))


def _hook_margin(run: Towed, hooked: Sequence[Towed]) -> float | None:
    if run.share(SWIMS) < HALF:
        return None
    for times, other in zip(HOOK_TIMES, hooked, strict=True):
        if other.share(SWIMS) < HALF:
            return times
    return None


def _growth(task: TowTask) -> Growth | None:
    try:
        fastest = growing(task.chain, task.speed)[0]
    except NoAnswer:
        return None
    return Growth(task.speed, fastest.rate, fastest.way, fastest.what)


def _to_show(sweep: Sequence[Towed], middle: int) -> Towed:
    """The tow that is drawn: at the middle speed if it swims there, else the nearest speed that does."""
    swims = [place for place, run in enumerate(sweep) if run.share(SWIMS) > 0.0]
    return sweep[min(swims, key=lambda place: abs(place - middle))] if swims else sweep[middle]


