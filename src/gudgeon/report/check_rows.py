"""A check as rows, in trade order: what is drawn, what goes in, what it then does, each piece, the tub, the rod."""

import math
from collections.abc import Iterator, Sequence

from gudgeon.answers.ballasting import Ballasting, PocketLoad
from gudgeon.answers.checked import Check, Weighed
from gudgeon.answers.classing import class_of, middle_words
from gudgeon.answers.clearance import Clearance
from gudgeon.answers.floating import HEELS
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.papers import papers
from gudgeon.answers.pieces import PieceAnswer
from gudgeon.answers.sinking_rate import SinkingRate
from gudgeon.answers.work_order import tub_lacks, tub_weight
from gudgeon.physics.spread import Estimate
from gudgeon.report.laying import limit_words
from gudgeon.report.rows import Measure, Row, Section, Shop, row, slug, words_row
from gudgeon.report.sentences import said
from gudgeon.units import FOOT

_HALF_GRAM = 5e-4  # kg
COMPUTED, ESTIMATE = "computed", "estimate"


def check_rows(check: Check, shop: Shop) -> tuple[Row, ...]:
    """Every row of a check."""
    return tuple(line for section in check_sections(check, shop) for line in section.rows)


def check_sections(check: Check, shop: Shop) -> tuple[Section, ...]:
    """The rows of a check under their titles."""
    found = [Section("As drawn", tuple(_drawn(check, shop)))]
    if check.ballast is not None:
        found.append(Section("Ballast", tuple(_ballast(check, check.ballast, shop))))
    if check.shot is not None:
        found.append(Section("In whole shot", tuple(_shot(check, check.shot, shop))))
    found += [
        Section("The tub test as it will be done", tuple(_tub(check, shop))),
        Section("In the water" if check.ballast is None else "In the water, ballast in", tuple(_water(check, shop))),
        Section("Upright", tuple(_upright(check, shop))),
    ]
    if len(check.pieces) > 1:
        found.append(Section("Each piece alone", tuple(line for piece in check.pieces for line in _piece(piece, shop))))
    return (*found, Section("Elsewhere, and on the rod", tuple(_elsewhere(check, shop))))


def first_rows(first: Weighed, shop: Shop) -> tuple[Row, ...]:
    """Those rows of a check that tell what is known first."""
    ballast = () if first.ballast is None else tuple(_ballast(first, first.ballast, shop))
    return (*ballast, *_in_water(first, shop), *_stands(first, shop))


def headline(check: Weighed, shop: Shop) -> str:
    """The answer to the main question in one sentence with its number; a slip that it rests on stands ahead of it."""
    answer = _main_answer(check, shop)
    if check.slip is None:
        return answer
    slip = said(check.slip, shop).partition(". ")[0].rstrip("?.").removesuffix(": ounces for grams")
    return f"{slip}. Look for a slip first; taken as it stands: {answer[0].lower()}{answer[1:]}"


def _main_answer(check: Weighed, shop: Shop) -> str:
    ballast = check.ballast
    added = sum(load.add for load in ballast.pockets) if ballast else 0.0
    if ballast is None or added < 5e-5:
        return _left_alone(check, ballast, shop)
    add = f"Add {_amount(ballast, added, shop)} of {_metal(check, ballast)}"
    if check.rate.straddles:
        return f"{add} for {_unsure(check, shop)}."
    return f"{add}; with that in it {_does(check, shop)}."


def _left_alone(check: Weighed, ballast: Ballasting | None, shop: Shop) -> str:
    """What it does with nothing more put in; where what is in is known to be too much, or right, that first."""
    does = _unsure(check, shop) if check.rate.straddles else _does(check, shop)
    out = ballast.put - ballast.needed.value if ballast else 0.0
    if ballast is None or ballast.put <= 0.0:
        return f"{does[0].upper()}{does[1:]}."
    if out > max(_HALF_GRAM, 0.5 * ballast.needed.spread):
        return f"Take {_amount(ballast, out, shop)} of {_metal(check, ballast)} out; as it is it {does}."
    return f"Leave the {_metal(check, ballast)} as it is: {'' if check.rate.straddles else 'it '}{does}."


