"""What a shop's log says of its own hand, beside the book: wood by board, sealer, coats, lead in holes, fall, tow.

Every habit is pooled by its ratios (logarithms), each group leaning on the others as far as it has little of its own.
A habit's own values are shown; they are used only where a maker asks for them (shop_values.py).
"""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from statistics import mean, median

from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.noted import Kin, Noted, kindred
from gudgeon.answers.noted_waters import drag_records, tow_records
from gudgeon.answers.noted_weights import (
    Boards,
    blank_records,
    board_records,
    book_density,
    coat_records,
    filling_records,
    holes_of,
    sealer_records,
    wood_name,
)
from gudgeon.answers.saying import note, plain, watch
from gudgeon.answers.swim_trust import TRUST
from gudgeon.answers.tow_runs import Progress, silent
from gudgeon.design.model import Uncertainty
from gudgeon.errors import BadShop, Fault
from gudgeon.library.drag import coefficient
from gudgeon.physics.pooling import Book, Mixture, pooled
from gudgeon.physics.spread import Estimate, around
from gudgeon.shop.log import Log
from gudgeon.shop.records import Board
from gudgeon.units import Measure

SURE = 0.95
_NO_BOOK = 0.7  # standard deviation of the logarithm where no book says anything: a factor of four either way
_HALF_T = 1.0 / math.sqrt(2.0)  # width of a half-t of four degrees whose root of the mean square is 1
_SLIP = 0.5  # a record that counts less is told as a slip
DENSITY, SEALER, COATS, FILLING, DRAG, BEATS, ROLL = "density", "sealer", "coats", "filling", "drag", "beats", "roll"


@dataclass(frozen=True)
class Kind:
    """One kind of habit: what it is, and what is expected of it before anything is measured.

    book, than : where the book's value is from, as a label and in a sentence
    spread  : half-width that the book gives one board, run or pattern, as a share; where the table has none of its own
    within  : about what one differs by from the next of its group, standard deviation, as a share
    group   : what its groups are, "board"
    """

    label: str
    measure: Measure
    book: str
    than: str
    spread: float
    within: float
    group: str

    @property
    def between(self) -> float:
        """About what its groups scatter by, standard deviation: half of what the book leaves open, squared."""
        return 0.5 * self.spread / math.sqrt(2.0)


_RULES = Uncertainty()
_FALL_SPREAD = 0.45  # what the table's range of the fall's drag comes to
KINDS: Mapping[str, Kind] = {
    DENSITY: Kind("density of {of}", Measure.DENSITY, "the table", "the table has it", _RULES.species_density, 0.07,
                  "board"),
    SEALER: Kind("sealer in {of}", Measure.MASS_PER_AREA, "as drawn", "is drawn", _RULES.sealer, 0.10, "run"),
    COATS: Kind("coats: {of}", Measure.MASS_PER_AREA, "as drawn", "is drawn", _RULES.coat_thickness, 0.10, "run"),
    FILLING: Kind("{of} in its holes", Measure.PART, "poured solid", "a solid pour", 0.20, 0.05, "run"),
    DRAG: Kind("drag of a fall", Measure.NUMBER, "the table", "the table has it", _FALL_SPREAD, 0.05, "pattern"),
    BEATS: Kind("beats over the towed model's", Measure.NUMBER, "the model", "the model has it",
                TRUST["beat"].spread, 0.05, "pattern"),
    ROLL: Kind("roll over the towed model's", Measure.NUMBER, "the model", "the model has it",
               TRUST["roll"].spread, 0.10, "pattern"),
}  # fmt: skip
"""Spreads of the book are the design's own. What blanks of one board, lures of one run and drops of one pattern differ
by is common practice, no source: inside one plank 7 % is ordinary, sealed and coated by hand about 10 %."""


