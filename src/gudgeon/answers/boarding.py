"""A board by an offcut: its density, what a blank of it weighs, and how many blanks it gives."""

import math
from dataclasses import dataclass

from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.design.model import Uncertainty
from gudgeon.errors import Fault, Refusal
from gudgeon.library.woods import LEAST_DENSE_WOOD, MOST_DENSE_WOOD
from gudgeon.physics.immersion import box_density
from gudgeon.physics.spread import Estimate
from gudgeon.units import Reading

RULER = 2.5e-4  # m, half-width of a side read on a ruler
Size = tuple[float, float, float]


@dataclass(frozen=True)
class Cutting:
    """A board to cut: its size and a blank's, length first [m], and the saw's kerf [m]."""

    board: Size
    blank: Size
    kerf: float


@dataclass(frozen=True)
class Board:
    """What an offcut tells of its board.

    density     : [kg/m3]
    blank       : [kg] a shaped blank of the given volume; None without one
    square      : [kg] a square-cut blank, and count of them; None without sizes
    """

    density: Estimate
    blank: Estimate | None
    square: Estimate | None
    count: int | None
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


def board(weight: Reading, size: Size, *, volume: Reading | None = None, cutting: Cutting | None = None) -> Board:
    """The density of a square-cut offcut, and what follows.

    weight : [kg]     size : (3,) [m] of the offcut     volume : [m3] of a shaped blank
    raises : Refusal when no wood has such a density
    """
    rules = Uncertainty()
    finer = "measure the offcut with a calliper"
    scale = weight.spread_or(rules.scale)
    knowns = [Known("offcut", weight.value, scale, "weigh the offcut on a scale that reads 0.01 g", 2e-5)]
    knowns += [Known(side, length, RULER, finer, 5e-5) for side, length in zip(("length", "width", "height"), size,
                                                                             strict=True)]  # fmt: skip

    def density(n: Numbers) -> float:
        return box_density(n["offcut"], n["length"], n["width"], n["height"])

    found = estimate(density, knowns)
    _check(found.value)
    blank = None
    if volume is not None:
        shape = Known("volume", volume.value, volume.spread_or(rules.outline_volume * volume.value))
        blank = estimate(lambda n: density(n) * n["volume"], [*knowns, shape])
    square, count = None, None
    if cutting is not None:
        count = blanks_from(cutting)
        square = estimate(lambda n: density(n) * math.prod(cutting.blank), knowns)
    return Board(found, blank, square, count, narrowing(density, knowns), _warnings(found, count))


def blanks_from(cutting: Cutting) -> int:
    """How many square-cut blanks a board gives, grain along their length, in the better of the two ways across."""
    length, width, height = cutting.board
    long, wide, high = cutting.blank
    along = _pieces(length, long, cutting.kerf)
    ways = ((wide, high), (high, wide))
    return along * max(_pieces(width, a, cutting.kerf) * _pieces(height, b, cutting.kerf) for a, b in ways)


def _pieces(of: float, each: float, kerf: float) -> int:
    return int((of + kerf) / (each + kerf) + 1e-9)


def _check(density: float) -> None:
    if LEAST_DENSE_WOOD <= density <= MOST_DENSE_WOOD:
        return
    raise Refusal("this offcut cannot be wood", [Fault("--offcut, --size", f"{density / 1000:.3g} g/cm3: the lightest "
                  f"is about {LEAST_DENSE_WOOD / 1000:.2g}, the heaviest {MOST_DENSE_WOOD / 1000:.2g}; check the units "
                  "and the decimal points")])  # fmt: skip


def _warnings(density: Estimate, count: int | None) -> tuple[Finding, ...]:
    found: list[Finding] = []
    if count == 0:
        found.append(wrong("the board is too small for one such blank with its grain along it"))
    if density.spread > 0.03 * density.value:
        found.append(watch("so small an offcut tells little: cut a longer one, or measure with a calliper"))
    found.append(note("inside one board 7 % from piece to piece is ordinary: weigh each blank all the same"))
    return worst_first(found)
