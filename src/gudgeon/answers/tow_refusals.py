"""Why a lure cannot be towed on paper: nothing to tie to, joints that do not turn, too many pieces."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from gudgeon.answers.pull_path import tow_eye
from gudgeon.answers.tow_hinges import TowHinge
from gudgeon.design.model import Design
from gudgeon.errors import Fault, NoAnswer
from gudgeon.physics.carried import Carried
from gudgeon.physics.lure import Lure, segment_at

MOST_PIECES = 5
"""Pieces of wood that the towed model is trusted with."""
LEAST_TURN = math.radians(0.1)
_LEAST_PIECE = 2e-3  # m from hinge to hinge, and from the last one to the end of the wood


def check_towable(design: Design, lure: Lure, hinges: Sequence[TowHinge]) -> None:
    """Refuses a lure that cannot be towed.

    raises : NoAnswer with every reason
    """
    faults = [*_pieces(lure, hinges), *_eye(design, lure), *_fin(design, lure)]
    if faults:
        raise NoAnswer("this lure cannot be towed", tuple(faults))


def check_solid(names: Sequence[str], pieces: Sequence[Carried]) -> None:
    """Refuses a lure of which a piece is more hole than wood: it could not be turned about.

    raises : NoAnswer with every such piece
    """
    faults = [Fault(f"segment '{name}'", "is more hole than wood: bores, slots and hinges take all that it has")
              for name, one in zip(names, pieces, strict=True)
              if not np.linalg.eigvalsh(one.inertia)[0] > 0.0]  # fmt: skip
    if faults:
        raise NoAnswer("this lure cannot be towed", tuple(faults))


def _pieces(lure: Lure, hinges: Sequence[TowHinge]) -> Iterator[Fault]:
    pieces = len(lure.segments)
    if pieces > MOST_PIECES:
        yield Fault("joint", f"{pieces} pieces; what is known of jointed lures in the water ends at {MOST_PIECES}")
    ends = [lure.hull.start, *(hinge.station for hinge in hinges), lure.hull.stop]
    for number, (before, after) in enumerate(pairwise(ends), start=1):
        if after - before < _LEAST_PIECE:
            yield Fault(f"joint {min(number, len(hinges))}.pivot",
                        f"leaves piece {number} no length between its hinges; move the pivot")  # fmt: skip
    for number, hinge in enumerate(hinges, start=1):
        if hinge.turns < LEAST_TURN:
            yield Fault(f"joint {number}", "does not turn: wood meets wood, or the hinge its slot, at once; open its "
                        "gap or slope its faces")  # fmt: skip
    for place, segment in enumerate(lure.segments):
        sums = lure.sums(lure.chosen(segment=place))
        if not (sums.mass > 0.0 and sums.volume > 0.0):
            yield Fault(f"segment '{segment.name}'", "weighs or displaces nothing once its holes are bored")


def _eye(design: Design, lure: Lure) -> Iterator[Fault]:
    eye = tow_eye(design)
    if eye is None:
        yield Fault("fitting", 'there is nothing to tie the line to; give a [[fitting]] with kind = "tow eye"')
    elif segment_at(lure.segments, eye.at)[0] != 0:
        yield Fault(f"fitting '{eye.name}'.at",
                    "ties the line behind the first joint; only a lure towed by its head is known")  # fmt: skip


def _fin(design: Design, lure: Lure) -> Iterator[Fault]:
    if design.fin is None:
        return
    piece = segment_at(lure.segments, min(design.fin.at, lure.hull.stop))[0]
    if piece != len(lure.segments) - 1:
        name = lure.segments[piece].name
        yield Fault("fin.at", f"is on the {name}; only a tail fin on the last piece is known")
