"""The order of cuts: what is drilled and sawn while the blank is square, then profiles, rounding, joints."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from gudgeon.answers.board_fit import Fit
from gudgeon.answers.fin_slot import fin_slot
from gudgeon.answers.finding import Number
from gudgeon.answers.harness_run import channel_width
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.lip_slot import goes_across, lip_slot
from gudgeon.answers.pilots import waits_for_ends
from gudgeon.answers.saying import listed, plain
from gudgeon.design.model import Design
from gudgeon.physics.lure import SHAPED, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.spread import Estimate, smooth
from gudgeon.units import Measure

When = Literal["before", "square", "profiles", "shaped", "apart", "weighed", "sealed", "filled", "finished", "rigged",
               "tub", "after the tub"]  # fmt: skip
SAWING = ("wood dust", "saws")
_ON_MARK = 3e-4  # m off the middle line before a lure lists; common practice, no source


@dataclass(frozen=True)
class Step:
    """One step of the work.

    when    : "before" anything is cut, "square" while the blank has its square faces, "profiles", "shaped", "apart"
              with the joints sawn, then as the work goes on
    words   : with {names} where the numbers go
    numbers : name -> value in SI and what it is
    about   : subjects of the cautions to read before it
    """

    when: When
    words: str
    numbers: Mapping[str, Number] = field(default_factory=dict)
    about: tuple[str, ...] = ()


@dataclass(frozen=True)
class SquareStock:
    """What a blank is sawn to.

    length, side, top : [m] end to end, across the side view, across the top view
    fit               : how it lies on the maker's board; None where no board is told
    tight_side, tight_top : the board gives less than all of the allowance there, so its own faces stay as they are
    is_held           : whether that board holds it; else these sizes are for another
    """

    length: float
    side: float
    top: float
    fit: Fit | None = None
    tight_side: bool = False
    tight_top: bool = False
    is_held: bool = True


def cut_order(design: Design, lure: Lure, stock: SquareStock, waiting: str = "") -> tuple[Step, ...]:
    """The steps for this lure, in the order that keeps square reference faces longest.

    lure    : with the ballast that is to go in
    waiting : name of the ballast bore that the tub test settles; "" where none waits
    source  : common practice, no source
    """
    return (*_squared(design, lure, stock), *_sawn_square(design, lure), *_bored(lure, waiting), *_profiled(),
            *_shaped(design, lure), *_apart(design, lure), *_after_the_tub(lure, waiting))  # fmt: skip


def _step(when: When, words: str, about: tuple[str, ...] = (), **numbers: Number) -> Step:
    return Step(when, words, numbers, about)


def is_weighed_shaped(design: Design) -> bool:
    """Whether the file knows the shaped blank's weight before any hole: then it is square no more."""
    return design.wood.blank_weight is not None or any(
        one.weight is not None and one.stage == "shaped" for one in design.measured)  # fmt: skip


def _squared(design: Design, lure: Lure, stock: SquareStock) -> Iterator[Step]:
    yield _crosscut(stock)
    yield _step("square", f"{_faced(stock)}: all is measured from these. Mark them, and mark the centre line round all "
                "four faces and both ends.")  # fmt: skip
    if is_weighed_shaped(design):
        yield _step("square", "This file knows the blank shaped and weighed before any hole. Where that one is to be "
                    "bored, lay its offcuts back on so that it lies square, and drill by the depths in bare "
                    "wood.")  # fmt: skip
    else:
        yield _step("square", "Weigh it before any hole: {weight} is reckoned. If the scale says otherwise, write its "
                    "weight over its volume as density under [wood], and work all this out again: how much ballast, "
                    "and how deep, goes by it.", weight=(_square_weight(lure, stock), Measure.MASS))  # fmt: skip
    yield _step("square", "Cut out the drill card of the square blank and lay it on the left side, its fold on the "
                "belly edge and its nose end on the blank's. Prick every cross through, and square every station "
                f"round: {'joints, ' if design.joints else ''}holes, eyes.")  # fmt: skip


def _faced(stock: SquareStock) -> str:
    """The faces all is measured from; none is planed where the board has no wood to spare for it."""
    if stock.tight_top and stock.tight_side:
        return ("Plane no face: there is no wood to spare. Take the flatter side as the left, the straighter edge as "
                "the belly's, and true the nose end to them")  # fmt: skip
    if stock.tight_top:
        return ("Do not plane the sides: there is no wood to spare across the top view. Take the flatter one as the "
                "left, and plane the belly edge and the nose end square to it")  # fmt: skip
    if stock.tight_side:
        return ("Plane the left side flat and the nose end square to it, but no edge: there is no wood to spare across "
                "the side view. Take the straighter edge as the belly's")  # fmt: skip
    return "Plane the left side flat, the belly edge and the nose end square to it"


def _crosscut(stock: SquareStock) -> Step:
    sizes = {"length": (stock.length, Measure.CUT), "side": (stock.side, Measure.CUT), "top": (stock.top, Measure.CUT)}
    if stock.fit is None or not stock.is_held:
        other = "" if stock.is_held else "Not from the board in this file, which does not hold the lure. "
        return _step("square", f"{other}Saw a blank {{length}} long, {{side}} across the side view and {{top}} across "
                     "the top view, the grain along it.", SAWING, **sizes)  # fmt: skip
    way = stock.fit.way
    first = "nose" if way.nose_first else "tail"
    view = "wide face" if way.side_on == "width" else "edge"
    return _step("square", "Crosscut the blank {length} long, from {start} from the board's first end, the "
                 f"{first} toward that end and the side view on the board's {view}; saw it to {{side}} across the side "
                 "view and {top} across the top view.", SAWING, start=(way.start, Measure.CUT), **sizes)  # fmt: skip


