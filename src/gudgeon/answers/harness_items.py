"""A harness as ledger items: the run of its wire, the wood its channel takes, and what fills the rest of that.

Loops that show are fittings and weigh as such; here is the straight run between the first of them and the last.
"""

import math
from functools import partial
from itertools import pairwise

from gudgeon.answers.harness_run import Run, channel_chords, runs
from gudgeon.answers.hinge_items import GLUE
from gudgeon.answers.parts import Bench, looked_up
from gudgeon.design.hardware import Harness
from gudgeon.library.metals import material
from gudgeon.physics.lure import DRILLED, RIGGED
from gudgeon.physics.mass import Effect, Item, Place
from gudgeon.physics.quadrature import gauss

NAME = "harness"
HARNESS_GLUE = "glue for the harness"
_SIZE_SPREAD = 0.1  # of the wire's mass, and of its channel, made by eye to drawn sizes; common practice, no source
_POINTS = 32  # along one piece


def harness_items(bench: Bench) -> list[Item]:
    """A design's harness as items, piece by piece; none where it has none. Faults join the bench's."""
    design = bench.design
    if design.harness is None:
        return []
    found = runs(design, bench.hull, bench.segments)
    stuff = looked_up(bench.faults, "harness.material", partial(material, design.harness.material))
    if stuff is None or not found:
        return []
    return [item for run in found for item in _items(bench, design.harness, found, run, stuff.density)]


def strands_area(harness: Harness) -> float:
    """[m2] of metal across the run."""
    return (2.0 if harness.twisted else 1.0) * 0.25 * math.pi * harness.wire**2


def filled_with(harness: Harness) -> str:
    """What is round the wire: as told, else glue in a slot and water in a bore."""
    return harness.filled or ("water" if harness.runs == "bored" else "glue")


def _items(bench: Bench, harness: Harness, all_runs: tuple[Run, ...], run: Run, density: float) -> list[Item]:
    """One piece's: its stretch of wire with half of what shows in the joints, and its channel."""
    bare = 0.5 * sum(after.start - before.stop for before, after in pairwise(all_runs) if run in (before, after))
    whole = all_runs[-1].stop - all_runs[0].start
    share = (run.stop - run.start + bare) / whole
    metal = strands_area(harness) * whole
    mass, spread = metal * density, _SIZE_SPREAD * metal * density
    if harness.weight is not None:
        mass, spread = harness.weight.value, harness.weight.spread_or(bench.design.uncertainty.scale)
        metal = mass / density
    volume, place = _channel(bench, harness, run)
    is_open, wire = filled_with(harness) == "water", metal * (run.stop - run.start) / whole
    wet = metal * share if is_open else metal * bare / whole
    middle = (0.5 * (run.start + run.stop), 0.0, harness.height)
    effects = (Effect(f"weight of the {NAME}", share * spread, wet * spread / mass),
               Effect(f"place of the {NAME}", shift=(bench.design.uncertainty.fitting_place, 0.0, 0.0)))  # fmt: skip
    items = [Item(NAME, NAME, run.piece, share * mass, middle, wet, middle, RIGGED, effects),
             _wood_out(bench, run.piece, volume, place, is_open=is_open)]  # fmt: skip
    if filled_with(harness) == "glue":
        items.append(Item(HARNESS_GLUE, "glue", run.piece, max(volume - wire, 0.0) * material(GLUE).density,
                          place, 0.0, place, RIGGED))  # fmt: skip
    return items


def _channel(bench: Bench, harness: Harness, run: Run) -> tuple[float, Place]:
    """Volume [m3] and middle (3,) [m] of one piece's channel."""
    places, weights = gauss(_POINTS)
    stations = run.start + (run.stop - run.start) * places
    areas, heights = channel_chords(bench.hull, harness, stations)
    slices = (run.stop - run.start) * weights * areas
    volume = float(slices.sum())
    if volume <= 0.0:
        return 0.0, (0.5 * (run.start + run.stop), 0.0, harness.height)
    return volume, (float(slices @ stations) / volume, 0.0, float(slices @ heights) / volume)


def _wood_out(bench: Bench, piece: int, volume: float, place: Place, *, is_open: bool) -> Item:
    """Wood cut away; where water stands in its place it is displacement lost too."""
    gone, lost = bench.wood_density * volume, volume if is_open else 0.0
    effects = [Effect(source, mass=-gone * by) for source, by in bench.wood_spreads[piece].items()]
    effects.append(Effect(f"channel of the {NAME}", mass=-_SIZE_SPREAD * gone, displaced=-_SIZE_SPREAD * lost))
    name = f"channel of the {NAME}, {bench.segments[piece].name}"
    return Item(name, "slot", piece, -gone, place, -lost, place, DRILLED, tuple(effects))
