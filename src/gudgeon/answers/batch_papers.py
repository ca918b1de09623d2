"""The papers of a batch: one pattern, many blanks; each blank's own ballast, hole by hole, and its weights on the way.

All blanks of a batch have one shape, so what one of them weighs beyond the mean is its wood.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from gudgeon.answers.assembly import assemble
from gudgeon.answers.batching import Batch, batch
from gudgeon.answers.bench_lure import WEIGH_FINER, BenchLure, BenchPart, BenchWater, Stuff
from gudgeon.answers.check import check
from gudgeon.answers.finding import Finding, Gravity, worst_first
from gudgeon.answers.papers import Papers, papers
from gudgeon.answers.saying import note, wrong
from gudgeon.answers.sums import BenchAim, PlanArea
from gudgeon.answers.timber import BOARD
from gudgeon.answers.water_state import salinity_of
from gudgeon.design.batch_list import WeighedBlank
from gudgeon.design.model import Design
from gudgeon.errors import BadDesign, Fault, NoAnswer
from gudgeon.library.metals import material
from gudgeon.library.woods import LEAST_DENSE_WOOD, MOST_DENSE_WOOD
from gudgeon.physics.lure import LOG_FALL_DRAG, SHAPED, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.units import STANDARD_GRAVITY, Measure, Reading

ASIDE_BEYOND = 0.10  # of the mean blank, as `batching` sets aside; common practice, no source
_SHORT = 2e-4  # kg of weight in water: less is made good in the last hole
_STEP = 0.01  # of a blank's weight, either way, for what a gram of it does


@dataclass(frozen=True)
class BatchLure:
    """One lure of a batch.

    blank  : [kg] as weighed; None where it is not weighed yet
    papers : its own
    aside  : True when it is too far from the rest
    """

    number: int
    blank: float | None
    papers: Papers
    aside: bool

    @property
    def lead(self) -> float:
        """[kg] of ballast in all its holes."""
        return sum(hole.mass for hole in self.papers.holes)


@dataclass(frozen=True)
class BatchPapers:
    """All of a batch.

    pattern  : of the mean blank; its holes and their order are everybody's
    batch    : the same blanks by the sum alone, as `batching` has them; None where none is weighed
    per_gram : [kg/kg] less ballast for each gram that a blank weighs more
    blank    : [kg] the pattern's
    """

    pattern: Papers
    lures: tuple[BatchLure, ...]
    batch: Batch | None
    per_gram: float
    blank: float
    findings: tuple[Finding, ...]


def batch_papers(design: Design, blanks: Sequence[WeighedBlank] | int) -> BatchPapers:
    """The papers of so many lures of a design: weighed blanks, or only how many.

    raises : BadDesign for a weight that is no blank's of this drawing; NoAnswer where no pocket is free
    """
    fresh = _fresh(design)
    if not any(pocket.free for pocket in fresh.pockets):
        raise NoAnswer("a batch needs a pocket whose ballast is free: its blanks differ, and their ballast with them")
    if isinstance(blanks, int):
        pattern = papers(check(fresh))
        like = _Alike(_bored_alike(fresh, pattern), pattern)
        lures = tuple(BatchLure(number, None, like.pattern, False) for number in range(1, blanks + 1))
        return BatchPapers(like.pattern, lures, None, like.per_gram(), like.blank, (_together(like.pattern),))
    mean = sum(one.weight.value for one in blanks) / len(blanks)
    _refuse_strangers(fresh, blanks)
    fresh = fresh.model_copy(update={"wood": fresh.wood.model_copy(update={"blank_weight": Reading(mean)})})
    pattern = papers(check(fresh))
    like = _Alike(_bored_alike(fresh, pattern), pattern)
    summed = by_the_sum(like.pattern, blanks)
    lures = tuple(BatchLure(one.number, one.weight.value, like.of(one.weight), other.aside)
                  for one, other in zip(blanks, summed.blanks, strict=True))  # fmt: skip
    return BatchPapers(like.pattern, lures, summed, like.per_gram(), mean,
                       worst_first([*_findings(lures), *_warned(summed), _together(like.pattern)]))  # fmt: skip


def _fresh(design: Design) -> Design:
    """The pattern without what belongs to the one lure it was made from: its ballast, bores, weights on the way.

    What was measured of the shape stays, and the drag that a timed drop told.
    """
    pockets = tuple(pocket.model_copy(update={"holds": None, "depth": None, "free": True})
                    if pocket.holds or pocket.free else pocket for pocket in design.pockets)  # fmt: skip
    kept = tuple(one for one in design.measured if one.displaced is not None)
    updates: dict[str, object] = {"pockets": pockets, "measured": kept}
    if any(one.sinks is not None or one.rises is not None for one in design.measured):
        lure = assemble(design)
        state, effects = lure.state()
        spread = lure.knowledge.half_width(effects[:, LOG_FALL_DRAG])
        drag = float(np.exp(state[LOG_FALL_DRAG]))
        updates["coefficients"] = design.coefficients.model_copy(
            update={"fall_drag": drag, "fall_drag_spread": spread * drag})  # fmt: skip
    return design.model_copy(update=updates)


def _bored_alike(design: Design, pattern: Papers) -> Design:
    """Every blank is bored in the same places: those that the mean one needs."""
    used = {hole.name for hole in pattern.holes}
    return design.model_copy(update={"pockets": tuple(one for one in design.pockets if one.name in used)})


class _Alike:
    """Lures of one pattern."""

    def __init__(self, design: Design, pattern: Papers) -> None:
        self.design = design
        self.order = [hole.name for hole in pattern.holes]
        self.pattern = self._papers(design)
        lure = self.pattern.check.lure
        self.prior, self.share = lure.wood_density, lure.wood_spreads[0][BOARD]
        self.blank = float(lure.state(lure.chosen(step=SHAPED))[0][MASS])

    def of(self, weight: Reading) -> Papers:
        """Of one blank [kg]: as far as it is off the mean its wood is."""
        density = self.prior * weight.value / self.blank
        wood = self.design.wood.model_copy(
            update={"density": Reading(density, self.share * density), "blank_weight": weight})  # fmt: skip
        return self._papers(self.design.model_copy(update={"wood": wood}))

    def per_gram(self) -> float:
        """[kg/kg] less ballast for each gram more of blank."""
        light, heavy = (self.of(Reading(self.blank * share)) for share in (1.0 - _STEP, 1.0 + _STEP))
        less = sum(hole.mass for hole in light.holes) - sum(hole.mass for hole in heavy.holes)
        return less / (2.0 * _STEP * self.blank)

    def _papers(self, design: Design) -> Papers:
        """With its holes in the pattern's order."""
        made = papers(check(design))
        holes = tuple(sorted(made.holes, key=lambda hole: self.order.index(hole.name)))
        spare = made.check.ballast.spare if made.check.ballast else 0.0
        return replace(made, holes=holes, held_back=min(spare, holes[-1].add) if holes else 0.0)


