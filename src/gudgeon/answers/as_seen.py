"""A lure as it was seen in the water: the model turned until it lies so, and changes put on it one at a time.

What was measured is in the knowledge of the lure and stays there when a part is changed; what is known of the part
that was taken off goes with it. Where the lure was seen to lie otherwise than its weights say, a pair of weights that
come to nothing together turns it as far as it was seen: every change starts from what the maker has in front of him.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import ballasting
from gudgeon.answers.evidence import readings, weighed_up
from gudgeon.answers.finding import Finding
from gudgeon.answers.saying import note, watch
from gudgeon.design.model import Design, Measured, Pocket, Water
from gudgeon.errors import BadDesign
from gudgeon.physics.floater import floating_body, sunk_if_hanging
from gudgeon.physics.flotation import resting
from gudgeon.physics.lure import WATER, Lure
from gudgeon.physics.mass import MASS, MASS_Z, VOLUME, VOLUME_Z, Item
from gudgeon.physics.sinking import excess_mass, heel, pitch, tilting
from gudgeon.physics.spread import Knowledge, nothing_measured
from gudgeon.units import Measure, Reading

_COUPLE = 0.1  # kg of each of the two weights; large, so that they lie close together
_TURNS = 8  # steps to turn a floater as far as it was seen
_AS_SEEN = 1e-4  # rad


@dataclass(frozen=True)
class Sighting:
    """What was seen of one lure.

    pitch : [rad] nose-up positive      leans : [rad] right side down positive      rate : [m/s] down positive
    speed : [m/s] through the water     water : it was seen in; the design's own when None
    state : "afloat", "hanging" or "falling"; None where it was not told
    """

    pitch: Reading | None = None
    leans: Reading | None = None
    rate: Reading | None = None
    speed: float | None = None
    water: Water | None = None
    state: str | None = None


@dataclass(frozen=True)
class Lies:
    """How it lies and how heavy it is in water: pitch and list [rad], excess [kg]."""

    pitch: float
    leans: float
    excess: float


@dataclass(frozen=True)
class AsSeen:
    """One lure as it was seen.

    design   : with what its pockets hold, and nothing measured: that is in what is known of the lure
    lure     : turned as it was seen
    couple   : what turns it
    is_under : it was seen to sink or hang
    by_weights : how it lies by its weights alone
    findings : what of it does not fit the model
    """

    design: Design
    lure: Lure
    couple: tuple[Item, ...]
    is_under: bool
    by_weights: Lies
    findings: tuple[Finding, ...]

    def changed(self, design: Design, renewed: Collection[str] = ()) -> Lure | None:
        """The lure with its design changed, all else as it is known; None where it cannot be built so.

        renewed : names of parts that are others now
        """
        try:
            made = assemble(design)
        except BadDesign:
            return None
        gone = {f"{of} of {name}" for name in renewed for of in ("weight", "density", "place")}
        known = known_again(self.lure.knowledge, made.sources, gone)
        return replace(made, fixed=(*made.fixed, *self.couple), knowledge=known)

    def lies(self, lure: Lure) -> Lies:
        """How a changed lure lies."""
        return lies(lure, is_under=self.is_under)


def known_again(before: Knowledge, sources: Iterable[str], gone: Collection[str]) -> Knowledge:
    """What was known of sources, for a lure that has others too; of those gone nothing is known but as given."""
    wanted = tuple(sources)
    old = {name: place for place, name in enumerate(before.sources) if name not in gone}
    here = [place for place, name in enumerate(wanted) if name in old]
    there = [old[wanted[place]] for place in here]
    mean, covariance = np.zeros(len(wanted)), np.eye(len(wanted))
    mean[here] = before.mean[there]
    covariance[np.ix_(here, here)] = before.covariance[np.ix_(there, there)]
    return Knowledge(wanted, mean, covariance)


def lies(lure: Lure, *, is_under: bool) -> Lies:
    """How a lure lies: afloat, or under water where it was seen there or is too heavy to float."""
    state, _ = lure.state()
    water = float(state[WATER])
    excess = float(excess_mass(state, water))
    if is_under or excess >= 0.0:
        return Lies(float(pitch(state, water, lure.falling)), float(heel(state, water, lure.falling)), excess)
    body = sunk_if_hanging(floating_body(lure), water)
    found = resting(body, water, drag_centre=np.asarray(lure.falling.drag_centre))
    return Lies(found.pitch, found.heel, excess)


def as_seen(design: Design, sighting: Sighting, *, is_under: bool) -> AsSeen:
    """A design, what was measured in it, as it was seen.

    is_under : it was seen to sink or hang, whatever its weights say
    raises   : BadDesign, NoAnswer
    """
    held, findings = _held(design)
    filled = design.model_copy(update={"pockets": tuple(_holding(pocket, held) for pocket in design.pockets)})
    told = _with_rate(filled, sighting)
    drawn = assemble(told)
    settled = filled.model_copy(update={"measured": ()})
    if sighting.water is not None:
        settled = settled.model_copy(update={"water": sighting.water})
    made = assemble(settled)
    lure = replace(made, knowledge=known_again(drawn.knowledge, made.sources, ()))
    found = lies(lure, is_under=is_under)
    if is_under and found.excess < 0.0:
        findings.append(watch("by its weights it floats, {light} light, and it was seen to sink: time a drop",
                              light=(-found.excess, Measure.MASS)))  # fmt: skip
    seen = _turned(AsSeen(settled, lure, (), is_under, found, tuple(findings)), sighting)
    if not seen.couple:
        return seen
    # a drop's drag goes by how it lay: what is known of it is weighed up once more for the lure that lies as seen
    lying = replace(drawn, fixed=(*drawn.fixed, *seen.couple))
    again = weighed_up(nothing_measured(drawn.sources), readings(told, lying))
    known = replace(made, knowledge=known_again(again, made.sources, ()))
    return _turned(replace(seen, lure=known, couple=(), by_weights=lies(known, is_under=is_under)), sighting)


def _with_rate(design: Design, sighting: Sighting) -> Design:
    if sighting.rate is None:
        return design
    rate = Reading(abs(sighting.rate.value), sighting.rate.spread)
    update: dict[str, object] = {"sinks" if sighting.rate.value > 0.0 else "rises": rate}
    if sighting.water is not None:
        update |= {"temperature": sighting.water.temperature, "salinity": sighting.water.salinity}
    drop = Measured.model_construct(stage="rigged").model_copy(update=update)
    return design.model_copy(update={"measured": (*design.measured, drop)})


def _held(design: Design) -> tuple[dict[str, float], list[Finding]]:
    """[kg] in each pocket: as told; where nothing is in yet, as it should be by what was known before it was seen."""
    drawn = assemble(design)
    if any(mass > 0.0 for mass in drawn.held.values()) or not any(pocket.free for pocket in design.pockets):
        return dict(drawn.held), []
    asked = ballasting(design, drawn)
    return dict(asked.lure.held), [note("no ballast is told of: it is taken to be in as asked for")]


def _holding(pocket: Pocket, held: dict[str, float]) -> Pocket:
    mass = held[pocket.name]
    if mass <= 0.0 or (pocket.holds is not None and pocket.holds.value == mass):
        return pocket
    return pocket.model_copy(update={"holds": Reading(mass)})


def _turned(seen: AsSeen, sighting: Sighting) -> AsSeen:
    """Turned as far as it was seen."""
    wanted = [reading.value if reading is not None else None for reading in (sighting.pitch, sighting.leans)]
    if wanted == [None, None]:
        return seen
    state, _ = seen.lure.state()
    x, y, z = (float(part) for part in tilting(state[:8], state[WATER], seen.lure.falling))
    lever = float(state[VOLUME_Z] / state[VOLUME] - state[MASS_Z] / state[MASS])
    if lever <= 0.0:
        words = "by its weights nothing holds it upright, {lever} the wrong way: it is taken as computed, not as seen"
        return replace(seen, findings=(*seen.findings, watch(words, lever=(-lever, Measure.LENGTH))))
    under = seen.is_under or float(excess_mass(state, state[WATER])) >= 0.0
    along = 0.0 if wanted[0] is None else -z * np.tan(wanted[0]) - x
    aside = 0.0 if wanted[1] is None else -z * np.tan(wanted[1]) - y
    if under:
        return _with_couple(seen, along, aside)
    return _floated(seen, wanted, (float(along), float(aside)))


def _floated(seen: AsSeen, wanted: list[float | None], guess: tuple[float, float]) -> AsSeen:
    """A floater's waterline holds it too: the couple that turns it as seen is found by trying."""
    moments = np.array(guess)
    start = lies(seen.lure, is_under=False)
    off = np.array([start.pitch, start.leans])
    tried = [np.zeros(2), moments]
    gaps = [_gap(off, wanted)]
    for _ in range(_TURNS):
        turned = _with_couple(seen, *(float(part) for part in tried[-1]))
        now = turned.lies(turned.lure)
        gaps.append(_gap(np.array([now.pitch, now.leans]), wanted))
        if float(np.abs(gaps[-1]).max()) < _AS_SEEN:
            break
        step = tried[-1] - tried[-2]
        rise = gaps[-1] - gaps[-2]
        slope = np.where(np.abs(rise) > 1e-12, step / np.where(np.abs(rise) > 1e-12, rise, 1.0), 0.0)
        tried.append(tried[-1] - slope * gaps[-1])
    return turned


