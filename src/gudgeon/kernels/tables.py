"""The arrays that the kernels of a hinged chain read and write, and what stands in which column.

Frame of each piece: x forward, y to starboard, z down, origin at its front end. SI throughout. A table has a row for
each thing; a workspace and a state have a row for each quantity and a column for each lane.

State of a lane, in rows: place of the first piece's front end from the carriage (3, earth's axes, x the way it goes),
attitude quaternion of the first piece (4), joint angles, velocity of that front end through the water (3) and turning
(3) in the first piece's frame, joint rates. The angle of a joint is positive where the piece behind swings its rear to
port.
"""

from typing import Any, NamedTuple

import numpy as np

from gudgeon.kernels.lanes import LANES, part

Array = Any

ATTITUDE, ANGLES = 3, 7
"""Where the quaternion and the joint angles begin among a state's rows; the velocities begin at ANGLES + joints."""


class Tables(NamedTuple):
    """A chain as rows of numbers.

    strips : (n, STRIP_COLUMNS)      pieces : (pieces, PIECE_COLUMNS)    joints : (pieces - 1, JOINT_COLUMNS)
    points : (n, POINT_COLUMNS)      plates : (n, PLATE_COLUMNS)         water  : (WATER_COLUMNS,)
    spans  : (3, pieces + 1) int     first strip, point and plate of each piece, and one past the last of all
    free   : (6 + joints,)           1 for a motion that may change, 0 for one that may not
    """

    strips: Array
    pieces: Array
    joints: Array
    points: Array
    plates: Array
    water: Array
    spans: Array
    free: Array


OF_STRIPS, OF_POINTS, OF_PLATES = range(3)
"""Rows of `Tables.spans`."""

(PLACE, AXIS, REAR_PLACE, REAR_AXIS, SWAY, HEAVE, SWAY_WHOLE, HEAVE_WHOLE, SWAY_CHANGE, HEAVE_CHANGE, ROLL_CHANGE,
 DEPTH, SIDEWAYS, UPRIGHT, SKIN, STRIP_COLUMNS) = range(16)  # fmt: skip
"""Of a strip: x and z of its middle and of its rear edge; added mass per length, and that times the length; change of
added mass and roll inertia from its front edge to its rear, what is not won back left out; depth; half the water's
density times drag coefficient times area, of flow across in y, across in z, and of friction."""

(LENGTH, MASS, NET_WEIGHT, SURGE, REAR_DRAG,
 FRONT_PLACE, FRONT_AXIS, FRONT_SWAY, FRONT_HEAVE, FRONT_ROLL,
 END_AXIS, END_SWAY, END_HEAVE, END_ROLL,
 CENTRE, LIFTED, INERTIA, WHOLE, PIECE_COLUMNS) = (*range(15), 17, 20, 26, 62)  # fmt: skip
"""Of a piece: length; mass; weight less buoyancy; added mass along x; half the density times drag area of the rear end;
x, z, added mass in y and z and added roll inertia of its front edge, then of its rear edge the same less x; centre of
mass (3); weight times its place less buoyancy times its own (3); inertia about the origin (xx, yy, zz, xy, xz, yz);
inertia of body and water together (6 x 6)."""

(HINGE, MOST_PORT, MOST_STARBOARD, STOP_STIFFNESS, STOP_DAMPING, STIFFNESS, DAMPING, FRICTION, REATTACHMENT, CARRY_OVER,
 CARRY_PLACE, REST_PLACE, JOINT_COLUMNS) = (0, *range(3, 15))  # fmt: skip
"""Of a joint: its place on the piece ahead (3); furthest angles; stiffness and damping of its stops, of its spring; dry
friction; shares that re-attach and that act on the piece ahead; x where that acts there, and the rest on the piece
behind."""

POINT_PLACE, POINT_DRAG, POINT_COLUMNS = 0, 3, 4
"""Of a point: its place (3); half the density times its drag area."""

(PLATE_PLACE, PLATE_NORMAL, PLATE_CHORD, PLATE_AREA, PLATE_POTENTIAL, PLATE_EDGE, PLATE_MOST,
 PLATE_COLUMNS) = 0, 3, 6, 9, 10, 11, 12, 13  # fmt: skip
"""Of a plate: its middle (3), unit normal (3), chord from front edge to rear (3); half the density times its area;
coefficients of its normal force."""

(SPEED, SUCTION, STALL, LATERAL, EYE, LINE_LENGTH, LINE_STIFFNESS, LINE_DAMPING,
 BROADSIDE, WATER_COLUMNS) = (0, 1, 2, 3, 4, 7, 8, 9, 10, 11)  # fmt: skip
"""Carriage's speed; share of leading-edge suction; squared tangent of the stalling incidence; share of friction that
acts sideways; eye on the first piece (3); line's length, stiffness and damping; share of the ideal moment that turns a
section broadside."""


MOST_PIECES = 8
"""A workspace has room for so many."""

(TWIST, BIAS, BEND, COURSE, ORIGIN, DOWN, WRENCH, BEHIND, LINE, FORCE, MATRIX,
 WORK_ROWS) = (0, 48, 96, 112, 128, 152, 176, 224, 266, 276, 289, 458)  # fmt: skip
"""Where each part of a workspace (WORK_ROWS, LANES) begins. Of each piece: velocity of its origin and turning (6),
their rates when nothing accelerates (6), cosine and sine of the joint ahead (2) and of the turn from the first piece
(2), origin in the first piece's frame (3), earth's down (3), force and moment about the origin (6). Then inertia and
wrench of all behind a joint (36 and 6); the line (10); force, and velocities once it is solved for (13); mass matrix,
lower half, row after row (13 by 13)."""

LINE_PULL, LINE_RATE, LINE_HOLD, LINE_EARLIER = range(LINE + 6, LINE + 10)
"""After the six of where the line pulls: its pull, rate of lengthening, whether it pulls, lengthening one stage ago."""


@part
def workspace() -> Array:
    """Room for the sums over a chain."""
    return np.zeros((WORK_ROWS, LANES))
