"""Design + library -> Lure: the only place where what the maker wrote meets what others have published.

A design's second round of faults, what it means rather than what it says, is found here, all at once.
"""

from collections.abc import Sequence
from functools import partial

import numpy as np

from gudgeon.answers.bores import pockets_of
from gudgeon.answers.evidence import readings, weighed_up
from gudgeon.answers.harness_items import harness_items
from gudgeon.answers.hinge_items import hinge_items
from gudgeon.answers.parts import Bench, hardware, looked_up
from gudgeon.answers.timber import Timber, timber
from gudgeon.answers.water_state import water_state
from gudgeon.answers.woodwork import Woodwork, woodwork
from gudgeon.design.model import Design
from gudgeon.errors import BadDesign, Fault
from gudgeon.library.drag import coefficient
from gudgeon.library.metals import material
from gudgeon.physics.hull import Hull
from gudgeon.physics.lure import PAINTED, SEALED, SHAPED, Lure, WaterState
from gudgeon.physics.mass import Effect, Item
from gudgeon.physics.section import section_integrals
from gudgeon.physics.sinking import FallingBody
from gudgeon.physics.spread import nothing_measured

DRAWING = "volume of the drawn body"
DRAWING_ALONG = "buoyancy centre of the drawn body, fore and aft"
DRAWING_HEIGHT = "buoyancy centre of the drawn body, up and down"
FALL_DRAG = "fall drag"
"""Source names that answers ask for again."""


def assemble(design: Design) -> Lure:
    """The lure a design describes, with everything measured taken in.

    raises : BadDesign with every fault of meaning: unknown woods and materials, bores that leave the body
    """
    faults: list[Fault] = []
    worked = woodwork(design, faults)
    wood = timber(design, worked, faults)
    bench = Bench(design, worked.hull, worked.segments, wood.density, wood.spreads, faults)
    items = [*_wood_items(design, worked, wood), *_sealer(design, worked), *_coats(design, worked, faults)]
    items += [*hardware(bench), *hinge_items(bench, worked.build - worked.shown), *harness_items(bench)]
    pockets, pocket_spreads = pockets_of(bench, worked)
    _drawer(design, faults)
    if faults:
        raise BadDesign("the design cannot be built", tuple(faults))
    water = water_state(design.water, design.uncertainty.temperature, design.uncertainty.salinity)
    drag, drag_spread = _fall_drag(design)
    sources = _sources(items, [pocket.name for pocket in pockets], water)
    lure = Lure(
        name=design.name, hull=worked.hull, build=worked.build, shown=worked.shown, segments=worked.segments,
        joints=worked.joints, fixed=tuple(items), pockets=pockets,
        held={pocket.name: pocket.holds.value if pocket.holds else 0.0 for pocket in design.pockets},
        wood_density=wood.density, pocket_spreads=pocket_spreads, wood_spreads=wood.spreads, sources=sources,
        knowledge=nothing_measured(sources), water=water, falling=_falling(worked), fall_drag=drag,
        drag_spread=drag_spread, depth=_depth(worked.hull), eye_height=_eye_height(design),
    )  # fmt: skip
    return lure.knowing(weighed_up(lure.knowledge, readings(design, lure)))


def _drawer(design: Design, faults: list[Fault]) -> None:
    """Faults of what other answers will ask the tables for: shot in stock, weights hung in place of hooks."""
    for number, shot in enumerate(design.stock.shot, start=1):
        looked_up(faults, f"stock.shot {number}.material", partial(material, shot.material))
    for number, stand_in in enumerate(design.tub.stand_ins, start=1):
        looked_up(faults, f"tub.stand_in {number}.material", partial(material, stand_in.material))


def _sources(items: Sequence[Item], pockets: Sequence[str], water: WaterState) -> tuple[str, ...]:
    named = dict.fromkeys(effect.source for item in items for effect in item.effects)
    for pocket in pockets:
        for of in ("weight", "place", "height"):
            named.setdefault(f"{of} of the ballast, {pocket}")
    return (*named, *water.effects, FALL_DRAG)


