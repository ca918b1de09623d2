"""A towed lure as a chain of rigid pieces cut in strips: what its motion rests on, nothing of how it was drawn.

Frame of every piece here and in the kernels: x forward, y to starboard, z down, origin at the piece's front end (the
nose of the first, the hinge of each that follows), so a piece of length L lies in -L <= x <= 0. It is the lure's frame
(x aft, y right, z up) turned half round about y: (x, y, z) there is (-x, y, -z) here, shifted to the origin.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Strips:
    """The pieces cut across into strips from nose to tail; the strips of piece i are first[i] to first[i + 1].

    A strip lies between two edges; piece i has one edge more than it has strips, so the edges of piece i begin at
    first[i] + i, and its last edge and the next one's first are two.

    first           : (pieces + 1,) int
    place           : (n,) [m] x of a strip's middle
    height_of_axis  : (n,) [m] z of the strip's middle
    length          : (n,) [m]
    depth, width    : (n,) [m] of the section, upright and across
    perimeter       : (n,) [m] wetted
    sway_mass, heave_mass : (n,) [kg/m] added mass per length, the mass scale in it
    roll_inertia    : (n,) [kg m] added roll inertia per length about the strip's middle
    sway_drag, heave_drag : (n,) cross-flow drag coefficients on depth and width
    recovery        : (n,) share of the momentum won back where the section shrinks
    friction        : (n,) friction coefficient on the wetted surface, form factor in it
    edge_place, edge_height_of_axis : (n + pieces,) [m]
    edge_sway_mass, edge_heave_mass, edge_roll_inertia : (n + pieces,) as above, at the edges
    """

    first: NDArray[np.int64]
    place: Array
    height_of_axis: Array
    length: Array
    depth: Array
    width: Array
    perimeter: Array
    sway_mass: Array
    heave_mass: Array
    roll_inertia: Array
    sway_drag: Array
    heave_drag: Array
    recovery: Array
    friction: Array
    edge_place: Array
    edge_height_of_axis: Array
    edge_sway_mass: Array
    edge_heave_mass: Array
    edge_roll_inertia: Array


@dataclass(frozen=True)
class Pieces:
    """The rigid bodies, from the nose. A flexible fin is a piece of its own.

    length          : (pieces,) [m] from its front end to its rear end
    mass            : (pieces,) [kg] with all it carries
    centre          : (pieces, 3) [m] of that mass
    inertia         : (pieces, 3, 3) [kg m2] about that centre
    volume          : (pieces,) [m3] of water displaced
    buoyancy_centre : (pieces, 3) [m]
    surge_mass      : (pieces,) [kg] added mass along x, acting at mid length
    base_drag_area  : (pieces,) [m2] drag coefficient times area of the blunt rear end
    """

    length: Array
    mass: Array
    centre: Array
    inertia: Array
    volume: Array
    buoyancy_centre: Array
    surge_mass: Array
    base_drag_area: Array


@dataclass(frozen=True)
class Joints:
    """The hinges: joint j lies between piece j and piece j + 1 and turns about z (a vertical pin).

    place           : (joints, 3) [m] in the frame of the piece ahead
    most_left, most_right : (joints,) [rad] how far the piece behind turns before wood meets wood; both positive
    stop_stiffness  : (joints,) [N m/rad]     stop_damping : (joints,) [N m s/rad]
    stiffness       : (joints,) [N m/rad] of a spring that straightens it: 0 but for a flexible fin
    damping         : (joints,) [N m s/rad]
    friction        : (joints,) [N m] dry
    reattachment    : (joints,) share of the momentum shed ahead that the piece behind takes up; 1 tight, 0 lost
    carry_over      : (joints,) share of the load at the step between the two that acts on the piece ahead
    """

    place: Array
    most_left: Array
    most_right: Array
    stop_stiffness: Array
    stop_damping: Array
    stiffness: Array
    damping: Array
    friction: Array
    reattachment: Array
    carry_over: Array


@dataclass(frozen=True)
class Points:
    """Things small enough that the water pulls at them as at a point: hooks, rings, eyes, joint hardware.

    piece : (n,) int    place : (n, 3) [m]    drag_area : (n,) [m2] drag coefficient times area, the same from all sides
    """

    piece: NDArray[np.int64]
    place: Array
    drag_area: Array


@dataclass(frozen=True)
class Plates:
    """Flat plates that lift: the lip in elements side by side.

    piece  : (n,) int    place : (n, 3) [m] middle of the element
    normal : (n, 3)      unit, to the side the water strikes: forward and up for a lip that dives
    chord  : (n, 3) [m]  from the leading edge to the trailing edge, for the travel of the load along it
    area   : (n,) [m2]
    potential_slope, edge_slope, most_normal : (n,) coefficients of the normal force, see lifting_plate
    """

    piece: NDArray[np.int64]
    place: Array
    normal: Array
    chord: Array
    area: Array
    potential_slope: Array
    edge_slope: Array
    most_normal: Array


@dataclass(frozen=True)
class TowLine:
    """The last stretch of line ahead of the lure, from a point that moves straight and level.

    eye       : (3,) [m] where it is tied, in the first piece's frame
    length    : [m]    stiffness : [N/m]    damping : [N s/m]
    """

    eye: Array
    length: float
    stiffness: float
    damping: float


@dataclass(frozen=True)
class Chain:
    """A towed lure in its water.

    suction    : share of the ideal leading-edge suction
    stall      : [rad] incidence at which the momentum flux is well weakened
    lateral_friction : share of the friction that acts sideways
    density    : [kg/m3] of the water    gravity : [m/s2]
    broadside  : share of the ideal moment by which flow across a deep section turns it broadside; 1 where it clings
    """

    pieces: Pieces
    strips: Strips
    joints: Joints
    points: Points
    plates: Plates
    line: TowLine
    suction: float
    stall: float
    lateral_friction: float
    density: float
    gravity: float
    broadside: float = 1.0
