"""What a shop's log tells of its habits, record by record: the patterns with their lures, and what one record is."""

from collections.abc import Mapping
from dataclasses import dataclass

from gudgeon.answers.assembly import assemble
from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import watch
from gudgeon.answers.stage_weights import StageWeight, stage_weights
from gudgeon.design.model import Design
from gudgeon.errors import Refusal
from gudgeon.physics.lure import SHAPED, Lure
from gudgeon.physics.mass import VOLUME
from gudgeon.shop.log import Log
from gudgeon.shop.records import Pattern, Weighing

MOST = 1000
"""Lures of one version of a pattern that are asked, the newest."""


@dataclass(frozen=True)
class Noted:
    """One record of a habit.

    value : [SI] more than nothing
    share : half-width of the measuring, as a share of the value
    group : the board, the run or the pattern it is of
    entry : where it stands in the log      lure : its number; None for a board's own
    book  : what table or drawing say there [SI]; None where they say nothing
    drawn : it rests on a volume that was drawn and not dunked
    """

    value: float
    share: float
    group: str
    entry: int
    lure: int | None
    book: float | None = None
    drawn: bool = False


@dataclass(frozen=True)
class Kin:
    """The lures of one version of a pattern.

    drawn  : the lure as its design has it       root : first entry of the version
    boards : lure -> its board, None for none    runs : lure -> its run
    weights : stage -> lure -> its whole
    """

    root: int
    name: str
    design: Design
    drawn: Lure
    boards: Mapping[int, str | None]
    runs: Mapping[int, int]
    weights: Mapping[str, Mapping[int, StageWeight]]

    @property
    def blank_volume(self) -> float:
        """[m3] of the shaped blank as drawn."""
        return float(self.drawn.state(self.drawn.chosen(step=SHAPED))[0][VOLUME])

    def run_of(self, lure: int) -> str:
        """Which run a lure is of, in words."""
        return f"{self.name}, run {self.runs[lure]}"

    def weighed(self, lure: int, *stages: str) -> StageWeight | None:
        """A lure's whole at the first of these stages that it was weighed at."""
        return next((self.weights[stage][lure] for stage in stages if lure in self.weights.get(stage, {})), None)


def kindred(log: Log, but: int | None = None) -> tuple[tuple[Kin, ...], tuple[Finding, ...]]:
    """Every version of every pattern with the lures made from it; and the versions that can no longer be read.

    but : a lure that is left out
    """
    found, faulty = [], []
    entries = [(entry, entry.what) for entry in log.standing("pattern") if isinstance(entry.what, Pattern)]
    for name in dict.fromkeys(pattern.name for _, pattern in entries):
        lines = [line for line in log.lures(pattern=name, limit=MOST) if line.number != but]
        for entry, pattern in entries:
            own = [line for line in lines if (name, line.version) == (pattern.name, pattern.version)]
            if not own:
                continue
            try:
                design = log.design_at(entry.root)
                drawn = assemble(design)
            except Refusal as refusal:
                faulty.append(watch(f"version {pattern.version} of {name} is left out: {refusal.heading}"))
                continue
            numbers = {line.number for line in own}
            seen = [one for one in log.measured(Weighing, entry.root, None, MOST) if one.lure in numbers]
            weights = stage_weights(seen, design.segment_names, design.uncertainty.scale)
            found.append(Kin(entry.root, name, design, drawn, {line.number: line.board for line in own},
                             {line.number: line.run for line in own}, weights))  # fmt: skip
    return tuple(found), tuple(faulty)
