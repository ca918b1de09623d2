"""Curves on paper: one quantity against another, with the range that holds it as thin dashed lines."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil, floor, log10

from reportlab.graphics import renderPDF
from reportlab.graphics.charts.lineplots import LinePlot
from reportlab.graphics.shapes import Drawing, String
from reportlab.graphics.widgets.markers import makeMarker
from reportlab.lib.colors import black, grey

from gudgeon.report.paper import MM, TEXT, Pen

_LEFT, _BELOW, _ABOVE = 14.0, 11.0, 6.0  # mm round a plot for its figures and words


@dataclass(frozen=True)
class Point:
    """One place on a curve: where, how much, and the range."""

    at: float
    value: float
    low: float
    high: float


@dataclass(frozen=True)
class Plot:
    """One curve with its words: title, what runs across, and its points from left to right."""

    title: str
    across: str
    points: tuple[Point, ...]


def draw_plot(pen: Pen, plot: Plot, corner: tuple[float, float], size: tuple[float, float]) -> None:
    """A plot with its lower left corner at a place [mm], of a width and height [mm]."""
    wide, tall = size
    drawing = Drawing(wide * MM, tall * MM)
    chart = _chart(plot, wide, tall)
    drawing.add(chart)
    drawing.add(String(_LEFT * MM, (tall - 4.0) * MM, plot.title, fontName="Helvetica-Bold", fontSize=TEXT))
    drawing.add(String((_LEFT + 0.5 * (wide - _LEFT)) * MM, 1.0 * MM, plot.across, fontName="Helvetica", fontSize=TEXT,
                       textAnchor="middle"))  # fmt: skip
    renderPDF.draw(drawing, pen.canvas, corner[0] * MM, corner[1] * MM)


def _chart(plot: Plot, wide: float, tall: float) -> LinePlot:
    chart = LinePlot()
    chart.x, chart.y = _LEFT * MM, _BELOW * MM
    chart.width, chart.height = (wide - _LEFT - 2.0) * MM, (tall - _BELOW - _ABOVE) * MM
    points = plot.points
    chart.data = [[(point.at, getattr(point, part)) for point in points] for part in ("value", "low", "high")]
    chart.joinedLines = 1
    for number, (width, dashes, colour) in enumerate(((1.4, None, black), (0.4, (2, 2), grey), (0.4, (2, 2), grey))):
        line = chart.lines[number]
        line.strokeWidth, line.strokeColor = width, colour
        if dashes:
            line.strokeDashArray = dashes
    chart.lines[0].symbol = makeMarker("FilledCircle", size=3.5)
    for axis, most in ((chart.xValueAxis, _most(point.at for point in points)),
                       (chart.yValueAxis, _most(point.high for point in points))):  # fmt: skip
        axis.valueMin, axis.valueMax, axis.valueStep = 0.0, *_rounded(most)
        axis.labels.fontName, axis.labels.fontSize = "Helvetica", TEXT
        axis.strokeWidth, axis.visibleGrid, axis.gridStrokeWidth, axis.gridStrokeColor = 0.6, 1, 0.2, grey
        axis.labelTextFormat = "%g"
    return chart


def _most(values: Iterable[float]) -> float:
    return max(values, default=1.0)


def _rounded(most: float) -> tuple[float, float]:
    """The end of an axis and its steps: four or five steps of 1, 2 or 5 times a power of ten."""

    rough = max(most, 1e-9) / 4.0
    power = 10.0 ** floor(log10(rough))
    step = next(size * power for size in (1.0, 2.0, 5.0, 10.0) if size * power >= rough)
    return ceil(most / step - 1e-9) * step, step
