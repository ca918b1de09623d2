"""The drill schedule on paper: what is made while the blank is square, in the pieces apart, and after the tub test."""

import math
from collections.abc import Iterator, Sequence

from gudgeon.answers.boring import LONGEST_BORE
from gudgeon.answers.drilling import Drilled, Drilling, LastHole, When, drilling
from gudgeon.answers.papers import Papers
from gudgeon.answers.work_order import waiting
from gudgeon.report.bench_sheets import noted, on_sheets, shown
from gudgeon.report.drawing import depth_figure, figure
from gudgeon.report.flowing import Block, Column, blanks, gap, heading, paragraph, table
from gudgeon.report.paper import Frame, Sheet
from gudgeon.report.rows import Measure, Shop, row
from gudgeon.report.summary_sheets import SIDE

SQUARE, ENDS, APART, TUB = (
    "Drill schedule: the blank square", "Drill schedule: the ends sawn off", "Drill schedule: the pieces apart",
    "Drill schedule: after the tub test",
)  # fmt: skip
_FROM = {"belly": "from the belly", "back": "from the back", "left": "from the left side",
         "right": "from the right side", "front": "from the nose end", "rear": "from the tail end"}  # fmt: skip
_INTO = {"front": "into the front face", "rear": "into the rear face"}
_LEVEL = 5e-5  # m: nearer to the middle than this is on it

Cell = tuple[tuple[str, ...], float, str]  # a column's head, its share of the width, what stands in it


def drill_sheets(papers: Papers, frame: Frame, shop: Shop, note: str = "") -> tuple[Sheet, ...]:
    """What is drilled while the blank is square never stands on a sheet with what waits for the tub.

    note : what is to be said of papers that several lures share
    """
    room, schedule = frame.width - 2.0 * SIDE, drilling(papers)
    parts = ((SQUARE, list(_square(schedule, room, shop))), (ENDS, list(_ends(schedule, room, shop))),
             (APART, list(_apart(schedule, room, shop))),
             (TUB, list(_tub(papers, schedule, room, shop))))  # fmt: skip
    return tuple(sheet for title, blocks in parts if blocks
                 for sheet in on_sheets(title, [*noted(note, room), *blocks], frame))  # fmt: skip


def _square(schedule: Drilling, room: float, shop: Shop) -> Iterator[Block]:
    holes = schedule.at("square")
    if not holes and not schedule.untold:
        return
    yield heading("Holes and slots to make while the blank is square", room)
    yield from paragraph(_blank_words(schedule, shop), room)
    yield gap(1.5)
    yield from paragraph(_stop_words(shop), room)
    yield from _tables(schedule, "square", room, shop)
    if schedule.untold:
        yield gap(3.0)
        yield heading("Not scheduled, for the design does not tell enough", room)
        for wanted in dict.fromkeys(words for _, words in schedule.untold):
            names = ", ".join(name for name, words in schedule.untold if words == wanted)
            yield from paragraph(f"{names}: write {wanted}.", room)


def _blank_words(schedule: Drilling, shop: Shop) -> str:
    blank = schedule.blank
    side, top = blank.back - blank.belly, 2.0 * blank.half
    words = [
        f"Square blank: {_with_unit(blank.length, shop)} long, {_with_unit(side, shop)} across the side view, "
        f"{_with_unit(top, shop)} across the top view. Its centre line runs {_with_unit(-blank.belly, shop)} above the "
        f"belly edge and {_with_unit(blank.back, shop)} below the back edge, in the middle of the top view."
    ]
    for number, (_, extra) in enumerate(blank.joints, start=1):
        if extra > _LEVEL:
            words.append(f"Behind joint {number} all lies {_with_unit(extra, shop)} further from the nose end than in "
                         "the finished lure: the wood that sawing the joint takes.")  # fmt: skip
    return " ".join(words)


def _stop_words(shop: Shop) -> str:
    bit = "metric" if shop is Shop.METRIC else "fraction"
    return (
        "Measure from the nose end, and from the edge named. The stop is the depth from the square face; deep in bare "
        "wood is what is left of it when the body is shaped. Larger stock: square it to this size, or add to each stop "
        f"what lies over on that face. Bits are the nearest of each kind; a ballast hole's depth holds for the {bit} "
        "bit. The angle is to the centre line: 90 straight across, 0 along it."
    )


def _with_unit(length: float, shop: Shop) -> str:
    return row("", "", length, Measure.CUT, shop).shown


