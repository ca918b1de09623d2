"""Force of water on a body cut in strips across, from its motion and that of the water it has already turned aside.

A strip at (u, v, w), turning at (p, q, r), has the momentum (0, m_y v, m_z w) per length. What a piece sheds at its
rear edge meets the front edge of the one behind.

source : Lighthill, Proc. R. Soc. B 179 (1971) 125-138; in space, Candelier, Boyer and Leroyer, J. Fluid Mech. 674
         (2011) 196-226 (both from memory); drag across the flow taken apart, Hoerner, Fluid-Dynamic Drag (1965)
"""

from gudgeon.kernels.lanes import Lanes, load, most, part, root
from gudgeon.kernels.rigid_chain import Three, into, put, three
from gudgeon.kernels.tables import (
    AXIS,
    BEND,
    BROADSIDE,
    CARRY_OVER,
    CARRY_PLACE,
    DEPTH,
    END_AXIS,
    END_HEAVE,
    END_ROLL,
    END_SWAY,
    FRONT_AXIS,
    FRONT_HEAVE,
    FRONT_PLACE,
    FRONT_ROLL,
    FRONT_SWAY,
    HEAVE,
    HEAVE_CHANGE,
    HEAVE_WHOLE,
    LATERAL,
    LENGTH,
    OF_STRIPS,
    PLACE,
    REAR_AXIS,
    REAR_PLACE,
    REATTACHMENT,
    REST_PLACE,
    ROLL_CHANGE,
    SIDEWAYS,
    SKIN,
    STALL,
    SUCTION,
    SWAY,
    SWAY_CHANGE,
    SWAY_WHOLE,
    TWIST,
    UPRIGHT,
    WRENCH,
    Array,
    Tables,
)

Six = tuple[Lanes, Lanes, Lanes, Lanes, Lanes, Lanes]

_TINY = 1e-60  # m4/s4: keeps 0 / 0 away
_OUTER, _MIDDLE, _REACH = 5.0 / 18.0, 4.0 / 9.0, 0.15**0.5  # Gauss, three points on -1/2 to 1/2


@part
def kept_by_stall(u: Lanes, v: Lanes, w: Lanes, stall: float) -> Lanes:
    """Share of the momentum still carried aft at an incidence near stalling or past it; none where flow comes from aft.

    1 / sqrt(1 + ((v^2 + w^2) / (u^2 stall))^2), written so that u may be 0
    """
    forward = most(u, 0.0)
    square, across = forward * forward, (v * v + w * w) / stall
    return square / root(square * square + across * across + _TINY)


@part
def strip_loads(tables: Tables, piece: int, work: Array) -> None:
    """Add the water's load on every strip of a piece to its wrench.

    Why compiled: 42 strips of eight lanes in 1.3 us, as in C; written plainly in NumPy, as its test has it, 36 ms.
    """
    strips, pieces, water = tables.strips, tables.pieces, tables.water
    speed, turning = three(work, TWIST + 6 * piece), three(work, TWIST + 6 * piece + 3)
    whole = three(work, WRENCH + 6 * piece) + three(work, WRENCH + 6 * piece + 3)
    ahead = _velocity(speed, turning, pieces[piece, FRONT_PLACE], pieces[piece, FRONT_AXIS])
    for strip in range(tables.spans[OF_STRIPS, piece], tables.spans[OF_STRIPS, piece + 1]):
        x, z = strips[strip, PLACE], strips[strip, AXIS]
        here = _velocity(speed, turning, x, z)
        behind = _velocity(speed, turning, strips[strip, REAR_PLACE], strips[strip, REAR_AXIS])
        pull, side, lift, roll = _turned_aside(strips, strip, water, here, behind[1] - ahead[1], behind[2] - ahead[2],
                                               turning)  # fmt: skip
        stopped, raised, twisted = _stopped(strips, strip, here, turning[0])
        rubbed = strips[strip, SKIN] * root(here[0] * here[0] + here[1] * here[1] + here[2] * here[2])
        pull = pull - rubbed * here[0]
        side = side + stopped - water[LATERAL] * rubbed * here[1]
        lift = lift + raised - water[LATERAL] * rubbed * here[2]
        whole = _with(whole, x, z, pull, side, lift, roll + twisted)
        ahead = behind
    put(work, WRENCH + 6 * piece, whole[:3])
    put(work, WRENCH + 6 * piece + 3, whole[3:])


