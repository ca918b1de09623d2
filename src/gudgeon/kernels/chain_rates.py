"""How fast the state of a towed chain changes, and the same with what is stiff in it taken at the end of the step."""

from gudgeon.kernels.lanes import Lanes, least, load, most, part, root, select, store
from gudgeon.kernels.point_loads import plate_loads, point_loads, push_at
from gudgeon.kernels.rigid_chain import (
    Three,
    add,
    ahead_of,
    cross,
    down_of,
    gather,
    hold_still,
    move,
    solve,
    starboard_of,
    take_off_bias,
    three,
    triple,
)
from gudgeon.kernels.strip_loads import front_load, strip_loads
from gudgeon.kernels.tables import (
    ANGLES,
    ATTITUDE,
    CENTRE,
    DAMPING,
    DOWN,
    FORCE,
    FRICTION,
    INERTIA,
    LENGTH,
    LIFTED,
    LINE,
    LINE_DAMPING,
    LINE_EARLIER,
    LINE_HOLD,
    LINE_RATE,
    LINE_STIFFNESS,
    MASS,
    MATRIX,
    MOST_PORT,
    MOST_STARBOARD,
    NET_WEIGHT,
    REAR_DRAG,
    SPEED,
    STIFFNESS,
    STOP_DAMPING,
    STOP_STIFFNESS,
    SURGE,
    TWIST,
    WRENCH,
    Array,
    Tables,
)
from gudgeon.kernels.tow_line import pull_line

CREEP = 0.3
"""[rad/s] of turning at which dry friction has 0.7 of its full moment; it falls to nothing with the turning."""


@part
def gather_loads(tables: Tables, state: Array, work: Array) -> None:
    """Fill mass matrix and force from a state: what water, weight, the line and the pieces' own turning push with."""
    move(tables, state, work)
    for piece in range(len(tables.pieces)):
        _own_mass(tables.pieces, piece, work)
        strip_loads(tables, piece, work)
        front_load(tables, piece, work)
        point_loads(tables, piece, work)
        plate_loads(tables, piece, work)
    pull_line(tables, state, work)
    for piece in range(len(tables.pieces)):
        take_off_bias(tables.pieces, piece, work)
    gather(tables.pieces, work)


@part
def _own_mass(pieces: Array, piece: int, work: Array) -> None:
    """A piece's wrench begun: weight, buoyancy, rear drag, and what its own mass and surging water need to turn.

    -(w x p) and -(w x h + v x p), with p the momentum and h the angular momentum about the origin.
    """
    v, w, down = three(work, TWIST + 6 * piece), three(work, TWIST + 6 * piece + 3), three(work, DOWN + 3 * piece)
    mass, centre = pieces[piece, MASS], triple(pieces, piece, CENTRE)
    shift, lever = cross(w, centre), cross(centre, v)
    p = (mass * (v[0] + shift[0]), mass * (v[1] + shift[1]), mass * (v[2] + shift[2]))
    turned = _inertia_times(pieces, piece, w)
    h = (turned[0] + mass * lever[0], turned[1] + mass * lever[1], turned[2] + mass * lever[2])
    force, gyration, moment = cross(p, w), cross(h, w), cross(p, v)
    righting, net = cross(triple(pieces, piece, LIFTED), down), pieces[piece, NET_WEIGHT]
    for row in range(3):
        store(work, WRENCH + 6 * piece + row, force[row] + net * down[row])
        store(work, WRENCH + 6 * piece + 3 + row, gyration[row] + moment[row] + righting[row])
    length, surging = pieces[piece, LENGTH], pieces[piece, SURGE] * v[0]
    side, lift = v[1] - length * w[2], v[2] + length * w[1]
    rear = pieces[piece, REAR_DRAG] * root(v[0] * v[0] + side * side + lift * lift) * v[0]
    middle = (-0.5 * length, 0.0, 0.0)
    push_at(work, piece, middle, (-rear, -(w[2] * surging), w[1] * surging))
    add(work, WRENCH + 6 * piece + 4, -((v[2] + 0.5 * length * w[1]) * surging))
    add(work, WRENCH + 6 * piece + 5, (v[1] - 0.5 * length * w[2]) * surging)


@part
def _inertia_times(pieces: Array, piece: int, w: Three) -> Three:
    xx, yy, zz = triple(pieces, piece, INERTIA)
    xy, xz, yz = triple(pieces, piece, INERTIA + 3)
    return xx * w[0] + xy * w[1] + xz * w[2], xy * w[0] + yy * w[1] + yz * w[2], xz * w[0] + yz * w[1] + zz * w[2]


