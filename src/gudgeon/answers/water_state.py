"""The water a design names, with what its thermometer and salinity may be off by."""

from gudgeon.design.model import Water
from gudgeon.library.water import BRACKISH, FRESH, SEA, water_density
from gudgeon.physics.lure import WaterState
from gudgeon.units import Reading, Temperature, celsius

_COLDEST: Temperature = 273.15
_FRESH_SALT = 0.2  # g/kg: lakes and taps carry up to this; common practice, no source


def water_state(water: Water, warmth: float, salt: float) -> WaterState:
    """The water of a design.

    warmth, salt : [K], [g/kg] spreads for what the maker gave without one
    """
    salinity = salinity_of(water)
    unsure = salinity.spread_or(_FRESH_SALT if water.kind == "fresh" else salt)
    return water_at(water.temperature, Reading(salinity.value, unsure), warmth, water.kind)


def salinity_of(water: Water) -> Reading:
    """Its salt [g/kg]: as told, else the usual of its kind."""
    usual = {"fresh": FRESH, "brackish": BRACKISH, "sea": SEA}[water.kind]
    return Reading(usual) if water.salinity is None else water.salinity


def water_at(temperature: Reading, salinity: Reading, warmth: float, kind: str = "") -> WaterState:
    """Water of a temperature [K] and salinity [g/kg]; `warmth` [K] is the thermometer's spread when it has none."""
    density = water_density(temperature.value, salinity.value)
    spread = temperature.spread_or(warmth)
    warmer, colder = temperature.value + spread, max(temperature.value - spread, _COLDEST)
    by_warmth = 0.5 * (water_density(warmer, salinity.value) - water_density(colder, salinity.value))
    unsure = salinity.spread_or(_FRESH_SALT)
    by_salt = water_density(temperature.value, salinity.value + unsure) - density
    salty = "" if salinity.value < 0.5 else f", {salinity.value:g} g/kg"
    words = f"{kind or ('fresh' if salinity.value < 0.5 else 'salt')}, {celsius(temperature.value):.3g} C{salty}"
    return WaterState(density, {"water temperature": by_warmth, "water salinity": by_salt}, words)