def _amount(ballast: Ballasting, mass: float, shop: Shop) -> str:
    spread = ballast.needed.spread
    return row("", "", Estimate(mass, mass - spread, mass + spread), Measure.MASS, shop).shown


def _metal(check: Weighed, ballast: Ballasting) -> str:
    used = {load.name for load in ballast.pockets}
    metals = {pocket.material for pocket in check.design.pockets if pocket.name in used}
    return metals.pop() if len(metals) == 1 else "ballast"


def _unsure(check: Weighed, shop: Shop) -> str:
    return f"{_aimed(check, shop)}, {_lies(_pitch(check))}; as known so far it may float or sink"


def _pitch(check: Weighed) -> float:
    """[rad] as the row of its attitude has it: afloat where it floats, else under water."""
    afloat = check.lying.afloat is not None and check.lying.pitch is not None
    return check.lying.pitch.value if afloat and check.lying.pitch else check.rate.attitude.value


def _does(check: Weighed, shop: Shop) -> str:
    rate, afloat = check.rate, check.lying.afloat
    if afloat is not None and check.lying.pitch is not None:
        reserve = row("", "", check.lying.reserve, Measure.PART, shop).shown
        return f"floats with {reserve} in reserve, {_lies(check.lying.pitch.value)}"
    time = rate.time_per_distance
    if time is None:
        return f"hangs, {_lies(rate.attitude.value)}"
    shown = row("", "", time, Measure.TIME_PER_FOOT, shop)
    return f"sinks, {shown.low:.1f} to {shown.high:.1f} {shown.unit}, {_lies(rate.attitude.value)}"


def _aimed(check: Weighed, shop: Shop) -> str:
    aim = check.design.aim
    if aim.does == "hangs" or aim.rate is None:
        return "hanging" if aim.does == "hangs" else "floating"
    shown = row("", "", 1.0 / aim.rate, Measure.TIME_PER_FOOT, shop).shown
    return f"{'sinking' if aim.does == 'sinks' else 'rising'} at {shown}"


def _lies(pitch: float) -> str:
    degrees = round(math.degrees(abs(pitch)))
    return "level" if degrees == 0 else f"{degrees}° nose-{'up' if pitch > 0.0 else 'down'}"


def _drawn(check: Check, shop: Shop) -> Iterator[Row]:
    for name, size, label in (("size", check.finished_size, "finished"), ("bare", check.bare_size, "bare wood to cut")):
        yield row(f"{name}.length", f"length, {label}", size.length, Measure.LENGTH, shop)
        yield row(f"{name}.depth", f"depth, {label}", size.depth, Measure.LENGTH, shop)
        yield row(f"{name}.width", f"width, {label}", size.width, Measure.LENGTH, shop)
    yield row("wood.density", f"wood, from {check.wood_known_by}", check.wood_density, Measure.DENSITY, shop,
              standing=COMPUTED)  # fmt: skip
    yield row("wood.blank", "bare blank, before any hole", check.blank, Measure.MASS, shop, standing=COMPUTED)
    for number, joint in enumerate(check.lure.joints, start=1):
        yield row(f"joint.{number}.at", f"joint {number}: middle, from the nose", joint.at, Measure.CUT, shop)
        yield row(f"joint.{number}.gap", "   finished gap", joint.gap, Measure.LENGTH, shop)
        yield row(f"joint.{number}.bare_gap", "   gap to cut in bare wood", _bare_gap(check, number),
                  Measure.LENGTH, shop)  # fmt: skip
        yield row(f"joint.{number}.removed", "   takes away", joint.removed, Measure.VOLUME, shop)
    yield words_row("water.kind", "water", check.lure.water.words)
    yield row("water.density", "its density", check.lure.water.density, Measure.WATER_DENSITY, shop)
    yield row("now.mass", "weighs as it stands, all on", check.now.mass, Measure.MASS, shop, standing=COMPUTED)
    yield row("now.excess", "weight in water as it stands", check.now.excess, Measure.MASS, shop, standing=COMPUTED)


def _bare_gap(check: Check, number: int) -> float:
    """[m] to cut at the middle of a joint, counted from 1."""
    lure = check.lure
    return joint_shape(check.design.joints[number - 1], lure.hull).bared(lure.build).cut_gap


