"""Every size of a hinge as docs/design-file.md says it is where its maker left it out."""

from dataclasses import dataclass
from typing import Literal

from gudgeon.design.hardware import Hinge

HingeKind = Literal["plate and pin", "wire eye and pin", "screw eyes", "eyes on a pin", "strap"]

_PIN = 2.0e-3
_PIN_BEYOND_LEVEL = 4.0e-3
_WIRE = 1.3e-3
_EYE_PLAY = 0.5e-3
_PLATE, _STRAP = 1.5e-3, 0.8e-3
_BURIED = 16.0e-3
_SLOT_PLAY = 0.8e-3


@dataclass(frozen=True)
class HingeSizes:
    """A hinge with nothing left open; sizes that its kind has no part for stand at their defaults.

    kind       : how it is made
    heights    : [m] of its levels above the centre line, lowest first
    pin        : [m] diameter
    pin_top    : [m] height of the pin's upper end
    pin_bottom : [m] height of its lower end
    wire       : [m] diameter of the eyes' wire
    eye        : [m] inside diameter of the eyes
    thickness  : [m] of plate or strap
    tall       : [m] height of plate or strap
    buried     : [m] how deep it sits in each piece
    slot       : [m] width of the slot that an eye, plate or strap turns in
    """

    kind: HingeKind
    heights: tuple[float, ...]
    pin: float
    pin_top: float
    pin_bottom: float
    wire: float
    eye: float
    thickness: float
    tall: float
    buried: float
    slot: float

    @property
    def has_pin(self) -> bool:
        """Whether a pin goes through it."""
        return self.kind in ("plate and pin", "wire eye and pin", "eyes on a pin")

    @property
    def has_eyes(self) -> bool:
        """Whether it is made of wire eyes."""
        return self.kind in ("wire eye and pin", "screw eyes", "eyes on a pin")

    @property
    def turns(self) -> float:
        """Thickness [m] of what turns in the slot: the eye's wire, the plate or the strap."""
        return self.wire if self.has_eyes else self.thickness


def hinge_sizes(hinge: Hinge, depth: float, width: float, middle: float) -> HingeSizes:
    """A hinge's sizes: the maker's, and the documented ones where they were left out.

    depth  : [m] of the body at the joint
    width  : [m] of the body at the joint; no default hangs on it, so far
    middle : [m] height of the body's middle there, half way from belly to back
    """
    del width
    heights = tuple(sorted(hinge.heights)) or (middle - 0.25 * depth, middle + 0.25 * depth)
    pin = _given(hinge.pin, _PIN)
    wire = _given(hinge.wire, _WIRE)
    thickness = _given(hinge.thickness, _STRAP if hinge.kind == "strap" else _PLATE)
    turns = thickness if hinge.kind in ("plate and pin", "strap") else wire
    return HingeSizes(
        kind=hinge.kind,
        heights=heights,
        pin=pin,
        pin_top=_given(hinge.pin_top, heights[-1] + _PIN_BEYOND_LEVEL),
        pin_bottom=_given(hinge.pin_bottom, heights[0] - _PIN_BEYOND_LEVEL),
        wire=wire,
        eye=_given(hinge.eye, pin + _EYE_PLAY),
        thickness=thickness,
        tall=_given(hinge.tall, depth / 3.0),
        buried=_given(hinge.buried, _BURIED),
        slot=_given(hinge.slot, turns + _SLOT_PLAY),
    )


def _given(size: float | None, default: float) -> float:
    return default if size is None else size
