"""An outline out of a drawing at true size, SVG or DXF: which of its lines is meant, and how it lies."""

from dataclasses import dataclass

import numpy as np

from gudgeon.answers.drawn_lines import DrawnLine, outlines_in
from gudgeon.answers.dxf_reading import dxf_lines
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.outline_fit import drawn_outline, mirrored_sizes, profile_of
from gudgeon.answers.saying import note, watch
from gudgeon.answers.svg_reading import svg_drawing
from gudgeon.answers.tracing import Traced, told_of_profile
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.spread import exactly

WITHIN_DRAWING = 1e-4  # m that the points may be off a line that is exact
_SHOWN = 6  # outlines that are offered


@dataclass(frozen=True)
class Wanted:
    """What is wanted of a drawing.

    line     : number of an outline, largest first from 1, or a name of it, its group or layer; "" for the largest
    nose_right : whether the nose lies to the right
    belly_up : whether the belly is at the upper side
    from_above : seen so, both sides alike
    """

    line: str = ""
    nose_right: bool = False
    belly_up: bool = False
    from_above: bool = False


def is_drawing(content: bytes) -> bool:
    """Whether a file begins like a drawing rather than a picture."""
    head = content[:4000].lstrip(b"\xef\xbb\xbf \t\r\n")
    return head.startswith((b"<", b"AutoCAD Binary DXF")) or b"SECTION" in head


def traced_drawing(content: bytes, wanted: Wanted, *, long: float | None = None, step: float = 1e-4,
                   ruler: float = 1e-3) -> Traced:  # fmt: skip
    """The outline of a drawing.

    content : of an SVG or DXF file
    long    : [m] that the points make it; as long as it is drawn when left out
    step, ruler : [m] of the points that draw it, as in drawn_outline
    raises  : Refusal when it cannot be read, or holds no such outline
    """
    found = []
    if content[:4000].lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"<"):
        drawing = svg_drawing(content)
        lines, sized = drawing.lines, drawing.sized
        if drawing.has_copies:
            found.append(note("what it draws by reference was left out"))
    else:
        lines, sized = dxf_lines(content)
    if not sized:
        found.append(watch("the drawing does not say its size in millimetres or inches: see whether the length is what "
                           "you mean, or have it made so long"))  # fmt: skip
    every = outlines_in(lines)
    line = _chosen(every, wanted)
    if len(every) > 1:
        found.append(note(f"it holds {len(every)} closed outlines; taken: {line.name}. {_offered(every)}"))
    return _traced(line, wanted, found, long=long, step=step, ruler=ruler)


def _chosen(every: tuple[DrawnLine, ...], wanted: Wanted) -> DrawnLine:
    """The outline that is meant; gudgeon's own drawings name theirs by view."""
    if not wanted.line:
        view = "top" if wanted.from_above else "side"
        own = [line for line in every if any(name == view for name in line.names)]
        return (own or list(every))[0]
    if wanted.line.isdecimal() and 1 <= int(wanted.line) <= len(every):
        return every[int(wanted.line) - 1]
    named = [line for line in every if wanted.line in line.names]
    if not named:
        words = f"no closed outline is called '{wanted.line[:60]}'. {_offered(every)}"
        raise Refusal("the drawing was not traced", [Fault("the outline", words)])
    return named[0]


def _offered(every: tuple[DrawnLine, ...]) -> str:
    shown = [f"{place} {line.name} ({1e3 * line.size[0]:.1f} x {1e3 * line.size[1]:.1f} mm)"
             for place, line in enumerate(every[:_SHOWN], start=1)]  # fmt: skip
    more = f", and {len(every) - _SHOWN} smaller" if len(every) > _SHOWN else ""
    return f"They are: {', '.join(shown)}{more}"


def _traced(line: DrawnLine, wanted: Wanted, found: list[Finding], *, long: float | None, step: float,
            ruler: float) -> Traced:  # fmt: skip
    points = line.points
    ends = points[points[:, 0].argmin()], points[points[:, 0].argmax()]
    nose, tail = ends[::-1] if wanted.nose_right else ends
    profile = profile_of(points, nose, tail, belly_up=wanted.belly_up)
    seen = mirrored_sizes(profile) if wanted.from_above else profile
    drawn = drawn_outline(seen if long is None else seen.made(long), within=WITHIN_DRAWING, step=step, ruler=ruler)
    flipped = (points - [points[:, 0].min(), points[:, 1].max()]) * np.array([1.0, -1.0])
    return Traced(
        line=flipped, profile=seen, drawn=drawn, length=exactly(seen.length), depth=exactly(seen.depth),
        area=exactly(seen.area), edge=0.0, pixel=0.0, softness=0.0, tilt=None,
        findings=worst_first([*found, *told_of_profile(points, profile, drawn, WITHIN_DRAWING)]),
    )  # fmt: skip