def _ballast(check: Weighed, ballast: Ballasting, shop: Shop) -> Iterator[Row]:
    yield row("ballast.needed", "needed in all", ballast.needed, Measure.MASS, shop, standing=COMPUTED)
    yield row("ballast.spare", "for the tub test to settle", ballast.spare, Measure.MASS, shop)
    for load in ballast.pockets:
        yield from _pocket(check, load, shop)
    yield row("ballast.excess_left", "weight in water beyond the aim", ballast.excess_left, Measure.MASS, shop)
    yield row("ballast.tilt_left", "pitch beyond the aim", ballast.tilt_left, Measure.ANGLE, shop)


def _pocket(check: Weighed, load: PocketLoad, shop: Shop) -> Iterator[Row]:
    name, bit = f"pocket.{slug(load.name)}", load.metric_bit if shop is Shop.METRIC else load.inch_bit
    yield row(f"{name}.mass", f"{load.name}: ballast", load.mass, Measure.MASS, shop)
    yield row(f"{name}.at", "   from the nose", load.pocket.mouth[0], Measure.CUT, shop)
    yield words_row(f"{name}.bit", "   bit", bit.name)
    yield row(f"{name}.depth", "   depth from the finished skin", bit.depth, Measure.BORE, shop)
    yield from _walls(name, load.name, check.clearances if isinstance(check, Check) else (), shop)
    yield row(f"{name}.taped", "   taped outside instead", load.taped, Measure.MASS, shop)


def _walls(name: str, pocket: str, found: Sequence[Clearance], shop: Shop) -> Iterator[Row]:
    for clearance in found:
        if clearance.pocket != pocket or "skin" not in clearance.to:
            continue
        key = "end_wall" if "end" in clearance.to else "side_wall"
        where = "beyond its end" if key == "end_wall" else "beside it"
        yield row(f"{name}.{key}", f"   wood left {where}", clearance.distance, Measure.LENGTH, shop)


def _shot(check: Check, shot: Ballasting, shop: Shop) -> Iterator[Row]:
    sizes = [size.weight.value if size.weight else None for size in check.design.stock.shot]
    fillers = {pocket.name: pocket.plug_material for pocket in check.design.pockets}
    for load in shot.pockets:
        name = f"shot.{slug(load.name)}"
        named = [(count, _shot_size(check, place, sizes, shop)) for place, count in enumerate(load.shot) if count]
        counts = [f"{count} of {size}" for count, size in named]
        yield words_row(f"{name}.count", load.name, ", ".join(counts))
        yield row(f"{name}.mass", "   comes to", load.mass, Measure.MASS, shop)
        bit = load.metric_bit if shop is Shop.METRIC else load.inch_bit
        yield row(f"{name}.depth", f"   depth, {bit.name} bit", bit.depth, Measure.BORE, shop)
        over = "over and between" if load.pocket.packing < 1.0 - 1e-9 else "over them"
        yield row(f"{name}.filler", f"   {fillers[load.name]} {over}, counted in", load.bored.plug_mass, Measure.MASS,
                  shop)  # fmt: skip
        yield from _walls(name, load.name, check.shot_clearances, shop)
    yield row("shot.put", "shot in all", shot.put, Measure.MASS, shop)
    heavy, up = shot.excess_left > 0.0, shot.tilt_left > 0.0
    yield row("shot.excess_left", f"leaves it {'heavy' if heavy else 'light'} by", abs(shot.excess_left), Measure.MASS,
              shop)  # fmt: skip
    yield row("shot.tilt_left", f"leaves it nose-{'up' if up else 'down'} by", abs(shot.tilt_left), Measure.ANGLE, shop)


def _shot_size(check: Check, place: int, sizes: list[float | None], shop: Shop) -> str:
    mass, diameter = sizes[place], check.design.stock.shot[place].diameter
    if mass is not None:
        return row("", "", mass, Measure.MASS, shop).shown
    return row("", "", diameter or 0.0, Measure.WIRE, shop).shown


