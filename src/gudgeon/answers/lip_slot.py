"""A lip's slot in the wood: where it opens and ends, and the wood it leaves."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.design.hardware import Lip
from gudgeon.physics.hull import Hull, profile
from gudgeon.physics.spread import Array
from gudgeon.units import Measure

# Common practice, no source.
GLUE_FIT = 2e-4  # m a slot is wider than what is glued into it
LEAST_WOOD = 3e-3  # m beside a slot
_MOVED = 1e-3  # m between the drawn and the true place where a lip leaves the wood, before it is told


@dataclass(frozen=True, eq=False)
class LipSlot:
    """A lip's slot seen from the side.

    out       : [m] how much further out than drawn the lip's upper face leaves the wood; minus when it does so sooner
    mouth     : (2,) [m] station and height of that place
    end       : (2,) [m] of the same face at the slot's inner end
    wood_over : [m] least wood from its inner half to the back; minus where it comes out there
    """

    out: float
    mouth: tuple[float, float]
    end: tuple[float, float]
    wood_over: float


@lru_cache(maxsize=8)  # weights, clashes and papers ask for the same one
def lip_slot(wood: Hull, drawn: Lip) -> LipSlot:
    """The slot of a lip in the wood, bare or finished: the lip's thickness lies under its upper face."""
    out = _leaves(wood, drawn)
    return LipSlot(out, _on_lip(drawn, out), _on_lip(drawn, -drawn.set_in), _wood_over(wood, drawn, out))


def goes_across(wood: Hull, drawn: Lip) -> bool:
    """Whether a lip is as wide as the body where it leaves that: then its slot is sawn right across."""
    mouth = min(max(lip_slot(wood, drawn).mouth[0], wood.start), wood.stop)
    return bool(drawn.width >= 2.0 * float(wood.side(np.array([mouth]))[0]))


def _on_lip(drawn: Lip, out: float) -> tuple[float, float]:
    """Station and height [m] on the lip's upper face, `out` [m] outward from where it is drawn to leave the body."""
    return drawn.at - out * math.cos(drawn.angle), drawn.height - out * math.sin(drawn.angle)


def _leaves(wood: Hull, drawn: Lip) -> float:
    out = np.linspace(-drawn.set_in, drawn.exposed, 801)
    inside = _in_wood(wood, drawn.at - out * math.cos(drawn.angle), drawn.height - out * math.sin(drawn.angle))
    if not inside.any():
        return -drawn.set_in
    first = int(np.argmax(inside))
    gone = np.flatnonzero(np.logical_not(inside[first:]))
    if not gone.size:
        return drawn.exposed
    low, high = float(out[first + gone[0] - 1]), float(out[first + gone[0]])
    for _ in range(30):
        middle = 0.5 * (low + high)
        x, z = _on_lip(drawn, middle)
        low, high = (middle, high) if _in_wood(wood, np.array([x]), np.array([z]))[0] else (low, middle)
    return 0.5 * (low + high)


def _in_wood(wood: Hull, x: Array, z: Array) -> Array:
    held = np.clip(x, wood.start, wood.stop)
    return np.asarray((x == held) & (wood.belly(held) < z) & (z < wood.back(held)))


def _outline(drawn: Lip, out: float) -> Array:
    """Its corners (4, 2) [m]: inner end and mouth of the upper face, mouth and inner end of the lower."""
    down = (drawn.thickness + GLUE_FIT) * np.array([math.sin(drawn.angle), -math.cos(drawn.angle)])
    upper = np.array([_on_lip(drawn, -drawn.set_in), _on_lip(drawn, out)])
    return np.array([upper[0], upper[1], upper[1] + down, upper[0] + down])


def _wood_over(wood: Hull, drawn: Lip, out: float) -> float:
    """From the inner half only: at its mouth a slot meets the skin, and may do so near the back of a thin nose."""
    outline = _outline(drawn, 0.5 * (out - drawn.set_in))
    x = np.clip(outline[:, 0], wood.start, wood.stop)
    sunk = float((wood.back(x) - outline[:, 1]).min())
    if sunk <= 0.0:
        return sunk
    skin = profile(wood, "side", 400)
    back = skin[: len(skin) // 2]
    return min(float(np.hypot(*(back - corner).T).min()) for corner in outline)


def slot_findings(drawn: Lip, slot: LipSlot) -> Iterator[Finding]:
    """What is wrong with where a slot is in the body; what it meets in the wood is told with all that meets there."""
    if slot.out + drawn.set_in <= 1e-4:
        yield wrong("the lip's slot is nowhere in the wood: set lip.at and lip.height where its upper face leaves the "
                    "body")  # fmt: skip
        return
    if drawn.exposed - slot.out <= 1e-4:
        yield wrong("the lip never leaves the wood: lengthen what shows, or move it forward or down")
        return
    if abs(slot.out) > _MOVED:
        where = "still in the wood there" if slot.out > 0.0 else "out of the wood already"
        yield note(f"at the place where the lip is drawn to leave the body it is {where}, by {{out}}: {{shows}} "
                   "really shows", out=(abs(slot.out), Measure.CUT),
                   shows=(drawn.exposed - slot.out, Measure.CUT))  # fmt: skip
    if slot.wood_over <= 0.0:
        yield wrong("the lip's slot comes out through the back, by {over}, {x} from the nose: a flatter angle, a "
                    "lower place or a shallower slot", over=(-slot.wood_over, Measure.CUT),
                    x=(slot.end[0], Measure.CUT))  # fmt: skip
    elif slot.wood_over < LEAST_WOOD:
        yield watch("only {over} of wood is left between the lip's slot and the back at {x} from the nose; {least} is "
                    "the least to leave", over=(slot.wood_over, Measure.CUT), x=(slot.end[0], Measure.CUT),
                    least=(LEAST_WOOD, Measure.CUT))  # fmt: skip
