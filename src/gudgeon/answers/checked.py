"""What a check of one design holds: every answer, complete."""

from dataclasses import dataclass

from gudgeon.answers.ballasting import Ballasting
from gudgeon.answers.clearance import Clearance
from gudgeon.answers.elsewhere import OtherWater
from gudgeon.answers.finding import Finding
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
class Check:
    """All answers for one design.

    lure        : with the ballast that is to go in
    drawn       : as it stands, with what is in its pockets now
    now         : float or sink as it stands
    ballast     : what to put in; None when the maker leaves no pocket free
    shot        : the same in whole shot; None when there are none in stock
    rate        : float or sink with the ballast in
    """

    design: Design
    lure: Lure
    drawn: Lure
    finished_size: Size
    bare_size: Size
    volume: Estimate
    wood_density: Estimate
    wood_known_by: str
    blank: Estimate
    above_eye: SideArea
    below_eye: SideArea
    now: SinkingRate
    ballast: Ballasting | None
    shot: Ballasting | None
    clearances: tuple[Clearance, ...]
    rate: SinkingRate
    lying: Lying
    pieces: tuple[PieceAnswer, ...]
    elsewhere: tuple[OtherWater, ...]
    tub: TubTest
    casting: Casting
    measurement: Measurement | None
    widest_source: str
    findings: tuple[Finding, ...]
