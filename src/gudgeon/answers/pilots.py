"""Pilot holes for eyes: how wide, and which of them no bit reaches until the square ends are sawn off."""

from gudgeon.answers.boring import LONGEST_BORE
from gudgeon.answers.hinge_parts import ROOT_SHARE
from gudgeon.answers.shanks import fitting_shank, goes_in, has_shank, hinge_eye_shanks
from gudgeon.design.bench import Board
from gudgeon.design.hardware import Fitting
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure
from gudgeon.physics.shapes import Rod

SHANK_FIT = 1e-4  # m a hole for a plain or twisted shank is wider than it; common practice, no source


def square_end(design: Design) -> float:
    """What is left beyond nose and tail while the blank is square [m]: the maker's, or the usual."""
    if design.board is not None:
        return max(design.board.ends, design.board.allowance)
    return max(float(Board.model_fields[name].default) for name in ("ends", "allowance"))


def pilot_width(fitting: Fitting, shank: Rod) -> float:
    """Of an eye's hole [m]: for a thread the root, for a plain or twisted shank all of it and a little."""
    across = 2.0 * shank.radius
    return ROOT_SHARE * across if fitting.shank_is == "threaded" else across + SHANK_FIT


def waits_for_ends(design: Design, lure: Lure, fitting: Fitting) -> bool:
    """Whether an eye's pilot runs in from nose or tail, and through the square end there is too deep for its bit."""
    wood = lure.bare_hull
    if not has_shank(fitting) or hinge_eye_shanks(lure, fitting) or goes_in(fitting, wood) not in ("front", "rear"):
        return False
    shank = fitting_shank(wood, fitting)
    to_end = shank.stop[0] - wood.start if goes_in(fitting, wood) == "front" else wood.stop - shank.stop[0]
    return to_end + square_end(design) > LONGEST_BORE * pilot_width(fitting, shank)
