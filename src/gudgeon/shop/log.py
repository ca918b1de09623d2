"""The shop's log: the one door through which anything is entered, and what can be asked of it.

    with Log.open(folder) as log:
        log.weigh(12, Weighing("sealed", Reading(0.0074), "tail"))

Nothing that was entered is ever changed or erased. A correction is a new entry that names the old one; readers see the
latest, and the whole history when they ask. Each entry is written whole or not at all.
"""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

from gudgeon.errors import BadShop, Fault
from gudgeon.shop import entries as read
from gudgeon.shop import lookup, photos
from gudgeon.shop.columns import row_of
from gudgeon.shop.database import Database, create, open_for_reading, open_for_writing
from gudgeon.shop.entries import STANDS, Entry, LureLine, LureRecord, Of, Seen
from gudgeon.shop.entry_checks import checked, moment, named_as_drawn, not_to_come
from gudgeon.shop.lookup import no_lure, not_entered
from gudgeon.shop.records import (
    KIND_OF,
    Answer,
    Attitude,
    Ballast,
    Board,
    Change,
    Fitting,
    Jug,
    Lure,
    Note,
    OfLure,
    Pattern,
    Photo,
    Record,
    Stock,
    TimedDrop,
    TowTest,
    Weighing,
)

if TYPE_CHECKING:  # reading a design takes time that most entries need not
    from gudgeon.design.model import Design

MOST_AT_ONCE = 1000  # lures begun by one word
_LURES = "SELECT max(number) FROM lure"
_RUNS = "SELECT max(run) FROM lure WHERE pattern = ?"
_FIXED = {Lure: ("number",), Board: ("name",), Photo: ("name", "hash", "suffix"),
          Answer: ("question", "stamp", "headline", "told", "design")}  # fmt: skip


def now() -> str:
    """This moment, local time with its offset, ISO 8601."""
    return datetime.now().astimezone().isoformat(timespec="seconds")


