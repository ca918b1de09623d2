"""How long a thing takes: several runs in turn with a yardstick, so that a slow or busy machine shows in both."""

import gc
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median
from time import perf_counter

import numpy as np

Work = Callable[[], object]


@dataclass(frozen=True)
class Timing:
    """Seconds of several runs, and of the yardstick run in between them.

    runs      : (n,) [s]
    yardstick : (n,) [s]
    """

    runs: tuple[float, ...]
    yardstick: tuple[float, ...]

    @property
    def least(self) -> float:
        """The quickest run [s]: the one least disturbed by what else the machine does."""
        return min(self.runs)

    @property
    def middle(self) -> float:
        """The median run [s]."""
        return median(self.runs)

    @property
    def ratio(self) -> float:
        """Median run over median yardstick: what to compare between machines."""
        return self.middle / median(self.yardstick)

    @property
    def later(self) -> float:
        """Median of how much longer a run took than the yardstick run next to it [s]."""
        return median(run - stick for run, stick in zip(self.runs, self.yardstick, strict=True))


def seconds(work: Work) -> float:
    """Seconds that one run takes, rubbish cleared away before it."""
    gc.collect()
    start = perf_counter()
    work()
    return perf_counter() - start


def timed(work: Work, yardstick: Work, times: int) -> Timing:
    """A piece of work and its yardstick, in turn; one run of each goes before and is not counted."""
    work()
    yardstick()
    pairs = [(seconds(work), seconds(yardstick)) for _ in range(times)]
    return Timing(tuple(run for run, _ in pairs), tuple(stick for _, stick in pairs))


def bare_python() -> None:
    """The yardstick of processes: a Python that starts and does nothing."""
    process("-c", "pass")


def fixed_arithmetic() -> float:
    """The yardstick of calls: small arrays and small matrices, in the proportion a check has them, always the same."""
    numbers = np.random.default_rng(7)
    total = 0.0
    for _ in range(60):
        matrix = numbers.standard_normal((60, 60))
        total += float(np.linalg.eigvalsh(matrix @ matrix.T)[-1])
        points = np.linspace(0.0, 1.0, 200)
        for power in range(20):
            total += float(np.sum(points**power * np.cos(power * points)))
    return total


def process(*arguments: str) -> None:
    """A Python process run to its end, its output thrown away.

    raises : CalledProcessError when it fails, since what fails quickly is not quick
    """
    subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)
