"""What an eye holds: its shank in the wood, its wire, its loop. Hangers, tow eye, and the eyes of hinges."""

import math
from dataclasses import dataclass
from typing import Literal

from gudgeon.answers.links import (
    COMPUTED,
    ESTIMATE,
    TREND,
    Hold,
    Link,
    as_estimate,
    known_strength,
    product,
    share,
    short_by,
)
from gudgeon.design.hardware import Fitting
from gudgeon.errors import OutsideSource
from gudgeon.library.metals import material
from gudgeon.library.strengths import lateral_coefficient, screw_is_tested
from gudgeon.physics.holding import (
    END_GRAIN,
    TWO_STRANDS,
    WET_WOOD,
    bar_break,
    bonded_withdrawal,
    eye_opening,
    lateral_limit,
    plain_withdrawal,
    thread_withdrawal,
)
from gudgeon.physics.spread import Estimate, exactly
from gudgeon.units import Measure

LOOP_WIRES = 5.0  # outside diameter of an eye's loop in wires; docs/design-file.md
SHANK_WIRES = 14.0  # length of a screw eye's shank in wires; common practice, no source: 16 by 1 in at .062 in
_TWISTED_STRANDS = 2.2  # lengths of wire in one of a twisted shank
_ROOT = 2.0 / 3.0  # of a thread's outside diameter
_THINNEST_NAIL = 2.3e-3  # m, of the nails behind the smooth shank's formula; from memory

_TESTED = share(0.7, 1.3)  # single screws about the mean of their tests; from memory
_STRETCHED = share(0.5, 1.5)
_BOND = share(0.4, 1.8)  # glue, bore and wood together; from memory
_GUESSED_SIZE = share(0.7, 1.3)  # of wire times shank, and of wire squared, taken from a weight
_SIDEWAYS_IN_END_GRAIN = 2.0 / 3.0  # of what a shank bears sideways in side grain; from memory
_WET = Estimate(WET_WOOD[1], WET_WOOD[0], WET_WOOD[2])
_STRANDS = Estimate(TWO_STRANDS, 0.65, 0.95)
# An eye that opens is drawn out straight: the lever that is left grows shorter, so what it takes at first bend grows
# up to two and a half times before a ring slips off. From memory of the linkage of two stiff halves and one hinge.
_DRAWN_OUT = Estimate(1.5, 1.0, 2.5)

Shank = Literal["threaded", "plain", "twisted"]


@dataclass(frozen=True)
class Eye:
    """One eye with nothing left open.

    wire, shank, loop : [m] diameter of wire; length in the wood; outside diameter of the loop
    end_grain         : whether it goes in along the grain
    told              : whether wire and shank are the maker's
    room              : [m] the longest shank there is wood for; None where that is not known
    """

    wire: float
    shank: float
    loop: float
    shank_is: Shank
    material: str
    end_grain: bool
    told: bool = True
    room: float | None = None


@dataclass(frozen=True)
class Wood:
    """Wood that holds something.

    where   : the piece or joint
    gravity : specific gravity, oven-dry weight on volume at 12 %
    """

    where: str
    gravity: Estimate


def eye_hold(fitting: Fitting, wood: Wood, *, end_grain: bool, room: float | None, wanted: float | None) -> Hold:
    """What a fitting that is an eye holds.

    wanted : [N] what it should, for its mend; None when nothing is asked
    """
    if fitting.kind == "wire":
        return Hold(fitting.name, (_through_wire(fitting, wood, wanted),))
    eye = eye_of(fitting, end_grain, room)
    if eye is None:
        return Hold(fitting.name, (_unknown(wood, f"give wire and shank of the {fitting.name}: its weight alone makes "
                                            "no sense for one eye"),))  # fmt: skip
    links = [shank_link(eye, wood, wanted)]
    if fitting.rating is not None:
        links.append(Link("rating", wood.where, "its metal, by its maker's rating", exactly(fitting.rating), "",
                          mend="an eye of a higher rating"))  # fmt: skip
    else:
        links += metal_links(eye, wood.where, wanted)
    sizes = (("wire", eye.wire, Measure.WIRE), ("shank in the wood", eye.shank, Measure.LENGTH),
             ("loop, outside", eye.loop, Measure.LENGTH))  # fmt: skip
    return Hold(fitting.name, tuple(links), _notes(eye), sizes, _sideways(eye, wood.gravity))


def _notes(eye: Eye) -> tuple[str, ...]:
    """What had to be assumed of an eye, or does not fit the wood it is in."""
    if not eye.told:
        return ("wire and shank are not both told; what is missing is taken from the weight, at a screw eye's usual "
                "proportions and no longer than the wood there; give both",)  # fmt: skip
    if eye.room is not None and eye.shank > eye.room:
        return ("its shank is longer than there is wood for it",)
    return ()


