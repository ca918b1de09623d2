"""What the maker writes: one frozen table per part of the lure, every quantity in SI once read.

Places are stations aft of the nose, heights above the centre line, offsets to the right (all [m]). Where a height is
left out the part sits where such a part usually sits; answers/assembly.py says where.
"""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field, field_validator

from gudgeon.design.bench import Board, DockTest, Price, Tackle, Tow
from gudgeon.design.coefficients import Coefficients
from gudgeon.design.hardware import Fin, Fitting, Harness, Hinge, Hook, Joint, Lip
from gudgeon.design.table import (
    Fullness,
    KnownAngle,
    KnownDensity,
    KnownLength,
    KnownPart,
    KnownRate,
    KnownSalinity,
    KnownTemperature,
    Point,
    Points,
    Table,
    Weighed,
    listed,
    one_at_least,
)
from gudgeon.units import (
    MASS,
    SPEED,
    Angle,
    Length,
    Mass,
    Offset,
    Part,
    Rate,
    Reading,
    Salinity,
    Station,
    Warmth,
)

_LEAST_PACKED = 0.2  # of a bore under its plug


class Outline(Table):
    """The body's shape: side outline above and below the centre line, half-width seen from above, and section."""

    back: Points  # height above the centre line
    belly: Points | None = None  # depth below the centre line; the back mirrored when left out
    side: Points  # half the width, seen from above
    widest: Points | None = None  # height of the widest line; the centre line when left out
    fullness: Fullness = (Point(0.0, 2.0),)  # superellipse exponent: 2 an ellipse, higher slab-sided
    nose: Literal["round", "pointed"] = "round"  # how a curve closes that ends at nothing
    tail: Literal["round", "pointed"] = "round"
    drawn: Literal["finished", "bare wood"] = "finished"  # which size the points are


class Wood(Table):
    """The wood, by species and moisture, by density, or by what the blank weighs."""

    species: str | None = None
    moisture: KnownPart | None = None  # by weight of dry wood
    density: KnownDensity | None = None  # as weighed
    blank_weight: Weighed | None = None  # shaped, joints cut, before any hole is drilled

    @classmethod
    def unmet(cls, given: Mapping[str, object]) -> list[str]:
        """The wood is known by one thing at least."""
        return one_at_least(given, "species", "density", "blank_weight")


class Pocket(Table):
    """A bore for ballast: where it may go, what is in it now, and whether the answer may fill it."""

    name: str
    at: Station
    bore: Length
    face: Literal["belly", "back", "left", "right", "front", "rear"] = "belly"  # drilled in from there
    height: Offset = 0.0  # of the bore's axis, for bores from a side or a joint face
    offset: Offset = 0.0
    depth: Length | None = None  # as drilled; as deep as its ballast and plug need when left out
    material: str = "lead"
    holds: Weighed | None = None  # what is in it now
    free: bool = True  # more may be put in
    wall: Station = 0.003  # wood left beyond the bore's end
    plug: Station = 0.003  # filler left above the ballast
    plug_material: str = "epoxy"
    packed: Part | None = None  # share of the bore under its plug that is ballast; all of it when left out

    @field_validator("packed")
    @classmethod
    def _some(cls, packed: Part | None) -> Part | None:
        if packed is not None and packed < _LEAST_PACKED:
            raise ValueError('leaves the bore all but empty; loose shot fills about "60 %" of it, poured lead "100 %"')
        return packed


class Coat(Table):
    """One layer of the finish, on the outside and on the joint faces."""

    name: str
    coats: Annotated[int, Field(ge=1, le=50)] = 1
    thickness: KnownLength  # of one coat, dry
    material: str | None = None
    density: KnownDensity | None = None

    @classmethod
    def unmet(cls, given: Mapping[str, object]) -> list[str]:
        """Its density is known, or what it is."""
        return one_at_least(given, "material", "density")


class Sealer(Table):
    """What soaks into the wood and stays: weight without volume."""

    weight: Weighed


STAGES = ("shaped", "drilled", "sealed", "leaded", "painted", "rigged")
Stage = Literal["shaped", "drilled", "sealed", "leaded", "painted", "rigged"]


READINGS = ("weight", "displaced", "sinks", "rises", "lies")


class Measured(Table):
    """One thing measured, when in the work, and what was fitted then. Only one of the five readings."""

    stage: Stage
    of: str = "whole"  # or a segment's name
    fitted: tuple[str, ...] | None = None  # names; all of them once rigged, none before, when left out
    weight: Weighed | None = None
    displaced: Weighed | None = None  # grams shown by a jug on a scale with the piece pushed under
    sinks: KnownRate | None = None  # a timed drop
    rises: KnownRate | None = None
    lies: KnownAngle | None = None  # how it lay, nose-up positive: afloat where it floats, else under water
    temperature: KnownTemperature | None = None
    salinity: KnownSalinity | None = None

    @classmethod
    def unmet(cls, given: Mapping[str, object]) -> list[str]:
        """One reading each."""
        readings = [key for key in READINGS if key in given]
        if len(readings) == 1:
            return []
        also = f", not {listed(readings, 'and')} together; a second [[measured]] takes the other" if readings else ""
        return [f"give one of {listed(READINGS)}{also}"]