def _tables(schedule: Drilling, when: When, room: float, shop: Shop) -> Iterator[Block]:
    """Holes, then slots."""
    for kind in ("hole", "slot"):
        made = [one for one in schedule.at(when) if one.kind == kind]
        if not made:
            continue
        yield gap(2.5)
        yield heading("Holes to drill" if kind == "hole" else "Slots to saw", room)
        yield table(_columns(_cells(schedule, made[0], shop), room), [])[0]
        for one in made:
            yield from _entry(one, _cells(schedule, one, shop), room, _reach(schedule, one, shop))


def _columns(cells: Sequence[Cell], room: float) -> list[Column]:
    whole = sum(wide for _, wide, _ in cells)
    return [Column(head, room * wide / whole) for head, wide, _ in cells]


def _entry(one: Drilled, cells: Sequence[Cell], room: float, reach: str) -> Iterator[Block]:
    """What it is on one line, its figures under it, then how to reach so deep."""
    for block in paragraph(_called(one), room, size=10.0, indent=8.0, head=f"{one.number}"):
        yield Block(block.height, block.draw, keeps=True)
    figures = table(_columns(cells, room), [[words for _, _, words in cells]])[1]
    yield Block(figures.height, figures.draw, keeps=bool(reach))
    if reach:
        yield from paragraph(reach, room, size=8.5, indent=8.0)
    yield gap(1.0)


def _reach(schedule: Drilling, one: Drilled, shop: Shop) -> str:
    """What to do where a hole is deeper than its bit goes well; empty where it is not."""
    is_metric = shop is Shop.METRIC
    deep = one.depth(metric=is_metric)
    stop = deep if one.when in ("apart", "after the tub") else schedule.stop_depth(one, metric=is_metric)
    most = LONGEST_BORE * one.wide
    if one.kind == "slot" or stop <= most:
        return ""
    words = f"Deeper than {LONGEST_BORE:.0f} times its width, where a bit wanders:"
    waste = f"drill the {_with_unit(stop - deep, shop)} of waste over it away with a wide bit first"
    if one.when == "square" and stop - deep > _LEVEL:
        return f"{words} {waste}{'' if deep <= most else ', then take a long bit and clear it often'}."
    return f"{words} take a long bit and clear it often."


def _called(one: Drilled) -> str:
    lies = f"{one.lies}, {'sawn right across the blank, ' if one.is_across else ''}" if one.lies else ""
    usual = "; size not told, the usual one" if one.is_usual else ""
    if one.when == "apart":
        return f"{one.name}: {lies}{_INTO[one.face]} of the {one.pieces[0]}{usual}"
    return f"{one.name}: {lies}{_FROM[one.face]}, in the {' and the '.join(one.pieces)}{usual}"


def _cells(schedule: Drilling, one: Drilled, shop: Shop) -> list[Cell]:
    unit, is_metric = ("mm", True) if shop is Shop.METRIC else ("in", False)
    deep = one.depth(metric=is_metric)
    cells = [*_size(one, shop, unit), (("deep in bare", f"wood, {unit}"), 19.0, depth_figure(deep, shop))]
    if one.when == "square":
        stop = schedule.stop_depth(one, metric=is_metric)
        cells += [(("stop,", unit), 16.0, depth_figure(stop, shop)), (("angle,", "deg"), 12.0, _angle(one.angle)),
                  (("from the nose", f"end, {unit}"), 21.0, figure(schedule.blank.from_end(one.mouth[0]), shop)),
                  (("from the", f"edge, {unit}"), 23.0, _from_edge(schedule, one, shop))]  # fmt: skip
    elif one.when == "shaped":
        stop = schedule.stop_depth(one, metric=is_metric)
        cells += [(("from the", f"sawn end, {unit}"), 23.0, depth_figure(stop, shop)),
                  (("off the centre", f"line, {unit}"), 27.0, _aside(one.mouth[2], "up", "down", shop))]  # fmt: skip
    elif one.when == "apart":
        cells += [(("angle,", "deg"), 12.0, _angle(one.angle)),
                  (("off the centre", f"line, {unit}"), 27.0, _aside(one.mouth[2], "up", "down", shop))]  # fmt: skip
    else:
        cells += [(("angle,", "deg"), 12.0, _angle(one.angle)),
                  (("from the fin-", f"ished nose, {unit}"), 23.0, figure(one.mouth[0], shop))]  # fmt: skip
    return [*cells, (("off the", f"middle, {unit}"), 21.0, _aside(one.mouth[1], "right", "left", shop))]


