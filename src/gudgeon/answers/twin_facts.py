"""What the log has of one lure, as facts that can be held against another's: weights, water, lead, parts, how it went.

A weight is told as what came on since the stage weighed before it, so that one heavy blank is not told five times over.
Lead and parts that were entered with weights of their own, and the wood that bores took, are counted apart.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from gudgeon.answers.noted_weights import hole_of
from gudgeon.answers.timed_rate import velocity_of
from gudgeon.design.model import Design
from gudgeon.shop.entries import LureRecord
from gudgeon.shop.records import STEPS, WHOLE, Attitude, Ballast, Fitting, Jug, TimedDrop, TowTest, Weighing
from gudgeon.units import Density, Measure, Reading

STAGES_HELD = ("shaped", "drilled", "sealed", "leaded", "primed", "clear", "rigged")
"""Stages from which weights are taken, in the order of the work."""
_SAME_SPEED = 0.1  # share by which two tows may differ in speed and still be told side by side


@dataclass(frozen=True)
class Fact:
    """One thing that was measured of a lure.

    kind  : "blank", "piece", "gain", "displaced", "lead", "place" or "part" for what may be a cause; "seen" else
    of    : piece, hole or part; of a gain, the stage it was weighed at; of what was seen, how
    since : of a gain, the stage that was weighed before
    value : [SI]      spread : half-width of the measuring; None where none was told
    """

    kind: str
    of: str
    value: float
    measure: Measure
    spread: float | None = None
    since: str = ""

    @property
    def key(self) -> tuple[str, str, str]:
        """What it is of, whichever lure's it is."""
        return self.kind, self.of, self.since


@dataclass(frozen=True)
class Body:
    """A lure's record, sorted: weights and dunks by piece and stage, holes, parts.

    lead   : hole -> [kg], or None where no ballast at all was entered
    places : hole -> [m] aft of the nose, of those whose place is known
    bored  : [m3] of wood that the holes took, as far as depth and bore are known
    """

    number: int
    record: LureRecord
    weights: Mapping[tuple[str, str], Reading]
    jugs: Mapping[tuple[str, str], Reading]
    lead: Mapping[str, float] | None
    places: Mapping[str, float]
    bored: float
    parts: Mapping[str, Reading]

    def stages(self, piece: str = WHOLE) -> tuple[str, ...]:
        """The stages at which a piece was weighed, in the order of the work."""
        return tuple(stage for stage in STAGES_HELD if (piece, stage) in self.weights)


def body_of(record: LureRecord, design: Design) -> Body:
    """The record of one lure, sorted; the latest of what was measured twice."""
    weights: dict[tuple[str, str], Reading] = {}
    jugs: dict[tuple[str, str], Reading] = {}
    for entry in record.entries:
        seen = entry.what
        if isinstance(seen, Weighing) and seen.fitted is None:
            weights[seen.piece, seen.stage] = seen.mass
        elif isinstance(seen, Jug) and seen.fitted is None:
            jugs[seen.piece, seen.stage] = seen.displaced
    for stage in STAGES_HELD:
        pieces = [weights[piece, stage] for piece in design.segment_names if (piece, stage) in weights]
        if len(pieces) == len(design.segment_names) and (WHOLE, stage) not in weights:
            weights[WHOLE, stage] = Reading(sum(piece.value for piece in pieces))
    lead: dict[str, float] = {}
    for _, piece in record.of(Ballast):
        lead[piece.hole] = lead.get(piece.hole, 0.0) + piece.mass.value
    parts = {fitting.part: fitting.mass for _, fitting in record.of(Fitting)}
    places, bored = _holes(record, design)
    return Body(record.lure.number, record, weights, jugs, lead or None, places, bored, parts)


def _holes(record: LureRecord, design: Design) -> tuple[dict[str, float], float]:
    """Hole -> the middle of its lead [m]; and the wood that all of them took [m3]."""
    drawn = {pocket.name: pocket for pocket in design.pockets}
    pieces: dict[str, list[Ballast]] = {}
    for _, piece in record.of(Ballast):
        pieces.setdefault(piece.hole, []).append(piece)
    places, bored = {}, 0.0
    for name, own in pieces.items():
        hole = hole_of(name, own, drawn.get(name), 0)
        told = [(piece.station, piece.mass.value) for piece in own if piece.station is not None]
        if len(told) == len(own) and hole.mass > 0.0:
            places[name] = sum(station * weight for station, weight in told) / hole.mass
        elif name in drawn:
            places[name] = drawn[name].at
        bored += hole.removed.value if hole.removed else 0.0
    return places, bored


