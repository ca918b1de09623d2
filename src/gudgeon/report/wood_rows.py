"""The piece of wood, the lip, the fin and the tow eye's place as rows."""

from collections.abc import Iterator, Sequence

from gudgeon.answers.cut_order import Step
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.lip_and_fin import ANGLE_WORDS, FinAnswer, LipAndFin, LipAnswer, Slot
from gudgeon.answers.piece_of_wood import PieceOfWood
from gudgeon.answers.tow_eye import TowEye
from gudgeon.report.laying import plain
from gudgeon.report.rows import Measure, Row, Section, Shop, row, words_row

COMPUTED, TREND = "computed", "trend"
STEPS = "The order of cuts"
STAGE_WORDS = {"before": "before anything is cut", "square": "while it is square", "profiles": "the profiles",
               "shaped": "shaping", "apart": "the pieces apart", "weighed": "on the scale",
               "sealed": "sealing", "filled": "the ballast", "finished": "the finish", "rigged": "setting and hanging",
               "tub": "the tub test", "after the tub": "after the tub test"}  # fmt: skip
"""What the blank is when a step is done, or what the step is."""


def wood_headline(wood: PieceOfWood | None, shop: Shop) -> str:
    """Whether the board holds the lure, in one sentence."""
    if wood is None:
        return "No piece of wood is told; write it under [board] to see whether it holds the lure."
    if not wood.fits:
        is_close = not wood.fit.flats and wood.fit.spare_length >= 0.0
        return f"The board does not hold the {'lure with wood over it to shape to' if is_close else 'whole lure'}."
    count = wood.count.count
    if wood.count.is_tight:
        return "The board holds one lure, without all of the allowance."
    many = "one lure" if count == 1 else f"{count} lures"
    return f"The board holds {many}, each from {_square(wood, shop)} of square stock."


def _square(wood: PieceOfWood, shop: Shop) -> str:
    stock = wood.stock
    sizes = [plain(size, Measure.CUT, shop) for size in (stock.length, stock.side, stock.top)]
    return " x ".join(sizes)


def wood_sections(wood: PieceOfWood | None, plates: LipAndFin, shop: Shop) -> tuple[Section, ...]:
    """The rows under their titles."""
    found = []
    if wood is not None:
        found += [Section("The piece of wood", tuple(_board(wood, shop))),
                  Section(STEPS, tuple(_steps(wood.steps, shop)))]  # fmt: skip
    if plates.lip is not None:
        found.append(Section(f"The lip ({ANGLE_WORDS})", tuple(_lip(plates.lip, shop))))
    if plates.fin is not None:
        found.append(Section("The fin", tuple(_fin(plates.fin, shop))))
    return (*found, Section("The tow eye's place", tuple(_tow(plates.tow, plates.fin is not None, shop))))


def wood_rows(wood: PieceOfWood | None, plates: LipAndFin, shop: Shop) -> tuple[Row, ...]:
    """Every row."""
    return tuple(line for section in wood_sections(wood, plates, shop) for line in section.rows)


def wood_findings(wood: PieceOfWood | None, plates: LipAndFin) -> tuple[Finding, ...]:
    """What is wrong, worst first."""
    return worst_first([*(wood.findings if wood else ()), *plates.findings])


