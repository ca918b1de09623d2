"""What the letters of an SVG path draw, as straight pieces and cubic Bezier curves.

source : W3C, Scalable Vector Graphics (SVG) 2, chapter 9 (paths) and appendix B.2 (arcs)
"""

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from gudgeon.physics.outline import Array

MOST_PIECES = 100_000  # of one path
_STEP = re.compile(r"\s*([MmLlHhVvCcSsQqTtAaZz])")
_NUMBER = re.compile(r"[\s,]*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)")
_FLAG = re.compile(r"[\s,]*([01])")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_PARTS_OF_A_TURN = 8  # Bezier curves to a whole one: each within 4 millionths of the radius
_FLAGS = (3, 4)  # which numbers of an arc are flags

Point = tuple[float, float]


class BadPath(ValueError):
    """What is wrong with a path, in words."""


@dataclass(frozen=True, eq=False)
class Run:
    """One stroke of the pen.

    pieces : (2, 2) straight, or (4, 2) a cubic Bezier curve, each from where the one before it ends
    closed : whether its end joins its beginning
    """

    pieces: tuple[Array, ...]
    closed: bool


def path_runs(words: str) -> list[Run]:
    """The strokes of a path's `d`; raises BadPath."""
    pen = _Pen()
    for step, numbers in _steps(words):
        pen.draw(step, numbers)
    return pen.done()


def straight_runs(points: list[Point], *, closed: bool) -> list[Run]:
    """A polyline or polygon."""
    if len(points) < 2:
        return []
    ends = points[1:] + points[:1] if closed else points[1:]
    return [Run(tuple(np.array([one, other]) for one, other in zip(points, ends, strict=False)), closed)]


def oval_runs(middle: Point, radii: Point) -> list[Run]:
    """A circle or an ellipse."""
    if min(radii) <= 0.0:
        return []
    return [Run(tuple(_turned(np.array(middle), radii, 0.0, 0.0, 2.0 * math.pi)), True)]


def numbers_in(words: str) -> list[float]:
    """All numbers of a list; raises BadPath when something else stands among them."""
    found, place = [], 0
    while (match := _NUMBER.match(words, place)) is not None:
        found.append(_bounded(match[1]))
        place = match.end()
        if len(found) > 2 * MOST_PIECES:
            raise BadPath(f"it has more than {MOST_PIECES} points")
    if words[place:].strip(" \t\r\n,"):
        raise BadPath(f"'{words[place : place + 20].strip()}' is no number")
    return found


def _bounded(words: str) -> float:
    value = float(words)
    if not abs(value) < 1e7:
        raise BadPath(f"{words[:20]} is too large")
    return value


def _steps(words: str) -> Iterator[tuple[str, list[float]]]:
    """Letters with the numbers of one step each; a letter left out is the one before it again."""
    place, count = 0, 0
    while words[place:].strip():
        letter = _STEP.match(words, place)
        if letter is None:
            raise BadPath(f"'{words[place : place + 20].strip()}' is no step of a path")
        step, place, first = letter[1], letter.end(), True
        while first or _NUMBER.match(words, place):
            numbers, place = _taken(words, place, step.upper())
            yield step, numbers
            count += 1
            if count > MOST_PIECES:
                raise BadPath(f"it has more than {MOST_PIECES} pieces")
            step, first = {"M": "L", "m": "l"}.get(step, step), False
            if step in "Zz":
                break


def _taken(words: str, place: int, step: str) -> tuple[list[float], int]:
    numbers: list[float] = []
    for number in range(_TAKES[step]):
        match = (_FLAG if step == "A" and number in _FLAGS else _NUMBER).match(words, place)
        if match is None:
            raise BadPath(f"a number is missing after '{step}'")
        numbers.append(_bounded(match[1]))
        place = match.end()
    return numbers, place


