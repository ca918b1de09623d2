"""The load at which a part lets go: shanks in wood, wire, eyes, pins, plates. Floats in, newtons out.

Everything here is the mean of tests or a textbook's closed form. How far it may be off, and whether a lure's small
parts lie within what was tested, is for the caller to say.
"""

import math

from gudgeon.units import INCH, POUND, STANDARD_GRAVITY

POUND_FORCE = POUND * STANDARD_GRAVITY
PSI = POUND_FORCE / INCH**2

END_GRAIN = 0.75
"""Share of its side-grain hold that a screw has in end grain (Wood Handbook, FPL-GTR-190, p. 8-12)."""
WET_WOOD = (0.60, 0.65, 0.70)
"""Share of its dry hold that a shank has in soaked wood: least, usual, most; common practice, no source."""
TWO_STRANDS = 0.8
"""Share of two strands' strength that is left once they are twisted; common practice, from memory."""
PLASTIC_SECTION = 16.0 / (3.0 * math.pi)
"""How much more moment a round bar takes once it yields through, against first yield: d^3/6 over pi d^3/32."""
MISES = 1.0 / math.sqrt(3.0)
"""Shear strength over tensile strength of a ductile metal (von Mises)."""
BOND_SHARE = 0.5
"""Share of the wood's shear strength along the grain that a glued shank finds all round; from memory."""


def thread_withdrawal(specific_gravity: float, diameter: float, length: float) -> float:
    """Pull that draws a threaded shank out of side grain: 15700 G^2 D L in pounds and inches.

    specific_gravity : oven-dry weight on volume at 12 %
    diameter, length : [m] over the thread; of the thread in the wood
    returns          : [N] mean ultimate
    source           : Wood Handbook, FPL-GTR-190 (2010), eq. 8-10
    """
    return 15700.0 * PSI * specific_gravity**2 * diameter * length


def plain_withdrawal(specific_gravity: float, diameter: float, length: float) -> float:
    """Pull that draws a smooth, unglued shank out of side grain: 54.12 G^(5/2) D L in newtons and millimetres.

    specific_gravity : oven-dry weight on volume at 12 %
    diameter, length : [m]
    returns          : [N] mean ultimate of bright nails
    source           : Wood Handbook, FPL-GTR-190 (2010), eq. 8-1; the exponent from memory
    """
    return 54.12e6 * math.pow(specific_gravity, 2.5) * diameter * length


def screw_design_load(specific_gravity: float, diameter: float, length: float) -> float:
    """What a carpenter may hang on a wood screw in side grain: 2850 G^2 D per inch, in pounds.

    returns : [N] about 5.5 times below what draws it out
    source  : NDS, wood screws in withdrawal
    """
    return 2850.0 * PSI * specific_gravity**2 * diameter * length


def lag_design_load(specific_gravity: float, diameter: float, length: float) -> float:
    """What a carpenter may hang on a lag screw in side grain: 1800 G^(3/2) D^(3/4) per inch, in pounds.

    returns : [N]
    source  : NDS Table 12.2A; from memory
    """
    return 1800.0 * POUND_FORCE * math.pow(specific_gravity, 1.5) * math.pow(diameter / INCH, 0.75) * length / INCH


def nail_design_load(specific_gravity: float, diameter: float, length: float) -> float:
    """What a carpenter may hang on a nail in side grain: 1380 G^(5/2) D per inch, in pounds.

    returns : [N]
    source  : NDS Table 12.2C; from memory
    """
    return 1380.0 * PSI * math.pow(specific_gravity, 2.5) * diameter * length


def lateral_limit(coefficient: float, diameter: float) -> float:
    """Side pull at which a screw in side grain begins to give for good: K D^2.

    coefficient : [Pa] of the wood
    diameter    : [m] of the shank
    returns     : [N] proportional limit; it holds on far beyond
    source      : Wood Handbook, FPL-GTR-190 (2010), Table 8-4
    """
    return coefficient * diameter**2


def wood_shear(specific_gravity: float) -> float:
    """Shear strength of dry wood along the grain [Pa]: the lesser of 16.6 G^0.85 (softwoods) and 21.9 G^1.13 MPa.

    source : Wood Handbook, FPL-GTR-190 (2010), Table 5-11, at 12 %; from memory
    """
    return 1e6 * min(16.6 * math.pow(specific_gravity, 0.85), 21.9 * math.pow(specific_gravity, 1.13))


