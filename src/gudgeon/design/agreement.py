"""Whether what a design file says holds together: outline, cuts, places and names against each other.

Looks at what can be read, so that its complaints come together with those of values that cannot.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from gudgeon.design.lines import Path
from gudgeon.design.model import READINGS, Design, usual_segment_names
from gudgeon.design.table import Point, Row, readable, rows, shown
from gudgeon.design.wording import Complaint, nearest
from gudgeon.units import Reading

STATION_SLACK = 1e-5  # m; how far the ends of a drawn curve may miss the ends of the body
PAST_THE_TAIL = 0.015  # m; a loop on the tail's end stands this far behind it at most
HARD_OUTSIDE = frozenset({"tow eye", "screw eye", "ring", "swivel", "wire", "other"})
STEEPEST_BEVEL = math.radians(70.0)
SALINITIES = {"fresh": (0.0, 1.0), "brackish": (0.5, 30.0), "sea": (25.0, 42.0)}  # g/kg, overlapping on purpose
LONGEST_NAME = 60


@dataclass(frozen=True)
class Part:
    """One table of the file: its row, and those of its values that can be read, in SI."""

    row: Row
    values: Mapping[str, Any]

    @property
    def path(self) -> Path:
        """Where it stands in the file."""
        return self.row.path

    def size(self, key: str) -> float | None:
        """A quantity [SI], with or without its own spread; None when it is not there or cannot be read."""
        value = self.values.get(key)
        if isinstance(value, Reading):
            return value.value
        return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None

    def word(self, key: str) -> str | None:
        """A word or name; None when it is not there."""
        value = self.values.get(key)
        return value if isinstance(value, str) else None

    def names(self, key: str) -> list[tuple[int, str]] | None:
        """The words of a list with their places; None when there is no list."""
        value = self.values.get(key)
        if not isinstance(value, tuple):
            return None
        return [(place, word) for place, word in enumerate(value) if isinstance(word, str)]

    def points(self, key: str) -> tuple[Point, ...] | None:
        """A drawn curve; None when it is not there or cannot be read."""
        value = self.values.get(key)
        return value if isinstance(value, tuple) and all(isinstance(item, Point) for item in value) else None

    def curve(self, key: str) -> tuple[Point, ...] | None:
        """A drawn curve that runs aft from point to point; None for any other."""
        points = self.points(key)
        return points if points and all(after.station > before.station for before, after in pairwise(points)) else None

    def wrote(self, key: str, item: int | None = None) -> str:
        """What the maker wrote there."""
        value = self.row.raw[key]
        return shown(value[item] if item is not None and isinstance(value, list) else value)

    def complaint(self, key: str, words: str, item: int | None = None) -> Complaint:
        """A complaint about one value, or one item of it, which is quoted."""
        listed = item is not None and isinstance(self.row.raw[key], list)
        return (*self.path, key, *([item] if item is not None and listed else [])), f"{self.wrote(key, item)} {words}"


class Draft:
    """The tables of a file that can be read at least in part."""

    def __init__(self, data: Mapping[str, Any]) -> None:
        self.parts = [Part(row, readable(row)) for row in rows(Design, data)]
        self._under: dict[tuple[str, ...], list[Part]] = {}
        for part in self.parts:
            self._under.setdefault(tuple(step for step in part.path if isinstance(step, str)), []).append(part)
        self.top = self.parts[0]
        self.length = self.top.size("length")

    def each(self, *keys: str) -> list[Part]:
        """The tables under a key: each("hook"), each("tub", "stand_in")."""
        return self._under.get(keys, [])

    def one(self, key: str) -> Part | None:
        """The one table under a key."""
        return next(iter(self.each(key)), None)


def disagreements(data: Mapping[str, Any]) -> list[Complaint]:
    """Everything in a design file that does not fit the rest of it: where, and what would do.

    data : what the file holds, as TOML reads it
    """
    draft = Draft(data)
    checks: tuple[Callable[[Draft], Iterator[Complaint]], ...] = (
        _curves, _sections, _joints, _segments, _names, _places, _bores, _angles, _fitted, _stand_ins, _measured,
        _water, _shares, _weights,
    )  # fmt: skip
    return [complaint for check in checks for complaint in check(draft)]


def _curves(draft: Draft) -> Iterator[Complaint]:
    """Drawn curves run aft without turning back; those that bound the body from its nose to its end."""
    outline = draft.one("outline")
    if outline is None:
        return
    for key in ("back", "belly", "side", "widest", "fullness"):
        points = outline.points(key)
        if points is None:
            continue
        for place in range(1, len(points)):
            if points[place].station <= points[place - 1].station:
                before = outline.wrote(key, place - 1)
                words = f"does not stand aft of the point before it, {before}; write the points in order from the nose"
                yield outline.complaint(key, words, place)
        if key in ("widest", "fullness"):
            yield from _held(draft, outline, key, points)
        else:
            yield from _bounding(draft, outline, key, points)


def _held(draft: Draft, outline: Part, key: str, points: tuple[Point, ...]) -> Iterator[Complaint]:
    """A curve that stays level ahead of its first point and aft of its last needs one point, on the body."""
    if not points:
        yield (*outline.path, key), "needs one point or more"
    for place, point in enumerate(points):
        if draft.length is not None and point.station > draft.length + STATION_SLACK:
            yield outline.complaint(key, f"is behind the end of the body, {draft.top.wrote('length')}", place)


def _bounding(draft: Draft, outline: Part, key: str, points: tuple[Point, ...]) -> Iterator[Complaint]:
    """A curve that bounds the body runs from its nose to its end."""
    if len(points) < 2:
        yield (*outline.path, key), "needs two points or more; eight or more draw a fair curve"
        return
    if points[0].station > STATION_SLACK:
        yield outline.complaint(key, "is the first point; the first point stands at the nose, 0 mm", 0)
    if draft.length is not None and abs(points[-1].station - draft.length) > STATION_SLACK:
        words = f"is the last point; the last point stands at the end of the body, {draft.top.wrote('length')}"
        yield outline.complaint(key, words, len(points) - 1)


def _at(points: tuple[Point, ...], station: float) -> float:
    """The height of a drawn curve at a station, straight from point to point."""
    for before, after in pairwise(points):
        if before.station <= station <= after.station and after.station > before.station:
            share = (station - before.station) / (after.station - before.station)
            return before.out + share * (after.out - before.out)
    return points[0].out if station < points[0].station else points[-1].out


def _inside(points: tuple[Point, ...], place: int) -> bool:
    return 0 < place < len(points) - 1


def _sections(draft: Draft) -> Iterator[Complaint]:
    """The sections are sections: some width, the back above the belly, the widest line between them."""
    outline = draft.one("outline")
    if outline is None:
        return
    for place, point in enumerate(outline.points("fullness") or ()):
        if not 1.0 <= point.out <= 12.0:
            words = "is no fullness; it goes from 1 (a diamond) over 2 (an ellipse) to 12 (a plank)"
            yield outline.complaint("fullness", words, place)
    side = outline.points("side") or ()
    for place, point in enumerate(side):
        if point.out < 0.0 or (point.out == 0.0 and _inside(side, place)):
            words = "cannot be; half the width is more than 0 between the ends, and 0 or more at them"
            yield outline.complaint("side", words, place)
    back = outline.curve("back")
    belly = outline.curve("belly") if "belly" in outline.row.raw else back
    if not back or not belly:
        return
    for key, points, other in (("back", back, belly), ("belly", belly, back)):
        for place, point in enumerate(points):
            depth = point.out + _at(other, point.station)
            if key in outline.row.raw and (depth < 0.0 or (depth == 0.0 and _inside(points, place))):
                words = "makes the outline cross itself; the back must stay above the belly"
                yield outline.complaint(key, words, place)
    for place, point in enumerate(outline.curve("widest") or ()):
        if not -_at(belly, point.station) - STATION_SLACK <= point.out <= _at(back, point.station) + STATION_SLACK:
            yield outline.complaint("widest", "lies outside the side outline", place)


def _joints(draft: Draft) -> Iterator[Complaint]:
    """Cuts run from the nose aft, inside the body, clear of each other."""
    last_end: float | None = 0.0
    for place, joint in enumerate(draft.each("joint")):
        at, gap = joint.size("at"), joint.size("gap")
        if at is None:
            last_end = None
            continue
        half = (gap or 0.0) / 2.0
        if last_end is not None and at - half <= last_end:
            clear = "starts ahead of the nose" if place == 0 else f"is not clear of joint {place} ahead of it"
            yield joint.complaint("at", f"and its gap: this cut {clear}; write joints in order from the nose")
        if draft.length is not None and at + half >= draft.length:
            end = draft.top.wrote("length")
            yield joint.complaint("at", f"and its gap: this cut is not ahead of the end of the body, {end}")
        last_end = at + half
    for joint in draft.each("joint"):
        for key in ("front_bevel", "rear_bevel"):
            bevel = joint.size(key)
            if bevel is not None and not 0.0 <= bevel <= STEEPEST_BEVEL:
                yield joint.complaint(key, "is no bevel; a face slopes back by 0 to 70 deg from square")


def _segments(draft: Draft) -> Iterator[Complaint]:
    """One name for each piece the joints leave."""
    names = draft.top.names("segments")
    if names is None:
        return
    pieces = len(_raw_joints(draft)) + 1
    if len(names) != pieces:
        joints = f"{pieces - 1} joint{'' if pieces == 2 else 's'}"
        yield ("segments",), f"{len(names)} names, but {joints} and so {pieces} piece{'' if pieces == 1 else 's'}"
    yield from _once([(("segments", place), name) for place, name in names])
    for place, name in names:
        if name == "whole":
            yield ("segments", place), "'whole' means the whole lure; give the piece another name"


def _raw_joints(draft: Draft) -> list[Any]:
    joints = draft.top.row.raw.get("joint")
    return joints if isinstance(joints, list) else []


def _once(named: Iterable[tuple[Path, str]]) -> Iterator[Complaint]:
    """Each name can be read and stands once."""
    seen: set[str] = set()
    for path, name in named:
        if not name.strip() or len(name) > LONGEST_NAME or not name.isprintable():
            yield path, f"{shown(name)}: a name has 1 to {LONGEST_NAME} plain characters"
        elif name in seen:
            yield path, f"'{name}' names something else already; give each its own name"
        seen.add(name)


def _known_names(draft: Draft) -> list[str]:
    """What `fitted` may name; ballast is not fitted, it is in from the stage "leaded" on."""
    named = [name for key in ("fitting", "hook") for part in draft.each(key) if (name := part.word("name"))]
    return [*named, *_hinge_names(draft), *(key for key in ("lip", "fin") if draft.one(key))]


def _hinge_names(draft: Draft) -> list[str]:
    """What hinges are called: "hinge 1" is the first [[hinge]] of the file."""
    return [f"hinge {number}" for number, _ in enumerate(draft.each("hinge"), start=1)]


def _names(draft: Draft) -> Iterator[Complaint]:
    """Names of parts stand once, and are not those of the lip and the fin."""
    parts = [part for key in ("fitting", "hook", "pocket") for part in draft.each(key)]
    yield from _once([((*part.path, "name"), name) for part in parts if (name := part.word("name")) is not None])
    if (name := draft.top.word("name")) is not None:
        yield from _once([(("name",), name)])
    for part in parts:
        if part.word("name") in ("lip", "fin"):
            yield part.complaint("name", "is what [lip] or [fin] is called; give this another name")
        elif part.word("name") in _hinge_names(draft):
            yield part.complaint("name", "is what a [[hinge]] is called; give this another name")


def _places(draft: Draft) -> Iterator[Complaint]:
    """Everything stands on the body; loops on the tail's end a little behind it."""
    length = draft.length
    if length is None:
        return
    for part in (part for key in ("fitting", "hook", "pocket", "lip", "fin") for part in draft.each(key)):
        at = part.size("at")
        outside = part.path[0] in ("hook", "fin", "lip") or part.word("kind") in HARD_OUTSIDE
        if at is not None and at > length + (PAST_THE_TAIL if outside else STATION_SLACK):
            yield part.complaint("at", f"is behind the end of the body, {draft.top.wrote('length')}")
        set_in = part.size("set_in")
        if part.path[0] == "fin" and at is not None and set_in is not None and set_in > at:
            yield part.complaint("set_in", "is too deep; the slot runs out ahead of the nose")


