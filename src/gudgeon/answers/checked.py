"""What a check of one design holds: every answer, complete."""

from dataclasses import dataclass

from gudgeon.answers.ballasting import Ballasting
from gudgeon.answers.clearance import Clearance
from gudgeon.answers.elsewhere import OtherWater
from gudgeon.answers.finding import Finding, Gravity
from gudgeon.answers.floating import Lying
from gudgeon.answers.narrowing import Measurement
from gudgeon.answers.pieces import PieceAnswer
from gudgeon.answers.sinking_rate import SinkingRate
from gudgeon.answers.tubbing import TubTest
from gudgeon.design.model import Design
from gudgeon.physics.hull import SideArea
from gudgeon.physics.lure import Lure
from gudgeon.physics.spread import Estimate


@dataclass(frozen=True)
class Size:
    """A body's outside [m]."""

    length: float
    depth: float
    width: float


@dataclass(frozen=True)
class Casting:
    """What the rod has to throw [kg].

    weight : of the finished lure with snap and leader
    least, most : what the rod takes; None when not told
    """

    weight: Estimate
    least: float | None
    most: float | None


@dataclass(frozen=True)
class Weighed:
    """What is known first of one design: the ballast, and what it then does in its water.

    lure        : with the ballast that is to go in
    drawn       : as it stands, with what is in its pockets now
    ballast     : what to put in; None when the maker leaves no pocket free
    rate        : float or sink with the ballast in
    doubts      : what was measured or written that does not fit, the worst first
    """

    design: Design
    lure: Lure
    drawn: Lure
    volume: Estimate
    ballast: Ballasting | None
    rate: SinkingRate
    lying: Lying
    doubts: tuple[Finding, ...]

    @property
    def slip(self) -> Finding | None:
        """What is hardly anything but a slip; the rest rests on it."""
        return self.doubts[0] if self.doubts and self.doubts[0].gravity is Gravity.WRONG else None


@dataclass(frozen=True)
class Check(Weighed):
    """All answers for one design.

    now         : float or sink as it stands
    shot        : the ballast in whole shot; None when there are none in stock
    clearances, shot_clearances : of the bores for solid ballast, and for whole shot
    """

    finished_size: Size
    bare_size: Size
    wood_density: Estimate
    wood_known_by: str
    blank: Estimate
    above_eye: SideArea
    below_eye: SideArea
    now: SinkingRate
    shot: Ballasting | None
    clearances: tuple[Clearance, ...]
    shot_clearances: tuple[Clearance, ...]
    pieces: tuple[PieceAnswer, ...]
    elsewhere: tuple[OtherWater, ...]
    tub: TubTest
    casting: Casting
    measurement: Measurement | None
    widest_source: str
    findings: tuple[Finding, ...]
