"""A run of lures out of the log: lead for each blank, which to set aside, each stage's spread against the last run."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from gudgeon.answers.aiming import Target, target_of
from gudgeon.answers.as_weighed import as_it_lay, as_measured, measured_entry
from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import ballasting
from gudgeon.answers.batch_papers import bench_like
from gudgeon.answers.batching import Batch, Blank, Drilling, batch
from gudgeon.answers.bench_lure import fall_drag, stuff
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.log_faults import told_by_entry
from gudgeon.answers.saying import note, watch
from gudgeon.answers.stage_weights import stage_weights
from gudgeon.answers.sums import BenchAim, PlanArea
from gudgeon.design.model import Design
from gudgeon.physics.sinking import excess_for
from gudgeon.physics.spread import around
from gudgeon.shop.entries import LureLine
from gudgeon.shop.log import Log
from gudgeon.shop.records import STEPS, WHOLE, Jug, Pattern, TimedDrop, Weighing
from gudgeon.units import Density, Reading

FEWEST = 3  # lures of either run, before two runs are set against each other
_FAR = 2.0  # times the spread of a mean, as the least that tells two runs apart
_BLANKS = ("shaped", "drilled", "sealed")


@dataclass(frozen=True)
class StageSpread:
    """The whole lures of a run as weighed at one stage.

    count     : how many were weighed
    mean      : [kg]      low, high : [kg] lightest and heaviest
    deviation : standard deviation over the mean; None for one lure
    last_mean, last_deviation : of the run before; None where it was not weighed then
    """

    stage: str
    count: int
    mean: float
    low: float
    high: float
    deviation: float | None
    last_mean: float | None
    last_deviation: float | None


@dataclass(frozen=True)
class LureRun:
    """A run as it stands.

    lures  : by number      at : stage, or "begun" -> how many have come so far and no further
    blanks : lead for each blank; None before two blanks are weighed
    """

    pattern: str
    version: int
    run: int
    lures: tuple[LureLine, ...]
    at: tuple[tuple[str, int], ...]
    stages: tuple[StageSpread, ...]
    blanks: Batch | None
    findings: tuple[Finding, ...]


def lure_run(log: Log, name: str, version: int | None = None, run: int | None = None, *,
             drilling: Drilling | None = None) -> LureRun:  # fmt: skip
    """The newest run of a pattern's newest version, or another; raises BadShop, BadDesign, Refusal."""
    root = log.pattern_root(name, version)
    lines = log.run_of(root, run)
    pattern = log.entry(root).what
    assert isinstance(pattern, Pattern)  # its root is a pattern's
    if not lines:
        return LureRun(name, pattern.version, run or 0, (), (), (), None,
                       (note("no lure of it is begun yet: gudgeon log add lure --help"),))  # fmt: skip
    number = lines[0].run
    now, before = _weights(log, root, number), _weights(log, root, number - 1)
    stages = tuple(_spread(stage, masses, before.get(stage, {})) for stage, masses in now.items())
    blanks = _blanks(log, root, number, now.get("shaped", {}), drilling)
    findings = [*(blanks.warnings if blanks else _no_leads(now.get("shaped", {}))), *_against_last(stages),
                *_unweighed(lines, now)]  # fmt: skip
    return LureRun(name, pattern.version, number, tuple(lines), progress(lines), stages, blanks,
                   worst_first(findings))  # fmt: skip


def _weights(log: Log, pattern: int, run: int) -> dict[str, dict[int, float]]:
    """Stage -> lure -> the weight of its whole [kg]."""
    design = log.design_at(pattern)
    found = stage_weights(log.measured(Weighing, pattern, run, 1000), design.segment_names, design.uncertainty.scale)
    return {stage: {lure: one.mass.value for lure, one in lures.items()} for stage, lures in found.items()}


def _deviation(masses: Sequence[float]) -> float | None:
    if len(masses) < 2:
        return None
    mean = sum(masses) / len(masses)
    return math.sqrt(sum((mass - mean) ** 2 for mass in masses) / (len(masses) - 1)) / mean


def _spread(stage: str, now: dict[int, float], before: dict[int, float]) -> StageSpread:
    masses, last = list(now.values()), list(before.values())
    return StageSpread(stage, len(masses), sum(masses) / len(masses), min(masses), max(masses), _deviation(masses),
                       sum(last) / len(last) if last else None, _deviation(last))  # fmt: skip


def progress(lines: Sequence[LureLine]) -> tuple[tuple[str, int], ...]:
    """Stage, or "begun" -> how many have come so far and no further."""
    counts = {stage: sum((line.stage or "begun") == stage for line in lines) for stage in ("begun", *STEPS)}
    return tuple((stage, count) for stage, count in counts.items() if count)