def _rate_rows(name: str, rate: SinkingRate, shop: Shop) -> Iterator[Row]:
    yield row(f"{name}.excess", "weight in water", rate.excess, Measure.MASS, shop, standing=COMPUTED)
    time = rate.time_per_distance
    verb = "sinks at" if rate.velocity.value > 0.0 else "rises at"
    if time is None:
        yield words_row(f"{name}.rate", "rate", _straddling(rate), standing=ESTIMATE)
    else:
        yield row(f"{name}.rate", verb, time, Measure.TIME_PER_FOOT, shop, standing=ESTIMATE)
        yield row(f"{name}.rate_per_metre", "   which is", time, Measure.TIME_PER_DISTANCE, Shop.METRIC,
                  standing=ESTIMATE)  # fmt: skip
    middle = class_of(rate.velocity.value)
    yield words_row(f"{name}.class", "trade word", rate.words, standing=ESTIMATE)
    yield words_row(f"{name}.class_limits", f"   {middle_words(middle.word, rate.words)}", limit_words(middle, shop))


def _straddling(rate: SinkingRate) -> str:
    """ "floats to sinks", with how fast at either end; "hangs" where the range stays that near to it."""
    ends = [f"{way} {FOOT / abs(speed):.1f} s/ft" if abs(speed) > 1e-3 else "hangs"
            for way, speed in (("up", rate.velocity.low), ("down", rate.velocity.high))]  # fmt: skip
    return f"floats to sinks ({ends[0]} to {ends[1]})" if rate.straddles else "hangs, near enough"


def _water(check: Check, shop: Shop) -> Iterator[Row]:
    yield from _in_water(check, shop)
    yield words_row("measure.widest", "least sure of", check.widest_source)
    if check.measurement is not None:
        yield words_row("measure.best", "surest next step", check.measurement.words)
        yield row("measure.after", "weight in water then good to ±", check.measurement.after, Measure.MASS, shop)


def _in_water(check: Weighed, shop: Shop) -> Iterator[Row]:
    rate, rests = check.rate, check.lying
    yield row("whole.volume", "displaces", check.volume, Measure.VOLUME, shop, standing=COMPUTED)
    yield row("whole.displaced", "water displaced", rate.displaced, Measure.MASS, shop, standing=COMPUTED)
    yield row("whole.mass", "weighs, all on", rate.mass, Measure.MASS, shop, standing=COMPUTED)
    yield from _rate_rows("whole", rate, shop)
    yield row("whole.velocity", "downward speed", rate.velocity, Measure.SPEED, shop, standing=ESTIMATE)
    if rests.afloat is None or rests.pitch is None or rests.draught is None or rests.freeboard is None:
        yield row("whole.attitude", "attitude, nose-up is plus", rate.attitude, Measure.ANGLE, shop, standing=COMPUTED)
    else:
        yield row("whole.attitude", "attitude afloat, nose-up is plus", rests.pitch, Measure.ANGLE, shop,
                  standing=COMPUTED)  # fmt: skip
        yield row("whole.reserve", "reserve", rests.reserve, Measure.PART, shop, standing=COMPUTED)
        yield row("whole.draught", "draught", rests.draught, Measure.LENGTH, shop, standing=COMPUTED)
        yield row("whole.freeboard", "freeboard", rests.freeboard, Measure.LENGTH, shop, standing=COMPUTED)
        yield row("whole.nose_height", "nose above the water", rests.afloat.nose_height, Measure.LENGTH, shop)
        yield row("whole.tail_height", "tail above the water", rests.afloat.tail_height, Measure.LENGTH, shop)
        yield row("whole.waterplane", "waterplane", rests.afloat.waterplane_area, Measure.AREA, shop)
    yield row("whole.list", "list, right side down", rate.list_angle, Measure.ANGLE, shop, standing=COMPUTED)
    if rate.decides is not None:
        yield row("whole.decides", "to make it hang, add", rate.decides, Measure.MASS, shop)


def _upright(check: Check, shop: Shop) -> Iterator[Row]:
    yield from _stands(check, shop)
    alone = ", no fin" if check.design.fin is not None else ""
    yield row("side.above", f"side area above the tow eye{alone}", check.above_eye.area, Measure.AREA, shop)
    yield row("side.below", f"side area below it{alone}", check.below_eye.area, Measure.AREA, shop)