def expected(kind: str, book: Estimate | None, logs: Sequence[float], shared: float) -> Book:
    """What is taken before anything is measured, in logarithms.

    book   : half of what it leaves open, squared, is how far this shop's mean may be off it; half how groups scatter
    logs   : of the records; without a book they begin it
    shared : standard deviation of an error that all records share
    """
    if book is None:
        return Book(median(logs), _NO_BOOK, KINDS[kind].between * _HALF_T, KINDS[kind].within * _HALF_T, shared)
    each = 0.25 * math.log(book.high / book.low) / math.sqrt(2.0)
    return Book(math.log(book.value), each, each * _HALF_T, KINDS[kind].within * _HALF_T, shared)


@dataclass(frozen=True)
class Group:
    """One board, run or pattern: its own mean, and how many records it has."""

    name: str
    value: Estimate
    records: int


@dataclass(frozen=True)
class Habit:
    """One habit, in SI, ranges as everywhere about 19 times in 20.

    kind    : one of KINDS      of : which wood, recipe or material; "" where there is only one
    book    : None where no book says anything
    mine    : the mean of all groups; where there is one only, what that one says: the book makes no shop
    coming  : of the next board, run or pattern, which was not measured yet
    between, within : half-widths from group to group, and of one to the next, as shares
    groups  : with the most records first
    slips   : records that are left out, for they look like slips
    records : how many count
    """

    kind: str
    of: str
    book: Estimate | None
    mine: Estimate
    coming: Estimate
    between: float
    within: float
    groups: tuple[Group, ...]
    slips: tuple[Noted, ...]
    records: int

    @property
    def label(self) -> str:
        """What it is, in words."""
        return KINDS[self.kind].label.format(of=self.of)

    def of_group(self, name: str) -> Estimate:
        """The mean of a board, run or pattern; what the next one is expected to have where it is not known."""
        return next((group.value for group in self.groups if group.name == name), self.coming)


@dataclass(frozen=True)
class Learned:
    """All habits that the log tells of; towed : whether the towed model was asked."""

    habits: tuple[Habit, ...]
    findings: tuple[Finding, ...]
    towed: bool

    def habit(self, kind: str, of: str = "") -> Habit | None:
        """One of them; a wood by any of its names."""
        return next((habit for habit in self.habits if habit.kind == kind and _key(kind, habit.of) == _key(kind, of)),
                    None)  # fmt: skip


def learned(log: Log, *, but: int | None = None, tows: bool = False, progress: Progress = silent) -> Learned:
    """What the log says of the shop's habits.

    but  : a lure whose own records are left out
    tows : hold the tows against the towed model too, which takes about a second for each
    """
    kin, faulty = kindred(log, but)
    records = _records(log, kin, tows, progress)
    habits = tuple(_habit(kind, of, own) for (kind, of), own in records.items())
    found = [*faulty, *(finding for habit in habits for finding in _findings(habit))]
    return Learned(habits, worst_first(found), tows)


def anything(found: Learned) -> Learned:
    """The same, where there is anything; raises BadShop with what to measure."""
    if found.habits:
        return found
    raise BadShop("the log says nothing of this shop's habits yet", [
        Fault("wood", "weigh shaped blanks, or enter a board with its offcut"),
        Fault("sealer and coats", "weigh a lure shaped, sealed, leaded and clear"),
        Fault("drag of a fall", "time drops of a lure that was weighed and dunked"),
        Fault("lead in its holes", "tell each hole's depth and bore with its ballast"),
    ])  # fmt: skip


