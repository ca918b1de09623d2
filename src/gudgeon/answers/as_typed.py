"""A weight questioned as it is typed: far from what its twins weigh, or from what the drawing leads one to expect.

Twins are other lures of the same version of the pattern, weighed at the same stage with the same on. A question is no
refusal: the maker may be right, and then the lure is worth a look. Which weights are far is a habit of our own: further
from the middle twin than three times the furthest twin, and than a tenth (3 % in a jug) and 0.3 g; from the drawing,
as a check doubts a measurement. A slip is named when, put right, the weight is as near as the furthest twin.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median

from gudgeon.answers.as_weighed import as_measured, measured_entry
from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import ballasting
from gudgeon.answers.evidence import readings
from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import grams, plain, watch
from gudgeon.answers.slips import parts_slip
from gudgeon.design.model import Design
from gudgeon.errors import Refusal
from gudgeon.physics.spread import Estimate, around, root_sum_square
from gudgeon.shop.entries import LureRecord, Of
from gudgeon.shop.entry_checks import checked, named_as_drawn
from gudgeon.shop.log import Log
from gudgeon.shop.records import STEPS, WHOLE, Ballast, Jug, Weighing
from gudgeon.units import OUNCE, Measure

FEWEST_TWINS = 3
_FURTHEST = 3.0  # times as far as the furthest twin
_SHARE, _JUG_SHARE = 0.10, 0.03
_LEAST = 3e-4  # kg
_NEAR = 0.02
_TELLING = 0.12  # an expectation no wider than this share tells figures changed over from mere chance
_DOUBTED = 1.5  # half-widths, as a check doubts
_DRIED = 0.01  # share of its weight that a piece may lose between two stages without a question
_SOAKED = 0.6  # of the sealer's weight, twice what a design is unsure of it; a habit of our own
_GRAM = 1e-3
_MOST_KIN = 100_000  # lures of a pattern whose boards are looked up
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")

Seen = Weighing | Jug
Key = tuple[str, str, frozenset[str] | None]


@dataclass(frozen=True)
class Expected:
    """What a weight should be about [kg].

    within : how far from that it may be without a question
    near   : how near it is when it is right, as a slip put right would be
    """

    middle: float
    within: float
    near: float

    def likely(self, mass: float) -> bool:
        """Whether a weight [kg] is entered without a question."""
        return abs(mass - self.middle) <= self.within

    def means(self, mass: float) -> bool:
        """Whether a weight [kg] is this one, and not another that happens to be like it."""
        return abs(mass - self.middle) <= self.near


def doubts(log: Log, lure: int, seen: Seen, instead_of: int | None = None) -> tuple[Finding, ...]:
    """What is odd about a weight that is about to be entered of a lure of the log; nothing when it is as expected.

    instead_of : the chain of corrections that it belongs to, which does not count against it
    raises     : BadShop when it cannot be entered at all
    """
    checked(seen)
    record, design = log.lure(lure), log.design_of(lure)
    named_as_drawn(seen, design)
    record = replace(record, entries=tuple(entry for entry in record.entries if entry.root != instead_of))
    record = _that_can_be(design, record)
    kin = record.lure.pattern
    if isinstance(seen, Jug):
        return questions(design, record, seen, log.measured(Jug, kin))
    return questions(design, record, seen, _off_its_board(log, record, log.measured(Weighing, kin)))


def _off_its_board(log: Log, record: LureRecord, twins: Sequence[Of[Weighing]]) -> list[Of[Weighing]]:
    """Weighings of twins that are not known to be out of another board, whose wood weighs otherwise."""
    if record.board is None:
        return list(twins)
    lines = log.lures(pattern=record.pattern.name, limit=_MOST_KIN)
    other = {line.number for line in lines if line.board not in (None, record.board.name)}
    return [twin for twin in twins if twin.lure not in other]


def questions(
    design: Design, record: LureRecord, seen: Seen, twins: Sequence[Of[Weighing]] | Sequence[Of[Jug]]
) -> tuple[Finding, ...]:
    """What is odd about a weight that is about to be entered; nothing when it is not.

    twins : weighings, or dunks, of lures of the same version; those of this lure among them do not count
    """
    others = _by_place([one for one in twins if one.lure != record.lure.number])
    found = [*_unlike_twins(seen, others)]
    is_alone = len(others.get(_key(seen), ())) < FEWEST_TWINS
    if not found and is_alone:
        found = [*_unlike_drawing(design, record, seen)]
    if isinstance(seen, Weighing):
        found += [*_unlike_before(record, seen), *_unlike_parts(design, record, seen)]
        found = found or ([*_unlike_leaded(design, record, seen)] if is_alone else [])
    if found:
        before = plain(_weighed_already(record, seen))
        end = "" if not before or found[0].words.endswith(("?", ".")) else "."
        found[0] = replace(found[0], words=f"{found[0].words}{end}{before}")
    return tuple(found)


def _that_can_be(design: Design, record: LureRecord) -> LureRecord:
    """The record; without its ballast where that does not go into the drawn holes, which a check tells."""
    try:
        assemble(as_measured(design, record).design)
    except Refusal:
        return replace(record, entries=tuple(one for one in record.entries if not isinstance(one.what, Ballast)))
    return record


def _weighed_already(record: LureRecord, seen: Seen) -> str:
    """The entry to be corrected, where the same was weighed before."""
    before = [(entry.number, one) for entry, one in record.of(type(seen)) if _key(one) == _key(seen)]
    if not before:
        return ""
    number, last = before[-1]
    return f" Entry {number} says {_short(_mass(last))} for the same; if that is wrong: gudgeon log correct {number}"


def _mass(seen: Seen) -> float:
    return seen.mass.value if isinstance(seen, Weighing) else seen.displaced.value


def _key(seen: Seen) -> Key:
    return seen.stage, seen.piece, None if seen.fitted is None else frozenset(seen.fitted)


def _by_place(twins: Sequence[Of[Weighing] | Of[Jug]]) -> dict[Key, list[float]]:
    """Stage, piece and what was on -> the latest weight of each twin [kg]."""
    latest: dict[tuple[Key, int], float] = {}
    for twin in twins:
        latest[_key(twin.what), twin.lure] = _mass(twin.what)
    found: dict[Key, list[float]] = {}
    for (key, _), mass in latest.items():
        found.setdefault(key, []).append(mass)
    return found


def _by_twins(masses: Sequence[float], share: float) -> Expected | None:
    if len(masses) < FEWEST_TWINS:
        return None
    middle = median(masses)
    furthest = max(abs(mass - middle) for mass in masses)
    return Expected(middle, max(_FURTHEST * furthest, share * middle, _LEAST), max(furthest, _NEAR * middle))


def _share(seen: Seen) -> float:
    return _SHARE if isinstance(seen, Weighing) else _JUG_SHARE


def _unlike_twins(seen: Seen, others: Mapping[Key, Sequence[float]]) -> Iterator[Finding]:
    masses = others.get(_key(seen), ())
    expected = _by_twins(masses, _share(seen))
    if expected is None or expected.likely(_mass(seen)):
        return
    count = _COUNTS[len(masses)] if len(masses) < len(_COUNTS) else str(len(masses))
    verb = "weigh" if isinstance(seen, Weighing) else "displace"
    alike = {key: found for key, theirs in others.items() if (found := _by_twins(theirs, _share(seen))) is not None}
    yield watch(f"{_said(seen)}: its {count} twins {verb} {_range(min(masses), max(masses))}"
                f"{_likely_slip(seen, expected, alike)}")  # fmt: skip


def _unlike_drawing(design: Design, record: LureRecord, seen: Seen) -> Iterator[Finding]:
    pieces = (seen.piece, WHOLE, *design.segment_names)
    drawn = drawn_weights(design, record, [replace(seen, piece=piece) for piece in dict.fromkeys(pieces)])
    if not drawn:
        return
    stage, _, fitted = _key(seen)
    soaked = _by_guess(design, seen)
    alike = {(stage, piece, fitted): Expected(found.value, max(math.hypot(_DOUBTED * found.spread, soaked), _LEAST),
                                              max(found.spread, _NEAR * found.value))
             for piece, found in drawn.items()}  # fmt: skip
    expected, drawn_here = alike.pop(_key(seen)), drawn[seen.piece]
    if expected.likely(_mass(seen)):
        return
    slip = plain(_likely_slip(seen, expected, alike))
    yield watch(f"{plain(_said(seen))}: drawing, wood and what was measured before make it "
                f"{{expected}}{slip}", expected=(drawn_here, Measure.MASS))  # fmt: skip


def _by_guess(design: Design, seen: Seen) -> float:
    """[kg] that the sealer may be off by besides, where no scale told it."""
    sealer = design.sealer
    if sealer is None or sealer.weight.spread is not None or STEPS[seen.stage] < STEPS["sealed"]:
        return 0.0
    return _SOAKED * sealer.weight.value


def _unlike_leaded(design: Design, record: LureRecord, seen: Weighing) -> Iterator[Finding]:
    """A weight with lead in it that no entry tells of: anything from no lead at all to twice what it needs."""
    known, entry = as_measured(design, record).design, measured_entry(seen, design)
    held = any(pocket.holds is not None and pocket.holds.value > 0.0 for pocket in known.pockets)
    if entry is None or held or STEPS[seen.stage] < STEPS["leaded"]:
        return
    try:
        lure = assemble(known)
        lead = ballasting(known, lure).needed
        bare = known.wood.model_copy(update={"blank_weight": None})
        empty = readings(known.model_copy(update={"measured": (entry,), "wood": bare}), lure)[0]
    except Refusal:
        return
    middle = empty.computed + float(empty.direction @ lure.knowledge.mean) + lead.value
    unsure = math.hypot(_DOUBTED * lure.knowledge.half_width(empty.direction), _by_guess(design, seen))
    expected = Expected(middle, lead.value + unsure, 0.5 * lead.value + unsure)
    if not expected.likely(seen.mass.value):
        yield watch(f"{plain(_said(seen))}: no lead is entered, and with what it needs it should weigh about "
                    f"{{expected}}{plain(_likely_slip(seen, expected, {}))}",
                    expected=(middle, Measure.MASS))  # fmt: skip


def drawn_weights(design: Design, record: LureRecord, asked: Sequence[Seen]) -> dict[str, Estimate]:
    """What the drawing and the lure's record so far lead one to expect of each piece [kg]; nothing if they cannot tell.

    asked : the same at one stage, a piece each
    """
    made = [entry for one in asked if (entry := measured_entry(one, design)) is not None]
    known = as_measured(design, record).design
    held = any(pocket.holds is not None and pocket.holds.value > 0.0 for pocket in known.pockets)
    if not made or (STEPS[asked[0].stage] >= STEPS["leaded"] and not held):
        return {}  # a stage that a design does not know; or what lead is in was not told
    lure = assemble(known)
    wood = known.wood.model_copy(update={"blank_weight": None})
    found: dict[str, Estimate] = {}
    for seen in readings(known.model_copy(update={"measured": tuple(made), "wood": wood}), lure):
        expected = seen.computed + float(seen.direction @ lure.knowledge.mean)
        unsure = root_sum_square([lure.knowledge.half_width(seen.direction), seen.spread])
        found[made[len(found)].of] = around(seen.shown_per * expected, seen.shown_per * unsure)
    return found


def _likely_slip(seen: Seen, expected: Expected, others: Mapping[Key, Expected]) -> str:
    """How the pen may have slipped; nothing where no slip makes it right.

    others : what other pieces, and other stages, should be about
    """
    mass = _mass(seen)
    figures = _digit_slips(mass) if expected.near < _TELLING * expected.middle else ()
    meant = [f". {slip}: {_short(would_be)}?" for slip, would_be in _unit_slips(mass) if expected.means(would_be)]
    meant += [f". {slip}: {_short(would_be)}?" for slip, would_be in figures
              if expected.means(would_be) and expected.likely(would_be)]  # fmt: skip
    stage, piece, fitted = _key(seen)
    other = [key for key, theirs in others.items() if theirs.means(mass)]
    meant += [f". {_part_slip(piece, key[1])}?" for key in other if key[0] == stage and key[1] != piece]
    meant += [f". That is what they weigh {_stage_words(key[0])}: a stage named wrongly?"
              for key in other if key[1] == piece and (key[0], key[2]) != (stage, fitted)]  # fmt: skip
    return meant[0] if meant else ""


def _part_slip(piece: str, other: str) -> str:
    if other == WHOLE:
        return "That is what the whole weighs: whole for part"
    if piece == WHOLE:
        return f"That is what the {other} weighs: part for whole"
    return f"That is what the {other} weighs: one piece for another"


def _stage_words(stage: str) -> str:
    return f"as a {stage}" if stage in ("board", "square") else stage


def _unit_slips(mass: float) -> Iterator[tuple[str, float]]:
    yield "Ounces for grams", mass / _GRAM * OUNCE
    yield "Grams for ounces", mass / OUNCE * _GRAM
    for factor in (10.0, 0.1, 100.0, 0.01, 1000.0, 0.001):
        yield "The decimal point", mass * factor


def _digit_slips(mass: float) -> Iterator[tuple[str, float]]:
    """Two neighbouring figures of a weight in grams changed over; of one typed in another unit none were."""
    if not math.isclose(mass * 1e5, round(mass * 1e5), abs_tol=1e-3):
        return
    text = _short(mass).split(" ")[0]
    for place in range(len(text) - 1):
        step = 2 if text[place + 1] == "." else 1
        pair = text[place] + text[place + step : place + step + 1]
        if len(pair) == 2 and "." not in pair and pair[0] != pair[1]:
            turned = list(text)
            turned[place], turned[place + step] = pair[1], pair[0]
            yield "Two figures changed over", float("".join(turned)) * _GRAM


def _unlike_before(record: LureRecord, seen: Weighing) -> Iterator[Finding]:
    """Up to drilling wood only goes; from sealing on weight only comes."""
    if seen.fitted is not None or seen.stage == "dry fit":
        return
    for _, other in record.of(Weighing):
        if (other.piece, other.fitted) != (seen.piece, None) or other.stage in (seen.stage, "dry fit"):
            continue
        first, last = sorted((seen, other), key=lambda one: STEPS[one.stage])
        change = last.mass.value - first.mass.value
        room = max(_LEAST, _DRIED * seen.mass.value)
        gains, loses = STEPS[first.stage] >= STEPS["drilled"], STEPS[last.stage] <= STEPS["drilled"]
        if (gains and change < -room) or (loses and change > room):
            side = "less" if change < 0.0 else "more"
            stages = f"{_stage_words(last.stage)} than {_stage_words(first.stage)}"
            yield watch(f"{_said(seen)}: {grams(change)} {side} {stages}. A stage named wrongly, or an entry to be "
                        "corrected?")  # fmt: skip
            return


def _unlike_parts(design: Design, record: LureRecord, seen: Weighing) -> Iterator[Finding]:
    """A whole, and its pieces weighed at the same stage with nothing else on, add up."""
    if seen.piece != WHOLE or seen.fitted is not None or seen.stage in ("dry fit", "rigged"):
        return
    pieces = {one.piece: one.mass for _, one in record.of(Weighing) if one.stage == seen.stage and one.fitted is None}
    if set(design.segment_names) <= pieces.keys():
        scale = design.uncertainty.scale
        parts = [pieces[name] for name in design.segment_names]
        spreads = [part.spread_or(scale) for part in (*parts, seen.mass)]
        slip = parts_slip(seen.mass.value, [part.value for part in parts], spreads)
        if slip:
            yield watch(slip)


def _said(seen: Seen) -> str:
    """ "tail 9.8 g"."""
    return f"{seen.piece} {_short(_mass(seen))}"


def _short(mass: float) -> str:
    """A weight as it was read off: figures after the point only where there are any."""
    decimals = 1 if math.isclose(mass * 1e4, round(mass * 1e4), abs_tol=1e-3) else 2
    return f"{mass * 1e3:.{decimals}f} g"


def _range(low: float, high: float) -> str:
    """ "7.2 to 7.9 g"."""
    first, last = _short(low), _short(high)
    return first if first == last else f"{first.removesuffix(' g')} to {last}"