def _stands(check: Weighed, shop: Shop) -> Iterator[Row]:
    rests = check.lying
    yield row("upright.lever", "buoyancy above weight", rests.lever, Measure.LENGTH, shop, standing=COMPUTED)
    yield row("upright.share", "that, of the depth", rests.lever_share, Measure.PART, shop, standing=COMPUTED)
    yield words_row("upright.word", "the habit calls that", rests.stiffness)
    for name, centre in (("weight", rests.weight_centre), ("buoyancy", rests.buoyancy_centre)):
        yield row(f"centre.{name}.at", f"centre of {name}, from the nose", centre[0], Measure.LENGTH, shop)
        yield row(f"centre.{name}.height", "   above the centre line", centre[2], Measure.LENGTH, shop)
    if rests.metacentric_height is not None:
        yield row("upright.metacentre", "metacentric height", rests.metacentric_height, Measure.LENGTH, shop)
    for heel, moment in zip(HEELS, rests.righting, strict=False):
        angle = round(math.degrees(heel))
        yield row(f"righting.{angle}", f"righting moment at {angle}°", moment, Measure.MOMENT, shop)


def _piece(piece: PieceAnswer, shop: Shop) -> Iterator[Row]:
    name = f"segment.{slug(piece.name)}"
    yield row(f"{name}.blank", f"{piece.name}: bare blank", piece.blank, Measure.MASS, shop, standing=COMPUTED)
    yield row(f"{name}.volume", "   finished volume", piece.volume, Measure.VOLUME, shop, standing=COMPUTED)
    yield row(f"{name}.mass", "   weighs, all on", piece.rate.mass, Measure.MASS, shop, standing=COMPUTED)
    yield row(f"{name}.excess", "   weight in water", piece.rate.excess, Measure.MASS, shop, standing=COMPUTED)
    yield words_row(f"{name}.class", "   alone", piece.rate.words, standing=ESTIMATE)
    yield row(f"{name}.unlike", "   heavier than its share, of its weight", piece.unlike, Measure.PART, shop,
              standing=COMPUTED)  # fmt: skip
    yield row(f"{name}.lever", "   buoyancy above weight", piece.lever, Measure.LENGTH, shop, standing=COMPUTED)


def _tub(check: Check, shop: Shop) -> Iterator[Row]:
    tub = check.tub
    made = papers(check)
    lacks = tub_lacks(made)
    yield words_row("tub.done", "done", f"{tub.stage}, {tub.on}; {tub.water}")
    yield row("tub.mass", "on the scale", tub_weight(made), Measure.MASS, shop, standing=COMPUTED)
    if lacks is not None:
        last, taped, left = lacks
        label = "taped on for" if taped else "left out of"
        yield row("tub.lacks", f"   {label} {last.hole.name}", taped or left, Measure.MASS, shop)
    yield from _rate_rows("tub", tub.rate, shop)
    if tub.attitude is not None:
        yield row("tub.attitude", "attitude, nose-up is plus", tub.attitude, Measure.ANGLE, shop, standing=COMPUTED)
    spread = tub.rate.excess.spread
    to_hang = Estimate(tub.to_hang, tub.to_hang - spread, tub.to_hang + spread)
    yield row("tub.to_hang", "lead to tape on so that it hangs", to_hang, Measure.MASS, shop, standing=COMPUTED)
    yield row("tub.per_gram", "   for each gram beyond, put in", 1e-3 * tub.inside_per_taped, Measure.MASS, shop)


def _elsewhere(check: Check, shop: Shop) -> Iterator[Row]:
    for other in check.elsewhere:
        yield words_row(f"water.{other.kind}.class", f"in {other.words}", other.rate.words, standing=ESTIMATE)
        yield row(f"water.{other.kind}.excess", "   weight in water", other.rate.excess, Measure.MASS, shop,
                  standing=COMPUTED)  # fmt: skip
        yield row(f"water.{other.kind}.restore", "   ballast that restores it", other.restore, Measure.MASS, shop)
    casting = check.casting
    yield row("cast.weight", "casting weight, snap and leader on", casting.weight, Measure.CASTING_MASS, shop,
              standing=COMPUTED)  # fmt: skip
    if casting.least is not None and casting.most is not None:
        ends = [row("", "", end, Measure.CASTING_MASS, shop) for end in (casting.least, casting.most)]
        yield words_row("cast.rod", "the rod takes", f"{ends[0].shown} to {ends[1].shown}")
