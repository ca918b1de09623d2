"""What the towed model rests on beside geometry: every coefficient of it, in one table, with how far each is known."""

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from gudgeon.errors import OutsideSource
from gudgeon.library.drag import Coefficient, coefficient_of
from gudgeon.library.names import nearest_names
from gudgeon.library.source import Row, Source, table
from gudgeon.units import Reading

_NONE: Mapping[str, Reading] = MappingProxyType({})
_MAKER = Source("the design", "[coefficients]", "given by its maker")


def towing_coefficients(own: Mapping[str, Reading] = _NONE) -> Mapping[str, Coefficient]:
    """Every coefficient of the towed model by its name, read-only; the maker's own in place of the table's.

    own     : name -> [SI] as its maker has it; without a spread it is as unsure as the table's, within what can be
    returns : name -> value, low, high in the unit told, SI
    raises  : OutsideSource for a name that is not in the table, with the nearest, or a value that cannot be
    """
    rows = {row["name"]: row for row in table("towing")}
    for name in own:
        if name not in rows:
            near = ", ".join(nearest_names(name, {key: (key.replace("_", " "),) for key in rows}))
            raise OutsideSource(f"no coefficient '{name}' is known; nearest in spelling: {near}")
    return MappingProxyType({name: _owned(row, own[name]) if name in own else coefficient_of(row)
                             for name, row in rows.items()})  # fmt: skip


def limits(name: str) -> tuple[float, float]:
    """Least and most [SI] that a coefficient can be.

    name   : as in the table, exactly
    raises : KeyError
    """
    row = {row["name"]: row for row in table("towing")}[name]
    return float(row["least"]), float(row["most"])


def _owned(row: Row, reading: Reading) -> Coefficient:
    """A row with the maker's value in it."""
    usual = coefficient_of(row)
    least, most = float(row["least"]), float(row["most"])
    if not least <= reading.value <= most:
        unit = "" if usual.unit == "1" else f" {usual.unit}"
        raise OutsideSource(f"{usual.name} of {reading.value:g}{unit} cannot be: it is {least:g} to {most:g}")
    below, above = usual.value - usual.low, usual.high - usual.value
    if reading.spread is not None:
        below = above = reading.spread
    low, high = max(reading.value - below, least), min(reading.value + above, most)
    return replace(usual, value=reading.value, low=low, high=high, standing="own", source=_MAKER)
