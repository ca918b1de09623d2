"""A ballast bore: how deep it must be for its ballast, where that then sits, and the wood it takes away."""

import math
from dataclasses import dataclass

from gudgeon.physics.mass import Place


@dataclass(frozen=True)
class Pocket:
    """A bore that holds ballast, closed by a plug flush with the skin.

    name            : the maker's
    segment         : counted from 0 at the nose
    mouth           : (3,) [m] where the bit enters the wood
    inward          : (3,) unit vector the bit travels along
    bore            : [m] diameter
    room            : [m] deepest the bore may go, wall left over
    plug            : [m] filler above the ballast
    ballast_density : [kg/m3]
    plug_density    : [kg/m3]
    drilled         : [m] depth as drilled; None when it is bored to suit
    packing         : share of the ballast's length that is ballast: 1 when poured or hammered solid
    """

    name: str
    segment: int
    mouth: Place
    inward: Place
    bore: float
    room: float
    plug: float
    ballast_density: float
    plug_density: float
    drilled: float | None = None
    packing: float = 1.0

    @property
    def area(self) -> float:
        """[m2] of the bore."""
        return math.pi / 4.0 * self.bore**2

    @property
    def capacity(self) -> float:
        """[kg] of solid ballast it holds under its plug."""
        depth = self.room if self.drilled is None else min(self.drilled, self.room)
        return max(0.0, depth - self.plug) * self.area * self.ballast_density * self.packing


@dataclass(frozen=True)
class Fill:
    """A pocket with ballast in it.

    depth         : [m] of the bore, from the skin
    length        : [m] of the ballast, gaps between shot included
    mass          : [kg] ballast
    place         : (3,) [m] centre of the ballast
    removed       : [m3] wood the bore takes away
    removed_place : (3,) [m]
    plug_mass     : [kg] filler above the ballast and between shot
    plug_place    : (3,) [m]
    """

    depth: float
    length: float
    mass: float
    place: Place
    removed: float
    removed_place: Place
    plug_mass: float
    plug_place: Place


def fill(pocket: Pocket, mass: float) -> Fill:
    """The bore for `mass` [kg] of ballast, pushed to its inner end; no bore at all for none, unless drilled."""
    solid = mass / (pocket.ballast_density * pocket.area)
    length = solid / pocket.packing
    bored = length + pocket.plug if mass > 0.0 else 0.0
    depth = bored if pocket.drilled is None else max(pocket.drilled, bored)
    above, between = depth - length, length - solid
    filler = above + between
    middle = (above * 0.5 * above + between * (depth - 0.5 * length)) / filler if filler > 0.0 else 0.0
    return Fill(
        depth=depth,
        length=length,
        mass=mass,
        place=_along(pocket, depth - 0.5 * length),
        removed=depth * pocket.area,
        removed_place=_along(pocket, 0.5 * depth),
        plug_mass=filler * pocket.area * pocket.plug_density,
        plug_place=_along(pocket, middle),
    )


def shot_packing(diameter: float, bore: float) -> float:
    """Share of a bore's length that shot fills.

    diameter, bore : [m]
    returns        : 2/3 (d/D)^2 in single file, by geometry; 0.6 for shot less than half the bore (random packing of
                     spheres is 0.64 at best in the open and less along a wall: textbook value, from memory)
    """
    return 2.0 / 3.0 * (diameter / bore) ** 2 if diameter > 0.5 * bore else 0.6


def _along(pocket: Pocket, distance: float) -> Place:
    (x, y, z), (along, across, up) = pocket.mouth, pocket.inward
    return x + distance * along, y + distance * across, z + distance * up