def _records(log: Log, kin: Sequence[Kin], tows: bool, progress: Progress) -> dict[tuple[str, str], list[Noted]]:
    """Kind and what of it -> its records, in the order of KINDS."""
    boards: Boards = {entry.what.name: (entry.number, entry.what) for entry in log.standing("board", 10_000)
                      if isinstance(entry.what, Board)}  # fmt: skip
    found: list[tuple[str, str, Noted]] = [(DENSITY, of, one) for of, one in board_records(boards)]
    for own in kin:
        holes = holes_of(log, own)
        found += [(DENSITY, of, one) for of, one in blank_records(log, own, boards)]
        found += [(SEALER, of, one) for of, one in sealer_records(own, holes, boards)]
        found += [(COATS, of, one) for of, one in coat_records(own, holes)]
        found += [(FILLING, of, one) for of, one in filling_records(own, holes)]
        found += [(DRAG, "", one) for one in drag_records(log, own)]
        found += [(of, "", one) for of, one in tow_records(log, own, progress)] if tows else []
    order = list(KINDS)
    words: dict[tuple[str, str], str] = {}
    keyed: dict[tuple[str, str], list[Noted]] = {}
    for kind, of, one in sorted(found, key=lambda found: (order.index(found[0]), found[1])):
        keyed.setdefault((kind, words.setdefault((kind, _key(kind, of)), of)), []).append(one)
    return keyed


def _key(kind: str, of: str) -> str:
    """What tells two of a kind apart: a wood goes by several names."""
    return wood_name(of) if kind in (DENSITY, SEALER) and of else of


def _habit(kind: str, of: str, records: Sequence[Noted]) -> Habit:
    """The records of one habit pooled."""
    counts = Counter(one.group for one in records)
    places = {name: place for place, name in enumerate(counts)}
    logs = [math.log(one.value) for one in records]
    book = _book(kind, of, records)
    shared = 0.5 * _RULES.outline_volume * mean(one.drawn for one in records)
    found = pooled(logs, [0.5 * one.share for one in records], [places[one.group] for one in records],
                   expected(kind, book, logs, shared))  # fmt: skip
    groups = [Group(name, _told(own), count) for (name, count), own in zip(counts.items(), found.groups, strict=True)]
    slips = tuple(one for one, counted in zip(records, found.counted.tolist(), strict=True) if counted < _SLIP)
    return Habit(
        kind=kind, of=of, book=book, mine=groups[0].value if len(groups) == 1 else _told(found.middle),
        coming=_told(found.fresh),
        between=2.0 * found.between, within=2.0 * found.within,
        groups=tuple(sorted(groups, key=lambda group: -group.records)), slips=slips,
        records=len(records) - len(slips),
    )  # fmt: skip


def counted(records: int) -> str:
    """ "1 record", "12 records"."""
    return f"{records} record{'' if records == 1 else 's'}"


def _told(known: Mixture) -> Estimate:
    return known.range(SURE).mapped(math.exp)


def _book(kind: str, of: str, records: Sequence[Noted]) -> Estimate | None:
    """The book's value: the table's, or what the drawings of these records have, on the mean."""
    said = [one.book for one in records if one.book is not None]
    if not said:
        return None
    value, share = mean(said), KINDS[kind].spread
    if kind == DRAG:
        table = coefficient("fall_drag")
        return Estimate(value, table.low, table.high)
    if kind == DENSITY:
        found = book_density(of)
        share = found[1] / found[0] if found and found[1] is not None else share
    return around(value, share * value)


def _findings(habit: Habit) -> list[Finding]:
    """Records that look like slips; and where the shop's own is plainly another than the book's."""
    label, measure = plain(habit.label), KINDS[habit.kind].measure
    found = [
        watch(f"entry {slip.entry}{'' if slip.lure is None else f' of lure {slip.lure}'} makes {label} {{value}}, far "
              "from the rest, and is left out: look it up, and correct it if it is a slip",
              value=(slip.value, measure))
        for slip in habit.slips
    ]  # fmt: skip
    book, mine = habit.book, habit.mine
    if book is not None and not mine.low <= book.value <= mine.high:
        share = 100.0 * (mine.value / book.value - 1.0)
        side = "more" if share > 0.0 else "less"
        found.append(note(f"{label}: yours is {abs(share):.0f} % {side} than {KINDS[habit.kind].than}, on "
                          f"{counted(habit.records)}"))  # fmt: skip
    return found
