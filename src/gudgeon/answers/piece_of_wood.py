"""The piece of wood: the blank a lure needs, whether this board holds it, where a flat or a flaw would be, how many."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from gudgeon.answers.board_fit import BAD, HARMLESS, Fit, Flat, Hit, SideOn, Zone, best_fit, body_of, widths
from gudgeon.answers.cut_order import SquareStock, Step, cut_order
from gudgeon.answers.finding import Finding, Number, worst_first
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.jointing import TRUING
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.design.bench import Board, Flaw
from gudgeon.design.model import Design
from gudgeon.errors import Fault, NoAnswer
from gudgeon.physics.hull import depth_at
from gudgeon.physics.lure import Lure
from gudgeon.units import Measure

# Common practice, no source: how near a flaw may come to a joint's face and to an eye, how deep an eye goes, and next
_FACE_ZONE, _EYE_ZONE, _EYE_DEPTH = 5e-3, 5e-3, 0.015
_EYES = ("screw eye", "tow eye", "eye", "wire", "pin", "plate")
LEAST_OVER = 5e-4  # m over the body on each side, the least that can be shaped to
_SLIP = 1e-6  # m of rounding


@dataclass(frozen=True)
class Need:
    """The square stock one lure needs.

    length     : [m] in one piece with its square ends, joints sawn apart where they are drawn
    laid_apart : [m] with the joints laid out apart, wood to cut and true each added
    side, top  : [m] across the side view and across the top view, all of the allowance on both sides
    over_side, over_top : [m] over the body on each side as it is sawn: the allowance, or what there is of it in a
        board that holds the lure with less
    joints     : (station, length) [m] that each joint costs in one piece
    """

    length: float
    laid_apart: float
    side: float
    top: float
    over_side: float
    over_top: float
    joints: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Count:
    """How many square blanks the board gives.

    count, clear : in all, and those that no flaw touches
    along, rows  : end to end, and side by side with those through the thickness, at the narrower end
    side_on      : what the side view is drawn on
    is_tight     : it gives one only, without all of the allowance: as the lure lies on it
    """

    count: int
    clear: int
    along: int
    rows: tuple[int, int]
    side_on: SideOn
    is_tight: bool = False


@dataclass(frozen=True)
class PieceOfWood:
    """A lure and its board.

    depth, width, length : [m] of the bare body
    """

    board: Board
    length: float
    depth: float
    width: float
    need: Need
    fit: Fit
    count: Count
    steps: tuple[Step, ...]
    findings: tuple[Finding, ...]

    @property
    def fits(self) -> bool:
        """Whether the whole body comes out of the board, no flat left on it, and wood over it to shape to."""
        return _holds(self.fit)

    @property
    def stock(self) -> SquareStock:
        """What the blank is sawn to: the board's own faces where it gives no more."""
        board, need = self.board, self.need
        tight_side, tight_top = (board.allowance - over > _SLIP for over in (need.over_side, need.over_top))
        return SquareStock(need.length, need.side - 2.0 * (board.allowance - need.over_side),
                           need.top - 2.0 * (board.allowance - need.over_top), self.fit, tight_side, tight_top,
                           is_held=self.fits)  # fmt: skip


def piece_of_wood(design: Design, lure: Lure, waiting: str = "") -> PieceOfWood:
    """Whether the maker's board holds the lure, how it lies best, what it leaves, how many it gives, what is cut first.

    lure    : assembled from the design
    waiting : name of the ballast bore that the tub test settles; "" where none waits
    raises  : NoAnswer without a [board]
    """
    board = design.board
    if board is None:
        words = 'is not there; write the piece of wood as it lies there: length = "600 mm", width = "70 mm", thickness'
        raise NoAnswer("no piece of wood is told", [Fault("board", f'{words} = "38 mm"')])
    wood = lure.bare_hull
    end = max(board.ends, board.allowance)
    extras = _extras(design, lure, board)
    body = body_of(wood, extras, end)
    side, top = float(np.ptp([body.low.min(), body.high.max()])), 2.0 * float(body.half.max())
    fit = best_fit(board, body, wood, _zones(design, lure))
    over_side, over_top = _over(board, fit, body.length, (side, top))
    need = Need(body.length, wood.length + 2.0 * end + _laid_apart(design, lure, board), side + 2.0 * board.allowance,
                top + 2.0 * board.allowance, over_side, over_top, extras)  # fmt: skip
    count = max((_count(board, need, side_on) for side_on in ("width", "thickness")), key=lambda c: (c.clear, c.count))
    found = [*_fit_findings(board, fit, need), *(_hit_finding(hit) for hit in fit.hits), *_joint_findings(design, lure)]
    answer = PieceOfWood(board, wood.length, float((body.high - body.low).max()), 2.0 * float(body.half.max()), need,
                         fit, count, (), ())  # fmt: skip
    if answer.fits and count.count == 0:
        count = Count(1, 0 if fit.hits else 1, 1, (1, 1), fit.way.side_on, is_tight=True)
    found += _count_findings(count)
    steps = cut_order(design, lure, answer.stock, waiting)
    return replace(answer, count=count, steps=steps, findings=worst_first(found))


