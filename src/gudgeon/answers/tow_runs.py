"""Many tows at once: each chain at its speed from several starts, over all cores, with word of how far it is."""

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from dataclasses import dataclass

import numpy as np

from gudgeon.physics.chain import Chain
from gudgeon.physics.chain_motion import Motion, starts, tow
from gudgeon.physics.swim_reading import SwimReading, swim_readings

Progress = Callable[[int, int], None]
"""Told how many tows are done, of how many."""

STARTS = 8
LENGTHS = 40.0
"""Lengths of the lure that it is towed through in one run; the first half is left for it to settle."""
_LEAST, _MOST = 4.0, 30.0  # s


def silent(_done: int, _of: int) -> None:
    """Says nothing."""


@dataclass(frozen=True)
class TowTask:
    """One chain to be towed: speed [m/s]."""

    chain: Chain
    speed: float

    @property
    def duration(self) -> float:
        """[s] of towing."""
        length = float(self.chain.pieces.length.sum())
        return float(np.clip(LENGTHS * length / self.speed, _LEAST, _MOST))


@dataclass(frozen=True)
class Towed:
    """What came of one task: what each start came to, and the motion itself."""

    task: TowTask
    readings: tuple[SwimReading, ...]
    motion: Motion

    def share(self, kind: str) -> float:
        """Share of the starts that ended so."""
        return sum(reading.kind == kind for reading in self.readings) / len(self.readings)

    def of(self, kind: str) -> tuple[SwimReading, ...]:
        """The starts that ended so."""
        return tuple(reading for reading in self.readings if reading.kind == kind)


def towed(tasks: Sequence[TowTask], progress: Progress = silent) -> tuple[Towed, ...]:
    """Every task done, in the order given. Stopped by the keyboard, it begins no further tow."""
    found: dict[int, Towed] = {}
    with ThreadPoolExecutor(max_workers=os.cpu_count() or 1) as pool:
        waiting = {pool.submit(_one, task): place for place, task in enumerate(tasks)}
        progress(0, len(tasks))
        try:
            for done in as_completed(waiting):
                found[waiting[done]] = done.result()
                progress(len(found), len(tasks))
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise
    return tuple(found[place] for place in range(len(tasks)))


def _one(task: TowTask) -> Towed:
    motion = tow(task.chain, task.speed, starts(task.chain, task.speed, STARTS), task.duration)
    return Towed(task, swim_readings(task.chain, motion, task.speed), motion)
