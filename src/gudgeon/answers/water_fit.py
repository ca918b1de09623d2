"""Constants of the towed model from what was seen at the water, kept apart from the published ones.

Fitted, with what the tests speak of: beats and swimming pulls move how a piece takes up the wake ahead of it and the
flow across the body; a pull with taped joints moves the drag of hooks and fittings; the speed of the first list moves
the height about which the water pushes on the side. The others stay as they are: tests at the dock hardly see them.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import median

import numpy as np

from gudgeon.answers.swum import SWIMS, TUMBLES
from gudgeon.answers.tow_runs import Progress, Towed, TowTask, silent, towed
from gudgeon.answers.towed_chain import towed_chain
from gudgeon.design.bench import DockTest
from gudgeon.design.model import Design
from gudgeon.errors import NoAnswer
from gudgeon.library.drag import Coefficient
from gudgeon.library.towing import limits, towing_coefficients
from gudgeon.physics.fitting import Fitted, fitted
from gudgeon.physics.lure import Lure
from gudgeon.physics.spread import Estimate
from gudgeon.physics.straight_tow import straight_drag
from gudgeon.units import Reading

MODEL_OFF = 0.05
"""Share by which the model itself is off whatever its constants, from start to start and by what it leaves out."""
FIRST_LIST = math.radians(15.0)
_LIST_OFF = math.radians(5.0)
_UNSURE = 0.1  # share of a reading without a spread of its own
_FEWEST = 3

_MOVED_BY = {
    "beats": ("wake_reattachment", "crossflow_drag_sideways"),
    "pull": ("crossflow_drag_sideways", "hook_drag_coefficient"),
    "taped": ("hook_drag_coefficient",),
    "lists": ("side_centre_shift",),
}


@dataclass(frozen=True)
class FittedConstant:
    """One constant before and after; [SI] in `unit`."""

    name: str
    unit: str
    before: Estimate
    after: Estimate


@dataclass(frozen=True)
class TestFit:
    """One test: what was measured, and how far off the fitted model is, in half-widths of the measurement.

    left : None where the model does not do what was seen, so that nothing can be held against it
    """

    test: DockTest
    of: str
    left: float | None


@dataclass(frozen=True)
class WaterFit:
    """What the tests say.

    family : what bodies it may be used for, in words
    """

    design: Design
    constants: tuple[FittedConstant, ...]
    tests: tuple[TestFit, ...]
    family: str


@dataclass(frozen=True)
class _Seen:
    """One number to be met: which test, what of it, its value and standard deviation [SI]."""

    test: DockTest
    of: str
    value: float
    deviation: float


def water_fit(design: Design, lure: Lure, progress: Progress = silent) -> WaterFit:
    """The constants that the design's [[dock]] tests speak of.

    lure   : with its ballast in
    raises : NoAnswer without a test, where none of what they saw is what the model does, or for a lure that cannot be
             towed
    """
    seen = [one for test in design.dock for one in _seen(test)]
    if not seen:
        raise NoAnswer("there is no [[dock]] test to fit to; write what was counted, pulled or seen at which speed")
    known = towing_coefficients(design.coefficients.towing)
    names = tuple(dict.fromkeys(name for one in seen for name in _MOVED_BY[one.of]))
    before = [known[name] for name in names]
    ends = [limits(name) for name in names]
    rounds = _Rounds(design, lure, names, seen, progress)
    found = fitted(
        rounds.computed, before=np.array([one.value for one in before]),
        before_deviations=np.array([0.25 * (one.high - one.low) for one in before]),
        measured=np.array([one.value for one in seen]), deviations=np.array([one.deviation for one in seen]),
        least=np.array([low for low, _ in ends]), most=np.array([high for _, high in ends]),
    )  # fmt: skip
    tests = tuple(TestFit(one.test, one.of, 0.5 * float(left) if math.isfinite(left) else None)
                  for one, left in zip(seen, found.left, strict=True))  # fmt: skip
    spoken_of = {name for one in tests if one.left is not None for name in _MOVED_BY[one.of]}
    constants = tuple(one for one in _constants(before, found) if one.name in spoken_of)
    if not constants:
        raise NoAnswer("nothing can be fitted: these tests saw a lure that beats, and the model tows this one without "
                       "a beat at those speeds, so what they saw cannot be told against it. A pull with the joints "
                       "taped, or one at a speed where it does not beat, can be")  # fmt: skip
    return WaterFit(design, constants, tests, family_of(design))


def family_of(design: Design) -> str:
    """What kind of body the constants belong to."""
    pieces = len(design.joints) + 1
    body = "one piece" if pieces == 1 else f"{pieces} pieces, jointed"
    parts = [words for words, has in (("lip", design.lip is not None), ("tail fin", design.fin is not None)) if has]
    return f"{body}, {' and '.join(parts)}" if parts else f"{body}, no lip or fin"


def _seen(test: DockTest) -> list[_Seen]:
    found = []
    for of, reading in (("beats", test.beats), ("taped" if test.taped else "pull", test.pull)):
        if reading is not None:
            found.append(_Seen(test, of, reading.value, _deviation(reading)))
    if test.lists:
        found.append(_Seen(test, "lists", FIRST_LIST, 0.5 * _LIST_OFF))
    return found


def _deviation(reading: Reading) -> float:
    """Of the measurement and of the model together; half-widths are two standard deviations."""
    own = 0.5 * reading.spread_or(_UNSURE * reading.value)
    return math.hypot(own, MODEL_OFF * reading.value)


class _Rounds:
    """The design towed again and again with other constants."""

    def __init__(self, design: Design, lure: Lure, names: Sequence[str], seen: Sequence[_Seen],
                 progress: Progress) -> None:  # fmt: skip
        self.design, self.lure, self.names, self.seen, self.progress = design, lure, names, seen, progress

    def computed(self, values: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> np.ndarray[
            tuple[int, ...], np.dtype[np.float64]]:  # fmt: skip
        """What each test should give with those constants; not a number where the lure does not swim."""
        own = dict(zip(self.names, (float(value) for value in values), strict=True))
        speeds = sorted({one.test.speed for one in self.seen if one.of != "taped"})
        tasks = [TowTask(towed_chain(self.design, self.lure, speed=speed, coefficients=own), speed) for speed in speeds]
        runs = {run.task.speed: run for run in (towed(tasks, self.progress) if tasks else ())}
        return np.array([self._one(one, runs, own) for one in self.seen])

    def _one(self, one: _Seen, runs: Mapping[float, Towed], own: Mapping[str, float]) -> float:
        if one.of == "taped":
            chain = towed_chain(self.design, self.lure, speed=one.test.speed, coefficients=own)
            return 0.5 * chain.density * one.test.speed**2 * straight_drag(chain).whole
        run = runs[one.test.speed]
        if one.of == "lists":
            return median(abs(reading.mean_roll) for reading in run.readings)
        swim = run.of(SWIMS)
        if one.of == "beats":
            return median(reading.beat for reading in swim) if len(swim) >= _FEWEST else math.nan
        if len(swim) < _FEWEST and one.test.beats is not None:
            return math.nan  # a beating lure pulls harder than the straight tow that the model has here
        steady = swim if len(swim) >= _FEWEST else [reading for reading in run.readings if reading.kind != TUMBLES]
        return median(reading.mean_pull for reading in steady) if steady else math.nan


def _constants(before: Sequence[Coefficient], found: Fitted) -> tuple[FittedConstant, ...]:
    return tuple(
        FittedConstant(one.name, one.unit, Estimate(one.value, one.low, one.high),
                       Estimate(value, value - 2.0 * off, value + 2.0 * off))
        for one, value, off in zip(before, found.values.tolist(), found.deviations.tolist(), strict=True)
    )  # fmt: skip
