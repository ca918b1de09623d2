"""How fast lures are towed: seconds of motion a second, a sweep of speeds, the cache, and the same sums in C.

Run by hand: python -m benchmarks.towing
"""

import ctypes
import os
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter, thread_time

import numpy as np
from numba import njit

from benchmarks.trial_lure import TrialLure, build
from gudgeon.kernels.lanes import LANES, load, store
from gudgeon.kernels.strip_loads import strip_loads
from gudgeon.kernels.tables import (
    BROADSIDE,
    FRONT_AXIS,
    FRONT_PLACE,
    LATERAL,
    STALL,
    SUCTION,
    TWIST,
    WORK_ROWS,
    WRENCH,
)
from gudgeon.physics.chain import Chain
from gudgeon.physics.chain_motion import starts, tow
from gudgeon.physics.chain_tables import chain_tables

SPEEDS = np.linspace(0.3, 3.0, 12)
DURATION = 10.0
BALLAST = ((0, 0.006, -0.035, 0.012), (1, 0.004, -0.028, 0.012), (2, 0.0014, -0.02, 0.010))
C_SOURCE = Path(__file__).with_name("strip_loads.c")
TIMES = 20_000
SECOND_PROCESS = """
from benchmarks.towing import lure
from gudgeon.kernels.chain_steps import force_and_mass, rates, run
from gudgeon.physics.chain_motion import growing, starts, tow
chain = lure(1.0)
tow(chain, 1.0, starts(chain, 1.0), 0.1), growing(chain, 1.0)
print(sum(sum(one.stats.cache_misses.values()) for one in (run, rates, force_and_mass)))
"""


@dataclass(frozen=True)
class Line:
    """One thing measured: what is claimed is at least or at most a number, or nothing."""

    words: str
    value: float
    unit: str
    least: float | None = None
    most: float | None = None

    @property
    def verdict(self) -> str:
        """Whether it is within what is claimed."""
        if self.least is None and self.most is None:
            return ""
        met = (self.least is None or self.value >= self.least) and (self.most is None or self.value <= self.most)
        return "met" if met else "MISSED"

    def __str__(self) -> str:
        claimed = "" if not self.verdict else f">= {self.least:g}" if self.least is not None else f"<= {self.most:g}"
        return f"{self.words:58}{self.value:10.3g} {self.unit:10}{claimed:>10}  {self.verdict}"


def lure(speed: float, pieces: int = 3) -> Chain:
    """A ballasted lure of so many pieces, fourteen strips to each, two hooks, on 2 m of line."""
    cuts = tuple(np.arange(1, pieces) / pieces)
    ballast = BALLAST if pieces == 3 else tuple((piece, 0.011 / pieces, -0.02, 0.012) for piece in range(pieces))
    return build(TrialLure(cuts=cuts, ballast=ballast, density=850.0, line_length=2.0, friction_speed=speed))


def least_seconds(work: Callable[[], object], times: int = 5, clock: Callable[[], float] = perf_counter) -> float:
    """The quickest of several runs, one before them not counted.

    clock : `thread_time` counts only what this thread had of a core, on a machine with other work
    """
    work()
    found = []
    for _ in range(times):
        began = clock()
        work()
        found.append(clock() - began)
    return min(found)


def seconds_a_second(pieces: int) -> float:
    """Seconds of motion, all starts together, that one core does in a second at 1 m/s."""
    chain = lure(1.0, pieces)
    begun = starts(chain, 1.0)
    return LANES * DURATION / least_seconds(lambda: tow(chain, 1.0, begun, DURATION), clock=thread_time)


def sweep() -> None:
    """Eight starts at each of twelve speeds, on as many threads as there are cores."""

    def one(speed: float) -> object:
        chain = lure(speed)
        return tow(chain, speed, starts(chain, speed), DURATION)

    with ThreadPoolExecutor(max_workers=os.cpu_count() or 1) as pool:
        list(pool.map(one, SPEEDS.tolist()))


def compiled_again() -> int:
    """How many kernels a second process compiles anew."""
    found = 0
    for _ in range(2):
        done = subprocess.run([sys.executable, "-c", SECOND_PROCESS], check=True, capture_output=True, text=True)
        found = int(done.stdout)
    return found


@njit
def _many(tables, work, times):
    for _ in range(times):
        for row in range(6):
            store(work, WRENCH + row, 0.0)
        strip_loads(tables, 0, work)
        store(work, TWIST, load(work, TWIST) + 1e-12 * load(work, WRENCH))


def over_c() -> float | None:
    """Time that the kernel of the strips takes over that of the same sums in C; None where there is no gcc.

    raises : ArithmeticError when the two do not come to the same
    """
    if shutil.which("gcc") is None:
        return None
    chain = build(TrialLure(cuts=(), strips=42))
    tables, work = chain_tables(chain, 1.0), np.zeros((WORK_ROWS, LANES))
    twist = np.random.default_rng(4).uniform(-0.3, 0.3, (6, LANES)) + np.array([1.0, 0, 0, 0, 0, 0])[:, None]
    front, water = tables.pieces[0], tables.water
    numbers = [front[FRONT_PLACE], front[FRONT_AXIS], *water[[SUCTION, STALL, LATERAL, BROADSIDE]]]
    with tempfile.TemporaryDirectory() as folder:
        library = Path(folder) / "strip_loads.so"
        subprocess.run(["gcc", "-O3", "-march=native", "-fno-math-errno", "-fno-trapping-math", "-shared", "-fPIC",
                        str(C_SOURCE), "-o", str(library), "-lm"], check=True)  # fmt: skip
        function = ctypes.CDLL(str(library)).many_strip_loads
    pointer = ctypes.POINTER(ctypes.c_double)
    own_twist, wrench = twist.copy(), np.zeros((6, LANES))

    def in_c(times: int) -> None:
        function(tables.strips.ctypes.data_as(pointer), len(tables.strips), own_twist.ctypes.data_as(pointer),
                 wrench.ctypes.data_as(pointer), *map(ctypes.c_double, numbers), times)  # fmt: skip

    work[TWIST : TWIST + 6] = twist
    _many(tables, work, 1)
    in_c(1)
    if not np.allclose(work[WRENCH : WRENCH + 6], wrench, rtol=1e-12, atol=1e-14):
        raise ArithmeticError("the kernel and the C program differ")
    ours, theirs = (least_seconds(one, clock=thread_time) for one in (
        lambda: _many(tables, work, TIMES), lambda: in_c(TIMES)))  # fmt: skip
    return ours / theirs


def lines() -> Iterator[Line]:
    """Everything that is measured, in turn."""
    for pieces in (3, 4):
        yield Line(f"{pieces} pieces, 14 strips each: motion on one core", seconds_a_second(pieces), "s/s", least=300.0)
    yield Line("eight starts, twelve speeds, 10 s each, all cores", least_seconds(sweep, 3), "s", most=5.0)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    yield Line("  memory of the process", memory, "MB", most=500.0)
    yield Line("kernels compiled anew in a second process", compiled_again(), "", most=0.0)
    ratio = over_c()
    if ratio is not None:
        yield Line("loads of 42 strips, eight motions: time over C's", ratio, "", most=1.5)


def main() -> None:
    """Print a line for each."""
    for line in lines():
        print(line, flush=True)


if __name__ == "__main__":
    main()
