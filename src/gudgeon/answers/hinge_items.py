"""Hinges as ledger items: what they weigh, half to each piece; wood that is cut away; slots that the water fills."""

from collections.abc import Iterable, Sequence
from functools import partial

import numpy as np

from gudgeon.answers.hinge_made import Lump, MadeHinge
from gudgeon.answers.hinge_parts import made_hinge
from gudgeon.answers.parts import Bench, looked_up
from gudgeon.design.hardware import Hinge
from gudgeon.errors import Fault
from gudgeon.library.metals import material
from gudgeon.physics.lure import DRILLED, RIGGED
from gudgeon.physics.mass import Effect, Item, Place

GLUE = "Epoxy"
_SIZE_SPREAD = 0.1  # of the mass of parts, and of slots, made by eye to drawn sizes; common practice, no source


def hinge_items(bench: Bench, grown: float) -> list[Item]:
    """Every hinge of a design as items; what cannot be built joins the bench's faults.

    grown : [m] how much wider the finished body is than drawn
    """
    items = []
    for number, hinge in enumerate(bench.design.hinges, start=1):
        faults = _faults(bench, number, hinge)
        bench.faults.extend(faults)
        if _knows_stuff(bench, number, hinge) and not faults:
            made = made_hinge(number, hinge, bench.design.joints[hinge.joint - 1], bench.hull, grown)
            items += _items(bench, hinge, made)
    return items


def _knows_stuff(bench: Bench, number: int, hinge: Hinge) -> bool:
    named = (("material", hinge.material), ("pin_material", hinge.pin_material))
    found = [looked_up(bench.faults, f"hinge {number}.{key}", partial(material, name)) for key, name in named]
    return None not in found


def _faults(bench: Bench, number: int, hinge: Hinge) -> list[Fault]:
    design, faults = bench.design, []
    if hinge.joint > len(design.joints):
        there = f"the joints are 1 to {len(design.joints)}" if design.joints else "the body has no joint"
        faults.append(Fault(f"hinge {number}.joint", f"there is no joint {hinge.joint}; {there}"))
    before = [place for place, other in enumerate(design.hinges[: number - 1], start=1) if other.joint == hinge.joint]
    if before:
        words = f"joint {hinge.joint} has hinge {before[0]} already; write all its levels there, in heights"
        faults.append(Fault(f"hinge {number}.joint", words))
    names = [fitting.name for fitting in design.fittings]
    if hinge.locked_by is not None and hinge.locked_by not in names:
        there = ", ".join(f"'{name}'" for name in names) or "none"
        words = f"there is no fitting '{hinge.locked_by}'; there are: {there}"
        faults.append(Fault(f"hinge {number}.locked_by", words))
    return faults


def part_masses(hinge: Hinge, made: MadeHinge) -> dict[str, float]:
    """[kg] of each part by its name; of a hinge weighed whole, each its share of it."""
    own = {part.name: part.volume * material(part.material).density for part in made.parts}
    whole = sum(own.values())
    share = 1.0 if hinge.weight is None or whole <= 0.0 else hinge.weight.value / whole
    return {name: share * mass for name, mass in own.items()}


def _items(bench: Bench, hinge: Hinge, made: MadeHinge) -> list[Item]:
    masses = part_masses(hinge, made)
    mass = sum(masses.values())
    spread = _SIZE_SPREAD * mass
    if hinge.weight is not None:
        spread = hinge.weight.spread_or(bench.design.uncertainty.scale)
    bare = [part.bare for part in made.parts]
    place = _middle([(masses[part.name], _part_place(part.fixed, part.bare)) for part in made.parts])
    outside = sum(lump.volume for lump in bare)
    lift = _middle([(lump.volume, lump.place) for lump in bare]) if outside > 0.0 else place
    unsure = bench.design.uncertainty.fitting_place
    effects = (Effect(f"weight of {made.name}", 0.5 * spread, 0.5 * outside * spread / mass if mass else 0.0),
               Effect(f"place of {made.name}", shift=(unsure, 0.0, 0.0)))  # fmt: skip
    pieces = (made.joint - 1, made.joint)
    items = [Item(made.name, "hinge", piece, 0.5 * mass, place, 0.5 * outside, lift, RIGGED, effects)
             for piece in pieces]  # fmt: skip
    for piece in pieces:
        items += [_wood_out(bench, made, lumps, piece, is_open=is_open)
                  for lumps, is_open in ((made.gone, False), (made.voids, True))
                  if any(lump.piece == piece and lump.volume > 0.0 for lump in lumps)]  # fmt: skip
        glue = [lump for lump in made.glue if lump.piece == piece and lump.volume > 0.0]
        if glue:
            items.append(_glue(made, glue, piece))
    return items


def _wood_out(bench: Bench, made: MadeHinge, lumps: Sequence[Lump], piece: int, *, is_open: bool) -> Item:
    """Wood cut away; where water stands in its place it is displacement lost too."""
    own = [lump for lump in lumps if lump.piece == piece]
    volume = sum(lump.volume for lump in own)
    gone, lost = bench.wood_density * volume, volume if is_open else 0.0
    name = f"{'slots' if is_open else 'wood out'} for {made.name}, {bench.segments[piece].name}"
    place = _middle([(lump.volume, lump.place) for lump in own])
    effects = [Effect(source, mass=-gone * by) for source, by in bench.wood_spreads[piece].items()]
    effects.append(Effect(f"slots for {made.name}", mass=-_SIZE_SPREAD * gone, displaced=-_SIZE_SPREAD * lost))
    return Item(name, "slot", piece, -gone, place, -lost, place, DRILLED, tuple(effects))


def _glue(made: MadeHinge, lumps: Sequence[Lump], piece: int) -> Item:
    volume = sum(lump.volume for lump in lumps)
    place = _middle([(lump.volume, lump.place) for lump in lumps])
    return Item(f"glue for {made.name}", "glue", piece, volume * material(GLUE).density, place, 0.0, place, RIGGED)


def _part_place(fixed: Sequence[Lump], bare: Lump) -> Place:
    return _middle([(lump.volume, lump.place) for lump in (*fixed, bare)])


def _middle(weighed: Iterable[tuple[float, Place]]) -> Place:
    """Weighted middle of places (3,) [m]."""
    weights, places = zip(*weighed, strict=True)
    x, y, z = (np.asarray(weights) @ np.asarray(places) / sum(weights)).tolist()
    return x, y, z
