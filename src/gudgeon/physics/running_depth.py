"""How deep a lure runs on its line: a line towed straight and level, in balance with the water, from the lure up.

At s along the line from the lure, T is its tension and f its angle to the flow, 0 along it and a quarter turn upright:

    T' = F_t cos^2 f + w sin f        T f' = -F_n sin^2 f + w cos f        x' = cos f        z' = sin f

F_n = 1/2 rho C_n d U^2 across the line, F_t = 1/2 rho C_t pi d U^2 along it, w its weight in water, all per length.
source : the towed cable of Pode, DTMB 687 (1951), with drag across and along taken apart; from memory, checked against
         its closed form and by energy. Stretch, waves, current and the line's lift are left out.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer
from gudgeon.units import STANDARD_GRAVITY

Array = NDArray[np.float64]

_FLAT = 1e-6  # rad; a line that lies flatter lies on the water


@dataclass(frozen=True)
class LineLoads:
    """What the water does to each metre of a line at one speed.

    across : [N/m] F_n     along : [N/m] F_t     weight : [N/m] in water, less than nothing for a line that floats
    """

    across: float
    along: float
    weight: float


@dataclass(frozen=True)
class LinePull:
    """What the lure does to the line's lower end.

    down : [N] downward, lift of the water and weight in it together     back : [N] its drag
    """

    down: float
    back: float

    @property
    def tension(self) -> float:
        """[N]"""
        return math.hypot(self.down, self.back)

    @property
    def angle(self) -> float:
        """[rad] of the line to the flow at the lure."""
        return math.atan2(self.down, self.back)


@dataclass(frozen=True)
class LineRun:
    """Where a line runs.

    depth    : [m] of the lure below the place where the line ends, or leaves the water
    trail    : [m] of the lure behind it, along the water
    tension  : [N] of the line there
    angle    : [rad] of the line to the flow there
    wet      : [m] of it in the water
    dry      : [m] from the water to the rod tip, 0 without one
    """

    depth: float
    trail: float
    tension: float
    angle: float
    wet: float
    dry: float

    @property
    def behind(self) -> float:
        """[m] of the lure behind the line's upper end, the rod tip where there is one."""
        return self.trail + self.dry * math.cos(self.angle)


def line_loads(
    *,
    diameter: float,
    speed: float,
    water_density: float,
    line_density: float,
    normal_drag: float,
    tangential_drag: float,
) -> LineLoads:
    """What the water does to each metre of a round line.

    diameter : [m]     speed : [m/s]     water_density, line_density : [kg/m3]
    normal_drag     : across, on the diameter     tangential_drag : along, on the skin
    """
    pressure, section = 0.5 * water_density * speed**2, 0.25 * math.pi * diameter**2
    return LineLoads(across=pressure * normal_drag * diameter, along=pressure * tangential_drag * math.pi * diameter,
                     weight=(line_density - water_density) * STANDARD_GRAVITY * section)  # fmt: skip


def light_line(pull: LinePull, loads: LineLoads, length: float) -> LineRun:
    """The run of a weightless line with drag across it only, in closed form; its tension is the same throughout.

    length  : [m] all of it in the water
    returns : depth = (asinh c1 - asinh c0)/k, trail = ((1 + c1^2)^0.5 - (1 + c0^2)^0.5)/k, with k = F_n/T,
              c0 = cot f0 and c1 = c0 + k s; written here so that a short or slow line loses no digits
    raises  : NoAnswer for a lure that does not pull down
    source  : T f' = -F_n sin^2 f integrated; worked out here
    """
    _pulls_down(pull)
    bend = loads.across * length / pull.tension
    start = pull.back / pull.down
    end = start + bend
    root, end_root = math.hypot(1.0, start), math.hypot(1.0, end)
    mean = (start + end) / (root + end_root)
    growth = bend * (1.0 + mean) / (start + root)
    depth = length * (1.0 + mean) / (start + root) * (math.log1p(growth) / growth if growth > 0.0 else 1.0)
    return LineRun(depth, length * mean, pull.tension, math.atan2(1.0, end), length, 0.0)


def line_run(pull: LinePull, loads: LineLoads, length: float, *, rod_height: float | None = None) -> LineRun:
    """The run of any line, step by step.

    length     : [m] from the lure to its upper end
    rod_height : [m] of the rod tip above the water; the line then goes straight from the water to it. None where all of
                 the line is in the water, as from a deep planer
    raises     : NoAnswer when the lure does not pull down, when the line is too short to reach the water, or when so
                 much floating line is out that part of it lies on the water
    """
    _pulls_down(pull)
    if rod_height is not None and rod_height / math.sin(pull.angle) >= length:
        raise NoAnswer(f"{length:.3g} m of line from a rod tip {rod_height:.3g} m up holds the lure at the surface; "
                       "let out more")  # fmt: skip
    tension, angle, trail, depth, wet = _integrate(pull, loads, length, rod_height or 0.0)
    dry = 0.0 if rod_height is None else length - wet
    return LineRun(depth, trail, tension, angle, wet, dry)


@dataclass(frozen=True)
class _End:
    """Where the steps stop: the place along the line at which something comes to nothing."""

    left: Callable[[float, Array], float]
    terminal: bool = True

    def __call__(self, place: float, state: Array) -> float:
        return self.left(place, state)


def _pulls_down(pull: LinePull) -> None:
    if not pull.down > 0.0:
        raise NoAnswer("the lure does not pull its line down, so it runs at the surface")


def _integrate(
    pull: LinePull, loads: LineLoads, length: float, rod_height: float
) -> tuple[float, float, float, float, float]:
    """Tension, angle, trail, height and length of line where it ends, or where what is left reaches the rod tip."""
    from scipy.integrate import solve_ivp

    def slopes(_: float, state: Array) -> list[float]:
        tension, angle = float(state[0]), float(state[1])
        sine, cosine = math.sin(angle), math.cos(angle)
        bend = (-loads.across * sine * abs(sine) + loads.weight * cosine) / tension
        return [loads.along * cosine**2 + loads.weight * sine, bend, cosine, sine]

    def left_over(place: float, state: Array) -> float:
        return length - place - rod_height / max(math.sin(float(state[1])), _FLAT)

    def slant(_: float, state: Array) -> float:
        return float(state[1]) - _FLAT

    done = solve_ivp(slopes, (0.0, length), [pull.tension, pull.angle, 0.0, 0.0], rtol=1e-9, atol=1e-12,
                     method="DOP853", events=(_End(left_over), _End(slant)))  # fmt: skip
    tension, angle, trail, height = (float(value) for value in done.y[:, -1])
    if angle <= 2.0 * _FLAT:
        raise NoAnswer(f"beyond {float(done.t[-1]):.3g} m this line lies on the water; let out less, or go faster")
    return tension, angle, trail, height, float(done.t[-1])


def critical_angle(loads: LineLoads) -> float:
    """Angle [rad] to the flow at which a long heavy line lies straight, whatever hangs on it.

    raises : NoAnswer for a line that weighs nothing
    source : F_n sin^2 f = w cos f, solved for the cosine: Pode, DTMB 687 (1951), from memory
    """
    if not loads.weight > 0.0:
        raise NoAnswer("a line that does not sink has no angle of its own")
    if loads.across <= 0.0:
        return 0.5 * math.pi
    share = loads.weight / loads.across
    return math.acos(2.0 / (share + math.hypot(share, 2.0)))
