"""The joints a maker drew as shapes to cut, sizes left out filled in from the body's width there."""

from dataclasses import replace

import numpy as np

from gudgeon.design.hardware import Joint
from gudgeon.physics.hull import Hull
from gudgeon.physics.joint_face import JointShape


def joint_shape(joint: Joint, hull: Hull) -> JointShape:
    """The finished faces of a drawn joint.

    returns : where not told, a knuckle of half the body's width with its pivot in its centre, other pivots in the
              middle of the gap, a tongue a third of the width wide and half of it long
    """
    half = float(hull.side(np.clip(np.array([joint.at]), hull.start, hull.stop))[0])
    shape = JointShape(
        face=joint.face, gap=joint.gap, front_bevel=joint.front_bevel, rear_bevel=joint.rear_bevel,
        pivot=0.0 if joint.pivot is None else joint.pivot,
        carries=joint.carries, radius=half if joint.radius is None else joint.radius,
        tongue_width=2.0 / 3.0 * half if joint.tongue_width is None else joint.tongue_width,
        tongue_length=half if joint.tongue_length is None else joint.tongue_length,
    )  # fmt: skip
    if joint.pivot is None and joint.face == "knuckle":
        return replace(shape, pivot=shape.knuckle_centre)
    return shape


def regapped(shape: JointShape, gap: float) -> JointShape:
    """The same with another gap; a knuckle's pivot keeps its place in the round."""
    other = replace(shape, gap=gap)
    if shape.face != "knuckle":
        return other
    return replace(other, pivot=other.knuckle_centre + shape.pivot - shape.knuckle_centre)


def reach_of(shape: JointShape, half: float) -> float:
    """How far from the joint its pieces may meet [m]."""
    return 2.5 * max(half, shape.radius if shape.face == "knuckle" else 0.0) + shape.gap