def _bores(draft: Draft) -> Iterator[Complaint]:
    """A bore is smaller than the wood it goes into."""
    outline = draft.one("outline")
    if outline is None:
        return
    side, back = outline.curve("side"), outline.curve("back")
    belly = outline.curve("belly") if "belly" in outline.row.raw else back
    for pocket in draft.each("pocket"):
        at, bore, face = pocket.size("at"), pocket.size("bore"), pocket.word("face") or "belly"
        if at is None or bore is None:
            continue
        across = face in ("belly", "back", "front", "rear")
        upright = face in ("left", "right", "front", "rear")
        if across and side and bore >= 2.0 * _at(side, at):
            yield pocket.complaint("bore", f"is too wide; the body is no wider than this at {pocket.wrote('at')}")
        elif upright and back and belly and bore >= _at(back, at) + _at(belly, at):
            yield pocket.complaint("bore", f"is too wide; the body is no deeper than this at {pocket.wrote('at')}")


def _angles(draft: Draft) -> Iterator[Complaint]:
    """A lip points ahead and down, never up."""
    lip = draft.one("lip")
    angle = lip.size("angle") if lip else None
    if lip and angle is not None and angle < 0.0:
        yield lip.complaint("angle", "is no lip's angle; it goes from 0 deg (straight ahead) to 90 deg (straight down)")


