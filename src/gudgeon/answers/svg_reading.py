"""The lines of an SVG drawing at true size. A drawing from elsewhere may be made to do harm: no entities, nothing
fetched, nothing run, and bounds on everything that may be many."""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from xml.parsers import expat

import numpy as np

from gudgeon.answers.drawn_lines import LARGEST_DRAWING, MOST_POINTS, DrawnLine, flattened, no_drawing
from gudgeon.answers.svg_paths import BadPath, Run, numbers_in, oval_runs, path_runs, straight_runs
from gudgeon.physics.outline import Array
from gudgeon.units import INCH

MOST_ELEMENTS, DEEPEST = 50_000, 64
PIXEL = INCH / 96.0  # m; CSS Values and Units 3, section 5.2
_SIZES = {"mm": 1e-3, "cm": 1e-2, "in": INCH, "pt": INCH / 72.0, "pc": INCH / 6.0, "q": 2.5e-4, "px": PIXEL, "": PIXEL}
_SAID = ("mm", "cm", "in", "pt", "pc", "q")
_NOT_DRAWN = {"defs", "clipPath", "mask", "symbol", "marker", "pattern", "script", "style", "foreignObject", "metadata",
              "text", "image", "switch", "filter", "linearGradient", "radialGradient", "title", "desc"}  # fmt: skip
_LENGTH = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*([a-zA-Z%]*)\s*")
_TRANSFORM = re.compile(r"\s*,?\s*(matrix|translate|scale|rotate|skewX|skewY)\s*\(([^()]*)\)")

Attributes = Mapping[str, str]


@dataclass(frozen=True)
class SvgDrawing:
    """An SVG's lines.

    lines     : at true size
    sized     : whether it says its size in millimetres, inches or the like; in pixels, 96 to the inch, where not
    has_copies : whether it draws things by reference, which were left out
    """

    lines: tuple[DrawnLine, ...]
    sized: bool
    has_copies: bool


def svg_drawing(content: bytes) -> SvgDrawing:
    """What an SVG file draws.

    raises : Refusal when it is none, is damaged, declares entities, or holds too much
    """
    if len(content) > LARGEST_DRAWING:
        raise no_drawing(f"it is larger than {LARGEST_DRAWING // 1_000_000} MB; save the outline alone")
    if content[:2] == b"\x1f\x8b":
        raise no_drawing("it is packed (.svgz); save it as plain SVG")
    reader = _Reader()
    parser = expat.ParserCreate()
    parser.SetParamEntityParsing(expat.XML_PARAM_ENTITY_PARSING_NEVER)
    parser.buffer_text = True
    parser.StartDoctypeDeclHandler = _doctype
    parser.EntityDeclHandler = _entity
    parser.StartElementHandler, parser.EndElementHandler = reader.start, reader.end
    try:
        parser.Parse(content, True)
    except expat.ExpatError as error:
        line, words = error.lineno, expat.ErrorString(error.code)
        raise no_drawing(f"it is no whole SVG: {words}, line {line}") from None
    except BadPath as error:
        raise no_drawing(f"line {parser.CurrentLineNumber}: {error}") from None
    if not reader.is_svg:
        raise no_drawing("it is XML, but no SVG drawing")
    return SvgDrawing(tuple(reader.lines), reader.sized, reader.has_copies)


def _doctype(name: str, system: str | None, public: str | None, has_own: bool) -> None:
    del name, system, public
    if has_own:
        raise no_drawing("it declares entities of its own, which are not read; save it as plain SVG")


def _entity(*declared: object) -> None:
    del declared
    raise no_drawing("it declares entities of its own, which are not read; save it as plain SVG")