def _holds(fit: Fit) -> bool:
    over = min(fit.spare_side, fit.spare_top)
    return not fit.flats and fit.spare_length >= -_SLIP and over >= LEAST_OVER - _SLIP


def _over(board: Board, fit: Fit, length: float, body: tuple[float, float]) -> tuple[float, float]:
    """[m] over the body on each side, in its side view and its top view, of the blank as it is sawn from this board;
    the allowance where the board does not hold the lure at all.

    length : [m] of the blank      body : (2,) [m] across the side view and the top view
    """
    if not _holds(fit):
        return board.allowance, board.allowance
    narrow = [2.0 * float(half.min()) for half in widths(board, np.array([fit.way.start, fit.way.start + length]))]
    if fit.way.side_on == "thickness":
        narrow.reverse()
    over = []
    for room, across, spare in zip(narrow, body, (fit.spare_side, fit.spare_top), strict=True):
        even = 0.5 * (room - across)  # of a blank with even sides; a board that tapers may hold the body and not that
        over.append(min(board.allowance, even if even >= LEAST_OVER - _SLIP else spare))
    return over[0], over[1]


def _reach(design: Design, lure: Lure) -> Iterator[tuple[float, float, float]]:
    """Of each joint: its station [m], its gap in bare wood [m], and how far its faces reach past each other there [m],
    minus where a saw passes between them."""
    for joint, drawn in zip(lure.joints, design.joints, strict=True):
        bare = joint_shape(drawn, lure.hull).bared(lure.build)
        out = np.linspace(0.0, float(lure.hull.side(np.array([joint.at]))[0]), 40)
        yield joint.at, bare.cut_gap, float(bare.front.station(out).max() - bare.rear.station(out).min())


def _extras(design: Design, lure: Lure, board: Board) -> tuple[tuple[float, float], ...]:
    """What each joint costs in length when the pieces are sawn apart where they are drawn."""
    return tuple((at, max(0.0, past + board.kerf)) for at, _, past in _reach(design, lure))


def _laid_apart(design: Design, lure: Lure, board: Board) -> float:
    """The same with the habit's wood for truing; as `jointing` counts it, but in bare wood."""
    return sum(TRUING + board.kerf + max(0.0, past) for _, _, past in _reach(design, lure))


def _zones(design: Design, lure: Lure) -> tuple[Zone, ...]:
    """Where a flaw does no harm, and then where the wood has to hold."""
    zones = []
    for number, (at, gap, _) in enumerate(_reach(design, lure), start=1):
        zones.append(Zone(f"in the gap of joint {number}", at - 0.5 * gap, at + 0.5 * gap, -1.0, 1.0, HARMLESS))
    for pocket in lure.pockets:
        depth, upright = lure.fills[pocket.name].depth, abs(pocket.inward[2]) > 0.5
        if depth > 0.0 and upright:
            low, high = sorted((pocket.mouth[2], pocket.mouth[2] + depth * pocket.inward[2]))
            zones.append(Zone(f"in the {pocket.name} ballast bore", pocket.mouth[0] - 0.5 * pocket.bore,
                              pocket.mouth[0] + 0.5 * pocket.bore, low, high, HARMLESS))  # fmt: skip
    for number, (at, gap, _) in enumerate(_reach(design, lure), start=1):
        for face in (at - 0.5 * gap - _FACE_ZONE, at + 0.5 * gap):
            zones.append(Zone(f"at a face of joint {number}", face, face + _FACE_ZONE, -1.0, 1.0, BAD))
    return (*zones, *_eye_zones(design, lure))


