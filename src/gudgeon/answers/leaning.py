"""What a lean comes to: the moment that leans it, what that would be if the lead lay off the middle, and a way out."""

import math
from dataclasses import dataclass

from gudgeon.answers.as_seen import AsSeen
from gudgeon.answers.finding import Finding
from gudgeon.answers.hook_choices import hook_weight_now
from gudgeon.answers.saying import note, plain
from gudgeon.physics.hull import half_width_at
from gudgeon.physics.immersion import worth_outside
from gudgeon.physics.lure import WATER
from gudgeon.physics.sinking import tilting
from gudgeon.units import Measure

_STEEL = 7850.0  # kg/m3
_ASIDE = 0.5  # of the half-width: a hanger farther out does not hold as it should; common practice, no source


@dataclass(frozen=True)
class Lean:
    """A lure that hangs or sinks and leans.

    moment : [kg m] that leans it, to the right positive      apart : [m] between the centres, one over the other
    lead   : [kg] of all that is in it       aside : [m] by which all of it would lie off the middle, if it is the lead
    """

    moment: float
    apart: float
    lead: float
    aside: float | None


def lean_of(seen: AsSeen) -> Lean | None:
    """What leans it; None for one that floats, whose waterline holds it too, and for one that stands."""
    lure = seen.lure
    found = seen.lies(lure)
    if not (seen.is_under or found.excess >= 0.0) or abs(found.leans) < math.radians(0.5):
        return None
    state, _ = lure.state()
    _, moment, _ = tilting(state[:8], state[WATER], lure.falling)
    sums = lure.sums()
    lead = sum(item.mass for item in lure.ledger.items if item.kind == "ballast")
    apart = float(sums.buoyancy_centre[2] - sums.weight_centre[2])
    return Lean(float(moment), apart, lead, float(moment) / lead if lead > 0.0 else None)


def lean_told(seen: AsSeen, lean: Lean) -> Finding:
    """How it was reckoned, and what can be done about it."""
    side, other = ("right", "left") if lean.moment > 0.0 else ("left", "right")
    words = (f"what leans it to the {side} is {{moment}}: {{weight}} in all, {{apart}} between the centres, leaning "
             "{leans}")  # fmt: skip
    leans = abs(seen.lies(seen.lure).leans)
    numbers = {"moment": (abs(lean.moment), Measure.MOMENT), "weight": (seen.lure.sums().mass, Measure.MASS),
               "apart": (lean.apart, Measure.LENGTH), "leans": (leans, Measure.ANGLE)}  # fmt: skip
    if lean.aside is not None:
        words += (f". If it is the lead, all {{lead}} of it lies {{aside}} off the middle to the {side}, or that of "
                  "one hole farther; it may as well be the wood, an eye or a hook")  # fmt: skip
        numbers |= {"lead": (lean.lead, Measure.MASS), "aside": (abs(lean.aside), Measure.LENGTH)}
    words += (f". Lead that is glued in stays: put weight low on the {other}, stick-on or in a small hole, and as "
              "much less in the middle")
    hanger = _hanger(seen, abs(lean.moment))
    if hanger is not None:
        words += f", or set the hanger of the {plain(hanger[0])} {{over}} to the {other}"
        numbers["over"] = (hanger[1], Measure.CUT)
    return note(words, **numbers)


def _hanger(seen: AsSeen, moment: float) -> tuple[str, float] | None:
    """The hook whose hanger, set over by the least [m], does as much; None where that is too far out."""
    lure = seen.lure
    worth = worth_outside(lure.water.density, _STEEL)
    ways = [(moment / (worth * hook_weight_now(lure, hook)), hook) for hook in seen.design.hooks
            if hook_weight_now(lure, hook) > 0.0]  # fmt: skip
    near = [(over, hook.name) for over, hook in ways if over <= _ASIDE * half_width_at(lure.hull, hook.at, 0.0)]
    return min(near)[::-1] if near else None
