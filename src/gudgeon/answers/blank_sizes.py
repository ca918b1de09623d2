"""The square stock a lure is shaped from: where it ends, and what its joints cost it in length."""

from dataclasses import dataclass

import numpy as np

from gudgeon.answers.board_fit import body_of
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.papers import Papers
from gudgeon.answers.piece_of_wood import piece_of_wood
from gudgeon.answers.pilots import square_end
from gudgeon.design.bench import Board


@dataclass(frozen=True)
class SquareBlank:
    """The square stock that all is measured from while it is square.

    start, stop : [m] stations of its nose end and its tail end, counted along the body
    length      : [m] from end to end, the wood that joints cost in the sawing with it
    belly, back : [m] heights of its edges      half : [m] half its width, seen from above
    joints      : (station, length) [m] that each joint costs
    end         : [m] of it that stands over nose and tail until they are sawn off
    """

    start: float
    stop: float
    length: float
    belly: float
    back: float
    half: float
    joints: tuple[tuple[float, float], ...]
    end: float

    def from_end(self, station: float) -> float:
        """From its nose end [m] to a station of the body."""
        return station - self.start + sum(extra for at, extra in self.joints if station > at)


def square_blank(papers: Papers) -> SquareBlank:
    """The blank as the piece of wood is reckoned: the maker's allowances, or what his board gives of them, or the usual
    ones where no board is told."""
    design, lure = papers.check.design, papers.check.lure
    kerf, allowance = (
        (design.board.kerf, design.board.allowance) if design.board
        else (float(Board.model_fields[name].default) for name in ("kerf", "allowance"))
    )  # fmt: skip
    end = square_end(design)
    joints = tuple(_joint_cost(papers, place, kerf) for place in range(len(design.joints)))
    body, wood = body_of(lure.bare_hull, joints, end), lure.bare_hull
    over_side = over_top = allowance
    if design.board:
        need = piece_of_wood(design, lure).need
        over_side, over_top = need.over_side, need.over_top
    return SquareBlank(wood.start - end, wood.stop + end, body.length, float(body.low.min()) - over_side,
                       float(body.high.max()) + over_side, float(body.half.max()) + over_top, joints, end)  # fmt: skip


def _joint_cost(papers: Papers, place: int, kerf: float) -> tuple[float, float]:
    """What a joint costs in length where its pieces are sawn apart as they are drawn: station, [m]."""
    drawn, lure = papers.check.design.joints[place], papers.check.lure
    bare = joint_shape(drawn, lure.hull).bared(lure.build)
    out = np.linspace(0.0, float(lure.hull.side(np.array([drawn.at]))[0]), 40)
    return drawn.at, max(0.0, float(bare.front.station(out).max() - bare.rear.station(out).min()) + kerf)