def _eye_zones(design: Design, lure: Lure) -> Iterator[Zone]:
    for fitting in design.fittings:
        if fitting.kind in _EYES:
            height = fitting.height
            yield _eye_zone(f"at the {fitting.name}", fitting.at, height, fitting.shank or _EYE_DEPTH, lure)
    for hook in design.hooks:
        yield _eye_zone(f"at the {hook.name}'s hanger", hook.at, hook.height, _EYE_DEPTH, lure)


def _eye_zone(words: str, at: float, height: float | None, deep: float, lure: Lure) -> Zone:
    """Round a shank: from its loop as far into the wood as it may go, whichever way."""
    inside = min(max(at, lure.hull.start), lure.hull.stop)
    foot = depth_at(lure.hull, inside)[0] if height is None else height
    return Zone(words, at - _EYE_ZONE, at + _EYE_ZONE, foot - _EYE_ZONE, foot + deep, BAD)


def pieces_in(room: float, each: float, kerf: float) -> int:
    """How many pieces of one size [m] a room [m] gives, a saw's kerf [m] between them."""
    return int((room + kerf) / (each + kerf) + 1e-9)


def _count(board: Board, need: Need, side_on: SideOn) -> Count:
    across, through = (need.side, need.top) if side_on == "width" else (need.top, need.side)
    along = pieces_in(board.length, need.length, board.kerf)
    count, clear, rows = 0, 0, (0, 0)
    for place in range(along):
        start = place * (need.length + board.kerf)
        wide, thick = (2.0 * half for half in widths(board, np.array([start, start + need.length])))
        side_by_side, layers = (pieces_in(float(room.min()), each, board.kerf)
                                for room, each in ((wide, across), (thick, through)))  # fmt: skip
        rows = (side_by_side, layers) if place == 0 else (min(rows[0], side_by_side), min(rows[1], layers))
        count += side_by_side * layers
        left = -0.5 * float(wide.min())
        lanes = [(left + lane * (across + board.kerf), left + lane * (across + board.kerf) + across)
                 for lane in range(side_by_side)]  # fmt: skip
        clear += layers * sum(not any(_in_cell(board, flaw, (start, start + need.length), lane)
                                      for flaw in board.flaws) for lane in lanes)  # fmt: skip
    return Count(count, clear, along, rows, side_on)


def _in_cell(board: Board, flaw: Flaw, along: tuple[float, float], across: tuple[float, float]) -> bool:
    if flaw.at + 0.5 * flaw.long <= along[0] or flaw.at - 0.5 * flaw.long >= along[1]:
        return False
    if flaw.wide is None:
        return True
    middle = flaw.across - float(widths(board, np.array([flaw.at]))[0][0])
    return middle - 0.5 * flaw.wide < across[1] and middle + 0.5 * flaw.wide > across[0]


def _fit_findings(board: Board, fit: Fit, need: Need) -> Iterator[Finding]:
    if fit.spare_length < -_SLIP:
        square = fit.spare_length + 2.0 * max(board.ends - board.allowance, 0.0)
        way_out = "; with shorter square ends it would do" if square >= -_SLIP else ""
        yield wrong(f"the board is {{short}} too short: {{need}} are needed with the square ends{way_out}",
                    short=(-fit.spare_length, Measure.CUT), need=(need.length, Measure.CUT))  # fmt: skip
    elif board.length < need.laid_apart - _SLIP and need.joints:
        yield note("there is not the length to lay the pieces out apart, {apart}: saw the joints where they are drawn",
                   apart=(need.laid_apart, Measure.CUT))  # fmt: skip
    for flat in fit.flats:
        yield _flat_finding(flat)
    for spare, over, view in ((fit.spare_side, need.over_side, "side"), (fit.spare_top, need.over_top, "top")):
        if fit.flats or min(spare, over) >= board.allowance - _SLIP:
            continue
        if spare < LEAST_OVER - _SLIP:
            yield wrong(f"the body just comes out, with {{spare}} over on each side in the {view} view: {{least}} is "
                        "the least that can be shaped to", spare=(max(spare, 0.0), Measure.LENGTH),
                        least=(LEAST_OVER, Measure.LENGTH))  # fmt: skip
            continue
        yield watch(f"the body comes out, but with {{spare}} over on each side in the {view} view where {{wanted}} is "
                    "wanted for shaping: saw close, and do not plane first",
                    spare=(over if _holds(fit) else spare, Measure.CUT),
                    wanted=(board.allowance, Measure.CUT))  # fmt: skip
    if not _holds(fit):
        yield _would_do(fit, need)


