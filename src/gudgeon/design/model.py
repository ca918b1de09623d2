"""What the maker writes: one frozen table per part of the lure, every quantity in SI once read.

Places are stations aft of the nose, heights above the centre line, offsets to the right (all [m]). Where a height is
left out the part sits where such a part usually sits; answers/assembly.py says where.
"""

import types
from collections.abc import Iterator
from typing import Annotated, Any, Literal, NamedTuple, Union, get_args, get_origin

from pydantic import BaseModel, ConfigDict, Field, ValidationInfo, field_validator, model_validator

from gudgeon.errors import BadQuantity
from gudgeon.units import (
    DENSITY,
    LENGTH,
    MASS,
    OFFSET,
    PART,
    RATE,
    SALINITY,
    SPEED,
    STATION,
    TEMPERATURE,
    VOLUME,
    Angle,
    Kind,
    Length,
    Mass,
    Offset,
    Part,
    Rate,
    Reading,
    Salinity,
    Station,
    Warmth,
    number,
    read,
    read_reading,
)

Weighed = Annotated[Reading, MASS]
KnownDensity = Annotated[Reading, DENSITY]
KnownLength = Annotated[Reading, LENGTH]
KnownVolume = Annotated[Reading, VOLUME]
KnownPart = Annotated[Reading, PART]
KnownRate = Annotated[Reading, RATE]
KnownTemperature = Annotated[Reading, TEMPERATURE]
KnownSalinity = Annotated[Reading, SALINITY]


class Point(NamedTuple):
    """One drawn point: how far aft of the nose [m], and how far out from the centre line there [m]."""

    station: float
    out: float


class Drawn(NamedTuple):
    """Marks a field as points along the length; `out` is the kind of what is read at each, None for a plain number."""

    out: Kind | None


Points = Annotated[tuple[Point, ...], Drawn(OFFSET)]
Fullness = Annotated[tuple[Point, ...], Drawn(None)]


def _marks(annotation: Any) -> Iterator[Kind | Drawn]:
    """The quantity marks inside an annotation, also those behind `| None` or inside a tuple."""
    if get_origin(annotation) is Annotated:
        base, *extra = get_args(annotation)
        yield from (mark for mark in extra if isinstance(mark, Kind | Drawn))
        yield from _marks(base)
    elif get_origin(annotation) in (Union, types.UnionType, tuple):
        for part in get_args(annotation):
            yield from _marks(part)


def _is_reading(annotation: Any) -> bool:
    if annotation is Reading:
        return True
    return any(_is_reading(part) for part in get_args(annotation) if part is not Ellipsis)


def _point(text: Any, mark: Drawn) -> Point:
    if not isinstance(text, str) or text.count(":") != 1:
        raise ValueError(f"'{text}' is not a point; write distance from the nose, a colon, then the size there: "
                         f"{'40 mm: 2.5' if mark.out is None else '40 mm: 12 mm'}")  # fmt: skip
    station, out = text.split(":")
    return Point(read(station, STATION), number(out) if mark.out is None else read(out, mark.out))


def _points(value: Any, mark: Drawn) -> tuple[Point, ...]:
    if mark.out is None and isinstance(value, int | float) and not isinstance(value, bool):
        return (Point(0.0, float(value)),)
    if not isinstance(value, list | tuple):
        raise ValueError('write a list of points, ["0 mm: 0 mm", "40 mm: 12 mm", ...]')
    points: list[Point] = []
    faults: list[str] = []
    for place, item in enumerate(value, start=1):
        try:
            points.append(item if isinstance(item, Point) else _point(item, mark))
        except (BadQuantity, ValueError) as fault:
            faults.append(f"point {place}: {fault}")
    if faults:
        raise ValueError("; ".join(faults))
    return tuple(points)


def _quantity(value: Any, kind: Kind, with_spread: bool) -> Any:
    if isinstance(value, Reading) and with_spread:
        return value
    if isinstance(value, bool) or not isinstance(value, str):
        raise ValueError(f"'{value}' needs a unit, in quotes: {', '.join(kind.likely)}")
    return read_reading(value, kind) if with_spread else read(value, kind)


