"""Rigid pieces hinged one behind the other about z: how they move together, their mass matrix, and its solution.

All hinges turn about the same z, so every quantity of every piece is one turn about z and one shift away from the first
piece's front end, and mass and force are summed there from the last piece forward.
"""

from gudgeon.kernels.lanes import Lanes, cosine, load, part, root, sine, store
from gudgeon.kernels.tables import (
    ANGLES,
    ATTITUDE,
    BEHIND,
    BEND,
    BIAS,
    COURSE,
    DOWN,
    FORCE,
    HINGE,
    MATRIX,
    ORIGIN,
    TWIST,
    WHOLE,
    WRENCH,
    Array,
    Tables,
)

Three = tuple[Lanes, Lanes, Lanes]


@part
def cross(a: Three, b: Three) -> Three:
    """Vector product of two triples."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


@part
def three(array: Array, row: int) -> Three:
    """Three rows of an array from this one on."""
    return load(array, row), load(array, row + 1), load(array, row + 2)


@part
def triple(table: Array, row: int, column: int) -> tuple[float, float, float]:
    """Three entries of a table from this one on."""
    return table[row, column], table[row, column + 1], table[row, column + 2]


@part
def put(array: Array, row: int, values: Three) -> None:
    """Store three rows of an array from this one on."""
    store(array, row, values[0])
    store(array, row + 1, values[1])
    store(array, row + 2, values[2])


@part
def add(array: Array, row: int, value: Lanes) -> None:
    """Add to a row of an array."""
    store(array, row, load(array, row) + value)


@part
def into(c: Lanes, s: Lanes, a: Three) -> Three:
    """A vector's parts along axes turned about z by the angle of cosine c and sine s."""
    return c * a[0] + s * a[1], c * a[1] - s * a[0], a[2]


@part
def ahead_of(state: Array) -> Three:
    """Earth's x in the first piece's axes: the first row of its rotation matrix."""
    w = load(state, ATTITUDE)
    x, y, z = three(state, ATTITUDE + 1)
    return 1.0 - 2.0 * (y * y + z * z), 2.0 * (x * y - w * z), 2.0 * (x * z + w * y)


@part
def starboard_of(state: Array) -> Three:
    """Earth's y in the first piece's axes: the second row of its rotation matrix."""
    w = load(state, ATTITUDE)
    x, y, z = three(state, ATTITUDE + 1)
    return 2.0 * (x * y + w * z), 1.0 - 2.0 * (x * x + z * z), 2.0 * (y * z - w * x)


@part
def down_of(state: Array) -> Three:
    """Earth's down in the first piece's axes: the last row of its rotation matrix."""
    w = load(state, ATTITUDE)
    x, y, z = three(state, ATTITUDE + 1)
    return 2.0 * (x * z - w * y), 2.0 * (y * z + w * x), 1.0 - 2.0 * (x * x + y * y)


@part
def move(tables: Tables, state: Array, work: Array) -> None:
    """Fill twist, bias, bend, course, origin and down of every piece from a state."""
    joints = len(tables.joints)
    velocities = ANGLES + joints
    put(work, TWIST, three(state, velocities))
    put(work, TWIST + 3, three(state, velocities + 3))
    put(work, DOWN, down_of(state))
    for row in range(6):
        store(work, BIAS + row, 0.0)
    for row in range(3):
        store(work, ORIGIN + row, 0.0)
    store(work, COURSE, 1.0)
    store(work, COURSE + 1, 0.0)
    for joint in range(joints):
        _move_next(tables.joints, joint, load(state, ANGLES + joint), load(state, velocities + 6 + joint), work)


