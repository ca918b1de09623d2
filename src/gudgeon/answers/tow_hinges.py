"""Where a towed lure is hinged and how far each hinge turns: by the wood and by the hinge itself, finished."""

from dataclasses import dataclass

from gudgeon.answers.hinging import made_hinges
from gudgeon.answers.joint_shapes import joint_shape
from gudgeon.answers.rigging import swings
from gudgeon.design.model import Design
from gudgeon.physics.hull import depth_at
from gudgeon.physics.lure import Lure


@dataclass(frozen=True)
class TowHinge:
    """One joint of the wood.

    station, height : [m] of the middle of its pin; of the body where no hinge is drawn
    turns    : [rad] to each side, both pieces being alike on both sides
    friction : [N m] as its maker measured it; None where it was not
    gap      : [m] at the pivot      depth : [m] of the body there
    """

    station: float
    height: float
    turns: float
    friction: float | None
    gap: float
    depth: float


def tow_hinges(design: Design, lure: Lure) -> tuple[TowHinge, ...]:
    """Every joint from the nose.

    raises : NoAnswer when coats leave no wood in a knuckle or a tongue
    """
    made = {hinge.joint: hinge for hinge in made_hinges(design, lure)}
    found = []
    for number, (joint, swing) in enumerate(zip(design.joints, swings(design, lure), strict=True), start=1):
        bottom, top = depth_at(lure.hull, joint.at)
        hinge = made.get(number)
        station = joint.at + joint_shape(joint, lure.hull).pivot
        height = 0.5 * (bottom + top)
        if hinge is not None:
            sizes = hinge.sizes
            ends = (sizes.pin_bottom, sizes.pin_top) if sizes.has_pin else (sizes.heights[0], sizes.heights[-1])
            height = 0.5 * sum(ends)
        turns = swing if hinge is None else min(swing, hinge.turns)
        found.append(TowHinge(station, height, turns, joint.friction, joint.gap, top - bottom))
    return tuple(found)
