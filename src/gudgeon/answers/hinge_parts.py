"""How a hinge is made: its parts, its bores and slots, from the sizes its maker gave and the body round about.

A plate lies level, as its upright pin asks, and so do the eyes of wire that a pin goes through; a strap stands upright.
The pin stands in the piece that the pivot lies in and is called its holder; eyes or plates come out of the other.
"""

import math
from functools import lru_cache

import numpy as np

from gudgeon.answers.hinge_holds import EDGE_PINS, PIN_PLAY
from gudgeon.answers.hinge_made import Cutout, HingePart, Lump, MadeHinge, Size
from gudgeon.answers.hinge_sizes import HingeSizes, hinge_sizes
from gudgeon.answers.joint_shapes import joint_shape, reach_of
from gudgeon.answers.lip_slot import GLUE_FIT
from gudgeon.design.hardware import Hinge, Joint
from gudgeon.physics.hull import Hull, depth_at, half_width_at
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.shapes import Box, Rod
from gudgeon.physics.swing import sides_of, swing
from gudgeon.units import Measure

# Common practice, no source.
PIN_SWELL = 2e-4  # m a pin's hole in wood is wider than the pin
SLACK = 5e-4  # m left round about what turns in a slot
CUP_ROOM = 1e-3  # m a cup for a linked eye is wider than the eye
SKIN_LEFT = 2e-3  # m: a slot that leaves less of the side is sawn right across
ROOT_SHARE = 2.0 / 3.0  # of a thread's outside, what its pilot hole is bored to; Wood Handbook (2010), chapter 8
FURTHEST = math.radians(75.0)  # of swing that a slot is cut for


@lru_cache(maxsize=32)  # hinges are made by it, and it is told
def joint_swing(shape: JointShape, at: float, hull: Hull, grown: float) -> float:
    """How far wood lets a joint turn [rad], a knuckle's pivot in its centre; `grown` [m] as for `sides_of`."""
    half = float(hull.side(np.clip(np.array([at]), hull.start, hull.stop))[0])
    return swing(shape, sides_of(hull, at, reach_of(shape, half), grown)).angle


@lru_cache(maxsize=32)  # weights, water and wood all ask for the same hinges
def made_hinge(number: int, hinge: Hinge, drawn: Joint, hull: Hull, grown: float) -> MadeHinge:
    """One hinge of a design, in its joint.

    grown : [m] how much wider the finished body is than drawn
    """
    shape = joint_shape(drawn, hull)
    bottom, top = depth_at(hull, drawn.at)
    half = half_width_at(hull, drawn.at, 0.5 * (bottom + top))
    sizes = hinge_sizes(hinge, top - bottom, 2.0 * half, 0.5 * (bottom + top))
    return _Making(number, hinge, sizes, drawn, shape, hull, joint_swing(shape, drawn.at, hull, grown)).made()


def level_names(count: int) -> tuple[str, ...]:
    """What levels are called, lowest first."""
    return {1: ("",), 2: ("lower ", "upper "), 3: ("lower ", "middle ", "upper ")}.get(
        count, tuple(f"level {place} " for place in range(1, count + 1))
    )


