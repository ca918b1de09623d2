"""A lure in three dimensions for a page: its pieces as triangles, what is in and on them, how its joints fold."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.answers.checked import Check
from gudgeon.answers.rigging import swings
from gudgeon.answers.solid_parts import SolidPart, cut_joints, solid_parts
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.lure import Lure
from gudgeon.physics.solid import Solid, segment_solids
from gudgeon.report.exchange import wood_of
from gudgeon.report.mesh_files import Mesh

_ROUGH = (33, 24)  # stations, points round about: for the time that a hand moves


@dataclass(frozen=True)
class Fold:
    """A joint: station [m] of its axis, and how far it turns to each side [rad]; None where that was not asked."""

    pivot: float
    swing: float | None


@dataclass(frozen=True)
class Level:
    """The water of a lure that floats: its height [m] over the nose's centre line, and the lure's pitch [rad]."""

    height: float
    pitch: float


@dataclass(frozen=True, eq=False)
class SolidView:
    """The whole picture.

    pieces : bare wood, nose to tail
    parts  : None where only the wood was asked for
    level  : None for a lure that does not float
    """

    pieces: tuple[Mesh, ...]
    folds: tuple[Fold, ...]
    parts: tuple[SolidPart, ...] | None = None
    level: Level | None = None


def rough_view(lure: Lure, joints: Sequence[tuple[float, JointShape]]) -> SolidView:
    """The wood of a lure that was only put together, cut by its joints and not bored.

    joints : as `cut_joints` gives them
    raises : NoAnswer when a piece does not close
    """
    stations, points = _ROUGH
    solids = segment_solids(lure.bare_hull, joints, stations=stations, points=points)
    return SolidView(_meshes(lure, solids), tuple(Fold(at + shape.pivot, None) for at, shape in joints))


def solid_view(check: Check) -> SolidView:
    """A checked lure with every bore and slot cut, its parts, its ballast, its water.

    raises : Refusal where an answer it takes from does
    """
    lure, design, wood = check.lure, check.design, wood_of(check, finished=False)
    solids = segment_solids(wood.hull, wood.joints, wood.bores, wood.slots)
    turns = swings(design, lure)
    folds = (Fold(at + shape.pivot, turn)
             for (at, shape), turn in zip(cut_joints(design, lure), turns, strict=True))  # fmt: skip
    return SolidView(_meshes(lure, solids), tuple(folds), solid_parts(design, lure), _level(check))


def _meshes(lure: Lure, solids: Sequence[Solid]) -> tuple[Mesh, ...]:
    return tuple(Mesh(segment.name, *solid.triangles())
                 for segment, solid in zip(lure.segments, solids, strict=True))  # fmt: skip


def _level(check: Check) -> Level | None:
    rests = check.lying
    if rests.afloat is None or rests.pitch is None or not math.isfinite(rests.pitch.value):
        return None
    return Level(rests.afloat.waterline_height, rests.pitch.value)
