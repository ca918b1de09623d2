"""Lip, fin and tow eye: slots, templates, areas and weights, and how the side view balances about the line's pull."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from gudgeon.answers.fin_slot import fin_slot
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.lip_slot import GLUE_FIT, LEAST_WOOD, LipSlot, goes_across, lip_slot, slot_findings
from gudgeon.answers.saying import note, watch
from gudgeon.answers.tow_eye import TowEye, tow_eye, tow_findings
from gudgeon.design.hardware import Fin as DrawnFin
from gudgeon.design.hardware import Lip as DrawnLip
from gudgeon.design.model import Design
from gudgeon.library.metals import material
from gudgeon.physics.hull import Hull, lateral_area_split
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.plate import Plate, fin_plate, fin_tang, lip_plate
from gudgeon.units import INCH, Measure

# Everything here that no formula gives is common practice, no source.
LEAST_SET_IN, GOOD_SET_IN = 0.5 * INCH, 0.625 * INCH
FIN_SHARE = (0.08, 0.15)  # of the side view
_SHARES = ((60.0, 80.0, 0.10, 0.15, "shallow"), (35.0, 50.0, 0.15, 0.25, "medium"), (10.0, 25.0, 0.30, 0.45, "deep"))
_SHEETS = ((3.5 * INCH, INCH / 16.0), (6.0 * INCH, 3.0 * INCH / 32.0), (math.inf, INCH / 8.0))
ANGLE_WORDS = "angle between lip and body axis: 0° straight ahead, 90° straight down"


@dataclass(frozen=True)
class Slot:
    """A slot for a plate, seen from the side.

    mouth : (2,) [m] station and height where the plate's upper face (a fin's middle line) leaves the bare wood
    end   : (2,) [m] of the same line at the slot's inner end
    width : [m] across the plate's thickness     depth : [m] mouth to end     wide : [m] along the plate's edge
    """

    mouth: tuple[float, float]
    end: tuple[float, float]
    width: float
    depth: float
    wide: float


@dataclass(frozen=True, eq=False)
class LipAnswer:
    """A lip and its slot.

    template    : outward from where it leaves the drawn body, and to the right; the part in the slot included
    area        : [m2] of what stands out of the wood      projected : [m2] of that, seen from ahead
    shows       : [m] length that stands out of the bare wood, at the middle
    mass        : [kg] as weighed, or of the template      in_water : [kg] what it adds to the weight in water
    body_width  : [m] widest of the bare body              width_share, shows_share : of body width and length
    width_words, angle_words : the habit's words
    wood_over   : [m] least wood from the slot to the back
    cuts_through: whether the slot is sawn right across the body
    """

    slot: Slot
    template: Plate
    area: float
    projected: float
    shows: float
    angle: float
    thickness: float
    usual_thickness: float
    mass: float
    in_water: float
    body_width: float
    width_share: float
    shows_share: float
    width_words: str
    angle_words: str
    wood_over: float
    cuts_through: bool


@dataclass(frozen=True, eq=False)
class FinAnswer:
    """A fin and its slot.

    template : aft from where it leaves the body, and up from its middle      tang : the part in the slot
    area     : [m2] outside the body      side_share : of the body's side view
    mass     : [kg]      in_water : [kg] what it adds to the weight in water
    """

    slot: Slot | None
    template: Plate
    tang: Plate | None
    area: float
    side_share: float
    mass: float
    in_water: float


@dataclass(frozen=True, eq=False)
class LipAndFin:
    """All three; lip and fin None where none is drawn."""

    lip: LipAnswer | None
    fin: FinAnswer | None
    tow: TowEye
    findings: tuple[Finding, ...]


def lip_and_fin(design: Design, lure: Lure) -> LipAndFin:
    """Slots, templates, areas and weights of lip and fin, and the balance about the tow eye.

    lure   : assembled from the design, its ballast in
    raises : OutsideSource for a material that is not in the table
    """
    findings: list[Finding] = []
    lip = fin = None
    if design.lip is not None:
        cut = lip_slot(lure.bare_hull, design.lip)
        lip = _lip(design.lip, lure, cut)
        findings += [*slot_findings(design.lip, cut), *_lip_habits(design.lip, lip, lure.hull.length)]
    if design.fin is not None:
        fin = _fin(design.fin, lure)
        findings += _fin_findings(design.fin, fin, lure)
    tow = tow_eye(design, lure, fin.template if fin else None)
    findings += tow_findings(tow, lure)
    return LipAndFin(lip, fin, tow, worst_first(findings))


def _lip(drawn: DrawnLip, lure: Lure, cut: LipSlot) -> LipAnswer:
    wood, out = lure.bare_hull, cut.out
    template = lip_plate(drawn.shape, exposed=drawn.exposed, set_in=drawn.set_in, width=drawn.width)
    shown, sunk = template.beyond(out, 0), template.short_of(out, 0)
    area = shown.area if shown else 0.0
    across = 2.0 * float(wood.side(np.array([min(max(cut.mouth[0], wood.start), wood.stop)]))[0])
    body_width, usual = _widest(wood), next(sheet for most, sheet in _SHEETS if lure.hull.length <= most)
    mass, in_water = _weights(lure, drawn.material, drawn.weight.value if drawn.weight else None, drawn.thickness,
                              (area, sunk.area if sunk else 0.0), drawn.at)  # fmt: skip
    slot = Slot(cut.mouth, cut.end, drawn.thickness + GLUE_FIT, drawn.set_in + out, min(drawn.width, across))
    return LipAnswer(
        slot=slot, template=template, area=area, projected=area * math.sin(drawn.angle), shows=drawn.exposed - out,
        angle=drawn.angle, thickness=drawn.thickness, usual_thickness=usual, mass=mass, in_water=in_water,
        body_width=body_width, width_share=drawn.width / body_width,
        shows_share=(drawn.exposed - out) / lure.hull.length, width_words=_width_words(drawn.width / body_width),
        angle_words=_angle_words(drawn.angle)[0], wood_over=cut.wood_over,
        cuts_through=goes_across(wood, drawn),
    )  # fmt: skip


def _widest(wood: Hull) -> float:
    return 2.0 * float(wood.side(np.linspace(wood.start, wood.stop, 201)).max())


def _weights(lure: Lure, stuff: str, weighed: float | None, thickness: float, areas: tuple[float, float],
             station: float) -> tuple[float, float]:  # fmt: skip
    """Mass [kg] of a plate, and what it adds to the weight in water: less the water its free part displaces, and the
    wood that makes way for the rest.

    areas : [m2] outside the wood, and in it
    """
    outside, inside = areas
    plate = material(stuff)
    mass = plate.density * thickness * (outside + inside) if weighed is None else weighed
    volume = mass / plate.density
    share = outside / (outside + inside)
    wood = lure.wood_density_of(segment_at(lure.segments, station)[0])
    return mass, mass - volume * (share * lure.water.density + (1.0 - share) * wood)


def _width_words(share: float) -> str:
    if share < 0.70:
        return "narrow: little wobble"
    if share <= 1.00:
        return "a tight wobble"
    if share <= 1.40:
        return "a wide wobble"
    if share <= 1.60:
        return "a very wide wobble, and more roll"
    return "so wide that it needs deep ballast to stay upright"


def _angle_words(angle: float) -> tuple[str, tuple[float, float] | None]:
    """What an angle is for, and the share of the body's length that is usual with it."""
    degrees = math.degrees(angle)
    for low, high, least, most, words in _SHARES:
        if low - 0.5 <= degrees <= high + 0.5:
            return f"a {words} runner's angle", (least, most)
    if degrees > 80.0:
        return "steeper than a shallow runner's", (0.0, 0.15)
    if degrees < 10.0:
        return "flatter than a deep runner's", (0.30, 0.45)
    pair = ("shallow and medium", (0.10, 0.25)) if degrees > 42.0 else ("medium and deep", (0.15, 0.45))
    return f"between a {pair[0]} runner's angle", pair[1]


