"""A design with what was measured of one lure in place of what was computed, and the ballast it still wants.

The lure's record becomes the design's own `measured` tables, its ballast stands in the design's pockets, its parts have
the weights they were found to have; everything else is asked of that design as of any other. What the file itself says
was measured belongs to another lure, and is left out.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import ballasting
from gudgeon.answers.checked import Check
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.log_faults import told_by_entry
from gudgeon.answers.overall import overall
from gudgeon.answers.saying import grams, note, watch
from gudgeon.answers.timed_rate import velocity_of
from gudgeon.design.file import parse
from gudgeon.design.model import Design, Measured, Pocket, Stage, Wood
from gudgeon.design.table import Table
from gudgeon.errors import BadShop, Fault, OutsideSource
from gudgeon.library.metals import material
from gudgeon.library.woods import species
from gudgeon.physics.spread import Estimate, around, root_sum_square
from gudgeon.shop.entries import LureRecord
from gudgeon.shop.entry_checks import parts_named
from gudgeon.shop.records import STEPS, WHOLE, Attitude, Ballast, Fitting, Jug, TimedDrop, Weighing
from gudgeon.units import Reading

DRAWN_STAGE: dict[str, Stage] = {"shaped": "shaped", "drilled": "drilled", "sealed": "sealed", "dry fit": "sealed",
                                 "leaded": "leaded", "clear": "painted", "rigged": "rigged"}  # fmt: skip
"""A stage of the log -> the design's stage with the same on the lure; a board, a square and a primed body have none."""
_LEADED = STEPS["leaded"]
_LAST = STEPS["rigged"]


@dataclass(frozen=True)
class StageNeed:
    """Ballast needed in all [kg], as known once a stage was measured."""

    stage: str
    needed: Estimate


