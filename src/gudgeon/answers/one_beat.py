"""One beat of a towed lure: the start that swims most like the others, at even moments of its last whole beat."""

from dataclasses import dataclass
from statistics import median

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.swum import SWIMS
from gudgeon.answers.tow_runs import Towed
from gudgeon.physics.tow_poses import piece_outlines, placed, poses

MOMENTS = 8

Line = NDArray[np.float64]


@dataclass(frozen=True)
class BeatDrawn:
    """A beat, or as long a stretch of what does not beat.

    period : [s]
    frames : of each moment, per piece: its outline from above (n, 2) and from the side (n, 2) [m]; x the way it is
             towed, from the point that is towed along; y to starboard, z down
    """

    speed: float
    period: float
    frames: tuple[tuple[tuple[Line, Line], ...], ...]


def typical_start(run: Towed) -> int:
    """The start whose sweep lies in the middle of those that swim; the first where none does."""
    swim = [place for place, reading in enumerate(run.readings) if reading.kind == SWIMS]
    if not swim:
        return 0
    middle = median(run.readings[place].tail_sweep for place in swim)
    return min(swim, key=lambda place: abs(run.readings[place].tail_sweep - middle))


def one_beat(run: Towed, moments: int = MOMENTS) -> BeatDrawn:
    """The last whole beat of the typical start."""
    start, motion, chain = typical_start(run), run.motion, run.task.chain
    reading = run.readings[start]
    period = 1.0 / reading.beat if reading.kind == SWIMS else float(chain.pieces.length.sum()) / run.task.speed
    last = min(float(motion.times[-1]), float(motion.tumbled[start]))
    wanted = last - period + period * np.arange(moments) / moments
    rows = np.clip(np.searchsorted(motion.times, wanted), 0, len(motion.times) - 1)
    found = poses(motion.place[rows, :, start], motion.attitude[rows, :, start], motion.angles[rows, :, start],
                  chain.joints.place)  # fmt: skip
    outlines = piece_outlines(chain)
    return BeatDrawn(run.task.speed, period, tuple(placed(outlines, found, moment) for moment in range(moments)))
