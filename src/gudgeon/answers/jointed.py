"""What an answer about joints holds: each joint's swing, what meets what, what would change it."""

import math
from dataclasses import dataclass

from gudgeon.answers.finding import Finding
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.swing import Swing

PIVOT_WITHIN = 3e-4  # [m] of a knuckle's centre for an even gap; common practice, no source
_WITHIN = math.radians(0.5)  # a swing asked for is reached
_HABIT_WITHIN = math.radians(3.0)  # a swing by habit is


@dataclass(frozen=True)
class WantedSwing:
    """What a joint is to turn to each side.

    low, high : [rad] the same when the maker asked for one
    why       : "asked for", or whose habit it is
    is_own    : the maker asked for it
    """

    low: float
    high: float
    why: str
    is_own: bool

    def holds(self, angle: float) -> bool:
        """Whether a swing [rad] is as wanted; a habit is no more than that."""
        loose = _WITHIN if self.is_own else _HABIT_WITHIN
        return self.low - loose <= angle <= self.high + loose


@dataclass(frozen=True)
class Bevels:
    """How far two faces slope back from square [rad]."""

    front: float
    rear: float


@dataclass(frozen=True)
class EvenGap:
    """What a knuckle's gap does over the swing.

    pivot : [m] aft of the middle of the gap, at the knuckle's centre: the gap then stays even
    off   : [m] how far aft of that the pivot stands
    least, most : [m] the gap over the swing, by how far the two rounds' centres part
    swing : with the pivot at the centre
    """

    pivot: float
    off: float
    least: float
    most: float
    swing: Swing


@dataclass(frozen=True)
class JointAnswer:
    """One joint.

    number     : counted from the nose       at : [m] middle of the gap
    pieces     : names of the one ahead and the one behind
    width, depth : [m] of the body there, finished
    depth_kept : share of the body's greatest depth
    bare_gap   : [m] to cut in bare wood
    finished, bare : swing to each side with coats on, and in bare wood
    meets      : what meets what, in words
    place      : (3,) [m] of that on the piece ahead, offset to the side the tail turns to; None when nothing meets
    gap_for    : [m] gap that gives the swing wanted, a knuckle's pivot in its centre; None when it does already, or
                 none does
    bevels_for : the same by sloping the faces
    even       : of a knuckle
    kerf       : [m] of length to allow when the blank is laid out: trueing, the saw, faces that reach past each other
    """

    number: int
    at: float
    pieces: tuple[str, str]
    shape: JointShape
    width: float
    depth: float
    depth_kept: float
    bare_gap: float
    finished: Swing
    bare: Swing
    meets: str
    place: tuple[float, float, float] | None
    wanted: WantedSwing
    gap_for: float | None
    bevels_for: Bevels | None
    even: EvenGap | None
    kerf: float

    @property
    def turns(self) -> Swing:
        """The finished swing; a knuckle's with its pivot where it belongs."""
        return self.finished if self.even is None else self.even.swing


@dataclass(frozen=True)
class Jointing:
    """Every joint of a lure, and what to know about them, worst first.

    kerf : [m] of length to allow for all joints together
    """

    joints: tuple[JointAnswer, ...]
    kerf: float
    findings: tuple[Finding, ...]