def _board(wood: PieceOfWood, shop: Shop) -> Iterator[Row]:
    need, fit, way, stock = wood.need, wood.fit, wood.fit.way, wood.stock
    yield row("board.need.length", "the blank's length, square ends and all", need.length, Measure.CUT, shop)
    if need.joints:
        yield row("board.need.apart", "   with the joints laid out apart", need.laid_apart, Measure.CUT, shop)
    yield row("board.need.side", "the blank, across the side view", stock.side, Measure.CUT, shop)
    if stock.tight_side:
        yield row("board.need.side_wanted", "   with all of the allowance", need.side, Measure.CUT, shop)
    yield row("board.need.top", "the blank, across the top view", stock.top, Measure.CUT, shop)
    if stock.tight_top:
        yield row("board.need.top_wanted", "   with all of the allowance", need.top, Measure.CUT, shop)
    yield words_row("board.fits", "the board holds the lure", "yes" if wood.fits else "no")
    yield words_row("board.side_on", "side view on the board's", "wide face" if way.side_on == "width" else "edge")
    yield words_row("board.nose", "nose toward its", "first end" if way.nose_first else "other end")
    if way.side_on == "width":
        yield words_row("board.back", "back toward", "its first edge" if way.back_first else "its other edge")
    yield row("board.start", "the blank begins, from its first end", way.start, Measure.CUT, shop)
    yield row("board.across", "centre line from the board's middle", way.across, Measure.CUT, shop)
    yield row("board.spare.length", "length left over", fit.spare_length, Measure.CUT, shop)
    yield row("board.spare.side", "wood over the body, side view, each side", fit.spare_side, Measure.LENGTH, shop)
    yield row("board.spare.top", "wood over the body, top view, each side", fit.spare_top, Measure.LENGTH, shop)
    for number, flat in enumerate(fit.flats, start=1):
        yield row(f"board.flat.{number}.depth", f"flat, {flat.face}: depth", flat.depth, Measure.LENGTH, shop)
        yield row(f"board.flat.{number}.wide", "   across it", flat.wide, Measure.CUT, shop)
        yield row(f"board.flat.{number}.at", "   deepest at, from the nose", flat.at, Measure.CUT, shop)
        yield row(f"board.flat.{number}.start", "   from", flat.start, Measure.CUT, shop)
        yield row(f"board.flat.{number}.stop", "   to", flat.stop, Measure.CUT, shop)
    for number, hit in enumerate(fit.hits, start=1):
        label = f"the {hit.flaw.what} lands, from the nose"
        yield row(f"board.flaw.{number}.at", label, 0.5 * (hit.start + hit.stop), Measure.CUT, shop)
        yield row(f"board.flaw.{number}.low", "   from height", hit.low, Measure.CUT, shop)
        yield row(f"board.flaw.{number}.high", "   to height", hit.high, Measure.CUT, shop)
        yield words_row(f"board.flaw.{number}.where", "   which is", hit.words or "plain wood")
    yield row("board.count", "lures it gives", wood.count.count, Measure.COUNT, shop)
    yield row("board.along", "   end to end", wood.count.along, Measure.COUNT, shop)
    yield row("board.clear", "   blanks without a flaw", wood.count.clear, Measure.COUNT, shop)


def _steps(steps: Sequence[Step], shop: Shop) -> Iterator[Row]:
    for number, step in enumerate(steps, start=1):
        yield words_row(f"board.step.{number}", f"step {number}, {STAGE_WORDS[step.when]}", step_words(step, shop))


def step_words(step: Step, shop: Shop) -> str:
    """A step's sentences, its numbers to the place they are cut to."""
    return step.words.format(**{name: plain(value, measure, shop) for name, (value, measure) in step.numbers.items()})