class _Making:
    """One hinge being made."""

    def __init__(self, number: int, hinge: Hinge, sizes: HingeSizes, drawn: Joint, shape: JointShape, hull: Hull,
                 turn: float) -> None:  # fmt: skip
        self.number, self.hinge, self.sizes, self.hull, self.turn = number, hinge, sizes, hull, turn
        self.ahead = hinge.joint - 1
        middle = np.zeros(1)
        self.faces = (drawn.at + float(shape.front.station(middle)[0]), drawn.at + float(shape.rear.station(middle)[0]))
        self.pivot = drawn.at + shape.pivot
        self.holder = self._holder()
        # eyes and plates come from the other piece; from the one ahead when the pin stands in the gap
        self.is_behind = self.holder == self.ahead and sizes.has_pin
        self.parts: list[HingePart] = []
        self.cutouts: list[Cutout] = []
        self.gone: list[Lump] = []
        self.glue: list[Lump] = []

    def made(self) -> MadeHinge:
        """The whole hinge."""
        make = {"screw eyes": self._linked, "strap": self._strap, "plate and pin": self._plate}
        for name, level in zip(level_names(len(self.sizes.heights)), self.sizes.heights, strict=True):
            make.get(self.sizes.kind, self._eye)(name, level)
        if self.sizes.has_pin:
            self._pin()
        voids = tuple(cutout.lump for cutout in self.cutouts if cutout.is_open)
        return MadeHinge(self.number, self.hinge.joint, self.sizes, self.pivot, self.faces, self.holder,
                         self.ahead + self.is_behind, self.turn, self._turns(), tuple(self.parts), tuple(self.cutouts),
                         tuple(self.gone), voids, tuple(self.glue))  # fmt: skip

    def _holder(self) -> int | None:
        if self.sizes.has_pin and self.pivot >= self.faces[1]:
            return self.ahead + 1
        return self.ahead if self.sizes.has_pin and self.pivot <= self.faces[0] else None

    @property
    def into(self) -> float:
        """1 when eyes or plates are fixed in the piece behind, -1 in the one ahead."""
        return 1.0 if self.is_behind else -1.0

    @property
    def carrier_face(self) -> float:
        """Its station [m]."""
        return self.faces[self.is_behind]

    @property
    def to_mouth(self) -> float:
        """From the pivot to the holder's face [m]; nothing where the pin stands in the gap."""
        return abs(self.pivot - self.faces[not self.is_behind]) if self.holder is not None else 0.0

    def _shank(self, name: str, level: float, root: float, into: float, piece: int) -> tuple[Rod, Lump]:
        """A shank from its root into the wood, with its pilot hole."""
        sizes, twisted = self.sizes, self.sizes.kind == "wire eye and pin"
        radius = sizes.wire if twisted else 0.5 * sizes.wire
        tip = root + into * sizes.buried
        area = (2.0 if twisted else 1.0) * math.pi / 4.0 * sizes.wire**2
        lump = Lump(area * sizes.buried, (0.5 * (root + tip), 0.0, level), piece)
        bore = 2.0 * radius + GLUE_FIT if twisted else ROOT_SHARE * sizes.wire
        pilot = Cutout(f"{self._called}: hole for the {name}", piece, "bore", "front" if into > 0.0 else "rear",
                       (root, 0.0, level), sizes.buried, bore, bore, is_open=False)  # fmt: skip
        self.cutouts.append(pilot)
        if twisted:
            self.gone.append(pilot.lump)
            self.glue.append(Lump(pilot.volume - lump.volume, lump.place, piece))
        else:  # a thread presses aside what its pilot leaves
            self.gone.append(lump)
        return Rod((root, 0.0, level), (tip, 0.0, level), radius), lump

    @property
    def _called(self) -> str:
        return f"hinge {self.number}"

    def _ring_volume(self) -> float:
        """Of an eye's round of wire [m3]."""
        return math.pi / 4.0 * self.sizes.wire**2 * math.pi * (self.sizes.eye + self.sizes.wire)

    def _eye_sizes(self) -> tuple[Size, ...]:
        return (("wire", self.sizes.wire, Measure.WIRE), ("inside", self.sizes.eye, Measure.WIRE),
                ("in the wood", self.sizes.buried, Measure.CUT))  # fmt: skip

    def _eye(self, level_name: str, level: float) -> None:
        """An eye on the pin, and the slot it turns in."""
        sizes, name = self.sizes, f"{level_name}eye"
        piece = self.ahead + self.is_behind
        shape, fixed = self._shank(name, level, self.carrier_face, self.into, piece)
        outer = 0.5 * sizes.eye + sizes.wire
        neck = max(abs(self.pivot - self.carrier_face) - outer, 0.0)
        strands = 2.0 if sizes.kind == "wire eye and pin" else 1.0
        bare = self._ring_volume() + strands * math.pi / 4.0 * sizes.wire**2 * neck
        self.parts.append(HingePart(name, "eye", self.hinge.material, self._eye_sizes(), level, (fixed,),
                                    Lump(bare, (self.pivot, 0.0, level), piece), shape))  # fmt: skip
        self._turning_slot(level_name, level, beyond=outer, half=outer, neck=0.5 * strands * sizes.wire)

    def _turning_slot(self, level_name: str, level: float, *, beyond: float, half: float, neck: float) -> None:
        """The holder's slot: as deep as what turns reaches past the pivot, as wide as its swing wants at the mouth.

        beyond : [m] past the pivot      half : [m] half its width there      neck : [m] half its width at the mouth
        """
        if self.holder is None:
            return
        turn, mouth = min(self.turn, FURTHEST), self.to_mouth
        wanted = max(half, (neck + mouth * math.sin(turn)) / math.cos(turn)) + SLACK
        face = self.faces[not self.is_behind]
        body = half_width_at(self.hull, face, level)
        across = wanted > body - SKIN_LEFT
        wide = 2.0 * (body if across else wanted)
        self.cutouts.append(Cutout(
            f"{self._called}: {level_name}slot", self.holder, "slot", "rear" if self.is_behind else "front",
            (face, 0.0, level), mouth + beyond + SLACK, wide, self.sizes.slot, is_open=True, across=across,
        ))  # fmt: skip

    def _plate(self, level_name: str, level: float) -> None:
        """A plate on the pin, its own slot, and the one it turns in."""
        sizes, name, piece = self.sizes, f"{level_name}plate", self.ahead + self.is_behind
        half, end = 0.5 * sizes.tall, EDGE_PINS * sizes.pin
        tip = self.carrier_face + self.into * sizes.buried
        nose = self.pivot - self.into * end
        hole = math.pi / 4.0 * (sizes.pin + PIN_PLAY) ** 2 * sizes.thickness
        fixed = Lump(sizes.buried * sizes.tall * sizes.thickness, (0.5 * (self.carrier_face + tip), 0.0, level), piece)
        out = abs(nose - self.carrier_face)
        bare = Lump(max(out * sizes.tall * sizes.thickness - hole, 0.0), (0.5 * (self.carrier_face + nose), 0.0, level),
                    piece)  # fmt: skip
        made = (("thick", sizes.thickness, Measure.WIRE), ("wide", sizes.tall, Measure.CUT),
                ("long", sizes.buried + out, Measure.CUT), ("in the wood", sizes.buried, Measure.CUT),
                ("hole", sizes.pin + PIN_PLAY, Measure.WIRE), ("hole to end", end, Measure.CUT))  # fmt: skip
        shape = Box(((tip + nose) / 2.0, 0.0, level), (abs(nose - tip) / 2.0, half, sizes.thickness / 2.0))
        self.parts.append(HingePart(name, "plate", self.hinge.material, made, level, (fixed,), bare, shape))
        self._closed_slot(f"{level_name}slot for the plate", piece, self.carrier_face, self.into, level,
                          (sizes.tall + GLUE_FIT, sizes.thickness + GLUE_FIT), fixed)  # fmt: skip
        turn = min(self.turn, FURTHEST, math.atan2(half, end))
        self._turning_slot(level_name, level, beyond=end * math.cos(turn) + half * math.sin(turn), half=half,
                           neck=half)  # fmt: skip

    def _closed_slot(self, name: str, piece: int, face: float, into: float, level: float, size: tuple[float, float],
                     fixed: Lump) -> None:  # fmt: skip
        """A slot that a plate or strap is glued in."""
        slot = Cutout(f"{self._called}: {name}", piece, "slot", "front" if into > 0.0 else "rear", (face, 0.0, level),
                      self.sizes.buried, *size, is_open=False)  # fmt: skip
        self.cutouts.append(slot)
        self.gone.append(slot.lump)
        self.glue.append(Lump(max(slot.volume - fixed.volume, 0.0), fixed.place, piece))

    def _strap(self, level_name: str, level: float) -> None:
        """A strap glued in both pieces."""
        sizes, name = self.sizes, f"{level_name}strap"
        area = sizes.tall * sizes.thickness
        fixed = []
        for place, face, into in ((self.ahead, self.faces[0], -1.0), (self.ahead + 1, self.faces[1], 1.0)):
            lump = Lump(area * sizes.buried, (face + 0.5 * into * sizes.buried, 0.0, level), place)
            self._closed_slot(f"{level_name}slot for the strap", place, face, into, level, (sizes.slot, sizes.tall),
                              lump)  # fmt: skip
            fixed.append(lump)
        middle, gap = 0.5 * sum(self.faces), self.faces[1] - self.faces[0]
        made = (("thick", sizes.thickness, Measure.WIRE), ("tall", sizes.tall, Measure.CUT),
                ("long", gap + 2.0 * sizes.buried, Measure.CUT),
                ("in the wood", sizes.buried, Measure.CUT))  # fmt: skip
        shape = Box((middle, 0.0, level), (0.5 * gap + sizes.buried, 0.5 * sizes.thickness, 0.5 * sizes.tall))
        self.parts.append(HingePart(name, "strap", self.hinge.material, made, level, tuple(fixed),
                                    Lump(area * gap, (middle, 0.0, level), self.ahead), shape))  # fmt: skip

    def _linked(self, level_name: str, level: float) -> None:
        """Two eyes, one through the other at the pivot, each in a cup as deep as it needs."""
        sizes = self.sizes
        long, cup = sizes.eye + sizes.wire, sizes.eye + 2.0 * sizes.wire + CUP_ROOM
        for piece, face, into, side in ((self.ahead, self.faces[0], -1.0, "ahead"),
                                        (self.ahead + 1, self.faces[1], 1.0, "behind")):  # fmt: skip
            name = f"{level_name}eye {side}"
            root = self.pivot + into * long
            depth = into * (root - face)
            if depth > 0.0:
                self.cutouts.append(Cutout(f"{self._called}: {level_name}cup {side}", piece, "bore",
                                           "front" if into > 0.0 else "rear", (face, 0.0, level), depth, cup, cup,
                                           is_open=True))  # fmt: skip
            shape, fixed = self._shank(name, level, root if depth > 0.0 else face, into, piece)
            neck = max(-depth, 0.0) * math.pi / 4.0 * sizes.wire**2
            bare = Lump(self._ring_volume() + neck, (self.pivot + 0.5 * into * sizes.eye, 0.0, level), piece)
            self.parts.append(HingePart(name, "eye", self.hinge.material, self._eye_sizes(), level, (fixed,), bare,
                                        shape))  # fmt: skip

    def _pin(self) -> None:
        """The pin, its bore from the nearer skin, and the plug over it."""
        sizes, (x, top, bottom) = self.sizes, (self.pivot, self.sizes.pin_top, self.sizes.pin_bottom)
        area, length = math.pi / 4.0 * sizes.pin**2, max(top - bottom, 0.0)
        in_slots = sum(max(min(level + 0.5 * sizes.slot, top) - max(level - 0.5 * sizes.slot, bottom), 0.0)
                       for level in sizes.heights)  # fmt: skip
        if self.holder is None:
            in_slots = length
        place = (x, 0.0, 0.5 * (top + bottom))
        piece = self.ahead if self.holder is None else self.holder
        bare = Lump(area * min(in_slots, length), place, piece)
        fixed = (Lump(area * max(length - in_slots, 0.0), place, piece),)
        made = (("diameter", sizes.pin, Measure.WIRE), ("long", length, Measure.CUT))
        self.parts.append(HingePart("pin", "pin", self.hinge.pin_material, made, place[2], fixed, bare,
                                    Rod((x, 0.0, bottom), (x, 0.0, top), 0.5 * sizes.pin)))  # fmt: skip
        if self.holder is not None:
            self._pin_bore(in_slots)

    def _pin_bore(self, in_slots: float) -> None:
        sizes, x = self.sizes, self.pivot
        belly, back = depth_at(self.hull, min(max(x, self.hull.start), self.hull.stop))
        bore = sizes.pin + PIN_SWELL
        from_back = back - sizes.pin_top <= sizes.pin_bottom - belly
        skin, end = (back, sizes.pin_bottom) if from_back else (belly, sizes.pin_top)
        over = max(abs(skin - end) - (sizes.pin_top - sizes.pin_bottom), 0.0)
        made = Cutout(f"{self._called}: hole for the pin", self.holder or 0, "bore", "back" if from_back else "belly",
                      (x, 0.0, skin), abs(skin - end), bore, bore, is_open=False)  # fmt: skip
        area = math.pi / 4.0 * bore**2
        self.cutouts.append(made)
        self.gone.append(Lump(area * max(made.depth - in_slots, 0.0), made.lump.place, made.piece))
        middle = skin - 0.5 * over if from_back else skin + 0.5 * over
        self.glue.append(Lump(area * over, (x, 0.0, middle), made.piece))

    def _turns(self) -> float:
        """How far the hinge itself turns [rad] before it meets the edge of its slot or cup; closed form.

        In a slot: the mouth's corner, R from the pivot and psi off the middle, meets the side of what turns, `half`
        wide, where R sin(psi - angle) = half. In a cup: it meets the far eye's round of radius r about a middle c past
        the pivot where R^2 + c^2 + 2 R c cos(angle + psi) = r^2.
        """
        sizes = self.sizes
        if sizes.kind == "screw eyes":
            return min(self._cup_turns(abs(self.pivot - face)) for face in self.faces)
        slot = next((cutout for cutout in self.cutouts if cutout.is_open), None)
        if slot is None or slot.across:
            return math.inf
        neck = 0.5 * sizes.tall if sizes.kind == "plate and pin" else 0.5 * sizes.wire
        neck = sizes.wire if sizes.kind == "wire eye and pin" else neck
        out, corner = 0.5 * slot.wide, math.hypot(0.5 * slot.wide, self.to_mouth)
        return math.atan2(out, self.to_mouth) - math.asin(min(1.0, neck / corner))

    def _cup_turns(self, mouth: float) -> float:
        sizes = self.sizes
        if sizes.wire <= mouth:  # the other eye's round ends in the gap
            return math.inf
        out = 0.5 * (sizes.eye + 2.0 * sizes.wire + CUP_ROOM)
        past, radius, corner = 0.5 * sizes.eye, 0.5 * sizes.eye + sizes.wire, math.hypot(out, mouth)
        share = (radius**2 - past**2 - corner**2) / (2.0 * past * corner)
        return math.acos(max(share, -1.0)) - math.atan2(out, mouth) if share < 1.0 else 0.0
