"""What the papers for the bench need beside the check: the holes in order, weights at each stage, the cautions."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from gudgeon.answers.ballasting import Ballasting, Bit, PocketLoad, usable_shot
from gudgeon.answers.checked import Check
from gudgeon.design.model import STAGES
from gudgeon.library.cautions import cautions_for, lead_law_notes, sensitising
from gudgeon.library.drills import drill_for
from gudgeon.library.woods import species
from gudgeon.physics.hull import half_width_at, skin_heights
from gudgeon.physics.lure import SHAPED, Lure
from gudgeon.physics.mass import MASS, VOLUME
from gudgeon.physics.pocket import Fill, Pocket
from gudgeon.physics.spread import Estimate, smooth

Face = Literal["belly", "back", "left", "right", "front", "rear"]


@dataclass(frozen=True)
class Hole:
    """One bore as it is to be drilled and filled.

    pocket     : where it goes in, and how wide
    face       : drilled in from there
    material, plug_material : the maker's words
    mass, add  : [kg] of ballast in it all told, and more than is in it now
    bored      : depth, place and plug, from the finished skin, in a bore of the width that was drawn
    coat       : [m] of finish over its mouth, along the bore: it is drilled that much less deep in bare wood
    wall       : [m] of wood left beyond its end
    taped      : [kg] of the same ballast taped outside instead; None without a ballast answer
    metric_bit, inch_bit : what to drill it with
    """

    pocket: Pocket
    face: Face
    material: str
    plug_material: str
    mass: float
    add: float
    bored: Fill
    coat: float
    wall: float
    taped: float | None
    metric_bit: Bit
    inch_bit: Bit

    @property
    def name(self) -> str:
        """The maker's."""
        return self.pocket.name

    @property
    def is_to_fill(self) -> bool:
        """Whether more goes in than is there now."""
        return self.add > 1e-5


@dataclass(frozen=True)
class ShotHole:
    """One bore's ballast in whole shot.

    counts : (how many, [kg] of one, [m] across) of each size used
    metric_bit, inch_bit : with the depth the shot and its plug need, from the finished skin
    """

    name: str
    counts: tuple[tuple[int, float, float], ...]
    mass: float
    metric_bit: Bit
    inch_bit: Bit


@dataclass(frozen=True)
class StageWeight:
    """What the scale should show at one stage.

    pieces : of each segment, from the nose; empty for a one-piece lure
    """

    stage: str
    whole: Estimate
    pieces: tuple[Estimate, ...]


@dataclass(frozen=True)
class Warned:
    """One caution: what it is about, the words, and where they come from."""

    subject: str
    words: str
    source: str


@dataclass(frozen=True)
class Papers:
    """All that goes on paper.

    holes        : in the order they are filled; the last one waits for the tub
    held_back    : [kg] left out of the last hole until then
    unused       : names of free pockets that need no hole
    shot         : the same ballast in whole shot; empty without any in stock
    stages       : from the shaped blank to the rigged lure
    blank_volume : [m3] of the shaped blank, all pieces
    lead         : [kg] of lead in the lure
    cautions     : those that apply
    laws         : what single places are known to forbid; empty without lead
    """

    check: Check
    holes: tuple[Hole, ...]
    held_back: float
    unused: tuple[str, ...]
    shot: tuple[ShotHole, ...]
    stages: tuple[StageWeight, ...]
    blank_volume: Estimate
    lead: float
    cautions: tuple[Warned, ...]
    laws: tuple[Warned, ...]

    @property
    def waiting(self) -> Hole | None:
        """The hole filled last, which the tub test settles; None where no ballast is still to be found."""
        is_open = self.check.ballast is not None and bool(self.holes) and self.holes[-1].is_to_fill
        return self.holes[-1] if is_open else None


def papers(check: Check) -> Papers:
    """What is to be printed of a check."""
    lure = check.lure
    holes = _in_order(check, [_hole(check, pocket) for pocket in lure.pockets if lure.fills[pocket.name].depth > 0.0])
    lead = sum(hole.mass for hole in holes if _is_lead(hole.material))
    spare = check.ballast.spare if check.ballast else 0.0
    shaped, effects = lure.state(lure.chosen(step=SHAPED))
    used = {hole.name for hole in holes}
    return Papers(
        check=check, holes=holes, held_back=min(spare, holes[-1].add) if holes else 0.0,
        unused=tuple(pocket.name for pocket in lure.pockets if pocket.name not in used),
        shot=_in_shot(check, check.shot) if check.shot else (),
        stages=tuple(_stage(lure, place, name) for place, name in enumerate(STAGES)),
        blank_volume=smooth(lambda s: s[..., VOLUME], shaped, effects, lure.knowledge), lead=lead,
        cautions=tuple(_cautions(check, bool(lead))), laws=_laws() if lead else (),
    )  # fmt: skip


