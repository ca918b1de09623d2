"""An answer as name, label, value, unit, low, high: the only place that rounds.

A row holds its number in the unit its reader's shop uses. `shown` has no more digits than the spread allows.
"""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum

from gudgeon.physics.estimate import Estimate
from gudgeon.units import (
    FOOT,
    INCH,
    KNOT,
    MILE_PER_HOUR,
    OUNCE,
    POUND,
    STANDARD_GRAVITY,
    celsius,
    inch_fraction,
)
from gudgeon.units import Measure as Measure


class Shop(StrEnum):
    """Whose units a face shows: lengths in millimetres or inches; ballast is in grams in both."""

    METRIC = "metric"
    INCH = "inch"


def _degrees(value: float) -> float:
    return math.degrees(value)


def _fahrenheit(value: float) -> float:
    return celsius(value) * 1.8 + 32.0


def _scaled(factor: float) -> Callable[[float], float]:
    return lambda value: value * factor


_SHOWN: dict[Measure, tuple[tuple[str, Callable[[float], float], int], tuple[str, Callable[[float], float], int]]] = {
    Measure.MASS: (("g", _scaled(1e3), 2), ("g", _scaled(1e3), 2)),
    Measure.CASTING_MASS: (("g", _scaled(1e3), 1), ("oz", _scaled(1 / OUNCE), 2)),
    Measure.LENGTH: (("mm", _scaled(1e3), 1), ("in", _scaled(1 / INCH), 3)),
    Measure.CUT: (("mm", _scaled(1e3), 1), ("in", _scaled(1 / INCH), 3)),
    Measure.BORE: (("mm", _scaled(1e3), 1), ("in", _scaled(1 / INCH), 3)),
    Measure.FILM: (("mm", _scaled(1e3), 3), ("in", _scaled(1 / INCH), 4)),
    Measure.WIRE: (("mm", _scaled(1e3), 2), ("in", _scaled(1 / INCH), 3)),
    Measure.AREA: (("cm2", _scaled(1e4), 1), ("in2", _scaled(1 / INCH**2), 2)),
    Measure.VOLUME: (("cm3", _scaled(1e6), 1), ("cm3", _scaled(1e6), 1)),
    Measure.DENSITY: (("g/cm3", _scaled(1e-3), 3), ("lb/ft3", _scaled(FOOT**3 / POUND), 1)),
    Measure.WATER_DENSITY: (("g/cm3", _scaled(1e-3), 4), ("g/cm3", _scaled(1e-3), 4)),
    Measure.TIME_PER_DISTANCE: (("s/m", _scaled(1.0), 1), ("s/ft", _scaled(FOOT), 1)),
    Measure.TIME_PER_FOOT: (("s/ft", _scaled(FOOT), 1), ("s/ft", _scaled(FOOT), 1)),
    Measure.SPEED: (("m/s", _scaled(1.0), 3), ("ft/s", _scaled(1 / FOOT), 2)),
    Measure.TOW_SPEED: (("m/s", _scaled(1.0), 3), ("mph", _scaled(1 / MILE_PER_HOUR), 2)),
    Measure.BEATS: (("beats/s", _scaled(1.0), 1), ("beats/s", _scaled(1.0), 1)),
    Measure.DEPTH: (("m", _scaled(1.0), 2), ("ft", _scaled(1 / FOOT), 1)),
    Measure.ANGLE: (("deg", _degrees, 1), ("deg", _degrees, 1)),
    Measure.TEMPERATURE: (("C", celsius, 1), ("F", _fahrenheit, 1)),
    Measure.MASS_PER_DEPTH: (("g/mm", _scaled(1.0), 2), ("g/mm", _scaled(1.0), 2)),
    Measure.MASS_PER_AREA: (("g/100 cm2", _scaled(10.0), 2), ("g/10 in2", _scaled(1e4 * INCH**2), 2)),
    Measure.PART: (("%", _scaled(100.0), 1), ("%", _scaled(100.0), 1)),
    Measure.FORCE: (("N", _scaled(1.0), 0), ("lb", _scaled(1 / (POUND * STANDARD_GRAVITY)), 0)),
    Measure.PULL: (("N", _scaled(1.0), 2), ("oz", _scaled(1 / (OUNCE * STANDARD_GRAVITY)), 1)),
    Measure.MOMENT: (("g mm", _scaled(1e6), 0), ("g mm", _scaled(1e6), 0)),
    Measure.MONEY: (("", _scaled(1.0), 2), ("", _scaled(1.0), 2)),
    Measure.COUNT: (("", _scaled(1.0), 0), ("", _scaled(1.0), 0)),
    Measure.NUMBER: (("", _scaled(1.0), 3), ("", _scaled(1.0), 3)),
    Measure.WORDS: (("", _scaled(1.0), 0), ("", _scaled(1.0), 0)),
}  # fmt: skip