class _Reader:
    """Collects lines as the file is gone through."""

    def __init__(self) -> None:
        self.lines: list[DrawnLine] = []
        self.is_svg = self.has_copies = False
        self.sized = True
        self._names: list[tuple[str, ...]] = []
        self._matrices: list[Array] = [np.diag([1.0, -1.0, 1.0])]
        self._hidden = 0  # elements deep in what is not drawn
        self._count = self._points = 0

    def start(self, tag: str, given: Attributes) -> None:
        """An element begins."""
        tag = tag.rpartition(":")[2]
        self._count += 1
        if self._count > MOST_ELEMENTS or len(self._names) > DEEPEST:
            raise no_drawing("it holds too many parts; save the outline alone")
        if not self._names:
            self.is_svg = tag == "svg"
        if self._hidden or tag in _NOT_DRAWN or _is_hidden(given):
            self._hidden += 1
        self.has_copies = self.has_copies or (tag == "use" and not self._hidden)
        self._names.append(_names_of(given))
        self._matrices.append(self._matrices[-1] @ self._own_matrix(tag, given))
        if not self._hidden and tag in _SHAPES:
            self._draw(_SHAPES[tag](given))

    def end(self, tag: str) -> None:
        """An element ends."""
        del tag
        self._names.pop()
        self._matrices.pop()
        self._hidden = max(0, self._hidden - 1)

    def _own_matrix(self, tag: str, given: Attributes) -> Array:
        own = np.eye(3)
        if tag == "svg" and self.is_svg:
            own = own @ (self._sheet(given) if len(self._names) == 1 else _inner_sheet(given))
        return own @ _transform(given.get("transform", ""))

    def _sheet(self, given: Attributes) -> Array:
        """The drawing's own units to metres: SVG 2, 8.2."""
        box = numbers_in(given.get("viewBox", ""))
        sides = [_length(given.get(name, "")) for name in ("width", "height")]
        self.sized = any(unit in _SAID for _, unit in filter(None, sides))
        if len(box) != 4 or min(box[2:]) <= 0.0:
            return np.diag([PIXEL, PIXEL, 1.0])
        scales = [side[0] * _SIZES[side[1]] / across for side, across in zip(sides, box[2:], strict=True) if side]
        if not scales:
            return np.diag([PIXEL, PIXEL, 1.0]) @ _moved(-box[0], -box[1])
        scale = min(scales)
        stretched = len(scales) == 2 and given.get("preserveAspectRatio", "").strip().startswith("none")
        x, y = scales if stretched else (scale, scale)
        return np.diag([x, y, 1.0]) @ _moved(-box[0], -box[1])

    def _draw(self, runs: list[Run]) -> None:
        names = tuple(name for group in reversed(self._names) for name in group)
        for run in runs:
            points = _points(run, self._matrices[-1])
            self._points += len(points)
            if self._points > MOST_POINTS:
                raise no_drawing("it holds too many points; save the outline alone")
            closed = run.closed or (len(points) > 3 and bool(np.allclose(points[0], points[-1], rtol=0.0, atol=1e-5)))
            self.lines.append(DrawnLine((names or ("",)), points[:-1] if closed else points, closed))


def _names_of(given: Attributes) -> tuple[str, ...]:
    return tuple(given[key][:60] for key in ("id", "inkscape:label", "class") if given.get(key))


def _is_hidden(given: Attributes) -> bool:
    style = given.get("style", "").replace(" ", "")
    return given.get("display") == "none" or "display:none" in style


def _points(run: Run, matrix: Array) -> Array:
    """A stroke's points (n, 2) [m]."""
    pieces = [piece @ matrix[:2, :2].T + matrix[:2, 2] for piece in run.pieces]
    found = np.vstack([pieces[0][:1], *(flattened(piece) if len(piece) == 4 else piece[1:] for piece in pieces)])
    if not np.isfinite(found).all() or np.abs(found).max() > 100.0:
        raise BadPath("it draws further than 100 m")
    return found


def _length(words: str) -> tuple[float, str] | None:
    """A size and its unit; None where none is given, or it is a share of something."""
    match = _LENGTH.fullmatch(words)
    if match is None or match[2].lower() not in _SIZES or not 0.0 < float(match[1]) < 1e7:
        return None
    return float(match[1]), match[2].lower()


def _moved(x: float, y: float) -> Array:
    return np.array([[1.0, 0.0, x], [0.0, 1.0, y], [0.0, 0.0, 1.0]])


def _inner_sheet(given: Attributes) -> Array:
    """A drawing within a drawing: moved, and where it says its size and its own box, scaled."""
    x, y, wide, high = (_number(given, name) for name in ("x", "y", "width", "height"))
    box = numbers_in(given.get("viewBox", ""))
    if len(box) != 4 or min(box[2:]) <= 0.0 or min(wide, high) <= 0.0:
        return _moved(x, y)
    scale = min(wide / box[2], high / box[3])
    return _moved(x, y) @ np.diag([scale, scale, 1.0]) @ _moved(-box[0], -box[1])


