"""The way a fish's pull takes through a lure: from the hook to its hanger, through the joints, to the tow eye."""

import math
from dataclasses import dataclass

from gudgeon.design.hardware import Fitting, Hook
from gudgeon.design.model import Design
from gudgeon.errors import BadDesign, Fault
from gudgeon.library.fittings import fitting_habits
from gudgeon.physics.hull import Hull, depth_at
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.mass import Place

HANGS_WITHIN = 0.015  # m along the body, from a hook's loop to what it may be taken to hang on
RING_WITHIN = 0.006  # m from a hook's loop to a ring or swivel that is its own
_HANGERS = ("screw eye", "eye", "wire")
_BETWEEN = ("ring", "swivel")


@dataclass(frozen=True)
class PullPath:
    """Where one hook's pull goes.

    hook    : the maker's name of it
    rings   : rings and swivels that stand where it hangs
    hanger  : the fitting it hangs on; None when nothing near it is described
    segment : the piece it hangs on
    joints  : numbers of the joints between that piece and the tow eye's, nearest to the hook first, from 0
    """

    hook: Hook
    rings: tuple[Fitting, ...]
    hanger: Fitting | None
    segment: int
    joints: tuple[int, ...]


def tow_eye(design: Design) -> Fitting | None:
    """The fitting that the line is tied to."""
    return next((fitting for fitting in design.fittings if fitting.kind == "tow eye"), None)


def pull_paths(design: Design, lure: Lure) -> tuple[PullPath, ...]:
    """Every hook's path, in the maker's order.

    raises : BadDesign when a hook hangs on a fitting, or a plate is locked by one, that there is not
    """
    faults = _faults(design)
    if faults:
        raise BadDesign("the design cannot be followed from hook to line", tuple(faults))
    eye = tow_eye(design)
    tow = 0 if eye is None else segment_at(lure.segments, eye.at)[0]
    return tuple(_path(design, lure, hook, tow) for hook in design.hooks)


def _path(design: Design, lure: Lure, hook: Hook, tow: int) -> PullPath:
    hanger = _hanger(design, lure, hook)
    station = hook.at if hanger is None else hanger.at
    segment = segment_at(lure.segments, station)[0]
    between = range(min(segment, tow), max(segment, tow))
    joints = tuple(reversed(between)) if segment > tow else tuple(between)
    rings = [one for one in design.fittings if one.kind in _BETWEEN and abs(one.at - hook.at) <= RING_WITHIN]
    return PullPath(hook, tuple(rings), hanger, segment, joints)


def _hanger(design: Design, lure: Lure, hook: Hook) -> Fitting | None:
    """The fitting a hook hangs on: the one it names; else the nearest eye or wire in the same piece of wood."""
    if hook.on is not None:
        return next(fitting for fitting in design.fittings if fitting.name == hook.on)
    own = segment_at(lure.segments, hook.at)
    eyes = [one for one in design.fittings if one.kind in _HANGERS and abs(one.at - hook.at) <= HANGS_WITHIN]
    near = [one for one in eyes if _stands_in(lure, one, own)]
    loop = _place(lure.hull, hook.at, hook.offset, hook.height, "belly")
    return min(near, key=lambda one: math.dist(loop, _fitting_place(lure.hull, one)), default=None)


def _stands_in(lure: Lure, fitting: Fitting, own: tuple[int, ...]) -> bool:
    """Whether a fitting sits in one of these pieces, and not in a joint's gap."""
    segments = segment_at(lure.segments, fitting.at)
    return len(segments) == 1 and segments[0] in own


def _fitting_place(hull: Hull, fitting: Fitting) -> Place:
    return _place(hull, fitting.at, fitting.offset, fitting.height, fitting_habits()[fitting.kind].sits)


def _place(hull: Hull, station: float, offset: float, height: float | None, sits: str) -> Place:
    if height is None:
        height = depth_at(hull, inside(hull, station))[0] if sits == "belly" else 0.0
    return station, offset, height


def inside(hull: Hull, station: float) -> float:
    """The station [m], or the nearest on the body for a loop that stands off its end."""
    slack = 1e-4 * hull.length
    return min(max(station, hull.start + slack), hull.stop - slack)


def _faults(design: Design) -> list[Fault]:
    names = {fitting.name for fitting in design.fittings}
    there = ", ".join(f"'{name}'" for name in sorted(names)) or "none"
    faults = [
        Fault(f"hook {number} '{hook.name}'.on", f"there is no fitting '{hook.on}'; there are: {there}")
        for number, hook in enumerate(design.hooks, start=1) if hook.on is not None and hook.on not in names
    ]  # fmt: skip
    for number, hinge in enumerate(design.hinges, start=1):
        if hinge.locked_by is not None and hinge.locked_by not in names:
            faults.append(Fault(f"hinge {number}.locked_by", f"there is no fitting '{hinge.locked_by}'; "
                                f"there are: {there}"))  # fmt: skip
        if hinge.joint > len(design.joints):
            faults.append(Fault(f"hinge {number}.joint", f"there is no joint {hinge.joint}; "
                                f"the design has {len(design.joints)}"))  # fmt: skip
    return faults
