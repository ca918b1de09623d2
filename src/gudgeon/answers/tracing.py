"""A picture with one known length in it to an outline: how large, how sure, and what the picture did to it."""

import math
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.edges import Edge, blur_of, edge_of, signed_area
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.outline_fit import WITHIN, DrawnOutline, Profile, drawn_outline, mirrored_sizes, profile_of
from gudgeon.answers.picture import Picture
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.answers.silhouette import Silhouette, Spot, silhouette
from gudgeon.errors import Fault, NoAnswer, Refusal
from gudgeon.physics.outline import Array
from gudgeon.physics.spread import Estimate, around, root_sum_square
from gudgeon.units import Measure, Reading

KNOWN_SPREAD = 0.0003  # m, of a known length that brings no spread of its own; common practice, no source
MARK_SPREAD = 1.5  # pixels that each end of the known length may be marked off; common practice, no source
LEAST_LONG = 80.0  # pixels from nose to tail
LEAST_KNOWN = 40.0  # pixels of the known length

# How far half way between the levels may be from the true edge: a share of the pixel, and of the edge's softness. Our
# own guess; ellipses drawn with known edges come out three times as near (tests/answers/test_tracing.py).
_PIXEL_SHARE, _SOFT_SHARE = 0.3, 0.25
_UNEVEN, _SHADED = 1.35, 1.8  # times as soft on one side as on the other: to be watched, and surely a shadow
_BESIDE, _DARK = 0.12, 0.45  # of the way from ground to object that one side's ground lies nearer: the same two
_TILT_NOTED, _TILT_WRONG = 0.01, 0.04  # between two lengths at right angles
_SQUARE = math.radians(25.0)  # how far from square to each other these may be
_SOFT_PICTURE = 6.0  # pixels from a quarter to three quarters of the edge
_OVERHANG = 0.01  # of the area


@dataclass(frozen=True)
class KnownLength:
    """A length that is known, and where its ends lie in the picture.

    length   : [m]
    first, second : [pixels of the file, upright, from its upper left corner]
    """

    length: Reading
    first: Spot
    second: Spot

    @property
    def pixels(self) -> float:
        """Its length in the picture."""
        return math.dist(self.first, self.second)


@dataclass(frozen=True)
class Marks:
    """What the maker marks in a picture: places in pixels of the file, upright, from its upper left corner.

    scale  : the known length
    across : another at right angles to it; None for none
    belly_up : whether the belly is at the upper side
    """

    scale: KnownLength
    nose: Spot
    tail: Spot
    across: KnownLength | None = None
    belly_up: bool = False


@dataclass(frozen=True, eq=False)
class Traced:
    """An outline traced from a picture or read from a drawing.

    line    : (n, 2) closed: [pixels of the file] of a picture, [m] of a drawing, y down
    profile : lying as a lure does
    drawn   : the points of a design that draw it
    edge    : [m] how far its edge may be off
    pixel   : [m] along one pixel; 0 of a drawing
    softness: [m] from a quarter to three quarters of the way across the edge; 0 of a drawing
    tilt    : how much longer the second length comes out than the first; None where there is none
    """

    line: Array
    profile: Profile
    drawn: DrawnOutline
    length: Estimate
    depth: Estimate
    area: Estimate
    edge: float
    pixel: float
    softness: float
    tilt: float | None
    findings: tuple[Finding, ...]