def _sideways(eye: Eye, gravity: Estimate) -> Estimate | None:
    """The side pull at which a shank begins to give [N]; None for a glued one, and in wood lighter than was tested."""
    if eye.shank_is == "twisted":
        return None
    try:
        coefficient = lateral_coefficient(gravity.value)
    except OutsideSource:
        return None
    grain = exactly(_SIDEWAYS_IN_END_GRAIN if eye.end_grain else 1.0)
    return product(exactly(lateral_limit(coefficient, eye.wire)), grain, _STRETCHED,
                   exactly(1.0) if eye.told else _GUESSED_SIZE)  # fmt: skip


def eye_of(fitting: Fitting, end_grain: bool, room: float | None) -> Eye | None:
    """A fitting's sizes, those left out taken from its weight; None when the weight cannot be one eye's.

    A shank taken from a weight is no longer than the wood there is for it.
    """
    sizes = _sizes(fitting)
    if sizes is None:
        return None
    wire, shank = sizes
    if fitting.shank is None and room is not None:
        shank = min(shank, room)
    loop = LOOP_WIRES * wire if fitting.loop is None else fitting.loop
    told = fitting.wire is not None and fitting.shank is not None
    return Eye(wire, shank, max(loop, 2.0 * wire), fitting.shank_is, fitting.material, end_grain, told, room)


def _sizes(fitting: Fitting) -> tuple[float, float] | None:
    """Wire and shank [m]."""
    if fitting.wire is not None and fitting.shank is not None:
        return fitting.wire, fitting.shank
    strands = _TWISTED_STRANDS if fitting.shank_is == "twisted" else 1.0
    metal = fitting.weight.value / material(fitting.material).density  # m3
    if fitting.wire is not None:
        ring = math.pi * ((LOOP_WIRES * fitting.wire if fitting.loop is None else fitting.loop) - fitting.wire)
        shank = (metal / (math.pi / 4.0 * fitting.wire**2) - ring) / strands
        return (fitting.wire, shank) if 3.0 * fitting.wire < shank < 60.0 * fitting.wire else None
    if fitting.shank is not None:
        return _wire_for(metal, strands * fitting.shank), fitting.shank
    wires = strands * SHANK_WIRES + math.pi * (LOOP_WIRES - 1.0)
    wire = (4.0 * metal / (math.pi * wires)) ** (1.0 / 3.0)
    return (wire, SHANK_WIRES * wire) if 0.3e-3 < wire < 5.0e-3 else None


def _wire_for(metal: float, straight: float) -> float:
    """The wire [m] that a volume of metal [m3] is, `straight` [m] of it and a loop of the usual size; by halving."""
    thin, thick = 1e-5, 1e-2
    for _ in range(50):
        wire = 0.5 * (thin + thick)
        if math.pi / 4.0 * wire**2 * (straight + math.pi * (LOOP_WIRES - 1.0) * wire) > metal:
            thick = wire
        else:
            thin = wire
    return 0.5 * (thin + thick)


def shank_link(eye: Eye, wood: Wood, wanted: float | None, *, name: str = "shank") -> Link:
    """An eye's shank drawn out of the wood."""
    load, tested = _withdrawal(eye, wood.gravity)
    grain = "end grain" if eye.end_grain else "side grain"
    words = {"threaded": "thread", "plain": "plain shank", "twisted": "glued twisted shank"}[eye.shank_is]
    standing = TREND if eye.shank_is == "twisted" else COMPUTED if tested and eye.told else ESTIMATE
    wet = product(load, _WET)
    mend, numbers = _shank_mend(eye, wet, wanted)
    return Link(name, wood.where, f"its {words} in {grain}", load, standing, not tested, mend, numbers, wet)


def _withdrawal(eye: Eye, gravity: Estimate) -> tuple[Estimate, bool]:
    """[N] and whether sizes like these were tested."""
    guessed = exactly(1.0) if eye.told else _GUESSED_SIZE
    if eye.shank_is == "twisted":
        held = gravity.mapped(lambda g: bonded_withdrawal(g, 2.0 * eye.wire, eye.shank))
        return product(held, _BOND, guessed), True
    if eye.shank_is == "plain":
        tested = eye.wire >= _THINNEST_NAIL
        held = gravity.mapped(lambda g: plain_withdrawal(g, eye.wire, eye.shank))
    else:
        tested = screw_is_tested(eye.wire, eye.shank)
        held = gravity.mapped(lambda g: thread_withdrawal(g, eye.wire, eye.shank))
    grain = exactly(END_GRAIN if eye.end_grain else 1.0)
    return product(held, grain, _TESTED if tested else _STRETCHED, guessed), tested


