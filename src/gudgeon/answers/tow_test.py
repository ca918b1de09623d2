"""Everything a drawn lure is asked of its towing, in order: the swim, what would change it, the eye, the depth."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from gudgeon.answers.assembly import assemble
from gudgeon.answers.check import check
from gudgeon.answers.eye_places import EyePlaces, eye_places
from gudgeon.answers.finding import worst_first
from gudgeon.answers.running import LINES, RunningDepths, running_depths
from gudgeon.answers.swim_changes import SwimChange, swim_changes
from gudgeon.answers.swimming import swimming
from gudgeon.answers.swum import Swimming
from gudgeon.answers.tow_runs import Progress
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure

Stage = Callable[[str], Progress]
"""Told what is being towed; gives what is told how far that is."""


@dataclass(frozen=True)
class TowTest:
    """A lure towed on paper; changes and eye are None where they were not asked for, the eye for a lure with a lip."""

    swimming: Swimming
    changes: tuple[SwimChange, ...] | None
    eye: EyePlaces | None
    depths: RunningDepths


def tow_test(
    design: Design, *, speeds: Sequence[float] | None = None, lines: Sequence[float] = LINES, changes: bool = True,
    stage: Stage,
) -> TowTest:  # fmt: skip
    """All of it, on the lure with the ballast that is to go in.

    speeds  : [m/s] the maker's own and the usual sweep when left out
    lines   : [m] of line let out
    changes : whether to try what would change the swim, and other places for the eye
    raises  : BadDesign, NoAnswer, OutsideSource
    """
    lure = check(design).lure
    swum = swimming(design, lure, speeds=speeds, progress=stage("towing at each speed"))
    own = [one.speed for one in swum.speeds if one.speed in design.aim.speeds] or [swum.shown.task.speed]
    depths = running_depths(design, lure, lines=lines, speeds=speeds or own, swum=swum.runs)
    swum = replace(swum, findings=worst_first([*swum.findings, *depths.findings]))
    found = TowTest(swum, None, None, depths)
    return with_changes(found, stage) if changes else found


def with_changes(found: TowTest, stage: Stage) -> TowTest:
    """The same with what would change the swim, and other places for the eye; raises as a tow test does."""
    swum = found.swimming
    design, lure, speed = swum.design, swum.lure, swum.shown.task.speed
    tried = swim_changes(design, lure, speed, _assembler(lure), stage("trying what would change it"))
    if design.lip is not None:
        return replace(found, changes=tried)  # the best place rolls least, and a lip is there to roll it
    return replace(found, changes=tried, eye=eye_places(design, lure, stage("trying places for the tow eye")))


def _assembler(lure: Lure) -> Callable[[Design], Lure]:
    """Changed designs as lures with the same ballast in."""
    return lambda changed: assemble(changed).filled(lure.held)