def traced(picture: Picture, marks: Marks, *, from_above: bool = False, long: float | None = None,
           within: float = WITHIN, step: float = 1e-4, ruler: float = 1e-3) -> Traced:  # fmt: skip
    """The outline of what lies between nose and tail.

    from_above : seen so, both sides alike
    long       : [m] that the points make it; as it is traced when left out
    within, step, ruler : [m] of the points that draw it, as in drawn_outline
    raises     : Refusal with every fault of the marks; NoAnswer when nothing can be traced
    """
    _check(picture, marks)
    shrunk = picture.shrunk
    nose, tail = (np.array(spot) / shrunk for spot in (marks.nose, marks.tail))
    found = silhouette(picture, (float(nose[0]), float(nose[1])), (float(tail[0]), float(tail[1])))
    edge = edge_of(found)
    pixel = marks.scale.length.value / marks.scale.pixels
    scale = np.array([pixel, -pixel]) * shrunk
    profile = profile_of(edge.points * scale, nose * scale, tail * scale, belly_up=marks.belly_up)
    _check_frame(picture, edge, profile, scale)
    soft = _softness(edge, profile, scale)
    seen = mirrored_sizes(profile) if from_above else profile
    drawn = drawn_outline(seen if long is None else seen.made(long), within=within, step=step, ruler=ruler)
    tilt = _tilt(marks)
    unsure = _edge_spread(pixel * shrunk, soft)
    share = _scale_spread(marks, tilt)
    around_it = 2.0 * (seen.length + seen.depth)
    return Traced(
        line=edge.points * shrunk, profile=seen, drawn=drawn,
        length=around(seen.length, root_sum_square([share * seen.length, math.sqrt(2.0) * unsure])),
        depth=around(seen.depth, root_sum_square([share * seen.depth, math.sqrt(2.0) * unsure])),
        area=around(seen.area, root_sum_square([2.0 * share * seen.area, around_it * unsure])),
        edge=unsure, pixel=pixel, softness=pixel * shrunk * soft.middle, tilt=tilt,
        findings=worst_first([*_shadows(soft), *_tilts(tilt), *_blurs(soft), *_lines(found, pixel * shrunk),
                              *told_of_profile(edge.points * scale, profile, drawn, within)]),
    )  # fmt: skip


# --- marks ------------------------------------------------------------------------------------------------------------


def _check(picture: Picture, marks: Marks) -> None:
    faults = []
    places = [("from", marks.scale.first), ("to", marks.scale.second), ("nose", marks.nose), ("tail", marks.tail)]
    if marks.across is not None:
        places += [("across from", marks.across.first), ("across to", marks.across.second)]
    for name, (x, y) in places:
        if not (0.0 <= x <= picture.width and 0.0 <= y <= picture.height):
            words = f"{x:g}, {y:g} lies outside the picture, which is {picture.width} wide and {picture.height} high"
            faults.append(Fault(name, f"{words}; count from its upper left corner"))
    lengths = [("from, to", marks.scale)] + ([("across", marks.across)] if marks.across else [])
    for name, known in lengths:
        if known.pixels < LEAST_KNOWN:
            faults.append(Fault(name, f"{known.pixels:.0f} pixels are too short to measure by; take a longer known "
                                      f"length, at least {LEAST_KNOWN:.0f} pixels"))  # fmt: skip
    if math.dist(marks.nose, marks.tail) < LEAST_LONG:
        faults.append(Fault("nose, tail", f"lie {math.dist(marks.nose, marks.tail):.0f} pixels apart; "
                                          f"{LEAST_LONG:.0f} at least are needed"))  # fmt: skip
    if marks.across is not None and not faults and abs(_angle(marks) - 0.5 * math.pi) > _SQUARE:
        words = f"lies at {math.degrees(_angle(marks)):.0f} degrees to the first length"
        faults.append(Fault("across", f"{words}; it tells of a tilt only at right angles to it"))  # fmt: skip
    if faults:
        raise Refusal("the picture was not traced", faults)


def _angle(marks: Marks) -> float:
    """Between the two known lengths: 0 to a right angle and back [rad]."""
    assert marks.across is not None
    first, second = (np.subtract(known.second, known.first) for known in (marks.scale, marks.across))
    return math.acos(min(1.0, abs(float(first @ second)) / (marks.scale.pixels * marks.across.pixels)))


def _check_frame(picture: Picture, edge: Edge, profile: Profile, scale: Array) -> None:
    """Refuse an outline that the picture's edge cuts between nose and tail."""
    high, wide = picture.light.shape[:2]
    x, y = edge.points.T
    at = (edge.points * scale - profile.origin) @ profile.along
    inside = (at > -0.02 * profile.length) & (at < profile.length)
    for name, beyond in (("left", x < 2.0), ("upper", y < 2.0), ("right", x > wide - 2.0), ("lower", y > high - 2.0)):
        if (beyond & inside).any():
            words = f"it runs out of the picture at the {name} edge; take it with a hand's breadth of ground all round"
            raise NoAnswer("the picture was not traced", [Fault("the outline", words)])


# --- how sure ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Softness:
    """How soft the edge is [pixels worked on], in the middle of its places, along the back, along the belly; and how
    far from ground to object the levels beside back and belly lie."""

    middle: float
    back: float
    belly: float
    beside_back: float
    beside_belly: float