def _lip_habits(drawn: DrawnLip, lip: LipAnswer, length: float) -> Iterator[Finding]:
    if lip.slot.depth < LEAST_SET_IN - 1e-4:
        yield watch("the lip sits {depth} in the wood; {least} to {good} is the habit for a lip that is to hold",
                    depth=(lip.slot.depth, Measure.CUT), least=(LEAST_SET_IN, Measure.CUT),
                    good=(GOOD_SET_IN, Measure.CUT))  # fmt: skip
    if lip.width_share > 1.60:
        yield watch("the lip is {share} of the body's width: it needs deep ballast to stay upright; trim it, or set "
                    "the lead low", share=(lip.width_share, Measure.PART))  # fmt: skip
    usual = _angle_words(drawn.angle)[1]
    if usual is not None and not usual[0] - 0.01 <= lip.shows_share <= usual[1] + 0.01:
        way = "longer" if lip.shows_share > usual[1] else "shorter"
        yield note(f"what shows of the lip is {{share}} of the body, {way} than the {{least}} to {{most}} usual at "
                   "{angle}", share=(lip.shows_share, Measure.PART), least=(usual[0], Measure.PART),
                   most=(usual[1], Measure.PART), angle=(drawn.angle, Measure.ANGLE))  # fmt: skip
    if not 0.75 * lip.usual_thickness <= drawn.thickness <= 3.1 * lip.usual_thickness:
        way = "thinner" if drawn.thickness < lip.usual_thickness else "thicker"
        yield note(f"a sheet of {{thick}} is {way} than the {{usual}} usual for a body of {{length}}",
                   thick=(drawn.thickness, Measure.CUT), usual=(lip.usual_thickness, Measure.CUT),
                   length=(length, Measure.CUT))  # fmt: skip


