"""A lure known from a scale and a jug: its blank, what goes on it, and the water it is for. No drawing."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from gudgeon.answers.known import Known, Numbers
from gudgeon.design.model import Uncertainty
from gudgeon.errors import Fault, Refusal
from gudgeon.library.drag import coefficient
from gudgeon.library.hooks import hook_mass
from gudgeon.library.metals import material
from gudgeon.library.water import FRESH, SEA, water_density
from gudgeon.library.woods import LEAST_DENSE_WOOD, MOST_DENSE_WOOD, species, wood_density
from gudgeon.physics.coating import coat_mass
from gudgeon.units import ICE_POINT, Reading, celsius

BLANK = "blank weight"
JUG = "water the blank displaces"
WOOD = "wood density"
WATER = "water density"
SALT_ROOM = 0.2  # g/kg that lake or tap water may hold
WEIGH_FINER = "weigh the {} on a scale that reads 0.01 g"
FILM_AREA = 0.10  # half-width of a body's area judged by length and depth
FINE_SCALE = 2e-5  # kg, half-width of such a scale


@dataclass(frozen=True)
class Stuff:
    """A material by name; density and spread [kg/m3]."""

    name: str
    density: float
    spread: float = 0.0


@dataclass(frozen=True)
class BenchWater:
    """Water by what a thermometer and a salinity meter say.

    temperature : [K]
    salinity    : [g/kg]
    """

    temperature: Reading
    salinity: Reading

    @property
    def density(self) -> float:
        """[kg/m3]"""
        return water_density(self.temperature.value, self.salinity.value)

    @property
    def words(self) -> str:
        """ "fresh, 20 C", "salt 35 g/kg, 20 C"."""
        degrees = f"{celsius(self.temperature.value):.3g} C"
        salt = self.salinity.value
        return f"fresh, {degrees}" if salt < 0.5 else f"salt {salt:.3g} g/kg, {degrees}"

    def known(self, name: str = WATER) -> Known:
        """Its density, with what thermometer and salt may do to it."""
        rules = Uncertainty()
        warm, salt = self.temperature.value, self.salinity.value
        warm_step = -0.5 if warm > ICE_POINT + 20.0 else 0.5  # to stay inside the source's range
        salt_step = -0.5 if salt > 1.0 else 0.5
        per_kelvin = (water_density(warm + warm_step, salt) - self.density) / warm_step
        per_salt = (water_density(warm, salt + salt_step) - self.density) / salt_step
        by_warmth = per_kelvin * self.temperature.spread_or(rules.temperature)
        by_salt = per_salt * self.salinity.spread_or(rules.salinity if salt > 0.5 else SALT_ROOM)
        spread = (by_warmth**2 + by_salt**2) ** 0.5
        better = "measure the water's salinity" if abs(by_salt) > abs(by_warmth) else "measure the water's temperature"
        return Known(name, self.density, spread, better, 0.2 * spread)


@dataclass(frozen=True)
class BenchPart:
    """One thing that goes on or in after the blank was weighed.

    weight : [kg]
    buried : True when it sits in a hole of its own size, cut after the weighing; False when it displaces water
    soaked : True for what the wood takes up: weight, and no room
    better : the measurement that would narrow it
    """

    name: str
    weight: Reading
    stuff: Stuff
    buried: bool = False
    soaked: bool = False
    better: str = WEIGH_FINER


@dataclass(frozen=True)
class BenchLure:
    """Everything the maker said of one lure.

    blank     : [kg] shaped, before any hole was drilled
    displaced : [kg] of jug water by the blank, from a jug on the scale
    density   : [kg/m3] of its wood; one of displaced and density is given
    by_table  : True when the density is a table's
    parts     : all but the ballast
    water     : the water it is for
    jug       : the water in the jug
    """

    blank: Reading
    displaced: Reading | None
    density: Reading | None
    by_table: bool
    parts: tuple[BenchPart, ...]
    water: BenchWater
    jug: BenchWater

    def knowns(self) -> tuple[Known, ...]:
        """All that goes into its sums, with spreads: as given, or by how it was measured."""
        rules = Uncertainty()
        found = [_scaled(BLANK, "blank", self.blank, rules), self.water.known()]
        if self.displaced is not None:
            spread = self.displaced.spread_or(rules.dunk * self.displaced.value)
            better = "repeat the jug reading three times on a scale that reads 0.01 g"
            found.append(Known(JUG, self.displaced.value, spread, better, spread / 3.0))
        elif self.density is not None:
            share = rules.species_density if self.by_table else rules.density
            spread = self.density.spread_or(share * self.density.value)
            better = "push the sealed blank just under in a jug on the scale and read the grams"
            found.append(Known(WOOD, self.density.value, spread, better, rules.dunk * self.density.value))
        found += [_part_known(part, rules) for part in self.parts]
        return tuple(found)

    def volume(self, numbers: Numbers) -> float:
        """[m3] of the blank."""
        if self.displaced is not None:
            return numbers[JUG] / self.jug.density
        return numbers[BLANK] / numbers[WOOD]

    def wood(self, numbers: Numbers) -> float:
        """[kg/m3] density of the blank's wood."""
        return numbers[BLANK] / self.volume(numbers)

    def mass(self, numbers: Numbers) -> float:
        """[kg] of all but the ballast, less the wood its holes take."""
        taken = sum(numbers[part.name] / part.stuff.density for part in self.parts if part.buried)
        return self.parts_total(numbers) - taken * self.wood(numbers)

    def parts_total(self, numbers: Numbers) -> float:
        """[kg] blank and parts as they lie on the scale."""
        return numbers[BLANK] + sum(numbers[part.name] for part in self.parts)

    def room(self, numbers: Numbers) -> float:
        """[m3] displaced by blank and parts."""
        outside = (part for part in self.parts if not part.buried and not part.soaked)
        return self.volume(numbers) + sum(numbers[part.name] / part.stuff.density for part in outside)

    def displaces(self, numbers: Numbers) -> float:
        """[kg] of the water it is for, by blank and parts."""
        return self.room(numbers) * numbers[WATER]

    def with_part(self, part: BenchPart) -> "BenchLure":
        """The same lure with one thing more."""
        return replace(self, parts=(*self.parts, part))


