"""A chain written out as the rows of numbers that the kernels read."""

import math

import numpy as np
from numpy.typing import NDArray

from gudgeon.errors import NoAnswer
from gudgeon.kernels import tables
from gudgeon.kernels.tables import Tables
from gudgeon.physics.chain import Array, Chain, Pieces, Strips

REACH = 0.31
"""[1] how far ahead of a joint, in depths of the section there, the middle of the load lies that is carried over.

Water feels a bend before it comes to it, and after. A lifting surface bent across its middle, computed for this
purpose, has half of the bend's load ahead of the bend and half behind it, each this far from it on the mean;
tests/physics has it. (Round about a body that sheds nothing it would be 0.59, by the added mass of a slender cylinder
along a wave.) That half is carried over bears out the 0.3 to 0.5 that were fitted to the flow solution. What is left
behind lies so far behind as keeps the middle of the whole at the joint, where slender bodies have it.
"""


def chain_tables(chain: Chain, speed: float, free: Array | None = None) -> Tables:
    """A chain's tables.

    speed : [m/s] of the carriage
    free  : (6 + joints,) 1 for a motion that may change, 0 for one that may not; all may when left out
    raises : NoAnswer for more pieces than the kernels have room for
    """
    count, most = len(chain.pieces.length), tables.MOST_PIECES
    if count > most:
        raise NoAnswer(f"{count} pieces: a lure of up to {most} can be towed, a soft fin counted")
    strips = chain.strips
    points = np.argsort(chain.points.piece, kind="stable")
    plates = np.argsort(chain.plates.piece, kind="stable")
    ends = np.arange(count + 1)
    spans = np.stack([strips.first, np.searchsorted(chain.points.piece[points], ends),
                      np.searchsorted(chain.plates.piece[plates], ends)])  # fmt: skip
    motions = 5 + count
    return Tables(
        strips=_strip_rows(chain), pieces=_piece_rows(chain), joints=_joint_rows(chain),
        points=_point_rows(chain)[points], plates=_plate_rows(chain)[plates], water=_water_row(chain, speed),
        spans=spans.astype(np.int64), free=np.ones(motions) if free is None else np.asarray(free, dtype=float),
    )  # fmt: skip


def _piece_of(strips: Strips) -> NDArray[np.int64]:
    """Which piece each strip belongs to."""
    return np.asarray(np.repeat(np.arange(len(strips.first) - 1), np.diff(strips.first)))


def _strip_rows(chain: Chain) -> Array:
    strips = chain.strips
    front = np.arange(len(strips.place)) + _piece_of(strips)
    rows = np.zeros((len(strips.place), tables.STRIP_COLUMNS))
    half = 0.5 * chain.density * strips.length
    wide, upright = half * strips.depth, half * strips.width

    def change(at_edges: Array) -> Array:
        """What an edge's mass becomes at the next, less what of a loss is not won back."""
        found = at_edges[front + 1] - at_edges[front]
        return np.asarray(np.where(found > 0.0, found, strips.recovery * found))

    for column, values in {
        tables.PLACE: strips.place, tables.AXIS: strips.height_of_axis,
        tables.REAR_PLACE: strips.edge_place[front + 1], tables.REAR_AXIS: strips.edge_height_of_axis[front + 1],
        tables.SWAY: strips.sway_mass, tables.HEAVE: strips.heave_mass,
        tables.SWAY_WHOLE: strips.sway_mass * strips.length, tables.HEAVE_WHOLE: strips.heave_mass * strips.length,
        tables.SWAY_CHANGE: change(strips.edge_sway_mass), tables.HEAVE_CHANGE: change(strips.edge_heave_mass),
        tables.ROLL_CHANGE: change(strips.edge_roll_inertia), tables.DEPTH: strips.depth,
        tables.SIDEWAYS: wide * strips.sway_drag, tables.UPRIGHT: upright * strips.heave_drag,
        tables.SKIN: half * strips.friction * strips.perimeter,
    }.items():  # fmt: skip
        rows[:, column] = values
    return rows


def _piece_rows(chain: Chain) -> Array:
    pieces, strips = chain.pieces, chain.strips
    count = len(pieces.length)
    front = strips.first[:-1] + np.arange(count)
    rear = strips.first[1:] + np.arange(count)
    rows = np.zeros((count, tables.PIECE_COLUMNS))
    lift = chain.density * pieces.volume
    for column, values in {
        tables.LENGTH: pieces.length, tables.MASS: pieces.mass, tables.NET_WEIGHT: chain.gravity * (pieces.mass - lift),
        tables.SURGE: pieces.surge_mass, tables.REAR_DRAG: 0.5 * chain.density * pieces.base_drag_area,
        tables.FRONT_PLACE: strips.edge_place[front], tables.FRONT_AXIS: strips.edge_height_of_axis[front],
        tables.FRONT_SWAY: strips.edge_sway_mass[front], tables.FRONT_HEAVE: strips.edge_heave_mass[front],
        tables.FRONT_ROLL: strips.edge_roll_inertia[front], tables.END_AXIS: strips.edge_height_of_axis[rear],
        tables.END_SWAY: strips.edge_sway_mass[rear], tables.END_HEAVE: strips.edge_heave_mass[rear],
        tables.END_ROLL: strips.edge_roll_inertia[rear],
    }.items():  # fmt: skip
        rows[:, column] = values
    rows[:, tables.CENTRE : tables.CENTRE + 3] = pieces.centre
    rows[:, tables.LIFTED : tables.LIFTED + 3] = chain.gravity * (
        pieces.mass[:, None] * pieces.centre - lift[:, None] * pieces.buoyancy_centre)  # fmt: skip
    bodies = [body_inertia(pieces, piece) for piece in range(count)]
    for piece, body in enumerate(bodies):
        about = body[3:, 3:]
        rows[piece, tables.INERTIA : tables.WHOLE] = (*np.diag(about), about[0, 1], about[0, 2], about[1, 2])
        rows[piece, tables.WHOLE :] = (body + water_inertia(chain, piece)).ravel()
    return rows


