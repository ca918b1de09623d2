"""Dimensions after ISO 129 on a view at full size: lines with their arrows, figures over them, words in places.

All places are millimetres of the drawing. Words have their size on paper, whatever a printer's correction makes of the
drawing: `Gauge` tells how large they are there.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from gudgeon.report.paper import TEXT, width_of
from gudgeon.report.strokes import Array, Box, Line, Point, Stroke, path

Side = Literal["left", "middle", "right"]
PITCH = 3.8  # mm of paper from one line of words to the next
_HEAD, _HALF_HEAD = 2.4, 0.45  # mm, an arrow's length and half its width
_BEYOND, _OFF = 1.0, 0.6  # mm an extension line runs past its dimension line, and stays off what it is drawn from
_OVER = 0.7  # mm between a dimension line and its figure
_FIGURE = 2.2  # mm of paper, how tall a figure is


@dataclass(frozen=True)
class Text:
    """Words on one line, the left end, middle or right end of their foot at `at` [mm]."""

    at: Point
    words: str
    side: Side = "left"
    is_bold: bool = False
    size: float = TEXT


@dataclass(frozen=True)
class Gauge:
    """How large things of paper are on a drawing.

    factor : millimetres on the sheet to one of the drawing
    """

    factor: float

    def paper(self, size: float) -> float:
        """Millimetres of the drawing that `size` millimetres of paper are."""
        return size / self.factor

    def wide(self, text: Text) -> float:
        """[mm] of the drawing."""
        return self.paper(width_of(text.words, text.size, bold=text.is_bold))

    def box(self, text: Text) -> Box:
        """What words cover [mm] of the drawing."""
        wide, (x, y) = self.wide(text), text.at
        left = {"left": x, "middle": x - 0.5 * wide, "right": x - wide}[text.side]
        tall = self.paper(_FIGURE * text.size / TEXT)
        return left, y - self.paper(0.7), left + wide, y + tall


@dataclass(frozen=True, eq=False)
class View:
    """Lines, arrow heads and words.

    heads : (3, 2) [mm] each, filled
    """

    strokes: tuple[Stroke, ...] = ()
    texts: tuple[Text, ...] = ()
    heads: tuple[Array, ...] = ()

    def moved(self, right: float, up: float) -> "View":
        """The same, elsewhere [mm]."""
        by = np.array([right, up])
        return View(tuple(replace(stroke, points=stroke.points + by) for stroke in self.strokes),
                    tuple(replace(text, at=(text.at[0] + right, text.at[1] + up)) for text in self.texts),
                    tuple(head + by for head in self.heads))  # fmt: skip

    def box(self, gauge: Gauge) -> Box:
        """All that it covers [mm], words as they are on paper."""
        ends = [(*points.min(axis=0), *points.max(axis=0))
                for points in (*(stroke.points for stroke in self.strokes), *self.heads)]  # fmt: skip
        all_ends = np.array([*ends, *(gauge.box(text) for text in self.texts)])
        left, bottom = all_ends[:, :2].min(axis=0)
        right, top = all_ends[:, 2:].max(axis=0)
        return float(left), float(bottom), float(right), float(top)


def together(views: Sequence[View]) -> View:
    """Several as one."""
    return View(tuple(stroke for view in views for stroke in view.strokes),
                tuple(text for view in views for text in view.texts),
                tuple(head for view in views for head in view.heads))  # fmt: skip


def arrow(tip: Point, way: Point, gauge: Gauge) -> Array:
    """An arrow's head (3, 2) whose point is at `tip`; `way` is the direction it points in."""
    along = np.array(way) / math.hypot(*way)
    across = np.array([-along[1], along[0]])
    foot = np.array(tip) - gauge.paper(_HEAD) * along
    return np.array([tip, foot + gauge.paper(_HALF_HEAD) * across, foot - gauge.paper(_HALF_HEAD) * across])