def _refuse_strangers(design: Design, blanks: Sequence[WeighedBlank]) -> None:
    """Weights that no wood gives a body of this drawing."""
    volume = sum(segment.bare for segment in assemble(design).segments)
    faults = []
    for one in blanks:
        dense = one.weight.value / volume
        if not LEAST_DENSE_WOOD <= dense <= MOST_DENSE_WOOD:
            words = (f"{1e3 * one.weight.value:g} g over the {1e6 * volume:.0f} cm3 of this drawing is "
                     f"{dense / 1000:.2f} g/cm3, which is no wood; check the unit, and that it is a blank of this "
                     "pattern")  # fmt: skip
            faults.append(Fault(f"blank {one.number}", words))
    if faults:
        raise BadDesign("these blanks are not of this drawing", faults)


def by_the_sum(pattern: Papers, blanks: Sequence[WeighedBlank]) -> Batch:
    """The same batch as `batching` sums it up, from the pattern's parts and the water its blank displaces.

    raises : Refusal as `batching` does
    """
    like = bench_like(pattern.check.lure, pattern.check.design)
    aim, plan = _aim(pattern, like.water.density)
    metal = material(pattern.holes[-1].material)
    return batch([one.weight for one in blanks], like, aim, Stuff(metal.name.lower(), metal.density), plan,
                 aside_beyond=ASIDE_BEYOND, called=[one.number for one in blanks])  # fmt: skip