def _fin(drawn: DrawnFin, lure: Lure) -> FinAnswer:
    template = fin_plate(length=drawn.length, tall=drawn.tall, fill=drawn.fill)
    tang = fin_tang(set_in=drawn.set_in, tall=drawn.tall)
    sides = lateral_area_split(lure.hull, 0.0, lure.hull.start, lure.hull.stop)
    mass, in_water = _weights(lure, drawn.material, drawn.weight.value if drawn.weight else None, drawn.thickness,
                              (template.area, tang.area if tang else 0.0), drawn.at)  # fmt: skip
    cut, slot = fin_slot(lure.bare_hull, drawn), None
    if cut is not None:
        slot = Slot((cut.mouth, drawn.height), (cut.end, drawn.height), drawn.thickness + GLUE_FIT, cut.depth, cut.tall)
    return FinAnswer(slot, template, tang, template.area, template.area / (sides[0].area + sides[1].area), mass,
                     in_water)  # fmt: skip


def _fin_findings(drawn: DrawnFin, fin: FinAnswer, lure: Lure) -> Iterator[Finding]:
    low, high = FIN_SHARE
    if not low - 0.002 <= fin.side_share <= high + 0.002:
        words = ("larger than the {low} to {high} that is the habit: too large a fin deadens the swimming"
                 if fin.side_share > high else "smaller than the {low} to {high} that is the habit")  # fmt: skip
        yield note(f"the fin is {{share}} of the side view, {words}", share=(fin.side_share, Measure.PART),
                   low=(low, Measure.PART), high=(high, Measure.PART))  # fmt: skip
    if fin.slot is None:
        yield watch("the fin has no slot to hold it: give fin.set_in, 6 mm or more")
        return
    wood = lure.bare_hull
    ends = np.clip(np.array([fin.slot.end[0], fin.slot.mouth[0]]), wood.start, wood.stop)
    cut = fin_slot(wood, drawn)
    if cut is not None and cut.is_open:
        yield note("the fin's tang, {tall} high, is higher than the body there: the slot is an open saw cut, and the "
                   "tang is trimmed flush at the back and belly", tall=(fin.slot.wide, Measure.CUT))  # fmt: skip
    thin = float(2.0 * wood.side(ends).min()) - fin.slot.width
    if thin < 2.0 * LEAST_WOOD - 1e-3:
        yield watch("{thin} of wood is left on each side of the fin's slot", thin=(0.5 * thin, Measure.CUT))