def _against_last(stages: Sequence[StageSpread]) -> Iterator[Finding]:
    """A stage at which this run is further from the last than chance makes it."""
    for stage in stages:
        if stage.last_mean is None or stage.last_deviation is None or stage.deviation is None or stage.count < FEWEST:
            continue
        share = stage.mean / stage.last_mean - 1.0
        unsure = _FAR * math.hypot(stage.deviation, stage.last_deviation) / math.sqrt(stage.count)
        if abs(share) > max(unsure, 0.01):
            side, leaves = ("heavier", "heavy") if share > 0.0 else ("lighter", "light")
            yield watch(f"{stage.stage}: on the mean {100.0 * abs(share):.1f} % {side} than the last run. Work the "
                        f"lead out anew; the old one leaves them too {leaves}")  # fmt: skip
            return


def _no_leads(weights: dict[int, float]) -> Iterator[Finding]:
    own = [f"; lure {number}'s own: gudgeon check FILE --lure {number}" for number in weights]
    yield note(f"no lead for each blank yet: it wants two whole blanks weighed as shaped, and there "
               f"{'is one' if own else 'is none'}{''.join(own)}")  # fmt: skip


def _unweighed(lines: Sequence[LureLine], now: dict[str, dict[int, float]]) -> Iterator[Finding]:
    left = [str(line.number) for line in lines if line.number not in now.get("shaped", {})]
    if left:
        yield note(f"not weighed as shaped blanks: {', '.join(left)}")


def _blanks(log: Log, pattern: int, run: int, weights: dict[int, float], drilling: Drilling | None) -> Batch | None:
    """The lead for each blank, by the pattern's design and the run's own dunks."""
    if len(weights) < 2:
        return None
    design = _of_run(log, pattern, run, weights)
    drawn = assemble(design)
    filled, target = drawn, target_of(design.aim, drawn)
    if any(pocket.free for pocket in design.pockets):
        ballast = ballasting(design, drawn)
        filled, target = ballast.lure, ballast.target
    numbers = sorted(weights)
    blanks = [Reading(weights[number]) for number in numbers]
    metal = next((pocket.material for pocket in design.pockets if pocket.free), "lead")
    like = bench_like(filled, design)
    found = batch(blanks, like, _aim(design), stuff(metal), _plan(design, target, like.water.density),
                  drilling=drilling, called=numbers)  # fmt: skip
    return replace(found, blanks=tuple(_own_lead(log, pattern, one, found.mean_lead, drilling) for one in found.blanks))


def _own_lead(log: Log, pattern: int, blank: Blank, mean: float, drilling: Drilling | None) -> Blank:
    """A blank's lead as a check of that lure has it, where more of it was measured than what it weighs shaped."""
    record = log.lure(blank.number)
    design = log.design_at(pattern)
    is_more = any(isinstance(entry.what, Jug | TimedDrop) or (isinstance(entry.what, Weighing)
                  and STEPS[entry.what.stage] > STEPS["shaped"]) for entry in record.entries)  # fmt: skip
    if not is_more or not any(pocket.free for pocket in design.pockets):
        return blank
    with told_by_entry(record, "does not fit its pattern"):
        measured = as_it_lay(as_measured(design, record).design, record)
        lead = ballasting(measured, assemble(measured)).needed
    depth = blank.depth if drilling is None else lead.value / drilling.per_depth / drilling.holes
    return replace(blank, lead=lead, beyond=around(lead.value - mean, lead.spread), depth=depth)


def _of_run(log: Log, pattern: int, run: int, weights: dict[int, float]) -> Design:
    """The pattern's design with the run's wood, its mean blank and its mean dunk of a stage; its pockets empty."""
    design = log.design_at(pattern)
    wood = as_measured(design, log.lure(min(weights)), 0).design.wood
    mean = sum(weights.values()) / len(weights)
    dunks: dict[str, list[Jug]] = {}
    for one in log.measured(Jug, pattern, run, 1000):
        if one.what.piece == WHOLE and one.what.stage in _BLANKS and one.what.fitted is None:
            dunks.setdefault(one.what.stage, []).append(one.what)
    told = [replace(own[0], displaced=Reading(sum(one.displaced.value for one in own) / len(own)))
            for own in dunks.values()]  # fmt: skip
    return design.model_copy(update={
        "wood": wood.model_copy(update={"blank_weight": Reading(mean)}),
        "measured": tuple(made for one in told if (made := measured_entry(one, design)) is not None),
        "pockets": tuple(one.model_copy(update={"holds": None}) for one in design.pockets),
    })  # fmt: skip


def _aim(design: Design) -> BenchAim:
    rate = (design.aim.rate or 0.0) * (-1.0 if design.aim.does == "floats" else 1.0)
    return BenchAim(velocity=rate, reserve=design.aim.reserve or 0.0)


def _plan(design: Design, target: Target, water: Density) -> PlanArea | None:
    """The area that wants the drawn lure's weight in water for the rate aimed at."""
    own, rate = design.coefficients, design.aim.rate
    if not rate:
        return None
    drag = None if own.fall_drag is None else Reading(own.fall_drag, own.fall_drag_spread)
    per_area = excess_for(rate, water, fall_drag(drag).value)
    return PlanArea(Reading(abs(target.excess) / per_area), drag)
