"""A wire from the tow eye to the hangers, through the wood: what it holds, and which wire is wanted."""

from dataclasses import dataclass

from gudgeon.answers.eye_holds import wire_load
from gudgeon.answers.harness_run import CHANNEL_TWISTED, CHANNEL_WIRES
from gudgeon.answers.links import ESTIMATE, Hold, Link, as_estimate, known_strength, short_by
from gudgeon.design.hardware import Harness
from gudgeon.library.strengths import spring_wires, strength_of
from gudgeon.physics.spread import Estimate
from gudgeon.units import Measure

SPRING_WIRE = "stainless spring wire"


@dataclass(frozen=True)
class WireChoice:
    """One wire of stainless spring wire with a loop at each end.

    wire    : [m] diameter
    channel : [m] width of its bore or slot
    holds   : [N]
    """

    wire: float
    channel: float
    holds: Estimate


@dataclass(frozen=True)
class WireRun:
    """Wire in place of what the wood holds.

    fitted  : whether the design has it already
    stiffens : whether it runs, or would run, through a joint and hold it stiff
    single  : the thinnest single wire in use that holds what is wanted even at its least; None when none in the table
              does, or nothing is wanted
    twisted : the same for two strands twisted together
    usual   : the wires the trade uses, thinnest first
    """

    fitted: bool
    stiffens: bool
    single: WireChoice | None
    twisted: WireChoice | None
    usual: tuple[WireChoice, ...]


LEAST_WIRE = 0.041 * 0.0254  # m; nobody runs a thinner one through wood: common practice, no source
_USUAL = (0.051 * 0.0254, 0.062 * 0.0254, 0.072 * 0.0254)
"""m; for bass, for pike and stripers, and up; common practice, no source."""


def wire_run(harness: Harness | None, wanted: float | None, *, stiffens: bool) -> WireRun:
    """Wires that would do.

    wanted : [N] what they must hold; None when nothing is asked
    """
    usual = tuple(_choice(wire, twisted=False) for wire in _USUAL)
    if wanted is None:
        return WireRun(harness is not None, stiffens, None, None, usual)
    thinnest, twisted = _thinnest(wanted, twisted=False), _thinnest(wanted, twisted=True)
    return WireRun(harness is not None, stiffens, thinnest, twisted, usual)


def harness_hold(harness: Harness, wanted: float | None) -> Hold:
    """What a harness holds from hook to line: its wire alone."""
    strength = known_strength(harness.material, harness.wire)
    if strength is None:
        return Hold("harness", (Link("material", "harness", "its wire", None, "",
                                     mend=f"the strength of {harness.material} is not in the table"),))  # fmt: skip
    load = wire_load(as_estimate(strength.ultimate), harness.wire, twisted=harness.twisted)
    more = short_by(load, wanted)
    words = "its two strands of wire, broken" if harness.twisted else "its wire, broken at a loop"
    numbers = {"thicker": (harness.wire * more**0.5, Measure.WIRE)} if more else {}
    mend = "" if not more else "{thicker} wire" if harness.twisted else "{thicker} wire, or two strands twisted"
    return Hold("harness", (Link("wire", "harness", words, load, ESTIMATE, not strength.in_table, mend, numbers),))


def _choice(wire: float, *, twisted: bool) -> WireChoice:
    load = wire_load(as_estimate(strength_of(SPRING_WIRE, wire).ultimate), wire, twisted=twisted)
    return WireChoice(wire, (CHANNEL_TWISTED if twisted else CHANNEL_WIRES) * wire, load)


def _thinnest(wanted: float, *, twisted: bool) -> WireChoice | None:
    wires = (row.diameter for row in spring_wires("stainless 302") if row.diameter >= LEAST_WIRE - 1e-9)
    choices = (_choice(wire, twisted=twisted) for wire in wires)
    return next((choice for choice in choices if choice.holds.low >= wanted), None)
