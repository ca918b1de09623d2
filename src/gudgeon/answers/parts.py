"""Hooks, fittings, lip and fin as ledger items: what they weigh, where they pull, the wood and water they move."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from gudgeon.design.hardware import Fin, Fitting, Hook, Lip
from gudgeon.design.model import Design
from gudgeon.errors import Fault, Refusal
from gudgeon.library.fittings import fitting_habits
from gudgeon.library.hooks import hook_mass
from gudgeon.library.metals import Material, material
from gudgeon.physics.hull import Hull, depth_at
from gudgeon.physics.lure import DRILLED, RIGGED, Segment, segment_at
from gudgeon.physics.mass import Effect, Item, Place
from gudgeon.physics.plate import lip_plate
from gudgeon.units import Reading

_PLATE_SPREAD = 0.1  # of the mass of a plate cut by eye from its drawn size; common practice, no source
Found = TypeVar("Found")


@dataclass(frozen=True)
class Bench:
    """What every part of the assembly needs to place an item.

    faults : what cannot be built, collected as it is met
    """

    design: Design
    hull: Hull
    segments: tuple[Segment, ...]
    wood_density: float
    wood_spreads: tuple[dict[str, float], ...]
    faults: list[Fault]


@dataclass(frozen=True)
class Part:
    """One piece of hardware, before it is made an item.

    place    : (3,) [m] of its weight
    buried   : share of it in the wood
    exposed_at, buried_at : (3,) [m] middles of what shows and of what is in the wood; `place` where none is given
    """

    name: str
    kind: str
    mass: float
    mass_spread: float
    stuff: Material
    place: Place
    buried: float
    segments: tuple[int, ...]
    exposed_at: Place | None = None
    buried_at: Place | None = None


def looked_up(faults: list[Fault], place: str, look: Callable[[], Found]) -> Found | None:
    """What a table answers, or None with the table's refusal kept among the faults."""
    try:
        return look()
    except Refusal as refusal:
        faults.append(Fault(place, refusal.heading))
        return None


def hardware(bench: Bench) -> list[Item]:
    """Every hook, fitting, lip and fin of a design as items."""
    design = bench.design
    parts = [_hook(bench, place, hook) for place, hook in enumerate(design.hooks, start=1)]
    parts += [_fitting(bench, place, fitting) for place, fitting in enumerate(design.fittings, start=1)]
    parts += [_lip(bench, design.lip)] if design.lip else []
    parts += [_fin(bench, design.fin)] if design.fin else []
    return [item for part in parts if part is not None for item in part_items(bench, part)]


def part_items(bench: Bench, part: Part) -> list[Item]:
    """A part as items: itself and the wood it replaces, shared between neighbours when it spans a joint."""
    share = 1.0 / len(part.segments)
    volume = part.mass / part.stuff.density
    outside = volume * (1.0 - part.buried)
    weighing = f"weight of {part.name}"
    density = part.stuff.density
    effects = (
        Effect(weighing, share * part.mass_spread, share * part.mass_spread / density * (1.0 - part.buried)),
        Effect(f"density of {part.name}", displaced=-share * outside * part.stuff.spread / density),
        Effect(f"place of {part.name}", shift=(bench.design.uncertainty.fitting_place, 0.0, 0.0)),
    )
    items: list[Item] = []
    for segment in part.segments:
        items.append(Item(part.name, part.kind, segment, share * part.mass, part.place, share * outside,
                          part.exposed_at or part.place, RIGGED, effects))  # fmt: skip
        if part.buried > 0.0:
            items.append(_slot(bench, part, segment, share * volume * part.buried))
    return items


def _slot(bench: Bench, part: Part, segment: int, volume: float) -> Item:
    gone = bench.wood_density * volume
    effects = tuple(Effect(source, mass=-gone * by) for source, by in bench.wood_spreads[segment].items())
    place = part.buried_at or part.place
    return Item(f"wood out for {part.name}", "slot", segment, -gone, place, 0.0, place, DRILLED, effects)


def _stuff(bench: Bench, place: str, name: str) -> Material | None:
    return looked_up(bench.faults, place, lambda: material(name))


def _height(bench: Bench, station: float, given: float | None, sits: str) -> float:
    if given is not None:
        return given
    if sits != "belly":
        return 0.0
    inside = min(max(station, 1e-4 * bench.hull.length), (1 - 1e-4) * bench.hull.length)
    return depth_at(bench.hull, inside)[0]