def body_inertia(pieces: Pieces, piece: int) -> Array:
    """Inertia (6, 6) of a piece without the water about its origin: force and moment of acceleration and turning."""
    mass = float(pieces.mass[piece])
    x, y, z = pieces.centre[piece]
    lever = np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    return np.block([[mass * np.eye(3), -mass * lever],
                     [mass * lever, pieces.inertia[piece] - mass * lever @ lever]])  # fmt: skip


def water_inertia(chain: Chain, piece: int) -> Array:
    """Inertia (6, 6) of the water that moves with a piece, about its origin: its strips', each with its own length."""
    strips, found = chain.strips, np.zeros((6, 6))
    for strip in range(strips.first[piece], strips.first[piece + 1]):
        x, z, length = strips.place[strip], strips.height_of_axis[strip], strips.length[strip]
        sway, heave = np.array([0.0, 1.0, 0.0, -z, 0.0, x]), np.array([0.0, 0.0, 1.0, 0.0, -x, 0.0])
        found += length * (strips.sway_mass[strip] * np.outer(sway, sway)
                           + strips.heave_mass[strip] * np.outer(heave, heave))  # fmt: skip
        found[3, 3] += length * strips.roll_inertia[strip]
        found[5, 5] += strips.sway_mass[strip] * length**3 / 12.0
        found[4, 4] += strips.heave_mass[strip] * length**3 / 12.0
    found[0, 0] += chain.pieces.surge_mass[piece]
    return found


def spread_places(chain: Chain, joint: int) -> tuple[float, float]:
    """x [m] of the middle of the load that a joint carries over, on the piece ahead; of the rest, on the piece behind.

    What is carried over dies away forward over the piece. The rest is no farther back than the piece's middle.
    """
    strips, lengths = chain.strips, chain.pieces.length
    ahead = float(lengths[joint])
    reach = max(REACH * float(strips.depth[strips.first[joint + 1] - 1]), 1e-9)
    held_in = ahead / reach
    reach -= ahead / math.expm1(held_in) if held_in < 50.0 else 0.0
    share = float(chain.joints.carry_over[joint])
    most = 0.5 * float(lengths[joint + 1])
    back = min(reach * share / (1.0 - share), most) if share < 1.0 else most
    return reach - ahead, float(strips.edge_place[strips.first[joint + 1] + joint + 1]) - back


def _joint_rows(chain: Chain) -> Array:
    joints = chain.joints
    count = len(joints.friction)
    places = np.array([spread_places(chain, joint) for joint in range(count)]).reshape(-1, 2)
    rows = np.zeros((count, tables.JOINT_COLUMNS))
    rows[:, tables.HINGE : tables.HINGE + 3] = joints.place
    for column, values in {
        tables.MOST_PORT: joints.most_left, tables.MOST_STARBOARD: joints.most_right,
        tables.STOP_STIFFNESS: joints.stop_stiffness, tables.STOP_DAMPING: joints.stop_damping,
        tables.STIFFNESS: joints.stiffness, tables.DAMPING: joints.damping, tables.FRICTION: joints.friction,
        tables.REATTACHMENT: joints.reattachment, tables.CARRY_OVER: joints.carry_over,
        tables.CARRY_PLACE: places[:, 0], tables.REST_PLACE: places[:, 1],
    }.items():  # fmt: skip
        rows[:, column] = values
    return rows


def _point_rows(chain: Chain) -> Array:
    rows = np.zeros((len(chain.points.piece), tables.POINT_COLUMNS))
    rows[:, : tables.POINT_DRAG] = chain.points.place
    rows[:, tables.POINT_DRAG] = 0.5 * chain.density * chain.points.drag_area
    return rows


def _plate_rows(chain: Chain) -> Array:
    plates = chain.plates
    rows = np.zeros((len(plates.piece), tables.PLATE_COLUMNS))
    for column, values in {tables.PLATE_PLACE: plates.place, tables.PLATE_NORMAL: plates.normal,
                           tables.PLATE_CHORD: plates.chord}.items():  # fmt: skip
        rows[:, column : column + 3] = values
    for column, values in {
        tables.PLATE_AREA: 0.5 * chain.density * plates.area, tables.PLATE_POTENTIAL: plates.potential_slope,
        tables.PLATE_EDGE: plates.edge_slope, tables.PLATE_MOST: plates.most_normal,
    }.items():  # fmt: skip
        rows[:, column] = values
    return rows


def _water_row(chain: Chain, speed: float) -> Array:
    row = np.zeros(tables.WATER_COLUMNS)
    row[[tables.SPEED, tables.SUCTION, tables.STALL, tables.LATERAL, tables.BROADSIDE]] = (
        speed, chain.suction, math.tan(chain.stall) ** 2, chain.lateral_friction, chain.broadside)  # fmt: skip
    row[tables.EYE : tables.EYE + 3] = chain.line.eye
    row[[tables.LINE_LENGTH, tables.LINE_STIFFNESS, tables.LINE_DAMPING]] = (
        chain.line.length, chain.line.stiffness, chain.line.damping)  # fmt: skip
    return row
