"""A fin's slot in the wood: from where the bare body ends to the tang's inner edge."""

from dataclasses import dataclass

import numpy as np

from gudgeon.design.hardware import Fin
from gudgeon.physics.hull import Hull
from gudgeon.physics.plate import fin_tang


@dataclass(frozen=True)
class FinSlot:
    """A fin's slot, seen from the side.

    mouth, end : [m] stations where the fin's middle leaves the wood, and of the tang's inner edge
    tall       : [m] of the tang
    is_open    : the tang is higher than the body there, so the slot is sawn right through from back to belly
    """

    mouth: float
    end: float
    tall: float
    is_open: bool

    @property
    def depth(self) -> float:
        """[m] along the centre line."""
        return self.mouth - self.end


def fin_slot(wood: Hull, drawn: Fin) -> FinSlot | None:
    """The slot of a fin in the wood, bare or finished; None for a fin stuck on."""
    tang = fin_tang(set_in=drawn.set_in, tall=drawn.tall)
    if tang is None:
        return None
    mouth, end, tall = min(drawn.at, wood.stop), drawn.at - drawn.set_in, float(np.ptp(tang.outline[:, 1]))
    ends = np.clip(np.array([end, mouth]), wood.start, wood.stop)
    over = float((drawn.height + 0.5 * tall - wood.back(ends)).max())
    under = float((wood.belly(ends) - drawn.height + 0.5 * tall).max())
    return FinSlot(mouth, end, tall, max(over, under) > 0.0)