def level_size(
    ends: tuple[float, float], line: float, words: str, gauge: Gauge, *, start: tuple[float, float],
    beside: Literal["left", "right"] = "right", clear: float | None = None,
) -> View:  # fmt: skip
    """A length along the drawing.

    ends  : (2,) [mm] of it, in any order     line : [mm] height of its line
    start : (2,) [mm] heights that the extension lines begin at, for each of the ends
    beside : on which side its figure stands where there is no room over its line
    clear : [mm] beyond which it then stands; close by when left out
    """
    (low, high), starts = sorted(ends), [at for _, at in sorted(zip(ends, start, strict=True))]
    out = gauge.paper(_BEYOND)
    toward = [1.0 if line > at else -1.0 for at in starts]
    strokes = [path(Line.THIN, [(x, at + way * gauge.paper(_OFF)), (x, line + way * out)])
               for x, at, way in zip((low, high), starts, toward, strict=True)]  # fmt: skip
    over = line + gauge.paper(_OVER)
    text = Text((0.5 * (low + high), over), words, "middle")
    if gauge.wide(text) + gauge.paper(1.0) <= high - low and high - low >= gauge.paper(2.0 * _HEAD + 1.0):
        strokes.append(path(Line.THIN, [(low, line), (high, line)]))
        heads = (arrow((low, line), (-1.0, 0.0), gauge), arrow((high, line), (1.0, 0.0), gauge))
        return View(tuple(strokes), (text,), heads)
    tail = gauge.paper(2.0 * _HEAD)
    if beside == "right":
        at = max(high + tail, high if clear is None else clear + gauge.paper(1.0))
        text = Text((at, over), words)
        run = (low - tail, at + gauge.wide(text))
    else:
        at = min(low - tail, low if clear is None else clear - gauge.paper(1.0))
        text = Text((at, over), words, "right")
        run = (at - gauge.wide(text), high + tail)
    strokes.append(path(Line.THIN, [(run[0], line), (run[1], line)]))
    heads = (arrow((low, line), (1.0, 0.0), gauge), arrow((high, line), (-1.0, 0.0), gauge))
    return View(tuple(strokes), (text,), heads)


def upright_size(
    ends: tuple[float, float], line: float, words: str, gauge: Gauge, *, start: tuple[float, float], side: Side
) -> View:
    """A height; its figure stands level beside its line.

    ends  : (2,) [mm] heights     line : [mm] where its line runs
    start : (2,) [mm] where along the drawing the extension lines begin, for each of the ends
    side  : of its line, on which the figure stands
    """
    (low, high), starts = sorted(ends), [at for _, at in sorted(zip(ends, start, strict=True))]
    toward = [1.0 if line > at else -1.0 for at in starts]
    strokes = [path(Line.THIN, [(at + way * gauge.paper(_OFF), y), (line + way * gauge.paper(_BEYOND), y)])
               for y, at, way in zip((low, high), starts, toward, strict=True)]  # fmt: skip
    inside = high - low >= gauge.paper(2.0 * _HEAD)
    tail = 0.0 if inside else gauge.paper(2.0 * _HEAD)
    strokes.append(path(Line.THIN, [(line, low - tail), (line, high + tail)]))
    way = -1.0 if inside else 1.0
    heads = (arrow((line, low), (0.0, way), gauge), arrow((line, high), (0.0, -way), gauge))
    at = line + gauge.paper(1.2) * (1.0 if side == "left" else -1.0)
    return View(tuple(strokes), (Text((at, 0.5 * (low + high) - gauge.paper(1.0)), words, side),), heads)


def angle_size(
    corner: Point, arms: tuple[float, float], radius: float, words: str, gauge: Gauge, *, side: Side
) -> View:
    """An angle between two arms that point down from a corner, its figure under the end of the first.

    corner : [mm]      arms : (2,) [rad]      radius : [mm] of its arc
    side   : how the figure stands there
    """
    turn = np.linspace(arms[0], arms[1], 24)
    arc = np.stack([corner[0] + radius * np.cos(turn), corner[1] + radius * np.sin(turn)], axis=1)
    heads: list[Array] = []
    if radius * abs(arms[1] - arms[0]) >= gauge.paper(2.0 * _HEAD + 0.5):  # a shorter arc ends on its arms
        step = 1.0 if arms[1] > arms[0] else -1.0
        for arm, way, end in ((arms[0], -step, arc[0]), (arms[1], step, arc[-1])):
            heads.append(arrow((float(end[0]), float(end[1])), (-way * math.sin(arm), way * math.cos(arm)), gauge))
    gap = gauge.paper(0.8) * (1.0 if side == "left" else -1.0)
    text = Text((float(arc[0, 0]) + gap, float(arc[:, 1].min()) - gauge.paper(3.4)), words, side)
    return View((path(Line.THIN, arc),), (text,), tuple(heads))


def leader(tip: Point, knee: Point, words: Sequence[str], gauge: Gauge, *, side: Side) -> View:
    """Words on a leader whose arrow touches `tip`; they stand from `knee` [mm] on, the last line level with it."""
    strokes = (path(Line.THIN, [tip, knee]),)
    at = knee[0] + gauge.paper(0.8) * (1.0 if side == "left" else -1.0)
    texts = tuple(Text((at, knee[1] - gauge.paper(1.0) + gauge.paper(PITCH) * row), line, side)
                  for row, line in enumerate(reversed(words)))  # fmt: skip
    return View(strokes, texts, (arrow(tip, (tip[0] - knee[0], tip[1] - knee[1]), gauge),))