@part
def _move_next(joints: Array, joint: int, angle: Lanes, rate: Lanes, work: Array) -> None:
    """The same of the piece behind one joint, from that ahead of it."""
    piece = joint + 1
    c, s = cosine(angle), sine(angle)
    store(work, BEND + 2 * piece, c)
    store(work, BEND + 2 * piece + 1, s)
    hinge = triple(joints, joint, HINGE)
    for first in (TWIST, BIAS):
        here, there = first + 6 * joint, first + 6 * piece
        speed, turning = three(work, here), three(work, here + 3)
        shift = cross(turning, hinge)
        put(work, there, into(c, s, (speed[0] + shift[0], speed[1] + shift[1], speed[2] + shift[2])))
        put(work, there + 3, into(c, s, turning))
    for row in (6 * piece, 6 * piece + 3):
        add(work, BIAS + row, rate * load(work, TWIST + row + 1))
        add(work, BIAS + row + 1, -(rate * load(work, TWIST + row)))
    add(work, TWIST + 6 * piece + 5, rate)
    put(work, DOWN + 3 * piece, into(c, s, three(work, DOWN + 3 * joint)))
    along, across = load(work, COURSE + 2 * joint), load(work, COURSE + 2 * joint + 1)
    turned, here = into(along, -across, hinge), three(work, ORIGIN + 3 * joint)
    put(work, ORIGIN + 3 * piece, (here[0] + turned[0], here[1] + turned[1], here[2] + turned[2]))
    store(work, COURSE + 2 * piece, along * c - across * s)
    store(work, COURSE + 2 * piece + 1, across * c + along * s)


@part
def take_off_bias(pieces: Array, piece: int, work: Array) -> None:
    """Take from a piece's wrench what its inertia needs while nothing accelerates."""
    for row in range(6):
        needed = pieces[piece, WHOLE + 6 * row] * load(work, BIAS + 6 * piece)
        for column in range(1, 6):
            needed = needed + pieces[piece, WHOLE + 6 * row + column] * load(work, BIAS + 6 * piece + column)
        add(work, WRENCH + 6 * piece + row, -needed)


@part
def gather(pieces: Array, work: Array) -> None:
    """Mass matrix (lower half) and force of the whole chain, summed at the first front end from the last piece on."""
    count = len(pieces)
    for row in range(42):
        store(work, BEHIND + row, 0.0)
    for piece in range(count - 1, -1, -1):
        _add_inertia(pieces, piece, work)
        _add_wrench(piece, work)
        if piece > 0:
            _joint_row(piece - 1, count, work)
    motions = 5 + count
    for row in range(6):
        for column in range(row + 1):
            store(work, MATRIX + motions * row + column, load(work, BEHIND + 6 * row + column))
        store(work, FORCE + row, load(work, BEHIND + 36 + row))


@part
def _add_wrench(piece: int, work: Array) -> None:
    """A piece's wrench, turned and shifted to the first front end, to that of all behind."""
    c, s = load(work, COURSE + 2 * piece), -load(work, COURSE + 2 * piece + 1)
    push = into(c, s, three(work, WRENCH + 6 * piece))
    moment = into(c, s, three(work, WRENCH + 6 * piece + 3))
    arm = cross(three(work, ORIGIN + 3 * piece), push)
    for row in range(3):
        add(work, BEHIND + 36 + row, push[row])
        add(work, BEHIND + 39 + row, moment[row] + arm[row])


@part
def _block(pieces: Array, piece: int, first: int, c: Lanes, s: Lanes) -> tuple[Three, Three, Three]:
    """Three rows and columns of a piece's inertia, from entry `first`, along the first piece's axes."""
    a, b, e = (_turned_row(pieces, piece, first, c, s), _turned_row(pieces, piece, first + 6, c, s),
               _turned_row(pieces, piece, first + 12, c, s))  # fmt: skip
    return ((c * a[0] - s * b[0], c * a[1] - s * b[1], c * a[2] - s * b[2]),
            (s * a[0] + c * b[0], s * a[1] + c * b[1], s * a[2] + c * b[2]), e)  # fmt: skip


@part
def _turned_row(pieces: Array, piece: int, entry: int, c: Lanes, s: Lanes) -> Three:
    x, y, z = triple(pieces, piece, WHOLE + entry)
    return c * x - s * y, s * x + c * y, z + 0.0 * c


@part
def _less(a: Three, b: Three) -> Three:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


