"""A tail fin in the stream: stiff, and then part of the last piece, or so soft that it is a piece of its own."""

import math

import numpy as np

from gudgeon.design.hardware import Fin
from gudgeon.design.model import Design
from gudgeon.errors import OutsideSource
from gudgeon.library.elasticity import elasticity
from gudgeon.library.metals import material
from gudgeon.physics.carried import Carried
from gudgeon.physics.fin_section import UprightFin
from gudgeon.physics.hull import Hull
from gudgeon.physics.plate import fin_plate
from gudgeon.physics.plate_parts import plate_spread
from gudgeon.physics.spread import Array
from gudgeon.units import KNOT

FASTEST = 5.0 * KNOT  # m/s at which a fin must still stand straight to be called stiff
STANDS_STRAIGHT = math.radians(3.0)  # a fin that the water bends less, held askew, is stiff; our own choice
_ASKEW = 0.5  # rad it is held at for that, with a normal force of one and a half times the angle


def upright_fin(fin: Fin) -> UprightFin:
    """A drawn fin as a plate in the body's middle plane."""
    return UprightFin((fin.at, fin.height), fin_plate(length=fin.length, tall=fin.tall, fill=fin.fill), fin.thickness)


def root_stiffness(fin: Fin) -> float | None:
    """[N m/rad] of the spring at its root that a fin stands for; None for a stiff one.

    As its maker measured it; else four times E I over its length, with which a strip held at one end swings as far at
    its tip as a uniform load bends it: textbook beams. A stuff that the table of soft stuffs has not is stiff.
    """
    stiffness = fin.stiffness
    if stiffness is None:
        try:
            modulus = elasticity(material(fin.material).name).modulus
        except OutsideSource:
            return None
        stiffness = modulus * fin.fill * fin.tall * fin.thickness**3 / 3.0 / fin.length
    load = 0.5 * 1000.0 * FASTEST**2 * fin.fill * fin.tall * fin.length * 1.5 * _ASKEW
    return None if 0.5 * load * fin.length < stiffness * STANDS_STRAIGHT else stiffness


def bends(design: Design, hull: Hull) -> bool:
    """Whether the fin is a piece of its own: soft, and standing out behind the wood."""
    fin = design.fin
    return fin is not None and fin.at + fin.length > hull.stop + 1e-3 and root_stiffness(fin) is not None


def flat_spread(fin: Fin) -> Array:
    """(3, 3) [m2] second moments of the fin about its centre over its area, in the lure's frame."""
    spread = np.zeros((3, 3))
    spread[np.ix_([0, 2], [0, 2])] = plate_spread(fin_plate(length=fin.length, tall=fin.tall, fill=fin.fill))
    return spread


def parted(fin: Fin, mass: float, displaced: float) -> tuple[Carried, Carried]:
    """A fin as two things: what is in its slot, a point there, and what stands out, its centre half way along.

    mass, displaced : [kg] of the whole, [m3] of what stands out
    returns : together as the ledger has it
    """
    shown = fin.length * fin.tall * fin.fill
    share = shown / (shown + 0.5 * fin.set_in * fin.tall)
    root, out = (np.array([fin.at + aft, 0.0, fin.height]) for aft in (-0.5 * fin.set_in, 0.5 * fin.length))
    return (Carried((1.0 - share) * mass, root, np.zeros((3, 3)), 0.0, root),
            Carried(share * mass, out, share * mass * flat_spread(fin), displaced, out))  # fmt: skip