def _transform(words: str) -> Array:
    """A transform attribute: SVG 2, 8.5; raises BadPath."""
    found, place = np.eye(3), 0
    while (match := _TRANSFORM.match(words, place)) is not None:
        found = found @ _one_transform(match[1], numbers_in(match[2]))
        place = match.end()
    if words[place:].strip():
        raise BadPath(f"'{words[place : place + 20].strip()}' is no transform")
    return found


def _one_transform(kind: str, numbers: list[float]) -> Array:
    needed = {"matrix": (6,), "translate": (1, 2), "scale": (1, 2), "rotate": (1, 3), "skewX": (1,), "skewY": (1,)}
    if len(numbers) not in needed[kind]:
        raise BadPath(f"{kind} takes {' or '.join(str(count) for count in needed[kind])} numbers")
    if kind == "matrix":
        a, b, c, d, e, f = numbers
        return np.array([[a, c, e], [b, d, f], [0.0, 0.0, 1.0]])
    if kind == "translate":
        return _moved(*(numbers if len(numbers) == 2 else (numbers[0], 0.0)))
    if kind == "scale":
        return np.diag([numbers[0], numbers[-1], 1.0])
    angle = math.radians(numbers[0])
    if kind == "rotate":
        x, y = numbers[1:] or (0.0, 0.0)
        turn = np.eye(3)
        turn[:2, :2] = [[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]]
        turned: Array = _moved(x, y) @ turn @ _moved(-x, -y)
        return turned
    skew = np.eye(3)
    skew[(0, 1) if kind == "skewX" else (1, 0)] = math.tan(angle)
    return skew


def _number(given: Attributes, name: str) -> float:
    """A shape's size in the drawing's own units; 0 where it is left out."""
    match = _LENGTH.fullmatch(given.get(name, "0"))
    if match is None or match[2].lower() not in ("", *_SIZES):
        raise BadPath(f"{name}=\"{given.get(name, '')[:20]}\" is no length")
    value = float(match[1]) * (_SIZES[match[2].lower()] / PIXEL)
    if not abs(value) < 1e7:
        raise BadPath(f"{name} is too large")
    return value


def _poly(given: Attributes, *, closed: bool) -> list[Run]:
    numbers = numbers_in(given.get("points", ""))
    return straight_runs(list(zip(numbers[::2], numbers[1::2], strict=False)), closed=closed)


def _rect(given: Attributes) -> list[Run]:
    x, y, wide, high = (_number(given, name) for name in ("x", "y", "width", "height"))
    if min(wide, high) <= 0.0:
        return []
    rx, ry = (_number(given, name if name in given else other) for name, other in (("rx", "ry"), ("ry", "rx")))
    rx, ry = min(rx, 0.5 * wide), min(ry, 0.5 * high)
    if min(rx, ry) <= 0.0:
        return straight_runs([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)], closed=True)
    arc = f"a{rx} {ry} 0 0 1"
    return path_runs(f"M{x + rx} {y}h{wide - 2 * rx}{arc} {rx} {ry}v{high - 2 * ry}{arc} {-rx} {ry}h{2 * rx - wide}"
                     f"{arc} {-rx} {-ry}v{2 * ry - high}{arc} {rx} {-ry}z")  # fmt: skip


def _circle(given: Attributes) -> list[Run]:
    radius = _number(given, "r")
    return oval_runs((_number(given, "cx"), _number(given, "cy")), (radius, radius))


def _oval(given: Attributes) -> list[Run]:
    return oval_runs((_number(given, "cx"), _number(given, "cy")), (_number(given, "rx"), _number(given, "ry")))


def _straight(given: Attributes) -> list[Run]:
    ends = [(_number(given, f"x{end}"), _number(given, f"y{end}")) for end in (1, 2)]
    return straight_runs(ends, closed=False)


_SHAPES: Mapping[str, Callable[[Attributes], list[Run]]] = {
    "path": lambda given: path_runs(given.get("d", "")), "polygon": lambda given: _poly(given, closed=True),
    "polyline": lambda given: _poly(given, closed=False), "rect": _rect, "circle": _circle, "ellipse": _oval,
    "line": _straight,
}  # fmt: skip
