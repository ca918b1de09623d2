"""A towed chain through time, eight starts side by side: the entry points that Python calls.

Each is compiled once and kept in a cache; the rest of the folder is compiled into it. A cache that knew only of its own
file would outlive a change to the others, so each carries the stamp of all.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
from numba import njit

from gudgeon.kernels import chain_rates, lanes, point_loads, rigid_chain, strip_loads, tables, tow_line
from gudgeon.kernels.chain_rates import gather_loads, slopes
from gudgeon.kernels.lanes import LANES, Lanes, any_of, both, least, load, part, root, select, store
from gudgeon.kernels.rigid_chain import ahead_of
from gudgeon.kernels.tables import (
    ANGLES,
    ATTITUDE,
    FORCE,
    LENGTH,
    LINE_PULL,
    MATRIX,
    TWIST,
    Array,
    Tables,
    workspace,
)

COMPILED_IN = (lanes, tables, rigid_chain, strip_loads, point_loads, tow_line, chain_rates)
"""The rest of the folder; all of it, or a cache may outlive a change."""
Entry = Callable[..., Any]

PART = 1.0 - 0.5**0.5
"""Share of the step at whose end the stiff part is taken."""
MOST_REVERSED = 0.35
"""Share of the whole length that may move backwards through the water before that counts as tumbling."""
MOST_SQUARE = 1e8
"""[SI] sum of squared velocities and turnings past which numbers count as having run away, and the lane is stopped."""


def _stamp() -> int:
    """Of the text of every file that is compiled in."""
    text = b""
    for module in COMPILED_IN:
        with open(str(module.__file__), "rb") as file:
            text += file.read()
    return int.from_bytes(text, "big") % (2**61 - 1)


@part
def take_step(tables: Tables, state: Array, step: float, room: tuple[Array, Array, Array], work: Array) -> None:
    """Move a state on by one step.

    room    : three arrays like the state; the first comes filled with its slopes, see `_first_slopes`
    Second order whatever of the stiff part is kept, and damps what is too quick for the step.
    source  : Verwer, Spee, Blom and Hundsdorfer, SIAM J. Sci. Comput. 20 (1999) 1456-1480, scheme ROS2 (from memory)
    """
    first, second, middle = room
    rows = len(state)
    for row in range(rows):
        store(middle, row, load(state, row) + step * load(first, row))
    _unit(middle)
    slopes(tables, middle, second, first, -2.0, PART * step, work)
    for row in range(rows):
        store(middle, row, load(state, row) + step * (1.5 * load(first, row) + 0.5 * load(second, row)))
    _unit(middle)


@part
def _unit(state: Array) -> None:
    """Make the quaternion of a state one of unit length."""
    square = load(state, ATTITUDE) * load(state, ATTITUDE)
    for row in range(ATTITUDE + 1, ANGLES):
        square = square + load(state, row) * load(state, row)
    scale = 1.0 / root(square)
    for row in range(ATTITUDE, ANGLES):
        store(state, row, scale * load(state, row))


@part
def _judge(tables: Tables, state: Array, moving: Array, time: float, work: Array) -> None:
    """Stop the lanes of which too much moves backwards, or whose first piece points back."""
    pieces = tables.pieces
    back, whole = 0.0 * load(work, TWIST), 0.0
    for piece in range(len(pieces)):
        back = back + select(load(work, TWIST + 6 * piece) < 0.0, pieces[piece, LENGTH], 0.0)
        whole += pieces[piece, LENGTH]
    runs = both(back < MOST_REVERSED * whole, ahead_of(state)[0] > 0.0)
    _stop(moving, runs, time)


@part
def _stop(moving: Array, runs: Lanes, time: float) -> None:
    """Mark the lanes that no longer run, with when."""
    ended = select(runs, load(moving, 1), least(load(moving, 1), time))
    store(moving, 1, ended)
    store(moving, 0, select(runs, load(moving, 0), 0.0))


@part
def _accept(state: Array, middle: Array, moving: Array, first: int, time: float) -> None:
    """Take over the new state in the lanes that run; a lane whose numbers have run away stops where it was."""
    square = 0.0 * load(state, 0)
    for row in range(first, len(state)):
        square = square + load(middle, row) * load(middle, row)
    _stop(moving, square < MOST_SQUARE, time)
    runs = load(moving, 0) > 0.0
    for row in range(len(state)):
        store(state, row, select(runs, load(middle, row), load(state, row)))


@part
def _note(record: Array, sample: int, state: Array, work: Array) -> None:
    """Keep a state and the line's pull."""
    for lane in range(LANES):
        for row in range(len(state)):
            record[sample, row, lane] = state[row, lane]
        record[sample, len(state), lane] = work[LINE_PULL, lane]


def _entries(stamp: int) -> tuple[Entry, Entry, Entry]:
    """The three entry points, each bound to the stamp so that its cache is too."""

    @njit(cache=True, nogil=True)
    def run(tables: Tables, state: Array, step: float, every: int, record: Array, moving: Array) -> None:
        stamp  # noqa: B018
        work, first = workspace(), ANGLES + len(tables.joints)
        room = (np.zeros_like(state), np.zeros_like(state), np.zeros_like(state))
        for sample in range(len(record)):
            for inner in range(every):
                time = (sample * every + inner) * step
                if inner > 0 and not any_of(load(moving, 0) > 0.0):
                    break
                slopes(tables, state, room[0], room[1], 0.0, PART * step, work)
                _judge(tables, state, moving, time, work)
                if inner == 0:
                    _note(record, sample, state, work)
                take_step(tables, state, step, room, work)
                _accept(state, room[2], moving, first, time)

    @njit(cache=True)
    def rates(tables: Tables, state: Array) -> Array:
        stamp  # noqa: B018
        out = np.zeros_like(state)
        slopes(tables, state, out, state, 0.0, 0.0, workspace())
        return out

    @njit(cache=True)
    def force_and_mass(tables: Tables, state: Array) -> tuple[Array, Array]:
        stamp  # noqa: B018
        work = workspace()
        gather_loads(tables, state, work)
        motions = len(tables.free)
        return work[FORCE : FORCE + motions].copy(), work[MATRIX : MATRIX + motions * motions].copy()

    return run, rates, force_and_mass


run, rates, force_and_mass = _entries(_stamp())
"""`run(tables, state, step, every, record, moving)`: (rows, LANES) state moved on through `len(record)` times `every`
steps, with `record` (samples, rows + 1, LANES) filled every so many steps with the state and the line's pull, and
`moving` (2, LANES) with 1 for a lane that still runs and the time at which it tumbled.

`rates(tables, state)`: (rows, LANES) rate of change of a state.

`force_and_mass(tables, state)`: generalised force (motions, LANES) and the lower half of the mass matrix
(motions * motions, LANES) of front end and joints; springs, stops and friction of joints are not in.
"""
