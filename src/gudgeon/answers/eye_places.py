"""Where the tow eye keeps a lure upright longest: heights and stations tried at speeds up to the fastest."""

from dataclasses import dataclass, replace
from statistics import median

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.swum import LEANS, TUMBLES
from gudgeon.answers.tow_runs import Progress, Towed, TowTask, silent, towed
from gudgeon.answers.towed_chain import tow_speeds, towed_chain
from gudgeon.design.model import Design
from gudgeon.physics.chain import Chain
from gudgeon.physics.hull import depth_at
from gudgeon.physics.lure import Lure

Array = NDArray[np.float64]

HEIGHTS = (-0.3, -0.15, 0.0, 0.15, 0.3)
"""Of the head's depth, from the middle of the side: heights that are tried."""
AFT = (0.0, 0.06)
"""Of the length behind the nose: stations that are tried."""
SPEEDS = (0.5, 0.75, 1.0)
"""Of the fastest tow speed."""
_ALIKE = 0.15  # share of the roll within which two places are as good as each other


@dataclass(frozen=True)
class EyePlace:
    """One place for the tow eye.

    station, height : [m] aft of the nose, above the centre line
    upright : [m/s] fastest of the speeds tried at which most starts stay upright; 0 where none do
    roll    : [rad] the most it rolls there, in the middle of the starts
    is_own  : whether it is where the maker drew it
    """

    station: float
    height: float
    upright: float
    roll: float
    is_own: bool


@dataclass(frozen=True)
class EyePlaces:
    """Places tried, best first.

    middle  : [m] height of the middle of the side, about which the water pushes
    as_good : whether the maker's own is as good as the best
    """

    places: tuple[EyePlace, ...]
    middle: float
    as_good: bool

    @property
    def best(self) -> EyePlace:
        """Upright longest, then least roll."""
        return self.places[0]


def eye_places(design: Design, lure: Lure, progress: Progress = silent) -> EyePlaces:
    """Every place tried, best first; the maker's own among them.

    lure   : with its ballast in
    raises : NoAnswer for a lure that cannot be towed
    """
    fastest = tow_speeds(design)[-1]
    speeds = [share * fastest for share in SPEEDS]
    chains = [towed_chain(design, lure, speed=speed) for speed in speeds]
    middle = side_middle(chains[0])
    own = chains[0].line.eye
    tried = [own, *_tried(lure, middle)]
    tasks = [TowTask(_tied(chain, eye), speed) for eye in tried for chain, speed in zip(chains, speeds, strict=True)]
    runs = towed(tasks, progress)
    count = len(speeds)
    places = [_place(eye, runs[count * number : count * (number + 1)], is_own=number == 0)
              for number, eye in enumerate(tried)]  # fmt: skip
    ranked = tuple(sorted(places, key=lambda place: (-place.upright, place.roll)))
    mine, best = places[0], ranked[0]
    as_good = mine.upright >= best.upright and mine.roll <= best.roll * (1.0 + _ALIKE)
    return EyePlaces(ranked, -middle, as_good)


def side_middle(chain: Chain) -> float:
    """z [m, down] of the middle of the side view from the head's level: all pieces and their fin, no lip."""
    strips = chain.strips
    levels = np.concatenate([[0.0], np.cumsum(chain.joints.place[:, 2])])  # of each piece's own origin, its hinge
    heights = strips.height_of_axis + np.repeat(levels, np.diff(strips.first))
    side = strips.depth * strips.length
    return float((heights * side).sum() / side.sum())


def _tried(lure: Lure, middle: float) -> list[Array]:
    """Eyes (3,) in the head's frame, x forward and z down, inside the body's own depth there."""
    hull = lure.hull
    found: list[Array] = []
    for aft in AFT:
        station = hull.start + aft * hull.length
        bottom, top = depth_at(hull, station)
        deepest = max(depth_at(hull, hull.start + 0.15 * hull.length)[1] - bottom, lure.depth)
        for share in HEIGHTS:
            height = float(np.clip(-middle + share * deepest, min(bottom, 0.0), max(top, 0.0)))
            if all(abs(eye[2] + height) > 1e-4 or abs(eye[0] + aft * hull.length) > 1e-4 for eye in found):
                found.append(np.array([-aft * hull.length, 0.0, -height]))
    return found


def _tied(chain: Chain, eye: Array) -> Chain:
    return replace(chain, line=replace(chain.line, eye=eye))


def _place(eye: Array, runs: tuple[Towed, ...], *, is_own: bool) -> EyePlace:
    upright, roll = 0.0, float("inf")
    for run in runs:
        if run.share(LEANS) + run.share(TUMBLES) >= 0.5:
            break
        upright, roll = run.task.speed, median(reading.most_roll for reading in run.readings)
    if upright == 0.0:
        roll = median(reading.most_roll for reading in runs[0].readings)
    return EyePlace(-float(eye[0]), -float(eye[2]), upright, roll, is_own)
