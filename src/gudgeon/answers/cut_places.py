"""Where the cuts of a jointed lure may go: the maker's own, and the trade's habits, with what each costs and why.

All habits are common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from gudgeon.design.model import Design
from gudgeon.errors import NoAnswer
from gudgeon.physics.lure import Lure
from gudgeon.units import INCH

FEWEST, MOST_PIECES = 2, 5
LAYING_OUT = INCH / 4.0  # of length to add for each joint when the blank is laid out
DEPTH_LOST = 0.15  # of the body's depth, at most, at the first cut
ROOM = 0.016  # [m] on each side of a cut for a hinge and a hanger
_OWN_HINGE = 0.012  # [m] hardware this near one of the maker's own cuts belongs to its hinge and moves with it
_HANGER = 0.003  # [m] half of what a hanger needs of the length
_STEP = 5e-4  # [m] places tried


@dataclass(frozen=True)
class CutPlace:
    """One cut of a proposal.

    at          : [m] from the nose
    low, high   : [m] the habit's range; both `at` where it has none, or for the maker's own
    depth_lost  : share of the body's greatest depth
    width       : [m] of the body there
    room_ahead, room_behind : [m] to what is nearest along the body, or to the next cut
    ahead, behind : what that is
    moved       : [m] from the middle of the habit's range, aft positive, to make room
    """

    at: float
    low: float
    high: float
    depth_lost: float
    width: float
    room_ahead: float
    room_behind: float
    ahead: str
    behind: str
    moved: float

    @property
    def has_room(self) -> bool:
        """Whether a hinge and a hanger have their length on both sides."""
        return min(self.room_ahead, self.room_behind) >= ROOM - 1e-6


@dataclass(frozen=True)
class CutProposal:
    """One way to part the body.

    habit   : short name, "as drawn" for the maker's own
    reasons : what it is for, in words
    pieces  : [m] length of each, nose to tail, gaps shared
    extra   : [m] of length to add for the joints when the blank is laid out
    """

    habit: str
    reasons: str
    cuts: tuple[CutPlace, ...]
    pieces: tuple[float, ...]
    extra: float


@dataclass(frozen=True)
class _Habit:
    """A habit: its cuts as shares of the length, lowest and highest of each."""

    name: str
    reasons: str
    ranges: tuple[tuple[float, float], ...]


def cut_places(design: Design, lure: Lure, pieces: int) -> tuple[CutProposal, ...]:
    """Ways to part a body into so many pieces, the maker's own first where there are as many.

    raises : NoAnswer for a number of pieces the trade has no habit for
    """
    if not FEWEST <= pieces <= MOST_PIECES:
        raise NoAnswer(f"{pieces} pieces: ask for {FEWEST} to {MOST_PIECES}")
    in_the_way = _obstacles(design, lure)
    found = []
    if len(design.joints) + 1 == pieces:
        own = [joint.at for joint in design.joints]
        own_way = _obstacles(design, lure, own_hinges=False)
        cuts = [_placed(lure, own_way, (at, at, at), own) for at in own]
        found.append(_proposal("as drawn", "the maker's own places", cuts, lure))
    for habit in _habits(pieces, has_lip=design.lip is not None):
        ranges = [(low * lure.hull.length, high * lure.hull.length) for low, high in habit.ranges]
        places = _chosen(in_the_way, ranges)
        cuts = [_placed(lure, in_the_way, (at, *span), places) for at, span in zip(places, ranges, strict=True)]
        found.append(_proposal(habit.name, habit.reasons, cuts, lure))
    return tuple(found)


def _habits(pieces: int, *, has_lip: bool) -> list[_Habit]:
    """What makers do with so many pieces."""
    found = []
    usual = {
        2: (((0.50, 0.62),) if has_lip else ((0.50, 0.58),),
            "further back only the tail wags; further forward the whole body thrashes" if has_lip else
            "a longer head glides lazier and wider, a shorter one turns quicker and spins more easily"),
        3: (((0.42, 0.46), (0.70, 0.74)), "the head a little longer than either other piece, and heaviest"),
        4: (((0.35, 0.38), (0.58, 0.62), (0.80, 0.82)), "each piece a little shorter than the one ahead of it"),
        5: (_equal_rest(0.28, 0.32, 5), "a head of three tenths, the rest equal: less throw at each joint, smoother at "
            "a crawl"),
    }  # fmt: skip
    ranges, why = usual[pieces]
    found.append(_Habit("usual", why, ranges))
    if pieces > 2:
        third = _equal_rest(1.0 / 3.0, 1.0 / 3.0, pieces)
        rest = "the rest halved" if pieces == 3 else "the rest in equal parts"
        found.append(_Habit("even thirds", f"the first cut a third back, {rest}: easy to lay out", third))
    least, most = (0.75, 0.90) if pieces < 5 else (0.90, 0.95)
    found.append(_Habit("shrinking", f"each piece {least:g} to {most:g} of the one ahead of it, so the swing grows aft",
                        _shrinking(least, most, pieces)))  # fmt: skip
    return found


def _equal_rest(low: float, high: float, pieces: int) -> tuple[tuple[float, float], ...]:
    """Cuts after a head of `low` to `high` of the length, the rest parted equally."""
    return tuple(
        (low + (1.0 - low) * place / (pieces - 1), high + (1.0 - high) * place / (pieces - 1))
        for place in range(pieces - 1)
    )


def _shrinking(least: float, most: float, pieces: int) -> tuple[tuple[float, float], ...]:
    """Cuts when each piece is `least` to `most` of the one ahead: sums of a geometric row."""
    ends = [np.cumsum(ratio ** np.arange(pieces)) / np.sum(ratio ** np.arange(pieces)) for ratio in (most, least)]
    return tuple((float(low), float(high)) for low, high in zip(ends[0][:-1], ends[1][:-1], strict=True))


_Obstacle = tuple[float, float, str]


def _obstacles(design: Design, lure: Lure, *, own_hinges: bool = True) -> list[_Obstacle]:
    """What a hinge must keep clear of: first and last station [m] of each, and its name.

    own_hinges : leave out the hardware of the maker's own hinges
    """
    found = [(pocket.at - 0.5 * pocket.bore, pocket.at + 0.5 * pocket.bore, f"bore '{pocket.name}'")
             for pocket in design.pockets if pocket.face not in ("front", "rear")]  # fmt: skip
    found += [(hook.at - _HANGER, hook.at + _HANGER, f"the {hook.name}") for hook in design.hooks]
    hangers = [hook.at for hook in design.hooks]
    for part in design.fittings:
        is_hanger = any(abs(part.at - at) < _HANGER for at in hangers)
        of_hinge = any(abs(part.at - joint.at) < _OWN_HINGE for joint in design.joints)
        if part.kind in ("screw eye", "eye", "pin", "plate") and not is_hanger and not (of_hinge and own_hinges):
            if not of_hinge:
                found.append((part.at - _HANGER, part.at + _HANGER, f"the {part.name}"))
        elif part.kind in ("glass eye", "grommet"):
            found.append((part.at - _HANGER, part.at + _HANGER, f"the {part.name}"))
    if design.lip is not None:
        found.append((design.lip.at, design.lip.at + design.lip.set_in * float(np.cos(design.lip.angle)), "the lip"))
    if design.fin is not None and design.fin.set_in > 0.0:
        found.append((design.fin.at - design.fin.set_in, design.fin.at, "the fin's slot"))
    return [*found, (lure.hull.start, lure.hull.start, "the nose"), (lure.hull.stop, lure.hull.stop, "the tail's end")]


def _rooms(obstacles: Sequence[_Obstacle], at: float) -> tuple[tuple[float, str], tuple[float, str]]:
    """The room [m] ahead of and behind a place, and what bounds it; less than nothing inside something."""
    ahead = min((at - last, name) for first, last, name in obstacles if first + last <= 2.0 * at)
    behind = min((first - at, name) for first, last, name in obstacles if first + last > 2.0 * at)
    return ahead, behind


def _chosen(obstacles: Sequence[_Obstacle], ranges: Sequence[tuple[float, float]]) -> list[float]:
    """The place in each range with room on both sides that is nearest its middle; else the one with most room."""
    places: list[float] = []
    for low, high in ranges:
        middle = 0.5 * (low + high)
        tried = np.arange(low, high + 1e-9, _STEP) if high - low >= _STEP else np.array([middle])
        tried = np.append(tried, middle)
        own = [*obstacles, *((place, place, "the cut ahead") for place in places)]
        room = [min(side[0] for side in _rooms(own, float(at))) for at in tried]
        best = min(range(len(tried)), key=lambda i: (-min(room[i], ROOM), abs(tried[i] - middle)))
        places.append(float(tried[best]))
    return places


def _placed(
    lure: Lure, obstacles: Sequence[_Obstacle], span: tuple[float, float, float], cuts: Sequence[float]
) -> CutPlace:
    """One cut with what it costs. `span` : [m] place, lowest and highest of the habit."""
    at, low, high = span
    others = [(cut, cut, "the next cut") for cut in cuts if cut != at]
    (room_ahead, ahead), (room_behind, behind) = _rooms([*obstacles, *others], at)
    place = np.array([at])
    depth = float((lure.hull.back(place) - lure.hull.belly(place))[0])
    return CutPlace(
        at=at, low=low, high=high, depth_lost=1.0 - depth / lure.depth, width=2.0 * float(lure.hull.side(place)[0]),
        room_ahead=room_ahead, room_behind=room_behind, ahead=ahead, behind=behind, moved=at - 0.5 * (low + high),
    )  # fmt: skip


def _proposal(habit: str, reasons: str, cuts: Sequence[CutPlace], lure: Lure) -> CutProposal:
    ends = [lure.hull.start, *(cut.at for cut in cuts), lure.hull.stop]
    pieces = tuple(float(length) for length in np.diff(ends))
    return CutProposal(habit, reasons, tuple(cuts), pieces, LAYING_OUT * len(cuts))