def bonded_withdrawal(specific_gravity: float, bore: float, length: float) -> float:
    """Pull that draws a shank glued in with epoxy: half the wood's shear strength over the wall of its bore.

    bore, length : [m] two wires' width for a twisted pair; glued length
    returns      : [N] the glue holds better than the wood round it
    source       : common practice for bonded-in rods; from memory
    """
    return BOND_SHARE * wood_shear(specific_gravity) * math.pi * bore * length


def bar_break(strength: float, diameter: float) -> float:
    """Pull [N] that breaks a straight round wire: strength [Pa] times its section; diameter [m]."""
    return strength * math.pi / 4.0 * diameter**2


def plastic_moment(strength: float, diameter: float) -> float:
    """Moment [N m] that bends a round bar through: strength d^3/6; strength [Pa], diameter [m]."""
    return strength * diameter**3 / 6.0


def eye_opening(strength: float, wire: float, radius: float) -> float:
    """Pull at which an eye bent from wire, its end not closed, begins to open.

    The pull runs from the loop's crown along the shank; half way round, the wire is a loop's radius off that line
    and bears the moment of pull times radius until it yields through.

    strength     : [Pa] at which the bent wire flows
    wire, radius : [m] diameter of the wire; of the loop, to the middle of the wire
    returns      : [N]
    source       : plastic hinge, any textbook of mechanics
    """
    return plastic_moment(strength, wire) / radius


def pin_shear(strength: float, diameter: float) -> float:
    """Pull that shears a pin at both sides of what it holds, by von Mises.

    strength : [Pa] in tension
    diameter : [m]
    returns  : [N]
    """
    return 2.0 * MISES * bar_break(strength, diameter)


def pin_first_yield(strength: float, diameter: float, span: float) -> float:
    """Pull in the middle of a pin's free span at which its skin first yields.

    strength       : [Pa] yield
    diameter, span : [m]
    returns        : [N] from sigma = 32 M / (pi d^3) and M = F L / 4, ends free to turn
    """
    return 4.0 / span * math.pi * strength * diameter**3 / 32.0


def pin_bent(strength: float, diameter: float, span: float) -> float:
    """Pull [N] in the middle of a pin's free span that bends it through: 1.70 times first yield."""
    return PLASTIC_SECTION * pin_first_yield(strength, diameter, span)


def plate_bearing(strength: float, diameter: float, thickness: float) -> float:
    """Pull at which a pin crushes its way into a plate: one and a half times the tensile strength on d t.

    strength            : [Pa] ultimate
    diameter, thickness : [m] of the pin, of the plate
    returns             : [N] for a hole one and a half diameters from the edge
    source              : handbook value for sheet; from memory
    """
    return 1.5 * strength * diameter * thickness


def tear_out(shear: float, cover: float, thickness: float) -> float:
    """Pull that tears a strip out ahead of a hole: two planes sheared through.

    shear            : [Pa] strength
    cover, thickness : [m] from the hole to the edge; of the plate, or the pin's length in wood
    returns          : [N]
    """
    return 2.0 * shear * cover * thickness


def net_section(strength: float, breadth: float, hole: float, thickness: float) -> float:
    """Pull [N] that parts a plate across its hole: strength [Pa] on what is left; breadth, hole, thickness [m]."""
    return strength * (breadth - hole) * thickness


def dowel_bearing(specific_gravity: float, diameter: float, length: float) -> float:
    """Pull at which a pin crushes the wood beside it: 16600 G^1.84 lbf/in2 on its width and length.

    diameter, length : [m] of the pin, under 1/4 in; of it in the wood
    returns          : [N]
    source           : NDS, dowel bearing under 1/4 in; from memory
    """
    return 16600.0 * PSI * math.pow(specific_gravity, 1.84) * diameter * length


def glued_slot(shear: float, breadth: float, depth: float) -> float:
    """Pull [N] that shears a plate or strap out of its slot: bond strength [Pa] on both faces, breadth by depth [m]."""
    return 2.0 * shear * breadth * depth