def bench_like(lure: Lure, design: Design) -> BenchLure:
    """A drawn lure with its ballast in as bench sums see one: blank, the water it displaces, all else in parts."""
    water = BenchWater(design.water.temperature, salinity_of(design.water))
    state, effects = lure.state(lure.chosen(step=SHAPED))
    volume, unsure = float(state[VOLUME]), lure.knowledge.half_width(effects[:, VOLUME])
    return BenchLure(Reading(float(state[MASS])), Reading(volume * water.density, unsure * water.density), None,
                     by_table=False, parts=_parts(lure, volume), water=water, jug=water)  # fmt: skip


def _parts(lure: Lure, blank: float) -> tuple[BenchPart, ...]:
    """All but wood and ballast as two parts of the same weight and room: what shows, and what sits in holes.

    blank : [m3] of the shaped blank
    """
    masses, _ = lure.ledger.item_masses(lure.knowledge)
    named = list(zip(lure.ledger.items, (float(mass) for mass in masses), strict=True))
    weight = sum(mass for item, mass in named if item.kind not in ("wood", "ballast", "hole", "slot"))
    room = float(lure.state()[0][VOLUME]) - blank
    bored = sum(fill.removed - fill.mass / pocket.ballast_density
                for pocket in lure.pockets for fill in (lure.fills[pocket.name],))  # fmt: skip
    density = sum(mass for item, mass in named if item.kind == "wood") / blank
    gone = bored - sum(mass for item, mass in named if item.kind == "slot") / density
    half, mask = 0.5 * weight, lure.chosen()
    for place, item in enumerate(lure.ledger.items):
        mask[place] &= item.kind not in ("wood", "ballast", "hole", "slot")
    unsure = lure.knowledge.half_width(lure.ledger.effects(mask)[:, MASS])
    return (_part("what shows", Reading(half, unsure), room, is_buried=False),
            _part("what sits in holes", Reading(half, 0.0), gone, is_buried=True))  # fmt: skip


def _part(name: str, weight: Reading, room: float, *, is_buried: bool) -> BenchPart:
    """Parts of a weight in a room [m3]; where there is no room for them, weight alone, as the wood soaks up."""
    better = WEIGH_FINER if is_buried else "weigh the parts"
    if room <= 0.0 or weight.value <= 0.0:
        return BenchPart(name, weight, Stuff("parts", 1.0), soaked=True, better=better)
    return BenchPart(name, weight, Stuff("parts", weight.value / room), buried=is_buried, better=better)


def _aim(pattern: Papers, water: float) -> tuple[BenchAim, PlanArea | None]:
    """The same aim, and an area that needs the same weight in water for its rate."""
    aim, ballast = pattern.check.design.aim, pattern.check.ballast
    if aim.reserve is not None:
        return BenchAim(reserve=aim.reserve), None
    if aim.rate is None or ballast is None:
        return BenchAim(), None
    velocity = aim.rate if aim.does == "sinks" else -aim.rate
    area = abs(ballast.target.excess) * STANDARD_GRAVITY / (0.5 * water * velocity**2)
    return BenchAim(velocity=velocity), PlanArea(Reading(area), Reading(1.0))


def _findings(lures: Sequence[BatchLure]) -> Iterator[Finding]:
    """Blanks that the pattern's holes cannot make do what they are to do."""
    for lure in lures:
        ballast = lure.papers.check.ballast
        left = ballast.excess_left if ballast else 0.0
        if left < -_SHORT:
            yield wrong(f"number {lure.number} is too light: its holes full it is {{short}} of weight in water short. "
                        "A wider or deeper hole, or another float class", short=(-left, Measure.MASS))  # fmt: skip
        elif left > _SHORT:
            yield wrong(f"number {lure.number} is too heavy for this aim: {{over}} of weight in water over with what "
                        "is in it", over=(left, Measure.MASS))  # fmt: skip


def _warned(summed: Batch) -> Iterator[Finding]:
    """What the sum warns of, set aside and floating; what all share is told from the drawing."""
    yield from (found for found in summed.warnings if found.gravity is Gravity.WATCH)


def _together(pattern: Papers) -> Finding:
    ballast = pattern.check.ballast
    spread = ballast.needed.spread if ballast else 0.0
    return note("all leads together may be off by {spread}: finish one at the tub, then shift the last holes of the "
                "rest alike", spread=(spread, Measure.MASS))  # fmt: skip