def _scaled(name: str, thing: str, weight: Reading, rules: Uncertainty) -> Known:
    return Known(name, weight.value, weight.spread_or(rules.scale), WEIGH_FINER.format(thing), FINE_SCALE)


def _part_known(part: BenchPart, rules: Uncertainty) -> Known:
    better = part.better.format(part.name)
    return Known(part.name, part.weight.value, part.weight.spread_or(rules.scale), better, FINE_SCALE)


def stuff(name: str) -> Stuff:
    """A material from the table; raises OutsideSource with the nearest names."""
    found = material(name)
    return Stuff(found.name.lower(), found.density, found.spread)


def table_hooks(size: str, count: int) -> Reading:
    """[kg] of `count` trebles by size, from the table; raises OutsideSource with the sizes there are."""
    rules = Uncertainty()
    mass = count * hook_mass(size).mass
    return Reading(mass, rules.table_hook * mass)


def table_wood(name: str, moisture: Reading | None = None) -> Reading:
    """[kg/m3] of a wood by species; raises OutsideSource with the nearest names."""
    share = 0.12 if moisture is None else moisture.value
    value = wood_density(species(name), share).value
    return Reading(value, Uncertainty().species_density * value)


def lake(temperature: Reading) -> BenchWater:
    """Fresh water at a temperature [K]."""
    return BenchWater(temperature, Reading(FRESH))


def sea(temperature: Reading) -> BenchWater:
    """The open sea at a temperature [K]."""
    return BenchWater(temperature, Reading(SEA))


def fall_drag(given: Reading | None) -> Known:
    """The drag coefficient on the area seen from above: as timed, or the table's."""
    table = coefficient("fall_drag")
    better = "time one drop over 1 to 1.5 m (3 to 5 ft)"
    after = 2.0 * Uncertainty().timed_drop
    if given is not None:
        spread = given.spread_or(after * given.value)
        return Known("drag coefficient", given.value, spread, better, after * given.value)
    return Known("drag coefficient", table.value, 0.5 * (table.high - table.low), better, after * table.value)


def checked(lure: BenchLure) -> BenchLure:
    """The lure itself, when its numbers can be a lure's.

    raises : Refusal with every fault
    """
    faults: list[Fault] = []
    values = {known.name: known.value for known in lure.knowns()}
    if lure.blank.value <= 0.0:
        faults.append(Fault("--blank", "a blank weighs more than 0 g"))
    faults += _wood_faults(lure, values)
    if faults:
        raise Refusal("these numbers cannot be a lure", faults)
    return lure


def _wood_faults(lure: BenchLure, values: Mapping[str, float]) -> list[Fault]:
    if lure.displaced is not None and lure.displaced.value <= 0.0:
        return [Fault("--displaced", "a blank displaces more than 0 g of water")]
    wood = lure.wood(values)
    if LEAST_DENSE_WOOD <= wood <= MOST_DENSE_WOOD:
        return []
    place = "--density" if lure.displaced is None else "--blank, --displaced"
    lightest, heaviest = LEAST_DENSE_WOOD / 1000, MOST_DENSE_WOOD / 1000
    return [Fault(place, f"{wood / 1000:.3g} g/cm3 is no wood: the lightest is about {lightest:.2g}, the heaviest "
                         f"{heaviest:.2g}; check the unit and the decimal point")]  # fmt: skip


def film(thickness: Reading, area: Reading, coat: Stuff) -> Reading:
    """A coat's weight [kg] by its thickness [m] and the area [m2] it covers."""
    mass = coat_mass(area.value, thickness.value, coat.density)
    share = thickness.spread_or(Uncertainty().coat_thickness * thickness.value) / thickness.value
    by_area = area.spread_or(FILM_AREA * area.value) / area.value
    return Reading(mass, mass * math.hypot(share, by_area))