@dataclass(eq=False)
class _Pen:
    """Where the pen is, and what it has drawn."""

    at: Array = field(default_factory=lambda: np.zeros(2))
    begun: Array = field(default_factory=lambda: np.zeros(2))
    pieces: list[Array] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)
    last: str = ""

    def draw(self, step: str, numbers: list[float]) -> None:
        """One step; a small letter counts from where the pen is."""
        kind = step.upper()
        start = self.at if step.islower() else np.zeros(2)
        if kind == "Z":
            self._close()
        elif kind == "M":
            self._lift()
            self.at = self.begun = start + numbers
        elif kind in "LHV":
            self._line(kind, step.islower(), numbers, start)
        elif kind == "A":
            self._arc(start, numbers)
        else:
            self._curve(kind, start, numbers)
        self.last = kind

    def done(self) -> list[Run]:
        """Every stroke."""
        self._lift()
        return self.runs

    def _lift(self) -> None:
        if self.pieces:
            self.runs.append(Run(tuple(self.pieces), False))
        self.pieces = []

    def _close(self) -> None:
        if self.pieces:
            self.runs.append(Run((*self.pieces, np.array([self.at, self.begun])), True))
        self.pieces = []
        self.at = self.begun

    def _line(self, kind: str, is_further: bool, numbers: list[float], start: Array) -> None:
        if kind == "L":
            to = start + numbers
        else:
            axis, to = (0 if kind == "H" else 1), self.at.copy()
            to[axis] = numbers[0] + (self.at[axis] if is_further else 0.0)
        self._add(np.array([self.at, to]))

    def _curve(self, kind: str, start: Array, numbers: list[float]) -> None:
        given = [start + numbers[place : place + 2] for place in range(0, len(numbers), 2)]
        if kind in "ST":
            given = [self._reflected("CS" if kind == "S" else "QT"), *given]
        if len(given) == 2:  # one control point: the cubic that is the same curve
            knee, to = given
            self._knee = knee
            given = [self.at + 2.0 / 3.0 * (knee - self.at), to + 2.0 / 3.0 * (knee - to), to]
        else:
            self._knee = given[1]
        self._add(np.array([self.at, *given]))

    def _reflected(self, after: str) -> Array:
        """The control point mirrored at where the pen is; that place itself where no such curve came before."""
        return np.asarray(2.0 * self.at - self._knee) if self.last and self.last in after else self.at

    def _arc(self, start: Array, numbers: list[float]) -> None:
        first, second, askew, large, sweep = numbers[:5]
        to = start + numbers[5:]
        if not first or not second or np.allclose(to, self.at, rtol=0.0, atol=1e-12):
            self._add(np.array([self.at, to]))
            return
        for piece in _arc_pieces(self.at, to, (abs(first), abs(second)), math.radians(askew), large > 0.0, sweep > 0.0):
            self._add(piece)

    def _add(self, piece: Array) -> None:
        self.pieces.append(piece)
        self.at = piece[-1]


def _arc_pieces(start: Array, to: Array, radii: Point, askew: float, large: bool, sweep: bool) -> Iterator[Array]:
    """An elliptical arc between two points: middle and angles by SVG 2, B.2.4, radii grown where they do not reach."""
    turn = np.array([[math.cos(askew), math.sin(askew)], [-math.sin(askew), math.cos(askew)]])
    half = turn @ (0.5 * (start - to))
    first, second = radii
    reach = (half[0] / first) ** 2 + (half[1] / second) ** 2
    if reach > 1.0:
        first, second = first * math.sqrt(reach), second * math.sqrt(reach)
    square = max(0.0, 1.0 / max(reach, 1e-18) - 1.0) if reach <= 1.0 else 0.0
    side = math.sqrt(square) * (1.0 if large != sweep else -1.0)
    inner = side * np.array([first * half[1] / second, -second * half[0] / first])
    middle = turn.T @ inner + 0.5 * (start + to)
    begin, end = (math.atan2((sign * half[1] - inner[1]) / second, (sign * half[0] - inner[0]) / first)
                  for sign in (1.0, -1.0))  # fmt: skip
    through = (end - begin) % (2.0 * math.pi)
    yield from _turned(middle, (first, second), askew, begin, through if sweep else through - 2.0 * math.pi)


def _turned(middle: Array, radii: Point, askew: float, begin: float, through: float) -> Iterator[Array]:
    """An arc about a middle as Bezier curves."""
    count = max(1, math.ceil(abs(through) / (2.0 * math.pi) * _PARTS_OF_A_TURN))
    step = through / count
    handle = 4.0 / 3.0 * math.tan(0.25 * step)
    turn = np.array([[math.cos(askew), -math.sin(askew)], [math.sin(askew), math.cos(askew)]]) * np.array(radii)
    for place in range(count):
        one, other = begin + place * step, begin + (place + 1) * step
        ends = [np.array([math.cos(angle), math.sin(angle)]) for angle in (one, other)]
        ways = [np.array([-math.sin(angle), math.cos(angle)]) for angle in (one, other)]
        unit = np.array([ends[0], ends[0] + handle * ways[0], ends[1] - handle * ways[1], ends[1]])
        yield unit @ turn.T + middle
