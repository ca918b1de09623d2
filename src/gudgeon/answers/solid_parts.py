"""Everything in and on the wood in three dimensions: rods, boxes, rings, balls, flat plates, hooks.

For pictures: what is made to measure is told by templates and drill schedules.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from gudgeon.answers.hanging import hanging
from gudgeon.answers.harness_run import runs
from gudgeon.answers.hinge_made import HingePart, MadeHinge
from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.lip_and_fin import lip_and_fin
from gudgeon.answers.part_shapes import LOOP_WIRES, ring_size
from gudgeon.answers.shanks import USUAL_WIRE, buried_rod, fitting_height, has_shank, hinge_eye_shanks
from gudgeon.design.hardware import Fitting
from gudgeon.design.model import Design
from gudgeon.library.metals import material
from gudgeon.physics.joint_face import JointShape
from gudgeon.physics.lure import Lure, segment_at
from gudgeon.physics.mass import Place
from gudgeon.physics.shapes import Box, Rod

Array = NDArray[np.float64]
Kind = Literal["ballast", "plug", "metal", "plate", "glass"]
_HOOK_WIRE = 0.12  # of a hook's gape; as drawn


@dataclass(frozen=True)
class Ring:
    """A round of wire: its middle (3,) [m], unit normal (3,), radius to the wire's middle and of the wire [m]."""

    centre: Place
    normal: Place
    radius: float
    wire: float


@dataclass(frozen=True)
class Ball:
    """Middle (3,) [m] and radius [m]."""

    centre: Place
    radius: float


@dataclass(frozen=True, eq=False)
class Sheet:
    """A flat plate.

    corner    : (3,) [m] where its outline's origin lies      along, across : (3,) unit vectors of the outline's axes
    outline   : (k, 2) [m]
    thickness : [m] from the outline's plane, towards along x across
    """

    corner: Place
    along: Place
    across: Place
    outline: Array
    thickness: float


@dataclass(frozen=True)
class Treble:
    """A hook that hangs straight down: its eye's top (3,) [m], length, gape and wire [m]."""

    top: Place
    length: float
    gape: float
    wire: float


@dataclass(frozen=True)
class SolidPart:
    """One part, and the piece it goes with, from 0."""

    name: str
    kind: Kind
    piece: int
    shape: Rod | Box | Ring | Ball | Sheet | Treble


def cut_joints(design: Design, lure: Lure) -> tuple[tuple[float, JointShape], ...]:
    """Every joint as the bare wood is cut: station [m] of the middle of its gap, and its shape."""
    return tuple((joint.at, joint_shape(drawn, lure.hull).bared(lure.build))
                 for joint, drawn in zip(lure.joints, design.joints, strict=True))  # fmt: skip


def solid_parts(design: Design, lure: Lure) -> tuple[SolidPart, ...]:
    """Every part but the wood, ballast as it is in the lure; raises as the answers about hooks, lip and fin do."""
    found = [*_filling(lure)]
    for made in made_hinges(design, lure):
        for part in made.parts:
            found += _hinge_part(made, part)
    for fitting in design.fittings:
        found += _fitting(lure, fitting)
    return (*found, *_plates(design, lure), *_harness(design, lure), *_hooks(design, lure))


def _filling(lure: Lure) -> Iterator[SolidPart]:
    """Slug and plug of every bore in use."""
    for pocket in lure.pockets:
        bored, mouth, way = lure.fills[pocket.name], np.asarray(pocket.mouth), np.asarray(pocket.inward)
        filled = bored.depth - bored.length
        stretches: tuple[tuple[str, Kind, float, float], ...] = (
            ("plug", "plug", 0.0, filled), ("ballast", "ballast", filled, bored.depth))  # fmt: skip
        for name, kind, first, last in stretches:
            if last - first > 1e-5 and (kind == "plug" or bored.mass > 0.0):
                rod = Rod(_place(mouth + first * way), _place(mouth + last * way), 0.5 * pocket.bore)
                yield SolidPart(f"{name}, {pocket.name}", kind, pocket.segment, rod)


def _hinge_part(made: MadeHinge, part: HingePart) -> Iterator[SolidPart]:
    """A part, and the round of an eye: of two linked ones that ahead lies level, that behind stands upright."""
    name, piece, sizes = f"{made.name}: {part.name}", part.bare.piece, made.sizes
    yield SolidPart(name, "plate" if part.kind == "strap" else "metal", piece, part.shape)
    if part.kind == "eye":
        into = 1.0 if piece == made.joint else -1.0
        linked = sizes.kind == "screw eyes"
        x = made.pivot + (0.5 * into * sizes.eye if linked else 0.0)
        normal = (0.0, 1.0, 0.0) if linked and piece == made.joint else (0.0, 0.0, 1.0)
        ring = Ring((x, 0.0, part.level), normal, 0.5 * (sizes.eye + sizes.wire), 0.5 * sizes.wire)
        yield SolidPart(f"{name}, its round", "metal", piece, ring)


