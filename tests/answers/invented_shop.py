"""A shop that never was, with known habits: its lures weighed, dunked, leaded, dropped, and entered into a real log."""

import math
from dataclasses import dataclass

from numpy.random import Generator

from gudgeon.answers.as_weighed import as_measured
from gudgeon.answers.assembly import assemble
from gudgeon.design.model import Design
from gudgeon.library.water import water_density
from gudgeon.physics.lure import SHAPED, Lure
from gudgeon.physics.mass import VOLUME
from gudgeon.physics.sinking import drag_area, pitch, sink_velocity
from gudgeon.shop.log import Log
from gudgeon.shop.records import Ballast, Board, Jug, TimedDrop, Weighing
from gudgeon.units import Reading

SCALE, DUNK, WATCH = 5e-5, 0.0015, 0.02  # standard deviations: kg, share, share
DISTANCE, WARM = 1.22, 293.15


@dataclass(frozen=True)
class Habits:
    """What this shop truly does: wood [kg/m3], sealer and coats [kg/m2], share of a hole that is lead, drag."""

    wood: float = 480.0
    between: float = 0.05
    within: float = 0.04
    sealer: float = 0.15
    coats: float = 0.60
    filled: float = 0.93
    drag: float = 1.15


def invented(log: Log, text: str, rng: Generator, habits: Habits, *, boards: int = 3, each: int = 4,
             dunked: bool = True) -> None:  # fmt: skip
    """Enter the lures of an invented shop, a run from each board, all with their truths hidden."""
    name = log.add_pattern(text).name
    design = log.design_at(log.pattern_root(name))
    lure = assemble(design)
    for board in range(boards):
        called = f"B{board + 1}"
        log.add_board(Board(called, "poplar", moisture=Reading(0.09)))
        own = habits.wood * math.exp(rng.normal(0.0, habits.between))
        for made in log.add_lures(name, each, board=called):
            density = own * math.exp(rng.normal(0.0, habits.within))
            _one(log, made.number, (design, lure), rng, habits, density, dunked=dunked)


def _one(log: Log, number: int, drawn: tuple[Design, Lure], rng: Generator, habits: Habits, density: float, *,
         dunked: bool) -> None:  # fmt: skip
    design, lure = drawn
    volume = float(lure.state(lure.chosen(step=SHAPED))[0][VOLUME])
    skin = sum(segment.skin for segment in lure.segments)
    mass = density * volume

    def weigh(stage: str) -> None:
        log.weigh(number, Weighing(stage, Reading(mass + rng.normal(0.0, SCALE), 2.0 * SCALE)))

    weigh("shaped")
    if dunked:
        shown = volume * water_density(WARM, 0.0) * (1.0 + rng.normal(0.0, DUNK))
        log.jug(number, Jug("shaped", Reading(shown, 2.0 * DUNK * shown), temperature=Reading(WARM, 0.5)))
    lead = 0.0
    for pocket in design.pockets:
        depth = float(rng.uniform(0.022, 0.025))
        area = 0.25 * math.pi * pocket.bore**2
        held = 11340.0 * area * (depth - pocket.plug) * habits.filled * math.exp(rng.normal(0.0, 0.02))
        log.ballast(number, Ballast(pocket.name, Reading(held, 2.0 * SCALE), depth=depth, bore=pocket.bore))
        mass -= density * area * depth
        lead += held
    mass += habits.sealer * skin * math.exp(rng.normal(0.0, 0.08))
    weigh("sealed")
    mass += lead
    weigh("leaded")
    mass += habits.coats * skin * math.exp(rng.normal(0.0, 0.05))
    weigh("clear")
    _drop(log, number, (design, lure), rng, mass, habits)


def _drop(log: Log, number: int, drawn: tuple[Design, Lure], rng: Generator, mass: float, habits: Habits) -> None:
    """Rigged, weighed, dunked and let go: it sinks by its own weight at the pitch that its lead gives it."""
    design, lure = drawn
    parts = sum(item.mass for item in lure.ledger.items if item.kind not in ("wood", "sealer", "coat"))
    whole, water = mass + parts, water_density(WARM, 0.0)
    log.weigh(number, Weighing("rigged", Reading(whole + rng.normal(0.0, SCALE), 2.0 * SCALE)))
    made = assemble(as_measured(design, log.lure(number)).design)
    state = made.state()[0]
    shown = float(state[VOLUME]) * water
    log.jug(number, Jug("rigged", Reading(shown, 1e-4), temperature=Reading(WARM, 0.5)))
    angle = float(pitch(state[:8], water, lure.falling))
    area = drag_area(angle, lure.falling, habits.drag * math.exp(rng.normal(0.0, 0.03)))
    velocity = float(sink_velocity(whole - shown, water, area))
    times = tuple(DISTANCE / velocity * math.exp(rng.normal(0.0, WATCH)) for _ in range(3))
    log.drop(number, TimedDrop("rigged", Reading(DISTANCE), times, temperature=Reading(WARM, 0.5)))