def _hook(bench: Bench, number: int, hook: Hook) -> Part | None:
    table = f"hook {number} '{hook.name}'"
    stuff = _stuff(bench, f"{table}.material", hook.material)
    mass = _hook_mass(bench, table, hook)
    if stuff is None or mass is None:
        return None
    place = (hook.at, hook.offset, _height(bench, hook.at, hook.height, "belly"))
    owners = segment_at(bench.segments, hook.at)[:1]
    return Part(hook.name, "hook", mass.value, mass.spread_or(0.0), stuff, place, 0.0, owners)


def _hook_mass(bench: Bench, table: str, hook: Hook) -> Reading | None:
    """[kg] as weighed; else as the drawer's hooks of its size were; else the table's for the size."""
    unsure = bench.design.uncertainty
    size = hook.size or ""
    own = next((one.weight for one in bench.design.stock.hooks if hook.size == one.size), None)
    weighed = hook.weight or own
    if weighed is not None:
        return Reading(weighed.value, weighed.spread_or(unsure.scale))
    found = looked_up(bench.faults, f"{table}.size", lambda: hook_mass(size))
    if found is None:
        return None
    return Reading(found.mass, max(unsure.table_hook * found.mass, found.spread))


def _fitting(bench: Bench, number: int, fitting: Fitting) -> Part | None:
    stuff = _stuff(bench, f"fitting {number} '{fitting.name}'.material", fitting.material)
    if stuff is None:
        return None
    habit = fitting_habits()[fitting.kind]
    place = (fitting.at, fitting.offset, _height(bench, fitting.at, fitting.height, habit.sits))
    buried = habit.buried_share if fitting.buried is None else fitting.buried
    spread = fitting.weight.spread_or(bench.design.uncertainty.scale)
    return Part(fitting.name, "fitting", fitting.weight.value, spread, stuff, place, buried,
                segment_at(bench.segments, fitting.at))  # fmt: skip


def _plate(bench: Bench, stuff: Material, weight: Reading | None, volume: float) -> tuple[float, float]:
    """Mass and spread [kg] of a plate: as weighed, or from its volume."""
    if weight is not None:
        return weight.value, weight.spread_or(bench.design.uncertainty.scale)
    return volume * stuff.density, volume * stuff.density * _PLATE_SPREAD


def _lip(bench: Bench, lip: Lip) -> Part | None:
    stuff = _stuff(bench, "lip.material", lip.material)
    if stuff is None:
        return None
    flat = lip_plate(lip.shape, exposed=lip.exposed, set_in=lip.set_in, width=lip.width)
    shown, tang = flat.beyond(0.0, axis=0), flat.short_of(0.0, axis=0)
    mass, spread = _plate(bench, stuff, lip.weight, flat.area * lip.thickness)

    def along(out: float) -> Place:
        return lip.at - out * math.cos(lip.angle), 0.0, lip.height - out * math.sin(lip.angle)

    exposed_at = along(shown.centre[0]) if shown else None
    buried_at, buried = (along(tang.centre[0]), tang.area / flat.area) if tang else (None, 0.0)
    return Part("lip", "lip", mass, spread, stuff, along(flat.centre[0]), buried,
                segment_at(bench.segments, lip.at)[:1], exposed_at, buried_at)  # fmt: skip


def _fin(bench: Bench, fin: Fin) -> Part | None:
    stuff = _stuff(bench, "fin.material", fin.material)
    if stuff is None:
        return None
    shown = fin.length * fin.tall * fin.fill
    tang = fin.set_in * fin.tall * 0.5
    volume = (shown + tang) * fin.thickness
    mass, spread = _plate(bench, stuff, fin.weight, volume)
    buried = tang / (shown + tang)
    exposed_at = (fin.at + 0.5 * fin.length, 0.0, fin.height)
    buried_at = (fin.at - 0.5 * fin.set_in, 0.0, fin.height)
    place = (exposed_at[0] * (1.0 - buried) + buried_at[0] * buried, 0.0, fin.height)
    return Part("fin", "fin", mass, spread, stuff, place, buried, segment_at(bench.segments, fin.at)[:1],
                exposed_at, buried_at)  # fmt: skip
