"""Force of water on what is small beside a piece: things that only drag, and flat plates that lift."""

from gudgeon.kernels.lanes import Lanes, least, part, root, select, size
from gudgeon.kernels.rigid_chain import Three, add, cross, three, triple
from gudgeon.kernels.tables import (
    OF_PLATES,
    OF_POINTS,
    PLATE_AREA,
    PLATE_CHORD,
    PLATE_EDGE,
    PLATE_MOST,
    PLATE_NORMAL,
    PLATE_PLACE,
    PLATE_POTENTIAL,
    POINT_DRAG,
    POINT_PLACE,
    TWIST,
    WRENCH,
    Array,
    Tables,
)

_STILL = 1e-30  # m2/s2: keeps 0 / 0 away
_QUARTER = 0.25  # share of the chord by which a wing's force acts ahead of the middle


@part
def push_at(work: Array, piece: int, place: Three, force: Three) -> None:
    """Add a force at a place of a piece to its wrench."""
    moment = cross(place, force)
    for row in range(3):
        add(work, WRENCH + 6 * piece + row, force[row])
        add(work, WRENCH + 6 * piece + 3 + row, moment[row])


@part
def velocity_at(work: Array, piece: int, place: tuple[float, float, float]) -> Three:
    """Velocity of a place of a piece."""
    speed = three(work, TWIST + 6 * piece)
    shift = cross(three(work, TWIST + 6 * piece + 3), place)
    return speed[0] + shift[0], speed[1] + shift[1], speed[2] + shift[2]


@part
def _square(a: Three) -> Lanes:
    return a[0] * a[0] + a[1] * a[1] + a[2] * a[2]


@part
def point_loads(tables: Tables, piece: int, work: Array) -> None:
    """Add the drag of everything on a piece that the water pulls at as at a point."""
    for point in range(tables.spans[OF_POINTS, piece], tables.spans[OF_POINTS, piece + 1]):
        place = triple(tables.points, point, POINT_PLACE)
        here = velocity_at(work, piece, place)
        drag = -(tables.points[point, POINT_DRAG] * root(_square(here)))
        push_at(work, piece, place, (drag * here[0], drag * here[1], drag * here[2]))


@part
def plate_loads(tables: Tables, piece: int, work: Array) -> None:
    """Add the push on every flat plate of a piece, square to the plate, each from its own velocity.

    source : as physics/lifting_plate, which has the same law for one angle
    """
    plates = tables.plates
    for plate in range(tables.spans[OF_PLATES, piece], tables.spans[OF_PLATES, piece + 1]):
        middle, chord = triple(plates, plate, PLATE_PLACE), triple(plates, plate, PLATE_CHORD)
        n = triple(plates, plate, PLATE_NORMAL)
        here = velocity_at(work, piece, middle)
        against = n[0] * here[0] + n[1] * here[1] + n[2] * here[2]
        coefficient, forward = _normal_force(plates, plate, size(against) / root(_square(here) + _STILL))
        push = plates[plate, PLATE_AREA] * coefficient * _square(here)
        push = select(against > 0.0, -push, push)
        place = (middle[0] - forward * chord[0], middle[1] - forward * chord[1], middle[2] - forward * chord[2])
        push_at(work, piece, place, (push * n[0], push * n[1], push * n[2]))


@part
def _normal_force(plates: Array, plate: int, across: Lanes) -> tuple[Lanes, Lanes]:
    """Normal force coefficient at an incidence of this sine, and how far ahead of middle it acts, over the chord."""
    square = least(across * across, 1.0)
    product = root(square * (1.0 - square))
    wing = plates[plate, PLATE_POTENTIAL] * product
    whole = wing + plates[plate, PLATE_EDGE] * product * product + plates[plate, PLATE_MOST] * square * square
    return least(whole, plates[plate, PLATE_MOST]), _QUARTER * wing / (whole + _STILL)
