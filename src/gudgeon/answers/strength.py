"""What holds the fish: the load at which each part along a hook's pull lets go, and what lets go first.

Every eye is taken to be pulled straight out, which is the worst way; the grain runs along the lure.
"""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from gudgeon.answers.eye_holds import Wood, eye_hold, is_end_grain
from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.harness_run import crosses
from gudgeon.answers.hinge_holds import Hung, joint_hold, pin_cover
from gudgeon.answers.hinge_sizes import hinge_sizes
from gudgeon.answers.holding_words import WANTED_DRAGS, holding_findings
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.links import Hold, Link, load_of
from gudgeon.answers.pull_path import PullPath, inside, pull_paths, tow_eye
from gudgeon.answers.unhinged import stiffened
from gudgeon.answers.wire_run import WireRun, harness_hold, wire_run
from gudgeon.design.hardware import Fitting, Hinge
from gudgeon.design.model import Design
from gudgeon.physics.hull import depth_at
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.spread import Estimate, exactly

MOISTURE_OF_TABLE = 1.12  # weight of wood at 12 % moisture over its dry weight
DRAG_SHARE = 1.0 / 3.0  # of the line's breaking load; common practice, no source
_FROM_THE_BELLY = 'taken as going in from the belly; if it goes in from the end, write into = "rear"'
_WALL = 3e-3  # m of wood left beyond a shank's end


@dataclass(frozen=True)
class Pull:
    """One hook's pull.

    name  : the hook's, or "tow eye" for the line's own
    holds : from the hook to the line
    """

    name: str
    holds: tuple[Hold, ...]

    @cached_property
    def first(self) -> tuple[Hold, Link] | None:
        """What lets go first in the water, and where; None when no load can be told."""
        told = [(hold, hold.weakest) for hold in self.holds]
        known = [(hold, link) for hold, link in told if link is not None]
        return min(known, key=lambda pair: load_of(pair[1])) if known else None


@dataclass(frozen=True)
class Strength:
    """What holds, for one lure.

    pulls  : one for each hook, then the tow eye's alone
    line   : [N] at which it breaks; None when not told
    drag   : [N] it is fished with; None when neither it nor the line is told
    wanted : [N] what every part should hold: four times the drag, and the line
    wire   : a wire from tow eye to hangers in place of what the wood holds
    gravity : per segment, specific gravity as at 12 %
    """

    design: Design
    pulls: tuple[Pull, ...]
    line: float | None
    drag: float | None
    wanted: float | None
    wire: WireRun
    gravity: tuple[Estimate, ...]
    findings: tuple[Finding, ...]

    @property
    def holds(self) -> tuple[Hold, ...]:
        """Everything that holds, each once, in the order it is met."""
        return tuple({hold.name: hold for pull in self.pulls for hold in pull.holds}.values())


def strength(design: Design, lure: Lure) -> Strength:
    """What holds along every hook's pull, worst told first.

    raises : BadDesign when a hook hangs on, or a hinge is locked by, what is not there
    """
    return _Tracing(design, lure).answer()


def drag_of(design: Design) -> tuple[float | None, float | None, float | None]:
    """Line, drag, and what every part should hold [N]."""
    line, drag = design.tackle.line, design.tackle.drag
    if drag is None and line is not None:
        drag = DRAG_SHARE * line
    if drag is None:
        return line, None, None
    return line, drag, max(WANTED_DRAGS * drag, line or 0.0)


def specific_gravity(lure: Lure, segment: int) -> Estimate:
    """A piece's specific gravity, oven-dry weight on volume at 12 %: its density as known over 1.12."""
    spreads = lure.wood_spreads[segment]
    direction = np.array([spreads.get(source, 0.0) for source in lure.sources])
    value = lure.wood_density_of(segment) / (1000.0 * MOISTURE_OF_TABLE)
    off = lure.knowledge.half_width(direction) * lure.wood_density / (1000.0 * MOISTURE_OF_TABLE)
    return Estimate(value, max(value - off, 0.05 * value), value + off)