def _softness(edge: Edge, profile: Profile, scale: Array) -> _Softness:
    own = edge.points * scale - profile.origin
    at, up = own @ profile.along, own @ profile.up
    along = (at > 0.1 * profile.length) & (at < 0.9 * profile.length)
    is_back = up > 0.5 * np.interp(at, profile.stations, profile.back - profile.belly)
    back, belly = (float(np.percentile(edge.softness[along & side], 75)) for side in (is_back, ~is_back))
    above, below = (float(np.median(edge.beside[along & side])) for side in (is_back, ~is_back))
    return _Softness(float(np.median(edge.softness)), back, belly, above, below)


def _edge_spread(pixel: float, soft: _Softness) -> float:
    """[m] that the edge may be off; `pixel` [m] of those worked on."""
    return pixel * math.hypot(_PIXEL_SHARE, _SOFT_SHARE * max(soft.middle, 0.5 * (soft.back + soft.belly)))


def _scale_spread(marks: Marks, tilt: float | None) -> float:
    """Share that every length may be off."""
    known = marks.scale
    parts = [known.length.spread_or(KNOWN_SPREAD) / known.length.value, math.sqrt(2.0) * MARK_SPREAD / known.pixels]
    return root_sum_square([*parts, abs(tilt or 0.0)])


def _tilt(marks: Marks) -> float | None:
    if marks.across is None:
        return None
    return (marks.across.pixels / marks.across.length.value) / (marks.scale.pixels / marks.scale.length.value) - 1.0


# --- what to mind -----------------------------------------------------------------------------------------------------


def _shadows(soft: _Softness) -> list[Finding]:
    """A shadow lies along one side: it softens that edge, or darkens the ground beside it."""
    side, ratio = ("back", soft.back / soft.belly) if soft.back > soft.belly else ("belly", soft.belly / soft.back)
    dark = soft.beside_back - soft.beside_belly
    if ratio < _UNEVEN and abs(dark) < _BESIDE:
        return []
    if ratio < _UNEVEN:
        darker = abs(soft.beside_back) > abs(soft.beside_belly)
        side, seen = ("back" if darker else "belly"), "the ground is not the same on both sides"
    else:
        seen = f"the edge there is {ratio:.1f} times as soft as on the other side"
    words = (f"a shadow lies along the {side}: {seen}. The outline may be drawn too large by it, by more than the "
             "± says; light it from both sides, or lay it on glass over paper, and trace it again")  # fmt: skip
    return [wrong(words) if ratio > _SHADED or abs(dark) > _DARK else watch(words)]


def _tilts(tilt: float | None) -> list[Finding]:
    if tilt is None:
        words = ("one known length does not show whether the picture was taken aslant: take it from straight above, as "
                 "far off as the room allows, with the rule as high as the outline lies; a second length square to the "
                 "first shows it")  # fmt: skip
        return [note(words)]
    if abs(tilt) < _TILT_NOTED:
        return []
    longer = "second" if tilt > 0.0 else "first"
    words = (f"the picture was taken aslant: the {longer} known length comes out {100.0 * abs(tilt):.1f} % the longer. "
             "Take it again from straight above; as it is every size may be that far off")  # fmt: skip
    return [wrong(words) if abs(tilt) > _TILT_WRONG else watch(words)]


def _blurs(soft: _Softness) -> list[Finding]:
    if soft.middle < _SOFT_PICTURE:
        return []
    words = f"the picture is blurred by {blur_of(soft.middle):.0f} pixels: sharp corners come out round; hold it still"
    return [watch(words)]


def _lines(found: Silhouette, pixel: float) -> list[Finding]:
    if not found.is_line:
        return []
    return [note("it is a drawn line, {wide} wide; its middle was followed", wide=(pixel * found.line, Measure.LENGTH))]


def told_of_profile(points: Array, profile: Profile, drawn: DrawnOutline, within: float) -> list[Finding]:
    """What an outline lost on its way to the points of a design.

    points : (n, 2) [m] the closed outline
    """
    found = []
    if profile.left_out:
        found.append(note("what lies aft of the tail's mark was left out; it is drawn as a flat end there"))
    else:
        hidden = 1.0 - abs(signed_area(points)) / max(profile.area, 1e-12)
        if hidden > _OVERHANG:
            found.append(watch(f"{100.0 * hidden:.1f} % of the area lies under an overhang, or between fins: back and "
                               "belly run over it"))  # fmt: skip
    if drawn.departure > within:
        found.append(watch(f"{len(drawn.back)} stations draw it no nearer than {{off}}; add points on the drawing "
                           "where it is angular", off=(drawn.departure, Measure.WIRE)))  # fmt: skip
    return found