def _gap(now: np.ndarray, wanted: list[float | None]) -> np.ndarray:
    return np.array([0.0 if want is None else part - want for part, want in zip(now, wanted, strict=True)])


def with_ballast_moved(lure: Lure, aside: float, up: float) -> Lure:
    """The same lure, all its ballast [m] farther to the right and up, as if it had been set so."""
    items = tuple(replace(item, place=(item.place[0], item.place[1] + aside, item.place[2] + up))
                  if item.kind == "ballast" else item for item in lure.ledger.items)  # fmt: skip
    moved = replace(lure, fixed=items, pockets=())
    moved.__dict__["fills"] = lure.fills  # the bores are as they were; what is in them lies elsewhere
    return moved


def _with_couple(seen: AsSeen, along: float, aside: float) -> AsSeen:
    """With two weights that come to nothing, and turn it by moments [kg m] aft and to the right."""
    x, y, z = (float(part) for part in seen.lure.sums().weight_centre)
    segment = next((place for place, (ahead, behind) in enumerate(pairwise(
        [*(piece.start for piece in seen.lure.segments), np.inf])) if ahead <= x < behind), 0)  # fmt: skip
    places = ((x + along / _COUPLE, y + aside / _COUPLE, z), (x, y, z))
    couple = tuple(Item("as it was seen to lie", "seen", segment, mass, place, 0.0, place, 0)
                   for mass, place in zip((_COUPLE, -_COUPLE), places, strict=True))  # fmt: skip
    return replace(seen, lure=replace(seen.lure, fixed=(*seen.lure.fixed, *couple)), couple=couple)