def _fitting(lure: Lure, fitting: Fitting) -> Iterator[SolidPart]:
    piece, x = segment_at(lure.segments, fitting.at)[0], fitting.at
    y, z = fitting.offset, fitting_height(fitting, lure.hull)
    shanks = hinge_eye_shanks(lure, fitting)
    rod = buried_rod(lure.hull, fitting)
    if has_shank(fitting) and rod is not None:
        shanks = ((piece, rod),)
    for own, shank in shanks:
        yield SolidPart(fitting.name, "metal", own, shank)
        yield SolidPart(f"{fitting.name}, its loop", "metal", own, _loop(fitting, shank))
    if shanks:
        return
    if fitting.kind == "glass eye" and rod is not None:
        yield SolidPart(fitting.name, "glass", piece, Ball(rod.start, rod.radius))
    elif rod is not None:
        yield SolidPart(fitting.name, "metal", piece, rod)
    else:
        volume = fitting.weight.value / material(fitting.material).density
        yield SolidPart(fitting.name, "metal", piece, Ball((x, y, z), (0.75 * volume / math.pi) ** (1.0 / 3.0)))


def _loop(fitting: Fitting, shank: Rod) -> Ring:
    """The round of an eye, out of the wood in line with its shank; it stands upright where it can."""
    wire = USUAL_WIRE if fitting.wire is None else fitting.wire
    radius = 0.5 * (LOOP_WIRES * wire if fitting.loop is None else fitting.loop) - 0.5 * wire
    out = -shank.axes[0]
    centre = np.asarray(shank.start) + (radius + 0.5 * wire) * out
    normal = (0.0, 1.0, 0.0) if abs(float(out[1])) < 0.5 else (1.0, 0.0, 0.0)
    return Ring(_place(centre), normal, radius, 0.5 * wire)


def _plates(design: Design, lure: Lure) -> Iterator[SolidPart]:
    """Lip and fin, cut to their templates."""
    answer, lip, fin = lip_and_fin(design, lure), design.lip, design.fin
    if answer.lip is not None and lip is not None:
        along = (-math.cos(lip.angle), 0.0, -math.sin(lip.angle))
        sheet = Sheet((lip.at, 0.0, lip.height), along, (0.0, 1.0, 0.0), answer.lip.template.outline, lip.thickness)
        yield SolidPart("lip", "plate", segment_at(lure.segments, lip.at)[0], sheet)
    if answer.fin is not None and fin is not None:
        for outline in [answer.fin.template.outline, *([answer.fin.tang.outline] if answer.fin.tang else [])]:
            sheet = Sheet((fin.at, 0.5 * fin.thickness, fin.height), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), outline,
                          fin.thickness)  # fmt: skip
            yield SolidPart("fin", "plate", segment_at(lure.segments, fin.at)[0], sheet)


def _harness(design: Design, lure: Lure) -> Iterator[SolidPart]:
    if design.harness is None:
        return
    level, half = design.harness.height, (1.0 if design.harness.twisted else 0.5) * design.harness.wire
    for run in runs(design, lure.hull, lure.segments):
        yield SolidPart("wire", "metal", run.piece, Rod((run.start, 0.0, level), (run.stop, 0.0, level), half))


def _hooks(design: Design, lure: Lure) -> Iterator[SolidPart]:
    """Rings, and trebles hanging straight down under them."""
    for reach in hanging(design, lure, [0.0] * len(design.joints)).hooks:
        hook = next(hook for hook in design.hooks if hook.name == reach.name)
        across, (x, y, z), wire = ring_size(hook.ring, reach.size, reach.length), reach.place, _HOOK_WIRE * reach.gape
        ring = Ring((x, y, z - 0.5 * across), (1.0, 0.0, 0.0), 0.5 * (across - wire), 0.5 * wire)
        yield SolidPart(f"{hook.name}: ring", "metal", reach.piece, ring)
        treble = Treble((x, y, z - across), reach.length - across, reach.gape, wire)
        yield SolidPart(hook.name, "metal", reach.piece, treble)


def _place(point: Array) -> Place:
    x, y, z = point.tolist()
    return x, y, z