@dataclass(frozen=True)
class AsMeasured:
    """One lure's record put into its design.

    used     : what of it counts, in words
    findings : what does not, and why
    """

    design: Design
    used: tuple[str, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class AsWeighed:
    """Every answer for one lure as it was measured.

    needs   : ballast needed in all as the work went on; none where no pocket is free
    held    : [kg] ballast that is in
    missing : [kg] still to go in; None where no pocket is free
    """

    number: int
    pattern: str
    check: Check
    used: tuple[str, ...]
    needs: tuple[StageNeed, ...]
    held: float
    missing: Estimate | None


def as_weighed(design: Design, stamp: str, record: LureRecord) -> AsWeighed:
    """Every answer for a lure of the log.

    design, stamp : of the file it is asked with
    raises        : BadDesign when the file cannot be built, BadShop when the lure of the log cannot, NoAnswer
    """
    _same_pattern(design, record)
    made = as_measured(design, record)
    assemble(design)  # where the file itself cannot be built, it is not the log that is to be looked at
    with told_by_entry(record, "does not fit this file"):
        lay = as_it_lay(made.design, record)
        check = overall(lay)
    held = sum(check.drawn.held.values())
    missing = None
    if check.ballast is not None:
        missing = around(check.ballast.needed.value - held, check.ballast.needed.spread)
    findings = (*_other_text(stamp, record), *worst_first([*check.findings, *made.findings]))
    called = f"{record.pattern.name}, version {record.pattern.version}"
    return AsWeighed(record.lure.number, called, replace(check, findings=findings), (*made.used, *_seen_to_lie(lay)),
                     _needs(design, record) if check.ballast else (), held, missing)  # fmt: skip


def as_measured(design: Design, record: LureRecord, until: int = _LAST) -> AsMeasured:
    """A design with a lure's record in it.

    until : the last stage, as a step of STEPS, whose measurements count
    """
    seen, left_out = _seen(design, record, until)
    entries = [made for one in seen if (made := measured_entry(one, design)) is not None]
    pockets, unplaced = _pockets(design, record, until)
    changed = _weighed_parts(design, record).model_copy(update={
        "measured": tuple(entries), "pockets": pockets, "wood": _wood(design, record, entries)})  # fmt: skip
    own = len(design.measured) + (design.wood.blank_weight is not None)
    other = (note("what the file itself says was measured is of another lure, and is left out here"),) if own else ()
    return AsMeasured(changed, _used(seen), (*unplaced, *left_out, *other))


def as_it_lay(design: Design, record: LureRecord, until: int = _LAST) -> Design:
    """A design with the latest of how the lure was seen to lie, at a stage that a design knows; until : as above.

    Where its water is not noted it is that of the last drop.
    """
    known, drops = {*parts_named(design)}, [drop for _, drop in record.of(TimedDrop)]
    for _, seen in reversed(record.of(Attitude)):
        stage = DRAWN_STAGE.get(seen.stage)
        if stage is not None and STEPS[seen.stage] <= until and known >= {*(seen.fitted or ())}:
            water = drops[-1] if drops and seen.temperature is None else seen
            lay = Measured.model_construct(stage=stage, fitted=seen.fitted).model_copy(update={
                "lies": seen.pitch, "temperature": water.temperature, "salinity": water.salinity})  # fmt: skip
            return design.model_copy(update={"measured": (*design.measured, lay)})
    return design


def _seen_to_lie(design: Design) -> tuple[str, ...]:
    """The stage at which it was seen how it lies, in words."""
    return tuple(f"how it lay: {one.stage}" for one in design.measured if one.lies is not None)


def measured_entry(seen: Weighing | Jug | TimedDrop, design: Design) -> Measured | None:
    """What was seen, as the design's own table has it; None for a stage that a design does not know."""
    stage = DRAWN_STAGE.get(seen.stage)
    if stage is None:
        return None
    fitted = seen.fitted
    if seen.stage == "dry fit" and fitted is None:
        fitted = parts_named(design)
    made = Measured.model_construct(stage=stage, of=getattr(seen, "piece", WHOLE), fitted=fitted)
    if isinstance(seen, Weighing):
        return made.model_copy(update={"weight": seen.mass})
    water: dict[str, object] = {"temperature": seen.temperature, "salinity": seen.salinity}
    if isinstance(seen, Jug):
        return made.model_copy(update=water | {"displaced": seen.displaced})
    velocity = velocity_of(seen)
    rate = Reading(abs(velocity.value), velocity.spread)
    return made.model_copy(update=water | {"rises" if seen.rises else "sinks": rate})


def _seen(design: Design, record: LureRecord, until: int) -> tuple[list[Weighing | Jug | TimedDrop], list[Finding]]:
    """The latest of each thing measured at a stage that a design knows, and what this design cannot take."""
    latest: dict[object, Weighing | Jug | TimedDrop] = {}
    findings = []
    known = {*parts_named(design)}
    for entry in record.entries:
        seen = entry.what
        if not isinstance(seen, Weighing | Jug | TimedDrop) or STEPS[seen.stage] > until:
            continue
        if seen.stage not in DRAWN_STAGE:
            continue
        piece = getattr(seen, "piece", WHOLE)
        strange = [name for name in (piece, *(seen.fitted or ()))
                   if name not in known and name not in (WHOLE, *design.segment_names)]  # fmt: skip
        if strange:
            findings.append(watch(f"entry {entry.number} names '{strange[0]}', which this file does not have; it is "
                                  "left out here"))  # fmt: skip
        else:
            fitted = None if seen.fitted is None else frozenset(seen.fitted)
            latest[type(seen), seen.stage, piece, fitted] = seen
    return list(latest.values()), findings


def _used(seen: Sequence[Weighing | Jug | TimedDrop]) -> tuple[str, ...]:
    """What was measured at which stages, in words."""
    found = []
    for kind, words in ((Weighing, "weights"), (Jug, "jug"), (TimedDrop, "drops")):
        stages = sorted({one.stage for one in seen if isinstance(one, kind)}, key=STEPS.__getitem__)
        found += [f"{words}: {', '.join(stages)}"] if stages else []
    return tuple(found)


def _wood(design: Design, record: LureRecord, entries: Sequence[Measured]) -> Wood:
    """The wood by its board; the file's own blank only where nothing else tells, and then as one of its kind."""
    wood, board = design.wood, record.board
    update: dict[str, object] = {"blank_weight": None}
    if board is not None and board.density is not None:
        update["density"] = board.density
    elif board is not None:
        update |= _known_species(board.wood)
    if board is not None and board.moisture is not None:
        update["moisture"] = board.moisture
    known = wood.model_copy(update=update)
    if known.species is None and known.density is None and wood.blank_weight is not None:
        whole = [one.weight for one in entries if (one.stage, one.of) == ("shaped", WHOLE) and one.weight is not None]
        spread = design.uncertainty.species_density * wood.blank_weight.value
        blank = whole[0] if whole else Reading(wood.blank_weight.value, spread)
        known = known.model_copy(update={"blank_weight": blank})
    return known


def _known_species(name: str) -> dict[str, object]:
    """A board's wood for the design, when the table has it."""
    try:
        species(name)
    except OutsideSource:
        return {}
    return {"species": name, "density": None}


def _weighed_parts(design: Design, record: LureRecord) -> Design:
    """The design with its parts as they were weighed for this lure."""
    weights = {fitting.part: fitting.mass for _, fitting in record.of(Fitting)}

    def weighed(part: Table, name: str) -> Table:
        return part.model_copy(update={"weight": weights[name]}) if name in weights else part

    update: dict[str, object] = {
        "fittings": tuple(weighed(fitting, fitting.name) for fitting in design.fittings),
        "hooks": tuple(weighed(hook, hook.name) for hook in design.hooks),
        "hinges": tuple(weighed(hinge, f"hinge {place}") for place, hinge in enumerate(design.hinges, start=1)),
    }
    for name, plate in (("lip", design.lip), ("fin", design.fin)):
        if plate is not None:
            update[name] = weighed(plate, name)
    return design.model_copy(update=update)


def _pockets(design: Design, record: LureRecord, until: int) -> tuple[tuple[Pocket, ...], list[Finding]]:
    """The pockets with what was put into them; a hole that is not drawn is added where its place is told.

    Before the lead goes in they are empty, and as deep as they turned out: bores are drilled ahead of the sealer.
    """
    pieces: dict[str, list[Ballast]] = {}
    for _, piece in record.of(Ballast):
        pieces.setdefault(piece.hole, []).append(piece)
    leaded = any(STEPS[seen.stage] >= _LEADED for _, seen in record.of(Weighing))
    if not pieces and not leaded:
        return tuple(pocket.model_copy(update={"holds": None}) for pocket in design.pockets), []
    found, findings = _filled(design, pieces) if pieces else (design.pockets, [])
    if until < _LEADED:
        return tuple(_emptied(pocket) for pocket in found), findings
    return found, findings


def _filled(design: Design, pieces: dict[str, list[Ballast]]) -> tuple[tuple[Pocket, ...], list[Finding]]:
    """The pockets with the pieces in them."""
    found = [pocket.model_copy(update=_filling(pieces.pop(pocket.name, []))) for pocket in design.pockets]
    findings = []
    for hole, inside in pieces.items():
        filling = _filling(inside)
        if "at" in filling and "bore" in filling:
            found.append(Pocket.model_construct(name=hole, at=0.0, bore=0.0, free=False).model_copy(update=filling))
        else:
            mass = sum(piece.mass.value for piece in inside)
            findings.append(watch(f"{grams(mass)} in the hole '{hole}', which is not in this file, is left out: enter "
                                  "the ballast again with its place and bore, or draw the hole"))  # fmt: skip
    return tuple(found), findings


def _emptied(pocket: Pocket) -> Pocket:
    """A pocket with nothing in it, as deep as it is for what goes in."""
    if pocket.depth is not None or pocket.holds is None or pocket.holds.value == 0.0:
        return pocket.model_copy(update={"holds": None})
    solid = pocket.holds.value / (material(pocket.material).density * 0.25 * math.pi * pocket.bore**2)
    return pocket.model_copy(update={"holds": None, "depth": solid + pocket.plug})


def _filling(pieces: Sequence[Ballast]) -> dict[str, object]:
    """What the pieces in one hole come to, as keys of its pocket."""
    if not pieces:
        return {"holds": None}
    mass = sum(piece.mass.value for piece in pieces)
    given = [piece.mass.spread for piece in pieces]
    spread = root_sum_square([one for one in given if one is not None]) if None not in given else None
    found: dict[str, object] = {"holds": Reading(mass, spread), "material": pieces[0].material}
    placed = [(piece.station, piece.mass.value) for piece in pieces if piece.station is not None]
    if len(placed) == len(pieces) and mass > 0.0:
        found["at"] = sum(station * weight for station, weight in placed) / mass
    for key in ("depth", "bore"):
        told = [getattr(piece, key) for piece in pieces if getattr(piece, key) is not None]
        found |= {key: told[-1]} if told else {}
    return found


def _needs(design: Design, record: LureRecord) -> tuple[StageNeed, ...]:
    """Ballast needed in all as it was known once each stage was measured."""
    seen = {one.stage for entry in record.entries if isinstance(one := entry.what, Weighing | Jug | TimedDrop)}
    found = []
    for stage in sorted(seen & DRAWN_STAGE.keys(), key=STEPS.__getitem__):
        then = as_it_lay(as_measured(design, record, STEPS[stage]).design, record, STEPS[stage])
        found.append(StageNeed(stage, ballasting(then, assemble(then)).needed))
    return tuple(found)


def _same_pattern(design: Design, record: LureRecord) -> None:
    """Nothing, when a file is of the pattern that a lure was built from, of whatever version; raises BadShop."""
    known = {record.pattern.name, parse(record.pattern.design, "the pattern").name}
    if design.name not in known:
        lure = f"lure {record.lure.number}"
        words = f"is a {record.pattern.name}, and this file is '{design.name}', another pattern; check it with its own"
        raise BadShop(f"{lure} was not built from this file", [Fault(lure, words)])


def _other_text(stamp: str, record: LureRecord) -> tuple[Finding, ...]:
    if stamp == record.pattern.stamp:
        return ()
    return (watch(f"lure {record.lure.number} was built from version {record.pattern.version} of the pattern, design "
                  f"{record.pattern.stamp}; this file is another text, design {stamp}, and it is this file that counts "
                  "here"),)  # fmt: skip
