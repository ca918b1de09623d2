"""A lip's slot in the wood: where it opens and ends, the wood it leaves, and what stands in its way."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.design.hardware import Fitting, Lip
from gudgeon.design.model import Design
from gudgeon.physics.hull import Hull, profile
from gudgeon.physics.lure import Lure
from gudgeon.physics.plate import distance_to
from gudgeon.physics.spread import Array
from gudgeon.units import Measure

# Common practice, no source.
GLUE_FIT = 2e-4  # m a slot is wider than what is glued into it
LEAST_WOOD = 3e-3  # m beside a slot
_STEEL = 1e-3  # m, half of the metal of a fitting whose wire is not told
_LONGEST_SHANK = 0.025  # m looked along behind an eye whose shank is not told
_MOVED = 1e-3  # m between the drawn and the true place where a lip leaves the wood, before it is told
_INWARD = {"belly": (0.0, 0.0, 1.0), "back": (0.0, 0.0, -1.0), "left": (0.0, 1.0, 0.0), "right": (0.0, -1.0, 0.0),
           "front": (1.0, 0.0, 0.0), "rear": (-1.0, 0.0, 0.0)}  # fmt: skip


@dataclass(frozen=True, eq=False)
class LipSlot:
    """A lip's slot seen from the side, in bare wood.

    out       : [m] how much further out than drawn the lip's upper face leaves the wood; minus when it does so sooner
    mouth     : (2,) [m] station and height of that place
    end       : (2,) [m] of the same face at the slot's inner end
    outline   : (4, 2) [m] corners: inner end and mouth of the upper face, mouth and inner end of the lower
    wood_over : [m] least wood from its inner half to the back; minus where it comes out there
    """

    out: float
    mouth: tuple[float, float]
    end: tuple[float, float]
    outline: Array
    wood_over: float


def lip_slot(wood: Hull, drawn: Lip) -> LipSlot:
    """The slot of a lip in the bare wood: the lip's thickness lies under its upper face."""
    out = _leaves(wood, drawn)
    outline = _outline(drawn, out)
    return LipSlot(out, _on_lip(drawn, out), _on_lip(drawn, -drawn.set_in), outline, _wood_over(wood, drawn, out))


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


def slot_findings(design: Design, lure: Lure, drawn: Lip, slot: LipSlot) -> Iterator[Finding]:
    """What is wrong with where a slot is, the place in millimetres with it."""
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
    yield from _metal_findings(design, drawn, slot)
    yield from _bore_findings(lure, drawn, slot)


def _metal_findings(design: Design, drawn: Lip, slot: LipSlot) -> Iterator[Finding]:
    """Eyes and pins; behind an eye whose shank is not told, how long it may be."""
    for fitting in design.fittings:
        if fitting.kind not in ("screw eye", "tow eye", "eye", "pin") or fitting.height is None:
            continue
        radius = 0.5 * fitting.wire if fitting.wire else _STEEL
        if abs(fitting.offset) - radius > 0.5 * drawn.width:
            continue
        start, inward = np.array([fitting.at, fitting.height]), _inward(fitting, design.length)
        told = fitting.shank if fitting.kind in ("screw eye", "tow eye") else 0.0
        reach = _LONGEST_SHANK if told is None else told
        gap = distance_to(slot.outline, start, start + reach * inward) - radius
        if told is None and gap < LEAST_WOOD:
            yield from _shank_finding(_plain(fitting.name), slot, start, inward, radius)
        elif told is not None:
            yield from _near(_plain(fitting.name), gap, start)


def _inward(fitting: Fitting, length: float) -> Array:
    """The way a shank runs, seen from the side (2,): a tow eye goes in at the near end, other eyes from the belly."""
    end = "front" if fitting.at < 0.5 * length else "rear"
    x, _, z = _INWARD[fitting.into or (end if fitting.kind == "tow eye" else "belly")]
    return np.array([x, z])


def _shank_finding(name: str, slot: LipSlot, start: Array, inward: Array, radius: float) -> Iterator[Finding]:
    shanks = np.linspace(0.0, _LONGEST_SHANK, 101)
    gaps = [distance_to(slot.outline, start, start + shank * inward) - radius for shank in shanks]
    free = [float(shank) for shank, gap in zip(shanks, gaps, strict=True) if gap > 0.0]
    if not free:
        yield from _near(name, min(gaps), start)
    elif min(gaps) <= 0.0:
        yield watch(f"a shank of more than {{most}} behind the {name} meets the lip's slot: a shorter one, or bend it "
                    "aside", most=(max(free), Measure.CUT))  # fmt: skip


def _bore_findings(lure: Lure, drawn: Lip, slot: LipSlot) -> Iterator[Finding]:
    for pocket in lure.pockets:
        depth, radius = lure.fills[pocket.name].depth, 0.5 * pocket.bore
        mouth = np.asarray(pocket.mouth)
        inner = mouth + depth * np.asarray(pocket.inward)
        if depth > 0.0 and min(abs(mouth[1]), abs(inner[1])) - radius <= 0.5 * drawn.width:
            gap = distance_to(slot.outline, mouth[[0, 2]], inner[[0, 2]]) - radius
            yield from _near(_plain(f"{pocket.name} bore"), gap, mouth[[0, 2]])


def _plain(name: str) -> str:
    """A maker's own name, for a sentence with numbers to fill in."""
    return name.replace("{", "{{").replace("}", "}}")


def _near(name: str, gap: float, place: Array) -> Iterator[Finding]:
    x, z = (float(place[0]), Measure.CUT), (float(place[1]), Measure.CUT)
    if gap <= 0.0:
        yield wrong(f"the lip's slot meets the {name}, {{x}} from the nose at height {{z}}: move one of them", x=x, z=z)
    elif gap < LEAST_WOOD:
        yield watch(f"only {{gap}} of wood lies between the lip's slot and the {name}, {{x}} from the nose",
                    gap=(gap, Measure.CUT), x=x)  # fmt: skip