@part
def _velocity(speed: Three, turning: Three, x: float, z: float) -> Three:
    """Of the point (x, 0, z) of a piece."""
    return speed[0] + turning[1] * z, speed[1] + turning[2] * x - turning[0] * z, speed[2] - turning[1] * x


@part
def _with(whole: Six, x: float, z: float, pull: Lanes, side: Lanes, lift: Lanes, roll: Lanes) -> Six:
    """A wrench with a force at (x, 0, z) and a moment about x added."""
    return (whole[0] + pull, whole[1] + side, whole[2] + lift,
            whole[3] + roll - z * side, whole[4] + z * pull - x * lift, whole[5] + x * side)  # fmt: skip


@part
def _turned_aside(
    strips: Array, strip: int, water: Array, here: Three, across: Lanes, upward: Lanes, turning: Three
) -> tuple[Lanes, Lanes, Lanes, Lanes]:
    """Load of the momentum that a strip carries round with it and passes aft: three forces and a roll moment.

    across, upward : how much more its rear edge moves that way than its front edge
    The moment that turns a deep section broadside to the flow across it is less than ideal where that flow breaks away.
    What of it is lost is lost from the forces of rolling too, so that rolling still neither makes energy nor takes any.
    """
    _, v, w = here
    p, q, r = turning
    sideways, lifted = strips[strip, SWAY_WHOLE] * v, strips[strip, HEAVE_WHOLE] * w
    shed, raised = strips[strip, SWAY] * across, strips[strip, HEAVE] * upward
    widened, deepened = strips[strip, SWAY_CHANGE] * v, strips[strip, HEAVE_CHANGE] * w
    aft = here[0] * kept_by_stall(here[0], v, w, water[STALL])
    pull = r * sideways - q * lifted + water[SUCTION] * (v * (shed + 0.5 * widened) + w * (raised + 0.5 * deepened))
    lost = 0.5 * (1.0 - water[BROADSIDE]) * (strips[strip, SWAY_WHOLE] - strips[strip, HEAVE_WHOLE])
    side = p * (lifted + lost * w) - aft * (shed + widened)
    lift = -(p * (sideways - lost * v)) - aft * (raised + deepened)
    roll = water[BROADSIDE] * (w * sideways - v * lifted) - aft * (strips[strip, ROLL_CHANGE] * p)
    return pull, side, lift, roll


@part
def _stopped(strips: Array, strip: int, here: Three, rolling: Lanes) -> tuple[Lanes, Lanes, Lanes]:
    """Drag of flow across a strip at three heights of it, so that it damps rolling: side, lift, roll moment."""
    _, v, w = here
    reach = _REACH * strips[strip, DEPTH]
    above, below = v + rolling * reach, v - rolling * reach
    outer_above, middle, outer_below = (_OUTER * root(above * above + w * w), _MIDDLE * root(v * v + w * w),
                                        _OUTER * root(below * below + w * w))  # fmt: skip
    sideways = strips[strip, SIDEWAYS]
    up, down = outer_above * above, outer_below * below
    upright = strips[strip, UPRIGHT] * (outer_above + middle + outer_below)
    return -(sideways * (up + middle * v + down)), -(upright * w), sideways * reach * (down - up)


@part
def front_load(tables: Tables, piece: int, work: Array) -> None:
    """Add the load where a piece begins: it takes up the momentum of its front edge, less what reaches it from ahead.

    Without the pull along x of the momentum handed on, each bent joint would make energy. Behind a joint this load is
    spread over both pieces, see `_spread`.
    """
    pieces, water = tables.pieces, tables.water
    speed, turning = three(work, TWIST + 6 * piece), three(work, TWIST + 6 * piece + 3)
    x, z = pieces[piece, FRONT_PLACE], pieces[piece, FRONT_AXIS]
    u, v, w = _velocity(speed, turning, x, z)
    sway, heave = pieces[piece, FRONT_SWAY] * v, pieces[piece, FRONT_HEAVE] * w
    stored, along, rolling = 0.5 * (sway * v + heave * w), 0.0 * u, pieces[piece, FRONT_ROLL] * turning[0]
    if piece > 0:
        taken = _taken_up(tables, piece, work)
        along, sway, heave = -taken[0], sway - taken[1], heave - taken[2]
        rolling, stored = rolling - taken[3], stored - taken[4]
    kept = kept_by_stall(u, v, w, water[STALL])
    push = (water[SUCTION] * stored - kept * u * along, -(kept * u * sway), -(kept * u * heave))
    _put_at(work, piece, x, z, (0.0 * u, 0.0 * u, 0.0 * u), -(kept * u * rolling))
    if piece > 0:
        _spread(tables, piece, push, (kept * along, kept * sway, kept * heave), work)
    else:
        _put_at(work, piece, x, z, push, 0.0 * u)


