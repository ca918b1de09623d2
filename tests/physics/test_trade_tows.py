"""What makers see of a towed lure, as far as the model has it too: common practice, no source, every line of it."""

from dataclasses import replace
from statistics import median

import pytest
from benchmarks.trial_lure import THIRDS, TREBLES, TrialLure, build

from gudgeon.physics.chain_motion import PLANAR, starts, tow
from gudgeon.physics.swim_reading import SwimReading, swim_readings

LURE = TrialLure(hooks=TREBLES)


def readings(lure: TrialLure, speed: float) -> tuple[SwimReading, ...]:
    chain = build(lure)
    motion = tow(chain, speed, starts(chain, speed, 8), 60.0 * lure.length / speed, free=PLANAR)
    return swim_readings(chain, motion, speed)


@pytest.mark.parametrize("speed", [0.3, 0.6, 1.2, 2.0])
def test_cuts_at_thirds_swim_from_a_slow_to_a_fast_retrieve(speed: float) -> None:
    """Common practice, no source. Free hinges: their friction alone sets how slow is too slow."""
    found = readings(replace(LURE, cuts=THIRDS), speed)
    assert sum(one.kind == "swims" for one in found) >= 4


def test_a_stiff_tail_fin_quietens_the_swim() -> None:
    """Common practice, no source."""
    plain = replace(LURE, hooks=())
    without, finned = (readings(lure, 1.0) for lure in (plain, replace(plain, fin=(0.025, plain.depth))))
    assert median(one.beat for one in finned) < median(one.beat for one in without)
    assert median(one.tail_sweep for one in finned) < median(one.tail_sweep for one in without)
