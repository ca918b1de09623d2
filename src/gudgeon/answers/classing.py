"""Which trade word a sink or rise rate earns. The trade has no standard, so a word is always shown with its limits.

Limits: common practice, no source; in seconds per foot. The band between slow floater and suspender had no word
of its own and is called very slow floater here, as its twin on the sinking side is.
"""

import math
from dataclasses import dataclass

from gudgeon.physics.estimate import Estimate
from gudgeon.units import FOOT


@dataclass(frozen=True)
class Rate:
    """How a lure sinks or rises: signed velocity [m/s], and the classes its range covers."""

    velocity: Estimate
    words: str


@dataclass(frozen=True)
class FloatClass:
    """A class of float or sink.

    word   : the trade's
    limits : the seconds per foot it runs between, in words
    slow   : [m/s] the end nearer to hanging still, down positive
    fast   : [m/s] the other end; infinite where there is none
    """

    word: str
    limits: str
    slow: float
    fast: float


def _up(word: str, limits: str, slow: float, fast: float) -> FloatClass:
    return FloatClass(word, limits, -FOOT / slow, -FOOT / fast if fast else -math.inf)


def _down(word: str, limits: str, slow: float, fast: float) -> FloatClass:
    return FloatClass(word, limits, FOOT / slow, FOOT / fast if fast else math.inf)


SUSPENDER = FloatClass("suspender", "less than 1 ft in 15 s either way", 0.0, FOOT / 15.0)
FLOATERS = (
    _up("very slow floater", "up 1 ft in 8 to 15 s", 15.0, 8.0),
    _up("slow floater", "up 1 ft in 3 to 8 s", 8.0, 3.0),
    _up("floater", "up 1 ft in 1 to 3 s", 3.0, 1.0),
    _up("fast floater", "up 1 ft in less than 1 s", 1.0, 0.0),
)
SINKERS = (
    _down("very slow sinker", "down 1 ft in 5 to 15 s", 15.0, 5.0),
    _down("slow sinker", "down 1 ft in 3 to 5 s", 5.0, 3.0),
    _down("medium sinker", "down 1 ft in 1.5 to 3 s", 3.0, 1.5),
    _down("fast sinker", "down 1 ft in less than 1.5 s", 1.5, 0.0),
)
CLASSES = (*reversed(FLOATERS), SUSPENDER, *SINKERS)


def class_of(velocity: float) -> FloatClass:
    """The class of a steady sink or rise; velocity : [m/s] down positive. A rate on a limit takes the slower class."""
    speed = abs(velocity)
    if speed <= SUSPENDER.fast:
        return SUSPENDER
    for found in SINKERS if velocity > 0.0 else FLOATERS:
        if speed <= abs(found.fast) * (1.0 + 1e-9):
            return found
    raise ValueError(f"{velocity} m/s is no rate")


def class_words(velocity: Estimate) -> str:
    """The classes that the range of a velocity [m/s] covers: "slow sinker", or "very slow sinker to medium sinker".

    A range that reaches to both sides of hanging still reads "floats to sinks", unless it stays a suspender.
    """
    low, high = class_of(velocity.low), class_of(velocity.high)
    if low is high:
        return low.word
    if velocity.low < 0.0 < velocity.high:
        return "floats to sinks"
    slow, fast = (low, high) if velocity.high > 0.0 else (high, low)
    return f"{slow.word} to {fast.word}"


def middle_words(middle: str, word: str) -> str:
    """The class of the middle of a range, as the limits of that class are labelled; word : of the whole range."""
    return middle if middle == word else f"its middle, {middle}"
