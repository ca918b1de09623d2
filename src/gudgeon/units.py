"""What a metre, gram, knot and g/cm3 are: the maker's words to SI, and SI to the units a shop shows.

Inside gudgeon every quantity is a float in SI. A field's annotation carries its kind, so the file reader, the
rows and the docs all learn the unit from that one place.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import lru_cache
from typing import Annotated

from gudgeon.errors import BadQuantity

INCH = 0.0254
FOOT = 0.3048
POUND = 0.45359237
OUNCE = POUND / 16.0
GRAIN = POUND / 7000.0
KNOT = 1852.0 / 3600.0
MILE_PER_HOUR = 1609.344 / 3600.0
STANDARD_GRAVITY = 9.80665
ICE_POINT = 273.15


@dataclass(frozen=True, eq=False)
class Kind:
    """A kind of quantity: how it is written, and the bounds a written value must keep.

    name    : what the maker calls it, "a length"
    factors : unit as written -> SI units in one of it
    likely  : the units named in a refusal, commonest first
    least   : smallest value allowed [SI], None for no limit; `above` makes it strict
    most    : largest value allowed [SI]
    offsets : unit -> amount added before the factor (temperature only)
    inverse : units that are written upside down, "s/ft" for a speed
    over    : what a value past `most` is too much of
    """

    name: str
    factors: Mapping[str, float]
    likely: tuple[str, ...]
    least: float | None = None
    most: float | None = None
    above: bool = False
    offsets: Mapping[str, float] = field(default_factory=dict)
    inverse: frozenset[str] = frozenset()
    over: str = "high"

    def to_si(self, number: float, unit: str) -> float:
        """The value in SI of `number` of `unit`."""
        if unit in self.inverse:
            if number <= 0.0:
                raise BadQuantity(f"'{number:g} {unit}' must be more than 0")
            return self.factors[unit] / number
        return (number + self.offsets.get(unit, 0.0)) * self.factors[unit]


@dataclass(frozen=True)
class Reading:
    """A quantity as known: its value, and the half-width the truth lies within about 19 times in 20.

    value  : [SI]
    spread : [SI] None when the maker gave none; the reader of the value then supplies one
    """

    value: float
    spread: float | None = None

    def spread_or(self, default: float) -> float:
        """The spread as given [SI], or `default` [SI] where none was."""
        return default if self.spread is None else self.spread


class Measure(StrEnum):
    """What a number is, so that each shop shows it in its own unit."""

    MASS = "mass"  # g in both shops
    CASTING_MASS = "casting mass"  # g, oz
    LENGTH = "length"  # mm, decimal inches: what is measured
    CUT = "cut"  # mm, inches to 1/64: what is cut or drilled
    BORE = "bore"  # as a cut, but up to the next mark: how deep to drill for what is to go in
    FILM = "film"  # mm, inches to a ten-thousandth: one coat
    WIRE = "wire"  # mm, thousandths of an inch
    AREA = "area"
    VOLUME = "volume"
    DENSITY = "density"
    WATER_DENSITY = "water density"  # g/cm3 in both shops, four decimals
    TIME_PER_DISTANCE = "time per distance"  # s/m, s/ft; carried as s/m
    TIME_PER_FOOT = "time per foot"  # s/ft in both shops, as the trade says it
    SPEED = "speed"
    TOW_SPEED = "tow speed"  # m/s, mph; with knots beside it
    BEATS = "beats"  # beats/s in both shops
    DEPTH = "depth"  # m, ft: how deep it runs
    ANGLE = "angle"
    TEMPERATURE = "temperature"
    PART = "part"  # of one, shown in per cent
    FORCE = "force"  # N in a metric shop with kg beside it; lb in an inch shop
    PULL = "pull"  # N, oz: what a towed lure holds back with
    MOMENT = "moment"  # g mm in both shops; carried as kg m
    MASS_PER_DEPTH = "mass per depth"  # g per mm of bore in both shops
    MASS_PER_AREA = "mass per area"  # g on 100 cm2, g on 10 in2: what stays on a body or in its skin
    MONEY = "money"  # the maker's own
    COUNT = "count"
    NUMBER = "number"
    WORDS = "words"


_LENGTHS = {
    "m": 1.0, "cm": 0.01, "mm": 0.001, "um": 1e-6, "µm": 1e-6, "micron": 1e-6, "microns": 1e-6,
    "in": INCH, "inch": INCH, "inches": INCH, '"': INCH, "″": INCH, "mil": INCH / 1000, "mils": INCH / 1000,
    "ft": FOOT, "foot": FOOT, "feet": FOOT, "yd": 3 * FOOT,
}  # fmt: skip
_MASSES = {
    "g": 1e-3, "gram": 1e-3, "grams": 1e-3, "kg": 1.0, "mg": 1e-6,
    "oz": OUNCE, "ounce": OUNCE, "ounces": OUNCE, "lb": POUND, "lbs": POUND,
    "gr": GRAIN, "grain": GRAIN, "grains": GRAIN,
}  # fmt: skip
_DENSITIES = {
    "g/cm3": 1000.0, "g/cm³": 1000.0, "g/cc": 1000.0, "g/ml": 1000.0, "kg/m3": 1.0, "kg/m³": 1.0,
    "lb/ft3": POUND / FOOT**3, "lb/ft³": POUND / FOOT**3, "lb/cu ft": POUND / FOOT**3, "pcf": POUND / FOOT**3,
}  # fmt: skip
_VOLUMES = {
    "cm3": 1e-6, "cm³": 1e-6, "cc": 1e-6, "ml": 1e-6, "mm3": 1e-9, "mm³": 1e-9, "l": 1e-3,
    "in3": INCH**3, "in³": INCH**3, "cu in": INCH**3,
}  # fmt: skip
_AREAS = {
    "cm2": 1e-4,
    "cm²": 1e-4,
    "mm2": 1e-6,
    "mm²": 1e-6,
    "m2": 1.0,
    "in2": INCH**2,
    "in²": INCH**2,
    "sq in": INCH**2,
}
_SPEEDS = {
    "m/s": 1.0, "cm/s": 0.01, "ft/s": FOOT, "km/h": 1 / 3.6, "mph": MILE_PER_HOUR,
    "kn": KNOT, "kt": KNOT, "knot": KNOT, "knots": KNOT,
}  # fmt: skip
_RATES = {"s/ft": FOOT, "s/m": 1.0, "m/s": 1.0, "cm/s": 0.01, "ft/s": FOOT, "in/s": INCH, "mm/s": 1e-3}
_PARTS = {"%": 0.01, "percent": 0.01}
_ANGLES = {"deg": math.pi / 180, "°": math.pi / 180, "degree": math.pi / 180, "degrees": math.pi / 180, "rad": 1.0}
_TEMPERATURES = {"C": 1.0, "°C": 1.0, "F": 5 / 9, "°F": 5 / 9, "K": 1.0}
_TEMPERATURE_OFFSETS = {"C": ICE_POINT, "°C": ICE_POINT, "F": ICE_POINT * 1.8 - 32.0, "°F": ICE_POINT * 1.8 - 32.0}
_WARMTHS = {"C": 1.0, "°C": 1.0, "F": 5 / 9, "°F": 5 / 9, "K": 1.0}
_SALINITIES = {"ppt": 1.0, "g/kg": 1.0, "psu": 1.0, "‰": 1.0}
_FORCES = {
    "N": 1.0, "lbf": POUND * STANDARD_GRAVITY, "lb": POUND * STANDARD_GRAVITY, "kgf": STANDARD_GRAVITY,
    "kg": STANDARD_GRAVITY, "kp": STANDARD_GRAVITY, "g": 1e-3 * STANDARD_GRAVITY, "oz": OUNCE * STANDARD_GRAVITY,
}  # fmt: skip
_TORQUES = {
    "N·m": 1.0, "N·cm": 1e-2, "N·mm": 1e-3, "g·cm": 1e-5 * STANDARD_GRAVITY, "g·mm": 1e-6 * STANDARD_GRAVITY,
    "oz·in": OUNCE * STANDARD_GRAVITY * INCH,
}  # fmt: skip
_TORQUES |= {unit.replace("·", " "): size for unit, size in _TORQUES.items()}
_BEATS = {"beats/s": 1.0, "/s": 1.0, "Hz": 1.0, "hz": 1.0, "beats/min": 1 / 60, "/min": 1 / 60}
_TIMES = {"s": 1.0, "sec": 1.0, "second": 1.0, "seconds": 1.0, "min": 60.0, "h": 3600.0}

_LENGTH_WORDS = ("mm", "in")
_MASS_WORDS = ("g", "oz", "gr (grains)", "lb")
LENGTH = Kind("a length", _LENGTHS, _LENGTH_WORDS, least=0.0, most=5.0, above=True)
STATION = Kind("a distance", _LENGTHS, _LENGTH_WORDS, least=0.0, most=5.0)
OFFSET = Kind("an offset", _LENGTHS, _LENGTH_WORDS, least=-5.0, most=5.0)
MASS = Kind("a weight", _MASSES, _MASS_WORDS, least=0.0, most=50.0)
DENSITY = Kind("a density", _DENSITIES, ("g/cm3", "g/cc", "kg/m3", "lb/ft3"), least=0.0, most=23000.0, above=True)
VOLUME = Kind("a volume", _VOLUMES, ("cm3", "cc", "ml", "in3"), least=0.0, most=0.1, above=True)
AREA = Kind("an area", _AREAS, ("cm2", "in2"), least=0.0, most=10.0, above=True)
SPEED = Kind("a speed", _SPEEDS, ("kn", "mph", "m/s"), least=0.0, most=30.0, above=True)
RATE = Kind("a sink or rise rate", _RATES, ("s/ft", "s/m", "cm/s"), least=0.0, most=10.0, above=True,
            inverse=frozenset({"s/ft", "s/m"}))  # fmt: skip
PART = Kind("a share", _PARTS, ("%",), least=0.0, most=1.0)
ANGLE = Kind("an angle", _ANGLES, ("deg",), least=-math.pi / 2, most=math.pi / 2)
TEMPERATURE = Kind("a temperature", _TEMPERATURES, ("C", "F"), least=ICE_POINT - 2.0, most=ICE_POINT + 40.0,
                   offsets=_TEMPERATURE_OFFSETS)  # fmt: skip
WARMTH = Kind("a temperature difference", _WARMTHS, ("C", "F"), least=0.0, most=30.0)
SALINITY = Kind("a salinity", _SALINITIES, ("ppt", "g/kg"), least=0.0, most=42.0)
FORCE = Kind("a pull", _FORCES, ("lb", "kg", "N"), least=0.0, most=50000.0, above=True)
TORQUE = Kind("a turning force", _TORQUES, ("g·mm", "N·mm", "oz·in"), least=0.0, most=10.0)
STIFFNESS = Kind("a stiffness", {f"{unit}/deg": size * 180.0 / math.pi for unit, size in _TORQUES.items()},
                 ("g·mm/deg", "N·mm/deg"), least=0.0, most=1000.0, above=True)  # fmt: skip
TIME = Kind("a time", _TIMES, ("s", "min"), least=0.0, above=True)
BEATS = Kind("a beat", _BEATS, ("beats/s", "beats/min"), least=0.0, most=50.0, above=True)
DEPTH = Kind("a depth", _LENGTHS, ("m", "ft"), least=0.0, most=100.0)
LINE = Kind("a line", _LENGTHS, ("m", "ft"), least=0.0, most=200.0, above=True, over="long")

Length = Annotated[float, LENGTH]  # m, more than 0
Station = Annotated[float, STATION]  # m aft of the nose
Offset = Annotated[float, OFFSET]  # m, either sign
Mass = Annotated[float, MASS]  # kg
Density = Annotated[float, DENSITY]  # kg/m3
Volume = Annotated[float, VOLUME]  # m3
Area = Annotated[float, AREA]  # m2
Speed = Annotated[float, SPEED]  # m/s
Rate = Annotated[float, RATE]  # m/s, written as time per distance
Force = Annotated[float, FORCE]  # N, written as the line it breaks: lb, kg
Torque = Annotated[float, TORQUE]  # N m, written as a weight at an arm
Stiffness = Annotated[float, STIFFNESS]  # N m/rad
Part = Annotated[float, PART]  # 1
Angle = Annotated[float, ANGLE]  # rad
Temperature = Annotated[float, TEMPERATURE]  # K
Warmth = Annotated[float, WARMTH]  # K, a difference
Salinity = Annotated[float, SALINITY]  # g/kg

_NUMBER = r"[-+]?(?:\d+\s+\d+\s*/\s*\d+|\d+-\d+/\d+|\d+\s*/\s*\d+|\d*\.?\d+(?:[eE][-+]?\d+)?|\d+\.)"
_QUANTITY = re.compile(rf"^\s*(?P<number>{_NUMBER})\s*(?P<unit>[^\d\s±+].*?)?\s*$")
_REMEMBERED = 512  # quantities read before: while a hand draws, all but a few are written as they were
_PLUS_MINUS = re.compile(r"±|\+/-|\+-")


def number(text: str) -> float:
    """The number in `text`: 6 1/2, 6-1/2, 5/16, .062, 1.5e-3, with a decimal point (never a comma).

    raises : BadQuantity when it is no finite number
    """
    words = text.strip().replace("-", " ", 1) if re.fullmatch(r"\s*\d+-\d+/\d+\s*", text) else text.strip()
    sign = -1.0 if words.startswith("-") else 1.0
    total = 0.0
    try:
        for part in re.sub(r"\s*/\s*", "/", words.lstrip("+-")).split():
            top, slash, bottom = part.partition("/")
            total += float(top) / float(bottom) if slash else float(top)
    except (ValueError, ZeroDivisionError):
        raise BadQuantity(f"'{text}' is not a number") from None
    if not words or not math.isfinite(total):
        raise BadQuantity(f"'{text}' is not a number")
    return sign * total


def _split(text: str, kind: Kind) -> tuple[float, str]:
    if re.search(r"\d,\d", text):
        raise BadQuantity(f"'{text}': the decimal sign is a point: {re.sub(r'(?<=[0-9]),(?=[0-9])', '.', text)}")
    found = _QUANTITY.match(text)
    example = " or ".join((", ".join(kind.likely[:-1]), kind.likely[-1]) if len(kind.likely) > 1 else kind.likely)
    if found is None:
        raise BadQuantity(f"'{text}' is not {kind.name}; write a number and a unit: {example}")
    unit = (found["unit"] or "").strip()
    if not unit:
        raise BadQuantity(f"'{text}' needs a unit: {example}")
    for spelling in (unit, unit.lower(), unit.rstrip("."), unit.lower().rstrip(".")):
        if spelling in kind.factors:
            return number(found["number"]), spelling
    raise BadQuantity(f"'{text}': '{unit}' is not a unit of {kind.name}; use {example}")


def _within(value: float, text: str, kind: Kind) -> float:
    low, high = kind.least, kind.most
    if not math.isfinite(value):
        raise BadQuantity(f"'{text}' is not a number")
    if low is not None and (value < low or (kind.above and value <= low)):
        words = "must be more than 0" if low == 0.0 and kind.above else "must not be negative"
        raise BadQuantity(f"'{text}' {words if low == 0.0 else f'is too low for {kind.name}'}")
    if high is not None and value > high:
        raise BadQuantity(f"'{text}' is too {kind.over} for {kind.name}; a slip in the unit or the decimal point?")
    return value


@lru_cache(maxsize=_REMEMBERED)
def read(text: str, kind: Kind) -> float:
    """The value [SI] of one quantity as the maker writes it, unit and all.

    text   : "6 1/2 in", "0.46 g/cm3", "8 C", "3 s/ft"
    raises : BadQuantity, saying what would do
    """
    amount, unit = _split(_nose_words(text, kind), kind)
    return _within(kind.to_si(amount, unit), text, kind)


@lru_cache(maxsize=_REMEMBERED)
def read_reading(text: str, kind: Kind) -> Reading:
    """A quantity with or without its own spread: "60.2 g", "60.2 g ± 0.1 g", "60.2 ± 0.1 g", "0.42 g/cc ± 5 %".

    raises : BadQuantity
    """
    parts = _PLUS_MINUS.split(text)
    if len(parts) == 1:
        return Reading(read(text, kind))
    if len(parts) > 2:
        raise BadQuantity(f"'{text}' has more than one ±")
    head, tail = (part.strip() for part in parts)
    if tail.endswith("%") and kind is not PART:
        value = read(head, kind)
        spread = abs(value) * number(tail[:-1]) / 100.0
    else:
        if re.fullmatch(_NUMBER, head):
            head = f"{head} {_split(tail, kind)[1]}"
        elif re.fullmatch(_NUMBER, tail):
            tail = f"{tail} {_split(head, kind)[1]}"
        value = read(head, kind)
        spread = _spread(head, tail, kind)
    if not math.isfinite(spread) or spread < 0.0:
        raise BadQuantity(f"'{text}': the spread after ± must not be negative")
    return Reading(value, spread)


def _spread(head: str, tail: str, kind: Kind) -> float:
    amount, unit = _split(tail, kind)
    if unit in kind.inverse:
        middle, own = _split(head, kind)
        return abs(kind.to_si(middle, own)) * kind.factors[own] / kind.factors[unit] * amount / middle
    return amount * kind.factors[unit]


def _nose_words(text: str, kind: Kind) -> str:
    """An attitude may be written the way it is said: "4 deg nose-down" is "-4 deg"."""
    if kind is not ANGLE:
        return text
    plain, down = re.subn(r"\s*nose[- ]?down\s*$", "", text)
    plain, up = re.subn(r"\s*nose[- ]?up\s*$", "", plain)
    if (up or down) and plain.strip().startswith("-"):
        raise BadQuantity(f"'{text}': write either a minus sign or nose-down, not both")
    return f"-{plain.strip()}" if down else plain


def celsius(temperature: Temperature) -> float:
    """Degrees Celsius of a temperature [K]."""
    return temperature - ICE_POINT


def inch_fraction(length: float, denominator: int = 64) -> str:
    """A length [m] in inches to the nearest 1/`denominator`, as a ruler is read: "6 1/2", "5/16", "0"."""
    parts = round(abs(length) / INCH * denominator)
    whole, rest = divmod(parts, denominator)
    sign = "-" if length < 0.0 and parts else ""
    if rest == 0:
        return f"{sign}{whole}"
    shared = math.gcd(rest, denominator)
    fraction = f"{rest // shared}/{denominator // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
