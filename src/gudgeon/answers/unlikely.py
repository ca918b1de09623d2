"""Weights in a design that are likely a slip of the unit: a part that weighs as if its grams were ounces."""

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
_BALLAST = ("stick-on", "other")  # kinds of fitting that may weigh what they like
_SLIP = ": ounces for grams?"


def unlikely_weights(design: Design, lure: Lure) -> Iterator[Finding]:
    """Parts and sealer that weigh what none of their kind does; lure : assembled from the design."""
    blank = lure.wood_density * sum(piece.bare for piece in lure.segments)
    told = [("sealer", design.sealer.weight.value)] if design.sealer is not None else []
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