def _wood_items(design: Design, worked: Woodwork, wood: Timber) -> list[Item]:
    unsure = design.uncertainty
    items = []
    for place, segment in enumerate(worked.segments):
        mass = wood.density * segment.bare
        effects = [
            Effect(DRAWING, mass=unsure.outline_volume * mass, displaced=unsure.outline_volume * segment.bare),
            Effect(DRAWING_ALONG, lift=(unsure.outline_along, 0.0, 0.0)),
            Effect(DRAWING_HEIGHT, lift=(0.0, 0.0, unsure.outline_height)),
            *(Effect(source, mass=share * mass) for source, share in wood.spreads[place].items()),
        ]
        if len(worked.segments) > 1:
            effects.append(Effect(f"{DRAWING}, {segment.name}", mass=0.5 * unsure.outline_volume * mass,
                                  displaced=0.5 * unsure.outline_volume * segment.bare))  # fmt: skip
        effects += _joint_effects(worked, place, wood.density)
        items.append(Item(f"wood, {segment.name}", "wood", place, mass, segment.centre, segment.bare, segment.centre,
                          SHAPED, tuple(effects), worked.spread_out[place]))  # fmt: skip
    return items


def _joint_effects(worked: Woodwork, place: int, density: float) -> list[Effect]:
    touching = [joint for joint in (place - 1, place) if 0 <= joint < len(worked.joints)]
    return [
        Effect(f"gap and vees of joint {joint + 1}", displaced=-0.5 * worked.removal_spreads[joint],
               mass=-0.5 * worked.removal_spreads[joint] * density)
        for joint in touching
    ]  # fmt: skip


def _sealer(design: Design, worked: Woodwork) -> list[Item]:
    if design.sealer is None:
        return []
    total = sum(segment.bare for segment in worked.segments)
    weight = design.sealer.weight
    spread = weight.spread_or(design.uncertainty.sealer * weight.value)
    return [
        Item(f"sealer, {segment.name}", "sealer", place, weight.value * segment.bare / total, segment.centre, 0.0,
             segment.centre, SEALED, (Effect("sealer soaked in", mass=spread * segment.bare / total),))
        for place, segment in enumerate(worked.segments)
    ]  # fmt: skip


def _coats(design: Design, worked: Woodwork, faults: list[Fault]) -> list[Item]:
    items = []
    for number, coat in enumerate(design.coats, start=1):
        if coat.density is not None:
            density, off = coat.density.value, coat.density.spread_or(design.uncertainty.density * coat.density.value)
        else:
            name = coat.material or ""
            found = looked_up(faults, f"coat {number} '{coat.name}'.material", partial(material, name))
            if found is None:
                continue
            density, off = found.density, found.spread
        thick = coat.coats * coat.thickness.value
        unsure = coat.coats * coat.thickness.spread_or(design.uncertainty.coat_thickness * coat.thickness.value)
        for place, segment in enumerate(worked.segments):
            volume = segment.skin * thick
            effects = (Effect(f"thickness of the {coat.name}", mass=segment.skin * unsure * density,
                              displaced=segment.skin * unsure),
                       Effect(f"density of the {coat.name}", mass=volume * off))  # fmt: skip
            items.append(Item(f"{coat.name}, {segment.name}", "coat", place, volume * density, segment.centre, volume,
                              segment.centre, PAINTED, effects))  # fmt: skip
    return items


def _fall_drag(design: Design) -> tuple[float, float]:
    """Drag coefficient across the plan area, and its spread as a share of it."""
    table = coefficient("fall_drag")
    own = design.coefficients
    value = table.value if own.fall_drag is None else own.fall_drag
    if own.fall_drag_spread is not None:
        return value, own.fall_drag_spread / value
    share = 0.2 if own.fall_drag is not None else 0.5 * (table.high - table.low) / table.value
    return value, share


def _falling(worked: Woodwork) -> FallingBody:
    stations = np.linspace(worked.hull.start, worked.hull.stop, 101)[1:-1]
    frontal = float(section_integrals(worked.hull.sections(stations)).area.max())
    areas = np.array([segment.plan_area for segment in worked.segments])
    x, y, z = (float(c) for c in areas @ np.array([segment.plan_centre for segment in worked.segments]) / areas.sum())
    return FallingBody(float(areas.sum()), frontal, (x, y, z), coefficient("axial_drag").value)


def _depth(hull: Hull) -> float:
    stations = np.linspace(hull.start, hull.stop, 101)
    return float((hull.back(stations) - hull.belly(stations)).max())


def _eye_height(design: Design) -> float:
    return next((eye.height or 0.0 for eye in design.fittings if eye.kind == "tow eye"), 0.0)
