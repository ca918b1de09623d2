"""How deep it runs: line let out, its thickness, the speed, and how the towed lure pulls on it.

What draws the line down is the lure's weight in water and the water on its body together. The range of a depth carries
that of the weight as it is known; without a lip, what may float may lie at the surface all the while.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import watch
from gudgeon.answers.swim_trust import TRUST
from gudgeon.answers.swum import TUMBLES
from gudgeon.answers.tow_lines import LineStuff, line_stuff
from gudgeon.answers.tow_runs import Progress, Towed, TowTask, silent, towed
from gudgeon.answers.towed_chain import coefficient_sets, tow_speeds, towed_chain
from gudgeon.design.model import Design
from gudgeon.errors import NoAnswer
from gudgeon.physics.lure import WATER, Lure
from gudgeon.physics.running_depth import LineLoads, LinePull, LineRun, line_loads, line_run
from gudgeon.physics.sinking import excess_mass
from gudgeon.physics.spread import Estimate, smooth
from gudgeon.units import STANDARD_GRAVITY, Measure

LINES = (5.0, 10.0, 20.0, 40.0)
"""[m] of line from the rod tip, where the maker names none."""
_AWASH = 0.05  # m under the surface, and less: at it
ROD_TIP = 1.5
"""[m] of the rod tip above the water; common practice, no source."""


@dataclass(frozen=True)
class Running:
    """One length of line at one speed.

    speed : [m/s]      line : [m] from the rod tip
    depth : [m] of the lure under the surface; None where it runs at the surface
    down  : [N] with which lure and water draw the line down; None where every start tumbles
    pull  : [N] at the rod tip
    why   : why there is no depth; empty where there is one
    """

    speed: float
    line: float
    depth: Estimate | None
    down: Estimate | None
    pull: Estimate | None
    why: str


@dataclass(frozen=True)
class RunningDepths:
    """Depths by line and speed.

    weight : [kg] of the lure in water, less than nothing where it floats
    runs   : slowest first, shortest line first
    """

    stuff: LineStuff
    weight: Estimate
    runs: tuple[Running, ...]
    findings: tuple[Finding, ...]

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
    state, effects = lure.state()
    weight = smooth(lambda s: excess_mass(s, s[..., WATER]), state, effects, lure.knowledge)
    lifted = weight.low < 0.0 and design.lip is None
    runs = []
    for speed in chosen:
        loads = line_loads(diameter=stuff.diameter, speed=speed, water_density=lure.water.density,
                           line_density=stuff.density, normal_drag=known["line_normal_drag"],
                           tangential_drag=known["line_tangential_drag"])  # fmt: skip
        pull = line_pull(done[speed])
        if pull is None:
            runs += [Running(speed, length, None, None, None, "it tumbles") for length in sorted(lines)]
            continue
        drawn = _Drawn(speed, pull, _down(pull, weight), STANDARD_GRAVITY * weight.spread, lifted, loads)
        runs += [drawn.run(length) for length in sorted(lines)]
    return RunningDepths(stuff, weight, tuple(runs), tuple(_told(runs, weight, stuff, lure)) if lifted else ())


def _down(pull: LinePull, weight: Estimate) -> Estimate:
    """What draws the line down [N]: the weight as it is known, and the water's part as far as that is to be trusted."""
    water = pull.down - STANDARD_GRAVITY * weight.value
    half = math.hypot(STANDARD_GRAVITY * weight.spread, TRUST["straight pull"].spread * water)
    return Estimate(pull.down, pull.down - half, pull.down + half)


@dataclass(frozen=True)
class _Drawn:
    """One lure at one speed, drawing its line down.

    speed  : [m/s]
    off    : [N] half-width of its weight in water
    lifted : whether it may float and has no lip to hold it down
    """

    speed: float
    pull: LinePull
    down: Estimate
    off: float
    lifted: bool
    loads: LineLoads

    def run(self, length: float) -> Running:
        """One length of line [m]; at the surface where even the heaviest that it may be does not draw it under."""
        run, deep = self._with(0.0, length), self._with(self.off, length)
        if deep is None or deep.depth < _AWASH:
            return Running(self.speed, length, None, self.down, None, "at the surface")
        middle = 0.0 if run is None else run.depth
        known = TRUST["depth"].of(middle)
        high = middle + math.hypot(deep.depth - middle, known.high - middle)
        shallow = None if run is None or self.lifted else self._with(-self.off, length)
        low = 0.0 if shallow is None else middle - math.hypot(middle - shallow.depth, middle - known.low)
        pull = None if run is None else TRUST["swimming pull"].of(run.tension)
        return Running(self.speed, length, Estimate(middle, max(low, 0.0), high), self.down, pull, "")

    def _with(self, more: float, length: float) -> LineRun | None:
        """The line with so much more weight [N] on it; None where it holds the lure at the surface."""
        try:
            return line_run(replace(self.pull, down=self.pull.down + more), self.loads, length, rod_height=ROD_TIP)
        except NoAnswer:
            return None


def _told(runs: Sequence[Running], weight: Estimate, stuff: LineStuff, lure: Lure) -> Iterator[Finding]:
    """That what may float may stay up, and what the depths rest on, where there are any."""
    if all(run.depth is None for run in runs):
        return
    floats, then = ("It floats", "Without") if weight.high < 0.0 else ("It may float", "If it does, without")
    line = f", on {stuff.name} that floats," if stuff.density < lure.water.density else ""
    yield watch(f"{floats}: weight in water {{weight}}. {then} a lip{line} nothing but the water on its body draws it "
                "down, and at any of these lines it may run at the surface; the depths are what the model gives.",
                weight=(weight, Measure.MASS))  # fmt: skip


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