class Table(BaseModel):
    """The one base of all tables: frozen, strict, unknown keys refused, quantities read from words with units."""

    model_config = ConfigDict(frozen=True, strict=True, extra="forbid", allow_inf_nan=False,
                              arbitrary_types_allowed=True, populate_by_name=True)  # fmt: skip

    @field_validator("*", mode="before")
    @classmethod
    def _from_words(cls, value: Any, info: ValidationInfo) -> Any:
        """Words with units to SI, by the kind that the field's annotation carries."""
        field = cls.model_fields[str(info.field_name)]
        mark = next((m for m in field.metadata if isinstance(m, Kind | Drawn)), None)
        mark = mark or next(_marks(field.annotation), None)
        if mark is None or value is None:
            return tuple(value) if isinstance(value, list) else value
        try:
            if isinstance(mark, Drawn):
                return _points(value, mark)
            if isinstance(value, list | tuple):
                return tuple(_quantity(item, mark, with_spread=False) for item in value)
            return _quantity(value, mark, _is_reading(field.annotation))
        except BadQuantity as fault:
            raise ValueError(fault.heading) from None


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

    @model_validator(mode="after")
    def _known_somehow(self) -> "Wood":
        if self.species is None and self.density is None and self.blank_weight is None:
            raise ValueError("give species, density or blank_weight")
        return self


class Joint(Table):
    """A cut through the body: the finished gap at the pivot and the vee of each face, after coats."""

    at: Length
    gap: Station
    front_bevel: Angle = 0.0  # how far the face ahead of the gap slopes back from square, on each side
    rear_bevel: Angle = 0.0  # the same for the face behind the gap
    takes_away: KnownVolume | None = None  # measured; replaces what gap and bevels come to


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


class Hook(Table):
    """A hook with its ring: it hangs, so it pulls at its hanger."""

    name: str
    at: Station  # the hanger's loop
    size: str | None = None  # a treble's size, "2/0"; its weight from the table when not weighed
    weight: Weighed | None = None
    material: str = "steel"
    height: Offset | None = None  # the hanger's loop; on the belly when left out
    offset: Offset = 0.0

    @model_validator(mode="after")
    def _weight_known(self) -> "Hook":
        if self.size is None and self.weight is None:
            raise ValueError("give weight (weigh it, with its ring) or a treble size")
        return self


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
    """A tail fin standing upright in a slot."""

    material: str
    length: Length  # from the body to its rear edge
    tall: Length
    thickness: Length
    at: Station  # where it leaves the body
    height: Offset = 0.0  # its middle
    set_in: Station = 0.0
    fill: Part = 0.7  # share of length x tall that is fin
    weight: Weighed | None = None


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
    plug: Station = 0.003  # filler left above the ballast
    plug_material: str = "epoxy"


class Coat(Table):
    """One layer of the finish, on the outside and on the joint faces."""

    name: str
    coats: Annotated[int, Field(ge=1, le=50)] = 1
    thickness: KnownLength  # of one coat, dry
    material: str | None = None
    density: KnownDensity | None = None

    @model_validator(mode="after")
    def _dense_somehow(self) -> "Coat":
        if self.material is None and self.density is None:
            raise ValueError("give material or density")
        return self


class Sealer(Table):
    """What soaks into the wood and stays: weight without volume."""

    weight: Weighed


STAGES = ("shaped", "drilled", "sealed", "leaded", "painted", "rigged")
Stage = Literal["shaped", "drilled", "sealed", "leaded", "painted", "rigged"]


