"""How heavy and how runny water is, by temperature and salt.

A maker's "35 ppt" is taken as practical salinity, the number that a salinity meter and the tide tables give. Grams of
salt in a kilogram (absolute salinity) are 0.5 % more: 35 practical are 35.165 g/kg. At 35 this matters 0.13 kg/m3,
0.02 g on a lure of 150 g.
"""

import math

from gudgeon.errors import OutsideSource
from gudgeon.units import Density, Salinity, Temperature, celsius

FRESH: Salinity = 0.0
"""[g/kg] lake, river and tap water: up to 0.5. Common practice, no source."""
BRACKISH: Salinity = 7.0
"""[g/kg] the middle of a large brackish sea; bays and mouths go from 0.5 to 30. Common practice, no source."""
SEA: Salinity = 35.0
"""[g/kg] the open ocean; coasts go from 30 to 38. The standard of UNESCO Papers in Marine Science 44 (1983)."""

ABSOLUTE_PER_PRACTICAL = 35.16504 / 35.0
"""[1] g/kg of salt in one unit of practical salinity. TEOS-10 manual (IOC, 2010), section 2.4."""


def fresh_water_density(temperature: Temperature) -> Density:
    """Density of air-free fresh water at one atmosphere.

    temperature : [K] 273.15 to 313.15, the span of the source
    returns     : [kg/m3]
    raises      : OutsideSource
    source      : Tanaka et al., Metrologia 38 (2001) 301-309, formula on p. 305
    """
    t = _celsius_within_source(temperature)
    return 999.974950 * (1.0 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))


def sea_water_density(temperature: Temperature, salinity: Salinity) -> Density:
    """Density of salt water at one atmosphere: fresh water, and what the salt adds.

    temperature : [K] 273.15 to 313.15
    salinity    : [g/kg] practical, 0 to 42
    returns     : [kg/m3] joins fresh_water_density without a step; within 0.01 of TEOS-10 over the whole range
    raises      : OutsideSource
    source      : salt's part from Millero and Poisson, Deep-Sea Research 28A (1981) 625-629, as in UNESCO Technical
                  Papers in Marine Science 44 (1983), equation 13; fresh part from Tanaka et al. (2001)
    """
    t = 1.00024 * _celsius_within_source(temperature)  # the salt's part is written in the older scale of 1968
    _check_salinity(salinity)
    a = 0.824493 - 4.0899e-3 * t + 7.6438e-5 * t**2 - 8.2467e-7 * t**3 + 5.3875e-9 * t**4
    b = -5.72466e-3 + 1.0227e-4 * t - 1.6546e-6 * t**2
    return fresh_water_density(temperature) + a * salinity + b * math.pow(salinity, 1.5) + 4.8314e-4 * salinity**2


def water_density(temperature: Temperature, salinity: Salinity) -> Density:
    """Density of the water a lure swims in, fresh or salt.

    temperature : [K] 273.15 to 313.15
    salinity    : [g/kg] practical, 0 to 42; 0 is fresh
    returns     : [kg/m3]
    raises      : OutsideSource
    source      : as fresh_water_density and sea_water_density
    """
    return sea_water_density(temperature, salinity)


def fresh_water_viscosity(temperature: Temperature) -> float:
    """Dynamic viscosity of fresh water at one atmosphere.

    temperature : [K] 273.15 to 313.15
    returns     : [Pa s]
    raises      : OutsideSource
    source      : IAPWS SR6-08 (2011), liquid water at 0.1 MPa, equation for viscosity; coefficients from memory, within
                  0.003 % of IAPWS R12-08
    """
    _celsius_within_source(temperature)
    parts = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))
    return 1e-6 * sum(part * math.pow(temperature / 300.0, power) for part, power in parts)


def kinematic_viscosity(temperature: Temperature, salinity: Salinity) -> float:
    """Kinematic viscosity of water, fresh or salt.

    temperature : [K] 273.15 to 313.15
    salinity    : [g/kg] practical, 0 to 42
    returns     : [m2/s]
    raises      : OutsideSource
    source      : salt's factor from Sharqawy, Lienhard and Zubair, Desalination and Water Treatment 16 (2010) 354-380,
                  coefficients from memory; fresh part from IAPWS SR6-08 (2011)
    """
    t = _celsius_within_source(temperature)
    s = ABSOLUTE_PER_PRACTICAL * salinity / 1000.0  # kg/kg
    density = water_density(temperature, salinity)
    a = 1.541 + 1.998e-2 * t - 9.52e-5 * t**2
    b = 7.974 - 7.561e-2 * t + 4.724e-4 * t**2
    return fresh_water_viscosity(temperature) * (1.0 + a * s + b * s**2) / density


def _celsius_within_source(temperature: Temperature) -> float:
    """Degrees Celsius, 0 to 40; a hair outside, left by the sum that made kelvins of them, counts as inside."""
    t = celsius(temperature)
    if not -1e-9 <= t <= 40.0 + 1e-9:
        raise OutsideSource(f"water at {t:.1f} C: the source, Tanaka 2001, covers 0 to 40 C")
    return t


def _check_salinity(salinity: Salinity) -> None:
    if not 0.0 <= salinity <= 42.0:
        raise OutsideSource(f"water of {salinity:g} g/kg salt: the source, UNESCO 44, covers 0 to 42 g/kg")