def _would_do(fit: Fit, need: Need) -> Finding:
    """The least board that holds the lure with all of the allowance, laid the same way."""
    wide, thick = (need.side, need.top) if fit.way.side_on == "width" else (need.top, need.side)
    return note("a board {length} long, {wide} wide and {thick} thick would do", length=(need.length, Measure.CUT),
                wide=(wide, Measure.CUT), thick=(thick, Measure.CUT))  # fmt: skip


def _flat_finding(flat: Flat) -> Finding:
    where = "on both sides" if flat.face == "both sides" else f"on the {flat.face}"
    return wrong(f"the board leaves a flat {where}, from {{start}} to {{stop}} from the nose: {{depth}} deep and "
                 "{wide} across at {at}. A slimmer body there, thicker wood, or a strip glued on",
                 start=(flat.start, Measure.CUT), stop=(flat.stop, Measure.CUT), depth=(flat.depth, Measure.LENGTH),
                 wide=(flat.wide, Measure.CUT), at=(flat.at, Measure.CUT))  # fmt: skip


def _hit_finding(hit: Hit) -> Finding:
    numbers: dict[str, Number] = {"x": (0.5 * (hit.start + hit.stop), Measure.CUT), "low": (hit.low, Measure.CUT),
                                  "high": (hit.high, Measure.CUT)}  # fmt: skip
    place = f"the {hit.flaw.what} lands in the lure {{x}} from the nose, at heights {{low}} to {{high}}"
    if hit.weight == HARMLESS:
        return note(f"{place}: {_plain(hit.words)}, so most of it is cut away", **numbers)
    if hit.weight == BAD:
        where = _plain(hit.words) or "in plain wood, but a crack goes on opening"
        return wrong(f"{place}: {where}. No other way of laying it out is better; another board, or glue up",
                     **numbers)  # fmt: skip
    advice = "its wood weighs otherwise" if hit.flaw.what == "sapwood edge" else "seal it well, and fill what falls out"
    return watch(f"{place}, in plain wood: {advice}", **numbers)


def _plain(words: str) -> str:
    """Words that hold a maker's own names, for a sentence with numbers to fill in."""
    return words.replace("{", "{{").replace("}", "}}")


def _joint_findings(design: Design, lure: Lure) -> Iterator[Finding]:
    """A saw wider than the gap it is to leave; where faces reach past each other it never passes in one cut."""
    board = design.board
    for number, (drawn, (_, gap, past)) in enumerate(zip(design.joints, _reach(design, lure), strict=True), start=1):
        if board is not None and drawn.face == "vee" and past <= 0.0 and board.kerf > gap + _SLIP:
            yield watch(f"the saw takes {{kerf}} and the gap of joint {number} in bare wood is {{gap}}: lay its pieces "
                        "out {more} apart, or use a thinner saw", kerf=(board.kerf, Measure.CUT),
                        gap=(gap, Measure.CUT), more=(board.kerf - gap, Measure.CUT))  # fmt: skip


def _count_findings(count: Count) -> Iterator[Finding]:
    if count.count == 1 and count.clear == 0 and not count.is_tight:
        yield note("the one square blank this board gives is touched by a flaw")
    elif count.count > 1 and count.clear < count.count:
        touched = count.count - count.clear
        which = "one of them is" if touched == 1 else f"{touched} of them are"
        yield note(f"of the {count.count} square blanks this board gives, {which} touched by a flaw")
