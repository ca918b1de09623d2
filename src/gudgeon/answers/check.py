"""Everything a drawn lure is asked, in trade order, for one design."""

from dataclasses import replace

import numpy as np

from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import Ballasting, ballasting, in_whole_shot, worth_inside
from gudgeon.answers.checked import Casting, Check, Size, Weighed
from gudgeon.answers.clearance import clearances
from gudgeon.answers.elsewhere import elsewhere
from gudgeon.answers.evidence import doubts
from gudgeon.answers.finding import Finding, Gravity, worst_first
from gudgeon.answers.floating import lying
from gudgeon.answers.narrowing import best_measurement, widest_source
from gudgeon.answers.pieces import pieces
from gudgeon.answers.sinking_rate import SinkingRate, sinking_rate
from gudgeon.answers.timber import known_by
from gudgeon.answers.troubles import troubles
from gudgeon.answers.tubbing import tub_test
from gudgeon.answers.unlikely import unlikely_weights
from gudgeon.design.model import Design
from gudgeon.errors import NoAnswer
from gudgeon.physics.hull import lateral_area_split
from gudgeon.physics.inset import inset_ends
from gudgeon.physics.lure import SHAPED, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.spread import Estimate, smooth


def check(design: Design) -> Check:
    """Every answer for a design, the findings worst first.

    raises : BadDesign, NoAnswer
    """
    return checked_further(weighed(design, assemble(design)))


def weighed(design: Design, drawn: Lure) -> Weighed:
    """What of a check is known first; drawn : without the ballast to be found; raises NoAnswer."""
    ballast = ballasting(design, drawn) if any(pocket.free for pocket in design.pockets) else None
    lure = ballast.lure if ballast else drawn
    state, effects = lure.state()
    return Weighed(
        design=design, lure=lure, drawn=drawn, volume=smooth(lambda s: s[..., VOLUME], state, effects, lure.knowledge),
        ballast=ballast, rate=sinking_rate(state, effects, lure.knowledge, lure.falling), lying=lying(lure),
        doubts=worst_first([*doubts(design, drawn), *unlikely_weights(design, drawn)]),
    )  # fmt: skip


def checked_further(first: Weighed) -> Check:
    """The whole check, from what is known first; raises NoAnswer."""
    design, lure, drawn, ballast, rate = first.design, first.lure, first.drawn, first.ballast, first.rate
    shot, no_shot = _in_shot(design, drawn, ballast)
    blank, blank_effects = drawn.state(drawn.chosen(step=SHAPED))
    wood = smooth(lambda s: s[..., MASS] / s[..., VOLUME], blank, blank_effects, drawn.knowledge)
    above, below = lateral_area_split(lure.hull, lure.eye_height, 0.0, lure.hull.length)
    pointed = "pointed" in (design.outline.nose, design.outline.tail)
    answer = Check(
        design=design, lure=lure, drawn=drawn, volume=first.volume, ballast=ballast, rate=rate, lying=first.lying,
        doubts=first.doubts,
        finished_size=_size(lure, lure.shown - lure.build, pointed=pointed),
        bare_size=_size(lure, lure.shown, pointed=pointed), wood_density=wood, wood_known_by=known_by(design),
        blank=smooth(lambda s: s[..., MASS], blank, blank_effects, drawn.knowledge),
        above_eye=above, below_eye=below, now=_rate(drawn), shot=shot,
        clearances=clearances(design, lure, ballast.pockets) if ballast else (),
        shot_clearances=clearances(design, shot.lure, shot.pockets) if shot else (),
        pieces=pieces(lure), elsewhere=elsewhere(design, lure, worth_inside(lure)), tub=tub_test(design, lure),
        casting=_casting(design, rate), measurement=best_measurement(design, lure, leaded=_is_leaded(ballast)),
        widest_source=widest_source(lure), findings=(),
    )  # fmt: skip
    slips = [doubt for doubt in first.doubts if doubt.gravity is Gravity.WRONG]
    others = first.doubts[len(slips) :]
    return replace(answer, findings=worst_first([*slips, *troubles(answer), *others, *no_shot]))


def _in_shot(
    design: Design, lure: Lure, ballast: Ballasting | None
) -> tuple[Ballasting | None, tuple[Finding, ...]]:
    """The ballast in whole shot when it is asked for, or why the drawer cannot make it."""
    if ballast is None or not design.aim.whole_shot:
        return None, ()
    try:
        return in_whole_shot(design, lure, ballast), ()
    except NoAnswer as refusal:
        return None, (Finding(Gravity.WATCH, refusal.heading[0].upper() + refusal.heading[1:]),)


def _is_leaded(ballast: Ballasting | None) -> bool:
    """Whether the ballast that is wanted is in already."""
    return ballast is None or sum(load.add for load in ballast.pockets) < 0.02 * ballast.put


def _rate(lure: Lure) -> SinkingRate:
    state, effects = lure.state()
    return sinking_rate(state, effects, lure.knowledge, lure.falling)


def _size(lure: Lure, cut_in: float, *, pointed: bool) -> Size:
    """Largest sizes of a body, and of the wood under `cut_in` [m] of coats: where it is largest its skin runs level.

    pointed : whether an end runs to a point, where a coat shortens the wood by more than its thickness
    """
    hull = lure.hull
    shape = hull.sections(np.linspace(hull.start, hull.stop, 203)[1:-1])
    start, stop = hull.start + cut_in, hull.stop - cut_in
    if cut_in > 0.0 and pointed:
        start, stop = inset_ends(hull.back, hull.belly, hull.side, (hull.start, hull.stop), cut_in)
    depth, width = float((shape.top - shape.bottom).max()), 2.0 * float(shape.half_width.max())
    return Size(stop - start, depth - 2.0 * cut_in, width - 2.0 * cut_in)


def _casting(design: Design, rate: SinkingRate) -> Casting:
    extra = design.aim.terminal_tackle
    weight = Estimate(rate.mass.value + extra, rate.mass.low + extra, rate.mass.high + extra)
    least, most = design.aim.rod if design.aim.rod else (None, None)
    return Casting(weight, least, most)
