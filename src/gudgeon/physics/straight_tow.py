"""What holds a towed lure back while it runs straight: its own skin and ends, what hangs on it, its lip."""

from dataclasses import dataclass

import numpy as np

from gudgeon.physics.chain import Chain
from gudgeon.physics.lifting_plate import normal_coefficient


@dataclass(frozen=True)
class StraightDrag:
    """Drag coefficient times area of each kind [m2]; the pull is 1/2 rho U^2 times their sum.

    skin     : friction and form of the wood and a fin
    ends     : the blunt rear end and the joints' cuts
    hardware : hooks, rings, eyes, leader
    lip      : its push, fore and aft
    """

    skin: float
    ends: float
    hardware: float
    lip: float

    @property
    def whole(self) -> float:
        """Their sum [m2]."""
        return self.skin + self.ends + self.hardware + self.lip


def straight_drag(chain: Chain) -> StraightDrag:
    """Drag areas of a chain towed straight ahead, level, its joints straight."""
    strips, plates = chain.strips, chain.plates
    slant = np.arcsin(np.clip(np.abs(plates.normal[:, 0]), 0.0, 1.0))
    push = normal_coefficient(slant, potential=plates.potential_slope, edge=plates.edge_slope, most=plates.most_normal)
    return StraightDrag(
        skin=float((strips.friction * strips.perimeter) @ strips.length),
        ends=float(chain.pieces.base_drag_area.sum()), hardware=float(chain.points.drag_area.sum()),
        lip=float((push * plates.area) @ np.abs(plates.normal[:, 0])),
    )  # fmt: skip
