"""Why one lure does what its twin does not: records side by side, their differences ranked.

A difference counts by how far it is beyond what is usual between two lures of the pattern, and by what the model says
it does to the first one. The first lure named is the one that the others are held against.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from gudgeon.answers.as_weighed import as_measured
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.log_faults import told_by_entry
from gudgeon.answers.saying import note, watch
from gudgeon.answers.sinking_rate import SinkingRate, sinking_rate
from gudgeon.answers.twin_agreement import agreement, unlike_the_model
from gudgeon.answers.twin_differences import Difference, Pair
from gudgeon.answers.twin_effects import Reference, reference
from gudgeon.answers.twin_facts import Body, body_of
from gudgeon.answers.twin_words import cautions, told, unmeasured
from gudgeon.design.model import Design
from gudgeon.errors import BadShop, Fault
from gudgeon.shop.entries import LureRecord
from gudgeon.shop.log import Log
from gudgeon.shop.records import Change

MOST_KIN = 60
"""Other lures of the version that are asked what is usual, the newest."""

MOST_USUAL = 3
"""Differences no greater than usual that are told besides."""


@dataclass(frozen=True)
class Modelled:
    """One lure as the model has it with what was measured: how it sinks or floats, and how it lies.

    pitch, heel : [rad] nose-up, right side down      lever : [m] its buoyancy's centre above its weight's
    None where nothing holds it
    """

    number: int
    rate: SinkingRate
    pitch: float | None
    heel: float | None
    lever: float | None


@dataclass(frozen=True)
class Twins:
    """Lures side by side.

    causes : differences that the model knows of, most telling first
    seen   : differences in what they did
    """

    numbers: tuple[int, ...]
    pattern: str
    causes: tuple[Difference, ...]
    seen: tuple[Difference, ...]
    modelled: tuple[Modelled, ...]
    findings: tuple[Finding, ...]


def twins(log: Log, numbers: Sequence[int]) -> Twins:
    """Two lures or more of one pattern, the first the one that the others are held against; raises BadShop."""
    records = _records(log, numbers)
    designs = [log.design_of(number) for number in numbers]
    models = [_model(design, record) for design, record in zip(designs, records, strict=True)]
    bodies = [body_of(record, design) for design, record in zip(designs, records, strict=True)]
    kin = _kin(log, records[0], designs[0], numbers)
    pairs = [Pair(bodies[0], body, kin, models[0], model) for body, model in zip(bodies[1:], models[1:], strict=True)]
    causes = sorted((one for pair in pairs for one in pair.causes()), key=Difference.rank, reverse=True)
    seen = sorted((one for pair in pairs for one in pair.seen()), key=Difference.rank, reverse=True)
    return Twins(
        tuple(numbers), records[0].pattern.name, tuple(causes), tuple(seen),
        tuple(_modelled(number, model) for number, model in zip(numbers, models, strict=True)),
        worst_first([*_findings(causes, seen, models[0].worth), *_beside(records), *unmeasured(bodies),
                     *unlike_the_model(records, [model.rest.pitch if model.rest else None for model in models])]),
    )  # fmt: skip


def _findings(causes: Sequence[Difference], seen: Sequence[Difference], worth: float) -> Iterator[Finding]:
    """What tells the lures apart, then what does so though it is usual; where nothing does, what no scale tells."""
    telling = [one for one in causes if one.tells]
    usual = [one for one in causes if one.shows][:MOST_USUAL]
    yield from (told(one, worth, agreement(one, seen)) for one in (*telling, *usual))
    yield from cautions(one.fact.kind for one in (*telling, *usual))
    if not telling:
        yield note("nothing that both were measured of is beyond what twins differ by. Look too at what no scale tells:"
                   " how far and how freely the joint swings, tow eye, lip and hinge square to the body, line, speed")


def _records(log: Log, numbers: Sequence[int]) -> list[LureRecord]:
    """The lures asked for, all faults at once."""
    if len(set(numbers)) != len(numbers) or len(numbers) < 2:
        raise BadShop("nothing to compare", [Fault("LURES", "name two different lures or more, the one that does well "
                                                            "first: gudgeon log twins 3 7")])  # fmt: skip
    records: list[LureRecord] = []
    faults: list[Fault] = []
    for number in numbers:
        try:
            records.append(log.lure(number))
        except BadShop as refusal:
            faults += refusal.faults
    names = {record.pattern.name for record in records}
    if len(names) > 1:
        of = "; ".join(f"{record.lure.number} is a {record.pattern.name}" for record in records)
        faults.append(Fault("LURES", f"twins are of one pattern: {of}"))
    empty = [record.lure.number for record in records if not record.entries]
    faults += [Fault(f"lure {number}", "nothing was measured of it yet; weigh it first") for number in empty]
    if faults:
        raise BadShop("these lures cannot be held side by side", faults)
    return records


def _model(design: Design, record: LureRecord) -> Reference:
    """A lure as it was measured."""
    with told_by_entry(record):
        return reference(as_measured(design, record).design)


def _kin(log: Log, first: LureRecord, design: Design, asked: Sequence[int]) -> list[Body]:
    """The newest other lures of the first one's version."""
    lines = log.lures(pattern=first.pattern.name, limit=4 * MOST_KIN)
    own = [line.number for line in lines if line.version == first.pattern.version and line.number not in asked]
    return [body_of(log.lure(number), design) for number in own[:MOST_KIN]]


def _modelled(number: int, model: Reference) -> Modelled:
    state, effects = model.lure.state()
    rate, rest = sinking_rate(state, effects, model.lure.knowledge, model.lure.falling), model.rest
    if rest is None:
        return Modelled(number, rate, None, None, None)
    return Modelled(number, rate, rest.pitch, rest.heel, rest.buoyancy_above_weight)


def _beside(records: Sequence[LureRecord]) -> Iterator[Finding]:
    """What else is not the same: the drawing's version, the board, what was changed at the water."""
    first = records[0]
    for record in records:
        for _, change in record.of(Change):
            yield note(f"number {record.lure.number} was changed: {change.what}. Why: {change.why}")
    for other in records[1:]:
        who, whose = f"number {other.lure.number}", f"number {first.lure.number}"
        if other.pattern.version != first.pattern.version:
            yield watch(f"{who} was built from version {other.pattern.version} of the drawing, {whose} from version "
                        f"{first.pattern.version}; what the drawings differ in is not told here")  # fmt: skip
        boards = [record.board.name if record.board else "" for record in (first, other)]
        if all(boards) and boards[0] != boards[1]:
            yield note(f"{who} is out of board {boards[1]}, {whose} out of board {boards[0]}")
