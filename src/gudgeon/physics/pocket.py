"""A ballast bore: how deep it must be for its ballast, where that then sits, and the wood it takes away."""

import math
from dataclasses import dataclass

from gudgeon.physics.mass import Place

_TWO_ABREAST = 0.5 + 1e-9  # of the bore: so wide and no wider may two lie side by side


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
    """Share of a long bore that shot dropped into it fills; its ends come on top, see `shot_length`.

    diameter, bore : [m]
    returns        : for shot wider than half the bore by geometry, each ball resting on the one below and on the far
                     wall, 2/3 r^3 / sqrt(2 r - 1) with r = d / D, or on the one below that; for smaller shot
                     0.6 - 0.05 r - 0.415 r^2, which at half the bore is no more than two abreast can be, sqrt(2) / 3
    source         : Dixon, Canadian Journal of Chemical Engineering 66 (1988) 705-708, from memory; its 0.412 made
                     0.415, or half the bore would hold more than geometry has it
    """
    ratio = diameter / bore
    if ratio > _TWO_ABREAST:
        return 2.0 / 3.0 * ratio**3 / max(math.sqrt(2.0 * ratio - 1.0), 0.5 * ratio)
    return 0.6 - 0.05 * ratio - 0.415 * ratio**2


def shot_length(count: int, diameter: float, bore: float) -> float:
    """[m] of a bore that so many shot take: the first its own diameter, each further one its share; none for none."""
    if count == 0:
        return 0.0
    each = 2.0 / 3.0 * diameter**3 / bore**2 / shot_packing(diameter, bore)
    return diameter + (count - 1) * each


def _along(pocket: Pocket, distance: float) -> Place:
    (x, y, z), (along, across, up) = pocket.mouth, pocket.inward
    return x + distance * along, y + distance * across, z + distance * up