def _fitted(draft: Draft) -> Iterator[Complaint]:
    """What is said to be fitted is one of the parts, once."""
    known = _known_names(draft)
    for part in (*draft.each("measured"), *draft.each("tub")):
        seen: set[str] = set()
        for place, fitted in part.names("fitted") or []:
            if fitted not in known:
                yield (*part.path, "fitted", place), f"nothing is named {shown(fitted)}; {nearest(fitted, known)}"
            elif fitted in seen:
                yield part.complaint("fitted", "stands in this list already", place)
            seen.add(fitted)


def _stand_ins(draft: Draft) -> Iterator[Complaint]:
    """A stand-in hangs in place of a hook, one each."""
    hooks = [name for hook in draft.each("hook") if (name := hook.word("name"))]
    replaced: set[str] = set()
    for stand_in in draft.each("tub", "stand_in"):
        hook = stand_in.word("hook")
        if hook is None:
            continue
        if hook not in hooks:
            yield (*stand_in.path, "hook"), f"no hook is named {shown(hook)}; {nearest(hook, hooks)}"
        elif hook in replaced:
            yield stand_in.complaint("hook", "has a stand-in already")
        replaced.add(hook)


def _measured(draft: Draft) -> Iterator[Complaint]:
    """Each thing is measured once, of a piece that there is."""
    names = draft.top.names("segments")
    pieces = [name for _, name in names] if names else list(usual_segment_names(len(_raw_joints(draft)) + 1))
    seen: dict[object, int] = {}
    for place, measured in enumerate(draft.each("measured"), start=1):
        of = measured.word("of") or "whole"
        if of not in ("whole", *pieces):
            yield (*measured.path, "of"), f"no piece is named {shown(of)}; {nearest(of, ['whole', *pieces])}"
        reading = next((key for key in READINGS if key in measured.row.raw), None)
        fitted = measured.names("fitted")
        key = (measured.word("stage"), of, None if fitted is None else frozenset(name for _, name in fitted), reading,
               measured.size("temperature"), measured.size("salinity"))  # fmt: skip
        if reading is not None and key in seen:
            yield measured.path, f"tells the same thing as measured {seen[key]}; keep one, or write the mean of both"
        seen.setdefault(key, place)