@dataclass(frozen=True)
class Row:
    """One line of an answer.

    name     : stable, dotted: "whole.excess", "segment.head.excess", "pocket.belly.mass"
    label    : trade words
    value    : in `unit`; words where the answer is words; None where there is none
    low,high : the range that holds it about 19 times in 20, in `unit`; None when it has no spread
    shown    : value, spread and unit as every face prints them
    standing : "computed", "estimate" or "trend"; empty for what the maker gave
    """

    name: str
    label: str
    value: float | str | None
    unit: str
    low: float | None
    high: float | None
    shown: str
    standing: str = ""

    def as_json(self) -> dict[str, float | str | None]:
        """The row for a program: full precision, same unit."""
        return {"name": self.name, "label": self.label, "value": self.value, "unit": self.unit,
                "low": self.low, "high": self.high}  # fmt: skip


@dataclass(frozen=True)
class Section:
    """Rows that belong together, under a title."""

    title: str
    rows: tuple[Row, ...]


def row(
    name: str,
    label: str,
    value: Estimate | float,
    measure: Measure,
    shop: Shop,
    *,
    standing: str = "",
) -> Row:
    """A number as a row: converted to the shop's unit, and rounded once, here."""
    unit, convert, digits = _SHOWN[measure][0 if shop is Shop.METRIC else 1]
    if not isinstance(value, Estimate):
        number = convert(value)
        written = _up_to_mark(value, shop) if measure is Measure.BORE else value
        plain = inch_fraction(written) if _in_marks(measure, shop) else _fixed(convert(written), digits)
        return Row(name, label, number, unit, None, None, f"{plain} {unit}".strip(), standing)
    number = convert(value.value)
    low, high = sorted((convert(value.low), convert(value.high)))
    shown = f"{spread_words(number, low, high, digits)} {unit}".strip()
    return Row(name, label, number, unit, low, high, shown, standing)


def _in_marks(measure: Measure, shop: Shop) -> bool:
    """Whether it is written as a ruler in inches is read."""
    return measure in (Measure.CUT, Measure.BORE) and shop is Shop.INCH


def _up_to_mark(depth: float, shop: Shop) -> float:
    """The next mark of a shop's ruler [m]: 0.1 mm, 1/64 in; what lies on one to its thousandth stays there."""
    mark = 1e-4 if shop is Shop.METRIC else INCH / 64
    return math.ceil(depth / mark - 1e-3) * mark


def slug(name: str) -> str:
    """A maker's name as a part of a row's name: "head rear" is head_rear, "No. 2" is no_2."""
    return "_".join(re.findall(r"\w+", name.lower()))


def spoken(value: Estimate | float, measure: Measure, shop: Shop) -> str:
    """A number inside a sentence: as a row shows it, a lone one with a figure fewer."""
    if isinstance(value, Estimate) or measure is Measure.BORE or _in_marks(measure, shop):
        return row("", "", value, measure, shop).shown.replace(" deg", "°")
    unit, convert, digits = _SHOWN[measure][0 if shop is Shop.METRIC else 1]
    number = convert(value)
    lone = measure is not Measure.LENGTH and abs(number) >= 1.0 and digits > 0
    fewer = digits - 1 if lone else digits
    return f"{_fixed(number, fewer)}{'°' if unit == 'deg' else f' {unit}'}"


def tow_speed(speed: float, shop: Shop) -> str:
    """ "1.03 m/s (2.0 kn)", "2.30 mph (2.0 kn)"."""
    return f"{spoken(speed, Measure.TOW_SPEED, shop)} ({speed / KNOT:.1f} kn)"


def tow_row(name: str, label: str, speed: Estimate | float, shop: Shop) -> Row:
    """A tow's speed as a row, with its knots."""
    found = row(name, label, speed, Measure.TOW_SPEED, shop)
    knots = (speed.value if isinstance(speed, Estimate) else speed) / KNOT
    return replace(found, shown=f"{found.shown} ({knots:.1f} kn)")


def words_row(name: str, label: str, words: str, *, standing: str = "") -> Row:
    """Words as a row."""
    return Row(name, label, words, "", None, None, words, standing)


def _fixed(number: float, digits: int) -> str:
    """A number to so many decimals; less than none rounds to tens and hundreds."""
    text = f"{round(number, digits):.{max(digits, 0)}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def _digits_for(spread: float, most: int) -> int:
    """Decimals worth showing when the half-width is `spread`: down to its first figure, two when that is a 1.

    Less than none for a spread of tens and more.
    """
    if spread <= 0.0 or not math.isfinite(spread):
        return most
    power = math.floor(math.log10(spread))
    leading = spread / 10.0**power
    return min(most, -power + (1 if leading < 2.0 else 0))


def spread_words(number: float, low: float, high: float, most: int) -> str:
    """ "12.4 ± 0.6" where the range is even, "3.1 (2.6 to 4.8)" where it leans."""
    half = 0.5 * (high - low)
    digits = _digits_for(half, most)
    if abs((high - number) - (number - low)) <= 0.25 * half + 1e-12:
        return f"{_fixed(number, digits)} ± {_fixed(max(half, 0.0), digits)}" if half > 0.0 else _fixed(number, most)
    return f"{_fixed(number, digits)} ({_fixed(low, digits)} to {_fixed(high, digits)})"
