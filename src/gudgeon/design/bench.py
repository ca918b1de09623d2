"""What lies on the bench: the board, the tackle it is meant for, prices."""

from typing import Annotated, Literal

from pydantic import Field

from gudgeon.design.table import Table
from gudgeon.units import Force, Length, Station


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


class Price(Table):
    """What one thing costs, in the maker's own money."""

    item: str
    each: Annotated[float, Field(ge=0.0, le=1e6)]
    per: Literal["piece", "100 g"] = "piece"