class _Tracing:
    """One design being followed from its hooks to the line: each hold is worked out once."""

    def __init__(self, design: Design, lure: Lure) -> None:
        self.design, self.lure = design, lure
        self.line, self.drag, self.wanted = drag_of(design)
        self.gravity = tuple(specific_gravity(lure, place) for place in range(len(lure.segments)))
        self.joints: dict[int, Hold] = {}

    def answer(self) -> Strength:
        """The whole answer."""
        design = self.design
        end = self._tow()
        pulls = [self._pull(path, end) for path in pull_paths(design, self.lure)]
        alone = Pull("tow eye", (end,))
        bare = Strength(design, (*pulls, alone), self.line, self.drag, self.wanted,
                        self._wire(), self.gravity, ())  # fmt: skip
        findings = holding_findings(
            bare.holds, {pull.name: tuple(hold.name for hold in pull.holds) for pull in pulls}, self.line, self.drag,
            bare.wire, self.gravity,
        ) + list(stiffened(design, self.lure))  # fmt: skip
        return Strength(design, bare.pulls, self.line, self.drag, self.wanted, bare.wire, self.gravity,
                        worst_first(findings))  # fmt: skip

    def _wire(self) -> WireRun:
        stiff = crosses(self.design, self.lure.hull, self.lure.segments)
        return wire_run(self.design.harness, self.wanted, stiffens=bool(stiff))

    def _pull(self, path: PullPath, end: Hold) -> Pull:
        hook = path.hook
        rated = exactly(hook.rating) if hook.rating is not None else None
        own = Link("hook", "the hook", "the hook, straightened", rated, "", mend="the maker's rating is not given")
        metal = [Hold(hook.name, (own,)), *(_rated(ring) for ring in path.rings)]
        if self.design.harness is not None:
            return Pull(hook.name, (*metal, end))
        joints = [self._joint(place) for place in path.joints]
        return Pull(hook.name, (*metal, self._hanger(path), *joints, end))

    def _hanger(self, path: PullPath) -> Hold:
        if path.hanger is None:
            where = self.lure.segments[path.segment].name
            return Hold(f"hanger of the {path.hook.name}", (
                Link("hanger", where, "its hanger", None, "",
                     mend=f"no eye or wire stands near the {path.hook.name}; write a [[fitting]] for what it hangs on"),
            ))  # fmt: skip
        hold = self._eye(path.hanger)
        if path.hanger.into is None and path.hook.at > self.lure.hull.stop:
            return replace(hold, notes=(*hold.notes, _FROM_THE_BELLY))
        return hold

    def _eye(self, fitting: Fitting) -> Hold:
        segment = segment_at(self.lure.segments, fitting.at)[0]
        wood = Wood(self.lure.segments[segment].name, self.gravity[segment])
        return eye_hold(fitting, wood, end_grain=is_end_grain(fitting), room=self._room(fitting, segment),
                        wanted=self.wanted)  # fmt: skip

    def _room(self, fitting: Fitting, segment: int) -> float:
        """The longest shank [m] that finds wood where a fitting goes in."""
        if is_end_grain(fitting):
            piece = self.lure.segments[segment]
            return piece.stop - piece.start - _WALL
        station = inside(self.lure.hull, fitting.at)
        if fitting.into in ("left", "right"):
            return 2.0 * float(self.lure.hull.side(np.array([station]))[0]) - _WALL
        belly, back = depth_at(self.lure.hull, station)
        return back - belly - _WALL

    def _tow(self) -> Hold:
        if self.design.harness is not None:
            return harness_hold(self.design.harness, self.wanted)
        eye = tow_eye(self.design)
        if eye is None:
            why = "no tow eye is described; write a [[fitting]] of kind tow eye"
            return Hold("tow eye", (Link("tow_eye", self.lure.segments[0].name, "the tow eye", None, "", mend=why),))
        return self._eye(eye)

    def _joint(self, place: int) -> Hold:
        if place not in self.joints:
            hinges = [hinge for hinge in self.design.hinges if hinge.joint == place + 1]
            self.joints[place] = joint_hold(tuple(self._hung(place, hinge) for hinge in hinges), place + 1)
        return self.joints[place]

    def _hung(self, place: int, hinge: Hinge) -> Hung:
        joint, hull = self.design.joints[place], self.lure.hull
        station = inside(hull, joint.at)
        belly, back = depth_at(hull, station)
        width = 2.0 * float(hull.side(np.array([station]))[0])
        sizes = hinge_sizes(hinge, back - belly, width, 0.5 * (back + belly))
        lighter = min(self.gravity[place], self.gravity[place + 1], key=lambda gravity: gravity.value)
        locked = next((one for one in self.design.fittings if one.name == hinge.locked_by), None)
        return Hung(place + 1, hinge, sizes, Wood(f"joint {place + 1}", lighter),
                    pin_cover(joint_shape(joint, hull), sizes.pin), locked, self.wanted)  # fmt: skip


def _rated(ring: Fitting) -> Hold:
    """A ring or swivel: only its maker knows."""
    load = exactly(ring.rating) if ring.rating is not None else None
    return Hold(ring.name, (Link("rating", "between", f"the {ring.kind}", load, "",
                                 mend="the maker's rating is not given"),))  # fmt: skip
