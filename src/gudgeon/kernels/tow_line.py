"""Pull of a straight line from a carriage that moves steadily to an eye on the first piece: it never pushes."""

from gudgeon.kernels.lanes import load, most, part, root, select, store
from gudgeon.kernels.point_loads import push_at, velocity_at
from gudgeon.kernels.rigid_chain import ahead_of, cross, down_of, put, starboard_of, three
from gudgeon.kernels.tables import (
    EYE,
    LINE,
    LINE_DAMPING,
    LINE_HOLD,
    LINE_LENGTH,
    LINE_PULL,
    LINE_RATE,
    LINE_STIFFNESS,
    SPEED,
    Array,
    Tables,
)

_NEAR = 1e-12  # m2: keeps 0 / 0 away where the eye is at the carriage


@part
def pull_line(tables: Tables, state: Array, work: Array) -> None:
    """Add the line's pull to the first piece, and fill `Work.line`.

    Stretch times stiffness and rate of lengthening times damping, where it is stretched and that is a pull.
    """
    water = tables.water
    eye = (water[EYE], water[EYE + 1], water[EYE + 2])
    ahead, starboard, down, place = ahead_of(state), starboard_of(state), down_of(state), three(state, 0)
    x, y, z = (-(place[0] + ahead[0] * eye[0] + ahead[1] * eye[1] + ahead[2] * eye[2]),
               -(place[1] + starboard[0] * eye[0] + starboard[1] * eye[1] + starboard[2] * eye[2]),
               -(place[2] + down[0] * eye[0] + down[1] * eye[1] + down[2] * eye[2]))  # fmt: skip
    length = root(x * x + y * y + z * z + _NEAR)
    x, y, z = x / length, y / length, z / length
    along = (ahead[0] * x + starboard[0] * y + down[0] * z, ahead[1] * x + starboard[1] * y + down[1] * z,
             ahead[2] * x + starboard[2] * y + down[2] * z)  # fmt: skip
    here = velocity_at(work, 0, eye)
    rate = water[SPEED] * x - (here[0] * along[0] + here[1] * along[1] + here[2] * along[2])
    stretch = length - water[LINE_LENGTH]
    pull = most(water[LINE_STIFFNESS] * stretch + water[LINE_DAMPING] * rate, 0.0)
    pull = select(stretch > 0.0, pull, 0.0)
    push_at(work, 0, eye, (pull * along[0], pull * along[1], pull * along[2]))
    put(work, LINE, along)
    put(work, LINE + 3, cross(eye, along))
    store(work, LINE_PULL, pull)
    store(work, LINE_RATE, rate)
    store(work, LINE_HOLD, select(pull > 0.0, 1.0, load(work, LINE_PULL) * 0.0))
