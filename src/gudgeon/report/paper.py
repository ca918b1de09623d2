"""Paper in millimetres: sheets, and the pen that draws on them. The only place that knows how a PDF is made."""

import unicodedata
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from typing import Literal

from reportlab import rl_config
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from gudgeon.report.strokes import Array, Box, Line, Stroke

PaperName = Literal["A4", "Letter"]
PAPERS: dict[PaperName, tuple[float, float]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height [mm], upright: ISO 216; 8 1/2 by 11 in."""

MM = 72.0 / 25.4  # PDF units
TEXT = 8.0  # points; nothing is set smaller
FILING_EDGE, OTHER_EDGE = 20.0, 10.0  # mm from the sheet's edge to the frame, ISO 5457
rl_config.useA85 = 0  # pages as bytes, not as letters: a fifth smaller and a quarter sooner done
_PLAIN, _BOLD = "Helvetica", "Helvetica-Bold"
_POINT = 25.4 / 72.0  # mm


@dataclass(frozen=True)
class Sheet:
    """One side of paper.

    title      : what is on it
    true_scale : drawn at true scale: the long edge level, with the bars to measure first
    draw       : puts it there
    scale      : what its title block says where it is not drawn at true scale
    """

    title: str
    true_scale: bool
    draw: Callable[["Pen"], None]
    scale: str = "-"


@dataclass(frozen=True)
class Frame:
    """The space inside the frame of a sheet [mm] from the sheet's lower left corner."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """[mm]"""
        return self.right - self.left

    @property
    def height(self) -> float:
        """[mm]"""
        return self.top - self.bottom


def frame_of(paper: PaperName, *, lying: bool) -> Frame:
    """The frame of a sheet: 20 mm on the filing edge, 10 mm on the others (ISO 5457)."""
    width, height = PAPERS[paper][::-1] if lying else PAPERS[paper]
    return Frame(FILING_EDGE, OTHER_EDGE, width - OTHER_EDGE, height - OTHER_EDGE)


def printable(words: str) -> str:
    """Words with what the fonts cannot draw put as near as can be: a letter without its mark, or a question mark."""
    return words if _has_fonts(words) else "".join(letter if _has_fonts(letter) else _plain(letter) for letter in words)


def _has_fonts(words: str) -> bool:
    try:
        words.encode("cp1252")
    except UnicodeEncodeError:
        return False
    return True


def _plain(letter: str) -> str:
    return unicodedata.normalize("NFKD", letter).encode("cp1252", "ignore").decode("cp1252") or "?"


def width_of(words: str, size: float = TEXT, *, bold: bool = False) -> float:
    """How wide words are [mm], set at `size` [points]."""
    return float(stringWidth(printable(words), _BOLD if bold else _PLAIN, size)) * _POINT


def wrapped(words: str, room: float, size: float = TEXT, *, bold: bool = False) -> tuple[str, ...]:
    """Words in lines no wider than `room` [mm]; a word that is wider by itself is parted."""
    lines: list[str] = []
    line = ""
    for word in _parted(words, room, size, bold=bold):
        longer = f"{line} {word}" if line else word
        if line and width_of(longer, size, bold=bold) > room:
            lines.append(line)
            line = word
        else:
            line = longer
    return (*lines, line)


def _parted(words: str, room: float, size: float, *, bold: bool) -> Iterator[str]:
    for word in words.split():
        rest = word
        while len(rest) > 1 and width_of(rest, size, bold=bold) > room:
            fits = max(1, int(len(rest) * room / width_of(rest, size, bold=bold)) - 1)
            while fits > 1 and width_of(rest[:fits], size, bold=bold) > room:  # wide letters stand first
                fits -= 1
            yield rest[:fits]
            rest = rest[fits:]
        yield rest


@dataclass(frozen=True)
class Pen:
    """Draws on one document, in millimetres from the lower left corner of the sheet in hand."""

    canvas: Canvas

    def stroke(self, stroke: Stroke) -> None:
        """A polyline."""
        self.line(stroke.line, stroke.points, closed=stroke.closed)

    def line(self, line: Line, points: Array | Sequence[tuple[float, float]], *, closed: bool = False) -> None:
        """A polyline in a kind of line."""
        self._set(line)
        path = self.canvas.beginPath()
        for place, (x, y) in enumerate(points):
            (path.lineTo if place else path.moveTo)(x * MM, y * MM)
        if closed:
            path.close()
        self.canvas.drawPath(path)

    def words(
        self, x: float, y: float, words: str, *, size: float = TEXT, bold: bool = False,
        side: Literal["left", "middle", "right"] = "left",
    ) -> None:  # fmt: skip
        """One line of words; `x`, `y` is the left end, middle or right end of its foot."""
        self.canvas.setFont(_BOLD if bold else _PLAIN, size)
        draw = {"left": self.canvas.drawString, "middle": self.canvas.drawCentredString,
                "right": self.canvas.drawRightString}[side]  # fmt: skip
        draw(x * MM, y * MM, printable(words))

    def blank(self, box: Box) -> None:
        """White paper again, so that words stand clear of lines."""
        left, bottom, right, top = box
        self.canvas.setFillGray(1.0)
        self.canvas.rect(left * MM, bottom * MM, (right - left) * MM, (top - bottom) * MM, stroke=0, fill=1)
        self.canvas.setFillGray(0.0)

    def filled(self, points: Sequence[tuple[float, float]]) -> None:
        """A small black shape: an arrow's head, a dot."""
        path = self.canvas.beginPath()
        for place, (x, y) in enumerate(points):
            (path.lineTo if place else path.moveTo)(x * MM, y * MM)
        path.close()
        self.canvas.drawPath(path, stroke=0, fill=1)

    def picture(self, box: Box, content: bytes) -> None:
        """A picture, stretched over a box; content : of a JPEG or PNG that can be read."""
        left, bottom, right, top = box
        self.canvas.drawImage(ImageReader(BytesIO(content)), left * MM, bottom * MM, (right - left) * MM,
                              (top - bottom) * MM)  # fmt: skip

    def box(self, line: Line, box: Box) -> None:
        """A rectangle."""
        left, bottom, right, top = box
        self.line(line, [(left, bottom), (right, bottom), (right, top), (left, top)], closed=True)

    @contextmanager
    def within(self, box: Box) -> Iterator[None]:
        """Draws only inside a box."""
        left, bottom, right, top = box
        self.canvas.saveState()
        path = self.canvas.beginPath()
        path.rect(left * MM, bottom * MM, (right - left) * MM, (top - bottom) * MM)
        self.canvas.clipPath(path, stroke=0, fill=0)
        try:
            yield
        finally:
            self.canvas.restoreState()

    def _set(self, line: Line) -> None:
        self.canvas.setLineWidth(line.width * MM)
        self.canvas.setDash([dash * MM for dash in line.dashes])
        self.canvas.setLineCap(0 if line.dashes else 1)
        self.canvas.setLineJoin(1)


def bound(sheets: Sequence[Sheet], paper: PaperName, *, title: str) -> bytes:
    """The sheets as one PDF, set so that a viewer offers to print it at its own size."""
    buffer = BytesIO()
    canvas = Canvas(buffer, invariant=1, pageCompression=1)
    canvas.setTitle(printable(title))
    canvas.setCreator("gudgeon")
    canvas.setViewerPreference("PrintScaling", "None")
    for sheet in sheets:
        width, height = PAPERS[paper][::-1] if sheet.true_scale else PAPERS[paper]
        canvas.setPageSize((width * MM, height * MM))
        sheet.draw(Pen(canvas))
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()