def _size(one: Drilled, shop: Shop, unit: str) -> list[Cell]:
    wide = row("", "", one.wide, Measure.WIRE, shop)
    plain = wide.shown.removesuffix(wide.unit).strip()
    if one.bits is None:
        return [(("wide,", unit), 15.0, plain), (("long,", unit), 16.0, figure(one.long, shop))]
    other = ", ".join(name for name in (one.bits.number, one.bits.letter) if name)
    return [(("across,", unit), 15.0, plain), (("fraction,", "in"), 15.0, _bit(one.bits.fraction, " in")),
            (("number", "or letter"), 16.0, other or "-"),
            (("metric,", "mm"), 13.0, _bit(one.bits.metric, " mm"))]  # fmt: skip


def _bit(name: str | None, unit: str) -> str:
    return "-" if name is None else name.removesuffix(unit)


def _angle(angle: float) -> str:
    return f"{round(math.degrees(angle), 1):g}"


def _from_edge(schedule: Drilling, one: Drilled, shop: Shop) -> str:
    if one.face == "back":
        return f"{figure(schedule.blank.back - one.mouth[2], shop)} back"
    return f"{figure(one.mouth[2] - schedule.blank.belly, shop)} belly"


def _aside(place: float, more: str, less: str, shop: Shop) -> str:
    if abs(place) < _LEVEL:
        return "0"
    return f"{figure(abs(place), shop)} {more if place > 0.0 else less}"


def _ends(schedule: Drilling, room: float, shop: Shop) -> Iterator[Block]:
    if not schedule.at("shaped"):
        return
    yield heading("Pilots to drill when the square ends are sawn off", room)
    words = ("Through the square ends they would be too deep for their bits. Saw the ends off square where the body "
             "stops, mark the centre line and the middle across the cut, drill straight along the body, and round nose "
             "and tail after. Set the stop from the sawn end.")  # fmt: skip
    yield from paragraph(words, room)
    yield from _tables(schedule, "shaped", room, shop)


def _apart(schedule: Drilling, room: float, shop: Shop) -> Iterator[Block]:
    if not schedule.at("apart"):
        return
    yield heading("Holes and slots to make in the joint faces, when the pieces are sawn apart", room)
    words = ("Mark each face's middle and the centre line on it. Depths count from the face as cut in bare wood, at "
             "its middle; a hole at the bottom of a wider one counts from the face too.")  # fmt: skip
    yield from paragraph(words, room)
    yield from _tables(schedule, "apart", room, shop)


def _tub(papers: Papers, schedule: Drilling, room: float, shop: Shop) -> Iterator[Block]:
    if schedule.last is None:
        return
    yield heading("The last ballast hole, which the tub test settles", room)
    for words in _tub_words(papers, schedule.last, shop):
        yield from paragraph(words, room)
        yield gap(1.0)
    yield from _tables(schedule, "after the tub", room, shop)
    yield gap(3.0)
    yield blanks("ballast the tub asks for in this hole, and the date", room)
    yield blanks("depth in bare wood that it needs", room)


def _tub_words(papers: Papers, last: LastHole, shop: Shop) -> Iterator[str]:
    hole, waits = last.hole, waiting(papers)
    bit, place = ("metric bit", 0) if shop is Shop.METRIC else ("bit in inches", 1)
    per_gram = shown(last.per_gram[place], Measure.LENGTH, shop)
    if waits is not None and waits.is_bored:
        yield (f"{hole.name} is bored already, and filled last: {shown(waits.left, Measure.MASS, shop)} of "
               f"{hole.material} waits for the tub test. It is to hold {shown(hole.mass, Measure.MASS, shop)} in all; "
               f"each gram is {per_gram} of bore.")  # fmt: skip
        return
    yield (f"{hole.name} is drilled last, and how deep is told by the tub. The depth below is for "
           f"{shown(hole.mass, Measure.MASS, shop)} of {hole.material} and its plug; from the finished skin it is "
           f"deeper by {_with_unit(hole.coat, shop)} of coats.")  # fmt: skip
    yield f"Each gram of {hole.material} more or less is {per_gram} of bore with the {bit}."
    if hole.taped is not None and papers.check.tub.stage in ("leaded", "painted", "rigged"):
        yield (f"In the test {shown(hole.taped, Measure.MASS, shop)} of {hole.material} is taped outside over its mark "
               "in its place. Take the tape and that off again before you drill.")  # fmt: skip