def _lip(lip: LipAnswer, shop: Shop) -> Iterator[Row]:
    yield row("lip.angle", "angle to the body axis", lip.angle, Measure.ANGLE, shop)
    yield words_row("lip.angle_words", "   by habit", lip.angle_words, standing=TREND)
    yield from _slot("lip", "upper face leaves the wood", lip.slot, shop)
    yield row("lip.slot_wide", "   across the bare body at its mouth", lip.slot.wide, Measure.CUT, shop)
    yield words_row("lip.slot_cut", "   sawn", "right across the body" if lip.cuts_through else "within the body")
    yield row("lip.wood_over", "   wood left over its inner half", lip.wood_over, Measure.LENGTH, shop)
    yield row("lip.shows", "length that shows", lip.shows, Measure.CUT, shop)
    yield row("lip.shows_share", "   of the body's length", lip.shows_share, Measure.PART, shop)
    yield row("lip.area", "area that shows", lip.area, Measure.AREA, shop, standing=COMPUTED)
    yield row("lip.projected", "   seen from ahead", lip.projected, Measure.AREA, shop, standing=COMPUTED)
    yield row("lip.template_area", "area of the whole template", lip.template.area, Measure.AREA, shop)
    yield row("lip.width_share", "width, of the body's", lip.width_share, Measure.PART, shop)
    yield words_row("lip.width_words", "   by habit", lip.width_words, standing=TREND)
    yield row("lip.thickness", "thickness", lip.thickness, Measure.WIRE, shop)
    yield row("lip.usual_thickness", "   usual for this body", lip.usual_thickness, Measure.WIRE, shop, standing=TREND)
    yield row("lip.mass", "weight", lip.mass, Measure.MASS, shop, standing=COMPUTED)
    yield row("lip.in_water", "   what it adds to the weight in water", lip.in_water, Measure.MASS, shop,
              standing=COMPUTED)  # fmt: skip


def _slot(name: str, where: str, slot: Slot, shop: Shop) -> Iterator[Row]:
    yield row(f"{name}.slot_x", f"{where}, from the nose", slot.mouth[0], Measure.CUT, shop)
    yield row(f"{name}.slot_z", "   height", slot.mouth[1], Measure.CUT, shop)
    yield row(f"{name}.slot_end_x", "inner end of the slot, from the nose", slot.end[0], Measure.CUT, shop)
    yield row(f"{name}.slot_end_z", "   height", slot.end[1], Measure.CUT, shop)
    yield row(f"{name}.slot_depth", "slot: depth along it in bare wood", slot.depth, Measure.BORE, shop)
    yield row(f"{name}.slot_width", "   width, for a glued fit", slot.width, Measure.WIRE, shop)


def _fin(fin: FinAnswer, shop: Shop) -> Iterator[Row]:
    if fin.slot is not None:
        yield from _slot("fin", "middle leaves the wood", fin.slot, shop)
        yield row("fin.tang", "   height of the tang", fin.slot.wide, Measure.CUT, shop)
    yield row("fin.area", "area outside the body", fin.area, Measure.AREA, shop, standing=COMPUTED)
    yield row("fin.side_share", "   of the side view", fin.side_share, Measure.PART, shop)
    yield row("fin.mass", "weight", fin.mass, Measure.MASS, shop, standing=COMPUTED)
    yield row("fin.in_water", "   what it adds to the weight in water", fin.in_water, Measure.MASS, shop,
              standing=COMPUTED)  # fmt: skip


def _tow(tow: TowEye, has_fin: bool, shop: Shop) -> Iterator[Row]:
    view = "side view with its fin" if has_fin else "side view"
    if tow.eye is not None:
        yield row("tow.eye", "height of the tow eye", tow.eye, Measure.LENGTH, shop)
    yield row("tow.nose", "height of the nose tip", tow.nose, Measure.LENGTH, shop)
    if tow.low is not None:
        yield row("tow.low", "lowest by habit, lipless", tow.low, Measure.LENGTH, shop, standing=TREND)
    yield words_row("tow.place", "back and belly", "mirror each other: the nose is the place" if tow.symmetric
                    else "differ: balance the side view about the eye")  # fmt: skip
    yield row("tow.centre_x", f"{view}: centre, from the nose", tow.centre[0], Measure.LENGTH, shop)
    yield row("tow.centre_z", "   height", tow.centre[1], Measure.LENGTH, shop)
    yield row("tow.above", f"{view} above the eye's level", tow.above.area, Measure.AREA, shop)
    yield row("tow.below", "   below it", tow.below.area, Measure.AREA, shop)
    total = tow.above.area + tow.below.area
    yield row("tow.arm", "   its centre over the eye (minus: under)", tow.moment / total, Measure.LENGTH, shop)
