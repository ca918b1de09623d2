"""A run of lures out of the log: lead for each blank, which to set aside, each stage's spread against the last run."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import ballasting
from gudgeon.answers.batching import Batch, Drilling, batch
from gudgeon.answers.bench_lure import BenchLure, BenchPart, BenchWater, Stuff, lake, stuff
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.saying import note, watch
from gudgeon.answers.stage_weights import stage_weights
from gudgeon.answers.sums import BenchAim, PlanArea
from gudgeon.answers.water_state import salinity_of
from gudgeon.design.model import Design
from gudgeon.physics.lure import SHAPED, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.shop.entries import LureLine
from gudgeon.shop.log import Log
from gudgeon.shop.records import STEPS, WHOLE, Jug, Pattern, Weighing
from gudgeon.units import Reading

FEWEST = 3  # lures of either run, before two runs are set against each other
_FAR = 2.0  # times the spread of a mean, as the least that tells two runs apart
_NOT_ON = ("wood", "hole", "ballast", "plug")
_TAP = 293.15  # K
_METAL = 7850.0  # kg/m3; of what displaces nothing it plays no part
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
    findings = [*(blanks.warnings if blanks else ()), *_against_last(stages), *_unweighed(lines, now)]
    return LureRun(name, pattern.version, number, tuple(lines), _progress(lines), stages, blanks,
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


def _progress(lines: Sequence[LureLine]) -> tuple[tuple[str, int], ...]:
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


def _unweighed(lines: Sequence[LureLine], now: dict[str, dict[int, float]]) -> Iterator[Finding]:
    left = [str(line.number) for line in lines if line.number not in now.get("shaped", {})]
    if left:
        yield note(f"not weighed as shaped blanks: {', '.join(left)}")


def _blanks(log: Log, pattern: int, run: int, weights: dict[int, float], drilling: Drilling | None) -> Batch | None:
    """The lead for each blank, by the pattern's design and the run's own dunks."""
    if len(weights) < 2:
        return None
    design = log.design_at(pattern)
    drawn = assemble(design)
    dunks = [one.what.displaced.value for one in log.measured(Jug, pattern, run, 1000)
             if one.what.piece == WHOLE and one.what.stage in _BLANKS and one.what.fitted is None]  # fmt: skip
    aim, plan = _aim(design), PlanArea(Reading(drawn.falling.plan_area), _drag(design))
    numbers = sorted(weights)
    blanks = [Reading(weights[number]) for number in numbers]
    material = next((pocket.material for pocket in design.pockets if pocket.free), "lead")
    return batch(blanks, _like(design, drawn, dunks), aim, stuff(material), plan, drilling=drilling,
                 called=numbers)  # fmt: skip


def _aim(design: Design) -> BenchAim:
    rate = (design.aim.rate or 0.0) * (-1.0 if design.aim.does == "floats" else 1.0)
    return BenchAim(velocity=rate, reserve=design.aim.reserve or 0.0)


def _drag(design: Design) -> Reading | None:
    own = design.coefficients
    return None if own.fall_drag is None else Reading(own.fall_drag, own.fall_drag_spread)


def _like(design: Design, drawn: Lure, dunks: Sequence[float]) -> BenchLure:
    """A lure of the pattern as bench sums see one: a blank, the water it displaces, all that goes on it as one part.

    Plugs, and the wood that they take the place of, count with what goes on.
    """
    water = BenchWater(design.water.temperature, salinity_of(design.water))
    jug = lake(Reading(_TAP))
    blank = drawn.chosen(step=SHAPED)
    volume = float(drawn.state(blank)[0][VOLUME])
    spread = drawn.knowledge.half_width(drawn.ledger.effects(blank)[:, VOLUME])
    displaced = Reading(sum(dunks) / len(dunks)) if dunks else Reading(volume * jug.density, spread * jug.density)
    filled = ballasting(design, drawn).lure if any(pocket.free for pocket in design.pockets) else drawn
    mask = filled.chosen()
    for place, item in enumerate(filled.ledger.items):
        mask[place] &= item.kind not in _NOT_ON
    masses, volumes = filled.ledger.item_masses(filled.knowledge)
    mass = float(masses[mask].sum()) + _plugs(filled)
    room = float(volumes[mask].sum())
    unsure = drawn.knowledge.half_width(filled.ledger.effects(mask)[:, MASS])
    mixed = Stuff("mixed", mass / room if room > 0.0 else _METAL)
    rest = BenchPart("all that goes on", Reading(mass, unsure), mixed, soaked=room <= 0.0, better="weigh the parts")
    return BenchLure(Reading(0.0), displaced, None, by_table=False, parts=(rest,), water=water, jug=jug)


def _plugs(filled: Lure) -> float:
    """[kg] of the plugs, less the wood of the bores beyond what the ballast itself takes the place of."""
    total = 0.0
    for pocket in filled.pockets:
        bored = filled.fills[pocket.name]
        total += bored.plug_mass - filled.wood_density * (bored.removed - bored.mass / pocket.ballast_density)
    return total