class Measured(Table):
    """One thing measured, when in the work, and what was fitted then. Only one of the four readings."""

    stage: Stage
    of: str = "whole"  # or a segment's name
    fitted: tuple[str, ...] | None = None  # names; all of them once rigged, none before, when left out
    weight: Weighed | None = None
    displaced: Weighed | None = None  # grams shown by a jug on a scale with the piece pushed under
    sinks: KnownRate | None = None  # a timed drop
    rises: KnownRate | None = None
    temperature: KnownTemperature | None = None
    salinity: KnownSalinity | None = None

    @model_validator(mode="after")
    def _one_reading(self) -> "Measured":
        given = [self.weight, self.displaced, self.sinks, self.rises]
        if sum(reading is not None for reading in given) != 1:
            raise ValueError("give one of weight, displaced, sinks, rises")
        return self


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
    ballast_place: Length = 0.001
    fitting_place: Length = 0.001
    timed_drop: Part = 0.07
    temperature: Warmth = 2.0
    salinity: Salinity = 1.0


class Coefficients(Table):
    """Water-force constants the maker overrides; left out, the published defaults stand."""

    fall_drag: Annotated[float, Field(gt=0.1, lt=5.0)] | None = None  # across the plan area
    fall_drag_spread: Annotated[float, Field(ge=0.0, lt=2.0)] | None = None


class Shot(Table):
    """Shot in the drawer: one size."""

    material: str = "lead"
    weight: Weighed | None = None
    diameter: Length | None = None
    count: Annotated[int, Field(ge=0, le=1000)] = 100

    @model_validator(mode="after")
    def _sized(self) -> "Shot":
        if self.weight is None and self.diameter is None:
            raise ValueError("give weight or diameter")
        return self


class StockHook(Table):
    """Hooks in the drawer: one size, as weighed with a ring."""

    size: str
    weight: Weighed


class Stock(Table):
    """What is in the drawer."""

    shot: tuple[Shot, ...] = ()
    hooks: tuple[StockHook, ...] = ()


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

    @model_validator(mode="after")
    def _whole(self) -> "Aim":
        if self.does == "sinks" and self.rate is None:
            raise ValueError("a sinker needs a rate: rate = \"4 s/ft\"")
        if self.does == "floats" and (self.rate is None) == (self.reserve is None):
            raise ValueError("a floater needs either a rate or a reserve: reserve = \"18 %\"")
        if self.does == "hangs" and (self.rate is not None or self.reserve is not None):
            raise ValueError("a lure that hangs has neither rate nor reserve; leave them out")
        if self.rod is not None and (len(self.rod) != 2 or self.rod[0] >= self.rod[1]):
            raise ValueError("rod: give its lightest and heaviest cast, [\"20 g\", \"80 g\"]")
        return self


class StandIn(Table):
    """A weight hung in place of a hook for the tub test."""

    hook: str
    weight: Weighed
    material: str = "lead"


class Tub(Table):
    """The tub test as it will be done."""

    stage: Stage = "rigged"
    fitted: tuple[str, ...] | None = None
    stand_ins: tuple[StandIn, ...] = ()
    temperature: KnownTemperature = Reading(293.15)
    salinity: KnownSalinity = Reading(0.0, 0.5)


class Design(Table):
    """One lure as its maker wrote it."""

    name: str
    length: Length  # of the body, without fin or lip
    outline: Outline
    wood: Wood
    water: Water
    aim: Aim
    segments: tuple[str, ...] | None = None  # names from the nose aft
    joints: tuple[Joint, ...] = Field(default=(), alias="joint")
    fittings: tuple[Fitting, ...] = Field(default=(), alias="fitting")
    hooks: tuple[Hook, ...] = Field(default=(), alias="hook")
    lip: Lip | None = None
    fin: Fin | None = None
    pockets: tuple[Pocket, ...] = Field(default=(), alias="pocket")
    coats: tuple[Coat, ...] = Field(default=(), alias="coat")
    sealer: Sealer | None = None
    measured: tuple[Measured, ...] = ()
    tub: Tub = Tub()
    uncertainty: Uncertainty = Uncertainty()
    coefficients: Coefficients = Coefficients()
    stock: Stock = Stock()