@part
def _add_inertia(pieces: Array, piece: int, work: Array) -> None:
    """A piece's inertia to that of all behind, about the first front end.

    With r the piece's origin, A, B, C its blocks linear, mixed and angular: B' = B - A r^, C' = C + r^ B' - B^T r^,
    where r^ v is r x v.
    """
    c, s = load(work, COURSE + 2 * piece), load(work, COURSE + 2 * piece + 1)
    r = three(work, ORIGIN + 3 * piece)
    linear = _block(pieces, piece, 0, c, s)
    mixed = _block(pieces, piece, 3, c, s)
    angular = _block(pieces, piece, 21, c, s)
    shifted = (_less(mixed[0], cross(linear[0], r)), _less(mixed[1], cross(linear[1], r)),
               _less(mixed[2], cross(linear[2], r)))  # fmt: skip
    for column in range(3):
        arm = cross(r, (shifted[0][column], shifted[1][column], shifted[2][column]))
        back = cross((mixed[0][column], mixed[1][column], mixed[2][column]), r)
        for row in range(3):
            add(work, BEHIND + 6 * row + column, linear[row][column])
            add(work, BEHIND + 6 * row + 3 + column, shifted[row][column])
            add(work, BEHIND + 6 * (3 + column) + row, shifted[row][column])
            add(work, BEHIND + 6 * (3 + row) + 3 + column, arm[row])
            add(work, BEHIND + 6 * (3 + column) + 3 + row, angular[column][row] - back[row])


@part
def _joint_row(joint: int, count: int, work: Array) -> None:
    """A joint's row of the mass matrix and its force: what all behind it answers to a turn about its hinge."""
    motions, row = 5 + count, 6 + joint
    x, y = load(work, ORIGIN + 3 * joint + 3), load(work, ORIGIN + 3 * joint + 4)
    for entry in range(6):
        value = (y * load(work, BEHIND + 6 * entry) - x * load(work, BEHIND + 6 * entry + 1)
                 + load(work, BEHIND + 6 * entry + 5))  # fmt: skip
        store(work, MATRIX + motions * row + entry, value)
    for other in range(joint + 1):
        value = (load(work, ORIGIN + 3 * other + 4) * load(work, MATRIX + motions * row)
                 - load(work, ORIGIN + 3 * other + 3) * load(work, MATRIX + motions * row + 1)
                 + load(work, MATRIX + motions * row + 5))  # fmt: skip
        store(work, MATRIX + motions * row + 6 + other, value)
    store(work, FORCE + row, y * load(work, BEHIND + 36) - x * load(work, BEHIND + 37) + load(work, BEHIND + 41))


@part
def hold_still(free: Array, work: Array) -> None:
    """Leave only the motions that are free in mass matrix and force."""
    motions = len(free)
    for row in range(motions):
        for column in range(row):
            if free[row] * free[column] == 0.0:
                store(work, MATRIX + motions * row + column, 0.0)
        if free[row] == 0.0:
            store(work, MATRIX + motions * row + row, 1.0)
            store(work, FORCE + row, 0.0)


@part
def solve(motions: int, work: Array) -> None:
    """Solve for the motions by Cholesky; mass matrix and force, which becomes the solution, are written over."""
    for row in range(motions):
        here = MATRIX + motions * row
        for column in range(row):
            there = MATRIX + motions * column
            value = _less_products(work, here, there, column, load(work, here + column))
            store(work, here + column, value * load(work, there + column))
        store(work, here + row, 1.0 / root(_less_products(work, here, here, row, load(work, here + row))))
        value = _less_products(work, here, FORCE, row, load(work, FORCE + row))
        store(work, FORCE + row, value * load(work, here + row))
    for row in range(motions - 1, -1, -1):
        value = load(work, FORCE + row)
        for k in range(row + 1, motions):
            value = value - load(work, MATRIX + motions * k + row) * load(work, FORCE + k)
        store(work, FORCE + row, value * load(work, MATRIX + motions * row + row))


@part
def _less_products(work: Array, first: int, other: int, count: int, value: Lanes) -> Lanes:
    """A value less the sum of products of so many rows from two places on."""
    for k in range(count):
        value = value - load(work, first + k) * load(work, other + k)
    return value
