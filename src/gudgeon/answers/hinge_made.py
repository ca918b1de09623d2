"""A hinge taken apart, as values: its parts, what is bored and slotted for it, and how they lie in the wood."""

import math
from dataclasses import dataclass
from typing import Literal

from gudgeon.answers.hinge_sizes import HingeSizes
from gudgeon.physics.mass import Place
from gudgeon.physics.shapes import Box, Rod, Shape
from gudgeon.units import Measure

Size = tuple[str, float, Measure]


@dataclass(frozen=True)
class Lump:
    """A volume in one piece: [m3], its middle (3,) [m], the piece counted from 0."""

    volume: float
    place: Place
    piece: int


@dataclass(frozen=True)
class Cutout:
    """A bore or a slot to make for a hinge.

    name   : "hinge 1: slot, upper"
    piece  : counted from 0
    kind   : a bore has a diameter; a slot is `wide` across the body and `tall` up and down
    face   : of the piece, from which it is made: its front or rear end, the back or the belly
    mouth  : (3,) [m] middle of it on that face
    depth, wide, tall : [m] a bore is as wide as tall
    is_open: water stands in it; else it is filled by its part and glue
    across : sawn right across the body, so it is open on both sides
    """

    name: str
    piece: int
    kind: Literal["bore", "slot"]
    face: Literal["front", "rear", "back", "belly"]
    mouth: Place
    depth: float
    wide: float
    tall: float
    is_open: bool
    across: bool = False

    @property
    def inward(self) -> Place:
        """(3,) unit vector from its face into the wood."""
        return {"front": (1.0, 0.0, 0.0), "rear": (-1.0, 0.0, 0.0), "back": (0.0, 0.0, -1.0),
                "belly": (0.0, 0.0, 1.0)}[self.face]  # fmt: skip

    @property
    def volume(self) -> float:
        """[m3] cut away."""
        return self.depth * self.wide * self.tall * (math.pi / 4.0 if self.kind == "bore" else 1.0)

    @property
    def end(self) -> Place:
        """(3,) [m] middle of its inner end."""
        x, y, z = (m + self.depth * i for m, i in zip(self.mouth, self.inward, strict=True))
        return x, y, z

    @property
    def lump(self) -> Lump:
        """What is cut away."""
        x, y, z = (0.5 * (m + e) for m, e in zip(self.mouth, self.end, strict=True))
        return Lump(self.volume, (x, y, z), self.piece)

    @property
    def shape(self) -> Shape:
        """As it lies in the wood."""
        if self.kind == "bore":
            return Rod(self.mouth, self.end, 0.5 * self.wide)
        return Box(self.lump.place, (0.5 * self.depth, 0.5 * self.wide, 0.5 * self.tall))


@dataclass(frozen=True)
class HingePart:
    """One eye, plate, strap or pin.

    name    : "upper eye"
    sizes   : what it is made to: name, [m], how it is shown
    level   : [m] its height; a pin's middle
    fixed   : what of it lies in wood       bare : what lies in the gap or in a slot, in no piece's wood
    shape   : the part that lies in wood, and a plate's whole
    """

    name: str
    kind: Literal["eye", "plate", "strap", "pin"]
    material: str
    sizes: tuple[Size, ...]
    level: float
    fixed: tuple[Lump, ...]
    bare: Lump
    shape: Shape

    @property
    def volume(self) -> float:
        """[m3] of metal, plastic or cloth."""
        return self.bare.volume + sum(lump.volume for lump in self.fixed)


@dataclass(frozen=True)
class MadeHinge:
    """A hinge as it is made.

    number   : counted from 1 as written     joint : its joint's number
    pivot    : [m] station of its axis
    faces    : (2,) [m] stations of the faces ahead and behind, at the middle
    holder   : the piece with the pin, from 0; None where the pin stands in the open gap, or there is none
    carrier  : the piece that eyes or plates are fixed in; the one ahead where they are fixed in both
    swing    : [rad] that the wood leaves to each side
    turns    : [rad] that the hinge leaves; infinite where nothing of it can touch
    gone     : wood that fixed parts and closed bores take the place of     voids : slots the water stands in
    glue     : what fills bores and slots beside the parts
    """

    number: int
    joint: int
    sizes: HingeSizes
    pivot: float
    faces: tuple[float, float]
    holder: int | None
    carrier: int
    swing: float
    turns: float
    parts: tuple[HingePart, ...]
    cutouts: tuple[Cutout, ...]
    gone: tuple[Lump, ...]
    voids: tuple[Lump, ...]
    glue: tuple[Lump, ...]

    @property
    def name(self) -> str:
        """ "hinge 1"."""
        return f"hinge {self.number}"

    @property
    def gap(self) -> float:
        """[m] between the faces at the middle."""
        return self.faces[1] - self.faces[0]

    @property
    def play(self) -> float:
        """Up and down [m]: of a slot over what turns in it, of linked eyes over their wire; a strap has none."""
        if self.sizes.kind == "strap":
            return 0.0
        return (self.sizes.eye - self.sizes.wire) if self.sizes.kind == "screw eyes" else (
            self.sizes.slot - self.sizes.turns)  # fmt: skip

    @property
    def eye_play(self) -> float | None:
        """[m] of an eye's inside over its pin; None where no eye turns on a pin."""
        return self.sizes.eye - self.sizes.pin if self.sizes.has_pin and self.sizes.has_eyes else None
