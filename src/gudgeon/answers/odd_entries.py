"""What is odd about anything that is about to be entered of a lure: a question, no refusal, as of a weight.

Ballast is held against its hole and against the body where it goes in; a drop's times against each other. Which are
far is a habit of our own: a quarter more than the hole holds to its mouth, half as long again as the other drops.
"""

import math
from collections.abc import Iterator, Sequence
from difflib import get_close_matches
from statistics import median

from gudgeon.answers.as_typed import doubts
from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import grams, watch
from gudgeon.answers.woodwork import drawn_hull
from gudgeon.design.model import Design, Pocket
from gudgeon.errors import OutsideSource
from gudgeon.library.metals import Material, material
from gudgeon.physics.hull import Hull, depth_at, half_width_at
from gudgeon.shop.entry_checks import checked
from gudgeon.shop.log import Log
from gudgeon.shop.records import Ballast, Jug, OfLure, TimedDrop, Weighing
from gudgeon.units import OUNCE, Measure

_OVER = 1.25  # of what the hole holds
_FAR = 1.5  # times as long as the other drops, or as short
_NEAR = 0.1  # of them, for a slip that is put right
_GRAM = 1e-3


def oddities(log: Log, lure: int, record: OfLure, instead_of: int | None = None) -> tuple[Finding, ...]:
    """What is odd about a record that is about to be entered of a lure of the log; nothing when it is as expected.

    instead_of : the chain of corrections that it belongs to, which does not count against it
    raises     : BadShop when it cannot be entered at all
    """
    if isinstance(record, Weighing | Jug):
        return doubts(log, lure, record, instead_of)
    checked(record)
    if isinstance(record, Ballast):
        inside = [piece for entry, piece in log.lure(lure).of(Ballast) if entry.root != instead_of]
        held = sum(piece.mass.value for piece in inside if piece.hole == record.hole)
        return tuple(_odd_ballast(log.design_of(lure), record, held))
    return tuple(_odd_times(record.times)) if isinstance(record, TimedDrop) else ()


def _odd_ballast(design: Design, piece: Ballast, held: float) -> Iterator[Finding]:
    """What is odd about a piece of ballast; held : [kg] of what is in the same hole already."""
    drawn = next((pocket for pocket in design.pockets if pocket.name == piece.hole), None)
    if drawn is None:
        yield from _unknown_hole(design, piece)
    stuff: Material | None = None
    try:
        stuff = material(piece.material)
    except OutsideSource as refusal:
        yield watch(f"material: {refusal.heading}")
    hull = drawn_hull(design)
    at = piece.station if piece.station is not None else drawn.at if drawn else None
    if at is not None and not hull.start < at < hull.stop:
        yield watch("{at} from the nose is not on the body, which is {length} long",
                    at=(at, Measure.CUT), length=(hull.stop, Measure.CUT))  # fmt: skip
        return
    through = math.inf if at is None else _through(hull, at, drawn)
    if piece.depth is not None and piece.depth >= through:
        yield watch("a hole {depth} deep comes out on the far side: there is {through} of wood",
                    depth=(piece.depth, Measure.CUT), through=(through, Measure.CUT))  # fmt: skip
        return
    bore = piece.bore if piece.bore is not None else drawn.bore if drawn else None
    depth = piece.depth or (drawn.depth if drawn else None) or through
    if bore is None or stuff is None or not math.isfinite(depth):
        return
    room = 0.25 * math.pi * bore**2 * depth * stuff.density
    if piece.mass.value + held > _OVER * room:
        slip = piece.mass.value / OUNCE * _GRAM
        meant = f". Grams, not ounces: {grams(slip)}?" if slip + held <= room < piece.mass.value else ""
        beside = f", with {grams(held)} in it already" if held > 0.0 else ""
        yield watch(f"{grams(piece.mass.value)} of {stuff.name.lower()}{beside}: the hole holds {grams(room)}, filled "
                    f"to its mouth{meant}")  # fmt: skip


def _unknown_hole(design: Design, piece: Ballast) -> Iterator[Finding]:
    """A hole that is not drawn: a slip in its name, unless it is told with place and bore and like no drawn one."""
    names = [pocket.name for pocket in design.pockets]
    begun = [name for name in names if name.startswith(piece.hole) or piece.hole.startswith(name)]
    alike = begun or get_close_matches(piece.hole, names, n=1, cutoff=0.6)
    if alike or piece.station is None or piece.bore is None:
        there = f"it has {', '.join(alike or names)}" if names else "it has none"
        yield watch(f"the pattern has no hole '{piece.hole}'; {there}. One that is not drawn counts by its place and "
                    "bore: --from-nose, --bore")  # fmt: skip


def _through(hull: Hull, at: float, drawn: Pocket | None) -> float:
    """Wood along a bore at a station [m]; no bound for one along the body."""
    face = drawn.face if drawn else "belly"
    if face in ("front", "rear"):
        return math.inf
    if face in ("left", "right"):
        return 2.0 * half_width_at(hull, at, drawn.height if drawn else 0.0)
    bottom, top = depth_at(hull, at)
    return top - bottom


def _odd_times(times: Sequence[float]) -> Iterator[Finding]:
    """Times far from the middle one; of two that are unlike, the longer."""
    middle = min(times) if len(times) == 2 else median(times)
    far = [time for time in times if max(time, middle) > _FAR * min(time, middle)]
    for time in far:
        others = [one for one in times if one not in far] or [one for one in times if one != time]
        slip = next((time * factor for factor in (0.1, 10.0, 0.01, 100.0)
                     if abs(time * factor - middle) <= _NEAR * middle), None)  # fmt: skip
        meant = "" if slip is None else f". The decimal point: {slip:.3g} s?"
        low, high = min(others), max(others)
        took = f"{low:g} s" if low == high else f"{low:g} to {high:g} s"
        yield watch(f"{time:g} s: the other drop{'' if len(others) == 1 else 's'} took {took}{meant}")
