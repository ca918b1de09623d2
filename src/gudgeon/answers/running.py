"""How deep it runs: line let out, its thickness, the speed, and how the towed lure pulls on it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.swim_trust import TRUST
from gudgeon.answers.swum import TUMBLES
from gudgeon.answers.tow_lines import LineStuff, line_stuff
from gudgeon.answers.tow_runs import Progress, Towed, TowTask, silent, towed
from gudgeon.answers.towed_chain import coefficient_sets, tow_speeds, towed_chain
from gudgeon.design.model import Design
from gudgeon.errors import NoAnswer
from gudgeon.physics.lure import Lure
from gudgeon.physics.running_depth import LineLoads, LinePull, line_loads, line_run
from gudgeon.physics.spread import Estimate

LINES = (5.0, 10.0, 20.0, 40.0)
"""[m] of line from the rod tip, where the maker names none."""
ROD_TIP = 1.5
"""[m] of the rod tip above the water; common practice, no source."""


@dataclass(frozen=True)
class Running:
    """One length of line at one speed.

    speed : [m/s]      line : [m] from the rod tip
    depth : [m] of the lure under the surface; None where it runs at the surface
    pull  : [N] at the rod tip
    why   : why there is no depth; empty where there is one
    """

    speed: float
    line: float
    depth: Estimate | None
    pull: Estimate | None
    why: str


@dataclass(frozen=True)
class RunningDepths:
    """Depths by line and speed.

    runs : slowest first, shortest line first
    """

    stuff: LineStuff
    runs: tuple[Running, ...]

    def at(self, speed: float) -> tuple[Running, ...]:
        """Every line at one speed."""
        return tuple(run for run in self.runs if run.speed == speed)


def running_depths(
    design: Design, lure: Lure, *, lines: Sequence[float] = LINES, speeds: Sequence[float] | None = None,
    swum: Sequence[Towed] = (), progress: Progress = silent,
) -> RunningDepths:  # fmt: skip
    """How deep a lure runs.

    lines  : [m] from the rod tip
    speeds : [m/s] the maker's own when left out, or the usual sweep
    swum   : tows that were done already, and need not be done again
    """
    chosen = sorted(speeds if speeds is not None else design.aim.speeds or tow_speeds(design))
    done = {run.task.speed: run for run in swum}
    left = [TowTask(towed_chain(design, lure, speed=speed), speed) for speed in chosen if speed not in done]
    done |= {run.task.speed: run for run in (towed(left, progress) if left else ())}
    stuff, known = line_stuff(design), coefficient_sets(design).value
    runs = []
    for speed in chosen:
        loads = line_loads(diameter=stuff.diameter, speed=speed, water_density=lure.water.density,
                           line_density=stuff.density, normal_drag=known["line_normal_drag"],
                           tangential_drag=known["line_tangential_drag"])  # fmt: skip
        pull = line_pull(done[speed])
        runs += [_run(speed, length, pull, loads) for length in sorted(lines)]
    return RunningDepths(stuff, tuple(runs))


def _run(speed: float, length: float, pull: LinePull | None, loads: LineLoads) -> Running:
    if pull is None:
        return Running(speed, length, None, None, "it tumbles")
    try:
        run = line_run(pull, loads, length, rod_height=ROD_TIP)
    except NoAnswer:
        return Running(speed, length, None, None, "at the surface")
    return Running(speed, length, TRUST["depth"].of(run.depth), TRUST["swimming pull"].of(run.tension), "")


def line_pull(run: Towed) -> LinePull | None:
    """What the towed lure does to its line, in the middle of its starts; None where every one tumbles.

    The line's last stretch slants from the lure up to a point that moves level: its mean slant tells the share of the
    pull that is down.
    """
    down, back = [], []
    for lane, reading in enumerate(run.readings):
        if reading.kind == TUMBLES:
            continue
        slant = run.motion.line_slant(run.task.chain, lane)
        down.append(reading.mean_pull * math.sin(slant))
        back.append(reading.mean_pull * math.cos(slant))
    if not down:
        return None
    return LinePull(float(np.median(down)), float(np.median(back)))