def _square_weight(lure: Lure, stock: SquareStock) -> Estimate:
    """[kg] of the square blank: its volume by the density of the wood as now known."""
    state, effects = lure.state(lure.chosen(step=SHAPED))
    volume = stock.length * stock.side * stock.top
    return smooth(lambda s: volume * s[..., MASS] / s[..., VOLUME], state, effects, lure.knowledge)


def _sawn_square(design: Design, lure: Lure) -> Iterator[Step]:
    """While the blank is square it lies flat under the drill and against the fence."""
    if design.lip is not None:
        across = "right across the blank" if goes_across(lure.bare_hull, design.lip) else "as wide as the lip"
        deep = lip_slot(lure.bare_hull, design.lip).out + design.lip.set_in
        yield _step("square", f"Saw the lip's slot {across}, {{angle}} to the centre line, {{deep}} deep in bare wood "
                    "along its upper face: square stock is held in the jig, and the waste ahead of it keeps fingers "
                    "off the blade.", angle=(design.lip.angle, Measure.ANGLE),
                    deep=(deep, Measure.BORE))  # fmt: skip
    cut = fin_slot(lure.bare_hull, design.fin) if design.fin is not None else None
    if cut is not None:
        through = ", right through from back to belly" if cut.is_open else ""
        yield _step("square", "Saw the fin's slot on the centre line of the tail end, through the square end"
                    f"{through}, {{deep}} past where the bare wood of the body stops.",
                    deep=(cut.depth, Measure.BORE))  # fmt: skip
    if design.harness is not None:
        runs = "Bore the wire's channel from both ends on the centre line"
        slot = "Saw the wire's slot up from the belly on the centre line"
        yield _step("square", f"{runs if design.harness.runs == 'bored' else slot}, {{channel}} wide.",
                    channel=(channel_width(design.harness), Measure.WIRE))  # fmt: skip
    if any(fitting.kind == "glass eye" for fitting in design.fittings):
        yield _step("square", "Drill the sockets of the eyes from both sides, a pilot right through first, so that "
                    "both match.")  # fmt: skip
    if _hinge_cuts(design, lure, in_faces=False):
        yield _step(
            "square",
            "Drill the hinge pins' holes and saw the slots that run right across, before anything is cut apart: what "
            "goes through both pieces at once stays in line.",
        )
    eyes = [fitting for fitting in design.fittings if fitting.kind in ("screw eye", "tow eye")]
    late = [fitting for fitting in eyes if waits_for_ends(design, lure, fitting)]
    if len(eyes) > len(late) or (design.hooks and not eyes):
        yield _step(
            "square",
            "Drill pilots for hook and tow eyes on the centre line, along the ring lines rather than across them.",
        )


def _hinge_cuts(design: Design, lure: Lure, *, in_faces: bool) -> bool:
    """Whether hinges need holes or slots in the joints' faces, or else such as are made in the square blank."""
    cutouts = [cutout for made in made_hinges(design, lure) for cutout in made.cutouts]
    return any((cutout.face in ("front", "rear") and not cutout.across) is in_faces for cutout in cutouts)


def _bored(lure: Lure, waiting: str) -> Iterator[Step]:
    bored = [pocket for pocket in lure.pockets if lure.fills[pocket.name].depth > 0.0]
    at_once = [pocket for pocket in bored if pocket.name != waiting or pocket.drilled is not None]
    last = "" if len(at_once) == len(bored) else f"{plain(waiting)} waits for the tub test: it is not drilled now."
    if at_once:
        words = f"Drill the ballast bores by the drill schedule: stop set, bit within {{near}} of its mark. {last}"
        yield _step("square", words.strip(), near=(_ON_MARK, Measure.CUT))
    elif bored:
        yield _step("square", f"Ballast: {last}")


def _profiled() -> Iterator[Step]:
    yield _step("profiles", "Saw the side profile. Tape the offcuts back on, so that the blank lies square again.")
    yield _step("profiles", "Saw the top profile, leaving the square ends on.")


def _shaped(design: Design, lure: Lure) -> Iterator[Step]:
    yield _step(
        "shaped",
        "Take the corners off to lines drawn along them, then round to the section templates, working "
        "both sides alike.",
    )
    if design.joints:
        yield _step(
            "shaped",
            "Saw the joints, nearest the tail first, with the square ends in the fence: each piece "
            "keeps a square face until it is cut off.",
        )
    if any(joint.front_bevel or joint.rear_bevel or joint.face != "vee" for joint in design.joints):
        yield _step("shaped", "Shape the joint faces to their templates, from the centre line outward on both sides.")
    late = [plain(fitting.name) for fitting in design.fittings if waits_for_ends(design, lure, fitting)]
    if not late:
        yield _step("shaped", "Saw off the square ends last; round the nose and the tail.")
        return
    yield _step("shaped", "Saw off the square ends last, and drill the pilots that start there on the centre line, by "
                f"the drill schedule: {listed(late)}. Through the square ends they would have been too deep for "
                "their bits. Then round the nose and the tail.")  # fmt: skip


def _apart(design: Design, lure: Lure) -> Iterator[Step]:
    if _hinge_cuts(design, lure, in_faces=True):
        yield _step("apart", "Mark the middle and the centre line on every joint face, lay the cards of the joint "
                    "faces on them, prick the crosses through, then drill and slot the faces.")  # fmt: skip


def _after_the_tub(lure: Lure, waiting: str) -> Iterator[Step]:
    pocket = next((pocket for pocket in lure.pockets if pocket.name == waiting), None)
    if pocket is not None and pocket.drilled is None:
        yield _step("after the tub", f"Drill the last ballast bore, {plain(waiting)}, as deep as the tub test asks.",
                    SAWING)  # fmt: skip
