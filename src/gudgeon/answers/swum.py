"""What a towed lure's answer holds: each speed, the slowest that swims, where it blows out and why."""

from dataclasses import dataclass

from gudgeon.answers.finding import Finding
from gudgeon.answers.tow_runs import Towed
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure
from gudgeon.physics.spread import Estimate

SWIMS, TRACKS, LEANS, LOCKS, TUMBLES = "swims", "tracks", "leans", "locks", "tumbles"


@dataclass(frozen=True)
class AtSpeed:
    """A lure towed at one speed from several starts.

    speed  : [m/s]
    starts : how many
    shares : (kind, share of the starts), most first
    kind   : what most of them do
    beat   : [1/s] of those that swim; None where none does
    tail_sweep, head_sweep : [m] side to side, of those that swim
    roll, list_angle, pitch : [rad] the most it rolls, the mean it lies over, the mean nose-up
    pull   : [N] mean in the line; None where every start tumbles
    joints : [rad] how far each joint turns, of those that swim
    """

    speed: float
    starts: int
    shares: tuple[tuple[str, float], ...]
    kind: str
    beat: Estimate | None
    tail_sweep: Estimate | None
    head_sweep: Estimate | None
    roll: Estimate | None
    list_angle: Estimate | None
    pitch: Estimate | None
    pull: Estimate | None
    joints: tuple[float, ...]

    def share(self, kind: str) -> float:
        """Share of the starts that do so."""
        return dict(self.shares).get(kind, 0.0)


@dataclass(frozen=True)
class BlowOut:
    """Where it stops staying upright.

    speed : [m/s]
    how   : "leans" or "tumbles"
    cause : in words
    """

    speed: Estimate
    how: str
    cause: str


@dataclass(frozen=True)
class Growth:
    """What a straight tow grows into, from the first push.

    speed : [m/s]
    rate  : [1/s] of the fastest; less than nothing where everything dies away
    way   : "swing" or "slew"
    what  : what grows, in words
    """

    speed: float
    rate: float
    way: str
    what: str


@dataclass(frozen=True)
class Swimming:
    """A towed lure over its speeds.

    speeds   : slowest first
    slowest  : [m/s] at which it begins to swim; None where it never does, or does at the slowest speed towed
    blow_out : None where it stays upright to the fastest speed towed
    growth   : at each speed; None where line, weight and water do not balance in a straight tow
    hook_margin : how many times the drag of hooks and fittings it takes to end the swim at the middle speed; None where
               it does not swim there, or swims even with the most that was tried
    is_claimed : whether the model has anything to be held against for so many pieces
    runs     : the tow at each speed      shown : of these, the one that is drawn
    """

    design: Design
    lure: Lure
    speeds: tuple[AtSpeed, ...]
    slowest: Estimate | None
    blow_out: BlowOut | None
    growth: tuple[Growth | None, ...]
    hook_margin: float | None
    is_claimed: bool
    runs: tuple[Towed, ...]
    shown: Towed
    findings: tuple[Finding, ...]

    def nearest(self, speed: float) -> AtSpeed:
        """The answer at the speed nearest to one."""
        return min(self.speeds, key=lambda one: abs(one.speed - speed))