def facts(body: Body, stages: Sequence[str], parts: Collection[str], wood: Density) -> tuple[Fact, ...]:
    """Everything of a lure that can be held against another's.

    stages, parts : weighings of the whole, and parts weighed alone, that the lures to be compared have in common
    wood          : [kg/m3] of what was bored out
    """
    return (*_weights(body, stages, parts, wood), *_jugs(body), *_lead(body),
            *(Fact("part", part, mass.value, Measure.MASS, mass.spread) for part, mass in body.parts.items()),
            *_seen(body))  # fmt: skip


def _weights(body: Body, stages: Sequence[str], parts: Collection[str], wood: Density) -> Iterator[Fact]:
    """The first weight, of the whole and of each piece; then what came on from stage to stage."""
    own = [stage for stage in stages if (WHOLE, stage) in body.weights]
    if own:
        first = body.weights[WHOLE, own[0]]
        yield Fact("blank", own[0], first.value, Measure.MASS, first.spread)
    for (piece, stage), mass in body.weights.items():
        if piece != WHOLE and stage == "shaped":
            yield Fact("piece", piece, mass.value, Measure.MASS, mass.spread)
    for before, after in pairwise(own):
        gain = body.weights[WHOLE, after].value - body.weights[WHOLE, before].value
        if crosses(before, after, "leaded"):
            if body.lead is None:
                continue
            gain -= sum(body.lead.values())
        if crosses(before, after, "drilled"):
            gain += wood * body.bored
        if after == "rigged":
            if any(part not in body.parts for part in parts):
                continue
            gain -= sum(body.parts[part].value for part in parts)
        yield Fact("gain", after, gain, Measure.MASS, since=before)


def crosses(before: str, after: str, stage: str) -> bool:
    """Whether a stage of the work lies after one weighing and not after the next."""
    return STEPS[before] < STEPS[stage] <= STEPS[after]


def _jugs(body: Body) -> Iterator[Fact]:
    """The last dunk of the whole, and of each piece."""
    for piece in dict.fromkeys(piece for piece, _ in body.jugs):
        stage = max((stage for of, stage in body.jugs if of == piece), key=STEPS.__getitem__)
        shown = body.jugs[piece, stage]
        yield Fact("displaced", piece, shown.value, Measure.MASS, shown.spread, since=stage)


def _lead(body: Body) -> Iterator[Fact]:
    for hole, mass in (body.lead or {}).items():
        yield Fact("lead", hole, mass, Measure.MASS)
        if hole in body.places and mass > 0.0:
            yield Fact("place", hole, body.places[hole], Measure.LENGTH)


def _seen(body: Body) -> Iterator[Fact]:
    """What it did: the latest of each kind, drops by stage, how it lay by state, tows by speed."""
    record = body.record
    for stage in dict.fromkeys(drop.stage for _, drop in record.of(TimedDrop)):
        velocity = [velocity_of(drop) for _, drop in record.of(TimedDrop) if drop.stage == stage][-1]
        yield Fact("seen", f"sinks, {stage}", velocity.value, Measure.SPEED, velocity.spread)
    lain = {(seen.stage, seen.state): seen for _, seen in record.of(Attitude)}
    for (stage, state), seen in lain.items():
        yield Fact("seen", f"nose up, {stage}, {state}", seen.pitch.value, Measure.ANGLE, seen.pitch.spread)
        if seen.leans is not None:
            yield Fact("seen", f"leans right, {stage}, {state}", seen.leans.value, Measure.ANGLE, seen.leans.spread)


def tows_alike(bodies: Sequence[Body]) -> Iterator[tuple[str, tuple[Fact | None, ...]]]:
    """Beats, roll and depth of tows at about one speed, by what they are of, one of each body or None."""
    tows = [[test for _, test in body.record.of(TowTest)] for body in bodies]
    speeds = sorted(test.speed.value for own in tows for test in own)
    if not speeds:
        return
    chosen = max(speeds, key=lambda speed: sum(_at(own, speed) is not None for own in tows))
    nearest = [_at(own, chosen) for own in tows]
    for name, of, measure in (("beats", "beats", Measure.BEATS), ("roll", "rolls to each side", Measure.ANGLE),
                              ("depth", "runs at", Measure.DEPTH)):  # fmt: skip
        found = [getattr(test, name) if test else None for test in nearest]
        if any(found):
            yield f"{of}, towed", tuple(Fact("seen", f"{of}, towed", one.value, measure, one.spread) if one else None
                                        for one in found)  # fmt: skip


def _at(tows: Sequence[TowTest], speed: float) -> TowTest | None:
    """The tow nearest to a speed, when it is about that speed."""
    near = [test for test in tows if abs(test.speed.value - speed) <= _SAME_SPEED * speed]
    return min(near, key=lambda test: abs(test.speed.value - speed)) if near else None