@part
def _put_at(work: Array, piece: int, x: float, z: float, push: Three, roll: Lanes) -> None:
    """Add a force at (x, 0, z) of a piece and a moment about x to its wrench."""
    whole = three(work, WRENCH + 6 * piece) + three(work, WRENCH + 6 * piece + 3)
    whole = _with(whole, x, z, push[0], push[1], push[2], roll)
    put(work, WRENCH + 6 * piece, whole[:3])
    put(work, WRENCH + 6 * piece + 3, whole[3:])


@part
def _taken_up(tables: Tables, piece: int, work: Array) -> tuple[Lanes, Lanes, Lanes, Lanes, Lanes]:
    """What of the momentum shed ahead reaches a piece, along its own three axes and of rolling, and its energy."""
    ahead = piece - 1
    pieces, share = tables.pieces, tables.joints[ahead, REATTACHMENT]
    turning = three(work, TWIST + 6 * ahead + 3)
    _, v, w = _velocity(three(work, TWIST + 6 * ahead), turning, -pieces[ahead, LENGTH], pieces[ahead, END_AXIS])
    sway, heave = share * pieces[ahead, END_SWAY] * v, share * pieces[ahead, END_HEAVE] * w
    c, s = load(work, BEND + 2 * piece), load(work, BEND + 2 * piece + 1)
    return s * sway, c * sway, heave, share * pieces[ahead, END_ROLL] * turning[0], 0.5 * (sway * v + heave * w)


@part
def _spread(tables: Tables, piece: int, push: Three, turned: Three, work: Array) -> None:
    """Put a joint's share of the load where a piece begins on the piece ahead, and the rest on the piece itself.

    Water feels a bend before it comes to it, and after: the load is spread to both sides of the hinge.
    A force at the hinge itself would be the same force on either piece, so the share acts ahead of it and the rest
    behind, each at the middle of where it is spread. There a piece moves sideways faster than the hinge by its turning
    times that distance, and the load would do more work than the water has to give; what it does more is taken along
    x, as a pull of the turned momentum times that greater speed. So a bend gives up as much energy as with all of the
    load at the hinge.

    push   : load at the front of the piece behind, in its axes
    turned : momentum per length that is turned there, over which the load is `push` = - u `turned` and the suction
    """
    joint, pieces = piece - 1, tables.pieces
    share, place, rest = (tables.joints[joint, CARRY_OVER], tables.joints[joint, CARRY_PLACE],
                          tables.joints[joint, REST_PLACE])  # fmt: skip
    c, s = load(work, BEND + 2 * piece), -load(work, BEND + 2 * piece + 1)
    ahead, behind = three(work, TWIST + 6 * joint + 3), three(work, TWIST + 6 * piece + 3)
    forward = _paid(into(c, s, push), into(c, s, turned), ahead, place + pieces[joint, LENGTH], share)
    _put_at(work, joint, place, pieces[joint, END_AXIS], forward, 0.0 * c)
    left = _paid(push, turned, behind, rest - pieces[piece, FRONT_PLACE], 1.0 - share)
    _put_at(work, piece, rest, pieces[piece, FRONT_AXIS], left, 0.0 * c)


@part
def _paid(push: Three, turned: Three, turning: Three, reach: float, share: float) -> Three:
    """A share of a load so far ahead of the hinge, with the pull along x that pays for its greater work there."""
    pull = push[0] + reach * (turned[1] * turning[2] - turned[2] * turning[1])
    return share * pull, share * push[1], share * push[2]
