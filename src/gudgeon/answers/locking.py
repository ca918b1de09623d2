"""A hanger that passes through a hinge's plate: each locks the other, when the hole is in line and far enough in."""

from collections.abc import Iterator
from dataclasses import dataclass

from gudgeon.answers.finding import Finding
from gudgeon.answers.hinge_made import HingePart, MadeHinge
from gudgeon.answers.saying import plain, watch, wrong
from gudgeon.answers.shanks import fitting_shank
from gudgeon.design.hardware import Fitting, Hinge
from gudgeon.design.model import Design
from gudgeon.physics.lure import Lure
from gudgeon.physics.shapes import Box, Rod
from gudgeon.units import Measure

HOLE_FIT = 2e-4  # m a plate's hole is wider than the shank through it; common practice, no source
EDGE_HOLES = 1.5  # from the hole's middle to the plate's edge, in holes; textbook, from memory
FACE_WOOD = 3e-3  # m of wood between the shank and the joint face; common practice, no source


@dataclass(frozen=True)
class Lock:
    """A shank through a hinge's plates.

    fitting : its name      plates : names of those it passes through
    hole    : [m] diameter of the plate's hole
    to_edge : [m] from the hole's middle to the plate's nearest edge     wanted : [m] that this should be
    to_face : [m] wood between the shank and the joint face
    """

    fitting: str
    plates: tuple[str, ...]
    hole: float
    to_edge: float
    wanted: float
    to_face: float
    findings: tuple[Finding, ...]


def lock(design: Design, lure: Lure, hinge: Hinge, made: MadeHinge) -> Lock:
    """Whether the fitting that a hinge names passes through its plates, and well."""
    fitting = next(one for one in design.fittings if one.name == hinge.locked_by)
    shank = fitting_shank(lure.hull, fitting)
    plates = [part for part in made.parts if part.kind == "plate" and isinstance(part.shape, Box)]
    passed = [part for part in plates if _reaches(shank, part)]
    hole = 2.0 * shank.radius + HOLE_FIT
    face = made.faces[made.carrier == made.joint]
    into = 1.0 if made.carrier == made.joint else -1.0
    to_face = into * (fitting.at - face) - shank.radius
    to_edge = min(_to_edge(fitting, made)) if plates else 0.0
    wanted = EDGE_HOLES * hole
    findings = tuple(_findings(fitting, made, (shank, plates, passed), (to_edge, wanted, to_face)))
    return Lock(fitting.name, tuple(part.name for part in passed), hole, to_edge, wanted, to_face, findings)


def _reaches(shank: Rod, plate: HingePart) -> bool:
    """Whether an upright shank goes right through a plate's level."""
    low, high = sorted((shank.start[2], shank.stop[2]))
    half = plate.shape.halves[2]
    return low <= plate.level - half and plate.level + half <= high


def _to_edge(fitting: Fitting, made: MadeHinge) -> tuple[float, float]:
    """From the shank's axis to the plate's inner end and to its nearer side [m]; negative beyond it."""
    face = made.faces[made.carrier == made.joint]
    into = 1.0 if made.carrier == made.joint else -1.0
    inner = face + into * made.sizes.buried
    return into * (inner - fitting.at), 0.5 * made.sizes.tall - abs(fitting.offset)


def _findings(fitting: Fitting, made: MadeHinge, through: tuple[Rod, list[HingePart], list[HingePart]],
              edges: tuple[float, float, float]) -> Iterator[Finding]:  # fmt: skip
    shank, plates, passed = through
    to_edge, wanted, to_face = edges
    name, into = plain(fitting.name), 1.0 if made.carrier == made.joint else -1.0
    toward, away = ("the tail", "the nose") if into > 0.0 else ("the nose", "the tail")
    at = (fitting.at, Measure.CUT)
    if not plates:
        yield wrong(f"{made.name} is said to be locked by the {name}, but it has no plate; leave locked_by out.")
        return
    if abs(shank.start[2] - shank.stop[2]) < abs(shank.start[0] - shank.stop[0]) + abs(shank.start[1] - shank.stop[1]):
        yield wrong(f"the {name} does not go up or down through {made.name}'s plates, which lie level; give it "
                    'into = "belly" or "back".')  # fmt: skip
        return
    if to_face < 0.0:
        yield wrong(f"the {name}, {{at}} from the nose, is not in the piece that {made.name}'s plates are fixed in. "
                    f"Move it {{by}} toward {toward}.", at=at, by=(FACE_WOOD - to_face, Measure.LENGTH))  # fmt: skip
        return
    if to_edge <= shank.radius:
        yield wrong(
            f"the {name}, {{at}} from the nose, misses {made.name}'s plates, which end {{buried}} from the joint face. "
            f"Move it {{by}} toward {away}, or bury {{more}} more of the plates.",
            at=at, buried=(made.sizes.buried, Measure.CUT), by=(wanted - to_edge, Measure.LENGTH),
            more=(wanted - to_edge, Measure.LENGTH),
        )  # fmt: skip
        return
    if not passed:
        yield from _too_short(fitting, made, shank, plates)
    if to_edge < wanted - 5e-5:
        yield watch(
            f"the {name}'s hole in {made.name}'s plates stands {{edge}} from their edge, {{wanted}} wanted, one and a "
            "half times its width. Longer or wider plates by {by}.",
            edge=(to_edge, Measure.WIRE), wanted=(wanted, Measure.WIRE), by=(wanted - to_edge, Measure.WIRE),
        )  # fmt: skip
    if to_face < FACE_WOOD - 5e-5:
        yield watch(
            f"the {name}, {{at}} from the nose, leaves {{left}} of wood to the face of joint {made.joint}, {{wanted}} "
            f"wanted. Move it {{by}} toward {toward}.",
            at=at, left=(to_face, Measure.WIRE), wanted=(FACE_WOOD, Measure.WIRE),
            by=(FACE_WOOD - to_face, Measure.WIRE),
        )  # fmt: skip


def _too_short(fitting: Fitting, made: MadeHinge, shank: Rod, plates: list[HingePart]) -> Iterator[Finding]:
    tip, way = shank.stop[2], 1.0 if shank.stop[2] > shank.start[2] else -1.0
    nearest = min(plates, key=lambda part: abs(part.level - tip))
    short = way * (nearest.level - tip) + nearest.shape.halves[2] + FACE_WOOD
    length = abs(shank.stop[2] - shank.start[2])
    yield wrong(
        f"the {plain(fitting.name)}, {{at}} from the nose, does not pass through {made.name}'s {nearest.name}: it "
        "ends at a height of {tip}, the plate lies at {level}. A shank of {longer} in the wood reaches through it.",
        at=(fitting.at, Measure.CUT), tip=(tip, Measure.LENGTH), level=(nearest.level, Measure.LENGTH),
        longer=(length + short, Measure.CUT),
    )  # fmt: skip
