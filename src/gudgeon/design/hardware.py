"""What is cut, hung and fitted: joints and hinges, fittings, hooks, lip, fin and harness."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field, model_validator

from gudgeon.design.table import KnownVolume, Table, Weighed, one_at_least
from gudgeon.units import OFFSET, Angle, Force, Length, Offset, Part, Station, Stiffness, Torque


class Joint(Table):
    """A cut through the body: the finished gap at the pivot and the shape of its faces, after coats."""

    at: Length
    gap: Station
    face: Literal["vee", "knuckle", "tongue"] = "vee"  # a vee of no bevel is a flat face
    front_bevel: Angle = 0.0  # how far the face ahead of the gap slopes back from square, on each side
    rear_bevel: Angle = 0.0  # the same for the face behind the gap
    carries: Literal["front", "rear"] = "front"  # the piece that has the knuckle, or the tongue
    radius: Length | None = None  # of the knuckle; half the body's width there when left out
    tongue_width: Length | None = None  # a third of the body's width there when left out
    tongue_length: Length | None = None  # how far it reaches past the gap; half the body's width when left out
    pivot: Offset | None = None  # of the hinge's axis, aft of the middle of the gap; where it belongs when left out
    swing: Angle | None = None  # wanted to each side
    takes_away: KnownVolume | None = None  # measured; replaces what gap and bevels come to
    friction: Torque | None = None  # of its hinge: the least that moves the piece behind; a usual one when left out


class Hinge(Table):
    """What holds two pieces together and lets them swing."""

    joint: Annotated[int, Field(ge=1, le=20)]  # counted from the nose
    kind: Literal["plate and pin", "wire eye and pin", "screw eyes", "eyes on a pin", "strap"]
    heights: Annotated[tuple[float, ...], OFFSET] = ()  # of its levels, above the centre line; two when left out
    material: str = "stainless steel"
    pin: Length | None = None  # diameter
    pin_material: str = "stainless steel"
    pin_top: Offset | None = None  # height of its upper end
    pin_bottom: Offset | None = None
    wire: Length | None = None  # diameter of the eyes' wire
    eye: Length | None = None  # inside diameter of the eyes
    thickness: Length | None = None  # of plate or strap
    tall: Length | None = None  # height of plate or strap
    buried: Length | None = None  # how deep it sits in each piece
    slot: Length | None = None  # width of the slot an eye, plate or strap turns in
    weight: Weighed | None = None  # from its sizes when left out
    locked_by: str | None = None  # the fitting that passes through the plate


class Fitting(Table):
    """Anything of metal, plastic or glass that is fixed to the body."""

    name: str
    kind: Literal["screw eye", "tow eye", "eye", "ring", "swivel", "pin", "plate", "wire", "glass eye", "grommet",
                  "stick-on", "other"]  # fmt: skip
    weight: Weighed
    material: str
    at: Station
    height: Offset | None = None
    offset: Offset = 0.0
    buried: Part | None = None  # how much of it sits in the wood; by kind when left out
    wire: Length | None = None  # its diameter
    shank: Length | None = None  # length in the wood
    shank_is: Literal["threaded", "plain", "twisted"] = "threaded"  # twisted for an eye, which is bent of wire
    into: Literal["belly", "back", "left", "right", "front", "rear"] | None = None  # the skin it goes in through
    loop: Length | None = None  # outside diameter of its loop
    rating: Force | None = None  # the load its maker gives

    @model_validator(mode="before")
    @classmethod
    def _shank_by_kind(cls, given: object) -> object:
        """An eye bent of wire has a twisted shank where its maker does not say."""
        if isinstance(given, Mapping) and given.get("kind") == "eye" and "shank_is" not in given:
            return {**given, "shank_is": "twisted"}
        return given


class Hook(Table):
    """A hook with its ring: it hangs, so it pulls at its hanger."""

    name: str
    at: Station  # the hanger's loop
    size: str | None = None  # a treble's size, "2/0"; its weight from the table when not weighed
    weight: Weighed | None = None
    material: str = "steel"
    height: Offset | None = None  # the hanger's loop; on the belly when left out
    offset: Offset = 0.0
    on: str | None = None  # the fitting it hangs on; the nearest screw eye, eye or wire when left out
    shank: Length | None = None  # from the eye to the bend
    gape: Length | None = None  # from shank to point
    ring: Length | None = None  # outside diameter of its ring
    rating: Force | None = None  # the load at which it straightens, if its maker gives one

    @classmethod
    def unmet(cls, given: Mapping[str, object]) -> list[str]:
        """Its weight is known, or its size."""
        return one_at_least(given, "weight", "size", why="weigh it with its ring, or give a treble's size")


class Lip(Table):
    """A diving lip. Its angle is between lip and body axis: 0 straight ahead, 90 deg straight down."""

    material: str
    exposed: Length  # from the body to the front edge
    set_in: Station  # length in the slot
    width: Length
    thickness: Length
    angle: Angle
    at: Station  # where its upper face leaves the body
    height: Offset
    shape: Literal["square", "coffin", "round"] = "round"
    weight: Weighed | None = None


class Fin(Table):
    """A tail fin standing upright in a slot; a soft one bends about its root."""

    material: str
    length: Length  # from the body to its rear edge
    tall: Length
    thickness: Length
    at: Station  # where it leaves the body
    height: Offset = 0.0  # its middle
    set_in: Station = 0.0
    fill: Part = 0.7  # share of length x tall that is fin
    stiffness: Stiffness | None = None  # about its root; from material and thickness when left out
    weight: Weighed | None = None


class Harness(Table):
    """A wire from the tow eye to the hangers, through the wood, in place of eyes that the wood must hold."""

    wire: Length
    material: str = "stainless spring wire"
    runs: Literal["bored", "slot from the belly"] = "bored"
    channel: Length | None = None  # width of the bore or slot; by the wire when left out
    height: Offset = 0.0
    twisted: bool = False  # two strands
    filled: Literal["glue", "water", "air"] | None = None  # round the wire; glue in a slot, water in a bore if left out
    weight: Weighed | None = None  # of the run between the first loop and the last; by its size when left out