class Log:
    """A shop's log, open.

    folder : of the shop      clock : gives the moment, ISO 8601
    """

    def __init__(self, folder: Path, database: Database, clock: Callable[[], str] = now) -> None:
        self.folder = folder
        self.database = database
        self._clock = clock
        self._designs: dict[int, Design] = {}

    @classmethod
    def start(cls, folder: Path, clock: Callable[[], str] = now) -> Self:
        """The log of a shop folder, begun if there is none yet; raises BadShop."""
        return cls(folder, create(folder), clock)

    @classmethod
    def open(cls, folder: Path, clock: Callable[[], str] = now) -> Self:
        """The log of a shop folder, to enter into; raises BadShop."""
        return cls(folder, open_for_writing(folder), clock)

    @classmethod
    def look(cls, folder: Path) -> Self:
        """The log of a shop folder, to look into, also where nothing can be written; raises BadShop."""
        return cls(folder, open_for_reading(folder))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:  # fmt: skip
        self.database.close()

    @contextmanager
    def together(self) -> Iterator[None]:
        """All that is entered inside stands, or none of it."""
        with self.database.transaction():
            yield

    @contextmanager
    def as_entered(self, made: str) -> Iterator[None]:
        """What is entered inside keeps the moment at which another log had it entered."""
        not_to_come(moment(made), self._clock())
        clock, self._clock = self._clock, lambda: made
        try:
            yield
        finally:
            self._clock = clock

    # --- what a lure is made of ---

    def add_board(self, board: Board, *, done: str | None = None, remark: str = "") -> int:
        """Enter a board under a name of its own; returns the entry's number. Raises BadShop."""
        with self.together():
            if lookup.root_of(self.database, "board", board.name) is not None:
                raise not_entered("the name", f"there is a board '{board.name}' already; give this one another name")
            return self._put(board, done=done, remark=remark)

    def add_stock(self, stock: Stock, *, done: str | None = None, remark: str = "") -> int:
        """Enter what lies in a drawer; returns the entry's number. Raises BadShop."""
        return self._put(stock, done=done, remark=remark)

    def add_pattern(self, text: str, *, name: str = "", done: str | None = None, remark: str = "") -> Pattern:
        """Enter a design's exact text as the next version of its pattern.

        name   : what the pattern is called; the design's own name when left out
        raises : BadDesign when the text is no design, BadShop when it is in the log already
        """
        from gudgeon.design.file import parse, stamp

        called = name or parse(text).name
        with self.together():
            versions = self.patterns(called)
            same = next((old for old in versions if old.design == text), None)
            if same is not None:
                raise not_entered("the design", f"it is in the log already: version {same.version} of {called}")
            number = max((old.version for old in versions), default=0) + 1
            pattern = Pattern(called, number, stamp(text), text)
            self._put(pattern, done=done, remark=remark)
        return pattern

    def add_lures(
        self, pattern: str, count: int = 1, *, version: int | None = None, board: str | None = None,
        run: int | None = None, number: int | None = None, done: str | None = None, remark: str = "",
    ) -> tuple[Lure, ...]:  # fmt: skip
        """Begin lures of a pattern, numbered one after the other.

        version : the newest when left out      run : a new one when left out
        number  : of the first; the next free one when left out
        raises  : BadShop
        """
        faults = [] if 1 <= count <= MOST_AT_ONCE else [
            Fault("the count", f"{count}: begin 1 to {MOST_AT_ONCE} at once")]  # fmt: skip
        with self.together():
            of = self._found(faults, lambda: self.pattern_root(pattern, version))
            out_of = None if board is None else self._found(faults, lambda: self.board_root(board))
            if faults:
                raise BadShop("nothing was entered", faults)
            first = lookup.next_number(self.database, _LURES) if number is None else number
            batch = lookup.next_number(self.database, _RUNS, of) if run is None else run
            lures = tuple(Lure(first + place, of, batch, out_of) for place in range(count))
            for lure in lures:
                if read.lure_roots(self.database, lure.number):
                    raise not_entered("the number", f"there is a lure {lure.number} already; the next free one is "
                                                 f"{lookup.next_number(self.database, _LURES)}")  # fmt: skip
                self._put(lure, done=done, remark=remark)
        return lures

    # --- what is seen and done with one lure; each returns the entry's number and raises BadShop ---

    def weigh(self, lure: int, weighing: Weighing, *, done: str | None = None, remark: str = "") -> int:
        """Enter what the scale showed."""
        return self._enter(lure, weighing, done, remark)

    def jug(self, lure: int, jug: Jug, *, done: str | None = None, remark: str = "") -> int:
        """Enter the water it displaces."""
        return self._enter(lure, jug, done, remark)

    def ballast(self, lure: int, ballast: Ballast, *, done: str | None = None, remark: str = "") -> int:
        """Enter a piece of ballast that went in."""
        return self._enter(lure, ballast, done, remark)

    def fit(self, lure: int, fitting: Fitting, *, done: str | None = None, remark: str = "") -> int:
        """Enter a part as it was weighed."""
        return self._enter(lure, fitting, done, remark)

    def drop(self, lure: int, drop: TimedDrop, *, done: str | None = None, remark: str = "") -> int:
        """Enter timed drops."""
        return self._enter(lure, drop, done, remark)

    def lies(self, lure: int, attitude: Attitude, *, done: str | None = None, remark: str = "") -> int:
        """Enter how it lay in the water."""
        return self._enter(lure, attitude, done, remark)

    def tow(self, lure: int, test: TowTest, *, done: str | None = None, remark: str = "") -> int:
        """Enter a tow."""
        return self._enter(lure, test, done, remark)

    def change(self, lure: int, change: Change, *, done: str | None = None, remark: str = "") -> int:
        """Enter what was changed, and why."""
        return self._enter(lure, change, done, remark)

    def note(self, lure: int, note: Note, *, done: str | None = None, remark: str = "") -> int:
        """Enter words."""
        return self._enter(lure, note, done, remark)

    def photo(self, lure: int, picture: Path, shows: str = "", *, done: str | None = None, remark: str = "") -> int:
        """Copy a picture in, and enter it."""
        self.lure_root(lure)
        return self._enter(lure, photos.taken_in(self.folder, picture, shows), done, remark)

    def enter_as_kept(self, lure: int, photo: Photo, *, done: str | None = None, remark: str = "") -> int:
        """Enter a picture that is named by its hash already, as another log told of it."""
        return self._enter(lure, photo, done, remark)

    def keep(self, lure: int, answer: Answer, *, done: str | None = None, remark: str = "") -> int:
        """Keep what was answered of it."""
        return self._enter(lure, answer, done, remark)

    # --- corrections ---

    def correct(self, number: int, changes: Mapping[str, Any], why: str, *, done: str | None = None) -> int:
        """Enter what takes the place of an entry: the same record with some fields changed.

        changes : field -> its value in the record
        raises  : BadShop, also when the entry was corrected already
        """
        with self.together():
            old = self._correctable(number, why)
            record = replace(old.what, **changes) if old.what is not None else None
            if record is None or (record == old.what and done in (None, old.done)):
                raise not_entered(f"entry {number}", "nothing in it would change")
            fixed = [name for name in _FIXED.get(type(record), ()) if getattr(record, name) != getattr(old.what, name)]
            if isinstance(record, Pattern) or fixed:
                raise not_entered(f"entry {number}", _stays(record, fixed))
            if old.lure is not None:
                named_as_drawn(record, self.design_of(old.lure))
            about = lookup.lure_about(self.database, number)
            return self._put(record, lure=about, done=done or old.done, remark=why, corrects=old)

    def strike(self, number: int, why: str, *, done: str | None = None) -> int:
        """Enter that an entry does not count; it stays in the history. Raises BadShop."""
        with self.together():
            old = self._correctable(number, why)
            built = lookup.made_of(self.database, old.kind, old.root) if old.kind in ("pattern", "board") else None
            if built is not None:
                raise not_entered(f"entry {number}", f"lure {built} is made of it; strike that first")
            return self._put_entry(old.kind, {"stage": None}, lure=lookup.lure_about(self.database, number), done=done,
                                   remark=why, corrects=old, void=1)  # fmt: skip

    def _correctable(self, number: int, why: str) -> Entry:
        old = self.entry(number)
        if not why.strip():
            raise not_entered("why", "say why in a few words")
        if old.corrected_by is not None:
            raise not_entered(f"entry {number}", f"it was corrected already, by entry {old.corrected_by}; correct that")
        if old.struck:
            raise not_entered(f"entry {number}", f"it strikes out entry {old.corrects}; enter anew what holds")
        return old

    # --- what can be asked ---

    def entry(self, number: int) -> Entry:
        """One entry by its number; raises BadShop."""
        found = read.entries(self.database, "e.id = ?", (number,))
        if not found:
            fault = Fault(f"entry {number}", "gudgeon log history shows those there are")
            raise BadShop("the log has no such entry", [fault])
        return found[0]

    def lure(self, number: int) -> LureRecord:
        """Everything that stands about a lure; raises BadShop."""
        return read.lure_record(self.database, self.lure_root(number))

    def lures(
        self, *, pattern: str | None = None, run: int | None = None, board: str | None = None, limit: int = 50,
        before: int | None = None,
    ) -> list[LureLine]:  # fmt: skip
        """Lures, the highest number first; see entries.lure_lines."""
        return read.lure_lines(self.database, *lookup.sifted(self.database, pattern, run, board), limit, before)

    def standing(self, kind: str, limit: int = 1000) -> list[Entry]:
        """Boards, stock or patterns that stand, the newest first."""
        where = f"e.kind = ? AND {STANDS.format('e')}"
        return read.entries(self.database, where, (kind, limit), "ORDER BY e.id DESC LIMIT ?")

    def history(self, lure: int | None = None, limit: int = 100) -> list[Entry]:
        """Entries as they were made, corrected and struck ones too, the newest first; of one lure, or of the shop."""
        if lure is None:
            return read.entries(self.database, "e.id > 0", (limit,), "ORDER BY e.id DESC LIMIT ?")
        roots = read.lure_roots(self.database, lure, standing=False)
        if not roots:
            raise no_lure(lure)
        marks = ", ".join("?" * len(roots))
        where = f"e.lure IN ({marks}) OR e.id IN ({marks}) OR e.root IN ({marks})"
        return read.entries(self.database, where, [*roots * 3, limit], "ORDER BY e.id DESC LIMIT ?")

    def chain(self, number: int) -> list[Entry]:
        """An entry with all that it corrects and that corrects it, the newest first; raises BadShop."""
        root = self.entry(number).root
        return read.entries(self.database, "e.id = ? OR e.root = ?", (root, root), "ORDER BY e.id DESC")

    def lure_count(self) -> int:
        """How many lures stand."""
        return read.lure_count(self.database)

    def patterns(self, name: str) -> list[Pattern]:
        """The versions of a pattern that stand, the oldest first."""
        where = f"e.id IN (SELECT entry FROM pattern WHERE name = ?) AND {STANDS.format('e')}"
        return [entry.what for entry in read.entries(self.database, where, (name,)) if isinstance(entry.what, Pattern)]

    def stamped(self, stamp: str) -> list[Entry]:
        """The patterns whose design has a stamp, or a stamp that begins so."""
        first = stamp.lower()
        where = f"e.id IN (SELECT entry FROM pattern WHERE stamp BETWEEN ? AND ?) AND {STANDS.format('e')}"
        return read.entries(self.database, where, (first, f"{first}~"))

    def measured(self, kind: type[Seen], pattern: int, run: int | None = None, most: int = 60) -> list[Of[Seen]]:
        """What stands of one kind of the newest lures of a pattern's version, or of one run of it."""
        return read.measured(self.database, kind, pattern, run, most)

    def run_of(self, pattern: int, run: int | None = None) -> list[LureLine]:
        """The lures of one run of a pattern's version, by number; of its newest run when that is left out."""
        return read.run_lines(self.database, pattern, run)

    def design_of(self, lure: int) -> "Design":
        """The design a lure was built from; raises BadShop."""
        return self.design_at(lookup.pattern_of(self.database, self.lure_root(lure)))

    def design_at(self, pattern: int) -> "Design":
        """The design of a pattern's version, by its first entry."""
        if pattern not in self._designs:
            from gudgeon.design.file import parse

            text = self.entry(pattern).what
            assert isinstance(text, Pattern)  # lures are built from patterns
            self._designs[pattern] = parse(text.design, f"version {text.version} of {text.name}")
        return self._designs[pattern]

    def lure_root(self, number: int) -> int:
        """The first entry of a lure by its number; raises BadShop."""
        return lookup.lure_root(self.database, number)

    def pattern_root(self, name: str, version: int | None = None) -> int:
        """The entry of a pattern's version, the newest when it is left out; raises BadShop."""
        return lookup.pattern_root(self.database, name, version)

    def board_root(self, name: str) -> int:
        """The first entry of a board; raises BadShop."""
        return lookup.needed_root(self.database, "board", name)

    # --- inside ---

    def _enter(self, lure: int, record: OfLure, done: str | None, remark: str) -> int:
        names = getattr(record, "fitted", None) or getattr(record, "stand_ins", ())
        with self.together():
            root = self.lure_root(lure)
            if names or isinstance(record, Fitting) or getattr(record, "piece", "whole") != "whole":
                named_as_drawn(record, self.design_of(lure))
            return self._put(record, lure=root, done=done, remark=remark)

    def _found(self, faults: list[Fault], ask: Callable[[], int]) -> int:
        """What is asked for by name; its faults join the others."""
        try:
            return ask()
        except BadShop as refusal:
            faults += refusal.faults
            return 0

    def _put(self, record: Record, *, lure: int | None = None, done: str | None = None, remark: str = "",
             corrects: Entry | None = None) -> int:  # fmt: skip
        checked(record, remark)
        row = row_of(record)
        number = 0
        with self.together():
            number = self._put_entry(KIND_OF[type(record)], row, lure=lure, done=done, remark=remark,
                                     corrects=corrects)  # fmt: skip
            self.database.put(KIND_OF[type(record)], {"entry": number, **{name: value for name, value in row.items()
                                                                          if name != "stage"}})  # fmt: skip
        return number

    def _put_entry(self, kind: str, row: Mapping[str, Any], *, lure: int | None, done: str | None, remark: str,
                   corrects: Entry | None, void: int = 0) -> int:  # fmt: skip
        made = self._clock()
        when = moment(done) if done else made
        not_to_come(when, made)
        return self.database.put("entry", {
            "kind": kind, "lure": lure, "stage": row.get("stage"), "done": when,
            "made": made, "remark": remark, "corrects": corrects.number if corrects else None,
            "root": corrects.root if corrects else None, "void": void,
        })  # fmt: skip


def _stays(record: Record, fixed: list[str]) -> str:
    if isinstance(record, Pattern):
        return "a pattern's text stays as it is; enter the new text as its next version: gudgeon log add pattern FILE"
    return f"{', '.join(fixed)} cannot change, since other entries go by it; strike it out, and enter it anew"
