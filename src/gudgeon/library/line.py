"""Fishing line by number and by class."""

import math

from gudgeon.errors import OutsideSource
from gudgeon.library.source import table
from gudgeon.units import STANDARD_GRAVITY, Length


def line_diameter(number: float) -> Length:
    """Diameter of a line of one number: 0.165 mm times the root of the number, not times the number.

    number  : 0.1 to 50
    returns : [m]
    raises  : OutsideSource
    source  : the line-number convention as public charts print it
    """
    if not 0.1 <= number <= 50.0:
        raise OutsideSource(f"line number {number:g}: the charts go from 0.1 to 50; give its diameter")
    return 0.165e-3 * math.sqrt(number)


def line_class_force(class_kg: float) -> float:
    """The pull that a line of one class must break below, wet.

    class_kg : [kg] the class as it is called: 1, 2, 3, 4, 6, 8, 10, 15, 24, 37, 60
    returns  : [N]
    raises   : OutsideSource
    source   : IGFA line classes
    """
    classes = [float(row["class_kg"]) for row in table("lines")]
    if class_kg not in classes:
        known = ", ".join(f"{one:g}" for one in classes)
        raise OutsideSource(f"there is no line class of {class_kg:g} kg; there are {known}")
    return class_kg * STANDARD_GRAVITY
