"""Where notes go over and under a view: flags on upright leaders, alternating in height so that none touches another."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from gudgeon.report.strokes import Box, Note

PITCH = 3.6  # mm from one line of words to the next
GAP = 0.9  # mm between a leader and its words
_HIGHEST = 30  # rows of flags tried before one is laid over a leader


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
    """Every note placed, none over another, in as few rows as two orders of placing find.

    span     : [mm] from where to where words may stand
    edge     : [mm] height of the band's inner edge
    up       : whether the band lies over the view
    width_of : [mm] of a note's words
    """
    forward = sorted(notes, key=lambda note: note.at[0])
    tries = [_placed(order, span, edge, up=up, width_of=width_of) for order in (forward[::-1], forward)]
    return min(tries, key=lambda placed: extent(placed, edge))


def extent(placed: Sequence[Flag], edge: float) -> float:
    """How far [mm] flags reach from the band's inner edge."""
    reach = [max(flag.box[3] - edge, edge - flag.foot) for flag in placed]
    return max(reach, default=0.0)


def _placed(
    order: Sequence[Note], span: tuple[float, float], edge: float, *, up: bool, width_of: Callable[[Note], float]
) -> tuple[Flag, ...]:
    done: list[Flag] = []
    for note in order:
        wide = width_of(note) + 2.0 * GAP
        choices = [flag for row in range(_HIGHEST) for flag in _choices(note, wide, span, edge, row, up=up)]
        free = (flag for flag in choices if not any(_collide(flag, other) for other in done))
        done.append(next(free, choices[-1]))
    return tuple(done)


def _choices(
    note: Note, wide: float, span: tuple[float, float], edge: float, row: int, *, up: bool
) -> list[Flag]:  # fmt: skip
    """The flag in one row: to the right of its leader, or to the left; where neither fits, up against an end."""
    x, tall = note.at[0], PITCH * len(note.words)
    foot = edge + PITCH * row if up else edge - PITCH * row - tall
    found = [Flag(note, foot, x, x + wide), Flag(note, foot, x - wide, x)]
    inside = [flag for flag in found if flag.left >= span[0] and flag.right <= span[1]]
    if inside:
        return inside
    left = min(max(x - 0.5 * wide, span[0]), span[1] - wide)
    return [Flag(note, foot, left, left + wide)]


def _collide(first: Flag, second: Flag) -> bool:
    return _over(first.box, second.box) or _crosses(first, second) or _crosses(second, first)


def _over(first: Box, second: Box) -> bool:
    return (first[0] < second[2] + 1.0 and second[0] < first[2] + 1.0
            and first[1] < second[3] - 0.05 and second[1] < first[3] - 0.05)  # fmt: skip


def _crosses(one: Flag, other: Flag) -> bool:
    """Whether the leader of one runs through the words of the other."""
    x, start = one.note.at
    low, high = sorted((start, one.foot))
    left, bottom, right, top = other.box
    return left - 0.4 < x < right + 0.4 and low < top - 0.05 and high > bottom + 0.05