def _water(draft: Draft) -> Iterator[Complaint]:
    """Salt enough for its name, and not more."""
    water = draft.one("water")
    kind, salinity = (water.word("kind") or "fresh", water.size("salinity")) if water else ("", None)
    if water is None or salinity is None or kind not in SALINITIES:
        return
    low, high = SALINITIES[kind]
    if not low <= salinity <= high:
        fits = [name for name, (least, most) in SALINITIES.items() if least <= salinity <= most]
        words = f'is not {kind} water, which has {low:g} to {high:g} ppt; kind = "{fits[0]}" would fit it'
        yield water.complaint("salinity", words)


def _shares(draft: Draft) -> Iterator[Complaint]:
    """Shares that nothing or everything makes no sense of."""
    aim, fin = draft.one("aim"), draft.one("fin")
    reserve = aim.size("reserve") if aim else None
    if aim and reserve is not None and not 0.0 < reserve < 0.95:
        yield aim.complaint("reserve", "is no floater's reserve; it is more than 0 % and less than 95 %")
    fill = fin.size("fill") if fin else None
    if fin and fill is not None and fill == 0.0:
        yield fin.complaint("fill", "leaves no fin; the share that is fin is more than 0 %")


def _weights(draft: Draft) -> Iterator[Complaint]:
    """What was weighed weighs something."""
    places = (("wood", "blank_weight"), ("hook", "weight"), ("measured", "weight"), ("measured", "displaced"))
    found = [(part, key) for table, key in places for part in draft.each(table)]
    found += [(part, "weight") for table in ("shot", "hook") for part in draft.each("stock", table)]
    for part, key in found:
        if part.size(key) == 0.0:
            yield part.complaint(key, "must be more than 0")
