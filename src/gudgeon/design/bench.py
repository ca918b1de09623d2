"""What lies on the bench: the board, the tackle it is meant for, prices."""

from collections.abc import Mapping
from typing import Annotated, Literal

from pydantic import Field

from gudgeon.design.table import Table
from gudgeon.units import BEATS, FORCE, SPEED, Force, Length, Reading, Station


class Flaw(Table):
    """A knot, crack or shake in the board."""

    what: Literal["knot", "crack", "shake", "sapwood edge", "other"] = "knot"
    at: Station  # its middle, from the board's end
    long: Length  # along the grain
    across: Station = 0.0  # its middle, from the board's edge
    wide: Length | None = None  # across the grain; the board's whole width when left out


class Board(Table):
    """The piece of wood that is really there."""

    length: Length
    width: Length
    thickness: Length
    far_width: Length | None = None  # at its other end, when it tapers
    far_thickness: Length | None = None
    kerf: Station = 0.002  # the saw's
    allowance: Station = 0.003  # left on every side for shaping
    ends: Station = 0.010  # left at each end, square, for a reference until last
    flaws: tuple[Flaw, ...] = Field(default=(), alias="flaw")


class Tackle(Table):
    """What pulls: the line class and the drag it is fished with."""

    line: Force | None = None  # breaking load
    drag: Force | None = None  # a third of the line's when left out


class Tow(Table):
    """The last stretch of line ahead of the lure, and what stands between it and the tow eye."""

    line: Literal["nylon", "fluorocarbon", "braid", "wire"] = "nylon"
    diameter: Length | None = None  # by the load [tackle] line breaks at; 0.35 mm when that is not told either
    length: Length = 2.0  # from the lure to where the line runs straight and level
    leader: Length | None = None  # length of a leader; none when left out
    leader_diameter: Length | None = None

    @classmethod
    def unmet(cls, given: Mapping[str, object]) -> list[str]:
        """A leader has both its sizes."""
        if ("leader" in given) == ("leader_diameter" in given):
            return []
        return ["give a leader both its length, leader, and its leader_diameter"]


class DockTest(Table):
    """One tow at the water: how fast, and what was counted, pulled or seen."""

    speed: Annotated[float, SPEED]
    beats: Annotated[Reading, BEATS] | None = None  # from slow-motion video
    pull: Annotated[Reading, FORCE] | None = None  # on a spring balance
    taped: bool = False  # joints taped straight for the pull
    lists: bool = False  # the speed at which it first lies over

    @classmethod
    def unmet(cls, given: Mapping[str, object]) -> list[str]:
        """Something was seen, and a taped lure does not beat."""
        found = []
        if not ("beats" in given or "pull" in given or given.get("lists")):
            found.append('say what was seen: beats = "1.6 ± 0.1 beats/s", pull = "40 g" or lists = true')
        if given.get("taped") and "beats" in given:
            found.append("with its joints taped it does not beat; give beats in a [[dock]] of their own")
        if given.get("taped") and "pull" not in given:
            found.append("a taped tow is done for its pull; give pull")
        return found


class Price(Table):
    """What one thing costs, in the maker's own money."""

    item: str
    each: Annotated[float, Field(ge=0.0, le=1e6)]
    per: Literal["piece", "100 g"] = "piece"
