"""Where notes go over and under a view: flags on upright leaders, at heights where none touches another."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from gudgeon.report.strokes import Box, Note

PITCH = 3.6  # mm from one line of words to the next
GAP = 0.9  # mm between a leader and its words
_ROWS = 60  # rows looked through; a row takes at least one note


@dataclass(frozen=True)
class Flag:
    """A note in its place.

    foot : [mm] height of the line its words stand on; the lowest one's where they are several
    left, right : [mm] of that line; one of them is the leader
    """

    note: Note
    foot: float
    left: float
    right: float

    @property
    def box(self) -> Box:
        """What its words cover [mm]."""
        return self.left, self.foot, self.right, self.foot + PITCH * len(self.note.words)


def flags(
    notes: Sequence[Note], span: tuple[float, float], edge: float, *, up: bool, width_of: Callable[[Note], float]
) -> tuple[Flag, ...]:
    """Every note placed, none over another, in as few rows as a placing from the right or one from the left finds.

    span     : [mm] from where to where words may stand
    edge     : [mm] height of the band's inner edge
    up       : whether the band lies over the view
    width_of : [mm] of a note's words
    """
    band = _Band(span, edge, up, {note: width_of(note) + 2.0 * GAP for note in notes})
    tries = [_placed(notes, band, right=right) for right in (True, False)]
    return min(tries, key=lambda found: extent(found, edge))


@dataclass(frozen=True)
class _Band:
    """Where words may go, and how wide each note is [mm]."""

    span: tuple[float, float]
    edge: float
    up: bool
    widths: dict[Note, float]


def extent(placed: Sequence[Flag], edge: float) -> float:
    """How far [mm] flags reach from the band's inner edge."""
    reach = [max(flag.box[3] - edge, edge - flag.foot) for flag in placed]
    return max(reach, default=0.0)


def _placed(notes: Sequence[Note], band: _Band, *, right: bool) -> tuple[Flag, ...]:
    """Flags to the right of their leaders, laid from the right; those that must turn back go beyond them all after.

    A flag must turn back that would run over the end of the band, or over the leader of another that turns back: so
    none in the first rows lies across the leaders that pass them. With `right` false, all of it the other way round.
    """
    order = sorted(notes, key=lambda note: note.at[0], reverse=right)
    turning: list[Note] = []
    for note in order:
        flag = _choice(note, band, 0, right=right)
        ends = flag.left < band.span[0] or flag.right > band.span[1]
        if ends or any(_spans(flag, other.at[0]) for other in turning):
            turning.append(note)
    done: list[Flag] = []
    for note in [note for note in order if note not in turning]:
        done.append(_first_free(note, band, done, right=right))
    for note in turning[::-1]:
        done.append(_first_free(note, band, done, right=not right))
    return tuple(done)


def _first_free(note: Note, band: _Band, done: Sequence[Flag], *, right: bool) -> Flag:
    """The note in the first row where it touches nothing.

    Where leaders stand in a chain from one end of the band to the other there may be no such row: then the first where
    its words are clear of other words, and cover a leader.
    """
    for touches in (_collide, _cover):
        for row in range(_ROWS):
            flag = _within(_choice(note, band, row, right=right), band)
            if not any(touches(flag, other) for other in done):
                return flag
    return _within(_choice(note, band, _ROWS, right=right), band)


def _choice(note: Note, band: _Band, row: int, *, right: bool) -> Flag:
    """The flag in one row, to the right of its leader or to the left."""
    x, tall, wide = note.at[0], PITCH * len(note.words), band.widths[note]
    foot = band.edge + PITCH * row if band.up else band.edge - PITCH * row - tall
    return Flag(note, foot, x, x + wide) if right else Flag(note, foot, x - wide, x)


def _within(flag: Flag, band: _Band) -> Flag:
    """A flag that would run over an end of the band, moved in."""
    shift = max(band.span[0] - flag.left, 0.0) or min(band.span[1] - flag.right, 0.0)
    return replace(flag, left=flag.left + shift, right=flag.right + shift)


def _spans(flag: Flag, x: float) -> bool:
    """Whether a leader at `x` would run through a flag, or graze the end of it that is not its own leader."""
    own = flag.note.at[0]
    return flag.left - (0.4 if flag.left < own else 0.0) < x < flag.right + (0.4 if flag.right > own else 0.0)


def _cover(first: Flag, second: Flag) -> bool:
    return _over(first.box, second.box)


def _collide(first: Flag, second: Flag) -> bool:
    return _over(first.box, second.box) or _crosses(first, second) or _crosses(second, first)


def _over(first: Box, second: Box) -> bool:
    return (first[0] < second[2] + 1.0 and second[0] < first[2] + 1.0
            and first[1] < second[3] - 0.05 and second[1] < first[3] - 0.05)  # fmt: skip


def _crosses(one: Flag, other: Flag) -> bool:
    """Whether the leader of one runs through the words of the other."""
    x, start = one.note.at
    low, high = sorted((start, one.foot))
    _, bottom, _, top = other.box
    return _spans(other, x) and low < top - 0.05 and high > bottom + 0.05