class Uncertainty(Table):
    """How far each kind of number may be off, about 19 times in 20, where the number does not say so itself."""

    outline_volume: Part = 0.04  # of the volume a drawing gives
    species_density: Part = 0.20  # board to board, within a species
    along_board: Part = 0.05  # from one piece of a lure to the next, cut from one board
    density: Part = 0.02  # of an offcut weighed and measured
    moisture: Part = 0.02  # points of moisture
    scale: Mass = 1e-4  # kitchen scale, any weight
    dunk: Part = 0.003  # of grams displaced, jug on a scale
    table_hook: Part = 0.25  # a hook not weighed
    material_density: Part = 0.01
    coat_thickness: Part = 0.30
    sealer: Part = 0.30
    joint_removal: Part = 0.20
    outline_along: Length = 0.0005  # of the drawn body's buoyancy centre, fore and aft
    outline_height: Length = 0.0003  # the same, up and down
    ballast_place: Length = 0.001
    fitting_place: Length = 0.001
    timed_drop: Part = 0.07
    temperature: Warmth = 2.0
    salinity: Salinity = 1.0


class Shot(Table):
    """Shot in the drawer: one size."""

    material: str = "lead"
    weight: Weighed | None = None
    diameter: Length | None = None
    count: Annotated[int, Field(ge=0, le=1000)] = 100
    hammered: bool = False  # flattened in its hole until it fills it

    @classmethod
    def unmet(cls, given: Mapping[str, object]) -> list[str]:
        """Its size is known by one thing at least."""
        return one_at_least(given, "weight", "diameter")


class StockHook(Table):
    """Hooks in the drawer: one size, as weighed with a ring."""

    size: str
    weight: Weighed


class Stock(Table):
    """What is in the drawer."""

    shot: tuple[Shot, ...] = ()
    hooks: tuple[StockHook, ...] = Field(default=(), alias="hook")


class Water(Table):
    """The water it is meant for."""

    kind: Literal["fresh", "brackish", "sea"] = "fresh"
    temperature: KnownTemperature
    salinity: KnownSalinity | None = None  # 0 for fresh, 7 for brackish, 35 for sea when left out


class Aim(Table):
    """What the lure is meant to do."""

    does: Literal["floats", "hangs", "sinks"]
    rate: Rate | None = None  # sink or rise, by time per distance
    reserve: Part | None = None  # for a floater: share of its displacement left over
    attitude: Angle = 0.0  # nose-up positive
    upright: Part = 0.06  # wanted height of the buoyancy centre above the weight centre, share of body depth
    speeds: Annotated[tuple[float, ...], SPEED] = ()  # tow speeds
    rod: Annotated[tuple[float, ...], MASS] | None = None  # lightest and heaviest cast the rod takes
    terminal_tackle: Mass = 0.0  # snap and leader, cast along with the lure
    segments_alike: bool = True
    whole_shot: bool = False  # tell besides how whole shot from the stock would do it

    @classmethod
    def unmet(cls, given: Mapping[str, object]) -> list[str]:
        """Rate and reserve fit what it does."""
        does, has_rate, has_reserve = given.get("does"), "rate" in given, "reserve" in given
        if does == "sinks" and has_reserve:
            return ['a sinker has a rate and no reserve: rate = "4 s/ft"']
        if does == "sinks" and not has_rate:
            return ['a sinker needs a rate: rate = "4 s/ft"']
        if does == "floats" and has_rate == has_reserve:
            return ['a floater needs either a rate or a reserve, and not both: reserve = "18 %"']
        if does == "hangs" and (has_rate or has_reserve):
            return ["a lure that hangs has neither rate nor reserve; leave them out"]
        return []

    @field_validator("rod")
    @classmethod
    def _lightest_first(cls, rod: tuple[float, ...] | None) -> tuple[float, ...] | None:
        if rod is not None and (len(rod) != 2 or rod[0] >= rod[1]):
            raise ValueError('give the lightest and the heaviest cast the rod takes: ["20 g", "80 g"]')
        return rod


class StandIn(Table):
    """A weight hung in place of a hook for the tub test."""

    hook: str
    weight: Weighed
    material: str = "lead"


class Tub(Table):
    """The tub test as it will be done."""

    stage: Stage = "rigged"
    fitted: tuple[str, ...] | None = None
    stand_ins: tuple[StandIn, ...] = Field(default=(), alias="stand_in")
    temperature: KnownTemperature = Reading(293.15)
    salinity: KnownSalinity = Reading(0.0, 0.5)


def usual_segment_names(count: int) -> tuple[str, ...]:
    """What `count` segments are called, from the nose aft, where their maker gave no names."""
    if count == 1:
        return ("body",)
    return ("head", *(f"middle {place}" for place in range(1, count - 1)), "tail")


class Design(Table):
    """One lure as its maker wrote it."""

    name: str
    length: Length  # of the body, without fin or lip
    outline: Outline
    wood: Wood
    water: Water
    aim: Aim
    segments: tuple[str, ...] | None = None  # names from the nose aft; see segment_names
    joints: tuple[Joint, ...] = Field(default=(), alias="joint")
    hinges: tuple[Hinge, ...] = Field(default=(), alias="hinge")
    fittings: tuple[Fitting, ...] = Field(default=(), alias="fitting")
    hooks: tuple[Hook, ...] = Field(default=(), alias="hook")
    lip: Lip | None = None
    fin: Fin | None = None
    harness: Harness | None = None
    pockets: tuple[Pocket, ...] = Field(default=(), alias="pocket")
    coats: tuple[Coat, ...] = Field(default=(), alias="coat")
    sealer: Sealer | None = None
    measured: tuple[Measured, ...] = ()
    tub: Tub = Tub()
    uncertainty: Uncertainty = Uncertainty()
    coefficients: Coefficients = Coefficients()
    stock: Stock = Stock()
    board: Board | None = None
    tackle: Tackle = Tackle()
    tow: Tow = Tow()
    dock: tuple[DockTest, ...] = ()
    prices: tuple[Price, ...] = Field(default=(), alias="price")

    @property
    def segment_names(self) -> tuple[str, ...]:
        """The segments' names from the nose aft: the maker's, or the usual ones."""
        return self.segments or usual_segment_names(len(self.joints) + 1)