def _is_lead(material: str) -> bool:
    return "lead" in material.lower().split()


def _in_order(check: Check, holes: list[Hole]) -> tuple[Hole, ...]:
    """Those that have all they need, then the heaviest; last the one nearest the buoyancy centre that can spare enough.

    There a gram more or less changes the rate and hardly the attitude.
    """
    empty = [hole for hole in holes if hole.is_to_fill]
    if not empty or check.ballast is None:
        return tuple(holes)
    spare, middle = check.ballast.spare, check.lying.buoyancy_centre[0]
    most = max(hole.add for hole in empty)
    enough = [hole for hole in empty if hole.add >= min(spare, most)]
    last = min(enough, key=lambda hole: abs(hole.bored.place[0] - middle))
    others = sorted((hole for hole in empty if hole is not last), key=lambda hole: -hole.mass)
    return (*(hole for hole in holes if not hole.is_to_fill), *others, last)


def _hole(check: Check, pocket: Pocket) -> Hole:
    lure = check.lure
    drawn = next(one for one in check.design.pockets if one.name == pocket.name)
    bored = lure.fills[pocket.name]
    loads = check.ballast.pockets if check.ballast else ()
    load = next((one for one in loads if one.name == pocket.name), None)
    metric, inch = _bits(pocket, bored, load)
    return Hole(
        pocket=pocket, face=drawn.face, material=drawn.material, plug_material=drawn.plug_material, mass=bored.mass,
        add=load.add if load else 0.0, bored=bored, coat=_coat_over(lure, pocket, drawn.face),
        wall=pocket.room + drawn.wall - bored.depth, taped=load.taped if load else None,
        metric_bit=metric, inch_bit=inch,
    )  # fmt: skip


def _bits(pocket: Pocket, bored: Fill, load: PocketLoad | None) -> tuple[Bit, Bit]:
    if load is not None:
        return load.metric_bit, load.inch_bit
    metric, inch = drill_for(pocket.bore, "metric"), drill_for(pocket.bore, "inch")  # it is there: as deep as it is
    return Bit(metric.name, metric.diameter, bored.depth), Bit(inch.name, inch.diameter, bored.depth)


def _coat_over(lure: Lure, pocket: Pocket, face: Face) -> float:
    """How much of the bore [m] lies in the finish: nothing where the drawing is the bare wood itself."""
    if lure.shown == 0.0:
        return 0.0
    x, y, z = pocket.mouth
    if face in ("front", "rear"):
        return lure.build
    if face in ("left", "right"):
        return max(abs(y) - half_width_at(lure.bare_hull, x, z), 0.0)
    bottom, top = skin_heights(lure.bare_hull, np.array([x]), np.array([y]))
    return max(float(bottom[0]) - z if face == "belly" else z - float(top[0]), 0.0)


def _in_shot(check: Check, shot: Ballasting) -> tuple[ShotHole, ...]:
    sizes = usable_shot(check.design.stock.shot, check.drawn)
    return tuple(
        ShotHole(load.name, tuple((count, size.mass, size.diameter)
                                  for count, size in zip(load.shot, sizes, strict=False) if count),
                 load.mass, load.metric_bit, load.inch_bit)
        for load in shot.pockets
    )  # fmt: skip


def _stage(lure: Lure, step: int, name: str) -> StageWeight:
    def weight(segment: int | None) -> Estimate:
        state, effects = lure.state(lure.chosen(step=step, segment=segment))
        return smooth(lambda s: s[..., MASS], state, effects, lure.knowledge)

    pieces = tuple(weight(place) for place in range(len(lure.segments))) if len(lure.segments) > 1 else ()
    return StageWeight(name, weight(None), pieces)


def _cautions(check: Check, has_lead: bool) -> Iterator[Warned]:
    design = check.design
    subjects = ["wood dust", "saws"]
    subjects += ["lead", "lead law"] if has_lead else []
    subjects += ["resin"] if design.coats or design.pockets else []
    subjects += ["hooks"] if design.hooks else []
    subjects += ["solvents"] if design.sealer else []
    subjects += ["uv lamp"] if any("uv" in (coat.material or "").lower() for coat in design.coats) else []
    own = sensitising(species(design.wood.species)) if design.wood.species else None
    for caution in cautions_for(subjects):
        yield Warned(caution.subject, caution.words, str(caution.source))
        if own is not None and caution.subject == "wood dust":
            yield Warned(own.subject, own.words, str(own.source))
            own = None


def _laws() -> tuple[Warned, ...]:
    return tuple(Warned(note.place, note.rule, str(note.source)) for note in lead_law_notes())
