"""What in a design is likely a slip of the unit or the point: ounces for grams, feet a second for seconds a foot."""

import math
from collections.abc import Iterator

from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import plain, watch, wrong
from gudgeon.answers.shanks import EYES, USUAL_SHANK, USUAL_WIRE
from gudgeon.design.hardware import Fitting
from gudgeon.design.model import Design
from gudgeon.errors import OutsideSource
from gudgeon.library.hooks import hook_mass
from gudgeon.library.metals import material
from gudgeon.physics.lure import Lure
from gudgeon.units import Measure

_LOOP = 5.0 * math.pi  # wires' thicknesses of wire in an eye's loop, about; common practice, no source
_TOO_HEAVY = 8.0  # times what such a part weighs; an ounce is 28 g
_MUCH = 0.5  # of the blank: no part but ballast weighs so much
_SOAKED, _NOTHING_SOAKS = 0.25, 0.8  # of the blank: more than sealer is wont to be, and than any wood takes up
_FASTEST = 0.5  # m/s, 0.6 s/ft: no lure of wood sinks or rises so; common practice, no source
_RESIN, _PAINT = 0.15e-3, 0.03e-3  # m of one coat, dry; common practice, no source
_THIN = ("primer", "paint", "lacquer", "varnish", "sealer")  # in the name of what dries to a skin
_TOO_THICK = 6.0  # times such a coat; a point slipped is 10
_BALLAST = ("stick-on", "other")  # kinds of fitting that may weigh what they like
_SLIP = ": ounces for grams?"


def unlikely_weights(design: Design, lure: Lure) -> Iterator[Finding]:
    """Parts and sealer that weigh what none of their kind does; lure : assembled from the design."""
    blank = lure.wood_density * sum(piece.bare for piece in lure.segments)
    yield from _sealer(design, blank)
    yield from _rates(design)
    yield from _coats(design)
    told = []
    for fitting in design.fittings:
        weight, usual = fitting.weight.value, _eye(fitting)
        if usual is not None and weight > _TOO_HEAVY * usual:
            yield _off(fitting.name, weight, usual, "an eye of that wire and shank")
        elif fitting.kind not in _BALLAST:
            told.append((fitting.name, weight))
    for hook in design.hooks:
        usual = _hook(hook.size)
        if hook.weight is not None and usual is not None and hook.weight.value > _TOO_HEAVY * usual:
            yield _off(hook.name, hook.weight.value, usual, "a treble of that size")
    told += [(name, part.weight.value) for name, part in (("lip", design.lip), ("fin", design.fin))
             if part is not None and part.weight is not None]  # fmt: skip
    for name, weight in told:
        if weight > _MUCH * blank:
            more, say = ("more than", wrong) if weight > blank else ("more than half of", watch)
            yield say(f"The {plain(name)}, {{weight}}, weighs {more} the {{blank}} blank{_SLIP}",
                      weight=(weight, Measure.MASS), blank=(blank, Measure.MASS))  # fmt: skip


def _sealer(design: Design, blank: float) -> Iterator[Finding]:
    """More soaked in than wood takes up; blank : [kg]."""
    if design.sealer is None or design.sealer.weight.value <= _SOAKED * blank:
        return
    weight = design.sealer.weight.value
    numbers = {"weight": (weight, Measure.MASS), "blank": (blank, Measure.MASS)}
    if weight > _NOTHING_SOAKS * blank:
        many = "more than" if weight > blank else "about as much as"
        yield wrong(f"The sealer, {{weight}}, weighs {many} the {{blank}} blank{_SLIP}", **numbers)
    else:
        yield watch("The sealer that soaked in, {weight}, is {share} of the {blank} blank, where a few per cent is "
                    f"usual{_SLIP}", share=(weight / blank, Measure.PART), **numbers)  # fmt: skip


def _rates(design: Design) -> Iterator[Finding]:
    """Rates asked for or timed that no such lure has."""
    asked = [("The rate asked for", design.aim.rate or 0.0)]
    timed = [(f"The timed rate, {one.stage},", rate.value) for one in design.measured
             for rate in (one.sinks, one.rises) if rate is not None]  # fmt: skip
    for name, rate in (*asked, *timed):
        if rate > _FASTEST:
            yield wrong(f"{name} is {{speed}}, {{time}}, where no lure of wood sinks or rises so fast: feet per second "
                        "for seconds per foot?", speed=(rate, Measure.SPEED),
                        time=(1.0 / rate, Measure.TIME_PER_FOOT))  # fmt: skip


def _coats(design: Design) -> Iterator[Finding]:
    """Coats thicker than one can be laid on."""
    for coat in design.coats:
        material_name = (coat.material or "").lower()
        usual = _PAINT if any(word in material_name for word in _THIN) else _RESIN
        if coat.thickness.value > _TOO_THICK * usual and "filler" not in material_name:
            yield watch(f"A coat of the {plain(coat.name)} is {{thick}} dry, where about {{usual}} is usual: a slip of "
                        "the point, or all its coats for one?", thick=(coat.thickness.value, Measure.WIRE),
                        usual=(usual, Measure.WIRE))  # fmt: skip


def _off(name: str, weight: float, usual: float, what: str) -> Finding:
    return wrong(f"The {plain(name)} weighs {{weight}}, where {what} weighs about {{usual}}{_SLIP}",
                 weight=(weight, Measure.MASS), usual=(usual, Measure.MASS))  # fmt: skip


def _eye(fitting: Fitting) -> float | None:
    """[kg] of an eye by its wire, as told or usual; None for anything else."""
    if fitting.kind not in EYES:
        return None
    wire, shank = fitting.wire or USUAL_WIRE, fitting.shank or USUAL_SHANK
    return material(fitting.material).density * 0.25 * math.pi * wire**2 * (shank + _LOOP * wire)


def _hook(size: str | None) -> float | None:
    """[kg] of a treble by the table; None where it does not know the size."""
    try:
        return None if size is None else hook_mass(size).mass
    except OutsideSource:
        return None
