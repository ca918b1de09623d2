"""The order of cuts: what is drilled and sawn while the blank is square, then profiles, rounding, joints."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from gudgeon.answers.board_fit import Fit
from gudgeon.answers.finding import Number
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure
from gudgeon.units import Measure

When = Literal["square", "profiles", "shaped", "after the tub"]


@dataclass(frozen=True)
class Step:
    """One step of the work.

    when    : "square" while the blank has its square faces, "profiles", "shaped", "after the tub"
    words   : with {names} where the numbers go
    numbers : name -> value in SI and what it is
    """

    when: When
    words: str
    numbers: Mapping[str, Number] = field(default_factory=dict)


def cut_order(design: Design, lure: Lure, fit: Fit, length: float) -> tuple[Step, ...]:
    """The steps for this lure, in the order that keeps square reference faces longest.

    length : [m] of the blank
    source : common practice, no source
    """
    return (*_squared(fit, length), *_drilled(design, lure), *_profiled(), *_shaped(design, lure))


def _step(when: When, words: str, **numbers: Number) -> Step:
    return Step(when, words, numbers)


def _squared(fit: Fit, length: float) -> Iterator[Step]:
    first = "nose" if fit.way.nose_first else "tail"
    view = "wide face" if fit.way.side_on == "width" else "edge"
    yield _step("square", f"Crosscut the blank {{length}} long, from {{start}} from the board's first end, the {first} "
                "toward that end.", length=(length, Measure.CUT), start=(fit.way.start, Measure.CUT))  # fmt: skip
    yield _step(
        "square", f"Plane one {view} flat and one face square to it: all is measured from these two. Mark them."
    )
    yield _step(
        "square",
        "Mark the centre line round all four faces and both ends, from the marked faces. Lay on the "
        f"side template, the side view on the {view}, and square every station round: joints, holes, eyes.",
    )


def _drilled(design: Design, lure: Lure) -> Iterator[Step]:
    """While the blank is square it lies flat under the drill and against the fence."""
    if design.lip is not None:
        yield _step("square", "Saw the lip's slot, {angle} to the centre line, its depth from the side template: "
                    "square stock is held in the jig, and the waste ahead of it keeps fingers off the blade.",
                    angle=(design.lip.angle, Measure.ANGLE))  # fmt: skip
    if design.fin is not None and design.fin.set_in > 0.0:
        yield _step("square", "Saw the fin's slot on the centre line of the tail end, through the square end, {deep} "
                    "past where the body stops.", deep=(design.fin.set_in, Measure.CUT))  # fmt: skip
    if design.harness is not None:
        runs = "Bore the wire's channel from both ends on the centre line"
        slot = "Saw the wire's slot up from the belly on the centre line"
        yield _step("square", f"{runs if design.harness.runs == 'bored' else slot}, {{channel}} wide.",
                    channel=(design.harness.channel or 2.0 * design.harness.wire, Measure.WIRE))  # fmt: skip
    if any(fitting.kind == "glass eye" for fitting in design.fittings):
        yield _step("square", "Drill a pilot right through for the eyes, on the drill press, so that both sides match.")
    if design.joints:
        yield _step(
            "square",
            "Drill the hinge pins' holes from back to belly and saw the hinge slots across the joint "
            "lines, before anything is cut apart: holes drilled through both pieces at once stay in line.",
        )
    if design.hooks or any(fitting.kind in ("screw eye", "tow eye") for fitting in design.fittings):
        yield _step(
            "square",
            "Drill pilots for hook and tow eyes on the centre line, along the ring lines rather than across them.",
        )
    known = [pocket for pocket in lure.pockets if lure.fills[pocket.name].depth > 0.0]
    if known:
        last = "" if len(known) == 1 else " All but the last, which waits for the tub."
        yield _step(
            "square" if len(known) > 1 else "after the tub",
            f"Drill the ballast bores, depths counted from the skin to come, not from the square face.{last}",
        )


def _profiled() -> Iterator[Step]:
    yield _step("profiles", "Saw the side profile. Tape the offcuts back on, so that the blank lies square again.")
    yield _step("profiles", "Saw the top profile, leaving the square ends on.")


def _shaped(design: Design, lure: Lure) -> Iterator[Step]:
    yield _step(
        "shaped",
        "Take the corners off to lines drawn along them, then round to the section templates, working "
        "both sides alike.",
    )
    if design.joints:
        yield _step(
            "shaped",
            "Saw the joints, nearest the tail first, with the square ends in the fence: each piece "
            "keeps a square face until it is cut off.",
        )
    if any(joint.front_bevel or joint.rear_bevel or joint.face != "vee" for joint in design.joints):
        yield _step("shaped", "Shape the joint faces to their templates, from the centre line outward on both sides.")
    yield _step("shaped", "Saw off the square ends last; round the nose and the tail.")
    if len([pocket for pocket in lure.pockets if lure.fills[pocket.name].depth > 0.0]) > 1:
        yield _step("after the tub", "Drill the last ballast bore when the tub test has told its depth.")
