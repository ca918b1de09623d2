"""Where a harness's wire runs through the wood, piece by piece, and the channel it lies in."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.shanks import EYES
from gudgeon.design.hardware import Harness
from gudgeon.design.model import Design
from gudgeon.physics.hull import Hull
from gudgeon.physics.lure import Segment
from gudgeon.physics.shapes import Box, Rod, Shape

Array = NDArray[np.float64]

CHANNEL_WIRES = 2.0  # width of the bore or slot of one strand, in wires; docs/design-file.md
CHANNEL_TWISTED = 3.0  # the same for two strands, which are two wires wide; common practice, no source


@dataclass(frozen=True)
class Run:
    """A harness's way through one piece, counted from 0: from station to station [m]."""

    piece: int
    start: float
    stop: float


def hung_on(design: Design) -> frozenset[str]:
    """Names of the fittings a harness joins: the tow eye and every hanger."""
    return frozenset(fitting.name for fitting in design.fittings if fitting.kind in ("tow eye", *EYES, "wire"))


def runs(design: Design, hull: Hull, segments: tuple[Segment, ...]) -> tuple[Run, ...]:
    """From the first of what hangs on it to the last, hooks too; none without a harness or anything to hang on it."""
    return () if design.harness is None else way(design, hull, segments)


def crosses(design: Design, hull: Hull, segments: tuple[Segment, ...]) -> tuple[int, ...]:
    """The joints, counted from 0, that a wire from the first of what hangs on it to the last holds stiff."""
    pieces = [run.piece for run in way(design, hull, segments)]
    return tuple(range(min(pieces), max(pieces))) if pieces else ()


def way(design: Design, hull: Hull, segments: tuple[Segment, ...]) -> tuple[Run, ...]:
    """Where a harness's wire runs, or would run; none without anything to hang on it."""
    names = hung_on(design)
    stations = [fitting.at for fitting in design.fittings if fitting.name in names] + [hook.at for hook in design.hooks]
    if not stations:
        return ()
    first, last = max(min(stations), hull.start), min(max(stations), hull.stop)
    spans = ((piece, max(first, own.start), min(last, own.stop)) for piece, own in enumerate(segments))
    return tuple(Run(piece, start, stop) for piece, start, stop in spans if stop > start)


def channel_width(harness: Harness) -> float:
    """[m] of its bore or slot: as told, else by its wire and strands."""
    return harness.channel or (CHANNEL_TWISTED if harness.twisted else CHANNEL_WIRES) * harness.wire


def channel(hull: Hull, harness: Harness, run: Run) -> Shape:
    """A bore along the run, or a slot up from the lowest of the belly there."""
    wide = channel_width(harness)
    if harness.runs == "bored":
        return Rod((run.start, 0.0, harness.height), (run.stop, 0.0, harness.height), 0.5 * wide)
    bottom = float(hull.belly(np.linspace(run.start, run.stop, 33)).min())
    top = harness.height + 0.5 * wide
    return Box((0.5 * (run.start + run.stop), 0.0, 0.5 * (bottom + top)),
               (0.5 * (run.stop - run.start), 0.5 * wide, 0.5 * max(top - bottom, wide)))  # fmt: skip


def channel_chords(hull: Hull, harness: Harness, stations: Array) -> tuple[Array, Array]:
    """The channel's section at stations (n,) [m], kept within the body: its area [m2], the height of its middle [m].

    A bore that the body closes over in part counts as far as its own middle line is in the wood.
    """
    wide, back, belly = channel_width(harness), hull.back(stations), hull.belly(stations)
    if harness.runs == "bored":
        inside = (belly < harness.height) & (harness.height < back)
        return np.where(inside, 0.25 * np.pi * wide**2, 0.0), np.full_like(back, harness.height)
    top = np.minimum(harness.height + 0.5 * wide, back)
    return wide * np.maximum(top - belly, 0.0), 0.5 * (top + belly)