@part
def place_rates(tables: Tables, state: Array, speeds: Array, first: int, share: float, out: Array) -> None:
    """Rates of place, attitude and angles that so much of a set of velocities gives, added to rows 0 on of `out`.

    speeds : (..., LANES) front end's velocity, turning and joint rates from row `first` on
    """
    v, w = three(speeds, first), three(speeds, first + 3)
    axes = (ahead_of(state), starboard_of(state), down_of(state))
    for row in range(3):
        axis = axes[row]
        add(out, row, share * (axis[0] * v[0] + axis[1] * v[1] + axis[2] * v[2]))
    q0 = load(state, ATTITUDE)
    q1, q2, q3 = three(state, ATTITUDE + 1)
    half = 0.5 * share
    add(out, ATTITUDE, -(half * (q1 * w[0] + q2 * w[1] + q3 * w[2])))
    add(out, ATTITUDE + 1, half * (q0 * w[0] + q2 * w[2] - q3 * w[1]))
    add(out, ATTITUDE + 2, half * (q0 * w[1] - q1 * w[2] + q3 * w[0]))
    add(out, ATTITUDE + 3, half * (q0 * w[2] + q1 * w[1] - q2 * w[0]))
    for joint in range(len(tables.joints)):
        add(out, ANGLES + joint, share * load(speeds, first + 6 + joint))


@part
def slopes(tables: Tables, state: Array, out: Array, earlier: Array, weight: float, ahead: float, work: Array) -> None:
    """Rates of a whole state, the stiff part of them taken `ahead` seconds on.

    earlier, weight : slopes already found and how much of them is added, see `take_step`; with 0 and `ahead` 0 what
                      comes out is the plain rate of change

    With M the mass matrix, Q the force, D and K its derivatives by velocity and place that are kept (stops, springs and
    friction of joints, the line), N what makes rates of place of velocities, a = `weight` times `earlier`:

        (M + g D + g^2 K N) v = Q + M a - g K (N v0 + a),    q = N v0 + a + g N v,    g = `ahead`
    """
    joints, motions = len(tables.joints), len(tables.free)
    velocities = ANGLES + joints
    gather_loads(tables, state, work)
    for row in range(velocities):
        store(out, row, 0.0)
    store(out, 0, -tables.water[SPEED])
    place_rates(tables, state, state, velocities, 1.0, out)
    if weight != 0.0:
        _add_earlier(work, earlier, weight, out)
    for joint in range(joints):
        _joint_moment(tables.joints, joint, state, load(out, ANGLES + joint), ahead, work)
    _hold_line(tables.water, motions, ahead, work)
    hold_still(tables.free, work)
    solve(motions, work)
    for row in range(motions):
        store(out, velocities + row, load(work, FORCE + row))
    place_rates(tables, state, work, FORCE, ahead, out)
    lengthening = load(work, LINE_RATE)
    for row in range(6):
        lengthening = lengthening - ahead * load(work, LINE + row) * load(work, FORCE + row)
    store(work, LINE_EARLIER, lengthening)


@part
def _add_earlier(work: Array, earlier: Array, weight: float, out: Array) -> None:
    """Add so much of earlier slopes to those of places, and the mass matrix times it to the force."""
    first = ANGLES + (len(out) - 13) // 2
    motions = len(out) - first
    for row in range(first):
        add(out, row, weight * load(earlier, row))
    add(work, LINE_RATE, weight * load(work, LINE_EARLIER))
    for row in range(motions):
        value = load(work, FORCE + row)
        for column in range(motions):
            entry = motions * row + column if column <= row else motions * column + row
            value = value + weight * load(work, MATRIX + entry) * load(earlier, first + column)
        store(work, FORCE + row, value)


@part
def _joint_moment(joints: Array, joint: int, state: Array, moving: Lanes, ahead: float, work: Array) -> None:
    """A joint's own moment onto the force, and its derivatives onto the matrix.

    Spring and damper; dry friction; past a stop, wood on wood, that gives way and damps on the way in alone.
    moving : rate of the angle at which the implicit part begins
    """
    rows = len(joints)
    angle, rate = load(state, ANGLES + joint), load(state, ANGLES + rows + 6 + joint)
    past = most(angle - joints[joint, MOST_PORT], 0.0) + least(angle + joints[joint, MOST_STARBOARD], 0.0)
    inward = select(past * rate > 0.0, joints[joint, STOP_DAMPING], 0.0)
    stiff = select(past * past > 0.0, joints[joint, STOP_STIFFNESS], 0.0) + joints[joint, STIFFNESS]
    sliding = rate / CREEP
    soft = 1.0 / root(1.0 + sliding * sliding)
    friction = joints[joint, FRICTION]
    moment = (-(joints[joint, STIFFNESS] * angle) - joints[joint, STOP_STIFFNESS] * past
              - (joints[joint, DAMPING] + inward) * rate - friction * sliding * soft)  # fmt: skip
    damping = joints[joint, DAMPING] + inward + friction / CREEP * soft * soft * soft
    row = 6 + joint
    add(work, FORCE + row, moment - ahead * stiff * moving)
    add(work, MATRIX + (6 + rows) * row + row, ahead * (damping + ahead * stiff))


@part
def _hold_line(water: Array, motions: int, ahead: float, work: Array) -> None:
    """The line's derivatives onto matrix and force, where it pulls."""
    holds = load(work, LINE_HOLD)
    stiffness = ahead * water[LINE_STIFFNESS]
    share, pull = holds * (ahead * (water[LINE_DAMPING] + stiffness)), holds * stiffness * load(work, LINE_RATE)
    for row in range(6):
        along = load(work, LINE + row)
        add(work, FORCE + row, pull * along)
        for column in range(row + 1):
            add(work, MATRIX + motions * row + column, share * along * load(work, LINE + column))