def _shank_mend(eye: Eye, load: Estimate, wanted: float | None) -> tuple[str, dict[str, tuple[float, Measure]]]:
    more = short_by(load, wanted)
    if more is None:
        return "", {}
    longer = more * eye.shank
    numbers = {"longer": (longer, Measure.CUT), "thicker": (more * eye.wire, Measure.WIRE)}
    glue = {"plain": "a threaded one, or ", "threaded": "epoxy in the hole, or ", "twisted": ""}[eye.shank_is]
    if eye.room is not None and longer > eye.room:
        numbers = {"room": (eye.room, Measure.CUT)}
        return f"{glue}a through-wire: no shank that fits the {{room}} of wood there would do", numbers
    return f"{glue}a shank {{longer}} long, or one of {{thicker}} wire, or a through-wire", numbers


def metal_links(eye: Eye, where: str, wanted: float | None, *, count: int = 1) -> list[Link]:
    """An eye's own metal: its loop opening when it is bent and not closed, and its wire breaking.

    count : how many eyes share the pull, for words alone
    """
    strength = known_strength(eye.material, eye.wire)
    if strength is None:
        return [_unknown(Wood(where, exactly(1.0)), f"the strength of {eye.material} is not in the table; "
                         "give the part's rating")]  # fmt: skip
    guessed = exactly(1.0) if eye.told else _GUESSED_SIZE
    ultimate = as_estimate(strength.ultimate)
    ours = "their" if count > 1 else "its"
    if eye.shank_is == "twisted":
        broken = product(ultimate.mapped(lambda s: 2.0 * bar_break(s, eye.wire)), _STRANDS, guessed)
        return [_thicker(Link("breaks", where, f"{ours} two strands of wire, broken", broken), eye.wire, wanted, 2.0)]
    radius = 0.5 * (eye.loop - eye.wire)
    opens = product(ultimate.mapped(lambda s: eye_opening(s, eye.wire, radius)), _DRAWN_OUT, guessed)
    neck = _ROOT * eye.wire if eye.shank_is == "threaded" else eye.wire
    broken = product(ultimate.mapped(lambda s: bar_break(s, neck)), guessed)
    at = " at the thread's root" if eye.shank_is == "threaded" else ""
    closed = "close the loop with solder or a weld, or twist the eye of wire, or "
    return [
        _thicker(Link("opens", where, f"{ours} loop, drawn open", opens), eye.wire, wanted, 2.0, closed),
        _thicker(Link("breaks", where, f"{ours} wire, broken{at}", broken), eye.wire, wanted, 2.0),
    ]


def _thicker(link: Link, wire: float, wanted: float | None, power: float, first: str = "") -> Link:
    """The link with its mend: thicker wire, whose strength grows with a power of its diameter."""
    more = None if link.load is None else short_by(link.load, wanted)
    if more is None:
        return link
    return Link(link.name, link.where, link.part, link.load, link.standing, link.beyond_tested,
                f"{first}{'an eye' if first else 'one'} of {{thicker}} wire",
                {"thicker": (wire * more ** (1.0 / power), Measure.WIRE)}, link.wet)  # fmt: skip


def _through_wire(fitting: Fitting, wood: Wood, wanted: float | None) -> Link:
    """A wire that runs through the wood: the wood holds nothing."""
    if fitting.rating is not None:
        return Link("rating", wood.where, "its maker's rating", exactly(fitting.rating), "")
    if fitting.wire is None:
        return _unknown(wood, f"give the wire of the {fitting.name}: its diameter")
    strength = known_strength(fitting.material, fitting.wire)
    if strength is None:
        return _unknown(wood, f"the strength of {fitting.material} is not in the table; give the part's rating")
    wire = fitting.wire
    load = wire_load(as_estimate(strength.ultimate), wire, twisted=fitting.shank_is == "twisted")
    return _thicker(Link("breaks", wood.where, "through-wire, broken", load), wire, wanted, 2.0)


_LOOP_TWIST = Estimate(0.9, 0.8, 1.0)  # share of a wire's strength left in a loop twisted on itself; from memory


def wire_load(ultimate: Estimate, wire: float, *, twisted: bool) -> Estimate:
    """The pull that breaks a wire run with a loop at each end [N]: one strand, or two twisted together.

    ultimate : [Pa]
    wire     : [m]
    """
    strands, left = (2.0, _STRANDS) if twisted else (1.0, _LOOP_TWIST)
    return product(ultimate.mapped(lambda s: strands * bar_break(s, wire)), left)


def _unknown(wood: Wood, why: str) -> Link:
    return Link("untold", wood.where, "not told", None, "", mend=why)


def is_end_grain(fitting: Fitting) -> bool:
    """Whether a fitting goes in along the grain, which runs along the lure."""
    if fitting.into is not None:
        return fitting.into in ("front", "rear")
    return fitting.kind == "tow eye"
