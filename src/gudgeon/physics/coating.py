"""What a coat on the outside weighs, displaces and pulls down."""

from dataclasses import dataclass

from gudgeon.units import Area, Density, Length, Mass, Volume


@dataclass(frozen=True)
class CoatFilm:
    """A dry film over an area.

    mass   : [kg]
    volume : [m3] what it adds to the body's displacement
    """

    mass: Mass
    volume: Volume

    def net_sink(self, water_density: Density) -> Mass:
        """What the film pulls down under water of this density [kg/m3]: its mass less the water it displaces [kg]."""
        return self.mass - water_density * self.volume


def coat_film(area: Area, thickness: Length, density: Density) -> CoatFilm:
    """A film thin beside the body: area times thickness.

    area      : [m2] of the body under it
    thickness : [m] dry, of all coats together
    density   : [kg/m3] dry
    source    : geometry; the film's outer area is taken for its inner one
    """
    volume = area * thickness
    return CoatFilm(mass=density * volume, volume=volume)


def coat_mass(area: Area, thickness: Length, density: Density) -> Mass:
    """Mass [kg] of a film over an area [m2], thickness [m] thin beside the body, density [kg/m3]."""
    return coat_film(area, thickness, density).mass


def coverage(volume: Volume, thickness: Length) -> Area:
    """Area [m2] that a volume [m3] of film covers at one thickness [m]."""
    return volume / thickness
